"""The search behind the wall's own source: in a thread, with progress and a stop."""

from __future__ import annotations

import time
from collections.abc import Callable
from itertools import islice
from threading import Event
from typing import Any, NamedTuple

from checkcloth.cloth.colourway import Colourway
from checkcloth.desk.background import StoppedError, Work, time_left
from checkcloth.desk.state.finding import Finding, arranged, offers
from checkcloth.desk.state.state import Origin
from checkcloth.errors import ArgumentError
from checkcloth.search import (
    SearchResult,
    SearchStoppedError,
    farthest_points,
    relaxations,
    search,
    tone_positions,
)

# Stripes are ordered, and the most unlike chosen, so many at a time.
_PIECE = 64
# Where nothing holds, what is offered instead lets about so many through.
_SOME = 24

Progress = Callable[[int, int, str], object]


class Found(NamedTuple):
    """What came of a finding.

    ``colourways`` in the order of the wall; where there are none, ``offers`` says what to ask
    for instead, as :func:`checkcloth.desk.state.finding.offers` has it.
    """

    colourways: list[Colourway]
    origin: Origin
    offers: list[dict[str, Any]]


def find(sought: Finding, progress: Progress, stop: Event) -> Found:
    """Search, and return what is to come onto the wall.

    Raises
    ------
    StoppedError
        Once ``stop`` is set.
    """

    def going_on(done: int, total: int, what: str) -> None:
        progress(done, total, what)
        if stop.is_set():
            raise StoppedError

    result = search(
        sought.wanted,
        sought.pool,
        how="best",
        pool=0,
        stop=stop,
        progress=lambda done, total: progress(done, total, "looked at"),
        one_order=True,
    )
    if stop.is_set():
        raise StoppedError
    if not result.found:
        progress(0, 0, "Nothing holds all of that; looking for what does …")
        try:
            return Found(
                [], {}, offers(sought.at_least, relaxations(sought.wanted, _SOME, stop.is_set))
            )
        except SearchStoppedError:
            raise StoppedError from None
    chosen = _chosen(sought, result, going_on)
    ordered: list[Colourway] = []
    members = arranged(sought, chosen)
    while piece := list(islice(members, _PIECE)):
        ordered += piece
        going_on(len(ordered), len(chosen), "put in order")
    return Found(ordered, result.origin, [])


def _chosen(sought: Finding, result: SearchResult, going_on: Progress) -> list[Colourway]:
    """The best, or of those the most unlike: the clearest, then always the farthest from all."""
    best = list(result.best)
    if sought.goal != "unlike" or len(best) <= 2:
        return best[: sought.count]
    bands = sought.wanted.bands or ()
    points = tone_positions(
        best, *bands, going_on=lambda done: going_on(done, len(best), "compared")
    )
    count = min(sought.count, len(best))
    picks = farthest_points(points, count, lambda done: going_on(done, count, "chosen"))
    return [best[index] for index in picks[0]]


class Finder:
    """Finds for one desk, one thing at a time.

    Parameters
    ----------
    troubles : list of str
        Takes the tracebacks of faults of the kit itself.
    tell : callable
        Gets what the page shows of it: ``running``, ``share`` of it that is done, ``words``,
        ``wrong``, and ``offers`` where nothing was found.
    """

    def __init__(self, troubles: list[str], tell: Callable[[dict[str, Any]], object]) -> None:
        self._tell = tell
        self._phase = ("", 0.0)
        self._work = Work(
            "colourways", troubles,
            ready="Searching …",
            stopped="Stopped; the wall is as it was.",
            in_words=self._in_words,
        )  # fmt: skip
        self._work.changed = self._show

    @property
    def running(self) -> bool:
        """Whether a search is under way."""
        return self._work.running

    def begin(self, sought: Finding, land: Callable[[Found], object]) -> None:
        """Begin to search; ``land`` gets what was found, if there is something."""
        if self.running:
            hint = "; stop the search that is under way first"
            raise ArgumentError("find", "one search at a time", words="two", hint=hint)

        def finish(found: Found) -> None:
            if found.colourways:
                land(found)
                self._tell({"running": False})
            else:
                total = f"{sought.wanted.count:,}"
                words = f"None of {total} holds all of that."
                if not found.offers:
                    words += " Ask for less of several at once."
                self._tell({"running": False, "words": words, "offers": found.offers})

        self._phase = ("", 0.0)
        self._work.begin(lambda: find(sought, self._work.progress, self._work.stop_asked), finish)

    def stop(self) -> None:
        """Ask the search under way to stop; it leaves the wall as it was."""
        self._work.stop()

    def _show(self) -> None:
        work = self._work
        share = round(work.share, 3) if work.running else 0
        state = {"running": work.running, "share": share, "words": work.words, "wrong": work.alert}
        self._tell(state)

    def _in_words(self, done: int, total: int, what: str, _: float) -> str:
        if not total:
            return what
        if what != self._phase[0]:
            self._phase = (what, time.perf_counter())
        left = time_left(done, total, time.perf_counter() - self._phase[1])
        return f"{100 * done / total:.0f} % {what}{left}"
