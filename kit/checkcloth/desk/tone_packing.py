"""Tones on their way to the page: arrays in, bytes out, three a tone.

A wall of 500 colourways changes as one: the colours are gathered into arrays when the wall is
dealt, and every move of a slider is one pass of :func:`mix_tones` over them.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from checkcloth.arguments import Floats
from checkcloth.cloth.check import Check
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.mixing import mix_tones
from checkcloth.colour.spaces import srgb_to_bytes
from checkcloth.colour.vision import see_as

__all__ = ["Batch", "bands", "batches", "counts", "pack", "tones_in"]


@dataclass(frozen=True)
class Batch:
    """Colourways that are worked as one array: equally many stripes, one mixing.

    >>> (group,) = batches([Colourway("white", ["navy", "teal"])])
    >>> group.stripes.shape, group.mixing
    ((1, 2, 3), 'source-over')
    """

    places: NDArray[np.intp]
    grounds: Floats
    stripes: Floats
    strengths: Floats
    mixing: str
    warp_share: float
    yule_nielsen: float


def batches(colourways: Iterable[Colourway]) -> tuple[Batch, ...]:
    """Gather colourways into as few arrays as their stripe counts and mixings allow.

    >>> two = Colourway("white", ["navy", "teal"])
    >>> [group.places.tolist() for group in batches([two, Colourway("white", ["navy"]), two])]
    [[0, 2], [1]]
    """
    groups: dict[tuple[int, str, float, float], list[tuple[int, Colourway]]] = {}
    for place, one in enumerate(colourways):
        key = (len(one.stripes), one.mixing, one.warp_share, one.yule_nielsen)
        groups.setdefault(key, []).append((place, one))
    return tuple(
        Batch(
            np.array([place for place, _ in members], dtype=np.intp),
            np.array([one.ground.rgb for _, one in members]),
            np.array([[stripe.rgb for stripe in one.stripes] for _, one in members]),
            np.array([one.strength for _, one in members]),
            mixing,
            share,
            n,
        )
        for (_, mixing, share, n), members in groups.items()
    )


def tones_in(
    batch: Batch, strength: float | None, mixing: str | None, part: slice = slice(None)
) -> Floats:
    """Return the tones (M, N+1, N+1, 3) of a batch, under the desk's strength and mixing.

    >>> (group,) = batches([Colourway("white", ["navy"]), Colourway("white", ["teal"])])
    >>> tones_in(group, 0.8, "woven").shape
    (2, 2, 2, 3)
    """
    return mix_tones(
        batch.grounds[part],
        batch.stripes[part],
        batch.strengths[part] if strength is None else strength,
        batch.mixing if mixing is None else mixing,
        warp_share=batch.warp_share,
        yule_nielsen=batch.yule_nielsen,
    )


def pack(
    groups: Sequence[Batch], strength: float | None, mixing: str | None, vision: str = "normal"
) -> bytes:
    """Return the 8-bit tones of a wall, colourway after colourway, warp after warp.

    Parameters
    ----------
    groups : sequence of Batch
    strength, mixing :
        For all, or None to leave each its own.
    vision : str
        See :func:`see_as`.

    Returns
    -------
    bytes
        For each colourway in turn (N+1)² × 3: tones[0, 0], tones[0, 1], …

    Examples
    --------
    >>> list(pack(batches([Colourway("white", ["black"])]), 0.0, None))
    [255, 255, 255, 255, 255, 255, 255, 255, 255, 255, 255, 255]
    """
    pieces: dict[int, NDArray[np.uint8]] = {}
    for group in groups:
        tones = tones_in(group, strength, mixing)
        seen = tones if vision == "normal" else see_as(tones, vision)
        cells = srgb_to_bytes(seen).reshape(len(group.places), -1)
        if len(groups) == 1:
            return cells.tobytes()
        pieces.update(zip(group.places.tolist(), cells, strict=True))
    return b"".join(pieces[place].tobytes() for place in sorted(pieces))


def counts(colourways: Iterable[Colourway]) -> bytes:
    """Return the number of stripes of each colourway, a byte each.

    >>> counts([Colourway("white", ["navy", "teal"]), Colourway("white", ["navy"])])
    b'\\x02\\x01'
    """
    return bytes(len(one.stripes) for one in colourways)


def bands(numbers: Iterable[int]) -> dict[str, list[list[int]]]:
    """Return the bands of a check for each number of stripes: [stripe, checks] across.

    >>> bands([1])
    {'1': [[1, 1], [0, 1]]}
    """
    return {
        str(number): [list(band) for band in Check("1 cm", number).bands]
        for number in sorted(set(numbers))
    }
