"""A PDF page to draw on: millimetres from the top left, DejaVu embedded, calm greys, tagged.

Also what every PDF of the kit needs: its fonts registered, its streams as bytes.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from functools import lru_cache, partial
from threading import Lock
from typing import Any, BinaryIO

import numpy as np
from numpy.typing import ArrayLike

from checkcloth.arguments import require_one_of
from checkcloth.export.paper.tagged import Structure, tagged_canvas
from checkcloth.export.picture.lettering import BOLD, PLAIN, boxed, fitted, font_file, in_lines
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
    return PAPERS[require_one_of(paper, "paper", PAPERS)]


_NEGATIVE = re.compile(r"(?<!\S)-(?=\.?\d)")


def with_minus(text: str) -> str:
    """Return numbers as print has them, with a minus sign (U+2212) and no hyphen; words stay.

    >>> with_minus("52.1 -0.2 4.0"), with_minus("Quay -2"), with_minus("04-117")
    ('52.1 −0.2 4.0', 'Quay -2', '04-117')
    """
    return text if any(map(str.isalpha, text)) else _NEGATIVE.sub("−", text)


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


@contextmanager
def document(stream: BinaryIO, paper: str, title: str, subject: str) -> Iterator[Any]:
    """Give the canvas of a document, to draw pages on; it is written when the block ends."""
    width, height = page_size(paper)
    canvas = tagged_canvas(
        stream,
        Structure(),
        title=title,
        subject=subject,
        pagesize=(width * POINT, height * POINT),
        initialFontName=register_fonts()[0],  # or reportlab names one that it does not embed
    )
    yield canvas
    with binary_streams():
        canvas.save()


def _number(value: float) -> str:
    """A number as PDF reads it, to the hundredth of a point; never a negative zero."""
    return f"{round(value, 2) + 0.0:g}"


@lru_cache(maxsize=65536)
def _width(text: str, font: str) -> float:
    """Width of a text at a size of one millimetre."""
    from reportlab.pdfbase.pdfmetrics import stringWidth

    return float(stringWidth(text, font, 1000)) / 1000 / POINT


class Page:
    """Draws on one page of a canvas with a structure (:func:`tagged_canvas`).

    Words of one line are a paragraph by themselves unless something else is said; what is drawn
    and is no part of a figure is an artifact. Operators are written as they are, since a page
    has some thousand; font and colour are named only where they change.
    """

    def __init__(self, canvas: Any, paper: str) -> None:
        self._canvas = canvas
        self._structure: Structure = canvas.structure
        self.width, self.height = page_size(paper)
        self.plain, self.bold = register_fonts()
        # What is being marked, and whether that is held until its end whatever is drawn.
        self._mark: object = None
        self._held = False
        self._in_words = False
        self._font: tuple[str, float] | None = None
        self._fill = ""
        self._shown: dict[tuple[str, str], list[tuple[str, str]]] = canvas.__dict__.setdefault(
            "shown_words", {}
        )

    # What each piece is.

    def _write(self, operator: str) -> None:
        self._canvas._code.append(operator)

    def _end_words(self) -> None:
        if self._in_words:
            self._write("ET")
            self._in_words = False

    def _begin(self, mark: object, kind: str | None, alt: str = "") -> None:
        """Begin another piece, unless one is held or this one is going on."""
        if self._held or mark == self._mark:
            return
        self._end_mark()
        element = None if kind is None else self._structure.root.add(kind, alt=alt)
        self._write(self._structure.mark(self._canvas, element))
        self._mark = mark

    def _end_mark(self) -> None:
        self._end_words()
        if self._mark is not None:
            self._write("EMC")
            self._mark = None

    @contextmanager
    def tagged(self, kind: str, alt: str = "") -> Iterator[None]:
        """Mark all that is drawn within as one piece; a figure has words in its place.

        A piece of no kind is an artifact, as what only repeats from page to page.
        """
        if self._held:
            yield
            return
        self._begin(object(), kind or None, alt)
        self._held = True
        yield
        self._held = False
        self._end_mark()

    def _paint(self, operators: str) -> None:
        """Draw something that is no words."""
        self._end_words()
        self._begin("artifact", None)
        self._write(operators)

    def end(self) -> None:
        """Finish the page."""
        self._end_mark()
        self._canvas.showPage()

    # What is drawn once and placed often.

    @contextmanager
    def form(self, name: str, box: tuple[float, float, float, float]) -> Iterator[None]:
        """Draw within into a form, its box in points; it is marked where it is placed."""
        self._end_words()
        before = self._held, self._font, self._fill
        self._held, self._font, self._fill = True, None, ""
        left, low, right, high = box
        self._canvas.beginForm(name, lowerx=left, lowery=low, upperx=right, uppery=high)
        yield
        self._end_words()
        self._canvas.endForm()
        self._held, self._font, self._fill = before

    def place(self, name: str, x: float, y: float) -> None:
        """Draw a form, moved by (x, y) points from the lower left."""
        self._paint(f"q 1 0 0 1 {x:.4f} {y:.4f} cm")
        self._canvas.doForm(name)
        self._write("Q")

    def stamp(
        self,
        name: str,
        x: float,
        y: float,
        draw: Callable[[float, float], object],
        *,
        kind: str = "P",
        alt: str = "",
    ) -> None:
        """Draw at (x, y) what ``draw`` draws at any point; a document holds it only once.

        On its first page it is a piece of the document; after that it only repeats.
        """
        first = not self._canvas.hasForm(name)
        if first:
            with self.form(name, (0, 0, self.width * POINT, self.height * POINT)):
                draw(_INSET, _INSET)
        with self.tagged(kind if first else "", alt):
            self.place(name, _point(x - _INSET), -_point(y - _INSET))

    @contextmanager
    def clipped(self, x: float, y: float, wide: float, high: float) -> Iterator[None]:
        """Show of what is drawn within only what lies in a rectangle."""
        box = (x * POINT, (self.height - y - high) * POINT, wide * POINT, high * POINT)
        self._paint(f"q {' '.join(f'{side:.4f}' for side in box)} re W n")
        font, fill = self._font, self._fill
        yield
        self._end_words()
        self._write("Q")
        self._font, self._fill = font, fill

    # Words.

    @property
    def room(self) -> float:
        """Width between the margins, in millimetres."""
        return self.width - 2 * MARGIN

    def measure(self, text: str, size: float, *, bold: bool = False) -> float:
        """Return how wide a text is, in millimetres."""
        return _width(text, self.bold if bold else self.plain) * size

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
        kind: str = "P",
    ) -> None:
        """Write one line with its baseline at ``y``; cut to ``room`` where given."""
        text = text if room is None else self.fitted(text, size, room, bold=bold)
        if not text:
            return
        if align != "left":
            x -= self.measure(text, size, bold=bold) / (1 if align == "right" else 2)
        self._begin((kind, round(y, 3)), kind or None)
        if not self._in_words:
            self._write("BT")
            self._in_words = True
        self._fill_with(f"{grey:g} g")
        spot = f"1 0 0 1 {_number(x * POINT)} {_number((self.height - y) * POINT)} Tm"
        for font, words in self._subsets(text, self.bold if bold else self.plain):
            if (font, size) != self._font:
                self._write(f"{font} {size:g} Tf")
                self._font = font, size
            self._write(f"{spot} {words} Tj".lstrip())
            spot = ""

    def _subsets(self, text: str, font: str) -> list[tuple[str, str]]:
        """The text in pieces, each with the part of the font that has its letters."""
        found = self._shown.get((text, font))
        if found is None:
            from reportlab.pdfbase.pdfmetrics import getFont

            face, document = getFont(font), self._canvas._doc
            found = [
                (face.getSubsetInternalName(subset, document), self._canvas._escape(piece))
                for subset, piece in face.splitString(boxed(text), document)
            ]
            found = [(name, f"({piece})") for name, piece in found]
            self._shown[text, font] = found
        return found

    def paragraph(
        self, x: float, y: float, text: str, size: float, room: float, *, grey: float = QUIET
    ) -> float:
        """Write a text over several lines; return the baseline after the last."""
        with self.tagged("P"):
            for line in in_lines(text, partial(self.measure, size=size), room):
                self.text(x, y, line, size, grey=grey, room=room)
                y += size * 0.48
        return y

    def heading(self, x: float, y: float, text: str) -> None:
        """Write the small heading of a part of the page."""
        self.text(x, y, text, 8, bold=True, kind="H2")

    # Lines and boxes.

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
        parts = [f"{grey:g} G {wide * POINT:.4f} w"]
        parts += [
            f"{_number(x1 * POINT)} {_number((self.height - y1) * POINT)} m "
            f"{_number(x2 * POINT)} {_number((self.height - y2) * POINT)} l"
            for x1, y1, x2, y2 in lines
        ]
        self._paint(" ".join([*parts, "S"]))

    def box(self, x: float, y: float, wide: float, high: float, rgb: ArrayLike) -> None:
        """Fill a rectangle, given by its top left, with an encoded sRGB colour."""
        self.boxes([(x, y, wide, high)], rgb)

    def boxes(self, boxes: Iterable[tuple[float, float, float, float]], rgb: ArrayLike) -> None:
        """Fill several rectangles, each given by its top left, width and height."""
        self._paint("")
        self.fill(rgb)
        self._write(
            " ".join(
                f"{_number(x * POINT)} {_number((self.height - y - high) * POINT)} "
                f"{_number(wide * POINT)} {_number(high * POINT)} re"
                for x, y, wide, high in boxes
            )
            + " f"
        )

    def cell(self, x: float, y: float, wide: float, high: float, rgb: ArrayLike) -> None:
        """Fill a rectangle given in points from the lower left, as forms are drawn."""
        self._paint("")
        self.fill(rgb)
        self._write(f"{x:.4f} {y:.4f} {wide:.4f} {high:.4f} re f")

    def fill(self, rgb: ArrayLike) -> None:
        """Set the colour to fill with, to the nearest 8-bit step, as in the pictures."""
        steps = np.floor(np.asarray(rgb, dtype=np.float64) * 255 + 0.5) / 255
        self._fill_with(f"{' '.join(f'{step:.4g}' for step in steps.tolist())} rg")

    def _fill_with(self, operator: str) -> None:
        if operator != self._fill:
            self._write(operator)
            self._fill = operator

    def frame(self, x: float, y: float, wide: float, high: float) -> None:
        """Draw a hairline round a rectangle."""
        box = (x * POINT, (self.height - y - high) * POINT, wide * POINT, high * POINT)
        self._paint(f"{HAIR:g} G {0.15 * POINT:.4f} w {' '.join(map(_number, box))} re S")
