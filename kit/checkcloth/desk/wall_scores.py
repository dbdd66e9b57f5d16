"""The scores of everything on the wall, worked out in short parts."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from checkcloth.arguments import Floats
from checkcloth.desk.state.sort_filter import score_part
from checkcloth.desk.tone_packing import Batch

__all__ = ["Tally"]

_PART = 40  # colourways a part: about 8 ms with six stripes


class Tally:
    """Score columns of a wall; empty until they are worked out.

    Attributes
    ----------
    columns : dict of str to ndarray
        A value for each colourway, in the order of the deal.

    Examples
    --------
    >>> Tally().columns
    {}
    """

    def __init__(self) -> None:
        self.columns: dict[str, Floats] = {}

    def clear(self) -> None:
        """Forget the scores: the tones have moved."""
        self.columns = {}

    def work(
        self,
        groups: Sequence[Batch],
        strength: float | None,
        mixing: str | None,
        vision: str,
    ) -> Iterator[None]:
        """Work the scores out, yielding after every part; they stand when all are done."""
        found: dict[str, Floats] = {}
        total = sum(len(group.places) for group in groups)
        for group in groups:
            for start in range(0, len(group.places), _PART):
                part = slice(start, start + _PART)
                for name, values in score_part(group, strength, mixing, vision, part).items():
                    column = found.setdefault(name, np.full(total, np.nan))
                    column[group.places[part]] = values
                yield
        self.columns = found
