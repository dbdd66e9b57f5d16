"""One colourway under every mixing, and how far its crossing tones lie apart."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from checkcloth.arguments import Floats
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.mixing import MIXINGS, find_mixing
from checkcloth.colour.ciede2000 import delta_e_2000
from checkcloth.colour.css import hex_of
from checkcloth.colour.spaces import srgb_to_lab
from checkcloth.errors import ArgumentError
from checkcloth.files.html import Cell, OneLine, table


@dataclass(frozen=True, repr=False)
class MixingTable(OneLine):
    """The tones of one colourway under several mixings, side by side.

    Examples
    --------
    >>> table = compare_mixings(Colourway("white", ["navy", "gold"]), ["source-over", "woven"])
    >>> print(table.text())
                 source-over     woven
    source-over          0.0      27.9
    woven               27.9       0.0
    """

    colourways: tuple[Colourway, ...]  #: the same but for the mixing
    mixings: tuple[str, ...]
    tones: Floats  #: (K, N+1, N+1, 3): encoded sRGB, one set a mixing
    differences: Floats  #: (K, K, N, N): CIEDE2000 of each crossing tone between two mixings

    @property
    def mean(self) -> Floats:
        """Mean CIEDE2000 over the crossings, between two mixings, shape (K, K)."""
        return np.asarray(self.differences.mean(axis=(2, 3)))

    @property
    def largest(self) -> Floats:
        """Largest CIEDE2000 over the crossings, between two mixings, shape (K, K)."""
        return np.asarray(self.differences.max(axis=(2, 3)))

    def crossings(self) -> list[tuple[str, tuple[str, ...]]]:
        """Return each crossing's name with its colour (#rrggbb) under every mixing."""
        first, number = self.colourways[0], self.tones.shape[1] - 1
        return [
            (first.tone_name(i, j), tuple(hex_of(tones[i, j]) for tones in self.tones))
            for i in range(1, number + 1)
            for j in range(1, number + 1)
        ]

    def _labels(self) -> list[str]:
        return [find_mixing(name).label for name in self.mixings]

    def text(self) -> str:
        """Return the mean differences as a table in plain text, one decimal."""
        labels = self._labels()
        wide = max(map(len, labels))
        lines = [" " * wide + "".join(f"  {label:>8}" for label in labels)]
        for label, row in zip(labels, self.mean, strict=True):
            cells = "".join(
                f"  {value:>{max(8, len(head))}.1f}"
                for value, head in zip(row, labels, strict=True)
            )
            lines.append(f"{label:<{wide}}{cells}")
        return "\n".join(lines)

    def __str__(self) -> str:
        first = self.colourways[0]
        stripes = ", ".join(stripe.name for stripe in first.stripes)
        what = f"{stripes} on {first.ground.name}, {first.strength * 100:.4g} %"
        return f"{what}, under {len(self.mixings)} mixings"

    def _repr_html_(self) -> str:
        heads = ["", *self._labels()]
        tones: list[list[str | Cell]] = [
            [name, *(Cell(colour, colour=colour) for colour in colours)]
            for name, colours in self.crossings()
        ]
        far = (
            [label, *(f"{value:.1f}" for value in row)]
            for label, row in zip(self._labels(), self.mean, strict=True)
        )
        mean = "Mean difference of the crossings (ΔE00) between two mixings"
        figures = range(1, len(heads))
        return (
            table(["Crossing tones under each mixing"], heads, tones, row_heads=True)
            + table([mean], heads, far, right=figures, row_heads=True)
        )  # fmt: skip


def compare_mixings(colourway: Colourway, mixings: Iterable[str] = MIXINGS) -> MixingTable:
    """Return the colourway under each mixing, with the differences of its crossing tones.

    Parameters
    ----------
    colourway : Colourway
        Its own mixing does not matter; strength, warp share and n are kept.
    mixings : iterable of str
        Two or more of ``MIXINGS``; all unless given.

    Returns
    -------
    MixingTable
        Shows itself in a notebook as two tables: colours, and ΔE00 between mixings.

    Raises
    ------
    ArgumentError
        For an unknown mixing, or fewer than two.
    """
    if isinstance(mixings, str):
        mixings = (mixings,)
    names = tuple(find_mixing(name).name for name in mixings)
    if len(names) < 2:
        raise ArgumentError("mixings", "two or more", len(names))
    colourways = tuple(colourway.with_(mixing=name) for name in names)
    tones = np.array([colourway.tones for colourway in colourways])
    lab = srgb_to_lab(tones[:, 1:, 1:])
    return MixingTable(colourways, names, tones, delta_e_2000(lab[:, None], lab[None, :]))
