"""Colours out of pasted text: mails, tables, lists; prose passed over, broken codes said."""

from __future__ import annotations

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


@pytest.mark.parametrize("code", ["#12345", "#ggg", "rgb(1 2", "oklch(x)", "#ff000080"])
def test_a_broken_code_is_left_out_with_its_line_and_the_rest_is_read(code):
    found = colours_in_text(f"navy\nPoppy {code}\nteal")
    assert [colour.name for colour in found.colours] == ["navy", "teal"]
    (left,) = found.left_out
    assert (left.line, left.text) == (2, code)
    assert left.why.startswith("must be ")


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
