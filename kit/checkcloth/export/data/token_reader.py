"""Reading design tokens: groups, inherited types, references, fourteen colour spaces."""

from __future__ import annotations

import json
import math
from collections.abc import Callable, Iterator
from typing import Any

from checkcloth.cloth.named_colour import ROLES, NamedColour
from checkcloth.cloth.palette import MOST_COLOURS
from checkcloth.colour.css import parse_css
from checkcloth.errors import CheckclothError, FileFormatError, shown

__all__ = ["OURS", "parse_tokens"]

# Our key among a token's $extensions: what a palette holds and the format does not.
OURS = "checkcloth"
_DEEPEST = 64
_MOST_STEPS = 32
_UNSAID = object()


def _css(pattern: str) -> Callable[[list[str]], str]:
    return lambda parts: pattern.format(*parts)


# Colour spaces of the format (section "Color"), as CSS Color 4 text.
_SPACES: dict[str, Callable[[list[str]], str]] = {
    "hsl": _css("hsl({} {}% {}%)"),
    "hwb": _css("hwb({} {}% {}%)"),
    "lab": _css("lab({} {} {})"),
    "lch": _css("lch({} {} {})"),
    "oklab": _css("oklab({} {} {})"),
    "oklch": _css("oklch({} {} {})"),
    **{
        name: _css(f"color({name} {{}} {{}} {{}})")
        for name in (
            "srgb", "srgb-linear", "display-p3", "a98-rgb", "prophoto-rgb", "rec2020",
            "xyz-d65", "xyz-d50",
        )
    },
}  # fmt: skip


class _Reader:
    def __init__(self, root: dict[str, Any], source: str) -> None:
        self._root, self._source = root, source
        # What each reference leads to, found once: a long file may use one over and over.
        self._known: dict[tuple[str, bool], tuple[dict[str, Any] | None, object]] = {}

    def fail(self, path: tuple[str, ...], message: str) -> FileFormatError:
        return FileFormatError(f"{self._source}: {'.'.join(path) or 'the whole file'} {message}")

    def walk(
        self, group: dict[str, Any], path: tuple[str, ...] = (), kind: object = None
    ) -> Iterator[NamedColour]:
        """Yield the colours of a group and all below it, in the order of the file."""
        if len(path) > _DEEPEST:
            raise self.fail(path, f"must be at most {_DEEPEST} groups deep")
        kind = group.get("$type", kind)
        if "$value" in group and not path:
            raise self.fail(path, "must be a group of tokens with names, found one without")
        if "$value" in group or ("$ref" in group and path):
            yield from self.token(group, path, kind)
            return
        for name, member in group.items():
            if name.startswith("$") and name != "$root":
                continue
            if not isinstance(member, dict):
                raise self.fail((*path, name), f"must be a token or a group, found {shown(member)}")
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
        note = token.get("$description", "")
        try:
            rgb, text = self.colour(value, path)
            if isinstance(ours.get("text"), str) and parse_css(ours["text"]) == rgb:
                text = ours["text"]
            name = ours.get("name", path[-1])
            role = ours.get("role", "")
            role = role if role in ROLES else ""
            note = " ".join(note.split())[:2000] if isinstance(note, str) else ""
            yield NamedColour(name, rgb, role, note, text)
        except FileFormatError:
            raise
        except CheckclothError as error:
            raise self.fail(path, f": {error}") from None

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
                raise self.fail(path, f"must not refer to itself, found {shown(value)}")
            seen.add(value)
            if len(seen) > _MOST_STEPS:
                raise self.fail(path, f"must reach its value in {_MOST_STEPS} references or fewer")
            target, said = self._target(value, pointer)
            if target is None:
                raise self.fail(path, f"must refer to a token, found {shown(value)}")
            kind = target.get("$type", kind if said is _UNSAID else said)
            token = target

    def _target(self, value: str, pointer: bool) -> tuple[dict[str, Any] | None, object]:
        """The token that a reference leads to, or None, and the type said on the way there."""
        if (value, pointer) in self._known:
            return self._known[value, pointer]
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
        self._known[value, pointer] = found = (target if is_token else None), kind
        return found

    def colour(self, value: Any, path: tuple[str, ...]) -> tuple[tuple[float, float, float], str]:
        if not isinstance(value, dict):
            raise self.fail(path, f"must hold a colour object, found {shown(value)}")
        space, parts = value.get("colorSpace"), value.get("components")
        if not isinstance(space, str) or space not in _SPACES:
            allowed = ", ".join(_SPACES)
            raise self.fail(path, f"colorSpace must be one of {allowed}; found {shown(space)}")
        if not isinstance(parts, list) or len(parts) != 3 or not all(map(_is_part, parts)):
            raise self.fail(path, f"components must be three numbers, found {shown(parts)}")
        alpha = value.get("alpha", 1)
        if alpha != 1 or isinstance(alpha, bool):
            raise self.fail(path, f"alpha must be 1 (cloth is opaque), found {shown(alpha)}")
        if space == "srgb" and all(part != "none" and 0 <= part <= 1 for part in parts):
            # Straight to the numbers: nothing is lost on the way through text.
            red, green, blue = (float(part) for part in parts)
            return (red, green, blue), ""
        text = _SPACES[space]([part if part == "none" else format(part, ".17g") for part in parts])
        return parse_css(text), text


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

    Examples
    --------
    >>> value = '{"colorSpace": "srgb", "components": [0, 0, 0.5]}'
    >>> parse_tokens('{"navy": {"$type": "color", "$value": %s}}' % value)[0].name
    'navy'
    """
    try:
        root = json.loads(text.removeprefix("\ufeff"))
    except json.JSONDecodeError as error:
        raise FileFormatError(
            f"{source}, line {error.lineno}, column {error.colno}: must be JSON ({error.msg})"
        ) from None
    except (RecursionError, ValueError):
        raise FileFormatError(f"{source}: must be JSON of a sensible depth and size") from None
    reader = _Reader(root if isinstance(root, dict) else {}, source)
    if not isinstance(root, dict):
        raise reader.fail((), f"must be an object, found {shown(root)}")
    out: dict[str, NamedColour] = {}
    numbers: dict[str, int] = {}
    for colour in reader.walk(root):
        if len(out) == MOST_COLOURS:
            raise reader.fail((), f"must hold at most {MOST_COLOURS} colours, found more")
        name, number = colour.name, numbers.get(colour.name, 1)
        while name in out:
            number += 1
            name = f"{colour.name} {number}"
        numbers[colour.name] = number
        out[name] = colour if name == colour.name else NamedColour.of(colour, name)
    if not out:
        raise FileFormatError(f"{source}: must hold at least one colour token, found none")
    return list(out.values())
