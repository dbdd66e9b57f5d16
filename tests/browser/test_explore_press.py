"""A press takes a third of a second, and its first half ends what was typed: no click is lost."""

from __future__ import annotations

import re

import pytest
from desk_driver import DeskPage

pytestmark = pytest.mark.browser


@pytest.fixture
def desk(lab):
    lab.open_notebook("explore.ipynb")
    lab.run_all()
    made = DeskPage(lab)
    for place in range(2):
        made.option(place).focus()
        lab.page.keyboard.press("k")
        made.until("len(desk.kept)", place + 1)
    return made


def button(place, words):
    return place.get_by_role("button", name=re.compile(words))


def hold_down(lab, target):
    """Press a mouse button on something, and leave it down; return where."""
    target.scroll_into_view_if_needed()
    box = target.bounding_box()
    lab.page.mouse.move(box["x"] + 3, box["y"] + 3)
    lab.page.mouse.down()
    return box


# Where a name is typed, and what is pressed right after; each press shows in the kernel.
@pytest.mark.parametrize(
    ("field", "pressed", "seen", "then"),
    [
        ("look", ("look", "^Drop"), "len(desk.kept)", 1),
        ("look", ("look", "^Lay beside"), "len(desk.state.compared)", 1),
        ("look", ("look", "^(Lock|Unlock|ground: )"), "desk.state.locked_ground is not None", True),
        ("shelf", ("shelf", "^Drop"), "len(desk.kept)", 1),
        ("shelf", ("shelf", "^Lay"), "len(desk.state.compared)", 1),
        ("shelf", ("desk", "^Undo"), "bool(desk.wall.facts['redo'])", True),
    ],
)
def test_a_name_typed_and_a_button_pressed_both_count(lab, desk, field, pressed, seen, then):
    places = {
        "look": desk.root.get_by_role("region", name="Close look"),
        "shelf": desk.root.locator(".cc-kept-one").first,
        "desk": desk.root,
    }
    desk.option(0).click()
    first = desk.ask("desk.state.kept[0].number")
    box = places[field].get_by_role("textbox", name=re.compile("^Name"))
    box.fill("Quay")
    where, words = pressed
    lab.press(button(places[where], words).first)
    named = f"[card.colourway.name for card in desk.state.kept if card.number == {first}]"
    desk.until(seen, then)
    if "Drop" not in words:
        assert desk.ask(named) == ([""] if "Undo" in words else ["Quay"])
    assert desk.ask("desk.troubles") == []
    assert lab.problems == []


def test_what_waits_for_the_hand_is_shown_when_it_is_up(lab, desk):
    shelf = desk.root.locator(".cc-kept-one").first
    box = shelf.get_by_role("textbox", name=re.compile("^Name"))
    title = desk.root.locator(".cc-look h3").first
    box.fill("Quay")
    mouse = lab.page.mouse
    later = hold_down(lab, button(shelf, "^Move .* later"))
    desk.until("desk.kept.colourways[0].name", "Quay")
    lab.page.wait_for_timeout(300)
    assert not desk.root.get_by_role("button", name="Drop Quay").count(), "nothing moves yet"
    # Away from the button and up: no click, but what waited is shown.
    mouse.move(later["x"] + 3, later["y"] + 200)
    mouse.up()
    desk.root.get_by_role("button", name="Drop Quay").wait_for()
    desk.option(0).click()
    title.filter(has_text="Quay").wait_for()
    assert desk.ask("desk.kept.colourways[0].name") == "Quay"
    # And a hand that stays down does not hold the page for ever.
    box.fill("Pier")
    hold_down(lab, button(shelf, "^Move .* later"))
    desk.root.get_by_role("button", name="Drop Pier").wait_for()
    mouse.up()
    assert lab.problems == []


@pytest.mark.parametrize("typed", ["64 per in", "64"])
def test_the_export_pressed_right_after_a_field_counts(lab, desk, typed):
    form = desk.root.locator(".cc-hand-off")
    for title in ("A piece of cloth", "More for the mill"):
        form.get_by_role("button", name=title).click()
    form.get_by_label("Width").fill("20 in")
    form.get_by_label("Length").fill("10 in")
    wrong = "24" if typed == "64 per in" else ""
    form.get_by_label("Ends").fill(wrong)
    form.get_by_label("Picks").focus()
    said = form.locator(".cc-form-field").filter(has=form.page.get_by_label("Ends"))
    if wrong:
        said.get_by_role("alert").wait_for()
    form.get_by_label("Ends").fill(typed)
    lab.press(form.get_by_role("button", name="Export the kept"))
    if typed == "64":  # what is wrong is said at the field, and that nothing was done, below
        form.get_by_text("see the field marked").wait_for()
        said.get_by_role("alert").wait_for()
        return
    form.get_by_text("2 colourways exported to out/explore").wait_for()
    assert said.get_by_role("alert").count() == 0
    lines = "f => [...f.querySelectorAll('.cc-wrong-field')].map(p => p.offsetHeight)"
    assert form.evaluate(lines) == [0], "what was said of it takes no room any more"
    assert lab.problems == []
