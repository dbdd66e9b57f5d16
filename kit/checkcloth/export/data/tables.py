"""Tones and scores of a set as CSV, one table each."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

import numpy as np

from checkcloth.cloth.check import Check
from checkcloth.cloth.chosen import ChosenSet
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.tones import area_shares, tone_kind
from checkcloth.colour.css import hex_of, nearest_css_names
from checkcloth.colour.spaces import srgb_to_bytes
from checkcloth.export.members import Colourways, as_set, label_of
from checkcloth.files.csv_rows import csv_text
from checkcloth.scoring.contrast import Score, score

_TONE_COLUMNS = (
    "colourway", "kind", "warp", "weft", "tone", "hex", "red", "green", "blue",
    "L*", "a*", "b*", "share of area %", "nearest CSS name",
)  # fmt: skip
# Of sets with colours outside sRGB.
_MOVED_COLUMN = "shown off by ΔE00"


def _tone_rows(chosen: ChosenSet, index: int) -> Iterator[Sequence[object]]:
    colourway = chosen.colourways[index]
    tones = colourway.tones
    # No negative nought, and no more digits than can be measured.
    labs, parts = (colourway.tones_lab.round(2) + 0.0).tolist(), srgb_to_bytes(tones).tolist()
    moved = [] if not _has_moved(chosen) else [[round(v, 2)] for v in colourway.tone_shifts.flat]
    check = chosen.check_for(colourway)
    shares = area_shares(*check.counted_bands)
    names = nearest_css_names(tones)
    for number, (warp, weft) in enumerate(np.ndindex(*shares.shape)):
        yield (
            label_of(colourway, index),
            tone_kind(warp, weft),
            warp,
            weft,
            colourway.tone_name(warp, weft),
            hex_of(tones[warp, weft]),
            *parts[warp][weft],
            *labs[warp][weft],
            round(float(shares[warp, weft]) * 100, 4),
            names[number],
            *(moved[number] if moved else ()),
        )


def _has_moved(chosen: ChosenSet) -> bool:
    return any(colourway.known.beyond for colourway in chosen)


def tone_lines(colourways: Colourways, check: Check | None = None) -> Iterator[str]:
    """Yield :func:`tones_csv` a colourway at a time, so that it need not be held whole."""
    chosen = as_set(colourways, check)
    moved = (_MOVED_COLUMN,) if _has_moved(chosen) else ()
    yield csv_text((*_TONE_COLUMNS, *moved), ())
    for index in range(len(chosen)):
        yield csv_text((), _tone_rows(chosen, index))


def tones_csv(colourways: Colourways, check: Check | None = None) -> str:
    """Return every tone of every colourway as CSV text.

    Columns: colourway, kind, warp and weft stripe (0 is the ground), the tone's name, hex,
    8-bit sRGB, Lab (D65, 2°), share of the area in per cent, nearest CSS colour name. Where some
    colour lies outside sRGB, Lab is of the tone itself, and a last column says by how much
    hex and sRGB, which show it, are off (ΔE00).

    Raises
    ------
    ArgumentError
        For no colourways, or no check.

    Examples
    --------
    >>> quay = Colourway("white", ["navy"], name="Quay")
    >>> print(tones_csv(quay, Check("1 in", 1)).splitlines()[1])
    Quay,ground,0,0,white,#ffffff,255,255,255,100.0,0.0,0.0,25.0,white
    """
    return "".join(tone_lines(colourways, check))


def scores_of(
    colourways: Sequence[Colourway], check_for: Callable[[Colourway], Check] | None = None
) -> list[Score]:
    """Return the score of each colourway, whatever their numbers of stripes.

    Those with equally many stripes are scored as one array. ``check_for`` gives the check of
    a colourway (:meth:`ChosenSet.check_for`); an even one where left out.
    """
    groups: dict[tuple[int, int], list[int]] = {}
    for index, colourway in enumerate(colourways):
        counts = len(colourway.stripes), len(colourway.weft_colours)
        groups.setdefault(counts, []).append(index)
    out: dict[int, Score] = {}
    for indices in groups.values():
        members = [colourways[index] for index in indices]
        scores = score(members, check=check_for(members[0]) if check_for else None)
        out.update((index, scores[number]) for number, index in enumerate(indices))
    return [out[index] for index in range(len(colourways))]


def scores_csv(colourways: Colourways, check: Check | None = None) -> str:
    """Return the scores of every colourway as CSV text, one line each.

    After the name, ground, stripes, strength and mixing come the columns of
    :meth:`Score.columns`; a cell is empty where there is no such pair of tones.

    Raises
    ------
    ArgumentError
        For no colourways, or no check.
    """
    chosen = as_set(colourways, check)
    scores = scores_of(chosen.colourways, chosen.check_for)

    def rows() -> Iterator[Sequence[object]]:
        for index, (colourway, scored) in enumerate(zip(chosen, scores, strict=True)):
            values = (float(value) for value in scored.columns().values())
            yield (
                label_of(colourway, index),
                colourway.ground.name,
                "; ".join(stripe.name for stripe in colourway.stripes) + _weft(colourway),
                colourway.strength,
                colourway.mixing,
                *("" if np.isnan(value) else round(value, 4) + 0.0 for value in values),
                hex_of(scored.far_colour),
            )

    lead = ("colourway", "ground", "stripes", "strength", "mixing")
    return csv_text((*lead, *scores[0].columns(), "colour from afar"), rows())


def _weft(colourway: Colourway) -> str:
    """The weft's own colours, where it has some."""
    names = "; ".join(stripe.name for stripe in colourway.weft_stripes)
    return f" / weft: {names}" if names else ""
