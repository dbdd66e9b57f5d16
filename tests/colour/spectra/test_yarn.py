"""Blends of fibres: what their functions must come to at their limits."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from checkcloth.colour.reflectance import absorption_to_reflectance, reflectance_to_absorption
from checkcloth.colour.spectra.yarn import BLENDS, blend
from checkcloth.errors import ArgumentError

fibres = st.lists(st.floats(0.01, 0.99), min_size=2, max_size=2)


@given(fibres, st.floats(0, 1))
def test_a_blend_lies_between_and_at_the_ends_is_a_fibre(pair, share):
    column = np.array(pair)[:, None]
    for function in BLENDS:
        found = blend(column, [share, 1 - share], function)
        assert min(pair) - 1e-9 <= found[0] <= max(pair) + 1e-9
        assert blend(column, [1.0, 0.0], function) == pytest.approx(pair[:1], abs=1e-9)
        alone = np.array([pair[0], pair[0]])[:, None]
        assert blend(alone, [share, 1 - share], function) == pytest.approx(pair[:1], abs=1e-9)


@given(fibres, st.floats(0, 1))
def test_frieles_limit_is_kubelka_and_munks(pair, share):
    column = np.array(pair)[:, None]
    by_hand = absorption_to_reflectance(
        share * reflectance_to_absorption(pair[0])
        + (1 - share) * reflectance_to_absorption(pair[1])
    )
    weights = [share, 1 - share]
    assert blend(column, weights, "kubelka-munk")[0] == pytest.approx(float(by_hand))
    assert blend(column, weights, "friele", 0)[0] == pytest.approx(float(by_hand))
    assert blend(column, weights, "friele", 1e-5)[0] == pytest.approx(float(by_hand), abs=1e-3)


@given(fibres, st.floats(0, 1))
def test_stearns_and_noechels_limit_is_the_mean(pair, share):
    column = np.array(pair)[:, None]
    found = blend(column, [share, 1 - share], "stearns-noechel", 0)[0]
    assert found == pytest.approx(share * pair[0] + (1 - share) * pair[1], abs=1e-9)


def test_by_hand():
    """R 0.8 and 0.1, half and half, b 0.15: f is 1.5564 and 38.2979, their mean 19.9271."""
    f = [(1 - r) / (0.15 * (r - 0.01) + 0.01) for r in (0.8, 0.1)]
    assert f == pytest.approx([1.5564, 38.2979], abs=5e-5)
    found = blend([[0.8], [0.1]], [0.5, 0.5])[0]
    assert (1 - found) / (0.15 * (found - 0.01) + 0.01) == pytest.approx(np.mean(f))
    # Fibres lie beside each other as well: lighter than colorants in one layer.
    assert found > blend([[0.8], [0.1]], [0.5, 0.5], "kubelka-munk")[0]
    assert blend([[0.8], [0.1]], [0.5, 0.5], "friele")[0] == pytest.approx(found, abs=0.02)


def test_spectra_of_three_fibres_at_once():
    rng = np.random.default_rng(4)
    many = rng.random((3, 5, 36))
    found = blend(many, [0.2, 0.3, 0.5])
    assert found.shape == (5, 36)
    assert found[2, 7] == pytest.approx(blend(many[:, 2, 7][:, None], [0.2, 0.3, 0.5])[0])


@pytest.mark.parametrize(
    ("change", "argument"),
    [
        ({"shares": [0.5, 0.4]}, "shares"), ({"shares": [50, 50]}, "shares"),
        ({"shares": [1.0]}, "reflectances and shares"), ({"function": "soup"}, "function"),
        ({"parameter": 3}, "parameter"), ({"reflectances": [[80], [10]]}, "reflectances"),
        ({"reflectances": [[-0.1], [0.1]]}, "reflectances"),
    ],
)  # fmt: skip
def test_bad_input(change, argument):
    with pytest.raises(ArgumentError) as error:
        blend(**({"reflectances": [[0.8], [0.1]], "shares": [0.5, 0.5]} | change))
    assert error.value.argument == argument
