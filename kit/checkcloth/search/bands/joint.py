"""What the colours of some stripes bring together, as tables, in bands that are given.

Every pair of tones that is compared is made of the ground and the colours of one to four
stripes. A least over pairs is therefore a least over sets of stripes, each with a table that
has an axis for each of its stripes. Sets that are laid alike share one table.
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import cached_property, lru_cache
from itertools import combinations
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from checkcloth.cloth.tones import NO_SYMMETRY, canonical_tone, symmetry_of
from checkcloth.scoring.cloth_scores import LEAST_STEP
from checkcloth.scoring.pairs import EDGE_KINDS, tone_pairs
from checkcloth.search.tables import Seen, SettingTables, tables_of
from checkcloth.search.wanted import Constraint, Term, Wanted

Table = NDArray[Any]
Indices = NDArray[np.intp]
#: (warp, weft) of one tone and of another, as stripes from 0 on; -1 is the ground. A weft with
#: colours of its own has the numbers after the warp's.
Pattern = tuple[int, int, int, int]
#: Stripes p and q of which p must have the earlier colour of the palette.
Rules = frozenset[tuple[int, int]]
# Tables of more stripes are worked a slice at a time.
_SLICED = 3
# So many comparisons to find stripes that can be exchanged are made at most.
_MOST_COMPARED = 200_000


class Step(NamedTuple):
    """What the colour of the newest stripe of some brings.

    ``older`` are the other stripes; tables have an axis for each, and the last for the newest.
    """

    older: tuple[int, ...]
    measure: Table | None
    fails: Table | None


class Steps(NamedTuple):
    """A brief in bands: for each stripe in turn, what its colour brings.

    ``fails`` has a bit for each condition, a second one for each that may hold either way
    (``either``: pairs of bits of which one must be clear), and ``barred``, set where the
    arrangement is none: one colour twice, the ground's own, or not the one that stands for
    all that are the same cloth.
    """

    newest: tuple[tuple[Step, ...], ...]
    kind: Any
    conditions: int
    either: tuple[tuple[int, int], ...]
    barred: int

    def failing(self, raw: Table) -> Table:
        """Return which conditions fail, of the bits or-ed over all steps."""
        out = raw & self.kind((1 << self.conditions) - 1)
        for first, second in self.either:
            both = (raw >> self.kind(second - first)) & raw & self.kind(1 << first)
            out = (out & ~self.kind(1 << first)) | both
        return np.asarray(out)


def order_rules(moves: Iterable[tuple[int, ...]]) -> Rules:
    """Return the rules that the least of all arrangements alike follows, and no other.

    An arrangement and its image under an exchange of stripes first differ at the first stripe
    that is moved, for its colours are all different: there the least has the earlier colour.

    >>> sorted(order_rules([(0, 1, 2), (2, 1, 0)]))
    [(0, 2)]
    """
    firsts = ((move, first_moved(move)) for move in moves)
    return frozenset((first, move[first]) for move, first in firsts if first is not None)


def first_moved(move: tuple[int, ...]) -> int | None:
    """Return the first stripe that an exchange moves; None where it moves none."""
    return next((stripe for stripe, to in enumerate(move) if stripe != to), None)


class JointTables:
    """Tables of one setting in the bands of a brief."""

    def __init__(self, tables: SettingTables, wanted: Wanted) -> None:
        assert wanted.bands is not None
        self.wanted, self.tables, self.setting = wanted, tables, tables.setting
        #: How many stripes get a colour, and how many of them, the first, are the warp's.
        self.stripes, self.warps = wanted.slots, wanted.stripes
        self.size = len(wanted.candidates)
        self.symmetry = NO_SYMMETRY if wanted.weft_stripes else symmetry_of(tables.tones)
        self.pairs = tone_pairs(*wanted.bands, self.symmetry, bool(wanted.weft_stripes))
        self.moves = wanted.moves
        #: Stripe -> the candidate that stands there.
        self.placed = {
            stripe: wanted.candidates.index(colour)
            for stripe, colour in enumerate(wanted.placed)
            if colour is not None and wanted.order_counts
        }
        self.rules = order_rules(self.moves) if wanted.order_counts else self._in_palette_order()
        self._known: dict[Any, Table] = {}

    @cached_property
    def fits(self) -> list[int]:
        """Candidates that can be stripes here, in palette order."""
        return sorted((*self.setting.free, *self.setting.must))

    def across(self, one: int, two: int) -> bool:
        """Whether of two stripes one is of the warp and one of the weft, with its own colours."""
        return (one < self.warps) != (two < self.warps)

    def _in_palette_order(self) -> Rules:
        """Rules that leave one order of each choice, the warp's and the weft's."""
        pairs = combinations(range(self.stripes), 2)
        return frozenset(pair for pair in pairs if not self.across(*pair))

    # -- which pairs -------------------------------------------------------------------------

    def _tone_pairs(self, kind: str) -> list[Pattern]:
        """The pairs of a kind; of an edge those that touch, whatever their kind."""
        parts = []
        for name, part in self.pairs.items():
            if name == kind or (kind == "lightness" and name in EDGE_KINDS):
                parts.append(part.indices)
            elif kind == "least_edge":
                parts.append(part.indices[part.touching])
        return self.wanted.slots_of(np.concatenate(parts))

    def _by_stripes(self, kind: str) -> dict[tuple[int, ...], tuple[Pattern, ...]]:
        """The pairs of a kind by the stripes they are made of, which they then number from 0."""
        out: dict[tuple[int, ...], set[Pattern]] = {}
        for row in self._tone_pairs(kind):
            stripes = tuple(sorted({*row} - {-1}))
            number = {stripe: index for index, stripe in enumerate(stripes)} | {-1: -1}
            w1, f1, w2, f2 = (number[stripe] for stripe in row)
            out.setdefault(stripes, set()).add((w1, f1, w2, f2))
        return {stripes: tuple(sorted(found)) for stripes, found in out.items()}

    def exchangeable(self, kinds: Iterable[str]) -> Rules:
        """Return rules that leave one of all arrangements that score the same.

        Two stripes can be exchanged if all pairs of the kinds stay the same pairs; the colours
        of stripes that can are put in palette order.
        """
        if not self.wanted.order_counts:
            return self.rules
        pairs = {(kind, frozenset([row[:2], row[2:]]))
                 for kind in kinds for row in self._tone_pairs(kind)}  # fmt: skip
        if len(pairs) * self.stripes**2 > _MOST_COMPARED:
            return frozenset()
        rules = set()
        free = [stripe for stripe in range(self.stripes) if stripe not in self.placed]
        for one in free:
            others = (two for two in free if two > one)
            two = next((two for two in others if self._same_with(pairs, one, two)), None)
            if two is not None:
                rules.add((one, two))
        return frozenset(rules)

    def _same_with(self, pairs: set[Any], one: int, two: int) -> bool:
        swap = {one: two, two: one}

        if self.across(one, two):
            return False

        def moved(tone: tuple[int, int]) -> tuple[int, int]:
            warp, weft = (swap.get(stripe, stripe) + 1 for stripe in tone)
            warp, weft = canonical_tone(warp, weft, self.symmetry)
            return warp - 1, weft - 1

        return all((kind, frozenset(map(moved, pair))) in pairs for kind, pair in pairs)

    # -- what they bring ---------------------------------------------------------------------

    def _worked(self, pattern: Pattern, by: str, vision: str) -> Table:
        """The table of one pair, its axes in the order in which its stripes first come."""
        seen = self.tables.seen(vision)
        axes = max(pattern) + 1
        steps = np.arange(1, self.size + 1)

        def index(stripe: int, first: slice) -> Indices:
            if stripe < 0:
                return np.zeros((1,) * axes, dtype=np.intp)
            own = steps[first] if stripe == 0 else steps
            return own.reshape([-1 if axis == stripe else 1 for axis in range(axes)])

        def part(first: slice) -> Table:
            w1, f1, w2, f2 = (index(stripe, first) for stripe in pattern)
            found = _compared(seen, by, (w1, f1), (w2, f2))
            shape = [len(steps[first]), *[self.size] * (axes - 1)]
            return np.broadcast_to(found, shape)

        if axes < _SLICED:
            return part(slice(None))
        kind = np.uint8 if by == "steps" else np.float64
        out = np.empty((self.size,) * axes, dtype=kind)
        for first in range(self.size):
            out[first] = part(slice(first, first + 1))[0]
        return out

    def _pair(self, pattern: Pattern, by: str, vision: str) -> Table:
        """The table of one pair, its axes in the order of its stripes."""
        rows = [pattern] if by == "steps" else [pattern, (*pattern[2:], *pattern[:2])]
        least, order = min(_by_first(row) for row in rows)
        key = least, by, vision
        if key not in self._known:
            self._known[key] = self._worked(least, by, vision)
        return self._known[key].transpose(order)

    def _least(self, patterns: tuple[Pattern, ...], by: str, vision: str) -> Table:
        """The least over some pairs; of lightness steps the bits of all."""
        joined = np.bitwise_or if by == "steps" else np.minimum
        key = "least", patterns, by, vision
        if key not in self._known:
            rows = [self._pair(pattern, by, vision) for pattern in patterns]
            self._known[key] = rows[0] if len(rows) == 1 else np.asarray(joined.reduce(rows))
        return self._known[key]

    def steps(
        self, constraints: tuple[Constraint, ...], goal: tuple[Term, ...], rules: Rules
    ) -> Steps:
        """Return conditions and what is ranked by, stripe by stripe."""
        light = [bit for bit, one in enumerate(constraints) if one.kind == "lightness"]
        either = tuple((bit, len(constraints) + i) for i, bit in enumerate(light))
        bits = len(constraints) + len(light)
        kind = np.min_scalar_type(1 << bits).type
        made = Steps((), kind, len(constraints), either, 1 << bits)
        kinds = {*(term.kind for term in goal), *(one.kind for one in constraints)}
        patterns = {name: self._by_stripes(name) for name in kinds}
        stripes = {stripes for found in patterns.values() for stripes in found}
        stripes |= {(p, q) for q in range(self.stripes) for p in range(q)}
        stripes |= {(q,) for q in range(self.stripes)}
        newest: list[list[Step]] = [[] for _ in range(self.stripes)]
        shared: dict[Any, Any] = {}  # sets that are laid alike share their tables
        for some in sorted(stripes, key=lambda some: (len(some), some)):
            here = {name: found[some] for name, found in patterns.items() if some in found}
            ruled = some in rules
            alone = some if len(some) == 1 and self.placed else ()
            across = len(some) == 2 and self.across(*some)
            key = len(some), tuple(sorted(here.items())), ruled, alone, across
            if key not in shared:
                fails = self._fails(here, constraints, made)
                barred = self._barred(some, ruled, made)
                if barred is not None:
                    fails = barred if fails is None else fails | barred
                shared[key] = self._measure(here, goal), fails
            measure, fails = shared[key]
            newest[some[-1]].append(Step(some[:-1], measure, fails))
        return made._replace(newest=tuple(map(tuple, newest)))

    def _measure(
        self, here: dict[str, tuple[Pattern, ...]], goal: tuple[Term, ...]
    ) -> Table | None:
        rows = [
            self._least(here[term.kind], term.by, term.vision) / term.over
            for term in goal
            if term.kind in here
        ]
        return np.ascontiguousarray(np.minimum.reduce(rows)) if rows else None

    def _fails(
        self, here: dict[str, tuple[Pattern, ...]], constraints: tuple[Constraint, ...], made: Steps
    ) -> Table | None:
        out: Table | None = None
        second = dict(made.either)
        for bit, one in enumerate(constraints):
            if one.kind not in here:
                continue
            if one.kind == "lightness":
                steps = self._least(here[one.kind], "steps", one.vision)
                rows = [(steps & 1 != 0, bit), (steps & 2 != 0, second[bit])]
            else:
                rows = [(self._least(here[one.kind], one.by, one.vision) < one.at_least, bit)]
            for failed, at in rows:
                flags = np.where(failed, made.kind(1 << at), made.kind(0))
                out = flags if out is None else out | flags
        return out

    def _barred(self, stripes: tuple[int, ...], ruled: bool, made: Steps) -> Table | None:
        """Bits of what is no arrangement: single colours, and pairs of them."""
        axes = len(stripes)
        if axes > 2 or (axes == 2 and self.across(*stripes) and not self.setting.weft_apart):
            return None
        own = self.placed.get(stripes[0])
        others = {*self.fits} - ({*self.placed.values()} if stripes[0] < self.warps else set())
        bad: Table = np.isin(np.arange(self.size), [*others] if own is None else own, invert=True)
        if axes == 2:
            bad = np.tri(self.size, dtype=bool) if ruled else np.eye(self.size, dtype=bool)
        return np.asarray(np.where(bad, made.kind(made.barred), made.kind(0)))


def _by_first(pattern: Pattern) -> tuple[Pattern, list[int]]:
    """A pattern with its stripes numbered as they first come, and where each axis then lies."""
    number: dict[int, int] = {-1: -1}
    for stripe in pattern:
        number.setdefault(stripe, len(number) - 1)
    w1, f1, w2, f2 = (number[stripe] for stripe in pattern)
    return (w1, f1, w2, f2), [number[stripe] for stripe in range(max(pattern) + 1)]


def _compared(seen: Seen, by: str, one: Any, two: Any) -> Table:
    """How far tones are apart; of ``"steps"`` bit 0 where lightness does not rise, bit 1 fall."""
    if by != "steps":
        return seen.apart(by, one, two)
    step = seen.lab[two][..., 0] - seen.lab[one][..., 0]
    flat = np.where(step > LEAST_STEP, np.uint8(0), np.uint8(1))
    return np.asarray(flat | np.where(step < -LEAST_STEP, np.uint8(0), np.uint8(2)))


def every_order_alike(wanted: Wanted) -> bool:
    """Whether a choice of colours scores the same in every order, by the bands alone.

    >>> from checkcloth import Check, Palette
    >>> wanted = Wanted(Palette("coast", ["white", "navy", "teal", "gold"]), 3, ["white"])
    >>> bands = ("graduated", "1 A, 1 B, 1 C, 1 ground")
    >>> [every_order_alike(wanted.with_(check=Check("1 cm", 3, warp=way))) for way in bands]
    [True, False]
    """
    if not wanted.order_counts:
        return True
    tables = joint_tables(wanted, 0)
    kinds = {*(term.kind for term in wanted.goal), *(one.kind for one in wanted.constraints)}
    return len(tables.exchangeable(kinds)) == wanted.slots - 1 - bool(wanted.weft_stripes)


@lru_cache(maxsize=2)
def joint_tables(wanted: Wanted, number: int) -> JointTables:
    """Return the tables of a setting by its number; blocks of one setting find them ready."""
    return JointTables(tables_of(wanted, number), wanted)
