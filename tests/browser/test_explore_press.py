"""A press takes a third of a second, and its first half ends what was typed: no click is lost.

Here among what JupyterLab does of its own at a press; more in ``test_press_alone.py``.
"""

from __future__ import annotations

import re

import pytest
from desk_driver import DeskPage

pytestmark = pytest.mark.browser


@pytest.fixture
def desk(lab):
    lab.open_notebook("explore.ipynb", stays=True)
    lab.run_to("open_desk(")
    made = DeskPage(lab)
    for place in range(2):
        made.keep(place)
    return made


def button(place, words):
    return place.get_by_role("button", name=re.compile(words))


def test_a_name_typed_and_a_button_pressed_both_count(lab, desk):
    hand, number = desk.hand, desk.ask("desk.state.kept[0].number")
    head = desk.root.locator(".cc-head")
    card = desk.kept_card(number)
    desk.option(0).click()
    # Where a name is typed, what is pressed right after, and how the press shows in the kernel.
    for turn, (typed_in, place, words, seen, then) in enumerate([
        (hand, hand, "^Lay beside", "len(desk.state.compared)", 1),
        (hand, hand, "^Ground: ", None, None),
        (hand, hand, "^Add a stripe", "len(desk.state.shown[0].colourway.stripes)", 4),
        (card, card, "beside others$", "len(desk.state.compared)", 2),
        (card, head, "^Undo", "bool(desk.widget.facts['redo'])", True),
        (card, card, "^Drop", "len(desk.kept)", 1),
        (hand, hand, "^Keep", "len(desk.kept)", 2),
        (hand, hand, "^Drop", "len(desk.kept)", 1),
    ]):  # fmt: skip
        if typed_in is card:
            desk.turn_to("Range")
        else:
            desk.turn_to("Wall")
            desk.option(0).click()
        typed_in.get_by_role("textbox", name=re.compile("^Name of ")).fill(f"Quay {turn}")
        lab.press(button(place, words).first)
        if seen is None:
            hand.get_by_role("region", name="Colour of ground").wait_for()
            desk.until("desk.kept.colourways[0].name", f"Quay {turn}")
        else:
            desk.until(seen, then)
        named = desk.ask(f"'Quay {turn}' in [one.name for one in desk.kept]")
        assert named == (words not in {"^Undo", "^Drop"})
        desk.wait_for_painted()
    assert desk.ask("desk.troubles") == []
    assert lab.problems == []
