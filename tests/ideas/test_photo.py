"""Palettes from photographs of every kind, and from files that are none."""

from __future__ import annotations

import contextlib
import io
import struct
import warnings
import zlib

import numpy as np
import pytest
from coloraide import Color
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image, ImageCms

from checkcloth import delta_e_2000, srgb_to_lab
from checkcloth.colour.spaces import srgb_to_oklab
from checkcloth.errors import ArgumentError, FileFormatError
from checkcloth.ideas import (
    open_photo,
    palette_from_photo,
)

FLAGS = [
    (200, 30, 40),
    (20, 60, 160),
    (240, 200, 60),
    (250, 248, 240),
    (30, 110, 70),
    (90, 50, 110),
]


def flat_picture(colours=FLAGS, side=16, mode="RGB"):
    """Bands of flat colour, the first the widest."""
    widths = [side * (len(colours) - i) for i in range(len(colours))]
    row = np.repeat(np.array(colours, dtype=np.uint8), widths, axis=0)
    return Image.fromarray(np.repeat(row[None], side, axis=0)).convert(mode)


def saved(image, form="PNG", **options):
    stream = io.BytesIO()
    image.save(stream, form, **options)
    return stream.getvalue()


def hexes(palette):
    return [colour.hex for colour in palette]


def hex_of(rgb):
    return "#{:02x}{:02x}{:02x}".format(*rgb)


# -- what a photograph gives -----------------------------------------------------------------------


@pytest.mark.parametrize("form", ["PNG", "BMP", "TIFF", "PPM", "GIF"])
def test_flat_colours_come_back_exactly_the_largest_first(form):
    palette = palette_from_photo(saved(flat_picture(), form), 12)
    assert hexes(palette) == [hex_of(rgb) for rgb in FLAGS]
    assert palette.colours[0].note.startswith("28.6% of ")  # 6 / 21


@pytest.mark.parametrize(
    ("form", "options"), [("JPEG", {"quality": 95}), ("WEBP", {"quality": 95})]
)
def test_lossy_pictures_come_back_nearly(form, options):
    palette = palette_from_photo(saved(flat_picture(side=40), form, **options), 6)
    labs = srgb_to_lab(palette.rgb)
    for rgb in FLAGS:
        assert delta_e_2000(labs, srgb_to_lab(np.array(rgb) / 255)).min() < 4


def test_names_are_the_nearest_css_colours_each_once():
    image = flat_picture([(255, 0, 0), (240, 10, 20), (0, 128, 128), (0, 0, 128), (255, 215, 0)])
    names = [colour.name for colour in palette_from_photo(saved(image))]
    assert names[0] == "red"
    assert len(set(names)) == len(names)
    assert {"teal", "navy", "gold"} <= set(names)


def test_an_accent_of_one_in_a_thousand_is_not_drowned():
    pixels = np.full((200, 200, 3), (120, 160, 200), dtype=np.uint8)
    pixels[:, :, 2] = np.linspace(120, 220, 200).astype(np.uint8)[:, None]
    pixels[:6, :7] = (220, 30, 30)
    palette = palette_from_photo(saved(Image.fromarray(pixels)), 6)
    assert any(delta_e_2000(srgb_to_lab(c.rgb), srgb_to_lab([220 / 255, 30 / 255, 30 / 255])) < 3
               for c in palette)  # fmt: skip


def test_the_same_picture_always_gives_the_same_palette():
    rng = np.random.default_rng(1)
    raw = saved(Image.fromarray(rng.integers(0, 256, (120, 90, 3), dtype=np.uint8)))
    one = palette_from_photo(raw, 24)
    assert one == palette_from_photo(raw, 24)
    assert len(one) == 24
    shares = [float(colour.note.split("%")[0]) for colour in one]
    assert shares == sorted(shares, reverse=True)
    assert sum(shares) == pytest.approx(100, abs=1.5)


def test_gathering_is_about_as_tight_as_a_general_library():
    """k-means of scipy from the same weights, best of many starts, as the peer."""
    from scipy.cluster.vq import kmeans

    rng = np.random.default_rng(4)
    centres = rng.random((8, 3))
    pixels = np.clip(centres[rng.integers(0, 8, 12000)] + rng.normal(0, 0.05, (12000, 3)), 0, 1)
    image = Image.fromarray((pixels.reshape(100, 120, 3) * 255).astype(np.uint8))
    palette = palette_from_photo(saved(image), 8)
    labs = srgb_to_oklab(np.asarray(image).reshape(-1, 3) / 255)

    def spread(places):
        return np.sqrt(((labs[:, None] - places[None]) ** 2).sum(-1).min(1)).mean()

    peer = min(kmeans(labs, 8, seed=seed)[1] for seed in range(5))
    assert spread(srgb_to_oklab(palette.rgb)) < 1.25 * peer


@pytest.mark.parametrize("colours", [5, 25, 6.5, "six"])
def test_how_many_colours_is_checked(colours):
    with pytest.raises(ArgumentError, match="colours must be a whole number from 6 to 24"):
        palette_from_photo(saved(flat_picture()), colours)


def test_a_palette_is_named_after_its_file(tmp_path):
    path = tmp_path / "halt at dusk.png"
    path.write_bytes(saved(flat_picture()))
    assert palette_from_photo(path).name == "halt at dusk"
    assert palette_from_photo(str(path), name="Dusk").name == "Dusk"
    assert palette_from_photo(open_photo(path)).name == "halt at dusk"


# -- pictures of every kind ------------------------------------------------------------------------


def test_one_pixel():
    palette = palette_from_photo(saved(Image.new("RGB", (1, 1), (200, 30, 40))))
    assert hexes(palette) == ["#c81e28"]


def test_a_strip_one_pixel_high_and_very_long():
    photo = open_photo(saved(Image.new("RGB", (60_000, 1), "teal")))
    assert photo.pixels.shape == (1, 400, 3)
    assert photo.size == (60_000, 1)


def test_transparent_pixels_do_not_count():
    image = flat_picture([(200, 30, 40), (20, 60, 160)], mode="RGBA")
    pixels = np.array(image)
    pixels[:, :20, 3] = 100  # mostly transparent: left out
    pixels[:, 20:30, 3] = 200
    pixels[:10] = (0, 255, 0, 0)
    palette = palette_from_photo(saved(Image.fromarray(pixels)))
    assert hexes(palette) == ["#143ca0", "#c81e28"]  # 16 columns of blue, 12 of red
    grey = Image.new("LA", (4, 4), (90, 255))
    assert hexes(palette_from_photo(saved(grey))) == ["#5a5a5a"]
    with pytest.raises(FileFormatError, match="transparent"):
        palette_from_photo(saved(Image.new("RGBA", (5, 5), (1, 2, 3, 0))))


def test_one_colour_of_an_indexed_picture_transparent():
    image = flat_picture([(200, 30, 40), (20, 60, 160)]).quantize(4)
    which = image.getpixel((0, 0))
    assert hexes(palette_from_photo(saved(image, transparency=which))) == ["#143ca0"]
    assert hexes(palette_from_photo(saved(image))) == ["#c81e28", "#143ca0"]


def png_chunk(kind, body):
    return struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))


def png16(values):
    """A 16-bit RGB PNG, which Pillow cannot write: chunks by hand (W3C PNG, big-endian)."""
    height, width, _ = values.shape

    def chunk(kind, body):
        return (
            struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))
        )

    rows = b"".join(b"\0" + row.astype(">u2").tobytes() for row in values)
    head = struct.pack(">IIBBBBB", width, height, 16, 2, 0, 0, 0)
    return (
        b"\x89PNG\r\n\x1a\n" + png_chunk(b"IHDR", head)
        + png_chunk(b"IDAT", zlib.compress(rows)) + png_chunk(b"IEND", b"")
    )  # fmt: skip


def test_sixteen_bits_in_colour():
    values = np.zeros((4, 4, 3), dtype=np.uint16)
    values[:] = (200 * 257, 30 * 257, 40 * 257)
    assert hexes(palette_from_photo(png16(values))) == ["#c81e28"]


@pytest.mark.parametrize("form", ["PNG", "TIFF"])
def test_sixteen_bits_in_grey(form):
    image = Image.fromarray(np.full((5, 5), 128 * 257, dtype=np.uint16))
    assert image.mode.startswith("I;16")
    assert hexes(palette_from_photo(saved(image, form))) == ["#808080"]


def test_numbers_that_are_no_channels_are_refused():
    image = Image.fromarray(np.full((5, 5), 0.5, dtype=np.float32))
    with pytest.raises(FileFormatError, match="8 or 16 bits a channel, found mode F"):
        palette_from_photo(saved(image, "TIFF"))


@pytest.mark.parametrize("form", ["JPEG", "TIFF"])
def test_cmyk_without_a_profile(form):
    """Pillow's plain formula: full cyan with no other ink is #00ffff."""
    image = Image.new("CMYK", (32, 32), (255, 0, 0, 0))
    found = palette_from_photo(saved(image, form)).rgb[0]
    assert np.abs(found * 255 - (0, 255, 255)).max() <= 2


@pytest.mark.parametrize("mode", ["1", "L", "HSV", "YCbCr", "LAB"])
def test_other_modes(mode):
    forms = {"YCbCr": "JPEG", "HSV": None, "LAB": "TIFF"}
    form = forms.get(mode, "PNG")
    if form is None:
        pytest.skip("no file format holds HSV")
    image = Image.new(mode, (24, 24), 255 if mode in "1L" else (255, 128, 128))
    found = palette_from_photo(saved(image, form)).rgb[0]
    assert np.abs(found - 1).max() < 0.02


def test_the_first_frame_of_a_moving_picture():
    frames = [Image.new("RGB", (8, 8), colour) for colour in ("#c81e28", "#143ca0")]
    raw = saved(frames[0], "GIF", save_all=True, append_images=frames[1:])
    assert hexes(palette_from_photo(raw)) == ["#c81e28"]


# -- orientation -----------------------------------------------------------------------------------


@pytest.mark.parametrize("form", ["JPEG", "PNG", "TIFF", "WEBP"])
@pytest.mark.parametrize("orientation", range(1, 9))
def test_the_picture_is_turned_upright(form, orientation):
    """EXIF 2.3 (CIPA DC-008): what is stored, and how a viewer must turn it."""
    upright = np.zeros((40, 60, 3), dtype=np.uint8)
    upright[:20, :30] = (220, 20, 20)
    upright[:20, 30:] = (20, 200, 20)
    upright[20:, :30] = (20, 20, 220)
    stored = {
        1: upright, 2: upright[:, ::-1], 3: upright[::-1, ::-1], 4: upright[::-1],
        5: upright.swapaxes(0, 1), 6: np.rot90(upright, 1), 7: np.rot90(upright, 2).swapaxes(0, 1),
        8: np.rot90(upright, -1),
    }[orientation]  # fmt: skip
    image = Image.fromarray(np.ascontiguousarray(stored))
    exif = Image.Exif()
    exif[0x0112] = orientation
    raw = saved(image, form, exif=exif, **({"lossless": True} if form == "WEBP" else {}))
    photo = open_photo(raw)
    assert photo.size == (60, 40)
    # away from the edges, where JPEG smears colour
    for y, x in ((10, 15), (10, 45), (30, 15), (30, 45)):
        np.testing.assert_allclose(photo.pixels[y, x].astype(int), upright[y, x], atol=25)


def test_a_large_picture_is_turned_and_sampled():
    image = Image.new("RGB", (1200, 900), "#c81e28")
    exif = Image.Exif()
    exif[0x0112] = 6
    photo = open_photo(saved(image, "TIFF", exif=exif))
    assert photo.size == (900, 1200)
    assert photo.pixels.shape == (400, 300, 3)


# -- profiles --------------------------------------------------------------------------------------


def matrix_profile(columns):
    """A version 2 ICC display profile of three primaries and the curve of sRGB.

    ``columns`` are XYZ of red, green, blue under D50 (ICC.1:2001-04, clauses 6.1 and 6.4).
    """

    def fixed(*values):
        return b"".join(struct.pack(">i", round(value * 65536)) for value in values)

    ramp = np.linspace(0, 1, 1024)
    curve = np.where(ramp <= 0.04045, ramp / 12.92, ((ramp + 0.055) / 1.055) ** 2.4)
    trc = b"curv\0\0\0\0" + struct.pack(">I", 1024)
    trc += np.round(curve * 65535).astype(">u2").tobytes()
    text = b"drawn for a test\0"
    tags = {
        b"desc": b"desc\0\0\0\0" + struct.pack(">I", len(text)) + text + bytes(78),
        b"cprt": b"text\0\0\0\0" + text,
        b"wtpt": b"XYZ \0\0\0\0" + fixed(0.9642, 1, 0.8249),
        b"rXYZ": b"XYZ \0\0\0\0" + fixed(*columns[0]),
        b"gXYZ": b"XYZ \0\0\0\0" + fixed(*columns[1]),
        b"bXYZ": b"XYZ \0\0\0\0" + fixed(*columns[2]),
        b"rTRC": trc, b"gTRC": trc, b"bTRC": trc,
    }  # fmt: skip
    table, body = struct.pack(">I", len(tags)), b""
    start = 128 + 4 + 12 * len(tags)
    for name, data in tags.items():
        data += bytes(-len(data) % 4)
        table += name + struct.pack(">II", start + len(body), len(data))
        body += data
    size = start + len(body)
    head = struct.pack(">I4sI4s4s4s12x4s", size, b"\0\0\0\0", 0x02400000, b"mntr", b"RGB ", b"XYZ ",
                       b"acsp")  # fmt: skip
    head += bytes(68 - len(head)) + fixed(0.9642, 1, 0.8249)
    return head + bytes(128 - len(head)) + table + body


def display_p3():
    columns = [Color("color(display-p3 1 0 0)"), Color("color(display-p3 0 1 0)"),
               Color("color(display-p3 0 0 1)")]  # fmt: skip
    return matrix_profile([colour.convert("xyz-d50").coords() for colour in columns])


@pytest.mark.parametrize("form", ["PNG", "JPEG", "TIFF", "WEBP"])
def test_a_profile_is_honoured(form):
    """The same numbers mean other colours in Display P3: coloraide says which."""
    rgb = (180, 90, 60)
    meant = Color("color(display-p3 {} {} {})".format(*(v / 255 for v in rgb))).convert("srgb")
    image = Image.new("RGB", (32, 32), rgb)
    options = {"lossless": True} if form == "WEBP" else {"quality": 100} if form == "JPEG" else {}
    raw = saved(image, form, icc_profile=display_p3(), **options)
    found = palette_from_photo(raw).rgb[0] * 255
    np.testing.assert_allclose(found, np.array(meant.coords()) * 255, atol=2.1)
    assert np.abs(found - rgb).max() > 8
    plain = palette_from_photo(saved(image, form, **options)).rgb[0] * 255
    np.testing.assert_allclose(plain, rgb, atol=2.1)


def test_a_profile_beside_transparency():
    image = Image.new("RGBA", (8, 8), (180, 90, 60, 255))
    image.putpixel((0, 0), (0, 255, 0, 0))
    raw = saved(image, icc_profile=display_p3())
    opaque = saved(image.convert("RGB"), icc_profile=display_p3())
    assert hexes(palette_from_photo(raw))[0] == hexes(palette_from_photo(opaque))[0]


def test_the_profile_of_srgb_changes_nothing():
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    palette = palette_from_photo(saved(flat_picture(), icc_profile=profile))
    assert hexes(palette) == [hex_of(rgb) for rgb in FLAGS]


def test_a_broken_profile_is_said_and_passed_over():
    raw = saved(flat_picture(), icc_profile=b"no profile at all")
    with pytest.warns(RuntimeWarning, match="photo: its colour profile cannot be used"):
        palette = palette_from_photo(raw)
    assert hexes(palette) == [hex_of(rgb) for rgb in FLAGS]


# -- broken and hostile files ----------------------------------------------------------------------


@pytest.mark.parametrize("form", ["PNG", "JPEG", "WEBP", "TIFF", "GIF", "BMP"])
@pytest.mark.parametrize("part", [0.3, 0.6, 0.9])
def test_a_picture_that_is_cut_off(form, part):
    rng = np.random.default_rng(2)
    raw = saved(Image.fromarray(rng.integers(0, 256, (64, 64, 3), dtype=np.uint8)), form)
    with pytest.raises(FileFormatError) as caught:
        open_photo(raw[: int(len(raw) * part)])
    assert (caught.value.source, caught.value.argument) == ("photo", "picture")


@pytest.mark.parametrize(
    "raw", [b"", b"name,colour\nNight,#101820\n", b"%!PS-Adobe-3.0", b"<svg/>", bytes(100)]
)
def test_files_that_are_no_pictures(raw):
    with pytest.raises(FileFormatError) as caught:
        open_photo(raw)
    assert caught.value.allowed.startswith("a picture (PNG, JPEG, WEBP")


@settings(max_examples=150, deadline=None)
@given(st.integers(0, 3000), st.integers(0, 255), st.sampled_from(["PNG", "JPEG", "GIF", "TIFF"]))
def test_a_damaged_byte_never_gives_another_error(place, value, form):
    raw = bytearray(saved(flat_picture(side=8), form))
    raw[place % len(raw)] = value
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        # any other error fails the test
        with contextlib.suppress(FileFormatError):
            palette_from_photo(bytes(raw))


def bomb(width, height):
    """A small PNG that says it unpacks to width × height."""

    def chunk(kind, body):
        return (
            struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))
        )

    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    body = zlib.compress(bytes(1_000_000))
    return (
        b"\x89PNG\r\n\x1a\n"
        + png_chunk(b"IHDR", head)
        + png_chunk(b"IDAT", body)
        + png_chunk(b"IEND", b"")
    )


@pytest.mark.parametrize("size", [(8000, 7000), (12_000, 8000), (60_000, 60_000)])
def test_a_decompression_bomb_is_refused_from_its_header(size):
    raw = bomb(*size)
    assert len(raw) < 2000
    with pytest.raises(FileFormatError, match="at most 50 megapixels, found"):
        open_photo(raw)


def test_a_file_too_large(monkeypatch, tmp_path):
    from checkcloth.ideas import photo

    monkeypatch.setattr(photo, "_MOST_BYTES", 1000)
    path = tmp_path / "large.png"
    path.write_bytes(saved(flat_picture()) + bytes(1000))
    with pytest.raises(FileFormatError, match=r"large\.png: picture must be at most 0 MiB"):
        open_photo(path)
    with pytest.raises(FileFormatError, match="must be at most"):
        open_photo(path.read_bytes())


def test_a_folder_and_nothing(tmp_path):
    with pytest.raises(FileFormatError, match="must be a file, found something else"):
        open_photo(tmp_path)
    with pytest.raises(FileNotFoundError):
        open_photo(tmp_path / "none.png")


def test_limits_leave_pillow_as_it_was():
    before = Image.MAX_IMAGE_PIXELS
    open_photo(saved(flat_picture()))
    assert before == Image.MAX_IMAGE_PIXELS
