"""JSON that someone may have touched: every field is read or named, by its path."""

from __future__ import annotations

import pytest

from checkcloth.errors import ArgumentError, FileFormatError
from checkcloth.files.json_reader import JsonReader, parse_json


def _inner(reader: JsonReader) -> float:
    number = reader.number("size")
    reader.done()
    if number < 0:
        raise ArgumentError("size", "0 or more", number)
    return number


def _read(text: str) -> list[float]:
    reader = parse_json(text, "a.json")
    values = reader.read_each("parts", _inner)
    reader.done()
    return values


def test_what_is_right_is_read():
    assert _read('\ufeff{"parts": [{"size": 1}, {"size": 2.5}]}') == [1.0, 2.5]


@pytest.mark.parametrize(
    ("text", "where", "argument"),
    [
        ("[]", "", "the whole file"),
        ('{"parts": {}}', "", "parts"),
        ('{"parts": [{"size": "x"}]}', "", "parts[0].size"),
        ('{"parts": [{}]}', "", "parts[0].size"),
        ('{"parts": [{"size": 1}, {"size": true}]}', "", "parts[1].size"),
        ('{"parts": [{"size": 1, "colour": 2}]}', "", "parts[0].colour"),
        ('{"parts": [{"size": -1}]}', "parts[0]", "size"),
        ('{"parts": [{"size": 1e999}]}', "", "parts[0].size"),
        ('{"parts": [], "extra": 1}', "", "extra"),
        ('{"parts": [], "two\\nlines": 1}', "", r"'two\nlines'"),
        ('{"parts": [], "parts": []}', "", "name"),
        ('{"parts": \n[}', "line 2", "file"),
        ("[" * 100_000, "", "file"),
        ('{"parts": [{"size": ' + "9" * 5000 + "}]}", "", "file"),
    ],
)
def test_faults_name_the_path_of_the_field(text, where, argument):
    with pytest.raises(FileFormatError) as caught:
        _read(text)
    assert caught.value.argument == argument
    assert str(caught.value).startswith("a.json")
    assert where in str(caught.value)
    assert "\n" not in str(caught.value)


@pytest.mark.parametrize(
    ("text", "argument"),
    [('{"format": "b", "version": 1}', "format"), ('{"format": "a", "version": 3}', "version"),
     ('{"format": "a", "version": 0}', "version"), ('{"version": 1}', "format")],
)  # fmt: skip
def test_other_kinds_and_newer_versions_are_refused(text, argument):
    with pytest.raises(FileFormatError) as caught:
        parse_json(text, "a.json").check_kind("a", 2)
    assert caught.value.argument == argument
    parse_json('{"format": "a", "version": 2}', "a.json").check_kind("a", 2)
