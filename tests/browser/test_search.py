"""The search in a real JupyterLab: say what is wanted, start, stop, shortlist, wall."""

from __future__ import annotations

import ast
import re
import time
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from checkcloth import delta_e_2000, srgb_to_lab

pytestmark = pytest.mark.browser

BLOCKS = ((38, 78, 92), (186, 64, 48), (222, 170, 70))


@pytest.fixture
def form(lab, request):
    """Open the notebook, run it as far as the form, or all of it, and return its output."""
    lab.open_notebook("search.ipynb", stays=True)
    place = next(
        i for i, cell in enumerate(lab.cells()) if "search_form(" in "".join(cell["source"])
    )
    lab.run_all(before=None if hasattr(request, "param") else place + 1)
    return lab.output(place)


def ask(lab, expression):
    return ast.literal_eval(lab.ask(expression))


def until(lab, expression, limit=60):
    """Wait until the kernel says that an expression is true."""
    end = time.monotonic() + limit
    while not ask(lab, f"bool({expression})"):
        assert time.monotonic() < end, f"waited {limit} s for {expression}"
        lab.page.wait_for_timeout(100)


def type_in(form, name, text):
    """Type into a field of the form, and leave it."""
    field = form.get_by_label(name, exact=True)
    field.fill(text)
    field.press("Tab")


@pytest.mark.parametrize("width", [1400, 700])
def test_every_field_has_room_for_its_value(lab, form, width):
    lab.page.set_viewport_size({"width": width, "height": 1000})
    fields = form.locator(".cc-search-fields :is(input:not([type=checkbox]), select)")
    seen = fields.locator("visible=true")
    widths = seen.evaluate_all("found => found.map(one => one.getBoundingClientRect().width)")
    assert len(widths) == 21
    assert min(widths) >= (200 if width == 1400 else 120)
    if width == 1400:  # what comes after the longest column stands beside it
        hold, best = (form.locator(".cc-search-fields > .cc-part").nth(i) for i in (2, 3))
        edges = [part.evaluate("one => one.getBoundingClientRect().toJSON()")
                 for part in (hold, best)]  # fmt: skip
        assert edges[1]["top"] < edges[0]["bottom"]
    cut = form.locator(".cc-search-fields .widget-label:visible").evaluate_all(
        "found => found.filter(one => one.scrollWidth > one.clientWidth + 1)"
        ".map(one => one.textContent)"
    )
    assert cut == []
    # The longest choice of each list box is read whole, with room for its arrow.
    tight = seen.evaluate_all(
        """found => found.filter(one => one.matches('select:not([multiple])')).flatMap(one => {
            const pen = document.createElement('canvas').getContext('2d');
            const style = getComputedStyle(one);
            pen.font = style.font;
            const room = one.clientWidth - parseFloat(style.paddingLeft)
                - parseFloat(style.paddingRight) - 20;
            return [...one.options].map(o => o.text).filter(t => pen.measureText(t).width > room);
        })"""
    )
    assert tight == []


@pytest.fixture
def picture(tmp_path):
    """Make a picture of three colours, with a grain that does not compress."""

    def make(side: int) -> Path:
        grain = np.random.default_rng(3).integers(-6, 7, (side, side, 3))
        blocks = np.array(BLOCKS)[(np.arange(side) * 3 // side)]
        path = tmp_path / f"shelf-{side}.png"
        pixels = np.broadcast_to(blocks[None], (side, side, 3)) + grain
        Image.fromarray(pixels.astype(np.uint8)).save(path, compress_level=1)
        return path

    return make


@pytest.mark.parametrize(("side", "words"), [(150, "kB"), (2600, "MB, sent smaller")])
def test_a_photograph_of_any_size_is_taken_by_one_choice(lab, form, picture, side, words):
    path = picture(side)
    assert (path.stat().st_size > 11_000_000) == (side > 1000), "above what the connection takes"
    form.get_by_role("button", name="Start from a photograph").click()
    type_in(form, "How many colours", "6")
    form.get_by_label("Choose a photograph, or drop one here").set_input_files(path)
    form.get_by_role("status").filter(has_text=words).wait_for()
    form.get_by_text("Now the palette to search").wait_for()
    assert ask(lab, "form.fields.palette.value") == (path.stem,)
    found = np.array(ask(lab, "[list(one.rgb) for one in form.fields.chosen_palette()]"))
    for block in BLOCKS:
        nearest = delta_e_2000(srgb_to_lab(found), srgb_to_lab(np.array(block) / 255)).min()
        assert nearest < 4  # two of the six share a block, each at a side of its grain
    assert lab.problems == []


def test_what_is_no_picture_is_said_and_the_palette_stays(lab, form, tmp_path):
    (tmp_path / "brief.txt").write_text("a tea towel")
    form.get_by_role("button", name="Start from a photograph").click()
    form.get_by_label("Choose a photograph, or drop one here").set_input_files(
        tmp_path / "brief.txt"
    )
    form.get_by_role("alert").wait_for()
    assert ask(lab, "form.fields.palette.value") == ("harvest-stall",)
    assert lab.problems == []


@pytest.mark.parametrize("form", ["after every cell"], indirect=True)
def test_the_form_finds_a_shortlist_and_sends_it_to_the_wall(lab, form):
    # Before anything is started the form says how many there are, and again when it changes.
    said = form.get_by_role("status").filter(has_text="colourways")
    counted = said.filter(has_text=re.compile(r"looking at every one takes"))
    counted.wait_for()
    count = counted.text_content()  # what is scrolled out of sight has no inner text
    assert count
    type_in(form, "Stripes", "3")
    until(lab, "form.wanted.stripes == 3")
    form.get_by_text(count, exact=True).wait_for(state="detached")

    assert form.get_by_role("button", name="Send the shortlist to the wall").is_hidden()
    form.get_by_role("button", name="Start the search").click()
    form.get_by_text(re.compile(r"meet every condition.* It took ")).wait_for()
    form.get_by_text("shortlist of 24 colourways").wait_for()
    pictures = form.locator("img[alt^='gingham']")
    assert pictures.count() == 24
    assert len({pictures.nth(i).get_attribute("alt") for i in range(24)}) == 24
    tops = [pictures.nth(i).evaluate("one => one.getBoundingClientRect().top") for i in range(3)]
    assert len({*tops}) == 1, "they stand beside one another"
    # What the page shows is what plain code finds for the same brief.
    assert ask(lab, "form.shortlist == search(form.wanted, 100).shortlist(24)"
                    " or form.shortlist.colourways == search(form.wanted, 100).shortlist(24)"
                    ".colourways")  # fmt: skip

    form.get_by_role("button", name="Send the shortlist to the wall").click()
    until(lab, "form.desk is not None and len(form.desk.state.shown) == 24")
    assert ask(lab, "[c.colourway for c in form.desk.state.shown] == "
                    "list(form.shortlist.colourways)")  # fmt: skip
    form.locator(".cc-option").first.wait_for()

    # In a narrow window what is said of a field may take two lines: the button stays where it
    # is, for a field may be left by the first half of a press on it.
    lab.page.set_viewport_size({"width": 820, "height": 900})
    send = form.get_by_role("button", name="Send the shortlist to the wall")
    said = form.locator(".cc-foretold .widget-html-content")
    lab.ask("setattr(form.said, 'value', '<p>one line</p>')")
    said.filter(has_text="one line").wait_for()
    top = "b => b.offsetTop"
    before = send.evaluate(top)
    for field in ("Must be in", "Must not be in"):
        form.get_by_label(field).select_option(index=0)
    form.get_by_role("alert").filter(has_text="must").wait_for()
    assert send.evaluate(top) == before
    assert lab.problems == []


def test_a_long_search_shows_progress_and_is_stopped_with_what_it_found(lab, form):
    form.get_by_label("Palettes").select_option(["harvest-stall", "anniversary"])
    form.get_by_label("Overlay strengths").select_option([f"{n} %" for n in range(10, 101, 10)])
    type_in(form, "Stripes", "11")
    until(lab, "form.wanted.stripes == 11 and form.wanted.count > 100_000_000")
    form.get_by_role("button", name="Start the search").click()
    form.get_by_text(re.compile(r"of [\d,]+ colourways, about .* left")).wait_for()
    assert form.get_by_role("button", name="Start the search").is_disabled()
    form.get_by_role("button", name="Stop", exact=True).click()
    until(lab, "form.result is not None")
    assert ask(lab, "0 < form.result.settled < form.result.planned")
    form.get_by_text(re.compile(r"stopped")).first.wait_for()
    assert lab.problems == []


def test_mistakes_are_said_on_the_page(lab, form):
    form.get_by_role("button", name="Start from a photograph").click()
    form.get_by_role("button", name="Take its colours").click()
    form.get_by_role("alert").filter(has_text="photograph must be chosen").wait_for()
    type_in(form, "or its path from here", "pictures/halt-at-dusk.jpg")
    form.get_by_role("button", name="Take its colours").click()
    until(lab, "form.fields.palette.value == ('halt-at-dusk',)")
    assert ask(lab, "len(form.fields.chosen_palette().colours)") == 12
    assert lab.problems == []
