"""What the forms share: their style sheet, and a fold that opens by mouse or key."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import ipywidgets

__all__ = ["Fold", "form_style"]


def form_style() -> Any:
    """Return the style sheet of the forms as a widget without a place of its own."""
    style = (Path(__file__).parents[2] / "page" / "forms" / "form.css").read_text("utf-8")
    return ipywidgets.HTML(f"<style>{style}</style>")


class Fold:
    """A heading that opens and closes what lies under it; closed at first.

    The accordion of ipywidgets cannot be reached with the keyboard; a button can.

    Parameters
    ----------
    title : str
    inside : Widget
        What it opens.

    Attributes
    ----------
    box : Widget
        The heading with what lies under it.
    """

    def __init__(self, title: str, inside: Any) -> None:
        self._title, self._said = title, ""
        self._inside = inside
        self.head = ipywidgets.ToggleButton(layout=ipywidgets.Layout(width="auto"))
        self.head.add_class("cc-fold-head")
        inside.add_class("cc-fold-inside")
        self.head.observe(lambda _: self._show(), "value")
        self.box = ipywidgets.VBox([self.head, inside])
        self._show()

    @property
    def open(self) -> bool:
        """Whether it is open."""
        return bool(self.head.value)

    @open.setter
    def open(self, value: bool) -> None:
        self.head.value = value

    def tell(self, words: str) -> None:
        """Say behind the title what is set inside."""
        self._said = words
        self._show()

    def _show(self) -> None:
        self._inside.layout.display = "" if self.open else "none"
        sign = "▾" if self.open else "▸"
        said = f" · {self._said}" if self._said else ""
        self.head.description = f"{sign} {self._title}{said}"
        self.head.tooltip = "Close" if self.open else "Open"

    @property
    def widgets(self) -> list[Any]:
        """Its own widgets, for closing."""
        return [self.head, self.box]
