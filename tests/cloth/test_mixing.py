"""What each mixing must come to: published examples, other libraries, and what always holds."""

from __future__ import annotations

import inspect
import itertools

import numpy as np
import pytest
from coloraide import Color
from hypothesis import example, given, settings
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from checkcloth.cloth.mixing import MIXING_OPTIONS, MIXINGS, find_mixing, mix_tones
from checkcloth.cloth.threads import plain_weave_share
from checkcloth.colour.ciede2000 import delta_e_2000
from checkcloth.colour.css import parse_css
from checkcloth.colour.reflectance import absorption_to_reflectance, reflectance_to_absorption
from checkcloth.colour.spaces import linear_to_srgb, srgb_to_lab, srgb_to_linear
from checkcloth.errors import ArgumentError

fractions = st.floats(0, 1)
colours = arrays(np.float64, 3, elements=fractions)
mixings = st.sampled_from(MIXINGS)
# Encoded 0–1. Pigment goes by spectra found to 1e-10 of linear light, which the curve
# stretches near black, as it does the rounding of every mixing in light.
ROUNDING = {name: 1e-9 if find_mixing(name).space == "as-is" else 1e-7 for name in MIXINGS} | {
    "pigment": 2e-6
}


def stripes_of(number):
    return arrays(np.float64, (number, 3), elements=fractions)


def crossing(warp, weft, ground, strength, mixing, **options):
    return mix_tones(ground, [warp, weft], strength, mixing, **options)[1, 2]


# -- published -----------------------------------------------------------------------------------


def spec_source_over(source, alpha, backdrop, backdrop_alpha):
    """W3C Compositing and Blending Level 1: co = αs·Cs + αb·Cb·(1 − αs), Co = co / αo."""
    over = alpha + backdrop_alpha * (1 - alpha)
    co = alpha * np.array(source) + backdrop_alpha * np.array(backdrop) * (1 - alpha)
    return co / over, over


def test_the_two_w3c_compositing_examples(gold):
    """The first through the kit. The second has a clear backdrop, which cloth has not: the
    formula that the kit specialises for an opaque ground is held to it instead."""
    opaque, clear = gold("w3c_compositing")
    source = [opaque[f"source_{c}"] for c in "rgb"]
    ground = [opaque[f"backdrop_{c}"] for c in "rgb"]
    tone = mix_tones(ground, [source], opaque["source_alpha"])[1, 0]
    assert tone == pytest.approx([opaque[c] for c in "rgb"], abs=1e-15)

    found, alpha = spec_source_over(source, 0.5, ground, clear["backdrop_alpha"])
    assert found == pytest.approx([clear[c] for c in "rgb"], abs=7e-3)  # printed 0.33, 0.66
    assert found == pytest.approx([1 / 3, 0, 2 / 3])
    assert alpha == clear["alpha"]
    assert tone == pytest.approx(spec_source_over(source, 0.5, ground, 1)[0], abs=1e-15)


def test_source_over_as_coloraide_composites_on_opaque_grounds():
    """Three layers: the ground, the weft, the warp. coloraide composites in encoded sRGB."""
    rng = np.random.default_rng(50)
    for _ in range(200):
        ground, warp, weft = rng.random((3, 3))
        alpha = float(rng.random())
        tones = mix_tones(ground, [warp, weft], alpha)
        base = Color("srgb", ground.tolist())
        over, under = (Color("srgb", c.tolist(), alpha) for c in (warp, weft))
        wanted = Color.layer([over, under, base], space="srgb").coords()
        assert tones[1, 2] == pytest.approx(wanted, abs=1e-12)
        single = Color.layer([over, base], space="srgb").coords()
        assert tones[1, 0] == pytest.approx(single, abs=1e-12)
        light = Color.layer([over, under, base], space="srgb-linear").convert("srgb").coords()
        linear = mix_tones(ground, [warp, weft], alpha, "source-over-linear")
        assert linear[1, 2] == pytest.approx(light, abs=1e-7)


def test_multiply_as_published_for_opaque_colours(gold):
    """Full strength: ground · weft · warp on encoded sRGB."""
    for row in gold("wpt_multiply"):
        texts = row["colours"].split()
        first, *rest = (np.array(parse_css(text)) for text in texts)
        wanted = np.array([row["r"], row["g"], row["b"]])
        if len(rest) == 1:
            tone = mix_tones(first, rest, 1, "multiply")[1, 0]
        else:
            tone = crossing(rest[1], rest[0], first, 1, "multiply")
        assert tone * 255 == pytest.approx(wanted, abs=5e-3)


def test_multiply_as_coloraide_blends_on_opaque_grounds():
    """Trap: coloraide leaves out a term where the backdrop is clear; on cloth none is."""
    rng = np.random.default_rng(51)
    for _ in range(100):
        ground, warp, weft = rng.random((3, 3))
        alpha = float(rng.random())
        layers = [Color("srgb", warp.tolist(), alpha), Color("srgb", weft.tolist(), alpha),
                  Color("srgb", ground.tolist())]  # fmt: skip
        wanted = Color.layer(layers, blend="multiply", space="srgb").coords()
        assert crossing(warp, weft, ground, alpha, "multiply") == pytest.approx(wanted, abs=1e-12)


def test_coloraide_still_leaves_that_term_out():
    """Spec: (0.455, 0.2575, 0.5375), α 0.8. coloraide 8.13: (0.45, 0.1875, 0.4375)."""
    layers = [Color("srgb", [0.2, 0.4, 0.8], 0.5), Color("srgb", [0.9, 0.3, 0.5], 0.6)]
    found = np.array(Color.layer(layers, blend="multiply", space="srgb").coords())
    by_spec = np.array([0.455, 0.2575, 0.5375])
    assert np.allclose(found, [0.45, 0.1875, 0.4375]) or np.allclose(found, by_spec)


def test_two_greys_under_four_rules(gold):
    """Reflectance 0.1 and 0.9 in equal parts; the ordering is what the lesson shows."""
    dark, light = (linear_to_srgb([value] * 3) for value in (0.1, 0.9))
    found = {}
    for row in gold("two_greys"):
        rule, wanted = row["rule"], row["reflectance"]
        if rule in ("murray-davies", "yule-nielsen"):
            for mixing in ("source-over-linear", "woven"):
                tone = crossing(dark, light, light, 1.0, "woven", yule_nielsen=row["n"])
                if mixing == "source-over-linear":
                    tone = mix_tones(light, [dark], 0.5, mixing, yule_nielsen=row["n"])[1, 0]
                mixed = srgb_to_linear(tone)[0]
                assert mixed == pytest.approx(wanted, abs=6e-7)
        elif rule == "geometric":
            # n without end; at the largest n that the kit takes it is within 0.03 of it.
            assert pytest.approx(wanted, abs=1e-12) == (0.1 * 0.9) ** 0.5
            tone = mix_tones(light, [dark], 0.5, "source-over-linear", yule_nielsen=10)[1, 0]
            mixed = srgb_to_linear(tone)[0]
            assert wanted < mixed < wanted + 0.03
        else:
            mixed = absorption_to_reflectance(reflectance_to_absorption([0.1, 0.9]).mean()).item()
            assert mixed == pytest.approx(wanted, abs=5e-7)
            tone = mix_tones(light, [dark], 0.5, "pigment")[1, 0]
            assert srgb_to_linear(tone)[0] == pytest.approx(wanted, abs=2e-5)
        found[rule, row["n"]] = mixed
    values = list(found.values())
    assert values == sorted(values, reverse=True)  # Murray–Davies lightest, pigment darkest


def test_demichel_example(gold):
    """Two inks at 40 %: 0.36, 0.24, 0.24 and 0.16 of the surface, and the kit's layered
    shares are the same: the four regions of equal strength α are (1−α)², 2 × α(1−α), α²."""
    shares = {row["region"]: row["share"] for row in gold("demichel")}
    a = 0.4
    assert shares == pytest.approx(
        {"white": (1 - a) ** 2, "cyan": a * (1 - a), "yellow": a * (1 - a), "green": a * a}
    )
    # Read off the kit: what a crossing takes of each, with one primary for each part.
    red, green, blue = np.eye(3)
    of_warp, of_weft, of_ground = crossing(red, green, blue, a, "source-over")
    assert of_ground == pytest.approx(shares["white"])
    assert of_weft == pytest.approx(shares["cyan"])
    assert of_warp == pytest.approx(shares["yellow"] + shares["green"])


def test_shares_of_the_woven_crossing():
    """Warp αw, weft α(1−w), the ground the rest; read off with one primary for each."""
    red, green, blue = np.eye(3)
    for alpha, share in itertools.product((0.2, 0.5, 1.0), (0.0, 0.3, 0.5, float(
        plain_weave_share(3)))):  # fmt: skip
        tones = srgb_to_linear(mix_tones(blue, [red, green], alpha, "woven", warp_share=share))
        wanted = [alpha * share, alpha * (1 - share), 1 - alpha]
        assert tones[1, 2] == pytest.approx(wanted, abs=1e-9)
        assert tones[1, 0] == pytest.approx([alpha * share, 0, 1 - alpha * share], abs=1e-9)
        assert tones[0, 2] == pytest.approx(
            [0, alpha * (1 - share), 1 - alpha * (1 - share)], abs=1e-9
        )


# -- what always holds ---------------------------------------------------------------------------


@given(colours, stripes_of(3), mixings, st.floats(0, 1))
def test_strength_0_is_the_ground(ground, stripes, mixing, share):
    tones = mix_tones(ground, stripes, 0, mixing, warp_share=share)
    assert tones == pytest.approx(np.broadcast_to(ground, tones.shape), abs=ROUNDING[mixing])


@settings(max_examples=150)
@given(colours, fractions, mixings, st.floats(0, 1), st.floats(1, 10))
@example(np.zeros(3), 0.5, "pigment", 0.5, 1.0)
@example(np.ones(3), 1.0, "pigment", 0.5, 1.0)
@example(np.array([1.0, 1.0, 1.0 - 1e-9]), 0.5, "pigment", 0.5, 1.0)
@example(np.array([1e-12, 0.0, 1.0]), 0.5, "pigment", 0.5, 1.0)
def test_a_colour_over_itself_in_itself_is_itself(colour, strength, mixing, share, n):
    """But for multiply, which is a filter: there only white leaves white as it is."""
    if mixing == "multiply":
        colour = np.ones(3)
    tones = mix_tones(colour, [colour] * 2, strength, mixing, warp_share=share, yule_nielsen=n)
    # The last digits of an n-th root count n times.
    slack = ROUNDING[mixing] * n
    assert tones == pytest.approx(np.broadcast_to(colour, tones.shape), abs=slack)


def test_self_mixing_over_the_grid_is_within_a_hundredth_of_a_unit():
    steps = np.linspace(0, 1, 9)
    grid = np.stack(np.meshgrid(steps, steps, steps), axis=-1).reshape(-1, 3)
    for mixing in (name for name in MIXINGS if name != "multiply"):
        tones = mix_tones(
            grid, np.repeat(grid[:, None], 2, axis=1), np.full(len(grid), 0.37), mixing
        )
        apart = delta_e_2000(srgb_to_lab(tones), srgb_to_lab(grid)[:, None, None])
        assert apart.max() < 0.01


@pytest.mark.parametrize("mixing", MIXINGS)
def test_black_on_white_darkens_as_strength_grows(mixing):
    strengths = np.linspace(0, 1, 101)
    tones = mix_tones(np.ones((101, 3)), np.zeros((101, 1, 3)), strengths, mixing)
    lightness = srgb_to_lab(tones)[..., 0]
    for warp, weft in ((1, 0), (0, 1), (1, 1)):
        assert (np.diff(lightness[:, warp, weft]) < 0).all()
    # A crossing has the stripe twice, and is darker than either single inside 0–1.
    assert (lightness[1:-1, 1, 1] < lightness[1:-1, 1, 0]).all()


@given(colours, stripes_of(2), fractions, mixings)
def test_tones_can_be_shown_and_index_0_is_the_ground(ground, stripes, strength, mixing):
    tones = mix_tones(ground, stripes, strength, mixing)
    assert tones.shape == (3, 3, 3)
    assert tones.min() >= 0
    assert tones.max() <= 1
    assert tones[0, 0] == pytest.approx(ground, abs=ROUNDING[mixing])


@given(colours, stripes_of(3), fractions, st.floats(0, 1), st.floats(1, 10))
def test_woven_swaps_with_its_share(ground, stripes, strength, share, n):
    """Warp and weft change places when w becomes 1 − w; at 1/2 the order does not show."""
    one = mix_tones(ground, stripes, strength, "woven", warp_share=share, yule_nielsen=n)
    two = mix_tones(ground, stripes, strength, "woven", warp_share=1 - share, yule_nielsen=n)
    assert one == pytest.approx(two.swapaxes(0, 1), abs=1e-6)
    half = mix_tones(ground, stripes, strength, "woven", yule_nielsen=n)
    assert half == pytest.approx(half.swapaxes(0, 1), abs=1e-12)


@given(colours, stripes_of(3), fractions, mixings)
def test_swapping_warp_and_weft_transposes_the_cloth(ground, stripes, strength, mixing):
    """The singles are alike on both sides (w = 1/2), and multiply does not see the order.

    Laid over, transposing the crossings is what reversing the pair gives.
    """
    tones = mix_tones(ground, stripes, strength, mixing)
    assert tones[1:, 0] == pytest.approx(tones[0, 1:], abs=1e-12)
    turned = mix_tones(ground, stripes[::-1], strength, mixing)
    assert turned[1:, 1:] == pytest.approx(tones[1:, 1:][::-1, ::-1], abs=1e-9)
    if mixing in ("multiply", "ink", "woven"):
        assert tones == pytest.approx(tones.swapaxes(0, 1), abs=1e-12)


def test_laid_over_the_order_shows():
    red, blue = parse_css("#c0392b"), parse_css("#1f4fa3")
    for mixing in ("source-over", "source-over-linear", "pigment"):
        tones = srgb_to_lab(mix_tones([1, 1, 1], [red, blue], 0.5, mixing))
        assert delta_e_2000(tones[1, 2], tones[2, 1]) > 5


def test_laid_over_a_self_crossing_at_half_reaches_three_quarters():
    """Black on white: 1 − (1 − 0.5)² of the way; woven at full strength: single 1/2, all."""
    laid = 1 - mix_tones([1, 1, 1], [[0, 0, 0]], 0.5)[..., 0]
    assert laid[1, 0] == pytest.approx(0.5)
    assert laid[1, 1] == pytest.approx(0.75)
    woven = 1 - srgb_to_linear(mix_tones([1, 1, 1], [[0, 0, 0]], 1, "woven"))[..., 0]
    assert woven[1, 0] == pytest.approx(0.5)
    assert woven[1, 1] == pytest.approx(1)


@pytest.mark.parametrize("mixing", MIXINGS)
def test_many_at_once_are_as_one_by_one(mixing):
    """Also past the block of 8,192 tones, and with any leading shape."""
    rng = np.random.default_rng(52)
    palette = rng.random((9, 3))
    grounds = palette[rng.integers(9, size=(40, 13))]
    stripes = palette[rng.integers(9, size=(40, 13, 4))]
    strength = rng.random((40, 13))
    tones = mix_tones(grounds, stripes, strength, mixing)
    assert tones.shape == (40, 13, 5, 5, 3)
    for place in ((0, 0), (12, 7), (25, 2), (39, 12)):
        alone = mix_tones(grounds[place], stripes[place], strength[place], mixing)
        assert tones[place] == pytest.approx(alone, abs=1e-9)
    spread = mix_tones(grounds[0, 0], stripes[:, 0], 0.5, mixing)
    assert spread.shape == (40, 5, 5, 3)
    assert mix_tones(np.zeros((0, 3)), np.zeros((0, 2, 3)), 0.5, mixing).shape == (0, 3, 3, 3)


@given(colours, stripes_of(2), fractions, st.floats(1, 10))
def test_a_larger_n_never_lightens(ground, stripes, strength, n):
    """Power means grow with the power, so R^(1/n) averages less as n grows."""
    for mixing in ("source-over-linear", "woven"):
        plain = srgb_to_linear(mix_tones(ground, stripes, strength, mixing))
        spread = srgb_to_linear(mix_tones(ground, stripes, strength, mixing, yule_nielsen=n))
        assert (spread <= plain + 1e-7).all()


def test_each_mixing_says_in_one_line_what_it_stands_for():
    assert MIXINGS == (
        "source-over", "source-over-linear", "multiply", "ink", "woven", "pigment",
    )  # fmt: skip
    for name in MIXINGS:
        mixing = find_mixing(name)
        assert mixing.meaning
        assert "\n" not in mixing.meaning
        assert mixing.estimate == (name in ("ink", "pigment"))
        assert ("estimate" in mixing.meaning) == mixing.estimate
    assert find_mixing("pigment").label == "pigment (estimate)"
    assert find_mixing("woven").label == "woven"
    keywords = inspect.signature(mix_tones).parameters.values()
    assert set(MIXING_OPTIONS) == {one.name for one in keywords if one.kind is one.KEYWORD_ONLY}


# -- bad input -----------------------------------------------------------------------------------

WHITE, RED = [1, 1, 1], [[1, 0, 0]]


@pytest.mark.parametrize(
    ("given_", "said"),
    [
        ({"mixing": "overlay"}, "mixing must be one of source-over.*pigment, found 'overlay'"),
        ({"strength": 1.01}, "strength must be from 0 to 1, found 1.01 "),
        ({"strength": 50}, r"strength must be from 0 to 1, found 50 \(a percentage\?"),
        ({"strength": -0.1}, "strength must be from 0 to 1, found -0.1"),
        ({"strength": np.nan}, "strength must be from 0 to 1, found nan"),
        ({"strength": "half"}, "strength must be numbers, found 'half'"),
        ({"warp_share": 1.5}, "warp_share must be from 0 to 1, found 1.5"),
        ({"warp_share": np.nan}, "warp_share must be from 0 to 1, found nan"),
        ({"yule_nielsen": 0.5}, "yule_nielsen must be from 1 to 10, found 0.5"),
        ({"yule_nielsen": np.inf}, "yule_nielsen must be from 1 to 10, found inf"),
        ({"yule_nielsen": None}, "yule_nielsen must be a number, found None"),
        ({"grounds": [255, 255, 255]}, r"grounds must be in 0–1.*divide by 255"),
        ({"stripes": np.array([[200, 0, 0]], np.uint8)}, r"stripes must be in 0–1.*by 255"),
        ({"grounds": [0.5, np.nan, 0.5]}, "grounds must be finite"),
        ({"stripes": [[np.inf, 0, 0]]}, "stripes must be finite"),
        ({"stripes": [1, 0, 0]}, r"stripes must be of shape \(\.\.\., N, 3\), found shape \(3,\)"),
        ({"stripes": np.zeros((0, 3))}, r"stripes must be of shape.*\(0, 3\)"),
        ({"stripes": [[1, 0]]}, r"stripes must be of shape.*\(1, 2\)"),
        ({"grounds": np.ones((2, 3)), "strength": [0.1, 0.2, 0.3]}, r"\(2, 3\).*\(3,\)"),
    ],
)
@pytest.mark.parametrize("default", ["source-over", "pigment"])
def test_bad_input_is_named(given_, said, default):
    call = {"grounds": WHITE, "stripes": RED, "strength": 0.5, "mixing": default} | given_
    with pytest.raises(ArgumentError, match=said):
        mix_tones(**call)
