"""The hand-off form: choose what to write, press, see how far it is, stop, find the files."""

from __future__ import annotations

import asyncio
import contextlib
import time
from collections.abc import Callable, Iterator, Mapping
from html import escape
from pathlib import Path
from threading import Event
from typing import Any

import ipywidgets

from checkcloth.cloth.chosen import ChosenSet
from checkcloth.desk.forms.hand_off_fields import HandOffFields
from checkcloth.desk.forms.hand_off_reading import beside, field_of, read_field, read_order
from checkcloth.desk.forms.hand_off_told import links_to, told
from checkcloth.desk.forms.proof_told import proofs_told
from checkcloth.errors import ArgumentError, CheckclothError, shown
from checkcloth.export.hand_off.hand_off import HandOff, hand_off
from checkcloth.search.run import duration_words

__all__ = ["HandOffForm"]


class _StoppedError(Exception):
    """Raised in the middle of the work, by whoever asked it to stop."""


class HandOffForm:
    """The form.

    Parameters
    ----------
    kept : callable
        Returns the set to hand off, as it is now.
    trouble : callable
        Gets a fault of the kit itself.
    at_first : mapping
        What fields hold at first, by name.

    Attributes
    ----------
    made : HandOff or None
        What was written last.
    """

    def __init__(
        self,
        kept: Callable[[], ChosenSet],
        trouble: Callable[[Exception], None],
        at_first: Mapping[str, Any] | None = None,
    ) -> None:
        self.kept, self.trouble = kept, trouble
        self.made: HandOff | None = None
        self.fields = HandOffFields(self._check_field, at_first)
        self._stop = Event()
        self._task: asyncio.Task[None] | None = None
        self._at = (0, 1, "")
        self.export, self.stop = (
            ipywidgets.Button(description=words, layout=ipywidgets.Layout(width="auto"))
            for words in ("Export the kept", "Stop")
        )
        self.bar = ipywidgets.IntProgress(min=0, max=1)
        self.bar.add_class("cc-bar")
        self.said = ipywidgets.HTML()
        self.said.add_class("cc-said")
        self.links = ipywidgets.Output()
        self._row = ipywidgets.Box([self.export, self.stop, self.bar])
        self._row.add_class("cc-form-row")
        self._heading = ipywidgets.HTML("<h3>Files for the printer, the mill and the shop</h3>")
        parts = [self._heading, self.fields.box, self._row, self.said, self.links]
        self.box = ipywidgets.VBox(parts)
        self.box.add_class("cc-form")
        self.box.add_class("cc-hand-off")
        self.export.on_click(lambda _: self._begin())
        self.stop.on_click(lambda _: self.ask_to_stop())
        self.fields.see_proof.on_click(lambda _: self.see_proof())
        self._show_work(False)

    # -- what the buttons do; also for tests and for code ----------------------------------------

    def run(self) -> HandOff | None:
        """Write what the fields ask for, and wait for it; None where that was refused."""
        order = self._order()
        if order is not None:
            with self._telling_faults():
                self._finish(self._write(*order))
                return self.made
        return None

    def ask_to_stop(self) -> None:
        """Ask the work under way to stop; the file being written is the last."""
        self._stop.set()
        self._say("Stopping when the file under way is done …")

    def see_proof(self) -> None:
        """Show under the press profile what the press makes of the kept colourways."""
        self.fields.proof.value = ""
        self._check_field("press")
        with self._telling_faults(), contextlib.suppress(CheckclothError, OSError):
            press = read_field("press", self.fields.values)
            self.fields.proof.value = proofs_told(self.kept(), press)

    # -- from the fields to the files ------------------------------------------------------------

    def _check_field(self, name: str) -> None:
        """Say what is wrong with a field as soon as it is left."""
        try:
            read_field(name, self.fields.values)
        except (CheckclothError, OSError) as error:
            self.fields.say_wrong(name, beside(error))
        else:
            self.fields.say_wrong(name, "")

    def _order(self) -> tuple[ChosenSet, dict[str, Any]] | None:
        """Read the fields; say beside each what is wrong."""
        chosen = self.kept()
        if not len(chosen):
            self._say("Nothing is kept yet: tick a colourway on the wall first.", trouble=True)
            return None
        order, faults = read_order(self.fields.values, chosen)
        for name in self.fields.inputs:
            self.fields.say_wrong(name, faults.get(name, ""))
        if faults:
            self._refuse(len(faults))
            return None
        self._stop.clear()
        self._at = (0, 1, "")
        return ChosenSet(chosen.check, chosen.chosen, order.pop("name") or chosen.name), order

    def _write(self, chosen: ChosenSet, order: dict[str, Any]) -> tuple[ChosenSet, HandOff]:
        more = dict(order)
        folder = Path(more.pop("folder"))
        with _parents(folder):
            return chosen, hand_off(chosen, chosen.check, folder, progress=self._progress, **more)

    def _progress(self, done: int, total: int, following: str) -> None:
        self._at = (done, total, following)
        # The zip comes after the folder has moved: what is whole by then, stays.
        if self._stop.is_set() and not following.endswith(".zip"):
            raise _StoppedError

    def _begin(self) -> None:
        if self._task is not None and not self._task.done():
            return
        try:
            loop = asyncio.get_running_loop()
        except RuntimeError:  # no event loop in a plain script
            self.run()
            return
        order = None
        with self._telling_faults():
            order = self._order()
        if order is not None:
            self._show_work(True)
            self._task = loop.create_task(self._watch(*order))

    async def _watch(self, chosen: ChosenSet, order: dict[str, Any]) -> None:
        """Write in a thread, and show how far it is while the desk stays alive."""
        started = time.perf_counter()
        work = asyncio.get_running_loop().run_in_executor(None, self._write, chosen, order)
        with self._telling_faults():
            try:
                while not (await asyncio.wait([work], timeout=0.1))[0]:
                    self._show_progress(time.perf_counter() - started)
                self._finish(work.result())
            finally:
                self._show_work(False)

    # -- what is said ----------------------------------------------------------------------------

    def _show_work(self, working: bool) -> None:
        self.export.disabled = working
        for widget in (self.stop, self.bar):
            widget.layout.display = "" if working else "none"
        self.bar.value = 0
        if working:
            self._say("Getting ready …")
            self.links.outputs = ()

    def _show_progress(self, seconds: float) -> None:
        done, total, following = self._at
        self.bar.max, self.bar.value = total, done
        if self._stop.is_set() or not following:
            return
        left = seconds * (total - done) / done if done else 0
        about = f", about {duration_words(left)} left" if left >= 3 else ""
        self._say(f"{done} of {total} files written{about}. Next: {following}", quiet=True)

    def _finish(self, written: tuple[ChosenSet, HandOff]) -> None:
        chosen, self.made = written
        self.said.value = told(chosen, self.made)
        self.links.outputs = links_to(self.made)

    @contextlib.contextmanager
    def _telling_faults(self) -> Iterator[None]:
        """Say what went wrong where it can be read; a button swallows what its handler raises."""
        try:
            yield
        except _StoppedError:
            self._say("Stopped: nothing was written, and what was there before is as it was.")
        except (CheckclothError, OSError) as error:
            name = field_of(error)
            if name:
                self.fields.say_wrong(name, beside(error))
                self._refuse(1)
            else:
                self._say(f"Not exported, nothing changed: {beside(error)}", trouble=True)
        except Exception as error:
            self._say("Not exported, nothing changed: a fault of the kit itself.", trouble=True)
            self.trouble(error)

    def _refuse(self, faults: int) -> None:
        what = "the field marked" if faults == 1 else f"the {faults} fields marked"
        self._say(f"Not exported: see {what} “!” above. Nothing was changed.", trouble=True)

    def _say(self, text: str, *, trouble: bool = False, quiet: bool = False) -> None:
        # What changes ten times a second is not read out; the end of it is.
        role = "alert" if trouble else "status"
        live = 'aria-live="off"' if quiet else f'role="{role}"'
        self.said.value = f"<p {live}>{escape(text)}</p>"

    @property
    def widgets(self) -> list[Any]:
        """Every widget, for closing."""
        own = [self.export, self.stop, self.bar, self.said, self.links, self._row, self._heading]
        return [*self.fields.widgets, *own, self.box]


@contextlib.contextmanager
def _parents(folder: Path) -> Iterator[None]:
    """Make the folders that a folder is to lie in; take them away again if nothing comes."""
    missing = [one for one in folder.absolute().parents if not one.exists()]
    try:
        try:
            folder.absolute().parent.mkdir(parents=True, exist_ok=True)
        except OSError as error:
            raise ArgumentError(
                f"folder must lie where folders can be made, found {shown(str(folder))}: "
                f"{error.strerror}"
            ) from None
        yield
    except BaseException:
        for one in missing:
            with contextlib.suppress(OSError):  # not made, or no longer empty
                one.rmdir()
        raise
