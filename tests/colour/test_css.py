"""Colour texts: CSS Color 4's names, and what is refused."""

from __future__ import annotations

import pytest
from coloraide import Color
from matplotlib.colors import CSS4_COLORS

from checkcloth.colour.css import css_names, hex_of, nearest_css_name, parse_css
from checkcloth.errors import ColourError


def test_the_148_named_colours():
    """matplotlib's table agrees with CSS Color 4 on all 148."""
    assert len(css_names()) == 148
    assert {name: hex_of(rgb) for name, rgb in css_names().items()} == {
        name: value.lower() for name, value in CSS4_COLORS.items()
    }


@pytest.mark.parametrize(
    ("name", "standard", "coloraides"),
    [("mediumpurple", "#9370db", "#9370d8"), ("palevioletred", "#db7093", "#d87093")],
)
def test_two_names_that_coloraide_has_otherwise(name, standard, coloraides):
    """Trap: the kit gives the standard's. Once coloraide does too, the repair can go."""
    assert hex_of(parse_css(name)) == standard
    assert hex_of(parse_css(name.upper())) == standard
    assert Color(name).convert("srgb").to_string(hex=True) in (coloraides, standard)


def test_colours_outside_srgb_are_mapped_at_constant_lightness_and_hue():
    vivid = Color("oklch(62% 0.4 30)")
    mapped = Color("srgb", parse_css("oklch(62% 0.4 30)")).convert("oklch")
    assert mapped["lightness"] == pytest.approx(vivid["lightness"], abs=0.02)
    assert mapped["hue"] == pytest.approx(30, abs=3)
    assert mapped["chroma"] < vivid["chroma"]


def test_nearest_name():
    for name in ("teal", "navy", "gold"):
        assert nearest_css_name(parse_css(name)) == name


@pytest.mark.parametrize(
    "text",
    ["", "  ", "notacolour", "#12345", "rgb(1 2)", "#ff000080", "transparent", "red" * 100,
     "color(srgb none none none / 0)", None, 7, ("red",)],
)  # fmt: skip
def test_what_is_no_opaque_colour_is_refused(text):
    with pytest.raises(ColourError, match="found"):
        parse_css(text)


def test_six_hex_digits_are_what_coloraide_reads():
    for step in range(256):
        text = f"#{step:02x}{255 - step:02X}{step * 7 % 256:02x}"
        assert parse_css(text) == tuple(Color(text).coords())
