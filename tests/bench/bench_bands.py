"""What uneven bands cost beside even ones, drawn, scored and planned: ratios of one run.

    PYTHONPATH=kit python tests/bench/bench_bands.py

An uneven check of the same size and as many bands; every ratio should stay under 1.3.
"""

from __future__ import annotations

import io
import time
from collections.abc import Callable

import numpy as np

from checkcloth import Check, ChosenSet, Colourway, contact_sheet, score, tile_png, tile_svg
from checkcloth.export.data.saved import set_json
from checkcloth.export.data.tables import tones_csv
from checkcloth.export.mill.thread_plan import thread_plan
from checkcloth.export.paper.specification import write_spec_sheet
from checkcloth.export.picture.piece import Piece, write_cloth_png
from checkcloth.export.print.films import film_png
from checkcloth.export.print.plates import plates_of
from checkcloth.quality import striping, sweep

STRIPES = 6
EVEN = Check("1/4 in", STRIPES)
# Widths by turns, which add up to as much as twelve bands of one check.
WIDTHS = ("1/2", "1", "1 1/2", "1", "3/4", "1 1/4") * 2
UNEVEN = Check(
    "1/4 in", STRIPES,
    warp=", ".join(f"{w} {'ABCDEF'[n // 2] if n % 2 == 0 else 'ground'}"
                   for n, w in enumerate(WIDTHS)),
    weft=", ".join(f"{w} {'FEDCBA'[n // 2] if n % 2 == 0 else 'ground'}"
                   for n, w in enumerate(WIDTHS)),
)  # fmt: skip


def beside(first: Callable[[], object], second: Callable[[], object]) -> tuple[float, float]:
    """Least processor time of two pieces of work, by turns, so that both meet the same load."""
    found: tuple[list[float], list[float]] = ([], [])
    for turn in range(21):
        for work, times in zip((first, second), found, strict=True):
            started = time.process_time()
            for _ in range(3):
                work()
            if turn:
                times.append((time.process_time() - started) / 3)
    return min(found[0]), min(found[1])


def main() -> None:
    rng = np.random.default_rng(0)
    cloths = [
        Colourway("white", [f"#{code:06x}" for code in rng.integers(0, 1 << 24, STRIPES)], 0.6)
        for _ in range(200)
    ]
    one = cloths[0]

    def works(check: Check) -> dict[str, Callable[[], object]]:
        piece = Piece(check, "60 in", "40 in", 300)
        plates = plates_of(one)
        kept = ChosenSet(check, cloths[:24])
        return {
            "score of 200": lambda: score(cloths, check=check),
            "tile, PNG at 300 dpi": lambda: tile_png(one, check, 300),
            "tile, SVG": lambda: tile_svg(one, check),
            "cloth 60 in × 40 in at 300 dpi": lambda: write_cloth_png(io.BytesIO(), one, piece),
            "film": lambda: film_png(plates, 0, check, 300),
            "contact sheet of 24": lambda: contact_sheet(kept),
            "specification of 4": lambda: write_spec_sheet(
                io.BytesIO(), ChosenSet(check, cloths[:4])
            ),
            "table of tones of 24": lambda: tones_csv(kept),
            "set file of 24": lambda: set_json(kept),
            "thread plan": lambda: thread_plan(
                one, check, width="60 in", length="60 in", sett="64 per in"
            ).facts_csv(),
            "sweep": lambda: sweep(one, check=check, steps=50),
            "striping": lambda: striping(one, check, "40 cm"),
        }

    even, uneven = works(EVEN), works(UNEVEN)
    print(f"{'':34}{'even ms':>10}{'uneven ms':>11}{'ratio':>7}")
    for name in even:
        first, second = beside(even[name], uneven[name])
        print(f"{name:34}{first * 1e3:10.2f}{second * 1e3:11.2f}{second / first:7.2f}")


if __name__ == "__main__":
    main()
