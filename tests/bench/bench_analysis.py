"""Rate and memory of the streaming score table, beside the array libraries in one run.

    PYTHONPATH=kit python tests/bench/bench_analysis.py [colourways]

Writes a CSV of six-stripe colourways (100,000 unless told), scores it into a CSV, and prints
the peak memory of doing so; then the rate of CIEDE2000 alone, ours and that of scikit-image and
colour-science, on the very pairs that one vision scores. Prints a table and asserts nothing.
"""

from __future__ import annotations

import resource
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import numpy as np

STRIPES = 6
CHILD = """
import resource, sys, time
from checkcloth.quality import write_score_table
start, cpu = time.perf_counter(), time.process_time()
count = write_score_table(sys.argv[1], sys.argv[2], visions=sys.argv[3].split(","), progress=False)
peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
print(count, time.perf_counter() - start, time.process_time() - cpu, peak)
"""


def write_colourways(path: Path, count: int) -> None:
    rng = np.random.default_rng(1)
    with path.open("w", encoding="utf-8") as stream:
        stripes = ",".join(f"stripe {n}" for n in range(1, STRIPES + 1))
        stream.write(f"name,ground,{stripes},strength\n")
        for start in range(0, count, 10_000):
            codes = rng.integers(0, 1 << 24, (min(10_000, count - start), STRIPES + 1)).tolist()
            for number, row in enumerate(codes, start):
                stream.write(f"c{number}," + ",".join(f"#{c:06x}" for c in row) + ",0.5\n")


def streamed(folder: Path, count: int, visions: str) -> tuple[float, float, float]:
    source = folder / f"{count}.csv"
    if not source.exists():
        write_colourways(source, count)
    out = folder / "scores.csv"
    done = subprocess.run(
        [sys.executable, "-c", CHILD, source, out, visions],
        capture_output=True, text=True, check=True,
    )  # fmt: skip
    scored, wall, cpu, peak = done.stdout.split()
    assert int(scored) == count
    lines = sum(block.count(b"\n") for block in iter_blocks(out))
    assert lines == count + 1
    out.unlink()
    return float(wall), float(cpu), float(peak)


def iter_blocks(path: Path):
    with path.open("rb") as stream:
        while block := stream.read(1 << 20):
            yield block


def kernels() -> None:
    import colour
    from skimage.color import deltaE_ciede2000

    from checkcloth.cloth.check import even_bands
    from checkcloth.cloth.mixing import mix_tones
    from checkcloth.cloth.tones import Symmetry
    from checkcloth.colour.ciede2000 import delta_e_2000
    from checkcloth.colour.spaces import srgb_to_lab
    from checkcloth.scoring.contrast import score_tones
    from checkcloth.scoring.pairs import KINDS, tone_pairs

    rng = np.random.default_rng(2)
    tones = mix_tones(rng.random((500, 3)), rng.random((500, STRIPES, 3)), rng.random(500))
    lab = srgb_to_lab(tones).reshape(500, -1, 3)
    pairs = tone_pairs(even_bands(STRIPES), symmetry=Symmetry(mirrored=True))
    both = np.concatenate([pairs[kind].indices for kind in KINDS])
    one, two = lab[:, both[:, 0]], lab[:, both[:, 1]]
    size = one.shape[0] * one.shape[1]
    rows = [
        ("scikit-image deltaE_ciede2000", lambda: deltaE_ciede2000(one, two)),
        ("colour-science delta_E CIE 2000", lambda: colour.delta_E(one, two, "CIE 2000")),
        ("checkcloth delta_e_2000", lambda: delta_e_2000(one, two)),
        ("checkcloth score_tones, all measures", lambda: score_tones(tones)),
    ]
    print(f"\nCIEDE2000 of {size:,} tone pairs (500 colourways), best of 3, CPU time")
    base = None
    for name, run in rows:
        best = min(timed(run) for _ in range(3))
        base = base or best
        print(f"  {name:38s} {size / best / 1e6:7.2f} M pairs/s  {base / best:5.2f} × scikit-image")


def timed(run) -> float:
    start = time.process_time()
    run()
    return time.process_time() - start


def main() -> None:
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 100_000
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        print(f"streamed from CSV to CSV, {STRIPES} stripes")
        for visions in ("normal", "normal,protan,deutan,tritan,grey"):
            for number in (max(1000, count // 10), count):
                wall, cpu, peak = streamed(folder, number, visions)
                print(
                    f"  {number:>7,} colourways, {visions.count(',') + 1} visions: {wall:6.1f} s, "
                    f"{number / cpu:6.0f} a CPU second, peak {peak:5.0f} MB"
                )
    kernels()
    used = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(f"\n(this process, with the libraries it compares to: {used:.0f} MB)")


if __name__ == "__main__":
    main()
