"""New ideas for the wall: a fresh draw, more like one, something different; and the locks."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

import numpy as np

from checkcloth.arguments import Floats
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.named_colour import NamedColour
from checkcloth.cloth.palette import Palette
from checkcloth.colour.spaces import srgb_to_oklab
from checkcloth.desk.state.state import DeskState, Origin, short_name
from checkcloth.errors import ArgumentError, shown
from checkcloth.ideas.variants import draw_colourways, ring

__all__ = [
    "different",
    "draw",
    "lock_ground",
    "lock_stripe",
    "more_like",
    "most_stripes",
]

_CANDIDATES = 2000


def lock_ground(state: DeskState, number: int) -> DeskState:
    """Lock a card's ground for new ideas; where that very ground is locked, unlock it.

    >>> from checkcloth import Length
    >>> state = DeskState(Length("7 mm")).deal([Colourway("white", ["navy"])], "by hand", {})
    >>> lock_ground(state, 1).locked_ground.name
    'white'
    """
    ground = state.find(number).colourway.ground
    same = state.locked_ground is not None and state.locked_ground.rgb == ground.rgb
    return state.with_(locked_ground=None if same else ground)


def lock_stripe(state: DeskState, number: int, place: int) -> DeskState:
    """Lock a card's stripe (counted from 1) in its place; where it is locked, unlock it.

    >>> from checkcloth import Length
    >>> state = DeskState(Length("7 mm")).deal([Colourway("white", ["navy"])], "by hand", {})
    >>> [stripe.name for stripe in lock_stripe(state, 1, 1).locked_stripes]
    ['navy']
    """
    stripes = state.find(number).colourway.stripes
    if not 1 <= place <= len(stripes):
        raise ArgumentError("place", f"a stripe from 1 to {len(stripes)}", words=str(place))
    locks = [*state.locked_stripes, *[None] * (place - len(state.locked_stripes))]
    now, wanted = locks[place - 1], stripes[place - 1]
    locks[place - 1] = None if now is not None and now.rgb == wanted.rgb else wanted
    while locks and locks[-1] is None:
        locks.pop()
    return state.with_(locked_stripes=tuple(locks))


def _ground(state: DeskState, palette: Palette) -> NamedColour | None:
    if state.locked_ground is not None:
        return state.locked_ground
    return palette[state.ground] if state.ground else None


def _locks(state: DeskState, stripes: int) -> tuple[NamedColour | None, ...]:
    return state.locked_stripes[:stripes]


def most_stripes(state: DeskState, palette: Palette) -> int:
    """Return how many different stripes the palette can give beside the ground and the locks.

    >>> from checkcloth import Length
    >>> most_stripes(DeskState(Length("7 mm")), Palette("coast", ["white", "navy", "teal"]))
    2
    """
    ground = _ground(state, palette)
    fixed = [lock for lock in _locks(state, state.stripes) if lock is not None]
    grounds = palette.grounds if ground is None else (ground,)
    taken = {lock.rgb for lock in fixed}
    room = max(
        len({c.rgb for c in palette.stripes} - taken - {base.rgb}) for base in grounds
    )  # fmt: skip
    return room + len(fixed)


def draw(state: DeskState, palette: Palette) -> DeskState:
    """Deal a fresh draw from the palette, by the state's ground, stripes, count and seed.

    >>> from checkcloth import Length
    >>> coast = Palette("coast", ["white", "navy", "teal", "gold"])
    >>> len(draw(DeskState(Length("7 mm"), stripes=2, count=4), coast).shown)
    4
    """
    colourways = _drawn(state, palette, state.count, state.seed)
    origin: Origin = {"how": "draw", "palette": palette.name, "seed": state.seed}
    return state.deal(colourways, f"drawn from {palette.name}", origin)


def _drawn(state: DeskState, palette: Palette, count: int, seed: int) -> list[Colourway]:
    return draw_colourways(
        palette,
        state.stripes,
        count,
        seed=seed,
        ground=_ground(state, palette),
        strength=0.5 if state.strength is None else state.strength,
        mixing=state.mixing or "source-over",
        locked=_locks(state, state.stripes),
    )


def more_like(state: DeskState, number: int, palette: Palette) -> DeskState:
    """Deal the card's own colourway, then those one change away, then two.

    A change is another colour for one stripe, two stripes changing places, or another
    ground; what is locked stays as it is.

    >>> from checkcloth import Length
    >>> coast = Palette("coast", ["white", "navy", "teal", "gold"])
    >>> state = draw(DeskState(Length("7 mm"), stripes=2, count=4), coast)
    >>> more_like(state, 1, coast).shown[0].colourway == state.shown[0].colourway
    True
    """
    source = state.find(number).colourway.with_(name="")
    rng = np.random.default_rng(state.seed)
    out, seen = [source], {_cloth(source)}
    # Breadth first: the sources of the next ring of changes are the colourways dealt so far.
    for one in out:
        if len(out) >= state.count:
            break
        near = list(_changes(one, state, palette))
        for place in rng.permutation(len(near)):
            if len(out) < state.count and (key := _cloth(near[place])) not in seen:
                seen.add(key)
                out.append(near[place])
    name = short_name(state.find(number).colourway)
    origin: Origin = {"how": "more like", "like": name, "palette": palette.name, "seed": state.seed}
    return state.deal(out, f"more like {name}", origin, stripes=len(source.stripes))


def _cloth(one: Colourway) -> object:
    return (one.ground.rgb, ring(one.stripes))


def _changes(one: Colourway, state: DeskState, palette: Palette) -> Iterator[Colourway]:
    locks = [*_locks(state, len(one.stripes)), *[None] * len(one.stripes)]
    free = [place for place in range(len(one.stripes)) if locks[place] is None]
    used = {one.ground.rgb} | {stripe.rgb for stripe in one.stripes}
    for place in free:
        for colour in palette.stripes:
            if colour.rgb not in used:
                stripes = list(one.stripes)
                stripes[place] = colour
                yield one.with_(stripes=stripes)
    for here, there in combinations(free, 2):
        stripes = list(one.stripes)
        stripes[here], stripes[there] = stripes[there], stripes[here]
        yield one.with_(stripes=stripes)
    if state.locked_ground is None:
        for ground in palette.grounds:
            if ground.rgb not in used:
                yield one.with_(ground=ground)


def different(state: DeskState, palette: Palette) -> DeskState:
    """Deal draws that lie furthest from everything on the wall, and from each other.

    How far apart two colourways lie is the distance of what the eye takes in first: the
    ground, the stripes' mean and their spread, in Oklab.

    >>> from checkcloth import Length
    >>> coast = Palette("coast", ["white", "navy", "teal", "gold", "crimson"])
    >>> state = draw(DeskState(Length("7 mm"), stripes=2, count=4), coast)
    >>> different(state, coast).dealt
    'unlike those before, from coast'
    """
    seed = state.seed + 1
    many = min(_CANDIDATES, max(200, 8 * state.count))
    candidates = _drawn(state, palette, many, seed)
    features = _features(candidates)
    seen = _features([card.colourway for card in state.shown])
    # Farthest first: take the candidate whose nearest neighbour so far is furthest away.
    nearest = np.full(len(candidates), np.inf)
    for row in seen:
        np.minimum(nearest, ((features - row) ** 2).sum(axis=1), out=nearest)
    picks: list[int] = []
    while len(picks) < min(state.count, len(candidates)):
        best = int(nearest.argmax())
        picks.append(best)
        np.minimum(nearest, ((features - features[best]) ** 2).sum(axis=1), out=nearest)
        nearest[best] = -1
    origin: Origin = {"how": "different", "palette": palette.name, "seed": seed}
    dealt = f"unlike those before, from {palette.name}"
    return state.with_(seed=seed).deal([candidates[pick] for pick in picks], dealt, origin)


def _features(colourways: list[Colourway]) -> Floats:
    if not colourways:
        raise ArgumentError(f"colourways must not be empty, found {shown(colourways)}")
    rows = []
    for one in colourways:
        stripes = srgb_to_oklab(np.array([stripe.rgb for stripe in one.stripes]))
        rows.append([srgb_to_oklab(np.array(one.ground.rgb)), stripes.mean(0), stripes.std(0)])
    return np.array(rows).reshape(len(rows), 9)
