"""Spaces in which colours beyond sRGB, and measured spectra, are mixed; nothing is mapped.

A colourway of sRGB colours is mixed in spaces that sRGB fits into, and never comes here. Where one
of its colours lies outside, the same shares are taken in a space without bounds:

======================== =====================================================================
encoded sRGB             the same curve, mirrored below 0 and carried on above 1
linear light, Display P3 linear ITU-R BT.2020 (sums of light are the same in any linear RGB; inks
                         and n are not, and inks stay inside this one)
K/S                      of the smoothest reflectance with that colour, if there is one
======================== =====================================================================

Where every colour has a measured reflectance, light and inks are mixed wavelength by wavelength.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any, NamedTuple

import numpy as np

from checkcloth.arguments import Floats
from checkcloth.colour.reflectance import (
    absorption_to_reflectance,
    reflectance_of_xyz,
    reflectance_to_absorption,
    reflectance_to_xyz,
    reflectances,
)
from checkcloth.colour.spaces import (
    linear_to_srgb,
    linear_to_xyz,
    rec2020_to_xyz,
    srgb_to_linear,
    unbounded_to_linear,
    xyz_to_linear,
    xyz_to_rec2020,
)

__all__ = ["WIDE_SPACES", "Known", "encode_wide", "known_of", "space_for", "wide_to_xyz", "xyz_of"]

# Absorption has no end where nothing is reflected, and is not defined above 1.
_LEAST = 1e-4


class Known(NamedTuple):
    """What is known of the colours of a colourway beyond sRGB."""

    beyond: bool = False
    some_spectra: bool = False
    all_spectra: bool = False


def known_of(colours: Sequence[Any]) -> Known:
    """Return what is known of colours; triples of encoded sRGB are just that.

    >>> known_of([(0.1, 0.2, 0.3)])
    Known(beyond=False, some_spectra=False, all_spectra=False)
    """
    beyond = any(getattr(colour, "xyz", None) is not None for colour in colours)
    spectra = [getattr(colour, "reflectance", None) is not None for colour in colours]
    return Known(beyond, any(spectra), all(spectra))


def space_for(space: str, known: Known) -> str:
    """Return the space without bounds for a mixing's own; nothing where its own will do.

    >>> space_for("light", Known(beyond=True)), space_for("light", Known())
    ('rec2020', '')
    """
    if space == "absorption":
        return "absorption" if known.beyond or known.some_spectra else ""
    if space != "as-is" and known.all_spectra:
        return "reflectance"
    if not known.beyond:
        return ""
    return "srgb-unbounded" if space == "as-is" else "rec2020"


def xyz_of(colour: Any) -> Floats:
    """Return XYZ (3,) under D65, white Y = 1, of a colour, or of a triple of encoded sRGB."""
    xyz = getattr(colour, "xyz", None)
    if xyz is not None:
        return np.array(xyz)
    return linear_to_xyz(srgb_to_linear(getattr(colour, "rgb", colour)))


def signed_power(values: Floats, exponent: float) -> Floats:
    """Raise to a power, mirrored below 0; 1 leaves values as they are."""
    return values if exponent == 1 else np.copysign(np.abs(values) ** exponent, values)


def _to_unbounded(colour: Any, n: float) -> Floats:
    if getattr(colour, "xyz", None) is None:
        return np.array(getattr(colour, "rgb", colour))
    return linear_to_srgb(xyz_to_linear(colour.xyz))


def _from_unbounded(values: Floats, n: float) -> Floats:
    return linear_to_xyz(unbounded_to_linear(values))


def _to_rec2020(colour: Any, n: float) -> Floats:
    return signed_power(xyz_to_rec2020(xyz_of(colour)), 1 / n)


def _from_rec2020(values: Floats, n: float) -> Floats:
    return rec2020_to_xyz(signed_power(values, n))


def _to_reflectance(colour: Any, n: float) -> Floats:
    return np.asarray(best_reflectance(colour)[0] ** (1 / n))


def _from_reflectance(values: Floats, n: float) -> Floats:
    # Shares of what is not negative are not; only rounding can be.
    return reflectance_to_xyz(values if n == 1 else np.maximum(values, 0) ** n)


def best_reflectance(colour: Any) -> tuple[Floats, bool]:
    """Return the reflectance (36,) of a colour, and whether it had to be recovered.

    Measured, or else the smoothest of its own colour; where no surface has that, of the colour
    that is shown for it.
    """
    measured = getattr(colour, "reflectance", None)
    if measured is not None:
        return np.array(measured), False
    xyz = getattr(colour, "xyz", None)
    found = None if xyz is None else reflectance_of_xyz(xyz)
    return reflectances(getattr(colour, "rgb", colour)) if found is None else found, True


def _to_absorption(colour: Any, n: float) -> Floats:
    values, recovered = best_reflectance(colour)
    return reflectance_to_absorption(values if recovered else np.clip(values, _LEAST, 1))


def _from_absorption(values: Floats, n: float) -> Floats:
    return reflectance_to_xyz(absorption_to_reflectance(np.maximum(values, 0)))


_To = Callable[[Any, float], Floats]
_From = Callable[[Floats, float], Floats]

# The page has the same (DECODINGS of page/shared/mixing.js).
WIDE_SPACES: dict[str, tuple[_To, _From]] = {
    "srgb-unbounded": (_to_unbounded, _from_unbounded),
    "rec2020": (_to_rec2020, _from_rec2020),
    "reflectance": (_to_reflectance, _from_reflectance),
    "absorption": (_to_absorption, _from_absorption),
}


def encode_wide(colours: Sequence[Any], space: str, n: float) -> Floats:
    """Return colours (K, C) in one of ``WIDE_SPACES``; each different one is worked out once.

    Colours have ``rgb``, ``xyz`` and ``reflectance``, or are triples of encoded sRGB; ``n`` is Yule
    and Nielsen's.
    """
    to = WIDE_SPACES[space][0]
    rows: dict[int, int] = {}
    where = [rows.setdefault(id(colour), len(rows)) for colour in colours]
    first = dict(zip(where, colours, strict=True))
    return np.array([to(first[row], n) for row in range(len(rows))])[where]


def wide_to_xyz(values: Floats, space: str, n: float) -> Floats:
    """Return XYZ (..., 3), D65, of values (..., C) in one of ``WIDE_SPACES``."""
    return WIDE_SPACES[space][1](values, n)
