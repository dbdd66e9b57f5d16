"""Opening a desk: from palettes to the widget, and what becomes of one that is open already."""

from __future__ import annotations

from collections.abc import Iterable
from os import PathLike
from pathlib import Path
from typing import Any

from checkcloth.arguments import as_number, as_whole
from checkcloth.cloth.check import Check
from checkcloth.cloth.length import Length
from checkcloth.cloth.mixing import find_mixing
from checkcloth.cloth.palette import Palette, read_palette
from checkcloth.desk.desk import Desk
from checkcloth.desk.keep_file import KeepFile
from checkcloth.desk.state.state import MOST_SHOWN, DeskState
from checkcloth.errors import ArgumentError, shown

__all__ = ["gather_palettes", "open_desk"]

_Source = str | PathLike[str] | Palette

# The desk that is open under each name and folder, and the one it replaced.
_open: dict[tuple[Path, str], tuple[Desk, dict[str, Any], Desk | None]] = {}


def open_desk(
    palettes: _Source | Iterable[_Source],
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
    palettes : path, Palette, or several
        A folder stands for all the CSV files in it.
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
        For values out of range, no palettes, or files that are none.
    """
    members = gather_palettes(palettes)
    names = [one.name for one in members]
    if palette and palette not in names:
        raise ArgumentError("palette", f"one of {', '.join(names)}", palette)
    stem = "".join(c if c.isalnum() or c in "-_" else "-" for c in name)
    stem = stem[:60].strip("-") or "explore"
    where = Path(folder).resolve()
    if not where.is_dir():
        raise ArgumentError("folder", "there", str(folder))
    state = DeskState(
        Check(size, stripes).size,
        palette=palette or names[0],
        mixing=find_mixing(mixing).name,
        strength=as_number(strength, "strength", 0, 1),
        stripes=as_whole(stripes, "stripes", 1, 12),
        count=as_whole(count, "count", 1, MOST_SHOWN),
        seed=as_whole(seed, "seed", 0, 2**32),
    )
    return _open_again((where, stem), state, members)


def _open_again(key: tuple[Path, str], state: DeskState, palettes: list[Palette]) -> Desk:
    """Open the desk; take over from one that is open under the same name."""
    asked = {"state": state, "palettes": palettes}
    before, _, replaced = found if (found := _open.get(key)) else (None, None, None)
    if before is None:
        desk = Desk(state, palettes, KeepFile(*key))
    else:
        same = found is not None and found[1] == asked
        desk = before.reopened(None if same else state, palettes)
        before.retire()
        if replaced is not None:
            replaced.close()
    _open[key] = (desk, asked, before)
    return desk


def gather_palettes(palettes: _Source | Iterable[_Source]) -> list[Palette]:
    """Return palettes from paths, folders of CSV files, or as they are; each name once.

    >>> [palette.name for palette in gather_palettes(Palette("coast", ["navy", "teal"]))]
    ['coast']
    """
    sources = [palettes] if isinstance(palettes, str | PathLike | Palette) else list(palettes)
    members: list[Palette] = []
    for source in sources:
        if isinstance(source, Palette):
            members.append(source)
        elif Path(source).is_dir():
            members += [read_palette(path) for path in sorted(Path(source).glob("*.csv"))]
        else:
            members.append(read_palette(source))
    if not members:
        raise ArgumentError("palettes", "at least one palette", palettes)
    names = [one.name for one in members]
    if len(set(names)) < len(names):
        raise ArgumentError(f"palettes must have names of their own, found {shown(names)}")
    return members
