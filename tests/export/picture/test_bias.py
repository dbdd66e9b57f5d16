"""Cloth on the bias: turned by 45° against turning the plain cloth, and tiling against itself."""

from __future__ import annotations

import io
from math import sqrt

import numpy as np
import pytest
from PIL import Image

from checkcloth import Check, Colourway
from checkcloth.errors import ArgumentError
from checkcloth.export.picture.bias import bias_pixels, bias_png, bias_svg, bias_tile

CLOTH = Colourway("#fbf8f1", ["#a62a3c", "#3f6fb0"], 0.6, name="Turned")
CHECKS = [
    Check("1/4 in", 2),
    Check("1/4 in", 2, warp="2 A, 1 ground, 3 B, 2 ground", weft="1 B, 2 A, 3 ground"),
    Check("7 mm", 2, warp="1/2 A, 1 ground, 3/4 B, 3/4 ground"),
]


def along_the_threads(check, x, y):
    """The tone at a point of the turned cloth, in inches, by turning the point back."""
    u, v = (x + y) / sqrt(2), (y - x) / sqrt(2)
    stripes = []
    for at, bands in ((u, check.warp_bands), (v, check.weft_bands)):
        widths = np.array([float(band.checks) for band in bands]) * check.size.inches
        edges = np.cumsum(widths)
        numbers = np.array([band.stripe for band in bands])
        stripes.append(numbers[np.searchsorted(edges, at % edges[-1], side="right") % len(bands)])
    return CLOTH.tones[stripes[0], stripes[1]]


@pytest.mark.parametrize("check", CHECKS)
def test_it_is_the_cloth_turned_by_45_degrees(check):
    pixels, dpi = bias_pixels(CLOTH, check, 127)
    side = len(pixels)
    assert pixels.shape == (side, side, 3)
    assert side / dpi == pytest.approx(bias_tile(check).side.inches)
    assert dpi == pytest.approx(127, rel=0.01)
    y, x = (np.indices((side, side)) + 0.5) / dpi
    wanted = np.floor(along_the_threads(check, x, y) * 255 + 0.5)
    same = (pixels == wanted).all(axis=2)
    # Only pixels that an edge runs through may fall to either side.
    assert same.mean() > 0.93
    assert {tuple(c) for c in pixels.reshape(-1, 3)} == {
        tuple(c) for c in wanted.reshape(-1, 3).astype(int)
    }


@pytest.mark.parametrize("check", CHECKS)
def test_it_tiles_without_a_seam(check):
    """Laid side by side it is the endless turned cloth, at the seam as anywhere."""
    pixels, dpi = bias_pixels(CLOTH, check, 200)
    side = len(pixels)
    y, x = (np.indices((2 * side, 2 * side)) + 0.5) / dpi
    wanted = np.floor(along_the_threads(check, x, y) * 255 + 0.5)
    same = (np.tile(pixels, (2, 2, 1)) == wanted).all(axis=2)
    assert same.mean() > 0.95
    for seam in (same[side - 1 : side + 1], same[:, side - 1 : side + 1]):
        assert seam.mean() > 0.9


def test_shares_are_those_of_the_plain_cloth():
    pixels, _ = bias_pixels(CLOTH, CHECKS[0], 400)
    ground = np.floor(CLOTH.tones[0, 0] * 255 + 0.5)
    assert (pixels == ground).all(axis=2).mean() == pytest.approx(0.25, abs=0.01)


@pytest.mark.parametrize("check", CHECKS)
def test_the_svg_is_the_picture(check):
    resvg = pytest.importorskip("resvg_py")
    wanted, _ = bias_pixels(CLOTH, check, 127)
    svg = bias_svg(CLOTH, check)
    side = len(wanted)
    png = bytes(resvg.svg_to_bytes(svg_string=svg, width=side, height=side, dpi=96))
    seen = np.asarray(Image.open(io.BytesIO(png)).convert("RGB"))
    assert (seen == wanted).all(axis=2).mean() > 0.93
    assert f'width="{bias_tile(check).side.mm:.3f}'[:-1] in svg


def test_its_size_is_stated():
    picture = Image.open(io.BytesIO(bias_png(CLOTH, CHECKS[0], 150)))
    assert "a square of 1.4142 in (35.921 mm) that tiles" in picture.text["Description"]
    assert picture.info["dpi"][0] * bias_tile(CHECKS[0]).side.inches == pytest.approx(
        picture.size[0], abs=0.05
    )


def test_what_is_too_large_is_refused():
    with pytest.raises(ArgumentError, match="megapixels"):
        bias_pixels(CLOTH, Check("10 in", 2), 600)
    with pytest.raises(ArgumentError, match="1 to 9600"):
        bias_pixels(CLOTH, CHECKS[0], 0)
    wide = Check("1 mm", 2, warp=[(1, 1), (2, 15.9375)], weft=[(1, 15), (0, 0.984375)])
    with pytest.raises(ArgumentError, match="cells"):
        bias_svg(CLOTH, wide)
    with pytest.raises(ArgumentError, match="stripes"):
        bias_png(CLOTH, Check("1 mm", 3))
