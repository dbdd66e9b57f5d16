"""The fields of the hand-off form: what a printer, a mill and a shop may ask for."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from html import escape
from textwrap import shorten
from typing import Any

import ipywidgets

from checkcloth.desk.forms.file_field import FileField
from checkcloth.desk.forms.form_parts import Fold, form_style
from checkcloth.desk.forms.hand_off_reading import DEFAULTS
from checkcloth.export.print.press import INTENTS

__all__ = ["HandOffFields"]

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
        self, changed: Callable[[str], None], at_first: Mapping[str, Any] | None = None
    ) -> None:
        wide = {"description_width": "initial"}
        line = ipywidgets.Layout(width="auto", min_width="0")
        self.inputs: dict[str, Any] = {}
        for name, (words, hint) in _TEXTS.items():
            self.inputs[name] = ipywidgets.Text(
                description=words, placeholder=hint, style=wide, layout=line,
                continuous_update=False,
            )  # fmt: skip
        for name, (words, options) in _CHOICES.items():
            self.inputs[name] = ipywidgets.Dropdown(
                description=words, options=options, style=wide, layout=line
            )
        for name, words in _TICKS.items():
            self.inputs[name] = ipywidgets.Checkbox(description=words, indent=False, layout=line)
        self.show(DEFAULTS | dict(at_first or {}))
        self.errors = {name: ipywidgets.HTML() for name in self.inputs}
        self.profile = FileField(
            "Press profile: choose an ICC file, or drop one here", self._take, ".icc,.icm"
        )
        self._taken: tuple[str, bytes] | None = None
        self.see_proof = ipywidgets.Button(
            description="See it proofed", layout=ipywidgets.Layout(width="auto")
        )
        self.proof = ipywidgets.HTML()
        self.proof.add_class("cc-proof")
        self._all: list[Any] = [*self.inputs.values(), *self.errors.values()]
        self._all += [self.profile, self.see_proof, self.proof]
        for name, widget in self.inputs.items():
            widget.observe(lambda _, name=name: changed(name), "value")
        for error in self.errors.values():
            error.layout.display = "none"
        self._lay_out()
        for widget in self.inputs.values():
            widget.observe(lambda _: self._name_folds(), "value")
        self._name_folds()

    def _lay_out(self) -> None:
        ticks = self._keep(ipywidgets.Box([self._field("zipped"), self._field("replace")]))
        ticks.add_class("cc-ticks")
        first = self._grid(*map(self._field, ("name", "folder", "resolutions", "paper")))
        parts = {
            "cloth": ("A piece of cloth", ("width", "length", "cut")),
            "printer": ("More for the printer", ("plates", "press", "intent", "black_point")),
            "mill": (
                "More for the mill",
                ("ends", "picks", "warp_take_up", "weft_take_up", "waste"),
            ),
            "shop": ("More for the shop", ("thumbnails", "sizes")),
        }
        self.folds = {}
        self.fold_of: dict[str, str] = {}
        for part, (title, names) in parts.items():
            note = self._keep(ipywidgets.HTML(f"<p>{_NOTES[part]}</p>"))
            note.add_class("cc-note")
            fields = [self._field(name) for name in names]
            if part == "printer":
                fields.insert(1, self.profile)
            inside = [note, self._grid(*fields)]
            if part == "printer":
                inside += [self.see_proof, self.proof]
            self.folds[part] = Fold(title, self._keep(ipywidgets.VBox(inside)))
            self.fold_of |= dict.fromkeys(names, part)
        folds = self._keep(ipywidgets.VBox([fold.box for fold in self.folds.values()]))
        folds.add_class("cc-folds")
        self.box = self._keep(ipywidgets.VBox([self._keep(form_style()), first, folds, ticks]))
        self.box.add_class("cc-hand-off-fields")

    def _keep(self, widget: Any) -> Any:
        self._all.append(widget)
        return widget

    def _grid(self, *fields: Any) -> Any:
        grid = self._keep(ipywidgets.Box(fields))
        grid.add_class("cc-form-grid")
        return grid

    def _field(self, name: str) -> Any:
        box = self._keep(ipywidgets.VBox([self.inputs[name], self.errors[name]]))
        box.add_class("cc-form-field")
        return box

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
        error, field = self.errors[name], self.inputs[name]
        if words:
            error.value = f'<p class="cc-wrong-field" role="alert">{escape(words)}</p>'
            error.layout.display = ""
            field.add_class("cc-is-wrong")
            if name in self.fold_of:
                self.folds[self.fold_of[name]].open = True
        else:
            # Not emptied: the style sheet keeps its room until no button of the mouse is down.
            error.value = error.value.replace(
                '"cc-wrong-field" role="alert"', '"cc-wrong-field cc-righted" aria-hidden="true"'
            )
            field.remove_class("cc-is-wrong")

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
            self.folds[part].tell(said)

    @property
    def widgets(self) -> list[Any]:
        """Every widget, for closing."""
        return [*self._all, *(widget for fold in self.folds.values() for widget in fold.widgets)]
