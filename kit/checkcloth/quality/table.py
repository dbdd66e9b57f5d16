"""One table for an analyst: a row for each colourway, a column for each figure."""

from __future__ import annotations

import importlib.util
import os
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from os import PathLike
from pathlib import Path
from types import MappingProxyType
from typing import Any, cast

import numpy as np

from checkcloth.arguments import as_number, as_path, as_whole
from checkcloth.cloth.mixing import find_mixing
from checkcloth.colour.vision import VISIONS
from checkcloth.errors import ArgumentError, shown
from checkcloth.files.whole import write_whole, writing_whole
from checkcloth.quality.colourway_csv import Entry
from checkcloth.quality.columns import (
    Column,
    chunks,
    column_names,
    visions_of,
)
from checkcloth.quality.sources import Source, entries_of, how_many
from checkcloth.quality.table_csv import csv_line, csv_rows

__all__ = ["ScoreTable", "score_table", "write_score_table"]


@dataclass(frozen=True, repr=False)
class ScoreTable:
    """Scores of colourways, a row each; make it with :func:`score_table`.

    Attributes
    ----------
    columns : mapping of str to ndarray or list of str
        In order; each as long as the table. Numbers are floats, NaN where a check has no
        such pair; ``lightness_runs`` is 1 or 0.
    visions : tuple of str
        The colour visions scored.
    threshold : float
        CIEDE2000 at which two tones count as distinct.

    Examples
    --------
    >>> from checkcloth import Colourway
    >>> table = score_table([Colourway("white", ["navy"], name="Quay")], visions="normal")
    >>> table["name"], len(table)
    (['Quay'], 1)
    """

    columns: Mapping[str, Column]
    visions: tuple[str, ...]
    threshold: float

    def __len__(self) -> int:
        return len(self.columns["name"])

    def __getitem__(self, column: str) -> Column:
        """Return a column by name."""
        try:
            return self.columns[column]
        except KeyError:
            from difflib import get_close_matches

            near = get_close_matches(str(column), self.columns, 3, 0.5) or list(self.columns)[:3]
            raise ArgumentError(
                "column",
                f"one of the table's {len(self.columns)}, such as {', '.join(near)}",
                column,
            ) from None

    def _taken(self, places: Any) -> ScoreTable:
        taken: dict[str, Column] = {}
        for name, column in self.columns.items():
            if isinstance(column, np.ndarray):
                taken[name] = column[places]
            else:
                taken[name] = [column[place] for place in places]
        return ScoreTable(MappingProxyType(taken), self.visions, self.threshold)

    def sorted_by(self, column: str, *, descending: bool = True) -> ScoreTable:
        """Return the table sorted by a column; equal rows keep their order, blanks come last.

        Raises
        ------
        ArgumentError
            For a column that the table does not have.
        """
        values = self[column]
        if not isinstance(values, np.ndarray):
            places = sorted(range(len(self)), key=values.__getitem__, reverse=descending)
            return self._taken(places)
        return self._taken(np.argsort(-values if descending else values, kind="stable"))

    def head(self, count: int = 10) -> ScoreTable:
        """Return the first rows."""
        return self._taken(np.arange(min(as_whole(count, "count", 0, 10**9), len(self))))

    def where(self, column: str, at_least: float) -> ScoreTable:
        """Return the rows that have at least so much in a column of numbers."""
        values = self[column]
        if not isinstance(values, np.ndarray):
            raise ArgumentError(f"column must hold numbers, found {shown(column)}")
        return self._taken(np.flatnonzero(values >= at_least))

    def rows(self) -> Iterator[tuple[str | float, ...]]:
        """Yield the rows."""
        for place in range(len(self)):
            yield tuple(
                float(column[place]) if isinstance(column, np.ndarray) else column[place]
                for column in self.columns.values()
            )

    def to_csv(self, path: str | PathLike[str], *, overwrite: bool = False) -> Path:
        """Write the table as UTF-8 CSV, whole or not at all; return its path.

        Numbers have six significant digits; a blank stands where there is no such pair.

        Raises
        ------
        ExistsError
            If the file is there and ``overwrite`` is not set.
        """
        text = csv_line(self.columns) + csv_rows(self.columns)
        return write_whole(as_path(path), text.encode("utf-8"), overwrite=overwrite)

    def frame(self) -> Any:
        """Return the table as a pandas DataFrame.

        Raises
        ------
        ImportError
            If pandas is not installed; everything else works without it.
        """
        if importlib.util.find_spec("pandas") is None:
            raise ImportError("frame() needs pandas, which is not installed: pip install pandas")
        import pandas

        return pandas.DataFrame(dict(self.columns))

    def __str__(self) -> str:
        noun = "colourway" if len(self) == 1 else "colourways"
        return f"scores of {len(self)} {noun}: {', '.join(self.visions)} vision"

    def __repr__(self) -> str:
        return f"<{self}>"

    def _repr_html_(self) -> str:
        from checkcloth.quality.table_html import table_html

        return table_html(self)


def _watched(entries: Iterator[Entry], source: Source, progress: bool) -> Iterator[Entry]:
    if not progress:
        return entries
    from tqdm import tqdm

    return cast(
        Iterator[Entry],
        tqdm(entries, total=how_many(source), unit=" colourways", desc="Scoring", mininterval=0.5),
    )


def score_table(
    source: Source,
    *,
    visions: Iterable[str] = VISIONS,
    threshold: float = 5.0,
    strength: float = 0.5,
    mixing: str = "source-over",
    progress: bool = False,
) -> ScoreTable:
    """Score colourways or palettes in one table.

    Parameters
    ----------
    source : Colourway, ChosenSet, Palette, an iterable of colourways and palettes, or a path
        A path is a folder of palettes, one palette file, or a CSV of colourways. A palette
        gives a row for each of its grounds, with all its stripes.
    visions : iterable of str
        Some of ``VISIONS``; full deficiency.
    threshold : float
        CIEDE2000 from which two tones count as distinct.
    strength, mixing :
        For palettes, which have none of their own.
    progress : bool
        Show a progress bar on the error stream.

    Returns
    -------
    ScoreTable
        Held in memory, 0.3 kB a row and vision; see :func:`write_score_table` for files
        that are longer than that.

    Raises
    ------
    ArgumentError, FileFormatError
        For values out of range, and for faults in files, with their line.

    Examples
    --------
    >>> from checkcloth.cloth.colourway import Colourway
    >>> table = score_table(Colourway("white", ["black"]), visions=["normal"])
    >>> table["normal_ground_single_least_dl"].round(2).tolist()
    [46.61]
    """
    seen = visions_of(visions)
    limit = as_number(threshold, "threshold", 0, 100, low_open=True)
    as_number(strength, "strength", 0, 1)
    find_mixing(mixing)
    entries = entries_of(source, strength=strength, mixing=mixing)
    parts = list(chunks(_watched(entries, source, progress), seen, limit))
    if not parts:
        raise ArgumentError("source", "at least one colourway", words="none")
    columns: dict[str, Column] = {}
    for name in column_names(seen):
        pieces = [part[name] for part in parts]
        if isinstance(pieces[0], np.ndarray):
            columns[name] = np.concatenate(pieces)
        else:
            columns[name] = [str(text) for piece in pieces for text in piece]
    return ScoreTable(MappingProxyType(columns), seen, limit)


def write_score_table(
    source: Source,
    path: str | os.PathLike[str],
    *,
    visions: Iterable[str] = VISIONS,
    threshold: float = 5.0,
    strength: float = 0.5,
    mixing: str = "source-over",
    progress: bool = True,
    overwrite: bool = False,
) -> int:
    """Score colourways into a CSV file as they stream by; return how many.

    Memory stays the same however many there are: a thousand colourways at a time are
    read, scored and written. The file appears whole when the last is done; an error or an
    interrupt on the way leaves nothing.

    Parameters
    ----------
    source, visions, threshold, strength, mixing, progress :
        See :func:`score_table`.
    path : path
        Of the CSV file.
    overwrite : bool

    Raises
    ------
    ExistsError
        If the file is there and ``overwrite`` is not set.
    ArgumentError, FileFormatError
        As for :func:`score_table`.

    Examples
    --------
    >>> from tempfile import TemporaryDirectory
    >>> from checkcloth.cloth.colourway import Colourway
    >>> with TemporaryDirectory() as folder:
    ...     path = Path(folder, "scores.csv")
    ...     write_score_table([Colourway("white", ["navy"])], path, progress=False)
    1
    """
    seen = visions_of(visions)
    limit = as_number(threshold, "threshold", 0, 100, low_open=True)
    as_number(strength, "strength", 0, 1)
    find_mixing(mixing)
    entries = _watched(entries_of(source, strength=strength, mixing=mixing), source, progress)
    count = 0
    with writing_whole(as_path(path), overwrite=overwrite) as stream:
        stream.write(csv_line(column_names(seen)).encode("utf-8"))
        for part in chunks(entries, seen, limit):
            stream.write(csv_rows(part).encode("utf-8"))
            count += len(part["name"])
        if not count:
            raise ArgumentError("source", "at least one colourway", words="none")
    return count
