"""New ideas for the wall: a fresh draw, more like one, something different."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations

import numpy as np

from checkcloth.arguments import Floats
from checkcloth.cloth.check import Check
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.named_colour import NamedColour
from checkcloth.colour.spaces import srgb_to_oklab
from checkcloth.desk.state.state import DeskState, Origin, short_name
from checkcloth.ideas.variants import draw_colourways, ring

_CANDIDATES = 2000
_PIECE = 256
_MOST_DRAWN = 10_000  # as draw_colourways has it


def most_stripes(state: DeskState) -> int:
    """Return how many different stripes the palette can give beside the ground and what stays."""
    palette, ground = state.chosen_palette, fixed_ground(state)
    fixed = [colour for colour in state.staying_stripes[: state.stripes] if colour is not None]
    grounds = palette.grounds if ground is None else (ground,)
    taken = {colour.rgb for colour in fixed}
    free = {colour.rgb for colour in palette.stripes} - taken
    return max(len(free - {base.rgb}) for base in grounds) + len(fixed)


def most_wefts(state: DeskState) -> int:
    """Return how many different stripes the palette can give the weft beside the ground."""
    palette, ground = state.chosen_palette, fixed_ground(state)
    grounds = palette.grounds if ground is None else (ground,)
    colours = {colour.rgb for colour in palette.stripes}
    return max(len(colours - {base.rgb}) for base in grounds)


def fit_stripes(state: DeskState) -> DeskState:
    """Return the state with no more stripes, either way, than the palette can give."""
    most, wefts = most_stripes(state), min(state.weft_colours, most_wefts(state))
    if state.stripes <= most and state.weft_colours == wefts:
        return state
    return state.with_(stripes=min(most, state.stripes), weft_colours=wefts)


def draw(state: DeskState) -> DeskState:
    """Deal a fresh draw from the palette, by the state's ground, stripes, count and seed."""
    name = state.chosen_palette.name
    origin: Origin = {"how": "draw", "palette": name, "seed": state.seed}
    return state.deal(_drawn(state, state.count, state.seed), f"drawn from {name}", origin)


def _drawn(state: DeskState, count: int, seed: int) -> list[Colourway]:
    own = state.weft_colours if state.weft_colours != state.stripes else 0
    return draw_colourways(
        state.chosen_palette,
        state.stripes,
        count,
        seed=seed,
        ground=fixed_ground(state),
        strength=0.5 if state.strength is None else state.strength,
        mixing=state.mixing or "source-over",
        stays=state.staying_stripes[: state.stripes],
        check=state.with_(wefts=own).uneven_check,
        weft=state.weft_colours,
    )


def fixed_ground(state: DeskState) -> NamedColour | None:
    """The ground that stays, or the one that was chosen; None where grounds are drawn too."""
    if state.staying_ground is not None:
        return state.staying_ground
    return state.chosen_palette[state.ground] if state.ground else None


def more_like(state: DeskState, number: int) -> DeskState:
    """Deal the card's own colourway, then those one change away, then two.

    A change is another colour for one stripe, two stripes of one way changing places, or
    another ground; what stays is left as it is, and a weft without colours of its own.
    """
    source = state.find(number).colourway.with_(name="")
    check = state.check_for(source)
    rng = np.random.default_rng(state.seed)
    out, seen = [source], {_cloth(source, check)}
    # Breadth first: the sources of the next ring of changes are the colourways dealt so far.
    for parent in out:
        if len(out) >= state.count:
            break
        near = list(_changes(parent, state))
        for index in rng.permutation(len(near)):
            if len(out) < state.count and (key := _cloth(near[index], check)) not in seen:
                seen.add(key)
                out.append(near[index])
    name = short_name(state.find(number).colourway)
    origin: Origin = {
        "how": "more like",
        "like": name,
        "palette": state.chosen_palette.name,
        "seed": state.seed,
    }
    return state.deal(out, f"more like {name}", origin, stripes=len(source.stripes))


def _cloth(colourway: Colourway, check: Check) -> object:
    return colourway.ground.rgb, ring(colourway.stripes, check, colourway.weft_stripes)


def _changes(source: Colourway, state: DeskState) -> Iterator[Colourway]:
    number = len(source.stripes)
    staying = [*state.staying_stripes[:number], *[None] * number]
    free = [index for index in range(number) if staying[index] is None]
    used = {colour.rgb for colour in source.colours}
    colours = [colour for colour in state.chosen_palette.stripes if colour.rgb not in used]
    for stripes in _other_rows(source.stripes, free, colours):
        yield source.with_(stripes=stripes)
    for wefts in _other_rows(source.weft_stripes, range(len(source.weft_stripes)), colours):
        yield source.with_(weft_stripes=wefts)
    if state.staying_ground is None:
        for ground in state.chosen_palette.grounds:
            if ground.rgb not in used:
                yield source.with_(ground=ground)


def _other_rows(
    row: tuple[NamedColour, ...], free: Sequence[int], colours: list[NamedColour]
) -> Iterator[list[NamedColour]]:
    """Another colour for one that is free, or two of these in each other's place."""
    for index in free:
        for colour in colours:
            yield [*row[:index], colour, *row[index + 1 :]]
    for here, there in combinations(free, 2):
        other = list(row)
        other[here], other[there] = other[there], other[here]
        yield other


def different(state: DeskState) -> DeskState:
    """Deal draws that lie furthest from everything on the wall, and from each other.

    How far apart two colourways lie is the distance of what the eye takes in first: the
    ground, the stripes' mean and their spread, in Oklab.
    """
    seed, name = state.seed + 1, state.chosen_palette.name
    many = max(200, 2 * state.count, min(_CANDIDATES, 8 * state.count))
    candidates = _drawn(state, min(_MOST_DRAWN, many), seed)
    features = _features(candidates)
    # Farthest first: take the candidate whose nearest neighbour so far is furthest away.
    nearest = np.full(len(candidates), np.inf)
    lengths = (features * features).sum(axis=1)
    there = _features([card.colourway for card in state.shown])
    for start in range(0, len(there), _PIECE):
        squares = lengths[:, None] - 2 * features @ there[start : start + _PIECE].T
        squares += (there[start : start + _PIECE] ** 2).sum(axis=1)
        np.minimum(nearest, squares.min(axis=1), out=nearest)
    picks: list[int] = []
    while len(picks) < min(state.count, len(candidates)):
        best = int(nearest.argmax())
        picks.append(best)
        squares = lengths + lengths[best] - 2 * (features @ features[best])
        np.minimum(nearest, squares, out=nearest)
        nearest[best] = -1
    origin: Origin = {"how": "different", "palette": name, "seed": seed}
    members = [candidates[pick] for pick in picks]
    return state.with_(seed=seed).deal(members, f"unlike those before, from {name}", origin)


def _features(colourways: list[Colourway]) -> Floats:
    features = np.zeros((len(colourways), 3, 3))
    rows = [(*one.stripes, *one.weft_stripes) for one in colourways]
    for count in {len(row) for row in rows}:
        indices = [i for i, row in enumerate(rows) if len(row) == count]
        members = [colourways[i] for i in indices]
        stripes = srgb_to_oklab(np.array([[s.rgb for s in rows[i]] for i in indices]))
        ground = srgb_to_oklab(np.array([one.ground.rgb for one in members]))
        features[indices] = np.stack([ground, stripes.mean(1), stripes.std(1)], axis=1)
    return features.reshape(-1, 9)
