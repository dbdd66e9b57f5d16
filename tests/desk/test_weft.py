"""Wefts of their own on a desk without a browser: sent, kept, saved, exported, derived."""

from __future__ import annotations

import numpy as np
import pytest
from asking import ask
from PIL import Image

from checkcloth import Check
from checkcloth.cloth.tones import lay
from checkcloth.colour.spaces import srgb_to_bytes
from checkcloth.desk import open_desk
from checkcloth.errors import CheckclothError
from checkcloth.export.data.saved import open_set


def colours_sent(desk):
    return len(desk.widget.colours) // 4


def test_the_wall_is_told_of_a_weft_that_got_colours_of_its_own(desk):
    """Ground and stripes of every card, three channels each; where one has, its weft's beside."""
    number = desk.state.shown[2].number
    plain = colours_sent(desk)
    assert desk.widget.weft_counts == b""
    ask(desk, "colour", number=number, part=-2, text="navy")
    counts = list(desk.widget.weft_counts)
    assert counts == [3 if index == 2 else 0 for index in range(len(counts))]
    assert colours_sent(desk) == plain + 3 * 3
    ask(desk, "remove_stripe", number=number, stripe=-1)
    assert desk.widget.weft_counts[2] == 2
    assert colours_sent(desk) == plain + 2 * 3
    look = ask(desk, "look", number=number)
    assert look["weft"][0][0] == "navy"
    ask(desk, "weft_as_warp", number=number)
    assert (desk.widget.weft_counts, colours_sent(desk)) == (b"", plain)
    for _ in range(3):
        desk.undo()
    assert (desk.widget.weft_counts, colours_sent(desk)) == (b"", plain)


def test_a_weft_made_by_hand_is_kept_saved_and_in_the_tile(desk, tmp_path):
    number = desk.state.shown[0].number
    ask(desk, "bands", text="graduated")
    ask(desk, "colour", number=number, part=-1, text="black")
    ask(desk, "nudge", number=number, part=-1, axis="lightness", steps=2)
    ask(desk, "keep", number=number)
    (entry,) = desk.widget.kept
    assert entry["wefts"] == len(entry["weft"]) == 3
    (cloth,) = open_set(desk.keep_file.path)
    assert cloth.weft_stripes[0].name == "black, lighter"
    assert [cloth] == list(desk.kept)
    desk.export(tmp_path / "out" / "weft", dpi=160)
    (tile,) = (tmp_path / "out" / "weft").rglob("*tile*.png")
    pixels = np.asarray(Image.open(tile).convert("RGB"))
    check = Check("1/2 in", 3, warp="graduated")
    across = np.repeat([band.stripe for band in check.warp_bands],
                       [int(80 * band.checks) for band in check.warp_bands])  # fmt: skip
    np.testing.assert_array_equal(pixels, lay(srgb_to_bytes(cloth.tones), across, across))


def test_each_weft_is_one_warp_across_every_colour_of_the_palette(desk):
    number = desk.state.shown[0].number
    ask(desk, "keep", number=number)
    cloth = desk.state.kept[0].colourway
    number = desk.state.kept[0].number
    answer = ask(desk, "derive", number=number, wefts=True)
    wanted = [c.name for c in desk.palette.stripes if c.rgb != cloth.ground.rgb]
    assert answer["weft_names"] == [[name] * 3 for name in wanted]
    assert answer["counts"] == [3] * len(wanted) == answer["wefts"]
    ask(desk, "keep_derived", number=number, wefts=True)
    assert len(desk.kept) == 1 + len(wanted)
    assert len({card.family for card in desk.state.kept}) == 1
    assert ask(desk, "derive", number=number, wefts=True)["kept"] == [True] * len(wanted)
    desk.undo()
    assert len(desk.kept) == 1


def test_coordinates_are_seen_together_and_kept_as_one_family_by_one_press(desk):
    ask(desk, "stripes", value=4)
    number = desk.state.shown[0].number
    ask(desk, "name", number=number, text="Quay")
    number = desk.state.kept[0].number
    answer = ask(desk, "derive", number=number, family=True)
    cloth = desk.state.kept[0].colourway
    kinds = ["3 stripes", "2 stripes", "stripe", f"plain {cloth.ground.name}",
             f"plain {cloth.stripes[0].name}"]  # fmt: skip
    assert answer["names"] == [f"Quay, {kind}" for kind in kinds]
    assert answer["counts"] == [3, 2, 4, 1, 1]
    ask(desk, "keep_derived", number=number, family=True)
    assert [card.family for card in desk.state.kept] == ["Quay"] * 6
    assert [card.colourway.name for card in desk.state.kept][1:] == answer["names"]
    desk.undo()
    assert [card.family for card in desk.state.kept] == [""]


def test_a_desk_is_opened_with_bands_and_wefts_from_code(palette, tmp_path):
    weft = [(1, 2), (0, "1/2"), (2, 1)]
    desk = open_desk(palette, stripes=3, count=12, bands="graduated", weft=weft, weft_colours=2,
                     folder=tmp_path)  # fmt: skip
    check = Check("1/2 in", 3, warp="graduated", weft=weft, weft_stripes=2)
    assert desk.state.check == check
    assert desk.widget.bands == "graduated"
    assert (desk.widget.weft, desk.widget.weft_colours) == ("2 A, 1/2 ground, 1 B", 2)
    assert {len(one.weft_stripes) for one in desk.shown} == {2}
    again = open_desk(palette, stripes=3, count=12, folder=tmp_path)
    assert (again.state.check, again.widget.weft_colours) == (Check("1/2 in", 3), 0)
    again.close()


@pytest.mark.parametrize(
    ("fields", "argument"),
    [
        ({"bands": "plaid"}, "bands"),
        ({"bands": "2 A, 1 D"}, "bands"),
        ({"weft": "2 A, 1 C", "weft_colours": 2}, "weft"),
        ({"weft_colours": -1}, "weft_colours"),
        ({"bands": "16 A, 16 B, 16 C, 16 A, 16 B"}, "repeat"),
    ],
)
def test_bands_that_cannot_be_open_no_desk(palette, tmp_path, fields, argument):
    with pytest.raises(CheckclothError) as caught:
        open_desk(palette, stripes=3, folder=tmp_path, **fields)
    assert argument in str(caught.value)
