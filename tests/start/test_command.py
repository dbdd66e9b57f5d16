"""``checkcloth start`` as it is typed: what it says, what it lays, what it opens."""

from __future__ import annotations

import os
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

from checkcloth.start import command
from checkcloth.start.command import FOLDER, lab_command, main

# It calls pyparsing by names that pyparsing has since renamed: its own affair.
OLDER_MATPLOTLIB = "ignore::DeprecationWarning:matplotlib._fontconfig_pattern"
ROOT = Path(__file__).resolve().parents[2]


def test_the_command_is_what_the_package_installs():
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    assert project["scripts"] == {"checkcloth": "checkcloth.start.command:main"}


def test_without_a_folder_a_new_one_is_made_here(tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    assert main(["start", "--no-open"]) == 0
    assert (tmp_path / FOLDER / "notebooks" / "explore.ipynb").is_file()
    said = capsys.readouterr().out
    assert f"checkcloth start {FOLDER}" in said
    # A folder of the package's own name would be in the way of importing it.
    assert FOLDER != "checkcloth"


def test_jupyterlab_is_opened_on_the_main_notebook_and_told_the_rest(tmp_path, monkeypatch):
    ran = []
    monkeypatch.setattr(command, "_run", lambda line: ran.append(line) or 7)
    assert main(["start", str(tmp_path / "gingham"), "--", "--allow-root", "--no-browser"]) == 7
    assert ran == [lab_command(tmp_path / "gingham", ["--allow-root", "--no-browser"])]
    assert ran[0][-1] == str(tmp_path / "gingham" / "notebooks" / "explore.ipynb")
    (settings,) = (arg.partition("=")[2] for arg in ran[0] if "app_settings_dir" in arg)
    assert "fetchNews" in (Path(settings) / "overrides.json").read_text()


def test_a_fault_is_one_line_and_a_status(tmp_path, capsys):
    file = tmp_path / "file"
    file.write_text("")
    assert main(["start", str(file), "--no-open"]) == 1
    assert capsys.readouterr().err.startswith("checkcloth: folder must be a folder, found a file")


def test_without_jupyterlab_it_names_the_line_and_lays_nothing(tmp_path, monkeypatch, capsys):
    monkeypatch.setattr("checkcloth.needs.find_spec", lambda module: None)
    assert main(["start", str(tmp_path / "new")]) == 1
    assert 'pip install "checkcloth[lab]"' in capsys.readouterr().err
    assert not (tmp_path / "new").exists()


def test_a_home_that_cannot_be_written_to_is_one_line(tmp_path, monkeypatch, capsys):
    """Seen failing: JupyterLab's own tracebacks, five of them, and no word of what to do."""
    file = tmp_path / "file"
    file.write_text("")
    monkeypatch.setenv("JUPYTER_RUNTIME_DIR", str(file / "runtime"))
    monkeypatch.setattr(command, "_run", lambda line: 1 / 0)
    assert main(["start", str(tmp_path / "new")]) == 1
    said = capsys.readouterr().err
    assert said.startswith("checkcloth: home must be where JupyterLab may write, found")
    assert "HOME=" in said
    assert not (tmp_path / "new").exists()
    assert main(["start", str(tmp_path / "new"), "--no-open"]) == 0


@pytest.mark.parametrize("arguments", [[], ["begin"], ["start", "--nope"], ["start", "a", "b"]])
def test_what_is_no_command_is_refused(arguments, capsys):
    with pytest.raises(SystemExit) as caught:
        main(arguments)
    assert caught.value.code == 2
    assert "usage: checkcloth" in capsys.readouterr().err


def test_it_becomes_jupyterlab(tmp_path):
    """In a process of its own: what is run is this Python's JupyterLab, in place of the command."""
    code = (
        "import os, sys; from checkcloth.start import command;"
        "os.execv = lambda program, line: print(program == sys.executable, *line[1:3]) or 0;"
        "command.subprocess.run = os.execv;"
        f"command.main(['start', {str(tmp_path / 'a b')!r}])"
    )
    done = subprocess.run(
        [sys.executable, "-W", "error", "-W", OLDER_MATPLOTLIB, "-c", code],
        env=os.environ | {"PYTHONPATH": str(ROOT / "kit")},
        cwd=tmp_path,
        capture_output=True,
        text=True,
    )
    assert "True -m jupyterlab" in done.stdout, done.stderr
