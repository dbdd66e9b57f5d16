"""CSV as every table of the kit writes it: commas, one line feed, no cell that is a formula."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence

from checkcloth.base.files import safe_cell

__all__ = ["csv_text"]


def csv_text(header: Sequence[str], rows: Iterable[Sequence[object]]) -> str:
    """Return CSV text: text cells no spreadsheet takes for a formula, numbers left alone.

    Parameters
    ----------
    header : sequence of str
        An empty one is left out.
    rows : iterable of rows of str or numbers

    Examples
    --------
    >>> csv_text(("tone", "L*"), [("navy, faded", -0.5), ("=1", 2)])
    'tone,L*\\n"navy, faded",-0.5\\n\\'=1,2\\n'
    """
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\n")
    if header:
        writer.writerow(header)
    for row in rows:
        writer.writerow([safe_cell(cell) if isinstance(cell, str) else cell for cell in row])
    return out.getvalue()
