"""Sending the page what changed: tones at once, all else when the hand rests."""

from __future__ import annotations

import asyncio
from collections.abc import Iterable
from typing import TYPE_CHECKING

from checkcloth.desk.debounce import when_still
from checkcloth.desk.payloads import facts, kept_list
from checkcloth.desk.state import sort_filter as sieve
from checkcloth.desk.state.state import DeskState, short_name
from checkcloth.desk.tone_packing import Batch, bands, batches, counts, pack
from checkcloth.desk.wall_scores import Tally
from checkcloth.scoring.words import COLUMNS, number_of

if TYPE_CHECKING:
    from checkcloth.desk.desk import Desk

__all__ = ["Sending"]


class Sending:
    """The way from a desk's state to its wall and controls.

    Attributes
    ----------
    tally : Tally
    saved, message : str
        What the page says about the set file, and about what was done last.
    showing : bool
        Set while controls are made to show the state, so that nobody takes it for a wish.
    """

    def __init__(self, desk: Desk) -> None:
        self.desk = desk
        self.tally = Tally()
        self.saved = ""
        self.message = ""
        self.showing = False
        self._batches: tuple[Batch, ...] = ()
        self._settling: asyncio.Task[None] | None = None

    def send(self, before: DeskState | None) -> None:
        """Send the page what changed since ``before``; all of it where that is None."""
        now, wall = self.desk.state, self.desk.wall
        dealt = before is None or before.shown is not now.shown
        moved = dealt or before is None or (before.strength, before.mixing) != (
            now.strength, now.mixing)  # fmt: skip
        kept = before is None or before.kept is not now.kept
        sieved = before is None or (before.sort, before.limits) != (now.sort, now.limits)
        with wall.hold_sync():
            if dealt:
                members = [card.colourway for card in now.shown]
                self._batches = batches(members)
                wall.counts = counts(members)
                wall.numbers = [card.number for card in now.shown]
                wall.names = [short_name(one) for one in members]
                wall.bands = bands([*wall.counts, *counts(now.chosen_set().colourways)])
                wall.order = list(range(len(members)))
                wall.hidden, wall.figures = [], []
                wall.dealt += 1
            if moved:
                wall.tones = pack(self._batches, now.strength, now.mixing, self.desk.vision)
                wall.stamp += 1
                self.tally.clear()
            if kept and now.kept:
                wall.bands = wall.bands | bands(counts(c.colourway for c in now.kept))
            if kept:
                wall.kept, wall.kept_tones = kept_list(now)
            if sieved and self.tally.columns:
                self._put_order()
        if kept and before is not None:
            self.desk.save()
        if self._only_moved(before):
            self._settle_soon()
            return
        self.put_facts()
        if not self.tally.columns:
            self._settle_soon()

    def _only_moved(self, before: DeskState | None) -> bool:
        """Whether a slider moved under the hand: then all but the tones can wait."""
        if before is None:
            return False
        now = self.desk.state
        return before.with_(strength=now.strength, mixing=now.mixing, size=now.size) == now

    def put_facts(self) -> None:
        """Say on the page what stands around the wall: undo, locks, messages, controls."""
        self._show_controls()
        told = facts(self.desk.history) | {
            "vision": self.desk.vision,
            "message": self.message,
            "saved": self.saved,
            "retired": self.desk.retired,
            "offer": [
                {
                    "file": one.path.name,
                    "fault": one.fault,
                    "words": f"{one.path.name}, {one.when}: "
                    + (f"cannot be opened ({one.fault})" if one.fault else f"{one.kept} kept"),
                }
                for one in self.desk.offer
            ],
        }
        wall, state = self.desk.wall, self.desk.state
        with wall.hold_sync():
            wall.inches = state.size.inches
            wall.steps = [step.inches for step in self.desk.controls.steps]
            wall.marks = {str(number): mark for number, mark in state.marks.items()}
            wall.facts = told

    def _show_controls(self) -> None:
        now, controls = self.desk.state, self.desk.controls
        self.showing = True
        try:
            controls.show_size(now.size)
            controls.stripes.value = now.stripes
            if now.strength is not None:
                controls.strength.value = round(now.strength * 100)
            controls.palette.value = now.palette
            controls.show_grounds(self.desk.palette, now.ground)
            controls.show_mixing(now.mixing)
            controls.show_count(now.count)
        finally:
            self.showing = False

    # -- scoring, when the hand rests -----------------------------------------------------------

    def _settle_soon(self) -> None:
        self._settling = when_still(self._settling, self._settle, self.desk.trouble)

    def _settle(self) -> Iterable[None]:
        """Put up what followed from the last move; gives way after every short part."""
        self.desk.history = self.desk.history.pause()
        self.put_facts()
        yield
        if not self.tally.columns:
            yield from self.score_parts()
        with self.desk.wall.hold_sync():
            self._put_order()

    def score_parts(self) -> Iterable[None]:
        """Score the wall as it looks now, part by part."""
        return self.tally.work(
            self._batches, self.desk.state.strength, self.desk.state.mixing, self.desk.vision
        )

    def _put_order(self) -> None:
        """Put the order up, what it hides, and the figure under each colourway."""
        arranged = sieve.arrange(self.tally.columns, self.desk.state)
        self.desk.wall.order = list(arranged.order)
        self.desk.wall.hidden = [[place, why] for place, why in arranged.hidden.items()]
        column = self.desk.state.sort.removeprefix("-") or "least_edge"
        self.desk.wall.figure_words = COLUMNS[column]
        lead = "ΔE " if "de2000" in column or column == "least_edge" else ""
        self.desk.wall.figures = [
            lead + number_of(column, value) for value in self.tally.columns[column]
        ]

    def stop(self) -> None:
        """Give up what waits for the hand to rest."""
        if self._settling is not None:
            self._settling.cancel()
