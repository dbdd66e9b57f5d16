"""What mixing ``ink`` prints on: chosen for the wall and for one, sent, scored, kept, undone."""

from __future__ import annotations

import numpy as np
import pytest
from asking import ask

from checkcloth import Colourway, score
from checkcloth.colour.ink import STOCKS, Stock
from checkcloth.desk import open_desk
from checkcloth.errors import ArgumentError
from checkcloth.export.data.saved import open_set


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
