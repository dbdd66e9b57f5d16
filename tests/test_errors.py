"""Errors: what is wrong as fields, one message made of them, and how people see it."""

from __future__ import annotations

import pickle

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from IPython.core.interactiveshell import InteractiveShell

from checkcloth import Check, Colourway, Length, NamedColour, Palette, score
from checkcloth.arguments import as_colours, as_path, as_tuple, as_whole
from checkcloth.errors import (
    ArgumentError,
    CheckclothError,
    ColourError,
    ExistsError,
    FileFormatError,
    LengthError,
    MissingPackageError,
    shown,
)

KINDS = [
    ArgumentError, ColourError, ExistsError, FileFormatError, LengthError, MissingPackageError,
]  # fmt: skip


@pytest.fixture
def shell():
    yield InteractiveShell.instance()
    InteractiveShell.clear_instance()


def test_a_notebook_shows_the_error_and_the_line_of_the_cell_and_no_more(shell, capsys):
    cell = "from checkcloth import Length\n\nsize = Length(\n    '5'\n)"
    assert isinstance(shell.run_cell(cell).error_in_exec, CheckclothError)
    out = capsys.readouterr().out
    assert "LengthError: length must be a length with its unit" in out
    assert "(the unit is missing)" in out
    assert "in line 3 of this cell: size = Length(" in out
    assert "length.py" not in out
    assert len(out.strip().splitlines()) == 2


def test_other_errors_keep_their_traceback(shell, capsys):
    shell.run_cell("1 / 0")
    assert "Traceback" in capsys.readouterr().out


@pytest.mark.parametrize("kind", KINDS)
def test_the_message_is_made_of_the_fields_and_both_survive_another_process(kind):
    error = kind("stripes", "1 to 24", 25, hint="; leave some out", source="a.csv", line=4)
    for same in (error, pickle.loads(pickle.dumps(error))):
        assert isinstance(same, ValueError)
        assert type(same) is kind
        assert (same.argument, same.allowed, same.found) == ("stripes", "1 to 24", 25)
        assert (same.source, same.line) == ("a.csv", 4)
        message = "a.csv, line 4: stripes must be 1 to 24, found 25; leave some out"
        assert str(same) == message


@pytest.mark.parametrize("kind", KINDS)
def test_a_fault_becomes_one_of_a_file_with_all_its_fields(kind):
    error = kind("colour", "a colour", "nvy", hint=" (a typing error?)").at("a.csv", 3)
    assert isinstance(error, FileFormatError)
    assert (error.argument, error.allowed, error.found, error.line) == (
        "colour",
        "a colour",
        "nvy",
        3,
    )
    assert str(error) == "a.csv, line 3: colour must be a colour, found 'nvy' (a typing error?)"


@pytest.mark.parametrize(
    ("call", "argument", "found"),
    [
        (lambda: Check("1 in", 0), "stripes", 0),
        (lambda: Length("7"), "length", "7"),
        (lambda: Colourway("nvy", ["red"]), "colour", "nvy"),
        (lambda: Colourway("navy", ["red"], 2), "strength", None),
        (lambda: Colourway("navy", ["red"], mixing="stirred"), "mixing", "stirred"),
        (lambda: Palette("p", []), "colours", None),
        (lambda: NamedColour("a", (0, 0, 2)), "rgb", (0, 0, 2)),
        (lambda: score([]), "colourways", None),
        (lambda: as_path(3), "path", 3),
        (lambda: as_whole(2.5, "n", 1, 3), "n", 2.5),
        (lambda: as_tuple([1, "a"], "numbers", int), "numbers", "a"),
        (lambda: as_colours(np.full((2, 3), 128), "rgb"), "rgb", None),
    ],
)
def test_forms_can_find_the_field_by_its_argument(call, argument, found):
    with pytest.raises(CheckclothError) as caught:
        call()
    assert caught.value.argument == argument
    assert caught.value.found == found
    assert caught.value.allowed


@given(st.recursive(st.text() | st.integers() | st.floats() | st.none(), st.lists, max_leaves=50))
def test_whatever_is_found_is_shown_on_one_line(value):
    assert "\n" not in shown(value)
    assert len(shown(value)) <= 60
    assert "\n" not in str(ArgumentError("x", "y", value))


def test_things_too_large_to_show_are_shown_short_and_soon():
    nested = []
    for _ in range(100_000):
        nested = [nested]
    for value in (nested, 10**100_000, ["x"] * 10**7, "x" * 10**7, dict.fromkeys(range(10**6))):
        assert len(shown(value)) <= 60


PUBLIC = [
    Length("1/2 in"), Check("1/2 in", 2), NamedColour.of("navy"), Palette("a", ["navy", "teal"]),
    Colourway("white", ["navy"], name="Quay"), score(Colourway("white", ["navy"])),
    score([Colourway("white", ["navy"])] * 2), score(Colourway("white", ["navy"])).ground_single,
]  # fmt: skip


@pytest.mark.parametrize("thing", PUBLIC, ids=lambda thing: type(thing).__name__)
def test_objects_print_as_one_short_stable_line(thing):
    for text in (str(thing), repr(thing)):
        assert "\n" not in text
        assert len(text) < 200
        assert "0x" not in text
        assert text == text.strip()


@pytest.mark.parametrize("thing", PUBLIC[1:5], ids=lambda thing: type(thing).__name__)
def test_what_has_a_look_shows_it_with_alternative_text(thing):
    html = thing._repr_html_()
    assert '<img alt="' in html
    assert '<img alt=""' not in html


def test_a_fault_of_many_lines_is_said_once():
    first, *others = [
        ArgumentError("light", "stated", words="nothing").at("a.csv", n) for n in range(2, 40)
    ]
    other = ArgumentError("tone", "a name", words="nothing").at("a.csv", 41)
    fault = first.with_others([*others, other])
    assert len(str(fault).splitlines()) == 3
    assert "lines 3, 4, 5, 6, 7 and 32 more: light" in str(fault)
    assert "line 41: tone" in str(fault)
    assert len(fault.others) == 38
