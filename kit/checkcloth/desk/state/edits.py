"""Editing by hand: one colourway changed, on the wall or kept, and what is made from one.

A card of the wall that is changed becomes its own: the desk's strength and mixing leave it alone,
and it stays on the wall until it is kept. A part is 0 for the ground, a stripe's number, or −n for
stripe n of the weft: so are stripes in requests. Asked with ``own_weft``, a change of the warp
leaves the weft the colours that it had.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace

from checkcloth.arguments import as_number, as_whole
from checkcloth.cloth.check import MOST_STRIPES, Check
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.mixing import find_mixing
from checkcloth.cloth.named_colour import NamedColour, clean_text
from checkcloth.cloth.palette import Palette
from checkcloth.colour.css import css_names
from checkcloth.colour.ink import Stock
from checkcloth.desk.state import choices, ideas
from checkcloth.desk.state.colour_names import colour_called, unknown_colour
from checkcloth.desk.state.fields import Request, Step, flag, given, text, whole
from checkcloth.desk.state.palettes import find_palette, no_longer_measured
from checkcloth.desk.state.state import MOST_SHOWN, Card, DeskState, colours_in, recipe, short_name
from checkcloth.errors import ArgumentError, CheckclothError
from checkcloth.ideas import by_hand
from checkcloth.ideas.by_hand import Edit, colour_of, part_name
from checkcloth.ideas.family import family_colourways, fewer_stripes
from checkcloth.ideas.variants import best_order, each_ground, each_order, each_weft, ring
from checkcloth.scoring.vocabulary import MIXING_WORDS

MOST_DERIVED = 12
_MOST_ORDERED = 12  # stripes for which the orders that read best are worked out: 30 ms
_LONGEST_COLOUR = 200
_MOST_ORDERED_UNEVEN = 8

# Where the stripes of before went: for each stripe, which one it was (from 0), None for a new one.
Moved = list[int | None]


# -- one card -----------------------------------------------------------------------------------


def _change(state: DeskState, request: Request, edit: Callable[[Colourway], Edit]) -> Step:
    """Change a card as it looks now; what stays in new draws follows the part, not the colour."""
    card = state.find(whole(request, "number"))
    made = edit(card.colourway)
    if given(request, "own_weft") and flag(request, "own_weft"):
        made = made._replace(colourway=by_hand.keep_weft(card.colourway, made.colourway))
    if made.colourway == card.colourway:
        return state, made.words
    after = _put(state, replace(card, colourway=made.colourway))
    moved = _moved(request, len(card.colourway.stripes))
    return _with_stays(after, state.stays(card.colourway), made.colourway, moved), made.words


def _put(state: DeskState, card: Card) -> DeskState:
    """Put a changed card in the stead of the one of its number, kept or on the wall."""
    card = replace(card, origin={**card.origin, "by hand": True})
    if state.is_kept(card.number):
        return choices.swap(state, card)
    card = replace(card, own=True)
    return state.with_(
        shown=tuple(card if other.number == card.number else other for other in state.shown)
    )


def _moved(request: Request, count: int) -> Moved:
    """Where an edit of that many stripes takes them; to be asked once the edit was agreed to."""
    moved: Moved = list(range(count))
    if any((request.get(name) or 0) < 0 for name in ("stripe", "first", "at")):
        return moved  # of the weft
    match request["do"]:
        case "order":
            moved.insert(request["to"] - 1, moved.pop(request["stripe"] - 1))
        case "swap":
            first, second = request["first"] - 1, request["second"] - 1
            moved[first], moved[second] = moved[second], moved[first]
        case "add_stripe":
            moved.insert(request["at"] - 1 if given(request, "at") else count, None)
        case "copy_stripe":
            moved.insert(request["stripe"], request["stripe"] - 1)
        case "remove_stripe":
            moved.pop(request["stripe"] - 1)
    return moved


def _with_stays(
    state: DeskState, stayed: list[bool], colourway: Colourway, moved: Moved
) -> DeskState:
    """Let what stays follow a card whose parts stayed so far as ``stayed`` says."""
    if not any(stayed):
        return state
    staying = [
        None if index + 1 < len(stayed) and stayed[index + 1] else colour
        for index, colour in enumerate(state.staying_stripes)
    ]
    staying += [None] * (len(moved) - len(staying))
    for index, before in enumerate(moved):
        if before is not None and stayed[before + 1]:
            staying[index] = colourway.stripes[index]
    ground = colourway.ground if stayed[0] else state.staying_ground
    return choices.with_staying(state.with_(staying_ground=ground), staying)


def _colour(state: DeskState, request: Request) -> Step:
    part, colour = whole(request, "part"), colour_from(state, request)
    return _change(state, request, lambda cloth: by_hand.put_colour(cloth, part, colour))


def _nudge(state: DeskState, request: Request) -> Step:
    part, axis, steps = whole(request, "part"), text(request, "axis"), whole(request, "steps")

    def edit(cloth: Colourway) -> Edit:
        before = colour_of(cloth, part)
        made = by_hand.put_colour(cloth, part, by_hand.nudge(before, axis, steps))
        gone = no_longer_measured(before, colour_of(made.colourway, part))
        return made._replace(words=f"{made.words}{gone}")

    return _change(state, request, edit)


def _order(state: DeskState, request: Request) -> Step:
    stripe, to = whole(request, "stripe"), whole(request, "to")
    return _change(state, request, lambda cloth: by_hand.move_stripe(cloth, stripe, to))


def _swap(state: DeskState, request: Request) -> Step:
    first, second = whole(request, "first"), whole(request, "second")
    return _change(state, request, lambda cloth: by_hand.swap_stripes(cloth, first, second))


def _add_stripe(state: DeskState, request: Request) -> Step:
    colour = colour_from(state, request) if _names_colour(request) else None

    def edit(cloth: Colourway) -> Edit:
        at = whole(request, "at") if given(request, "at") else len(cloth.stripes) + 1
        return by_hand.add_stripe(cloth, at, colour or _unused(state, cloth, at))

    return _change(state, request, edit)


def _unused(state: DeskState, cloth: Colourway, at: int) -> NamedColour:
    """The palette's first colour for stripes that is no stripe yet; where all are, the first."""
    used = {stripe.hex for stripe in (cloth.weft_colours if at < 0 else cloth.stripes)}
    offered = state.chosen_palette.stripes
    return next((colour for colour in offered if colour.hex not in used), offered[0])


def _copy_stripe(state: DeskState, request: Request) -> Step:
    stripe = whole(request, "stripe")

    def edit(cloth: Colourway) -> Edit:
        row = cloth.weft_colours if stripe < 0 else cloth.stripes
        at, way = as_whole(abs(stripe), "stripe", 1, len(row)), -1 if stripe < 0 else 1
        return by_hand.add_stripe(cloth, way * (at + 1), row[at - 1])

    return _change(state, request, edit)


def _remove_stripe(state: DeskState, request: Request) -> Step:
    stripe = whole(request, "stripe")
    return _change(state, request, lambda cloth: by_hand.remove_stripe(cloth, stripe))


def _weft_as_warp(state: DeskState, request: Request) -> Step:
    return _change(state, request, by_hand.weft_as_warp)


def _own(state: DeskState, request: Request) -> Step:
    card = state.find(whole(request, "number"))
    changes, words = own_changes(request)
    after = replace(card, colourway=card.colourway.with_(**changes))
    if after == card and (card.own or state.is_kept(card.number)):
        return state, f"This one {words}"
    return _put(state, after), f"This one {words}"


def own_changes(request: Request) -> tuple[dict[str, float | str | Stock], str]:
    """Return a strength, a mixing, a stock or several that a request gives, and in words."""
    changes: dict[str, float | str | Stock] = {}
    words = []
    if given(request, "strength"):
        strength = as_number(request["strength"], "strength", 0, 1)
        changes["strength"] = strength
        words.append(f"at {percent(strength)}")
    if given(request, "mixing"):
        changes["mixing"] = find_mixing(text(request, "mixing")).name
        words.append(f"mixed {MIXING_WORDS[find_mixing(text(request, 'mixing')).name]}")
    if given(request, "stock"):
        changes["stock"] = stock = Stock.of(text(request, "stock"))
        words.append(f"printed on {stock.words}")
    if not changes:
        raise ArgumentError("strength", "given, or else a mixing or a stock", words="none of them")
    return changes, ", ".join(words)


def percent(strength: float) -> str:
    """Return a strength for people.

    >>> percent(0.2)
    '20 %'
    """
    return f"{strength * 100:.4g} %"


# -- colours ------------------------------------------------------------------------------------


def _names_colour(request: Request) -> bool:
    return any(given(request, name) for name in ("text", "palette", "index"))


def colour_from(state: DeskState, request: Request) -> NamedColour:
    """Return the colour that a request gives: a palette's by its index, or typed.

    Typed text is a name of the palette (the desk's, unless one is given), a CSS colour, six
    hexadecimal digits, or a name of any other palette; the first that fits.
    """
    if given(request, "text"):
        return _typed(state, request)
    palette = find_palette(state, text(request, "palette"))
    index = as_whole(whole(request, "index"), "index", 0, len(palette) - 1)
    return palette.colours[index]


def _typed(state: DeskState, request: Request) -> NamedColour:
    typed = clean_text(text(request, "text"), "text", longest=_LONGEST_COLOUR)
    near = [find_palette(state, text(request, "palette"))] if given(request, "palette") else []
    near += [palette for palette in state.palettes if palette.name == state.palette]
    found = colour_called(typed, near) or _css(typed) or colour_called(typed, state.palettes)
    if found is None:
        raise unknown_colour("text", typed, (*near, *state.palettes))
    return found


def _css(typed: str) -> NamedColour | None:
    for css in (typed, f"#{typed}"):
        try:
            return NamedColour.of(css)
        except CheckclothError:
            continue
    return None


# -- what new draws leave alone -----------------------------------------------------------------


def _stays(state: DeskState, request: Request) -> Step:
    """Let a part of a card stay in new draws or not; without a card, let go of a part, or of all.

    What is let go without a card is let go of the wall: where that was drawn, it is drawn anew.
    """
    stays = flag(request, "stays")
    if not given(request, "number"):
        if stays:
            raise ArgumentError("number", "of a colourway on the desk", words="none")
        part = whole(request, "part") if given(request, "part") else None
        return _let_go(state, part)
    part = whole(request, "part")
    colourway = state.find(whole(request, "number")).colourway
    colour = colour_of(colourway, as_whole(part, "part", 0, len(colourway.stripes)))
    named = f"{part_name(part)}, {colour.name},"
    words = f"{named} stays in new draws" if stays else f"{named} may change in new draws"
    if state.stays(colourway)[part] == stays:
        return state, words
    return choices.let_stay(state, part, colour if stays else None), words


def _let_go(state: DeskState, part: int | None) -> Step:
    """Let a part stay no longer, or by None no part; a wall drawn with it is drawn anew."""
    if part is None:
        after, words = state.with_(staying_ground=None, staying_stripes=()), "Nothing stays"
    else:
        as_whole(part, "part", 0, MOST_STRIPES)
        after, words = choices.let_stay(state, part, None), f"{part_name(part)} is free"
    return (state if after is state else _drawn_anew(after)), words


def _drawn_anew(state: DeskState) -> DeskState:
    """The state with its draw made anew, where the wall is a draw and would not be the same."""
    dealt = [card for card in state.shown if not card.own]
    if not dealt or dealt[0].origin.get("how") != "draw":
        return state
    fresh = ideas.draw(ideas.fit_stripes(state))
    there = {colours_in(card.colourway) for card in fresh.shown}
    same = {colours_in(card.colourway) for card in dealt} <= there
    return state if same else fresh


# -- new cards ----------------------------------------------------------------------------------


def _empty(state: DeskState, request: Request) -> Step:
    """Put a cloth of greys on the palette's ground first on the wall."""
    count = as_whole(whole(request, "stripes"), "stripes", 1, MOST_STRIPES)
    wefts = state.weft_colours
    stay = [card for card in state.shown if card.number in {one.number for one in state.by_hand}]
    if len(stay) == MOST_SHOWN - 1:
        raise ArgumentError("stripes", "of a cloth that there is room for: keep some first")
    marked = (colour for colour in state.chosen_palette if colour.role == "ground")
    cloth = Colourway(
        ideas.fixed_ground(state) or next(marked, NamedColour.of("white")),
        [_grey(index, count) for index in range(count)],
        0.5 if state.strength is None else state.strength,
        state.mixing or "source-over",
        stock="" if state.stock is None else state.stock,
        weft_stripes=tuple(_grey(index, wefts) for index in range(wefts)),
    )
    card = Card(state.next_number, cloth, {"how": "by hand"}, own=True)
    others = state.shown
    if len(others) == MOST_SHOWN:  # the last that is not by hand makes room
        last = next(one for one in reversed(others) if one not in stay)
        others = tuple(one for one in others if one is not last)
    after = state.with_(shown=(card, *others), next_number=state.next_number + 1)
    return after, f"Empty cloth of {count} {'stripe' if count == 1 else 'stripes'}"


def _grey(index: int, count: int) -> NamedColour:
    """One of so many greys, from light to dark, told apart by eye as far as they can be."""
    level = 214 - round(108 * index / max(1, count - 1))
    return NamedColour.of(f"#{level:02x}{level:02x}{level:02x}")


def _copy(state: DeskState, request: Request) -> Step:
    """Keep a sibling of a kept card, right after it, without a name of its own yet."""
    card = choices.kept_card(state, whole(request, "number"))
    cloth = card.colourway.with_(name="")
    # No client has seen the copy.
    sibling = replace(card, number=state.next_number, colourway=cloth, answer="", remark="")
    after = _kept_after(state, card, [sibling])
    return after, f"Copy of {short_name(card.colourway)}"


def _kept_after(state: DeskState, card: Card, more: list[Card]) -> DeskState:
    """Keep more cards after one that is kept; they are numbered from ``next_number``."""
    index = [one.number for one in state.kept].index(card.number) + 1
    return state.with_(
        kept=(*state.kept[:index], *more, *state.kept[index:]),
        next_number=state.next_number + len(more),
    )


def _put_away(state: DeskState, request: Request) -> Step:
    """Take a card that was changed by hand off the wall."""
    number = whole(request, "number")
    card = next((one for one in state.shown if one.number == number and one.own), None)
    if card is None:
        raise ArgumentError("number", "of a colourway on the wall that was made by hand", number)
    if len(state.shown) == 1:
        raise ArgumentError("number", "not of the only colourway on the wall", number)
    after = state.with_(
        shown=tuple(one for one in state.shown if one is not card),
        compared=tuple(one for one in state.compared if one != number),
    )
    return after, f"{short_name(card.colourway)} put away"


# -- families -----------------------------------------------------------------------------------


def _family(state: DeskState, request: Request) -> Step:
    """Put a colourway in a family, or by "" by itself; one on the wall is kept first."""
    number = whole(request, "number")
    name = short_name(state.find(number).colourway)
    family = clean_text(text(request, "family"), "family")
    after, card = choices.kept_first(state, number)
    words = f"{name} is in {family}" if family else f"{name} is by itself"
    return choices.swap(after, replace(card, family=family)), words


def _members(state: DeskState, family: str) -> list[Card]:
    members = [card for card in state.kept if card.family == family]
    if not members:
        names = ", ".join(state.families) or "no family yet"
        raise ArgumentError("family", f"one of those kept ({names})", family)
    return members


def _name_family(state: DeskState, request: Request) -> Step:
    family, name = text(request, "family"), clean_text(text(request, "name"), "name")
    if not name or not family:
        raise ArgumentError("name" if family else "family", "a name of one character or more", "")
    _members(state, family)
    words = f"Family {family} is {name}"
    return _each_kept(
        state, lambda card: replace(card, family=name) if card.family == family else card
    ), words


def _each_kept(state: DeskState, change: Callable[[Card], Card]) -> DeskState:
    return state.with_(kept=tuple(change(card) for card in state.kept))


def _all_of(state: DeskState, request: Request) -> Step:
    """Give a whole family a strength, a mixing, a stock; "" are those by themselves."""
    family = text(request, "family")
    changes, how = own_changes(request)
    members = _members(state, family)
    words = f"{_count(members)} of {family or 'those by themselves'} {how}"
    numbers = {card.number for card in members}

    def change(card: Card) -> Card:
        made = card.colourway.with_(**changes)
        return replace(card, colourway=made) if card.number in numbers else card

    return _each_kept(state, change), words


def _count(members: list[Card]) -> str:
    return "The one" if len(members) == 1 else f"All {len(members)}"


def _recolour(state: DeskState, request: Request) -> Step:
    """Change one colour in every kept colourway that holds it.

    It gets the ``name`` that is given; a code that is typed without one leaves each its own.
    """
    old = text(request, "from").strip().lower()
    new = colour_from(state, request)
    name = clean_text(text(request, "name"), "name") if given(request, "name") else ""
    keeps = not name and _is_code(request, new)
    holders = [card for card in state.kept if old in _hexes(card.colourway)]
    if not holders:
        raise ArgumentError("from", "a colour of what is kept, as #rrggbb", request["from"])

    def change(card: Card) -> Card:
        def made_of(colour: NamedColour) -> NamedColour:
            if colour.hex != old:
                return colour
            if keeps and _has_name(colour):
                return replace(new, name=colour.name, role=colour.role, note=colour.note)
            return replace(new, name=name or new.name)

        def put(colours: Iterable[NamedColour]) -> tuple[NamedColour, ...]:
            return tuple(map(made_of, colours))

        cloth = card.colourway
        (ground,), stripes = put((cloth.ground,)), put(cloth.stripes)
        made = cloth.with_(ground=ground, stripes=stripes, weft_stripes=put(cloth.weft_stripes))
        return card if made == cloth else replace(card, colourway=made)

    after = _each_kept(state, change)
    held = next(c for card in holders for c in card.colourway.colours if c.hex == old)
    before = old if held.name.lower() == old else f"{held.name} {old}"
    off = f", {new.shift_words}," if new.shift_words else ""
    called = f"{name} {new.hex}" if name else new.name
    own = " and keeps its name" if keeps and _has_name(held) else ""
    words = f"{before} is {called}{off} in {len(holders)} kept{own}"
    return after, f"{words}{no_longer_measured(held, new)}{_palettes_with(state, held)}"


def _is_code(request: Request, colour: NamedColour) -> bool:
    """Whether a colour was typed as a code, which is no name."""
    if not given(request, "text") or colour.name != text(request, "text").strip():
        return False
    return colour.name.lower() not in css_names()


def _has_name(colour: NamedColour) -> bool:
    """Whether a colour has a name of its own, not its code or CSS's word for it."""
    return colour.name not in (colour.text, colour.hex) and colour.name.lower() not in css_names()


def _palettes_with(state: DeskState, colour: NamedColour) -> str:
    """Say which palettes still have a colour that was changed in what is kept."""
    names = [one.name for one in state.palettes if any(colour.rgb == c.rgb for c in one)]
    if not names:
        return ""
    which = names[0] if len(names) == 1 else f"{names[0]} and {len(names) - 1} more palettes"
    return f"; {which} {'has' if len(names) == 1 else 'have'} {colour.hex} still"


def _hexes(colourway: Colourway) -> set[str]:
    return {colour.hex for colour in colourway.colours}


# -- the same again, but ------------------------------------------------------------------------


def derived(state: DeskState, request: Request) -> tuple[list[Colourway], str]:
    """Return what is like a card but for what a request asks, and how it differs, in words.

    Asked are ``family`` (coordinates: with fewer stripes, as a stripe, as plains), ``stripes``
    (fewer, those furthest apart), ``strength``, ``grounds`` (each of the palette's), ``wefts``
    (each of the palette's stripe colours for the whole weft) and ``order`` (others, those first
    that read best), or several of them.

    Raises
    ------
    ArgumentError
        Where nothing is asked, or nothing of the kind can be.
    """
    source = state.find(whole(request, "number")).colourway
    made, how = [source.with_(name="")], []
    if _asks(request, "family"):
        made = _coordinates(source)
        how.append("as coordinates")
    if given(request, "stripes"):
        fewer = _fewer(source, whole(request, "stripes"))
        made = [fewer_stripes(one, fewer) for one in made]
        how.append(f"with {fewer} {'stripe' if fewer == 1 else 'stripes'}")
    if given(request, "strength"):
        strength = as_number(request["strength"], "strength", 0, 1)
        made = [one.with_(strength=strength) for one in made]
        how.append(f"at {percent(strength)}")
    if _asks(request, "grounds"):
        made = [on for one in made for on in _on_grounds(one, state.chosen_palette)]
        how.append("on other grounds")
    if _asks(request, "wefts"):
        made = [woven for one in made for woven in _with_wefts(one, state.chosen_palette)]
        how.append("with other wefts")
    if _asks(request, "order"):
        made = [turned for one in made for turned in _orders(one, state.check_for(one))]
        how.append("in other orders")
    if not how:
        allowed = "given, or a family, a strength, grounds, wefts or an order"
        raise ArgumentError("stripes", allowed, words="none of them")
    distinct = {recipe(one): one for one in made if recipe(one) != recipe(source)}
    if not distinct:
        asked = _asked(request)
        words = "none in the palette" if asked in ("grounds", "wefts") else "the same"
        raise ArgumentError(asked, "other than its own", words=words)
    most = MOST_STRIPES if _asks(request, "wefts") else MOST_DERIVED
    return list(distinct.values())[:most], ", ".join(how)


def _asks(request: Request, name: str) -> bool:
    return given(request, name) and flag(request, name)


def _asked(request: Request) -> str:
    names = ("order", "wefts", "grounds", "strength", "stripes", "family")
    return next(name for name in names if given(request, name))


def _coordinates(source: Colourway) -> list[Colourway]:
    lead = source.name or source.stripes[0].name
    return [member.with_(name=f"{lead}, {kind}") for kind, member in family_colourways(source)]


def _with_wefts(source: Colourway, palette: Palette) -> list[Colourway]:
    return each_weft(source, [one for one in palette.stripes if one.rgb != source.ground.rgb])


def _fewer(source: Colourway, stripes: int) -> int:
    if len(source.stripes) == 1:
        raise ArgumentError("stripes", "fewer than the one stripe there is", stripes)
    return as_whole(stripes, "stripes", 1, len(source.stripes) - 1)


def _on_grounds(source: Colourway, palette: Palette) -> list[Colourway]:
    stripes = {stripe.rgb for stripe in source.stripes}
    grounds = [ground for ground in palette.grounds if ground.rgb not in stripes]
    return each_ground(source, grounds)


def _orders(source: Colourway, check: Check) -> list[Colourway]:
    """Other orders of the stripes that are other cloths: the two that read best, then any."""
    even = check.is_even and not source.weft_stripes
    bands = None if even else check
    best = (
        [best_order(source, reads, bands) for reads in ("unlike", "flowing")]
        if len(source.stripes) <= (_MOST_ORDERED if even else _MOST_ORDERED_UNEVEN)
        else []
    )
    orders: dict[object, Colourway] = {}
    for one in (*best, *each_order(source, 2 * MOST_DERIVED, bands)):
        orders.setdefault(ring(one.stripes, bands), one)
    orders.pop(ring(source.stripes, bands), None)
    return list(orders.values())[:MOST_DERIVED]


def _keep_derived(state: DeskState, request: Request) -> Step:
    """Keep what is derived from a card, in one family with it; the card is kept first."""
    made, how = derived(state, request)
    there = {recipe(card.colourway) for card in state.kept}
    new = [one for one in made if recipe(one) not in there]
    if not new:
        return state, f"All {how} are kept already"
    after, card = choices.kept_first(state, whole(request, "number"))
    family = card.family or card.colourway.name or card.colourway.stripes[0].name
    after = choices.swap(after, replace(card, family=family))
    last = [one for one in after.kept if one.family == family][-1]
    origin = {**card.origin, "derived": how}
    cards = [
        Card(number, one, origin, family=family)
        for number, one in enumerate(new, after.next_number)
    ]
    return _kept_after(after, last, cards), f"Kept {len(new)} {how}"


HANDLERS: dict[str, Callable[[DeskState, Request], Step]] = {
    "colour": _colour,
    "nudge": _nudge,
    "order": _order,
    "swap": _swap,
    "add_stripe": _add_stripe,
    "copy_stripe": _copy_stripe,
    "remove_stripe": _remove_stripe,
    "weft_as_warp": _weft_as_warp,
    "own": _own,
    "stays": _stays,
    "empty": _empty,
    "copy": _copy,
    "put_away": _put_away,
    "family": _family,
    "name_family": _name_family,
    "all_of": _all_of,
    "recolour": _recolour,
    "keep_derived": _keep_derived,
}


def undo_group(request: Request) -> str:
    """Return the group of an edit: a run of nudges on one part, or of one card's own strength."""
    match request.get("do"):
        case "nudge":
            return f"nudge:{request.get('number')}:{request.get('part')}"
        case "own" if not (given(request, "mixing") or given(request, "stock")):
            return f"own:{request.get('number')}"
    return ""


def goes_on(group: str) -> bool:
    """Whether a group goes on however long the hand rests: a run of nudges does."""
    return group.startswith("nudge:")


def number_made(before: DeskState, request: Request, after: DeskState) -> int | None:
    """Return the number of a card that a request made, to be looked at; None where it made none."""
    made = request.get("do") in ("empty", "copy") and after is not before
    return before.next_number if made else None
