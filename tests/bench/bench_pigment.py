"""How far ``pigment`` misses measured spectra because it recovers them from sRGB.

PYTHONPATH=kit python tests/bench/bench_pigment.py      (needs colour-science)
"""

from __future__ import annotations

import sys
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "gold"))

from pigment_pairs import recovery_misses

if __name__ == "__main__":
    missed = recovery_misses()
    print(
        f"{len(missed)} pairs: ΔE00 mean {missed.mean():.2f}, median {np.median(missed):.2f}, "
        f"p95 {np.percentile(missed, 95):.2f}, largest {missed.max():.1f}"
    )
