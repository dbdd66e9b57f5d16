"""The verdict on a strike-off is as good as its arithmetic: simulated, and held to libraries."""

from __future__ import annotations

import importlib.util
from pathlib import Path

import colour
import numpy as np
import pytest
import scipy
from hypothesis import given
from hypothesis import strategies as st

from checkcloth import delta_e_cmc
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.mixing import MIXINGS
from checkcloth.colour.reflectance import WAVELENGTHS, reflectances
from checkcloth.colour.spaces import srgb_to_lab
from checkcloth.quality import Readings, check_strike_off
from checkcloth.quality.diagnosis.exchange import assign
from checkcloth.quality.diagnosis.made import MadeCloth
from checkcloth.quality.diagnosis.misread import lab_10_degree
from checkcloth.quality.diagnosis.verdict import scatter_of
from checkcloth.quality.readings import Reading

_PLACE = Path(__file__).resolve().parents[1] / "bench" / "bench_diagnosis.py"
_SPEC = importlib.util.spec_from_file_location("bench_diagnosis", _PLACE)
bench = importlib.util.module_from_spec(_SPEC)
__import__("sys").modules["bench_diagnosis"] = bench  # its dataclasses look themselves up
_SPEC.loader.exec_module(bench)

SPEC = Colourway("#f6f1e4", ["#14325c", "#b8374f", "#3d6b45"], 0.5, name="Halt")


def readings_of(spec, printed, *, noise=0.1, each=3, seed=1, names=None, only=None):
    rng = np.random.default_rng(seed)
    tones = spec.unique_tones if only is None else [spec.unique_tones[row] for row in only]
    found = []
    for line, tone in enumerate(tones):
        name = (names or {}).get(tone.name, tone.name)
        lab = srgb_to_lab(printed.tones[tone.warp, tone.weft])
        found += [Reading(name, tuple(lab + rng.normal(0, noise, 3)), line) for _ in range(each)]
    return Readings("made", "D65", 2, tuple(found))


# -- the simulated table (DEVELOPERS.md), at a smaller number and with room ------------------------


@pytest.mark.parametrize("cause", bench.ONE)
def test_where_one_cause_acts_it_is_named(cause):
    found = bench.tally(np.random.default_rng(3), (cause,), 5)
    assert found["right"] >= 4
    assert found["wrongly alone"] == 0


@pytest.mark.parametrize("count", [2, 3])
def test_where_more_act_one_alone_is_hardly_ever_said(count):
    found = bench.tally(np.random.default_rng(4), count, 15)
    assert found["alone"] <= 1
    assert found["part"] >= 12


def test_scatter_is_laid_on_no_cause():
    found = bench.tally(np.random.default_rng(5), (), 15)
    assert found["none"] + found["small"] >= 14


# -- single sentences --------------------------------------------------------------------------


@pytest.mark.parametrize("seed", range(4))
def test_strength_and_ground_together_are_never_one_cause_alone(seed):
    printed = SPEC.with_(strength=0.56, ground="#ece2cc")
    result = check_strike_off(SPEC, readings_of(SPEC, printed, seed=seed))
    assert result.diagnosis.verdict == "two"
    assert set(result.diagnosis.named[0].parts) == {"strength", "ground"}
    assert result.explanation.startswith("Two causes together")


def test_what_no_pair_explains_is_said_to_be_more():
    printed = SPEC.with_(strength=0.68, ground="#ece2cc", stripes=["#14325c", "#b03060", "#4d7b35"])
    result = check_strike_off(SPEC, readings_of(SPEC, printed))
    assert result.diagnosis.verdict == "most"
    assert "so there is more" in result.explanation


def test_where_two_causes_act_and_two_names_are_exchanged_the_names_go_first():
    """As somebody mends it: put right what is said to be wrong, and check again."""
    printed = SPEC.with_(strength=0.56, ground="#ece2cc")
    one, two = "#14325c on #f6f1e4", "#3d6b45 on #f6f1e4"
    result = check_strike_off(SPEC, readings_of(SPEC, printed, names={one: two, two: one}))
    assert result.diagnosis.verdict == "most"
    assert {*result.diagnosis.named[0].moved} == {one, two}
    assert f"Put the readings of '{one}' and '{two}' under their own names" in result.explanation
    again = check_strike_off(SPEC, readings_of(SPEC, printed)).diagnosis
    assert again.verdict == "two"
    assert {*again.named[0].parts} == {"strength", "ground"}


def test_two_exchanged_names_are_found():
    one, two = "#14325c on #f6f1e4", "#3d6b45 on #f6f1e4"
    readings = readings_of(SPEC, SPEC, names={one: two, two: one})
    diagnosis = check_strike_off(SPEC, readings).diagnosis
    assert diagnosis.verdict == "one"
    assert diagnosis.named[0].parts == ("tones exchanged",)
    assert set(diagnosis.named[0].moved) == {one, two}


def test_names_that_slipped_by_a_line_are_found():
    names = [tone.name for tone in SPEC.unique_tones]
    slipped = dict(zip(names, [*names[1:], names[0]], strict=True))
    diagnosis = check_strike_off(SPEC, readings_of(SPEC, SPEC, names=slipped)).diagnosis
    assert diagnosis.verdict == "one"
    assert set(diagnosis.named[0].moved) == set(names)


def test_a_fitted_ground_is_not_contradicted_by_its_own_reading():
    for seed in range(3):
        printed = SPEC.with_(strength=0.62, stripes=["#203e68", "#b8374f", "#3d6b45"])
        readings = readings_of(SPEC, printed, seed=seed)
        result = check_strike_off(SPEC, readings)
        own = np.mean([r.lab for r in readings.readings if r.tone == "#f6f1e4"], axis=0)
        grounds = [cause for cause in result.diagnosis.singles if cause.parts == ("ground",)]
        for cause in grounds:
            assert delta_e_cmc(own, srgb_to_lab(cause.numbers)) < 0.4
        for cause in (*result.diagnosis.pairs, *grounds):
            if "ground" in cause.parts and "exchanged" not in cause.name:
                at = cause.parts.index("ground")
                assert at in (0, 1)


def test_woven_warp_and_weft_cannot_be_told_apart_and_what_to_do_is_said():
    spec = SPEC.with_(mixing="woven")
    cloth = MadeCloth(spec, [(tone.warp, tone.weft) for tone in spec.unique_tones])
    state = cloth.start.copy()
    state[0] = 0.62
    labs = cloth.lab(state[None], "woven")[0]
    found = tuple(
        Reading(tone.name, tuple(lab), line)
        for line, (tone, lab) in enumerate(zip(spec.unique_tones, labs, strict=True))
    )
    result = check_strike_off(spec, Readings("made", "D65", 2, found))
    assert result.diagnosis.verdict == "one of"
    assert {cause.name for cause in result.diagnosis.named} == {"warp strength", "weft strength"}
    assert "side by side" in result.explanation


def test_where_measured_tones_cannot_tell_the_one_that_could_is_named():
    # Only what stripe 1 makes was measured: its colour and the strength look alike.
    spec = Colourway("white", ["#808080", "#205080"], 0.5)
    printed = spec.with_(strength=0.55)
    rows = [row for row, tone in enumerate(spec.unique_tones) if 2 not in (tone.warp, tone.weft)]
    result = check_strike_off(spec, readings_of(spec, printed, only=rows, noise=0.2, each=2))
    assert {"strength", "stripe 1"} & {cause.name for cause in result.diagnosis.named}
    if result.diagnosis.verdict == "one of":
        assert "Measure " in result.explanation or "Read " in result.explanation


def test_shares_are_plain_not_squared():
    printed = SPEC.with_(strength=0.6)
    cause = check_strike_off(SPEC, readings_of(SPEC, printed, noise=0)).causes[0]
    assert cause.explained == pytest.approx(1, abs=0.01)
    other = check_strike_off(SPEC, readings_of(SPEC, printed, noise=0)).causes[-1]
    whole = check_strike_off(SPEC, readings_of(SPEC, printed, noise=0)).checks
    size = np.sqrt(np.mean([check.cmc**2 for check in whole]))
    free = len(other.numbers)
    n = 3 * len(whole)
    assert other.explained == pytest.approx(1 - other.left * np.sqrt(n / (n - free)) / size)


# -- arithmetic ----------------------------------------------------------------------------------


@given(st.integers(1, 12), st.integers(0, 2**32 - 1))
def test_assignment_costs_as_little_as_scipys(size, seed):
    costs = np.random.default_rng(seed).uniform(0, 9, (size, size)) ** 2
    order = assign(costs)
    assert sorted(order) == list(range(size))
    rows, columns = scipy.optimize.linear_sum_assignment(costs)
    assert costs[np.arange(size), order].sum() == pytest.approx(costs[rows, columns].sum())


@pytest.mark.parametrize("mixing", MIXINGS)
def test_strengths_of_their_own_meet_the_common_one(mixing):
    spec = SPEC.with_(mixing=mixing)
    cloth = MadeCloth(spec, [(tone.warp, tone.weft) for tone in spec.unique_tones])
    if not cloth.has_one_way:  # of its layout only one strength is known
        assert "warp strength" not in cloth.parts
        return
    apart = cloth.start.copy()
    apart[1] += 1e-10
    plain = cloth.lab(cloth.start[None], mixing)
    assert np.allclose(cloth.lab(apart[None], mixing), plain, atol=1e-6)


@pytest.mark.parametrize("mixing", MIXINGS)
def test_a_cloth_is_the_same_beside_one_whose_strengths_differ(mixing):
    """Slopes are taken of many states at once, of which two have strengths of their own."""
    spec = SPEC.with_(mixing=mixing)
    cloth = MadeCloth(spec, [(tone.warp, tone.weft) for tone in spec.unique_tones])
    apart = cloth.start.copy()
    apart[1] /= 2
    both = cloth.lab(np.array([cloth.start, apart]), mixing)
    assert np.allclose(both[0], cloth.lab(cloth.start[None], mixing)[0], atol=1e-9)


def test_scatter_is_that_of_the_means():
    rng = np.random.default_rng(2)
    wanted = np.tile([50.0, 0, 0], (400, 1))
    # CMC weights of a mid grey, by Clarke, McDonald and Rigg 1984: 2·S_L, S_C, S_H.
    sl = 0.040975 * 50 / (1 + 0.01765 * 50)
    readings = [wanted[0] + rng.normal(0, 0.3, (3, 3)) for _ in wanted]
    expected = 0.3 / np.sqrt(3) * np.sqrt(1 / (2 * sl) ** 2 + 2 / 0.638**2)
    assert scatter_of(readings, wanted) == pytest.approx(expected, rel=0.05)
    assert np.isnan(scatter_of([each[:1] for each in readings], wanted))


def test_ten_degrees_are_colour_sciences():
    """Integrated at 1 nm by colour-science; the kit's weights are rounded to millionths."""
    rgb = np.random.default_rng(1).uniform(0.05, 0.95, (6, 3))
    every = colour.SpectralShape(360, 780, 1)
    observer = colour.MSDS_CMFS["CIE 1964 10 Degree Standard Observer"].copy().align(every)
    light = colour.SDS_ILLUMINANTS["D65"].copy().align(every)

    def integrated(reflectance):
        sd = colour.SpectralDistribution(reflectance, WAVELENGTHS).interpolate(
            colour.SpectralShape(380, 730, 1), interpolator=colour.SpragueInterpolator
        )
        return colour.sd_to_XYZ(sd.extrapolate(every), observer, light, method="Integration")

    white = integrated(np.ones(36))
    for spectrum, found in zip(reflectances(rgb), lab_10_degree(rgb), strict=True):
        xyz = integrated(spectrum) / white[1]
        assert np.allclose(colour.XYZ_to_Lab(xyz, colour.XYZ_to_xy(white)), found, atol=1e-3)


def test_a_weft_of_its_own_has_causes_of_its_own():
    spec = Colourway("#f6f1e4", ["#14325c", "#b8374f"], 0.5, weft_stripes=["#3d6b45"])
    printed = Colourway("#f6f1e4", ["#14325c", "#b8374f"], 0.5, weft_stripes=["#5a7f3a"])
    diagnosis = check_strike_off(spec, readings_of(spec, printed)).diagnosis
    assert diagnosis.verdict == "one"
    assert diagnosis.named[0].parts == ("weft stripe 1",)
    stronger = check_strike_off(spec, readings_of(spec, spec.with_(strength=0.6))).diagnosis
    assert stronger.named[0].parts == ("strength",)
