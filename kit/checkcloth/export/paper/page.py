"""A PDF page to draw on: millimetres from the top left, DejaVu embedded, calm greys.

Also what every PDF of the kit needs: its fonts registered, its streams as bytes.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from functools import lru_cache, partial
from threading import Lock
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from checkcloth.errors import ArgumentError
from checkcloth.export.picture.lettering import BOLD, PLAIN, fitted, font_file
from checkcloth.needs import need

# ISO 216 A4, and US Letter (ANSI A), in millimetres.
PAPERS = {"A4": (210.0, 297.0), "Letter": (215.9, 279.4)}
MARGIN = 14.0
INK, QUIET, HAIR = 0.13, 0.38, 0.80
POINT = 72 / 25.4
# Where a stamp is drawn on a page of its own, clear of the edges, which cut.
_INSET = 20.0


def _point(length: float) -> float:
    """Millimetres in points, to 0.004 mm: finer only costs bytes."""
    return round(length * POINT, 2)


def page_size(paper: str) -> tuple[float, float]:
    """Return width and height of a paper in millimetres.

    Raises
    ------
    ArgumentError
        For another than A4 or Letter.
    """
    if not isinstance(paper, str) or paper not in PAPERS:
        raise ArgumentError("paper", f"one of {', '.join(PAPERS)}", paper)
    return PAPERS[paper]


@lru_cache(maxsize=1)
def register_fonts() -> tuple[str, str]:
    """Register DejaVu Sans with reportlab, once; return the names of plain and bold.

    It has Δ, ≥ and the letters of most scripts.
    """
    need("reportlab")
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont

    plain, bold = "checkcloth-plain", "checkcloth-bold"
    for name, file in ((plain, PLAIN), (bold, BOLD)):
        pdfmetrics.registerFont(TTFont(name, str(font_file(file))))
    pdfmetrics.registerFontFamily(plain, normal=plain, bold=bold, italic=plain, boldItalic=bold)
    return plain, bold


_RL_CONFIG = Lock()


@contextmanager
def binary_streams() -> Iterator[None]:
    """Let reportlab write its packed streams as bytes, not as ASCII85, a quarter longer.

    The switch is one for the whole library and is read while a document is put together,
    so it is turned here for that long, by one thread at a time, and put back.
    """
    from reportlab import rl_config

    with _RL_CONFIG:
        before = rl_config.useA85
        rl_config.useA85 = 0
        try:
            yield
        finally:
            rl_config.useA85 = before


class Page:
    """Draws on one page of a reportlab canvas.

    Words that follow each other go into one text object, and name their font and grey only
    where these change: a page of five hundred words takes half the bytes.
    """

    def __init__(self, canvas: Any, paper: str) -> None:
        self._canvas = canvas
        self.width, self.height = page_size(paper)
        self.plain, self.bold = register_fonts()
        self._words: Any = None
        self._look: tuple[str, float, float] | None = None

    @property
    def canvas(self) -> Any:
        """The canvas to draw on, with all words so far written."""
        if self._words is not None:
            self._canvas.drawText(self._words)
            self._words = self._look = None
        return self._canvas

    def end(self) -> None:
        """Finish the page."""
        self.canvas.showPage()

    def stamp(self, name: str, x: float, y: float, draw: Callable[[float, float], object]) -> None:
        """Draw at (x, y) what ``draw`` draws at any point; a document holds it only once."""
        canvas = self.canvas
        if not canvas.hasForm(name):
            canvas.beginForm(name)
            draw(_INSET, _INSET)
            self.canvas.endForm()
        canvas.saveState()
        canvas.translate(_point(x - _INSET), -_point(y - _INSET))
        canvas.doForm(name)
        canvas.restoreState()

    @property
    def room(self) -> float:
        """Width between the margins, in millimetres."""
        return self.width - 2 * MARGIN

    def _y(self, y: float) -> float:
        return _point(self.height - y)

    def measure(self, text: str, size: float, *, bold: bool = False) -> float:
        """Return how wide a text is, in millimetres."""
        from reportlab.pdfbase.pdfmetrics import stringWidth

        return float(stringWidth(text, self.bold if bold else self.plain, size)) / POINT

    def fitted(self, text: str, size: float, room: float, *, bold: bool = False) -> str:
        """Return the text, or as much as fits in so many millimetres with an ellipsis."""
        return fitted(text, partial(self.measure, size=size, bold=bold), room)

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
        if align != "left":
            x -= self.measure(text, size, bold=bold) / (1 if align == "right" else 2)
        look = (self.bold if bold else self.plain, size, grey)
        if self._words is None:
            self._words = self._canvas.beginText()
        if self._look is None or look[:2] != self._look[:2]:
            self._words.setFont(*look[:2])
        if self._look is None or look[2] != self._look[2]:
            self._words.setFillGray(grey)
        self._look = look
        self._words.setTextOrigin(_point(x), self._y(y))
        self._words.textOut(text)

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
        self.lines([(x1, y1, x2, y2)], grey=grey, wide=wide)

    def lines(
        self,
        lines: Iterable[tuple[float, float, float, float]],
        *,
        grey: float = HAIR,
        wide: float = 0.15,
    ) -> None:
        """Draw several lines alike, each (x1, y1, x2, y2)."""
        canvas = self.canvas
        canvas.setStrokeGray(grey)
        canvas.setLineWidth(wide * POINT)
        canvas.lines(
            [(_point(x1), self._y(y1), _point(x2), self._y(y2)) for x1, y1, x2, y2 in lines]
        )

    def box(self, x: float, y: float, wide: float, high: float, rgb: ArrayLike) -> None:
        """Fill a rectangle, given by its top left, with an encoded sRGB colour."""
        self.fill(rgb)
        self.canvas.rect(_point(x), self._y(y + high), _point(wide), _point(high), stroke=0, fill=1)

    def fill(self, rgb: ArrayLike) -> None:
        """Set the colour to fill with, to the nearest 8-bit step, as in the pictures."""
        steps = np.floor(np.asarray(rgb, dtype=np.float64) * 255 + 0.5) / 255
        self.canvas.setFillColorRGB(*(float(round(step, 4)) for step in steps))

    def frame(self, x: float, y: float, wide: float, high: float) -> None:
        """Draw a hairline round a rectangle."""
        self.canvas.setStrokeGray(HAIR)
        self.canvas.setLineWidth(0.15 * POINT)
        self.canvas.rect(_point(x), self._y(y + high), _point(wide), _point(high), stroke=1, fill=0)

    def heading(self, x: float, y: float, text: str) -> None:
        """Write the small heading of a part of the page."""
        self.text(x, y, text, 8, bold=True)
