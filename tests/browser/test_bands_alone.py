"""A check of the designer's own bands, made on a whole desk over the real kernel's code."""

from __future__ import annotations

import pytest
from desk_alone import LiveDesk, cloth_is, open_live, settle
from page_alone import CANVAS_PIXELS
from playwright.sync_api import expect

from checkcloth import Check, Colourway

pytestmark = pytest.mark.browser

_SMALL = """() => [...document.querySelectorAll('.cc-bands :is(input, select, [role=slider])')]
    .filter(node => node.checkVisibility()).map(node => [node.ariaLabel,
        Math.min(node.getBoundingClientRect().width, node.getBoundingClientRect().height)])
    .filter(([label, size]) => size < 23.9 && label)"""


def first_of(live: LiveDesk) -> Colourway:
    """The first of the wall as it is shown: the one under the hand."""
    return live.desk.state.as_shown(live.desk.state.shown[0])


def test_a_graduated_check_with_another_weft_from_nothing_in_six_steps(page, live):
    """Open More, take a preset, pull one edge, tick the weft, type its order, press Enter."""
    live.problems = open_live(page, live)
    bands = page.get_by_role("group", name="Bands of the check")
    steps = 0

    page.get_by_role("button", name="More settings").click()
    steps += 1
    bands.get_by_label("Bands", exact=True).select_option("graduated")
    settle(page)
    steps += 1
    assert live.desk.widget.bands == "graduated"

    strip = bands.get_by_role("group", name="Bands, one repeat")
    second = strip.get_by_role("slider", name="Band of stripe 2").first
    expect(second).to_have_attribute("aria-valuetext", "1½ checks")
    box = second.bounding_box()
    edge, middle = box["x"] + box["width"] - 6, box["y"] + box["height"] / 2
    page.mouse.move(edge, middle)
    page.mouse.down()
    per_check = box["width"] / 1.5
    for part in (0.2, 0.9, 0.5):
        page.mouse.move(edge + part * per_check, middle)
        page.wait_for_timeout(60)
    tried = page.locator(".cc-main .cc-pressed-cloth").evaluate(CANVAS_PIXELS)["data"]
    assert live.desk.widget.bands == "graduated", "the kernel is asked when the edge is let go of"
    page.mouse.up()
    settle(page)
    steps += 1
    assert tried == page.locator(".cc-main .cc-pressed-cloth").evaluate(CANVAS_PIXELS)["data"]
    order = "1 A, 1 ground, 2 B, 1 ground, 2 C, 1 ground"
    assert live.desk.widget.bands == order
    cloth_is(page, first_of(live), Check("1/2 in", 3, warp=order))

    bands.get_by_label("another order in the weft").check()
    settle(page)
    steps += 1
    field = bands.get_by_label("Weft, in order")
    field.fill("4 A, 1 ground, 1/2 B, 1/2 ground, 2 C, 1 ground")
    steps += 1
    page.keyboard.press("Enter")
    settle(page)
    steps += 1
    assert steps == 6
    weft = "4 A, 1 ground, 1/2 B, 1/2 ground, 2 C, 1 ground"
    assert (live.desk.widget.bands, live.desk.widget.weft) == (order, weft)
    cloth_is(page, first_of(live), Check("1/2 in", 3, warp=order, weft=weft))
    assert page.evaluate(_SMALL) == []

    field.fill("4 A, 2 D")
    page.keyboard.press("Enter")
    settle(page)
    expect(bands.get_by_role("status").filter(has_text="D")).to_contain_text("'D'")
    expect(field).to_have_attribute("aria-invalid", "true")
    assert live.desk.widget.weft == weft

    first = strip.get_by_role("slider", name="Band of stripe 1").first
    expect(first).to_have_attribute("aria-valuetext", "1 check")
    first.focus()
    page.keyboard.press("ArrowRight")
    settle(page)
    expect(first).to_have_attribute("aria-valuetext", "1½ checks")
    expect(first).to_be_focused()
    live.do(live.desk.undo)
    page.evaluate("() => window.model.send({do: 'ping', id: 'p'})")
    settle(page)
    cloth_is(page, first_of(live), Check("1/2 in", 3, warp=order, weft=weft))


def test_a_cloth_that_the_bands_are_not_of_says_so_where_it_is_shown(page, live):
    live.problems = open_live(page, live)
    live.do(lambda: setattr(live.desk.widget, "bands", "graduated"))
    page.evaluate("() => window.model.send({do: 'ping', id: 'p'})")
    settle(page)
    hand = page.locator(".cc-main .cc-hand")
    said = hand.get_by_text("Even: the range's graduated bands are of 3 stripes.")
    expect(said).to_be_hidden()
    hand.locator('.cc-thread[data-stripe="3"]').press("Delete")
    settle(page)
    expect(said).to_be_visible()
    hand.get_by_role("button", name="Keep", exact=True).click()
    settle(page)
    expect(page.locator(".cc-status")).to_contain_text("1 of 1 kept is even")
    page.get_by_role("tab", name="Range").click()
    settle(page)
    card = page.locator(".cc-range-card")
    expect(card).to_contain_text("Even: the range's graduated bands are of 3 stripes")
    hand.get_by_role("button", name="Lay bands for it").click()
    settle(page)
    expect(said).to_be_hidden()
    expect(card).not_to_contain_text("Even")
    assert live.desk.state.check == Check("1/2 in", 2, warp="graduated")
    cloth_is(page, live.desk.kept.colourways[0], live.desk.state.check)


def test_the_colours_part_says_at_once_where_a_colour_goes(page, live):
    """Seen failing: an empty cloth has its first stripe chosen, and it said to press one."""
    live.problems = open_live(page, live)
    page.get_by_role("tab", name="Colours").click()
    settle(page)
    bar = page.locator(".cc-colours-tab .cc-bar").first
    expect(bar).to_contain_text("Press a stripe, then a colour")
    page.get_by_label("Begin an empty cloth").select_option("2")
    settle(page)
    expect(bar).to_contain_text("A colour pressed goes into stripe 1")
    page.get_by_role("button", name="Done with this colour").press("Enter")
    expect(bar).to_contain_text("Press a stripe, then a colour")
