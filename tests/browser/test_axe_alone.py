"""The desk's page under axe-core (of Deque's open rules, WCAG 2.2 A and AA and best practices)."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

import axe
import pytest
from desk_alone import LiveDesk, open_live, settle

if TYPE_CHECKING:
    from collections.abc import Iterator

    from playwright.sync_api import Page

pytestmark = pytest.mark.browser

# What is of the page around the desk, and not of the desk.
OF_THE_HOST = ["region", "page-has-heading-one", "landmark-one-main", "bypass", "document-title"]
_RUN = """async off => {
    const rules = Object.fromEntries(off.map(rule => [rule, {enabled: false}]));
    const found = await axe.run('.cc', {rules, resultTypes: ['violations']});
    // The mark on a colourway of the wall is its state, and said as that; its name are its colours.
    const mark = ({id}, {html}) =>
        id === 'label-content-name-mismatch' && /role="option"/.test(html);
    for (const one of found.violations) one.nodes = one.nodes.filter(node => !mark(one, node));
    return found.violations.filter(({nodes}) => nodes.length).map(({id, impact, nodes}) =>
        `${id} (${impact}): ` + nodes.slice(0, 4).map(node => node.html.slice(0, 160)
            + ' -- ' + (node.any[0] ?? node.all[0] ?? node.none[0])?.message).join(' | '));
}"""


@pytest.fixture
def live(live: LiveDesk) -> LiveDesk:
    for number in (1, 2, 3):
        live.do(lambda number=number: live.desk.keep(number))
    first = live.desk.state.kept[0].number
    live.do(lambda: live.desk.answer({"do": "family", "number": first, "family": "Bar"}))
    live.do(lambda: live.desk.answer({"do": "compare", "number": first}))
    return live


def violations(page: Page) -> list[str]:
    found: list[str] = page.evaluate(_RUN, OF_THE_HOST)
    return found


def states(page: Page) -> Iterator[str]:
    """Walk the desk: each part, with what it folds away open; each tray under the hand."""
    hand = page.get_by_role("region", name="The cloth under the hand", exact=True)

    def turn(name: str) -> None:
        page.get_by_role("tab", name=re.compile(f"^{name}")).click()
        settle(page)

    yield "Wall"
    page.get_by_role("button", name="More settings").click()
    more = page.locator(".cc-more")
    more.get_by_label("Mixing").select_option("ink")
    settle(page)
    more.get_by_label("Printed on").select_option(label="a press that was measured …")
    more.get_by_label("Limiting density").fill("9")
    page.keyboard.press("Enter")
    for name in ("As other eyes see it", "Tones with their codes"):
        hand.get_by_role("button", name=name).click()
    hand.locator("summary").click()
    settle(page)
    yield "Wall, all open"
    hand.locator('.cc-thread[data-stripe="2"]').click()
    settle(page)
    hand.get_by_label("Code or name", exact=True).fill("peachy")
    page.keyboard.press("Enter")
    settle(page)
    yield "a stripe, and a colour that is none"
    hand.get_by_role("button", name=re.compile("^Strength ")).click()
    settle(page)
    yield "own strength"
    hand.get_by_label("Own weft").check()
    hand.locator('.cc-thread[data-stripe="-2"]').click()
    hand.get_by_label("Code or name", exact=True).fill("teal")
    page.keyboard.press("Enter")
    hand.get_by_role("button", name="Remove this stripe").click()
    settle(page)
    yield "a weft of its own, and bands of other numbers"
    page.locator(".cc-range-opener").click()
    settle(page)
    yield "the range's panel"
    page.locator(".cc-range-opener").click()
    turn("Range")
    page.get_by_role("button", name=re.compile("^Make more of")).first.click()
    settle(page)
    yield "Range, more of one"
    turn("Colours")
    page.get_by_label("Colours to add").fill("teal\\n#f2b084 Peach\\nnothing at all")
    page.get_by_role("button", name=re.compile("used in")).first.click()
    settle(page)
    yield "Colours, one changed in all"
    turn("Export")
    page.get_by_role("checkbox", name="For the mill").check()
    for fold in page.locator(".cc-task summary").all():
        if fold.is_visible():
            fold.click()
    page.get_by_label("Ends").fill("64")
    page.keyboard.press("Enter")
    settle(page)
    yield "Export, all open and a field wrong"
    page.get_by_label("Ends").fill("")
    page.keyboard.press("Enter")
    settle(page)
    page.get_by_role("button", name=re.compile(r"^Export \d")).click()
    settle(page)
    page.wait_for_timeout(300)
    yield "Export, done"
    turn("Wall")
    page.locator(".cc-option").first.focus()
    page.keyboard.press("Enter")
    page.get_by_role("dialog").wait_for()
    settle(page)
    yield "enlarged"
    page.keyboard.press("Escape")
    page.keyboard.press("?")
    page.get_by_role("dialog").wait_for()
    yield "keys"


@pytest.mark.parametrize(("dark", "width"), [(False, 1320), (True, 1320), (False, 360)])
def test_axe_finds_nothing_on_the_desk(page, live, dark, width):
    page.set_viewport_size({"width": width, "height": 1000})
    problems = open_live(page, live, dark=dark)
    page.add_script_tag(content=axe.source())
    found = {state: said for state in states(page) if (said := violations(page))}
    assert found == {}
    assert problems == []


def test_axe_can_find_something(page, live):
    open_live(page, live)
    page.add_script_tag(content=axe.source())
    page.evaluate(
        "() => document.querySelector('.cc').append(document.createElement('button'),"
        " Object.assign(document.createElement('p'), {textContent: 'faint',"
        " style: 'color: #ddd; background: #fff'}))"
    )
    rules = {line.split(" ")[0] for line in violations(page)}
    assert {"button-name", "color-contrast"} <= rules
