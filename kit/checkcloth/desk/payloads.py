"""What the desk tells the page, as plain data: facts, the kept, a close look. No widgets here."""

from __future__ import annotations

from typing import Any

from checkcloth.cloth.check import Check
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.mixing import find_mixing
from checkcloth.colour.css import hex_of
from checkcloth.colour.vision import VISIONS
from checkcloth.desk.state.history import History
from checkcloth.desk.state.state import Card, DeskState, short_name
from checkcloth.desk.tone_packing import batches, counts, pack
from checkcloth.scoring.contrast import PairScore
from checkcloth.scoring.pairs import KINDS
from checkcloth.scoring.words import COLUMNS, PAIR_WORDS, VISION_WORDS, plain_words, scores_seen

__all__ = ["details", "facts", "kept_list", "look", "vision_choices"]

_YARDSTICK = (
    "ΔE00 (CIEDE2000) was fitted to small differences, so lightness steps and ratios stand "
    "beside it. WCAG exempts decoration; ratios are a yardstick here. A screen is no proof: ask "
    "for a strike-off."
)


def details(colourway: Colourway) -> str:
    """Return stripes, strength and mixing on one line; an estimate says so.

    >>> details(Colourway("white", ["navy"], 0.8, "pigment"))
    '1 stripe, 80 %, pigment (an estimate)'
    """
    number = len(colourway.stripes)
    stripes = "1 stripe" if number == 1 else f"{number} stripes"
    estimate = " (an estimate)" if find_mixing(colourway.mixing).estimate else ""
    return f"{stripes}, {colourway.strength * 100:.4g} %, {colourway.mixing}{estimate}"


def vision_choices() -> list[list[str]]:
    """Return the ways to look at the wall, for a choice on the page.

    >>> vision_choices()[0]
    ['normal', 'as it is']
    """
    return [[one, "as it is" if one == "normal" else VISION_WORDS[one]] for one in VISIONS]


def facts(history: History) -> dict[str, Any]:
    """Return what the tools around the wall show.

    >>> from checkcloth import Length
    >>> told = facts(History(DeskState(Length("7 mm"))))
    >>> told["unit"], told["undo"]
    ('mm', '')
    """
    state = history.now
    locks = [
        {"place": place, "words": f"stripe {place}, {lock.name}"}
        for place, lock in enumerate(state.locked_stripes, 1)
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
            {"column": one.column, "words": f"{COLUMNS[one.column]} under {one.least:g}"}
            for one in state.limits
        ],
        "locks": locks,
        "compared": list(state.compared),
        "unit": state.size.unit,
    }


def kept_list(state: DeskState) -> tuple[list[dict[str, Any]], bytes]:
    """Return the kept colourways for the shelf, and their tones.

    >>> from checkcloth import Length
    >>> kept_list(DeskState(Length("7 mm")))
    ([], b'')
    """
    members = [card.colourway for card in state.kept]
    told = [
        {
            "number": card.number,
            "name": card.colourway.name,
            "title": short_name(card.colourway),
            "words": f"{_colours(card.colourway)}; {details(card.colourway)}",
            "note": card.note,
            "count": count,
        }
        for card, count in zip(state.kept, counts(members), strict=True)
    ]
    return told, pack(batches(members), None, None) if members else b""


def _colours(colourway: Colourway) -> str:
    return f"{', '.join(one.name for one in colourway.stripes)} on {colourway.ground.name}"


def look(state: DeskState, number: int) -> tuple[dict[str, Any], bytes]:
    """Return all that a close look at a card shows, and its tones as every vision sees them.

    >>> from checkcloth import Length
    >>> state = DeskState(Length("7 mm")).deal([Colourway("white", ["navy"])], "by hand", {})
    >>> told, pixels = look(state, 1)
    >>> told["title"], told["repeat"], len(pixels)  # five visions of four tones
    ('navy on white', '14 mm (0.5512 in)', 60)
    """
    card = state.find(number)
    one = card.colourway
    kept = _kept_of(state, card)
    if kept is not None and card is not kept:
        one = one.with_(name=kept.colourway.name)
    scores = scores_seen(one)
    locked = [*state.locked_stripes, *[None] * len(one.stripes)]
    ground_locked = state.locked_ground is not None and state.locked_ground.rgb == one.ground.rgb
    told = {
        "number": number,
        "kept": kept.number if kept else 0,
        "name": one.name,
        "title": short_name(one),
        "words": f"{_colours(one)}; {details(one)}" if one.name else details(one),
        "note": kept.note if kept else card.note,
        "count": len(one.stripes),
        "repeat": str(Check(state.size, len(one.stripes)).repeat),
        "compared": number in state.compared,
        "ground": [one.ground.name, one.ground.hex, ground_locked],
        "stripes": [
            [stripe.name, stripe.hex, lock is not None and lock.rgb == stripe.rgb]
            for stripe, lock in zip(one.stripes, locked, strict=False)
        ],
        "remarks": [[remark.kind, remark.text] for remark in plain_words(one, scores)],
        "tones": _tones(one),
        "figures": [[PAIR_WORDS[kind], *_row(getattr(scores["normal"], kind))] for kind in KINDS],
        "yardstick": _YARDSTICK,
        "view_words": VISION_WORDS,
    }
    group = batches([one])
    return told, b"".join(pack(group, None, None, vision) for vision in VISIONS)


def _kept_of(state: DeskState, card: Card) -> Card | None:
    if any(kept.number == card.number for kept in state.kept):
        return card
    return state.kept_as(card)


def _row(part: PairScore) -> list[str]:
    least, mean, step, ratio = (
        float(part.least_de2000),
        float(part.mean_de2000),
        float(part.least_dl),
        float(part.least_ratio),
    )
    if least != least:  # a single stripe has nothing to be compared with
        return ["–", "–", "–", "–"]
    return [f"{least:.1f}", f"{mean:.1f}", f"{step:.1f}", f"{ratio:.2f}:1"]


def _tones(colourway: Colourway) -> list[list[str]]:
    """Every tone once, by name: warp and weft singles are one where the mixing makes them so."""
    numbers = range(1, len(colourway.stripes) + 1)
    places = [(0, 0), *((n, 0) for n in numbers), *((0, n) for n in numbers)]
    places += [(warp, weft) for warp in numbers for weft in numbers]
    told: list[list[str]] = []
    seen: set[tuple[str, str]] = set()
    for warp, weft in places:
        red, green, blue = (float(channel) for channel in colourway.tones[warp, weft])
        entry = (colourway.tone_name(warp, weft), hex_of((red, green, blue)))
        if entry not in seen:
            seen.add(entry)
            told.append(list(entry))
    return told
