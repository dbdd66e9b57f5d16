"""Keeps the desk's widget in step with its state, and scores the wall in short parts."""

from __future__ import annotations

from collections.abc import Callable, Generator, Iterable, Iterator, Sequence
from dataclasses import replace
from functools import partial
from typing import Any

import numpy as np
import traitlets

from checkcloth.arguments import Floats
from checkcloth.cloth.check import Check
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.spectral import seen_under
from checkcloth.cloth.tones import Stack, stack
from checkcloth.desk.payloads import (
    kept_list,
    offered_stocks,
    own_numbers,
    setting_choices,
    settings,
)
from checkcloth.desk.state.sort_filter import arrange
from checkcloth.desk.state.state import Card, DeskState, short_name
from checkcloth.desk.widget import DeskWidget
from checkcloth.export.page.tone_packing import Packed, counts, laid, pack, weft_counts
from checkcloth.scoring.contrast import score_tones
from checkcloth.scoring.pairs import EDGE_KINDS, KINDS, tone_pairs
from checkcloth.scoring.vocabulary import COLUMNS, number_of

_PART = 100  # colourways scored at a time: about 8 ms with six stripes


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
        self._packed = pack([])

    def look_under(self, now: DeskState, light: str) -> None:
        """Show the wall as it looks under a light of the CIE's."""
        with self.widget.hold_sync():
            self.widget.light = light
            self._packed = self._pack(now, range(len(now.shown)))
            self._show_colours()
        self.scores = {}

    def _lit(self, colourway: Colourway) -> Colourway:
        return seen_under(colourway, self.widget.light)

    def _seen(self, now: DeskState, card: Card) -> Colourway:
        """A wall card's colours as they look: under the light, on the stock."""
        return self._lit(now.on_stock(card))

    def show(self, before: DeskState | None, now: DeskState) -> None:
        """Send the page what changed since ``before``; all of it where that is None."""

        def changed(*names: str) -> bool:
            return before is None or any(
                getattr(before, name) is not getattr(now, name)
                and getattr(before, name) != getattr(now, name)
                for name in names
            )

        relaid = before is None or before.uneven_check != now.uneven_check
        dealt = changed("shown")
        edited = _edited(before, now) if dealt else []
        with self.widget.hold_sync():
            self.widget.laid = _laid(now)  # the same is not sent again
            self._show_wall(now, edited, dealt=dealt, mixing=changed("mixing", "stock"))
            if relaid or (dealt and not edited) or changed("strength", "mixing", "stock"):
                self.scores = {}
            if edited and self.scores:
                self._score_again(now, edited)
            if changed("kept"):
                self.widget.kept, self.widget.kept_colours = kept_list(now)
            if self.scores and changed("sort", "limits"):
                self.put_order(now)
        with self.widget.hold_sync():
            offered = changed("stock", "kept") and _stocks(before) != _stocks(now)
            if offered or changed("palettes", "palette", "size"):
                self.widget.choices = setting_choices(now)
            self.show_settings(now)

    def _show_wall(self, now: DeskState, edited: list[int], *, dealt: bool, mixing: bool) -> None:
        """Send the wall, where it was dealt or mixed anew: only ``edited``, if these are all."""
        if edited:
            self._send_edited(now, edited)
        elif dealt:
            self._send_wall(now)
            self._put_as_dealt(now)
        if (dealt and not edited) or mixing:
            self._packed = self._pack(now, range(len(now.shown)))
        if dealt or mixing:
            self._show_colours()

    def _show_colours(self) -> None:
        packed, widget = self._packed, self.widget
        widget.recipes, widget.recipe_of = packed.recipes, packed.recipe_of
        widget.colours = packed.colours
        widget.stamp += 1

    def show_settings(self, now: DeskState) -> None:
        """Set the traits to the settings; where they are so already, nothing is sent."""
        widget = self.widget
        with widget.hold_sync():
            for name, value in settings(now).items():
                if getattr(widget, name) != value:
                    self._put_setting(name, value)

    def _put_setting(self, name: str, value: object) -> None:
        """Set a trait; a widget linked to it that cannot hold the value stays where it is.

        A slider has no place for None, by which a wall says that each has its own strength.
        """
        try:
            setattr(self.widget, name, value)
        except traitlets.TraitError:
            if getattr(self.widget, name) != value:
                raise

    def _pack(self, now: DeskState, indices: Iterable[int]) -> Packed:
        """Pack cards of the wall, mixed as it is, or as they are where they keep their own."""
        cards = [now.shown[index] for index in indices]
        own = {index for index, card in enumerate(cards) if card.own}
        members = [self._seen(now, card) for card in cards]
        return pack(members, now.mixing, own, wefts=True)

    def _send_wall(self, now: DeskState) -> None:
        members = [card.colourway for card in now.shown]
        widget = self.widget
        widget.counts = counts(members)
        widget.numbers = [card.number for card in now.shown]
        widget.names = [short_name(colourway) for colourway in members]
        widget.weft_counts = weft_counts(members)
        widget.strengths = np.array([c.strength for c in members], dtype="<f4").tobytes()
        self._tell_dealt(now)

    def _send_edited(self, now: DeskState, edited: list[int]) -> None:
        """Send what a few cards have become; the others are not looked at."""
        widget = self.widget
        each, wefts = bytearray(widget.counts), bytearray(widget.weft_counts or len(now.shown))
        names = list(widget.names)
        strengths = np.frombuffer(widget.strengths, dtype="<f4").copy()
        for index in edited:
            colourway = now.shown[index].colourway
            each[index], names[index] = len(colourway.stripes), short_name(colourway)
            wefts[index] = len(colourway.weft_stripes)
            strengths[index] = colourway.strength
            self._packed = self._packed.with_one(index, self._pack(now, [index]))
        widget.counts, widget.names = bytes(each), names
        widget.weft_counts = bytes(wefts) if any(wefts) else b""
        widget.strengths = strengths.tobytes()
        self._tell_dealt(now)

    def _tell_dealt(self, now: DeskState) -> None:
        widget = self.widget
        if widget.facts:  # in the same message: the page mixes by it; at first all of it follows
            widget.facts = widget.facts | {"own": own_numbers(now)}
        widget.dealt += 1

    def _put_as_dealt(self, now: DeskState) -> None:
        widget = self.widget
        widget.order = list(range(len(now.shown)))
        widget.hidden, widget.figures = [], []

    def order_parts(self, now: DeskState) -> Iterator[None]:
        """Put up the order as it looks now from what it takes alone, yielding after every part.

        Of six stripes a tenth of the pairs share an edge, and most orders go by those.
        """
        kinds = _kinds_for(now)
        if kinds != KINDS:
            found = yield from self._scored(now, kinds)
            self._put(now, found)

    def score_parts(self, now: DeskState) -> Iterator[None]:
        """Score the wall as it looks now, yielding after every part; all of it stands at the end.

        In between the kernel answers whoever asks.
        """
        self.scores = yield from self._scored(now, KINDS)

    def _scored(
        self, now: DeskState, kinds: tuple[str, ...]
    ) -> Generator[None, None, dict[str, Floats]]:
        found: dict[str, Floats] = {}
        size = _PART if kinds == KINDS else 4 * _PART
        for own, group in _stacked(now.shown, partial(self._seen, now)):
            strength, mixing = (None, None) if own else (now.strength, now.mixing)
            check = now.check_of_counts(group.stripes.shape[1], group.weft_colours.shape[1])
            for start in range(0, len(group.indices), size):
                part = slice(start, start + size)
                columns = self._columns(
                    group.tones(strength, mixing, part), check,
                    group.weft_stripes is not None, kinds,
                )  # fmt: skip
                for name, values in columns.items():
                    column = found.setdefault(name, np.full(len(now.shown), np.nan))
                    column[group.indices[part]] = values
                yield
        return found

    def _columns(
        self, tones: Floats, check: Check, own_weft: bool, kinds: tuple[str, ...] = KINDS
    ) -> dict[str, Floats]:
        warp, weft = (None, None) if check.is_even else check.counted_bands
        score = score_tones(
            tones, self.widget.vision, warp_bands=warp, weft_bands=weft, kinds=kinds,
            own_weft=own_weft,
        )  # fmt: skip
        return {"least_edge": score.least_edge, **score.columns()}

    def _score_again(self, now: DeskState, edited: list[int]) -> None:
        """Score what was edited in place; the order stays until something else changes it."""
        self.scores = {name: values.copy() for name, values in self.scores.items()}
        for index in edited:
            shown = now.as_shown(now.shown[index])
            columns = self._columns(
                self._lit(shown).tones[None], now.check_for(shown), bool(shown.weft_stripes)
            )
            for name, values in columns.items():
                self.scores[name][index] = values[0]
        self._put_figures(now, self.scores)

    def put_order(self, now: DeskState) -> None:
        """Put the order up, what it hides, and the figure under each colourway."""
        self._put(now, self.scores)

    def _put(self, now: DeskState, scores: dict[str, Floats]) -> None:
        arranged = arrange(scores, now)
        with self.widget.hold_sync():
            self.widget.order = list(arranged.order)
            self.widget.hidden = [[index, why] for index, why in arranged.hidden.items()]
            self._put_figures(now, scores)

    def _put_figures(self, now: DeskState, scores: dict[str, Floats]) -> None:
        widget = self.widget
        column = now.sort.removeprefix("-") or "least_edge"
        lead = "ΔE " if "de2000" in column or column == "least_edge" else ""
        widget.figure_words = COLUMNS[column]
        widget.figures = [lead + number_of(column, value) for value in scores[column]]


def _kinds_for(now: DeskState) -> tuple[str, ...]:
    """Which kinds of pairs the order, what is hidden and the figures go by."""
    columns = {now.sort.removeprefix("-") or "least_edge", *(limit.column for limit in now.limits)}
    kinds = {kind for kind in KINDS if any(column.startswith(f"{kind}_") for column in columns)}
    if "least_edge" in columns:  # in bands of one's own any kind may touch
        pairs = tone_pairs(*now.check.counted_bands)
        kinds |= {*EDGE_KINDS, *(kind for kind in KINDS if pairs[kind].touching.any())}
    return tuple(kind for kind in KINDS if kind in kinds) or EDGE_KINDS[:1]


def _laid(state: DeskState) -> dict[str, Any]:
    """The desk's bands for the page; of an even check none, and its counts where they are two."""
    uneven = laid(state.uneven_check)
    return uneven or ({"stripes": state.stripes, "wefts": state.wefts} if state.wefts else {})


def _stocks(state: DeskState | None) -> list[str]:
    return [] if state is None else [stock.text for stock in offered_stocks(state)]


def _edited(before: DeskState | None, now: DeskState) -> list[int]:
    """Which wall cards were changed where they are; none where others came or went."""
    if before is None or len(before.shown) != len(now.shown):
        return []
    pairs = zip(before.shown, now.shown, strict=True)
    other = [index for index, (old, new) in enumerate(pairs) if old is not new]
    if any(before.shown[index].number != now.shown[index].number for index in other):
        return []
    return [index for index in other if before.shown[index] != now.shown[index]]


def _stacked(cards: Sequence[Card], seen: Callable[[Card], Colourway]) -> list[tuple[bool, Stack]]:
    """The cards in arrays, those that keep their own strength and mixing apart from the others."""
    stacked: list[tuple[bool, Stack]] = []
    for own in (False, True):
        indices = np.array([i for i, card in enumerate(cards) if card.own is own], dtype=np.intp)
        groups = stack(seen(cards[i]) for i in indices)
        stacked += [(own, replace(group, indices=indices[group.indices])) for group in groups]
    return stacked
