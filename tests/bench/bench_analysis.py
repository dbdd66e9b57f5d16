"""Rate and memory of the streaming score table, beside the array libraries in one run.

    PYTHONPATH=kit python tests/bench/bench_analysis.py [colourways]

Writes a CSV of six-stripe colourways (100,000 unless told), scores it into a CSV, in this process
and in one a core, and prints the peak memory of doing so; what a thousand colourways of 1 to 5
stripes and all mixings cost beside as many alike; then the rate of CIEDE2000 alone, ours and that
of scikit-image and colour-science, on the very pairs that one vision scores. Asserts nothing.
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

def used(what):
    return [getattr(resource.getrusage(who), what)
            for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN)]

if __name__ == "__main__":
    start, cpu = time.perf_counter(), used("ru_utime")[0]
    source, out, visions, executor = sys.argv[1:]
    count = write_score_table(source, out, visions=visions.split(","), progress=False,
                              executor=executor or None)
    wall = time.perf_counter() - start
    print(count, wall, sum(used("ru_utime")) - cpu, max(used("ru_maxrss")) / 1024)
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


def streamed(folder: Path, count: int, visions: str, executor: str) -> tuple[float, float, float]:
    source = folder / f"{count}.csv"
    if not source.exists():
        write_colourways(source, count)
    out = folder / "scores.csv"
    script = folder / "score.py"
    script.write_text(CHILD)
    done = subprocess.run(
        [sys.executable, script, source, out, visions, executor],
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

    from checkcloth.cloth.bands import even_bands
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


def mixed() -> None:
    """1,000 colourways of 1 to 5 stripes and all mixings, and as many alike of each count."""
    from checkcloth import MIXINGS, Colourway
    from checkcloth.quality import score_table

    rng = np.random.default_rng(3)
    palette = [f"#{code:06x}" for code in rng.integers(0, 1 << 24, 24)]

    def drawn(stripes: int, mixing: str) -> Colourway:
        ground, *rest = rng.integers(0, 24, stripes + 1).tolist()
        return Colourway(palette[ground], [palette[n] for n in rest], 0.5, mixing)

    sets = {
        "1 to 5 stripes, all mixings": [
            drawn(1 + n % 5, MIXINGS[n // 5 % len(MIXINGS)]) for n in range(1000)
        ],
        "1 to 5 stripes, one mixing": [drawn(1 + n % 5, "source-over") for n in range(1000)],
        "3 stripes, all mixings": [drawn(3, MIXINGS[n % len(MIXINGS)]) for n in range(1000)],
    }
    alike = {n: [drawn(n, "source-over") for _ in range(1000)] for n in range(1, 6)}
    found = dict.fromkeys([*sets, *alike], float("inf"))
    for _ in range(7):  # by turns, so that all meet the same load
        for name, members in [*sets.items(), *alike.items()]:
            took = timed(lambda members=members: score_table(members, visions="normal"))
            found[name] = min(found[name], took)
    mean = sum(found[n] for n in alike) / len(alike)
    print("\n1,000 colourways of one palette, scored; CPU time, best of 7")
    print(f"  all alike, of 1 to 5 stripes in turn, mean {1e3 * mean:6.1f} ms")
    for name in sets:
        base, words = (found[3], "of 3 alike") if name.startswith("3") else (mean, "that mean")
        print(f"  {name:42s} {1e3 * found[name]:6.1f} ms  {found[name] / base:5.2f} × {words}")


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
            for number, executor in ((count // 10, ""), (count, ""), (count, "processes")):
                wall, cpu, peak = streamed(folder, number, visions, executor)
                print(
                    f"  {number:>7,} colourways, {visions.count(',') + 1} visions, "
                    f"{executor or 'one process':11}: {wall:6.1f} s, "
                    f"{number / cpu:6.0f} a CPU second, peak {peak:4.0f} MB a process"
                )
    mixed()
    kernels()
    used = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(f"\n(this process, with the libraries it compares to: {used:.0f} MB)")


if __name__ == "__main__":
    main()
