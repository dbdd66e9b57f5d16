"""A palette from a photograph: opened with limits on, its colours gathered in Oklab."""

from __future__ import annotations

import io
import re
import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from os import PathLike
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

from checkcloth.arguments import Floats, as_path, as_whole
from checkcloth.cloth.named_colour import NamedColour
from checkcloth.cloth.palette import Palette
from checkcloth.colour.ciede2000 import delta_e_2000
from checkcloth.colour.spaces import oklab_to_srgb, srgb_to_lab, srgb_to_oklab
from checkcloth.errors import FileFormatError
from checkcloth.ideas.naming import css_names_for

if TYPE_CHECKING:
    from PIL import Image

MOST_PIXELS = 50_000_000
_SIZE = f"of at most {MOST_PIXELS // 10**6} megapixels"
_MOST_BYTES = 64 << 20
# A progressive JPEG has some ten scans; so many times its pixels take a few seconds.
_MOST_SCANNED = 1_000_000_000
# Writers cut a PNG into chunks of 8 KiB and more: 64 MiB come in some 8,000.
_MOST_CHUNKS = 50_000
# Of a PPM in plain text, whose numbers are read one by one.
_MOST_TEXT = 1 << 20
_PPM_HEAD = 4096
_PPM = re.compile(rb"(?:P[14]|P\w+\s+[^\s#]+)\s+[^\s#]+\s+[^\s#]+\s")
# Formats that hold pixels and nothing that runs; not those that call other programs.
_FORMATS = ("PNG", "JPEG", "WEBP", "TIFF", "GIF", "BMP", "PPM", "AVIF")
_WITH_ALPHA = ("RGBA", "RGBa", "LA", "La", "PA")
# The longer side that is looked at; more pixels would say the same.
_SIDE = 400
# Pixels are first put into boxes of so many steps a channel: 5 bits, 32,768 boxes.
_BITS = 5
_ROUNDS = 60
# Colours nearer than this, CIEDE2000, become one: about where unpractised eyes see a difference.
_ALIKE = 2.0


@dataclass(frozen=True)
class Photo:
    """A picture, upright and in sRGB, sampled down to at most 400 pixels a side.

    Attributes
    ----------
    name : str
    pixels : ndarray of uint8, shape (H, W, 3)
    opaque : ndarray of bool, shape (H, W)
        False where it is more than half transparent; those pixels do not count.
    size : tuple of int
        Width and height of the picture itself, upright.
    """

    name: str
    pixels: NDArray[np.uint8]
    opaque: NDArray[np.bool_]
    size: tuple[int, int]


def open_photo(source: str | PathLike[str] | bytes | bytearray | memoryview) -> Photo:
    """Open a picture with limits on, upright, in sRGB.

    The orientation in its EXIF data and its ICC profile are honoured. CMYK without a
    profile is converted by Pillow's plain formula, which is only an estimate of ink.

    Parameters
    ----------
    source : path or bytes
        PNG, JPEG, WebP, TIFF, GIF (first frame), BMP, PPM or AVIF; at most 64 MiB and 50
        megapixels.

    Returns
    -------
    Photo

    Raises
    ------
    FileFormatError
        For a broken picture, one that is too large (also a small file that would unpack
        to a large picture), or a file that is none.

    Examples
    --------
    >>> from checkcloth import Check, Colourway, tile_png
    >>> open_photo(tile_png(Colourway("white", ["navy"]), Check("1/2 in", 1), 100)).size
    (100, 100)
    """
    name, raw = _bytes_of(source)
    _check_header(raw, name)
    with _as_our_errors(name):
        image = _opened(raw, name)
        small = _in_eight_bits(_upright_sample(image), name)
        alpha = _alpha_of(small)
        if alpha is not None and small.mode not in ("P", "L", "1"):
            small = small.convert("L" if small.mode in ("LA", "La") else "RGB")
        rgb = np.array(_in_srgb(small, image.info.get("icc_profile"), name), dtype=np.uint8)
        turned = image.getexif().get(0x0112, 1) in (5, 6, 7, 8)
    opaque = np.ones(rgb.shape[:2], dtype=bool) if alpha is None else alpha >= 128
    return Photo(name, rgb, opaque, image.size[::-1] if turned else image.size)


@contextmanager
def _as_our_errors(name: str) -> Iterator[None]:
    """Pillow's warnings and errors as ours: a dozen decoders, each with errors of its own."""
    from PIL import Image, UnidentifiedImageError

    try:
        with warnings.catch_warnings():
            # Pillow warns of damaged EXIF data and reads on; the picture is what is wanted.
            warnings.filterwarnings("ignore", category=UserWarning, module="PIL")
            warnings.simplefilter("error", Image.DecompressionBombWarning)
            yield
    except FileFormatError:
        raise
    except (Image.DecompressionBombError, Image.DecompressionBombWarning):
        raise _fault(name, _SIZE, "far more") from None
    except UnidentifiedImageError:
        formats = ", ".join(_formats())
        raise _fault(name, f"a picture ({formats})", "something else") from None
    except Exception as error:
        raise _fault(name, "whole", "one that cannot be opened", f": {error}") from None


def _fault(name: str, allowed: str, words: str = "", hint: str = "") -> FileFormatError:
    return FileFormatError("picture", allowed, words=words, hint=hint, source=name)


def _formats() -> list[str]:
    """The formats that this Pillow opens; before 11.3 it does not know AVIF."""
    from PIL import Image

    Image.init()
    return [kind for kind in _FORMATS if kind in Image.OPEN]


def _opened(raw: bytes, name: str) -> Image.Image:
    from PIL import Image

    image: Image.Image = Image.open(io.BytesIO(raw), formats=_formats())
    # The size stands in the header: nothing has been unpacked yet.
    if image.width * image.height > MOST_PIXELS:
        raise _fault(name, _SIZE, f"{image.width} × {image.height}")
    _check_scans(raw, image.width * image.height, name)
    image.load()
    return image


def _alpha_of(image: Image.Image) -> NDArray[np.uint8] | None:
    if image.mode in _WITH_ALPHA or "transparency" in image.info:
        return np.asarray(image.convert("RGBA").getchannel("A"))
    return None


def _bytes_of(source: str | PathLike[str] | bytes | bytearray | memoryview) -> tuple[str, bytes]:
    """A picture's name, for people, and its bytes."""
    if isinstance(source, bytes | bytearray | memoryview):
        name, raw = "photo", bytes(source[: _MOST_BYTES + 1])
    else:
        path = as_path(source, "source")
        name = path.name
        if path.exists() and not path.is_file():
            raise _fault(name, "a file", "something else")
        with path.open("rb") as stream:
            raw = stream.read(_MOST_BYTES + 1)
    if len(raw) > _MOST_BYTES:
        raise _fault(name, f"at most {_MOST_BYTES >> 20} MiB", "more")
    return name, raw


def _check_header(raw: bytes, name: str) -> None:
    """Refuse a PNG in too many pieces, and a PPM whose header or text would be read for long."""
    if raw.startswith(b"\x89PNG\r\n\x1a\n"):
        start, chunks = 8, 0
        while start < len(raw) and chunks <= _MOST_CHUNKS:
            start += 12 + int.from_bytes(raw[start : start + 4], "big")
            chunks += 1
        if chunks > _MOST_CHUNKS:
            raise _fault(name, f"a PNG of at most {_MOST_CHUNKS} chunks", "more")
    elif raw[:1] == b"P":
        if not _PPM.match(re.sub(rb"#[^\r\n]*", b"", raw[:_PPM_HEAD])):
            raise _fault(name, f"a PPM whose header ends within {_PPM_HEAD} bytes")
        if raw[1:2] in b"123" and len(raw) > _MOST_TEXT:
            raise _fault(name, "at most 1 MiB as a PPM in plain text; save it as PNG")


def _check_scans(raw: bytes, pixels: int, name: str) -> None:
    """Refuse a JPEG of far more scans than its pixels can be sent through in seconds."""
    # In packed data 0xff is always followed by 0x00, so these two bytes begin a scan
    # (ITU-T T.81, B.1.1.2), of the picture or of a small preview in its head.
    scans = raw.count(b"\xff\xda") if raw.startswith(b"\xff\xd8") else 0
    if scans > 64 and scans * pixels > _MOST_SCANNED:
        raise _fault(name, "a JPEG of fewer scans", str(scans))


def _upright_sample(image: Image.Image) -> Image.Image:
    """Sample pixels evenly, without mixing them, and turn the picture as its EXIF says."""
    from PIL import Image, ImageOps

    scale = max(1.0, max(image.size) / _SIDE)
    size = (max(1, round(image.width / scale)), max(1, round(image.height / scale)))
    small: Any = image if size == image.size else image.resize(size, Image.Resampling.NEAREST)
    small.info.update({key: image.info[key] for key in ("transparency",) if key in image.info})
    if small is not image:
        small.getexif().update(image.getexif())
    turned: Image.Image = ImageOps.exif_transpose(small)
    return turned


def _in_eight_bits(image: Image.Image, name: str) -> Image.Image:
    """Bring pictures of 16 bits a channel, and whole numbers, to 8 bits."""
    from PIL import Image

    if not image.mode.startswith(("I", "F")):
        return image
    values = np.asarray(image, dtype=np.float64)
    if image.mode == "F" or values.min() < 0 or values.max() > 65535:
        words = f"mode {image.mode} with values {values.min():g} to {values.max():g}"
        raise _fault(name, "of 8 or 16 bits a channel", words)
    return Image.fromarray(np.round(values / 257).astype(np.uint8))


def _in_srgb(image: Image.Image, profile: bytes | None, name: str) -> Image.Image:
    """Convert colours by the picture's own ICC profile; without one they are sRGB."""
    from PIL import ImageCms

    if image.mode in ("1", "P", "HSV", "YCbCr"):
        image = image.convert("RGB")
    if image.mode == "LAB":
        profile = profile or ImageCms.ImageCmsProfile(ImageCms.createProfile("LAB")).tobytes()
    if profile:
        try:
            converted = ImageCms.profileToProfile(
                image,
                ImageCms.ImageCmsProfile(io.BytesIO(profile)),
                ImageCms.createProfile("sRGB"),
                renderingIntent=ImageCms.Intent.RELATIVE_COLORIMETRIC,
                outputMode="RGB",
            )
        except (ImageCms.PyCMSError, OSError, ValueError):
            warnings.warn(
                f"{name}: its colour profile cannot be used; colours are taken as sRGB",
                RuntimeWarning,
                stacklevel=4,
            )
        else:
            assert converted is not None
            return converted
    return image.convert("RGB")


def palette_from_photo(
    source: Photo | str | PathLike[str] | bytes | bytearray | memoryview,
    colours: int = 12,
    *,
    name: str = "",
) -> Palette:
    """Return the colours of a photograph as a palette, the largest in area first.

    Parameters
    ----------
    source : Photo, path or bytes
        See :func:`open_photo`.
    colours : int
        6 to 24. Fewer come back where the picture has fewer that differ by CIEDE2000 2.
    name : str
        Of the palette; left out, the file's.

    Returns
    -------
    Palette
        Colours named by the nearest CSS colour, with their share of the picture as note.
        The same picture gives the same palette, always.

    Raises
    ------
    ArgumentError, FileFormatError
        See :func:`open_photo`; also for a picture that is all transparent.

    Examples
    --------
    >>> from checkcloth import Check, Colourway, tile_png
    >>> picture = tile_png(Colourway("white", ["navy"]), Check("1/2 in", 1), 100)
    >>> print(palette_from_photo(picture, 6, name="halt"))
    palette halt: 3 colours
    """
    count = as_whole(colours, "colours", 6, 24)
    photo = source if isinstance(source, Photo) else open_photo(source)
    seen = photo.pixels[photo.opaque]
    if not len(seen):
        raise _fault(photo.name, "one that shows something", "it all transparent")
    found, shares = _gather(seen, count)
    rgb = [(float(red), float(green), float(blue)) for red, green, blue in found]
    rows = zip(css_names_for(rgb), rgb, shares, strict=True)
    named = [
        NamedColour(label, colour, note=f"{share:.1%} of {photo.name}"[:2000])
        for label, colour, share in rows
    ]
    return Palette(name or Path(photo.name).stem, named)


def _boxes(pixels: NDArray[np.uint8]) -> tuple[Floats, Floats]:
    """Mean Oklab and pixel count of every box that holds a pixel, in a fixed order."""
    keys = (pixels >> (8 - _BITS)).astype(np.int64) @ np.array([1 << 2 * _BITS, 1 << _BITS, 1])
    boxes, inverse = np.unique(keys, return_inverse=True)
    labs = srgb_to_oklab(pixels / 255)
    sums, total = _sums(inverse, labs, np.ones(len(labs)), len(boxes))
    return sums / total[:, None], total


def _start(points: Floats, weights: Floats, count: int) -> Floats:
    """First the heaviest, then always the one with the most weight × squared distance."""
    chosen = [int(weights.argmax())]
    nearest = np.full(len(points), np.inf)
    while len(chosen) < min(count, len(points)):
        step = points - points[chosen[-1]]
        nearest = np.minimum(nearest, (step * step).sum(axis=1))
        pull = weights * nearest
        if pull.max() <= 0:
            break
        chosen.append(int(pull.argmax()))
    return points[chosen]


def _nearest(points: Floats, centres: Floats) -> NDArray[np.intp]:
    step = points[:, None, :] - centres[None, :, :]
    return np.asarray((step * step).sum(axis=-1).argmin(axis=1))


def _gather(pixels: NDArray[np.uint8], count: int) -> tuple[Floats, Floats]:
    """Return at most ``count`` colours (m, 3) that stand for the pixels (n, 3), and their shares.

    k-means on box means in Oklab. A box weighs the square root of its pixels, so that a
    small accent is not drowned by a large sky; shares (m,) are of pixels, the largest first.
    Colours are encoded sRGB on 8-bit steps.
    """
    points, counts = _boxes(pixels)
    weights = np.sqrt(counts)
    centres = _start(points, weights, count)
    owner = _nearest(points, centres)
    for _ in range(_ROUNDS):
        sums, total = _sums(owner, points, weights, len(centres))
        alive = total > 0
        centres = sums[alive] / total[alive, None]
        again = _nearest(points, centres)
        if alive.all() and np.array_equal(again, owner):
            break
        owner = again
    # A colour's mean over all its pixels is what the eye takes it for.
    sums, total = _sums(owner, points, counts, len(centres))
    held = total > 0
    means, shares = sums[held] / total[held, None], total[held] / counts.sum()
    colours = np.round(np.clip(oklab_to_srgb(means), 0, 1) * 255) / 255
    order = np.argsort(-shares, kind="stable")
    return _merged(colours[order], shares[order])


def _sums(
    owner: NDArray[np.intp], points: Floats, weights: Floats, count: int
) -> tuple[Floats, Floats]:
    """Weighted sums of the points of each owner, (count, 3), and their total weights."""
    columns = [np.bincount(owner, weights * column, count) for column in (*points.T, 1.0)]
    sums = np.stack(columns, axis=1).astype(np.float64)
    return sums[:, :-1], sums[:, -1]


def _merged(colours: Floats, shares: Floats) -> tuple[Floats, Floats]:
    """Let larger colours take in the smaller ones that look alike."""
    labs = srgb_to_lab(colours)
    kept: list[int] = []
    total = shares.copy()
    for index in range(len(colours)):
        near = delta_e_2000(labs[kept], labs[index]) if kept else np.zeros(0)
        if len(near) and near.min() < _ALIKE:
            total[kept[int(near.argmin())]] += total[index]
        else:
            kept.append(index)
    order = sorted(kept, key=lambda index: -total[index])
    return colours[order], total[order]
