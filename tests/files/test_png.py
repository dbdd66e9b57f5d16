"""Pictures written by bands, read back by Pillow and judged by pngcheck."""

from __future__ import annotations

import io
import shutil
import struct
import subprocess

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image

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
