"""The order of the wall and what it hides: by any score, and with the reason why."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from checkcloth.arguments import Floats
from checkcloth.desk.state.state import DeskState, Limit
from checkcloth.errors import ArgumentError
from checkcloth.scoring.vocabulary import COLUMNS, number_of


@dataclass(frozen=True)
class Arrangement:
    """Indices into the wall, in the order of the deal.

    Attributes
    ----------
    order : tuple of int
        Those that show, first to last.
    hidden : mapping of int to str
        Why each of the others does not, in the same order.
    """

    order: tuple[int, ...]
    hidden: Mapping[int, str]


def sort_by(state: DeskState, sort: str) -> DeskState:
    """Sort by a score column, greatest first; by "-column", least first; by "", as dealt."""
    if sort.removeprefix("-") not in ("", *COLUMNS):
        raise ArgumentError("sort", "a score", sort)
    return state.with_(sort=sort)


def add_limit(state: DeskState, column: str, least: float) -> DeskState:
    """Hide what scores under ``least`` in a column; one limit a column."""
    if column not in COLUMNS:
        raise ArgumentError("column", "a score", column)
    if not np.isfinite(least):
        raise ArgumentError("least", "a number", least)
    others = tuple(limit for limit in state.limits if limit.column != column)
    return state.with_(limits=(*others, Limit(column, float(least))))


def drop_limit(state: DeskState, column: str) -> DeskState:
    """Take a limit away."""
    return state.with_(limits=tuple(limit for limit in state.limits if limit.column != column))


def arrange(columns: Mapping[str, Floats], state: DeskState) -> Arrangement:
    """Return which indices show, in which order, and why the others do not.

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
    indices = np.arange(total)
    if state.sort and columns:
        values = np.asarray(columns[state.sort.removeprefix("-")])
        keys = values if state.sort.startswith("-") else -values
        indices = np.argsort(keys, kind="stable")  # NaN sorts last either way
    reasons: dict[int, list[str]] = {}
    for limit in state.limits if columns else ():
        values = columns[limit.column]
        for index in np.flatnonzero(values < limit.least).tolist():
            found = number_of(limit.column, values[index], below=limit.least)
            words = f"{COLUMNS[limit.column]} is {found}, under {limit.least:g}"
            reasons.setdefault(index, []).append(words)
    order = tuple(index for index in indices.tolist() if index not in reasons)
    hidden = {i: "; ".join(reasons[i]) for i in indices.tolist() if i in reasons}
    return Arrangement(order, hidden)
