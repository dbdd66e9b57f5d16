"""Keeps the desk's widget in step with its state, and scores the wall in short parts."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from checkcloth.arguments import Floats
from checkcloth.cloth.tones import Stack, stack
from checkcloth.desk.payloads import kept_list, setting_choices, settings
from checkcloth.desk.state.sort_filter import arrange
from checkcloth.desk.state.state import DeskState, short_name
from checkcloth.desk.tone_packing import bands, counts, pack
from checkcloth.desk.widget import DeskWidget
from checkcloth.scoring.contrast import score_tones
from checkcloth.scoring.vocabulary import COLUMNS, number_of

_PART = 40  # colourways scored at a time: about 8 ms with six stripes


class WallSync:
    """The way from a state to the widget.

    Attributes
    ----------
    widget : DeskWidget
    scores : dict of str to ndarray
        A value for each colourway on the wall, in the order of the deal; empty until they are
        worked out, and again when the tones have moved.
    """

    def __init__(self, widget: DeskWidget) -> None:
        self.widget = widget
        self.scores: dict[str, Floats] = {}
        self._stacks: tuple[Stack, ...] = ()

    def show(self, before: DeskState | None, now: DeskState) -> None:
        """Send the page what changed since ``before``; all of it where that is None."""

        def changed(*names: str) -> bool:
            return before is None or any(
                getattr(before, name) is not getattr(now, name)
                and getattr(before, name) != getattr(now, name)
                for name in names
            )

        dealt = changed("shown")
        with self.widget.hold_sync():
            if dealt:
                self._deal(now)
            if dealt or changed("mixing"):
                self._encode(now)
                self.widget.stamp += 1
            if dealt or changed("strength", "mixing"):
                self.scores = {}
            if changed("kept"):
                self.widget.kept, self.widget.kept_colours = kept_list(now)
                of_kept = counts(card.colourway for card in now.kept)
                self.widget.bands = self.widget.bands | bands(of_kept)
            if self.scores and changed("sort", "limits"):
                self.put_order(now)
        with self.widget.hold_sync():
            if changed("palettes", "palette", "size"):
                self.widget.choices = setting_choices(now)
            self.show_settings(now)

    def show_settings(self, now: DeskState) -> None:
        """Set the traits to the settings; where they are so already, nothing is sent."""
        widget = self.widget
        with widget.hold_sync():
            for name, value in settings(now).items():
                if getattr(widget, name) != value:
                    setattr(widget, name, value)

    def _deal(self, now: DeskState) -> None:
        members = [card.colourway for card in now.shown]
        widget = self.widget
        self._stacks = stack(members)
        widget.counts = counts(members)
        widget.numbers = [card.number for card in now.shown]
        widget.names = [short_name(colourway) for colourway in members]
        # Those of before stay: a close look may still show them when its new one is on its way.
        widget.bands = widget.bands | bands(widget.counts)
        widget.strengths = np.array([c.strength for c in members], dtype="<f4").tobytes()
        widget.order = list(range(len(members)))
        widget.hidden, widget.figures = [], []
        widget.dealt += 1

    def _encode(self, now: DeskState) -> None:
        packed = pack([card.colourway for card in now.shown], now.mixing)
        widget = self.widget
        widget.recipes, widget.recipe_of, widget.colours = packed

    def score_parts(self, now: DeskState) -> Iterator[None]:
        """Score the wall as it looks now, yielding after every part; all of it stands at the end.

        In between the kernel answers whoever asks.
        """
        found: dict[str, Floats] = {}
        for group in self._stacks:
            for start in range(0, len(group.indices), _PART):
                part = slice(start, start + _PART)
                tones = group.tones(now.strength, now.mixing, part)
                score = score_tones(tones, self.widget.vision)
                columns = {"least_edge": score.least_edge, **score.columns()}
                for name, values in columns.items():
                    column = found.setdefault(name, np.full(len(now.shown), np.nan))
                    column[group.indices[part]] = values
                yield
        self.scores = found

    def put_order(self, now: DeskState) -> None:
        """Put the order up, what it hides, and the figure under each colourway."""
        arranged = arrange(self.scores, now)
        widget = self.widget
        column = now.sort.removeprefix("-") or "least_edge"
        lead = "ΔE " if "de2000" in column or column == "least_edge" else ""
        with widget.hold_sync():
            widget.order = list(arranged.order)
            widget.hidden = [[index, why] for index, why in arranged.hidden.items()]
            widget.figure_words = COLUMNS[column]
            widget.figures = [lead + number_of(column, value) for value in self.scores[column]]
