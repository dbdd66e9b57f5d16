"""What the page shows of a desk, as plain data: settings, facts, the kept, a close look."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from fractions import Fraction
from functools import lru_cache
from html import escape
from typing import Any

import numpy as np

from checkcloth.arguments import as_number
from checkcloth.cloth.check import Check
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.length import Length
from checkcloth.cloth.mixing import MIXINGS, find_mixing
from checkcloth.cloth.named_colour import NamedColour
from checkcloth.cloth.spectral import looks_under, seen_under
from checkcloth.cloth.tones import positions_of, swatch, swatch_plans, symmetry_of
from checkcloth.colour.css import hex_of
from checkcloth.colour.ink import STOCKS, Stock
from checkcloth.colour.spaces import srgb_to_bytes
from checkcloth.colour.vision import VISIONS, see_as
from checkcloth.colour.wide import Known, space_for
from checkcloth.desk.keep_file import Earlier
from checkcloth.desk.state.edits import derived
from checkcloth.desk.state.fields import Request
from checkcloth.desk.state.finding import ASKED, GOALS
from checkcloth.desk.state.requests import MOST_STRIPES
from checkcloth.desk.state.state import (
    Card,
    DeskState,
    History,
    colours_of,
    recipe,
    short_name,
)
from checkcloth.errors import ArgumentError, CheckclothError
from checkcloth.export.page.tone_packing import Recipe, as_list, encode_colours, pack, recipe_for
from checkcloth.files.html import image
from checkcloth.ideas.by_hand import part_name
from checkcloth.scoring.contrast import PairScore
from checkcloth.scoring.pairs import KINDS
from checkcloth.scoring.remarks import FAINT, ONE_COLOUR, plain_words, scores_seen
from checkcloth.scoring.vocabulary import (
    COLUMNS,
    LIGHT_WORDS,
    MIXING_WORDS,
    PAIR_WORDS,
    VISION_WORDS,
    asked_words,
    gloss_of,
)
from checkcloth.search import CONDITIONS
from checkcloth.search.wanted import NOTHING

COUNTS = (24, 48, 96, 200, 500, 1000, 2000, 5000)
_YARDSTICK = (
    "ΔE00 (CIEDE2000) was fitted to small differences, so lightness steps and ratios stand "
    "beside it. WCAG exempts decoration; ratios are a yardstick here. A screen is no proof: ask "
    "for a strike-off."
)
# What the wall can be searched for: goals, and conditions with the greatest number of each.
_FIND = {
    "goals": [list(goal) for goal in GOALS.items()],
    "conditions": [
        [name, asked_words(kind, by), most, gloss_of(kind, by), NOTHING.get(name, 0)]
        for name in ASKED
        for kind, by, most in [CONDITIONS[name]]
    ],
    "visions": [[vision, VISION_WORDS[vision]] for vision in VISIONS[1:]],
    "note": f"At arm's length a ΔE00 under {ONE_COLOUR:g} is one colour, under {FAINT:g} is faint. "
    "An empty field asks nothing; nor does 0, a ratio of 1 or a harmony of -3.",
}
_MOST_ENCODED = 2000
# What may be known of colours, as far as it changes the space they are mixed in.
_KNOWN = (Known(beyond=True), Known(some_spectra=True, all_spectra=True))
_STILL_SIDE, _MOST_STILL = 96, 24


# -- settings -----------------------------------------------------------------------------------


def size_text(size: Length) -> str:
    """Return a check size as text that reads back exactly, in the trade's fractions if it can."""
    text = size.shown_in(size.unit)
    return text if Length(text) == size else size.text


@lru_cache(maxsize=8)
def size_choices(extra: Length | None = None) -> tuple[Length, ...]:
    """Return check sizes to choose from: sixteenths of an inch to 2 in, quarters to 4 in.

    A size between them, typed as text, is offered too.
    """
    inch = Fraction(254, 10)
    sizes = [Length.of_mm(inch * n / 16, "in") for n in range(1, 33)]
    sizes += [Length.of_mm(inch * n / 4, "in") for n in range(9, 17)]
    if extra is not None:
        sizes = sorted([*(size for size in sizes if size != extra), extra])
    return tuple(sizes)


def settings(state: DeskState) -> dict[str, Any]:
    """Return the settings as the widget's traits hold them."""
    return {
        "size": size_text(state.size),
        "strength": state.strength,
        "stripes": state.stripes,
        "palette": state.chosen_palette.name,
        "ground": state.ground,
        "mixing": state.mixing or "",
        "stock": None if state.stock is None else state.stock.text,
        "count": state.count,
        "bands": state.bands,
        "weft": state.weft,
        "weft_colours": state.weft_colours,
    }


def setting_choices(state: DeskState) -> dict[str, Any]:
    """Return what the settings may be; grounds marked as such stand first."""
    palette = state.chosen_palette
    names = [colour.name for colour in palette.grounds]
    names += [colour.name for colour in palette if colour.name not in names]
    sizes = size_choices(state.size)
    return {
        "sizes": [[size_text(size), size.inches] for size in sizes],
        "stripes": [1, MOST_STRIPES],
        "palettes": [one.name for one in state.palettes],
        "grounds": [["", "drawn as well"], *([name, name] for name in names)],
        "mixings": [_mixing_choice(name) for name in MIXINGS],
        "stocks": [_stock_choice(stock) for stock in offered_stocks(state)],
        "counts": list(COUNTS),
        "find": _FIND,
    }


def _mixing_choice(name: str) -> list[Any]:
    """A mixing: its name, in few words, its meaning, and its recipe at the usual options."""
    usual = recipe_for(Colourway("white", ["black"], mixing=name))
    return [name, MIXING_WORDS[name], find_mixing(name).meaning, as_list(usual)]


def offered_stocks(state: DeskState) -> list[Stock]:
    """Return what can be printed on: known by name, the desk's own, those of what is kept."""
    own = [] if state.stock is None else [state.stock]
    kept = (card.colourway.stock for card in state.kept)
    return list(dict.fromkeys((*STOCKS.values(), *own, *kept)))


def _stock_choice(stock: Stock) -> list[Any]:
    """A stock: its text, its words, and its numbers as recipes have them."""
    numbers = recipe_for(Colourway("white", ["black"], mixing="ink", stock=stock)).stock
    return [stock.text, stock.words, list(numbers)]


def vision_choices() -> list[list[str]]:
    """Return the ways to look at the wall, for a choice on the page."""
    return [[vision, VISION_WORDS[vision]] for vision in VISIONS]


def light_choices() -> list[list[str]]:
    """Return the lights to look under, for a choice on the page."""
    return [[light, words] for light, words in LIGHT_WORDS.items()]


# -- around the wall ----------------------------------------------------------------------------


def facts(history: History) -> dict[str, Any]:
    """Return what the tools around the wall show."""
    state = history.now
    staying = enumerate((state.staying_ground, *state.staying_stripes))
    return {
        # The slider cannot show several strengths; until it is moved, each has its own.
        "dealt": state.dealt + ("" if state.strength is not None else ", each at its own strength"),
        "source": state.source,
        "undo": history.undoes,
        "redo": history.redoes,
        "sort": state.sort,
        "limits": [
            {"column": limit.column, "words": f"{COLUMNS[limit.column]} under {limit.least:g}"}
            for limit in state.limits
        ],
        "staying": [
            {"part": part, "words": f"{part_name(part).lower()}, {colour.name}"}
            for part, colour in staying
            if colour is not None
        ],
        "compared": list(state.compared),
        "own": own_numbers(state),
        "families": list(state.families),
        "kept_names": {str(number): name for number, name in state.kept_names.items()},
        "client": state.client,
    }


def own_numbers(state: DeskState) -> list[int]:
    """Return the numbers of wall cards that keep their own strength and mixing."""
    return [card.number for card in state.shown if card.own]


def offers(earlier: Iterable[Earlier]) -> list[dict[str, str]]:
    """Return the sets of earlier sessions in words, with the fault of each that is damaged."""
    return [
        {
            "file": one.path.name,
            "fault": one.fault,
            "words": f"{one.path.name}, {one.when}: "
            + (f"cannot be opened ({one.fault})" if one.fault else f"{one.kept} kept"),
        }
        for one in earlier
    ]


def kept_list(state: DeskState) -> tuple[list[dict[str, Any]], bytes]:
    """Return the kept colourways for the shelf, and their encoded colours in that order."""
    entries = [_kept_entry(card) for card in state.kept]
    return entries, pack([card.colourway for card in state.kept], wefts=True).colours


def _kept_entry(card: Card) -> dict[str, Any]:
    colourway = card.colourway
    return {
        "number": card.number,
        "name": colourway.name,
        "title": short_name(colourway),
        "words": f"{colours_of(colourway)}; {details(colourway)}",
        "note": card.note,
        "count": len(colourway.stripes),
        "wefts": len(colourway.weft_stripes),
        "strength": colourway.strength,
        "recipe": as_list(recipe_for(colourway)),
        "family": card.family,
        "answer": card.answer,
        "remark": card.remark,
        "ground": [colourway.ground.name, colourway.ground.hex],
        "stripes": [[stripe.name, stripe.hex] for stripe in colourway.stripes],
        "weft": [[stripe.name, stripe.hex] for stripe in colourway.weft_stripes],
    }


def details(colourway: Colourway) -> str:
    """Return stripes, strength, mixing and a named stock; an estimate, or colours moved, say so.

    >>> details(Colourway("white", ["navy"], 0.8, "pigment"))
    '1 stripe, 80 %, dyed, an estimate (pigment)'
    """
    number = len(colourway.stripes)
    stripes = "1 stripe" if number == 1 else f"{number} stripes"
    words = f"{stripes}, {colourway.strength * 100:.4g} %, {MIXING_WORDS[colourway.mixing]}"
    if find_mixing(colourway.mixing).uses_stock and colourway.stock.named:
        words += f" on {colourway.stock.words}"
    return f"{words}; {moved}" if (moved := colourway.moved_words) else words


# -- a close look -------------------------------------------------------------------------------


def look(state: DeskState, number: int, light: str = "D65") -> tuple[dict[str, Any], list[bytes]]:
    """Return all that a close look at a card shows, and two buffers of bytes.

    These are its tones as every vision sees them, and its colours encoded for its mixing
    (float32, little-endian, (N+1) × C, the ground first), by which the page mixes for itself;
    both as they look under ``light``. Words and figures are those of daylight.
    Of a card that has left the desk ``{"gone": True}``: the page asks again on its own after
    every step, and is no trouble to anyone by that.
    """
    try:
        card = state.find(number)
    except ArgumentError:
        return {"number": number, "gone": True}, []
    colourway = card.colourway
    kept = card if state.is_kept(number) else state.kept_as(card)
    if kept is not None:
        colourway = colourway.with_(name=kept.colourway.name)
    lit = seen_under(colourway, light)
    check = state.check_for(colourway)
    scores = scores_seen(colourway, None if check.is_even else check)
    line = details(colourway)
    fields = {
        "number": number,
        "kept": kept.number if kept else 0,
        "name": colourway.name,
        "title": short_name(colourway),
        "words": f"{colours_of(colourway)}; {line}" if colourway.name else line,
        "note": kept.note if kept else card.note,
        "count": len(colourway.stripes),
        "wefts": len(colourway.weft_stripes),
        "weft": [[colour.name, colour.hex] for colour in colourway.weft_stripes],
        "recipe": as_list(recipe_for(lit)),
        "strength": colourway.strength,
        "stock": colourway.stock.words,
        "own": card.own or kept is card,
        "compared": number in state.compared,
        **_colours_with_stays(state, colourway),
        "remarks": [[remark.kind, remark.text] for remark in plain_words(colourway, scores)],
        "tones": _named_tones(colourway),
        "figures": [[PAIR_WORDS[kind], *_row(getattr(scores["normal"], kind))] for kind in KINDS],
        "yardstick": _YARDSTICK,
        "view_words": VISION_WORDS,
    }
    seen = [srgb_to_bytes(see_as(lit.tones, vision)).tobytes() for vision in VISIONS]
    return fields, [b"".join(seen), pack([lit], wefts=True).colours]


def _colours_with_stays(state: DeskState, colourway: Colourway) -> dict[str, Any]:
    ground, *stripes = (
        [colour.name, colour.hex, stays]
        for colour, stays in zip(
            (colourway.ground, *colourway.stripes), state.stays(colourway), strict=True
        )
    )
    return {"ground": ground, "stripes": stripes}


def _row(part: PairScore) -> list[str]:
    least, mean, step, ratio = (
        float(value)
        for value in (part.least_de2000, part.mean_de2000, part.least_dl, part.least_ratio)
    )
    if least != least:  # a single stripe has nothing to be compared with
        return ["–", "–", "–", "–"]
    return [f"{least:.1f}", f"{mean:.1f}", f"{step:.1f}", f"{ratio:.2f}:1"]


def _named_tones(colourway: Colourway) -> list[list[str]]:
    """Every tone once, by name: warp and weft singles are one where the mixing makes them so."""
    tones, counts = colourway.tones, (len(colourway.stripes), len(colourway.weft_colours))
    named: dict[tuple[str, str], None] = {}
    for (warp, weft), *_ in positions_of(*counts, symmetry_of(tones)):
        red, green, blue = (float(channel) for channel in tones[warp, weft])
        named[colourway.tone_name(warp, weft), hex_of((red, green, blue))] = None
    return [list(entry) for entry in named]


# -- for what is tried --------------------------------------------------------------------------


def encoded(request: Request, light: str = "D65") -> bytes:
    """Return colours as they look under a light, encoded for a recipe (float32, little-endian).

    Raises
    ------
    ArgumentError
        For what is no recipe, or text that is no colour.
    """
    wanted, colours = _recipe(request.get("recipe")), request.get("colours")
    if not isinstance(colours, list) or len(colours) > _MOST_ENCODED:
        raise ArgumentError("colours", f"a list of at most {_MOST_ENCODED} CSS colours", colours)
    if not colours:
        return b""
    made = []
    for colour in colours:
        try:
            made.append(looks_under(NamedColour.of(colour), light))
        except CheckclothError:
            raise ArgumentError("colours", "CSS colours", colour) from None
    return encode_colours(made, wanted).tobytes()


def _recipe(value: Any) -> Recipe:
    """A recipe as the page has it; only what encoding hangs on is read from it."""
    if not isinstance(value, list) or len(value) not in (5, 6):  # the sixth is for inks
        raise ArgumentError("recipe", f"a list of {', '.join(Recipe._fields)}", value)
    name, _, decode, share, n = value[:5]
    if not isinstance(name, str):
        raise ArgumentError("recipe", "one that begins with a mixing", value)
    mixing = find_mixing(name)
    share, n = as_number(share, "warp_share", 0, 1), as_number(n, "yule_nielsen", 1, 10)
    wide = any(decode == space_for(mixing.space, known) for known in _KNOWN)
    return Recipe(mixing.name, mixing.layout, decode if wide else mixing.space, share, n)


def derived_fields(state: DeskState, request: Request) -> tuple[dict[str, Any], list[bytes]]:
    """Return what is derived from a card, to be looked at before it is kept, and its colours."""
    made, how = derived(state, request)
    packed = pack(made, wefts=True)
    there = {recipe(card.colourway) for card in state.kept}
    fields = {
        "words": how,
        "colourways": [[c.ground.name, *(stripe.name for stripe in c.stripes)] for c in made],
        "counts": [len(colourway.stripes) for colourway in made],
        "wefts": [len(colourway.weft_stripes) for colourway in made],
        "weft_names": [[stripe.name for stripe in c.weft_stripes] for c in made],
        "names": [colourway.name for colourway in made],
        "strengths": [colourway.strength for colourway in made],
        "recipes": packed.recipes,
        "recipe_of": list(packed.recipe_of),
        "kept": [recipe(colourway) in there for colourway in made],
    }
    return fields, [packed.colours]


# -- without a kernel ---------------------------------------------------------------------------


def still_picture(colourways: Sequence[Colourway], check_for: Callable[[Colourway], Check]) -> str:
    """Return HTML of the first colourways, each with its words as alternative text.

    >>> one = Colourway("white", ["navy"], name="Quay")
    >>> still_picture([one], lambda _: Check("1 cm", 1)).count("<img alt=")
    1
    """
    pieces = []
    for colourway in colourways[:_MOST_STILL]:
        check = check_for(colourway)
        plans = swatch_plans(check.warp_bands, check.weft_bands, _STILL_SIDE, 1)
        if not check.is_even:  # its repeat may be no square, but the picture is
            plans = np.resize(plans[0], _STILL_SIDE), np.resize(plans[1], _STILL_SIDE)
        warp, weft = (plan[:_STILL_SIDE] for plan in plans)
        png = swatch(colourway.tones, warp, weft)
        words = f"gingham: {colourway}"
        pieces.append(image(png, words, width=_STILL_SIDE, height=_STILL_SIDE))
    left = len(colourways) - len(pieces)
    words = f"The desk's wall: {len(colourways)} colourways"
    words += f", the first {len(pieces)} shown." if left else "."
    return (
        '<div style="display:flex;flex-wrap:wrap;gap:8px">'
        f"{''.join(pieces)}</div><p>{escape(words)} A still: it moves in JupyterLab "
        "and Notebook. Run the cell for the desk itself.</p>"
    )
