"""What the page shows of a desk, as plain data: settings, facts, the kept, a close look."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction
from functools import lru_cache
from html import escape
from typing import Any

from checkcloth.cloth.check import Check
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.length import Length
from checkcloth.cloth.mixing import MIXINGS, find_mixing
from checkcloth.cloth.tones import positions_of, swatch, swatch_plan, symmetry_of
from checkcloth.colour.css import hex_of
from checkcloth.colour.spaces import srgb_to_bytes
from checkcloth.colour.vision import VISIONS, see_as
from checkcloth.desk.keep_file import Earlier
from checkcloth.desk.state.requests import MOST_STRIPES
from checkcloth.desk.state.state import Card, DeskState, History, colours_of, short_name
from checkcloth.desk.tone_packing import pack, recipe_for
from checkcloth.errors import ArgumentError
from checkcloth.files.html import image
from checkcloth.scoring.contrast import PairScore
from checkcloth.scoring.pairs import KINDS
from checkcloth.scoring.remarks import plain_words, scores_seen
from checkcloth.scoring.vocabulary import COLUMNS, MIXING_WORDS, PAIR_WORDS, VISION_WORDS

COUNTS = (24, 48, 96, 200, 350, 500)
_YARDSTICK = (
    "ΔE00 (CIEDE2000) was fitted to small differences, so lightness steps and ratios stand "
    "beside it. WCAG exempts decoration; ratios are a yardstick here. A screen is no proof: ask "
    "for a strike-off."
)
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
        "count": state.count,
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
        "mixings": [[name, MIXING_WORDS[name], find_mixing(name).meaning] for name in MIXINGS],
        "counts": list(COUNTS),
    }


def vision_choices() -> list[list[str]]:
    """Return the ways to look at the wall, for a choice on the page."""
    return [[vision, VISION_WORDS[vision]] for vision in VISIONS]


# -- around the wall ----------------------------------------------------------------------------


def facts(history: History) -> dict[str, Any]:
    """Return what the tools around the wall show."""
    state = history.now
    locks = [
        {"place": stripe, "words": f"stripe {stripe}, {lock.name}"}
        for stripe, lock in enumerate(state.locked_stripes, 1)
        if lock is not None
    ]
    if state.locked_ground is not None:
        locks.insert(0, {"place": 0, "words": f"ground, {state.locked_ground.name}"})
    return {
        # The slider cannot show several strengths; until it is moved, each has its own.
        "dealt": state.dealt + ("" if state.strength is not None else ", each at its own strength"),
        "undo": history.undoes,
        "redo": history.redoes,
        "sort": state.sort,
        "limits": [
            {"column": limit.column, "words": f"{COLUMNS[limit.column]} under {limit.least:g}"}
            for limit in state.limits
        ],
        "locks": locks,
        "compared": list(state.compared),
        "unit": state.size.unit,
    }


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
    return entries, pack([card.colourway for card in state.kept]).colours


def _kept_entry(card: Card) -> dict[str, Any]:
    colourway = card.colourway
    return {
        "number": card.number,
        "name": colourway.name,
        "title": short_name(colourway),
        "words": f"{colours_of(colourway)}; {details(colourway)}",
        "note": card.note,
        "count": len(colourway.stripes),
        "strength": colourway.strength,
        "recipe": list(recipe_for(colourway)),
    }


def details(colourway: Colourway) -> str:
    """Return stripes, strength and mixing on one line; an estimate says so.

    >>> details(Colourway("white", ["navy"], 0.8, "pigment"))
    '1 stripe, 80 %, pigment (an estimate)'
    """
    number = len(colourway.stripes)
    stripes = "1 stripe" if number == 1 else f"{number} stripes"
    estimate = " (an estimate)" if find_mixing(colourway.mixing).estimate else ""
    return f"{stripes}, {colourway.strength * 100:.4g} %, {colourway.mixing}{estimate}"


# -- a close look -------------------------------------------------------------------------------


def look(state: DeskState, number: int) -> tuple[dict[str, Any], list[bytes]]:
    """Return all that a close look at a card shows, and its tones as every vision sees them.

    Of a card that has left the desk ``{"gone": True}``: the page asks again on its own after
    every step, and is no trouble to anyone by that.
    """
    try:
        card = state.find(number)
    except ArgumentError:
        return {"number": number, "gone": True}, []
    colourway = card.colourway
    kept = card if any(one.number == number for one in state.kept) else state.kept_as(card)
    if kept is not None:
        colourway = colourway.with_(name=kept.colourway.name)
    scores = scores_seen(colourway)
    line = details(colourway)
    fields = {
        "number": number,
        "kept": kept.number if kept else 0,
        "name": colourway.name,
        "title": short_name(colourway),
        "words": f"{colours_of(colourway)}; {line}" if colourway.name else line,
        "note": kept.note if kept else card.note,
        "count": len(colourway.stripes),
        "repeat": str(Check(state.size, len(colourway.stripes)).repeat),
        "compared": number in state.compared,
        **_colours_with_locks(state, colourway),
        "remarks": [[remark.kind, remark.text] for remark in plain_words(colourway, scores)],
        "tones": _named_tones(colourway),
        "figures": [[PAIR_WORDS[kind], *_row(getattr(scores["normal"], kind))] for kind in KINDS],
        "yardstick": _YARDSTICK,
        "view_words": VISION_WORDS,
    }
    seen = [srgb_to_bytes(see_as(colourway.tones, vision)).tobytes() for vision in VISIONS]
    return fields, [b"".join(seen)]


def _colours_with_locks(state: DeskState, colourway: Colourway) -> dict[str, Any]:
    ground, stripes = colourway.ground, colourway.stripes
    locks = [*state.locked_stripes, *[None] * len(stripes)]
    held = state.locked_ground is not None and state.locked_ground.rgb == ground.rgb
    return {
        "ground": [ground.name, ground.hex, held],
        "stripes": [
            [stripe.name, stripe.hex, lock is not None and lock.rgb == stripe.rgb]
            for stripe, lock in zip(stripes, locks, strict=False)
        ],
    }


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
    tones, number = colourway.tones, len(colourway.stripes)
    named: dict[tuple[str, str], None] = {}
    for (warp, weft), *_ in positions_of(number, number, symmetry_of(tones)):
        red, green, blue = (float(channel) for channel in tones[warp, weft])
        named[colourway.tone_name(warp, weft), hex_of((red, green, blue))] = None
    return [list(entry) for entry in named]


# -- without a kernel ---------------------------------------------------------------------------


def still_picture(colourways: Sequence[Colourway]) -> str:
    """Return HTML of the first colourways, each with its words as alternative text.

    >>> still_picture([Colourway("white", ["navy"], name="Quay")]).count("<img alt=")
    1
    """
    pieces = []
    for colourway in colourways[:_MOST_STILL]:
        bands = Check("1 cm", len(colourway.stripes)).bands
        png = swatch(colourway.tones, swatch_plan(bands, _STILL_SIDE, 1)[:_STILL_SIDE])
        words = f"gingham: {colourway}"
        pieces.append(image(png, words, width=_STILL_SIDE, height=_STILL_SIDE))
    left = len(colourways) - len(pieces)
    words = f"The desk's wall: {len(colourways)} colourways"
    words += f", the first {len(pieces)} shown." if left else "."
    return (
        '<div style="display:flex;flex-wrap:wrap;gap:8px">'
        f"{''.join(pieces)}</div><p>{escape(words)} Run the cell for the desk itself.</p>"
    )
