"""Which tones of a check are compared with which, worked out from its bands."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from types import MappingProxyType
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from checkcloth.arguments import Floats
from checkcloth.cloth.bands import Bands, even_bands
from checkcloth.cloth.check import Check
from checkcloth.cloth.colourway import Colourway, fitting
from checkcloth.cloth.tones import (
    NO_SYMMETRY,
    Indices,
    Symmetry,
    area_shares,
    canonical_tone,
    touching_pairs,
)
from checkcloth.errors import ArgumentError

KINDS = ("ground_single", "single_crossing", "single_single", "crossing_crossing")
EDGE_KINDS = KINDS[:2]


class KindMeaning(NamedTuple):
    """What a kind of pair is called, which tones it sets side by side, and how pairs count.

    >>> KIND_MEANINGS["single_single"].weighed
    'by the areas of the two tones'
    """

    words: str
    compared: str
    weighed: str


_BY_EDGE = "by the length of the edge that they share"
_BY_AREA = "by the areas of the two tones"
# What tone_pairs does, in words.
KIND_MEANINGS = {
    "ground_single": KindMeaning(
        "ground–single", "the ground and each single that shares an edge with it", _BY_EDGE
    ),
    "single_crossing": KindMeaning(
        "single–crossing", "each single and each crossing that shares an edge with it", _BY_EDGE
    ),
    "single_single": KindMeaning(
        "single–single", "two stripes of one side, both warp or both weft", _BY_AREA
    ),
    "crossing_crossing": KindMeaning(
        "crossing–crossing",
        "two crossings, but not of the same two stripes, as a crossing and its transpose are where "
        "the weft has the warp's colours",
        _BY_AREA,
    ),
}


class KindPairs(NamedTuple):
    """Pairs of one kind.

    ``indices`` has shape (P, 2): flat indices into the (W+1)(F+1) tones, the tone of fewer
    stripes first. ``weights`` (P,) is what each counts for in a mean; they add up to 1.
    ``touching`` (P,) says which share an edge.
    """

    indices: Indices
    weights: Floats
    touching: NDArray[np.bool_]


NO_PAIRS = KindPairs(np.empty((0, 2), dtype=np.intp), np.empty(0), np.empty(0, dtype=bool))


@lru_cache(maxsize=96)
def tone_pairs(
    warp_bands: Bands,
    weft_bands: Bands | None = None,
    symmetry: Symmetry = NO_SYMMETRY,
    own_weft: bool = False,
) -> Mapping[str, KindPairs]:
    """Return the pairs of every kind that are compared, each pair of different tones once.

    ``ground_single`` and ``single_crossing`` are the pairs that share an edge, and count by
    its length (the ground never touches a crossing). ``single_single`` pairs two stripes on
    the same side, both warp or both weft; ``crossing_crossing`` pairs crossings of different
    stripe pairs, since a crossing and its transpose are made of the same two stripes and
    are meant to be alike in woven cloth (unless the weft has colours of its own, ``own_weft``:
    then no two crossings are of the same stripes). These count by the areas of the two tones.

    The weft has the bands of the warp where left out. Tones that are the same by ``symmetry`` are
    compared once, and count for all their positions.

    >>> {kind: len(pairs.indices) for kind, pairs in tone_pairs(even_bands(3)).items()}
    {'ground_single': 6, 'single_crossing': 18, 'single_single': 6, 'crossing_crossing': 33}
    """
    shares = area_shares(warp_bands, weft_bands)
    warp, weft = (index.ravel() for index in np.indices(shares.shape))
    stripes = (warp > 0).astype(int) + (weft > 0)
    touching = touching_pairs(warp_bands, weft_bands)
    lengths = np.zeros((shares.size, shares.size))
    lengths[tuple(touching.pairs.T)] = touching.lengths
    both = np.triu(np.outer(shares, shares), k=1)
    same_side = ((warp[:, None] > 0) == (warp > 0)) & ((weft[:, None] > 0) == (weft > 0))
    transposed = (warp[:, None] == weft) & (weft[:, None] == warp) & (not own_weft)
    first, second = stripes[:, None], stripes
    weights = {
        "ground_single": lengths * ((first == 0) & (second == 1)),
        "single_crossing": lengths * ((first == 1) & (second == 2)),
        "single_single": both * ((first == 1) & same_side),
        "crossing_crossing": both * ((first == 2) & same_side & ~transposed),
    }
    canonical = np.arange(shares.size).reshape(shares.shape)
    canonical = np.array(
        [canonical[canonical_tone(i, j, symmetry)] for i, j in np.ndindex(*shares.shape)]
    )
    return MappingProxyType(
        {kind: _merged(matrix, lengths > 0, canonical, stripes) for kind, matrix in weights.items()}
    )


def _merged(
    weights: Floats, touching: NDArray[np.bool_], canonical: Indices, stripes: Indices
) -> KindPairs:
    """Pairs with a weight, those of the same two tones as one."""
    one, two = np.nonzero(weights)
    weight, edge = weights[one, two], touching[one, two]
    one, two = canonical[one], canonical[two]
    swapped = (stripes[one] == stripes[two]) & (one > two)
    low, high = np.where(swapped, two, one), np.where(swapped, one, two)
    codes, inverse = np.unique(low * len(canonical) + high, return_inverse=True)
    total = np.bincount(inverse, weight, len(codes))
    touches = np.bincount(inverse, edge, len(codes)) > 0
    indices = np.stack(np.divmod(codes, len(canonical)), axis=1)
    apart = indices[:, 0] != indices[:, 1]
    return KindPairs(indices[apart], total[apart] / max(total[apart].sum(), 1e-300), touches[apart])


def kinds_of(kinds: str | Iterable[str]) -> tuple[str, ...]:
    """Return kinds of tone pairs, in order; ``"edges"`` stands for those that touch."""
    wanted = {kinds} if isinstance(kinds, str) else set(kinds)
    if "edges" in wanted:
        wanted = (wanted - {"edges"}) | set(EDGE_KINDS)
    if not wanted or wanted - set(KINDS):
        raise ArgumentError("kinds", f"edges or some of {', '.join(KINDS)}", kinds)
    return tuple(kind for kind in KINDS if kind in wanted)


@dataclass(frozen=True)
class NamedPairs:
    """Tone pairs of a colourway."""

    one: Indices  # (P, 2), canonical (warp, weft) of the first tones
    two: Indices  # and of the others
    names: tuple[str, ...]  # "navy on white / navy over teal"
    kinds: tuple[str, ...]

    def __len__(self) -> int:
        return len(self.names)


def bands_of(colourway: Colourway, check: Check | None = None) -> tuple[Bands, Bands]:
    """Return the bands that a colourway is laid in: a fitting check's, or those of an even one."""
    if check is None:
        return even_bands(len(colourway.stripes)), even_bands(len(colourway.weft_colours))
    return fitting(colourway, check).counted_bands


def named_pairs(
    colourway: Colourway, kinds: str | Iterable[str] = "edges", check: Check | None = None
) -> NamedPairs:
    """Return the pairs of some kinds, each once, with names for people.

    ``"edges"`` stands for all that share an edge, of whatever kind. The bands of a ``check`` say
    what touches; an even one unless given.

    >>> named_pairs(Colourway("white", ["navy"])).names
    ('white / navy on white', 'navy on white / navy over navy')
    """
    kinds = [kinds] if isinstance(kinds, str) else list(kinds)
    chosen = kinds_of(kinds)
    own = bool(colourway.weft_stripes)
    symmetry = NO_SYMMETRY if own else colourway.symmetry
    pairs = tone_pairs(*bands_of(colourway, check), symmetry, own)
    found = {
        kind: part.indices if kind in chosen else part.indices[part.touching & ("edges" in kinds)]
        for kind, part in pairs.items()
    }
    flat = np.concatenate(list(found.values()))
    one, two = np.stack(np.divmod(flat, len(colourway.weft_colours) + 1), axis=-1).swapaxes(0, 1)
    names = [
        " / ".join(colourway.tone_label(*tone) for tone in pair)
        for pair in zip(one.tolist(), two.tolist(), strict=True)
    ]
    whose = [kind for kind, indices in found.items() for _ in indices]
    return NamedPairs(one, two, tuple(names), tuple(whose))
