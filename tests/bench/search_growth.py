"""How the cost of a search grows: with palette size, stripes and conditions.

    PYTHONPATH=kit python tests/bench/search_growth.py               # tables of seconds
    PYTHONPATH=kit python tests/bench/search_growth.py growth.png    # and a plot of them

On one ground at one strength; each is timed three times, and the quickest counts.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Sequence

import numpy as np

from checkcloth.cloth.named_colour import NamedColour
from checkcloth.cloth.palette import Palette
from checkcloth.search import Wanted, search

ROUNDS = 3
CURVES = (
    ("colours", [12, 18, 24, 30, 36, 42, 48, 60], {}),
    ("stripes", [2, 3, 4, 5, 6, 7, 8], {"colours": 36}),
    ("conditions", [0, 1, 2, 3, 4, 5, 6], {"colours": 36}),
)
CONDITIONS = {
    "ground_apart": 12.0,
    "crossings_apart": 5.0,
    "stripes_apart": 6.0,
    "edge_lightness": 1.0,
    "edge_ratio": 1.05,
    "lightness_order": True,
}


def spread_palette(count: int, seed: int = 1) -> Palette:
    """So many colours spread at random through sRGB; the same for the same seed."""
    rgb = np.random.default_rng(seed).random((count, 3)).round(3)
    colours = [NamedColour(f"colour {i}", (r, g, b)) for i, (r, g, b) in enumerate(rgb.tolist())]
    return Palette(f"spread {count}", colours)


def seconds(wanted: Wanted, how: str) -> float:
    """The quickest search of some rounds."""
    times = []
    for _ in range(ROUNDS):
        start = time.perf_counter()
        search(wanted, 100, how=how)
        times.append(time.perf_counter() - start)
    return min(times)


def curve(along: str, steps: Sequence[int], fixed: dict[str, int]) -> list[tuple]:
    """A row for each step: the step, colourways, seconds for all and for the exact best 100."""
    rows = []
    for step in steps:
        size = {"colours": 24, "stripes": 6, "conditions": 0} | fixed | {along: step}
        asked = dict(list(CONDITIONS.items())[: size["conditions"]])
        palette = spread_palette(size["colours"])
        wanted = Wanted(palette, size["stripes"], grounds=["white"], **asked)
        rows.append((step, wanted.count, seconds(wanted, "every"), seconds(wanted, "best")))
    return rows


def plot(curves: dict[str, list[tuple]], path: str) -> None:
    """Draw the curves side by side on one scale of seconds."""
    from matplotlib.figure import Figure

    figure = Figure(figsize=(4 * len(curves), 4), layout="constrained")
    panels = figure.subplots(1, len(curves), sharey=True)
    for panel, (along, rows) in zip(panels, curves.items(), strict=True):
        steps, _, every, best = zip(*rows, strict=True)
        panel.plot(steps, every, "s-", label="every one looked at")
        panel.plot(steps, best, "o--", label="best 100 by bounding")
        panel.set(yscale="log", xlabel=along)
    panels[0].set_ylabel("seconds on one core")
    panels[0].legend()
    figure.savefig(path)


def main() -> None:
    """Print the tables, and draw them where a path is given."""
    curves = {}
    for along, steps, fixed in CURVES:
        curves[along] = curve(along, steps, fixed)
        print(f"\nGrowth with {along} {fixed or ''}")
        for row in curves[along]:
            print("  {:>4}{:>16,} colourways  every {:9.4f} s  best {:9.4f} s".format(*row))
    if len(sys.argv) > 1:
        plot(curves, sys.argv[1])


if __name__ == "__main__":
    main()
