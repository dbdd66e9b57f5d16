"""An export without a browser: every field's fault, the same files as code gives, stop."""

from __future__ import annotations

import asyncio
import hashlib
import io
import zipfile
from pathlib import Path

import pytest
from icc_maker import make_press_profile
from PIL import Image

from checkcloth import Check, ChosenSet, Colourway, PrintCondition
from checkcloth.cloth.threads import Allowances
from checkcloth.desk import open_desk
from checkcloth.desk.forms.export_foretold import foretold_fields
from checkcloth.desk.forms.hand_off import HandOffJob, proof_rows
from checkcloth.desk.forms.hand_off_order import DEFAULTS, field_of, read_order
from checkcloth.errors import ArgumentError
from checkcloth.export.for_client import ForClient
from checkcloth.export.hand_off.contents import CHOSEN_TASKS
from checkcloth.export.hand_off.hand_off import hand_off, open_hand_off
from checkcloth.export.print.preflight import Limits
from checkcloth.export.print.press import open_press
from checkcloth.export.print.proof import soft_proof
from checkcloth.files.cgats import cgats_text

KEPT = ChosenSet(
    Check("1/4 in", 1),
    [
        Colourway("white", ["navy", "teal"], name="Quay"),
        Colourway("ivory", ["brown"], 0.7, "woven", name="Moor"),
    ],
    "halt",
)
EMPTY = ChosenSet(Check("1/4 in", 1), [])


@pytest.fixture
def troubles():
    return []


@pytest.fixture
def form(tmp_path, monkeypatch, troubles):
    monkeypatch.chdir(tmp_path)
    made = HandOffJob(KEPT, troubles, {"folder": "out/halt"})
    yield made
    made.links.close()


@pytest.fixture
def profile(tmp_path):
    path = tmp_path / "press.icc"
    path.write_bytes(make_press_profile())
    return path


def digests(folder: Path) -> dict[str, str]:
    return {
        path.relative_to(folder).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


def said(form: HandOffJob) -> str:
    """What is said of the work, and what else to know of what was written."""
    return " ".join([form.work.words, *(form.written or {"notes": []})["notes"]])


# -- what is chosen is what is written -----------------------------------------------------------


def test_the_defaults_write_what_one_call_writes(form, tmp_path):
    form.begin()
    assert "2 colourways exported to out/halt" in said(form)
    hand_off(KEPT, KEPT.check, tmp_path / "by-code")
    assert digests(tmp_path / "out/halt") == digests(tmp_path / "by-code")
    assert form.made.folder == tmp_path / "out/halt"


def test_everything_that_can_be_asked_for_reaches_the_files(form, tmp_path, profile):
    form.fields.show(
        {
            "folder": "tea/rooms", "resolutions": "150 dpi, 72.5", "paper": "Letter",
            "zipped": True, "width": "50 cm", "length": "12 in", "cut": True, "plates": "tones",
            "press": "press.icc", "intent": "perceptual", "black_point": False,
            "ends": "64 per in", "picks": "20/cm", "warp_take_up": "10 %", "weft_take_up": "4",
            "waste": "7.5", "thumbnails": "64, 128 px", "sizes": "0.5 in; 1 in, 2 cm",
            "title": "Tea <rooms>", "note": "Look twice.", "reference": "QH 7", "codes": False,
            "date": "27 November 2026", "client_sizes": "3 cm", "client_strengths": "30 %, 70",
            "bias": True, "families": True, "least_dpi": "100 dpi", "most_dpi": "1200",
            "megabytes": "20 MB", "side": "9000", "colour_space": "CMYK", "screens": "64 cm, 82 cm",
            "stretch": "1 %", "strike_off": "10 cm", "threads": "4", "difference": "3.5",
        }
    )  # fmt: skip
    made = form.run()
    hand_off(
        KEPT, KEPT.check, tmp_path / "by-code", dpi=[150, 72.5], thumbnails=[64, 128],
        cloth=("50 cm", "12 in"), cut=True, paper="Letter", plates="tones", sett="64 per in",
        picks="20 per cm", allowances=Allowances(0.10, 0.04, 0.075),
        press=open_press(profile, "perceptual", black_point=False),
        sizes=["0.5 in", "1 in", "2 cm"],
        for_client=ForClient("Tea <rooms>", "Look twice.", "QH 7", "27 November 2026",
                             ["3 cm"], [0.3, 0.7], False),
        bias=True, families=True,
        limits=Limits(100, 1200, 20, 9000, "CMYK", "50 cm", ("64 cm", "82 cm"), 0.01, "10 cm",
                      4, 3.5),
    )  # fmt: skip
    assert digests(tmp_path / "tea/rooms") == digests(tmp_path / "by-code")
    assert made.zipped == tmp_path / "tea/rooms.zip"
    assert zipfile.ZipFile(made.zipped).testzip() is None
    assert form.faults == {}


def test_a_measured_print_condition_is_read_from_its_chart(form, tmp_path):
    """By path, as CGATS text; plates one a colour go by it, and a wrong one is said beside it."""
    rows = [(0, 0, 84, 87, 72), (100, 0, 20, 12, 5), (0, 100, 25, 30, 20), (50, 0, 45, 42, 28)]
    fields = ("2CLR_1", "2CLR_2", "XYZ_X", "XYZ_Y", "XYZ_Z")
    inks = {"INK_1": "navy", "INK_2": "teal", "DESCRIPTOR": "Halt press"}
    (tmp_path / "halt.txt").write_text(cgats_text(fields, rows, inks), "utf-8")
    form.fields.show({"plates": "colours", "condition": "halt.txt"})
    told = foretold_fields(KEPT, form.fields.values)
    assert [row[2] for row in told["warnings"] if "Halt press" in row[0]] == ["condition"]
    assert ["print condition", False, "brown"] in [row[:3] for row in told["preflight"]["rows"]]
    form.run()
    condition = PrintCondition.from_cgats("halt.txt")
    hand_off(KEPT, KEPT.check, tmp_path / "by-code", plates="colours", condition=condition)
    assert digests(tmp_path / "out/halt") == digests(tmp_path / "by-code")
    (tmp_path / "none.txt").write_text("a letter", "utf-8")
    for values, field in (
        ({"plates": ""}, "plates"),
        ({"plates": "tones"}, "plates"),
        ({"plates": "colours", "condition": "nowhere.txt"}, "condition"),
        ({"condition": "none.txt"}, "condition"),
    ):
        form.fields.show(values)
        assert set(read_order(form.fields.values, KEPT)[1]) == {field}
    form.fields.show({"printer": False})
    assert read_order(form.fields.values, KEPT)[1] == {}


def test_the_set_goes_out_under_the_name_that_was_given(form, tmp_path):
    form.fields.show({"name": " Tea tables <b> ", "paper": ""})
    form.run()
    assert open_hand_off(tmp_path / "out/halt").name == "Tea tables <b>"
    form.chosen = ChosenSet(KEPT.check, [KEPT.colourways[0].with_(name="")])
    form.fields.show({"replace": True})
    form.run()
    assert "1 without a name: found as Colourway" in said(form)
    assert "typeface" not in said(form)


def test_signs_that_the_sheets_cannot_show_are_said(form, tmp_path):
    both = KEPT.colourways[0].with_(name="東雲"), KEPT.colourways[1].with_(name="café ½")
    form.chosen = ChosenSet(KEPT.check, both)
    form.run()
    assert "The typeface of the sheets lacks 東雲: a box stands for each there" in said(form)
    assert [one.name for one in open_hand_off(tmp_path / "out/halt")] == ["東雲", "café ½"]


def test_what_the_press_makes_of_it_is_seen_before_it_is_written(form, tmp_path, profile):
    with pytest.raises(ArgumentError) as refused:
        proof_rows(KEPT, form.fields.values)
    assert refused.value.argument == "press"
    with pytest.raises(FileNotFoundError):
        proof_rows(KEPT, DEFAULTS | {"press": "nowhere.icc"})
    told, pictures = proof_rows(KEPT, DEFAULTS | {"press": profile.name})
    proof = soft_proof(KEPT.colourways[0], open_press(profile))
    assert f"greatest shift ΔE00 {proof.shift.max():.1f}" in told["rows"][0][1]
    assert proof.named_outside[0] in told["rows"][0][1]
    assert [row[0] for row in told["rows"]] == ["Quay", "Moor"]
    assert [Image.open(io.BytesIO(png)).format for png in pictures] == ["PNG", "PNG"]
    with pytest.raises(ArgumentError):
        proof_rows(EMPTY, DEFAULTS | {"press": profile.name})
    assert sorted(path.name for path in tmp_path.iterdir()) == [profile.name]


def test_a_press_profile_can_be_chosen_on_the_page(form, profile):
    content = profile.read_bytes()
    profile.unlink()
    form.fields.take_press("press.icc", content)
    assert form.fields.shown["press"] == "press.icc"
    order, faults = read_order(form.fields.values, KEPT)
    assert (order["press"].profile, faults) == (content, {})
    # What is no profile is said at the field; the next choice rights it.
    form.fields.take_press("press.icc", b"not a profile")
    assert "must be an ICC profile" in read_order(form.fields.values, KEPT)[1]["press"]
    form.fields.take_press("press.icc", content)
    assert read_order(form.fields.values, KEPT)[1] == {}
    # Clearing the field drops it; a path typed there is a path again.
    form.fields.show({"press": ""})
    assert read_order(form.fields.values, KEPT)[0]["press"] is None
    form.fields.show({"press": "other.icc"})
    assert "No file is there" in read_order(form.fields.values, KEPT)[1]["press"]


def test_nothing_asked_for_is_nothing_written(form, tmp_path):
    form.fields.show({"paper": "", "thumbnails": " "})
    form.run()
    names = digests(tmp_path / "out/halt")
    assert not [name for name in names if name.endswith(".pdf") or "thumbnail" in name]


def test_every_field_is_read(form):
    assert form.fields.values == DEFAULTS | {"folder": "out/halt"}
    order, faults = read_order(form.fields.values, KEPT)
    assert faults == {}
    wanted = set(hand_off.__kwdefaults__) - {"progress"} | {"folder", "name"}
    assert set(order) == wanted, "all that hand_off offers can be chosen"


# -- what is wrong is said beside its field ------------------------------------------------------


@pytest.mark.parametrize(
    ("fields", "at", "words"),
    [
        ({"name": "a\0b"}, "name", "one line without control characters"),
        ({"name": "x" * 3000}, "name", "at most"),
        ({"folder": " "}, "folder", "Must be named, such as out/tea-table"),
        ({"folder": "/"}, "folder", "ends in a name of its own"),
        ({"folder": "a\0b"}, "folder", "without control signs"),
        ({"folder": "press.icc/tea"}, "folder", "Not a directory|File exists"),
        ({"folder": "x" * 300}, "folder", "name too long"),
        ({"note": "a\0b"}, "note", "one line without control characters"),
        ({"reference": "x" * 61}, "reference", "at most 60 characters"),
        ({"client_sizes": "1 in, 2"}, "client_sizes", "unit is missing"),
        ({"client_sizes": ", ".join(f"{n} mm" for n in range(1, 43))}, "client_sizes", "most 40"),
        ({"client_strengths": "30, 101"}, "client_strengths", "from 0 to 100, found 101"),
        ({"client_strengths": "30,,50"}, "client_strengths", "parted by single commas"),
        ({"resolutions": ""}, "resolutions", "such as 150, 300, found none"),
        ({"resolutions": "150,,300"}, "resolutions", "parted by single commas"),
        ({"resolutions": "fine"}, "resolutions", "Must be a number, found 'fine'"),
        ({"resolutions": "300, 9601"}, "resolutions", "from 1 to 9600, found 9601"),
        ({"resolutions": "nan"}, "resolutions", "from 1 to 9600"),
        ({"resolutions": "9600, 300", "sizes": "1 in"}, "sizes", "400 megapixels"),
        ({"width": "60"}, "width", "unit is missing"),
        ({"width": "60 in"}, "length", "Needed with the width"),
        ({"length": "60 in"}, "width", "Needed with the length"),
        ({"width": "6 ells", "length": "1 in"}, "width", "a length with its unit"),
        ({"width": "600 cm", "length": "1 in"}, "width", "from 1 mm to 5000 mm"),
        ({"width": "1 in", "length": "0 in"}, "length", "from 1 mm to 200000 mm"),
        ({"width": "500 cm", "length": "9 in", "resolutions": "4800"}, "resolutions", "500000"),
        ({"press": "nowhere.icc"}, "press", "No file is there, found 'nowhere.icc'"),
        ({"press": "."}, "press", "found a folder"),
        ({"press": "halt.txt"}, "press", "must be an ICC profile"),
        ({"ends": "64"}, "ends", "Must be such as '64 per in' or '24 per cm', found '64'"),
        ({"ends": "900 per in"}, "ends", "from 1 to 500 an inch"),
        ({"ends": "64 per in"}, "width", "A thread plan needs the width"),
        ({"picks": "64 per in"}, "ends", "Needed with the picks"),
        ({"picks": "some"}, "picks", "such as '64 per in'"),
        ({"ends": "64/in", "width": "1 cm", "length": "9 in"}, "width", "hold a whole repeat"),
        ({"ends": "64/in", "width": "9 in", "length": "1 cm"}, "length", "hold a whole repeat"),
        ({"warp_take_up": "x"}, "warp_take_up", "Must be a number"),
        ({"weft_take_up": "101"}, "weft_take_up", "from 0 to 100, found 101"),
        ({"waste": ""}, "waste", "Must be a number"),
        ({"thumbnails": "5"}, "thumbnails", "whole number from 16 to 4096, found 5"),
        ({"thumbnails": "64.5"}, "thumbnails", "whole number from 16 to 4096"),
        ({"thumbnails": "9" * 5000}, "thumbnails", "whole number from 16 to 4096"),
        ({"least_dpi": "700"}, "most_dpi", "from 700 to 9600, found 600"),
        ({"most_dpi": "fine"}, "most_dpi", "Must be a number, found 'fine'"),
        ({"screens": "64 cm, 0 cm"}, "screens", "above 0"),
        ({"cloth_width": "wide"}, "cloth_width", "a length with its unit"),
        ({"strike_off": "20"}, "strike_off", "unit is missing"),
        ({"side": "1.5"}, "side", "whole number"),
        ({"threads": "many"}, "threads", "whole number"),
        ({"megabytes": "0"}, "megabytes", "above 0"),
        ({"stretch": "51 %"}, "stretch", "from 0 to 0.5|from 0 to 50"),
        ({"difference": "-1"}, "difference", "from 0 to 100, found -1"),
        ({"resolutions": "9600", "bias": True}, "bias", "100 megapixels"),
        ({"sizes": "1 in, 2"}, "sizes", "unit is missing"),
        ({"sizes": "2 m"}, "sizes", "from 0.1 mm to 1 m"),
        ({"sizes": ", ".join(f"{n} mm" for n in range(1, 15))}, "sizes", "1 to 12 check sizes"),
    ],
)  # fmt: skip
def test_a_wrong_field_says_what_is_allowed_and_nothing_is_lost(
    form, tmp_path, profile, troubles, fields, at, words
):
    (tmp_path / "halt.txt").write_text("no profile at all")
    before = digests(tmp_path), sorted(tmp_path.iterdir())
    asked = {"mill": True} | fields
    form.fields.show(asked)
    assert form.run() is None
    assert at in form.faults
    text = form.faults[at]
    assert any(part in text for part in words.split("|")), text
    assert "Not exported" in form.work.words
    assert form.work.alert
    assert {name: form.fields.values[name] for name in fields} == fields
    assert (digests(tmp_path), sorted(tmp_path.iterdir())) == before, "no folder made for it"
    assert troubles == []
    form.fields.show({name: DEFAULTS[name] for name in asked} | {"folder": "out/halt"})
    assert read_order(form.fields.values, KEPT)[1] == {}


@pytest.mark.parametrize(
    "wrong",
    [{"smell": "x"}, {"paper": "A3"}, {"plates": "both"}, {"cut": "yes"}, {"intent": ""},
     {"name": 3}, {"folder": None}],
)  # fmt: skip
def test_what_no_field_can_hold_is_refused_and_fills_none(form, wrong):
    before = form.fields.values
    with pytest.raises(ArgumentError):
        form.fields.show({"name": "Other"} | wrong if "name" not in wrong else wrong)
    assert form.fields.values == before


# -- by task -------------------------------------------------------------------------------------


@pytest.mark.parametrize("task", CHOSEN_TASKS)
def test_one_task_alone_writes_what_is_for_it_and_the_set(form, tmp_path, task):
    full = {"width": "50 cm", "length": "30 cm", "ends": "64 per in", "sizes": "1 in",
            "plates": "tones", "folder": "all"}  # fmt: skip
    form.fields.show(full)
    form.run()
    everything = {one.file: one.task for one in form.made.files}
    assert set(everything.values()) == {*CHOSEN_TASKS, "range"}
    form.fields.show({one: one == task for one in CHOSEN_TASKS} | {"folder": "some"})
    form.run()
    written = {one.file for one in form.made.files}
    assert written == {file for file, whom in everything.items() if whom in (task, "range")}
    # The same bytes, but for the page that goes through all that was asked for.
    same, alone = digests(tmp_path / "all"), digests(tmp_path / "some")
    alike = written - {"preflight.html"}
    assert {file: same[file] for file in alike} == {file: alone[file] for file in alike}
    assert open_hand_off(tmp_path / "some").colourways == KEPT.colourways
    hand_off(
        KEPT, KEPT.check, tmp_path / "code", cloth=("50 cm", "30 cm"), sett="64 per in",
        sizes=["1 in"], plates="tones", tasks=task, allowances=Allowances(0.08, 0.06, 0.05),
    )  # fmt: skip
    assert written == {*digests(tmp_path / "code")} - {"manifest.json"}
    rows = {row[0]: row for row in form.written["tasks"]}
    assert set(rows) == {task, "range"}
    assert sum(row[2] for row in rows.values()) == len(written)


def test_fields_of_a_task_that_is_off_are_in_nobodys_way(form):
    form.fields.show({"ends": "64", "mill": False, "thumbnails": "x", "shop": False})
    assert read_order(form.fields.values, KEPT)[1] == {}
    form.fields.show({"mill": True})
    assert set(read_order(form.fields.values, KEPT)[1]) == {"ends"}


def test_no_task_at_all_is_said(form, tmp_path):
    form.fields.show(dict.fromkeys(CHOSEN_TASKS, False))
    assert form.run() is None
    assert "Tick at least one" in form.faults["client"]
    assert list(tmp_path.iterdir()) == []
    for tasks in ((), "everyone", ["mill", "cook"]):
        with pytest.raises(ArgumentError) as refused:
            hand_off(KEPT, KEPT.check, tmp_path / "x", tasks=tasks)
        assert refused.value.argument == "tasks"


def test_a_sett_asks_for_the_mill_unless_told(form):
    form.fields.show({"ends": "64 per in"})
    assert form.fields.values["mill"] is True
    form.fields.show({"ends": "60 per in", "mill": False})
    assert form.fields.values["mill"] is False


def test_plates_that_cannot_give_the_tones_are_refused_by_name(form, tmp_path):
    form.chosen = ChosenSet(Check("1/4 in", 1), [Colourway("white", ["navy"], 0.5, "pigment")])
    form.fields.show({"plates": "colours"})
    assert form.run() is None
    assert "Must be 'tones'" in form.faults["plates"]
    assert list(tmp_path.iterdir()) == []


def test_nothing_kept_is_said(form, tmp_path):
    form.chosen = EMPTY
    form.begin()
    assert "Nothing is kept yet" in said(form)
    assert list(tmp_path.iterdir()) == []


def test_an_earlier_export_is_replaced_only_when_told_and_other_folders_never(form, tmp_path):
    form.run()
    first = digests(tmp_path / "out/halt")
    form.fields.show({"resolutions": "100"})
    assert form.run() is None
    assert "“replace” ticked" in form.faults["folder"]
    assert digests(tmp_path / "out/halt") == first
    form.fields.show({"replace": True})
    assert form.run() is not None
    assert digests(tmp_path / "out/halt") != first
    (tmp_path / "mine").mkdir()
    (tmp_path / "mine/letter.txt").write_text("not yours")
    form.fields.show({"folder": "mine"})
    assert form.run() is None
    assert "an earlier hand-off, found" in form.faults["folder"]
    assert (tmp_path / "mine/letter.txt").read_text() == "not yours"


def test_a_zip_of_an_earlier_export_is_not_passed_off_as_this_one(form):
    form.fields.show({"zipped": True})
    form.run()
    form.fields.show({"zipped": False, "replace": True})
    form.run()
    assert "halt.zip beside it is of an earlier export" in said(form)


def test_a_full_disk_is_said_and_leaves_nothing(form, tmp_path, monkeypatch, troubles):
    def full(*_, **__):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("checkcloth.desk.forms.hand_off.hand_off", full)
    form.begin()
    assert "No space left on device" in said(form)
    assert "nothing changed" in said(form)
    assert list(tmp_path.iterdir()) == []
    assert troubles == []


def test_a_fault_of_the_kit_is_said_and_handed_on(form, monkeypatch, troubles):
    monkeypatch.setattr("checkcloth.desk.forms.hand_off.hand_off", lambda *_, **__: 1 / 0)
    form.begin()
    assert "fault of the kit itself" in said(form)
    assert "1 / 0" in troubles[0]


def test_names_typed_by_people_are_shown_as_text(form):
    form.fields.show({"folder": "<img src=x onerror=alert(1)>"})
    form.run()
    assert "<img" not in form.links.outputs[0]["data"]["text/html"]


def test_errors_find_their_field():
    assert field_of(ArgumentError("dpi", "from 1 to 9600", 0)) == "resolutions"
    assert field_of(ArgumentError("folder", "free")) == "folder"
    assert field_of(ArgumentError("nonsense", "else")) == ""


# -- the bar, and stopping -----------------------------------------------------------------------


def press_and_wait(form: HandOffJob, seen: list[tuple[float, str]]) -> None:
    """Press the button with an event loop there, as in a notebook, and wait for the end."""

    async def play() -> None:
        form.begin()
        assert form.facts()["running"], "one export at a time"
        form.begin()
        while form.work.running:
            facts = form.facts()
            seen.append((facts["done"] / max(1, facts["total"]), facts["words"]))
            await asyncio.sleep(0.02)

    asyncio.run(play())
    assert not form.facts()["running"]


def slowly(form: HandOffJob, monkeypatch, wait: float, then=lambda done, following: None) -> None:
    """Let each file take a while longer, and something happen in the middle."""
    import time

    real = form._progress

    def progress(done, total, following):
        time.sleep(wait)
        then(done, following)
        real(done, total, following)

    monkeypatch.setattr(form, "_progress", progress)


def test_the_bar_moves_while_files_are_written(form, monkeypatch, tmp_path):
    slowly(form, monkeypatch, 0.06)
    seen: list[tuple[float, str]] = []
    press_and_wait(form, seen)
    steps = [value for value, _ in seen]
    assert steps == sorted(steps)
    assert len(set(steps)) >= 3, "the bar is seen on its way"

    assert [words for _, words in seen if "files written" in words and "Next: " in words]
    assert "2 colourways exported" in said(form)
    assert open_hand_off(tmp_path / "out/halt").colourways == KEPT.colourways


@pytest.mark.parametrize("earlier", [False, True])
def test_stop_leaves_things_as_they_were(form, monkeypatch, tmp_path, earlier):
    if earlier:
        form.run()
        form.fields.show({"replace": True, "resolutions": "90"})
    before = digests(tmp_path), sorted(tmp_path.rglob("*"))
    slowly(form, monkeypatch, 0.02, lambda done, _: form.work.stop() if done == 4 else None)
    press_and_wait(form, [])
    assert "Stopped: nothing was written" in said(form)
    assert (digests(tmp_path), sorted(tmp_path.rglob("*"))) == before
    monkeypatch.undo()
    monkeypatch.chdir(tmp_path)
    assert form.run() is not None, "it can be started again"


def test_stop_pressed_while_the_zip_is_made_leaves_nothing(form, monkeypatch, tmp_path):
    form.fields.show({"zipped": True})
    slowly(form, monkeypatch, 0, lambda _, name: form.work.stop() if ".zip" in name else None)
    press_and_wait(form, [])
    assert "Stopped: nothing was written" in said(form)
    assert list(tmp_path.iterdir()) == []


# -- on the desk ---------------------------------------------------------------------------------


def test_a_desk_opened_again_keeps_what_was_filled_in(palette, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    first = open_desk(palette, count=24, folder=tmp_path)
    first.hand_off.fields.show({"folder": "out/tea", "ends": "64 per in"})
    form = first.hand_off
    second = open_desk(palette, count=24, stripes=4, folder=tmp_path)
    assert second.hand_off is form
    assert first.hand_off is None
    assert first.box.children[1].layout.display == "none", "one list of links, not two"
    assert form.links in second.box.children[1].children
    assert second.widget.export["ends"] == "64 per in"
    assert form.fields.values["ends"] == "64 per in"
    second.keep(1)
    form.fields.show({"ends": ""})
    assert form.run().folder == tmp_path / "out/tea"
    assert open_hand_off(tmp_path / "out/tea") == second.kept
    second.retire()
    second.close()


def test_the_pre_flight_follows_the_limits_that_are_typed():
    def notes(**typed):
        told = foretold_fields(KEPT, DEFAULTS | typed)["preflight"]
        return {row[0]: row for row in told["rows"] if not row[1]}, told

    first, told = notes(screens="none", cloth_width="10 in")
    assert first == {}
    assert f"of {len(KEPT)} colourways: 0 notes" in told["words"]
    coarse, _ = notes(least_dpi="301", screens="none")
    assert coarse["resolution"][2:5] == ["300 dpi", "301 to 600 dpi", "too coarse for print"]
    assert coarse["resolution"][5:] == [[], len(KEPT)], "of all of them"
    assert "narrowest band" not in coarse
    woven, _ = notes(mill=True, ends="2 per in", width="150 cm", length="50 cm", threads="9")
    assert woven["narrowest band"][4].startswith("too narrow to weave")
    assert notes(printer=False)[1] == {"words": "", "rows": []}
