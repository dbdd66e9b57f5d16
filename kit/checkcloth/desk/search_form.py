"""A form for a search: the brief in words of the trade, start, stop, what was found, the wall."""

from __future__ import annotations

import asyncio
import time
from collections.abc import Callable, Iterable
from html import escape
from os import PathLike
from threading import Event
from typing import Any

import ipywidgets

from checkcloth.base.html import AS_TYPED
from checkcloth.cloth.palette import Palette
from checkcloth.desk.opening import gather_palettes
from checkcloth.desk.search_fields import SearchFields
from checkcloth.desk.search_sources import SearchSources
from checkcloth.errors import ArgumentError, CheckclothError
from checkcloth.explore.search import SearchResult, Shortlist, Wanted, estimate, search
from checkcloth.explore.search.count import words_for

__all__ = ["SearchForm", "search_form"]

_Source = str | PathLike[str] | Palette


class SearchForm:
    """The form; make one with :func:`search_form`.

    Attributes
    ----------
    result : SearchResult or None
        Of the last search, also of one that was stopped.
    shortlist : Shortlist or None
    desk : Any
        The desk whose wall the shortlist is sent to; None until there is one.
    """

    def __init__(self, palettes: list[Palette], open_wall: Callable[[], Any]) -> None:
        self.fields = SearchFields(palettes)
        self.sources = SearchSources(self.fields.chosen_palette, self.fields.add_palette)
        self.result: SearchResult | None = None
        self.shortlist: Shortlist | None = None
        self.desk: Any = None
        self._open_wall = open_wall
        self._stop = Event()
        self._task: asyncio.Task[None] | None = None
        self._settled = (0, 1)
        line = ipywidgets.Layout(width="auto")
        self.start = ipywidgets.Button(description="Start the search", layout=line)
        self.stop = ipywidgets.Button(description="Stop", layout=line, disabled=True)
        self.send = ipywidgets.Button(
            description="Send the shortlist to the wall", layout=line, disabled=True
        )
        self.bar = ipywidgets.FloatProgress(min=0, max=1, layout=ipywidgets.Layout(width="12em"))
        # Read out by screen readers as it changes, without taking the focus.
        self.said = ipywidgets.HTML()
        self.found = ipywidgets.HTML()
        self.wall = ipywidgets.VBox()
        more = ipywidgets.Accordion([self.sources.box], titles=["Start from something else"])
        buttons = ipywidgets.HBox([self.start, self.stop, self.bar])
        self.box = ipywidgets.VBox(
            [self.fields.box, more, buttons, self.said, self.found, self.send, self.wall]
        )
        self.start.on_click(lambda _: self._begin())
        self.stop.on_click(lambda _: self._stop.set())
        self.send.on_click(lambda _: self._trying(self.send_to_wall))
        for widget in self.fields.widgets:
            widget.observe(lambda _: self._foretell(), "value")
        self._foretell()

    @property
    def wanted(self) -> Wanted:
        """The brief as the form stands now."""
        return self.fields.wanted()

    # -- what the buttons do; also for tests and for code ----------------------------------------

    def run(self) -> SearchResult:
        """Search now, and wait for it."""
        self._stop.clear()
        self._finish(self._work(self.wanted, self.fields.how))
        assert self.result is not None
        return self.result

    def send_to_wall(self) -> Any:
        """Send the shortlist to the wall of a desk, opened under the form when first needed."""
        if not self.shortlist:
            raise ArgumentError("nothing was found yet: start a search first")
        if self.desk is None:
            self.desk = self._open_wall()
            self.wall.children = [self.desk.box]
        self.desk.show(self.shortlist.colourways, "search")
        return self.desk

    # -- searching -------------------------------------------------------------------------------

    def _work(self, wanted: Wanted, how: str | None) -> SearchResult:
        def settled(done: int, total: int) -> None:
            self._settled = (done, total)

        self._settled = (0, 1)
        return search(
            wanted, 100, how=how, progress=settled, stop=self._stop, seed=self.fields.seed.value
        )

    def _begin(self) -> None:
        if self._task is not None and not self._task.done():
            return
        try:
            wanted, how = self.wanted, self.fields.how
            loop = asyncio.get_running_loop()
        except RuntimeError:  # no event loop in a plain script
            self._trying(self.run)
            return
        except CheckclothError as error:
            self._tell(str(error), trouble=True)
            return
        self._stop.clear()
        self._task = loop.create_task(self._watch(wanted, how))

    async def _watch(self, wanted: Wanted, how: str | None) -> None:
        """Search in a thread, and show how far it is while the page stays alive."""
        self.start.disabled, self.stop.disabled = True, False
        started = time.perf_counter()
        work = asyncio.get_running_loop().run_in_executor(None, self._work, wanted, how)
        try:
            while not (await asyncio.wait([work], timeout=0.2))[0]:
                self._show_progress(time.perf_counter() - started)
            self._finish(work.result())
        except CheckclothError as error:
            self._tell(str(error), trouble=True)
        finally:
            self.start.disabled, self.stop.disabled = False, True

    def _show_progress(self, seconds: float) -> None:
        done, total = self._settled
        self.bar.value = done / total
        left = f", about {words_for(seconds * (total - done) / done)} left" if done else ""
        self._tell(f"{done:,} of {total:,} colourways{left}")

    def _finish(self, result: SearchResult) -> None:
        self.result = result
        self.shortlist = result.shortlist(self.fields.shortlist.value)
        self.bar.value = result.settled / max(1, result.planned)
        self._tell(f"{result}. It took {words_for(result.seconds)}.")
        self.found.value = result._repr_html_() + self.shortlist._repr_html_()
        self.send.disabled = not self.shortlist

    def _foretell(self) -> None:
        """Say what the search would cost, whenever the brief changes."""
        if self._task is not None and not self._task.done():
            return
        try:
            self._tell(str(estimate(self.wanted)))
        except CheckclothError as error:
            self._tell(str(error), trouble=True)

    def _trying(self, what: Callable[[], Any]) -> None:
        # A button swallows what its handler raises; the page is where it can be read.
        try:
            what()
        except CheckclothError as error:
            self._tell(str(error), trouble=True)

    def _tell(self, text: str, *, trouble: bool = False) -> None:
        role = "alert" if trouble else "status"
        self.said.value = f'<p role="{role}" style="line-height:1.4">{escape(text)}</p>'

    def __repr__(self) -> str:
        try:
            return f"<search form: {self.wanted}>"
        except CheckclothError as error:
            return f"<search form: {error}>"

    def _repr_mimebundle_(self, **kwargs: Any) -> dict[str, Any]:
        bundle: dict[str, Any] = dict(self.box._repr_mimebundle_() or {})
        words = f"<p {AS_TYPED}>{escape(repr(self))}. Run the cell for the form itself.</p>"
        found = self.found.value or ""
        return bundle | {"text/plain": repr(self), "text/html": words + found}


def search_form(
    palettes: _Source | Iterable[_Source], *, palette: str = "", name: str = "search"
) -> SearchForm:
    """Open a form to search palettes with, and to send what is found to a wall.

    Parameters
    ----------
    palettes : path, Palette, or several
        A folder stands for all the CSV files in it.
    palette : str
        The one to begin with; the first otherwise.
    name : str
        Of the desk that the shortlist is sent to; see :func:`open_desk`.

    Returns
    -------
    SearchForm

    Raises
    ------
    ArgumentError, FileFormatError
    """
    members = gather_palettes(palettes)
    if palette:
        names = [one.name for one in members]
        if palette not in names:
            raise ArgumentError(f"palette must be one of {', '.join(names)}, found {palette!r}")
        members.sort(key=lambda one: one.name != palette)

    def open_wall() -> Any:
        from checkcloth.desk.opening import open_desk

        form_palettes = form.fields.palettes
        return open_desk(form_palettes, palette=form.fields.palette.value[0], name=name)

    form = SearchForm(members, open_wall)
    return form
