"""How the cost of a search grows, measured: with palette size, stripes and conditions."""

from __future__ import annotations

import time
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from checkcloth.cloth.named_colour import NamedColour
from checkcloth.cloth.palette import Palette
from checkcloth.search.run import search
from checkcloth.search.wanted import Wanted

__all__ = ["Growth", "growth", "spread_palette"]


@dataclass(frozen=True)
class Growth:
    """One curve: what was varied, and what each way of searching cost there.

    Attributes
    ----------
    along : str
        What grows: ``"colours"``, ``"stripes"`` or ``"conditions"``.
    steps : tuple of int
    colourways : tuple of int
    every, best : tuple of float
        Seconds of looking at all, and of the exact best 100 by bounding.

    Examples
    --------
    >>> Growth("stripes", (2, 4), (66, 495), (0.01, 0.02), (0.01, 0.01)).along
    'stripes'
    """

    along: str
    steps: tuple[int, ...]
    colourways: tuple[int, ...]
    every: tuple[float, ...]
    best: tuple[float, ...]


def spread_palette(count: int, seed: int = 1) -> Palette:
    """Return so many colours spread at random through sRGB; the same for the same seed.

    >>> print(spread_palette(3))
    palette spread 3: 3 colours
    """
    rgb = np.random.default_rng(seed).random((count, 3)).round(3)
    colours = [NamedColour(f"colour {i}", (r, g, b)) for i, (r, g, b) in enumerate(rgb.tolist())]
    return Palette(f"spread {count}", colours)


def _conditions(wanted: Wanted, count: int) -> Wanted:
    """Ask for so many conditions, one after the other, each under normal vision."""
    fields = {"ground_apart": 12.0, "crossings_apart": 5.0, "stripes_apart": 6.0,
              "edge_lightness": 1.0, "edge_ratio": 1.05, "lightness_order": True}  # fmt: skip
    return wanted.with_(**dict(list(fields.items())[:count]))


def growth(
    along: str,
    steps: Sequence[int],
    *,
    colours: int = 24,
    stripes: int = 6,
    conditions: int = 0,
    rounds: int = 3,
) -> Growth:
    """Time searches on one ground at one strength while one thing grows.

    Parameters
    ----------
    along : str
        ``"colours"``, ``"stripes"`` or ``"conditions"`` (up to 6).
    steps : sequence of int
    colours, stripes, conditions : int
        What stays.
    rounds : int
        Each is timed so often, and the quickest counts.

    Examples
    --------
    >>> growth("stripes", [1, 2], colours=6, rounds=1).colourways
    (6, 15)
    """
    counts: list[int] = []
    every: list[float] = []
    best: list[float] = []
    for step in steps:
        size = {"colours": colours, "stripes": stripes, "conditions": conditions, along: step}
        plain = Wanted(spread_palette(size["colours"]), size["stripes"], grounds=["white"])
        wanted = _conditions(plain, size["conditions"])
        counts.append(wanted.count)
        for how, into in (("every", every), ("best", best)):
            times = []
            for _ in range(rounds):
                started = time.perf_counter()
                search(wanted, 100, how=how)
                times.append(time.perf_counter() - started)
            into.append(min(times))
    return Growth(along, tuple(steps), tuple(counts), tuple(every), tuple(best))
