"""The words for pair kinds, measures, mixings and visions: one wording each, for every room.

What a mixing is called and stands for is said where it is defined, in ``cloth/mixing.py``, and
so are measures, kinds of pairs and scores of the whole cloth; ``definitions.py`` puts those
together to the columns of scores. Here the words are gathered.
"""

from __future__ import annotations

import math

from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.mixing import MIXINGS, find_mixing
from checkcloth.colour.ink import expected_error
from checkcloth.colour.reflectance import RECOVERY_ERROR
from checkcloth.scoring.cloth_scores import WHOLE_CLOTH
from checkcloth.scoring.definitions import LEAST_EDGE, PAIR_COLUMNS, STATISTICS, WHOLE_COLUMNS
from checkcloth.scoring.measures import MEASURE_NAMES, find_measure
from checkcloth.scoring.pairs import KIND_MEANINGS

# In titles, tables, charts and choices. The first two are of pairs that share an edge.
PAIR_WORDS = {kind: meaning.words for kind, meaning in KIND_MEANINGS.items()}
EDGE_WORDS = "every edge"

MEASURE_WORDS = {name: find_measure(name).label for name in MEASURE_NAMES}
# The numbers that every kind of pair has, in the order that tables print them.
MEASURES = {
    f"{statistic}_{name}": f"{statistic} {words}"
    for name, words in MEASURE_WORDS.items()
    for statistic in STATISTICS
}

# What they stand for, for somebody who has not met them: beside a word where it first shows.
_PLAIN = {
    "ground_single": "a stripe on the ground, beside the bare ground",
    "single_crossing": "where two stripes cross, beside either of them alone",
    "single_single": "two stripes, each on the ground",
    "crossing_crossing": "two places where stripes cross",
    "least_edge": "any two tones that share an edge",
    "de2000": "colour difference as an eye sees it",
    "dl": "difference in lightness, of 100",
    "ratio": "light against dark, from 1 to 21",
    "hyab": "difference for colours that lie far apart, where ΔE00 can jump",
    "harmony": "what observers preferred in a laboratory, from -3 to 3; above 0 is harmonious",
}

# What a mixing is for, then its standard name; short enough for a choice to be read whole. What
# each stands for in full is Mixing.meaning.
MIXING_WORDS = {name: f"{find_mixing(name).hint} ({name})" for name in MIXINGS}

VISION_WORDS = {
    "normal": "as it is",
    "protan": "to a protan eye (red cones missing)",
    "deutan": "to a deutan eye (green cones missing)",
    "tritan": "to a tritan eye (blue cones missing)",
    "grey": "in grey",
}

# Lights to look under, of the CIE's; what they are for is common practice.
LIGHT_WORDS = {
    "D65": "daylight (D65)",
    "A": "tungsten lamps (A)",
    "F11": "shop light (F11)",
    "F2": "cool white office light (F2)",
    "LED-B3": "white LEDs (LED-B3)",
}

# Every number of a score that can be sorted, limited and shown, by the name of its column.
COLUMNS: dict[str, str] = {
    each.column: each.words for each in (LEAST_EDGE, *PAIR_COLUMNS, *WHOLE_COLUMNS)
}
_WHOLE = {score.name: score for score in WHOLE_CLOTH}


def estimate_words(colourway: Colourway) -> str:
    """Say how far off the tones of an estimated mixing may be; nothing where it is none.

    >>> estimate_words(Colourway("white", ["navy"], 0.5, "ink"))[:52]
    '19 in 20 tints within ΔE00 5.5, crossings within 6.7'
    >>> estimate_words(Colourway("white", ["navy"]))
    ''
    """
    mixing = find_mixing(colourway.mixing)
    if mixing.uses_stock:
        strength, named = colourway.strength, colourway.stock.named
        measured = _measured(colourway)
        tint = expected_error(strength, measured=measured, named=named)
        crossing = expected_error(strength, strength, measured=measured, named=named)
        return (
            f"19 in 20 tints within ΔE00 {tint:.1f}, crossings within {crossing:.1f}, on six "
            "measured papers with offset process inks; spot, screen and textile inks differ: "
            "a strike-off decides"
        )
    if mixing.estimate and colourway.known.all_spectra:
        return (
            "the spectra are measured, single-constant Kubelka–Munk is a model: real dyes and "
            "yarns differ, a strike-off decides"
        )
    if mixing.estimate:
        return (
            f"19 in 20 mixtures within ΔE00 {RECOVERY_ERROR:.1f} of measured spectra, where "
            "single-constant Kubelka–Munk holds; real dyes and yarns differ: a strike-off decides"
        )
    return ""


def spectra_words(colourway: Colourway) -> str:
    """Say whether measured spectra of the colours are mixed, and why not where they are not.

    >>> spectra_words(Colourway("white", ["navy"]))
    ''
    """
    known, mixing = colourway.known, find_mixing(colourway.mixing)
    if not known.some_spectra:
        return ""
    without = ", ".join(colour.name for colour in colourway.colours if not colour.reflectance)
    if mixing.space == "as-is":
        return f"measured spectra are not used: {mixing.name} mixes what a screen shows"
    if not without:
        return f"{mixing.name} mixes measured spectra, wavelength by wavelength"
    if mixing.space == "absorption":
        return f"spectra are measured, but for {without}: recovered from the colour"
    return f"measured spectra are not used: there is none of {without}"


def _measured(colourway: Colourway) -> bool:
    """Whether inks are known beyond sRGB: measured, or of a colour that it did not cut off."""
    return any(colourway.known) and all(
        ink.xyz or ink.reflectance or (min(ink.rgb) > 0 and max(ink.rgb) < 1)
        for ink in colourway.inks
    )


def vision_name(vision: str) -> str:
    """Name a vision where a few words must do: ``deutan vision``, ``grey``.

    >>> vision_name("normal"), vision_name("grey")
    ('normal vision', 'grey')
    """
    return vision if vision == "grey" else f"{vision} vision"


def asked_words(kind: str, measure: str) -> str:
    """Say what is asked of the closest pair of a kind, or of every edge, before its number.

    >>> asked_words("ground_single", "de2000")
    'ground–single: ΔE00 at least'
    """
    return f"{PAIR_WORDS.get(kind, EDGE_WORDS)}: {MEASURE_WORDS.get(measure, measure)} at least"


def gloss_of(kind: str, measure: str) -> str:
    """Say in plain words what a condition is about.

    >>> gloss_of("ground_single", "de2000")
    'a stripe on the ground, beside the bare ground: colour difference as an eye sees it'
    """
    return f"{_PLAIN[kind]}: {_PLAIN[measure]}"


def limit_words(kind: str, measure: str, at_least: float, vision: str = "normal") -> str:
    """Say what is asked of the closest pair of a kind, or of ``"edges"``.

    >>> limit_words("edges", "de2000", 12, "deutan")
    'every edge: ΔE00 at least 12, deutan vision'
    """
    words = f"{asked_words(kind, measure)} {at_least:.4g}"
    return words if vision == "normal" else f"{words}, {vision_name(vision)}"


def number_of(column: str, value: float, *, below: float = math.nan) -> str:
    """Return a score as short text, but never rounded up to the limit it is ``below``.

    >>> number_of("least_edge", 2.97, below=3.0), number_of("lightness_runs", 1.0)
    ('2.97', 'yes')
    """
    if math.isnan(value):
        return "–"
    if column in _WHOLE and _WHOLE[column].yes_no:
        return "yes" if value else "no"
    for digits in (_digits(column), 2, 3, 6):
        text = f"{value:z.{digits}f}"
        if math.isnan(below) or float(text) < below:
            break
    return text.rstrip("0").rstrip(".") if "." in text else text


def _digits(column: str) -> int:
    """Enough to tell two colourways apart: ΔEOK is small, a ratio begins at 1."""
    if column in _WHOLE:
        return _WHOLE[column].digits
    return 3 if "deok" in column else 2 if "ratio" in column else 1
