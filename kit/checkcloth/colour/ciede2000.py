"""CIEDE2000, rewritten for arrays: the same numbers with a quarter of the trigonometry.

Each step below names the equation of Sharma, Wu and Dalal (2005) that it stands for.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from checkcloth.arguments import Floats, as_colours
from checkcloth.colour.spaces import over_pairs

_SEVENTH_OF_25 = 25.0**7
_COS = {n: np.cos(np.deg2rad(n)) for n in (6, 30, 63)}
_SIN = {n: np.sin(np.deg2rad(n)) for n in (6, 30, 63)}

# T, equation 15, has cosines of h, 2h, 3h and 4h. With cos kh and sin kh written out in
# c = cos h and s = sin h it is p(c) + s·q(c); these are the coefficients, highest first.
_T_P = (
    -1.6 * _COS[63],
    1.28 * _COS[6],
    0.48 + 1.6 * _COS[63],
    -0.17 * _COS[30] - 0.96 * _COS[6],
    0.76 - 0.2 * _COS[63],
)
_T_Q = (
    -1.6 * _SIN[63],
    -1.28 * _SIN[6],
    0.8 * _SIN[63],
    -0.17 * _SIN[30] + 0.32 * _SIN[6],
)

_TINY = 1e-300


def _seventh_share(chroma: Floats) -> Floats:
    """sqrt(C⁷ / (C⁷ + 25⁷)), by products: a general power costs ten times as much."""
    square = chroma * chroma
    seventh = square * chroma
    seventh *= square
    seventh *= square
    share = np.divide(seventh, seventh + _SEVENTH_OF_25, out=seventh)
    return np.sqrt(share, out=share)


def _horner(coefficients: tuple[float, ...], at: Floats) -> Floats:
    value = coefficients[0] * at
    for coefficient in coefficients[1:-1]:
        value += coefficient
        value *= at
    value += coefficients[-1]
    return value


def _by_angles(a1: Floats, b1: Floats, a2: Floats, b2: Floats) -> tuple[Floats, Floats]:
    """Mean hue in radians (14) and ΔH′ (10, 11) as the paper writes them."""
    h1 = np.degrees(np.arctan2(b1, a1)) % 360  # (7)
    h2 = np.degrees(np.arctan2(b2, a2)) % 360
    C1, C2 = np.hypot(a1, b1), np.hypot(a2, b2)
    grey = (C1 == 0) | (C2 == 0)
    h1, h2 = np.where(C1 == 0, 0, h1), np.where(C2 == 0, 0, h2)
    step = h2 - h1
    step = np.where(step > 180, step - 360, np.where(step < -180, step + 360, step))
    total = h1 + h2
    mean = np.where(total < 360, total / 2 + 180, total / 2 - 180)
    mean = np.where(grey, total, np.where(np.abs(h1 - h2) <= 180, total / 2, mean))
    return np.deg2rad(mean), 2 * np.sqrt(C1 * C2) * np.sin(np.deg2rad(step / 2))


def _hues(
    a1: Floats, b1: Floats, C1: Floats, a2: Floats, b2: Floats, C2: Floats
) -> tuple[Floats, Floats, Floats, Floats]:
    """Cosine, sine and radians (0–2π) of the mean hue, and ΔH′, of columns of colours.

    The mean hue taken the short way round is the bisector of the two hue vectors, so it
    needs no angle of either: C′₂v₁ + C′₁v₂ points along it, and is √(2PQ) long, where
    P = C′₁C′₂ and Q = P + v₁·v₂. In the same letters 2√P·sin(Δh′/2), equation 11, is
    (v₁ × v₂)·√(2/Q), which carries the sign and keeps the digits of small differences.
    Both lose theirs where hues are all but opposite (Q near 0), and a grey has no hue:
    those few go by angles.
    """
    P = C1 * C2
    Q = a1 * a2
    Q += b1 * b2
    Q += P
    bare = np.flatnonzero(Q <= 1e-4 * P)
    cross = a1 * b2
    cross -= b1 * a2
    np.maximum(Q, _TINY, out=Q)
    dH = np.sqrt(2 / Q)
    dH *= cross
    x, y = a1 * C2, b1 * C2
    x += a2 * C1
    y += b2 * C1
    h = np.arctan2(y, x)
    P *= 2
    P *= Q
    inverse = np.divide(1, np.sqrt(np.maximum(P, _TINY, out=P), out=P), out=P)
    x *= inverse
    y *= inverse
    h += (2 * np.pi) * (h < 0)
    if len(bare):
        h[bare], dH[bare] = _by_angles(a1[bare], b1[bare], a2[bare], b2[bare])
        x[bare], y[bare] = np.cos(h[bare]), np.sin(h[bare])
    return x, y, h, dH


def ciede2000_columns(lab1: Floats, lab2: Floats) -> Floats:
    """CIEDE2000 of columns (3, n), unchecked; for hot loops that hold colours so.

    Numbers in brackets are Sharma et al.'s equations.

    >>> one, two = np.array([[50.0], [2.6772], [-79.7751]]), np.array([[50.0], [0.0], [-82.7485]])
    >>> ciede2000_columns(one, two).round(4).tolist()
    [2.0425]
    """
    (L1, a1, b1), (L2, a2, b2) = lab1, lab2
    b1_square, b2_square = b1 * b1, b2 * b2
    mean_chroma = np.sqrt(a1 * a1 + b1_square)  # (2, 3)
    mean_chroma += np.sqrt(a2 * a2 + b2_square)
    mean_chroma *= 0.5
    stretch = 1.5 - 0.5 * _seventh_share(mean_chroma)  # 1 + G, (4)
    a1, a2 = a1 * stretch, a2 * stretch  # (5)
    C1, C2 = np.sqrt(a1 * a1 + b1_square), np.sqrt(a2 * a2 + b2_square)  # (6)
    c, s, h, dH = _hues(a1, b1, C1, a2, b2, C2)  # (7, 10, 11, 14)

    C = (C1 + C2) / 2  # (13)
    T = _horner(_T_P, c) + s * _horner(_T_Q, c)  # (15)
    turn = (h - np.deg2rad(275)) / np.deg2rad(25)
    turn = np.exp(-turn * turn)  # (16), Δθ = 30° · turn
    from_mid = ((L1 + L2) / 2 - 50) ** 2  # (12)
    sl = 1 + 0.015 * from_mid / np.sqrt(20 + from_mid)  # (18)
    sc = 1 + 0.045 * C  # (19)
    sh = 1 + 0.015 * C * T  # (20)
    rt = -2 * _seventh_share(C) * np.sin(np.deg2rad(60) * turn)  # (17, 21), sin 2Δθ

    l, c_, h_ = (L2 - L1) / sl, (C2 - C1) / sc, dH / sh  # (8, 9)  # noqa: E741
    square = l * l + c_ * c_ + h_ * h_ + rt * c_ * h_  # (22)
    return np.asarray(np.sqrt(np.maximum(square, 0)))


def delta_e_2000(lab1: ArrayLike, lab2: ArrayLike) -> Floats:
    """CIEDE2000 colour difference, k_L = k_C = k_H = 1.

    For differences of a few units: whether two tones can be told apart, and how well. Far
    apart (above some 10 units) it still ranks, but ΔL* and the contrast ratio say more.

    Parameters
    ----------
    lab1, lab2 : array_like, shape (..., 3)
        L*a*b*; they broadcast against each other. The measure is symmetric.

    Returns
    -------
    ndarray of float64, shape (...)

    Raises
    ------
    ArgumentError
        For shapes that do not pair up, NaN or infinity.

    Notes
    -----
    Sharma, Wu and Dalal, *Color Research & Application* 30(1):21–30, 2005. Rewritten so
    that one arctangent, one exponential and one sine a pair remain; each step names the
    equation it stands for.

    Examples
    --------
    >>> delta_e_2000([50, 2.6772, -79.7751], [50, 0, -82.7485]).round(4).item()
    2.0425
    """
    return over_pairs(
        ciede2000_columns,
        as_colours(lab1, "lab1", unit=False),
        as_colours(lab2, "lab2", unit=False),
    )
