"""Plain weave: how much of a cell the warp shows, from its thread counts."""

from __future__ import annotations

from fractions import Fraction

import numpy as np
from numpy.typing import NDArray

from checkcloth.colour.arrays import as_whole

__all__ = ["plain_weave", "plain_weave_share"]

_MOST_THREADS = 100_000


def plain_weave(ends: int, picks: int | None = None) -> NDArray[np.bool_]:
    """Return where the warp is up in a plain-weave cell, shape (picks, ends).

    Each end goes over one pick and under the next; the corner shows warp.

    Parameters
    ----------
    ends : int
        Warp threads across the cell, 1 to 1,000.
    picks : int, optional
        Weft threads up the cell; as many as ends unless given.

    Raises
    ------
    ArgumentError
        For what is no whole number, or lies outside.

    Examples
    --------
    >>> plain_weave(3).astype(int).tolist()
    [[1, 0, 1], [0, 1, 0], [1, 0, 1]]
    """
    across = as_whole(ends, "ends", 1, 1000)
    up = across if picks is None else as_whole(picks, "picks", 1, 1000)
    return np.asarray(np.add.outer(np.arange(up), np.arange(across)) % 2 == 0)


def plain_weave_share(ends: int, picks: int | None = None) -> Fraction:
    """Return the warp's share of a plain-weave cell whose corner shows warp.

    Exactly one half if either count is even. With both odd one crossing is left over:
    (n² + 1) / 2n² for n × n threads, and 1 less that in the next cell, whose corner shows
    weft; so every second check comes out stronger in the warp's colour. That is why the
    trade gives each band an even count of threads (common practice).

    Parameters
    ----------
    ends : int
        Warp threads across the cell, 1 to 100,000.
    picks : int, optional
        Weft threads up the cell; as many as ends unless given.

    Returns
    -------
    Fraction
        Use ``float(...)`` of it as ``warp_share``.

    Raises
    ------
    ArgumentError
        For what is no whole number, or lies outside.

    Examples
    --------
    >>> [str(plain_weave_share(n)) for n in (1, 2, 3, 5, 7)]
    ['1', '1/2', '5/9', '13/25', '25/49']
    """
    across = as_whole(ends, "ends", 1, _MOST_THREADS)
    up = across if picks is None else as_whole(picks, "picks", 1, _MOST_THREADS)
    crossings = across * up
    return Fraction((crossings + 1) // 2, crossings)
