"""What a function was given: a thing of a kind, several of them, or a path; else a clear error."""

from __future__ import annotations

import os
from collections.abc import Iterable
from pathlib import Path
from typing import Any, TypeVar, overload

import numpy as np
from numpy.typing import ArrayLike, NDArray

from checkcloth.errors import ArgumentError

__all__ = [
    "Floats",
    "as_colours",
    "as_fraction",
    "as_number",
    "as_path",
    "as_tuple",
    "as_whole",
    "require_type",
]

_T = TypeVar("_T")


def _a(kind: type) -> str:
    name = kind.__name__
    return f"{'an' if name[0] in 'AEIO' else 'a'} {name}"


def require_type(value: Any, name: str, kind: type[_T]) -> _T:
    """Return a value that is of a kind.

    Raises
    ------
    ArgumentError
        For another, naming the argument and the kind.

    Examples
    --------
    >>> require_type("navy", "name", str)
    'navy'
    """
    if not isinstance(value, kind):
        raise ArgumentError(name, str(_a(kind)), value)
    return value


@overload
def as_tuple(values: Any, name: str, *, of: str = "") -> tuple[Any, ...]: ...


@overload
def as_tuple(values: Any, name: str, kind: type[_T]) -> tuple[_T, ...]: ...


def as_tuple(
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
    >>> as_tuple(iter([0.2, 0.8]), "strengths", float)
    (0.2, 0.8)
    """
    what = f"several, each {_a(kind)}" if kind else f"several {of}".rstrip()
    if isinstance(values, str | bytes) or not isinstance(values, Iterable):
        raise ArgumentError(name, str(what), values)
    members = tuple(values)
    for place, member in enumerate(members, start=1):
        if kind is not None and not isinstance(member, kind):
            raise ArgumentError(name, str(what), member, hint=f" in place {place}")
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
    if not isinstance(value, str | os.PathLike):
        raise ArgumentError(name, "a path", value)
    text = os.fspath(value)
    if not isinstance(text, str) or not text:
        raise ArgumentError(name, "a path that names something", text)
    try:
        os.fsencode(text)
    except UnicodeEncodeError:
        raise ArgumentError(name, "a path that this system can write", text) from None
    if "\0" in text:
        raise ArgumentError(name, "a path without a null character", text)
    return Path(text)


Floats = NDArray[np.float64]

# Room for the last-digit noise of arithmetic on colours that are in range.
_SLACK = 1e-9


def _as_floats(value: ArrayLike, name: str) -> Floats:
    try:
        array = np.asarray(value)
        if array.dtype.kind not in "fiub":
            raise TypeError
        return np.asarray(array, dtype=np.float64)
    except (TypeError, ValueError):
        raise ArgumentError(name, "numbers", value) from None


def as_colours(value: ArrayLike, name: str, *, unit: bool = True) -> Floats:
    """Return ``value`` as a float array of colours, or say what is wrong with it.

    Parameters
    ----------
    value : array_like, shape (..., 3)
        Colours, the channel on the last axis.
    name : str
        What the caller calls it; the error repeats it.
    unit : bool
        Whether channels must lie in 0–1, as encoded and linear sRGB do here.

    Returns
    -------
    ndarray of float64, shape (..., 3)

    Raises
    ------
    ArgumentError
        For another shape, NaN or infinity, or channels outside 0–1. Whole numbers of
        0–255 are the usual cause, and the message says so.

    Examples
    --------
    >>> as_colours([1, 0.5, 0], "rgb").tolist()
    [1.0, 0.5, 0.0]
    >>> as_colours([255, 128, 0], "rgb")  # doctest: +ELLIPSIS
    Traceback (most recent call last):
        ...
    checkcloth.errors.ArgumentError: rgb must lie in 0–1, found values from 0 to 255 ...
    """
    array = _as_floats(value, name)
    if array.ndim == 0 or array.shape[-1] != 3:
        raise ArgumentError(name, "of shape (..., 3)", words=f"shape {array.shape}")
    if not np.isfinite(array).all():
        raise ArgumentError(name, "finite numbers", words="NaN or infinity")
    if unit and array.size:
        low, high = float(array.min()), float(array.max())
        if low < -_SLACK or high > 1 + _SLACK:
            hint = " (0–255 numbers? divide by 255)" if low >= 0 and high <= 255 else ""
            raise ArgumentError(name, "in 0–1", words=f"values from {low:g} to {high:g}{hint}")
    return array


def as_fraction(value: ArrayLike, name: str) -> Floats:
    """Return ``value`` as floats of any shape, each from 0 to 1.

    Raises
    ------
    ArgumentError
        For NaN, for values outside 0–1, for what is not a number.

    Examples
    --------
    >>> as_fraction([0, 0.5], "strength").tolist()
    [0.0, 0.5]
    """
    array = _as_floats(value, name)
    if array.size and not bool(((array >= 0) & (array <= 1)).all()):
        bad = array[~((array >= 0) & (array <= 1))].flat[0]
        hint = " (a percentage? divide by 100)" if 1 < bad <= 100 else ""
        raise ArgumentError(name, "from 0 to 1", words=f"{bad:g}{hint}")
    return array


def as_number(value: Any, name: str, low: float, high: float, *, low_open: bool = False) -> float:
    """Return ``value`` as one float within ``low``–``high``.

    Raises
    ------
    ArgumentError
        For what is not a finite number, or lies outside.

    Examples
    --------
    >>> as_number(2, "n", 1, 10)
    2.0
    >>> as_number(11, "n", 1, 10)
    Traceback (most recent call last):
        ...
    checkcloth.errors.ArgumentError: n must be from 1 to 10, found 11
    """
    try:
        number = float(value)
    except (TypeError, ValueError):
        raise ArgumentError(name, "a number", value) from None
    if not (low <= number <= high) or (low_open and number == low):
        edge = "above" if low_open else "from"
        raise ArgumentError(name, f"{edge} {low:g} to {high:g}", words=f"{number:g}")
    return number


def as_whole(value: Any, name: str, low: int, high: int) -> int:
    """Return ``value`` as an int within ``low``–``high``; numpy's whole numbers count too.

    Raises
    ------
    ArgumentError
        For what is no whole number, or lies outside.

    Examples
    --------
    >>> as_whole(np.int64(3), "stripes", 1, 24)
    3
    >>> as_whole(2.5, "stripes", 1, 24)
    Traceback (most recent call last):
        ...
    checkcloth.errors.ArgumentError: stripes must be a whole number from 1 to 24, found 2.5
    """
    is_whole = isinstance(value, int | np.integer) and not isinstance(value, bool)
    if not is_whole or not low <= value <= high:
        raise ArgumentError(name, f"a whole number from {low} to {high}", value)
    return int(value)
