"""A page to draw on: millimetres from the top left, DejaVu embedded, calm greys."""

from __future__ import annotations

from functools import lru_cache
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from checkcloth.errors import ArgumentError, shown
from checkcloth.output.fonts import BOLD, PLAIN, font_file

__all__ = ["HAIR", "INK", "PAPERS", "QUIET", "SpecPage", "fonts", "page_size"]

# ISO 216 A4, and US Letter (ANSI A), in millimetres.
PAPERS = {"A4": (210.0, 297.0), "Letter": (215.9, 279.4)}
MARGIN = 14.0
INK, QUIET, HAIR = 0.13, 0.38, 0.80
_POINT = 72 / 25.4


def page_size(paper: str) -> tuple[float, float]:
    """Return width and height of a paper in millimetres.

    Raises
    ------
    ArgumentError
        For another than A4 or Letter.
    """
    if paper not in PAPERS:
        raise ArgumentError(f"paper must be one of {', '.join(PAPERS)}, found {shown(paper)}")
    return PAPERS[paper]


@lru_cache(maxsize=1)
def fonts() -> tuple[str, str]:
    """Register DejaVu Sans with reportlab, once; return the names of plain and bold."""
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont

    names = ("checkcloth-plain", "checkcloth-bold")
    for name, file in zip(names, (PLAIN, BOLD), strict=True):
        pdfmetrics.registerFont(TTFont(name, str(font_file(file))))
    return names


class SpecPage:
    """Draws on one page of a reportlab canvas."""

    def __init__(self, canvas: Any, paper: str) -> None:
        self.canvas = canvas
        self.width, self.height = page_size(paper)
        self.plain, self.bold = fonts()

    @property
    def room(self) -> float:
        """Width between the margins, in millimetres."""
        return self.width - 2 * MARGIN

    def _x(self, x: float) -> float:
        return x * _POINT

    def _y(self, y: float) -> float:
        return (self.height - y) * _POINT

    def measure(self, text: str, size: float, *, bold: bool = False) -> float:
        """Return how wide a text is, in millimetres."""
        from reportlab.pdfbase.pdfmetrics import stringWidth

        return float(stringWidth(text, self.bold if bold else self.plain, size)) / _POINT

    def fitted(self, text: str, size: float, room: float, *, bold: bool = False) -> str:
        """Return the text, or as much as fits in so many millimetres with an ellipsis."""
        if self.measure(text, size, bold=bold) <= room:
            return text
        end = max(0, int(len(text) * room / self.measure(text, size, bold=bold)))
        while end and self.measure(text[:end].rstrip() + "…", size, bold=bold) > room:
            end -= 1
        return text[:end].rstrip() + "…"

    def text(
        self,
        x: float,
        y: float,
        text: str,
        size: float = 7,
        *,
        bold: bool = False,
        grey: float = INK,
        room: float | None = None,
        align: str = "left",
    ) -> None:
        """Write one line with its baseline at ``y``; cut to ``room`` where given."""
        text = text if room is None else self.fitted(text, size, room, bold=bold)
        self.canvas.setFont(self.bold if bold else self.plain, size)
        self.canvas.setFillGray(grey)
        draw = {
            "left": self.canvas.drawString,
            "right": self.canvas.drawRightString,
            "centre": self.canvas.drawCentredString,
        }[align]
        draw(self._x(x), self._y(y), text)

    def paragraph(
        self, x: float, y: float, text: str, size: float, room: float, *, grey: float = QUIET
    ) -> float:
        """Write a text over several lines; return the baseline after the last."""
        line = ""
        for word in text.split():
            longer = f"{line} {word}".strip()
            if line and self.measure(longer, size) > room:
                self.text(x, y, line, size, grey=grey, room=room)
                y += size * 0.48
                line = word
            else:
                line = longer
        if line:
            self.text(x, y, line, size, grey=grey, room=room)
            y += size * 0.48
        return y

    def line(
        self, x1: float, y1: float, x2: float, y2: float, *, grey: float = HAIR, wide: float = 0.15
    ) -> None:
        """Draw a line, ``wide`` millimetres thick."""
        self.canvas.setStrokeGray(grey)
        self.canvas.setLineWidth(wide * _POINT)
        self.canvas.line(self._x(x1), self._y(y1), self._x(x2), self._y(y2))

    def box(self, x: float, y: float, wide: float, high: float, rgb: ArrayLike) -> None:
        """Fill a rectangle, given by its top left, with an encoded sRGB colour."""
        self.fill(rgb)
        self.canvas.rect(
            self._x(x), self._y(y + high), wide * _POINT, high * _POINT, stroke=0, fill=1
        )

    def fill(self, rgb: ArrayLike) -> None:
        """Set the colour to fill with, to the nearest 8-bit step, as in the pictures."""
        steps = np.floor(np.asarray(rgb, dtype=np.float64) * 255 + 0.5) / 255
        self.canvas.setFillColorRGB(*(float(round(step, 6)) for step in steps))

    def frame(self, x: float, y: float, wide: float, high: float) -> None:
        """Draw a hairline round a rectangle."""
        self.canvas.setStrokeGray(HAIR)
        self.canvas.setLineWidth(0.15 * _POINT)
        self.canvas.rect(
            self._x(x), self._y(y + high), wide * _POINT, high * _POINT, stroke=1, fill=0
        )

    def heading(self, x: float, y: float, text: str) -> None:
        """Write the small heading of a part of the page."""
        self.text(x, y, text, 8, bold=True)
