"""Choosing: keep, drop, name, note, reorder, lay beside, let stay. Each returns a new state."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from checkcloth.cloth.check import Check
from checkcloth.cloth.chosen import ChosenSet
from checkcloth.cloth.named_colour import NamedColour
from checkcloth.desk.state.laying import AS_WARP, EVEN, texts_of
from checkcloth.desk.state.state import Card, DeskState, recipe
from checkcloth.errors import ArgumentError

MOST_COMPARED = 4


def keep(state: DeskState, number: int) -> DeskState:
    """Keep a wall card as it looks now, at the end of the kept; kept twice is kept once."""
    card = _on_wall(state, number)
    if state.kept_as(card):
        return state
    kept = Card(state.next_number, state.as_shown(card), card.origin, card.note)
    return state.with_(kept=(*state.kept, kept), next_number=state.next_number + 1)


def drop(state: DeskState, number: int) -> DeskState:
    """Drop a kept card, or the kept card that a wall card stands for."""
    return _drop(state, kept_card(state, number))


def toggle(state: DeskState, number: int) -> DeskState:
    """Drop what is kept, keep what is not."""
    if state.is_kept(number):
        return drop(state, number)
    kept = state.kept_as(_on_wall(state, number))
    return _drop(state, kept) if kept else keep(state, number)


def name(state: DeskState, number: int, text: str) -> DeskState:
    """Name a colourway; one on the wall is kept first, for a name is a choice."""
    state, card = kept_first(state, number)
    return swap(state, replace(card, colourway=card.colourway.with_(name=text)))


def note(state: DeskState, number: int, text: str) -> DeskState:
    """Write a note to a colourway; one on the wall is kept first."""
    state, card = kept_first(state, number)
    return swap(state, replace(card, note=text))


def move(state: DeskState, number: int, index: int) -> DeskState:
    """Move a kept card to another index among the kept, held within the row."""
    card = kept_card(state, number)
    others = [other for other in state.kept if other is not card]
    others.insert(min(max(index, 0), len(others)), card)
    return state.with_(kept=tuple(others))


def compare(state: DeskState, number: int) -> DeskState:
    """Lay a card beside the others, or take it away again. A fifth is refused."""
    state.find(number)
    if number in state.compared:
        return state.with_(compared=tuple(n for n in state.compared if n != number))
    if len(state.compared) == MOST_COMPARED:
        raise ArgumentError(
            "colourways side by side",
            f"at most {MOST_COMPARED}",
            len(state.compared) + 1,
            hint="; take one away first",
        )
    return state.with_(compared=(*state.compared, number))


def take(state: DeskState, earlier: ChosenSet) -> DeskState:
    """Keep what an earlier session kept and this one has not; its check where none is kept."""
    there = {recipe(card.colourway) for card in state.kept}
    new = [one for one in earlier.chosen if recipe(one.colourway) not in there]
    cards = tuple(Card.of(number, one) for number, one in enumerate(new, state.next_number))
    return state.with_(
        kept=(*state.kept, *cards),
        next_number=state.next_number + len(cards),
        **({} if state.kept else settings_of(earlier.check)),
    )


def settings_of(check: Check) -> dict[str, Any]:
    """Return the settings by which a desk has a check: an even one leaves the stripes of draws."""
    if check.is_even:
        return {"size": check.size, "bands": EVEN, "weft": AS_WARP}
    bands, weft = texts_of(check)
    wefts = check.weft_stripes if check.weft_stripes != check.stripes else 0
    laid = {"stripes": check.stripes, "wefts": wefts, "bands": bands, "weft": weft}
    return {"size": check.size, **laid}


def let_stay(state: DeskState, part: int, colour: NamedColour | None) -> DeskState:
    """Return the state with a part that new draws leave alone, or with None may change again."""
    if part == 0:
        return state.with_(staying_ground=colour)
    staying = [*state.staying_stripes, *[None] * (part - len(state.staying_stripes))]
    staying[part - 1] = colour
    return with_staying(state, staying)


def with_staying(state: DeskState, stripes: list[NamedColour | None]) -> DeskState:
    """Return the state with these stripes left alone by new draws."""
    while stripes and stripes[-1] is None:
        stripes.pop()
    return state.with_(staying_stripes=tuple(stripes))


def _on_wall(state: DeskState, number: int) -> Card:
    for card in state.shown:
        if card.number == number:
            return card
    raise ArgumentError("number", "of a colourway on the wall", number)


def kept_card(state: DeskState, number: int) -> Card:
    """Return the kept card of that number, or the one that a wall card stands for."""
    for card in state.kept:
        if card.number == number:
            return card
    for card in state.shown:
        if card.number == number and (kept := state.kept_as(card)):
            return kept
    raise ArgumentError("number", "of a kept colourway", number)


def kept_first(state: DeskState, number: int) -> tuple[DeskState, Card]:
    """Return the kept card of that number; one on the wall is kept first."""
    if not state.is_kept(number):
        state = keep(state, number)
    return state, kept_card(state, number)


def _drop(state: DeskState, card: Card) -> DeskState:
    return state.with_(
        kept=tuple(other for other in state.kept if other is not card),
        compared=tuple(n for n in state.compared if n != card.number),
    )


def swap(state: DeskState, card: Card) -> DeskState:
    """Put a kept card in the stead of the one of its number."""
    return state.with_(
        kept=tuple(card if other.number == card.number else other for other in state.kept)
    )
