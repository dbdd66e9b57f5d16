"""A supplier's list of shades as it comes: hex codes, Lab readings, gaps, columns of its own.

Columns are known by the words the trade heads them with: a name (``shade``, ``colour
name`` …), ``hex``, ``L*``, ``a*``, ``b*``, and optionally ``code``, ``illuminant``,
``observer`` and ``remark``. Others are passed over, and it is said which.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from difflib import get_close_matches
from html import escape
from itertools import chain, count
from os import PathLike

import numpy as np

from checkcloth.arguments import as_number, as_path, as_tuple
from checkcloth.cloth.named_colour import NamedColour, clean_text
from checkcloth.cloth.palette import MOST_COLOURS, Palette
from checkcloth.colour.ciede2000 import delta_e_2000
from checkcloth.colour.illuminant import ILLUMINANTS, adapt_lab, as_illuminant, as_observer
from checkcloth.colour.spaces import (
    into_srgb,
    lab_to_xyz,
    linear_to_srgb,
    srgb_to_lab,
    xyz_to_linear,
)
from checkcloth.errors import ArgumentError, CheckclothError, FileFormatError
from checkcloth.files.csv_rows import Row, read_rows
from checkcloth.files.html import AS_TYPED, Cell, table
from checkcloth.quality.colourway_csv import read_colour
from checkcloth.quality.readings import LAB_COLUMNS, lab_values

HEADINGS = ("Shade", "Code", "Hex given", "L* a* b* given", "ΔE00 between", "Used", "Remark")

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


@dataclass(frozen=True, repr=False)
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

    def row(self) -> tuple[str, ...]:
        """Return the cells of its row in a table, one for each of ``HEADINGS``."""
        return (
            self.name,
            self.code,
            self.hex or "–",
            " ".join(f"{value:.1f}" for value in self.lab) if self.lab else "–",
            "–" if np.isnan(self.apart) else f"{self.apart:.2f}",
            self.used,
            self.remark,
        )

    @property
    def used(self) -> str:
        """What is used of it, in words."""
        return f"{self.colour.hex} from {self.why}" if self.colour else f"left out: {self.why}"

    def __str__(self) -> str:
        return f"{self.name}: {self.used}"

    def __repr__(self) -> str:
        return f"<{self}>"


@dataclass(frozen=True, repr=False)
class SupplierPalette:
    """A supplier's list, read; make it with :func:`read_supplier_palette`.

    Attributes
    ----------
    source : str
        File name.
    shades : tuple of Shade
        Every line, used or not.
    palette : Palette
        Those that can be used.
    notes : tuple of str
        What was done and what is odd, one sentence each.
    """

    source: str
    shades: tuple[Shade, ...]
    palette: Palette
    notes: tuple[str, ...]

    def rows(self) -> Iterator[tuple[str, ...]]:
        """Yield the table as texts, a row a shade."""
        return (shade.row() for shade in self.shades)

    def __str__(self) -> str:
        return f"{self.source}: {len(self.palette)} of {len(self.shades)} shades can be used"

    def __repr__(self) -> str:
        return f"<{self}>"

    def _repr_html_(self) -> str:
        rows: list[list[str | Cell]] = []
        for shade in self.shades:
            name, *others = shade.row()
            rows.append([Cell(name, colour=shade.colour.hex if shade.colour else ""), *others])
        notes = "".join(f"<li>{escape(note)}</li>" for note in self.notes)
        return f"{table([str(self)], HEADINGS, rows, right=(3, 4))}<ul {AS_TYPED}>{notes}</ul>"


def read_supplier_palette(
    path: str | PathLike[str],
    *,
    grounds: Iterable[str] = (),
    illuminant: str | None = None,
    observer: int | None = None,
    agree: float = 1.0,
) -> SupplierPalette:
    """Read a supplier's list of shades, and say what is odd in it.

    Parameters
    ----------
    path : path
        UTF-8 CSV, with or without byte-order mark; commas, semicolons or tabs; decimal
        commas where commas do not separate.
    grounds : iterable of str
        Names of the shades that are grounds; the others are then stripes.
    illuminant, observer :
        ``"D50"`` or ``"D65"``, 2 or 10, where the file does not state them.
    agree : float
        CIEDE2000 up to which hex and Lab are taken for the same, 0 to 20. The default, 1.0,
        is about what rounding and reading errors come to (a choice of ours).

    Returns
    -------
    SupplierPalette
        Its ``palette`` holds every shade that has a usable hex or Lab.

    Raises
    ------
    FileFormatError
        Naming the line: no such columns, a colour that cannot be read, a number out of
        range; a file without any usable shade, or with more than 10,000.
    ArgumentError
        For a ground that is not in the list, and values out of range.

    Examples
    --------
    >>> from pathlib import Path
    >>> from tempfile import TemporaryDirectory
    >>> with TemporaryDirectory() as folder:
    ...     size = Path(folder, "mill.csv").write_text("shade,hex\\nBrick,b5473c\\n", "utf-8")
    ...     read = read_supplier_palette(Path(folder, "mill.csv"))
    >>> read, [str(colour) for colour in read.palette]
    (<mill.csv: 1 of 1 shades can be used>, ['Brick #b5473c'])
    """
    limit = as_number(agree, "agree", 0, 20)
    stated = (
        None if illuminant is None else as_illuminant(illuminant),
        None if observer is None else as_observer(observer),
    )
    file = as_path(path)
    rows = read_rows(file, empty="a supplier's shades")
    header = next(rows)
    columns, unknown = _columns(header)
    if not is_supplier_header(header):
        raise header.fault(
            "header",
            "one with names of shades (name, shade, code …) and hex, or L*, a* and b*, or both",
            words=", ".join(header.cells),
        )
    lines: list[_Line] = []
    for row in rows:
        if len(lines) == MOST_COLOURS:
            raise row.fault("shades", f"at most {MOST_COLOURS}", words="more")
        lines.append(_read_line(row, columns, stated))
    shades, renamed = _with_own_names(_judge(lines, limit))
    notes = [*_notes(shades, unknown, limit), *_first_few(renamed)]
    members = [shade.colour for shade in shades if shade.colour]
    if not members:
        raise FileFormatError(
            "shades",
            "at least one with hex or Lab that can be used",
            words=f"none; {notes[-1]}",
            source=file.name,
        )
    palette = Palette(file.stem, _with_roles(members, grounds, file.name))
    return SupplierPalette(file.name, tuple(shades), palette, tuple(notes))


def _with_roles(
    members: list[NamedColour], grounds: Iterable[str], source: str
) -> list[NamedColour]:
    """Mark grounds as grounds and the others as stripes, where any ground is named."""
    wanted = (grounds,) if isinstance(grounds, str) else as_tuple(grounds, "grounds", str)
    names = [member.name for member in members]
    for ground in wanted:
        if ground not in names:
            near = get_close_matches(ground, names, 3, 0.5) or sorted(names)[:3]
            raise ArgumentError(
                "grounds", f"shades of {source} that can be used, such as {', '.join(near)}", ground
            )
    if not wanted:
        return members
    return [replace(m, role="ground" if m.name in wanted else "stripe") for m in members]


def _columns(header: Row) -> tuple[dict[str, str], list[str]]:
    """Which column holds what, and the columns that are not known."""
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
    found = _columns(header)[0].keys()
    return not found.isdisjoint(("name", "code")) and ("hex" in found or found >= set(LAB_COLUMNS))


@dataclass(frozen=True)
class _Line:
    """What one line gives, before anything is made of it."""

    name: str
    code: str
    remark: str
    hex: str
    rgb: tuple[float, float, float] | None
    lab: tuple[float, float, float] | None
    illuminant: str | None
    observer: int | None
    lacking: tuple[str, ...]
    number: int

    @property
    def lab_fault(self) -> str:
        """Why its Lab cannot be used; empty where it can."""
        if self.lab is None:
            every = len(self.lacking) == len(LAB_COLUMNS)
            return "neither hex nor Lab" if every else f"Lab lacks {', '.join(self.lacking)}"
        if self.illuminant is None or self.observer is None:
            return "illuminant and observer of Lab are not stated"
        return "Lab is for 10°, which only spectra turn into 2°" if self.observer == 10 else ""


def _read_line(row: Row, columns: dict[str, str], stated: tuple[str | None, int | None]) -> _Line:
    """Read one line; ``stated`` are illuminant and observer where it has none itself."""

    def cell(name: str) -> str:
        return row.cells.get(columns.get(name, ""), "")

    if not cell("name") and not cell("code"):
        raise row.fault("name", "a shade's name or code", words="nothing")
    # One cell may state both conditions as D65/10°.
    light, _, degrees = cell("illuminant").partition("/")
    degrees = cell("observer") or degrees
    try:
        name = clean_text(cell("name") or cell("code"), "name")
        code = clean_text(cell("code"), "code")
        remark = clean_text(cell("remark"), "remark", longest=2000)
        illuminant = as_illuminant(light) if light else stated[0]
        observer = as_observer(degrees) if degrees else stated[1]
    except CheckclothError as error:
        raise error.at(row.source, row.line) from None
    lacking = tuple(label for axis, label in _AXES.items() if not cell(axis))
    lab = None if lacking else lab_values(row, columns)
    hex_, rgb = cell("hex"), _hex(row, columns.get("hex", ""))
    return _Line(name, code, remark, hex_, rgb, lab, illuminant, observer, lacking, row.line)


def _hex(row: Row, column: str) -> tuple[float, float, float] | None:
    """A colour in sRGB; hex digits do without their mark."""
    text = row.cells.get(column, "")
    if not text:
        return None
    try:
        return read_colour(f"#{text}" if len(text) in (3, 6) and set(text) <= _DIGITS else text)
    except CheckclothError:
        raise row.fault(column, "a colour such as #b5473c", text) from None


def _judge(lines: list[_Line], agree: float) -> list[Shade]:
    """Say what is used of each line, and why: all of them at once, as arrays.

    Hex stands where it agrees with Lab within ``agree`` (CIEDE2000), or where there is no
    Lab that can be used; else the colour is worked out from Lab.
    """
    given = np.array([line.rgb or (np.nan,) * 3 for line in lines]).reshape(-1, 3)
    lab = np.full(given.shape, np.nan)
    for light in ILLUMINANTS:
        usable = [n for n, line in enumerate(lines) if not line.lab_fault]
        rows = [n for n in usable if lines[n].illuminant == light]
        if rows:
            lab[rows] = adapt_lab(np.array([lines[n].lab for n in rows]), light, "D65")
    has_hex, has_lab = ~np.isnan(given[:, 0]), ~np.isnan(lab[:, 0])
    both = has_hex & has_lab
    apart = np.full(len(lines), np.nan)
    apart[both] = delta_e_2000(lab[both], srgb_to_lab(given[both]))
    by_lab = has_lab & ~(both & (apart <= agree))
    used, moved = given.copy(), np.zeros(len(lines))
    if by_lab.any():
        linear = into_srgb(xyz_to_linear(lab_to_xyz(lab[by_lab])))
        used[by_lab] = np.clip(linear_to_srgb(linear), 0, 1)
        moved[by_lab] = delta_e_2000(lab[by_lab], srgb_to_lab(used[by_lab]))
    shades = []
    for n, line in enumerate(lines):
        colour, why = None, line.lab_fault
        if has_hex[n] or has_lab[n]:
            red, green, blue = used[n].tolist()
            text = "" if by_lab[n] or not line.hex.startswith("#") else line.hex.lower()
            colour = NamedColour(line.name, (red, green, blue), note=line.remark, text=text)
            why = "Lab" if by_lab[n] else "hex"
        shades.append(
            Shade(
                line.name, line.code, line.remark, line.hex, line.lab, float(apart[n]),
                float(moved[n]), colour, why, line.number,
            )
        )  # fmt: skip
    return shades


def _with_own_names(shades: list[Shade]) -> tuple[list[Shade], list[str]]:
    """Give shades of the same name their code as well, or else their line."""
    first: dict[str, int] = {}
    taken: set[str] = set()
    out, notes = [], []
    for shade in shades:
        with_code = [f"{shade.name} ({shade.code})"] if shade.code else []
        with_line = (f"{shade.name} (line {'0' * n}{shade.line})" for n in count())
        candidates = chain([shade.name], with_code, with_line)
        name = next(candidate for candidate in candidates if candidate not in taken)
        if name != shade.name:
            notes.append(
                f"Line {shade.line} has the name of line {first[shade.name]}, {shade.name}: "
                f"called {name} here."
            )
        first.setdefault(shade.name, shade.line)
        taken.add(name)
        colour = shade.colour and replace(shade.colour, name=name)
        out.append(replace(shade, name=name, colour=colour))
    return out, notes


def _notes(shades: list[Shade], unknown: list[str], agree: float) -> list[str]:
    used = [shade for shade in shades if shade.colour]
    odd = [shade for shade in used if shade.apart > agree]
    out = [
        f"Hex and Lab that agree within ΔE00 {agree:g}, or hex alone, stand as the hex code; where "
        "they do not, or hex is missing, the colour is worked out from Lab (D50 adapted to D65 by "
        "Bradford; chroma reduced where sRGB cannot show it)."
    ]
    out += _first_few(
        f"Line {shade.line}, {shade.name}: hex and Lab differ by ΔE00 {shade.apart:.1f}. Ask which "
        "one is right; Lab is used."
        for shade in odd
    )
    out += _first_few(
        f"Line {shade.line}, {shade.name}: sRGB cannot show it; what stands for it here is "
        f"ΔE00 {shade.moved:.1f} away."
        for shade in used
        if shade.moved >= 0.5
    )
    unread = [shade for shade in used if shade.lab and shade.why == "hex" and np.isnan(shade.apart)]
    if unread:
        out.append(
            "Lab was not used where illuminant and observer are not stated, or the observer is "
            f"10°: {_listed(unread)}. State them with illuminant= and observer= if they are known."
        )
    unmeasured = [shade for shade in used if shade.lab is None]
    if unmeasured:
        out.append(f"No Lab, so nothing stands behind the hex: {_listed(unmeasured)}.")
    out += _first_few(
        f"Line {shade.line}, {shade.name}, is left out: {shade.why}."
        for shade in shades
        if not shade.colour
    )
    if unknown:
        out.append(f"Columns not used: {', '.join(unknown)}.")
    return out


def _first_few(notes: Iterable[str], most: int = 12) -> list[str]:
    """The first of many notes of a kind, and how many more there are."""
    every = list(notes)
    more = [f"… and so in {len(every) - most} more lines."] if len(every) > most else []
    return every[:most] + more


def _listed(shades: list[Shade]) -> str:
    names = ", ".join(shade.name for shade in shades[:6])
    return f"{names} and {len(shades) - 6} more" if len(shades) > 6 else names
