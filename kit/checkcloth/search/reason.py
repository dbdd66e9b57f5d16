"""Which two tones set the measure of a colourway: the reason for its place, in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from checkcloth.scoring.contrast import Score, score
from checkcloth.search.blocks import colourway_of
from checkcloth.search.constraint import measure_parts

if TYPE_CHECKING:
    from checkcloth.search.result import SearchResult

__all__ = ["closest_words"]

_FIELD = {"de2000": "least_de2000", "dl": "least_dl", "ratio": "least_ratio"}


def closest_words(result: SearchResult, place: int) -> str:
    """Name the pair of tones that sets the measure of ``result.found[place]``.

    >>> from checkcloth import Palette
    >>> from checkcloth.search import Wanted, search
    >>> result = search(Wanted(Palette("coast", ["white", "navy", "teal"]), 2, grounds=["white"]))
    >>> closest_words(result, 0)
    'teal on white / teal over teal'
    """
    wanted = result.wanted
    colourway = colourway_of(wanted, result.found[place])
    kind, by = measure_parts(wanted.measure)
    kinds = ("ground_single", "single_crossing") if kind == "least_edge" else (kind,)
    worst: tuple[float, str, Score, str] | None = None
    for vision in wanted.measure_visions:
        scored = score(colourway, vision, wanted.severity)
        for one in kinds:
            value = float(getattr(getattr(scored, one), _FIELD[by]))
            if worst is None or value < worst[0]:
                worst = (value, one, scored, vision)
    assert worst is not None
    _, one, scored, vision = worst
    if by == "de2000":
        pair = getattr(scored, one).closest
        first, second = (colourway.tone_name(int(warp), int(weft)) for warp, weft in pair)
        words = f"{first} / {second}"
    else:
        words = one.replace("_", "–")
    return words if vision == "normal" else f"{words}, {vision} vision"
