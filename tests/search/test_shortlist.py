"""The shortlist: distances that are true, deterministic, true reasons."""

from __future__ import annotations

from itertools import combinations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from checkcloth import Colourway, NamedColour, Palette, score
from checkcloth.cloth.bands import Band, band_plan, even_bands
from checkcloth.colour.difference import delta_e_ok
from checkcloth.colour.spaces import srgb_to_oklab
from checkcloth.errors import ArgumentError
from checkcloth.scoring.pairs import named_pairs
from checkcloth.search import (
    Wanted,
    best_order,
    farthest_points,
    search,
    tone_positions,
)


def random_colours(count, seed):
    rng = np.random.default_rng(seed)
    return [NamedColour(f"c{i}", tuple(rng.random(3))) for i in range(count)]


# -- distance --------------------------------------------------------------------------------------


def apart(one, two, *bands):
    points = tone_positions([one, two], *bands).astype(float)
    return float(np.linalg.norm(points[0] - points[1]))


def test_distance_is_blind_to_order():
    colours = random_colours(5, 4)
    one = Colourway("white", colours)
    two = Colourway("white", [colours[p] for p in (3, 0, 4, 1, 2)])
    assert apart(one, two) < 1e-4
    assert apart(one, one.with_(ground="black")) > 10


def test_distance_of_flat_colours_is_that_of_oklab():
    """At strength 0 all tones are the ground, so the distance must be ΔEOK × 100 (CSS Color 4)."""
    for seed in range(20):
        rng = np.random.default_rng(seed)
        a, b = rng.random((2, 3))
        one = Colourway(NamedColour("a", tuple(a)), ["navy", "teal"], 0)
        two = Colourway(NamedColour("b", tuple(b)), ["navy", "gold"], 0)
        assert apart(one, two) == pytest.approx(100 * float(delta_e_ok(a, b)), rel=1e-4)


@settings(max_examples=40, deadline=None)
@given(st.integers(0, 1 << 30), st.integers(1, 5))
def test_distance_is_a_metric(seed, stripes):
    rng = np.random.default_rng(seed)
    three = [
        Colourway(
            NamedColour("g", tuple(rng.random(3))),
            [NamedColour(f"c{i}", tuple(rng.random(3))) for i in range(stripes)],
            float(rng.random()),
        )
        for _ in range(3)
    ]
    a, b, c = three
    assert apart(a, b) == pytest.approx(apart(b, a))
    assert apart(a, c) <= apart(a, b) + apart(b, c) + 1e-4


def test_distance_is_that_of_the_best_matching_in_one_dimension():
    """Greys lie on one line, where sorting is the optimal transport (scipy as the peer)."""
    from scipy.stats import wasserstein_distance

    ones = [Colourway("white", [f"rgb({v} {v} {v})" for v in row]) for row in ((0, 90), (40, 200))]
    square = 0.0
    light = [srgb_to_oklab(c.tones)[..., 0] * 100 for c in ones]
    # Equal numbers of tones: the second-order distance is the root mean square after sorting.
    for pick, area in (
        (lambda t: t[:1, 0], 0.25),
        (lambda t: np.concatenate([t[1:, 0], t[0, 1:]]), 0.5),
        (lambda t: t[1:, 1:].ravel(), 0.25),
    ):
        a, b = np.sort(pick(light[0])), np.sort(pick(light[1]))
        square += area * float(((a - b) ** 2).mean())
        assert np.abs(a - b).mean() == pytest.approx(wasserstein_distance(a, b))
    assert apart(*ones) == pytest.approx(square**0.5, rel=1e-4)


def test_distance_follows_the_bands():
    """Bands of any widths: the pixels of the drawn repeat, kind by kind, are what is matched."""
    warp = (Band(1, 1), Band(0, 2), Band(2, 3), Band(0, 1))
    weft = (Band(2, 2), Band(0, 1), Band(1, 1), Band(0, 3))
    pair = [Colourway("white", [f"rgb({v} {v} {v})" for v in row]) for row in ((0, 90), (40, 200))]
    light = [srgb_to_oklab(c.tones)[..., 0] * 100 for c in pair]
    across, up = np.meshgrid(band_plan(warp), band_plan(weft))
    drawn = [tones[across, up] for tones in light]
    stripes = (across > 0).astype(int) + (up > 0)
    square = sum(
        float(
            ((np.sort(drawn[0][stripes == kind]) - np.sort(drawn[1][stripes == kind])) ** 2).sum()
        )
        for kind in range(3)
    )
    assert apart(*pair, warp, weft) == pytest.approx((square / stripes.size) ** 0.5, rel=1e-4)
    even = even_bands(2)
    assert apart(*pair, even, even) == apart(*pair)
    assert apart(*pair, warp, weft) != pytest.approx(apart(*pair), rel=0.01)


# -- shortlist -------------------------------------------------------------------------------------


@settings(max_examples=30, deadline=None)
@given(st.integers(0, 1 << 30), st.integers(4, 9), st.integers(2, 4))
def test_farthest_points_reach_half_of_the_best_possible(seed, count, chosen):
    """The bound of Gonzalez 1985 (from memory): against every choice that holds the first."""
    places = np.random.default_rng(seed).random((count, 2))

    def least(rows):
        return min(np.linalg.norm(places[a] - places[b]) for a, b in combinations(rows, 2))

    got, distances = farthest_points(places, chosen)
    assert len(set(got)) == chosen
    assert min(distances[1:]) == pytest.approx(least(got))
    best = max(least((0, *rest)) for rest in combinations(range(1, count), chosen - 1))
    assert least(got) >= best / 2 - 1e-12


@pytest.fixture(scope="module")
def result():
    palette = Palette("drawn", random_colours(14, 9))
    wanted = Wanted(
        palette, 4, grounds=["white", "black"], strengths=[0.4, 0.7],
        ground_apart=10, crossings_apart=4,
    )  # fmt: skip
    return search(wanted, pool=500)


def test_a_shortlist_is_good_different_and_always_the_same(result):
    shortlist = result.shortlist(24)
    assert len(shortlist) == 24
    again = result.shortlist(24)
    assert again.members == shortlist.members
    for member in shortlist:
        scored = score(member.colourway)
        assert float(scored.least_edge) == pytest.approx(member.value, abs=1e-9)
        assert scored.ground_single.least_de2000 >= 10
        assert scored.single_crossing.least_de2000 >= 4
        assert best_order(member.colourway) == member.colourway
    assert shortlist.members[0].value == result.values[0]
    distances = [member.apart for member in shortlist]
    assert distances == sorted(distances, reverse=True)
    # More unlike than simply the best 24.
    best = tone_positions(result.best[:24]).astype(float)
    plain = min(np.linalg.norm(a - b) for a, b in combinations(best, 2))
    assert distances[-1] > 3 * plain


def test_the_reason_names_the_pair_that_sets_the_measure(result):
    for member in result.shortlist(5):
        scored = score(member.colourway)
        assert f"least edge ΔE00 {member.value:.1f} (" in member.reason
        kinds = (scored.ground_single, scored.single_crossing)
        closest = min(kinds, key=lambda part: part.least_de2000).closest
        names = {member.colourway.tone_name(*map(int, tone)) for tone in closest}
        assert any(name in member.reason for name in names)
    assert "the best found" in result.shortlist(1).members[0].reason


@pytest.mark.parametrize("measured", ["worst", "deutan"])
def test_the_reason_names_the_vision(measured):
    palette = Palette("p", ["#c00", "#0a0", "#00c", "#cc0", "#777"])
    wanted = Wanted(palette, 2, grounds=["white"], visions=["deutan"], measured=measured)
    reasons = [member.reason for member in search(wanted).shortlist(4)]
    assert any("deutan vision" in reason for reason in reasons)


def test_the_reason_tells_warp_and_weft_apart_where_their_singles_differ():
    palette = Palette("p", ["#c00", "#0a0", "#00c", "#777"])
    wanted = Wanted(palette, 2, grounds=["white"], mixings=["woven"], warp_share=0.7)
    for member in search(wanted).shortlist(6):
        assert any(name in member.reason for name in named_pairs(member.colourway).names)


def test_a_shortlist_can_be_kept(result):
    shortlist = result.shortlist(3)
    chosen = shortlist.chosen
    assert [one.colourway for one in chosen] == list(shortlist.colourways)
    assert chosen[1].origin["place"] == 2
    assert chosen[1].origin["from"] == "search"
    assert chosen[1].note == shortlist.members[1].reason
    assert result.chosen(0).colourway == result.best[0]
    with pytest.raises(ArgumentError, match="index must be from 0 to"):
        result.chosen(10_000)


def test_a_shortlist_of_nothing_and_of_few():
    palette = Palette("p", ["white", "navy", "teal"])
    assert len(search(Wanted(palette, 1, ground_apart=99)).shortlist()) == 0
    few = search(Wanted(palette, 1, grounds=["white"])).shortlist(24)
    assert len(few) == 2
    with pytest.raises(ArgumentError, match="count must be a whole number from 1 to 500"):
        search(Wanted(palette, 1)).shortlist(0)
