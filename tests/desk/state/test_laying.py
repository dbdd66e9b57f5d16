"""Bands as settings of a desk, on plain states: what they lay, when they go back, refusals."""

from __future__ import annotations

import random

import pytest

from checkcloth import Check, Colourway, Length
from checkcloth.cloth.bands import PRESETS
from checkcloth.desk.state.choices import settings_of
from checkcloth.desk.state.laying import check_of, texts_of
from checkcloth.desk.state.requests import bands_words, handle
from checkcloth.desk.state.state import DeskState
from checkcloth.errors import CheckclothError


def ask(state, what, value):
    request = {"do": what, "value": value}
    after, words = handle(state, request)
    return after, words, bands_words(state, request, after)


def random_order(rng, stripes):
    letters = [chr(ord("A") + n) for n in range(stripes)]
    names = [letters[-1], *rng.choices([*letters, "ground"], k=rng.randrange(1, 9))]
    rng.shuffle(names)
    widths = ["1/8", "1/2", "1", "1 1/3", "2", "2.25", "16"]
    return ", ".join(f"{rng.choice(widths)} {name}" for name in names)


@pytest.mark.parametrize("seed", range(4))
def test_settings_say_any_check_and_read_back_as_it_is(seed):
    rng = random.Random(seed)
    for _ in range(100):
        stripes, wefts = rng.randrange(1, 7), rng.choice([0, 0, 2, 5])
        given = [rng.choice([None, *PRESETS, random_order(rng, n)])
                 for n in (stripes, wefts or stripes)]  # fmt: skip
        check = Check("2 mm", stripes, warp=given[0], weft=given[1], weft_stripes=wefts or None)
        bands, weft = texts_of(check)
        assert check_of(check.size, stripes, bands, weft, wefts) == check
        laid = DeskState(Length("1 cm")).with_(**settings_of(check))
        if not check.is_even:
            assert laid.check == check
        else:
            assert (laid.check.is_even, laid.stripes) == (True, 3)


def test_presets_stay_and_an_order_goes_back_to_even_with_other_stripes(state):
    graduated, words, _ = ask(state, "bands", "graduated")
    assert words == "graduated bands"
    fewer, _, said = ask(graduated, "stripes", 2)
    assert (fewer.bands, fewer.check, said) == (
        "graduated", Check("1/2 in", 2, warp="graduated"), "",
    )  # fmt: skip
    typed, words, _ = ask(graduated, "bands", "2 a, 1/2 ground, 1 b, 3 c")
    assert (typed.bands, words) == (
        "2 A, 1/2 ground, 1 B, 3 C", "bands 2 A, 1/2 ground, 1 B, 3 C",
    )  # fmt: skip
    for stripes in (2, 4):
        after, _, said = ask(typed, "stripes", stripes)
        assert after.check.is_even
        assert said == "The bands are even again: the order was of other stripes."
    weft, _, _ = ask(graduated, "weft", "1 A, 1 C")
    after, _, said = ask(weft, "stripes", 4)
    assert (after.bands, after.weft) == ("graduated", "")
    assert said == "The weft runs as the warp again: the order was of other stripes."


def test_every_colourway_has_the_check_that_it_has_in_the_saved_set(state):
    """Of other numbers of stripes it is even, on the wall as in the set."""
    state = state.with_(bands="double", weft="1 C, 1 ground")
    for cloth in (
        Colourway("white", ["navy", "teal", "gold"]),
        Colourway("white", ["navy", "teal", "gold"], weft_stripes=["red", "pink", "plum"]),
        Colourway("white", ["navy", "teal", "gold"], weft_stripes=["red"]),
        Colourway("white", ["navy", "teal"]),
    ):
        assert state.check_for(cloth) == state.chosen_set().check_for(cloth)
    assert state.check_for(state.shown[0].colourway) == state.check
    assert not state.check.is_even


def test_a_wall_whose_wefts_have_colours_of_their_own_has_their_check(state):
    wefts = [["red"], ["pink"]]
    members = [Colourway("white", ["navy", "teal"], weft_stripes=weft) for weft in wefts]
    shown = state.with_(bands="windowpane").deal(members, "wefts", stripes=2)
    assert (shown.check.stripes, shown.check.weft_stripes) == (2, 1)
    assert shown.check_for(members[0]) == shown.check
    kept, _ = handle(shown, {"do": "keep", "number": shown.shown[0].number})
    assert kept.marks == {shown.shown[0].number: 2}, "another weft is another cloth"
    drawn, _ = handle(kept, {"do": "draw"})
    assert drawn.wefts == 0
    assert drawn.check == Check("1/2 in", 2, warp="windowpane")


@pytest.mark.parametrize(
    ("what", "value"),
    [("bands", "2 A, 1 D"), ("bands", "plaid"), ("bands", ""), ("bands", None), ("bands", "17 A"),
     ("weft", "0 A"), ("weft", "2 A 3"), ("weft", 3), ("size", "60 mm")],
)  # fmt: skip
def test_what_cannot_be_laid_is_refused(state, what, value):
    wide = state.with_(bands="16 A, 1 C")
    with pytest.raises(CheckclothError):
        ask(wide, what, value)


def test_a_preset_that_would_repeat_over_a_metre_is_even_again(state):
    large = state.with_(size=Length("4 in"), bands="windowpane")
    after, _, said = ask(large, "stripes", 8)
    assert after.check.is_even
    assert said == "The bands are even again: they would repeat over 1 m."
