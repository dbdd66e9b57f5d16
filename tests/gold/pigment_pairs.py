"""What recovering a spectrum from sRGB costs in ``pigment``: pairs of measured reflectances."""

from __future__ import annotations

import warnings
from functools import cache

import numpy as np

from checkcloth.colour.ciede2000 import delta_e_2000
from checkcloth.colour.reflectance import (
    absorption_to_reflectance,
    reflectance_to_absorption,
    reflectance_to_linear,
    reflectances,
)
from checkcloth.colour.spaces import linear_to_srgb, linear_to_xyz, xyz_to_lab
from checkcloth.colour.spectra.lights import spectral_lab


@cache
def measured() -> np.ndarray:
    """The 99 test colours of CIE 224:2017 (99, 36), as colour-science carries them."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        import colour
        from colour.quality.cfi2017 import load_TCS_CIE2017

        found = load_TCS_CIE2017(colour.SpectralShape(380, 780, 5))
    return found.values.T[:, np.isin(found.wavelengths, np.arange(380, 731, 10))]


def in_srgb() -> tuple[np.ndarray, np.ndarray]:
    """Those that lie inside sRGB (90, 36), and their linear light."""
    spectra = measured()
    light = reflectance_to_linear(spectra)
    inside = ((light >= 0) & (light <= 1)).all(axis=1)
    return spectra[inside], light[inside]


def pair_misses(spectra: np.ndarray, recovered: np.ndarray) -> np.ndarray:
    """ΔE00 of each pair mixed half and half by Kubelka and Munk: measured against recovered."""
    i, j = np.triu_indices(len(spectra), 1)

    def mixed(values: np.ndarray) -> np.ndarray:
        k = reflectance_to_absorption(np.clip(values, 1e-6, 1))
        mean = absorption_to_reflectance((k[i] + k[j]) / 2)
        return xyz_to_lab(linear_to_xyz(reflectance_to_linear(mean)))

    return delta_e_2000(mixed(spectra), mixed(recovered))


def recovery_misses() -> np.ndarray:
    """ΔE00 of each pair that lies inside sRGB, by the kit's own recovery."""
    spectra, light = in_srgb()
    return pair_misses(spectra, reflectances(linear_to_srgb(light)))


def light_misses(light: str, observer: int) -> np.ndarray:
    """ΔE00 (90,) under a light: measured spectra against those recovered from their sRGB."""
    spectra, linear = in_srgb()
    both = (spectra, reflectances(linear_to_srgb(linear)))
    return delta_e_2000(*(spectral_lab(values, light, observer) for values in both))
