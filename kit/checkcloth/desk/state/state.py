"""What a desk holds at one moment, and the row of such moments that undo walks along.

Every change makes a new :class:`DeskState` (see ``choices``, ``ideas`` and ``sort_filter``), so
that :class:`History` can undo anything by going back to an earlier one.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from types import MappingProxyType
from typing import Any

from checkcloth.cloth.check import Check
from checkcloth.cloth.chosen import Chosen, ChosenSet
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.length import Length
from checkcloth.cloth.mixing import find_mixing
from checkcloth.cloth.named_colour import NamedColour
from checkcloth.cloth.palette import Palette
from checkcloth.colour.ink import STOCKS, Stock
from checkcloth.desk.state.laying import AS_WARP, EVEN, check_of, refitted
from checkcloth.errors import ArgumentError

Origin = Mapping[str, str | int | float | bool | None]

MOST_SHOWN = 5000
MOST_STEPS = 200
# Colourways that undo may hold: some 100 MB. Walls of 500 reach back 200 deals, of 5,000 twenty.
MOST_REMEMBERED = 100_000


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
    own : bool
        Of a wall card: changed by hand, so it keeps its own strength and mixing, and stays on
        the wall until it is kept. (A kept card keeps its own anyway.)
    family : str
        Of a kept card; empty, it stands by itself.
    answer, remark : str
        What the client said of a kept card; see :class:`Chosen`.
    """

    number: int
    colourway: Colourway
    origin: Origin = field(default_factory=dict)
    note: str = ""
    own: bool = False
    family: str = ""
    answer: str = ""
    remark: str = ""

    def __post_init__(self) -> None:
        # Chosen holds the rules for notes and origins; make it once, so that they hold here.
        made = self.chosen()
        object.__setattr__(self, "note", made.note)
        object.__setattr__(self, "family", made.family)
        object.__setattr__(self, "remark", made.remark)
        object.__setattr__(self, "origin", MappingProxyType(dict(made.origin)))

    @classmethod
    def of(cls, number: int, one: Chosen) -> Card:
        """Return the kept card of a chosen colourway."""
        said = one.answer, one.remark
        return cls(number, one.colourway, one.origin, one.note, False, one.family, *said)

    def chosen(self) -> Chosen:
        """Return the card as a set holds it."""
        return Chosen(self.colourway, self.note, self.origin, self.family, self.answer, self.remark)

    def __hash__(self) -> int:
        return hash((self.number, self.colourway, self.note))


@dataclass(frozen=True)
class Limit:
    """Hide from the wall whatever scores under ``least`` in ``column``."""

    column: str
    least: float


@dataclass(frozen=True)
class DeskState:
    """All that can be undone.

    Attributes
    ----------
    size : Length
        Check size of the desk.
    palettes : tuple of Palette
        What can be drawn from, each by its name.
    palette, ground : str
        Names; an empty ground means that grounds are drawn too.
    mixing : str or None
        For every colourway on the wall; None leaves each its own.
    stock : Stock or None
        What the wall is printed on where its mixing asks for that; None leaves each its own.
    strength : float or None
        The same.
    stripes, count, seed : int
        Of the draw.
    bands, weft : str
        Order of the stripes in warp and weft, in letters or by a preset's name, for checks of
        ``stripes`` stripes; an empty weft runs as the warp.
    weft_colours : int
        How many colours of its own the weft has in draws; 0 where it has those of the warp.
    wefts : int
        Stripes of the weft, where it has colours of its own and another number of them; else 0.
    shown : tuple of Card
        The wall, in the order it was dealt.
    dealt : str
        How the wall came about, for people.
    source : str
        What was searched for its best, in few words: "clearest of 134,596"; empty of a draw.
    kept : tuple of Card
        The kept colourways, each as it was when it was kept, in the designer's order.
    staying_ground, staying_stripes :
        What new draws leave alone; None where nothing stays.
    compared : tuple of int
        Numbers of two to four cards laid side by side (fewer while choosing).
    sort : str
        A score column, or "" for the order of the deal.
    limits : tuple of Limit
    client : str
        What the client last said of the range as a whole, for people.
    next_number : int

    Examples
    --------
    >>> state = DeskState(Length("7 mm")).deal([Colourway("white", ["navy"])], "by hand", {})
    >>> [card.number for card in state.shown]
    [1]
    """

    size: Length
    palettes: tuple[Palette, ...] = ()
    palette: str = ""
    ground: str = ""
    mixing: str | None = "source-over"
    stock: Stock | None = STOCKS[""]
    strength: float | None = 0.5
    stripes: int = 3
    count: int = 48
    seed: int = 1
    bands: str = EVEN
    weft: str = AS_WARP
    weft_colours: int = 0
    wefts: int = 0
    shown: tuple[Card, ...] = ()
    dealt: str = ""
    source: str = ""
    kept: tuple[Card, ...] = ()
    staying_ground: NamedColour | None = None
    staying_stripes: tuple[NamedColour | None, ...] = ()
    compared: tuple[int, ...] = ()
    sort: str = ""
    limits: tuple[Limit, ...] = ()
    client: str = ""
    next_number: int = 1

    def with_(self, **changes: Any) -> DeskState:
        """Return the state with fields changed, itself where none is; bands follow the stripes."""
        made = replace(self, **changes)
        if made == self:
            return self
        if (made.stripes, made.wefts) == (self.stripes, self.wefts) or "bands" in changes:
            return made
        bands, weft = refitted(made.size, made.stripes, made.wefts, made.bands, made.weft)
        return replace(made, bands=bands, weft=weft)

    @property
    def check(self) -> Check:
        """The desk's check: of colourways that have its numbers of stripes."""
        return check_of(self.size, self.stripes, self.bands, self.weft, self.wefts)

    def check_for(self, colourway: Colourway) -> Check:
        """Return the desk's check where the colourway has its stripes, else an even one.

        A set does the same (:meth:`ChosenSet.check_for`).
        """
        return self.check_of_counts(len(colourway.stripes), len(colourway.weft_colours))

    def check_of_counts(self, stripes: int, wefts: int) -> Check:
        """Return the check of colourways of so many stripes in warp and weft."""
        own, check = wefts if wefts != stripes else 0, self.check
        if (stripes, wefts) == (check.stripes, check.weft_stripes):
            return check
        return check_of(self.size, stripes, wefts=own)

    @property
    def uneven_check(self) -> Check | None:
        """The desk's check where it is not even."""
        return None if self.check.is_even else self.check

    @property
    def unlaid(self) -> tuple[Card, ...]:
        """The kept that uneven bands are not of, by their numbers of stripes: they are even."""
        if self.check.is_even:
            return ()
        return tuple(card for card in self.kept if self.check_for(card.colourway) != self.check)

    @property
    def kept_check(self) -> Check:
        """The check of the kept as a set: the desk's, or an even one of the first's stripes."""
        if not self.check.is_even or not self.kept:
            return self.check
        return self.check_for(self.kept[0].colourway)

    @property
    def chosen_palette(self) -> Palette:
        """The palette in use; the first where none is named."""
        for palette in self.palettes:
            if palette.name == (self.palette or palette.name):
                return palette
        names = ", ".join(palette.name for palette in self.palettes)
        raise ArgumentError("palette", f"one of {names}", self.palette)

    def deal(
        self,
        colourways: Iterable[Colourway],
        dealt: str,
        origin: Origin | None = None,
        **changes: Any,
    ) -> DeskState:
        """Return the state with other colourways on the wall, under new numbers.

        What was changed by hand and not kept stays on the wall, before them.
        """
        members = list(colourways)
        if not 1 <= len(members) <= MOST_SHOWN:
            raise ArgumentError("colourways", f"1 to {MOST_SHOWN} on one wall", len(members))
        for member in members:
            if not isinstance(member, Colourway):
                raise ArgumentError("colourways", "Colourway objects", member)
        by_hand = self.by_hand
        first = self.next_number
        cards = tuple(
            Card(first + index, member, {**(origin or {}), "place": index + 1})
            for index, member in enumerate(self._unlike(members, by_hand))
        )
        stay = {card.number for card in (*by_hand, *self.kept)}
        return self.with_(
            shown=(*by_hand, *cards),
            dealt=dealt,
            next_number=first + len(cards),
            compared=tuple(number for number in self.compared if number in stay),
            **{"source": "", **self._wefts_of(members), **changes},
        )

    def _wefts_of(self, members: list[Colourway]) -> dict[str, int]:
        """Wefts of a deal; where none has colours of its own, draws go on so."""
        own = self.weft_colours if any(one.weft_stripes for one in members) else 0
        return {"weft_colours": own, "wefts": _own_wefts(members)}

    @property
    def by_hand(self) -> tuple[Card, ...]:
        """Wall cards that were changed by hand and are not kept; a new deal leaves them there."""
        own = [card for card in self.shown if card.own and not self.kept_as(card)]
        return tuple(own[: MOST_SHOWN - 1])

    @staticmethod
    def _unlike(members: list[Colourway], by_hand: tuple[Card, ...]) -> list[Colourway]:
        """Those to deal beside what stays: none of the same, and no more than there is room for."""
        there = {recipe(card.colourway) for card in by_hand}
        new = [member for member in members if recipe(member) not in there] if there else members
        return new[: MOST_SHOWN - len(by_hand)]

    def as_shown(self, card: Card) -> Colourway:
        """Return a wall card's colourway under the desk's strength and mixing, or its own."""
        cloth = self.on_stock(card)
        if card.own:
            return cloth
        changes: dict[str, Any] = {}
        if self.strength is not None and self.strength != cloth.strength:
            changes["strength"] = self.strength
        if self.mixing is not None and self.mixing != cloth.mixing:
            changes["mixing"] = self.mixing
        return cloth.with_(**changes) if changes else cloth

    def on_stock(self, card: Card) -> Colourway:
        """Return a wall card's colourway on the desk's stock, where the desk's mixing prints."""
        cloth, stock = card.colourway, self.stock
        if card.own or stock is None or stock == cloth.stock or not self.prints:
            return cloth
        return cloth.with_(stock=stock)

    @property
    def prints(self) -> bool:
        """Whether the desk's mixing asks what is printed on."""
        return self.mixing is not None and find_mixing(self.mixing).uses_stock

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

    def is_kept(self, number: int) -> bool:
        """Whether that is the number of a kept card."""
        return any(card.number == number for card in self.kept)

    def kept_as(self, card: Card) -> Card | None:
        """Return the kept card that holds this wall card just as it looks now, if any."""
        wanted = recipe(self.as_shown(card))
        return next((kept for kept in self.kept if recipe(kept.colourway) == wanted), None)

    @property
    def marks(self) -> dict[int, int]:
        """Wall numbers that are kept: 2 just as they look now, 1 at another strength or mixing."""
        recipes = {recipe(kept.colourway) for kept in self.kept}
        return {
            card.number: 2 if recipe(self.as_shown(card)) in recipes else 1
            for card in self._in_colours_of(self.kept)
        }

    @property
    def kept_names(self) -> dict[int, str]:
        """Names of wall cards that are kept just as they look now, by number."""
        named = [kept for kept in self.kept if kept.colourway.name]
        names = {recipe(kept.colourway): kept.colourway.name for kept in reversed(named)}
        shown = ((card, recipe(self.as_shown(card))) for card in self._in_colours_of(named))
        return {card.number: names[how] for card, how in shown if how in names}

    def _in_colours_of(self, kept: Iterable[Card]) -> Iterator[Card]:
        """The wall cards that have the colours of one of these."""
        colours = {colours_in(card.colourway) for card in kept}
        first = {(ground, stripes[0]) for ground, stripes, _ in colours}  # quick: most are none
        for card in self.shown if colours else ():
            cloth = card.colourway
            if (cloth.ground.rgb, cloth.stripes[0].rgb) in first and colours_in(cloth) in colours:
                yield card

    @property
    def families(self) -> tuple[str, ...]:
        """The names of the families of what is kept, in the order of their first member."""
        return tuple(dict.fromkeys(card.family for card in self.kept if card.family))

    def stays(self, colourway: Colourway) -> list[bool]:
        """Whether new draws leave a colourway's parts alone: its ground, then its stripes."""
        parts = (colourway.ground, *colourway.stripes)
        staying = (self.staying_ground, *self.staying_stripes, *[None] * len(parts))
        return [
            stays is not None and stays.rgb == colour.rgb
            for stays, colour in zip(staying, parts, strict=False)
        ]

    def chosen_set(self, name: str = "") -> ChosenSet:
        """Return the kept colourways as a set, on the desk's check."""
        return ChosenSet(self.kept_check, [card.chosen() for card in self.kept], name)


def _own_wefts(members: list[Colourway]) -> int:
    """Stripes of a weft of its own, where all have as many, and others than the warp."""
    counts = {(len(one.stripes), len(one.weft_stripes)) for one in members}
    warp, weft = counts.pop()
    return weft if not counts and weft != warp else 0


def colours_in(colourway: Colourway) -> tuple[Any, ...]:
    """The colours of the ground, the stripes, and the weft's where it has others: names aside."""
    stripes = tuple(stripe.rgb for stripe in colourway.stripes)
    wefts = tuple(stripe.rgb for stripe in colourway.weft_stripes)
    return colourway.ground.rgb, stripes, () if wefts == stripes else wefts


def recipe(colourway: Colourway) -> tuple[Any, ...]:
    """All that makes the cloth look as it does: names aside.

    Ranges remember digests of it, so what is added to it stands at the end, and only where it is
    not as it always was.
    """
    ground, stripes, wefts = colours_in(colourway)
    return (
        ground,
        stripes,
        colourway.strength,
        colourway.mixing,
        colourway.warp_share,
        colourway.yule_nielsen,
        colourway.stock,
        *([wefts] if wefts else []),
    )


def short_name(colourway: Colourway) -> str:
    """Return the colourway's name, or its colours where it has none."""
    return colourway.name or colours_of(colourway)


def colours_of(colourway: Colourway) -> str:
    """Return the names of the colours on one line: stripes, the ground, a weft of its own."""
    weft = ", ".join(stripe.name for stripe in colourway.weft_stripes)
    own = f", weft {weft}" if weft else ""
    return f"{', '.join(s.name for s in colourway.stripes)} on {colourway.ground.name}{own}"


@dataclass(frozen=True)
class History:
    """The present state, and those before and after it.

    Attributes
    ----------
    now : DeskState
    past, future : tuple of (DeskState, str)
        Each with the words for the step between it and its neighbour; the last of ``past``
        and the first of ``future`` are the nearest.
    undo_group : str
        Steps of one group that follow each other (one drag of a slider) undo as one.

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
    undo_group: str = ""

    def step(self, state: DeskState, words: str, undo_group: str = "") -> History:
        """Return the history with ``state`` as its present; what was undone is forgotten."""
        if state == self.now:
            return self
        if undo_group and undo_group == self.undo_group and self.past:
            if state == self.past[-1][0]:  # back where the run began: no step is left of it
                return History(state, self.past[:-1])
            past = (*self.past[:-1], (self.past[-1][0], words))
        else:
            past = (*self.past, (self.now, words))[-MOST_STEPS:]
        # A card takes a number when it is made, so the numbers tell how many are remembered.
        while len(past) > 1 and state.next_number - past[0][0].next_number > MOST_REMEMBERED:
            past = past[1:]
        return History(state, past, (), undo_group)

    def pause(self) -> History:
        """End the group: the next step undoes by itself."""
        return replace(self, undo_group="") if self.undo_group else self

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
