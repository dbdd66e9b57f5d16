"""Tolerances, the ellipsoids of their measures, and departures in Lab: in words, and of a size."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import erf, exp, pi, sqrt
from statistics import NormalDist

import numpy as np
from numpy.typing import ArrayLike

from checkcloth.arguments import Floats, as_colours, as_number, as_whole, require_one_of
from checkcloth.colour.ciede2000 import delta_e_2000
from checkcloth.colour.difference import cmc_weights, delta_e_cmc, lab_differences
from checkcloth.errors import ArgumentError

# Chroma under which a colour is spoken of as a grey, and the size in CMC units from which a
# part is worth a word: both choices of ours.
_GREY = 4.0
_WORTH = 0.2

# A hue moves towards the next of these. What is nearer than 30° (a choice of ours) is passed
# over, since a red is not called redder: reds go yellower or bluer, yellows greener or
# redder (common practice).
_AXES = {0: "redder", 90: "yellower", 180: "greener", 270: "bluer"}
_OWN = 30.0


def acceptance_weights(lab: Floats) -> Floats:
    """Return 2·S_L, S_C and S_H of CMC(2:1) at standards (..., 3), shape (..., 3)."""
    return np.moveaxis(cmc_weights(np.moveaxis(lab, -1, 0)), 0, -1) * (2, 1, 1)


def direction_words(standard: ArrayLike, sample: ArrayLike) -> str:
    """Say how one sample (3,) departs from its standard (3,), the largest part first.

    Parts are weighed as CMC(2:1) weighs them, and named from 0.2 units. Of a near-grey
    standard (C* under 4) the hue has no meaning, and a* and b* are named instead.

    Examples
    --------
    >>> direction_words([50, 30, 0], [52, 26, 0])
    'duller, lighter'
    >>> direction_words([50, 30, 0], [50, 29.8, 3.5])
    'yellower'
    >>> direction_words([50, 30, 0], [50, 30, 0.1])
    'on standard'
    """
    wanted = as_colours(standard, "standard", unit=False)
    found = as_colours(sample, "sample", unit=False)
    for name, lab in (("standard", wanted), ("sample", found)):
        if lab.ndim != 1:
            raise ArgumentError(name, "of shape (3,)", words=f"shape {lab.shape}")
    weights = acceptance_weights(wanted)
    dl, dc, dh = lab_differences(wanted, found).tolist()
    parts = [(abs(dl) / float(weights[0]), "lighter" if dl > 0 else "darker")]
    if float(np.hypot(wanted[1], wanted[2])) < _GREY:
        da, db = (found - wanted)[1:].tolist()
        parts.append((abs(da) / float(weights[1]), "redder" if da > 0 else "greener"))
        parts.append((abs(db) / float(weights[1]), "yellower" if db > 0 else "bluer"))
    else:
        parts.append((abs(dc) / float(weights[1]), "more vivid" if dc > 0 else "duller"))
        parts.append((abs(dh) / float(weights[2]), _hue_word(wanted, up=dh > 0)))
    worth = sorted((part for part in parts if part[0] >= _WORTH), reverse=True)
    return ", ".join(word for _, word in worth) or "on standard"


def _hue_word(standard: Floats, *, up: bool) -> str:
    hue = float(np.degrees(np.arctan2(standard[2], standard[1])))
    ahead = {axis: ((axis - hue) if up else (hue - axis)) % 360 for axis in _AXES}
    return _AXES[min((axis for axis in ahead if ahead[axis] >= _OWN), key=ahead.__getitem__)]


def _de2000_weights(lab: Floats) -> Floats:
    """S_L, S_C and S_H of CIEDE2000 at a colour, without the turn of the blues."""
    lightness, a, b = lab[..., 0], lab[..., 1], lab[..., 2]
    chroma = np.hypot(a, b)
    h = np.arctan2(b, a)
    t = (
        1
        - 0.17 * np.cos(h - np.deg2rad(30))
        + 0.24 * np.cos(2 * h)
        + 0.32 * np.cos(3 * h + np.deg2rad(6))
        - 0.20 * np.cos(4 * h - np.deg2rad(63))
    )
    mid = (lightness - 50) ** 2
    sl = 1 + 0.015 * mid / np.sqrt(20 + mid)
    return np.stack([sl, 1 + 0.045 * chroma, 1 + 0.015 * chroma * t], axis=-1)


_Weights = Callable[[Floats], Floats]
_Measure = Callable[[Floats, Floats], Floats]

TOLERANCES: dict[str, tuple[_Weights, _Measure]] = {
    "cmc": (acceptance_weights, delta_e_cmc),
    "de2000": (_de2000_weights, delta_e_2000),
}


def scatter_lab(lab: Floats, steps: Floats, measure: str) -> Floats:
    """Move colours (..., 3) by steps (lightness, chroma, hue) in units of a measure.

    A step of length 1 lands on the shell where the measure is 1: its direction comes from
    the weights at the colour, its length is then corrected by the measure itself.
    """
    weights, compare = TOLERANCES[measure]
    offset = steps * weights(lab)
    h = np.arctan2(lab[..., 2], lab[..., 1])
    cos, sin = np.cos(h), np.sin(h)
    move = np.stack(
        [
            offset[..., 0],
            offset[..., 1] * cos - offset[..., 2] * sin,
            offset[..., 1] * sin + offset[..., 2] * cos,
        ],
        axis=-1,
    )
    wanted = np.sqrt((steps * steps).sum(axis=-1))
    for _ in range(3):
        found = compare(lab, lab + move)
        scale = np.divide(wanted, found, out=np.ones_like(found), where=found > 0)
        move = move * scale[..., None]
    return np.asarray(lab + move)


@dataclass(frozen=True)
class Tolerance:
    """How far production may stray.

    Attributes
    ----------
    size : float
        In the unit of the measure, above 0 up to 20. CMC(2:1) 1.0 is the trade's usual
        acceptance limit (common practice).
    measure : str
        ``"cmc"`` for CMC(2:1), or ``"de2000"``.
    within : float
        Share of production within it, 0.5 to 0.9999.

    Examples
    --------
    >>> print(Tolerance(1.0, "cmc", within=0.95))
    CMC(2:1) 1, holding 95 % of lots
    """

    size: float = 1.0
    measure: str = "cmc"
    within: float = 0.95

    def __post_init__(self) -> None:
        as_number(self.size, "size", 0, 20, low_open=True)
        as_number(self.within, "within", 0.5, 0.9999)
        require_one_of(self.measure, "measure", TOLERANCES)

    @property
    def sigma(self) -> float:
        """Standard deviation along each axis of the ellipsoid, in units of the measure."""
        return self.size / _chi3_quantile(self.within)

    def __str__(self) -> str:
        label = {"cmc": "CMC(2:1)", "de2000": "ΔE00"}[self.measure]
        return f"{label} {self.size:g}, holding {self.within * 100:g} % of lots"


def _chi3_quantile(share: float) -> float:
    """The length that a share of standard normal steps in three dimensions stays under."""
    low, high = 0.0, 10.0
    for _ in range(80):
        x = (low + high) / 2
        within = erf(x / sqrt(2)) - sqrt(2 / pi) * x * exp(-x * x / 2)
        low, high = (x, high) if within < share else (low, x)
    return low


def wilson_interval(hits: int, draws: int, confidence: float = 0.95) -> tuple[float, float]:
    """Return the interval of a chance, of which ``hits`` in ``draws`` were seen.

    Wilson, *J. Am. Stat. Assoc.* 22:209–212, 1927 (cited from memory). Unlike the plain
    normal interval it stays sensible near 0 and 1.

    >>> [round(end, 4) for end in wilson_interval(10, 10)]
    [0.7225, 1.0]
    """
    number = as_whole(draws, "draws", 1, 10**12)
    share = as_whole(hits, "hits", 0, number) / number
    z = NormalDist().inv_cdf((1 + as_number(confidence, "confidence", 0.5, 0.9999)) / 2)
    middle = (share + z * z / (2 * number)) / (1 + z * z / number)
    half = z / (1 + z * z / number) * sqrt(share * (1 - share) / number + (z / (2 * number)) ** 2)
    return max(middle - half, 0.0), min(middle + half, 1.0)
