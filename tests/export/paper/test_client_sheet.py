"""The client's sheet: one stated scale, whole repeats, family by family, no scores."""

from __future__ import annotations

import io

import numpy as np
import pytest
from PIL import Image
from pypdf import PdfReader
from tea_rooms import NOTE, many, tea_rooms

from checkcloth import Check, Chosen, ChosenSet, Colourway, client_sheet
from checkcloth.colour.spaces import srgb_to_bytes
from checkcloth.errors import ArgumentError, ExistsError

MORE = {"note": NOTE, "reference": "QH 26-04", "date": "27 November 2026"}


def words_of(sheet):
    stream = io.BytesIO()
    sheet.write_pdf(stream)
    return [page.extract_text() for page in PdfReader(stream).pages]


def pixels_of(sheet, number=1):
    return np.asarray(Image.open(io.BytesIO(sheet.picture(number).png)).convert("RGB"))


def test_nine_on_one_sheet_with_all_that_is_asked_for():
    sheet = client_sheet(tea_rooms(), sizes=["1/4 in", "1 in"], **MORE)
    (text,) = words_of(sheet)
    for wanted in ("Violet six", "Almond two", "#eda3b5", "Quieter: violet", "QH 26-04",
                   "27 November 2026", "1/4 of true size", "Duck egg", "1 in check, repeat 12 in",
                   "All on Icing"):  # fmt: skip
        assert wanted in text, wanted
    assert "ΔE" not in text
    assert "continued" not in text


def test_the_head_does_not_sit_on_the_first_cloth():
    """The first row of pixels that is cloth from end to end, and 2.5 mm of white over it."""
    cloths = [Colourway("white", ["navy", "teal"], name="Quay")] * 6
    pixels = pixels_of(client_sheet(cloths, Check("1/2 in", 2)))
    left = slice(round(16 / 25.4 * 150), round(60 / 25.4 * 150))
    first = int(np.flatnonzero((pixels[:, left] < 255).any(axis=2).all(axis=1))[0])
    assert (pixels[first - round(2.5 / 25.4 * 150) : first - 1] == 255).all()


def test_names_stand_in_the_place_of_codes():
    (text,) = words_of(client_sheet(tea_rooms(), codes=False))
    assert "Sugared Almond" in text
    assert "#" not in text


@pytest.mark.parametrize(
    ("chosen", "leaves", "columns"),
    [
        (many(4), 1, 3),
        (many(9), 1, 3),
        (many(12), 2, 3),
        (many(14), 2, 3),
        (many(24), 3, 3),
        (many(2), 1, 2),
    ],
)
def test_breaks(chosen, leaves, columns):
    sheet = client_sheet(chosen)
    assert (len(sheet), sheet.plan.columns) == (leaves, columns)
    assert len(words_of(sheet)) == leaves


def test_whose_tones_are_an_estimate_is_said_by_mixing_and_stock():
    cloth = Colourway("white", ["navy"], 0.5, "ink", stock="uncoated")
    own = cloth.with_(stock="tvi=0.14 density=1.5 n=2.0 Halt press")
    for cloths, wanted in (
        ([cloth, cloth.with_(mixing="woven")], "ink on uncoated"),
        ([cloth.with_(stock="")], "ink"),
        ([cloth.with_(mixing="pigment"), own], "ink on Halt press and pigment"),
    ):
        (text,) = words_of(client_sheet(cloths, Check("1 in", 1)))
        assert f"Tones of {wanted} are an estimate." in " ".join(text.split())
    (text,) = words_of(client_sheet(cloth.with_(mixing="woven"), Check("1 in", 1)))
    assert "estimate" not in text


def test_a_family_that_goes_on_says_so():
    cloths = [Chosen(Colourway("white", [s]), family="Quay") for s in ("navy", "teal") * 7]
    sheet = client_sheet(ChosenSet(Check("1/2 in", 1), cloths))
    first, second = words_of(sheet)
    assert "continued" not in first
    assert "continued" in second
    assert "10 to 14" in second


def twelve(note=""):
    colours = [f"hsl({30 * n} 60% 50%)" for n in range(12)]
    cloths = [Chosen(Colourway("white", ["navy", "teal", c], 0.5, "ink"), note) for c in colours]
    return ChosenSet(Check("1/2 in", 3), cloths, "Twelve")


@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize("note", ["", "A note that takes two lines under its cloth, as some do."])
def test_twelve_stand_on_one_sheet_where_a_fourth_row_fits(paper, note):
    """If need be with less of the cloth beyond one repeat, at the same scale."""
    sheet = client_sheet(twelve(note), paper=paper, sizes=["1/4 in", "1 in"])
    (text,) = (" ".join(page.split()) for page in words_of(sheet))
    usual = client_sheet(ChosenSet(sheet.chosen.check, sheet.chosen.chosen[:9]), paper=paper).plan
    assert sheet.plan.words == usual.words == "1/3 of true size"
    assert usual.down >= sheet.plan.down >= 7  # three stripes, their gaps, the first again
    assert "Tones of ink are an estimate" in text
    assert "also at 1/4 in and 1 in" in text
    assert "1 at a 1/4 in check, repeat 1 1/2 in" in text
    pixels = pixels_of(sheet)
    edge = round(9 / 25.4 * 150)
    assert (pixels[-edge:] == 255).all()


@pytest.mark.parametrize("stripes", [1, 2, 3, 6, 12])
@pytest.mark.parametrize("size", ["1/16 in", "1/2 in", "7 mm", "2 in"])
def test_one_whole_repeat_and_its_first_band_fit(stripes, size):
    colours = ("navy", "teal", "gold") * 4
    members = [Colourway("white", colours[:stripes]), Colourway("white", ["red"])] * 3
    plan = client_sheet(members, Check(size, stripes)).plan
    assert min(plan.across, plan.down) >= 2 * stripes + 1
    assert plan.wide <= 54.01
    assert plan.check == pytest.approx(Check(size, 1).size.mm / plan.part)


def test_every_cloth_has_the_tones_of_the_kit_at_the_stated_scale():
    """A quarter of 1/2 in at 150 dpi is 18.75 pixels: the middle of every check is its tone."""
    chosen = tea_rooms()
    pixels = pixels_of(client_sheet(chosen))
    colourway = chosen.colourways[0]
    tones = srgb_to_bytes(colourway.tones)
    row = next(y for y in range(150, 900) if (pixels[y, 95] == tones[1, 1]).all()) + 9
    left = round(15 / 25.4 * 150)
    stripes = [1, 0, 2, 0, 3, 0, 4, 0, 5, 0, 6, 0, 1, 0, 2, 0, 3]
    for down, weft in enumerate(stripes[:13]):
        for across, warp in enumerate(stripes):
            spot = pixels[round(row + down * 18.75), round(left + (across + 0.5) * 18.75)]
            assert (spot == tones[warp, weft]).all(), (warp, weft)


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_nothing_runs_over_the_foot_or_the_edge(paper):
    """Long names and notes are cut or set smaller; the margins stay white."""
    long = "A name that goes on and on, as names do where nobody stops them " * 3
    stripes = ["navy", "teal", "gold", "red", "olive", "maroon", "lime", "aqua", "gray", "pink"]
    members = [
        Chosen(Colourway("#fdfaf5", stripes, name=long[:180]), long * 5, family=long[:100])
        for _ in range(7)
    ]
    sheet = client_sheet(ChosenSet(Check("1/2 in", 10), members, long[:190]), paper=paper,
                         note=long, reference="R" * 60, date="D" * 60)  # fmt: skip
    for number in range(1, len(sheet) + 1):
        pixels = pixels_of(sheet, number)
        height, width = pixels.shape[:2]
        edge = round(9 / 25.4 * 150)
        for part in (pixels[:, :edge], pixels[:, width - edge :], pixels[height - edge + 6 :]):
            assert (part == 255).all()


def test_the_same_bytes_twice_and_both_kinds_of_file(tmp_path):
    sheets = [client_sheet(many(14), **MORE) for _ in range(2)]
    first, second = (sheet.save(tmp_path / f"{n}.pdf")[0] for n, sheet in enumerate(sheets))
    assert first.read_bytes() == second.read_bytes()
    made = sheets[0].save(tmp_path / "sheet.png")
    assert [path.name for path in made] == ["sheet-1.png", "sheet-2.png"]
    assert made[0].read_bytes() == sheets[1].picture(1).png
    with pytest.raises(ExistsError):
        sheets[0].save(tmp_path / "sheet.png")
    (tmp_path / "mine-2.png").write_bytes(b"mine")
    with pytest.raises(ExistsError):
        sheets[0].save(tmp_path / "mine.png")
    assert not (tmp_path / "mine-1.png").exists(), "all of them or none"
    with pytest.raises(ArgumentError):
        sheets[0].save(tmp_path / "sheet.svg")
    assert 'alt="Tea rooms, all, sheet 1 of 2' in sheets[0]._repr_html_()


@pytest.mark.parametrize(
    "wrong", [{"paper": "A3"}, {"sizes": "1 in"}, {"sizes": ["x"]}, {"note": 3}, {"title": "a\nb"}]
)
def test_wrong_arguments(wrong):
    with pytest.raises(ValueError, match="must be"):
        client_sheet(tea_rooms(), **wrong)


def test_markup_in_names_stays_text():
    cloth = Colourway("white", ["navy"], name="<b>Quay</b> & 'Mole'")
    assert "<b>Quay</b> & 'Mole'" in words_of(client_sheet(cloth, Check("1 in", 1)))[0]


def test_bands_and_wefts_of_their_own():
    """The widest repeat decides the scale; colours of the weft's own have chips as well."""
    cloth = Colourway("white", ["navy", "teal"], 1.0, weft_stripes=["gold"])
    check = Check(
        "1/2 in", 2, warp="3 A, 1/2 ground, 1 B", weft="1 A, 1 1/2 ground", weft_stripes=1
    )
    sheet = client_sheet(cloth, check, codes=False)
    assert (sheet.plan.part, "weft gold" in words_of(sheet)[0]) == (2, True)
    pixels = pixels_of(sheet)
    left, each = round(15 / 25.4 * 150), 150 / 4
    navy = srgb_to_bytes(cloth.tones)[1, 0]
    top = next(y for y in range(100, 900) if (pixels[y, left + 20] == navy).all())
    warps = {0.5: 1, 2.9: 1, 3.25: 0, 4: 2, 4.6: 1}
    tones = srgb_to_bytes(cloth.tones)
    for down, weft in ((5, 1), (60, 0)):
        for checks, warp in warps.items():
            spot = pixels[top + down, round(left + checks * each)]
            assert (spot == tones[warp, weft]).all(), (checks, weft)
