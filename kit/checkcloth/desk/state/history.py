"""Undo and redo: states in a row, each with what was done to reach it."""

from __future__ import annotations

from dataclasses import dataclass, replace

from checkcloth.desk.state.state import DeskState

__all__ = ["MOST_STEPS", "History"]

MOST_STEPS = 200


@dataclass(frozen=True)
class History:
    """The present state, and those before and after it.

    Attributes
    ----------
    now : DeskState
    past, future : tuple of (DeskState, str)
        Each with the words for the step between it and its neighbour; the last of ``past``
        and the first of ``future`` are the nearest.
    strand : str
        Steps of one strand that follow each other (one drag of a slider) undo as one.

    Examples
    --------
    >>> from checkcloth import Length
    >>> start = History(DeskState(Length("7 mm")))
    >>> later = start.step(start.now.with_(strength=0.8), "strength 80 %")
    >>> later.undo().now.strength, later.undo().redo().now.strength
    (0.5, 0.8)
    """

    now: DeskState
    past: tuple[tuple[DeskState, str], ...] = ()
    future: tuple[tuple[DeskState, str], ...] = ()
    strand: str = ""

    def step(self, state: DeskState, words: str, strand: str = "") -> History:
        """Return the history with ``state`` as its present; what was undone is forgotten."""
        if state == self.now:
            return self
        if strand and strand == self.strand and self.past:
            past = (*self.past[:-1], (self.past[-1][0], words))
        else:
            past = (*self.past, (self.now, words))[-MOST_STEPS:]
        return History(state, past, (), strand)

    def pause(self) -> History:
        """End the strand: the next step undoes by itself."""
        return replace(self, strand="") if self.strand else self

    @property
    def undoes(self) -> str:
        """What undo would take back, or ""."""
        return self.past[-1][1] if self.past else ""

    @property
    def redoes(self) -> str:
        """What redo would do again, or ""."""
        return self.future[0][1] if self.future else ""

    def undo(self) -> History:
        """Return the history one step back; at its beginning, the same."""
        if not self.past:
            return self
        state, words = self.past[-1]
        return History(state, self.past[:-1], ((self.now, words), *self.future))

    def redo(self) -> History:
        """Return the history one step on; at its end, the same."""
        if not self.future:
            return self
        state, words = self.future[0]
        return History(state, (*self.past, (self.now, words)), self.future[1:])
