"""Bringing colours that sRGB cannot show into it, by a stated method and over arrays."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from checkcloth.arguments import Floats, as_colours
from checkcloth.colour.spaces import linear_to_oklab, oklab_to_linear

__all__ = ["into_srgb"]

# Halvings of the chroma: the boundary is met to 2⁻³⁰ of the colour's own chroma.
_HALVINGS = 30
# Rounding leaves colours of the gamut this far outside; they are held, not mapped.
_SLACK = 1e-9


def into_srgb(linear: ArrayLike) -> Floats:
    """Return linear light that sRGB can show: chroma reduced at constant lightness and hue.

    A colour inside the gamut comes back as it is. One outside keeps its Oklab lightness
    and hue, and its chroma is reduced until it just fits (the idea of CSS Color 4's
    gamut mapping, without its clipping step, so that hue does not move). Lighter than
    white becomes white, darker than black becomes black.

    Parameters
    ----------
    linear : array_like, shape (..., 3)
        Linear sRGB light; may lie outside 0–1.

    Returns
    -------
    ndarray of float64, shape (..., 3)
        Linear sRGB light in 0–1.

    Raises
    ------
    ArgumentError
        For another shape, NaN or infinity.

    Examples
    --------
    >>> into_srgb([[0.2, 0.3, 0.4], [-0.1, 0.3, 0.3]]).round(3).tolist()
    [[0.2, 0.3, 0.4], [0.0, 0.265, 0.26]]
    """
    linear = as_colours(linear, "linear", unit=False)
    outside = ((linear < -_SLACK) | (linear > 1 + _SLACK)).any(axis=-1)
    held = np.clip(linear, 0, 1)
    if outside.any():
        held[outside] = _less_chroma(linear[outside])
    return held


def _less_chroma(linear: Floats) -> Floats:
    """Reduce the chroma of colours (n, 3), all outside, until they lie in 0–1."""
    oklab = linear_to_oklab(linear)
    oklab[:, 0] = np.clip(oklab[:, 0], 0, 1)
    fits, too_much = np.zeros(len(oklab)), np.ones(len(oklab))
    for _ in range(_HALVINGS):
        share = (fits + too_much) / 2
        shown = oklab_to_linear(_with_chroma(oklab, share))
        inside = ((shown >= 0) & (shown <= 1)).all(axis=-1)
        fits, too_much = np.where(inside, share, fits), np.where(inside, too_much, share)
    # At share 0 the colour is the grey of its lightness, in the gamut but for rounding.
    return np.clip(oklab_to_linear(_with_chroma(oklab, fits)), 0, 1)


def _with_chroma(oklab: Floats, share: Floats) -> Floats:
    reduced = oklab.copy()
    reduced[:, 1:] *= share[:, None]
    return reduced
