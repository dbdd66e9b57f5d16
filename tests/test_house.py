"""The house stands as DEVELOPERS.md draws it: who imports whom, what lies where, what stays light.

The checks are plain functions over a folder, so that the last tests of this file can show them
a house with each fault and see that it is found.
"""

from __future__ import annotations

import importlib.util
import os
import re
import subprocess
import sys
from pathlib import Path

import nbformat
import pytest

ROOT = Path(__file__).resolve().parents[1]
# A script beside this file; tests/ is no package, and not on the path.
_spec = importlib.util.spec_from_file_location("draw_imports", ROOT / "tests" / "draw_imports.py")
house = importlib.util.module_from_spec(_spec)
_spec.loader.exec_module(house)
KIT = ROOT / "kit" / "checkcloth"
WIDGETS = frozenset({"ipywidgets", "anywidget"})
HEAVY = frozenset(
    {"matplotlib", "ipywidgets", "anywidget", "jupyterlab", "PIL", "reportlab", "IPython"}
)
TOP_LEVEL = frozenset(
    {"README.md", "DEVELOPERS.md", "pyproject.toml", "kit", "notebooks", "tests", "palettes"}
)
MODULE_LINES = 300
PAGE_LINES = 250
VIEW = "application/vnd.jupyter.widget-view+json"


def import_faults(kit: Path) -> list[str]:
    """Return every import that runs against the direction, or takes widgets out of the desk."""
    faults = []
    for module in sorted(kit.rglob("*.py")):
        inside = module.relative_to(kit)
        room = inside.parts[0] if len(inside.parts) > 1 else None
        for line, name in house.imported_names(module, kit):
            where = f"{inside.as_posix()}:{line} imports {name}"
            top, _, rest = name.partition(".")
            if top in WIDGETS and room != "desk":
                faults.append(f"{where}: only desk may")
            if top != "checkcloth" or inside.parts == ("__init__.py",):
                continue  # the package root gathers the public names from every room
            target = rest.split(".")[0]
            if target == house.SHARED:
                continue
            if room not in house.ROOMS:
                faults.append(f"{where}: {inside} stands under every room")
            elif target not in house.ROOMS[house.ROOMS.index(room) :]:
                faults.append(f"{where}: {room} may not import {target or 'the package root'}")
    return faults


def long_modules(kit: Path) -> list[str]:
    """Return the files that are too long; those of the page are held shorter than modules."""
    most = {".py": MODULE_LINES, ".js": PAGE_LINES, ".css": PAGE_LINES}
    found = sorted(path for path in kit.rglob("*") if path.suffix in most)
    lengths = {path: len(path.read_text("utf-8").splitlines()) for path in found}
    return [
        f"{path.relative_to(kit)}: {lines} lines"
        for path, lines in lengths.items()
        if lines >= most[path.suffix]
    ]


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


@pytest.mark.parametrize("room", house.ROOMS)
def test_room_stands(room):
    assert (KIT / room / "__init__.py").is_file()
    assert len(list((KIT / room).glob("*.py"))) > 1, f"{room} is empty"


def test_no_room_but_these():
    found = {path.parent.name for path in KIT.glob("*/__init__.py")}
    assert found == set(house.ROOMS)


def test_imports_run_one_way():
    assert import_faults(KIT) == []


def test_the_drawing_is_what_is_built():
    page = (ROOT / "DEVELOPERS.md").read_text("utf-8")
    assert f"```\n{house.drawing(KIT)}```" in page, "python tests/draw_imports.py --write"


def test_no_modules_import_each_other():
    assert house.cycles(house.import_graph(KIT)) == []


def test_every_module_is_asked_for():
    """By another module, or else by name in a notebook: a way in."""
    notebooks = [path.read_text("utf-8") for path in (ROOT / "notebooks").glob("*.ipynb")]
    ways_in = set(re.findall(r"from checkcloth\.([\w.]+) import (\w*)", "".join(notebooks)))
    named = {room for room, _ in ways_in} | {f"{room}.{name}" for room, name in ways_in}
    assert [name for name in house.unasked(house.import_graph(KIT)) if name not in named] == []


def test_every_module_has_a_tie_in_its_room():
    """On the ground floor tools stand side by side. The others that do, and why: how threads
    cross is cloth, though no check needs it; the strength bench is a notebook's only widget."""
    found = [name for name in house.alone(house.import_graph(KIT)) if not name.startswith("base.")]
    assert found == ["cloth.weave", "desk.bench"]


def test_modules_are_short():
    assert long_modules(KIT) == []


def test_every_script_and_style_of_the_page_is_used():
    """A script is joined into the desk's own; all else is named by the module that reads it."""
    from checkcloth.desk.wall import page_script

    page = [p for p in (KIT / "desk" / "page").iterdir() if p.suffix in (".js", ".css")]
    joined = page_script()
    named = "".join(path.read_text("utf-8") for path in (KIT / "desk").glob("*.py"))
    used = [p for p in page if f'"{p.name}"' in named or p.read_text("utf-8") in joined]
    assert len(page) > 5
    assert sorted(set(page) - set(used)) == []


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


@pytest.mark.parametrize(
    ("module", "line", "fault"),
    [
        ("colour/spaces.py", "from checkcloth.cloth import check", "colour may not import cloth"),
        ("colour/spaces.py", "from ..cloth.check import Check", "colour may not import cloth"),
        (
            "cloth/check.py",
            "def f():\n    import checkcloth.search",
            "may not import explore",
        ),
        ("explore/search.py", "from .. import output", "explore may not import output"),
        ("output/raster.py", "import checkcloth", "output may not import the package root"),
        ("output/raster.py", "from checkcloth import Check", "output may not import Check"),
        ("output/raster.py", "def f():\n    import ipywidgets as w", "only desk may"),
        ("base/files.py", "from checkcloth.colour import spaces", "base may not import colour"),
        ("errors.py", "from checkcloth.colour import spaces", "stands under every room"),
    ],
)
def test_a_wrong_import_is_found(tmp_path, module, line, fault):
    write_module(tmp_path, module, line)
    assert [found for found in import_faults(tmp_path) if fault in found]


@pytest.mark.parametrize(
    ("module", "line"),
    [
        ("desk/wall.py", "import anywidget\nfrom ..output import raster\nfrom . import sliders"),
        ("output/raster.py", "from checkcloth.cloth.check import Check\nimport numpy"),
        ("cloth/check.py", "from ..errors import shown\nfrom ..colour.spaces import x"),
        ("colour/spaces.py", "from checkcloth import errors\nfrom ..base.files import read_text"),
        ("__init__.py", "from checkcloth.desk import wall\nfrom .cloth import check"),
    ],
)
def test_a_right_import_is_let_through(tmp_path, module, line):
    write_module(tmp_path, module, line)
    assert import_faults(tmp_path) == []


def write_module(kit: Path, module: str, text: str) -> None:
    (kit / module).parent.mkdir(exist_ok=True)
    (kit / module).write_text(text, "utf-8")


def test_a_ring_a_loner_and_a_leftover_are_found(tmp_path):
    lines = {
        "cloth/__init__.py": "",
        "cloth/check.py": "def f():\n    from checkcloth.cloth import length",
        "cloth/length.py": "from ..cloth.check import Check\nfrom checkcloth.errors import shown",
        "cloth/weave.py": "if TYPE_CHECKING:\n    from checkcloth.cloth.check import Check",
        "output/raster.py": "from checkcloth.cloth.threads import up",
        "errors.py": "",
    }
    for module, text in lines.items():
        write_module(tmp_path, module, text)
    graph = house.import_graph(tmp_path)
    assert house.cycles(graph) == [["cloth.check", "cloth.length"]]
    assert house.alone(graph) == ["cloth.weave", "output.raster"]
    assert house.unasked(graph) == ["output.raster"]
    assert house.drawing(tmp_path) == "output            → cloth\ncloth\n"


def test_a_long_module_is_found(tmp_path):
    write_module(tmp_path, "short.py", "x = 1\n" * (MODULE_LINES - 1))
    write_module(tmp_path, "long.py", "x = 1\n" * MODULE_LINES)
    write_module(tmp_path, "page/short.js", "x();\n" * (PAGE_LINES - 1))
    write_module(tmp_path, "page/long.css", "a {}\n" * PAGE_LINES)
    assert long_modules(tmp_path) == ["long.py: 300 lines", "page/long.css: 250 lines"]


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
