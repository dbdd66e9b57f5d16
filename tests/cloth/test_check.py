"""Repeat, bands, pixels and fit of an even check."""

from __future__ import annotations

from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from checkcloth import Check, Length
from checkcloth.errors import ArgumentError, LengthError

sizes = st.fractions(Fraction(1, 10), 1000, max_denominator=64).map(Length.of_mm)
checks = st.builds(Check, sizes, st.integers(1, 24))


@pytest.mark.parametrize(
    ("size", "stripes", "repeat"),
    [
        ("0.5 in", 2, "2 in"),
        ("0.5 in", 3, "3 in"),
        ("0.5 in", 6, "6 in"),
        ("3/16 in", 5, "1 7/8 in"),
        ("7 mm", 4, "56 mm"),
        ("7 mm", 1, "14 mm"),
    ],
)
def test_repeat(size, stripes, repeat):
    """Common practice, no source: 2 × check size × stripes, the ground not counted."""
    assert Check(size, stripes).repeat == Length(repeat)


def test_bands_alternate_with_the_ground():
    assert Check("1 cm", 3).plan().tolist() == [1, 0, 2, 0, 3, 0]
    assert Check("1 cm", 2).plan(2).tolist() == [1, 1, 0, 0, 2, 2, 0, 0]


@given(checks)
def test_areas_of_an_even_check(check):
    plan = check.plan()
    ground = (plan == 0).mean()
    assert ground == 0.5
    area = {
        "ground": ground * ground,
        "single": 2 * ground * (1 - ground),
        "crossing": (1 - ground) ** 2,
    }
    assert area == {"ground": 0.25, "single": 0.5, "crossing": 0.25}


@given(checks)
def test_the_ground_never_touches_a_crossing(check):
    """Edges are ground–single and single–crossing only, round the seam as well."""
    stripe = check.plan() > 0
    kind = stripe[:, None].astype(int) + stripe[None, :]
    for axis in (0, 1):
        assert (np.abs(kind - np.roll(kind, 1, axis)) == 1).all()


@given(checks, st.integers(1, 2400))
def test_whole_pixels_and_a_resolution_that_keeps_the_size(check, dpi):
    grid = check.grid(dpi)
    assert grid.pixels >= 1
    assert grid.pixels / grid.dpi == check.size / Length("1 in")
    assert grid.pixels == max(1, round(check.size / Length("1 in") * dpi))


def test_an_eighth_at_150_dpi():
    assert Check("1/8 in", 2).grid(150) == (19, 152)


@given(checks, sizes)
def test_across_gives_whole_repeats_and_the_rest(check, width):
    fit = check.across(width)
    assert check.repeat * fit.repeats + fit.left_over == width
    assert fit.left_over < check.repeat


def test_across_a_cloth_width():
    fit = Check("0.5 in", 3).across("44 in")
    assert (fit.repeats, fit.left_over) == (14, Length("2 in"))


@pytest.mark.parametrize("size", ["0 mm", "0.05 mm", "1001 mm", "40 in", "12", -1, None])
def test_sizes_out_of_range(size):
    with pytest.raises(LengthError, match=r"0\.1 mm|unit"):
        Check(size, 3)


@pytest.mark.parametrize("stripes", [0, -1, 25, 2.0, True, "3", None, float("nan")])
def test_stripe_counts_out_of_range(stripes):
    with pytest.raises(ArgumentError, match="stripes must be a whole number from 1 to 24"):
        Check("1 cm", stripes)


@pytest.mark.parametrize("dpi", [0, 0.5, -300, 9601, float("nan"), float("inf"), "many", True])
def test_resolutions_out_of_range(dpi):
    with pytest.raises(ArgumentError, match="dpi must be from 1 to 9600"):
        Check("1 cm", 3).grid(dpi)


def test_frozen_and_short_in_print():
    check = Check("0.5 in", 3)
    with pytest.raises(AttributeError):
        check.stripes = 4
    assert repr(check) == "Check('1/2 in', 3)"
    assert eval(repr(check)) == check
    assert check.with_size("1 cm") == Check("1 cm", 3)
