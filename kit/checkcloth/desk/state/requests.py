"""What can be asked of a desk, by name: each a pure step from one state to the next.

A request is plain data, as the page sends it: ``{"do": "keep", "number": 7}``.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import Any

from checkcloth.arguments import as_number, as_whole
from checkcloth.cloth.bands import PRESETS
from checkcloth.cloth.check import Check
from checkcloth.cloth.mixing import find_mixing
from checkcloth.colour.ink import Stock
from checkcloth.desk.state import choices, edits, ideas, palettes, sort_filter
from checkcloth.desk.state.fields import Request, Step, given, text, whole
from checkcloth.desk.state.laying import AS_WARP, EVEN, bands_text, check_of, order_text
from checkcloth.desk.state.state import MOST_SHOWN, DeskState, short_name
from checkcloth.errors import ArgumentError
from checkcloth.scoring.vocabulary import MIXING_WORDS

MOST_STRIPES = 12  # of a draw; colourways shown by code may have more
# What code and page set as a value; everything else that can be asked for is an act.
SETTINGS = (
    *("size", "strength", "stripes", "palette", "ground", "mixing", "count"),
    *("stock", "bands", "weft", "weft_colours"),
)
_SLIDERS = ("size", "strength", "stripes", "bands", "weft")
_LONGEST_ORDER = 60  # of one in words


def handle(state: DeskState, request: Request) -> Step:
    """Return the state that a request leads to, and what undo is to call the step.

    A request that changes nothing returns the state that it got.

    Parameters
    ----------
    state : DeskState
    request : mapping
        With ``do``, the name of the act or setting; a setting has its ``value``, an act what
        it needs (``number`` of a card, ``text``, ...).

    Raises
    ------
    ArgumentError, LengthError
        For an unknown name, a field that is missing or out of range, a card that is gone.

    Examples
    --------
    >>> from checkcloth import Colourway, Length
    >>> state = DeskState(Length("7 mm")).deal([Colourway("white", ["navy"])], "by hand")
    >>> kept, words = handle(state, {"do": "keep", "number": 1})
    >>> words, len(kept.kept), len(state.kept)
    ('keep navy on white', 1, 0)
    """
    name = request.get("do")
    if not isinstance(name, str) or name not in _HANDLERS:
        raise ArgumentError("do", f"one of {', '.join(_HANDLERS)}", name)
    return _HANDLERS[name](state, request)


def undo_group(request: Request) -> str:
    """Return the group of a request: steps of one group in a row (one drag) undo as one."""
    name = str(request.get("do"))
    return name if name in _SLIDERS else edits.undo_group(request)


def held_words(before: DeskState, request: Request, after: DeskState) -> str:
    """Say what a setting did not do: fewer stripes than asked for, cards that keep their own."""
    if request.get("do") in ("strength", "mixing", "stock"):
        own = sum(card.own for card in after.shown)
        keep = "keeps" if own == 1 else "keep"
        return f"{own} by hand {keep} {'its' if own == 1 else 'their'} own." if own else ""
    wefts = _held_wefts(before, request, after)
    wanted = request.get("value") if request.get("do") == "stripes" else before.stripes
    if request.get("do") not in SETTINGS or after.stripes == wanted:
        return wefts
    most = after.stripes
    said = f"{after.palette} has {most} colours for stripes, so {wanted} became {most}."
    return f"{said} {wefts}".rstrip()


def _held_wefts(before: DeskState, request: Request, after: DeskState) -> str:
    own = request.get("do") == "weft_colours"
    wanted = request.get("value") if own else before.weft_colours
    most = after.weft_colours
    if request.get("do") not in SETTINGS or most == wanted:
        return ""
    return f"{after.palette} has {most} colours for the weft, so {wanted} became {most}."


def bands_words(before: DeskState, request: Request, after: DeskState) -> str:
    """Say which orders were given up because they are not of the stripes that there are now."""
    if request.get("do") in ("bands", "weft") or before.check is after.check:
        return ""
    said = []
    if after.bands == EVEN != before.bands:
        said.append("The bands are even again")
    if after.weft == AS_WARP != before.weft:
        said.append("The weft runs as the warp again")
    if not said:
        return ""
    order = before.bands if after.bands != before.bands else before.weft
    why = "they would repeat over 1 m" if order in PRESETS else "the order was of other stripes"
    return f"{'. '.join(said)}: {why}."


def even_words(before: DeskState, after: DeskState) -> str:
    """Say which of the kept a step has made even: the bands are of other numbers of stripes."""
    check = after.uneven_check
    if check is None:
        return ""
    even, was = ({card.number for card in state.unlaid} for state in (after, before))
    if not even or (check == before.uneven_check and even <= was):
        return ""
    counts = check.stripes, check.weft_stripes
    stripes = " × ".join(map(str, dict.fromkeys(counts)))
    many = f"{len(even)} of {len(after.kept)} kept {'is' if len(even) == 1 else 'are'} even"
    return f"{many}: the bands are of {stripes} {'stripe' if counts == (1, 1) else 'stripes'}."


# -- choosing -----------------------------------------------------------------------------------


def _card(state: DeskState, request: Request) -> tuple[int, str]:
    """The number of the card that a request is about, and what people call it."""
    number = whole(request, "number")
    return number, short_name(state.find(number).colourway)


def _toggle(state: DeskState, request: Request) -> Step:
    number, name = _card(state, request)
    after = choices.toggle(state, number)
    return after, f"{'keep' if len(after.kept) > len(state.kept) else 'drop'} {name}"


def _keep(state: DeskState, request: Request) -> Step:
    number, name = _card(state, request)
    after = choices.keep(state, number)
    # A name typed just before may have kept it already.
    return after, f"{name} is kept" if after is state else f"keep {name}"


def _drop(state: DeskState, request: Request) -> Step:
    number, name = _card(state, request)
    return choices.drop(state, number), f"drop {name}"


def _name(state: DeskState, request: Request) -> Step:
    number, name = _card(state, request)
    typed = text(request, "text")
    # On the wall a name keeps: that is what is undone.
    card = state.find(number)
    kept = card in state.kept or state.kept_as(card)
    what = f"name {name if card.colourway.name else 'it'}" if kept else "keep it as"
    said = f"{what} “{typed.strip()}”"
    return choices.name(state, number, typed), said


def _note(state: DeskState, request: Request) -> Step:
    number, name = _card(state, request)
    return choices.note(state, number, text(request, "text")), f"note to {name}"


def _move(state: DeskState, request: Request) -> Step:
    number, name = _card(state, request)
    after = choices.move(state, number, whole(request, "index"))
    # A card of the wall stands for the kept one that looks the same.
    index = after.kept.index(choices.kept_card(state, number))
    return after, f"move {name} to place {index + 1}"


def _compare(state: DeskState, request: Request) -> Step:
    number, name = _card(state, request)
    after = choices.compare(state, number)
    return after, f"{'lay beside' if number in after.compared else 'take away'}: {name}"


# -- ideas --------------------------------------------------------------------------------------


def _draw(state: DeskState, _: Request) -> Step:
    return ideas.draw(ideas.fit_stripes(state.with_(seed=state.seed + 1))), "new draw"


def _more(state: DeskState, request: Request) -> Step:
    number, name = _card(state, request)
    return ideas.more_like(state, number), f"more like {name}"


def _different(state: DeskState, _: Request) -> Step:
    return ideas.different(ideas.fit_stripes(state)), "something different"


# -- the order of the wall ----------------------------------------------------------------------


def _sort(state: DeskState, request: Request) -> Step:
    return sort_filter.sort_by(state, text(request, "sort")), "sort"


def _limit(state: DeskState, request: Request) -> Step:
    least = request.get("least")
    if isinstance(least, bool) or not isinstance(least, int | float):
        raise ArgumentError("least", "a number", least)
    return sort_filter.add_limit(state, text(request, "column"), least), (
        f"hide what is under {least:g}"
    )


def _unlimit(state: DeskState, request: Request) -> Step:
    return sort_filter.drop_limit(state, text(request, "column")), "stop hiding"


# -- settings -----------------------------------------------------------------------------------


def as_setting(name: str, value: Any) -> Any:
    """Return a setting as the state holds it, but for names of palettes and grounds.

    Raises
    ------
    ArgumentError, LengthError
    """
    match name:
        case "size":
            return Check(value, 1).size
        case "strength":
            return None if value is None else as_number(value, "strength", 0, 1)
        case "stripes":
            return as_whole(value, "stripes", 1, MOST_STRIPES)
        case "weft_colours":
            return as_whole(value, "weft_colours", 0, MOST_STRIPES)
        case "count":
            return as_whole(value, "count", 1, MOST_SHOWN)
        case "mixing":
            return find_mixing(value).name if value else None
        case "stock":
            return None if value is None else Stock.of(value)
        case "bands" | "weft":
            # Of which stripes it may be only the state knows.
            return value if (name, value) == ("weft", AS_WARP) else order_text(value, name)
    return value


def _size(state: DeskState, request: Request) -> Step:
    # Typed in the page it comes as text; set, as the text of a size that is offered.
    size = as_setting("size", request.get("text", request.get("value")))
    return _laid(state.with_(size=size)), f"check size {size}"


def _laid(state: DeskState) -> DeskState:
    """Return the state; a check that cannot be, by a repeat over 1 m, is refused here."""
    check_of(state.size, state.stripes, state.bands, state.weft, state.wefts)
    return state


def _bands(state: DeskState, request: Request) -> Step:
    """Lay the warp's stripes in an order, of letters or by a preset's name."""
    given = request.get("text", request.get("value"))
    bands = bands_text(given, state.stripes, "bands")
    words = f"{bands} bands" if bands in PRESETS else f"bands {_short(bands)}"
    return _laid(state.with_(bands=bands)), words


def _weft(state: DeskState, request: Request) -> Step:
    """Lay the weft's stripes in another order than the warp's, or by "" in the same."""
    given = request.get("text", request.get("value"))
    weft = AS_WARP
    if given != AS_WARP:
        weft = bands_text(given, state.wefts or state.stripes, "weft")
    words = f"{weft} weft" if weft in PRESETS else f"weft {_short(weft)}"
    return _laid(state.with_(weft=weft)), words if weft else "weft as the warp"


def _bands_for(state: DeskState, request: Request) -> Step:
    """Lay the desk's bands for as many stripes as a card has, warp and weft; draws follow."""
    _, name = _card(state, request)
    cloth = state.find(whole(request, "number")).colourway
    stripes = as_setting("stripes", len(cloth.stripes))
    own = as_setting("weft_colours", len(cloth.weft_stripes))
    wefts = len(cloth.weft_colours)
    after = state.with_(stripes=stripes, weft_colours=own, wefts=wefts if wefts != stripes else 0)
    return after, f"bands for {name}"


def _short(order: str) -> str:
    return order if len(order) <= _LONGEST_ORDER else f"{order[: _LONGEST_ORDER - 1]}…"


def _strength(state: DeskState, request: Request) -> Step:
    strength = as_setting("strength", request.get("value"))
    words = "each its own strength" if strength is None else f"strength {strength * 100:.4g} %"
    return state.with_(strength=strength), words


def _mixing(state: DeskState, request: Request) -> Step:
    mixing = as_setting("mixing", request.get("value"))
    words = f"mixing {MIXING_WORDS[mixing] if mixing else 'as each came'}"
    return state.with_(mixing=mixing), words


def _stock(state: DeskState, request: Request) -> Step:
    typed = given(request, "increase")
    stock = _typed_stock(request) if typed else as_setting("stock", request.get("value"))
    words = "each its own stock" if stock is None else f"printed on {stock.words}"
    return state.with_(stock=stock), words


def _typed_stock(request: Request) -> Stock:
    """Read the numbers of a press as they are typed, the increase in per cent."""
    typed = {name: text(request, name).strip() for name in ("increase", "density", "n")}
    increase = as_number(typed["increase"].removesuffix("%"), "tone value increase", 0, 30)
    density = as_number(typed["density"], "limiting density", 0.3, 6)
    return Stock("", round(increase / 100, 6), density, as_number(typed["n"], "n", 1, 10))


def _redraw(name: str, state: DeskState, request: Request) -> Step:
    """Set what colourways are drawn by, and deal afresh."""
    value = as_setting(name, request.get("value"))
    offered = {
        "palette": [palette.name for palette in state.palettes],
        "ground": ["", *(colour.name for colour in state.chosen_palette)],
    }.get(name, [value])
    if value not in offered:
        raise ArgumentError(name, f"one of {', '.join(filter(None, offered))}", value)
    if value == getattr(state, name):
        return state, ""
    words = {
        "stripes": f"{value} stripes",
        "palette": f"palette {value}",
        "ground": f"ground {value or 'drawn as well'}",
        "count": f"{value} at most",
        "weft_colours": f"weft colours: {value or 'those of the warp'}",
    }
    changes = {name: value}
    if name == "palette":  # its own grounds; and what stays is of the palette that it was seen in
        changes |= {"ground": "", "staying_ground": None, "staying_stripes": ()}
    return ideas.draw(ideas.fit_stripes(state.with_(**changes))), words[name]


# -- palettes -----------------------------------------------------------------------------------


def _edit_palette(state: DeskState, request: Request) -> Step:
    return palettes.edit_palette(
        state,
        text(request, "palette"),
        whole(request, "index"),
        text(request, "field"),
        text(request, "text") if request.get("field") != "remove" else "",
        text(request, "name") if given(request, "name") else "",
    )


_HANDLERS: dict[str, Callable[[DeskState, Request], Step]] = {
    "toggle": _toggle,
    "keep": _keep,
    "drop": _drop,
    "name": _name,
    "note": _note,
    "move": _move,
    "compare": _compare,
    "draw": _draw,
    "more": _more,
    "different": _different,
    **edits.HANDLERS,
    "sort": _sort,
    "limit": _limit,
    "unlimit": _unlimit,
    "edit_palette": _edit_palette,
    "size": _size,
    "bands": _bands,
    "weft": _weft,
    "bands_for": _bands_for,
    "strength": _strength,
    "mixing": _mixing,
    "stock": _stock,
    **{
        name: partial(_redraw, name)
        for name in ("stripes", "palette", "ground", "count", "weft_colours")
    },
}
