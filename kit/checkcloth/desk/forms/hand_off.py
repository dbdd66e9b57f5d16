"""The hand-off form: choose what to write, press, see how far it is, stop, find the files.

What the fields say is read in ``hand_off_order``, without widgets.
"""

from __future__ import annotations

import contextlib
import os
from collections.abc import Callable, Iterator, Mapping
from functools import partial
from html import escape
from itertools import chain
from pathlib import Path
from textwrap import shorten
from typing import Any
from urllib.parse import quote

import ipywidgets

from checkcloth.cloth.chosen import ChosenSet
from checkcloth.desk.background import StoppedError, Task
from checkcloth.desk.forms.foretell import replacing_words
from checkcloth.desk.forms.hand_off_order import (
    DEFAULTS,
    beside,
    field_of,
    read_field,
    read_order,
)
from checkcloth.desk.forms.parts import FileField, Fold, classed, field, form_style
from checkcloth.errors import ArgumentError, CheckclothError
from checkcloth.export.hand_off.hand_off import HandOff, amount, hand_off
from checkcloth.export.members import label_of, names_in
from checkcloth.export.picture.lettering import lacking
from checkcloth.export.print.press import INTENTS, Press
from checkcloth.export.print.proof import soft_proof
from checkcloth.files.live_output import in_notebook

# Words on the page, and what stands in an empty field.
_TEXTS = {
    "name": ("Name of the set, on its sheets", "Tea tables, first round"),
    "folder": ("Folder, beside this notebook", "out/tea-table"),
    "resolutions": ("Tile resolutions, dpi", "150, 300"),
    "width": ("Width", "60 in, 150 cm"),
    "length": ("Length", "10 in, 50 cm"),
    "press": ("or its path from here", "profiles/press.icc"),
    "ends": ("Ends", "64 per in, 24 per cm"),
    "picks": ("Picks", "as the ends"),
    "warp_take_up": ("Warp take-up, %", "8"),
    "weft_take_up": ("Weft take-up, %", "6"),
    "waste": ("Waste, %", "5"),
    "thumbnails": ("Thumbnails, pixels a side", "none"),
    "sizes": ("The same at other check sizes", "1/4 in, 1 in, 2 cm"),
}
# Where no cells are, nobody knows of a notebook either.
_ON_A_PAGE = {"folder": ("Folder, where the desk runs", "out/tea-table")}
_CHOICES: dict[str, tuple[str, list[tuple[str, Any]]]] = {
    "paper": ("Specification sheet", [("A4", "A4"), ("US Letter", "Letter"), ("none", "")]),
    "cut": ("Cut", [("in whole repeats", False), ("to exactly this size", True)]),
    "plates": (
        "Plates",
        [("none", ""), ("one a colour, with tints", "colours"), ("one a tone, solid", "tones")],
    ),
    "intent": ("Rendering intent", [(intent, intent) for intent in INTENTS]),
}
_TICKS = {
    "zipped": "as one zip file too",
    "replace": "replace an earlier export there",
    "keep_other_sizes": "but keep its files of other check sizes",
    "black_point": "black-point compensation",
}
_NOTES = {
    "cloth": "One larger picture of each colourway, and the piece that a thread plan is for.",
    "mill": "A thread plan for the piece of cloth: orders, totals, metres of yarn, a draft. "
            "Take-up and waste only stand in: ask the mill for its own.",
    "printer": "Plates are true size, with register marks. A profile shows what the press makes "
               "of each tone; ask the printer for it, and agree a strike-off all the same.",
    "shop": "Several thumbnail sides, or check sizes, are parted by commas.",
}  # fmt: skip
# Fields that are folded away, each part under a title.
_PARTS = {
    "cloth": ("A piece of cloth", ("width", "length", "cut")),
    "printer": ("More for the printer", ("plates", "press", "intent", "black_point")),
    "mill": ("More for the mill", ("ends", "picks", "warp_take_up", "weft_take_up", "waste")),
    "shop": ("More for the shop", ("thumbnails", "sizes")),
}
_MOST_ROWS = 60
# Fields on which it depends what of an earlier export goes.
_WHERE = ("folder", "replace", "keep_other_sizes", "sizes")
# What people open first, by the start of the name.
_FIRST = {
    "contact-sheet": "Contact sheet",
    "specification": "Specification sheet",
    "coordinates/coordinates": "Sheet of all sizes",
    "manifest": "Manifest",
}
_MOST_PROOFS, _MOST_NAMES = 6, 5
_NOTHING_KEPT = "Nothing is kept yet: tick a colourway on the wall first."


class HandOffFields:
    """The widgets by name, each with room for its error, and the boxes that hold them.

    Parameters
    ----------
    changed : callable
        Called with the name of each field that a person changed.
    at_first : mapping
        What fields hold at first, where not ``DEFAULTS``.
    """

    def __init__(
        self, changed: Callable[[str], object], at_first: Mapping[str, Any] | None = None
    ) -> None:
        self.inputs: dict[str, Any] = {
            **{
                name: field(ipywidgets.Text, words, placeholder=hint, continuous_update=False)
                for name, (words, hint) in _texts().items()
            },
            **{
                name: field(ipywidgets.Dropdown, words, options=options)
                for name, (words, options) in _CHOICES.items()
            },
            **{
                name: field(ipywidgets.Checkbox, words, indent=False)
                for name, words in _TICKS.items()
            },
        }
        self.show(DEFAULTS | dict(at_first or {}))
        self.errors = {name: ipywidgets.HTML() for name in self.inputs}
        for error in self.errors.values():
            error.layout.display = "none"
        self.profile = FileField(
            "Press profile: choose an ICC file, or drop one here", self._take, ".icc,.icm"
        )
        self._taken: tuple[str, bytes] | None = None
        self.see_proof = ipywidgets.Button(
            description="See it proofed", layout=ipywidgets.Layout(width="auto")
        )
        self.proof = classed(ipywidgets.HTML(), "cc-proof")
        self._all: list[Any] = [*self.inputs.values(), *self.errors.values()]
        self._all += [self.profile, self.see_proof, self.proof]
        self.folds: dict[str, Fold] = {}
        self.fold_of: dict[str, str] = {}
        self.box = self._lay_out()
        for name, widget in self.inputs.items():
            widget.observe(lambda _, name=name: changed(name), "value")
            widget.observe(lambda _: self._name_folds(), "value")
        self._name_folds()

    def _lay_out(self) -> Any:
        first_ticks = ("zipped", "replace", "keep_other_sizes")
        ticks = self._keep(ipywidgets.Box([self._field(name) for name in first_ticks]))
        classed(ticks, "cc-ticks")
        first = self._grid(*map(self._field, ("name", "folder", "resolutions", "paper")))
        for part, (title, names) in _PARTS.items():
            note = self._keep(classed(ipywidgets.HTML(f"<p>{_NOTES[part]}</p>"), "cc-note"))
            fields = [self._field(name) for name in names]
            if part == "printer":
                fields.insert(1, self.profile)
            inside = [note, self._grid(*fields)]
            if part == "printer":
                inside += [self.see_proof, self.proof]
            self.folds[part] = Fold(title, self._keep(ipywidgets.VBox(inside)))
            self.fold_of |= dict.fromkeys(names, part)
        folds = self._keep(ipywidgets.VBox([fold.box for fold in self.folds.values()]))
        classed(folds, "cc-folds")
        box = self._keep(ipywidgets.VBox([self._keep(form_style()), first, folds, ticks]))
        return classed(box, "cc-hand-off-fields")

    def _keep(self, widget: Any) -> Any:
        self._all.append(widget)
        return widget

    def _grid(self, *fields: Any) -> Any:
        return classed(self._keep(ipywidgets.Box(fields)), "cc-form-grid")

    def _field(self, name: str) -> Any:
        box = self._keep(ipywidgets.VBox([self.inputs[name], self.errors[name]]))
        return classed(box, "cc-form-field")

    def _take(self, name: str, content: bytes) -> None:
        """Take a profile that was chosen: its name stands in the field; clearing drops it."""
        self._taken = (name.strip() or "profile", content)
        self.inputs["press"].value = ""  # so that another file of the same name is seen as new
        self.inputs["press"].value = self._taken[0]

    @property
    def values(self) -> dict[str, Any]:
        """What stands in the fields; of a press profile that was chosen, its bytes."""
        found = {name: widget.value for name, widget in self.inputs.items()}
        if self._taken is not None and found["press"] == self._taken[0]:
            found["press"] = self._taken[1]
        return found

    def show(self, values: Mapping[str, Any]) -> None:
        """Fill the fields."""
        for name, value in values.items():
            self.inputs[name].value = value

    def say_wrong(self, name: str, words: str) -> None:
        """Say beside a field what is wrong with it, and open the fold it is under; "" clears."""
        error, box = self.errors[name], self.inputs[name]
        if words:
            error.value = f'<p class="cc-wrong-field" role="alert">{escape(words)}</p>'
            error.layout.display = ""
            box.add_class("cc-is-wrong")
            if name in self.fold_of:
                self.folds[self.fold_of[name]].open = True
        else:
            # Not emptied: the style sheet keeps its room until no button of the mouse is down.
            error.value = error.value.replace(
                '"cc-wrong-field" role="alert"', '"cc-wrong-field cc-righted" aria-hidden="true"'
            )
            box.remove_class("cc-is-wrong")

    def _name_folds(self) -> None:
        """Say on each fold what is asked for under it, so that it can be read closed."""
        now = self.values
        cloth = [text.strip() for text in (now["width"], now["length"]) if text.strip()]
        plates = f"plates, {self.inputs['plates'].label}" if now["plates"] else "no plates"
        press = "a press profile" if now["press"].strip() else "no press profile"
        ends, sides, sizes = (
            shorten(now[name], 40, placeholder=" …") for name in ("ends", "thumbnails", "sizes")
        )
        words = {
            "cloth": " × ".join(cloth) or "none",
            "printer": f"{plates}; {press}",
            "mill": f"thread plan at {ends}" if ends else "no thread plan",
            "shop": (f"thumbnails of {sides} pixels" if sides else "no thumbnails")
                    + (f"; also at {sizes}" if sizes else ""),
        }  # fmt: skip
        for part, said in words.items():
            self.folds[part].add_words(said)

    @property
    def widgets(self) -> list[Any]:
        """Every widget, for closing."""
        return [*self._all, *(widget for fold in self.folds.values() for widget in fold.widgets)]


def _texts() -> dict[str, tuple[str, str]]:
    return _TEXTS if in_notebook() else _TEXTS | _ON_A_PAGE


class HandOffForm:
    """The form.

    Parameters
    ----------
    chosen : ChosenSet
        What is handed off; whoever owns the form sets it anew as it changes.
    troubles : list of str
        Takes the tracebacks of faults of the kit itself.
    at_first : mapping
        What fields hold at first, by name.

    Attributes
    ----------
    on_change : callable
        Called after a field was changed; whoever owns the form saves what stands in it.
    task : Task
        Its buttons, its bar, and what it says.
    made : HandOff or None
        What was written last.
    """

    def __init__(
        self,
        chosen: ChosenSet,
        troubles: list[str],
        at_first: Mapping[str, Any] | None = None,
    ) -> None:
        self.chosen = chosen
        self.made: HandOff | None = None
        self.on_change: Callable[[], object] = lambda: None
        self.fields = HandOffFields(self._changed, at_first)
        self.task = Task(
            "Export the kept", "files written", troubles,
            failed="Not exported, nothing changed: ",
            stopping="Stopping when the file under way is done …",
            stopped="Stopped: nothing was written, and what was there before is as it was.",
            mark=self._mark,
        )  # fmt: skip
        self.said = classed(self.task.said, "cc-said")
        self.links = ipywidgets.Output()
        self._heading = ipywidgets.HTML("<h3>Files for the printer, the mill and the shop</h3>")
        parts = [self._heading, self.fields.box, self.task.row, self.said, self.links]
        self.box = classed(ipywidgets.VBox(parts), "cc-form", "cc-hand-off")
        self.task.start.on_click(lambda _: self._begin())
        self.fields.see_proof.on_click(lambda _: self.see_proof())

    # -- what the buttons do; also for tests and for code ----------------------------------------

    def run(self) -> HandOff | None:
        """Write what the fields ask for, and wait for it; None where that was refused."""
        work = self._work()
        return self.made if work and self.task.run(work, self._finish) else None

    def _begin(self) -> None:
        if self.task.running:
            return
        work = None
        with self.task.saying_faults():
            work = self._work()
        if work is not None:
            self.task.begin(work, self._finish)

    def see_proof(self) -> None:
        """Show under the press profile what the press makes of the kept colourways."""
        self.fields.proof.value = ""
        with self.task.saying_faults():
            if self._check_field("press"):
                press = read_field("press", self.fields.values)
                self.fields.proof.value = proofs_html(self.chosen, press)

    # -- from the fields to the files ------------------------------------------------------------

    def _changed(self, name: str) -> None:
        if self._check_field(name) and name in _WHERE and self.fields.inputs["replace"].value:
            # Before it is done: which files of the earlier export would go.
            with self.task.saying_faults():
                self.task.say(replacing_words(self.chosen, self.fields.values))
        self.on_change()

    def _check_field(self, name: str) -> bool:
        """Say what is wrong with a field as soon as it is left; return whether nothing is."""
        try:
            read_field(name, self.fields.values)
        except (CheckclothError, OSError) as error:
            self.fields.say_wrong(name, beside(error))
            return False
        self.fields.say_wrong(name, "")
        return True

    def _work(self) -> Callable[[], tuple[ChosenSet, HandOff]] | None:
        """Return what is to be done, or say beside each field what is wrong."""
        chosen = self.chosen
        if not len(chosen):
            self.task.say(_NOTHING_KEPT, alert=True)
            return None
        order, faults = read_order(self.fields.values, chosen)
        for name in self.fields.inputs:
            self.fields.say_wrong(name, faults.get(name, ""))
        if faults:
            self._refuse(len(faults))
            return None
        self.links.outputs = ()
        named = ChosenSet(chosen.check, chosen.chosen, order.pop("name") or chosen.name)
        return partial(self._write, named, order)

    def _write(self, chosen: ChosenSet, order: dict[str, Any]) -> tuple[ChosenSet, HandOff]:
        more = dict(order)
        folder = Path(more.pop("folder"))
        with _parents(folder):
            return chosen, hand_off(chosen, chosen.check, folder, progress=self._progress, **more)

    def _progress(self, done: int, total: int, following: str) -> None:
        self.task.progress(done, total, following)
        if self.task.stop_asked.is_set():
            raise StoppedError

    def _finish(self, written: tuple[ChosenSet, HandOff]) -> None:
        chosen, self.made = written
        self.said.value = summary_html(chosen, self.made)
        self.links.outputs = links_to(self.made)

    # -- what is said ----------------------------------------------------------------------------

    def _mark(self, error: Exception) -> bool:
        """Say an error beside the field that it is about, if it is about one."""
        name = field_of(error)
        if name:
            self.fields.say_wrong(name, beside(error))
            self._refuse(1)
        return bool(name)

    def _refuse(self, faults: int) -> None:
        what = "the field marked" if faults == 1 else f"the {faults} fields marked"
        words = f"Not exported: see {what} “!” above. Nothing was changed."
        self.task.say(words, alert=True)

    @property
    def widgets(self) -> list[Any]:
        """Every widget, for closing."""
        return [*self.fields.widgets, *self.task.widgets, self.links, self._heading, self.box]


@contextlib.contextmanager
def _parents(folder: Path) -> Iterator[None]:
    """Make the folders that a folder is to lie in; take them away again if nothing comes."""
    missing = [parent for parent in folder.absolute().parents if not parent.exists()]
    try:
        try:
            folder.absolute().parent.mkdir(parents=True, exist_ok=True)
        except OSError as error:
            allowed, hint = "where folders can be made", f": {error.strerror}"
            raise ArgumentError("folder", allowed, str(folder), hint=hint) from None
        yield
    except BaseException:
        for parent in missing:
            with contextlib.suppress(OSError):  # not made, or no longer empty
                parent.rmdir()
        raise


# -- what was written ------------------------------------------------------------------------------


def summary_html(chosen: ChosenSet, made: HandOff) -> str:
    """Return as HTML how many files were written, how large, where, and which."""
    noun = "colourway" if len(chosen) == 1 else "colourways"
    lines = [
        f"<strong>{len(chosen)} {noun} exported to {escape(_short(made.folder))}</strong>: "
        f"{len(made.files)} files and their manifest, {amount(made.size)}."
    ]
    nameless = sum(not colourway.name for colourway in chosen)
    if nameless:
        lines.append(f"{nameless} without a name of its own: found as Colourway and a number.")
    archive = made.folder.with_name(f"{made.folder.name}.zip")
    if made.zipped is not None:
        lines.append(f"The same as one file: {escape(made.zipped.name)}, "
                     f"{amount(made.zipped.stat().st_size)}.")  # fmt: skip
    elif archive.exists():
        lines.append(f"{escape(archive.name)} beside it is of an earlier export, left as it was.")
    if made.went:
        names = escape(", ".join(made.went[:_MOST_NAMES]))
        more = len(made.went) - _MOST_NAMES
        lines.append(f"{len(made.went)} files of the earlier export are gone: {names}"
                     + (f" and {more} more." if more > 0 else "."))  # fmt: skip
    if made.kept:
        lines.append(f"{len(made.kept)} files of other check sizes are still there.")
    lack = lacking(chosen.name, *chain.from_iterable(map(names_in, chosen)))
    if lack:
        lines.append(f"The typeface of the sheets lacks {escape(lack[:20])}: a box stands for "
                     "each there; the names are whole in set.json and the tables.")  # fmt: skip
    if made.left_overs:
        lines.append("An earlier export was cut short; what it had left is cleared away.")
    lines.append(f'<span class="cc-where">{escape(str(made.folder))}</span>')
    rows = "".join(
        f"<tr><td>{escape(one.file)}</td><td>{amount(one.size)}</td>"
        f"<td>{escape(one.shows)}</td></tr>"
        for one in made.files[:_MOST_ROWS]
    )
    more = len(made.files) - _MOST_ROWS
    if more > 0:
        rows += f"<tr><td colspan=3>and {more} more, all listed in manifest.json</td></tr>"
    return (
        f'<p role="status">{" ".join(lines)}</p><details><summary>Each file</summary>'
        "<table><thead><tr><th>file</th><th>size</th><th>what it shows</th></tr></thead>"
        f"<tbody>{rows}</tbody></table></details>"
    )


def _short(path: Path) -> str:
    """Return a path from here on, where it lies under here."""
    here = Path.cwd()
    return path.relative_to(here).as_posix() if path.is_relative_to(here) else str(path)


def links_to(made: HandOff) -> tuple[dict[str, Any], ...]:
    """Return one notebook output with links that JupyterLab opens in tabs of its own.

    Links start from the notebook's folder; for what lies elsewhere there are none, as only
    what lies under JupyterLab's own folder can be opened. voilà opens none.
    """
    if not in_notebook():
        return ()
    # Set by the server: the notebook's path. Without it the kernel's folder is the best guess.
    name = Path(os.environ.get("JPY_SESSION_NAME", ""))
    home = name.parent if name.is_absolute() and name.parent.is_dir() else Path.cwd()
    if not made.folder.is_relative_to(home.resolve()):
        return ()
    there = made.folder.relative_to(home.resolve()).as_posix()
    names = [*(one.file for one in made.files), "manifest.json"]
    found = [
        (words, f"{there}/{file}")
        for start, words in _FIRST.items()
        for file in names[:]
        if file.startswith(start)
    ]
    links = [f'<a href="{quote(path)}">{escape(words)}</a>' for words, path in found[:8]]
    if made.zipped is not None:
        path = quote(f"{there}.zip")
        links.append(f'<a href="{path}" download>Download {escape(made.zipped.name)}</a>')
    html = "<p>Open: " + " · ".join(links) + "</p>"
    data = {"text/html": html, "text/plain": ", ".join(path for _, path in found)}
    return ({"output_type": "display_data", "data": data, "metadata": {}},)


def proofs_html(chosen: ChosenSet, press: Press | None) -> str:
    """Return as HTML the first colourways as designed and as printed, with what moves.

    Parameters
    ----------
    chosen : ChosenSet
    press : Press or None
        None where no profile is given.
    """
    if not len(chosen):
        return f"<p>{_NOTHING_KEPT}</p>"
    if press is None:
        return "<p>Give the press profile first; ask the printer for it.</p>"
    parts = [
        f"<p>As designed, left, and as proofed, right, for {escape(str(press))}. "
        "No screen is a proof: agree a strike-off.</p>"
    ]
    for index, colourway in enumerate(chosen.colourways[:_MOST_PROOFS]):
        proof = soft_proof(colourway, press)
        names = proof.named_outside
        words = f"greatest shift ΔE00 {proof.shift.max():.1f}; "
        if names:
            more = f" and {len(names) - _MOST_NAMES} more" if len(names) > _MOST_NAMES else ""
            words += f"out of the press's gamut: {', '.join(names[:_MOST_NAMES])}{more}"
        else:
            words += "every tone is in the press's gamut"
        caption = f"<b>{escape(label_of(colourway, index))}</b>: {escape(words)}"
        parts.append(f"<div>{proof.picture(240).image_html()}<p>{caption}</p></div>")
    left = len(chosen) - _MOST_PROOFS
    if left > 0:
        parts.append(f"<p>And {left} more: the export has a proof and a table of each.</p>")
    return "".join(parts)
