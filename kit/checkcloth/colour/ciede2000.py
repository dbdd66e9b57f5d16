"""CIEDE2000: as Sharma, Wu and Dalal (2005) write it, and rewritten for columns of colours.

:func:`ciede2000_as_written` is the paper, equation by equation (numbers in brackets).
:func:`ciede2000_columns` gives the same numbers, to rounding, with a quarter of the trigonometry:
it never asks for the hue of either colour, only for that of their mean. Tests hold the two
together.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from checkcloth.arguments import Floats, as_colours
from checkcloth.cores.blocks import PAIRS_AT_ONCE, over_pairs

_SEVENTH_OF_25 = 25.0**7


def ciede2000_as_written(lab1: Floats, lab2: Floats) -> Floats:
    """CIEDE2000 of columns (3, n), unchecked, as the paper has it.

    >>> one, two = np.array([[50.0], [2.6772], [-79.7751]]), np.array([[50.0], [0.0], [-82.7485]])
    >>> ciede2000_as_written(one, two).round(4).tolist()
    [2.0425]
    """
    (L1, a1, b1), (L2, a2, b2) = lab1, lab2
    mean_C = (np.hypot(a1, b1) + np.hypot(a2, b2)) / 2  # (2, 3)
    G = 0.5 * (1 - np.sqrt(mean_C**7 / (mean_C**7 + _SEVENTH_OF_25)))  # (4)
    a1, a2 = (1 + G) * a1, (1 + G) * a2  # (5)
    C1, C2 = np.hypot(a1, b1), np.hypot(a2, b2)  # (6)
    # (7); a grey has no hue, and is given 0.
    h1 = np.where(C1 == 0, 0, np.degrees(np.arctan2(b1, a1)) % 360)
    h2 = np.where(C2 == 0, 0, np.degrees(np.arctan2(b2, a2)) % 360)
    grey = (C1 == 0) | (C2 == 0)

    step = h2 - h1  # (10)
    step = np.where(step > 180, step - 360, np.where(step < -180, step + 360, step))
    dL, dC = L2 - L1, C2 - C1  # (8, 9)
    dH = 2 * np.sqrt(C1 * C2) * np.sin(np.deg2rad(step / 2))  # (11)

    L, C = (L1 + L2) / 2, (C1 + C2) / 2  # (12, 13)
    total = h1 + h2
    h = np.where(total < 360, total / 2 + 180, total / 2 - 180)  # (14)
    h = np.where(grey, total, np.where(np.abs(h1 - h2) <= 180, total / 2, h))
    rad = np.deg2rad(h)
    T = (
        1
        - 0.17 * np.cos(rad - np.deg2rad(30))
        + 0.24 * np.cos(2 * rad)
        + 0.32 * np.cos(3 * rad + np.deg2rad(6))
        - 0.20 * np.cos(4 * rad - np.deg2rad(63))
    )  # (15)
    turn = 30 * np.exp(-(((h - 275) / 25) ** 2))  # (16)
    R_C = 2 * np.sqrt(C**7 / (C**7 + _SEVENTH_OF_25))  # (17)
    S_L = 1 + 0.015 * (L - 50) ** 2 / np.sqrt(20 + (L - 50) ** 2)  # (18)
    S_C = 1 + 0.045 * C  # (19)
    S_H = 1 + 0.015 * C * T  # (20)
    R_T = -np.sin(np.deg2rad(2 * turn)) * R_C  # (21)
    l, c, h = dL / S_L, dC / S_C, dH / S_H  # noqa: E741
    return np.asarray(np.sqrt(l * l + c * c + h * h + R_T * c * h))  # (22)


# --- The same, rewritten ---------------------------------------------------------------------

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

# sin 2Δθ, equation 21, of u = Δθ/30°: an angle of no more than 60°, where what Taylor's series
# leaves out after its ninth term is less than rounding, and half as dear as numpy's sine. In
# u², highest first; −2, which (17) and (21) bring, goes with it.
_SIXTY = np.pi / 3
_TURN = tuple(
    -2 * (-1.0) ** k * _SIXTY ** (2 * k + 1) / float(np.prod(np.arange(1.0, 2 * k + 2)))
    for k in range(8, -1, -1)
)
# Pairs whose hues are nearer to opposite than 1.1°, or one of them grey, are left out: Q/P.
_OPPOSITE = 1e-4
# So are those so nearly grey that products of P and Q would come to nothing.
_UNDERFLOWS = 1e-140


def _horner(coefficients: tuple[float, ...], at: Floats) -> Floats:
    value = coefficients[0] * at
    for coefficient in coefficients[1:-1]:
        value += coefficient
        value *= at
    value += coefficients[-1]
    return value


def _seventh_share(chroma: Floats) -> Floats:
    """sqrt(C⁷ / (C⁷ + 25⁷)) of 2C, by products: a general power costs ten times as much."""
    square = chroma * chroma
    seventh = square * chroma
    seventh *= square
    seventh *= square
    np.add(seventh, 50.0**7, out=square)
    seventh /= square
    return np.sqrt(seventh, out=seventh)


def _length(a: Floats, b_square: Floats) -> Floats:
    length = a * a
    length += b_square
    return np.sqrt(length, out=length)


def _hues(
    a1: Floats, b1: Floats, C1: Floats, a2: Floats, b2: Floats, C2: Floats
) -> tuple[Floats, Floats, Floats, Floats, NDArray[np.intp]]:
    """Cosine and sine of the mean hue, the mean hue less 180° in radians, ΔH′, and what is left.

    The mean hue taken the short way round is the bisector of the two hue vectors, so it
    needs no angle of either: C′₂v₁ + C′₁v₂ points along it, and is √(2PQ) long, where
    P = C′₁C′₂ and Q = P + v₁·v₂. In the same letters 2√P·sin(Δh′/2), equation 11, is
    (v₁ × v₂)·√(2/Q), which carries the sign and keeps the digits of small differences.
    Both lose theirs where hues are all but opposite (Q near 0), and a grey has no hue.
    """
    P = C1 * C2
    Q = a1 * a2
    spare = b1 * b2
    Q += spare
    Q += P
    np.multiply(P, _OPPOSITE, out=spare)
    spare += _UNDERFLOWS
    left = np.flatnonzero(np.less_equal(Q, spare))
    if len(left):
        P[left] = Q[left] = 1  # so that nothing below divides by 0
    dH = a1 * b2
    dH -= np.multiply(b1, a2, out=spare)
    np.divide(2, Q, out=spare)
    dH *= np.sqrt(spare, out=spare)
    x, y = a1 * C2, b1 * C2
    x += np.multiply(a2, C1, out=spare)
    y += np.multiply(b2, C1, out=spare)
    P *= 2
    P *= Q
    np.sqrt(P, out=P)
    x /= P
    y /= P
    # From −180° to 180° is the hue from 0° to 360° less 180°, once both signs are turned.
    h = np.arctan2(np.negative(y, out=spare), np.negative(x, out=Q), out=P)
    return x, y, h, dH, left


def ciede2000_or_nan(lab1: Floats, lab2: Floats) -> Floats:
    """CIEDE2000 of columns (3, n), unchecked; NaN where hues are all but opposite, or missing.

    Works in place wherever it can: what a block of columns needs stays in the cache.
    """
    (L1, a1, b1), (L2, a2, b2) = lab1, lab2
    b1_square, b2_square = b1 * b1, b2 * b2
    C = _length(a1, b1_square)  # (2, 3), twice the mean
    C += _length(a2, b2_square)
    stretch = _seventh_share(C)
    stretch *= -0.5
    stretch += 1.5  # 1 + G, (4)
    a1 = a1 * stretch  # (5)
    a2 = np.multiply(a2, stretch, out=stretch)
    C1, C2 = _length(a1, b1_square), _length(a2, b2_square)  # (6)
    c, s, turn, dH, left = _hues(a1, b1, C1, a2, b2, C2)  # (7, 10, 11, 14)

    C = np.add(C1, C2, out=C)  # (13), twice the mean
    T = _horner(_T_P, c)  # (15)
    s *= _horner(_T_Q, c)
    T += s
    # (16): exp of −((h − 275°)/25°)², h being less by 180°
    turn -= np.deg2rad(95)
    turn *= turn
    turn *= -1 / np.deg2rad(25) ** 2
    np.exp(turn, out=turn)
    R_T = _horner(_TURN, turn * turn)  # (17, 21)
    R_T *= turn
    R_T *= _seventh_share(C)

    dL = L1 + L2
    dL *= 0.5
    dL -= 50  # (12)
    dL *= dL
    S = dL + 20
    np.sqrt(S, out=S)
    dL /= S
    dL *= 0.015
    dL += 1  # (18)
    np.divide(np.subtract(L2, L1, out=S), dL, out=dL)  # (8)
    T *= C
    T *= 0.0075
    T += 1  # (20)
    dH /= T
    C *= 0.0225
    C += 1  # (19)
    C2 -= C1  # (9)
    C2 /= C
    # (22): |R_T| is at most √3, so that nothing under the root is ever less than 0.
    R_T *= C2
    R_T += dH
    R_T *= dH
    C2 *= C2
    R_T += C2
    dL *= dL
    R_T += dL
    np.sqrt(R_T, out=R_T)
    R_T[left] = np.nan
    return R_T


def ciede2000_columns(lab1: Floats, lab2: Floats) -> Floats:
    """CIEDE2000 of columns (3, n), unchecked; for hot loops that hold colours so.

    >>> one, two = np.array([[50.0], [2.6772], [-79.7751]]), np.array([[50.0], [0.0], [-82.7485]])
    >>> ciede2000_columns(one, two).round(4).tolist()
    [2.0425]
    """
    found = np.empty(lab1.shape[1])
    for start in range(0, len(found), PAIRS_AT_ONCE):
        part = slice(start, start + PAIRS_AT_ONCE)
        found[part] = ciede2000_or_nan(lab1[:, part], lab2[:, part])
    left = np.flatnonzero(np.isnan(found))
    if len(left):
        found[left] = ciede2000_as_written(lab1[:, left], lab2[:, left])
    return found


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
    that one arctangent and one exponential a pair remain; each step names the equation it
    stands for.

    Examples
    --------
    >>> delta_e_2000([50, 2.6772, -79.7751], [50, 0, -82.7485]).round(4).item()
    2.0425
    """
    return over_pairs(
        ciede2000_or_nan,
        as_colours(lab1, "lab1", unit=False),
        as_colours(lab2, "lab2", unit=False),
        rest=ciede2000_as_written,
    )
