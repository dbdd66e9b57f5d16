"""Reading JSON that someone may have touched: every error names the path and the value."""

from __future__ import annotations

import json
import math
from collections import Counter
from collections.abc import Callable
from typing import Any, NoReturn, TypeVar, overload

from checkcloth.errors import CheckclothError, FileFormatError, shown

_T = TypeVar("_T")
_MISSING = object()


class JsonReader:
    """The fields of one JSON object, each read by name and kind.

    What was not read by the time of :meth:`done` is an error: dropping it silently
    would lose what someone saved.

    >>> fields = JsonReader({"name": "Quay", "strength": 0.5}, "set.json")
    >>> fields.text("name"), fields.number("strength")
    ('Quay', 0.5)
    """

    def __init__(self, value: Any, source: str, where: str = "") -> None:
        self._source, self._where = source, where
        if not isinstance(value, dict):
            self.fail("", "an object", value)
        self._unread: dict[str, Any] = dict(value)

    def path(self, name: str) -> str:
        """Return the path of a field, such as ``colourways[2].ground.rgb``."""
        if not name.isprintable() or len(name) > 60:
            name = shown(name)  # a stranger's name: one short line
        return ".".join(part for part in (self._where, name) if part) or "the whole file"

    def fail(self, name: str, allowed: str, found: object) -> NoReturn:
        """Say that a field is not what is allowed there."""
        raise FileFormatError(self.path(name), allowed, found, source=self._source)

    def take(self, name: str, allowed: str, default: Any = _MISSING) -> Any:
        """Return the raw value of a field, once."""
        value = self._unread.pop(name, default)
        if value is _MISSING:
            raise FileFormatError(self.path(name), allowed, words="nothing", source=self._source)
        return value

    def text(self, name: str, default: Any = _MISSING) -> str:
        """Return a field of text."""
        value = self.take(name, "text", default)
        return value if isinstance(value, str) else self.fail(name, "text", value)

    def number(self, name: str) -> float:
        """Return a finite number."""
        value = self.take(name, "a number")
        return float(value) if _is_number(value) else self.fail(name, "a finite number", value)

    def whole(self, name: str) -> int:
        """Return a whole number."""
        value = self.take(name, "a whole number")
        if isinstance(value, bool) or not isinstance(value, int):
            self.fail(name, "a whole number", value)
        return value

    @overload
    def numbers(self, name: str, count: int) -> list[float]: ...
    @overload
    def numbers(self, name: str, count: int, default: None) -> list[float] | None: ...
    def numbers(self, name: str, count: int, default: Any = _MISSING) -> list[float] | None:
        """Return so many finite numbers."""
        value = self.take(name, f"{count} numbers", default)
        if value is None and default is None:
            return None
        if not isinstance(value, list) or len(value) != count or not all(map(_is_number, value)):
            self.fail(name, f"{count} numbers", value)
        return [float(number) for number in value]

    def plain(self, name: str) -> dict[str, Any]:
        """Return a mapping of text to plain values."""
        value = self.take(name, "an object", {})
        return value if isinstance(value, dict) else self.fail(name, "an object", value)

    def read(self, name: str, reader: Callable[[JsonReader], _T]) -> _T:
        """Return what ``reader`` makes of a nested object."""
        return self._made(self.take(name, "an object"), name, reader)

    def read_each(
        self, name: str, reader: Callable[[JsonReader], _T], default: Any = _MISSING
    ) -> list[_T]:
        """Return what ``reader`` makes of every object in a list."""
        value = self.take(name, "a list", default)
        if not isinstance(value, list):
            self.fail(name, "a list", value)
        return [self._made(item, f"{name}[{n}]", reader) for n, item in enumerate(value)]

    def _made(self, value: Any, name: str, reader: Callable[[JsonReader], _T]) -> _T:
        inner = JsonReader(value, self._source, self.path(name))
        try:
            return reader(inner)
        except FileFormatError:
            raise
        except CheckclothError as error:
            raise error.at(f"{self._source}: {self.path(name)}") from None

    def check_kind(self, kind: str, version: int) -> None:
        """Read ``format`` and ``version``; say so if they are another kind, or newer."""
        found = self.take("format", f"{kind!r}")
        if found != kind:
            self.fail("format", repr(kind), found)
        number = self.whole("version")
        if number > version:
            raise FileFormatError(
                "version",
                f"at most {version}",
                number,
                source=self._source,
                hint="; it was written by a newer checkcloth, which opens it",
            )
        if number < 1:
            self.fail("version", f"1 to {version}", number)

    def done(self) -> None:
        """Say so if a field is left that nobody read."""
        for name, value in self._unread.items():
            self.fail(name, "left out, it is not known here", value)


def _is_number(value: object) -> bool:
    if isinstance(value, bool) or not isinstance(value, int | float):
        return False
    try:
        return math.isfinite(float(value))
    except OverflowError:
        return False


def _once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    out = dict(pairs)
    if len(out) != len(pairs):
        # Counted in one pass: looking each name up in the list takes minutes for a long one.
        twice, _ = Counter(name for name, _ in pairs).most_common(1)[0]
        raise FileFormatError("name", "in an object once", words=f"{shown(twice)} twice")
    return out


def parse_json(text: str, source: str) -> JsonReader:
    """Parse JSON text whose outermost value is an object."""
    try:
        value = json.loads(text.removeprefix("\ufeff"), object_pairs_hook=_once)
    except json.JSONDecodeError as error:
        words = f"{error.msg}, column {error.colno}"
        raise FileFormatError(
            "file", "JSON", words=words, source=source, line=error.lineno
        ) from None
    except FileFormatError as error:
        raise error.at(source) from None
    except (RecursionError, ValueError):  # nested or numbered beyond reason
        raise FileFormatError("file", "JSON of a sensible depth and size", source=source) from None
    return JsonReader(value, source)
