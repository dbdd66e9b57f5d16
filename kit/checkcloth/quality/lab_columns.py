"""Columns of measured colours, as suppliers and instruments head them: L*a*b*, L*C*h, XYZ.

Whatever they are written in becomes L*a*b*; a scale that is not the usual one is refused
and said, because all its numbers would pass for very dark colours.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from contextlib import suppress
from difflib import get_close_matches
from math import cos, radians, sin

import numpy as np

from checkcloth.colour.illuminant import WHITES
from checkcloth.colour.spaces import xyz_to_lab
from checkcloth.colour.spectra.lights import white_of
from checkcloth.errors import ArgumentError, FileFormatError
from checkcloth.files.csv_rows import Row, as_value

Lab = tuple[float, float, float]

LAB_COLUMNS = {"l*": ("l*", "l"), "a*": ("a*", "a"), "b*": ("b*", "b")}
MEASURED_COLUMNS = {
    **LAB_COLUMNS,
    "c*": ("c*", "c", "c*ab", "chroma"),
    "h": ("h", "h°", "h*", "hab", "hue", "hue angle"),
    "x": ("x",),
    "y": ("y",),
    "z": ("z",),
}
# The first that is whole is read.
SPACES = {"L*a*b*": ("l*", "a*", "b*"), "L*C*h": ("l*", "c*", "h"), "XYZ": ("x", "y", "z")}
# As people write them, for what is said.
LABELS = {"l*": "L*", "a*": "a*", "b*": "b*", "c*": "C*", "h": "h", "x": "X", "y": "Y", "z": "Z"}
# Brightened whites can read a little above 100.
_RANGES = {
    "l*": (0, 105), "a*": (-150, 150), "b*": (-150, 150), "c*": (0, 210), "h": (-360, 360),
    "x": (0, 120), "y": (0, 120), "z": (0, 140),
}  # fmt: skip
# So many headings of a file are named in an error, and so many lines in notes of a kind.
_MOST_HEADINGS, _MOST_NOTES = 12, 12
# A list of colours of which none is lighter than this is on another scale.
_DARKEST_LIST = {"l*": 1.0, "y": 1.2}


def given_columns(columns: Mapping[str, str] | None, known: Mapping[str, object]) -> dict[str, str]:
    """Return what a caller says of a file's columns: our name to its heading, lower case."""
    out: dict[str, str] = {}
    if columns is None:
        return out
    if not isinstance(columns, Mapping):
        raise ArgumentError("columns", "a mapping such as {'L*': 'Helligkeit'}", columns)
    for name, heading in columns.items():
        if str(name).lower() not in known:
            labels = ", ".join(LABELS.get(each, each) for each in known)
            raise ArgumentError("columns", f"names of {labels}", name)
        if not isinstance(heading, str):
            raise ArgumentError("columns", "headings of the file, as text", heading)
        out[str(name).lower()] = heading.strip().lower()
    return out


def match_columns(
    cells: Sequence[str], words: Mapping[str, Sequence[str]], given: Mapping[str, str]
) -> tuple[dict[str, str], list[tuple[str, str]]]:
    """Return which heading holds what, and the headings that do not, each with what it repeats.

    What is ``given`` goes first. Beside columns r and g, b is blue.
    """
    found = {name: heading for name, heading in given.items() if heading in cells}
    rest = []
    for cell in cells:
        if cell in found.values():
            continue
        names = [name for name, own in words.items() if cell in own]
        if cell == "b" and len(names) > 1:
            names = ["blue"] if {"r", "g"} <= set(cells) else ["b*"]
        name = names[0] if names else ""
        if name and name not in found:
            found[name] = cell
        else:
            rest.append((cell, name))
    return found, rest


def check_given(header: Row, given: Mapping[str, str]) -> None:
    """Raise an :class:`ArgumentError` for a given column that the file does not have."""
    for heading in given.values():
        if heading not in header.cells:
            near = get_close_matches(heading, header.cells, 3, 0.4) or list(header.cells)[:6]
            near = [header.cells[heading] for heading in near]
            raise ArgumentError(
                "columns", f"headings of {header.source}, such as {', '.join(near)}", heading
            )


def columns_hint(header: Row, found: Mapping[str, str], missing: str) -> str:
    """Say how a caller names a missing column, by the first heading that is not known."""
    unknown = (cell for key, cell in header.cells.items() if key not in found.values())
    heading = next(unknown, "heading")
    label = LABELS.get(missing, missing)
    return f"{header.search_words}; columns={{{label!r}: {heading!r}}} says what a column is"


def spaces_in(columns: Mapping[str, str]) -> list[str]:
    """Return the spaces of which every column is there."""
    return [space for space, axes in SPACES.items() if columns.keys() >= set(axes)]


def lacking(row: Row, columns: Mapping[str, str]) -> tuple[str, ...]:
    """Return the axes of the fullest space that a row leaves empty; none where one is whole."""
    empty = [
        tuple(LABELS[axis] for axis in SPACES[space] if columns[axis] not in row.cells)
        for space in spaces_in(columns)
    ]
    return min(empty, key=len, default=tuple(LABELS[axis] for axis in LAB_COLUMNS))


def lab_of(
    row: Row, columns: Mapping[str, str], illuminant: str | None, observer: int | None
) -> Lab:
    """Return the L*a*b* of a row, by the first space that it has whole; XYZ needs a known white."""
    every = spaces_in(columns)
    whole = [s for s in every if all(columns[axis] in row.cells for axis in SPACES[s])]
    # A space of which some is there, where none is whole: its missing cell is the fault.
    some = [s for s in every if any(columns[axis] in row.cells for axis in SPACES[s])]
    space = (whole or some or every)[0]
    one, two, three = (as_value(row, columns[axis], *_RANGES[axis]) for axis in SPACES[space])
    if space == "L*a*b*":
        return one, two, three
    if space == "L*C*h":
        return one, two * cos(radians(three)), two * sin(radians(three))
    if illuminant is None or observer is None:
        raise row.fault(
            columns["x"],
            "stated with illuminant and observer, so that its white is known",
            words=f"{illuminant or 'no illuminant'}, {observer or 'no observer'}",
        )
    usual = observer == 2 and illuminant in WHITES
    white = WHITES[illuminant] if usual else white_of(illuminant, observer)
    lab = xyz_to_lab(np.array([one, two, three]) / 100, white)
    light, a, b = lab.tolist()
    return light, a, b


def check_scale(rows: Sequence[Row], columns: Mapping[str, str]) -> None:
    """Refuse numbers on a scale of 0–1, which would pass for very dark colours."""
    for axis, most in _DARKEST_LIST.items():
        column = columns.get(axis, "")
        cells = [row for row in rows if column in row.cells]
        values = []
        for row in cells:
            with suppress(FileFormatError):
                values.append(as_value(row, column, *_RANGES[axis]))
        if len(cells) > 1 and values and 0 < max(values) <= most:
            raise FileFormatError(
                column,
                f"on a scale of 0 to 100 ({LABELS[axis]})",
                words=f"nothing above {max(values):g} in {len(values)} lines",
                hint="; a scale of 0 to 1? multiply by 100",
                source=cells[0].source,
                line=cells[0].line,
            )


def fault_notes(faults: Sequence[FileFormatError]) -> list[str]:
    """Say of each line that could not be read why it was left out, of many the first few."""
    return first_few(
        f"Line {fault.line} was left out: {fault.argument} {fault.rule}." for fault in faults
    )


def first_few(notes: Iterable[str]) -> list[str]:
    """Return the first of many notes of a kind, and how many more there are."""
    every = list(notes)
    more = len(every) - _MOST_NOTES
    return every[:_MOST_NOTES] + ([f"… and so in {more} more lines."] if more > 0 else [])


def header_words(header: Row, missing: Sequence[str]) -> str:
    """Say which headings there are, and what is missing."""
    headings = [*header.cells.values()]
    beyond = len(headings) - _MOST_HEADINGS
    first = ", ".join(headings[:_MOST_HEADINGS]) + (f" and {beyond} more" if beyond > 0 else "")
    labels = ", ".join(LABELS.get(each, each) for each in missing)
    return f"{first}; missing {labels}"
