"""Write ``press_sets.csv``: what the tests need of nine measured press sets.

    PYTHONPATH=kit python tests/gold/write_press_sets.py

The sets are the characterisation data in Debian's ``icc-profiles-free`` (zlib licence; the
measurements are Fogra's, of www.fogra.org, and those of the ANSI CGATS committee). This is an
altered copy: of each set the paper, all patches of one and two inks, those with one ink varied
over solids of others, and of the remaining ones every eighth, as tone values and XYZ (D50, 2°).
"""

from __future__ import annotations

import csv
from pathlib import Path

from checkcloth.files.cgats import read_cgats

FOLDER = Path("/usr/share/color/icc")
TARGET = Path(__file__).with_name("press_sets.csv")
NAMES = (
    "FOGRA28L", "FOGRA29L", "FOGRA30L", "FOGRA39L", "FOGRA40L",
    "TR002", "TR003", "TR005", "TR006",
)  # fmt: skip
COLUMNS = [f"CMYK_{ink}" for ink in "CMYK"] + [f"XYZ_{axis}" for axis in "XYZ"]


def rows_of(name: str) -> list[list[float]]:
    """Return tone values in % and XYZ (white 100) of every patch of a set."""
    table = read_cgats(FOLDER / f"{name}.ti3")[0]
    return [list(row) for row in zip(*(table.numbers(column) for column in COLUMNS), strict=True)]


def _needed(number: int, inks: list[float]) -> bool:
    printed = sum(ink > 0 for ink in inks)
    tints = sum(0 < ink < 100 for ink in inks)
    return printed <= 2 or tints <= 1 or number % 8 == 0


if __name__ == "__main__":
    with TARGET.open("w", encoding="utf-8", newline="") as stream:
        writer = csv.writer(stream, lineterminator="\n")
        writer.writerow(["set", *"cmykXYZ"])
        for set_name in NAMES:
            for number, row in enumerate(rows_of(set_name)):
                if _needed(number, row[:4]):
                    writer.writerow([set_name, *(f"{value:g}" for value in row)])
