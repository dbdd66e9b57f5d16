"""Everything that draws or measures cloth follows the bands of warp and weft, even or not.

The pixels of the tile are the reference: shares and sizes are counted on them.
"""

from __future__ import annotations

import csv
import io
import shutil
import subprocess

import numpy as np
import pytest
from PIL import Image

from checkcloth import Check, Colourway, contact_sheet, tile_pixels, tile_png, tile_svg
from checkcloth.cloth.bands import Band
from checkcloth.colour.spaces import linear_to_srgb, srgb_to_linear
from checkcloth.export.data.tables import scores_of, tones_csv
from checkcloth.export.paper.specification import save_spec_sheet, tone_rows
from checkcloth.export.picture.piece import Piece, cloth_pixels, thumbnail_png, write_cloth_png

WARP = (Band(1, 2), Band(0, 1), Band(2, 3), Band(0, 2))
WEFT = (Band(2, 1), Band(1, 2), Band(0, 3))
CLOTH = Colourway("#fbf8f1", ["#a62a3c", "#3f6fb0"], 0.6, name="Uneven")
EACH = 5


@pytest.fixture
def check() -> Check:
    return Check("1/4 in", 2, warp=WARP, weft=WEFT)


@pytest.fixture
def tile(check) -> np.ndarray:
    return tile_pixels(CLOTH, check, 4 * EACH)[0]


def _read(png: bytes) -> np.ndarray:
    return np.asarray(Image.open(io.BytesIO(png)).convert("RGB"))


def _shares(tile: np.ndarray) -> dict[str, float]:
    colours, counts = np.unique(tile.reshape(-1, 3), axis=0, return_counts=True)
    return {
        "#{:02x}{:02x}{:02x}".format(*colour): count / counts.sum()
        for colour, count in zip(colours.tolist(), counts.tolist(), strict=True)
    }


def test_the_tile_is_one_indexing_in_every_form(check, tile):
    warp = np.repeat([1, 1, 0, 2, 2, 2, 0, 0], EACH)
    weft = np.repeat([2, 1, 1, 0, 0, 0], EACH)
    tones = np.floor(CLOTH.tones * 255 + 0.5)
    np.testing.assert_array_equal(tile, tones[warp[None, :], weft[:, None]])
    np.testing.assert_array_equal(_read(tile_png(CLOTH, check, 4 * EACH)), tile)
    resvg = pytest.importorskip("resvg_py")
    svg = tile_svg(CLOTH, check)
    assert 'width="50.8mm" height="38.1mm"' in svg
    png = bytes(resvg.svg_to_bytes(svg_string=svg, width=8 * EACH, height=6 * EACH, dpi=96))
    np.testing.assert_array_equal(_read(png), tile)


@pytest.mark.parametrize("cut", [False, True])
def test_a_piece_is_cut_from_endless_tiles(check, tile, cut):
    piece = Piece(check, "13 cm", "9 cm", 4 * EACH, cut)
    stream = io.BytesIO()
    write_cloth_png(stream, CLOTH, piece)
    made = _read(stream.getvalue())
    rows, columns = (np.arange(size) % len(tile.swapaxes(0, axis)) for axis, size in
                     enumerate(made.shape[:2]))  # fmt: skip
    np.testing.assert_array_equal(made, tile[np.ix_(rows, columns)])
    np.testing.assert_array_equal(made, cloth_pixels(CLOTH, piece))
    assert cut or made.shape[:2] == (2 * len(tile), 2 * tile.shape[1])


def test_thumbnail_and_sheet_show_the_bands(check, tile):
    small = _read(thumbnail_png(CLOTH, 16 * EACH, check))
    np.testing.assert_array_equal(small[: len(tile), : tile.shape[1]], tile)
    sheet = _read(contact_sheet(CLOTH, check, swatch="40 mm").png)
    each = round(40 / 25.4 * 150 / 16)
    cloth = np.repeat(np.repeat(tile[::EACH, ::EACH], each, 0), each, 1)
    corner = sheet[146 + 1 :, 42:][: len(cloth), : cloth.shape[1]]
    np.testing.assert_array_equal(corner, cloth)


def test_shares_and_the_far_colour_are_those_of_the_tile(check, tile):
    wanted = _shares(tile)
    rows = list(csv.DictReader(io.StringIO(tones_csv(CLOTH, check), newline="")))
    found: dict[str, float] = {}
    for row in rows:
        found[row["hex"]] = found.get(row["hex"], 0) + float(row["share of area %"]) / 100
    assert found == pytest.approx(wanted, abs=1e-6)
    assert sum(row.share for row in tone_rows(CLOTH, check)) == pytest.approx(1)
    mean = linear_to_srgb(srgb_to_linear(tile / 255).mean(axis=(0, 1)))
    (scored,) = scores_of([CLOTH], lambda _: check)
    assert scored.far_colour == pytest.approx(mean, abs=0.5 / 255)


def test_the_specification_draws_both_plans_and_the_cloth(check, tile, tmp_path):
    if shutil.which("pdftoppm") is None:
        pytest.skip("poppler is not here")
    path = save_spec_sheet(CLOTH, check, tmp_path / "sheet.pdf")
    text = subprocess.run(
        ["pdftotext", "-layout", str(path), "-"], capture_output=True, text=True, check=True
    ).stdout
    for words in (
        "across, 1 1/2 in",
        "one repeat, warp",
        "one repeat, weft",
        "In checks: 2 A, 1 #fbf8f1".replace("A", "#a62a3c"),
        "1 #3f6fb0, 2 #a62a3c, 3 #fbf8f1",
    ):
        assert words in text
    command = ["pdftoppm", "-r", "254", "-png", "-singlefile", str(path), str(tmp_path / "page")]
    subprocess.run(command, check=True)
    page = np.asarray(Image.open(tmp_path / "page.png").convert("RGB")).astype(int)
    centres = ((np.arange(12) + 0.5) * 63.5).astype(int)
    seen = page[310 + centres[:, None], 140 + centres]
    cells = tile[::EACH, ::EACH].astype(int)
    wanted = cells[np.ix_(np.arange(12) % 6, np.arange(12) % 8)]
    assert np.abs(seen - wanted).max() <= 1
