"""Which orders of the colours give the same cloth, and which stripes are neighbours, by the bands.

A cloth shifted along itself or seen from the other side is the same cloth. Where such a
movement lays bands on bands of the same width, it exchanges stripes; orders that differ by
such an exchange count as one. In an even check these are the shifts and the reversal.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache
from itertools import permutations
from math import factorial
from typing import TypeVar

from checkcloth.cloth.bands import Bands, joined
from checkcloth.cloth.check import Check

_Item = TypeVar("_Item")
# Where each stripe goes: stripe number -> stripe number, of the stripes that are laid.
Exchange = dict[int, int]


def _exchanges(bands: Bands) -> list[Exchange]:
    """Every exchange of stripes that a shift or a reversal of one way of the cloth makes."""
    ring = joined(bands)
    found: dict[tuple[tuple[int, int], ...], Exchange] = {}
    for turned in (ring, ring[::-1]):
        for shift in range(len(ring)):
            moved = turned[shift:] + turned[:shift]
            exchange: Exchange = {}
            for here, there in zip(ring, moved, strict=True):
                known = exchange.setdefault(here.stripe, there.stripe)
                if here.checks != there.checks or known != there.stripe:
                    break
            else:
                if exchange.get(0, 0) == 0 and len({*exchange.values()}) == len(exchange):
                    exchange.pop(0, None)
                    if 0 not in exchange.values():
                        found[tuple(sorted(exchange.items()))] = exchange
    return [*found.values()]


@lru_cache(maxsize=64)
def symmetries(
    warp_bands: Bands, weft_bands: Bands | None, stripes: int
) -> tuple[tuple[int, ...], ...]:
    """Return every exchange of stripes that leaves the cloth as it is.

    Each as a tuple: at index i, from 0, the stripe (counted from 0) that comes where stripe
    i was. Stripes that are not laid stay where they are. ``weft_bands`` is None where the weft has
    colours of its own, which do not move with the warp's.
    """
    warp = _exchanges(warp_bands)
    if weft_bands is None or joined(weft_bands) == joined(warp_bands):
        both = warp
    else:
        weft = _exchanges(weft_bands)
        both = [
            merged
            for one in warp
            for two in weft
            if all(two.get(stripe, to) == to for stripe, to in one.items())
            and len({*(merged := one | two).values()}) == len(merged)
        ]
    numbers = range(1, stripes + 1)
    return tuple(
        sorted({tuple(exchange.get(number, number) - 1 for number in numbers) for exchange in both})
    )


def laid_stripes(warp_bands: Bands, weft_bands: Bands | None) -> frozenset[int]:
    """Return the numbers of the stripes that the cloth shows."""
    ways = (warp_bands, weft_bands or ())
    return frozenset(band.stripe for bands in ways for band in bands if band.stripe)


def ways_of(check: Check, *, own_weft: bool = False) -> tuple[Bands, Bands | None]:
    """Return the bands that an order of the warp's colours runs over."""
    own = own_weft or check.weft_stripes != check.stripes
    return check.warp_bands, None if own else check.weft_bands


def least_order(
    row: Sequence[_Item], warp_bands: Bands, weft_bands: Bands | None
) -> tuple[_Item, ...]:
    """Return the least of all orders of a row that give the same cloth."""
    moves = symmetries(warp_bands, weft_bands, len(row))
    laid = laid_stripes(warp_bands, weft_bands)
    loose = [index for index in range(len(row)) if index + 1 not in laid]
    unseen = sorted(row[index] for index in loose)  # type: ignore[type-var]

    def moved(move: tuple[int, ...]) -> tuple[_Item, ...]:
        out = [row[index] for index in move]
        for index, item in zip(loose, unseen, strict=True):
            out[index] = item
        return tuple(out)

    return min(map(moved, moves))


def count_orders(stripes: int, warp_bands: Bands, weft_bands: Bands | None) -> int:
    """Return how many distinct orders so many different colours have in these bands."""
    unseen = stripes - len(laid_stripes(warp_bands, weft_bands))
    moves = len(symmetries(warp_bands, weft_bands, stripes))
    return factorial(stripes) // (moves * factorial(unseen))


def orders_in(
    stripes: int, warp_bands: Bands, weft_bands: Bands | None
) -> Iterator[tuple[int, ...]]:
    """Yield each distinct order once, as tuples of indices, the least of those alike."""
    for order in permutations(range(stripes)):
        if order == least_order(order, warp_bands, weft_bands):
            yield order


def neighbours(warp_bands: Bands, weft_bands: Bands | None) -> list[tuple[int, int]]:
    """Return the pairs of stripes, from 0, that follow one another, the ground left out."""
    found = set()
    for bands in (warp_bands, weft_bands or ()):
        row = [band.stripe - 1 for band in joined(bands) if band.stripe]
        found |= {
            (min(a, b), max(a, b)) for a, b in zip(row, row[1:] + row[:1], strict=True) if a != b
        }
    return sorted(found)


def ring_of(pairs: Sequence[tuple[int, int]], stripes: int) -> list[int] | None:
    """Return the stripes along the ring that their neighbours make, from stripe 0, or None."""
    beside: dict[int, list[int]] = {}
    for a, b in pairs:
        beside.setdefault(a, []).append(b)
        beside.setdefault(b, []).append(a)
    if len(beside) != stripes or any(len(others) != 2 for others in beside.values()):
        return None
    ring, last = [0, min(beside[0])], 0
    while ring[-1] != 0:
        last, at = ring[-1], ring[-2]
        ring.append(next(other for other in beside[last] if other != at))
    return ring[:-1] if len(ring) == stripes + 1 else None
