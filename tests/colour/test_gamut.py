"""Mapping into sRGB: chroma only, and nothing inside it moves."""

from __future__ import annotations

import numpy as np
import pytest
from coloraide import Color

from checkcloth.colour.spaces import into_srgb, linear_to_oklab
from checkcloth.errors import ArgumentError

OUTSIDE = np.random.default_rng(5).uniform(-0.15, 1.1, (400, 3))
OUTSIDE = OUTSIDE[((OUTSIDE < 0) | (OUTSIDE > 1)).any(axis=1)]


def test_colours_inside_come_back_as_they_are():
    inside = np.random.default_rng(6).random((500, 3))
    assert np.array_equal(into_srgb(inside), inside)


def test_lightness_and_hue_stay_and_chroma_falls():
    mapped = into_srgb(OUTSIDE)
    assert mapped.min() >= 0
    assert mapped.max() <= 1
    before, after = linear_to_oklab(OUTSIDE), linear_to_oklab(mapped)
    keep = (before[:, 0] > 0) & (before[:, 0] < 1)
    before, after = before[keep], after[keep]
    assert after[:, 0] == pytest.approx(before[:, 0], abs=1e-6)
    chroma = np.hypot(before[:, 1], before[:, 2]), np.hypot(after[:, 1], after[:, 2])
    assert (chroma[1] <= chroma[0] + 1e-9).all()
    # Parallel in the a, b plane, and pointing the same way.
    cross = before[:, 1] * after[:, 2] - before[:, 2] * after[:, 1]
    assert np.abs(cross).max() < 1e-8
    assert ((before[:, 1:] * after[:, 1:]).sum(axis=1) >= -1e-12).all()


def test_as_coloraide_without_its_clipping_step():
    """coloraide's oklch-chroma with a just-noticeable difference of 0 reduces chroma only."""
    for linear in OUTSIDE[:60]:
        theirs = Color("srgb-linear", linear.tolist()).convert("srgb")
        theirs.fit(method="oklch-chroma", jnd=0)
        wanted = np.array(theirs.convert("srgb-linear").coords(nans=False))
        assert into_srgb(linear) == pytest.approx(wanted, abs=2e-3)


def test_beyond_white_and_black():
    assert into_srgb([1.2, 1.2, 1.2]) == pytest.approx([1, 1, 1])
    assert into_srgb([-0.2, -0.2, -0.2]) == pytest.approx([0, 0, 0])


def test_bad_input_is_named():
    with pytest.raises(ArgumentError, match="linear must be finite"):
        into_srgb([np.nan, 0, 0])
    with pytest.raises(ArgumentError, match=r"linear must be of shape"):
        into_srgb([0.0, 0.0])
