"""CGATS text (ANSI CGATS.17, ISO 28178): the tables in which measuring instruments write.

The first line says what kind it is; keywords and their values follow, then the names of the
fields, then the data, a set a line. Knows no colour: what a field means is the reader's affair.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from numbers import Integral, Real
from os import PathLike
from pathlib import Path

from checkcloth.arguments import as_path
from checkcloth.errors import FileFormatError
from checkcloth.files.whole import read_bytes

MOST_BYTES = 32 << 20
_MOST_SETS, _MOST_FIELDS = 100_000, 1_000

# A quoted text ("" inside stands for a quotation mark), a comment, or anything without space.
_TOKEN = re.compile(r'"((?:[^"]|"")*)"|#.*|([^\s"#]+)')
_STANDARD = ("ORIGINATOR", "DESCRIPTOR", "CREATED", "INSTRUMENTATION", "PRINT_CONDITIONS")
_NUMBER = re.compile(r"[+-]?(\d+([.,]\d*)?|[.,]\d+)([eE][+-]?\d+)?")


@dataclass(frozen=True)
class CgatsTable:
    """One table of a CGATS file."""

    kind: str  #: the first line of the file, such as ``CGATS.17``
    keywords: Mapping[str, str]
    fields: tuple[str, ...]  #: in capitals, as the standard writes them
    rows: tuple[tuple[str, ...], ...]
    lines: tuple[int, ...]  #: the line of the file on which each row stands
    source: str  #: name of the file, for what is said of it

    def numbers(self, field: str) -> list[float]:
        """Return a column as finite numbers.

        Raises
        ------
        FileFormatError
            For a field that is not there, or what is no number, with its line.
        """
        if field not in self.fields:
            allowed = f"among the fields, which are {', '.join(self.fields[:20])}"
            raise FileFormatError(field, allowed, words="nothing", source=self.source)
        at = self.fields.index(field)
        return [
            self._number(row[at], field, line)
            for row, line in zip(self.rows, self.lines, strict=True)
        ]

    def _number(self, text: str, field: str, line: int) -> float:
        # Some instruments write decimals as the system's language does.
        if not _NUMBER.fullmatch(text) or len(text) > 40:
            raise FileFormatError(field, "a number", text, source=self.source, line=line)
        value = float(text.replace(",", "."))
        if abs(value) > 1e9:
            raise FileFormatError(field, "up to 1e9 in size", text, source=self.source, line=line)
        return value

    def fault(self, row: int, field: str, allowed: str, found: object) -> FileFormatError:
        """Return an error about a cell, with its line."""
        return FileFormatError(field, allowed, found, source=self.source, line=self.lines[row])


def is_cgats(path: Path) -> bool:
    """Whether a file begins as CGATS text does; a file that is not there does not."""
    if not path.is_file():
        return False
    with path.open("rb") as stream:
        start = stream.read(4096)
    return b"BEGIN_DATA" in start or re.match(rb"\s*(CGATS|CTI|IT8|ISO)\S*\s", start) is not None


def read_cgats(path: str | PathLike[str] | bytes, source: str = "the file") -> list[CgatsTable]:
    """Read the tables of a CGATS file of at most 32 MiB: of its path, or of what stands in it.

    ``source`` is what errors call bytes.

    Raises
    ------
    FileFormatError
        For what is none, or is damaged: what, and on which line.
    FileNotFoundError, PermissionError
        As the system says.
    """
    raw = path
    if not isinstance(raw, bytes):
        file = as_path(path)
        raw, source = read_bytes(file, MOST_BYTES), file.name
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError:  # instruments' own software writes the system's code page
        text = raw.decode("latin-1")
    return parse_cgats(text, source)


def parse_cgats(text: str, source: str = "text") -> list[CgatsTable]:
    """Read the tables of a CGATS text.

    Examples
    --------
    >>> table = parse_cgats('''CGATS.17
    ... ORIGINATOR "Quillhaven Halt"
    ... BEGIN_DATA_FORMAT
    ... SAMPLE_ID LAB_L LAB_A LAB_B
    ... END_DATA_FORMAT
    ... BEGIN_DATA
    ... 1 52.5 -3 10
    ... END_DATA''')[0]
    >>> table.keywords["ORIGINATOR"], table.numbers("LAB_L")
    ('Quillhaven Halt', [52.5])
    """
    return _Reader(source).read(text)


class _Reader:
    """Walks the lines of a file; says on which it stands where something is wrong."""

    def __init__(self, source: str) -> None:
        self.source = source
        self.kind = ""
        self.line = 0
        self.keywords: dict[str, str] = {}
        self.fields: list[str] = []
        self.cells: list[tuple[str, int]] = []
        self.inside = ""
        self.tables: list[CgatsTable] = []

    def fault(self, argument: str, allowed: str, words: str) -> FileFormatError:
        line = self.line or None
        return FileFormatError(argument, allowed, words=words, source=self.source, line=line)

    def read(self, text: str) -> list[CgatsTable]:
        for self.line, line in enumerate(text.splitlines(), start=1):
            tokens = self._tokens(line)
            if not tokens:
                continue
            if not self.kind:
                self._begin(tokens)
            elif tokens[0].upper().startswith(("BEGIN_DATA", "END_DATA")):
                self._mark(tokens[0].upper(), tokens[1:])
            elif self.inside == "DATA_FORMAT":
                self._name_fields(tokens)
            elif self.inside == "DATA":
                self.cells += [(token, self.line) for token in tokens]
            else:
                self.keywords[tokens[0].upper()] = " ".join(tokens[1:])
        if self.inside:
            raise self.fault("file", f"one with END_{self.inside}", "the end of the file before it")
        if not self.tables:
            self.line = 0
            raise self.fault("file", "CGATS text with BEGIN_DATA_FORMAT and BEGIN_DATA", "neither")
        return self.tables

    def _tokens(self, line: str) -> list[str]:
        if _TOKEN.sub("", line).strip():
            raise self.fault("line", "of closed quotation marks", "one that is left open")
        return [
            plain if quoted is None else quoted.replace('""', '"')
            for quoted, plain in (match.groups() for match in _TOKEN.finditer(line))
            if (quoted, plain) != (None, None)  # a comment
        ]

    def _begin(self, tokens: list[str]) -> None:
        if len(tokens) != 1 or not re.fullmatch(r"[A-Za-z][\w./ -]{2,30}", tokens[0]):
            raise self.fault("file", "CGATS text, whose first line names its kind", tokens[0][:40])
        self.kind = tokens[0]

    def _mark(self, mark: str, more: list[str]) -> None:
        end = mark.startswith("END_")
        name = mark.removeprefix("END_").removeprefix("BEGIN_")
        if name not in ("DATA", "DATA_FORMAT") or more or (self.inside != (name if end else "")):
            raise self.fault(
                "file", "one whose BEGIN and END marks pair up", " ".join([mark, *more])
            )
        self.inside = "" if end else name
        if name == "DATA_FORMAT" and not end:
            self.fields = []
        elif name == "DATA" and end:
            self._finish()

    def _name_fields(self, tokens: list[str]) -> None:
        self.fields += [token.upper() for token in tokens]
        if len(self.fields) > _MOST_FIELDS or len(set(self.fields)) < len(self.fields):
            allowed = f"at most {_MOST_FIELDS} fields, each named once"
            raise self.fault("BEGIN_DATA_FORMAT", allowed, f"{len(self.fields)} fields")

    def _finish(self) -> None:
        width = len(self.fields)
        if not width:
            raise self.fault(
                "BEGIN_DATA", "after BEGIN_DATA_FORMAT, which names the fields", "none"
            )
        count, left = divmod(len(self.cells), width)
        stated = self.keywords.get("NUMBER_OF_SETS", str(count))
        if left or stated != str(count):
            words = f"{len(self.cells)} values"
            allowed = f"of {stated} sets of {width} values, as the file says"
            raise self.fault("data", allowed, words)
        if count > _MOST_SETS:
            raise self.fault("data", f"at most {_MOST_SETS} sets", str(count))
        starts = range(0, count * width, width)
        rows = tuple(tuple(cell for cell, _ in self.cells[s : s + width]) for s in starts)
        lines = tuple(self.cells[start][1] for start in starts)
        keywords = dict(self.keywords)
        self.tables.append(
            CgatsTable(self.kind, keywords, tuple(self.fields), rows, lines, self.source)
        )
        self.cells = []


def cgats_text(
    fields: Sequence[str],
    rows: Iterable[Sequence[object]],
    keywords: Mapping[str, str] | None = None,
) -> str:
    """Return a CGATS.17 text; numbers are written so that they read back as they are.

    Rows are as wide as ``fields``; None leaves a cell to be filled, as an empty text.

    >>> print(cgats_text(["SAMPLE_ID", "LAB_L"], [[1, 52.5]], {"ORIGINATOR": "Quillhaven"}))
    CGATS.17
    ORIGINATOR "Quillhaven"
    NUMBER_OF_FIELDS 2
    BEGIN_DATA_FORMAT
    SAMPLE_ID LAB_L
    END_DATA_FORMAT
    NUMBER_OF_SETS 1
    BEGIN_DATA
    1 52.5
    END_DATA
    <BLANKLINE>
    """
    sets = [" ".join(map(_cell, row)) for row in rows]
    return "\n".join(_lines(fields, sets, keywords or {})) + "\n"


def _lines(fields: Sequence[str], sets: list[str], keywords: Mapping[str, str]) -> Iterator[str]:
    yield "CGATS.17"
    for name, value in keywords.items():
        if name not in _STANDARD:
            yield f'KEYWORD "{name}"'  # one that the standard has not is declared first
        yield f"{name} {_quoted(value)}"
    yield f"NUMBER_OF_FIELDS {len(fields)}"
    yield from ("BEGIN_DATA_FORMAT", " ".join(fields), "END_DATA_FORMAT")
    yield f"NUMBER_OF_SETS {len(sets)}"
    yield from ("BEGIN_DATA", *sets, "END_DATA")


def _cell(value: object) -> str:
    if value is None:
        return '""'
    if isinstance(value, Integral):  # numpy's too
        return str(int(value))
    if isinstance(value, Real):
        return repr(float(value) + 0.0).removesuffix(".0")
    return _quoted(str(value))


def _quoted(text: str) -> str:
    plain = " ".join(text.split())
    return '"{}"'.format(plain.replace('"', '""'))
