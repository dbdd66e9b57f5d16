"""Reflectance spectra recovered from sRGB, and what they come to as pigments.

Endlessly many spectra look like one colour under D65. The one taken here is the smoothest:
it minimises Σ (z[i+1] − z[i])² with ρ = (tanh z + 1)/2, so that it always lies between 0
and 1 (Burns, "Numerical methods for smoothest reflectance reconstruction", *Color Research
& Application* 45:8–21, 2020, there LHTSS; the citation is from memory, the method as
described at scottburns.us). Of his methods it comes nearest to measured paints, and it
turns yellow and blue greener than a three-spectrum basis does.

Mixing is single-constant Kubelka–Munk: K/S of each wavelength adds by proportion. That is
an estimate: real dyes and yarns need their own measurements.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from checkcloth.arguments import Floats, as_colours
from checkcloth.colour.cie1931 import COLOUR_MATCHING, D65_POWER, WAVELENGTHS
from checkcloth.colour.spaces import (
    D65_WHITE,
    into_srgb,
    linear_to_srgb,
    linear_to_xyz,
    srgb_to_linear,
    xyz_to_linear,
)
from checkcloth.errors import ArgumentError

_BANDS = len(WAVELENGTHS)

# Linear light is drawn in by this much at both ends before recovery, because a perfect
# black and a perfect white have no finite z; spectra_to_srgb undoes it. On black it is
# worth 0.005 ΔE00, on everything else less.
_MARGIN = 1e-5

# p95 of ΔE00 over all pairs of the 99 test colours of CIE 224: their spectra mixed half and half
# by Kubelka and Munk, against the same with recovered spectra (tests/bench/bench_pigment.py).
RECOVERY_ERROR = 4.0

# How many colours are kept; 4096 spectra are 1.2 MB.
_KEPT = 4096
_recovered: dict[bytes, Floats] = {}


def _linear_weights() -> Floats:
    """Weights (3, bands) that take a reflectance to linear sRGB under D65.

    ASTM-style sums by 10 nm give the white to within 0.04 %; each of X, Y, Z is scaled so
    that a perfect white is exactly sRGB's white, and a flat spectrum therefore a grey.
    """
    weights = COLOUR_MATCHING * D65_POWER[:, None]
    return np.ascontiguousarray(xyz_to_linear(weights * D65_WHITE / weights.sum(axis=0)).T)


_WEIGHTS = _linear_weights()

# The second differences of the smoothness term, and the derivative of its quadratic form.
_SMOOTH = 2 * (
    np.diag(np.r_[1.0, np.full(_BANDS - 2, 2.0), 1.0]) - np.eye(_BANDS, k=1) - np.eye(_BANDS, k=-1)
)


def _smoothest(linear: Floats) -> Floats:
    """Reflectances (n, bands) of linear light (n, 3), each inside 0–1, by Newton's method.

    Minimise zᵀDz/2 subject to Wρ(z) = linear. With multipliers λ the equations are
    Dz + ρ′∘(Wᵀλ) = 0 and Wρ − linear = 0: 39 unknowns a colour, all colours at once.
    From z = 0 it takes 4 to 15 rounds anywhere in sRGB.
    """
    count = len(linear)
    z, multiplier = np.zeros((count, _BANDS)), np.zeros((count, 3))
    left = np.arange(count)
    band = np.arange(_BANDS)
    for _ in range(50):
        tanh = np.tanh(z[left])
        slope = (1 - tanh * tanh) / 2  # ρ′
        bend = -2 * tanh * slope  # ρ″
        pull = multiplier[left] @ _WEIGHTS
        miss = (1 + tanh) / 2 @ _WEIGHTS.T - linear[left]
        size = _BANDS + 3
        matrix = np.zeros((len(left), size, size))
        matrix[:, :_BANDS, :_BANDS] = _SMOOTH
        matrix[:, band, band] += bend * pull
        sloped = _WEIGHTS * slope[:, None, :]
        matrix[:, _BANDS:, :_BANDS] = sloped
        matrix[:, :_BANDS, _BANDS:] = sloped.swapaxes(1, 2)
        residual = np.concatenate([z[left] @ _SMOOTH + slope * pull, miss], axis=1)
        step = np.linalg.solve(matrix, residual[..., None])[..., 0]
        # Far out on the tanh a full step can overshoot into flat ground; hold it.
        step *= np.minimum(1, 10 / np.maximum(np.abs(step[:, :_BANDS]).max(axis=1), 1))[:, None]
        z[left] -= step[:, :_BANDS]
        multiplier[left] -= step[:, _BANDS:]
        left = left[np.abs(residual).max(axis=1) > 1e-10]
        if not len(left):
            return np.asarray((1 + np.tanh(z)) / 2)
    raise AssertionError(f"no smooth spectrum found for linear light {linear[left[0]]}")


def reflectances(rgb: ArrayLike) -> Floats:
    """Return the smoothest reflectance that looks like each colour under D65.

    Each distinct colour is recovered once and kept, so that thousands of colourways of
    one palette cost a handful of recoveries.

    Parameters
    ----------
    rgb : array_like, shape (..., 3)
        Encoded sRGB in 0–1.

    Returns
    -------
    ndarray of float64, shape (..., 36)
        Reflectance at ``WAVELENGTHS``, 380 to 730 nm by 10 nm, strictly inside 0–1.

    Examples
    --------
    >>> flat = reflectances([128 / 255] * 3)
    >>> flat.min().round(4).item(), flat.max().round(4).item()
    (0.2159, 0.2159)
    """
    rgb = as_colours(rgb, "rgb")
    flat = np.ascontiguousarray(np.clip(rgb.reshape(-1, 3), 0, 1)) + 0.0  # no negative zero
    keys = [row.tobytes() for row in flat]
    found = {key: kept for key in set(keys) if (kept := _recovered.get(key)) is not None}
    missing = [key for key in dict.fromkeys(keys) if key not in found]
    for start in range(0, len(missing), 256):
        part = missing[start : start + 256]
        light = srgb_to_linear(np.frombuffer(b"".join(part)).reshape(-1, 3))
        spectra = _smoothest(_MARGIN + (1 - 2 * _MARGIN) * light)
        found.update(zip(part, spectra, strict=True))
    if len(_recovered) + len(missing) > _KEPT:
        _recovered.clear()
    _recovered.update((key, found[key].copy()) for key in missing[:_KEPT])
    return np.array([found[key] for key in keys]).reshape(*rgb.shape[:-1], _BANDS)


_FOUND = 1e-8

# Colours outside sRGB that were recovered, or found beyond what any surface can be: None.
_beyond: dict[bytes, Floats | None] = {}


def reflectance_of_xyz(xyz: ArrayLike) -> Floats | None:
    """Return the smoothest reflectance (36,) of a colour that may lie outside sRGB.

    Parameters
    ----------
    xyz : array_like, shape (3,)
        Under D65, 2°, white Y = 1.

    Returns
    -------
    ndarray of float64, or None
        None where no reflectance between 0 and 1 has that colour: lights of a screen can be
        more vivid at their lightness than anything lit by D65 (MacAdam 1935).

    Examples
    --------
    >>> reflectance_of_xyz([0.25, 0.35, 0.1]).shape, reflectance_of_xyz([0.1, 0.6, 0.1])
    ((36,), None)
    """
    values = as_colours(xyz, "xyz", unit=False)
    key = values.tobytes()
    if key not in _beyond:
        if len(_beyond) >= _KEPT:
            _beyond.clear()
        light = _MARGIN + (1 - 2 * _MARGIN) * xyz_to_linear(values)
        _beyond[key] = _smoothest_or_none(light)
    return _beyond[key]


def _smoothest_or_none(light: Floats) -> Floats | None:
    with np.errstate(all="ignore"):
        try:
            found = _smoothest(light[None])[0]
        except (AssertionError, np.linalg.LinAlgError):
            return None
    # What runs away ends in no number, which is no miss.
    there = bool(np.abs(found @ _WEIGHTS.T - light).max() < _FOUND)
    return found if there else None


def _as_spectra(values: ArrayLike, name: str) -> Floats:
    array = np.asarray(values, dtype=np.float64)
    if array.ndim == 0 or array.shape[-1] != _BANDS:
        raise ArgumentError(name, f"of shape (..., {_BANDS})", words=f"shape {array.shape}")
    return array


def reflectance_to_linear(reflectance: ArrayLike) -> Floats:
    """Reflectance (..., 36) to linear sRGB light under D65, 2°; may leave 0–1."""
    return np.asarray(_as_spectra(reflectance, "reflectance") @ _WEIGHTS.T)


def reflectance_to_xyz(reflectance: ArrayLike) -> Floats:
    """Reflectance (..., 36) to XYZ (..., 3) under D65, 2°, white Y = 1, nothing mapped.

    Undoes :func:`reflectances` and :func:`reflectance_of_xyz` exactly.
    """
    light = (reflectance_to_linear(reflectance) - _MARGIN) / (1 - 2 * _MARGIN)
    return linear_to_xyz(light)


def spectra_to_srgb(reflectance: ArrayLike) -> Floats:
    """Reflectance (..., 36) to encoded sRGB, mapped into the gamut by :func:`into_srgb`.

    Undoes :func:`reflectances` exactly. Mixtures can be more vivid than sRGB shows; their
    chroma is then reduced at constant Oklab lightness and hue.
    """
    light = (reflectance_to_linear(reflectance) - _MARGIN) / (1 - 2 * _MARGIN)
    return np.clip(linear_to_srgb(into_srgb(light)), 0, 1)


def reflectance_to_absorption(reflectance: ArrayLike) -> Floats:
    """Kubelka–Munk K/S of an opaque layer of reflectance R, any shape: (1−R)²/2R.

    >>> reflectance_to_absorption([0.5, 0.25, 0.1]).tolist()
    [0.25, 1.125, 4.05]
    """
    reflectance = np.asarray(reflectance, dtype=np.float64)
    if not bool(((reflectance > 0) & (reflectance <= 1)).all()):
        raise ArgumentError("reflectance", "above 0 and up to 1")
    return np.asarray((1 - reflectance) ** 2 / (2 * reflectance))


def absorption_to_reflectance(absorption: ArrayLike) -> Floats:
    """Reflectance of an opaque layer of Kubelka–Munk K/S, any shape.

    R = 1 + k − √(k² + 2k), written as 1/(1 + k + √(k² + 2k)): the same number without
    taking two large ones from each other.
    """
    k = np.asarray(absorption, dtype=np.float64)
    if not bool((k >= 0).all()):
        raise ArgumentError("absorption", "0 or more")
    return np.asarray(1 / (1 + k + np.sqrt(k * (k + 2))))


def absorption(rgb: ArrayLike) -> Floats:
    """K/S (..., 36) of the recovered reflectance of encoded sRGB colours (..., 3)."""
    return reflectance_to_absorption(reflectances(rgb))


def absorption_to_srgb(k: ArrayLike) -> Floats:
    """K/S (..., 36) to encoded sRGB (..., 3) in 0–1; see :func:`spectra_to_srgb`."""
    return spectra_to_srgb(absorption_to_reflectance(k))
