"""Fewer stripes of a colourway: as far apart as can be, against looking at every choice."""

from __future__ import annotations

from itertools import combinations

import pytest
from coloraide import Color
from hypothesis import given, settings
from hypothesis import strategies as st

from checkcloth import MIXINGS, Check, Colourway, tile_pixels
from checkcloth.errors import ArgumentError
from checkcloth.ideas.family import family_colourways, family_of, fewer_stripes

hexes = st.tuples(*[st.integers(0, 255)] * 3).map(lambda rgb: "#{:02x}{:02x}{:02x}".format(*rgb))


def least(ground, stripes):
    """By coloraide, pair by pair."""
    colours = [Color(text) for text in (ground, *stripes)]
    return min(a.delta_e(b, method="2000") for a, b in combinations(colours, 2))


@settings(max_examples=40)
@given(st.lists(hexes, min_size=2, max_size=6, unique=True), hexes, st.data())
def test_no_other_choice_stands_further_apart(stripes, ground, data):
    wanted = data.draw(st.integers(1, len(stripes)))
    made = fewer_stripes(Colourway(ground, stripes), wanted)
    chosen = [stripe.hex for stripe in made.stripes]
    assert [code for code in stripes if code in chosen] == chosen, "the order stays"
    best = max(least(ground, choice) for choice in combinations(stripes, wanted))
    assert least(ground, chosen) == pytest.approx(best, abs=1e-6)


def test_many_stripes_are_taken_one_by_one_and_at_least_half_as_far():
    stripes = [f"hsl({15 * n} 60% {30 + n}%)" for n in range(24)]
    cloth = Colourway("white", stripes)
    made = fewer_stripes(cloth, 12)
    assert len({stripe.rgb for stripe in made.stripes}) == 12
    kept = [stripes.index(stripe.name) for stripe in made.stripes]
    assert kept == sorted(kept)
    even = [stripe.hex for stripe in cloth.stripes[::2]]
    assert least("white", [s.hex for s in made.stripes]) >= least("white", even) / 2


def test_strength_mixing_and_ground_stay():
    cloth = Colourway("ivory", ["navy", "teal", "gold"], 0.2, "woven", name="Quay")
    made = fewer_stripes(cloth, 2)
    assert (made.ground, made.strength, made.mixing) == (cloth.ground, 0.2, "woven")
    assert made.name == "", "a name is given by its designer"
    assert fewer_stripes(cloth, 3) is cloth


@pytest.mark.parametrize("count", [0, 4, 1.5])
def test_more_or_none_is_refused(count):
    with pytest.raises(ArgumentError, match="stripes must be a whole number from 1 to 3"):
        fewer_stripes(Colourway("white", ["navy", "teal", "gold"]), count)


def test_a_family_is_the_check_fewer_stripes_a_stripe_and_plains():
    cloth = Colourway("white", ["navy", "teal", "gold", "coral"], 0.6)
    check = Check("1/4 in", 4, warp="graduated")
    members = {member.kind: member for member in family_of(cloth, check)}
    assert [*members] == ["check", "3 stripes", "2 stripes", "stripe", "plain white", "plain navy"]
    for kind, member in members.items():
        tile, _ = tile_pixels(member.colourway, member.check, 80)
        seen = {tuple(colour) for colour in tile.reshape(-1, 3).tolist()}
        if kind.startswith("plain"):
            assert len(seen) == 1
        if kind == "stripe":  # the warp alone: every row is alike
            assert (tile == tile[:1]).all()
            assert len(seen) == 5
    assert members["3 stripes"].colourway == fewer_stripes(cloth, 3)
    with pytest.raises(ArgumentError):
        family_of(cloth, Check("1/4 in", 3))


@pytest.mark.parametrize("mixing", MIXINGS)
@pytest.mark.parametrize("weft", [(), ("coral", "plum", "gold", "olive")])
def test_coordinates_as_colourways_alone_look_as_their_bands_would(mixing, weft):
    """Every pixel of the tile, to a code of eight bits; what a mixing cannot show is left out."""
    cloth = Colourway("ivory", ["navy", "teal", "gold", "coral"], 0.6, mixing, weft_stripes=weft)
    check = Check("1/4 in", 4, warp="graduated")
    alone = dict(family_colourways(cloth))
    laid = {member.kind: member for member in family_of(cloth, check)[1:]}
    assert set(alone) <= set(laid)
    assert {"3 stripes", "2 stripes", "stripe"} <= set(alone)
    assert "plain ivory" in alone
    for kind, made in alone.items():
        own = check if kind == "stripe" else Check("1/4 in", len(made.stripes))
        shown = tile_pixels(made, own, 160)[0].astype(int)
        wanted = tile_pixels(laid[kind].colourway, laid[kind].check, 160)[0].astype(int)
        if kind == "stripe":
            wanted = wanted[:1]
        elif kind.startswith("plain"):
            wanted = wanted[:1, :1]
        assert abs(shown - wanted).max() <= 1, kind


def test_a_single_stripe_has_no_fewer():
    kinds = [kind for kind, _ in family_colourways(Colourway("white", ["navy"]))]
    assert kinds == ["stripe", "plain white", "plain navy"]
