"""Where a quantity holds between 0 and 1: sign changes bracketed on a grid, then found exactly.

Bisection rather than a faster rule: margins have kinks (a least over pairs) and CIEDE2000
has small jumps, and bisection converges on both. Fifty halvings leave no digit to gain.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from checkcloth.arguments import Floats

__all__ = ["MarginAt", "Span", "held_spans", "overlap"]

# (where (R,), which (R,)) → margin (R,): how far quantity `which` is above its limit.
MarginAt = Callable[[Floats, NDArray[np.intp]], Floats]

_HALVINGS = 50
_GOLDEN = (np.sqrt(5) - 1) / 2


class Span(NamedTuple):
    """A range of overlay strength, both ends belonging to it.

    >>> print(Span(0.25, 0.5))
    25.00–50.00 %
    """

    low: float
    high: float

    def __str__(self) -> str:
        return f"{self.low * 100:.2f}–{self.high * 100:.2f} %"


def _bisect(at: MarginAt, low: Floats, high: Floats, which: NDArray[np.intp]) -> Floats:
    """Return where margins change sign between ``low`` and ``high``, on the side that holds."""
    low_holds = at(low, which) >= 0
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        to_low = (at(middle, which) >= 0) == low_holds
        low, high = np.where(to_low, middle, low), np.where(to_low, high, middle)
    return np.where(low_holds, low, high)


def _turning(
    at: MarginAt, low: Floats, high: Floats, which: NDArray[np.intp], up: NDArray[np.bool_]
) -> tuple[Floats, Floats]:
    """Golden section for the highest (``up``) or lowest point between ``low`` and ``high``."""
    sign = np.where(up, -1.0, 1.0)
    a, b = low.copy(), high.copy()
    for _ in range(_HALVINGS):
        left, right = b - _GOLDEN * (b - a), a + _GOLDEN * (b - a)
        to_left = sign * at(left, which) <= sign * at(right, which)
        a, b = np.where(to_left, a, left), np.where(to_left, right, b)
    place = (a + b) / 2
    return place, at(place, which)


def held_spans(at: MarginAt, grid: Floats, values: Floats) -> list[tuple[Span, ...]]:
    """Return, for each quantity, the spans of the grid's range in which its margin is ≥ 0.

    Parameters
    ----------
    at : callable
        Margins at any places: ``at(where (R,), which (R,))`` → (R,).
    grid : ndarray, shape (G,)
        Ascending; features narrower than a step may be missed unless they turn there.
    values : ndarray, shape (G, P)
        Margins of P quantities on the grid.

    Returns
    -------
    list of P tuples of Span
        Ends inside the grid are exact to the last digits of a float.

    Examples
    --------
    >>> grid = np.linspace(0, 1, 5)
    >>> at = lambda where, which: where - 0.3
    >>> [str(span) for span in held_spans(at, grid, (grid - 0.3)[:, None])[0]]
    ['30.00–100.00 %']
    """
    # A dip or a peak between grid points can cross and come back unseen: where a point
    # turns towards zero, and zero is within reach of its slope, find the turn itself.
    before, here, after = values[:-2], values[1:-1], values[2:]
    holds = here >= 0
    same = (holds == (before >= 0)) & (holds == (after >= 0))
    turns = np.where(holds, (here <= before) & (here <= after), (here >= before) & (here >= after))
    reach = np.maximum(np.abs(here - before), np.abs(here - after))
    row, which = np.nonzero(same & turns & (np.abs(here) <= reach))
    extra: list[list[tuple[float, float]]] = [[] for _ in range(values.shape[1])]
    if len(row):
        place, value = _turning(at, grid[row], grid[row + 2], which, up=~holds[row, which])
        crossed = (value >= 0) != holds[row, which]
        for x, v, p in zip(place[crossed], value[crossed], which[crossed], strict=True):
            extra[p].append((float(x), float(v)))

    nodes, flags = [], []
    for p in range(values.shape[1]):
        points = sorted([*zip(grid.tolist(), values[:, p].tolist(), strict=True), *extra[p]])
        nodes.append(np.array([point[0] for point in points]))
        flags.append(np.array([point[1] >= 0 for point in points]))
    lows, highs, whose = [], [], []
    for p, (x, held) in enumerate(zip(nodes, flags, strict=True)):
        change = np.flatnonzero(held[1:] != held[:-1])
        lows.append(x[change])
        highs.append(x[change + 1])
        whose.append(np.full(len(change), p, dtype=np.intp))
    which = np.concatenate(whose)
    ends = _bisect(at, np.concatenate(lows), np.concatenate(highs), which) if len(which) else which
    return [
        _spans(x, held, np.sort(ends[which == p]).tolist())
        for p, (x, held) in enumerate(zip(nodes, flags, strict=True))
    ]


def _spans(x: Floats, held: NDArray[np.bool_], ends: list[float]) -> tuple[Span, ...]:
    if held[0]:
        ends = [float(x[0]), *ends]
    if held[-1]:
        ends = [*ends, float(x[-1])]
    return tuple(Span(low, high) for low, high in zip(ends[::2], ends[1::2], strict=True))


def overlap(several: list[tuple[Span, ...]]) -> tuple[Span, ...]:
    """Return the spans that all of several sets of spans share.

    >>> overlap([(Span(0, 0.6), Span(0.8, 1)), (Span(0.5, 0.9),)])
    (Span(low=0.5, high=0.6), Span(low=0.8, high=0.9))
    """
    common = several[0] if several else ()
    for spans in several[1:]:
        common = tuple(
            Span(max(one.low, two.low), min(one.high, two.high))
            for one in common
            for two in spans
            if max(one.low, two.low) <= min(one.high, two.high)
        )
    return tuple(sorted(common))
