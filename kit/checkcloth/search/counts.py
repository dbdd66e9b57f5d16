"""Counting: how many colourways met each condition, and how the measure is spread.

Every colourway of a setting is looked at, through :mod:`reducer`; where there are too many,
a seeded sample is drawn. A table holds one bit for each condition that a set of colours
fails; or-ed over a colourway it says which it fails. Values of the measure are replaced by
their rank among the table's distinct values (two bytes, same order, same ties), so nothing
is rounded.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import lru_cache
from itertools import combinations
from math import comb

import numpy as np
from numpy.typing import NDArray

from checkcloth.arguments import Floats
from checkcloth.search.bounds.floors import Members, Stop, best_first, check_going, never
from checkcloth.search.reducer import Reducer, Table
from checkcloth.search.tables import SettingTables, tables_of
from checkcloth.search.wanted import Wanted, measure_parts

# Choices held at once: two arrays of this many, two to eight bytes each. The memory bound.
_MOST_HELD = 1 << 22
# Elements counted at a time, so that the counter's own copies stay in a core's cache.
_PIECE = 1 << 15
# Up to so many conditions one count of every combination is the quickest.
_TOGETHER = 11
# The spread of the measure: bins of half a unit of difference, one of HyAB, 0.1 of a ratio and
# 1/32 of harmony.
BINS = 256
# Choices drawn at a time; keeps a sample's memory near 10 MB whatever the palette.
_DRAWN = 1 << 14


@dataclass
class Counts:
    """What was counted; counts of different colourways add up.

    For each condition, ``met`` counts the colourways that met it, whatever else they failed,
    and ``only`` those that failed it and no other: what dropping it alone would add.
    ``spread`` counts colourways by measure, in ``BINS`` bins; see :func:`bins_of`.
    """

    total: int = 0
    met_all: int = 0
    met: list[int] = field(default_factory=list)
    only: list[int] = field(default_factory=list)
    spread: list[int] = field(default_factory=list)

    @classmethod
    def zero(cls, conditions: int) -> Counts:
        """Return counts of nothing yet, under so many conditions."""
        return cls(met=[0] * conditions, only=[0] * conditions, spread=[0] * BINS)

    def add(self, other: Counts) -> None:
        """Take in what was counted elsewhere."""
        self.total += other.total
        self.met_all += other.met_all
        for name in ("met", "only", "spread"):
            own, more = getattr(self, name), getattr(other, name)
            setattr(self, name, [a + b for a, b in zip(own, more, strict=True)] if own else more)

    def add_fails(self, fails: Table) -> None:
        """Count colourways by the conditions that each fails, one bit for each condition."""
        bits = len(self.met)
        self.total += len(fails)
        together = np.zeros(1 << bits if bits <= _TOGETHER else 0, dtype=np.int64)
        for start in range(0, len(fails), _PIECE):
            piece = fails[start : start + _PIECE]
            if len(together):
                together += np.bincount(piece, minlength=len(together))
                continue
            self.met_all += len(piece) - int(np.count_nonzero(piece))
            for bit in range(bits):
                flag = fails.dtype.type(1 << bit)
                self.met[bit] += len(piece) - int(np.count_nonzero(piece & flag))
                self.only[bit] += int(np.count_nonzero(piece == flag))
        if len(together):
            self.met_all += int(together[0])
            numbers = np.arange(len(together))
            for bit in range(bits):
                self.met[bit] += int(together[numbers & (1 << bit) == 0].sum())
                self.only[bit] += int(together[1 << bit])


def bins_of(values: Floats, measure: str) -> NDArray[np.intp]:
    """Return the bin of each value: half units of a difference, tenths of a ratio.

    Of HyAB whole units; of harmony 32nds from -4 on.

    >>> bins_of(np.array([0.4, 0.6, 7.0]), "least_edge").tolist()
    [0, 1, 14]
    """
    by = measure_parts(measure)[1]
    width, first = {"ratio": (10, 0), "hyab": (1, 0), "harmony": (32, -4)}.get(by, (2, 0))
    scaled = np.floor((np.where(np.isfinite(values), values, 0) - first) * width)
    return np.asarray(np.clip(scaled, 0, BINS - 1), dtype=np.intp)


def fail_tables(tables: SettingTables, wanted: Wanted) -> list[Table]:
    """Return tables over all candidates with bit q set where condition q is failed.

    One over single colours or pairs; a second, over up to four colours, where crossings
    are compared among themselves.
    """
    constraints = wanted.constraints
    bits = len(constraints)
    kind = np.min_scalar_type((1 << bits) - 1).type
    count = len(wanted.candidates)
    pair = np.zeros((count, count), dtype=kind)
    many: Table | None = None
    for bit, constraint in enumerate(constraints):
        flag = kind(1 << bit)
        if constraint.kind != "crossing_crossing":
            pair |= np.where(tables.meets(constraint), kind(0), flag)
            continue
        failed = np.where(tables.alike(constraint), flag, kind(0))
        many = failed if many is None else many | failed
    # One stripe has no pair: what it fails alone stands on the diagonal.
    out: list[Table] = [pair.diagonal().copy() if wanted.stripes == 1 else pair]
    return out if many is None else [*out, many]


def ranked(table: Floats) -> tuple[Floats, Table]:
    """Distinct values in order, and the table as ranks in the smallest type that holds them."""
    values, ranks = np.unique(table, return_inverse=True)
    return values, ranks.reshape(table.shape).astype(np.min_scalar_type(len(values)))


def measure_table(tables: SettingTables, wanted: Wanted) -> Floats:
    """Return the table whose least entry is the measure: over pairs, or over single stripes."""
    return tables.measure.diagonal().copy() if wanted.stripes == 1 else tables.measure


def sub_table(table: Table, colours: list[int]) -> Table:
    """Return the table of some of the colours alone."""
    return np.ascontiguousarray(table[np.ix_(*[colours] * table.ndim)])


def held_size(free: int, choose: int) -> int:
    """How many of the colours to choose are reduced in one piece: as many as can be held."""
    if choose == 0:
        return 0
    # The greatest chosen colour is always given from outside, so pieces are independent.
    size = choose - 1
    while size > 1 and comb(free - (choose - size), size) > _MOST_HELD:
        size -= 1
    return size


def _below(greatest: int, depth: int) -> list[tuple[int, ...]]:
    """Every choice of ``depth`` colours that has ``greatest`` as its greatest."""
    if depth == 1:
        return [(greatest,)]
    return [
        (greatest, *smaller) for second in range(greatest) for smaller in _below(second, depth - 1)
    ]


class _Reducers:
    """The tables of a setting, ready to be reduced over its choices."""

    def __init__(self, wanted: Wanted, number: int) -> None:
        tables = tables_of(wanted, number)
        self.setting = setting = tables.setting
        colours = [*setting.free, *setting.must]
        self.must = tuple(range(len(setting.free), len(colours)))
        self.size = held_size(len(setting.free), setting.choose)
        self.values, ranks = ranked(sub_table(measure_table(tables, wanted), colours))
        self.measure = Reducer(np.minimum, [ranks], self.size)
        self.fails: Reducer | None = None
        if wanted.constraints:
            fails = [sub_table(table, colours) for table in fail_tables(tables, wanted)]
            self.fails = Reducer(np.bitwise_or, fails, self.size)


# One at a time: what is reduced beforehand takes up to 40 MB.
_reducers_of = lru_cache(maxsize=1)(_Reducers)


def count_setting(
    wanted: Wanted, number: int, low: int, high: int, above: tuple[int, ...] = (),
    stopped: Stop = never,
) -> Counts:  # fmt: skip
    """Count the colourways of a setting whose greatest free colours are ``above``, then one more.

    That next greatest is number low … high-1 of the free ones. Where nothing is to choose (all
    stripes are colours that must be in) the whole setting is one colourway, counted when
    ``low`` is 0.
    """
    setting = wanted.setting(number)
    choose = setting.choose
    counts = Counts.zero(len(wanted.constraints))
    if setting.count == 0 or (choose == 0 and low > 0):
        return counts
    ready = _reducers_of(wanted, number)
    size = ready.size
    by_rank = np.zeros(len(ready.values), dtype=np.int64)
    depth = choose - size - len(above)
    heads = (
        (*above, *head) for c in range(low, high) for head in _below(c, depth)
    ) if choose else iter([()])  # fmt: skip
    for head in heads:
        check_going(stopped)
        below = head[-1] if head else 0
        if comb(below, size) == 0:
            continue
        measured = ready.measure.reduce((*head, *ready.must), below)
        for start in range(0, len(measured), _PIECE):
            piece = measured[start : start + _PIECE]
            by_rank += np.bincount(piece, minlength=len(by_rank))
        if ready.fails is not None:
            counts.add_fails(ready.fails.reduce((*head, *ready.must), below))
        else:
            counts.total += len(measured)
            counts.met_all += len(measured)
    spread = np.bincount(bins_of(ready.values, wanted.measure), by_rank, BINS)
    counts.spread = spread.astype(np.int64).tolist()
    return counts


def _draw(rng: np.random.Generator, tables: SettingTables, count: int) -> Members:
    """Draw choices, each equally likely, independently of one another."""
    setting = tables.setting
    free = np.array(setting.free, dtype=np.uint16)
    # the first few of a random order of all free colours are a fair choice of them
    order = rng.random((count, len(free))).argsort(axis=1)[:, : setting.choose]
    must = np.broadcast_to(np.array(setting.must, dtype=np.uint16), (count, len(setting.must)))
    return np.sort(np.concatenate([must, free[order]], axis=1), axis=1)


def _reduce_drawn(ufunc: np.ufunc, table: Table, members: Members, out: Table) -> Table:
    """Reduce a table over the sets of colours within each choice drawn, onto ``out``."""
    for columns in combinations(range(members.shape[1]), table.ndim):
        ufunc(out, table[tuple(members[:, column] for column in columns)], out=out)
    return out


def sample_setting(
    tables: SettingTables,
    wanted: Wanted,
    draws: int,
    seed: tuple[int, ...],
    most: int,
    stopped: Stop = never,
) -> tuple[Counts, Floats, Members]:
    """Draw colourways of a setting and count them; return also the best ``most`` that pass.

    Draws are independent: the same colourway can come twice, and is returned once. The seed
    is of this part of the sample alone, so that parts can run anywhere in any order.
    """
    bits = len(wanted.constraints)
    counts = Counts.zero(bits)
    values = np.zeros(0)
    members = np.zeros((0, wanted.stripes), dtype=np.uint16)
    rng = np.random.default_rng(np.random.SeedSequence(seed))
    fails = fail_tables(tables, wanted) if bits else []
    measure = measure_table(tables, wanted)
    for start in range(0, draws, _DRAWN):
        check_going(stopped)
        drawn = _draw(rng, tables, min(_DRAWN, draws - start))
        measured = _reduce_drawn(np.minimum, measure, drawn, np.full(len(drawn), np.inf))
        failed = np.zeros(len(drawn), dtype=fails[0].dtype if bits else np.uint8)
        for table in fails:
            _reduce_drawn(np.bitwise_or, table, drawn, failed)
        counts.add_fails(failed)
        bins = np.bincount(bins_of(measured, wanted.measure), minlength=BINS)
        counts.spread = [a + int(b) for a, b in zip(counts.spread, bins, strict=True)]
        good = failed == 0
        both = np.concatenate([members, drawn[good]])
        distinct, first = np.unique(both, axis=0, return_index=True)
        values = np.concatenate([values, measured[good]])[first]
        values, members = best_first(values, distinct, most)
    return counts, values, members
