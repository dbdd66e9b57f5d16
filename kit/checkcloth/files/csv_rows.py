"""Rows of a CSV file that people and spreadsheets wrote: streamed, with the line of each fault.

Taken as they come: a byte-order mark, commas, semicolons or tabs as separator, empty lines,
header words in any order and case, decimal commas where the separator is not a comma.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from math import isfinite
from pathlib import Path

from checkcloth.errors import FileFormatError, shown
from checkcloth.files.whole import safe_cell, unsafe_cell

__all__ = ["Row", "as_value", "csv_text", "read_rows"]


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


_LONGEST_LINE = 1 << 20
_SEPARATORS = ",;\t"


@dataclass(frozen=True)
class Row:
    """One line of a table: its cells by column, and where it stands.

    Attributes
    ----------
    cells : dict of str to str
        Only cells that hold something.
    line : int
        Counted from 1, the header too.
    source : str
        Name of the file.
    decimal_comma : bool
        Whether numbers may be written 0,5: not where commas separate the cells.

    Examples
    --------
    >>> Row({"tone": "white"}, 2, "a.csv", decimal_comma=False).where
    'a.csv, line 2'
    """

    cells: dict[str, str]
    line: int
    source: str
    decimal_comma: bool

    @property
    def where(self) -> str:
        """File and line, as errors begin."""
        return f"{self.source}, line {self.line}"

    def fault(self, message: str) -> FileFormatError:
        """Return an error that names this line."""
        return FileFormatError(f"{self.where}: {message}")


def _lines(path: Path) -> Iterator[str]:
    """Decode line by line, so that neither a long file nor a bad byte surprises."""
    if path.is_dir():
        raise FileFormatError(f"{path.name}: must be a file, found a folder")
    with path.open("rb") as stream:
        number = 0
        while raw := stream.readline(_LONGEST_LINE + 1):
            number += 1
            if len(raw) > _LONGEST_LINE:
                raise FileFormatError(
                    f"{path.name}, line {number}: must be at most {_LONGEST_LINE} bytes, found more"
                )
            if number == 1:
                if raw[:2] in (b"\xff\xfe", b"\xfe\xff"):
                    raise FileFormatError(
                        f"{path.name}, line 1: must be UTF-8 text, found UTF-16; "
                        "save it as CSV UTF-8"
                    )
                raw = raw.removeprefix(b"\xef\xbb\xbf")
            try:
                text = raw.decode("utf-8")
            except UnicodeDecodeError as error:
                raise FileFormatError(
                    f"{path.name}, line {number}: must be UTF-8 text, found byte "
                    f"0x{raw[error.start]:02x}; save it as CSV UTF-8"
                ) from None
            if "\0" in text:
                raise FileFormatError(
                    f"{path.name}, line {number}: must be text, found a zero byte"
                )
            yield text


def _separator(header: str) -> str:
    """The separator that the header uses most; a comma if it has but one column."""
    return max(_SEPARATORS, key=header.count)


def read_rows(
    path: Path, *, empty: str, faults: list[FileFormatError] | None = None
) -> Iterator[Row]:
    """Yield the header as a row of ``line`` numbers' own kind, then each row that is not empty.

    The first row yielded has the columns as keys *and* values, lower case and without
    spaces round them, so that a reader can check them and name their line.

    Parameters
    ----------
    path : Path
    empty : str
        What the file should hold, for the error of one that has no header.
    faults : list, optional
        If given, rows with too many cells are put here and passed over.

    Raises
    ------
    FileFormatError
        Naming file and line: text that is no UTF-8, quotes that do not close, a row with
        more cells than the header has, a header that names a column twice.

    Examples
    --------
    >>> from tempfile import TemporaryDirectory
    >>> with TemporaryDirectory() as folder:
    ...     size = Path(folder, "a.csv").write_text("tone;L*\\nwhite;99,5\\n", "utf-8")
    ...     [row.cells for row in read_rows(Path(folder, "a.csv"), empty="readings")][1]
    {'tone': 'white', 'l*': '99,5'}
    """
    source = path.name
    lines = _lines(path)
    skipped = 0
    first = ""
    for first in lines:
        if first.strip().strip(_SEPARATORS):
            break
        skipped += 1
    else:
        raise FileFormatError(f"{source}: must hold {empty}, found an empty file")
    mark = _separator(first)

    def rest() -> Iterator[str]:
        yield first
        yield from lines

    reader = csv.reader(rest(), delimiter=mark, strict=True)
    columns: list[str] = []
    try:
        for values in reader:
            line = reader.line_num + skipped
            if not any(value.strip() for value in values):
                continue
            if not columns:
                columns = [value.strip().lower() for value in values]
                while columns and not columns[-1]:
                    columns.pop()  # spreadsheets leave empty columns at the end
                seen: set[str] = set()
                for column in columns:
                    if column in seen:
                        raise FileFormatError(
                            f"{source}, line {line}: header must name each column once, "
                            f"found {shown(column)} twice"
                        )
                    seen.add(column)
                yield Row({column: column for column in columns}, line, source, mark != ",")
                continue
            if any(value.strip() for value in values[len(columns) :]):
                hint = (
                    "; a decimal comma? write a point, or separate the cells by semicolons"
                    if mark == ","
                    else ""
                )
                fault = FileFormatError(
                    f"{source}, line {line}: must have at most {len(columns)} cells "
                    f"({mark.join(columns)}), found {len(values)}{hint}"
                )
                if faults is None:
                    raise fault
                faults.append(fault)
                continue
            cells = {
                column: unsafe_cell(value.strip())
                for column, value in zip(columns, values, strict=False)
                if value.strip()
            }
            yield Row(cells, line, source, mark != ",")
    except csv.Error as error:
        line = reader.line_num + skipped
        raise FileFormatError(f"{source}, line {line}: must be CSV, found {error}") from None
    if not columns:
        # Cells of nothing but marks that count as spaces, of which Unicode has more than one sees.
        raise FileFormatError(f"{source}: must hold {empty}, found only empty cells")


def as_value(
    row: Row, column: str, low: float, high: float, *, percent: bool = False, unit: str = ""
) -> float:
    """Return the number in a cell, or say what is wrong with it and where.

    Parameters
    ----------
    row : Row
    column : str
    low, high : float
        What is allowed.
    percent : bool
        Whether ``50 %`` may stand for 0.5.
    unit : str
        What the column counts, for the error.

    Raises
    ------
    FileFormatError

    Examples
    --------
    >>> as_value(Row({"L*": "92,5"}, 2, "a.csv", decimal_comma=True), "L*", 0, 100)
    92.5
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
    hint = ""
    try:
        if "_" in plain:
            raise ValueError
        value = float(plain) / scale
    except ValueError:
        if not text:
            hint = "nothing"
        elif "," in text:
            hint = f"{shown(text)}; write the decimal with a point"
        elif any(char.isdigit() for char in text):
            hint = f"{shown(text)}; write the number alone, without unit or sign of its own"
        else:
            hint = shown(text)
        raise row.fault(f"{column} must be {allowed}, found {hint}") from None
    if not isfinite(value) or not low <= value <= high:
        if percent and 1 < value <= 100 and scale == 1:
            hint = "; a percentage? write it with its sign, or divide by 100"
        raise row.fault(f"{column} must be {allowed}, found {shown(text)}{hint}")
    return value
