"""The exact best in given bands, by bounding: see :mod:`checkcloth.search.best`.

As there a floor under the measure is one more condition. Beside each arrangement that is begun
stand, as bits, the colours that each stripe still to come may have.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from checkcloth.arguments import Floats
from checkcloth.search.bands.joint import JointTables, Steps
from checkcloth.search.bounds.floors import (
    Best,
    Stop,
    best_first,
    check_going,
    falling_floors,
    never,
    once_each,
    packed,
)
from checkcloth.search.tables import Bools
from checkcloth.search.wanted import Constraint, Term

# Arrangements being grown at a time: the memory bound.
_ROWS = 1 << 15
Members = NDArray[np.intp]


class _Begun(NamedTuple):
    """Arrangements of the first stripes: their measure, bits that fail, and who may follow.

    ``still`` (P, stripes to come, bytes); ``lacking`` (P,) colours that must be in.
    """

    members: Members
    values: Floats
    fails: NDArray[np.unsignedinteger]
    still: NDArray[np.uint8]
    lacking: NDArray[np.intp]

    def pick(self, rows: Bools | slice) -> _Begun:
        return _Begun._make(each[rows] for each in self)


class _Growth:
    """One run above one floor."""

    def __init__(self, tables: JointTables, steps: Steps, floor: float) -> None:
        self.steps, self.size, self.stripes = steps, tables.size, tables.stripes
        self.warps = tables.warps
        self.nodes = 0
        self.must = np.zeros(tables.size, dtype=bool)
        self.must[list(tables.setting.must)] = True
        alone = np.ones((self.stripes, self.size), dtype=bool)
        self.beside: dict[tuple[int, int], NDArray[np.uint8]] = {}
        for newest, row in enumerate(steps.newest):
            for older, measure, fails in row:
                if len(older) > 1:
                    continue
                good = np.ones((self.size,) * (len(older) + 1), dtype=bool)
                if measure is not None:
                    good &= measure >= floor
                if fails is not None:
                    good &= self._holds(fails)
                if older:
                    self.beside[older[0], newest] = packed(good)
                else:
                    alone[newest] &= good
        self.start = packed(alone)[None]

    def _holds(self, fails: NDArray[np.unsignedinteger]) -> Bools:
        barred = fails & self.steps.kind(self.steps.barred)
        return np.asarray((self.steps.failing(fails) == 0) & (barred == 0))

    def runs(self, floor: list[float], stopped: Stop) -> Iterator[tuple[Floats, Members]]:
        """Yield arrangements from ``floor[0]`` on, which may rise between two yields."""
        must = np.full(1, int(self.must.sum()))
        none = np.zeros((1, 0), dtype=np.intp)
        first = np.zeros(1, dtype=self.steps.kind)
        stack = [_Begun(none, np.full(1, np.inf), first, self.start, must)]
        while stack:
            check_going(stopped)
            begun = stack.pop()
            above = begun.values >= floor[0]
            if not above.all():
                begun = begun.pick(above)
            room = np.bitwise_count(begun.still[:, 0]).sum(axis=1, dtype=np.int64)
            if int(room.sum()) > _ROWS and len(begun.members) > 1:
                # Too many at a time: the first part first, so that palette order is kept.
                cut = max(1, int(np.searchsorted(np.cumsum(room), _ROWS)))
                cut = min(cut, len(begun.members) - 1)
                stack += [begun.pick(slice(cut, None)), begun.pick(slice(cut))]
                continue
            wider = self._widened(begun, floor[0])
            if wider.members.shape[1] == self.stripes:
                yield wider.values, wider.members
            elif len(wider.members):
                stack.append(wider)

    def _widened(self, begun: _Begun, floor: float) -> _Begun:
        """Every arrangement with each colour that may come next, but those below the floor."""
        depth = begun.members.shape[1]
        bits = np.unpackbits(begun.still[:, 0], axis=1, bitorder="little", count=self.size)
        # What must be in is in the warp.
        must_now = (begun.lacking == self.warps - depth) & (depth < self.warps)
        bits &= ~must_now[:, None] | self.must
        row, added = np.nonzero(bits)
        members = np.column_stack([begun.members[row], added])
        self.nodes += len(members)
        values, fails = begun.values[row], begun.fails[row]
        for older, measure, failing in self.steps.newest[depth]:
            index = tuple(members[:, stripe] for stripe in (*older, depth))
            if measure is not None:
                values = np.minimum(values, measure[index])
            if failing is not None:
                fails = fails | failing[index]
        good = (values >= floor) & self._holds(fails)
        row, added = row[good], added[good]
        still = begun.still[row, 1:]
        for later in range(depth + 1, self.stripes):
            still[:, later - depth - 1] &= self.beside[depth, later][added]
        lacking = begun.lacking[row] - (self.must[added] & (depth < self.warps))
        wider = _Begun(members[good], values[good], fails[good], still, lacking)
        if depth + 1 == self.stripes:
            return wider
        possible: Bools = np.all(np.any(still, axis=2), axis=1)
        return wider.pick(possible)


def best_in_bands(
    tables: JointTables,
    most: int,
    constraints: tuple[Constraint, ...],
    goal: tuple[Term, ...],
    *,
    one_order: bool = False,
    stopped: Stop = never,
) -> Best:
    """Return the exact best ``most`` arrangements of a setting that meet the conditions.

    With ``one_order`` each choice of colours comes once, in its best order; of equals that
    one whose colours come first.
    """
    if tables.setting.count == 0:
        return Best(np.zeros(0), np.zeros((0, tables.stripes), dtype=np.intp), True)
    rules = tables.rules
    if one_order:
        kinds = {*(term.kind for term in goal), *(one.kind for one in constraints)}
        rules = tables.exchangeable(kinds) or rules
    steps = tables.steps(constraints, goal, rules)
    nodes = 0
    for low in falling_floors(_ranked_values(tables, steps), max(1, len(steps.newest))):
        growth = _Growth(tables, steps, low)
        found = _collect(growth, low, most, one_order, stopped)
        nodes += growth.nodes
        full = len(found[0]) >= most
        if full or low == -np.inf:
            return Best(*found, not full, nodes)
    raise AssertionError("the last floor is the lowest")  # pragma: no cover


def _ranked_values(tables: JointTables, steps: Steps) -> Floats:
    """What single colours and pairs of them reach, greatest first."""
    known = {
        id(step.measure): step.measure[np.ix_(*[tables.fits] * step.measure.ndim)]
        for row in steps.newest
        for step in row
        if step.measure is not None and len(step.older) < 2
    }
    every = [np.zeros(0), *(values.ravel() for values in known.values())]
    return np.asarray(-np.sort(-np.concatenate(every)))


def _collect(
    growth: _Growth, low: float, most: int, one_order: bool, stopped: Stop
) -> tuple[Floats, Members]:
    floor = [low]
    values, members = [np.zeros(0)], [np.zeros((0, growth.stripes), dtype=np.intp)]
    waiting = 0

    def best() -> tuple[Floats, Members]:
        found = np.concatenate(values), np.concatenate(members)
        if not one_order:
            return best_first(*found, most)
        found = once_each(*best_first(*found, len(found[0])), growth.warps)
        return found[0][:most], found[1][:most]

    for value, member in growth.runs(floor, stopped):
        values.append(value)
        members.append(member)
        waiting += len(value)
        if waiting >= most:
            kept = best()
            values, members, waiting = [kept[0]], [kept[1]], 0
            if len(kept[0]) >= most:
                # What comes later in palette order must be better to be taken.
                least = kept[0][-1]
                floor[0] = float(np.nextafter(least, np.inf)) if least < np.inf else np.nan
    return best()
