"""A seeded sample of a case: for counts that are too great to look at, and named as a sample."""

from __future__ import annotations

from itertools import combinations

import numpy as np

from checkcloth.arguments import Floats
from checkcloth.search.best import Members, top_of
from checkcloth.search.counts import BINS, Tally, bins_of, fail_tables
from checkcloth.search.reducer import Table
from checkcloth.search.tables import CaseTables
from checkcloth.search.wanted import Wanted

__all__ = ["sample_case"]

# Drawn at a time; keeps memory near 10 MB whatever the palette.
_PIECE = 1 << 14


def _draw(rng: np.random.Generator, tables: CaseTables, count: int) -> Members:
    """Draw choices, each equally likely, independently of one another."""
    case = tables.case
    free = np.array(case.free, dtype=np.uint8)
    # the first places of a random order of all free colours are a fair choice of them
    order = rng.random((count, len(free))).argsort(axis=1)[:, : case.choose]
    must = np.broadcast_to(np.array(case.must, dtype=np.uint8), (count, len(case.must)))
    return np.sort(np.concatenate([must, free[order]], axis=1), axis=1)


def _measured(table: Floats, members: Members) -> Floats:
    size = members.shape[1]
    if size == 1:
        return table[members[:, 0], members[:, 0]]
    out = np.full(len(members), np.inf)
    for one, two in combinations(range(size), 2):
        out = np.minimum(out, table[members[:, one], members[:, two]])
    return out


def _failed(tables: list[Table], members: Members) -> Table:
    out = np.zeros(len(members), dtype=tables[0].dtype)
    for table in tables:
        for columns in combinations(range(members.shape[1]), table.ndim):
            out |= table[tuple(members[:, column] for column in columns)]
    return out


def sample_case(
    tables: CaseTables, wanted: Wanted, draws: int, seed: tuple[int, ...], most: int
) -> tuple[Tally, Floats, Members]:
    """Draw colourways of a case and count them; return also the best ``most`` that pass.

    Parameters
    ----------
    tables, wanted :
    draws : int
        Independent draws; the same colourway can come twice, and is returned once.
    seed : tuple of int
        Of this part of the sample alone, so that parts can run anywhere in any order.
    most : int

    Returns
    -------
    tally, values, members

    Examples
    --------
    >>> from checkcloth import Palette
    >>> from checkcloth.search.tables import tables_of
    >>> wanted = Wanted(Palette("coast", ["white", "navy", "teal", "gold"]), 2, grounds=["white"])
    >>> sample_case(tables_of(wanted, 0), wanted, 50, (1, 0, 0), 3)[0].total
    50
    """
    bits = len(wanted.needs)
    tally = Tally(met=[0] * bits, only=[0] * bits, spread=[0] * BINS)
    values = np.zeros(0)
    members = np.zeros((0, wanted.stripes), dtype=np.uint8)
    rng = np.random.default_rng(np.random.SeedSequence(seed))
    fails = fail_tables(tables, wanted) if bits else []
    for start in range(0, draws, _PIECE):
        drawn = _draw(rng, tables, min(_PIECE, draws - start))
        measured = _measured(tables.measure, drawn)
        failed = _failed(fails, drawn) if bits else np.zeros(len(drawn), dtype=np.uint8)
        tally.total += len(drawn)
        tally.met_all += int(np.count_nonzero(failed == 0))
        for bit in range(bits):
            flag = failed.dtype.type(1 << bit)
            tally.met[bit] += int(np.count_nonzero(failed & flag == 0))
            tally.only[bit] += int(np.count_nonzero(failed == flag))
        bins = np.bincount(bins_of(measured, wanted.measure), minlength=BINS)
        tally.spread = [one + int(two) for one, two in zip(tally.spread, bins, strict=True)]
        good = failed == 0
        everyone, first = np.unique(
            np.concatenate([members, drawn[good]]), axis=0, return_index=True
        )
        values = np.concatenate([values, measured[good]])[first]
        values, members = top_of(values, everyone, most)
    return tally, values, members
