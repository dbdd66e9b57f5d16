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

from checkcloth import (
    MIXINGS,
    VISIONS,
    Colourway,
    NamedColour,
    delta_e_2000,
    draw_colourways,
    mix_tones,
    score,
    score_tones,
)
from checkcloth.cloth.bands import Band, even_bands
from checkcloth.cloth.palette import Palette
from checkcloth.colour.spaces import srgb_to_lab
from checkcloth.colour.vision import see_as
from checkcloth.errors import ArgumentError
from checkcloth.quality import score_table
from checkcloth.scoring.cloth_scores import far_colour
from checkcloth.scoring.pairs import KINDS, kinds_of, named_pairs, tone_pairs


@st.composite
def uneven_bands(draw):
    """Bands of three stripes and the ground, of any widths, in any order, some come again."""
    order = draw(st.permutations([0, 0, 1, 2, 3, *draw(st.lists(st.integers(0, 3), max_size=3))]))
    # ground beside a stripe and a stripe beside a stripe: all kinds of edges occur
    return tuple(Band(stripe, draw(st.integers(1, 3))) for stripe in order)


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
        pairs = tone_pairs(even_bands(n))
        crossings = n * n * (n * n - 1) // 2 - n * (n - 1) // 2
        assert [len(pairs[kind].indices) for kind in KINDS] == [
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


@pytest.mark.parametrize("stripe", ["#39170e", "#3a6ea5", "#c8102e"])
def test_what_rounding_leaves_is_no_step(stripe):
    """A solid ink over itself is itself, whichever way its last digit falls."""
    solid = score(Colourway("white", [stripe], 1.0, "ink"))
    assert not solid.lightness_runs
    assert solid.evenness == pytest.approx(0, abs=1e-9)


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
    assert np.allclose(
        far_colour(colourway.tones), colour.models.eotf_inverse_sRGB(light), atol=1e-6
    )


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
    with pytest.raises(ArgumentError, match="tones must be of shape"):
        score_tones(np.zeros((2, 1, 3)))
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


def drawn(colourway, warp, weft):
    """One repeat of the cloth, a pixel a check; laid band by band."""
    across = [band.stripe for band in warp for _ in range(band.checks)]
    up = [band.stripe for band in weft for _ in range(band.checks)]
    return np.array([[colourway.tones[a, b] for a in across] for b in up])


@given(uneven_bands(), uneven_bands(), st.sampled_from(VISIONS), st.sampled_from(MIXINGS))
@settings(deadline=None)
def test_the_far_colour_is_the_light_of_the_drawn_cloth_as_it_is_then_seen(
    warp, weft, vision, mixing
):
    colourway = Colourway("ivory", ["red", "teal", "#2040ff"], 0.7, mixing)
    light = colour.models.eotf_sRGB(drawn(colourway, warp, weft)).mean(axis=(0, 1))
    expected = see_as(np.clip(colour.models.eotf_inverse_sRGB(light), 0, 1), vision)
    found = score_tones(colourway.tones, vision, warp_bands=warp, weft_bands=weft)
    assert np.allclose(found.far_colour, expected, atol=1e-6)


@given(uneven_bands(), uneven_bands(), st.sampled_from(MIXINGS))
@settings(deadline=None)
def test_edges_are_those_that_the_drawn_cloth_has(warp, weft, mixing):
    """Every pair of different neighbours on the tile, wrapped round, against scikit-image."""
    colourway = Colourway("ivory", ["red", "teal", "#2040ff"], 0.7, mixing)
    lab = rgb2lab(drawn(colourway, warp, weft), illuminant="D65", observer="2")
    across = [band.stripe for band in warp for _ in range(band.checks)]
    up = [band.stripe for band in weft for _ in range(band.checks)]
    stripes = (np.array(across) > 0)[None, :] + 1 * (np.array(up) > 0)[:, None]
    tones = np.array(up)[:, None] * 4 + np.array(across)[None, :]
    found = score_tones(colourway.tones, warp_bands=warp, weft_bands=weft)
    differences = {(0, 1): [], (1, 2): [], (1, 1): [], (2, 2): []}
    for axis in (0, 1):
        edge = tones != np.roll(tones, -1, axis)
        de = deltaE_ciede2000(lab, np.roll(lab, -1, axis))
        low = np.minimum(stripes, np.roll(stripes, -1, axis))
        high = np.maximum(stripes, np.roll(stripes, -1, axis))
        for kind, mine in differences.items():
            mine += de[edge & (low == kind[0]) & (high == kind[1])].tolist()
    for kind, part in (((0, 1), found.ground_single), ((1, 2), found.single_crossing)):
        assert float(part.least_de2000) == pytest.approx(min(differences[kind]), abs=1.2e-2)
        assert float(part.mean_de2000) == pytest.approx(np.mean(differences[kind]), abs=1.2e-2)
    every = [value for values in differences.values() for value in values]
    assert float(found.least_edge) == pytest.approx(min(every), abs=1.2e-2)


def test_bands_must_have_as_many_stripes_as_the_tones():
    with pytest.raises(ArgumentError) as caught:
        score_tones(Colourway("white", ["navy"]).tones, warp_bands=even_bands(2))
    assert caught.value.argument == "warp_bands"


def test_cloth_without_ground_has_crossings_and_nothing_else():
    """Warp and weft of two stripes side by side, no ground: four crossings, each touching two."""
    bands = (Band(1, 1), Band(2, 2))
    colourway = Colourway("white", ["navy", "gold"])
    found = score_tones(colourway.tones, warp_bands=bands, weft_bands=bands)
    assert np.isnan([found.ground_single.least_de2000, found.evenness]).all()
    lab = rgb2lab(colourway.tones[1:, 1:], illuminant="D65", observer="2")
    edges = [deltaE_ciede2000(lab[0], lab[1]), deltaE_ciede2000(lab[:, 0], lab[:, 1])]
    assert float(found.least_edge) == pytest.approx(np.min(edges), abs=1.2e-2)


def test_warp_and_weft_may_have_other_stripes():
    """A check of one warp stripe and two weft stripes: the drawn cloth says its far colour."""
    tones = Colourway("white", ["navy", "gold"]).tones[:2]
    found = score_tones(tones)
    plan = np.ix_([1, 0, 1, 0], [1, 0, 2, 0])
    light = colour.models.eotf_sRGB(tones[plan]).mean(axis=(0, 1))
    assert np.allclose(found.far_colour, colour.models.eotf_inverse_sRGB(light), atol=1e-6)
    assert found.ground_single.closest.tolist() in (
        [[0, 0], [1, 0]],
        [[0, 0], [0, 1]],
        [[0, 0], [0, 2]],
    )


@given(st.sampled_from(MIXINGS), st.integers(1, 4), st.floats(0.05, 1))
def test_pairs_have_names_of_their_own(mixing, stripes, share):
    colours = ["navy", "gold", "teal", "pink"][:stripes]
    colourway = Colourway("ivory", colours, 0.5, mixing, warp_share=share)
    pairs = named_pairs(colourway, KINDS)
    assert len(set(pairs.names)) == len(pairs)
    assert len(pairs) == len(pairs.kinds) == len(pairs.one) == len(pairs.two)
    edges = named_pairs(colourway)
    assert set(edges.kinds) == {"ground_single", "single_crossing"}
    assert set(edges.names) <= set(pairs.names)


@pytest.mark.parametrize("kinds", [KINDS[:1], "edges", ["crossing_crossing"]])
def test_kinds_left_out_are_blank_and_the_others_the_same(kinds):
    tones = Colourway("white", ["navy", "gold", "teal"], 0.6).tones
    every, some = score_tones(tones), score_tones(tones, kinds=kinds)
    for name, values in some.columns().items():
        kind = next((kind for kind in KINDS if name.startswith(kind)), None)
        if kind is None or kind in kinds_of(kinds):
            assert values == every.columns()[name]
        else:
            assert np.isnan(values)
    with pytest.raises(ArgumentError, match="kinds"):
        score_tones(tones, kinds="crossings")


def test_crossings_of_a_weft_of_its_own_are_all_compared():
    """No two are of the same two stripes, so how stripes are numbered changes nothing."""
    warp, weft = ["navy", "teal", "#c46"], ["gold", "#eee", "plum"]
    cloth = Colourway("white", warp, 0.7, "woven", weft_stripes=weft)
    other = cloth.with_(weft_stripes=[weft[1], weft[2], weft[0]])
    one, two = score(cloth).crossing_crossing, score(other).crossing_crossing
    for name in ("least_de2000", "mean_de2000", "least_dl", "mean_hyab", "least_ratio"):
        np.testing.assert_allclose(getattr(one, name), getattr(two, name), rtol=1e-9)
    assert len(named_pairs(cloth, "crossing_crossing")) == 9 * 8 // 2
    assert len(named_pairs(cloth.with_(weft_stripes=()), "crossing_crossing")) < 9 * 8 // 2
    # So it is where the weft's colours are the warp's by other names, in whatever order.
    for order in ([0, 1, 2], [1, 2, 0]):
        again = [NamedColour(f"weft {n}", cloth.stripes[n].rgb) for n in order]
        same = cloth.with_(weft_stripes=again)
        assert score(same).crossing_crossing.least_de2000 == pytest.approx(0, abs=1e-9)
        assert len(named_pairs(same, "crossing_crossing")) == 9 * 8 // 2
    lab = srgb_to_lab(cloth.tones[1:, 1:].reshape(-1, 3))
    every = [delta_e_2000(lab[i], lab[j]) for i in range(9) for j in range(i)]
    assert one.least_de2000 == pytest.approx(min(every))
    # In one list with others, and in a table, each has what it has by itself.
    plain = cloth.with_(weft_stripes=())
    members = [plain, cloth, plain.with_(mixing="multiply"), plain.with_(warp_share=0.3)]
    together = score(members)
    for index, member in enumerate(members):
        alone = score(member)
        for name, column in together.columns().items():
            np.testing.assert_allclose(column[index], alone.columns()[name], rtol=1e-9, atol=1e-9)
        for kind in KINDS:
            np.testing.assert_array_equal(
                getattr(together, kind).closest[index], getattr(alone, kind).closest
            )
    column = score_table(members).columns["normal_crossing_crossing_least_de2000"]
    np.testing.assert_allclose(column, together.crossing_crossing.least_de2000, rtol=1e-9)
