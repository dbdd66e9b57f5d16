"""What a desk holds at one moment: the wall, the kept, the locked, the compared. Never changed.

Every change makes a new :class:`DeskState` (see ``choices``, ``ideas`` and ``sieve``), which is
what lets ``history`` undo anything by going back to an earlier one.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from types import MappingProxyType
from typing import Any

from checkcloth.cloth.check import Check
from checkcloth.cloth.chosen import Chosen, ChosenSet
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.length import Length
from checkcloth.cloth.named_colour import NamedColour
from checkcloth.errors import ArgumentError

__all__ = ["MOST_SHOWN", "Card", "DeskState", "Limit", "Origin", "recipe", "short_name"]

Origin = Mapping[str, str | int | float | bool | None]

MOST_SHOWN = 500


@dataclass(frozen=True)
class Card:
    """A colourway on the desk, with a number of its own that is never used again.

    Attributes
    ----------
    number : int
    colourway : Colourway
    origin : mapping
        How it came about; see :class:`Chosen`.
    note : str

    Examples
    --------
    >>> Card(1, Colourway("white", ["navy"]), note="for the aprons").note
    'for the aprons'
    """

    number: int
    colourway: Colourway
    origin: Origin = field(default_factory=dict)
    note: str = ""

    def __post_init__(self) -> None:
        # Chosen holds the rules for notes and origins; make it once, so that they hold here.
        made = Chosen(self.colourway, self.note, self.origin)
        object.__setattr__(self, "note", made.note)
        object.__setattr__(self, "origin", MappingProxyType(dict(made.origin)))

    def __hash__(self) -> int:
        return hash((self.number, self.colourway, self.note))


@dataclass(frozen=True)
class Limit:
    """Hide from the wall whatever scores under ``least`` in ``column``.

    >>> Limit("least_edge", 3.0).least
    3.0
    """

    column: str
    least: float


@dataclass(frozen=True)
class DeskState:
    """All that can be undone.

    Attributes
    ----------
    size : Length
        Check size of the desk.
    palette, ground : str
        Names; an empty ground means that grounds are drawn too.
    mixing : str or None
        For every colourway on the wall; None leaves each its own.
    strength : float or None
        The same.
    stripes, count, seed : int
        Of the draw.
    shown : tuple of Card
        The wall, in the order it was dealt.
    dealt : str
        How the wall came about, for people.
    kept : tuple of Card
        The kept colourways, each as it was when it was kept, in the designer's order.
    locked_ground, locked_stripes :
        What new ideas leave alone; None where nothing is locked.
    compared : tuple of int
        Numbers of two to four cards laid side by side (fewer while choosing).
    sort : str
        A score column, or "" for the order of the deal.
    limits : tuple of Limit
    next_number : int

    Examples
    --------
    >>> state = DeskState(Length("7 mm")).deal([Colourway("white", ["navy"])], "by hand", {})
    >>> [card.number for card in state.shown]
    [1]
    """

    size: Length
    palette: str = ""
    ground: str = ""
    mixing: str | None = "source-over"
    strength: float | None = 0.5
    stripes: int = 3
    count: int = 48
    seed: int = 1
    shown: tuple[Card, ...] = ()
    dealt: str = ""
    kept: tuple[Card, ...] = ()
    locked_ground: NamedColour | None = None
    locked_stripes: tuple[NamedColour | None, ...] = ()
    compared: tuple[int, ...] = ()
    sort: str = ""
    limits: tuple[Limit, ...] = ()
    next_number: int = 1

    def with_(self, **changes: Any) -> DeskState:
        """Return the state with some fields changed."""
        return replace(self, **changes)

    def deal(
        self,
        colourways: Iterable[Colourway],
        dealt: str,
        origin: Origin | None = None,
        **changes: Any,
    ) -> DeskState:
        """Return the state with other colourways on the wall, under new numbers."""
        members = list(colourways)
        if not 1 <= len(members) <= MOST_SHOWN:
            raise ArgumentError("colourways", f"1 to {MOST_SHOWN} on one wall", len(members))
        for member in members:
            if not isinstance(member, Colourway):
                raise ArgumentError("colourways", "Colourway objects", member)
        first = self.next_number
        cards = tuple(
            Card(first + place, member, {**(origin or {}), "place": place + 1})
            for place, member in enumerate(members)
        )
        still = tuple(n for n in self.compared if any(card.number == n for card in self.kept))
        return self.with_(
            shown=cards, dealt=dealt, next_number=first + len(cards), compared=still, **changes
        )

    def as_shown(self, card: Card) -> Colourway:
        """Return a wall card's colourway under the desk's strength and mixing."""
        changes: dict[str, Any] = {}
        if self.strength is not None and self.strength != card.colourway.strength:
            changes["strength"] = self.strength
        if self.mixing is not None and self.mixing != card.colourway.mixing:
            changes["mixing"] = self.mixing
        return card.colourway.with_(**changes) if changes else card.colourway

    def find(self, number: int) -> Card:
        """Return the card of that number as it looks now, kept or on the wall.

        Raises
        ------
        ArgumentError
            If it is neither.
        """
        for card in self.kept:
            if card.number == number:
                return card
        for card in self.shown:
            if card.number == number:
                return replace(card, colourway=self.as_shown(card))
        raise ArgumentError(
            "number",
            "of a colourway on the desk",
            number,
            hint="; did it leave with the last step?",
        )

    def kept_as(self, card: Card) -> Card | None:
        """Return the kept card that holds this wall card just as it looks now, if any."""
        wanted = recipe(self.as_shown(card))
        return next((kept for kept in self.kept if recipe(kept.colourway) == wanted), None)

    @property
    def marks(self) -> dict[int, int]:
        """Wall numbers that are kept: 2 just as they look now, 1 at another strength or mixing."""
        if not self.kept:
            return {}
        recipes = {recipe(kept.colourway) for kept in self.kept}
        colours = {key[:2] for key in recipes}
        marks = {}
        for card in self.shown:
            ground, stripes = card.colourway.ground.rgb, card.colourway.stripes
            if (ground, tuple(s.rgb for s in stripes)) in colours:
                marks[card.number] = 2 if recipe(self.as_shown(card)) in recipes else 1
        return marks

    def chosen_set(self, name: str = "") -> ChosenSet:
        """Return the kept colourways as a set, on the desk's check."""
        stripes = len(self.kept[0].colourway.stripes) if self.kept else self.stripes
        return ChosenSet(
            Check(self.size, stripes),
            [Chosen(card.colourway, card.note, card.origin) for card in self.kept],
            name,
        )


def recipe(colourway: Colourway) -> tuple[Any, ...]:
    """All that makes the cloth look as it does: names aside.

    >>> one = Colourway("white", ["navy"], name="Quay")
    >>> recipe(one) == recipe(one.with_(name="Pier"))
    True
    """
    return (
        colourway.ground.rgb,
        tuple(stripe.rgb for stripe in colourway.stripes),
        colourway.strength,
        colourway.mixing,
        colourway.warp_share,
        colourway.yule_nielsen,
    )


def short_name(colourway: Colourway) -> str:
    """Return the colourway's name, or its colours where it has none.

    >>> short_name(Colourway("white", ["navy", "teal"]))
    'navy, teal on white'
    """
    if colourway.name:
        return colourway.name
    return f"{', '.join(s.name for s in colourway.stripes)} on {colourway.ground.name}"
