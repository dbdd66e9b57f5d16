"""The specification sheet: a PDF with a page for each colourway, for whoever makes the cloth."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from typing import Any, BinaryIO

from checkcloth.arguments import as_path
from checkcloth.cloth.check import Check
from checkcloth.cloth.colourway import Colourway
from checkcloth.export.data.members import Colourways, as_set, label_of, names_in
from checkcloth.export.data.tables import scores_of
from checkcloth.export.hand_off.manifest import program_version
from checkcloth.export.hand_off.staging import write_file
from checkcloth.export.paper.pdf import binary_streams
from checkcloth.export.paper.spec_cloth import draw_band_plan, draw_cloth, draw_rulers
from checkcloth.export.paper.spec_page import MARGIN, QUIET, SpecPage, fonts, page_size
from checkcloth.export.paper.spec_tables import (
    ToneRow,
    draw_cautions,
    draw_facts,
    draw_proof_line,
    draw_readings,
    draw_tones,
    tone_rows,
)
from checkcloth.export.picture.fonts import lacking
from checkcloth.export.print.press import Press
from checkcloth.export.print.proof import soft_proof
from checkcloth.scoring.contrast import Score

__all__ = ["save_spec_sheet", "write_spec_sheet"]

_CLOTH = 84.0
_PITCH = 2.95
# Millimetres kept at the foot for readings and cautions.
_FOOT = 37.5


class _Sheet:
    """One colourway's page, and pages for tones that it has no room for."""

    def __init__(self, canvas: Any, paper: str, set_name: str, count: int) -> None:
        self._canvas, self._paper = canvas, paper
        self._set_name, self._count = set_name, count

    def _head(self, page: SpecPage, place: int, title: str, under: str) -> None:
        about = f"{self._set_name + ' · ' if self._set_name else ''}{place + 1} of {self._count}"
        right = page.measure(about, 7)
        page.text(MARGIN, 18, title, 15, bold=True, room=page.room - right - 6)
        page.text(MARGIN + page.room, 18, about, 7, grey=QUIET, align="right")
        page.text(MARGIN, 23.4, under, 7.5, grey=QUIET, room=page.room)
        page.line(MARGIN, 26.4, MARGIN + page.room, 26.4)

    def draw(
        self, place: int, colourway: Colourway, check: Check, one: Score, press: Press | None
    ) -> None:
        page = SpecPage(self._canvas, self._paper)
        title = label_of(colourway, place)
        key = f"sheet-{place}"
        self._canvas.bookmarkPage(key)
        self._canvas.addOutlineEntry(title, key)
        stripes = ", ".join(stripe.name for stripe in colourway.stripes)
        self._head(page, place, title, f"{stripes} on {colourway.ground.name}")

        top = 31.0
        draw_cloth(page, f"cloth-{place}", colourway, check, MARGIN, top, _CLOTH)
        page.frame(MARGIN, top, _CLOTH, _CLOTH)
        shown = "part of a repeat" if check.repeat.mm > _CLOTH else "from the corner of a repeat"
        page.text(MARGIN, top + _CLOTH + 3.4, f"True size, {shown}", 5.5, grey=QUIET)
        x = MARGIN + _CLOTH + 8
        facts = draw_facts(page, colourway, check, one, x, top + 2.4, page.room - _CLOTH - 8)
        below = draw_rulers(page, x, max(facts + 2, top + _CLOTH - 12.4))
        y = draw_band_plan(page, colourway, check, max(below + 1, top + _CLOTH + 9))
        if press is not None:
            y = draw_proof_line(page, soft_proof(colourway, press), y + 1)
        lack = lacking(self._set_name, *names_in(colourway))
        self._tones(page, place, title, tone_rows(colourway, check), y + 3.2, lack)

    def _tones(
        self, page: SpecPage, place: int, title: str, rows: list[ToneRow], y: float, lack: str
    ) -> None:
        foot = page.height - MARGIN - _FOOT
        room = max(1, int((foot - 5 - y - 3.4) / _PITCH))
        note = "code: warp/weft stripe, G the ground; sRGB in 8-bit hex; Lab under D65, 2°"
        page.heading(MARGIN, y, "Tones")
        lines = len(rows) if len(rows) <= room else min(room, -(-len(rows) // 2))
        rest = rows[2 * room :]
        more = f"; {len(rest)} more on the next page" if rest else ""
        if lack:
            codes = " ".join(f"U+{ord(sign):04X}" for sign in lack[:4])
            more += f"; □: {codes}{' ...' if len(lack) > 4 else ''}, not in this typeface"
        page.text(MARGIN + 24, y, note + more, 6, grey=QUIET, room=page.room - 24)
        draw_tones(page, rows, y + 3.4, lines, pitch=_PITCH)
        below = draw_readings(page, rows, foot)
        draw_cautions(page, below + 3.2)
        page.end()
        while rest:
            page = SpecPage(self._canvas, self._paper)
            self._head(page, place, title, "Tones, continued")
            room = int((page.height - MARGIN - 36) / _PITCH)
            draw_tones(page, rest, 34, min(room, -(-len(rest) // 2)), pitch=_PITCH)
            rest = rest[2 * room :]
            page.end()


def write_spec_sheet(
    stream: BinaryIO,
    colourways: Colourways,
    check: Check | None = None,
    *,
    paper: str = "A4",
    press: Press | None = None,
    numbers: Iterable[int] | None = None,
) -> None:
    """Write the specification sheet of a set as PDF, the same bytes for the same set.

    A page a colourway: cloth at true size with rulers of 5 cm and 2 in, design, contrast,
    band plan, every tone, blank lines for the readings of a strike-off, cautions. Tones
    that a page has no room for go on with a page of their own.

    Parameters
    ----------
    stream : binary file
    colourways : ChosenSet, Colourway or iterable of Colourway
    check : Check, optional
        May be left out where a chosen set brings its own.
    paper : str
        ``"A4"`` or ``"Letter"``.
    press : Press, optional
        Adds a line on what that press makes of the tones.
    numbers : iterable of int, optional
        Which colourways, counted from 0; all where left out. Long sets are written as
        several files, so that memory stays bounded.

    Raises
    ------
    ArgumentError
        For no colourways, no check, or another paper.

    Examples
    --------
    >>> import io
    >>> out = io.BytesIO()
    >>> write_spec_sheet(out, Colourway("white", ["navy"]), Check("1/2 in", 1))
    >>> out.getvalue()[:5]
    b'%PDF-'
    """
    from reportlab.pdfgen.canvas import Canvas

    chosen = as_set(colourways, check)
    width, height = page_size(paper)
    canvas = Canvas(
        stream,
        pagesize=(width * 72 / 25.4, height * 72 / 25.4),
        invariant=1,
        pageCompression=1,
        lang="en-GB",
        initialFontName=fonts()[0],  # or reportlab names one that it does not embed
    )
    title = f"{chosen.name}: specification" if chosen.name else "Specification"
    canvas.setTitle(title)
    canvas.setSubject(str(chosen))
    canvas.setAuthor("")
    canvas.setCreator(program_version())
    canvas.setProducer(program_version())
    places = list(range(len(chosen)) if numbers is None else numbers)
    members = [chosen.colourways[place] for place in places]
    sheet = _Sheet(canvas, paper, chosen.name, len(chosen))
    for place, colourway, one in zip(places, members, scores_of(members), strict=True):
        sheet.draw(place, colourway, chosen.check_for(colourway), one, press)
    with binary_streams():
        canvas.save()


def save_spec_sheet(
    colourways: Colourways,
    check: Check | None,
    path: str | Path,
    *,
    paper: str = "A4",
    press: Press | None = None,
    overwrite: bool = False,
) -> Path:
    """Write the specification sheet as a file, whole or not at all; return its path.

    See :func:`write_spec_sheet`.

    Raises
    ------
    ExistsError
        If the file is there and ``overwrite`` is not set.

    Examples
    --------
    >>> from tempfile import TemporaryDirectory
    >>> aprons = Colourway("white", ["navy"], name="Quay")
    >>> with TemporaryDirectory() as folder:
    ...     save_spec_sheet(aprons, Check("1/2 in", 1), Path(folder, "quay.pdf")).name
    'quay.pdf'
    """
    return write_file(
        as_path(path),
        lambda stream: write_spec_sheet(stream, colourways, check, paper=paper, press=press),
        overwrite=overwrite,
    )
