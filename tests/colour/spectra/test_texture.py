"""One number of a cloth's surface, from readings of a pair; nothing without them."""

from __future__ import annotations

import numpy as np
import pytest
from coloraide import Color
from hypothesis import given
from hypothesis import strategies as st

from checkcloth.colour.spectra.lights import spectral_lab
from checkcloth.colour.spectra.texture import TextureFactor
from checkcloth.errors import ArgumentError


@given(st.floats(0.3, 1.2), st.floats(20, 80), st.floats(-30, 30), st.floats(-30, 30))
def test_a_cloth_that_gives_back_a_share_is_found_to(share, light, a, b):
    """XYZ by coloraide, so that nothing of ours makes the pair."""
    card = Color("lab-d65", [light, a, b])
    xyz = [value * share for value in card.convert("xyz-d65").coords()]
    cloth = Color("xyz-d65", xyz).convert("lab-d65").coords()
    made = TextureFactor.of_pair(card.coords(), cloth)
    assert made.factor == pytest.approx(share, rel=1e-4)
    assert made.left == pytest.approx(0, abs=0.01)
    assert made.lab(card.coords()) == pytest.approx(cloth, abs=0.01)


def test_several_pairs_have_one_factor_and_what_it_leaves():
    made = TextureFactor.of_pair([[60, 0, 0], [40, 0, 0]], [[55, 0, 0], [38, 0, 0]])
    lone = [TextureFactor.of_pair([c, 0, 0], [w, 0, 0]).factor for c, w in ((60, 55), (40, 38))]
    assert min(lone) < made.factor < max(lone)
    assert 0 < made.left < 1


@pytest.mark.parametrize(("light", "observer"), [("D65", 2), ("F11", 10), ("A", 2)])
def test_lab_and_reflectance_agree_under_any_light(light, observer):
    rng = np.random.default_rng(4)
    spectra = rng.uniform(0.05, 0.6, (5, 36))
    made = TextureFactor(0.85)
    stated = {"illuminant": light, "observer": observer}
    by_lab = made.lab(spectral_lab(spectra, light, observer), **stated)
    by_spectra = spectral_lab(made.reflectance(spectra), light, observer)
    assert by_lab == pytest.approx(by_spectra, abs=0.02)


@pytest.mark.parametrize(
    ("act", "argument"),
    [
        (lambda: TextureFactor(0.1), "factor"),
        (lambda: TextureFactor(float("nan")), "factor"),
        (lambda: TextureFactor(0.9, -1), "left"),
        (lambda: TextureFactor.of_pair([20, 0, 0], [90, 0, 0]), "cloth"),
        (lambda: TextureFactor.of_pair([[20, 0, 0]] * 2, [20, 0, 0]), "card and cloth"),
        (lambda: TextureFactor.of_pair([20, 0, 0], [20, 0, 0], illuminant="G"), "illuminant"),
    ],
)
def test_bad_input(act, argument):
    with pytest.raises(ArgumentError) as caught:
        act()
    assert caught.value.argument == argument


def test_it_says_what_it_is():
    assert str(TextureFactor(0.9)) == "the cloth gives back 90 % of its yarn card's light"
