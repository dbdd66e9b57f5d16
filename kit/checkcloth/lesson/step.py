"""One step of the lesson: its colours, its sliders, how it shows itself, what the page is told."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import asdict, dataclass, field
from html import escape
from typing import Any

from checkcloth.arguments import as_number
from checkcloth.cloth.named_colour import NamedColour
from checkcloth.colour.css import css_names, hex_of
from checkcloth.errors import ArgumentError
from checkcloth.files.html import AS_TYPED, OneLine
from checkcloth.lesson.answers import WAYS
from checkcloth.lesson.materials import SWATCHES, recipe_of
from checkcloth.lesson.texts import CAUTION, INTRODUCTION, STEPS, TEXTS, Text
from checkcloth.needs import need

MOST_SWATCHES = 24


@dataclass(frozen=True)
class Slider:
    """What a slider says, where it starts and how far it goes."""

    key: str
    name: str
    value: float
    low: float
    high: float
    unit: str = ""
    step: float = 1.0
    labels: tuple[str, ...] = ()  #: what it says in place of its number, from ``low`` on


@dataclass(frozen=True)
class ColourField:
    """A colour of a step that can be changed on the page."""

    key: str
    label: str
    colour: NamedColour


@dataclass(frozen=True, eq=False, repr=False)
class Step(OneLine):
    """One step of the lesson, or the last task."""

    key: str  #: one of ``STEPS``, or ``"task"``
    colours: tuple[ColourField, ...]
    sliders: tuple[Slider, ...]
    answer: Callable[[], str]  #: works the answer out; on the page the page does
    options: Mapping[str, Any] = field(default_factory=dict)  #: what else the page needs to know

    @property
    def text(self) -> Text:
        """Its title, explanation and question."""
        return TEXTS[self.key]

    @property
    def name(self) -> str:
        """Its title."""
        return self.text.title

    @property
    def number(self) -> int:
        """Its number from 1; 0 for the last task."""
        return STEPS.index(self.key) + 1 if self.key in STEPS else 0

    @property
    def words(self) -> str:
        """What the step says; also of a colour that no screen shows, since the lesson is of one."""
        moved = [
            f" {c.label} is {c.colour.shift_words}." for c in self.colours if c.colour.shift_words
        ]
        return self.text.words + "".join(moved)

    @property
    def question(self) -> str:
        """What the pupil is asked."""
        return self.text.question.replace("{size}", str(self.options.get("size_words", "")))

    def rgb(self, key: str) -> tuple[float, float, float]:
        """Return a colour of the step as encoded sRGB."""
        return next(each.colour.rgb for each in self.colours if each.key == key)

    def picture(self, **sliders: float) -> Any:
        """Return a :class:`Still`, where the sliders start unless given.

        Raises
        ------
        ArgumentError
            For a slider that the step has not, or a number beyond its ends.
        """
        from checkcloth.lesson.stills import Scene, still_of

        values = {slider.key: slider.value for slider in self.sliders}
        for key, value in sliders.items():
            slider = next((each for each in self.sliders if each.key == key), None)
            if slider is None:
                raise ArgumentError("slider", f"one of {', '.join(values)}", key)
            values[key] = as_number(value, key, slider.low, slider.high)
        rgb = {each.key: each.colour.rgb for each in self.colours}
        return still_of(self.key, Scene(rgb, values, self.options))

    def data(self) -> dict[str, Any]:
        """Return the step as the page takes it."""
        return {
            **{"key": self.key, "number": self.number, "title": self.text.title},
            **{"words": self.words, "question": self.question},
            "boxes": [asdict(box) for box in self.text.boxes],
            "sliders": [asdict(slider) for slider in self.sliders],
            "fields": [[each.key, each.label, each.colour.name] for each in self.colours],
            "named": [[each.colour.name, list(each.colour.rgb)] for each in self.colours],
            "options": dict(self.options),
        }

    def widget(self) -> Any:
        """Return the live step as a widget."""
        need("anywidget")
        from checkcloth.lesson.widget import LessonWidget

        return LessonWidget(page_data((self,)))

    def __str__(self) -> str:
        return f"step of the lesson: {self.name}" if self.number else f"last task: {self.name}"

    def still_html(self, *, styled: bool = True) -> str:
        """Return explanation, still picture and question, for readers without scripts."""
        still = self.picture()
        words = escape(self.words).replace("{", "<b>").replace("}", "</b>")
        asked = f"<p><b>Question.</b> {escape(self.question)}</p>" if self.question else ""
        return f"<p>{words}</p>{still._repr_html_() if styled else still.plain_html()}{asked}"

    def _repr_html_(self) -> str:
        return f'<div {AS_TYPED} style="line-height:1.45;max-width:720px">{self.still_html()}</div>'

    def _ipython_display_(self) -> None:
        need("anywidget")
        from checkcloth.lesson.widget import show

        show(page_data((self,)), self._repr_html_(), repr(self))


def page_data(
    steps: Sequence[Step], swatches: Sequence[NamedColour] = SWATCHES, *, alone: bool = False
) -> dict[str, Any]:
    """Return all that the page needs: words, colours, sliders and mixings, as plain data.

    The first 24 swatches are offered; a page that is a file ``alone`` keeps the answers in its
    browser.
    """
    return {
        "introduction": INTRODUCTION,
        "caution": CAUTION,
        "alone": alone,
        "mixings": [recipe_of(name) for name in WAYS],
        "swatches": [[each.name, list(each.rgb)] for each in swatches[:MOST_SWATCHES]],
        "names": {name: hex_of(rgb) for name, rgb in css_names().items()},
        "steps": [step.data() for step in steps],
    }
