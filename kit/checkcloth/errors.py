"""The errors that checkcloth raises for bad input: all are ``ValueError``.

Each message names the argument, the value that was found and what is allowed, so that
the person at the keyboard can mend it without reading the code.
"""

from __future__ import annotations

import linecache
import traceback
from itertools import islice

__all__ = [
    "ArgumentError",
    "CheckclothError",
    "ColourError",
    "ExistsError",
    "FileFormatError",
    "LengthError",
    "shown",
]


class CheckclothError(ValueError):
    """Base class of every error the kit raises on purpose.

    >>> issubclass(CheckclothError, ValueError)
    True
    """

    def _render_traceback_(self) -> list[str]:
        """Say in a notebook what is wrong and on which line of the cell, and no more.

        IPython asks for this; a screen of the kit's own code above the one line that helps
        would hide it. ``traceback.print_last()`` still prints all of it.
        """
        lines = [f"{type(self).__name__}: {self}"]
        for frame, number in traceback.walk_tb(self.__traceback__):
            if frame.f_code.co_name == "<module>":  # the cell itself; the kit has only functions
                code = linecache.getline(frame.f_code.co_filename, number).strip()
                lines.append(f"    in line {number} of this cell: {code}")
                break
        return lines


class ArgumentError(CheckclothError):
    """An argument is out of range, of the wrong shape or not a number.

    >>> from checkcloth import Check
    >>> Check("1 in", 0)
    Traceback (most recent call last):
        ...
    checkcloth.errors.ArgumentError: stripes must be a whole number from 1 to 24, found 0
    """


class LengthError(CheckclothError):
    """A length is without a unit, unreadable, or outside what cloth can have.

    >>> from checkcloth import Length
    >>> Length("7")  # doctest: +ELLIPSIS
    Traceback (most recent call last):
        ...
    checkcloth.errors.LengthError: length must be a length ..., found '7' (the unit is missing)
    """


class ColourError(CheckclothError):
    """A colour text is not an opaque CSS Color 4 colour.

    >>> from checkcloth import Colourway
    >>> Colourway("white", ["nvy"])  # doctest: +ELLIPSIS
    Traceback (most recent call last):
        ...
    checkcloth.errors.ColourError: colour must be a CSS Color 4 colour such as ..., found 'nvy'
    """


class FileFormatError(CheckclothError):
    """A file is damaged, too large, or of a kind or version the kit does not read.

    >>> from checkcloth.cloth.palette_file import parse_palette_csv
    >>> parse_palette_csv("name,colour\\nnavy,nvy\\n", "coast")  # doctest: +ELLIPSIS
    Traceback (most recent call last):
        ...
    checkcloth.errors.FileFormatError: palette, line 2: colour must be ..., found 'nvy'
    """


class ExistsError(CheckclothError):
    """Something is already there and nobody said it may be replaced.

    >>> from pathlib import Path
    >>> from tempfile import TemporaryDirectory
    >>> from checkcloth import Palette, write_palette
    >>> coast = Palette("coast", ["navy"])
    >>> with TemporaryDirectory() as folder:  # doctest: +ELLIPSIS
    ...     for _ in range(2):
    ...         path = write_palette(coast, Path(folder) / "coast.csv")
    Traceback (most recent call last):
        ...
    checkcloth.errors.ExistsError: path must be free, ...; found 'coast.csv' already there
    """


def shown(value: object, limit: int = 60) -> str:
    """Return ``repr(value)`` on one line, cut so that an error stays readable.

    >>> shown("a\\nb"), len(shown("x" * 1000))
    ("'a\\\\nb'", 60)
    """
    try:
        text = repr(_start(value, limit)).replace("\n", " ")
    except (RecursionError, ValueError):  # nested too deep, or a number of thousands of digits
        text = f"a {type(value).__name__} too long to show"
    return text if len(text) <= limit else text[: limit - 1] + "…"


def _start(value: object, limit: int) -> object:
    """As much of a value as an error can show: a list of millions takes seconds to write out."""
    if isinstance(value, str | bytes | list | tuple) and len(value) > limit:
        return value[:limit]
    if type(value) is dict and len(value) > limit:
        return dict(islice(value.items(), limit))
    return value
