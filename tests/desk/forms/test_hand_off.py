"""The hand-off form without a browser: every field's fault, the same files as code gives, stop."""

from __future__ import annotations

import asyncio
import hashlib
import importlib.util
import zipfile
from pathlib import Path

import pytest

from checkcloth import Check, ChosenSet, Colourway
from checkcloth.cloth.threads import Allowances
from checkcloth.desk import open_desk
from checkcloth.desk.forms.hand_off import HandOffForm
from checkcloth.desk.forms.hand_off_order import DEFAULTS, field_of, read_order
from checkcloth.errors import ArgumentError
from checkcloth.export.hand_off.hand_off import hand_off, open_hand_off
from checkcloth.export.print.press import open_press
from checkcloth.export.print.proof import soft_proof

ICC_MAKER = Path(__file__).parents[2] / "export" / "print" / "icc_maker.py"
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
    made = HandOffForm(KEPT, troubles, {"folder": "out/halt"})
    yield made
    for widget in made.widgets:
        widget.close()


@pytest.fixture
def profile(tmp_path):
    spec = importlib.util.spec_from_file_location("icc_maker", ICC_MAKER)
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    path = tmp_path / "press.icc"
    path.write_bytes(module.make_press_profile())
    return path


def digests(folder: Path) -> dict[str, str]:
    return {
        path.relative_to(folder).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


def wrong(form: HandOffForm) -> dict[str, str]:
    """What the form says beside its fields."""
    return {
        name: error.value for name, error in form.fields.errors.items() if "alert" in error.value
    }


# -- what is chosen is what is written -----------------------------------------------------------


def test_the_defaults_write_what_one_call_writes(form, tmp_path):
    form.task.start.click()
    assert "<strong>2 colourways exported to out/halt</strong>" in form.said.value
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
        }
    )  # fmt: skip
    made = form.run()
    hand_off(
        KEPT, KEPT.check, tmp_path / "by-code", dpi=[150, 72.5], thumbnails=[64, 128],
        cloth=("50 cm", "12 in"), cut=True, paper="Letter", plates="tones", sett="64 per in",
        picks="20 per cm", allowances=Allowances(0.10, 0.04, 0.075),
        press=open_press(profile, "perceptual", black_point=False),
        sizes=["0.5 in", "1 in", "2 cm"],
    )  # fmt: skip
    assert digests(tmp_path / "tea/rooms") == digests(tmp_path / "by-code")
    assert made.zipped == tmp_path / "tea/rooms.zip"
    assert zipfile.ZipFile(made.zipped).testzip() is None
    assert wrong(form) == {}


def test_the_set_goes_out_under_the_name_that_was_given(form, tmp_path):
    form.fields.show({"name": " Tea tables <b> ", "paper": ""})
    form.run()
    assert open_hand_off(tmp_path / "out/halt").name == "Tea tables <b>"
    form.chosen = ChosenSet(KEPT.check, [KEPT.colourways[0].with_(name="")])
    form.fields.show({"replace": True})
    form.run()
    assert "1 without a name of its own" in form.said.value
    assert "typeface" not in form.said.value


def test_signs_that_the_sheets_cannot_show_are_said(form, tmp_path):
    both = KEPT.colourways[0].with_(name="東雲"), KEPT.colourways[1].with_(name="café ½")
    form.chosen = ChosenSet(KEPT.check, both)
    form.run()
    assert "The typeface of the sheets lacks 東雲: a box stands for each there" in form.said.value
    assert [one.name for one in open_hand_off(tmp_path / "out/halt")] == ["東雲", "café ½"]


def test_what_the_press_makes_of_it_is_seen_before_it_is_written(form, tmp_path, profile):
    see, shown = form.fields.see_proof, form.fields.proof
    see.click()
    assert "Give the press profile first" in shown.value
    form.fields.show({"press": "nowhere.icc"})
    see.click()
    assert shown.value == ""
    assert "No file is there" in wrong(form)["press"]
    form.fields.show({"press": profile.name})
    see.click()
    proof = soft_proof(KEPT.colourways[0], open_press(profile))
    assert f"greatest shift ΔE00 {proof.shift.max():.1f}" in shown.value
    assert proof.named_outside[0] in shown.value
    assert shown.value.count("<img alt=") == len(KEPT)
    form.chosen = EMPTY
    see.click()
    assert "Nothing is kept yet" in shown.value
    assert sorted(path.name for path in tmp_path.iterdir()) == [profile.name]


def test_a_press_profile_can_be_chosen_on_the_page(form, tmp_path, profile):
    content = profile.read_bytes()
    profile.unlink()
    send = form.fields.profile._handle_custom_msg
    send({"name": "press.icc"}, [memoryview(content)])
    assert form.fields.inputs["press"].value == "press.icc"
    assert wrong(form) == {}
    form.fields.see_proof.click()
    assert "greatest shift ΔE00" in form.fields.proof.value
    assert "a press profile" in form.fields.folds["printer"].head.description
    order, faults = read_order(form.fields.values, KEPT)
    assert (order["press"].profile, faults) == (content, {})
    # What is no profile is said at the field; the next choice rights it.
    send({"name": "press.icc"}, [b"not a profile"])
    assert "must be an ICC profile" in wrong(form)["press"]
    send({"name": "press.icc"}, [content])
    assert wrong(form) == {}
    # Clearing the field drops it; a path typed there is a path again.
    form.fields.inputs["press"].value = ""
    assert read_order(form.fields.values, KEPT)[0]["press"] is None
    form.fields.inputs["press"].value = "other.icc"
    assert "No file is there" in wrong(form)["press"]


def test_nothing_asked_for_is_nothing_written(form, tmp_path):
    form.fields.show({"paper": "", "thumbnails": " "})
    form.run()
    names = digests(tmp_path / "out/halt")
    assert not [name for name in names if name.endswith(".pdf") or "thumbnail" in name]


def test_every_field_is_on_the_form_and_read(form):
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
    form.fields.show(fields)
    assert form.run() is None
    said = wrong(form)
    assert at in said
    error, _, _ = said[at].partition("</p>")
    text = error.replace("&#x27;", "'")
    assert any(part in text for part in words.split("|")), text
    assert form.fields.errors[at].layout.display == ""
    assert "Not exported" in form.said.value
    assert {name: form.fields.values[name] for name in fields} == fields
    assert (digests(tmp_path), sorted(tmp_path.iterdir())) == before, "no folder made for it"
    assert troubles == []
    if fold := form.fields.fold_of.get(at):
        assert form.fields.folds[fold].open, "a fault under a fold opens it"
    form.fields.show({name: DEFAULTS[name] for name in fields} | {"folder": "out/halt"})
    assert form._work() is not None
    assert wrong(form) == {}


def test_a_field_is_checked_as_soon_as_it_is_left(form):
    form.fields.inputs["ends"].value = "64"
    assert "64 per in" in wrong(form)["ends"]
    form.fields.inputs["ends"].value = "64 per in"
    assert wrong(form) == {}


def test_plates_that_cannot_give_the_tones_are_refused_by_name(form, tmp_path):
    form.chosen = ChosenSet(Check("1/4 in", 1), [Colourway("white", ["navy"], 0.5, "pigment")])
    form.fields.show({"plates": "colours"})
    assert form.run() is None
    assert "Must be &#x27;tones&#x27;" in wrong(form)["plates"]
    assert list(tmp_path.iterdir()) == []


def test_nothing_kept_is_said(form, tmp_path):
    form.chosen = EMPTY
    form.task.start.click()
    assert "Nothing is kept yet" in form.said.value
    assert list(tmp_path.iterdir()) == []


def test_an_earlier_export_is_replaced_only_when_told_and_other_folders_never(form, tmp_path):
    form.run()
    first = digests(tmp_path / "out/halt")
    form.fields.show({"resolutions": "100"})
    assert form.run() is None
    assert "“replace” ticked" in wrong(form)["folder"]
    assert digests(tmp_path / "out/halt") == first
    form.fields.show({"replace": True})
    assert form.run() is not None
    assert digests(tmp_path / "out/halt") != first
    (tmp_path / "mine").mkdir()
    (tmp_path / "mine/letter.txt").write_text("not yours")
    form.fields.show({"folder": "mine"})
    assert form.run() is None
    assert "an earlier hand-off, found" in wrong(form)["folder"]
    assert (tmp_path / "mine/letter.txt").read_text() == "not yours"


def test_a_zip_of_an_earlier_export_is_not_passed_off_as_this_one(form):
    form.fields.show({"zipped": True})
    form.run()
    form.fields.show({"zipped": False, "replace": True})
    form.run()
    assert "halt.zip beside it is of an earlier export" in form.said.value


def test_a_full_disk_is_said_and_leaves_nothing(form, tmp_path, monkeypatch, troubles):
    def full(*_, **__):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("checkcloth.desk.forms.hand_off.hand_off", full)
    form.task.start.click()
    assert "No space left on device" in form.said.value
    assert "nothing changed" in form.said.value
    assert list(tmp_path.iterdir()) == []
    assert troubles == []


def test_a_fault_of_the_kit_is_said_and_handed_on(form, monkeypatch, troubles):
    monkeypatch.setattr("checkcloth.desk.forms.hand_off.hand_off", lambda *_, **__: 1 / 0)
    form.task.start.click()
    assert "fault of the kit itself" in form.said.value
    assert "1 / 0" in troubles[0]


def test_names_typed_by_people_are_shown_as_text(form):
    form.fields.show({"folder": "<img src=x onerror=alert(1)>"})
    form.run()
    for html in (form.said.value, form.links.outputs[0]["data"]["text/html"]):
        assert "<img" not in html
    form.fields.show({"press": "<b>x"})
    form.run()
    assert "<b>" not in wrong(form)["press"]


def test_errors_find_their_field():
    assert field_of(ArgumentError("dpi", "from 1 to 9600", 0)) == "resolutions"
    assert field_of(ArgumentError("folder", "free")) == "folder"
    assert field_of(ArgumentError("nonsense", "else")) == ""


# -- the bar, and stopping -----------------------------------------------------------------------


def press_and_wait(form: HandOffForm, seen: list[tuple[float, str]]) -> None:
    """Press the button with an event loop there, as in a notebook, and wait for the end."""

    async def play() -> None:
        form.task.start.click()
        assert form.task.start.disabled, "one export at a time"
        assert form.task.stop.layout.display == form.task.bar.layout.display == ""
        form.task.start.click()
        while form.task.running:
            seen.append((form.task.bar.value, form.said.value))
            await asyncio.sleep(0.02)

    asyncio.run(play())
    assert not form.task.start.disabled
    assert form.task.stop.layout.display == form.task.bar.layout.display == "none"


def slowly(form: HandOffForm, monkeypatch, wait: float, then=lambda done, following: None) -> None:
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

    assert [said for _, said in seen if "files written" in said and "Next: " in said]
    assert "2 colourways exported" in form.said.value
    assert open_hand_off(tmp_path / "out/halt").colourways == KEPT.colourways


@pytest.mark.parametrize("earlier", [False, True])
def test_stop_leaves_things_as_they_were(form, monkeypatch, tmp_path, earlier):
    if earlier:
        form.run()
        form.fields.show({"replace": True, "resolutions": "90"})
    before = digests(tmp_path), sorted(tmp_path.rglob("*"))
    slowly(form, monkeypatch, 0.02, lambda done, _: form.task.stop.click() if done == 4 else None)
    press_and_wait(form, [])
    assert "Stopped: nothing was written" in form.said.value
    assert (digests(tmp_path), sorted(tmp_path.rglob("*"))) == before
    monkeypatch.undo()
    monkeypatch.chdir(tmp_path)
    assert form.run() is not None, "it can be started again"


def test_stop_pressed_while_the_zip_is_made_leaves_nothing(form, monkeypatch, tmp_path):
    form.fields.show({"zipped": True})
    slowly(form, monkeypatch, 0, lambda _, name: form.task.stop.click() if ".zip" in name else None)
    press_and_wait(form, [])
    assert "Stopped: nothing was written" in form.said.value
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
    assert first.box.children[1].layout.display == "none", "one form on the page, not two"
    assert form.box in second.box.children[1].children
    assert form.fields.values["ends"] == "64 per in"
    second.keep(1)
    form.fields.show({"ends": ""})
    assert form.run().folder == tmp_path / "out/tea"
    assert open_hand_off(tmp_path / "out/tea") == second.kept
    second.retire()
    second.close()
