"""Whatever the bands and the weft's colours: the drawn tile is the reference for everything.

Hundreds of random checks; touching pairs, shares, lengths and colours are read off the pixels.
"""

from __future__ import annotations

import io
from collections import Counter
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image

from checkcloth import Check, ChosenSet, Colourway, Length, score, tile_pixels, tile_png, tile_svg
from checkcloth.cloth.bands import Band
from checkcloth.cloth.tones import area_shares, touching_pairs
from checkcloth.colour.spaces import linear_to_srgb, srgb_to_linear
from checkcloth.export.data.saved import parse_set, set_json
from checkcloth.export.mill.draft import face
from checkcloth.export.mill.thread_plan import thread_plan
from checkcloth.export.picture.piece import Piece, cloth_pixels, write_cloth_png
from checkcloth.export.print.films import film_of
from checkcloth.export.print.plates import plates_of
from checkcloth.quality import striping, sweep

COLOURS = ("#a62a3c", "#3f6fb0", "#4f9070", "#d8a23a", "#5b3a6e")


@st.composite
def cloths(draw, mixings=("source-over", "woven", "multiply")):
    """A colourway and a check that fits it; every band a whole number of eighths."""
    warps = draw(st.integers(1, 3))
    own = draw(st.sampled_from([0, 0, 1, 2, 3]))
    colours = draw(st.permutations(COLOURS))
    weft = draw(st.permutations(COLOURS))[:own]
    ways = [
        draw(st.lists(st.tuples(st.integers(0, count), st.integers(1, 24)), min_size=1, max_size=7))
        for count in (warps, own or warps)
    ]
    warp_bands, weft_bands = (
        tuple(Band(stripe, Fraction(parts, 8)) for stripe, parts in bands) for bands in ways
    )
    colourway = Colourway(
        "#fbf8f1",
        colours[:warps],
        draw(st.sampled_from([0.3, 0.7, 1.0])),
        draw(st.sampled_from(mixings)),
        weft_stripes=weft or None,
    )
    counts = len(colourway.stripes), len(colourway.weft_colours)
    check = Check("1/4 in", counts[0], warp=warp_bands, weft=weft_bands, weft_stripes=counts[1])
    return colourway, check


def tone_tile(colourway, check):
    """The flat tone index in every eighth of a check, laid band by band."""
    side = colourway.tones.shape[1]
    across, up = (
        [band.stripe for band in bands for _ in range(int(band.checks * 8))]
        for bands in (check.warp_bands, check.weft_bands)
    )
    return np.add.outer(np.array(up), np.array(across) * side)


@settings(max_examples=250)
@given(cloths())
def test_shares_and_touching_pairs_are_those_of_the_tile_wrapped_round(cloth):
    colourway, check = cloth
    tile = tone_tile(colourway, check)
    tones = colourway.tones.reshape(-1, 3)
    shares = area_shares(*check.counted_bands)
    assert shares.shape == colourway.tones.shape[:2]
    np.testing.assert_allclose(
        shares.ravel(), np.bincount(tile.ravel(), minlength=len(tones)) / tile.size
    )
    counted: Counter[tuple[int, int]] = Counter()
    for axis in (0, 1):
        for one, two in zip(tile.ravel(), np.roll(tile, -1, axis=axis).ravel(), strict=True):
            if one != two:
                counted[tuple(sorted((int(one), int(two))))] += 1
    found = touching_pairs(*check.counted_bands)
    lengths = dict(zip(map(tuple, found.pairs.tolist()), (found.lengths * 8), strict=True))
    assert lengths == pytest.approx(counted)
    scored = score(colourway, check=check)
    mean = linear_to_srgb(srgb_to_linear(tones[tile]).mean(axis=(0, 1)))
    np.testing.assert_allclose(scored.far_colour, mean, atol=1e-9)
    # What shares an edge is what the sweep follows too.
    swept = {frozenset(pair) for pair in found.pairs.tolist()}
    if swept:
        pairs = sweep(colourway, check=check, steps=20).pairs
        side = colourway.tones.shape[1]
        ends = {frozenset((a * side + b, c * side + d)) for (a, b), (c, d) in
                zip(pairs.one.tolist(), pairs.two.tolist(), strict=True)}  # fmt: skip
        assert all(any(_alike(colourway, end, pair) for pair in swept) for end in ends)


def _alike(colourway, one, two):
    """Whether two pairs of tones are of the same colours."""
    tones = colourway.tones.reshape(-1, 3)
    first, second = (sorted(tones[list(pair)].round(9).tolist()) for pair in (one, two))
    return first == second


@settings(max_examples=150)
@given(cloths(), st.sampled_from([96, 127, 150, 254]))
def test_tile_cloth_and_drawing_are_one(cloth, dpi):
    colourway, check = cloth
    tile, exact = tile_pixels(colourway, check, dpi)
    assert tile.shape[1] / exact == pytest.approx(check.repeat_width.inches)
    assert tile.shape[0] / exact == pytest.approx(check.repeat_height.inches)
    with Image.open(io.BytesIO(tile_png(colourway, check, dpi))) as picture:
        np.testing.assert_array_equal(np.asarray(picture.convert("RGB")), tile)
        assert picture.info["dpi"][0] == pytest.approx(exact, abs=0.02)
    three = Piece(check, check.repeat_width * 3, check.repeat_height * 3, dpi)
    if check.repeat_width * 3 >= Length("1 mm") and check.repeat_height * 3 >= Length("1 mm"):
        np.testing.assert_array_equal(cloth_pixels(colourway, three), np.tile(tile, (3, 3, 1)))
        stream = io.BytesIO()
        write_cloth_png(stream, colourway, three)
        with Image.open(stream) as picture:
            np.testing.assert_array_equal(
                np.asarray(picture.convert("RGB")), np.tile(tile, (3, 3, 1))
            )


@settings(max_examples=60)
@given(cloths())
def test_the_svg_is_the_raster_in_another_renderer(cloth):
    """Rendered by resvg, at eight pixels a check."""
    resvg = pytest.importorskip("resvg_py")
    colourway, check = cloth
    wanted, exact = tile_pixels(colourway, check, 32)
    if exact != 32:
        return
    svg = tile_svg(colourway, check)
    height, width = wanted.shape[:2]
    png = bytes(resvg.svg_to_bytes(svg_string=svg, width=width, height=height, dpi=96))
    with Image.open(io.BytesIO(png)) as picture:
        np.testing.assert_array_equal(np.asarray(picture.convert("RGB")), wanted)


@settings(max_examples=120)
@given(cloths(), st.sampled_from(["colours", "tones"]))
def test_plates_put_together_give_the_tones(cloth, kind):
    colourway, check = cloth
    plates = plates_of(colourway, kind)
    np.testing.assert_allclose(plates.composite(), colourway.tones, atol=0.5 / 255)
    if kind == "colours" and colourway.mixing != "multiply":
        assert {plate.name for plate in plates.plates} == {ink.name for ink in colourway.inks}
    films = [film_of(plate, check, 96, ["", ""]) for plate in plates.plates]
    covers = []
    for film in films:
        rows = np.repeat(film.rows, film.counts, axis=0)
        inner = rows[film.margin : -film.margin, film.margin : -film.margin]
        covers.append(1 - inner / 255)
    tile, _ = tile_pixels(colourway, check, 96)
    if kind == "tones":
        np.testing.assert_allclose(plates.composite(covers) * 255, tile, atol=1.01)
    assert covers[0].shape == tile.shape[:2]


@settings(max_examples=150)
@given(cloths(mixings=("woven",)), st.booleans())
def test_threads_sum_to_the_repeat_and_edges_balance(cloth, balanced):
    colourway, check = cloth
    plan = thread_plan(
        colourway, check, width="60 in", length="60 in", sett="96 per in", balanced=balanced
    )
    for way, order, bands in (
        ("warp", plan.warp, check.warp_bands),
        ("weft", plan.weft, check.weft_bands),
    ):
        once = order.repeat_runs
        assert [run.stripe for run in once] == [band.stripe for band in bands]
        for run, band in zip(once, bands, strict=True):
            # 24 threads a check: an eighth is 3, and each band is rounded to even.
            assert run.threads % 2 == 0
            assert abs(run.threads - 24 * band.checks) <= 1
        shown = [run for run in order.runs if run.part not in ("selvedge", "plain edge")]
        assert sum(run.threads for run in shown if run.part != "balance") == order.repeats * sum(
            run.threads for run in once
        )
        assert order.threads == 60 * 96
        if balanced:
            assert shown[0].stripe == shown[-1].stripe or len({b.stripe for b in bands}) == 1
        assert plan.order_text(way).count(",") == len(once) - 1
    ends = sum(order.threads for order in (plan.warp, plan.weft))
    yarns = [line.split(",") for line in plan.yarn_csv().splitlines()[1:]]
    assert sum(int(row[2]) + int(row[3]) for row in yarns) == ends
    assert len(yarns) == 1 + len(colourway.inks)
    assert plan.shift <= 0.5  # woven by these yarns it is the design
    assert face(plan).shape[2] == 3


@settings(max_examples=100)
@given(cloths())
def test_a_set_opens_again_with_its_bands_and_its_weft(cloth):
    colourway, check = cloth
    kept = ChosenSet(check, [colourway], "bands")
    text = set_json(kept)
    assert parse_set(text) == kept
    assert set_json(parse_set(text)) == text
    plain = check.is_even and not colourway.weft_stripes
    assert f'"version": {1 if plain else 3}' in text
    assert parse_set(text).check_for(colourway) == check


def test_a_cloth_without_stripes_does_not_provoke():
    cloth = Colourway("white", ["black"])
    plain = Check("1/16 in", 1, warp="1 ground")
    found = striping(cloth, plain, "400 mm")
    assert (found.pairs, found.cautions) == (0, ())
    bars = striping(cloth, Check("1/16 in", 1, weft="1 ground"), "400 mm")
    even = striping(cloth, Check("1/16 in", 1), "400 mm")
    assert (bars.cycles, bars.pairs) == (even.cycles, even.pairs)
    # Bands of one stripe side by side are one band.
    split = Check("1/16 in", 1, warp="1/2 A, 1/2 A, 1/4 ground, 3/4 ground")
    assert striping(cloth, split, "400 mm").pairs == even.pairs
