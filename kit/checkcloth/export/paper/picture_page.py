"""A sheet of paper as a picture: drawn on as a PDF page is, in millimetres from the top left."""

from __future__ import annotations

from collections.abc import Iterable
from contextlib import AbstractContextManager, nullcontext

import numpy as np
from numpy.typing import ArrayLike

from checkcloth.colour.spaces import srgb_to_bytes
from checkcloth.export.paper.page import HAIR, INK, page_size
from checkcloth.export.picture.lettering import BOLD, PLAIN, fitted, font_of
from checkcloth.files.png import strips_png

_DPI = 150


class PicturePage:
    """Draws on one sheet; edges fall on whole pixels, so that no colour is blended.

    The methods are those of :class:`checkcloth.export.paper.page.Page` that a sheet needs, with
    the same arguments: one drawing serves paper and screen.
    """

    def __init__(self, paper: str) -> None:
        from PIL import Image, ImageDraw

        self.width, self.height = page_size(paper)
        size = self._pixels(self.width), self._pixels(self.height)
        self._image = Image.new("RGB", size, "white")
        self._draw = ImageDraw.Draw(self._image)

    @staticmethod
    def _pixels(millimetres: float) -> int:
        return round(millimetres / 25.4 * _DPI)

    @staticmethod
    def _font(size: float, bold: bool) -> tuple[str, int]:
        return BOLD if bold else PLAIN, round(size / 72 * _DPI)

    def measure(self, text: str, size: float, *, bold: bool = False) -> float:
        """Return how wide a text is, in millimetres."""
        return float(font_of(*self._font(size, bold)).getlength(text)) / _DPI * 25.4

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
        if room is not None:
            text = fitted(text, lambda part: self.measure(part, size, bold=bold), room)
        anchor = {"left": "ls", "right": "rs", "centre": "ms"}[align]
        spot = self._pixels(x), self._pixels(y)
        font, ink = font_of(*self._font(size, bold)), self._ink(grey)
        self._draw.text(spot, text, font=font, fill=ink, anchor=anchor)

    def box(self, x: float, y: float, wide: float, high: float, rgb: ArrayLike) -> None:
        """Fill a rectangle, given by its top left, with an encoded sRGB colour."""
        left, top, right, bottom = self._edges(x, y, wide, high)
        if right > left and bottom > top:
            red, green, blue = srgb_to_bytes(np.asarray(rgb, dtype=np.float64)).tolist()
            self._draw.rectangle((left, top, right - 1, bottom - 1), fill=(red, green, blue))

    def boxes(self, boxes: Iterable[tuple[float, float, float, float]], rgb: ArrayLike) -> None:
        """Fill several rectangles, each given by its top left, width and height."""
        for box in boxes:
            self.box(*box, rgb)

    def tagged(self, kind: str, alt: str = "") -> AbstractContextManager[None]:
        """A picture has no structure: what is said of its pieces stands in its own text."""
        return nullcontext()

    def frame(self, x: float, y: float, wide: float, high: float) -> None:
        """Draw a hairline round a rectangle."""
        left, top, right, bottom = self._edges(x, y, wide, high)
        self._draw.rectangle((left, top, right - 1, bottom - 1), outline=self._ink(HAIR))

    def _edges(self, x: float, y: float, wide: float, high: float) -> tuple[int, int, int, int]:
        edges = (x, y, x + wide, y + high)
        left, top, right, bottom = (self._pixels(edge) for edge in edges)
        return left, top, right, bottom

    @staticmethod
    def _ink(grey: float) -> tuple[int, int, int]:
        level = round(255 * grey)
        return level, level, level

    def lines(
        self,
        lines: Iterable[tuple[float, float, float, float]],
        *,
        grey: float = HAIR,
        wide: float = 0.15,
    ) -> None:
        """Draw several lines alike, each (x1, y1, x2, y2)."""
        width = max(1, self._pixels(wide))
        for line in lines:
            spots = [self._pixels(place) for place in line]
            self._draw.line(spots, fill=self._ink(grey), width=width)

    def png(self, texts: Iterable[tuple[str, str]]) -> bytes:
        """Return the sheet as a PNG of 150 dpi."""
        pixels = np.asarray(self._image)
        return strips_png([(pixels, 1)], self._image.size, dpi=_DPI, texts=tuple(texts))

    @property
    def size_on_page(self) -> tuple[int, int]:
        """Width and height in CSS pixels, at true size."""
        return round(self.width / 25.4 * 96), round(self.height / 25.4 * 96)
