"""Words on pictures: DejaVu Sans through Pillow, cut to fit, in greys on white paper."""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache
from typing import TYPE_CHECKING, NamedTuple

import numpy as np
from numpy.typing import NDArray

from checkcloth.export.picture.fonts import font_file

if TYPE_CHECKING:
    from PIL.ImageFont import FreeTypeFont

__all__ = ["INK", "QUIET", "Words", "fitted", "font_of", "letter"]

# Greys, 0 black to 255 white; both well over 4.5:1 on white (WCAG 2.2).
INK, QUIET = 34, 98


class Words(NamedTuple):
    """A line of text: where its top left stands in pixels, how wide it may be, how it looks.

    >>> from checkcloth.export.picture.fonts import PLAIN
    >>> Words(4, 2, "Quay", font_of(PLAIN, 12), 80).room
    80
    """

    x: int
    y: int
    text: str
    font: FreeTypeFont
    room: int
    ink: int = INK


@lru_cache(maxsize=16)
def font_of(name: str, size: int) -> FreeTypeFont:
    """Return a DejaVu font at so many pixels.

    >>> from checkcloth.export.picture.fonts import PLAIN
    >>> font_of(PLAIN, 12).size
    12
    """
    from PIL import ImageFont

    # The basic layout is the same on every machine; the other needs a library of its own.
    return ImageFont.truetype(font_file(name), size, layout_engine=ImageFont.Layout.BASIC)


def fitted(text: str, font: FreeTypeFont, width: float) -> str:
    """Return the text, or as much of it as fits with an ellipsis.

    >>> from checkcloth.export.picture.fonts import PLAIN
    >>> fitted("Cornflower Verge", font_of(PLAIN, 12), 60)
    'Cornflo…'
    """
    full = font.getlength(text)
    if full <= width:
        return text
    # Guess from the mean width of a letter, then step to the place that just fits.
    end = max(0, int(len(text) * width / full))
    while end and font.getlength(text[:end].rstrip() + "…") > width:
        end -= 1
    while end < len(text) and font.getlength(text[: end + 1].rstrip() + "…") <= width:
        end += 1
    return text[:end].rstrip() + "…"


def letter(width: int, height: int, words: Iterable[Words]) -> NDArray[np.uint8]:
    """Return a strip of white paper with words on it, shape (height, width, 3).

    The letters are drawn at one byte a pixel, a third of the work of drawing in colour.

    >>> from checkcloth.export.picture.fonts import PLAIN
    >>> letter(80, 20, [Words(4, 2, "Quay", font_of(PLAIN, 12), 72)]).shape
    (20, 80, 3)
    """
    from PIL import Image, ImageDraw

    grey = Image.new("L", (width, height), 255)
    draw = ImageDraw.Draw(grey)
    for one in words:
        text = fitted(one.text, one.font, one.room)
        draw.text((one.x, one.y), text, font=one.font, fill=one.ink)
    return np.broadcast_to(np.asarray(grey)[..., None], (height, width, 3))
