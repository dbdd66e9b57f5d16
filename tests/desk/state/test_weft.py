"""The weft's own colours by hand: whatever is done is what two plain lists say, and undone."""

from __future__ import annotations

import random

import pytest
from asking import ask_state as ask

from checkcloth import Length
from checkcloth.cloth.palette import Palette
from checkcloth.desk.state.ideas import draw
from checkcloth.desk.state.requests import handle, held_words, undo_group
from checkcloth.desk.state.state import DeskState, History
from checkcloth.errors import CheckclothError

# Colours of CSS Color 4, by name.
COLOURS = ("navy", "teal", "gold", "coral", "plum", "olive", "sienna", "orchid")


@pytest.fixture
def state():
    return draw(DeskState(Length("1/2 in"), (Palette("css", ["white", *COLOURS]),), count=12))


def rows(colourway):
    """The names of warp and weft."""
    return [c.name for c in colourway.stripes], [c.name for c in colourway.weft_colours]


def edit_lists(warp, weft, request):
    """Do to two lists what a request asks of a cloth; an error where that cannot be."""
    sign = -1 if min(value for value in request.values() if isinstance(value, int)) < 0 else 1
    row = list(weft if sign < 0 else warp)
    at = {name: sign * value for name, value in request.items() if isinstance(value, int)}
    for name, number in at.items():
        last = len(row) + (request["do"] == "add_stripe" and name == "at")
        if not 1 <= number <= last:
            raise IndexError(name)
    match request["do"]:
        case "colour":
            row[at["part"] - 1] = request["text"]
        case "order":
            row.insert(at["to"] - 1, row.pop(at["stripe"] - 1))
        case "swap":
            a, b = at["first"] - 1, at["second"] - 1
            row[a], row[b] = row[b], row[a]
        case "add_stripe":
            row.insert(at["at"] - 1, request["text"])
        case "copy_stripe":
            row.insert(at["stripe"], row[at["stripe"] - 1])
        case "remove_stripe":
            if len(row) == 1:
                raise IndexError("stripe")
            row.pop(at["stripe"] - 1)
    return (warp, row) if sign < 0 else (row, weft)


def random_request(rng):
    sign = rng.choice([1, -1, -1])
    here, there = (sign * rng.randrange(1, 6) for _ in range(2))
    colour = {"text": rng.choice(COLOURS)}
    return rng.choice([
        {"do": "colour", "part": here, **colour}, {"do": "colour", "part": here, **colour},
        {"do": "order", "stripe": here, "to": there},
        {"do": "swap", "first": here, "second": there},
        {"do": "add_stripe", "at": here, **colour}, {"do": "copy_stripe", "stripe": here},
        {"do": "remove_stripe", "stripe": here},
    ])  # fmt: skip


@pytest.mark.parametrize("seed", range(6))
@pytest.mark.parametrize("kept", [False, True])
def test_any_run_of_edits_of_warp_and_weft_is_that_of_two_lists(state, seed, kept):
    rng, number = random.Random(seed), state.shown[0].number
    if kept:
        state, _ = ask(state, "keep", number=number)
        number = state.kept[0].number
    history, refused = History(state), 0
    warp, weft = rows(state.find(number).colourway)
    for _ in range(150):
        request = random_request(rng)
        try:
            after, words = handle(history.now, {**request, "number": number, "own_weft": True})
        except CheckclothError as error:
            refused += 1
            with pytest.raises(IndexError, match=f"^{error.argument}$"):
                edit_lists(warp, weft, request)
            continue
        warp, weft = edit_lists(warp, weft, request)
        assert rows(after.find(number).colourway) == (warp, weft), request
        weft_was_meant = any(isinstance(v, int) and v < 0 for v in request.values())
        assert ("eft stripe" in words) or not weft_was_meant or "moved" in words
        history = history.step(after, words)
    assert refused > 5
    while history.past:
        history = history.undo()
    assert history.now == state


def test_without_it_being_said_the_warp_takes_a_weft_along_that_has_no_colours_of_its_own(state):
    number = state.shown[0].number
    after, _ = ask(state, "colour", number=number, part=1, text="ivory")
    assert after.find(number).colourway.weft_stripes == ()
    apart, _ = ask(state, "colour", number=number, part=1, text="ivory", own_weft=True)
    before = state.find(number).colourway
    assert apart.find(number).colourway.weft_stripes == before.stripes
    again, words = ask(apart, "weft_as_warp", number=number)
    assert again.find(number).colourway == after.find(number).colourway
    assert words == "The weft runs in the warp's colours"
    assert ask(again, "weft_as_warp", number=number)[0] is again


def test_a_run_of_nudges_on_the_weft_is_one_step_and_goes_by_the_weft_stripe(state):
    number = state.shown[0].number
    request = {"do": "nudge", "number": number, "part": -2, "axis": "lightness", "steps": 1}
    after, words = handle(state, request)
    cloth = after.find(number).colourway
    assert words == f"Weft stripe 2 is {cloth.weft_stripes[1].name}"
    assert cloth.stripes == state.find(number).colourway.stripes
    assert undo_group(request) != undo_group(request | {"part": 2}) != ""


@pytest.mark.parametrize(
    ("do", "fields", "argument"),
    [
        ("colour", {"part": -4, "text": "navy"}, "part"),
        ("order", {"stripe": -1, "to": 2}, "to"),
        ("order", {"stripe": 1, "to": -2}, "to"),
        ("swap", {"first": -1, "second": 2}, "second"),
        ("copy_stripe", {"stripe": 0}, "stripe"),
        ("copy_stripe", {"stripe": -9}, "stripe"),
        ("add_stripe", {"at": -5, "text": "navy"}, "at"),
        ("stays", {"part": -1, "stays": True}, "part"),
        ("colour", {"part": 1, "text": "navy", "own_weft": "yes"}, "own_weft"),
    ],
)
def test_what_cannot_be_names_its_field(state, do, fields, argument):
    with pytest.raises(CheckclothError) as caught:
        ask(state, do, number=state.shown[0].number, **fields)
    assert caught.value.argument == argument


def test_what_stays_in_new_draws_is_not_moved_by_edits_of_the_weft(state):
    number = state.shown[0].number
    state, _ = ask(state, "stays", number=number, part=3, stays=True)
    held = state.staying_stripes
    for request in ({"do": "order", "stripe": -1, "to": -3}, {"do": "remove_stripe", "stripe": -1}):
        state, _ = handle(state, {**request, "number": number})
        assert state.staying_stripes == held


def test_a_colour_changed_in_all_that_is_kept_is_changed_in_wefts_too(state):
    number = state.shown[0].number
    state, _ = ask(state, "colour", number=number, part=-1, text="ivory")
    state, _ = ask(state, "keep", number=number)
    state, words = ask(state, "recolour", **{"from": "#fffff0", "text": "black"})
    assert words == "ivory #fffff0 is black in 1 kept"
    assert rows(state.kept[0].colourway)[1][0] == "black"


# -- the wall -------------------------------------------------------------------------------------


def test_a_wall_is_dealt_with_wefts_of_their_own_and_laid_in_their_bands(state):
    after, words = ask(state, "weft_colours", value=2)
    assert words == "weft colours: 2"
    assert (after.weft_colours, after.wefts, after.check.weft_stripes) == (2, 2, 2)
    for card in after.shown:
        warp, weft = rows(card.colourway)
        assert len(weft) == 2
        assert not {card.colourway.ground.name, *warp} & set(weft)
    laid, _ = ask(after, "weft", value="2 A, 1 B")
    anew, _ = ask(laid, "draw")
    assert anew.weft == "2 A, 1 B"
    same, _ = ask(after, "weft_colours", value=3)
    assert (same.wefts, len(same.shown[0].colourway.weft_stripes)) == (0, 3)
    back, words = ask(after, "weft_colours", value=0)
    assert words == "weft colours: those of the warp"
    assert [card.colourway for card in back.shown] == [card.colourway for card in state.shown]
    assert (back.wefts, back.bands, back.weft) == (0, "even", "")


def test_more_wefts_than_the_palette_gives_are_fewer_and_that_is_said(state):
    request = {"do": "weft_colours", "value": 12}
    after, _ = handle(state, request)
    assert after.weft_colours == len(COLOURS)  # one of the nine is the ground
    state, after = (one.with_(palette="css") for one in (state, after))
    assert held_words(state, request, after) == "css has 8 colours for the weft, so 12 became 8."
    with pytest.raises(CheckclothError, match="weft_colours"):
        ask(state, "weft_colours", value=25)


def test_more_like_one_changes_its_weft_too_and_an_empty_cloth_has_one(state):
    wefts, _ = ask(state, "weft_colours", value=1)
    near, _ = ask(wefts.with_(count=60), "more", number=wefts.shown[0].number)
    found = {(rows(card.colourway)[0] == rows(near.shown[0].colourway)[0],
              rows(card.colourway)[1] == rows(near.shown[0].colourway)[1])
             for card in near.shown}  # fmt: skip
    assert {(True, False), (False, True)} <= found
    empty, _ = ask(wefts, "empty", stripes=4)
    assert len(empty.shown[0].colourway.stripes) == 4
    assert len(empty.shown[0].colourway.weft_stripes) == 1
    assert ask(wefts, "different")[0].shown


def test_bands_are_laid_for_the_cloth_in_hand_and_draws_follow(state):
    number = state.shown[0].number
    state, _ = ask(state, "bands", value="graduated")
    state, _ = ask(state, "remove_stripe", number=number, stripe=-1)
    cloth = state.find(number).colourway
    assert state.check_for(cloth).is_even, "the desk's bands are of three stripes each way"
    after, words = ask(state, "bands_for", number=number)
    assert words.startswith("bands for ")
    assert after.check == after.check_for(cloth)
    assert (after.check.stripes, after.check.weft_stripes) == (3, 2)
    graduated = after.with_(wefts=0, stripes=2).check.warp_bands
    assert after.check.weft_bands == graduated, "the preset, of the weft's number"
    assert after.shown == state.shown
    drawn, _ = ask(after, "draw")
    assert {len(card.colourway.weft_stripes) for card in drawn.shown} == {2}
    assert drawn.check == after.check
    assert ask(after, "bands_for", number=number)[0] is after
    back, _ = ask(after, "bands_for", number=state.shown[1].number)
    assert (back.check.stripes, back.check.weft_stripes, back.weft_colours) == (3, 3, 0)


def test_draws_go_on_without_wefts_of_their_own_after_a_wall_that_has_none(state):
    """What is found or shown may have none; a wall that was dealt with some keeps the setting."""
    wefts, _ = ask(state, "weft_colours", value=2)
    plain = [card.colourway for card in state.shown]
    shown = wefts.deal(plain, "shown by code")
    assert (shown.weft_colours, shown.wefts) == (0, 0)
    own = [one.with_(weft_stripes=["black"]) for one in plain]
    assert wefts.deal(own, "shown by code").weft_colours == 2
    assert state.deal(own, "shown by code").weft_colours == 0
