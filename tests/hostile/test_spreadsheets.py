"""No cell of a CSV file is a formula to a spreadsheet, and reading gives the name back.

What begins a formula: OWASP ASVS 5.0, requirement 1.2.10 (= + - @, tab, null), and CWE-1236; line
ends and the full-width forms from memory of OWASP's page "CSV Injection".
"""

from __future__ import annotations

import ast
import csv
import re
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checkcloth import Check, ChosenSet, Colourway, NamedColour, Palette, hand_off, read_palette
from checkcloth import quality as analysis
from checkcloth.cloth.palette import write_palette
from checkcloth.files.csv_rows import safe_cell, unsafe_cell

KIT = Path(__file__).parents[2] / "kit" / "checkcloth"
NAMES = [
    "=cmd|' /C calc'!A0", "=1+1", "+1", "-1", "@SUM(A1)", "'=1", "''", "'", "＝1", "＋1", "－1",
    "＠x", "-", "=", "plain", "'quoted'", 'a"=1', "a,=1", "a;=1",
]  # fmt: skip
BEGINS = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")


def is_number(text: str) -> bool:
    return re.fullmatch(r"[+-]?\d+(\.\d+)?(e[+-]?\d+)?", text) is not None


@given(st.text(alphabet=st.sampled_from("=+-@'＝＋－＠\t\r\nab, \"")))
def test_a_cell_is_safe_and_comes_back(text):
    cell = safe_cell(text)
    assert not cell.startswith(BEGINS)
    assert unsafe_cell(cell) == text


def colours() -> list[NamedColour]:
    return [
        NamedColour(name, (n % 7 / 6, n % 5 / 4, n % 3 / 2), note=name)
        for n, name in enumerate(NAMES)
    ]


@pytest.fixture(scope="module")
def folder(tmp_path_factory) -> Path:
    """Every CSV file that the kit writes, of things with such names."""
    place = tmp_path_factory.mktemp("cells")
    made = colours()
    write_palette(Palette("p", made), place / "palette.csv")
    cloths = [Colourway(made[n - 1], [one, made[n - 2]], name=one.name)
              for n, one in enumerate(made)]  # fmt: skip
    analysis.write_colourways(cloths, place / "cloths.csv")
    analysis.score_table(cloths).to_csv(place / "table.csv")
    analysis.write_score_table(cloths, place / "scores.csv", progress=False)
    analysis.write_blank_readings(cloths[0], place / "blank.csv")
    kept = ChosenSet(Check("1/4 in", 2), cloths, "=set")
    hand_off(
        kept, None, place / "handed", dpi=72, paper=None, thumbnails=None, plates="colours",
        cloth=("4 in", "4 in"), sett="20 per in",
    )  # fmt: skip
    return place


def test_no_file_holds_a_formula(folder):
    files = sorted(folder.rglob("*.csv"))
    assert len({re.sub(r".*?(warp|weft|yarn|plates|thread-plan)?\.csv", r"\1", f.name)
                for f in files}) >= 5  # fmt: skip
    assert len(files) > 5 * len(NAMES)
    names = 0
    for file in files:
        with file.open(encoding="utf-8", newline="") as stream:
            for row in csv.reader(stream, strict=True):
                for cell in row:
                    assert is_number(cell) or not cell.startswith(BEGINS), f"{file.name}: {cell}"
                    names += unsafe_cell(cell) in NAMES
    assert names > 100, "the names do stand in them"


def test_the_names_come_back(folder):
    assert [one.name for one in read_palette(folder / "palette.csv")] == NAMES
    assert [one.note for one in read_palette(folder / "palette.csv")] == NAMES
    cloths = analysis.read_colourways(folder / "cloths.csv")
    assert [one.name for one in cloths] == NAMES
    with (folder / "table.csv").open(encoding="utf-8", newline="") as stream:
        assert [unsafe_cell(row["name"]) for row in csv.DictReader(stream)] == NAMES


def test_whoever_writes_csv_uses_safe_cell():
    """A new writer cannot be forgotten: there are two, and both call safe_cell."""
    writers = []
    for file in sorted(KIT.rglob("*.py")):
        tree = ast.parse(file.read_text("utf-8"))
        called = {ast.unparse(node.func) for node in ast.walk(tree) if isinstance(node, ast.Call)}
        if {"csv.writer", "csv.DictWriter"} & called:
            writers.append(file.name)
            assert "safe_cell" in called, file.name
    # All others go through the first; the second streams a line at a time.
    assert writers == ["csv_rows.py", "table.py"]
