"""From how far two threads merge: S-CIELAB's filters on a fine alternation of two colours.

Zhang and Wandell, "A spatial extension of CIELAB for digital color-image reproduction", Journal
of the SID 5(1), 1997: light is taken to three opponent channels, each is blurred as the eye
blurs it, and the result is compared as usual. Of two threads that alternate, each channel is a
square wave, of which a Gaussian leaves the k-th harmonic a known part: no picture is filtered.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike

from checkcloth.arguments import Floats, as_colours, as_number
from checkcloth.colour.ciede2000 import delta_e_2000
from checkcloth.colour.spaces import linear_to_xyz, srgb_to_linear, xyz_to_lab

# XYZ to luminance, red-green, blue-yellow.
_TO_OPPONENT = np.array([[0.279, 0.720, -0.107], [-0.449, 0.290, -0.077], [0.086, -0.590, 0.501]])
_FROM_OPPONENT = np.linalg.inv(_TO_OPPONENT)
# Of each channel its Gaussians: full width at half the height in degrees, weight.
_GAUSSIANS = (
    ((0.05, 1.00327), (0.225, 0.114416), (7.0, -0.117686)),
    ((0.0685, 0.616725), (0.826, 0.383275)),
    ((0.092, 0.567885), (0.6451, 0.432115)),
)
MERGED = 1.0  # ΔE00 from peak to trough that still counts as one colour
_HARMONICS = 40
_NEAREST, _FARTHEST = 0.01, 100.0  # metres


def _contrast_left(cycles: Floats) -> Floats:
    """What is left (..., 3) at its peaks of a square wave of so many cycles a degree (...)."""
    order = 2 * np.arange(_HARMONICS) + 1
    signs = (-1.0) ** np.arange(_HARMONICS) * 4 / (np.pi * order)
    frequency = cycles[..., None] * order
    left: list[Floats] = []
    for gaussians in _GAUSSIANS:
        passed = sum(
            weight * np.exp(-((np.pi * frequency * width) ** 2) / (4 * math.log(2)))
            for width, weight in gaussians
        )
        left.append((signs * np.asarray(passed)).sum(axis=-1))
    # Of a coarse wave 40 harmonics overshoot; nothing is left more than whole.
    return np.asarray(np.minimum(np.stack(left, axis=-1), 1))


def _seen_apart(one: Floats, two: Floats, cycles: Floats) -> Floats:
    """ΔE00 (...) from peak to trough of threads of XYZ (..., 3) at cycles a degree (...)."""
    a, b = one @ _TO_OPPONENT.T, two @ _TO_OPPONENT.T
    mean, step = (a + b) / 2, (a - b) / 2 * _contrast_left(cycles)
    peak, trough = (xyz_to_lab(side @ _FROM_OPPONENT.T) for side in (mean + step, mean - step))
    return np.asarray(delta_e_2000(peak, trough))


def merging_distance(one: ArrayLike, two: ArrayLike, threads_per_mm: float) -> Floats:
    """Return from how far, in metres, threads of two colours look like one colour.

    Parameters
    ----------
    one, two : array_like, shape (..., 3)
        Encoded sRGB in 0–1, of threads that lie side by side in turns.
    threads_per_mm : float
        Of both together, 0.04 to 20.

    Returns
    -------
    ndarray of float64, shape (...)
        Least distance at which peak and trough are within ΔE00 1 of each other; 0 where
        they are so seen from anywhere nearer than a centimetre.

    Notes
    -----
    The filters were measured on screens, by good eyes in good light; a glossy yarn or a
    ribbed cloth shows its threads from farther.

    Examples
    --------
    >>> merging_distance([1, 1, 1], [0, 0, 0], 64 / 25.4).round(2).item()
    1.16
    """
    first = linear_to_xyz(srgb_to_linear(as_colours(one, "one")))
    second = linear_to_xyz(srgb_to_linear(as_colours(two, "two")))
    density = as_number(threads_per_mm, "threads_per_mm", 0.04, 20)
    first, second = np.broadcast_arrays(first, second)
    # A cycle is two threads; a degree at 1 m is 17.45 mm.
    per_metre = density / 2 * 1000 * math.tan(math.radians(1))
    near = np.full(first.shape[:-1], math.log(_NEAREST))
    far = np.full(first.shape[:-1], math.log(_FARTHEST))
    for _ in range(40):
        middle = (near + far) / 2
        apart = _seen_apart(first, second, per_metre * np.exp(middle)) > MERGED
        near, far = np.where(apart, middle, near), np.where(apart, far, middle)
    found = np.exp(far)
    return np.where(found < _NEAREST * 1.001, 0.0, found)
