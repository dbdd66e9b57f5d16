"""Tables of pandas, both ways: told by what they have, and imported only to make one."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from os import PathLike
from pathlib import Path
from typing import Any, ClassVar

from checkcloth.arguments import as_path
from checkcloth.files.html import OneLine
from checkcloth.needs import need

# What rows can be read from: the path of a file, or a pandas DataFrame.
Table = str | PathLike[str] | Any
FRAME_NAME = "DataFrame"


def is_frame(value: object) -> bool:
    """Whether a value is a pandas DataFrame, or enough like one to be read."""
    return all(hasattr(value, name) for name in ("columns", "itertuples", "iloc"))


def as_table(value: Any, name: str = "path") -> Any:
    """Return a path, or a DataFrame as it is; other values are no table."""
    return value if is_frame(value) else as_path(value, name)


def table_name(table: Any) -> str:
    """What errors call a table: its file's name, or ``DataFrame``."""
    return table.name if isinstance(table, Path) else FRAME_NAME


def frame_cells(frame: Any) -> Iterator[list[str]]:
    """Yield the cells of a DataFrame as text, the header first; gaps are empty.

    Numbers keep every digit; the index is not read.
    """
    yield [str(column) for column in frame.columns]
    for row in frame.itertuples(index=False, name=None):
        yield ["" if is_gap(cell) else _text(cell) for cell in row]


def is_gap(cell: Any) -> bool:
    """Whether a value is None, NaN, NaT or NA: what is there equals itself."""
    if cell is None:
        return True
    try:
        return not bool(cell == cell)
    except TypeError:  # pandas.NA has no truth
        return True
    except ValueError:  # an array has several
        return False


def _text(cell: Any) -> str:
    cell = getattr(cell, "item", lambda: cell)()
    return repr(cell) if type(cell) is float else str(cell)


@dataclass(frozen=True)
class Definition:
    """What a column of figures is.

    Examples
    --------
    >>> print(Definition("dl", "ΔL*: lighter, or darker", "L* found − L* wanted"))
    dl – ΔL*: lighter, or darker: L* found − L* wanted
    """

    column: str  #: its name in tables, frames and files
    words: str  #: what it is called
    formula: str  #: how it is worked out
    compared: str = ""  #: the pairs of tones, or the tones, that it is of
    weighed: str = ""  #: how these count in it
    source: str = ""  #: where the formula is published; nothing where it is the kit's own

    def __str__(self) -> str:
        parts = [self.compared, self.weighed, self.source]
        return f"{self.column} – {self.words}: {'; '.join([self.formula, *filter(None, parts)])}"


class Tabular(OneLine):
    """A result that is a table: its values by column, by row, and as a DataFrame.

    Attributes
    ----------
    made_by : str
        The function whose result it is.
    """

    made_by: ClassVar[str] = ""

    @property
    def definitions(self) -> tuple[Definition, ...]:
        """What each of its columns is, in their order."""
        raise NotImplementedError

    @property
    def columns(self) -> Mapping[str, Any]:
        """Values by the name of their column: bool, int, float and text."""
        raise NotImplementedError

    def rows(self) -> Iterator[tuple[Any, ...]]:
        """Yield the values row by row; ``columns`` has their names."""
        values = (
            getattr(column, "tolist", lambda c=column: c)() for column in self.columns.values()
        )
        return zip(*values, strict=True)

    def frame(self) -> Any:
        """Return the table as a pandas DataFrame.

        Raises
        ------
        ImportError
            If pandas is not installed; everything else works without it.
        """
        return to_frame(self.columns)


def to_frame(columns: Mapping[str, Any]) -> Any:
    """Return a pandas DataFrame of columns.

    Raises
    ------
    MissingPackageError
        If pandas is not installed; everything else works without it.
    """
    need("pandas")
    import pandas

    return pandas.DataFrame(dict(columns))
