"""Colour harmony of two colours, as observers judged pairs of them in a laboratory.

Ou and Luo, "A colour harmony model for two-colour combinations", *Color Research &
Application* 31:191–204, 2006 (cited from memory): 17 observers looked at pairs of large
uniform squares on grey, in a dark room, of colours of CIELAB D65. It says what they
preferred, on a scale from about −2 to 2; of patterns, of three colours and of fashions it
says nothing.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from checkcloth.arguments import Floats, as_colours
from checkcloth.cores.blocks import over_pairs

_GREY = 1e-6  # of chroma
_COS_50, _SIN_50 = np.cos(np.deg2rad(50)), np.sin(np.deg2rad(50))


def two_colour_harmony(lab1: ArrayLike, lab2: ArrayLike) -> Floats:
    """Return how harmonious observers found two colours side by side, (...); symmetric.

    Colours are L*a*b* (D65), (..., 3), and broadcast. Above 0 is harmonious, below 0 is not.
    CH = H_C + H_L + H_H, with H_C of the difference in hue and chroma, H_L of the sum and
    the difference in lightness, and H_H of each colour's own hue.

    >>> two_colour_harmony([80, 0, 20], [60, 0, 20]).round(3).item()
    1.044
    """
    return over_pairs(
        _harmony,
        as_colours(lab1, "lab1", unit=False),
        as_colours(lab2, "lab2", unit=False),
    )


def _harmony(lab1: Floats, lab2: Floats) -> Floats:
    return harmony_together(lab1, lab2) + harmony_alone(lab1) + harmony_alone(lab2)


def harmony_together(lab1: Floats, lab2: Floats) -> Floats:
    """H_C and H_L of columns (3, ...) of colours."""
    (L1, a1, b1), (L2, a2, b2) = lab1, lab2
    C1, C2 = np.sqrt(a1 * a1 + b1 * b1), np.sqrt(a2 * a2 + b2 * b2)
    # ΔH* is a distance, from ΔE² = ΔL² + ΔC² + ΔH², and not the angle between the hues.
    dH_square = np.maximum(2 * (C1 * C2 - a1 * a2 - b1 * b2), 0)
    C_delta = np.sqrt(dH_square + ((C1 - C2) / 1.46) ** 2)
    H_C = 0.04 + 0.53 * np.tanh(0.8 - 0.045 * C_delta)
    H_Lsum = 0.28 + 0.54 * np.tanh(-3.88 + 0.029 * (L1 + L2))
    H_dL = 0.14 + 0.15 * np.tanh(-2 + 0.2 * np.abs(L1 - L2))
    return np.asarray(H_C + H_Lsum + H_dL)


def harmony_alone(lab: Floats) -> Floats:
    """H_SY of columns (3, ...) of colours, each by itself: E_C·(H_S + E_Y)."""
    L, a, b = lab
    C = np.hypot(a, b)
    # A grey has no hue, and is given 0; what rounding leaves of its chroma would give it any.
    grey = C < _GREY
    length = np.maximum(C, _GREY)
    cos, sin = np.where(grey, 1.0, a / length), np.where(grey, 0.0, b / length)
    h = np.degrees(np.arctan2(sin, cos)) % 360
    E_C = 0.5 + 0.5 * np.tanh(-2 + 0.5 * C)
    # sin(h + 50°) and sin(2h + 90°), of the cosine and sine of h.
    H_S = -0.08 - 0.14 * (sin * _COS_50 + cos * _SIN_50) - 0.07 * (1 - 2 * sin * sin)
    x = (90 - h) / 10
    E_Y = (0.22 * L - 12.8) / 10 * np.exp(x - np.exp(x))
    return np.asarray(E_C * (H_S + E_Y))
