"""Lays copies of the notebooks and palettes into a folder, never over what somebody changed."""

from __future__ import annotations

import hashlib
import json
import os
from dataclasses import dataclass
from os import PathLike
from pathlib import Path

from checkcloth.arguments import as_path
from checkcloth.errors import ArgumentError
from checkcloth.files.shipped import shipped, shipped_files
from checkcloth.files.whole import locked, unwritable, write_whole
from checkcloth.version import VERSION

LAID = ("notebooks", "palettes")
# Notes what was laid, so that a file nobody changed can be told from one that somebody did
# when a later kit brings another.
RECORD = ".checkcloth-start.json"
_FORMAT = "checkcloth start"
_WAIT = 30.0  # seconds for another start in the same folder


@dataclass(frozen=True)
class Laid:
    """What became of the files, as paths within the folder."""

    folder: Path
    new: tuple[str, ...] = ()  #: laid where there was none
    renewed: tuple[str, ...] = ()  #: laid over an earlier kit's, which nobody had changed
    same: tuple[str, ...] = ()  #: there already, as they ship
    left: tuple[str, ...] = ()  #: changed by somebody, and left so

    def __str__(self) -> str:
        counts = {"new": self.new, "renewed": self.renewed, "as they were": self.same}
        said = [f"{len(names)} {words}" for words, names in counts.items() if names]
        if self.left:
            said.append(f"left as you have them: {', '.join(self.left)}")
        return f"files in {self.folder}: {'; '.join(said)}"


def lay_copies(folder: str | PathLike[str]) -> Laid:
    """Lay copies of the notebooks and palettes that ship into a folder, made where there is none.

    Each file is written whole or not at all, so that whoever is killed on the way, or starts
    twice at once, finds no half file and loses none.

    Raises
    ------
    ArgumentError, ExistsError
        Where no folder can be made or written to, or another start is at work in it.
    """
    target = as_path(folder, "folder").expanduser().absolute()
    try:
        target.mkdir(parents=True, exist_ok=True)
    except FileExistsError:
        raise ArgumentError("folder", "a folder", words=f"a file, {str(folder)!r}") from None
    except OSError as error:
        raise unwritable(target, "folder", error) from None
    with locked(target / LAID[0], "folder", wait=_WAIT):
        return _lay(target)


def _lay(target: Path) -> Laid:
    record = _read_record(target)
    outcome: dict[str, list[str]] = {"new": [], "renewed": [], "same": [], "left": []}
    for kind in LAID:
        source = shipped(kind)
        if (target / kind).is_dir() and source.samefile(target / kind):  # the checkout itself
            outcome["same"] += [f"{kind}/{path.as_posix()}" for path in shipped_files(kind)]
            continue
        for path in shipped_files(kind):
            name = f"{kind}/{path.as_posix()}"
            raw = (source / path).read_bytes()
            became = _lay_file(target / name, raw, record.get(name))
            outcome[became].append(name)
            if became != "left":
                record[name] = _digest(raw)
    if outcome["new"] or outcome["renewed"] or (outcome["same"] and record):
        _write_record(target, record)
    return Laid(target, **{key: tuple(names) for key, names in outcome.items()})


def _lay_file(path: Path, raw: bytes, recorded: str | None) -> str:
    """Lay one file where that takes nothing from anybody; return what became of it."""
    try:
        if not os.path.lexists(path):
            path.parent.mkdir(parents=True, exist_ok=True)
            write_whole(path, raw)
            return "new"
        if path.is_symlink() or not path.is_file():
            return "left"
        found = path.read_bytes()
        if found == raw:
            return "same"
        if _digest(found) != recorded:
            return "left"
        write_whole(path, raw, overwrite=True)
        return "renewed"
    except OSError as error:
        raise unwritable(path.parent, "folder", error) from None


def _digest(raw: bytes) -> str:
    return hashlib.sha256(raw).hexdigest()


def _read_record(target: Path) -> dict[str, str]:
    """Read what was laid before; where that cannot be known, every other file is somebody's."""
    try:
        noted = json.loads((target / RECORD).read_text("utf-8"))
        files = noted["files"] if noted["format"] == _FORMAT else {}
        return {str(name): str(digest) for name, digest in files.items()}
    except (OSError, ValueError, TypeError, KeyError, AttributeError, RecursionError):
        return {}


def _write_record(target: Path, files: dict[str, str]) -> None:
    noted = {"format": _FORMAT, "version": 1, "kit": VERSION, "files": dict(sorted(files.items()))}
    raw = (json.dumps(noted, indent=1) + "\n").encode("utf-8")
    path = target / RECORD
    if not path.is_file() or path.read_bytes() != raw:
        write_whole(path, raw, overwrite=True)
