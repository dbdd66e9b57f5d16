"""CSV: what is written comes back by any separator; every fault names its line and its field."""

from __future__ import annotations

import csv
import io

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checkcloth.errors import FileFormatError
from checkcloth.files.csv_rows import Row, as_value, csv_text, read_rows, rows_of

cells = st.text(st.characters(exclude_categories=["Cc", "Cs", "Cn"]), max_size=12).map(str.strip)


@given(st.lists(st.tuples(cells, cells), min_size=1, max_size=6))
def test_what_is_written_is_read_again(rows):
    text = csv_text(("name", "note"), rows)
    found = list(rows_of(io.StringIO(text, newline=""), "a.csv", empty="rows"))[1:]
    assert [(row.cells.get("name", ""), row.cells.get("note", "")) for row in found] == [
        row for row in rows if any(row)
    ]


@given(st.lists(cells, min_size=1, max_size=5))
def test_no_cell_begins_a_formula_for_whoever_reads_it(row):
    """As the csv module of the standard library reads it."""
    (read,) = csv.reader(io.StringIO(csv_text((), [row]), newline=""))
    assert not any(cell.startswith(("=", "+", "-", "@")) for cell in read)


@pytest.mark.parametrize("mark", [",", ";", "\t"])
def test_separators_of_spreadsheets_are_found_from_the_header(mark):
    lines = ["\n", f"Name{mark} Colour {mark}\n", "\n", f"A{mark}#fff{mark}\n"]
    header, row = rows_of(lines, "a.csv", empty="rows")
    assert header.cells == {"name": "Name", "colour": "Colour"}
    assert (row.cells, row.line) == ({"name": "A", "colour": "#fff"}, 4)
    assert row.decimal_comma == (mark != ",")


@pytest.mark.parametrize(
    ("raw", "argument", "line"),
    [
        (b"", "file", None),
        (b"\n , \n", "file", None),
        (b"a,b,a\n", "header", 1),
        (b"a,b\n1,2\n1,2,3\n", "row", 3),
        (b'a,b\n1,"2\n', "file", 2),
        (b"\xff\xfea,b", "file", 1),
        (b"a,b\n\n1,\xe9\n", "file", 3),
        (b"a,b\n1,\0\n", "file", 2),
        (b"a" * (1 << 20) + b"aa", "line", 1),
    ],
)
def test_faults_name_what_and_where(tmp_path, raw, argument, line):
    path = tmp_path / "a.csv"
    path.write_bytes(raw)
    with pytest.raises(FileFormatError) as caught:
        list(read_rows(path, empty="rows"))
    assert (caught.value.argument, caught.value.line) == (argument, line)
    assert str(caught.value).startswith("a.csv")


def test_rows_that_are_too_long_may_be_passed_over():
    faults: list[FileFormatError] = []
    rows = list(rows_of(["a,b\n", "1,2,3\n", "4,5\n"], "a.csv", empty="rows", faults=faults))
    assert [row.line for row in rows] == [1, 3]
    assert [fault.line for fault in faults] == [2]


def test_a_header_of_very_many_columns_is_read_soon():
    header = ",".join(f"c{n}" for n in range(100_000))
    assert len(next(rows_of([header], "a.csv", empty="rows")).cells) == 100_000


@pytest.mark.parametrize(
    ("text", "value"),
    [("92.5", 92.5), ("92,5", 92.5), ("−0.5", -0.5), ("50 %", 0.5), (" 1e1 ", 10.0)],
)
def test_numbers_as_people_write_them(text, value):
    row = Row({"x": text.strip()}, 2, "a.csv", decimal_comma=True)
    assert as_value(row, "x", -1, 100, percent="%" in text) == value


@pytest.mark.parametrize("text", ["", "1_0", "nan", "inf", "101", "5 mm", "one", "1,2,3"])
def test_what_is_no_number_of_the_range_is_refused_by_its_column(text):
    row = Row({"x": text} if text else {}, 7, "a.csv", decimal_comma=True)
    with pytest.raises(FileFormatError) as caught:
        as_value(row, "x", 0, 100)
    assert (caught.value.argument, caught.value.line) == ("x", 7)
