"""The order of stripes that reads best: exact, against every distinct order."""

from __future__ import annotations

import numpy as np
import pytest

from checkcloth import Colourway, NamedColour, delta_e_2000, srgb_to_lab
from checkcloth.errors import ArgumentError
from checkcloth.ideas.variants import (
    best_order,
    best_orders,
    order_count,
    ring_scores,
    stripe_orders,
)


def random_colours(count, seed):
    rng = np.random.default_rng(seed)
    return [NamedColour(f"c{i}", tuple(rng.random(3))) for i in range(count)]


def steps(colourway):
    """Neighbour steps round the ring, the plain way."""
    labs = [srgb_to_lab(colourway.tones[i + 1, 0]) for i in range(len(colourway.stripes))]
    labs2 = [srgb_to_lab(colourway.tones[0, i + 1]) for i in range(len(colourway.stripes))]
    return [
        min(float(delta_e_2000(side[i], side[i - 1])) for side in (labs, labs2))
        for i in range(len(labs))
    ]


@pytest.mark.parametrize("stripes", [1, 2, 3, 4, 5, 6, 7])
@pytest.mark.parametrize("reads", ["unlike", "flowing"])
def test_best_order_against_all_distinct_orders(stripes, reads):
    """All (N−1)!/2 orders (OEIS A001710) are written out and weighed."""
    colourway = Colourway("ivory", random_colours(stripes, stripes))
    orders = list(stripe_orders(stripes))
    assert len(orders) == order_count(stripes) == [1, 1, 1, 3, 12, 60, 360][stripes - 1]

    def merit(one):
        of = steps(one)
        return (min(of), sum(of)) if reads == "unlike" else (-max(of), -sum(of))

    merits = [merit(colourway.with_(stripes=[colourway.stripes[p] for p in o])) for o in orders]
    got = best_order(colourway, reads)
    assert merit(got) == pytest.approx(max(merits), abs=1e-9)
    assert sorted(s.name for s in got.stripes) == sorted(s.name for s in colourway.stripes)
    assert got.stripes[0] == colourway.stripes[0]


def test_the_order_is_the_same_from_any_start():
    colours = random_colours(6, 2)
    one = best_order(Colourway("white", colours))
    turned = Colourway("white", [*colours[3:], *colours[:3]])
    two = [s.name for s in best_order(turned).stripes]
    ring = [s.name for s in one.stripes]
    turns = [ring[k:] + ring[:k] for k in range(6)]
    assert two in turns or two[::-1] in turns


def test_equal_stripes_can_be_ordered():
    colourway = Colourway("white", [NamedColour(f"n{i}", (0.1, 0.2, 0.3)) for i in range(6)])
    assert ring_scores(best_order(colourway))[0] == 0
    assert ring_scores(best_order(colourway, "flowing"))[2] == 0


def test_many_stripes_have_a_limit_and_say_so():
    assert len(best_order(Colourway("white", random_colours(12, 1))).stripes) == 12
    with pytest.raises(ArgumentError, match="at most 15 stripes to be ordered, found 16"):
        best_order(Colourway("white", random_colours(16, 1)))
    with pytest.raises(ArgumentError, match="reads must be one of unlike, flowing, found 'loud'"):
        best_order(Colourway("white", random_colours(4, 1)), "loud")


def test_greys_flow_up_and_down():
    greys = [NamedColour(f"g{v}", (v / 10,) * 3) for v in (1, 8, 3, 6, 4)]
    flowing = best_order(Colourway("white", greys), "flowing")
    light = [stripe.rgb[0] for stripe in flowing.stripes]
    turns = sum((light[i] - light[i - 1]) * (light[(i + 1) % 5] - light[i]) < 0 for i in range(5))
    assert turns == 2  # one way up, one way down


@pytest.mark.parametrize("stripes", [2, 4, 6, 9])
@pytest.mark.parametrize("reads", ["unlike", "flowing"])
def test_many_at_a_time_are_ordered_as_one_by_one(stripes, reads):
    many = [
        Colourway("ivory", random_colours(stripes, seed), 0.3 + seed / 400, "woven")
        for seed in range(150)
    ]
    assert list(best_orders(many, reads)) == [best_order(one, reads) for one in many]
    assert list(best_orders([], reads)) == []
