"""Thresholds and windows against a dense sweep, and against cases worked out by hand."""

from __future__ import annotations

from decimal import Decimal

import numpy as np
import pytest
import scipy
from hypothesis import given
from hypothesis import strategies as st
from skimage.color import deltaE_ciede2000

from checkcloth.cloth.check import Check
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.mixing import MIXINGS
from checkcloth.cloth.palette import Palette
from checkcloth.colour.spaces import srgb_to_lab
from checkcloth.colour.vision import see_as
from checkcloth.errors import ArgumentError
from checkcloth.quality import Demand, ground_gains, strength_windows, sweep
from checkcloth.quality.sweep import Span, held_spans, overlap
from checkcloth.scoring.contrast import score

DENSE = np.linspace(0, 1, 4001)


def random_colourways(count: int) -> list[Colourway]:
    rng = np.random.default_rng(11)
    out = []
    for number in range(count):
        rows = rng.integers(0, 256, (1 + number % 3 + 1, 3)).tolist()
        hexes = ["#{:02x}{:02x}{:02x}".format(*row) for row in rows]
        out.append(Colourway(hexes[0], hexes[1:], mixing=MIXINGS[number % len(MIXINGS)]))
    return out


def inside(spans: tuple[Span, ...], x: float) -> bool:
    return any(span.low <= x <= span.high for span in spans)


@pytest.mark.parametrize("colourway", random_colourways(6), ids=str)
def test_every_pair_against_a_dense_sweep(colourway):
    swept = sweep(colourway, threshold=8, kinds=["ground_single", "single_crossing"])
    tones = np.stack([colourway.with_(strength=a).tones for a in DENSE[::20]])
    lab = srgb_to_lab(tones)
    for number in range(len(swept.pairs)):
        first, second = swept.pairs.one[number], swept.pairs.two[number]
        value = deltaE_ciede2000(lab[:, *first], lab[:, *second])
        for x, v in zip(DENSE[::20], value, strict=True):
            if abs(v - 8) > 1e-6:
                assert inside(swept.spans[number], float(x)) == (v >= 8), (number, x, v)


def test_a_threshold_equals_brents_method():
    colourway = Colourway("white", ["crimson"])

    def margin(a: float) -> float:
        lab = srgb_to_lab(colourway.with_(strength=a).tones)
        return float(deltaE_ciede2000(lab[0, 0], lab[1, 0])) - 10

    root = scipy.optimize.brentq(margin, 0.01, 0.99, xtol=1e-14)
    (span,) = sweep(colourway, threshold=10, kinds="ground_single").spans[0]
    assert span.low == pytest.approx(root, abs=1e-10)
    assert span.high == 1


def test_a_grey_over_white_is_found_where_arithmetic_puts_it():
    # Black over white, encoded sRGB: the single is the grey 1−α, and L* falls by 20 where
    # its luminance is that of L* 80: Y = ((80 + 16)/116)³ (CIE 15), encoded by IEC 61966-2-1.
    grey = 1.055 * (((80 + 16) / 116) ** 3) ** (1 / 2.4) - 0.055
    (span,) = sweep(
        Colourway("white", ["black"]), measure="dl", threshold=20, kinds="ground_single"
    ).spans[0]
    assert span.low == pytest.approx(1 - grey, abs=1e-12)


def test_a_ratio_is_found_where_arithmetic_puts_it():
    # 1.05 / (Y + 0.05) = 3 at Y = 0.3.
    grey = 1.055 * 0.3 ** (1 / 2.4) - 0.055
    (span,) = sweep(
        Colourway("white", ["black"]), measure="ratio", threshold=3, kinds="ground_single"
    ).spans[0]
    assert span.low == pytest.approx(1 - grey, abs=1e-12)


def test_a_dip_between_grid_points_is_found():
    grid = np.linspace(0, 1, 21)

    def at(x, which):
        return (x - 0.512) ** 2 - 1e-6

    (spans,) = held_spans(at, grid, at(grid, None)[:, None])
    assert len(spans) == 2
    assert spans[0].high == pytest.approx(0.511, abs=1e-12)
    assert spans[1].low == pytest.approx(0.513, abs=1e-12)


def test_a_peak_between_grid_points_is_found():
    grid = np.linspace(0, 1, 21)

    def at(x, which):
        return 1e-3 - np.abs(x - 0.512)

    (spans,) = held_spans(at, grid, at(grid, None)[:, None])
    assert [pytest.approx(end, abs=1e-12) for end in (0.511, 0.513)] == list(spans[0])


def test_overlap_of_none_and_of_disjoint():
    assert overlap([]) == ()
    assert overlap([(Span(0, 0.4),), (Span(0.5, 1),)]) == ()


@pytest.mark.parametrize("colourway", random_colourways(4), ids=str)
def test_windows_against_a_dense_sweep(colourway):
    demands = [
        Demand("edges", "de2000", 5),
        Demand("ground_single", "dl", 4, "deutan"),
        Demand("ground_single", "ratio", 1.15),
        Demand("lightness", at_least=0.5, vision="grey"),
    ]
    for window in strength_windows(colourway, demands):
        for x in DENSE[1::80]:
            laid = colourway.with_(strength=float(x), mixing=window.mixing)
            normal, deutan = score(laid), score(laid, "deutan")
            light = srgb_to_lab(see_as(laid.tones, "grey"))[..., 0]
            down = [light[1:, 0] - light[0, 0], light[0, 1:] - light[0, 0]]
            down += [
                (light[1:, 1:] - light[1:, :1]).ravel(),
                (light[1:, 1:] - light[:1, 1:]).ravel(),
            ]
            steps = np.concatenate(down)
            margins = [
                float(normal.least_edge) - 5,
                float(deutan.ground_single.least_dl) - 4,
                float(normal.ground_single.least_ratio) - 1.15,
                max(float(steps.min()), float((-steps).min())) - 0.5,
            ]
            if min(abs(m) for m in margins) > 1e-9:
                assert inside(window.spans, float(x)) == (min(margins) >= 0), (window, x, margins)


@pytest.mark.parametrize("weft", [None, ["#b0c8a0", "color(rec2020 0.1 0.5 0.9)"]])
def test_ends_of_colours_beyond_srgb_are_where_the_tones_are(weft):
    stripes = ["color(display-p3 0 0.6 0.5)", "#c04030", "color(rec2020 0.8 0.7 0.1)"]
    cloth = Colourway("#f4f0e6", stripes, 0.5, "source-over-linear", weft_stripes=weft)
    swept = sweep(cloth, threshold=12, kinds=["edges", "single_single"], steps=50)
    ends = 0
    for one, two, spans in zip(swept.pairs.one, swept.pairs.two, swept.spans, strict=True):
        for end in {end for span in spans for end in span if 0 < end < 1}:
            lab = srgb_to_lab(cloth.with_(strength=end).tones)
            assert deltaE_ciede2000(lab[*one], lab[*two]) == pytest.approx(12, abs=1e-5)
            ends += 1
    assert ends > 12


def test_every_edge_is_asked_and_gained_where_stripes_lie_side_by_side():
    """Without ground between them two stripes touch: the drawn cloth says what else does."""
    check = Check("1 cm", 2, warp="1 A, 1 B, 2 ground", weft="1 A, 1 ground")
    cloth = Colourway("white", ["#204060", "#214a66"])

    def least(colourway):
        light = srgb_to_lab(colourway.tones)[..., 0]
        drawn = light[np.ix_([1, 2, 0], [1, 0])]  # [x, y], and both close to a ring
        steps = (drawn - np.roll(drawn, -1, axis) for axis in (0, 1))
        return min(float(np.abs(step).min()) for step in steps)

    (window,) = strength_windows(
        cloth, [Demand("edges", "dl", 1.5)], mixings=["source-over"], check=check
    )
    assert window.spans
    for x in DENSE[1::80]:
        value = least(cloth.with_(strength=float(x)))
        if abs(value - 1.5) > 1e-9:
            assert inside(window.spans, float(x)) == (value >= 1.5)
    for gain in ground_gains(cloth, ["white", "black"], check=check):
        assert gain.least_dl == pytest.approx(least(gain.colourway))


def test_windows_are_had_by_mixing_and_by_place():
    windows = strength_windows(Colourway("white", ["navy"]), [Demand("edges", "dl", 5)])
    assert [windows[place] for place in range(len(windows))] == list(windows)
    assert windows[-1] is windows[windows.windows[-1].mixing]
    for wrong in (len(windows), -len(windows) - 1, True, 0.0, "weave", None):
        with pytest.raises(ArgumentError, match=f"or a place from 0 to {len(windows) - 1}"):
            windows[wrong]


def test_a_palette_is_told_how_it_becomes_colourways():
    palette = Palette("bay", ["white", "navy"])
    for ask in (sweep, lambda it: strength_windows(it, [Demand("edges")])):
        with pytest.raises(ArgumentError, match="palette_colourways") as caught:
            ask(palette)
        assert caught.value.argument == "colourway"


def test_a_window_says_when_nothing_holds_and_which_demand_fails():
    windows = strength_windows(Colourway("white", ["ivory"]), [Demand("edges", "dl", 30)])
    assert all(window.spans == () and window.widest is None for window in windows)
    assert "no strength holds all" in str(windows["woven"])


def test_a_demand_on_pairs_that_are_not_there_holds_everywhere():
    (window,) = strength_windows(
        Colourway("white", ["navy"]), [Demand("single_single", "de2000", 50)], mixings=["woven"]
    )
    assert window.spans == (Span(0, 1),)


def test_scores_of_a_many_striped_check_are_swept_in_blocks():
    rng = np.random.default_rng(2)
    stripes = ["#{:02x}{:02x}{:02x}".format(*r) for r in rng.integers(0, 256, (12, 3)).tolist()]
    swept = sweep(Colourway("white", stripes), kinds=["edges", "crossing_crossing"], steps=20)
    assert len(swept.pairs) > 8192
    assert np.isfinite(swept.values).all()


def test_gains_are_differences_of_scores():
    colourway = Colourway("silver", ["navy", "gold"])
    gains = ground_gains(colourway, ["white", "black", "silver"])
    own = float(score(colourway).least_edge)
    for gain in gains:
        again = float(score(colourway.with_(ground=gain.colourway.ground)).least_edge)
        assert gain.gain == pytest.approx(again - own, abs=1e-12)
    assert [g.gain for g in gains] == sorted((g.gain for g in gains), reverse=True)


@pytest.mark.parametrize(
    ("call", "argument"),
    [
        (lambda c: sweep(c, measure="lab"), "measure"),
        (lambda c: sweep(c, threshold=-1), "threshold"),
        (lambda c: sweep(c, measure="ratio", threshold=0.5), "threshold"),
        (lambda c: sweep(c, kinds="stripes"), "kinds"),
        # A check of one stripe has no such pair.
        (lambda c: sweep(c, kinds="single_single"), "kinds"),
        (lambda c: sweep(c, vision="dog"), "vision"),
        (lambda c: sweep(c, steps=3), "steps"),
        (lambda c: sweep("white"), "colourway"),
        (lambda c: strength_windows(c, []), "demands"),
        (lambda c: strength_windows(c, Demand("edges")), "demands"),
        (lambda c: strength_windows(c, [Demand("edges")], mixings=["airbrush"]), "mixing"),
        (lambda c: strength_windows(c, [Demand("edges")])["airbrush"], "mixing"),
        (lambda c: Demand("edges", "dl", 10, "dog"), "vision"),
        (lambda c: ground_gains(c, []), "grounds"),
    ],
)
def test_bad_arguments_are_named(call, argument):
    with pytest.raises(ArgumentError) as caught:
        call(Colourway("white", ["navy"]))
    assert caught.value.argument == argument


@given(st.floats(0, 1), st.floats(0, 1), st.integers(0, 3))
def test_ends_are_rounded_inwards(one, two, digits):
    span = Span(min(one, two), max(one, two))
    low, high = (Decimal(text) / 100 for text in span.per_cent(digits))
    assert Decimal(repr(span.low)) <= low <= high <= Decimal(repr(span.high))


def test_windows_typed_back_in_hold():
    cloth = Colourway("white", ["navy", "gold"])
    for window in strength_windows(cloth, [Demand("edges", "de2000", 9)]).windows:
        for span in window.spans:
            for text in span.per_cent():
                made = cloth.with_(strength=float(text) / 100, mixing=window.mixing)
                assert float(score(made).least_edge) >= 9
