"""Reading and writing files safely: limits on the way in, whole or not at all on the way out."""

from __future__ import annotations

import os
import secrets
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import BinaryIO

from checkcloth.errors import ExistsError, FileFormatError

__all__ = ["read_text", "safe_cell", "unsafe_cell", "write_whole", "writing_whole"]

# A spreadsheet takes a cell that begins so for a formula (OWASP ASVS 5.0, 1.2.10, and CWE-1236);
# line ends and the full-width forms are from memory of OWASP's page on CSV injection.
_FORMULA = ("=", "+", "-", "@", "\t", "\r", "\n", "\0", "＝", "＋", "－", "＠")


def read_text(path: Path, most_bytes: int) -> str:
    """Read a UTF-8 file of at most ``most_bytes``.

    Raises
    ------
    FileFormatError
        For a larger file, one that is no file, or text that is not UTF-8 (with the line).

    Examples
    --------
    >>> from tempfile import TemporaryDirectory
    >>> with TemporaryDirectory() as folder:
    ...     path = write_whole(Path(folder) / "note.txt", b"two metres")
    ...     read_text(path, 1000)
    'two metres'
    """
    if path.exists() and not path.is_file():
        raise FileFormatError(f"{path.name}: must be a file, found something else")
    with path.open("rb") as stream:
        raw = stream.read(most_bytes + 1)
    if len(raw) > most_bytes:
        raise FileFormatError(f"{path.name}: must be at most {most_bytes} bytes, found more")
    try:
        return raw.decode("utf-8")
    except UnicodeDecodeError as error:
        line = raw[: error.start].count(b"\n") + 1
        raise FileFormatError(f"{path.name}, line {line}: must be UTF-8 text") from None


def write_whole(path: Path, data: bytes, *, overwrite: bool = False) -> Path:
    """Write ``data`` beside ``path`` and move it into place, so that it is never half there.

    Raises
    ------
    ExistsError
        If something is there and ``overwrite`` is not set.
    FileNotFoundError, PermissionError
        As the system says, with nothing left behind.

    Examples
    --------
    >>> from tempfile import TemporaryDirectory
    >>> with TemporaryDirectory() as folder:
    ...     write_whole(Path(folder) / "note.txt", b"two metres").name
    'note.txt'
    """
    with writing_whole(path, overwrite=overwrite) as stream:
        stream.write(data)
    return path


@contextmanager
def writing_whole(path: Path, *, overwrite: bool = False) -> Iterator[BinaryIO]:
    """Open a stream beside ``path``; what was written moves into place when the block ends well.

    For files too long to hold: an error or an interrupt inside the block leaves nothing.

    Raises
    ------
    ExistsError
        If something is there and ``overwrite`` is not set, before the block and after it.

    Examples
    --------
    >>> from tempfile import TemporaryDirectory
    >>> with TemporaryDirectory() as folder:
    ...     with writing_whole(Path(folder) / "note.txt") as stream:
    ...         count = stream.write(b"two metres")
    ...     os.listdir(folder)
    ['note.txt']
    """
    if path.is_dir() or (path.exists() and not overwrite):
        raise ExistsError(
            "path", "free, or overwrite=True given", words=f"{path.name!r} already there"
        )
    beside = path.with_name(f".{path.name[:80]}.{secrets.token_hex(4)}.part")
    try:
        with beside.open("xb") as stream:
            yield stream
            stream.flush()
            os.fsync(stream.fileno())
        if overwrite:
            beside.replace(path)
        else:
            _move_to_free(beside, path)
    finally:
        beside.unlink(missing_ok=True)


def _move_to_free(beside: Path, path: Path) -> None:
    """Take ``path`` only if it is free at that moment; a link cannot replace a file."""
    try:
        os.link(beside, path)
    except FileExistsError:
        raise ExistsError(
            "path", "free, or overwrite=True given", words=f"{path.name!r} already there"
        ) from None
    except OSError:  # no hard links on this file system
        beside.replace(path)


def safe_cell(text: str) -> str:
    """Return a CSV cell that no spreadsheet takes for a formula.

    >>> safe_cell("=cmd")
    "'=cmd"
    """
    return f"'{text}" if text.startswith((*_FORMULA, "'")) else text


def unsafe_cell(text: str) -> str:
    """Return what :func:`safe_cell` was given.

    >>> unsafe_cell("'=cmd")
    '=cmd'
    """
    return text[1:] if text.startswith("'") and text[1:].startswith((*_FORMULA, "'")) else text
