"""A cloth read from its colour orders, and written as such."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checkcloth import Check, Colourway, NamedColour, Palette, cloth_of_order, colour_order
from checkcloth.cloth.bands import Band
from checkcloth.errors import CheckclothError, ColourError


def test_the_trades_way():
    cloth, check = cloth_of_order("2 navy, 2 white, 4 teal", size="1/8 in", ground="white")
    assert cloth == Colourway("white", ["navy", "teal"])
    assert check == Check("1/8 in", 2, warp=[(1, 2), (0, 2), (2, 4)])
    assert colour_order(cloth, check) == colour_order(cloth, check, "weft")
    assert colour_order(cloth, check) == "2 navy, 2 white, 4 teal"


def test_another_order_in_the_weft_and_colours_of_its_own():
    cloth, check = cloth_of_order(
        "1 navy, 1 teal, 1 white", "3 Teal, 1 white", size="1 cm", ground="white"
    )
    assert cloth.weft_stripes == ()
    assert check.weft_bands == (Band(2, 3), Band(0, 1))
    cloth, check = cloth_of_order(
        "1 navy, 1 ivory", "2 x [1 gold, 1/2 navy], 1 ivory", size="1 cm", ground="ivory",
        strength=0.8, mixing="woven", name="Quay",
    )  # fmt: skip
    assert [c.name for c in cloth.weft_stripes] == ["gold", "navy"]
    assert (cloth.strength, cloth.mixing, cloth.name) == (0.8, "woven", "Quay")
    half = Fraction(1, 2)
    assert check.weft_bands == (
        Band(1, 1), Band(2, half), Band(1, 1), Band(2, half), Band(0, 1),
    )  # fmt: skip
    assert colour_order(cloth, check, "weft") == "1 gold, 1/2 navy, 1 gold, 1/2 navy, 1 ivory"


def test_colours_of_a_palette_by_name():
    shades = Palette("shades", Palette("x", ["#102030", "#f0f0e0"]).colours)
    first, second = shades.colours
    cloth, _ = cloth_of_order(
        f"2 {first.name}, 1 {second.name}", size="1 cm", ground=second, palette=shades
    )
    assert (cloth.ground, cloth.stripes) == (second, (first,))


def test_colours_that_are_called_by_letters_are_those_colours():
    shades = Palette("key", [NamedColour("B", (1, 0, 0)), NamedColour("A", (0, 0, 1))])
    cloth, check = cloth_of_order("2 B, 3 A, 1 white", size="1 cm", ground="white", palette=shades)
    assert cloth.stripes == shades.colours
    assert check.warp_bands == (Band(1, 2), Band(2, 3), Band(0, 1))


@given(
    st.lists(st.tuples(st.integers(0, 3), st.integers(1, 16)), min_size=1, max_size=8),
    st.lists(st.tuples(st.integers(0, 3), st.integers(1, 16)), min_size=1, max_size=8),
)
def test_orders_read_back_to_the_same_cloth(warp, weft):
    cloth = Colourway("ivory", ["navy", "teal", "#a62a3c"])
    check = Check("1/16 in", 3, warp=warp, weft=weft)
    for way, bands in (("warp", check.warp_bands), ("weft", check.weft_bands)):
        text = colour_order(cloth, check, way)
        names = {band.stripe for band in bands}
        if names == {0, 1, 2, 3} and next(b.stripe for b in bands if b.stripe) == 1:
            again, made = cloth_of_order(text, size="1/16 in", ground="ivory")
            assert colour_order(again, made) == text


@pytest.mark.parametrize(
    ("orders", "word"),
    [
        (("2 nvy, 1 white",), "nvy"),
        (("2 navy, white",), "white"),
        (("2 white",), "2 white"),
        (("2 navy, 1 white", "1 white; x 3"), "x 3"),
        (("2 navy", "99 navy"), "99 navy"),
        (("",), "''"),
    ],
)
def test_the_word_that_cannot_be_read_is_named(orders, word):
    with pytest.raises(CheckclothError) as caught:
        cloth_of_order(*orders, size="1 cm", ground="white")
    assert word in str(caught.value)


def test_ways_and_checks_that_do_not_fit():
    cloth = Colourway("white", ["navy"])
    for call, argument in (
        (lambda: colour_order(cloth, Check("1 cm", 1), "up"), "way"),
        (lambda: colour_order(cloth, Check("1 cm", 2)), "check"),
    ):
        with pytest.raises(CheckclothError) as caught:
            call()
        assert caught.value.argument == argument


def test_a_word_that_is_no_colour_is_held_against_the_palettes_names():
    palette = Palette("bay", [NamedColour.of("navy", "Jam Pan"), NamedColour.of("teal", "Mint")])
    with pytest.raises(ColourError, match=r"such as Jam Pan, or a CSS .*found 'jam pam'"):
        cloth_of_order("2 jam pam, 1 white", size="1 cm", ground="white", palette=palette)
    with pytest.raises(ColourError, match="such as Jam Pan, Mint, or a CSS"):
        cloth_of_order("2 Mint, 1 Selvedge", size="1 cm", ground="Selvedge", palette=palette)
