"""Colours as design tokens: the W3C community group's JSON, format module 2025.10.

Source: Design Tokens Format Module 2025.10, Final Community Group Report, 28 October 2025,
designtokens.org/TR/2025.10/format. Media type ``application/design-tokens+json``.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from os import PathLike
from pathlib import Path
from typing import Any

import numpy as np

from checkcloth.arguments import as_path
from checkcloth.cloth.check import Check
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.named_colour import NamedColour
from checkcloth.cloth.palette import Palette
from checkcloth.colour.css import hex_of
from checkcloth.export.data.members import Colourways, as_set, label_of
from checkcloth.export.data.token_reader import OURS, parse_tokens
from checkcloth.files.whole import read_text, write_whole

__all__ = [
    "MEDIA_TYPE",
    "palette_tokens",
    "read_tokens",
    "set_token_lines",
    "set_tokens",
    "write_tokens",
]

MEDIA_TYPE = "application/design-tokens+json"
_MOST_BYTES = 4 << 20
# Decimals of a tone: finer than any instrument, and a third of the bytes.
_DIGITS = 6
# The format keeps these for references and paths, and a leading $ for its own words.
_KEPT = str.maketrans({"{": "(", "}": ")", ".": "·"})


def _names(wanted: Iterable[str]) -> list[str]:
    """Names as the format allows them, each once."""
    out: dict[str, None] = {}
    numbers: dict[str, int] = {}
    for name in wanted:
        first = name.translate(_KEPT)
        first = f"＄{first[1:]}" if first.startswith("$") else first or "colour"
        made, number = first, numbers.get(first, 1)
        while made in out:
            number += 1
            made = f"{first} ({number})"
        numbers[first] = number
        out[made] = None
    return list(out)


def _value(rgb: Iterable[float], digits: int | None = None) -> dict[str, Any]:
    """A colour value; ``alpha`` is left out, since the format takes it for 1."""
    channels = [float(channel) for channel in rgb]
    parts = channels if digits is None else [round(channel, digits) for channel in channels]
    return {"colorSpace": "srgb", "components": parts, "hex": hex_of(channels)}


def _token(colour: NamedColour, token_name: str) -> dict[str, Any]:
    out: dict[str, Any] = {"$type": "color", "$value": _value(colour.rgb)}
    if colour.note:
        out["$description"] = colour.note
    ours = {"text": colour.text}
    if token_name != colour.name:
        ours["name"] = colour.name
    if colour.role:
        ours["role"] = colour.role
    out["$extensions"] = {OURS: ours}
    return out


def _lines(description: str, members: Iterable[tuple[str, dict[str, Any]]]) -> Iterator[str]:
    """An outer object, a member a line, as pieces of text."""
    yield '{\n"$description": ' + json.dumps(description, ensure_ascii=False)
    for name, member in members:
        key = json.dumps(name, ensure_ascii=False)
        yield f",\n{key}: " + json.dumps(member, ensure_ascii=False, separators=(",", ":"))
    yield "\n}\n"


def palette_tokens(palette: Palette) -> str:
    """Return a palette as design-token JSON; reading it gives the same colours.

    >>> '"colorSpace":"srgb"' in palette_tokens(Palette("harbour", ["navy"]))
    True
    """
    names = _names(colour.name for colour in palette)
    tokens = ((name, _token(colour, name)) for name, colour in zip(names, palette, strict=True))
    return "".join(_lines(palette.name or "Palette", tokens))


def _colourway_group(colourway: Colourway, check: Check) -> dict[str, Any]:
    group: dict[str, Any] = {"$type": "color", "$description": f"{colourway}; {check}"}
    group["ground"] = _token(colourway.ground, "ground")
    group["ground"]["$extensions"][OURS]["name"] = colourway.ground.name
    for number, stripe in enumerate(colourway.stripes, start=1):
        name = f"stripe {number}"
        group[name] = _token(stripe, name)
    tones: dict[str, Any] = {"$description": "Every tone of the cloth, as it comes out"}
    for warp, weft in np.ndindex(*colourway.tones.shape[:2]):
        if warp or weft:
            part = f"warp {warp}" if warp else ""
            other = f"weft {weft}" if weft else ""
            tones[" over ".join(filter(None, (part, other)))] = {
                "$value": _value(colourway.tones[warp, weft], _DIGITS),
                "$description": colourway.tone_name(warp, weft),
            }
    group["tones"] = tones
    return group


def set_token_lines(colourways: Colourways, check: Check | None = None) -> Iterator[str]:
    """Yield :func:`set_tokens` a colourway at a time, so that it need not be held whole.

    >>> quay = Colourway("white", ["navy"], name="Quay")
    >>> len(list(set_token_lines(quay, Check("1/2 in", 1))))
    3
    """
    chosen = as_set(colourways, check)
    names = _names(label_of(colourway, place) for place, colourway in enumerate(chosen))
    groups = (
        (name, _colourway_group(colourway, chosen.check_for(colourway)))
        for name, colourway in zip(names, chosen, strict=True)
    )
    yield from _lines(str(chosen), groups)


def set_tokens(colourways: Colourways, check: Check | None = None) -> str:
    """Return the colours and tones of a set as design-token JSON, a group a colourway.

    Colours as chosen are exact, tones to six decimals. The format has no lengths but px
    and rem; the check size stands in the descriptions.

    Raises
    ------
    ArgumentError
        For no colourways, or no check.

    Examples
    --------
    >>> quay = Colourway("white", ["navy"], name="Quay")
    >>> list(json.loads(set_tokens(quay, Check("1/2 in", 1)))["Quay"]["tones"])[1:]
    ['weft 1', 'warp 1', 'warp 1 over weft 1']
    """
    return "".join(set_token_lines(colourways, check))


def write_tokens(palette: Palette, path: str | PathLike[str], *, overwrite: bool = False) -> Path:
    """Write a palette as a design-token file, whole or not at all; return its path.

    By the format's custom the name ends in ``.tokens.json``.

    Raises
    ------
    ExistsError
        If the file is there and ``overwrite`` is not set.

    Examples
    --------
    >>> from tempfile import TemporaryDirectory
    >>> with TemporaryDirectory() as folder:
    ...     write_tokens(Palette("coast", ["navy"]), Path(folder, "coast.tokens.json")).name
    'coast.tokens.json'
    """
    return write_whole(as_path(path), palette_tokens(palette).encode("utf-8"), overwrite=overwrite)


def read_tokens(path: str | PathLike[str]) -> Palette:
    """Read every colour of a design-token file (2025.10) as a palette.

    Groups, inherited types and references are followed; colours in any of the format's 14
    colour spaces are taken into sRGB as CSS Color 4 says.

    Parameters
    ----------
    path : path
        At most 4 MiB.

    Raises
    ------
    FileFormatError
        Naming the token, what was found and what is allowed.
    FileNotFoundError, PermissionError
        As the system says.

    Examples
    --------
    >>> from tempfile import TemporaryDirectory
    >>> with TemporaryDirectory() as folder:
    ...     path = write_tokens(Palette("coast", ["navy"]), Path(folder, "coast.tokens.json"))
    ...     print(read_tokens(path))
    palette coast: 1 colour
    """
    file = as_path(path)
    name = file.name.removesuffix(".json").removesuffix(".tokens") or file.name
    return Palette(name, parse_tokens(read_text(file, _MOST_BYTES), file.name))
