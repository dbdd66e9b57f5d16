"""Reflectances out of a laboratory's files: CSV columns by wavelength, CGATS text, CxF3."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from os import PathLike

import numpy as np

from checkcloth.arguments import Floats, as_path
from checkcloth.colour.ciede2000 import delta_e_2000
from checkcloth.colour.spectra.cxf import CxfObject, is_cxf, read_cxf
from checkcloth.colour.spectra.lights import spectral_lab, to_bands
from checkcloth.errors import ArgumentError, CheckclothError, FileFormatError, shown
from checkcloth.files.cgats import is_cgats, read_cgats
from checkcloth.files.csv_rows import Row, as_value, read_rows

_BAND = re.compile(r"(?:spectral_?)?(?:nm|r)?_?(\d{3})(?:[.,]0+)?(?: ?nm)?", re.IGNORECASE)
# What heads a column of wavelengths, where they stand one under another.
_DOWN = re.compile(r"(?:wavelengths?|lambda|λ)?\W*(?:in )?(?:nm)?\W*", re.IGNORECASE)
_NAMES = (
    "name", "sample_name", "sample name", "sample_id", "sample", "shade", "colour", "tone",
    "tone name",
)  # fmt: skip
_MOST_ROWS = 20_000
# So many wavelengths at least make a reflectance.
_FEWEST = 6
# No reflectance lies above this at every wavelength, and a table in per cent has something that
# does (choices of ours).
_ABOVE_WHITE = 1.2
# Readings of one name that lie farther apart than this are none of one patch (a choice of ours).
FAR_APART = 3.0
# Name, line, wavelengths, values.
_Reading = tuple[str, int, list[float], list[float]]
_EXPECTED = (
    "names and columns such as R400, nm400 or SPECTRAL_NM400, or wavelengths under “nm” and then "
    "a column a name"
)


def read_spectra(
    path: str | PathLike[str], *, per_cent: bool = False, specification: str = ""
) -> dict[str, Floats]:
    """Read reflectances by name.

    Parameters
    ----------
    path : path
        CSV whose columns are called ``R400``, ``nm400``, ``SPECTRAL_NM400`` or ``400``, or CGATS
        text with such fields, names under ``name``, ``SAMPLE_NAME`` or ``SAMPLE_ID`` (in CSV
        also under whatever heads the only other column, and titles may stand above the
        headings); CSV with wavelengths one under another in the first column, and a column for
        each name; or CxF3 (ISO 17972), which needs ``checkcloth[cxf]``. CSV is UTF-8, UTF-16 or
        Latin-1 (Windows-1252).
    per_cent : bool
        Whether they are written as per cents instead of fractions.
    specification : str
        Of CxF3, the id of the colour specification (such as a measuring mode) to read, where
        objects have several reflectances.

    Returns
    -------
    dict of str to ndarray, shape (36,)
        380 to 730 nm by 10 nm, other even grids interpolated; of several readings of one name
        the mean.

    Raises
    ------
    FileFormatError
        Naming the line: for values below 0, per cents among fractions, grids too coarse, two
        readings of one name that lie more than ΔE00 3 apart (D65, 2°). For fractions where
        per cents are said to be, and the reverse.

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
    if is_cxf(file):
        rows = _of_cxf(file.name, read_cxf(file), specification)
    else:
        rows = _of_cgats(file) if is_cgats(file) else _of_csv(file)
    _check_scale(rows, per_cent, file.name)
    found: dict[str, list[Floats]] = {}
    first: dict[str, int] = {}
    for name, line, nm, values in rows:
        reading = np.array(values) / (100 if per_cent else 1)
        try:
            bands = to_bands(nm, reading)
        except ArgumentError as error:
            raise error.at(file.name, line) from None
        readings = found.setdefault(name, [])
        if readings:
            _check_near(name, readings[0], bands, f"{file.name}, line {line}", first[name])
        first.setdefault(name, line)
        readings.append(bands)
    if not found:
        raise FileFormatError("spectra", "one or more", words="none", source=file.name)
    return {name: np.mean(readings, axis=0) for name, readings in found.items()}


def _check_scale(rows: list[_Reading], per_cent: bool, source: str) -> None:
    """Refuse fractions read as per cents, which would pass for blacks, and the reverse."""
    if per_cent:
        most = max((max(values) for *_, values in rows), default=0.0)
        if 0 < most <= _ABOVE_WHITE:
            raise FileFormatError(
                "values", "in per cent, as per_cent=True says", words=f"nothing above {most:g}",
                hint="; fractions? leave per_cent out", source=source,
            )  # fmt: skip
        return
    for _, line, _, values in rows:
        low, high = min(values), max(values)
        if low >= 0 and high <= 200 and (high > 2 or low > _ABOVE_WHITE):
            raise FileFormatError(
                "values", "fractions from 0 to 2", words=f"values from {low:g} to {high:g}",
                hint="; per cent? per_cent=True reads them", source=source, line=line,
            )  # fmt: skip


def _check_near(name: str, one: Floats, two: Floats, where: str, line: int) -> None:
    apart = float(delta_e_2000(*spectral_lab(np.array([one, two]))))
    if apart > FAR_APART:
        allowed = f"within ΔE00 {FAR_APART:g} of that on line {line}"
        argument = f"reading of {shown(name)}"
        raise FileFormatError(argument, allowed, words=f"{apart:.1f}", source=where)


def spectral_columns(columns: Iterable[str], source: str) -> dict[str, float]:
    """Return columns of reflectance and their wavelengths, rising; nothing where there are none.

    Raises
    ------
    FileFormatError
        For fewer than six, or two of one wavelength.

    >>> [*spectral_columns(["name", *(f"R{nm}" for nm in range(700, 399, -50))], "x").values()]
    [400.0, 450.0, 500.0, 550.0, 600.0, 650.0, 700.0]
    """
    found = _bands_among(columns)
    return _grid(found, source) if found else {}


def _bands_among(columns: Iterable[str]) -> dict[str, float]:
    """Columns of reflectance, and the wavelength of each."""
    return {column: float(match[1]) for column in columns if (match := _BAND.fullmatch(column))}


def _grid(columns: Iterable[str], source: str) -> dict[str, float]:
    """Columns of reflectance and their wavelengths, rising."""
    nm = _bands_among(columns)
    if len(nm) < _FEWEST or len(set(nm.values())) < len(nm):
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
    # Another encoding is read without a word: names that came out wrong fit no colour's.
    rows = read_rows(path, empty=_EXPECTED, is_header=_is_header, notes=[])
    header = next(rows)
    if len(_bands_among(header.cells)) < _FEWEST:
        return _of_columns(header, list(rows))
    try:
        grid = _grid(header.cells, path.name)
    except FileFormatError as error:
        raise error.at(path.name, header.line) from None
    others = [column for column in header.cells if column not in grid]
    label = next((name for name in _NAMES if name in others), None)
    if label is None and len(others) == 1:
        label = others[0]
    if label is None:
        words = f"no name among {', '.join(others[:12])}" if others else "no name"
        raise header.fault("header", _EXPECTED, words=words)
    out: list[_Reading] = []
    for row in rows:
        if len(out) >= _MOST_ROWS:
            raise row.fault("rows", f"at most {_MOST_ROWS}", words="more")
        name = row.cells.get(label, "")
        if not name:
            raise row.fault(label, "a name", words="nothing")
        out.append((name, row.line, [*grid.values()], _numbers(row, grid)))
    return out


def _is_header(cells: Sequence[str]) -> bool:
    down = len(cells) > 1 and cells[0] and _DOWN.fullmatch(cells[0])
    return bool(down) or len(_bands_among(cells)) >= _FEWEST


def _of_columns(header: Row, rows: list[Row]) -> list[_Reading]:
    """Readings whose wavelengths stand one under another in the first column."""
    first, *names = header.cells
    bands = [_BAND.fullmatch(row.cells.get(first, "")) for row in rows]
    if not names or len(rows) < _FEWEST or not any(bands):
        words = ", ".join([*header.cells.values()][:12])
        raise header.fault("header", _EXPECTED, words=words, hint=header.search_words)
    for row, band in zip(rows, bands, strict=True):
        if band is None:
            raise row.fault(first, "a wavelength such as 400", row.cells.get(first, ""))
    nm = [float(band[1]) for band in bands if band]
    order = sorted(range(len(nm)), key=nm.__getitem__)
    columns = zip(*(_numbers(rows[n], names) for n in order), strict=True)
    return [
        (header.cells[name], header.line, [nm[n] for n in order], [*column])
        for name, column in zip(names, columns, strict=True)
    ]


def _numbers(row: Row, columns: Iterable[str]) -> list[float]:
    try:
        return [as_value(row, column, -1e6, 1e6) for column in columns]
    except CheckclothError as error:
        raise error.at(row.source, row.line) from None


def _of_cxf(source: str, objects: list[CxfObject], specification: str) -> list[_Reading]:
    out = []
    for one in objects:
        own = [s for s in one.spectra if not specification or s.specification == specification]
        if len(own) > 1:
            listed = ", ".join(s.specification for s in own[:8])
            raise FileFormatError(
                f"object {shown(one.name)}", "with one reflectance, or specification= says which",
                words=f"those of {listed}", source=source, line=one.line,
            )  # fmt: skip
        out += [(one.name, one.line, spectrum.wavelengths, [*spectrum.values]) for spectrum in own]
    return out
