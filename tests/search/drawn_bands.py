"""Bands for searches, drawn by hypothesis; a module of its own, on pytest's path."""

from __future__ import annotations

from hypothesis import strategies as st

from checkcloth.cloth.bands import Band


def laid(stripes, draw, *, again, widest):
    """Every stripe in any order, up to ``again`` more of them or of the ground in between."""
    more = draw(st.lists(st.integers(0, stripes), max_size=again))
    order = draw(st.permutations([*range(1, stripes + 1), *more]))
    return tuple(Band(stripe, draw(st.integers(1, widest))) for stripe in order)
