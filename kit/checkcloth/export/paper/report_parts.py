"""What a report is made of: headings, paragraphs, tables, pictures, lines to sign on."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from checkcloth.errors import ArgumentError
from checkcloth.export.picture.picture import Picture
from checkcloth.quality.scatter import ToleranceScore
from checkcloth.quality.strike_off import StrikeOff
from checkcloth.quality.strike_off_html import HEADINGS
from checkcloth.quality.striping import LIMITS, Striping
from checkcloth.quality.supplier import HEADINGS as SHADE_HEADINGS
from checkcloth.quality.supplier import SupplierPalette
from checkcloth.quality.sweep import Sweep
from checkcloth.quality.table import ScoreTable
from checkcloth.quality.table_html import telling_columns, telling_rows
from checkcloth.quality.window import StrengthWindows

__all__ = ["Grid", "Heading", "Part", "SignatureLines", "Text", "parts_of"]

# Rows of one table that a report prints; the CSV has them all.
_MOST_ROWS = 200
# Widths of some columns by the first word of their heading; the others count as 1.
_WIDTHS = {
    "Colourway": 2.4, "Strength": 1.15, "Mixing": 1.6, "Lightness,": 1.6, "From": 1.1,
    "Tones,": 1.0,
}  # fmt: skip


@dataclass(frozen=True)
class Heading:
    """The start of a section; ``new_page`` where it must begin a page of its own.

    >>> Heading("Every pair").new_page
    False
    """

    text: str
    new_page: bool = False


@dataclass(frozen=True)
class Text:
    """A paragraph, plain.

    >>> Text("All data is invented.").strong
    False
    """

    text: str
    strong: bool = False


@dataclass(frozen=True)
class Grid:
    """A table of texts.

    Attributes
    ----------
    caption : str
    heads : tuple of str
    rows : tuple of tuples of str
    widths : tuple of float
        Shares of the page's width.

    Examples
    --------
    >>> Grid("Yarn", ("name", "metres"), (("navy", "120"),)).heads
    ('name', 'metres')
    """

    caption: str
    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    widths: tuple[float, ...] = ()


@dataclass(frozen=True)
class SignatureLines:
    """Empty lines, each with what is to be written on it.

    >>> SignatureLines(("Name", "Date")).labels
    ('Name', 'Date')
    """

    labels: tuple[str, ...]


Part = Heading | Text | Grid | SignatureLines | Picture


def _chunked(grid: Grid) -> list[Part]:
    if len(grid.rows) <= _MOST_ROWS:
        return [grid]
    cut = Grid(grid.caption, grid.heads, grid.rows[:_MOST_ROWS], grid.widths)
    more = len(grid.rows) - _MOST_ROWS
    return [cut, Text(f"{more} more rows are not printed; the CSV file has them.")]


def _score_table(table: ScoreTable) -> list[Part]:
    """Split by columns into tables that fit a page: who, how far apart, seen by whom."""
    columns = telling_columns(table)
    rows = telling_rows(table, _MOST_ROWS)
    # With spaces round the dash a heading can break there.
    names = [column.full.replace("–", " – ") for column in columns]
    first = len(columns) - len(table.visions) - 5
    out: list[Part] = []
    for caption, places in (
        (
            f"{table}; tones are distinct from ΔE00 {table.threshold:g}",
            [0, *range(1, 3), *range(first, len(columns))],
        ),
        ("Closest pairs of each kind", [0, *range(3, first)]),
    ):
        grid = Grid(
            caption,
            tuple(names[place] for place in places),
            tuple(tuple(row[place] for place in places) for row in rows),
            tuple(_WIDTHS.get(columns[place].full.split()[0], 1.0) for place in places),
        )
        out.append(grid)
    if len(table) > _MOST_ROWS:
        out.append(Text(f"{len(table) - _MOST_ROWS} more rows are not printed; the CSV has them."))
    return out


def _supplier(read: SupplierPalette) -> list[Part]:
    grid = Grid(str(read), SHADE_HEADINGS, tuple(read.rows()), (1.5, 0.9, 0.9, 1.4, 0.9, 1.8, 1.4))
    return [*_chunked(grid), *(Text(note) for note in read.notes)]


def _sweep(swept: Sweep) -> list[Part]:
    return _chunked(Grid(str(swept), swept.heads, tuple(swept.rows()), (2.2, 1, 1.6)))


def _windows(result: StrengthWindows) -> list[Part]:
    return [Grid(str(result), result.heads, tuple(result.rows()))]


def _tolerance(result: ToleranceScore) -> list[Part]:
    grid = Grid(str(result), result.heads, tuple(result.rows()), (2.2, 0.8, 1.1, 1.4))
    return [*_chunked(grid), Text(f"{result.basis}.")]


def _striping(result: Striping) -> list[Part]:
    grid = Grid(str(result), ("Figure", "Here", "Beside it"), tuple(result.rows()))
    return [grid, *(Text(caution) for caution in result.cautions), Text(LIMITS, strong=True)]


def _strike_off(result: StrikeOff) -> list[Part]:
    widths = (2.2, 1.15, 0.9, 1.45, 1.45, 1.15, 0.8, 0.85, 0.85, 0.85, 1.5, 0.85)
    out: list[Part] = [
        Heading(f"Strike-off: {result.colourway.name or result.colourway}", new_page=True),
        Text(f"Specification: {result.colourway}."),
        Text(str(result), strong=True),
        Grid("Tone by tone", HEADINGS, tuple(result.rows()), widths),
        Text(
            f"A tone passes at CMC(2:1) {result.tolerance:g} or less, the specification being the "
            "standard. CMC(2:1) 1.0 is common practice in the trade; buyer and maker agree on "
            "their own."
        ),
        Text(result.explanation),
        Text(result.basis),
        *(Text(caution) for caution in result.cautions),
    ]
    if result.missing:
        out.append(Text(f"Not measured: {', '.join(result.missing)}."))
    out.append(
        SignatureLines(
            ("Measured by, instrument, date", "Accepted / to be corrected, by, date", "Remarks")
        )
    )
    return out


# What a report can print, and how it is taken apart.
_WAYS: dict[type, Callable[..., list[Part]]] = {
    str: lambda text: [Text(text)],
    ScoreTable: _score_table,
    SupplierPalette: _supplier,
    Sweep: _sweep,
    StrengthWindows: _windows,
    ToleranceScore: _tolerance,
    Striping: _striping,
    StrikeOff: _strike_off,
}


def parts_of(content: Iterable[object]) -> list[Part]:
    """Turn what a person puts in a report into its parts.

    Raises
    ------
    ArgumentError
        For a thing that a report cannot print, and for nothing at all.

    Examples
    --------
    >>> parts_of(["All data is invented.", Heading("Every pair")])[1]
    Heading(text='Every pair', new_page=False)
    """
    out: list[Part] = []
    for item in content:
        if isinstance(item, Heading | Text | Grid | SignatureLines | Picture):
            out.append(item)
            continue
        way = next((way for kind, way in _WAYS.items() if isinstance(item, kind)), None)
        if way is None:
            raise ArgumentError(
                "content",
                "texts, headings, tables, pictures, a supplier's shades, sweeps, strength windows, tolerance scores, strike-offs or cautions",
                item,
            )
        out += way(item)
    if not out:
        raise ArgumentError("content must hold something to print, found nothing")
    return out
