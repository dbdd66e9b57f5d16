"""Colours as design tokens: the W3C community group's JSON, format module 2025.10.

Source: Design Tokens Format Module 2025.10, Final Community Group Report, 28 October 2025,
designtokens.org/TR/2025.10/format. Media type ``application/design-tokens+json``.
"""

from __future__ import annotations

import json
import math
import re
from collections.abc import Iterable, Iterator
from dataclasses import replace
from itertools import islice
from os import PathLike
from pathlib import Path
from typing import Any

import numpy as np

from checkcloth.arguments import as_path
from checkcloth.cloth.check import Check
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.named_colour import ROLES, NamedColour, one_line
from checkcloth.cloth.palette import MOST_COLOURS, Palette
from checkcloth.colour.css import hex_of, parse_css
from checkcloth.errors import CheckclothError, FileFormatError
from checkcloth.export.members import Colourways, as_set, label_of
from checkcloth.files.names import distinct_names
from checkcloth.files.whole import read_text, write_whole

# Our key among a token's $extensions: what a palette holds and the format does not.
OURS = "checkcloth"
_MOST_BYTES = 4 << 20
# Decimals of a tone: finer than any instrument, and a third of the bytes.
_DIGITS = 6
# The format keeps these for references and paths, and a leading $ for its own words.
_KEPT = str.maketrans({"{": "(", "}": ")", ".": "·"})


def _names(wanted: Iterable[str]) -> list[str]:
    """Names as the format allows them, each once."""
    plain = (re.sub(r"^\$", "＄", name.translate(_KEPT)) or "colour" for name in wanted)
    return distinct_names(plain, "{} ({})")


def _value(
    rgb: Iterable[float], digits: int | None = None, xyz: Iterable[float] | None = None
) -> dict[str, Any]:
    """A colour value; ``alpha`` is left out, since the format takes it for 1.

    One outside sRGB is written as XYZ, with what shows it as the ``hex`` to fall back on.
    """
    shown = [float(channel) for channel in rgb]
    channels = shown if xyz is None else [float(value) for value in xyz]
    parts = channels if digits is None else [round(channel, digits) for channel in channels]
    space = "srgb" if xyz is None else "xyz-d65"
    return {"colorSpace": space, "components": parts, "hex": hex_of(shown)}


def _token(colour: NamedColour, token_name: str) -> dict[str, Any]:
    out: dict[str, Any] = {"$type": "color", "$value": _value(colour.rgb, xyz=colour.xyz)}
    if colour.note:
        out["$description"] = colour.note
    ours: dict[str, Any] = {"text": colour.text}
    if token_name != colour.name:
        ours["name"] = colour.name
    if colour.role:
        ours["role"] = colour.role
    if colour.xyz:
        ours["shown"] = {"rgb": list(colour.rgb), "offByDeltaE00": round(colour.shift, 2)}
    if colour.reflectance:
        ours["reflectance"] = list(colour.reflectance)
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
    """Return a palette as design-token JSON; reading it gives the same colours."""
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
    for number, stripe in enumerate(colourway.weft_stripes, start=1):
        name = f"weft stripe {number}"
        group[name] = _token(stripe, name)
    tones: dict[str, Any] = {"$description": "Every tone of the cloth, as it comes out"}
    for warp, weft in np.ndindex(*colourway.tones.shape[:2]):
        if warp or weft:
            part = f"warp {warp}" if warp else ""
            other = f"weft {weft}" if weft else ""
            tones[" over ".join(filter(None, (part, other)))] = {
                "$value": _value(
                    colourway.tones[warp, weft],
                    _DIGITS,
                    colourway.tones_xyz[warp, weft] if colourway.tone_shifts[warp, weft] else None,
                ),
                "$description": colourway.tone_name(warp, weft),
            }
    group["tones"] = tones
    return group


def set_token_lines(colourways: Colourways, check: Check | None = None) -> Iterator[str]:
    """Yield :func:`set_tokens` a colourway at a time, so that it need not be held whole."""
    chosen = as_set(colourways, check)
    names = _names(label_of(colourway, index) for index, colourway in enumerate(chosen))
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
    """
    return "".join(set_token_lines(colourways, check))


def write_tokens(palette: Palette, path: str | PathLike[str], *, overwrite: bool = False) -> Path:
    """Write a palette as a design-token file, whole or not at all; return its path.

    By the format's custom the name ends in ``.tokens.json``.

    Raises
    ------
    ExistsError
        If the file is there and ``overwrite`` is not set.
    """
    return write_whole(as_path(path), palette_tokens(palette).encode("utf-8"), overwrite=overwrite)


# Reading: groups, inherited types, references, fourteen colour spaces.

_DEEPEST = 64
_MOST_STEPS = 32
_UNSAID = object()


# Colour spaces of the format (section "Color"), as CSS Color 4 text.
_SPACES = {
    "hsl": "hsl({} {}% {}%)",
    "hwb": "hwb({} {}% {}%)",
    "lab": "lab({} {} {})",
    "lch": "lch({} {} {})",
    "oklab": "oklab({} {} {})",
    "oklch": "oklch({} {} {})",
    **{
        name: f"color({name} {{}} {{}} {{}})"
        for name in (
            "srgb", "srgb-linear", "display-p3", "a98-rgb", "prophoto-rgb", "rec2020",
            "xyz-d65", "xyz-d50",
        )
    },
}  # fmt: skip


class _Reader:
    def __init__(self, root: dict[str, Any], source: str) -> None:
        self._root, self._source = root, source
        # What each reference leads to: a long file may use one over and over.
        self._targets: dict[tuple[str, bool], tuple[dict[str, Any] | None, object]] = {}

    def fault(
        self, path: tuple[str, ...], allowed: str, found: object, part: str = ""
    ) -> FileFormatError:
        argument = ".".join(path) or "the whole file"
        return FileFormatError(f"{argument} {part}".strip(), allowed, found, source=self._source)

    def walk(
        self, group: dict[str, Any], path: tuple[str, ...] = (), kind: object = None
    ) -> Iterator[NamedColour]:
        """Yield the colours of a group and all below it, in the order of the file."""
        if len(path) > _DEEPEST:
            raise self.fault(path[:3], f"at most {_DEEPEST} groups deep", len(path))
        kind = group.get("$type", kind)
        if "$value" in group and not path:
            raise self.fault(path, "a group of tokens with names", group)
        if "$value" in group or ("$ref" in group and path):
            yield from self.token(group, path, kind)
            return
        for name, member in group.items():
            if name.startswith("$") and name != "$root":
                continue
            if not isinstance(member, dict):
                raise self.fault((*path, name), "a token or a group", member)
            yield from self.walk(member, (*path, name), kind)

    def token(
        self, token: dict[str, Any], path: tuple[str, ...], kind: object
    ) -> Iterator[NamedColour]:
        value, kind = self.resolve(token, path, kind)
        if kind != "color":
            return
        ours = token.get("$extensions", {})
        ours = ours.get(OURS, {}) if isinstance(ours, dict) else {}
        ours = ours if isinstance(ours, dict) else {}
        role, note = ours.get("role", ""), token.get("$description", "")
        try:
            rgb, text = self.colour(value, path)
            if isinstance(ours.get("text"), str) and parse_css(ours["text"]) == rgb:
                text = ours["text"]
            made = NamedColour(
                ours.get("name", path[-1]),
                rgb,
                role if role in ROLES else "",
                one_line(note) if isinstance(note, str) else "",
                text,
            )
            yield _with_reflectance(made, ours.get("reflectance"))
        except FileFormatError:
            raise
        except CheckclothError as error:
            raise error.at(f"{self._source}, {'.'.join(path)}") from None

    def resolve(
        self, token: dict[str, Any], path: tuple[str, ...], kind: object
    ) -> tuple[Any, object]:
        """Follow references to a value, and to the type that goes with it."""
        seen: set[str] = set()
        while True:
            value = token.get("$value", token.get("$ref"))
            pointer = "$value" not in token
            if not isinstance(value, str) or not (pointer or value.startswith("{")):
                return value, kind
            if value in seen:
                raise self.fault(path, "a reference that does not lead back to itself", value)
            seen.add(value)
            if len(seen) > _MOST_STEPS:
                raise self.fault(path, f"at most {_MOST_STEPS} references from its value", value)
            target, said = self._target(value, pointer)
            if target is None:
                raise self.fault(path, "a reference to a token", value)
            kind = target.get("$type", kind if said is _UNSAID else said)
            token = target

    def _target(self, value: str, pointer: bool) -> tuple[dict[str, Any] | None, object]:
        """The token that a reference leads to, or None, and the type said on the way there."""
        if (value, pointer) in self._targets:
            return self._targets[value, pointer]
        if pointer:
            parts = value.removeprefix("#").split("/")[1:]
            parts = [part.replace("~1", "/").replace("~0", "~") for part in parts]
            if parts and parts[-1] == "$value":
                parts.pop()
        else:
            parts = value.strip("{}").split(".")
        kind: object = _UNSAID
        target: Any = self._root
        for part in parts:
            kind = target.get("$type", kind) if isinstance(target, dict) else kind
            target = target.get(part) if isinstance(target, dict) else None
        is_token = isinstance(target, dict) and bool({"$value", "$ref"} & set(target))
        self._targets[value, pointer] = (target if is_token else None), kind
        return self._targets[value, pointer]

    def colour(self, value: Any, path: tuple[str, ...]) -> tuple[tuple[float, float, float], str]:
        if not isinstance(value, dict):
            raise self.fault(path, "a colour object", value)
        space, parts = value.get("colorSpace"), value.get("components")
        if not isinstance(space, str) or space not in _SPACES:
            raise self.fault(path, f"one of {', '.join(_SPACES)}", space, "colorSpace")
        if not isinstance(parts, list) or len(parts) != 3 or not all(map(_is_part, parts)):
            raise self.fault(path, "three numbers", parts, "components")
        alpha = value.get("alpha", 1)
        if alpha != 1 or isinstance(alpha, bool):
            raise self.fault(path, "1 (cloth is opaque)", alpha, "alpha")
        if space == "srgb" and all(part != "none" and 0 <= part <= 1 for part in parts):
            # Straight to the numbers: nothing is lost on the way through text.
            red, green, blue = (float(part) for part in parts)
            return (red, green, blue), ""
        text = _SPACES[space].format(*(p if p == "none" else format(p, ".17g") for p in parts))
        return parse_css(text), text


def _with_reflectance(colour: NamedColour, values: object) -> NamedColour:
    """The colour with a reflectance that is its own; someone may have changed either."""
    if not isinstance(values, list) or not all(map(_is_part, values)) or "none" in values:
        return colour
    try:
        return replace(colour, xyz=None, reflectance=tuple(values))
    except CheckclothError:
        return colour


def _is_part(part: object) -> bool:
    if part == "none":
        return True
    if isinstance(part, bool) or not isinstance(part, int | float):
        return False
    return -1e9 < part < 1e9 and math.isfinite(part)


def parse_tokens(text: str, source: str = "tokens") -> list[NamedColour]:
    """Return the colours of a design-token file, in its order, each name once.

    Raises
    ------
    FileFormatError
        Naming the token, what was found and what is allowed; also for no colour at all.
    """
    try:
        root = json.loads(text.removeprefix("\ufeff"))
    except json.JSONDecodeError as error:
        raise FileFormatError(
            "text", "JSON", words=f"{error.msg} at column {error.colno}", source=source,
            line=error.lineno,
        ) from None  # fmt: skip
    except (RecursionError, ValueError):
        raise FileFormatError("text", "JSON of a sensible depth and size", source=source) from None
    reader = _Reader(root if isinstance(root, dict) else {}, source)
    if not isinstance(root, dict):
        raise reader.fault((), "an object", root)
    found = [*islice(reader.walk(root), MOST_COLOURS + 1)]
    if len(found) > MOST_COLOURS:
        raise FileFormatError("colours", f"at most {MOST_COLOURS}", words="more", source=source)
    if not found:
        raise FileFormatError("colours", "at least one token", words="none", source=source)
    names = distinct_names(colour.name for colour in found)
    return [
        colour if name == colour.name else NamedColour.of(colour, name)
        for name, colour in zip(names, found, strict=True)
    ]


def read_tokens(path: str | PathLike[str]) -> Palette:
    """Read every colour of a design-token file (2025.10) as a palette.

    Groups, inherited types and references are followed; colours may be in any of the format's
    14 colour spaces, and keep what they are where sRGB cannot show it.

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
