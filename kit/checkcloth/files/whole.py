"""Reading and writing files safely: limits on the way in, whole or not at all on the way out.

What is being written lies hidden beside its path, named after it, and moves into place when
it is complete. One writer at a time holds a path, by a lock that the system takes back from a
process that dies; the next writer removes what a killed one left.
"""

from __future__ import annotations

import contextlib
import hashlib
import os
import secrets
import shutil
import stat
import time
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import BinaryIO

from checkcloth.errors import ArgumentError, ExistsError, FileFormatError

try:
    import fcntl

    _HAS_LOCKS = True
except ImportError:  # Windows: see _locked_by_library
    _HAS_LOCKS = False

# Seconds that a writer waits for another of the same file, and of the same folder: files
# take milliseconds, folders may take minutes.
_FILE_WAIT, _FOLDER_WAIT = 10.0, 0.2
_MOST_OF_ONE_NAME = 1000
_WRITABLE = stat.S_IWUSR | stat.S_IWGRP | stat.S_IWOTH
_REPLACED = "a file that may be written over"


def read_bytes(path: Path, most_bytes: int) -> bytes:
    """Read a file of at most ``most_bytes``.

    Raises
    ------
    FileFormatError
        For a larger file, or one that is no file.
    """
    if path.exists() and not path.is_file():
        raise FileFormatError("file", "a file", words="something else", source=path.name)
    with path.open("rb") as stream:
        raw = stream.read(most_bytes + 1)
    if len(raw) > most_bytes:
        raise FileFormatError("file", f"at most {most_bytes} bytes", words="more", source=path.name)
    return raw


def read_text(path: Path, most_bytes: int) -> str:
    """Read a UTF-8 file of at most ``most_bytes``.

    Raises
    ------
    FileFormatError
        As :func:`read_bytes`, and for text that is not UTF-8 (with the line).
    """
    raw = read_bytes(path, most_bytes)
    try:
        return raw.decode("utf-8")
    except UnicodeDecodeError as error:
        line = raw[: error.start].count(b"\n") + 1
        found = raw[error.start : error.end]
        raise FileFormatError("file", "UTF-8 text", found, source=path.name, line=line) from None


def write_whole(
    path: Path, data: bytes | Callable[[BinaryIO], object], *, overwrite: bool = False
) -> Path:
    """Write bytes, or what a function writes to a stream, whole or not at all; return the path.

    Raises
    ------
    ArgumentError, ExistsError
        See :func:`writing_whole`.
    """
    with writing_whole(path, overwrite=overwrite) as stream:
        if isinstance(data, bytes):
            stream.write(data)
        else:
            data(stream)
    return path


def write_several(
    files: Sequence[tuple[Path, bytes]], *, overwrite: bool = False, argument: str = "path"
) -> tuple[Path, ...]:
    """Write several files, each whole, and none where one is there already; return their paths.

    Raises
    ------
    ArgumentError, ExistsError
        See :func:`writing_whole`.
    """
    there = [path for path, _ in files if os.path.lexists(path)]
    if there and not overwrite:
        raise _taken(there[0], argument)
    return tuple(write_whole(path, data, overwrite=overwrite) for path, data in files)


def write_free(
    folder: Path, stem: str, ending: str, data: bytes, *, taken: Iterable[str] = ()
) -> Path:
    """Write a file under the first of ``stem``, ``stem-2`` ... that is free; return its path.

    Parameters
    ----------
    folder : Path
    stem, ending : str
        Of its name.
    data : bytes
    taken : iterable of str
        Stems that are not free, though no file has them.

    Raises
    ------
    ArgumentError, ExistsError
        See :func:`writing_whole`; also where a thousand of that name are there.
    """
    names = {name.casefold() for name in taken}
    for number in range(1, _MOST_OF_ONE_NAME):
        free = stem if number == 1 else f"{stem}-{number}"
        if free.casefold() not in names:
            with contextlib.suppress(ExistsError):
                return write_whole(folder / f"{free}{ending}", data)
    raise ExistsError("folder", f"one with room for {stem}{ending}", words="a thousand of them")


@contextmanager
def writing_whole(
    path: Path, *, overwrite: bool = False, argument: str = "path"
) -> Iterator[BinaryIO]:
    """Open a stream beside ``path``; what was written moves into place when the block ends well.

    Several processes may write one path: each file that is seen there is whole, and the last
    to finish stands. An error or an interrupt inside the block leaves nothing. A file that is
    written over keeps who may read and write it.

    Raises
    ------
    ArgumentError
        If the parent is no folder, or cannot be written to, or the file that is there is marked
        as one that is only read, or held open where the system then lets nobody replace it.
    ExistsError
        If something is there and ``overwrite`` is not set, before the block or after it, or
        if another writer holds the path for more than ten seconds.
    """
    if path.is_dir() or (os.path.lexists(path) and not overwrite):
        raise _taken(path, argument)
    _check_writable(path, argument)
    with locked(path, argument, wait=_FILE_WAIT):
        remove_left_overs(path)
        part = beside(path, "part")
        try:
            with part.open("xb") as stream:
                yield stream
                stream.flush()
                os.fsync(stream.fileno())
            if overwrite:
                _move_over(part, path, argument)
            else:
                _move_to_free(part, path, argument)
        finally:
            with contextlib.suppress(OSError):  # held by a scanner: the next writer removes it
                part.unlink(missing_ok=True)


def _check_writable(path: Path, argument: str) -> None:
    """Refuse a file that nobody may write: moving another over it would take no notice."""
    try:
        mode = path.lstat().st_mode
    except OSError:  # not there
        return
    if stat.S_ISREG(mode) and not mode & _WRITABLE:
        raise ArgumentError(argument, _REPLACED, words=f"{path.name!r}, which is read-only")


def _move_over(part: Path, path: Path, argument: str) -> None:
    if path.is_file() and not path.is_symlink():
        with contextlib.suppress(OSError):
            shutil.copymode(path, part)
    try:
        part.replace(path)
    except PermissionError as error:  # on Windows, where another program holds it open
        words = f"{path.name!r}: {error.strerror or error}"
        raise ArgumentError(argument, _REPLACED, words=words) from None


def _taken(path: Path, argument: str) -> ExistsError:
    found = f"{path.name!r} already there"
    return ExistsError(argument, "free, or overwrite=True given", words=found)


def _move_to_free(part: Path, path: Path, argument: str) -> None:
    """Take ``path`` only if it is free at that moment; a hard link cannot replace a file."""
    try:
        os.link(part, path)
    except FileExistsError:
        raise _taken(path, argument) from None
    except OSError:  # no hard links on this file system
        part.replace(path)


def _prefix(path: Path) -> str:
    """How the hidden names beside a path begin; a hash keeps long names apart."""
    return f".{path.name[:40]}.{hashlib.sha256(os.fsencode(path.name)).hexdigest()[:10]}."


def beside(path: Path, ending: str) -> Path:
    """Return a new hidden name beside ``path``: ``part`` in the making, ``old`` set aside."""
    return path.with_name(f"{_prefix(path)}{secrets.token_hex(4)}.{ending}")


@contextmanager
def locked(path: Path, argument: str = "path", *, wait: float = _FOLDER_WAIT) -> Iterator[None]:
    """Hold ``path`` for one writer at a time; the system lets go when a process dies.

    Raises
    ------
    ArgumentError
        If the parent is no folder, or cannot be written to.
    ExistsError
        If another writer still holds it after ``wait`` seconds.
    """
    if not path.name or not path.parent.is_dir():
        found = f"{str(path)!r}, and {str(path.parent)!r} is no folder"
        raise ArgumentError(argument, "in a folder that exists", words=found)
    lock = path.with_name(f"{_prefix(path)}lock")
    if not _HAS_LOCKS:
        with _locked_by_library(lock, argument, wait, path.name):
            yield
        return
    end = time.monotonic() + wait
    while True:
        with _open_lock(lock, argument) as stream:
            if _holds(stream, lock):
                try:
                    yield
                finally:
                    lock.unlink(missing_ok=True)
                return
        if time.monotonic() > end:
            raise _held(path.name, argument)
        time.sleep(0.002)


@contextmanager
def _locked_by_library(lock: Path, argument: str, wait: float, name: str) -> Iterator[None]:
    """Hold a lock file where the system has no ``flock``, by a library that knows its locks."""
    from filelock import FileLock, Timeout

    holder = FileLock(lock, timeout=wait)
    try:
        holder.acquire()
    except Timeout:
        raise _held(name, argument) from None
    except OSError as error:
        raise unwritable(lock.parent, argument, error) from None
    try:
        yield
    finally:
        holder.release()


def _held(name: str, argument: str) -> ExistsError:
    return ExistsError(argument, "free", words=f"another run still writing {name!r}")


def _open_lock(lock: Path, argument: str) -> BinaryIO:
    try:
        return lock.open("ab")
    except OSError as error:
        raise unwritable(lock.parent, argument, error) from None


def _holds(stream: BinaryIO, lock: Path) -> bool:
    """Lock an open file; false if another holds it, or if it is no longer the one at its path.

    Whoever holds the lock removes the file before letting go. One who had opened it earlier
    then gets a lock on a file that nobody else can find, while the next makes a new file:
    only a lock on the file at the path counts.
    """
    try:
        fcntl.flock(stream, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        return False
    except OSError:  # a file system without locks
        return True
    try:
        return os.path.samestat(os.fstat(stream.fileno()), lock.stat())
    except FileNotFoundError:
        return False


def unwritable(folder: Path, argument: str, error: OSError) -> ArgumentError:
    """Return the error for a folder that nothing can be written to."""
    found = f"{str(folder)!r}: {error.strerror or error}"
    return ArgumentError(argument, "where files may be written", words=found)


def _left_overs(path: Path, *endings: str) -> list[Path]:
    prefix, parent = _prefix(path), path.parent
    names = sorted(name for name in os.listdir(parent) if name.startswith(prefix))
    return [parent / name for name in names if name.endswith(endings)]


def remove_left_overs(path: Path) -> list[str]:
    """Remove what killed writers left beside a path that is held; return the names.

    If nothing is at the path itself and an old folder was set aside, that one is put back.
    """
    left_overs = _left_overs(path, ".part", ".old")
    for found in left_overs:
        if found.suffix == ".old" and not path.exists():
            found.rename(path)
        elif found.is_dir():
            remove_folder(found)
        else:
            found.unlink(missing_ok=True)
    return [found.name for found in left_overs]


def remove_folder(folder: Path) -> None:
    """Remove a folder of ours, also where somebody has marked what is in it as read-only.

    What cannot be removed stays, hidden, for the next writer.
    """
    shutil.rmtree(folder, ignore_errors=True)
    if not folder.is_dir():
        return
    for inside, _, files in os.walk(folder):
        # Elsewhere than on Windows only what a folder allows counts, not what its files do.
        for name in ("", *(files if os.name == "nt" else ())):
            with contextlib.suppress(OSError):
                os.chmod(os.path.join(inside, name), stat.S_IRWXU)
    shutil.rmtree(folder, ignore_errors=True)


def is_set_aside(path: Path) -> bool:
    """Whether an old folder of this path was set aside and the new one is not there yet."""
    try:
        return bool(_left_overs(path, ".old"))
    except OSError:
        return False
