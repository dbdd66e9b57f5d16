"""Larger pieces of cloth, of any width and length, written in bounded memory; thumbnails."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from os import PathLike
from pathlib import Path
from typing import BinaryIO

import numpy as np
from numpy.typing import NDArray

from checkcloth.arguments import as_path, as_whole
from checkcloth.cloth.bands import band_plan, band_spans
from checkcloth.cloth.check import Check, RepeatGrid
from checkcloth.cloth.colourway import Colourway, fitting
from checkcloth.cloth.length import Length
from checkcloth.cloth.tones import lay, pixels_a_check, swatch
from checkcloth.colour.spaces import srgb_to_bytes
from checkcloth.errors import ArgumentError, LengthError
from checkcloth.export.picture.raster import cells_of, describe
from checkcloth.files.png import write_bands_png
from checkcloth.files.whole import write_whole
from checkcloth.scoring.pairs import bands_of
from checkcloth.version import PROGRAM

_MOST_WIDTH, _MOST_LENGTH = Length("5000 mm"), Length("200000 mm")
# What PNG can state is more; beyond this a row alone is unwieldy.
_MOST_ACROSS, _MOST_DOWN = 500_000, 2_000_000
_MOST_ARRAY = 50_000_000


@dataclass(frozen=True)
class Piece:
    """A piece of cloth in whole pixels: how many, and how they fall into bands.

    Parameters
    ----------
    check : Check
    width, length : Length or str
        Up to 5 m wide and 200 m long.
    dpi : number
        Wanted resolution; the exact one is in ``exact_dpi``.
    cut : bool
        Cut at exactly that size. Otherwise whole repeats only, at most that size (but one
        at least), so that the piece joins to itself without a seam.

    Raises
    ------
    ArgumentError, LengthError
        For values out of range.

    Examples
    --------
    >>> piece = Piece(Check("0.5 in", 3), "20 in", "8 in", 100)
    >>> piece.pixels, print(piece.size)
    18 in (457.2 mm) wide, 6 in (152.4 mm) long
    ((1800, 600), None)
    """

    check: Check
    width: Length | str
    length: Length | str
    dpi: Fraction | float = 300
    cut: bool = False

    def __post_init__(self) -> None:
        for name, most in (("width", _MOST_WIDTH), ("length", _MOST_LENGTH)):
            value = Length(getattr(self, name))
            if not Length("1 mm") <= value <= most:
                raise LengthError(name, f"from 1 mm to {most}", words=str(value))
            object.__setattr__(self, name, value)
        across, down = self.pixels
        if across > _MOST_ACROSS or down > _MOST_DOWN:
            raise ArgumentError(
                "dpi",
                f"such that the cloth has at most {_MOST_ACROSS} × {_MOST_DOWN} pixels",
                words=f"{across} × {down}",
            )

    @cached_property
    def repeat(self) -> RepeatGrid:
        """Pixels of one repeat, the same as those of the tile."""
        return self.check.repeat_grid(self.dpi)

    @property
    def exact_dpi(self) -> Fraction:
        """The resolution at which the repeat has exactly its size."""
        return self.repeat.dpi

    def _side(self, wanted: Length, repeat: Length, pixels: int) -> int:
        if self.cut:
            return max(1, round(wanted / repeat * pixels))
        return int(max(1, wanted.exact // repeat.exact)) * pixels

    @cached_property
    def pixels(self) -> tuple[int, int]:
        """Pixels across and down."""
        check, grid = self.check, self.repeat
        return (
            self._side(Length(self.width), check.repeat_width, grid.across),
            self._side(Length(self.length), check.repeat_height, grid.down),
        )

    @property
    def size(self) -> str:
        """How large the piece comes out, for people: cut, in the units it was asked for in."""
        if self.cut:
            return f"{Length(self.width)} wide, {Length(self.length)} long"
        across, down = (
            Length.of_mm(Fraction(254, 10) * side / self.exact_dpi, self.check.size.unit)
            for side in self.pixels
        )
        return f"{across} wide, {down} long"

    def columns(self) -> NDArray[np.intp]:
        """Return the stripe number at every pixel across."""
        return np.resize(self.check.repeat_plans(self.repeat)[0], self.pixels[0])

    def runs(self) -> Iterator[tuple[int, int]]:
        """Yield stripe numbers down the cloth, each with its pixel rows; no array is made."""
        each = self.repeat.dpi * (self.check.size / Length("1 in"))
        spans = band_spans(self.check.weft_bands, each)
        left = self.pixels[1]
        while left:
            for stripe, start, end in spans:
                rows = min(left, end - start)
                if rows:
                    yield stripe, rows
                left -= rows


def write_cloth_png(stream: BinaryIO, colourway: Colourway, piece: Piece) -> None:
    """Write a piece of cloth as an indexed PNG; memory is one row, however long it is.

    Raises
    ------
    ArgumentError
        For a check with other stripes than the colourway.
    """
    fitting(colourway, piece.check)
    texts = [
        ("Title", colourway.name or "checkcloth cloth"),
        ("Description", f"{describe(colourway, piece.check)}; {piece.size}"),
        ("Software", PROGRAM),
    ]
    write_bands_png(
        stream,
        cells_of(colourway),
        piece.columns(),
        piece.runs(),
        piece.pixels[1],
        dpi=piece.exact_dpi,
        texts=texts,
    )


def cloth_pixels(colourway: Colourway, piece: Piece) -> NDArray[np.uint8]:
    """Return a piece of cloth as pixels (H, W, 3), for pieces of at most 50 megapixels.

    Raises
    ------
    ArgumentError
    """
    fitting(colourway, piece.check)
    across, down = piece.pixels
    if across * down > _MOST_ARRAY:
        raise ArgumentError(
            "piece",
            f"at most {_MOST_ARRAY // 10**6} megapixels as an array",
            words=f"{across * down / 1e6:.0f}; save_cloth writes it without one",
        )
    rows = np.repeat(*np.array(list(piece.runs())).T)
    return lay(srgb_to_bytes(colourway.tones), piece.columns(), rows)


def save_cloth(
    colourway: Colourway, piece: Piece, path: str | PathLike[str], *, overwrite: bool = False
) -> Path:
    """Write a piece of cloth as a PNG file, whole or not at all; return its path.

    Raises
    ------
    ExistsError
        If the file is there and ``overwrite`` is not set.
    ArgumentError
        For a check with other stripes than the colourway.

    Examples
    --------
    >>> from tempfile import TemporaryDirectory
    >>> piece = Piece(Check("1/2 in", 1), "2 in", "1 in", 100)
    >>> with TemporaryDirectory() as folder:
    ...     save_cloth(Colourway("white", ["navy"]), piece, f"{folder}/cloth.png").name
    'cloth.png'
    """
    return write_whole(
        as_path(path), lambda stream: write_cloth_png(stream, colourway, piece), overwrite=overwrite
    )


def thumbnail_png(colourway: Colourway, side: int = 256, check: Check | None = None) -> bytes:
    """Return a small square picture of the cloth, of exactly ``side`` pixels.

    About two repeats each way, in whole pixels a check, so that no tone is blended; the
    size says nothing of the real one.

    Parameters
    ----------
    colourway : Colourway
    side : int
        16 to 4096.
    check : Check, optional
        Brings the bands; those of an even check where left out.

    Raises
    ------
    ArgumentError
    """
    side = as_whole(side, "thumbnails", 16, 4096)
    both = bands_of(colourway, check)
    each = pixels_a_check(both, side)
    warp, weft = (np.resize(band_plan(bands, each), side) for bands in both)
    texts = [("Title", colourway.name or "checkcloth thumbnail")]
    return swatch(colourway.tones, warp, weft, texts=texts)
