"""How a range falls on sheets of paper: its one scale, and which row stands where. No drawing."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil
from typing import NamedTuple

from checkcloth.cloth.bands import Band
from checkcloth.cloth.chosen import ChosenSet
from checkcloth.export.members import family_order

# Reductions, the largest first; a range has the largest at which one repeat and a band fit.
_PARTS = (1, 2, 3, 4, 6, 8, 12, 16, 24, 32, 48, 64)
# Up to so many colourways stand two by two. Millimetres of a cloth at most: wide and high.
_FEW = 4
_ROOM = {2: (85.0, 84.0), 3: (54.0, 42.0)}
_ROWS = {2: 2, 3: 3}
# Rows on one sheet where it saves one, and their height allows them.
_MORE_ROWS = {2: 2, 3: 4}
_SLACK = 0.01


class Row(NamedTuple):
    """One row of cloths: its family, whether that begins here, and indices in the set."""

    family: str
    begins: bool
    indices: tuple[int, ...]


@dataclass(frozen=True)
class SheetPlan:
    """The scale of a range on paper."""

    columns: int
    part: int  #: the cloth is drawn at 1/part of true size
    check: float  #: millimetres of a check on paper
    across: int  #: checks of each cloth
    down: int
    least: int  #: checks down that hold a repeat and its first band

    @property
    def wide(self) -> float:
        """Millimetres of a cloth."""
        return self.across * self.check

    @property
    def high(self) -> float:
        """Millimetres of a cloth."""
        return self.down * self.check

    @property
    def most_rows(self) -> tuple[int, int]:
        """Rows on one sheet, and where that saves a sheet."""
        return _ROWS[self.columns], _MORE_ROWS[self.columns]

    @property
    def words(self) -> str:
        """The scale for people."""
        return "true size" if self.part == 1 else f"1/{self.part} of true size"


def _once_and_again(bands: Sequence[Band]) -> int:
    """Whole checks that hold a repeat and its first band, so that it is seen to close."""
    return ceil(sum(band.checks for band in bands) + bands[0].checks)


def plan_sheets(chosen: ChosenSet) -> SheetPlan:
    """Return one scale for all of a range.

    >>> from checkcloth import Check, Colourway
    >>> towels = ChosenSet(Check("1/2 in", 2), [Colourway("white", ["navy", "teal"])] * 9)
    >>> plan = plan_sheets(towels)
    >>> plan.columns, plan.words, plan.across, plan.down
    (3, '1/2 of true size', 8, 6)
    """
    checks = [chosen.check_for(colourway) for colourway in chosen]
    across = max(_once_and_again(check.warp_bands) for check in checks)
    down = max(_once_and_again(check.weft_bands) for check in checks)
    two_by_two = len(chosen) <= _FEW and len(list(rows_of(chosen, 2))) <= _ROWS[2]
    columns = 2 if two_by_two else 3
    wide, high = _ROOM[columns]
    size = float(chosen.check.size.mm)
    fits = (
        part
        for part in _PARTS
        if across * size / part <= wide + _SLACK and down * size / part <= high + _SLACK
    )
    part = next(fits, _PARTS[-1])
    check = float(Fraction(size) / part)
    return SheetPlan(
        columns,
        part,
        check,
        max(1, int((wide + _SLACK) / check)),
        max(1, int((high + _SLACK) / check)),
        down,
    )


def rows_of(chosen: ChosenSet, columns: int) -> Iterator[Row]:
    """Yield the rows: a family begins one, and goes on with the next where it is longer."""
    for family, indices in family_order(chosen):
        for start in range(0, len(indices), columns):
            yield Row(family, start == 0, tuple(indices[start : start + columns]))


def leaves_of(heights: Sequence[float], first: float, other: float, most: int) -> list[list[int]]:
    """Return the indices of rows on each sheet, at most so many; no row is split.

    ``first`` and ``other`` are the room on the first sheet, and on those after it.

    >>> leaves_of([70, 70, 70, 70], 225, 240, 3)
    [[0, 1, 2], [3]]
    """
    leaves: list[list[int]] = [[]]
    left = first
    for index, height in enumerate(heights):
        if leaves[-1] and (height > left or len(leaves[-1]) == most):
            leaves.append([])
            left = other
        leaves[-1].append(index)
        left -= height
    return leaves
