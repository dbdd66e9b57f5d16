"""Recovered reflectance and Kubelka–Munk, against published values and other solvers."""

from __future__ import annotations

import importlib.util
from pathlib import Path

import colour
import numpy as np
import pytest
import scipy
from pigment_pairs import recovery_misses

from checkcloth.cloth.mixing import mix_tones
from checkcloth.colour import reflectance
from checkcloth.colour.cie1931 import COLOUR_MATCHING, D65_POWER, WAVELENGTHS
from checkcloth.colour.ciede2000 import delta_e_2000
from checkcloth.colour.css import parse_css
from checkcloth.colour.reflectance import RECOVERY_ERROR
from checkcloth.colour.spaces import (
    D65_WHITE,
    linear_to_srgb,
    linear_to_xyz,
    srgb_to_lab,
    srgb_to_linear,
    xyz_to_lab,
    xyz_to_linear,
)
from checkcloth.errors import ArgumentError

GOLD = Path(__file__).resolve().parents[1] / "gold"
STEPS = np.linspace(0, 1, 17)
GRID = np.stack(np.meshgrid(STEPS, STEPS, STEPS, indexing="ij"), axis=-1).reshape(-1, 3)


def de00_of_light(light, rgb):
    """CIEDE2000 between linear light, perhaps just outside 0–1, and encoded sRGB."""
    return delta_e_2000(xyz_to_lab(linear_to_xyz(light)), srgb_to_lab(rgb))


def test_tables_are_what_the_script_writes():
    spec = importlib.util.spec_from_file_location("write_cie1931", GOLD / "write_cie1931.py")
    script = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(script)
    assert script.MODULE.read_text("utf-8") == script.module_text()


def test_tables_give_the_white_of_d65():
    """ISO/CIE 11664-2: D65 is x 0.3127, y 0.3290; sums by 10 nm keep it to 0.0003."""
    white = COLOUR_MATCHING.T @ D65_POWER
    assert white[:2] / white.sum() == pytest.approx([0.3127, 0.3290], abs=3e-4)


@pytest.fixture(scope="module")
def grid_spectra():
    return reflectance.reflectances(GRID)


def test_every_colour_of_the_grid_has_a_reflectance_inside_0_and_1(grid_spectra):
    assert grid_spectra.shape == (17**3, 36)
    assert grid_spectra.min() > 0
    assert grid_spectra.max() < 1


def test_round_trip_over_the_grid(grid_spectra):
    """Within 0.03 ΔE00 as the spectrum stands; exact once the margin is undone.

    The first is the margin of 1e-5 that keeps black and white finite (0.009 is seen, on a
    dark purple); the second is rounding.
    """
    light = reflectance.reflectance_to_linear(grid_spectra)
    assert de00_of_light(light, GRID).max() < 0.03
    back = reflectance.spectra_to_srgb(grid_spectra)
    assert np.abs(back - GRID).max() < 1e-9


def test_colour_science_sees_the_same_colour_by_1_nm():
    """colour-science integrates the spectra by 1 nm over 360–830 nm: within 0.03 ΔE00 too.

    Our sums run by 10 nm from 380 to 730 nm; on spectra as smooth as these it is enough.
    colour-science has no recovery by this method, so the way back is what it can judge.
    """
    observer = colour.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"].copy()
    daylight = colour.SDS_ILLUMINANTS["D65"].copy().align(observer.shape)
    names = ["#e69f00", "#56b4e9", "#009e73", "#f0e442", "#0072b2", "#d55e00", "#cc79a7",
             "white", "#888", "#333", "red", "lime", "blue"]  # fmt: skip
    rgb = np.array([parse_css(name) for name in names])
    for one, spectrum in zip(rgb, reflectance.reflectances(rgb), strict=True):
        sd = colour.SpectralDistribution(dict(zip(WAVELENGTHS, spectrum, strict=True)))
        sd.align(observer.shape)
        xyz = colour.sd_to_XYZ(sd, observer, daylight, method="Integration") / 100
        assert delta_e_2000(xyz_to_lab(xyz), srgb_to_lab(one)) < 0.03


def test_burns_grey_is_flat():
    """Burns prints #808080 as a flat 0.2159 (scottburns.us, reflectance curves from sRGB)."""
    flat = reflectance.reflectances([128 / 255] * 3)
    assert flat == pytest.approx(0.2159, abs=1e-4)
    assert np.ptp(flat) < 1e-9


@pytest.mark.parametrize("text", ["#c0392b", "#2a6f97", "#e9c46a", "#6a994e", "#5b2a86"])
def test_same_spectrum_as_a_general_optimiser(text):
    """scipy's SLSQP on the same problem: least Σ(Δz)² that still gives the colour."""
    rgb = np.array(parse_css(text))
    weights = xyz_to_linear(
        COLOUR_MATCHING
        * D65_POWER[:, None]
        * D65_WHITE
        / (COLOUR_MATCHING * D65_POWER[:, None]).sum(axis=0)
    ).T
    target = srgb_to_linear(rgb)
    slow = scipy.optimize.minimize(
        lambda z: float((np.diff(z) ** 2).sum()),
        np.zeros(36),
        jac=lambda z: 2 * (np.r_[0, np.diff(z)] - np.r_[np.diff(z), 0]),
        constraints={
            "type": "eq",
            "fun": lambda z: weights @ (np.tanh(z) + 1) / 2 - target,
            "jac": lambda z: weights * (1 - np.tanh(z) ** 2) / 2,
        },
        method="SLSQP",
        options={"maxiter": 500, "ftol": 1e-12},
    )
    assert slow.success
    ours = reflectance.reflectances(rgb)
    # 1e-5 is the margin; the rest is where the general optimiser stops.
    assert ours == pytest.approx((np.tanh(slow.x) + 1) / 2, abs=5e-4)


def test_kept_spectra_are_the_same_and_in_order():
    rng = np.random.default_rng(3)
    rgb = rng.random((300, 3))
    first = reflectance.reflectances(rgb)
    again = reflectance.reflectances(rgb[::-1])[::-1]
    assert np.array_equal(first, again)
    alone = np.array([reflectance._smoothest(srgb_to_linear(one)[None])[0] for one in rgb[:20]])
    assert first[:20] == pytest.approx(alone, abs=1e-4)


def test_a_changed_answer_does_not_change_what_is_kept():
    spectrum = reflectance.reflectances([0.3, 0.5, 0.7])
    spectrum[:] = 0
    assert reflectance.reflectances([0.3, 0.5, 0.7]).min() > 0


def test_more_colours_than_are_kept_still_all_come_back():
    rgb = np.random.default_rng(4).random((reflectance._KEPT + 10, 3))
    back = reflectance.spectra_to_srgb(reflectance.reflectances(rgb))
    assert np.abs(back - rgb).max() < 1e-9
    assert len(reflectance._recovered) <= reflectance._KEPT


def test_shapes():
    assert reflectance.reflectances(np.zeros((0, 3))).shape == (0, 36)
    assert reflectance.reflectances(np.zeros((2, 4, 3))).shape == (2, 4, 36)
    assert reflectance.spectra_to_srgb(np.full((2, 4, 36), 0.5)).shape == (2, 4, 3)


# Kubelka and Munk's function by arithmetic: (1 − R)² / 2R.
KM = {0.5: 0.25, 0.25: 1.125, 0.2: 1.6, 0.1: 4.05, 0.05: 9.025, 0.01: 49.005,
      0.8: 0.025, 0.9: 0.0055555556}  # fmt: skip


def test_kubelka_munk_function_and_its_inverse():
    r, k = np.array(list(KM)), np.array(list(KM.values()))
    assert reflectance.reflectance_to_absorption(r) == pytest.approx(k, rel=1e-8)
    assert reflectance.absorption_to_reflectance(k) == pytest.approx(r, rel=1e-8)
    # The inverse keeps its digits where the textbook form loses them all.
    assert reflectance.absorption_to_reflectance(1e9) == pytest.approx(5e-10, rel=1e-6)


def test_pigment_of_two_greys_is_the_kubelka_munk_mean():
    """50:50 of R 0.1 and 0.9: 0.169905 (derived). 2e-5 is the margin round black and white."""
    dark, light = linear_to_srgb(np.array([[0.1] * 3, [0.9] * 3]))
    single = mix_tones(light, [dark], 0.5, "pigment")[1, 0]
    assert srgb_to_linear(single) == pytest.approx([0.169905] * 3, abs=2e-5)


@pytest.mark.parametrize(
    ("yellow", "blue", "hue"),
    [
        ("#f0e442", "#0072b2", 171.3),  # Okabe and Ito's
        ("gold", "royalblue", 146.1),
        ("#f5d311", "#1f4fa3", 176.7),
        ("yellow", "blue", 211.4),  # the corners of sRGB: a dark teal
    ],
)
def test_yellow_and_blue_give_a_green_as_pigment_and_not_as_light(yellow, blue, hue):
    """h_ab of green in Lab: CSS lime 136°, teal 197°, where yellow is 103° and blue 306°.

    The angles are our own frozen output (silver); that they are greens is the point.
    """
    warp, weft = parse_css(yellow), parse_css(blue)
    green = srgb_to_lab(mix_tones(weft, [warp], 0.5, "pigment")[1, 0])
    angle = np.degrees(np.arctan2(green[2], green[1])) % 360
    assert angle == pytest.approx(hue, abs=2)
    assert 125 < angle < 215
    assert np.hypot(green[1], green[2]) > 15
    for light in ("source-over-linear", "woven"):
        tone = srgb_to_lab(mix_tones(weft, [warp], 0.5, light)[1, 0])
        assert not (125 < np.degrees(np.arctan2(tone[2], tone[1])) % 360 < 215 and
                    np.hypot(tone[1], tone[2]) > 15)  # fmt: skip


@pytest.mark.parametrize(
    ("call", "found"),
    [
        (lambda: reflectance.reflectances([[255, 0, 0]]), r"rgb must be in 0–1.*divide by 255"),
        (lambda: reflectance.reflectances([0.5, np.nan, 0.5]), "rgb must be finite"),
        (lambda: reflectance.reflectances([0.5, 0.5]), r"rgb must be of shape.*\(2,\)"),
        (lambda: reflectance.spectra_to_srgb(np.ones(35)), r"shape \(..., 36\).*\(35,\)"),
        (lambda: reflectance.reflectance_to_absorption([0.0]), "reflectance must be above 0"),
        (lambda: reflectance.reflectance_to_absorption([np.nan]), "reflectance must be above 0"),
        (lambda: reflectance.absorption_to_reflectance([-1.0]), "absorption must be 0 or more"),
    ],
)
def test_bad_input_is_named(call, found):
    with pytest.raises(ArgumentError, match=found):
        call()


def test_what_recovery_costs_is_what_is_said():
    """All 4,005 pairs of the 90 test colours of CIE 224 that lie in sRGB, half and half.

    From measured spectra, and from those recovered of the same colours (our own trial, printed
    by tests/bench/bench_pigment.py).
    """
    missed = recovery_misses()
    assert len(missed) == 4005
    assert np.median(missed) == pytest.approx(0.68, abs=0.08)
    assert np.percentile(missed, 95) <= RECOVERY_ERROR
    assert np.percentile(missed, 95) > RECOVERY_ERROR - 0.3
