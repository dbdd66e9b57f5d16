"""What the page of the lesson is told: words, colours, sliders and mixings, as plain data."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Protocol

from checkcloth.cloth.named_colour import NamedColour
from checkcloth.colour.css import css_names, hex_of
from checkcloth.lesson.answers import WAYS
from checkcloth.lesson.materials import SWATCHES, recipe_of
from checkcloth.lesson.texts import CAUTION, INTRODUCTION

MOST_SWATCHES = 24


class PageStep(Protocol):
    """What can be told to the page: a step of the lesson."""

    def data(self) -> dict[str, Any]:
        """Return it as plain data."""
        ...


def page_data(
    steps: Sequence[PageStep], swatches: Sequence[NamedColour] = SWATCHES, *, alone: bool = False
) -> dict[str, Any]:
    """Return all that the page needs.

    Parameters
    ----------
    steps : sequence of Step
    swatches : sequence of NamedColour
        The first 24 are offered.
    alone : bool
        Whether the page is a file of its own, which keeps the answers in its browser.
    """
    return {
        "introduction": INTRODUCTION,
        "caution": CAUTION,
        "alone": alone,
        "mixings": [recipe_of(name) for name in WAYS],
        "swatches": [[each.name, list(each.rgb)] for each in swatches[:MOST_SWATCHES]],
        "names": {name: hex_of(rgb) for name, rgb in css_names().items()},
        "steps": [step.data() for step in steps],
    }
