"""The search against brute force: every colourway written out, scored one by one, and sifted.

The peer is ``score`` itself on plainly listed colourways: nothing of the search's tables,
reductions or bounds is used on that side, so the two can only agree if both are right.
"""

from __future__ import annotations

from itertools import combinations, permutations

import numpy as np
import pytest
from hypothesis import HealthCheck, given, reject, settings
from hypothesis import strategies as st

from checkcloth import MIXINGS, Colourway, NamedColour, Palette, score
from checkcloth.colour.spaces import srgb_to_lab
from checkcloth.colour.vision import see_as
from checkcloth.scoring.harmony import two_colour_harmony
from checkcloth.scoring.pairs import named_pairs
from checkcloth.search import MEASURES, Wanted, search
from checkcloth.search.counts import bins_of, measure_table
from checkcloth.search.reducer import reduce_choices
from checkcloth.search.tables import SettingTables
from checkcloth.search.wanted import measure_parts

# Last-digit noise between scoring one colourway and scoring all pairs at once. CIEDE2000 takes
# the square root of the product of two chromas: beside a vivid colour, a grey whose chroma is
# rounding (1e-15, as `pigment` gives it) moves the difference by sqrt(1e-15 × 100), some 3e-7.
SLACK = 1e-6
LEAST = {by: f"least_{by}" for by in ("de2000", "dl", "ratio", "hyab")}


def reached(scored, kind, by):
    """What each colourway reaches, as the scores say; no pair of that kind is no obstacle."""
    if kind == "least_edge":
        parts = [
            getattr(getattr(scored, k), LEAST[by]) for k in ("ground_single", "single_crossing")
        ]
        return np.fmin(*parts)
    values = getattr(getattr(scored, kind), LEAST[by])
    return np.where(np.isnan(values), np.inf, values)


def least_harmony(colourways, vision="normal", severity=1.0):
    """The least over all that touch, pair by pair."""
    out = []
    for one in colourways:
        pairs, seen = named_pairs(one, "edges"), see_as(one.tones, vision, severity)
        first, second = (srgb_to_lab(seen[*way.T]) for way in (pairs.one, pairs.two))
        out.append(float(two_colour_harmony(first, second).min()))
    return np.array(out)


class Brute:
    """All colourways of a brief, with what each condition and the measure say of each."""

    def __init__(self, wanted: Wanted) -> None:
        self.rows: list[tuple[int, tuple[int, ...]]] = []
        colourways = []
        for setting in wanted.settings:
            for row in combinations(range(len(wanted.candidates)), wanted.stripes):
                stripes = [wanted.candidates[index] for index in row]
                if any(stripe.rgb == setting.ground.rgb for stripe in stripes):
                    continue
                if not set(setting.must) <= set(row):
                    continue
                self.rows.append((setting.number, row))
                colourways.append(
                    Colourway(
                        setting.ground,
                        stripes,
                        setting.strength,
                        setting.mixing,
                        "",
                        wanted.warp_share,
                        wanted.yule_nielsen,
                    )
                )
        visions = {"normal", *wanted.visions, *wanted.measure_visions}
        scores = {vision: score(colourways, vision, wanted.severity) for vision in visions}
        self.met = np.ones((len(wanted.constraints), len(colourways)), dtype=bool)
        for row_, constraint in zip(self.met, wanted.constraints, strict=True):
            scored = scores[constraint.vision]
            if constraint.by == "harmony":
                values = least_harmony(colourways, constraint.vision, wanted.severity)
                row_[:] = values >= constraint.at_least
            elif constraint.kind == "lightness":
                row_[:] = scored.lightness_runs
            else:
                values = reached(scored, constraint.kind, constraint.by)
                row_[:] = values >= constraint.at_least
        kind, by = measure_parts(wanted.measure)
        self.values = np.min(
            [
                least_harmony(colourways, vision, wanted.severity)
                if by == "harmony"
                else reached(scores[vision], kind, by)
                for vision in wanted.measure_visions
            ],
            axis=0,
        )
        self.passing = self.met.all(axis=0)

    def best(self):
        order = sorted(np.flatnonzero(self.passing), key=lambda i: (-self.values[i], self.rows[i]))
        return [(self.values[i], *self.rows[i]) for i in order]


# Colours that make ties, equal tones, greys, out-of-order lightness, and everything between.
channel = st.sampled_from([0, 51, 128, 200, 255]) | st.integers(0, 255)
vivid = st.tuples(channel, channel, channel)
grey = st.integers(0, 255).map(lambda v: (v, v, v))
colour = vivid | grey


@st.composite
def palettes(draw, least=1, most=9):
    values = draw(
        st.lists(colour, min_size=least, max_size=most)
        | st.lists(
            st.sampled_from([(0, 0, 0), (255, 255, 255), (200, 30, 60)]),
            min_size=least,
            max_size=most,
        )
    )
    return Palette(
        "drawn",
        [NamedColour(f"c{i}", tuple(v / 255 for v in rgb)) for i, rgb in enumerate(values)],
    )


CONDITIONS = {
    "ground_apart": st.floats(0, 60),
    "crossings_apart": st.floats(0, 30),
    "stripes_apart": st.floats(0, 40),
    "crossings_unlike": st.floats(0, 12),
    "edge_lightness": st.floats(0, 30),
    "edge_ratio": st.floats(1, 4),
    "edge_harmony": st.floats(-1, 1),
    "edge_hyab": st.floats(0, 90),
    "lightness_order": st.just(True),
}
VISIONS = ("protan", "deutan", "tritan", "grey")


@st.composite
def briefs(draw, only=None):
    palette = draw(palettes())
    names = [c.name for c in palette]
    asked = {
        name: draw(values)
        for name, values in CONDITIONS.items()
        if (name == only if only else draw(st.booleans()))
    }
    fields = {
        "stripes": draw(st.integers(1, 4)),
        "grounds": draw(
            st.lists(st.sampled_from([*names, "white", "#2a1d18"]), max_size=2, unique=True)
        ),
        "strengths": draw(st.lists(st.sampled_from([0, 0.3, 0.5, 0.8, 1]), min_size=1, max_size=2)),
        "mixings": [draw(st.sampled_from(MIXINGS))],
        "visions": draw(st.lists(st.sampled_from(VISIONS), max_size=2, unique=True)),
        "severity": draw(st.sampled_from([1.0, 0.6])),
        "must": draw(st.lists(st.sampled_from(names), max_size=2, unique=True)),
        "must_not": draw(st.lists(st.sampled_from(names), max_size=2, unique=True)),
        "measure": draw(st.sampled_from(MEASURES)),
        "measured": draw(st.sampled_from(["normal", "worst", "tritan"])),
        "warp_share": draw(st.sampled_from([0.5, 0.3])),
        **asked,
    }
    try:
        return Wanted(palette, **fields)
    except ValueError:  # too few colours for that many stripes, must and must_not at odds
        reject()


def close(one, two):
    return one == pytest.approx(two, abs=SLACK, rel=0)


def check(wanted):
    brute = Brute(wanted)
    result = search(wanted, k=7, pool=100)
    assert result.total == wanted.count == len(brute.rows)
    assert result.counts.total == result.total
    assert result.complete
    assert result.counts.met == brute.met.sum(axis=1).tolist()
    alone = [
        int((~brute.met[q] & np.delete(brute.met, q, axis=0).all(axis=0)).sum())
        for q in range(len(brute.met))
    ]
    assert result.counts.only == alone
    assert result.counts.met_all == brute.passing.sum()
    bins = np.bincount(bins_of(brute.values, wanted.measure), minlength=256)
    assert result.counts.spread == bins.tolist()
    everything = brute.best()
    known = {(setting, members): value for value, setting, members in everything}
    for hit in result.found:
        # it passes, and has the value it says
        assert close(hit.value, known[hit.setting, hit.members])
    expected = everything[: result.k]
    got = result.found[: result.k]
    assert len(got) == len(expected)
    assert close([f[0] for f in got], [f[0] for f in expected])
    # The same ones in the same order, but for values that differ in the last digit only.
    for one, two in zip(got, expected, strict=True):
        assert one[1:] == two[1:] or abs(known[one[1:]] - two[0]) <= SLACK
    only_best = search(wanted, k=7, pool=100, how="best")
    assert only_best.found == result.found
    assert only_best.counts is None
    if only_best.all_found:
        assert len(only_best.found) == result.counts.met_all


quick = settings(
    max_examples=60,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much],
)


@quick
@given(briefs())
def test_conditions_together_against_brute_force(wanted):
    check(wanted)


@pytest.mark.parametrize("only", CONDITIONS)
@settings(quick, max_examples=15)
@given(data=st.data())
def test_each_condition_alone_against_brute_force(only, data):
    check(data.draw(briefs(only)))


@pytest.mark.parametrize(
    "colours",
    [
        ["#808080"] * 9,
        ["black", "white"] * 4,
        [f"rgb({v} {v} {v})" for v in range(0, 252, 31)],
        ["red", "lime", "blue", "cyan", "magenta", "yellow", "black", "white", "gray"],
    ],
    ids=["all equal", "two colours", "greys", "corners"],
)
@pytest.mark.parametrize("stripes", [1, 2, 3, 4])
def test_degenerate_palettes_against_brute_force(colours, stripes):
    palette = Palette("d", [NamedColour.of(c, f"c{i}") for i, c in enumerate(colours)])
    check(
        Wanted(
            palette,
            stripes,
            grounds=["white", "#445566"],
            strengths=[0, 0.5, 1],
            ground_apart=10,
            crossings_apart=2,
            stripes_apart=1,
            crossings_unlike=0.5,
            lightness_order=True,
            visions=["deutan"],
            measured="worst",
        )
    )


def test_the_brute_side_can_tell_all_some_and_none():
    seen = set()
    palette = Palette("p", ["white", "navy", "teal", "gold", "coral", "#eee"])
    for apart in (0, 20, 90):
        brute = Brute(Wanted(palette, 2, grounds=["white"], ground_apart=apart))
        seen.add((bool(brute.passing.any()), bool(brute.passing.all())))
    assert seen == {(True, True), (True, False), (False, False)}


def colex(count, size):
    """Every choice in colex order, the plain way: sorted by its greatest, then the next."""
    return sorted(combinations(range(count), size), key=lambda row: row[::-1])


# -- every value, to the last digit ----------------------------------------------------------------


@pytest.mark.parametrize("mixing", MIXINGS)
@pytest.mark.parametrize("measure", MEASURES)
def test_every_value_is_the_one_score_gives(mixing, measure):
    rng = np.random.default_rng(11)
    palette = Palette("p", [f"#{v:06x}" for v in rng.integers(0, 1 << 24, 11)])
    wanted = Wanted(palette, 4, grounds=["ivory"], mixings=[mixing], measure=measure)
    setting = wanted.setting(0)
    table = measure_table(SettingTables(wanted, setting), wanted)
    values = reduce_choices(np.minimum, table[np.ix_(setting.free, setting.free)], 4)
    rows = np.array(setting.free)[colex(len(setting.free), 4)]
    colourways = [
        Colourway(setting.ground, [wanted.candidates[p] for p in row], 0.5, mixing) for row in rows
    ]
    kind, by = measure_parts(measure)
    if by == "harmony":
        expected = least_harmony(colourways)
    else:
        expected = reached(score(colourways), kind, by)
    np.testing.assert_allclose(values, expected, rtol=0, atol=SLACK)


@pytest.mark.parametrize("arity", [1, 2, 3, 4])
@pytest.mark.parametrize("size", [1, 2, 3, 4, 5, 6])
@pytest.mark.parametrize("ufunc", [np.minimum, np.bitwise_or])
def test_reduced_tables_against_the_definition(arity, size, ufunc):
    rng = np.random.default_rng(arity * 10 + size)
    count = 8
    table = np.zeros((count,) * arity, dtype=np.uint16)
    for picked in combinations(range(count), arity):
        value = rng.integers(0, 1 << 10)
        for index in permutations(picked):
            table[index] = value
    got = reduce_choices(ufunc, table, size)
    if size < arity:
        assert got is None
        return
    expected = [
        ufunc.reduce([table[picked] for picked in combinations(row, arity)])
        for row in colex(count, size)
    ]
    assert got.tolist() == expected
