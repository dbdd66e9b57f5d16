"""The check: its size, bands, repeat and pixels, and from how far it is seen. No colours yet."""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from checkcloth.arguments import as_number, as_whole
from checkcloth.cloth.length import Length
from checkcloth.errors import ArgumentError, LengthError
from checkcloth.files.html import figure, image
from checkcloth.files.png import bands_png

MOST_STRIPES = 24
_SMALLEST, _LARGEST = Length("0.1 mm"), Length("1000 mm")
_MOST_DPI = 9600


class Band(NamedTuple):
    """One band across the repeat: the stripe's number (0 is ground) and width in checks."""

    stripe: int
    checks: int


@lru_cache(maxsize=64)
def even_bands(stripes: int) -> tuple[Band, ...]:
    """Return the bands of an even check: stripe 1, ground, stripe 2 … each one check wide."""
    return tuple(Band(stripe, 1) for number in range(1, stripes + 1) for stripe in (number, 0))


def band_plan(bands: tuple[Band, ...], pixels: int = 1) -> NDArray[np.intp]:
    """Return the stripe number at every pixel across one repeat, ``pixels`` a check."""
    stripes, checks = np.array(bands, dtype=np.intp).T
    return np.repeat(stripes, checks * pixels)


class Fit(NamedTuple):
    """How a repeat fits a cloth width: whole repeats, and the length left over."""

    repeats: int
    left_over: Length


class Grid(NamedTuple):
    """Whole pixels for a check: pixels a check, and the dpi that keeps the size exact."""

    pixels: int
    dpi: Fraction


@dataclass(frozen=True)
class Check:
    """An even check: every stripe and every gap between stripes one check size wide.

    Parameters
    ----------
    size : Length or str
        Side of one square, 0.1 mm to 1 m.
    stripes : int
        How many stripe colours, each way, 1 to 24.

    Raises
    ------
    LengthError
        For a size without a unit, or outside 0.1 mm–1 m.
    ArgumentError
        For a stripe count that is not a whole number from 1 to 24.

    Examples
    --------
    >>> print(Check("0.5 in", 3).repeat)
    3 in (76.2 mm)
    >>> print(Check("1/8 in", 2))
    check of 1/8 in (3.175 mm), 2 stripes, repeat 1/2 in (12.7 mm)
    """

    size: Length
    stripes: int

    def __init__(self, size: Length | str, stripes: int) -> None:
        length = Length(size)
        if not _SMALLEST <= length <= _LARGEST:
            raise LengthError("size", "from 0.1 mm to 1 m", str(length))
        object.__setattr__(self, "size", length)
        object.__setattr__(self, "stripes", as_whole(stripes, "stripes", 1, MOST_STRIPES))

    @property
    def bands(self) -> tuple[Band, ...]:
        """The bands across one repeat, warp and weft alike: stripe 1, ground, stripe 2 …"""
        return even_bands(self.stripes)

    @property
    def warp_bands(self) -> tuple[Band, ...]:
        """The bands across the cloth; in an even check those of the weft too."""
        return self.bands

    @property
    def weft_bands(self) -> tuple[Band, ...]:
        """The bands up the cloth."""
        return self.bands

    @property
    def repeat(self) -> Length:
        """Side of the smallest square that tiles: 2 × check size × stripes (common practice)."""
        return self.size * sum(band.checks for band in self.bands)

    def across(self, width: Length | str) -> Fit:
        """Return how many whole repeats fit across ``width``, and what is left over.

        >>> Check("0.5 in", 3).across("44 in")
        Fit(repeats=14, left_over=Length('2 in'))
        """
        wanted = Length(width)
        repeats = wanted.exact // self.repeat.exact
        return Fit(repeats, wanted - self.repeat * repeats)

    def grid(self, dpi: Fraction | float) -> Grid:
        """Return whole pixels a check near ``dpi``, and the resolution that keeps the size.

        The pixel count is ``max(1, round(size × dpi))``; a picture of it is recorded at
        the returned dpi, so that it prints at exactly the real size.

        Raises
        ------
        ArgumentError
            For a resolution outside 1–9600 dots per inch.

        >>> Check("1/8 in", 2).grid(150)
        Grid(pixels=19, dpi=Fraction(152, 1))
        """
        try:
            wanted = Fraction(dpi)
        except (TypeError, ValueError, OverflowError):
            wanted = Fraction(0)
        if not 1 <= wanted <= _MOST_DPI or isinstance(dpi, bool):
            raise ArgumentError("dpi", f"from 1 to {_MOST_DPI}", dpi)
        inches = self.size / Length("1 in")
        pixels = max(1, round(inches * wanted))
        return Grid(pixels, pixels / inches)

    def plan(self, pixels: int = 1) -> NDArray[np.intp]:
        """Return the stripe number at every pixel across one repeat, ``pixels`` a check.

        >>> Check("7 mm", 2).plan().tolist()
        [1, 0, 2, 0]
        """
        return band_plan(self.bands, pixels)

    def with_size(self, size: Length | str) -> Check:
        """Return the same check at another size."""
        return Check(size, self.stripes)

    def __str__(self) -> str:
        noun = "stripe" if self.stripes == 1 else "stripes"
        return f"check of {self.size}, {self.stripes} {noun}, repeat {self.repeat}"

    def __repr__(self) -> str:
        return f"Check({self.size.text!r}, {self.stripes})"

    def _repr_html_(self) -> str:
        across, up = (
            np.tile(band_plan(bands, 8), 2) for bands in (self.warp_bands, self.weft_bands)
        )
        # No colours yet: greys, darker where two stripes cross.
        stripes = np.add.outer(
            np.arange(self.stripes + 1) > 0, (np.arange(self.stripes + 1) > 0) + 0
        )
        cells = np.repeat((255 - 80 * stripes)[..., None].astype(np.uint8), 3, axis=2)
        alt = f"grey gingham, two repeats each way: {self}"
        png = bands_png(cells, across, up)
        return figure(image(png, alt, width=len(across), height=len(up)), str(self))


_FARTHEST = Length("100000000 mm")


def _of_minutes(minutes: float) -> float:
    """Distance over size of what subtends so many minutes of arc."""
    angle = math.radians(as_number(minutes, "minutes", 0.1, 60) / 60)
    return 1 / (2 * math.tan(angle / 2))


def _positive(length: Length | str, name: str) -> Length:
    found = Length(length)
    if not found or found > _FARTHEST:
        raise LengthError(name, "above 0 and up to 100 km", words=str(found))
    return found


def fusing_distance(size: Length | str, minutes: float = 1.0) -> Length:
    """Return from how far away a check of that size covers one minute of arc.

    Nearer, the checks are seen; farther, they fuse into the cloth's far-off colour
    (:func:`checkcloth.scoring.cloth_scores.far_colour`). A rule of thumb, not a measurement,
    about 3,440 times the size: a good eye (6/6, 20/20) tells details of one minute of arc
    apart in good light and at strong contrast. Weak contrast and dim light fuse sooner.

    Parameters
    ----------
    size : Length or str
        Side of one check.
    minutes : float
        The finest detail that the eye resolves, 0.1 to 60 minutes of arc.

    Returns
    -------
    Length
        In millimetres.

    Examples
    --------
    >>> round(fusing_distance("1/4 in").mm / 1000, 1)
    21.8
    """
    near = _positive(size, "size")
    return Length.of_mm(round(near.mm * _of_minutes(minutes), 6))


def arc_minutes(size: Length | str, distance: Length | str) -> float:
    """Return the angle that something of that size covers from that far, in minutes of arc."""
    near, far = _positive(size, "size"), _positive(distance, "distance")
    ratio: Fraction = near / far
    return 60 * math.degrees(2 * math.atan(float(ratio) / 2))
