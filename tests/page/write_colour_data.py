"""Write the numbers that the page mixes with, taken from the kit's own arrays.

    PYTHONPATH=kit python -m tests.page.write_colour_data

A constant has one source, the Python module named beside it here. The inverse matrices end in
digits that hang on the processor; ``test_page_mixing.py`` therefore compares numbers, not text.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np

from checkcloth.colour import reflectance, spaces, vision

SHARED = Path(__file__).resolve().parents[2] / "kit/checkcloth/page/shared"
TARGET = SHARED / "colour_data.js"
EYE_TARGET = SHARED / "eye_data.js"  # apart, so that the desk need not carry it

_HEAD = """\
// Written by tests/page/write_colour_data.py from the kit's Python arrays; do not edit.
// Matrices are flat, row after row.
"""


def _matrices() -> dict[str, tuple[str, np.ndarray]]:
    return {
        "BAND_WEIGHTS": (
            "reflectance.py: linear sRGB (3 rows) of a reflectance in 36 bands, D65, 2°",
            reflectance._WEIGHTS,
        ),
        "LINEAR_TO_P3": ("spaces.py: linear sRGB to Display P3", spaces._LINEAR_TO_P3),
        "P3_TO_LINEAR": ("spaces.py: linear Display P3 to sRGB", spaces._P3_TO_LINEAR),
        "LINEAR_TO_REC2020": (
            "spaces.py: linear sRGB to ITU-R BT.2020",
            spaces._XYZ_TO_REC2020 @ spaces._LINEAR_TO_XYZ,
        ),
        "REC2020_TO_LINEAR": (
            "spaces.py: linear ITU-R BT.2020 to sRGB",
            spaces._XYZ_TO_LINEAR @ spaces._REC2020_TO_XYZ,
        ),
        "LINEAR_TO_LMS": ("spaces.py: linear sRGB to cone responses", spaces._LINEAR_TO_LMS),
        "LMS_TO_LINEAR": ("spaces.py: cone responses to linear sRGB", spaces._LMS_TO_LINEAR),
        "LMS_TO_OKLAB": ("spaces.py: cube roots of LMS to Oklab", spaces._LMS_TO_OKLAB),
        "OKLAB_TO_LMS": ("spaces.py: Oklab to cube roots of LMS", spaces._OKLAB_TO_LMS),
        "PROTAN": ("vision.py: Viénot 1999", vision._VIENOT["protan"]),
        "DEUTAN": ("vision.py: Viénot 1999", vision._VIENOT["deutan"]),
        "TRITAN_ONE": ("vision.py: Brettel 1997, first half-plane", vision._BRETTEL_ONE),
        "TRITAN_TWO": ("vision.py: Brettel 1997, second half-plane", vision._BRETTEL_TWO),
        "TRITAN_SEPARATOR": ("vision.py: Brettel 1997, normal", vision._BRETTEL_SEPARATOR),
        "LUMINANCE": ("vision.py: Y of linear sRGB", vision._LUMINANCE),
    }


def _eye_tables() -> dict[str, tuple[str, np.ndarray]]:
    return {
        "LINEAR_TO_RATIO": (
            "spaces.py: linear sRGB to X/Xn, Y/Yn, Z/Zn under D65",
            spaces._LINEAR_TO_RATIO.T,
        ),
        **{
            f"MACHADO_{name.upper()}": (
                "vision.py: Machado et al. 2009, severity 0, 0.1 ... 1",
                table,
            )
            for name, table in vision.MACHADO_2009.items()
        },
    }


def _numbers(values: np.ndarray) -> str:
    words = [repr(value) for value in values.ravel().tolist()]
    width = 3 if len(words) < 10 else 4
    rows = (", ".join(words[start : start + width]) for start in range(0, len(words), width))
    return "".join(f"  {row},\n" for row in rows)


def _arrays(tables: dict[str, tuple[str, np.ndarray]]) -> list[str]:
    return [_HEAD] + [
        f"\n/** {meaning}. */\nexport const {name} = Float64Array.of(\n{_numbers(values)});\n"
        for name, (meaning, values) in tables.items()
    ]


def eye_data() -> str:
    """Return the text of ``eye_data.js``."""
    return "".join(_arrays(_eye_tables()))


def colour_data() -> str:
    """Return the text of ``colour_data.js``."""
    parts = _arrays(_matrices())
    parts.append(
        "\n/** reflectance.py: how far light is drawn in at both ends before recovery. */\n"
        f"export const MARGIN = {reflectance._MARGIN!r};\n"
    )
    return "".join(parts)


if __name__ == "__main__":
    TARGET.write_text(colour_data(), "utf-8")
    EYE_TARGET.write_text(eye_data(), "utf-8")
