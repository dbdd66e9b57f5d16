"""The page that travels, opened from a file with the network closed, in every browser there is."""

from __future__ import annotations

import io
import json
import re
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from threading import Thread
from typing import TYPE_CHECKING, Any

import axe
import numpy as np
import pytest
from lab_driver import free_port
from playwright.sync_api import expect
from pypdf import PdfReader
from tea_rooms import OPTIONS, colour, many, tea_rooms

from checkcloth import (
    MIXINGS,
    Check,
    Chosen,
    ChosenSet,
    Colourway,
    match_answers,
    range_page,
    read_answers,
    tile_pixels,
)

if TYPE_CHECKING:
    from firefox_driver import FirefoxPage
    from playwright.sync_api import Page

pytestmark = pytest.mark.browser

HOSTILE = "<img src=x onerror=alert(1)>&amp;</script>"
# A cloth's pixels, as the page drew them.
_CLOTH = """number => {
    const canvas = document.querySelector(`#card-${number} canvas`);
    const {width, height} = canvas;
    const {data} = canvas.getContext('2d').getImageData(0, 0, width, height);
    return {width, height, pixels: Number(canvas.dataset.pixels), data: Array.from(data)};
}"""
_CHIP_GAPS = """number => [...document.querySelectorAll(`#card-${number} .chips .chip`)]
    .map(chip => chip.getBoundingClientRect())
    .map(({left}, at, all) => (at ? left - all[at - 1].right : 0)).slice(1)"""
_SIDEWAYS = "() => document.documentElement.scrollWidth - document.documentElement.clientWidth"
_TEXT = "() => document.querySelector('textarea[aria-label=\"What goes back\"]').value"
_SMALL = """least => [...document.querySelectorAll(':is(button, input, select, a, textarea)')]
    .filter(node => node.checkVisibility({visibilityProperty: true}) && !node.closest('.unseen'))
    .map(node => [node.ariaLabel || node.textContent || node.className,
        (node.closest('label') ?? node).getBoundingClientRect()])
    .map(([name, {width, height}]) => [name, Math.min(width, height)])
    .filter(([, side]) => side < least)"""

# What was refused of things put into the page, and whether anything of them ran.
_INJECT = """async address => {
    const refused = [];
    addEventListener('securitypolicyviolation', event => refused.push(event.effectiveDirective));
    const put = (tag, fields) =>
        document.body.append(Object.assign(document.createElement(tag), fields));
    put('div', {innerHTML: '<img src="data:," onerror="window.torn = 1">'});
    put('script', {textContent: 'window.torn = 2'});
    put('style', {textContent: 'body { display: none }'});
    put('img', {src: `${address}a.png`});
    put('iframe', {src: address});
    await fetch(address).catch(() => {});
    await new Promise(done => setTimeout(done, 300));
    return [...new Set(refused)].sort().concat(String(window.torn));
}"""


@pytest.fixture
def range_file(tmp_path: Path) -> Path:
    return range_page(tea_rooms(), None, tmp_path / "range.html", **OPTIONS)


class Opened:
    """A page with everything that goes wrong on it written down."""

    def __init__(self, page: Page, file: Path) -> None:
        self.page = page
        self.problems: list[str] = []
        self.page.on("pageerror", lambda error: self.problems.append(str(error)))
        self.page.on("console", lambda said: self.problems.append(said.text))
        self.page.on("request", self._asked)
        self.page.on("dialog", lambda dialog: self.problems.append(dialog.message))
        self.address = file.as_uri()
        self.page.goto(self.address)

    def _asked(self, request: Any) -> None:
        if request.url != self.address and not request.url.startswith(("data:", "blob:")):
            self.problems.append(request.url)


@pytest.fixture
def opened(new_page):
    """Return a function that opens a file offline."""
    made: list[Opened] = []

    def open_file(file: Path, width: int = 1280, **more: Any) -> Opened:
        page = new_page(width, 900 if width > 640 else 800, offline=True, **more)
        made.append(Opened(page, file))
        return made[-1]

    yield open_file
    for one in made:
        assert one.problems == []


def faults(page: Page) -> list[str]:
    """What axe-core finds (WCAG 2.2 A and AA, and its own best practice)."""
    page.evaluate(axe.source())
    found = page.evaluate("async () => (await axe.run()).violations")
    return [f"{one['id']}: {node['html'][:160]}" for one in found for node in one["nodes"]]


def expected(colourway: Colourway, check: Check, pixels: int, side: int) -> np.ndarray:
    """The kit's own tile at that many pixels a check, over a square of cloth."""
    tile, dpi = tile_pixels(colourway, check, round(pixels / check.size.inches))
    assert dpi == round(pixels / check.size.inches)
    times = -(-side // min(tile.shape[:2]))
    return np.tile(tile, (times, times, 1))[:side, :side]


def assert_drawn(drawn: dict[str, Any], colourway: Colourway, check: Check) -> None:
    side, pixels = drawn["width"], int(drawn["pixels"])
    seen = np.array(drawn["data"]).reshape(drawn["height"], side, 4)[..., :3]
    wanted = expected(colourway, check, pixels, side).astype(int)
    assert np.abs(seen - wanted).max() <= 1


def mixed_range() -> ChosenSet:
    """One colourway of each mixing, with options of their own."""
    stripes = [colour(one) for one in ("Faded Violet", "Duck Egg Shell", "Primrose Bank")]
    more = {"woven": {"warp_share": 0.3}, "source-over-linear": {"yule_nielsen": 2}}
    cloths = [
        Colourway(colour("Icing"), stripes, 0.6, one, one, **more.get(one, {})) for one in MIXINGS
    ]
    return ChosenSet(Check("1/2 in", 3), cloths, "Mixings")


def uneven_range() -> ChosenSet:
    """Bands of several widths, the weft's own colours and order."""
    stripes = [colour(one) for one in ("Faded Violet", "Duck Egg Shell")]
    weft = [colour("Peach Skin"), colour("Primrose Bank"), colour("Cowslip Green")]
    cloth = Colourway(colour("Icing"), stripes, 0.6, "woven", "Uneven", weft_stripes=weft)
    check = Check(
        "1/2 in",
        2,
        warp="3 A, 1 ground, 1/2 B, 2 ground",
        weft="1 A, 2 B, 1 ground, 1 C",
        weft_stripes=3,
    )
    return ChosenSet(check, [cloth], "Uneven")


# -- both browsers --------------------------------------------------------------------------------


@pytest.mark.parametrize("made", [mixed_range, uneven_range])
def test_every_cloth_is_drawn_as_the_kit_draws_it(opened, tmp_path, made):
    chosen = made()
    page = opened(range_page(chosen, None, tmp_path / "mixings.html")).page
    for number, one in enumerate(chosen, 1):
        assert_drawn(page.evaluate(_CLOTH, number), one, chosen.check_for(one))
        # Chips of the warp, of the weft's own, and the ground's stand apart.
        gaps = page.evaluate(_CHIP_GAPS, number)
        parts = [len(one.stripes), len(one.weft_stripes), 1]
        ends = {sum(parts[:n]) - 1 for n in (1, 2)}
        assert [at for at, gap in enumerate(gaps) if gap > 4] == sorted(ends)


def test_firefox_draws_answers_and_remembers(firefox_page: FirefoxPage, tmp_path):
    chosen = mixed_range()
    file = range_page(chosen, None, tmp_path / "mixings.html", reference="QH 5")
    firefox_page.open_file(file)
    for number, one in enumerate(chosen, 1):
        assert_drawn(firefox_page.evaluate(_CLOTH, number), one, chosen.check_for(one))
    for number, say in ((1, "yes"), (2, "no")):
        firefox_page.click(f"#card-{number} input[value={say}]", kind="touch")
    firefox_page.click("#card-2 .plain")
    firefox_page.type("too pale")
    firefox_page.open_file(file)
    found = read_answers(firefox_page.evaluate(_TEXT))
    assert [(one.answer, one.remark) for one in found.answers[:2]] == [
        ("yes", ""), ("no", "too pale"),
    ]  # fmt: skip
    firefox_page.click("#card-1 .see")
    label = "() => document.activeElement.getAttribute('aria-label')"
    assert firefox_page.evaluate(label) == "Close, back to the range"
    firefox_page.press("Escape")
    assert firefox_page.evaluate("() => document.activeElement.className") == "see"
    assert firefox_page.evaluate(_SIDEWAYS) == 0
    assert not firefox_page.problems
    assert not [one for one in firefox_page.requests if not one.startswith(("file:", "data:"))]
    refused = firefox_page.evaluate(_INJECT, f"http://127.0.0.1:{free_port()}/")
    assert {"connect-src", "script-src-attr", "script-src-elem", "img-src"} <= set(refused)
    assert refused[-1] == "undefined", "nothing of it ran"


# -- looks ----------------------------------------------------------------------------------------


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("width", [1280, 768, 360])
def test_nothing_is_found_by_axe_and_nothing_sticks_out(opened, range_file, width, scheme):
    page = opened(range_file, width, color_scheme=scheme, has_touch=width == 360).page
    assert faults(page) == []
    assert page.evaluate(_SIDEWAYS) == 0
    assert page.evaluate(_SMALL, 44 if width == 360 else 24) == []
    # White whatever the reader's system says.
    assert (
        page.evaluate("() => getComputedStyle(document.body).backgroundColor")
        == "rgb(255, 255, 255)"
    )
    page.locator(".see").first.click()
    assert faults(page) == []
    page.keyboard.press("Escape")
    for tick in page.locator(".beside-tick input").all()[:3]:
        tick.check()
    page.get_by_role("button", name="See 3 beside").click()
    assert faults(page) == []
    assert page.evaluate(_SIDEWAYS) == 0


@pytest.mark.parametrize("board", ["Grey", "Black"])
def test_the_boards_keep_their_contrast(opened, range_file, board):
    page = opened(range_file).page
    page.get_by_label("Board").select_option(board)
    page.get_by_label("Show colour codes").check()
    page.locator(".three input").first.check()
    assert faults(page) == []


def test_more_than_two_dozen_fold(opened, tmp_path):
    page = opened(range_page(many(27), None, tmp_path / "many.html")).page
    families = page.locator("details.family")
    assert families.count() == 9
    assert [family.get_attribute("open") is not None for family in families.all()].count(True) == 1
    page.get_by_text("Room 2").click()
    expect(page.locator("#card-4 canvas")).to_be_visible()
    assert faults(page) == []


# -- the reader's way through ---------------------------------------------------------------------


def test_the_whole_way_by_keyboard(opened, range_file):
    page = opened(range_file).page
    page.get_by_role("slider", name="Check size").focus()
    page.keyboard.press("ArrowRight")
    expect(page.locator(".slider output").first).to_have_text("1 in")
    page.keyboard.press("Tab")
    page.keyboard.press("ArrowLeft")
    drawn = page.get_by_role("button", name="As drawn")
    assert "Seen last at: check 1 in, strength 45 %" in page.evaluate(_TEXT)
    drawn.focus()
    page.keyboard.press("Enter")
    expect(drawn).to_be_hidden()
    expect(page.get_by_role("slider", name="Check size")).to_be_focused()
    assert "Seen last" not in page.evaluate(_TEXT)

    see = page.locator("#card-2 .see")
    see.focus()
    page.keyboard.press("Enter")
    # Not the first thing in it: a screen reader is there by then, and would say nothing.
    large = page.get_by_role("dialog", name="2 Violet three")
    expect(large.get_by_role("button", name="Close, back to the range")).to_be_focused()
    page.get_by_role("radio", name="Repeat").focus()
    for words in ("Lay a ruler", "Tablecloth 60 × 60 in, flat", "Tea towel 20 × 28", "Napkin 18"):
        page.keyboard.press("ArrowRight")
        expect(page.locator("dialog .told p").first).to_contain_text(words)
    page.get_by_role("button", name="Next cloth").focus()
    page.keyboard.press("Enter")
    expect(page.get_by_role("button", name="Next cloth")).to_be_focused()
    expect(page.locator("dialog [aria-live=polite]")).to_contain_text("3, Violet two: Faded Violet")
    page.get_by_role("radiogroup", name="Your answer to 3").last.get_by_label("No").focus()
    page.keyboard.press(" ")
    page.keyboard.press("Escape")
    expect(page.locator("#card-3 .see")).to_be_focused()
    expect(page.locator("#card-3 input[value=no]")).to_be_checked()

    page.locator("#card-3 input[value=no]").focus()
    page.keyboard.press("ArrowLeft")
    assert "3 Violet two: maybe" in page.evaluate(_TEXT)
    page.keyboard.press(" ")
    assert "3 Violet two: no answer" in page.evaluate(_TEXT), "a second press takes it back"


def test_a_fifth_beside_is_refused_and_said(opened, range_file):
    page = opened(range_file).page
    ticks = page.locator(".beside-tick input").all()
    ticks[0].check()
    expect(page.get_by_role("button", name="Tick one more")).to_be_disabled()
    for tick in ticks[1:4]:
        tick.check()
    # By keys: after the last cloth, before the foot, where the bar is gone.
    page.get_by_role("button", name="Add a remark on 9").focus()
    page.keyboard.press("Tab")
    expect(page.get_by_role("button", name="See 4 beside")).to_be_focused()
    ticks[4].click()
    expect(page.get_by_role("alert")).to_have_text("Four at most: take one away first.")
    assert not ticks[4].is_checked()
    page.get_by_role("button", name="See 4 beside").click()
    for number in (1, 2, 3):
        page.locator(".besides").get_by_role("button", name="Take away").first.click()
        assert page.locator("dialog.many").evaluate("node => node.open") is (number < 3)


def test_there_and_back_by_file_and_by_text(opened, range_file, tmp_path):
    one = opened(range_file)
    page = one.page
    page.locator("#card-1 input[value=yes]").check()
    page.locator("#card-4").get_by_role("button", name="Add a remark").click()
    page.keyboard.type("Could the almond be\na little weaker?")
    page.locator("#card-4 input[value=maybe]").check()
    page.get_by_label("Your name").fill("A. Client")
    page.get_by_label("A remark on all of them").fill("soon, please")
    with page.expect_download() as download:
        page.get_by_role("button", name="Save as a file").click()
    file = tmp_path / "sent.json"
    download.value.save_as(file)
    assert download.value.suggested_filename == "Tea-rooms-spring-answers.json"
    by_file, by_text = read_answers(file), read_answers(page.evaluate(_TEXT))
    assert by_file.answers == by_text.answers
    assert (by_text.reference, by_text.sender, by_text.remark) == (
        "QH 26-04", "A. Client", "soon, please",
    )  # fmt: skip
    matched = match_answers(by_file, tea_rooms())
    said = {index: (said.answer, said.remark) for index, said in matched.found if said.answer}
    assert said == {0: ("yes", ""), 3: ("maybe", "Could the almond be a little weaker?")}
    assert matched.gone == ()
    # A reload remembers; the next edition of the page begins anew.
    page.reload()
    assert read_answers(page.evaluate(_TEXT)) == by_text
    expect(page.locator("#card-4 textarea")).to_be_visible()


def test_what_is_copied_is_what_is_seen(opened, range_file):
    one = opened(range_file, permissions=("clipboard-read", "clipboard-write"))
    one.page.get_by_role("button", name="Copy for a mail").click()
    expect(one.page.get_by_text("Copied. Paste it into a mail")).to_be_visible()
    copied = one.page.evaluate("() => navigator.clipboard.readText()")
    assert copied.replace("\r\n", "\n") == one.page.evaluate(_TEXT)


def test_it_works_where_nothing_may_be_stored(opened, range_file, chromium):
    one = opened(range_file)
    one.page.add_init_script(
        "Object.defineProperty(window, 'localStorage',"
        " {get() { throw new DOMException('no', 'SecurityError'); }})"
    )
    one.page.reload()
    one.page.locator("#card-1 input[value=yes]").check()
    assert "1 Violet six: yes" in one.page.evaluate(_TEXT)


# -- closed ---------------------------------------------------------------------------------------


def test_markup_in_names_is_text(opened, tmp_path):
    cloth = Colourway(colour("Icing"), [colour("Peach Skin")], 0.5, name=HOSTILE)
    chosen = ChosenSet(Check("1/2 in", 1), [Chosen(cloth, HOSTILE, family=HOSTILE)], HOSTILE)
    page = opened(range_page(chosen, None, tmp_path / "hostile.html", note=HOSTILE)).page
    assert page.title() == HOSTILE
    assert page.locator("h1").inner_text() == HOSTILE
    expect(page.locator("#card-1 .card-note")).to_have_text(HOSTILE)
    page.locator(".see").click()
    expect(page.locator("dialog h2").first).to_contain_text(HOSTILE)
    assert page.locator("img").count() == 0
    assert read_answers(page.evaluate(_TEXT)).answers[0].answer == ""


def test_no_request_and_no_other_script(chromium, range_file):
    """What an injected handler, script, style sheet, picture or request would do is refused."""
    context = chromium.new_context()
    one = Opened(context.new_page(), range_file)
    asked: list[str] = []

    class Listener(BaseHTTPRequestHandler):
        def do_GET(self) -> None:
            asked.append(self.path)
            self.send_error(404)

        def log_message(self, *_: object) -> None:
            pass

    server = ThreadingHTTPServer(("127.0.0.1", 0), Listener)
    Thread(target=server.serve_forever, daemon=True).start()
    refused = one.page.evaluate(_INJECT, f"http://127.0.0.1:{server.server_port}/")
    server.shutdown()
    server.server_close()
    assert refused == ["connect-src", "frame-src", "img-src", "script-src-attr",
                       "script-src-elem", "style-src-elem", "undefined"]  # fmt: skip
    assert asked == []
    context.close()


def test_without_scripts_there_are_still_pictures(opened, range_file):
    page = opened(range_file, java_script_enabled=False).page
    expect(page.locator("noscript, .still").get_by_text("Violet six")).to_be_visible()
    assert page.locator(".still img").count() == 9
    assert page.evaluate("() => document.querySelector('.still img').naturalWidth") == 96


# -- on paper -------------------------------------------------------------------------------------


@pytest.mark.parametrize(("paper", "most"), [("A4", 1), ("Letter", 2)])
def test_nine_print_on_a_sheet_with_answers_to_tick(opened, range_file, paper, most):
    page = opened(range_file).page
    page.locator("#card-1 input[value=yes]").check()
    pages = PdfReader(io.BytesIO(page.pdf(format=paper))).pages
    assert len(pages) <= most
    text = "".join(one.extract_text() for one in pages)
    assert "1/4 of true size, printed at 100 %" in text
    assert text.count("Maybe") == 9
    assert "■" in text
    assert "Send back" not in text
    # Back on the screen all is as it was.
    assert re.fullmatch(
        r"\d+px", page.locator("#card-1 canvas").evaluate("node => node.style.width")
    )


def test_the_data_of_the_page_is_what_was_given(opened, range_file):
    data = json.loads(opened(range_file).page.locator("#range-data").text_content())
    assert data["reference"] == "QH 26-04"
