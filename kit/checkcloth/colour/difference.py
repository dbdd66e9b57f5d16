"""How far apart two colours are: CIEDE2000, CMC(l:c), Oklab, HyAB and the contrast ratio.

CIEDE2000 was fitted to small differences (about 5 units and less); for tones that lie far
apart read it together with the lightness difference and the contrast ratio. CMC(l:c) is
the textile trade's measure for small departures from a standard, and is not symmetric.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from checkcloth.arguments import Floats, as_colours, as_number
from checkcloth.colour.blocks import in_blocks
from checkcloth.colour.ciede2000 import delta_e_2000
from checkcloth.colour.spaces import srgb_to_linear, srgb_to_oklab

__all__ = [
    "contrast_ratio",
    "delta_e_2000",
    "delta_e_cmc",
    "delta_e_hyab",
    "delta_e_ok",
    "ratio_of_luminances",
    "relative_luminance",
]


def delta_e_cmc(standard: ArrayLike, sample: ArrayLike, l: float = 2, c: float = 1) -> Floats:  # noqa: E741
    """CMC(l:c) difference of samples from a standard: the textile trade's tolerance measure.

    Not symmetric: give the standard first. For small differences only, never for contrast.

    Parameters
    ----------
    standard, sample : array_like, shape (..., 3)
        L*a*b*; they broadcast against each other.
    l, c : float
        Weights of lightness and chroma, above 0: 2 and 1 for acceptability in textiles,
        1 and 1 for perceptibility.

    Returns
    -------
    ndarray of float64, shape (...)

    Raises
    ------
    ArgumentError
        For shapes that do not pair up, NaN or infinity, weights that are not above 0.

    Notes
    -----
    Clarke, McDonald and Rigg, *J. Soc. Dyers Colour.* 100:128–132, 1984; ISO 105-J03.

    Examples
    --------
    >>> delta_e_cmc([84.25, 5.74, 96.0], [84.46, 8.88, 96.49]).round(4).item()
    1.6364
    """
    weight_l = as_number(l, "l", 0, 1e6, low_open=True)
    weight_c = as_number(c, "c", 0, 1e6, low_open=True)

    def kernel(lab1: Floats, lab2: Floats) -> Floats:
        (L1, a1, b1), (L2, a2, b2) = lab1, lab2
        C1, C2 = np.sqrt(a1 * a1 + b1 * b1), np.sqrt(a2 * a2 + b2 * b2)
        dL, dC = L1 - L2, C1 - C2
        # ΔH² = 2(C₁C₂ − a₁a₂ − b₁b₂): the difference form of Δa² + Δb² − ΔC², which
        # would lose the digits of a small hue difference.
        dH_square = np.maximum(2 * (C1 * C2 - a1 * a2 - b1 * b2), 0)
        h = np.degrees(np.arctan2(b1, a1)) % 360
        turned = (h >= 164) & (h <= 345)
        T = np.where(
            turned,
            0.56 + np.abs(0.2 * np.cos(np.deg2rad(h + 168))),
            0.36 + np.abs(0.4 * np.cos(np.deg2rad(h + 35))),
        )
        fourth = C1**4
        F = np.sqrt(fourth / (fourth + 1900))
        sl = np.where(L1 < 16, 0.511, 0.040975 * L1 / (1 + 0.01765 * L1))
        sc = 0.0638 * C1 / (1 + 0.0131 * C1) + 0.638
        sh = sc * (F * T + 1 - F)
        light, chroma = dL / (weight_l * sl), dC / (weight_c * sc)
        return np.asarray(np.sqrt(light**2 + chroma**2 + dH_square / sh**2))

    return in_blocks(
        kernel,
        as_colours(standard, "standard", unit=False),
        as_colours(sample, "sample", unit=False),
    )


def delta_e_ok(rgb1: ArrayLike, rgb2: ArrayLike) -> Floats:
    """Distance in Oklab (ΔEOK, CSS Color 4) of encoded sRGB colours.

    Quick and fair for blends and for colours far apart; about 0.02 can just be seen.

    Parameters
    ----------
    rgb1, rgb2 : array_like, shape (..., 3)
        Encoded sRGB in 0–1; they broadcast against each other.

    Returns
    -------
    ndarray of float64, shape (...)
        0 to 1 between black and white.

    Raises
    ------
    ArgumentError
        For other shapes, values outside 0–1, NaN.

    Examples
    --------
    >>> delta_e_ok([0, 0, 0], [1, 1, 1]).round(6).item()
    1.0
    """
    step = srgb_to_oklab(rgb1) - srgb_to_oklab(rgb2)
    return np.asarray(np.sqrt((step * step).sum(axis=-1)))


def delta_e_hyab(lab1: ArrayLike, lab2: ArrayLike) -> Floats:
    """HyAB: |ΔL*| plus the distance in the a*b* plane, for large differences.

    Made for where CIEDE2000 was not fitted (Abasi, Tehran and Fairchild 2020, cited from
    memory).

    Parameters
    ----------
    lab1, lab2 : array_like, shape (..., 3)
        L*a*b*; they broadcast against each other.

    Returns
    -------
    ndarray of float64, shape (...)

    Raises
    ------
    ArgumentError
        For other shapes, NaN or infinity.

    Examples
    --------
    >>> delta_e_hyab([50, 3, 4], [40, 0, 0]).item()
    15.0
    """
    step = as_colours(lab1, "lab1", unit=False) - as_colours(lab2, "lab2", unit=False)
    return np.asarray(np.abs(step[..., 0]) + np.hypot(step[..., 1], step[..., 2]))


# WCAG 2.x prints these rounded numbers; the exact Y row flips pass and fail near a limit.
_WCAG = np.array([0.2126, 0.7152, 0.0722])


def relative_luminance(rgb: ArrayLike) -> Floats:
    """WCAG 2.x relative luminance of encoded sRGB (..., 3): 0 for black, 1 for white.

    >>> relative_luminance([1, 1, 1]).round(12).item()
    1.0
    """
    return np.asarray(srgb_to_linear(rgb) @ _WCAG)


def ratio_of_luminances(one: Floats, two: Floats) -> Floats:
    """WCAG 2.x contrast ratio of two relative luminances, in either order.

    >>> ratio_of_luminances(np.array(0.0), np.array(1.0)).round(9).item()
    21.0
    """
    return np.asarray((np.maximum(one, two) + 0.05) / (np.minimum(one, two) + 0.05))


def contrast_ratio(rgb1: ArrayLike, rgb2: ArrayLike) -> Floats:
    """WCAG 2.x contrast ratio of encoded sRGB colours, in either order.

    Cloth is decoration, which WCAG exempts: its limits (3 and 4.5) are a yardstick here.

    Parameters
    ----------
    rgb1, rgb2 : array_like, shape (..., 3)
        Encoded sRGB in 0–1; they broadcast against each other.

    Returns
    -------
    ndarray of float64, shape (...)
        1 to 21.

    Raises
    ------
    ArgumentError
        For other shapes, values outside 0–1, NaN.

    Examples
    --------
    >>> contrast_ratio([0, 0, 1], [1, 1, 1]).round(4).item()
    8.5925
    """
    return ratio_of_luminances(relative_luminance(rgb1), relative_luminance(rgb2))
