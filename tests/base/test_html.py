"""Pieces of HTML: plain text stays text, whatever it holds."""

from __future__ import annotations

from xml.etree import ElementTree

from hypothesis import given
from hypothesis import strategies as st

from checkcloth.base.html import figure, image, table

words = st.text(st.characters(exclude_categories=["Cc", "Cs", "Cn"]), max_size=20)


@given(st.lists(words, min_size=1, max_size=2), st.lists(words, max_size=3), st.data())
def test_a_table_says_its_words_and_nothing_else(caption, heads, data):
    rows = data.draw(st.lists(st.lists(words, min_size=1, max_size=3), max_size=3))
    found = ElementTree.fromstring(table(caption, heads, rows).replace("<br>", "\n"))
    assert (found.find("caption").text or "") == "\n".join(caption)
    assert [cell.text or "" for cell in found.iter("th")] == heads
    assert [[cell.text or "" for cell in row] for row in found.find("tbody")] == rows


@given(words, words)
def test_a_picture_has_its_words(alt, caption):
    html = figure(image(b"png", alt, width=1, height=2), caption)
    # The one element that HTML leaves open and XML does not.
    found = ElementTree.fromstring(html.replace('base64,cG5n">', 'base64,cG5n"/>'))
    assert found.find("img").get("alt") == alt
    assert (found.find("figcaption").text or "") == caption
