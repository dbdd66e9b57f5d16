"""The search as a source of the wall, in a real JupyterLab: progress and stop."""

from __future__ import annotations

import re

import pytest
from desk_driver import DeskPage
from playwright.sync_api import expect

pytestmark = pytest.mark.browser

# A search that goes on until it is stopped, in small steps as the real one does.
SLOW = """exec('''
import time
import checkcloth.desk.finding as finding_module
def slow(sought, progress, stop):
    for done in range(1, 10_000):
        progress(done, 10_000, "looked at")
        if stop.wait(0.02):
            raise finding_module.StoppedError
finding_module.find, real_find = slow, finding_module.find
''')"""


@pytest.fixture
def desk(lab):
    lab.open_notebook("explore.ipynb")
    lab.run_to("open_desk(")
    return DeskPage(lab)


def button(desk, name):
    return desk.root.get_by_role("button", name=name)


def test_a_long_search_leaves_the_hand_free_and_stops_with_the_wall_as_it_was(lab, desk):
    desk.ask(SLOW)
    before = desk.ask("[card.number for card in desk.state.shown]")
    lab.press(button(desk, "Find the best that the palette holds"))
    lab.press(button(desk, "Still clear to every eye"))
    expect(desk.root.get_by_text(re.compile(r"\d % looked at, about .* left"))).to_be_visible()
    # Meanwhile the desk does all it is asked.
    desk.keep(2)
    desk.press_on("Overlay strength", "ArrowRight", 5)
    desk.until("desk.state.strength", 0.55)
    lab.press(button(desk, "Stop the search"))
    expect(desk.root.get_by_text("Stopped; the wall is as it was.")).to_be_visible()
    assert desk.ask("[card.number for card in desk.state.shown]") == before
    assert desk.ask("len(desk.kept)") == 1
    # The page is as ready as before.
    desk.ask("exec('finding_module.find = real_find')")
    lab.press(button(desk, "As unlike each other as can be"))
    desk.until("desk.state.source.startswith('most unlike each other')", True)
    assert lab.problems == []
