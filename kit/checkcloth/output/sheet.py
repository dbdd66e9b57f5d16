"""The contact sheet: many colourways on one picture, with their names and scores."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from checkcloth.base.png import rgb_png
from checkcloth.cloth.check import Check
from checkcloth.cloth.chosen import ChosenSet
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.length import Length
from checkcloth.cloth.mixing import find_mixing
from checkcloth.cloth.named_colour import clean_text
from checkcloth.colour.arrays import as_whole
from checkcloth.errors import ArgumentError
from checkcloth.explore.contrast import Score
from checkcloth.output.fonts import BOLD, PLAIN, font_file
from checkcloth.output.members import Colourways, as_set, label_of
from checkcloth.output.picture import Picture
from checkcloth.output.raster import cells_of
from checkcloth.output.tables import scores_of

if TYPE_CHECKING:
    from PIL.ImageFont import FreeTypeFont

__all__ = ["MOST_SHEET_PIXELS", "contact_sheet"]

MOST_SHEET_PIXELS = 50_000_000
_DPI = 150
_PAPER, _INK, _QUIET = (255, 255, 255), (34, 34, 34), (98, 98, 98)
# In pixels at 150 dpi: names 8 pt, small print 6.5 pt, the title 14 pt.
_NAME, _SMALL, _TITLE = 17, 14, 29
_MARGIN, _GAP, _LINE = 42, 30, 19
_EXPLAINED = "Under each: the least difference over the edges between its tones."
_CAUTION = "A screen is no proof of a print or a weave: agree a strike-off before ordering."


@dataclass(frozen=True)
class _Layout:
    """Where everything goes, in pixels; worked out before anything is drawn."""

    swatch: int
    columns: int
    rows: int
    each: int
    top: int

    @property
    def step(self) -> tuple[int, int]:
        return self.swatch + _GAP, self.swatch + 8 + 3 * _LINE + 10 + _GAP

    @property
    def size(self) -> tuple[int, int]:
        across, down = self.step
        width = max(2 * _MARGIN + self.columns * across - _GAP, 560)
        return width, self.top + self.rows * down - _GAP + _LINE + 2 * _MARGIN

    def corner(self, place: int) -> tuple[int, int]:
        row, column = divmod(place, self.columns)
        across, down = self.step
        return _MARGIN + column * across, self.top + row * down


def _lay_out(chosen: ChosenSet, columns: int | None, swatch: Length) -> _Layout:
    count = len(chosen)
    pixels = round(swatch.inches * _DPI)
    if not 48 <= pixels <= 2400:
        raise ArgumentError(f"swatch must be from 8.5 mm to 400 mm, found {swatch}")
    # A little wider than high, as a screen or a landscape page is.
    wanted = columns or max(1, min(count, round(math.sqrt(count * 1.6))))
    across = min(as_whole(wanted, "columns", 1, 1000), count)
    most = max(len(colourway.stripes) for colourway in chosen)
    # One scale for the whole sheet: just two repeats each way of the widest.
    each = max(1, round(pixels / (4 * most)))
    layout = _Layout(4 * most * each, across, -(-count // across), each, 148)
    width, height = layout.size
    if width * height > MOST_SHEET_PIXELS:
        raise ArgumentError(
            f"colourways must fit a sheet of {MOST_SHEET_PIXELS // 10**6} megapixels, found "
            f"{count} of {swatch}, which take {width * height / 1e6:.0f}; "
            "make the swatch smaller, or several sheets"
        )
    return layout


@lru_cache(maxsize=8)
def _font(name: str, size: int) -> FreeTypeFont:
    from PIL import ImageFont

    # The basic layout is the same on every machine; the other needs a library of its own.
    return ImageFont.truetype(font_file(name), size, layout_engine=ImageFont.Layout.BASIC)


def _fitted(text: str, font: FreeTypeFont, width: int) -> str:
    """The text, or as much of it as fits with an ellipsis."""
    if font.getlength(text) <= width:
        return text
    low, high = 0, len(text)
    while low < high:
        middle = (low + high + 1) // 2
        if font.getlength(text[:middle].rstrip() + "…") <= width:
            low = middle
        else:
            high = middle - 1
    return text[:low].rstrip() + "…"


def edge_line(one: Score) -> str:
    """Say the least of three differences over every edge on the cloth, in one short line."""
    ground, cross = one.ground_single, one.single_crossing
    lightness = np.fmin(ground.least_dl, cross.least_dl)
    ratio = np.fmin(ground.least_ratio, cross.least_ratio)
    return f"ΔE00 {one.least_edge:.1f} · ΔL* {lightness:.1f} · {ratio:.2f}:1"


def _colours_line(colourway: Colourway) -> str:
    stripes = ", ".join(stripe.name for stripe in colourway.stripes)
    kind = " (estimated)" if find_mixing(colourway.mixing).estimate else ""
    return f"{stripes} on {colourway.ground.name}, {colourway.strength * 100:.4g} %{kind}"


def _put_cloth(canvas: NDArray[np.uint8], chosen: ChosenSet, layout: _Layout) -> None:
    side = layout.swatch
    for place, colourway in enumerate(chosen):
        plan = chosen.check_for(colourway).plan(layout.each)
        plan = np.tile(plan, -(-side // len(plan)))[:side]
        x, y = layout.corner(place)
        canvas[y : y + side, x : x + side] = cells_of(colourway)[:, plan][plan]


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
    """
    from PIL import Image, ImageDraw

    chosen = as_set(colourways, check)
    heading = clean_text(title, "title") or chosen.name or "Contact sheet"
    layout = _lay_out(chosen, columns, Length(swatch))
    width, height = layout.size
    canvas = np.full((height, width, 3), 255, dtype=np.uint8)
    _put_cloth(canvas, chosen, layout)
    sheet = Image.fromarray(canvas)
    draw = ImageDraw.Draw(sheet)

    def write(
        x: int, y: int, text: str, font: FreeTypeFont, room: int, ink: tuple[int, int, int]
    ) -> None:
        draw.text((x, y), _fitted(text, font, room), font=font, fill=ink)

    plain, bold, big = _font(PLAIN, _SMALL), _font(BOLD, _NAME), _font(BOLD, _TITLE)
    room = width - 2 * _MARGIN
    scale = layout.each / _DPI / chosen.check.size.inches * 100
    noun = "colourway" if len(chosen) == 1 else "colourways"
    about = f"{len(chosen)} {noun} · check of {chosen.check.size} · at {scale:.3g} % of real size"
    write(_MARGIN, _MARGIN - 6, heading, big, room, _INK)
    write(_MARGIN, _MARGIN + 38, about, plain, room, _QUIET)
    write(_MARGIN, _MARGIN + 38 + _LINE, _EXPLAINED, plain, room, _QUIET)
    scores = scores_of(chosen.colourways)
    for place, (colourway, one) in enumerate(zip(chosen, scores, strict=True)):
        x, y = layout.corner(place)
        side = layout.swatch
        # A hairline keeps a pale ground from running into the paper.
        draw.rectangle((x - 1, y - 1, x + side, y + side), outline=(214, 214, 214))
        y += side + 8
        write(x, y, label_of(colourway, place), bold, side, _INK)
        write(x, y + _LINE + 3, _colours_line(colourway), plain, side, _QUIET)
        write(x, y + 2 * _LINE + 3, edge_line(one), plain, side, _QUIET)
    write(_MARGIN, height - _MARGIN - _SMALL, _CAUTION, plain, room, _QUIET)

    names = "; ".join(label_of(colourway, place) for place, colourway in enumerate(chosen))
    alt = f"Contact sheet, {about}: {names}"
    texts = [("Title", heading), ("Description", alt)]
    png = rgb_png(np.asarray(sheet), dpi=_DPI, texts=texts)
    return Picture(png, heading, alt, round(width * 96 / _DPI), round(height * 96 / _DPI))
