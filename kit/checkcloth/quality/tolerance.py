"""Tolerances, the ellipsoids of their measures, and steps in Lab of a given size in them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from math import erf, exp, pi, sqrt
from statistics import NormalDist

import numpy as np

from checkcloth.arguments import Floats, as_number, as_whole
from checkcloth.colour.ciede2000 import delta_e_2000
from checkcloth.colour.difference import delta_e_cmc
from checkcloth.errors import ArgumentError

__all__ = ["TOLERANCES", "Tolerance", "cmc_weights", "scatter_lab", "wilson_interval"]


def cmc_weights(lab: Floats, l: float = 2, c: float = 1) -> Floats:  # noqa: E741
    """Return l·S_L, c·S_C and S_H of CMC(l:c) at standards (..., 3), shape (..., 3).

    Clarke, McDonald and Rigg 1984; the same terms as in :func:`delta_e_cmc`.

    >>> cmc_weights(np.array([50.0, 0.0, 0.0])).round(3).tolist()
    [2.177, 0.638, 0.638]
    """
    lightness, a, b = lab[..., 0], lab[..., 1], lab[..., 2]
    chroma = np.hypot(a, b)
    h = np.degrees(np.arctan2(b, a)) % 360
    t = np.where(
        (h >= 164) & (h <= 345),
        0.56 + np.abs(0.2 * np.cos(np.deg2rad(h + 168))),
        0.36 + np.abs(0.4 * np.cos(np.deg2rad(h + 35))),
    )
    f = np.sqrt(chroma**4 / (chroma**4 + 1900))
    sl = np.where(lightness < 16, 0.511, 0.040975 * lightness / (1 + 0.01765 * lightness))
    sc = 0.0638 * chroma / (1 + 0.0131 * chroma) + 0.638
    return np.stack([l * sl, c * sc, sc * (f * t + 1 - f)], axis=-1)


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


def _cmc(standard: Floats, sample: Floats) -> Floats:
    return delta_e_cmc(standard, sample)


_Weights = Callable[[Floats], Floats]
_Measure = Callable[[Floats, Floats], Floats]

TOLERANCES: dict[str, tuple[_Weights, _Measure]] = {
    "cmc": (cmc_weights, _cmc),
    "de2000": (_de2000_weights, delta_e_2000),
}


def scatter_lab(lab: Floats, steps: Floats, measure: str) -> Floats:
    """Move colours (..., 3) by steps (lightness, chroma, hue) in units of a measure.

    A step of length 1 lands on the shell where the measure is 1: its direction comes from
    the weights at the colour, its length is then corrected by the measure itself.

    >>> moved = scatter_lab(np.array([50.0, 30, 0]), np.array([[0.0, 0.6, 0.8]]), "de2000")
    >>> delta_e_2000([50.0, 30, 0], moved).round(3).item()
    1.0
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
        if self.measure not in TOLERANCES:
            raise ArgumentError("measure", f"one of {', '.join(TOLERANCES)}", self.measure)

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
