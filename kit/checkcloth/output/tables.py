"""Tones and scores of a set as CSV, one table each."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Sequence

import numpy as np

from checkcloth.base.files import safe_cell
from checkcloth.cloth.check import Check
from checkcloth.cloth.colourway import Colourway
from checkcloth.colour.arrays import Floats
from checkcloth.colour.css import hex_of, nearest_css_name
from checkcloth.colour.spaces import srgb_to_bytes, srgb_to_lab
from checkcloth.explore.contrast import Score, score
from checkcloth.output.members import Colourways, as_set, label_of

__all__ = ["area_shares", "csv_text", "scores_csv", "scores_of", "tone_kind", "tones_csv"]


def csv_text(header: Sequence[str], rows: Iterator[Sequence[object]]) -> str:
    """Return CSV text: text cells no spreadsheet takes for a formula, numbers left alone."""
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(header)
    for row in rows:
        writer.writerow([safe_cell(cell) if isinstance(cell, str) else cell for cell in row])
    return out.getvalue()


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


def tones_csv(colourways: Colourways, check: Check | None = None) -> str:
    """Return every tone of every colourway as CSV text.

    Columns: colourway, kind, warp and weft stripe (0 is the ground), the tone's name, hex,
    8-bit sRGB, Lab (D65, 2°), share of the area in per cent, nearest CSS colour name.

    Raises
    ------
    ArgumentError
        For no colourways, or no check.
    """
    chosen = as_set(colourways, check)

    def rows() -> Iterator[Sequence[object]]:
        for place, colourway in enumerate(chosen):
            tones = colourway.tones
            labs, parts = srgb_to_lab(tones), srgb_to_bytes(tones)
            shares = area_shares(chosen.check_for(colourway))
            for warp, weft in np.ndindex(*shares.shape):
                yield (
                    label_of(colourway, place),
                    tone_kind(warp, weft),
                    warp,
                    weft,
                    colourway.tone_name(warp, weft),
                    hex_of(tones[warp, weft]),
                    *parts[warp, weft].tolist(),
                    *(labs[warp, weft].round(2) + 0.0).tolist(),  # no negative nought
                    round(float(shares[warp, weft]) * 100, 4),
                    nearest_css_name(tones[warp, weft]),
                )

    return csv_text(_TONE_COLUMNS, rows())


def scores_of(colourways: Sequence[Colourway], vision: str = "normal") -> list[Score]:
    """Return the score of each colourway, whatever their numbers of stripes.

    Those with equally many stripes are scored as one array.
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
