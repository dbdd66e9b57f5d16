"""A palette: named colours to choose from."""

from __future__ import annotations

import io
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from difflib import get_close_matches
from os import PathLike
from pathlib import Path

import numpy as np
from numpy.typing import ArrayLike

from checkcloth.arguments import Floats, as_path, as_tuple, require_type
from checkcloth.cloth.named_colour import NamedColour, clean_text, moved_words
from checkcloth.colour.cie1931 import WAVELENGTHS
from checkcloth.colour.ciede2000 import delta_e_2000
from checkcloth.colour.css import parse_css
from checkcloth.colour.spaces import srgb_to_bytes
from checkcloth.colour.spectra.lights import to_bands
from checkcloth.colour.spectra.reading import spectral_columns
from checkcloth.errors import ArgumentError, CheckclothError, FileFormatError, shown
from checkcloth.files.csv_rows import Row, as_value, csv_text, read_rows, rows_of
from checkcloth.files.frames import FRAME_NAME, Table, is_frame
from checkcloth.files.html import OneLine, figure, image
from checkcloth.files.png import bands_png
from checkcloth.files.shipped import shipped
from checkcloth.files.whole import read_text, write_whole

MOST_COLOURS = 10_000


@dataclass(frozen=True, repr=False)
class Palette(OneLine):
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
            raise ArgumentError("colours", f"at most {MOST_COLOURS} colours", len(members))
        seen: set[str] = set()
        for colour in members:
            if colour.name in seen:
                words = f"{shown(colour.name)} twice"
                raise ArgumentError("colours", "of names of their own", words=words)
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

    def with_spectra(self, spectra: Mapping[str, ArrayLike]) -> Palette:
        """Return the palette with measured reflectances (36,) in place of the colours so named.

        Parameters
        ----------
        spectra : mapping of str to array_like, shape (36,)
            As :func:`~checkcloth.quality.read_spectra` gives them. Colours that are not there
            stay as they are; roles and notes stay.

        Raises
        ------
        ArgumentError
            For a name that the palette does not have, or what is no reflectance.

        Examples
        --------
        >>> Palette("coast", ["white", "navy"]).with_spectra({"navy": [0.05] * 36})["navy"].hex
        '#3f3f3f'
        """
        if not isinstance(spectra, Mapping):
            raise ArgumentError("spectra", "a mapping of names to 36 values", spectra)
        names = {colour.name: colour for colour in self}
        if strange := [str(name) for name in spectra if name not in names]:
            near = get_close_matches(strange[0], names, 3, 0.5) or [*names][:3]
            allowed = f"of colours of {self.name}, such as {', '.join(near)}"
            hint = f"; leave out what is not in it: {', '.join(strange[:8])}"
            raise ArgumentError("spectra", allowed, strange[0], hint=hint)
        return Palette(
            self.name,
            [
                NamedColour(one.name, (), one.role, one.note, reflectance=spectra[one.name])  # type: ignore[arg-type]
                if one.name in spectra
                else one
                for one in self
            ],
        )

    def __len__(self) -> int:
        return len(self.colours)

    def __iter__(self) -> Iterator[NamedColour]:
        return iter(self.colours)

    def __getitem__(self, name: str) -> NamedColour:
        for colour in self.colours:
            if colour.name == name:
                return colour
        names = ", ".join(colour.name for colour in self.colours[:8])
        raise ArgumentError("name", f"one of {names}{' …' if len(self) > 8 else ''}", name)

    def __str__(self) -> str:
        noun = "colour" if len(self) == 1 else "colours"
        moved = moved_words(self.colours)
        return f"palette {self.name}: {len(self)} {noun}{f', {moved}' if moved else ''}"

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
# Written for measured colours; read are other grids too.
_BANDS = tuple(f"R{nm:.0f}" for nm in WAVELENGTHS)
# ΔE00 between the colour and the reflectance of one row, above which they are two colours.
_ONE_ROW = 5.0
# Channels this near are one colour: less than a step of 8 bits.
_SAME = 1e-3


_SUPPLIER = "; read_supplier_palette in checkcloth.quality reads a supplier's own list"
_SPECTRA = (
    "; read_spectra in checkcloth.quality reads an instrument's table, for palette.with_spectra"
)


def parse_palette_csv(text: str, name: str, source: str = "palette") -> Palette:
    """Read the text of a palette CSV file.

    Parameters
    ----------
    text : str
        A header with ``name`` and ``colour``, optionally ``role`` and ``note``, in any
        order; then a colour a line. Columns ``R380`` … ``R730`` (or ``nm400``, another even
        grid) are reflectances as fractions; ``colour`` may be empty where a row has one. See
        :func:`~checkcloth.files.csv_rows.rows_of` for what is let through.
    name : str
        Of the palette.
    source : str
        What errors call the file.

    Examples
    --------
    >>> parse_palette_csv("name,colour\\nNight,#101820\\n", "coast").colours[0].hex
    '#101820'
    """
    lines = io.StringIO(text.removeprefix("\ufeff"), newline="")
    return _palette_of(rows_of(lines, source, empty="at least one colour"), name, source)


def _palette_of(rows: Iterator[Row], name: str, source: str) -> Palette:
    header = next(rows)
    grid = _check_header(header)
    colours: dict[str, NamedColour] = {}
    line_of: dict[str, int] = {}
    for row in rows:
        colour = _colour(row, grid)
        if len(colours) == MOST_COLOURS:  # before reading on, which would take long
            raise row.fault("file", f"one of at most {MOST_COLOURS} colours", words="more")
        if colour.name in colours:
            hint = f", already on line {line_of[colour.name]}"
            raise row.fault("name", "that of one colour only", colour.name, hint=hint)
        colours[colour.name], line_of[colour.name] = colour, row.line
    if not colours:
        allowed = "one that holds at least one colour"
        raise FileFormatError("file", allowed, words="none", source=source)
    return Palette(name, colours.values())


def _check_header(header: Row) -> dict[str, float]:
    """Check the columns; return those of reflectance, with their wavelengths."""
    columns = header.cells
    grid = spectral_columns(columns, header.source)
    if not {"name", "colour"} <= columns.keys() or columns.keys() - {*_COLUMNS, *grid}:
        raise header.fault(
            "header",
            "name,colour and optionally role,note, and reflectance as R380 … R730",
            ",".join(columns),
            hint=_SPECTRA if grid else _SUPPLIER,
        )
    return grid


def _colour(row: Row, grid: dict[str, float]) -> NamedColour:
    name, text, role, note = (row.cells.get(column, "") for column in _COLUMNS)
    try:
        if any(row.cells.get(column, "") for column in grid):
            return _measured(row, grid, name, text, role.lower(), note)
        return NamedColour(name, parse_css(text), role.lower(), note, text)
    except CheckclothError as error:
        raise error.at(row.source, row.line) from None


def _measured(
    row: Row, grid: dict[str, float], name: str, text: str, role: str, note: str
) -> NamedColour:
    """A colour of a row with a reflectance; its text, if any, says the same for who reads it."""
    values = [as_value(row, column, 0, 200) for column in grid]
    nm = [*grid.values()]
    # What is on the grid of the kit stays as it is to the last digit.
    bands = values if nm == WAVELENGTHS.tolist() else to_bands(nm, values).tolist()
    made = NamedColour(name, role=role, note=note, reflectance=tuple(bands))
    if not text:
        return made
    typed = NamedColour(name, parse_css(text), text=text)
    apart = float(delta_e_2000(typed.lab, made.lab))
    if apart > _ONE_ROW:
        allowed = f"empty, or the colour of the reflectance, {made.hex}"
        raise row.fault("colour", allowed, words=f"{text}, ΔE00 {apart:.1f} away")
    same = max(abs(a - b) for a, b in zip(typed.rgb, made.rgb, strict=True)) < _SAME
    return replace(made, text=text) if same else made


def palette_csv(palette: Palette) -> str:
    """Return the text of a palette CSV file; reading it gives the same palette.

    A name that a spreadsheet would take for a formula is written behind an apostrophe,
    which reading takes off again.

    >>> print(palette_csv(Palette("coast", ["navy", "teal"])), end="")
    name,colour,role,note
    navy,navy,,
    teal,teal,,
    """
    rows = ((colour.name, colour.text, colour.role, colour.note) for colour in palette)
    if all(colour.reflectance is None for colour in palette):
        return csv_text(_COLUMNS, rows)
    blank = ("",) * len(_BANDS)
    bands = (
        [*map(repr, colour.reflectance)] if colour.reflectance else blank for colour in palette
    )
    return csv_text(
        (*_COLUMNS, *_BANDS), ((*row, *values) for row, values in zip(rows, bands, strict=True))
    )


def read_palette(path: Table) -> Palette:
    """Read a palette from a UTF-8 CSV file; it takes the name of the file.

    Parameters
    ----------
    path : path or pandas DataFrame
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
    if is_frame(path):
        return _palette_of(read_rows(path, empty="at least one colour"), "palette", FRAME_NAME)
    file = as_path(path)
    return parse_palette_csv(read_text(file, MOST_BYTES), file.stem, file.name)


def palettes() -> dict[str, Palette]:
    """Return the palettes that ship with the kit, by name.

    They are briefs of an invented client; read anew, so that changing what is returned
    changes nothing else.

    Returns
    -------
    dict of str to Palette

    Raises
    ------
    FileFormatError
        If the kit was installed without them.

    Examples
    --------
    >>> palettes()["tea-table"].colours[0].name
    'Starched Linen'
    """
    found = map(read_palette, sorted(shipped("palettes").glob("*.csv")))
    return {palette.name: palette for palette in found}


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
