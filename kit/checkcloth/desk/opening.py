"""Opening a desk or a search form: from palettes to the widgets; one desk of a name at a time."""

from __future__ import annotations

from collections.abc import Iterable
from os import PathLike
from pathlib import Path
from typing import NamedTuple

from checkcloth.arguments import as_path, as_whole
from checkcloth.cloth.length import Length
from checkcloth.cloth.palette import Palette, read_palette
from checkcloth.desk.forms.search import SearchForm
from checkcloth.desk.keep_file import KeepFile
from checkcloth.desk.session import Desk
from checkcloth.desk.state.requests import as_setting
from checkcloth.desk.state.state import DeskState, History
from checkcloth.errors import ArgumentError, CheckclothError

Source = str | PathLike[str] | Palette


class _Opened(NamedTuple):
    """The desk that is open under a name and folder, what it was asked for, whom it replaced."""

    desk: Desk
    state: DeskState
    replaced: Desk | None


_open: dict[tuple[Path, str], _Opened] = {}


class Gathered(NamedTuple):
    """Palettes that were read, and a line for each that could not be."""

    palettes: tuple[Palette, ...]
    left_out: tuple[str, ...]


def open_desk(
    palettes: Source | Iterable[Source] | None = None,
    *,
    palette: str = "",
    size: Length | str = "1/2 in",
    stripes: int = 3,
    strength: float = 0.5,
    mixing: str = "source-over",
    count: int = 48,
    seed: int = 1,
    name: str = "explore",
    folder: str | PathLike[str] = ".",
) -> Desk:
    """Open a desk: a wall of colourways with sliders, and a shelf for those that are kept.

    What is kept is written to a set file in ``folder`` as it changes. Opening a desk of
    the same name again closes the first and goes on where it was: with the same
    arguments altogether, with others with what was kept.

    Parameters
    ----------
    palettes : path, Palette, or several, optional
        A folder stands for all the CSV files in it. Without it, those that ship. A file
        that cannot be read is left out, and the desk says so in a line.
    palette : str
        The one to begin with; the first otherwise.
    size : Length or str
        Check size.
    stripes : int
        1 to 12.
    strength : float
        Overlay strength, 0 to 1.
    mixing : str
        One of ``MIXINGS``.
    count : int
        Colourways on the wall at most, 1 to 500.
    seed : int
        Of the draw.
    name : str
        Of the desk; its set files begin with it.
    folder : path
        Where its set files are kept.

    Returns
    -------
    Desk

    Raises
    ------
    ArgumentError, LengthError, FileFormatError
        For values out of range, no palettes, or no file of them that can be read.
    """
    gathered = gather_palettes(palettes)
    begun = _begun(gathered, palette)
    stem = "".join(c if c.isalnum() or c in "-_" else "-" for c in name)
    stem = stem[:60].strip("-") or "explore"
    where = as_path(folder, "folder").resolve()
    if not where.is_dir():
        raise ArgumentError("folder", "there", str(folder))
    state = DeskState(
        as_setting("size", size), gathered.palettes, begun, seed=as_whole(seed, "seed", 0, 2**32)
    )
    settings = {"mixing": mixing, "strength": strength, "stripes": stripes, "count": count}
    state = state.with_(**{key: as_setting(key, value) for key, value in settings.items()})
    return _open_again((where, stem), state, gathered.left_out)


def search_form(
    palettes: Source | Iterable[Source] | None = None, *, palette: str = "", name: str = "search"
) -> SearchForm:
    """Open a form to search palettes with, and to send what is found to a wall.

    Parameters
    ----------
    palettes : path, Palette, or several, optional
        As :func:`open_desk` takes them.
    palette : str
        The one to begin with; the first otherwise.
    name : str
        Of the desk that the shortlist is sent to; see :func:`open_desk`.

    Returns
    -------
    SearchForm

    Raises
    ------
    ArgumentError, FileFormatError
    """
    members, left_out = gather_palettes(palettes)
    begun = _begun(Gathered(members, left_out), palette)
    members = tuple(sorted(members, key=lambda one: one.name != begun))

    def open_wall(offered: list[Palette], first: str) -> Desk:
        return open_desk(offered, palette=first, name=name)

    return SearchForm(members, open_wall, left_out)


def _begun(gathered: Gathered, palette: str) -> str:
    """Return the name of the palette to begin with: the first where that one was left out."""
    names = [one.name for one in gathered.palettes]
    if palette in names:
        return palette
    if palette and not any(line.startswith(f"{palette}.") for line in gathered.left_out):
        raise ArgumentError("palette", f"one of {', '.join(names)}", palette)
    return names[0]


def _open_again(key: tuple[Path, str], state: DeskState, left_out: tuple[str, ...]) -> Desk:
    """Open the desk; take over from one that is open under the same name."""
    before = _open.get(key)
    if before is None:
        desk = Desk(History(state), KeepFile(*key), left_out=left_out)
        _open[key] = _Opened(desk, state, None)
        return desk
    desk = before.desk.reopened(None if before.state == state else state, left_out)
    before.desk.retire()
    if before.replaced is not None:
        before.replaced.close()
    _open[key] = _Opened(desk, state, before.desk)
    return desk


def gather_palettes(palettes: Source | Iterable[Source] | None = None) -> Gathered:
    """Return palettes from paths, folders of CSV files, or as they are; without any, ours.

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
        palettes = _shipped()
    sources = [palettes] if isinstance(palettes, str | PathLike | Palette) else list(palettes)
    members: list[Palette] = []
    left_out: list[str] = []
    faults: list[Exception] = []
    for source in _files(sources):
        if isinstance(source, Palette):
            members.append(source)
            continue
        try:
            members.append(read_palette(source))
        except (CheckclothError, OSError) as error:
            faults.append(error)
            left_out.append(_line(source.name, error))
    if not members:
        raise faults[0] if faults else ArgumentError("palettes", "at least one palette", palettes)
    names = [one.name for one in members]
    for one in names:
        if names.count(one) > 1:
            raise ArgumentError("palettes", "of different names", words=f"{one!r} twice")
    return Gathered(tuple(members), tuple(left_out))


def _files(sources: list[Source]) -> list[Path | Palette]:
    files: list[Path | Palette] = []
    for source in sources:
        if isinstance(source, Palette):
            files.append(source)
        elif (path := as_path(source, "palettes")).is_dir():
            files += sorted(path.glob("*.csv"))
        else:
            files.append(path)
    return files


def _line(name: str, error: Exception) -> str:
    """Say in one line, beginning with the file's name, why it was left out."""
    words = error.strerror or str(error) if isinstance(error, OSError) else str(error)
    return words if words.startswith(f"{name}") else f"{name}: {words}"


def _shipped() -> Path:
    """The folder of palettes beside the notebook, above it, or of the kit's own repository."""
    for parent in (Path(), Path(".."), Path(__file__).parents[3]):
        if (parent / "palettes").is_dir():
            return parent / "palettes"
    raise ArgumentError(
        "palettes", "given", words="none, and no folder of that name beside this notebook"
    )
