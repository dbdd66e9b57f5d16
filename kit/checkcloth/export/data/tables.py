"""Tones and scores of a set as CSV, one table each."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from checkcloth.arguments import Floats
from checkcloth.cloth.check import Check
from checkcloth.cloth.chosen import ChosenSet
from checkcloth.cloth.colourway import Colourway
from checkcloth.colour.ciede2000 import delta_e_2000
from checkcloth.colour.css import css_names, hex_of
from checkcloth.colour.spaces import srgb_to_bytes, srgb_to_lab
from checkcloth.export.data.members import Colourways, as_set, label_of
from checkcloth.files.csv_rows import csv_text
from checkcloth.scoring.contrast import Score, score

__all__ = [
    "area_shares",
    "scores_csv",
    "scores_of",
    "tone_kind",
    "tone_lines",
    "tones_csv",
]


def area_shares(check: Check) -> Floats:
    """Return the share of the cloth that each tone has, shape (N+1, N+1); they add up to 1.

    >>> area_shares(Check("1 in", 1)).tolist()
    [[0.25, 0.25], [0.25, 0.25]]
    """
    widths = np.bincount(check.plan(), minlength=check.stripes + 1).astype(np.float64)
    share = widths / widths.sum()
    return np.asarray(np.outer(share, share))


def tone_kind(warp: int, weft: int) -> str:
    """Say what a tone is: ground, warp single, weft single or crossing.

    >>> tone_kind(1, 0)
    'warp single'
    """
    if not warp and not weft:
        return "ground"
    return "crossing" if warp and weft else "warp single" if warp else "weft single"


_TONE_COLUMNS = (
    "colourway", "kind", "warp", "weft", "tone", "hex", "red", "green", "blue",
    "L*", "a*", "b*", "share of area %", "nearest CSS name",
)  # fmt: skip


def _css_names(rgb: Floats) -> list[str]:
    """The nearest CSS colour names by CIEDE2000 to colours (..., 3), flattened."""
    names = css_names()
    labs = srgb_to_lab(np.array(list(names.values())))
    found = delta_e_2000(srgb_to_lab(rgb).reshape(-1, 1, 3), labs).argmin(axis=1)
    listed = list(names)
    return [listed[place] for place in found.tolist()]


def _tone_rows(chosen: ChosenSet, place: int) -> Iterator[Sequence[object]]:
    colourway = chosen.colourways[place]
    tones = colourway.tones
    # No negative nought, and no more digits than can be measured.
    labs, parts = (srgb_to_lab(tones).round(2) + 0.0).tolist(), srgb_to_bytes(tones).tolist()
    shares = area_shares(chosen.check_for(colourway))
    names = _css_names(tones)
    for number, (warp, weft) in enumerate(np.ndindex(*shares.shape)):
        yield (
            label_of(colourway, place),
            tone_kind(warp, weft),
            warp,
            weft,
            colourway.tone_name(warp, weft),
            hex_of(tones[warp, weft]),
            *parts[warp][weft],
            *labs[warp][weft],
            round(float(shares[warp, weft]) * 100, 4),
            names[number],
        )


def tone_lines(colourways: Colourways, check: Check | None = None) -> Iterator[str]:
    """Yield :func:`tones_csv` a colourway at a time, so that it need not be held whole.

    >>> len(list(tone_lines(Colourway("white", ["navy"]), Check("1/2 in", 1))))
    2
    """
    chosen = as_set(colourways, check)
    yield csv_text(_TONE_COLUMNS, ())
    for place in range(len(chosen)):
        yield csv_text((), _tone_rows(chosen, place))


def tones_csv(colourways: Colourways, check: Check | None = None) -> str:
    """Return every tone of every colourway as CSV text.

    Columns: colourway, kind, warp and weft stripe (0 is the ground), the tone's name, hex,
    8-bit sRGB, Lab (D65, 2°), share of the area in per cent, nearest CSS colour name.

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


def scores_of(colourways: Sequence[Colourway], vision: str = "normal") -> list[Score]:
    """Return the score of each colourway, whatever their numbers of stripes.

    Those with equally many stripes are scored as one array.

    >>> both = [Colourway("white", ["navy"]), Colourway("white", ["navy", "teal"])]
    >>> [one.least_edge.round(1).item() for one in scores_of(both)]
    [22.8, 11.1]
    """
    places: dict[int, list[int]] = {}
    for place, colourway in enumerate(colourways):
        places.setdefault(len(colourway.stripes), []).append(place)
    out: dict[int, Score] = {}
    for group in places.values():
        scores = score([colourways[place] for place in group], vision)
        out.update((place, scores[number]) for number, place in enumerate(group))
    return [out[place] for place in range(len(colourways))]


def scores_csv(colourways: Colourways, check: Check | None = None) -> str:
    """Return the scores of every colourway as CSV text, one line each.

    After the name, ground, stripes, strength and mixing come the columns of
    :meth:`Score.columns`; a cell is empty where there is no such pair of tones.

    Raises
    ------
    ArgumentError
        For no colourways, or no check.

    Examples
    --------
    >>> scores_csv(Colourway("white", ["navy"]), Check("1/2 in", 1)).splitlines()[1][:45]
    'Colourway 1,white,navy,0.5,source-over,37.614'
    """
    chosen = as_set(colourways, check)
    scores = scores_of(chosen.colourways)

    def rows() -> Iterator[Sequence[object]]:
        for place, (colourway, one) in enumerate(zip(chosen, scores, strict=True)):
            values = (float(value) for value in one.columns().values())
            yield (
                label_of(colourway, place),
                colourway.ground.name,
                "; ".join(stripe.name for stripe in colourway.stripes),
                colourway.strength,
                colourway.mixing,
                *("" if np.isnan(value) else round(value, 4) for value in values),
                hex_of(one.afar),
            )

    lead = ("colourway", "ground", "stripes", "strength", "mixing")
    return csv_text((*lead, *scores[0].columns(), "colour from afar"), rows())
