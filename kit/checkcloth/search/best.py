"""The exact best of a case by bounding: choices grown colour by colour, never past a failure.

A choice is grown in palette order. Beside it stands the set of colours that may still join
it, as bits: those that meet every condition with every colour in it. A choice that holds a
failing pair is therefore never formed, and one that cannot be filled is dropped at once.

The measure is a least over pairs, so a floor under it is one more pairwise condition. The
floor starts high, where few choices pass, and is let down until enough are found: all that
lie above the last floor are then known, and everything below it is ruled out, not skipped.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from checkcloth.arguments import Floats
from checkcloth.search.constraint import Need
from checkcloth.search.crossings import crossings_alike, least_crossings
from checkcloth.search.tables import Bools, CaseTables
from checkcloth.search.wanted import Wanted

__all__ = ["Best", "best_of_case", "passing_tables", "top_of"]

# Choices being grown at a time: the memory bound, some 20 MB.
_ROWS = 1 << 15
# Each time the floor is let down, so many more pairs pass it.
_STEP = 1.25

Members = NDArray[np.uint8]


class Best(NamedTuple):
    """Choices of a case and their measure, best first; ties in palette order.

    Attributes
    ----------
    values : ndarray, shape (n,)
    members : ndarray of uint8, shape (n, N)
        Places among the candidates, ascending.
    all_found : bool
        Nothing else in the case meets the conditions: the number is exact.

    Examples
    --------
    >>> Best(np.array([12.5]), np.array([[0, 2]]), True).values.tolist()
    [12.5]
    """

    values: Floats
    members: Members
    all_found: bool


def top_of(values: Floats, members: Members, most: int) -> tuple[Floats, Members]:
    """Return the ``most`` greatest, greatest first, ties by members in palette order.

    >>> top_of(np.array([1.0, 3.0, 2.0]), np.array([[0], [1], [2]]), 2)[0].tolist()
    [3.0, 2.0]
    """
    if len(values) > most:
        # Everything at the last value comes along, so that ties are settled by place.
        edge = np.partition(values, len(values) - most)[len(values) - most]
        keep = values >= edge
        values, members = values[keep], members[keep]
    # lexsort takes the last key first: the value, then the members from the first on
    keys = (*members.T[::-1].astype(np.float64), -values)
    order = np.lexsort(keys)[:most]
    return values[order], members[order]


def passing_tables(
    tables: CaseTables, wanted: Wanted, needs: tuple[Need, ...]
) -> tuple[Bools, Bools | None]:
    """Which pairs of candidates meet every condition, and which sets of 3 or 4 do not.

    The diagonal of the first holds what a colour does alone. The second is None where no
    condition compares crossings among themselves, or two stripes say it all.

    >>> from checkcloth import Palette
    >>> from checkcloth.search.tables import tables_of
    >>> coast = Palette("coast", ["white", "navy", "teal", "gold"])
    >>> wanted = Wanted(coast, 2, grounds=["white"], stripes_apart=20)
    >>> passing_tables(tables_of(wanted, 0), wanted, wanted.needs)[0].sum().item()
    16
    """
    count = len(wanted.candidates)
    passing = np.ones((count, count), dtype=bool)
    many: Bools | None = None
    for need in needs:
        if need.kind != "crossing_crossing":
            passing &= tables.meets(need)
            continue
        apart = least_crossings(tables.seen(need.vision), need.by)
        alike = crossings_alike(apart, need.at_least, wanted.stripes)
        if alike.ndim == 2:
            passing &= ~alike
        elif alike.ndim > 2:
            many = alike if many is None else many | alike
    return passing, many


def _packed(rows: Bools) -> NDArray[np.uint8]:
    return np.packbits(rows, axis=-1, bitorder="little")


class _Growth:
    """One run above one floor, over the places ``0 … m-1`` of the colours to choose from."""

    def __init__(
        self, table: Floats, passing: Bools, many: Bools | None, must: list[int], free: list[int]
    ) -> None:
        self.table = table
        self.many = many
        self.must = must
        self.free = np.array(free, dtype=np.uint8)
        joined = passing[np.ix_(free, free)] if free else np.zeros((0, 0), dtype=bool)
        alone = passing.diagonal()[free] if free else np.zeros(0, dtype=bool)
        if must:
            alone = alone & passing[np.ix_(must, free)].all(axis=0)
        # Only colours further on may join: every choice is formed once, in palette order.
        self.after = _packed(np.triu(joined & alone[None, :], 1))
        self.start = _packed(alone[None, :])
        self.width = len(free)

    def _allowed(self, members: Members, size: int) -> Bools:
        """Whether each choice holds no set with its newest colour that fails together."""
        assert self.many is not None
        arity = self.many.ndim
        ok = np.ones(len(members), dtype=bool)
        for older in combinations(range(size - 1), arity - 1):
            index = tuple(members[:, column] for column in (*older, size - 1))
            ok &= ~self.many[index]
        return ok

    def runs(self, choose: int, floor: list[float]) -> Iterator[tuple[Floats, Members]]:
        """Yield full choices above ``floor[0]``, which may be raised between two yields."""
        size = len(self.must)
        first = np.array([self.must], dtype=np.uint8)
        value = np.full(1, np.inf)
        for one, two in combinations(self.must, 2):
            value = np.minimum(value, self.table[one, two])
        if size == 1:
            value = np.minimum(value, self.table[self.must[0], self.must[0]])
        if size and self.many is not None:
            for upto in range(self.many.ndim, size + 1):
                if not self._allowed(first, upto)[0]:
                    return
        if choose == 0:
            yield value, first
            return
        stack = [(first, value, self.start, choose)]
        while stack:
            members, value, open_, left = stack.pop()
            keep = value >= floor[0]
            if not keep.all():
                members, value, open_ = members[keep], value[keep], open_[keep]
            room = np.bitwise_count(open_).sum(axis=1, dtype=np.int64)
            total = int(room.sum())
            if total > _ROWS and len(members) > 1:
                # Too many at a time: the first part first, so that palette order is kept.
                cut = max(1, int(np.searchsorted(np.cumsum(room), _ROWS)))
                cut = min(cut, len(members) - 1)
                stack.append((members[cut:], value[cut:], open_[cut:], left))
                stack.append((members[:cut], value[:cut], open_[:cut], left))
                continue
            bits = np.unpackbits(open_, axis=1, bitorder="little", count=self.width)
            row, column = np.nonzero(bits)
            added = self.free[column]
            wider = np.column_stack([members[row], added])
            new = value[row]
            if wider.shape[1] == 1:
                new = np.minimum(new, self.table[added, added])
            for older in range(wider.shape[1] - 1):
                new = np.minimum(new, self.table[wider[:, older], added])
            good = new >= floor[0]
            if self.many is not None and wider.shape[1] >= self.many.ndim:
                good &= self._allowed(wider, wider.shape[1])
            if left == 1:
                yield new[good], wider[good]
                continue
            next_open = open_[row[good]] & self.after[column[good]]
            enough = np.bitwise_count(next_open).sum(axis=1, dtype=np.int64) >= left - 1
            stack.append((wider[good][enough], new[good][enough], next_open[enough], left - 1))


def best_of_case(
    tables: CaseTables,
    wanted: Wanted,
    most: int,
    *,
    needs: tuple[Need, ...] | None = None,
    measure: Floats | None = None,
    floor: float = -np.inf,
) -> Best:
    """Return the exact best of a case among those that meet the conditions.

    Parameters
    ----------
    tables : CaseTables
    wanted : Wanted
    most : int
        How many.
    needs : tuple of Need, optional
        Instead of the brief's own.
    measure : ndarray, shape (C, C), optional
        Table to rank by instead of the brief's own.
    floor : float
        Nothing below it is of interest.

    Returns
    -------
    Best

    Examples
    --------
    >>> from checkcloth import Palette
    >>> from checkcloth.search.tables import tables_of
    >>> wanted = Wanted(Palette("coast", ["white", "navy", "teal", "gold"]), 2, grounds=["white"])
    >>> best_of_case(tables_of(wanted, 0), wanted, 1).values.round(1).tolist()
    [11.1]
    """
    case, size = tables.case, wanted.stripes
    empty = Best(np.zeros(0), np.zeros((0, size), dtype=np.uint8), True)
    if case.count == 0:
        return empty
    table = tables.measure if measure is None else measure
    passing, many = passing_tables(tables, wanted, wanted.needs if needs is None else needs)
    must, free = list(case.must), list(case.free)
    if must and not passing[np.ix_(must, must)].all():
        return empty
    for low in _floors(table, passing, must + free, size, floor):
        growth = _Growth(table, passing & (table >= low), many, must, free)
        values, members, full = _collect(growth, case.choose, low, most)
        if full or low <= floor or low == -np.inf:
            return Best(values, members, not full and floor == -np.inf)
    raise AssertionError("the last floor is the lowest")  # pragma: no cover


def _floors(
    table: Floats, passing: Bools, places: list[int], size: int, floor: float
) -> Iterator[float]:
    """Floors from high to low: each lets a quarter more of the pairs through than the last."""
    inside = np.ix_(places, places)
    where = passing[inside] & (np.triu(np.ones((len(places),) * 2, bool), 0 if size == 1 else 1))
    values = np.sort(table[inside][where])[::-1]
    pairs: float = max(1, size * (size - 1) // 2)
    while pairs < len(values):
        low = float(values[int(pairs)])
        if low <= floor:
            break
        yield low
        pairs *= _STEP
    yield floor


def _collect(growth: _Growth, choose: int, low: float, most: int) -> tuple[Floats, Members, bool]:
    """Take the best ``most`` of one run, raising its floor as they come in."""
    floor = [low]
    values: list[Floats] = []
    members: list[Members] = []
    waiting = 0
    full = False
    for value, member in growth.runs(choose, floor):
        # must colours come first in a row; every answer lists its places in order
        values.append(value)
        members.append(np.sort(member, axis=1))
        waiting += len(value)
        if waiting >= 2 * most + 4096:
            best = top_of(np.concatenate(values), np.concatenate(members), most)
            values, members, waiting = [best[0]], [best[1]], len(best[0])
        if waiting >= most:
            best = top_of(np.concatenate(values), np.concatenate(members), most)
            values, members, waiting = [best[0]], [best[1]], len(best[0])
            floor[0] = float(best[0][-1])
            full = True
    if not values:
        width = len(growth.must) + choose
        return np.zeros(0), np.zeros((0, width), dtype=np.uint8), False
    best = top_of(np.concatenate(values), np.concatenate(members), most)
    return best[0], best[1], full or len(best[0]) >= most
