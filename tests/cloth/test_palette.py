"""Palettes: named colours, each name once; files that name the line of every fault."""

from __future__ import annotations

import os
import string

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from checkcloth import NamedColour, Palette, read_palette, write_palette
from checkcloth.cloth.palette import palette_csv, parse_palette_csv
from checkcloth.errors import ArgumentError, ColourError, ExistsError, FileFormatError

channels = st.floats(0, 1)
printable = st.text(
    st.characters(exclude_categories=["Cc", "Cs", "Cn"]), min_size=1, max_size=40
).filter(lambda text: text.strip())
colours = st.builds(
    NamedColour,
    printable,
    st.tuples(channels, channels, channels),
    st.sampled_from(["", "ground", "stripe"]),
    st.text(string.printable[:95], max_size=30),
)
palettes = st.lists(colours, min_size=1, max_size=8, unique_by=lambda c: c.name).map(
    lambda members: Palette("drawn", members)
)


@given(palettes)
@settings(deadline=None)
def test_write_then_read_is_the_identity(palette):
    assert parse_palette_csv(palette_csv(palette), "drawn") == palette


def test_a_file_there_and_back(tmp_path):
    palette = Palette(
        "bay",
        [
            NamedColour.of("oklch(62% 0.15 30)", "Brick, wet"),
            NamedColour("=cmd|' /C calc'!A0", (0.1, 0.2, 0.3), "ground", "-note"),
            NamedColour.of("rebeccapurple", "紫 🧺"),
            NamedColour.of("navy", "'quoted"),
            NamedColour.of("teal", "x" * 300),
            NamedColour.of("gold", "<script>alert(1)</script>"),
            NamedColour.of("tan", "../../etc"),
        ],
    )
    file = write_palette(palette, tmp_path / "bay.csv")
    assert read_palette(file) == palette
    raw = file.read_text("utf-8")
    assert not any(cell.startswith("=") for line in raw.splitlines() for cell in line.split(","))
    with pytest.raises(ExistsError):
        write_palette(palette, file)
    assert os.listdir(tmp_path) == ["bay.csv"]


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "at least one colour, found an empty file"),
        ("name,colour\n", "at least one colour, found none"),
        ("name,hex\nA,#fff\n", "line 1: header must be name,colour"),
        (
            "name,colour,colour\nA,#fff,#000\n",
            "line 1: header must be one that names each column once",
        ),
        ("name,colour\nA,#fff\n\nB,#12345\n", "line 4: colour must be a CSS Color 4"),
        ("name,colour\nA,rgb(0 0 0 / 50%)\n", "line 2: colour must be opaque"),
        ("name,colour\nA,\n", "line 2: colour must be"),
        ("name,colour\n,#fff\n", "line 2: name must be"),
        ("name,colour\nA,#fff\nB,#000\nA,#111\n", "found 'A', already on line 2"),
        ("name,colour,role\nA,#fff,warp\n", "line 2: role must be ground, stripe or empty"),
        ("name,colour\nA,rgb(1,2,3)\n", "line 2: row must be at most 2 cells"),
        ('name,colour\n"A,#fff\n', "must be CSV"),
        ("name,colour\nA\x07B,#fff\n", "line 2: name must be one line without control"),
    ],
)
def test_faults_name_the_line(text, said):
    with pytest.raises(FileFormatError) as caught:
        parse_palette_csv(text, "p", "p.csv")
    assert said in str(caught.value)
    assert str(caught.value).startswith("p.csv")


def test_what_is_let_through():
    text = "\ufeffColour,Name\r\n\r\n#fff , Lime Wash \r\n"
    for found in (text, text.replace(",", ";"), text.replace(",", "\t")):  # as spreadsheets save
        (colour,) = parse_palette_csv(found, "p").colours
        assert (colour.name, colour.hex) == ("Lime Wash", "#ffffff")


def test_a_large_file_is_refused(tmp_path):
    file = tmp_path / "big.csv"
    file.write_bytes(b"name,colour\n" + b"#" * (1 << 20))
    with pytest.raises(FileFormatError, match=r"big\.csv: .*must be at most 1048576 bytes"):
        read_palette(file)


def test_a_missing_file_is_said_by_the_system(tmp_path):
    with pytest.raises(FileNotFoundError):
        read_palette(tmp_path / "none.csv")


def test_roles_choose_grounds_and_stripes():
    palette = parse_palette_csv("name,colour,role\nA,#fff,ground\nB,#000,\nC,#111,stripe\n", "p")
    assert [c.name for c in palette.grounds] == ["A"]
    assert [c.name for c in palette.stripes] == ["B", "C"]
    plain = Palette("p", ["navy", "teal"])
    assert plain.grounds == plain.stripes == plain.colours


def test_faults_of_a_palette():
    with pytest.raises(ArgumentError, match="at least one colour"):
        Palette("p", [])
    with pytest.raises(ArgumentError, match="found 'navy' twice"):
        Palette("p", ["navy", "navy"])
    with pytest.raises(ColourError, match="found 'nosuch'"):
        Palette("p", ["nosuch"])
    with pytest.raises(ArgumentError, match="name must be one of navy, teal, found 'pink'"):
        Palette("p", ["navy", "teal"])["pink"]


@pytest.mark.parametrize("rgb", [(0, 0), (0, 0, 2), (float("nan"), 0, 0), "red", None])
def test_faults_of_a_colour(rgb):
    with pytest.raises(ArgumentError, match="rgb must"):
        NamedColour("A", rgb)


def test_shown_safely():
    palette = Palette("<i>p</i>", [NamedColour.of("navy", "<img src=x onerror=alert(1)>")])
    html = palette._repr_html_()
    assert "<img src=x" not in html
    assert "&lt;img src=x" in html
    assert '<img alt="' in html
    assert "\n" not in repr(palette)
