"""Conversions between colour spaces, on arrays of any shape (..., 3).

Encoded sRGB is in 0–1; XYZ has the white at Y = 1; Lab is CIE 1976 under D65 and the 2°
observer. Sources: IEC 61966-2-1 for the sRGB curve, CSS Color 4 (``conversions.js``) for
the exact matrices that follow from the D65 chromaticity (0.3127, 0.3290), CIE 15 for Lab,
Ottosson 2020 for Oklab in the matrices that CSS Color 4 gives.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from checkcloth.arguments import Floats, as_colours
from checkcloth.colour.blocks import over_blocks

__all__ = [
    "D65_WHITE",
    "lab_to_srgb",
    "lab_to_xyz",
    "linear_to_oklab",
    "linear_to_srgb",
    "linear_to_xyz",
    "oklab_to_linear",
    "oklab_to_srgb",
    "srgb_to_bytes",
    "srgb_to_lab",
    "srgb_to_linear",
    "srgb_to_oklab",
    "xyz_to_lab",
    "xyz_to_linear",
]

# CSS Color 4 gives these as exact fractions; rows give X, Y, Z of linear R, G, B.
_LINEAR_TO_XYZ = np.array(
    [
        [506752 / 1228815, 87881 / 245763, 12673 / 70218],
        [87098 / 409605, 175762 / 245763, 12673 / 175545],
        [7918 / 409605, 87881 / 737289, 1001167 / 1053270],
    ]
)
_XYZ_TO_LINEAR = np.array(
    [
        [12831 / 3959, -329 / 214, -1974 / 3959],
        [-851781 / 878810, 1648619 / 878810, 36519 / 878810],
        [705 / 12673, -2585 / 12673, 705 / 667],
    ]
)
# x, y of D65 as CSS and sRGB state it, with Y = 1.
D65_WHITE = np.array([0.3127 / 0.3290, 1.0, (1 - 0.3127 - 0.3290) / 0.3290])
D65_WHITE.flags.writeable = False

_EPSILON = 216 / 24389  # CIE 15: the cube of 6/29
_KAPPA = 24389 / 27

# CSS Color 4: XYZ (D65) to the cone-like responses of Oklab, and their cube roots to Lab.
_XYZ_TO_LMS = np.array(
    [
        [0.8190224379967030, 0.3619062600528904, -0.1288737815209879],
        [0.0329836539323885, 0.9292868615863434, 0.0361446663506424],
        [0.0481771893596242, 0.2642395317527308, 0.6335478284694309],
    ]
)
_LMS_TO_OKLAB = np.array(
    [
        [0.2104542683093140, 0.7936177747023054, -0.0040720430116193],
        [1.9779985324311684, -2.4285922420485799, 0.4505937096174110],
        [0.0259040424655478, 0.7827717124575296, -0.8086757549230774],
    ]
)
_LINEAR_TO_LMS = _XYZ_TO_LMS @ _LINEAR_TO_XYZ
_LMS_TO_LINEAR = np.linalg.inv(_LINEAR_TO_LMS)
_OKLAB_TO_LMS = np.linalg.inv(_LMS_TO_OKLAB)


def srgb_to_linear(rgb: ArrayLike) -> Floats:
    """Decode sRGB to linear light (IEC 61966-2-1). Both (..., 3) in 0–1.

    >>> srgb_to_linear([0.0, 0.5, 1.0]).round(6).tolist()
    [0.0, 0.214041, 1.0]
    """
    return over_blocks(_decode, as_colours(rgb, "rgb"))


def _decode(rgb: Floats) -> Floats:
    curve = np.maximum(rgb, 0)
    curve += 0.055
    curve /= 1.055
    np.power(curve, 2.4, out=curve)
    np.divide(rgb, 12.92, out=curve, where=rgb <= 0.04045)
    return curve


def _encode(linear: Floats) -> Floats:
    size = np.abs(linear)
    curve = np.power(size, 1 / 2.4)
    curve *= 1.055
    curve -= 0.055
    np.copysign(curve, linear, out=curve)
    np.multiply(linear, 12.92, out=curve, where=size <= 0.0031308)
    return curve


def linear_to_srgb(linear: ArrayLike) -> Floats:
    """Encode linear light as sRGB (IEC 61966-2-1). Both (..., 3).

    Values outside 0–1 are carried through the curve (mirrored below 0), so that whoever
    calls can see that a colour is out of gamut and decide what to do; nothing is clipped.

    >>> linear_to_srgb([0.0, 0.2140411, 1.0]).round(6).tolist()
    [0.0, 0.5, 1.0]
    """
    return over_blocks(_encode, as_colours(linear, "linear", unit=False))


def linear_to_xyz(linear: ArrayLike) -> Floats:
    """Linear sRGB light (..., 3) to CIE XYZ, white Y = 1.

    >>> linear_to_xyz([1.0, 1.0, 1.0]).round(5).tolist()
    [0.95046, 1.0, 1.08906]
    """
    return np.asarray(as_colours(linear, "linear", unit=False) @ _LINEAR_TO_XYZ.T)


def xyz_to_linear(xyz: ArrayLike) -> Floats:
    """CIE XYZ (..., 3), white Y = 1, to linear sRGB light; may leave 0–1.

    >>> xyz_to_linear(linear_to_xyz([0.1, 0.2, 0.3])).round(12).tolist()
    [0.1, 0.2, 0.3]
    """
    return np.asarray(as_colours(xyz, "xyz", unit=False) @ _XYZ_TO_LINEAR.T)


def xyz_to_lab(xyz: ArrayLike, white: ArrayLike = D65_WHITE) -> Floats:
    """CIE XYZ (..., 3) to CIE 1976 L*a*b* relative to ``white`` (D65, 2° unless given).

    >>> xyz_to_lab([0.0, 0.0, 0.0]).tolist()
    [0.0, 0.0, 0.0]
    """
    xyz = as_colours(xyz, "xyz", unit=False)
    reference = as_colours(white, "white", unit=False)
    return over_blocks(lambda block: _lab(block / reference), xyz) if reference.ndim == 1 \
        else _lab(xyz / reference)  # fmt: skip


def _lab(ratio: Floats) -> Floats:
    f = np.cbrt(ratio)
    dark = ratio <= _EPSILON
    if dark.any():
        f[dark] = (_KAPPA * ratio[dark] + 16) / 116
    lab = np.empty_like(f)
    lab[..., 0] = 116 * f[..., 1] - 16
    lab[..., 1] = 500 * (f[..., 0] - f[..., 1])
    lab[..., 2] = 200 * (f[..., 1] - f[..., 2])
    return lab


def lab_to_xyz(lab: ArrayLike, white: ArrayLike = D65_WHITE) -> Floats:
    """CIE L*a*b* (..., 3) relative to ``white`` back to XYZ, white Y = 1.

    >>> lab_to_xyz([100.0, 0.0, 0.0]).round(5).tolist()
    [0.95046, 1.0, 1.08906]
    """
    lab = as_colours(lab, "lab", unit=False)
    f = np.empty_like(lab)
    f[..., 1] = (lab[..., 0] + 16) / 116
    f[..., 0] = lab[..., 1] / 500 + f[..., 1]
    f[..., 2] = f[..., 1] - lab[..., 2] / 200
    cube = f**3
    ratio = np.where(cube > _EPSILON, cube, (116 * f - 16) / _KAPPA)
    return ratio * as_colours(white, "white", unit=False)


def srgb_to_lab(rgb: ArrayLike) -> Floats:
    """Encoded sRGB to L*a*b* under D65, 2° (CIE 1976).

    Parameters
    ----------
    rgb : array_like, shape (..., 3)
        Encoded sRGB in 0–1.

    Returns
    -------
    ndarray of float64, shape (..., 3)

    Raises
    ------
    ArgumentError
        For other shapes, values outside 0–1, NaN.

    Examples
    --------
    >>> srgb_to_lab([1.0, 0.0, 0.0]).round(3).tolist()
    [53.237, 80.09, 67.203]
    """
    return over_blocks(_srgb_to_lab, as_colours(rgb, "rgb"))


_LINEAR_TO_RATIO = (_LINEAR_TO_XYZ / D65_WHITE[:, None]).T


def _srgb_to_lab(rgb: Floats) -> Floats:
    return _lab(_decode(rgb) @ _LINEAR_TO_RATIO)


def lab_to_srgb(lab: ArrayLike) -> Floats:
    """L*a*b* (D65, 2°) (..., 3) to encoded sRGB; outside 0–1 where sRGB cannot show it.

    >>> lab_to_srgb([53.23711, 80.09007, 67.20319]).round(4).tolist()
    [1.0, 0.0, 0.0]
    """
    return linear_to_srgb(xyz_to_linear(lab_to_xyz(lab)))


def linear_to_oklab(linear: ArrayLike) -> Floats:
    """Linear sRGB light (..., 3) to Oklab (L in 0–1); also for light outside 0–1.

    >>> linear_to_oklab([0.125, 0.125, 0.125]).round(6).tolist()[0]
    0.5
    """
    cone_like = as_colours(linear, "linear", unit=False) @ _LINEAR_TO_LMS.T
    return np.asarray(np.cbrt(cone_like) @ _LMS_TO_OKLAB.T)


def oklab_to_linear(oklab: ArrayLike) -> Floats:
    """Oklab (..., 3) to linear sRGB light; outside 0–1 where sRGB cannot show it.

    >>> oklab_to_linear([1.0, 0.0, 0.0]).round(6).tolist()
    [1.0, 1.0, 1.0]
    """
    cone_like = (as_colours(oklab, "oklab", unit=False) @ _OKLAB_TO_LMS.T) ** 3
    return np.asarray(cone_like @ _LMS_TO_LINEAR.T)


def srgb_to_oklab(rgb: ArrayLike) -> Floats:
    """Encoded sRGB (..., 3) in 0–1 to Oklab (L in 0–1).

    >>> srgb_to_oklab([0.0, 128 / 255, 0.0]).round(4).tolist()
    [0.5198, -0.1403, 0.1077]
    """
    return linear_to_oklab(srgb_to_linear(rgb))


def oklab_to_srgb(oklab: ArrayLike) -> Floats:
    """Oklab (..., 3) to encoded sRGB; outside 0–1 where sRGB cannot show it.

    >>> oklab_to_srgb(srgb_to_oklab([0.2, 0.4, 0.6])).round(9).tolist()
    [0.2, 0.4, 0.6]
    """
    return linear_to_srgb(oklab_to_linear(oklab))


def srgb_to_bytes(rgb: ArrayLike) -> NDArray[np.uint8]:
    """Encoded sRGB (..., 3) in 0–1 to whole numbers 0–255, nearest, halves upward.

    >>> srgb_to_bytes([0.0, 0.5, 1.0]).tolist()
    [0, 128, 255]
    """
    rgb = as_colours(rgb, "rgb")
    return np.floor(np.clip(rgb, 0, 1) * 255 + 0.5).astype(np.uint8)
