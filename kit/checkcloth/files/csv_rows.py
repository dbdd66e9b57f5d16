"""Rows of CSV: written so that no spreadsheet takes a cell for a formula, read from any of them.

Read as they come: a byte-order mark, commas, semicolons or tabs as separator, empty lines,
header words in any order and case, decimal commas where the separator is not a comma, the
``sep=`` line of a spreadsheet. Readers of what others send also let titles above the header
and other encodings through, and say so. Rows stream by, and every fault names its line.
"""

from __future__ import annotations

import codecs
import csv
import io
import re
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import chain, islice
from math import isfinite
from pathlib import Path
from typing import Any, BinaryIO

from checkcloth.errors import NOTHING, FileFormatError, shown
from checkcloth.files.frames import FRAME_NAME, frame_cells, is_frame

_LONGEST_LINE = 1 << 20
_SEPARATORS = ",;\t"
_SEPARATOR_LINE = re.compile(r'"?sep=(.)"?,*;*', re.IGNORECASE)
# So many lines may stand above a header that is looked for.
_TITLE_LINES = 40
# A cell that may be a heading: it begins with a letter, and is no name of a colour in hex.
_HEADING = re.compile(r"\s*(?!(?:[0-9a-f]{3}){1,2}\s*$)[^\W\d_]", re.IGNORECASE)
# A spreadsheet takes a cell that begins so for a formula (OWASP ASVS 5.0, 1.2.10, and CWE-1236);
# line ends and the full-width forms are from memory of OWASP's page on CSV injection.
_FORMULA = ("=", "+", "-", "@", "\t", "\r", "\n", "\0", "＝", "＋", "－", "＠")
_GAPS = {"n/a", "na", "n.a.", "#n/a", "nan", "null", "none", "-", "–", "—", "--", "?"}

# Whether cells, lower case and without spaces round them, are those of a header.
IsHeader = Callable[[Sequence[str]], bool]


def safe_cell(text: str) -> str:
    """Return a CSV cell that no spreadsheet takes for a formula.

    >>> safe_cell("=cmd")
    "'=cmd"
    """
    return f"'{text}" if text.startswith((*_FORMULA, "'")) else text


def unsafe_cell(text: str) -> str:
    """Return what :func:`safe_cell` was given.

    >>> unsafe_cell("'=cmd")
    '=cmd'
    """
    return text[1:] if text.startswith("'") and text[1:].startswith((*_FORMULA, "'")) else text


def csv_text(header: Sequence[str], rows: Iterable[Sequence[object]]) -> str:
    """Return CSV text: text cells no spreadsheet takes for a formula, numbers left alone.

    An empty header is left out.

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


@dataclass(frozen=True)
class Row:
    """One line of a table: its cells by column, and where it stands."""

    cells: dict[str, str]  #: only those that hold something
    line: int  #: counted from 1, the header too
    source: str  #: name of the file
    decimal_comma: bool  #: whether 0,5 may be a number: not where commas separate the cells
    searched: int = 0  #: of the likest header: lines that were searched for one in vain

    @property
    def where(self) -> str:
        """File and line, as errors begin."""
        return f"{self.source}, line {self.line}"

    @property
    def search_words(self) -> str:
        """What an error adds about a header that was searched for in vain, or nothing."""
        if self.searched < 2:
            return ""
        return (
            f"; none of the first {self.searched} lines is one, and line {self.line} looks most "
            "like it"
        )

    def fault(
        self, argument: str, allowed: str = "", found: object = NOTHING, **more: Any
    ) -> FileFormatError:
        """Return an error that names this line; see :class:`CheckclothError`."""
        return FileFormatError(argument, allowed, found, source=self.source, line=self.line, **more)


def _lines(path: Path, notes: list[str] | None) -> Iterator[str]:
    """Decode line by line, so that neither a long file nor a bad byte surprises.

    Where notes are taken, UTF-16 with its mark and Windows-1252 (Latin-1) are read and said.
    """
    name = path.name
    if path.is_dir():
        raise FileFormatError("path", "a file", words="a folder", source=name)
    with path.open("rb") as stream:
        if stream.read(2) in (codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE):
            if notes is None:
                hint = "; save it as CSV UTF-8"
                raise FileFormatError(
                    "file", "UTF-8 text", words="UTF-16", hint=hint, source=name, line=1
                )
            notes.append("The file is UTF-16 and was read as such.")
            yield from _utf16_lines(path)
            return
        stream.seek(0)
        encoding, plain = "utf-8", True
        for number, raw in enumerate(_raw_lines(stream), start=1):
            at: dict[str, Any] = {"source": name, "line": number}
            if len(raw) > _LONGEST_LINE:
                raise FileFormatError("line", f"at most {_LONGEST_LINE} bytes", words="more", **at)
            if number == 1:
                raw = raw.removeprefix(codecs.BOM_UTF8)
            try:
                text = raw.decode(encoding)
            except UnicodeDecodeError as error:
                # Other bytes after good UTF-8 are damage, not another encoding.
                if notes is None or not plain or encoding != "utf-8":
                    words = f"byte 0x{raw[error.start]:02x}; save it as CSV UTF-8"
                    raise FileFormatError("file", "UTF-8 text", words=words, **at) from None
                encoding = "cp1252"
                text = raw.decode(encoding, "replace")
                notes.append(
                    "The file is not UTF-8 and was read as Latin-1 (Windows-1252): look whether "
                    "its letters are right."
                )
            plain = plain and raw.isascii()
            if "\0" in text:
                raise FileFormatError("file", "text", words="a zero byte", **at)
            yield text


def _raw_lines(stream: BinaryIO) -> Iterator[bytes]:
    """Lines with their ends: LF, CR LF, or CR alone, as some spreadsheets still write them.

    Of one that is longer than is read, as much as shows that it is.
    """
    held = b""
    while raw := stream.readline(_LONGEST_LINE + 1):
        lines = (held + raw).splitlines(keepends=True)
        held = b"" if raw.endswith(b"\n") else lines.pop()
        yield from lines
        if len(held) > _LONGEST_LINE:
            yield held
    if held:
        yield held


def _utf16_lines(path: Path) -> Iterator[str]:
    with path.open(encoding="utf-16", newline="") as stream:
        for number in range(1, 1 << 60):
            at: dict[str, Any] = {"source": path.name, "line": number}
            try:
                text = stream.readline(_LONGEST_LINE + 1)
            except UnicodeError:
                raise FileFormatError("file", "UTF-16 text", words="damage", **at) from None
            if not text:
                return
            if len(text) > _LONGEST_LINE:
                raise FileFormatError(
                    "line", f"at most {_LONGEST_LINE} characters", words="more", **at
                )
            if "\0" in text:
                raise FileFormatError("file", "text", words="a zero byte", **at)
            yield text


def read_rows(
    table: Any,
    *,
    empty: str,
    faults: list[FileFormatError] | None = None,
    is_header: IsHeader | None = None,
    notes: list[str] | None = None,
) -> Iterator[Row]:
    """Yield the rows of a file, as :func:`rows_of` does, or of a pandas DataFrame.

    With ``notes``, UTF-16 and Latin-1 are read too, and it is said there.
    """
    if is_frame(table):
        return _frame_rows(table, empty)
    lines = _lines(table, notes)
    return rows_of(lines, table.name, empty=empty, faults=faults, is_header=is_header, notes=notes)


def _frame_rows(frame: Any, empty: str) -> Iterator[Row]:
    """The rows of a DataFrame, numbered as in a file: the header is line 1."""
    columns: list[str] = []
    for line, values in enumerate(frame_cells(frame), start=1):
        row = Row({}, line, FRAME_NAME, False)
        if not columns:
            if not any(value.strip() for value in values):
                raise FileFormatError(
                    "frame", f"one that holds {empty}", words="no columns", source=FRAME_NAME
                )
            columns = _columns(values, row)
            row.cells.update(zip(columns, map(str.strip, values), strict=False))
        else:
            cells = zip(columns, (value.strip() for value in values), strict=False)
            row.cells.update((column, value) for column, value in cells if value)
            if not row.cells:
                continue
        yield row


def rows_of(
    lines: Iterable[str],
    source: str,
    *,
    empty: str,
    faults: list[FileFormatError] | None = None,
    is_header: IsHeader | None = None,
    notes: list[str] | None = None,
) -> Iterator[Row]:
    """Yield the header as a row of ``line`` numbers' own kind, then each row that is not empty.

    The first row yielded has the columns as keys, lower case and without spaces round them, and
    as they are written as values, so that a reader can check them and name their line.

    Parameters
    ----------
    lines, source :
        Of the file, and what errors call it.
    empty : str
        What the file should hold, for the error of one that has no header.
    faults : list, optional
        If given, rows with too many cells are put here and passed over.
    is_header : callable, optional
        If given, titles above the first line that it holds true of are passed over; where it
        holds true of none, the line most like a header is taken, for the caller to refuse.
    notes : list of str, optional
        Where it is said what was passed over.

    Examples
    --------
    >>> [row.cells for row in rows_of(["tone;L*", "white;99,5"], "a.csv", empty="readings")][1]
    {'tone': 'white', 'l*': '99,5'}
    """
    begun = _begin(iter(lines), source, empty, is_header, notes)
    mark = begun.mark
    reader = csv.reader(begun.lines, delimiter=mark, strict=True)
    columns: list[str] = []
    for values, line in _values(reader, begun.skipped, source):
        row = Row({}, line, source, mark != ",", 0 if columns else begun.searched)
        if not columns:
            columns = _columns(values, row)
            row.cells.update(zip(columns, map(str.strip, values), strict=False))
        elif len(values) > len(columns) and any(map(str.strip, values[len(columns) :])):
            fault = _too_many(columns, values, mark, row)
            if faults is None:
                raise fault
            faults.append(fault)
            continue
        else:
            for column, cell in zip(columns, map(str.strip, values), strict=False):
                if cell:
                    row.cells[column] = unsafe_cell(cell) if cell[0] == "'" else cell
        yield row
    if not columns:
        # Cells of nothing but marks that count as spaces, of which Unicode has more than one sees.
        raise FileFormatError(
            "file", f"one that holds {empty}", words="only empty cells", source=source
        )


@dataclass(frozen=True)
class _Begun:
    """A table from its header on: the lines, what separates them, how many came before.

    ``searched`` lines were looked at where none is a header, and else 0.
    """

    lines: Iterator[str]
    mark: str
    skipped: int
    searched: int = 0


def _begin(
    lines: Iterator[str],
    source: str,
    empty: str,
    is_header: IsHeader | None,
    notes: list[str] | None,
) -> _Begun:
    first, skipped = _first_line(lines, source, empty)
    marks = _SEPARATORS
    if stated := _SEPARATOR_LINE.fullmatch(first.strip("\r\n ")):
        marks = stated[1]
        first, more = _first_line(lines, source, empty)
        skipped += 1 + more
    if is_header is None:
        # The separator is what the header uses most; a comma if it has but one column.
        return _Begun(chain([first], lines), max(marks, key=first.count), skipped)
    if mark := _fitting(first, marks, is_header):
        return _Begun(chain([first], lines), mark, skipped)
    ahead = [first, *islice(lines, _TITLE_LINES)]
    for at, line in enumerate(ahead):
        if mark := _fitting(line, marks, is_header):
            if notes is not None:
                notes.append(f"The header is line {skipped + at + 1}; lines above it are titles.")
            return _Begun(chain(ahead[at:], lines), mark, skipped + at)
    at, mark = _likest(ahead, marks)
    return _Begun(chain(ahead[at:], lines), mark, skipped + at, skipped + len(ahead))


def _likest(lines: Sequence[str], marks: str) -> tuple[int, str]:
    """Where the line stands that is most like a header, and what separates its cells.

    That is the first of those with most words of their own, by the separator that most lines use.
    """
    mark = max(marks, key=lambda mark: sum(mark in line for line in lines))
    words = (filter(_HEADING.match, _cells(line, mark)) for line in lines)
    counts = [len({word.strip().lower() for word in own}) for own in words]
    return counts.index(max(counts)), mark


def _fitting(line: str, marks: str, is_header: IsHeader) -> str:
    """The separator by which a line is the header, or nothing."""
    for mark in sorted(marks, key=line.count, reverse=True):
        if is_header([cell.strip().lower() for cell in _cells(line, mark)]):
            return mark
    return ""


def _cells(line: str, mark: str) -> list[str]:
    """The cells of a line; none where it is no CSV by that separator."""
    try:
        return next(csv.reader([line], delimiter=mark, strict=True), [])
    except csv.Error:
        return []


def _first_line(lines: Iterator[str], source: str, empty: str) -> tuple[str, int]:
    """The first line that is not empty, and how many were before it."""
    for skipped, line in enumerate(lines):
        if line.strip().strip(_SEPARATORS):
            return line, skipped
    raise FileFormatError("file", f"one that holds {empty}", words="an empty file", source=source)


def without_gaps(row: Row, columns: Iterable[str]) -> None:
    """Take cells out that say there is nothing: ``n/a``, ``–`` and the like."""
    for column in columns:
        if row.cells.get(column, "").lower() in _GAPS:
            del row.cells[column]


def _values(reader: Any, skipped: int, source: str) -> Iterator[tuple[list[str], int]]:
    """The rows of a CSV reader that are not empty, each with the line it ends on."""
    while True:
        try:
            values = next(reader, None)
        except csv.Error as error:
            line = reader.line_num + skipped
            raise FileFormatError(
                "file", "CSV", words=str(error), source=source, line=line
            ) from None
        if values is None:
            return
        if any(map(str.strip, values)):
            yield values, reader.line_num + skipped


def _columns(values: list[str], row: Row) -> list[str]:
    columns = [value.strip().lower() for value in values]
    while not columns[-1]:
        columns.pop()  # spreadsheets leave empty columns at the end
    if len(set(columns)) < len(columns):
        twice, _ = Counter(columns).most_common(1)[0]
        raise row.fault("header", "one that names each column once", words=f"{shown(twice)} twice")
    return columns


def _too_many(columns: list[str], values: list[str], mark: str, row: Row) -> FileFormatError:
    hint = "; a decimal comma? write a point, or separate the cells by semicolons"
    return row.fault(
        "row",
        f"at most {len(columns)} cells ({mark.join(columns)})",
        len(values),
        hint=hint if mark == "," else "",
    )


def as_value(
    row: Row, column: str, low: float, high: float, *, percent: bool = False, unit: str = ""
) -> float:
    """Return the number in a cell, ``low`` to ``high``, or say what is wrong with it and where.

    With ``percent``, ``50 %`` may stand for 0.5; ``unit`` is what the column counts, for the error.
    """
    text = row.cells.get(column, "")
    allowed = f"a number from {low:g} to {high:g}{' ' + unit if unit else ''}"
    if percent:
        allowed += f", or {low * 100:g} % to {high * 100:g} %"
    # A printed minus sign is as good as a hyphen.
    plain = text.replace("−", "-").replace("\u00a0", " ")
    scale = 1.0
    if percent and plain.endswith("%"):
        plain, scale = plain[:-1], 100.0
    if row.decimal_comma and plain.count(",") == 1 and "." not in plain:
        plain = plain.replace(",", ".")
    try:
        if "_" in plain:
            raise ValueError
        value = float(plain) / scale
    except ValueError:
        hint = ""
        if "," in text:
            hint = "; write the decimal with a point"
        elif any(char.isdigit() for char in text):
            hint = "; write the number alone, without unit or sign of its own"
        raise row.fault(column, allowed, text, words="" if text else "nothing", hint=hint) from None
    if not isfinite(value) or not low <= value <= high:
        share = percent and 1 < value <= 100 and scale == 1
        hint = "; a percentage? write it with its sign, or divide by 100" if share else ""
        raise row.fault(column, allowed, text, hint=hint)
    return value
