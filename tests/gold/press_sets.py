"""The nine measured press sets of ``press_sets.csv``, and how far predictions miss them."""

from __future__ import annotations

import csv
import itertools
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

import numpy as np

from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.named_colour import NamedColour
from checkcloth.colour.ciede2000 import delta_e_2000
from checkcloth.colour.illuminant import WHITES, adapt_xyz
from checkcloth.colour.ink import STOCKS, ink_tones
from checkcloth.colour.print_condition import PrintCondition
from checkcloth.colour.spaces import (
    linear_to_p3,
    linear_to_srgb,
    linear_to_xyz,
    p3_to_linear,
    rec2020_to_xyz,
    xyz_to_lab,
    xyz_to_linear,
    xyz_to_rec2020,
)

TRAINED = ("FOGRA29L", "FOGRA39L", "TR006")
STOCK_OF = {
    "FOGRA28L": "coated", "FOGRA29L": "uncoated", "FOGRA30L": "uncoated", "FOGRA39L": "coated",
    "FOGRA40L": "coated", "TR002": "newsprint", "TR003": "coated", "TR005": "coated",
    "TR006": "coated",
}  # fmt: skip
NAMES = tuple(STOCK_OF)
HELD_OUT = tuple(name for name in NAMES if name not in TRAINED)


@dataclass(frozen=True)
class PressSet:
    """Patches of a set: tone values (K, 4) in 0–1 and XYZ (K, 3) under D50, paper about 0.8."""

    name: str
    inks: np.ndarray
    xyz: np.ndarray

    def of(self, *inks: float) -> np.ndarray:
        """XYZ of the patch with these tone values, the mean of its readings."""
        found = (self.inks == np.array(inks)).all(axis=1)
        assert found.any(), inks
        return self.xyz[found].mean(axis=0)


@lru_cache
def press_set(name: str) -> PressSet:
    with Path(__file__).with_name("press_sets.csv").open(encoding="utf-8", newline="") as stream:
        rows = [[float(v) for v in row[1:]] for row in csv.reader(stream) if row[0] == name]
    values = np.array(rows) / 100
    return PressSet(name, values[:, :4], values[:, 4:])


def lab_d50(xyz: np.ndarray) -> np.ndarray:
    return xyz_to_lab(xyz, WHITES["D50"])


def misses(name: str, measured: bool, named: bool) -> dict[str, np.ndarray]:
    """ΔE00 of tints, crossings (but for two solids) and solids on solids, and α·β of crossings.

    ``measured``: colours are known as XYZ and mixed in BT.2020; else as sRGB, clipped, and
    mixed in Display P3. ``named``: the stock is.
    """
    one = press_set(name)
    wide, back = (
        (lambda xyz: xyz_to_rec2020(adapt_xyz(xyz, "D50", "D65")), rec2020_to_xyz)
        if measured
        else (_through_srgb, lambda p3: linear_to_xyz(p3_to_linear(p3)))
    )
    paper, solids = one.of(0, 0, 0, 0), np.array([one.of(*row) for row in np.eye(4)])
    few = ((one.inks > 0).sum(axis=1) <= 2) & (one.inks > 0).any(axis=1)
    # A patch that was read several times counts once, as the mean of its readings.
    inks = np.unique(one.inks[few], axis=0)
    xyz = np.array([one.of(*row) for row in inks])
    count = len(inks)
    tones = ink_tones(
        np.broadcast_to(wide(paper), (count, 3)),
        np.broadcast_to(wide(solids), (count, 4, 3)),
        inks,
        STOCKS[STOCK_OF[name] if named else ""],
    )
    order = np.argsort(-inks, axis=1, kind="stable")
    first, second = order[:, 0], order[:, 1]
    rows = np.arange(count)
    other = inks[rows, second]
    light = tones[rows, first + 1, np.where(other > 0, second + 1, 0)]
    found = lab_d50(adapt_xyz(back(light), "D65", "D50"))
    off = delta_e_2000(found, lab_d50(xyz))
    product = inks[rows, first] * other
    tint = (other == 0) & (inks[rows, first] < 1)
    crossing = (other > 0) & (product < 1)
    return {
        "tints": off[tint],
        "crossings": off[crossing],
        "solids": off[product == 1],
        "product": product[crossing],
        "equal": off[crossing & (inks[rows, first] == other)],
    }


def _through_srgb(xyz: np.ndarray) -> np.ndarray:
    return linear_to_p3(np.clip(xyz_to_linear(adapt_xyz(xyz, "D50", "D65")), 0, 1))


def pooled(names: tuple[str, ...], measured: bool, named: bool) -> dict[str, np.ndarray]:
    every = [misses(name, measured, named) for name in names]
    return {key: np.concatenate([one[key] for one in every]) for key in every[0]}


def misses_of_colourways(names: tuple[str, ...], named: bool, beyond: bool) -> np.ndarray:
    """ΔE00 of crossings at equal tone, as colourways of these sets have them.

    ``beyond``: colours are known as XYZ and outside sRGB where they lie there; else clipped to
    sRGB. A colourway has one strength, so crossings of unequal tones are none of it.
    """
    out = []
    for name in names:
        one, stock = press_set(name), STOCK_OF[name] if named else ""

        def colour(*inks: float, one: PressSet = one) -> NamedColour:
            xyz = adapt_xyz(one.of(*inks), "D50", "D65")
            label = "".join(map(str, inks))
            if beyond:
                return NamedColour(label, xyz=tuple(xyz.tolist()))
            red, green, blue = linear_to_srgb(np.clip(xyz_to_linear(xyz), 0, 1)).clip(0, 1).tolist()
            return NamedColour(label, (red, green, blue))

        paper, solids = colour(0, 0, 0, 0), [colour(*map(int, row)) for row in np.eye(4)]
        for row in np.unique(one.inks, axis=0):
            used = np.flatnonzero(row)
            if len(used) != 2 or row[used[0]] != row[used[1]] or row[used[0]] == 1:
                continue
            stripes = [solids[ink] for ink in used]
            made = Colourway(paper, stripes, float(row[used[0]]), "ink", stock=stock)
            found = lab_d50(adapt_xyz(made.tones_xyz[1, 2], "D65", "D50"))
            out.append(float(delta_e_2000(found, lab_d50(one.of(*row)))))
    return np.array(out)


def mean_p95(off: np.ndarray) -> tuple[float, float]:
    return float(off.mean()), float(np.percentile(off, 95))


# -- print conditions ----------------------------------------------------------------------------

INKS = ("cyan", "magenta", "yellow", "black")


def ramps_of(one: PressSet, under: int | None = None) -> dict:
    """Tints of each ink alone, or over the solid of ink ``under``: (tone value, XYZ) by name."""
    out = {}
    for k, ink in enumerate(INKS):
        wanted = np.zeros(4)
        if under is not None:
            wanted[under] = 1
        others = [j for j in range(4) if j != k]
        tint = (one.inks[:, others] == wanted[others]).all(axis=1)
        tint &= (one.inks[:, k] > 0) & (one.inks[:, k] < 1)
        values = np.unique(one.inks[tint, k])
        if k != under and len(values):
            out[ink] = [(v, one.xyz[tint & (one.inks[:, k] == v)].mean(axis=0)) for v in values]
    return out


def overprints_of(one: PressSet) -> dict:
    """XYZ of two and more solids over each other."""
    return {
        tuple(ink for ink, bit in zip(INKS, bits, strict=True) if bit): one.of(*bits)
        for bits in itertools.product((0, 1), repeat=4)
        if sum(bits) >= 2
    }


def by_basis() -> dict[str, np.ndarray]:
    """ΔE00 of every patch of the nine sets, by what the condition was made from."""
    out: dict[str, list[np.ndarray]] = {}
    for name in NAMES:
        one = press_set(name)
        paper = one.of(0, 0, 0, 0)
        solids = {ink: one.of(*row) for ink, row in zip(INKS, np.eye(4), strict=True)}
        ramps, overprints = ramps_of(one), overprints_of(one)
        over = {(ink, INKS[under]): ramp for under in range(4)
                for ink, ramp in ramps_of(one, under).items()}  # fmt: skip
        for condition in (
            PrintCondition(paper, solids),
            PrintCondition(paper, solids, stock=STOCK_OF[name]),
            PrintCondition(paper, solids, overprints),
            PrintCondition(paper, solids, ramps=ramps),
            PrintCondition(paper, solids, overprints, ramps),
            PrintCondition(paper, solids, overprints, ramps, over),
        ):
            off = delta_e_2000(lab_d50(condition.xyz_of(one.inks)), lab_d50(one.xyz))
            out.setdefault(condition.basis, []).append(off)
    return {basis: np.concatenate(off) for basis, off in out.items()}
