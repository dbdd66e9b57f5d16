"""One report of every table and picture: a web page that stands alone, and a PDF to print."""

from __future__ import annotations

import io
from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from functools import partial
from html import escape
from os import PathLike
from pathlib import Path
from typing import Any

from checkcloth.arguments import as_path
from checkcloth.cloth.named_colour import clean_text
from checkcloth.cloth.spectral import LightTable, Partings
from checkcloth.errors import ArgumentError
from checkcloth.export.charts.charts_strike_off import strike_off_chart
from checkcloth.export.members import counted
from checkcloth.export.paper.page import binary_streams, register_fonts, with_minus
from checkcloth.export.paper.tagged import Element, Structure, tagged_canvas
from checkcloth.export.picture.gamp import ColourGamp
from checkcloth.export.picture.lettering import boxed
from checkcloth.export.picture.picture import Picture, picture_of
from checkcloth.files.frames import Tabular, is_frame, is_gap
from checkcloth.files.html import OneLine, figure, table
from checkcloth.files.whole import write_whole
from checkcloth.needs import need
from checkcloth.quality.glossary import Glossary
from checkcloth.quality.grounds import GroundGains
from checkcloth.quality.scatter import ToleranceScore
from checkcloth.quality.strike_off import HEADINGS, StrikeOff
from checkcloth.quality.striping import LIMITS, Striping
from checkcloth.quality.supplier import HEADINGS as SHADE_HEADINGS
from checkcloth.quality.supplier import SupplierPalette
from checkcloth.quality.sweep import StrengthWindows, Sweep
from checkcloth.quality.table import ScoreTable, shown_columns, shown_rows

# Rows of one table that a report prints; the CSV has them all.
_MOST_ROWS = 200
# Columns of a table of anything else, side by side; the first is repeated beside the others.
_MOST_COLUMNS = 9
# Widths of some columns by the first word of their heading; the others count as 1.
_WIDTHS = {
    "Colourway": 2.4, "Strength": 1.15, "Mixing": 1.6, "Lightness,": 1.6, "From": 1.1,
    "Tones,": 1.0, "Column": 1.5, "KIND": 1.2, "What it is": 1.3, "How it is worked out": 2.6,
    "Of": 1.5, "Which tones are compared": 2.0, "How to read it": 1.8, "MEASURE": 0.8,
}  # fmt: skip


@dataclass(frozen=True)
class Heading:
    """The start of a section; ``new_page`` where it must begin a page of its own."""

    text: str
    new_page: bool = False


@dataclass(frozen=True)
class Text:
    """A paragraph of plain text."""

    text: str
    strong: bool = False


@dataclass(frozen=True)
class Grid:
    """A table of texts."""

    caption: str
    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    widths: tuple[float, ...] = ()  #: shares of the page's width


@dataclass(frozen=True)
class SignatureLines:
    """Empty lines, each with what is to be written on it."""

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
    columns = shown_columns(table)
    rows = shown_rows(table, _MOST_ROWS)
    # With spaces round the dash a heading can break there.
    names = [column.full.replace("–", " – ") for column in columns]
    first = len(columns) - len(table.visions) - 5
    out: list[Part] = []
    for caption, indices in (
        (
            f"{table}; tones are distinct from ΔE00 {table.threshold:g}",
            [0, 1, 2, *range(first, len(columns))],
        ),
        ("Closest pairs of each kind", [0, *range(3, first)]),
    ):
        grid = Grid(
            caption,
            tuple(names[index] for index in indices),
            tuple(tuple(row[index] for index in indices) for row in rows),
            tuple(_WIDTHS.get(columns[index].full.split()[0], 1.0) for index in indices),
        )
        out.append(grid)
    if len(table) > _MOST_ROWS:
        out.append(Text(f"{len(table) - _MOST_ROWS} more rows are not printed; the CSV has them."))
    return out


def _supplier(read: SupplierPalette) -> list[Part]:
    grid = Grid(str(read), SHADE_HEADINGS, tuple(read.texts()), (1.5, 0.9, 0.9, 1.4, 0.9, 1.8, 1.4))
    return [*_chunked(grid), *(Text(note) for note in read.notes)]


def _texts(result: Any, caption: str, widths: tuple[float, ...] = ()) -> list[Part]:
    """A result that has its texts by column."""
    return _chunked(Grid(caption, result.heads, tuple(map(tuple, result.texts())), widths))


def _glossary(words: Glossary) -> list[Part]:
    return [
        part
        for caption, heads, rows in words.grids()
        for part in _chunked(
            Grid(caption, heads, tuple(rows), tuple(_WIDTHS.get(head, 1.0) for head in heads))
        )
    ]


def _tolerance(result: ToleranceScore) -> list[Part]:
    grids = _texts(result, str(result), (2.2, 0.8, 1.1, 1.4))
    return [*grids, Text(f"{result.basis}.")]


def _striping(result: Striping) -> list[Part]:
    grid = Grid(str(result), ("Figure", "Here", "Beside it"), tuple(result.texts()))
    return [grid, *(Text(caution) for caution in result.cautions), Text(LIMITS, strong=True)]


def _lights(found: LightTable) -> list[Part]:
    pairs = found.partings
    shown = _texts(pairs, pairs.words) if pairs else [Text(f"{pairs.words}.")]
    return [*_texts(found, found.words), *shown]


def _gamp(gamp: ColourGamp) -> list[Part]:
    return [gamp.picture(), *_tabular(gamp)]


def _tabular(result: Tabular) -> list[Part]:
    return _columns(str(result), [*result.columns], [*result.rows()])


def _frame(frame: Any) -> list[Part]:
    """A pandas DataFrame; its index too, but for bare numbers of rows."""
    numbers = set(frame.index.names) == {None} and frame.index.inferred_type == "integer"
    named = frame if numbers else frame.reset_index()
    rows = [*named.itertuples(index=False, name=None)]
    return _columns(counted(len(rows), "row"), [*map(str, named.columns)], rows)


def _columns(caption: str, names: list[str], rows: list[tuple[Any, ...]]) -> list[Part]:
    """Values as tables that fit a page, so many columns at a time."""
    out: list[Part] = []
    for start in range(1, max(len(names), 2), _MOST_COLUMNS - 1):
        at = [0, *range(start, min(start + _MOST_COLUMNS - 1, len(names)))]
        texts = tuple(tuple(_value(row[column]) for column in at) for row in rows)
        out += _chunked(Grid(caption, tuple(names[column] for column in at), texts))
    return out


def _value(value: Any) -> str:
    if is_gap(value):
        return "–"
    return f"{value + 0.0:.4g}" if isinstance(value, float) else str(value)


def _drawn(drawn: Any) -> list[Part]:
    """A matplotlib figure; what its title and its axes say is its alternative text.

    Its title stands in it, and is not said a second time over it.
    """
    words = [drawn.get_suptitle(), *(axes.get_title(where) for axes in drawn.axes
                                     for where in ("left", "center", "right"))]  # fmt: skip
    title = next((text for text in words if text.strip()), "")
    if not title:
        allowed = "matplotlib figures with a title, of the figure or of its axes"
        hint = "; checkcloth.export.charts.picture_of(figure, title, alt) gives it words"
        raise ArgumentError("content", allowed, drawn, hint=hint)
    labels = [
        f"{axes.get_ylabel()} over {axes.get_xlabel()}"
        for axes in drawn.axes
        if axes.get_xlabel() and axes.get_ylabel()
    ]
    others = [text for text in words if text.strip() and text != title]
    return [picture_of(drawn, "", "; ".join(dict.fromkeys([title, *others, *labels])))]


def _strike_off(result: StrikeOff) -> list[Part]:
    widths = (2.2, 0.85, 1.15, 1.5, 0.8, 0.85, 0.85, 0.85, 1.45, 1.45, 1.15, 0.9)
    out: list[Part] = [
        Heading(f"Strike-off: {result.colourway.name or result.colourway}", new_page=True),
        Text(f"Specification: {result.colourway}."),
        Text(str(result), strong=True),
        Grid("Tone by tone", HEADINGS, tuple(result.texts()), widths),
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
    out.append(strike_off_chart(result))
    return out


# What a report can print, and how it is taken apart.
_TAKEN_APART: dict[type, Callable[..., list[Part]]] = {
    str: lambda text: [Text(text)],
    ScoreTable: _score_table,
    SupplierPalette: _supplier,
    Sweep: lambda swept: _texts(swept, str(swept), (2.2, 1, 1.6, 0.8)),
    StrengthWindows: lambda found: _texts(found, str(found)),
    ToleranceScore: _tolerance,
    Glossary: _glossary,
    Striping: _striping,
    StrikeOff: _strike_off,
    LightTable: _lights,
    GroundGains: lambda found: _texts(found, found.words),
    Partings: lambda pairs: _texts(pairs, pairs.words),
    ColourGamp: _gamp,
    Tabular: _tabular,
}


def _parts_of(content: Iterable[object]) -> list[Part]:
    """Turn what a person puts in a report into its parts."""
    out: list[Part] = []
    for item in content:
        if isinstance(item, Part):
            out.append(item)
            continue
        take_apart = next((do for kind, do in _TAKEN_APART.items() if isinstance(item, kind)), None)
        if is_frame(item):
            take_apart = _frame
        elif hasattr(item, "savefig") and hasattr(item, "axes"):
            take_apart = _drawn
        if take_apart is None:
            raise ArgumentError(
                "content",
                "texts, headings, tables, pictures, a supplier's shades, sweeps, strength windows, "
                "tolerance scores, gains of grounds, strike-offs, tones under lights, cautions, a "
                "glossary, any other result with a .frame(), a pandas frame or a matplotlib figure",
                item,
            )
        out += take_apart(item)
    if not out:
        raise ArgumentError("content", "something to print", words="nothing")
    return [_printed(part) for part in out]


def _printed(part: Part) -> Part:
    """A table with the minus signs of print."""
    if not isinstance(part, Grid):
        return part
    return replace(part, rows=tuple(tuple(map(with_minus, row)) for row in part.rows))


# As PDF: A4, its fonts within it, names escaped.


def _styles() -> dict[str, Any]:
    from reportlab.lib.styles import ParagraphStyle

    plain, bold = register_fonts()
    body = ParagraphStyle("body", fontName=plain, fontSize=9.5, leading=13, spaceAfter=5)
    return {
        "body": body,
        "strong": ParagraphStyle("strong", body, fontName=bold),
        "title": ParagraphStyle("title", body, fontName=bold, fontSize=17, leading=22,
                                spaceAfter=10),
        "heading": ParagraphStyle("heading", body, fontName=bold, fontSize=13, leading=17,
                                  spaceBefore=12, keepWithNext=1),
        "caption": ParagraphStyle("caption", body, fontName=bold, keepWithNext=1),
        "small": ParagraphStyle("small", body, fontSize=8.5, leading=11),
    }  # fmt: skip


def _table(part: Grid, styles: dict[str, Any], across: float, root: Element) -> list[Any]:
    from reportlab.lib import colors
    from reportlab.lib.styles import ParagraphStyle
    from reportlab.platypus import Spacer, TableStyle

    from checkcloth.export.paper.flow import Rows, Words

    plain, bold = register_fonts()
    columns = len(part.heads)
    size = 8.0 if columns <= 6 else 7.0 if columns <= 10 else 6.5
    cell = ParagraphStyle("cell", fontName=plain, fontSize=size, leading=size * 1.25,
                          splitLongWords=1)  # fmt: skip
    head = ParagraphStyle("head", cell, fontName=bold)
    shares = part.widths or (1.0,) * columns
    caption = Words(escape(part.caption), styles["caption"], root.add("P"))
    grid = root.add("Table")
    row = grid.add("TR")
    data = [[Words(escape(text), head, row.add("TH", scope="Column")) for text in part.heads]]
    for texts in part.rows:
        row = grid.add("TR")
        data.append([Words(escape(text), cell, row.add("TD")) for text in texts])
    table = Rows(data, colWidths=[across * s / sum(shares) for s in shares], repeatRows=1)
    table.setStyle(
        TableStyle(
            [
                ("LINEBELOW", (0, 0), (-1, 0), 0.8, colors.black),
                ("LINEBELOW", (0, 1), (-1, -1), 0.25, colors.HexColor("#aaaaaa")),
                ("FONT", (0, 0), (-1, -1), plain, size),
                ("VALIGN", (0, 0), (-1, -1), "TOP"),
                ("LEFTPADDING", (0, 0), (-1, -1), 1),
                ("RIGHTPADDING", (0, 0), (-1, -1), 3),
                ("TOPPADDING", (0, 0), (-1, -1), 2),
                ("BOTTOMPADDING", (0, 0), (-1, -1), 2),
            ]
        )
    )
    return [caption, table, Spacer(1, 8)]


def _picture(
    part: Picture,
    heading: list[Any],
    styles: dict[str, Any],
    sides: tuple[float, float],
    root: Element,
) -> list[Any]:
    from reportlab.platypus import KeepTogether

    from checkcloth.export.paper.flow import Figure, Words

    across, down = sides
    scale = min(across / part.width, 0.62 * down / part.height, 0.75)
    if part.title:
        heading = [*heading, Words(escape(part.title), styles["caption"], root.add("P"))]
    image = Figure(io.BytesIO(part.png), part.width * scale, part.height * scale, hAlign="LEFT")
    image.element = root.add("Figure", alt=part.alt)
    return [KeepTogether([*heading, image])]


def _lines(part: SignatureLines, styles: dict[str, Any], root: Element) -> list[Any]:
    from reportlab.lib import colors
    from reportlab.platypus import KeepTogether, Spacer

    from checkcloth.export.paper.flow import Rule, Words

    out: list[Any] = []
    for label in part.labels:
        out += [
            Spacer(1, 26),
            Rule(width="70%", thickness=0.6, color=colors.black, hAlign="LEFT"),
            Words(escape(label), styles["small"], root.add("P")),
        ]
    return [KeepTogether(out)]


def _flowables(
    title: str, parts: Iterable[Part], sides: tuple[float, float], root: Element
) -> list[Any]:
    from reportlab.platypus import PageBreak

    from checkcloth.export.paper.flow import Words

    styles = _styles()
    story: list[Any] = [Words(escape(title), styles["title"], root.add("H1"))]
    # A heading that waits for a picture, to be kept on one page with it.
    heading: list[Any] = []
    for part in parts:
        if isinstance(part, Picture):
            story += _picture(part, heading, styles, sides, root)
            heading = []
            continue
        story += heading
        heading = []
        if isinstance(part, Heading):
            if part.new_page and len(story) > 1:
                story.append(PageBreak())
            heading = [Words(escape(part.text), styles["heading"], root.add("H2"))]
        elif isinstance(part, Text):
            style = styles["strong" if part.strong else "body"]
            story.append(Words(escape(part.text), style, root.add("P")))
        elif isinstance(part, SignatureLines):
            story += _lines(part, styles, root)
        else:
            story += _table(part, styles, sides[0], root)
    return story + heading


def _pdf(title: str, parts: Iterable[Part]) -> bytes:
    """Return the parts as an A4 PDF with its fonts embedded and no date in it."""
    need("reportlab")
    from reportlab.lib.pagesizes import A4
    from reportlab.lib.units import mm
    from reportlab.platypus import SimpleDocTemplate

    plain, _ = register_fonts()
    structure = Structure()
    margin = 16 * mm
    stream = io.BytesIO()
    document = SimpleDocTemplate(
        stream, pagesize=A4, leftMargin=margin, rightMargin=margin, topMargin=margin,
        bottomMargin=18 * mm, title=title, author="", creator="checkcloth", lang="en-GB",
        invariant=1, initialFontName=plain,
    )  # fmt: skip

    def foot(canvas: Any, page: Any) -> None:
        with structure.marked(canvas, None):
            canvas.setFont(plain, 8)
            canvas.drawString(margin, 10 * mm, boxed(title[:80]))
            canvas.drawRightString(A4[0] - margin, 10 * mm, str(page.page))

    story = _flowables(title, parts, (document.width, document.height), structure.root)
    maker = partial(tagged_canvas, structure=structure, title=title)
    with binary_streams():
        document.build(story, onFirstPage=foot, onLaterPages=foot, canvasmaker=maker)
    return stream.getvalue()


# As a web page.

_STYLE = """
body{font:16px/1.45 sans-serif;color:#222;max-width:62rem;margin:2rem auto;padding:0 1rem}
table{border-collapse:collapse;font-size:.86rem}
caption{text-align:left;font-weight:bold;padding:.2rem 0}
th,td{border-bottom:1px solid #bbb;padding:.2rem .5rem;text-align:left;vertical-align:top}
div{margin:.6rem 0} .line{border-bottom:1px solid #222;height:2.6rem}
@media print{h2.page{break-before:page} tr,figure{break-inside:avoid}
div{overflow:visible!important}}
"""


@dataclass(frozen=True, repr=False)
class Report(OneLine):
    """A report; make it with :func:`report`.

    Examples
    --------
    >>> print(report("Aprons", ["Figures from the specification."]))
    report Aprons: 0 tables, 0 pictures
    """

    title: str
    parts: tuple[Part, ...]

    def html(self) -> str:
        """Return the report as one HTML page that needs no other file."""
        body = "\n".join(_html(part) for part in self.parts)
        title = escape(self.title)
        return (
            f'<!doctype html>\n<html lang="en-GB">\n<head>\n<meta charset="utf-8">\n'
            f'<meta name="viewport" content="width=device-width, initial-scale=1">\n'
            f"<title>{title}</title>\n<style>{_STYLE}</style>\n</head>\n"
            f"<body>\n<h1>{title}</h1>\n{body}\n</body>\n</html>\n"
        )

    def pdf(self) -> bytes:
        """Return the report as PDF, A4; the same bytes for the same report."""
        return _pdf(self.title, self.parts)

    def save(self, path: str | PathLike[str], *, overwrite: bool = False) -> Path:
        """Write the report as its ending says, ``.html`` or ``.pdf``, whole or not at all.

        Raises
        ------
        ArgumentError
            For another ending.
        ExistsError
            If the file is there and ``overwrite`` is not set.
        """
        file = as_path(path)
        if file.suffix.lower() not in (".html", ".pdf"):
            raise ArgumentError("path", "a name that ends in .html or .pdf", file.name)
        data = self.pdf() if file.suffix.lower() == ".pdf" else self.html().encode("utf-8")
        return write_whole(file, data, overwrite=overwrite)

    def __str__(self) -> str:
        pictures = sum(isinstance(part, Picture) for part in self.parts)
        tables = sum(isinstance(part, Grid) for part in self.parts)
        return f"report {self.title}: {tables} tables, {pictures} pictures"


def _html(part: Part) -> str:
    if isinstance(part, Heading):
        mark = ' class="page"' if part.new_page else ""
        return f"<h2{mark}>{escape(part.text)}</h2>"
    if isinstance(part, Text):
        text = escape(part.text)
        return f"<p><strong>{text}</strong></p>" if part.strong else f"<p>{text}</p>"
    if isinstance(part, SignatureLines):
        lines = "".join(
            f'<div class="line" role="presentation"></div><div>{escape(label)}</div>'
            for label in part.labels
        )
        return f"<div>{lines}</div>"
    if isinstance(part, Picture):
        picture = part.image_html()
        return figure(picture, part.title, heading=True) if part.title else f"<p>{picture}</p>"
    return table([part.caption], part.heads, part.rows)


def report(title: str, content: Iterable[object]) -> Report:
    """Gather tables and pictures in one report.

    Parameters
    ----------
    title : str
    content : iterable
        In the order they are to stand: texts, :class:`Heading`, :class:`ScoreTable`,
        :class:`SupplierPalette`, :class:`Sweep`, :class:`StrengthWindows`, :class:`ToleranceScore`,
        :class:`StrikeOff` (a page of its own with lines to sign), :class:`Striping`,
        :class:`LightTable`, :class:`GroundGains`, :class:`Partings`, :class:`Glossary`,
        :class:`Picture`, any other result with a ``.frame()``; a pandas DataFrame of your own,
        with its index where that has a name; a matplotlib figure that has a title, which with
        the labels of its axes is its alternative text (:func:`picture_of` gives it another).

    Returns
    -------
    Report
        ``save("contrast.html")`` or ``save("contrast.pdf")``.

    Raises
    ------
    ArgumentError
        For an empty title, nothing to print, or a thing that a report cannot print.

    Examples
    --------
    >>> print(report("Tea table", ["One cloth for every halt."]))
    report Tea table: 0 tables, 0 pictures
    """
    named = clean_text(title, "title")
    if not named:
        raise ArgumentError("title", "a text that is not empty", title)
    return Report(named, tuple(_parts_of(content)))
