"""The fields of the search form: what can be asked for, in words of the trade."""

from __future__ import annotations

from typing import Any

import ipywidgets

from checkcloth.cloth.mixing import MIXINGS
from checkcloth.cloth.palette import Palette
from checkcloth.colour.vision import VISIONS
from checkcloth.errors import ArgumentError
from checkcloth.ideas.naming import distinct_names
from checkcloth.scoring.words import FAINT, MIXING_WORDS, ONE_COLOUR, VISION_WORDS
from checkcloth.search import MEASURES, Wanted, join_palettes
from checkcloth.search.wanted import measure_parts

__all__ = ["SearchFields"]

# Field of the brief, words on the page, value to begin with, greatest.
_APART = (
    ("ground_apart", "Every stripe from the ground, ΔE00", 12.0, 100.0),
    ("crossings_apart", "Every crossing from its stripes, ΔE00", 4.0, 100.0),
    ("stripes_apart", "Any two stripes, ΔE00", 6.0, 100.0),
    ("crossings_unlike", "Any two crossings, ΔE00", 0.0, 100.0),
    ("edge_lightness", "Every edge, ΔL*", 0.0, 100.0),
    ("edge_ratio", "Every edge, contrast ratio", 1.0, 21.0),
)
_NOTHING = {"edge_ratio": 1.0}  # what stands for "not asked"; 0 for all others
_HOW = (
    ("all, if under 15 minutes", ""),
    ("only for the exact best", "best"),
    ("a sample of a million", "sample"),
)
_KINDS = {
    "least_edge": "edge",
    "ground_single": "stripe on the ground",
    "single_crossing": "crossing on a stripe",
    "single_single": "pair of stripes",
}
_BY = {"de2000": "ΔE00", "dl": "ΔL*", "ratio": "ratio"}
_HOLD = (
    f"ΔE00 is a colour difference: at arm's length under {ONE_COLOUR:g} is one colour, "
    f"under {FAINT:g} is faint. 0 asks nothing; nor does a ratio of 1."
)
_SEVERAL = "Ctrl- or ⌘-click chooses several, and takes a choice back."


def _measure_words(measure: str) -> str:
    kind, by = measure_parts(measure)
    return f"weakest {_KINDS[kind]}, {_BY[by]}"


class SearchFields:
    """The widgets of the brief, and the brief that they say."""

    def __init__(self, palettes: list[Palette]) -> None:
        self.palettes = palettes
        wide = {"description_width": "initial"}
        line = ipywidgets.Layout(width="auto", min_width="0")

        def make(kind: Any, description: str, **more: Any) -> Any:
            return kind(description=description, style=wide, layout=line, **more)

        # Numbers are typed fields and not ipywidgets' sliders: those have no name that a
        # screen reader could say.
        def several(description: str, options: Any, value: Any = (), rows: int = 6) -> Any:
            return make(
                ipywidgets.SelectMultiple, description, options=options, value=value, rows=rows
            )

        names = [palette.name for palette in palettes]
        self.palette = several("Palettes", names, names[:1])
        self.stripes = make(ipywidgets.BoundedIntText, "Stripes", min=1, max=12, value=4)
        self.grounds = several("Grounds allowed", [])
        self.strengths = several(
            "Overlay strengths", [(f"{n} %", n / 100) for n in range(10, 101, 10)], (0.5, 0.7)
        )
        self.mixing = make(
            ipywidgets.Dropdown, "Mixing",
            options=[(MIXING_WORDS.get(name, name), name) for name in MIXINGS],
        )  # fmt: skip
        self.must = several("Must be in", [])
        self.must_not = several("Must not be in", [])
        self.apart = {
            name: make(
                ipywidgets.BoundedFloatText, words, value=value, min=_NOTHING.get(name, 0.0),
                max=top, step=0.5,
            )
            for name, words, value, top in _APART
        }  # fmt: skip
        self.order = ipywidgets.Checkbox(
            description="Lightness runs from ground over stripe to crossing", indent=False,
            layout=line,
        )  # fmt: skip
        self.visions = {
            vision: ipywidgets.Checkbox(description=VISION_WORDS[vision], indent=False, layout=line)
            for vision in VISIONS[1:]
        }
        self.measure = make(
            ipywidgets.Dropdown, "Best is the strongest in its",
            options=[(_measure_words(measure), measure) for measure in MEASURES],
        )  # fmt: skip
        self.shortlist = make(
            ipywidgets.BoundedIntText, "Colourways in the shortlist", min=1, max=60, value=24
        )
        self.how_choice = make(ipywidgets.Dropdown, "Look at", options=_HOW)
        self.seed = make(ipywidgets.BoundedIntText, "Seed of a sample", value=1, min=0, max=2**31)
        self.palette.observe(lambda _: self._offer_colours(), "value")
        self._offer_colours()
        self.box = self._lay_out()

    def _lay_out(self) -> Any:
        def part(title: str, note: str, *widgets: Any) -> Any:
            head = [ipywidgets.HTML(f"<b>{title}</b>")]
            if note:
                head.append(ipywidgets.HTML(f"<p>{note}</p>"))
                head[1].add_class("cc-note")
            box = ipywidgets.VBox([*head, *widgets])
            box.add_class("cc-part")
            return box

        also = ipywidgets.VBox([ipywidgets.HTML("<p>The same must hold …</p>")])
        also.children = (*also.children, *self.visions.values())
        parts = [
            part("From", _SEVERAL, self.palette, self.stripes, self.strengths, self.mixing),
            part("Colours", "", self.grounds, self.must, self.must_not),
            part("What must hold", _HOLD, *self.apart.values(), self.order, also),
            part("Best first", "", self.measure, self.shortlist, self.how_choice, self.seed),
        ]
        fields = ipywidgets.Box(parts)
        for name in ("cc-form-grid", "cc-wide-columns", "cc-search-fields"):
            fields.add_class(name)
        self.how_choice.observe(lambda _: self._show_seed(), "value")
        self._show_seed()
        return fields

    def _show_seed(self) -> None:
        """Ask for a seed only where something is drawn by lot."""
        self.seed.layout = ipywidgets.Layout(
            width="auto", min_width="0", display="" if self.how == "sample" else "none"
        )

    @property
    def widgets(self) -> list[Any]:
        """Every field whose change changes the brief."""
        return [
            self.palette, self.stripes, self.grounds, self.strengths, self.mixing, self.must,
            self.must_not, *self.apart.values(), self.order, *self.visions.values(), self.measure,
        ]  # fmt: skip

    @property
    def how(self) -> str | None:
        """How to search, as :func:`search` takes it."""
        return self.how_choice.value or None

    def chosen_palette(self) -> Palette:
        """The palettes that are chosen, as one."""
        chosen = [one for one in self.palettes if one.name in self.palette.value]
        return join_palettes(chosen or self.palettes[:1])

    def add_palette(self, palette: Palette) -> None:
        """Offer another palette, and choose it; a name that is taken gets a number."""
        names = distinct_names([*(one.name for one in self.palettes), palette.name])
        # First in the list, where it is in sight.
        self.palettes.insert(0, Palette(names[-1], palette.colours))
        self.palette.options = [one.name for one in self.palettes]
        self.palette.value = names[-1:]

    def _offer_colours(self) -> None:
        """Offer the colours of the chosen palettes; what was chosen stays where it can."""
        palette = self.chosen_palette()
        names = [colour.name for colour in palette]
        grounds = [colour.name for colour in palette.grounds]
        stripes = [colour.name for colour in palette.stripes]
        for field, options, start in (
            (self.grounds, [*grounds, *(n for n in names if n not in grounds)], grounds),
            (self.must, stripes, []),
            (self.must_not, stripes, []),
        ):
            kept = [name for name in field.value if name in options]
            field.options = options
            # Grounds of another palette are no choice that anybody made here.
            field.value = kept if kept and field is not self.grounds else start

    def wanted(self) -> Wanted:
        """The brief that the fields say.

        Raises
        ------
        ArgumentError
            Where they do not fit together.
        """
        if both := [name for name in self.must.value if name in self.must_not.value]:
            raise ArgumentError(
                f"{', '.join(both)} must not stand both in “Must be in” and in “Must not be in”"
            )
        asked = {
            name: field.value
            for name, field in self.apart.items()
            if field.value > _NOTHING.get(name, 0.0)
        }
        return Wanted(
            self.chosen_palette(),
            self.stripes.value,
            grounds=self.grounds.value,
            strengths=self.strengths.value,
            mixings=[self.mixing.value],
            must=self.must.value,
            must_not=self.must_not.value,
            lightness_order=self.order.value,
            visions=[name for name, box in self.visions.items() if box.value],
            measure=self.measure.value,
            **asked,
        )
