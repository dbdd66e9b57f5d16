"""Names for colours that have none: the nearest CSS colour, numbered where one comes again."""

from __future__ import annotations

from collections.abc import Iterable

from checkcloth.colour.css import nearest_css_name
from checkcloth.files.names import distinct_names


def css_names_for(colours: Iterable[tuple[float, float, float]]) -> list[str]:
    """Name colours by the nearest CSS colour (CIEDE2000), each name once.

    >>> css_names_for([(1, 0, 0), (0.99, 0.01, 0.02)])
    ['red', 'red 2']
    """
    return distinct_names(nearest_css_name(colour) for colour in colours)
