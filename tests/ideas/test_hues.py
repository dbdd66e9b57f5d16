"""Palettes from one colour and from another palette: angles, gamut, names that stay."""

from __future__ import annotations

import numpy as np
import pytest
from coloraide import Color
from hypothesis import given, settings
from hypothesis import strategies as st

from checkcloth import NamedColour, Palette
from checkcloth.errors import ArgumentError, ColourError
from checkcloth.ideas import HARMONIES, HUES_WORDS, palette_from_colour, shift_palette


def hue_of(colour):
    return Color("srgb", colour.rgb).convert("oklch")["hue"]


@pytest.mark.parametrize(
    ("harmony", "angles"),
    [
        ("complement", {0, 180}),
        ("split", {0, 150, 210}),
        ("triad", {0, 120, 240}),
        ("square", {0, 90, 180, 270}),
        ("analogous", {0, 30, 330}),
        ("wheel", set(range(0, 360, 30))),
    ],
)
def test_harmonies_stand_at_their_angles(harmony, angles):
    """Angles: common practice of colour theory, no source."""
    base = NamedColour.of("oklch(65% 0.08 40)")
    palette = palette_from_colour(base, harmony, shades=1)
    assert palette.colours[0] == base
    turns = sorted((hue_of(colour) - 40) % 360 for colour in palette)
    found = {round(turn / 2) * 2 % 360 for turn in turns}
    assert found == angles
    more = {"eleven": 11, "three more": 3, "two more": 2, "neighbours": 2, "beside": 2}
    said = [number for words, number in more.items() if words in HUES_WORDS[harmony]]
    assert len(angles) - 1 == (said or [1])[0]


@pytest.mark.parametrize("harmony", HARMONIES)
@pytest.mark.parametrize("colour", ["teal", "black", "white", "gray", "yellow", "#102"])
def test_harmonies_of_any_colour(harmony, colour):
    palette = palette_from_colour(colour, harmony, shades=4)
    assert palette.colours[0] == NamedColour.of(colour)
    assert len({c.hex for c in palette}) == len(palette)
    assert ((palette.rgb >= 0) & (palette.rgb <= 1)).all()
    assert palette == palette_from_colour(colour, harmony, shades=4)


def test_mistakes_in_harmonies():
    with pytest.raises(ArgumentError, match=r"harmony must be one of complement, .*found 'loud'"):
        palette_from_colour("teal", "loud")
    with pytest.raises(ArgumentError, match="shades must be a whole number from 1 to 8"):
        palette_from_colour("teal", shades=0)
    with pytest.raises(ColourError):
        palette_from_colour("no colour")


# -- turning, lightening, muting -------------------------------------------------------------------

TEA = Palette(
    "tea",
    [
        NamedColour("Linen", (0.98, 0.97, 0.95), "ground", "the house ground"),
        NamedColour.of("oklch(62% 0.09 30)", "Jam"),
        NamedColour.of("oklch(45% 0.07 250)", "Cup"),
    ],
)


def test_nothing_asked_changes_nothing():
    assert shift_palette(TEA) is TEA


def test_names_roles_and_notes_stay():
    turned = shift_palette(TEA, turn=40, lighten=-0.05, mute=0.2)
    assert [c.name for c in turned] == ["Linen", "Jam", "Cup"]
    assert turned.colours[0].role == "ground"
    assert turned.colours[0].note == "the house ground"
    assert turned.name == "tea, turned 40°, darkened 5 %, muted 20 %"


@settings(max_examples=60, deadline=None)
@given(st.floats(-360, 360), st.floats(-0.1, 0.1), st.floats(-0.2, 1))
def test_each_colour_moves_as_asked(turn, lighten, mute):
    """In gamut by construction; coloraide's own OKLCh says where the colours went."""
    quiet = Palette("quiet", ["oklch(62% 0.05 30)", "oklch(50% 0.04 250)"])
    shifted = shift_palette(quiet, turn=turn, lighten=lighten, mute=mute)
    for before, after in zip(quiet, shifted, strict=True):
        one, two = (Color("srgb", c.rgb).convert("oklch") for c in (before, after))
        assert two["lightness"] == pytest.approx(one["lightness"] + lighten, abs=2e-4)
        assert two["chroma"] == pytest.approx(one["chroma"] * (1 - mute), abs=2e-4)
        if two["chroma"] > 0.01:
            difference = (two["hue"] - one["hue"] - turn + 180) % 360 - 180
            assert abs(difference) < 0.5


def test_out_of_gamut_keeps_hue_and_lightness():
    """The method named in the docstring: chroma gives way at constant lightness and hue."""
    vivid = shift_palette(Palette("p", ["oklch(62% 0.16 30)"]), mute=-1)
    got = Color("srgb", vivid.colours[0].rgb).convert("oklch")
    asked = Color("oklch", [0.62, 0.32, 30])
    expected = asked.clone().fit("srgb", method="oklch-chroma").convert("srgb")
    np.testing.assert_allclose(vivid.colours[0].rgb, expected.coords(), atol=1e-4)
    assert got["hue"] == pytest.approx(30, abs=3)
    assert got["lightness"] == pytest.approx(0.62, abs=0.03)


@pytest.mark.parametrize("fields", [{"turn": 400}, {"lighten": 2}, {"mute": "a lot"}])
def test_shifts_out_of_range(fields):
    with pytest.raises(ArgumentError, match=f"{next(iter(fields))} must be"):
        shift_palette(TEA, **fields)
