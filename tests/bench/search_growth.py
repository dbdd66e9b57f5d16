"""How the cost of a search grows: with palette size, stripes, colourways and conditions.

    PYTHONPATH=kit python tests/bench/search_growth.py               # tables of seconds
    PYTHONPATH=kit python tests/bench/search_growth.py growth.png    # and a plot of them

On one ground at one strength, but for the curve of colourways, which adds grounds. Each is
timed three times by the processor's clock, and the quickest counts. The plot has cost over
colourways looked at on logarithmic scales: there it should be a straight line of slope 1, and
its slope from a million colourways on is printed; with conditions, which leave the colourways
as many, it is what each adds.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Sequence

import numpy as np

from checkcloth.cloth.check import Check
from checkcloth.cloth.named_colour import NamedColour
from checkcloth.cloth.palette import Palette
from checkcloth.search import Wanted, search

ROUNDS = 3
MANY = 1e6
CURVES = (
    ("colours", [12, 18, 24, 30, 36, 42, 48, 60], {}),
    ("stripes", [2, 3, 4, 5, 6, 7, 8], {"colours": 36}),
    ("grounds", [1, 2, 4, 8, 16, 32], {"colours": 30}),
    ("conditions", [0, 1, 2, 3, 4, 5, 6], {"colours": 48}),
    ("bands", [3, 4, 5, 6], {"colours": 20}),
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
    """The quickest search of some rounds, in seconds of the processor."""
    times = []
    for _ in range(ROUNDS):
        start = time.process_time()
        search(wanted, 100, how=how)
        times.append(time.process_time() - start)
    return min(times)


def curve(along: str, steps: Sequence[int], fixed: dict[str, int]) -> list[tuple]:
    """A row for each step: the step, colourways, seconds for all and for the exact best 100."""
    rows = []
    for step in steps:
        size = {"colours": 24, "stripes": 6, "conditions": 0, "grounds": 1} | fixed | {along: step}
        size["stripes"] = size.get("bands", size["stripes"])
        asked = dict(list(CONDITIONS.items())[: size["conditions"]])
        palette = spread_palette(size["colours"])
        check = Check("1 cm", size["stripes"], warp="graduated") if along == "bands" else None
        grounds = spread_palette(size["grounds"], seed=2).colours
        wanted = Wanted(palette, size["stripes"], grounds=grounds, check=check, **asked)
        rows.append((step, wanted.count, seconds(wanted, "every"), seconds(wanted, "best")))
    return rows


def slope_words(along: str, rows: list[tuple]) -> str:
    """Say how straight a curve is: the slope over colourways, or what each condition adds."""
    steps, counts, every, _ = (np.array(column, dtype=float) for column in zip(*rows, strict=True))
    if along == "conditions":
        each, none = np.polyfit(steps[1:], every[1:], 1)
        apart = np.abs(np.polyval([each, none], steps[1:]) / every[1:] - 1).max()
        return f"each adds {each / every[0]:.0%} of none; {apart:.0%} off a line at most"
    many = counts >= MANY
    if many.sum() < 2:
        return "too few from a million colourways on"
    log = np.log(counts[many]), np.log(every[many])
    slope, start = np.polyfit(*log, 1)
    apart = np.exp(np.abs(np.polyval([slope, start], log[0]) - log[1]).max()) - 1
    return f"slope {slope:.2f} from a million on; {apart:.0%} off a line at most"


def plot(curves: dict[str, list[tuple]], path: str) -> None:
    """Draw the curves side by side on one scale of seconds."""
    from matplotlib.figure import Figure

    figure = Figure(figsize=(4 * len(curves), 7), layout="constrained")
    panels = figure.subplots(2, len(curves), sharey=True)
    for (above, below), (along, rows) in zip(panels.T, curves.items(), strict=True):
        steps, counts, every, best = zip(*rows, strict=True)
        for panel, across, label in ((above, steps, along), (below, counts, "colourways")):
            panel.plot(across, every, "s-", label="every one looked at")
            panel.plot(across, best, "o--", label="best 100 by bounding")
            panel.set(yscale="log", xlabel=label)
        below.set_xscale("log")
        below.set_visible(along != "conditions")  # which leave the colourways as many
    for panel in panels[:, 0]:
        panel.set_ylabel("seconds of one core")
    panels[0, 0].legend()
    figure.savefig(path)


def main() -> None:
    """Print the tables, and draw them where a path is given."""
    curves = {}
    for along, steps, fixed in CURVES:
        curves[along] = curve(along, steps, fixed)
        print(f"\nGrowth with {along} {fixed or ''}")
        for row in curves[along]:
            print("  {:>4}{:>16,} colourways  every {:9.4f} s  best {:9.4f} s".format(*row))
        print(f"  {slope_words(along, curves[along])}", flush=True)
    if len(sys.argv) > 1:
        plot(curves, sys.argv[1])


if __name__ == "__main__":
    main()
