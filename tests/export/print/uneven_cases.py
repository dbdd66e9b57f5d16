"""Checks of random uneven bands, for whoever draws them."""

from __future__ import annotations

from fractions import Fraction

import numpy as np

from checkcloth import Check, Colourway

# An inch in pixels: whole pixels an eighth of a check, so that edges fall between pixels.
INCH = 40


def uneven(seed: int) -> tuple[Colourway, Check]:
    """Random bands both ways, whole eighths of a check, and colours of the weft's own."""
    rng = np.random.default_rng(seed)

    def order(count: int) -> list[tuple[int, Fraction]]:
        bands = int(rng.integers(2, 9))
        return [(int(rng.integers(0, count + 1)), Fraction(int(rng.integers(1, 20)), 8))
                for _ in range(bands)]  # fmt: skip

    stripes, wefts = (int(rng.integers(1, 5)) for _ in range(2))
    colours = [f"#{code:06x}" for code in rng.integers(0, 1 << 24, stripes + wefts)]
    colourway = Colourway("white", colours[:stripes], 0.6, weft_stripes=colours[stripes:])
    check = Check("1 in", stripes, warp=order(stripes), weft=order(wefts), weft_stripes=wefts)
    return colourway, check


UNEVEN = [uneven(seed) for seed in range(8)]
