"""PNG pictures of bands, packed row by row: the one picture format of the whole kit.

A woven or printed check has few tones and long runs of equal rows. A tile is written as
palette colours with the PNG filter "up", under which a row equal to the one above is one
filter byte and zeros. A picture of up to 2 MB of rows is packed whole; of a larger one a
stretch of such rows packs to the same bytes every time, so it is packed once and copied, an
order faster than packing it over and over, and memory is one row, however long the cloth.

How small that can be: deflate copies at most 258 bytes with two bits, and only from 1 to 4
bytes before without more bits; the filter byte of each row takes a copy from a row before, with
9 to 13 more bits, or literals, which cost more. For 3600 rows of 3600 indices that makes at
least 17,000 bytes, whatever packs them.

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
        parts += [chunk(b"sRGB", _SRGB), chunk(b"gAMA", _GAMA)]
    # What knows sRGB passes over both of these; a small tile is not made larger by the second.
    parts.append(chunk(b"PLTE", colours.tobytes()) if colours is not None
                 else chunk(b"cHRM", _CHRM) if kind else b"")  # fmt: skip
    if dpi is not None:
        metre = int(Fraction(dpi) / Fraction(254, 10000) + Fraction(1, 2))
        parts.append(chunk(b"pHYs", struct.pack(">IIB", metre, metre, 1)))
    parts += [_text(keyword, text) for keyword, text in texts]
    return b"".join(parts)


_MODULUS = 65521
_HEADS = {6: b"\x78\x9c", 9: b"\x78\xda"}  # RFC 1950: deflate, 32 KiB window, level

# Rows up to so many bytes are remembered from one picture to the next: tiles of a set have the
# same few stretches, and bands of several widths ask for several.
_SMALL_UNIT = 1 << 13


def _packed_bytes(data: bytes, level: int) -> bytes:
    packer = zlib.compressobj(level, zlib.DEFLATED, -15, 9)
    return packer.compress(data) + packer.flush(zlib.Z_FULL_FLUSH)


def _packed_stretch(unit: bytes, number: int, level: int) -> tuple[bytes, int]:
    stretch = unit * number
    return _packed_bytes(stretch, level), zlib.adler32(stretch)


_remembered_stretch = lru_cache(maxsize=256)(_packed_stretch)


class Deflate:
    """A zlib stream that knows what repeats; every call returns bytes to write.

    Parameters
    ----------
    level : int
        6, or 9, whose search finds the matches a row apart among rows that are a filter byte
        and zeros: smaller, and slower on what is no such rows.
    stretch : int
        Bytes of a repeated stretch that are packed at once.
    least : int
        A repeat of fewer bytes is packed with what stands around it: cut out, it would cost more.

    >>> packer = Deflate()
    >>> stream = packer.start() + packer.data(b"ab") + packer.repeat(b"cd", 3) + packer.end()
    >>> zlib.decompress(stream)
    b'abcdcdcd'
    """

    def __init__(self, level: int = 9, stretch: int = 1 << 20, least: int = 1 << 16) -> None:
        self._level, self._stretch, self._least = level, stretch, least
        self._sum = 1
        self._waiting = bytearray()

    def start(self) -> bytes:
        """Return the head of the stream."""
        return _HEADS[self._level]

    def _add(self, adler: int, length: int) -> None:
        """Take in the Adler-32 of the next ``length`` bytes."""
        low, high = self._sum & 0xFFFF, self._sum >> 16
        one, two = adler & 0xFFFF, adler >> 16
        self._sum = (low + one - 1) % _MODULUS
        self._sum |= (high + two + length * (low - 1)) % _MODULUS << 16

    def _flush(self) -> bytes:
        """Return what waits, packed as one piece."""
        if not self._waiting:
            return b""
        data = bytes(self._waiting)
        self._waiting.clear()
        self._add(zlib.adler32(data), len(data))
        return _packed_bytes(data, self._level)

    def data(self, data: bytes) -> bytes:
        """Take in ``data``; it may wait for what comes after it."""
        self._waiting += data
        return self._flush() if len(self._waiting) > self._stretch or not self._least else b""

    def repeat(self, unit: bytes, count: int) -> bytes:
        """Take in ``unit``, ``count`` times over."""
        if len(unit) * count < self._least:
            return self.data(unit * count)
        out = [self._flush()]
        packed_stretch = _remembered_stretch if len(unit) <= _SMALL_UNIT else _packed_stretch
        most = max(1, self._stretch // len(unit))
        whole, left = divmod(count, most)
        for number, times in ((most, whole), (left, 1 if left else 0)):
            if times:
                packed, adler = packed_stretch(unit, number, self._level)
                out.append(packed * times)
                for _ in range(times):
                    self._add(adler, number * len(unit))
        return b"".join(out)

    def end(self) -> bytes:
        """Return what waits, and the end: an empty last block, and the checksum."""
        return self._flush() + b"\x03\x00" + self._sum.to_bytes(4, "big")


# Rows of pixels from the top, and how often each is repeated.
Strip = tuple[NDArray[np.uint8], "int | NDArray[np.integer]"]

# Bytes gathered into one IDAT chunk.
_BATCH = 1 << 16
# Up to so many bytes of rows a picture is packed whole; up to so many in the better of two ways.
_SMALL_PICTURE, _TRIED_TWICE = 1 << 21, 1 << 18


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


def _packed(row: NDArray[np.intp], depth: int) -> NDArray[np.uint8]:
    """Indices of one row packed ``depth`` bits a pixel, the first pixel in the high bits."""
    if depth == 8:
        return row.astype(np.uint8)
    each = 8 // depth
    padded = np.zeros(-(-len(row) // each) * each, dtype=np.uint8)
    padded[: len(row)] = row
    shifts = np.arange(each - 1, -1, -1, dtype=np.uint8) * depth
    packed: NDArray[np.uint8] = (padded.reshape(-1, each) << shifts).sum(axis=1).astype(np.uint8)
    return packed


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

    row_bytes: dict[int, NDArray[np.uint8]] = {}

    def row(number: int) -> NDArray[np.uint8]:
        if number not in row_bytes:
            if indexed is None:
                row_bytes[number] = cells[number][columns].reshape(-1)
            else:
                row_bytes[number] = _packed(indexed[1][number][columns], depth)
        return row_bytes[number]

    lines = ((row(number), pixels) for number, pixels in runs)
    if height * (1 + len(row(0))) <= _SMALL_PICTURE:
        written = _write_small(stream, lines)
    else:
        written = _write_runs(stream, lines)
    stream.write(chunk(b"IEND", b""))
    if written != height:
        raise ValueError(f"runs must add up to height {height}, found {written}")


# A row of packed pixels, and how many pixel rows it lasts.
_Run = tuple[NDArray[np.uint8], int]


def _write_small(stream: BinaryIO, runs: Iterable[_Run]) -> int:
    """Write all rows packed as one piece; return how many."""
    several = tuple((line.tobytes(), pixels) for line, pixels in runs)
    stream.write(chunk(b"IDAT", _packed_whole(several)))
    return sum(pixels for _, pixels in several)


# Tiles of a set have the same bands, and so the same indices: only their palettes differ.
@lru_cache(maxsize=64)
def _packed_whole(runs: tuple[tuple[bytes, int], ...]) -> bytes:
    """Pack rows as differences from those above, or of a small picture as they are."""
    up = bytearray()
    above = bytes(len(runs[0][0]))
    for line, pixels in runs:
        new = np.frombuffer(line, np.uint8) - np.frombuffer(above, np.uint8)
        up += b"\2" + new.tobytes() + (b"\2" + bytes(len(line))) * (pixels - 1)
        above = line
    packed = _zlib(up)
    if len(up) > _TRIED_TWICE:
        return packed
    plain = b"".join((b"\0" + line) * pixels for line, pixels in runs)
    return min(packed, _zlib(plain), key=len)


def _zlib(data: bytes | bytearray) -> bytes:
    packer = zlib.compressobj(9, zlib.DEFLATED, 15, 9)
    return packer.compress(data) + packer.flush()


def _write_runs(stream: BinaryIO, runs: Iterable[_Run]) -> int:
    """Write rows as differences from those above, packed as they come; return how many."""
    packer = Deflate()
    out = [packer.start()]
    size = written = 0
    above: NDArray[np.uint8] | None = None
    for line, pixels in runs:
        # Filter 2: the difference from the row above, which is nothing while a run lasts.
        new = line if above is None else line - above
        out.append(packer.data(b"\2" + new.tobytes()))
        out.append(packer.repeat(b"\2" + bytes(len(line)), pixels - 1))
        above = line
        written += pixels
        size += len(out[-1]) + len(line) // 8
        if size > _BATCH:
            stream.write(chunk(b"IDAT", b"".join(out)))
            out.clear()
            size = 0
    out.append(packer.end())
    stream.write(chunk(b"IDAT", b"".join(out)))
    return written


def bands_png(
    cells: NDArray[np.uint8],
    columns: NDArray[np.integer],
    rows: NDArray[np.integer],
    *,
    dpi: Fraction | float | None = None,
    texts: Sequence[tuple[str, str]] = (),
) -> bytes:
    """Return the PNG whose pixel at (y, x) is ``cells[rows[y], columns[x]]``, as bytes."""
    # Colours that no pixel has are left out.
    shown = [np.unique(side, return_inverse=True) for side in (rows, columns)]
    cells = cells[np.ix_(shown[0][0], shown[1][0])]
    rows, columns = (side[1].reshape(-1) for side in shown)
    starts = np.flatnonzero(np.concatenate([[True], rows[1:] != rows[:-1]]))
    lengths = np.diff(np.append(starts, len(rows)))
    stream = io.BytesIO()
    runs = zip(rows[starts].tolist(), lengths.tolist(), strict=True)
    write_bands_png(stream, cells, columns, runs, len(rows), dpi=dpi, texts=texts)
    return stream.getvalue()


def _packed_strips(strips: Iterable[Strip]) -> Iterator[bytes]:
    """Pack strips of rows of raw bytes, each row with how often it repeats, as they come."""
    packer = Deflate(6, 1 << 18, 0)  # lettering and many tones: level 9 is slow there
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


def _height(rows: NDArray[np.uint8], counts: int | NDArray[np.integer]) -> int:
    return int(np.broadcast_to(counts, len(rows)).sum())


def rows_png(
    rows: NDArray[np.uint8],
    counts: int | NDArray[np.integer] = 1,
    *,
    dpi: Fraction | float | None = None,
    texts: Sequence[tuple[str, str]] = (),
) -> bytes:
    """Return any picture in full colour, given by its rows and how often each repeats.

    Parameters
    ----------
    rows : uint8 array, shape (R, W, 3)
    counts : int, or int array of shape (R,)
        How many pixel rows each lasts.
    dpi, texts :
        See :func:`write_bands_png`.
    """
    size = rows.shape[1], _height(rows, counts)
    return strips_png([(rows, counts)], size, dpi=dpi, texts=texts)


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
            height += _height(rows, counts)
            yield rows.reshape(len(rows), -1), counts

    png = _strips_png(lines(), head_of(size, 8, 2, None, dpi, texts))
    if height != size[1]:
        raise ValueError(f"strips must add up to height {size[1]}, found {height}")
    return png


def grey_png(
    rows: NDArray[np.uint8],
    counts: int | NDArray[np.integer] = 1,
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
    return _strips_png([(lines, counts)], head_of(size, bits, 0, None, dpi, texts))
