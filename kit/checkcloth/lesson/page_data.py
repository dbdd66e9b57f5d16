"""What the page of the lesson is told: words, colours, sliders and mixings, as plain data."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict
from typing import Any

from checkcloth.cloth.named_colour import NamedColour
from checkcloth.colour.css import css_names, hex_of
from checkcloth.lesson.answers import WAYS
from checkcloth.lesson.lesson import SWATCHES, recipe_of
from checkcloth.lesson.step import Step
from checkcloth.lesson.texts import CAUTION, INTRODUCTION

MOST_SWATCHES = 24


def step_data(step: Step) -> dict[str, Any]:
    """Return one step as the page takes it."""
    text = step.text
    return {
        **{"key": step.key, "number": step.number, "title": text.title},
        **{"words": text.words, "question": step.question},
        "boxes": [asdict(box) for box in text.boxes],
        "sliders": [asdict(slider) for slider in step.sliders],
        "fields": [[each.key, each.label, each.colour.name] for each in step.colours],
        "named": [[each.colour.name, list(each.colour.rgb)] for each in step.colours],
        "options": dict(step.options),
    }


def page_data(
    steps: Sequence[Step], swatches: Sequence[NamedColour] = SWATCHES, *, alone: bool = False
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
        "steps": [step_data(step) for step in steps],
    }
