"""One line of a supplier's list of shades: which columns it has, and what is used of it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from checkcloth.cloth.named_colour import NamedColour, clean_text
from checkcloth.colour.ciede2000 import delta_e_2000
from checkcloth.colour.gamut import into_srgb
from checkcloth.colour.illuminant import (
    ILLUMINANTS,
    adapt_lab,
    as_illuminant,
    as_observer,
)
from checkcloth.colour.spaces import lab_to_xyz, linear_to_srgb, srgb_to_lab, xyz_to_linear
from checkcloth.errors import ArgumentError, CheckclothError, shown
from checkcloth.files.csv_rows import Row
from checkcloth.quality.colourway_csv import read_colour
from checkcloth.quality.readings import LAB_COLUMNS, lab_value

__all__ = ["Line", "Shade", "is_supplier_header", "judge", "read_line", "shade_columns"]

_KNOWN = {
    "name": ("name", "shade", "shade name", "colour name", "color name", "description"),
    "code": ("code", "article", "article no", "article number", "reference", "ref", "no"),
    "hex": ("hex", "hex code", "hex value", "html", "srgb", "colour", "color"),
    **LAB_COLUMNS,
    "illuminant": ("illuminant", "light", "illuminant/observer"),
    "observer": ("observer",),
    "remark": ("remark", "remarks", "note", "notes", "comment"),
}
_AXES = dict(zip(LAB_COLUMNS, ("L*", "a*", "b*"), strict=True))
_DIGITS = set("0123456789abcdefABCDEF")


@dataclass(frozen=True)
class Shade:
    """One line of the list.

    Attributes
    ----------
    name, code, remark : str
        As they were written; the code stands for a name that is missing.
    hex : str
        As it was written, or nothing.
    lab : tuple of three floats, optional
        As it was written, under the file's illuminant.
    apart : float
        CIEDE2000 between the two; NaN where one is missing.
    moved : float
        CIEDE2000 from a Lab that sRGB cannot show to what stands for it; else 0.
    colour : NamedColour, optional
        What is used; None where there is nothing to use.
    why : str
        ``"hex"``, ``"Lab"``, or why there is none.
    line : int

    Examples
    --------
    >>> row = Row({"shade": "Brick", "hex": "#b5473c"}, 2, "mill.csv", decimal_comma=False)
    >>> judge([read_line(row, {"name": "shade", "hex": "hex"}, (None, None))], 5.0)[0].why
    'hex'
    """

    name: str
    code: str
    remark: str
    hex: str
    lab: tuple[float, float, float] | None
    apart: float
    moved: float
    colour: NamedColour | None
    why: str
    line: int


def shade_columns(header: Row) -> tuple[dict[str, str], list[str]]:
    """Return which column holds what, and the columns that are not known.

    >>> shade_columns(Row({"shade": "1", "price": "2"}, 1, "mill.csv", decimal_comma=False))
    ({'name': 'shade'}, ['price'])
    """
    found: dict[str, str] = {}
    unknown = []
    for column in header.cells:
        known = next((name for name, words in _KNOWN.items() if column in words), None)
        if known is None or known in found:
            unknown.append(column)
        else:
            found[known] = column
    return found, unknown


def is_supplier_header(header: Row) -> bool:
    """Whether a header is one of a supplier's list: names or codes, and hex or Lab.

    >>> is_supplier_header(Row({"shade": "shade", "hex": "hex"}, 1, "a.csv", decimal_comma=False))
    True
    """
    found = shade_columns(header)[0]
    return bool({"name", "code"} & set(found)) and (
        "hex" in found or all(name in found for name in LAB_COLUMNS)
    )


@dataclass(frozen=True)
class Line:
    """What one line gives, before anything is made of it.

    >>> row = Row({"shade": "Brick"}, 2, "mill.csv", decimal_comma=False)
    >>> read_line(row, {"name": "shade"}, (None, None)).unusable
    'neither hex nor Lab'
    """

    name: str
    code: str
    remark: str
    hex: str
    rgb: tuple[float, float, float] | None
    lab: tuple[float, float, float] | None
    light: str | None
    eye: int | None
    lacking: tuple[str, ...]
    line: int

    @property
    def unusable(self) -> str:
        """Why its Lab cannot be used; empty where it can."""
        if self.lab is None:
            every = len(self.lacking) == len(LAB_COLUMNS)
            return "neither hex nor Lab" if every else f"Lab lacks {', '.join(self.lacking)}"
        if self.light is None or self.eye is None:
            return "illuminant and observer of Lab are not stated"
        return "Lab is for 10°, which only spectra turn into 2°" if self.eye == 10 else ""


def _hex(row: Row, column: str) -> tuple[float, float, float] | None:
    """A colour in sRGB; hex digits do without their mark."""
    text = row.cells.get(column, "")
    if not text:
        return None
    try:
        return read_colour(f"#{text}" if len(text) in (3, 6) and set(text) <= _DIGITS else text)
    except CheckclothError:
        raise row.fault(f"{column} must be a colour such as #b5473c, found {shown(text)}") from None


def _conditions(
    row: Row, columns: dict[str, str], illuminant: str | None, observer: int | None
) -> tuple[str | None, int | None]:
    """Illuminant and observer of a row, also where one cell states both as D65/10°."""
    light = row.cells.get(columns.get("illuminant", ""), "")
    light, _, eye = light.partition("/")
    eye = row.cells.get(columns.get("observer", ""), eye)
    try:
        return (
            as_illuminant(light) if light else illuminant,
            as_observer(eye) if eye else observer,
        )
    except ArgumentError as error:
        raise row.fault(str(error)) from None


def read_line(row: Row, columns: dict[str, str], stated: tuple[str | None, int | None]) -> Line:
    """Read what one line gives.

    Parameters
    ----------
    row : Row
    columns : dict
        See :func:`shade_columns`.
    stated : (str or None, int or None)
        Illuminant and observer, where the row states none.

    Raises
    ------
    FileFormatError
        Naming the line: no name, a colour or a number that cannot be read.

    Examples
    --------
    >>> row = Row({"shade": "Brick", "hex": "b5473c"}, 2, "mill.csv", decimal_comma=False)
    >>> read_line(row, {"name": "shade", "hex": "hex"}, ("D65", 2)).hex
    'b5473c'
    """
    name, code, remark = (
        row.cells.get(columns.get(key, ""), "") for key in ("name", "code", "remark")
    )
    if not name and not code:
        raise row.fault("name must be a shade's name or code, found nothing")
    try:
        name, code = clean_text(name or code, "name"), clean_text(code, "code")
        remark = clean_text(remark, "remark", longest=2000)
    except CheckclothError as error:
        raise row.fault(str(error)) from None
    rgb = _hex(row, columns.get("hex", ""))
    cells = {axis: columns.get(axis, "") for axis in LAB_COLUMNS}
    lacking = tuple(_AXES[axis] for axis, cell in cells.items() if cell not in row.cells)
    lab = None
    if not lacking:
        l, a, b = (lab_value(row, cell, axis) for axis, cell in cells.items())  # noqa: E741
        lab = (l, a, b)
    text = row.cells.get(columns.get("hex", ""), "")
    light, eye = _conditions(row, columns, *stated)
    return Line(name, code, remark, text, rgb, lab, light, eye, lacking, row.line)


def judge(lines: list[Line], agree: float) -> list[Shade]:
    """Say what is used of each line, and why: all of them at once, as arrays.

    Parameters
    ----------
    lines : list of Line
    agree : float
        CIEDE2000 up to which hex and Lab are taken for the same.

    Examples
    --------
    >>> row = Row({"shade": "Brick", "hex": "b5473c"}, 2, "mill.csv", decimal_comma=False)
    >>> line = read_line(row, {"name": "shade", "hex": "hex"}, (None, None))
    >>> [str(shade.colour) for shade in judge([line], 5.0)]
    ['Brick #b5473c']
    """
    count = len(lines)
    given = np.array([line.rgb or (np.nan,) * 3 for line in lines]).reshape(count, 3)
    lab = np.full((count, 3), np.nan)
    for light in ILLUMINANTS:
        mine = [n for n, line in enumerate(lines) if not line.unusable and line.light == light]
        if mine:
            lab[mine] = adapt_lab(np.array([lines[n].lab for n in mine]), light, "D65")
    has_hex, has_lab = ~np.isnan(given[:, 0]), ~np.isnan(lab[:, 0])
    apart = np.full(count, np.nan)
    both = has_hex & has_lab
    apart[both] = delta_e_2000(lab[both], srgb_to_lab(given[both]))
    by_lab = has_lab & ~(both & (apart <= agree))
    used, moved = given.copy(), np.zeros(count)
    if by_lab.any():
        light_in = into_srgb(xyz_to_linear(lab_to_xyz(lab[by_lab])))
        used[by_lab] = np.clip(linear_to_srgb(light_in), 0, 1)
        moved[by_lab] = delta_e_2000(lab[by_lab], srgb_to_lab(used[by_lab]))
    shades = []
    for n, line in enumerate(lines):
        colour, why = None, line.unusable
        if has_hex[n] or has_lab[n]:
            red, green, blue = used[n].tolist()
            text = "" if by_lab[n] or not line.hex.startswith("#") else line.hex.lower()
            colour = NamedColour(line.name, (red, green, blue), note=line.remark, text=text)
            why = "Lab" if by_lab[n] else "hex"
        shade = Shade(
            line.name, line.code, line.remark, line.hex, line.lab, float(apart[n]),
            float(moved[n]), colour, why, line.line,
        )  # fmt: skip
        shades.append(shade)
    return shades
