"""Orders that give the same cloth, in any bands: against every order drawn and compared."""

from __future__ import annotations

from itertools import permutations
from math import factorial

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from checkcloth import Check, Colourway, Palette, delta_e_2000, draw_colourways, srgb_to_lab
from checkcloth.cloth.bands import Band, even_bands, joined
from checkcloth.errors import ArgumentError
from checkcloth.ideas.orders import neighbours, ways_of
from checkcloth.ideas.variants import (
    best_order,
    each_order,
    each_weft,
    order_count,
    ring_scores,
    stripe_orders,
)

COLOURS = ["#a62a3c", "#3f6fb0", "#4f9070", "#d8a23a"]


def way(stripes):
    pairs = st.tuples(st.integers(0, stripes), st.integers(1, 2)).map(lambda pair: Band(*pair))
    return st.lists(pairs, min_size=1, max_size=7).map(tuple)


def pictures(order, check):
    """Every way that the cloth of an order looks, shifted and turned over, each way by itself."""
    warp, weft = (
        np.array([(0, *(index + 1 for index in order))[band.stripe]
                  for band in bands for _ in range(band.checks)])
        for bands in (check.warp_bands, check.weft_bands)
    )  # fmt: skip
    seen = set()
    for across in (warp, warp[::-1]):
        for shift in range(len(across)):
            for up in (weft, weft[::-1]):
                for lift in range(len(up)):
                    tile = np.roll(across, shift).tobytes() + np.roll(up, lift).tobytes()
                    seen.add(tile)
    return seen


@settings(max_examples=60, deadline=None)
@given(st.integers(1, 4).flatmap(lambda n: st.tuples(st.just(n), way(n), way(n))))
def test_distinct_orders_are_those_whose_cloth_differs(case):
    stripes, warp, weft = case
    check = Check("1/16 in", stripes, warp=warp, weft=weft)
    classes = {frozenset(pictures(order, check)) for order in permutations(range(stripes))}
    found = list(stripe_orders(stripes, check))
    assert order_count(stripes, check) == len(found) == len(classes)
    assert {frozenset(pictures(order, check)) for order in found} == classes


@pytest.mark.parametrize("stripes", range(1, 8))
def test_an_even_check_keeps_its_count(stripes):
    """OEIS A001710 from its third term on; 1 for one and two stripes."""
    check = Check("1 cm", stripes)
    assert order_count(stripes, check) == order_count(stripes)
    assert list(stripe_orders(stripes, check)) == list(stripe_orders(stripes))
    assert order_count(stripes, check) == (1 if stripes < 3 else factorial(stripes - 1) // 2)


def test_counts_that_plain_reasoning_gives():
    # Every stripe of another width: no two orders are alike.
    assert order_count(4, Check("1 cm", 4, warp="graduated")) == 24
    # Colours in pairs are a ring of four all the same.
    assert order_count(4, Check("1 cm", 4, warp="double")) == 3
    # A weft of ground says nothing about the order.
    assert order_count(4, Check("1 cm", 4, weft="1 ground")) == 3
    # A stripe that is not laid: which colour is left out matters, not where it stands.
    assert order_count(3, Check("1 cm", 3, warp="1 A, 1 ground, 1 B, 1 ground")) == 3
    # Own weft colours stay, and the warp runs round by itself.
    own = Colourway("white", COLOURS, weft_stripes=["navy"])
    check = Check("1 cm", 4, weft_stripes=1)
    assert len(each_order(own, check=check)) == len(each_order(own)) == 3
    with pytest.raises(ArgumentError, match="one of 3 stripes"):
        order_count(3, Check("1 cm", 2))


@settings(max_examples=60, deadline=None)
@given(way(4), way(4), st.sampled_from(["unlike", "flowing"]))
def test_the_best_order_is_the_best_of_all(warp, weft, reads):
    check = Check("1/16 in", 4, warp=warp, weft=weft)
    cloth = Colourway("ivory", COLOURS)
    pairs = neighbours(*ways_of(check))

    def merit(one):
        lab = srgb_to_lab(one.tones)
        steps = [
            min(float(delta_e_2000(lab[a + 1, 0], lab[b + 1, 0])),
                float(delta_e_2000(lab[0, a + 1], lab[0, b + 1])))
            for a, b in pairs
        ] or [0.0]  # fmt: skip
        return (min(steps), sum(steps)) if reads == "unlike" else (-max(steps), -sum(steps))

    every = [cloth.with_(stripes=order) for order in permutations(cloth.stripes)]
    best = best_order(cloth, reads, check)
    assert merit(best) == pytest.approx(max(map(merit, every)), abs=1e-7)
    if pairs:
        least, _, most = ring_scores(best, check)
        assert abs(merit(best)[0]) == pytest.approx(least if reads == "unlike" else most)


def test_neighbours_follow_the_bands():
    even = Check("1 cm", 4)
    assert neighbours(*ways_of(even)) == [(0, 1), (0, 3), (1, 2), (2, 3)]
    twice = Check("1 cm", 3, warp="1 A, 1 B, 1 A, 1 C")
    assert neighbours(*ways_of(twice)) == [(0, 1), (0, 2)]
    with pytest.raises(ArgumentError, match="8 stripes"):
        best_order(Colourway("white", [f"#{n:02x}0000" for n in range(9)]), check=Check(
            "1 mm", 9, warp=[(1, 1), *((s, 1) for n in range(2, 10) for s in (n, 1))]))  # fmt: skip
    # Ten graduated stripes make a ring, which is weighed without trying every order.
    ten = Colourway("white", [f"#{n * 20:02x}{n * 7:02x}40" for n in range(10)])
    wide = Check("1 mm", 10, warp="graduated")
    assert ring_scores(best_order(ten, check=wide), wide)[0] == ring_scores(best_order(ten))[0]


def test_draws_in_bands_never_repeat_a_cloth():
    palette = Palette("many", [f"#{n * 9:02x}{255 - n * 5:02x}80" for n in range(20)])
    check = Check("1 cm", 3, warp="graduated")
    drawn = draw_colourways(palette, 3, 200, seed=3, ground=palette.grounds[0], check=check)
    assert len({one.stripes for one in drawn}) == len(drawn) == 200


def test_one_warp_with_many_wefts():
    quay = Colourway("white", ["navy", "teal"], 0.8)
    made = each_weft(quay, ["gold", ["coral", "black"], ["gold"]])
    assert [[w.name for w in one.weft_colours] for one in made] == [
        ["gold", "gold"], ["coral", "black"], ["gold"],
    ]  # fmt: skip
    assert all(one.stripes == quay.stripes for one in made)
    for wrong in ([], "gold", 3, ["nocolour"]):
        with pytest.raises(ValueError, match=r"wefts|colour"):
            each_weft(quay, wrong)
    assert joined(even_bands(1)) == even_bands(1)
