"""A hand-off is whole or not there, and anyone can check it."""

from __future__ import annotations

import hashlib
import io
import json
import os

import numpy as np
import pytest
from PIL import Image

from checkcloth import Check, ChosenSet, Colourway, tile_pixels, tile_svg
from checkcloth.errors import (
    ArgumentError,
    CheckclothError,
    ExistsError,
    FileFormatError,
    LengthError,
)
from checkcloth.export.data.saved import open_set
from checkcloth.export.for_client import ForClient
from checkcloth.export.hand_off import staging
from checkcloth.export.hand_off.contents import client_items
from checkcloth.export.hand_off.coordinates import family_sheet
from checkcloth.export.hand_off.hand_off import hand_off
from checkcloth.export.hand_off.manifest import verify
from checkcloth.export.page.range_page import range_page_html
from checkcloth.export.paper.client_sheet import client_sheet
from checkcloth.export.picture.bias import bias_png, bias_svg
from checkcloth.export.print.preflight import Limits, preflight

CHECK = Check("5 mm", 2)
SET = ChosenSet(
    CHECK,
    [
        Colourway("#fbf8f1", ["#a62a3c", "#3f6fb0"], name="Morning"),
        Colourway("black", ["gold", "tan", "teal"], 0.8, "woven", name="morning"),
        Colourway("white", ["navy"], name="../<script>=cmd 🍓"),
        Colourway("white", ["navy"], name="x" * 300),
    ],
    "Counter cloths",
)


def _files(folder) -> dict[str, bytes]:
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


def test_everything_asked_for_is_there_and_right(tmp_path):
    made = hand_off(SET, None, tmp_path / "out", dpi=(150, 300))
    files = _files(tmp_path / "out")
    assert open_set(tmp_path / "out" / "set.json") == SET
    stems = ["Morning", "morning-2", "script-cmd-strawberry", "x" * 48]
    for stem, colourway in zip(stems, SET, strict=True):
        check = SET.check_for(colourway)
        side = f"5mm-repeat-{10 * check.stripes}mm"
        tiles = [path for path in files if path.startswith(f"colourways/{stem}/{stem[:20]}")]
        (svg,) = [path for path in tiles if path.endswith(f"-tile-{side}.svg")]
        assert files[svg].decode() == tile_svg(colourway, check)
        for dpi in (150, 300):
            pixels, exact = tile_pixels(colourway, check, dpi)
            (png,) = [path for path in tiles if path.endswith(f"-tile-{side}-{exact:.6g}dpi.png")]
            image = Image.open(io.BytesIO(files[png]))
            np.testing.assert_array_equal(np.asarray(image.convert("RGB")), pixels)
    assert {"tones.csv", "scores.csv", "contact-sheet.png", "manifest.json"} <= set(files)
    assert {file.file for file in made.files} == set(files) - {"manifest.json"}
    assert all(len(os.path.basename(name)) <= 80 for name in files)
    assert "<script>" not in made._repr_html_()
    assert str(made).startswith("hand-off out: ")


def test_the_manifest_tells_size_hash_and_program(tmp_path):
    hand_off(SET, CHECK, tmp_path / "out")
    files = _files(tmp_path / "out")
    manifest = json.loads(files.pop("manifest.json"))
    assert manifest["program"].startswith("checkcloth ")
    listed = {one["file"]: one for one in manifest["files"]}
    assert set(listed) == set(files)
    for name, data in files.items():
        assert listed[name]["bytes"] == len(data)
        assert listed[name]["sha256"] == hashlib.sha256(data).hexdigest()
        assert len(listed[name]["shows"]) > 10


def test_the_same_set_gives_the_same_bytes(tmp_path):
    hand_off(SET, None, tmp_path / "one")
    hand_off(SET, None, tmp_path / "two")
    assert _files(tmp_path / "one") == _files(tmp_path / "two")


def test_verify_says_what_changed(tmp_path):
    folder = tmp_path / "out"
    hand_off(SET, None, folder)
    assert verify(folder)
    tile = folder / "colourways" / "Morning" / "Morning-tile-5mm-repeat-20mm.svg"
    tile.write_bytes(b"other")
    (folder / "tones.csv").unlink()
    (folder / "mine.txt").write_text("note")
    found = verify(folder)
    assert not found
    assert found.changed == ("colourways/Morning/Morning-tile-5mm-repeat-20mm.svg",)
    assert found.missing == ("tones.csv",)
    assert found.added == ("mine.txt",)
    assert "1 changed (colourways/Morning/Morning-tile-5mm-repeat-20mm.svg)" in str(found)


@pytest.mark.parametrize("foreign", ["link", "notes", "notes/more", "colourways/Morning/drafts"])
def test_links_to_folders_and_empty_folders_are_seen(tmp_path, foreign):
    elsewhere = tmp_path / "elsewhere"
    elsewhere.mkdir()
    (elsewhere / "mine.txt").write_text("note")
    folder = tmp_path / "out"
    hand_off(SET, None, folder)
    path = folder / foreign
    if foreign == "link":
        path.symlink_to(elsewhere, target_is_directory=True)
    else:
        path.mkdir(parents=True)
    found = verify(folder)
    assert found.added == (foreign if foreign == "link" else f"{foreign}/",)
    assert not found
    with pytest.raises(ExistsError, match=foreign):
        hand_off(SET, None, folder, overwrite=True)
    assert os.path.lexists(path)
    assert (elsewhere / "mine.txt").read_text() == "note"


def test_a_folder_behind_a_link_is_not_the_one_that_was_written(tmp_path):
    folder = tmp_path / "out"
    hand_off(SET, None, folder)
    (folder / "colourways").rename(tmp_path / "moved")
    (folder / "colourways").symlink_to(tmp_path / "moved", target_is_directory=True)
    found = verify(folder)
    assert found.added == ("colourways",)
    assert "colourways/Morning/Morning-tile-5mm-repeat-20mm.svg" in found.missing


def test_verify_finds_a_single_changed_bit(tmp_path):
    folder = tmp_path / "out"
    hand_off(SET, None, folder)
    path = folder / "contact-sheet.png"
    data = bytearray(path.read_bytes())
    data[len(data) // 2] ^= 1
    path.write_bytes(data)
    assert verify(folder).changed == ("contact-sheet.png",)


@pytest.mark.parametrize("file", ["../secret", "/etc/passwd", "a/../../b", "a\\b", ""])
def test_a_manifest_cannot_point_outside_its_folder(tmp_path, file):
    folder = tmp_path / "out"
    hand_off(SET, None, folder)
    path = folder / "manifest.json"
    content = json.loads(path.read_text(encoding="utf-8"))
    content["files"][0]["file"] = file
    path.write_text(json.dumps(content))
    with pytest.raises(FileFormatError, match=r"files\[0\]"):
        verify(folder)


def test_no_folder_is_replaced_unless_told_and_only_ours_ever(tmp_path):
    folder = tmp_path / "out"
    hand_off(SET, None, folder)
    before = _files(folder)
    with pytest.raises(ExistsError, match="overwrite"):
        hand_off(Colourway("white", ["red"]), CHECK.with_size("3 mm"), folder)
    assert _files(folder) == before
    hand_off(Colourway("white", ["red"]), CHECK, folder, overwrite=True)
    assert "colourways/Colourway-1/Colourway-1-tile-5mm-repeat-10mm.svg" in _files(folder)
    assert "colourways/Morning/Morning-tile-5mm-repeat-20mm.svg" not in _files(folder)

    (folder / "letter.txt").write_text("to the mill")
    with pytest.raises(ExistsError, match=r"letter\.txt"):
        hand_off(SET, None, folder, overwrite=True)
    assert (folder / "letter.txt").read_text() == "to the mill"

    other = tmp_path / "photographs"
    other.mkdir()
    (other / "halt.jpg").write_bytes(b"jpeg")
    with pytest.raises(ExistsError, match="photographs"):
        hand_off(SET, None, other, overwrite=True)
    assert _files(other) == {"halt.jpg": b"jpeg"}
    file = tmp_path / "file"
    file.write_text("x")
    with pytest.raises(ExistsError, match="file"):
        hand_off(SET, None, file, overwrite=True)
    assert sorted(path.name for path in tmp_path.iterdir()) == ["file", "out", "photographs"]


def test_an_empty_folder_may_be_filled_when_told(tmp_path):
    (tmp_path / "out").mkdir()
    with pytest.raises(ExistsError):
        hand_off(SET, None, tmp_path / "out")
    hand_off(SET, None, tmp_path / "out", overwrite=True)
    assert verify(tmp_path / "out")


def test_a_link_is_not_followed_and_not_replaced(tmp_path):
    hand_off(SET, None, tmp_path / "real")
    (tmp_path / "link").symlink_to(tmp_path / "real", target_is_directory=True)
    with pytest.raises(ExistsError, match="link"):
        hand_off(SET, None, tmp_path / "link", overwrite=True)
    assert verify(tmp_path / "real")


@pytest.mark.parametrize("path", ["missing/out", "file/out"])
def test_a_parent_that_is_no_folder_is_named(tmp_path, path):
    (tmp_path / "file").write_text("x")
    with pytest.raises(ArgumentError) as caught:
        hand_off(SET, None, tmp_path / path)
    assert caught.value.argument == "folder"
    assert [path.name for path in tmp_path.iterdir()] == ["file"]


def test_an_unwritable_folder_is_named(tmp_path, monkeypatch):
    def refuse(self, *args, **kwargs):
        raise PermissionError(13, "Permission denied", str(self))

    monkeypatch.setattr(staging.Path, "mkdir", refuse)
    with pytest.raises(ArgumentError, match="Permission denied") as caught:
        hand_off(SET, None, tmp_path / "out")
    assert caught.value.argument == "folder"
    monkeypatch.undo()
    assert not list(tmp_path.iterdir())


@pytest.mark.parametrize(
    "wrong",
    [{"dpi": ()}, {"dpi": float("nan")}, {"dpi": -3}, {"dpi": (300, "x")}, {"progress": 3}],
)
def test_nonsense_leaves_nothing_behind(tmp_path, wrong):
    with pytest.raises(CheckclothError):
        hand_off(SET, None, tmp_path / "out", **wrong)
    assert not list(tmp_path.iterdir())


def test_progress_counts_up_and_can_stop_the_work(tmp_path):
    calls = []
    made = hand_off(SET, None, tmp_path / "out", progress=lambda *call: calls.append(call))
    assert [call[0] for call in calls] == list(range(len(made.files) + 1))
    assert {call[1] for call in calls} == {len(made.files)}
    before = _files(tmp_path / "out")

    def stop(done, total, label):
        if done == 5:
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        hand_off(
            Colourway("red", ["white"] * 3), CHECK, tmp_path / "out", overwrite=True, progress=stop
        )
    assert _files(tmp_path / "out") == before
    assert [path.name for path in tmp_path.iterdir()] == ["out"]


def test_many_colourways_come_on_several_sheets(tmp_path):
    many = [Colourway("white", [f"rgb({n} 0 0)"]) for n in range(125)]
    hand_off(many, Check("2 mm", 1), tmp_path / "out", dpi=72)
    names = set(_files(tmp_path / "out"))
    assert {"contact-sheet-1.png", "contact-sheet-2.png"} <= names


# -- for the client ------------------------------------------------------------------------------


def _page_data(html: bytes) -> dict:
    text = html.decode("utf-8").partition('id="range-data">')[2].partition("</script>")[0]
    return json.loads(text)


def test_what_the_client_is_told_and_may_choose_stands_on_page_and_sheet(tmp_path):
    asked = ForClient(
        "Counter <cloths>", "Look at them twice.", "QH-7", "27 November 2026",
        sizes=["1 cm", "5 mm"], strengths=[0.7, 0.3], codes=False,
    )  # fmt: skip
    hand_off(SET, None, tmp_path / "out", sizes=["2 cm"], for_client=asked, tasks="client")
    files = _files(tmp_path / "out")
    data = _page_data(files["client-page.html"])
    shown = ("title", "note", "reference", "date", "strengths", "codes")
    assert [data[name] for name in shown] == [
        "Counter <cloths>", "Look at them twice.", "QH-7", "27 November 2026", [0.3, 0.7], False,
    ]  # fmt: skip
    assert [text for text, _ in data["sizes"]] == ["5 mm", "10 mm", "20 mm"]
    sheet = client_sheet(
        SET, title=asked.title, note=asked.note, reference="QH-7", date=asked.date,
        sizes=["2 cm", "1 cm"], codes=False,
    )  # fmt: skip
    stream = io.BytesIO()
    sheet.write_pdf(stream)
    assert files["client-sheet.pdf"] == stream.getvalue()


def test_where_nothing_is_given_the_clients_files_are_as_ever(tmp_path):
    hand_off(SET, None, tmp_path / "out", tasks="client")
    hand_off(SET, None, tmp_path / "same", tasks="client", for_client=ForClient())
    files = _files(tmp_path / "out")
    assert files == _files(tmp_path / "same")
    assert files["client-page.html"].decode("utf-8") == range_page_html(SET)


def test_of_several_pages_each_has_a_reference_of_its_own():
    many = ChosenSet(CHECK, [Colourway("white", ["navy", "teal"], n / 1000) for n in range(501)])
    pages = [io.BytesIO(), io.BytesIO()]
    items = client_items(many, [], None, ForClient(reference="QH-7"))
    for item, page in zip(items, pages, strict=True):
        item.fill(page)
    assert [_page_data(page.getvalue())["reference"] for page in pages] == ["QH-7", "QH-7-2"]


@pytest.mark.parametrize(
    ("wrong", "argument"),
    [
        ({"title": 3}, "title"),
        ({"date": "x" * 61}, "date"),
        ({"sizes": "1 cm"}, "sizes"),
        ({"strengths": [1.2]}, "strengths"),
        ({"strengths": [n / 100 for n in range(41)]}, "strengths"),
    ],
)
def test_what_a_client_cannot_be_told_names_its_argument(wrong, argument):
    with pytest.raises(ArgumentError) as caught:
        ForClient(**wrong)
    assert caught.value.argument == argument


def test_for_the_client_is_no_plain_text(tmp_path):
    with pytest.raises(ArgumentError) as caught:
        hand_off(SET, None, tmp_path / "out", for_client="Look twice.")
    assert caught.value.argument == "for_client"
    assert not (tmp_path / "out").exists()


def test_the_bias_and_the_families_are_there_where_they_are_asked_for(tmp_path):
    """A square on the bias has √2 times the side of the repeat: 28.2843 mm for 20 mm."""
    some = ChosenSet(CHECK, SET.chosen[:1], SET.name)
    made = hand_off(some, None, tmp_path / "out", dpi=(150, 254), bias=True, families=True)
    files = _files(tmp_path / "out")
    name = "colourways/Morning/Morning-bias-5mm-repeat-20mm-side-28.2843mm"
    assert files[f"{name}.svg"].decode() == bias_svg(some.colourways[0], CHECK)
    for dpi, side in ((150, 167), (254, 283)):
        png = files[f"{name}-{dpi}dpi.png"]
        assert png == bias_png(some.colourways[0], CHECK, dpi)
        assert Image.open(io.BytesIO(png)).size == (side, side)
    assert (
        files["colourways/Morning/Morning-family.png"]
        == family_sheet(some.colourways[0], CHECK).png
    )
    listed = {file.file: file for file in made.files}
    assert "28.2843 mm" in listed[f"{name}-150dpi.png"].shows
    assert "167 × 167 pixels" in listed[f"{name}-150dpi.png"].shows
    assert listed["colourways/Morning/Morning-family.png"].task == "client"
    near = hand_off(some, None, tmp_path / "near", dpi=(150, 150.0001), bias=True, paper=None)
    assert sum("-bias-" in file.file for file in near.files) == 2, "an SVG, and one PNG"
    without = hand_off(some, None, tmp_path / "without")
    assert not [file for file in without.files if "bias" in file.file or "family" in file.file]


def test_limits_of_the_printer_stand_on_the_pre_flight_page(tmp_path):
    limits = Limits(least_dpi=400, cloth_width="120 cm")
    hand_off(SET, None, tmp_path / "out", dpi=(300, 600), limits=limits, tasks="printer")
    page = _files(tmp_path / "out")["preflight.html"].decode()
    assert "400 to 600 dpi" in page
    assert "whole repeats in 120 cm" in page
    looked = preflight(SET, dpi=(300, 600), limits=limits).grouped()
    coarse = [names for one, names in looked if one.reason == "too coarse for print"]
    assert page.count("too coarse for print") == len(coarse)
    assert len({name for names in coarse for name in names}) == len(SET)
    with pytest.raises(ArgumentError) as caught:
        hand_off(SET, None, tmp_path / "no", limits={"least_dpi": 400})
    assert caught.value.argument == "limits"
    with pytest.raises(LengthError) as caught:
        hand_off(SET, None, tmp_path / "no", cloth=("0 cm", "1 m"))
    assert caught.value.argument == "width", "of the cloth, not of limits that nobody gave"
