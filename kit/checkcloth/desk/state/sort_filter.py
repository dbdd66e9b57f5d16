"""The order of the wall and what it hides: by any score, and with the reason why."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from checkcloth.arguments import Floats
from checkcloth.desk.state.state import DeskState, Limit
from checkcloth.desk.tone_packing import Batch, tones_in
from checkcloth.errors import ArgumentError
from checkcloth.scoring.contrast import Score, score_tones
from checkcloth.scoring.words import COLUMNS, number_of

__all__ = [
    "Arrangement",
    "add_limit",
    "arrange",
    "columns_of",
    "drop_limit",
    "score_part",
    "sort_by",
]


@dataclass(frozen=True)
class Arrangement:
    """Places on the wall (0-based, in the order of the deal).

    Attributes
    ----------
    order : tuple of int
        Those that show, first to last.
    hidden : mapping of int to str
        Why each of the others does not, in the same order.

    Examples
    --------
    >>> Arrangement((2, 0), {1: "evenness is 0.2, under 0.5"}).hidden[1]
    'evenness is 0.2, under 0.5'
    """

    order: tuple[int, ...]
    hidden: Mapping[int, str]


def sort_by(state: DeskState, sort: str) -> DeskState:
    """Sort by a score column, greatest first; by "-column", least first; by "", as dealt.

    >>> from checkcloth import Length
    >>> sort_by(DeskState(Length("7 mm")), "-evenness").sort
    '-evenness'
    """
    if sort.removeprefix("-") not in ("", *COLUMNS):
        raise ArgumentError("sort", "a score", sort)
    return state.with_(sort=sort)


def add_limit(state: DeskState, column: str, least: float) -> DeskState:
    """Hide what scores under ``least`` in a column; one limit a column.

    >>> from checkcloth import Length
    >>> add_limit(DeskState(Length("7 mm")), "least_edge", 3).limits
    (Limit(column='least_edge', least=3.0),)
    """
    if column not in COLUMNS:
        raise ArgumentError("column", "a score", column)
    if not np.isfinite(least):
        raise ArgumentError("least", "a number", least)
    rest = tuple(limit for limit in state.limits if limit.column != column)
    return state.with_(limits=(*rest, Limit(column, float(least))))


def drop_limit(state: DeskState, column: str) -> DeskState:
    """Take a limit away.

    >>> from checkcloth import Length
    >>> state = add_limit(DeskState(Length("7 mm")), "least_edge", 3)
    >>> drop_limit(state, "least_edge").limits
    ()
    """
    return state.with_(limits=tuple(limit for limit in state.limits if limit.column != column))


def score_part(
    group: Batch, strength: float | None, mixing: str | None, vision: str, part: slice
) -> dict[str, Floats]:
    """Score part of a batch; parts let the desk answer a slider in between.

    >>> from checkcloth import Colourway
    >>> from checkcloth.desk.tone_packing import batches
    >>> (group,) = batches([Colourway("white", ["navy"]), Colourway("white", ["teal"])])
    >>> score_part(group, 0.5, "woven", "normal", slice(1, 2))["least_edge"].round(1).tolist()
    [6.1]
    """
    return columns_of(score_tones(tones_in(group, strength, mixing, part), vision))


def columns_of(score: Score) -> dict[str, Floats]:
    """Return the numbers to sort and filter by, under the names of ``COLUMNS``.

    >>> from checkcloth import Colourway, score
    >>> columns_of(score(Colourway("white", ["navy"])))["least_edge"].round(1).item()
    22.8
    """
    return {"least_edge": score.least_edge, **score.columns()}


def arrange(columns: Mapping[str, Floats], state: DeskState) -> Arrangement:
    """Return which places show, in which order, and why the others do not.

    A score that a colourway does not have (a single stripe has no other stripe to be
    compared with) hides nothing, and sorts last.

    Examples
    --------
    >>> from checkcloth import Length
    >>> state = add_limit(DeskState(Length("7 mm"), sort="least_edge"), "evenness", 0.5)
    >>> arrange({"least_edge": np.array([1, 3, 2]), "evenness": np.array([1, 1, 0.2])}, state)
    Arrangement(order=(1, 0), hidden={2: 'evenness of the lightness steps is 0.2, under 0.5'})
    """
    total = len(next(iter(columns.values()))) if columns else len(state.shown)
    places = np.arange(total)
    if state.sort and columns:
        values = np.asarray(columns[state.sort.removeprefix("-")])
        keys = values if state.sort.startswith("-") else -values
        places = np.argsort(keys, kind="stable")  # NaN sorts last either way
    reasons: dict[int, list[str]] = {}
    for limit in state.limits:
        if not columns:
            break
        values = columns[limit.column]
        for place in np.flatnonzero(values < limit.least):
            found = number_of(limit.column, values[place], below=limit.least)
            words = f"{COLUMNS[limit.column]} is {found}, under {limit.least:g}"
            reasons.setdefault(int(place), []).append(words)
    order = tuple(int(place) for place in places if int(place) not in reasons)
    return Arrangement(
        order, {int(p): "; ".join(reasons[int(p)]) for p in places if int(p) in reasons}
    )
