"""What each pair of stripe colours brings to a check, worked out once for a setting.

Every tone of a check is made of the ground and at most two stripes, so every score that
is a least over pairs of tones is a least over pairs of *colours*: tables of C² numbers
answer for every choice of N colours out of C. They are worked with the very functions
that :func:`score_tones` uses, on the same tones, so the numbers are the same numbers (but for
palettes of mixed kinds: the notes of :class:`Wanted`).

Crossings among themselves are the one exception. Two crossings are made of two, three or
four stripes, and a check holds them all inside its sets of four: a table over four colours
(fewer where there are fewer stripes) answers exactly. It costs C⁴ bytes, which is why
palettes are held to 48 stripe colours where that is asked for.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property, lru_cache
from itertools import combinations
from typing import Any

import numpy as np
from numpy.typing import NDArray

from checkcloth.arguments import Floats
from checkcloth.cloth.tones import tones_among
from checkcloth.colour.difference import ratio_of_luminances, relative_luminance
from checkcloth.colour.spaces import srgb_to_lab
from checkcloth.colour.vision import see_as
from checkcloth.scoring.cloth_scores import LEAST_STEP
from checkcloth.scoring.harmony import two_colour_harmony
from checkcloth.scoring.measures import find_measure
from checkcloth.search.wanted import Constraint, Setting, Term, Wanted

# More stripe colours than these, and the tables of one setting alone are kept.
_MANY = 256
Bools = NDArray[np.bool_]
_Index = Any  # a tuple that picks tones: numbers, slices and None


@dataclass(frozen=True)
class Seen:
    """Tones (C+1, C+1) of a check of *all* candidate colours, as one colour vision sees them."""

    lab: Floats
    luminance: Floats

    def apart(self, by: str, first: _Index, second: _Index) -> Floats:
        """How far tones picked by one index are from those picked by another."""
        if by == "ratio":
            return ratio_of_luminances(self.luminance[first], self.luminance[second])
        compare = two_colour_harmony if by == "harmony" else find_measure(by).compare_lab
        return compare(self.lab[first], self.lab[second])


def _least_pairs(unary: Floats, pair: Floats) -> Floats:
    """Table [i, j] of the least that colours i and j bring together; the diagonal alone."""
    table = np.minimum(np.minimum(pair, pair.T), np.minimum(unary[:, None], unary[None, :]))
    np.fill_diagonal(table, unary)
    return table


class SettingTables:
    """Tables of one setting over all C candidates.

    Each is symmetric, shape (C, C): [i, j] is what a check of stripes i and j alone
    would score, [i, i] a check of stripe i alone. A check of more stripes scores the
    least entry over its pairs (for one stripe the diagonal).

    >>> from checkcloth import Palette
    >>> wanted = Wanted(Palette("coast", ["white", "navy", "teal"]), 2, grounds=["white"])
    >>> tables_of(wanted, 0).least("ground_single", "dl", "normal").round(1).tolist()
    [[0.0, 0.0, 0.0], [0.0, 44.3, 26.6], [0.0, 26.6, 26.6]]
    """

    def __init__(self, wanted: Wanted, setting: Setting) -> None:
        self.wanted = wanted
        self.setting = setting
        self._known: dict[tuple[str, str, str], Floats] = {}
        self._seen: dict[str, Seen] = {}

    @cached_property
    def tones(self) -> Floats:
        """Tones (C+1, C+1, 3) of a check that has every candidate as a stripe."""
        return tones_among(
            self.setting.ground,
            self.wanted.candidates,
            self.setting.strength,
            self.setting.mixing,
            warp_share=self.wanted.warp_share,
            yule_nielsen=self.wanted.yule_nielsen,
            stock=self.wanted.stock,
        )

    def seen(self, vision: str) -> Seen:
        """The tones as that vision sees them."""
        if vision not in self._seen:
            seen = see_as(self.tones, vision, self.wanted.severity)
            self._seen[vision] = Seen(srgb_to_lab(seen), relative_luminance(seen))
        return self._seen[vision]

    def least(self, kind: str, by: str, vision: str) -> Floats:
        """Return the table of the least difference over pairs of tones of that kind."""
        key = (kind, by, vision)
        if key not in self._known:
            self._known[key] = self._work(kind, by, vision)
        return self._known[key]

    def _work(self, kind: str, by: str, vision: str) -> Floats:
        if kind == "least_edge":
            single = self.least("ground_single", by, vision)
            return np.minimum(single, self.least("single_crossing", by, vision))
        seen = self.seen(vision)
        count = len(seen.lab) - 1
        all_, ground = slice(1, None), 0
        if kind == "ground_single":
            base = (ground, ground)
            warp, weft = (seen.apart(by, base, tone) for tone in ((all_, ground), (ground, all_)))
            return _least_pairs(np.minimum(warp, weft), np.full((count, count), np.inf))
        if kind == "single_crossing":
            # crossing (i, j) touches warp single i on one side, weft single j on the other
            cross = (all_, all_)
            warp = seen.apart(by, (all_, slice(0, 1)), cross)
            weft = seen.apart(by, (slice(0, 1), all_), cross)
            pair = np.minimum(warp, weft)
            return _least_pairs(pair.diagonal().copy(), pair)
        # single_single: on the warp side and on the weft side; one stripe has no pair
        warp = seen.apart(by, (all_, None, ground), (None, all_, ground))
        weft = seen.apart(by, (ground, all_, None), (ground, None, all_))
        return _least_pairs(np.full(count, np.inf), np.minimum(warp, weft))

    def runs(self, vision: str) -> Bools:
        """Where lightness runs one way from ground over single to crossing.

        Within a pair all steps must go the same way. A stripe's own step from the ground
        has one sign, so pairs that each run one way run the same way wherever they share
        a stripe: the pairwise table says all.
        """
        light = self.seen(vision).lab[..., 0]
        warp, weft, cross = light[1:, 0], light[0, 1:], light[1:, 1:]
        out = np.zeros(cross.shape, dtype=bool)
        for sign in (1, -1):
            unary = sign * (warp - light[0, 0]) > LEAST_STEP
            unary &= sign * (weft - light[0, 0]) > LEAST_STEP
            steps = sign * (cross - warp[:, None]) > LEAST_STEP
            steps &= sign * (cross - weft[None, :]) > LEAST_STEP
            unary &= steps.diagonal()
            out |= steps & steps.T & unary[:, None] & unary[None, :]
        return out

    def meets(self, constraint: Constraint) -> Bools:
        """Table of the pairs that meet a condition; not for crossings among themselves."""
        if constraint.kind == "lightness":
            return self.runs(constraint.vision)
        return self.least(constraint.kind, constraint.by, constraint.vision) >= constraint.at_least

    def alike(self, constraint: Constraint) -> Bools:
        """Which sets of up to four colours hold two crossings nearer than they may be."""
        apart = least_crossings(self.seen(constraint.vision), constraint.by)
        return crossings_alike(apart, constraint.at_least, self.wanted.stripes)

    @cached_property
    def measure(self) -> Floats:
        """The table of the measure that the search ranks by."""
        return self.ranked_by(self.wanted.goal)

    def ranked_by(self, goal: tuple[Term, ...]) -> Floats:
        """Return the table of the least over the terms of a goal."""
        parts = [self.least(term.kind, term.by, term.vision) / term.over for term in goal]
        return np.asarray(np.minimum.reduce(parts))


def tables_of(wanted: Wanted, number: int) -> SettingTables:
    """Return the tables of a setting by its number; blocks of one setting find them ready."""
    # Of 1,000 colours those of one setting take 150 MB.
    kept = _some_tables if len(wanted.candidates) <= _MANY else _one_table
    return kept(wanted, number)


def _made(wanted: Wanted, number: int) -> SettingTables:
    return SettingTables(wanted, wanted.setting(number))


_some_tables, _one_table = lru_cache(maxsize=4)(_made), lru_cache(maxsize=1)(_made)


def least_crossings(seen: Seen, by: str) -> Floats:
    """Return how far crossings are apart, by the colours they are made of, either way round.

    In the table (C, C, C, C), [i, j, k, m] is the least between a crossing of stripes i and j
    and one of k and m; infinite where both are of the same two stripes: those are not
    compared, as in :func:`tone_pairs`.
    """
    count = len(seen.lab) - 1
    flat = np.arange((count + 1) ** 2).reshape(count + 1, count + 1)[1:, 1:].ravel()
    flat_seen = Seen(seen.lab.reshape(-1, 3), seen.luminance.ravel())
    out = np.empty((count * count, count * count))
    for row, tone in enumerate(flat):
        # the measures are symmetric: work one triangle, copy the other
        out[row, row:] = flat_seen.apart(by, (tone,), (flat[row:],))
        out[row:, row] = out[row, row:]
    apart = out.reshape(count, count, count, count)
    np.minimum(apart, apart.transpose(1, 0, 2, 3), out=apart)
    apart = np.minimum(apart, apart.transpose(0, 1, 3, 2))
    i, j = np.indices((count, count))
    apart[i, j, i, j] = np.inf
    apart[i, j, j, i] = np.inf
    return apart


def crossings_alike(apart: Floats, at_least: float, stripes: int) -> Bools:
    """Return which sets of colours hold two crossings nearer than ``at_least``.

    ``apart`` is a table of :func:`least_crossings`. Sets are of ``min(stripes, 4)`` colours,
    one axis each; the table is symmetric, and False where an index comes twice.
    """
    near = apart < at_least
    count = len(near)
    i = np.arange(count)
    same = near[i, i]  # [a, k, m]: a over a against k and m
    within = near[i[:, None], i[:, None], i[:, None], i[None, :]]  # a over a, a and b
    within = within | within.T | same[:, i, i]
    within |= within.T
    np.fill_diagonal(within, False)
    if stripes < 2:
        return np.zeros(count, dtype=bool)
    if stripes == 2:
        return within
    shared = near[i[:, None, None], i[None, :, None], i[:, None, None], i[None, None, :]]
    near_a = shared | same  # [a, b, c]: ab against ac; aa against bc
    triple = near_a | near_a.transpose(1, 0, 2) | near_a.transpose(2, 1, 0)
    triple |= triple.transpose(0, 2, 1)
    triple |= within[:, :, None] | within[:, None, :] | within[None, :, :]
    _clear_repeats(triple)
    if stripes == 3:
        return triple
    quad = near | near.transpose(0, 2, 1, 3) | near.transpose(0, 3, 2, 1)
    quad |= triple[:, :, :, None]
    quad |= triple[:, :, None, :]
    quad |= triple[:, None, :, :]
    quad |= triple[None, :, :, :]
    _clear_repeats(quad)
    return quad


def _clear_repeats(table: Bools) -> None:
    """Set to False wherever two indices are equal."""
    same = np.eye(len(table), dtype=bool)
    for axes in combinations(range(table.ndim), 2):
        shape = [1] * table.ndim
        for axis in axes:
            shape[axis] = len(table)
        table &= ~same.reshape(shape)
