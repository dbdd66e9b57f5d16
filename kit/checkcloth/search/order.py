"""The order of stripes that reads best, out of all distinct orders: exact.

In a repeat that tiles, stripes stand in a ring, and a ring turned or reversed is the same
cloth: (N−1)!/2 orders (OEIS A001710). The best is found by the dynamic programme of Held
and Karp over sets of stripes, which weighs all of them without writing each one out.
"""

from __future__ import annotations

import numpy as np

from checkcloth.arguments import Floats
from checkcloth.cloth.colourway import Colourway
from checkcloth.colour.ciede2000 import delta_e_2000
from checkcloth.colour.spaces import srgb_to_lab
from checkcloth.errors import ArgumentError
from checkcloth.search.setting import one_of

__all__ = ["ORDERS", "best_order", "ring_scores"]

ORDERS = ("unlike", "flowing")
# 2¹⁴ sets of stripes × 15 last ones: a quarter of a second and 10 MB. Each stripe more doubles it.
_MOST = 15


def _neighbours(colourway: Colourway) -> Floats:
    """CIEDE2000 between stripes as they look over the ground, (N, N)."""
    tones = colourway.tones
    warp, weft = srgb_to_lab(tones[1:, 0]), srgb_to_lab(tones[0, 1:])
    apart = delta_e_2000(warp[:, None], warp[None, :])
    return np.minimum(apart, delta_e_2000(weft[:, None], weft[None, :]))


def ring_scores(colourway: Colourway) -> tuple[float, float, float]:
    """Return least, mean and greatest CIEDE2000 between neighbours, round the repeat.

    Parameters
    ----------
    colourway : Colourway
        Its stripes are compared as they look over the ground.

    Examples
    --------
    >>> ring_scores(Colourway("white", ["navy", "navy", "white"]))[0]
    0.0
    """
    apart = _neighbours(colourway)
    ring = apart[np.arange(len(apart)), np.roll(np.arange(len(apart)), -1)]
    return float(ring.min()), float(ring.mean()), float(ring.max())


def _through_all(step: Floats, joined: np.ufunc) -> tuple[float, list[int]]:
    """Least total (``np.add``) or least greatest (``np.maximum``) step round a ring of all.

    Returns the total and the places, from 0 on. Ties go to the lower place.
    """
    count = len(step)
    sets = 1 << (count - 1)  # of the places 1 … count-1; place 0 starts and ends the ring
    best = np.full((sets, count - 1), np.inf)
    for last in range(count - 1):
        best[1 << last, last] = step[0, last + 1]
    numbers = np.arange(sets)
    sizes = np.bitwise_count(numbers)
    for size in range(2, count):
        members = numbers[sizes == size]
        for last in range(count - 1):
            holds = members[members & (1 << last) != 0]
            ways = joined(best[holds ^ (1 << last)], step[1:, last + 1][None, :])
            best[holds, last] = ways.min(axis=1)
    whole = sets - 1
    closing = joined(best[whole], step[1:, 0])
    last = int(closing.argmin())
    total, order, left = float(closing[last]), [last], whole
    while left != 1 << last:
        left ^= 1 << last
        last = int(joined(best[left], step[1:, last + 1]).argmin())
        order.append(last)
    return total, [0, *(place + 1 for place in reversed(order))]


def best_order(colourway: Colourway, reads: str = "unlike") -> Colourway:
    """Return the colourway with its stripes in the order that reads best.

    Parameters
    ----------
    colourway : Colourway
        Of up to 15 stripes.
    reads : str
        ``"unlike"``: the two most alike neighbours are as unlike as any order allows, and
        among those orders the neighbours are most unlike in sum. ``"flowing"``: the
        greatest step between neighbours is as small as can be, then their sum. Steps are
        CIEDE2000 between the stripes as they look over the ground, round the repeat.

    Returns
    -------
    Colourway
        The first stripe stays first; of a ring and its mirror, always the same one.

    Raises
    ------
    ArgumentError
        For other words, or more than 15 stripes.

    Examples
    --------
    >>> greys = Colourway("white", ["#000", "#222", "#888", "#aaa"])
    >>> [stripe.name for stripe in best_order(greys, "unlike").stripes]
    ['#000', '#888', '#222', '#aaa']
    """
    one_of(reads, ORDERS, "reads")
    stripes = colourway.stripes
    if len(stripes) > _MOST:
        raise ArgumentError("colourway", f"at most {_MOST} stripes to be ordered", len(stripes))
    if len(stripes) < 4:  # one distinct order
        return colourway
    sign = -1.0 if reads == "unlike" else 1.0
    step = sign * _neighbours(colourway)
    worst, _ = _through_all(step, np.maximum)
    # Steps worse than the best ring needs are out; the sum decides among what is left.
    allowed = np.where(step <= worst, step, np.inf)
    _, order = _through_all(allowed, np.add)
    if order[1] > order[-1]:
        order = [0, *order[:0:-1]]
    return colourway.with_(stripes=[stripes[place] for place in order])
