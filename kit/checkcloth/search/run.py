"""The search itself: blocks through a crew, progress, stop and keep, one answer."""

from __future__ import annotations

import sys
import time
from collections.abc import Callable, Iterator
from concurrent.futures import Executor
from contextlib import contextmanager
from os import PathLike
from threading import Event
from typing import Any

from checkcloth.arguments import as_path, as_whole
from checkcloth.errors import ArgumentError
from checkcloth.search.blocks import Done, Found, Job, blocks_of
from checkcloth.search.checkpoint import Kept
from checkcloth.search.counts import Tally
from checkcloth.search.estimate import estimate
from checkcloth.search.executors import Crew, check_executor
from checkcloth.search.result import SearchResult
from checkcloth.search.setting import one_of
from checkcloth.search.wanted import Wanted

__all__ = ["HOW", "search"]

HOW = ("every", "best", "sample")
_Progress = Callable[[int, int], object]
# The pool that a shortlist is chosen from is shared out among the cases, each at least so many.
_FEWEST = 8


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
    progress: bool | _Progress = False,
    stop: Event | None = None,
    keep: str | PathLike[str] | None = None,
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
    Memory stays under 250 MB a process whatever the count: choices are folded in pieces
    of at most 4 million (``BODY``), and grown 32,768 at a time.

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
            raise ArgumentError("how", f"given for a search of this size: {expected}")
    one_of(how, HOW, "how")
    each = max(k, _FEWEST, -(-pool // wanted.case_count))
    job = Job(wanted, how, each, *((seed, draws) if how == "sample" else (0, 0)))
    crew = Crew(check_executor(executor), workers)
    blocks = blocks_of(job)
    total = sum(block.count for block in blocks)
    started = time.perf_counter()
    stopped = False
    with Kept(None if keep is None else as_path(keep, "keep"), job) as kept:
        known = {block.number for block in blocks}
        kept.done = {n: done for n, done in kept.done.items() if n in known}
        todo = [block for block in blocks if block.number not in kept.done]
        counts = {block.number: block.count for block in blocks}
        before = total - sum(block.count for block in todo)
        with _bar(progress, total, before) as step:
            try:
                for done in crew.run(job, todo, stop.is_set if stop else lambda: False):
                    kept.add(done)
                    step(counts[done.number])
            except KeyboardInterrupt:
                stopped = True
        finished = [kept.done[number] for number in sorted(kept.done)]
        note = kept.note
    settled = sum(counts[done.number] for done in finished)
    stopped |= len(finished) + len(crew.lost) < len(blocks)
    tally, found, all_found = _gather(finished, each)
    return SearchResult(
        wanted=wanted,
        how=how,
        k=k,
        total=wanted.count,
        settled=settled,
        planned=total,
        tally=tally,
        found=tuple(found),
        all_found=all_found and settled == total,
        stopped=stopped,
        lost=len(crew.lost),
        seconds=time.perf_counter() - started,
        seed=seed,
        note=note,
    )


def _gather(finished: list[Done], each: int) -> tuple[Tally | None, list[Found], bool]:
    """Put blocks together in the order of their numbers, whoever finished first."""
    tally: Tally | None = None
    by_case: dict[int, list[Found]] = {}
    all_found = True
    for done in finished:
        if done.tally is not None:
            tally = tally or Tally()
            tally.add(done.tally)
        for one in done.found:
            by_case.setdefault(one[1], []).append(one)
        all_found &= done.all_found
    found = [
        one
        for case in sorted(by_case)
        for one in sorted(set(by_case[case]), key=lambda f: (-f[0], f[2]))[:each]
    ]
    found.sort(key=lambda f: (-f[0], f[1], f[2]))
    return tally, found, all_found


@contextmanager
def _bar(progress: bool | _Progress, total: int, before: int) -> Iterator[Callable[[int], Any]]:
    """Yield a function to call with each number of colourways that is settled."""
    if progress is False or progress is None:
        yield lambda count: None
        return
    if progress is not True:
        done = before

        def step(count: int) -> None:
            nonlocal done
            done += count
            progress(done, total)

        yield step
        return
    from tqdm import tqdm

    # Plain text also in a notebook: it can be read there after the kernel is gone.
    interactive = sys.modules.get("IPython")
    notebook = interactive is not None and hasattr(interactive.get_ipython(), "kernel")
    with tqdm(
        total=total,
        initial=before,
        unit=" colourways",
        unit_scale=True,
        desc="search",
        file=sys.stdout if notebook else sys.stderr,
    ) as bar:
        yield bar.update
