"""Tones to SVG: the tile at real size, in flat colours with crisp edges."""

from __future__ import annotations

from fractions import Fraction
from itertools import product
from xml.sax.saxutils import escape, quoteattr

from checkcloth.cloth.bands import band_spans, parts_of_a_check
from checkcloth.cloth.check import Check
from checkcloth.cloth.colourway import Colourway, fitting
from checkcloth.colour.css import hex_of
from checkcloth.export.picture.raster import describe


def _number(value: Fraction) -> str:
    """A decimal that SVG reads, exact to a millionth."""
    return f"{float(value):.6f}".rstrip("0").rstrip(".")


def tile_svg(colourway: Colourway, check: Check) -> str:
    """Return one repeat as SVG text: real size in millimetres, one path a tone.

    The drawing's own unit is one check, or the part of one that all bands are whole parts
    of, so every edge is a whole number; width and height carry the size. Set side by side
    the tiles join without a seam. Each tone is one path with the tone's name as its title,
    so that it can be picked out and recoloured.

    Parameters
    ----------
    colourway : Colourway
    check : Check
        With as many stripes as the colourway has.

    Raises
    ------
    ArgumentError
        For a check with other stripes.

    Examples
    --------
    >>> tile_svg(Colourway("white", ["navy"]), Check("10 mm", 1)).count("<path")
    4
    """
    fitting(colourway, check)
    parts = parts_of_a_check(check.warp_bands, check.weft_bands)
    columns, rows = (band_spans(bands, parts) for bands in (check.warp_bands, check.weft_bands))
    across, down = columns[-1][-1], rows[-1][-1]
    width, height = (_number(check.size.exact * count / parts) for count in (across, down))
    lines = [
        '<?xml version="1.0" encoding="UTF-8"?>',
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}mm" height="{height}mm" '
        f'viewBox="0 0 {across} {down}" shape-rendering="crispEdges">',
        f"<title>{escape(colourway.name or 'checkcloth tile')}</title>",
        f"<desc>{escape(describe(colourway, check))}</desc>",
    ]
    for weft, warp in product(range(colourway.tones.shape[1]), range(len(colourway.tones))):
        cells = "".join(
            _cell(x, y, right - x + (right == across), bottom - y + (bottom == down))
            for row, y, bottom in rows
            if row == weft
            for column, x, right in columns
            if column == warp
        )
        if not cells:  # the bands do not show this tone
            continue
        fill = quoteattr(hex_of(colourway.tones[warp, weft]))
        name = escape(colourway.tone_name(warp, weft))
        lines.append(
            f'<path id="tone-{warp}-{weft}" fill={fill} d="{cells}"><title>{name}</title></path>'
        )
    lines.append("</svg>\n")
    return "\n".join(lines)


def _cell(x: int, y: int, width: int, height: int) -> str:
    """A rectangle as a path. The last of a row and of a column goes on over the edge of the
    view box: where a picture's size is no whole pixels its last pixels would stay bare.
    """
    return f"M{x} {y}h{width}v{height}h-{width}z"
