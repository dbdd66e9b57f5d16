"""Palettes as CSV files: read with the line of every fault, written whole or not at all."""

from __future__ import annotations

import csv
import io
from os import PathLike
from pathlib import Path

from checkcloth.base.asked import as_a, as_path
from checkcloth.base.csv_text import csv_text
from checkcloth.base.files import read_text, unsafe_cell, write_whole
from checkcloth.cloth.named_colour import ROLES, NamedColour
from checkcloth.cloth.palette import MOST_COLOURS, Palette
from checkcloth.colour.css import parse_css
from checkcloth.errors import CheckclothError, FileFormatError, shown

__all__ = ["palette_csv", "parse_palette_csv", "read_palette", "write_palette"]

MOST_BYTES = 1 << 20
_COLUMNS = ("name", "colour", "role", "note")


def parse_palette_csv(text: str, name: str, source: str = "palette") -> Palette:
    """Read the text of a palette CSV file.

    Parameters
    ----------
    text : str
        A header with ``name`` and ``colour``, optionally ``role`` and ``note``, in any
        order; then a colour a line. Empty lines are passed over.
    name : str
        Of the palette.
    source : str
        What errors call the file.

    Raises
    ------
    FileFormatError
        Naming the line, what was found and what is allowed.

    Examples
    --------
    >>> parse_palette_csv("name,colour\\nNight,#101820\\n", "coast").colours[0].hex
    '#101820'
    """
    reader = csv.reader(io.StringIO(text.removeprefix("\ufeff"), newline=""), strict=True)
    columns: list[str] = []
    colours: list[NamedColour] = []
    lines: dict[str, int] = {}
    try:
        for row in reader:
            if not any(cell.strip() for cell in row):
                continue
            where = f"{source}, line {reader.line_num}"
            if not columns:
                columns = [cell.strip().lower() for cell in row]
                _check_header(columns, where)
                continue
            if len(row) > len(columns):
                raise FileFormatError(
                    f"{where}: {len(columns)} values allowed ({','.join(columns)}), "
                    f"found {len(row)}; put quotes round a value with a comma"
                )
            cells = dict(zip(columns, (unsafe_cell(cell.strip()) for cell in row), strict=False))
            colour = _colour(cells, where)
            if len(colours) == MOST_COLOURS:  # before reading on, which would take long
                raise FileFormatError(f"{where}: at most {MOST_COLOURS} colours allowed")
            if colour.name in lines:
                raise FileFormatError(
                    f"{where}: name {shown(colour.name)} is already on line {lines[colour.name]}"
                )
            lines[colour.name] = reader.line_num
            colours.append(colour)
    except csv.Error as error:
        raise FileFormatError(f"{source}, line {reader.line_num}: not CSV ({error})") from None
    if not colours:
        raise FileFormatError(f"{source}: must hold at least one colour, found none")
    return Palette(name, colours)


def _check_header(columns: list[str], where: str) -> None:
    unknown = [column for column in columns if column not in _COLUMNS]
    if "name" not in columns or "colour" not in columns or unknown:
        hint = " (separated by commas, not semicolons)" if ";" in columns[0] else ""
        own = "; read_supplier_palette in checkcloth.explore.analysis reads a supplier's own list"
        raise FileFormatError(
            f"{where}: header must be name,colour and optionally role,note{hint}, "
            f"found {shown(','.join(columns))}{own}"
        )
    if len(set(columns)) != len(columns):
        raise FileFormatError(f"{where}: header names a column twice, {shown(','.join(columns))}")


def _colour(cells: dict[str, str], where: str) -> NamedColour:
    try:
        text = cells.get("colour", "")
        role = cells.get("role", "").lower()
        if role not in ROLES:
            raise FileFormatError(f"role must be ground, stripe or empty, found {shown(role)}")
        rgb = parse_css(text)
        return NamedColour(cells.get("name", ""), rgb, role, cells.get("note", ""), text)
    except CheckclothError as error:
        raise FileFormatError(f"{where}: {error}") from None


def palette_csv(palette: Palette) -> str:
    """Return the text of a palette CSV file; reading it gives the same palette.

    A name that a spreadsheet would take for a formula is written behind an apostrophe,
    which reading takes off again.

    >>> from checkcloth.cloth.palette import Palette
    >>> print(palette_csv(Palette("coast", ["navy", "teal"])), end="")
    name,colour,role,note
    navy,navy,,
    teal,teal,,
    """
    rows = ((colour.name, colour.text, colour.role, colour.note) for colour in palette)
    return csv_text(_COLUMNS, rows)


def read_palette(path: str | PathLike[str]) -> Palette:
    """Read a palette from a UTF-8 CSV file; it takes the name of the file.

    Parameters
    ----------
    path : path
        At most 1 MiB; see :func:`parse_palette_csv` for what it holds.

    Returns
    -------
    Palette

    Raises
    ------
    FileFormatError
        Naming the file and line, what was found and what is allowed.
    FileNotFoundError, PermissionError
        As the system says.

    Examples
    --------
    >>> from tempfile import TemporaryDirectory
    >>> with TemporaryDirectory() as folder:
    ...     file = write_palette(Palette("coast", ["navy", "teal"]), f"{folder}/coast.csv")
    ...     print(read_palette(file))
    palette coast: 2 colours
    """
    file = as_path(path)
    return parse_palette_csv(read_text(file, MOST_BYTES), file.stem, file.name)


def write_palette(palette: Palette, path: str | PathLike[str], *, overwrite: bool = False) -> Path:
    """Write a palette as a UTF-8 CSV file, whole or not at all; return its path.

    Parameters
    ----------
    palette : Palette
    path : path
        Of the file to write, in a folder that exists.
    overwrite : bool
        Whether a file there may be replaced.

    Returns
    -------
    Path

    Raises
    ------
    ExistsError
        If the file is there and ``overwrite`` is not set.

    Examples
    --------
    >>> from tempfile import TemporaryDirectory
    >>> with TemporaryDirectory() as folder:
    ...     write_palette(Palette("coast", ["navy", "teal"]), f"{folder}/coast.csv").name
    'coast.csv'
    """
    palette = as_a(palette, "palette", Palette)
    return write_whole(as_path(path), palette_csv(palette).encode("utf-8"), overwrite=overwrite)
