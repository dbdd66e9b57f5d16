"""The manifest of a hand-off, and checking a folder against it."""

from __future__ import annotations

import hashlib
import json
import os
import time
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from os import PathLike
from pathlib import Path, PurePosixPath

from checkcloth.arguments import as_path
from checkcloth.errors import ExistsError, FileFormatError, shown
from checkcloth.files.html import OneLine
from checkcloth.files.json_reader import JsonReader, parse_json
from checkcloth.files.whole import is_set_aside, read_text
from checkcloth.version import PROGRAM

MANIFEST = "manifest.json"
FORMAT, FORMAT_VERSION = "checkcloth hand-off", 1
_MOST_BYTES = 32 << 20
_MOST_LOOKS = 100


@dataclass(frozen=True)
class Written:
    """One file of a hand-off."""

    file: str  #: path inside the folder, with ``/`` between parts
    size: int  #: bytes
    sha256: str  #: in hexadecimal
    shows: str  #: what it shows, for people
    #: Whom it is for, while it is known: no manifest says it.
    task: str = field(default="range", compare=False)


@dataclass(frozen=True, repr=False)
class Verdict(OneLine):
    """What checking a folder against its manifest found.

    Examples
    --------
    >>> print(Verdict(("set.json",), ("tones.csv",), (), ()))
    1 intact; 1 changed (tones.csv)
    """

    intact: tuple[str, ...]  #: files that are as written
    changed: tuple[str, ...]
    missing: tuple[str, ...]
    added: tuple[str, ...]  #: those that nobody listed

    @property
    def ok(self) -> bool:
        """Whether every file is as it was written, and no other is there."""
        return not (self.changed or self.missing or self.added)

    def __bool__(self) -> bool:
        return self.ok

    def __str__(self) -> str:
        parts = [f"{len(self.intact)} intact"]
        for name in ("changed", "missing", "added"):
            files: tuple[str, ...] = getattr(self, name)
            if files:
                parts.append(f"{len(files)} {name} ({', '.join(files)})")
        return "; ".join(parts)


def manifest_json(files: Iterable[Written], about: Mapping[str, object]) -> str:
    """Return the text of a manifest; it holds no date, so the same files give the same text."""
    content = {
        "format": FORMAT,
        "version": FORMAT_VERSION,
        "program": PROGRAM,
        **about,
        "files": [
            {"file": file.file, "bytes": file.size, "sha256": file.sha256, "shows": file.shows}
            for file in files
        ],
    }
    return json.dumps(content, ensure_ascii=False, indent=1) + "\n"


def _written_in(fields: JsonReader) -> Written:
    file = fields.text("file")
    path = PurePosixPath(file)
    if path.is_absolute() or not path.parts or {"..", "."} & set(file.split("/")) or "\\" in file:
        fields.fail("file", "a path inside the folder", file)
    made = Written(file, fields.whole("bytes"), fields.text("sha256"), fields.text("shows"))
    fields.done()
    return made


def read_manifest(folder: Path) -> tuple[Written, ...]:
    """Return the files that a hand-off's manifest lists.

    Raises
    ------
    FileFormatError
        If there is none, or it is damaged or newer.
    """
    return tuple(_fields_of(folder).read_each("files", _written_in))


def manifest_about(folder: Path) -> dict[str, object]:
    """Return what a manifest says of the whole: ``set``, ``check`` and ``colourways``.

    Raises
    ------
    FileFormatError
        See :func:`read_manifest`.
    """
    fields = _fields_of(folder)
    return {name: fields.take(name, "something", None) for name in ("set", "check", "colourways")}


def _fields_of(folder: Path) -> JsonReader:
    path = folder / MANIFEST
    if path.is_symlink() or not path.is_file():
        allowed = f"a hand-off folder with its {MANIFEST}"
        raise FileFormatError("folder", allowed, words="none", source=folder.name)
    fields = parse_json(read_text(path, _MOST_BYTES), path.name)
    fields.check_kind(FORMAT, FORMAT_VERSION)
    return fields


def entries_in(folder: Path) -> set[str]:
    """Everything in a folder but the manifest, by path inside it.

    Folders count where they are all there is to see: empty ones and ones that cannot be read
    (both with ``/`` at the end), and links to folders, which are not followed.
    """
    found: set[str] = set()

    def add(path: str | Path, ending: str = "") -> None:
        found.add(Path(path).relative_to(folder).as_posix() + ending)

    def unreadable(error: OSError) -> None:
        if Path(error.filename) == folder:
            raise error
        add(error.filename, "/")

    for base, folders, files in os.walk(folder, onerror=unreadable):
        if not folders and not files and Path(base) != folder:
            add(base, "/")
        for name in files:
            add(os.path.join(base, name))
        for name in folders:
            if os.path.islink(os.path.join(base, name)):
                add(os.path.join(base, name))
    return found - {MANIFEST}


def _is_intact(path: Path, wanted: Written) -> bool:
    try:
        if path.is_symlink() or not path.is_file() or path.stat().st_size != wanted.size:
            return False
        with path.open("rb") as stream:
            return hashlib.file_digest(stream, "sha256").hexdigest() == wanted.sha256
    except OSError:  # it cannot be read, or went while it was looked at
        return False


def verify(folder: str | PathLike[str]) -> Verdict:
    """Hash every file of a hand-off again, and say what changed since it was written.

    A folder that another run replaces meanwhile is looked at again, so that one verdict is
    about one hand-off; nothing is locked and nothing written.

    Parameters
    ----------
    folder : path

    Returns
    -------
    Verdict
        True where nothing changed; printing it names what did.

    Raises
    ------
    FileFormatError
        If the folder has no manifest, or a damaged or newer one, or is replaced again and
        again while it is looked at.

    Examples
    --------
    >>> from tempfile import TemporaryDirectory
    >>> from checkcloth import Check, Colourway, hand_off
    >>> with TemporaryDirectory() as parent:
    ...     aprons = Colourway("white", ["navy"])
    ...     made = hand_off(aprons, Check("1 in", 1), f"{parent}/a", paper=None)
    ...     size = Path(made.folder, "set.json").write_text("{}", "utf-8")
    ...     verify(made.folder).changed
    ('set.json',)
    """
    path = as_path(folder, "folder")
    for _ in range(_MOST_LOOKS):
        before = _identity(path)
        try:
            verdict = _look_at(path)
        except (FileFormatError, OSError):
            if before == _identity(path):
                raise
        else:
            if before == _identity(path):
                return verdict
    found = "one that is replaced again and again"
    raise FileFormatError("folder", "at rest while it is verified", words=found, source=path.name)


def _identity(path: Path) -> object:
    """What tells the folder at a path from another that takes its place.

    The times too: a system may give a new folder the number of one just removed.
    """
    try:
        found = path.stat()
    except OSError:
        if not is_set_aside(path):
            return None
        time.sleep(0.01)  # another run is between its two renames
        return object()
    return found.st_dev, found.st_ino, found.st_mtime_ns, found.st_ctime_ns


def _look_at(folder: Path) -> Verdict:
    listed = read_manifest(folder)
    there = entries_in(folder)
    intact: list[str] = []
    changed: list[str] = []
    for file in listed:
        if file.file in there:
            good = _is_intact(folder / file.file, file)
            (intact if good else changed).append(file.file)
    names = {file.file for file in listed}
    missing = tuple(file.file for file in listed if file.file not in there)
    return Verdict(tuple(intact), tuple(changed), missing, tuple(sorted(there - names)))


def check_replaceable(folder: Path) -> None:
    """Refuse to replace a folder that is no hand-off, or that holds something else besides.

    An empty folder may be replaced.

    Raises
    ------
    ExistsError
    """
    there = entries_in(folder)
    if not there and not os.path.lexists(folder / MANIFEST):
        return
    try:
        listed = {file.file for file in read_manifest(folder)}
    except FileFormatError as error:
        found = f"{folder.name!r}, which is none ({error})"
        raise ExistsError("folder", "free or an earlier hand-off", words=found) from None
    foreign = sorted(there - listed)
    if foreign:
        raise ExistsError(
            "folder",
            "an earlier hand-off and nothing besides, to be replaced",
            words=f"{shown(', '.join(foreign))} in {folder.name!r}",
            hint="; move it out first",
        )
