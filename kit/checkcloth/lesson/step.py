"""One step of the lesson: its colours, its sliders, and how it shows itself."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import asdict, dataclass, field
from html import escape
from typing import Any

from checkcloth.cloth.named_colour import NamedColour
from checkcloth.errors import ArgumentError
from checkcloth.files.html import AS_TYPED
from checkcloth.lesson.texts import STEPS, TEXTS, Text
from checkcloth.needs import need


@dataclass(frozen=True)
class Slider:
    """What a slider says, where it starts and how far it goes.

    Attributes
    ----------
    key, name : str
    value, low, high, step : float
    unit : str
    labels : tuple of str
        What it says in place of its number, from ``low`` on.
    """

    key: str
    name: str
    value: float
    low: float
    high: float
    unit: str = ""
    step: float = 1.0
    labels: tuple[str, ...] = ()


@dataclass(frozen=True)
class ColourField:
    """A colour of a step that can be changed on the page."""

    key: str
    label: str
    colour: NamedColour


@dataclass(frozen=True, eq=False, repr=False)
class Step:
    """One step of the lesson, or the last task.

    Attributes
    ----------
    key : str
        One of ``STEPS``, or ``"task"``.
    colours : tuple of ColourField
    sliders : tuple of Slider
    answer : callable
        Works the answer out; it is not kept anywhere. On the page the page does.
    options : mapping
        What else the page needs to know.
    """

    key: str
    colours: tuple[ColourField, ...]
    sliders: tuple[Slider, ...]
    answer: Callable[[], str]
    options: Mapping[str, Any] = field(default_factory=dict)

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
        """Return a still picture, where the sliders start unless given.

        Returns
        -------
        Still

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
            if not slider.low <= value <= slider.high:
                raise ArgumentError(key, f"from {slider.low:g} to {slider.high:g}", value)
        rgb = {each.key: each.colour.rgb for each in self.colours}
        return still_of(self.key, Scene(rgb, values | sliders, self.options))

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
        from checkcloth.lesson.page_data import page_data
        from checkcloth.lesson.widget import LessonWidget

        return LessonWidget(page_data((self,)))

    def __str__(self) -> str:
        return f"step of the lesson: {self.name}" if self.number else f"last task: {self.name}"

    def __repr__(self) -> str:
        return f"<{self}>"

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
        from checkcloth.lesson.page_data import page_data
        from checkcloth.lesson.widget import show

        show(page_data((self,)), self._repr_html_(), repr(self))
