"""The fast form of CIEDE2000 gives the numbers of the paper's, which stands beside it."""

from __future__ import annotations

import numpy as np
import pytest

from checkcloth.colour.ciede2000 import (
    ciede2000_as_written,
    ciede2000_columns,
    ciede2000_or_nan,
    delta_e_2000,
)


def _pairs(kind: str) -> tuple[np.ndarray, np.ndarray]:
    rng = np.random.default_rng(5)
    one, two = rng.uniform([[0], [-100], [-100]], [[100], [100], [100]], (2, 3, 20_000))
    if kind == "close":
        two = one + rng.normal(0, 1, one.shape)
    elif kind == "opposite":
        two[1:] = -one[1:] * rng.uniform(0.3, 1, 20_000) + rng.normal(0, 0.3, (2, 20_000))
    elif kind == "nearly grey":
        two[1:] *= 10.0 ** -rng.integers(10, 320, 20_000)
        one[1:, ::2] *= 10.0 ** -rng.integers(10, 320, 10_000)
    return one, two


@pytest.mark.parametrize("kind", ["far", "close", "opposite", "nearly grey"])
def test_the_fast_form_of_ciede2000_is_the_paper(kind):
    one, two = _pairs(kind)
    plain = ciede2000_as_written(one, two)
    # The paper's own form loses digits where hues are all but opposite, and in hues that are
    # nearly alike (a difference of two angles of up to 360).
    np.testing.assert_allclose(ciede2000_columns(one, two), plain, rtol=1e-10, atol=1e-9)


def test_greys_and_opposites_are_left_to_the_paper():
    one = np.array([[50.0, 50, 50, 60], [0, 20, 30, 3], [0, 10, 0, 4]])
    two = np.array([[55.0, 40, 50, 61], [20, -20, 0, 4], [10, -10, 0, 3]])
    assert np.isnan(ciede2000_or_nan(one, two)).tolist() == [True, True, True, False]
    found = ciede2000_columns(one, two)
    assert np.array_equal(found[:3], ciede2000_as_written(one, two)[:3])
    assert np.array_equal(found, delta_e_2000(one.T, two.T))
