"""How colours look under colour-vision deficiency, and in grey.

Full deficiency: Viénot, Brettel and Mollon 1999 for protan and deutan, Brettel, Viénot
and Mollon 1997 for tritan (Viénot's single plane is not accurate there). Partial severity:
Machado et al. 2009, between its tabulated matrices. All act on linear sRGB. These are
models of an average observer, not of any one person.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from checkcloth.colour.arrays import Floats, as_colours, as_number
from checkcloth.colour.blocks import over_blocks
from checkcloth.colour.machado2009 import MACHADO_2009
from checkcloth.colour.spaces import linear_to_srgb, srgb_to_linear
from checkcloth.errors import ArgumentError, shown

__all__ = ["VISIONS", "see_as"]

VISIONS = ("normal", "protan", "deutan", "tritan", "grey")

# Viénot 1999 and Brettel 1997 worked out for linear sRGB, five decimals, as libDaltonLens
# (public domain) prints them.
_VIENOT = {
    "protan": np.array(
        [[0.11238, 0.88762, 0.0], [0.11238, 0.88762, 0.0], [0.00401, -0.00401, 1.0]]
    ),
    "deutan": np.array(
        [[0.29275, 0.70725, 0.0], [0.29275, 0.70725, 0.0], [-0.02234, 0.02234, 1.0]]
    ),
}
_BRETTEL_ONE = np.array(
    [[1.01277, 0.13548, -0.14826], [-0.01243, 0.86812, 0.14431], [0.07589, 0.80500, 0.11911]]
)
_BRETTEL_TWO = np.array(
    [[0.93678, 0.18979, -0.12657], [0.06154, 0.81526, 0.12320], [-0.37562, 1.12767, 0.24796]]
)
_BRETTEL_SEPARATOR = np.array([0.03901, -0.02788, -0.01113])

# Y of linear sRGB: a grey of the same luminance is what a black-and-white copy shows.
_LUMINANCE = np.array([87098 / 409605, 175762 / 245763, 12673 / 175545])


def _full(linear: Floats, vision: str) -> Floats:
    if vision in _VIENOT:
        return np.asarray(linear @ _VIENOT[vision].T)
    # Greys lie on the separating plane, where the printed matrices differ by 2e-5: a last
    # digit must not choose between them, so all greys go with the first.
    first = (linear @ _BRETTEL_SEPARATOR)[..., None] >= -1e-12
    return np.asarray(np.where(first, linear @ _BRETTEL_ONE.T, linear @ _BRETTEL_TWO.T))


def _partial(linear: Floats, vision: str, severity: float) -> Floats:
    table = MACHADO_2009[vision]
    step = min(int(severity * 10), 9)
    share = severity * 10 - step
    matrix = (1 - share) * table[step] + share * table[step + 1]
    return np.asarray(linear @ matrix.T)


def _seen(linear: Floats, vision: str, severity: float) -> Floats:
    if vision == "grey":
        grey = (linear @ _LUMINANCE)[..., None]
        return np.asarray((1 - severity) * linear + severity * grey)
    return _full(linear, vision) if severity == 1 else _partial(linear, vision, severity)


def see_as(rgb: ArrayLike, vision: str, severity: float = 1.0) -> Floats:
    """Return colours as they look to someone with the named colour vision.

    Parameters
    ----------
    rgb : array_like, shape (..., 3)
        Encoded sRGB in 0–1.
    vision : str
        ``"normal"``, ``"protan"``, ``"deutan"``, ``"tritan"``, or ``"grey"`` for a grey of
        the same luminance.
    severity : float
        0 (none) to 1 (full). For grey: how far towards the grey, in linear light. At
        exactly 1 the dichromat models apply, below 1 the anomalous-trichromat tables, so
        the last step of a slider changes model as well as severity.

    Returns
    -------
    ndarray of float64, shape (..., 3)
        Encoded sRGB, held to 0–1: the models send some vivid colours slightly outside, and
        holding each channel is what their authors do for display.

    Raises
    ------
    ArgumentError
        For an unknown vision, a severity outside 0–1, colours outside 0–1.

    Examples
    --------
    >>> see_as([1.0, 0.0, 0.0], "deutan").round(3).tolist()
    [0.577, 0.577, 0.0]
    """
    if vision not in VISIONS:
        raise ArgumentError(f"vision must be one of {', '.join(VISIONS)}, found {shown(vision)}")
    severity = as_number(severity, "severity", 0, 1)
    rgb = as_colours(rgb, "rgb")
    if vision == "normal" or severity == 0:
        return rgb.copy()

    def kernel(block: Floats) -> Floats:
        seen = _seen(srgb_to_linear(block), vision, severity)
        return linear_to_srgb(np.clip(seen, 0, 1, out=seen))

    return over_blocks(kernel, rgb)
