"""Work in a thread, without widgets: how far it is, stopping it, and what is said of it."""

from __future__ import annotations

import asyncio
import contextlib
import time
from collections.abc import Callable, Iterator
from threading import Event
from typing import Any, TypeVar

from checkcloth.desk.background import StoppedError, keep_fault
from checkcloth.errors import CheckclothError
from checkcloth.search.run import duration_words

_Result = TypeVar("_Result")
_EVERY = 0.1  # seconds between two looks at how far it is


class Work:
    """Work that goes on beside the page.

    Parameters
    ----------
    what : str
        What is counted: ``"files written"``.
    troubles : list of str
        Takes the tracebacks of faults of the kit itself.
    failed, stopping, stopped : str
        How what is said of a fault begins; what is said when it was asked to stop, and then.
    mark : callable
        Gets an error that a person can mend first; returns whether it was said at its field.

    Attributes
    ----------
    changed : callable
        Called after anything of this changed.
    words : str
        What is said of it now.
    alert : bool
        Whether that is a fault.
    stop_asked : Event
        Set once the work was asked to stop.
    """

    def __init__(
        self,
        what: str,
        troubles: list[str],
        *,
        failed: str,
        stopping: str,
        stopped: str,
        mark: Callable[[Exception], bool],
    ) -> None:
        self.troubles = troubles
        self.changed: Callable[[], object] = lambda: None
        self.words, self.alert = "", False
        self.stop_asked = Event()
        self._what, self._failed, self._stopping, self._stopped = what, failed, stopping, stopped
        self._mark = mark
        self._at = (0, 0, "")
        self._running: asyncio.Task[None] | None = None

    @property
    def running(self) -> bool:
        """Whether work is under way."""
        return self._running is not None

    def begin(self, work: Callable[[], _Result], finish: Callable[[_Result], None]) -> None:
        """Do ``work`` in a thread, then ``finish`` with its result; where no loop runs, wait."""
        if self.running:
            return
        try:
            loop = asyncio.get_running_loop()
        except RuntimeError:
            self.run(work, finish)
            return
        self._get_ready()
        self._running = loop.create_task(self._watch(work, finish))
        self.say("Getting ready …")

    def run(self, work: Callable[[], _Result], finish: Callable[[_Result], None]) -> bool:
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

    def say(self, words: str, *, alert: bool = False) -> None:
        """Say a line."""
        self.words, self.alert = words, alert
        self.changed()

    @contextlib.contextmanager
    def saying_faults(self) -> Iterator[None]:
        """Say what goes wrong inside."""
        try:
            yield
        except StoppedError:
            self.say(self._stopped)
        except (CheckclothError, OSError) as error:
            if not self._mark(error):
                self.say(f"{self._failed}{_plain(error)}", alert=True)
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

    async def _watch(self, work: Callable[[], _Result], finish: Callable[[_Result], None]) -> None:
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
        if not total or self.stop_asked.is_set():
            return
        left = seconds * (total - done) / done if done else 0
        about = f", about {duration_words(left)} left" if left >= 3 else ""
        then = f". Next: {following}" if following else ""
        self.say(f"{done:,} of {total:,} {self._what}{about}{then}")


def _plain(error: Exception) -> str:
    """Word an error without the system's number for it."""
    if isinstance(error, OSError) and error.strerror:
        return f"{error.strerror}: {error.filename}" if error.filename else error.strerror
    return str(error)
