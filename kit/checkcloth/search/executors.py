"""Running blocks: here, in processes of our own, or through anyone's executor.

At most twice as many blocks as there are workers are handed out at a time, so a stop takes
effect at once and memory does not grow with the number of blocks. A worker that dies costs
the blocks it held: they are run again, up to three times, then named as lost.

Processes of our own are started only once they are sure to be done sooner than this one alone:
until then blocks are run here, and say how long the others will take.
"""

from __future__ import annotations

import os
import warnings
from collections.abc import Generator, Iterator
from concurrent.futures import FIRST_COMPLETED, BrokenExecutor, Executor, Future, wait

from checkcloth.cores.in_order import new_pool
from checkcloth.search.blocks import Block, Done, Job, Queue, run_block
from checkcloth.search.bounds.floors import SearchStoppedError, Stop, never

_TRIES = 3
# Seconds that it takes to start processes and let them load what they need.
_START = 2.5


def _starts(pool: Executor) -> bool:
    """Whether a worker gets as far as doing nothing: not in a script without a main guard."""
    try:
        pool.submit(int).result()
    except BrokenExecutor:
        return False
    return True


class BlockRunner:
    """Runs the blocks of one search, wherever its executor is."""

    def __init__(self, executor: Executor | str | None, workers: int | None = None) -> None:
        self.executor = executor
        self.workers = workers or os.cpu_count() or 1
        self.lost: list[Block] = []  # those that killed every worker that took them
        self.alone = executor == "processes"  # none was started, where some were asked for
        self._tries: dict[int, int] = {}

    def run(self, job: Job, todo: Queue, stopped: Stop) -> Iterator[Done]:
        """Yield blocks as they get done, in any order, until all are or ``stopped()``."""
        if self.executor is None:
            yield from self._here(job, todo, stopped)
        elif self.executor == "processes":
            yield from self._in_own_pools(job, todo, stopped)
        else:
            assert not isinstance(self.executor, str)
            broken = yield from self._through(self.executor, job, todo, stopped)
            if broken:
                yield from self._here(job, todo, stopped, "the executor broke")

    def _here(
        self, job: Job, todo: Queue, stopped: Stop, why: str = "", enough: Stop = never
    ) -> Iterator[Done]:
        if why:
            warnings.warn(
                f"{why}; the rest of the search runs in this process", RuntimeWarning, stacklevel=2
            )
        try:
            while todo and not stopped() and not enough():
                block = todo.take()
                done = run_block(job, block, stopped)
                todo.measured(block, done)
                yield done
        except SearchStoppedError:
            return

    def _pay_off(self, todo: Queue) -> bool:
        """Whether processes, started now, would be done with what is left before this one."""
        many = max(1, min(self.workers, len(todo)))
        return todo.seconds_left * (1 - 1 / many) > _START

    def _in_own_pools(self, job: Job, todo: Queue, stopped: Stop) -> Iterator[Done]:
        """A pool that a dying worker breaks is replaced, and the blocks it held run again."""
        yield from self._here(job, todo, stopped, enough=lambda: self._pay_off(todo))
        while todo and not stopped():
            # Of several blocks in a broken pool any may be to blame. They are run again one
            # at a time, so that one bad block cannot use up the tries of the others.
            suspect = todo.put_aside()
            mine = todo if suspect is None else suspect
            pool = new_pool(min(self.workers, len(mine)))
            self.alone = False
            whole = False
            try:
                if not _starts(pool):
                    if suspect is not None:
                        todo.put_back(suspect.take())
                    yield from self._here(job, todo, stopped, "no worker process could start")
                    return
                whole = not (yield from self._through(pool, job, mine, stopped))
            finally:
                # After a stop nobody waits for the block that is still being worked.
                pool.shutdown(wait=whole and not stopped(), cancel_futures=True)
            if suspect is not None and suspect:
                todo.put_back(suspect.take())

    def _through(
        self, pool: Executor, job: Job, todo: Queue, stopped: Stop
    ) -> Generator[Done, None, bool]:
        """Hand blocks out; the returned value says whether the pool broke."""
        pending: dict[Future[Done], Block] = {}
        broken = False
        try:
            while (todo or pending) and not broken:
                if not stopped():
                    broken = self._submit(pool, job, todo, pending)
                if stopped() or not pending:
                    break
                ready, _ = wait(pending, timeout=0.2, return_when=FIRST_COMPLETED)
                for future in ready:
                    block = pending.pop(future)
                    try:
                        done = self._result(future, block)
                    except BrokenExecutor:
                        broken = True
                        self._try_again(block, todo)
                    else:
                        if done is not None:
                            todo.measured(block, done)
                            yield done
        finally:
            for future, block in pending.items():
                future.cancel()
                if broken:
                    self._try_again(block, todo)
        return broken

    def _submit(
        self, pool: Executor, job: Job, todo: Queue, pending: dict[Future[Done], Block]
    ) -> bool:
        """Hand out as many blocks as may wait at a time; whether the pool broke."""
        while todo and len(pending) < 2 * self.workers:
            block = todo.take()
            try:
                pending[pool.submit(run_block, job, block)] = block
            except BrokenExecutor:
                todo.put_back(block)
                return True
        return False

    def _result(self, future: Future[Done], block: Block) -> Done | None:
        """What came of a block; None where it is lost."""
        try:
            return future.result()
        except BrokenExecutor:
            raise
        except Exception as error:
            # Dask's word for a block that killed every worker it was given to; it has tried
            # often enough itself.
            if type(error).__name__ != "KilledWorker":
                raise
            self.lost.append(block)
            return None

    def _try_again(self, block: Block, todo: Queue) -> None:
        self._tries[block.number] = self._tries.get(block.number, 0) + 1
        if self._tries[block.number] < _TRIES:
            todo.put_back(block)
        else:
            self.lost.append(block)
