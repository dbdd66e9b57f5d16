"""Changing a colourway by hand, held against a naive model: a list of colours."""

from __future__ import annotations

import numpy as np
import pytest
from coloraide import Color
from hypothesis import given
from hypothesis import strategies as st

from checkcloth import Colourway, NamedColour
from checkcloth.colour.spaces import srgb_to_bytes, srgb_to_oklab
from checkcloth.errors import ArgumentError, ColourError
from checkcloth.ideas import by_hand

NAMES = ["navy", "teal", "gold", "coral", "plum", "olive"]
CLOTH = Colourway("white", NAMES[:4], 0.6, "woven", name="Quay")


def order(colourway):
    return [stripe.name for stripe in colourway.stripes]


@given(st.data())
def test_edits_do_to_stripes_what_a_list_does(data):
    """A run of acts on the colourway and on a plain list ends with the same order."""
    cloth, model = CLOTH, NAMES[:4]
    for _ in range(data.draw(st.integers(1, 12))):
        act = data.draw(st.sampled_from(["put", "move", "swap", "add", "remove"]))
        count = len(model)
        at = data.draw(st.integers(1, count))
        other = data.draw(st.integers(1, count))
        colour = data.draw(st.sampled_from(NAMES))
        if act == "put":
            edit = by_hand.put_colour(cloth, at, colour)
            model[at - 1] = colour
        elif act == "move":
            edit = by_hand.move_stripe(cloth, at, other)
            model.insert(other - 1, model.pop(at - 1))
        elif act == "swap":
            edit = by_hand.swap_stripes(cloth, at, other)
            model[at - 1], model[other - 1] = model[other - 1], model[at - 1]
        elif act == "add":
            if count == 24:
                continue
            edit = by_hand.add_stripe(cloth, at, colour)
            model.insert(at - 1, colour)
        else:
            if count == 1:
                continue
            edit = by_hand.remove_stripe(cloth, at)
            model.pop(at - 1)
        cloth = edit.colourway
        assert order(cloth) == model
        assert edit.words
        # All else stays as it was.
        assert (cloth.ground, cloth.strength, cloth.mixing, cloth.name) == (
            CLOTH.ground, CLOTH.strength, CLOTH.mixing, CLOTH.name)  # fmt: skip


def test_the_ground_is_part_nought():
    edit = by_hand.put_colour(CLOTH, 0, "ivory")
    assert (edit.colourway.ground.name, edit.words) == ("ivory", "Ground is ivory")
    assert by_hand.colour_of(edit.colourway, 0).name == "ivory"


@pytest.mark.parametrize(
    ("act", "argument"),
    [
        (lambda: by_hand.put_colour(CLOTH, 5, "navy"), "part"),
        (lambda: by_hand.move_stripe(CLOTH, 0, 1), "stripe"),
        (lambda: by_hand.move_stripe(CLOTH, 1, 5), "to"),
        (lambda: by_hand.swap_stripes(CLOTH, 1, 9), "second"),
        (lambda: by_hand.add_stripe(CLOTH, 6, "navy"), "at"),
        (lambda: by_hand.add_stripe(Colourway("white", ["navy"] * 24), 1, "navy"), "stripes"),
        (lambda: by_hand.remove_stripe(Colourway("white", ["navy"]), 1), "stripe"),
        (lambda: by_hand.nudge(CLOTH.ground, "warmth", 1), "axis"),
        (lambda: by_hand.nudge(CLOTH.ground, "hue", 1.5), "steps"),
    ],
)
def test_what_cannot_be_done_names_its_argument(act, argument):
    with pytest.raises(ArgumentError) as caught:
        act()
    assert caught.value.argument == argument


def test_a_text_that_is_no_colour_changes_nothing():
    with pytest.raises(ColourError):
        by_hand.put_colour(CLOTH, 1, "peachy")


@pytest.mark.parametrize("axis", by_hand.NUDGES)
@given(rgb=st.tuples(*[st.integers(0, 255)] * 3), steps=st.integers(-6, 6))
def test_a_nudge_stays_in_srgb_and_moves_the_way_it_says(axis, rgb, steps):
    colour = NamedColour("Peach Skin", tuple(channel / 255 for channel in rgb))
    moved = by_hand.nudge(colour, axis, steps)
    assert all(0 <= channel <= 1 for channel in moved.rgb)
    before, after = srgb_to_oklab(np.array([colour.rgb, moved.rgb]))
    if axis == "lightness":
        assert (after[0] - before[0]) * np.sign(steps) >= -2e-3
    if axis == "chroma" and steps < 0:
        assert np.hypot(*after[1:]) <= np.hypot(*before[1:]) + 1e-6


def test_a_nudge_is_oklch_as_coloraide_has_it():
    """One step lighter of a colour well inside the gamut: L + 0.025, C and h as they were."""
    colour = NamedColour.of("#c89a64", "Caramel")
    wanted = Color("#c89a64").convert("oklch")
    wanted["lightness"] = wanted["lightness"] + 0.025
    moved = by_hand.nudge(colour, "lightness", 1)
    assert srgb_to_bytes(moved.rgb).tolist() == [
        round(255 * value) for value in wanted.convert("srgb").coords()
    ]
    assert moved.name == "Caramel, lighter"
    assert by_hand.nudge(moved, "lightness", -2).name == "Caramel, darker"
    assert by_hand.nudge(moved, "hue", 1).name == "Caramel, lighter, hue on"
