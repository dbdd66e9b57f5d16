"""Requests by name on plain states: what each leads to, and what a wrong one is told."""

from __future__ import annotations

import random

import pytest
from asking import ask_state as ask

from checkcloth import Length
from checkcloth.colour.ink import Stock
from checkcloth.desk.state.requests import SETTINGS, handle, held_words, undo_group
from checkcloth.desk.state.state import History
from checkcloth.errors import ArgumentError, CheckclothError


def random_request(state, rng):
    number = rng.choice([*state.shown, *state.kept]).number
    column = rng.choice(["least_edge", "evenness"])
    return rng.choice([
        {"do": rng.choice(["toggle", "keep", "drop", "compare", "more"]), "number": number},
        {"do": rng.choice(["name", "note"]), "number": number, "text": f"Quay {rng.random():.3f}"},
        {"do": "move", "number": number, "index": rng.randrange(-1, 6)},
        {"do": "stays", "number": number, "part": rng.randrange(0, 5), "stays": rng.random() < 0.7},
        {"do": "stays", "part": rng.randrange(0, 5), "stays": False},
        {"do": rng.choice(["draw", "different", "nonsense"])},
        {"do": "sort", "sort": rng.choice(["", column, f"-{column}", "beauty"])},
        {"do": "limit", "column": column, "least": rng.choice([3, 0.5, "x", float("nan")])},
        {"do": "unlimit", "column": column},
        {"do": "size", "text": rng.choice(["7 mm", "1/3 in", "12", "seven"])},
        {"do": "size", "value": "1 in"},
        {"do": "strength", "value": rng.choice([None, 0, 0.35, 1, 1.2, "x"])},
        {"do": "stripes", "value": rng.choice([1, 2, 5, 12, 13, 2.5])},
        {"do": "palette", "value": rng.choice(["halt", "nowhere"])},
        {"do": "ground", "value": rng.choice(["", "Night", "Soot", "nowhere"])},
        {"do": "mixing", "value": rng.choice(["", "woven", "pigment", "soup"])},
        {"do": "count", "value": rng.choice([1, 24, 500, 501])},
        {"do": "bands", "value": rng.choice(["even", "graduated", "double", "2 A, 1/2 B", "2 Q"])},
        {"do": "weft", "text": rng.choice(["", "windowpane", "1 A, 1 ground", "1 C, 2 A", "x"])},
    ])  # fmt: skip


@pytest.mark.parametrize("seed", range(6))
def test_any_run_of_requests_is_undone_and_done_again_to_the_very_same(state, seed):
    """Thousands of steps in all; a refused one leaves the state as it was."""
    rng, history, states = random.Random(seed), History(state), [state]
    for _ in range(150):
        request, before = random_request(history.now, rng), history.now
        try:
            after, words = handle(before, request)
        except CheckclothError:
            assert history.now is before
            continue
        assert words or after is before
        if after != before:
            states.append(after)
        history = history.step(after, words)
        numbers = [card.number for card in (*after.shown, *after.kept)]
        assert len(set(numbers)) == len(numbers)
        assert max(numbers) < after.next_number
        assert all(after.find(number) for number in after.compared)
        assert after.check.stripes == after.stripes
        assert after.chosen_set().check.size == after.size
    assert len(states) > 40
    for expected in reversed(states):
        assert history.now == expected
        history = history.undo()
    for expected in states[1:]:
        history = history.redo()
        assert history.now == expected


def test_keeping_and_dropping_in_words(state):
    number = state.shown[0].number
    kept, words = ask(state, "toggle", number=number)
    assert words.startswith("keep ")
    assert len(kept.kept) == 1
    assert ask(kept, "toggle", number=number)[1].startswith("drop ")
    same, words = ask(kept, "keep", number=number)
    assert same is kept
    assert words.endswith(" is kept")


def test_a_setting_that_is_so_already_changes_nothing(state):
    now = {"size": "1/2 in", "strength": 0.5, "stripes": 3, "palette": "halt", "ground": "",
           "mixing": "source-over", "stock": "", "count": 24, "bands": "even", "weft": "",
           "weft_colours": 0}  # fmt: skip
    assert set(now) == set(SETTINGS)
    for name, value in now.items():
        assert ask(state, name, value=value)[0] is state, name


def test_sliders_undo_by_the_drag_and_all_else_by_the_step():
    groups = {name: undo_group({"do": name}) for name in (*SETTINGS, "keep", "draw")}
    drags = {"size", "strength", "stripes", "bands", "weft"}
    assert {name for name, group in groups.items() if group} == drags


def test_more_stripes_than_the_palette_has_are_held_and_said(state):
    request = {"do": "stripes", "value": 12}
    after, _ = handle(state, request)
    assert (after.stripes, len(after.shown[0].colourway.stripes)) == (8, 8)
    assert held_words(state, request, after) == ("halt has 8 colours for stripes, so 12 became 8.")
    assert held_words(state, {"do": "keep"}, after) == ""


def test_a_typed_check_size_keeps_its_unit(state):
    after, words = ask(state, "size", text="7mm")
    assert after.size == Length("7 mm")
    assert after.size.unit == "mm"
    assert words == "check size 7 mm (0.2756 in)"


@pytest.mark.parametrize(
    ("request_", "argument"),
    [
        ({}, "do"),
        ({"do": ["keep"]}, "do"),
        ({"do": "keep"}, "number"),
        ({"do": "keep", "number": True}, "number"),
        ({"do": "name", "number": 1, "text": None}, "text"),
        ({"do": "strength", "value": 2}, "strength"),
        ({"do": "size", "text": "7"}, "length"),
        ({"do": "palette", "value": "nowhere"}, "palette"),
        ({"do": "limit", "column": "evenness", "least": "x"}, "least"),
        ({"do": "stays"}, "stays"),
    ],
)
def test_what_is_wrong_is_named_by_its_field(state, request_, argument):
    with pytest.raises(CheckclothError) as caught:
        handle(state, request_)
    assert caught.value.argument == argument


def test_a_press_is_given_by_its_numbers_as_they_are_typed(state):
    after, words = ask(state, "stock", increase=" 14.5 % ", density="2.1", n="1.8")
    assert after.stock == Stock("", 0.145, 2.1, 1.8)
    assert words == "printed on own numbers (tone value increase 14.5 %, n 1.8, density 2.1)"
    assert ask(after, "stock", increase="14.5", density="2.10", n="1.8")[0] is after
    known, words = ask(after, "stock", increase="16", density="2.6", n="2")
    assert (known.stock.text, words) == ("coated", "printed on coated (tone value increase 16 %)")


@pytest.mark.parametrize(
    ("field", "typed", "argument"),
    [("increase", "31", "tone value increase"), ("increase", "much", "tone value increase"),
     ("density", "0.2", "limiting density"), ("density", "nan", "limiting density"),
     ("n", "", "n"), ("n", None, "n")],
)  # fmt: skip
def test_numbers_that_no_press_has(state, field, typed, argument):
    numbers = {"increase": "14", "density": "2.1", "n": "2"} | {field: typed}
    with pytest.raises(ArgumentError) as refused:
        ask(state, "stock", **numbers)
    assert refused.value.argument == argument
