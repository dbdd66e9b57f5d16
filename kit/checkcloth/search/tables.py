"""What each pair of stripe colours brings to a check, worked out once for a case.

Every tone of a check is made of the ground and at most two stripes, so every score that
is a least over pairs of tones is a least over pairs of *colours*: tables of C² numbers
answer for every choice of N colours out of C. They are worked with the very functions
that :func:`score_tones` uses, on the same tones, so the numbers are the same numbers.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property, lru_cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from checkcloth.arguments import Floats
from checkcloth.cloth.mixing import mix_tones
from checkcloth.colour.ciede2000 import delta_e_2000
from checkcloth.colour.difference import ratio_of_luminances, relative_luminance
from checkcloth.colour.spaces import srgb_to_lab
from checkcloth.colour.vision import see_as
from checkcloth.search.constraint import Need, measure_parts
from checkcloth.search.setting import Case
from checkcloth.search.wanted import Wanted

__all__ = ["Bools", "CaseTables", "Seen", "tables_of"]

Bools = NDArray[np.bool_]
_Index = Any  # a tuple that picks tones: numbers, slices and None


@dataclass(frozen=True)
class Seen:
    """The tones of a check of *all* candidate colours, as one colour vision sees them.

    Attributes
    ----------
    lab : ndarray, shape (C+1, C+1, 3)
    luminance : ndarray, shape (C+1, C+1)

    Examples
    --------
    >>> seen = Seen(np.zeros((2, 2, 3)), np.array([[1.0, 0.0], [0.0, 0.0]]))
    >>> seen.apart("ratio", (0, 0), (1, 1)).item()
    21.0
    """

    lab: Floats
    luminance: Floats

    def apart(self, by: str, one: _Index, two: _Index) -> Floats:
        """How far tones picked by one index are from those picked by another."""
        if by == "ratio":
            return ratio_of_luminances(self.luminance[one], self.luminance[two])
        if by == "dl":
            return np.asarray(np.abs(self.lab[one][..., 0] - self.lab[two][..., 0]))
        return delta_e_2000(self.lab[one], self.lab[two])


def _least_pairs(unary: Floats, pair: Floats) -> Floats:
    """Table [i, j] of the least that colours i and j bring together; the diagonal alone."""
    table = np.minimum(np.minimum(pair, pair.T), np.minimum(unary[:, None], unary[None, :]))
    np.fill_diagonal(table, unary)
    return table


class CaseTables:
    """Tables of one case over all C candidates.

    Each is symmetric, shape (C, C): [i, j] is what a check of stripes i and j alone
    would score, [i, i] a check of stripe i alone. A check of more stripes scores the
    least entry over its pairs (for one stripe the diagonal).

    >>> from checkcloth import Palette
    >>> wanted = Wanted(Palette("coast", ["white", "navy", "teal"]), 2, grounds=["white"])
    >>> tables_of(wanted, 0).least("ground_single", "dl", "normal").round(1).tolist()
    [[0.0, 0.0, 0.0], [0.0, 44.3, 26.6], [0.0, 26.6, 26.6]]
    """

    def __init__(self, wanted: Wanted, case: Case) -> None:
        self.wanted = wanted
        self.case = case
        self._known: dict[tuple[str, str, str], Floats] = {}
        self._seen: dict[str, Seen] = {}

    @cached_property
    def tones(self) -> Floats:
        """Tones (C+1, C+1, 3) of a check that has every candidate as a stripe."""
        return mix_tones(
            self.case.ground.rgb,
            np.array([colour.rgb for colour in self.wanted.candidates]),
            self.case.strength,
            self.case.mixing,
            warp_share=self.wanted.warp_share,
            yule_nielsen=self.wanted.yule_nielsen,
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
            one = self.least("ground_single", by, vision)
            return np.minimum(one, self.least("single_crossing", by, vision))
        seen = self.seen(vision)
        count = len(seen.lab) - 1
        far = np.full((count, count), np.inf)
        all_, ground = slice(1, None), 0
        if kind == "ground_single":
            base = (ground, ground)
            unary = np.minimum(
                seen.apart(by, base, (all_, ground)), seen.apart(by, base, (ground, all_))
            )
            return _least_pairs(unary, far)
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
            unary = (sign * (warp - light[0, 0]) > 0) & (sign * (weft - light[0, 0]) > 0)
            steps = (sign * (cross - warp[:, None]) > 0) & (sign * (cross - weft[None, :]) > 0)
            unary &= steps.diagonal()
            out |= steps & steps.T & unary[:, None] & unary[None, :]
        return out

    def meets(self, need: Need) -> Bools:
        """Table of the pairs that meet a condition; not for crossings among themselves."""
        if need.kind == "lightness":
            return self.runs(need.vision)
        return self.least(need.kind, need.by, need.vision) >= need.at_least

    @cached_property
    def measure(self) -> Floats:
        """The table of the measure that the search ranks by."""
        kind, by = measure_parts(self.wanted.measure)
        tables = [self.least(kind, by, vision) for vision in self.wanted.measure_visions]
        return np.asarray(np.minimum.reduce(tables))


@lru_cache(maxsize=4)
def tables_of(wanted: Wanted, number: int) -> CaseTables:
    """Return the tables of a case by its number; blocks of one case find them ready.

    >>> from checkcloth import Palette
    >>> wanted = Wanted(Palette("coast", ["white", "navy", "teal"]), 2, grounds=["white"])
    >>> tables_of(wanted, 0).tones.shape
    (4, 4, 3)
    """
    return CaseTables(wanted, wanted.case(number))
