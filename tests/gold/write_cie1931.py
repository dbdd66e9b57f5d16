"""Write kit/checkcloth/colour/cie1931.py from the tables in colour-science.

    python tests/gold/write_cie1931.py

colour-science took the colour-matching functions from RIT (cis.rit.edu/mcsl) and the relative
power of D65 from the CIE's own table; ISO/CIE 11664-1 and 11664-2 publish both. Every tenth
nanometre from 380 to 730 nm is kept; ``tests/colour/test_reflectance.py`` holds the written
module to this script.
"""

from __future__ import annotations

from pathlib import Path

HERE = Path(__file__).resolve()
MODULE = HERE.parents[2] / "kit" / "checkcloth" / "colour" / "cie1931.py"

_HEAD = '''"""CIE 1931 2° colour-matching functions and illuminant D65, 380–730 nm by 10 nm.

Written by ``tests/gold/write_cie1931.py`` from the tables in colour-science; do not edit.
Published in ISO/CIE 11664-1 (observer) and ISO/CIE 11664-2 (illuminant).
"""

from __future__ import annotations

import numpy as np

# nm; x̄, ȳ, z̄; relative power of D65, 100 at 560 nm
_ROWS = """
'''
_TAIL = '''"""
_TABLE = np.array(_ROWS.split(), dtype=np.float64).reshape(-1, 5)
_TABLE.flags.writeable = False

WAVELENGTHS = _TABLE[:, 0]
COLOUR_MATCHING = _TABLE[:, 1:4]
D65_POWER = _TABLE[:, 4]
'''


def module_text() -> str:
    """Return the module as it should stand."""
    import colour

    observer = colour.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"]
    daylight = colour.SDS_ILLUMINANTS["D65"]
    rows = []
    for wavelength in range(380, 731, 10):
        x, y, z = (max(float(value), 0) for value in observer[wavelength])
        power = float(daylight[wavelength])
        rows.append(f"{wavelength} {x:.12g} {y:.12g} {z:.12g} {power:.8g}\n")
    return _HEAD + "".join(rows) + _TAIL


if __name__ == "__main__":
    MODULE.write_text(module_text(), encoding="utf-8")
