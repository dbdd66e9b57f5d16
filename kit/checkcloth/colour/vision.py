"""How colours look under colour-vision deficiency, and in grey.

Full deficiency: Viénot, Brettel and Mollon 1999 for protan and deutan, Brettel, Viénot
and Mollon 1997 for tritan (Viénot's single plane is not accurate there). Partial severity:
Machado et al. 2009, between its tabulated matrices. All act on linear sRGB. These are
models of an average observer, not of any one person.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from checkcloth.arguments import Floats, as_colours, as_number, require_one_of
from checkcloth.colour.spaces import decode_srgb, encode_in_place
from checkcloth.cores.blocks import over_blocks


def _table(rows: str) -> Floats:
    return np.array(rows.split(), dtype=np.float64).reshape(11, 3, 3)


_PROTAN = _table(
    """
    1.000000 0.000000 0.000000 0.000000 1.000000 0.000000 0.000000 0.000000 1.000000
    0.856167 0.182038 -0.038205 0.029342 0.955115 0.015544 -0.002880 -0.001563 1.004443
    0.734766 0.334872 -0.069637 0.051840 0.919198 0.028963 -0.004928 -0.004209 1.009137
    0.630323 0.465641 -0.095964 0.069181 0.890046 0.040773 -0.006308 -0.007724 1.014032
    0.539009 0.579343 -0.118352 0.082546 0.866121 0.051332 -0.007136 -0.011959 1.019095
    0.458064 0.679578 -0.137642 0.092785 0.846313 0.060902 -0.007494 -0.016807 1.024301
    0.385450 0.769005 -0.154455 0.100526 0.829802 0.069673 -0.007442 -0.022190 1.029632
    0.319627 0.849633 -0.169261 0.106241 0.815969 0.077790 -0.007025 -0.028051 1.035076
    0.259411 0.923008 -0.182420 0.110296 0.804340 0.085364 -0.006276 -0.034346 1.040622
    0.203876 0.990338 -0.194214 0.112975 0.794542 0.092483 -0.005222 -0.041043 1.046265
    0.152286 1.052583 -0.204868 0.114503 0.786281 0.099216 -0.003882 -0.048116 1.051998
    """
)
_DEUTAN = _table(
    """
    1.000000 0.000000 0.000000 0.000000 1.000000 0.000000 0.000000 0.000000 1.000000
    0.866435 0.177704 -0.044139 0.049567 0.939063 0.011370 -0.003453 0.007233 0.996220
    0.760729 0.319078 -0.079807 0.090568 0.889315 0.020117 -0.006027 0.013325 0.992702
    0.675425 0.433850 -0.109275 0.125303 0.847755 0.026942 -0.007950 0.018572 0.989378
    0.605511 0.528560 -0.134071 0.155318 0.812366 0.032316 -0.009376 0.023176 0.986200
    0.547494 0.607765 -0.155259 0.181692 0.781742 0.036566 -0.010410 0.027275 0.983136
    0.498864 0.674741 -0.173604 0.205199 0.754872 0.039929 -0.011131 0.030969 0.980162
    0.457771 0.731899 -0.189670 0.226409 0.731012 0.042579 -0.011595 0.034333 0.977261
    0.422823 0.781057 -0.203881 0.245752 0.709602 0.044646 -0.011843 0.037423 0.974421
    0.392952 0.823610 -0.216562 0.263559 0.690210 0.046232 -0.011910 0.040281 0.971630
    0.367322 0.860646 -0.227968 0.280085 0.672501 0.047413 -0.011820 0.042940 0.968881
    """
)
_TRITAN = _table(
    """
    1.000000 0.000000 0.000000 0.000000 1.000000 0.000000 0.000000 0.000000 1.000000
    0.926670 0.092514 -0.019184 0.021191 0.964503 0.014306 0.008437 0.054813 0.936750
    0.895720 0.133330 -0.029050 0.029997 0.945400 0.024603 0.013027 0.104707 0.882266
    0.905871 0.127791 -0.033662 0.026856 0.941251 0.031893 0.013410 0.148296 0.838294
    0.948035 0.089490 -0.037526 0.014364 0.946792 0.038844 0.010853 0.193991 0.795156
    1.017277 0.027029 -0.044306 -0.006113 0.958479 0.047634 0.006379 0.248708 0.744913
    1.104996 -0.046633 -0.058363 -0.032137 0.971635 0.060503 0.001336 0.317922 0.680742
    1.193214 -0.109812 -0.083402 -0.058496 0.979410 0.079086 -0.002346 0.403492 0.598854
    1.257728 -0.139648 -0.118081 -0.078003 0.975409 0.102594 -0.003316 0.501214 0.502102
    1.278864 -0.125333 -0.153531 -0.084748 0.957674 0.127074 -0.000989 0.601151 0.399838
    1.255528 -0.076749 -0.178779 -0.078411 0.930809 0.147602 0.004733 0.691367 0.303900
    """
)

MACHADO_2009: dict[str, Floats] = {"protan": _PROTAN, "deutan": _DEUTAN, "tritan": _TRITAN}


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
    require_one_of(vision, "vision", VISIONS)
    severity = as_number(severity, "severity", 0, 1)
    rgb = as_colours(rgb, "rgb")
    if vision == "normal" or severity == 0:
        return rgb.copy()

    def kernel(block: Floats) -> Floats:
        seen = _seen(decode_srgb(block), vision, severity)
        return encode_in_place(np.clip(seen, 0, 1, out=seen))

    return over_blocks(kernel, rgb)
