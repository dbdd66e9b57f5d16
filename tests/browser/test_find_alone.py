"""The search as a source of the wall: find, conditions, undo, progress and stop."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import expect

from checkcloth.desk import finder

pytestmark = pytest.mark.browser


@pytest.fixture
def desk(alone):
    return alone.open_desk()


def button(desk, name):
    return desk.root.get_by_role("button", name=name)


def test_the_clearest_of_all_land_on_the_wall_in_two_presses_and_undo_as_one(alone, desk):
    desk.press_on("Stripes", "ArrowRight", 3)
    desk.until("desk.state.stripes", 6)
    before = desk.ask("[card.number for card in desk.state.shown]")
    alone.press(button(desk, "Find the best that the palette holds"))
    total = desk.ask("__import__('checkcloth.search').search.estimate(__import__("
                     "'checkcloth.desk.state.finding').desk.state.finding.finding("
                     "desk.state, {}).wanted).colourways")  # fmt: skip
    clearest = button(desk, f"The clearest of all {total:,}")
    expect(clearest).to_be_visible()
    alone.press(clearest)
    desk.until("len(desk.state.shown)", 500)
    bar = desk.root.locator(".cc-wall-panel .cc-count")
    expect(bar).to_have_text(f"500 clearest of {total:,} from")
    desk.wait_for_painted()
    # First the clearest, as plain code finds them.
    desk.until("desk.shown[0] == desk.state.as_shown(desk.state.shown[0])", True)
    assert desk.ask(
        "bool(__import__('checkcloth').score(desk.shown[0]).least_edge"
        " == max(desk.scores()['least_edge']))"
    )
    expect(desk.option(0)).to_have_attribute("aria-setsize", "500")
    alone.press(desk.root.get_by_role("button", name=re.compile("^Undo: clearest of")))
    desk.until("[card.number for card in desk.state.shown]", before)
    expect(bar).to_have_text("48 from")
    # Wefts with colours of their own are found as such, and counted as soon as they are set.
    desk.ask("setattr(desk.widget, 'weft_colours', 2)")
    expect(clearest).to_have_count(0)
    alone.press(button(desk, re.compile("^The clearest of all [0-9]")))
    expect(bar).to_have_text(re.compile("^500 clearest of [0-9,]+ with their own wefts from"))
    assert desk.ask("{len(one.weft_stripes) for one in desk.shown}") == {2}
    assert alone.problems == []


def test_where_nothing_holds_one_press_asks_for_what_does(alone, desk):
    alone.press(button(desk, "Find the best that the palette holds"))
    desk.root.get_by_text("Conditions", exact=True).click()
    field = desk.root.get_by_role("spinbutton", name="ground–single: colour difference at least")
    field.fill("95")
    field.press("Enter")
    expect(desk.root.get_by_text(re.compile(r"^None of [\d,]+ holds all of that"))).to_be_visible()
    offer = desk.root.get_by_role("button", name=re.compile("^Ask for "))
    expect(offer).to_have_count(1)
    alone.press(offer)
    desk.until("desk.state.source.startswith('clearest of')", True)
    least = float(field.input_value())
    desk.until("len(desk.state.shown) >= 1", True)
    assert desk.ask(f"bool(min(desk.scores()['ground_single_least_de2000']) >= {least})")
    expect(offer).to_have_count(0)
    expect(desk.root.get_by_text("Conditions (1)")).to_be_visible()
    assert alone.problems == []


def slow(sought, progress, stop):
    """Go on until it is stopped, in small steps as the real search does."""
    for done in range(1, 10_000):
        progress(done, 10_000, "looked at")
        if stop.wait(0.02):
            raise finder.StoppedError


def test_a_long_search_leaves_the_hand_free_and_stops_with_the_wall_as_it_was(
    alone, desk, monkeypatch
):
    with monkeypatch.context() as slowed:
        slowed.setattr(finder, "find", slow)
        before = desk.ask("[card.number for card in desk.state.shown]")
        alone.press(button(desk, "Find the best that the palette holds"))
        alone.press(button(desk, "Still clear to every eye"))
        expect(desk.root.get_by_text(re.compile(r"\d % looked at, about .* left"))).to_be_visible()
        # Meanwhile the desk does all it is asked.
        desk.keep(2)
        desk.press_on("Overlay strength", "ArrowRight", 5)
        desk.until("desk.state.strength", 0.55)
        alone.press(button(desk, "Stop the search"))
        expect(desk.root.get_by_text("Stopped; the wall is as it was.")).to_be_visible()
        assert desk.ask("[card.number for card in desk.state.shown]") == before
        assert desk.ask("len(desk.kept)") == 1
    # The page is as ready as before.
    alone.press(button(desk, "As unlike each other as can be"))
    desk.until("desk.state.source.startswith('most unlike each other')", True)
    assert alone.problems == []
