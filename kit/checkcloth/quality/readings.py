"""Lab readings of a strike-off, or of an approved standard: the CSV file, and an empty form.

Columns: ``tone``, ``L*``, ``a*``, ``b*`` (the stars may be left out), or L*C*h, or XYZ, and
optionally ``illuminant``, ``observer``, ``reading`` (a number that tells readings of a tone
apart) and ``note``; others are passed over, and it is said. Illuminant and observer must be
stated, there or by whoever reads the file.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from difflib import get_close_matches
from os import PathLike
from pathlib import Path
from typing import Any, ClassVar, TypeVar

import numpy as np

from checkcloth.arguments import Floats, as_path, as_whole, require_type
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.tones import canonical_tone
from checkcloth.colour.illuminant import as_observer
from checkcloth.colour.inked import Inked
from checkcloth.colour.spectra.cxf import is_cxf, read_cxf
from checkcloth.colour.spectra.lights import as_light, spectral_lab
from checkcloth.colour.spectra.reading import read_spectra, spectral_columns
from checkcloth.errors import ArgumentError, FileFormatError, shown
from checkcloth.files.cgats import is_cgats, read_cgats
from checkcloth.files.csv_rows import Row, csv_text, read_rows, without_gaps
from checkcloth.files.frames import Definition, Table, Tabular, as_table, table_name
from checkcloth.files.whole import write_whole
from checkcloth.quality.lab_columns import (
    MEASURED_COLUMNS,
    check_given,
    check_scale,
    columns_hint,
    fault_notes,
    given_columns,
    header_words,
    lab_of,
    lacking,
    match_columns,
    spaces_in,
)

# (warp, weft) of a tone; canonical where several positions have the same tone.
ToneIndex = tuple[int, int]

_T = TypeVar("_T", str, int)

_WORDS = {
    "tone": ("tone", "tone name", "sample", "sample name"),
    **MEASURED_COLUMNS,
    "illuminant": ("illuminant", "light"),
    "observer": ("observer",),
    "reading": ("reading",),
    "note": ("note", "notes", "remark", "remarks"),
}


@dataclass(frozen=True)
class Reading:
    """One reading."""

    tone: str  # as it was written
    lab: tuple[float, float, float]  # under the illuminant and observer of its set
    line: int


@dataclass(frozen=True, repr=False)
class Readings(Tabular):
    """Readings made under one illuminant and one observer.

    Attributes
    ----------
    source : str
        File name.
    illuminant : str
        One of ``LIGHTS``.
    observer : int
        2 or 10, in degrees.
    readings : tuple of Reading
    repeats : tuple of (int, int)
        Lines that hold the very same numbers for the same tone as an earlier line.
    empty : tuple of int
        Lines that name a tone and hold no figures; passed over.
    unused : tuple of str
        Columns that are not known; passed over.
    notes : tuple of str
        What else whoever trusts the readings must know: encoding, titles, faults.
    """

    source: str
    illuminant: str
    observer: int
    readings: tuple[Reading, ...]
    repeats: tuple[tuple[int, int], ...] = ()
    empty: tuple[int, ...] = ()
    unused: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()

    made_by: ClassVar[str] = "read_readings"
    definitions: ClassVar[tuple[Definition, ...]] = (
        Definition("tone", "name of the tone", "as it was written"),
        *(
            Definition(
                f"{axis}*", f"{axis}* that was read",
                "as it was written, or worked out from L*C*h, XYZ or reflectance",
                source="CIELAB: ISO/CIE 11664-4",
            )
            for axis in "Lab"
        ),
        Definition("illuminant", "the light that it is for", "one of LIGHTS"),
        Definition("observer", "the observer that it is for", "2 or 10, in degrees"),
        Definition("line", "line of the file", "from 1, the header too"),
    )  # fmt: skip

    @property
    def columns(self) -> dict[str, Any]:
        """Values by column, a row a reading; :func:`read_readings` takes its frame again."""
        count = len(self.readings)
        lab = np.array([reading.lab for reading in self.readings]).reshape(-1, 3)
        return {
            "tone": [reading.tone for reading in self.readings],
            **{axis: lab[:, n] for n, axis in enumerate(("L*", "a*", "b*"))},
            "illuminant": [self.illuminant] * count,
            "observer": [self.observer] * count,
            "line": [reading.line for reading in self.readings],
        }

    def __len__(self) -> int:
        return len(self.readings)

    @property
    def conditions(self) -> str:
        """Illuminant and observer, as trade writes them: ``D65/10°``."""
        return f"{self.illuminant}/{self.observer}°"

    def by_tone(self, colourway: Colourway) -> dict[ToneIndex, Floats]:
        """Return the readings (K, 3) of each tone, by its canonical (warp, weft) index.

        Raises
        ------
        FileFormatError
            Naming the line of a tone that the colourway does not have, and what is near.
        """
        indices = tone_indices(colourway)
        found: dict[ToneIndex, list[tuple[float, float, float]]] = {}
        for reading in self.readings:
            index = indices.get(_plain(reading.tone))
            if index is None:
                near = get_close_matches(_plain(reading.tone), indices, 3, 0.6)
                names = [colourway.tone_label(*indices[name]) for name in near or [*indices][:3]]
                raise FileFormatError(
                    "tone",
                    f"one of the specification's, such as {', '.join(map(repr, names))}",
                    reading.tone,
                    source=self.source,
                    line=reading.line,
                    hint=" (write_blank_readings makes a form with every tone's name)",
                )
            found.setdefault(index, []).append(reading.lab)
        return {index: np.array(found[index]) for index in sorted(found)}

    def __str__(self) -> str:
        noun = "reading" if len(self) == 1 else "readings"
        return f"{self.source}: {len(self)} {noun} under {self.conditions}"


def _plain(name: str) -> str:
    return " ".join(name.casefold().split())


def tone_indices(colourway: Colourway) -> dict[str, ToneIndex]:
    """Return the canonical (warp, weft) of each tone by its name in lower case.

    Where warp and weft make the same tone one name does for both; where crossings are
    the same both ways, either order of names will do. Two different tones of one name
    are refused.

    >>> list(tone_indices(Colourway("white", ["navy"])))
    ['white', 'navy on white', 'navy over navy']
    """
    tones = colourway.tones
    indices: dict[str, ToneIndex] = {}
    for warp, weft in np.ndindex(*tones.shape[:2]):
        index = canonical_tone(warp, weft, colourway.symmetry)
        name = _plain(colourway.tone_label(warp, weft))
        other = indices.setdefault(name, index)
        if other != index and not np.allclose(tones[other], tones[index], rtol=0, atol=1e-9):
            raise ArgumentError(
                "colourway",
                "one whose tones have names of their own",
                words=f"{shown(name)} for two; name its colours differently",
            )
    return indices


def _columns(header: Row, given: Mapping[str, str]) -> tuple[dict[str, str], tuple[str, ...]]:
    """Which column holds what, and the columns that are not known."""
    check_given(header, given)
    found, rest = match_columns(list(header.cells), _WORDS, given)
    for heading, name in rest:
        if name:
            raise header.fault(
                "header",
                f"columns each named once ({name})",
                words=f"{shown(found[name])} and {shown(heading)}",
            )
    missing = [] if "tone" in found else ["tone"]
    if not spaces_in(found):
        missing += [axis for axis in ("l*", "a*", "b*") if axis not in found]
    if missing:
        if spectral_columns(header.cells, header.source):
            hint = "; for reflectances see readings_from_spectra"
        else:
            hint = columns_hint(header, found, missing[0]) + "; RGB is no measurement"
        raise header.fault(
            "header",
            "tone, and L*, a* and b* (or L*C*h, or XYZ)",
            words=header_words(header, missing),
            hint=hint,
        )
    return found, tuple(heading for heading, _ in rest)


def _stated(
    row: Row, columns: Mapping[str, str], name: str, given: _T | None, read: Callable[..., _T]
) -> _T:
    """What a row states, or else what the caller does; both must agree."""
    text = row.cells.get(columns.get(name, ""))
    try:
        own = None if text is None else read(text, name)
    except ArgumentError as error:
        raise error.at(row.source, row.line) from None
    if own is not None and given is not None and own != given:
        raise row.fault(name, f"{given} as stated for the file", words=str(own))
    stated = given if own is None else own
    if stated is None:
        raise row.fault(name, "stated, in a column or as an argument", words="nothing")
    return stated


@dataclass
class _Reader:
    """What has been read so far, and what every further row is held against."""

    columns: Mapping[str, str]
    illuminant: str | None
    observer: int | None
    readings: list[Reading] = field(default_factory=list)
    repeats: list[tuple[int, int]] = field(default_factory=list)
    empty: list[int] = field(default_factory=list)
    # Lines of the readings that have a number, and of all, by what must not come twice.
    numbered: dict[tuple[str, str], int] = field(default_factory=dict)
    known: dict[tuple[str, tuple[float, float, float]], int] = field(default_factory=dict)

    def add(self, row: Row) -> None:
        tone = row.cells.get(self.columns["tone"], "")
        if not tone:
            raise row.fault("tone", "a tone's name", words="nothing")
        if len(lacking(row, self.columns)) == 3:
            self.empty.append(row.line)
            return
        self.illuminant = _stated(row, self.columns, "illuminant", self.illuminant, as_light)
        self.observer = _stated(row, self.columns, "observer", self.observer, as_observer)
        lab = lab_of(row, self.columns, self.illuminant, self.observer)
        number = row.cells.get(self.columns.get("reading", ""))
        if number is not None:
            earlier = self.numbered.setdefault((_plain(tone), number), row.line)
            if earlier != row.line:
                raise row.fault(
                    "reading",
                    f"a number of its own for each reading of {shown(tone)}",
                    number,
                    hint=f" already on line {earlier}",
                )
        earlier = self.known.setdefault((_plain(tone), lab), row.line)
        if earlier != row.line:
            self.repeats.append((earlier, row.line))
        self.readings.append(Reading(tone, lab, row.line))


def read_readings(
    path: Table,
    *,
    illuminant: str | None = None,
    observer: int | None = None,
    columns: Mapping[str, str] | None = None,
    faults: list[FileFormatError] | None = None,
) -> Readings:
    """Read Lab readings; every fault is named with its line.

    Parameters
    ----------
    path : path or pandas DataFrame
        CSV as :func:`read_supplier_palette` takes it; CGATS text with ``SAMPLE_NAME`` and
        ``LAB_L``, ``LAB_A``, ``LAB_B``; or CxF3 (ISO 17972) with CIELAB, which needs
        ``checkcloth[cxf]``.
    illuminant, observer :
        One of ``LIGHTS``, 2 or 10; needed where the file has no such column.
    columns : mapping of str to str, optional
        Headings of the file that are not known, by ours: ``{"L*": "Helligkeit"}``.
    faults : list, optional
        If given, faulty lines are put here and passed over instead of raised.

    Returns
    -------
    Readings

    Raises
    ------
    FileFormatError
        For missing columns, units in cells, a reading with a part missing, L* outside
        0–105, a* or b* outside ±150, a scale of 0 to 1, two readings of a tone with the same
        number, mixed illuminants or observers. The message lists every fault of the file.
    ArgumentError
        For another illuminant or observer, columns that the file does not have.

    >>> from tempfile import TemporaryDirectory
    >>> with TemporaryDirectory() as folder:
    ...     path = Path(folder, "a.csv")
    ...     size = path.write_text("tone,L*,a*,b*\\nwhite,99.5,0,1\\n", "utf-8")
    ...     read_readings(path, illuminant="D65", observer=2)
    <a.csv: 1 reading under D65/2°>
    """
    light = None if illuminant is None else as_light(illuminant, "illuminant")
    degrees = None if observer is None else as_observer(observer)
    table = as_table(path)
    given = given_columns(columns, _WORDS)
    notes: list[str] = []
    found: list[FileFormatError] = []
    if isinstance(table, Path) and is_cgats(table):
        rows = _cgats_rows(table)
    elif isinstance(table, Path) and is_cxf(table):
        rows = _cxf_rows(table)
    else:
        rows = read_rows(
            table,
            empty="tone, L*, a*, b* and readings",
            faults=found,
            is_header=lambda cells: _has_readings(cells, given),
            notes=notes,
        )
    known, unused = _columns(next(rows), given)
    reader = _read_all(list(rows), _Reader(known, light, degrees), found)
    found.sort(key=lambda fault: fault.line or 0)
    if found and faults is None:
        raise found[0].with_others(found[1:])
    if faults is not None:
        faults += found
        notes += fault_notes(found)
    if not reader.readings or reader.illuminant is None or reader.observer is None:
        raise FileFormatError(
            "readings", "at least one with L*, a* and b*", words="none", source=table_name(table)
        )
    return Readings(
        table_name(table),
        reader.illuminant,
        reader.observer,
        tuple(reader.readings),
        tuple(reader.repeats),
        tuple(reader.empty),
        unused,
        tuple(notes),
    )


def readings_from_spectra(
    path: str | PathLike[str],
    *,
    illuminant: str = "D65",
    observer: int = 2,
    per_cent: bool = False,
) -> Readings:
    """Read a strike-off's reflectances as Lab readings under the light that is wanted.

    Lab that an instrument gave for 10° or another light cannot be turned into D65 and 2°;
    its spectra can, exactly.

    Parameters
    ----------
    path : path
        See :func:`checkcloth.colour.spectra.reading.read_spectra`; names are those of tones.
    illuminant, observer :
        As :func:`read_readings` takes them.
    per_cent : bool
        Whether reflectance is written in per cent.

    >>> from tempfile import TemporaryDirectory
    >>> with TemporaryDirectory() as folder:
    ...     path = Path(folder, "a.csv")
    ...     head = ",".join(["tone", *(f"R{nm}" for nm in range(400, 701, 20))])
    ...     row = "white" + ",1" * 16
    ...     size = path.write_text(head + "\\n" + row, "utf-8")
    ...     readings_from_spectra(path).readings[0].lab[0]
    100.0
    """
    light, degrees = as_light(illuminant, "illuminant"), as_observer(observer)
    file = as_path(path)
    spectra = read_spectra(file, per_cent=per_cent)
    labs = spectral_lab(np.array([*spectra.values()]), light, degrees) + 0.0
    return Readings(
        file.name,
        light,
        degrees,
        tuple(
            Reading(tone, (lab[0], lab[1], lab[2]), line)
            for line, (tone, lab) in enumerate(zip(spectra, labs.tolist(), strict=True), start=2)
        ),
    )


def _cgats_rows(file: Path) -> Iterator[Row]:
    """The rows of a CGATS table as those of a CSV file with our columns, its header first."""
    table = read_cgats(file)[0]
    name = "SAMPLE_NAME" if "SAMPLE_NAME" in table.fields else "SAMPLE_ID"
    columns = {name: "tone", "LAB_L": "l*", "LAB_A": "a*", "LAB_B": "b*"}
    heads = [columns.get(field_, field_.lower()) for field_ in table.fields]
    whole = {
        key.lower(): table.keywords[key]
        for key in ("ILLUMINANT", "OBSERVER")
        if table.keywords.get(key)
    }
    yield Row({head: head for head in [*heads, *whole]}, 1, table.source, True)
    for cells, line in zip(table.rows, table.lines, strict=True):
        filled = {head: cell for head, cell in zip(heads, cells, strict=True) if cell}
        yield Row(whole | filled, line, table.source, True)


def _cxf_rows(file: Path) -> Iterator[Row]:
    """The objects of a CxF3 file as rows of a CSV file with our columns, its header first."""
    objects = [one for one in read_cxf(file) if one.lab is not None]
    if not objects:
        raise FileFormatError(
            "file", "CxF3 with CIELAB values", words="none", source=file.name,
            hint=" (readings_from_spectra makes Lab of reflectances)",
        )  # fmt: skip
    heads = ["tone", "l*", "a*", "b*", "illuminant", "observer"]
    yield Row({head: head for head in heads}, 1, file.name, True)
    for one in objects:
        cells = [one.name, *map(str, one.lab or ()), one.illuminant, one.observer]
        filled = {head: cell for head, cell in zip(heads, cells, strict=True) if cell}
        yield Row(filled, one.line, file.name, True)


def _has_readings(cells: Sequence[str], given: Mapping[str, str]) -> bool:
    found = match_columns(cells, _WORDS, given)[0]
    return "tone" in found and bool(spaces_in(found))


def _read_all(rows: Sequence[Row], reader: _Reader, faults: list[FileFormatError]) -> _Reader:
    """Read every row that can be read; what is wrong with the others goes to ``faults``."""
    for row in rows:
        gaps = (own for name, own in reader.columns.items() if name not in ("tone", "note"))
        without_gaps(row, gaps)
    check_scale(rows, reader.columns)
    for row in rows:
        try:
            reader.add(row)
        except FileFormatError as fault:
            faults.append(fault)
    return reader


def write_blank_readings(
    colourway: Colourway | Inked,
    path: str | PathLike[str],
    *,
    readings: int = 3,
    illuminant: str | None = None,
    observer: int | None = None,
    overwrite: bool = False,
) -> Path:
    """Write a CSV with every tone's name and empty cells, for whoever measures to fill.

    Of stripes given as inks of a print condition, of what that prints. Illuminant and observer
    stand in every line where they are given.

    Raises
    ------
    ExistsError
        If the file is there and ``overwrite`` is not set.
    ArgumentError
        If two different tones have the same name, or for readings outside 1–1000, and lights and
        observers that are not known.

    >>> from tempfile import TemporaryDirectory
    >>> with TemporaryDirectory() as folder:
    ...     path = write_blank_readings(Colourway("white", ["navy"]), Path(folder, "blank.csv"))
    ...     path.read_text("utf-8").splitlines()[4]
    'navy on white,1,,,,,,'
    """
    if isinstance(colourway, Inked):
        colourway = Colourway.of_inks(colourway)
    require_type(colourway, "colourway", Colourway)
    count = as_whole(readings, "readings", 1, 1000)
    header = ("tone", "reading", "L*", "a*", "b*", "illuminant", "observer", "note")
    light = "" if illuminant is None else as_light(illuminant, "illuminant")
    degrees = "" if observer is None else str(as_observer(observer))
    text = csv_text(header, _blank_rows(colourway, count, (light, degrees)))
    return write_whole(as_path(path), text.encode("utf-8"), overwrite=overwrite)


def _blank_rows(
    colourway: Colourway, readings: int, conditions: tuple[str, str]
) -> Iterator[list[str]]:
    tones = dict.fromkeys(tone_indices(colourway).values())
    # Ground, singles, crossings; of one kind in the order of the stripes.
    for tone in sorted(tones, key=lambda tone: (tone[0] > 0) + (tone[1] > 0)):
        for number in range(1, readings + 1):
            yield [colourway.tone_label(*tone), str(number), "", "", "", *conditions, ""]
