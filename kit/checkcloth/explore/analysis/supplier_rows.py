"""One line of a supplier's list of shades: which columns it has, and what is used of it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from checkcloth.cloth.named_colour import NamedColour
from checkcloth.colour.ciede2000 import delta_e_2000
from checkcloth.colour.css import hex_of, parse_css
from checkcloth.colour.gamut import into_srgb
from checkcloth.colour.spaces import lab_to_xyz, linear_to_srgb, srgb_to_lab, xyz_to_linear
from checkcloth.errors import ArgumentError, CheckclothError, shown
from checkcloth.explore.analysis.csv_rows import Row
from checkcloth.explore.analysis.illuminant import adapt_lab, as_illuminant, as_observer
from checkcloth.explore.analysis.readings import LAB_COLUMNS, lab_value

__all__ = ["Shade", "is_supplier_header", "read_shade", "shade_columns"]

_KNOWN = {
    "name": ("name", "shade", "shade name", "colour name", "color name", "description"),
    "code": ("code", "article", "article no", "article number", "reference", "ref", "no"),
    "hex": ("hex", "hex code", "hex value", "html", "srgb", "colour", "color"),
    **LAB_COLUMNS,
    "illuminant": ("illuminant", "light", "illuminant/observer"),
    "observer": ("observer",),
    "remark": ("remark", "remarks", "note", "notes", "comment"),
}
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
    """Return which column holds what, and the columns that are not known."""
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
    """Whether a header is one of a supplier's list: names or codes, and hex or Lab."""
    found = shade_columns(header)[0]
    return bool({"name", "code"} & set(found)) and (
        "hex" in found or all(name in found for name in LAB_COLUMNS)
    )


def _hex(row: Row, column: str) -> tuple[str, tuple[float, float, float]] | None:
    """A colour as it was written and in sRGB; hex digits do without their mark."""
    text = row.cells.get(column, "")
    if not text:
        return None
    plain = f"#{text}" if len(text) in (3, 6) and set(text) <= _DIGITS else text
    try:
        return text, parse_css(plain)
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


def read_shade(
    row: Row,
    columns: dict[str, str],
    stated: tuple[str | None, int | None],
    agree: float,
) -> Shade:
    """Read one line: what it gives, what is used of it, and why.

    Parameters
    ----------
    row : Row
    columns : dict
        See :func:`shade_columns`.
    stated : (str or None, int or None)
        Illuminant and observer, where the row states none.
    agree : float
        CIEDE2000 up to which hex and Lab are taken for the same.

    Raises
    ------
    FileFormatError
        Naming the line: no name, a colour or a number that cannot be read.
    """
    name, code, remark = (
        row.cells.get(columns.get(key, ""), "") for key in ("name", "code", "remark")
    )
    if not name and not code:
        raise row.fault("name must be a shade's name or code, found nothing")
    given = _hex(row, columns.get("hex", ""))
    cells = [columns.get(key, "") for key in LAB_COLUMNS]
    lacking = [key.upper() if key == "l*" else key for key, cell in
               zip(LAB_COLUMNS, cells, strict=True) if cell not in row.cells]  # fmt: skip
    lab: tuple[float, float, float] | None = None
    if not lacking:
        l, a, b = (lab_value(row, cell, key)  # noqa: E741
                   for key, cell in zip(LAB_COLUMNS, cells, strict=True))  # fmt: skip
        lab = (l, a, b)
    light, eye = _conditions(row, columns, *stated)
    why = "neither hex nor Lab" if len(lacking) == 3 else f"Lab lacks {', '.join(lacking)}"
    measured = None
    if lab is not None and (light is None or eye is None):
        why = "illuminant and observer of Lab are not stated"
    elif lab is not None and eye == 10:
        why = "Lab is for 10°, which only spectra turn into 2°"
    elif lab is not None and light is not None:
        measured = adapt_lab(lab, light, "D65")
    rgb, apart, moved = None, np.nan, 0.0
    if given is not None:
        rgb, kind = given[1], "hex"
        if measured is not None:
            apart = float(delta_e_2000(measured, srgb_to_lab(rgb)))
    if measured is not None and (rgb is None or apart > agree):
        linear = into_srgb(xyz_to_linear(lab_to_xyz(measured)))
        red, green, blue = np.clip(linear_to_srgb(linear), 0, 1).tolist()
        rgb, kind = (red, green, blue), "Lab"
        moved = float(delta_e_2000(measured, srgb_to_lab(rgb)))
    colour = None
    try:
        if rgb is not None:
            text = hex_of(rgb) if kind == "hex" and parse_css(hex_of(rgb)) == rgb else ""
            colour = NamedColour(name or code, rgb, note=remark, text=text)
            why = kind
    except CheckclothError as error:
        raise row.fault(str(error)) from None
    return Shade(
        name or code, code, remark, given[0] if given else "", lab, apart, moved, colour, why,
        row.line,
    )  # fmt: skip
