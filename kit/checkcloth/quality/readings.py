"""Lab readings of a strike-off, or of an approved standard, from a CSV file.

Columns: ``tone``, ``L*``, ``a*``, ``b*`` (the stars may be left out), and optionally
``illuminant``, ``observer``, ``reading`` (a number that tells readings of a tone apart)
and ``note``; others are passed over, and it is said. Illuminant and observer must be
stated, there or by whoever reads the file.
"""

from __future__ import annotations

from dataclasses import dataclass
from difflib import get_close_matches
from os import PathLike

import numpy as np

from checkcloth.arguments import Floats, as_path
from checkcloth.cloth.colourway import Colourway
from checkcloth.colour.illuminant import as_illuminant, as_observer
from checkcloth.errors import ArgumentError, FileFormatError, shown
from checkcloth.files.csv_rows import Row, as_value, read_rows
from checkcloth.scoring.measures import first_of, sameness, tone_label

__all__ = [
    "LAB_COLUMNS",
    "Reading",
    "Readings",
    "lab_value",
    "read_readings",
    "tone_places",
]

# The words that head the columns of a Lab reading.
LAB_COLUMNS = {"l*": ("l*", "l"), "a*": ("a*", "a"), "b*": ("b*", "b")}
_WORDS = {
    "tone": ("tone", "tone name", "sample", "sample name"),
    **LAB_COLUMNS,
    "illuminant": ("illuminant", "light"),
    "observer": ("observer",),
    "reading": ("reading",),
    "note": ("note", "notes", "remark", "remarks"),
}
# Brightened whites can read a little above 100.
_RANGES = {"l*": (0, 105), "a*": (-150, 150), "b*": (-150, 150)}


@dataclass(frozen=True)
class Reading:
    """One reading.

    Attributes
    ----------
    tone : str
        As it was written.
    lab : tuple of three floats
        Under the illuminant and observer of its set.
    line : int

    >>> Reading("navy on white", (63.3, 28.1, 7.5), line=4).lab
    (63.3, 28.1, 7.5)
    """

    tone: str
    lab: tuple[float, float, float]
    line: int


@dataclass(frozen=True)
class Readings:
    """Readings made under one illuminant and one observer.

    Attributes
    ----------
    source : str
        File name.
    illuminant : str
        ``"D50"`` or ``"D65"``.
    observer : int
        2 or 10, in degrees.
    readings : tuple of Reading
    repeats : tuple of (int, int)
        Lines that hold the very same numbers for the same tone as an earlier line.
    empty : tuple of int
        Lines that name a tone and hold no figures; passed over.
    unused : tuple of str
        Columns that are not known; passed over.

    >>> Readings("a.csv", "D65", 2, (Reading("white", (100.0, 0.0, 0.0), 2),)).conditions
    'D65/2°'
    """

    source: str
    illuminant: str
    observer: int
    readings: tuple[Reading, ...]
    repeats: tuple[tuple[int, int], ...] = ()
    empty: tuple[int, ...] = ()
    unused: tuple[str, ...] = ()

    def __len__(self) -> int:
        return len(self.readings)

    @property
    def conditions(self) -> str:
        """Illuminant and observer, as trade writes them: ``D65/10°``."""
        return f"{self.illuminant}/{self.observer}°"

    def by_place(self, colourway: Colourway) -> dict[tuple[int, int], Floats]:
        """Return the readings (K, 3) of each tone, by its place (warp, weft).

        Raises
        ------
        FileFormatError
            Naming the line of a tone that the colourway does not have, and what is near.
        """
        places = tone_places(colourway)
        found: dict[tuple[int, int], list[tuple[float, float, float]]] = {}
        for reading in self.readings:
            place = places.get(_plain(reading.tone))
            if place is None:
                near = get_close_matches(_plain(reading.tone), places, 3, 0.6) or list(places)[:3]
                own = [tone_label(colourway, *places[name]) for name in near]
                raise FileFormatError(
                    "tone",
                    f"one of the specification's, such as {', '.join(map(repr, own))}",
                    reading.tone,
                    source=self.source,
                    line=reading.line,
                    hint=" (write_blank_readings makes a form with every tone's name)",
                )
            found.setdefault(place, []).append(reading.lab)
        return {place: np.array(found[place]) for place in sorted(found)}


def _plain(name: str) -> str:
    return " ".join(name.casefold().split())


def tone_places(colourway: Colourway) -> dict[str, tuple[int, int]]:
    """Return the place (warp, weft) that each tone name stands for, names in lower case.

    Where warp and weft make the same tone one name does for both; where crossings are
    the same both ways, either order of names will do.

    Raises
    ------
    ArgumentError
        If two different tones have the same name.

    >>> list(tone_places(Colourway("white", ["navy"])))
    ['white', 'navy on white', 'navy over navy']
    """
    mirrored, symmetric = sameness(colourway)
    side = len(colourway.stripes) + 1
    places: dict[str, tuple[int, int]] = {}
    for warp in range(side):
        for weft in range(side):
            place = first_of(warp, weft, mirrored, symmetric)
            name = _plain(tone_label(colourway, warp, weft))
            other = places.setdefault(name, place)
            same = np.allclose(colourway.tones[other], colourway.tones[place], rtol=0, atol=1e-9)
            if other != place and not same:
                raise ArgumentError(
                    f"colourway must give its tones names of their own, found {shown(name)} "
                    "for two; name its colours differently"
                )
    return places


def _columns(header: Row) -> tuple[dict[str, str], tuple[str, ...]]:
    """Which column holds what, and the columns that are not known."""
    found: dict[str, str] = {}
    unused = []
    for column in header.cells:
        known = next((name for name, words in _WORDS.items() if column in words), None)
        if known is None:
            unused.append(column)
        elif known in found:
            raise header.fault(
                f"header must name {known} once, found {shown(found[known])} and {shown(column)}"
            )
        else:
            found[known] = column
    missing = [name for name in ("tone", *LAB_COLUMNS) if name not in found]
    if missing:
        raise header.fault(
            f"header must have tone, L*, a* and b*; missing {', '.join(missing)}; found "
            f"{', '.join(header.cells)} (readings in XYZ or L*C*h must be turned into L*a*b* first)"
        )
    return found, tuple(unused)


def lab_value(row: Row, column: str, axis: str) -> float:
    """Return the number in a cell of ``l*``, ``a*`` or ``b*``, or say what is wrong with it.

    >>> lab_value(Row({"L*": "92.5"}, 2, "a.csv", decimal_comma=False), "L*", "l*")
    92.5
    """
    return as_value(row, column, *_RANGES[axis])


def _stated(
    row: Row, columns: dict[str, str], column: str, given: str | int | None, default: object
) -> str | int:
    """What a row states, or else what the caller does; both must agree."""
    text = row.cells.get(columns.get(column, ""))
    try:
        read = as_illuminant if column == "illuminant" else as_observer
        own = None if text is None else read(text, column)
    except ArgumentError as error:
        raise row.fault(str(error)) from None
    if own is None and given is None:
        raise row.fault(
            f"{column} must be stated ({default}), in a column or as an argument; found nothing"
        )
    if own is not None and given is not None and own != given:
        raise row.fault(f"{column} must be {given} as stated for the file, found {own}")
    return own if own is not None else given  # type: ignore[return-value]


def read_readings(
    path: str | PathLike[str],
    *,
    illuminant: str | None = None,
    observer: int | None = None,
) -> Readings:
    """Read Lab readings; every fault is named with its line.

    Parameters
    ----------
    path : path
        UTF-8 CSV; commas, semicolons or tabs, decimal commas where commas do not separate.
    illuminant, observer :
        ``"D50"`` or ``"D65"``, 2 or 10; needed where the file has no such column.

    Returns
    -------
    Readings

    Raises
    ------
    FileFormatError
        For missing columns, units in cells, a reading with a part missing, L* outside
        0–105, a* or b* outside ±150, two readings of a tone with the same number, mixed
        illuminants or observers.
    ArgumentError
        For another illuminant or observer.

    >>> from pathlib import Path
    >>> from tempfile import TemporaryDirectory
    >>> with TemporaryDirectory() as folder:
    ...     path = Path(folder, "a.csv")
    ...     size = path.write_text("tone,L*,a*,b*\\nwhite,99.5,0,1\\n", "utf-8")
    ...     len(read_readings(path, illuminant="D65", observer=2))
    1
    """
    light = None if illuminant is None else as_illuminant(illuminant)
    eye = None if observer is None else as_observer(observer)
    rows = read_rows(as_path(path), empty="tone, L*, a*, b* and readings")
    columns, unused = _columns(next(rows))
    readings: list[Reading] = []
    numbered: dict[tuple[str, str], int] = {}
    same: dict[tuple[str, tuple[float, float, float]], int] = {}
    repeats: list[tuple[int, int]] = []
    empty: list[int] = []
    for row in rows:
        tone = row.cells.get(columns["tone"], "")
        if not tone:
            raise row.fault("tone must be a tone's name, found nothing")
        if not any(columns[name] in row.cells for name in LAB_COLUMNS):
            empty.append(row.line)
            continue
        light = str(_stated(row, columns, "illuminant", light, "D50 or D65"))
        eye = int(_stated(row, columns, "observer", eye, "2 or 10"))
        l, a, b = (lab_value(row, columns[name], name) for name in LAB_COLUMNS)  # noqa: E741
        number = row.cells.get(columns.get("reading", ""))
        if number is not None:
            earlier = numbered.setdefault((_plain(tone), number), row.line)
            if earlier != row.line:
                raise row.fault(
                    f"reading must be a number of its own for each reading of {shown(tone)}, "
                    f"found {shown(number)} already on line {earlier}"
                )
        before = same.setdefault((_plain(tone), (l, a, b)), row.line)
        if before != row.line:
            repeats.append((before, row.line))
        readings.append(Reading(tone, (l, a, b), row.line))
    if not readings or light is None or eye is None:
        raise FileFormatError(f"{as_path(path).name}: must hold at least one reading, found none")
    return Readings(
        as_path(path).name, light, eye, tuple(readings), tuple(repeats), tuple(empty), unused
    )
