"""The four ways two tones are compared."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from checkcloth.arguments import Floats
from checkcloth.colour.ciede2000 import delta_e_2000
from checkcloth.colour.difference import contrast_ratio, delta_e_ok
from checkcloth.colour.spaces import lab_to_srgb, srgb_to_lab
from checkcloth.errors import ArgumentError
from checkcloth.scoring.vocabulary import MEASURE_WORDS


@dataclass(frozen=True)
class Measure:
    """A way of comparing two tones.

    Attributes
    ----------
    name : str
    compare : callable
        Encoded sRGB (..., 3) twice to numbers (...).
    compare_lab : callable
        The same of L*a*b*, which may lie outside sRGB (held to it by ratio and ΔEOK).
    usual : float
        A threshold to begin with: a choice, not a standard, but for the ratio (WCAG 2.x
        asks 3:1 of graphics, and exempts decoration).
    lowest, highest : float
        What a threshold may be.
    """

    name: str
    compare: Callable[[Floats, Floats], Floats]
    compare_lab: Callable[[Floats, Floats], Floats]
    usual: float
    lowest: float
    highest: float

    @property
    def label(self) -> str:
        """As it stands in titles and tables."""
        return MEASURE_WORDS[self.name]


def _from_lab(compare: Callable[[Floats, Floats], Floats]) -> Callable[[Floats, Floats], Floats]:
    return lambda one, two: compare(srgb_to_lab(one), srgb_to_lab(two))


def _held(compare: Callable[[Floats, Floats], Floats]) -> Callable[[Floats, Floats], Floats]:
    return lambda one, two: compare(*(np.clip(lab_to_srgb(lab), 0, 1) for lab in (one, two)))


def _dl(one: Floats, two: Floats) -> Floats:
    return np.asarray(np.abs(one[..., 0] - two[..., 0]))


_MEASURES = {
    measure.name: measure
    for measure in (
        Measure("de2000", _from_lab(delta_e_2000), delta_e_2000, 10.0, 0, 150),
        Measure("dl", _from_lab(_dl), _dl, 10.0, 0, 100),
        Measure("ratio", contrast_ratio, _held(contrast_ratio), 1.5, 1, 21),
        Measure("deok", delta_e_ok, _held(delta_e_ok), 0.1, 0, 1.5),
    )
}
MEASURE_NAMES = tuple(_MEASURES)


def find_measure(name: str) -> Measure:
    """Return the measure of that name."""
    if name not in _MEASURES:
        raise ArgumentError("measure", f"one of {', '.join(MEASURE_NAMES)}", name)
    return _MEASURES[name]
