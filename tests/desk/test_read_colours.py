"""Colours come out of pasted text, CSV, design tokens and pictures; what is wrong is said."""

from __future__ import annotations

import io
import json

import numpy as np
import pytest
from PIL import Image

from checkcloth import Palette
from checkcloth.colour.css import parse_css
from checkcloth.desk.answers.read_colours import (
    colour_rows,
    colours_of_rows,
    read_colour_file,
    read_colours,
)
from checkcloth.errors import CheckclothError, FileFormatError
from checkcloth.export.data.tokens import palette_tokens

MAIL = """Good morning, for the tea rooms we thought of
1. Peach Skin #f2b084
2. Icing: #fffaf0 (the ground)
Cowslip Green\ta9ca7e
rgb(200 180 220) Lilac
"""


def png(*colours):
    pixels = np.repeat(np.array(colours, dtype=np.uint8)[None], 40, axis=0).repeat(40, axis=1)
    stream = io.BytesIO()
    Image.fromarray(pixels).save(stream, "PNG")
    return stream.getvalue()


def test_a_mail_with_codes_gives_names_and_colours():
    found = read_colours(MAIL)
    assert [(c.name, c.hex) for c in found.colours] == [
        ("Peach Skin", "#f2b084"), ("Icing", "#fffaf0"), ("Cowslip Green", "#a9ca7e"),
        ("Lilac", "#c8b4dc"),
    ]  # fmt: skip


def test_a_csv_keeps_roles_and_notes_and_leaves_out_only_what_is_wrong():
    text = (
        "name,colour,role,note\nIcing,#fffaf0,ground,all round\nPeach,peachy,,\n"
        "Icing,#ffffff,,\nNight,oklch(30% 0.05 260),stripe,\nHay,gold,roof,\n"
    )
    found = read_colours(text, "old-client.csv")
    assert [(c.name, c.role, c.note) for c in found.colours] == [
        ("Icing", "ground", "all round"), ("Night", "stripe", ""),
    ]  # fmt: skip
    assert [one.line for one in found.left_out] == [3, 4, 6]
    assert found.colours[1].text == "oklch(30% 0.05 260)"
    with pytest.raises(FileFormatError):
        read_colours("name,colour\nPeach,peachy\n")
    with pytest.raises(FileFormatError):
        read_colours("name,colour,price\nPeach,#fff,3\n")


def test_a_token_file_gives_its_colours():
    """Format: Design Tokens Format Module 2025.10, of the W3C community group."""
    tokens = {"tea": {"$type": "color", "icing": {"$value": {
        "colorSpace": "srgb", "components": [1, 0.5, 0]}}}}  # fmt: skip
    (colour,) = read_colours(json.dumps(tokens)).colours
    assert (colour.name, colour.rgb) == ("icing", (1, 0.5, 0))
    palette = Palette("coast", ["navy", "teal"])
    found = read_colour_file(palette_tokens(palette).encode(), "coast.tokens.json")
    assert found.colours == palette.colours


def test_a_picture_gives_its_colours_the_largest_first():
    found = read_colour_file(png((10, 20, 120), (10, 20, 120), (240, 230, 200)), "sea.png", 6)
    assert [c.hex for c in found.colours] == ["#0a1478", "#f0e6c8"]
    plain = b"P3 2 1 255 10 20 120 240 230 200\n"
    assert {c.hex for c in read_colour_file(plain, "sea.ppm").colours} == {"#0a1478", "#f0e6c8"}


@pytest.mark.parametrize(
    ("raw", "name"),
    [
        (b"name,colour\nCaf\xe9,#fff\n", "cafe.csv"),
        (b"\x89PNG\r\n\x1a\n\0\0", "sea.png"),
        (b"\xff\xfe\0\0", "sea.jpg"),
        (b"{}", "empty.json"),
        (b'{"a": ', "broken.json"),
    ],
)
def test_a_file_that_is_none_is_refused_by_its_name(raw, name):
    with pytest.raises(FileFormatError, match=name):
        read_colour_file(raw, name)


def test_rows_of_the_page_go_back_and_forth_exactly():
    colours = read_colours(
        "name,colour,role,note\nA,oklch(70% 0.1 30),ground,x\nB,navy,,\n"
    ).colours
    rows = [[name, css, role, note] for name, _, css, role, note in colour_rows(colours)]
    assert colours_of_rows(rows) == colours
    made = colours_of_rows([["", "#000080"], ["navy", "navy"], ["x", "teal"]])
    assert [colour.name for colour in made] == ["navy", "navy 2", "x"]
    assert made[2].rgb == parse_css("teal")


@pytest.mark.parametrize(
    "rows",
    [None, [], "navy", [["a"]], [["a", 3]], [["a", "nvy"]], ["ab"], [["a", "navy", "roof"]],
     [["a\n", "navy", "", "", ""]], [["a\x07b", "navy"]]],
)  # fmt: skip
def test_bad_rows_are_refused(rows):
    with pytest.raises(CheckclothError):
        colours_of_rows(rows)


def test_a_text_saved_as_utf_16_is_read():
    """As Windows' own editor saves "Unicode"; seen failing: it was said to be no picture."""
    for encoding in ("utf-16", "utf-16-be"):
        mark = "\ufeff" if encoding.endswith("be") else ""
        raw = (mark + "Peach Skin: #f2b084\r\n").encode(encoding)
        (colour,) = read_colour_file(raw, "mail.txt").colours
        assert str(colour) == "Peach Skin #f2b084"
    with pytest.raises(CheckclothError):
        read_colour_file(b"\xff\xfe\x00", "mail.txt")
