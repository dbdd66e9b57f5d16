"""File names from names that people type."""

from __future__ import annotations

import sys
from pathlib import PurePosixPath, PureWindowsPath

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checkcloth.files.names import LONGEST_STEM, file_stems, safe_stem

typed = st.text(max_size=320)


@pytest.mark.parametrize(
    ("name", "stem"),
    [
        ("Quay Street", "Quay-Street"),
        ("../../etc/passwd", "etc-passwd"),
        ("<script>alert(1)</script>", "script-alert-1-script"),
        ("=cmd|' /C calc'!A0", "cmd-C-calc-A0"),
        (".hidden", "hidden"),
        ("NUL", "NUL-cloth"),
        ("com1", "com1-cloth"),
        ("🍓 jam", "strawberry-jam"),
        ("Crème brûlée", "Crème-brûlée"),
        ("C:\\boot", "C-boot"),
        ("  ", "colourway"),
        ("???", "colourway"),
    ],
)
def test_names_become_safe_and_stay_readable(name, stem):
    assert safe_stem(name) == stem


@given(typed)
def test_a_stem_is_one_harmless_part_of_a_path(name):
    stem = safe_stem(name)
    assert 0 < len(stem) <= LONGEST_STEM + len("-cloth")
    assert len(f"{stem}-tile-1200dpi.png".encode()) < 255
    assert not stem.startswith((".", "-", "~"))
    assert not set(stem) & set('/\\:*?"<>|.\0 ')
    assert PurePosixPath(stem).name == stem == PureWindowsPath(stem).name
    assert safe_stem(stem) == stem


@given(st.lists(typed, max_size=12))
def test_no_two_stems_are_alike_even_without_capitals(names):
    stems = file_stems(names)
    assert len(stems) == len(names)
    assert len({stem.casefold() for stem in stems}) == len(stems)
    assert file_stems(names) == stems


def test_two_alike_get_a_number():
    assert file_stems(["Quay", "Quay", "QUAY"]) == ["Quay", "Quay-2", "QUAY-3"]
    long = "x" * 300
    assert [len(stem) for stem in file_stems([long, long])] == [LONGEST_STEM, LONGEST_STEM]


def test_letters_that_no_file_can_have_here_become_hyphens(monkeypatch):
    """Where names of files are in Latin-1; seen failing: an export ended in a UnicodeError."""
    monkeypatch.setattr(sys, "getfilesystemencoding", lambda: "latin-1")
    assert safe_stem("Café 字 ½") == "Café-1-2"
    assert safe_stem("字紙") == "colourway"
    assert file_stems(["字", "紙", "🍓"]) == ["colourway", "colourway-2", "strawberry"]
