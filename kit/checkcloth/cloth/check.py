"""The check: its size, bands, repeat and pixels, and from how far it is seen. No colours yet."""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from checkcloth.arguments import as_number, as_whole
from checkcloth.cloth.bands import (
    Bands,
    band_plan,
    checks_in,
    counted,
    even_bands,
    parts_of_a_check,
    parts_wide,
    require_bands,
    write_order,
)
from checkcloth.cloth.length import Length
from checkcloth.errors import ArgumentError, LengthError
from checkcloth.files.html import figure, image
from checkcloth.files.png import bands_png

MOST_STRIPES = 24
_SMALLEST, _LARGEST = Length("0.1 mm"), Length("1000 mm")
_LARGEST_REPEAT = Length("1 m")
_MOST_DPI = 9600
_INCH = Length("1 in")


class Fit(NamedTuple):
    """How a repeat fits a cloth width: whole repeats, and the length left over."""

    repeats: int
    left_over: Length


class Grid(NamedTuple):
    """Whole pixels for a check: pixels a check, and the dpi that keeps the size exact."""

    pixels: int
    dpi: Fraction


class RepeatGrid(NamedTuple):
    """Whole pixels for one repeat: across, down, and the dpi at which its size is exact."""

    across: int
    down: int
    dpi: Fraction


@dataclass(frozen=True)
class Check:
    """A check: how large, of how many stripe colours, and which bands follow one another.

    Without ``warp`` and ``weft`` it is an even check, every stripe and every gap between
    stripes one check size wide.

    Parameters
    ----------
    size : Length or str
        Side of one square, 0.1 mm to 1 m: the measure that bands are counted in.
    stripes : int
        How many stripe colours, 1 to 24.
    warp : str or iterable of (int, number), optional
        Bands across the cloth: pairs of a stripe's number (0 is the ground) and how many
        checks it is wide, 1/8 to 16, exact; or a colour order in letters (A for stripe 1),
        ``"2 A, 1/2 ground, 4 B"``; or ``"even"``, ``"graduated"``, ``"double"`` or
        ``"windowpane"``. A stripe may come several times or not at all, bands of the ground
        may be left out; see :func:`checkcloth.cloth.bands.read_order`.
    weft : the same, optional
        Bands up the cloth; those of the warp where left out.
    weft_stripes : int, optional
        How many stripe colours the weft has, where it has colours of its own.

    Attributes
    ----------
    warp_bands, weft_bands : tuple of Band

    Raises
    ------
    LengthError
        For a size without a unit, or outside 0.1 mm–1 m, and for bands of one's own whose
        repeat is over 1 m.
    ArgumentError
        For a stripe count that is not a whole number from 1 to 24, bands that name a
        stripe that is not there, that are too narrow or wide, or cannot be read.

    Examples
    --------
    >>> print(Check("0.5 in", 3).repeat)
    3 in (76.2 mm)
    >>> print(Check("1/8 in", 2))
    check of 1/8 in (3.175 mm), 2 stripes, repeat 1/2 in (12.7 mm)
    >>> print(Check("1/4 in", 2, warp="2 A, 1 ground, 3 B, 2 ground", weft="1 A, 1 B"))
    check of 1/4 in (6.35 mm), 2 stripes, uneven, repeat 2 in (50.8 mm) × 1/2 in (12.7 mm)
    """

    size: Length
    stripes: int
    warp_bands: Bands
    weft_bands: Bands
    weft_stripes: int

    def __init__(
        self,
        size: Length | str,
        stripes: int,
        *,
        warp: Any = None,
        weft: Any = None,
        weft_stripes: int | None = None,
    ) -> None:
        length = Length(size)
        if not _SMALLEST <= length <= _LARGEST:
            raise LengthError("size", "from 0.1 mm to 1 m", str(length))
        number = as_whole(stripes, "stripes", 1, MOST_STRIPES)
        other = (
            number
            if weft_stripes is None
            else as_whole(weft_stripes, "weft_stripes", 1, MOST_STRIPES)
        )
        across = even_bands(number) if warp is None else require_bands(warp, number, "warp")
        if weft is not None:
            up = require_bands(weft, other, "weft")
        else:
            up = across if other == number else even_bands(other)
        for field, value in (("size", length), ("stripes", number), ("warp_bands", across),
                             ("weft_bands", up), ("weft_stripes", other)):  # fmt: skip
            object.__setattr__(self, field, value)
        for name, bands in (("warp", across), ("weft", up)):
            side = length * checks_in(bands)
            if not self.is_even and side > _LARGEST_REPEAT:
                raise LengthError(name, "of a repeat of at most 1 m", words=str(side))

    @property
    def is_even(self) -> bool:
        """Whether every stripe and every gap is one check wide, both ways."""
        return (self.warp_bands, self.weft_bands) == (
            even_bands(self.stripes),
            even_bands(self.weft_stripes),
        )

    @property
    def bands(self) -> Bands:
        """The bands across one repeat; in an even check warp and weft alike."""
        return self.warp_bands

    @property
    def counted_bands(self) -> tuple[Bands, Bands]:
        """The bands both ways, speaking of every stripe: see ``counted``."""
        return counted(self.warp_bands, self.stripes), counted(self.weft_bands, self.weft_stripes)

    @property
    def repeat_width(self) -> Length:
        """How wide the smallest piece is that tiles."""
        return self.size * checks_in(self.warp_bands)

    @property
    def repeat_height(self) -> Length:
        """How high, up the cloth, the smallest piece is that tiles."""
        return self.size * checks_in(self.weft_bands)

    @property
    def repeat(self) -> Length:
        """Side of the smallest square that tiles: 2 × check size × stripes of an even check.

        Raises
        ------
        ArgumentError
            Where the repeat is no square: it has ``repeat_width`` and ``repeat_height``.
        """
        if self.repeat_width != self.repeat_height:
            raise ArgumentError(
                "repeat",
                "asked for as repeat_width and repeat_height where it is no square",
                words=self.repeat_words,
            )
        return self.repeat_width

    @property
    def repeat_words(self) -> str:
        """The repeat for people: its side, or its width × its height."""
        if self.repeat_width == self.repeat_height:
            return str(self.repeat_width)
        return f"{self.repeat_width} × {self.repeat_height}"

    @property
    def warp_order(self) -> str:
        """The bands across the cloth as a colour order in letters, A for stripe 1.

        >>> Check("1 cm", 2, warp="graduated").warp_order
        '1 A, 1 ground, 1 1/2 B, 1 ground'
        """
        return write_order(self.warp_bands)

    @property
    def weft_order(self) -> str:
        """The bands up the cloth as a colour order in letters."""
        return write_order(self.weft_bands)

    def across(self, width: Length | str) -> Fit:
        """Return how many whole repeats fit across ``width``, and what is left over.

        >>> Check("0.5 in", 3).across("44 in")
        Fit(repeats=14, left_over=Length('2 in'))
        """
        return _fit(Length(width), self.repeat_width)

    def along(self, length: Length | str) -> Fit:
        """Return how many whole repeats fit up a ``length`` of cloth, and what is left over."""
        return _fit(Length(length), self.repeat_height)

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
        wanted = _as_dpi(dpi)
        inches = self.size / Length("1 in")
        pixels = max(1, round(inches * wanted))
        return Grid(pixels, pixels / inches)

    def repeat_grid(self, dpi: Fraction | float) -> RepeatGrid:
        """Return the whole pixels of one repeat at ``dpi``, or else at the next resolution.

        That is ``dpi`` itself wherever the repeat is whole pixels there and every band has
        at least one; bands then differ from their width by less than a pixel.

        Raises
        ------
        ArgumentError
            For a resolution outside 1–9600 dots per inch, or with none above it, up to
            9600, at which the repeat is whole pixels.

        >>> Check("1/4 in", 2).repeat_grid(150)
        RepeatGrid(across=150, down=150, dpi=Fraction(150, 1))
        >>> Check("1/16 in", 1).repeat_grid(150)
        RepeatGrid(across=19, down=19, dpi=Fraction(152, 1))
        """
        wanted = _as_dpi(dpi)
        across, down = self.repeat_width / _INCH, self.repeat_height / _INCH
        bottom = math.lcm(across.denominator, down.denominator)
        # The greatest length that both are whole multiples of.
        measure = Fraction(math.gcd(int(across * bottom), int(down * bottom)), bottom)
        ways = self.warp_bands, self.weft_bands
        narrowest = min(Fraction(min(parts_wide(bands)), parts_of_a_check(bands)) for bands in ways)
        finest = 1 / (narrowest * (self.size / _INCH))  # a pixel for the narrowest band
        exact = wanted
        if (measure * wanted).denominator != 1 or wanted < finest:
            exact = Fraction(math.ceil(measure * max(wanted, finest))) / measure
        if exact > _MOST_DPI and exact > finest:
            raise ArgumentError(
                "dpi",
                f"one at or below which the repeat is whole pixels, up to {_MOST_DPI}",
                words=f"{float(wanted):g} for a repeat of {self.repeat_words}",
            )
        return RepeatGrid(int(across * exact), int(down * exact), exact)

    def repeat_plans(self, grid: RepeatGrid) -> tuple[NDArray[np.intp], NDArray[np.intp]]:
        """Return the stripe number at every pixel of one repeat, across and down."""
        each = grid.dpi * (self.size / _INCH)
        return band_plan(self.warp_bands, each), band_plan(self.weft_bands, each)

    def part_plans(self) -> tuple[Fraction, NDArray[np.intp], NDArray[np.intp]]:
        """Return the stripe number in every part of a check, across and down, and its size.

        The size is in checks: 1 of an even check, else the largest part that all bands are
        whole multiples of.
        """
        parts = parts_of_a_check(self.warp_bands, self.weft_bands)
        warp, weft = (band_plan(bands, parts) for bands in (self.warp_bands, self.weft_bands))
        return Fraction(1, parts), warp, weft

    def plan(self, pixels: int = 1) -> NDArray[np.intp]:
        """Return the stripe number at every pixel across one repeat, ``pixels`` a check.

        >>> Check("7 mm", 2).plan().tolist()
        [1, 0, 2, 0]
        """
        return band_plan(self.warp_bands, pixels)

    def with_size(self, size: Length | str) -> Check:
        """Return the same check at another size."""
        return self.with_bands(size=size)

    def with_bands(self, warp: Any = None, weft: Any = None, *, size: Any = None) -> Check:
        """Return a check of the same stripes with other bands, one way or both.

        >>> Check("1 cm", 2).with_bands(weft="1 ground").weft_order
        '1 ground'
        """
        return Check(
            self.size if size is None else size,
            self.stripes,
            warp=self.warp_bands if warp is None else warp,
            weft=self.weft_bands if weft is None else weft,
            weft_stripes=self.weft_stripes,
        )

    def __str__(self) -> str:
        noun = "stripe" if self.stripes == 1 else "stripes"
        count = f"{self.stripes} {noun}"
        if self.weft_stripes != self.stripes:
            count = f"{self.stripes} warp and {self.weft_stripes} weft stripes"
        uneven = "" if self.is_even else "uneven, "
        return f"check of {self.size}, {count}, {uneven}repeat {self.repeat_words}"

    def __repr__(self) -> str:
        more = ""
        if not self.is_even:
            more = f", warp={self.warp_order!r}, weft={self.weft_order!r}"
        if self.weft_stripes != self.stripes:
            more += f", weft_stripes={self.weft_stripes}"
        return f"Check({self.size.text!r}, {self.stripes}{more})"

    def _repr_html_(self) -> str:
        part, across, up = self.part_plans()
        each = max(1, round(8 * part)) if len(across) < 200 else 1
        across, up = (np.tile(np.repeat(plan, each), 2) for plan in (across, up))
        # No colours yet: greys, darker where two stripes cross.
        stripes = np.add.outer(
            np.arange(self.stripes + 1) > 0, (np.arange(self.weft_stripes + 1) > 0) + 0
        )
        cells = np.repeat((255 - 80 * stripes.T)[..., None].astype(np.uint8), 3, axis=2)
        alt = f"grey gingham, two repeats each way: {self}"
        png = bands_png(cells, across, up)
        return figure(image(png, alt, width=len(across), height=len(up)), str(self))


def _fit(wanted: Length, repeat: Length) -> Fit:
    repeats = wanted.exact // repeat.exact
    return Fit(repeats, wanted - repeat * repeats)


def _as_dpi(dpi: Fraction | float) -> Fraction:
    try:
        wanted = Fraction(dpi)
    except (TypeError, ValueError, OverflowError):
        wanted = Fraction(0)
    if not 1 <= wanted <= _MOST_DPI or isinstance(dpi, bool):
        raise ArgumentError("dpi", f"from 1 to {_MOST_DPI}", dpi)
    return wanted


_FARTHEST = Length("100000000 mm")


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
    apart in good light and at strong contrast. Weak contrast and dim light fuse sooner. ``minutes``
    is the finest detail that the eye resolves, 0.1 to 60 minutes of arc.

    >>> round(fusing_distance("1/4 in").mm / 1000, 1)
    21.8
    """
    near = _positive(size, "size")
    angle = math.radians(as_number(minutes, "minutes", 0.1, 60) / 60)
    return Length.of_mm(round(near.mm * (1 / (2 * math.tan(angle / 2))), 6))


def arc_minutes(size: Length | str, distance: Length | str) -> float:
    """Return the angle that something of that size covers from that far, in minutes of arc."""
    near, far = _positive(size, "size"), _positive(distance, "distance")
    ratio: Fraction = near / far
    return 60 * math.degrees(2 * math.atan(float(ratio) / 2))
