"""The brief: what it counts, what it asks, and what it says of a mistake."""

from __future__ import annotations

import pickle
from math import comb

import pytest

from checkcloth import NamedColour, Palette, read_palette
from checkcloth.errors import ArgumentError
from checkcloth.search import MEASURES, Wanted, estimate, join_palettes, search
from checkcloth.search.estimate import words_for

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
    assert [case.count for case in Wanted(COAST, 2, must=["navy"]).cases] == [3, 0, 3, 3, 3]


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
    ("fields", "said"),
    [
        ({"stripes": 0}, "stripes must be a whole number from 1 to 24, found 0"),
        ({"stripes": 6}, "stripes must be at most what the palette can fill: 5 stripe"),
        ({"strengths": [1.2]}, "strengths must be from 0 to 1, found 1.2"),
        ({"strengths": []}, "strengths must name at least one, found none"),
        ({"mixings": ["stirred"]}, "mixing must be one of"),
        ({"visions": ["dim"]}, "visions must be one of normal, protan"),
        ({"measure": "beauty"}, "measure must be one of least_edge,"),
        ({"measured": "all"}, "measured must be one of normal, .*, worst"),
        ({"ground_apart": -1}, "ground_apart must be from 0 to 100, found -1"),
        ({"edge_ratio": 22}, "edge_ratio must be from 0 to 21, found 22"),
        ({"must": ["mauve"]}, "must must be names of the palette's colours, found 'mauve'"),
        ({"must": "navy"}, "must must be several colours, found 'navy'"),
        ({"must": ["navy", "teal", "gold"]}, "must may hold at most 2 colours"),
        ({"must": ["navy"], "must_not": ["navy"]}, "must and must_not both hold 'navy'"),
        ({"grounds": ["no colour"]}, "colour must be a CSS Color 4 colour"),
        ({"stripes": 1, "measure": "single_single"}, "must not compare two stripes"),
        ({"strengths": [i / 200_000 for i in range(100_001)]}, "must be at most 100000"),
    ],
)
def test_mistakes_are_named(fields, said):
    with pytest.raises(ArgumentError if "CSS" not in said else ValueError, match=said):
        Wanted(**({"palette": COAST, "stripes": 2} | fields))


def test_a_palette_too_large_to_search():
    palette = Palette("p", [NamedColour(f"g{i}", (i / 300,) * 3) for i in range(257)])
    with pytest.raises(ArgumentError, match="at most 256 stripe colours, found 257"):
        Wanted(palette, 2, grounds=["red"])
    small = Palette("p", palette.colours[:49])
    with pytest.raises(ArgumentError, match="at most 48 stripe colours where crossings_unlike"):
        Wanted(small, 2, grounds=["red"], crossings_unlike=1)
    assert Wanted(palette, 2, grounds=["red"], must_not=["g0"]).count == comb(256, 2)


@pytest.mark.parametrize("name", ["k", "pool", "seed", "draws", "workers", "how"])
def test_arguments_out_of_range(name):
    with pytest.raises(ArgumentError, match=f"{name} must be"):
        search(Wanted(COAST, 2), **{name: -1})


def test_changes_are_checked_too():
    wanted = Wanted(COAST, 2, ground_apart=10)
    assert wanted.with_(stripes=3).ground_apart == 10
    with pytest.raises(ArgumentError, match="changes must name fields of a brief"):
        wanted.with_(ground_afar=3)


def test_needs_say_what_was_asked():
    wanted = Wanted(
        COAST, 2, ground_apart=12.5, crossings_apart=4, stripes_apart=5, crossings_unlike=1,
        edge_lightness=6, edge_ratio=1.2, lightness_order=True, visions=["tritan", "normal"],
    )  # fmt: skip
    assert [str(need) for need in wanted.needs][::2] == [
        "every stripe at least ΔE00 12.5 from the ground",
        "every crossing at least ΔE00 4 from its stripes",
        "any two stripes at least ΔE00 5 apart",
        "any two crossings at least ΔE00 1 apart",
        "every edge at least ΔL* 6",
        "every edge at least contrast ratio 1.2",
        "lightness runs from ground over stripe to crossing",
    ]
    assert all(str(need).endswith("to tritan vision") for need in wanted.needs[1::2])


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
    assert ("ΔL*" in text, "contrast ratio" in text) == ("_dl" in measure, "_ratio" in measure)


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
    number, unit = words_for(seconds).split()
    size = {"s": 1, "min": 60, "h": 3600, "days": 86400, "years": 365.25 * 86400}[unit]
    assert float(number) * size == pytest.approx(max(seconds, 1), rel=0.3)


# -- what to relax ---------------------------------------------------------------------------------


def test_an_empty_answer_says_what_to_relax(request):
    path = request.config.rootpath / "palettes" / "fog-signal-fails.csv"
    wanted = Wanted(read_palette(path), 3, ground_apart=20, crossings_apart=1)
    result = search(wanted)
    assert result.best == ()
    assert result.tightest == "every stripe at least ΔE00 20 from the ground"
    ground, crossings = result.relax
    assert crossings.reached is None
    assert ground.reached < 20
    assert f"lower it to {ground.reached:.2f}"[:-1] in str(ground)
    assert str(ground) in result.report()
    assert "lower it to" in result._repr_html_()
    # What it says is true, and is the most that is true.
    assert search(wanted.with_(ground_apart=ground.reached)).tally.met_all > 0
    assert search(wanted.with_(ground_apart=ground.reached + 0.01)).tally.met_all == 0


def test_when_no_one_condition_is_to_blame_all_are_lowered_together():
    greys = Palette("greys", [NamedColour(f"g{i}", (0.7 + i / 50,) * 3) for i in range(6)])
    wanted = Wanted(greys, 3, grounds=["white"], ground_apart=60, stripes_apart=60)
    *each, together = search(wanted).relax
    assert all(one.reached is None for one in each)
    share = float(str(together).split("lower each to ")[1].split(" %")[0]) / 100
    assert 0 < share < 1
    lowered = wanted.with_(ground_apart=60 * share, stripes_apart=60 * share)
    assert search(lowered).tally.met_all > 0
    more = wanted.with_(ground_apart=60 * share + 0.1, stripes_apart=60 * share + 0.1)
    assert search(more).tally.met_all == 0


def test_a_condition_that_can_only_be_dropped():
    greys = Palette("greys", ["#fff", "#777", "#000"])
    wanted = Wanted(greys, 2, grounds=["#777"], lightness_order=True)
    result = search(wanted)
    assert result.best == ()
    assert str(result.relax[0]).startswith("drop: lightness runs")
    assert search(wanted.with_(lightness_order=False)).best


def test_a_report_counts_each_condition():
    wanted = Wanted(COAST, 2, grounds=["white"], ground_apart=20, stripes_apart=10)
    lines = search(wanted).report().splitlines()
    assert len(lines) == 4
    assert lines[3].startswith("  tightest: ")
    assert "only this" in lines[1]
