"""Variants: every distinct order once, draws that never repeat, seeds that hold."""

from __future__ import annotations

from itertools import permutations
from math import comb

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from checkcloth import (
    Check,
    Colourway,
    Palette,
    draw_colourways,
    each_ground,
    each_order,
    each_strength,
    order_count,
    stripe_orders,
)
from checkcloth.errors import ArgumentError

# OEIS A001710 from its third term on: (n−1)!/2 for n = 3 … 9; 1 for n = 1 and 2.
A001710 = {1: 1, 2: 1, 3: 1, 4: 3, 5: 12, 6: 60, 7: 360, 8: 2520, 9: 20160}


def ring(row):
    turns = [row[k:] + row[:k] for k in range(len(row))]
    return min(turns + [turn[::-1] for turn in turns])


@pytest.mark.parametrize(("stripes", "count"), A001710.items())
def test_order_count(stripes, count):
    assert order_count(stripes) == count


@pytest.mark.parametrize("stripes", range(1, 8))
def test_each_distinct_order_once(stripes):
    orders = list(stripe_orders(stripes))
    assert len(orders) == A001710[stripes]
    found = {ring(order) for order in orders}
    assert found == {ring(order) for order in permutations(range(stripes))}
    assert len(found) == len(orders)


PALETTE = Palette("p", ["white", "navy", "teal", "gold", "coral", "orchid"])


def key(colourway):
    return colourway.ground.rgb, ring(tuple(s.rgb for s in colourway.stripes)), colourway.strength


@given(st.integers(1, 4), st.integers(1, 60), st.integers(0, 2**40))
@settings(deadline=None, max_examples=40)
def test_draws(stripes, count, seed):
    drawn = draw_colourways(PALETTE, stripes, count, seed=seed, strength=(0.3, 0.7))
    assert drawn == draw_colourways(PALETTE, stripes, count, seed=seed, strength=(0.3, 0.7))
    assert len({key(c) for c in drawn}) == len(drawn) <= count
    for colourway in drawn:
        used = [colourway.ground.rgb, *(s.rgb for s in colourway.stripes)]
        assert len(set(used)) == stripes + 1
        assert 0.3 <= colourway.strength <= 0.7


def test_a_small_palette_is_drawn_empty():
    """Every colour on one ground: C(5, k) choices, each in its distinct orders."""
    for stripes in (1, 2, 3, 4):
        drawn = draw_colourways(PALETTE, stripes, 10_000, ground="white")
        assert len(drawn) == comb(5, stripes) * A001710[stripes]


def test_what_stays_is_in_every_draw():
    drawn = draw_colourways(PALETTE, 3, 20, stays=[None, "navy"], ground="white")
    assert drawn
    assert draw_colourways(PALETTE, 3, 20, locked=[None, "navy"], ground="white") == drawn
    assert {c.stripes[1].name for c in drawn} == {"navy"}
    assert {c.ground.name for c in drawn} == {"white"}
    assert all(len({s.name for s in c.stripes}) == 3 for c in drawn)


def test_other_variants():
    base = Colourway("white", ["navy", "teal", "gold", "coral"])
    assert len(each_order(base)) == 3
    assert len(each_order(base, limit=2)) == 2
    assert [c.ground.name for c in each_ground(base, PALETTE)] == [c.name for c in PALETTE]
    assert [c.strength for c in each_strength(base, [0, 0.5, 1])] == [0, 0.5, 1]


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"stripes": 6}, "stripes must be at most 5 with palette 'p'"),
        ({"stripes": 0}, "stripes must be a whole number from 1 to 24"),
        ({"count": 0}, "count must be a whole number from 1 to 10000"),
        ({"seed": -1}, "seed must be a whole number"),
        ({"strength": 1.5}, "strength must be"),
        ({"strength": (0.7, 0.3)}, "strength must be from 0.7 to 1"),
        ({"strength": float("nan")}, "strength must be"),
        ({"mixing": "magic"}, "mixing must be one of"),
        ({"stays": ["navy"] * 4}, "stays must be at most 3 stripes"),
        ({"stays": ["navy"], "locked": ["teal"]}, "locked must be left out where stays is given"),
    ],
)
def test_faults(changes, said):
    with pytest.raises(ArgumentError) as caught:
        draw_colourways(PALETTE, **({"stripes": 3, "count": 5} | changes))
    assert said in str(caught.value)


@pytest.mark.parametrize(
    ("check", "all_there_are"),
    [(None, 10), (Check("1 cm", 2, warp="graduated", weft_stripes=3), 20)],
)
def test_wefts_of_their_own_are_drawn_each_cloth_once(check, all_there_are):
    """Two of five for the warp, the other three for the weft: 10 choices, each one cloth.

    Uneven bands of two stripes tell their two orders apart. No two draws give one picture,
    however warp and weft are shifted or turned, each by itself.
    """
    drawn = draw_colourways(PALETTE, 2, 300, weft=3, check=check, ground="white", seed=3)
    assert drawn == draw_colourways(PALETTE, 2, 300, weft=3, check=check, ground="white", seed=3)
    laid = check or Check("1 cm", 2, weft_stripes=3)
    seen = set()
    for one in drawn:
        assert len({c.rgb for c in one.weft_stripes} - {one.ground.rgb}) == 3
        warp, weft = (
            _least_turn([(row[band.stripe - 1].rgb if band.stripe else one.ground.rgb, band.checks)
                         for band in bands])
            for row, bands in ((one.stripes, laid.warp_bands), (one.weft_stripes, laid.weft_bands))
        )  # fmt: skip
        seen.add((warp, weft))
    assert len(seen) == len(drawn) == all_there_are


def _least_turn(bands):
    turned = [(way[k:] + way[:k]) for way in (bands, bands[::-1]) for k in range(len(bands))]
    return tuple(min(turned))


def test_a_weft_takes_what_the_warp_has_not_as_far_as_there_is_such():
    six = Palette("six", ["white", "navy", "teal", "gold", "coral", "plum"])
    for one in draw_colourways(six, 2, 50, weft=3, ground="white"):
        assert not set(one.stripes) & set(one.weft_stripes)
    for one in draw_colourways(six, 4, 50, weft=3, ground="white"):
        assert len(set(one.stripes) & set(one.weft_stripes)) == 2
    assert draw_colourways(six, 3, 20) == draw_colourways(six, 3, 20, weft=0)


@pytest.mark.parametrize(
    ("fields", "argument"),
    [
        ({"weft": -1}, "weft"),
        ({"weft": 25}, "weft"),
        ({"weft": 6}, "weft"),
        ({"weft": 2, "check": Check("1 cm", 2, weft_stripes=3)}, "check"),
    ],
)
def test_wefts_that_cannot_be_drawn_are_refused(fields, argument):
    six = Palette("six", ["white", "navy", "teal", "gold", "coral", "plum"])
    with pytest.raises(ArgumentError) as caught:
        draw_colourways(six, 2, 5, ground="white", **fields)
    assert caught.value.argument == argument
