"""Plates as PDF: the inks by name, the tints by place, read back by pypdf."""

from __future__ import annotations

import io
import shutil
import subprocess

import numpy as np
import pytest
from icc_maker import make_press_profile
from pypdf import PdfReader
from pypdf.generic import ContentStream

from checkcloth import Check, Colourway
from checkcloth.colour.spaces import srgb_to_lab
from checkcloth.errors import ArgumentError
from checkcloth.export.print.plates import plates_of
from checkcloth.export.print.press import open_press
from checkcloth.export.print.separations import ink_names, separations_pdf

QUAY = Colourway("white", ["navy", "teal", "gold"], 0.6, name="Quay <1>")
CHECK = Check("1 cm", 3)
CASES = {
    "tints": (QUAY, CHECK, "colours"),
    "solid": (QUAY.with_(stripes=["navy", "teal"]), Check("1 cm", 2), "tones"),
    "multiply": (QUAY.with_(mixing="multiply"), CHECK, "colours"),
    "ink": (QUAY.with_(mixing="ink"), CHECK, "colours"),
    "uneven": (
        QUAY.with_(stripes=["Black", "navy"], weft_stripes=["gold"]),
        Check("1 in", 2, warp="1/8 A, 1 ground, 2 B", weft="1 1/2 A, 1/4 ground", weft_stripes=1),
        "colours",
    ),
}


@pytest.fixture(params=CASES)
def case(request):
    colourway, check, kind = CASES[request.param]
    return plates_of(colourway, kind), check


def spaces(reader):
    return {key: space.get_object() for key, space in
            reader.pages[0]["/Resources"]["/ColorSpace"].items()}  # fmt: skip


def test_its_inks_are_those_of_the_plates_by_name_and_no_others(case):
    plates, check = case
    reader = PdfReader(io.BytesIO(separations_pdf(plates, check)))
    inks = spaces(reader)
    assert {space[0] for space in inks.values()} == {"/Separation"}
    assert tuple(space[1].removeprefix("/") for space in inks.values()) == ink_names(plates)
    operators = [operator for _, operator in
                 ContentStream(reader.pages[0].get_contents(), reader).operations]  # fmt: skip
    assert not {b"rg", b"g", b"k", b"RG", b"G", b"K", b"sc", b"Do"} & set(operators)


def test_every_tone_has_what_its_plates_carry_at_the_middle_of_each_cell(case):
    """Boxes are read back in points; 72 of them are an inch."""
    plates, check = case
    reader = PdfReader(io.BytesIO(separations_pdf(plates, check)))
    page = reader.pages[0]
    wide, high = (float(side) for side in page.mediabox[2:])
    assert wide == pytest.approx(check.repeat_width.inches * 72, abs=1e-3)
    assert high == pytest.approx(check.repeat_height.inches * 72, abs=1e-3)
    boxes, tint, ink, path = [], 0.0, -1, []
    for operands, operator in ContentStream(page.get_contents(), reader).operations:
        if operator == b"cs":
            ink = int(operands[0].removeprefix("/Ink"))
        elif operator == b"scn":
            tint = float(operands[0])
        elif operator == b"re":
            path.append([float(number) for number in operands])
        elif operator == b"f":
            boxes += [(ink, tint, *box) for box in path]
            path = []
    edges = [np.cumsum([0.0, *(float(band.checks) for band in bands)])
             for bands in (check.warp_bands, check.weft_bands)]  # fmt: skip
    each = check.size.inches * 72
    for row, weft in enumerate(check.weft_bands):
        for column, warp in enumerate(check.warp_bands):
            x = (edges[0][column] + edges[0][column + 1]) / 2 * each
            y = high - (edges[1][row] + edges[1][row + 1]) / 2 * each
            found = np.zeros(plates.screens)
            for ink, tint, left, low, across, up in boxes:
                if left < x < left + across and low < y < low + up:
                    assert found[ink] == 0
                    found[ink] = tint
            wanted = [plate.cover[warp.stripe, weft.stripe] for plate in plates.plates]
            np.testing.assert_allclose(found, wanted, atol=1e-6)


def test_a_tint_looks_as_the_mixing_has_it_on_the_ground():
    plates = plates_of(QUAY)
    reader = PdfReader(io.BytesIO(separations_pdf(plates, CHECK)))
    for index, space in enumerate(spaces(reader).values()):
        curve = space[3].get_object()
        samples = np.frombuffer(curve.get_data(), ">u2").reshape(-1, 3) / 65535
        lab = samples * [100, 255, 255] - [0, 128, 128]
        assert len(lab) == curve["/Size"][0]
        np.testing.assert_allclose(lab[0], srgb_to_lab(QUAY.ground.rgb), atol=0.01)
        np.testing.assert_allclose(lab[-1], srgb_to_lab(QUAY.stripes[index].rgb), atol=0.01)


def test_what_pdf_has_a_meaning_for_is_no_ink_and_no_two_are_alike():
    plates = plates_of(Colourway("white", ["black", "teal"], 0.5))
    assert ink_names(plates) == ("black ink", "teal")
    made = separations_pdf(plates_of(CASES["uneven"][0]), CASES["uneven"][1])
    assert b"/Separation /Black " not in made
    assert b"/Black#20ink" in made


def test_the_profile_given_is_the_output_intent(tmp_path):
    (tmp_path / "press.icc").write_bytes(make_press_profile())
    press = open_press(tmp_path / "press.icc")
    plates = plates_of(QUAY)
    (intent,) = PdfReader(io.BytesIO(separations_pdf(plates, CHECK, press))).root_object[
        "/OutputIntents"
    ]
    intent = intent.get_object()
    assert intent["/S"] == "/GTS_PDFX"
    assert intent["/OutputConditionIdentifier"] == press.name
    profile = intent["/DestOutputProfile"].get_object()
    assert profile["/N"] == 4
    assert profile.get_data() == press.profile
    without = PdfReader(io.BytesIO(separations_pdf(plates, CHECK)))
    assert "/OutputIntents" not in without.root_object


def test_it_is_tagged_and_whole(case, tmp_path):
    plates, check = case
    made = separations_pdf(plates, check)
    assert made == separations_pdf(plates, check)
    root = PdfReader(io.BytesIO(made)).root_object
    figure = root["/StructTreeRoot"]["/K"]["/K"]
    assert figure["/S"] == "/Figure"
    assert all(name in figure["/Alt"] for name in ink_names(plates))
    assert b"<pdfuaid:part>1" in root["/Metadata"].get_data()
    if shutil.which("qpdf"):
        (tmp_path / "made.pdf").write_bytes(made)
        done = subprocess.run(["qpdf", "--check", tmp_path / "made.pdf"], capture_output=True)
        assert done.returncode == 0, done.stdout + done.stderr
    with pytest.raises(ArgumentError):
        separations_pdf(plates, Check("1 cm", 7))
