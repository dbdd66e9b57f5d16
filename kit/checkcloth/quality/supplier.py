"""A supplier's list of shades as it comes: hex codes, Lab readings, gaps, columns of its own.

Columns are known by the words the trade heads them with: a name (``shade``, ``colour
name`` …), ``hex``, ``L*``, ``a*``, ``b*``, and optionally ``code``, ``illuminant``,
``observer`` and ``remark``. Others are passed over, and it is said which.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from difflib import get_close_matches
from os import PathLike

import numpy as np

from checkcloth.arguments import as_number, as_path
from checkcloth.cloth.palette import MOST_COLOURS, Palette
from checkcloth.colour.illuminant import as_illuminant, as_observer
from checkcloth.errors import ArgumentError, FileFormatError
from checkcloth.files.csv_rows import read_rows
from checkcloth.files.html import AS_TYPED, Cell, table
from checkcloth.quality.supplier_rows import (
    Line,
    Shade,
    is_supplier_header,
    judge,
    read_line,
    shade_columns,
)

__all__ = ["HEADINGS", "SupplierPalette", "read_supplier_palette"]

HEADINGS = ("Shade", "Code", "Hex given", "L* a* b* given", "ΔE00 between", "Used", "Remark")


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

    Examples
    --------
    >>> from pathlib import Path
    >>> from tempfile import TemporaryDirectory
    >>> with TemporaryDirectory() as folder:
    ...     size = Path(folder, "mill.csv").write_text("shade,hex\\nBrick,#b5473c\\n", "utf-8")
    ...     print(read_supplier_palette(Path(folder, "mill.csv")))
    mill.csv: 1 of 1 shades can be used
    """

    source: str
    shades: tuple[Shade, ...]
    palette: Palette
    notes: tuple[str, ...]

    def rows(self) -> Iterator[tuple[str, ...]]:
        """Yield the table as texts, a row a shade."""
        for shade in self.shades:
            yield (
                shade.name,
                shade.code,
                shade.hex or "–",
                " ".join(f"{value:.1f}" for value in shade.lab) if shade.lab else "–",
                "–" if np.isnan(shade.apart) else f"{shade.apart:.2f}",
                f"{shade.colour.hex} from {shade.why}"
                if shade.colour
                else f"left out: {shade.why}",
                shade.remark,
            )

    def __str__(self) -> str:
        return f"{self.source}: {len(self.palette)} of {len(self.shades)} shades can be used"

    def __repr__(self) -> str:
        return f"<{self}>"

    def _repr_html_(self) -> str:
        from html import escape

        rows: list[list[str | Cell]] = []
        for shade, row in zip(self.shades, self.rows(), strict=True):
            colour = shade.colour.hex if shade.colour else ""
            rows.append([Cell(row[0], colour=colour), *row[1:]])
        notes = "".join(f"<li>{escape(note)}</li>" for note in self.notes)
        return f"{table([str(self)], HEADINGS, rows, right=(3, 4))}<ul {AS_TYPED}>{notes}</ul>"


def _own_names(shades: list[Shade]) -> tuple[list[Shade], list[str]]:
    """Give shades of the same name their code as well, or else their line."""
    first: dict[str, int] = {}
    taken: set[str] = set()
    out, notes = [], []
    for shade in shades:
        line = f"{shade.name} (line {shade.line})"
        chances = (shade.name, f"{shade.name} ({shade.code})" if shade.code else line, line)
        name = next(chance for chance in chances if chance not in taken)
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
    out += _some(
        f"Line {shade.line}, {shade.name}: hex and Lab differ by ΔE00 {shade.apart:.1f}. Ask which "
        "one is right; Lab is used."
        for shade in odd
    )
    out += _some(
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
    out += _some(
        f"Line {shade.line}, {shade.name}, is left out: {shade.why}."
        for shade in shades
        if not shade.colour
    )
    if unknown:
        out.append(f"Columns not used: {', '.join(unknown)}.")
    return out


def _some(notes: Iterable[str], most: int = 12) -> list[str]:
    """The first of many notes of a kind, and how many more there are."""
    every = list(notes)
    more = [f"… and so in {len(every) - most} more lines."] if len(every) > most else []
    return every[:most] + more


def _listed(shades: list[Shade]) -> str:
    names = ", ".join(shade.name for shade in shades[:6])
    return f"{names} and {len(shades) - 6} more" if len(shades) > 6 else names


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
    ...     [str(c) for c in read_supplier_palette(Path(folder, "mill.csv")).palette]
    ['Brick #b5473c']
    """
    limit = as_number(agree, "agree", 0, 20)
    stated = (
        None if illuminant is None else as_illuminant(illuminant),
        None if observer is None else as_observer(observer),
    )
    file = as_path(path)
    rows = read_rows(file, empty="a supplier's shades")
    header = next(rows)
    columns, unknown = shade_columns(header)
    if not is_supplier_header(header):
        raise header.fault(
            "header must name the shades (name, shade, code …) and have hex, or L*, a* and b*, "
            f"or both; found {', '.join(header.cells)}"
        )
    lines: list[Line] = []
    for row in rows:
        if len(lines) == MOST_COLOURS:
            raise row.fault(f"must hold at most {MOST_COLOURS} shades, found more")
        lines.append(read_line(row, columns, stated))
    shades, renamed = _own_names(judge(lines, limit))
    notes = [*_notes(shades, unknown, limit), *_some(renamed)]
    wanted = [grounds] if isinstance(grounds, str) else list(grounds)
    members = [shade.colour for shade in shades if shade.colour]
    names = {member.name for member in members}
    for ground in wanted:
        if ground not in names:
            near = get_close_matches(ground, names, 3, 0.5) or sorted(names)[:3]
            raise ArgumentError(
                "grounds",
                f"shades of {file.name} that can be used, such as {', '.join(near)}",
                ground,
            )
    if not members:
        raise FileFormatError(
            f"{file.name}: must hold at least one shade with hex or Lab, found none; {notes[-1]}"
        )
    if wanted:
        members = [replace(m, role="ground" if m.name in wanted else "stripe") for m in members]
    return SupplierPalette(file.name, tuple(shades), Palette(file.stem, members), tuple(notes))
