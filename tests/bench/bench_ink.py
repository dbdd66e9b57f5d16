"""How far ``ink`` misses nine measured press sets, and what it costs beside ``woven``.

PYTHONPATH=kit python tests/bench/bench_ink.py
"""

from __future__ import annotations

import itertools
import sys
import time
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "gold"))

from press_sets import HELD_OUT, NAMES, by_basis, misses, misses_of_colourways, pooled

from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.mixing import mix_tones
from checkcloth.cloth.named_colour import NamedColour
from checkcloth.cloth.tones import tones_of


def _figures(off: np.ndarray) -> str:
    return f"{off.mean():5.2f} {np.percentile(off, 95):5.2f} {off.max():5.1f}"


def accuracy() -> None:
    """Print ΔE00 (mean, p95, max) by what is known."""
    print("ΔE00: mean, p95, max           tints           two solids          crossings")
    for which, names in (("all nine", NAMES), ("held out", HELD_OUT)):
        for measured in (True, False):
            for named in (False, True):
                off = pooled(names, measured, named)
                colours = "XYZ" if measured else "sRGB"
                what = f"{which}, {colours}, {'stock named' if named else 'default'}"
                parts = "   ".join(_figures(off[k]) for k in ("tints", "solids", "crossings"))
                print(f"{what:28}{parts}")
    print("\ncrossings by set: mean, p95, default and with the stock named, XYZ")
    for name in NAMES:
        both = [misses(name, True, named)["crossings"] for named in (False, True)]
        print(f"{name:10}", "   ".join(_figures(off) for off in both))
    print("\nerror bars: p95 of held-out crossings by α·β (0.1, 0.3, 0.5, 0.75, below 1)")
    edges = (0, 0.1, 0.3, 0.5, 0.75, 0.999)
    for measured in (True, False):
        for named in (True, False):
            off = pooled(HELD_OUT, measured, named)
            product, crossings = off["product"], off["crossings"]
            bars = [
                np.percentile(crossings[(product > low) & (product <= high)], 95)
                for low, high in itertools.pairwise(edges)
            ]
            print(measured, named, [f"{bar:.1f}" for bar in bars])


def colourways() -> None:
    """Print ΔE00 of crossings at equal tone through colourways, clipped and kept."""
    print("\ncrossings at equal tone, by Colourway.tones_xyz: mean, p95, max")
    for which, names in (("all nine", NAMES), ("held out", HELD_OUT)):
        for named in (False, True):
            for beyond in (False, True):
                off = misses_of_colourways(names, named, beyond)
                colours = "kept as XYZ" if beyond else "clipped to sRGB"
                print(f"{which}, {'stock named' if named else 'default'}, {colours:16}"
                      f"{_figures(off)}")  # fmt: skip


def conditions() -> None:
    """Print ΔE00 over all patches by what of a set was measured: where BASIS_ERRORS come from."""
    print("\nall patches of the nine sets, by what was measured: mean, p95, largest")
    for by, off in by_basis().items():
        print(f"{by:42}{_figures(off)}")


def cost(rounds: int = 25) -> None:
    """Print the time of 500 six-stripe colourways, and ratios to ``woven`` taken in turns."""
    rng = np.random.default_rng(16)
    grounds, stripes = 0.7 + 0.3 * rng.random((500, 3)), rng.random((500, 6, 3))
    ratios: dict[str, list[float]] = {"ink": [], "multiply": [], "pigment": []}
    mix_tones(grounds, stripes, 0.5, "pigment")  # spectra are recovered once
    spent = []
    for _ in range(rounds):
        times = {}
        for mixing in ("woven", *ratios):
            start = time.perf_counter()
            mix_tones(grounds, stripes, 0.5, mixing)
            times[mixing] = time.perf_counter() - start
        spent.append(times["ink"])
        for mixing, found in ratios.items():
            found.append(times[mixing] / times["woven"])
    print(f"\n500 six-stripe colourways in ink: median {np.median(spent) * 1000:.1f} ms")
    for mixing, found in ratios.items():
        print(f"{mixing} / woven: median {np.median(found):.2f}, quartiles "
              f"{np.percentile(found, 25):.2f} to {np.percentile(found, 75):.2f}")  # fmt: skip


def spectral_cost(rounds: int = 25) -> None:
    """Print the time of 500 six-stripe colourways of measured spectra, once colours are known."""
    rng = np.random.default_rng(36)
    nm = np.arange(380, 731, 10)
    middles, wide = rng.uniform(400, 700, 40), rng.uniform(20, 100, 40)
    bells = 0.04 + 0.8 * np.exp(-(((nm - middles[:, None]) / wide[:, None]) ** 2))
    yarns = [
        NamedColour(f"yarn {n}", reflectance=tuple(row)) for n, row in enumerate(bells.tolist())
    ]
    ways = {
        mixing: [
            Colourway(yarns[0], [yarns[i] for i in rng.permutation(40)[:6]], 0.5, mixing)
            for _ in range(500)
        ]
        for mixing in ("woven", "ink", "pigment")
    }
    spent: dict[str, list[float]] = {mixing: [] for mixing in ways}
    for _ in range(rounds):
        for mixing, members in ways.items():
            start = time.perf_counter()
            tones_of(members)
            spent[mixing].append(time.perf_counter() - start)
    print("\n500 six-stripe colourways of measured spectra, 36 bands: median, ratio to woven")
    for mixing, found in spent.items():
        ratio = np.median(np.array(found) / np.array(spent["woven"]))
        print(f"{mixing:8}{np.median(found) * 1000:6.1f} ms  {ratio:.2f}")


if __name__ == "__main__":
    accuracy()
    colourways()
    conditions()
    cost()
    spectral_cost()
