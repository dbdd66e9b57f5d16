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

from checkcloth.cloth.palette import Palette
from checkcloth.desk.forms.form_parts import Fold, form_style
from checkcloth.desk.forms.search_fields import SearchFields
from checkcloth.desk.forms.search_sources import SearchSources
from checkcloth.desk.opening import gather_palettes
from checkcloth.errors import ArgumentError, CheckclothError
from checkcloth.files.html import AS_TYPED
from checkcloth.search import SearchResult, Shortlist, Wanted, estimate, search
from checkcloth.search.run import duration_words

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
        self.start, self.stop, self.send = (
            ipywidgets.Button(description=words, layout=ipywidgets.Layout(width="auto"))
            for words in ("Start the search", "Stop", "Send the shortlist to the wall")
        )
        self.bar = ipywidgets.FloatProgress(min=0, max=1)
        self.bar.add_class("cc-bar")
        self.said = ipywidgets.HTML()
        self.said.add_class("cc-foretold")
        self.found = ipywidgets.HTML()
        self.wall = ipywidgets.VBox()
        self.box = self._lay_out()
        self._show_work(False)
        self._show_found(False)
        self.start.on_click(lambda _: self._begin())
        self.stop.on_click(lambda _: self._stop.set())
        self.send.on_click(lambda _: self._trying(self.send_to_wall))
        for widget in self.fields.widgets:
            widget.observe(lambda _: self._foretell(), "value")
        self._foretell()

    def _lay_out(self) -> Any:
        title = "Start from a photograph, one colour, or another palette"
        self.source_fold = Fold(title, self.sources.box)
        folds = ipywidgets.VBox([self.source_fold.box])
        folds.add_class("cc-folds")
        buttons = ipywidgets.Box([self.start, self.stop, self.bar])
        buttons.add_class("cc-form-row")
        brief = ipywidgets.VBox(
            [form_style(), folds, self.fields.box, buttons, self.said, self.send]
        )
        brief.add_class("cc-form")
        found = ipywidgets.VBox([self.found])
        for name in ("cc-form", "cc-found"):
            found.add_class(name)
        # The wall right under the button that fills it, where it is seen to come.
        return ipywidgets.VBox([brief, self.wall, found])

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
        self._tell("Laying the shortlist on the wall …")
        names = [palette.name for palette in self.fields.palettes]
        if self.desk is None or list(self.desk.palettes) != names:
            # Palettes made since are offered there too; what is kept goes on.
            self.desk = self._open_wall()
            self.wall.children = [self.desk.box]
        self.desk.show(self.shortlist.colourways, "shortlist of a search")
        self._tell("The shortlist is on the wall below: tick what you like, or press K on it.")
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
        self._show_work(True)
        self._task = loop.create_task(self._watch(wanted, how))

    async def _watch(self, wanted: Wanted, how: str | None) -> None:
        """Search in a thread, and show how far it is while the page stays alive."""
        started = time.perf_counter()
        work = asyncio.get_running_loop().run_in_executor(None, self._work, wanted, how)
        try:
            while not (await asyncio.wait([work], timeout=0.2))[0]:
                self._show_progress(time.perf_counter() - started)
            self._finish(work.result())
        except CheckclothError as error:
            self._tell(str(error), trouble=True)
        finally:
            self._show_work(False)

    def _show_work(self, working: bool) -> None:
        self.start.disabled = working
        for widget in (self.stop, self.bar):
            widget.layout.display = "" if working else "none"
        self.bar.value = 0
        if working:
            self._tell("Getting ready …")

    def _show_progress(self, seconds: float) -> None:
        done, total = self._settled
        self.bar.value = done / total
        left = f", about {duration_words(seconds * (total - done) / done)} left" if done else ""
        self._tell(f"{done:,} of {total:,} colourways{left}")

    def _finish(self, result: SearchResult) -> None:
        self.result = result
        self.shortlist = result.shortlist(self.fields.shortlist.value)
        self._tell(f"{result}. It took {duration_words(result.seconds)}.")
        some = bool(self.shortlist)
        counts = (
            f'<details class="cc-many"{"" if some else " open"}>'
            "<summary>How many each condition lets through</summary>"
            f"{result._repr_html_()}</details>"
        )
        self.found.value = (self.shortlist._repr_html_() if some else "") + counts
        self._show_found(some)

    def _show_found(self, some: bool) -> None:
        self.send.disabled = not some
        self.send.layout.display = "" if some else "none"

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
        self.said.value = f'<p role="{role}">{escape(text)}</p>'

    def __repr__(self) -> str:
        try:
            return f"<search form: {self.wanted}>"
        except CheckclothError as error:
            return f"<search form: {error}>"

    def _repr_mimebundle_(self, **kwargs: Any) -> dict[str, Any]:
        bundle: dict[str, Any] = dict(self.box._repr_mimebundle_() or {})
        brief = repr(self).strip("<>").capitalize()
        words = f"<p {AS_TYPED}>{escape(brief)}. Run the cell for the form itself.</p>"
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
            raise ArgumentError("palette", f"one of {', '.join(names)}", words=f"{palette!r}")
        members.sort(key=lambda one: one.name != palette)

    def open_wall() -> Any:
        from checkcloth.desk.opening import open_desk

        form_palettes = form.fields.palettes
        return open_desk(form_palettes, palette=form.fields.palette.value[0], name=name)

    form = SearchForm(members, open_wall)
    return form
