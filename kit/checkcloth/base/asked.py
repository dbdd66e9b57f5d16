"""What a function was given: a thing of a kind, several of them, or a path; else a clear error."""

from __future__ import annotations

import os
from collections.abc import Iterable
from pathlib import Path
from typing import Any, TypeVar, overload

from checkcloth.errors import ArgumentError, shown

__all__ = ["as_a", "as_path", "as_several"]

_T = TypeVar("_T")


def _a(kind: type) -> str:
    name = kind.__name__
    return f"{'an' if name[0] in 'AEIO' else 'a'} {name}"


def as_a(value: Any, name: str, kind: type[_T]) -> _T:
    """Return a value that is of a kind.

    Raises
    ------
    ArgumentError
        For another, naming the argument and the kind.

    Examples
    --------
    >>> as_a("navy", "name", str)
    'navy'
    """
    if not isinstance(value, kind):
        raise ArgumentError(f"{name} must be {_a(kind)}, found {shown(value)}")
    return value


@overload
def as_several(values: Any, name: str, *, of: str = "") -> tuple[Any, ...]: ...


@overload
def as_several(values: Any, name: str, kind: type[_T]) -> tuple[_T, ...]: ...


def as_several(
    values: Any, name: str, kind: type[_T] | None = None, *, of: str = ""
) -> tuple[Any, ...]:
    """Return several values as a tuple, all of a kind where one is given.

    Parameters
    ----------
    values : iterable
    name : str
        Of the argument.
    kind : type, optional
    of : str
        What they are, in words; only for the error, where there is no kind.

    Raises
    ------
    ArgumentError
        For a text, for what is not several, or for one among them of another kind.

    Examples
    --------
    >>> as_several(iter([0.2, 0.8]), "strengths", float)
    (0.2, 0.8)
    """
    what = f"several, each {_a(kind)}" if kind else f"several {of}".rstrip()
    if isinstance(values, str | bytes) or not isinstance(values, Iterable):
        raise ArgumentError(f"{name} must be {what}, found {shown(values)}")
    members = tuple(values)
    for place, member in enumerate(members, start=1):
        if kind is not None and not isinstance(member, kind):
            raise ArgumentError(f"{name} must be {what}, found {shown(member)} in place {place}")
    return members


def as_path(value: Any, name: str = "path") -> Path:
    """Return a path that names something.

    Raises
    ------
    ArgumentError
        For anything but a text or a path, for an empty one, and for a null or half a
        character in it, which no system takes.

    Examples
    --------
    >>> as_path("out/tea-table").name
    'tea-table'
    """
    allowed = f"{name} must be a path"
    if not isinstance(value, str | os.PathLike):
        raise ArgumentError(f"{allowed}, found {shown(value)}")
    text = os.fspath(value)
    if not isinstance(text, str) or not text:
        raise ArgumentError(f"{allowed} that names something, found {shown(text)}")
    try:
        os.fsencode(text)
    except UnicodeEncodeError:
        raise ArgumentError(f"{allowed} that this system can write, found {shown(text)}") from None
    if "\0" in text:
        raise ArgumentError(f"{allowed} without a null character, found {shown(text)}")
    return Path(text)
