"""The manifest of a hand-off, and checking a folder against it."""

from __future__ import annotations

import hashlib
import json
import os
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from os import PathLike
from pathlib import Path, PurePosixPath

from checkcloth.arguments import as_path
from checkcloth.errors import ExistsError, FileFormatError, shown
from checkcloth.files.json_reader import Fields, parse_json
from checkcloth.files.whole import read_text
from checkcloth.version import VERSION

__all__ = ["MANIFEST", "Verdict", "Written", "check_ours", "manifest_json", "verify"]

MANIFEST = "manifest.json"
FORMAT, FORMAT_VERSION = "checkcloth hand-off", 1
_MOST_BYTES = 32 << 20


@dataclass(frozen=True)
class Written:
    """One file of a hand-off.

    Attributes
    ----------
    file : str
        Path inside the folder, with ``/`` between parts.
    size : int
        Bytes.
    sha256 : str
        In hexadecimal.
    shows : str
        What it shows, for people.

    Examples
    --------
    >>> Written("set.json", 900, "0" * 64, "the set").size
    900
    """

    file: str
    size: int
    sha256: str
    shows: str


@dataclass(frozen=True, repr=False)
class Verdict:
    """What checking a folder against its manifest found.

    Attributes
    ----------
    intact, changed, missing, added : tuple of str
        Files that are as written, that are otherwise, that are gone, that nobody listed.

    Examples
    --------
    >>> print(Verdict(("set.json",), ("tones.csv",), (), ()))
    1 intact; 1 changed (tones.csv)
    """

    intact: tuple[str, ...]
    changed: tuple[str, ...]
    missing: tuple[str, ...]
    added: tuple[str, ...]

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

    def __repr__(self) -> str:
        return f"<{self}>"


def program_version() -> str:
    """Return the name and version of the program, as it stands in every manifest."""
    return f"checkcloth {VERSION}"


def manifest_json(files: Iterable[Written], about: Mapping[str, object]) -> str:
    """Return the text of a manifest; it holds no date, so the same files give the same text.

    >>> '"bytes": 900' in manifest_json([Written("set.json", 900, "0" * 64, "the set")], {})
    True
    """
    content = {
        "format": FORMAT,
        "version": FORMAT_VERSION,
        "program": program_version(),
        **about,
        "files": [
            {"file": one.file, "bytes": one.size, "sha256": one.sha256, "shows": one.shows}
            for one in files
        ],
    }
    return json.dumps(content, ensure_ascii=False, indent=1) + "\n"


def _written_in(fields: Fields) -> Written:
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
    path = folder / MANIFEST
    if not path.is_file():
        raise FileFormatError(
            f"{folder.name}: must be a hand-off folder with its {MANIFEST}, found none"
        )
    fields = parse_json(read_text(path, _MOST_BYTES), path.name)
    fields.check_kind(FORMAT, FORMAT_VERSION)
    return tuple(fields.read_each("files", _written_in))


def _files_in(folder: Path) -> set[str]:
    found = set()
    for base, _, names in os.walk(folder):
        for name in names:
            found.add((Path(base) / name).relative_to(folder).as_posix())
    return found - {MANIFEST}


def _is_intact(path: Path, wanted: Written) -> bool:
    if path.is_symlink() or not path.is_file() or path.stat().st_size != wanted.size:
        return False
    with path.open("rb") as stream:
        return hashlib.file_digest(stream, "sha256").hexdigest() == wanted.sha256


def verify(folder: str | PathLike[str]) -> Verdict:
    """Hash every file of a hand-off again, and say what changed since it was written.

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
        If the folder has no manifest, or a damaged or newer one.

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
    place = as_path(folder, "folder")
    listed = read_manifest(place)
    there = _files_in(place)
    intact: list[str] = []
    changed: list[str] = []
    for one in listed:
        if one.file in there:
            good = _is_intact(place / one.file, one)
            (intact if good else changed).append(one.file)
    missing = tuple(one.file for one in listed if one.file not in there)
    added = tuple(sorted(there - {one.file for one in listed}))
    return Verdict(tuple(intact), tuple(changed), missing, added)


def check_ours(folder: Path) -> None:
    """Refuse to replace a folder that is no hand-off, or that holds someone's own files.

    Raises
    ------
    ExistsError

    Examples
    --------
    >>> from tempfile import TemporaryDirectory
    >>> with TemporaryDirectory() as folder:
    ...     check_ours(Path(folder))  # an empty folder is nobody's
    """
    there = _files_in(folder)
    if not there and not (folder / MANIFEST).exists() and not any(folder.iterdir()):
        return
    try:
        listed = {one.file for one in read_manifest(folder)}
    except FileFormatError as error:
        raise ExistsError(
            f"folder may only replace an earlier hand-off, found {folder.name!r}, which is "
            f"not one ({error})"
        ) from None
    foreign = sorted(there - listed)
    if foreign:
        raise ExistsError(
            f"folder must hold nothing but an earlier hand-off to be replaced, found "
            f"{shown(', '.join(foreign))} besides in {folder.name!r}; move it out first"
        )
