"""The lesson in mixing: steps of one picture, one slider and one question each.

Each function makes a step, with colours of your own if you give them. In a notebook the
step is live; saved, or on a page without a kernel, its picture stays as a plain image.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from html import escape
from typing import Any

from checkcloth.cloth.check import fusing_distance
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.length import Length
from checkcloth.cloth.mixing import MIXING_OPTIONS, MIXINGS, find_mixing
from checkcloth.cloth.named_colour import NamedColour
from checkcloth.cloth.threads import plain_weave_share
from checkcloth.export.picture.picture import Picture
from checkcloth.files.html import figure, table
from checkcloth.lesson import answers, figures


@dataclass(frozen=True)
class Slider:
    """What a slider says, where it starts, how far it goes, and what its numbers stand for.

    ``draw`` gets the number times ``scale``: 50 on a slider of per cent is 0.5.
    """

    name: str
    value: float
    low: float
    high: float
    unit: str = ""
    scale: float = 1.0
    step: float = 1.0


@dataclass(frozen=True, eq=False, repr=False)
class Step:
    """One step of the lesson.

    Attributes
    ----------
    name : str
    draw : callable
        From the slider's number to a picture.
    slider : Slider
    question : str
    answer : callable
        Works the answer out; it is not kept anywhere.
    """

    name: str
    draw: Callable[[float], Picture]
    slider: Slider
    question: str
    answer: Callable[[], str]

    def picture(self, value: float | None = None) -> Picture:
        """Return the picture at a number of the slider, or where it starts."""
        chosen = self.slider.value if value is None else value
        return self.draw(chosen * self.slider.scale)

    def widget(self) -> Any:
        """Return the live step: slider, picture, question, and a button for the answer."""
        import ipywidgets as w

        bar = self.slider
        slider = w.FloatSlider(
            bar.value, min=bar.low, max=bar.high, step=bar.step, description=bar.name,
            readout_format=".0f" if bar.step >= 1 else ".1f",
            style={"description_width": "initial"},
            layout=w.Layout(width="100%", max_width="560px"),
        )  # fmt: skip
        unit = w.HTML(escape(bar.unit.strip()), layout=w.Layout(margin="2px 0 0 -16px"))
        picture = w.HTML(_shown(self.picture()), layout=w.Layout(width="100%"))
        question = w.HTML(_line("Question.", self.question), layout=w.Layout(width="100%"))
        button = w.ToggleButton(
            False, description="Show the answer", tooltip="Work the answer out and show it",
            layout=w.Layout(width="max-content"),
        )  # fmt: skip
        answer = w.HTML("", layout=w.Layout(width="100%"))

        def redraw(change: Any) -> None:
            picture.value = _shown(self.picture(change["new"]))

        def reveal(change: Any) -> None:
            button.description = "Hide the answer" if change["new"] else "Show the answer"
            answer.value = _line("Answer.", _sentence(self.answer())) if change["new"] else ""

        slider.observe(redraw, "value")
        button.observe(reveal, "value")
        across = w.HBox([slider, unit], layout=w.Layout(width="100%", max_width="620px"))
        return w.VBox(
            [across, picture, question, button, answer],
            layout=w.Layout(width="100%", max_width="720px", grid_gap="6px"),
        )

    def __str__(self) -> str:
        return f"step of the lesson: {self.name}"

    def __repr__(self) -> str:
        return f"<{self}>"

    def _repr_html_(self) -> str:
        return _shown(self.picture()) + _line("Question.", self.question)

    def _repr_mimebundle_(self, **options: Any) -> dict[str, Any]:
        # The live view and, for readers without a kernel, the picture.
        live: dict[str, Any] = self.widget()._repr_mimebundle_()
        return live | {"text/html": self._repr_html_(), "text/plain": repr(self)}


def _shown(picture: Picture) -> str:
    # The title stands under it: its length changes with the slider, and would push the picture.
    return f'<div style="line-height:1.45">{figure(picture.image_html(), picture.title)}</div>'


def _line(head: str, text: str) -> str:
    return f'<div style="line-height:1.45;margin:4px 0"><b>{head}</b> {escape(text)}</div>'


def _sentence(text: str) -> str:
    """Begin with a capital, as names of colours and mixings may not."""
    return text[:1].upper() + text[1:]


# The steps.

Shade = NamedColour | str
RED = NamedColour.of("#c0392b", "red")
BLUE = NamedColour.of("#1f4fa3", "blue")
YELLOW = NamedColour.of("#f5d311", "yellow")

# A tea table for a small railway halt; invented.
CLOTH = Colourway(
    "ivory",
    [
        NamedColour.of(RED, "brick"),
        NamedColour.of(BLUE, "signal blue"),
        NamedColour.of("#e0a526", "honey"),
    ],
    0.6,
    name="Tea table",
)


_STRENGTH = Slider("Overlay strength", 50, 0, 100, " %", 0.01)


def _colours(*texts: Shade) -> tuple[NamedColour, ...]:
    return tuple(NamedColour.of(text) for text in texts)


def crossing(warp: Shade = RED, weft: Shade = BLUE, ground: Shade = "white") -> Step:
    """What a crossing is made of."""
    over, under, base = _colours(warp, weft, ground)
    return Step(
        "what a crossing is made of",
        lambda a: figures.shares_figure(over.rgb, under.rgb, base.rgb, a),
        _STRENGTH,
        "At which strength does the crossing hold as much weft as ground?",
        answers.equal_shares,
    )


def kinds(warp: Shade = YELLOW, weft: Shade = BLUE, ground: Shade = "white") -> Step:
    """Opacity on a screen, light through threads, ink on ink, pigment."""
    over, under, base = _colours(warp, weft, ground)
    slider = Slider("Overlay strength", 80, 0, 100, " %", 0.01)
    return Step(
        "five ways to mix",
        lambda a: figures.kinds_figure(over.rgb, under.rgb, base.rgb, a),
        slider,
        "Which way of mixing makes the greenest crossing at 80 %?",
        lambda: answers.greenest(over, under, base, 0.8),
    )


def greys() -> Step:
    """The same two greys, added four ways."""
    return Step(
        "two greys, four sums",
        figures.greys_figure,
        Slider("Yule–Nielsen n", 2, 1, 10, step=0.1),
        "Which n gives a grey as dark as pigment does?",
        answers.n_of_pigment,
    )


def order(first: Shade = RED, second: Shade = BLUE, ground: Shade = "white") -> Step:
    """Why red over blue is not blue over red when laid over, and is when woven."""
    upper, lower, base = _colours(first, second, ground)
    return Step(
        "which one is on top",
        lambda a: figures.order_figure(upper.rgb, lower.rgb, base.rgb, a, (upper.name, lower.name)),
        _STRENGTH,
        "From which strength do the two laid-over crossings differ by ΔE00 10 or more?",
        lambda: answers.order_shows(upper, lower, base),
    )


def depth() -> Step:
    """Why a self-crossing at 50 % stops at 75 % of full depth."""
    return Step(
        "a stripe crossing itself",
        figures.depth_figure,
        _STRENGTH,
        "How strong must the overlay be for the self-crossing to reach 90 % when laid over?",
        answers.depth_for,
    )


def pastel(pale: Shade = "#f6cfd6", deep: Shade = "#b8324f", ground: Shade = "white") -> Step:
    """What strength does to a pastel."""
    light, dark, base = _colours(pale, deep, ground)
    return Step(
        "what strength does to a pastel",
        lambda a: figures.pastel_figure(light.rgb, dark.rgb, base.rgb, a),
        _STRENGTH,
        "From which strength does each stripe stand ΔE00 10 or more from the ground?",
        lambda: answers.pastel_needs(light, dark, base),
    )


def threads(warp: Shade = RED, weft: Shade = BLUE) -> Step:
    """Why odd thread counts unbalance a cell."""
    end, pick = _colours(warp, weft)
    return Step(
        "odd and even threads",
        lambda ends: figures.threads_figure(end.rgb, pick.rgb, round(ends)),
        Slider("Ends in the band", 5, 1, 12),
        "What is the smallest odd count whose share is within one per cent of half?",
        answers.balanced_enough,
    )


def distance(colourway: Colourway = CLOTH, size: Length | str = "1/4 in") -> Step:
    """What colour the cloth has from across the street, and how far away that is."""
    length = Length(size)
    return Step(
        "from across the street",
        lambda metres: figures.distance_figure(colourway, length, metres),
        Slider("Distance", 10, 1, 80, "m"),
        "From how far do checks of twice the size fuse?",
        lambda: answers.fuses_beyond(length),
    )


def side_by_side(colourway: Colourway = CLOTH) -> Step:
    """The same colourway under every mixing."""
    slider = Slider("Overlay strength", round(colourway.strength * 100), 0, 100, " %", 0.01)
    return Step(
        "one colourway, every mixing",
        lambda a: figures.mixings_figure(colourway.with_(strength=min(a, 1.0))),
        slider,
        f"Which crossing changes most between source-over and woven at {slider.value:g} %?",
        lambda: answers.changes_most(colourway),
    )


def vision(colourway: Colourway = CLOTH) -> Step:
    """The cloth as people with protan, deutan and tritan vision see it, and in grey."""
    return Step(
        "as others see it",
        lambda severity: figures.vision_figure(colourway, severity),
        Slider("Severity", 100, 0, 100, " %", 0.01),
        "At which overlay strengths is every edge ΔE00 5 or more for everyone?",
        lambda: answers.seen_by_all(colourway),
    )


# Small tables: what the words mean, and figures to look up.

_WORDS = (
    ("warp, weft", "threads or stripes that run up the cloth, and across it"),
    ("ground", "the colour under and between the stripes"),
    ("single", "a stripe over the ground"),
    ("crossing", "a warp stripe over a weft stripe"),
    ("overlay strength", "how much of each stripe's colour reaches the cloth, 0 to 100 %"),
    (
        "ΔE00",
        "difference of two colours (CIEDE2000): 1 can just be seen, 10 is plain (common practice)",
    ),
)


@dataclass(frozen=True, repr=False)
class Listing:
    """A table that prints as lines and shows itself as a table.

    Attributes
    ----------
    heads : tuple of str
    rows : tuple of tuples of str
    right : tuple of int
        Columns of figures.
    """

    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    right: tuple[int, ...] = ()

    def __str__(self) -> str:
        return "\n".join("  ".join(row) for row in self.rows)

    def __repr__(self) -> str:
        return f"<table of {len(self.rows)} rows: {', '.join(self.heads)}>"

    def _repr_html_(self) -> str:
        return table((), self.heads, self.rows, right=self.right)


def words() -> Listing:
    """Return the words of the lesson, each with its meaning."""
    return Listing(("word", "what it means"), _WORDS)


def meanings() -> Listing:
    """Return the mixings and their two options, each with what it stands for."""
    named = [(find_mixing(name).label, find_mixing(name).meaning) for name in MIXINGS]
    return Listing(("mixing or option", "what it stands for"), (*named, *MIXING_OPTIONS.items()))


def thread_shares(most: int = 6) -> Listing:
    """Return the warp's share of a plain-weave cell by thread count, exactly and in per cent."""
    rows = []
    for ends in range(1, most + 1):
        share = plain_weave_share(ends)
        rows.append((str(ends), str(share), f"{float(share) * 100:.2f} %"))
    return Listing(("ends in the band", "warp's share", "in per cent"), tuple(rows), (0, 1, 2))


def fusing(
    sizes: Iterable[Length | str] = ("2 mm", "1/8 in", "5 mm", "1 cm", "1 in"),
) -> Listing:
    """Return from how far checks of some sizes fuse into one colour (a rule of thumb)."""
    rows = [
        (str(Length(size)), f"{fusing_distance(size).mm / 1000:.1f} m")
        for size in sizes
    ]  # fmt: skip
    return Listing(("check size", "fuses beyond"), tuple(rows), (1,))
