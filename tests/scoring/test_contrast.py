"""Scores against coloraide, scikit-image and colour-science, tone by tone."""

from __future__ import annotations

import itertools

import colour
import numpy as np
import pytest
from coloraide import Color
from hypothesis import given, settings
from hypothesis import strategies as st
from skimage.color import deltaE_ciede2000, rgb2lab

from checkcloth import MIXINGS, VISIONS, Colourway, draw_colourways, mix_tones, score, score_tones
from checkcloth.cloth.palette import Palette
from checkcloth.colour.vision import see_as
from checkcloth.errors import ArgumentError
from checkcloth.scoring.contrast import afar
from checkcloth.scoring.pairs import KINDS, tone_pairs

PALETTE = Palette(
    "okabe",
    # Okabe and Ito, "Color Universal Design", 2002/2008: black first, as ground.
    ["#000000", "#e69f00", "#56b4e9", "#009e73", "#f0e442", "#0072b2", "#d55e00", "#cc79a7"],
)


def plain_scores(tones, vision="normal"):
    """The scores worked out pair by pair, by the definitions, with scikit-image."""
    tones = see_as(tones, vision)
    number = len(tones) - 1
    # CIE XYZ of linear sRGB by IEC's rounded matrix: within 4e-5 of ours, hence rtol below.
    lab = rgb2lab(tones, illuminant="D65", observer="2")
    stripes = range(1, number + 1)
    pairs = {
        "ground_single": [((0, 0), (i, 0)) for i in stripes] + [((0, 0), (0, i)) for i in stripes],
        "single_crossing": [((i, j), (i, 0)) for i in stripes for j in stripes]
        + [((i, j), (0, j)) for i in stripes for j in stripes],
        "single_single": [((i, 0), (j, 0)) for i, j in itertools.combinations(stripes, 2)]
        + [((0, i), (0, j)) for i, j in itertools.combinations(stripes, 2)],
        "crossing_crossing": [
            (one, two)
            for one, two in itertools.combinations(itertools.product(stripes, stripes), 2)
            if set(one) != set(two)
        ],
    }
    out = {}
    for kind, members in pairs.items():
        if members:
            de = [deltaE_ciede2000(lab[a], lab[b]) for a, b in members]
            dl = [abs(lab[a][0] - lab[b][0]) for a, b in members]
            ratio = [Color("srgb", tones[a]).contrast(Color("srgb", tones[b])) for a, b in members]
            out[kind] = (min(de), np.mean(de), min(dl), min(ratio))
    return out


@pytest.mark.parametrize("mixing", MIXINGS)
@pytest.mark.parametrize("stripes", [1, 2, 3, 4])
def test_scores_equal_those_worked_pair_by_pair(mixing, stripes):
    rng = np.random.default_rng(stripes)
    for vision in VISIONS:
        tones = mix_tones(rng.random(3), rng.random((stripes, 3)), 0.6, mixing, warp_share=0.4)
        found = score_tones(tones, vision)
        expected = plain_scores(tones, vision)
        for kind in KINDS:
            part = getattr(found, kind)
            numbers = [
                float(v)
                for v in (part.least_de2000, part.mean_de2000, part.least_dl, part.least_ratio)
            ]
            if kind in expected:
                # The rounded matrix of scikit-image and the exact Y row of coloraide differ
                # from CSS's exact matrix and WCAG's literal one by under 0.01 and 0.0012.
                assert np.allclose(numbers, expected[kind], atol=1.2e-2), (kind, vision)
            else:
                assert np.isnan(numbers).all()


def test_many_at_once_are_the_same_as_one_by_one():
    members = draw_colourways(PALETTE, 3, 20, seed=4, strength=(0.2, 0.9))
    many = score(members)
    assert len(many) == 20
    for place, member in enumerate(members):
        one = score(member)
        for name, values in many.columns().items():
            assert np.allclose(values[place], one.columns()[name], equal_nan=True), name
        assert np.array_equal(many[place].afar, one.afar)


def test_any_leading_shape():
    tones = mix_tones(np.ones((2, 3, 3)), np.random.default_rng(0).random((2, 3, 2, 3)), 0.5)
    found = score_tones(tones)
    assert found.evenness.shape == (2, 3)
    assert found.afar.shape == (2, 3, 3)
    assert found.ground_single.closest.shape == (2, 3, 2, 2)


def test_fewer_pairs_say_the_same():
    """Leaving out the mirrored pairs of laid-over and balanced woven cloth changes nothing."""
    rng = np.random.default_rng(7)
    for mixing in MIXINGS:
        tones = mix_tones(rng.random(3), rng.random((3, 3)), 0.5, mixing)
        short = score_tones(tones)
        nudged = tones.copy()
        nudged[0, 1] += 1e-9 * np.sign(0.5 - nudged[0, 1])
        full = score_tones(nudged)
        for name, value in short.columns().items():
            assert np.isclose(value, full.columns()[name], atol=1e-4), (mixing, name)


def test_pair_counts():
    """Derived: N each way, 2N² edges, N(N−1) like sides, and all unordered crossing pairs
    less the transposes."""
    for n in range(1, 7):
        pairs = tone_pairs(n)
        crossings = n * n * (n * n - 1) // 2 - n * (n - 1) // 2
        assert [len(getattr(pairs, kind)) for kind in KINDS] == [
            2 * n, 2 * n * n, n * (n - 1), crossings,
        ]  # fmt: skip


def test_closest_names_the_pair():
    tones = Colourway("white", ["navy", "#000081", "gold"], 1.0).tones
    found = score_tones(tones).single_single
    assert sorted(map(tuple, found.closest.tolist())) == [(1, 0), (2, 0)]


def test_lightness_order():
    assert score(Colourway("white", ["navy", "teal"], mixing="multiply")).lightness_runs
    assert score(Colourway("black", ["gold", "pink"], 0.5)).lightness_runs
    # A light stripe and a dark one on a mid grey run opposite ways.
    assert not score(Colourway("#777", ["white", "black"])).lightness_runs


def test_evenness_of_known_steps():
    """Greys 20 L* apart step evenly; L* 90, 80, 40 is a step of 10 and one of 40."""

    def grey(*lightness):
        return [Color("lab-d65", [v, 0, 0]).convert("srgb").coords() for v in lightness]

    for steps, even in (((90, 70, 50), 1.0), ((90, 80, 40), 0.25)):
        ground, single, crossing = grey(*steps)
        tones = np.array([[ground, single], [single, crossing]])
        assert score_tones(tones).evenness == pytest.approx(even, abs=1e-6)


def test_colour_from_afar_is_the_mean_of_the_pixels():
    colourway = Colourway("ivory", ["navy", "teal", "coral"], 0.7)
    plan = [1, 0, 2, 0, 3, 0]
    pixels = colourway.tones[np.ix_(plan, plan)]
    light = colour.models.eotf_sRGB(pixels).mean(axis=(0, 1))
    assert np.allclose(afar(colourway.tones), colour.models.eotf_inverse_sRGB(light), atol=1e-6)


@given(st.integers(1, 5), st.floats(0, 1), st.sampled_from(MIXINGS))
@settings(deadline=None)
def test_grey_cloth_on_its_own_colour_has_no_contrast(stripes, strength, mixing):
    if mixing == "multiply":
        return  # a grey over itself darkens, as two filters do
    found = score(Colourway("#808080", ["#808080"] * stripes, strength, mixing))
    for name, value in found.columns().items():
        if "ratio" in name:
            assert np.isnan(value) or value == pytest.approx(1)
        elif "de2000" in name or "dl" in name:
            assert np.isnan(value) or value == pytest.approx(0, abs=1e-5)
    assert not found.lightness_runs


def test_faults():
    with pytest.raises(ArgumentError, match="tones must have shape"):
        score_tones(np.zeros((2, 3, 3)))
    with pytest.raises(ArgumentError, match="0–255"):
        score_tones(np.full((2, 2, 3), 128))
    with pytest.raises(ArgumentError, match="vision must be one of"):
        score(Colourway("white", ["navy"]), "daltonian")
    with pytest.raises(ArgumentError, match="severity must be"):
        score(Colourway("white", ["navy"]), "protan", 2)
    with pytest.raises(ArgumentError, match="no colourway"):
        score([])


def test_prints_as_one_line():
    assert "\n" not in str(score(Colourway("white", ["navy"])))
    assert (
        str(score([Colourway("white", ["navy"])] * 3)) == "scores of 3 colourways (normal vision)"
    )
