"""Colours out of whatever a person has: pasted text, a CSV or token file, a photograph."""

from __future__ import annotations

import codecs
from collections.abc import Iterable, Sequence
from contextlib import suppress
from dataclasses import replace
from typing import Any, NamedTuple

from checkcloth.cloth.named_colour import NamedColour
from checkcloth.cloth.palette import parse_palette_csv
from checkcloth.colour.css import nearest_css_name
from checkcloth.errors import ArgumentError, CheckclothError, FileFormatError
from checkcloth.export.data.tokens import parse_tokens
from checkcloth.files.names import distinct_names
from checkcloth.ideas import open_photo, palette_from_photo
from checkcloth.ideas.pasted import LeftOut, colours_in_text

_TEXT_ENDINGS = (".csv", ".txt", ".json", ".md", ".tsv")
_PICTURE_COLOURS = 12


class ReadColours(NamedTuple):
    """Colours, and the lines that hold none that can be read."""

    colours: tuple[NamedColour, ...]
    left_out: tuple[LeftOut, ...] = ()


def read_colours(text: str, name: str = "the text") -> ReadColours:
    """Return the colours of a text: a palette CSV, design tokens, or any text with codes in it.

    A CSV with a line that is wrong gives the others, and says which is left out.

    Raises
    ------
    ArgumentError, FileFormatError
        For a token file that is wrong, and text that is too long.

    Examples
    --------
    >>> found = read_colours("name,colour,role\\nIcing,#fffaf0,ground\\nPeach,peachy,\\n")
    >>> [(str(colour), colour.role) for colour in found.colours]
    [('Icing #fffaf0', 'ground')]
    >>> found.left_out[0].line
    3
    """
    text = text.removeprefix("\ufeff")
    if text.lstrip().startswith("{"):
        return ReadColours(tuple(parse_tokens(text, name)))
    header = next((line for line in text.splitlines() if line.strip()), "")
    if not {"name", "colour"} <= {cell.strip().strip('"').lower() for cell in header.split(",")}:
        found = colours_in_text(text)
        return ReadColours(found.colours, found.left_out)
    return _read_csv(text, name)


def _read_csv(text: str, name: str) -> ReadColours:
    """Read a palette CSV, leaving out one line after another that is wrong."""
    lines = text.splitlines()
    left_out: list[LeftOut] = []
    while True:
        try:
            palette = parse_palette_csv("\n".join(lines) + "\n", "read", name)
            return ReadColours(palette.colours, tuple(left_out))
        except FileFormatError as error:
            number = error.line or 0
            if number < 2 or not lines[number - 1].strip() or len(left_out) > 50:
                raise
            left_out.append(LeftOut(number, lines[number - 1][:80], error.rule))
            lines[number - 1] = ""


def read_colour_file(raw: bytes, name: str, count: int = _PICTURE_COLOURS) -> ReadColours:
    """Return the colours of a file that was chosen or dropped; of a picture, ``count`` at most.

    Raises
    ------
    ArgumentError, FileFormatError
        For a file that is neither text in UTF-8, or UTF-16 with its mark, nor a picture.
    """
    if raw.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        with suppress(UnicodeDecodeError):
            if "\0" not in (text := raw.decode("utf-16")):
                return read_colours(text, name)
    plain_picture = raw[:1] == b"P" and raw[1:2] in b"123" and raw[2:3].isspace()
    if not plain_picture and b"\0" not in raw:
        try:
            return read_colours(raw.decode("utf-8"), name)
        except UnicodeDecodeError as error:
            if name.lower().endswith(_TEXT_ENDINGS):
                line, found = raw[: error.start].count(b"\n") + 1, raw[error.start : error.end]
                raise FileFormatError("file", "UTF-8 text", found, source=name, line=line) from None
    try:
        photo = open_photo(raw)
    except CheckclothError as error:
        raise error.at(name) from None
    return ReadColours(palette_from_photo(photo, count, name=name).colours)


def colour_rows(colours: Iterable[NamedColour]) -> list[list[Any]]:
    """Return colours for the page: name, hex, the exact CSS text, role, note.

    A sixth entry says of one outside sRGB how far off the page shows it, and of a measured one
    that it is; a seventh is its reflectance.
    """
    return [
        [c.name, c.hex, c.text, c.role, c.note, *([words] if (words := known_words(c)) else []),
         *([list(c.reflectance)] if c.reflectance else [])]
        for c in colours
    ]  # fmt: skip


def known_words(colour: NamedColour) -> str:
    """Say what is known of a colour beside its code: a measured reflectance, how far off it shows.

    >>> known_words(NamedColour.of("teal")), known_words(NamedColour("Tin", reflectance=[0.3] * 36))
    ('', 'reflectance measured')
    """
    measured = "reflectance measured" if colour.reflectance else ""
    return "; ".join(filter(None, (measured, colour.shift_words)))


def colours_of_rows(rows: Any) -> tuple[NamedColour, ...]:
    """Return colours from rows of the page: name, CSS text, where given role, note, reflectance.

    A row without a name is called after the nearest CSS colour; of two of one name the second
    gets a number.

    Raises
    ------
    ArgumentError, ColourError
    """
    if not isinstance(rows, list | tuple) or not rows:
        raise ArgumentError("colours", "one row or more, of name and colour", rows)
    made = [_colour_of(row) for row in rows]
    names = distinct_names(colour.name for colour in made)
    return tuple(NamedColour.of(c, name) for c, name in zip(made, names, strict=True))


def _colour_of(row: Any) -> NamedColour:
    good = isinstance(row, Sequence) and not isinstance(row, str) and 2 <= len(row) <= 5
    if not good or not all(isinstance(cell, str) for cell in row[:4]):
        raise ArgumentError("colours", "rows of name, colour, and role and note if any", row)
    name, css, role, note = (*row[:4], "", "")[:4]
    colour = NamedColour.of(css)
    named = name.strip() or nearest_css_name(colour.rgb)
    if len(row) < 5:
        return replace(colour, name=named, role=role, note=note)
    made = NamedColour(named, role=role, note=note, text=css, reflectance=row[4])
    replace(made, rgb=colour.rgb)  # refused where the two are of different colours
    return made
