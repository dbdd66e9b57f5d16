"""Colours under the CIE's lights: the tables as written, and sums held to colour-science's."""

from __future__ import annotations

import runpy
import warnings
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from checkcloth.colour.cie1931 import WAVELENGTHS
from checkcloth.colour.ciede2000 import delta_e_2000
from checkcloth.colour.reflectance import reflectance_to_linear
from checkcloth.colour.spaces import linear_to_xyz, xyz_to_lab
from checkcloth.colour.spectra.lights import (
    LIGHTS,
    light_shifts,
    spectral_lab,
    spectral_xyz,
    to_bands,
    white_of,
)
from checkcloth.errors import ArgumentError

WRITER = runpy.run_path(str(Path(__file__).parents[2] / "gold" / "write_lights.py"))


@pytest.fixture(scope="module")
def colour():
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        return pytest.importorskip("colour")


@pytest.fixture(scope="module")
def test_colours(colour):
    """The 99 test colours of CIE 224:2017 as colour-science has them: wavelengths, values."""
    from colour.quality.cfi2017 import load_TCS_CIE2017

    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        found = load_TCS_CIE2017(colour.SpectralShape(380, 780, 5))
    return found.wavelengths, found.values.T


def test_the_table_is_as_written(colour):
    from checkcloth.colour.spectra.weights import WEIGHTS

    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        wanted = WRITER["weights"]()
    assert set(wanted) == set(WEIGHTS)
    for key, values in wanted.items():
        assert WEIGHTS[key] == pytest.approx(values, abs=6e-7), key


def test_whites_of_cie_15():
    """CIE 015:2018's tristimulus values of illuminants (from memory), Y = 100.

    Theirs are sums by 5 nm of the whole range; by 1 nm Z of C is 0.05 less and the line lamp F11
    0.08 off, which Lab, relative to the white, hardly sees.
    """
    for light, observer, white in (
        ("A", 2, (109.85, 100, 35.58)), ("C", 2, (98.07, 100, 118.22)),
        ("D50", 2, (96.42, 100, 82.51)), ("D65", 2, (95.04, 100, 108.88)),
        ("D65", 10, (94.81, 100, 107.32)), ("A", 10, (111.14, 100, 35.20)),
        ("F11", 2, (100.96, 100, 64.35)), ("F2", 2, (99.19, 100, 67.39)),
    ):  # fmt: skip
        assert white_of(light, observer) * 100 == pytest.approx(white, abs=0.09), (light, observer)


@pytest.mark.parametrize("light", LIGHTS)
@pytest.mark.parametrize("observer", [2, 10])
def test_as_colour_science_integrates(light, observer, colour, test_colours):
    """Every fifth test colour. Fluorescent lamps differ by how their lines are interpolated."""
    nm, values = test_colours
    matching = colour.MSDS_CMFS[WRITER["OBSERVERS"][observer]]
    power = colour.SDS_ILLUMINANTS[WRITER["LIGHTS"][light]]
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        theirs = np.array([
            colour.sd_to_XYZ(colour.SpectralDistribution(one, nm), matching, power,
                             method="Integration")
            for one in values[::5]
        ]) / 100  # fmt: skip
    white = white_of(light, observer)
    off = delta_e_2000(xyz_to_lab(theirs, white), spectral_lab(to_bands(nm, values[::5]), light,
                                                               observer))  # fmt: skip
    assert off.max() < (0.2 if light.startswith("F") else 0.1)


def test_between_the_two_sums(test_colours):
    """By 10 nm, as spectra are recovered, and by 1 nm: at most ΔE00 0.04 under D65."""
    bands = to_bands(*test_colours)
    coarse = xyz_to_lab(linear_to_xyz(reflectance_to_linear(bands)))
    assert delta_e_2000(coarse, spectral_lab(bands)).max() < 0.04


def test_sprague_is_colour_sciences(colour, test_colours):
    nm, values = test_colours
    coarse = np.arange(380, 741, 20)
    at = np.isin(nm, coarse)
    found = to_bands(coarse, values[:, at])
    for one, bands in zip(values[::9], found[::9], strict=True):
        theirs = colour.SpragueInterpolator(coarse.astype(float), one[at])(WAVELENGTHS)
        assert bands == pytest.approx(np.clip(theirs, 0, 2), abs=1e-12)
    # Between 20 nm and the truth lie at most 0.06 of reflectance on these colours.
    assert np.abs(found - values[:, np.isin(nm, WAVELENGTHS)]).max() < 0.06


def test_a_metameric_pair(colour):
    """Two reflectances that are one colour under D65 and part under A: worked out, not published.

    A vector that D65 does not see is added to a grey; colour-science says the same of both.
    """
    from checkcloth.colour.spectra.weights import WEIGHTS

    weights = WEIGHTS["D65", 2]
    bump = np.sin(np.linspace(0, 9, 36))
    unseen = bump - weights @ np.linalg.lstsq(weights, bump, rcond=None)[0]
    one, two = np.full(36, 0.4), 0.4 + 0.2 * unseen / np.abs(unseen).max()
    assert spectral_lab(one) == pytest.approx(spectral_lab(two), abs=1e-9)
    shift = delta_e_2000(spectral_lab(one, "A"), spectral_lab(two, "A"))
    assert shift > 3
    power, matching = colour.SDS_ILLUMINANTS["A"], colour.MSDS_CMFS[WRITER["OBSERVERS"][2]]
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        theirs = [
            colour.sd_to_XYZ(colour.SpectralDistribution(r, WAVELENGTHS), matching, power) / 100
            for r in (one, two)
        ]
    labs = xyz_to_lab(np.array(theirs), white_of("A"))
    assert delta_e_2000(labs[0], labs[1]) == pytest.approx(shift, abs=0.15)
    moved = light_shifts(np.array([one, two]), ("D65", "A"))
    assert moved[0] == pytest.approx(0)
    assert moved[1, 0] == pytest.approx(0, abs=1e-3)  # a grey is constant


@given(st.floats(0, 1), st.sampled_from(LIGHTS), st.sampled_from([2, 10]))
def test_greys_are_grey_under_every_light(value, light, observer):
    lab = spectral_lab([value] * 36, light, observer)
    assert lab[1:] == pytest.approx([0, 0], abs=1e-9)
    assert spectral_xyz([value] * 36, light, observer)[1] == pytest.approx(value, abs=1e-4)


@pytest.mark.parametrize(
    ("act", "argument"),
    [
        (lambda: spectral_lab([0.5] * 36, "F99"), "light"),
        (lambda: spectral_lab([0.5] * 36, None), "light"),
        (lambda: spectral_lab([0.5] * 36, "D65", 4), "observer"),
        (lambda: spectral_lab([0.5] * 35), "reflectance"),
        (lambda: spectral_lab([-0.1] * 36), "reflectance"),
        (lambda: spectral_lab([np.nan] * 36), "reflectance"),
        (lambda: spectral_lab(["x"] * 36), "reflectance"),
        (lambda: to_bands(range(400, 701, 25), [0.5] * 13), "wavelengths"),
        (lambda: to_bands(range(420, 701, 20), [0.5] * 15), "wavelengths"),
        (lambda: to_bands([], []), "wavelengths"),
        (lambda: to_bands(range(400, 701, 20), [0.5] * 15), "wavelengths and values"),
        (lambda: light_shifts([0.5] * 36, ()), "lights"),
    ],
)
def test_bad_input(act, argument):
    with pytest.raises(ArgumentError) as error:
        act()
    assert error.value.argument == argument


def test_per_cents_are_said_to_be_per_cents():
    with pytest.raises(ArgumentError, match="per cent"):
        spectral_lab([50.0] * 36)
