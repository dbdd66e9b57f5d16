"""The search in given bands, against every order of every choice scored one by one."""

from __future__ import annotations

from itertools import permutations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from checkcloth import Check, Colourway, Palette, score
from checkcloth.cloth.bands import Band
from checkcloth.colour.vision import see_as
from checkcloth.errors import ArgumentError
from checkcloth.ideas.variants import ring
from checkcloth.scoring.measures import find_measure
from checkcloth.scoring.pairs import named_pairs
from checkcloth.search import Wanted, search, search_in_bands
from checkcloth.search.wanted import measure_parts

PALETTE = Palette("few", ["white", "#a62a3c", "#3f6fb0", "#4f9070", "#d8a23a", "#222"])


def laid(stripes, draw):
    order = draw(st.permutations([*range(1, stripes + 1), *draw(st.lists(
        st.integers(0, stripes), max_size=4))]))  # fmt: skip
    return tuple(Band(stripe, draw(st.integers(1, 3))) for stripe in order)


@st.composite
def briefs(draw):
    stripes = draw(st.integers(1, 3))
    check = Check("1/8 in", stripes, warp=laid(stripes, draw), weft=laid(stripes, draw))
    more = draw(
        st.sampled_from([
            {}, {"ground_apart": 12}, {"crossings_apart": 6, "visions": ["deutan"]},
            {"edge_lightness": 4}, {"lightness_order": True}, {"stripes_apart": 25},
            {"edge_ratio": 1.2, "must": ["#222"]}, {"crossings_unlike": 3},
        ])
    )  # fmt: skip
    measure = draw(st.sampled_from(["least_edge", "single_crossing", "least_edge_dl"]))
    mixing = draw(st.sampled_from(["source-over", "woven"]))
    grounds = draw(st.sampled_from([["white"], ["white", "#222"]]))
    return check, Wanted(PALETTE, stripes, grounds, [0.4, 0.8], mixing, measure=measure, **more)


def holds(wanted, check, one):
    for vision in ("normal", *wanted.visions):
        seen = score(one, vision, check=check)
        for name, kind, field in (
            ("ground_apart", "ground_single", "least_de2000"),
            ("crossings_apart", "single_crossing", "least_de2000"),
            ("stripes_apart", "single_single", "least_de2000"),
            ("crossings_unlike", "crossing_crossing", "least_de2000"),
        ):
            least = float(getattr(getattr(seen, kind), field))
            asked = getattr(wanted, name)
            if asked is not None and least < asked:
                return False
        if wanted.lightness_order and not seen.lightness_runs:
            return False
        for name, by in (("edge_lightness", "dl"), ("edge_ratio", "ratio")):
            asked = getattr(wanted, name)
            if asked is not None and edge(check, one, by, vision) < asked:
                return False
    return True


def edge(check, one, by, vision="normal"):
    pairs, seen = named_pairs(one, "edges", check), see_as(one.tones, vision)
    found = find_measure(by).compare(seen[*pairs.one.T], seen[*pairs.two.T])
    return float(found.min()) if len(found) else np.inf


@settings(max_examples=60, deadline=None)
@given(briefs())
def test_every_order_of_every_choice_is_weighed(case):
    check, wanted = case
    every = {}
    for number in range(wanted.setting_count):
        setting = wanted.setting(number)
        colours = [wanted.candidates[index] for index in (*setting.free, *setting.must)]
        for row in permutations(colours, wanted.stripes):
            if setting.count and {wanted.candidates[i] for i in setting.must} <= {*row}:
                every[number, ring(row, check)] = (setting, row)
    found = search_in_bands(wanted, check, 10_000)
    assert found.total == len(every)
    values = []
    kind, by = measure_parts(wanted.measure)
    for setting, row in every.values():
        one = Colourway(setting.ground, row, setting.strength, setting.mixing)
        if not holds(wanted, check, one):
            continue
        if kind == "least_edge":
            value = edge(check, one, by)
        else:
            value = float(getattr(score(one, check=check), kind).least_de2000)
        values.append(np.inf if np.isnan(value) else value)
    assert found.met == len(values) == len(found.best)
    np.testing.assert_allclose(found.values, sorted(values, reverse=True), atol=1e-9)
    assert len({(hit.setting, ring(c.stripes, check)) for hit, c in
                zip(found.found, found.best, strict=True)}) == found.met  # fmt: skip


def test_in_an_even_check_it_is_the_search_in_every_order():
    wanted = Wanted(PALETTE, 4, ["white"], ground_apart=10)
    here, there = search_in_bands(wanted, Check("1 cm", 4), 10_000), search(wanted)
    assert here.total == 3 * there.total
    assert here.met == 3 * there.counts.met_all
    assert here.values[0] == pytest.approx(there.values[0])
    assert str(here).startswith(f"{here.total} colourways in given bands, ")
    assert here.chosen()[0].origin["place"] == 1


def test_interchangeable_stripes_count_once():
    """Two stripes that a reversal exchanges: half of the orders are the same cloth."""
    wanted = Wanted(PALETTE, 2, ["white"])
    alike = Check("1 cm", 2, warp="1 A, 2 ground, 1 B, 3 ground")
    unlike = Check("1 cm", 2, warp="1 A, 2 ground, 2 B, 3 ground")
    assert 2 * search_in_bands(wanted, alike).total == search_in_bands(wanted, unlike).total


@pytest.mark.parametrize(
    ("check", "argument"),
    [(Check("1 cm", 3), "check"), (Check("1 cm", 2, weft_stripes=1), "check"),
     (Check("1 cm", 2, warp="1 A"), "check"), ("even", "check")],
)  # fmt: skip
def test_checks_that_do_not_fit(check, argument):
    with pytest.raises(ArgumentError) as caught:
        search_in_bands(Wanted(PALETTE, 2), check)
    assert caught.value.argument == argument


def test_too_much_is_refused():
    many = Palette("many", [f"#{n:02x}{255 - n:02x}40" for n in range(40)])
    with pytest.raises(ArgumentError, match="at most 20,000,000"):
        search_in_bands(Wanted(many, 6), Check("1 cm", 6, warp="graduated"))
