"""A table reduced over every choice of colours at once, without forming the choices one by one.

A score is a table over all pairs (or sets of a few) of colours, reduced over the colours
chosen: the least entry, or all bits or-ed together. Choices are kept in colex order: all
choices of size r from the first m colours are the first C(m, r) of those from any more. A
choice whose greatest colour is c is then a smaller choice plus c, its value is that of the
smaller choice joined with that of row c alone, and both lie ready in one piece. So every
step is one pass over contiguous numbers, and nothing is looked up through an index.
"""

from __future__ import annotations

from itertools import combinations
from math import comb
from typing import Any

import numpy as np
from numpy.typing import NDArray

Table = NDArray[Any]


def _reduce_row(ufunc: np.ufunc, row: Table, size: int) -> Table:
    """Reduce a row (m,) over every choice of ``size`` of its m entries, in colex order."""
    level = row
    count = len(row)
    for s in range(2, size + 1):
        out = np.empty(comb(count, s), dtype=row.dtype)
        for c in range(s - 1, count):
            start, many = comb(c, s), comb(c, s - 1)
            ufunc(level[:many], row[c], out=out[start : start + many])
        level = out
    return level


def reduce_choices(ufunc: np.ufunc, table: Table, size: int) -> Table | None:
    """Reduce a symmetric table (m,) * a over all sets of a colours in every choice of ``size``.

    Entries at equal indices are not used (for a = 1 all are). The values come in colex order,
    shape (C(m, size),); None where the choice is too small to hold such a set.

    >>> pair = np.array([[9, 5, 2], [5, 9, 7], [2, 7, 9]])
    >>> [reduce_choices(np.minimum, pair, size).tolist() for size in (2, 3)]
    [[5, 2, 7], [2]]
    """
    arity, count = table.ndim, len(table)
    if size < arity:
        return None
    if arity == 1:
        return _reduce_row(ufunc, table, size)
    before: Table | None = None
    for s in range(arity, size + 1):
        out = np.empty(comb(count, s), dtype=table.dtype)
        for c in range(s - 1, count):
            start, many = comb(c, s), comb(c, s - 1)
            index: Any = (c, *[slice(c)] * (arity - 1))
            part = reduce_choices(ufunc, table[index], s - 1)
            if before is None:
                out[start : start + many] = part
            else:
                ufunc(before[:many], part, out=out[start : start + many])
        before = out
    return before


class Reducer:
    """Reduces tables over every choice that holds given colours; the shared part is worked once.

    The tables are symmetric, over the same m colours, each of shape (m,) * a for its own a;
    ``size`` is how many colours are chosen beside those given, 0 or more.

    >>> pair = np.array([[9, 5, 2], [5, 9, 7], [2, 7, 9]])
    >>> Reducer(np.minimum, [pair], 1).reduce((2,), 2).tolist()  # 2 beside 0, and beside 1
    [2, 7]
    """

    def __init__(self, ufunc: np.ufunc, tables: list[Table], size: int) -> None:
        self.ufunc = ufunc
        self.tables = tables
        self.size = size
        self._own = [reduce_choices(ufunc, table, size) if size else None for table in tables]

    def reduce(self, given: tuple[int, ...], below: int) -> Table:
        """Return the values of ``given`` with every choice from the first ``below`` colours.

        The colours given are none of the first ``below``. Shape (C(below, size),), in colex
        order of the choice.
        """
        many = comb(below, self.size)
        out: Table | None = None
        for table, own in zip(self.tables, self._own, strict=True):
            if own is not None:
                out = self._join(out, own[:many], many)
            for taken in range(1, min(len(given), table.ndim) + 1):
                axes_left = table.ndim - taken
                rows = [table[picked] for picked in combinations(given, taken)]
                row = np.asarray(self.ufunc.reduce(rows, axis=0))
                if axes_left == 0:
                    out = self._join(out, row, many)
                elif self.size >= axes_left:
                    part = reduce_choices(self.ufunc, row[(slice(below),) * axes_left], self.size)
                    assert part is not None
                    out = self._join(out, part, many)
        if out is None:
            raise ValueError("choices must hold at least one set of each table's size")
        return out

    def _join(self, out: Table | None, part: Table, many: int) -> Table:
        if out is None:
            return np.array(np.broadcast_to(part, (many,)))
        return np.asarray(self.ufunc(out, part, out=out))
