"""Every arrangement in given bands: counted, cut into parts, or drawn by lot.

Arrangements grow stripe by stripe. The colour of the last one is not tried singly: each table
gives a whole row of values, one for each colour it could be.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from itertools import combinations
from math import factorial, prod
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from checkcloth.arguments import Floats
from checkcloth.search.bands.joint import JointTables, Table, first_moved, joint_tables
from checkcloth.search.bounds.floors import Stop, best_first, check_going, never, once_each
from checkcloth.search.counts import BINS, Counts, bins_of
from checkcloth.search.wanted import Wanted

# Values worked at a time, so that they stay in a core's cache.
_PIECE = 1 << 17
_DRAWN = 1 << 14
Members = NDArray[np.intp]


class _Begun(NamedTuple):
    """Arrangements of the first stripes, and how many colours that must be in they still lack."""

    members: Members
    values: Table
    fails: Table
    lacking: NDArray[np.intp]

    def pick(self, rows: slice) -> _Begun:
        return _Begun._make(each[rows] for each in self)


class Walk:
    """All arrangements of one setting; what is ranked by is held as ranks, so nothing is rounded.

    ``values`` are what the ranks stand for, the last infinite.
    """

    def __init__(self, tables: JointTables) -> None:
        self.tables, self.wanted = tables, tables.wanted
        self.fits = np.array(tables.fits, dtype=np.intp)
        steps = tables.steps(self.wanted.constraints, self.wanted.goal, tables.rules)
        measures = {id(step.measure): step.measure for row in steps.newest for step in row
                    if step.measure is not None}  # fmt: skip
        self.values = np.unique(
            np.concatenate([*(table.ravel() for table in measures.values()), [np.inf]])
        )
        kind = np.uint16 if len(self.values) < 1 << 16 else np.uint32
        ranks = {key: np.searchsorted(self.values, table).astype(kind)
                 for key, table in measures.items()}  # fmt: skip
        self.steps = steps._replace(
            newest=tuple(
                tuple(step._replace(measure=ranks.get(id(step.measure))) for step in row)
                for row in steps.newest
            )
        )
        self.rank_type = kind

    def count(
        self, low: int, high: int, above: tuple[int, ...] = (), stopped: Stop = never
    ) -> Counts:
        """Count arrangements that begin with ``above`` and then a colour of low … high-1.

        Colours are numbers among those that fit.
        """
        wanted, steps = self.wanted, self.steps
        counts = Counts.zero(len(wanted.constraints))
        by_rank = np.zeros(len(self.values), dtype=np.int64)
        barred = steps.kind(steps.barred)
        last = wanted.slots - 1
        for begun, columns in self._begun(low, high, above, stopped):
            values, fails = self._rows(begun, last)
            good = self._open(begun, fails & barred == 0, columns, last)
            by_rank += np.bincount(values[good], minlength=len(by_rank))
            failed = steps.failing(fails[good])
            if steps.conditions:
                counts.add_fails(failed)
            else:
                counts.total += len(failed)
                counts.met_all += len(failed)
        spread = np.bincount(bins_of(self.values, wanted.measure), by_rank, BINS)
        counts.spread = spread.astype(np.int64).tolist()
        return counts

    def _begun(
        self, low: int, high: int, above: tuple[int, ...], stopped: Stop
    ) -> Iterator[tuple[_Begun, NDArray[np.bool_]]]:
        """Yield arrangements that lack only their last stripe, and the colours it may have."""
        last = self.wanted.slots - 1
        start = np.full(1, len(self.values) - 1, dtype=self.rank_type)
        none = np.zeros((1, 0), dtype=np.intp)
        must = np.full(1, len(self.tables.setting.must))
        stack = [_Begun(none, start, np.zeros(1, dtype=self.steps.kind), must)]
        at_once = max(1, _PIECE // self.tables.size)
        while stack:
            check_going(stopped)
            begun = stack.pop()
            if len(begun.members) > at_once:
                stack += [begun.pick(slice(at_once, None)), begun.pick(slice(at_once))]
                continue
            depth = begun.members.shape[1]
            columns = np.zeros(self.tables.size, dtype=bool)
            part = slice(low, high) if depth == len(above) else slice(None)
            columns[self.fits[[above[depth]] if depth < len(above) else part]] = True
            if depth == last:
                yield begun, columns
                continue
            stack.append(self._widened(begun, columns, depth))

    def _widened(self, begun: _Begun, columns: NDArray[np.bool_], depth: int) -> _Begun:
        values, fails = self._rows(begun, depth)
        barred = self.steps.kind(self.steps.barred)
        good = self._open(begun, fails & barred == 0, columns, depth)
        row, column = np.nonzero(good)
        members = np.column_stack([begun.members[row], column])
        lacking = begun.lacking[row]
        if depth < self.tables.warps:
            lacking = lacking - np.isin(column, self.tables.setting.must)
        return _Begun(members, values[good], fails[good], lacking)

    def _open(
        self, begun: _Begun, free: NDArray[np.bool_], columns: NDArray[np.bool_], depth: int
    ) -> NDArray[np.bool_]:
        """Which colours the next stripe may have: those that must be in, in the warp, in time."""
        good = np.asarray(free & columns)
        if self.tables.setting.must and depth < self.tables.warps:
            only = begun.lacking == self.tables.warps - depth
            must = np.zeros(self.tables.size, dtype=bool)
            must[list(self.tables.setting.must)] = True
            good &= ~only[:, None] | must
        return good

    def _rows(self, begun: _Begun, depth: int) -> tuple[Table, Table]:
        """Values and fails with each colour that the next stripe could have, (P, C) each."""
        shape = len(begun.members), self.tables.size
        values = np.array(np.broadcast_to(begun.values[:, None], shape))
        fails = np.array(np.broadcast_to(begun.fails[:, None], shape))
        for older, measure, failing in self.steps.newest[depth]:
            index = tuple(begun.members[:, stripe] for stripe in older)
            if measure is not None:
                np.minimum(values, measure[index], out=values)
            if failing is not None:
                np.bitwise_or(fails, failing[index], out=fails)
        return values, fails

    # -- by lot ------------------------------------------------------------------------------

    def sample(
        self, draws: int, seed: tuple[int, ...], most: int, one_order: bool = False,
        stopped: Stop = never,
    ) -> tuple[Counts, Floats, Members]:  # fmt: skip
        """Draw arrangements and count them; see :func:`counts.sample_setting`."""
        wanted, steps = self.wanted, self.steps
        counts = Counts.zero(len(wanted.constraints))
        rng = np.random.default_rng(np.random.SeedSequence(seed))
        values, members = np.zeros(0), np.zeros((0, wanted.slots), dtype=np.intp)
        for start in range(0, draws, _DRAWN):
            check_going(stopped)
            drawn = self._draw(rng, min(_DRAWN, draws - start))
            ranks = np.full(len(drawn), len(self.values) - 1, dtype=self.rank_type)
            fails = np.zeros(len(drawn), dtype=steps.kind)
            for stripe, row in enumerate(steps.newest):
                for older, measure, failing in row:
                    index = tuple(drawn[:, each] for each in (*older, stripe))
                    if measure is not None:
                        np.minimum(ranks, measure[index], out=ranks)
                    if failing is not None:
                        fails |= failing[index]
            failed = steps.failing(fails)
            counts.add_fails(failed)
            measured = self.values[ranks]
            bins = np.bincount(bins_of(measured, wanted.measure), minlength=BINS)
            counts.spread = [a + int(b) for a, b in zip(counts.spread, bins, strict=True)]
            good = failed == 0
            both = np.concatenate([members, drawn[good]])
            distinct, first = np.unique(both, axis=0, return_index=True)
            values = np.concatenate([values, measured[good]])[first]
            values, members = best_first(values, distinct, len(values) if one_order else most)
            if one_order:
                values, members = once_each(values, members, wanted.stripes)
                values, members = values[:most], members[:most]
        return counts, values, members

    def _draw(self, rng: np.random.Generator, count: int) -> Members:
        """Draw arrangements, each cloth equally likely, and write each as the least alike."""
        setting = self.tables.setting
        placed = self.tables.placed
        free = np.array(setting.free, dtype=np.intp)
        some = free[rng.random((count, len(free))).argsort(axis=1)[:, : setting.choose]]
        held = [colour for colour in setting.must if colour not in placed.values()]
        must = np.broadcast_to(np.array(held, dtype=np.intp), (count, len(held)))
        drawn = np.empty((count, self.wanted.slots), dtype=np.intp)
        drawn[:, [*placed]] = [*placed.values()]
        open_ = [stripe for stripe in range(self.wanted.stripes) if stripe not in placed]
        drawn[:, open_] = rng.permuted(np.concatenate([must, some], axis=1), axis=1)
        warps = self.wanted.stripes
        if self.wanted.weft_stripes:
            drawn[:, warps:] = self._draw_wefts(rng, drawn[:, :warps])
        if not self.wanted.order_counts:
            for way in (drawn[:, :warps], drawn[:, warps:]):
                way.sort(axis=1)
            return drawn
        firsts = ((move, first_moved(move)) for move in self.tables.moves)
        moves = [(move, first) for move, first in firsts if first is not None]
        changed = True
        while changed:  # each exchange makes some rows less, so it ends
            changed = False
            for move, first in moves:
                greater = drawn[:, first] > drawn[:, move[first]]
                if greater.any():
                    drawn[greater] = drawn[greater][:, list(move)]
                    changed = True
        return drawn

    def _draw_wefts(self, rng: np.random.Generator, warp: Members) -> Members:
        """Draw the weft's own colours: of those that the warp has not, where there are enough."""
        keys = rng.random((len(warp), len(self.fits)))
        if self.tables.setting.weft_apart:
            keys += (warp[:, :, None] == self.fits).any(axis=1)  # behind all others
        return np.asarray(self.fits[keys.argsort(axis=1)[:, : self.wanted.weft_stripes]])


@lru_cache(maxsize=2)
def walk_of(wanted: Wanted, number: int) -> Walk:
    """Return the walk of a setting by its number; blocks of one setting find it ready."""
    return Walk(joint_tables(wanted, number))


def count_beginning(tables: JointTables, colours: tuple[int, ...]) -> int:
    """Return how many arrangements begin with these colours (candidates): exact.

    Of the rules, those of the stripes that are given say how late a colour the others must
    have; all others come from exchanges that leave these stripes alone, and leave one of
    as many arrangements as there are such exchanges.
    """
    given, warps = len(colours), tables.warps
    warp, weft = colours[:warps], colours[warps:]
    total = _ways(tables, range(warps), warp, set(tables.fits))
    if tables.stripes > warps and total:
        # Before the warp is whole it does not matter which colours it takes, but how many.
        taken = {*warp} if tables.setting.weft_apart else set()
        total *= _ways(
            tables, range(warps, tables.stripes), weft, set(tables.fits) - taken,
            (warps - len(warp)) * tables.setting.weft_apart,
        )  # fmt: skip
    if tables.wanted.order_counts:
        return total // sum(move[:given] == tuple(range(given)) for move in tables.moves)
    left = warps - len(warp), tables.stripes - warps - len(weft)
    return total // prod(map(factorial, left))


def _ways(
    tables: JointTables, slots: range, colours: tuple[int, ...], fits: set[int], gone: int = 0
) -> int:
    """In how many ways the stripes of one way that begin with these colours can be filled.

    Colours that must be in are counted by leaving sets of them out in turn. Of ``fits`` so many
    as ``gone`` have been taken, whichever they are.
    """
    given, first = len(colours), slots.start
    earliest = dict.fromkeys(slots, -1)
    for one, two in tables.rules:
        if one in earliest and one - first < given:
            earliest[two] = max(earliest[two], colours[one - first])
    placed = tables.placed if first == 0 else {}
    if len({*colours} & fits) < given or any(
        colour <= earliest[stripe]
        or placed.get(stripe, colour) != colour
        or (stripe not in placed and colour in placed.values())
        for stripe, colour in zip(slots, colours, strict=False)
    ):
        return 0
    open_ = slots[given:]
    limits = sorted((earliest[slot] for slot in open_ if slot not in placed), reverse=True)
    left = sorted(fits - {*colours} - {*placed.values()})
    must = [colour for colour in tables.setting.must if colour in left] if first == 0 else []
    total = 0
    for size in range(len(must) + 1):
        for out in combinations(must, size):
            free = [colour for colour in left if colour not in out]
            ways = prod(
                max(0, sum(colour > limit for colour in free) - gone - taken)
                for taken, limit in enumerate(limits)
            )
            total += (-1) ** size * ways
    return total
