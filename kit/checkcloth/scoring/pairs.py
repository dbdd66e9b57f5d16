"""Which tones of a check are compared with which: index pairs, worked out once per N."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

__all__ = ["KINDS", "TonePairs", "tone_pairs"]

KINDS = ("ground_single", "single_crossing", "single_single", "crossing_crossing")

Indices = NDArray[np.intp]


@dataclass(frozen=True)
class TonePairs:
    """Pairs of tones as flat indices into the (N+1)² tones; each array has shape (P, 2).

    ``ground_single`` and ``single_crossing`` hold the pairs that share an edge on the
    cloth; the ground never touches a crossing. ``single_single`` pairs two stripes on the
    same side (both warp or both weft). ``crossing_crossing`` pairs crossings of different
    stripe pairs: a crossing and its transpose are made of the same two stripes, and are
    meant to be alike in woven cloth.

    >>> pairs = tone_pairs(2, mirrored=True, symmetric=True)
    >>> pairs.ground_single.tolist(), pairs.weights("ground_single").tolist()
    ([[0, 3], [0, 6]], [0.5, 0.5])
    """

    ground_single: Indices
    single_crossing: Indices
    single_single: Indices
    crossing_crossing: Indices
    side: int
    symmetric: bool

    def weights(self, kind: str) -> NDArray[np.float64]:
        """Return what each pair counts for in a mean over the cloth; they add up to 1.

        Where transposed crossings are the same tone and only one of the two is listed,
        a pair stands for as many pairs as it leaves out.
        """
        pairs: Indices = getattr(self, kind)
        counts = np.ones(len(pairs))
        if self.symmetric:
            warp, weft = np.divmod(pairs, self.side)
            counts = np.where((warp != weft) & (warp > 0) & (weft > 0), 2.0, 1.0).prod(axis=1)
        return np.asarray(counts / counts.sum())


def _array(pairs: list[tuple[int, int]]) -> Indices:
    made = np.array(pairs, dtype=np.intp).reshape(-1, 2)
    made.flags.writeable = False
    return made


@lru_cache(maxsize=96)
def tone_pairs(stripes: int, *, mirrored: bool = False, symmetric: bool = False) -> TonePairs:
    """Return the pairs to compare in a check of so many stripes.

    Parameters
    ----------
    stripes : int
    mirrored : bool
        Warp and weft singles are the same tones, so one side says all.
    symmetric : bool
        Crossings (i, j) and (j, i) are the same tones too.

    Examples
    --------
    >>> [len(getattr(tone_pairs(3), kind)) for kind in KINDS]
    [6, 18, 6, 33]
    """
    side = stripes + 1
    numbers = range(1, side)
    warp = [i * side for i in numbers]
    weft = list(numbers)
    sides = [warp] if mirrored or symmetric else [warp, weft]
    crossings = [(i, j) for i in numbers for j in numbers if i <= j or not symmetric]
    touching = [(i * side + j, i * side) for i, j in crossings]
    touching += [(i * side + j, j) for i, j in crossings]
    apart = [
        (i * side + j, k * side + m)
        for (i, j), (k, m) in combinations(crossings, 2)
        if (i, j) != (m, k)
    ]
    return TonePairs(
        ground_single=_array([(0, single) for one in sides for single in one]),
        single_crossing=_array([(single, crossing) for crossing, single in touching]),
        single_single=_array([pair for one in sides for pair in combinations(one, 2)]),
        crossing_crossing=_array(apart),
        side=side,
        symmetric=symmetric,
    )
