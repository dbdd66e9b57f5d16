"""The report as PDF: A4, its fonts within it, names escaped."""

from __future__ import annotations

import io
from collections.abc import Iterable
from html import escape
from pathlib import Path
from typing import Any

from checkcloth.export.paper.pdf import binary_streams
from checkcloth.export.paper.report_parts import Grid, Heading, Part, SignatureLines, Text
from checkcloth.export.picture.picture import Picture

__all__ = ["report_pdf"]

_FONT, _BOLD = "ReportSans", "ReportSans-Bold"


def _fonts() -> None:
    """Register the fonts that matplotlib brings along: they have Δ, ≥ and most scripts."""
    import matplotlib
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont

    if _FONT in pdfmetrics.getRegisteredFontNames():
        return
    folder = Path(matplotlib.get_data_path()) / "fonts" / "ttf"
    pdfmetrics.registerFont(TTFont(_FONT, str(folder / "DejaVuSans.ttf")))
    pdfmetrics.registerFont(TTFont(_BOLD, str(folder / "DejaVuSans-Bold.ttf")))
    pdfmetrics.registerFontFamily(_FONT, normal=_FONT, bold=_BOLD, italic=_FONT, boldItalic=_BOLD)


def _styles() -> dict[str, Any]:
    from reportlab.lib.styles import ParagraphStyle

    body = ParagraphStyle("body", fontName=_FONT, fontSize=9.5, leading=13, spaceAfter=5)
    return {
        "body": body,
        "strong": ParagraphStyle("strong", body, fontName=_BOLD),
        "title": ParagraphStyle("title", body, fontName=_BOLD, fontSize=17, leading=22,
                                spaceAfter=10),
        "heading": ParagraphStyle("heading", body, fontName=_BOLD, fontSize=13, leading=17,
                                  spaceBefore=12, keepWithNext=1),
        "caption": ParagraphStyle("caption", body, fontName=_BOLD, keepWithNext=1),
        "small": ParagraphStyle("small", body, fontSize=8.5, leading=11),
    }  # fmt: skip


def _table(part: Grid, styles: dict[str, Any], across: float) -> list[Any]:
    from reportlab.lib import colors
    from reportlab.lib.styles import ParagraphStyle
    from reportlab.platypus import LongTable, Paragraph, Spacer, TableStyle

    columns = len(part.heads)
    size = 8.0 if columns <= 6 else 7.0 if columns <= 10 else 6.5
    cell = ParagraphStyle("cell", fontName=_FONT, fontSize=size, leading=size * 1.25,
                          splitLongWords=1)  # fmt: skip
    head = ParagraphStyle("head", cell, fontName=_BOLD)
    shares = part.widths or (1.0,) * columns
    data = [[Paragraph(escape(text), head) for text in part.heads]]
    data += [[Paragraph(escape(text), cell) for text in row] for row in part.rows]
    table = LongTable(data, colWidths=[across * s / sum(shares) for s in shares], repeatRows=1)
    table.setStyle(
        TableStyle(
            [
                ("LINEBELOW", (0, 0), (-1, 0), 0.8, colors.black),
                ("LINEBELOW", (0, 1), (-1, -1), 0.25, colors.HexColor("#aaaaaa")),
                ("VALIGN", (0, 0), (-1, -1), "TOP"),
                ("LEFTPADDING", (0, 0), (-1, -1), 1),
                ("RIGHTPADDING", (0, 0), (-1, -1), 3),
                ("TOPPADDING", (0, 0), (-1, -1), 2),
                ("BOTTOMPADDING", (0, 0), (-1, -1), 2),
            ]
        )
    )
    return [Paragraph(escape(part.caption), styles["caption"]), table, Spacer(1, 8)]


def _picture(
    part: Picture, heading: list[Any], styles: dict[str, Any], across: float, down: float
) -> list[Any]:
    from reportlab.platypus import Image, KeepTogether, Paragraph

    scale = min(across / part.width, 0.62 * down / part.height, 0.75)
    image = Image(io.BytesIO(part.png), part.width * scale, part.height * scale, hAlign="LEFT")
    return [KeepTogether([*heading, Paragraph(escape(part.title), styles["caption"]), image])]


def _lines(part: SignatureLines, styles: dict[str, Any], across: float) -> list[Any]:
    from reportlab.lib import colors
    from reportlab.platypus import HRFlowable, KeepTogether, Paragraph, Spacer

    out: list[Any] = []
    for label in part.labels:
        out += [
            Spacer(1, 26),
            HRFlowable(width="70%", thickness=0.6, color=colors.black, hAlign="LEFT"),
            Paragraph(escape(label), styles["small"]),
        ]
    return [KeepTogether(out)]


def _flowables(title: str, parts: Iterable[Part], across: float, down: float) -> list[Any]:
    from reportlab.platypus import PageBreak, Paragraph

    styles = _styles()
    story: list[Any] = [Paragraph(escape(title), styles["title"])]
    # A heading that waits for a picture, to be kept on one page with it.
    heading: list[Any] = []
    for part in parts:
        if not isinstance(part, Picture):
            story += heading
            heading = []
        if isinstance(part, Heading):
            if part.new_page and len(story) > 1:
                story.append(PageBreak())
            heading = [Paragraph(escape(part.text), styles["heading"])]
        elif isinstance(part, Text):
            story.append(Paragraph(escape(part.text), styles["strong" if part.strong else "body"]))
        elif isinstance(part, SignatureLines):
            story += _lines(part, styles, across)
        elif isinstance(part, Picture):
            story += _picture(part, heading, styles, across, down)
            heading = []
        else:
            story += _table(part, styles, across)
    return story + heading


def report_pdf(title: str, parts: Iterable[Part]) -> bytes:
    """Return the parts as an A4 PDF with its fonts embedded and no date in it.

    >>> from checkcloth.export.paper.report_parts import Text
    >>> report_pdf("Aprons", [Text("All data is invented.")])[:5]
    b'%PDF-'
    """
    from reportlab.lib.pagesizes import A4
    from reportlab.lib.units import mm
    from reportlab.platypus import SimpleDocTemplate

    _fonts()
    margin = 16 * mm
    stream = io.BytesIO()
    document = SimpleDocTemplate(
        stream, pagesize=A4, leftMargin=margin, rightMargin=margin, topMargin=margin,
        bottomMargin=18 * mm, title=title, author="", creator="checkcloth", lang="en-GB",
        invariant=1,
    )  # fmt: skip

    def foot(canvas: Any, page: Any) -> None:
        canvas.setFont(_FONT, 8)
        canvas.drawString(margin, 10 * mm, title[:80])
        canvas.drawRightString(A4[0] - margin, 10 * mm, str(page.page))

    story = _flowables(title, parts, document.width, document.height)
    with binary_streams():
        document.build(story, onFirstPage=foot, onLaterPages=foot)
    return stream.getvalue()
