"""One report of every table and picture: a web page that stands alone, and a PDF to print."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from html import escape
from os import PathLike
from pathlib import Path

from checkcloth.arguments import as_path
from checkcloth.cloth.named_colour import clean_text
from checkcloth.errors import ArgumentError, shown
from checkcloth.export.paper.report_parts import (
    Grid,
    Heading,
    Part,
    SignatureLines,
    Text,
    parts_of,
)
from checkcloth.export.picture.picture import Picture
from checkcloth.files.html import figure, table
from checkcloth.files.whole import write_whole

__all__ = ["Report", "report"]

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
class Report:
    """A report; make it with :func:`report`.

    Attributes
    ----------
    title : str
    parts : tuple

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
        from checkcloth.export.paper.report_pdf import report_pdf

        return report_pdf(self.title, self.parts)

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
            raise ArgumentError(f"path must end in .html or .pdf, found {shown(file.name)}")
        data = self.pdf() if file.suffix.lower() == ".pdf" else self.html().encode("utf-8")
        return write_whole(file, data, overwrite=overwrite)

    def __str__(self) -> str:
        pictures = sum(isinstance(part, Picture) for part in self.parts)
        tables = sum(isinstance(part, Grid) for part in self.parts)
        return f"report {self.title}: {tables} tables, {pictures} pictures"

    def __repr__(self) -> str:
        return f"<{self}>"


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
        return figure(part.image_html(), part.title, heading=True)
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
        :class:`Picture`.

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
        raise ArgumentError("title must not be empty")
    return Report(named, tuple(parts_of(content)))
