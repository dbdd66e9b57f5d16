"""Monte Carlo against cases with an analytic answer, intervals and quantiles against scipy."""

from __future__ import annotations

from statistics import NormalDist

import numpy as np
import pytest
import scipy
from skimage.color import deltaE_ciede2000, deltaE_cmc

from checkcloth.cloth.colourway import Colourway
from checkcloth.errors import ArgumentError
from checkcloth.quality import Tolerance, score_with_tolerance, wilson_interval
from checkcloth.quality.tolerance import scatter_lab


@pytest.mark.parametrize(("hits", "draws"), [(0, 10), (3, 10), (10, 10), (950, 1000), (1, 10**6)])
@pytest.mark.parametrize("confidence", [0.9, 0.95, 0.99])
def test_wilson_interval_equals_scipy(hits, draws, confidence):
    ours = wilson_interval(hits, draws, confidence)
    theirs = scipy.stats.binomtest(hits, draws).proportion_ci(confidence, method="wilson")
    assert ours == pytest.approx((theirs.low, theirs.high), abs=1e-12)


@pytest.mark.parametrize("within", [0.5, 0.9, 0.95, 0.999])
def test_sigma_is_the_tolerance_over_the_quantile_of_chi_3(within):
    assert Tolerance(1.5, "cmc", within).sigma == pytest.approx(
        1.5 / scipy.stats.chi(3).ppf(within), rel=1e-9
    )


@pytest.mark.parametrize("measure", ["cmc", "de2000"])
def test_so_many_lots_lie_within_the_tolerance_by_another_library(measure):
    rng = np.random.default_rng(5)
    for lab in ([50.0, 30.0, 20.0], [35.0, 10.0, -45.0], [90.0, -2.0, 4.0], [60.0, 0.0, 0.0]):
        allowed = Tolerance(1.2, measure, 0.9)
        steps = rng.standard_normal((20_000, 3)) * allowed.sigma
        moved = scatter_lab(np.array(lab), steps, measure)
        standard = np.broadcast_to(lab, moved.shape)
        if measure == "cmc":
            size = deltaE_cmc(standard, moved, kL=2, kC=1)
        else:
            size = deltaE_ciede2000(standard, moved)
        share = float((size <= 1.2).mean())
        # Three standard errors of 20,000 draws.
        assert abs(share - 0.9) < 3 * np.sqrt(0.9 * 0.1 / 20_000)
        # And no draw is far from the length it was given.
        assert np.allclose(size, np.linalg.norm(steps, axis=1), rtol=0.02, atol=1e-6)


def test_two_greys_against_the_analytic_chance():
    # ΔL* of two greys is normal: CMC steps of a grey are 2·S_L·σ in lightness (the standard's
    # own S_L), so the chance is that of a normal of mean ΔL* and variance σ₁² + σ₂².
    light = [50.0, 56.0]
    codes = [(1.055 * (((l + 16) / 116) ** 3) ** (1 / 2.4) - 0.055) for l in light]  # noqa: E741
    texts = [f"color(srgb {c} {c} {c})" for c in codes]
    colourway = Colourway(texts[0], [texts[1]], 1)
    allowed = Tolerance(2.0, "cmc", 0.95)
    result = score_with_tolerance(
        colourway, allowed, measure="dl", threshold=5.0, kinds="ground_single",
        draws=200_000, seed=9, confidence=0.999,
    )  # fmt: skip
    sl = [0.040975 * l / (1 + 0.01765 * l) for l in light]  # noqa: E741
    spread = np.hypot(*(2 * s * 2.0 / scipy.stats.chi(3).ppf(0.95) for s in sl))
    normal = NormalDist(6.0, float(spread))
    exact = 1 - normal.cdf(5.0) + normal.cdf(-5.0)
    chance, low, high = result.chance(0)
    assert low <= exact <= high
    assert high - low < 0.01
    assert result.low[0] == pytest.approx(normal.inv_cdf(0.025), abs=0.05)
    assert result.high[0] == pytest.approx(normal.inv_cdf(0.975), abs=0.05)
    assert chance == pytest.approx(exact, abs=0.005)


def test_at_the_threshold_the_chance_is_a_half():
    colourway = Colourway("#808080", ["#a0a0a0"], 1)
    at = score_with_tolerance(
        colourway, measure="dl", threshold=0, kinds="ground_single", draws=100
    ).nominal[0]
    result = score_with_tolerance(
        colourway, measure="dl", threshold=float(at), kinds="ground_single", draws=50_000,
        confidence=0.999,
    )  # fmt: skip
    _, low, high = result.chance(0)
    assert low <= 0.5 <= high


def test_independent_pairs_multiply():
    # Warp stripe and weft stripe of different check: two grounds–singles share the ground, so
    # all together are likelier than the product says, and never likelier than the least.
    colourway = Colourway("#808080", ["#8f8f8f", "#707070"], 1)
    result = score_with_tolerance(
        colourway, Tolerance(2), measure="dl", threshold=5, kinds="ground_single", draws=50_000
    )
    chances = [result.chance(n)[0] for n in range(2)]
    together = result.chance_of_all[0]
    assert together <= min(chances)
    # One stripe is lighter and one darker: a ground that strays helps one and harms the other.
    assert together < chances[0] * chances[1]


def test_what_is_specified_lies_within_what_is_drawn():
    """Also of colours that no screen shows: next to no scatter leaves what is specified."""
    stripes = ["color(rec2020 0 0.9 0.3)", "color(display-p3 1 0 0)"]
    colourway = Colourway("white", stripes, 0.9)
    for of, measure in (("tones", "de2000"), ("tones", "ratio"), ("colours", "hyab")):
        found = score_with_tolerance(
            colourway, Tolerance(1e-6), of=of, measure=measure, draws=100, kinds="single_single"
        )
        assert found.nominal == pytest.approx(found.low, rel=1e-3)


@pytest.mark.parametrize("of", ["tones", "colours"])
def test_the_seed_settles_the_figures(of):
    colourway = Colourway("white", ["navy", "gold"], mixing="woven")
    one, two, other = (
        score_with_tolerance(colourway, threshold=8, of=of, draws=500, seed=seed)
        for seed in (1, 1, 2)
    )
    assert (one.hits == two.hits).all()
    assert (one.low == two.low).all()
    assert not (one.low == other.low).all()
    assert "seed 1" in one.basis


def test_mixed_colours_scatter_less_than_tones_do():
    # A single at half strength takes half of its stripe's departure, so pairs spread less.
    colourway = Colourway("#cccccc", ["#446688"], 0.5, "source-over-linear")
    tones, colours = (
        score_with_tolerance(colourway, kinds="edges", of=of, draws=4000)
        for of in ("tones", "colours")
    )
    assert ((colours.high - colours.low) < (tones.high - tones.low)).all()


@pytest.mark.parametrize(
    "arguments",
    [
        {"draws": 10},
        {"seed": -1},
        {"of": "lots"},
        {"confidence": 95},
        {"kinds": "single_single"},
        {"tolerance": 1.0},
    ],
)
def test_bad_arguments_are_named(arguments):
    with pytest.raises(ArgumentError) as caught:
        score_with_tolerance(Colourway("white", ["navy"]), **arguments)
    assert [caught.value.argument] == list(arguments)


@pytest.mark.parametrize("arguments", [{"size": 0}, {"measure": "dl"}, {"within": 95}])
def test_bad_tolerances_are_refused(arguments):
    with pytest.raises(ArgumentError):
        Tolerance(**arguments)
