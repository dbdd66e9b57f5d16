"""A supplier's list of shades, as untidy as they come."""

from __future__ import annotations

import numpy as np
import pytest
from coloraide import Color

from checkcloth import delta_e_2000, srgb_to_lab
from checkcloth.errors import ArgumentError, FileFormatError
from checkcloth.export.paper.report import report
from checkcloth.quality import (
    read_supplier_palette,
    score_table,
)

# Invented; with the mark that spreadsheets put in front, semicolons, decimal commas, gaps.
UNTIDY = (
    "\ufeffArticle;Shade;HEX;L*;a*;b*;Illuminant;Observer;MOQ;Remark\r\n"
    "QH-0100;Bleached Linen;#FAF7F0;97,3;0,0;3,6;D65;2°;50 m;for grounds\r\n"
    "QH-0215;Platform Brick;B5473C;45,2;41,9;31,0;D65;2°;50 m;\r\n"
    "QH-0331;Smoke Blue;;58,4;-4,1;-18,9;D65;2°;;hex to follow\r\n"
    "\r\n"
    "QH-0603;Heather Moor;#8A6FA0;;;;D65;2°;;not measured yet\r\n"
    "QH-0604;Heather Moor;#7f6598;45,5;18,3;-22,9;D65;2°;;second lot\r\n"
    "QH-0700;To be named;;;;;D65;2°;;on request\r\n"
)


@pytest.fixture
def file(tmp_path):
    def write(text: str, name: str = "shades.csv"):
        path = tmp_path / name
        path.write_bytes(text.encode("utf-8"))
        return path

    return write


def test_an_untidy_list_becomes_a_palette_and_says_what_is_odd(file):
    read = read_supplier_palette(file(UNTIDY), grounds=["Bleached Linen"])
    assert str(read) == "shades.csv: 5 of 6 shades can be used"
    assert [colour.name for colour in read.palette.grounds] == ["Bleached Linen"]
    assert [colour.name for colour in read.palette.stripes] == [
        "Platform Brick", "Smoke Blue", "Heather Moor", "Heather Moor (QH-0604)",
    ]  # fmt: skip
    said = "\n".join(read.notes)
    assert "Line 3, Platform Brick: hex and Lab differ by ΔE00 1.5" in said
    assert "nothing stands behind the hex: Heather Moor." in said
    assert "Line 8, To be named, is left out: neither hex nor Lab." in said
    assert "Line 7 has the name of line 6, Heather Moor" in said
    assert "Columns not used: moq." in said
    html = read._repr_html_()
    assert "background:#faf7f0" in html
    assert "left out: neither hex nor Lab" in html


@pytest.mark.parametrize(("light", "space"), [("D65", "lab-d65"), ("D50", "lab")])
def test_lab_becomes_the_colour_that_a_colour_library_makes_of_it(file, light, space):
    """coloraide's lab-d65, and CSS Color 4's lab(), which is D50 adapted by Bradford."""
    lab = np.array([[58.4, -4.1, -18.9], [45.2, 38.0, 25.0], [77.4, 4.6, 50.0], [97.3, 0, 3.6]])
    lines = [f"s{n},{a},{b},{c},{light},2" for n, (a, b, c) in enumerate(lab.tolist())]
    read = read_supplier_palette(
        file("\n".join(["shade,L*,a*,b*,illuminant,observer", *lines]))
    )  # fmt: skip
    wanted = [Color(space, row).convert("srgb").coords() for row in lab.tolist()]
    assert np.allclose(read.palette.rgb, wanted, atol=2e-4)


def test_hex_that_agrees_stands_and_what_differs_is_measured(file):
    read = read_supplier_palette(file(UNTIDY))
    brick = next(shade for shade in read.shades if shade.name == "Platform Brick")
    assert brick.why == "Lab"
    assert brick.apart == pytest.approx(
        float(delta_e_2000([45.2, 41.9, 31.0], srgb_to_lab(np.array([0xB5, 0x47, 0x3C]) / 255))),
        abs=1e-9,
    )
    assert np.allclose(srgb_to_lab(brick.colour.rgb), [45.2, 41.9, 31.0], atol=1e-6)
    loose = read_supplier_palette(file(UNTIDY), agree=5)
    assert loose.palette["Platform Brick"].hex == "#b5473c"
    assert "differ" not in "\n".join(loose.notes)


@pytest.mark.parametrize("code", ["# 5A 2A 4F", "5a 2a 4f", "5A2 A4F", "#5a2a4f"])
def test_digits_of_a_hex_code_may_stand_apart(file, code):
    found = read_supplier_palette(file(f"shade,hex\nBramble,{code}\n"))
    assert found.palette["Bramble"].hex == "#5a2a4f"


def test_a_heading_that_is_not_known_is_said_as_it_is_written(file):
    with pytest.raises(FileFormatError, match=r"found Nr\., Farbe, Wert; .*'Nr\.'"):
        read_supplier_palette(file("Nr.,Farbe,Wert\n1,Rost,#a63c12\n"))


def test_a_lab_outside_srgb_is_said_to_have_moved(file):
    read = read_supplier_palette(file("shade,L,a,b,light\nSignal,50,-70,10,D65/2\n"))
    (shade,) = read.shades
    assert shade.moved == pytest.approx(
        float(delta_e_2000([50, -70, 10], srgb_to_lab(shade.colour.rgb)))
    )
    assert shade.moved > 1
    assert any("sRGB cannot show it" in note for note in read.notes)


@pytest.mark.parametrize("observer", ["10", "10°", "D65/10°"])
def test_lab_for_10_degrees_is_not_turned_into_2(file, observer):
    where = "illuminant/observer" if "/" in observer else "observer"
    head = f"shade,hex,L*,a*,b*,{where}" + ("" if "/" in observer else ",illuminant")
    tail = observer + ("" if "/" in observer else ",D65")
    read = read_supplier_palette(file(f"{head}\nRust,#a8452c,10,0,0,{tail}\nFog,,60,0,0,{tail}\n"))
    assert read.palette["Rust"].hex == "#a8452c"
    assert np.isnan(read.shades[0].apart)
    assert read.shades[1].colour is None
    assert "only spectra" in read.shades[1].why


def test_conditions_that_the_file_does_not_state_can_be_stated(file):
    path = file("shade,L*,a*,b*\nFog,60,1,2\n")
    with pytest.raises(FileFormatError, match="illuminant and observer of Lab are not stated"):
        read_supplier_palette(path)
    assert len(read_supplier_palette(path, illuminant="D50", observer=2).palette) == 1


@pytest.mark.parametrize(
    ("text", "line", "argument", "words"),
    [
        ("shade;price\nFog;2\n", 1, "header", "shade, price"),
        ("hex\n#fff\n", 1, "header", "hex"),
        ("shade,hex\nFog,greyish\n", 2, "hex", "'greyish'"),
        ("shade,hex\n,#fff\n", 2, "name", "nothing"),
        ("shade,hex\nA\x07,#fff\n", 2, "name", "control"),
        ("shade,L*,a*,b*,light\nFog,160,0,0,D65/2\n", 2, "l*", "0 to 105"),
        ("shade,L*,a*,b*,light\nFog,60,0,0,A/2\n", 2, "illuminant", "D50 or D65"),
        ("shade,L*,a*,b*,light\nFog,60,0,,D65/2\n", None, "shades", r"Lab lacks b\*"),
        ("shade,hex\nFog,\n", None, "shades", "at least one"),
        ("", None, None, "an empty file"),
    ],
)
def test_what_is_wrong_is_named_with_its_line(file, text, line, argument, words):
    with pytest.raises(FileFormatError, match=words) as caught:
        read_supplier_palette(file(text))
    if argument:
        fault = caught.value
        assert (fault.source, fault.line, fault.argument) == ("shades.csv", line, argument)


def test_a_ground_must_be_in_the_list(file):
    with pytest.raises(ArgumentError, match=r"shades\.csv") as caught:
        read_supplier_palette(file(UNTIDY), grounds=["To be named"])
    assert (caught.value.argument, caught.value.found) == ("grounds", "To be named")


def test_shades_get_names_of_their_own_whatever_they_are_called(file):
    read = read_supplier_palette(
        file("shade,code,hex\nFog,,#111\nFog (line 4),,#222\nFog,,#333\nFog,Fog,#444\n")
    )
    names = [colour.name for colour in read.palette]
    assert len(set(names)) == 4
    assert names[:2] == ["Fog", "Fog (line 4)"]


def test_names_that_differ_in_capitals_alone_are_noted(file):
    rows = ["Kirsche,#a62a3c", "Fog,#778899", "kirsche,#a62a3d", "Kirsche,#a62a3e", "KIRSCHE,"]
    found = read_supplier_palette(file("\n".join(["shade,hex", *rows]) + "\n"))
    (note,) = [note for note in found.notes if "capitals alone" in note]
    assert note.startswith("Lines 2, 4 and 6 differ in capitals alone: Kirsche, kirsche, KIRS")
    assert len(found.palette) == 4
    plain = read_supplier_palette(file("shade,hex\nKirsche,#a62a3c\nKirsche,#a62a3d\n"))
    assert not any("capitals" in note for note in plain.notes)


def test_a_score_table_takes_the_list_as_it_is(file):
    path = file(UNTIDY)
    table = score_table(path)
    assert len(table) == 5  # each shade takes its turn as the ground
    page = report("Shades", [read_supplier_palette(path), table]).html()
    assert "left out: neither hex nor Lab" in page


def test_names_cannot_write_html(file):
    read = read_supplier_palette(file("shade,hex,remark\n<b>x,#fff,<script>\n"))
    assert "<script>" not in read._repr_html_()
    assert "&lt;b&gt;x" in read._repr_html_()


def test_a_long_list_does_not_bury_its_reader(file):
    lines = "\n".join(f"s{n},#102030,{50 + n % 9},0,0,D65/2" for n in range(500))
    read = read_supplier_palette(file(f"shade,hex,L,a,b,light\n{lines}\n"))
    assert len(read.palette) == 500
    assert len(read.notes) < 20
    assert any("in 488 more lines" in note for note in read.notes)


def test_too_many_shades_are_refused_on_the_line(file):
    lines = "\n".join(f"s{n},#102030" for n in range(10_001))
    with pytest.raises(FileFormatError) as caught:
        read_supplier_palette(file(f"shade,hex\n{lines}\n"))
    assert (caught.value.argument, caught.value.line) == ("shades", 10_002)
