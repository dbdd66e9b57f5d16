"""The kept range on disk: written as it changes, whole or not at all; earlier ones are listed.

A range has a file from the first colourway that is kept, named after it; what another desk has
written there since is never written over.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path

from checkcloth.cloth.check import Check
from checkcloth.cloth.chosen import ChosenSet
from checkcloth.cloth.colourway import Colourway
from checkcloth.desk.state.requests import MOST_STRIPES
from checkcloth.errors import ArgumentError, CheckclothError, ExistsError, FileFormatError
from checkcloth.export.data.saved import MOST_BYTES, parse_set, set_json
from checkcloth.files.names import safe_stem
from checkcloth.files.whole import read_text, write_free, writing_whole

ENDING = ".kept.json"
_MOST_OFFERED = 20
_SHOWN_OF_EACH = 4


@dataclass(frozen=True)
class Earlier:
    """A kept range of an earlier session.

    Attributes
    ----------
    path : Path
    when : str
        When it was last written.
    kept : int
        How many colourways; 0 where it cannot be opened.
    fault : str
        Why it cannot be opened, or "".
    name : str
        Of the range; of an older file without one, the file's.
    first : tuple of Colourway
        The first four.
    check : Check or None
    """

    path: Path
    when: str
    kept: int
    fault: str = ""
    name: str = ""
    first: tuple[Colourway, ...] = ()
    check: Check | None = None


def earlier_sets(
    folder: Path, apart_from: Path | None = None, most: int = _MOST_OFFERED
) -> list[Earlier]:
    """Return the kept sets of a folder, newest first, empty ones left out."""
    found = []
    for written, path in _files_in(folder)[:most]:
        if path == apart_from:
            continue
        when = _when(written)
        try:
            earlier = read_for_desk(read_text(path, MOST_BYTES), path.name)
        except (CheckclothError, OSError) as error:
            found.append(Earlier(path, when, 0, str(error), _stem(path)))
        else:
            if len(earlier):
                first = earlier.colourways[:_SHOWN_OF_EACH]
                name = earlier.name or _stem(path)
                found.append(Earlier(path, when, len(earlier), "", name, first, earlier.check))
    return found


def _when(written: float) -> str:
    """When a file was written, in words; what a clock far off has noted may be no date."""
    try:
        return datetime.fromtimestamp(written).strftime("%d %B %Y, %H:%M")
    except (ValueError, OverflowError, OSError):
        return "at a time unknown"


def read_for_desk(text: str, source: str) -> ChosenSet:
    """Read a set that the desk can hold: uneven bands only of as many stripes as it draws.

    Raises
    ------
    FileFormatError
        For what is no set file, and for uneven bands of more stripes.
    """
    chosen = parse_set(text, source)
    check = chosen.check
    if not check.is_even and max(check.stripes, check.weft_stripes) > MOST_STRIPES:
        raise FileFormatError(
            "check",
            f"of at most {MOST_STRIPES} stripes, where it is uneven, on the desk",
            words=str(check),
            hint="; open_set opens it in code",
            source=source,
        )
    return chosen


def _files_in(folder: Path) -> list[tuple[float, Path]]:
    files = []
    for path in folder.glob(f"*{ENDING}"):
        try:
            if path.is_file():
                files.append((path.stat().st_mtime, path))
        except OSError:
            continue  # another desk has moved it meanwhile
    return sorted(files, reverse=True)


def _is_at(path: Path, file: Path) -> bool:
    """Whether a path leads to a file, as it does under other capitals on some systems."""
    return path == file or (path.exists() and file.exists() and path.samefile(file))


def _stem(path: Path) -> str:
    return path.name.removesuffix(ENDING)


@dataclass
class KeepFile:
    """The file of one range; there from the first colourway that is kept.

    Attributes
    ----------
    folder : Path
    name : str
        Of the range; the file is called after it, a second of that name with ``-2``.
    path : Path or None
        None until something was kept.
    left : str
        Name of the file that this one goes on from, where another desk had changed that, or "".
    """

    folder: Path
    name: str = "explore"
    path: Path | None = None
    left: str = ""
    # What the file held when it was last read or written here.
    _raw: bytes = field(default=b"", repr=False)

    @classmethod
    def opened(cls, path: Path) -> tuple[KeepFile, ChosenSet]:
        """Open an earlier range, to go on with it; the file stays as it is until that changes.

        Raises
        ------
        FileFormatError, OSError
            See :func:`read_for_desk`.
        """
        text = read_text(path, MOST_BYTES)
        chosen = read_for_desk(text, path.name)
        made = cls(path.parent, chosen.name or _stem(path), path, _raw=text.encode("utf-8"))
        return made, chosen

    def save(self, chosen_set: ChosenSet) -> Path | None:
        """Write the set; an empty one only where an earlier state of it was written.

        Raises
        ------
        OSError
            As the system says; the file then still holds what it held.
        """
        if self.path is None or not self.path.exists():
            if self.path is None and not len(chosen_set):
                return None
            return self._to_free_file(chosen_set)
        raw = _bytes_of(chosen_set)
        if raw == self._raw:
            return self.path
        try:
            # Looked at while the path is held: no other desk writes it in between.
            with writing_whole(self.path, overwrite=True) as stream:
                if self.path.read_bytes() != self._raw:
                    raise ExistsError("file", "as this desk left it", words="changed by another")
                stream.write(raw)
        except ExistsError:
            self.left = self.path.name
            return self._to_free_file(chosen_set)
        self._raw = raw
        return self.path

    def rename(self, name: str, chosen_set: ChosenSet) -> Path | None:
        """Give the range, and its file, another name; ``chosen_set`` bears it already.

        The file of the new name is written before the old one goes: cut short, both are there.

        Raises
        ------
        OSError, ArgumentError
            Where the new one cannot be written; name and file are then as before.
        """
        if self.path is None:
            self.name = name
            return None
        before, old, raw = self.name, self.path, self._raw
        self.name = name
        try:
            if _is_at(self.folder / f"{safe_stem(name, 'range')}{ENDING}", old):
                return self.save(chosen_set)
            self._to_free_file(chosen_set)
        except BaseException:
            self.name = before
            raise
        try:
            if old.read_bytes() == raw:
                old.unlink()
        except OSError:
            self.left = old.name  # it stays, and both hold the same
        return self.path

    def _to_free_file(self, chosen_set: ChosenSet) -> Path:
        raw = _bytes_of(chosen_set)
        self.path = write_free(self.folder, safe_stem(self.name, "range"), ENDING, raw)
        self._raw = raw
        return self.path


def _bytes_of(chosen_set: ChosenSet) -> bytes:
    raw = set_json(chosen_set).encode("utf-8")
    if len(raw) > MOST_BYTES:
        raise ArgumentError("kept", f"at most {MOST_BYTES} bytes as a file", len(raw))
    return raw
