"""Tones as arrays: stacked, told apart, and what they cover and touch, counted on drawn cloth."""

from __future__ import annotations

import io
from collections import Counter

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image

from checkcloth import MIXINGS, Check, Colourway, Length
from checkcloth.cloth.bands import Band, band_plan, even_bands
from checkcloth.cloth.threads import Sett, thread_order
from checkcloth.cloth.tones import (
    Symmetry,
    area_shares,
    canonical_tone,
    lay,
    stack,
    swatch,
    swatch_plans,
    tone_kind,
    touching_pairs,
)
from checkcloth.colour.spaces import srgb_to_bytes
from checkcloth.errors import ArgumentError


@st.composite
def uneven_bands(draw, most=4):
    """Bands of any widths and order in which every stripe from 0 up occurs."""
    stripes = draw(st.integers(1, most))
    order = [*range(stripes + 1), *draw(st.lists(st.integers(0, stripes), max_size=4))]
    order = draw(st.permutations(order))
    return tuple(Band(stripe, draw(st.integers(1, 3))) for stripe in order)


def drawn(warp_bands, weft_bands):
    """The flat tone index at every check of one repeat, drawn band by band."""
    side = 1 + max(band.stripe for band in weft_bands)
    warp = [band.stripe for band in warp_bands for _ in range(band.checks)]
    weft = [band.stripe for band in weft_bands for _ in range(band.checks)]
    return np.array([[a * side + b for a in warp] for b in weft])


@given(uneven_bands(), uneven_bands())
def test_area_shares_equal_those_counted_on_the_cloth(warp, weft):
    tile = drawn(warp, weft)
    shares = area_shares(warp, weft)
    counted = np.bincount(tile.ravel(), minlength=shares.size) / tile.size
    assert np.allclose(shares.ravel(), counted)


@given(uneven_bands(), uneven_bands())
def test_touching_pairs_equal_those_found_on_the_cloth_with_wrap_round(warp, weft):
    tile = drawn(warp, weft)
    counted: Counter[tuple[int, int]] = Counter()
    for axis in (0, 1):
        for one, two in zip(tile.ravel(), np.roll(tile, -1, axis=axis).ravel(), strict=True):
            if one != two:
                counted[tuple(sorted((int(one), int(two))))] += 1
    found = touching_pairs(warp, weft)
    assert {
        tuple(pair): length
        for pair, length in zip(found.pairs.tolist(), found.lengths, strict=True)
    } == counted


def test_weft_is_laid_as_the_warp_unless_given():
    bands = even_bands(3)
    assert np.array_equal(area_shares(bands), area_shares(bands, bands))
    assert np.array_equal(touching_pairs(bands).pairs, touching_pairs(bands, bands).pairs)
    check = Check("1 in", 3)
    assert check.warp_bands == check.weft_bands == check.bands == bands


def test_of_an_even_check_the_ground_is_a_quarter_and_touches_singles_only():
    for stripes in range(1, 7):
        shares = area_shares(even_bands(stripes))
        assert shares[0, 0] == pytest.approx(1 / 4)
        assert shares[1:, 1:].sum() == pytest.approx(1 / 4)
        sides = np.divmod(touching_pairs(even_bands(stripes)).pairs, stripes + 1)
        kinds = {tuple(row) for row in ((sides[0] > 0) + 1 * (sides[1] > 0)).tolist()}
        assert kinds == {(0, 1), (1, 2)}


@given(st.sampled_from(MIXINGS), st.floats(0, 1), st.floats(0, 1), st.integers(1, 3))
def test_unique_tones_stand_for_every_position_once(mixing, strength, share, stripes):
    colours = ["navy", "gold", "teal"][:stripes]
    colourway = Colourway("ivory", colours, strength, mixing, warp_share=share)
    tones = colourway.unique_tones
    positions = [position for tone in tones for position in tone.positions]
    assert sorted(positions) == sorted(np.ndindex(*colourway.tones.shape[:2]))
    assert len({tone.name for tone in tones}) == len(tones)
    for tone in tones:
        assert tone.positions[0] == (tone.warp, tone.weft)
        for warp, weft in tone.positions:
            assert np.allclose(colourway.tones[warp, weft], colourway.tones[tone.warp, tone.weft])
            assert canonical_tone(warp, weft, colourway.symmetry) == (tone.warp, tone.weft)


def test_symmetry_follows_the_mixing():
    two = Colourway("white", ["navy", "teal"])
    assert two.symmetry == Symmetry(True, False)
    assert two.with_(mixing="woven").symmetry == Symmetry(True, True)
    assert two.with_(mixing="woven", warp_share=0.7).symmetry == Symmetry(False, False)
    assert two.with_(strength=0).symmetry == two.symmetry  # though every tone is the ground


def test_stacks_hold_every_colourway_once_with_its_tones():
    members = [
        Colourway("white", ["navy"], 0.3),
        Colourway("ivory", ["teal", "gold"], 0.6, "woven", warp_share=0.4),
        Colourway("black", ["gold"], 0.9),
        Colourway("ivory", ["teal", "gold"], 0.6, "woven"),
    ]
    stacks = stack(members)
    assert sorted(index for part in stacks for index in part.indices) == [0, 1, 2, 3]
    for part in stacks:
        for index, tones in zip(part.indices, part.tones(), strict=True):
            assert np.array_equal(tones, members[index].tones)
        (changed,) = part.tones(0.8, "multiply", slice(0, 1))
        own = members[part.indices[0]].with_(strength=0.8, mixing="multiply")
        assert np.array_equal(changed, own.tones)


@given(uneven_bands(), uneven_bands())
def test_a_swatch_shows_each_tone_where_its_stripes_cross(warp, weft):
    rng = np.random.default_rng(0)
    tones = rng.random((max(warp).stripe + 1, max(weft).stripe + 1, 3))
    across, up = band_plan(warp, 2), band_plan(weft, 3)
    with Image.open(io.BytesIO(swatch(tones, across, up))) as picture:
        pixels = np.asarray(picture.convert("RGB"))
    assert np.array_equal(pixels, srgb_to_bytes(lay(tones, across, up)))
    y, x = len(up) - 1, len(across) - 1
    assert np.array_equal(pixels[y, x], srgb_to_bytes(tones[across[x], up[y]]))


def test_a_swatch_is_of_whole_repeats():
    for stripes in (1, 5, 24):
        plan = swatch_plans(even_bands(stripes), even_bands(stripes))[0]
        assert np.array_equal(plan[: len(plan) // 2], plan[len(plan) // 2 :])
        assert 96 <= len(plan) <= 192


def test_kinds_of_tones():
    kinds = ["ground", "weft single", "warp single", "crossing"]
    assert [tone_kind(*position) for position in np.ndindex(2, 2)] == kinds


def test_stacking_nothing_gives_nothing_and_stripe_counts_may_not_be_mixed_in_one_array():
    from checkcloth.cloth.tones import tones_of

    assert stack([]) == ()
    for members in ([], [Colourway("white", ["navy"]), Colourway("white", ["navy", "teal"])]):
        with pytest.raises(ArgumentError) as caught:
            tones_of(members)
        assert caught.value.argument == "colourways"


@given(uneven_bands(), st.booleans())
def test_threads_are_laid_as_the_bands_are(bands, balanced):
    order = thread_order(
        Check("1 in", 1), Sett("10 per in"), Length("80 in"), bands=bands, balanced=balanced
    )
    laid = [run.stripe for run in order.runs if "plain" not in run.part for _ in range(run.threads)]
    repeat = [band.stripe for band in bands for _ in range(10 * band.checks)]
    assert laid == np.resize(repeat, len(laid)).tolist()
    assert len(laid) == order.repeats * len(repeat) + 10 * bands[0].checks * balanced
    assert order.threads == 800
