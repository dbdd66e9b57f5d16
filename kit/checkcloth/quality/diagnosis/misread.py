"""Readings as they would stand, had the instrument been set otherwise than was stated."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from checkcloth.arguments import Floats
from checkcloth.colour.illuminant import ILLUMINANTS, adapt_lab
from checkcloth.colour.reflectance import reflectances
from checkcloth.colour.spaces import lab_to_srgb, lab_to_xyz, srgb_to_lab, xyz_to_lab
from checkcloth.colour.spectra.lights import BUYERS_LIGHTS, spectral_lab, white_of
from checkcloth.quality.diagnosis.illuminant_check import under_the_other


@dataclass(frozen=True)
class Misreading:
    """One way in which the instrument may have been set otherwise than was stated.

    Attributes
    ----------
    name, subject, says : str
        As :class:`Cause` has them.
    found : ndarray, shape (T, 3)
        What the readings would be if it were so, under the conditions of the standard.
    """

    name: str
    subject: str
    says: str
    found: Floats


def lab_10_degree(rgb: Floats) -> Floats:
    """L*a*b* under D65 for the 10° observer of encoded sRGB (..., 3): an estimate.

    Of the smoothest reflectance that looks so to the 2° observer; only spectra could tell.
    """
    return spectral_lab(reflectances(rgb), "D65", 10)


def misreadings(raw: Floats, illuminant: str, observer: int, target: str) -> list[Misreading]:
    """Return what can be mistaken about readings taken for the 2° observer.

    Parameters
    ----------
    raw : ndarray, shape (T, 3)
        Mean readings as they stand in the file.
    illuminant, observer :
        As stated.
    target : str
        Illuminant of the standard that they are held against.
    """
    if observer != 2 or illuminant not in ILLUMINANTS:
        return []  # without spectra nothing is known of other whites
    other, as_other, other_white = under_the_other(raw, illuminant, target)
    out = [
        Misreading(
            "illuminant", "the illuminant", f"the readings had been made under {other} instead "
            f"of {illuminant}", as_other,
        ),
        Misreading(
            "white", "the instrument's white", f"Lab had been worked out with the white of "
            f"{other} instead of {illuminant}", other_white,
        ),
    ]  # fmt: skip
    # Found by the colour that was read: what the two observers make of it differs little
    # over so short a way.
    rgb = np.clip(lab_to_srgb(adapt_lab(raw, illuminant, "D65")), 0, 1)
    shift = lab_10_degree(rgb) - srgb_to_lab(rgb)
    out.append(
        Misreading(
            "observer", "the observer", "the readings had been made for 10° instead of 2° (an "
            "estimate)", adapt_lab(raw, illuminant, target) - shift,
        )
    )  # fmt: skip
    return out


def spectral_misreadings(
    raw: Floats, spectra: Floats, light: str, observer: int
) -> list[Misreading]:
    """Return what can be mistaken about readings of tones whose reflectances are known.

    Parameters
    ----------
    raw : ndarray, shape (T, 3)
        Mean readings as they stand in the file.
    spectra : ndarray, shape (T, 36)
        Of the tones as they were wanted.
    light, observer :
        As stated.
    """
    here = spectral_lab(spectra, light, observer)

    def made_under(other: str, degrees: int) -> Floats:
        """Readings as they would be here, had they been made there."""
        return np.asarray(raw - spectral_lab(spectra, other, degrees) + here)

    other_observer = 12 - observer
    lights = [one for one in dict.fromkeys((*ILLUMINANTS, *BUYERS_LIGHTS)) if one != light]
    out = [
        Misreading(
            "observer", "the observer", f"the readings had been made for {other_observer}° "
            f"instead of {observer}°", made_under(light, other_observer),
        )
    ]  # fmt: skip
    out += [
        Misreading(
            "illuminant", "the illuminant", f"the readings had been made under {other} instead of "
            f"{light}", made_under(other, observer),
        )
        for other in lights
    ]  # fmt: skip
    if light != "D65":
        # What most instruments are set to.
        out.append(
            Misreading(
                "conditions", "illuminant and observer", f"the readings had been made under "
                f"D65/{other_observer}° instead of {light}/{observer}°",
                made_under("D65", other_observer),
            )
        )  # fmt: skip
    for other in ILLUMINANTS:
        if other != light:
            xyz = lab_to_xyz(raw, white_of(other, observer))
            out.append(
                Misreading(
                    "white", "the instrument's white", f"Lab had been worked out with the white "
                    f"of {other} instead of {light}",
                    xyz_to_lab(xyz, white_of(light, observer)),
                )
            )  # fmt: skip
    return out
