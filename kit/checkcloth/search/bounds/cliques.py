"""Sets of colours of which every two go together, found by bounding with colourings.

Colours are the vertices of a graph, joined where they meet every condition and reach the floor;
what is looked for is its cliques of a given size. A set of vertices in which no two are joined
gives a clique one member at most. So if vertices are put into fewer such classes than members
are still lacking, no clique is there; and of those that are left over once all but one of the
members have a class, each clique holds at least one: only they need be tried (Tomita and
Kameda 2007, from memory). Colours that look alike are not joined, so classes are large and few.

Sets are whole numbers here, a bit for each vertex.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from checkcloth.arguments import Floats
from checkcloth.search.bounds.floors import Stop, check_going, packed
from checkcloth.search.tables import Bools

Row = tuple[int, ...]


def _vertices(bits: int) -> Iterator[int]:
    while bits:
        low = bits & -bits
        yield low.bit_length() - 1
        bits ^= low


class Cliques:
    """The cliques of a graph in order of no value; see :meth:`runs`.

    ``table`` (C, C) is the value of two vertices together: a clique has the least over its pairs.
    ``joined`` (C, C) says which meet every condition; its diagonal does not count.
    """

    def __init__(self, table: Floats, joined: Bools) -> None:
        joined = joined & ~np.eye(len(joined), dtype=bool)
        # Those joined with the most come first into classes, which then are fewer.
        self.order = np.argsort(-joined.sum(axis=1), kind="stable")
        around = np.ix_(self.order, self.order)
        self._joined, self._table = joined[around], table[around]
        self._floor = -np.inf
        self._beside: list[int] = []
        self.nodes = 0  # cliques, whole or begun, that were formed

    def _raise(self, floor: float) -> None:
        if floor > self._floor or not self._beside:
            self._floor = floor
            rows = packed(self._joined & (self._table >= floor))
            self._beside = [int.from_bytes(row.tobytes(), "little") for row in rows]

    def _to_try(self, left: int, lacking: int) -> int:
        """Of some vertices those of which a clique of so many more must hold one."""
        beside = self._beside
        for _ in range(lacking - 1):
            alike = left
            while alike:
                low = alike & -alike
                left ^= low
                alike &= ~(beside[low.bit_length() - 1] | low)
            if not left:
                return 0
        return left

    def runs(self, size: int, floor: list[float], stopped: Stop) -> Iterator[tuple[float, Row]]:
        """Yield every clique of so many from ``floor[0]`` on, which may rise between two yields.

        Each as its value and the vertices.
        """
        self._raise(floor[0])
        start = (1 << len(self.order)) - 1
        for value, members in self._grown((), np.inf, start, size, floor, stopped):
            yield value, tuple(int(self.order[vertex]) for vertex in members)

    def _grown(
        self, members: Row, value: float, left: int, lacking: int, floor: list[float],
        stopped: Stop,
    ) -> Iterator[tuple[float, Row]]:  # fmt: skip
        check_going(stopped)
        for vertex in _vertices(self._to_try(left, lacking)):
            self._raise(floor[0])
            row = self._table[vertex]
            worth = min((float(row[other]) for other in members), default=np.inf)
            worth = min(worth, value)
            left &= ~(1 << vertex)
            if worth < floor[0]:
                continue
            self.nodes += 1
            grown = (*members, vertex)
            if lacking == 1:
                yield worth, grown
                continue
            still = left & self._beside[vertex]
            if still.bit_count() >= lacking - 1:
                yield from self._grown(grown, worth, still, lacking - 1, floor, stopped)
