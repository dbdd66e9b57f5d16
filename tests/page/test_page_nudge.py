"""A nudge that the page paints is the one that the kernel makes."""

from __future__ import annotations

import json
import shutil
import subprocess
from pathlib import Path

import numpy as np
import pytest

from checkcloth.cloth.named_colour import NamedColour
from checkcloth.ideas.by_hand import NUDGES, nudge

RUNNER = Path(__file__).with_name("nudge_cases.mjs")


def test_a_nudge_on_the_page_is_pythons_within_1_of_255():
    node = shutil.which("node")
    if node is None:
        pytest.skip("no node found: install Node.js 20.19 or newer (https://nodejs.org)")
    rng = np.random.default_rng(13)
    codes = ["#000000", "#ffffff", "#ff0000", "#00ff00", "#0000ff", "#808080"]
    codes += [f"#{value:06x}" for value in rng.integers(0, 1 << 24, 400)]
    axes, steps = sorted(NUDGES), [*range(-3, 0), *range(1, 4)]
    cases = [
        (code, axes[rng.integers(3)], steps[rng.integers(6)]) for code in codes for _ in range(5)
    ]
    run = subprocess.run(
        [node, "--disable-warning=MODULE_TYPELESS_PACKAGE_JSON", str(RUNNER)],
        input=json.dumps(cases), capture_output=True, text=True, check=True,
    )  # fmt: skip
    for (code, axis, count), (name, moved) in zip(cases, json.loads(run.stdout), strict=True):
        wanted = nudge(NamedColour.of(code, "one"), axis, count)
        assert name == wanted.name
        theirs, ours = (
            np.frombuffer(bytes.fromhex(one[1:]), np.uint8).astype(int)
            for one in (moved, wanted.hex)
        )
        assert np.abs(theirs - ours).max() <= 1, (code, axis, count, moved, wanted.hex)
