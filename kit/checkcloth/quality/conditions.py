"""A specification brought under the light and the observer that readings were made for.

Readings for D65 or D50 and the 2° observer are held against the sRGB of the specification, those
under D50 adapted. Under any other light, and for 10°, Lab cannot be turned; but the tones have
reflectances, measured or recovered from sRGB, and those have a Lab under every light. So there
the specification is brought to the readings, and nothing that was read is changed.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

import numpy as np

from checkcloth.arguments import Floats
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.spectral import tone_spectra
from checkcloth.colour.illuminant import ILLUMINANTS, adapt_lab
from checkcloth.colour.inked import Inked
from checkcloth.colour.reflectance import reflectances
from checkcloth.colour.spaces import lab_to_srgb, srgb_to_lab
from checkcloth.colour.spectra.accuracy import recovered_error
from checkcloth.colour.spectra.lights import spectral_lab
from checkcloth.colour.spectra.texture import TextureFactor
from checkcloth.errors import ArgumentError
from checkcloth.quality.diagnosis.misread import (
    IlluminantCheck,
    Misreading,
    check_conditions,
    check_illuminant,
    misreadings,
    spectral_misreadings,
)
from checkcloth.quality.readings import Readings, ToneIndex

_TEN_DEGREES = (
    "Readings for the 10° observer cannot be turned into 2° without spectra: neutrals agree "
    "within about a unit, vivid colours may differ by several."
)


# A step of Lab by which slopes are taken, and a condition number from which they say nothing.
_STEP, _ILL = 1.0, 10.0


@dataclass(frozen=True)
class Compared:
    """What a strike-off is held against, and how; Lab is (T, 3), under one light and observer."""

    wanted: Floats
    found: Floats
    basis: str  # what was compared with what
    cautions: list[str] = field(default_factory=list)
    # Whether the conditions seem to be others than stated, and how the instrument may have stood.
    light: IlluminantCheck = field(default_factory=IlluminantCheck)
    misread: Sequence[Misreading] = ()
    # What turns a small shift of each tone's Lab into that under D65, 2°, where causes are worked
    # out: (T, 3, 3); the same where left out.
    to_daylight: Floats | None = None

    def as_daylight(self, colourway: Colourway, tones: Sequence[ToneIndex]) -> Compared:
        """The same shifts as they would be under D65, 2°, for the diagnosis."""
        slopes = self.to_daylight
        if slopes is None:
            return self
        wanted = np.array([colourway.tones_lab[tone] for tone in tones])

        def turned(found: Floats) -> Floats:
            shift = found - self.wanted
            return np.asarray(wanted + (slopes @ shift[..., None])[..., 0])

        misread = [replace(one, found=turned(one.found)) for one in self.misread]
        return replace(self, wanted=wanted, found=turned(self.found), misread=misread)


def compared(
    colourway: Colourway,
    readings: Readings,
    tones: Sequence[ToneIndex],
    means: Floats,
    accept_10_degree: bool,
    texture: TextureFactor | None = None,
) -> Compared:
    """Hold mean readings (T, 3) of tones, (warp, weft) each, against the specification.

    ``means`` stand under the light and observer of ``readings``; with ``accept_10_degree`` those
    for 10° are taken as if for 2°. ``texture`` says how much light the cloth gives back of its
    specification's.
    """
    adaptable = readings.illuminant in ILLUMINANTS
    bring = _with_spectra
    if adaptable and (readings.observer == 2 or accept_10_degree):
        bring = _with_srgb
    held = bring(colourway, readings, tones, means, texture)
    if texture is None:
        return held
    return replace(held, basis=f"{held.basis} What was wanted is that of yarn cards: {texture}.")


def with_condition(
    inked: Inked, readings: Readings, tones: Sequence[ToneIndex], means: Floats
) -> Compared:
    """Hold mean readings (T, 3), under D50 or D65 and 2°, against what a print condition prints."""
    light = readings.illuminant
    if light not in ILLUMINANTS or readings.observer != 2:
        allowed = "under D50 or D65 and 2°, as a print condition is measured"
        raise ArgumentError("readings", allowed, words=readings.conditions)
    wanted = np.array([inked.lab[tone] for tone in tones])
    adapted = "" if light == "D50" else "Readings under D65 were adapted to D50 by Bradford. "
    return Compared(
        wanted,
        adapt_lab(means, light, "D50"),
        f"{adapted}The specification is what the print condition prints (D50, 2°): {inked.words}.",
        light=check_illuminant(means, light, adapt_lab(wanted, "D50", "D65")),
        misread=misreadings(means, light, 2, "D50"),
    )


def _with_srgb(
    colourway: Colourway,
    readings: Readings,
    tones: Sequence[ToneIndex],
    means: Floats,
    texture: TextureFactor | None,
) -> Compared:
    illuminant = readings.illuminant
    wanted = np.array([colourway.tones_lab[tone] for tone in tones])
    if texture is not None:
        wanted = texture.lab(wanted)
    cautions = []
    if readings.observer == 10:
        cautions.append(f"{_TEN_DEGREES} They were compared as if they were 2°, as was asked.")
    if illuminant == "D50":
        basis = (
            "Readings under D50 were adapted to D65 by the Bradford transform; the "
            "specification is D65, 2°, from the colourway's sRGB. Adaptation estimates what "
            "D65 would show; it cannot see metamerism."
        )
    else:
        basis = (
            f"Readings under {readings.conditions} were compared as they are; the specification "
            "is D65, 2°, from the colourway's sRGB."
        )
    return Compared(
        wanted,
        adapt_lab(means, illuminant, "D65"),
        basis,
        cautions,
        check_illuminant(means, illuminant, wanted),
        misreadings(means, illuminant, readings.observer, "D65"),
    )


def _with_spectra(
    colourway: Colourway,
    readings: Readings,
    tones: Sequence[ToneIndex],
    means: Floats,
    texture: TextureFactor | None,
) -> Compared:
    light, observer, conditions = readings.illuminant, readings.observer, readings.conditions
    mixed = tone_spectra(colourway)
    spectra = np.array([mixed.reflectance[tone] for tone in tones])
    if texture is not None:
        spectra = texture.reflectance(spectra)
    wanted = spectral_lab(spectra, light, observer)
    kind = "recovered" if mixed.recovered else "measured"
    basis = (
        f"Readings under {conditions} were compared as they are; the specification was brought "
        f"under {conditions} from the reflectances of its tones, mixed of {kind} spectra."
    )
    cautions = []
    if mixed.recovered:
        error = recovered_error(light, observer)
        cautions.append(
            "Where no reflectance was measured the smoothest that looks so under D65 stands for "
            f"it: of 90 colours measured for CIE 224, 19 in 20 lay within ΔE00 {error:.1f} of "
            f"the truth under {conditions}. A tone that fails by no more than that may be right; "
            "measured reflectances of the colours, or readings for D65 and 2°, decide."
        )
    misread = spectral_misreadings(means, spectra, light, observer)
    likelier = check_conditions(misread, conditions, wanted, means)
    shown = np.array([colourway.tones[tone] for tone in tones])
    slopes = _to_daylight(shown, light, observer)
    return Compared(wanted, means, basis, cautions, likelier, misread, slopes)


def _to_daylight(rgb: Floats, light: str, observer: int) -> Floats:
    """How Lab of colours (T, 3) under D65, 2°, answers to Lab under a light: (T, 3, 3).

    By small steps of the smoothest reflectances that have these colours.
    """
    here = srgb_to_lab(rgb)
    base = spectral_lab(reflectances(rgb), light, observer)
    slopes = np.empty((len(rgb), 3, 3))
    for axis in range(3):
        step = np.zeros(3)
        step[axis] = _STEP
        ahead = lab_to_srgb(here + step)
        inside = ((ahead >= 0) & (ahead <= 1)).all(axis=-1, keepdims=True)
        # At the edge of sRGB the step is taken inwards.
        moved = np.clip(np.where(inside, ahead, lab_to_srgb(here - step)), 0, 1)
        change = spectral_lab(reflectances(moved), light, observer) - base
        slopes[..., axis] = change / np.where(inside, _STEP, -_STEP)
    # A colour in a corner of sRGB, which cannot step at all, is left as it is.
    slopes[np.linalg.cond(slopes) > _ILL] = np.eye(3)
    return np.asarray(np.linalg.inv(slopes))
