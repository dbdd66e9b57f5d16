"""The desk under a finger: tap, keep, put in order, slide, and scroll the wall, with no mouse."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import expect

pytestmark = pytest.mark.browser


@pytest.fixture
def alone_options():
    # A tablet held upright.
    return {"viewport": {"width": 820, "height": 1180}, "has_touch": True, "is_mobile": True}


@pytest.fixture
def desk(alone):
    return alone.open_desk()


# Controls in sight that a finger of 44 CSS pixels does not fit on.
_SMALL = """() =>
    [...document.querySelectorAll('.cc :is(button, input, select, summary, textarea)')]
    .filter(one => one.checkVisibility({visibilityProperty: true}) && !one.closest('.cc-unseen'))
    .map(one => [one.ariaLabel || one.textContent, (one.closest('label') ?? one)])
    .map(([name, box]) => [name, box.getBoundingClientRect()])
    .filter(([, {height}]) => height < 43.5).map(([name, {height}]) => `${name}: ${height}`)"""


class Finger:
    """One finger on the glass, through the browser's own input."""

    def __init__(self, page):
        self.page = page
        self.session = page.context.new_cdp_session(page)

    def _send(self, kind, *points):
        touches = [{"x": x, "y": y} for x, y in points]
        self.session.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": touches})

    def drag(self, start, end, steps=12, rest=0):
        """Move from one point to another, after resting there for some milliseconds."""
        (x1, y1), (x2, y2) = start, end
        self._send("touchStart", start)
        self.page.wait_for_timeout(rest)
        for step in range(1, steps + 1):
            part = step / steps
            self._send("touchMove", (x1 + (x2 - x1) * part, y1 + (y2 - y1) * part))
            self.page.wait_for_timeout(16)
        self._send("touchEnd")


def middle(locator):
    locator.scroll_into_view_if_needed()
    box = locator.bounding_box()
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


def test_by_touch(alone, desk):
    hand = desk.hand

    # Tap one to take it in hand, keep it, and another.
    for place in (0, 1):
        desk.option(place).tap()
        expect(desk.words).to_have_text(desk.ask("desk.widget.names")[place])
        hand.get_by_role("button", name="Keep", exact=True).tap()
        desk.until("len(desk.kept)", place + 1)

    # Put the second first, by a button; and back, by a finger that rests on a card and moves it.
    first, second = desk.ask("[card.number for card in desk.state.kept]")
    finger = Finger(alone.page)
    alone.page.get_by_role("tab", name=re.compile("^Range")).tap()
    assert alone.page.evaluate(_SMALL) == []
    desk.kept_card(first).get_by_role("button", name=re.compile("later$")).tap()
    desk.until("[card.number for card in desk.state.kept]", [second, first])
    alone.page.get_by_role("tab", name=re.compile("^Wall")).tap()
    finger.drag(middle(desk.on_shelf(second)), middle(desk.on_shelf(first)), rest=500)
    desk.until("[card.number for card in desk.state.kept]", [first, second])

    # Put a colour in a stripe of what is in hand: tap the thread, tap the swatch.
    desk.on_shelf(second).tap()
    desk.thread(2).tap()
    tray = hand.get_by_role("region", name="Colour of stripe 2")
    swatch = tray.get_by_role("radio", checked=False).last
    wanted = swatch.get_attribute("aria-label")
    assert alone.page.evaluate(_SMALL) == []
    swatch.tap()
    desk.until("desk.kept.colourways[1].stripes[1].hex in " + repr(wanted), True)
    assert desk.ask("len(desk.kept)") == 2

    # Slide the overlay strength; the wall follows.
    before = desk.ask("desk.state.strength"), desk.pixels()
    x, y = middle(desk.slider("Overlay strength"))
    finger.drag((x, y), (x + 60, y))
    desk.wait_for_painted()
    assert desk.ask("desk.state.strength") > before[0] + 0.05
    assert desk.pixels() != before[1]

    # A finger on the wall scrolls it, and keeps nothing by accident.
    scroller = desk.wall
    x, y = middle(scroller)
    top = scroller.evaluate("wall => wall.scrollTop")
    finger.drag((x, y + 120), (x, y - 160))
    alone.page.wait_for_function("([wall, top]) => wall.scrollTop > top + 100",
                               arg=[scroller.element_handle(), top])  # fmt: skip
    assert desk.ask("len(desk.kept)") == 2
    assert not alone.problems
