"""Editing at a desk without a browser: what is answered, sent, scored, saved and taken over."""

from __future__ import annotations

import asyncio

import numpy as np
import pytest

from checkcloth import VISIONS, score
from checkcloth.cloth.mixing import find_mixing
from checkcloth.desk import open_desk
from checkcloth.desk.background import WAIT
from checkcloth.export.data.saved import open_set
from checkcloth.scoring.vocabulary import COLUMNS


@pytest.fixture
def number(desk):
    return desk.state.shown[3].number


def encoded_of(colourway):
    rgb = np.array([colour.rgb for colour in (colourway.ground, *colourway.stripes)])
    return find_mixing(colourway.mixing).encode(rgb, colourway.yule_nielsen)


def test_the_look_follows_every_edit_with_all_that_the_page_mixes_from(page, number):
    assert page.ask("own", number=number, mixing="pigment", strength=0.3) == {"id": "1"}
    page.ask("stays", number=number, part=2, stays=True)
    page.ask("add_stripe", number=number, text="navy")
    answer = page.ask("look", number=number)
    cloth = page.desk.state.find(number).colourway
    assert answer["recipe"] == ["pigment", "layered", "absorption", 0.5, 1.0]
    assert (answer["strength"], answer["own"], answer["count"]) == (0.3, True, 4)
    assert answer["stripes"][3] == ["navy", "#000080", False]
    assert [stays for _, _, stays in answer["stripes"]] == [False, True, False, False]
    np.testing.assert_allclose(page.floats(1).reshape(5, 36), encoded_of(cloth), rtol=1e-5)
    assert len(page.buffers[0]) == len(VISIONS) * 3 * 5 * 5
    other = page.ask("look", number=page.desk.state.shown[0].number)
    assert other["own"] is False


def test_a_card_that_is_gone_is_told_and_nothing_said(page, number):
    page.ask("draw")
    said = page.desk.widget.facts["message"]
    assert page.ask("look", number=number) == {"id": "1", "number": number, "gone": True}
    assert page.desk.widget.facts["message"] == said


def test_a_refusal_names_its_field_and_changes_nothing(page, number):
    before = page.desk.history
    answer = page.ask("colour", number=number, part=9, text="navy")
    assert answer["field"] == "part"
    assert "from 0 to 3" in answer["error"]
    assert page.desk.history is before


def test_what_is_made_is_told_by_its_number(page, number):
    empty = page.ask("empty", stripes=6)["number"]
    assert page.desk.widget.numbers[0] == empty
    page.ask("keep", number=number)
    (kept,) = page.desk.state.kept
    copied = page.ask("copy", number=kept.number)["number"]
    assert [entry["number"] for entry in page.desk.widget.kept] == [kept.number, copied]
    assert "number" not in page.ask("draw")


def test_what_keeps_its_own_comes_in_the_message_that_it_is_mixed_from(page, number, monkeypatch):
    sent = []
    widget = page.desk.widget
    monkeypatch.setattr(
        type(widget), "send_state", lambda self, key=None: sent.append((set(key), dict(self.facts)))
    )
    page.ask("colour", number=number, part=1, text="navy")
    (first,) = (one for one in sent if "strengths" in one[0] or "colours" in one[0])
    assert {"facts", "stamp", "dealt", "names"} <= first[0]
    assert first[1]["own"] == [number]


def test_strengths_and_recipes_of_what_is_by_hand_stay_when_the_desk_moves(page, number):
    widget = page.desk.widget
    page.ask("own", number=number, strength=0.25, mixing="woven")
    widget.strength, widget.mixing = 0.8, "pigment"
    assert page.desk._sync.widget.facts["own"] == [number]
    index = widget.numbers.index(number)
    recipes = [widget.recipes[which][0] for which in widget.recipe_of]
    assert recipes[index] == "woven"
    assert set(recipes[:index] + recipes[index + 1 :]) == {"pigment"}
    assert np.frombuffer(widget.strengths, "<f4")[index] == 0.25
    assert page.desk.message == "1 by hand keeps its own."
    shown = {one.mixing for one in page.desk.shown}
    assert shown == {"woven", "pigment"}


def test_scores_are_of_what_shows_and_the_order_waits_while_the_hand_is_on_it(page, number):
    desk = page.desk
    page.ask("sort", sort="least_edge")
    desk.scores()
    desk._sync.put_order(desk.state)
    order = list(desk.widget.order)
    page.ask("colour", number=number, part=2, text="navy")
    page.ask("own", number=number, strength=0.11)
    assert desk.widget.order == order
    direct = score([desk.state.as_shown(card) for card in desk.state.shown])
    columns = {"least_edge": direct.least_edge, **direct.columns()}
    for scores in (desk._sync.scores, dict(_scored_anew(desk))):
        assert set(scores) == set(COLUMNS)
        for name, values in columns.items():
            np.testing.assert_allclose(scores[name], values)
    index = desk.widget.numbers.index(number)
    assert desk.widget.figures[index] == f"ΔE {direct.least_edge[index]:.1f}"


def _scored_anew(desk):
    desk._sync.scores = {}
    return desk.scores()


def test_a_run_of_nudges_is_one_undo_however_long_the_hand_rests(page, number):
    desk = page.desk
    before = desk.state.find(number)

    async def nudge_and_rest():
        for steps in (1, 1, -3):
            page.ask("nudge", number=number, part=1, axis="lightness", steps=steps)
            desk._score_soon()
            await asyncio.sleep(2 * WAIT)
        page.ask("own", number=number, strength=0.3)
        desk._score_soon()
        await asyncio.sleep(2 * WAIT)
        page.ask("own", number=number, strength=0.4)

    asyncio.run(nudge_and_rest())
    assert [desk.undo() for _ in range(3)][:2] == ["This one at 40 %", "This one at 30 %"]
    assert desk.state.find(number) == before


def test_derived_ones_are_seen_before_they_are_kept(page, number):
    answer = page.ask("derive", number=number, grounds=True, strength=0.2)
    assert answer["colourways"][0][0] == "Flour"
    assert (answer["counts"], answer["strengths"]) == ([3, 3], [0.2, 0.2])
    assert answer["kept"] == [False, False]
    assert page.floats().size == 2 * 4 * 3
    assert page.desk.state.kept == ()
    page.ask("keep_derived", number=number, grounds=True, strength=0.2)
    assert page.ask("derive", number=number, grounds=True, strength=0.2)["kept"] == [True, True]
    assert page.desk.widget.facts["families"] == [page.desk.state.kept[0].family]
    assert "error" in page.ask("derive", number=number)


@pytest.mark.parametrize("mixing", ["source-over", "woven", "pigment"])
def test_colours_are_encoded_for_a_recipe(page, mixing):
    recipe = [mixing, "x", "y", 0.5, 1.7]
    assert page.ask("encode", recipe=recipe, colours=["#f2b084", "navy"]) == {"id": "1"}
    rgb = np.array([[0xF2, 0xB0, 0x84], [0, 0, 0x80]]) / 255
    wanted = find_mixing(mixing).encode(rgb, 1.7 if mixing == "woven" else 1)
    np.testing.assert_allclose(page.floats().reshape(2, -1), wanted, rtol=1e-5, atol=1e-7)


@pytest.mark.parametrize(
    ("fields", "field"),
    [
        ({"recipe": None, "colours": []}, "recipe"),
        ({"recipe": [["woven"], "", "", 0.5, 1], "colours": []}, "recipe"),
        ({"recipe": ["soup", "", "", 0.5, 1], "colours": []}, "mixing"),
        ({"recipe": ["ink", "", "", 0.5, 1, [], 7], "colours": []}, "recipe"),
        ({"recipe": ["woven", "", "", 0.5, 0], "colours": []}, "yule_nielsen"),
        ({"recipe": ["woven", "", "", 0.5, 1], "colours": ["peachy"]}, "colours"),
        ({"recipe": ["woven", "", "", 0.5, 1], "colours": [3]}, "colours"),
        ({"recipe": ["woven", "", "", 0.5, 1], "colours": ["navy"] * 2001}, "colours"),
    ],
)
def test_what_cannot_be_encoded_is_refused(page, fields, field):
    assert page.ask("encode", **fields)["field"] == field
    assert page.desk.troubles == []


def test_edits_of_what_is_kept_are_in_its_file_with_the_family(page, number, tmp_path):
    page.ask("keep", number=number)
    kept = page.desk.state.kept[0].number
    page.ask("colour", number=kept, part=1, text="#f2b084")
    page.ask("family", number=kept, family="Violet")
    (path,) = tmp_path.glob("*.kept.json")
    (member,) = open_set(path).chosen
    assert (member.colourway.stripes[0].hex, member.family) == ("#f2b084", "Violet")
    (entry,) = page.desk.widget.kept
    assert entry["family"] == "Violet"
    assert entry["stripes"][0] == ["#f2b084", "#f2b084"]
    assert entry["ground"][1] == member.colourway.ground.hex


def test_a_desk_opened_again_otherwise_keeps_what_is_by_hand(palette, tmp_path):
    first = open_desk(palette, count=24, folder=tmp_path)
    number = first.state.shown[5].number
    first.answer({"do": "colour", "number": number, "part": 1, "text": "#f2b084"})
    cloth = first.state.find(number).colourway
    second = open_desk(palette, count=12, stripes=2, folder=tmp_path)
    assert second.state.shown[0].number == number
    assert second.state.find(number).colourway == cloth
    assert len(second.state.shown) == 13
    second.retire()
    second.close()
    first.close()


def test_a_text_that_is_no_colour_is_refused_in_plain_words_with_names_like_it(palette, tmp_path):
    desk = open_desk(palette, count=24, folder=tmp_path, name="names")
    number = desk.state.shown[0].number
    known = desk.palette.colours[0].name
    asked = {"do": "colour", "number": number, "part": 1}
    before = desk.state
    said, _ = desk.answer(asked | {"text": f"{known}e"})
    assert said["error"].startswith(f"“{known}e” is no colour that is known here; try {known}")
    assert said["near"][0] == known
    assert "error" not in desk.answer(asked | {"text": said["near"][0]})[0]
    desk.undo()
    said, _ = desk.answer(asked | {"text": "12qqx9"})
    assert said["near"] == []
    assert said["error"].endswith("try a code such as #c09fd4, or a name")
    said, _ = desk.answer(
        {"do": "edit_palette", "palette": desk.palette.name, "index": 0, "field": "colour",
         "text": "navvy"}
    )  # fmt: skip
    assert (said["near"], desk.state) == (["navy"], before)
    desk.close()
