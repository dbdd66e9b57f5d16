"""The strike-off as a table for people, escaped."""

from __future__ import annotations

from html import escape
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from checkcloth.explore.analysis.strike_off import StrikeOff

__all__ = ["HEADINGS", "strike_off_html"]

HEADINGS = (
    "Tone", "Readings", "Spread ΔE00", "Wanted L* a* b*", "Found L* a* b*", "CMC(2:1)", "ΔE00",
    "ΔL*", "ΔC*", "ΔH*", "Direction", "Result",
)  # fmt: skip


def strike_off_html(result: StrikeOff) -> str:
    """Return the table with its basis, cautions and explanation."""
    heads = "".join(f'<th scope="col" style="text-align:left">{escape(h)}</th>' for h in HEADINGS)
    lines = []
    for row in result.rows():
        *cells, state = row
        weight = "bold" if state == "FAIL" else "normal"
        body = "".join(f'<td style="text-align:left">{escape(cell)}</td>' for cell in cells)
        lines.append(
            f'<tr>{body}<td style="text-align:left;font-weight:{weight}">{escape(state)}</td></tr>'
        )
    notes = [result.basis, *result.cautions]
    if result.missing:
        notes.append(f"Not measured: {', '.join(result.missing)}.")
    listed = "".join(f"<li>{escape(note)}</li>" for note in notes)
    return (
        f'<div style="overflow-x:auto"><table><caption style="text-align:left">'
        f"{escape(str(result))}</caption><thead><tr>{heads}</tr></thead>"
        f"<tbody>{''.join(lines)}</tbody></table></div>"
        f"<p>{escape(result.explanation)}</p><ul>{listed}</ul>"
    )
