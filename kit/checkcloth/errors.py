"""The errors that checkcloth raises for bad input: all are ``ValueError``.

Each names the argument, the value that was found and what is allowed, as fields and in its
message, so that a form finds the field to mark and the person at the keyboard can mend it
without reading the code.
"""

from __future__ import annotations

import linecache
import traceback
from collections.abc import Sequence
from itertools import islice

NOTHING = object()  # stands for no value found


class CheckclothError(ValueError):
    """Base class of every error the kit raises on purpose.

    The message is made here and nowhere else; code that wants to know what is wrong reads
    the fields.

    Parameters
    ----------
    argument : str
        Name of the argument, field or column at fault.
    allowed : str
        What it must be; the message says "``argument`` must be ``allowed``".
    found : object
        The value found; the message shows it cut to one line.
    words : str
        What was found, in words, where showing the value would not help.
    hint : str
        Goes after what was found, as it stands.
    source : str
        File (or the like) that it was found in.
    line : int, optional
        Line of that file, counted from 1.

    >>> error = ArgumentError("stripes", "a whole number from 1 to 24", 0)
    >>> print(error)
    stripes must be a whole number from 1 to 24, found 0
    >>> error.argument, error.allowed, error.found
    ('stripes', 'a whole number from 1 to 24', 0)
    """

    def __init__(
        self,
        argument: str,
        allowed: str,
        found: object = NOTHING,
        *,
        words: str = "",
        hint: str = "",
        source: str = "",
        line: int | None = None,
    ) -> None:
        self.argument = argument
        self.allowed = allowed
        self.found = None if found is NOTHING else found
        self.source = source
        self.line = line
        self._words = words or ("" if found is NOTHING else shown(found))
        self._hint = hint
        super().__init__(self._message())

    def _message(self) -> str:
        where = self.source + (f", line {self.line}" if self.line is not None else "")
        return f"{where + ': ' if where else ''}{self.argument} {self.rule}"

    @property
    def rule(self) -> str:
        """What is allowed and what was found, for a place where the argument is named already.

        >>> ArgumentError("stripes", "a whole number from 1 to 24", 0).rule
        'must be a whole number from 1 to 24, found 0'
        """
        found = f", found {self._words}" if self._words else ""
        return f"must be {self.allowed}{found}{self._hint}"

    def at(self, source: str, line: int | None = None) -> FileFormatError:
        """Return the same fault as one of a file, at a line of it.

        >>> print(ColourError("colour", "a CSS Color 4 colour", "nvy").at("coast.csv", 3))
        coast.csv, line 3: colour must be a CSS Color 4 colour, found 'nvy'
        """
        fault = FileFormatError(
            self.argument,
            self.allowed,
            words=self._words,
            hint=self._hint,
            source=source,
            line=line,
        )
        fault.found = self.found
        return fault

    def with_others(self, others: Sequence[FileFormatError]) -> FileFormatError:
        """Return the same fault, its message listing others of the file by their lines.

        >>> first, second = (ColourError("colour", "a colour", x).at("a.csv", n)
        ...                  for n, x in ((2, "nvy"), (7, "gld")))
        >>> print(first.with_others([second]))
        a.csv, line 2: colour must be a colour, found 'nvy'
        also line 7: colour must be a colour, found 'gld'
        """
        alike: dict[str, list[str]] = {}
        for other in others:
            alike.setdefault(f"{other.argument} {other.rule}", []).append(str(other.line))
        listed = [f"{_line_words(lines)}: {fault}" for fault, lines in [*alike.items()][:20]]
        more = [f"and {len(alike) - 20} more faults"] if len(alike) > 20 else []
        fault = self.at(self.source, self.line)
        fault._hint += "".join(f"\nalso {words}" for words in [*listed, *more])
        fault.args = (fault._message(),)
        fault.others = tuple(others)
        return fault

    def __reduce__(self) -> tuple[object, ...]:
        return _restored, (type(self), self.args, self.__dict__)

    def _render_traceback_(self) -> list[str]:
        """Say in a notebook what is wrong and on which line of the cell, and no more.

        IPython asks for this; a screen of the kit's own code above the one line that helps
        would hide it. ``traceback.print_last()`` still prints all of it.
        """
        lines = [f"{type(self).__name__}: {self}"]
        for frame, number in traceback.walk_tb(self.__traceback__):
            if frame.f_code.co_name == "<module>":  # the cell itself; the kit has only functions
                code = linecache.getline(frame.f_code.co_filename, number).strip()
                lines.append(f"    in line {number} of this cell: {code}")
                break
        return lines


def _line_words(lines: Sequence[str]) -> str:
    """Say which lines, the first of many alone."""
    if len(lines) == 1:
        return f"line {lines[0]}"
    more = f" and {len(lines) - 5} more" if len(lines) > 5 else ""
    return f"lines {', '.join(lines[:5])}{more}"


class ArgumentError(CheckclothError):
    """An argument is out of range, of the wrong shape or not a number."""


class LengthError(CheckclothError):
    """A length is without a unit, unreadable, or outside what cloth can have."""


class ColourError(CheckclothError):
    """A colour text is not an opaque CSS Color 4 colour."""


class UnknownColourError(ArgumentError, ColourError):
    """A text is neither a colour nor a name of one; ``near`` holds names that are like it."""

    def __init__(self, argument: str, allowed: str, found: str, near: tuple[str, ...] = ()) -> None:
        self.near = near
        super().__init__(argument, allowed, found)


class FileFormatError(CheckclothError):
    """A file is damaged, too large, or of a kind or version the kit does not read.

    ``others`` are further faults of the same file, where it was read to its end.
    """

    others: tuple[FileFormatError, ...] = ()


class ExistsError(CheckclothError):
    """Something is already there and nobody said it may be replaced."""


class MissingPackageError(CheckclothError, ImportError):
    """A package that this part of the kit needs is not installed; the message has the line to type.

    >>> print(MissingPackageError.of("reportlab", "pdf"))
    reportlab must be installed, found no such package; type: pip install "checkcloth[pdf]"
    """

    @classmethod
    def of(cls, package: str, extra: str) -> MissingPackageError:
        """Return the error for a package that comes with one of the kit's extras."""
        hint = f'; type: pip install "checkcloth[{extra}]"'
        return cls(package, "installed", words="no such package", hint=hint)


def _restored(
    kind: type[CheckclothError], args: tuple[object, ...], fields: dict[str, object]
) -> CheckclothError:
    """Make an error again that came from another process."""
    error = kind.__new__(kind, *args)
    error.args = args
    error.__dict__.update(fields)
    return error


def shown(value: object, limit: int = 60) -> str:
    """Return ``repr(value)`` on one line, cut so that an error stays readable."""
    try:
        text = repr(_start(value, limit)).replace("\n", " ")
    except (RecursionError, ValueError):  # nested too deep, or a number of thousands of digits
        text = f"a {type(value).__name__} too long to show"
    return text if len(text) <= limit else text[: limit - 1] + "…"


def _start(value: object, limit: int) -> object:
    """As much of a value as an error can show: a list of millions takes seconds to write out."""
    if isinstance(value, str | bytes | list | tuple) and len(value) > limit:
        return value[:limit]
    if type(value) is dict and len(value) > limit:
        return dict(islice(value.items(), limit))
    return value
