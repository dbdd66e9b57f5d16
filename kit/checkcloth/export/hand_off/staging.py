"""A folder written beside its place and moved there whole: the old state or the new, never a mix.

A run that is killed leaves only hidden folders beside the place, named after it; the next
run finds and removes them, and puts back an old folder that was caught half-way.
"""

from __future__ import annotations

import contextlib
import ctypes
import hashlib
import os
import secrets
import shutil
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from types import TracebackType
from typing import BinaryIO, cast

from checkcloth.errors import ArgumentError, ExistsError

__all__ = ["HashedFile", "Staging", "clean_left_overs", "swap", "write_file"]

_AT_CWD, _EXCHANGE = -100, 2


class HashedFile:
    """A binary file being written that knows its length and SHA-256.

    >>> import io
    >>> file = HashedFile(io.BytesIO())
    >>> count = file.write(b"two metres")
    >>> file.size, file.sha256[:8]
    (10, '79dea22f')
    """

    def __init__(self, stream: BinaryIO) -> None:
        self._stream = stream
        self._hash = hashlib.sha256()
        self.size = 0

    def write(self, data: bytes) -> int:
        """Write bytes, as a file does."""
        self._hash.update(data)
        self.size += len(data)
        return self._stream.write(data)

    @property
    def sha256(self) -> str:
        """SHA-256 of what was written so far, in hexadecimal."""
        return self._hash.hexdigest()


def _stem(place: Path) -> str:
    """What the hidden folders beside a place begin with; a hash keeps long names apart."""
    return f".{place.name[:40]}.{hashlib.sha256(place.name.encode()).hexdigest()[:10]}"


def swap(one: Path, two: Path) -> bool:
    """Let two paths change places in one step, where the system can; say whether it did.

    >>> from tempfile import TemporaryDirectory
    >>> with TemporaryDirectory() as parent:
    ...     one, two = Path(parent, "one"), Path(parent, "two")
    ...     for path in (one, two):
    ...         path.mkdir()
    ...     swap(one, two) in (True, False)
    True
    """
    if not sys.platform.startswith("linux"):
        return False
    try:
        exchange = ctypes.CDLL(None, use_errno=True).renameat2
    except (AttributeError, OSError):
        return False
    return bool(exchange(_AT_CWD, os.fsencode(one), _AT_CWD, os.fsencode(two), _EXCHANGE) == 0)


@contextlib.contextmanager
def _alone(place: Path) -> Iterator[None]:
    """Hold the place for one run at a time; the system lets go when a run is killed."""
    path = place.with_name(f"{_stem(place)}.lock")
    try:
        import fcntl
    except ImportError:  # no such locks here: two runs at once are the user's to avoid
        yield
        return
    with path.open("wb") as lock:
        try:
            fcntl.flock(lock, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            raise ExistsError(
                "folder", "free", words=f"another run still writing {place.name!r}"
            ) from None
        except OSError:  # a file system without locks
            pass
        try:
            yield
        finally:
            path.unlink(missing_ok=True)


def clean_left_overs(place: Path) -> list[str]:
    """Remove what killed runs left beside ``place``; return the names of what was found.

    If the place itself is empty and an old folder was set aside, that one is put back.

    >>> from tempfile import TemporaryDirectory
    >>> with TemporaryDirectory() as parent:
    ...     clean_left_overs(Path(parent, "aprons"))
    []
    """
    found = []
    stem = _stem(place)
    for path in sorted(place.parent.iterdir()):
        if not path.name.startswith(stem) or not path.name.endswith((".part", ".old")):
            continue
        found.append(path.name)
        if path.name.endswith(".old") and not place.exists():
            path.rename(place)
        elif path.is_dir():
            shutil.rmtree(path)
        else:
            path.unlink()
    return found


class Staging:
    """A folder in the making; a context manager that moves it into place at the end.

    Parameters
    ----------
    place : Path
        Where it shall be; its parent must be there.
    overwrite : bool
        Whether a folder that is there may be replaced.
    may_replace : callable
        Called with the folder that is there before it is replaced; raises to keep it.

    Raises
    ------
    ArgumentError
        If the parent is missing, is no folder, or cannot be written to.
    ExistsError
        If something is there and may not be replaced, or another run is writing it.

    Examples
    --------
    >>> from tempfile import TemporaryDirectory
    >>> from checkcloth.export.hand_off.items import of_bytes
    >>> with TemporaryDirectory() as parent:
    ...     place = Path(parent, "aprons")
    ...     with Staging(place, overwrite=False, may_replace=print) as staging:
    ...         file = staging.write("note.txt", of_bytes(lambda: "two metres"))
    ...     (place / "note.txt").read_text("utf-8")
    'two metres'
    """

    def __init__(
        self, place: Path, *, overwrite: bool, may_replace: Callable[[Path], None]
    ) -> None:
        self.place = Path(os.path.abspath(place))
        self._overwrite, self._may_replace = overwrite, may_replace
        self._stack = contextlib.ExitStack()
        self.left_overs: list[str] = []

    def __enter__(self) -> Staging:
        parent = self.place.parent
        if not self.place.name or not parent.is_dir():
            raise ArgumentError(
                "folder",
                "in a folder that exists",
                words=f"{str(self.place)!r}, and {str(parent)!r} is no folder",
            )
        try:
            self._stack.enter_context(_alone(self.place))
            self.left_overs = clean_left_overs(self.place)
            self._check_free()
            self.folder = self._beside("part")
            self.folder.mkdir()
        except ExistsError:
            self._stack.close()
            raise
        except OSError as error:
            self._stack.close()
            raise ArgumentError(
                f"folder must lie where files may be written, found {str(parent)!r}: "
                f"{error.strerror}"
            ) from None
        return self

    def _beside(self, ending: str) -> Path:
        return self.place.with_name(f"{_stem(self.place)}.{secrets.token_hex(4)}.{ending}")

    def _check_free(self) -> None:
        if not os.path.lexists(self.place):
            return
        if not self._overwrite:
            raise ExistsError(
                "folder",
                "free, or overwrite=True given",
                words=f"{self.place.name!r} already there",
            )
        if self.place.is_symlink() or not self.place.is_dir():
            raise ExistsError("folder", "a folder", words=f"{self.place.name!r}, which is none")
        self._may_replace(self.place)

    def write(self, file: str, fill: Callable[[BinaryIO], None]) -> HashedFile:
        """Write one file, given by its path inside the folder with ``/`` between parts."""
        path = self.folder.joinpath(*file.split("/"))
        path.parent.mkdir(parents=True, exist_ok=True)
        with path.open("xb") as stream:
            hashed = HashedFile(stream)
            fill(cast(BinaryIO, hashed))
            stream.flush()
            os.fsync(stream.fileno())
        return hashed

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        with self._stack:
            try:
                if kind is None:
                    self._move()
            finally:
                shutil.rmtree(self.folder, ignore_errors=True)

    def _move(self) -> None:
        self._check_free()  # someone may have come while it was written
        if not self.place.exists():
            self.folder.rename(self.place)
        elif not swap(self.folder, self.place):
            # Two steps where one is not to be had. Cut between them, the place is empty,
            # and the next run or reading puts the old folder back.
            aside = self._beside("old")
            self.place.rename(aside)
            self.folder.rename(self.place)
            shutil.rmtree(aside, ignore_errors=True)
        _sync(self.place.parent)


def _sync(folder: Path) -> None:
    """Make the move itself last through a power cut, where folders can be synced."""
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def write_file(path: Path, fill: Callable[[BinaryIO], None], *, overwrite: bool = False) -> Path:
    """Write one file beside its place as it comes, and move it there; return its path.

    Raises
    ------
    ExistsError
        If something is there and ``overwrite`` is not set.
    ArgumentError
        If its folder is missing or cannot be written to.

    Examples
    --------
    >>> from tempfile import TemporaryDirectory
    >>> from checkcloth.export.hand_off.items import of_bytes
    >>> with TemporaryDirectory() as folder:
    ...     write_file(Path(folder, "note.txt"), of_bytes(lambda: "two metres")).name
    'note.txt'
    """
    place = Path(os.path.abspath(path))
    if place.is_dir() or (os.path.lexists(place) and not overwrite):
        raise ExistsError(
            "path", "free, or overwrite=True given", words=f"{place.name!r} already there"
        )
    if not place.parent.is_dir():
        raise ArgumentError(
            "path", "in a folder that exists", words=f"{str(place.parent)!r}, which is none"
        )
    with _alone(place):
        clean_left_overs(place)
        beside = place.with_name(f"{_stem(place)}.{secrets.token_hex(4)}.part")
        try:
            with beside.open("xb") as stream:
                fill(stream)
                stream.flush()
                os.fsync(stream.fileno())
            beside.replace(place)
        finally:
            beside.unlink(missing_ok=True)
    return place
