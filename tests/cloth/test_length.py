"""Lengths are exact, say their unit and refuse what has none."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checkcloth import Length
from checkcloth.errors import LengthError


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("0.5 in", Fraction(127, 10)),
        ("1/2 in", Fraction(127, 10)),
        ('1/2"', Fraction(127, 10)),
        ("½ in".replace("½", ".5"), Fraction(127, 10)),
        ("1 1/2 in", Fraction(381, 10)),
        ("3/16 in", Fraction(47625, 10000)),
        ("7 mm", 7),
        ("7mm", 7),
        (" 1.5 CM ", 15),
        ("2 inches", Fraction(508, 10)),
        ("10 m", 10_000),
        ("1.5 m", 1500),
        ("0.001m", 1),
        ("1/3 m", Fraction(1000, 3)),
        ("1 1/2 metres", 1500),
        ("1 Metre", 1000),
    ],
)
def test_reads_every_unit_exactly(text, mm):
    """1 in = 25.4 mm exactly (international yard and pound agreement, 1959)."""
    assert Length(text).exact == mm


@pytest.mark.parametrize(
    ("text", "hint"),
    [
        ("0.5", "the unit is missing"),
        ("1/2", "the unit is missing"),
        ("0,5 in", "decimal with a point"),
        ("-1 in", "not negative"),
        ("1/0 in", "1/0 in"),
        ("1 1/0 in", "1 1/0 in"),
        ("five mm", "five mm"),
        ("3 ft", "3 ft"),
        ("3 mi", "3 mi"),
        ("3 M m", "3 M m"),
        ("10,5 m", "decimal with a point"),
        ("1e9 mm", "1e9 mm"),
        ("inf mm", "inf mm"),
        ("", "found ''"),
        ("9" * 100 + " mm", "999"),
        (12, "found 12"),
        (None, "found None"),
    ],
)
def test_says_what_is_wrong(text, hint):
    with pytest.raises(LengthError, match="length must be a length with its unit") as caught:
        Length(text)
    assert hint in str(caught.value)


@given(st.fractions(0, 10**6, max_denominator=10**6), st.sampled_from(["mm", "cm", "m", "in"]))
def test_text_reads_back_exactly(mm, unit):
    length = Length.of_mm(mm, unit)
    again = Length(length.text)
    assert again == length
    assert again.unit == unit


def test_a_long_fraction_reads_back():
    length = Length.of_mm(Fraction(200000000000, 208897), "in")
    assert Length(length.text) == length


@given(st.fractions(0, 1000, max_denominator=1000), st.integers(1, 1000))
def test_arithmetic_is_exact(mm, times):
    length = Length.of_mm(mm)
    assert (length * times) / times == length
    assert sum(times * [length], Length("0 mm")) == times * length
    assert length - length == Length("0 mm")
    if mm:
        assert (length * times) / length == times


def test_floats_stand_for_the_decimal_they_print_as():
    assert Length.of_mm(25.4) == Length("1 in")
    assert Length("1 in") * 0.1 == Length("2.54 mm")
    assert Length("0.5 in").mm == 12.7
    assert Length("127 mm").inches == 5
    assert Length("1 in").cm == 2.54


def test_orders_and_counts_alike_whatever_the_unit():
    assert Length("1 in") == Length("25.4 mm")
    assert len({Length("1 in"), Length("2.54 cm")}) == 1
    assert Length("1 in") < Length("26 mm")
    assert Length("1 in") != 25.4


@pytest.mark.parametrize("wrong", [float("nan"), float("inf"), -1])
def test_of_mm_refuses(wrong):
    with pytest.raises(LengthError):
        Length.of_mm(wrong)


def test_going_below_nothing_is_refused():
    with pytest.raises(LengthError, match="0 or more"):
        Length("1 mm") - Length("2 mm")
    with pytest.raises(LengthError, match="divisor must be"):
        Length("1 mm") / 0
    with pytest.raises(TypeError):
        Length("1 mm") + 2


def test_shows_inches_as_the_trade_writes_them():
    assert str(Length("0.1875 in")) == "3/16 in (4.7625 mm)"
    assert str(Length("7 mm")) == "7 mm (0.2756 in)"
    assert repr(Length("0.5 in")) == "Length('1/2 in')"


def test_cloth_by_the_metre_shows_as_metres():
    assert str(Length("1.5 m")) == "1.5 m (59.0551 in)"
    assert repr(Length("10 m")) == "Length('10 m')"
    assert Length("10 m").mm == 10_000
    assert Length("1 m") * 2.5 == Length("250 cm")
    assert (Length("1 m") + Length("1 in")).text == "5127/5000 m"


def test_unknown_units_name_the_known():
    with pytest.raises(LengthError, match="unit must be in, mm, cm or m, found 'ft'"):
        Length.of_mm(1, "ft")
    with pytest.raises(LengthError, match="unit must be in, mm, cm or m, found 'ft'"):
        Length("1 m").shown_in("ft")
