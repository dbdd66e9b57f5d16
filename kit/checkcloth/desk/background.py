"""Work beside the page: what waits until nothing moves, and what runs in a thread with a bar.

One policy for faults: what a person can mend (an error of the kit or the system) is said; any
other fault is said too, and its traceback is kept. None is swallowed.
"""

from __future__ import annotations

import asyncio
import contextlib
import time
import traceback
from collections.abc import Callable, Iterable, Iterator
from html import escape
from threading import Event
from typing import Any, TypeVar

import ipywidgets

from checkcloth.errors import CheckclothError
from checkcloth.search.run import duration_words

WAIT = 0.2  # seconds without a move after which nothing moves

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


class Faults:
    """What is said of work that went wrong or was stopped.

    Parameters
    ----------
    troubles : list of str
        Takes the tracebacks of faults of the kit itself.
    say : callable
        Gets a line, and whether it says that something is wrong.
    failed, stopped : str
        How what is said of a fault begins, and what is said when work was stopped.
    word : callable, optional
        Words an error that a person can mend.
    mark : callable, optional
        Gets such an error first; returns whether it was said at its field.
    """

    def __init__(
        self,
        troubles: list[str],
        say: Callable[[str, bool], object],
        *,
        failed: str = "",
        stopped: str = "Stopped.",
        word: Callable[[Exception], str] | None = None,
        mark: Callable[[Exception], bool] = lambda _: False,
    ) -> None:
        self.troubles = troubles
        self._say = say
        self._failed, self._stopped = failed, stopped
        self._word, self._mark = word or _plain, mark

    @contextlib.contextmanager
    def saying_faults(self) -> Iterator[None]:
        """Say what goes wrong inside; a button would swallow what its handler raises."""
        try:
            yield
        except StoppedError:
            self._say(self._stopped, False)
        except (CheckclothError, OSError) as error:
            if not self._mark(error):
                self._say(f"{self._failed}{self._word(error)}", True)
        except Exception as error:
            self._say(f"{self._failed}{keep_fault(self.troubles, error)}", True)


class Work:
    """Work in a thread, one at a time, watched from the event loop.

    Parameters
    ----------
    faults : Faults
    show_working : callable
        Told when work begins, and when it has ended.
    show_progress : callable
        Called ten times a second with what :meth:`progress` was last told.

    Attributes
    ----------
    stop_asked : Event
        Set once the work was asked to stop.
    """

    def __init__(
        self,
        faults: Faults,
        show_working: Callable[[bool], object],
        show_progress: Callable[[int, int, str], object],
    ) -> None:
        self.stop_asked = Event()
        self._faults = faults
        self._show_working, self._show_progress = show_working, show_progress
        self._at = (0, 0, "")
        self._running: asyncio.Task[None] | None = None

    @property
    def running(self) -> bool:
        """Whether work is under way."""
        return self._running is not None and not self._running.done()

    def begin(self, work: Callable[[], _Result], finish: Callable[[_Result], None]) -> None:
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
        self._show_working(True)
        self._running = loop.create_task(self._watch(work, finish))

    def run(self, work: Callable[[], _Result], finish: Callable[[_Result], None]) -> bool:
        """Do ``work`` here and wait for it; return whether it came to its end."""
        self._get_ready()
        done = False
        with self._faults.saying_faults():
            finish(work())
            done = True
        return done

    def ask_to_stop(self) -> None:
        """Ask the work under way to stop."""
        self.stop_asked.set()

    def progress(self, done: int, total: int, what: str = "") -> None:
        """Note how far the work is; called from its thread."""
        self._at = (done, total, what)

    async def _watch(self, work: Callable[[], _Result], finish: Callable[[_Result], None]) -> None:
        job = asyncio.get_running_loop().run_in_executor(None, work)
        with self._faults.saying_faults():
            try:
                while not (await asyncio.wait([job], timeout=0.1))[0]:
                    self._show_progress(*self._at)
                finish(job.result())
            finally:
                self._show_working(False)

    def _get_ready(self) -> None:
        self.stop_asked.clear()
        self._at = (0, 0, "")


def time_left(done: int, total: int, seconds: float) -> str:
    """Say about how long it still takes; nothing where that is no time.

    >>> time_left(1, 4, 20), time_left(3, 4, 2)
    (', about 60 s left', '')
    """
    left = seconds * (total - done) / done if done else 0
    return f", about {duration_words(left)} left" if left >= 3 else ""


class Said:
    """A line on the page that says what goes on, and what went wrong.

    Parameters
    ----------
    troubles : list of str
        Takes the tracebacks of faults of the kit itself.
    more :
        See :class:`Faults`.

    Attributes
    ----------
    said : Widget
    """

    def __init__(self, troubles: list[str], **more: Any) -> None:
        self.said = ipywidgets.HTML()
        self.faults = Faults(troubles, lambda text, wrong: self.say(text, alert=wrong), **more)

    @property
    def troubles(self) -> list[str]:
        """Tracebacks of faults of the kit itself."""
        return self.faults.troubles

    def saying_faults(self) -> contextlib.AbstractContextManager[None]:
        """Say what goes wrong inside."""
        return self.faults.saying_faults()

    def say(self, text: str, *, alert: bool = False, quiet: bool = False) -> None:
        """Say a line: at once, if it is an alert; not read out, if it is quiet."""
        # What changes ten times a second is not read out; the end of it is.
        live = 'aria-live="off"' if quiet else f'role="{"alert" if alert else "status"}"'
        self.said.value = f"<p {live}>{escape(text)}</p>"


class Task(Said):
    """A button that starts work, a bar, a button that stops it, and a line that says how it goes.

    Parameters
    ----------
    words : str
        On the button that starts.
    what : str
        What is counted: ``"files written"``.
    troubles : list of str
    stopping : str
        What is said when work was asked to stop.
    more :
        See :class:`Faults`.

    Attributes
    ----------
    row : Widget
        The buttons and the bar.
    stop_asked : Event
        Set once the work was asked to stop.
    """

    def __init__(
        self, words: str, what: str, troubles: list[str], *, stopping: str = "", **more: Any
    ) -> None:
        super().__init__(troubles, **more)
        self._what, self._stopping = what, stopping or "Stopping …"
        self._started = 0.0
        self._work = Work(self.faults, self._show_working, self._show_progress)
        self.stop_asked = self._work.stop_asked
        self.run, self.progress = self._work.run, self._work.progress
        self.start, self.stop = (
            ipywidgets.Button(description=text, layout=ipywidgets.Layout(width="auto"))
            for text in (words, "Stop")
        )
        self.bar = ipywidgets.FloatProgress(min=0, max=1)
        self.bar.add_class("cc-bar")
        self.row = ipywidgets.Box([self.start, self.stop, self.bar])
        self.row.add_class("cc-form-row")
        self.stop.on_click(lambda _: self.ask_to_stop())
        self._show_working(False)

    @property
    def running(self) -> bool:
        """Whether work is under way."""
        return self._work.running

    def begin(self, work: Callable[[], _Result], finish: Callable[[_Result], None]) -> None:
        """Do ``work`` in a thread, then ``finish`` with its result; see :meth:`Work.begin`."""
        self._work.begin(work, finish)

    def ask_to_stop(self) -> None:
        """Ask the work under way to stop."""
        self._work.ask_to_stop()
        if self.running:
            self.say(self._stopping)

    def _show_working(self, working: bool) -> None:
        self.start.disabled = working
        for widget in (self.stop, self.bar):
            widget.layout.display = "" if working else "none"
        self.bar.value = 0
        self._started = time.perf_counter()
        if working:
            self.say("Getting ready …")

    def _show_progress(self, done: int, total: int, following: str) -> None:
        if not total:
            return
        self.bar.value = done / total
        if self.stop_asked.is_set():
            return
        left = time_left(done, total, time.perf_counter() - self._started)
        then = f". Next: {following}" if following else ""
        self.say(f"{done:,} of {total:,} {self._what}{left}{then}", quiet=True)

    @property
    def widgets(self) -> list[Any]:
        """Every widget, for closing."""
        return [self.start, self.stop, self.bar, self.row, self.said]
