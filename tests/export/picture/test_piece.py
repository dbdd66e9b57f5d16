"""Larger pieces of cloth: they tile, they are the size they say, and memory stays small."""

from __future__ import annotations

import io
import os
import shutil
import struct
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image

import checkcloth
from checkcloth import Check, Colourway, Length, tile_pixels, tile_png
from checkcloth.errors import ArgumentError, CheckclothError, ExistsError
from checkcloth.export.picture.piece import (
    Piece,
    cloth_pixels,
    save_cloth,
    thumbnail_png,
    write_cloth_png,
)

hexes = st.from_regex(r"#[0-9a-f]{6}", fullmatch=True)
colourways = st.builds(
    Colourway, hexes, st.lists(hexes, min_size=1, max_size=5), strength=st.floats(0, 1)
)
sizes = st.sampled_from(["1/16 in", "3/16 in", "1/2 in", "7 mm", "2.3 mm", "1 cm"])
dpis = st.integers(20, 110)


def _read(png: bytes) -> np.ndarray:
    return np.asarray(Image.open(io.BytesIO(png)).convert("RGB"))


def _written(colourway: Colourway, piece: Piece) -> np.ndarray:
    stream = io.BytesIO()
    write_cloth_png(stream, colourway, piece)
    return _read(stream.getvalue())


@given(colourways, sizes, dpis)
@settings(max_examples=40, deadline=None)
def test_three_tiles_each_way_are_the_big_cloth(colourway, size, dpi):
    check = Check(size, len(colourway.stripes))
    tile, exact = tile_pixels(colourway, check, dpi)
    np.testing.assert_array_equal(_read(tile_png(colourway, check, dpi)), tile)
    across = check.repeat * 3
    piece = Piece(check, across, across, dpi)
    assert float(piece.exact_dpi) == exact
    big = _written(colourway, piece)
    np.testing.assert_array_equal(big, np.tile(tile, (3, 3, 1)))
    np.testing.assert_array_equal(big, cloth_pixels(colourway, piece))


@given(colourways, sizes, dpis, st.integers(3, 90), st.integers(3, 90), st.booleans())
@settings(max_examples=60, deadline=None)
def test_any_piece_is_cut_from_endless_tiles(colourway, size, dpi, width, length, cut):
    check = Check(size, len(colourway.stripes))
    piece = Piece(check, Length.of_mm(width), Length.of_mm(length), dpi, cut)
    tile, _ = tile_pixels(colourway, check, dpi)
    made = _written(colourway, piece)
    across, down = piece.pixels
    assert made.shape == (down, across, 3)
    rows, columns = np.arange(down) % len(tile), np.arange(across) % len(tile)
    np.testing.assert_array_equal(made, tile[rows[:, None], columns])
    if cut:
        assert across / float(piece.exact_dpi) * 25.4 == pytest.approx(
            width, abs=0.51 * 25.4 / float(piece.exact_dpi)
        )
    else:
        # Whole repeats: the seam at the edge matches, so the piece tiles too.
        assert across % len(tile) == 0
        assert down % len(tile) == 0


@given(colourways)
@settings(max_examples=15, deadline=None)
def test_swapping_warp_and_weft_turns_the_cloth_over_its_diagonal(colourway):
    mixed = colourway.with_(mixing="woven", warp_share=0.3)
    turned = colourway.with_(mixing="woven", warp_share=0.7)
    check = Check("3 mm", len(colourway.stripes))
    one, _ = tile_pixels(mixed, check, 30)
    two, _ = tile_pixels(turned, check, 30)
    assert np.abs(one.astype(int) - two.swapaxes(0, 1).astype(int)).max() <= 1


def test_the_size_is_recorded_and_said():
    piece = Piece(Check("0.5 in", 3), "44 in", "1 in", 100)
    assert piece.pixels == (4200, 300)
    assert piece.size == "42 in (1066.8 mm) wide, 3 in (76.2 mm) long"
    cut = Piece(Check("0.5 in", 3), "150 cm", "1/2 in", 100, cut=True)
    assert cut.size == "150 cm (59.0551 in) wide, 1/2 in (12.7 mm) long"
    stream = io.BytesIO()
    write_cloth_png(stream, Colourway("white", ["red", "tan", "navy"], name="Quay"), piece)
    image = Image.open(io.BytesIO(stream.getvalue()))
    assert image.info["dpi"][0] == pytest.approx(100, abs=0.0127)
    assert "42 in" in image.info["Description"]


def test_saving_is_whole_and_never_over_a_file(tmp_path):
    colourway, piece = Colourway("white", ["red"]), Piece(Check("5 mm", 1), "3 cm", "3 cm", 72)
    path = save_cloth(colourway, piece, tmp_path / "cloth.png")
    np.testing.assert_array_equal(_read(path.read_bytes()), cloth_pixels(colourway, piece))
    with pytest.raises(ExistsError, match=r"cloth\.png"):
        save_cloth(colourway, piece, path)
    with pytest.raises(ArgumentError, match="folder that exists"):
        save_cloth(colourway, piece, tmp_path / "missing" / "cloth.png")
    with pytest.raises(ArgumentError, match="stripes"):
        save_cloth(Colourway("white", ["red", "tan"]), piece, tmp_path / "other.png")
    assert [one.name for one in tmp_path.iterdir()] == ["cloth.png"]


@pytest.mark.parametrize(
    ("width", "length", "dpi"),
    [("0.5 mm", "1 cm", 300), ("600 cm", "1 cm", 300), ("1 cm", "30000 cm", 300),
     ("10", "1 cm", 300), ("1 cm", "1 cm", 0), ("500 cm", "1 cm", 9600)],
)  # fmt: skip
def test_absurd_pieces_are_refused(width, length, dpi):
    with pytest.raises(CheckclothError):
        Piece(Check("5 mm", 2), width, length, dpi)


def test_a_large_array_is_refused_and_says_what_to_do_instead():
    with pytest.raises(ArgumentError, match="save_cloth"):
        cloth_pixels(Colourway("white", ["red"]), Piece(Check("5 mm", 1), "150 cm", "100 cm", 300))


@pytest.mark.parametrize("side", [16, 100, 256, 1000])
@pytest.mark.parametrize("stripes", [1, 6, 24])
def test_thumbnails_have_their_size_and_only_true_tones(side, stripes):
    colourway = Colourway("white", [f"hsl({15 * n} 60% 40%)" for n in range(stripes)])
    pixels = _read(thumbnail_png(colourway, side))
    assert pixels.shape == (side, side, 3)
    true = {tuple(tone) for tone in np.floor(colourway.tones.reshape(-1, 3) * 255 + 0.5)}
    assert {tuple(pixel) for pixel in pixels.reshape(-1, 3).astype(float)} <= true


def test_a_long_cloth_is_written_in_bounded_memory(tmp_path):
    """150 cm by 10 m at 100 dpi: 230 megapixels, in a process that may not grow by 60 MB."""
    code = """
import resource, sys
from checkcloth import Check, Colourway
from checkcloth.export.picture.piece import Piece, save_cloth
colourway = Colourway("white", ["navy", "teal", "tan", "red", "gold", "plum"])
save_cloth(colourway, Piece(Check("0.5 in", 6), "20 cm", "20 cm", 50), "warm.png")
before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
save_cloth(colourway, Piece(Check("0.5 in", 6), "150 cm", "1000 cm", 100, True), "long.png")
print(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before)
"""
    kit = str(Path(checkcloth.__file__).parents[1])
    done = subprocess.run(
        [sys.executable, "-c", code],
        cwd=tmp_path,
        env=os.environ | {"PYTHONPATH": kit},
        capture_output=True,
        text=True,
        check=True,
    )
    grown = int(done.stdout) * (1 if sys.platform == "darwin" else 1024)
    assert grown < 60e6
    head = (tmp_path / "long.png").read_bytes()[:24]  # Pillow refuses so large an image
    assert struct.unpack(">II", head[16:24]) == (5906, 39370)
    if shutil.which("pngcheck"):
        subprocess.run(["pngcheck", "-q", "long.png"], cwd=tmp_path, check=True)
