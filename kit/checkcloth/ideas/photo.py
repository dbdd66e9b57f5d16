"""A palette from a photograph: opened with care, its colours gathered in Oklab."""

from __future__ import annotations

import io
import re
import warnings
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

__all__ = [
    "MOST_PIXELS",
    "Photo",
    "check_header",
    "check_scans",
    "gather",
    "open_photo",
    "palette_from_photo",
]

# A progressive JPEG has some ten scans; so many times its pixels take a few seconds.
_MOST_SCANNED = 1_000_000_000
# Writers cut a PNG into chunks of 8 KiB and more: 64 MiB come in some 8,000.
_MOST_CHUNKS = 50_000
_MOST_TEXT = 1 << 20
_PPM_HEAD = 4096
_PPM = re.compile(rb"(?:P[14]|P\w+\s+[^\s#]+)\s+[^\s#]+\s+[^\s#]+\s")


def check_header(raw: bytes, name: str) -> None:
    """Refuse a PNG in too many pieces, and a PPM whose header or text would be read for long.

    Raises
    ------
    FileFormatError

    >>> check_header(b"P6 # a comment without an end", "a.ppm")
    Traceback (most recent call last):
    checkcloth.errors.FileFormatError: a.ppm: a PPM's header must end within 4096 bytes
    """
    if raw.startswith(b"\x89PNG\r\n\x1a\n"):
        place, chunks = 8, 0
        while place < len(raw) and chunks <= _MOST_CHUNKS:
            place += 12 + int.from_bytes(raw[place : place + 4], "big")
            chunks += 1
        if chunks > _MOST_CHUNKS:
            raise FileFormatError("a PNG", f"at most {_MOST_CHUNKS} chunks", source=name)
    elif raw[:1] == b"P":
        if not _PPM.match(re.sub(rb"#[^\r\n]*", b"", raw[:_PPM_HEAD])):
            raise FileFormatError(f"{name}: a PPM's header must end within {_PPM_HEAD} bytes")
        if raw[1:2] in b"123" and len(raw) > _MOST_TEXT:
            raise FileFormatError("a PPM in plain text", "at most 1 MiB; save as PNG", source=name)


def check_scans(raw: bytes, pixels: int, name: str) -> None:
    """Refuse a JPEG of far more scans than its pixels can be sent through in seconds.

    Raises
    ------
    FileFormatError

    Examples
    --------
    >>> check_scans(b"\\xff\\xd8" + b"\\xff\\xda" * 5000, 10**6, "halt.jpg")
    Traceback (most recent call last):
        ...
    checkcloth.errors.FileFormatError: halt.jpg: a JPEG must come in fewer scans, found 5000
    """
    # In packed data 0xff is always followed by 0x00, so these two bytes begin a scan
    # (ITU-T T.81, B.1.1.2), of the picture or of a small preview in its head.
    scans = raw.count(b"\xff\xda") if raw.startswith(b"\xff\xd8") else 0
    if scans > 64 and scans * pixels > _MOST_SCANNED:
        raise FileFormatError(f"{name}: a JPEG must come in fewer scans, found {scans}")


# Pixels are first put into boxes of so many steps a channel: 5 bits, 32,768 boxes.
_BITS = 5
_ROUNDS = 60
# Colours nearer than this, CIEDE2000, become one: about where unpractised eyes see a difference.
_ALIKE = 2.0


def _boxes(pixels: NDArray[np.uint8]) -> tuple[Floats, Floats]:
    """Mean Oklab and pixel count of every box that holds a pixel, in a fixed order."""
    keys = (pixels >> (8 - _BITS)).astype(np.int64) @ np.array([1 << 2 * _BITS, 1 << _BITS, 1])
    _, inverse, counts = np.unique(keys, return_inverse=True, return_counts=True)
    labs = srgb_to_oklab(pixels / 255)
    means = np.stack(
        [np.bincount(inverse, weights=labs[:, channel]) / counts for channel in range(3)], axis=1
    )
    return means, counts.astype(np.float64)


def _start(places: Floats, weights: Floats, count: int) -> Floats:
    """First the heaviest, then always the one with the most weight × squared distance."""
    chosen = [int(weights.argmax())]
    nearest = np.full(len(places), np.inf)
    while len(chosen) < min(count, len(places)):
        step = places - places[chosen[-1]]
        nearest = np.minimum(nearest, (step * step).sum(axis=1))
        pull = weights * nearest
        if pull.max() <= 0:
            break
        chosen.append(int(pull.argmax()))
    return places[chosen]


def _nearest(places: Floats, centres: Floats) -> NDArray[np.intp]:
    step = places[:, None, :] - centres[None, :, :]
    return np.asarray((step * step).sum(axis=-1).argmin(axis=1))


def gather(pixels: NDArray[np.uint8], count: int) -> tuple[Floats, Floats]:
    """Return at most ``count`` colours that stand for the pixels, the largest first.

    Parameters
    ----------
    pixels : ndarray of uint8, shape (n, 3)
    count : int

    Returns
    -------
    colours : ndarray, shape (m, 3)
        Encoded sRGB on 8-bit steps.
    shares : ndarray, shape (m,)
        Of the pixels; they add up to 1.

    Notes
    -----
    k-means on box means in Oklab. A box weighs the square root of its pixels, so that a
    small accent is not drowned by a large sky; shares are of pixels.

    Examples
    --------
    >>> pixels = np.repeat([[[0, 0, 128]], [[255, 255, 255]]], [3, 1], axis=0).reshape(-1, 3)
    >>> colours, shares = gather(pixels.astype(np.uint8), 6)
    >>> shares.tolist()
    [0.75, 0.25]
    """
    places, counts = _boxes(pixels)
    weights = np.sqrt(counts)
    centres = _start(places, weights, count)
    owner = _nearest(places, centres)
    for _ in range(_ROUNDS):
        total = np.bincount(owner, weights=weights, minlength=len(centres))
        sums = np.stack(
            [np.bincount(owner, weights=weights * places[:, c], minlength=len(centres))
             for c in range(3)], axis=1
        )  # fmt: skip
        alive = total > 0
        centres = sums[alive] / total[alive, None]
        again = _nearest(places, centres)
        if alive.all() and np.array_equal(again, owner):
            break
        owner = again
    shares = np.bincount(owner, weights=counts, minlength=len(centres)) / counts.sum()
    # A colour's mean over all its pixels is what the eye takes it for.
    means = np.stack(
        [np.bincount(owner, weights=counts * places[:, c], minlength=len(centres))
         for c in range(3)], axis=1
    )  # fmt: skip
    held = shares > 0
    means, shares = means[held] / (shares[held] * counts.sum())[:, None], shares[held]
    colours = np.round(np.clip(oklab_to_srgb(means), 0, 1) * 255) / 255
    order = np.argsort(-shares, kind="stable")
    return _merged(colours[order], shares[order])


def _merged(colours: Floats, shares: Floats) -> tuple[Floats, Floats]:
    """Let larger colours take in the smaller ones that look alike."""
    labs = srgb_to_lab(colours)
    kept: list[int] = []
    total = shares.copy()
    for place in range(len(colours)):
        near = delta_e_2000(labs[kept], labs[place]) if kept else np.zeros(0)
        if len(near) and near.min() < _ALIKE:
            total[kept[int(near.argmin())]] += total[place]
        else:
            kept.append(place)
    order = sorted(kept, key=lambda place: -total[place])
    return colours[order], total[order]


MOST_PIXELS = 50_000_000
_MOST_BYTES = 64 << 20
# Formats that hold pixels and nothing that runs; not those that call other programs.
_FORMATS = ("PNG", "JPEG", "WEBP", "TIFF", "GIF", "BMP", "PPM", "AVIF")
_WITH_ALPHA = ("RGBA", "RGBa", "LA", "La", "PA")
# The longer side that is looked at; more pixels would say the same.
_SIDE = 400
_Source = str | PathLike[str] | bytes | bytearray | memoryview


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

    Examples
    --------
    >>> white = np.full((2, 3, 3), 255, dtype=np.uint8)
    >>> Photo("halt", white, np.ones((2, 3), dtype=bool), (3, 2)).size
    (3, 2)
    """

    name: str
    pixels: NDArray[np.uint8]
    opaque: NDArray[np.bool_]
    size: tuple[int, int]


def _bytes_of(source: _Source) -> tuple[str, bytes]:
    if isinstance(source, bytes | bytearray | memoryview):
        name, raw = "photo", bytes(source[: _MOST_BYTES + 1])
    else:
        path = as_path(source, "source")
        if path.exists() and not path.is_file():
            raise FileFormatError(f"{path.name}: must be a file, found something else")
        with path.open("rb") as stream:
            name, raw = path.name, stream.read(_MOST_BYTES + 1)
    if len(raw) > _MOST_BYTES:
        raise FileFormatError(f"{name}: must be at most {_MOST_BYTES >> 20} MiB, found more")
    return name, raw


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
        raise FileFormatError(
            f"{name}: must have channels of 8 or 16 bits, found mode {image.mode} "
            f"with values {values.min():g} to {values.max():g}"
        )
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
                stacklevel=3,
            )
        else:
            assert converted is not None
            return converted
    return image.convert("RGB")


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
    from PIL import Image, UnidentifiedImageError

    name, raw = _bytes_of(source)
    check_header(raw, name)
    Image.init()
    # Pillow before 11.3 does not know AVIF.
    formats = [kind for kind in _FORMATS if kind in Image.OPEN]
    try:
        with warnings.catch_warnings():
            # Pillow warns of damaged EXIF data and reads on; the picture is what is wanted.
            warnings.filterwarnings("ignore", category=UserWarning, module="PIL")
            warnings.simplefilter("error", Image.DecompressionBombWarning)
            image: Image.Image = Image.open(io.BytesIO(raw), formats=formats)
            # The size stands in the header: nothing has been unpacked yet.
            if image.width * image.height > MOST_PIXELS:
                raise FileFormatError(
                    f"{name}: must have at most {MOST_PIXELS // 10**6} megapixels, "
                    f"found {image.width} × {image.height}"
                )
            check_scans(raw, image.width * image.height, name)
            image.load()
            small = _in_eight_bits(_upright_sample(image), name)
            turned = image.getexif().get(0x0112, 1) in (5, 6, 7, 8)
        profile = image.info.get("icc_profile")
        has_alpha = small.mode in _WITH_ALPHA or "transparency" in small.info
        alpha = np.asarray(small.convert("RGBA").getchannel("A")) if has_alpha else None
        if has_alpha and small.mode not in ("P", "L", "1"):
            small = small.convert("L" if small.mode in ("LA", "La") else "RGB")
        rgb = np.asarray(_in_srgb(small, profile, name))
    except (Image.DecompressionBombError, Image.DecompressionBombWarning):
        raise FileFormatError(
            f"{name}: must have at most {MOST_PIXELS // 10**6} megapixels, found far more"
        ) from None
    except UnidentifiedImageError:
        raise FileFormatError(
            f"{name}: must be a picture ({', '.join(formats)}), found something else"
        ) from None
    except FileFormatError:
        raise
    except Exception as error:  # a dozen decoders, each with errors of its own
        raise FileFormatError(f"{name}: is broken and cannot be opened: {error}") from None
    opaque = np.ones(rgb.shape[:2], dtype=bool) if alpha is None else alpha >= 128
    width, height = image.size[::-1] if turned else image.size
    return Photo(name, np.array(rgb, dtype=np.uint8), opaque, (width, height))


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
        raise FileFormatError(f"{photo.name}: must show something, found it all transparent")
    found, shares = gather(seen, count)
    colours_found = _tuples(found)
    rows = zip(css_names_for(colours_found), colours_found, shares, strict=True)
    named = [
        NamedColour(label, rgb, note=f"{share:.1%} of {photo.name}"[:2000])
        for label, rgb, share in rows
    ]
    return Palette(name or Path(photo.name).stem, named)


def _tuples(colours: Floats) -> list[tuple[float, float, float]]:
    return [(float(red), float(green), float(blue)) for red, green, blue in colours]
