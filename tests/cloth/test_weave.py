"""Plain-weave shares, the distance at which checks fuse, and mixings side by side."""

from __future__ import annotations

import math
from fractions import Fraction
from html.parser import HTMLParser

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from checkcloth import MIXINGS, Colourway, Length
from checkcloth.cloth.check import arc_minutes, fusing_distance
from checkcloth.cloth.named_colour import NamedColour
from checkcloth.cloth.threads import check_weave_shares, plain_weave, plain_weave_share
from checkcloth.colour.ciede2000 import delta_e_2000
from checkcloth.colour.spaces import srgb_to_lab
from checkcloth.errors import ArgumentError, CheckclothError, LengthError
from checkcloth.lesson.compare import compare_mixings

# -- the weave -----------------------------------------------------------------------------------


def test_published_shares(gold):
    for row in gold("plain_weave"):
        assert (
            plain_weave_share(int(row["threads"]))
            == Fraction(str(row["share"])).limit_denominator()
        )


@given(st.integers(1, 60), st.integers(1, 60))
def test_share_is_what_the_weave_shows(ends, picks):
    up = plain_weave(ends, picks)
    assert up.shape == (picks, ends)
    assert plain_weave_share(ends, picks) == Fraction(int(up.sum()), ends * picks)
    # Every thread goes over one and under the next.
    assert (up[1:] != up[:-1]).all()
    assert (up[:, 1:] != up[:, :-1]).all()


@given(st.integers(1, 100_000))
def test_even_counts_balance_and_odd_ones_miss_by_half_a_crossing(ends):
    share = plain_weave_share(ends)
    if ends % 2 == 0:
        assert share == Fraction(1, 2)
    else:
        assert share - Fraction(1, 2) == Fraction(1, 2 * ends * ends)


@pytest.mark.parametrize("stripes", [1, 2, 3])
@given(ends=st.integers(1, 24))
def test_shares_of_a_check_are_those_counted_in_the_drawn_weave(stripes, ends):
    """Every cell of two repeats, counted thread by thread: all of a kind are alike."""
    bands = 4 * stripes  # stripe, ground, stripe ... over two repeats
    weave = plain_weave(bands * ends)
    shares = check_weave_shares(ends)
    for across in range(bands):
        for up in range(bands):
            cell = weave[up * ends : (up + 1) * ends, across * ends : (across + 1) * ends]
            kind = ("ground", "single", "crossing")[(across % 2 == 0) + (up % 2 == 0)]
            assert getattr(shares, kind) == Fraction(int(cell.sum()), ends * ends)


@given(st.integers(0, 1000))
def test_odd_counts_leave_warp_stripes_paler_than_weft_stripes(half):
    """A warp single shows its stripe on the warp's share, a weft single on the rest."""
    n = 2 * half + 1
    shares = check_weave_shares(n)
    assert shares.crossing == shares.ground == Fraction(n * n + 1, 2 * n * n)
    assert shares.single == Fraction(n * n - 1, 2 * n * n) < 1 - shares.single
    assert set(check_weave_shares(n + 1)) == {Fraction(1, 2)}


@pytest.mark.parametrize("bad", [0, -2, 2.5, "3", True, None, 100_001])
def test_bad_counts_are_named(bad):
    with pytest.raises(ArgumentError, match=r"ends must be a whole number from 1 to 100000"):
        plain_weave_share(bad)
    with pytest.raises(ArgumentError, match=r"ends must be a whole number from 1 to 100000"):
        check_weave_shares(bad)
    if bad is not None:
        with pytest.raises(ArgumentError, match="picks must be a whole number"):
            plain_weave_share(2, bad)


# -- distance ------------------------------------------------------------------------------------


def test_one_minute_of_arc():
    """1′ is 1/3437.75 of the distance (trigonometry); 6/6 sight resolves it (rule of thumb)."""
    assert fusing_distance("1 mm").mm == pytest.approx(1 / math.tan(math.radians(1 / 60)), rel=1e-6)
    assert fusing_distance("1 in").mm / 1000 == pytest.approx(87.3, abs=0.05)
    assert fusing_distance("1/16 in").mm / 1000 == pytest.approx(5.46, abs=0.01)
    assert arc_minutes("1 mm", Length("3437.75 mm")) == pytest.approx(1, abs=1e-4)


@given(st.floats(0.1, 1000), st.floats(0.1, 60))
def test_size_and_distance_undo_each_other(size, minutes):
    near = Length.of_mm(size)
    far = fusing_distance(near, minutes)
    assert arc_minutes(near, far) == pytest.approx(minutes, rel=1e-3)


@pytest.mark.parametrize(
    ("call", "said"),
    [
        (lambda: fusing_distance("5"), "the unit is missing"),
        (lambda: fusing_distance("0 mm"), "size must be above 0"),
        (lambda: fusing_distance("1 mm", 0), "minutes must be from 0.1 to 60, found 0"),
        (lambda: fusing_distance("1 mm", float("nan")), "minutes must be from 0.1 to 60"),
        (lambda: arc_minutes("1 mm", "0 mm"), "distance must be above 0"),
        (lambda: arc_minutes("1 mm", "999999999 mm"), "distance must be above 0 and up to 100 km"),
        (lambda: arc_minutes("-1 mm", "1 cm"), "a length is not negative|a length with"),
        (lambda: arc_minutes(5, "1 cm"), "length must be"),
    ],
)
def test_bad_distances_are_named(call, said):
    with pytest.raises((LengthError, ArgumentError), match=said):
        call()


# -- mixings side by side ------------------------------------------------------------------------

CLOTH = Colourway("white", ["gold", "royalblue", "#c0392b"], 0.6, name="Halt 3")


def test_numbers_are_those_of_the_colourways():
    table = compare_mixings(CLOTH)
    assert table.mixings == MIXINGS
    assert table.tones.shape == (6, 4, 4, 3)
    assert table.differences.shape == (6, 6, 3, 3)
    for k, one in enumerate(MIXINGS):
        lab_one = srgb_to_lab(CLOTH.with_(mixing=one).tones[1:, 1:])
        for m, two in enumerate(MIXINGS):
            lab_two = srgb_to_lab(CLOTH.with_(mixing=two).tones[1:, 1:])
            wanted = delta_e_2000(lab_one, lab_two)
            assert table.differences[k, m] == pytest.approx(wanted)
            assert table.mean[k, m] == pytest.approx(wanted.mean())
            assert table.largest[k, m] == pytest.approx(wanted.max())
    assert np.diag(table.mean) == pytest.approx(0)
    assert len(table.crossings()) == 9
    assert table.crossings()[1][0] == "gold over royalblue"


def test_table_as_text_and_as_html():
    table = compare_mixings(CLOTH, ["source-over", "pigment"])
    assert str(table) == "gold, royalblue, #c0392b on white, 60 %, under 2 mixings"
    lines = table.text().splitlines()
    assert len(lines) == 3
    assert "pigment (estimate)" in lines[0]
    assert lines[1].split()[1] == "0.0"
    html = table._repr_html_()
    # An empty corner and two mixings over each table; a heading for every row.
    assert html.count("<th ") == 2 * (1 + 2) + 9 + 2
    assert "pigment (estimate)" in html


def test_names_are_escaped():
    nasty = NamedColour("<script>alert(1)</script>", (0.1, 0.2, 0.3))
    html = compare_mixings(Colourway("white", [nasty]))._repr_html_()
    found = []
    parser = HTMLParser()
    parser.handle_starttag = lambda tag, attrs: found.append(tag)
    parser.feed(html)
    assert "script" not in found
    assert "&lt;script&gt;" in html


@pytest.mark.parametrize(
    ("mixings", "said"),
    [
        (["woven"], "mixings must be two or more, found 1"),
        ("woven", "mixings must be two or more, found 1"),
        ([], "found 0"),
        (["woven", "plain"], "mixing must be one of"),
    ],
)
def test_bad_choices_are_named(mixings, said):
    with pytest.raises(CheckclothError, match=said):
        compare_mixings(CLOTH, mixings)
