"""The error bars of recovered reflectances under other lights are those of the CIE's colours."""

from __future__ import annotations

import numpy as np
import pytest
from pigment_pairs import light_misses

from checkcloth.colour.spectra.accuracy import LIGHT_ERRORS, recovered_error
from checkcloth.colour.spectra.lights import LIGHTS
from checkcloth.errors import ArgumentError


def test_every_light_has_its_bar():
    assert set(LIGHT_ERRORS) == set(LIGHTS)


@pytest.mark.parametrize("light", LIGHTS)
@pytest.mark.parametrize("observer", [2, 10])
def test_the_bars_are_those_of_ces(light, observer):
    # CIE 224:2017's test colours, as colour-science carries them; a tenth either way.
    p95 = float(np.percentile(light_misses(light, observer), 95))
    assert recovered_error(light, observer) == pytest.approx(p95, abs=0.1)


def test_an_unknown_light_is_said():
    with pytest.raises(ArgumentError) as caught:
        recovered_error("moonlight")
    assert caught.value.argument == "light"
