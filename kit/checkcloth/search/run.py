"""The search itself: what it will cost, its blocks run, progress, stop and resume, one answer."""

from __future__ import annotations

import os
import time
from collections.abc import Iterable
from concurrent.futures import Executor
from contextlib import closing
from dataclasses import dataclass
from itertools import groupby
from math import inf, isinf
from operator import itemgetter
from os import PathLike
from threading import Event

import numpy as np

from checkcloth.arguments import as_path, as_whole, require_one_of
from checkcloth.cores.in_order import check_executor
from checkcloth.errors import ArgumentError
from checkcloth.files.progress import Progress, progress_of
from checkcloth.search.bands.walk import walk_of
from checkcloth.search.blocks import Done, Hit, Job, Part, Queue, parts_of
from checkcloth.search.checkpoint import Checkpoint
from checkcloth.search.counts import Counts, fail_tables, held_size, sub_table
from checkcloth.search.executors import BlockRunner
from checkcloth.search.reducer import Reducer, Table
from checkcloth.search.result import SearchResult
from checkcloth.search.tables import SettingTables
from checkcloth.search.wanted import MOST_IN_TABLE, Setting, Wanted

# Seconds after which looking at every colourway is called hopeless unless it is asked for.
LONGEST = 900.0
HOW = ("every", "best", "sample")
# The pool that a shortlist is chosen from is shared out among the settings, each at least so many.
_FEWEST = 8


@dataclass(frozen=True)
class Estimate:
    """What looking at every colourway would take.

    Attributes
    ----------
    colourways : int
        Exact: a sum of binomials, the order of stripes not counted.
    settings : int
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
    settings: int
    seconds: float

    @property
    def hopeless(self) -> bool:
        """Whether it would take more than ``LONGEST`` seconds."""
        return self.seconds > LONGEST

    def __str__(self) -> str:
        text = (
            f"{self.colourways:,} colourways; looking at every one takes about "
            f"{duration_words(self.seconds)}"
        )
        if self.hopeless:
            text += (
                "; how='best' finds the exact best by bounding, usually in seconds; "
                "how='sample' draws some and counts by estimate"
            )
        return text


def duration_words(seconds: float) -> str:
    """Return a time in words.

    >>> duration_words(0.2), duration_words(75), duration_words(7300), duration_words(3e9)
    ('1 s', '75 s', '2 h', '95 years')
    """
    if isinf(seconds):
        return "longer than anybody waits"
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
    if wanted.only_bounded:
        return Estimate(wanted.count, wanted.setting_count, inf)
    settings = [wanted.setting(number) for number in {0, wanted.setting_count - 1}]
    setting = max(settings, key=lambda setting: setting.count)
    started = time.perf_counter()
    fails: list[Table] = []
    if wanted.bands is not None:
        if setting.count:
            walk_of(wanted, setting.number)
    else:
        tables = SettingTables(wanted, setting)
        tables.measure.sum()
        fails = fail_tables(tables, wanted) if wanted.constraints else []
    per_setting = time.perf_counter() - started

    rate = _rate_in_bands(wanted, setting) if wanted.bands else _rate_even(setting, fails)
    count = wanted.count
    seconds = (wanted.setting_count * per_setting * 1.5 + count / rate) / workers
    return Estimate(count, wanted.setting_count, seconds)


def _rate_even(setting: Setting, fails: list[Table]) -> float:
    """Colourways a second, of one piece of up to 30 colours and 6 stripes.

    The rate is about the same in any piece.
    """
    colours = list(setting.free[:30])
    choose = min(setting.choose, 6)
    if choose < 2 or len(colours) <= choose:
        return 2e8
    size = held_size(len(colours), choose)
    ranks = np.zeros((len(colours), len(colours)), dtype=np.uint16)
    reducers = [Reducer(np.minimum, [ranks], size)]
    if fails:
        parts = [sub_table(table, colours) for table in fails]
        reducers.append(Reducer(np.bitwise_or, parts, size))
    return max(_rate(reducers, len(colours) - 1) for _ in range(3))


def _rate_in_bands(wanted: Wanted, setting: Setting) -> float:
    """Arrangements a second, of some that begin alike."""
    walk = walk_of(wanted, setting.number)
    fits = walk.tables.fits
    begin = (*range(wanted.stripes), *range(wanted.weft_stripes))
    above = begin[: max(0, wanted.slots - 3)]
    started = time.perf_counter()
    counted = walk.count(0, len(fits), above).total
    return max(counted, 1000) / (time.perf_counter() - started)


def _rate(reducers: list[Reducer], greatest: int) -> float:
    """Colourways a second, reduced and counted."""
    started = time.perf_counter()
    for reducer in reducers:
        values = reducer.reduce((greatest,), greatest)
        for start in range(0, len(values), 1 << 15):
            np.bincount(values[start : start + (1 << 15)], minlength=64)
    return len(values) / (time.perf_counter() - started)


def search(
    wanted: Wanted,
    k: int = 100,
    *,
    how: str | None = None,
    pool: int = 2000,
    seed: int = 1,
    draws: int = 1_000_000,
    executor: Executor | str | None = None,
    workers: int | None = None,
    progress: bool | Progress = False,
    stop: Event | None = None,
    keep: str | PathLike[str] | None = None,
    one_order: bool = False,
) -> SearchResult:
    """Search every colourway that a palette holds for the best that meet a brief.

    Parameters
    ----------
    wanted : Wanted
        The brief.
    k : int
        How many of the best to bring back, 1 to 10,000.
    how : str, optional
        ``"every"``: all are looked at and counted, and the best k are exact.
        ``"best"``: the best k are exact, found by bounding; counts are not made, however
        many colourways there are. ``"sample"``: so many drawn at random, counts are
        estimates and the best are the best of the draw. Left out: every, unless that
        would take over 15 minutes, which is refused with the count and the time.
    pool : int
        How many good ones a shortlist can be chosen from; shared out among grounds,
        strengths and mixings, each at least 8.
    seed, draws : int
        Of the sample. Same seed, same answer.
    executor : concurrent.futures.Executor or "processes", optional
        Who runs the blocks; left out, this process. The answer is the same. For Dask
        give ``Client.get_executor()``. In a script, ``"processes"`` needs the usual
        ``if __name__ == "__main__":`` guard.
    workers : int, optional
        How many work at a time; left out, as many as there are cores.
    progress : bool or callable
        A progress bar with an estimate, or ``progress(done, total)`` in colourways.
    stop : threading.Event, optional
        Set it from elsewhere to stop. What was found is kept, as it is after Ctrl-C or
        an interrupt of the kernel.
    keep : path, optional
        A file for finished blocks: the same search started again goes on from there.
    one_order : bool
        In bands that are not even, bring back every choice of colours once, in its best order.
        Counts are of all orders all the same.

    Returns
    -------
    SearchResult

    Raises
    ------
    ArgumentError
        For arguments out of range, and for a search that would take too long.
    FileFormatError
        If ``keep`` names a file of something else.

    Notes
    -----
    Memory stays under 250 MB a process whatever the count: choices are reduced in pieces
    of at most 4 million, and grown 32,768 at a time.

    Examples
    --------
    >>> from checkcloth.cloth.palette import Palette
    >>> coast = Palette("coast", ["white", "navy", "teal", "gold", "coral"])
    >>> result = search(Wanted(coast, 2, grounds=["white"], crossings_apart=11),
    ...                 k=3)
    >>> print(result)
    6 colourways, 1 meet every condition; best least edge ΔE00 11.1
    """
    k = as_whole(k, "k", 1, 10_000)
    pool = as_whole(pool, "pool", 0, 100_000)
    seed = as_whole(seed, "seed", 0, 2**63)
    draws = as_whole(draws, "draws", 1, 1_000_000_000)
    workers = None if workers is None else as_whole(workers, "workers", 1, 1024)
    if how is None:
        how = "every"
        expected = estimate(wanted)
        if expected.hopeless:
            raise ArgumentError("how", "given for a search of this size", words=str(expected))
    require_one_of(how, "how", HOW)
    if wanted.only_bounded and how != "best":
        allowed = f"'best' where crossings_unlike is asked of over {MOST_IN_TABLE} stripe colours"
        raise ArgumentError("how", allowed, how)
    each = max(k, _FEWEST, -(-pool // wanted.setting_count))
    drawn = (seed, draws) if how == "sample" else (0, 0)
    job = Job(wanted, how, each, *drawn, one_order and wanted.order_counts)
    check_executor(executor)
    parts = parts_of(job)
    total = sum(part.count for part in parts)
    runner = BlockRunner(executor, workers)
    started = time.perf_counter()
    stopped = False
    path = None if keep is None else as_path(keep, "keep")
    with closing(Checkpoint(path, job)) as checkpoint:
        checkpoint.keep_whole(len(parts))
        todo = Queue(job, parts, checkpoint.done.values())
        settled = _settled(checkpoint.done.values(), parts)
        with progress_of(progress, total, "colourways", "search", settled) as step:
            try:
                for done in runner.run(job, todo, stop.is_set if stop else lambda: False):
                    checkpoint.add(done)
                    step(_settled([done], parts))
            except KeyboardInterrupt:
                stopped = True
        finished = [checkpoint.done[number] for number in sorted(checkpoint.done)]
    settled = _settled(finished, parts)
    ran = sum(done.parts for done in finished) + sum(len(block.parts) for block in runner.lost)
    counts, found, all_found = _gather(job, finished)
    return SearchResult(
        wanted=wanted,
        how=how,
        k=k,
        total=wanted.count,
        settled=settled,
        planned=total,
        counts=counts,
        found=tuple(found),
        all_found=all_found and settled == total,
        stopped=stopped or ran < len(parts),
        lost=len(runner.lost),
        seconds=time.perf_counter() - started,
        seed=seed,
        note=checkpoint.note,
        one_order=job.one_order,
        ran=_why_alone(job, parts, finished, workers) if runner.alone else "",
        nodes=sum(done.nodes for done in finished),
    )


def _settled(finished: Iterable[Done], parts: list[Part]) -> int:
    """How many colourways some blocks looked at, ruled out or drew."""
    return sum(
        part.count for done in finished for part in parts[done.number : done.number + done.parts]
    )


def _why_alone(job: Job, parts: list[Part], finished: list[Done], workers: int | None) -> str:
    """Why no process was started though some were asked for."""
    many = min(workers or os.cpu_count() or 1, len(parts))
    if many <= 1:
        return "one process was chosen: there is one part or one worker"
    took = duration_words(sum(done.seconds for done in finished))
    return (
        f"one process was chosen: the work took it about {took}, and starting {many} would have "
        "taken longer than they save"
    )


def _gather(job: Job, finished: list[Done]) -> tuple[Counts | None, list[Hit], bool]:
    """Put blocks together in the order of their numbers, whoever finished first.

    The best come first; ties in the order of settings and of the palette. A setting's draws
    lie in several parts, which may hold the same colourway: the best ``job.most`` are taken.
    """
    counts: Counts | None = None
    found: list[Hit] = []
    for done in finished:
        if done.counts is not None:
            counts = counts or Counts()
            counts.add(done.counts)
        found += done.hits
    if job.how == "sample":
        drawn = sorted(set(found), key=itemgetter(1, 2))
        found = []
        for _, hits in groupby(drawn, key=itemgetter(1)):
            best = sorted(hits, key=itemgetter(0), reverse=True)
            if job.one_order:
                once: dict[tuple[tuple[int, ...], ...], Hit] = {}
                for hit in best:
                    once.setdefault(hit.choice(job.wanted), hit)
                best = [*once.values()]
            found += best[: job.most]
    found.sort(key=itemgetter(0), reverse=True)  # stable: ties stay as they were
    return counts, found, all(done.all_found for done in finished)
