"""Running a conversion over many colours a block at a time, so that it stays in cache."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from checkcloth.colour.arrays import Floats

__all__ = ["over_blocks"]

# Colours worked at a time: a block and its few temporaries (24 bytes a colour each) stay in
# a core's second-level cache. Over a million colours this is three to four times as fast
# as one pass an operation, and the memory beside input and output stays the same.
_BLOCK = 8192


def over_blocks(kernel: Callable[[Floats], Floats], colours: Floats) -> Floats:
    """Run ``kernel``, which takes and gives colours (n, 3), over colours (..., 3).

    >>> import numpy as np
    >>> over_blocks(lambda part: part / 2, np.ones((2, 2, 3))).shape
    (2, 2, 3)
    """
    flat = colours.reshape(-1, 3)
    if len(flat) <= _BLOCK:
        return kernel(flat).reshape(colours.shape)
    out = np.empty_like(flat)
    for start in range(0, len(flat), _BLOCK):
        part = slice(start, start + _BLOCK)
        out[part] = kernel(flat[part])
    return out.reshape(colours.shape)
