"""How many tones of a check can really be told apart."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np
from numpy.typing import ArrayLike, NDArray

from checkcloth.arguments import Floats, as_number
from checkcloth.cloth.tones import Indices, Symmetry, laid_positions, symmetry_of
from checkcloth.colour.ciede2000 import ciede2000_columns
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
    lab = srgb_to_lab(seen).reshape(len(seen), -1, 3).transpose(2, 0, 1)
    counts = count_distinct(np.ascontiguousarray(lab), sides, symmetry_of(seen), limit)
    return counts.reshape(array.shape[:-3])


def count_distinct(
    lab: Floats,
    sides: tuple[int, int],
    symmetry: Symmetry,
    limit: float,
    known: Iterable[tuple[Indices, Floats]] = (),
    shares: Floats | None = None,
) -> NDArray[np.intp]:
    """:func:`distinct_tones` of columns (3, M, T), T being W+1 times F+1, unchecked.

    ``known`` has pairs of tones (P, 2) whose differences (M, P) were worked out already. Tones
    that have none of ``shares``, the area (W+1, F+1), do not count.
    """
    # Tones that warp and weft make alike are looked at once.
    unique = laid_positions(np.ones(sides) if shares is None else shares, symmetry)
    indices = np.ravel_multi_index(np.array([where[0] for where in unique]).T, sides)
    later, earlier = np.tril_indices(len(indices), -1)  # row by row: all that come before 1, 2 …
    number_of = np.empty(sides[0] * sides[1], dtype=np.intp)
    number_of[indices] = np.arange(len(indices))
    near = np.empty((lab.shape[1], len(later)), dtype=bool)
    unknown = np.ones(len(later), dtype=bool)
    for pairs, differences in known:
        low, high = np.sort(number_of[pairs], axis=1).T
        columns = high * (high - 1) // 2 + low
        near[:, columns] = differences < limit
        unknown[columns] = False
    todo = np.flatnonzero(unknown)
    one, two = indices[later[todo]], indices[earlier[todo]]
    step = max(1, _BLOCK // max(len(todo), 1))
    for start in range(0, len(near), step):
        part = slice(start, start + step)
        near[part, todo] = _near(lab[:, part], one, two, limit)
    return _counted(near, len(indices))


def _near(lab: Floats, first: Indices, second: Indices, limit: float) -> NDArray[np.bool_]:
    """Whether tones (3, M, T) are nearer than ``limit``, by pairs: (M, P)."""
    one, two = lab[0].take(first, axis=1), lab[0].take(second, axis=1)
    # CIEDE2000 is at least |ΔL*| / S_L, since what chroma and hue add is never negative
    # (|R_T| < 2): tones far enough apart in lightness need no more of the formula.
    from_mid = ((one + two) / 2 - 50) ** 2
    light = np.abs(one - two) / (1 + 0.015 * from_mid / np.sqrt(20 + from_mid))
    near: NDArray[np.bool_] = light < limit
    check, pair = np.nonzero(near)
    apart = ciede2000_columns(lab[:, check, first[pair]], lab[:, check, second[pair]])
    near[check, pair] = apart < limit
    return near


def _counted(near: NDArray[np.bool_], number: int) -> NDArray[np.intp]:
    """How many tones count; ``near`` has, row by row, the pairs with all that come before."""
    counted = np.zeros((len(near), number), dtype=bool)
    start = 0
    for tone in range(number):
        before = near[:, start : start + tone]
        counted[:, tone] = ~(before & counted[:, :tone]).any(axis=1)
        start += tone
    return np.asarray(counted.sum(axis=1), dtype=np.intp)
