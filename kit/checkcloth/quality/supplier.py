"""A supplier's list of shades as it comes: hex codes, Lab readings, gaps, columns of its own.

Columns are known by the words the trade heads them with, or by what the caller says: a name
(``shade``, ``colour name`` …), ``hex`` or ``R``, ``G``, ``B``, then ``L*``, ``a*``, ``b*``, or
``L*``, ``C*``, ``h``, or ``X``, ``Y``, ``Z``, and optionally ``code``, ``illuminant``,
``observer`` and ``remark``. Others are passed over, and it is said which. A fault in a line
costs that line, and is said too.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from difflib import get_close_matches
from html import escape
from itertools import chain, count
from pathlib import Path
from typing import Any, ClassVar

import numpy as np

from checkcloth.arguments import as_number, as_tuple
from checkcloth.cloth.named_colour import NamedColour, clean_text
from checkcloth.cloth.palette import MOST_COLOURS, Palette
from checkcloth.colour.ciede2000 import delta_e_2000
from checkcloth.colour.illuminant import ILLUMINANTS, adapt_lab, as_illuminant, as_observer
from checkcloth.colour.spaces import lab_to_xyz, srgb_to_lab, xyz_to_shown
from checkcloth.errors import ArgumentError, CheckclothError, FileFormatError
from checkcloth.files.csv_rows import Row, as_value, read_rows, without_gaps
from checkcloth.files.frames import Definition, Table, Tabular, as_table, table_name
from checkcloth.files.html import AS_TYPED, Cell, OneLine, table
from checkcloth.quality.colourway_csv import read_colour
from checkcloth.quality.lab_columns import (
    MEASURED_COLUMNS,
    check_given,
    check_scale,
    columns_hint,
    fault_notes,
    first_few,
    given_columns,
    lab_of,
    lacking,
    match_columns,
    spaces_in,
)
from checkcloth.scoring.measures import find_measure

HEADINGS = ("Shade", "Code", "Hex given", "L* a* b* given", "ΔE00 between", "Used", "Remark")

_KNOWN = {
    "name": ("name", "shade", "shade name", "colour name", "color name", "description"),
    "code": ("code", "article", "article no", "article number", "reference", "ref", "no"),
    "hex": ("hex", "hex code", "hex value", "html", "srgb", "colour", "color"),
    "r": ("r", "red"),
    "g": ("g", "green"),
    "blue": ("b", "blue"),
    **MEASURED_COLUMNS,
    "illuminant": ("illuminant", "light", "illuminant/observer"),
    "observer": ("observer",),
    "remark": ("remark", "remarks", "note", "notes", "comment"),
}
_RGB = ("r", "g", "blue")
_DIGITS = set("0123456789abcdefABCDEF")
# What a spreadsheet makes of a code of digits: zeros gone from its front, or a power of ten.
_SHORTENED = re.compile(r"\d{1,2}|\d{4,5}|\d(\.\d+)?[eE]\+?\d+")


@dataclass(frozen=True, repr=False)
class Shade(OneLine):
    """One line of the list.

    Attributes
    ----------
    name, code, remark : str
        As they were written; the code stands for a name that is missing.
    hex : str
        As it was written, or nothing; R, G and B as ``rgb(…)``.
    lab : tuple of three floats, optional
        Under the file's illuminant; worked out from L*C*h or XYZ where that was written.
    apart : float
        CIEDE2000 between the two; NaN where one is missing.
    moved : float
        CIEDE2000 from a Lab that sRGB cannot show to what stands for it; else 0.
    colour : NamedColour, optional
        What is used; None where there is nothing to use.
    why : str
        ``"hex"``, ``"Lab"``, or why there is none.
    line : int
    lacking : tuple of str
        Axes of Lab (or L*C*h, XYZ) that were left empty.
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
    lacking: tuple[str, ...] = ()

    def row(self) -> tuple[str, ...]:
        """Return the cells of its row in a table, one for each of ``HEADINGS``."""
        return (
            self.name,
            self.code,
            self.hex or "–",
            " ".join(f"{value:.1f}" for value in np.round(self.lab, 1) + 0.0) if self.lab else "–",
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


@dataclass(frozen=True, repr=False)
class SupplierPalette(Tabular):
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
    faults : tuple of FileFormatError
        Lines that could not be read and were left out, each with its line.
    """

    source: str
    shades: tuple[Shade, ...]
    palette: Palette
    notes: tuple[str, ...]
    faults: tuple[FileFormatError, ...] = ()

    made_by: ClassVar[str] = "read_supplier_palette"
    definitions: ClassVar[tuple[Definition, ...]] = (
        Definition("name", "name of the shade", "as it was written, or its code; made its own"),
        Definition("code", "the supplier's code", "as it was written"),
        Definition("hex", "what is used", "#rrggbb, of hex or of Lab; else nothing"),
        Definition("hex_given", "the hex that was given", "as it was written; R, G, B as rgb(…)"),
        *(
            Definition(
                f"{axis}*", f"{axis}* that was given",
                "as it was written, or worked out from L*C*h or XYZ; under the line's own light",
            )
            for axis in "Lab"
        ),
        Definition(
            "de2000_between", "how far hex and Lab disagree",
            "ΔE00 of the two under D65, Lab for D50 adapted by Bradford",
            "hex and Lab of the line", source=find_measure("de2000").source,
        ),
        Definition(
            "de2000_moved", "how far off sRGB shows it",
            "ΔE00 from Lab to what stands for it in sRGB, chroma reduced; 0 inside sRGB",
            "Lab of the line, and what is used", source=find_measure("de2000").source,
        ),
        Definition("used", "whether the shade can be used", "with hex, or Lab under a known light"),
        Definition("from", "what is used, or why nothing is", "hex, Lab, or what is missing"),
        Definition("remark", "the supplier's remark", "as it was written"),
        Definition("line", "line of the file", "from 1, the header too"),
    )  # fmt: skip

    @property
    def columns(self) -> dict[str, Any]:
        """Values by column, a row a shade; ``hex`` is what is used."""
        lab = np.array([shade.lab or (np.nan,) * 3 for shade in self.shades]).reshape(-1, 3)
        shades = self.shades
        return {
            "name": [shade.name for shade in shades],
            "code": [shade.code for shade in shades],
            "hex": [shade.colour.hex if shade.colour else None for shade in shades],
            "hex_given": [shade.hex or None for shade in shades],
            **{axis: lab[:, n] for n, axis in enumerate(("L*", "a*", "b*"))},
            "de2000_between": [shade.apart for shade in shades],
            "de2000_moved": [shade.moved for shade in shades],
            "used": [shade.colour is not None for shade in shades],
            "from": [shade.why for shade in shades],
            "remark": [shade.remark for shade in shades],
            "line": [shade.line for shade in shades],
        }

    def texts(self) -> Iterator[tuple[str, ...]]:
        """Yield the table as texts, a row a shade."""
        return (shade.row() for shade in self.shades)

    def __str__(self) -> str:
        return f"{self.source}: {len(self.palette)} of {len(self.shades)} shades can be used"

    def _repr_html_(self) -> str:
        rows: list[list[str | Cell]] = []
        for shade in self.shades:
            name, *others = shade.row()
            rows.append([Cell(name, colour=shade.colour.hex if shade.colour else ""), *others])
        notes = "".join(f"<li>{escape(note)}</li>" for note in self.notes)
        return f"{table([str(self)], HEADINGS, rows, right=(3, 4))}<ul {AS_TYPED}>{notes}</ul>"


def read_supplier_palette(
    path: Table,
    *,
    grounds: Iterable[str] = (),
    illuminant: str | None = None,
    observer: int | None = None,
    agree: float = 1.0,
    columns: Mapping[str, str] | None = None,
) -> SupplierPalette:
    """Read a supplier's list of shades, and say what is odd in it.

    Parameters
    ----------
    path : path or pandas DataFrame
        CSV, with or without byte-order mark; commas, semicolons, tabs or what a ``sep=`` line
        says; decimal commas where commas do not separate; titles may stand above the header.
        UTF-8; UTF-16 and Latin-1 are read too, and said. ``n/a``, ``–`` and blanks are gaps.
    grounds : iterable of str
        Names of the shades that are grounds; the others are then stripes.
    illuminant, observer :
        ``"D50"`` or ``"D65"``, 2 or 10, where the file does not state them.
    agree : float
        CIEDE2000 up to which hex and Lab are taken for the same, 0 to 20. The default, 1.0,
        is about what rounding and reading errors come to (a choice of ours).
    columns : mapping of str to str, optional
        Headings of the file that are not known, by ours: ``{"L*": "Helligkeit"}``.

    Returns
    -------
    SupplierPalette
        Its ``palette`` holds every shade that has a usable hex or Lab.

    Raises
    ------
    FileFormatError
        Naming the line: no such columns, numbers on another scale; a file without any usable
        shade, whose message lists every fault, or with more than 10,000.
    ArgumentError
        For a ground or a column that is not in the list, and values out of range.

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
    table = as_table(path)
    source = table_name(table)
    given = given_columns(columns, _KNOWN)
    said: list[str] = []
    faults: list[FileFormatError] = []
    rows = read_rows(
        table,
        empty="a supplier's shades",
        faults=faults,
        is_header=lambda cells: _has_shades(match_columns(cells, _KNOWN, given)[0]),
        notes=said,
    )
    header = next(rows)
    check_given(header, given)
    found, unknown = match_columns(list(header.cells), _KNOWN, given)
    if not _has_shades(found):
        raise header.fault(
            "header",
            "one with names of shades (name, shade, code …) and hex, RGB, L*a*b*, L*C*h or XYZ",
            words=", ".join(header.cells.values()),
            hint=columns_hint(header, found, "L*" if found.keys() & {"name", "code"} else "name"),
        )
    lines = _read_lines(rows, found, stated, faults)
    faults.sort(key=lambda fault: fault.line or 0)
    if not lines and faults:
        raise faults[0].with_others(faults[1:])
    judged = _judge(lines, limit)
    shades, renamed = _with_own_names(judged)
    headings = [heading for heading, _ in unknown]
    notes = [*said, *fault_notes(faults), *_notes(shades, headings, limit), *first_few(renamed)]
    notes += first_few(_twins(judged))
    members = [shade.colour for shade in shades if shade.colour]
    if not members:
        raise FileFormatError(
            "shades",
            "at least one with hex or Lab that can be used",
            words=f"none; {notes[-1].rstrip('.')}",
            hint=_conditions_hint(shades),
            source=source,
        ).with_others(faults)
    name = table.stem if isinstance(table, Path) else "shades"
    palette = Palette(name, _with_roles(members, grounds, source))
    return SupplierPalette(source, tuple(shades), palette, tuple(notes), tuple(faults))


def _conditions_hint(shades: Sequence[Shade]) -> str:
    """What an error adds where Lab is there and only its conditions are not stated."""
    stated_not = any(shade.lab and "not stated" in shade.why for shade in shades)
    return " (illuminant= and observer= state them for the file)" if stated_not else ""


def _read_lines(
    rows: Iterator[Row],
    columns: Mapping[str, str],
    stated: tuple[str | None, int | None],
    faults: list[FileFormatError],
) -> list[_Line]:
    """Read every line that can be read; what is wrong with the others goes to ``faults``."""
    kept: list[Row] = []
    for row in rows:
        if len(kept) == MOST_COLOURS:
            raise row.fault("shades", f"at most {MOST_COLOURS}", words="more")
        gaps = (columns[name] for name in columns if name not in ("name", "code", "remark"))
        without_gaps(row, gaps)
        kept.append(row)
    check_scale(kept, columns)
    _check_rgb_scale(kept, columns)
    lines = []
    for row in kept:
        try:
            lines.append(_read_line(row, columns, stated))
        except FileFormatError as fault:
            faults.append(fault)
    return lines


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


def _has_shades(found: Mapping[str, str]) -> bool:
    """Whether columns are those of a supplier's list: names or codes, and some colour."""
    named = "name" in found or "code" in found
    return named and ("hex" in found or found.keys() >= set(_RGB) or bool(spaces_in(found)))


def is_supplier_header(header: Sequence[str]) -> bool:
    """Whether headings, in lower case, are those of such a list: names or codes, and colours."""
    return _has_shades(match_columns(header, _KNOWN, {})[0])


def _check_rgb_scale(rows: Sequence[Row], columns: Mapping[str, str]) -> None:
    """Refuse R, G and B on a scale of 0–1, which would pass for blacks."""
    if not columns.keys() >= set(_RGB):
        return
    texts = [row.cells.get(columns[axis], "") for row in rows for axis in _RGB]
    shares = [text for text in texts if re.fullmatch(r"0?[.,]\d+|[01]([.,]0*)?", text)]
    if len(shares) == len([text for text in texts if text]) and any(
        re.search(r"[.,]\d*[1-9]", text) for text in shares
    ):
        raise FileFormatError(
            "r, g, b", "on a scale of 0 to 255", words="nothing above 1",
            hint="; a scale of 0 to 1? multiply by 255", source=rows[0].source, line=rows[0].line,
        )  # fmt: skip


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
            every = len(self.lacking) == 3
            return "neither hex nor Lab" if every else f"Lab lacks {', '.join(self.lacking)}"
        if self.illuminant is None or self.observer is None:
            return "illuminant and observer of Lab are not stated"
        return "Lab is for 10°, which only spectra turn into 2°" if self.observer == 10 else ""


def _read_line(
    row: Row, columns: Mapping[str, str], stated: tuple[str | None, int | None]
) -> _Line:
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
    missing = lacking(row, columns)
    lab = None if missing else lab_of(row, columns, illuminant, observer)
    hex_, rgb = cell("hex"), _hex(row, columns.get("hex", ""))
    if rgb is None and all(cell(axis) for axis in _RGB):
        red, green, blue = (as_value(row, columns[axis], 0, 255) / 255 for axis in _RGB)
        rgb = red, green, blue
        hex_ = "rgb({})".format(" ".join(cell(axis) for axis in _RGB))
    return _Line(name, code, remark, hex_, rgb, lab, illuminant, observer, missing, row.line)


def _hex(row: Row, column: str) -> tuple[float, float, float] | None:
    """A colour in sRGB; hex digits do without their mark, and may stand apart."""
    text = row.cells.get(column, "")
    if not text:
        return None
    try:
        digits = "".join(text.split()).removeprefix("#")
        bare = len(digits) in (3, 6) and set(digits) <= _DIGITS
        return read_colour(f"#{digits}" if bare else text)
    except CheckclothError:
        hint = ""
        if _SHORTENED.fullmatch(text):
            hint = "; a code of digits that a spreadsheet has shortened? write it with its #"
        raise row.fault(column, "a colour such as #b5473c", text, hint=hint) from None


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
    used, moved, asked = given.copy(), np.zeros(len(lines)), np.zeros(given.shape)
    if by_lab.any():
        asked[by_lab] = lab_to_xyz(lab[by_lab])
        used[by_lab] = xyz_to_shown(asked[by_lab])
        off = delta_e_2000(lab[by_lab], srgb_to_lab(used[by_lab]))
        moved[by_lab] = np.where(off < 1e-9, 0, off)  # but for rounding
    shades = []
    for n, line in enumerate(lines):
        colour, why = None, line.lab_fault
        if has_hex[n] or has_lab[n]:
            red, green, blue = used[n].tolist()
            text = "" if by_lab[n] or not line.hex.startswith("#") else line.hex.lower()
            x, y, z = asked[n].tolist()  # what was measured is kept where it lies outside sRGB
            xyz = (x, y, z) if by_lab[n] else None
            colour = NamedColour(line.name, (red, green, blue), "", line.remark, text, xyz)
            why = "Lab" if by_lab[n] else "hex"
        shades.append(
            Shade(
                line.name, line.code, line.remark, line.hex, line.lab, float(apart[n]),
                float(moved[n]), colour, why, line.number, line.lacking,
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


def _twins(shades: list[Shade]) -> Iterator[str]:
    """Say which names differ in nothing but capitals."""
    lines: dict[str, dict[str, int]] = {}
    for shade in shades:
        spelled = lines.setdefault(" ".join(shade.name.casefold().split()), {})
        spelled.setdefault(shade.name, shade.line)
    for spelled in lines.values():
        if len(spelled) > 1:
            *first, last = map(str, spelled.values())
            yield (
                f"Lines {', '.join(first)} and {last} differ in capitals alone: "
                f"{', '.join(spelled)}. One shade, or several? All are kept; readings are matched "
                "to names whatever the capitals."
            )


def _notes(shades: list[Shade], unknown: list[str], agree: float) -> list[str]:
    used = [shade for shade in shades if shade.colour]
    odd = [shade for shade in used if shade.apart > agree]
    out = [
        f"Hex and Lab that agree within ΔE00 {agree:g}, or hex alone, stand as the hex code; where "
        "they do not, or hex is missing, the colour is worked out from Lab (D50 adapted to D65 by "
        "Bradford; chroma reduced where sRGB cannot show it)."
    ]
    out += first_few(
        f"Line {shade.line}, {shade.name}: hex and Lab differ by ΔE00 {shade.apart:.1f}. Ask which "
        "one is right; Lab is used."
        for shade in odd
    )
    out += first_few(
        f"Line {shade.line}, {shade.name}: sRGB cannot show it; what stands for it here is "
        f"ΔE00 {shade.moved:.1f} away."
        for shade in used
        if shade.moved >= 0.5
    )
    unread = [shade for shade in used if shade.lab and shade.why == "hex" and np.isnan(shade.apart)]
    if unread:
        out.append(
            "Lab was not used where illuminant and observer are not stated (illuminant= and "
            "observer= state them), or the observer is 10°, which only spectra turn into 2°: "
            f"{_listed(unread)}."
        )
    bare = [shade for shade in used if shade.why == "hex" and shade.hex.isdigit()]
    if bare:
        out.append(
            f"Digits alone were taken for hex codes: {_listed(bare)}. Are they not numbers of "
            "articles?"
        )
    out += first_few(
        f"Line {shade.line}, {shade.name}: Lab lacks {', '.join(shade.lacking)}; hex is used."
        for shade in used
        if 0 < len(shade.lacking) < 3
    )
    unmeasured = [shade for shade in used if shade.lab is None and len(shade.lacking) == 3]
    if unmeasured:
        out.append(f"No Lab, so nothing stands behind the hex: {_listed(unmeasured)}.")
    out += first_few(
        f"Line {shade.line}, {shade.name}, is left out: {shade.why}."
        for shade in shades
        if not shade.colour
    )
    if unknown:
        out.append(f"Columns not used: {', '.join(unknown)}.")
    return out


def _listed(shades: list[Shade]) -> str:
    names = ", ".join(shade.name for shade in shades[:6])
    return f"{names} and {len(shades) - 6} more" if len(shades) > 6 else names
