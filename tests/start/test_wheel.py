"""The wheel: what ships is in it, and works from it alone, with and without the extras.

Built without isolation and imported from where it was unpacked: no network, no installation.
That pip installs it into an empty environment is held by .ci/installed.py.
"""

from __future__ import annotations

import os
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

from checkcloth.files.shipped import shipped_files
from checkcloth.needs import EXTRAS
from checkcloth.version import VERSION

# It calls pyparsing by names that pyparsing has since renamed: its own affair.
OLDER_MATPLOTLIB = "ignore::DeprecationWarning:matplotlib._fontconfig_pattern"
ROOT = Path(__file__).resolve().parents[2]
# Makes packages look as if they were not installed.
WITHOUT = """
import sys
class Blocked:
    def find_spec(name, path=None, target=None):
        if name.partition(".")[0] in {blocked!r}:
            raise ModuleNotFoundError(f"No module named {{name!r}}", name=name)
sys.meta_path.insert(0, Blocked)
"""


@pytest.fixture(scope="module")
def wheel(tmp_path_factory):
    folder = tmp_path_factory.mktemp("wheel")
    subprocess.run(
        [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(folder)],
        cwd=ROOT, check=True, capture_output=True,
    )  # fmt: skip
    (path,) = folder.glob("checkcloth-*-py3-none-any.whl")
    return path


@pytest.fixture(scope="module")
def unpacked(wheel, tmp_path_factory):
    folder = tmp_path_factory.mktemp("unpacked")
    zipfile.ZipFile(wheel).extractall(folder)
    return folder


def run(unpacked: Path, code: str, folder: Path, without: tuple[str, ...] = ()) -> str:
    code = WITHOUT.format(blocked=set(without)) + code
    done = subprocess.run(
        [sys.executable, "-W", "error", "-W", OLDER_MATPLOTLIB, "-c", code],
        env=os.environ | {"PYTHONPATH": str(unpacked)},
        cwd=folder,
        capture_output=True,
        text=True,
    )
    assert done.returncode == 0, done.stderr
    return done.stdout


def test_everything_that_ships_is_in_it_and_nothing_else(wheel):
    names = zipfile.ZipFile(wheel).namelist()
    within = "checkcloth/shipped/"
    expected = {
        f"{within}{kind}/{path.as_posix()}"
        for kind in ("notebooks", "palettes")
        for path in shipped_files(kind)
    }
    assert {name for name in names if name.startswith(within)} == expected | {
        f"{within}lab_settings/overrides.json"
    }
    package = (ROOT / "kit" / "checkcloth").rglob("*.py")
    modules = {path.relative_to(ROOT / "kit").as_posix() for path in package}
    assert modules <= set(names)
    assert {name.split("/")[0].rpartition("-")[0] or name.split("/")[0] for name in names} <= {
        "checkcloth", f"checkcloth-{VERSION}.dist",
    } | {name.split("/")[0] for name in names if ".dist-info/" in name}  # fmt: skip


def test_the_desk_opens_on_the_palettes_that_ship(unpacked, tmp_path):
    code = """
import checkcloth, checkcloth.desk
assert checkcloth.__file__.startswith(sys.path[1]), checkcloth.__file__
assert len(checkcloth.palettes()) == 12
desk = checkcloth.desk.open_desk()
assert list(desk.palettes) == list(checkcloth.palettes())
assert desk.palette_files.home.samefile(".")
again = checkcloth.desk.open_desk(checkcloth.palettes(), name="another")
print(len(desk.shown), len(again.shown))
"""
    assert run(unpacked, code, tmp_path).split() == ["48", "48"]
    assert list(tmp_path.iterdir()) == []


def test_copies_are_laid_from_it(unpacked, tmp_path):
    code = "from checkcloth.start.command import main; main(['start', 'here', '--no-open'])"
    run(unpacked, code, tmp_path)
    laid = (tmp_path / "here" / "notebooks" / "explore.ipynb").read_bytes()
    assert laid == (ROOT / "notebooks" / "explore.ipynb").read_bytes()


CORE = """
from checkcloth import *
from checkcloth.ideas import palette_from_photo
from checkcloth.quality import check_strike_off, score_table, write_score_table
from checkcloth.search import Wanted, search
shipped = palettes()
ideas = draw_colourways(shipped["tea-table"], 3, 20, seed=1)
check = Check("1/2 in", 3)
score(ideas), score_table(ideas), write_score_table(ideas, "scores.csv")
tile_png(ideas[0], check, dpi=150), tile_svg(ideas[0], check)
search(Wanted(shipped["tea-table"], 2, strengths=[0.5]))
save_set(ChosenSet(check, ideas[:2]), "set.json")
print(open_set("set.json"))
"""


def test_the_core_needs_none_of_the_extras(unpacked, tmp_path):
    assert "2 colourways" in run(unpacked, CORE, tmp_path, tuple(EXTRAS))


@pytest.mark.parametrize(
    ("without", "extra", "code"),
    [
        ("anywidget", "lab", "from checkcloth.desk import open_desk"),
        ("ipywidgets", "lab", "from checkcloth.desk import search_form"),
        ("anywidget", "lab", "from checkcloth.lesson import lesson; lesson.crossing().widget()"),
        ("matplotlib", "lab", "checkcloth.contact_sheet(one, check)"),
        ("matplotlib", "lab", "checkcloth.hand_off(one, check, 'out', paper=None)"),
        ("matplotlib", "lab", "from checkcloth.export.charts.charts import *; pair_matrix(one)"),
        ("reportlab", "pdf", "checkcloth.hand_off(one, check, 'out')"),
        (
            "reportlab",
            "pdf",
            "from checkcloth.export.paper.report import report; report('t', ['x']).save('a.pdf')",
        ),
        ("reportlab", "pdf", "from checkcloth.export.paper.specification import *;"
         "write_spec_sheet('a.pdf', one, check)"),
        ("tqdm", "lab", "from checkcloth.quality import *; score_table(one, progress=True)"),
        ("pandas", "more", "from checkcloth.quality import *; score_table(one).frame()"),
    ],
)  # fmt: skip
def test_what_is_missing_is_named_with_the_line_to_type(unpacked, tmp_path, without, extra, code):
    script = f"""
import checkcloth
one, check = checkcloth.Colourway("white", ["navy"]), checkcloth.Check("1/2 in", 1)
try:
    exec({code!r})
except checkcloth.CheckclothError as error:
    assert isinstance(error, ImportError)
    print(error.argument, error)
"""
    said = run(unpacked, script, tmp_path, (without,))
    assert said.startswith(f"{without} {without} must be installed")
    assert said.strip().endswith(f'pip install "checkcloth[{extra}]"')
    assert list(tmp_path.iterdir()) == []
