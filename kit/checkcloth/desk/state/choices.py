"""Choosing: keep, drop, name, note, reorder, lay side by side. Each returns a new state."""

from __future__ import annotations

from dataclasses import replace

from checkcloth.desk.state.state import Card, DeskState
from checkcloth.errors import ArgumentError

__all__ = ["MOST_COMPARED", "compare", "drop", "keep", "move", "name", "note", "toggle"]

MOST_COMPARED = 4


def keep(state: DeskState, number: int) -> DeskState:
    """Keep a wall card as it looks now, at the end of the kept; kept twice is kept once.

    >>> from checkcloth import Colourway, Length
    >>> state = DeskState(Length("7 mm")).deal([Colourway("white", ["navy"])], "by hand", {})
    >>> len(keep(state, 1).kept), len(state.kept)
    (1, 0)
    """
    card = _on_wall(state, number)
    if state.kept_as(card):
        return state
    kept = Card(state.next_number, state.as_shown(card), card.origin, card.note)
    return state.with_(kept=(*state.kept, kept), next_number=state.next_number + 1)


def drop(state: DeskState, number: int) -> DeskState:
    """Drop a kept card, or the kept card that a wall card stands for.

    >>> from checkcloth import Colourway, Length
    >>> state = DeskState(Length("7 mm")).deal([Colourway("white", ["navy"])], "by hand", {})
    >>> len(drop(keep(state, 1), 1).kept)
    0
    """
    return _drop(state, _kept(state, number))


def toggle(state: DeskState, number: int) -> DeskState:
    """Drop what is kept, keep what is not.

    >>> from checkcloth import Colourway, Length
    >>> state = DeskState(Length("7 mm")).deal([Colourway("white", ["navy"])], "by hand", {})
    >>> len(toggle(state, 1).kept), len(toggle(toggle(state, 1), 1).kept)
    (1, 0)
    """
    if any(card.number == number for card in state.kept):
        return drop(state, number)
    kept = state.kept_as(_on_wall(state, number))
    return _drop(state, kept) if kept else keep(state, number)


def name(state: DeskState, number: int, text: str) -> DeskState:
    """Name a colourway; one on the wall is kept first, for a name is a choice.

    >>> from checkcloth import Colourway, Length
    >>> state = DeskState(Length("7 mm")).deal([Colourway("white", ["navy"])], "by hand", {})
    >>> name(state, 1, "Quay").kept[0].colourway.name
    'Quay'
    """
    state, card = _kept_first(state, number)
    return _swap(state, replace(card, colourway=card.colourway.with_(name=text)))


def note(state: DeskState, number: int, text: str) -> DeskState:
    """Write a note to a colourway; one on the wall is kept first.

    >>> from checkcloth import Colourway, Length
    >>> state = DeskState(Length("7 mm")).deal([Colourway("white", ["navy"])], "by hand", {})
    >>> note(state, 1, "for the aprons").kept[0].note
    'for the aprons'
    """
    state, card = _kept_first(state, number)
    return _swap(state, replace(card, note=text))


def move(state: DeskState, number: int, place: int) -> DeskState:
    """Move a kept card to another place, counted from 0 and held within the row.

    >>> from checkcloth import Colourway, Length
    >>> both = [Colourway("white", ["navy"]), Colourway("white", ["teal"])]
    >>> state = DeskState(Length("7 mm")).deal(both, "by hand", {})
    >>> state = keep(keep(state, 1), 2)
    >>> [card.number for card in move(state, state.kept[0].number, 1).kept]
    [4, 3]
    """
    card = _kept(state, number)
    rest = [other for other in state.kept if other is not card]
    rest.insert(min(max(place, 0), len(rest)), card)
    return state.with_(kept=tuple(rest))


def compare(state: DeskState, number: int) -> DeskState:
    """Lay a card beside the others, or take it away again.

    Raises
    ------
    ArgumentError
        For a fifth card.

    Examples
    --------
    >>> from checkcloth import Colourway, Length
    >>> state = DeskState(Length("7 mm")).deal([Colourway("white", ["navy"])], "by hand", {})
    >>> compare(state, 1).compared
    (1,)
    """
    state.find(number)
    if number in state.compared:
        return state.with_(compared=tuple(n for n in state.compared if n != number))
    if len(state.compared) == MOST_COMPARED:
        raise ArgumentError(
            f"at most {MOST_COMPARED} colourways lie side by side; take one away first"
        )
    return state.with_(compared=(*state.compared, number))


def _on_wall(state: DeskState, number: int) -> Card:
    for card in state.shown:
        if card.number == number:
            return card
    raise ArgumentError("number", "of a colourway on the wall", number)


def _kept(state: DeskState, number: int) -> Card:
    for card in state.kept:
        if card.number == number:
            return card
    for card in state.shown:
        if card.number == number and (kept := state.kept_as(card)):
            return kept
    raise ArgumentError("number", "of a kept colourway", number)


def _kept_first(state: DeskState, number: int) -> tuple[DeskState, Card]:
    if not any(card.number == number for card in state.kept):
        state = keep(state, number)
    return state, _kept(state, number)


def _drop(state: DeskState, card: Card) -> DeskState:
    return state.with_(
        kept=tuple(other for other in state.kept if other is not card),
        compared=tuple(n for n in state.compared if n != card.number),
    )


def _swap(state: DeskState, card: Card) -> DeskState:
    return state.with_(
        kept=tuple(card if other.number == card.number else other for other in state.kept)
    )
