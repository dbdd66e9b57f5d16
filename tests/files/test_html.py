"""Pieces of HTML: plain text stays text, whatever it holds."""

from __future__ import annotations

import re
from xml.etree import ElementTree

from hypothesis import given
from hypothesis import strategies as st

from checkcloth.files.html import ON_PAPER, Cell, figure, image, table

words = st.text(st.characters(exclude_categories=["Cc", "Cs", "Cn"]), max_size=20)


def _spaced(rows):
    return [[re.sub("(?<=\\d)\u00a0%", " %", text) for text in row] for row in rows]


@given(st.lists(words, min_size=1, max_size=2), st.lists(words, max_size=3), st.data())
def test_a_table_says_its_words_and_nothing_else(caption, heads, data):
    rows = data.draw(st.lists(st.lists(words, min_size=1, max_size=3), max_size=3))
    found = ElementTree.fromstring(table(caption, heads, rows).replace("<br>", "\n"))
    assert found.findtext(".//caption", "") == "\n".join(caption)
    assert [cell.text or "" for cell in found.iter("th")] == heads
    cells = [[cell.text or "" for cell in row] for row in found.find(".//tbody")]
    assert _spaced(cells) == _spaced(rows)


@given(words, words)
def test_a_picture_has_its_words(alt, caption):
    html = figure(image(b"png", alt, width=1, height=2), caption)
    # The one element that HTML leaves open and XML does not.
    found = ElementTree.fromstring(html.replace('base64,cG5n">', 'base64,cG5n"/>'))
    assert found.find("img").get("alt") == alt
    assert (found.find("figcaption").text or "") == caption


@given(words, words)
def test_a_heading_stands_above_its_picture(alt, caption):
    html = figure(image(b"png", alt, width=1, height=2, style=ON_PAPER), caption, heading=True)
    found = ElementTree.fromstring(html.replace('base64,cG5n">', 'base64,cG5n"/>'))
    assert [part.tag for part in found] == ["figcaption", "img"]
    assert (found[0].text or "") == caption


def test_a_chart_lies_on_white_where_the_page_cannot_mix_colours():
    style = ON_PAPER
    # The later one wins where it is understood, and is passed over where it is not.
    assert style.index("background-color:#fff;") < style.index("background:color-mix(")


def test_columns_of_figures_go_right_and_what_matters_is_bold():
    found = ElementTree.fromstring(
        table(["t"], ["a", "b"], [["<x>", Cell("1", strong=True)]], right=[1], groups=[("g", 2)])
    )
    left, right = found.iter("td")
    assert "text-align:left" in left.get("style")
    assert left.text == "<x>"
    assert "text-align:right" in right.get("style")
    assert right.find("b").text == "1"
    assert [(th.text, th.get("colspan")) for th in found.iter("th")] == [
        ("g", "2"), ("a", None), ("b", None),
    ]  # fmt: skip


def test_a_number_and_its_per_cent_sign_stay_on_one_line():
    found = ElementTree.fromstring(table([], [], [["39.9–63.5 %, 50 %"]]))
    assert found.findtext(".//td") == "39.9–63.5\u00a0%, 50\u00a0%"


def test_rows_can_have_headings():
    found = ElementTree.fromstring(table([], ["", "x"], [["one", "1"]], row_heads=True))
    head = found.find(".//tbody/tr/th")
    assert (head.text, head.get("scope")) == ("one", "row")
    assert [td.text for td in found.iter("td")] == ["1"]


def test_a_swatch_shows_its_colour():
    found = ElementTree.fromstring(table([], [], [[Cell("Level Crossing", colour="#a1b2c3")]]))
    together = found.find(".//td/span")
    assert "nowrap" in together.get("style")
    assert "".join(together.itertext()) == "Level"
    assert "background:#a1b2c3" in together.find("span").get("style")
    assert "".join(found.find(".//td").itertext()) == "Level Crossing"
    assert found.find(".//caption") is None
