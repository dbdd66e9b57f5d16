"""Checking of arrays at the door: shapes, ranges and numbers that are no numbers."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from checkcloth.errors import ArgumentError, shown

__all__ = ["Floats", "as_colours", "as_fraction", "as_number", "as_whole"]

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
        raise ArgumentError(f"{name} must be numbers, found {shown(value)}") from None


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
        raise ArgumentError(f"{name} must have shape (..., 3), found shape {array.shape}")
    if not np.isfinite(array).all():
        raise ArgumentError(f"{name} must be finite numbers, found NaN or infinity")
    if unit and array.size:
        low, high = float(array.min()), float(array.max())
        if low < -_SLACK or high > 1 + _SLACK:
            hint = " (0–255 numbers? divide by 255)" if low >= 0 and high <= 255 else ""
            raise ArgumentError(
                f"{name} must lie in 0–1, found values from {low:g} to {high:g}{hint}"
            )
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
        raise ArgumentError(f"{name} must be from 0 to 1, found {bad:g}{hint}")
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
        raise ArgumentError(f"{name} must be a number, found {shown(value)}") from None
    if not (low <= number <= high) or (low_open and number == low):
        edge = "above" if low_open else "from"
        raise ArgumentError(f"{name} must be {edge} {low:g} to {high:g}, found {number:g}")
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
        raise ArgumentError(
            f"{name} must be a whole number from {low} to {high}, found {shown(value)}"
        )
    return int(value)
