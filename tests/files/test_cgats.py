"""CGATS text as instruments write it, and what is wrong with it otherwise."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from checkcloth.errors import FileFormatError
from checkcloth.files.cgats import cgats_text, parse_cgats, read_cgats

SOUND = """CGATS.17
ORIGINATOR "Quillhaven ""Halt"" tea rooms"   # a comment
KEYWORD "BACKING"
BACKING white
NUMBER_OF_FIELDS 4
BEGIN_DATA_FORMAT
SAMPLE_ID sample_name LAB_L
LAB_A
END_DATA_FORMAT
NUMBER_OF_SETS 2
BEGIN_DATA
1\t"Jug Blue # 2"\t52.5\t-3
2 "" 40,25 .5E1
END_DATA
"""


def test_a_sound_file():
    (table,) = parse_cgats(SOUND)
    assert table.kind == "CGATS.17"
    assert table.keywords["ORIGINATOR"] == 'Quillhaven "Halt" tea rooms'
    assert table.keywords["BACKING"] == "white"
    assert table.fields == ("SAMPLE_ID", "SAMPLE_NAME", "LAB_L", "LAB_A")
    assert table.rows[0][1] == "Jug Blue # 2"
    assert table.numbers("LAB_L") == [52.5, 40.25]
    assert table.numbers("LAB_A") == [-3, 5]
    assert table.lines == (12, 13)


def test_numbers_of_numpy_are_written_as_those_of_python():
    text = cgats_text(["A", "B", "C"], [[np.float64(-0.0), np.float32(52.5), np.int64(3)]])
    assert text.splitlines()[-2] == "0 52.5 3"


def test_two_tables_line_ends_and_code_pages(tmp_path):
    path = tmp_path / "a.txt"
    second = SOUND.split("\n", 1)[1]
    path.write_bytes(("CTI3\n\n" + second + second).replace("Halt", "Café").encode("cp1252"))
    one, two = read_cgats(path)
    assert one.rows == two.rows
    assert "Café" in one.keywords["ORIGINATOR"]
    path.write_bytes(SOUND.replace("\n", "\r\n").encode("utf-8-sig"))
    assert read_cgats(path)[0].rows == one.rows


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("CGATS.17", "", "first line names its kind"),
        ("CGATS.17", "name,colour\nwhite,#fff", "first line names its kind"),
        ('"Jug Blue # 2"', '"Jug Blue', "line 12: line must be of closed quotation marks"),
        ("END_DATA\n", "", "END_DATA, found the end"),
        ("END_DATA_FORMAT", "", "pair up"),
        ("END_DATA_FORMAT", "END_DATA", "pair up"),
        ("LAB_A\n", "LAB_L\n", "each named once"),
        ("LAB_A\n", "LAB_A LAB_B\n", "of 2 sets of 5 values, as the file says, found 8 values"),
        ("NUMBER_OF_SETS 2", "NUMBER_OF_SETS 3", "of 3 sets"),
        ("52.5", "soup", "line 12: LAB_L must be a number, found 'soup'"),
        ("52.5", "nan", "line 12: LAB_L must be a number"),
        ("52.5", "1e30", "up to 1e9"),
        ("LAB_L", "LAB_C", "LAB_L must be among the fields"),
    ],
)
def test_what_is_wrong_is_said(old, new, said):
    with pytest.raises(FileFormatError, match=said):
        parse_cgats(SOUND.replace(old, new), "a.txt")[0].numbers("LAB_L")


def test_no_data_and_too_large(tmp_path):
    with pytest.raises(FileFormatError, match="BEGIN_DATA_FORMAT and BEGIN_DATA, found neither"):
        parse_cgats("CGATS.17\nBACKING white\n")
    with pytest.raises(FileFormatError, match="after BEGIN_DATA_FORMAT"):
        parse_cgats("CGATS.17\nBEGIN_DATA\nEND_DATA\n")
    path = tmp_path / "a.txt"
    path.write_bytes(b"CGATS.17\n" + b"#" * (32 << 20))
    with pytest.raises(FileFormatError, match="at most 33554432 bytes"):
        read_cgats(path)
    with pytest.raises(FileFormatError, match="a file"):
        read_cgats(tmp_path)


texts = st.text(st.characters(codec="utf-8", exclude_categories=("Cc", "Cs", "Z")), max_size=20)
cells = st.one_of(texts, st.integers(-(10**8), 10**8), st.floats(-1e8, 1e8))


@given(st.lists(st.tuples(texts, cells, st.floats(-1e8, 1e8)), min_size=1, max_size=5), texts)
@settings(max_examples=200)
def test_numbers_and_texts_come_back(rows, title):
    text = cgats_text(["SAMPLE_ID", "NOTE", "LAB_L"], rows, {"ORIGINATOR": title})
    (table,) = parse_cgats(text)
    assert table.numbers("LAB_L") == [row[2] for row in rows]
    assert [row[0] for row in table.rows] == [row[0] for row in rows]
    assert table.keywords["ORIGINATOR"] == title
    again = [[a, b, float(c)] for a, b, c in table.rows]
    assert cgats_text(table.fields, again, {"ORIGINATOR": title}).splitlines()[0] == "CGATS.17"
