"""A session at a desk: its history, its status, its widget and its file."""

from __future__ import annotations

import asyncio
import time
from collections.abc import Callable, Iterable, Iterator, Mapping
from pathlib import Path
from typing import Any

import ipywidgets
import traitlets

from checkcloth.arguments import Floats, as_whole
from checkcloth.cloth.chosen import ChosenSet
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.palette import Palette
from checkcloth.colour.vision import VISIONS
from checkcloth.desk.background import debounce, keep_fault
from checkcloth.desk.client import hear, pages_noted, read_sent_back, write_range_page
from checkcloth.desk.forms.foretell import foretold_fields
from checkcloth.desk.forms.hand_off import HandOffForm
from checkcloth.desk.keep_file import KeepFile, earlier_sets
from checkcloth.desk.palette_files import Fault, PaletteFiles
from checkcloth.desk.payloads import (
    derived_fields,
    encoded,
    facts,
    look,
    offers,
    settings,
    still_picture,
    vision_choices,
)
from checkcloth.desk.ranges import (
    MOST_LISTED,
    export_settings,
    known_look,
    known_settings,
    look_setting,
    range_entries,
    range_name,
    range_path,
    renamed_defaults,
    with_range,
)
from checkcloth.desk.read_colours import (
    ReadColours,
    colour_rows,
    colours_of_rows,
    read_colour_file,
    read_colours,
)
from checkcloth.desk.state import choices, ideas
from checkcloth.desk.state.edits import goes_on, number_made
from checkcloth.desk.state.fields import Request, text, whole
from checkcloth.desk.state.palettes import (
    add_palette,
    colours_of_card,
    find_palette,
    kept_with,
    with_files_read,
)
from checkcloth.desk.state.requests import (
    MOST_STRIPES,
    SETTINGS,
    handle,
    held_words,
    undo_group,
)
from checkcloth.desk.state.sort_filter import arrange
from checkcloth.desk.state.state import DeskState, History
from checkcloth.desk.wall_sync import WallSync
from checkcloth.desk.widget import DeskWidget
from checkcloth.errors import ArgumentError, CheckclothError
from checkcloth.export.data.saved import open_set
from checkcloth.files.names import safe_stem
from checkcloth.scoring.vocabulary import COLUMNS


class Desk:
    """A desk of colourways; make one with :func:`open_desk`.

    Nothing that a session holds holds the session: it hands on plain data, and hears its
    widget by callbacks.

    Attributes
    ----------
    widget : DeskWidget
        Its settings (``size``, ``strength``, ``stripes``, ``palette``, ``ground``, ``mixing``,
        ``count``) can be read, set, observed and linked.
    box : ipywidgets.VBox
        The widget, and under it the form.
    kept : ChosenSet
    shown : list of Colourway
        The wall as it looks now, in its order, without what is hidden.
    hand_off : HandOffForm or None
        The form under the wall; none once another desk has gone on from this one.
    left_out : tuple of str
        A line for each palette that could not be read.
    palette_files : PaletteFiles
        The files that its palettes come from and go to.
    keep_file : KeepFile
        The range: its name, and its file from the first colourway that is kept.
    look_settings : dict
        How the range is looked at: ``board`` and ``scale``.
    troubles : list of str
        Tracebacks of faults of the kit itself, for a report.
    """

    def __init__(
        self,
        history: History,
        keep_file: KeepFile,
        *,
        form: HandOffForm | None = None,
        files: PaletteFiles | None = None,
        faults: tuple[Fault, ...] = (),
        tell_palettes: Callable[[tuple[Palette, ...]], object] = lambda _: None,
    ) -> None:
        self.history = history
        self.keep_file = keep_file
        self.palette_files = files or PaletteFiles(home=keep_file.folder)
        self.faults = faults
        self._tell_palettes = tell_palettes
        self.look_settings: dict[str, str] = {}
        self.message = ""
        self.saved = ""
        self._save_fault = ""
        # What was last saved with the range, also what only another kit knows.
        self._noted: dict[str, Any] = {}
        self._unsaved = False
        self._saving: asyncio.Task[None] | None = None
        self.offer = earlier_sets(keep_file.folder, keep_file.path)
        self.retired = False
        if form is None:
            first = {"name": keep_file.name, "folder": f"out/{keep_file.name}"}
            form = HandOffForm(self.kept, [], first)
        # A form that goes on from another desk keeps all that was filled in, or is being written.
        self.hand_off: HandOffForm | None = form
        form.on_change = self._save_soon
        self.troubles = form.task.troubles
        if not self.state.dealt:
            self._first_draw()
        self.widget = DeskWidget(
            columns=[list(pair) for pair in COLUMNS.items()],
            visions=vision_choices(),
            born=time.time(),
            choices={},
        )
        self._sync = WallSync(self.widget)
        self._waiting: asyncio.Task[None] | None = None
        # The form goes on to the next desk; what held it here is hidden then, and stays: a view
        # taken out of a box that the page is still putting in place makes ipywidgets complain.
        self._form_room = ipywidgets.VBox([form.box], layout={"overflow": "visible"})
        self.box = ipywidgets.VBox([self.widget, self._form_room])
        self._show(None)
        self.widget.on_msg(self._hear)
        self.widget.observe(self._hear_setting, list(SETTINGS))

    def _first_draw(self) -> None:
        state = ideas.fit_stripes(self.state)
        self.message = held_words(self.state, {"do": "palette"}, state)
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
        """The kept colourways as a set, on the desk's check size."""
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

    def show(self, colourways: Iterable[Colourway], origin: str = "shown by code") -> None:
        """Put other colourways on the wall, such as the outcome of a search.

        Each keeps its own strength and mixing until the slider or the choice is moved. Where
        all have equally many stripes the slider of stripes stands there.
        """
        members, origin = list(colourways), origin or "shown by code"
        counts = {len(member.stripes) for member in members}
        same = counts.pop() if len(counts) == 1 else 0
        strengths = {member.strength for member in members}
        mixings = {member.mixing for member in members}
        state = self.state.deal(
            members,
            origin,
            {"how": origin},
            strength=strengths.pop() if len(strengths) == 1 else None,
            mixing=mixings.pop() if len(mixings) == 1 else None,
            stripes=same if 1 <= same <= MOST_STRIPES else self.state.stripes,
        )
        self._commit(state, f"show {origin}")

    def keep(self, number: int) -> None:
        """Keep a colourway as it shows, by its number on the wall, counted from 1."""
        order = self._order()
        index = order[as_whole(number, "number", 1, len(order)) - 1]
        self._commit(choices.keep(self.state, self.state.shown[index].number), "keep one")

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
            self._show(before)
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
            fields, buffers = self._do(request)
        except (CheckclothError, OSError) as error:
            field = getattr(error, "argument", "")
            return answer | {"error": str(error), "field": field}, []
        except Exception as error:
            words = keep_fault(self.troubles, error)
            self._say(f"Not done: {words}")
            return answer | {"error": words}, []
        return answer | fields, buffers

    def _do(self, request: Request) -> tuple[dict[str, Any], list[bytes]]:
        match request.get("do"):
            case "ping":
                return {}, []
            case "look":
                return look(self.state, whole(request, "number"))
            case "derive":
                return derived_fields(self.state, request)
            case "encode":
                return {}, [encoded(request)]
            case "undo":
                words = self.undo()
                self._say(f"Undone: {words}." if words else "Nothing to undo.")
            case "redo":
                words = self.redo()
                self._say(f"Done again: {words}." if words else "Nothing to redo.")
            case "vision":
                self._set_vision(text(request, "vision"))
            case "take":
                self._take(text(request, "file"))
            case "dismiss":
                self.offer, self.faults = [], ()
                self._say("All of it stays where it is.")
            case _:
                made = self._step(request)
                return ({} if made is None else {"number": made}), []
        return {}, []

    def _step(self, request: Request) -> int | None:
        """Take the step that is asked for; return the number of a card to be looked at then."""
        before = self.state
        after, words = handle(before, request)
        setting = request.get("do") in SETTINGS
        said = held_words(before, request, after) if setting else f"{words[:1].upper()}{words[1:]}."
        self.message = said
        if after is before:
            self._put_facts()
        else:
            self._commit(after, words, undo_group(request))
        return number_made(before, request, after)

    def _set_vision(self, vision: str) -> None:
        """Look at the wall with another colour vision; scores follow."""
        if vision not in VISIONS:
            raise ArgumentError("vision", f"one of {', '.join(VISIONS)}", vision)
        self.widget.vision = vision
        self._sync.scores = {}
        self._say("" if vision == "normal" else f"Seen as {vision}; scores and sorting follow.")
        self._score_soon()

    def _take(self, name: str) -> None:
        if name not in [one.path.name for one in self.offer]:
            raise ArgumentError("file", "one that is offered", name)
        before = self.state
        after = choices.take(before, open_set(self.keep_file.folder / name))
        self.offer = []
        many = len(after.kept) - len(before.kept)
        self.message = f"Take {many} kept earlier, from {name}."
        self._commit(after, f"take {many} kept earlier, from {name}")
        self._put_facts()

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
            self._step({"do": name, "value": value})
        except (CheckclothError, OSError) as error:
            self._say(f"Not done: {error}")
        except Exception as error:
            self._say(f"Not done: {keep_fault(self.troubles, error)}")
        self._sync.show_settings(self.state)

    # -- changing -------------------------------------------------------------------------------

    def _commit(self, state: DeskState, words: str, group: str = "") -> None:
        """Make ``state`` the present one, under words that undo can show."""
        before = self.state
        self.history = self.history.step(state, words, group)
        self._show(before)

    def _show(self, before: DeskState | None, *, save: bool = True) -> None:
        """Let page, form and file follow the state."""
        now = self.state
        self._sync.show(before, now)
        kept = before is None or before.kept is not now.kept or before.client != now.client
        if self.hand_off is not None and (kept or before is None or before.size != now.size):
            self.hand_off.chosen = self.kept
        if not save or before is None:
            pass
        elif kept:
            self.save()
        elif before.size != now.size:
            self._save_soon()
        if before is not None and before.palettes is not now.palettes:
            self._follow_palettes(before)
        moved = {"strength": now.strength, "mixing": now.mixing, "size": now.size}
        if before is not None and before.with_(**moved) == now:
            self._score_soon()  # under the hand: all but what it moves can wait
            return
        self._put_facts()
        if not self._sync.scores:
            self._score_soon()

    def save(self) -> None:
        """Write the range to its file; a failure is said, and loses nothing in memory."""
        self._unsaved, self._save_fault = False, ""
        try:
            path = self.keep_file.save(self._range())
        except (OSError, CheckclothError) as error:
            self._save_fault = str(error)
            self.saved = f"NOT SAVED, only in this kernel: {error}"
            return
        self.saved = f"saved in {path.name}" if path else ""
        if path and self.keep_file.left:
            left, self.keep_file.left = self.keep_file.left, ""
            self.message = f"{left} was changed by another desk: this one goes on in {path.name}."

    def _range(self) -> ChosenSet:
        """The kept as they are saved: with how they are looked at and exported."""
        if self.hand_off is not None and (self.keep_file.path or self.state.kept):
            values = export_settings(self.hand_off.fields.values, self.keep_file.folder)
            self._noted = self._noted | {"export": values}
        self._noted = self._noted | self.look_settings
        if self.state.client or "client" in self._noted:
            self._noted["client"] = self.state.client
        kept = self.kept
        return ChosenSet(kept.check, kept.chosen, kept.name, self._noted)

    def _save_soon(self) -> None:
        """Save once nothing moves: sizes and fields of the export change in runs."""
        if self.keep_file.path is not None:
            self._unsaved = True
            self._saving = debounce(self._saving, self._save_unsaved, self._failed)

    def _save_unsaved(self) -> Iterator[None]:
        if self._unsaved and not self.retired:
            self.save()
            self._put_facts()
        yield

    def _say(self, message: str) -> None:
        """Put a message on the page's status line."""
        self.message = message
        self._put_facts()

    def _put_facts(self) -> None:
        """Tell the page what stands around the wall: undo, locks, messages."""
        with self.widget.hold_sync():
            self.widget.marks = {str(n): mark for n, mark in self.state.marks.items()}
            self.widget.facts = facts(self.history) | {
                "vision": self.widget.vision,
                "message": self.message,
                "saved": self.saved,
                "retired": self.retired,
                "offer": offers(self.offer),
                "left_out": list(self.left_out),
                "faults": [list(fault) for fault in self.faults],
                "palettes": [[palette.name, len(palette)] for palette in self.state.palettes],
                "range": self._range_facts(),
            }

    def _range_facts(self) -> dict[str, Any]:
        path = self.keep_file.path
        return {
            "name": self.keep_file.name,
            "file": path.name if path else "",
            "saved": self.saved,
            **self.look_settings,
        }

    def _score_soon(self) -> None:
        self._waiting = debounce(self._waiting, self._settle, self._failed)

    def _settle(self) -> Iterator[None]:
        """Put up what followed from the last move; gives way after every short part."""
        if not goes_on(self.history.undo_group):
            self.history = self.history.pause()
        self._put_facts()
        yield
        if not self._sync.scores:
            yield from self._sync.score_parts(self.state)
        self._sync.put_order(self.state)

    def _failed(self, error: Exception) -> None:
        self._say(f"Not done: {keep_fault(self.troubles, error)}")

    # -- palettes -------------------------------------------------------------------------------

    def refresh_palettes(self) -> None:
        """Take in palette files that came or were changed since; undo does not take them back."""
        new, changed, self.faults = self.palette_files.refresh(self.state.palettes)
        if new or changed:
            before = self.state
            self.history = with_files_read(self.history, new, changed)
            names = ", ".join([*(palette.name for palette in new), *changed])
            self.message = f"Read: {names}."
            self._show(before)
        self._put_facts()

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

    def _answer_colours(self, request: Request, file: bytes = b"") -> dict[str, Any]:
        """Read colours from what was pasted, typed or dropped, or from a card; save nothing."""
        name = str(request.get("name", "the text"))
        if file:
            count = as_whole(request.get("count", 12), "count", 6, 24)
            found = read_colour_file(file, name, count)
        elif "number" in request:
            found = ReadColours(colours_of_card(self.state, whole(request, "number")))
        else:
            found = read_colours(text(request, "text"), name)
        left_out = [[one.line, one.text, one.why] for one in found.left_out]
        return {"colours": colour_rows(found.colours), "left_out": left_out}

    def _answer_save_palette(self, request: Request) -> dict[str, Any]:
        colours = colours_of_rows(request.get("colours"))
        taken = [palette.name for palette in self.state.palettes]
        made = self.palette_files.create(range_name(request.get("name")), colours, taken)
        self.message = f"Palette {made.name} saved."
        self._commit(add_palette(self.state, made), f"palette {made.name}")
        return {"palette": made.name}

    def _answer_edit_palette(self, request: Request) -> dict[str, Any]:
        """Edit a palette; say who still has the colour as it was, for kept ones hold their own."""
        before = self.state
        self._step(request)
        name, index = text(request, "palette"), whole(request, "index")
        old = find_palette(before, name).colours[index]
        repainted = request["field"] in ("colour", "remove")
        return {"old": old.hex, "kept": kept_with(before, old) if repainted else []}

    def _answer_palette(self, request: Request) -> dict[str, Any]:
        state = self.state
        rows = []
        for colour in find_palette(state, text(request, "palette")):
            kept = kept_with(state, colour)
            rows.append(
                [colour.name, colour.hex, colour.role, len(kept), colour.note, colour.text, kept]
            )
        return {"colours": rows}

    def _answer_refresh(self, _: Request) -> dict[str, Any]:
        self.refresh_palettes()
        return {}

    # -- ranges ---------------------------------------------------------------------------------

    def _answer_ranges(self, _: Request) -> dict[str, Any]:
        ranges = earlier_sets(self.keep_file.folder, most=MOST_LISTED)
        return {"ranges": range_entries(ranges, self.keep_file.path)}

    def _answer_open_range(self, request: Request) -> dict[str, Any]:
        path = range_path(self.keep_file.folder, text(request, "path"))
        keep_file, chosen = KeepFile.opened(path)
        self._leave_range()
        self._enter_range(keep_file, chosen)
        return self._said(f"Range {keep_file.name} opened: {len(chosen)} kept.")

    def _answer_new_range(self, request: Request) -> dict[str, Any]:
        name = range_name(request.get("name", self.keep_file.name))
        self._leave_range()
        self._enter_range(KeepFile(self.keep_file.folder, name), None)
        return self._said(f"Range {name} begun; its file comes with the first that is kept.")

    def _answer_copy_range(self, request: Request) -> dict[str, Any]:
        name = range_name(request.get("name", f"{self.keep_file.name} copy"))
        self._leave_range()
        old = self.keep_file
        self.keep_file = KeepFile(old.folder, name)
        self._rename_defaults(old.name, name)
        self._after_rename()
        return self._said(f"Going on in a copy, {name}; {old.name} stays as it was.")

    def _answer_name_range(self, request: Request) -> dict[str, Any]:
        name, old = range_name(request.get("name")), self.keep_file.name
        if name != old:
            self._rename_defaults(old, name)
            noted = self._range()
            try:
                path = self.keep_file.rename(
                    name, ChosenSet(noted.check, noted.chosen, name, noted.settings)
                )
            except BaseException:
                self._rename_defaults(name, old)
                raise
            self.saved = f"saved in {path.name}" if path else ""
            self._after_rename()
        return self._said(f"The range is called {name}.")

    def _answer_look_setting(self, request: Request) -> dict[str, Any]:
        """Note how the range is looked at; saved with it, and no step of the desk."""
        name, value = look_setting(text(request, "name"), request.get("value"))
        if self.look_settings.get(name) != value:
            self.look_settings = self.look_settings | {name: value}
            self._save_soon()
            self._put_facts()
        return {}

    def _answer_foretell(self, request: Request) -> dict[str, Any]:
        asked = request.get("fields", {})
        if not isinstance(asked, Mapping):
            raise ArgumentError("fields", "the fields of the export by name", asked)
        values = self.hand_off.fields.values if self.hand_off is not None else {}
        return foretold_fields(self.kept, values | dict(asked))

    # -- the client -----------------------------------------------------------------------------

    def _answer_range_page(self, request: Request) -> dict[str, Any]:
        """Write the page for the client beside the range, and remember its reference."""
        made = write_range_page(self.kept, self.keep_file.folder, request)
        self._noted = self._noted | {"pages": [*pages_noted(self._noted), made.note]}
        self.save()
        self._say(f"Page for the client: {made.path.name}, reference {made.note['reference']}.")
        return {"file": made.path.name, "reference": made.note["reference"]}

    def _answer_sent_back(self, request: Request, file: bytes = b"") -> dict[str, Any]:
        """Put what a client sent back on the kept colourways: one step, which undo takes back."""
        answers = read_sent_back(request, file)
        anyway = bool(request.get("anyway"))
        try:
            heard = hear(self.state, answers, pages_noted(self._noted), anyway=anyway)
        except ArgumentError as error:
            if error.argument != "reference":
                raise
            return {"refused": str(error)}  # the page asks whether to read them all the same
        self.message = heard.fields["words"]
        self._commit(heard.state, heard.words)
        self._put_facts()
        return heard.fields

    def _leave_range(self) -> None:
        """Save the range that is here; refuse to leave it where that cannot be."""
        self.save()
        if self._save_fault:
            raise ArgumentError("range", "saved before it is left", words=self._save_fault)

    def _enter_range(self, keep_file: KeepFile, chosen: ChosenSet | None) -> None:
        """Go on with another range; undo does not lead back to the one before, its file does."""
        before = self.state
        self.keep_file, self.saved = keep_file, ""
        self.history = History(with_range(before, chosen))
        noted = chosen.settings if chosen is not None else {}
        self._noted, self.look_settings = dict(noted), known_look(noted)
        first = {"name": keep_file.name, "folder": f"out/{safe_stem(keep_file.name, 'range')}"}
        self._fill_form(first | known_settings(noted.get("export")))
        if keep_file.path is not None:
            self.saved = f"saved in {keep_file.path.name}"
        self.offer = [one for one in self.offer if one.path != keep_file.path]
        self._unsaved = False
        if self.hand_off is not None:
            self.hand_off.chosen = self.kept
        self._show(before, save=False)

    def _rename_defaults(self, old: str, new: str) -> None:
        if self.hand_off is not None:
            self._fill_form(renamed_defaults(self.hand_off.fields.values, old, new))

    def _fill_form(self, values: Mapping[str, Any]) -> None:
        """Fill fields of the export without taking that for a change that a person made."""
        form = self.hand_off
        if form is None:
            return
        form.on_change = lambda: None
        for name, value in values.items():
            try:
                form.fields.show({name: value})
            except traitlets.TraitError:
                continue  # no choice of this kit: the field stays as it is
        form.on_change = self._save_soon

    def _after_rename(self) -> None:
        if self.hand_off is not None:
            self.hand_off.chosen = self.kept
        self.save()

    def _said(self, message: str) -> dict[str, Any]:
        self._say(message)
        return {}

    # -- opening again, and ending -------------------------------------------------------------

    def reopened(
        self, state: DeskState | None, files: PaletteFiles, faults: tuple[Fault, ...] = ()
    ) -> Desk:
        """Return a desk that goes on from this one: wholly, or from ``state`` with the kept."""
        if self._unsaved:
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
                stripes = now.locked_stripes
                going = going.with_(locked_ground=now.locked_ground, locked_stripes=stripes)
            history = History(going)
        form, self.hand_off = self.hand_off, None
        self._form_room.layout.display = "none"
        desk = Desk(
            history,
            self.keep_file,
            form=form,
            files=files,
            faults=faults,
            tell_palettes=self._tell_palettes,
        )
        desk.offer, desk.saved, desk.look_settings = self.offer, self.saved, self.look_settings
        desk._noted = self._noted
        desk.widget.vision = self.widget.vision
        desk._put_facts()
        return desk

    def retire(self) -> None:
        """Stop listening, and say so on the page."""
        if self._unsaved and self.hand_off is not None:
            self.save()
        self.retired = True
        for task in (self._waiting, self._saving):
            if task is not None:
                task.cancel()
        self._say("")
        self.widget.on_msg(self._hear, remove=True)
        self.widget.unobserve(self._hear_setting, list(SETTINGS))

    def close(self) -> None:
        """Take the desk off the page altogether."""
        form = self.hand_off.widgets if self.hand_off else ()
        for widget in (*form, self.widget, self._form_room, self.box):
            widget.close()

    def __repr__(self) -> str:
        return f"<desk {self.keep_file.name}: {len(self.state.shown)} shown, {len(self.kept)} kept>"

    def _repr_mimebundle_(self, **kwargs: Any) -> dict[str, Any]:
        bundle: dict[str, Any] = dict(self.box._repr_mimebundle_() or {})
        # In the order of the deal: sorting would score a whole wall before it is first seen.
        dealt = [self.state.as_shown(card) for card in self.state.shown]
        return bundle | {"text/plain": repr(self), "text/html": still_picture(dealt)}


# Requests that are no step of the state alone: they read or write files, or only answer.
_ANSWERS: dict[str, Callable[..., dict[str, Any]]] = {
    "read_colours": Desk._answer_colours,
    "save_palette": Desk._answer_save_palette,
    "edit_palette": Desk._answer_edit_palette,
    "palette": Desk._answer_palette,
    "refresh": Desk._answer_refresh,
    "ranges": Desk._answer_ranges,
    "open_range": Desk._answer_open_range,
    "new_range": Desk._answer_new_range,
    "copy_range": Desk._answer_copy_range,
    "name_range": Desk._answer_name_range,
    "look_setting": Desk._answer_look_setting,
    "foretell": Desk._answer_foretell,
    "range_page": Desk._answer_range_page,
    "sent_back": Desk._answer_sent_back,
}
