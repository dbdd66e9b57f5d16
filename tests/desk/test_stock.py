"""What mixing ``ink`` prints on: chosen for the wall and for one, sent, scored, kept, undone."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from asking import ask
from coloraide import Color

from checkcloth import Colourway, score
from checkcloth.colour.ink import STOCKS, Stock
from checkcloth.colour.print_condition import PrintCondition
from checkcloth.desk import open_desk
from checkcloth.desk.forms.hand_off_order import read_order
from checkcloth.errors import ArgumentError
from checkcloth.export.data.saved import open_set

CHART = Path(__file__).parents[2] / "notebooks" / "data" / "halt-press-chart.txt"
READINGS = CHART.read_bytes()


def numbers(stock):
    return [stock.tone_value_increase, stock.limiting_density, stock.yule_nielsen]


def test_the_wall_is_printed_on_the_stock_that_is_chosen(desk, tmp_path):
    desk.widget.mixing = "ink"
    plain = desk.widget.recipes
    assert plain[0][5] == numbers(STOCKS[""])
    before = desk.scores()["least_edge"]
    assert [row[0] for row in desk.widget.choices["stocks"]] == list(STOCKS)
    desk.widget.stock = "newsprint"
    assert [recipe[5] for recipe in desk.widget.recipes] == [numbers(STOCKS["newsprint"])]
    assert desk.history.undoes == "printed on newsprint (tone value increase 26 %)"
    shown = desk.state.as_shown(desk.state.shown[3])
    assert shown.stock == STOCKS["newsprint"]
    assert not np.array_equal(desk.scores()["least_edge"], before)
    assert desk.scores()["least_edge"][3] == pytest.approx(float(score(shown).least_edge))
    desk.keep(4)
    assert "on newsprint" in desk.widget.kept[0]["words"]
    assert [one.stock for one in open_set(desk.keep_file.path)] == [STOCKS["newsprint"]]
    desk.widget.mixing = "woven"
    assert desk.state.as_shown(desk.state.shown[3]).stock == STOCKS[""], "no matter in weaving"
    for _ in range(3):
        desk.undo()
    assert (desk.widget.stock, desk.widget.recipes) == ("", plain)
    assert np.array_equal(desk.scores()["least_edge"], before)


def test_one_alone_is_printed_on_another_in_a_step_of_its_own(desk):
    desk.widget.mixing = "ink"
    number = desk.state.shown[0].number
    ask(desk, "own", number=number, strength=0.4)
    ask(desk, "own", number=number, stock="uncoated")
    assert desk.history.undoes == "This one printed on uncoated (tone value increase 20 %)"
    assert desk.state.shown[0].colourway.stock == STOCKS["uncoated"]
    desk.widget.stock = "coated"
    assert "1 by hand keeps its own" in desk.message
    look, _ = desk.answer({"do": "look", "id": "1", "number": number})
    assert look["recipe"][5] == numbers(STOCKS["uncoated"])
    assert look["stock"] == STOCKS["uncoated"].words
    assert ask(desk, "own", number=number, stock="vellum")["field"] == "stock"
    ask(desk, "empty", stripes=2)
    assert desk.state.shown[0].colourway.stock == STOCKS["coated"]
    for _ in range(3):
        desk.undo()
    card = desk.state.shown[0]
    assert (card.colourway.stock, card.colourway.strength) == (STOCKS[""], 0.4)


def test_what_code_shows_keeps_its_own_until_one_is_chosen(desk):
    press = Stock("Halt press", 0.14, 2.1, 1.8)
    stripes = ("white", ["navy", "teal"], 0.5, "ink")
    desk.show([Colourway(*stripes, stock="coated"), Colourway(*stripes, stock=press)])
    assert desk.widget.stock is None
    assert [one.stock for one in desk.shown] == [STOCKS["coated"], press]
    desk.show([Colourway(*stripes, stock=press)])
    assert desk.widget.stock == press.text
    assert desk.widget.choices["stocks"][-1] == [press.text, press.words, numbers(press)]
    desk.widget.stock = "coated"
    assert [one.stock for one in desk.shown] == [STOCKS["coated"]]
    with pytest.raises(ArgumentError, match="stock"):
        desk.widget.stock = "vellum"
    assert desk.widget.stock == "coated"


def test_a_desk_is_opened_on_a_stock_and_finds_on_it(palette, tmp_path):
    desk = open_desk(palette, mixing="ink", stock="uncoated", count=6, folder=tmp_path, name="inks")
    assert desk.widget.stock == "uncoated"
    assert {one.stock for one in desk.shown} == {STOCKS["uncoated"]}
    desk.retire()
    desk.close()


def send(desk, content=READINGS, name=CHART.name):
    return desk.answer({"do": "press_chart", "id": "1", "name": name}, [content])[0]


def murray_davies():
    """Mean increase of the chart's inks at 50 %, in XYZ's channel where each is darkest."""
    rows = [line.split() for line in CHART.read_text("utf-8").splitlines()]
    lab = {tuple(row[1:3]): [float(v) for v in row[3:]] for row in rows if row[0].isdecimal()}
    found = []
    for tint, solid in ((("50", "0"), ("100", "0")), (("0", "50"), ("0", "100"))):
        paper, half, full = (
            np.array(Color("lab", lab[patch]).convert("xyz-d50").coords())
            for patch in (("0", "0"), tint, solid)
        )
        darkest = np.argmin(full / paper)
        found.append(((paper - half) / (paper - full))[darkest] - 0.5)
    return float(np.mean(found))


def test_the_wall_is_printed_on_a_press_whose_chart_is_chosen(desk):
    """The increase by Murray and Davies' formula, as ISO 12647 reads it (from memory)."""
    desk.widget.mixing = "ink"
    plain = desk.widget.recipes
    answer = send(desk)
    assert "Brick, Leaf, from ramps and overprints" in answer["words"]
    press = desk.state.stock
    assert desk.widget.recipes[0][5] == numbers(press)
    assert press.tone_value_increase == pytest.approx(murray_davies(), abs=0.01)
    assert press.limiting_density == PrintCondition.from_cgats(CHART).as_stock.limiting_density
    assert (press.name, desk.widget.stock) == ("halt-press-chart", press.text)
    assert desk.history.undoes.startswith("printed on halt-press-chart (tone value increase ")
    desk.keep(1)
    assert [one.stock.text for one in open_set(desk.keep_file.path)] == [press.text]
    desk.widget.stock = "coated"
    assert press.text in [row[0] for row in desk.widget.choices["stocks"]], "as one of the kept"
    ask(desk, "press_chart")
    assert desk.widget.stock == press.text, "the chart is read already"
    for _ in range(4):
        desk.undo()
    assert (desk.widget.stock, desk.widget.recipes) == ("", plain)
    assert [row[0] for row in desk.widget.choices["stocks"]] == list(STOCKS)


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b"", "must be CGATS text"),
        (b"name,colour\nwhite,#fff\n", "first line names its kind"),
        (READINGS.replace(b"1 0 0 95.17", b"1 0 0 9S.17"), "halt-press-chart.txt, line 13"),
        (READINGS.replace(b"5 100 0", b"5 99 0"), "none of Brick"),
    ],
)  # fmt: skip
def test_a_faulty_chart_is_said_in_a_line_and_changes_nothing(desk, content, said):
    desk.widget.mixing = "ink"
    send(desk)
    before, history = desk.state, desk.history
    answer = send(desk, content)
    assert said in answer["error"]
    assert "\n" not in answer["error"]
    assert (desk.state, desk.history) == (before, history)
    assert desk.hand_off.fields.chart == (CHART.name, READINGS)
    assert desk.troubles == []


def test_one_chart_serves_the_wall_and_the_plates(desk, tmp_path):
    desk.widget.mixing = "ink"
    assert "CGATS" in ask(desk, "press_chart")["error"]
    ask(desk, "set_export", fields={"condition": str(tmp_path / "nowhere.txt")})
    assert "file that is there" in ask(desk, "press_chart")["error"]
    ask(desk, "set_export", fields={"condition": f" {CHART} "})
    ask(desk, "press_chart")
    press = desk.state.stock
    assert press == PrintCondition.from_cgats(CHART).as_stock
    ask(desk, "set_export", fields={"condition": ""})
    assert "words" in send(desk)
    assert desk.widget.facts["press_chart"] == CHART.name
    assert desk.hand_off.fields.values["condition"] == "", "plates go by it when that is asked"
    ask(desk, "set_export", fields={"plates": "colours", "condition": CHART.name})
    desk.keep(1)
    order, faults = read_order(desk.hand_off.fields.values, desk.kept)
    assert faults == {}
    assert order["condition"].as_stock == press
