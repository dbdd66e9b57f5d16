"""How many tones of a check can really be told apart."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from checkcloth.arguments import Floats, as_number
from checkcloth.cloth.tones import positions_of, symmetry_of
from checkcloth.colour.ciede2000 import delta_e_2000
from checkcloth.colour.spaces import srgb_to_lab
from checkcloth.colour.vision import see_as
from checkcloth.scoring.cloth_scores import as_tones

# Tone pairs looked at at a time.
_BLOCK = 1 << 17


def distinct_tones(
    tones: ArrayLike, threshold: float = 5.0, vision: str = "normal", severity: float = 1.0
) -> NDArray[np.intp]:
    """Count the tones of each check that stand at least ``threshold`` CIEDE2000 apart.

    The tones are gone through in the order ground, singles, crossings; each counts that
    is ``threshold`` or more from all that were counted before it. So many tones can be
    picked that no two of them are closer; another order may find a few more or less.

    Parameters
    ----------
    tones : array_like, shape (..., W+1, F+1, 3)
        Encoded sRGB in 0–1.
    threshold : float
        CIEDE2000, above 0, up to 100.
    vision, severity :
        See :func:`see_as`.

    Returns
    -------
    ndarray of int, shape (...)
        1 to (W+1)(F+1); equal tones count once.

    Raises
    ------
    ArgumentError
        For another shape, or values out of range.

    Examples
    --------
    >>> from checkcloth.cloth.colourway import Colourway
    >>> distinct_tones(Colourway("white", ["navy", "navy"]).tones).item()
    3
    """
    array = as_tones(tones)
    limit = as_number(threshold, "threshold", 0, 100, low_open=True)
    sides = array.shape[-3:-1]
    seen = see_as(array.reshape(-1, *sides, 3), vision, severity)
    # Tones that warp and weft make alike are looked at once.
    unique = positions_of(sides[0] - 1, sides[1] - 1, symmetry_of(seen))
    indices = np.ravel_multi_index(np.array([where[0] for where in unique]).T, sides)
    lab = srgb_to_lab(seen).reshape(len(seen), -1, 3)[:, indices]
    out = np.empty(len(lab), dtype=np.intp)
    step = max(1, _BLOCK // len(indices) ** 2)
    for start in range(0, len(lab), step):
        part = slice(start, start + step)
        out[part] = _count(lab[part], limit)
    return out.reshape(array.shape[:-3])


def _count(lab: Floats, limit: float) -> NDArray[np.intp]:
    count, number = lab.shape[:2]
    later, earlier = np.tril_indices(number, -1)  # row by row: all that come before tone 1, 2 …
    lightness = lab[..., 0]
    one, two = lightness.take(later, axis=1), lightness.take(earlier, axis=1)
    # CIEDE2000 is at least |ΔL*| / S_L, since what chroma and hue add is never negative
    # (|R_T| < 2): tones far enough apart in lightness need no more of the formula.
    from_mid = ((one + two) / 2 - 50) ** 2
    light = np.abs(one - two) / (1 + 0.015 * from_mid / np.sqrt(20 + from_mid))
    near = light < limit
    check, pair = np.nonzero(near)
    near[check, pair] = delta_e_2000(lab[check, later[pair]], lab[check, earlier[pair]]) < limit
    counted = np.zeros((count, number), dtype=bool)
    start = 0
    for tone in range(number):
        before = near[:, start : start + tone]
        counted[:, tone] = ~(before & counted[:, :tone]).any(axis=1)
        start += tone
    return np.asarray(counted.sum(axis=1), dtype=np.intp)
