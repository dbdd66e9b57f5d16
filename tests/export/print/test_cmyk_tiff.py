"""Tiles as CMYK TIFF, read back by Pillow's libtiff and by tifffile, with colours by LittleCMS."""

from __future__ import annotations

import io
from fractions import Fraction
from pathlib import Path

import numpy as np
import pytest
import tifffile
from icc_maker import make_press_profile
from PIL import Image, ImageCms

from checkcloth import Check, Colourway, tile_pixels
from checkcloth.errors import ArgumentError
from checkcloth.export.picture.raster import tile_size
from checkcloth.export.print.cmyk_tiff import tile_tiff, tone_inks
from checkcloth.export.print.press import open_press
from checkcloth.export.print.proof import soft_proof

DEBIAN = Path("/usr/share/color/icc/ghostscript/default_cmyk.icc")
QUAY = Colourway("#fbf8f1", ["#a62a3c", "#3f6fb0"], 0.7, name="Quay é")
UNEVEN = Check("1 in", 2, warp="1/8 A, 1 ground, 2 B", weft="1 1/2 A, 1/4 ground", weft_stripes=1)
CASES = {
    "even": (QUAY, Check("1/4 in", 2), 150),
    # The next resolution at which the repeat is whole pixels: 152 dpi.
    "another resolution": (Colourway("white", ["navy"]), Check("1/16 in", 1), 150),
    # A repeat of 8 cm is 2,519.685 pixels at 800 dpi: no whole number either, many strips.
    "large": (QUAY, Check("2 cm", 2), 800),
    "uneven": (QUAY.with_(weft_stripes=["gold"]), UNEVEN, 200),
}


@pytest.fixture(scope="module")
def press():
    return open_press(make_press_profile())


@pytest.mark.parametrize("case", CASES)
def test_other_readers_find_the_inks_of_every_pixel(case, press):
    colourway, check, dpi = CASES[case]
    made = tile_tiff(colourway, check, press, dpi)
    (across, down), exact = tile_size(check, dpi)
    image = Image.open(io.BytesIO(made))
    assert (image.format, image.mode, image.size) == ("TIFF", "CMYK", (across, down))
    assert image.info["compression"] == "tiff_adobe_deflate"
    inks = tone_inks(colourway, press)
    warp, weft = check.repeat_plans(check.repeat_grid(dpi))
    wanted = inks[warp[None, :], weft[:, None]]
    np.testing.assert_array_equal(np.asarray(image), wanted)
    with tifffile.TiffFile(io.BytesIO(made)) as other:
        (page,) = other.pages
        np.testing.assert_array_equal(page.asarray(), wanted)
        assert page.photometric == tifffile.PHOTOMETRIC.SEPARATED
        assert page.tags["InkSet"].value == 1
        assert page.tags["ResolutionUnit"].value == tifffile.RESUNIT.INCH
        for way in ("XResolution", "YResolution"):
            assert Fraction(*page.tags[way].value) == pytest.approx(exact, rel=1e-9)
        assert page.iccprofile == press.profile


def test_the_inks_are_those_that_littlecms_gives_the_tile_itself(press):
    colourway, check, dpi = CASES["even"]
    pixels, exact = tile_pixels(colourway, check, dpi)
    to = ImageCms.buildTransform(
        ImageCms.createProfile("sRGB"), ImageCms.ImageCmsProfile(io.BytesIO(press.profile)),
        "RGB", "CMYK", ImageCms.Intent.RELATIVE_COLORIMETRIC,
        flags=ImageCms.Flags.BLACKPOINTCOMPENSATION,
    )  # fmt: skip
    wanted = ImageCms.applyTransform(Image.fromarray(pixels), to)
    image = Image.open(io.BytesIO(tile_tiff(colourway, check, press, dpi)))
    np.testing.assert_array_equal(np.asarray(image), np.asarray(wanted))
    assert image.info["icc_profile"] == press.profile
    assert image.info["dpi"] == (exact, exact)
    inks = soft_proof(colourway, press).inks
    assert tone_inks(colourway, press) / 2.55 == pytest.approx(inks)


@pytest.mark.skipif(not DEBIAN.is_file(), reason="libgs-common has the profile")
def test_seen_through_the_profile_embedded_it_is_the_proof():
    """Back to the screen by the file's own profile alone."""
    press = open_press(DEBIAN, black_point=False)
    colourway, check, dpi = CASES["even"]
    image = Image.open(io.BytesIO(tile_tiff(colourway, check, press, dpi)))
    embedded = ImageCms.ImageCmsProfile(io.BytesIO(image.info["icc_profile"]))
    back = ImageCms.profileToProfile(
        image, embedded, ImageCms.createProfile("sRGB"),
        renderingIntent=ImageCms.Intent.RELATIVE_COLORIMETRIC, outputMode="RGB",
    )  # fmt: skip
    warp, weft = check.repeat_plans(check.repeat_grid(dpi))
    proofed = soft_proof(colourway, press).tones[warp[None, :], weft[:, None]]
    # Amounts of ink are whole 255ths on the way: a step or two of what is seen.
    assert np.abs(np.asarray(back) / 255 - proofed).max() <= 3.5 / 255


def test_a_strip_of_alike_rows_is_small_and_the_bytes_are_the_same_twice(press):
    colourway, check, dpi = CASES["large"]
    made = tile_tiff(colourway, check, press, dpi)
    assert made == tile_tiff(colourway, check, press, dpi)
    assert len(made) < 4 * 2520 * 2520 / 100
    assert made.isascii() is False
    assert "Quay ?" in Image.open(io.BytesIO(made)).tag_v2[270]


def test_what_is_refused(press):
    screen = open_press(ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes())
    for act, argument in (
        (lambda: tile_tiff(QUAY, Check("1 in", 2), screen), "press"),
        (lambda: tile_tiff(QUAY, Check("1 in", 2), "press.icc"), "press"),
        (lambda: tile_tiff(QUAY, Check("1 in", 3), press), "check"),
        (lambda: tile_tiff(QUAY, Check("1 in", 2), press, 0), "dpi"),
    ):
        with pytest.raises(ArgumentError) as caught:
            act()
        assert caught.value.argument == argument
