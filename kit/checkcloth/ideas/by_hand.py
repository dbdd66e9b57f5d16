"""A colourway changed by hand: a colour put in a stripe, stripes moved, added, taken out, nudged.

Every function returns a new colourway and what was done, in words for a list of steps. A part
is 0 for the ground, n for stripe n of the warp, counted from 1, or −n for stripe n of the weft.
A weft that runs in the warp's colours gets its own with the first change of one of its stripes.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from checkcloth.arguments import as_whole, require_one_of
from checkcloth.cloth.check import MOST_STRIPES
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.named_colour import NamedColour
from checkcloth.errors import ArgumentError


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

    >>> part_name(0), part_name(3), part_name(-2)
    ('Ground', 'Stripe 3', 'Weft stripe 2')
    """
    if part < 0:
        return f"Weft stripe {-part}"
    return f"Stripe {part}" if part else "Ground"


def colour_of(colourway: Colourway, part: int) -> NamedColour:
    """Return the colour of the ground (0), of a stripe, or of a stripe of the weft (−1 …)."""
    low, high = (
        (-len(colourway.weft_colours), -1) if _is_weft(part) else (0, len(colourway.stripes))
    )
    part = as_whole(part, "part", low, high)
    return _row(colourway, part)[abs(part) - 1] if part else colourway.ground


def _is_weft(part: object) -> bool:
    return isinstance(part, int) and part < 0


def _row(colourway: Colourway, part: int) -> tuple[NamedColour, ...]:
    """The stripes of the way that a part is of."""
    return colourway.weft_colours if _is_weft(part) else colourway.stripes


def _with_row(colourway: Colourway, part: int, row: Iterable[NamedColour]) -> Colourway:
    if part < 0:
        return colourway.with_(weft_stripes=tuple(row))
    return colourway.with_(stripes=tuple(row))


def put_colour(colourway: Colourway, part: int, colour: NamedColour | str) -> Edit:
    """Put a colour, or a CSS Color 4 text, in a part.

    >>> cloth = Colourway("white", ["navy", "teal"])
    >>> edit = put_colour(cloth, 2, "gold")
    >>> edit.words, [str(stripe) for stripe in edit.colourway.stripes]
    ('Stripe 2 is gold', ['navy #000080', 'gold #ffd700'])
    """
    colour_of(colourway, part)
    made = NamedColour.of(colour)
    words = ", ".join(filter(None, [f"{part_name(part)} is {made.name}", made.shift_words]))
    if part == 0:
        return Edit(colourway.with_(ground=made), words)
    row = list(_row(colourway, part))
    row[abs(part) - 1] = made
    return Edit(_with_row(colourway, part, row), words)


def move_stripe(colourway: Colourway, stripe: int, to: int) -> Edit:
    """Take a stripe out of the order of its way and put it where it becomes number ``to``.

    >>> edit = move_stripe(Colourway("white", ["navy", "teal", "gold"]), 1, 3)
    >>> edit.words, [stripe.name for stripe in edit.colourway.stripes]
    ('navy moved to stripe 3', ['teal', 'gold', 'navy'])
    """
    at, index = _stripe(colourway, stripe, "stripe"), _stripe(colourway, to, "to", like=stripe)
    row = list(_row(colourway, stripe))
    moved = row.pop(at - 1)
    row.insert(index - 1, moved)
    words = f"{moved.name} moved to {part_name(to).lower()}"
    return Edit(_with_row(colourway, stripe, row), words)


def swap_stripes(colourway: Colourway, first: int, second: int) -> Edit:
    """Exchange the colours of two stripes of one way.

    >>> swap_stripes(Colourway("white", ["navy", "teal"]), 1, 2).words
    'Stripes 1 and 2 swapped'
    >>> swap_stripes(Colourway("white", ["navy", "teal"]), -1, -2).words
    'Weft stripes 1 and 2 swapped'
    """
    here = _stripe(colourway, first, "first")
    there = _stripe(colourway, second, "second", like=first)
    row = list(_row(colourway, first))
    row[here - 1], row[there - 1] = row[there - 1], row[here - 1]
    low, high = sorted((here, there))
    stripes = "Weft stripes" if first < 0 else "Stripes"
    return Edit(_with_row(colourway, first, row), f"{stripes} {low} and {high} swapped")


def add_stripe(colourway: Colourway, at: int, colour: NamedColour | str) -> Edit:
    """Add a stripe that becomes number ``at`` (−n of the weft); later ones move on by one.

    Raises
    ------
    ArgumentError
        Where there are as many stripes as a check can have.

    >>> edit = add_stripe(Colourway("white", ["navy"]), 2, "teal")
    >>> edit.words
    'Stripe 2, teal, added'
    """
    row = _row(colourway, at)
    count = len(row)
    if count >= MOST_STRIPES:
        argument = "weft_stripes" if at < 0 else "stripes"
        raise ArgumentError(argument, f"at most {MOST_STRIPES}", count + 1)
    index = _of_way(at, "at", count + 1)
    made = NamedColour.of(colour)
    row = (*row[: index - 1], made, *row[index - 1 :])
    return Edit(_with_row(colourway, at, row), f"{part_name(at)}, {made.name}, added")


def remove_stripe(colourway: Colourway, stripe: int) -> Edit:
    """Take a stripe out.

    Raises
    ------
    ArgumentError
        For the only one.

    >>> remove_stripe(Colourway("white", ["navy", "teal"]), 1).words
    'Stripe 1, navy, removed'
    """
    at, row = _stripe(colourway, stripe, "stripe"), _row(colourway, stripe)
    if len(row) == 1:
        raise ArgumentError("stripe", "one of several: a check has at least one stripe", stripe)
    words = f"{part_name(stripe)}, {row[at - 1].name}, removed"
    return Edit(_with_row(colourway, stripe, (*row[: at - 1], *row[at:])), words)


def weft_as_warp(colourway: Colourway) -> Edit:
    """Let the weft run in the colours of the warp.

    >>> cloth = Colourway("white", ["navy", "teal"], weft_stripes=["gold"])
    >>> weft_as_warp(cloth).colourway.weft_stripes
    ()
    """
    return Edit(colourway.with_(weft_stripes=()), "The weft runs in the warp's colours")


def keep_weft(before: Colourway, after: Colourway) -> Colourway:
    """Return a change with the weft left in the colours that it had from the warp before.

    >>> before = Colourway("white", ["navy", "teal"])
    >>> print(keep_weft(before, put_colour(before, 1, "gold").colourway))
    gold, teal on white, weft navy, teal, 50 %, source-over
    """
    shared = not before.weft_stripes and not after.weft_stripes
    return after.with_(weft_stripes=before.stripes) if shared else after


def nudge(colour: NamedColour, axis: str, steps: int) -> NamedColour:
    """Return a colour moved by −40 to 40 steps along an OKLCh axis, kept in sRGB.

    A step of ``"lightness"`` is 0.025, of ``"chroma"`` 0.012 and of ``"hue"`` 7.5°. A colour that
    sRGB cannot show loses chroma at constant lightness and hue (coloraide's ``oklch-chroma`` with a
    just-noticeable difference of 0, as the page does). The name says the way, until it is given
    one of its own; the role stays.

    >>> print(nudge(NamedColour.of("#f2b084", "Peach Skin"), "lightness", 1))
    Peach Skin, lighter #fbb88c
    """
    channel, size, (back, onward) = NUDGES[require_one_of(axis, "axis", NUDGES)]
    steps = as_whole(steps, "steps", -40, 40)
    if steps == 0:
        return colour
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


def _stripe(colourway: Colourway, number: int, argument: str, like: int | None = None) -> int:
    """The number within its way of a stripe, which must be of the same way as ``like``."""
    way = number if like is None else like
    if _is_weft(number) and not _is_weft(way):
        raise ArgumentError(argument, "a stripe of the warp", number)
    if _is_weft(way) and not _is_weft(number):
        raise ArgumentError(argument, "a stripe of the weft", number)
    return _of_way(number, argument, len(_row(colourway, way)))


def _of_way(number: int, argument: str, most: int) -> int:
    """The number within its way of 1 … ``most``, or of −1 … −``most`` in the weft."""
    if _is_weft(number):
        return -as_whole(number, argument, -most, -1)
    return as_whole(number, argument, 1, most)
