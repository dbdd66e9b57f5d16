"""Tones to pixels: the tile and larger pieces of cloth, as arrays and as PNG."""

from __future__ import annotations

from fractions import Fraction

import numpy as np
from numpy.typing import NDArray

from checkcloth.arguments import require_type
from checkcloth.cloth.check import Check
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.mixing import find_mixing
from checkcloth.colour.spaces import srgb_to_bytes
from checkcloth.errors import ArgumentError
from checkcloth.files.png import bands_png

__all__ = ["MOST_TILE_PIXELS", "cells_of", "describe", "tile_pixels", "tile_png", "tile_size"]

MOST_TILE_PIXELS = 400_000_000


def fitting(colourway: Colourway, check: Check) -> Check:
    """Return ``check``, or say that it has another number of stripes than the colourway.

    Raises
    ------
    ArgumentError
    """
    require_type(colourway, "colourway", Colourway)
    if require_type(check, "check", Check).stripes != len(colourway.stripes):
        raise ArgumentError(
            f"check must have as many stripes as the colourway ({len(colourway.stripes)}), "
            f"found {check.stripes}"
        )
    return check


def cells_of(colourway: Colourway) -> NDArray[np.uint8]:
    """Return the 8-bit tones as rows of a picture: index [weft, warp], shape (N+1, N+1, 3).

    >>> cells_of(Colourway("white", ["navy"]))[1, 1].tolist()
    [64, 64, 160]
    """
    return np.ascontiguousarray(srgb_to_bytes(colourway.tones).swapaxes(0, 1))


def describe(colourway: Colourway, check: Check) -> str:
    """Say in one plain sentence what a picture of the cloth shows.

    >>> print(describe(Colourway("white", ["navy"], name="Quay"), Check("1/2 in", 1))[:28])
    Gingham: Quay: navy on white
    """
    kind = "Estimated gingham" if find_mixing(colourway.mixing).estimate else "Gingham"
    return f"{kind}: {colourway}; {check}"


def tile_size(check: Check, dpi: Fraction | float) -> tuple[int, int, Fraction]:
    """Return pixels a check, pixels a side of the tile, and the resolution it is exact at.

    Raises
    ------
    ArgumentError
        For a resolution outside 1–9600 dpi, or a tile above 400 megapixels.

    >>> tile_size(Check("1/8 in", 2), 150)
    (19, 76, Fraction(152, 1))
    """
    grid = check.grid(dpi)
    side = grid.pixels * sum(band.checks for band in check.bands)
    if side * side > MOST_TILE_PIXELS:
        raise ArgumentError(
            f"dpi must leave the tile at most {MOST_TILE_PIXELS // 10**6} megapixels, "
            f"found {float(dpi):g} for {check}, which is {side * side / 1e6:.0f}"
        )
    return grid.pixels, side, grid.dpi


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
    >>> pixels, dpi = tile_pixels(Colourway("white", ["navy"]), Check("1/8 in", 1), 150)
    >>> pixels.shape, dpi
    ((38, 38, 3), 152.0)
    """
    each, _, exact = tile_size(fitting(colourway, check), dpi)
    plan = check.plan(each)
    return cells_of(colourway)[plan[:, None], plan], float(exact)


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
    each, _, exact = tile_size(fitting(colourway, check), dpi)
    plan = check.plan(each)
    texts = [("Title", colourway.name or "checkcloth tile"),
             ("Description", describe(colourway, check))]  # fmt: skip
    return bands_png(cells_of(colourway), plan, plan, dpi=exact, texts=texts)
