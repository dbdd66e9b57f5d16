"""A zlib stream that knows what repeats: equal stretches are packed once and copied.

A picture of bands is mostly rows equal to the row above. Under PNG's filter "up" such a
row is one filter byte and zeros, so a stretch of them packs to the same bytes every time.
Packing it once and copying those bytes is an order faster than packing it over and over,
and lets a cloth of any length stream past. It rests on two published facts: after a full
flush a deflate stream refers to nothing before (RFC 1951, section 3.2), and the Adler-32
of two stretches follows from those of each (RFC 1950, section 8).
"""

from __future__ import annotations

import zlib

__all__ = ["Deflate"]

_MODULUS = 65521
# Bytes of one repeated stretch that is packed at once.
_STRETCH = 1 << 18
_HEAD = b"\x78\x9c"  # RFC 1950: deflate, 32 KiB window, default level


class Deflate:
    """Builds a zlib stream (RFC 1950) piece by piece; every call returns bytes to write.

    Parameters
    ----------
    strategy : int
        As for :func:`zlib.compressobj`.

    Examples
    --------
    >>> packer = Deflate()
    >>> stream = packer.start() + packer.data(b"ab") + packer.repeat(b"cd", 3) + packer.end()
    >>> zlib.decompress(stream)
    b'abcdcdcd'
    """

    def __init__(self, strategy: int = zlib.Z_DEFAULT_STRATEGY) -> None:
        self._strategy = strategy
        self._sum = 1
        self._stretches: dict[tuple[bytes, int], tuple[bytes, int]] = {}

    def start(self) -> bytes:
        """Return the head of the stream."""
        return _HEAD

    def _packed(self, data: bytes) -> bytes:
        packer = zlib.compressobj(6, zlib.DEFLATED, -15, 9, self._strategy)
        return packer.compress(data) + packer.flush(zlib.Z_FULL_FLUSH)

    def _add(self, adler: int, length: int) -> None:
        """Take in the Adler-32 of the next ``length`` bytes."""
        low, high = self._sum & 0xFFFF, self._sum >> 16
        one, two = adler & 0xFFFF, adler >> 16
        self._sum = (low + one - 1) % _MODULUS
        self._sum |= (high + two + length * (low - 1)) % _MODULUS << 16

    def data(self, data: bytes) -> bytes:
        """Return ``data`` packed."""
        self._add(zlib.adler32(data), len(data))
        return self._packed(data)

    def repeat(self, unit: bytes, count: int) -> bytes:
        """Return ``unit`` packed ``count`` times over."""
        most = max(1, _STRETCH // max(1, len(unit)))
        out = []
        while count > 0:
            number = min(most, count)
            key = unit, number
            if key not in self._stretches:
                stretch = unit * number
                if len(self._stretches) > 64:
                    self._stretches.clear()
                self._stretches[key] = self._packed(stretch), zlib.adler32(stretch)
            packed, adler = self._stretches[key]
            out.append(packed)
            self._add(adler, number * len(unit))
            count -= number
        return b"".join(out)

    def end(self) -> bytes:
        """Return the end of the stream: an empty last block, and the checksum."""
        return b"\x03\x00" + self._sum.to_bytes(4, "big")
