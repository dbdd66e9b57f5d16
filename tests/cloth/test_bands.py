"""Bands as somebody gives them: text both ways, lengths, whole pixels, and what is refused."""

from __future__ import annotations

from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from checkcloth import Check, Colourway, Length
from checkcloth.cloth.bands import (
    Band,
    band_plan,
    checks_in,
    even_bands,
    joined,
    labels_of,
    mirror,
    preset_bands,
    read_order,
    write_order,
)
from checkcloth.errors import ArgumentError, LengthError

widths = st.one_of(
    st.integers(1, 16), st.integers(6, 48 * 16).map(lambda parts: Fraction(parts, 48))
).map(lambda width: int(width) if width == int(width) else width)


@st.composite
def given_bands(draw, stripes=None, most=8, finest=None):
    """Bands as they may be given: any order, any stripe again or not at all."""
    count = stripes or draw(st.integers(1, 4))
    width = widths if finest is None else st.integers(finest // 8, 3 * finest).map(
        lambda parts: Fraction(parts, finest))  # fmt: skip
    pairs = st.tuples(st.integers(0, count), width).map(lambda pair: Band(*pair))
    return tuple(draw(st.lists(pairs, min_size=1, max_size=most)))


@given(given_bands(4), st.lists(st.text(max_size=8), min_size=5, max_size=5))
def test_a_colour_order_reads_back_exactly_whatever_the_colours_are_called(bands, names):
    for known in (None, names, ["white", "navy", "Navy", "B", "teal, pale"]):
        text = write_order(bands, known)
        assert read_order(text, 4, names=known) == bands
        assert write_order(read_order(text, 4, names=known), known) == text


def test_the_trades_way_of_writing_an_order():
    names = ["white", "navy", "teal"]
    read = read_order("2 navy, 2 white, 4 Teal", 2, names=names)
    assert read == (Band(1, 2), Band(0, 2), Band(2, 4))
    assert write_order(read, names) == "2 navy, 2 white, 4 teal"
    assert read == read_order("2 A; 2 ground\n4 b", 2)
    assert read_order("1/2 A, 1 1/2 ground, 0.25 B, .5 A", 2) == (
        Band(1, Fraction(1, 2)), Band(0, Fraction(3, 2)), Band(2, Fraction(1, 4)),
        Band(1, Fraction(1, 2)),
    )  # fmt: skip
    # Pivots come once, as in the setts of old pattern books (common practice).
    assert read_order("4 A, 2 ground, 1 B, mirrored", 2) == mirror(
        read_order("4 A, 2 ground, 1 B", 2)
    )
    assert (
        write_order(read_order("3 x [1 A, 1 B], 2 ground", 2))
        == "1 A, 1 B, 1 A, 1 B, 1 A, 1 B, 2 ground"
    )
    assert labels_of(["navy", "navy", "gold"]) == ("ground", "A", "gold")


@pytest.mark.parametrize(
    ("text", "word"),
    [
        ("2 navy, 2 wihte", "wihte"),
        ("2 navy, two white", "two white"),
        ("navy", "navy"),
        ("2 navy, 40 white", "40 white"),
        ("2 navy, 1/9 white", "1/9 white"),
        ("2 navy, 1/0 white", "1/0 white"),
        ("2 C", "C"),
        ("3 x [2 navy", "3 x [2 navy"),
        ("", "''"),
        ("101 x [1 navy]", "101"),
        ("100 x [1 navy, 1 white, 1 teal]", "more"),
    ],
)
def test_an_order_that_cannot_be_read_names_the_word(text, word):
    with pytest.raises(ArgumentError) as caught:
        read_order(text, 2, "warp", ["white", "navy", "teal"])
    assert caught.value.argument == "warp"
    assert word in str(caught.value)


@given(given_bands(3), given_bands(2))
def test_a_check_prints_so_that_it_can_be_made_again(warp, weft):
    check = Check("1/16 in", 3, warp=warp, weft=weft, weft_stripes=2)
    assert eval(repr(check)) == check
    assert hash(eval(repr(check))) == hash(check)
    assert (check.warp_bands, check.weft_bands) == (warp, weft)
    assert check.repeat_width == check.size * checks_in(warp)
    assert check.repeat_height == check.size * checks_in(weft)
    assert check.with_size("1/8 in").with_size("1/16 in") == check
    fit = check.along("10 in")
    assert check.repeat_height * fit.repeats + fit.left_over == Length("10 in")


def test_an_even_check_is_the_same_however_it_is_given():
    even = Check("1/4 in", 2)
    assert even == Check(
        "1/4 in", 2, warp="even", weft=[(1, 1), (0, 1.0), (2, 1), (0, Fraction(1))]
    )
    assert even.is_even
    assert not Check("1/4 in", 2, weft="1 ground").is_even
    assert repr(even) == "Check('1/4 in', 2)"
    assert Check("1/4 in", 2, warp="graduated").weft_order == "1 A, 1 ground, 1 1/2 B, 1 ground"


def test_a_repeat_that_is_no_square_says_so():
    check = Check("1 cm", 1, warp="2 A, 1 ground", weft="1 A, 1 ground")
    with pytest.raises(ArgumentError, match="repeat_width and repeat_height"):
        check.repeat  # noqa: B018
    assert str(check.repeat_width) == "3 cm (1.1811 in)"
    assert check.across("10 cm").repeats == 3
    assert check.along("10 cm").repeats == 5
    assert Check("1 cm", 1, warp="2 A, 1 ground").repeat == Length("3 cm")


@pytest.mark.parametrize(
    ("bands", "allowed"),
    [
        ([(3, 1)], "stripes 1 to 2"),
        ([(1, 0)], "1/8 to 16"),
        ([(1, float("nan"))], "1/8 to 16"),
        ([(1, True)], "1/8 to 16"),
        ([], "1 to 240 bands"),
        ([(1, 1)] * 241, "1 to 240 bands"),
        ([(1, Fraction(1, 7)), (0, Fraction(500, 997))], "at most 960"),
        ([1, 2], "pairs"),
        (7, "colour order"),
        ("2 D", "A, B"),
    ],
)
def test_bands_that_are_none(bands, allowed):
    for way in ("warp", "weft"):
        with pytest.raises(ArgumentError, match=allowed) as caught:
            Check("1 cm", 2, **{way: bands})
        assert caught.value.argument == way


def test_a_repeat_over_a_metre_is_refused():
    with pytest.raises(LengthError, match="at most 1 m"):
        Check("10 cm", 1, warp="16 A")
    assert Check("10 cm", 24).repeat == Length("4.8 m")  # even ones are as they were


@given(given_bands(2, finest=8), given_bands(2, finest=8), st.integers(20, 1200))
def test_tiles_are_at_the_dpi_asked_for_where_the_repeat_is_whole_pixels(warp, weft, dpi):
    check = Check("1/8 in", 2, warp=warp, weft=weft)
    grid = check.repeat_grid(dpi)
    inch = Length("1 in")
    for pixels, side in ((grid.across, check.repeat_width), (grid.down, check.repeat_height)):
        assert pixels == side / inch * grid.dpi
    sides = [side / inch for side in (check.repeat_width, check.repeat_height)]
    narrow = min(band.checks for bands in (warp, weft) for band in bands) * Fraction(1, 8)
    fits = [
        wanted for wanted in range(dpi, 9600)
        if all((side * wanted).denominator == 1 for side in sides) and narrow * wanted >= 1
    ]  # fmt: skip
    assert grid.dpi <= fits[0]
    if fits[0] == dpi:
        assert grid.dpi == dpi
    for bands, plan in zip((warp, weft), check.repeat_plans(grid), strict=True):
        each = grid.dpi / 8
        at = 0
        for band in bands:
            end = at + band.checks * each
            # Each band has its width to less than a pixel, and its colour.
            low, high = int(np.ceil(at + Fraction(1, 2))), int(np.floor(end - Fraction(1, 2)))
            assert (plan[low:high] == band.stripe).all()
            at = end
        runs = np.diff(np.flatnonzero(np.diff(plan, prepend=-1, append=-1)))
        assert len(runs) <= len(bands)


def test_a_quarter_inch_at_150_dpi_has_bands_of_37_and_38_pixels():
    """37.5 pixels a check: plain arithmetic."""
    check = Check("1/4 in", 2)
    grid = check.repeat_grid(150)
    assert grid.dpi == 150
    plan, _ = check.repeat_plans(grid)
    changes = np.flatnonzero(np.diff(plan, prepend=-1, append=-1))
    assert np.diff(changes).tolist() == [38, 37, 38, 37]


def test_presets_are_those_of_the_trade():
    for kind in ("even", "graduated", "double", "windowpane"):
        for stripes in (1, 3, 24):
            bands = preset_bands(kind, stripes)
            assert {band.stripe for band in bands} == set(range(stripes + 1))
            assert Check("1/16 in", stripes, warp=kind).warp_bands == bands
    with pytest.raises(ArgumentError, match="graduated"):
        preset_bands("woolly", 2)


@given(given_bands())
def test_joined_bands_draw_the_same_ring(bands):
    once = joined(bands)
    assert checks_in(once) == checks_in(bands)
    assert len(once) == 1 or all(
        a.stripe != b.stripe for a, b in zip(once, once[1:] + once[:1], strict=True)
    )
    plan, short = band_plan(bands, 240), band_plan(once, 240)
    assert len(plan) == len(short)
    # The same ring, begun where the first band began that was not joined to the last.
    start = (
        int(np.flatnonzero(plan != plan[-1])[:1].sum())
        if bands[0].stripe == bands[-1].stripe
        else 0
    )
    back = len(plan) - 1 - int(np.flatnonzero(plan[::-1] != plan[0])[:1].sum())
    turn = back + 1 if start else 0
    assert np.array_equal(np.roll(plan, -turn), short)


def test_a_stripe_and_a_plain_are_checks_too():
    check = Check("1/2 in", 2)
    stripe = check.with_bands(weft="1 ground")
    assert (stripe.repeat_width, stripe.repeat_height) == (Length("2 in"), Length("1/2 in"))
    plain = check.with_bands("1 ground", "1 ground")
    assert plain.repeat == Length("1/2 in")
    assert plain.counted_bands[0] == (Band(0, 1), Band(2, 0))


def test_own_weft_colours_make_a_table_of_tones():
    cloth = Colourway("white", ["navy", "teal", "gold"], weft_stripes=["coral", "black"])
    assert cloth.tones.shape == (4, 3, 3)
    alike = Colourway("white", ["navy", "coral"])
    np.testing.assert_array_equal(cloth.tones[1, 1], alike.tones[1, 2])
    assert cloth.tone_name(3, 2) == "gold over black"
    assert cloth.tone_label(0, 1) == "weft coral on white"
    assert len(cloth.unique_tones) == 12
    assert cloth.with_(weft_stripes=()).weft_colours == cloth.stripes
    same = Colourway("white", ["navy", "teal"], weft_stripes=["navy", "teal"])
    assert same == Colourway("white", ["navy", "teal"])
    assert [
        ink.name for ink in Colourway("white", ["navy", "teal"], weft_stripes=["teal", "red"]).inks
    ] == ["navy", "teal", "red"]
    for wrong in ("red", ["red"] * 25, [""]):
        with pytest.raises(ValueError, match=r"weft_stripes|colour"):
            Colourway("white", ["navy"], weft_stripes=wrong)
    assert even_bands(2)[0] == Band(1, 1)
