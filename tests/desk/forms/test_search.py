"""The search form without a browser: search, nothing found, the wall, palettes made on the way."""

from __future__ import annotations

import asyncio
import io

import numpy as np
import pytest
from PIL import Image

from checkcloth import Palette, read_palette, score, write_palette
from checkcloth.cloth.named_colour import NamedColour
from checkcloth.desk import open_desk, search_form
from checkcloth.desk.forms.search import SearchFields
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
    assert "found first, found nothing" in form.said.value


def pastels() -> Palette:
    """Twelve pale colours and a cream ground, nearly alike."""
    hues = [f"oklch(0.9 0.04 {hue})" for hue in range(0, 360, 30)]
    cream = NamedColour("Cream", NamedColour.of("#fbf7ec").rgb, "ground")
    return Palette("pastels", [cream, *hues])


def test_a_pale_palette_is_asked_for_what_it_holds(tmp_path, monkeypatch):
    monkeypatch.setattr("checkcloth.desk.opening._open", {})
    form = search_form(pastels())
    form.fields.stripes.value = 6
    assert form.wanted.count == 924 * 2
    assert all(form.fields.apart[n].value > 0 for n in ("ground_apart", "crossings_apart"))
    assert form.fields.apart["ground_apart"].value < 12
    assert form.run().counts.met_all >= 24
    # A number that somebody chose stays, whatever is changed beside it.
    form.fields.apart["ground_apart"].value = 9
    form.fields.stripes.value = 5
    assert form.fields.apart["ground_apart"].value == 9
    assert form.fields.apart["crossings_apart"].value > 0


def test_where_nothing_holds_a_button_asks_for_what_does(form):
    form.fields.apart["ground_apart"].value = 90
    result = form.run()
    assert not result.found
    (button,) = form.offers.children
    assert button.description.startswith("Ask for: Every stripe from the ground, ΔE00 ")
    button.click()
    assert form.fields.apart["ground_apart"].value < 90
    assert form.result.counts.met_all >= 24
    assert form.offers.children == ()
    assert form.send.layout.display == ""


@pytest.mark.parametrize(("bands", "wefts"), [("even", 2), ("even", 3), ("graduated", 2)])
def test_wefts_with_colours_of_their_own_are_searched_and_sent_to_the_wall(form, bands, wefts):
    form.fields.wefts.value = wefts
    form.fields.bands.value = bands
    assert form.wanted.weft_stripes == wefts
    assert f"{form.wanted.count:,} colourways" in form.said.value
    result = form.run()
    assert result.counts.total == form.wanted.count
    assert {len(one.weft_stripes) for one in form.shortlist.colourways} == {wefts}
    desk = form.send_to_wall()
    assert [card.colourway for card in desk.state.shown] == list(form.shortlist.colourways)
    check = desk.state.check
    assert check.is_even == (bands == "even")
    assert (check.stripes, check.weft_stripes) == (3, wefts)
    form.fields.apart["crossings_unlike"].value = 2
    form.run()
    found = score(form.shortlist.colourways, check=check)
    assert (found.crossing_crossing.least_de2000 >= 2).all()


def test_lists_of_colours_show_their_colours(form, palette):
    fields = form.fields
    for field in (fields.grounds, fields.must, fields.must_not):
        for place, name in enumerate(field.options, 1):
            rule = f".cc-list-{field.model_id} option:nth-child({place}) {{ --swatch: {{}}; }}"
            assert rule.replace("{}", palette[name].hex) in fields.swatches.style.value
    form.sources._take("shelf.png", photograph())
    made = fields.chosen_palette()
    assert all(f"--swatch: {colour.hex};" in fields.swatches.style.value for colour in made)


def test_a_palette_of_a_photograph_is_saved_and_in_every_list(tmp_path, palette, monkeypatch):
    monkeypatch.setattr("checkcloth.desk.opening._open", {})
    folder = tmp_path / "palettes"
    folder.mkdir()
    write_palette(palette, folder / "halt.csv")
    form, other = search_form(folder), search_form(folder)
    desk = open_desk(folder, name="aprons", folder=tmp_path)
    assert form.sources.keep.layout.display == "none"
    form.sources._take("tea room shelf.png", photograph())
    made = form.fields.chosen_palette()
    form.sources.keep.click()
    assert "Saved as tea-room-shelf.csv" in form.sources.said.value
    saved = read_palette(folder / "tea-room-shelf.csv")
    assert [colour.rgb for colour in saved] == [colour.rgb for colour in made]
    assert form.fields.palette.value == ("tea-room-shelf",)
    assert "tea room shelf" not in form.fields.palette.options
    assert "tea-room-shelf" in other.fields.palette.options
    assert "tea-room-shelf" in desk.palettes
    assert form.sources.keep.layout.display == "none"
    form.sources.add_colour()
    form.sources.keep.click()
    assert len(list(folder.glob("*.csv"))) == 3
    desk.retire()


def test_the_shortlist_lands_on_an_open_desk_under_its_name(form, palette, tmp_path):
    form.run()
    assert form.onto.layout.display == "none"
    desk = open_desk(palette, name="aprons", folder=tmp_path)
    form.run()
    assert form.onto.layout.display == ""
    form.onto.value = "aprons"
    form.name.value = "Spring tea towels"
    form.send.click()
    assert "on the wall of the desk aprons" in form.said.value
    assert desk.shown == list(form.shortlist.colourways)
    assert desk.widget.facts["dealt"].startswith("Spring tea towels")
    assert desk.widget.facts["undo"] == "show Spring tea towels"
    assert form.desk is None
    form.onto.value = form.onto.options[0]
    form.send.click()
    assert form.desk is not None
    desk.retire()


def test_a_brief_against_itself_is_said_in_the_words_of_the_form(form):
    form.fields.must.value = form.fields.must_not.value = ["Weir"]
    assert "Must be in”, found Weir" in form.said.value
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
    assert "its own strength" not in desk.widget.facts["dealt"]
    desk.show(form.shortlist.colourways)
    assert desk.widget.facts["dealt"].endswith(", each at its own strength")
    desk.widget.strength = 0.6
    assert "its own strength" not in desk.widget.facts["dealt"]
    desk.retire()


def test_an_unexpected_fault_in_a_search_is_said_and_kept(form, monkeypatch):
    monkeypatch.setattr("checkcloth.desk.forms.search.search", lambda *_, **__: 1 / 0)

    async def play():
        form.start.click()
        for _ in range(200):
            await asyncio.sleep(0.01)
            if not form.start.disabled:
                return

    asyncio.run(play())
    assert "Getting ready" not in form.said.value
    assert "fault of the kit itself" in form.said.value
    assert "1 / 0" in form.troubles[0]


def test_a_search_in_other_bands_lays_the_wall_in_them(form):
    even = form.wanted.count
    form.fields.bands.value = "2 A, 1 ground, 1 B, 1 A, 2 C"
    form.fields.weft.value = "graduated"
    assert form.wanted.count == 6 * even
    assert f"{6 * even:,} colourways" in form.said.value
    result = form.run()
    # every choice of colours once, and the order that was found
    choices = {(hit.setting, tuple(sorted(hit.members))) for hit in result.found}
    assert len(choices) == len(result.found) > 3
    desk = form.send_to_wall()
    assert desk.state.check.warp_order == "2 A, 1 ground, 1 B, 1 A, 2 C"
    assert desk.state.weft == "graduated"
    assert [card.colourway for card in desk.state.shown] == list(form.shortlist.colourways)
    found = [hit.colourway(result.wanted) for hit in result.found]
    names = {tuple(stripe.name for stripe in one.stripes) for one in found}
    assert {tuple(s.name for s in one.stripes) for one in form.shortlist.colourways} <= names


@pytest.mark.parametrize(
    ("bands", "weft", "label"),
    [("2 A, 1 plaid", "", "Bands"), ("even", "3 Q", "Bands up the cloth"), ("2 A", "", "Bands")],
)
def test_bands_that_do_not_fit_are_said_by_their_field(form, bands, weft, label):
    form.fields.bands.value, form.fields.weft.value = bands, weft
    form.start.click()
    assert f"“{label}” must be" in form.said.value
    form.fields.bands.value, form.fields.weft.value = "even", ""
    assert "colourways; looking at every one" in form.said.value
