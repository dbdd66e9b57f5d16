"""What to relax: how far a condition must give way before something passes. Exact."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from checkcloth.arguments import Floats
from checkcloth.search.best import best_of_case
from checkcloth.search.constraint import Need
from checkcloth.search.tables import CaseTables
from checkcloth.search.wanted import Wanted

__all__ = ["Relaxed", "relaxations"]


@dataclass(frozen=True)
class Relaxed:
    """One condition, under every vision it was asked for, and the most that can be asked.

    Attributes
    ----------
    words : str
    at_least : float
        What was asked; 0 for conditions that can only be kept or dropped.
    reached : float or None
        The greatest value that some colourway reaches which meets all the other
        conditions; None where nothing meets the others.

    Examples
    --------
    >>> print(Relaxed("every edge at least ΔE00 12", 12.0, 9.4))
    every edge at least ΔE00 12: lower it to 9.4
    """

    words: str
    at_least: float
    reached: float | None

    def __str__(self) -> str:
        if self.reached is None:
            return f"{self.words}: giving up this alone is not enough"
        if self.at_least == 0:
            return f"{self.words}, and something passes"
        if self.reached >= self.at_least:
            return f"{self.words}: can stay as it is"
        return f"{self.words}: lower it to {_down(self.reached)}"


def _down(value: float) -> str:
    """Two decimals, rounded down: the number as read must still pass."""
    return f"{int(value * 100) / 100:g}"


def _least(tables: CaseTables, needs: list[Need], scaled: bool = False) -> Floats:
    """Table of the least that is reached of several needs, as it is or as shares of each."""
    parts = [
        tables.least(need.kind, need.by, need.vision) / (need.at_least if scaled else 1)
        for need in needs
    ]
    return np.asarray(np.minimum.reduce(parts))


def _numeric(need: Need) -> bool:
    return need.kind not in ("lightness", "crossing_crossing") and need.at_least > 0


def relaxations(wanted: Wanted) -> tuple[Relaxed, ...]:
    """Return, for each condition, the most it can ask for while all others hold.

    Where no condition alone is to blame, a last entry says how far all the numbers must
    be lowered together.

    Parameters
    ----------
    wanted : Wanted
        Every ground, strength and mixing is looked through once for each condition.

    Examples
    --------
    >>> from checkcloth.cloth.palette import Palette
    >>> greys = Palette("greys", ["white", "#eee", "#ddd", "#ccc"])
    >>> brief = Wanted(greys, 2, grounds=["white"], ground_apart=30)
    >>> print(relaxations(brief)[0])
    every stripe at least ΔE00 30 from the ground: lower it to 3.46
    """
    groups: dict[tuple[str, str], list[Need]] = {}
    for need in wanted.needs:
        groups.setdefault((need.kind, need.by), []).append(need)
    reached: dict[tuple[str, str], float | None] = dict.fromkeys(groups)
    numeric = [need for need in wanted.needs if _numeric(need)]
    others = tuple(need for need in wanted.needs if not _numeric(need))
    together: float | None = None
    for number in range(wanted.case_count):
        tables = CaseTables(wanted, wanted.case(number))
        for key, group in groups.items():
            rest = tuple(need for need in wanted.needs if need not in group)
            measure = _least(tables, group) if _numeric(group[0]) else None
            best = best_of_case(tables, wanted, 1, needs=rest, measure=measure)
            if len(best.values):
                value = 0.0 if measure is None else float(best.values[0])
                reached[key] = max(value, reached[key] or 0.0)
        if numeric:
            shares = _least(tables, numeric, scaled=True)
            best = best_of_case(tables, wanted, 1, needs=others, measure=shares)
            if len(best.values):
                together = max(float(best.values[0]), together or 0.0)
    out = []
    for key, group in groups.items():
        at_least = group[0].at_least if _numeric(group[0]) else 0.0
        words = _words(group) if at_least else f"drop: {_words(group)}"
        out.append(Relaxed(words, at_least, reached[key]))
    if len(numeric) > 1 and together is not None and all(one.reached is None for one in out):
        share = int(together * 1000) / 10
        out.append(Relaxed(f"all numbers together: lower each to {share:g} % of it", 0, 0.0))
    return tuple(out)


def _words(group: list[Need]) -> str:
    plain = str(Need(group[0].kind, group[0].by, group[0].at_least))
    return plain if len(group) == 1 else f"{plain}, to every vision asked for"
