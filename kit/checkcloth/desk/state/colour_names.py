"""Names of colours that are like what was typed, for a text that stands for none."""

from __future__ import annotations

import difflib
from collections.abc import Iterable
from typing import Any

from checkcloth.cloth.named_colour import NamedColour
from checkcloth.cloth.palette import Palette
from checkcloth.colour.css import css_names
from checkcloth.errors import UnknownColourError

_MOST_NEAR = 3
_ALIKE = 0.72  # of difflib's ratio, by eye: "lilca" finds Lilac, "peachy" Peach Skin, "xyz" nothing


def colour_called(name: str, palettes: Iterable[Palette]) -> NamedColour | None:
    """Return the first colour of that name, capital or small letters alike."""
    colours = (colour for palette in palettes for colour in palette)
    wanted = name.strip().casefold()
    return next((one for one in colours if one.name.casefold() == wanted), None)


def unknown_colour(argument: str, typed: str, palettes: Iterable[Palette]) -> UnknownColourError:
    """Return the error for a text that is no colour, with names that are like it."""
    allowed = "a colour's code, a CSS colour name or the name of a palette's colour"
    return UnknownColourError(argument, allowed, typed, near=close_names(typed, palettes))


def close_names(typed: str, palettes: Iterable[Palette]) -> tuple[str, ...]:
    """Return up to three names like a text, likest first; those of palettes before CSS's.

    >>> from checkcloth.cloth.named_colour import NamedColour
    >>> close_names("ocen", [Palette("coast", [NamedColour.of("#246", "Ocean Blue"), "teal"])])
    ('Ocean Blue',)
    >>> close_names("navvy", ()), close_names("12345", ())
    (('navy',), ())
    """
    wanted = typed.strip().casefold()
    own = dict.fromkeys(colour.name for palette in palettes for colour in palette)
    names = [name for name in (*own, *css_names()) if not name.startswith("#")]
    likeness = {name: _likeness(wanted, name.casefold()) for name in dict.fromkeys(names)}
    alike = [name for name in likeness if likeness[name] >= _ALIKE]
    return tuple(sorted(alike, key=lambda name: (-round(likeness[name], 2), name not in own)))[
        :_MOST_NEAR
    ]


def _likeness(wanted: str, name: str) -> float:
    """How much a text is like a name, or like a word of it."""
    return max(
        difflib.SequenceMatcher(None, wanted, part, autojunk=False).ratio()
        for part in {name, *(word for word in name.split() if len(word) > 2)}
    )


def refusal(error: Exception) -> dict[str, Any]:
    """Return what the page is told of an error that a person can mend.

    Returns
    -------
    dict
        ``error``: words; ``field``: the argument; of a text that is no colour ``near``, names
        that are like it.
    """
    field = getattr(error, "argument", "")
    if not isinstance(error, UnknownColourError):
        return {"error": str(error), "field": field}
    words = f"“{error.found}” is no colour that is known here"
    tries = " or ".join(error.near) if error.near else "a code such as #c09fd4, or a name"
    return {"error": f"{words}; try {tries}", "field": field, "near": list(error.near)}
