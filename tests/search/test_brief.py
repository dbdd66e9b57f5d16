"""The brief: what it counts, what it asks, and what it says of a mistake."""

from __future__ import annotations

import pickle
from math import comb

import numpy as np
import pytest

from checkcloth import NamedColour, Palette, read_palette
from checkcloth.errors import ArgumentError, CheckclothError
from checkcloth.scoring.vocabulary import COLUMNS, EDGE_WORDS, MEASURE_WORDS, PAIR_WORDS
from checkcloth.search import (
    MEASURES,
    SearchStoppedError,
    Wanted,
    common_share,
    estimate,
    join_palettes,
    relaxations,
    search,
)
from checkcloth.search.run import duration_words

RNG = np.random.default_rng(11)
COAST = Palette("coast", ["white", "navy", "teal", "gold", "coral"])


@pytest.mark.parametrize(("colours", "stripes"), [(5, 1), (9, 4), (24, 6), (40, 6), (60, 8)])
def test_counts_are_binomials(colours, stripes):
    """On a ground that is no stripe; C(24, 6) = 134,596 and C(40, 6) = 3,838,380 by hand."""
    palette = Palette("greys", [NamedColour(f"g{i}", (i / 99,) * 3) for i in range(colours)])
    assert Wanted(palette, stripes, grounds=["red"]).count == comb(colours, stripes)
    everything = Wanted(palette, stripes, strengths=[0.4, 0.5])
    assert everything.count == 2 * colours * comb(colours - 1, stripes)
    must = Wanted(palette, stripes, grounds=["red"], must=["g0"])
    assert must.count == comb(colours - 1, stripes - 1)
    if stripes < colours:
        must_not = Wanted(palette, stripes, grounds=["red"], must_not=["g0"])
        assert must_not.count == comb(colours - 1, stripes)


def test_a_ground_is_never_a_stripe():
    wanted = Wanted(COAST, 2)
    assert wanted.count == 5 * comb(4, 2)
    for colourway in search(wanted, 100).best:
        assert colourway.ground.rgb not in {stripe.rgb for stripe in colourway.stripes}
    assert [setting.count for setting in Wanted(COAST, 2, must=["navy"]).settings] == [
        3,
        0,
        3,
        3,
        3,
    ]


def test_colours_by_name_of_the_palette():
    palette = Palette("p", [NamedColour.of("#123456", "Night"), NamedColour.of("gold", "Night 2")])
    wanted = Wanted(palette, 1, grounds=["Night"], must=["Night 2"])
    assert wanted.grounds == (palette["Night"],)
    assert search(wanted).best[0].stripes == (palette["Night 2"],)


def test_must_and_must_not_hold_in_every_answer():
    wanted = Wanted(COAST, 3, grounds=["black"], must=["teal"], must_not=["gold"])
    found = search(wanted, 100).best
    assert len(found) == wanted.count == 3
    for colourway in found:
        names = [stripe.name for stripe in colourway.stripes]
        assert "teal" in names
        assert "gold" not in names
        assert names == sorted(names, key=[c.name for c in COAST].index)


def test_must_not_takes_out_every_colour_of_that_value():
    palette = Palette("p", [NamedColour.of("teal"), NamedColour.of("#008080", "sea"), "gold"])
    assert Wanted(palette, 1, grounds=["white"], must_not=["sea"]).count == 1


@pytest.mark.parametrize(
    ("fields", "argument", "allowed", "found"),
    [
        ({"stripes": 0}, "stripes", "from 1 to 24", 0),
        ({"stripes": 6}, "stripes", "what the palette can fill: 5 stripe colours", 6),
        ({"strengths": [1.2]}, "strengths", "from 0 to 1", None),
        ({"strengths": []}, "strengths", "at least one", None),
        ({"mixings": ["stirred"]}, "mixing", "one of", "stirred"),
        ({"visions": ["dim"]}, "visions", "one of normal, protan", "dim"),
        ({"measure": "beauty"}, "measure", "one of least_edge,", "beauty"),
        ({"measured": "all"}, "measured", "worst", "all"),
        ({"ground_apart": -1}, "ground_apart", "from 0 to 100", None),
        ({"edge_ratio": 22}, "edge_ratio", "from 0 to 21", None),
        ({"edge_hyab": 301}, "edge_hyab", "from 0 to 300", None),
        ({"must": ["mauve"]}, "must", f"colours of {COAST.name}, such as ", "mauve"),
        ({"must": "navy"}, "must", "several colours", "navy"),
        ({"must": ["navy", "teal", "gold"]}, "must", "at most 2 colours", 3),
        ({"must": ["navy"], "must_not": ["navy"]}, "must", "must_not", "navy"),
        ({"grounds": ["no colour"]}, "colour", "a CSS Color 4 colour", "no colour"),
        ({"stripes": 1, "measure": "single_single"}, "measure", "single", "single_single"),
        (
            {"strengths": [i / 200_000 for i in range(100_001)]},
            "grounds × strengths × mixings",
            "at most 100000",
            500_005,
        ),
    ],
)
def test_mistakes_are_named(fields, argument, allowed, found):
    with pytest.raises(CheckclothError) as caught:
        Wanted(**({"palette": COAST, "stripes": 2} | fields))
    assert caught.value.argument == argument
    assert allowed in caught.value.allowed
    assert caught.value.found == found


def test_a_palette_too_large_to_search():
    palette = Palette("p", [NamedColour(f"g{i}", (i / 1100,) * 3) for i in range(1025)])
    with pytest.raises(ArgumentError, match="at most 1024 stripe colours, found 1025"):
        Wanted(palette, 2, grounds=["red"])
    small = Palette("p", palette.colours[:201])
    with pytest.raises(ArgumentError, match="at most 200 stripe colours where crossings_unlike"):
        Wanted(small, 2, grounds=["red"], crossings_unlike=1)
    assert Wanted(palette, 2, grounds=["red"], must_not=["g0"]).count == comb(1024, 2)


@pytest.mark.parametrize("name", ["k", "pool", "seed", "draws", "workers", "how"])
def test_arguments_out_of_range(name):
    with pytest.raises(ArgumentError, match=f"{name} must be"):
        search(Wanted(COAST, 2), **{name: -1})


def test_changes_are_checked_too():
    wanted = Wanted(COAST, 2, ground_apart=10)
    assert wanted.with_(stripes=3).ground_apart == 10
    with pytest.raises(ArgumentError) as caught:
        wanted.with_(ground_afar=3)
    assert (caught.value.argument, caught.value.found) == ("changes", ["ground_afar"])


def test_conditions_say_what_was_asked():
    """In the vocabulary's words; one for each vision."""
    wanted = Wanted(
        COAST, 2, ground_apart=12.5, crossings_apart=4, stripes_apart=5, crossings_unlike=1,
        edge_lightness=6, edge_ratio=1.2, edge_hyab=30, lightness_order=True,
        visions=["tritan", "normal"],
    )  # fmt: skip
    said = [str(constraint) for constraint in wanted.constraints]
    expected = (
        ("ground_single", "de2000", "12.5"), ("single_crossing", "de2000", "4"),
        ("single_single", "de2000", "5"), ("crossing_crossing", "de2000", "1"),
        ("", "dl", "6"), ("", "ratio", "1.2"), ("", "hyab", "30"),
    )  # fmt: skip
    for words, (kind, by, amount) in zip(said[::2], expected, strict=False):
        assert words.startswith(PAIR_WORDS.get(kind, EDGE_WORDS))
        assert MEASURE_WORDS[by] in words
        assert words.endswith(amount)
    assert len(said) == 16
    assert said[-2] == COLUMNS["lightness_runs"]
    assert all("tritan" in words for words in said[1::2])


def test_a_brief_travels_to_another_process():
    wanted = Wanted(COAST, 2, ground_apart=10, visions=["deutan"])
    assert pickle.loads(pickle.dumps(wanted)) == wanted
    assert hash(wanted) == hash(Wanted(COAST, 2, ground_apart=10, visions=["deutan"]))


def test_palettes_joined():
    other = Palette("harbour", [NamedColour.of("#00f", "navy"), "teal", "ivory"])
    both = join_palettes([COAST, other])
    assert [c.name for c in both][5:] == ["navy (harbour)", "ivory"]
    assert Wanted([COAST, other], 2).palette == both
    assert join_palettes(COAST) is COAST
    with pytest.raises(ArgumentError, match="palette must be one palette or several"):
        join_palettes([])


@pytest.mark.parametrize("measure", MEASURES)
def test_the_answer_says_its_measure(measure):
    text = str(search(Wanted(COAST, 2, measure=measure)))
    for name, by in (("ΔL*", "_dl"), ("contrast ratio", "_ratio"), ("HyAB", "_hyab")):
        assert (name in text) == (by in measure)


# -- what it will cost ---------------------------------------------------------------------------


def test_a_hopeless_search_is_refused_with_count_time_and_a_way_out():
    palette = Palette("p", [NamedColour(f"g{i}", (i / 60, 0.5, 1 - i / 60)) for i in range(60)])
    wanted = Wanted(palette, 14, grounds=["white"], strengths=[0.4, 0.6])
    said = estimate(wanted)
    assert said.colourways == 2 * comb(60, 14)
    assert said.hopeless
    with pytest.raises(ArgumentError) as caught:
        search(wanted)
    for words in (f"{2 * comb(60, 14):,} colourways", "takes about", "how='best'", "how='sample'"):
        assert words in str(caught.value)
    best = search(wanted, 3, how="best")
    assert len(best.best) == 3
    assert best.total == 2 * comb(60, 14)
    sample = search(wanted, 3, how="sample", draws=5000)
    assert sample.found[0][0] <= best.found[0][0]


def test_an_estimate_of_a_small_search_is_small():
    assert not estimate(Wanted(COAST, 2)).hopeless
    assert estimate(Wanted(COAST, 5, grounds=["red"])).seconds < 60
    assert estimate(Wanted(COAST, 1, grounds=["red"])).colourways == 5


@pytest.mark.parametrize("seconds", [0, 1, 59, 119, 120, 1e5, 1e12])
def test_times_in_words(seconds):
    number, unit = duration_words(seconds).split()
    size = {"s": 1, "min": 60, "h": 3600, "days": 86400, "years": 365.25 * 86400}[unit]
    assert float(number) * size == pytest.approx(max(seconds, 1), rel=0.3)


# -- what to relax ---------------------------------------------------------------------------------


def test_an_empty_answer_says_what_to_relax(request):
    path = request.config.rootpath / "palettes" / "fog-signal-fails.csv"
    wanted = Wanted(read_palette(path), 3, ground_apart=20, crossings_apart=1)
    result = search(wanted)
    assert result.best == ()
    assert result.tightest == str(wanted.constraints[0])
    ground, crossings = result.relax
    assert crossings.reached is None
    assert ground.reached < 20
    assert f"lower it to {ground.reached:.2f}"[:-1] in str(ground)
    assert str(ground) in result.report()
    assert "lower it to" in result._repr_html_()
    # What it says is true, and is the most that is true.
    assert search(wanted.with_(ground_apart=ground.reached)).counts.met_all > 0
    assert search(wanted.with_(ground_apart=ground.reached + 0.01)).counts.met_all == 0


def test_when_no_one_condition_is_to_blame_all_are_lowered_together():
    greys = Palette("greys", [NamedColour(f"g{i}", (0.7 + i / 50,) * 3) for i in range(6)])
    wanted = Wanted(greys, 3, grounds=["white"], ground_apart=60, stripes_apart=60)
    *each, together = search(wanted).relax
    assert all(one.reached is None for one in each)
    share = float(str(together).split("lower each to ")[1].split(" %")[0]) / 100
    assert 0 < share < 1
    lowered = wanted.with_(ground_apart=60 * share, stripes_apart=60 * share)
    assert search(lowered).counts.met_all > 0
    more = wanted.with_(ground_apart=60 * share + 0.1, stripes_apart=60 * share + 0.1)
    assert search(more).counts.met_all == 0


def test_a_condition_that_can_only_be_dropped():
    greys = Palette("greys", ["#fff", "#777", "#000"])
    wanted = Wanted(greys, 2, grounds=["#777"], lightness_order=True)
    result = search(wanted)
    assert result.best == ()
    assert str(result.relax[0]).startswith(f"drop: {COLUMNS['lightness_runs']}")
    assert search(wanted.with_(lightness_order=False)).best


def test_a_report_counts_each_condition():
    wanted = Wanted(COAST, 2, grounds=["white"], ground_apart=20, stripes_apart=10)
    lines = search(wanted).report().splitlines()
    assert len(lines) == 4
    assert lines[3].startswith("  tightest: ")
    assert "(it alone turns away " in lines[1]


def test_what_is_offered_lets_as_many_through_as_were_asked_for():
    colours = [NamedColour(f"c{i}", tuple(rgb)) for i, rgb in enumerate(RNG.random((14, 3)))]
    asked = {"ground_apart": 55.0, "crossings_apart": 2.0}
    wanted = Wanted(Palette("drawn", colours), 4, grounds=["white", "black"], **asked)
    assert search(wanted).counts.met_all == 0
    for some in (1, 10, 40):
        ground, crossings = relaxations(wanted, some)
        assert (ground.argument, crossings.argument) == ("ground_apart", "crossings_apart")
        assert ground.value <= ground.reached < ground.value + 0.01 + 1e-9
        assert search(wanted.with_(ground_apart=ground.value)).counts.met_all >= some
        assert search(wanted.with_(ground_apart=ground.value + 0.01)).counts.met_all < some
        assert crossings.value is None


def test_the_share_that_all_numbers_reach_is_the_greatest():
    colours = [NamedColour(f"c{i}", tuple(rgb)) for i, rgb in enumerate(RNG.random((10, 3)))]
    asked = {"ground_apart": 30.0, "stripes_apart": 20.0, "crossings_apart": 8.0}
    wanted = Wanted(Palette("drawn", colours), 3, strengths=[0.4, 0.8], visions=["deutan"], **asked)
    for some in (1, 25):
        share = common_share(wanted, some)

        def met(factor):
            lowered = {name: value * factor for name, value in asked.items()}
            return search(wanted.with_(**lowered)).counts.met_all

        assert met(share * 0.9999) >= some
        assert met(share * 1.0001) < some
    assert common_share(wanted.with_(**dict.fromkeys(asked))) is None


@pytest.mark.parametrize("work", [relaxations, common_share])
def test_looking_for_what_would_hold_can_be_stopped(work):
    wanted = Wanted(COAST, 2, grounds=["white"], ground_apart=90, stripes_apart=90)
    with pytest.raises(SearchStoppedError):
        work(wanted, 1, lambda: True)


def test_a_search_is_stopped_in_the_middle_of_a_setting():
    colours = [NamedColour(f"c{i}", tuple(rgb)) for i, rgb in enumerate(RNG.random((40, 3)))]
    wanted = Wanted(Palette("drawn", colours), 6, grounds=["white"])

    class AfterAWhile:
        """An event that is set once it was looked at a few times: one block is begun by then."""

        looks = 0

        def is_set(self):
            self.looks += 1
            return self.looks > 3

    result = search(wanted, 5000, how="best", stop=AfterAWhile())
    assert result.stopped
    assert (result.settled, result.found) == (0, ())
