"""A chosen set: the check, the colourways kept, and how each came about."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from copy import deepcopy
from dataclasses import dataclass, field
from html import escape
from math import isfinite
from types import MappingProxyType
from typing import Any

from checkcloth.arguments import as_tuple, require_type
from checkcloth.cloth.check import Check
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.named_colour import clean_text, moved_words
from checkcloth.colour.spectra.texture import TextureFactor
from checkcloth.errors import ArgumentError
from checkcloth.files.html import AS_TYPED, OneLine

_Plain = str | int | float | bool | None
_MOST_DIGITS = 100
_DEEPEST = 8
# What a client may say of a colourway.
ANSWERS = ("yes", "maybe", "no")


def _can_be_saved(value: object) -> bool:
    """Whether a value is plain, and any JSON file can hold it."""
    if isinstance(value, str):  # half a surrogate pair is no character, and UTF-8 has none
        return value.isascii() or not any("\ud800" <= char <= "\udfff" for char in value)
    if isinstance(value, float):
        return isfinite(value)
    # A number of thousands of digits is neither written nor read back.
    return value is None or (isinstance(value, int) and abs(value) < 10**_MOST_DIGITS)


def _check_settings(value: object, depth: int = 0) -> None:
    """Refuse settings that some JSON file could not hold: all but plain values, lists, mappings."""
    if depth > _DEEPEST:
        raise ArgumentError("settings", f"at most {_DEEPEST} deep", depth)
    if isinstance(value, Mapping):
        for key, inner in value.items():
            if not isinstance(key, str) or not _can_be_saved(key):
                raise ArgumentError("settings", "under names that are text", key)
            _check_settings(inner, depth + 1)
    elif isinstance(value, list):
        for inner in value:
            _check_settings(inner, depth + 1)
    elif not isinstance(value, str | int | float | None) or not _can_be_saved(value):
        raise ArgumentError("settings", "text, finite numbers, true, false, None or lists", value)


@dataclass(frozen=True, repr=False)
class Chosen(OneLine):
    """A colourway that was kept.

    Attributes
    ----------
    colourway : Colourway
    note : str
        What the designer wrote about it.
    origin : mapping of str to str, number, bool or None
        How it came about: generator, seed, index in the run, palette, whatever applies.
    family : str
        What it belongs to, with others of the same family; empty, it stands by itself.
    answer : str
        What the client said of it: ``"yes"``, ``"maybe"``, ``"no"``, or nothing yet.
    remark : str
        What the client wrote about it.

    Raises
    ------
    ArgumentError
        For a note, family or remark with control characters, an origin that is not plain, or
        another answer.

    Examples
    --------
    >>> Chosen(Colourway("white", ["navy"]), "for the aprons", {"seed": 3}).origin["seed"]
    3
    """

    colourway: Colourway
    note: str = ""
    origin: Mapping[str, _Plain] = field(default_factory=dict)
    family: str = ""
    answer: str = ""
    remark: str = ""

    def __post_init__(self) -> None:
        require_type(self.colourway, "colourway", Colourway)
        require_type(self.origin, "origin", Mapping)  # type: ignore[type-abstract]
        object.__setattr__(self, "note", clean_text(self.note, "note", longest=2000))
        object.__setattr__(self, "family", clean_text(self.family, "family"))
        object.__setattr__(self, "remark", clean_text(self.remark, "remark", longest=2000))
        if self.answer not in ("", *ANSWERS):
            raise ArgumentError("answer", f"one of {', '.join(ANSWERS)}, or empty", self.answer)
        for key, value in self.origin.items():
            if not isinstance(key, str) or not (_can_be_saved(key) and _can_be_saved(value)):
                allowed = "a mapping of text to text, finite numbers, true, false or None"
                raise ArgumentError("origin", allowed, {key: value})
        object.__setattr__(self, "origin", MappingProxyType(dict(self.origin)))

    def __hash__(self) -> int:
        written = self.note, self.family, self.answer, self.remark
        return hash((self.colourway, written, frozenset(self.origin.items())))

    def __str__(self) -> str:
        return f"{self.colourway}, chosen{f': {self.note}' if self.note else ''}"

    def _repr_html_(self) -> str:
        note = f"<p {AS_TYPED}>{escape(self.note)}</p>" if self.note else ""
        return self.colourway._repr_html_() + note


@dataclass(frozen=True, repr=False)
class ChosenSet(OneLine):
    """Colourways chosen together, on one check size.

    Colourways may differ in their number of stripes: ``check_for`` gives each its check.

    Parameters
    ----------
    check : Check
    chosen : iterable of Chosen or Colourway
    name : str
    settings : mapping, optional
        What a desk notes about the range (of export, of how it is looked at), as plain JSON
        values. It is saved and opened with the set and counts for nothing else: sets that
        differ in it alone are equal.

    Examples
    --------
    >>> kept = ChosenSet(Check("0.5 in", 1), [Colourway("white", ["navy"])], "first idea")
    >>> print(kept)
    set first idea: 1 colourway on a check of 1/2 in (12.7 mm)
    """

    check: Check
    chosen: tuple[Chosen, ...]
    name: str = ""
    settings: Mapping[str, Any] = field(default_factory=dict, compare=False)

    def __init__(
        self,
        check: Check,
        chosen: Iterable[Chosen | Colourway],
        name: str = "",
        settings: Mapping[str, Any] | None = None,
    ) -> None:
        require_type(check, "check", Check)
        members = tuple(
            Chosen(member) if isinstance(member, Colourway) else member
            for member in as_tuple(chosen, "chosen", of="colourways")
        )
        for member in members:
            if not isinstance(member, Chosen):
                raise ArgumentError("chosen", "colourways", member)
        object.__setattr__(self, "check", check)
        object.__setattr__(self, "chosen", members)
        object.__setattr__(self, "name", clean_text(name, "name"))
        held = require_type(settings or {}, "settings", Mapping)  # type: ignore[type-abstract]
        _check_settings(held)
        object.__setattr__(self, "settings", deepcopy(dict(held)))

    @property
    def colourways(self) -> tuple[Colourway, ...]:
        """The colourways alone."""
        return tuple(member.colourway for member in self.chosen)

    def check_for(self, colourway: Colourway) -> Check:
        """Return the set's check where the colourway has its stripes, else an even one as large."""
        counts = len(colourway.stripes), len(colourway.weft_colours)
        if counts == (self.check.stripes, self.check.weft_stripes):
            return self.check
        return Check(self.check.size, counts[0], weft_stripes=counts[1])

    @property
    def texture(self) -> TextureFactor | None:
        """How much light its cloth gives back of its yarn cards', where that was kept with it.

        Raises
        ------
        ArgumentError
            For a number in a file that none of a cloth can be.
        """
        kept = self.settings.get("texture")
        return None if kept is None else TextureFactor(kept)

    def with_texture(self, texture: TextureFactor | float | None) -> ChosenSet:
        """Return the set with a texture factor kept in it, or with none; see ``check_strike_off``.

        >>> kept = ChosenSet(Check("0.5 in", 1), [Colourway("white", ["navy"])])
        >>> kept.with_texture(TextureFactor(0.85)).texture.factor
        0.85
        """
        settings = {name: value for name, value in self.settings.items() if name != "texture"}
        if texture is not None:
            held = texture if isinstance(texture, TextureFactor) else TextureFactor(texture)
            settings["texture"] = held.factor
        return ChosenSet(self.check, self.chosen, self.name, settings)

    def __len__(self) -> int:
        return len(self.chosen)

    def __iter__(self) -> Iterator[Colourway]:
        return iter(self.colourways)

    def __str__(self) -> str:
        noun = "colourway" if len(self) == 1 else "colourways"
        lead = f"set {self.name}" if self.name else "set"
        moved = moved_words(colour for one in self if one.known.beyond for colour in one.colours)
        words = f"{lead}: {len(self)} {noun} on a check of {self.check.size}"
        return f"{words}; colours: {moved}" if moved else words

    def _repr_html_(self) -> str:
        pieces = "".join(colourway._repr_html_() for colourway in self)
        return (
            f"<div {AS_TYPED}><p>{escape(str(self))}</p>"
            f'<div style="display:flex;flex-wrap:wrap;gap:16px">{pieces}</div></div>'
        )
