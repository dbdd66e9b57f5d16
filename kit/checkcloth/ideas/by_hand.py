"""A colourway changed by hand: a colour put in a stripe, stripes moved, added, taken out, nudged.

Every function returns a new colourway and what was done, in words for a list of steps. A part
is 0 for the ground or the number of a stripe, counted from 1.
"""

from __future__ import annotations

from typing import NamedTuple

from checkcloth.arguments import as_whole
from checkcloth.cloth.check import MOST_STRIPES
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.named_colour import NamedColour
from checkcloth.errors import ArgumentError

__all__ = [
    "NUDGES",
    "Edit",
    "add_stripe",
    "move_stripe",
    "nudge",
    "put_colour",
    "remove_stripe",
    "swap_stripes",
]


class Edit(NamedTuple):
    """A colourway as it is after a change, and the change in words."""

    colourway: Colourway
    words: str


# One step along each OKLCh axis, chosen by eye, and what the directions are called. The axes are
# those of CSS Color 4: lightness 0–1, chroma, hue in degrees.
NUDGES = {
    "lightness": (0, 0.025, ("darker", "lighter")),
    "chroma": (1, 0.012, ("duller", "brighter")),
    "hue": (2, 7.5, ("hue back", "hue on")),
}


def part_name(part: int) -> str:
    """Return what a part is called.

    >>> part_name(0), part_name(3)
    ('Ground', 'Stripe 3')
    """
    return f"Stripe {part}" if part else "Ground"


def colour_of(colourway: Colourway, part: int) -> NamedColour:
    """Return the colour of the ground (0) or of a stripe."""
    part = as_whole(part, "part", 0, len(colourway.stripes))
    return colourway.stripes[part - 1] if part else colourway.ground


def put_colour(colourway: Colourway, part: int, colour: NamedColour | str) -> Edit:
    """Put a colour, or a CSS Color 4 text, in a part.

    >>> cloth = Colourway("white", ["navy", "teal"])
    >>> edit = put_colour(cloth, 2, "gold")
    >>> edit.words, [str(stripe) for stripe in edit.colourway.stripes]
    ('Stripe 2 is gold', ['navy #000080', 'gold #ffd700'])
    """
    colour_of(colourway, part)
    made = NamedColour.of(colour)
    if part == 0:
        return Edit(colourway.with_(ground=made), f"Ground is {made.name}")
    stripes = list(colourway.stripes)
    stripes[part - 1] = made
    return Edit(colourway.with_(stripes=stripes), f"Stripe {part} is {made.name}")


def move_stripe(colourway: Colourway, stripe: int, to: int) -> Edit:
    """Take a stripe out of the order and put it where it becomes number ``to``.

    >>> edit = move_stripe(Colourway("white", ["navy", "teal", "gold"]), 1, 3)
    >>> edit.words, [stripe.name for stripe in edit.colourway.stripes]
    ('navy moved to stripe 3', ['teal', 'gold', 'navy'])
    """
    at, to = _stripe(colourway, stripe, "stripe"), _stripe(colourway, to, "to")
    stripes = list(colourway.stripes)
    moved = stripes.pop(at - 1)
    stripes.insert(to - 1, moved)
    return Edit(colourway.with_(stripes=stripes), f"{moved.name} moved to stripe {to}")


def swap_stripes(colourway: Colourway, first: int, second: int) -> Edit:
    """Exchange the colours of two stripes.

    >>> swap_stripes(Colourway("white", ["navy", "teal"]), 1, 2).words
    'Stripes 1 and 2 swapped'
    """
    first, second = _stripe(colourway, first, "first"), _stripe(colourway, second, "second")
    stripes = list(colourway.stripes)
    stripes[first - 1], stripes[second - 1] = stripes[second - 1], stripes[first - 1]
    low, high = sorted((first, second))
    return Edit(colourway.with_(stripes=stripes), f"Stripes {low} and {high} swapped")


def add_stripe(colourway: Colourway, at: int, colour: NamedColour | str) -> Edit:
    """Add a stripe that becomes number ``at``; later ones move on by one.

    Raises
    ------
    ArgumentError
        Where there are as many stripes as a check can have.

    >>> edit = add_stripe(Colourway("white", ["navy"]), 2, "teal")
    >>> edit.words
    'Stripe 2, teal, added'
    """
    count = len(colourway.stripes)
    if count >= MOST_STRIPES:
        raise ArgumentError("stripes", f"at most {MOST_STRIPES}", count + 1)
    at = as_whole(at, "at", 1, count + 1)
    made = NamedColour.of(colour)
    stripes = [*colourway.stripes[: at - 1], made, *colourway.stripes[at - 1 :]]
    return Edit(colourway.with_(stripes=stripes), f"Stripe {at}, {made.name}, added")


def remove_stripe(colourway: Colourway, stripe: int) -> Edit:
    """Take a stripe out.

    Raises
    ------
    ArgumentError
        For the only one.

    >>> remove_stripe(Colourway("white", ["navy", "teal"]), 1).words
    'Stripe 1, navy, removed'
    """
    at = _stripe(colourway, stripe, "stripe")
    if len(colourway.stripes) == 1:
        raise ArgumentError("stripe", "one of several: a check has at least one stripe", stripe)
    gone = colourway.stripes[at - 1]
    stripes = [*colourway.stripes[: at - 1], *colourway.stripes[at:]]
    return Edit(colourway.with_(stripes=stripes), f"Stripe {at}, {gone.name}, removed")


def nudge(colour: NamedColour, axis: str, steps: int) -> NamedColour:
    """Return a colour moved by steps along an OKLCh axis, kept in sRGB.

    A colour that sRGB cannot show loses chroma at constant lightness and hue (coloraide's
    ``oklch-chroma`` with a just-noticeable difference of 0, as the page does). The name says
    the way, until it is given one of its own; the role stays.

    Parameters
    ----------
    colour : NamedColour
    axis : str
        ``"lightness"`` (0.025 a step), ``"chroma"`` (0.012) or ``"hue"`` (7.5°).
    steps : int
        −40 to 40; 0 returns the colour itself.

    Raises
    ------
    ArgumentError
        For another axis or number of steps.

    Examples
    --------
    >>> print(nudge(NamedColour.of("#f2b084", "Peach Skin"), "lightness", 1))
    Peach Skin, lighter #fbb88c
    """
    if axis not in NUDGES:
        raise ArgumentError("axis", f"one of {', '.join(NUDGES)}", axis)
    steps = as_whole(steps, "steps", -40, 40)
    if steps == 0:
        return colour
    channel, size, (back, onward) = NUDGES[axis]
    from coloraide import Color

    moved = Color("srgb", colour.rgb).convert("oklch")
    moved[channel] = moved[channel] + size * steps
    moved["lightness"] = min(max(moved["lightness"], 0.0), 1.0)
    moved["chroma"] = max(moved["chroma"], 0.0)
    red, green, blue = (
        min(max(value, 0.0), 1.0)
        for value in moved.convert("srgb").fit(method="oklch-chroma", jnd=0).coords(nans=False)
    )
    name = colour.name.removesuffix(f", {back}").removesuffix(f", {onward}")
    return NamedColour(f"{name}, {onward if steps > 0 else back}", (red, green, blue), colour.role)


def _stripe(colourway: Colourway, number: int, argument: str) -> int:
    return as_whole(number, argument, 1, len(colourway.stripes))
