"""One table for an analyst: a row for each colourway, a column for each figure.

From top to bottom: the table itself, what it can be made of, how its columns are scored, and
how it is written as CSV and shown.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Iterator, Mapping, Sequence
from concurrent.futures import Executor
from dataclasses import dataclass, replace
from difflib import get_close_matches
from itertools import groupby, islice
from math import inf
from os import PathLike
from pathlib import Path
from types import MappingProxyType
from typing import Any, NamedTuple, overload

import numpy as np
from numpy.typing import NDArray

from checkcloth.arguments import Floats, as_number, as_path, as_tuple, as_whole, require_type
from checkcloth.cloth.bands import Bands
from checkcloth.cloth.check import MOST_STRIPES, Check
from checkcloth.cloth.chosen import ChosenSet
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.mixing import find_mixing
from checkcloth.cloth.palette import Palette, read_palette
from checkcloth.cloth.tones import (
    Stack,
    Symmetry,
    area_shares,
    each_symmetry,
    laid_positions,
    stack,
    symmetry_of,
)
from checkcloth.colour.spaces import srgb_to_bytes
from checkcloth.colour.vision import VISIONS
from checkcloth.cores.in_order import check_workers, in_order
from checkcloth.errors import ArgumentError, FileFormatError
from checkcloth.files.csv_rows import read_rows, safe_cell
from checkcloth.files.frames import Definition, Table, as_table, is_frame, to_frame
from checkcloth.files.html import Cell, OneLine
from checkcloth.files.html import table as html_table
from checkcloth.files.progress import Progress, progress_of
from checkcloth.files.whole import write_whole, writing_whole
from checkcloth.needs import has
from checkcloth.quality.colourway_csv import PlainColourway, count_lines, stream_colourways
from checkcloth.quality.supplier import (
    SupplierPalette,
    is_supplier_header,
    read_supplier_palette,
)
from checkcloth.scoring.cloth_scores import WHOLE_CLOTH, as_bands
from checkcloth.scoring.contrast import score_and_count
from checkcloth.scoring.definitions import LEAST_EDGE, PAIR_COLUMNS, WHOLE_COLUMNS
from checkcloth.scoring.pairs import KINDS
from checkcloth.scoring.vocabulary import PAIR_WORDS

Source = Table | Palette | SupplierPalette | Colourway | ChosenSet | Iterable[Colourway | Palette]
Column = NDArray[np.float64] | Sequence[str]

# Whole numbers, by how the names of their columns end.
_COUNTS = ("stripe_count", "tones")
_TEXT_COLUMNS = ("name", "ground", "stripes", "mixing")
# Colourways scored together: some 20 MB of arrays for six stripes.
_CHUNK = 1000
# Rows that a notebook shows.
_MOST_ROWS = 25


@dataclass(frozen=True, repr=False)
class ScoreTable(OneLine):
    """Scores of colourways, a row each; make it with :func:`score_table`.

    Attributes
    ----------
    columns : mapping of str to ndarray or tuple of str
        In order; each as long as the table. Numbers are floats, NaN where a check has no
        such pair; ``lightness_runs`` is 1 or 0. They cannot be changed; ``frame()`` and
        ``rows()`` have whole numbers as int and ``lightness_runs`` as bool.
    visions : tuple of str
        The colour visions scored.
    threshold : float
        CIEDE2000 at which two tones count as distinct.
    stopped : bool
        Whether scoring was stopped before the source was at its end.
    """

    columns: Mapping[str, Column]
    visions: tuple[str, ...]
    threshold: float
    stopped: bool = False

    def __post_init__(self) -> None:
        frozen = {name: _frozen(column) for name, column in self.columns.items()}
        object.__setattr__(self, "columns", MappingProxyType(frozen))

    def __len__(self) -> int:
        return len(self.columns["name"])

    @overload
    def __getitem__(self, column: str) -> Column: ...

    @overload
    def __getitem__(self, column: slice | list[int] | NDArray[Any]) -> ScoreTable: ...

    def __getitem__(self, column: str | slice | list[int] | NDArray[Any]) -> Column | ScoreTable:
        """Return a column by its name, or the rows of a slice, a mask or a list of numbers.

        >>> table = score_table([Colourway("white", [name]) for name in ("navy", "red")])
        >>> table[1:]["stripes"], len(table[table["normal_least_edge_de2000"] > 1000])
        (('#ff0000',), 0)
        """
        if not isinstance(column, str):
            return self._take(_row_numbers(column, len(self)))
        try:
            return self.columns[column]
        except KeyError:
            near = get_close_matches(str(column), self.columns, 3, 0.5) or list(self.columns)[:3]
            raise ArgumentError(
                "column",
                f"one of the table's {len(self.columns)}, such as {', '.join(near)}",
                column,
            ) from None

    def _take(self, rows: Sequence[int] | NDArray[np.intp]) -> ScoreTable:
        taken: dict[str, Column] = {
            name: column[rows]
            if isinstance(column, np.ndarray)
            else tuple(column[row] for row in rows)
            for name, column in self.columns.items()
        }
        return ScoreTable(MappingProxyType(taken), self.visions, self.threshold, self.stopped)

    def sorted_by(self, column: str, *, descending: bool = True) -> ScoreTable:
        """Return the table sorted by a column; equal rows keep their order, blanks come last.

        The largest number, or the last text by the alphabet, comes first; with
        ``descending=False`` the smallest, or the first.

        Raises
        ------
        ArgumentError
            For a column that the table does not have.
        """
        values = self[column]
        if isinstance(values, np.ndarray):
            return self._take(np.argsort(-values if descending else values, kind="stable"))
        return self._take(sorted(range(len(self)), key=values.__getitem__, reverse=descending))

    def head(self, count: int = 10) -> ScoreTable:
        """Return the first rows."""
        return self._take(np.arange(min(as_whole(count, "count", 0, 10**9), len(self))))

    def where(self, column: str, at_least: float) -> ScoreTable:
        """Return the rows that have at least so much in a column of numbers."""
        values = self[column]
        if not isinstance(values, np.ndarray):
            raise ArgumentError("column", "one of numbers", column)
        return self._take(np.flatnonzero(values >= as_number(at_least, "at_least", -inf, inf)))

    def rows(self) -> Iterator[tuple[Any, ...]]:
        """Yield the rows: text, float, int for counts, bool for yes and no."""
        lists = [
            typed.tolist() if isinstance(typed, np.ndarray) else typed
            for typed in self._typed().values()
        ]
        return zip(*lists, strict=True)

    def _typed(self) -> dict[str, Any]:
        """The columns, counts as whole numbers and yes or no as such."""
        yes_no = tuple(score.name for score in WHOLE_CLOTH if score.yes_no)
        kinds = {**dict.fromkeys(_COUNTS, np.int64), **dict.fromkeys(yes_no, np.bool_)}

        def typed(name: str, column: Column) -> Any:
            kind = next((kinds[end] for end in kinds if name.endswith(end)), None)
            whole = isinstance(column, np.ndarray) and kind and not np.isnan(column).any()
            return column.astype(kind) if whole and isinstance(column, np.ndarray) else column

        return {name: typed(name, column) for name, column in self.columns.items()}

    def to_csv(self, path: str | PathLike[str], *, overwrite: bool = False) -> Path:
        """Write the table as UTF-8 CSV, whole or not at all; return its path.

        Numbers have six significant digits; a blank stands where there is no such pair.

        Raises
        ------
        ExistsError
            If the file is there and ``overwrite`` is not set.
        """
        text = ",".join(self.columns) + "\n" + _csv_rows(self.columns)
        return write_whole(as_path(path), text.encode("utf-8"), overwrite=overwrite)

    def frame(self) -> Any:
        """Return the table as a pandas DataFrame.

        Raises
        ------
        MissingPackageError
            If pandas is not installed; everything else works without it.
        """
        return to_frame(self._typed())

    def __str__(self) -> str:
        noun = "colourway" if len(self) == 1 else "colourways"
        stopped = ", stopped before the end" if self.stopped else ""
        return f"scores of {len(self):,} {noun}: {', '.join(self.visions)} vision{stopped}"

    def _repr_html_(self) -> str:
        """The shown columns of a screenful of rows, with the colour from afar beside the name.

        It scrolls sideways inside its cell rather than being cut.
        """
        columns = shown_columns(self)[:-1]
        rows: list[list[str | Cell]] = [
            [Cell(name, colour=afar), *row] for name, *row, afar in shown_rows(self, _MOST_ROWS)
        ]
        caption = str(self)
        if len(self) > _MOST_ROWS:
            caption += f"; the first {_MOST_ROWS} shown"
        note = (
            f"the square is the colour from afar; tones are distinct from ΔE00 {self.threshold:g}"
        )
        groups = groupby(column.group for column in columns)
        return html_table(
            [caption, note],
            [column.head for column in columns],
            rows,
            right=[n for n, column in enumerate(columns) if column.form not in ("", "mixing")],
            groups=[(group, len(list(members))) for group, members in groups],
        )


def _frozen(column: Column) -> Column:
    if not isinstance(column, np.ndarray):
        return tuple(column)
    column = column.view()
    column.flags.writeable = False
    return column


def _row_numbers(rows: object, count: int) -> NDArray[np.intp]:
    """The rows of a slice, a mask or several numbers."""
    try:
        return np.atleast_1d(
            np.arange(count)[rows if isinstance(rows, slice) else np.asarray(rows)]
        )
    except (IndexError, TypeError, ValueError):
        raise ArgumentError(
            "column", f"a name, or rows: a slice, {count} of true and false, or numbers", rows
        ) from None


def score_table(
    source: Source,
    *,
    visions: Iterable[str] = VISIONS,
    threshold: float = 5.0,
    strength: float = 0.5,
    mixing: str = "source-over",
    progress: bool | Progress = False,
    check: Check | None = None,
    executor: Executor | str | None = None,
    workers: int | None = None,
) -> ScoreTable:
    """Score colourways or palettes in one table.

    Parameters
    ----------
    source : Colourway, ChosenSet, Palette, SupplierPalette, several colourways or palettes, a \
path, or a pandas DataFrame
        A path is a folder of palettes, one palette file, a supplier's list of shades whose
        headings are known, or a CSV of colourways; a frame is what such a file would be. A
        palette gives a row for each of its grounds, with all its stripes.
    visions : iterable of str
        Some of ``VISIONS``; full deficiency.
    threshold : float
        CIEDE2000 from which two tones count as distinct.
    strength, mixing :
        For palettes, which have none of their own.
    progress : bool or callable
        A progress bar with an estimate, or ``progress(done, total)`` in colourways, where
        the total is None if only the end of the source would tell.
    check : Check, optional
        Whose bands colourways of its stripe counts are scored in; all others, and all where
        it is left out, in those of an even check. A chosen set brings its own.
    executor : None, "processes" or concurrent.futures.Executor
        Score here, in processes of our own (in a script, under ``if __name__ ==
        "__main__":``), or wherever somebody's executor has it done. The table is the same.
    workers : int, optional
        How many processes; as many as there are cores where left out.

    Returns
    -------
    ScoreTable
        Held in memory, 0.4 kB a row and vision; see :func:`write_score_table` for files
        that are longer than that. After Ctrl-C or an interrupt of the kernel it holds the
        colourways that were scored, and ``stopped`` says so.

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
    scoring = _Scoring.of(visions, threshold, _check_of(source, check))
    members = _members(source, strength, mixing)
    parts: list[Mapping[str, Column]] = []
    stopped = False
    with progress_of(progress, _count(source), "colourways", "scoring") as step:
        try:
            for part in in_order(scoring.columns_of, chunks(members), executor, workers):
                parts.append(part)
                step(len(part["name"]))
        except KeyboardInterrupt:
            if not parts:
                raise
            stopped = True
    if not parts:
        raise ArgumentError("source", "at least one colourway", words="none")
    columns: dict[str, Column] = {}
    for name in scoring.column_names:
        pieces = [part[name] for part in parts]
        if isinstance(pieces[0], np.ndarray):
            columns[name] = np.concatenate(pieces)
        else:
            columns[name] = [str(text) for piece in pieces for text in piece]
    return ScoreTable(MappingProxyType(columns), scoring.visions, scoring.threshold, stopped)


def write_score_table(
    source: Source,
    path: str | PathLike[str],
    *,
    visions: Iterable[str] = VISIONS,
    threshold: float = 5.0,
    strength: float = 0.5,
    mixing: str = "source-over",
    progress: bool | Progress | None = None,
    overwrite: bool = False,
    check: Check | None = None,
    executor: Executor | str | None = None,
    workers: int | None = None,
) -> int:
    """Score colourways into a CSV file as they stream by; return how many.

    Memory stays the same however many there are: a thousand colourways at a time are
    read, scored and written. The file appears whole when the last is done; an error or an
    interrupt on the way leaves nothing.

    Parameters
    ----------
    source, visions, threshold, strength, mixing, check, executor, workers :
        See :func:`score_table`.
    progress : bool or callable, optional
        See :func:`score_table`; without saying, a bar where tqdm is installed.
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
    scoring = _Scoring.of(visions, threshold, _check_of(source, check))
    check_workers(executor, workers)
    members = _members(source, strength, mixing)
    shown = has("tqdm") if progress is None else progress
    count = 0
    with (
        progress_of(shown, _count(source), "colourways", "scoring") as step,
        writing_whole(as_path(path), overwrite=overwrite) as stream,
    ):
        stream.write((",".join(scoring.column_names) + "\n").encode("utf-8"))
        for rows, text in in_order(scoring.csv_of, chunks(members), executor, workers):
            stream.write(text)
            count += rows
            step(rows)
        if not count:
            raise ArgumentError("source", "at least one colourway", words="none")
    return count


def _check_of(source: Source, check: Check | None) -> Check | None:
    return source.check if check is None and isinstance(source, ChosenSet) else check


# --- What a table can be made of -------------------------------------------------------------


def palette_colourways(
    palette: Palette, strength: float = 0.5, mixing: str = "source-over"
) -> list[Colourway]:
    """Return the colourways that stand for a palette: all its stripes, on each of its grounds.

    Where no colour is marked as ground, each takes its turn under the others. Scores do
    not depend on the order of the stripes: every pair is compared.

    Raises
    ------
    ArgumentError
        For a palette of one colour, or of more than 24 stripe colours.

    Examples
    --------
    >>> [str(c.ground) for c in palette_colourways(Palette("pair", ["navy", "gold"]))]
    ['navy #000080', 'gold #ffd700']
    """
    out = []
    for ground in require_type(palette, "palette", Palette).grounds:
        stripes = [colour for colour in palette.stripes if colour.rgb != ground.rgb]
        if not 1 <= len(stripes) <= MOST_STRIPES:
            raise ArgumentError(
                "palette",
                f"one with 1 to {MOST_STRIPES} stripe colours beside each ground",
                words=f"{len(stripes)} beside {ground.name!r} in {palette.name!r}",
                hint="; draw colourways from it instead",
            )
        name = f"{palette.name} on {ground.name}"
        out.append(Colourway(ground, stripes, strength, mixing, name))
    return out


def _members(source: Source, strength: float, mixing: str) -> Iterator[PlainColourway]:
    """Yield what is to be scored, one by one."""
    as_number(strength, "strength", 0, 1)
    find_mixing(mixing)
    return _plain_colourways(source, strength, mixing)


def _plain_colourways(source: Source, strength: float, mixing: str) -> Iterator[PlainColourway]:
    if isinstance(source, str | PathLike) or is_frame(source):
        yield from _of_table(as_table(source, "source"), strength, mixing)
    elif isinstance(source, SupplierPalette):
        yield from _plain_colourways(source.palette, strength, mixing)
    elif isinstance(source, Palette):
        yield from map(PlainColourway.of, palette_colourways(source, strength, mixing))
    elif isinstance(source, Colourway):
        yield PlainColourway.of(source)
    elif isinstance(source, Iterable):
        for member in source:
            if not isinstance(member, Colourway | Palette):
                raise ArgumentError("source", "of colourways or palettes", member)
            yield from _plain_colourways(member, strength, mixing)
    else:
        raise ArgumentError(
            "source",
            "a colourway, a palette, a supplier's list, several colourways or palettes, or the "
            "path of a folder of palettes or of a CSV file",
            source,
        )


def _of_table(path: Any, strength: float, mixing: str) -> Iterator[PlainColourway]:
    """Read a folder of palettes, a palette, a supplier's list of shades, or colourways."""
    if isinstance(path, Path) and path.is_dir():
        files = sorted(file for file in path.glob("*.csv") if file.is_file())
        if not files:
            raise FileFormatError(
                "folder", "one of palettes as CSV", words="none", source=path.name
            )
        for file in files:
            yield from _plain_colourways(read_palette(file), strength, mixing)
    elif (content := _content_of(path)) == "colourways":
        yield from stream_colourways(path)
    else:
        is_palette = content == "palette"
        palette = read_palette(path) if is_palette else read_supplier_palette(path).palette
        yield from _plain_colourways(palette, strength, mixing)


def _content_of(path: Any) -> str:
    """What a CSV file holds, by its header: a palette, a supplier's shades, or colourways."""
    rows = read_rows(
        path,
        empty="a header of colourways or of a palette",
        is_header=lambda cells: bool(_content_under(cells)),
        notes=[],
    )
    return _content_under(list(next(rows).cells)) or "colourways"


def _content_under(header: Sequence[str]) -> str:
    """What stands under such headings, or nothing where they are not known."""
    if "ground" in header:
        return "colourways"
    if "colour" in header and {*header} <= {"name", "colour", "role", "note"}:
        return "palette"
    return "supplier" if is_supplier_header(header) else ""


def _count(source: Source) -> int | None:
    """About how many colourways a source has, for progress; None where unknown."""
    if isinstance(source, str | PathLike):
        path = as_path(source, "source")
        known = path.is_file() and _content_of(path) == "colourways"
        return count_lines(path) - 1 if known else None
    return len(source) if isinstance(source, ChosenSet | list | tuple) else None


# --- The columns ----------------------------------------------------------------------------


def chunks(members: Iterable[PlainColourway]) -> Iterator[list[PlainColourway]]:
    """Yield up to 1000 colourways at a time, in the order they came."""
    stream = iter(members)
    while part := list(islice(stream, _CHUNK)):
        yield part


# What a colourway is.
OWN_COLUMNS = (
    Definition("name", "name of the colourway", "as it was given, or its colours"),
    Definition("ground", "ground", "#rrggbb, encoded sRGB"),
    Definition("stripes", "stripes of the warp", "#rrggbb each, in order"),
    Definition("stripe_count", "how many stripes the warp has", "a whole number"),
    Definition("strength", "overlay strength", "0 to 1"),
    Definition("mixing", "how the tones are mixed", "one of MIXINGS"),
    Definition(
        "tones", "how many tones the cloth is drawn with",
        "1 + singles + crossings; a tone that warp and weft make alike, within 10⁻¹², counts once",
        "all tones that are laid",
    ),
)  # fmt: skip
# How it is seen, once for each colour vision.
SEEN_COLUMNS = (
    *PAIR_COLUMNS,
    replace(LEAST_EDGE, column="least_edge_de2000"),
    *WHOLE_COLUMNS,
    Definition(
        "distinct_tones", "how many tones can be told apart",
        "ground, singles, crossings in turn: each counts that is the table's threshold of ΔE00 or "
        "more from all that were counted before it",
        "all different tones that are laid",
    ),
    Definition(
        "afar", "colour from afar",
        "Σ sᵢ·linear sRGBᵢ of the tones, then encoded and seen; #rrggbb",
        "all tones of the check", "by their areas",
    ),
)  # fmt: skip


class _Scoring(NamedTuple):
    """Which figures a table has."""

    visions: tuple[str, ...]
    threshold: float
    check: Check | None = None

    @classmethod
    def of(cls, visions: Iterable[str], threshold: float, check: Check | None = None) -> _Scoring:
        """Check both; each vision once, in the order of ``VISIONS``."""
        wanted = {visions} if isinstance(visions, str) else {*as_tuple(visions, "visions", str)}
        unknown = wanted - set(VISIONS)
        if not wanted or unknown:
            raise ArgumentError("visions", f"some of {', '.join(VISIONS)}", sorted(unknown))
        limit = as_number(threshold, "threshold", 0, 100, low_open=True)
        return cls(tuple(vision for vision in VISIONS if vision in wanted), limit, check)

    def _bands(self, counts: tuple[int, int]) -> tuple[Bands | None, Bands | None]:
        """The check's bands for colourways of its stripe counts; even ones for others."""
        check = self.check
        if check is None or (check.stripes, check.weft_stripes) != counts:
            return None, None
        return check.counted_bands

    @property
    def column_names(self) -> tuple[str, ...]:
        seen = (f"{vision}_{each.column}" for vision in self.visions for each in SEEN_COLUMNS)
        return (*(each.column for each in OWN_COLUMNS), *seen)

    def csv_of(self, members: Sequence[PlainColourway]) -> tuple[int, bytes]:
        """Return how many rows there are, and the rows as CSV."""
        return len(members), _csv_rows(self.columns_of(members)).encode("utf-8")

    def columns_of(self, members: Sequence[PlainColourway]) -> Mapping[str, Column]:
        """Return the columns of colourways, in their order."""
        names = self.column_names
        columns: dict[str, NDArray[np.float64] | list[str]] = {
            name: [""] * len(members)
            if name in _TEXT_COLUMNS or name.endswith("_afar")
            else np.empty(len(members))
            for name in names
        }

        def put(name: str, rows: NDArray[np.intp], values: Floats | list[str]) -> None:
            column = columns[name]
            if isinstance(column, np.ndarray):
                column[rows] = values
            else:
                for row, text in zip(rows.tolist(), values, strict=True):
                    column[row] = str(text)

        every = np.arange(len(members))
        put("name", every, [member.name for member in members])
        put("ground", every, _hexes(np.array([member.shown_ground for member in members])))
        put("mixing", every, [member.mixing for member in members])
        put("strength", every, np.array([member.strength for member in members]))
        put("stripe_count", every, np.array([len(member.stripes) for member in members]))
        stacks = stack(members)
        for part in stacks:
            count = part.stripes.shape[1]
            stripes = _hexes(part.stripes.reshape(-1, 3))
            starts = range(0, len(stripes), count)
            put("stripes", part.indices, [" ".join(stripes[n : n + count]) for n in starts])
        for rows, tones, own_weft in _alike(stacks):
            bands = self._bands((tones.shape[1] - 1, tones.shape[2] - 1))
            put("tones", rows, _tone_counts(tones, bands))
            for vision in self.visions:
                score, distinct = score_and_count(tones, self.threshold, vision, bands, own_weft)
                for name, values in score.columns().items():
                    put(f"{vision}_{name}", rows, values)
                put(f"{vision}_least_edge_de2000", rows, score.least_edge)
                put(f"{vision}_distinct_tones", rows, distinct.astype(np.float64))
                put(f"{vision}_afar", rows, _hexes(score.far_colour))
        return columns


def _alike(stacks: Sequence[Stack]) -> Iterator[tuple[NDArray[np.intp], Floats, bool]]:
    """Yield rows, tones (M, W+1, F+1, 3) and whether their wefts have colours of their own.

    What can be scored as one array comes as one, however it was mixed: of one shape, and with the
    same tones made alike by warp and weft.
    """
    groups: dict[tuple[tuple[int, ...], Symmetry, bool], list[tuple[NDArray[np.intp], Floats]]] = {}
    for part in stacks:
        tones = part.tones()
        key = tones.shape[1:], symmetry_of(tones), part.weft_stripes is not None
        groups.setdefault(key, []).append((part.indices, tones))
    for (_, _, own_weft), parts in groups.items():
        every, laid = zip(*parts, strict=True)
        yield np.concatenate(every), np.concatenate(laid), own_weft


def _hexes(rgb: Floats) -> list[str]:
    """``#rrggbb`` of colours (n, 3)."""
    codes = srgb_to_bytes(rgb).astype(np.int64) @ np.array([65536, 256, 1])
    return [f"#{code:06x}" for code in codes.tolist()]


def _tone_counts(tones: Floats, bands: tuple[Bands | None, Bands | None]) -> Floats:
    """How many tones each check is drawn with: fewer where warp and weft make the same."""
    shares, each = area_shares(*as_bands(tones, *bands)), each_symmetry(tones)
    counts = {symmetry: float(len(laid_positions(shares, symmetry))) for symmetry in {*each}}
    return np.array([counts[symmetry] for symmetry in each])


# --- As CSV ---------------------------------------------------------------------------------


def _csv_rows(columns: Mapping[str, Column]) -> str:
    """Format rows by one pattern: a million cells a second, which a cell at a time is not."""
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


# --- As people read it ----------------------------------------------------------------------


class ShownColumn(NamedTuple):
    """A column as it is shown: its heading under that of a group, and what it takes from where.

    ``form`` is a format, or one of ``""``, ``"mixing"``, ``"yes"``, ``"colour"``.
    """

    group: str
    head: str
    name: str
    form: str

    @property
    def full(self) -> str:
        """Group and heading in one."""
        return f"{self.group}, {self.head}" if self.group else self.head


def shown_columns(scores: ScoreTable) -> tuple[ShownColumn, ...]:
    """Return what is shown of a table; all the others are in the CSV."""
    first = scores.visions[0]
    shown = [
        ShownColumn("", "Colourway", "name", ""),
        ShownColumn("", "Strength", "strength", ".0%"),
        ShownColumn("", "Mixing", "mixing", "mixing"),
    ]
    for kind in KINDS:
        group = f"{PAIR_WORDS[kind].capitalize()}, least"
        shown.append(ShownColumn(group, "ΔE00", f"{first}_{kind}_least_de2000", ".1f"))
        if kind in ("ground_single", "single_crossing"):
            shown.append(ShownColumn(group, "ΔL*", f"{first}_{kind}_least_dl", ".1f"))
            shown.append(ShownColumn(group, "ratio", f"{first}_{kind}_least_ratio", ".2f"))
    shown += [
        ShownColumn("Least edge ΔE00", vision, f"{vision}_least_edge_de2000", ".1f")
        for vision in scores.visions
    ]
    shown += [
        ShownColumn("Lightness", "order", f"{first}_lightness_runs", "yes"),
        ShownColumn("Lightness", "even", f"{first}_evenness", ".2f"),
        ShownColumn("Tones", "all", "tones", ".0f"),
        ShownColumn("Tones", "distinct", f"{first}_distinct_tones", ".0f"),
        ShownColumn("", "From afar", f"{first}_afar", "colour"),
    ]
    return tuple(shown)


def shown_rows(scores: ScoreTable, most: int) -> list[list[str]]:
    """Return the shown columns of the first rows as plain texts."""
    columns = [(scores[column.name], column.form) for column in shown_columns(scores)]
    return [
        [_shown_text(values[row], form) for values, form in columns]
        for row in range(min(len(scores), most))
    ]


def _shown_text(value: float | str, form: str) -> str:
    if isinstance(value, str):
        estimate = form == "mixing" and find_mixing(value).estimate
        return f"{value} (estimate)" if estimate else value
    if np.isnan(value):
        return "–"
    if form == "yes":
        return "yes" if value else "no"
    return f"{value * 100:.0f} %" if form == ".0%" else format(value, form)
