"""Crossings compared with crossings: the one score that looks at up to four colours.

A crossing is made of two stripes, so two crossings are made of two, three or four. A check
of N stripes holds them all inside its sets of four, and its least is the least over those:
a table over four colours (fewer when there are fewer stripes) answers exactly. It costs
C⁴ bytes, which is why palettes are held to 48 stripe colours where it is asked for.
"""

from __future__ import annotations

import numpy as np

from checkcloth.arguments import Floats
from checkcloth.search.tables import Bools, Seen

__all__ = ["crossings_alike", "least_crossings"]


def least_crossings(seen: Seen, by: str) -> Floats:
    """Return how far crossings are apart, by the colours they are made of, either way round.

    Parameters
    ----------
    seen : Seen
        Of C candidates.
    by : str

    Returns
    -------
    ndarray, shape (C, C, C, C)
        [i, j, k, m] is the least between a crossing of stripes i and j and one of k and m.
        Infinite where both are of the same two stripes: those are not compared, as in
        :func:`tone_pairs`.

    Examples
    --------
    >>> import numpy as np
    >>> from checkcloth.search.tables import Seen
    >>> least_crossings(Seen(np.zeros((4, 4, 3)), np.ones((4, 4))), "dl").shape
    (3, 3, 3, 3)
    """
    count = len(seen.lab) - 1
    flat = np.arange((count + 1) ** 2).reshape(count + 1, count + 1)[1:, 1:].ravel()
    flat_seen = Seen(seen.lab.reshape(-1, 3), seen.luminance.ravel())
    out = np.empty((count * count, count * count))
    for row, place in enumerate(flat):
        # the measures are symmetric: work one triangle, copy the other
        out[row, row:] = flat_seen.apart(by, (place,), (flat[row:],))
        out[row:, row] = out[row, row:]
    apart = out.reshape(count, count, count, count)
    np.minimum(apart, apart.transpose(1, 0, 2, 3), out=apart)
    apart = np.minimum(apart, apart.transpose(0, 1, 3, 2))
    i, j = np.indices((count, count))
    apart[i, j, i, j] = np.inf
    apart[i, j, j, i] = np.inf
    return apart


def crossings_alike(apart: Floats, at_least: float, stripes: int) -> Bools:
    """Return which sets of colours hold two crossings nearer than ``at_least``.

    Parameters
    ----------
    apart : ndarray, shape (C, C, C, C)
        See :func:`least_crossings`.
    at_least : float
    stripes : int
        In a check; sets are of ``min(stripes, 4)`` colours.

    Returns
    -------
    ndarray of bool, shape (C,) * min(stripes, 4)
        Symmetric; False where an index comes twice (no such set).

    Examples
    --------
    >>> import numpy as np
    >>> crossings_alike(np.zeros((2, 2, 2, 2)), 5, stripes=2).shape
    (2, 2)
    """
    near = apart < at_least
    count = len(near)
    i = np.arange(count)
    same = near[i, i]  # [a, k, m]: a over a against k and m
    within = near[i[:, None], i[:, None], i[:, None], i[None, :]]  # a over a, a and b
    within = within | within.T | same[:, i, i]
    within |= within.T
    np.fill_diagonal(within, False)
    if stripes < 2:
        return np.zeros(count, dtype=bool)
    if stripes == 2:
        return within
    shared = near[i[:, None, None], i[None, :, None], i[:, None, None], i[None, None, :]]
    one = shared | same  # [a, b, c]: ab against ac; aa against bc
    triple = one | one.transpose(1, 0, 2) | one.transpose(2, 1, 0)
    triple |= triple.transpose(0, 2, 1)
    triple |= within[:, :, None] | within[:, None, :] | within[None, :, :]
    _clear_repeats(triple)
    if stripes == 3:
        return triple
    quad = near | near.transpose(0, 2, 1, 3) | near.transpose(0, 3, 2, 1)
    quad |= triple[:, :, :, None]
    quad |= triple[:, :, None, :]
    quad |= triple[:, None, :, :]
    quad |= triple[None, :, :, :]
    _clear_repeats(quad)
    return quad


def _clear_repeats(table: Bools) -> None:
    """Set to False wherever two indices are equal."""
    count, sides = len(table), table.ndim
    same = np.eye(count, dtype=bool)
    for one in range(sides):
        for two in range(one + 1, sides):
            shape = [1] * sides
            shape[one] = shape[two] = count
            table &= ~same.reshape(shape)
