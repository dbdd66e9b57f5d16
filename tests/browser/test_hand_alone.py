"""The cloth under the hand in Chromium, over a kernel that is played in Python and may be slow."""

from __future__ import annotations

import base64
import re
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest
from coloraide import Color
from hand_alone import EVEN, NAMES, Card, Kernel, kernel_of, open_hand, six
from page_alone import CANVAS_PIXELS, tones, wait_until_still
from playwright.sync_api import expect

from checkcloth import MIXINGS, Colourway, read_palette

if TYPE_CHECKING:
    from playwright.sync_api import Locator, Page

pytestmark = pytest.mark.browser

WIDTHS = (360, 640, 980, 1320)
HELD = 60_000  # milliseconds: longer than any test waits
_OUT = """() => {
    const root = document.querySelector('.cc');
    const edge = root.getBoundingClientRect().right;
    const hand = root.querySelector('.cc-hand').getBoundingClientRect();
    const beyond = ({left, right}) => right > hand.right + 4.5 || left < hand.left - 6;
    const out = [...root.querySelectorAll('.cc-hand *')].filter(node => node.checkVisibility()
        && !node.closest('.cc-under, .cc-strip, .cc-clip') && beyond(node.getBoundingClientRect()));
    return {out: out.map(node => node.className || node.tagName), hand: hand.right - edge,
            page: document.documentElement.scrollWidth - document.documentElement.clientWidth};
}"""
_SMALL = """() => [...document.querySelectorAll(
    '.cc-hand :is(button, input:not([type=checkbox]), select, summary, [role=slider])')]
    .filter(node => node.checkVisibility()).map(node => [node.ariaLabel || node.textContent,
        Math.min(node.getBoundingClientRect().width, node.getBoundingClientRect().height)])
    .filter(([, size]) => size < 24)"""
_NAMELESS = """() => [...document.querySelectorAll(`.cc-hand :is(button, input, select, summary,
    [role=slider], [role=img], [role=listbox], [role=radiogroup])`)]
    .filter(node => node.checkVisibility() && !(node.ariaLabel || node.textContent.trim()
        || [...(node.labels ?? [])].some(label => label.textContent.trim())))
    .map(node => node.outerHTML)"""


@pytest.fixture
def page_size() -> tuple[int, int]:
    return 980, 900


def shown(page: Page) -> dict[str, Any]:
    """Return the cloth that is pressed: pixels (H, W, 3) and the size of a check."""
    found = page.locator(".cc-main .cc-pressed-cloth").evaluate(CANVAS_PIXELS)
    data = np.frombuffer(base64.b64decode(found["data"]), np.uint8)
    return {
        "pixels": data.reshape(found["high"], found["wide"], 4)[..., :3].astype(int),
        "px": found["px"],
    }


def expected(
    cloth: Colourway, bands: list[list[int]], px: int, shape: tuple[int, ...]
) -> np.ndarray:
    """Return pixels by the definition of cloth: image[y, x] = tones[warp[x], weft[y]]."""
    once = np.repeat([stripe for stripe, _ in bands], [checks * px for _, checks in bands])
    side = len(cloth.stripes) + 1
    table = np.frombuffer(tones(cloth, cloth.strength), np.uint8).reshape(side, side, 3).astype(int)
    warp, weft = (once[np.arange(length) % len(once)] for length in (shape[1], shape[0]))
    return table[warp[None, :], weft[:, None]]


def differs(page: Page, cloth: Colourway, kernel: Kernel) -> int:
    """Return by how many 255ths the cloth on the page is off what Python mixes, at most."""
    found = shown(page)
    bands = kernel.bands[str(len(cloth.stripes))]
    return int(
        np.abs(found["pixels"] - expected(cloth, bands, found["px"], found["pixels"].shape)).max()
    )


def frame(page: Page) -> None:
    page.evaluate("() => new Promise(done => requestAnimationFrame(() => setTimeout(done)))")


def press(page: Page, target: Locator, **where: Any) -> None:
    """Press as a hand does: move there, hold for 0.3 s, let go."""
    target.hover(**where)
    page.mouse.down()
    page.wait_for_timeout(300)
    page.mouse.up()
    frame(page)


def thread(page: Page, stripe: int) -> Locator:
    return page.locator(f".cc-main .cc-thread[data-stripe='{stripe}']")


def hold(page: Page) -> None:
    """Let the kernel keep its answers, from now on, until :func:`settle` lets them go."""
    page.evaluate("late => { window.model.late = late; }", HELD)


def waits(page: Page) -> bool:
    """Whether an answer of the kernel is still on its way."""
    return bool(page.evaluate("() => window.model.waiting > 0"))


def settle(page: Page, kernel: Kernel, count: int) -> None:
    """Let held answers go, and wait until all are here; so often it was asked to do something."""
    held = page.evaluate("() => { const held = model.late; model.late = 0; return held; }")
    wait_until_still(page)
    page.evaluate("held => { model.late = held; }", held)
    acts = [one for one in kernel.asked if one["do"] != "encode"]
    assert len(acts) == count, acts


def swatch(page: Page, name: str) -> Locator:
    return page.get_by_role("radiogroup", name="Colours of").get_by_role("radio", name=name)


def button(page: Page, name: str) -> Locator:
    return page.locator(".cc-main .cc-hand").get_by_role("button", name=name)


SIX = six(*NAMES)


def edited(cloth: Colourway, **changes: Any) -> Colourway:
    return cloth.with_(**changes)


def colour(name: str) -> Any:
    from page_alone import CHECKOUT

    return next(
        one for one in read_palette(CHECKOUT / "palettes" / "anniversary.csv") if one.name == name
    )


def with_stripe(cloth: Colourway, stripe: int, name: str) -> Colourway:
    stripes = list(cloth.stripes)
    stripes[stripe - 1] = colour(name)
    return cloth.with_(stripes=stripes)


# -- by mouse, at a hand's pace ------------------------------------------------------------------


@pytest.mark.parametrize("mixing", MIXINGS)
def test_a_colour_put_in_a_stripe_is_painted_before_the_kernel_answers(page, mixing):
    cloth = six(*NAMES, mixing=mixing)
    kernel = kernel_of(cloth)
    problems = open_hand(page, kernel)
    assert differs(page, cloth, kernel) <= 1
    px = shown(page)["px"]
    press(page, page.locator(".cc-main .cc-pressed-cloth"), position={"x": 4.5 * px, "y": 1.5 * px})
    expect(page.get_by_role("heading", name="Stripe 3: Sea Holly Mist")).to_be_visible()
    wait_until_still(page)  # the palette has come; for pigment also how its colours are encoded
    hold(page)
    press(page, swatch(page, "Faded Violet"))
    wanted = with_stripe(cloth, 3, "Faded Violet")
    page.mouse.move(5, 5)
    frame(page)
    assert differs(page, wanted, kernel) <= 1
    assert waits(page), "the kernel has not answered yet"
    settle(page, kernel, 1)
    assert differs(page, wanted, kernel) <= 1
    sent = [one for one in kernel.asked if one["do"] != "encode"]
    assert sent == [{"do": "colour", "number": 1, "part": 3, "palette": "anniversary", "index": 9}]
    assert swatch(page, "Faded Violet").get_attribute("aria-checked") == "true"
    assert problems == []


def test_every_act_by_mouse_and_its_pixels(page):
    kernel = kernel_of(SIX)
    problems = open_hand(page, kernel)
    press(page, thread(page, 2))
    hold(page)
    stripes = list(SIX.stripes)

    def check(asked: dict[str, Any]) -> None:
        wanted = SIX.with_(stripes=stripes)
        assert differs(page, wanted, kernel) <= 1, asked
        assert waits(page), asked
        settle(page, kernel, len(kernel.past))
        assert kernel.asked[-1] == asked
        assert kernel.cards[1].colourway.stripes == wanted.stripes
        assert differs(page, wanted, kernel) <= 1, asked

    press(page, button(page, "Move this stripe later"))
    stripes[1], stripes[2] = stripes[2], stripes[1]
    check({"do": "order", "number": 1, "stripe": 2, "to": 3})
    expect(page.get_by_role("heading", name="Stripe 3: Sugared Almond")).to_be_visible()
    press(page, button(page, "Copy this stripe, once more"))
    stripes.insert(3, stripes[2])
    check({"do": "copy_stripe", "number": 1, "stripe": 3})
    page.get_by_role("combobox", name="Swap this stripe with").select_option("1")
    frame(page)
    stripes[0], stripes[3] = stripes[3], stripes[0]
    check({"do": "swap", "number": 1, "first": 4, "second": 1})
    press(page, button(page, "Remove this stripe"))
    del stripes[0]
    check({"do": "remove_stripe", "number": 1, "stripe": 1})
    press(page, page.get_by_role("button", name="Add a stripe"))
    stripes.append(colour("Crème Caramel"))
    check({"do": "add_stripe", "number": 1, "palette": "anniversary", "index": 8})
    press(page, button(page, "Ground: Icing"))
    press(page, swatch(page, "Doily"))
    page.mouse.move(5, 5)
    settle(page, kernel, 6)
    assert kernel.cards[1].colourway.ground.name == "Doily"
    assert differs(page, kernel.cards[1].colourway, kernel) <= 1
    assert problems == []


def test_a_thread_is_dragged_and_the_cloth_shows_where_it_would_land(page):
    kernel = kernel_of(SIX)
    problems = open_hand(page, kernel)
    box = thread(page, 1).bounding_box()
    target = thread(page, 3).bounding_box()
    page.mouse.move(box["x"] + 10, box["y"] + 10)
    page.mouse.down()
    page.wait_for_timeout(300)
    page.mouse.move(box["x"] + 13, box["y"] + 10)
    expect(page.locator(".cc-lifted")).to_have_count(0)  # under 4 px it is a press
    for step in range(1, 12):
        page.mouse.move(box["x"] + 13 + step * (target["x"] - box["x"] + 14) / 11, box["y"] + 12)
        page.wait_for_timeout(30)
    expect(page.locator(".cc-lifted")).to_have_count(1)
    moved = SIX.with_(stripes=[SIX.stripes[1], SIX.stripes[2], SIX.stripes[0], *SIX.stripes[3:]])
    frame(page)
    assert differs(page, moved, kernel) <= 1, "it is tried while it is dragged"
    assert kernel.asked == []
    page.mouse.up()
    settle(page, kernel, 1)
    assert kernel.asked == [{"do": "order", "number": 1, "stripe": 1, "to": 3}]
    assert differs(page, moved, kernel) <= 1
    expect(page.get_by_role("heading", name="Stripe")).to_have_count(0)  # a drag is no press
    # Escape in mid-drag puts back what was.
    page.mouse.move(box["x"] + 10, box["y"] + 10)
    page.mouse.down()
    page.mouse.move(box["x"] + 150, box["y"] + 10, steps=5)
    page.keyboard.press("Escape")
    page.mouse.up()
    settle(page, kernel, 1)
    assert differs(page, moved, kernel) <= 1
    assert problems == []


def test_pointing_tries_a_colour_and_leaving_puts_it_back(page):
    kernel = kernel_of(SIX)
    problems = open_hand(page, kernel)
    press(page, thread(page, 5))
    swatch(page, "Crème Caramel").hover()
    frame(page)
    assert differs(page, with_stripe(SIX, 5, "Crème Caramel"), kernel) <= 1
    swatch(page, "Faded Violet").hover()
    frame(page)
    assert differs(page, with_stripe(SIX, 5, "Faded Violet"), kernel) <= 1
    page.mouse.move(5, 5)
    frame(page)
    assert differs(page, SIX, kernel) <= 1
    field = page.get_by_role("textbox", name="Code or name")
    field.fill("#c09fd4")
    frame(page)
    assert differs(page, with_stripe(SIX, 5, "Faded Violet"), kernel) <= 1
    field.press("Escape")
    frame(page)
    assert differs(page, SIX, kernel) <= 1
    assert kernel.asked == [], "trying is never a request"
    assert problems == []


def test_a_swatch_is_dragged_onto_a_thread(page):
    kernel = kernel_of(SIX)
    problems = open_hand(page, kernel)
    press(page, thread(page, 1))
    swatch(page, "Faded Violet").hover()
    page.mouse.down()
    target = thread(page, 4).bounding_box()
    page.mouse.move(target["x"] + 8, target["y"] + 8, steps=6)
    frame(page)
    assert differs(page, with_stripe(SIX, 4, "Faded Violet"), kernel) <= 1, "it is tried there"
    assert kernel.asked == []
    page.mouse.up()
    settle(page, kernel, 1)
    assert [(one["do"], one["part"]) for one in kernel.asked] == [("colour", 4)]
    assert differs(page, with_stripe(SIX, 4, "Faded Violet"), kernel) <= 1
    expect(page.get_by_role("heading", name="Stripe 1")).to_be_visible()
    assert problems == []


def test_the_wall_follows_the_hand_before_the_kernel_has_answered(page):
    kernel = kernel_of(SIX, six(*NAMES[1:]))
    open_hand(page, kernel)
    pixel = """() => Array.from(document.querySelector('.cc-wall-canvas').getContext('2d')
        .getImageData(3, 3, 1, 1).data).slice(0, 3)"""
    before = page.evaluate(pixel)
    press(page, thread(page, 1))
    wait_until_still(page)
    hold(page)
    swatch(page, "Photograph Sepia").click()
    frame(page)
    assert waits(page)
    wanted = np.frombuffer(tones(with_stripe(SIX, 1, "Photograph Sepia"), 0.5), np.uint8).reshape(
        7, 7, 3
    )
    assert page.evaluate(pixel) != before
    assert np.abs(np.array(page.evaluate(pixel)) - wanted[1, 1].astype(int)).max() <= 1


def test_pressing_a_crossing_takes_the_warp_and_then_the_weft(page):
    kernel = kernel_of(SIX)
    open_hand(page, kernel)
    px = shown(page)["px"]
    cloth = page.locator(".cc-main .cc-pressed-cloth")
    crossing = {"x": 2.5 * px, "y": 6.5 * px}
    for words in (
        "Stripe 2: Sugared Almond",
        "Stripe 4: Cowslip Green",
        "Stripe 2: Sugared Almond",
    ):
        press(page, cloth, position=crossing)
        expect(page.get_by_role("heading", name=words)).to_be_visible()
    press(page, cloth, position={"x": 1.5 * px, "y": 1.5 * px})
    expect(page.get_by_role("heading", name="Ground: Icing")).to_be_visible()
    cloth.hover(position=crossing)
    table = np.frombuffer(tones(SIX, 0.5), np.uint8).reshape(7, 7, 3)
    under = page.locator(".cc-main .cc-under")
    expect(under).to_contain_text("Sugared Almond over Cowslip Green: #")
    code = under.inner_text().split("#")[1][:6]
    assert np.abs(np.frombuffer(bytes.fromhex(code), np.uint8).astype(int) - table[2, 4]).max() <= 1


def test_nudges_are_painted_at_once_and_come_to_what_the_kernel_makes(page):
    kernel = kernel_of(SIX)
    problems = open_hand(page, kernel)
    press(page, thread(page, 5))
    hold(page)
    lightness = page.get_by_role("slider", name="Lightness")
    lightness.locator("i[data-steps='2']").click()
    frame(page)
    assert waits(page)
    from checkcloth.ideas.by_hand import nudge

    once = nudge(SIX.stripes[4], "lightness", 2)
    wanted = SIX.with_(stripes=[*SIX.stripes[:4], once, SIX.stripes[5]])
    assert differs(page, wanted, kernel) <= 1
    page.get_by_role("slider", name="Hue").focus()
    for _ in range(3):
        page.keyboard.press("ArrowRight")
    page.keyboard.press("Shift+ArrowLeft")
    settle(page, kernel, 5)
    steps = [(one["axis"], one["steps"]) for one in kernel.asked]
    assert steps == [("lightness", 2), ("hue", 1), ("hue", 1), ("hue", 1), ("hue", -3)]
    assert differs(page, kernel.cards[1].colourway, kernel) <= 1
    expect(page.get_by_role("heading")).to_contain_text(["Peach Skin, lighter, hue back"])
    expect(page.get_by_role("slider", name="Hue")).to_be_focused()
    # Its value is what the colour has on that axis, with its unit: one that stayed at 0 between
    # its neighbours was read out at the first step and at no other. coloraide is asked.
    now = kernel.cards[1].colourway.stripes[4]
    light, _, hue = Color(now.hex).convert("oklch").coords()
    for name, value, unit in [("Lightness", 100 * light, " %"), ("Hue", hue, "°")]:
        slider = page.get_by_role("slider", name=name)
        told = slider.get_attribute("aria-valuenow") or ""
        assert float(told) == pytest.approx(value, abs=0.6)
        expect(slider).to_have_attribute("aria-valuetext", f"{told}{unit}, {now.hex}")
    assert problems == []


def test_strength_and_mixing_of_this_one_alone(page):
    kernel = kernel_of(SIX)
    problems = open_hand(page, kernel)
    press(page, button(page, "Strength 50 %"))
    hold(page)
    strength = page.get_by_role("slider", name="Strength of this one")
    strength.evaluate("node => { node.value = 20; node.dispatchEvent(new Event('input')); }")
    frame(page)
    assert differs(page, SIX.with_(strength=0.2), kernel) <= 1
    assert kernel.asked == [], "while it moves it is tried"
    strength.evaluate("node => node.dispatchEvent(new Event('change'))")
    settle(page, kernel, 1)
    assert kernel.asked == [{"do": "own", "number": 1, "strength": 0.2}]
    page.get_by_role("combobox", name="Mixing").last.select_option("pigment")
    settle(page, kernel, 2)
    assert differs(page, SIX.with_(strength=0.2, mixing="pigment"), kernel) <= 1
    expect(page.locator(".cc-main .cc-hand")).to_contain_text("This one keeps its own")
    assert problems == []


# -- by keyboard alone ---------------------------------------------------------------------------


def tab_to(page: Page, wanted: Locator) -> None:
    for _ in range(60):
        page.keyboard.press("Tab")
        if wanted.evaluate("node => node === document.activeElement"):
            return
    raise AssertionError(f"Tab does not reach {wanted}")


def test_everything_by_keyboard_alone(page):
    kernel = kernel_of(SIX, six(*NAMES[:2]))
    problems = open_hand(page, kernel)
    page.locator(".cc-option").first.focus()
    tab_to(page, thread(page, 1))
    for _ in range(2):
        page.keyboard.press("ArrowRight")
    expect(page.get_by_role("option", name="Stripe 3 of 6: Sea Holly Mist")).to_be_focused()
    page.keyboard.press("Alt+ArrowLeft")
    expect(page.get_by_role("option", name="Stripe 2 of 6: Sea Holly Mist")).to_be_focused()
    expect(page.get_by_role("heading", name="Stripe 2: Sea Holly Mist")).to_be_visible()
    settle(page, kernel, 1)
    expect(page.get_by_role("option", name="Stripe 2 of 6: Sea Holly Mist")).to_be_focused()
    tab_to(page, swatch(page, "Sea Holly Mist"))
    page.keyboard.press("ArrowRight")
    frame(page)
    tried = with_stripe(kernel.cards[1].colourway, 2, "Cowslip Green")
    assert differs(page, tried, kernel) <= 1
    page.keyboard.press("Escape")
    frame(page)
    assert differs(page, kernel.cards[1].colourway, kernel) <= 1
    expect(swatch(page, "Sea Holly Mist")).to_be_focused()
    for _ in range(4):
        page.keyboard.press("ArrowRight")
    expect(swatch(page, "Faded Violet")).to_be_focused()
    page.keyboard.press("Enter")
    settle(page, kernel, 2)
    expect(swatch(page, "Faded Violet")).to_be_focused()
    assert differs(page, with_stripe(kernel.cards[1].colourway, 2, "Faded Violet"), kernel) <= 1
    tab_to(page, page.get_by_role("textbox", name="Code or name"))
    page.keyboard.type("rebeccapurple")
    page.keyboard.press("Enter")
    settle(page, kernel, 3)
    assert kernel.cards[1].colourway.stripes[1].hex == "#663399"
    tab_to(page, page.get_by_role("slider", name="Lightness"))
    page.keyboard.press("Space")
    page.keyboard.press("ArrowRight")
    settle(page, kernel, 4)
    page.keyboard.press("Escape")
    expect(thread(page, 2)).to_be_focused()
    page.keyboard.press("Delete")
    settle(page, kernel, 5)
    expect(thread(page, 2)).to_be_focused()
    assert [one.name for one in kernel.cards[1].colourway.stripes] == [
        *(NAMES[0], NAMES[1]), *NAMES[3:]]  # fmt: skip
    # Down leads to the colours of a stripe, Escape back to it; numbers turn to the desk's parts.
    page.keyboard.press("ArrowDown")
    expect(swatch(page, NAMES[1])).to_be_focused()
    page.keyboard.press("Escape")
    expect(thread(page, 2)).to_be_focused()
    for key, part in [("2", "Range"), ("3", "Colours"), ("1", "Wall")]:
        page.keyboard.press(key)
        turned_to = page.get_by_role("tab", name=re.compile(f"^{part}"), selected=True)
        expect(turned_to).to_be_focused()
    thread(page, 2).focus()
    page.keyboard.press("Escape")
    assert page.evaluate("() => document.activeElement.closest('.cc-wall') !== null")
    assert [one["do"] for one in kernel.asked] == [
        "order",
        "colour",
        "colour",
        "nudge",
        "remove_stripe",
    ]
    assert problems == []


def test_focus_stays_on_the_control_of_the_same_name_through_the_kernels_answers(page):
    kernel = kernel_of(SIX)
    open_hand(page, kernel)
    hold(page)
    thread(page, 1).click()
    later = button(page, "Move this stripe later")
    later.focus()
    for count in range(1, 4):
        page.keyboard.press("Enter")
        settle(page, kernel, count)
        expect(later).to_be_focused()
    expect(page.get_by_role("heading", name="Stripe 4: Duck Egg Shell")).to_be_visible()
    button(page, "Done with this colour").press("Enter")
    expect(thread(page, 4)).to_be_focused()


def test_views_and_boards_by_key(page):
    kernel = kernel_of(SIX)
    open_hand(page, kernel)
    page.locator(".cc-option").first.focus()
    views = page.get_by_role("radiogroup", name="Shown as")
    for name in ("True size", "3 checks", "Tablecloth", "Tea towel", "Napkin", "Repeat"):
        page.keyboard.press("v")
        expect(views.get_by_role("radio", name=name)).to_have_attribute("aria-checked", "true")
    page.keyboard.press("Shift+V")
    expect(views.get_by_role("radio", name="Napkin")).to_have_attribute("aria-checked", "true")
    for board in ("white", "grey", "black", "page"):
        page.keyboard.press("b")
        expect(page.locator(".cc")).to_have_attribute("data-board", board)


# -- by touch ------------------------------------------------------------------------------------


def test_by_touch_a_tap_chooses_and_a_held_thread_is_dragged(chromium):
    context = chromium.new_context(
        viewport={"width": 360, "height": 800}, has_touch=True, is_mobile=True
    )
    page = context.new_page()
    kernel = kernel_of(SIX)
    problems = open_hand(page, kernel)
    finger = context.new_cdp_session(page)

    def touch(kind: str, x: float = 0, y: float = 0) -> None:
        points = [] if kind == "touchEnd" else [{"x": x, "y": y}]
        finger.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})

    thread(page, 1).scroll_into_view_if_needed()
    box, target = thread(page, 1).bounding_box(), thread(page, 3).bounding_box()
    x, y = box["x"] + 10, box["y"] + 10
    far = target["x"] + 18
    touch("touchStart", x, y)  # no hold: the finger scrolls, nothing is lifted
    for step in range(1, 6):
        touch("touchMove", x + step * (far - x) / 5, y)
    touch("touchEnd")
    page.wait_for_timeout(400)
    assert kernel.asked == []
    touch("touchStart", x, y)
    page.wait_for_timeout(450)
    expect(page.locator(".cc-lifted")).to_have_count(1)
    for step in range(1, 6):
        touch("touchMove", x + step * (far - x) / 5, y)
        page.wait_for_timeout(40)
    touch("touchEnd")
    settle(page, kernel, 1)
    assert kernel.asked == [{"do": "order", "number": 1, "stripe": 1, "to": 3}]
    thread(page, 3).tap()
    expect(page.get_by_role("heading", name="Stripe 3: Duck Egg Shell")).to_be_visible()
    wait_until_still(page)
    swatch(page, "Faded Violet").tap()
    settle(page, kernel, 2)
    assert differs(page, kernel.cards[1].colourway, kernel) <= 1
    assert kernel.cards[1].colourway.stripes[2].name == "Faded Violet"
    assert problems == []
    context.close()


# -- refusals, undo, kept ones -------------------------------------------------------------------


def test_a_code_that_is_not_read_is_said_under_its_field_and_the_cloth_stays(page):
    kernel = kernel_of(SIX)
    problems = open_hand(page, kernel)
    thread(page, 2).click()
    field = page.get_by_role("textbox", name="Code or name")
    field.fill("peachy")
    field.press("Enter")
    settle(page, kernel, 1)
    expect(field).to_have_value("peachy")
    expect(field).to_have_attribute("aria-invalid", "true")
    alert = page.locator(".cc-main .cc-tray [role=alert]")
    expect(alert).to_contain_text("peachy")
    assert differs(page, SIX, kernel) <= 1
    field.fill("Faded Violet")
    expect(alert).to_have_text("")
    button(page, "Use this code or name").click()
    settle(page, kernel, 2)
    expect(field).to_have_value("")
    assert differs(page, with_stripe(SIX, 2, "Faded Violet"), kernel) <= 1
    assert problems == []


def test_a_refusal_puts_back_what_was_and_says_why(page):
    kernel = kernel_of(SIX)
    open_hand(page, kernel)
    hold(page)

    def refuse(reply: dict[str, Any], content: dict[str, Any]) -> None:
        raise ValueError("this one is being exported")

    kernel.do_order = refuse  # type: ignore[method-assign]
    thread(page, 1).focus()
    page.keyboard.press("Alt+ArrowRight")
    frame(page)
    moved = SIX.with_(stripes=[SIX.stripes[1], SIX.stripes[0], *SIX.stripes[2:]])
    assert differs(page, moved, kernel) <= 1
    settle(page, kernel, 1)
    assert differs(page, SIX, kernel) <= 1
    expect(page.locator(".cc-main .cc-hand-body > div > [role=alert]")).to_have_text(
        "this one is being exported"
    )


def test_undo_takes_a_stripe_away_and_closes_its_tray(page):
    kernel = kernel_of(SIX)
    problems = open_hand(page, kernel)
    wait_until_still(page)
    page.get_by_role("button", name="Add a stripe").click()
    settle(page, kernel, 1)
    expect(page.get_by_role("heading", name="Stripe 7: Crème Caramel")).to_be_visible()
    page.keyboard.press("u")
    settle(page, kernel, 2)
    expect(page.get_by_role("heading", name="Stripe 7")).to_have_count(0)
    expect(page.get_by_role("textbox", name="Note")).to_be_visible()
    assert differs(page, SIX, kernel) <= 1
    assert problems == []


def test_a_kept_one_is_changed_just_so(page):
    kernel = Kernel({1: Card(six(*NAMES[:3])), 1000: Card(SIX)}, kept=(1000,))
    problems = open_hand(page, kernel)
    page.locator(".cc-kept-cloth").click()
    expect(thread(page, 6)).to_be_visible()
    wait_until_still(page)
    thread(page, 6).click()
    wait_until_still(page)
    swatch(page, "Faded Violet").click()
    page.mouse.move(5, 5)
    settle(page, kernel, 1)
    assert kernel.asked[0]["number"] == 1000
    assert differs(page, with_stripe(SIX, 6, "Faded Violet"), kernel) <= 1
    expect(
        page.locator(".cc-main .cc-hand-head").get_by_role("button", name="Drop")
    ).to_be_visible()
    button(page, "Done with this colour").click()
    family = page.get_by_role("combobox", name="Family")
    expect(family).to_have_value("Violet")
    family.fill("Duck egg")
    family.press("Enter")
    settle(page, kernel, 2)
    button(page, "Copy").click()
    settle(page, kernel, 3)
    assert kernel.asked[1:] == [
        {"do": "family", "number": 1000, "family": "Duck egg"},
        {"do": "copy", "number": 1000},
    ]
    assert problems == []


def test_the_slider_above_the_wall_is_followed_unless_this_one_is_by_hand(page):
    kernel = kernel_of(SIX, six(*NAMES[1:]))
    open_hand(page, kernel)
    kernel.cards[2] = Card(kernel.cards[2].colourway, own=True)
    for number, wanted in ((1, 0.3), (2, 0.5)):
        page.locator(f".cc-option[data-number='{number}']").click()
        wait_until_still(page)
        page.evaluate("() => window.model.receive({strength: null})")
        page.evaluate("() => window.model.receive({strength: 0.3})")
        frame(page)
        cloth = kernel.cards[number].colourway.with_(strength=wanted)
        assert differs(page, cloth, kernel) <= 1, number


# -- geometry, sizes, room -----------------------------------------------------------------------

UNEVEN = [[2, 3], [0, 1], [1, 2], [0, 4], [3, 1], [1, 1], [0, 2]]


@pytest.mark.parametrize("ratio", [1, 1.25, 2])
def test_threads_lie_exactly_under_their_stripes(new_page, ratio):
    page = new_page(980, 900, device_scale_factor=ratio)
    base = read_palette_cycle(24)
    for stripes, bands in ((1, None), (6, None), (12, None), (13, None), (24, None), (3, UNEVEN)):
        cloth = Colourway("white", base[:stripes], 0.5)
        laid = {str(n): [[k, 1] for s in range(1, n + 1) for k in (s, 0)] for n in range(1, 25)}
        if bands:
            laid[str(stripes)] = bands
        kernel = kernel_of(cloth, bands=laid)
        page.close()
        page = new_page(980, 900, device_scale_factor=ratio)
        problems = open_hand(page, kernel)
        assert differs(page, cloth, kernel) <= 1
        px = shown(page)["px"]
        lefts = page.locator(".cc-main .cc-thread").evaluate_all(
            """all => all.map(node => node.getBoundingClientRect().left
                - document.querySelector('.cc-pressed-cloth').getBoundingClientRect().left)"""
        )
        starts = np.cumsum([0, *(checks for _, checks in laid[str(stripes)])])
        first = {}
        for (stripe, _), start in zip(laid[str(stripes)], starts, strict=False):
            first.setdefault(stripe, int(start) * px / ratio)
        assert np.allclose(lefts, [first[n] for n in range(1, stripes + 1)], atol=0.02)
        sizes = page.locator(".cc-main .cc-thread").evaluate_all(
            "all => all.map(node => node.clientWidth)"
        )
        assert min(sizes) >= 24, (stripes, sizes)
        assert problems == []
    page.close()


def read_palette_cycle(count: int) -> list[Any]:
    from page_alone import CHECKOUT

    colours = list(read_palette(CHECKOUT / "palettes" / "harvest-stall.csv"))
    return [colours[n % len(colours)] for n in range(count)]


def test_a_whole_cloth_of_a_typed_size(page):
    kernel = kernel_of(SIX)
    problems = open_hand(page, kernel)
    page.get_by_role("radio", name="Tablecloth").click()
    canvas = page.get_by_role("img", name="Tablecloth of")
    size = canvas.bounding_box()
    assert (size["width"], size["height"]) == (240, 240)  # 304 px hold 60 in at 2 whole px a check
    expect(page.locator(".cc-main .cc-under")).to_contain_text(
        "1/24 of true size, 10 repeats across"
    )
    field = page.get_by_role("textbox", name="Size of the tablecloth")
    field.fill("60 × 90 in")
    field.press("Enter")
    size = canvas.bounding_box()
    assert size["height"] > 1.45 * size["width"]
    assert size["height"] <= 320 - 16
    field.fill("quite large")
    field.press("Enter")
    expect(field).to_have_attribute("aria-invalid", "true")
    expect(page.locator(".cc-main .cc-under")).to_contain_text("no size that is read here")
    field.fill("")
    field.press("Enter")
    expect(field).to_have_value("60 × 60 in")
    page.get_by_role("radio", name="3 checks").click()
    expect(page.locator(".cc-main .cc-rows canvas")).to_have_count(3)
    sizes = page.locator(".cc-main .cc-rows canvas").evaluate_all(
        "all => all.map(one => one.dataset.pixels)"
    )
    assert sizes == ["6", "12", "24"]
    assert problems == []


def test_the_mean_of_what_a_pixel_covers_is_taken_in_light(page):
    """At under a pixel a check the cloth is the colour it has from afar (whole repeats a pixel)."""
    kernel = kernel_of(Colourway("white", ["black"], 1.0), bands={"1": [[1, 1], [0, 1]]})
    open_hand(page, kernel)
    sizes = [["1/50 in", 0.02]]
    choices = page.evaluate("() => window.model.traits.choices") | {"sizes": sizes}
    page.evaluate("traits => window.model.receive(traits)", {"choices": choices, "size": "1/50 in"})
    page.get_by_role("radio", name="Napkin").click()
    page.get_by_role("textbox", name="Size of the napkin").fill("76 × 76 in")
    page.keyboard.press("Enter")
    found = page.get_by_role("img", name="Napkin of").evaluate(CANVAS_PIXELS)
    data = np.frombuffer(base64.b64decode(found["data"]), np.uint8)
    pixels = data.reshape(found["high"], found["wide"], 4)[..., :3]
    inside = pixels[10:-10, 10:-10].reshape(-1, 3)
    # Three quarters of the area is black (one of two bands each way, warp over weft): light 0.25,
    # which IEC 61966-2-1 encodes as 1.055·0.25^(1/2.4) − 0.055 = 0.537, byte 137.
    assert abs(float(inside.mean()) - 137) < 1.5, inside.mean()


@pytest.mark.parametrize("dark", [False, True])
@pytest.mark.parametrize("width", WIDTHS)
def test_every_control_is_named_and_has_room_and_nothing_sticks_out(page, width, dark):
    page.set_viewport_size({"width": width, "height": 900})
    kernel = kernel_of(six(*NAMES), six(*NAMES[:2]))
    problems = open_hand(page, kernel, dark=dark)

    def check(what: str) -> None:
        frame(page)
        found = page.evaluate(_OUT)
        assert found["out"] == [], what
        assert found["page"] <= 0, what
        assert found["hand"] <= 0, what
        assert page.evaluate(_SMALL) == [], what
        assert page.evaluate(_NAMELESS) == [], what

    check("at rest")
    for name in ("As other eyes see it", "Tones with their codes"):
        button(page, name).click()
    page.locator(".cc-main .cc-hand summary").click()
    check("opened")
    thread(page, 3).click()
    wait_until_still(page)
    check("a colour")
    page.get_by_role("textbox", name="Code or name").fill("#123456")
    check("a code")
    button(page, "Ground: Icing").click()
    check("the ground")
    button(page, "Strength 50 %").click()
    check("strength")
    for name in ("True size", "3 checks", "Tablecloth", "Tea towel", "Napkin"):
        page.get_by_role("radio", name=name).click()
        check(name)
    assert problems == []


def test_with_a_colour_open_all_of_it_stands_on_one_screen(page):
    """As in the mock-up: 740 px from the name to the last nudge at 980 px."""
    kernel = kernel_of(SIX)
    open_hand(page, kernel)
    thread(page, 3).click()
    wait_until_still(page)
    top = page.locator(".cc-main .cc-hand").bounding_box()["y"]
    last = page.get_by_role("slider", name="Hue").bounding_box()
    assert last["y"] + last["height"] - top <= 740


def test_enlarged_has_threads_and_trays_too(page):
    kernel = kernel_of(SIX, six(*NAMES[1:]))
    problems = open_hand(page, kernel)
    page.locator(".cc-option").first.focus()
    page.keyboard.press("Enter")
    dialog = page.get_by_role("dialog", name="Enlarged")
    expect(dialog.get_by_role("application", name="Cloth; arrow keys")).to_be_focused()
    press(page, dialog.locator(".cc-thread[data-stripe='1']"))
    wait_until_still(page)
    dialog.get_by_role("radio", name="Faded Violet").click()
    settle(page, kernel, 1)
    assert kernel.cards[1].colourway.stripes[0].name == "Faded Violet"
    assert differs(page, kernel.cards[1].colourway, kernel) <= 1, "the other view follows"
    # At true size the cloth is moved by dragging, and that is no press on a stripe.
    page.keyboard.press("v")
    frame(page)
    cloth = dialog.locator(".cc-pressed-cloth")
    box = cloth.bounding_box()
    page.mouse.move(box["x"] + 200, box["y"] + 200)
    page.mouse.down()
    page.mouse.move(box["x"] + 152, box["y"] + 200, steps=4)
    page.mouse.up()
    frame(page)
    found = cloth.evaluate(CANVAS_PIXELS)
    data = np.frombuffer(base64.b64decode(found["data"]), np.uint8)
    drawn = data.reshape(found["high"], found["wide"], 4)[..., :3].astype(int)
    wanted = expected(kernel.cards[1].colourway, EVEN["6"], 48, (found["high"], found["wide"] + 48))
    assert np.abs(drawn - wanted[:, 48:]).max() <= 1, "48 px to the left"
    expect(dialog.get_by_role("heading", name="Stripe 1: Faded Violet")).to_be_visible()
    page.keyboard.press("Escape")  # the tray
    expect(dialog).to_be_visible()
    expect(dialog.get_by_role("heading", name="Stripe")).to_have_count(0)
    page.keyboard.press("Escape")  # the dialog
    expect(dialog).not_to_be_visible()
    assert problems == []


def test_nothing_is_laid_anew_while_a_button_is_down(page):
    kernel = kernel_of(SIX)
    open_hand(page, kernel)
    thread(page, 2).click()
    wait_until_still(page)
    target = swatch(page, "Faded Violet")
    target.hover()
    page.mouse.down()
    node = target.element_handle()
    kernel.cards[1] = Card(with_stripe(SIX, 1, "Crème Caramel"))
    page.evaluate(
        "() => window.model.receive({facts: {...window.model.traits.facts, message: 'news'}})"
    )
    page.wait_for_timeout(300)
    assert node.evaluate("node => node.isConnected")
    page.mouse.up()
    settle(page, kernel, 1)
    names = [one.name for one in kernel.cards[1].colourway.stripes]
    assert names[:2] == ["Crème Caramel", "Faded Violet"]
    # A patch that is pressed is the one that is taken, whatever the kernel tells meanwhile.
    patch = page.get_by_role("slider", name="Lightness").locator("i[data-steps='-1']")
    patch.hover()
    page.mouse.down()
    kernel.cards[1] = Card(with_stripe(SIX, 2, "Peach Skin"))
    page.evaluate(
        "() => window.model.receive({facts: {...window.model.traits.facts, message: 'more'}})"
    )
    page.wait_for_timeout(300)
    page.mouse.up()
    settle(page, kernel, 2)
    assert kernel.asked[-1] == {
        "do": "nudge",
        "number": 1,
        "part": 2,
        "axis": "lightness",
        "steps": -1,
    }


def test_a_name_and_a_note(page):
    kernel = kernel_of(SIX)
    open_hand(page, kernel)
    page.locator(".cc-option").first.focus()
    page.keyboard.press("n")
    page.keyboard.type("Duck egg six")
    page.keyboard.press("Enter")
    settle(page, kernel, 1)
    expect(page.locator(".cc-main .cc-hand-title")).to_have_value("Duck egg six")
    thread(page, 2).click()
    page.locator(".cc-option").first.focus()
    page.keyboard.press("t")
    page.keyboard.type("for the corner table")
    page.keyboard.press("Enter")
    settle(page, kernel, 2)
    assert kernel.cards[1].note == "for the corner table"
    assert page.evaluate("() => document.activeElement.closest('.cc-wall') !== null")


@pytest.mark.parametrize("mixing", ["source-over", "pigment"])
def test_an_act_is_painted_in_the_frame_of_its_press(page, mixing):
    """Twelve stripes, 48 on the wall: the milliseconds a press costs the page, kernel apart.

    Of the processor's, in the page's own thread: by the clock they would be the machine's load.
    """
    wall = [
        Colourway("white", np.roll(read_palette_cycle(12), k).tolist(), 0.5, mixing)
        for k in range(48)
    ]
    kernel = kernel_of(*wall, palette="harvest-stall")
    problems = open_hand(page, kernel)
    thread(page, 5).click()
    wait_until_still(page)
    session = page.context.new_cdp_session(page)
    session.send("Performance.enable", {"timeDomain": "threadTicks"})

    def spent() -> float:
        told = session.send("Performance.getMetrics")["metrics"]
        return next(1000 * one["value"] for one in told if one["name"] == "ThreadTime")

    before = spent()
    presses = page.evaluate(
        """() => {
            const press = (node, key) => {
                if (key) node.dispatchEvent(new KeyboardEvent('keydown', {key, bubbles: true}));
                else node.click();
            };
            const hand = document.querySelector('.cc-main .cc-hand');
            const swatches = [...hand.querySelectorAll('.cc-swatch')];
            const slider = hand.querySelector('[role=slider]');
            const keys = Array.from({length: 20}, (_, n) => n % 2 ? 'ArrowLeft' : 'ArrowRight');
            swatches.forEach(node => press(node));
            keys.forEach(key => press(slider, key));
            return swatches.length + keys.length;
        }"""
    )
    # The mean: the 95th percentile is the bench's.
    assert presses > 30
    assert 0 < (spent() - before) / presses < 2 * 1000 / 60
    assert problems == []
