"""The score table as people read it: the telling columns, escaped, a screenful of rows."""

from __future__ import annotations

from html import escape
from typing import TYPE_CHECKING

import numpy as np

from checkcloth.cloth.mixing import find_mixing

if TYPE_CHECKING:
    from checkcloth.explore.analysis.table import ScoreTable

__all__ = ["MOST_ROWS", "table_html", "telling_columns", "telling_rows"]

MOST_ROWS = 25

_CELL = 'style="padding:3px 8px;text-align:{};border-bottom:1px solid #ccc"'


def telling_columns(table: ScoreTable) -> tuple[tuple[str, str, str], ...]:
    """Return heading, column and format of what is shown; all the rest is in the CSV."""
    first = table.visions[0]
    shown = [
        ("Colourway", "name", ""),
        ("Strength", "strength", ".0%"),
        ("Mixing", "mixing", "mixing"),
    ]
    for kind, short in (
        ("ground_single", "Ground–single"),
        ("single_crossing", "Single–crossing"),
        ("single_single", "Single–single"),
        ("crossing_crossing", "Crossing–crossing"),
    ):
        shown.append((f"{short}, least ΔE00", f"{first}_{kind}_least_de2000", ".1f"))
        if kind in ("ground_single", "single_crossing"):
            shown.append((f"{short}, least ΔL*", f"{first}_{kind}_least_dl", ".1f"))
            shown.append((f"{short}, least ratio", f"{first}_{kind}_least_ratio", ".2f"))
    shown += [
        (f"Least edge ΔE00, {vision}", f"{vision}_least_edge_de2000", ".1f")
        for vision in table.visions
    ]
    shown += [
        ("Lightness in order", f"{first}_lightness_runs", "yes"),
        ("Evenness", f"{first}_evenness", ".2f"),
        ("Tones", "tones", ".0f"),
        (f"Distinct at ΔE00 {table.threshold:g}", f"{first}_distinct_tones", ".0f"),
        ("From afar", f"{first}_afar", "swatch"),
    ]
    return tuple(shown)


def _text(value: float | str, form: str) -> str:
    if isinstance(value, str):
        estimate = form == "mixing" and find_mixing(value).estimate
        return f"{value} (estimate)" if estimate else value
    if np.isnan(value):
        return "–"
    return ("yes" if value else "no") if form == "yes" else format(value, form)


def _side(form: str) -> str:
    return "left" if form in ("", "mixing") else "right"


def telling_rows(table: ScoreTable, most: int = MOST_ROWS) -> list[list[str]]:
    """Return the shown columns of the first rows as plain texts."""
    columns = [(table[name], form) for _, name, form in telling_columns(table)]
    return [
        [_text(column[place], form) for column, form in columns]
        for place in range(min(len(table), most))
    ]


def table_html(table: ScoreTable, most: int = MOST_ROWS) -> str:
    """Return an HTML table; it scrolls sideways inside its cell rather than being cut."""
    shown = telling_columns(table)
    heads = "".join(
        f'<th scope="col" {_CELL.format(_side(form))}>{escape(head)}</th>'
        for head, _, form in shown
    )
    lines = []
    for row in telling_rows(table, most):
        cells = []
        for text, (_, _, form) in zip(row, shown, strict=True):
            side = _side(form)
            mark = ""
            if form == "swatch":
                mark = (
                    f'<span style="display:inline-block;width:1em;height:1em;margin-right:4px;'
                    f'vertical-align:-2px;border:1px solid #888;background:{escape(text)}"></span>'
                )
            cells.append(f"<td {_CELL.format(side)}>{mark}{escape(text)}</td>")
        lines.append(f"<tr>{''.join(cells)}</tr>")
    caption = str(table)
    if len(table) > most:
        caption += f"; the first {most} shown"
    return (
        '<div style="overflow-x:auto"><table style="border-collapse:collapse">'
        f'<caption style="text-align:left;padding:4px 0">{escape(caption)}</caption>'
        f"<thead><tr>{heads}</tr></thead><tbody>{''.join(lines)}</tbody></table></div>"
    )
