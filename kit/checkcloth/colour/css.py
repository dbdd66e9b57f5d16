"""Colour texts in and out: CSS Color 4 parsing and names, by coloraide, with one repair."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from checkcloth.colour.ciede2000 import delta_e_2000
from checkcloth.colour.spaces import srgb_to_bytes, srgb_to_lab, xyz_to_shown
from checkcloth.errors import ColourError

# coloraide 8.13 gives two of the 148 named colours other values than CSS Color 4 does.
_REPAIRED = {"mediumpurple": "#9370db", "palevioletred": "#db7093"}

_LONGEST = 200
# The form that files hold: read without coloraide, whose import takes longer than all of ours.
_HEX = re.compile(r"#[0-9a-fA-F]{6}")
_STEP = 1 / 255  # times which it takes a channel, to the last digit


class CssColour(NamedTuple):
    """A CSS colour as it is shown (encoded sRGB in 0–1), and as it was asked for.

    ``xyz`` is CIE XYZ under D65, white Y = 1, and None where sRGB shows the very colour.
    """

    rgb: tuple[float, float, float]
    xyz: tuple[float, float, float] | None


# No light is so bright; differences of colours that are would overflow.
MOST_XYZ = 1e12


@lru_cache(maxsize=4096)
def read_css(text: str) -> CssColour:
    """Read any opaque CSS Color 4 colour; one outside sRGB keeps what was asked for.

    Shown is then what :func:`into_srgb` makes of it: chroma is reduced at constant lightness
    and hue until it fits (CSS Color 4's gamut mapping without its clipping step), as of every
    tone that is mixed with it.

    Raises
    ------
    ColourError
        For text that is no opaque colour.

    Examples
    --------
    >>> read_css("teal").xyz is None
    True
    >>> [round(value, 4) for value in read_css("color(display-p3 0 1 0)").xyz]
    [0.2657, 0.6917, 0.0451]
    """
    if not isinstance(text, str):
        raise ColourError("colour", "a CSS Color 4 text", text)
    clean = text.strip()
    if _HEX.fullmatch(clean):
        red, green, blue = (channel * _STEP for channel in bytes.fromhex(clean[1:]))
        return CssColour((red, green, blue), None)
    from coloraide import Color

    try:
        if not clean or len(clean) > _LONGEST:
            raise ValueError
        colour = Color(_REPAIRED.get(clean.lower(), clean))
        alpha = colour.alpha(nans=False)
        rgb = colour.convert("srgb")
        inside = rgb.in_gamut(tolerance=1e-6)
        # Inside the gamut within rounding: keep the value, do not walk the mapping.
        channels = (rgb if inside else colour.convert("xyz-d65")).coords(nans=False)
    except Exception:  # coloraide raises several kinds for malformed text
        raise ColourError(
            "colour", "a CSS Color 4 colour such as #2a6f97, teal or oklch(62% 0.15 30)", text
        ) from None
    if alpha != 1:
        raise ColourError("colour", "opaque (cloth is)", text)
    if not all(np.isfinite(channels)) or max(map(abs, channels)) > MOST_XYZ:
        raise ColourError("colour", "of finite channels", text)
    one, two, three = (float(channel) for channel in channels)
    if not inside:
        return CssColour(shown_rgb((one, two, three)), (one, two, three))
    red, green, blue = (min(max(channel, 0.0), 1.0) for channel in (one, two, three))
    return CssColour((red, green, blue), None)


def shown_rgb(xyz: ArrayLike) -> tuple[float, float, float]:
    """Return encoded sRGB, three floats in 0–1, that shows a colour of XYZ (3,) under D65."""
    red, green, blue = xyz_to_shown(xyz).tolist()
    return red, green, blue


def parse_css(text: str) -> tuple[float, float, float]:
    """Read any opaque CSS Color 4 colour as encoded sRGB in 0–1; see :func:`read_css`.

    Parameters
    ----------
    text : str
        For example ``"#c0392b"``, ``"rebeccapurple"``, ``"oklch(62% 0.15 30)"``.

    Returns
    -------
    tuple of three floats

    Examples
    --------
    >>> parse_css("#ff8000")
    (1.0, 0.5019607843137255, 0.0)
    """
    return read_css(text).rgb


def hex_of(rgb: ArrayLike) -> str:
    """Return ``#rrggbb`` for one encoded sRGB colour (3,), to the nearest 8-bit step.

    >>> hex_of([1.0, 0.5, 0.0])
    '#ff8000'
    """
    red, green, blue = srgb_to_bytes(rgb).tolist()
    return f"#{red:02x}{green:02x}{blue:02x}"


@lru_cache(maxsize=1)
def css_names() -> dict[str, tuple[float, float, float]]:
    """Return the 148 named colours of CSS Color 4 and their encoded sRGB."""
    from coloraide.css import color_names

    names = sorted(set(color_names.name2val_map) - {"transparent"})
    return {name: parse_css(name) for name in names}


@lru_cache(maxsize=1)
def _names_in_lab() -> tuple[tuple[str, ...], np.ndarray]:
    names = css_names()
    return tuple(names), srgb_to_lab(np.array(list(names.values())))


def nearest_css_names(rgb: ArrayLike) -> list[str]:
    """Name the CSS colours nearest by CIEDE2000 to encoded sRGB colours (..., 3), in one row."""
    names, labs = _names_in_lab()
    apart = delta_e_2000(srgb_to_lab(rgb).reshape(-1, 1, 3), labs)
    return [names[index] for index in apart.argmin(axis=1).tolist()]


def nearest_css_name(rgb: ArrayLike) -> str:
    """Name the CSS colour nearest by CIEDE2000 to one encoded sRGB colour (3,).

    >>> nearest_css_name([0.99, 0.01, 0.01])
    'red'
    """
    return nearest_css_names(rgb)[0]
