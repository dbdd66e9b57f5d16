"""A folder written beside its path and moved there whole: the old state or the new, never a mix.

A run that is killed leaves only hidden names beside the path; the next run removes them, and
puts back an old folder that was caught half-way. Where the system can exchange two folders in
one step (Linux), a whole folder stands at the path at every moment; elsewhere it is absent
between two renames.
"""

from __future__ import annotations

import contextlib
import ctypes
import hashlib
import os
import shutil
import sys
import zipfile
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import Future, ThreadPoolExecutor
from pathlib import Path
from typing import BinaryIO, cast

from checkcloth.errors import ExistsError
from checkcloth.files.whole import beside, locked, remove_folder, remove_left_overs, unwritable

# Files that the disk is asked for at once.
_AT_ONCE = 4
# Linux: fcntl.h and linux/fs.h.
_AT_FDCWD, _RENAME_EXCHANGE = -100, 2
# The earliest date that a zip can hold: no clock, so that bytes do not change.
_ZIP_DATE = (1980, 1, 1, 0, 0, 0)


class HashedFile:
    """A binary file being written that knows its length and SHA-256."""

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


def exchange(first: Path, second: Path) -> bool:
    """Let two paths change places in one step, where the system can; say whether it did."""
    if not sys.platform.startswith("linux"):
        return False
    try:
        rename = ctypes.CDLL(None, use_errno=True).renameat2
    except (AttributeError, OSError):
        return False
    return bool(
        rename(_AT_FDCWD, os.fsencode(first), _AT_FDCWD, os.fsencode(second), _RENAME_EXCHANGE) == 0
    )


class Staging:
    """A folder in the making; see :func:`stage`."""

    def __init__(self, path: Path, may_replace: Callable[[Path], None], overwrite: bool) -> None:
        self.path = path  #: where it shall be, absolute
        self._overwrite, self._may_replace = overwrite, may_replace
        self.left_overs = remove_left_overs(path)  #: what killed runs had left, now gone
        self._check_free()
        self.folder = beside(path, "part")  #: where it is being written
        self.folder.mkdir()
        self._disk = ThreadPoolExecutor(_AT_ONCE)
        self._syncing: list[Future[None]] = []

    def _check_free(self) -> None:
        if not os.path.lexists(self.path):
            return
        if not self._overwrite:
            found = f"{self.path.name!r} already there"
            raise ExistsError("folder", "free, or overwrite=True given", words=found)
        if self.path.is_symlink() or not self.path.is_dir():
            raise ExistsError("folder", "a folder", words=f"{self.path.name!r}, which is none")
        self._may_replace(self.path)

    def write(self, file: str, fill: Callable[[BinaryIO], object]) -> HashedFile:
        """Write one file, given by its path inside the folder with ``/`` between parts."""
        path = self.folder.joinpath(*file.split("/"))
        path.parent.mkdir(parents=True, exist_ok=True)
        with path.open("xb") as stream:
            hashed = HashedFile(stream)
            fill(cast(BinaryIO, hashed))
        # The disk is waited for while the next file is drawn.
        self._syncing.append(self._disk.submit(_sync_file, path))
        return hashed

    def close(self) -> None:
        """Wait for the disk, whatever has become of the files."""
        self._disk.shutdown(cancel_futures=True)

    def commit(self) -> None:
        """Move the folder to its path, once all of it is on the disk."""
        for done in self._syncing:
            done.result()
        self._check_free()  # someone may have come while it was written
        try:
            if not self.path.exists():
                self.folder.rename(self.path)
            elif not exchange(self.folder, self.path):
                self._replace_in_two_steps()
        except OSError as error:  # on Windows also where a file inside is open elsewhere
            raise unwritable(self.path.parent, "folder", error) from None
        _sync(self.path.parent)

    def _replace_in_two_steps(self) -> None:
        """Cut between the two, the path is empty, and the next run puts the old folder back."""
        aside = beside(self.path, "old")
        self.path.rename(aside)
        try:
            self.folder.rename(self.path)
        except OSError:
            aside.rename(self.path)
            raise
        remove_folder(aside)


@contextlib.contextmanager
def stage(path: Path, may_replace: Callable[[Path], None], *, overwrite: bool) -> Iterator[Staging]:
    """Open a folder beside ``path`` to write to; it is gone after the block unless committed.

    ``path`` is absolute. A folder that is there is replaced only with ``overwrite``, and where
    ``may_replace``, called with it, does not raise.

    Raises
    ------
    ArgumentError
        If the parent is no folder, or cannot be written to.
    ExistsError
        If something is there and may not be replaced, or another run is writing it.
    """
    with locked(path, "folder"):
        try:
            staging = Staging(path, may_replace, overwrite)
        except OSError as error:
            raise unwritable(path.parent, "folder", error) from None
        try:
            yield staging
        finally:
            staging.close()
            remove_folder(staging.folder)


def _sync_file(path: Path) -> None:
    """Wait until a file is on the disk."""
    with path.open("rb+") as stream:
        os.fsync(stream.fileno())


def _sync(folder: Path) -> None:
    """Make the move itself last through a power cut, where folders can be synced."""
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def pack(stream: BinaryIO, folder: Path, files: Iterable[str], name: str) -> None:
    """Write files of a folder as a zip that unpacks to ``name``; same files, same bytes."""
    with zipfile.ZipFile(stream, "w") as packed:
        for file in files:
            path = folder / file
            info = zipfile.ZipInfo(f"{name}/{file}", _ZIP_DATE)
            info.create_system = 3  # as on any machine, not as on this one
            info.external_attr = 0o644 << 16
            ready = path.suffix == ".png"
            info.compress_type = zipfile.ZIP_STORED if ready else zipfile.ZIP_DEFLATED
            info.file_size = path.stat().st_size
            with path.open("rb") as source, packed.open(info, "w") as target:
                shutil.copyfileobj(source, target, 1 << 20)
