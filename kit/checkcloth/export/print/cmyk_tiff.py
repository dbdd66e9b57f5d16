"""A tile in the inks of a press: one repeat as CMYK TIFF, its ICC profile embedded.

TIFF 6.0, section 16 (CMYK images), deflate as code 8 (Adobe's TIFF technical notes, 2002), the
profile in tag 34675 (ISO 15076-1, annex B.4). Each tone is sent to the press once, as the soft
proof sends it, and laid in the same whole pixels as the PNG of the tile. Rows of one band are
alike, so that a strip of them is packed once; memory is a few strips, however large the tile.
"""

from __future__ import annotations

import struct
import zlib
from collections.abc import Iterator, Sequence
from fractions import Fraction
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from checkcloth.arguments import require_type
from checkcloth.cloth.bands import band_plan, band_spans
from checkcloth.cloth.check import Check
from checkcloth.cloth.colourway import Colourway, fitting
from checkcloth.cloth.length import Length
from checkcloth.colour.spaces import srgb_to_bytes
from checkcloth.errors import ArgumentError
from checkcloth.export.picture.raster import describe, tile_size
from checkcloth.export.print.press import Press
from checkcloth.version import PROGRAM

_INCH = Length("1 in")
_STRIP_BYTES = 1 << 18
_ASCII, _SHORT, _LONG, _RATIONAL, _UNDEFINED = 2, 3, 4, 5, 7
# Stripe of the weft, and how many rows of it.
_Run = tuple[int, int]
# Tag, type, count and bytes of a field.
_Field = tuple[int, int, int, bytes]


def tile_tiff(
    colourway: Colourway, check: Check, press: Press, dpi: Fraction | float = 300
) -> bytes:
    """Return one repeat as CMYK TIFF: ink amounts by the profile, real size, profile embedded.

    Parameters
    ----------
    colourway, check, dpi :
        See :func:`~checkcloth.export.picture.raster.tile_pixels`, whose pixels these are.
    press : Press
        From :func:`~checkcloth.export.print.press.open_press`, of a CMYK profile; its intent
        and black-point compensation are kept. Tones are sent there as sRGB shows them.

    Returns
    -------
    bytes
        8 bits an ink, 255 in full; the same for the same tile and profile.

    Raises
    ------
    ArgumentError
        For a press of RGB, a check with other stripes, a resolution out of range, a tile too
        large.
    """
    require_type(press, "press", Press)
    if press.space != "CMYK":
        raise ArgumentError("press", "one of a CMYK profile", words=f"one of {press.space}")
    (across, down), exact = tile_size(fitting(colourway, check), dpi)
    each = exact * (check.size / _INCH)
    columns = band_plan(check.warp_bands, each)
    runs = [(stripe, end - start) for stripe, start, end in band_spans(check.weft_bands, each)]
    rows = tone_inks(colourway, press).swapaxes(0, 1)[:, columns]
    deep = min(down, max(1, _STRIP_BYTES // (4 * across)))
    strips = [*_strips(rows, runs, deep)]
    text = f"{describe(colourway, check)}; {press}"
    return _written(_fields((across, down), exact, deep, text, press.profile), strips)


def tone_inks(colourway: Colourway, press: Press) -> NDArray[np.uint8]:
    """Return the ink amounts of every tone, shape (W+1, F+1, channels), 255 in full."""
    tones = srgb_to_bytes(colourway.tones)
    return press.inks_of(tones.reshape(-1, 3)).reshape(*tones.shape[:2], -1)


def _strips(rows: NDArray[np.uint8], runs: Sequence[_Run], deep: int) -> Iterator[bytes]:
    """The picture in strips of ``deep`` rows, packed."""

    @lru_cache(maxsize=32)
    def packed(parts: tuple[_Run, ...]) -> bytes:
        return zlib.compress(b"".join(rows[stripe].tobytes() * count for stripe, count in parts), 9)

    waiting: list[_Run] = []
    room = deep
    for stripe, count in runs:
        while count:
            taken = min(count, room)
            if taken:
                waiting.append((stripe, taken))
            count, room = count - taken, room - taken
            if not room:
                yield packed(tuple(waiting))
                waiting, room = [], deep
    if waiting:
        yield packed(tuple(waiting))


def _fields(
    size: tuple[int, int], dpi: Fraction, deep: int, text: str, profile: bytes
) -> list[_Field]:
    """What the picture says of itself, but for where its strips are."""

    def numbers(tag: int, kind: int, *values: int) -> _Field:
        form = {_SHORT: "H", _LONG: "I"}[kind]
        return tag, kind, len(values), struct.pack(f"<{len(values)}{form}", *values)

    def ascii_(tag: int, text: str) -> _Field:
        body = text.encode("ascii", "replace") + b"\0"  # TIFF has no other letters
        return tag, _ASCII, len(body), body

    exact = dpi.limit_denominator(100_000)
    resolution = struct.pack("<II", exact.numerator, exact.denominator)
    return [
        numbers(256, _LONG, size[0]),
        numbers(257, _LONG, size[1]),
        numbers(258, _SHORT, 8, 8, 8, 8),
        numbers(259, _SHORT, 8),  # deflate
        numbers(262, _SHORT, 5),  # separated
        ascii_(270, text),
        numbers(277, _SHORT, 4),
        numbers(278, _LONG, deep),
        (282, _RATIONAL, 1, resolution),
        (283, _RATIONAL, 1, resolution),
        numbers(284, _SHORT, 1),
        numbers(296, _SHORT, 2),  # an inch
        ascii_(305, PROGRAM),
        numbers(332, _SHORT, 1),  # CMYK
        (34675, _UNDEFINED, len(profile), profile),
    ]


def _written(fields: list[_Field], strips: Sequence[bytes]) -> bytes:
    """The file: its head, the table of fields, their longer values, the strips."""
    lengths = [len(strip) for strip in strips]
    count = len(strips)
    # Where strips begin is known once everything before them is laid out; its length is not new.
    table = sorted([*fields, (273, _LONG, count, bytes(4 * count)),
                    (279, _LONG, count, struct.pack(f"<{count}I", *lengths))])  # fmt: skip
    place = 8 + 2 + 12 * len(table) + 4
    places = []
    for *_, body in table:
        places.append(place)
        place += _even(len(body)) if len(body) > 4 else 0
    starts = []
    for length in lengths:
        starts.append(place)
        place += _even(length)
    out = bytearray(struct.pack("<2sHIH", b"II", 42, 8, len(table)))
    values = bytearray()
    for (tag, kind, number, body), at in zip(table, places, strict=True):
        found = struct.pack(f"<{count}I", *starts) if tag == 273 else body
        stands = found.ljust(4, b"\0") if len(found) <= 4 else struct.pack("<I", at)
        out += struct.pack("<HHI", tag, kind, number) + stands
        values += _padded(found) if len(found) > 4 else b""
    out += bytes(4) + values  # no other picture follows
    return bytes(out) + b"".join(map(_padded, strips))


def _even(length: int) -> int:
    return length + length % 2


def _padded(body: bytes) -> bytes:
    """Values begin at even places."""
    return body + b"\0" * (len(body) % 2)
