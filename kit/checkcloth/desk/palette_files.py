"""The files that a desk's palettes come from and go to: CSV, each written whole or not at all.

Nobody's work is written over: a new palette takes a free name, and a file that changed since it
was read here is left as it is, which is said.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from os import PathLike
from pathlib import Path
from typing import NamedTuple

from checkcloth.arguments import as_path
from checkcloth.cloth.named_colour import NamedColour
from checkcloth.cloth.palette import MOST_BYTES, Palette, palette_csv, parse_palette_csv
from checkcloth.cloth.palette import palettes as shipped_palettes
from checkcloth.errors import ArgumentError, CheckclothError, ExistsError
from checkcloth.files.names import safe_stem
from checkcloth.files.whole import read_text, write_free, write_whole, writing_whole

Source = str | PathLike[str] | Palette


class Fault(NamedTuple):
    """A palette file that could not be read or written, and why, on one line."""

    file: str
    why: str

    @property
    def line(self) -> str:
        """File and why; the file only once where the words name it already."""
        return self.why if self.why.startswith(self.file) else f"{self.file}: {self.why}"


@dataclass(frozen=True)
class _Known:
    """What a file held when it was last read or written here.

    ``made`` says that it was made here: only then may undo take it away again.
    """

    path: Path
    raw: bytes
    palette: Palette
    made: bool = False


class Refreshed(NamedTuple):
    """What the files brought since they were last read."""

    new: tuple[Palette, ...]
    changed: dict[str, Palette]
    faults: tuple[Fault, ...]


@dataclass
class PaletteFiles:
    """The files of one desk.

    Attributes
    ----------
    sources : tuple of Path or Palette
        Folders, files and palettes that the desk was opened on.
    home : Path or None
        The folder that new palettes are saved in: beside those it was opened on.
    """

    sources: tuple[Path | Palette, ...] = ()
    home: Path | None = None
    _known: dict[str, _Known] = field(default_factory=dict)
    # Palettes whose last change is not in their file.
    _unsaved: set[str] = field(default_factory=set)

    # -- reading --------------------------------------------------------------------------------

    def read(self) -> tuple[list[Palette], list[Fault], list[Exception]]:
        """Read everything there is, and say what could not be read."""
        members: list[Palette] = []
        faults: list[Fault] = []
        errors: list[Exception] = []
        for source in _files(self.sources):
            if isinstance(source, Palette):
                members.append(source)
                continue
            try:
                known = _read(source)
            except (CheckclothError, OSError) as error:
                faults.append(_fault(source.name, error))
                errors.append(error)
            else:
                members.append(known.palette)
                self._known[known.palette.name] = known
        return members, faults, errors

    def refresh(self, palettes: Sequence[Palette]) -> Refreshed:
        """Read again what is new or was changed by others since.

        Parameters
        ----------
        palettes : sequence of Palette
            What the desk has.
        """
        names = {palette.name for palette in palettes}
        new: list[Palette] = []
        changed: dict[str, Palette] = {}
        faults: list[Fault] = []
        for source in _files(self.sources):
            if isinstance(source, Palette):
                continue
            try:
                found = _read(source)
                if self._brings(found, names):
                    name = found.palette.name
                    (changed.__setitem__(name, found.palette) if name in names
                     else new.append(found.palette))  # fmt: skip
                    names.add(name)
            except (CheckclothError, OSError) as error:
                faults.append(_fault(source.name, error))
        return Refreshed(tuple(new), changed, tuple(faults))

    def _brings(self, found: _Known, names: set[str]) -> bool:
        """Note a file that was read again; whether it brings what the desk has not."""
        name = found.palette.name
        before = self._known.get(name)
        if before is None or before.path != found.path:
            if name in names:
                words = "a palette of that name is here already"
                raise ArgumentError("palette", "of a name of its own", words=words)
            self._known[name] = found
            return True
        if before.raw == found.raw:
            return name not in names and not before.made
        if name in self._unsaved:
            words = "changed in its file and on this desk"
            hint = "; save the desk's as another palette"
            raise ArgumentError("palette", "changed in one of them", words=words, hint=hint)
        self._known[name] = found
        return found.palette != before.palette or name not in names

    # -- writing --------------------------------------------------------------------------------

    def create(self, name: str, colours: Iterable[NamedColour], taken: Iterable[str]) -> Palette:
        """Write a new palette to a file named after it; one of a taken name gets a number.

        Raises
        ------
        ArgumentError, OSError
            Where it cannot be; nothing is written then.
        """
        if self.home is None:
            raise ArgumentError("folder", "one to save palettes in", words="none")
        stem = safe_stem(name, "palette")
        made = Palette(stem, colours)
        raw = _bytes_of(made)
        path = write_free(self.home, stem, ".csv", raw, taken=taken)
        made = Palette(path.stem, made.colours)
        self._known[made.name] = _Known(path, raw, made, made=True)
        return made

    def follow(self, before: Sequence[Palette], now: Sequence[Palette]) -> list[Fault]:
        """Let files follow the desk's palettes through edits, undo and redo; return what failed."""
        faults: list[Fault] = []
        earlier = {palette.name: palette for palette in before}
        for palette in now:
            if earlier.pop(palette.name, None) == palette:
                continue
            try:
                self._write(palette)
            except (CheckclothError, OSError) as error:
                self._unsaved.add(palette.name)
                faults.append(_fault(f"{palette.name}.csv", error))
            else:
                self._unsaved.discard(palette.name)
        for name in earlier:
            self._take_away(name)
        return faults

    def _write(self, palette: Palette) -> None:
        known = self._known.get(palette.name)
        if known is None:
            found = "none: it was given by code or came with the kit, and changes on this desk only"
            raise ArgumentError("palette", "from a file, to be saved", words=found)
        if known.palette == palette and known.path.exists():
            return
        raw = _bytes_of(palette)
        if not known.path.exists():
            write_whole(known.path, raw)
        else:
            # Looked at while the path is held: no other desk writes it in between.
            with writing_whole(known.path, overwrite=True) as stream:
                if known.path.read_bytes() != known.raw:
                    found = "changed by someone else since; it is left as it is"
                    raise ExistsError("file", "as it was read", words=found)
                stream.write(raw)
        self._known[palette.name] = _Known(known.path, raw, palette, known.made)

    def _take_away(self, name: str) -> None:
        """Take away the file of a palette whose making was undone, if it is as it was made."""
        known = self._known.get(name)
        if known is not None and known.made:
            try:
                if known.path.read_bytes() == known.raw:
                    known.path.unlink()
            except OSError:
                return  # it is gone, or out of reach: nothing is lost by that

    def made_here(self, palettes: Iterable[Palette]) -> list[Palette]:
        """Return those of the palettes that were saved from this desk."""
        return [one for one in palettes if one.name in self._known and self._known[one.name].made]

    def adopt(self, other: PaletteFiles) -> None:
        """Take over what another knows of files that are not known here, and its home."""
        self._known = other._known | self._known
        self._unsaved |= other._unsaved
        self.home = self.home or other.home


class Gathered(NamedTuple):
    """Palettes that were read, what could not be, and the files they came from."""

    palettes: tuple[Palette, ...]
    faults: tuple[Fault, ...]
    files: PaletteFiles

    @property
    def left_out(self) -> tuple[str, ...]:
        """A line for each file that could not be read."""
        return tuple(fault.line for fault in self.faults)


def gather_palettes(palettes: Source | Iterable[Source] | None = None) -> Gathered:
    """Return palettes from paths, folders of CSV files, or as they are; without any, ours.

    Ours are those in a folder ``palettes`` here or beside this one, where copies of them are
    changed and added to; without such a folder, those that ship, which nobody writes to.

    Raises
    ------
    ArgumentError
        For none at all, or two of one name.
    FileFormatError, OSError
        Where not one of the files can be read: what is wrong with the first.

    Examples
    --------
    >>> [palette.name for palette in gather_palettes(Palette("coast", ["navy"])).palettes]
    ['coast']
    """
    if palettes is None:
        palettes = _folder_here() or shipped_palettes()
    if isinstance(palettes, Mapping):
        palettes = palettes.values()
    given = [palettes] if isinstance(palettes, str | PathLike | Palette) else list(palettes)
    sources = tuple(
        one if isinstance(one, Palette) else as_path(one, "palettes").resolve() for one in given
    )
    paths = [one for one in sources if isinstance(one, Path)]
    folders = [path for path in paths if path.is_dir()] or [path.parent for path in paths]
    files = PaletteFiles(sources, folders[0] if folders else None)
    members, faults, errors = files.read()
    if not members:
        raise errors[0] if errors else ArgumentError("palettes", "at least one palette", palettes)
    names = [one.name for one in members]
    for one in names:
        if names.count(one) > 1:
            raise ArgumentError("palettes", "of different names", words=f"{one!r} twice")
    return Gathered(tuple(members), tuple(faults), files)


def _folder_here() -> Path | None:
    """The folder of palettes in the folder that the notebook runs in, or beside that."""
    folders = (Path("palettes"), Path("../palettes"))
    return next((folder for folder in folders if any(folder.glob("*.csv"))), None)


def _files(sources: Iterable[Path | Palette]) -> list[Path | Palette]:
    files: list[Path | Palette] = []
    for source in sources:
        if isinstance(source, Path) and source.is_dir():
            files += sorted(source.glob("*.csv"))
        else:
            files.append(source)
    return files


def _read(path: Path) -> _Known:
    text = read_text(path, MOST_BYTES)
    return _Known(path, text.encode("utf-8"), parse_palette_csv(text, path.stem, path.name))


def _bytes_of(palette: Palette) -> bytes:
    raw = palette_csv(palette).encode("utf-8")
    if len(raw) > MOST_BYTES:
        raise ArgumentError("colours", f"at most {MOST_BYTES} bytes as a file", len(raw))
    return raw


def _fault(file: str, error: Exception) -> Fault:
    words = error.strerror or str(error) if isinstance(error, OSError) else str(error)
    return Fault(file, words)
