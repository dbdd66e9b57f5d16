"""Tables, read back by the csv module."""

from __future__ import annotations

import csv
import io

import numpy as np
import pytest

from checkcloth import Check, Colourway, score
from checkcloth.export.data.tables import scores_csv, tones_csv

COLOURWAYS = [
    Colourway("#fbf8f1", ["#a62a3c", "#3f6fb0"], 0.5, name="Morning"),
    Colourway("black", ["gold"], 0.8, "woven", name='=cmd|" /C calc"!A0'),
    Colourway("white", ["navy", "teal", "tan"], name="<script>alert(1)</script>"),
]


def _rows(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(text, newline="")))


def test_tones_table_holds_every_tone_and_its_share():
    rows = _rows(tones_csv(COLOURWAYS, Check("0.5 in", 2)))
    assert len(rows) == 9 + 4 + 16
    first = rows[:9]
    assert sum(float(row["share of area %"]) for row in first) == pytest.approx(100, abs=1e-3)
    tones = COLOURWAYS[0].tones
    for row in first:
        tone = tones[int(row["warp"]), int(row["weft"])]
        byte = [int(row[name]) for name in ("red", "green", "blue")]
        np.testing.assert_array_equal(byte, np.floor(tone * 255 + 0.5))
        assert row["hex"] == "#{:02x}{:02x}{:02x}".format(*byte)
    assert rows[0]["tone"] == "#fbf8f1"


def test_lab_in_the_table_is_that_of_coloraide():
    from coloraide import Color

    for row in _rows(tones_csv(COLOURWAYS[0], Check("0.5 in", 2))):
        tone = COLOURWAYS[0].tones[int(row["warp"]), int(row["weft"])]
        # Lab under D65, as the table says; coloraide's own route from sRGB.
        wanted = Color("srgb", tone.tolist()).convert("lab-d65").coords()
        found = [float(row[name]) for name in ("L*", "a*", "b*")]
        np.testing.assert_allclose(found, wanted, atol=0.02)


def test_no_cell_starts_a_formula():
    for text in (tones_csv(COLOURWAYS, Check("1 in", 1)), scores_csv(COLOURWAYS, Check("1 in", 1))):
        for row in csv.reader(io.StringIO(text, newline="")):
            for cell in row:
                assert not cell.startswith(("=", "+", "@", "\t", "\r"))
                if cell.startswith("-"):
                    float(cell)  # a number may be negative; nothing else may begin so


def test_scores_table_agrees_with_the_scores():
    rows = _rows(scores_csv(COLOURWAYS, Check("0.5 in", 2)))
    assert [row["colourway"][:5] for row in rows] == ["Morni", "'=cmd", "<scri"]
    for row, colourway in zip(rows, COLOURWAYS, strict=True):
        for name, value in score(colourway).columns().items():
            if np.isnan(value):
                assert row[name] == ""
            else:
                assert float(row[name]) == pytest.approx(float(value), abs=1e-4)
