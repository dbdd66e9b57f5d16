"""What every result of the room prints as: one line, the same on any processor."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from checkcloth.cloth.check import Check
from checkcloth.cloth.colourway import Colourway
from checkcloth.quality import (
    Demand,
    Span,
    Tolerance,
    check_strike_off,
    ground_gains,
    read_readings,
    read_supplier_palette,
    score_table,
    score_with_tolerance,
    strength_windows,
    striping,
    sweep,
)

CLOTH = Colourway("white", ["navy", "gold"], 0.37)
READINGS = "tone,L*,a*,b*\nwhite,97.1,0.2,-0.3\nnavy on white,62.2,3.5,-21.0\n"


def results(folder: Path) -> dict[str, object]:
    readings, shades = folder / "readings.csv", folder / "shades.csv"
    readings.write_text(READINGS, "utf-8")
    shades.write_text("shade,hex,L,a,b,light\nFog,#777,51.3,0.1,0.2,D50/2\n", "utf-8")
    strike_off = check_strike_off(CLOTH, readings, illuminant="D65", observer=2)
    windows = strength_windows(CLOTH, [Demand("edges", "dl", 7)])
    supplier = read_supplier_palette(shades)
    return {
        "readings": read_readings(readings, illuminant="D65", observer=2),
        "strike-off": strike_off,
        "tone": strike_off.checks[0],
        "cause": strike_off.causes[0],
        "supplier": supplier,
        "shade": supplier.shades[0],
        "table": score_table(CLOTH),
        "sweep": sweep(CLOTH),
        "windows": windows,
        "window": windows["woven"],
        "span": Span(1 / 3, 2 / 3),
        "demand": windows.demands[0],
        "score": score_with_tolerance(CLOTH, draws=100),
        "tolerance": Tolerance(),
        "striping": striping(CLOTH, Check("1/4 in", 2), "1 m"),
        "gain": ground_gains(CLOTH, ["silver"])[0],
    }


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    return results(tmp_path_factory.mktemp("results"))


@pytest.mark.parametrize("name", [
    "readings", "strike-off", "tone", "cause", "supplier", "shade", "table", "sweep", "windows",
    "window", "span", "demand", "score", "tolerance", "striping", "gain",
])  # fmt: skip
def test_a_result_prints_as_one_short_line_without_last_digits(made, name):
    text = repr(made[name])
    assert "\n" not in text
    assert len(text) <= 200
    assert not re.search(r"\d\.\d{5}", text), text
    assert "array" not in text
