"""Conversions between colour spaces, on arrays of any shape (..., 3).

Encoded sRGB is in 0–1; XYZ has the white at Y = 1; Lab is CIE 1976 under D65 and the 2°
observer. Sources: IEC 61966-2-1 for the sRGB curve, CSS Color 4 (``conversions.js``) for
the exact matrices that follow from the D65 chromaticity (0.3127, 0.3290), CIE 15 for Lab,
Ottosson 2020 for Oklab in the matrices that CSS Color 4 gives.

Conversions run a block of colours at a time (``cores/blocks.py``); :func:`into_srgb` brings what
sRGB cannot show into it.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from checkcloth.arguments import Floats, as_colours
from checkcloth.cores.blocks import over_blocks

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


def _to_xyz(primaries: ArrayLike) -> Floats:
    """The matrix from linear light of primaries (3, 2) in x, y to XYZ, D65 white at 1, 1, 1."""
    x, y = np.asarray(primaries, dtype=np.float64).T
    columns = np.stack([x / y, np.ones(3), (1 - x - y) / y])
    return np.asarray(columns * np.linalg.solve(columns, D65_WHITE))


# Wide linear RGBs of CSS Color 4, both D65: Display P3 (its primaries are those of SMPTE RP 431-2)
# and ITU-R BT.2020.
_P3_TO_XYZ = _to_xyz([[0.680, 0.320], [0.265, 0.690], [0.150, 0.060]])
_REC2020_TO_XYZ = _to_xyz([[0.708, 0.292], [0.170, 0.797], [0.131, 0.046]])
_XYZ_TO_REC2020 = np.linalg.inv(_REC2020_TO_XYZ)
_P3_TO_LINEAR = _XYZ_TO_LINEAR @ _P3_TO_XYZ
_LINEAR_TO_P3 = np.linalg.inv(_P3_TO_LINEAR)

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
    return over_blocks(decode_srgb, as_colours(rgb, "rgb"))


def decode_srgb(rgb: Floats) -> Floats:
    """:func:`srgb_to_linear` of a block, unchecked."""
    # Of the size, as a power of less than 0 is none. The straight part is put in by its indices:
    # few colours are so dark, and a masked division costs more than the power.
    dark = np.flatnonzero(rgb <= 0.04045)
    curve = np.abs(rgb)
    curve += 0.055
    curve /= 1.055
    np.power(curve, 2.4, out=curve)
    np.put(curve, dark, rgb.take(dark) / 12.92)
    return curve


def encode_in_place(linear: Floats) -> Floats:
    """:func:`linear_to_srgb` of a block, unchecked, where it lies; return it."""
    size = np.abs(linear)
    dark = np.flatnonzero(size <= 0.0031308)
    straight = linear.take(dark) * 12.92
    negative = np.signbit(linear) if linear.size and linear.min() < 0 else None
    np.power(size, 1 / 2.4, out=linear)
    linear *= 1.055
    linear -= 0.055
    if negative is not None:
        np.negative(linear, out=linear, where=negative)
    np.put(linear, dark, straight)
    return linear


def linear_to_srgb(linear: ArrayLike) -> Floats:
    """Encode linear light as sRGB (IEC 61966-2-1). Both (..., 3).

    Values outside 0–1 are carried through the curve (mirrored below 0), so that whoever
    calls can see that a colour is out of gamut and decide what to do; nothing is clipped.
    """
    light = as_colours(linear, "linear", unit=False)
    return over_blocks(lambda block: encode_in_place(block.copy()), light)


def unbounded_to_linear(rgb: ArrayLike) -> Floats:
    """Decode encoded sRGB (..., 3) that may leave 0–1, mirrored below 0: undo the above."""
    values = as_colours(rgb, "rgb", unit=False)
    return np.copysign(over_blocks(decode_srgb, np.abs(values)), values)


def linear_to_xyz(linear: ArrayLike) -> Floats:
    """Linear sRGB light (..., 3) to CIE XYZ, white Y = 1."""
    return np.asarray(as_colours(linear, "linear", unit=False) @ _LINEAR_TO_XYZ.T)


def xyz_to_linear(xyz: ArrayLike) -> Floats:
    """CIE XYZ (..., 3), white Y = 1, to linear sRGB light; may leave 0–1."""
    return np.asarray(as_colours(xyz, "xyz", unit=False) @ _XYZ_TO_LINEAR.T)


def linear_to_p3(linear: ArrayLike) -> Floats:
    """Linear sRGB light (..., 3) to linear Display P3; inside 0–1 where it was so in sRGB.

    >>> linear_to_p3([1.0, 0.0, 0.0]).round(6).tolist()  # the matrix in CSS Color 4
    [0.822462, 0.033194, 0.017083]
    """
    return np.asarray(as_colours(linear, "linear", unit=False) @ _LINEAR_TO_P3.T)


def p3_to_linear(p3: ArrayLike) -> Floats:
    """Linear Display P3 (..., 3) to linear sRGB light; may leave 0–1."""
    return np.asarray(as_colours(p3, "p3", unit=False) @ _P3_TO_LINEAR.T)


def xyz_to_rec2020(xyz: ArrayLike) -> Floats:
    """CIE XYZ (D65, white Y = 1) (..., 3) to linear ITU-R BT.2020; may leave 0–1."""
    return np.asarray(as_colours(xyz, "xyz", unit=False) @ _XYZ_TO_REC2020.T)


def rec2020_to_xyz(rec2020: ArrayLike) -> Floats:
    """Linear ITU-R BT.2020 (..., 3) to CIE XYZ (D65, white Y = 1)."""
    return np.asarray(as_colours(rec2020, "rec2020", unit=False) @ _REC2020_TO_XYZ.T)


def xyz_to_lab(xyz: ArrayLike, white: ArrayLike = D65_WHITE) -> Floats:
    """CIE XYZ (..., 3) to CIE 1976 L*a*b* relative to ``white`` (D65, 2° unless given)."""
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
    """CIE L*a*b* (..., 3) relative to ``white`` back to XYZ, white Y = 1."""
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
    values = as_colours(rgb, "rgb")
    return over_blocks(lambda block: _lab(decode_srgb(block) @ _LINEAR_TO_RATIO), values)


_LINEAR_TO_RATIO = (_LINEAR_TO_XYZ / D65_WHITE[:, None]).T


def linear_to_lab(linear: ArrayLike) -> Floats:
    """Linear sRGB light (..., 3) to L*a*b* under D65, 2°."""
    light = as_colours(linear, "linear", unit=False)
    return over_blocks(lambda block: _lab(block @ _LINEAR_TO_RATIO), light)


def lab_to_srgb(lab: ArrayLike) -> Floats:
    """L*a*b* (D65, 2°) (..., 3) to encoded sRGB; outside 0–1 where sRGB cannot show it."""
    return linear_to_srgb(xyz_to_linear(lab_to_xyz(lab)))


def linear_to_oklab(linear: ArrayLike) -> Floats:
    """Linear sRGB light (..., 3) to Oklab (L in 0–1); also for light outside 0–1."""
    light = as_colours(linear, "linear", unit=False)
    return over_blocks(lambda block: np.cbrt(block @ _LINEAR_TO_LMS.T) @ _LMS_TO_OKLAB.T, light)


def oklab_to_linear(oklab: ArrayLike) -> Floats:
    """Oklab (..., 3) to linear sRGB light; outside 0–1 where sRGB cannot show it."""
    cone_like = (as_colours(oklab, "oklab", unit=False) @ _OKLAB_TO_LMS.T) ** 3
    return np.asarray(cone_like @ _LMS_TO_LINEAR.T)


def srgb_to_oklab(rgb: ArrayLike) -> Floats:
    """Encoded sRGB (..., 3) in 0–1 to Oklab (L in 0–1)."""
    return linear_to_oklab(srgb_to_linear(rgb))


def oklab_to_srgb(oklab: ArrayLike) -> Floats:
    """Oklab (..., 3) to encoded sRGB; outside 0–1 where sRGB cannot show it."""
    return linear_to_srgb(oklab_to_linear(oklab))


def srgb_to_bytes(rgb: ArrayLike) -> NDArray[np.uint8]:
    """Encoded sRGB (..., 3) in 0–1 to whole numbers 0–255, nearest, halves upward."""
    rgb = as_colours(rgb, "rgb")
    return np.floor(np.clip(rgb, 0, 1) * 255 + 0.5).astype(np.uint8)


# Halvings of the chroma: the boundary is met to 2⁻³⁰ of the colour's own chroma.
_HALVINGS = 30
# Rounding leaves colours of the gamut this far outside, most of all where they travelled to the
# page as float32; they are held, not mapped: mapping takes chroma off in a step, a tenth of blue's.
_SLACK = 1e-6


def into_srgb(linear: ArrayLike) -> Floats:
    """Return linear light that sRGB can show: chroma reduced at constant lightness and hue.

    A colour inside the gamut comes back as it is. One outside keeps its Oklab lightness
    and hue, and its chroma is reduced until it just fits (the idea of CSS Color 4's
    gamut mapping, without its clipping step, so that hue does not move). Lighter than
    white becomes white, darker than black becomes black.

    Parameters
    ----------
    linear : array_like, shape (..., 3)
        Linear sRGB light; may lie outside 0–1.

    Returns
    -------
    ndarray of float64, shape (..., 3)
        Linear sRGB light in 0–1.

    Examples
    --------
    >>> (into_srgb([[0.2, 0.3, 0.4], [-0.1, 0.3, 0.3]]).round(3) + 0.0).tolist()
    [[0.2, 0.3, 0.4], [0.0, 0.265, 0.26]]
    """
    linear = as_colours(linear, "linear", unit=False)
    held = np.clip(linear, 0, 1)
    if held.size and (linear.min() < -_SLACK or linear.max() > 1 + _SLACK):
        # NumPy's own reduction over so short an axis takes four times as long.
        red, green, blue = np.moveaxis((linear < -_SLACK) | (linear > 1 + _SLACK), -1, 0)
        outside = red | green | blue
        held[outside] = _less_chroma(linear[outside])
    return held


def in_srgb(xyz: ArrayLike) -> bool:
    """Say whether sRGB shows all of these colours, XYZ (..., 3) under D65, within rounding.

    >>> in_srgb(D65_WHITE), in_srgb(rec2020_to_xyz([0, 1, 0]))
    (True, False)
    """
    linear = xyz_to_linear(xyz)
    return bool(((linear >= -_SLACK) & (linear <= 1 + _SLACK)).all())


# Light is rounded to this many decimals before it is mapped: two sums of the same shares then
# stay one tone, however the halvings fall.
_DIGITS = 12


def xyz_to_shown(xyz: ArrayLike) -> Floats:
    """CIE XYZ (..., 3), D65, white Y = 1, to the encoded sRGB in 0–1 that shows it.

    What sRGB cannot show is brought into it by :func:`into_srgb`.

    >>> xyz_to_shown(D65_WHITE).round(6).tolist()
    [1.0, 1.0, 1.0]
    """
    linear = xyz_to_linear(xyz)
    outside = ((linear < -_SLACK) | (linear > 1 + _SLACK)).any(axis=-1)
    linear[outside] = np.round(linear[outside], _DIGITS)
    return np.clip(linear_to_srgb(into_srgb(linear)), 0, 1)


def _less_chroma(linear: Floats) -> Floats:
    """Reduce the chroma of colours (n, 3), all outside, until they lie in 0–1."""
    oklab = linear_to_oklab(linear)
    oklab[:, 0] = np.clip(oklab[:, 0], 0, 1)
    fits, too_much = np.zeros(len(oklab)), np.ones(len(oklab))
    for _ in range(_HALVINGS):
        share = (fits + too_much) / 2
        shown = oklab_to_linear(_with_chroma(oklab, share))
        inside = ((shown >= 0) & (shown <= 1)).all(axis=-1)
        fits, too_much = np.where(inside, share, fits), np.where(inside, too_much, share)
    # At share 0 the colour is the grey of its lightness, in the gamut but for rounding.
    return np.clip(oklab_to_linear(_with_chroma(oklab, fits)), 0, 1)


def _with_chroma(oklab: Floats, share: Floats) -> Floats:
    reduced = oklab.copy()
    reduced[:, 1:] *= share[:, None]
    return reduced
