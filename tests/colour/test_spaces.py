"""Conversions against coloraide, scikit-image and colour-science, and CSS Color 4's samples.

The white is D65 as sRGB and CSS state it, x 0.3127, y 0.3290. coloraide uses the same exact
matrices and must agree to rounding. scikit-image and colour-science use the four-decimal
matrix of IEC 61966-2-1, which lies up to 3.9e-5 from the exact one: white then has a* 0.008,
and no colour differs by more than 0.03 ΔE00.
"""

from __future__ import annotations

from fractions import Fraction

import colour
import numpy as np
import pytest
import skimage.color
from coloraide import Color
from hypothesis import given
from hypothesis import strategies as st

from checkcloth.colour import spaces
from checkcloth.colour.ciede2000 import delta_e_2000
from checkcloth.colour.css import hex_of, parse_css
from checkcloth.errors import ArgumentError

RGB = np.random.default_rng(30).random((4000, 3))
colours = st.tuples(*[st.floats(0, 1)] * 3)


def through_coloraide(space: str) -> np.ndarray:
    return np.array(
        [Color("srgb", one.tolist()).convert(space).coords(nans=False) for one in RGB[:1500]]
    )


@pytest.mark.parametrize(
    ("space", "found", "tolerance"),
    [
        ("srgb-linear", spaces.srgb_to_linear(RGB), 1e-14),
        ("xyz-d65", spaces.linear_to_xyz(spaces.srgb_to_linear(RGB)), 1e-14),
        ("lab-d65", spaces.srgb_to_lab(RGB), 1e-10),
        # coloraide rounds Oklab's matrices elsewhere than CSS Color 4 does.
        ("oklab", spaces.srgb_to_oklab(RGB), 1e-6),
    ],
)
def test_as_coloraide(space, found, tolerance):
    assert found[:1500] == pytest.approx(through_coloraide(space), abs=tolerance)


def test_as_scikit_image_and_colour_science():
    lab = spaces.srgb_to_lab(RGB)
    assert delta_e_2000(lab, skimage.color.rgb2lab(RGB, illuminant="D65")).max() < 0.03
    white = colour.RGB_COLOURSPACES["sRGB"].whitepoint
    xyz = colour.sRGB_to_XYZ(RGB)
    assert delta_e_2000(lab, colour.XYZ_to_Lab(xyz, white)).max() < 0.03
    # Not the matrix but the curve and Lab: to rounding, given the same XYZ.
    assert spaces.srgb_to_linear(RGB) == pytest.approx(colour.models.eotf_sRGB(RGB), abs=1e-14)
    ours = spaces.xyz_to_lab(xyz, colour.xy_to_XYZ(white))
    assert ours == pytest.approx(colour.XYZ_to_Lab(xyz, white), abs=1e-10)


def test_white_black_and_greys_have_no_chroma():
    greys = np.repeat(np.linspace(0, 1, 256)[:, None], 3, axis=1)
    assert np.abs(spaces.srgb_to_lab(greys)[:, 1:]).max() < 1e-12
    assert spaces.srgb_to_lab([1, 1, 1]) == pytest.approx([100, 0, 0], abs=1e-12)
    assert spaces.srgb_to_lab([0, 0, 0]) == pytest.approx([0, 0, 0], abs=1e-12)
    assert np.abs(spaces.srgb_to_oklab(greys)[:, 1:]).max() < 1e-7


def test_matrices_are_the_exact_ones_of_css_color_4():
    """``conversions.js``: the two printed matrices are each other's inverse exactly."""
    forward = [["506752/1228815", "87881/245763", "12673/70218"],
               ["87098/409605", "175762/245763", "12673/175545"],
               ["7918/409605", "87881/737289", "1001167/1053270"]]  # fmt: skip
    back = [["12831/3959", "-329/214", "-1974/3959"],
            ["-851781/878810", "1648619/878810", "36519/878810"],
            ["705/12673", "-2585/12673", "705/667"]]  # fmt: skip
    product = [[sum(Fraction(forward[i][k]) * Fraction(back[k][j]) for k in range(3))
                for j in range(3)] for i in range(3)]  # fmt: skip
    assert product == [[int(i == j) for j in range(3)] for i in range(3)]
    ours = spaces.linear_to_xyz(np.eye(3)).T
    assert ours == pytest.approx(
        np.array([[float(Fraction(cell)) for cell in row] for row in forward]), abs=1e-15
    )


def test_the_curve_at_its_joint():
    """IEC 61966-2-1 breaks at 0.04045; its pieces meet there to 6e-8 of encoded value."""
    low, high = spaces.srgb_to_linear([[0.04045] * 3, [0.04045 + 1e-12] * 3])[:, 0]
    assert low == pytest.approx(0.00313080495, abs=1e-11)
    assert high == pytest.approx(low, abs=1e-8)
    assert spaces.linear_to_srgb([-0.2, 0.0, 1.5])[0] == pytest.approx(
        -float(spaces.linear_to_srgb([0.2, 0, 0])[0])
    )


@given(colours)
def test_there_and_back(rgb):
    for there, back in (
        (spaces.srgb_to_linear, spaces.linear_to_srgb),
        (spaces.srgb_to_lab, spaces.lab_to_srgb),
        (spaces.srgb_to_oklab, spaces.oklab_to_srgb),
    ):
        # 6e-8: a value between the curve's two breaks, which do not quite meet.
        assert back(there(rgb)) == pytest.approx(np.array(rgb), abs=1e-7)


def test_blocks_do_not_show():
    """Conversions run 8,192 colours at a time; the whole is as its parts."""
    many = np.random.default_rng(31).random((8192 + 5, 3))
    for convert in (spaces.srgb_to_linear, spaces.srgb_to_lab, spaces.linear_to_srgb):
        whole = convert(many)
        assert whole[:10] == pytest.approx(convert(many[:10]), abs=1e-13)
        assert whole[-6:] == pytest.approx(convert(many[-6:]), abs=1e-13)
    assert spaces.srgb_to_lab(many[:8190].reshape(90, 91, 3)).shape == (90, 91, 3)
    assert spaces.srgb_to_lab(np.zeros((0, 3))).shape == (0, 3)


def test_css_color_4_samples(gold):
    for row in gold("css_green", delimiter=";"):
        assert hex_of(parse_css(row["text"])) == row["hex"], row["text"]


def test_whole_numbers_round_to_nearest():
    assert spaces.srgb_to_bytes([0.5, 0.4980392, 1.0]).tolist() == [128, 127, 255]
    codes = np.arange(256)
    assert np.array_equal(
        spaces.srgb_to_bytes(np.repeat(codes[:, None] / 255, 3, axis=1))[:, 0], codes
    )


@pytest.mark.parametrize(
    ("call", "said"),
    [
        (lambda: spaces.srgb_to_lab([128, 0, 0]), r"rgb must be in 0–1.*divide by 255"),
        (lambda: spaces.srgb_to_lab([0.1, np.nan, 0]), "rgb must be finite numbers"),
        (lambda: spaces.srgb_to_linear([0.1, 0.2]), r"rgb must be of shape.*found shape \(2,\)"),
        (lambda: spaces.srgb_to_linear(0.5), r"found shape \(\)"),
        (lambda: spaces.srgb_to_bytes([0.1, 0.2, 1.5]), "rgb must be in 0–1"),
        (lambda: spaces.lab_to_srgb([np.inf, 0, 0]), "lab must be finite"),
        (lambda: spaces.srgb_to_oklab(["a", "b", "c"]), "rgb must be numbers"),
    ],
)
def test_bad_input_is_named(call, said):
    with pytest.raises(ArgumentError, match=said):
        call()
