"""The desk without a browser: sliders move the state, requests are answered, files are kept."""

from __future__ import annotations

import asyncio
import gc
import weakref

import numpy as np
import pytest

from checkcloth import Colourway
from checkcloth.desk import open_desk
from checkcloth.desk.debounce import REST, when_still
from checkcloth.desk.tone_packing import batches, pack
from checkcloth.errors import ArgumentError, CheckclothError
from checkcloth.export.data.saved import open_set
from checkcloth.scoring.words import COLUMNS


class Page:
    """Stands for the page: sends requests to the desk and takes its answers."""

    def __init__(self, desk, monkeypatch):
        self.desk, self.answers = desk, []
        monkeypatch.setattr(
            desk.wall, "send", lambda told, buffers=None: self.answers.append((told, buffers))
        )

    def ask(self, what, **fields):
        self.desk._doing.hear(self.desk.wall, {"do": what, "id": "1", **fields}, [])
        return self.answers[-1][0]


@pytest.fixture
def page(desk, monkeypatch):
    return Page(desk, monkeypatch)


def test_strength_moves_every_tone_and_one_drag_is_one_undo(desk):
    stamp = desk.wall.stamp

    async def drag_rest_drag():
        for value in (55, 60, 63):
            desk.controls.strength.value = value
            assert desk.wall.figures, "the scores wait until the hand rests"
        assert desk.sending.tally.columns == {}
        await asyncio.sleep(REST)
        for _ in range(200):  # a busy machine takes its time
            await asyncio.sleep(0.1)
            if desk.sending.tally.columns:
                break
        assert desk.wall.facts["undo"] == "strength 63 %"
        assert set(desk.sending.tally.columns) == set(COLUMNS)
        desk.controls.strength.value = 65

    asyncio.run(drag_rest_drag())
    assert desk.state.strength == 0.65
    assert desk.wall.stamp == stamp + 4
    members = [desk.state.as_shown(card) for card in desk.state.shown]
    assert desk.wall.tones == pack(batches(members), None, None)
    assert desk.undo() == "strength 65 %"
    assert desk.controls.strength.value == 63
    assert desk.undo() == "strength 63 %"
    assert desk.controls.strength.value == 50
    desk.redo()
    assert desk.redo() == "strength 65 %"
    assert desk.controls.strength.value == 65


def test_work_for_a_resting_hand_is_given_up_when_the_hand_moves_on():
    done = []

    def work(name):
        for part in range(3):
            done.append((name, part))
            yield

    async def play():
        first = when_still(None, lambda: work("first"), done.append, wait=0.01)
        second = when_still(first, lambda: work("second"), done.append, wait=0.01)
        await second
        await when_still(None, lambda: 1 / 0, done.append, wait=0)

    asyncio.run(play())
    assert done[:3] == [("second", 0), ("second", 1), ("second", 2)]
    assert isinstance(done[3], ZeroDivisionError)


def test_check_size_by_slider_and_by_text(desk):
    tones = desk.wall.stamp
    desk.controls.size.index = 0
    assert str(desk.state.size) == "1/16 in (1.5875 mm)"
    desk.controls.size_text.value = "7 mm"
    assert str(desk.state.size) == "7 mm (0.2756 in)"
    assert desk.controls.size.value == "7 mm (0.2756 in)"
    assert desk.wall.inches == pytest.approx(7 / 25.4)
    assert desk.wall.steps[desk.controls.size.index] == desk.wall.inches
    assert desk.wall.stamp == tones, "a check size sends no tones"
    desk.controls.size_text.value = "seven"
    assert "length must be" in desk.wall.facts["message"]
    assert str(desk.state.size) == "7 mm (0.2756 in)"


def test_stripes_beyond_the_palette_are_held_and_said(desk):
    desk.controls.stripes.value = 12
    assert desk.state.stripes == 8
    assert desk.controls.stripes.value == 8
    assert "12 became 8" in desk.wall.facts["message"]


def test_palette_ground_and_mixing(desk):
    desk.controls.ground.value = "Night"
    assert {card.colourway.ground.name for card in desk.state.shown} == {"Night"}
    desk.controls.mixing.value = "woven"
    assert {one.mixing for one in desk.shown} == {"woven"}


def test_every_request_is_answered_and_a_bad_one_changes_nothing(page):
    before = page.desk.history
    for what, fields in [
        ("nonsense", {}), ("toggle", {}), ("toggle", {"number": "1"}), ("name", {"number": 1}),
        ("look", {"number": 10**9}), ("limit", {"column": "evenness", "least": "x"}),
        ("sort", {"sort": 3}), ("vision", {"vision": "x"}), ("take", {"file": "../../x"}),
        ("lock_stripe", {"number": page.desk.state.shown[0].number, "place": 99}),
    ]:  # fmt: skip
        answer = page.ask(what, **fields)
        assert answer["id"] == "1"
        assert answer["error"], what
    assert page.desk.history == before
    assert page.desk.troubles == []
    assert page.ask("ping") == {"id": "1"}


def test_a_fault_of_the_kit_is_said_and_kept(page, monkeypatch):
    monkeypatch.setattr("checkcloth.desk.doing.look", lambda *_: 1 / 0)
    assert "ZeroDivisionError" in page.ask("look", number=1)["error"]
    assert "1 / 0" in page.desk.troubles[0]
    assert "a fault of the kit" in page.desk.wall.facts["message"]


def test_keeping_writes_the_set_file_and_undo_writes_it_again(page):
    number = page.desk.state.shown[2].number
    page.ask("name", number=number, text="<img src=x onerror=alert(1)>")
    path = page.desk.keep_file.path
    assert open_set(path) == page.desk.kept
    assert [one.name for one in page.desk.kept] == ["<img src=x onerror=alert(1)>"]
    assert page.desk.wall.marks == {str(number): 2}
    page.ask("undo")
    assert len(open_set(path)) == 0
    page.ask("redo")
    assert len(open_set(path)) == 1


def test_a_set_that_cannot_be_saved_is_said_and_stays_on_the_desk(page, monkeypatch):
    def refuse(*_, **__):
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr("checkcloth.desk.keep_file.save_set", refuse)
    page.ask("toggle", number=page.desk.state.shown[0].number)
    assert "NOT SAVED" in page.desk.wall.facts["saved"]
    assert len(page.desk.kept) == 1


def test_what_a_name_has_kept_is_not_dropped_by_keeping_it(page):
    number = page.desk.state.shown[0].number
    page.ask("name", number=number, text="Quay")
    steps = page.desk.wall.facts["undo"]
    page.ask("keep", number=number)
    assert [one.name for one in page.desk.kept] == ["Quay"]
    assert page.desk.wall.facts["undo"] == steps, "nothing was done, so nothing to undo"
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
    assert answer["repeat"] == "3 in (76.2 mm)"
    tones = page.answers[-1][1][0]
    assert tones[:48] == pack(batches([one]), None, None)
    assert len(tones) == 5 * 48


def test_sort_and_limits_reach_the_wall(page):
    page.ask("sort", sort="least_edge")
    columns = page.desk.scores()
    order = page.desk.wall.order
    assert (np.diff(columns["least_edge"][order]) <= 0).all()
    page.ask("limit", column="least_edge", least=float(np.median(columns["least_edge"])))
    assert len(page.desk.wall.hidden) == 12
    assert len(page.desk.shown) == 12
    page.ask("unlimit", column="least_edge")
    assert page.desk.wall.hidden == []


def test_show_puts_other_colourways_on_the_wall_each_as_it_came(desk):
    members = [
        Colourway("white", ["navy"], 0.3),
        Colourway("ivory", ["teal", "gold"], 0.8, "woven"),
    ]
    desk.show(members, "shortlist")
    assert desk.shown == members
    assert desk.wall.facts["dealt"] == "shortlist, each at its own strength"
    desk.controls.strength.value = 70
    assert {one.strength for one in desk.shown} == {0.7}
    with pytest.raises(ArgumentError, match="1 to 500"):
        desk.show([])


def test_the_slider_of_stripes_stands_where_the_shown_colourways_do(desk):
    before = desk.controls.stripes.value
    desk.show([Colourway("white", ["navy"]), Colourway("white", ["navy", "teal"])])
    assert desk.controls.stripes.value == before
    five = [Colourway("white", ["navy", "teal", "gold", "coral", "plum"], s) for s in (0.4, 0.6)]
    desk.show(five, "shortlist")
    assert desk.controls.stripes.value == 5
    assert desk.shown == five  # following is not asking: nothing was drawn anew
    desk.show([Colourway("white", ["navy"] * 20)])
    assert desk.controls.stripes.value == 5


def test_export_needs_something_kept_then_writes_it_and_says_so(desk, tmp_path):
    with pytest.raises(CheckclothError, match="nothing is kept"):
        desk.export(tmp_path / "out")
    desk.keep(1)
    desk.hand_off.fields.show({"folder": str(tmp_path / "deep" / "export")})
    desk.hand_off.export.click()
    assert (tmp_path / "deep" / "export").is_dir()
    assert "1 colourway exported to" in desk.hand_off.said.value
    desk.hand_off.export.click()
    assert "Not exported" in desk.hand_off.said.value


def test_opening_again_goes_on_where_it_was(palette, tmp_path):
    first = open_desk(palette, count=24, folder=tmp_path)
    first.keep(1)
    first.controls.strength.value = 80
    second = open_desk(palette, count=24, folder=tmp_path)
    assert first.retired
    # Off its page, but not closed before the next opening: the page may not have it whole yet.
    assert first.box.children == (first.wall,)
    assert first.controls.strength.comm is not None
    assert second.state == first.state
    assert second.undo() == "strength 80 %"
    third = open_desk(palette, count=24, stripes=4, folder=tmp_path)
    assert third.state.stripes == 4
    assert first.controls.strength.comm is None
    assert second.controls.strength.comm is not None
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
    page = Page(second, monkeypatch)
    assert [one["file"] for one in second.wall.facts["offer"]] == [earlier.name]
    second.keep(3)
    page.ask("take", file=earlier.name)
    assert len(second.kept) == 3
    assert second.wall.facts["offer"] == []
    assert second.keep_file.path != earlier
    assert earlier.read_bytes() == before
    second.retire()


def test_old_desks_are_let_go(palette, tmp_path):
    made = [weakref.ref(open_desk(palette, count=24, folder=tmp_path)) for _ in range(5)]
    gc.collect()
    assert [one() is not None for one in made] == [False, False, False, True, True]


def test_a_desk_reads_without_a_kernel(desk):
    bundle = desk._repr_mimebundle_()
    assert bundle["text/html"].count('<img alt="gingham: ') == 24
    assert bundle["text/plain"] == "<desk explore: 24 shown, 0 kept>"


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        ({"palette": "nowhere"}, "palette must be one of halt"),
        ({"size": "12"}, "unit is missing"),
        ({"stripes": 13}, "stripes must be"),
        ({"strength": float("nan")}, "strength must be"),
        ({"count": 501}, "count must be"),
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
        assert desk.controls.count.value == count
        assert len(desk.state.shown) <= count
        desk.retire()
        desk.close()
