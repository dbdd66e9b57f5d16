"""How far long work has come, one way for all of it: a bar with an estimate, or a function."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any

from checkcloth.errors import ArgumentError
from checkcloth.needs import need

# progress(done, total); the total is None where nobody knows it before the end.
Progress = Callable[[int, Any], Any]

# From so many things on a bar counts in thousands and millions.
_SCALED = 100_000


@contextmanager
def progress_of(
    progress: bool | Progress | None, total: int | None, unit: str, words: str, before: int = 0
) -> Iterator[Callable[[int], Any]]:
    """Yield a function to call with each number of things that is done.

    True is a bar with an estimate, by tqdm: on the error stream, or as the output of a notebook's
    cell, where it can be read after the kernel is gone. A function is called as
    ``progress(done, total)``; what it raises ends the work. ``unit`` and ``words`` say what the
    things are and what is done to them, ``before`` how many were done before.

    Raises
    ------
    ArgumentError
        For a progress that is neither.
    MissingPackageError
        Where a bar is asked for and tqdm is not installed.
    """
    if progress is False or progress is None:
        yield lambda count: None
        return
    if progress is not True:
        if not callable(progress):
            raise ArgumentError(
                "progress", "true, false, or a function of done and total", progress
            )
        done = before

        def step(count: int) -> None:
            nonlocal done
            done += count
            progress(done, total)

        yield step
        return
    need("tqdm")
    from tqdm import tqdm

    interactive = sys.modules.get("IPython")
    notebook = interactive is not None and hasattr(interactive.get_ipython(), "kernel")
    with tqdm(
        total=total,
        initial=before,
        unit=f" {unit}",
        unit_scale=total is not None and total >= _SCALED,
        desc=words,
        file=sys.stdout if notebook else sys.stderr,
    ) as bar:
        yield bar.update
