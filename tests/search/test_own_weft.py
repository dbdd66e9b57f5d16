"""The search of wefts with colours of their own, against every warp with every weft, scored.

The peer is ``score`` and the pairs of tones of plainly listed colourways.
"""

from __future__ import annotations

import threading
from itertools import combinations, permutations

import numpy as np
import pytest
from drawn_bands import laid
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from checkcloth import Check, Colourway, Palette, score
from checkcloth.cloth.tones import tones_of
from checkcloth.colour.spaces import srgb_to_lab
from checkcloth.colour.vision import see_as
from checkcloth.errors import ArgumentError, FileFormatError
from checkcloth.ideas.variants import ring
from checkcloth.scoring.harmony import two_colour_harmony
from checkcloth.scoring.measures import find_measure
from checkcloth.scoring.pairs import named_pairs
from checkcloth.search import Wanted, blocks, common_share, estimate, relaxations, search
from checkcloth.search.counts import bins_of
from checkcloth.search.wanted import CONDITIONS, measure_parts

PALETTE = Palette("few", ["white", "#a62a3c", "#3f6fb0", "#4f9070", "#d8a23a", "#222"])


def least(colourways, kind, by, vision, check):
    """What each reaches, pair by pair; no pair of that kind is no obstacle."""
    # Of one that is no mirror: least over pairs that are the same only come twice in others.
    whole = next((one for one in colourways if one.weft_stripes), colourways[0])
    pairs = named_pairs(whole, "edges" if kind == "least_edge" else kind, check)
    if not len(pairs):
        return np.full(len(colourways), np.inf)
    seen = see_as(tones_of(colourways), vision)
    one, two = seen[:, *pairs.one.T], seen[:, *pairs.two.T]
    if by == "harmony":
        return two_colour_harmony(srgb_to_lab(one), srgb_to_lab(two)).min(axis=1)
    return find_measure(by).compare(one, two).min(axis=1)


class Brute:
    """Every distinct colourway of a brief, with its value and whether it meets everything."""

    def __init__(self, wanted):
        check, rows = wanted.check, {}
        written = permutations if wanted.order_counts else combinations
        for setting in wanted.settings:
            fits = [] if setting.choose < 0 else sorted((*setting.free, *setting.must))
            for warp in written(fits, wanted.stripes):
                if not {*setting.must} <= {*warp}:
                    continue
                stand = zip(wanted.placed, warp, strict=False)
                if wanted.order_counts and any(
                    own not in (None, wanted.candidates[at]) for own, at in stand
                ):
                    continue
                others = [at for at in fits if at not in warp]
                pool = others if len(others) >= wanted.weft_stripes else fits
                for weft in written(pool, wanted.weft_stripes):
                    ways = [tuple(wanted.candidates[at] for at in way) for way in (warp, weft)]
                    key = ring(ways[0], check, ways[1]) if wanted.order_counts else (warp, weft)
                    rows.setdefault((setting.number, key), (setting, *ways, warp, weft))
        self.keys = [*rows]
        self.choices = [(row[0].number, frozenset(row[3]), frozenset(row[4]))
                        for row in rows.values()]  # fmt: skip
        self.colourways = [
            Colourway(setting.ground, warp, setting.strength, setting.mixing, weft_stripes=weft)
            for setting, warp, weft, *_ in rows.values()
        ]
        kind, by = measure_parts(wanted.measure)
        self.values = np.min(
            [least(self.colourways, kind, by, vision, check) for vision in wanted.measure_visions],
            axis=0,
        )
        self.held = np.ones(len(rows), dtype=bool)
        for vision in ("normal", *wanted.visions):
            for name, (kind, by, _) in CONDITIONS.items():
                asked = getattr(wanted, name)
                if asked is not None:
                    self.held &= least(self.colourways, kind, by, vision, check) >= asked
            if wanted.lightness_order:
                seen = score(self.colourways, vision, check=check)
                self.held &= np.asarray(seen.lightness_runs)


@st.composite
def briefs(draw):
    stripes, wefts = draw(st.integers(1, 3)), draw(st.integers(1, 3))
    uneven = draw(st.booleans())
    check = draw(st.sampled_from([None, Check("1 cm", stripes, weft_stripes=wefts)]))
    if uneven:
        warp, weft = (laid(count, draw, again=2, widest=2) for count in (stripes, wefts))
        check = Check("1/8 in", stripes, warp=warp, weft=weft, weft_stripes=wefts)
    more = draw(
        st.sampled_from([
            {}, {"ground_apart": 20}, {"crossings_apart": 8, "visions": ["deutan"]},
            {"edge_lightness": 4}, {"lightness_order": True}, {"stripes_apart": 25},
            {"edge_ratio": 1.2, "must": ["#222"]}, {"edge_hyab": 15}, {"edge_harmony": 0.1},
            {"crossings_unlike": 6},
        ])
    )  # fmt: skip
    if draw(st.booleans()):
        more = more | {"placed": draw(st.permutations([None, "#3f6fb0", None]))[:stripes]}
    measure = draw(st.sampled_from(["least_edge", "single_crossing_hyab", "least_edge_dl"]))
    mixing = draw(st.sampled_from(["source-over", "woven", "multiply"]))
    grounds = draw(st.sampled_from([["white"], ["white", "#222"]]))
    return Wanted(PALETTE, stripes, grounds, 0.5, mixing, measure=measure, check=check,
                  weft_stripes=wefts, **more)  # fmt: skip


@settings(max_examples=80, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(briefs(), st.integers(1, 60))
def test_wefts_of_their_own_are_searched_exactly(wanted, weight):
    brute = Brute(wanted)
    expected = np.sort(brute.values[brute.held])[::-1]
    result = search(wanted, 10_000, how="every")
    assert result.total == wanted.count == len(brute.keys)
    assert result.counts.total == result.settled == len(brute.keys)
    assert result.counts.met_all == len(expected)
    assert len(result.found) == min(len(expected), 10_000)
    np.testing.assert_allclose(result.values, expected[:10_000], atol=1e-6)
    bins = np.bincount(bins_of(brute.values, wanted.measure), minlength=256)
    edges = sum(abs(v * 2 - round(v * 2)) < 1e-6 for v in brute.values if np.isfinite(v))
    assert np.abs(np.array(result.counts.spread) - bins).sum() <= 2 * edges
    # each cloth once, and each has the value that is said
    known = dict(zip(brute.keys, brute.values, strict=True))
    seen = set()
    for hit in result.found:
        one = hit.colourway(wanted)
        key = hit.choice(wanted)
        if wanted.order_counts:
            key = ring(one.stripes, wanted.check, one.weft_colours)
        seen.add((hit.setting, key))
        assert hit.value == pytest.approx(known[hit.setting, key], abs=1e-6)
        assert (len(one.stripes), len(one.weft_colours)) == (wanted.stripes, wanted.weft_stripes)
    assert len(seen) == len(result.found)
    for k in (1, 3, 8):
        assert search(wanted, k, how="best", pool=0).found[:k] == result.found[:k]
    # every choice of colours once, in its best order
    once = search(wanted, 10_000, how="best", one_order=True)
    by_choice = {}
    for choice, value, held in zip(brute.choices, brute.values, brute.held, strict=True):
        if held:
            by_choice[choice] = max(value, by_choice.get(choice, -4))
    np.testing.assert_allclose(once.values, sorted(by_choice.values(), reverse=True), atol=1e-6)
    # cut into parts, which are as large as they say
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(blocks, "_WEIGHT", weight)
        patch.setattr(blocks, "_PARTS", 1)
        job = blocks.Job(wanted, "every", 50)
        for part in blocks.parts_of(job):
            done = blocks.run_block(job, blocks.Block(0, (part,)))
            assert done.counts.total == part.count
    # drawn by lot: only what there is, with the same value
    sample = search(wanted, 50, how="sample", draws=300)
    assert sample.counts.total == 300
    values = {(hit.setting, hit.members): hit.value for hit in result.found}
    if len(result.found) == len(expected):
        assert {(h.setting, h.members): h.value for h in sample.found}.items() <= values.items()


MORE = Palette("more", [*PALETTE.colours, "#e8c", "#7a5", "#15a", "#b73"])


@pytest.mark.parametrize("bands", [None, "graduated"])
def test_a_sample_of_wefts_agrees_with_the_count(bands):
    check = bands and Check("1 cm", 3, warp=bands, weft="1 A, 1 B, 1 ground", weft_stripes=2)
    wanted = Wanted(MORE, 3, ["white", "#222"], ground_apart=17, crossings_apart=3,
                    visions=["deutan"], check=check or None, weft_stripes=2)  # fmt: skip
    truth, sample = search(wanted), search(wanted, how="sample", draws=5000)
    share = truth.counts.met_all / truth.total
    assert 0.05 < share < 0.95
    assert abs(sample.counts.met_all / 5000 - share) < 5 * (share * (1 - share) / 5000) ** 0.5


def test_wefts_are_kept_go_on_and_come_on_a_shortlist(tmp_path, monkeypatch):
    monkeypatch.setattr(blocks, "_WEIGHT", 200)
    monkeypatch.setattr(blocks, "_PARTS", 1)
    wanted = Wanted(MORE, 3, ["white"], ground_apart=12, weft_stripes=2)
    whole, path, stop, said = search(wanted, 30), tmp_path / "b.blocks", threading.Event(), []

    def progress(done, total):
        said.append((done, total))
        if len(said) == 3:
            stop.set()

    assert search(wanted, 30, progress=progress, stop=stop, keep=path).stopped
    with pytest.raises(FileFormatError):  # without wefts it is another search
        search(wanted.with_(weft_stripes=0), 30, keep=path)
    again = search(wanted, 30, keep=path)
    assert (again.found, again.counts) == (whole.found, whole.counts)
    short = again.shortlist(6)
    assert len({member.colourway for member in short}) == 6
    for member in short:
        one = member.colourway
        assert len(one.weft_stripes) == 2
        assert not {*one.stripes} & {*one.weft_stripes}  # colours of its own
        assert f"least edge ΔE00 {float(score(one).least_edge):.1f} (" in member.reason
    assert "3 stripes and 2 of the weft's own from" in str(wanted)
    assert "given bands" not in str(whole)
    assert estimate(wanted).colourways == wanted.count == whole.total


def test_what_to_give_up_with_wefts():
    hard = Wanted(MORE, 3, ["white"], ground_apart=40, crossings_apart=2, weft_stripes=3)
    assert not search(hard).found
    ground, _ = relaxations(hard)
    assert search(hard.with_(ground_apart=ground.value)).found
    assert not search(hard.with_(ground_apart=ground.reached + 1e-6)).found
    share = common_share(hard)
    assert search(hard.with_(ground_apart=40 * share * 0.999, crossings_apart=2 * share)).found


def test_a_weft_may_have_the_warps_colours_only_where_there_are_no_others():
    four = Palette("four", ["#a62a3c", "#3f6fb0", "#4f9070", "#d8a23a"])
    assert Wanted(four, 2, ["white"], weft_stripes=2).count == 6  # the other two
    assert Wanted(four, 3, ["white"], weft_stripes=2).count == 4 * 6  # any two


@pytest.mark.parametrize(
    ("fields", "argument"),
    [
        ({"weft_stripes": 25}, "weft_stripes"),
        ({"weft_stripes": 7}, "weft_stripes"),
        ({"weft_stripes": 2, "check": Check("1 cm", 3)}, "check"),
        ({"weft_stripes": 2, "check": Check("1 cm", 3, weft="1 A", weft_stripes=2)}, "check"),
        ({"stripes": 7, "weft_stripes": 2}, "stripes"),
    ],
)
def test_wefts_that_cannot_be(fields, argument):
    with pytest.raises(ArgumentError) as caught:
        Wanted(**{"palette": PALETTE, "stripes": 3, "grounds": ["red"]} | fields)
    assert caught.value.argument == argument


def test_a_weft_of_its_own_in_the_best_of_many():
    """Six of 24 each way, by bounding: what is found is scored, and no change of one is better."""
    rng = np.random.default_rng(5)
    palette = Palette("drawn", [f"#{v:06x}" for v in rng.integers(0, 1 << 24, 24)])
    wanted = Wanted(palette, 4, ["white"], weft_stripes=3)
    best = search(wanted, 20, how="best", pool=0, one_order=True)
    assert best.proof
    first = best.best[0]
    assert float(score(first).least_edge) == pytest.approx(best.values[0], abs=1e-9)
    for at in range(3):
        for other in palette.colours:
            wefts = [*first.weft_stripes]
            if other not in (*first.stripes, *wefts):
                wefts[at] = other
                changed = first.with_(weft_stripes=wefts)
                assert float(score(changed).least_edge) <= best.values[0] + 1e-9
