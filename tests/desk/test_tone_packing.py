"""The bytes for the page are the tones, for walls of any mixture."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from checkcloth import MIXINGS, VISIONS, Check, Colourway, see_as
from checkcloth.colour.spaces import srgb_to_bytes
from checkcloth.desk.tone_packing import bands, batches, counts, pack

hexes = st.integers(0, 0xFFFFFF).map(lambda n: f"#{n:06x}")
colourways = st.builds(
    Colourway,
    hexes,
    st.lists(hexes, min_size=1, max_size=12),
    st.floats(0, 1),
    st.sampled_from(MIXINGS),
    warp_share=st.sampled_from([0.5, 0.7]),
)


def unpacked(data, members):
    at, out = 0, []
    for number in counts(members):
        side = number + 1
        cells = np.frombuffer(data, np.uint8, side * side * 3, at)
        out.append(cells.reshape(side, side, 3))
        at += side * side * 3
    assert at == len(data)
    return out


@settings(max_examples=60, deadline=None)
@given(st.lists(colourways, min_size=1, max_size=6), st.sampled_from(VISIONS))
def test_bytes_are_the_tones_of_each_in_turn(members, vision):
    for one, cells in zip(
        members, unpacked(pack(batches(members), None, None, vision), members), strict=True
    ):
        np.testing.assert_array_equal(cells, srgb_to_bytes(see_as(one.tones, vision)))


@settings(max_examples=60, deadline=None)
@given(st.lists(colourways, min_size=1, max_size=6), st.floats(0, 1), st.sampled_from(MIXINGS))
def test_the_desks_strength_and_mixing_hold_for_all(members, strength, mixing):
    data = pack(batches(members), strength, mixing)
    for one, cells in zip(members, unpacked(data, members), strict=True):
        wanted = one.with_(strength=strength, mixing=mixing)
        np.testing.assert_array_equal(cells, srgb_to_bytes(wanted.tones))


@pytest.mark.parametrize("number", [1, 3, 12, 24])
def test_bands_are_the_checks_own(number):
    plan = [stripe for stripe, checks in bands([number])[str(number)] for _ in range(checks)]
    assert plan == Check("1 cm", number).plan().tolist()
