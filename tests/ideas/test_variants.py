"""Variants: every distinct order once, draws that never repeat, seeds that hold."""

from __future__ import annotations

from itertools import permutations
from math import comb

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from checkcloth import (
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


def test_locked_stripes_stay():
    drawn = draw_colourways(PALETTE, 3, 20, locked=[None, "navy"], ground="white")
    assert drawn
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
        ({"locked": ["navy"] * 4}, "locked must be at most 3 stripes"),
    ],
)
def test_faults(changes, said):
    with pytest.raises(ArgumentError) as caught:
        draw_colourways(PALETTE, **({"stripes": 3, "count": 5} | changes))
    assert said in str(caught.value)
