"""Stand-ins for ``run_block`` that kill the worker they run in.

A module of its own, on pytest's path: worker processes must be able to import it, which they
cannot a test module under whatever name pytest gave it.
"""

from __future__ import annotations

import multiprocessing
import os
import signal
from pathlib import Path

from checkcloth.search.blocks import run_block


def _die() -> None:
    if multiprocessing.parent_process() is None:
        raise AssertionError("the block ran in the test's own process, not in a worker")
    os.kill(os.getpid(), signal.SIGKILL)


def dies_once(job, block, *stop):
    """Kill the worker the first time block 1 comes; the palette's name is where that is noted."""
    marker = Path(job.wanted.palette.name)
    if block.number == 1 and not marker.exists():
        marker.write_text("died")
        _die()
    return run_block(job, block, *stop)


def dies_always(job, block, *stop):
    """Kill every worker that takes block 1."""
    if block.number == 1:
        _die()
    return run_block(job, block, *stop)
