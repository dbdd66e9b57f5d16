"""Words on pictures and pages: DejaVu Sans, cut to fit; on pictures in greys on white paper.

The font files come with matplotlib and are found without importing it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import lru_cache
from importlib.util import find_spec
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

import numpy as np
from numpy.typing import NDArray

from checkcloth.errors import FileFormatError
from checkcloth.needs import need

if TYPE_CHECKING:
    from PIL.ImageFont import FreeTypeFont

PLAIN, BOLD, MONO = "DejaVuSans.ttf", "DejaVuSans-Bold.ttf", "DejaVuSansMono.ttf"
# Greys, 0 black to 255 white; both well over 4.5:1 on white (WCAG 2.2).
INK, QUIET = 34, 98


class Words(NamedTuple):
    """A line of text: its top left in pixels, how wide it may be, how it looks."""

    x: int
    y: int
    text: str
    font: FreeTypeFont
    room: int
    ink: int = INK


@lru_cache(maxsize=8)
def font_file(name: str = PLAIN) -> Path:
    """Return the path of a DejaVu font in matplotlib's folder.

    Raises
    ------
    MissingPackageError
        If matplotlib is not installed.
    FileFormatError
        If it lacks the font.
    """
    need("matplotlib")
    spec = find_spec("matplotlib")
    for folder in (spec.submodule_search_locations or []) if spec else []:
        path = Path(folder) / "mpl-data" / "fonts" / "ttf" / name
        if path.is_file():
            return path
    raise FileFormatError("font", "in matplotlib's font folder", words="none", source=name)


@lru_cache(maxsize=16)
def font_of(name: str, size: int) -> FreeTypeFont:
    """Return a DejaVu font at so many pixels."""
    from PIL import ImageFont

    # The basic layout is the same on every machine; the other needs a library of its own.
    return ImageFont.truetype(font_file(name), size, layout_engine=ImageFont.Layout.BASIC)


@lru_cache(maxsize=1)
def _characters() -> frozenset[int]:
    """Code points that the plain and the bold font both hold."""
    from matplotlib.ft2font import FT2Font

    plain, bold = (set(FT2Font(str(font_file(name))).get_charmap()) for name in (PLAIN, BOLD))
    return frozenset(plain & bold)


def lacking(*texts: str) -> str:
    """Return the characters that the typeface lacks, each once; a box stands for them.

    >>> lacking("Tea table, café – ½", "東雲")
    '東雲'
    """
    # All of Latin is there, and most names ask for no more: the font is not even opened.
    beyond = dict.fromkeys(char for text in texts for char in text if ord(char) > 0x17F)
    return "".join(char for char in beyond if ord(char) not in _characters())


def boxed(text: str) -> str:
    """Return a text with a box for each letter that the typeface lacks.

    A glyph that stands for none is not allowed where a document is to be read out.

    >>> boxed("Halt 東雲, café")
    'Halt □□, café'
    """
    lack = set(lacking(text))
    return "".join("□" if char in lack else char for char in text) if lack else text


def fitted(text: str, measure: Callable[[str], float], room: float) -> str:
    """Return the text, or as much of it as fits with an ellipsis.

    >>> fitted("Cornflower Verge", font_of(PLAIN, 12).getlength, 60)
    'Cornflo…'
    """
    full = measure(text)
    if full <= room:
        return text
    # Guess from the mean width of a letter, then step to the last that fits.
    end = max(0, int(len(text) * room / full))
    while end and measure(text[:end].rstrip() + "…") > room:
        end -= 1
    while end < len(text) and measure(text[: end + 1].rstrip() + "…") <= room:
        end += 1
    return text[:end].rstrip() + "…"


def wrapped(text: str, measure: Callable[[str], float], room: float, most: int) -> list[str]:
    """Return a text in lines that fit, at most so many; the last has what is left.

    A word that is longer than a line is broken where the line ends.

    >>> wrapped("Cornflower Verge by the halt", font_of(PLAIN, 12).getlength, 90, 3)
    ['Cornflower', 'Verge by the', 'halt']
    """
    lines: list[str] = []
    left = text
    while left and len(lines) < most - 1 and measure(left) > room:
        end = next(
            end for end in range(len(left), 0, -1) if end == 1 or measure(left[:end]) <= room
        )
        space = left.rfind(" ", 0, end + 1)
        end = space if space > 0 else end
        lines.append(left[:end].rstrip())
        left = left[end:].lstrip()
    return [*lines, left]


def in_lines(text: str, measure: Callable[[str], float], room: float) -> list[str]:
    """Return the words of a text in as many lines as they need; none is broken.

    >>> in_lines("Cornflower Verge  by the halt", font_of(PLAIN, 12).getlength, 90)
    ['Cornflower', 'Verge by the', 'halt']
    """
    lines: list[str] = []
    for word in text.split():
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and measure(longer) <= room:
            lines[-1] = longer
        else:
            lines.append(word)
    return lines


def letter(width: int, height: int, words: Iterable[Words]) -> NDArray[np.uint8]:
    """Return a strip of white paper with words on it, shape (height, width, 3).

    The letters are drawn at one byte a pixel, a third of the work of drawing in colour.
    """
    from PIL import Image, ImageDraw

    grey = Image.new("L", (width, height), 255)
    draw = ImageDraw.Draw(grey)
    for line in words:
        text = fitted(line.text, line.font.getlength, line.room)
        draw.text((line.x, line.y), text, font=line.font, fill=line.ink)
    return np.broadcast_to(np.asarray(grey)[..., None], (height, width, 3))
