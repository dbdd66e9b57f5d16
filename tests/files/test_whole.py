"""Files are there whole or not at all, and no cell is a formula."""

from __future__ import annotations

import os

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checkcloth.errors import ExistsError, FileFormatError
from checkcloth.files.whole import read_text, safe_cell, unsafe_cell, write_whole


def test_refuses_to_replace(tmp_path):
    file = tmp_path / "a.txt"
    write_whole(file, b"one")
    with pytest.raises(ExistsError, match=r"a\.txt"):
        write_whole(file, b"two")
    assert file.read_bytes() == b"one"
    write_whole(file, b"two", overwrite=True)
    assert file.read_bytes() == b"two"
    assert os.listdir(tmp_path) == ["a.txt"]


def test_a_failed_write_leaves_the_old_file_and_nothing_beside(tmp_path, monkeypatch):
    file = tmp_path / "a.txt"
    write_whole(file, b"one")

    def full(descriptor):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(OSError, match="No space"):
        write_whole(file, b"two", overwrite=True)
    assert file.read_bytes() == b"one"
    assert os.listdir(tmp_path) == ["a.txt"]


def test_a_missing_folder_is_said(tmp_path):
    with pytest.raises(FileNotFoundError):
        write_whole(tmp_path / "none" / "a.txt", b"")


def test_a_folder_is_not_replaced(tmp_path):
    with pytest.raises(ExistsError):
        write_whole(tmp_path, b"", overwrite=True)


def test_reading_has_a_limit_and_names_the_line(tmp_path):
    file = tmp_path / "a.txt"
    file.write_bytes(b"x" * 11)
    assert read_text(file, 11) == "x" * 11
    with pytest.raises(FileFormatError, match="at most 10 bytes"):
        read_text(file, 10)
    file.write_bytes(b"one\ntwo\xff")
    with pytest.raises(FileFormatError, match="line 2: must be UTF-8"):
        read_text(file, 100)
    with pytest.raises(FileFormatError, match="must be a file"):
        read_text(tmp_path, 100)


@given(st.text())
def test_cells_come_back(text):
    assert unsafe_cell(safe_cell(text)) == text


@given(st.sampled_from("=+-@\t\r"), st.text())
def test_no_cell_starts_a_formula(start, text):
    """OWASP, "CSV Injection": cells must not begin with = + - @, tab or carriage return."""
    assert safe_cell(start + text)[0] == "'"
