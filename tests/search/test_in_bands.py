"""The search in given bands, against every order of every choice scored one by one."""

from __future__ import annotations

import threading
from concurrent.futures import ThreadPoolExecutor
from itertools import permutations

import numpy as np
import pytest
from drawn_bands import laid
from hypothesis import given, settings
from hypothesis import strategies as st

from checkcloth import Check, Colourway, Palette, score
from checkcloth.colour.vision import see_as
from checkcloth.errors import ArgumentError, FileFormatError
from checkcloth.ideas.variants import ring
from checkcloth.scoring.measures import find_measure
from checkcloth.scoring.pairs import named_pairs
from checkcloth.search import Wanted, blocks, relaxations, search, search_in_bands
from checkcloth.search.checkpoint import fingerprint
from checkcloth.search.counts import bins_of
from checkcloth.search.wanted import measure_parts

PALETTE = Palette("few", ["white", "#a62a3c", "#3f6fb0", "#4f9070", "#d8a23a", "#222"])


@st.composite
def briefs(draw):
    stripes = draw(st.integers(1, 3))
    warp, weft = (laid(stripes, draw, again=4, widest=3) for _ in range(2))
    check = Check("1/8 in", stripes, warp=warp, weft=weft)
    more = draw(
        st.sampled_from([
            {}, {"ground_apart": 12}, {"crossings_apart": 6, "visions": ["deutan"]},
            {"edge_lightness": 4}, {"lightness_order": True}, {"stripes_apart": 25},
            {"edge_ratio": 1.2, "must": ["#222"]}, {"crossings_unlike": 3}, {"edge_hyab": 12},
        ])
    )  # fmt: skip
    if stripes > 1 and draw(st.booleans()):
        first = draw(st.permutations([None, "#3f6fb0", "#222", None]))[:stripes]
        more = more | {"placed": first}
    measure = draw(
        st.sampled_from(["least_edge", "single_crossing", "least_edge_dl", "least_edge_hyab"])
    )
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
        for name, by in (("edge_lightness", "dl"), ("edge_ratio", "ratio"), ("edge_hyab", "hyab")):
            asked = getattr(wanted, name)
            if asked is not None and edge(check, one, by, vision) < asked:
                return False
    return True


def edge(check, one, by, vision="normal"):
    pairs, seen = named_pairs(one, "edges", check), see_as(one.tones, vision)
    found = find_measure(by).compare(seen[*pairs.one.T], seen[*pairs.two.T])
    return float(found.min()) if len(found) else np.inf


def every_one(wanted, check):
    """Every distinct colourway in given bands, written out and scored one by one.

    By setting and cloth: its value, whether it meets each condition under each vision together,
    and its colours.
    """
    kind, by = measure_parts(wanted.measure)
    every = {}
    for setting in wanted.settings:
        colours = [wanted.candidates[index] for index in (*setting.free, *setting.must)]
        for row in permutations(colours, wanted.stripes):
            if not setting.count or not {wanted.candidates[i] for i in setting.must} <= {*row}:
                continue
            if any(
                own not in (None, other) for own, other in zip(wanted.placed, row, strict=False)
            ):
                continue
            key = setting.number, ring(row, check)
            if key in every:
                continue
            one = Colourway(setting.ground, row, setting.strength, setting.mixing)
            if kind == "least_edge":
                value = edge(check, one, by)
            else:
                value = float(getattr(score(one, check=check), kind).least_de2000)
            value = np.inf if np.isnan(value) else value
            every[key] = value, holds(wanted, check, one), frozenset(row)
    return every


@settings(max_examples=200, deadline=None)
@given(briefs())
def test_the_search_in_bands_is_exact(case):
    check, plain = case
    wanted = plain.with_(check=check)
    if wanted.bands is None:
        return
    every = every_one(wanted, check)
    values = sorted((value for value, held, _ in every.values() if held), reverse=True)
    result = search(wanted, 10_000)
    assert result.total == wanted.count == len(every)
    assert result.counts.total == result.settled == len(every)
    assert result.counts.met_all == len(values) == len(result.found)
    assert result.all_found
    np.testing.assert_allclose(result.values, values, atol=1e-9)
    bins = np.bincount(bins_of(np.array([v for v, *_ in every.values()]), wanted.measure),
                       minlength=256)  # fmt: skip
    near = np.abs(np.array(result.counts.spread) - bins)
    assert near.sum() <= 2 * sum(abs(v * 2 - round(v * 2)) < 1e-6 for v, *_ in every.values()
                                 if np.isfinite(v))  # fmt: skip
    # each cloth once, and each has the value that is said
    seen = {(hit.setting, ring(hit.colourway(wanted).stripes, check)): hit.value
            for hit in result.found}  # fmt: skip
    assert len(seen) == len(result.found)
    for key, value in seen.items():
        assert value == pytest.approx(every[key][0], abs=1e-9)
    # by bounding alone, few of many: the same ones
    for k in (1, 3, 8):
        best = search(wanted, k, how="best", pool=0)
        assert best.found[:k] == result.found[:k]
    # every choice of colours once, in its best order
    once = search(wanted, 10_000, how="best", one_order=True)
    by_choice = {}
    for (setting, _), (value, held, row) in every.items():
        if held:
            by_choice[setting, row] = max(value, by_choice.get((setting, row), -1))
    assert len(once.found) == len(by_choice)
    np.testing.assert_allclose(once.values, sorted(by_choice.values(), reverse=True), atol=1e-9)


@settings(max_examples=60, deadline=None)
@given(briefs(), st.integers(1, 40), st.integers(0, 2))
def test_parts_in_bands_hold_each_arrangement_once(case, weight, seed):
    check, plain = case
    wanted = plain.with_(check=check)
    if wanted.bands is None:
        return
    whole = search(wanted, 50)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(blocks, "_WEIGHT", weight)
        patch.setattr(blocks, "_PARTS", 1)
        job = blocks.Job(wanted, "every", 50)
        for part in blocks.parts_of(job):
            done = blocks.run_block(job, blocks.Block(0, (part,)))
            assert done.counts.total == part.count
        again = search(wanted, 50)
    assert (again.found, again.counts) == (whole.found, whole.counts)
    # drawn by lot: only what there is, with the same value
    sample = search(wanted, 50, how="sample", draws=300, seed=seed)
    assert sample.counts.total == 300
    known = {(hit.setting, hit.members): hit.value for hit in search(wanted, 10_000).found}
    assert {(h.setting, h.members): h.value for h in sample.found}.items() <= known.items()
    once = search(wanted, 50, how="sample", draws=300, seed=seed, one_order=True)
    choices = [(hit.setting, tuple(sorted(hit.members))) for hit in once.found]
    assert len({*choices}) == len(choices)


SEVEN = Palette("seven", [*PALETTE.colours, "#e8c", "#7a5", "#15a"])


@pytest.fixture
def seven():
    warp = "2 A, 1 ground, 1 B, 1 C, 1 A, 2 ground, 1 D"
    check = Check("1 cm", 4, warp=warp, weft="graduated")
    return Wanted(SEVEN, 4, ["white", "#222"], [0.4, 0.7], ground_apart=9, stripes_apart=9,
                  visions=["deutan"], check=check)  # fmt: skip


def test_a_sample_in_bands_agrees_with_the_count(seven):
    truth, sample = search(seven), search(seven, how="sample", draws=5000)
    share = truth.counts.met_all / truth.total
    assert 0.05 < share < 0.95
    error = (share * (1 - share) / 5000) ** 0.5
    assert abs(sample.counts.met_all / 5000 - share) < 5 * error


def test_it_stops_goes_on_and_runs_anywhere(seven, tmp_path, monkeypatch):
    monkeypatch.setattr(blocks, "_WEIGHT", 500)
    monkeypatch.setattr(blocks, "_PARTS", 1)
    whole, path, stop, said = search(seven, 30), tmp_path / "b.blocks", threading.Event(), []

    def progress(done, total):
        said.append((done, total))
        if len(said) == 3:
            stop.set()

    part = search(seven, 30, progress=progress, stop=stop, keep=path)
    assert part.stopped
    assert 0 < part.settled == part.counts.total < part.planned == seven.count
    with pytest.raises(FileFormatError):  # other bands are another search
        search(seven.with_(check=seven.check.with_bands(weft="double")), 30, keep=path)
    again = search(seven, 30, keep=path)
    assert (again.found, again.counts) == (whole.found, whole.counts)
    with ThreadPoolExecutor(2) as threads:
        there = search(seven, 30, executor=threads)
    assert (there.found, there.counts) == (whole.found, whole.counts)


def test_its_shortlist_keeps_the_order_that_was_found(seven):
    result = search(seven, 50)
    short = result.shortlist(6)
    assert len(short) == 6
    found = {(c.ground.name, c.strength, tuple(s.name for s in c.stripes)) for c in
             (hit.colourway(seven) for hit in result.found)}  # fmt: skip
    for member in short:
        one = member.colourway
        assert (one.ground.name, one.strength, tuple(s.name for s in one.stripes)) in found
        assert f"least edge ΔE00 {edge(seven.check, one, 'de2000'):.1f} (" in member.reason
    assert "in given bands" in str(result)
    assert "in bands" in str(seven)


def test_what_to_give_up_in_bands(seven):
    hard = seven.with_(ground_apart=60, stripes_apart=None)
    assert not search(hard).found
    (lower,) = relaxations(hard)
    assert search(hard.with_(ground_apart=lower.value)).found
    assert not search(hard.with_(ground_apart=lower.reached + 1e-6)).found


@pytest.mark.parametrize("visions", [(), ("deutan", "grey")])
def test_lightness_runs_one_way_in_bands(visions):
    check = Check("1 cm", 3, warp="1 A, 1 B, 2 ground, 1 C", weft="1 C, 1 ground, 1 A, 1 B")
    wanted = Wanted(PALETTE, 3, ["white"], lightness_order=True, visions=visions, check=check)
    every = every_one(wanted, check)
    assert search(wanted).counts.met_all == sum(held for _, held, _ in every.values()) > 0


def test_an_even_check_is_no_check():
    """Of an even check nothing counts but that it is even, whatever its size."""
    plain = Wanted(PALETTE, 3, ["white"], ground_apart=10)
    even = plain.with_(check=Check("3 in", 3))
    assert even.bands is None
    assert fingerprint(blocks.Job(even, "every", 9)) == fingerprint(blocks.Job(plain, "every", 9))
    one, two = search(even), search(plain)
    assert (one.found, one.counts, str(one)) == (two.found, two.counts, str(two))


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
    with pytest.raises(ArgumentError, match="looking at every one takes about") as caught:
        search_in_bands(Wanted(many, 9), Check("1 cm", 9, warp="graduated"))
    assert caught.value.argument == "how"
    wide = Palette("wide", [f"#{n:02x}{255 - n:02x}40" for n in range(100)])
    side_by_side = Check("1 cm", 3, warp="1 A, 1 B, 1 C")
    with pytest.raises(ArgumentError, match="at most 96 stripe colours in bands where 3"):
        Wanted(wide, 3, check=side_by_side)
    assert Wanted(wide, 3, check=Check("1 cm", 3, warp="graduated")).orders == 6
