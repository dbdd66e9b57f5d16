"""Small pieces of a brief: palettes joined, colours found by name, one case of a search."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from math import comb
from typing import Any

from checkcloth.cloth.named_colour import NamedColour
from checkcloth.cloth.palette import Palette
from checkcloth.errors import ArgumentError

__all__ = ["Case", "Colours", "join_palettes", "members_of", "once", "one_of"]

Colours = Iterable[NamedColour | str]


def join_palettes(palettes: Palette | Iterable[Palette]) -> Palette:
    """Return several palettes as one.

    A colour that two palettes hold under one name and value is taken once; a name that
    stands for different colours gets its palette's name added.

    Parameters
    ----------
    palettes : Palette or iterable of Palette

    Raises
    ------
    ArgumentError
        For no palettes, or what is none.

    Examples
    --------
    >>> both = join_palettes([Palette("a", ["navy", "teal"]), Palette("b", ["teal", "gold"])])
    >>> print(both)
    palette a + b: 3 colours
    """
    if isinstance(palettes, Palette):
        return palettes
    members = list(palettes)
    if not members or not all(isinstance(member, Palette) for member in members):
        raise ArgumentError("palette", "one palette or several", palettes)
    taken: dict[str, NamedColour] = {}
    for member in members:
        for colour in member:
            known = taken.get(colour.name)
            if known is not None and (known.rgb, known.role) == (colour.rgb, colour.role):
                continue
            name = colour.name if known is None else f"{colour.name} ({member.name})"
            taken.setdefault(name, replace(colour, name=name))
    return Palette(" + ".join(member.name for member in members), taken.values())


@dataclass(frozen=True)
class Case:
    """One ground, strength and mixing; all that varies inside it is which stripes.

    Attributes
    ----------
    number : int
        Its place among the cases of the search; ties go to the lower.
    ground : NamedColour
    strength : float
    mixing : str
    must, free : tuple of int
        Places in ``Wanted.candidates``: stripes that are always in, and those to choose
        from. A stripe never has the ground's own colour.
    choose : int
        How many of ``free`` each colourway takes.

    Examples
    --------
    >>> Case(0, NamedColour.of("white"), 0.5, "woven", must=(0,), free=(1, 2, 3), choose=2).count
    3
    """

    number: int
    ground: NamedColour
    strength: float
    mixing: str
    must: tuple[int, ...]
    free: tuple[int, ...]
    choose: int

    @property
    def count(self) -> int:
        """Colourways in this case, the order of stripes not counted."""
        return comb(len(self.free), self.choose) if self.choose >= 0 else 0


def once(values: Iterable[Any]) -> tuple[Any, ...]:
    """Return the values in their order, each once.

    >>> once([0.5, 0.7, 0.5])
    (0.5, 0.7)
    """
    return tuple(dict.fromkeys(values))


def one_of(value: str, allowed: tuple[str, ...], name: str) -> str:
    """Return the value if it is one of those allowed.

    >>> one_of("dl", ("de2000", "dl"), "by")
    'dl'
    """
    if value not in allowed:
        raise ArgumentError(name, f"one of {', '.join(allowed)}", value)
    return value


def members_of(
    palette: Palette, colours: Colours | Palette, name: str, *, own: bool = False
) -> tuple[NamedColour, ...]:
    """Colours given by name, by CSS text or as they are; ``own`` allows names only.

    >>> [c.name for c in members_of(Palette("coast", ["navy", "teal"]), ["teal"], "must", own=True)]
    ['teal']
    """
    if isinstance(colours, str):
        raise ArgumentError(name, "several colours", colours)
    known = {colour.name: colour for colour in palette}
    out = []
    for colour in colours:
        if isinstance(colour, str) and colour in known:
            out.append(known[colour])
        elif isinstance(colour, NamedColour) or not own:
            out.append(NamedColour.of(colour))
        else:
            raise ArgumentError(name, "names of the palette's colours", colour)
    return once(out)
