"""Work beside the page, without widgets: what waits until nothing moves, what runs in a thread.

One policy for faults: what a person can mend (an error of the kit or the system) is said; any
other fault is said too, and its traceback is kept. None is swallowed.
"""

from __future__ import annotations

import asyncio
import contextlib
import time
import traceback
from collections.abc import Callable, Iterable, Iterator
from threading import Event
from typing import Any, TypeVar

from checkcloth.errors import CheckclothError
from checkcloth.search.run import duration_words

WAIT = 0.2  # seconds without a move after which nothing moves
_EVERY = 0.1  # seconds between two looks at how far work is

_Result = TypeVar("_Result")


def keep_fault(troubles: list[str], error: Exception) -> str:
    """Keep the traceback of a fault of the kit itself; return what the page says of it."""
    troubles.append("".join(traceback.format_exception(error)))
    return (
        f"a fault of the kit itself ({type(error).__name__}: {error}); "
        "its traceback is kept in troubles."
    )


def debounce(
    before: asyncio.Task[None] | None,
    work: Callable[[], Iterable[None]],
    failed: Callable[[Exception], None],
    wait: float = WAIT,
) -> asyncio.Task[None] | None:
    """Run ``work`` part by part once nothing was asked for ``wait`` seconds.

    Parameters
    ----------
    before : Task or None
        What the last call returned: waiting or half-done work, which is given up.
    work : callable
        Yields after every short part; in between the kernel answers whoever asks.
    failed : callable
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
            failed(error)

    return loop.create_task(later())


def _plain(error: Exception) -> str:
    """Word an error without the system's number for it."""
    if isinstance(error, OSError) and error.strerror:
        return f"{error.strerror}: {error.filename}" if error.filename else error.strerror
    return str(error)


class StoppedError(Exception):
    """Raised in the middle of the work, by work that was asked to stop."""


class Work:
    """Work in a thread, one at a time, watched from the event loop, and what is said of it.

    Parameters
    ----------
    what : str
        What is counted: ``"files written"``.
    troubles : list of str
        Takes the tracebacks of faults of the kit itself.
    failed, ready, stopping, stopped : str
        How what is said of a fault begins; what is said at the beginning, when it was asked to
        stop, and when it stopped.
    word : callable
        Words an error that a person can mend.
    mark : callable
        Gets such an error first; returns whether it was said at its field.
    in_words : callable, optional
        Words how far it is, from done, total, what follows and the seconds that it took so far.

    Attributes
    ----------
    changed : callable
        Called after anything of this changed, on the event loop.
    words : str
        What is said of it now.
    alert : bool
        Whether that is a fault.
    quiet : bool
        Whether that is only how far it is, ten times a second.
    stop_asked : Event
        Set once the work was asked to stop.
    """

    def __init__(
        self,
        what: str,
        troubles: list[str],
        *,
        failed: str = "",
        ready: str = "Getting ready …",
        stopping: str = "Stopping …",
        stopped: str = "Stopped.",
        word: Callable[[Exception], str] = _plain,
        mark: Callable[[Exception], bool] = lambda _: False,
        in_words: Callable[[int, int, str, float], str] | None = None,
    ) -> None:
        self.troubles = troubles
        self.changed: Callable[[], object] = lambda: None
        self.words, self.alert, self.quiet = "", False, False
        self.stop_asked = Event()
        self._what, self._failed = what, failed
        self._ready, self._stopping, self._stopped = ready, stopping, stopped
        self._word, self._mark, self._in_words = word, mark, in_words or self._counted
        self._at = (0, 0, "")
        self._running: asyncio.Task[None] | None = None

    @property
    def running(self) -> bool:
        """Whether work is under way."""
        return self._running is not None and not self._running.done()

    @property
    def share(self) -> float:
        """How much of it is done, 0 to 1."""
        done, total, _ = self._at
        return done / total if total else 0.0

    def begin(self, work: Callable[[], _Result], finish: Callable[[_Result], object]) -> None:
        """Do ``work`` in a thread while the page stays alive, then ``finish`` with its result.

        Where no event loop runs (a plain script) it is waited for.
        """
        if self.running:
            return
        try:
            loop = asyncio.get_running_loop()
        except RuntimeError:
            self.run(work, finish)
            return
        self._get_ready()
        self._running = loop.create_task(self._watch(work, finish))
        self.say(self._ready)

    def run(self, work: Callable[[], _Result], finish: Callable[[_Result], object]) -> bool:
        """Do ``work`` here and wait for it; return whether it came to its end."""
        self._get_ready()
        done = False
        with self.saying_faults():
            finish(work())
            done = True
        return done

    def stop(self) -> None:
        """Ask the work under way to stop."""
        self.stop_asked.set()
        if self.running:
            self.say(self._stopping)

    def progress(self, done: int, total: int, following: str = "") -> None:
        """Note how far the work is; called from its thread."""
        self._at = (done, total, following)

    def say(self, words: str, *, alert: bool = False, quiet: bool = False) -> None:
        """Say a line."""
        self.words, self.alert, self.quiet = words, alert, quiet
        self.changed()

    @contextlib.contextmanager
    def saying_faults(self) -> Iterator[None]:
        """Say what goes wrong inside; a button would swallow what its handler raises."""
        try:
            yield
        except StoppedError:
            self.say(self._stopped)
        except (CheckclothError, OSError) as error:
            if not self._mark(error):
                self.say(f"{self._failed}{self._word(error)}", alert=True)
        except Exception as error:
            self.say(f"{self._failed}{keep_fault(self.troubles, error)}", alert=True)

    def facts(self) -> dict[str, Any]:
        """Return what the page shows of it."""
        done, total, _ = self._at
        return {
            "running": self.running,
            "done": done,
            "total": total,
            "words": self.words,
            "alert": self.alert,
        }

    async def _watch(
        self, work: Callable[[], _Result], finish: Callable[[_Result], object]
    ) -> None:
        started = time.perf_counter()
        job = asyncio.get_running_loop().run_in_executor(None, work)
        with self.saying_faults():
            try:
                while not (await asyncio.wait([job], timeout=_EVERY))[0]:
                    self._show_progress(time.perf_counter() - started)
            finally:
                self._running = None
            finish(job.result())

    def _get_ready(self) -> None:
        self.stop_asked.clear()
        self._at = (0, 0, "")

    def _show_progress(self, seconds: float) -> None:
        done, total, following = self._at
        if (total or following) and not self.stop_asked.is_set():
            self.say(self._in_words(done, total, following, seconds), quiet=True)

    def _counted(self, done: int, total: int, following: str, seconds: float) -> str:
        then = f". Next: {following}" if following else ""
        return f"{done:,} of {total:,} {self._what}{time_left(done, total, seconds)}{then}"


def time_left(done: int, total: int, seconds: float) -> str:
    """Say about how long it still takes; nothing where that is no time.

    >>> time_left(1, 4, 20), time_left(3, 4, 2)
    (', about 60 s left', '')
    """
    left = seconds * (total - done) / done if done else 0
    return f", about {duration_words(left)} left" if left >= 3 else ""
