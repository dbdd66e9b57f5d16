"""The lesson in mixing: steps of one picture, one slider and one question each.

Each function makes a step, with colours of your own if you give them. In a notebook the
step is live; saved, or on a page without a kernel, its picture stays as a plain image.
"""

from __future__ import annotations

from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.length import Length
from checkcloth.cloth.named_colour import NamedColour
from checkcloth.lesson import answers, cloths, figures
from checkcloth.lesson.step import Slider, Step
from checkcloth.lesson.tables import fusing, meanings, thread_shares, words

__all__ = [
    "CLOTH",
    "Slider",
    "Step",
    "crossing",
    "depth",
    "distance",
    "fusing",
    "greys",
    "kinds",
    "meanings",
    "order",
    "pastel",
    "side_by_side",
    "thread_shares",
    "threads",
    "vision",
    "words",
]

Shade = NamedColour | str
RED = NamedColour.of("#c0392b", "red")
BLUE = NamedColour.of("#1f4fa3", "blue")
YELLOW = NamedColour.of("#f5d311", "yellow")

# A tea table for a small railway halt; invented.
CLOTH = Colourway(
    "ivory",
    [
        NamedColour.of(RED, "brick"),
        NamedColour.of(BLUE, "signal blue"),
        NamedColour.of("#e0a526", "honey"),
    ],
    0.6,
    name="Tea table",
)


_STRENGTH = Slider("Overlay strength", 50, 0, 100, " %", 0.01)


def _colours(*texts: Shade) -> tuple[NamedColour, ...]:
    return tuple(NamedColour.of(text) for text in texts)


def crossing(
    warp: Shade = RED,
    weft: Shade = BLUE,
    ground: Shade = "white",
) -> Step:
    """What a crossing is made of."""
    one, two, base = _colours(warp, weft, ground)
    return Step(
        "what a crossing is made of",
        lambda a: figures.shares_figure(one.rgb, two.rgb, base.rgb, a),
        _STRENGTH,
        "At which strength does the crossing hold as much weft as ground?",
        answers.equal_shares,
    )


def kinds(
    warp: Shade = YELLOW, weft: Shade = BLUE,
    ground: Shade = "white",
) -> Step:  # fmt: skip
    """Opacity on a screen, light through threads, ink on ink, pigment."""
    one, two, base = _colours(warp, weft, ground)
    slider = Slider("Overlay strength", 80, 0, 100, " %", 0.01)
    return Step(
        "five ways to mix",
        lambda a: figures.kinds_figure(one.rgb, two.rgb, base.rgb, a),
        slider,
        "Which way of mixing makes the greenest crossing at 80 %?",
        lambda: answers.greenest(one, two, base, 0.8),
    )


def greys() -> Step:
    """The same two greys, added four ways."""
    return Step(
        "two greys, four sums",
        figures.greys_figure,
        Slider("Yule–Nielsen n", 2, 1, 10, step=0.1),
        "Which n gives a grey as dark as pigment does?",
        answers.n_of_pigment,
    )


def order(
    first: Shade = RED, second: Shade = BLUE,
    ground: Shade = "white",
) -> Step:  # fmt: skip
    """Why red over blue is not blue over red when laid over, and is when woven."""
    one, two, base = _colours(first, second, ground)
    return Step(
        "which one is on top",
        lambda a: figures.order_figure(one.rgb, two.rgb, base.rgb, a, (one.name, two.name)),
        _STRENGTH,
        "From which strength do the two laid-over crossings differ by ΔE00 10 or more?",
        lambda: answers.order_shows(one, two, base),
    )


def depth() -> Step:
    """Why a self-crossing at 50 % stops at 75 % of full depth."""
    return Step(
        "a stripe crossing itself",
        figures.depth_figure,
        _STRENGTH,
        "How strong must the overlay be for the self-crossing to reach 90 % when laid over?",
        answers.depth_for,
    )


def pastel(
    pale: Shade = "#f6cfd6", deep: Shade = "#b8324f",
    ground: Shade = "white",
) -> Step:  # fmt: skip
    """What strength does to a pastel."""
    one, two, base = _colours(pale, deep, ground)
    return Step(
        "what strength does to a pastel",
        lambda a: figures.pastel_figure(one.rgb, two.rgb, base.rgb, a),
        _STRENGTH,
        "From which strength does each stripe stand ΔE00 10 or more from the ground?",
        lambda: answers.pastel_needs(one, two, base),
    )


def threads(warp: Shade = RED, weft: Shade = BLUE) -> Step:
    """Why odd thread counts unbalance a cell."""
    one, two = _colours(warp, weft)
    return Step(
        "odd and even threads",
        lambda ends: cloths.threads_figure(one.rgb, two.rgb, round(ends)),
        Slider("Ends in the band", 5, 1, 12),
        "What is the smallest odd count whose share is within one per cent of half?",
        answers.balanced_enough,
    )


def distance(colourway: Colourway = CLOTH, size: Length | str = "1/4 in") -> Step:
    """What colour the cloth has from across the street, and how far away that is."""
    length = Length(size)
    return Step(
        "from across the street",
        lambda metres: cloths.distance_figure(colourway, length, metres),
        Slider("Distance", 10, 1, 80, "m"),
        "From how far do checks of twice the size fuse?",
        lambda: answers.fuses_beyond(length),
    )


def side_by_side(colourway: Colourway = CLOTH) -> Step:
    """The same colourway under every mixing."""
    slider = Slider("Overlay strength", round(colourway.strength * 100), 0, 100, " %", 0.01)
    return Step(
        "one colourway, every mixing",
        lambda a: cloths.mixings_figure(colourway.with_(strength=min(a, 1.0))),
        slider,
        f"Which crossing changes most between source-over and woven at {slider.value:g} %?",
        lambda: answers.changes_most(colourway),
    )


def vision(colourway: Colourway = CLOTH) -> Step:
    """The cloth as people with protan, deutan and tritan vision see it, and in grey."""
    return Step(
        "as others see it",
        lambda severity: cloths.vision_figure(colourway, severity),
        Slider("Severity", 100, 0, 100, " %", 0.01),
        "At which overlay strengths is every edge ΔE00 5 or more for everyone?",
        lambda: answers.seen_by_all(colourway),
    )
