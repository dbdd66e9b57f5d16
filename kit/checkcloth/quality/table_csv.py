"""Columns as lines of CSV, fast enough for tables that stream."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Mapping
from typing import Any

import numpy as np

from checkcloth.files.whole import safe_cell
from checkcloth.quality.columns import Column

__all__ = ["csv_line", "csv_rows"]


def csv_line(names: Iterable[str]) -> str:
    """Return a header.

    >>> csv_line(["name", "tones"])
    'name,tones\\n'
    """
    return ",".join(names) + "\n"


def csv_rows(columns: Mapping[str, Column]) -> str:
    """Format rows by one pattern: a million cells a second, which a cell at a time is not.

    >>> csv_rows({"name": ["Quay"], "tones": np.array([3.0])})
    'Quay,3\\n'
    """
    lists: list[list[Any]] = []
    pattern = []
    for column in columns.values():
        if not isinstance(column, np.ndarray):
            lists.append([_quoted(text) for text in column])
            pattern.append("%s")
        elif np.isnan(column).any():
            lists.append(["" if np.isnan(value) else f"{value:.6g}" for value in column])
            pattern.append("%s")
        else:
            lists.append(column.tolist())
            pattern.append("%.6g")
    line = ",".join(pattern) + "\n"
    return "".join(line % row for row in zip(*lists, strict=True))


def _quoted(text: str) -> str:
    safe = safe_cell(text)
    if not any(mark in safe for mark in ',"\n\r'):
        return safe
    out = io.StringIO()
    csv.writer(out, lineterminator="").writerow([safe])
    return out.getvalue()
