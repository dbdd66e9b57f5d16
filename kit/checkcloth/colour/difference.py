"""How far apart two colours are: CIEDE2000, CMC(l:c), Oklab, HyAB and the contrast ratio.

CIEDE2000 was fitted to small differences (about 5 units and less); for tones that lie far
apart read it together with the lightness difference and the contrast ratio. CMC(l:c) is
the textile trade's measure for small departures from a standard, and is not symmetric.

How different people find colours: against COMBVD, 3,813 pairs of small differences (the
middle one ΔE*ab 2.0, nearly all under 10) judged by people, STRESS (0 is perfect) is 29.2 for
CIEDE2000, 30.6 for CMC(1:1), 33.8 for CMC(2:1), 41.2 for HyAB and 42.9 for ΔE*ab. So for a
strike-off CIEDE2000 and CMC are the better guides, by about a third, and still a guide: two
pairs of one ΔE00 may look unequally far apart. The data says nothing about tones that lie
far apart, as the tones of a check do: there read |ΔL*|, the ratio and HyAB beside ΔE00.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from checkcloth.arguments import Floats, as_colours, as_number
from checkcloth.colour.spaces import srgb_to_linear, srgb_to_oklab
from checkcloth.cores.blocks import over_pairs


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
        dL, dC, dH_square, _ = _parts(lab1, lab2)
        sl, sc, sh = cmc_weights(lab1)
        return np.asarray(
            np.sqrt((dL / (weight_l * sl)) ** 2 + (dC / (weight_c * sc)) ** 2 + dH_square / sh**2)
        )

    return over_pairs(
        kernel,
        as_colours(standard, "standard", unit=False),
        as_colours(sample, "sample", unit=False),
    )


def _parts(lab1: Floats, lab2: Floats) -> tuple[Floats, Floats, Floats, Floats]:
    """ΔL*, ΔC*, ΔH*² and a number with the sign of ΔH* of Lab (3, ...), second less first."""
    (L1, a1, b1), (L2, a2, b2) = lab1, lab2
    C1, C2 = np.sqrt(a1 * a1 + b1 * b1), np.sqrt(a2 * a2 + b2 * b2)
    # ΔH² = 2(C₁C₂ − a₁a₂ − b₁b₂) = 2(a₁b₂ − b₁a₂)² / (C₁C₂ + a₁a₂ + b₁b₂). The second
    # keeps the digits of small hue differences, and is 0 for a colour and itself; the
    # first keeps those of opposite hues.
    product, along, across = C1 * C2, a1 * a2 + b1 * b2, a1 * b2 - b1 * a2
    dH_square = np.maximum(2 * (product - along), 0)
    np.divide(2 * across * across, product + along, out=dH_square, where=along > 0)
    return L2 - L1, C2 - C1, dH_square, across


def lab_differences(standard: ArrayLike, sample: ArrayLike) -> Floats:
    """Return ΔL*, ΔC*, ΔH* of samples against standards, each (..., 3).

    ΔH* is positive where the hue angle grows; the three add up, in squares, to ΔE*ab
    (CIE 15).
    """
    both = np.broadcast_arrays(
        as_colours(standard, "standard", unit=False), as_colours(sample, "sample", unit=False)
    )
    dl, dc, dh_square, sign = _parts(*(lab.reshape(-1, 3).T for lab in both))
    out = np.stack([dl, dc, np.copysign(np.sqrt(dh_square), sign)], axis=-1)
    return out.reshape(both[0].shape)


def cmc_weights(lab: Floats) -> Floats:
    """Return S_L, S_C and S_H of CMC at standards (3, ...), shape (3, ...)."""
    lightness, a, b = lab
    chroma = np.sqrt(a * a + b * b)
    h = np.degrees(np.arctan2(b, a)) % 360
    t = np.where(
        (h >= 164) & (h <= 345),
        0.56 + np.abs(0.2 * np.cos(np.deg2rad(h + 168))),
        0.36 + np.abs(0.4 * np.cos(np.deg2rad(h + 35))),
    )
    fourth = chroma**4
    f = np.sqrt(fourth / (fourth + 1900))
    sl = np.where(lightness < 16, 0.511, 0.040975 * lightness / (1 + 0.01765 * lightness))
    sc = 0.0638 * chroma / (1 + 0.0131 * chroma) + 0.638
    return np.stack([sl, sc, sc * (f * t + 1 - f)])


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
    """WCAG 2.x relative luminance of encoded sRGB (..., 3): 0 for black, 1 for white."""
    return luminance_of_light(srgb_to_linear(rgb))


def luminance_of_light(linear: Floats) -> Floats:
    """:func:`relative_luminance` of linear sRGB light (..., 3)."""
    return np.asarray(linear @ _WCAG)


def ratio_of_luminances(one: Floats, two: Floats) -> Floats:
    """WCAG 2.x contrast ratio of two relative luminances, in either order."""
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
