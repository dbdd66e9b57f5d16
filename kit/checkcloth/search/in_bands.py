"""The search in bands that are given: there the order of the stripes counts too.

In an even check every two stripes touch in the same ways, so a choice of colours has one
score in every order. In other bands a stripe may lie beside some and not beside others, and
tones of three stripes meet; every distinct order of every choice is weighed here, by looking
each pair of touching tones up in a table of all tones that the candidates can make.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from html import escape
from itertools import combinations, islice
from math import comb
from typing import Any

import numpy as np
from numpy.typing import NDArray

from checkcloth.arguments import Floats, as_whole, require_type
from checkcloth.cloth.bands import Bands
from checkcloth.cloth.check import Check
from checkcloth.cloth.chosen import Chosen
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.tones import symmetry_of
from checkcloth.errors import ArgumentError
from checkcloth.files.frames import Tabular
from checkcloth.files.html import AS_TYPED
from checkcloth.files.progress import Progress, progress_of
from checkcloth.ideas.orders import count_orders, laid_stripes, orders_in
from checkcloth.scoring.pairs import EDGE_KINDS, KindPairs, tone_pairs
from checkcloth.search.blocks import Hit
from checkcloth.search.result import best_columns
from checkcloth.search.tables import SettingTables
from checkcloth.search.wanted import Constraint, Wanted, measure_parts, measure_words

MOST_CANDIDATES = 48
MOST_WEIGHED = 20_000_000
# Orders of choices looked at at a time: 64 pairs of them take 16 MB.
_ROWS = 1 << 15
Indices = NDArray[np.intp]
Bools = NDArray[np.bool_]


@dataclass(frozen=True, repr=False)
class BandSearch(Tabular):
    """The answer of a search in given bands.

    Attributes
    ----------
    wanted : Wanted
    check : Check
    total : int
        Colourways there are: choices of colours in every distinct order.
    met : int
        How many meet every condition.
    found : tuple of Hit
        The best, best first; ``members`` are candidates stripe by stripe.
    """

    wanted: Wanted
    check: Check
    total: int
    met: int
    found: tuple[Hit, ...]
    settled: int = 0

    @property
    def stopped(self) -> bool:
        """Whether it was stopped before all were weighed; the best are those of what was."""
        return self.settled < self.total

    @property
    def best(self) -> tuple[Colourway, ...]:
        """The best; ties in the order of settings and of the palette."""
        return tuple(hit.colourway(self.wanted) for hit in self.found)

    @property
    def values(self) -> tuple[float, ...]:
        """The measure of each of ``best``."""
        return tuple(hit.value for hit in self.found)

    @property
    def columns(self) -> dict[str, Any]:
        """Values by column, a row for each of ``best``, best first."""
        return best_columns(self.best, self.values, self.wanted.measure)

    def chosen(self) -> tuple[Chosen, ...]:
        """Return the best with how they came about, ready for a ``ChosenSet``."""
        return tuple(
            Chosen(colourway, origin={"from": "search", "palette": self.wanted.palette.name,
                                      "measure": self.wanted.measure, "place": place})
            for place, colourway in enumerate(self.best, 1)
        )  # fmt: skip

    def __str__(self) -> str:
        noun = "colourway" if self.total == 1 else "colourways"
        text = f"{self.total:,} {noun} in given bands, {self.met:,} meet every condition"
        if self.stopped:
            text = f"stopped after {self.settled:,} of {text}"
        if self.found:
            text += f"; best {measure_words(self.wanted.measure)} {self.found[0].value:.1f}"
        return text

    def __repr__(self) -> str:
        return f"<{self}>"

    def _repr_html_(self) -> str:
        return f"<div {AS_TYPED}><p>{escape(str(self))}</p></div>"


def search_in_bands(
    wanted: Wanted, check: Check, k: int = 100, *, progress: bool | Progress = False
) -> BandSearch:
    """Search every colourway that a palette holds, in every order, for the best in given bands.

    Parameters
    ----------
    wanted : Wanted
        The brief.
    check : Check
        With as many stripes as the brief; all of them laid, and none of the weft's own.
        Stripes that the bands make interchangeable are counted once.
    k : int
        How many of the best to bring back, 1 to 10,000.
    progress : bool or callable
        A progress bar with an estimate, or ``progress(done, total)`` in colourways.

    Returns
    -------
    BandSearch
        Exact: every distinct order of every choice is weighed. After Ctrl-C or an interrupt
        of the kernel it is the best of what was weighed, and ``stopped`` says so.

    Raises
    ------
    ArgumentError
        For a check that does not fit, more than 48 stripe colours, or more than 20 million
        colourways.

    Examples
    --------
    >>> from checkcloth import Palette
    >>> wanted = Wanted(Palette("coast", ["white", "navy", "teal", "gold"]), 2, grounds=["white"])
    >>> print(search_in_bands(wanted, Check("1 cm", 2, warp="graduated")))
    6 colourways in given bands, 6 meet every condition; best least edge ΔE00 11.1
    """
    require_type(wanted, "wanted", Wanted)
    bands = _fitting_bands(wanted, check)
    most = as_whole(k, "k", 1, 10_000)
    each = count_orders(wanted.stripes, *bands)
    total = wanted.count * each
    if total > MOST_WEIGHED:
        allowed = f"such that at most {MOST_WEIGHED:,} colourways are weighed in every order"
        raise ArgumentError("palette", allowed, words=f"{total:,}")
    orders = np.array([*orders_in(wanted.stripes, *bands)], dtype=np.intp)
    # How many met, how many were weighed, the best: set at once, whenever an interrupt comes.
    tally = 0, 0, list[Hit]()
    with progress_of(progress, total, "colourways", "search in bands") as step:
        try:
            for number in range(wanted.setting_count):
                setting = _InBands(wanted, number, bands)
                for rows in setting.rows(orders):
                    values, good = setting.weigh(rows)
                    found = [
                        Hit(value, number, tuple(row))
                        for value, row in _greatest(values[good], rows[good], most)
                    ]
                    met, settled, hits = tally
                    best = sorted([*hits, *found], key=lambda hit: -hit.value)[:most]
                    tally = met + int(good.sum()), settled + len(rows), best
                    step(len(rows))
        except KeyboardInterrupt:
            if not tally[1]:
                raise
    met, settled, hits = tally
    return BandSearch(wanted, check, total, met, tuple(hits), settled)


def _fitting_bands(wanted: Wanted, check: Check) -> tuple[Bands, Bands]:
    require_type(check, "check", Check)
    number = wanted.stripes
    if (check.stripes, check.weft_stripes) != (number, number):
        words = f"{check.stripes} × {check.weft_stripes}"
        raise ArgumentError("check", f"one of {number} × {number} stripes", words=words)
    if len(laid_stripes(check.warp_bands, check.weft_bands)) < number:
        raise ArgumentError("check", "one whose bands show every stripe", words=check.warp_order)
    size = len(wanted.candidates)
    if size > MOST_CANDIDATES:
        raise ArgumentError("palette", f"at most {MOST_CANDIDATES} stripe colours", size)
    return check.counted_bands


def _greatest(values: Floats, rows: Indices, most: int) -> list[tuple[float, list[int]]]:
    """The greatest values with their rows, greatest first; ties stay in their order."""
    order = np.argsort(-values, kind="stable")[:most]
    return list(zip(values[order].tolist(), rows[order].tolist(), strict=True))


class _InBands:
    """One setting: the tables of its tones, and which of them touch."""

    def __init__(self, wanted: Wanted, number: int, bands: tuple[Bands, Bands]) -> None:
        self.wanted = wanted
        self.setting = wanted.setting(number)
        self.tables = SettingTables(wanted, self.setting)
        self.pairs = tone_pairs(*bands, symmetry_of(self.tables.tones))
        self._tables: dict[tuple[str, str], Floats] = {}

    def rows(self, orders: Indices) -> Iterator[Indices]:
        """Yield candidates stripe by stripe, (R, N): every choice in every distinct order."""
        setting = self.setting
        if setting.count == 0:
            return
        choices = combinations(setting.free, setting.choose)
        at_once = max(1, _ROWS // len(orders))
        for _ in range(-(-comb(len(setting.free), setting.choose) // at_once)):
            part = [sorted((*setting.must, *choice)) for choice in islice(choices, at_once)]
            yield np.array(part, dtype=np.intp)[:, orders].reshape(-1, orders.shape[1])

    def weigh(self, rows: Indices) -> tuple[Floats, Bools]:
        """Return the measure of each row, and whether it meets every condition."""
        good = np.ones(len(rows), dtype=bool)
        for constraint in self.wanted.constraints:
            good &= self._meets(rows, constraint)
        kind, by = measure_parts(self.wanted.measure)
        values = [self._least(rows, kind, by, vision) for vision in self.wanted.measure_visions]
        return np.asarray(np.minimum.reduce(values)), good

    def _tones(self, rows: Indices, positions: Indices) -> Indices:
        """Flat indices among all tones of the candidates of flat positions in the check."""
        side = len(self.wanted.candidates) + 1
        number = rows.shape[1] + 1
        part = np.concatenate([np.zeros((len(rows), 1), dtype=np.intp), rows + 1], axis=1)
        warp, weft = np.divmod(positions, number)
        return np.asarray(part[:, warp] * side + part[:, weft])

    def _apart(self, by: str, vision: str) -> Floats:
        """How far every tone of the candidates is from every other."""
        key = by, vision
        if key not in self._tables:
            seen = self.tables.seen(vision)
            count = seen.lab.shape[0] ** 2
            flat = type(seen)(seen.lab.reshape(-1, 3), seen.luminance.ravel())
            self._tables[key] = np.array(
                [flat.apart(by, (slice(tone, tone + 1),), (slice(None),)) for tone in range(count)]
            )
        return self._tables[key]

    def _of_kind(self, kind: str) -> Indices:
        """Positions of the pairs of a kind; of an edge those that touch, whatever their kind."""
        if kind != "least_edge":
            return self.pairs[kind].indices
        parts: list[KindPairs] = list(self.pairs.values())
        return np.concatenate([part.indices[part.touching] for part in parts])

    def _least(self, rows: Indices, kind: str, by: str, vision: str) -> Floats:
        pairs = self._of_kind(kind)
        if not len(pairs):
            return np.full(len(rows), np.inf)
        one, two = (self._tones(rows, pairs[:, end]) for end in (0, 1))
        return np.asarray(self._apart(by, vision)[one, two].min(axis=1))

    def _meets(self, rows: Indices, constraint: Constraint) -> Bools:
        if constraint.kind != "lightness":
            found = self._least(rows, constraint.kind, constraint.by, constraint.vision)
            return np.asarray(found >= constraint.at_least)
        light = self.tables.seen(constraint.vision).lab[..., 0].ravel()
        pairs = np.concatenate([self.pairs[kind].indices for kind in EDGE_KINDS])
        steps = light[self._tones(rows, pairs[:, 1])] - light[self._tones(rows, pairs[:, 0])]
        return np.asarray((steps > 0).all(axis=1) | (steps < 0).all(axis=1))
