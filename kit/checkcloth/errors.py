"""The errors that checkcloth raises for bad input: all are ``ValueError``.

Each message names the argument, the value that was found and what is allowed, so that
the person at the keyboard can mend it without reading the code.
"""

from __future__ import annotations

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
    """Base class of every error the kit raises on purpose."""


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
