"""What inks are printed on, chosen on the page; every pixel is that of Python's tile."""

from __future__ import annotations

import pytest
from desk_alone import cloth_is, open_live, settle
from playwright.sync_api import expect

from checkcloth import Check
from checkcloth.colour.ink import STOCKS

pytestmark = pytest.mark.browser


def test_a_stock_for_the_wall_and_another_for_one_alone(page, live):
    live.problems = open_live(page, live)
    check = Check("1/2 in", 3)
    page.get_by_role("button", name="More settings").click()
    wall = page.locator(".cc-more").get_by_label("Printed on")
    expect(wall).to_be_hidden()
    page.locator(".cc-more").get_by_label("Mixing").select_option("ink")
    settle(page)
    expect(wall.locator("option:checked")).to_have_text(STOCKS[""].words)
    first = live.desk.state.as_shown(live.desk.state.shown[0])
    cloth_is(page, first, check)
    wall.select_option("newsprint")
    settle(page)
    assert live.desk.widget.stock == "newsprint"
    first = live.desk.state.as_shown(live.desk.state.shown[0])
    assert first.stock == STOCKS["newsprint"]
    cloth_is(page, first, check)

    hand = page.locator(".cc-main .cc-hand")
    hand.get_by_role("button", name="Strength 50 %").click()
    settle(page)
    own = hand.get_by_label("Printed on")
    expect(own.locator("option:checked")).to_have_text(STOCKS["newsprint"].words)
    own.select_option(label=STOCKS["coated"].words)
    settle(page)
    card = live.desk.state.shown[0]
    assert (card.own, card.colourway.stock) == (True, STOCKS["coated"])
    cloth_is(page, card.colourway, check)
    hand.get_by_label("Mixing", exact=True).select_option("woven")
    settle(page)
    expect(own).to_be_hidden()
    cloth_is(page, live.desk.state.shown[0].colourway, check)
