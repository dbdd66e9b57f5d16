"""The strike-off as people read it: the verdict first, then tone by tone, then the small print."""

from __future__ import annotations

from html import escape
from typing import TYPE_CHECKING

from checkcloth.files.html import AS_TYPED, Cell, table

if TYPE_CHECKING:
    from checkcloth.quality.strike_off import StrikeOff

__all__ = ["HEADINGS", "strike_off_html"]

HEADINGS = (
    "Tone", "Readings", "Spread ΔE00", "Wanted L* a* b*", "Found L* a* b*", "CMC(2:1)", "ΔE00",
    "ΔL*", "ΔC*", "ΔH*", "Direction", "Result",
)  # fmt: skip
_FIGURES = range(1, 10)


def strike_off_html(result: StrikeOff) -> str:
    """Return verdict and explanation, the table, its basis and cautions.

    >>> from checkcloth.cloth.colourway import Colourway
    >>> from checkcloth.quality.readings import Reading, Readings
    >>> from checkcloth.quality.strike_off import check_strike_off
    >>> readings = Readings("a", "D65", 2, (Reading("white", (99.9, 0.0, 0.2), 2),))
    >>> "<table" in strike_off_html(check_strike_off(Colourway("white", ["navy"]), readings))
    True
    """
    rows = [[Cell(text, strong=text == "FAIL") for text in row] for row in result.rows()]
    notes = [result.basis, *result.cautions]
    if result.missing:
        notes.append(f"Not measured: {', '.join(result.missing)}.")
    listed = "".join(f"<li>{escape(note)}</li>" for note in notes)
    return (
        f"<div {AS_TYPED}><p><b>{escape(str(result))}</b></p><p>{escape(result.explanation)}</p>"
        f"{table((), HEADINGS, rows, right=_FIGURES)}<ul>{listed}</ul></div>"
    )
