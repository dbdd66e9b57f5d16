"""The check: its size, its bands, its repeat, and its pixels. No colours yet."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from checkcloth.arguments import as_whole
from checkcloth.cloth.length import Length
from checkcloth.errors import ArgumentError, LengthError

__all__ = ["MOST_STRIPES", "Band", "Check", "Fit", "Grid"]

MOST_STRIPES = 24
_SMALLEST, _LARGEST = Length("0.1 mm"), Length("1000 mm")
_MOST_DPI = 9600


class Band(NamedTuple):
    """One band across the repeat: the stripe's number (0 is ground) and width in checks.

    >>> [tuple(band) for band in Check("1 in", 2).bands]
    [(1, 1), (0, 1), (2, 1), (0, 1)]
    """

    stripe: int
    checks: int


class Fit(NamedTuple):
    """How a repeat fits a cloth width: whole repeats, and the length left over.

    >>> print(Fit(18, Length("1 in")).left_over)
    1 in (25.4 mm)
    """

    repeats: int
    left_over: Length


class Grid(NamedTuple):
    """Whole pixels for a check: pixels a check, and the dpi that keeps the size exact.

    >>> Grid(19, Fraction(152)).pixels
    19
    """

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
        return tuple(
            Band(stripe, 1) for number in range(1, self.stripes + 1) for stripe in (number, 0)
        )

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
        stripes = np.array([band.stripe for band in self.bands], dtype=np.intp)
        return np.repeat(stripes, [band.checks * pixels for band in self.bands])

    def with_size(self, size: Length | str) -> Check:
        """Return the same check at another size."""
        return Check(size, self.stripes)

    def __str__(self) -> str:
        noun = "stripe" if self.stripes == 1 else "stripes"
        return f"check of {self.size}, {self.stripes} {noun}, repeat {self.repeat}"

    def __repr__(self) -> str:
        return f"Check({self.size.text!r}, {self.stripes})"
