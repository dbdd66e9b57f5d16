"""Reflectances out of a laboratory's files: CSV columns by wavelength, and CGATS text."""

from __future__ import annotations

import re
from collections.abc import Iterable
from os import PathLike

import numpy as np

from checkcloth.arguments import Floats, as_path
from checkcloth.colour.spectra.lights import to_bands
from checkcloth.errors import ArgumentError, CheckclothError, FileFormatError
from checkcloth.files.cgats import is_cgats, read_cgats
from checkcloth.files.csv_rows import as_value, read_rows

_BAND = re.compile(r"(?:spectral_?)?(?:nm|r)?_?(\d{3})(?: ?nm)?", re.IGNORECASE)
_NAMES = ("name", "sample_name", "sample_id", "shade", "colour", "tone")
_MOST_ROWS = 20_000
_EXPECTED = "a header with a name and columns such as R400, nm400 or SPECTRAL_NM400"


def read_spectra(path: str | PathLike[str], *, per_cent: bool = False) -> dict[str, Floats]:
    """Read reflectances by name.

    Parameters
    ----------
    path : path
        CSV whose columns are called ``R400``, ``nm400``, ``SPECTRAL_NM400`` or ``400``, or CGATS
        text with such fields; names stand under ``name``, ``SAMPLE_NAME`` or ``SAMPLE_ID``.
    per_cent : bool
        Whether they are written as per cents instead of fractions.

    Returns
    -------
    dict of str to ndarray, shape (36,)
        380 to 730 nm by 10 nm, other even grids interpolated; of several readings of one name
        the mean.

    Raises
    ------
    FileFormatError
        Naming the line: for values below 0, per cents among fractions, grids too coarse.

    Examples
    --------
    >>> from pathlib import Path
    >>> from tempfile import TemporaryDirectory
    >>> with TemporaryDirectory() as folder:
    ...     path = Path(folder, "yarns.csv")
    ...     head = ",".join(["name", *(f"R{nm}" for nm in range(400, 701, 20))])
    ...     size = path.write_text(head + "\\nSea" + ",0.25" * 16 + "\\n", "utf-8")
    ...     read_spectra(path)["Sea"].shape
    (36,)
    """
    file = as_path(path)
    rows = _of_cgats(file) if is_cgats(file) else _of_csv(file)
    found: dict[str, list[Floats]] = {}
    for name, line, nm, values in rows:
        reading = np.array(values) / (100 if per_cent else 1)
        try:
            found.setdefault(name, []).append(to_bands(nm, reading))
        except ArgumentError as error:
            raise error.at(file.name, line) from None
    if not found:
        raise FileFormatError("spectra", "one or more", words="none", source=file.name)
    return {name: np.mean(readings, axis=0) for name, readings in found.items()}


def spectral_columns(columns: Iterable[str], source: str) -> dict[str, float]:
    """Return columns of reflectance and their wavelengths, rising; nothing where there are none.

    Raises
    ------
    FileFormatError
        For fewer than six, or two of one wavelength.

    >>> [*spectral_columns(["name", *(f"R{nm}" for nm in range(700, 399, -50))], "x").values()]
    [400.0, 450.0, 500.0, 550.0, 600.0, 650.0, 700.0]
    """
    found = [column for column in columns if _BAND.fullmatch(column)]
    return _grid(found, source) if found else {}


_Reading = tuple[str, int, list[float], list[float]]


def _grid(columns: Iterable[str], source: str) -> dict[str, float]:
    """Columns of reflectance and their wavelengths, rising."""
    found = {column: match for column in columns if (match := _BAND.fullmatch(column))}
    nm = {column: float(match[1]) for column, match in found.items()}
    if len(nm) < 6 or len(set(nm.values())) < len(nm):
        words = ", ".join([*columns][:12])
        raise FileFormatError("header", _EXPECTED, words=words, source=source)
    return dict(sorted(nm.items(), key=lambda item: item[1]))


def _of_cgats(file: object) -> list[_Reading]:
    table = read_cgats(as_path(file))[0]
    grid = _grid(table.fields, table.source)
    label = next((field for field in map(str.upper, _NAMES) if field in table.fields), None)
    values = np.array([table.numbers(column) for column in grid]).T
    names = [str(k) for k in range(1, len(table.rows) + 1)]
    if label is not None:
        names = [row[table.fields.index(label)] for row in table.rows]
    return [
        (name, line, [*grid.values()], row)
        for name, line, row in zip(names, table.lines, values.tolist(), strict=True)
    ]


def _of_csv(file: object) -> list[_Reading]:
    path = as_path(file)
    rows = read_rows(path, empty=_EXPECTED)
    header = next(rows)
    grid = _grid(header.cells, path.name)
    label = next((name for name in _NAMES if name in header.cells), None)
    if label is None:
        raise header.fault("header", _EXPECTED, words="no name")
    out: list[_Reading] = []
    for row in rows:
        if len(out) >= _MOST_ROWS:
            raise row.fault("rows", f"at most {_MOST_ROWS}", words="more")
        name = row.cells.get(label, "")
        if not name:
            raise row.fault(label, "a name", words="nothing")
        try:
            values = [as_value(row, column, -1e6, 1e6) for column in grid]
        except CheckclothError as error:
            raise error.at(path.name, row.line) from None
        out.append((name, row.line, [*grid.values()], values))
    return out
