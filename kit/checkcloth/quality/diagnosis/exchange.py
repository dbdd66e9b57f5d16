"""Readings under one another's names: which exchange makes them fit, as an assignment problem.

Looked for are two tones, two stripes in every tone that has them, warp and weft of every
crossing, and any other assignment that the least total cost asks for (Kuhn, *Naval Research
Logistics Quarterly* 2:83–97, 1955; by shortest augmenting paths; both cited from memory).
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations
from math import comb, lgamma, log

import numpy as np
from numpy.typing import NDArray

from checkcloth.arguments import Floats
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.tones import canonical_tone
from checkcloth.quality.diagnosis.fit import basis

Order = NDArray[np.intp]
# The criterion of an order, given the logarithm of the choices that it was taken from.
_Cost = Callable[[Order, float], float]

# The whole assignment is solved for so many tones at most: its work grows with the cube.
_MOST_ASSIGNED = 200


@dataclass(frozen=True, eq=False)
class Exchange:
    """Readings that stand under other names."""

    kind: str  # "tones", "stripes" or "warp and weft"
    order: Order  # (T,), under which name the reading of each tone is found
    says: str  # for people, as if what had happened
    log_choices: float  # logarithm of the number of exchanges that it was chosen from

    @property
    def moved(self) -> list[int]:
        """Indices of the tones whose readings stand elsewhere."""
        return np.flatnonzero(self.order != np.arange(len(self.order))).tolist()


class Exchanges:
    """The exchanges that the measured tones of a colourway allow."""

    def __init__(self, colourway: Colourway, tones: Sequence[tuple[int, int]]) -> None:
        self._tones = list(tones)
        self._labels = [colourway.tone_label(*tone) for tone in tones]
        self._whole = list(self._of_the_whole(colourway))

    def _of_the_whole(self, colourway: Colourway) -> Iterator[Exchange]:
        if colourway.weft_stripes:
            return  # warp and weft are not alike, so their stripes have no counterparts
        rows = {tone: row for row, tone in enumerate(self._tones)}
        symmetry, count = colourway.symmetry, len(colourway.stripes)

        def order(moved: list[tuple[int, int]]) -> Order | None:
            places = [rows.get(canonical_tone(*tone, symmetry), -1) for tone in moved]
            order = np.array(places, dtype=np.intp)
            fits = (order >= 0).all() and (order != np.arange(len(order))).any()
            return order if fits else None

        turned = order([(weft, warp) for warp, weft in self._tones])
        if turned is not None:
            says = "warp and weft of every tone had been exchanged, in the cloth or in the names"
            yield Exchange("warp and weft", turned, says, 0.0)
        stripes = colourway.stripes
        for one, two in combinations(range(1, count + 1), 2):
            swap = {one: two, two: one}
            found = order([(swap.get(w, w), swap.get(f, f)) for w, f in self._tones])
            if found is not None:
                says = (
                    f"stripe {one}, {stripes[one - 1].name}, and stripe {two}, "
                    f"{stripes[two - 1].name}, had been exchanged, in the cloth or in the names"
                )
                yield Exchange("stripes", found, says, log(comb(count, 2)))

    def best(self, errors: Floats, columns: Floats, noise: float) -> Exchange | None:
        """Return the exchange that leaves least, if it leaves less than none does.

        ``errors`` (T, T, 3): row i, column j is what would be left of tone i, in CMC units, if its
        reading were the one under the name of tone j. ``columns`` (3T, p): how errors answer to the
        numbers that are fitted beside. ``noise`` is the variance that is not worth explaining.
        """
        count = len(errors)
        if count < 2:
            return None
        span = basis(columns) if columns.size else np.zeros((3 * count, 0))
        here = np.arange(count)

        def cost(order: Order, log_choices: float) -> float:
            residual = errors[here, order].ravel()
            left = float(residual @ residual - ((span.T @ residual) ** 2).sum())
            return float(3 * count * np.log(max(left, 0) / (3 * count) + noise) + 2 * log_choices)

        candidates = [*self._whole, self._two_tones(errors, span)]
        if count <= _MOST_ASSIGNED and (several := self._several(errors, cost)):
            candidates.append(several)
        found = min(candidates, key=lambda it: cost(it.order, it.log_choices))
        return found if cost(found.order, found.log_choices) < cost(here, 0.0) else None

    def _two_tones(self, errors: Floats, span: Floats) -> Exchange:
        """The best pair to exchange: every pair is weighed at once, with what is fitted beside."""
        count = len(errors)
        own = errors[np.arange(count), np.arange(count)]
        squares = (errors**2).sum(axis=-1) - (own**2).sum(axis=-1)[:, None]
        # What a tone's change adds along the columns that are fitted beside.
        along = np.einsum("ijc,icq->ijq", errors - own[:, None], span.reshape(count, 3, -1))
        both = along + along.swapaxes(0, 1) + span.T @ own.ravel()
        left = squares + squares.T - (both**2).sum(axis=-1)
        left[np.tril_indices(count)] = np.inf
        one, two = np.unravel_index(int(left.argmin()), left.shape)
        order = np.arange(count)
        order[[one, two]] = two, one
        return self._of_tones(order)

    def _of_tones(self, order: Order) -> Exchange:
        count = len(order)
        moved = np.flatnonzero(order != np.arange(count))
        if len(moved) == 2:
            one, two = (self._labels[row] for row in moved)
            says = f"the readings of {one!r} and {two!r} had been exchanged"
            return Exchange("tones", order, says, log(comb(count, 2)))
        listed = ", ".join(f"{self._labels[row]!r} under {self._labels[order[row]]!r}"
                           for row in moved[:6])  # fmt: skip
        more = " …" if len(moved) > 6 else ""
        says = f"readings stood under one another's names: {listed}{more}"
        choices = lgamma(count + 1) - lgamma(count - len(moved) + 1)
        return Exchange("tones", order, says, choices)

    def _several(self, errors: Floats, cost: _Cost) -> Exchange | None:
        """The cycles of the least-cost assignment that are each worth their price."""
        costs = (errors**2).sum(axis=-1)
        order = assign(costs)
        here = np.arange(len(order))
        cycles = _cycles(order)
        gains = [float((costs[c, c] - costs[c, order[c]]).sum()) for c in cycles]
        taken: Exchange | None = None
        price = cost(here, 0.0)
        so_far = here.copy()
        for _, cycle in sorted(zip(gains, cycles, strict=True), key=lambda it: -it[0]):
            trial = so_far.copy()
            trial[cycle] = order[cycle]
            exchange = self._of_tones(trial)
            asked = cost(trial, exchange.log_choices)
            if asked >= price:
                break
            taken, price, so_far = exchange, asked, trial
        return taken


def _cycles(order: Order) -> list[list[int]]:
    seen: set[int] = set()
    out = []
    for first in range(len(order)):
        cycle, row = [], first
        while row not in seen:
            seen.add(row)
            cycle.append(row)
            row = int(order[row])
        if len(cycle) > 1:
            out.append(cycle)
    return out


def assign(costs: Floats) -> Order:
    """Return the column of each row that makes the sum of a square of costs the least.

    >>> assign(np.array([[4.0, 1, 3], [2, 0, 5], [3, 2, 2]])).tolist()
    [1, 0, 2]
    """
    size = len(costs)
    # Row and column prices; row of each column, the last column a place to start from.
    rows, columns = np.zeros(size), np.zeros(size + 1)
    row_of = np.full(size + 1, -1, dtype=np.intp)
    for row in range(size):
        row_of[size], column = row, size
        least = np.full(size, np.inf)
        back = np.full(size, size, dtype=np.intp)
        used = np.zeros(size + 1, dtype=bool)
        while row_of[column] >= 0:
            used[column] = True
            free = ~used[:size]
            reach = costs[row_of[column]] - rows[row_of[column]] - columns[:size]
            closer = free & (reach < least)
            least[closer], back[closer] = reach[closer], column
            following = int(np.where(free, least, np.inf).argmin())
            step = least[following]
            rows[row_of[used]] += step
            columns[used] -= step
            least[free] -= step
            column = following
        while column != size:  # give each column on the path the row of the one before
            row_of[column] = row_of[back[column]]
            column = int(back[column])
    out = np.empty(size, dtype=np.intp)
    out[row_of[:size]] = np.arange(size)
    return out
