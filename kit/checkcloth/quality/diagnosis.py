"""Why a strike-off departs: which single cause explains its shift best, and how surely.

A cause is another strength, another ground, or another colour of one stripe. Each by itself
is fitted to the measured tones through the mixing, by Gauss–Newton steps damped as Levenberg
and Marquardt do, in units of CMC(2:1). Causes with more free numbers fit more of anything, so
they are compared by the Bayesian information criterion (Schwarz 1978, cited from memory),
n·ln(mean square) + p·ln n.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from checkcloth.arguments import Floats
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.tones import Stack, stack
from checkcloth.colour.css import hex_of
from checkcloth.colour.difference import delta_e_cmc
from checkcloth.colour.spaces import srgb_to_lab
from checkcloth.quality.tolerance import acceptance_weights, direction_words

# Colourways with the free numbers (K, p) of a cause in place of what was specified.
_Model = Callable[[Floats], Stack]

# Square of what a reading repeats to, CMC units: what is less is not worth fitting.
_NOISE_VARIANCE = 0.1**2

# Differences in the criterion that count: 6 is "strong" in the table of Kass and Raftery
# 1995 (cited from memory). Half of the shift explained, and 0.3 CMC as nothing to explain,
# are choices of ours.
_MIN_CRITERION_GAIN = 6.0
_MIN_EXPLAINED = 0.5
_NEGLIGIBLE_CMC = 0.3


@dataclass(frozen=True, repr=False)
class Cause:
    """One cause, fitted alone.

    Attributes
    ----------
    name : str
        ``"strength"``, ``"ground"`` or ``"stripe 2"``.
    subject : str
        For people: ``"the overlay strength"``, ``"the ground, Cotton"``.
    numbers : tuple of float
        What the fit found: the strength, or an encoded sRGB colour.
    says : str
        As if what had happened: ``"58.1 % instead of 50 %"``.
    explained : float
        Share of the squared shift that it accounts for, corrected for its free numbers; 1
        is all, 0 (or less) none.
    left : float
        Root mean square of what is left, CMC(2:1) a tone.
    criterion : float
        Bayesian information criterion; the lower the better.
    """

    name: str
    subject: str
    numbers: tuple[float, ...]
    says: str
    explained: float
    left: float
    criterion: float

    def __str__(self) -> str:
        return (
            f"{self.subject}: as if {self.says}; explains {max(self.explained, 0) * 100:.0f} % "
            f"of the shift and leaves CMC(2:1) {self.left:.2f} a tone"
        )

    def __repr__(self) -> str:
        return f"<{self}>"


def _models(colourway: Colourway) -> list[tuple[str, str, Floats, _Model]]:
    """Name, subject, starting numbers and model of every cause."""
    (specified,) = stack([colourway])

    def with_stripe(number: int) -> _Model:
        def model(x: Floats) -> Stack:
            stripes = np.repeat(specified.stripes, len(x), axis=0)
            stripes[:, number] = x
            return replace(specified, stripes=stripes)

        return model

    def with_strength(x: Floats) -> Stack:
        return replace(specified, strengths=x[:, 0])

    def with_ground(x: Floats) -> Stack:
        return replace(specified, grounds=x)

    ground = f"the ground, {colourway.ground.name}"
    models: list[tuple[str, str, Floats, _Model]] = [
        ("strength", "the overlay strength", specified.strengths, with_strength),
        ("ground", ground, specified.grounds[0], with_ground),
    ]

    def with_weft_stripe(number: int) -> _Model:
        def model(x: Floats) -> Stack:
            stripes = np.repeat(specified.weft_colours, len(x), axis=0)
            stripes[:, number] = x
            return replace(specified, weft_stripes=stripes)

        return model

    for number, stripe in enumerate(colourway.weft_stripes):
        name, start = f"weft stripe {number + 1}", specified.weft_colours[0, number]
        models.append((name, f"{name}, {stripe.name}", start, with_weft_stripe(number)))
    for number, stripe in enumerate(colourway.stripes):
        name, start = f"stripe {number + 1}", specified.stripes[0, number]
        models.append((name, f"{name}, {stripe.name}", start, with_stripe(number)))
    return models


def _fit(residuals: Callable[[Floats], Floats], start: Floats) -> tuple[Floats, float]:
    """Least squares within 0–1: numbers (p,) and the sum of squares."""
    x, damping = start.copy(), 1e-3
    here = residuals(x[None])[0]
    best = float(here @ here)
    for _ in range(100):
        # One-sided steps that stay inside 0–1; all of them in one call.
        size = np.where(x < 0.5, 1e-6, -1e-6)
        moved = residuals(x + np.diag(size))
        jacobian = ((moved - here) / size[:, None]).T
        normal = jacobian.T @ jacobian
        gradient = jacobian.T @ here
        scale = np.diag(normal) + 1e-12
        improved = False
        for _ in range(12):
            step = np.linalg.solve(normal + np.diag(damping * scale), -gradient)
            trial = np.clip(x + step, 0, 1)
            there = residuals(trial[None])[0]
            square = float(there @ there)
            if square < best:
                improved = best - square > 1e-12 * (best + 1e-12)
                x, here, best = trial, there, square
                damping = max(damping / 5, 1e-9)
                break
            damping *= 4
        if not improved:
            break
    return x, best


def explain_shift(
    colourway: Colourway, tones: Sequence[tuple[int, int]], wanted: Floats, found: Floats
) -> list[Cause]:
    """Fit every single cause to a measured shift, the best first.

    Parameters
    ----------
    colourway : Colourway
        As specified.
    tones : sequence of (warp, weft)
        Indices of the T tones that were measured.
    wanted, found : ndarray, shape (T, 3)
        Lab (D65, 2°) of the standard and of the strike-off.

    Returns
    -------
    list of Cause
        Without causes that have as many free numbers as there are readings, and without
        stripes that no measured tone has.
    """
    index = ([warp for warp, _ in tones], [weft for _, weft in tones])
    specified = srgb_to_lab(colourway.tones[index])
    target = _in_cmc(found - wanted, wanted)
    size = len(target)
    whole = float(target @ target)
    causes = []
    for name, subject, start, model in _models(colourway):
        free = len(start)
        if free >= size or whole == 0:
            continue

        def residuals(x: Floats, model: _Model = model) -> Floats:
            lab = srgb_to_lab(model(x).tones()[:, *index])
            return _in_cmc(lab - specified, wanted) - target

        probe = residuals(np.clip(start + np.where(start < 0.5, 1e-3, -1e-3), 0, 1)[None])
        if np.allclose(probe, -target, rtol=0, atol=1e-9):
            continue  # no measured tone depends on it
        x, square = _fit(residuals, start)
        explained = 1 - (square / (size - free)) / (whole / size)
        criterion = size * np.log(square / size + _NOISE_VARIANCE) + free * np.log(size)
        says = _says(name, start, x)
        left = float(np.sqrt(square / len(tones)))
        numbers = tuple(x.tolist())
        causes.append(Cause(name, subject, numbers, says, explained, left, float(criterion)))
    return sorted(causes, key=lambda cause: cause.criterion)


def _in_cmc(shift: Floats, standard: Floats) -> Floats:
    """Lightness, chroma and hue parts of Lab shifts (..., T, 3) in CMC units, (..., 3T)."""
    h = np.arctan2(standard[:, 2], standard[:, 1])
    cos, sin = np.cos(h), np.sin(h)
    chroma = shift[..., 1] * cos + shift[..., 2] * sin
    hue = shift[..., 2] * cos - shift[..., 1] * sin
    parts = np.stack([shift[..., 0], chroma, hue], axis=-1) / acceptance_weights(standard)
    return np.asarray(parts.reshape(*parts.shape[:-2], -1))


def _says(name: str, before: Floats, after: Floats) -> str:
    if name == "strength":
        return f"{after[0] * 100:.1f} % instead of {before[0] * 100:.4g} %"
    words = direction_words(srgb_to_lab(before), srgb_to_lab(after))
    return f"{hex_of(after)} instead of {hex_of(before)} ({words})"


def explanation_text(causes: Sequence[Cause], wanted: Floats, found: Floats) -> str:
    """Say which single cause explains the shift, that several do, or that none does."""
    size = float(np.sqrt((delta_e_cmc(wanted, found) ** 2).mean()))
    if size < _NEGLIGIBLE_CMC:
        return f"The shift is small, CMC(2:1) {size:.2f} a tone: there is nothing to explain."
    if not causes:
        return "Too few tones were measured to tell one cause from another."
    best = causes[0]
    # Against no cause at all: the same criterion with no free number.
    none = 3 * len(wanted) * np.log(size**2 / 3 + _NOISE_VARIANCE)
    if best.explained < _MIN_EXPLAINED or none - best.criterion < _MIN_CRITERION_GAIN:
        return (
            f"No single cause explains the shift of CMC(2:1) {size:.2f} a tone; the nearest, "
            f"{best.subject}, would account for {max(best.explained, 0) * 100:.0f} %. It looks "
            "like scatter, or several causes together."
        )
    also = [
        cause
        for cause in causes[1:]
        if cause.criterion - best.criterion < _MIN_CRITERION_GAIN
        and cause.explained >= _MIN_EXPLAINED
    ]
    text = f"One cause alone explains the shift best – {best}."
    if also:
        text += (
            f" These readings cannot tell it from {'; or '.join(str(cause) for cause in also)}."
            " Measure more tones to decide."
        )
    return text
