"""What becomes of an earlier hand-off in a folder when another is written there."""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import BinaryIO

from checkcloth.cloth.length import Length
from checkcloth.errors import CheckclothError, FileFormatError
from checkcloth.export.data.saved import open_set
from checkcloth.export.hand_off.manifest import (
    MANIFEST,
    Written,
    entries_in,
    manifest_about,
    read_manifest,
)
from checkcloth.files.names import safe_stem

OTHER_SIZES, COORDINATES = "other-sizes", "coordinates"


@dataclass(frozen=True)
class Replacement:
    """What writing to a folder would do to what lies there."""

    goes: tuple[str, ...] = ()  #: files of the earlier hand-off that would be no more
    again: tuple[str, ...] = ()  #: files that would be written anew under the same name
    #: Files of other check sizes that stay: path they will have -> as they are listed now.
    kept: Mapping[str, Written] = field(default_factory=dict)
    foreign: tuple[str, ...] = ()  #: what no hand-off has listed: nothing is replaced then
    earlier_size: Length | None = None  #: check size of the earlier one, where that is another


def replacement(
    folder: Path, files: Iterable[str], sizes: Iterable[Length], *, keep_other_sizes: bool
) -> Replacement:
    """Work out what a hand-off of these files would do to the folder; nothing is touched.

    ``sizes`` are the check size of the set, then those of its coordinates. With
    ``keep_other_sizes`` files of those that are not written anew stay: of the earlier set in a
    folder of their own, of coordinates where they are.

    Raises
    ------
    OSError
        Where the folder cannot be looked into.
    """
    if not os.path.lexists(folder):
        return Replacement()
    if folder.is_symlink() or not folder.is_dir():
        return Replacement(foreign=(folder.name,))
    there = entries_in(folder)
    try:
        listed = read_manifest(folder)
    except FileFormatError:
        damaged = {MANIFEST} if os.path.lexists(folder / MANIFEST) else set()
        return Replacement(foreign=tuple(sorted(there | damaged)))
    new, (size, *family) = set(files), sizes
    before = [file for file in listed if _is_there(folder, file.file)]
    top = _size_in(folder) or _size_said(folder)
    kept: dict[str, Written] = {}
    if keep_other_sizes:
        carry = _Carrying(folder, new, size, frozenset({size, *family}), top)
        kept = {path: file for file in before if (path := carry.path_of(file.file))}
    stays = {file.file for file in kept.values()} | new
    return Replacement(
        tuple(file.file for file in before if file.file not in stays),
        tuple(file.file for file in before if file.file in new),
        kept,
        tuple(sorted(there - {file.file for file in listed})),
        top if top != size else None,
    )


def copy_of(path: Path) -> Callable[[BinaryIO], None]:
    """Return a function that fills a file with what stands in another."""

    def fill(stream: BinaryIO) -> None:
        with path.open("rb") as source:
            shutil.copyfileobj(source, stream, 1 << 20)

    return fill


@dataclass(frozen=True)
class _Carrying:
    """Where each file of the earlier hand-off goes on: its new path, "" where nowhere."""

    folder: Path
    new: set[str]
    size: Length
    sizes: frozenset[Length]
    top: Length | None

    def path_of(self, file: str) -> str:
        first, *inner = file.split("/")
        if first == OTHER_SIZES and inner:
            found = _size_in(self.folder / OTHER_SIZES / inner[0])
            return "" if found is not None and found in (self.size, self.top) else file
        if first == COORDINATES:
            return file if self._stays_coordinate(file, inner) else ""
        if self.top == self.size:
            return ""
        stem = "earlier" if self.top is None else safe_stem(self.top.text, "size")
        return f"{OTHER_SIZES}/{stem}/{file}"

    def _stays_coordinate(self, file: str, inner: list[str]) -> bool:
        if file in self.new:
            return False
        if len(inner) > 1:
            return _size_in(self.folder / COORDINATES / inner[0]) not in self.sizes
        # The sheets of all sizes: they stay as long as no others are drawn.
        return len(self.sizes) == 1


def _is_there(folder: Path, file: str) -> bool:
    path = folder / file
    return path.is_file() and not path.is_symlink()


def _size_in(folder: Path) -> Length | None:
    """The check size of the set in a folder, None where none can be read."""
    try:
        return open_set(folder / "set.json").check.size
    except (CheckclothError, OSError):
        return None


def _size_said(folder: Path) -> Length | None:
    """The check size as the manifest words it, for where the set itself is gone."""
    try:
        return Length(str(manifest_about(folder).get("check", "")).split(" (")[0])
    except (CheckclothError, OSError):
        return None
