"""Which single cause explains a strike-off's shift best: the strength, the ground, or a stripe.

Each cause by itself is fitted to the measured tones through the mixing, by Gauss–Newton
steps damped as Levenberg and Marquardt do, in units of CMC(2:1). Causes with more free
numbers fit more of anything, so they are compared by the Bayesian information criterion
(Schwarz 1978, cited from memory), n·ln(mean square) + p·ln n.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from checkcloth.arguments import Floats
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.mixing import mix_tones
from checkcloth.colour.css import hex_of
from checkcloth.colour.spaces import srgb_to_lab
from checkcloth.quality.difference_words import direction_words
from checkcloth.quality.tolerance import cmc_weights

__all__ = ["Cause", "explain_shift"]

# Tones (T, 3), encoded sRGB, from the free numbers (K, p) of a cause: (K, T, 3).
_Model = Callable[[Floats], Floats]

# Square of what a reading repeats to, CMC units: what is less is not worth fitting.
_FLOOR = 0.1**2


@dataclass(frozen=True)
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

    Examples
    --------
    >>> Cause("strength", "the overlay strength", (0.4,), "40 %, not 50 %", 0.9, 0.2, 1).name
    'strength'
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


def _mixed(
    colourway: Colourway, ground: Floats, stripes: Floats, strength: Floats, places: list[list[int]]
) -> Floats:
    tones = mix_tones(
        ground,
        stripes,
        strength,
        colourway.mixing,
        warp_share=colourway.warp_share,
        yule_nielsen=colourway.yule_nielsen,
    )
    return np.asarray(tones[:, places[0], places[1]])


def _models(colourway: Colourway, places: list[list[int]]) -> list[tuple[str, str, Floats, _Model]]:
    """Name, subject, starting numbers and model of every cause."""
    ground = np.array(colourway.ground.rgb)
    stripes = np.array([stripe.rgb for stripe in colourway.stripes])
    strength = np.array([colourway.strength])

    def by_strength(x: Floats) -> Floats:
        return _mixed(colourway, ground, stripes, x[:, 0], places)

    def by_ground(x: Floats) -> Floats:
        return _mixed(colourway, x, stripes, strength, places)

    models: list[tuple[str, str, Floats, _Model]] = [
        ("strength", "the overlay strength", strength, by_strength),
        ("ground", f"the ground, {colourway.ground.name}", ground, by_ground),
    ]
    for number, stripe in enumerate(colourway.stripes):

        def by_stripe(x: Floats, number: int = number) -> Floats:
            changed = np.broadcast_to(stripes, (len(x), *stripes.shape)).copy()
            changed[:, number] = x
            return _mixed(colourway, ground, changed, strength, places)

        subject = f"stripe {number + 1}, {stripe.name}"
        models.append((f"stripe {number + 1}", subject, stripes[number], by_stripe))
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
    colourway: Colourway, places: list[tuple[int, int]], wanted: Floats, found: Floats
) -> list[Cause]:
    """Fit every single cause to a measured shift, the best first.

    Parameters
    ----------
    colourway : Colourway
        As specified.
    places : list of (warp, weft)
        The T tones that were measured.
    wanted, found : ndarray, shape (T, 3)
        Lab (D65, 2°) of the standard and of the strike-off.

    Returns
    -------
    list of Cause
        Without causes that have as many free numbers as there are readings, and without
        stripes that no measured tone has.

    Examples
    --------
    >>> gingham = Colourway("white", ["navy"], 0.5)
    >>> wanted = srgb_to_lab(gingham.tones).reshape(-1, 3)
    >>> found = srgb_to_lab(gingham.with_(strength=0.4).tones).reshape(-1, 3)
    >>> explain_shift(gingham, [(0, 0), (0, 1), (1, 0), (1, 1)], wanted, found)[0].says
    '40.0 % instead of 50 %'
    """
    index = [[place[axis] for place in places] for axis in (0, 1)]
    weights = cmc_weights(wanted)
    h = np.arctan2(wanted[:, 2], wanted[:, 1])
    cos, sin = np.cos(h), np.sin(h)

    def in_cmc(shift: Floats) -> Floats:
        """Lightness, chroma and hue parts of shifts (..., T, 3) in CMC units, (..., 3T)."""
        along = shift[..., 1] * cos + shift[..., 2] * sin
        across = shift[..., 2] * cos - shift[..., 1] * sin
        parts = np.stack([shift[..., 0], along, across], axis=-1) / weights
        return np.asarray(parts.reshape(*parts.shape[:-2], -1))

    specified = srgb_to_lab(colourway.tones[tuple(index)])
    target = in_cmc(found - wanted)
    size = len(target)
    whole = float(target @ target)
    causes = []
    for name, subject, start, model in _models(colourway, index):
        free = len(start)
        if free >= size or whole == 0:
            continue

        def residuals(x: Floats, model: _Model = model) -> Floats:
            return in_cmc(srgb_to_lab(model(x)) - specified) - target

        probe = residuals(np.clip(start + np.where(start < 0.5, 1e-3, -1e-3), 0, 1)[None])
        if np.allclose(probe, -target, rtol=0, atol=1e-9):
            continue  # no measured tone depends on it
        x, square = _fit(residuals, start)
        explained = 1 - (square / (size - free)) / (whole / size)
        criterion = size * np.log(square / size + _FLOOR) + free * np.log(size)
        says = _says(name, start, x)
        left = float(np.sqrt(square / len(places)))
        numbers = tuple(x.tolist())
        causes.append(Cause(name, subject, numbers, says, explained, left, float(criterion)))
    return sorted(causes, key=lambda cause: cause.criterion)


def _says(name: str, before: Floats, after: Floats) -> str:
    if name == "strength":
        return f"{after[0] * 100:.1f} % instead of {before[0] * 100:.4g} %"
    words = direction_words(srgb_to_lab(before), srgb_to_lab(after))
    return f"{hex_of(after)} instead of {hex_of(before)} ({words})"
