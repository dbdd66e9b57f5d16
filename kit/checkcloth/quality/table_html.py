"""The score table as people read it: the telling columns, escaped, a screenful of rows."""

from __future__ import annotations

from itertools import groupby
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from checkcloth.cloth.mixing import find_mixing
from checkcloth.files.html import Cell, table

if TYPE_CHECKING:
    from checkcloth.quality.table import ScoreTable

__all__ = ["MOST_ROWS", "Column", "table_html", "telling_columns", "telling_rows"]

MOST_ROWS = 25


class Column(NamedTuple):
    """A column as it is shown.

    Attributes
    ----------
    group : str
        What it belongs to, or nothing.
    head : str
        Its own heading.
    name : str
        The column of the score table.
    form : str
        A format, or one of ``""``, ``"mixing"``, ``"yes"``, ``"colour"``.

    Examples
    --------
    >>> Column("Single–single", "least ΔE00", "normal_single_single_least_de2000", ".1f").full
    'Single–single, least ΔE00'
    """

    group: str
    head: str
    name: str
    form: str

    @property
    def full(self) -> str:
        """Group and heading in one."""
        return f"{self.group}, {self.head}" if self.group else self.head


def telling_columns(scores: ScoreTable) -> tuple[Column, ...]:
    """Return what is shown of a table; all the rest is in the CSV.

    >>> from checkcloth.cloth.colourway import Colourway
    >>> from checkcloth.quality.table import score_table
    >>> telling_columns(score_table([Colourway("white", ["navy"])]))[0].head
    'Colourway'
    """
    first = scores.visions[0]
    shown = [
        Column("", "Colourway", "name", ""),
        Column("", "Strength", "strength", ".0%"),
        Column("", "Mixing", "mixing", "mixing"),
    ]
    for kind, group in (
        ("ground_single", "Ground–single, least"),
        ("single_crossing", "Single–crossing, least"),
        ("single_single", "Single–single, least"),
        ("crossing_crossing", "Crossing–crossing, least"),
    ):
        shown.append(Column(group, "ΔE00", f"{first}_{kind}_least_de2000", ".1f"))
        if kind in ("ground_single", "single_crossing"):
            shown.append(Column(group, "ΔL*", f"{first}_{kind}_least_dl", ".1f"))
            shown.append(Column(group, "ratio", f"{first}_{kind}_least_ratio", ".2f"))
    shown += [
        Column("Least edge ΔE00", vision, f"{vision}_least_edge_de2000", ".1f")
        for vision in scores.visions
    ]
    shown += [
        Column("Lightness", "order", f"{first}_lightness_runs", "yes"),
        Column("Lightness", "even", f"{first}_evenness", ".2f"),
        Column("Tones", "all", "tones", ".0f"),
        Column("Tones", "distinct", f"{first}_distinct_tones", ".0f"),
        Column("", "From afar", f"{first}_afar", "colour"),
    ]
    return tuple(shown)


def _text(value: float | str, form: str) -> str:
    if isinstance(value, str):
        estimate = form == "mixing" and find_mixing(value).estimate
        return f"{value} (estimate)" if estimate else value
    if np.isnan(value):
        return "–"
    if form == "yes":
        return "yes" if value else "no"
    return f"{value * 100:.0f} %" if form == ".0%" else format(value, form)


def telling_rows(scores: ScoreTable, most: int = MOST_ROWS) -> list[list[str]]:
    """Return the shown columns of the first rows as plain texts.

    >>> from checkcloth.cloth.colourway import Colourway
    >>> from checkcloth.quality.table import score_table
    >>> telling_rows(score_table([Colourway("white", ["navy"], name="Quay")]))[0][:2]
    ['Quay', '50 %']
    """
    columns = [(scores[column.name], column.form) for column in telling_columns(scores)]
    return [
        [_text(values[place], form) for values, form in columns]
        for place in range(min(len(scores), most))
    ]


def table_html(scores: ScoreTable, most: int = MOST_ROWS) -> str:
    """Return an HTML table; the colour from afar stands beside the name.

    It scrolls sideways inside its cell rather than being cut.

    >>> from checkcloth.cloth.colourway import Colourway
    >>> from checkcloth.quality.table import score_table
    >>> "Quay" in table_html(score_table([Colourway("white", ["navy"], name="Quay")]))
    True
    """
    shown = telling_columns(scores)[:-1]
    rows: list[list[str | Cell]] = [
        [Cell(name, colour=afar), *row] for name, *row, afar in telling_rows(scores, most)
    ]
    caption = str(scores)
    if len(scores) > most:
        caption += f"; the first {most} shown"
    return table(
        [
            caption,
            f"the square is the colour from afar; tones are distinct from ΔE00 "
            f"{scores.threshold:g}",
        ],
        [column.head for column in shown],
        rows,
        right=[place for place, column in enumerate(shown) if column.form not in ("", "mixing")],
        groups=[
            (group, len(list(members)))
            for group, members in groupby(column.group for column in shown)
        ],
    )
