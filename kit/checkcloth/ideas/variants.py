"""Many colourways from a palette: distinct stripe orders, draws, grounds, strengths."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import permutations
from math import factorial

import numpy as np

from checkcloth.arguments import as_number, as_tuple, as_whole, require_type
from checkcloth.cloth.check import MOST_STRIPES
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.named_colour import NamedColour
from checkcloth.cloth.palette import Palette
from checkcloth.errors import ArgumentError, shown

__all__ = [
    "draw_colourways",
    "each_ground",
    "each_order",
    "each_strength",
    "order_count",
    "ring",
    "stripe_orders",
]


def order_count(stripes: int) -> int:
    """Return how many distinct orders so many different stripes have.

    Warp and weft in the same order: shifts round the repeat and reversal give the same
    cloth, which leaves (N−1)!/2 for N ≥ 3 (OEIS A001710), and 1 for fewer.

    Parameters
    ----------
    stripes : int
        1 to 24.

    Raises
    ------
    ArgumentError
        For another count.

    Examples
    --------
    >>> [order_count(n) for n in range(1, 9)]
    [1, 1, 1, 3, 12, 60, 360, 2520]
    """
    number = as_whole(stripes, "stripes", 1, MOST_STRIPES)
    return 1 if number < 3 else factorial(number - 1) // 2


def stripe_orders(stripes: int) -> Iterator[tuple[int, ...]]:
    """Yield each distinct order once, as tuples of 0-based places, 0 always first.

    Parameters
    ----------
    stripes : int
        1 to 24; see :func:`order_count` for how many come.

    Raises
    ------
    ArgumentError
        For another count.

    Examples
    --------
    >>> list(stripe_orders(4))
    [(0, 1, 2, 3), (0, 1, 3, 2), (0, 2, 1, 3)]
    """
    number = as_whole(stripes, "stripes", 1, MOST_STRIPES)
    # Shifts: start every ring at 0. Reversal: of a ring and its mirror take the one whose
    # second place is less than its last.
    for rest in permutations(range(1, number)):
        if number < 3 or rest[0] < rest[-1]:
            yield (0, *rest)


def each_order(colourway: Colourway, limit: int = 500) -> list[Colourway]:
    """Return the colourway in every distinct stripe order, the first ``limit`` of them.

    Parameters
    ----------
    colourway : Colourway
    limit : int
        1 to 1,000,000.

    Raises
    ------
    ArgumentError
        For a limit out of range.

    Examples
    --------
    >>> len(each_order(Colourway("white", ["navy", "teal", "gold", "coral"])))
    3
    """
    colourway = require_type(colourway, "colourway", Colourway)
    limit = as_whole(limit, "limit", 1, 1_000_000)
    out: list[Colourway] = []
    for order in stripe_orders(len(colourway.stripes)):
        if len(out) == limit:
            break
        out.append(colourway.with_(stripes=[colourway.stripes[place] for place in order]))
    return out


def each_ground(
    colourway: Colourway, grounds: Palette | Iterable[NamedColour | str]
) -> list[Colourway]:
    """Return the colourway on each ground: those of a palette, or those given.

    Parameters
    ----------
    colourway : Colourway
    grounds : Palette or iterable of NamedColour or CSS Color 4 text
        Of a palette the colours marked as ground; all where none is marked.

    Raises
    ------
    ColourError
        For text that is no opaque CSS colour.

    Examples
    --------
    >>> [str(c.ground) for c in each_ground(Colourway("white", ["navy"]), ["ivory", "black"])]
    ['ivory #fffff0', 'black #000000']
    """
    choice = (
        grounds.grounds
        if isinstance(grounds, Palette)
        else as_tuple(grounds, "grounds", of="colours")
    )
    colourway = require_type(colourway, "colourway", Colourway)
    return [colourway.with_(ground=ground) for ground in choice]


def each_strength(colourway: Colourway, strengths: Sequence[float]) -> list[Colourway]:
    """Return the colourway at each overlay strength.

    Parameters
    ----------
    colourway : Colourway
    strengths : sequence of float
        0 to 1.

    Raises
    ------
    ArgumentError
        For a strength out of range.

    Examples
    --------
    >>> [c.strength for c in each_strength(Colourway("white", ["navy"]), [0.2, 0.8])]
    [0.2, 0.8]
    """
    colourway = require_type(colourway, "colourway", Colourway)
    return [
        colourway.with_(strength=level) for level in as_tuple(strengths, "strengths", of="numbers")
    ]


def draw_colourways(
    palette: Palette,
    stripes: int,
    count: int,
    *,
    seed: int = 1,
    ground: NamedColour | str | None = None,
    strength: float | tuple[float, float] = 0.5,
    mixing: str = "source-over",
    locked: Sequence[NamedColour | str | None] = (),
    warp_share: float = 0.5,
    yule_nielsen: float = 1.0,
) -> list[Colourway]:
    """Draw different colourways from a palette at random, the same for the same seed.

    A draw never repeats a colour, nor uses the ground as a stripe, and no two draws are
    the same cloth: orders that only shift or reverse count as one.

    Parameters
    ----------
    palette : Palette
        Stripes are drawn from its stripes, grounds from its grounds.
    stripes : int
        How many stripe colours.
    count : int
        How many colourways at most, 1 to 10,000; fewer come back when the palette holds
        no more.
    seed : int
        0 or more.
    ground : NamedColour or str, optional
        Fixed for all draws; otherwise drawn.
    strength : float or (low, high)
        Fixed, or drawn between two values (to whole per cents).
    mixing, warp_share, yule_nielsen :
        See :class:`Colourway`.
    locked : sequence
        A colour for every place that stays as it is, None where a colour is to be drawn.

    Returns
    -------
    list of Colourway
        Without names.

    Raises
    ------
    ArgumentError
        For more stripes than the palette has colours, and values out of range.

    Examples
    --------
    >>> palette = Palette("coast", ["white", "navy", "teal", "gold", "coral"])
    >>> len(draw_colourways(palette, 2, 100, ground="white"))
    6
    """
    number = as_whole(stripes, "stripes", 1, MOST_STRIPES)
    wanted = as_whole(count, "count", 1, 10_000)
    rng = np.random.default_rng(as_whole(seed, "seed", 0, 2**63))
    if isinstance(strength, tuple) and len(strength) != 2:
        raise ArgumentError("strength", "one, or (low, high)", strength)
    low, high = strength if isinstance(strength, tuple) else (strength, strength)
    as_number(low, "strength", 0, 1)
    as_number(high, "strength", low, 1)
    palette = require_type(palette, "palette", Palette)
    fixed = _fixed_places(as_tuple(locked, "locked", of="colours or None"), number)
    grounds = palette.grounds if ground is None else (NamedColour.of(ground),)
    _check_room(palette, grounds, fixed, number)

    out: list[Colourway] = []
    seen: set[object] = set()
    misses = 0
    # A palette that holds few colourways is soon drawn empty; give up when nothing new comes.
    while len(out) < wanted and misses < 200 + 4 * len(out):
        base = grounds[rng.integers(len(grounds))]
        free = _free(palette, base, fixed)
        open_places = number - sum(place is not None for place in fixed)
        if len(free) < open_places:
            misses += 1
            continue
        picks = iter(rng.permutation(len(free))[:open_places])
        row = tuple(place or free[next(picks)] for place in fixed)
        level = low if low == high else round(float(rng.uniform(low, high)), 2)
        key = (base.rgb, ring(row), level)
        if key in seen:
            misses += 1
            continue
        seen.add(key)
        misses = 0
        out.append(Colourway(base, row, level, mixing, "", warp_share, yule_nielsen))
    return out


def _fixed_places(
    locked: Sequence[NamedColour | str | None], number: int
) -> tuple[NamedColour | None, ...]:
    if len(locked) > number:
        raise ArgumentError("locked", f"at most {number} places", len(locked))
    places = [None if colour is None else NamedColour.of(colour) for colour in locked]
    return (*places, *[None] * (number - len(places)))


def _free(
    palette: Palette, ground: NamedColour, fixed: tuple[NamedColour | None, ...]
) -> list[NamedColour]:
    taken = {ground.rgb} | {place.rgb for place in fixed if place is not None}
    return [colour for colour in palette.stripes if colour.rgb not in taken]


def _check_room(
    palette: Palette,
    grounds: Sequence[NamedColour],
    fixed: tuple[NamedColour | None, ...],
    number: int,
) -> None:
    needed = sum(place is None for place in fixed)
    room = max(len(_free(palette, ground, fixed)) for ground in grounds)
    if needed > room:
        raise ArgumentError(
            "stripes",
            f"at most {number - needed + room} with palette {shown(palette.name)}, which has {room} free stripe colours",
            words=str(number),
        )


def ring(row: tuple[NamedColour, ...]) -> tuple[tuple[float, float, float], ...]:
    """Return the least of all shifts and reversals: alike for orders that give the same cloth.

    >>> navy, teal, gold = (NamedColour.of(name) for name in ("navy", "teal", "gold"))
    >>> ring((navy, teal, gold)) == ring((gold, teal, navy))
    True
    """
    values = [colour.rgb for colour in row]
    turns = [values[k:] + values[:k] for k in range(len(values))]
    return min(tuple(turn) for turn in turns + [turn[::-1] for turn in turns])
