"""The exact best of a setting by bounding, and how far a condition must give way.

A choice is grown colour by colour, in palette order. Beside it stands the set of colours that
may still join it, as bits: those that meet every condition with every colour in it. A choice
that holds a failing pair is therefore never formed, and one that cannot be filled is dropped
at once.

The measure is a least over pairs, so a floor under it is one more pairwise condition. The
floor starts high, where few choices pass, and is let down until enough are found: all that
lie above the last floor are then known, and everything below it is ruled out, not skipped.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import combinations
from math import floor
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from checkcloth.arguments import Floats
from checkcloth.search.bands.grow import best_in_bands
from checkcloth.search.bands.joint import joint_tables
from checkcloth.search.bounds.cliques import Cliques
from checkcloth.search.bounds.floors import (
    Best,
    Members,
    Stop,
    best_first,
    check_going,
    falling_floors,
    never,
    packed,
)
from checkcloth.search.crossings import AlikeCrossings
from checkcloth.search.tables import Bools, SettingTables, tables_of
from checkcloth.search.wanted import (
    MOST_IN_TABLE,
    Constraint,
    Setting,
    Term,
    Wanted,
    argument_of,
)

# Choices being grown at a time: the memory bound, some 20 MB.
_ROWS = 1 << 15
# So many begun above one floor, of so many colours to choose, and colourings are the quicker way.
_MOST_FORMED = 1 << 18
_FEWEST_BY_CLASS = 4


def _passing_tables(
    tables: SettingTables, wanted: Wanted, constraints: tuple[Constraint, ...]
) -> tuple[Bools, Bools | None, list[AlikeCrossings]]:
    """Which pairs of candidates meet every condition, and which sets of 3 or 4 do not.

    The diagonal of the first holds what a colour does alone. The second is None where no
    condition compares crossings among themselves, or two stripes say it all. The third says
    what four colours hold, where there are too many for a table of them.
    """
    count = len(wanted.candidates)
    passing = np.ones((count, count), dtype=bool)
    failing: Bools | None = None
    fours: list[AlikeCrossings] = []
    for constraint in constraints:
        if constraint.kind != "crossing_crossing":
            passing &= tables.meets(constraint)
            continue
        if count > MOST_IN_TABLE and wanted.stripes > 1:
            large = AlikeCrossings(
                tables.seen(constraint.vision), constraint.by, constraint.at_least
            )
            passing &= ~large.pairs
            if wanted.stripes > 2:
                failing = large.triples if failing is None else failing | large.triples
            if wanted.stripes > 3:
                fours.append(large)
            continue
        alike = tables.alike(constraint)
        if alike.ndim == 2:
            passing &= ~alike
        elif alike.ndim > 2:
            failing = alike if failing is None else failing | alike
    return passing, failing, fours


class _TooManyError(Exception):
    """Raised where so many choices were begun that another way is quicker."""


class _Partial(NamedTuple):
    """Choices not yet full: their members, their measure so far, and who may still join."""

    members: Members
    values: Floats
    candidates: NDArray[np.uint8]
    remaining: int

    def pick(self, rows: Bools | slice) -> _Partial:
        return _Partial(
            self.members[rows], self.values[rows], self.candidates[rows], self.remaining
        )


class _Growth:
    """One run above one floor, over the colours to choose from."""

    def __init__(
        self,
        table: Floats,
        passing: Bools,
        failing: Bools | None,
        setting: Setting,
        fours: list[AlikeCrossings],
    ) -> None:
        must, free = list(setting.must), list(setting.free)
        self.nodes = 0
        self.table = table
        self.failing, self.fours = failing, fours
        self.must = must
        self.free = np.array(free, dtype=np.uint16)
        joined, alone = passing[np.ix_(free, free)], passing.diagonal()[free]
        if must:
            alone = alone & passing[np.ix_(must, free)].all(axis=0)
        # Only colours further on may join: every choice is formed once, in palette order.
        self.after = packed(np.triu(joined & alone[None, :], 1))
        self.start = packed(alone[None, :])

    def _allowed(self, members: Members, size: int) -> Bools:
        """Whether each choice holds no set with its newest colour that fails together."""
        allowed = np.ones(len(members), dtype=bool)
        if self.failing is None or size < self.failing.ndim:
            return allowed
        for older in combinations(range(size - 1), self.failing.ndim - 1):
            index = tuple(members[:, column] for column in (*older, size - 1))
            allowed &= ~self.failing[index]
        return allowed

    def _seed(self, choose: int) -> _Partial | None:
        """The colours that must be in; None where they fail together."""
        size = len(self.must)
        members = np.array([self.must], dtype=np.uint16)
        pairs = list(combinations(self.must, 2)) if size > 1 else [(i, i) for i in self.must]
        value = min((float(self.table[pair]) for pair in pairs), default=np.inf)
        if not all(self._allowed(members, upto)[0] for upto in range(1, size + 1)):
            return None
        for alike in self.fours:
            if any(alike.hold_four(members[:, :upto])[0] for upto in range(4, size + 1)):
                return None
        return _Partial(members, np.full(1, value), self.start, choose)

    def runs(
        self, choose: int, floor: list[float], stopped: Stop
    ) -> Iterator[tuple[Floats, Members]]:
        """Yield full choices above ``floor[0]``, which may be raised between two yields."""
        seed = self._seed(choose)
        if seed is None:
            return
        if choose == 0:
            yield seed.values, seed.members
            return
        stack = [seed]
        while stack:
            check_going(stopped)
            if self.nodes > _MOST_FORMED and choose >= _FEWEST_BY_CLASS and self.failing is None:
                raise _TooManyError
            part = stack.pop()
            above = part.values >= floor[0]
            if not above.all():
                part = part.pick(above)
            room = np.bitwise_count(part.candidates).sum(axis=1, dtype=np.int64)
            if int(room.sum()) > _ROWS and len(part.members) > 1:
                # Too many at a time: the first part first, so that palette order is kept.
                cut = max(1, int(np.searchsorted(np.cumsum(room), _ROWS)))
                cut = min(cut, len(part.members) - 1)
                stack += [part.pick(slice(cut, None)), part.pick(slice(cut))]
                continue
            wider = self._widened(part, floor[0])
            if wider.remaining == 0:
                yield wider.values, wider.members
            else:
                stack.append(wider)

    def _widened(self, part: _Partial, floor: float) -> _Partial:
        """Every choice with each colour that may join it, but those below the floor."""
        bits = np.unpackbits(part.candidates, axis=1, bitorder="little", count=len(self.free))
        row, column = np.nonzero(bits)
        added = self.free[column]
        members = np.column_stack([part.members[row], added])
        self.nodes += len(members)
        size = members.shape[1]
        values = part.values[row]
        if size == 1:
            values = np.minimum(values, self.table[added, added])
        for older in range(size - 1):
            values = np.minimum(values, self.table[members[:, older], added])
        good = values >= floor
        if self.failing is not None:
            good &= self._allowed(members, size)
        for alike in self.fours if size > 3 else ():
            upto = np.flatnonzero(good)
            good[upto] = ~alike.hold_four(members[upto])
        left = part.remaining - 1
        if left == 0:
            return _Partial(members[good], values[good], part.candidates[:0], 0)
        still_open = part.candidates[row[good]] & self.after[column[good]]
        enough = np.bitwise_count(still_open).sum(axis=1, dtype=np.int64) >= left
        return _Partial(members[good], values[good], still_open, left).pick(enough)


def best_of_setting(
    tables: SettingTables,
    wanted: Wanted,
    most: int,
    *,
    constraints: tuple[Constraint, ...] | None = None,
    goal: tuple[Term, ...] | None = None,
    one_order: bool = False,
    stopped: Stop = never,
) -> Best:
    """Return the exact best ``most`` of a setting among those that meet the conditions.

    ``constraints``, and ``goal``, what to rank by, stand for the brief's own. In bands where the
    order counts, ``one_order`` asks for every choice of colours once, in its best order.
    ``stopped`` is asked again and again; once it is true, :class:`SearchStoppedError` is raised.
    """
    setting, size = tables.setting, wanted.stripes
    nothing = Best(np.zeros(0), np.zeros((0, size), dtype=np.uint16), True)
    if setting.count == 0:
        return nothing
    asked_for = wanted.constraints if constraints is None else constraints
    terms = wanted.goal if goal is None else goal
    if wanted.bands is not None:
        joint = joint_tables(wanted, setting.number)
        return best_in_bands(joint, most, asked_for, terms, one_order=one_order, stopped=stopped)
    table = tables.ranked_by(terms)
    passing, failing, fours = _passing_tables(tables, wanted, asked_for)
    must, free = list(setting.must), list(setting.free)
    if must and not passing[np.ix_(must, must)].all():
        return nothing
    nodes, many = 0, False
    for low in _floors(table, passing, must + free, size):
        above = passing & (table >= low)
        if not many:
            growth = _Growth(table, above, failing, setting, fours)
            try:
                values, members, full = _collect(growth.runs, setting, low, most, stopped)
            except _TooManyError:
                many = True
            nodes += growth.nodes
        if many:
            # Many are begun that cannot be filled: look for what cannot be, by colourings.
            by_class = _ByClass(table, above, setting)
            values, members, full = _collect(by_class.runs, setting, low, most, stopped)
            nodes += by_class.cliques.nodes
        if full or low == -np.inf:
            return Best(values, members, not full, nodes)
    raise AssertionError("the last floor is the lowest")  # pragma: no cover


def _floors(table: Floats, passing: Bools, colours: list[int], size: int) -> Iterator[float]:
    inside = np.ix_(colours, colours)
    upper = np.triu(np.ones((len(colours),) * 2, bool), 0 if size == 1 else 1)
    values = np.sort(table[inside][passing[inside] & upper])[::-1]
    return falling_floors(values, max(1, size * (size - 1) // 2))


class _ByClass:
    """One run above one floor, by cliques and colourings."""

    def __init__(self, table: Floats, passing: Bools, setting: Setting) -> None:
        self.must = list(setting.must)
        free = np.array(setting.free, dtype=np.intp)
        alone = passing[free, free]
        if self.must:
            alone = alone & passing[np.ix_(np.array(self.must), free)].all(axis=0)
        self.free = free[alone]
        inside = np.ix_(self.free, self.free)
        pairs = table[inside]
        # What a colour brings beside those that must be in, each pair of the two brings too.
        with_must = table[self.free][:, self.must].min(axis=1, initial=np.inf)
        self.pairs = np.minimum(pairs, np.minimum(with_must[:, None], with_must))
        self.cliques = Cliques(self.pairs, passing[inside])
        rows = combinations(self.must, 2)
        self.start = min((float(table[pair]) for pair in rows), default=np.inf)

    def runs(
        self, choose: int, floor: list[float], stopped: Stop
    ) -> Iterator[tuple[Floats, Members]]:
        """Yield full choices from ``floor[0]`` on, which may be raised between two yields."""
        for value, row in self.cliques.runs(choose, floor, stopped):
            members = np.array([[*self.must, *self.free[list(row)]]], dtype=np.uint16)
            yield np.array([min(value, self.start)]), members


def _collect(
    runs: Callable[[int, list[float], Stop], Iterator[tuple[Floats, Members]]],
    setting: Setting, low: float, most: int, stopped: Stop,
) -> tuple[Floats, Members, bool]:  # fmt: skip
    """Take the best ``most`` of one run, raising its floor as they come in."""
    floor = [low]
    values = [np.zeros(0)]
    width = len(setting.must) + setting.choose
    members = [np.zeros((0, width), dtype=np.uint16)]
    waiting = 0
    for value, member in runs(setting.choose, floor, stopped):
        # must colours come first in a row; every answer lists its members in order
        values.append(value)
        members.append(np.sort(member, axis=1))
        waiting += len(value)
        if waiting >= most:
            best = best_first(np.concatenate(values), np.concatenate(members), most)
            values, members, waiting = [best[0]], [best[1]], len(best[0])
            floor[0] = float(best[0][-1])
    best = best_first(np.concatenate(values), np.concatenate(members), most)
    return best[0], best[1], len(best[0]) >= most


@dataclass(frozen=True)
class Relaxed:
    """One condition, under every vision it was asked for, and the most that can be asked.

    Attributes
    ----------
    words : str
    at_least : float
        What was asked; 0 for conditions that can only be kept or dropped.
    reached : float or None
        The greatest value that some colourway reaches (or as many as were to pass) which meets
        all the other conditions; None where nothing meets the others.
    argument : str
        The argument of :class:`Wanted` that asks for it; empty for all numbers together, where
        ``reached`` is the share of each that can be asked for.

    Examples
    --------
    >>> print(Relaxed("every edge: ΔE00 at least 12", 12.0, 9.4))
    every edge: ΔE00 at least 12; lower it to 9.4
    """

    words: str
    at_least: float
    reached: float | None
    argument: str = ""

    @property
    def value(self) -> float | None:
        """The most it can ask for, with two decimals; None where that cannot be said."""
        if self.reached is None or self.at_least == 0:
            return None
        # Rounded down: the number as read must still pass.
        return floor(min(self.reached, self.at_least) * 100) / 100

    def __str__(self) -> str:
        if self.reached is None:
            return f"{self.words}; giving up this alone is not enough"
        if self.at_least == 0:
            return f"{self.words}, and something passes"
        if self.reached >= self.at_least:
            return f"{self.words}; it can stay as it is"
        return f"{self.words}; lower it to {self.value:g}"


def _terms(constraints: list[Constraint], scaled: bool = False) -> tuple[Term, ...]:
    """What is reached of several conditions, as it is or as shares of each."""
    return tuple(
        Term(one.kind, one.by, one.vision, one.at_least if scaled else 1.0) for one in constraints
    )


def _greatest(known: Floats, best: Best, measured: bool, some: int) -> Floats:
    """The greatest of what is known and what was found; zeros where nothing was measured."""
    found = best.values if measured else np.zeros(len(best.values))
    return -np.sort(-np.concatenate([known, found]))[:some]


def common_share(wanted: Wanted, some: int = 1, stopped: Stop = never) -> float | None:
    """Return the share of every number of a brief that ``some`` colourways reach, all at once.

    1.2 says that each number could be a fifth greater; None where nothing meets the conditions
    that are no numbers, or no number is asked for.

    Parameters
    ----------
    wanted : Wanted
    some : int
        How many are to pass; fewer do where there are no more.
    stopped : callable, optional
        Once it returns true, :class:`SearchStoppedError` is raised.

    Examples
    --------
    >>> from checkcloth.cloth.palette import Palette
    >>> greys = Palette("greys", ["white", "#eee", "#ddd", "#ccc"])
    >>> share = common_share(Wanted(greys, 2, grounds=["white"], ground_apart=30, stripes_apart=30))
    >>> round(share, 2)
    0.06
    """
    numeric = [constraint for constraint in wanted.constraints if constraint.numeric]
    others = tuple(constraint for constraint in wanted.constraints if not constraint.numeric)
    shares = np.zeros(0)
    for number in range(wanted.setting_count if numeric else 0):
        best = best_of_setting(
            tables_of(wanted, number), wanted, some, constraints=others,
            goal=_terms(numeric, scaled=True), one_order=True, stopped=stopped,
        )  # fmt: skip
        shares = _greatest(shares, best, True, some)
    return float(shares[-1]) if len(shares) else None


def relaxations(wanted: Wanted, some: int = 1, stopped: Stop = never) -> tuple[Relaxed, ...]:
    """Return, for each condition, the most it can ask for while all others hold.

    Where no condition alone is to blame, a last entry says how far all the numbers must
    be lowered together.

    Parameters
    ----------
    wanted : Wanted
        Every ground, strength and mixing is looked through once for each condition.
    some : int
        How many colourways are to pass then; fewer do where there are no more.
    stopped : callable, optional
        Once it returns true, :class:`SearchStoppedError` is raised.

    Examples
    --------
    >>> from checkcloth.cloth.palette import Palette
    >>> greys = Palette("greys", ["white", "#eee", "#ddd", "#ccc"])
    >>> brief = Wanted(greys, 2, grounds=["white"], ground_apart=30)
    >>> print(relaxations(brief)[0])
    ground–single: ΔE00 at least 30; lower it to 3.46
    """
    groups: dict[tuple[str, str], list[Constraint]] = {}
    for constraint in wanted.constraints:
        groups.setdefault((constraint.kind, constraint.by), []).append(constraint)
    reached = dict.fromkeys(groups, np.zeros(0))
    for number in range(wanted.setting_count):
        tables = tables_of(wanted, number)
        for key, group in groups.items():
            kept = tuple(one for one in wanted.constraints if one not in group)
            goal = _terms(group) if group[0].numeric else None
            best = best_of_setting(
                tables, wanted, some, constraints=kept, goal=goal, one_order=True, stopped=stopped
            )
            reached[key] = _greatest(reached[key], best, goal is not None, some)
    out = []
    for key, group in groups.items():
        at_least = group[0].at_least if group[0].numeric else 0.0
        words = _words(group) if at_least else f"drop: {_words(group)}"
        least = float(reached[key][-1]) if len(reached[key]) else None
        out.append(Relaxed(words, at_least, least, argument_of(*key)))
    numbers = sum(one.at_least > 0 for one in out)
    if numbers > 1 and all(one.reached is None for one in out):
        together = common_share(wanted, some, stopped)
        if together is None:
            return tuple(out)
        share = int(together * 1000) / 10
        out.append(
            Relaxed(f"all numbers together: lower each to {share:g} % of it", 0, share / 100)
        )
    return tuple(out)


def _words(group: list[Constraint]) -> str:
    plain = str(Constraint(group[0].kind, group[0].by, group[0].at_least))
    return plain if len(group) == 1 else f"{plain}, to every vision asked for"
