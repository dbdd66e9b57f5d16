"""The lesson as a file, opened from disk in Chromium with the network closed."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest
from axe import violations
from playwright.sync_api import expect

from checkcloth import Palette
from checkcloth.cloth.named_colour import NamedColour
from checkcloth.lesson import lesson_page, teacher_page

if TYPE_CHECKING:
    from playwright.sync_api import Locator, Page

pytestmark = pytest.mark.browser

STEPS = range(1, 12)
WIDTHS = ((1280, 720), (768, 1000), (375, 800))


@pytest.fixture(scope="module")
def files(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("pages")
    lesson_page(folder / "lesson.html")
    teacher_page(folder / "teacher.html")
    return folder


Opener = Callable[..., "Page"]


@pytest.fixture
def open_page(new_page: Opener, files: Path) -> Iterator[Opener]:
    """Open a file offline; whatever goes wrong on the page fails the test at its end."""
    troubles = []

    def opened(name: str = "lesson.html", size: tuple[int, int] = (1280, 720), **more: Any) -> Page:
        page = new_page(*size, offline=True, **more)
        page.on("pageerror", lambda error: troubles.append(str(error)))
        page.on("console", lambda line: troubles.append(line.text) if line.type == "error" else 0)
        asked = troubles if not more.get("bypass_csp") else []
        page.on(
            "request",
            lambda one: asked.append(one.url) if not one.url.startswith(("file:", "blob:")) else 0,
        )
        page.goto((files / name).as_uri())
        return page

    yield opened
    assert troubles == []


def by_step(page: Page) -> None:
    page.get_by_role("button", name="Step by step").click()


def now(page: Page) -> Locator:
    return page.locator(".cl-step[data-now]")


def step(page: Page, key: str) -> Locator:
    return page.locator(f'.cl-step[data-step="{key}"]')


def sideways(page: Page) -> int:
    return int(page.evaluate("document.documentElement.scrollWidth - innerWidth"))


def overflow(page: Page) -> int:
    return int(page.evaluate("document.documentElement.scrollHeight - innerHeight"))


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("size", WIDTHS)
def test_every_step_at_every_width(open_page: Opener, size: tuple[int, int], scheme: str) -> None:
    page = open_page(size=size, color_scheme=scheme)
    assert page.locator(".cl-step").count() == 11
    assert sideways(page) == 0
    by_step(page)
    for number in STEPS:
        assert now(page).count() == 1
        assert sideways(page) == 0, number
        for picture in now(page).locator(".cl-picture").all():
            assert picture.get_attribute("aria-label")
            box = picture.bounding_box()
            assert box
            assert box["width"] > 40
        page.keyboard.press("PageDown")


@pytest.mark.parametrize("size", [(1280, 720), (1920, 1080)])
def test_question_and_answer_fit_on_a_projector(open_page: Opener, size: tuple[int, int]) -> None:
    page = open_page(size=size)
    by_step(page)
    letters = float(now(page).evaluate("node => parseFloat(getComputedStyle(node).fontSize)"))
    assert letters == pytest.approx(16 * size[1] / 720, rel=0.01)
    for number in STEPS:
        assert overflow(page) <= 0, number
        if number < 11:
            now(page).get_by_role("button", name="Don’t know").click()
            assert "Answer." in now(page).locator(".cl-shown").inner_text()
        assert overflow(page) <= 0, f"{number}, with its answer"
        page.keyboard.press("PageDown")


def test_a_whole_palette_fits_on_a_projector_too(open_page: Opener, files: Path) -> None:
    palette = Palette("own", [NamedColour(f"Dye {n}", (n / 24, 0.5, 0.5)) for n in range(24)])
    lesson_page(files / "own.html", palette=palette, overwrite=True)
    page = open_page("own.html")
    by_step(page)
    for number in STEPS:
        assert overflow(page) <= 0, number
        small = "nodes => nodes.filter(node => node.getBoundingClientRect().width < 24).length"
        assert now(page).locator(".cl-swatches button").evaluate_all(small) == 0
        page.keyboard.press("PageDown")


def test_the_caption_of_the_last_value_stands_within_two_frames(open_page: Opener) -> None:
    """Fifty moves of every slider; the words are those of the last one two frames later."""
    page = open_page()
    late = page.evaluate("""async () => {
        const late = [];
        const frame = () => new Promise(requestAnimationFrame);
        for (const step of document.querySelectorAll(".cl-step")) {
            for (const input of step.querySelectorAll('input[type="range"]')) {
                const low = Number(input.min), high = Number(input.max);
                for (let k = 0; k <= 50; k++) {
                    input.value = String(low + (high - low) * k / 50);
                    input.dispatchEvent(new Event("input", { bubbles: true }));
                    if (k % 5 === 0) await frame();
                }
                const before = step.querySelector(".cl-pictures").innerHTML.length;
                await frame(); await frame();
                const label = () => step.querySelector(".cl-picture").getAttribute("aria-label")
                    + step.innerText;
                const soon = label();
                await new Promise((done) => setTimeout(done, 100));
                if (soon !== label()) late.push(`${step.dataset.step} ${before}`);
            }
        }
        return late;
    }""")
    assert late == []


def test_keys_turn_the_steps_and_leave_sliders_and_fields_alone(open_page: Opener) -> None:
    page = open_page()
    by_step(page)
    page.keyboard.press("ArrowRight")
    assert now(page).get_attribute("data-step") == "kinds"
    assert now(page).locator("h2").evaluate("node => node === document.activeElement")
    slider = now(page).get_by_role("slider", name="Strength")
    slider.focus()
    page.keyboard.press("ArrowRight")
    assert now(page).get_attribute("data-step") == "kinds"
    assert slider.input_value() == "31"
    assert slider.get_attribute("aria-valuetext") == "31 per cent"
    field = now(page).get_by_label("Warp stripe", exact=True)
    field.focus()
    page.keyboard.press("ArrowRight")
    assert now(page).get_attribute("data-step") == "kinds"
    swatches = now(page).get_by_role("radiogroup")
    swatches.locator('[tabindex="0"]').focus()
    page.keyboard.press("ArrowRight")
    assert field.input_value() == "Honey"
    assert swatches.get_by_role("radio", name="Honey").evaluate(
        "node => node === document.activeElement"
    )
    now(page).locator("h2").evaluate("node => node.focus()")
    for _ in range(20):
        page.keyboard.press("PageDown")
    assert now(page).get_attribute("data-step") == "task"
    page.keyboard.press("PageUp")
    assert now(page).get_attribute("data-step") == "vision"


def test_all_of_a_step_is_reached_by_tab(open_page: Opener) -> None:
    page = open_page()
    by_step(page)
    now(page).locator("h2").evaluate("node => node.focus()")
    reached = []
    for _ in range(9):
        page.keyboard.press("Tab")
        reached.append(page.evaluate(
            "(document.activeElement.getAttribute('aria-label') ?? '') + '|'"
            " + (document.activeElement.closest('label')?.innerText ?? '')"
            " + '|' + document.activeElement.textContent"
        ))  # fmt: skip
    words = "\n".join(reached)
    for wanted in ("Strength", "Warp stripe", "Weft stripe", "Ground", "Icing|", "Your answer"):
        assert wanted in words
    assert "Don’t know" in words


def test_a_word_that_is_no_colour_is_said_and_the_old_colour_stays(open_page: Opener) -> None:
    page = open_page()
    first = step(page, "crossing")
    field = first.get_by_label("Weft stripe", exact=True)
    field.fill("teel")
    field.press("Tab")
    said = first.locator(".cl-colours [role=alert]")
    assert said.inner_text() == (
        "“teel” is no colour we know. Try teal, or a code such as #8fc7c1."
    )
    assert field.get_attribute("aria-invalid") == "true"
    label = first.locator(".cl-picture").first.get_attribute("aria-label")
    assert "Duck Egg Shell" in (label or "")
    for text, name in (("teal", "teal"), ("#ABC", "#aabbcc"), ("  ink blue ", "Ink Blue")):
        field.fill(text)
        field.press("Tab")
        assert field.input_value() == name
        assert said.inner_text() == ""
        page.wait_for_function(
            "([node, name]) => node.getAttribute('aria-label').includes(name)",
            arg=[first.locator(".cl-picture").first.element_handle(), name],
        )


def test_ones_own_answer_comes_first(open_page: Opener) -> None:
    page = open_page()
    asked = step(page, "depth")
    show = asked.get_by_role("button", name="Show the answer")
    trial = asked.get_by_role("button", name="Try mine")
    assert show.is_disabled()
    assert trial.is_disabled()
    laid, woven = asked.locator(".cl-number").all()
    laid.fill("45")
    assert show.is_disabled()  # one of two answers
    assert trial.is_enabled()
    trial.click()
    assert asked.get_by_role("slider").input_value() == "45"
    page.wait_for_function(
        "node => node.textContent.includes('69.75')", arg=asked.locator(".cl-sums").element_handle()
    )
    laid.fill("450")
    trial.click()
    wrong = asked.locator(".cl-ask [role=alert]").inner_text()
    assert "is beyond the slider. Try 0 to 100" in wrong
    laid.fill("70")
    woven.fill("90")
    assert "Answer." not in asked.inner_text()
    show.click()
    words = asked.locator(".cl-shown").inner_text().replace("\u00a0", " ")
    # 1 − √0.1 is 0.684: the first whole per cent above it.
    assert "Laid over, 69 %" in words
    assert "You answered 70 % (laid over), 90 % (woven). It stays in what you hand in." in words
    assert laid.get_attribute("readonly") is not None
    expect(show).to_be_focused()  # it goes once the focus moves on
    page.keyboard.press("Tab")
    expect(show).to_be_hidden()


def test_what_is_said_aloud_waits_for_the_end_of_a_drag(open_page: Opener) -> None:
    page = open_page()
    heard = page.evaluate("""async () => {
        const step = document.querySelector(".cl-step");
        const aloud = step.querySelector("[aria-live=polite].cl-unseen");
        const input = step.querySelector('input[type="range"]');
        await new Promise((done) => setTimeout(done, 500));
        const heard = [aloud.textContent];
        for (let k = 31; k < 50; k++) {
            input.value = String(k);
            input.dispatchEvent(new Event("input", { bubbles: true }));
            await new Promise(requestAnimationFrame);
            if (heard.at(-1) !== aloud.textContent) heard.push(aloud.textContent);
        }
        await new Promise((done) => setTimeout(done, 600));
        heard.push(aloud.textContent);
        await new Promise((done) => setTimeout(done, 3100));
        return [...heard, aloud.textContent];
    }""")
    # Eleven steps that each say something as the page opens are a chorus; and whoever reads on
    # after a move meets its words once, in the step.
    assert len(heard) == 3
    assert heard[0] == heard[2] == ""
    assert "covers 49 of" in heard[1]


def test_a_step_is_heard_in_the_order_in_which_it_is_understood(open_page: Opener) -> None:
    """As a screen reader goes: heading, words, pictures, what can be moved, what comes of it."""
    page = open_page()
    for one in page.locator(".cl-step").all():
        order = one.evaluate(
            "node => [...node.querySelectorAll('h2, .cl-words, .cl-pictures, .cl-sliders,"
            " .cl-fields, .cl-sums, .cl-goals, .cl-ask')]"
            ".map(part => part.className || part.tagName)"
        )
        after = ["cl-goals"] if one.get_attribute("data-step") == "task" else ["cl-sums"]
        parts = ["H2", "cl-words", "cl-pictures", "cl-sliders", "cl-fields", *after, "cl-ask"]
        assert [part.split()[0] for part in order] == parts
    heard = step(page, "pastel").aria_snapshot()
    # A picture with anything but itself in it is passed over by some screen readers.
    assert re.search(r"- img \"colour difference from the ground over strength; [^\"]+\"\n", heard)
    assert 'columnheader "colour difference"' in heard
    answered = step(page, "order")
    unsure = answered.get_by_role("button", name="Don’t know")
    unsure.focus()
    page.keyboard.press("Enter")
    expect(unsure).to_be_focused()  # the answer is told where it stands: once
    expect(answered.locator("[aria-live=polite] p").first).to_contain_text("Answer.")


def test_answers_are_kept_until_they_are_handed_in(open_page: Opener, tmp_path: Path) -> None:
    page = open_page()
    first = step(page, "crossing")
    first.locator(".cl-number").fill("40")
    first.get_by_role("button", name="Show the answer").click()
    step(page, "kinds").locator("select").select_option("woven")
    task = step(page, "task")
    task.get_by_label("Name").fill("Ada <b>Lovage</b>")
    task.get_by_label("Class").fill("10 b & c")
    page.reload()
    assert first.locator(".cl-number").input_value() == "40"
    assert "Answer." in first.inner_text()
    assert step(page, "kinds").locator("select").input_value() == "woven"
    task.get_by_label("Stripe 1", exact=True).fill("Ink Blue")
    slider = task.get_by_role("slider")
    slider.fill("30")
    met = task.locator(".cl-goal").filter(has_text="Met.")
    page.wait_for_function("document.querySelectorAll('.cl-goal').length === 2")
    met.nth(1).wait_for()
    with page.expect_download() as download:
        task.get_by_role("button", name="Save my work as a file").click()
    assert download.value.suggested_filename == "mixing-ada-b-lovage-b.html"
    path = tmp_path / "handed.html"
    download.value.save_as(path)
    text = path.read_text("utf-8")
    assert "<b>Lovage" not in text
    page.reload()
    assert first.locator(".cl-number").input_value() == ""

    handed = page.context.new_page()
    handed.goto(path.as_uri())
    words = handed.locator("main").inner_text()
    assert "Ada <b>Lovage</b>, 10 b & c" in words
    rows = handed.locator("tbody tr")
    assert rows.count() == 10
    assert "40\u00a0%" in rows.nth(0).inner_text()
    assert "seen after" in rows.nth(0).inner_text()
    assert "woven" in rows.nth(1).inner_text()
    assert "nothing written" in rows.nth(2).inner_text()
    assert "Ink Blue" in words
    assert words.count("Met.") == 2
    assert handed.locator("img").evaluate("image => image.complete && image.naturalWidth") == 540
    handed.set_viewport_size({"width": 360, "height": 800})
    assert sideways(handed) == 0
    assert "Own answer: 40" in rows.nth(0).locator("td").nth(1).evaluate(
        "cell => getComputedStyle(cell, '::before').content.replaceAll('\"', '') + cell.innerText"
    )
    handed.close()


def test_a_file_without_a_name_is_warned_of_once(open_page: Opener) -> None:
    """Twenty files called no-name help no teacher."""
    page = open_page()
    task = step(page, "task")
    save, said = (
        task.get_by_role("button", name="Save my work as a file"),
        task.get_by_role("status"),
    )
    save.click()
    assert "no name yet" in said.last.inner_text()
    with page.expect_download() as download:
        save.click()
    assert download.value.suggested_filename == "mixing-no-name.html"
    assert "mixing-no-name.html" in said.last.inner_text()


def test_words_and_steps_begin_on_one_line(open_page: Opener) -> None:
    page = open_page(size=(1400, 900))
    left = "node => node.getBoundingClientRect().left"
    first = page.locator(".cl-introduction p").first.evaluate(left)
    assert first == page.locator(".cl-step h2").first.evaluate(left)
    # No name of the lesson's own colours is cut short.
    cut = (
        "nodes => nodes.filter(node => node.scrollWidth > node.clientWidth).map(node => node.value)"
    )
    assert page.locator(".cl-field .cl-input").evaluate_all(cut) == []


def test_begin_again_forgets(open_page: Opener) -> None:
    page = open_page()
    step(page, "crossing").locator(".cl-number").fill("40")
    page.get_by_role("button", name="Begin again").click()
    assert step(page, "crossing").locator(".cl-number").input_value() == ""
    page.reload()
    assert step(page, "crossing").locator(".cl-number").input_value() == ""


def test_what_another_program_left_there_does_no_harm(open_page: Opener) -> None:
    page = open_page()
    for left in ("{", "7", '{"steps": 3}', '{"steps": {"crossing": {"said": 4, "at": []}}}'):
        page.evaluate("text => localStorage.setItem('checkcloth lesson in mixing', text)", left)
        page.reload()
        assert page.locator(".cl-step").count() == 11


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("size", [(1280, 720), (375, 800)])
def test_axe_finds_nothing(open_page: Opener, size: tuple[int, int], scheme: str) -> None:
    page = open_page(size=size, color_scheme=scheme, bypass_csp=True)
    for number in range(10):
        page.locator(".cl-step").nth(number).get_by_role("button", name="Don’t know").click()
    field = step(page, "order").get_by_label("Stripe 1", exact=True)
    field.fill("teel")
    field.press("Tab")
    assert violations(page) == []
    by_step(page)
    for _ in STEPS:
        assert violations(page) == []
        page.keyboard.press("PageDown")


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_the_teachers_page(open_page: Opener, scheme: str) -> None:
    page = open_page("teacher.html", color_scheme=scheme, bypass_csp=True)
    assert violations(page) == []
    page.set_viewport_size({"width": 375, "height": 800})
    assert sideways(page) == 0


def test_without_scripts_the_pictures_stand_still(open_page: Opener) -> None:
    page = open_page(java_script_enabled=False)
    pictures = page.locator("img")
    assert pictures.count() == 11
    assert re.search(r"\d %", pictures.first.get_attribute("alt") or "")
    box = pictures.first.bounding_box()
    assert box
    assert box["width"] > 300


def test_the_lesson_in_firefox(firefox_page: Any, files: Path, tmp_path: Path) -> None:
    """The same file in another browser: steps by key, a colour typed, a slider moved, an answer."""
    firefox_page.open_file(files / "lesson.html")
    assert firefox_page.evaluate("() => document.querySelectorAll('.cl-step').length") == 11
    firefox_page.click('.cl-mode [data-mode="screen"]')
    assert firefox_page.text(".cl-step[data-now] h2").startswith("1")
    firefox_page.click(".cl-step[data-now] .cl-field input")
    firefox_page.press("Control+a")
    firefox_page.type("teel")
    firefox_page.press("Tab")
    assert "Try teal" in firefox_page.text(".cl-step[data-now] .cl-colours [role=alert]")
    firefox_page.evaluate("() => document.querySelector('.cl-step[data-now] [type=range]').focus()")
    firefox_page.press("ArrowRight")
    firefox_page.wait_for(
        "() => document.querySelector('.cl-step[data-now]').innerText.includes('covers 31 of')"
    )
    firefox_page.click(".cl-step[data-now] .cl-plain")
    assert "At 50" in firefox_page.text(".cl-step[data-now] .cl-shown")
    wide = firefox_page.evaluate("() => document.documentElement.scrollWidth - innerWidth")
    assert wide <= 0
    firefox_page.screenshot(tmp_path / "firefox.png")
    assert firefox_page.problems == []
    assert firefox_page.requests == []
