"""The parts of a PNG file around its pixels: signature, header, colour space, size, texts.

Source: W3C PNG Specification, third edition (chunks; sRGB with its gAMA and cHRM; pHYs).
"""

from __future__ import annotations

import struct
import zlib
from collections.abc import Sequence
from fractions import Fraction

import numpy as np
from numpy.typing import NDArray

__all__ = ["chunk", "head_of"]

_SIGNATURE = b"\x89PNG\r\n\x1a\n"
# sRGB with intent 1 (relative colorimetric), and the gAMA and cHRM that go with it.
_SRGB = b"\x01"
_GAMA = struct.pack(">I", 45455)
_CHRM = struct.pack(">8I", 31270, 32900, 64000, 33000, 30000, 60000, 15000, 6000)


def chunk(kind: bytes, body: bytes) -> bytes:
    """Return one chunk: length, kind, body, checksum.

    >>> chunk(b"IEND", b"")
    b'\\x00\\x00\\x00\\x00IEND\\xaeB`\\x82'
    """
    checksum = zlib.crc32(kind + body)
    return struct.pack(">I", len(body)) + kind + body + struct.pack(">I", checksum)


def _text(keyword: str, text: str) -> bytes:
    return chunk(b"iTXt", keyword.encode("ascii") + b"\0\0\0\0\0" + text.encode("utf-8"))


def head_of(
    size: tuple[int, int],
    depth: int,
    kind: int,
    colours: NDArray[np.uint8] | None,
    dpi: Fraction | float | None,
    texts: Sequence[tuple[str, str]],
) -> bytes:
    """Everything of a PNG that stands before its pixels.

    >>> head_of((2, 1), 8, 2, None, None, [])[1:4]
    b'PNG'
    """
    parts = [
        _SIGNATURE,
        chunk(b"IHDR", struct.pack(">IIBBBBB", *size, depth, kind, 0, 0, 0)),
    ]
    if kind:  # a film (kind 0) is amounts of ink, no colour
        parts += [chunk(b"sRGB", _SRGB), chunk(b"gAMA", _GAMA), chunk(b"cHRM", _CHRM)]
    if colours is not None:
        parts.append(chunk(b"PLTE", colours.tobytes()))
    if dpi is not None:
        metre = int(Fraction(dpi) / Fraction(254, 10000) + Fraction(1, 2))
        parts.append(chunk(b"pHYs", struct.pack(">IIB", metre, metre, 1)))
    parts += [_text(keyword, text) for keyword, text in texts]
    return b"".join(parts)
