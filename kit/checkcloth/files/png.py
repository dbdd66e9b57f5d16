"""PNG pictures of bands, packed row by row: the one picture format of the whole kit.

A woven or printed check has few tones and long runs of equal rows. A tile is written as
palette colours with the PNG filter "up", under which a row equal to the one above is one
filter byte and zeros; and a stretch of such rows packs to the same bytes every time, so it is
packed once and copied, an order faster than packing it over and over. Memory is one row,
however long the cloth.

That rests on two published facts: after a full flush a deflate stream refers to nothing before
(RFC 1951, section 3.2), and the Adler-32 of two stretches follows from those of each (RFC 1950,
section 8). Chunks, filters and bit depths: W3C PNG Specification, third edition.
"""

from __future__ import annotations

import io
import struct
import zlib
from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction
from functools import lru_cache
from typing import BinaryIO

import numpy as np
from numpy.typing import NDArray

_SIGNATURE = b"\x89PNG\r\n\x1a\n"
# sRGB with intent 1 (relative colorimetric), and the gAMA and cHRM that go with it.
_SRGB = b"\x01"
_GAMA = struct.pack(">I", 45455)
_CHRM = struct.pack(">8I", 31270, 32900, 64000, 33000, 30000, 60000, 15000, 6000)


def chunk(kind: bytes, body: bytes) -> bytes:
    """Return one chunk: length, kind, body, checksum."""
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
    """Everything of a PNG that stands before its pixels."""
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


_MODULUS = 65521
# Bytes of one repeated stretch that is packed at once.
_STRETCH = 1 << 18
_HEAD = b"\x78\x9c"  # RFC 1950: deflate, 32 KiB window, default level


# Rows up to so many bytes are remembered from one picture to the next: tiles of a set have the
# same few stretches, and bands of several widths ask for several.
_SMALL_UNIT = 1 << 13


def _packed_bytes(data: bytes, strategy: int) -> bytes:
    packer = zlib.compressobj(6, zlib.DEFLATED, -15, 9, strategy)
    return packer.compress(data) + packer.flush(zlib.Z_FULL_FLUSH)


@lru_cache(maxsize=256)
def _packed_stretch(unit: bytes, number: int, strategy: int) -> tuple[bytes, int]:
    stretch = unit * number
    return _packed_bytes(stretch, strategy), zlib.adler32(stretch)


class Deflate:
    """A zlib stream that knows what repeats; every call returns bytes to write.

    ``strategy`` is that of :func:`zlib.compressobj`.

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
        return _packed_bytes(data, self._strategy)

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
            if len(unit) <= _SMALL_UNIT:
                packed, adler = _packed_stretch(unit, number, self._strategy)
                out.append(packed)
                self._add(adler, number * len(unit))
                count -= number
                continue
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


# Rows of pixels from the top, and how often each is repeated.
Strip = tuple[NDArray[np.uint8], "int | NDArray[np.integer]"]

# Nearly all is runs by then: matching runs only is as small as a full search, and quicker.
# Deflate cannot go below 1/1032 of the raw size, which is what is left.
_STRATEGY = zlib.Z_RLE
# Bytes gathered into one IDAT chunk.
_BATCH = 1 << 16


def _palette(cells: NDArray[np.uint8]) -> tuple[NDArray[np.uint8], NDArray[np.intp]] | None:
    """Distinct colours in order of first use, and the cells as indices; None above 256."""
    flat = cells.reshape(-1, 3)
    colours, first, inverse = np.unique(flat, axis=0, return_index=True, return_inverse=True)
    if len(colours) > 256:
        return None
    order = np.argsort(first)
    index = np.empty_like(order)
    index[order] = np.arange(len(order))
    return colours[order], index[inverse.reshape(-1)].reshape(cells.shape[:-1])


def _packed(row: NDArray[np.intp], depth: int) -> bytes:
    """Indices of one row packed ``depth`` bits a pixel, the first pixel in the high bits."""
    if depth == 8:
        return row.astype(np.uint8).tobytes()
    each = 8 // depth
    padded = np.zeros(-(-len(row) // each) * each, dtype=np.uint8)
    padded[: len(row)] = row
    shifts = np.arange(each - 1, -1, -1, dtype=np.uint8) * depth
    packed: NDArray[np.uint8] = (padded.reshape(-1, each) << shifts).sum(axis=1).astype(np.uint8)
    return packed.tobytes()


def write_bands_png(
    stream: BinaryIO,
    cells: NDArray[np.uint8],
    columns: NDArray[np.integer],
    runs: Iterable[tuple[int, int]],
    height: int,
    *,
    dpi: Fraction | float | None = None,
    texts: Sequence[tuple[str, str]] = (),
) -> None:
    """Write the picture whose pixel at (y, x) is ``cells[row of y, columns[x]]``.

    Parameters
    ----------
    stream : binary file
    cells : uint8 array, shape (rows, cols, 3)
        The colour of every crossing of a row kind and a column kind.
    columns : int array, shape (width,)
        Column kind at every pixel across.
    runs : iterable of (row kind, pixels)
        Row kinds from the top, each with how many pixel rows it lasts; together ``height``.
    height : int
        Pixel rows in all; PNG states it before the rows.
    dpi : number, optional
        Dots per inch, recorded as pixels per metre (pHYs), to the nearest whole one.
    texts : sequence of (keyword, text)
        Written as iTXt; keywords as PNG defines them (Title, Description, Software …).

    Examples
    --------
    >>> import io
    >>> out = io.BytesIO()
    >>> cells = np.array([[[0, 0, 128], [255, 255, 255]]], dtype=np.uint8)
    >>> write_bands_png(out, cells, np.array([0, 0, 1]), [(0, 2)], height=2)
    >>> out.getvalue()[1:4]
    b'PNG'
    """
    indexed = _palette(cells)
    if indexed is None:
        depth, kind, colours = 8, 2, None
    else:
        colours = indexed[0]
        count = len(colours)
        depth = 1 if count <= 2 else 2 if count <= 4 else 4 if count <= 16 else 8
        kind = 3
    stream.write(head_of((len(columns), height), depth, kind, colours, dpi, texts))

    row_bytes: dict[int, bytes] = {}

    def row(number: int) -> bytes:
        if number not in row_bytes:
            if indexed is None:
                row_bytes[number] = cells[number][columns].tobytes()
            else:
                row_bytes[number] = _packed(indexed[1][number][columns], depth)
        return row_bytes[number]

    packer = Deflate(_STRATEGY)
    out = [packer.start()]
    size = written = 0
    last: int | None = None
    for number, pixels in runs:
        line = row(number)
        if number != last:
            out.append(packer.data(b"\0" + line))  # filter 0: as it is
        # Filter 2: the difference from the row above, which is nothing.
        same = b"\2" + bytes(len(line))
        out.append(packer.repeat(same, pixels - (number != last)))
        last = number
        written += pixels
        size += len(out[-1]) + len(line) // 8
        if size > _BATCH:
            stream.write(chunk(b"IDAT", b"".join(out)))
            out.clear()
            size = 0
    out.append(packer.end())
    stream.write(chunk(b"IDAT", b"".join(out)))
    stream.write(chunk(b"IEND", b""))
    if written != height:
        raise ValueError(f"runs must add up to height {height}, found {written}")


def bands_png(
    cells: NDArray[np.uint8],
    columns: NDArray[np.integer],
    rows: NDArray[np.integer],
    *,
    dpi: Fraction | float | None = None,
    texts: Sequence[tuple[str, str]] = (),
) -> bytes:
    """Return the PNG whose pixel at (y, x) is ``cells[rows[y], columns[x]]``, as bytes."""
    rows = np.asarray(rows)
    starts = np.flatnonzero(np.concatenate([[True], rows[1:] != rows[:-1]]))
    lengths = np.diff(np.append(starts, len(rows)))
    stream = io.BytesIO()
    runs = zip(rows[starts].tolist(), lengths.tolist(), strict=True)
    write_bands_png(stream, cells, columns, runs, len(rows), dpi=dpi, texts=texts)
    return stream.getvalue()


def _packed_strips(strips: Iterable[Strip]) -> Iterator[bytes]:
    """Pack strips of rows of raw bytes, each row with how often it repeats, as they come."""
    packer = Deflate()
    yield packer.start()
    above: NDArray[np.uint8] | None = None
    for lines, counts in strips:
        number, length = lines.shape
        times = np.broadcast_to(np.asarray(counts, dtype=np.intp), number)
        packed = np.empty((number, 1 + length), dtype=np.uint8)
        packed[:, 0] = 2
        if above is None:
            packed[0, 0], packed[0, 1:] = 0, lines[0]
        else:
            np.subtract(lines[0], above, out=packed[0, 1:])
        np.subtract(lines[1:], lines[:-1], out=packed[1:, 1:])  # wraps, as PNG filters do
        above = lines[-1].copy()
        same = b"\2" + bytes(length)
        start = 0
        for row in [*np.flatnonzero(times > 1).tolist(), number - 1]:
            if row >= start:
                yield packer.data(packed[start : row + 1].tobytes())
                yield packer.repeat(same, int(times[row]) - 1)
                start = row + 1
    yield packer.end()


def _strips_png(strips: Iterable[Strip], head: bytes) -> bytes:
    """A PNG of strips of rows of raw bytes, after its head."""
    packed = b"".join(_packed_strips(strips))
    return head + chunk(b"IDAT", packed) + chunk(b"IEND", b"")


def _height(rows: NDArray[np.uint8], counts: NDArray[np.integer] | None) -> int:
    return len(rows) if counts is None else int(counts.sum())


def rows_png(
    rows: NDArray[np.uint8],
    counts: NDArray[np.integer] | None = None,
    *,
    dpi: Fraction | float | None = None,
    texts: Sequence[tuple[str, str]] = (),
) -> bytes:
    """Return any picture in full colour, given by its rows and how often each repeats.

    Parameters
    ----------
    rows : uint8 array, shape (R, W, 3)
    counts : int array, shape (R,), optional
        How many pixel rows each lasts; once where left out.
    dpi, texts :
        See :func:`write_bands_png`.
    """
    size = rows.shape[1], _height(rows, counts)
    return strips_png([(rows, 1 if counts is None else counts)], size, dpi=dpi, texts=texts)


def strips_png(
    strips: Iterable[Strip],
    size: tuple[int, int],
    *,
    dpi: Fraction | float | None = None,
    texts: Sequence[tuple[str, str]] = (),
) -> bytes:
    """Return a picture in full colour from strips of rows, each packed as it comes.

    A long sheet drawn strip by strip never stands in memory whole.

    Parameters
    ----------
    strips : iterable of (uint8 array of shape (R, W, 3), int or int array of shape (R,))
        Rows, and how often each repeats.
    size : (int, int)
        Width and height in pixels; PNG states them before the rows.
    dpi, texts :
        See :func:`write_bands_png`.
    """
    height = 0

    def lines() -> Iterator[Strip]:
        nonlocal height
        for rows, counts in strips:
            height += int(np.broadcast_to(counts, len(rows)).sum())
            yield rows.reshape(len(rows), -1), counts

    png = _strips_png(lines(), head_of(size, 8, 2, None, dpi, texts))
    if height != size[1]:
        raise ValueError(f"strips must add up to height {size[1]}, found {height}")
    return png


def grey_png(
    rows: NDArray[np.uint8],
    counts: NDArray[np.integer] | None = None,
    *,
    bits: int = 8,
    dpi: Fraction | float | None = None,
    texts: Sequence[tuple[str, str]] = (),
) -> bytes:
    """Return a picture in greys, 0 black to 255 white, at 8 bits or 1 bit a pixel.

    As :func:`rows_png`, with rows of shape (R, W). It says nothing of colour: it is a film.
    """
    lines = np.packbits(rows >= 128, axis=1) if bits == 1 else rows
    size = rows.shape[1], _height(rows, counts)
    head = head_of(size, bits, 0, None, dpi, texts)
    return _strips_png([(lines, 1 if counts is None else counts)], head)
