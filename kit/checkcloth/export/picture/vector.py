"""Tones to SVG: the tile at real size, in flat colours with crisp edges."""

from __future__ import annotations

from fractions import Fraction
from xml.sax.saxutils import escape, quoteattr

import numpy as np

from checkcloth.cloth.check import Check
from checkcloth.cloth.colourway import Colourway
from checkcloth.colour.css import hex_of
from checkcloth.export.picture.raster import describe, fitting

__all__ = ["tile_svg"]


def _number(value: Fraction) -> str:
    """A decimal that SVG reads, exact to a millionth."""
    return f"{float(value):.6f}".rstrip("0").rstrip(".")


def tile_svg(colourway: Colourway, check: Check) -> str:
    """Return one repeat as SVG text: real size in millimetres, one path a tone.

    The drawing's own unit is one check, so every edge is a whole number; width and height
    carry the size. Set side by side the tiles join without a seam. Each tone is one path
    with the tone's name as its title, so that it can be picked out and recoloured.

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
    plan = fitting(colourway, check).plan()
    side = len(plan)
    size = _number(check.repeat.exact)
    lines = [
        '<?xml version="1.0" encoding="UTF-8"?>',
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{size}mm" height="{size}mm" '
        f'viewBox="0 0 {side} {side}" shape-rendering="crispEdges">',
        f"<title>{escape(colourway.name or 'checkcloth tile')}</title>",
        f"<desc>{escape(describe(colourway, check))}</desc>",
    ]
    tones = colourway.tones
    for weft in range(check.stripes + 1):
        rows = np.flatnonzero(plan == weft)
        for warp in range(check.stripes + 1):
            columns = np.flatnonzero(plan == warp)
            cells = "".join(f"M{x} {y}h1v1h-1z" for y in rows for x in columns)
            name = colourway.tone_name(warp, weft)
            lines.append(
                f'<path id="tone-{warp}-{weft}" fill={quoteattr(hex_of(tones[warp, weft]))} '
                f'd="{cells}"><title>{escape(name)}</title></path>'
            )
    lines.append("</svg>\n")
    return "\n".join(lines)
