"""Greys to tritan vision: noise in a last digit never moves them to another plane."""

from __future__ import annotations

import numpy as np
import pytest

from checkcloth.colour.vision import see_as


@pytest.mark.parametrize("channel", [0, 1, 2])
@pytest.mark.parametrize("noise", [-1e-15, 1e-15])
def test_a_last_digit_of_a_grey_does_not_show(channel, noise):
    greys = np.repeat(np.linspace(0.01, 0.99, 99)[:, None], 3, axis=1)
    stirred = greys.copy()
    stirred[:, channel] += noise
    assert np.abs(see_as(stirred, "tritan") - see_as(greys, "tritan")).max() < 1e-12
