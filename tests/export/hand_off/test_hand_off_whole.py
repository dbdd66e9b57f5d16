"""The hand-off with everything asked for, as other programs read it."""

from __future__ import annotations

import hashlib
import io
import json
import os
import shutil
import subprocess
import sys
import zipfile
from pathlib import Path
from xml.etree import ElementTree

import numpy as np
import pytest
from PIL import Image, ImageCms

import checkcloth
from checkcloth import Check, ChosenSet, Colourway, tile_pixels
from checkcloth.errors import CheckclothError, ExistsError
from checkcloth.export.data.saved import open_set
from checkcloth.export.hand_off.coordinates import (
    INCH_SIZES,
    METRIC_SIZES,
    coordinate_sheet,
    family,
    family_sheet,
    rows_per_sheet,
)
from checkcloth.export.hand_off.hand_off import hand_off, open_hand_off
from checkcloth.export.hand_off.manifest import verify
from checkcloth.export.members import as_set
from checkcloth.export.picture.piece import Piece, cloth_pixels
from checkcloth.export.picture.raster import tile_name
from checkcloth.export.print.press import open_press

SET = ChosenSet(
    Check("1/4 in", 2),
    [
        Colourway("#fbf8f1", ["#a62a3c", "#3f6fb0"], name="Morning"),
        Colourway("black", ["gold", "tan", "teal"], 0.8, "woven", name="=cmd/../Evening"),
        Colourway("ivory", ["navy"], 1.0, "multiply", name="Morning"),
    ],
    "Counter cloths",
)
EVERYTHING = {
    "dpi": (100, 150),
    "thumbnails": (64, 128),
    "cloth": ("30 cm", "20 cm"),
    "plates": "colours",
    "sett": "64 per in",
    "sizes": ("1/16 in", "1 in"),
    "zipped": True,
}


def _files(folder: Path) -> dict[str, bytes]:
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    folder = tmp_path_factory.mktemp("hand-off")
    icc = folder / "screen.icc"
    icc.write_bytes(ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes())
    return hand_off(SET, None, folder / "out", press=open_press(icc), **EVERYTHING)


def test_every_kind_of_file_is_there(made):
    names = set(_files(made.folder))
    for stem, inches in (("Morning", 1), ("cmd-Evening", 1.5), ("Morning-2", 0.5)):
        side = f"0.25in-repeat-{inches:g}in"
        for ending in (
            f"tile-{side}.svg", f"tile-{side}-100dpi.png", f"tile-{side}-150dpi.png",
            "thumbnail-64.png",
            "thumbnail-128.png", "cloth-100dpi.png", "plates.csv", "thread-plan.csv", "warp.csv",
            "weft.csv", "yarn.csv", "draft.png", "proof.csv", "proof.png",
        ):  # fmt: skip
            assert f"colourways/{stem}/{stem}-{ending}" in names
        for size in ("1-16-in", "1-in"):
            each = {"1-16-in": 0.0625, "1-in": 1}[size]
            tile = f"tile-{each}in-repeat-{inches * 4 * each:g}in.svg"
            assert f"coordinates/{size}/{stem}/{stem}-{tile}" in names
    assert {
        "set.json", "tones.csv", "scores.csv", "contact-sheet.png", "specification.pdf",
        "colours.tokens.json", "colours.css", "manifest.json", "coordinates/coordinates.png",
        "coordinates/1-in/set.json", "colourways/Morning/plates/Morning-01-a62a3c.png",
        "colourways/Morning-2/plates/Morning-2-02-navy-second-pass.png",
    } <= names  # fmt: skip
    assert all(len(name.rsplit("/", 1)[-1]) <= 80 for name in names)
    assert verify(made.folder).ok


@pytest.mark.parametrize(
    ("tool", "ending"), [("pngcheck -q", ".png"), ("xmllint --noout", ".svg"),
                         ("qpdf --check", ".pdf")],
)  # fmt: skip
def test_programs_of_others_find_nothing_wrong(made, tool, ending):
    command = tool.split()
    if shutil.which(command[0]) is None:
        pytest.skip(f"{command[0]} is not here")
    paths = sorted(str(path) for path in made.folder.rglob(f"*{ending}"))
    assert paths
    # One at a time: qpdf takes a second file for the one to write.
    for path in paths:
        done = subprocess.run([*command, path], capture_output=True, text=True, check=False)
        assert done.returncode == 0, done.stdout + done.stderr


def test_every_picture_has_the_tones_and_the_size_it_says(made):
    for stem, colourway in zip(("Morning", "cmd-Evening", "Morning-2"), SET, strict=True):
        check = SET.check_for(colourway)
        lead = made.folder / "colourways" / stem / stem
        tile = f"{lead}-tile-{tile_name(check)}"
        for dpi in (100, 150):
            image = Image.open(f"{tile}-{dpi}dpi.png")
            pixels, exact = tile_pixels(colourway, check, dpi)
            np.testing.assert_array_equal(np.asarray(image.convert("RGB")), pixels)
            size = image.size[0] / image.info["dpi"][0] * 25.4
            assert size == pytest.approx(check.repeat.mm, abs=0.1)
            assert image.info["dpi"][0] == pytest.approx(exact, abs=0.0254)
        piece = Piece(check, "30 cm", "20 cm", 100)
        cloth = np.asarray(Image.open(f"{lead}-cloth-100dpi.png").convert("RGB"))
        np.testing.assert_array_equal(cloth, cloth_pixels(colourway, piece))
        tree = ElementTree.parse(f"{tile}.svg").getroot()
        width = float(tree.get("width").removesuffix("mm"))
        assert width == pytest.approx(check.repeat.mm, abs=1e-5)


def test_the_set_opens_again_and_so_does_each_size(made):
    assert open_hand_off(made.folder) == SET
    for folder, size in (("1-16-in", "1/16 in"), ("1-in", "1 in")):
        sized = open_set(made.folder / "coordinates" / folder / "set.json")
        assert sized.check == Check(size, 2)
        assert sized.colourways == SET.colourways


def test_the_zip_is_the_folder(made):
    assert made.zipped.name == "out.zip"
    with zipfile.ZipFile(made.zipped) as packed:
        assert packed.testzip() is None
        found = {name.removeprefix("out/"): packed.read(name) for name in packed.namelist()}
    assert found == _files(made.folder)


def test_the_manifest_tells_the_printer_what_each_file_is(made):
    manifest = json.loads((made.folder / "manifest.json").read_text("utf-8"))
    assert manifest["sett"] == "64 per in (25.2 per cm)"
    assert "relative colorimetric" in manifest["press"]
    shows = {one["file"]: one["shows"] for one in manifest["files"]}
    plate = shows["colourways/Morning/plates/Morning-01-a62a3c.png"]
    assert "black prints" in plate
    assert "Tints side by side" in plate
    assert "whole repeats" in shows["colourways/Morning/Morning-cloth-100dpi.png"]
    assert str(made.folder.parent) not in json.dumps(manifest)


def test_progress_counts_every_file_and_the_zip(tmp_path):
    calls = []
    hand_off(SET, None, tmp_path / "out", **EVERYTHING, progress=lambda *call: calls.append(call))
    done = [call[0] for call in calls]
    assert done == sorted(done)
    assert calls[-1][0] == calls[-1][1] == max(call[1] for call in calls)


# The very same set, written by another process that orders its hashes otherwise.
ANOTHER = """
import sys
from checkcloth.export.members import as_set
from checkcloth.export.hand_off.hand_off import hand_off
from checkcloth.export.data.saved import open_set
options = eval(sys.argv[3])
hand_off(open_set(sys.argv[1]), None, sys.argv[2], **options)
"""


def _pythons() -> list[str]:
    """This Python, and others that can import what is needed (none on most machines)."""
    others = [os.environ.get("CHECKCLOTH_OTHER_PYTHON", "")]
    return [sys.executable, *(other for other in others if other)]


@pytest.mark.parametrize("python", _pythons())
def test_same_set_same_bytes_in_another_process(tmp_path, python):
    hand_off(SET, None, tmp_path / "out", **EVERYTHING)
    kit = str(Path(checkcloth.__file__).parents[1])
    other = tmp_path / "other"
    other.mkdir()
    subprocess.run(
        [python, "-c", ANOTHER, str(tmp_path / "out" / "set.json"), str(other / "out"),
         repr(EVERYTHING)],
        check=True,
        env=os.environ | {"PYTHONPATH": kit, "PYTHONHASHSEED": "77", "TZ": "Asia/Tokyo"},
    )  # fmt: skip
    assert _files(other / "out") == _files(tmp_path / "out")
    one, two = ((folder / "out.zip").read_bytes() for folder in (tmp_path, other))
    assert hashlib.sha256(one).digest() == hashlib.sha256(two).digest()


def test_a_zip_that_is_there_stays_unless_told(tmp_path):
    (tmp_path / "out.zip").write_bytes(b"mine")
    with pytest.raises(ExistsError, match=r"out\.zip"):
        hand_off(SET, None, tmp_path / "out", zipped=True)
    assert [path.name for path in tmp_path.iterdir()] == ["out.zip"]
    hand_off(SET, None, tmp_path / "out", zipped=True, overwrite=True)
    assert zipfile.is_zipfile(tmp_path / "out.zip")


@pytest.mark.parametrize(
    "wrong",
    [{"paper": "A3"}, {"plates": "spots"}, {"cloth": "1 m"}, {"cloth": ("1 cm",)},
     {"cloth": ("1 cm", "2")}, {"sett": "64 per in"}, {"sett": "64", "cloth": ("1 cm", "1 cm")},
     {"sett": "64 per in", "cloth": ("1 cm", "1 cm")}, {"sizes": ("1",)}, {"sizes": "1 in"},
     {"press": "press.icc"}, {"thumbnails": 3}, {"thumbnails": ()}, {"thumbnails": "big"},
     {"cloth": ("1 cm", "90000 cm")}],
)  # fmt: skip
def test_wrong_wishes_are_told_before_anything_is_written(tmp_path, wrong):
    with pytest.raises(CheckclothError):
        hand_off(SET, None, tmp_path / "out", **wrong)
    assert not list(tmp_path.iterdir())


def test_nothing_is_invented_without_a_profile(tmp_path):
    hand_off(SET, None, tmp_path / "out")
    for name, data in _files(tmp_path / "out").items():
        assert "proof" not in name
        if name.endswith((".csv", ".json", ".css")):
            assert b"cyan" not in data.lower().replace(b"darkcyan", b"").replace(b"lightcyan", b"")


def test_coordinates_are_whole_repeats_at_one_scale():
    sheet = coordinate_sheet(SET, sizes=("2 in", "1/16 in"))
    image = np.asarray(Image.open(io.BytesIO(sheet.png)).convert("RGB"))
    # Its own size is there too; the largest repeat, 12 in of three stripes, sets no bound.
    assert sheet.alt.startswith("3 colourways at 3 check sizes, whole repeats, all at true size")
    bands = np.floor(SET.colourways[0].tones * 255 + 0.5)
    left, top = 36, 90 + 30 + 24  # head, name, captions
    # At 1/16, 1/4 and 2 in a check is 6.25, 25 and 200 pixels at 100 dpi (plain arithmetic);
    # as many repeats as come nearest to 50 mm, 197 pixels.
    for inches in (1 / 16, 1 / 4, 2):
        repeat = round(400 * inches)
        times = max(1, round(197 / repeat))
        for index, warp in enumerate((1, 0, 2, 0) * times):
            x = left + int((index + 0.5) * 100 * inches)
            pixel = image[top + int(50 * inches), x]
            np.testing.assert_array_equal(pixel, bands[warp, 1])
        edge = left + times * repeat
        assert (image[top + 3, edge : edge + 10] == 255).all()
        sides = [int(100 * inches * checks + 0.5) for checks in (4, 6, 2)]
        widest = max(max(1, round(197 / side)) * side for side in sides)
        left += widest + 20


def test_a_large_family_is_drawn_smaller_but_truly_to_scale():
    wide = Colourway("white", [f"#{40 * n:02x}3060" for n in range(6)])
    sheet = coordinate_sheet(wide, Check("1 in", 6), sizes=INCH_SIZES)
    assert "50 % of true size" in sheet.alt  # 24 in of cloth in 1,200 pixels
    assert sheet.alt.startswith("1 colourway at 6 check sizes")
    assert rows_per_sheet(as_set(wide, Check("1 in", 6)), INCH_SIZES) >= 1
    shown = family_sheet(wide, Check("1/4 in", 6))
    assert "6 cloths of one family" in shown.alt
    image = np.asarray(Image.open(io.BytesIO(shown.png)).convert("RGB"))
    solid = np.floor(wide.tones[1, 1] * 255 + 0.5)
    assert (image == solid).all(axis=2).sum() > 190**2


def test_families_of_sizes():
    for sizes in (INCH_SIZES, METRIC_SIZES):
        assert len(family(SET.check, sizes)) == 6
    assert [str(c.size) for c in family(SET.check, ["1 in", "25.4 mm"])] == ["25.4 mm (1 in)"]
