"""Names for colours that have none: the nearest CSS colour, numbered where one comes again."""

from __future__ import annotations

from collections.abc import Iterable

from checkcloth.colour.css import nearest_css_name


def distinct_names(names: Iterable[str]) -> list[str]:
    """Number names that come again, so that each is there once.

    >>> distinct_names(["teal", "gold", "teal", "teal"])
    ['teal', 'gold', 'teal 2', 'teal 3']
    """
    out: list[str] = []
    taken: set[str] = set()
    for name in names:
        number, wanted = 1, name
        while wanted in taken:
            number += 1
            wanted = f"{name} {number}"
        taken.add(wanted)
        out.append(wanted)
    return out


def css_names_for(colours: Iterable[tuple[float, float, float]]) -> list[str]:
    """Name colours by the nearest CSS colour (CIEDE2000), each name once.

    >>> css_names_for([(1, 0, 0), (0.99, 0.01, 0.02)])
    ['red', 'red 2']
    """
    return distinct_names(nearest_css_name(colour) for colour in colours)
