"""What the page is sent after edits is what a fresh look at the whole wall would send."""

from __future__ import annotations

import random

import ipywidgets
import numpy as np

from checkcloth import Colourway
from checkcloth.desk.state.state import MOST_REMEMBERED, History
from checkcloth.desk.wall_sync import own_numbers
from checkcloth.export.page.tone_packing import counts, pack


def sent_afresh(state):
    own = {index for index, card in enumerate(state.shown) if card.own}
    members = [card.colourway for card in state.shown]
    packed = pack(members, state.mixing, own)
    return {
        "counts": counts(members),
        "numbers": [card.number for card in state.shown],
        "strengths": np.array([one.strength for one in members], "<f4").tobytes(),
        "colours": packed.colours,
        "of": [packed.recipes[index] for index in packed.recipe_of],
    }


def sent(widget):
    return {
        "counts": widget.counts,
        "numbers": widget.numbers,
        "strengths": widget.strengths,
        "colours": widget.colours,
        "of": [widget.recipes[index] for index in widget.recipe_of],
    }


def test_edits_undone_and_redone_leave_the_page_with_the_whole_wall(desk):
    rng = random.Random(4)
    acts = (
        lambda n: {"do": "nudge", "number": n, "part": 1, "axis": "hue", "steps": 2},
        lambda n: {"do": "swap", "number": n, "first": 1, "second": 2},
        lambda n: {"do": "copy_stripe", "number": n, "stripe": 1},
        lambda n: {"do": "own", "number": n, "strength": rng.random(), "mixing": "woven"},
        lambda n: {"do": "own", "number": n, "mixing": "pigment"},
        lambda n: {"do": "mixing", "value": rng.choice(["multiply", "woven", "pigment"])},
        lambda n: {"do": "undo"},
        lambda n: {"do": "redo"},
        lambda n: {"do": "draw"},
    )
    stamps = [desk.widget.stamp]
    for _ in range(120):
        number = rng.choice(desk.state.shown).number
        answer, _ = desk.answer({"id": "1", **rng.choice(acts)(number)})
        assert sent(desk.widget) == sent_afresh(desk.state), answer
        assert desk.widget.facts["own"] == own_numbers(desk.state)
        stamps.append(desk.widget.stamp)
    assert stamps == sorted(stamps)
    assert stamps[-1] > 50


def test_undo_reaches_back_as_far_as_there_is_room_for_colourways(state):
    history = History(state)
    for _ in range(30):
        now = history.now
        # As if so many had been dealt: numbers tell how many there were.
        history = history.step(now.with_(next_number=now.next_number + 5000), "deal")
    assert len(history.past) == MOST_REMEMBERED // 5000
    first = history.past[0][0]
    assert history.now.next_number - first.next_number == MOST_REMEMBERED
    # One step can always be taken back, whatever its size.
    history = history.step(history.now.with_(next_number=10**7), "a great deal")
    assert history.undoes == "a great deal"
    assert len(history.past) == 1


def test_a_linked_slider_stays_where_it_is_while_each_has_its_own_strength(desk):
    slider = ipywidgets.FloatSlider(max=1)
    ipywidgets.link((desk.widget, "strength"), (slider, "value"))
    desk.widget.strength = 0.4
    assert slider.value == 0.4
    desk.show([Colourway("white", ["navy"], 0.3), Colourway("white", ["navy"], 0.6)])
    assert desk.state.strength is desk.widget.strength is None
    assert slider.value == 0.4
    assert desk.widget.facts["undo"].startswith("show")
    assert desk.widget.stripes == 1, "what follows strength is set all the same"
    slider.value = 0.7
    assert desk.state.strength == 0.7
    desk.undo()
    assert slider.value == 0.7
    desk.widget.strength = 0.2
    assert slider.value == 0.2
