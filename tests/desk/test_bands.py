"""A desk of any bands, without a browser: wall, scores, file and hand-off are of its check."""

from __future__ import annotations

import json

import numpy as np
import pytest
from asking import ask
from PIL import Image

from checkcloth import Check, ChosenSet, Colourway, each_weft, save_set, score
from checkcloth.desk import open_desk
from checkcloth.errors import CheckclothError
from checkcloth.export.data.saved import open_set
from checkcloth.export.picture.raster import tile_pixels

ORDER = "1 A, 2 B, 1/2 ground, 3 C, 1 ground"


def test_scores_captions_and_the_close_look_are_of_the_bands(desk):
    even = {name: values.copy() for name, values in desk.scores().items()}
    desk.widget.bands = ORDER
    desk.widget.weft = "double"
    check = Check("1/2 in", 3, warp=ORDER, weft="double")
    assert desk.state.check == check
    assert desk.widget.laid["warp"][2] == [0, 0.5]
    assert desk.widget.laid["weft"] == [[s, float(c)] for s, c in check.weft_bands]
    for index, card in enumerate(desk.state.shown[:6]):
        seen = score(card.colourway, check=check)
        assert desk.scores()["least_edge"][index] == pytest.approx(float(seen.least_edge))
    assert not np.array_equal(even["least_edge"], desk.scores()["least_edge"])
    desk.undo()
    desk.undo()
    assert desk.widget.laid == {}
    assert (desk.widget.bands, desk.widget.weft) == ("even", "")
    for name, values in desk.scores().items():
        np.testing.assert_array_equal(values, even[name])


def test_what_cannot_be_is_an_error_in_code_and_said_to_the_page(desk):
    for trait, value in (("bands", "plaid"), ("weft", "2 Q 3")):
        with pytest.raises(CheckclothError):
            setattr(desk.widget, trait, value)
    before = desk.history
    assert "1 m" in ask(desk, "bands", text="16 A, 16 B, 16 C, 16 A, 16 B")["error"]
    assert "'D'" in ask(desk, "bands", text="2 A, 1 D")["error"]
    assert desk.history is before
    desk.widget.bands = "2 A, 1 D"  # of which stripes there are, the desk says
    assert desk.widget.bands == "even"
    assert "Not done" in desk.message


def test_the_range_is_saved_with_its_bands_and_opened_as_it_was(desk, palette, tmp_path):
    desk.keep(1)
    path = desk.keep_file.path
    even = path.read_bytes()
    assert json.loads(even)["version"] == 2
    desk.widget.bands = "graduated"
    desk.save()
    saved = json.loads(path.read_bytes())
    assert saved["version"] == 3
    check = Check("1/2 in", 3, warp="graduated")
    assert open_set(path).check == desk.kept.check == desk.hand_off.chosen.check == check
    assert ask(desk, "bands", value="even") == {"id": "1"}
    desk.save()
    assert path.read_bytes() == even
    desk.undo()
    desk.save()
    other = open_desk(palette, count=12, folder=tmp_path, name="other")
    assert ask(other, "open_range", path=path.name) == {"id": "1"}
    assert (other.widget.bands, other.kept) == ("graduated", desk.kept)
    other.retire()
    other.close()


def test_kept_ones_that_the_bands_are_not_of_are_said_to_be_even(desk):
    desk.keep(1)
    number = desk.state.kept[0].number
    ask(desk, "copy", number=number)
    ask(desk, "remove_stripe", number=number + 1, stripe=1)
    assert "even" not in desk.message
    desk.widget.bands = "graduated"
    assert desk.message == "1 of 2 kept is even: the bands are of 3 stripes."
    assert [card.number for card in desk.state.unlaid] == [number + 1]
    ask(desk, "note", number=number, text="hem")
    assert "even" not in desk.message, "said once"
    desk.widget.stripes = 4
    assert desk.message == "2 of 2 kept are even: the bands are of 4 stripes."
    ask(desk, "bands_for", number=number)
    assert desk.message.endswith("1 of 2 kept is even: the bands are of 3 stripes.")
    desk.widget.bands = "even"
    assert desk.message == ""


def test_wefts_of_their_own_are_held_drawn_and_saved_again_as_they_were(desk, tmp_path):
    cloth = Colourway("white", ["navy", "teal"], name="Quay")
    members = each_weft(cloth, [["gold"], ["plum"]])
    check = Check("1/4 in", 2, warp="graduated", weft="2 A, 1 ground", weft_stripes=1)
    path = save_set(ChosenSet(check, members, "wefts"), tmp_path / "wefts.kept.json")
    assert ask(desk, "open_range", path=path.name) == {"id": "1"}
    assert desk.kept == open_set(path)
    widget = desk.widget
    assert [entry["wefts"] for entry in widget.kept] == [1, 1]
    assert len(widget.kept_colours) == 2 * 4 * 3 * 4  # ground, two stripes, one of the weft
    number = desk.state.kept[0].number
    look, (tones, _) = desk.answer({"do": "look", "id": "1", "number": number})
    assert (look["count"], look["wefts"]) == (2, 1)
    assert len(tones) % (3 * 2 * 3) == 0
    assert "weft gold" in look["words"]
    desk.show(members)
    assert bytes(widget.weft_counts) == b"\x01\x01"
    assert widget.laid["wefts"] == 1
    seen = score(members[0], check=desk.state.check)
    assert desk.scores()["least_edge"][0] == pytest.approx(float(seen.least_edge))
    assert desk._repr_html_().count("<img") == 2


def test_draws_are_other_cloths_in_the_bands_and_a_search_says_what_it_measured(desk):
    desk.widget.bands = ORDER
    ask(desk, "draw")
    number = desk.state.shown[0].number
    assert ask(desk, "more", number=number) == {"id": "1"}
    made = ask(desk, "derive", number=desk.state.shown[0].number, order=True)
    assert len(made["colourways"]) == 5, "three colours that nothing makes alike: six orders"


def test_the_hand_off_is_of_the_bands_and_of_the_wefts(desk, tmp_path):
    members = each_weft(Colourway("white", ["navy", "teal"], name="Quay"), [["gold"], ["plum"]])
    check = Check("1/4 in", 2, warp="graduated", weft="2 A, 1 ground", weft_stripes=1)
    path = save_set(ChosenSet(check, members, "wefts"), tmp_path / "wefts.kept.json")
    ask(desk, "open_range", path=path.name)
    made = desk.export(tmp_path / "out" / "wefts", dpi=160)
    tiles = sorted((tmp_path / "out" / "wefts").rglob("*tile*.png"))
    assert len(tiles) == 2, made
    pixels, _ = tile_pixels(members[0], check, 160)
    assert pixels.shape == (120, 180, 3), "40 pixels a check: 3 of them by 4 1/2"
    found = {np.asarray(Image.open(tile).convert("RGB")).tobytes() for tile in tiles}
    assert pixels.tobytes() in found
