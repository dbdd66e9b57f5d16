"""The tile on the bias: cloth turned by 45°, as a square that tiles without a seam.

Turned cloth repeats along x and along y after √2 times the least length that holds whole
repeats both ways; so long is the side of the square. That is no whole number of pixels at
any resolution: the picture has the nearest, and records the resolution at which they have
the real size.
"""

from __future__ import annotations

from fractions import Fraction
from math import lcm, sqrt
from typing import NamedTuple
from xml.sax.saxutils import escape, quoteattr

import numpy as np
from numpy.typing import NDArray

from checkcloth.cloth.bands import Bands, band_plan, band_spans, checks_in, parts_of_a_check
from checkcloth.cloth.check import Check
from checkcloth.cloth.colourway import Colourway, fitting
from checkcloth.cloth.length import Length
from checkcloth.colour.css import hex_of
from checkcloth.colour.spaces import srgb_to_bytes
from checkcloth.errors import ArgumentError
from checkcloth.export.picture.raster import describe
from checkcloth.files.png import rows_png

_MOST_PIXELS = 100_000_000
_MOST_CELLS = 250_000


class BiasTile(NamedTuple):
    """How a tile on the bias comes out.

    ``checks`` are those along the threads in which both ways repeat; ``side`` is the side of
    the square, √2 times as long, to a millionth of a millimetre.
    """

    checks: Fraction
    side: Length


def bias_tile(check: Check) -> BiasTile:
    """Return how large the square is that tiles when the cloth is turned by 45°.

    >>> print(bias_tile(Check("0.5 in", 3)).side)
    4.2426 in (107.7631 mm)
    """
    both = [Fraction(checks_in(bands)) for bands in (check.warp_bands, check.weft_bands)]
    bottom = lcm(*(side.denominator for side in both))
    checks = Fraction(lcm(*(int(side * bottom) for side in both)), bottom)
    exact = float(check.size.exact * checks) * sqrt(2)
    return BiasTile(checks, Length.of_mm(round(exact, 6), check.size.unit))


def bias_size(check: Check, dpi: Fraction | float) -> tuple[int, float]:
    """Return the pixels a side of the square, and the dpi at which it has its real size.

    Raises
    ------
    ArgumentError
        For a resolution out of range, or a tile of over 100 megapixels.

    >>> bias_size(Check("1/2 in", 1), 100)[0]
    141
    """
    check.grid(dpi)  # holds the resolution to its limits
    side = bias_tile(check).side
    pixels = max(1, round(side.inches * float(dpi)))
    if pixels**2 > _MOST_PIXELS:
        allowed = f"such that the tile has at most {_MOST_PIXELS // 10**6} megapixels"
        raise ArgumentError("dpi", allowed, words=f"{float(dpi):g}: {pixels**2 / 1e6:.0f}")
    return pixels, pixels / side.inches


def bias_cells(check: Check) -> tuple[Bands, Bands]:
    """Return the bands both ways of which the square is cut.

    Raises
    ------
    ArgumentError
        Where that makes over 250,000 cells.
    """
    # The square's corners lie along the threads at (0, 0), (L, −L), (L, L) and (2L, 0).
    warp, weft = (bands * 2 for bands in _ways(check, bias_tile(check).checks))
    if len(warp) * len(weft) > _MOST_CELLS:
        allowed = f"one whose tile on the bias has at most {_MOST_CELLS:,} cells"
        raise ArgumentError("check", allowed, words=f"{len(warp) * len(weft):,}")
    return warp, weft


def _ways(check: Check, checks: Fraction) -> tuple[Bands, Bands]:
    """The bands both ways over so many checks."""
    warp, weft = (
        bands * int(checks / checks_in(bands)) for bands in (check.warp_bands, check.weft_bands)
    )
    return warp, weft


def bias_pixels(
    colourway: Colourway, check: Check, dpi: Fraction | float = 300
) -> tuple[NDArray[np.uint8], float]:
    """Draw cloth on the bias as a square that tiles without a seam, no tone blended.

    Parameters
    ----------
    colourway : Colourway
    check : Check
    dpi : number
        Wanted resolution, 1–9600 dots per inch.

    Returns
    -------
    pixels : ndarray of uint8, shape (S, S, 3)
        Warp stripes run up to the left, weft stripes up to the right.
    dpi : float
        The resolution at which the square has its real size (:func:`bias_tile`).

    Raises
    ------
    ArgumentError
        For a check with other stripes, a resolution out of range, or a tile too large.

    Examples
    --------
    >>> pixels, dpi = bias_pixels(Colourway("white", ["navy"]), Check("1/2 in", 1), 100)
    >>> pixels.shape, round(dpi, 2)
    ((141, 141, 3), 99.7)
    """
    pixels, exact = bias_size(fitting(colourway, check), dpi)
    checks = bias_tile(check).checks
    warp, weft = (band_plan(bands, pixels / checks) for bands in _ways(check, checks))
    y, x = np.ogrid[:pixels, :pixels]
    # Along the threads, from the centre of a pixel: u = (x + y + 1) / √2, v = (y − x) / √2.
    drawn = srgb_to_bytes(colourway.tones)[warp[(x + y + 1) % pixels], weft[(y - x) % pixels]]
    return drawn, exact


def bias_png(colourway: Colourway, check: Check, dpi: Fraction | float = 300) -> bytes:
    """Return :func:`bias_pixels` as PNG; its texts say the size.

    >>> bias_png(Colourway("white", ["navy"]), Check("1/2 in", 1), 100)[1:4]
    b'PNG'
    """
    pixels, exact = bias_pixels(colourway, check, dpi)
    texts = [
        ("Title", f"{colourway.name or 'checkcloth tile'}, on the bias"),
        ("Description", f"{_about(check)} {describe(colourway, check)}"),
    ]
    return rows_png(pixels, dpi=exact, texts=texts)


def _about(check: Check) -> str:
    return f"On the bias (45°), a square of {bias_tile(check).side} that tiles."


def bias_svg(colourway: Colourway, check: Check) -> str:
    """Return cloth on the bias as SVG text: a square at real size, one path a tone.

    Parameters
    ----------
    colourway : Colourway
    check : Check

    Raises
    ------
    ArgumentError
        For a check with other stripes, or one whose two repeats come together so late that
        the drawing would have over 250,000 cells.

    Examples
    --------
    >>> bias_svg(Colourway("white", ["navy"]), Check("10 mm", 1)).count("<path")
    4
    """
    fitting(colourway, check)
    checks, side = bias_tile(check)
    parts = parts_of_a_check(check.warp_bands, check.weft_bands)
    warp, weft = bias_cells(check)
    length = int(checks * parts)
    columns = band_spans(warp, parts)
    paths: dict[tuple[int, int], list[str]] = {}
    for to, top, bottom in band_spans(weft, parts):
        for at, left, right in columns:
            wide = right - left
            cell = f"M{left} {top - length}h{wide}v{bottom - top}h-{wide}z"
            paths.setdefault((at, to), []).append(cell)
    view, turn = f"{length * sqrt(2):.6f}", f"{sqrt(0.5):.9f}"
    size = f"{side.mm:.6f}".rstrip("0").rstrip(".")
    lines = [
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{size}mm" height="{size}mm" '
        f'viewBox="0 0 {view} {view}" shape-rendering="crispEdges">',
        f"<title>{escape(colourway.name or 'checkcloth tile')}, on the bias</title>",
        f"<desc>{escape(f'{_about(check)} {describe(colourway, check)}')}</desc>",
        f'<g transform="matrix({turn} {turn} -{turn} {turn} 0 0)">',
    ]
    for (at, to), cells in sorted(paths.items()):
        fill = quoteattr(hex_of(colourway.tones[at, to]))
        name = escape(colourway.tone_name(at, to))
        d = "".join(cells)
        lines.append(f'<path id="tone-{at}-{to}" fill={fill} d="{d}"><title>{name}</title></path>')
    lines.append("</g></svg>\n")
    return "\n".join(lines)
