"""What a search will cost, said before it starts: the count, the time, the memory, the way."""

from __future__ import annotations

import time
from dataclasses import dataclass

import numpy as np

from checkcloth.search.counts import body_size, fail_tables
from checkcloth.search.reducer import Folder
from checkcloth.search.tables import CaseTables
from checkcloth.search.wanted import Wanted

__all__ = ["LONGEST", "Estimate", "estimate"]

# Seconds after which looking at every colourway is called hopeless unless it is asked for.
LONGEST = 900.0


@dataclass(frozen=True)
class Estimate:
    """What looking at every colourway would take.

    Attributes
    ----------
    colourways : int
        Exact: a sum of binomials, the order of stripes not counted.
    cases : int
        Grounds × strengths × mixings.
    seconds : float
        Measured on this machine on a small piece of this very search, and scaled: right
        within a factor of two or so.

    Examples
    --------
    >>> print(Estimate(134_596, 1, 0.02))
    134,596 colourways; looking at every one takes about 1 s
    """

    colourways: int
    cases: int
    seconds: float

    @property
    def hopeless(self) -> bool:
        """Whether it would take more than ``LONGEST`` seconds."""
        return self.seconds > LONGEST

    def __str__(self) -> str:
        text = (
            f"{self.colourways:,} colourways; looking at every one takes about "
            f"{words_for(self.seconds)}"
        )
        if self.hopeless:
            text += (
                "; how='best' finds the exact best by bounding, usually in seconds; "
                "how='sample' draws some and counts by estimate"
            )
        return text


def words_for(seconds: float) -> str:
    """Return a time in words.

    >>> words_for(0.2), words_for(75), words_for(7300), words_for(3e9)
    ('1 s', '75 s', '2 h', '95 years')
    """
    for size, unit in ((365.25 * 86400, "years"), (86400, "days"), (3600, "h"), (60, "min")):
        if seconds >= 2 * size:
            return f"{seconds / size:.0f} {unit}"
    return f"{max(1, round(seconds))} s"


def estimate(wanted: Wanted, workers: int = 1) -> Estimate:
    """Say what looking at every colourway would take, from a piece that is timed now.

    Parameters
    ----------
    wanted : Wanted
    workers : int
        Processes that would share the work.

    Returns
    -------
    Estimate

    Examples
    --------
    >>> from checkcloth.cloth.palette import Palette
    >>> estimate(Wanted(Palette("coast", ["white", "navy", "teal", "gold"]), 2)).colourways
    12
    """
    cases = [wanted.case(number) for number in {0, wanted.case_count - 1}]
    case = max(cases, key=lambda one: one.count)
    started = time.perf_counter()
    tables = CaseTables(wanted, case)
    tables.measure.sum()
    fails = fail_tables(tables, wanted) if wanted.needs else []
    per_case = time.perf_counter() - started

    # One piece of up to 30 colours and 6 stripes: the rate is about the same in any piece.
    places = list(case.free[:30])
    choose = min(case.choose, 6)
    rate = 2e8
    if choose >= 2 and len(places) > choose:
        size = body_size(len(places), choose)
        ranks = np.zeros((len(places), len(places)), dtype=np.uint16)
        folders = [Folder(np.minimum, [ranks], size)]
        if fails:
            parts = [np.ascontiguousarray(f[np.ix_(*[places] * f.ndim)]) for f in fails]
            folders.append(Folder(np.bitwise_or, parts, size))
        top = len(places) - 1
        times = []
        for _ in range(3):
            started = time.perf_counter()
            for folder in folders:
                got = folder.with_((top,), top)
                for start in range(0, len(got), 1 << 15):
                    np.bincount(got[start : start + (1 << 15)], minlength=64)
            times.append(time.perf_counter() - started)
        rate = len(got) / min(times)
    count = wanted.count
    seconds = (wanted.case_count * per_case * 1.5 + count / rate) / workers
    return Estimate(count, wanted.case_count, seconds)
