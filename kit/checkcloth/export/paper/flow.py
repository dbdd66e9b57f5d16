"""Paragraphs, tables, pictures and rules that flow over pages, each a piece of the structure.

Thin dresses over reportlab's own: they mark what they draw as a piece of the document, or as an
artifact. A row of heads that is repeated on the next page is read out once.
"""

from __future__ import annotations

from typing import Any

from reportlab.platypus import HRFlowable, Image, LongTable, Paragraph

from checkcloth.export.paper.tagged import Element
from checkcloth.export.picture.lettering import boxed


class Words(Paragraph):  # type: ignore[misc]
    """A paragraph that is a piece of the document; its text is escaped for reportlab's markup."""

    def __init__(self, text: str, style: Any, element: Element | None = None, **more: Any) -> None:
        super().__init__(None if text is None else boxed(text), style, **more)
        self.element = element

    def draw(self) -> None:
        """Draw it: a head that was drawn before only repeats."""
        again = self.element is not None and self.element.kind == "TH" and self.element.shown
        with self.canv.structure.marked(self.canv, None if again else self.element):
            super().draw()

    def split(self, width: float, height: float) -> list[Any]:
        """Split it over two pages, of which both are the same piece."""
        parts: list[Any] = super().split(width, height)
        for part in parts:
            part.element = self.element
        return parts


class Rows(LongTable):  # type: ignore[misc]
    """A table whose rules are artifacts; its cells are marked by themselves."""

    def _drawLines(self) -> None:  # noqa: N802 - reportlab's own name
        with self.canv.structure.marked(self.canv, None):
            super()._drawLines()


class Figure(Image):  # type: ignore[misc]
    """A picture with words in its place."""

    element: Element

    def draw(self) -> None:
        """Draw it."""
        with self.canv.structure.marked(self.canv, self.element):
            super().draw()


class Rule(HRFlowable):  # type: ignore[misc]
    """A line to write on."""

    def draw(self) -> None:
        """Draw it."""
        with self.canv.structure.marked(self.canv, None):
            super().draw()
