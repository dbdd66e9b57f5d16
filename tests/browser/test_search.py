"""The search in a real JupyterLab: say what is wanted, start, stop, shortlist, wall."""

from __future__ import annotations

import ast
import re
import time

import pytest

pytestmark = pytest.mark.browser


@pytest.fixture
def form(lab):
    """Open the notebook, run it all, and return the output that holds the form."""
    lab.open_notebook("search.ipynb")
    lab.run_all()
    place = next(
        i for i, cell in enumerate(lab.cells()) if "search_form(" in "".join(cell["source"])
    )
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
    widths = fields.evaluate_all("found => found.map(one => one.getBoundingClientRect().width)")
    assert len(widths) == 17
    assert min(widths) >= 120
    cut = form.locator(".cc-search-fields .widget-label").evaluate_all(
        "found => found.filter(one => one.scrollWidth > one.clientWidth + 1)"
        ".map(one => one.textContent)"
    )
    assert cut == []


def test_the_form_finds_a_shortlist_and_sends_it_to_the_wall(lab, form):
    # Before anything is started the form says how many there are, and again when it changes.
    said = form.get_by_role("status").filter(has_text="colourways")
    said.filter(has_text=re.compile(r"looking at every one takes")).wait_for()
    count = said.inner_text()
    type_in(form, "Stripes", "3")
    until(lab, "form.wanted.stripes == 3")
    form.get_by_text(count, exact=True).wait_for(state="detached")

    assert form.get_by_role("button", name="Send the shortlist to the wall").is_disabled()
    form.get_by_role("button", name="Start the search").click()
    form.get_by_text(re.compile(r"meet every condition.* It took ")).wait_for()
    form.get_by_text("shortlist of 24 colourways").wait_for()
    pictures = form.locator("img[alt^='gingham']")
    assert pictures.count() == 24
    assert len({pictures.nth(i).get_attribute("alt") for i in range(24)}) == 24
    # What the page shows is what plain code finds for the same brief.
    assert ask(lab, "form.shortlist == search(form.wanted, 100).shortlist(24)"
                    " or form.shortlist.colourways == search(form.wanted, 100).shortlist(24)"
                    ".colourways")  # fmt: skip

    form.get_by_role("button", name="Send the shortlist to the wall").click()
    until(lab, "form.desk is not None and len(form.desk.state.shown) == 24")
    assert ask(lab, "[c.colourway for c in form.desk.state.shown] == "
                    "list(form.shortlist.colourways)")  # fmt: skip
    form.locator(".cc-option").first.wait_for()
    assert lab.problems == []


def test_a_long_search_shows_progress_and_is_stopped_with_what_it_found(lab, form):
    form.get_by_label("Palettes").select_option(["harvest-stall", "anniversary"])
    form.get_by_label("Overlay strengths").select_option([f"{n} %" for n in range(10, 101, 10)])
    type_in(form, "Stripes", "7")
    until(lab, "form.wanted.stripes == 7 and form.wanted.count > 100_000_000")
    form.get_by_role("button", name="Start the search").click()
    form.get_by_text(re.compile(r"of [\d,]+ colourways, about .* left")).wait_for()
    assert form.get_by_role("button", name="Start the search").is_disabled()
    form.get_by_role("button", name="Stop", exact=True).click()
    until(lab, "form.result is not None")
    assert ask(lab, "0 < form.result.settled < form.result.planned")
    form.get_by_text(re.compile(r"stopped")).first.wait_for()
    assert lab.problems == []


def test_mistakes_are_said_on_the_page(lab, form):
    form.get_by_text("Start from something else").click()
    form.get_by_role("button", name="Take its colours").click()
    form.get_by_role("alert").filter(has_text="choose a photograph first").wait_for()
    type_in(form, "or its path", "pictures/halt-at-dusk.jpg")
    form.get_by_role("button", name="Take its colours").click()
    until(lab, "form.fields.palette.value == ('halt-at-dusk',)")
    assert ask(lab, "len(form.fields.chosen_palette().colours)") == 12
    assert lab.problems == []
