"""One step of the lesson: a slider, its picture, a question, and a button for the answer."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from html import escape
from typing import Any

from checkcloth.export.picture.picture import Picture
from checkcloth.files.html import figure

__all__ = ["Slider", "Step"]


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
        """Return the picture at a place of the slider, or where it starts."""
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
        asked = w.HTML(_line("Question.", self.question), layout=w.Layout(width="100%"))
        button = w.ToggleButton(
            False, description="Show the answer", tooltip="Work the answer out and show it",
            layout=w.Layout(width="max-content"),
        )  # fmt: skip
        shown = w.HTML("", layout=w.Layout(width="100%"))

        def redraw(change: Any) -> None:
            picture.value = _shown(self.picture(change["new"]))

        def reveal(change: Any) -> None:
            button.description = "Hide the answer" if change["new"] else "Show the answer"
            shown.value = _line("Answer.", _sentence(self.answer())) if change["new"] else ""

        slider.observe(redraw, "value")
        button.observe(reveal, "value")
        across = w.HBox([slider, unit], layout=w.Layout(width="100%", max_width="620px"))
        return w.VBox(
            [across, picture, asked, button, shown],
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
