"""Parts of a long piece of work done here, or in processes, and given back in their order.

Two parts a worker are under way at a time, so that memory does not grow with how many there are
and a stop takes effect at once. A pool that breaks, or cannot start, costs no part: what is left
is done in this process, and that is said.
"""

from __future__ import annotations

import os
import signal
import sys
import threading
import warnings
from collections import deque
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import BrokenExecutor, Executor, Future, ProcessPoolExecutor
from itertools import chain, islice
from multiprocessing import get_context, parent_process
from typing import TypeVar

from checkcloth.arguments import as_whole
from checkcloth.cores.blocks import keep_to_one_core
from checkcloth.errors import ArgumentError

_Part = TypeVar("_Part")
_Result = TypeVar("_Result")

_MOST_WORKERS = 256
# concurrent.futures takes no more there (its documentation of ProcessPoolExecutor).
_MOST_ON_WINDOWS = 61


def check_executor(executor: Executor | str | None) -> None:
    """Say what is allowed where it is no executor."""
    if not (executor is None or executor == "processes" or hasattr(executor, "submit")):
        raise ArgumentError(
            "executor", "None, 'processes' or a concurrent.futures.Executor", executor
        )


def check_workers(executor: Executor | str | None, workers: int | None) -> int:
    """Return how many workers there are, or say what is wrong with either."""
    check_executor(executor)
    return (
        (os.cpu_count() or 1) if workers is None else as_whole(workers, "workers", 1, _MOST_WORKERS)
    )


def in_order(
    work: Callable[[_Part], _Result],
    parts: Iterable[_Part],
    executor: Executor | str | None = None,
    workers: int | None = None,
) -> Iterator[_Result]:
    """Yield ``work(part)`` of each part, in order; parts are read as workers become free.

    Done here (None), in processes of our own ("processes", as many as there are cores unless
    ``workers`` says how many; ``work`` can be pickled then), or wherever somebody's executor has it
    done.

    >>> list(in_order(abs, [-1, 2, -3]))
    [1, 2, 3]
    """
    count = check_workers(executor, workers)
    if executor is None:
        yield from map(work, parts)
    elif isinstance(executor, str):
        pool = new_pool(count)
        try:
            yield from _through(pool, work, parts, count)
        finally:
            pool.shutdown(wait=True, cancel_futures=True)
    else:
        yield from _through(executor, work, parts, count)


def new_pool(workers: int) -> ProcessPoolExecutor:
    """Return a pool of processes of our own; see :func:`begin_worker`."""
    if sys.platform == "win32":
        workers = min(workers, _MOST_ON_WINDOWS)
    # Fork would copy the locks of a notebook kernel's threads; a fresh start is safe.
    return ProcessPoolExecutor(workers, mp_context=get_context("spawn"), initializer=begin_worker)


def begin_worker() -> None:
    """Leave Ctrl-C to the parent, one core to each worker, and nobody behind a killed parent."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    keep_to_one_core()
    parent = parent_process()
    if parent is not None:

        def follow() -> None:
            parent.join()
            os._exit(1)

        threading.Thread(target=follow, daemon=True).start()


def _through(
    pool: Executor, work: Callable[[_Part], _Result], parts: Iterable[_Part], workers: int
) -> Iterator[_Result]:
    stream = iter(parts)
    pending: deque[tuple[_Part, Future[_Result] | None]] = deque()
    try:
        while True:
            for part in islice(stream, 2 * workers - len(pending)):
                pending.append((part, _submitted(pool, work, part)))
            if not pending:
                return
            part, future = pending.popleft()
            if future is None:  # the pool broke
                break
            try:
                result = future.result()
            except BrokenExecutor:
                break
            yield result
    finally:
        for _, waiting in pending:
            if waiting is not None:
                waiting.cancel()
    words = "the worker processes broke; what is left is done in this process"
    warnings.warn(words, RuntimeWarning, stacklevel=3)
    left = chain([part], (part for part, _ in pending), stream)
    yield from map(work, left)


def _submitted(
    pool: Executor, work: Callable[[_Part], _Result], part: _Part
) -> Future[_Result] | None:
    try:
        return pool.submit(work, part)
    except BrokenExecutor:
        return None
