"""Colours out of pasted text: mails, tables, lists; prose passed over, broken codes said."""

from __future__ import annotations

from pathlib import Path

import pytest
from coloraide import Color
from hypothesis import given
from hypothesis import strategies as st

from checkcloth.errors import ArgumentError
from checkcloth.ideas.pasted import colours_in_text

MAIL = """Dear all,

here are the eight for the spring linen, as promised in room 101202-b:

 1. Peach Skin    #F2B084
 2. Cowslip Green: a9ca7e
 - Sea Holly Mist = rgb(158 170 228)
 - oklch(85% 0.09 95) – Primrose Bank
Duck Egg;#90c8bf;Faded Violet;#c0a0d6
\tIcing\t#fffaf0
crème caramel #c89a64, without fail
lavender

Kind regards
"""


def listed(text):
    return [(colour.name, colour.hex) for colour in colours_in_text(text).colours]


def test_a_mail_gives_its_colours_and_their_names():
    assert listed(MAIL) == [
        ("Peach Skin", "#f2b084"),
        ("Cowslip Green", "#a9ca7e"),
        ("Sea Holly Mist", "#9eaae4"),
        ("Primrose Bank", Color("oklch(85% 0.09 95)").convert("srgb").to_string(hex=True)),
        ("Duck Egg", "#90c8bf"),
        ("Faded Violet", "#c0a0d6"),
        ("Icing", "#fffaf0"),
        ("crème caramel", "#c89a64"),
        ("lavender", "#e6e6fa"),
    ]
    assert colours_in_text(MAIL).left_out == ()


@pytest.mark.parametrize(
    ("text", "names"),
    [
        ("#ff0000", ["red"]),
        ("#ff0000 #00f", ["red", "blue"]),
        ("#ff0000 Poppy, #0000ff Cornflower", ["Poppy", "Cornflower"]),
        ("Poppy #ff0000, Cornflower #0000ff", ["Poppy", "Cornflower"]),
        ("name,colour,role\nPoppy,#ff0000,stripe", ["Poppy"]),
        ("teal; gold, navy", ["teal", "gold", "navy"]),
        ("Poppy #ff0000\nPoppy #fe0000", ["Poppy", "Poppy 2"]),
        ("Poppy #ff0000\n#ff0000", ["Poppy"]),
        ("008080", ["teal"]),
        ("and for the cloth itself: linen #fbf8f1", ["linen"]),
        ("and a sky blue rgb(184, 214, 238)", ["sky blue"]),
        ("Andes #ff0000, and Sand #0000ff, and #008080", ["Andes", "Sand", "teal"]),
        ("Yarns: Poppy #ff0000, Cornflower #0000ff", ["Poppy", "Cornflower"]),
        ("Poppy: hex #ff0000", ["Poppy"]),
        ("#ff0000 Poppy: for the hem", ["Poppy: for the hem"]),
    ],
)
def test_names_stand_before_or_after_their_codes(text, names):
    assert [name for name, _ in listed(text)] == names


@pytest.mark.parametrize(
    "prose",
    ["the facade of the decade", "call 01234 567890", "a red and gold one, please", "", "—"],
)
def test_prose_is_passed_over(prose):
    found = colours_in_text(prose)
    assert found.colours == () == found.left_out


def test_three_numbers_of_255_are_a_colour_as_graphics_programs_write_them():
    # 8-bit sRGB channels in brackets, or after RGB: common practice, no source.
    found = colours_in_text(
        "lilac (217, 196,232)\nRGB 10 20 30 Ink\nmoss: RGB: 90/120/60.\nHalt (12, 13)\n"
        "rgb 1 2 3 4\ntelephone (555, 134, 12)\nf(1, 2, 3)\n"
    )
    assert [str(one) for one in found.colours] == ["lilac #d9c4e8", "Ink #0a141e", "moss #5a783c"]
    assert [(one.line, one.text) for one in found.left_out] == [(6, "(555, 134, 12)")]


@pytest.mark.parametrize("code", ["#12345", "#ggg", "rgb(1 2", "oklch(x)", "#ff000080"])
def test_a_broken_code_is_left_out_with_its_line_and_the_rest_is_read(code):
    found = colours_in_text(f"navy\nPoppy {code}\nteal")
    assert [colour.name for colour in found.colours] == ["navy", "teal"]
    (left,) = found.left_out
    assert (left.line, left.text) == (2, code)
    assert left.why.startswith("must be ")


@pytest.mark.parametrize(
    ("text", "left"),
    [
        ("navy\ntael\ngold", [(2, "tael", "teal")]),
        ("navy, tael, gold", [(1, "tael", "teal")]),
        ("- Lavendar\n- plum", [(1, "Lavendar", "lavender")]),
        ("Duck Egg;#90c8bf\n\nturqoise", [(3, "turqoise", "turquoise")]),
        ("fuschia | olive", [(1, "fuschia", "fuchsia")]),
        ("oragne\nnavvy\ncoral", [(2, "navvy", "navy")]),  # the first stands beside no colour
    ],
)
def test_a_misspelt_colour_among_colours_is_said(text, left):
    found = colours_in_text(text).left_out
    assert [(part.line, part.text) for part in found] == [(line, word) for line, word, _ in left]
    for part, (_, _, meant) in zip(found, left, strict=True):
        assert part.why == f"must be a colour; is {meant} meant?"


@pytest.mark.parametrize(
    "prose",
    [
        "gold\n\nThanks,\nAmos", "navy, please", "Greys\ngrey\nsilver",
        "Good, then: line, cord, rod",
        "the hem, line, and so on\nteal", "teal\nfor the hem, line", "navy, two, ten, one, red",
        "bread, oranges, gold", "red\nrad", "1. navy\n2. tbc\n3. teal",
    ],
)  # fmt: skip
def test_ordinary_words_beside_colours_are_passed_over(prose):
    assert colours_in_text(prose).left_out == ()


@pytest.mark.parametrize("name", ["README.md", "DEVELOPERS.md", "kit/LICENSE", "kit/CHANGELOG.md"])
def test_texts_of_some_thousand_words_raise_no_false_alarm(name):
    text = (Path(__file__).parents[2] / name).read_text(encoding="utf-8")
    assert [part for part in colours_in_text(text).left_out if "meant?" in part.why] == []


def test_many_words_beside_colours_are_no_burden():
    """A line of other words is no list of colours, however long; lists are at most 500 long."""
    found = colours_in_text("navy," + "tael," * 30_000)
    assert (len(found.colours), found.left_out) == (1, ())


@given(st.text(max_size=300))
def test_any_text_is_read_without_a_fault(text):
    found = colours_in_text(text)
    names = [colour.name for colour in found.colours]
    assert len(set(names)) == len(names)


@given(st.lists(st.tuples(*[st.integers(0, 255)] * 3), min_size=1, max_size=12, unique=True))
def test_every_code_comes_back_exactly_in_order(colours):
    text = "\n".join("colour of mine #{:02x}{:02x}{:02x}".format(*rgb) for rgb in colours)
    wanted = ["#{:02x}{:02x}{:02x}".format(*rgb) for rgb in colours]
    assert [code for _, code in listed(text)] == wanted


def test_what_is_no_text_or_too_much_is_refused():
    with pytest.raises(ArgumentError, match="text must be a str"):
        colours_in_text(b"#fff")
    with pytest.raises(ArgumentError, match="at most 200000 characters"):
        colours_in_text("x" * 200_001)
    with pytest.raises(ArgumentError, match="at most 500 colours"):
        colours_in_text("\n".join(f"#{n:06x}" for n in range(600)))
