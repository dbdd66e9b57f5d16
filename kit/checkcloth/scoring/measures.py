"""The ways two tones are compared: what each is called, worked out and taken from."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from checkcloth.arguments import Floats, require_one_of
from checkcloth.colour.ciede2000 import delta_e_2000
from checkcloth.colour.difference import contrast_ratio, delta_e_hyab, delta_e_ok
from checkcloth.colour.spaces import lab_to_srgb, srgb_to_lab


@dataclass(frozen=True)
class Measure:
    """A way of comparing two tones."""

    name: str
    label: str  # as it stands in titles and tables
    compare: Callable[[Floats, Floats], Floats]  # encoded sRGB (..., 3) twice to numbers (...)
    # The same of L*a*b*, which may lie outside sRGB (held to it by ratio and ΔEOK).
    compare_lab: Callable[[Floats, Floats], Floats]
    # A threshold to begin with: a choice, not a standard, but for the ratio (WCAG 2.x asks 3:1 of
    # graphics, and exempts decoration).
    usual: float
    lowest: float  # and highest: what a threshold may be
    highest: float
    formula: str  # how it is worked out
    source: str  # where that is published
    note: str = ""  # how to read it


def _from_lab(compare: Callable[[Floats, Floats], Floats]) -> Callable[[Floats, Floats], Floats]:
    return lambda one, two: compare(srgb_to_lab(one), srgb_to_lab(two))


def _held(compare: Callable[[Floats, Floats], Floats]) -> Callable[[Floats, Floats], Floats]:
    return lambda one, two: compare(*(np.clip(lab_to_srgb(lab), 0, 1) for lab in (one, two)))


def _dl(one: Floats, two: Floats) -> Floats:
    return np.asarray(np.abs(one[..., 0] - two[..., 0]))


_MEASURES = {
    measure.name: measure
    for measure in (
        Measure(
            "de2000", "ΔE00", _from_lab(delta_e_2000), delta_e_2000, 10.0, 0, 150,
            "√((ΔL′/S_L)² + (ΔC′/S_C)² + (ΔH′/S_H)² + R_T·(ΔC′/S_C)·(ΔH′/S_H)) with "
            "k_L = k_C = k_H = 1, of L*a*b* under D65, 2°",
            "CIEDE2000: ISO/CIE 11664-6; Sharma, Wu and Dalal 2005",
            "fitted to differences of about 5 and less; jumps where two hues are opposite "
            "(opposite_hues_chart), so read ΔL*, the ratio and HyAB beside it",
        ),
        Measure(
            "dl", "ΔL*", _from_lab(_dl), _dl, 10.0, 0, 100,
            "|L₁* − L₂*| under D65, 2°", "CIELAB: ISO/CIE 11664-4",
            "what is left of a difference in grey",
        ),
        Measure(
            "ratio", "contrast ratio", contrast_ratio, _held(contrast_ratio), 1.5, 1, 21,
            "(Y₁ + 0.05) / (Y₂ + 0.05), Y₁ ≥ Y₂, with Y = 0.2126·R + 0.7152·G + 0.0722·B of "
            "linear sRGB", "WCAG 2.x",
            "WCAG exempts decoration: its 3:1 is a yardstick here",
        ),
        Measure(
            "deok", "ΔEOK", delta_e_ok, _held(delta_e_ok), 0.1, 0, 1.5,
            "√(ΔL² + Δa² + Δb²) in Oklab", "CSS Color 4; Ottosson 2020",
            "about 0.02 can just be seen",
        ),
        Measure(
            "hyab", "HyAB", _from_lab(delta_e_hyab), delta_e_hyab, 15.0, 0, 300,
            "|ΔL*| + √(Δa*² + Δb*²) under D65, 2°",
            "Abasi, Tehran and Fairchild 2020 (cited from memory)",
            "made for large differences; does not jump",
        ),
    )
}  # fmt: skip
MEASURE_NAMES = tuple(_MEASURES)


def find_measure(name: str) -> Measure:
    """Return the measure of that name."""
    return _MEASURES[require_one_of(name, "measure", MEASURE_NAMES)]
