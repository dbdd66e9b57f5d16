"""Coordinates: the same colourways at a family of check sizes, and one sheet for them all."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import numpy as np
from numpy.typing import NDArray

from checkcloth.cloth.bands import band_plan
from checkcloth.cloth.check import Check
from checkcloth.cloth.chosen import ChosenSet
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.length import Length
from checkcloth.cloth.tones import lay
from checkcloth.colour.spaces import srgb_to_bytes
from checkcloth.errors import ArgumentError
from checkcloth.export.members import Colourways, as_set, label_of
from checkcloth.export.picture.lettering import BOLD, PLAIN, QUIET, Words, font_of, letter
from checkcloth.export.picture.picture import Picture
from checkcloth.files.png import Strip, strips_png

# The sizes that cloth is sold in (common practice, no standard).
INCH_SIZES = ("1/16 in", "1/8 in", "1/4 in", "1/2 in", "1 in", "2 in")
METRIC_SIZES = ("2 mm", "3 mm", "6 mm", "12 mm", "25 mm", "50 mm")
_MOST_SIZES = 12
_DPI = 100
_MARGIN, _GAP, _HEAD, _NAMES, _FOOT = 36, 20, 118, 30, 44
# A large check gets a larger swatch, so that a stripe and its gap show; up to this.
_LARGEST = 800
_MOST_PIXELS = 50_000_000


def family(check: Check, sizes: Iterable[Length | str]) -> tuple[Check, ...]:
    """Return the check at each size, smallest first, each once.

    Raises
    ------
    ArgumentError, LengthError
        For no size, more than 12, or one out of range.

    >>> [str(check.size) for check in family(Check("1 in", 2), ["1 in", "1/4 in"])]
    ['1/4 in (6.35 mm)', '1 in (25.4 mm)']
    """
    if isinstance(sizes, str | Length):
        raise ArgumentError("sizes", "several check sizes", sizes)
    checks = {made.size: made for made in (check.with_size(size) for size in sizes)}
    if not 1 <= len(checks) <= _MOST_SIZES:
        raise ArgumentError("sizes", f"1 to {_MOST_SIZES} check sizes", len(checks))
    return tuple(checks[size] for size in sorted(checks))


def _pixels(check: Check) -> int:
    """Pixels a check at ``_DPI``."""
    return max(1, round(check.size.inches * _DPI))


def _swatch(colourway: Colourway, check: Check, side: int) -> NDArray[np.uint8]:
    exact = check.size / Length("1 in") * _DPI
    each = _pixels(check) if check.is_even else exact
    warp, weft = (np.resize(band_plan(bands, each), side)
                  for bands in (check.warp_bands, check.weft_bands))  # fmt: skip
    return lay(srgb_to_bytes(colourway.tones), warp, weft)


def _count(number: int, noun: str) -> str:
    return f"1 {noun}" if number == 1 else f"{number} {noun}s"


def coordinate_sheet(
    colourways: Colourways,
    check: Check | None = None,
    *,
    sizes: Iterable[Length | str] = INCH_SIZES,
    swatch: Length | str = "50 mm",
) -> Picture:
    """Draw every colourway at every size, at the size it will have, a row a colourway.

    Parameters
    ----------
    colourways : ChosenSet, Colourway or iterable of Colourway
    check : Check, optional
        May be left out where a chosen set brings its own.
    sizes : iterable of Length or str
    swatch : Length or str
        Side of each piece of cloth, 10 to 200 mm; larger where a check needs it.

    Returns
    -------
    Picture
        A PNG at 100 dpi.

    Raises
    ------
    ArgumentError, LengthError
    """
    chosen: ChosenSet = as_set(colourways, check)
    checks = family(chosen.check, sizes)
    side = round(Length(swatch).inches * _DPI)
    if not 39 <= side <= 788:
        raise ArgumentError("swatch", "from 10 mm to 200 mm", words=str(Length(swatch)))
    sides = [max(side, min(2 * _pixels(sized), _LARGEST)) for sized in checks]
    lefts = [_MARGIN + sum(sides[:index]) + index * _GAP for index in range(len(sides))]
    width = max(lefts[-1] + sides[-1] + _MARGIN, 620)
    height = _HEAD + len(chosen) * (max(sides) + _NAMES + _GAP) + _FOOT
    if width * height > _MOST_PIXELS:
        raise ArgumentError(
            "colourways",
            f"few enough for a sheet of {_MOST_PIXELS // 10**6} megapixels",
            len(chosen),
            hint="; make the swatch smaller, or several sheets",
        )
    room = width - 2 * _MARGIN
    plain, bold = font_of(PLAIN, 13), font_of(BOLD, 15)
    title = f"{chosen.name}: coordinates" if chosen.name else "Coordinates"
    about = (
        f"{_count(len(chosen), 'colourway')} at {_count(len(checks), 'check size')}, "
        "true size at 100 dpi to the nearest pixel"
    )
    head = [
        Words(_MARGIN, 24, title, font_of(BOLD, 22), room),
        Words(_MARGIN, 58, about, plain, room, QUIET),
    ]
    head += [
        Words(left, _HEAD - 24, str(sized.size), plain, wide)
        for left, sized, wide in zip(lefts, checks, sides, strict=True)
    ]
    caution = "A screen is no proof of a print or a weave: agree a strike-off before ordering."
    labels = [label_of(colourway, index) for index, colourway in enumerate(chosen)]

    def strips() -> Iterator[Strip]:
        yield letter(width, _HEAD, head), 1
        for label, colourway in zip(labels, chosen, strict=True):
            row = np.full((max(sides), width, 3), 255, dtype=np.uint8)
            for left, sized, wide in zip(lefts, checks, sides, strict=True):
                own = chosen.check_for(colourway).with_size(sized.size)
                row[:wide, left : left + wide] = _swatch(colourway, own, wide)
            yield row, 1
            yield letter(width, _NAMES + _GAP, [Words(_MARGIN, 7, label, bold, room)]), 1
        yield letter(width, _FOOT, [Words(_MARGIN, 8, caution, plain, room, QUIET)]), 1

    alt = f"{about}: {'; '.join(labels)}"
    texts = [("Title", title), ("Description", alt)]
    png = strips_png(strips(), (width, height), dpi=_DPI, texts=texts)
    return Picture(png, title, alt, round(width * 96 / _DPI), round(height * 96 / _DPI))
