"""What every sheet, table and hand-off takes: a chosen set, or colourways and a check."""

from __future__ import annotations

from collections.abc import Iterable

from checkcloth.cloth.check import Check
from checkcloth.cloth.chosen import ChosenSet
from checkcloth.cloth.colourway import Colourway
from checkcloth.errors import ArgumentError

Colourways = ChosenSet | Colourway | Iterable[Colourway]


def as_set(colourways: Colourways, check: Check | None = None, name: str = "") -> ChosenSet:
    """Return a chosen set of at least one colourway.

    The check gives the size, for colourways with other numbers of stripes too; it may be left out
    where a chosen set brings its own. The name is that of the set, where it has none.

    Raises
    ------
    ArgumentError
        For no colourways, or no check.
    """
    if isinstance(colourways, ChosenSet):
        made = ChosenSet(check or colourways.check, colourways.chosen, name or colourways.name)
    else:
        if check is None:
            raise ArgumentError("check", "a Check where colourways are no ChosenSet")
        if isinstance(colourways, str) or not isinstance(colourways, Colourway | Iterable):
            raise ArgumentError("colourways", "colourways", colourways)
        members = [colourways] if isinstance(colourways, Colourway) else colourways
        made = ChosenSet(check, members, name)
    if not len(made):
        raise ArgumentError("colourways", "at least one colourway", words="none")
    return made


def label_of(colourway: Colourway, index: int) -> str:
    """Name a colourway for people: its own name, or its number in the set (from 1).

    >>> label_of(Colourway("white", ["navy"]), 0)
    'Colourway 1'
    """
    return colourway.name or f"Colourway {index + 1}"


def counted(number: int, noun: str) -> str:
    """Say how many of a thing there are.

    >>> counted(1, "sheet"), counted(3, "colourway")
    ('1 sheet', '3 colourways')
    """
    return f"1 {noun}" if number == 1 else f"{number} {noun}s"


def names_in(colourway: Colourway) -> list[str]:
    """Return every name that a colourway brings: its own, its ground's, its stripes'."""
    stripes = [stripe.name for stripe in (*colourway.stripes, *colourway.weft_stripes)]
    return [colourway.name, colourway.ground.name, *stripes]


def stripes_on_ground(colourway: Colourway) -> str:
    """Say the colours in one line: stripes on the ground, and the weft's own.

    >>> stripes_on_ground(Colourway("white", ["navy"], weft_stripes=["gold", "teal"]))
    'navy on white, weft gold, teal'
    """
    lines = [f"{', '.join(s.name for s in colourway.stripes)} on {colourway.ground.name}"]
    if colourway.weft_stripes:
        lines.append(f"weft {', '.join(stripe.name for stripe in colourway.weft_stripes)}")
    return ", ".join(lines)


def family_order(chosen: ChosenSet) -> list[tuple[str, list[int]]]:
    """Return families in the order of their first member, each with its indices in the set.

    What stands by itself comes last, under an empty name: so a range is laid out for people,
    and the colourways are numbered in this order, from 1.

    >>> from checkcloth.cloth.chosen import Chosen
    >>> one = Colourway("white", ["navy"])
    >>> family_order(ChosenSet(Check("1 cm", 1), [one, Chosen(one, family="Quay"), one]))
    [('Quay', [1]), ('', [0, 2])]
    """
    families: dict[str, list[int]] = {}
    for index, member in enumerate(chosen.chosen):
        families.setdefault(member.family, []).append(index)
    alone = families.pop("", [])
    return [*families.items(), *([("", alone)] if alone else [])]


def number_order(chosen: ChosenSet) -> list[int]:
    """Return the indices of the colourways in the order in which people number them, from 1."""
    return [index for _, indices in family_order(chosen) for index in indices]
