"""Scores of every choice of colours at once, without forming the choices one by one.

A score here folds a table over all pairs (or sets of a few) of the colours chosen: the
least entry, or all bits or-ed together. Choices are kept in colex order: all choices of
size r from the first m colours are the first C(m, r) of those from any more. A choice
whose greatest colour is c is then a smaller choice plus c, its fold is the fold of the
smaller choice joined with that of row c alone, and both lie ready in one piece. So every
step is one pass over contiguous numbers, and nothing is looked up through an index.
"""

from __future__ import annotations

from functools import lru_cache
from itertools import combinations
from math import comb
from typing import Any

import numpy as np
from numpy.typing import NDArray

__all__ = ["Folder", "colex", "spread"]

Table = NDArray[Any]


def _rows(fold: np.ufunc, row: Table, size: int) -> Table:
    """Fold a row (m,) over every choice of ``size`` of its m places, in colex order."""
    level = row
    count = len(row)
    for s in range(2, size + 1):
        out = np.empty(comb(count, s), dtype=row.dtype)
        for c in range(s - 1, count):
            start, many = comb(c, s), comb(c, s - 1)
            fold(level[:many], row[c], out=out[start : start + many])
        level = out
    return level


def spread(fold: np.ufunc, table: Table, size: int) -> Table | None:
    """Fold a symmetric table over all sets of colours within every choice of ``size``.

    Parameters
    ----------
    fold : ufunc
        ``np.minimum`` or ``np.bitwise_or``.
    table : ndarray, shape (m,) * a
        Symmetric; entries at equal indices are not used (for a = 1 all are).
    size : int
        At least 1.

    Returns
    -------
    ndarray, shape (C(m, size),), or None
        In colex order; None where the choice is too small to hold such a set.

    Examples
    --------
    >>> pair = np.array([[9, 5, 2], [5, 9, 7], [2, 7, 9]])
    >>> spread(np.minimum, pair, 2).tolist(), spread(np.minimum, pair, 3).tolist()
    ([5, 2, 7], [2])
    """
    arity, count = table.ndim, len(table)
    if size < arity:
        return None
    if arity == 1:
        return _rows(fold, table, size)
    before: Table | None = None
    for s in range(arity, size + 1):
        out = np.empty(comb(count, s), dtype=table.dtype)
        for c in range(s - 1, count):
            start, many = comb(c, s), comb(c, s - 1)
            index: Any = (c, *[slice(c)] * (arity - 1))
            part = spread(fold, table[index], s - 1)
            if before is None:
                out[start : start + many] = part
            else:
                fold(before[:many], part, out=out[start : start + many])
        before = out
    return before


class Folder:
    """Folds of every choice that holds given colours, with the shared part worked once.

    Parameters
    ----------
    fold : ufunc
    tables : sequence of ndarray
        Symmetric tables over the same m colours, each of shape (m,) * a for its own a.
    size : int
        How many colours :meth:`with_` chooses beside those it is given, 0 or more.

    Examples
    --------
    >>> pair = np.array([[9, 5, 2], [5, 9, 7], [2, 7, 9]])
    >>> Folder(np.minimum, [pair], 1).with_((2,), 2).tolist()  # 2 beside 0, and beside 1
    [2, 7]
    """

    def __init__(self, fold: np.ufunc, tables: list[Table], size: int) -> None:
        self.fold = fold
        self.tables = tables
        self.size = size
        self._own = [spread(fold, table, size) if size else None for table in tables]

    def with_(self, given: tuple[int, ...], below: int) -> Table:
        """Return folds of ``given`` and every choice from the first ``below`` colours.

        Parameters
        ----------
        given : tuple of int
            Different colours, none of them among the first ``below``.
        below : int

        Returns
        -------
        ndarray, shape (C(below, size),)
            In colex order of the choice.
        """
        many = comb(below, self.size)
        out: Table | None = None
        for table, own in zip(self.tables, self._own, strict=True):
            if own is not None:
                out = self._join(out, own[:many], many)
            for taken in range(1, min(len(given), table.ndim) + 1):
                rest = table.ndim - taken
                rows = [table[picked] for picked in combinations(given, taken)]
                row = np.asarray(self.fold.reduce(rows, axis=0))
                if rest == 0:
                    out = self._join(out, row, many)
                elif self.size >= rest:
                    part = spread(self.fold, row[(slice(below),) * rest], self.size)
                    assert part is not None
                    out = self._join(out, part, many)
        if out is None:
            raise ValueError("choices must hold at least one set of each table's size")
        return out

    def _join(self, out: Table | None, part: Table, many: int) -> Table:
        if out is None:
            return np.array(np.broadcast_to(part, (many,)))
        return np.asarray(self.fold(out, part, out=out))


@lru_cache(maxsize=8)
def colex(count: int, size: int) -> NDArray[np.uint8]:
    """Return every choice of ``size`` places out of ``count``, (C(count, size), size).

    In colex order, places ascending within each.

    >>> colex(3, 2).tolist()
    [[0, 1], [0, 2], [1, 2]]
    """
    out = np.zeros((1, 0), dtype=np.uint8)
    for s in range(1, size + 1):
        parts = []
        for c in range(s - 1, count):
            part = out[: comb(c, s - 1)]
            parts.append(np.column_stack([part, np.full(len(part), c, dtype=np.uint8)]))
        out = np.concatenate(parts) if parts else np.zeros((0, s), dtype=np.uint8)
    out.flags.writeable = False
    return out
