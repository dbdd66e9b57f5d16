# ruff: noqa: E402 — the number of threads is set before numpy loads
"""How what scoring costs grows: with colourways, with stripes, and by mixing.

    PYTHONPATH=kit python tests/bench/scores_growth.py               # tables of seconds
    PYTHONPATH=kit python tests/bench/scores_growth.py growth.svg    # and a plot (PNG or SVG)

Processor time on one core, all works by turns so that all meet the same load; the least counts.
Where cost grows as the work does, points lie on a straight line of slope 1: the slope that fits is
printed. Stripes are set out by the tone pairs they make, which grow with their fourth power.
"""

from __future__ import annotations

import os

for _name in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS"):
    os.environ.setdefault(_name, "1")

import sys
import time
from collections.abc import Callable, Mapping

import numpy as np

from checkcloth import MIXINGS, Colourway, mix_tones
from checkcloth.cloth.bands import even_bands
from checkcloth.cloth.tones import Symmetry
from checkcloth.cores.blocks import keep_to_one_core
from checkcloth.quality import score_table
from checkcloth.scoring.pairs import tone_pairs

ROUNDS = 5
COLOURWAYS = (250, 500, 1000, 2000, 4000, 8000)
STRIPES = (2, 3, 4, 6, 8, 12)
FEW = 250


def colourways(count: int, stripes: int, mixing: str = "source-over") -> list[Colourway]:
    """So many colourways of one random palette of 24 colours; the same each time."""
    rng = np.random.default_rng(1)
    palette = [f"#{code:06x}" for code in rng.integers(0, 1 << 24, 24)]
    drawn = rng.integers(0, 24, (count, stripes + 1)).tolist()
    return [
        Colourway(palette[ground], [palette[n] for n in rest], 0.5, mixing)
        for ground, *rest in drawn
    ]


def pair_count(stripes: int) -> int:
    pairs = tone_pairs(even_bands(stripes), symmetry=Symmetry(mirrored=True))
    return sum(len(kind.indices) for kind in pairs.values())


def seconds(works: Mapping[object, Callable[[], object]]) -> dict[object, float]:
    """Least processor time of each, by turns."""
    found = dict.fromkeys(works, float("inf"))
    for _ in range(ROUNDS):
        for name, work in works.items():
            start = time.process_time()
            work()
            found[name] = min(found[name], time.process_time() - start)
    return found


def scoring(members: list[Colourway]) -> Callable[[], object]:
    return lambda: score_table(members, visions="normal")


def mixing(count: int, name: str) -> Callable[[], object]:
    rng = np.random.default_rng(2)
    palette = rng.random((24, 3))
    given = palette[rng.integers(24, size=count)], palette[rng.integers(24, size=(count, 6))]
    return lambda: mix_tones(*given, np.full(count, 0.5), name)


def slope(sizes: list[float], times: list[float]) -> float:
    """Of the line through the points, both by their logarithms."""
    return float(np.polyfit(np.log(sizes), np.log(times), 1)[0])


def curves() -> dict[str, dict[str, tuple[list[float], list[float]]]]:
    """Sizes and seconds of each curve of each panel."""
    by_count = seconds({n: scoring(colourways(n, 6)) for n in COLOURWAYS})
    by_stripes = seconds({n: scoring(colourways(FEW, n)) for n in STRIPES})
    laid = seconds({(name, n): mixing(n, name) for name in MIXINGS for n in COLOURWAYS})
    counts = [float(n) for n in COLOURWAYS]
    return {
        "colourways of six stripes, scored": {"": (counts, [by_count[n] for n in COLOURWAYS])},
        f"tone pairs of a colourway ({FEW} of 2 to 12 stripes, scored)": {
            "": ([float(pair_count(n)) for n in STRIPES], [by_stripes[n] for n in STRIPES])
        },
        "colourways of six stripes, mixed": {
            name: (counts, [laid[name, n] for n in COLOURWAYS]) for name in MIXINGS
        },
    }


def plot(found: dict[str, dict[str, tuple[list[float], list[float]]]], path: str) -> None:
    """Draw the panels side by side, with a line of slope 1 through the last point of each."""
    from matplotlib.figure import Figure

    figure = Figure(figsize=(5 * len(found), 4.5), layout="constrained")
    for panel, (along, lines) in zip(
        figure.subplots(1, len(found), sharey=True), found.items(), strict=True
    ):
        for mark, (name, (sizes, times)) in zip("osv^Dx", lines.items(), strict=False):
            panel.plot(sizes, times, f"{mark}-", label=name or "measured")
            ends = np.array([sizes[0], sizes[-1]])
            panel.plot(ends, times[-1] * ends / ends[1], ":", color="grey", linewidth=1)
        panel.plot([], [], ":", color="grey", label="slope 1")
        panel.set(xscale="log", yscale="log", xlabel=along)
        panel.set_xticks(sizes, [f"{size:,.0f}" for size in sizes], fontsize="small")
        panel.xaxis.minorticks_off()
        panel.legend()
    figure.axes[0].set_ylabel("seconds on one core")
    figure.savefig(path)


def main() -> None:
    keep_to_one_core()
    found = curves()
    for along, lines in found.items():
        print(f"\n{along}")
        for name, (sizes, times) in lines.items():
            points = "  ".join(
                f"{size:,.0f}: {1e3 * took:.1f} ms" for size, took in zip(sizes, times, strict=True)
            )
            print(f"  {name:20} slope {slope(sizes[1:], times[1:]):.2f}   {points}")
    if len(sys.argv) > 1:
        plot(found, sys.argv[1])


if __name__ == "__main__":
    main()
