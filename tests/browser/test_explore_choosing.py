"""Everything on the wall by keyboard alone, and no letter of it reaches JupyterLab."""

from __future__ import annotations

import re

import pytest
from desk_driver import DeskPage
from playwright.sync_api import expect

pytestmark = pytest.mark.browser


@pytest.fixture
def desk(lab):
    lab.open_notebook("explore.ipynb", stays=True)
    lab.run_to("open_desk(")
    return DeskPage(lab)


def test_by_keyboard_alone(lab, desk):
    page = lab.page
    press = page.keyboard.press
    active = "() => document.activeElement.closest('.cc-option')?.ariaPosInSet ?? null"

    # From the first slider the tab key reaches the wall, and one place on it only.
    desk.slider("Check size").focus()
    for _ in range(40):
        press("Tab")
        if page.evaluate(active):
            break
    assert page.evaluate(active) == "1"
    ring = """o => { const {outlineStyle, outlineWidth} = getComputedStyle(o, '::before');
        return [outlineStyle, parseFloat(outlineWidth), o.matches(':focus')]; }"""
    assert desk.option(0).evaluate(ring) == ["solid", 3, True]
    assert desk.option(1).evaluate(ring) == ["solid", 1, False]

    # Along the wall: only what shows is in the document, yet every place can be reached.
    press("ArrowRight")
    press("ArrowDown")
    across = int(page.evaluate(active)) - 2
    assert across >= 4
    press("End")
    assert page.evaluate(active) == "48"
    assert desk.wall.get_by_role("option").count() < 48
    press("ArrowRight")
    assert page.evaluate(active) == "48"
    press("Home")
    assert page.evaluate(active) == "1"
    press("PageDown")
    assert int(page.evaluate(active)) > across
    press("Home")

    # Keep, name, note, and back to the wall by itself.
    press("Space")
    desk.until("len(desk.kept)", 1)
    press("n")
    page.keyboard.type("Refreshment Room")
    press("Enter")
    desk.until("desk.kept.colourways[0].name", "Refreshment Room")
    assert page.evaluate(active) == "1"
    press("t")
    page.keyboard.type("dd kk mm")  # letters that are keys elsewhere
    press("Enter")
    desk.until("desk.kept.chosen[0].note", "dd kk mm")
    assert desk.ask("len(desk.kept)") == 1
    press("n")
    page.keyboard.type("never mind")
    press("Escape")
    assert page.evaluate(active) == "1"
    assert desk.ask("desk.kept.colourways[0].name") == "Refreshment Room"

    # Undo and redo, by letter and by the usual keys.
    press("u")
    desk.until("desk.kept.chosen[0].note", "")
    press("Control+z")
    desk.until("desk.kept.colourways[0].name", "")
    press("r")
    press("Control+Shift+z")
    desk.until("desk.kept.chosen[0].note", "dd kk mm")

    # Side by side, enlarged, the neighbours one key away, and back with Escape.
    press("c")
    press("ArrowRight")
    press("c")
    desk.until("len(desk.state.compared)", 2)
    press("Enter")
    dialog = desk.root.get_by_role("dialog", name="Enlarged colourway")
    words = dialog.locator(".cc-hand-words p")
    names = desk.ask("desk.widget.names")
    expect(words).to_have_text(names[1])
    press("ArrowRight")
    expect(words).to_have_text(names[2])
    press("ArrowLeft")
    press("ArrowLeft")
    expect(dialog.get_by_role("textbox", name=re.compile("^Name of"))).to_have_value(
        "Refreshment Room"
    )
    press("k")
    desk.until("len(desk.kept)", 0)
    press("Escape")
    expect(dialog).to_be_hidden()
    assert page.evaluate(active) == "1"

    # Ideas.
    numbers = desk.ask("desk.widget.numbers")
    press("m")
    desk.until("desk.state.dealt.startswith('more like')", True)
    assert page.evaluate(active) == "1", "focus stays on the wall when another is dealt"
    press("d")
    desk.until("desk.state.dealt.startswith('unlike')", True)
    press("u")
    press("u")
    desk.until("desk.widget.numbers", numbers)

    # Every notebook cell is still there: no letter reached JupyterLab.
    press("d")
    press("d")
    press("Shift+?")
    expect(desk.root.get_by_role("dialog", name="Keys")).to_be_visible()
    press("Escape")
    assert len(lab.cells()) == 12
    assert lab.problems == []
