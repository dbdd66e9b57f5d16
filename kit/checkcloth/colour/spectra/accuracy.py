"""How far off a colour may be under a light where its reflectance was recovered from sRGB.

Two spectra that look alike under D65 to the 2° observer do not under other lights, so what is
recovered is a guess there. The figures are of the 99 test colours of CIE 224:2017, as far as sRGB
holds them (90): Lab of the measured reflectance against Lab of the one recovered from its sRGB.
``tests/bench/bench_pigment.py`` prints them.
"""

from __future__ import annotations

from checkcloth.colour.illuminant import as_observer
from checkcloth.colour.spectra.lights import as_light

# p95 of ΔE00, for the 2° and the 10° observer.
LIGHT_ERRORS = {
    "A": (4.5, 2.7), "C": (0.4, 2.6), "D50": (1.3, 1.0), "D55": (0.8, 1.5), "D65": (0.1, 2.4),
    "D75": (0.6, 3.0), "F2": (2.8, 2.6), "F7": (0.7, 2.5), "F11": (3.9, 3.3),
    "LED-B1": (3.9, 2.7), "LED-B2": (3.7, 2.5), "LED-B3": (2.3, 1.7), "LED-B4": (2.5, 2.0),
    "LED-B5": (2.2, 2.2), "LED-BH1": (3.4, 2.4), "LED-RGB1": (3.7, 2.7), "LED-V1": (3.8, 4.0),
    "LED-V2": (1.5, 2.1),
}  # fmt: skip


def recovered_error(light: str, observer: int = 2) -> float:
    """Return ΔE00 that 19 in 20 colours of recovered reflectance lie within, under a light.

    >>> recovered_error("F11"), recovered_error("D65", 10)
    (3.9, 2.4)
    """
    return LIGHT_ERRORS[as_light(light)][as_observer(observer) == 10]
