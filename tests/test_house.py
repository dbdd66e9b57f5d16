"""The house stands as DEVELOPERS.md draws it: direction, light import, what lies at the top.

Which room may import which, and that there are no circles, are import-linter's contracts in
pyproject.toml; here they are run, so that the README's test command holds them too.
"""

from __future__ import annotations

import importlib.util
import os
import subprocess
import sys
from pathlib import Path

import nbformat
from importlinter.cli import lint_imports

ROOT = Path(__file__).resolve().parents[1]
# A script beside this file; tests/ is no package, and not on the path.
_spec = importlib.util.spec_from_file_location("draw_imports", ROOT / "tests" / "draw_imports.py")
house = importlib.util.module_from_spec(_spec)
_spec.loader.exec_module(house)
KIT = ROOT / "kit" / "checkcloth"
HEAVY = frozenset(
    {"matplotlib", "ipywidgets", "anywidget", "jupyterlab", "PIL", "reportlab", "IPython"}
)
TOP_LEVEL = frozenset(
    {"README.md", "DEVELOPERS.md", "pyproject.toml", "kit", "notebooks", "tests", "palettes"}
)
MOST_FILES = 13  # modules in a room beside its __init__; a room with more has sub-rooms
VIEW = "application/vnd.jupyter.widget-view+json"


def crowded_rooms(kit: Path) -> list[str]:
    """Return the folders that hold more modules than can be looked over."""
    counts = {
        room: len([path for path in room.glob("*.py") if path.name != "__init__.py"])
        for room in {path.parent for path in kit.rglob("*.py")}
    }
    return sorted(f"{room.name}: {count}" for room, count in counts.items() if count > MOST_FILES)


def project_files(root: Path) -> list[Path]:
    """Return the tracked files; where there is no git checkout, what lies in the folder."""
    command = ["git", "-C", str(root), "ls-files", "-z", "--full-name", ":/"]
    try:
        done = subprocess.run(command, capture_output=True, check=True, text=True)
    except (OSError, subprocess.CalledProcessError):
        done = None
    tracked = [Path(name) for name in done.stdout.split("\0") if name] if done else []
    if Path("pyproject.toml") in tracked:
        return tracked
    return [path.relative_to(root) for path in root.iterdir() if path.name not in {"build", "dist"}]


def notebook_faults(path: Path) -> list[str]:
    notebook = nbformat.read(path, as_version=4)
    faults = []
    if notebook.metadata.get("kernelspec", {}).get("name") != "python3":
        faults.append("names no python3 kernel, so JupyterLab would ask for one")
    if "widgets" in notebook.metadata:
        faults.append("carries saved widget state in metadata.widgets")
    for index, cell in enumerate(notebook.cells):
        if any(output.output_type == "error" for output in cell.get("outputs", ())):
            faults.append(f"cell {index} was saved with an error")
        if any(VIEW in output.get("data", ()) for output in cell.get("outputs", ())):
            # Without a kernel JupyterLab would show that, in vain, and not the picture beside it.
            faults.append(f"cell {index} was saved with the view of a widget")
    return [f"{path.name}: {fault}" for fault in faults]


def test_imports_run_one_way_and_without_circles(capsys, monkeypatch):
    monkeypatch.chdir(ROOT)
    monkeypatch.syspath_prepend(str(ROOT / "kit"))
    assert lint_imports(no_cache=True) == 0, capsys.readouterr().out


def test_the_drawing_is_what_is_built():
    page = (ROOT / "DEVELOPERS.md").read_text("utf-8")
    assert f"```\n{house.drawing()}```" in page, "python tests/draw_imports.py --write"


def test_rooms_are_not_crowded():
    assert crowded_rooms(KIT) == []


def test_top_level_names():
    names = {path.parts[0] for path in project_files(ROOT)}
    assert {name for name in names if not name.startswith(".")} == TOP_LEVEL


def test_no_file_over_one_mebibyte():
    big = [
        str(p)
        for p in project_files(ROOT)
        if (f := ROOT / p).is_file() and f.stat().st_size > 2**20
    ]
    assert big == []


def test_import_is_light(tmp_path):
    code = (
        "import sys, checkcloth; print(checkcloth.__file__);"
        f"print(*sorted({set(HEAVY)!r} & set(sys.modules)))"
    )
    environment = os.environ | {"PYTHONPATH": str(KIT.parent)}
    done = subprocess.run(
        [sys.executable, "-c", code], cwd=tmp_path, env=environment, capture_output=True, text=True
    )
    assert done.returncode == 0, done.stderr
    where, loaded = done.stdout.splitlines()
    assert Path(where).samefile(KIT / "__init__.py")
    assert loaded.split() == []


def test_notebooks_open_without_a_question():
    notebooks = sorted((ROOT / "notebooks").glob("*.ipynb"))
    assert "explore.ipynb" in {path.name for path in notebooks}
    assert [fault for path in notebooks for fault in notebook_faults(path)] == []


# -- the checks find what they are for -----------------------------------------------------------


def test_a_crowded_room_is_found(tmp_path):
    (tmp_path / "room").mkdir()
    for number in range(MOST_FILES + 1):
        (tmp_path / "room" / f"m{number}.py").write_text("")
    (tmp_path / "room" / "__init__.py").write_text("")
    assert crowded_rooms(tmp_path) == [f"room: {MOST_FILES + 1}"]


def test_a_folder_without_git_is_listed(tmp_path):
    (tmp_path / "stray.txt").write_text("")
    assert project_files(tmp_path) == [Path("stray.txt")]


def test_faults_of_a_notebook_are_found(tmp_path):
    error = nbformat.v4.new_output("error", ename="E", evalue="", traceback=[])
    view = nbformat.v4.new_output("display_data", data={VIEW: {}, "text/html": "<p>"})
    cell = nbformat.v4.new_code_cell("1", outputs=[error, view])
    notebook = nbformat.v4.new_notebook(cells=[cell])
    notebook.metadata["widgets"] = {}
    nbformat.write(notebook, tmp_path / "bad.ipynb")
    assert len(notebook_faults(tmp_path / "bad.ipynb")) == 4
