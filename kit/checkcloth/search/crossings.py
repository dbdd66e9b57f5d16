"""Crossings that may not look alike, of palettes too large for a table over four colours.

Two crossings are made of two, three or four colours. What two and three bring is worked out
beforehand, in tables of C² and C³ bits; what four bring is worked only for choices that come
so far.
"""

from __future__ import annotations

from itertools import combinations

import numpy as np

from checkcloth.arguments import Floats
from checkcloth.search.bounds.floors import Members
from checkcloth.search.tables import Bools, Seen

# Choices compared at a time.
_ROWS = 1 << 14


class AlikeCrossings:
    """Which colours together hold two crossings nearer than ``at_least``; see ``crossings_alike``.

    ``pairs`` (C, C) and ``triples`` (C, C, C) are symmetric, and False where an index comes twice.
    """

    def __init__(self, seen: Seen, by: str, at_least: float) -> None:
        self._seen, self._by, self._at_least = seen, by, at_least
        self._count = len(seen.lab) - 1
        self._woven = bool(np.array_equal(seen.lab, seen.lab.swapaxes(0, 1)))
        every = np.arange(self._count)
        shared = np.empty((self._count,) * 3, dtype=bool)
        same = np.empty((self._count,) * 3, dtype=bool)
        for one in range(self._count):
            a = np.full(1, one)
            shared[one] = self._near(a, every[:, None], a, every[None, :])
            same[one] = self._near(a, a, every[:, None], every[None, :])
        # [a, b]: a over a against a and b; and the two with themselves.
        pairs = same[every[:, None], every[:, None], every[None, :]]
        pairs = pairs | pairs.T | same[:, every, every]
        pairs |= pairs.T
        np.fill_diagonal(pairs, False)
        self.pairs = pairs
        shared |= same
        triples = shared | shared.transpose(1, 0, 2)
        triples |= shared.transpose(2, 1, 0)
        triples |= triples.transpose(0, 2, 1)
        for one, two in combinations(range(3), 2):
            index: list[slice | np.ndarray] = [slice(None)] * 3
            index[one] = index[two] = every
            triples[tuple(index)] = False
        self.triples = triples

    def _near(self, a: Members, b: Members, c: Members, d: Members) -> Bools:
        """Whether a crossing of a and b, either way round, is near one of c and d."""
        apart = self._apart(a, b, c, d)
        if not self._woven:
            for first, second in (((a, b), (d, c)), ((b, a), (c, d)), ((b, a), (d, c))):
                apart = np.minimum(apart, self._apart(*first, *second))
        return np.asarray(apart < self._at_least)

    def _apart(self, a: Members, b: Members, c: Members, d: Members) -> Floats:
        return self._seen.apart(self._by, (a + 1, b + 1), (c + 1, d + 1))

    def hold_four(self, members: Members) -> Bools:
        """Return which choices hold two alike crossings of four colours, the last among them."""
        out = np.zeros(len(members), dtype=bool)
        size = members.shape[1]
        columns = members.astype(np.intp)
        for three in combinations(range(size - 1), 3):
            for pair in combinations(three, 2):
                (other,) = {*three} - {*pair}
                left = np.flatnonzero(~out)
                for start in range(0, len(left), _ROWS):
                    rows = left[start : start + _ROWS]
                    one, two = (columns[rows, each] for each in pair)
                    out[rows] = self._near(one, two, columns[rows, other], columns[rows, -1])
        return out
