"""What inks are printed on, chosen on the page; every pixel is that of Python's tile."""

from __future__ import annotations

import pytest
from desk_alone import cloth_is, open_live, settle
from page_alone import CHECKOUT
from playwright.sync_api import expect

from checkcloth import Check
from checkcloth.colour.ink import STOCKS, Stock
from checkcloth.colour.print_condition import PrintCondition

pytestmark = pytest.mark.browser

CHART = CHECKOUT / "notebooks" / "data" / "halt-press-chart.txt"


def the_press_is_measured(page, live, check):
    """A chart is chosen, after a wrong one; numbers are typed; the chart serves plates too."""
    more = page.locator(".cc-more")
    wall, own = more.get_by_label("Printed on"), more.get_by_role("group", name="A press that")
    expect(own).to_be_hidden()
    wall.select_option(label="a press that was measured …")
    choose = own.get_by_role("button", name="Choose a chart")
    expect(choose).to_be_focused()
    choose.press("Escape")
    expect(own).to_be_hidden()
    expect(wall).to_be_focused()
    wall.select_option(label="a press that was measured …")
    wrong = live.folder / "letter.txt"
    wrong.write_text("Dear press,\nplease find enclosed nothing.\n", "utf-8")
    own.locator("input[type=file]").set_input_files(wrong)
    settle(page)
    expect(own.get_by_role("alert")).to_contain_text("letter.txt")
    expect(wall.locator("option:checked")).to_have_text(STOCKS["newsprint"].words)
    own.locator("input[type=file]").set_input_files(CHART)
    settle(page)
    expect(own.get_by_role("alert")).to_have_count(0)
    expect(own.get_by_role("status")).to_contain_text("Brick, Leaf, from ramps and overprints")
    press = live.desk.state.stock
    assert press == PrintCondition.from_cgats(CHART).as_stock
    expect(wall.locator("option:checked")).to_have_text(press.words)
    assert press.words.startswith("halt-press-chart (tone value increase ")
    cloth_is(page, live.desk.state.as_shown(live.desk.state.shown[0]), check)

    increase = own.get_by_label("Tone value increase")
    for typed, alerts in (("40", 1), ("21 %", 0)):
        increase.fill(typed)
        increase.press("Enter")
        settle(page)
        expect(own.get_by_role("alert")).to_have_count(alerts)
        expect(increase).to_have_attribute("aria-invalid", str(bool(alerts)).lower())
    expect(increase).to_have_value("21")
    own_numbers = Stock("", 0.21, press.limiting_density, press.yule_nielsen)
    assert live.desk.state.stock == own_numbers
    cloth_is(page, live.desk.state.as_shown(live.desk.state.shown[0]), check)
    page.get_by_role("button", name="Undo").click()
    settle(page)
    expect(wall.locator("option:checked")).to_have_text(press.words)
    expect(increase).not_to_have_value("21")

    page.get_by_role("tab", name="Export").click()
    printer = page.get_by_role("region", name="For the printer")
    printer.get_by_role("button", name=f"Plates by {CHART.name}").click()
    settle(page)
    expect(printer.get_by_label("Plates")).to_have_value("colours")
    assert live.desk.hand_off.fields.values["condition"] == CHART.read_bytes()
    page.get_by_role("tab", name="Wall").click()
    settle(page)


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

    the_press_is_measured(page, live, check)
    wall.select_option("newsprint")
    settle(page)

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
