"""The tile as SVG renderers that know nothing of this project draw it, against tile_pixels.

resvg (PyPI ``resvg-py``) and librsvg (``rsvg-convert``) are independent implementations of
SVG; Pillow and pngcheck of PNG. Every cell is read at its centre and beside every edge.
"""

from __future__ import annotations

import io
import shutil
import subprocess
from xml.etree import ElementTree

import numpy as np
import pytest
from PIL import Image
from uneven_cases import INCH, UNEVEN

from checkcloth import Check, Colourway, Length, tile_pixels, tile_png, tile_svg
from checkcloth.colour.spaces import srgb_to_bytes

_EACH = 9  # pixels a check, odd so that a cell has a centre

CASES = [
    Colourway("white", ["navy"]),
    Colourway("#fbf8f1", ["#a62a3c", "#3f6fb0", "#4f9070"], 0.4, name="Tea & <Toast>"),
    Colourway("#16202e", ["#f5ebcf", "#d8604f", "#8b7bb5", "#c98f1c"], 0.85, "woven"),
    Colourway("ivory", ["teal", "gold", "coral", "plum", "olive", "tan"], 0.6, "multiply"),
    Colourway("beige", ["red", "blue"], 0.5, "source-over-linear", warp_share=0.3),
]


def _resvg(svg: str, side: int) -> np.ndarray:
    return _resvg_of(svg, side, side)


def _resvg_of(svg: str, width: int, height: int) -> np.ndarray:
    import resvg_py

    png = bytes(resvg_py.svg_to_bytes(svg_string=svg, width=width, height=height, dpi=96))
    return np.asarray(Image.open(io.BytesIO(png)).convert("RGB"))


def _librsvg(svg: str, side: int) -> np.ndarray:
    return _librsvg_of(svg, side, side)


def _librsvg_of(svg: str, width: int, height: int) -> np.ndarray:
    if shutil.which("rsvg-convert") is None:
        pytest.skip("rsvg-convert (librsvg2-bin) is not here")
    command = ["rsvg-convert", "-w", str(width), "-h", str(height)]
    png = subprocess.run(command, input=svg.encode(), capture_output=True, check=True).stdout
    return np.asarray(Image.open(io.BytesIO(png)).convert("RGB"))


def _pixels_read(cells: int) -> np.ndarray:
    """Pixels to read along one axis: the centre of each cell, and both sides of each edge."""
    starts = np.arange(cells) * _EACH
    return np.sort(np.concatenate([starts, starts + _EACH // 2, starts + _EACH - 1]))


@pytest.mark.parametrize("draw", [_resvg, _librsvg], ids=["resvg", "librsvg"])
@pytest.mark.parametrize("colourway", CASES, ids=lambda c: f"{len(c.stripes)}-{c.mixing}")
def test_svg_tile_equals_the_pixels_cell_for_cell(colourway, draw):
    check = Check("1/8 in", len(colourway.stripes))
    ours, _ = tile_pixels(colourway, check, _EACH * 8)
    side = len(ours)
    assert side == 2 * len(colourway.stripes) * _EACH
    theirs = draw(tile_svg(colourway, check), side)
    pixels = _pixels_read(2 * len(colourway.stripes))
    np.testing.assert_array_equal(theirs[np.ix_(pixels, pixels)], ours[np.ix_(pixels, pixels)])
    np.testing.assert_array_equal(theirs, ours)


@pytest.mark.parametrize("dpi", [72, 96, 133])
@pytest.mark.parametrize("size", ["7 mm", "1/16 in", "2.3 mm", "9.99 mm"])
def test_no_pixel_of_the_edge_stays_bare_where_the_size_is_no_whole_pixels(size, dpi):
    """librsvg takes the next whole pixel; the last row and column must be cloth there too."""
    if shutil.which("rsvg-convert") is None:
        pytest.skip("rsvg-convert (librsvg2-bin) is not here")
    colourway = CASES[1]
    command = ["rsvg-convert", "--dpi-x", str(dpi), "--dpi-y", str(dpi)]
    svg = tile_svg(colourway, Check(size, 3)).encode()
    png = subprocess.run(command, input=svg, capture_output=True, check=True).stdout
    pixels = np.asarray(Image.open(io.BytesIO(png)).convert("RGBA"))
    assert pixels[..., 3].min() == 255
    tones = {tuple(tone) for tone in srgb_to_bytes(colourway.tones).reshape(-1, 3).tolist()}
    for edge in (pixels[-1], pixels[:, -1]):
        assert {tuple(pixel[:3]) for pixel in edge.tolist()} <= tones


@pytest.mark.parametrize("size", ["1/8 in", "7 mm", "3/16 in", "1.5 cm"])
def test_svg_says_its_real_size(size):
    check = Check(size, 3)
    root = ElementTree.fromstring(
        tile_svg(Colourway("white", ["red", "tan", "navy"]), check).encode()
    )
    assert root.get("width").endswith("mm")
    assert Length(root.get("width")).mm == pytest.approx(check.repeat.mm, abs=1e-5)
    assert root.get("height") == root.get("width")
    assert root.get("shape-rendering") == "crispEdges"
    assert root.find("{*}title").text
    assert root.find("{*}desc").text


def test_svg_is_well_formed_whatever_the_names(tmp_path):
    names = ['</title><script>alert("x")</script>', "a&b]]>", "=cmd|'/c calc'!A0", "🍓" * 40]
    for name in names:
        svg = tile_svg(Colourway("white", ["navy"], name=name), Check("5 mm", 1))
        root = ElementTree.fromstring(svg.encode())
        assert root.find("{*}title").text == name
        assert not root.findall(".//{*}script")
        if shutil.which("xmllint"):
            path = tmp_path / "tile.svg"
            path.write_text(svg, encoding="utf-8")
            subprocess.run(["xmllint", "--noout", str(path)], check=True)


@pytest.mark.parametrize("dpi", [72, 150, 300])
@pytest.mark.parametrize("colourway", CASES, ids=lambda c: f"{len(c.stripes)}-{c.mixing}")
def test_png_tile_read_by_pillow_is_the_array(colourway, dpi):
    check = Check("7 mm", len(colourway.stripes))
    pixels, exact = tile_pixels(colourway, check, dpi)
    image = Image.open(io.BytesIO(tile_png(colourway, check, dpi)))
    assert image.mode == "P"
    np.testing.assert_array_equal(np.asarray(image.convert("RGB")), pixels)
    # pHYs holds whole pixels a metre: the size is right to 1/2 in some thousands.
    assert image.info["dpi"][0] == pytest.approx(exact, abs=0.0254)
    assert image.info["srgb"] == 1
    assert len(pixels) / image.info["dpi"][0] * 25.4 == pytest.approx(check.repeat.mm, abs=0.02)


def test_png_tile_passes_pngcheck(tmp_path):
    if shutil.which("pngcheck") is None:
        pytest.skip("pngcheck is not here")
    for number, colourway in enumerate(CASES):
        path = tmp_path / f"{number}.png"
        path.write_bytes(tile_png(colourway, Check("4 mm", len(colourway.stripes)), 200))
        done = subprocess.run(["pngcheck", "-q", str(path)], capture_output=True, text=True)
        assert done.returncode == 0, done.stdout


def test_more_tones_than_a_palette_holds_are_written_in_full_colour():
    # 24 different stripes, layered: 625 tones, and a PNG palette ends at 256.
    stripes = [f"hsl({15 * turn} 70% {30 + turn}%)" for turn in range(24)]
    colourway = Colourway("white", stripes, 0.6)
    pixels, _ = tile_pixels(colourway, Check("1 mm", 24), 100)
    image = Image.open(io.BytesIO(tile_png(colourway, Check("1 mm", 24), 100)))
    assert image.mode == "RGB"
    np.testing.assert_array_equal(np.asarray(image), pixels)


@pytest.mark.parametrize("draw", [_resvg_of, _librsvg_of], ids=["resvg", "librsvg"])
@pytest.mark.parametrize("at", range(len(UNEVEN)))
def test_uneven_bands_are_drawn_as_the_pixels(at, draw):
    colourway, check = UNEVEN[at]
    ours, _ = tile_pixels(colourway, check, INCH)
    height, width = ours.shape[:2]
    np.testing.assert_array_equal(draw(tile_svg(colourway, check), width, height), ours)
