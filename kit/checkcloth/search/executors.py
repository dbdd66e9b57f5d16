"""Running blocks: here, in processes of our own, or through anyone's executor.

At most twice as many blocks as there are workers are handed out at a time, so a stop takes
effect at once and memory does not grow with the number of blocks. A worker that dies costs
the blocks it held: they are run again, up to three times, then named as lost.
"""

from __future__ import annotations

import os
import signal
import warnings
from collections.abc import Callable, Generator, Iterable, Iterator
from concurrent.futures import (
    FIRST_COMPLETED,
    BrokenExecutor,
    Executor,
    Future,
    ProcessPoolExecutor,
    wait,
)
from multiprocessing import get_context

from checkcloth.errors import ArgumentError
from checkcloth.search.blocks import Block, Done, Job, run_block

__all__ = ["Crew", "check_executor"]

_TRIES = 3
_Stop = Callable[[], bool]


def check_executor(executor: Executor | str | None) -> Executor | str | None:
    """Return the executor if it is one, or say what is allowed.

    >>> check_executor("processes")
    'processes'
    >>> check_executor("ten")  # doctest: +ELLIPSIS
    Traceback (most recent call last):
        ...
    checkcloth.errors.ArgumentError: executor must be None, ...Executor, found 'ten'
    """
    if executor is None or executor == "processes" or hasattr(executor, "submit"):
        return executor
    raise ArgumentError("executor", "None, 'processes' or a concurrent.futures.Executor", executor)


def _deaf() -> None:
    """Leave Ctrl-C to the parent, which then stops its workers in an orderly way."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)


def _new_pool(workers: int) -> ProcessPoolExecutor:
    # Fork would copy the locks of a notebook kernel's threads; a fresh start is safe.
    return ProcessPoolExecutor(workers, mp_context=get_context("spawn"), initializer=_deaf)


def _starts(pool: Executor) -> bool:
    """Whether a worker gets as far as doing nothing: not in a script without a main guard."""
    try:
        pool.submit(int).result()
    except BrokenExecutor:
        return False
    return True


class Crew:
    """Whoever runs the blocks of one search.

    Attributes
    ----------
    lost : list of int
        Blocks that killed every worker that took them.
    """

    def __init__(self, executor: Executor | str | None, workers: int | None = None) -> None:
        self.executor = executor
        self.workers = workers or os.cpu_count() or 1
        self.lost: list[int] = []

    def run(self, job: Job, blocks: Iterable[Block], stopped: _Stop) -> Iterator[Done]:
        """Yield blocks as they get done, in any order, until all are or ``stopped()``."""
        todo = list(blocks)[::-1]
        if self.executor is None:
            yield from self._here(job, todo, stopped, "")
            return
        if self.executor == "processes":
            yield from self._in_own_pools(job, todo, stopped)
            return
        assert not isinstance(self.executor, str)
        tries: dict[int, int] = {}
        broken = yield from self._through(self.executor, job, todo, stopped, tries)
        if broken:
            yield from self._here(job, todo, stopped, "the executor broke")

    def _in_own_pools(self, job: Job, todo: list[Block], stopped: _Stop) -> Iterator[Done]:
        """A pool that a dying worker breaks is replaced, and the blocks it held run again."""
        tries: dict[int, int] = {}
        while todo and not stopped():
            # Of several blocks in a broken pool any may be to blame. They are run again one
            # at a time, so that one bad block cannot use up the tries of the others.
            suspect = next((block for block in todo if tries.get(block.number)), None)
            if suspect is not None:
                todo.remove(suspect)
            mine = todo if suspect is None else [suspect]
            pool = _new_pool(min(self.workers, len(mine)))
            whole = False
            try:
                if not _starts(pool):
                    if suspect is not None:
                        todo.append(suspect)
                    yield from self._here(job, todo, stopped, "no worker process could start")
                    return
                whole = not (yield from self._through(pool, job, mine, stopped, tries))
            finally:
                # After a stop nobody waits for the block that is still being worked.
                pool.shutdown(wait=whole and not stopped(), cancel_futures=True)
            if suspect is not None:
                todo += mine

    def _here(self, job: Job, todo: list[Block], stopped: _Stop, why: str) -> Iterator[Done]:
        if why:
            warnings.warn(
                f"{why}; the rest of the search runs in this process", RuntimeWarning, stacklevel=2
            )
        while todo and not stopped():
            yield run_block(job, todo.pop())

    def _through(
        self,
        pool: Executor,
        job: Job,
        todo: list[Block],
        stopped: _Stop,
        tries: dict[int, int],
    ) -> Generator[Done, None, bool]:
        """Hand blocks out; the returned value says whether the pool broke."""
        most = 2 * self.workers
        flying: dict[Future[Done], Block] = {}
        broken = False
        try:
            while (todo or flying) and not broken:
                while todo and len(flying) < most and not stopped():
                    try:
                        flying[pool.submit(run_block, job, todo[-1])] = todo[-1]
                    except BrokenExecutor:
                        broken = True
                        break
                    todo.pop()
                if stopped() or not flying:
                    break
                ready, _ = wait(flying, timeout=0.2, return_when=FIRST_COMPLETED)
                for future in ready:
                    block = flying.pop(future)
                    try:
                        done = future.result()
                    except BrokenExecutor:
                        broken = True
                        self._again(block, todo, tries)
                    except Exception as error:
                        # Dask's word for a block that killed every worker it was given to;
                        # it has tried often enough itself.
                        if type(error).__name__ != "KilledWorker":
                            raise
                        self.lost.append(block.number)
                    else:
                        yield done
        finally:
            for future, block in flying.items():
                future.cancel()
                if broken:
                    self._again(block, todo, tries)
        return broken

    def _again(self, block: Block, todo: list[Block], tries: dict[int, int]) -> None:
        tries[block.number] = tries.get(block.number, 0) + 1
        if tries[block.number] < _TRIES:
            todo.append(block)
        else:
            self.lost.append(block.number)
