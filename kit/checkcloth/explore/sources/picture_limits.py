"""Pictures that are small on disk and endless to decode, refused by a glance at their bytes.

Decoders bound what a picture unpacks to, but not how often they are sent round: a JPEG may
come in thousands of scans, each over every pixel; a PNG in millions of chunks; a PPM with a
header of any length, or with its pixels spelt out as text.
"""

from __future__ import annotations

import re

from checkcloth.errors import FileFormatError

__all__ = ["check_header", "check_scans"]

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
            raise FileFormatError(f"{name}: a PNG must have at most {_MOST_CHUNKS} chunks")
    elif raw[:1] == b"P":
        if not _PPM.match(re.sub(rb"#[^\r\n]*", b"", raw[:_PPM_HEAD])):
            raise FileFormatError(f"{name}: a PPM's header must end within {_PPM_HEAD} bytes")
        if raw[1:2] in b"123" and len(raw) > _MOST_TEXT:
            raise FileFormatError(f"{name}: a PPM in plain text must be at most 1 MiB; save as PNG")


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
