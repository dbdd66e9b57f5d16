"""A palette: named colours to choose from."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from os import PathLike
from pathlib import Path

import numpy as np

from checkcloth.arguments import Floats, as_path, as_tuple, require_type
from checkcloth.cloth.named_colour import ROLES, NamedColour, clean_text
from checkcloth.colour.css import parse_css
from checkcloth.colour.spaces import srgb_to_bytes
from checkcloth.errors import ArgumentError, CheckclothError, FileFormatError, shown
from checkcloth.files.csv_rows import csv_text
from checkcloth.files.html import figure, image
from checkcloth.files.png import bands_png
from checkcloth.files.whole import read_text, unsafe_cell, write_whole

__all__ = [
    "MOST_COLOURS",
    "Palette",
    "palette_csv",
    "parse_palette_csv",
    "read_palette",
    "write_palette",
]

MOST_COLOURS = 10_000


@dataclass(frozen=True, repr=False)
class Palette:
    """Named colours, in an order of their own; each name once.

    Parameters
    ----------
    name : str
    colours : iterable of NamedColour or CSS Color 4 text

    Raises
    ------
    ArgumentError
        For no colours at all, too many, or two of the same name.
    ColourError
        For text that is no opaque CSS colour.

    Examples
    --------
    >>> palette = Palette("harbour", ["navy", "#f4ecd8"])
    >>> palette["navy"].hex
    '#000080'
    """

    name: str
    colours: tuple[NamedColour, ...]

    def __init__(self, name: str, colours: Iterable[NamedColour | str]) -> None:
        members = tuple(
            NamedColour.of(colour) for colour in as_tuple(colours, "colours", of="colours")
        )
        if not members:
            raise ArgumentError("colours", "at least one colour", words="none")
        if len(members) > MOST_COLOURS:
            raise ArgumentError(
                f"colours must hold at most {MOST_COLOURS} colours, found {len(members)}"
            )
        seen: set[str] = set()
        for colour in members:
            if colour.name in seen:
                raise ArgumentError(
                    f"colours must have names of their own, found {shown(colour.name)} twice"
                )
            seen.add(colour.name)
        object.__setattr__(self, "name", clean_text(name, "name"))
        object.__setattr__(self, "colours", members)

    @property
    def grounds(self) -> tuple[NamedColour, ...]:
        """The colours marked as ground; where none is marked, every colour."""
        return tuple(c for c in self.colours if c.role == "ground") or self.colours

    @property
    def stripes(self) -> tuple[NamedColour, ...]:
        """The colours not marked as ground; where all are, every colour."""
        return tuple(c for c in self.colours if c.role != "ground") or self.colours

    @property
    def rgb(self) -> Floats:
        """Encoded sRGB of the colours, shape (n, 3)."""
        return np.array([colour.rgb for colour in self.colours])

    def __len__(self) -> int:
        return len(self.colours)

    def __iter__(self) -> Iterator[NamedColour]:
        return iter(self.colours)

    def __getitem__(self, name: str) -> NamedColour:
        for colour in self.colours:
            if colour.name == name:
                return colour
        raise ArgumentError(
            "name",
            f"one of {', '.join(c.name for c in self.colours[:8])}{(' …' if len(self) > 8 else '')}",
            name,
        )

    def __str__(self) -> str:
        noun = "colour" if len(self) == 1 else "colours"
        return f"palette {self.name}: {len(self)} {noun}"

    def __repr__(self) -> str:
        return f"<{self}>"

    def _repr_html_(self) -> str:
        across = min(len(self), 24)
        rows = -(-len(self) // across)
        cells = np.full((rows * across, 3), 255, dtype=np.uint8)
        cells[: len(self)] = srgb_to_bytes(self.rgb)
        png = bands_png(
            cells.reshape(rows, across, 3),
            np.repeat(np.arange(across), 36),
            np.repeat(np.arange(rows), 36),
        )
        names = ", ".join(map(str, self.colours))
        picture = image(png, f"{self}: {names}", width=across * 36, height=rows * 36)
        return figure(picture, f"{self} — {names}")


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
        own = "; read_supplier_palette in checkcloth.quality reads a supplier's own list"
        raise FileFormatError(
            "header",
            f"name,colour and optionally role,note{hint}",
            ",".join(columns),
            source=where,
            hint=own,
        )
    if len(set(columns)) != len(columns):
        raise FileFormatError(f"{where}: header names a column twice, {shown(','.join(columns))}")


def _colour(cells: dict[str, str], where: str) -> NamedColour:
    try:
        text = cells.get("colour", "")
        role = cells.get("role", "").lower()
        if role not in ROLES:
            raise FileFormatError("role", "ground, stripe or empty", role)
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
    palette = require_type(palette, "palette", Palette)
    return write_whole(as_path(path), palette_csv(palette).encode("utf-8"), overwrite=overwrite)
