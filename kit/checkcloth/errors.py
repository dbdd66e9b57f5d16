"""The errors that checkcloth raises for bad input: all are ``ValueError``.

Each message names the argument, the value that was found and what is allowed, so that
the person at the keyboard can mend it without reading the code.
"""

from __future__ import annotations

import linecache
import traceback

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
    """Base class of every error the kit raises on purpose."""

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
    """An argument is out of range, of the wrong shape or not a number."""


class LengthError(CheckclothError):
    """A length is without a unit, unreadable, or outside what cloth can have."""


class ColourError(CheckclothError):
    """A colour text is not an opaque CSS Color 4 colour."""


class FileFormatError(CheckclothError):
    """A file is damaged, too large, or of a kind or version the kit does not read."""


class ExistsError(CheckclothError):
    """Something is already there and nobody said it may be replaced."""


def shown(value: object, limit: int = 60) -> str:
    """Return ``repr(value)`` on one line, cut so that an error stays readable."""
    text = repr(value).replace("\n", " ")
    return text if len(text) <= limit else text[: limit - 1] + "…"
