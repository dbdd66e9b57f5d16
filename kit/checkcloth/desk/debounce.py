"""Work that waits until the hand rests, and gives way to it again and again."""

from __future__ import annotations

import asyncio
from collections.abc import Callable, Iterable

__all__ = ["REST", "when_still"]

REST = 0.2  # seconds without a move after which the hand is at rest

_Task = asyncio.Task[None]


def when_still(
    before: _Task | None,
    work: Callable[[], Iterable[None]],
    trouble: Callable[[Exception], None],
    wait: float = REST,
) -> _Task | None:
    """Run ``work`` part by part once nothing was asked for ``wait`` seconds.

    Parameters
    ----------
    before : Task or None
        What the last call returned: waiting or half-done work, which is given up.
    work : callable
        Yields after every short part; in between the kernel answers whoever asks.
    trouble : callable
        Gets what the work raises; nobody else would see it.

    Returns
    -------
    Task or None
        None where no event loop runs (a plain script): then it was done at once.
    """
    if before is not None:
        before.cancel()
    try:
        loop = asyncio.get_running_loop()
    except RuntimeError:
        for _ in work():
            pass
        return None

    async def later() -> None:
        await asyncio.sleep(wait)
        try:
            for _ in work():
                await asyncio.sleep(0.001)
        except Exception as error:
            trouble(error)

    return loop.create_task(later())
