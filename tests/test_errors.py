"""Errors as people at a notebook see them."""

from __future__ import annotations

import pytest
from IPython.core.interactiveshell import InteractiveShell

from checkcloth.errors import CheckclothError


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
