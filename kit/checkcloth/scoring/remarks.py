"""Scores in plain words, for people who have never met a ΔE.

The yardsticks are the kit's own (common practice, no source): cloth is judged at arm's
length, where two tones need a larger difference than two chips laid edge to edge.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from checkcloth.cloth.check import Check
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.mixing import find_mixing
from checkcloth.cloth.viewing import USUAL_SETT, viewing
from checkcloth.colour.css import hex_of
from checkcloth.colour.ink import lighter_than
from checkcloth.colour.spaces import linear_to_p3, srgb_to_linear
from checkcloth.colour.vision import VISIONS
from checkcloth.colour.wide import encode_wide, space_for
from checkcloth.needs import has
from checkcloth.scoring.contrast import PairScore, Score, score
from checkcloth.scoring.pairs import EDGE_KINDS, KINDS
from checkcloth.scoring.survey_names import SURVEY, shared_names
from checkcloth.scoring.vocabulary import PAIR_WORDS, VISION_WORDS, estimate_words, spectra_words

ONE_COLOUR = 2.0  # CIEDE2000: at arm's length, one colour
FAINT = 5.0  # CIEDE2000: told apart only by looking for it
FLAT = 4.0  # |ΔL*|: told apart by hue alone


@dataclass(frozen=True)
class Remark:
    """One sentence, and whether it is a caution, a comfort or plain fact."""

    kind: str
    text: str


def scores_seen(colourway: Colourway, check: Check | None = None) -> dict[str, Score]:
    """Score a colourway for every colour vision, and in grey; in a check's bands if given."""
    return {vision: score(colourway, vision, check=check) for vision in VISIONS}


def plain_words(colourway: Colourway, scores: Mapping[str, Score]) -> list[Remark]:
    """Say what the scores of a colourway, from :func:`scores_seen`, mean, cautions first.

    >>> one = Colourway("white", ["#204060", "#214161"])
    >>> print(plain_words(one, scores_seen(one))[0].text)
    stripes 1 and 2 (#204060, #214161) read as one colour at arm's length: ΔE00 0.2, ΔL* 0.2
    """
    normal = scores["normal"]
    remarks = [*_stripes(colourway, normal), *_edges(colourway, normal)]
    remarks += _seen_otherwise(colourway, scores)
    remarks += _impossible_inks(colourway)
    if not any(remark.kind == "caution" for remark in remarks):
        remarks.append(Remark("comfort", "every edge and every stripe stands apart, in all views"))
    remarks.append(_lightness(normal))
    if colourway.mixing == "woven":
        remarks.append(_threads(colourway))
    if sure := estimate_words(colourway):
        remarks.append(Remark("fact", f"{colourway.mixing} is an estimate: {sure}"))
    remarks += [
        Remark("fact", f"{colour.name} lies {colour.shift_words}")
        for colour in colourway.colours
        if colour.shift_words
    ]
    if spectra := spectra_words(colourway):
        remarks.append(Remark("fact", spectra))
    remarks += _names(colourway)
    remarks.append(Remark("fact", f"from afar the cloth looks {hex_of(normal.far_colour)}"))
    return remarks


def _names(colourway: Colourway) -> list[Remark]:
    """Stripes that most people would call by one name; matplotlib carries the survey."""
    if not has("matplotlib"):
        return []
    said = "; ".join(shared_names(colourway))
    return [Remark("fact", f"{said}, by the {SURVEY}")] if said else []


def _figures(part: PairScore) -> str:
    """The difference, and beside it the lightness step."""
    return f"ΔE00 {float(part.least_de2000):.1f}, ΔL* {float(part.least_dl):.1f}"


def _stripe_pair(colourway: Colourway, part: PairScore) -> str:
    (warp, weft), (other, last) = ((int(a), int(b)) for a, b in part.closest)
    way = "" if warp or not colourway.weft_stripes else "weft "
    colours = colourway.stripes if warp else colourway.weft_colours
    one, two = sorted((warp or weft, other or last))
    names = f"{colours[one - 1].name}, {colours[two - 1].name}"
    return f"{way}stripes {one} and {two} ({names})"


def _stripes(colourway: Colourway, scored: Score) -> list[Remark]:
    part = scored.single_single
    least = float(part.least_de2000)
    if not least < FAINT:  # or there is one stripe
        return []
    how = "read as one colour" if least < ONE_COLOUR else "are hard to tell apart"
    text = f"{_stripe_pair(colourway, part)} {how} at arm's length: {_figures(part)}"
    return [Remark("caution", text)]


def _edge(colourway: Colourway, part: PairScore) -> str:
    (a, b), (c, d) = ((int(x), int(y)) for x, y in part.closest)
    return f"{colourway.tone_name(a, b)} against {colourway.tone_name(c, d)}"


def _edges(colourway: Colourway, scored: Score) -> list[Remark]:
    remarks = []
    for kind, lost in (
        ("ground_single", "the stripe sinks into the ground"),
        ("single_crossing", "the crossing hardly shows"),
    ):
        part: PairScore = getattr(scored, kind)  # NaN where the bands have no such edge
        least, step = float(part.least_de2000), float(part.least_dl)
        if least < FAINT:
            how = lost if least < ONE_COLOUR else "a faint edge"
            text = f"{_edge(colourway, part)}: {how} ({_figures(part)})"
            remarks.append(Remark("caution", text))
        elif step < FLAT:
            pairs = f"{PAIR_WORDS[kind]} pairs told apart by hue alone, in places"
            remarks.append(Remark("caution", f"{pairs}: least ΔL* {step:.1f}"))
    return remarks


def _seen_otherwise(colourway: Colourway, scores: Mapping[str, Score]) -> list[Remark]:
    """What only some eyes lose: no word about what everybody has lost already."""
    normal = scores["normal"]
    remarks = []
    for vision, seen in scores.items():
        if vision == "normal":
            continue
        words = VISION_WORDS[vision]
        least = float(seen.single_single.least_de2000)
        if least < ONE_COLOUR <= float(normal.single_single.least_de2000):
            pair = _stripe_pair(colourway, seen.single_single)
            remarks.append(Remark("caution", f"{words}, {pair} read as one colour"))
        if float(seen.least_edge) < ONE_COLOUR <= float(normal.least_edge):
            kind = next(kind for kind in KINDS if getattr(seen, kind).least_edge < ONE_COLOUR)
            lost = f"a {PAIR_WORDS[kind]} pair"
            if kind in EDGE_KINDS:
                lost = _edge(colourway, getattr(seen, kind))
            remarks.append(Remark("caution", f"{words}, {lost} loses its edge"))
    return remarks


def _threads(colourway: Colourway) -> Remark:
    """From how far the tones are what is seen; nearer, the threads are."""
    seen = viewing(colourway)
    tone = colourway.tone_name(seen.warp, seen.weft)
    text = f"threads merge into these tones from {seen.metres:.2f} m on at {USUAL_SETT}"
    return Remark("fact", f"{text} ({tone} last); nearer, they show")


def _impossible_inks(colourway: Colourway) -> list[Remark]:
    """Inks that would have to be lighter than what they are printed on."""
    if not find_mixing(colourway.mixing).uses_stock:
        return []
    colours = (colourway.ground, *colourway.inks)
    if space := space_for("display-p3", colourway.known):
        paper, *solids = encode_wide(colours, space, 1)
    else:
        paper, *solids = linear_to_p3([srgb_to_linear(colour.rgb) for colour in colours])
    text = "cannot be printed on {}: an ink lets light through and is never lighter than its paper"
    return [
        Remark("caution", f"{stripe.name} {text.format(colourway.ground.name)}")
        for stripe, impossible in zip(
            colourway.inks, lighter_than(paper, np.array(solids)).tolist(), strict=True
        )
        if impossible
    ]


def _lightness(scored: Score) -> Remark:
    evenness = float(scored.evenness)
    if np.isnan(evenness):
        return Remark("fact", "ground, stripes and crossings are not all there to compare")
    steps = "even" if evenness >= 0.75 else "fairly even" if evenness >= 0.5 else "uneven"
    if bool(scored.lightness_runs):
        text = f"lightness runs one way from ground over stripe to crossing, in {steps} steps"
        return Remark("comfort", f"{text} ({evenness:.2f})")
    return Remark("fact", "lightness does not run one way from ground over stripe to crossing")
