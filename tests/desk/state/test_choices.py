"""Keep, drop, name, note, move, compare and undo, on plain states."""

from __future__ import annotations

import random

import pytest

from checkcloth import Colourway
from checkcloth.desk.state import choices, ideas, sort_filter
from checkcloth.desk.state.state import MOST_STEPS, History
from checkcloth.errors import ArgumentError, CheckclothError


def numbers(state):
    return [card.number for card in state.kept]


def test_keeping_takes_the_colourway_as_it_looks_now(state):
    first = state.shown[0]
    state = choices.keep(state.with_(strength=0.8, mixing="woven"), first.number)
    assert [c.colourway for c in state.kept] == [
        first.colourway.with_(strength=0.8, mixing="woven")
    ]
    assert state.kept[0].origin["palette"] == "halt"
    assert state.kept[0].origin["place"] == 1


def test_keeping_twice_is_keeping_once(state):
    number = state.shown[3].number
    once = choices.keep(state, number)
    assert choices.keep(once, number) is once


def test_a_kept_colourway_does_not_follow_the_slider_and_its_mark_says_so(state):
    number = state.shown[0].number
    state = choices.keep(state, number)
    assert state.marks == {number: 2}
    assert state.kept_names == {}
    state = choices.name(state, number, "Quay")
    assert state.kept_names == {number: "Quay"}
    moved = state.with_(strength=0.9)
    assert moved.marks == {number: 1}
    assert moved.kept_names == {}
    assert moved.kept[0].colourway.strength == 0.5
    again = choices.keep(moved, number)
    assert [c.colourway.strength for c in again.kept] == [0.5, 0.9]
    assert again.marks == {number: 2}


@pytest.mark.parametrize(
    ("other", "marked"),
    [
        ({"weft_stripes": ["gold", "navy"]}, {1: 2}),
        ({"stock": "coated", "mixing": "ink"}, {1: 2, 2: 1}),
        # The same cloth under other names: the weft is the warp's.
        ({"name": "Quay", "weft_stripes": ["#000080", "#008080"]}, {1: 2, 2: 2}),
    ],
)
def test_cloths_that_differ_only_in_weft_or_stock_are_two(state, other, marked):
    state = state.with_(shown=(), kept=(), next_number=1, mixing=None, strength=None)
    plain = Colourway("white", ["navy", "teal"], mixing=other.get("mixing", "source-over"))
    state = choices.keep(state.deal([plain, plain.with_(**other)], "by hand"), 1)
    assert state.marks == marked
    assert len(choices.keep(state, 2).kept) == (1 if marked[1] == marked.get(2) else 2)


def test_toggle_on_the_wall_and_on_the_shelf(state):
    number = state.shown[1].number
    kept = choices.toggle(state, number)
    assert choices.toggle(kept, number).kept == ()
    assert choices.toggle(kept, kept.kept[0].number).kept == ()


@pytest.mark.parametrize("text", ["<img src=x onerror=alert(1)>", "🧵 Quay", "=cmd|' /C calc'!A0"])
def test_naming_keeps_first_and_keeps_the_text_as_typed(state, text):
    state = choices.name(state, state.shown[0].number, text)
    assert [c.colourway.name for c in state.kept] == [text]
    state = choices.note(state, state.kept[0].number, text)
    assert state.kept[0].note == text
    assert state.kept[0].colourway.name == text


def test_a_bad_name_is_refused_and_nothing_is_kept(state):
    with pytest.raises(ArgumentError, match="at most 500 characters"):
        choices.name(state, state.shown[0].number, "x" * 501)
    assert state.kept == ()


def test_moving_holds_to_the_row(state):
    for card in state.shown[:4]:
        state = choices.keep(state, card.number)
    a, b, c, d = numbers(state)
    assert numbers(choices.move(state, a, 2)) == [b, c, a, d]
    assert numbers(choices.move(state, d, -5)) == [d, a, b, c]
    assert numbers(choices.move(state, a, 99)) == [b, c, d, a]


def test_two_to_four_side_by_side_and_no_fifth(state):
    for card in state.shown[:4]:
        state = choices.compare(state, card.number)
    with pytest.raises(ArgumentError, match="at most 4, found 5"):
        choices.compare(state, state.shown[4].number)
    state = choices.compare(state, state.shown[0].number)
    assert state.compared == tuple(card.number for card in state.shown[1:4])


def test_dropping_takes_it_from_side_by_side_too(state):
    state = choices.keep(state, state.shown[0].number)
    state = choices.compare(state, state.kept[0].number)
    assert choices.drop(state, state.kept[0].number).compared == ()


def test_a_new_deal_keeps_the_kept_and_never_uses_a_number_again(state, palette):
    kept = choices.keep(state, state.shown[0].number)
    later = ideas.draw(kept.with_(seed=9))
    assert later.kept == kept.kept
    seen = {card.number for card in (*kept.shown, *kept.kept)}
    assert seen.isdisjoint(card.number for card in later.shown)


@pytest.mark.parametrize("number", [0, 10**6])
def test_unknown_numbers_are_refused(state, number):
    for act in (choices.keep, choices.drop, choices.toggle, choices.compare):
        with pytest.raises(ArgumentError, match="number must be of a"):
            act(state, number)


def random_step(state, palette, rng):
    card = rng.choice([*state.shown, *state.kept])
    return rng.choice([
        lambda: choices.toggle(state, card.number),
        lambda: choices.name(state, card.number, f"name {rng.random()}"),
        lambda: choices.note(state, card.number, f"note {rng.random()}"),
        lambda: choices.move(state, card.number, rng.randrange(5)),
        lambda: choices.compare(state, card.number),
        lambda: choices.let_stay(state, 0, card.colourway.ground),
        lambda: choices.let_stay(state, rng.randrange(1, 4), rng.choice([palette["Weir"], None])),
        lambda: ideas.more_like(state, card.number),
        lambda: ideas.different(state),
        lambda: sort_filter.sort_by(state, "evenness"),
        lambda: sort_filter.add_limit(state, "least_edge", rng.uniform(0, 20)),
        lambda: state.with_(strength=rng.random()),
    ])()  # fmt: skip


@pytest.mark.parametrize("seed", range(8))
def test_undoing_everything_leads_back_and_redoing_leads_on(state, palette, seed):
    rng = random.Random(seed)
    history = History(state)
    states = [state]
    for _ in range(40):
        try:
            after = random_step(history.now, palette, rng)
        except CheckclothError:
            continue
        if after != history.now:
            states.append(after)
        history = history.step(after, "a step")
    for expected in reversed(states):
        assert history.now == expected
        history = history.undo()
    assert history.undo() == history
    for expected in states[1:]:
        history = history.redo()
        assert history.now == expected


def test_one_drag_undoes_as_one_and_the_next_by_itself(state):
    history = History(state)
    for value in (0.51, 0.52, 0.53):
        history = history.step(history.now.with_(strength=value), f"strength {value}", "strength")
    history = history.pause()
    history = history.step(history.now.with_(strength=0.9), "strength 0.9", "strength")
    assert history.undo().now.strength == 0.53
    assert history.undo().undo().now.strength == 0.5
    assert history.undo().redoes == "strength 0.9"


def test_a_step_after_undo_forgets_what_was_undone_and_the_row_is_bounded(state):
    history = History(state).step(state.with_(seed=2), "a").undo()
    history = history.step(state.with_(seed=3), "b")
    assert history.redo() == history
    for seed in range(MOST_STEPS + 50):
        history = history.step(state.with_(seed=10 + seed), "more")
    assert len(history.past) == MOST_STEPS
