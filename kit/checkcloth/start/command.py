"""The command line: ``checkcloth start [FOLDER] [--no-open] [-- what JupyterLab is told]``."""

from __future__ import annotations

import argparse
import os
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path

from checkcloth.errors import ArgumentError, CheckclothError
from checkcloth.files.shipped import shipped
from checkcloth.needs import need
from checkcloth.start.copies import lay_copies
from checkcloth.version import VERSION

FOLDER = "checkcloth-notebooks"
NOTEBOOK = "notebooks/explore.ipynb"


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command; return its exit status."""
    given = list(sys.argv[1:] if arguments is None else arguments)
    own, for_lab = given, []
    if "--" in given:
        own, for_lab = given[: given.index("--")], given[given.index("--") + 1 :]
    asked = _parser().parse_args(own)
    try:
        if asked.open:
            need("jupyterlab", "ipywidgets", "anywidget", "matplotlib")
            _check_home()
        laid = lay_copies(asked.folder)
    except CheckclothError as error:
        print(f"checkcloth: {error}", file=sys.stderr)
        return 1
    print(laid, flush=True)
    if not asked.open:
        print(f"To open them: checkcloth start {asked.folder}")
        return 0
    print("Opening JupyterLab; Ctrl+C here ends it.", flush=True)
    return _run(lab_command(laid.folder, for_lab))


def _check_home() -> None:
    """Refuse a home where JupyterLab can note nothing of its run: it would end in a traceback."""
    from jupyter_core.paths import jupyter_runtime_dir

    folder = Path(jupyter_runtime_dir())
    try:
        folder.mkdir(parents=True, exist_ok=True)
        reason = "" if os.access(folder, os.W_OK) else "it may only be read"
    except OSError as error:
        reason = error.strerror or str(error)
    if reason:
        raise ArgumentError(
            "home",
            "where JupyterLab may write",
            words=f"{str(folder)!r}: {reason}",
            hint="; put HOME=FOLDER in front of the command, with a folder where it may",
        )


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="checkcloth",
        description="Design multi-colour gingham in Jupyter notebooks.",
        allow_abbrev=False,
    )
    parser.add_argument("--version", action="version", version=f"checkcloth {VERSION}")
    start = parser.add_subparsers(required=True, metavar="start").add_parser(
        "start",
        help="lay copies of the notebooks and palettes into a folder and open them",
        description="Lay copies of the notebooks and palettes into a folder, never over what "
        "was changed there, and open JupyterLab on the main notebook. "
        "What stands after -- is handed to JupyterLab.",
        allow_abbrev=False,
    )
    start.add_argument(
        "folder", nargs="?", default=FOLDER, help=f"made where there is none; {FOLDER} by default"
    )
    start.add_argument(
        "--no-open", dest="open", action="store_false", help="lay the copies, and no more"
    )
    return parser


def lab_command(folder: Path, more: Sequence[str] = ()) -> list[str]:
    """Return the command that opens JupyterLab on the main notebook of a folder.

    With the kit's answer to JupyterLab's question about news, for this run alone.
    """
    return [
        *(sys.executable, "-m", "jupyterlab", f"--ServerApp.root_dir={folder}"),
        *(f"--LabApp.app_settings_dir={shipped('lab_settings')}", *more),
        str(folder / NOTEBOOK),
    ]


def _run(command: list[str]) -> int:
    """Become JupyterLab, so that Ctrl+C reaches it alone; where that cannot be, wait for it."""
    if os.name == "posix":
        os.execv(command[0], command)
    return subprocess.run(command, check=False).returncode
