"""Lab readings of a strike-off, or of an approved standard, from a CSV file.

Columns: ``tone``, ``L*``, ``a*``, ``b*`` (the stars may be left out), and optionally
``illuminant``, ``observer``, ``reading`` (a number that tells readings of a tone apart)
and ``note``. Illuminant and observer must be stated, there or by whoever reads the file.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator
from dataclasses import dataclass
from difflib import get_close_matches
from os import PathLike
from pathlib import Path

import numpy as np

from checkcloth.base.files import safe_cell, write_whole
from checkcloth.cloth.colourway import Colourway
from checkcloth.colour.arrays import Floats
from checkcloth.errors import ArgumentError, FileFormatError, shown
from checkcloth.explore.analysis.csv_rows import Row, as_value, read_rows
from checkcloth.explore.analysis.illuminant import as_illuminant
from checkcloth.explore.analysis.measures import first_of, sameness, tone_label

__all__ = ["Reading", "Readings", "read_readings", "tone_places", "write_blank_readings"]

_NUMBERS = {"l*": ("l*", "l"), "a*": ("a*", "a"), "b*": ("b*", "b")}
_OTHER = ("tone", "illuminant", "observer", "reading", "note")
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
    """

    source: str
    illuminant: str
    observer: int
    readings: tuple[Reading, ...]
    repeats: tuple[tuple[int, int], ...] = ()

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
                raise FileFormatError(
                    f"{self.source}, line {reading.line}: tone must be one of the "
                    f"specification's, such as {', '.join(map(repr, near))}; "
                    f"found {shown(reading.tone)}"
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


def _columns(header: Row) -> dict[str, str]:
    found: dict[str, str] = {}
    for column in header.cells:
        known = next((name for name, also in _NUMBERS.items() if column in also), column)
        if known not in (*_NUMBERS, *_OTHER) or known in found:
            raise header.fault(
                "header must be of tone, L*, a*, b*, illuminant, observer, reading, note, each "
                f"once; found {shown(column)}"
            )
        found[known] = column
    missing = [name for name in ("tone", *_NUMBERS) if name not in found]
    if missing:
        raise header.fault(
            f"header must have tone, L*, a* and b*; missing {', '.join(missing)}"
            " (readings in XYZ or L*C*h must be turned into L*a*b* first)"
        )
    return found


def _observer(value: object, name: str = "observer") -> int:
    text = str(value).strip().removesuffix("°").removesuffix("deg").strip()
    if text not in ("2", "10"):
        raise ArgumentError(f"{name} must be 2 or 10 (degrees), found {shown(value)}")
    return int(text)


def _stated(row: Row, column: str, given: str | int | None, default: object) -> str | int:
    """What a row states, or else what the caller does; both must agree."""
    text = row.cells.get(column)
    try:
        read = as_illuminant if column == "illuminant" else _observer
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
        For missing columns, units in cells, L* outside 0–105, a* or b* outside ±150, two
        readings of a tone with the same number, mixed illuminants or observers.
    ArgumentError
        For another illuminant or observer.
    """
    light = None if illuminant is None else as_illuminant(illuminant)
    eye = None if observer is None else _observer(observer)
    rows = read_rows(Path(path), empty="tone, L*, a*, b* and readings")
    columns = _columns(next(rows))
    readings: list[Reading] = []
    numbered: dict[tuple[str, str], int] = {}
    same: dict[tuple[str, tuple[float, float, float]], int] = {}
    repeats: list[tuple[int, int]] = []
    for row in rows:
        tone = row.cells.get("tone", "")
        if not tone:
            raise row.fault("tone must be a tone's name, found nothing")
        light = str(_stated(row, "illuminant", light, "D50 or D65"))
        eye = int(_stated(row, "observer", eye, "2 or 10"))
        l, a, b = (as_value(row, columns[name], *_RANGES[name]) for name in _NUMBERS)  # noqa: E741
        number = row.cells.get("reading")
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
        raise FileFormatError(f"{Path(path).name}: must hold at least one reading, found none")
    return Readings(Path(path).name, light, eye, tuple(readings), tuple(repeats))


def _blank_rows(colourway: Colourway, readings: int) -> Iterator[list[str]]:
    places: set[tuple[int, int]] = set()
    mirrored, symmetric = sameness(colourway)
    side = len(colourway.stripes) + 1
    order = sorted(np.ndindex(side, side), key=lambda p: (p[0] > 0) + (p[1] > 0))
    for warp, weft in order:
        place = first_of(warp, weft, mirrored, symmetric)
        if place in places:
            continue
        places.add(place)
        for number in range(1, readings + 1):
            yield [safe_cell(tone_label(colourway, *place)), str(number), "", "", "", "", "", ""]


def write_blank_readings(
    colourway: Colourway,
    path: str | PathLike[str],
    *,
    readings: int = 3,
    overwrite: bool = False,
) -> Path:
    """Write a CSV with every tone's name and empty cells, for whoever measures to fill.

    Raises
    ------
    ExistsError
        If the file is there and ``overwrite`` is not set.
    ArgumentError
        If two different tones have the same name.
    """
    tone_places(colourway)
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(["tone", "reading", "L*", "a*", "b*", "illuminant", "observer", "note"])
    writer.writerows(_blank_rows(colourway, readings))
    return write_whole(Path(path), out.getvalue().encode("utf-8"), overwrite=overwrite)
