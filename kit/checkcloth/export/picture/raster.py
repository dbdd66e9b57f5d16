"""Tones to pixels: the tile and larger pieces of cloth, as arrays and as PNG."""

from __future__ import annotations

from fractions import Fraction
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from checkcloth.cloth.check import Check, RepeatGrid
from checkcloth.cloth.colourway import Colourway, fitting
from checkcloth.cloth.length import Length
from checkcloth.cloth.mixing import find_mixing
from checkcloth.cloth.tones import lay, swatch
from checkcloth.colour.spaces import srgb_to_bytes
from checkcloth.errors import ArgumentError

MOST_TILE_PIXELS = 400_000_000


def cells_of(colourway: Colourway) -> NDArray[np.uint8]:
    """Return the 8-bit tones as rows of a picture: index [weft, warp], shape (F+1, W+1, 3)."""
    return np.ascontiguousarray(srgb_to_bytes(colourway.tones).swapaxes(0, 1))


def describe(colourway: Colourway, check: Check) -> str:
    """Say in one plain sentence what a picture of the cloth shows."""
    kind = "Estimated gingham" if find_mixing(colourway.mixing).estimate else "Gingham"
    return f"{kind}: {colourway}; {check}"


class TileSize(NamedTuple):
    """Pixels across and down the tile, and the resolution it is exact at."""

    pixels: tuple[int, int]
    dpi: Fraction


def tile_size(check: Check, dpi: Fraction | float) -> TileSize:
    """Return how many pixels one repeat takes: at ``dpi`` itself wherever they are whole.

    Raises
    ------
    ArgumentError
        For a resolution outside 1–9600 dpi, or a tile above 400 megapixels.

    >>> tile_size(Check("1/8 in", 2), 150)
    TileSize(pixels=(75, 75), dpi=Fraction(150, 1))
    """
    across, down, exact = check.repeat_grid(dpi)
    if across * down > MOST_TILE_PIXELS:
        raise ArgumentError(
            "dpi",
            f"such that the tile has at most {MOST_TILE_PIXELS // 10**6} megapixels",
            words=f"{float(dpi):g} for {check}, which is {across * down / 1e6:.0f}",
        )
    return TileSize((across, down), exact)


_UNITS = {unit: Length(f"1 {unit}") for unit in ("in", "mm", "cm", "m")}


def number_in(length: Length, unit: str) -> str:
    """Return a length as a number for a file's name, to four places.

    >>> number_in(Length("1/8 in"), "in")
    '0.125'
    """
    return f"{float(length / _UNITS[unit]):.4f}".rstrip("0").rstrip(".")


def tile_name(check: Check, dpi: Fraction | float | None = None) -> str:
    """Return the part of a tile's file name that says check size, repeat and resolution.

    >>> tile_name(Check("1/8 in", 2), 150)
    '0.125in-repeat-0.5in-150dpi'
    >>> tile_name(Check("7 mm", 1, weft="1 A"))
    '7mm-repeat-14x7mm'
    """
    unit = check.size.unit
    size, wide, high = (
        number_in(length, unit) for length in (check.size, check.repeat_width, check.repeat_height)
    )
    repeat = wide if wide == high else f"{wide}x{high}"
    name = f"{size}{unit}-repeat-{repeat}{unit}"
    if dpi is None:
        return name
    return f"{name}-{float(tile_size(check, dpi).dpi):.6g}dpi"


def tile_pixels(
    colourway: Colourway, check: Check, dpi: Fraction | float = 300
) -> tuple[NDArray[np.uint8], float]:
    """Draw one repeat in whole pixels.

    Parameters
    ----------
    colourway : Colourway
    check : Check
        With as many stripes as the colourway has.
    dpi : number
        Wanted resolution, 1–9600 dots per inch.

    Returns
    -------
    pixels : ndarray of uint8, shape (H, W, 3)
        Encoded sRGB. ``pixels[y, x]`` is the tone of warp band at x and weft band at y.
    dpi : float
        The resolution at which the tile prints at exactly its real size.

    Raises
    ------
    ArgumentError
        For a check with other stripes, a resolution out of range, a tile too large.

    Examples
    --------
    >>> pixels, dpi = tile_pixels(Colourway("white", ["navy"]), Check("1/8 in", 1), 300)
    >>> pixels.shape, dpi
    ((75, 75, 3), 300.0)
    """
    size = tile_size(fitting(colourway, check), dpi)
    warp, weft = check.repeat_plans(RepeatGrid(*size.pixels, size.dpi))
    return lay(srgb_to_bytes(colourway.tones), warp, weft), float(size.dpi)


def tile_png(colourway: Colourway, check: Check, dpi: Fraction | float = 300) -> bytes:
    """Return one repeat as an indexed PNG that records its real size (pHYs) and sRGB.

    Parameters
    ----------
    colourway, check, dpi :
        See :func:`tile_pixels`, whose pixels these are.

    Raises
    ------
    ArgumentError
        For a check with other stripes, a resolution out of range, or a tile too large.

    Examples
    --------
    >>> tile_png(Colourway("white", ["navy"]), Check("1/8 in", 1), 150)[1:4]
    b'PNG'
    """
    size = tile_size(fitting(colourway, check), dpi)
    warp, weft = check.repeat_plans(RepeatGrid(*size.pixels, size.dpi))
    texts = [("Title", colourway.name or "checkcloth tile"),
             ("Description", describe(colourway, check))]  # fmt: skip
    return swatch(colourway.tones, warp, weft, dpi=size.dpi, texts=texts)
