"""A session at a desk: its history, its status, its widget and its file."""

from __future__ import annotations

import asyncio
import time
from collections.abc import Callable, Iterable, Iterator
from functools import partial
from pathlib import Path
from typing import Any

import ipywidgets

from checkcloth.arguments import Floats, as_whole
from checkcloth.cloth.check import Check
from checkcloth.cloth.chosen import ChosenSet
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.length import Length
from checkcloth.cloth.palette import Palette
from checkcloth.colour.spectra.accuracy import recovered_error
from checkcloth.colour.vision import VISIONS
from checkcloth.desk.answers import client, export, find, palettes, ranges
from checkcloth.desk.background import debounce, keep_fault
from checkcloth.desk.finder import Finder
from checkcloth.desk.forms.hand_off import HandOffJob
from checkcloth.desk.keep_file import KeepFile, earlier_sets
from checkcloth.desk.palette_files import Fault, PaletteFiles
from checkcloth.desk.payloads import (
    derived_fields,
    encoded,
    facts,
    light_choices,
    look,
    offers,
    settings,
    still_picture,
    vision_choices,
)
from checkcloth.desk.saved_ranges import export_settings
from checkcloth.desk.state import choices, ideas
from checkcloth.desk.state.colour_names import refusal
from checkcloth.desk.state.edits import goes_on, number_made
from checkcloth.desk.state.fields import Request, text, whole
from checkcloth.desk.state.laying import texts_of
from checkcloth.desk.state.palettes import with_files_read
from checkcloth.desk.state.requests import (
    MOST_STRIPES,
    SETTINGS,
    bands_words,
    even_words,
    handle,
    held_words,
    undo_group,
)
from checkcloth.desk.state.sort_filter import arrange
from checkcloth.desk.state.state import DeskState, History
from checkcloth.desk.wall_sync import WallSync
from checkcloth.desk.widget import DeskWidget
from checkcloth.errors import ArgumentError, CheckclothError
from checkcloth.files.live_output import show_live
from checkcloth.scoring.vocabulary import COLUMNS, LIGHT_WORDS

# Requests that are no step of the state alone.
_ANSWERS = client.ANSWERS | export.ANSWERS | find.ANSWERS | palettes.ANSWERS | ranges.ANSWERS


class Desk:
    """A desk of colourways; make one with :func:`open_desk`.

    Nothing that a session holds holds the session: it hands on plain data, and hears its
    widget by callbacks.

    Attributes
    ----------
    widget : DeskWidget
        Its settings (``size``, ``strength``, ``stripes``, ``palette``, ``ground``, ``mixing``,
        ``stock``, ``count``, ``bands``, ``weft``, ``weft_colours``) can be read, set, observed
        and linked.
    box : ipywidgets.VBox
        The widget, and under it links to what was exported.
    kept : ChosenSet
    shown : list of Colourway
        The wall as it looks now, in its order, without what is hidden.
    hand_off : HandOffJob or None
        The export: its fields, its work; none once another desk has gone on from this one.
    left_out : tuple of str
        A line for each palette that could not be read.
    palette_files : PaletteFiles
        The files that its palettes come from and go to.
    keep_file : KeepFile
        The range: its name, and its file from the first colourway that is kept.
    troubles : list of str
        Tracebacks of faults of the kit itself, for a report.
    """

    def __init__(
        self,
        history: History,
        keep_file: KeepFile,
        *,
        job: HandOffJob | None = None,
        files: PaletteFiles | None = None,
        faults: tuple[Fault, ...] = (),
        tell_palettes: Callable[[tuple[Palette, ...]], object] = lambda _: None,
    ) -> None:
        self.history = history
        self.keep_file = keep_file
        self.palette_files = files or PaletteFiles(home=keep_file.folder)
        self.faults = faults
        self._tell_palettes = tell_palettes
        self.message = ""
        # Counts up with every change of a palette: lists of colours on the page are of before then.
        self.palette_changes = 0
        self.saved = ""
        self.save_fault = ""
        # What was last saved with the range, also what only another kit knows.
        self.noted: dict[str, Any] = {}
        self.unsaved = False
        self._saving: asyncio.Task[None] | None = None
        self.offer = earlier_sets(keep_file.folder, keep_file.path)
        self.retired = False
        if job is None:
            first = {"name": keep_file.name, "folder": f"out/{keep_file.name}"}
            job = HandOffJob(self.kept, [], first)
        # An export that goes on from another desk keeps what was filled in, or is being written.
        self.hand_off: HandOffJob | None = job
        job.on_change, job.work.changed = self.follow_export, self.put_exporting
        self.troubles = job.work.troubles
        if not self.state.dealt:
            self._first_draw()
        self.widget = DeskWidget(
            columns=[list(pair) for pair in COLUMNS.items()],
            visions=vision_choices(),
            lights=light_choices(),
            born=time.time(),
            choices={},
        )
        self._sync = WallSync(self.widget)
        self.finder = Finder(self.troubles, partial(setattr, self.widget, "find"))
        self._waiting: asyncio.Task[None] | None = None
        # The links go on to the next desk; what held them here is hidden then, and stays: a view
        # taken out of a box that the page is still putting in place makes ipywidgets complain.
        self._links_room = ipywidgets.VBox([job.links], layout={"overflow": "visible"})
        self.box = ipywidgets.VBox([self.widget, self._links_room])
        self.put_export()
        self.put_exporting()
        self.follow(None)
        self.widget.on_msg(self._hear)
        self.widget.observe(self._hear_setting, list(SETTINGS))

    def _first_draw(self) -> None:
        state = ideas.fit_stripes(self.state)
        asked = {"do": "palette"}
        said = held_words(self.state, asked, state), bands_words(self.state, asked, state)
        self.message = " ".join(filter(None, said))
        self.history = History(ideas.draw(state))

    # -- for people who write code --------------------------------------------------------------

    @property
    def state(self) -> DeskState:
        """What the desk holds now."""
        return self.history.now

    @property
    def palettes(self) -> dict[str, Palette]:
        """What can be drawn from, by name."""
        return {palette.name: palette for palette in self.state.palettes}

    @property
    def palette(self) -> Palette:
        """The palette in use."""
        return self.state.chosen_palette

    @property
    def kept(self) -> ChosenSet:
        """The kept colourways as a set, on the desk's check."""
        return self.state.chosen_set(self.keep_file.name)

    @property
    def left_out(self) -> tuple[str, ...]:
        """A line for each palette that could not be read."""
        return tuple(fault.line for fault in self.faults)

    @property
    def shown(self) -> list[Colourway]:
        """The wall as it looks now, in its order, without what is hidden."""
        return [self.state.as_shown(self.state.shown[index]) for index in self._order()]

    def _order(self) -> tuple[int, ...]:
        return arrange(self.scores(), self.state).order

    def scores(self) -> dict[str, Floats]:
        """Return the scores of everything on the wall, in the order of the deal, by column."""
        if not self._sync.scores:
            for _ in self._sync.score_parts(self.state):
                pass
        return self._sync.scores

    def show(
        self,
        colourways: Iterable[Colourway],
        origin: str = "shown by code",
        check: Check | None = None,
    ) -> None:
        """Put other colourways on the wall, such as the outcome of a search.

        Each keeps its own strength, mixing and stock until these are chosen on the desk. Where
        all have equally many stripes the slider of stripes stands there. The desk takes over
        the bands of a check that is given, and keeps its size.
        """
        members, origin = list(colourways), origin or "shown by code"
        counts = {len(member.stripes) for member in members}
        same = counts.pop() if len(counts) == 1 else 0
        strengths = {member.strength for member in members}
        mixings, stocks = ({member.mixing for member in members}, {one.stock for one in members})
        state = self.state.deal(
            members,
            origin,
            {"how": origin},
            strength=strengths.pop() if len(strengths) == 1 else None,
            mixing=mixings.pop() if len(mixings) == 1 else None,
            stock=stocks.pop() if len(stocks) == 1 else None,
            stripes=same if 1 <= same <= MOST_STRIPES else self.state.stripes,
            **({} if check is None else dict(zip(("bands", "weft"), texts_of(check), strict=True))),
        )
        self.commit(state, f"show {origin}")

    def keep(self, number: int) -> None:
        """Keep a colourway as it shows, by its number on the wall, counted from 1."""
        order = self._order()
        index = order[as_whole(number, "number", 1, len(order)) - 1]
        self.commit(choices.keep(self.state, self.state.shown[index].number), "keep one")

    def export(self, folder: str | Path, *, overwrite: bool = False, **more: Any) -> Any:
        """Hand the kept colourways off to a folder; see ``hand_off``.

        Of an earlier export that is replaced, files of other check sizes stay unless
        ``keep_other_sizes=False`` is given.
        """
        from checkcloth.export.hand_off.hand_off import hand_off

        if not len(self.kept):
            raise ArgumentError(
                "kept", "at least one colourway", words="none", hint="; tick one first, then export"
            )
        target = Path(folder)
        target.parent.mkdir(parents=True, exist_ok=True)
        more = {"keep_other_sizes": True} | more
        return hand_off(self.kept, self.kept.check, target, overwrite=overwrite, **more)

    def undo(self) -> str:
        """Take the last step back; return what it was."""
        return self._walk(self.history.undoes, self.history.undo())

    def redo(self) -> str:
        """Do again what was undone; return what it was."""
        return self._walk(self.history.redoes, self.history.redo())

    def _walk(self, words: str, history: History) -> str:
        before, self.history = self.state, history
        if words:
            self.follow(before)
        return words

    # -- requests -------------------------------------------------------------------------------

    def answer(
        self, request: Request, files: Iterable[bytes] = ()
    ) -> tuple[dict[str, Any], list[bytes]]:
        """Do what the page asks for; return what it is told: an answer, or why not.

        ``files`` holds the bytes that came with a request, such as a photograph.
        """
        answer: dict[str, Any] = {"id": request.get("id")}
        try:
            do = request.get("do")
            if isinstance(do, str) and do in _ANSWERS:
                return answer | _ANSWERS[do](self, request, *files), []
            if isinstance(do, str) and do in _WITH_BYTES:
                fields, buffers = _WITH_BYTES[do](self, request)
                return answer | fields, buffers
            fields, buffers = self._do(request)
        except (CheckclothError, OSError) as error:
            return answer | refusal(error), []
        except Exception as error:
            words = keep_fault(self.troubles, error)
            self.say(f"Not done: {words}")
            return answer | {"error": words}, []
        return answer | fields, buffers

    def _do(self, request: Request) -> tuple[dict[str, Any], list[bytes]]:
        match request.get("do"):
            case "ping":
                return {}, []
            case "undo":
                words = self.undo()
                self.say(f"Undone: {words}." if words else "Nothing to undo.")
            case "redo":
                words = self.redo()
                self.say(f"Done again: {words}." if words else "Nothing to redo.")
            case "vision":
                self._set_vision(text(request, "vision"))
            case "light":
                self._set_light(text(request, "light"))
            case "take":
                self._take(text(request, "file"))
            case "dismiss":
                self.offer, self.faults = [], ()
                self.say("All of it stays where it is.")
            case _:
                made = self.take_step(request)
                return ({} if made is None else {"number": made}), []
        return {}, []

    def take_step(self, request: Request) -> int | None:
        """Take the step that is asked for; return the number of a card to be looked at then."""
        before = self.state
        after, words = handle(before, request)
        setting = request.get("do") in SETTINGS
        said = held_words(before, request, after) if setting else f"{words[:1].upper()}{words[1:]}."
        more = bands_words(before, request, after), even_words(before, after)
        self.message = " ".join(filter(None, (said, *more)))
        if after is before:
            self.put_facts()
        else:
            self.commit(after, words, undo_group(request))
        return number_made(before, request, after)

    def _set_vision(self, vision: str) -> None:
        """Look at the wall with another colour vision; scores follow."""
        if vision not in VISIONS:
            raise ArgumentError("vision", f"one of {', '.join(VISIONS)}", vision)
        self.widget.vision = vision
        self._sync.scores = {}
        self.say("" if vision == "normal" else f"Seen as {vision}; scores and sorting follow.")
        self._score_soon()

    def _set_light(self, light: str) -> None:
        """Look at the wall under another light; scores follow."""
        if light not in LIGHT_WORDS:
            raise ArgumentError("light", f"one of {', '.join(LIGHT_WORDS)}", light)
        self._sync.look_under(self.state, light)
        words = "Seen in daylight again."
        if light != "D65":
            error = f"19 in 20 within ΔE00 {recovered_error(light):.1f}"
            words = (
                f"Seen in {LIGHT_WORDS[light]}: a guess where no reflectance was measured, "
                f"{error}. Scores and sorting follow; what is kept and files do not."
            )
        self.say(words)
        self._score_soon()

    def _take(self, name: str) -> None:
        if name not in [one.path.name for one in self.offer]:
            raise ArgumentError("file", "one that is offered", name)
        before = self.state
        _, earlier = KeepFile.opened(self.keep_file.folder / name)
        after = choices.take(before, earlier)
        self.offer = []
        many = len(after.kept) - len(before.kept)
        self.message = f"Take {many} kept earlier, from {name}."
        self.commit(after, f"take {many} kept earlier, from {name}")
        self.put_facts()

    def _hear(self, _: object, content: Any, files: Any) -> None:
        raw = [bytes(file) for file in files or ()]
        answer, buffers = self.answer(content if isinstance(content, dict) else {}, raw)
        self.widget.send(answer, buffers)

    def _hear_setting(self, change: Any) -> None:
        """Follow a setting that page or code has changed; what cannot be is said and set back."""
        name, value = change["name"], change["new"]
        if self.retired or value == settings(self.state)[name]:
            return
        try:
            self.take_step({"do": name, "value": value})
        except (CheckclothError, OSError) as error:
            self.say(f"Not done: {error}")
        except Exception as error:
            self.say(f"Not done: {keep_fault(self.troubles, error)}")
        self._sync.show_settings(self.state)

    # -- changing -------------------------------------------------------------------------------

    def commit(self, state: DeskState, words: str, group: str = "") -> None:
        """Make ``state`` the present one, under words that undo can show."""
        before = self.state
        self.history = self.history.step(state, words, group)
        self.follow(before)

    def follow(self, before: DeskState | None, *, save: bool = True) -> None:
        """Let page, export and file follow the state."""
        now = self.state
        self._sync.show(before, now)
        kept = before is None or before.kept is not now.kept or before.client != now.client
        relaid = before is not None and _check_of(before) != _check_of(now)
        if self.hand_off is not None and (kept or before is None or relaid):
            self.hand_off.chosen = self.kept
        if not save or before is None:
            pass
        elif kept:
            self.save()
        elif relaid:
            self.save_soon()
        if before is not None and before.palettes is not now.palettes:
            self.palette_changes += 1
            self._follow_palettes(before)
        moved: dict[str, Any] = {"strength": now.strength, "mixing": now.mixing}
        moved |= {"stock": now.stock, "size": now.size, "bands": now.bands, "weft": now.weft}
        if before is not None and before.with_(**moved) == now:
            self._score_soon()  # under the hand: all but what it moves can wait
            return
        self.put_facts()
        if not self._sync.scores:
            self._score_soon()

    def save(self) -> None:
        """Write the range to its file; a failure is said, and loses nothing in memory."""
        self.unsaved, self.save_fault = False, ""
        try:
            path = self.keep_file.save(self.as_range())
        except (OSError, CheckclothError) as error:
            self.save_fault = str(error)
            self.saved = f"NOT SAVED, only in this kernel: {error}"
            return
        self.saved = f"saved in {path.name}" if path else ""
        if path and self.keep_file.left:
            left, self.keep_file.left = self.keep_file.left, ""
            self.message = f"{left} was changed by another desk: this one goes on in {path.name}."

    def as_range(self) -> ChosenSet:
        """The kept as they are saved: with how they are exported."""
        if self.hand_off is not None and (self.keep_file.path or self.state.kept):
            values = export_settings(self.hand_off.fields.values, self.keep_file.folder)
            self.noted = self.noted | {"export": values}
        if self.state.client or "client" in self.noted:
            self.noted = self.noted | {"client": self.state.client}
        kept = self.kept
        return ChosenSet(kept.check, kept.chosen, kept.name, self.noted)

    def save_soon(self) -> None:
        """Save once nothing moves: sizes and fields of the export change in runs."""
        if self.keep_file.path is not None:
            self.unsaved = True
            self._saving = debounce(self._saving, self._save_unsaved, self._failed)

    def follow_export(self) -> None:
        """Save fields of the export that were changed, and show them."""
        self.put_export()
        self.save_soon()

    def put_export(self) -> None:
        """Show the page the fields of the export."""
        if self.hand_off is not None:
            self.widget.export = self.hand_off.fields.shown

    def put_exporting(self) -> None:
        """Show the page how far an export is, and what it wrote."""
        if self.hand_off is not None:
            self.widget.exporting = self.hand_off.facts()

    def _save_unsaved(self) -> Iterator[None]:
        if self.unsaved and not self.retired:
            self.save()
            self.put_facts()
        yield

    def say(self, message: str) -> None:
        """Put a message on the page's status line."""
        self.message = message
        self.put_facts()

    def put_facts(self) -> None:
        """Tell the page what stands around the wall: undo, what stays, messages."""
        with self.widget.hold_sync():
            self.widget.marks = {str(n): mark for n, mark in self.state.marks.items()}
            self.widget.facts = facts(self.history) | {
                "message": self.message,
                "saved": self.saved,
                "retired": self.retired,
                "offer": offers(self.offer),
                "left_out": list(self.left_out),
                "faults": [list(fault) for fault in self.faults],
                "palettes": [[palette.name, len(palette)] for palette in self.state.palettes],
                "palette_changes": self.palette_changes,
                "press_chart": self._press_chart,
                "range": self._range_facts(),
            }

    @property
    def _press_chart(self) -> str:
        """Name of the chart that was chosen of a measured press."""
        return "" if self.hand_off is None else self.hand_off.fields.chosen_chart

    def _range_facts(self) -> dict[str, str]:
        path = self.keep_file.path
        return {"name": self.keep_file.name, "file": path.name if path else ""}

    def _score_soon(self) -> None:
        self._waiting = debounce(self._waiting, self._settle, self._failed)

    def _settle(self) -> Iterator[None]:
        """Put up what followed from the last move; gives way after every short part."""
        if not goes_on(self.history.undo_group):
            self.history = self.history.pause()
        self.put_facts()
        yield
        if not self._sync.scores:
            yield from self._sync.order_parts(self.state)
            yield from self._sync.score_parts(self.state)
        self._sync.put_order(self.state)

    def _failed(self, error: Exception) -> None:
        self.say(f"Not done: {keep_fault(self.troubles, error)}")

    # -- palettes -------------------------------------------------------------------------------

    def refresh_palettes(self) -> None:
        """Take in palette files that came or were changed since; undo does not take them back."""
        new, changed, self.faults = self.palette_files.refresh(self.state.palettes)
        if new or changed:
            before = self.state
            self.history = with_files_read(self.history, new, changed)
            names = ", ".join([*(palette.name for palette in new), *changed])
            self.message = f"Read: {names}."
            self.follow(before)
        self.put_facts()

    def _follow_palettes(self, before: DeskState) -> None:
        """Let files and search forms follow palettes that changed."""
        now = self.state.palettes
        faults = self.palette_files.follow(before.palettes, now)
        if faults:
            self.faults = (*self.faults, *faults)
            self.message = f"Not saved: {'; '.join(fault.line for fault in faults)}."
        changed = tuple(palette for palette in now if palette not in before.palettes)
        if changed:
            self._tell_palettes(changed)

    # -- opening again, and ending -------------------------------------------------------------

    def reopened(
        self, state: DeskState | None, files: PaletteFiles, faults: tuple[Fault, ...] = ()
    ) -> Desk:
        """Return a desk that goes on from this one: wholly, or from ``state`` with the kept."""
        if self.unsaved:
            self.save()
        if state is None:
            history = self.history
        else:
            now = self.state
            names = {palette.name for palette in state.palettes}
            made = [one for one in files.made_here(now.palettes) if one.name not in names]
            going = state.with_(
                palettes=(*state.palettes, *made),
                kept=now.kept,
                next_number=now.next_number,
                shown=now.by_hand,
            )
            if going.chosen_palette.name == now.chosen_palette.name:
                stripes = now.staying_stripes
                going = going.with_(staying_ground=now.staying_ground, staying_stripes=stripes)
            history = History(going)
        job, self.hand_off = self.hand_off, None
        self._links_room.layout.display = "none"
        desk = Desk(
            history,
            self.keep_file,
            job=job,
            files=files,
            faults=faults,
            tell_palettes=self._tell_palettes,
        )
        desk.offer, desk.saved, desk.noted = self.offer, self.saved, self.noted
        desk.widget.vision = self.widget.vision
        if self.widget.light != "D65":
            desk._sync.look_under(desk.state, self.widget.light)
        desk.put_facts()
        return desk

    def retire(self) -> None:
        """Stop listening, and say so on the page; once."""
        if self.retired:
            return
        if self.unsaved and self.hand_off is not None:
            self.save()
        self.retired = True
        self.finder.stop()
        for task in (self._waiting, self._saving):
            if task is not None:
                task.cancel()
        self.say("")
        self.widget.on_msg(self._hear, remove=True)
        self.widget.unobserve(self._hear_setting, list(SETTINGS))

    def close(self) -> None:
        """Take the desk off the page altogether."""
        links = (self.hand_off.links,) if self.hand_off else ()
        for widget in (*links, self.widget, self._links_room, self.box):
            widget.close()

    def __repr__(self) -> str:
        return f"<desk {self.keep_file.name}: {len(self.state.shown)} shown, {len(self.kept)} kept>"

    def _repr_html_(self) -> str:
        # In the order of the deal: sorting would score a whole wall before it is first seen.
        shown = [self.state.as_shown(card) for card in self.state.shown]
        return still_picture(shown, self.state.check_for)

    def _ipython_display_(self) -> None:
        show_live(self.box._repr_mimebundle_() or {}, self._repr_html_(), repr(self))


def _check_of(state: DeskState) -> tuple[Length, Check | None]:
    """What files and drawings take of the desk's check."""
    return state.size, state.uneven_check


# Requests that only answer, with bytes beside the fields.
_WITH_BYTES: dict[str, Callable[[Desk, Request], tuple[dict[str, Any], list[bytes]]]] = {
    "look": lambda desk, request: look(desk.state, whole(request, "number"), desk.widget.light),
    "derive": lambda desk, request: derived_fields(desk.state, request),
    "encode": lambda desk, request: ({}, [encoded(request, desk.widget.light)]),
    "proof": export.proof,
}
