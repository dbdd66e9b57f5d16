"""The desk's page by itself, in Chromium, over a model that plays the kernel."""

from __future__ import annotations

import base64
import re
from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest
from lab_driver import CHROMIUM_FLAGS
from page_alone import VISIONS, WIDTHS, close_page, draw, open_page, tones, wait_until_still
from playwright.sync_api import expect

from checkcloth import MIXINGS

if TYPE_CHECKING:
    from playwright.sync_api import Browser, BrowserContext, Locator, Page

pytestmark = pytest.mark.browser

# What is drawn of a colourway on the wall, in device pixels.
_CLOTH = """option => {
    const canvas = option.parentNode.querySelector('.cc-wall-canvas');
    const px = text => Math.round(parseFloat(text));
    const side = px(option.style.width);
    const {data} = canvas.getContext('2d').getImageData(
        px(option.style.left), px(option.style.top) - px(canvas.style.top), side, side);
    return {side, data: btoa(Array.from(data, byte => String.fromCharCode(byte)).join(''))};
}"""
# Move the strength slider again and again; how many frames until the wall is painted anew.
_FRAMES = """async moves => {
    const slider = document.querySelector('input[aria-label="Overlay strength"]');
    const wall = document.querySelector('.cc-wall');
    const frame = () => new Promise(requestAnimationFrame);
    const counts = [];
    for (const value of moves) {
        await frame();
        const before = wall.dataset.paints;
        slider.value = value;
        slider.dispatchEvent(new Event('input', {bubbles: true}));
        let frames = 0;
        while (wall.dataset.paints === before && frames < 100) { await frame(); frames += 1; }
        counts.push(frames);
    }
    return counts;
}"""
_TWO_FRAMES = """() => new Promise(done =>
    requestAnimationFrame(() => requestAnimationFrame(done)))"""
# What sticks out of the desk, or is cut off by what holds it.
_CUT = """() => {
    const root = document.querySelector('.cc');
    const edge = root.getBoundingClientRect().right;
    const out = [...root.querySelectorAll('*')].filter(node => node.checkVisibility()
        && !node.closest('dialog:not([open])') && node.getBoundingClientRect().right > edge + 0.5);
    const wall = root.querySelector('.cc-wall');
    const inside = wall.getBoundingClientRect().left + wall.clientLeft + wall.clientWidth;
    const canvas = wall.querySelector('canvas').getBoundingClientRect();
    return {out: out.map(node => node.className || node.tagName), cut: canvas.right - inside,
            page: document.documentElement.scrollWidth - document.documentElement.clientWidth};
}"""
_SMALL = """() => [...document.querySelectorAll('.cc :is(button, input, select, summary)')]
    .filter(node => node.checkVisibility())
    // A tick is pressed on its label as well: the two are one target.
    .map(node => [node.ariaLabel || node.textContent,
        (node.type === 'checkbox' && node.closest('label') || node).getBoundingClientRect()])
    .map(([name, {width, height}]) => [name, Math.min(width, height)])
    .filter(([, size]) => size < 24)"""
# What the kernel says where nothing holds.
NOTHING_HOLDS = {
    "running": False,
    "words": "None of 134,596 holds all of that.",
    "offers": [
        {
            "words": "ground–single: ΔE00 at least 60, to every vision asked for; lower it to 9.4",
            "button": "Ask for 9.4",
            "at_least": {"ground_apart": 9.4},
        }
    ],
}
_UNNAMED = re.compile(
    r"^\s*- (button|slider|combobox|textbox|checkbox|spinbutton|option|listbox|img|dialog)"
    r"( \[[^\]]*\])*:?\s*$",
    re.MULTILINE,
)


def open_find(page: Page) -> None:
    """Unfold the search of the wall, with its conditions."""
    page.get_by_role("button", name="Find the best that the palette holds").click()
    page.locator(".cc-find summary").click()


@pytest.fixture(scope="module")
def scrolling(chromium: Browser, chromium_path: str) -> Iterator[BrowserContext]:
    """Return a Chromium with scroll bars that take room, as they do on most desktops."""
    browser = chromium.browser_type.launch(
        executable_path=chromium_path,
        args=list(CHROMIUM_FLAGS),
        ignore_default_args=["--hide-scrollbars"],
    )
    context = browser.new_context(viewport={"width": 1320, "height": 900})
    context.new_page()  # keeps the renderer alive from one test to the next
    yield context
    browser.close()


@pytest.fixture
def page(scrolling: BrowserContext) -> Iterator[Page]:
    page = scrolling.new_page()
    page.set_default_timeout(10_000)
    yield page
    close_page(page)


def slider(page: Page, name: str) -> Locator:
    return page.get_by_role("slider", name=name, exact=True)


def option(page: Page, index: int) -> Locator:
    return page.locator(f'.cc-option[data-index="{index}"]')


def saved(page: Page) -> list[Any]:
    """Return what the page has set for the kernel, in order."""
    found: list[Any] = page.evaluate("() => window.model.saved")
    return found


def receive(page: Page, **traits: Any) -> None:
    """Let the kernel set traits."""
    page.evaluate("traits => window.model.receive(traits)", traits)
    page.evaluate("() => new Promise(done => requestAnimationFrame(() => setTimeout(done)))")


def cloth(page: Page, index: int) -> np.ndarray:
    """Return the pixels (side, side, 3) of a colourway on the wall, once it is painted."""
    wait_until_still(page)
    found = option(page, index).evaluate(_CLOTH)
    data = np.frombuffer(base64.b64decode(found["data"]), np.uint8)
    return data.reshape(found["side"], found["side"], 4)[..., :3].astype(int)


def scale(page: Page) -> int:
    """Return how many device pixels a check of the wall has."""
    return int(page.locator(".cc-wall").get_attribute("data-pixels") or 0)


def expected(colourway: Any, strength: float, pixels: int, side: int, vision: str) -> np.ndarray:
    """Return the same pixels by the definition of cloth, mixed in Python."""
    stripes = len(colourway.stripes)
    bands = [k for n in range(1, stripes + 1) for k in (n, 0)]
    at = np.array([bands[(x // pixels) % len(bands)] for x in range(side)])
    packed = np.frombuffer(tones(colourway, strength, vision), np.uint8)
    table = packed.reshape(stripes + 1, stripes + 1, 3).astype(int)
    return table[at[None, :], at[:, None]]


@pytest.mark.parametrize("mixing", MIXINGS)
def test_what_the_wall_shows_is_what_python_mixes(page, mixing):
    """Within 1/255, at every strength and for every vision, with a kernel that says nothing."""
    wall = draw(12, stripes=4, mixing=mixing)
    problems = open_page(page, wall)
    page.evaluate("() => { window.model.answers = false; }")
    for strength in (0.0, 0.37, 1.0):
        for vision in VISIONS if strength == 0.37 else ("normal",):
            receive(page, strength=strength, vision=vision)
            for index in (0, 11):
                drawn = cloth(page, index)
                wanted = expected(wall.colourways[index], strength, scale(page), len(drawn), vision)
                assert np.abs(drawn - wanted).max() <= 1, (mixing, strength, vision, index)
    assert problems == []


def test_each_at_its_own_strength_until_the_slider_is_moved(page):
    wall = draw(6)
    colourways = [one.with_(strength=0.1 + 0.1 * n) for n, one in enumerate(wall.colourways)]
    problems = open_page(page, type(wall)(colourways, [], {"strength": None}))
    strength = slider(page, "Overlay strength")
    expect(strength).to_have_attribute("aria-valuetext", "each its own")
    for index in (0, 5):
        drawn = cloth(page, index)
        own = colourways[index].strength
        wanted = expected(colourways[index], own, scale(page), len(drawn), "normal")
        assert np.abs(drawn - wanted).max() <= 1
    strength.press("ArrowRight")  # from their mean, 35 %
    expect(strength).to_have_attribute("aria-valuetext", "36 %")
    assert saved(page) == [["strength", 0.36]]
    drawn = cloth(page, 5)
    wanted = expected(colourways[5], 0.36, scale(page), len(drawn), "normal")
    assert np.abs(drawn - wanted).max() <= 1
    assert problems == []


@pytest.mark.parametrize(
    ("count", "stripes", "mixing"), [(48, 3, "source-over"), (500, 6, "pigment")]
)
def test_a_move_of_the_strength_is_painted_within_two_frames(page, count, stripes, mixing):
    problems = open_page(page, draw(count, stripes, mixing))
    page.evaluate("() => { window.model.answers = false; }")
    frames = page.evaluate(_FRAMES, [(7 * n) % 101 for n in range(1, 31)])
    assert np.percentile(frames, 95) <= 2, frames
    assert problems == []


def test_check_size_and_strength_ask_nothing_of_the_kernel(page):
    problems = open_page(page, draw(24))
    wall = page.locator(".cc-wall")
    page.evaluate("() => { window.model.answers = false; window.model.sent = []; }")
    before = cloth(page, 3)
    whole = str(scale(page))
    slider(page, "Check size").press("ArrowRight")
    expect(wall).to_have_attribute("data-pixels", whole)  # whole repeats, at any check size
    expect(page.locator(".cc-ruler")).to_have_attribute("title", "1 in, about 1/7 of true size")
    expect(slider(page, "Check size")).to_have_attribute("aria-valuetext", "3/4 in")
    page.get_by_role("radio", name="True size").click()
    expect(page.locator(".cc-main .cc-hand .cc-cloth").first).to_have_attribute("data-pixels", "72")
    page.get_by_role("button", name="As other eyes see it").click()
    slider(page, "Overlay strength").press("Home")
    page.wait_for_timeout(50)
    assert not np.array_equal(cloth(page, 3), before)
    assert len(np.unique(cloth(page, 3).reshape(-1, 3), axis=0)) == 1, "at 0 % all is ground"
    views = page.locator(".cc-main .cc-views canvas").evaluate_all(
        """all => all.map(canvas => new Set(new Uint32Array(canvas.getContext('2d')
            .getImageData(0, 0, canvas.width, canvas.height).data.buffer)).size)"""
    )
    assert views == [1] * 4, "what other eyes see follows too"
    assert saved(page) == [["size", "3/4 in"], ["strength", 0]]
    assert page.evaluate("() => window.model.sent.filter(one => one.do !== 'ping')") == []
    assert problems == []


def test_every_setting_is_written_and_read(page):
    problems = open_page(page, draw(24))
    page.get_by_role("button", name="More settings").click()
    slider(page, "Stripes").press("End")
    for name, value in (("Palette", "anniversary"), ("Ground", "Icing"), ("Mixing", "woven"),
                        ("How many", "96")):  # fmt: skip
        page.get_by_role("combobox", name=name, exact=True).select_option(value)
    assert saved(page) == [
        ["stripes", 12],
        ["palette", "anniversary"],
        ["ground", "Icing"],
        ["mixing", "woven"],
        ["count", 96],
    ]
    expect(page.get_by_role("combobox", name="Mixing")).to_have_attribute(
        "title", "meaning of woven"
    )
    receive(page, stripes=5, palette="aprons", ground="", mixing="", count=30, strength=0.2)
    expect(slider(page, "Stripes")).to_have_value("5")
    expect(slider(page, "Overlay strength")).to_have_attribute("aria-valuetext", "20 %")
    shown = {name: page.get_by_role("combobox", name=name, exact=True)
             .evaluate("one => one.selectedOptions[0].text")
             for name in ("Palette", "Ground", "Mixing", "How many")}  # fmt: skip
    assert shown == {"Palette": "aprons", "Ground": "drawn as well", "Mixing": "as each came",
                     "How many": "30 at most"}  # fmt: skip
    assert len(saved(page)) == 5, "what the kernel sets is not sent back to it"
    assert problems == []


def test_a_typed_check_size_is_asked_for_and_refused_beside_its_field(page):
    problems = open_page(page, draw(6))
    page.get_by_role("button", name="More settings").click()
    field = page.get_by_role("textbox", name="Check size, typed")
    field.fill("wide")
    field.press("Enter")
    expect(field).to_have_attribute("aria-invalid", "true")
    expect(page.get_by_text("“wide” is no length")).to_be_visible()
    expect(field).to_have_value("wide")
    field.fill("7 mm")
    field.press("Enter")
    expect(field).to_have_value("")
    expect(page.get_by_text("is no length")).to_have_count(0)
    asked = page.evaluate("() => window.model.sent.filter(one => one.do === 'size')")
    assert [one["text"] for one in asked] == ["wide", "7 mm"]
    # The kernel's answer to that: one more size, and it is the size now.
    sizes = [["1/4 in", 0.25], ["7 mm", 7 / 25.4], ["1/2 in", 0.5]]
    choices = page.evaluate("() => window.model.traits.choices") | {"sizes": sizes}
    receive(page, choices=choices, size="7 mm")
    expect(slider(page, "Check size")).to_have_attribute("aria-valuetext", "7 mm")
    expect(slider(page, "Check size")).to_have_value("1")
    expect(page.locator(".cc-main .cc-under")).to_contain_text("repeat 42 mm (1.654 in)")
    assert problems == []


def test_every_control_has_a_name_and_room_for_a_finger(page):
    problems = open_page(page, draw(24))
    receive(page, facts=page.evaluate("() => window.model.traits.facts") | {
        "limits": [{"column": "lightness", "words": "lightness under 3"}],
        "staying": [{"part": 1, "words": "stripe 1, Icing"}], "compared": [1, 2]})  # fmt: skip
    page.get_by_role("button", name="More settings").click()
    for fold in page.locator(".cc summary:visible").all():
        fold.click()
    expect(page.locator(".cc-beside-one")).to_have_count(2)
    snapshot = page.locator(".cc").aria_snapshot()
    bands = 2 * 3  # a band and a gap for each stripe
    assert snapshot.count("- slider") == 3 + bands
    assert page.get_by_role("listbox", name="Wall").aria_snapshot().count("- option") >= 15
    assert _UNNAMED.findall(snapshot) == []
    open_find(page)
    assert page.evaluate(_SMALL) == [], "24 CSS pixels at least (WCAG 2.2, success criterion 2.5.8)"
    option(page, 0).focus()
    page.keyboard.press("Enter")
    expect(page.get_by_role("dialog", name="Enlarged colourway")).to_be_visible()
    assert _UNNAMED.findall(page.get_by_role("dialog").aria_snapshot()) == []
    assert problems == []


@pytest.mark.parametrize("dark", [False, True])
@pytest.mark.parametrize("width", WIDTHS)
def test_nothing_is_cut_at_any_width(page, width, dark):
    page.set_viewport_size({"width": width, "height": 900})
    problems = open_page(page, draw(48), dark=dark)
    for _ in range(2):
        page.evaluate(_TWO_FRAMES)  # the wall lays its columns in the frame after its size
        found = page.evaluate(_CUT)
        assert found["page"] <= 0
        assert found["out"] == []
        assert found["cut"] <= 0, "the last column is whole"
        page.get_by_role("button", name="More settings").click()
    if width >= 560:  # on a phone the cloth under the hand stands first
        assert option(page, 0).bounding_box()["y"] < 200 + 300
    open_find(page)
    page.evaluate("offers => window.model.receive({ find: offers })", NOTHING_HOLDS)
    expect(page.get_by_role("button", name="Ask for 9.4")).to_be_visible()
    assert page.evaluate(_CUT)["out"] == []
    assert problems == []


def test_cloth_is_seen_early(page):
    open_page(page, draw(48))
    assert option(page, 0).bounding_box()["y"] <= 160


def test_the_wheel_goes_on_to_the_page_at_the_end_of_the_wall(page):
    open_page(page, draw(48))
    page.evaluate("() => { document.body.style.paddingBottom = '900px'; }")
    box = page.locator(".cc-wall").bounding_box()
    page.mouse.move(box["x"] + 50, box["y"] + 50)
    page.locator(".cc-wall").evaluate("wall => { wall.scrollTop = 1e6; }")
    before = page.evaluate("() => scrollY")
    page.mouse.wheel(0, 300)
    page.wait_for_function("before => scrollY > before", arg=before)
    page.locator(".cc-wall").evaluate("wall => { wall.scrollTop = 0; }")
    page.wait_for_timeout(300)
    before = page.evaluate("() => scrollY")
    page.mouse.wheel(0, -300)
    page.wait_for_function("before => scrollY < before", arg=before)


def test_the_list_of_keys_is_a_table_whatever_the_host_makes_of_lists(page):
    open_page(page, draw(6))
    option(page, 0).focus()
    page.keyboard.press("?")
    expect(page.get_by_role("dialog", name="Keys")).to_be_visible()
    keys, words = (
        [node.bounding_box() for node in page.locator(f".cc-keys {tag}").all()]
        for tag in ("dt", "dd")
    )
    assert len(keys) == len(words) > 10
    for key, word in zip(keys, words, strict=True):
        assert abs(key["y"] - word["y"]) < 1
        assert key["x"] + key["width"] <= word["x"]


def test_only_what_shows_of_five_thousand_is_in_the_document(page):
    problems = open_page(page, draw(5000))
    wall = page.locator(".cc-wall")
    assert page.locator(".cc-option").count() < 100
    option(page, 0).focus()
    page.keyboard.press("End")
    expect(option(page, 4999)).to_be_focused()
    assert page.locator(".cc-option").count() < 100
    assert cloth(page, 4999).std() > 0
    assert wall.evaluate("wall => wall.scrollTop") > 10_000
    assert problems == []


def test_a_quiet_kernel_and_a_retired_desk_are_said(page):
    problems = open_page(page, draw(12))
    page.evaluate("() => { window.model.answers = false; }")
    slider(page, "Stripes").press("ArrowRight")
    expect(page.get_by_role("alert")).to_contain_text("not answering", timeout=8000)
    page.evaluate("() => { window.model.answers = true; }")
    receive(page, stamp=2)
    expect(page.get_by_role("alert")).to_have_count(0)
    facts = page.evaluate("() => window.model.traits.facts")
    receive(page, facts=facts | {"retired": True})
    expect(page.get_by_text("This desk was closed")).to_be_visible()
    assert page.locator(".cc").evaluate("root => root.inert")
    assert problems == []


def test_nothing_listens_after_the_view_is_closed(page):
    problems = open_page(page, draw(6))
    page.evaluate("() => window.closeDesk()")
    assert page.evaluate("() => [...window.model.listeners.values()].flat().length") == 0
    receive(page, strength=0.9, size="1 in", stamp=9)
    assert problems == []


def test_a_colourway_that_has_left_the_desk_is_no_trouble(page):
    """While stripes move, the page asks about cards that the kernel has dealt away already."""
    problems = open_page(page, draw(12))
    page.evaluate("() => { window.model.details = { 7: window.model.details[7] }; }")
    option(page, 3).click()  # number 4: gone, and the news of it not yet here
    page.wait_for_timeout(200)
    assert page.locator(".cc-status").inner_text() == ""
    asked = page.evaluate("() => window.model.sent.length")
    page.wait_for_timeout(300)
    assert page.evaluate("() => window.model.sent.length") == asked, "it is not asked for ever"
    # The news: another deal, in which number 7 stands where the focus is.
    facts = page.evaluate("() => window.model.traits.facts")
    receive(page, numbers=[*range(21, 24), 7, *range(25, 33)], dealt=2, stamp=2,
            facts=facts | {"dealt": "drawn anew"})  # fmt: skip
    expect(page.locator(".cc-main .cc-hand")).not_to_have_attribute("aria-busy", "true")
    expect(page.locator(".cc-main .cc-hand-words p")).to_have_text(
        page.evaluate("() => window.model.details[7].said.title")
    )
    assert page.locator(".cc-status").inner_text() == ""
    assert problems == []


def test_keys_on_the_desk_do_nothing_to_the_notebook_around_it(page):
    """In JupyterLab X cuts the cell, 0 0 restarts the kernel, an arrow goes to the next heading."""
    problems = open_page(page, draw(12))
    page.evaluate("""() => { window.heard = [];
        document.addEventListener('keydown', event => window.heard.push(event.key)); }""")
    places = (
        option(page, 0),
        page.get_by_role("button", name="New draw"),
        slider(page, "Overlay strength"),
        page.get_by_role("combobox", name="Palette"),
    )
    for place in places:
        for key in ("x", "0", "a", "d", "ArrowRight", "ArrowDown", "Home"):
            place.focus()
            place.press(key)
    assert page.evaluate("() => window.heard") == []
    assert saved(page), "the slider itself has moved"
    places[0].focus()
    for keys in ("Shift+Enter", "Control+s"):
        page.keyboard.press(keys)
    assert {"Enter", "s"} <= set(page.evaluate("() => window.heard"))
    assert problems == []


def test_another_deal_is_taken_in_before_anything_of_it_is_drawn(page):
    """One message brings order, bands and colours; the page hears of them one after the other."""
    first, second = draw(30, stripes=3), draw(12, stripes=6, seed=2)
    problems = open_page(page, first)
    page.evaluate(
        """message => {
            const {model} = window;
            const changes = {...message.traits, dealt: 2, stamp: 2,
                facts: {...model.traits.facts, undo: '6 stripes'}};
            changes.order = changes.order.filter(index => index !== 3);
            changes.hidden = [[3, 'too faint']];
            for (const [name, text] of Object.entries(message.bytes)) {
                const bytes = Uint8Array.from(atob(text), letter => letter.charCodeAt(0));
                changes[name] = new DataView(bytes.buffer);
            }
            model.receive(changes);
        }""",
        second.message(),
    )
    expect(page.locator(".cc-wall")).to_have_attribute("data-stamp", "2")
    expect(page.locator(".cc-option")).to_have_count(11)
    for index in (0, 11):
        drawn = cloth(page, index)
        wanted = expected(second.colourways[index], 0.5, scale(page), len(drawn), "normal")
        assert np.abs(drawn - wanted).max() <= 1
    assert problems == []


def test_no_part_of_the_desk_sticks_out_at_any_width(page):
    """With scroll bars that take room; the last column is whole, and there are two at least."""
    problems = open_page(page, draw(48, 6))
    for part in ("Wall", "Range", "Colours", "Export"):
        page.get_by_role("tab", name=part).click()
        for width in range(340, 1500, 58):
            page.set_viewport_size({"width": width, "height": 768})
            page.evaluate(_TWO_FRAMES)
            found = page.evaluate(_CUT)
            assert found["page"] <= 0, (part, width)
            assert found["out"] == [], (part, width)
            if part == "Wall":
                assert found["cut"] <= 0, width
                tops = page.locator(".cc-option").evaluate_all(
                    "all => all.map(one => one.style.top)"
                )
                assert tops.count(tops[0]) >= 2, width
    assert problems == []


def test_the_search_of_the_wall_says_how_it_goes_and_asks_for_what_holds(page):
    """By keyboard alone: begin, stop, and take what is offered."""
    problems = open_page(page, draw(12))
    sent = "what => window.model.sent.filter(one => one.do === what)"
    open_find(page)
    page.wait_for_function("() => window.model.sent.some(one => one.do === 'find_estimate')")
    field = page.get_by_role("spinbutton", name="ground–single: colour difference at least")
    field.focus()
    page.keyboard.type("60")
    page.get_by_role("checkbox", name="to a deutan eye").press("Space")
    expect(page.get_by_text("Conditions (2)")).to_be_visible()
    strengths = page.get_by_role("textbox", name="Overlay strengths, %")
    strengths.fill("half")
    strengths.press("Enter")
    expect(page.get_by_text("Overlay strengths are per cents")).to_be_visible()
    assert page.evaluate(sent, "find") == []
    strengths.fill("30, 50")
    page.get_by_role("combobox", name="At most").select_option("5000")
    page.get_by_role("button", name="Still clear to every eye").press("Enter")
    (asked,) = page.evaluate(sent, "find")
    assert (asked["goal"], asked["count"], asked["visions"]) == ("every_eye", 5000, ["deutan"])
    assert asked["at_least"] == {"ground_apart": 60}
    assert asked["strengths"] == [0.3, 0.5]
    # Under way: nothing else can be begun, and a key stops it.
    receive(page, find={"running": True, "share": 0.25, "words": "25 % looked at"})
    goals = page.locator(".cc-find-goals .cc-button")
    expect(goals.first).to_have_attribute("aria-disabled", "true")
    goals.first.press("Enter")
    assert len(page.evaluate(sent, "find")) == 1
    assert page.get_by_role("progressbar", name="Search").evaluate("bar => bar.value") == 0.25
    page.get_by_role("button", name="Stop the search").press("Enter")
    assert len(page.evaluate(sent, "stop_find")) == 1
    # Nothing holds: what does is one press away, and asks for it under the same goal.
    receive(page, find=NOTHING_HOLDS)
    expect(goals.first).to_be_focused()
    expect(page.locator(".cc-find").get_by_role("status")).to_have_text(NOTHING_HOLDS["words"])
    page.get_by_role("button", name="Ask for 9.4").press("Enter")
    again = page.evaluate(sent, "find")[-1]
    assert (again["goal"], again["at_least"]["ground_apart"]) == ("every_eye", 9.4)
    assert field.input_value() == "9.4"
    assert problems == []
