"""Running a difference formula over many pairs of colours in bounded memory."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from checkcloth.colour.arrays import Floats
from checkcloth.errors import ArgumentError

__all__ = ["in_blocks"]

_Kernel = Callable[[Floats, Floats], Floats]

# Pairs worked at a time: the dozen columns of one block then stay in a core's cache, and
# the memory needed beside input and output does not grow with the number of pairs.
_BLOCK = 4096


def in_blocks(kernel: _Kernel, one: Floats, two: Floats) -> Floats:
    """Run ``kernel`` on columns (3, n) of paired colours, block by block.

    >>> kernel = lambda one, two: np.abs(one[0] - two[0])
    >>> in_blocks(kernel, np.zeros((2, 3)), np.array([5.0, 0, 0])).tolist()
    [5.0, 5.0]
    """
    try:
        shape = np.broadcast_shapes(one.shape, two.shape)
    except ValueError:
        raise ArgumentError(
            f"the two colour arrays must pair up, found shapes {one.shape} and {two.shape}"
        ) from None
    first = np.broadcast_to(one, shape).reshape(-1, 3)
    second = np.broadcast_to(two, shape).reshape(-1, 3)
    out = np.empty(len(first))
    for start in range(0, len(out), _BLOCK):
        part = slice(start, start + _BLOCK)
        out[part] = kernel(
            np.ascontiguousarray(first[part].T), np.ascontiguousarray(second[part].T)
        )
    return out.reshape(shape[:-1])
