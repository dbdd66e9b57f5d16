"""Write kit/checkcloth/colour/spectra/weights.py from the tables that colour-science carries.

    python tests/gold/write_lights.py

A weight says what a reflectance of 1 in a band adds to X, Y or Z. Between bands reflectance is
interpolated to 1 nm by Sprague's formula (CIE 167:2005), before 380 and after 730 nm it stays
as it is at the end, and the sums of ASTM E308 run over 360 to 780 nm by 1 nm; the lights' power,
which the CIE prints by 5 nm, is interpolated by straight lines. All of that is linear in the
reflectance, so it is one weight a band: no wavelength is left out.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np

HERE = Path(__file__).resolve()
MODULE = HERE.parents[2] / "kit" / "checkcloth" / "colour" / "spectra" / "weights.py"

# CIE 015:2018 names them so; the fluorescent lamps are FL2 … there, F2 … in the trade.
LIGHTS = {
    **{name: name for name in ("A", "C", "D50", "D55", "D65", "D75")},
    **{f"F{number}": f"FL{number}" for number in (2, 7, 11)},
    **{name: name for name in ("LED-B1", "LED-B2", "LED-B3", "LED-B4", "LED-B5", "LED-BH1",
                               "LED-RGB1", "LED-V1", "LED-V2")},
}  # fmt: skip
OBSERVERS = {2: "CIE 1931 2 Degree Standard Observer", 10: "CIE 1964 10 Degree Standard Observer"}
BANDS = np.arange(380, 731, 10)
NM = np.arange(360, 781)

_HEAD = '''"""Tristimulus weights of 36 bands, 380–730 nm by 10 nm, for the lights of CIE 015:2018.

Written by ``tests/gold/write_lights.py``, which says how, from the tables in colour-science;
do not edit. Y of a perfect white is 1 but for rounding.
"""

from __future__ import annotations

import numpy as np

# Light and observer, then X, Y, Z of each band in millionths.
_ROWS = """
'''
_TAIL = '''"""
WEIGHTS = {
    (light, int(degrees)): np.array(values, dtype=np.float64).reshape(-1, 3) / 1e6
    for light, degrees, *values in (row.split() for row in _ROWS.strip().split("\\\\n\\\\n"))
}
for _weights in WEIGHTS.values():
    _weights.flags.writeable = False
LIGHTS = tuple(dict.fromkeys(light for light, _ in WEIGHTS))
OBSERVERS = (2, 10)
'''


def sprague() -> np.ndarray:
    """Return the matrix (421, 36) from bands to 1 nm, by colour-science's own interpolator."""
    import colour

    out = np.zeros((len(NM), len(BANDS)))
    inside = (NM >= 380) & (NM <= 730)
    for band in range(len(BANDS)):
        unit = np.zeros(len(BANDS))
        unit[band] = 1
        out[inside, band] = colour.SpragueInterpolator(BANDS.astype(float), unit)(NM[inside])
    out[NM < 380, 0] = 1
    out[NM > 730, -1] = 1
    return out


def weights() -> dict[tuple[str, int], np.ndarray]:
    """Return weights (36, 3) by light and observer."""
    import colour

    to_nm = sprague()
    found = {}
    for name, theirs in LIGHTS.items():
        power = colour.SDS_ILLUMINANTS[theirs]
        # F and LED tables begin at 380 nm: below there is next to nothing.
        light = np.interp(NM, power.wavelengths, power.values)
        for degrees, observer in OBSERVERS.items():
            matching = colour.MSDS_CMFS[observer]
            cmfs = matching.values[np.isin(matching.wavelengths, NM)]
            product = light[:, None] * np.maximum(cmfs, 0)
            found[name, degrees] = to_nm.T @ product / product[:, 1].sum()
    return found


def module_text() -> str:
    """Return the module as it should stand."""
    parts = []
    for (light, degrees), values in weights().items():
        rows = [
            " ".join(f"{value * 1e6:.0f}" for value in values[start : start + 4].ravel())
            for start in range(0, len(values), 4)
        ]
        parts.append("\n".join([f"{light} {degrees}", *rows]))
    return _HEAD + "\n\n".join(parts) + "\n" + _TAIL.replace("\\\\n", "\\n")


if __name__ == "__main__":
    MODULE.write_text(module_text().replace("-0 ", "0 "), encoding="utf-8")
