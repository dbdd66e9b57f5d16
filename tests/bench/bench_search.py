# ruff: noqa: E402 — the number of threads is set before numpy loads
"""The search against general colour libraries, and against the clock; ratios within one run.

    PYTHONPATH=kit python tests/bench/bench_search.py              # everything, about a minute
    PYTHONPATH=kit python tests/bench/bench_search.py processes    # one against two, alone

Run on a quiet machine (``taskset -c 0`` pins the parts that use one core, but leave the last
part two). The peers get the tones ready made and work the same least differences over the same
pairs of tones, on arrays, with their own Lab and CIEDE2000. They are timed on a sample and
scaled: each line says so.
"""

from __future__ import annotations

import os

for _name in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS"):
    os.environ.setdefault(_name, "1")

import subprocess
import sys
import tempfile
import time
import warnings
from collections.abc import Callable
from itertools import combinations
from pathlib import Path
from typing import Any

import numpy as np

with warnings.catch_warnings():
    warnings.simplefilter("ignore")
    import colour
    import skimage.color
from search_growth import spread_palette

from checkcloth.cloth.bands import even_bands
from checkcloth.cloth.mixing import mix_tones
from checkcloth.cloth.tones import Symmetry
from checkcloth.scoring.contrast import score_tones
from checkcloth.scoring.pairs import tone_pairs
from checkcloth.search import Wanted, search
from checkcloth.search.counts import ranked
from checkcloth.search.reducer import reduce_choices
from checkcloth.search.tables import SettingTables

SAMPLE = 2000
Array = Any


def best(call: Callable[[], object], rounds: int = 5) -> float:
    """Return the quickest of some rounds, in seconds: the one least disturbed."""
    times = []
    for _ in range(rounds):
        start = time.perf_counter()
        call()
        times.append(time.perf_counter() - start)
    return min(times)


def least_edges(tones: Array, to_lab: Callable, difference: Callable) -> Array:
    """Least difference over every edge of each check, tone by tone, with a peer's functions."""
    stripes = tones.shape[1] - 1
    pairs = tone_pairs(even_bands(stripes), symmetry=Symmetry(mirrored=True))
    edges = np.concatenate([pairs[kind].indices for kind in ("ground_single", "single_crossing")])
    labs = to_lab(tones).reshape(len(tones), -1, 3)
    return difference(labs[:, edges[:, 0]], labs[:, edges[:, 1]]).min(axis=1)


def against_libraries() -> None:
    """All 134,596 six-of-24 on one ground at one strength: the least edge of each."""
    wanted = Wanted(spread_palette(24), 6, grounds=["white"])
    setting = wanted.setting(0)
    total = wanted.count

    def ours() -> Array:
        table = SettingTables(wanted, setting).measure  # worked anew each time
        values, ranks = ranked(table[np.ix_(setting.free, setting.free)])
        return values[reduce_choices(np.minimum, ranks, wanted.stripes)]

    values = ours()
    assert len(values) == total == 134_596
    seconds = best(ours, 9)
    picks = np.sort(np.random.default_rng(1).permutation(total)[:SAMPLE])
    rgb = np.array([c.rgb for c in wanted.candidates])
    # colex order: by the greatest member, then the next
    choices = sorted(combinations(range(24), 6), key=lambda row: row[::-1])
    stripes = rgb[np.array(setting.free)[np.array(choices)[picks]]]
    tones = mix_tones(setting.ground.rgb, stripes, setting.strength, setting.mixing)

    def science_lab(tones: Array) -> Array:
        white = colour.CCS_ILLUMINANTS["CIE 1931 2 Degree Standard Observer"]["D65"]
        linear = colour.models.eotf_sRGB(tones)
        xyz = linear @ colour.RGB_COLOURSPACES["sRGB"].matrix_RGB_to_XYZ.T
        return colour.XYZ_to_Lab(xyz, white)

    peers = {
        "scikit-image, arrays": (skimage.color.rgb2lab, skimage.color.deltaE_ciede2000),
        "colour-science, arrays": (science_lab, colour.difference.delta_E_CIE2000),
    }
    print("\nThe least edge ΔE00 of all 134,596 six-of-24, one ground, one strength, one core")
    print(f"  {'checkcloth search, every one':<40}{seconds * 1e3:12.2f} ms")
    for name, (to_lab, difference) in peers.items():
        worst = np.abs(least_edges(tones, to_lab, difference) - values[picks]).max()
        took = best(lambda a=to_lab, b=difference: least_edges(tones, a, b), 3)
        whole = took * total / SAMPLE
        print(
            f"  {name + f' ({SAMPLE} of them, scaled)':<40}{whole * 1e3:12.2f} ms"
            f"{whole / seconds:10.0f} ×   largest disagreement {worst:.4f}"
        )
    took = best(lambda: score_tones(tones), 3) * total / SAMPLE
    exact = np.abs(score_tones(tones).least_edge - values[picks]).max()
    print(
        f"  {'checkcloth score_tones (scaled; all scores)':<40}{took * 1e3:9.2f} ms"
        f"{took / seconds:10.0f} ×   largest disagreement {exact:.1e}"
    )


def rates() -> None:
    """Colourways a second of the same job through ``search``, with all it brings back."""
    print("\nThe whole search of those 134,596 on one core, repeated for a second and more")
    plain = Wanted(spread_palette(24), 6, grounds=["white"])
    asked = plain.with_(ground_apart=12, crossings_apart=5, stripes_apart=6, visions=["deutan"])
    for words, wanted in (("best 100, spread of the measure", plain),
                          ("and 6 conditions, each counted", asked)):  # fmt: skip
        # By the processor's clock, which a shared machine disturbs less than the wall's.
        rounds, start = 0, time.process_time()
        while time.process_time() - start < 1.5:
            search(wanted, 100, how="every")
            rounds += 1
        rate = rounds * wanted.count / (time.process_time() - start)
        print(f"  {words:<40}{rate / 1e6:12.1f} million colourways a CPU second")


# Run apart, so that peak memory is the search's own and not that of the peers' imports.
APART = """
import os, resource, sys, time
from checkcloth.cloth.palette import Palette
from checkcloth.search import Wanted, search

sys.path.insert(0, sys.argv[4])  # the folder of the benches
from search_growth import spread_palette

if __name__ == "__main__":
    workers, conditions, how = int(sys.argv[1]), int(sys.argv[2]), sys.argv[3]
    both = spread_palette(80)
    wanted = Wanted(Palette("forty", both.colours[:40]), 6, grounds=both.colours[40:],
                    strengths=[0.3, 0.4, 0.5, 0.6, 0.7])
    if conditions:
        wanted = wanted.with_(ground_apart=10, crossings_apart=5, stripes_apart=6,
                              visions=["deutan"])
    start = time.perf_counter()
    result = search(wanted, 100, how=how, executor="processes" if workers > 1 else None,
                    workers=workers)
    took = time.perf_counter() - start
    assert result.complete and result.total == 767_676_000
    # The peak that getrusage gives for this process counts what it was forked from.
    lines = open("/proc/self/status").read().splitlines()
    own = next(int(line.split()[1]) / 1024 for line in lines if line.startswith("VmHWM"))
    child = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024
    cpu = sum(os.times()[:4])
    several = workers > 1 and not result.ran
    print(took, own + workers * child if several else own, cpu, int(several))
"""


def all_of_them() -> None:
    """All 6-of-40 on 40 grounds at 5 strengths: 767,676,000 colourways."""
    print("\nAll 6-of-40 on 40 grounds at 5 strengths: 767,676,000 colourways")
    benches = str(Path(__file__).parent)
    with tempfile.TemporaryDirectory() as folder:
        script = Path(folder) / "apart.py"
        script.write_text(APART, "utf-8")
        for conditions in (0, 6):
            for workers, how in ((1, "every"), (2, "every"), (1, "best")):
                done = subprocess.run(
                    [sys.executable, str(script), str(workers), str(conditions), how, benches],
                    capture_output=True, text=True, check=True,
                )  # fmt: skip
                took, memory, cpu, several = map(float, done.stdout.split())
                words = f"{conditions or 'no'} conditions, {how}, {workers} core" + "s" * (
                    workers > 1
                )
                rate = f"{767.676 / took:9.0f} million a second" if how == "every" else " " * 26
                chosen = ", one chosen" if workers > 1 and not several else ""
                print(f"  {words:<36}{took:9.1f} s{rate}, {cpu:.1f} s of processors, "
                      f"peak {memory:.0f} MB{chosen}", flush=True)  # fmt: skip


if __name__ == "__main__":
    print(f"load at the start: {os.getloadavg()[0]:.1f}")
    if sys.argv[1:] != ["processes"]:
        against_libraries()
        rates()
    all_of_them()
    print(f"load at the end: {os.getloadavg()[0]:.1f}")
