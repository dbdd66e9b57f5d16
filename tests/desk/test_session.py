"""The desk without a browser: sliders move the state, requests are answered, files are kept."""

from __future__ import annotations

import asyncio
import contextlib
import gc
import random
import weakref

import ipywidgets
import numpy as np
import pytest

from checkcloth import VISIONS, Colourway, Length, Palette, score, see_as
from checkcloth.cloth.spectral import seen_under
from checkcloth.colour.spaces import srgb_to_bytes
from checkcloth.desk import open_desk
from checkcloth.desk.background import WAIT, debounce
from checkcloth.desk.payloads import settings
from checkcloth.desk.state.requests import SETTINGS
from checkcloth.errors import ArgumentError, CheckclothError
from checkcloth.export.data.saved import open_set
from checkcloth.export.page.tone_packing import pack
from checkcloth.scoring.vocabulary import COLUMNS


def test_one_drag_of_strength_is_one_undo_and_sends_no_colours(desk):
    widget = desk.widget
    before = widget.stamp, widget.colours, widget.choices

    async def drag_wait_drag():
        for value in (0.55, 0.6, 0.63):
            widget.strength = value
            assert widget.figures, "the scores wait until nothing moves"
        assert widget.facts["undo"] == ""
        await asyncio.sleep(WAIT)
        for _ in range(200):  # a busy machine takes its time
            await asyncio.sleep(0.1)
            if desk._sync.scores:
                break
        assert widget.facts["undo"] == "strength 63 %"
        assert set(desk._sync.scores) == set(COLUMNS)
        widget.strength = 0.65

    asyncio.run(drag_wait_drag())
    assert desk.state.strength == 0.65
    assert (widget.stamp, widget.colours, widget.choices) == before
    assert desk.undo() == "strength 65 %"
    assert widget.strength == 0.63
    assert desk.undo() == "strength 63 %"
    assert widget.strength == 0.5
    desk.redo()
    assert desk.redo() == "strength 65 %"
    assert widget.strength == 0.65


def test_work_that_waits_is_given_up_when_something_moves_again():
    done = []

    def work(name):
        for part in range(3):
            done.append((name, part))
            yield

    async def play():
        first = debounce(None, lambda: work("first"), done.append, wait=0.01)
        second = debounce(first, lambda: work("second"), done.append, wait=0.01)
        await second
        await debounce(None, lambda: 1 / 0, done.append, wait=0)

    asyncio.run(play())
    assert done[:3] == [("second", 0), ("second", 1), ("second", 2)]
    assert isinstance(done[3], ZeroDivisionError)


def test_check_size_set_by_code_and_typed_on_the_page(page):
    widget = page.desk.widget
    stamp = widget.stamp
    widget.size = "1/16 in"
    assert str(page.desk.state.size) == "1/16 in (1.5875 mm)"
    assert page.ask("size", text="7mm") == {"id": "1"}
    assert str(page.desk.state.size) == "7 mm (0.2756 in)"
    assert widget.size == "7 mm"
    assert dict(map(tuple, widget.choices["sizes"]))["7 mm"] == pytest.approx(7 / 25.4)
    assert [inches for _, inches in widget.choices["sizes"]] == sorted(
        inches for _, inches in widget.choices["sizes"]
    )
    assert widget.stamp == stamp, "a check size sends no colours"
    assert "length must be" in page.ask("size", text="seven")["error"]
    assert "0.25 in or 0.25 mm?" in page.ask("size", text="0.25")["error"]
    assert widget.size == "7 mm"
    assert page.ask("size", text="¼ in") == {"id": "1"}
    assert widget.size == "1/4 in"


def test_every_check_size_that_is_offered_reads_back(desk):
    for words, inches in desk.widget.choices["sizes"]:
        assert Length(words).inches == pytest.approx(inches)
        desk.widget.size = words
        assert desk.widget.size == words


def test_stripes_beyond_the_palette_are_held_and_said(desk):
    desk.widget.stripes = 12
    assert desk.state.stripes == 8
    assert desk.widget.stripes == 8
    assert "12 became 8" in desk.widget.facts["message"]


def test_palette_ground_and_mixing(desk):
    desk.widget.ground = "Night"
    assert {card.colourway.ground.name for card in desk.state.shown} == {"Night"}
    stamp = desk.widget.stamp
    desk.widget.mixing = "woven"
    assert {one.mixing for one in desk.shown} == {"woven"}
    assert desk.widget.recipes == [["woven", "woven", "light", 0.5, 1.0]]
    assert desk.widget.stamp == stamp + 1


def test_another_palette_brings_its_own_grounds(palette, tmp_path):
    other = Palette("moor", ["white", "navy", "teal", "gold", "plum"])
    desk = open_desk([palette, other], count=24, folder=tmp_path)
    desk.widget.ground = "Night"
    desk.widget.palette = "moor"
    assert desk.widget.ground == ""
    assert ["gold", "gold"] in desk.widget.choices["grounds"]
    assert desk.undo() == "palette moor"
    assert (desk.widget.palette, desk.widget.ground) == ("halt", "Night")
    desk.retire()
    desk.close()


@pytest.mark.parametrize(
    ("trait", "value", "allowed"),
    [
        ("strength", 1.5, "from 0 to 1"),
        ("strength", float("nan"), "from 0 to 1"),
        ("size", "12", "unit is missing"),
        ("size", "2 m", "from 0.1 mm to 1 m"),
        ("stripes", 13, "from 1 to 12"),
        ("count", 0, "from 1 to 500"),
        ("palette", "nowhere", "one of halt"),
        ("ground", "Weird", "one of Flour"),
        ("mixing", "soup", "one of source-over"),
    ],
)
def test_a_setting_that_cannot_be_is_refused_and_nothing_changes(desk, trait, value, allowed):
    before = desk.history, getattr(desk.widget, trait)
    with pytest.raises(CheckclothError, match=allowed) as caught:
        setattr(desk.widget, trait, value)
    assert caught.value.argument in (trait, "length")
    assert (desk.history, getattr(desk.widget, trait)) == before


def test_what_the_page_sets_wrong_is_said_and_set_back(desk):
    with contextlib.suppress(CheckclothError):  # ipywidgets logs it
        desk.widget.set_state({"strength": 7})
    assert desk.state.strength == 0.5
    assert desk.widget.strength == 0.5
    assert "Not done: strength must be" in desk.widget.facts["message"]


def test_a_slider_of_ones_own_is_linked_both_ways(desk):
    slider = ipywidgets.FloatSlider(value=0.5, max=1, step=0.01, description="Strength")
    link = ipywidgets.link((slider, "value"), (desk.widget, "strength"))
    slider.value = 0.4
    assert desk.state.strength == 0.4
    desk.undo()
    assert slider.value == 0.5
    heard = []
    desk.widget.observe(lambda change: heard.append(change["new"]), "stripes")
    desk.widget.stripes = 4
    assert heard == [4]
    link.unlink()
    slider.close()


def test_settings_follow_every_step_back_and_forth(page):
    """Traits and state say the same after any act, undone and redone."""
    desk, rng = page.desk, random.Random(3)
    acts = [
        lambda: setattr(desk.widget, "strength", rng.choice([None, 0.2, 0.9])),
        lambda: setattr(desk.widget, "stripes", rng.randint(1, 12)),
        lambda: setattr(desk.widget, "mixing", rng.choice(["", "woven", "pigment"])),
        lambda: setattr(desk.widget, "ground", rng.choice(["", "Night", "Flour"])),
        lambda: setattr(desk.widget, "size", rng.choice(["7 mm", "1/3 in", "1 1/2 in"])),
        lambda: setattr(desk.widget, "count", rng.choice([10, 24])),
        lambda: page.ask("undo"),
        lambda: page.ask("redo"),
        lambda: page.ask("draw"),
        lambda: page.ask("toggle", number=rng.choice(desk.state.shown).number),
        lambda: desk.show([Colourway("white", ["navy"], 0.3), Colourway("ivory", ["teal"], 0.8)]),
    ]
    for _ in range(60):
        rng.choice(acts)()
        assert {name: getattr(desk.widget, name) for name in SETTINGS} == settings(desk.state)
        assert desk.widget.numbers == [card.number for card in desk.state.shown]
        assert desk.hand_off.chosen == desk.kept
    assert desk.troubles == []


def test_every_request_is_answered_and_a_bad_one_changes_nothing(page):
    before = page.desk.history
    for what, fields in [
        ("nonsense", {}), ("toggle", {}), ("toggle", {"number": "1"}), ("name", {"number": 1}),
        ("look", {"number": "x"}), ("limit", {"column": "evenness", "least": "x"}),
        ("sort", {"sort": 3}), ("vision", {"vision": "x"}),
        ("light", {"light": "x"}), ("take", {"file": "../../x"}),
        ("stays", {"number": page.desk.state.shown[0].number, "part": 99, "stays": True}),
    ]:  # fmt: skip
        answer = page.ask(what, **fields)
        assert answer["id"] == "1"
        assert answer["error"], what
    assert page.desk.history == before
    assert page.desk.troubles == []
    assert page.ask("ping") == {"id": "1"}


def test_a_look_at_what_has_left_the_desk_is_no_error_and_says_nothing(page):
    number = page.desk.state.shown[3].number
    page.ask("keep", number=number)
    message = page.desk.widget.facts["message"]
    page.desk.widget.stripes = 4
    for gone in (number, 10**9):
        assert page.ask("look", number=gone) == {"id": "1", "number": gone, "gone": True}
        assert page.buffers == []
    assert page.desk.widget.facts["message"] in ("", message)
    assert "ground" in page.ask("look", number=page.desk.state.kept[0].number)


def test_a_fault_of_the_kit_is_said_and_kept(page, monkeypatch):
    monkeypatch.setattr("checkcloth.desk.session.look", lambda *_: 1 / 0)
    assert "ZeroDivisionError" in page.ask("look", number=1)["error"]
    assert "1 / 0" in page.desk.troubles[0]
    assert "a fault of the kit" in page.desk.widget.facts["message"]


def test_keeping_writes_the_set_file_and_undo_writes_it_again(page):
    number = page.desk.state.shown[2].number
    page.ask("name", number=number, text="<img src=x onerror=alert(1)>")
    path = page.desk.keep_file.path
    assert open_set(path) == page.desk.kept
    assert [one.name for one in page.desk.kept] == ["<img src=x onerror=alert(1)>"]
    assert page.desk.widget.marks == {str(number): 2}
    page.ask("undo")
    assert len(open_set(path)) == 0
    page.ask("redo")
    assert len(open_set(path)) == 1


def test_a_set_that_cannot_be_saved_is_said_and_stays_on_the_desk(page, monkeypatch):
    def refuse(*_, **__):
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr("checkcloth.desk.keep_file.write_free", refuse)
    page.ask("toggle", number=page.desk.state.shown[0].number)
    assert "NOT SAVED" in page.desk.widget.facts["saved"]
    assert len(page.desk.kept) == 1


def test_what_a_name_has_kept_is_not_dropped_by_keeping_it(page):
    number = page.desk.state.shown[0].number
    page.ask("name", number=number, text="Quay")
    steps = page.desk.widget.facts["undo"]
    page.ask("keep", number=number)
    assert [one.name for one in page.desk.kept] == ["Quay"]
    assert page.desk.widget.facts["undo"] == steps, "nothing was done, so nothing to undo"
    page.ask("drop", number=number)
    assert len(page.desk.kept) == 0
    page.ask("keep", number=number)
    assert len(page.desk.kept) == 1


def test_a_close_look_tells_tones_scores_and_words(page):
    card = page.desk.state.shown[0]
    answer = page.ask("look", number=card.number)
    one = page.desk.state.as_shown(card)
    names = [name for name, _ in answer["tones"]]
    assert names[0] == one.ground.name
    assert one.tone_name(1, 2) in names
    assert len(answer["remarks"]) >= 2
    tones = np.frombuffer(page.buffers[0], np.uint8).reshape(5, 4, 4, 3)
    for vision, seen in zip(VISIONS, tones, strict=True):
        np.testing.assert_array_equal(seen, srgb_to_bytes(see_as(one.tones, vision)))


def test_a_light_to_look_under_colours_wall_look_and_scores(page):
    desk = page.desk
    card = desk.state.shown[0]
    day, before = bytes(desk.widget.colours), desk.scores()
    stamp = desk.widget.stamp
    page.ask("light", light="A")
    assert desk.widget.light == "A"
    assert desk.widget.stamp > stamp
    assert "tungsten" in desk.widget.facts["message"]
    members = [seen_under(one.colourway, "A") for one in desk.state.shown]
    assert desk.widget.colours == pack(members, desk.state.mixing, wefts=True).colours != day
    shown = desk.state.as_shown(card)
    lit = score(seen_under(shown, "A"))
    assert desk.scores()["least_edge"][0] == pytest.approx(float(lit.least_edge))
    page.ask("look", number=card.number)
    tones = np.frombuffer(page.buffers[0], np.uint8).reshape(5, 4, 4, 3)
    own = next(one for one in desk.state.shown if one.number == card.number).colourway
    np.testing.assert_array_equal(tones[0], srgb_to_bytes(seen_under(own, "A").tones))
    page.ask("nudge", number=card.number, part=1, axis="lightness", steps=1)  # an edit stays lit
    members = [seen_under(one.colourway, "A") for one in desk.state.shown]
    own_mixing = {i for i, one in enumerate(desk.state.shown) if one.own}
    assert desk.widget.colours == pack(members, desk.state.mixing, own_mixing, wefts=True).colours
    page.ask("undo")
    page.ask("light", light="D65")
    assert desk.widget.colours == day
    assert desk.scores()["least_edge"] == pytest.approx(before["least_edge"])


def test_sort_and_limits_reach_the_wall(page):
    page.ask("sort", sort="least_edge")
    columns = page.desk.scores()
    order = page.desk.widget.order
    assert (np.diff(columns["least_edge"][order]) <= 0).all()
    page.ask("limit", column="least_edge", least=float(np.median(columns["least_edge"])))
    assert len(page.desk.widget.hidden) == 12
    assert len(page.desk.shown) == 12
    page.ask("unlimit", column="least_edge")
    assert page.desk.widget.hidden == []


def test_show_puts_other_colourways_on_the_wall_each_as_it_came(desk):
    members = [
        Colourway("white", ["navy"], 0.3),
        Colourway("ivory", ["teal", "gold"], 0.8, "woven"),
    ]
    desk.show(members, "shortlist")
    assert desk.shown == members
    assert desk.widget.facts["dealt"] == "shortlist, each at its own strength"
    desk.widget.strength = 0.7
    assert {one.strength for one in desk.shown} == {0.7}
    with pytest.raises(ArgumentError, match="1 to 500"):
        desk.show([])


def test_the_slider_of_stripes_stands_where_the_shown_colourways_do(desk):
    before = desk.widget.stripes
    desk.show([Colourway("white", ["navy"]), Colourway("white", ["navy", "teal"])])
    assert desk.widget.stripes == before
    five = [Colourway("white", ["navy", "teal", "gold", "coral", "plum"], s) for s in (0.4, 0.6)]
    desk.show(five, "shortlist")
    assert desk.widget.stripes == 5
    assert desk.shown == five  # following is not asking: nothing was drawn anew
    desk.show([Colourway("white", ["navy"] * 20)])
    assert desk.widget.stripes == 5


def test_export_needs_something_kept_then_writes_it_and_says_so(desk, tmp_path):
    with pytest.raises(CheckclothError, match="kept must be at least one"):
        desk.export(tmp_path / "out")
    desk.keep(1)
    desk.hand_off.fields.show({"folder": str(tmp_path / "deep" / "export")})
    desk.hand_off.begin()
    assert (tmp_path / "deep" / "export").is_dir()
    assert "1 colourway exported to" in desk.hand_off.work.words
    desk.hand_off.begin()
    assert "Not exported" in desk.hand_off.work.words


def test_opening_again_goes_on_where_it_was(palette, tmp_path):
    first = open_desk(palette, count=24, folder=tmp_path)
    first.keep(1)
    first.widget.strength = 0.8
    second = open_desk(palette, count=24, folder=tmp_path)
    assert first.retired
    # Its form is hidden, but nothing is taken out or closed before the next opening: the page may
    # not have it whole yet.
    assert first.box.children[0] is first.widget
    assert first.box.children[1].layout.display == "none"
    assert first.widget.comm is not None
    assert second.state == first.state
    assert second.undo() == "strength 80 %"
    third = open_desk(palette, count=24, stripes=4, folder=tmp_path)
    assert third.state.stripes == 4
    assert first.widget.comm is None
    assert second.widget.comm is not None
    assert third.kept.colourways == first.kept.colourways
    third.keep(2)
    assert len(open_set(third.keep_file.path)) == 2
    assert len(list(tmp_path.glob("*.kept.json"))) == 1
    third.retire()


def test_a_later_session_offers_the_earlier_set_and_leaves_it_as_it_is(
    palette, tmp_path, monkeypatch
):
    first = open_desk(palette, count=24, folder=tmp_path)
    first.keep(1)
    first.keep(2)
    earlier = first.keep_file.path
    before = earlier.read_bytes()
    first.retire()
    monkeypatch.setattr("checkcloth.desk.opening._open", {})  # as in another kernel
    second = open_desk(palette, count=24, folder=tmp_path)
    assert [one["file"] for one in second.widget.facts["offer"]] == [earlier.name]
    second.keep(3)
    second.answer({"do": "take", "file": earlier.name})
    assert len(second.kept) == 3
    assert second.widget.facts["offer"] == []
    assert second.keep_file.path != earlier
    assert earlier.read_bytes() == before
    second.retire()


def test_old_desks_are_let_go(palette, tmp_path):
    made = [weakref.ref(open_desk(palette, count=24, folder=tmp_path)) for _ in range(5)]
    gc.collect()
    assert [one() is not None for one in made] == [False, False, False, True, True]


def test_a_desk_reads_without_a_kernel(desk):
    still = desk._repr_html_()
    assert still.count('<img alt="gingham: ') == 24
    assert "Run the cell for the desk itself" in still


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        ({"palette": "nowhere"}, "palette must be one of halt"),
        ({"size": "12"}, "unit is missing"),
        ({"stripes": 13}, "stripes must be"),
        ({"strength": float("nan")}, "strength must be"),
        ({"count": 5001}, "count must be"),
        ({"mixing": "soup"}, "mixing must be one of"),
        ({"folder": "no/such/folder"}, "folder must be there"),
    ],
)
def test_bad_arguments_say_what_is_allowed(palette, arguments, message):
    with pytest.raises(CheckclothError, match=message):
        open_desk(palette, **arguments)


def test_any_number_of_colourways_may_be_asked_for(palette, tmp_path):
    for count in (1, 7, 48, 500):
        desk = open_desk(palette, count=count, folder=tmp_path, name=f"desk {count}")
        assert desk.widget.count == count
        assert len(desk.state.shown) <= count
        desk.retire()
        desk.close()


def test_without_palettes_those_that_ship_are_opened(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    desk = open_desk(name="shipped")
    assert {"harvest-stall", "tea-table"} <= set(desk.palettes)
    desk.retire()
    desk.close()
    (tmp_path / "palettes").mkdir()
    (tmp_path / "palettes" / "own.csv").write_text("name,colour\nSlate,#334455\nChalk,#eeeeee\n")
    desk = open_desk(name="own", stripes=1)
    assert list(desk.palettes) == ["own"]
    desk.retire()
    desk.close()


def test_a_palette_that_cannot_be_read_costs_one_line_and_never_the_desk(tmp_path):
    (tmp_path / "good.csv").write_text("name,colour\nSlate,#334455\nChalk,#eeeeee\n")
    (tmp_path / "old-client.csv").write_text("name,colour\nChalk,#eeeeee\nPeach,peachy\n")
    desk = open_desk(tmp_path, palette="old-client", stripes=1, folder=tmp_path)
    assert list(desk.palettes) == ["good"]
    (line,) = desk.left_out
    assert line.startswith("old-client.csv, line 3: ")
    assert desk.widget.facts["left_out"] == [line]
    desk.answer({"do": "dismiss"})
    assert desk.widget.facts["left_out"] == []
    desk.retire()
    desk.close()
    (tmp_path / "good.csv").unlink()
    with pytest.raises(CheckclothError, match="line 3"):
        open_desk(tmp_path, folder=tmp_path)
