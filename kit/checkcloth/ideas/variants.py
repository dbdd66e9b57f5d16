"""Variants of colourways: stripe orders, the one that reads best, grounds, strengths, draws."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from itertools import islice, permutations
from math import factorial

import numpy as np
from numpy.typing import NDArray

from checkcloth.arguments import Floats, as_number, as_tuple, as_whole, require_one_of, require_type
from checkcloth.cloth.bands import Bands, even_bands
from checkcloth.cloth.check import MOST_STRIPES, Check
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.named_colour import NamedColour
from checkcloth.cloth.palette import Palette
from checkcloth.cloth.tones import tones_of
from checkcloth.colour.ciede2000 import delta_e_2000
from checkcloth.colour.ink import Stock
from checkcloth.colour.spaces import srgb_to_lab
from checkcloth.errors import ArgumentError, shown
from checkcloth.ideas.orders import (
    count_orders,
    least_order,
    neighbours,
    orders_in,
    ring_of,
    ways_of,
)

ORDERS = ("unlike", "flowing")
# 2¹⁴ sets of stripes × 15 last ones: a quarter of a second and 10 MB. Each stripe more doubles it.
_MOST_ORDERED = 15
# 8! = 40,320 orders are tried one by one.
_MOST_TRIED = 8


def order_count(stripes: int, check: Check | None = None) -> int:
    """Return how many distinct orders so many different stripes have.

    Warp and weft in the same order: shifts round the repeat and reversal give the same
    cloth, which leaves (N−1)!/2 for N ≥ 3 (OEIS A001710), and 1 for fewer. Bands that are
    not even have symmetries of their own, mostly fewer, and so more orders.

    Parameters
    ----------
    stripes : int
        1 to 24.
    check : Check, optional
        Whose bands say what is alike; an even check unless given.

    Raises
    ------
    ArgumentError
        For another count, or a check of other stripes.

    Examples
    --------
    >>> [order_count(n) for n in range(1, 9)]
    [1, 1, 1, 3, 12, 60, 360, 2520]
    >>> order_count(3, Check("1 cm", 3, warp="graduated"))
    6
    """
    number = as_whole(stripes, "stripes", 1, MOST_STRIPES)
    if check is None:
        return 1 if number < 3 else factorial(number - 1) // 2
    return count_orders(number, *_ways(number, check))


def _ways(stripes: int, check: Check, *, own_weft: bool = False) -> tuple[Bands, Bands | None]:
    """The bands of a check that orders of so many stripes run over."""
    if require_type(check, "check", Check).stripes != stripes:
        raise ArgumentError("check", f"one of {stripes} stripes", words=str(check.stripes))
    return ways_of(check, own_weft=own_weft)


def stripe_orders(stripes: int, check: Check | None = None) -> Iterator[tuple[int, ...]]:
    """Yield each distinct order once, as tuples of indices; of those alike the least.

    Parameters
    ----------
    stripes : int
        1 to 24; see :func:`order_count` for how many come.
    check : Check, optional
        See :func:`order_count`.

    Raises
    ------
    ArgumentError
        For another count, or a check of other stripes.

    Examples
    --------
    >>> list(stripe_orders(4))
    [(0, 1, 2, 3), (0, 1, 3, 2), (0, 2, 1, 3)]
    """
    number = as_whole(stripes, "stripes", 1, MOST_STRIPES)
    if check is not None:
        yield from orders_in(number, *_ways(number, check))
        return
    # Shifts: start every ring at 0. Reversal: of a ring and its mirror take the one whose
    # second index is less than its last.
    for order in permutations(range(1, number)):
        if number < 3 or order[0] < order[-1]:
            yield (0, *order)


def each_order(
    colourway: Colourway, limit: int = 500, check: Check | None = None
) -> list[Colourway]:
    """Return the colourway in every distinct stripe order, the first ``limit`` of them.

    Where the weft has colours of its own they stay as they are.

    Parameters
    ----------
    colourway : Colourway
    limit : int
        1 to 1,000,000.
    check : Check, optional
        Whose bands say which orders are alike; an even check unless given.

    Raises
    ------
    ArgumentError
        For a limit out of range, or a check that does not fit.

    Examples
    --------
    >>> len(each_order(Colourway("white", ["navy", "teal", "gold", "coral"])))
    3
    """
    colourway = require_type(colourway, "colourway", Colourway)
    limit = as_whole(limit, "limit", 1, 1_000_000)
    number = len(colourway.stripes)
    orders = stripe_orders(number)
    if check is not None or colourway.weft_stripes:
        orders = orders_in(number, *_ways_of(colourway, check))
    return [
        colourway.with_(stripes=[colourway.stripes[i] for i in order])
        for order in islice(orders, limit)
    ]


def _ways_of(colourway: Colourway, check: Check | None) -> tuple[Bands, Bands | None]:
    number = len(colourway.stripes)
    check = Check("1 cm", number) if check is None else check
    return _ways(number, check, own_weft=bool(colourway.weft_stripes))


def _neighbour_steps(tones: Floats, *, own_weft: bool = False) -> Floats:
    """CIEDE2000 between stripes as they look over the ground: the less of warp and weft.

    ``tones`` (..., W+1, F+1, 3) → (..., W, W). Of a weft with colours of its own the warp's.
    """
    warp = srgb_to_lab(tones[..., 1:, 0, :])
    steps = delta_e_2000(warp[..., :, None, :], warp[..., None, :, :])
    if own_weft:
        return np.asarray(steps)
    weft = srgb_to_lab(tones[..., 0, 1:, :])
    return np.minimum(steps, delta_e_2000(weft[..., :, None, :], weft[..., None, :, :]))


def ring_scores(colourway: Colourway, check: Check | None = None) -> tuple[float, float, float]:
    """Return least, mean and greatest CIEDE2000 between neighbours, round the repeat.

    Parameters
    ----------
    colourway : Colourway
        Its stripes are compared as they look over the ground.
    check : Check, optional
        Whose bands say which stripes follow one another; an even check unless given.

    Examples
    --------
    >>> ring_scores(Colourway("white", ["navy", "navy", "white"]))[0]
    0.0
    """
    steps = _neighbour_steps(colourway.tones, own_weft=bool(colourway.weft_stripes))
    if check is None:
        index = np.arange(len(steps))
        found = steps[index, np.roll(index, -1)]
    else:
        pairs = neighbours(*_ways_of(colourway, check)) or [(0, 0)]
        found = steps[*np.transpose(pairs)]
    return float(found.min()), float(found.mean()), float(found.max())


def _shortest_rings(steps: Floats, joined: np.ufunc) -> tuple[Floats, NDArray[np.intp]]:
    """Least total (``np.add``) or least greatest (``np.maximum``) step round a ring of all.

    The dynamic programme of Held and Karp over sets of stripes, which weighs every order
    without writing each one out. ``steps`` (M, N, N), N from 3 on → the totals (M,) and the
    indices (M, N), from 0 on. Ties go to the lower index.
    """
    many, count = steps.shape[:2]
    sets = 1 << (count - 1)  # of the indices 1 … count-1; 0 starts and ends the ring
    best = np.full((sets, count - 1, many), np.inf)
    between = np.moveaxis(steps, 0, -1)
    for last in range(count - 1):
        best[1 << last, last] = between[0, last + 1]
    numbers = np.arange(sets)
    sizes = np.bitwise_count(numbers)
    for size in range(2, count):
        members = numbers[sizes == size]
        for last in range(count - 1):
            holds = members[members & (1 << last) != 0]
            ways = joined(best[holds ^ (1 << last)], between[1:, last + 1][None])
            best[holds, last] = ways.min(axis=1)
    closing = joined(best[sets - 1], between[1:, 0])
    each = np.arange(many)
    last = closing.argmin(axis=0)
    order = [last]
    left = np.full(many, sets - 1)
    for _ in range(count - 2):
        left = left ^ (1 << last)
        last = joined(best[left, :, each], steps[each, 1:, last + 1]).argmin(axis=1)
        order.append(last)
    rings = np.stack([np.full(many, -1), *order[::-1]], axis=1) + 1
    return closing.min(axis=0), rings


def best_order(
    colourway: Colourway, reads: str = "unlike", check: Check | None = None
) -> Colourway:
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
    check : Check, optional
        Whose bands say which stripes follow one another; an even check unless given. Up to
        8 stripes where they make no ring, such as one that comes twice.

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
    if len(colourway.stripes) > _MOST_ORDERED:
        allowed = f"at most {_MOST_ORDERED} stripes to be ordered"
        raise ArgumentError("colourway", allowed, len(colourway.stripes))
    if check is None or (check.is_even and not colourway.weft_stripes):
        return next(best_orders([colourway], reads))
    require_one_of(reads, "reads", ORDERS)
    order = _best_in_bands(_signed_steps([colourway], reads)[0], *_ways_of(colourway, check))
    return colourway.with_(stripes=[colourway.stripes[index] for index in order])


def best_orders(colourways: Iterable[Colourway], reads: str = "unlike") -> Iterator[Colourway]:
    """Yield each colourway as :func:`best_order` returns it, many at a time.

    Parameters
    ----------
    colourways : iterable of Colourway
        With equally many stripes, up to 15.
    reads : str

    Raises
    ------
    ArgumentError
        For other words.

    Examples
    --------
    >>> greys = Colourway("white", ["#000", "#222", "#888", "#aaa"])
    >>> next(best_orders([greys])) == best_order(greys)
    True
    """
    require_one_of(reads, "reads", ORDERS)
    members = list(colourways)
    number = len(members[0].stripes) if members else 0
    if number < 4:  # one distinct order
        yield from members
        return
    # Some 30 MB at a time, whatever the number of stripes.
    size = max(1, (1 << 21) // (number * number << (number - 1)))
    for start in range(0, len(members), size):
        piece = members[start : start + size]
        steps = _signed_steps(piece, reads)
        for member, order in zip(piece, _best_rings(steps), strict=True):
            yield member.with_(stripes=[member.stripes[index] for index in order])


def _signed_steps(members: Sequence[Colourway], reads: str) -> Floats:
    """Steps between stripes (M, N, N), so that the least is the best."""
    own_weft = bool(members[0].weft_stripes)
    steps = _neighbour_steps(tones_of(members), own_weft=own_weft)
    return (-1.0 if reads == "unlike" else 1.0) * steps


def _best_rings(steps: Floats) -> list[list[int]]:
    """The order of stripes that reads best of each, by its steps (M, N, N)."""
    worst, _ = _shortest_rings(steps, np.maximum)
    # Steps worse than the best ring has are out; the sum decides among what is left.
    _, rings = _shortest_rings(np.where(steps <= worst[:, None, None], steps, np.inf), np.add)
    return [[0, *order[:0:-1]] if order[1] > order[-1] else order for order in rings.tolist()]


def _best_in_bands(steps: Floats, warp_bands: Bands, weft_bands: Bands | None) -> Sequence[int]:
    """Indices of the colours stripe by stripe: least worst step, then least sum."""
    count = len(steps)
    pairs = neighbours(warp_bands, weft_bands)
    if not pairs:
        return range(count)
    ring = ring_of(pairs, count)
    if count > _MOST_TRIED and ring is None:
        raise ArgumentError(
            "check", f"one of at most {_MOST_TRIED} stripes, or whose stripes make a ring", count
        )
    if count > _MOST_TRIED and ring is not None:
        (best,) = _best_rings(steps[None])
        placed = dict(zip(ring, best, strict=True))
        return least_order([placed[stripe] for stripe in range(count)], warp_bands, weft_bands)
    orders = np.array([*orders_in(count, warp_bands, weft_bands)])
    found = steps[orders[:, [a for a, _ in pairs]], orders[:, [b for _, b in pairs]]]
    # Sums to a billionth, so that the last digit does not settle which of equals is taken.
    keys = found.sum(axis=1).round(9), found.max(axis=1).round(9)
    return [int(index) for index in orders[np.lexsort(keys)[0]]]


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
    stays: Sequence[NamedColour | str | None] = (),
    warp_share: float = 0.5,
    yule_nielsen: float = 1.0,
    stock: str | Stock = "",
    check: Check | None = None,
    weft: int = 0,
    locked: Sequence[NamedColour | str | None] = (),
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
    mixing, warp_share, yule_nielsen, stock :
        See :class:`Colourway`.
    stays : sequence
        A colour for every stripe that stays as it is, None where a colour is to be drawn.
    check : Check, optional
        Whose bands say which orders give the same cloth; an even check unless given.
    weft : int
        How many colours of its own the weft gets, 0 to 24: of the palette's stripes those that
        the warp has not, as far as there are such. With 0 it has those of the warp.
    locked : sequence
        What ``stays`` was called in 0.1; one of the two is given.

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
    >>> print(draw_colourways(palette, 2, 1, ground="white", weft=1)[0])
    navy, teal on white, weft coral, 50 %, source-over
    """
    number = as_whole(stripes, "stripes", 1, MOST_STRIPES)
    wefts = as_whole(weft, "weft", 0, MOST_STRIPES)
    most = as_whole(count, "count", 1, 10_000)
    rng = np.random.default_rng(as_whole(seed, "seed", 0, 2**63))
    if isinstance(strength, tuple) and len(strength) != 2:
        raise ArgumentError("strength", "one, or (low, high)", strength)
    low, high = strength if isinstance(strength, tuple) else (strength, strength)
    as_number(low, "strength", 0, 1)
    as_number(high, "strength", low, 1)
    palette = require_type(palette, "palette", Palette)
    fixed = _fixed_stripes(stays, locked, number)
    grounds = palette.grounds if ground is None else (NamedColour.of(ground),)
    to_draw = fixed.count(None)
    paper = Stock.of(stock)
    _check_room(palette, grounds, fixed)
    _check_room(palette, grounds, (None,) * wefts, "weft")
    if wefts and check is not None and check.weft_stripes != wefts:
        raise ArgumentError("check", f"one of {wefts} weft stripes", words=str(check.weft_stripes))

    out: list[Colourway] = []
    seen: set[object] = set()
    misses = 0
    # A palette that holds few colourways is soon drawn empty; give up when nothing new comes.
    while len(out) < most and misses < 200 + 4 * len(out):
        misses += 1
        base = grounds[rng.integers(len(grounds))]
        free = _free(palette, base, fixed)
        if len(free) < to_draw or (wefts and len(_free(palette, base)) < wefts):
            continue
        picks = iter(rng.permutation(len(free))[:to_draw])
        row = tuple(stripe or free[next(picks)] for stripe in fixed)
        level = low if low == high else round(float(rng.uniform(low, high)), 2)
        own = _own_weft(rng, _free(palette, base), row, wefts) if wefts else ()
        key = (base.rgb, ring(row, check, own), level)
        if key not in seen:
            seen.add(key)
            misses = 0
            options = (warp_share, yule_nielsen, paper, own)
            out.append(Colourway(base, row, level, mixing, "", *options))
    return out


def _fixed_stripes(
    stays: Sequence[NamedColour | str | None],
    locked: Sequence[NamedColour | str | None],
    number: int,
) -> tuple[NamedColour | None, ...]:
    if stays and locked:
        raise ArgumentError("locked", "left out where stays is given", words="both")
    row = as_tuple(stays or locked, "stays", of="colours or None")
    if len(row) > number:
        raise ArgumentError("stays", f"at most {number} stripes", len(row))
    stripes = [None if colour is None else NamedColour.of(colour) for colour in row]
    return (*stripes, *[None] * (number - len(stripes)))


def _own_weft(
    rng: np.random.Generator, free: list[NamedColour], row: tuple[NamedColour, ...], wefts: int
) -> tuple[NamedColour, ...]:
    """Draw the weft's colours: first those that are not in the warp."""
    mixed = [free[index] for index in rng.permutation(len(free))]
    mixed.sort(key=lambda colour: colour in row)
    own = mixed[:wefts]
    return tuple(own[index] for index in rng.permutation(wefts))


def _free(
    palette: Palette, ground: NamedColour, fixed: tuple[NamedColour | None, ...] = ()
) -> list[NamedColour]:
    taken = {ground.rgb} | {stripe.rgb for stripe in fixed if stripe is not None}
    return [colour for colour in palette.stripes if colour.rgb not in taken]


def _check_room(
    palette: Palette,
    grounds: Sequence[NamedColour],
    fixed: tuple[NamedColour | None, ...],
    argument: str = "stripes",
) -> None:
    needed = fixed.count(None)
    taken = {stripe.rgb for stripe in fixed if stripe is not None}
    free = Counter(stripe.rgb for stripe in palette.stripes if stripe.rgb not in taken)
    room = max(free.total() - free[ground.rgb] for ground in grounds)
    if needed > room:
        allowed = (
            f"at most {len(fixed) - needed + room} with palette {shown(palette.name)}, "
            f"which has {room} free stripe colours"
        )
        raise ArgumentError(argument, allowed, len(fixed))


def ring(
    row: tuple[NamedColour, ...],
    check: Check | None = None,
    weft: tuple[NamedColour, ...] = (),
) -> tuple[tuple[float, float, float], ...]:
    """Return the least of all orders that give the same cloth: alike for those that do.

    Where the weft has colours of its own, theirs follow; each way moves by itself.

    >>> navy, teal, gold = (NamedColour.of(name) for name in ("navy", "teal", "gold"))
    >>> ring((navy, teal, gold)) == ring((gold, teal, navy))
    True
    """
    values = [colour.rgb for colour in row]
    if weft:
        warp_bands = even_bands(len(row)) if check is None else check.warp_bands
        weft_bands = even_bands(len(weft)) if check is None else check.weft_bands
        wefts = [colour.rgb for colour in weft]
        return least_order(values, warp_bands, None) + least_order(wefts, weft_bands, None)
    if check is not None and not check.is_even:
        return least_order(values, *ways_of(check))
    turns = [values[k:] + values[:k] for k in range(len(values))]
    return min(tuple(turn) for turn in turns + [turn[::-1] for turn in turns])


def each_weft(
    colourway: Colourway,
    wefts: Palette | Iterable[NamedColour | str | Iterable[NamedColour | str]],
) -> list[Colourway]:
    """Return the colourway with each weft: one warp on the loom, and many cloths from it.

    Parameters
    ----------
    colourway : Colourway
    wefts : Palette or iterable
        A weft is a colour, for every stripe of the weft, or several, one for each. Of a
        palette every stripe colour is a weft by itself.

    Raises
    ------
    ArgumentError, ColourError
        For no wefts, or text that is no opaque CSS colour.

    Examples
    --------
    >>> quay = Colourway("white", ["navy", "teal"])
    >>> [str(c) for c in each_weft(quay, ["gold", ["navy", "coral"]])]
    ['navy, teal on white, weft gold, gold, 50 %, source-over', \
'navy, teal on white, weft navy, coral, 50 %, source-over']
    """
    colourway = require_type(colourway, "colourway", Colourway)
    given = wefts.stripes if isinstance(wefts, Palette) else as_tuple(wefts, "wefts", of="wefts")
    if not given:
        raise ArgumentError("wefts", "at least one weft", words="none")
    number = len(colourway.weft_colours)
    return [
        colourway.with_(
            weft_stripes=[weft] * number if isinstance(weft, NamedColour | str) else weft
        )
        for weft in given
    ]
