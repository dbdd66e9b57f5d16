"""A weft in colours of its own, made by hand on a whole desk over the real kernel's code."""

from __future__ import annotations

import base64
import re
from typing import TYPE_CHECKING

import pytest
from desk_alone import cloth_is, open_live, settle
from page_alone import CANVAS_PIXELS
from playwright.sync_api import expect

from checkcloth import Check

if TYPE_CHECKING:
    from desk_alone import LiveDesk
    from playwright.sync_api import Page

pytestmark = pytest.mark.browser

_SMALL = """least => [...document.querySelectorAll('.cc-hand :is(button, input, select, label)')]
    .filter(node => node.checkVisibility() && !node.matches('label input'))
    .map(node => [node.ariaLabel ?? node.textContent, Math.min(
        node.getBoundingClientRect().width, node.getBoundingClientRect().height)])
    .filter(([label, size]) => size < least - 0.1)"""


def thread(page: Page, stripe: int):
    return page.locator(f'.cc-main .cc-thread[data-stripe="{stripe}"]')


def take(page: Page, name: str) -> None:
    """Press a swatch of the palette, by its name."""
    page.locator(".cc-main").get_by_role("radio", name=re.compile(f"^{name} #")).click()
    settle(page)


def wefts(live: LiveDesk, number: int) -> list[str]:
    return [colour.name for colour in live.desk.state.find(number).colourway.weft_stripes]


def test_a_graduated_check_with_another_weft_in_other_colours_from_nothing(page, live):
    """Each step a designer takes: sixteen."""
    live.problems = open_live(page, live)
    hand = page.get_by_role("region", name="The cloth under the hand")
    hand.get_by_label("Begin an empty cloth, of so many stripes").select_option("3")  # 1
    settle(page)
    number = live.desk.state.shown[0].number
    for stripe, name in ((1, "Faded Violet"), (2, "Peach Skin"), (3, "Cowslip Green")):
        if stripe > 1:
            thread(page, stripe).click()
        take(page, name)  # 2-6
    page.get_by_role("button", name="More settings").click()  # 7
    bands = page.get_by_role("group", name="Bands of the check")
    bands.get_by_label("Bands", exact=True).select_option("graduated")  # 8
    settle(page)
    hand.get_by_label("Own weft").check()  # 9
    for stripe, name in ((1, "Crème Caramel"), (2, "Sea Holly Mist")):
        thread(page, -stripe).click()
        take(page, name)  # 10-13
    bands.get_by_label("another order in the weft").check()  # 14
    field = bands.get_by_label("Weft, in order")
    weft = "4 A, 1 ground, 1/2 B, 1/2 ground, 2 C, 1 ground"
    field.fill(weft)  # 15
    page.keyboard.press("Enter")
    settle(page)
    hand.get_by_role("button", name="Keep", exact=True).click()  # 16
    settle(page)
    (cloth,) = live.desk.kept
    assert [c.name for c in cloth.stripes] == ["Faded Violet", "Peach Skin", "Cowslip Green"]
    assert wefts(live, number) == ["Crème Caramel", "Sea Holly Mist", "Cowslip Green"]
    assert live.desk.kept.check == Check("1/2 in", 3, warp="graduated", weft=weft)
    cloth_is(page, live.desk.state.find(number).colourway, live.desk.kept.check)


def test_a_weft_is_pressed_moved_added_copied_taken_out_and_joined_again(page, live):
    live.problems = open_live(page, live)
    hand = page.get_by_role("region", name="The cloth under the hand")
    number = live.desk.state.shown[0].number
    check = Check("1/2 in", 3)
    before = live.desk.state.find(number).colourway
    warp = [colour.name for colour in before.stripes]
    asked = len(page.evaluate("window.model.sent"))
    expect(thread(page, -1)).to_have_count(0)
    own = hand.get_by_label("Own weft")
    own.focus()
    page.keyboard.press("Space")
    expect(thread(page, -1)).to_be_visible()
    cloth_is(page, live.desk.state.find(number).colourway, check)
    sent = page.evaluate("window.model.sent")[asked:]
    assert not [one for one in sent if one.get("do") not in ("palette", "look")], (
        "nothing is changed yet"
    )

    # The weft's single between the first two stripes of the warp is pressed on the cloth.
    canvas = page.locator(".cc-main .cc-pressed-cloth")
    per_check = canvas.evaluate("node => Number(node.dataset.pixels) / devicePixelRatio")
    canvas.click(position={"x": 1.5 * per_check, "y": 2.5 * per_check})
    expect(hand.get_by_role("region", name="Colour of weft stripe 2")).to_be_visible()
    expect(thread(page, -2)).to_have_attribute("aria-selected", "true")
    expect(hand.get_by_label("Stays")).to_be_hidden()
    # A crossing is its warp's stripe first; pressed again it is the weft's.
    canvas.click(position={"x": 0.5 * per_check, "y": 4.5 * per_check})
    expect(hand.get_by_role("region", name="Colour of stripe 1")).to_be_visible()
    canvas.click(position={"x": 0.5 * per_check, "y": 4.5 * per_check})
    expect(hand.get_by_role("region", name="Colour of weft stripe 3")).to_be_visible()

    field = hand.get_by_label("Code or name", exact=True)
    field.fill("navy")
    page.keyboard.press("Enter")
    settle(page)
    assert wefts(live, number) == [*warp[:2], "navy"]
    cloth_is(page, live.desk.state.find(number).colourway, check)
    thread(page, -3).focus()
    page.keyboard.press("Alt+ArrowLeft")
    settle(page)
    assert wefts(live, number) == [warp[0], "navy", warp[1]]
    expect(thread(page, -2)).to_be_focused()
    hand.get_by_label("Swap this stripe with").select_option("1")
    settle(page)
    hand.get_by_role("button", name="Copy this stripe, once more").click()
    settle(page)
    assert wefts(live, number) == ["navy", "navy", warp[0], warp[1]]
    cloth_is(page, live.desk.state.find(number).colourway, Check("1/2 in", 3, weft_stripes=4))
    page.keyboard.press("Escape")
    thread(page, -4).focus()
    page.keyboard.press("Delete")
    settle(page)
    hand.get_by_role("button", name="Add to the weft").click()
    settle(page)
    assert wefts(live, number)[:3] == ["navy", "navy", warp[0]]
    assert len(wefts(live, number)) == 4
    hand.get_by_role("slider", name="Lightness").focus()
    page.keyboard.press("ArrowRight")
    settle(page)
    assert wefts(live, number)[3].endswith(", lighter")
    assert live.desk.state.find(number).colourway.stripes == before.stripes

    own.uncheck()
    settle(page)
    assert live.desk.state.find(number).colourway.weft_stripes == ()
    expect(thread(page, -1)).to_be_hidden()
    cloth_is(page, live.desk.state.find(number).colourway, check)
    page.keyboard.press("u")
    settle(page)
    expect(own).to_be_checked()
    assert len(wefts(live, number)) == 4
    # The wall shows what the hand made: no piece of it is blank.
    drawn = page.locator(".cc-wall-panel canvas").first.evaluate(CANVAS_PIXELS)["data"]
    assert len(set(base64.b64decode(drawn))) > 8


def test_a_change_of_the_warp_leaves_a_weft_that_is_apart(page, live):
    live.problems = open_live(page, live)
    hand = page.get_by_role("region", name="The cloth under the hand")
    number = live.desk.state.shown[0].number
    before = live.desk.state.find(number).colourway
    hand.get_by_label("Own weft").check()
    thread(page, 1).click()
    field = hand.get_by_label("Code or name", exact=True)
    field.fill("black")
    page.keyboard.press("Enter")
    settle(page)
    after = live.desk.state.find(number).colourway
    assert after.stripes[0].name == "black"
    assert after.weft_stripes == before.stripes
    cloth_is(page, live.desk.state.find(number).colourway, Check("1/2 in", 3))


def test_coordinates_each_weft_and_sizes_are_seen_and_kept_by_one_press(page, live):
    live.problems = open_live(page, live)
    hand = page.get_by_role("region", name="The cloth under the hand")
    hand.get_by_role("button", name="Keep", exact=True).click()
    settle(page)
    page.locator(".cc-kept-one button").first.click()
    settle(page)
    hand.get_by_role("button", name="Make more of this one").click()
    settle(page, 600)
    more = hand.get_by_role("group", name="The same again, but")
    gamp = more.get_by_role("img", name=re.compile("^Colour gamp: "))
    colours = len(live.desk.palette.stripes)
    size = gamp.evaluate("node => [node.width, node.height, Number(node.dataset.pixels)]")
    assert size == [3 * size[2], colours * size[2], size[2]]
    more.get_by_label("Check sizes", exact=True).select_option(label="usual, in inches")
    settle(page)
    shown = more.locator(".cc-size-cloths canvas").evaluate_all(
        "all => all.map(node => [node.ariaLabel, Number(node.dataset.pixels)])"
    )
    pixels = {re.search(r"check of (.*) in", label)[1]: px for label, px in shown}
    assert pixels["2"] == 2 * pixels["1"] == 4 * pixels["1/2"] == 32 * pixels["1/16"]
    more.get_by_role("button", name=re.compile("^Keep these .: as coordinates$")).click()
    settle(page)
    kept = live.desk.state.kept
    assert len({card.family for card in kept}) == 1
    kinds = [card.colourway.name.split(", ")[-1] for card in kept[1:]]
    assert kinds[:2] == ["2 stripes", "stripe"]
    more.get_by_role("button", name=re.compile("^Keep these .*: with each weft$")).click()
    settle(page)
    assert len(live.desk.kept) == 5 + colours


def test_the_wall_with_wefts_of_its_own(page, live):
    live.problems = open_live(page, live)
    page.get_by_role("button", name="More settings").click()
    page.get_by_label("Weft colours").select_option("2")
    settle(page)
    assert {len(one.weft_stripes) for one in live.desk.shown} == {2}
    number = live.desk.state.shown[0].number
    expect(thread(page, -2)).to_be_visible()
    cloth_is(page, live.desk.state.find(number).colourway, Check("1/2 in", 3, weft_stripes=2))


@pytest.mark.parametrize("width", [400, 1320])
def test_every_control_of_a_weft_is_large_enough_to_press(page, live, width):
    page.set_viewport_size({"width": width, "height": 1200})
    live.problems = open_live(page, live)
    hand = page.get_by_role("region", name="The cloth under the hand")
    hand.get_by_label("Own weft").check()
    thread(page, -2).click()
    settle(page)
    assert page.evaluate(_SMALL, 24) == []
    box = page.locator(".cc-main .cc-weft .cc-strip").bounding_box()
    assert box["x"] + box["width"] <= width


def test_bands_are_laid_for_a_cloth_of_other_numbers_of_stripes(page, live):
    live.problems = open_live(page, live)
    hand = page.get_by_role("region", name="The cloth under the hand")
    number = live.desk.state.shown[0].number
    page.get_by_role("button", name="More settings").click()
    bands = page.get_by_role("group", name="Bands of the check")
    bands.get_by_label("Bands", exact=True).select_option("double")
    hand.get_by_label("Own weft").check()
    thread(page, -2).focus()
    page.keyboard.press("Delete")
    settle(page)
    cloth_is(page, live.desk.state.find(number).colourway, Check("1/2 in", 3, weft_stripes=2))
    said = "These bands are of 3 stripes; the cloth in hand has 3 × 2 stripes."
    expect(bands.get_by_text(said)).to_be_visible()
    bands.get_by_role("button", name="Lay bands for it: the cloth in hand").click()
    settle(page)
    expect(bands.get_by_text(said)).to_be_hidden()
    cloth_is(
        page,
        live.desk.state.find(number).colourway,
        Check("1/2 in", 3, warp="double", weft="double", weft_stripes=2),
    )
    expect(page.get_by_label("Weft colours")).to_have_value("2")
