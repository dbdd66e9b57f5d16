"""Blends of coloured fibres: one-parameter functions beside Kubelka and Munk's.

For each, some function of the reflectance adds up by the fibres' shares::

    Kubelka–Munk       f = (1-R)² / 2R
    Stearns–Noechel    f = (1-R) / (b (R - 0.01) + 0.01)          b = 0.15
    Friele             f = exp(-s (1-R)² / 2R)                    s = 0.28

Stearns and Noechel, American Dyestuff Reporter 33, 1944 (b for wool; others have found 0.11
to 0.19 for other fibres); Friele, Journal of the Textile Institute 43, 1952 (s found by Miller,
Hirt and others at 0.22 to 0.36). Both papers and both figures are from memory. At b = 0 the
former adds reflectances; as s goes to 0 the latter becomes Kubelka and Munk's.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import ArrayLike

from checkcloth.arguments import Floats, as_fraction, as_number, require_one_of
from checkcloth.colour.reflectance import absorption_to_reflectance, reflectance_to_absorption
from checkcloth.colour.spectra.lights import check_reflectance
from checkcloth.errors import ArgumentError

BLENDS = ("kubelka-munk", "stearns-noechel", "friele")
_USUAL = {"stearns-noechel": 0.15, "friele": 0.28}
_LEAST = 1e-4  # of a reflectance: a perfect black has no finite function


def blend(
    reflectances: ArrayLike,
    shares: Sequence[float],
    function: str = "stearns-noechel",
    parameter: float | None = None,
) -> Floats:
    """Return the reflectance of a blend of fibres.

    Parameters
    ----------
    reflectances : array_like, shape (K, ..., B)
        Of the K fibres by themselves, as fractions, at any wavelengths.
    shares : sequence of K numbers
        By weight; they add up to 1.
    function : str
        One of ``BLENDS``.
    parameter : float, optional
        b of Stearns and Noechel, 0 to 1, or s of Friele, 0 to 2; the usual one unless given.

    Returns
    -------
    ndarray of float64, shape (..., B)

    Raises
    ------
    ArgumentError
        For shares that do not add up to 1, another function, a parameter out of range.

    Examples
    --------
    >>> blend([[0.8], [0.1]], [0.5, 0.5]).round(3).tolist()
    [0.208]
    >>> blend([[0.8], [0.1]], [0.5, 0.5], "kubelka-munk").round(3).tolist()
    [0.169]
    """
    fibres = np.asarray(reflectances, dtype=np.float64)
    weights = as_fraction(shares, "shares")
    if fibres.ndim < 2 or weights.shape != fibres.shape[:1]:
        words = f"shapes {fibres.shape} and {weights.shape}"
        raise ArgumentError("reflectances and shares", "one share a fibre", words=words)
    if abs(float(weights.sum()) - 1) > 1e-6:
        raise ArgumentError("shares", "numbers that add up to 1", float(weights.sum()))
    require_one_of(function, "function", BLENDS)
    held = np.clip(check_reflectance(fibres, "reflectances"), _LEAST, 1)

    def mean(values: Floats) -> Floats:
        return np.asarray(np.tensordot(weights, values, axes=1))

    if function == "kubelka-munk":
        return absorption_to_reflectance(mean(reflectance_to_absorption(held)))
    usual = _USUAL[function]
    constant = as_number(
        usual if parameter is None else parameter, "parameter", 0, 1 if usual < 0.2 else 2
    )
    if function == "stearns-noechel":
        value = mean((1 - held) / (constant * (held - 0.01) + 0.01))
        return np.asarray((1 - value * 0.01 * (1 - constant)) / (1 + value * constant))
    if constant < 1e-6:  # its limit
        return blend(held, shares, "kubelka-munk")
    value = mean(np.exp(-constant * reflectance_to_absorption(held)))
    with np.errstate(divide="ignore"):
        absorption = -np.log(value) / constant
    return np.maximum(absorption_to_reflectance(np.minimum(np.maximum(absorption, 0), 1e9)), 0)
