"""What both ways of finding the best share: how it is put in order, floors, and a stop."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from checkcloth.arguments import Floats
from checkcloth.search.tables import Bools

# Each time the floor is let down, so many more values pass it.
_STEP = 1.25

Members = NDArray[Any]
Stop = Callable[[], bool]


class SearchStoppedError(Exception):
    """Raised in the middle of a setting that was asked to stop."""


def never() -> bool:
    """Go on to the end."""
    return False


def check_going(stopped: Stop) -> None:
    """Raise where it was asked to stop."""
    if stopped():
        raise SearchStoppedError


class Best(NamedTuple):
    """Choices of a setting and their measure, best first; ties in palette order.

    ``values`` (n,), ``members`` (n, N): indices into the candidates, ascending. ``all_found``:
    nothing else in the setting meets the conditions. ``nodes``: how many choices, whole or begun,
    were formed to prove it.
    """

    values: Floats
    members: Members
    all_found: bool
    nodes: int = 0


def best_first(values: Floats, members: Members, most: int) -> tuple[Floats, Members]:
    """Return the ``most`` greatest, greatest first, ties by members in palette order.

    >>> best_first(np.array([1.0, 3.0, 2.0]), np.array([[0], [1], [2]]), 2)[0].tolist()
    [3.0, 2.0]
    """
    if len(values) > most:
        # Everything that ties with the last value comes along, to be sorted by its members.
        least = np.partition(values, len(values) - most)[len(values) - most]
        kept = values >= least
        values, members = values[kept], members[kept]
    # lexsort takes the last key first: the value, then the members from the first on
    keys = (*members.T[::-1].astype(np.float64), -values)
    order = np.lexsort(keys)[:most]
    return values[order], members[order]


def once_each(values: Floats, members: NDArray[Any], warps: int) -> tuple[Floats, NDArray[Any]]:
    """Return the first of those with the same members in any order; what comes first stays so.

    The first ``warps`` are the warp's, the others the weft's.

    >>> once_each(np.array([3.0, 2.0, 1.0]), np.array([[1, 0], [0, 1], [0, 2]]), 2)[0].tolist()
    [3.0, 1.0]
    """
    ways = members[:, :warps], members[:, warps:]
    _, first = np.unique(
        np.concatenate([np.sort(way, axis=1) for way in ways], axis=1), axis=0, return_index=True
    )
    kept = np.sort(first)
    return values[kept], members[kept]


def packed(rows: Bools) -> NDArray[np.uint8]:
    """Return rows of bits as bytes, the first bit the least."""
    return np.packbits(rows, axis=-1, bitorder="little")


def falling_floors(values: Floats, first: int) -> Iterator[float]:
    """Yield floors from high to low: each lets a quarter more of the values through.

    ``values`` (n,), greatest first; above the first floor lie about ``first`` of them.

    >>> list(falling_floors(np.array([9.0, 8.0, 7.0, 6.0]), 2))
    [7.0, 6.0, -inf]
    """
    count, last = float(first), np.inf
    while count < len(values):
        low = float(values[int(count)])
        if low == -np.inf:
            break
        if low < last:
            yield low
        last = low
        count *= _STEP
    yield -np.inf
