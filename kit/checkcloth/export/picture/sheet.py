"""The contact sheet: many colourways on one picture, with their names and scores."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

import numpy as np

from checkcloth.arguments import as_whole
from checkcloth.cloth.bands import band_plan, checks_in
from checkcloth.cloth.check import Check
from checkcloth.cloth.chosen import ChosenSet
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.length import Length
from checkcloth.cloth.mixing import find_mixing
from checkcloth.cloth.named_colour import clean_text
from checkcloth.cloth.tones import lay, pixels_a_check, touching_pairs
from checkcloth.colour.spaces import srgb_to_bytes
from checkcloth.errors import ArgumentError
from checkcloth.export.members import Colourways, as_set, counted, label_of, stripes_on_ground
from checkcloth.export.picture.lettering import (
    BOLD,
    PLAIN,
    QUIET,
    Words,
    font_of,
    letter,
    wrapped,
)
from checkcloth.export.picture.picture import Picture
from checkcloth.files.png import Strip, strips_png
from checkcloth.scoring.contrast import least_over_edges
from checkcloth.scoring.pairs import bands_of

_MOST_MEGAPIXELS = 50
_DPI = 150
_HAIRLINE = 214
# In pixels at 150 dpi: names 8 pt, small print 6.5 pt, the title 14 pt.
_NAME, _SMALL, _TITLE = 17, 14, 29
_MARGIN, _GAP, _LINE = 42, 30, 19
# Lines that a name, or its colours, may take; a longer one ends in an ellipsis.
_MOST_LINES = 4
_HEAD, _FOOT = 146, 60
_EXPLAINED = "Under each: the least difference over the edges between its tones."
_CAUTION = "A screen is no proof of a print or a weave: agree a strike-off before ordering."


@dataclass(frozen=True)
class _Layout:
    """How large everything is, in pixels; worked out before anything is drawn."""

    swatch: int
    columns: int
    rows: int
    each: int | Fraction
    names: int = 1
    colours: int = 1

    @property
    def words(self) -> int:
        """Height of what stands under a cloth: its name, its colours, the least differences."""
        return 8 + (self.names + self.colours + 1) * _LINE + 10

    @property
    def width(self) -> int:
        return max(2 * _MARGIN + self.columns * (self.swatch + _GAP) - _GAP, 680)

    @property
    def height(self) -> int:
        return _HEAD + self.rows * (self.swatch + 2 + self.words + _GAP) + _FOOT

    def left(self, column: int) -> int:
        """Where the cloth of a column begins."""
        return _MARGIN + column * (self.swatch + _GAP)


def _lay_out(chosen: ChosenSet, columns: int | None, swatch: Length) -> _Layout:
    count = len(chosen)
    pixels = round(swatch.inches * _DPI)
    if not 48 <= pixels <= 2400:
        raise ArgumentError("swatch", "from 8.5 mm to 400 mm", words=str(swatch))
    # A little wider than high, as a screen or a landscape page is.
    wanted = columns or max(1, min(count, round(math.sqrt(count * 1.6))))
    across = min(as_whole(wanted, "columns", 1, 1000), count)
    ways = [bands for check in map(chosen.check_for, chosen)
            for bands in (check.warp_bands, check.weft_bands)]  # fmt: skip
    # One scale for the whole sheet: just two repeats each way of the widest.
    each = pixels_a_check(ways, pixels)
    side = round(2 * max(map(checks_in, ways)) * each)
    labels = [label_of(colourway, index) for index, colourway in enumerate(chosen)]
    layout = _Layout(
        side,
        across,
        -(-count // across),
        each,
        max(len(_lines(label, BOLD, _NAME, side)) for label in labels),
        max(len(_lines(_stripes_on_ground(one), PLAIN, _SMALL, side)) for one in chosen),
    )
    megapixels = layout.width * layout.height / 1e6
    if megapixels > _MOST_MEGAPIXELS:
        raise ArgumentError(
            "colourways",
            f"such that their sheet has at most {_MOST_MEGAPIXELS} megapixels",
            words=f"{count} of {swatch}, which take {megapixels:.0f}",
            hint="; make the swatch smaller, or several sheets",
        )
    return layout


def _lines(text: str, face: str, size: int, room: int) -> list[str]:
    """A text in as many lines as it needs, so that none of it is cut."""
    return wrapped(text, font_of(face, size).getlength, room, _MOST_LINES)


def edge_line(colourway: Colourway, check: Check | None = None) -> str:
    """Say the least of three differences over every edge on the cloth, in one short line."""
    tones, bands = colourway.tones[None], bands_of(colourway, check)
    if not len(touching_pairs(*bands).pairs):
        return "one tone"
    colour, lightness, ratio = (
        least_over_edges(tones, by, bands)[0] for by in ("de2000", "dl", "ratio")
    )
    return f"ΔE00 {colour:.1f} · ΔL* {lightness:.1f} · {ratio:.2f}:1"


def _stripes_on_ground(colourway: Colourway) -> str:
    kind = " (estimated)" if find_mixing(colourway.mixing).estimate else ""
    return f"{stripes_on_ground(colourway)}, {colourway.strength * 100:.4g}\u00a0%{kind}"


def _cloth(members: Sequence[Colourway], chosen: ChosenSet, layout: _Layout) -> list[Strip]:
    """One row of cloth: each band's row of pixels once, with hairlines round each piece."""
    side = layout.swatch
    checks = [chosen.check_for(colourway) for colourway in members]
    plans = [
        [np.resize(band_plan(bands, layout.each), side)
         for bands in (check.warp_bands, check.weft_bands)]
        for check in checks
    ]  # fmt: skip
    # Rows of pixels in which nothing changes are made once.
    changes = np.zeros(side, dtype=bool)
    changes[:: layout.each if isinstance(layout.each, int) else side] = True
    for _, weft in plans:
        changes[1:] |= weft[1:] != weft[:-1]
    starts = np.flatnonzero(changes)
    bands = np.full((len(starts), layout.width, 3), 255, dtype=np.uint8)
    line = np.full((1, layout.width, 3), 255, dtype=np.uint8)
    for column, (colourway, (warp, weft)) in enumerate(zip(members, plans, strict=True)):
        left = layout.left(column)
        # A hairline keeps a pale ground from running into the paper.
        line[:, left - 1 : left + side + 1] = _HAIRLINE
        bands[:, left - 1 : left + side + 1] = _HAIRLINE
        bands[:, left : left + side] = lay(srgb_to_bytes(colourway.tones), warp, weft[starts])
    return [(line, 1), (bands, np.diff(starts, append=side)), (line, 1)]


def _words(
    members: Sequence[Colourway], chosen: ChosenSet, first: int, layout: _Layout
) -> list[Strip]:
    plain, bold = font_of(PLAIN, _SMALL), font_of(BOLD, _NAME)
    side = layout.swatch
    words: list[Words] = []
    for column, colourway in enumerate(members):
        x, y = layout.left(column), 7
        for line in _lines(label_of(colourway, first + column), BOLD, _NAME, side):
            words.append(Words(x, y, line, bold, side))
            y += _LINE
        y = 7 + layout.names * _LINE + 3
        lines = [*_lines(_stripes_on_ground(colourway), PLAIN, _SMALL, side),
                 edge_line(colourway, chosen.check_for(colourway))]  # fmt: skip
        for line in lines:
            words.append(Words(x, y, line, plain, side, QUIET))
            y += _LINE
    gap = np.full((1, layout.width, 3), 255, dtype=np.uint8)
    return [(letter(layout.width, layout.words, words), 1), (gap, _GAP)]


def _head_and_foot(heading: str, about: str, width: int) -> tuple[Strip, Strip]:
    plain, big = font_of(PLAIN, _SMALL), font_of(BOLD, _TITLE)
    room = width - 2 * _MARGIN
    head = [
        Words(_MARGIN, _MARGIN - 6, heading, big, room),
        Words(_MARGIN, _MARGIN + 38, about, plain, room, QUIET),
        Words(_MARGIN, _MARGIN + 38 + _LINE, _EXPLAINED, plain, room, QUIET),
    ]
    foot = [Words(_MARGIN, 4, _CAUTION, plain, room, QUIET)]
    return (letter(width, _HEAD, head), 1), (letter(width, _FOOT, foot), 1)


def contact_sheet(
    colourways: Colourways,
    check: Check | None = None,
    *,
    columns: int | None = None,
    title: str = "",
    swatch: Length | str = "40 mm",
) -> Picture:
    """Draw many colourways on one sheet: cloth, name, colours, and the least edge contrast.

    All are drawn at one scale, which the sheet states: the widest repeat twice each way.

    Parameters
    ----------
    colourways : ChosenSet, Colourway or iterable of Colourway
    check : Check, optional
        May be left out where a chosen set brings its own.
    columns : int, optional
        How many side by side; otherwise about as wide as a screen.
    title : str
        Otherwise the name of the set.
    swatch : Length or str
        Side of each piece of cloth on the printed sheet, 8.5 to 400 mm.

    Returns
    -------
    Picture
        A PNG at 150 dpi, the same bytes for the same set.

    Raises
    ------
    ArgumentError, LengthError
        For no colourways, no check, or a sheet above 50 megapixels.

    Examples
    --------
    >>> from checkcloth.cloth.colourway import Colourway
    >>> three = [Colourway("white", [stripe]) for stripe in ("navy", "teal", "maroon")]
    >>> contact_sheet(three, Check("0.5 in", 1), columns=3).png[1:4]
    b'PNG'
    """
    chosen = as_set(colourways, check)
    heading = clean_text(title, "title") or chosen.name or "Contact sheet"
    layout = _lay_out(chosen, columns, Length(swatch))
    scale = float(layout.each) / _DPI / chosen.check.size.inches * 100
    about = (
        f"{counted(len(chosen), 'colourway')} · check of {chosen.check.size}, drawn at "
        f"{scale:.3g} % of true size where it is printed at {_DPI} dpi"
    )

    def strips() -> Iterator[Strip]:
        # A row of cloths at a time: a sheet of a hundred need not stand in memory whole.
        head, foot = _head_and_foot(heading, about, layout.width)
        yield head
        for start in range(0, len(chosen), layout.columns):
            members = chosen.colourways[start : start + layout.columns]
            yield from _cloth(members, chosen, layout)
            yield from _words(members, chosen, start, layout)
        yield foot

    names = "; ".join(label_of(colourway, index) for index, colourway in enumerate(chosen))
    alt = f"Contact sheet, {about}: {names}"
    size = layout.width, layout.height
    texts = [("Title", heading), ("Description", alt)]
    png = strips_png(strips(), size, dpi=_DPI, texts=texts)
    across, down = (round(side * 96 / _DPI) for side in size)
    return Picture(png, heading, alt, across, down)
