"""The two-colour harmony formula, against itself written out by hand, and its five usual slips."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from checkcloth import Colourway, score, srgb_to_lab
from checkcloth.quality import score_table
from checkcloth.scoring.harmony import two_colour_harmony
from checkcloth.scoring.vocabulary import COLUMNS

LABS = arrays(float, (2, 3), elements=st.floats(-60, 60)).map(lambda lab: lab + [[60, 0, 0]] * 2)


def written_out(one, two, slip=""):
    """Ou and Luo 2006, scalar by scalar in LCh, with one slip where asked."""
    parts, total = [], 0.0
    for L, a, b in (one, two):
        C = math.sqrt(a * a + b * b)
        h = math.degrees(math.atan2(b, a)) % 360 if C >= 1e-6 else 0.0  # a grey has none: ours
        if slip == "atan without quadrant":
            h = math.degrees(math.atan(b / a)) if a else 90.0
        parts.append((L, C, h))
        sine = (lambda x: math.sin(x)) if slip == "degrees" else lambda x: math.sin(math.radians(x))
        E_C = 0.5 + 0.5 * math.tanh(-2 + 0.5 * C)
        H_S = -0.08 - 0.14 * sine(h + 50) - 0.07 * sine(2 * h + 90)
        grow = math.exp((90 - h) / 10 - math.exp((90 - h) / 10))
        E_Y = L if slip == "L for E_Y" else (0.22 * L - 12.8) / 10 * grow
        total += E_C * (H_S + E_Y)
    (L1, C1, h1), (L2, C2, h2) = parts
    turn = (h2 - h1 + 180) % 360 - 180
    dH = 2 * math.sqrt(C1 * C2) * math.sin(math.radians(turn) / 2)
    if slip == "hue angle":
        dH = turn
    C_delta = math.sqrt(dH**2 + ((C1 - C2) / 1.46) ** 2)
    bright = math.tanh(-3.88 + 0.029 * (L1 + L2))
    H_Lsum = 0.28 * 0.54 * bright if slip == "product" else 0.28 + 0.54 * bright
    H_dL = 0.14 + 0.15 * math.tanh(-2 + 0.2 * abs(L1 - L2))
    return 0.04 + 0.53 * math.tanh(0.8 - 0.045 * C_delta) + H_Lsum + H_dL + total


@given(LABS)
@example(np.array([[60, 5e-324, 5e-324], [60, 0, -1e-200]]))
def test_the_arrays_are_the_formula_written_out(labs):
    assert two_colour_harmony(*labs) == pytest.approx(written_out(*labs), abs=1e-6)


@pytest.mark.parametrize("grey", ["#f3f3f3", "#767676", "#111"])
def test_a_grey_has_no_hue_whatever_rounding_leaves(grey):
    lab = srgb_to_lab(Colourway("white", [grey]).stripes[0].rgb)
    bare = [lab[0], 0, 0]
    assert two_colour_harmony(lab, bare) == pytest.approx(two_colour_harmony(bare, bare), abs=1e-9)


@given(LABS)
def test_neither_colour_comes_first(labs):
    assert two_colour_harmony(*labs) == pytest.approx(two_colour_harmony(*labs[::-1]), abs=1e-12)


# Colours on which each slip shows by more than 0.05.
@pytest.mark.parametrize(
    ("slip", "one", "two"),
    [
        ("hue angle", (50, 30, 0), (50, 0, 30)),
        ("degrees", (50, 30, 10), (60, -20, 30)),
        ("atan without quadrant", (70, -5, 40), (70, -40, -5)),
        ("product", (80, 10, 10), (70, 10, 10)),
        ("L for E_Y", (80, 0, 40), (60, 10, 30)),
    ],
)
def test_the_usual_slips_are_not_made(slip, one, two):
    right = written_out(one, two)
    assert abs(written_out(one, two, slip) - right) > 0.05
    assert two_colour_harmony(one, two) == pytest.approx(right, abs=1e-6)


def test_the_score_of_a_cloth_is_the_mean_over_what_touches():
    cloth = Colourway("white", ["navy", "gold"], 0.5)
    tones = srgb_to_lab(cloth.tones)
    found = []
    for i in (1, 2):
        found += [two_colour_harmony(tones[0, 0], tones[i, 0])] * 2
        for j in (1, 2):
            found += [two_colour_harmony(tones[i, 0], tones[i, j])]
            found += [two_colour_harmony(tones[0, j], tones[i, j])]
    ground_single, crossings = found[0:2] + found[6:8], found[2:6] + found[8:12]
    expected = (np.mean(ground_single) + np.mean(crossings)) / 2
    assert score(cloth).cloth["harmony"] == pytest.approx(expected, abs=1e-9)


def test_it_can_be_sorted_by_and_says_whose_judgement_it_is():
    table = score_table([Colourway("white", ["navy"]), Colourway("yellow", ["purple"])])
    assert (np.diff(table.sorted_by("normal_harmony")["normal_harmony"]) <= 0).all()
    assert "observers preferred in a laboratory" in COLUMNS["harmony"]
