"""What callers give, checked: objects of a type, tuples, paths, numbers and arrays of colours.

Each returns what it was given in one form, or raises an :class:`ArgumentError` that names the
argument, what is allowed and what was found.
"""

from __future__ import annotations

import os
from collections.abc import Collection, Iterable
from pathlib import Path
from typing import Any, TypeVar, overload

import numpy as np
from numpy.typing import ArrayLike, NDArray

from checkcloth.errors import ArgumentError

_T = TypeVar("_T")


def _a(kind: type) -> str:
    name = kind.__name__
    return f"{'an' if name[0] in 'AEIO' else 'a'} {name}"


def require_type(value: Any, name: str, kind: type[_T]) -> _T:
    """Return a value that is of a type, or raise an :class:`ArgumentError`."""
    if not isinstance(value, kind):
        raise ArgumentError(name, _a(kind), value)
    return value


def require_one_of(value: Any, name: str, allowed: Collection[str]) -> str:
    """Return a value that is one of those allowed, or raise an :class:`ArgumentError`."""
    if value not in tuple(allowed):
        raise ArgumentError(name, f"one of {', '.join(allowed)}", value)
    return str(value)


@overload
def as_tuple(values: Any, name: str, *, of: str = "") -> tuple[Any, ...]: ...


@overload
def as_tuple(values: Any, name: str, kind: type[_T]) -> tuple[_T, ...]: ...


def as_tuple(
    values: Any, name: str, kind: type[_T] | None = None, *, of: str = ""
) -> tuple[Any, ...]:
    """Return several values as a tuple, all of a kind where one is given.

    ``of`` says for the error what they are, where there is no kind.
    """
    what = f"several, each {_a(kind)}" if kind else f"several {of}".rstrip()
    if isinstance(values, str | bytes) or not isinstance(values, Iterable):
        raise ArgumentError(name, what, values)
    members = tuple(values)
    for number, member in enumerate(members, start=1):
        if kind is not None and not isinstance(member, kind):
            raise ArgumentError(name, what, member, hint=f" as number {number}")
    return members


def as_path(value: Any, name: str = "path") -> Path:
    """Return a path that names something."""
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
    """Return ``value`` as a float64 array of colours (..., 3), or say what is wrong with it.

    With ``unit`` channels must lie in 0–1, as encoded and linear sRGB do here.

    >>> as_colours([1, 0.5, 0], "rgb").tolist()
    [1.0, 0.5, 0.0]
    >>> as_colours([255, 128, 0], "rgb")  # doctest: +ELLIPSIS
    Traceback (most recent call last):
        ...
    checkcloth.errors.ArgumentError: rgb must be in 0–1, found values from 0 to 255 ...
    """
    array = _as_floats(value, name)
    if array.ndim == 0 or array.shape[-1] != 3:
        raise ArgumentError(name, "of shape (..., 3)", words=f"shape {array.shape}")
    low, high = (float(array.min()), float(array.max())) if unit and array.size else (0.0, 1.0)
    # Of NaN neither holds, so that colours in range are looked through twice and not thrice.
    within = low >= -_SLACK and high <= 1 + _SLACK
    if not (unit and within) and not np.isfinite(array).all():
        raise ArgumentError(name, "finite numbers", words="NaN or infinity")
    if not within:
        hint = " (0–255 numbers? divide by 255)" if low >= 0 and high <= 255 else ""
        raise ArgumentError(name, "in 0–1", words=f"values from {low:g} to {high:g}{hint}")
    return array


def as_fraction(value: ArrayLike, name: str) -> Floats:
    """Return ``value`` as floats of any shape, each from 0 to 1."""
    array = _as_floats(value, name)
    within = (array >= 0) & (array <= 1)
    if not within.all():
        bad = array[~within].flat[0]
        hint = " (a percentage? divide by 100)" if 1 < bad <= 100 else ""
        raise ArgumentError(name, "from 0 to 1", words=f"{bad:g}{hint}")
    return array


def as_number(value: Any, name: str, low: float, high: float, *, low_open: bool = False) -> float:
    """Return ``value`` as one float within ``low``–``high``."""
    try:
        number = float(value)
    except (TypeError, ValueError):
        raise ArgumentError(name, "a number", value) from None
    if not (low <= number <= high) or (low_open and number == low):
        edge = "above" if low_open else "from"
        raise ArgumentError(name, f"{edge} {low:g} to {high:g}", words=f"{number:g}")
    return number


def as_whole(value: Any, name: str, low: int, high: int) -> int:
    """Return ``value`` as an int within ``low``–``high``; numpy's whole numbers count too."""
    is_whole = isinstance(value, int | np.integer) and not isinstance(value, bool)
    if not is_whole or not low <= value <= high:
        raise ArgumentError(name, f"a whole number from {low} to {high}", value)
    return int(value)
