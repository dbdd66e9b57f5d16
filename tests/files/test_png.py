"""Pictures written by bands, read back by Pillow and judged by pngcheck."""

from __future__ import annotations

import io
import shutil
import struct
import subprocess
from itertools import product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image

from checkcloth import Check, Colourway, tile_png
from checkcloth.files.png import bands_png, write_bands_png


def opened(png: bytes) -> np.ndarray:
    with Image.open(io.BytesIO(png)) as picture:
        return np.asarray(picture.convert("RGB"))


@st.composite
def pictures(draw):
    kinds = draw(st.integers(1, 24))
    rng = np.random.default_rng(draw(st.integers(0, 2**32 - 1)))
    cells = rng.integers(0, 256, (kinds, kinds, 3), dtype=np.uint8)
    columns = rng.integers(0, kinds, draw(st.integers(1, 90)))
    rows = np.repeat(rng.integers(0, kinds, draw(st.integers(1, 12))), draw(st.integers(1, 9)))
    return cells, columns, rows


@given(pictures())
@settings(deadline=None)
def test_pixels_come_back(picture):
    cells, columns, rows = picture
    assert np.array_equal(opened(bands_png(cells, columns, rows)), cells[rows[:, None], columns])


@pytest.mark.parametrize(
    ("colours", "mode", "bits"), [(2, 3, 1), (4, 3, 2), (16, 3, 4), (256, 3, 8), (257, 2, 8)]
)
def test_bit_depth_follows_the_count_of_colours(colours, mode, bits):
    """PNG: indexed colour holds 1 to 256 entries at 1, 2, 4 or 8 bits."""
    cells = np.zeros((1, colours, 3), dtype=np.uint8)
    cells[0, :, 0], cells[0, :, 1] = np.arange(colours) % 256, np.arange(colours) // 256
    png = bands_png(cells, np.arange(colours), np.zeros(3, dtype=int))
    assert struct.unpack(">BB", png[24:26]) == (bits, mode)
    assert np.array_equal(opened(png)[0], cells[0])


@pytest.mark.parametrize(
    ("dpi", "per_metre"),
    [(72, 2835), (96, 3780), (100, 3937), (150, 5906), (200, 7874), (254, 10000), (300, 11811)],
)
def test_resolution_is_recorded_in_metres(dpi, per_metre):
    """pHYs, W3C PNG third edition; the whole numbers are those of Pillow for the same dpi."""
    png = bands_png(np.zeros((1, 1, 3), np.uint8), np.zeros(2, int), np.zeros(2, int), dpi=dpi)
    at = png.index(b"pHYs") + 4
    assert struct.unpack(">IIB", png[at : at + 9]) == (per_metre, per_metre, 1)


def test_rows_must_fill_the_height():
    with pytest.raises(ValueError, match="height 5"):
        write_bands_png(io.BytesIO(), np.zeros((1, 1, 3), np.uint8), np.zeros(2, int), [(0, 4)], 5)


@pytest.mark.skipif(not shutil.which("pngcheck"), reason="pngcheck: apt install pngcheck")
def test_pngcheck_finds_nothing(tmp_path):
    file = tmp_path / "a.png"
    cells = np.arange(5 * 5 * 3, dtype=np.uint8).reshape(5, 5, 3)
    texts = [("Title", "Quay — <b>&"), ("Description", "é")]
    file.write_bytes(
        bands_png(cells, np.arange(5), np.repeat(np.arange(5), 4), dpi=300, texts=texts)
    )
    done = subprocess.run(["pngcheck", "-q", file], capture_output=True, text=True, check=False)
    assert (done.returncode, done.stdout) == (0, "")


def _pillow(png: bytes) -> int:
    """Bytes of the rows of the same picture, as Pillow packs it at its smallest."""
    with Image.open(io.BytesIO(png)) as picture:
        out = io.BytesIO()
        picture.save(out, "png", optimize=True)
    return _rows_in(out.getvalue())


def _rows_in(png: bytes) -> int:
    size, at = 0, 8
    while at < len(png):
        (length,) = struct.unpack(">I", png[at : at + 4])
        size += length if png[at + 4 : at + 8] == b"IDAT" else 0
        at += 12 + length
    return size


# A repeat of at most 1400 pixels: larger ones are packed in stretches.
_TILES = [
    (stripes, size, dpi)
    for stripes, size, dpi in product((1, 2, 3, 6), ("2 mm", "1/4 in", "1 in"), (72, 150, 300, 600))
    if Check(size, stripes).repeat.inches * dpi <= 1400
]


@pytest.mark.parametrize(("stripes", "size", "dpi"), _TILES)
def test_a_tile_is_no_larger_than_the_smallest_of_pillow(stripes, size, dpi):
    """Rows of up to 2 MB; the same indices and palette, so what differs is how rows are packed."""
    colourway = Colourway("white", ["navy", "teal", "gold", "crimson", "olive", "plum"][:stripes])
    png = tile_png(colourway, Check(size, stripes), dpi)
    assert _rows_in(png) <= _pillow(png) + 8, "but for what builds of zlib differ in"


def test_what_is_packed_in_stretches_is_small_too():
    """6 in at 600 dpi: 12,561 bytes is what deflate cannot go below for its indices."""
    stripes = ["navy", "teal", "gold", "crimson", "olive", "plum"]
    png = tile_png(Colourway("white", stripes), Check("1/2 in", 6), 600)
    assert 12_561 < _rows_in(png) < 20_000
    assert _rows_in(png) < _pillow(png)


def test_colours_that_no_pixel_has_are_not_listed():
    cells = np.arange(27, dtype=np.uint8).reshape(3, 3, 3)
    png = bands_png(cells, np.array([0, 2]), np.array([1, 1]))
    assert np.array_equal(opened(png), cells[1, [0, 2]][None].repeat(2, axis=0))
    assert struct.unpack(">BB", png[24:26]) == (1, 3)
