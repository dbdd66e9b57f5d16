"""Readings as they would stand, had the instrument been set otherwise than was stated.

Each is a cause like others (:class:`Misreading`). Readings that fit the specification far better
so were likely made so, which is settled before any cause (:class:`IlluminantCheck`).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from checkcloth.arguments import Floats
from checkcloth.colour.difference import delta_e_cmc
from checkcloth.colour.illuminant import ILLUMINANTS, WHITES, adapt_lab
from checkcloth.colour.reflectance import reflectances
from checkcloth.colour.spaces import lab_to_srgb, lab_to_xyz, srgb_to_lab, xyz_to_lab
from checkcloth.colour.spectra.lights import BUYERS_LIGHTS, spectral_lab, white_of

# An error that another reading of the file at least halves, and by more than readings
# scatter (CMC units), is worth saying. Both are choices of ours.
_HALVES = 0.5
_CLEARLY = 0.4


@dataclass(frozen=True)
class Misreading:
    """One way in which the instrument may have been set otherwise than was stated."""

    name: str  # this, subject and says: as Cause has them
    subject: str
    says: str
    found: Floats  # (T, 3), what the readings would be then, under the standard's conditions


def _under_the_other(raw: Floats, stated: str, target: str) -> tuple[str, Floats, Floats]:
    """The other illuminant, and readings as they would be had it been mixed up.

    First as if they had been made under the other one; then as if the light had been the stated
    one, but the instrument had divided by the other's white: even greys are then far off,
    yellow or blue. Both Lab under ``target``, shape (T, 3) as ``raw``.
    """
    other = "D65" if stated == "D50" else "D50"
    white = xyz_to_lab(lab_to_xyz(raw, WHITES[other]), WHITES[stated])
    return other, adapt_lab(raw, other, target), adapt_lab(white, stated, target)


def lab_10_degree(rgb: Floats) -> Floats:
    """L*a*b* under D65 for the 10° observer of encoded sRGB (..., 3): an estimate.

    Of the smoothest reflectance that looks so to the 2° observer; only spectra could tell.
    """
    return spectral_lab(reflectances(rgb), "D65", 10)


def misreadings(raw: Floats, illuminant: str, observer: int, target: str) -> list[Misreading]:
    """Return what can be mistaken about readings taken for the 2° observer.

    ``raw`` (T, 3) is mean readings as they stand in the file, ``target`` the illuminant of the
    standard that they are held against.
    """
    if observer != 2 or illuminant not in ILLUMINANTS:
        return []  # without spectra nothing is known of other whites
    other, as_other, other_white = _under_the_other(raw, illuminant, target)
    # Found by the colour that was read: what the two observers make of it differs little
    # over so short a way.
    rgb = np.clip(lab_to_srgb(adapt_lab(raw, illuminant, "D65")), 0, 1)
    as_10_degree = adapt_lab(raw, illuminant, target) - (lab_10_degree(rgb) - srgb_to_lab(rgb))
    return [
        _under(other, illuminant, as_other),
        _by_white(other, illuminant, other_white),
        _for_observer("10° instead of 2° (an estimate)", as_10_degree),
    ]


def spectral_misreadings(
    raw: Floats, spectra: Floats, light: str, observer: int
) -> list[Misreading]:
    """Return what can be mistaken about readings of tones whose reflectances are known.

    ``raw`` (T, 3) is mean readings as they stand in the file, ``spectra`` (T, 36) of the tones as
    they were wanted.
    """
    here = spectral_lab(spectra, light, observer)

    def made_under(other: str, degrees: int) -> Floats:
        """Readings as they would be here, had they been made there."""
        return np.asarray(raw - spectral_lab(spectra, other, degrees) + here)

    other_observer = 12 - observer
    lights = [one for one in dict.fromkeys((*ILLUMINANTS, *BUYERS_LIGHTS)) if one != light]
    said = f"{other_observer}° instead of {observer}°"
    out = [_for_observer(said, made_under(light, other_observer))]
    out += [_under(other, light, made_under(other, observer)) for other in lights]
    if light != "D65":
        # What most instruments are set to.
        others, stated = f"D65/{other_observer}°", f"{light}/{observer}°"
        both = _under(others, stated, made_under("D65", other_observer))
        out.append(Misreading("conditions", "illuminant and observer", both.says, both.found))
    for other in ILLUMINANTS:
        if other != light:
            xyz = lab_to_xyz(raw, white_of(other, observer))
            out.append(_by_white(other, light, xyz_to_lab(xyz, white_of(light, observer))))
    return out


def _under(other: str, stated: str, found: Floats) -> Misreading:
    says = f"the readings had been made under {other} instead of {stated}"
    return Misreading("illuminant", "the illuminant", says, found)


def _by_white(other: str, stated: str, found: Floats) -> Misreading:
    says = f"Lab had been worked out with the white of {other} instead of {stated}"
    return Misreading("white", "the instrument's white", says, found)


def _for_observer(said: str, found: Floats) -> Misreading:
    return Misreading("observer", "the observer", f"the readings had been made for {said}", found)


# --- Whether it is likelier than what was stated ----------------------------------------------


class IlluminantCheck(NamedTuple):
    """Whether another illuminant than the stated one is likelier, and what to say of it."""

    suspect: bool = False
    cautions: tuple[str, ...] = ()
    settle: str = "the illuminant"


def _likelier(
    others: Mapping[str, Floats], stated: str, specified: Floats, found: Floats
) -> IlluminantCheck:
    """Whether readings (T, 3) fit far better as one of others, by what would have happened."""
    # Root mean square CMC(2:1) a tone.
    error, *errors = (
        float(np.sqrt((delta_e_cmc(specified, lab) ** 2).mean()))
        for lab in (found, *others.values())
    )
    least, likelier = min(zip(errors, others, strict=True), key=lambda row: row[0])
    if not (least <= error * _HALVES and error - least >= _CLEARLY):
        return IlluminantCheck()
    caution = (
        f"The readings are said to be under {stated}, but fit far better as if {likelier}: "
        f"CMC(2:1) {least:.2f} a tone instead of {error:.2f}. Ask how the instrument was set "
        "before anything is corrected."
    )
    return IlluminantCheck(True, (caution,))


def check_illuminant(raw: Floats, stated: str, specified: Floats) -> IlluminantCheck:
    """Find out whether readings fit the specification far better under another assumption.

    ``raw`` (T, 3) is mean Lab as it stands in the file, under D50 or D65 as is ``stated``;
    ``specified`` (T, 3) is Lab (D65, 2°).
    """
    as_stated = adapt_lab(raw, stated, "D65")
    other, as_other, other_white = _under_the_other(raw, stated, "D65")
    others = {
        f"they had been measured under {other}": as_other,
        f"Lab had been worked out with the white of {other}": other_white,
    }
    check = _likelier(others, stated, specified, as_stated)
    if not check.suspect and float(delta_e_cmc(as_stated, as_other).max()) < _CLEARLY:
        caution = (
            "The tones are too near grey for a mix-up of D50 and D65 to show; it cannot be "
            "ruled out from these readings."
        )
        return IlluminantCheck(False, (caution,))
    return check


def check_conditions(
    others: Sequence[Misreading], stated: str, specified: Floats, found: Floats
) -> IlluminantCheck:
    """Find out whether readings fit a specification far better as if set otherwise.

    ``specified`` and ``found``, (T, 3), are Lab under the conditions that are ``stated`` (F11/10°).
    """
    check = _likelier({each.says: each.found for each in others}, stated, specified, found)
    return check._replace(settle="light and observer")
