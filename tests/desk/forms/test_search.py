"""The search form without a browser: search, nothing found, the wall, palettes made on the way."""

from __future__ import annotations

import io

import numpy as np
import pytest
from PIL import Image

from checkcloth.desk import open_desk
from checkcloth.desk.forms.search_fields import SearchFields
from checkcloth.desk.forms.search_form import search_form
from checkcloth.search import MEASURES


@pytest.fixture
def form(palette, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr("checkcloth.desk.opening._open", {})
    made = search_form(palette, name="halt")
    made.fields.stripes.value = 3
    yield made
    if made.desk is not None:
        made.desk.retire()
        made.desk.close()


def photograph() -> bytes:
    """A picture of three broad stripes of colour."""
    blocks = np.array(((38, 78, 92), (186, 64, 48), (240, 228, 200)), dtype=np.uint8)
    pixels = np.broadcast_to(blocks[np.arange(90) // 30], (60, 90, 3))
    out = io.BytesIO()
    Image.fromarray(np.ascontiguousarray(pixels)).save(out, "PNG")
    return out.getvalue()


def test_what_was_found_comes_before_the_counts(form):
    assert form.send.layout.display == "none"
    form.run()
    html = form.found.value
    assert html.index('<img alt="') < html.index("How many each condition lets through")
    assert "<details class=" in html
    assert " open>" not in html
    assert form.send.layout.display == ""
    assert "meet every condition" in form.said.value


def test_where_nothing_is_found_what_to_relax_lies_open(form):
    form.fields.apart["ground_apart"].value = 99
    form.run()
    assert " open>" in form.found.value
    assert "To find something:" in form.found.value
    assert form.send.layout.display == "none"
    form.send.click()
    assert "nothing was found yet" in form.said.value


def test_a_brief_against_itself_is_said_in_the_words_of_the_form(form):
    form.fields.must.value = form.fields.must_not.value = ["Weir"]
    assert "Weir must not stand both in “Must be in” and" in form.said.value
    form.start.click()
    assert 'role="alert"' in form.said.value
    assert form.result is None


def test_the_wall_gets_the_shortlist_and_later_palettes_with_what_is_kept(form, palette):
    form.run()
    form.send.click()
    assert "on the wall below" in form.said.value
    first = form.desk
    assert first.shown == list(form.shortlist.colourways)
    first.keep(1)
    form.sources._take("../../tea room shelf.png", photograph())
    assert form.fields.palette.value == ("tea room shelf",)
    assert form.fields.palette.options[0] == "tea room shelf", "new ones come first, in sight"
    assert '<p role="status">Now the palette to search' in form.sources.said.value
    form.fields.stripes.value = 2
    form.run()
    form.send.click()
    assert form.desk is not first
    assert "tea room shelf" in form.desk.palettes
    assert form.desk.kept == first.kept
    assert form.wall.children == (form.desk.box,)


def test_the_path_given_last_wins_over_a_picture_that_was_chosen(form, tmp_path):
    form.sources._take("one.png", photograph())
    (tmp_path / "two.png").write_bytes(photograph())
    form.sources.path.value = "two.png"
    form.sources.from_photo.click()
    assert form.fields.palette.value == ("two",)
    form.sources._take("three.png", b"no picture")
    assert 'role="alert"' in form.sources.said.value
    assert form.fields.palette.value == ("two",)
    assert form.sources.path.value == ""


def test_a_picture_comes_from_the_page_as_one_message(form):
    """As anywidget hands it on: content and buffers, from a page that may send anything."""
    field = form.sources.photo
    for content, buffers in (({}, []), ({"name": 3}, [b"x"]), (None, [b"x"]), ({"name": "a"}, [])):
        field._handle_custom_msg(content, buffers)
    assert form.sources.said.value == ""
    field._handle_custom_msg({"name": "shelf.png"}, [memoryview(photograph())])
    assert form.fields.palette.value == ("shelf",)


def test_every_choice_has_words_of_its_own(palette):
    fields = SearchFields([palette])
    words = [label for label, _ in fields.measure.options]
    assert len(set(words)) == len(MEASURES)
    assert max(map(len, words)) <= 35, "longer ones are cut in a narrow column"
    assert max(len(label) for label, _ in fields.mixing.options) <= 30
    assert fields.seed.layout.display == "none"
    fields.how_choice.value = "sample"
    assert fields.seed.layout.display == ""


def test_the_wall_says_when_each_colourway_has_its_own_strength(form, palette, tmp_path):
    form.run()
    assert len({one.strength for one in form.shortlist.colourways}) > 1
    desk = open_desk(palette, name="other", folder=tmp_path)
    assert "its own strength" not in desk.wall.facts["dealt"]
    desk.show(form.shortlist.colourways)
    assert desk.wall.facts["dealt"].endswith(", each at its own strength")
    desk.controls.strength.value = 60
    assert "its own strength" not in desk.wall.facts["dealt"]
    desk.retire()
