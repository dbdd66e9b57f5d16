"""Counting: how many of all colourways met each condition, and how the measure is spread.

Every colourway of a case is looked at, through :mod:`fold`. A table holds one bit for each
condition that a set of colours fails; or-ed over a colourway it says which it fails.
Values of the measure are replaced by their rank among the table's distinct values (two
bytes, same order, same ties), so nothing is rounded.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from math import comb
from typing import Any

import numpy as np
from numpy.typing import NDArray

from checkcloth.arguments import Floats
from checkcloth.search.crossings import crossings_alike, least_crossings
from checkcloth.search.reducer import Folder, Table, spread
from checkcloth.search.tables import CaseTables
from checkcloth.search.wanted import Wanted

__all__ = ["BINS", "BODY", "Tally", "bins_of", "each_value", "fail_tables", "tally_case"]

# Choices held at once: two arrays of this many, two to eight bytes each. The memory bound.
BODY = 1 << 22
# Elements counted at a time, so that the counter's own copies stay in a core's cache.
_PIECE = 1 << 15
# Up to so many conditions one count of every combination is the quickest.
_TOGETHER = 11
# The spread of the measure: bins of half a unit of difference, or of 0.1 of a ratio.
BINS = 256


@dataclass
class Tally:
    """What was counted; two tallies of different colourways add up.

    Attributes
    ----------
    total : int
    met_all : int
        Colourways that met every condition.
    met : list of int
        That met each condition, whatever else they failed.
    only : list of int
        That failed this condition and no other: what dropping it alone would add.
    spread : list of int
        Colourways by measure, in ``BINS`` bins; see :func:`bins_of`.

    Examples
    --------
    >>> tally = Tally(10, 4, [6], [6], [10])
    >>> tally.add(Tally(5, 1, [2], [3], [5]))
    >>> tally.total, tally.met
    (15, [8])
    """

    total: int = 0
    met_all: int = 0
    met: list[int] = field(default_factory=list)
    only: list[int] = field(default_factory=list)
    spread: list[int] = field(default_factory=list)

    def add(self, other: Tally) -> None:
        """Take in what another tally counted."""
        self.total += other.total
        self.met_all += other.met_all
        for name in ("met", "only", "spread"):
            one, two = getattr(self, name), getattr(other, name)
            setattr(self, name, [a + b for a, b in zip(one, two, strict=True)] if one else two)


def bins_of(values: Floats, measure: str) -> NDArray[np.intp]:
    """Return the bin of each value: half units of a difference, tenths of a ratio.

    >>> bins_of(np.array([0.4, 0.6, 7.0]), "least_edge").tolist()
    [0, 1, 14]
    """
    width = 10 if measure.endswith("_ratio") else 2
    scaled = np.floor(np.where(np.isfinite(values), values, 0) * width)
    return np.asarray(np.clip(scaled, 0, BINS - 1), dtype=np.intp)


def fail_tables(tables: CaseTables, wanted: Wanted) -> list[Table]:
    """Return tables over all candidates with bit q set where condition q is failed.

    One over single colours or pairs; a second, over up to four colours, where crossings
    are compared among themselves.

    >>> from checkcloth import Palette
    >>> from checkcloth.search.tables import tables_of
    >>> coast = Palette("coast", ["white", "navy", "teal"])
    >>> wanted = Wanted(coast, 1, grounds=["white"], ground_apart=30)
    >>> [table.tolist() for table in fail_tables(tables_of(wanted, 0), wanted)]
    [[1, 0, 1]]
    """
    needs = wanted.needs
    bits = len(needs)
    kind: Any = next(k for k in (np.uint8, np.uint16, np.uint32, np.uint64)
                     if bits <= 8 * np.dtype(k).itemsize)  # fmt: skip
    count = len(wanted.candidates)
    pair = np.zeros((count, count), dtype=kind)
    many: Table | None = None
    for bit, need in enumerate(needs):
        flag = kind(1 << bit)
        if need.kind != "crossing_crossing":
            pair |= np.where(tables.meets(need), kind(0), flag)
            continue
        apart = least_crossings(tables.seen(need.vision), need.by)
        failed = np.where(crossings_alike(apart, need.at_least, wanted.stripes), flag, kind(0))
        many = failed if many is None else many | failed
    # One stripe has no pair: what it fails alone stands on the diagonal.
    out: list[Table] = [pair.diagonal().copy() if wanted.stripes == 1 else pair]
    return out if many is None else [*out, many]


def _ranked(table: Floats) -> tuple[Floats, Table]:
    """Distinct values in order, and the table as ranks in the smallest type that holds them."""
    values, ranks = np.unique(table, return_inverse=True)
    kind = np.uint8 if len(values) <= 256 else np.uint16 if len(values) <= 65536 else np.uint32
    return values, ranks.reshape(table.shape).astype(kind)


def _measure_table(tables: CaseTables, wanted: Wanted) -> Floats:
    return tables.measure.diagonal().copy() if wanted.stripes == 1 else tables.measure


def _sub(table: Table, places: list[int]) -> Table:
    return np.ascontiguousarray(table[np.ix_(*[places] * table.ndim)])


def body_size(free: int, choose: int) -> int:
    """How many of the colours to choose are folded in one piece: as many as ``BODY`` holds."""
    if choose == 0:
        return 0
    # The greatest chosen colour is always given from outside, so pieces are independent.
    size = choose - 1
    while size > 1 and comb(free - (choose - size), size) > BODY:
        size -= 1
    return size


def tops_of(top: int, depth: int) -> list[tuple[int, ...]]:
    """Every choice of ``depth`` colours that has ``top`` as its greatest."""
    if depth == 1:
        return [(top,)]
    return [(top, *rest) for second in range(top) for rest in tops_of(second, depth - 1)]


def each_value(tables: CaseTables, wanted: Wanted) -> Floats:
    """Return the measure of every colourway of a case, in colex order of the free colours.

    For palettes that fit memory: eight bytes a colourway.

    >>> from checkcloth import Palette
    >>> from checkcloth.search.tables import tables_of
    >>> wanted = Wanted(Palette("coast", ["white", "navy", "teal"]), 1, grounds=["white"])
    >>> each_value(tables_of(wanted, 0), wanted).round(1).tolist()
    [22.8, 11.1]
    """
    case = tables.case
    if case.must:
        raise ValueError("each_value is for cases without colours that must be in")
    values, ranks = _ranked(_measure_table(tables, wanted))
    folded = spread(np.minimum, _sub(ranks, list(case.free)), case.choose)
    assert folded is not None
    return values[folded]


def _count_fails(fails: Table, bits: int, tally: Tally) -> None:
    if bits <= _TOGETHER:
        counts = np.zeros(1 << bits, dtype=np.int64)
        for start in range(0, len(fails), _PIECE):
            counts += np.bincount(fails[start : start + _PIECE], minlength=1 << bits)
        tally.met_all += int(counts[0])
        numbers = np.arange(1 << bits)
        for bit in range(bits):
            tally.met[bit] += int(counts[numbers & (1 << bit) == 0].sum())
            tally.only[bit] += int(counts[1 << bit])
        return
    kind = fails.dtype.type
    for start in range(0, len(fails), _PIECE):
        piece = fails[start : start + _PIECE]
        tally.met_all += len(piece) - int(np.count_nonzero(piece))
        for bit in range(bits):
            flag = kind(1 << bit)
            tally.met[bit] += len(piece) - int(np.count_nonzero(piece & flag))
            tally.only[bit] += int(np.count_nonzero(piece == flag))


def tally_case(tables: CaseTables, wanted: Wanted, low: int, high: int) -> Tally:
    """Count the colourways of a case whose greatest free colour is number ``low`` … ``high``-1.

    Where nothing is to choose (all stripes are colours that must be in) the whole case is
    one colourway, counted when ``low`` is 0.

    >>> from checkcloth import Palette
    >>> from checkcloth.search.tables import tables_of
    >>> coast = Palette("coast", ["white", "navy", "teal"])
    >>> wanted = Wanted(coast, 1, grounds=["white"], ground_apart=20)
    >>> tally_case(tables_of(wanted, 0), wanted, 0, 2).met
    [2]
    """
    case, needs = tables.case, wanted.needs
    bits = len(needs)
    tally = Tally(met=[0] * bits, only=[0] * bits, spread=[0] * BINS)
    if case.count == 0 or (case.choose == 0 and low > 0):
        return tally
    places = [*case.free, *case.must]
    must = tuple(range(len(case.free), len(places)))
    size = body_size(len(case.free), case.choose)
    values, ranks = _ranked(_sub(_measure_table(tables, wanted), places))
    folders = [Folder(np.minimum, [ranks], size)]
    if bits:
        fails = [_sub(table, places) for table in fail_tables(tables, wanted)]
        folders.append(Folder(np.bitwise_or, fails, size))
    by_rank = np.zeros(len(values), dtype=np.int64)
    given = (
        [(*top, *must) for c in range(low, high) for top in tops_of(c, case.choose - size)]
        if case.choose
        else [must]
    )
    for fixed in given:
        below = fixed[case.choose - size - 1] if case.choose else 0
        if comb(below, size) == 0:
            continue
        measured = folders[0].with_(fixed, below)
        for start in range(0, len(measured), _PIECE):
            piece = measured[start : start + _PIECE]
            by_rank += np.bincount(piece, minlength=len(values))
        tally.total += len(measured)
        if bits:
            _count_fails(folders[1].with_(fixed, below), bits, tally)
        else:
            tally.met_all += len(measured)
    spread_out = np.zeros(BINS, dtype=np.int64)
    np.add.at(spread_out, bins_of(values, wanted.measure), by_rank)
    tally.spread = spread_out.tolist()
    return tally
