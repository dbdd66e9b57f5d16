"""Colour-vision deficiency and grey, against published matrices and two libraries."""

from __future__ import annotations

import warnings

import colour
import numpy as np
import pytest
from coloraide import Color
from coloraide.filters import cvd
from hypothesis import given
from hypothesis import strategies as st

from checkcloth.colour import vision as module
from checkcloth.colour.spaces import linear_to_srgb, srgb_to_lab, srgb_to_linear
from checkcloth.colour.vision import MACHADO_2009, VISIONS, see_as
from checkcloth.errors import ArgumentError

RGB = np.random.default_rng(40).random((2000, 3))
ANOMALY = {"protan": "Protanomaly", "deutan": "Deuteranomaly", "tritan": "Tritanomaly"}


def colour_sciences(vision, severity):
    """colour-science's matrix; of tritan it warns that the model is an approximation."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        return colour.blindness.matrix_cvd_Machado2009(ANOMALY[vision], severity)


def test_all_33_machado_matrices():
    """Machado et al. 2009, as colour-science and coloraide both carry them."""
    theirs = {"protan": cvd.MACHADO_PROTAN, "deutan": cvd.MACHADO_DEUTAN,
              "tritan": cvd.MACHADO_TRITAN}  # fmt: skip
    for kind, matrices in MACHADO_2009.items():
        assert matrices.shape == (11, 3, 3)
        for step, matrix in enumerate(matrices):
            assert np.array_equal(matrix, colour_sciences(kind, step / 10)), (kind, step)
            assert np.array_equal(matrix, np.array(theirs[kind][step])), (kind, step)
        assert matrices.sum(axis=2) == pytest.approx(1, abs=1.1e-6)  # white stays white


def test_red_as_it_is_printed(gold):
    """0–255, unclipped, so through the models' matrices and not through display."""
    for row in gold("vision_red"):
        linear = np.array([1.0, 0.0, 0.0])
        if row["model"] == "machado2009":
            seen, tolerance = MACHADO_2009[row["vision"]][10] @ linear, 0.02
        else:
            seen, tolerance = module._full(linear, row["vision"]), 0.5
        encoded = linear_to_srgb(seen) * 255
        assert encoded == pytest.approx([row["r"], row["g"], row["b"]], abs=tolerance)


@pytest.mark.parametrize("vision", ["protan", "deutan", "tritan"])
def test_full_severity_as_coloraides_defaults(vision):
    """coloraide, too, takes Viénot for protan and deutan, and Brettel for tritan.

    0.002 of 0–1: its matrices are worked out to more than five decimals.
    """
    found = see_as(RGB[:500], vision)
    for one, seen in zip(RGB[:500], found, strict=True):
        theirs = (
            Color("srgb", one.tolist()).filter(vision, out_space="srgb").clip().coords(nans=False)
        )
        assert seen == pytest.approx(theirs, abs=2e-3)


@pytest.mark.parametrize("vision", ["protan", "deutan"])
def test_red_and_green_confusions_follow_vienot_not_coloraides_brettel(vision):
    """Trap: coloraide's Brettel takes the wrong half-plane for protan and deutan."""
    apart = [
        np.abs(
            np.array(
                Color("srgb", one.tolist())
                .filter(vision, method="brettel", out_space="srgb")
                .coords()
            )
            - see_as(one, vision)
        ).max()
        for one in RGB[:200]
    ]
    assert max(apart) > 0.05


@pytest.mark.parametrize("vision", ["protan", "deutan", "tritan"])
@pytest.mark.parametrize("severity", [0.05, 0.3, 0.37, 0.9, 0.999])
def test_partial_severity_as_coloraide(vision, severity):
    """coloraide interpolates between the same matrices."""
    found = see_as(RGB[:300], vision, severity)
    for one, seen in zip(RGB[:300], found, strict=True):
        theirs = Color("srgb", one.tolist())
        theirs = theirs.filter(vision, severity, method="machado", out_space="srgb").clip()
        assert seen == pytest.approx(theirs.coords(nans=False), abs=1e-9)


@pytest.mark.parametrize("vision", ["protan", "deutan", "tritan"])
def test_between_its_steps_colour_science_leaves_the_table(vision):
    """Trap: it takes the step above and carries the next interval's slope backwards.

    At 0.05 the table's two neighbours are severity 0 and 0.1; colour-science 0.4.7 gives
    what lies before 0.1 on the line from 0.1 to 0.2. On the steps themselves it is right.
    """
    table = MACHADO_2009[vision]
    ours = (table[0] + table[1]) / 2
    backwards = table[1] - (table[2] - table[1]) / 2
    theirs = colour_sciences(vision, 0.05)
    assert np.abs(theirs - ours).max() > 1e-3 or np.allclose(theirs, ours)  # until mended
    if not np.allclose(theirs, ours):
        assert theirs == pytest.approx(backwards, abs=1e-9)
    linear = colour.models.eotf_sRGB(RGB) @ colour_sciences(vision, 0.6).T
    wanted = colour.models.eotf_inverse_sRGB(np.clip(linear, 0, 1))
    assert see_as(RGB, vision, 0.6) == pytest.approx(wanted, abs=1e-9)


def test_grey_has_the_luminance_of_the_colour():
    grey = see_as(RGB, "grey")
    assert np.ptp(grey, axis=1).max() == 0
    # L* of the colour is L* of its grey, by the definition of both; 1e-5 where a dark grey
    # falls between the two breaks of the sRGB curve.
    assert srgb_to_lab(grey)[:, 0] == pytest.approx(srgb_to_lab(RGB)[:, 0], abs=1e-5)
    half = srgb_to_linear(see_as(RGB, "grey", 0.5))
    assert half == pytest.approx((srgb_to_linear(RGB) + srgb_to_linear(grey)) / 2, abs=1e-9)


@given(st.floats(0, 1), st.sampled_from(VISIONS), st.floats(0, 1))
def test_greys_stay_as_they_are(level, vision, severity):
    # Five and six decimals in the matrices: rows sum to 1 within 1e-5.
    assert see_as([level] * 3, vision, severity) == pytest.approx([level] * 3, abs=1e-4)


@given(st.tuples(*[st.floats(0, 1)] * 3), st.sampled_from(VISIONS), st.floats(0, 1))
def test_seen_colours_can_be_shown(rgb, vision, severity):
    seen = see_as(rgb, vision, severity)
    assert seen.min() >= 0
    assert seen.max() <= 1
    assert np.array_equal(see_as(rgb, vision, 0), rgb)


def test_every_shape_and_many_colours():
    many = np.random.default_rng(41).random((3, 5000, 3))
    for vision in VISIONS:
        seen = see_as(many, vision, 0.7)
        assert seen.shape == many.shape
        assert seen[2, -4:] == pytest.approx(see_as(many[2, -4:], vision, 0.7), abs=1e-13)


def test_what_comes_back_is_a_copy():
    rgb = np.full((2, 3), 0.5)
    see_as(rgb, "normal")[:] = 0
    assert (rgb == 0.5).all()


@pytest.mark.parametrize(
    ("call", "said"),
    [
        (lambda: see_as([1, 0, 0], "protanope"), "vision must be one of normal.*'protanope'"),
        (lambda: see_as([1, 0, 0], "deutan", 1.2), "severity must be from 0 to 1, found 1.2"),
        (lambda: see_as([1, 0, 0], "deutan", -0.1), "severity must be from 0 to 1, found -0.1"),
        (lambda: see_as([1, 0, 0], "deutan", np.nan), "severity must be from 0 to 1, found nan"),
        (lambda: see_as([1, 0, 0], "deutan", "full"), "severity must be a number, found 'full'"),
        (lambda: see_as([255, 0, 0], "tritan"), "rgb must be in 0–1.*divide by 255"),
        (lambda: see_as([[1, 0]], "tritan"), r"rgb must be of shape.*\(1, 2\)"),
    ],
)
def test_bad_input_is_named(call, said):
    with pytest.raises(ArgumentError, match=said):
        call()
