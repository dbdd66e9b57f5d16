"""A press takes a third of a second, and its first half ends what was typed: no click is lost."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import expect

pytestmark = pytest.mark.browser


@pytest.fixture
def desk(alone):
    made = alone.open_desk()
    for place in range(2):
        made.keep(place)
    return made


def button(place, words):
    return place.get_by_role("button", name=re.compile(words))


def hold_down(alone, target):
    """Press a mouse button on something, and leave it down; return where."""
    target.scroll_into_view_if_needed()
    box = target.bounding_box()
    alone.page.mouse.move(box["x"] + 3, box["y"] + 3)
    alone.page.mouse.down()
    return box


def test_a_name_typed_before_the_kernel_answers_goes_to_what_was_pointed_at(alone, desk):
    hand = desk.root.get_by_role("region", name="The cloth under the hand")
    box = hand.locator(".cc-hand-title")
    desk.option(4).click()
    expect(desk.words).to_have_text(desk.ask("desk.widget.names[4]"))
    box.fill("Quay")
    box.press("Enter")
    desk.until("desk.kept.colourways[-1].name", "Quay")
    expect(button(hand, "^Drop")).to_be_visible()  # the page has heard of it too
    with alone.stopped():
        desk.option(5).click()
        expect(box).to_have_value("")
        # What is shown of the one before says so, and its buttons do nothing to it.
        expect(hand).to_have_attribute("aria-busy", "true")
        expect(hand.locator(".cc-cloth-room")).not_to_have_css("opacity", "1")
        button(hand, "^Drop").click()
        hand.locator(".cc-thread").nth(1).press("Delete")
        box.press_sequentially("Quay")  # the very name of the one before
        desk.root.get_by_role("tab", name="Wall").focus()
    desk.until("[one.name for one in desk.kept].count('Quay')", 2)
    first, second = desk.ask(
        "[str(one.with_(name='')) for one in "
        "(desk.state.shown[5].colourway, desk.kept.colourways[-1])]"
    )
    assert first == second
    assert desk.ask("{len(one.stripes) for one in desk.kept}") == {3}
    expect(hand).not_to_have_attribute("aria-busy", "true")
    # Still typing when the answer comes: what is typed stays.
    with alone.stopped():
        desk.option(6).click()
        box.press_sequentially("Pi")
    expect(hand).not_to_have_attribute("aria-busy", "true")
    box.press_sequentially("er")
    box.press("Enter")
    desk.until("desk.kept.colourways[-1].name", "Pier")
    assert desk.ask("desk.troubles") == []
    assert alone.problems == []


def test_the_focus_stays_where_a_key_has_pressed(alone, desk):
    hand = desk.hand
    desk.option(4).click()
    expect(desk.words).to_have_text(desk.ask("desk.widget.names[4]"))
    for words, seen, then in (
        ("^Keep", "len(desk.kept)", 3),
        ("^Drop", "len(desk.kept)", 2),
        ("^Lay beside", "len(desk.state.compared)", 1),
    ):
        one = button(hand, words)
        one.focus()
        alone.page.keyboard.press("Enter")
        desk.until(seen, then)
        after = {"^Keep": "^Drop", "^Drop": "^Keep"}.get(words, words)
        expect(button(hand, after)).to_be_focused()
    # A swatch that was taken keeps the focus, and so does the box of a colour that stays.
    for part in (0, 2):
        tray = desk.choose_part(part)
        swatches = tray.get_by_role("radio")
        swatches.first.wait_for()
        taken = 1 if swatches.first.get_attribute("aria-checked") == "true" else 0
        swatches.nth(taken).focus()
        alone.page.keyboard.press("Enter")
        wanted = swatches.nth(taken).get_attribute("title").split(" #")[0]
        there = f"stripes[{part - 1}]" if part else "ground"
        desk.until(f"desk.state.shown[4].colourway.{there}.name", wanted)
        expect(swatches.nth(taken)).to_have_attribute("aria-checked", "true")
        expect(swatches.nth(taken)).to_be_focused()
        stays = tray.get_by_role("checkbox", name="Stays")
        stays.focus()
        alone.page.keyboard.press("Space")
        desk.until("len(desk.widget.facts['staying'])", 2 if part else 1)
        expect(stays).to_be_focused()
        expect(stays).to_be_checked()
    # The last of a row that goes leaves the focus to the one before, and at last to the tools.
    tags = button(desk.root.get_by_role("list", name="Hidden and held"), "^Let (ground|stripe)")
    expect(tags).to_have_count(2)
    tags.last.focus()
    alone.page.keyboard.press("Enter")
    expect(tags).to_have_count(1)
    expect(tags).to_be_focused()
    alone.page.keyboard.press("Enter")
    expect(tags).to_have_count(0)
    expect(button(desk.root, "^New draw")).to_be_focused()
    assert alone.problems == []


def test_a_press_on_export_holds_still_what_lies_above_it(alone, desk):
    """What the kernel tells while the button is down would push it away."""
    desk.turn_to("Export")
    export = button(desk.root, r"^Export \d")
    before = hold_down(alone, export)
    desk.ask("desk.hand_off.fields.show({'ends': '64', 'mill': True})")
    alone.page.wait_for_timeout(500)
    assert export.bounding_box() == before
    desk.ask("desk.hand_off.fields.show({'ends': '', 'mill': False})")
    alone.page.mouse.up()
    desk.root.get_by_text("colourways exported to out/explore").wait_for()
    assert alone.problems == []


def test_what_waits_for_the_hand_is_shown_when_it_is_up(alone, desk):
    number = desk.ask("desk.state.kept[0].number")
    desk.option(0).click()
    desk.turn_to("Range")
    card = desk.kept_card(number)
    box = card.get_by_role("textbox", name=re.compile("^Name of "))
    box.fill("Quay")
    mouse = alone.page.mouse
    later = hold_down(alone, button(card, "^Move .* later"))
    desk.until("desk.kept.colourways[0].name", "Quay")
    alone.page.wait_for_timeout(300)
    assert not desk.root.get_by_role("button", name="Drop Quay").count(), "nothing moves yet"
    # Away from the button and up: no click, but what waited is shown.
    mouse.move(later["x"] + 3, later["y"] + 200)
    mouse.up()
    desk.root.get_by_role("button", name="Drop Quay").wait_for()
    expect(desk.name_field).to_have_value("Quay")
    assert desk.ask("desk.kept.colourways[0].name") == "Quay"
    # And a hand that stays down does not hold the page for ever.
    box.fill("Pier")
    hold_down(alone, button(card, "^Move .* later"))
    desk.root.get_by_role("button", name="Drop Pier").wait_for()
    mouse.up()
    assert alone.problems == []


def test_the_export_pressed_right_after_a_field_counts(alone, desk):
    form = desk.turn_to("Export")
    form.get_by_role("checkbox", name="For the mill").check()
    mill = form.get_by_role("region", name="For the mill")
    mill.get_by_label("width").fill("20 in")
    mill.get_by_label("length").fill("10 in")
    ends = mill.get_by_label("Ends")
    alert = mill.get_by_role("alert").filter(has_text="such as '64 per in'")
    ends.fill("64")
    alone.press(button(form, "^Export"))
    form.get_by_text("see the field marked").wait_for()
    alert.wait_for()
    ends.fill("64 per in")
    alone.press(button(form, "^Export"))
    form.get_by_text("2 colourways exported to out/explore").wait_for()
    assert alert.count() == 0
    assert alone.problems == []
