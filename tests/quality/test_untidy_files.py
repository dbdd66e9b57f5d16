"""Files as suppliers and instruments send them: other spaces, encodings, titles, gaps, faults."""

from __future__ import annotations

import colour
import numpy as np
import pytest

from checkcloth.errors import ArgumentError, FileFormatError
from checkcloth.quality import read_readings, read_supplier_palette, score_table
from checkcloth.quality.lab_columns import SPACES

WHITES = {"D50": np.array([0.3457, 0.3585]), "D65": np.array([0.3127, 0.3290])}
LABS = np.array([[58.4, -4.1, -18.9], [45.2, 38.0, 25.0], [77.4, 4.6, 50.0]])
HEAD = "tone,L*,a*,b*,illuminant,observer\n"


def write(tmp_path, text, encoding="utf-8", name="r.csv"):
    path = tmp_path / name
    path.write_bytes(text.encode(encoding))
    return path


@pytest.mark.parametrize("light", WHITES)
@pytest.mark.parametrize("space", SPACES)
def test_every_space_becomes_what_colour_science_makes_of_it(tmp_path, light, space):
    heads = {"L*a*b*": "L*;a*;b*", "L*C*h": "L*;C*;h°", "XYZ": "X;Y;Z"}[space]
    cells = {
        "L*a*b*": LABS,
        "L*C*h": colour.models.Lab_to_LCHab(LABS),
        "XYZ": colour.Lab_to_XYZ(LABS, WHITES[light]) * 100,
    }[space]
    rows = [";".join(f"{value:.10f}" for value in row).replace(".", ",") for row in cells]
    lines = [f"t{n};{row};{light};2" for n, row in enumerate(rows)]
    text = f"tone;{heads};illuminant;observer\n" + "\n".join(lines)
    read = read_readings(write(tmp_path, text))
    assert np.allclose([reading.lab for reading in read.readings], LABS, atol=1e-5)
    shades = read_supplier_palette(write(tmp_path, text.replace("tone", "shade"), name="s.csv"))
    assert np.allclose([shade.lab for shade in shades.shades], LABS, atol=1e-5)


def test_xyz_for_10_degrees_is_of_that_observers_white(tmp_path):
    text = "tone,X,Y,Z,illuminant,observer\nwhite,90,95,100,D65,10\n"
    (one,) = read_readings(write(tmp_path, text)).readings
    white = colour.CCS_ILLUMINANTS["CIE 1964 10 Degree Standard Observer"]["D65"]
    wanted = colour.XYZ_to_Lab(np.array([0.90, 0.95, 1.00]), white)
    assert one.lab == pytest.approx(wanted, abs=0.02)
    with pytest.raises(FileFormatError, match="stated") as caught:
        read_readings(write(tmp_path, text.replace("D65,10", "D65,")))
    assert caught.value.line == 2


def test_rgb_columns_are_read_and_a_scale_of_0_to_1_refused(tmp_path):
    read = read_supplier_palette(write(tmp_path, "shade,R,G,B\nBrick,181,71,60\n"))
    assert read.palette["Brick"].hex == "#b5473c"
    assert read.shades[0].hex == "rgb(181 71 60)"
    both = read_supplier_palette(
        write(tmp_path, "shade,R,G,B,L*,a*,b*,light\nBrick,181,71,60,45.2,41.9,31,D65/2\n")
    )
    assert both.shades[0].lab == (45.2, 41.9, 31.0)
    with pytest.raises(FileFormatError, match="multiply by 255") as caught:
        read_supplier_palette(write(tmp_path, "shade,R,G,B\nBrick,0.71,0.28,0.24\nFog,1,1,0.9\n"))
    assert caught.value.argument == "r, g, b"
    # Pure colours in whole numbers are no scale of 0 to 1.
    assert len(
        read_supplier_palette(write(tmp_path, "shade,R,G,B\nInk,0,0,0\nJet,1,1,1\n")).palette
    )


def test_headings_of_the_files_own_are_said(tmp_path):
    text = "Farbe;Helligkeit;a;b;Licht\nNebel;58,4;-4,1;-18,9;D65/2\n"
    said = {"name": "Farbe", "L*": "Helligkeit", "illuminant": "Licht"}
    read = read_supplier_palette(write(tmp_path, text), columns=said)
    assert read.shades[0].lab == (58.4, -4.1, -18.9)
    with pytest.raises(ArgumentError, match="Helligkeit") as caught:
        read_supplier_palette(write(tmp_path, text), columns={**said, "L*": "Heligkeit"})
    assert caught.value.argument == "columns"
    for wrong in ({"Q": "Farbe"}, {"L*": 5}, ["L*"]):
        with pytest.raises(ArgumentError) as caught:
            read_supplier_palette(write(tmp_path, text), columns=wrong)
        assert caught.value.argument == "columns"
    readings = write(tmp_path, "Probe,Hell,a,b,light,observer\nwhite,95,0,1,D65,2\n", name="q.csv")
    read = read_readings(readings, columns={"tone": "Probe", "L*": "Hell"})
    assert read.readings[0].lab == (95, 0, 1)


@pytest.mark.parametrize("titles", ["Autumn range;;\n\nprinted 4 May\n", "sep=;\n", "sep=|\n"])
def test_titles_and_separator_lines_stand_above_the_header(tmp_path, titles):
    mark = "|" if "|" in titles else ";"
    text = titles + "shade;hex\nFog;#778899\n;#123\n".replace(";", mark)
    read = read_supplier_palette(write(tmp_path, text))
    assert read.palette["Fog"].hex == "#778899"
    header = titles.count("\n") + 1
    assert [fault.line for fault in read.faults] == [header + 2]
    if "sep" not in titles:
        assert any(f"The header is line {header}" in note for note in read.notes)


@pytest.mark.parametrize("titles", ["", "Halt linen card\n\nsep=;\n", "sep=;\nAutumn, 2027, B\n\n"])
def test_a_header_that_is_not_known_is_named_by_its_own_line(tmp_path, titles):
    text = titles + "Farbton;Hex;Preis\nMöwe;#778899;2,50\nKirsche;98ffb3;3,10\n"
    path = write(tmp_path, text)
    with pytest.raises(FileFormatError, match="'name': 'Farbton'") as caught:
        read_supplier_palette(path)
    header = titles.count("\n") + 1
    assert (caught.value.argument, caught.value.line) == ("header", header)
    assert f"none of the first {header + 2} lines is one" in str(caught.value)
    assert [c.name for c in read_supplier_palette(path, columns={"name": "Farbton"}).palette] == [
        "Möwe", "Kirsche",
    ]  # fmt: skip
    with pytest.raises(ArgumentError, match="such as Farbton") as wrong:
        read_supplier_palette(path, columns={"name": "Farbtone"})
    assert wrong.value.argument == "columns"
    with pytest.raises(FileFormatError, match="read_supplier_palette") as of_table:
        score_table(path)
    assert of_table.value.line == header


def test_lab_without_its_conditions_says_which_arguments_state_them(tmp_path):
    path = write(tmp_path, "shade,L*,a*,b*\nFog,65,0,-4\n")
    with pytest.raises(FileFormatError, match="illuminant= and observer="):
        read_supplier_palette(path)
    assert len(read_supplier_palette(path, illuminant="D50", observer=2).palette) == 1


def test_a_table_is_made_of_a_supplier_s_list_under_titles_in_any_encoding(tmp_path):
    text = "Frühling;;\n\nshade;hex\nMöwe;#778899\nKirsche;#b82f3d\n"
    path = write(tmp_path, text, "cp1252")
    table = score_table(path, visions=["normal"])
    assert len(table) == 2
    read = read_supplier_palette(path)
    assert score_table(read, visions=["normal"])["name"] == table["name"]
    colourways = write(tmp_path, "Spring;;\n\nname;ground;stripe 1\nA;white;navy\n", name="c.csv")
    assert score_table(colourways, visions=["normal"])["name"] == ("A",)


@pytest.mark.parametrize(
    ("encoding", "words"), [("utf-16", "UTF-16"), ("cp1252", "Latin-1"), ("utf-8-sig", "")]
)
def test_other_encodings_are_read_and_said(tmp_path, encoding, words):
    text = "shade,hex,remark\nCafé crème,#c8a878,für später\n"
    read = read_supplier_palette(write(tmp_path, text, encoding))
    assert read.palette.colours[0].name == "Café crème"
    assert any(words in note for note in read.notes)
    if words:
        assert words in read.notes[0]


def test_damage_in_utf8_is_not_taken_for_another_encoding(tmp_path):
    path = tmp_path / "s.csv"
    path.write_bytes("shade,hex\nCafé,#c8a878\n".encode() + b"Fog\xe9,#778899\n")
    with pytest.raises(FileFormatError, match="0xe9") as caught:
        read_supplier_palette(path)
    assert caught.value.line == 3


def test_all_faults_are_listed_by_line_with_the_rest_read(tmp_path):
    text = "shade,hex\nFog,#778899\nBad,greyish\n,#123456\nMist,#eef\nWorse,#12,5\n"
    read = read_supplier_palette(write(tmp_path, text))
    assert [colour.name for colour in read.palette] == ["Fog", "Mist"]
    assert [fault.line for fault in read.faults] == [3, 4, 6]
    assert sum(note.startswith("Line ") for note in read.notes) >= 3
    with pytest.raises(FileFormatError) as caught:
        read_supplier_palette(write(tmp_path, "shade,hex\nA,nvy\nB,gld\n"))
    assert [fault.line for fault in (caught.value, *caught.value.others)] == [2, 3]
    assert "line 3" in str(caught.value)


def test_readings_list_every_fault_and_read_the_rest_where_asked(tmp_path):
    text = HEAD + "white,95,0,1,D65,2\nnavy,20,,0,D65,2\nred,200,0,0,D65,2\nteal,40,0,0,D65,2\n"
    path = write(tmp_path, text)
    with pytest.raises(FileFormatError) as caught:
        read_readings(path)
    assert [fault.line for fault in (caught.value, *caught.value.others)] == [3, 4]
    faults = []
    read = read_readings(path, faults=faults)
    assert [reading.tone for reading in read.readings] == ["white", "teal"]
    assert [fault.line for fault in faults] == [3, 4]
    assert len(read.notes) == 2
    many = read_readings(write(tmp_path, text + "red,200,0,0,D65,2\n" * 12), faults=faults)
    assert many.notes[-1] == "… and so in 2 more lines."


@pytest.mark.parametrize("gap", ["n/a", "", "–", "#N/A", "NaN", "-"])
def test_gaps_are_gaps_and_not_the_end(tmp_path, gap):
    text = f"shade,hex,L*,a*,b*,light\nFog,#778899,{gap},{gap},{gap},D65/2\nA,{gap},50,0,0,D65/2\n"
    read = read_supplier_palette(write(tmp_path, text))
    assert len(read.palette) == 2
    assert not read.faults
    path = write(tmp_path, HEAD + f"white,{gap},{gap},{gap},D65,2\n\nnavy,20,0,0,D65,2\n")
    found = read_readings(path)
    assert (len(found), found.empty) == (1, (2,))


def test_silent_mistakes_are_said(tmp_path):
    lab = "shade,hex,L*,a*,b*,light\nFog,,0.58,-0.04,-0.19,D65/2\nBrick,,0.45,0.38,0.25,D65/2\n"
    with pytest.raises(FileFormatError, match="multiply by 100") as caught:
        read_supplier_palette(write(tmp_path, lab))
    assert caught.value.line == 2
    digits = "shade,hex\nFog,778899\nInk,1122\nJet,1E+05\n"
    read = read_supplier_palette(write(tmp_path, digits))
    assert any("Digits alone were taken for hex codes: Fog" in note for note in read.notes)
    assert [fault.line for fault in read.faults] == [3, 4]
    assert all("shortened" in str(fault) for fault in read.faults)
    part = "shade,hex,L*,a*,b*,light\nFog,#778899,58,,-18,D65/2\n"
    read = read_supplier_palette(write(tmp_path, part))
    assert any("Lab lacks a*; hex is used" in note for note in read.notes)
    twins = read_supplier_palette(write(tmp_path, "shade,hex\nFog,#778899\nFog,#99aabb\n"))
    assert any("has the name of line 2" in note for note in twins.notes)
