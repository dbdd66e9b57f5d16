"""Plates as films: true size, black where ink goes, register marks outside the repeat."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from checkcloth.cloth.bands import band_edges, checks_in
from checkcloth.cloth.check import Check, RepeatGrid
from checkcloth.cloth.colourway import fitting
from checkcloth.colour.css import hex_of
from checkcloth.export.picture.lettering import PLAIN, Words, font_of, letter
from checkcloth.export.picture.raster import tile_size
from checkcloth.export.print.plates import Plate, PlateSet
from checkcloth.files.png import grey_png
from checkcloth.version import PROGRAM

# In millimetres: the margin round the repeat, and half the width of a register mark.
_MARGIN_MM, _ARM_MM = 15, 4


class Film(NamedTuple):
    """A film in whole pixels."""

    rows: NDArray[np.uint8]  #: (R, W): the different rows, 0 where ink goes in full, 255 where none
    counts: NDArray[np.intp]  #: (R,): how many pixel rows each lasts
    margin: int  #: pixels between the edge of the film and the repeat
    dpi: Fraction
    solid: bool


def _mark(arm: int, line: int) -> NDArray[np.bool_]:
    """A register mark: a cross in a ring, in a square of 2·arm pixels."""
    offset = np.arange(2 * arm) - arm + 0.5
    x, y = np.meshgrid(offset, offset)
    ring = np.abs(np.hypot(x, y) - arm * 0.6) <= line / 2
    cross = (np.abs(x) <= line / 2) | (np.abs(y) <= line / 2)
    return np.asarray(ring | cross)


def margins(
    width: int, margin: int, dpi: Fraction | float, words: Sequence[str]
) -> tuple[NDArray[np.uint8], NDArray[np.uint8]]:
    """The strips above and below the repeat: marks in the corners, words in between."""
    per_mm = float(dpi) / 25.4
    arm, line = max(3, round(_ARM_MM * per_mm)), max(1, round(0.1 * per_mm))
    mark = _mark(arm, line)
    strips = []
    for text in words:
        left = margin + arm
        room = max(0, width - 2 * left)
        size = max(6, round(2.6 * per_mm))
        line_of_text = Words(left, (margin - size) // 2, text, font_of(PLAIN, size), room, 0)
        strip = letter(width, margin, [line_of_text] if room > 4 * size else [])[..., 0].copy()
        # Films are black or clear; letters too.
        strip = np.where(strip < 128, 0, 255).astype(np.uint8)
        top = (margin - 2 * arm) // 2
        for x in (top, width - top - 2 * arm):
            strip[top : top + 2 * arm, x : x + 2 * arm][mark] = 0
        strips.append(strip)
    return strips[0], strips[1]


def film_of(plate: Plate, check: Check, dpi: Fraction | float, words: Sequence[str]) -> Film:
    """Lay a plate out as a film of one repeat with its margin, two lines of words in that."""
    pixels, exact = tile_size(check, dpi)
    margin = max(8, round(_MARGIN_MM * float(exact) / 25.4))
    across, down = check.repeat_plans(RepeatGrid(*pixels, exact))
    up = check.weft_bands
    grey = np.floor(255 - plate.cover * 255 + 0.5).astype(np.uint8)
    width = len(across) + 2 * margin
    middle = np.full((len(up), width), 255, dtype=np.uint8)
    middle[:, margin : margin + len(across)] = grey.T[[band.stripe for band in up]][:, across]
    above, below = margins(width, margin, exact, words)
    rows = np.concatenate([above, middle, below])
    counts = np.ones(len(rows), dtype=np.intp)
    edges = band_edges(up, Fraction(len(down)) / checks_in(up))
    counts[margin : margin + len(up)] = np.diff(edges)
    return Film(rows, counts, margin, exact, plate.solid)


def film_png(plates: PlateSet, index: int, check: Check, dpi: Fraction | float) -> bytes:
    """Return one plate (counted from 0) as a PNG film: 1-bit where solid, else 8-bit grey.

    Raises
    ------
    ArgumentError
        For a check with other stripes, a resolution out of range, a film too large.
    """
    fitting(plates.colourway, check)
    plate = plates.plates[index]
    lead = f"Plate {index + 1} of {plates.screens}"
    kind = "solid" if plate.solid else "tint"
    words = [
        f"{lead} · {plate.name} · {hex_of(plate.ink)} · {kind}",
        f"{plates.colourway.name or 'Colourway'} · repeat {check.repeat_words} · black prints",
    ]
    film = film_of(plate, check, dpi, words)
    texts = [
        ("Title", f"{lead}: {plate.name}"),
        ("Description", f"Black prints. {plates.rule}"),
        ("Software", PROGRAM),
    ]
    bits = 1 if film.solid else 8
    return grey_png(film.rows, film.counts, bits=bits, dpi=film.dpi, texts=texts)
