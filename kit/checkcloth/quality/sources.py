"""What a table can be made of: colourways, palettes, a folder of palettes, a CSV of colourways."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from os import PathLike
from pathlib import Path

from checkcloth.arguments import as_path
from checkcloth.cloth.check import MOST_STRIPES
from checkcloth.cloth.chosen import ChosenSet
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.palette import Palette, read_palette
from checkcloth.errors import ArgumentError, FileFormatError, shown
from checkcloth.files.csv_rows import read_rows
from checkcloth.quality.colourway_csv import Entry, count_lines, stream_colourways
from checkcloth.quality.supplier import read_supplier_palette
from checkcloth.quality.supplier_rows import is_supplier_header

__all__ = ["Source", "entries_of", "how_many", "palette_colourways"]

Source = str | PathLike[str] | Palette | Colourway | ChosenSet | Iterable[Colourway | Palette]


def palette_colourways(
    palette: Palette, strength: float = 0.5, mixing: str = "source-over"
) -> list[Colourway]:
    """Return the colourways that stand for a palette: all its stripes, on each of its grounds.

    Where no colour is marked as ground, each takes its turn under the others. Scores do
    not depend on the order of the stripes: every pair is compared.

    Raises
    ------
    ArgumentError
        For a palette of one colour, or of more than 24 stripe colours.

    Examples
    --------
    >>> [str(c.ground) for c in palette_colourways(Palette("pair", ["navy", "gold"]))]
    ['navy #000080', 'gold #ffd700']
    """
    out = []
    for ground in palette.grounds:
        stripes = [colour for colour in palette.stripes if colour.rgb != ground.rgb]
        if not 1 <= len(stripes) <= MOST_STRIPES:
            raise ArgumentError(
                f"palette {shown(palette.name)} must have 1 to {MOST_STRIPES} stripe colours "
                f"beside the ground {shown(ground.name)}, found {len(stripes)}; "
                "draw colourways from it instead"
            )
        name = f"{palette.name} on {ground.name}"
        out.append(Colourway(ground, stripes, strength, mixing, name))
    return out


def _kind(path: Path) -> str:
    """What a CSV file holds, by its header: a palette, a supplier's shades, or colourways."""
    header = next(read_rows(path, empty="a header of colourways or of a palette"))
    if "ground" in header.cells:
        return "colourways"
    if set(header.cells) <= {"name", "colour", "role", "note"}:
        return "palette" if "colour" in header.cells else "colourways"
    return "supplier" if is_supplier_header(header) else "colourways"


def _palette_files(folder: Path) -> list[Path]:
    files = sorted(file for file in folder.glob("*.csv") if file.is_file())
    if not files:
        raise FileFormatError(f"{folder.name}: must hold palettes as CSV files, found none")
    return files


def entries_of(
    source: Source, *, strength: float = 0.5, mixing: str = "source-over"
) -> Iterator[Entry]:
    """Yield what is to be scored, one by one.

    Parameters
    ----------
    source : Colourway, ChosenSet, Palette, an iterable of colourways and palettes, or a path
        A path is a folder of palettes, a palette file, a supplier's list of shades, or a
        CSV of colourways.
    strength, mixing :
        For palettes, which have none of their own.

    Raises
    ------
    ArgumentError, FileFormatError
        For a source of another kind, and for files with faults.

    Examples
    --------
    >>> [entry.strength for entry in entries_of(Colourway("white", ["navy"], 0.8))]
    [0.8]
    """
    if isinstance(source, str | PathLike):
        path = as_path(source, "source")
        if path.is_dir():
            for file in _palette_files(path):
                yield from entries_of(read_palette(file), strength=strength, mixing=mixing)
        elif (kind := _kind(path)) == "colourways":
            yield from stream_colourways(path)
        else:
            read = read_palette(path) if kind == "palette" else read_supplier_palette(path).palette
            yield from entries_of(read, strength=strength, mixing=mixing)
    elif isinstance(source, Palette):
        yield from map(Entry.of, palette_colourways(source, strength, mixing))
    elif isinstance(source, Colourway):
        yield Entry.of(source)
    elif isinstance(source, Iterable):
        for member in source:
            if not isinstance(member, Colourway | Palette):
                raise ArgumentError(
                    f"source must hold colourways or palettes, found {shown(member)}"
                )
            yield from entries_of(member, strength=strength, mixing=mixing)
    else:
        raise ArgumentError(
            "source",
            "a colourway, a palette, several of them, or the path of a folder of palettes or of a CSV file",
            source,
        )


def how_many(source: Source) -> int | None:
    """Return about how many colourways a source has, for progress; None where unknown.

    >>> how_many([Colourway("white", ["navy"])])
    1
    """
    if isinstance(source, str | PathLike):
        path = as_path(source, "source")
        return count_lines(path) - 1 if path.is_file() and _kind(path) == "colourways" else None
    if isinstance(source, ChosenSet | list | tuple):
        return len(source)
    return None
