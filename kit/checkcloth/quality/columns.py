"""Scores of any mixture of colourways as columns of a table, chunk by chunk."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import islice

import numpy as np
from numpy.typing import NDArray

from checkcloth.arguments import Floats
from checkcloth.cloth.mixing import mix_tones
from checkcloth.colour.spaces import srgb_to_bytes
from checkcloth.colour.vision import VISIONS
from checkcloth.errors import ArgumentError
from checkcloth.quality.colourway_csv import Entry
from checkcloth.scoring.cloth_scores import WHOLE_CLOTH
from checkcloth.scoring.contrast import score_tones
from checkcloth.scoring.distinct import distinct_tones
from checkcloth.scoring.pairs import KINDS
from checkcloth.scoring.scores import MEASURES

__all__ = ["TEXT_COLUMNS", "chunks", "column_names", "tones_of_entries", "visions_of"]

# Colourways scored together: some 20 MB of arrays for six stripes.
CHUNK = 1000
TEXT_COLUMNS = ("name", "ground", "stripes", "mixing")

Column = NDArray[np.float64] | list[str]


def visions_of(visions: Iterable[str]) -> tuple[str, ...]:
    """Return the visions asked for, each once, in the order of ``VISIONS``.

    Raises
    ------
    ArgumentError
        For an unknown vision, or none at all.

    Examples
    --------
    >>> visions_of(["deutan", "normal"])
    ('normal', 'deutan')
    """
    asked = {visions} if isinstance(visions, str) else set(visions)
    if not asked or asked - set(VISIONS):
        raise ArgumentError(
            "visions", f"some of {', '.join(VISIONS)}", sorted(map(str, asked - set(VISIONS)))
        )
    return tuple(vision for vision in VISIONS if vision in asked)


def column_names(visions: Sequence[str]) -> tuple[str, ...]:
    """Return the columns of a table in order.

    >>> len(column_names(["normal"])), column_names(["normal"])[7]
    (44, 'normal_ground_single_least_de2000')
    """
    names = ["name", "ground", "stripes", "stripe_count", "strength", "mixing", "tones"]
    cloth = [one.name for one in WHOLE_CLOTH]
    for vision in visions:
        names += [f"{vision}_{kind}_{measure}" for kind in KINDS for measure in MEASURES]
        names += [
            f"{vision}_{rest}" for rest in ("least_edge_de2000", *cloth, "distinct_tones", "afar")
        ]
    return tuple(names)


def tones_of_entries(entries: Sequence[Entry]) -> Iterator[tuple[list[int], Floats]]:
    """Yield places and tones (M, N+1, N+1, 3) of entries that are mixed alike.

    >>> from checkcloth import Colourway
    >>> entries = [Entry.of(Colourway("white", ["navy"])), Entry.of(Colourway("white", ["teal"]))]
    >>> [(places, tones.shape) for places, tones in tones_of_entries(entries)]
    [([0, 1], (2, 2, 2, 3))]
    """
    groups: dict[tuple[int, str, float, float], list[int]] = {}
    for place, entry in enumerate(entries):
        key = (len(entry.stripes), entry.mixing, entry.warp_share, entry.yule_nielsen)
        groups.setdefault(key, []).append(place)
    for (_, mixing, share, n), places in groups.items():
        tones = mix_tones(
            np.array([entries[place].ground for place in places]),
            np.array([entries[place].stripes for place in places]),
            np.array([entries[place].strength for place in places]),
            mixing,
            warp_share=share,
            yule_nielsen=n,
        )
        yield places, tones


def _hexes(rgb: Floats) -> list[str]:
    """``#rrggbb`` of colours (n, 3)."""
    codes = srgb_to_bytes(rgb).astype(np.int64) @ np.array([65536, 256, 1])
    return [f"#{code:06x}" for code in codes.tolist()]


def _score_chunk(
    entries: Sequence[Entry], visions: Sequence[str], threshold: float
) -> dict[str, Column]:
    count = len(entries)
    names = column_names(visions)
    texts = {name: [""] * count for name in names if name in TEXT_COLUMNS or name.endswith("_afar")}
    numbers = {name: np.empty(count) for name in names if name not in texts}
    texts["name"] = [entry.name for entry in entries]
    texts["ground"] = _hexes(np.array([entry.ground for entry in entries]))
    texts["mixing"] = [entry.mixing for entry in entries]
    numbers["strength"][:] = [entry.strength for entry in entries]
    numbers["stripe_count"][:] = [len(entry.stripes) for entry in entries]

    def put(name: str, places: list[int], values: Floats) -> None:
        numbers[name][places] = values

    for places, tones in tones_of_entries(entries):
        put("tones", places, _different(tones))
        number = tones.shape[-2] - 1
        bands = _hexes(np.array([entries[place].stripes for place in places]).reshape(-1, 3))
        for row, place in enumerate(places):
            texts["stripes"][place] = " ".join(bands[row * number : (row + 1) * number])
        for vision in visions:
            score = score_tones(tones, vision)
            for name, values in score.columns().items():
                put(f"{vision}_{name}", places, values)
            put(f"{vision}_least_edge_de2000", places, score.least_edge)
            count_of = distinct_tones(tones, threshold, vision).astype(np.float64)
            put(f"{vision}_distinct_tones", places, count_of)
            for place, text in zip(places, _hexes(score.afar), strict=True):
                texts[f"{vision}_afar"][place] = text
    return {name: texts[name] if name in texts else numbers[name] for name in names}


def _different(tones: Floats) -> Floats:
    """How many tones a check is drawn with: fewer where warp and weft make the same."""
    number = tones.shape[-2] - 1
    mirrored = np.isclose(tones[:, 1:, 0], tones[:, 0, 1:], rtol=0, atol=1e-12).all(axis=(1, 2))
    swapped = np.isclose(tones, tones.swapaxes(1, 2), rtol=0, atol=1e-12).all(axis=(1, 2, 3))
    singles = np.where(mirrored, number, 2 * number)
    crossings = np.where(swapped, number * (number + 1) // 2, number**2)
    return np.asarray(1 + singles + crossings, dtype=np.float64)


def chunks(
    entries: Iterable[Entry], visions: Sequence[str], threshold: float
) -> Iterator[dict[str, Column]]:
    """Yield columns of up to 1000 colourways at a time, in the order they came.

    >>> from checkcloth import Colourway
    >>> entries = [Entry.of(Colourway("white", ["navy"]))]
    >>> [len(part["name"]) for part in chunks(entries, ["normal"], 5.0)]
    [1]
    """
    stream = iter(entries)
    while part := list(islice(stream, CHUNK)):
        yield _score_chunk(part, visions, threshold)
