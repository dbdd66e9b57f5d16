"""Coordinates: colourways at a family of check sizes, or as check, stripe and plain, on a sheet.

A sheet has one scale, so that sizes beside each other are truly as large to one another, and
every piece of cloth on it is whole repeats.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction
from typing import NamedTuple

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
from checkcloth.export.members import Colourways, as_set, counted, label_of
from checkcloth.export.picture.lettering import BOLD, PLAIN, QUIET, Words, font_of, letter
from checkcloth.export.picture.picture import Picture
from checkcloth.files.png import Strip, strips_png
from checkcloth.ideas.family import family_of

# The sizes that cloth is sold in (common practice, no standard).
INCH_SIZES = ("1/16 in", "1/8 in", "1/4 in", "1/2 in", "1 in", "2 in")
METRIC_SIZES = ("2 mm", "3 mm", "6 mm", "12 mm", "25 mm", "50 mm")
_MOST_SIZES = 12
_SWATCH = "50 mm"  # about the side of a piece of cloth
_DPI = 100
_MARGIN, _GAP, _HEAD, _CAPTION, _NAMES, _FOOT = 36, 20, 90, 24, 30, 44
# The largest repeat takes at most so many pixels, unless the narrowest band asks for more.
_LARGEST = 1200
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


class Coordinate(NamedTuple):
    """A piece of cloth on a sheet: what it is, its colourway and its check."""

    caption: str
    colourway: Colourway
    check: Check


class _Piece(NamedTuple):
    """A piece of cloth in whole pixels: stripe numbers of whole repeats, across and down."""

    coordinate: Coordinate
    across: NDArray[np.intp]
    down: NDArray[np.intp]

    @property
    def pixels(self) -> NDArray[np.uint8]:
        return lay(srgb_to_bytes(self.coordinate.colourway.tones), self.across, self.down)


_INCH = Length("1 in")


def _scale(checks: Iterable[Check]) -> Fraction:
    """Pixels an inch for all: true size at 100 dpi, or less where the largest has no room."""
    checks = list(checks)
    widest = max(max(check.repeat_width, check.repeat_height) for check in checks) / _INCH
    narrowest = min(
        min(Fraction(band.checks) for band in (*check.warp_bands, *check.weft_bands))
        * (check.size / _INCH)
        for check in checks
    )
    return max(1 / narrowest, min(Fraction(_DPI), _LARGEST / widest))


def _piece(coordinate: Coordinate, scale: Fraction, side: int) -> _Piece:
    """Lay whole repeats: as many as come nearest to ``side`` pixels, and one at least."""
    check = coordinate.check
    plans = []
    for bands in (check.warp_bands, check.weft_bands):
        plan = band_plan(bands, scale * (check.size / _INCH))
        plans.append(np.tile(plan, max(1, round(side / len(plan)))))
    return _Piece(coordinate, *plans)


def _pieces(coordinates: Sequence[Coordinate]) -> list[_Piece]:
    """Lay what stands on one sheet, in swatches of the usual size."""
    scale, side = _scale(one.check for one in coordinates), _side(_SWATCH)
    return [_piece(one, scale, side) for one in coordinates]


def _side(swatch: Length | str) -> int:
    side = round(Length(swatch).inches * _DPI)
    if not 39 <= side <= 788:
        raise ArgumentError("swatch", "from 10 mm to 200 mm", words=str(Length(swatch)))
    return side


def _sheet(
    title: str, about: str, rows: Sequence[tuple[str, list[Coordinate]]], swatch: Length | str
) -> Picture:
    """Draw rows of pieces of cloth, each with its name, at one scale."""
    side = _side(swatch)
    scale = _scale(coordinate.check for _, row in rows for coordinate in row)
    share = scale / _DPI * 100
    size = "true size" if share == 100 else f"{float(share):.3g} % of true size"
    about = f"{about}, whole repeats, all at {size} at {_DPI} dpi"
    drawn = [(label, [_piece(one, scale, side) for one in row]) for label, row in rows]
    wide = [max(len(piece.across) for piece in column)
            for column in zip(*(row for _, row in drawn), strict=True)]  # fmt: skip
    lefts = [_MARGIN + sum(wide[:index]) + index * _GAP for index in range(len(wide))]
    width = max(lefts[-1] + wide[-1] + _MARGIN, 620)
    heights = [max(len(piece.down) for piece in row) for _, row in drawn]
    height = _HEAD + sum(heights) + len(rows) * (_CAPTION + _NAMES + _GAP) + _FOOT
    if width * height > _MOST_PIXELS:
        raise ArgumentError(
            "colourways",
            f"few enough for a sheet of {_MOST_PIXELS // 10**6} megapixels",
            len(rows),
            hint="; make several sheets, or leave the largest size out",
        )
    room = width - 2 * _MARGIN
    plain, bold = font_of(PLAIN, 13), font_of(BOLD, 15)
    head = [
        Words(_MARGIN, 24, title, font_of(BOLD, 22), room),
        Words(_MARGIN, 58, about, plain, room, QUIET),
    ]
    caution = "A screen is no proof of a print or a weave: agree a strike-off before ordering."

    def strips() -> Iterator[Strip]:
        yield letter(width, _HEAD, head), 1
        for (label, pieces), tall in zip(drawn, heights, strict=True):
            yield letter(width, _NAMES, [Words(_MARGIN, 7, label, bold, room)]), 1
            captions = [
                Words(left, 4, piece.coordinate.caption, plain, most + _GAP - 6, QUIET)
                for left, most, piece in zip(lefts, wide, pieces, strict=True)
            ]
            yield letter(width, _CAPTION, captions), 1
            row = np.full((tall, width, 3), 255, dtype=np.uint8)
            for left, piece in zip(lefts, pieces, strict=True):
                row[: len(piece.down), left : left + len(piece.across)] = piece.pixels
            yield row, 1
            yield np.full((1, width, 3), 255, dtype=np.uint8), _GAP
        yield letter(width, _FOOT, [Words(_MARGIN, 8, caution, plain, room, QUIET)]), 1

    alt = f"{about}: {'; '.join(label for label, _ in rows)}"
    texts = [("Title", title), ("Description", alt)]
    png = strips_png(strips(), (width, height), dpi=_DPI, texts=texts)
    return Picture(png, title, alt, round(width * 96 / _DPI), round(height * 96 / _DPI))


def coordinate_sheet(
    colourways: Colourways,
    check: Check | None = None,
    *,
    sizes: Iterable[Length | str] = INCH_SIZES,
    swatch: Length | str = _SWATCH,
) -> Picture:
    """Draw every colourway at every size, a row a colourway: whole repeats, at one scale.

    Parameters
    ----------
    colourways : ChosenSet, Colourway or iterable of Colourway
    check : Check, optional
        May be left out where a chosen set brings its own.
    sizes : iterable of Length or str
        Beside the check's own size, which is always there.
    swatch : Length or str
        About the side of each piece of cloth, 10 to 200 mm; larger where a repeat needs it.

    Returns
    -------
    Picture
        A PNG at 100 dpi: true size, or the share of it that the sheet states.

    Raises
    ------
    ArgumentError, LengthError
    """
    chosen: ChosenSet = as_set(colourways, check)
    checks = _all_sizes(chosen.check, sizes)
    title = f"{chosen.name}: coordinates" if chosen.name else "Coordinates"
    about = f"{counted(len(chosen), 'colourway')} at {counted(len(checks), 'check size')}"
    rows = [
        (label_of(colourway, index), _at_sizes(chosen, colourway, checks))
        for index, colourway in enumerate(chosen)
    ]
    return _sheet(title, about, rows, swatch)


def _all_sizes(check: Check, sizes: Iterable[Length | str]) -> list[Check]:
    """The check at each size and at its own, smallest first."""
    made = {sized.size: sized for sized in family(check, sizes)} | {check.size: check}
    return [made[size] for size in sorted(made)]


def _at_sizes(chosen: ChosenSet, colourway: Colourway, checks: list[Check]) -> list[Coordinate]:
    own = chosen.check_for(colourway)
    return [Coordinate(str(one.size), colourway, own.with_size(one.size)) for one in checks]


def rows_per_sheet(chosen: ChosenSet, sizes: Iterable[Length | str]) -> int:
    """Return how many colourways a sheet of coordinates has room for, 1 at least."""
    checks = _all_sizes(chosen.check, sizes)
    pieces = _pieces([one for cloth in chosen for one in _at_sizes(chosen, cloth, checks)])
    width = 2 * _MARGIN + len(checks) * (_GAP + max(len(piece.across) for piece in pieces))
    tall = max(len(piece.down) for piece in pieces) + _CAPTION + _NAMES + _GAP
    return max(1, (_MOST_PIXELS // width - _HEAD - _FOOT) // tall)


def family_fits(colourway: Colourway, check: Check) -> None:
    """Refuse a family that is too large for a sheet.

    Raises
    ------
    ArgumentError
    """
    pieces = _pieces([Coordinate(*member) for member in family_of(colourway, check)])
    width = 2 * _MARGIN + sum(_GAP + len(piece.across) for piece in pieces)
    if width * max(len(piece.down) for piece in pieces) > _MOST_PIXELS:
        allowed = f"such that a sheet of the family has at most {_MOST_PIXELS // 10**6} megapixels"
        raise ArgumentError("check", allowed, words=check.repeat_words)


def family_sheet(colourway: Colourway, check: Check, *, swatch: Length | str = _SWATCH) -> Picture:
    """Draw a family: the check, with fewer stripes, as a stripe and as plains, at one scale.

    See :func:`checkcloth.ideas.family.family_of`.

    Raises
    ------
    ArgumentError, LengthError
    """
    members = [Coordinate(*member) for member in family_of(colourway, check)]
    about = f"{counted(len(members), 'cloth')} of one family"
    title = f"{colourway.name}: family" if colourway.name else "Family"
    return _sheet(title, about, [(str(colourway), members)], swatch)
