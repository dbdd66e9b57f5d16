"""DEVELOPERS.md shows how to add things: made to a copy of the kit, each change does what it says.

A change is a unified diff without line numbers: the lines that stay must stand in the file once,
one under the other. No git is needed.
"""

from __future__ import annotations

import doctest
import json
import os
import re
import runpy
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]
PAGE = (ROOT / "DEVELOPERS.md").read_text("utf-8")
ask_page = runpy.run_path(str(ROOT / "tests" / "page" / "page_calls.py"))["ask_page"]
RUN = "import doctest, sys; print(doctest.testfile(sys.argv[1], False, encoding='utf-8'))"


def examples(page: str) -> dict[str, tuple[str, str]]:
    """Return the diff and the snippet of every part of the page that has them."""
    found = {}
    for part in re.split(r"^### ", page, flags=re.MULTILINE)[1:]:
        title = part.splitlines()[0]
        diff = re.search(r"^```diff\n(.*?)^```", part, re.DOTALL | re.MULTILINE)
        snippet = re.search(r"^```pycon\n(.*?)^```", part, re.DOTALL | re.MULTILINE)
        if diff and snippet:
            found[title] = (diff[1], snippet[1])
    return found


EXAMPLES = examples(PAGE)


def apply(diff: str, root: Path) -> list[Path]:
    """Make a change under a folder; return the files it wrote."""
    written = []
    for old, new, body in re.findall(
        r"^--- (\S+)\n\+\+\+ (\S+)\n(.*?)(?=^--- |\Z)", diff, re.DOTALL | re.MULTILINE
    ):
        path = root / new
        text = "" if old == "/dev/null" else path.read_text("utf-8")
        for hunk in re.split(r"^@@.*\n", body, flags=re.MULTILINE)[1:]:
            lines = hunk.splitlines(keepends=True)
            before = "".join(line[1:] for line in lines if line[0] != "+")
            after = "".join(line[1:] for line in lines if line[0] != "-")
            places = f"\n{text}".count(f"\n{before}") if before else 1
            assert places == 1, f"{new} has these lines {places} times:\n{before}"
            at = f"\n{text}".index(f"\n{before}") if before else 0
            text = text[:at] + after + text[at + len(before) :]
        path.write_text(text, "utf-8")
        written.append(path)
    assert written
    return written


def run(kit: Path, *command: str) -> subprocess.CompletedProcess[str]:
    environment = os.environ | {"PYTHONPATH": str(kit), "PYTHONUTF8": "1"}
    return subprocess.run(
        [sys.executable, "-W", "error", *command],
        cwd=kit.parent,
        env=environment,
        capture_output=True,
        text=True,
        encoding="utf-8",
        check=False,
    )


@pytest.fixture(scope="module")
def copy_of_kit(tmp_path_factory):
    """Return a function that copies the kit to a folder of its own, with what is compiled of it."""

    def copy() -> Path:
        root = tmp_path_factory.mktemp("copy")
        leave = shutil.ignore_patterns("*.pyc.*")  # what another process is compiling now
        shutil.copytree(ROOT / "kit", root / "kit", ignore=leave)
        return root

    return copy


def test_the_page_shows_each_of_these():
    wanted = {"A mixing", "A score", "An export", "A palette source"}
    assert wanted | {"A kind of band", "A reader of measurements"} <= set(EXAMPLES)


@pytest.mark.parametrize("title", EXAMPLES)
def test_a_change_does_what_the_page_says(title, copy_of_kit):
    diff, snippet = EXAMPLES[title]
    root = copy_of_kit()
    asked = root / "snippet.txt"
    asked.write_text(snippet, "utf-8")
    before = run(root / "kit", "-c", RUN, str(asked))
    assert before.returncode == 0, before.stderr
    assert "failed=0" not in before.stdout, "the snippet shows nothing that the kit cannot do"
    for path in apply(diff, root):
        if path.suffix == ".py":
            compile(path.read_text("utf-8"), path.name, "exec")
    after = run(root / "kit", "-c", RUN, str(asked))
    assert "failed=0" in after.stdout, after.stdout + after.stderr
    assert f"attempted={len(doctest.DocTestParser().get_examples(snippet))}" in after.stdout


def test_the_new_mixing_passes_what_holds_for_every_mixing(copy_of_kit):
    """``tests/cloth/test_mixing.py`` takes its names from ``MIXINGS``.

    Two of its tests know the mixings one by one: one lists them, and one says that warp and
    weft singles are alike, which a warp-faced twill's are not.
    """
    root = copy_of_kit()
    apply(EXAMPLES["A mixing"][0], root)
    tests = ROOT / "tests"
    command = (
        "-m",
        "pytest",
        "-q",
        *("-p", "no:cacheprovider", "-p", "no:nbval"),
        *("-o", "addopts=--import-mode=importlib", "-o", f"pythonpath={root / 'kit'}"),
        "--hypothesis-seed=1",
    )
    known = "not test_each_mixing_says and not test_swapping_warp"
    done = run(root / "kit", *command, "-k", known, str(tests / "cloth" / "test_mixing.py"))
    assert done.returncode == 0, done.stdout
    assert "twill" in run(root / "kit", "-c", "import checkcloth; print(checkcloth.MIXINGS)").stdout


def test_the_new_kind_of_band_is_laid_alike_by_the_page(copy_of_kit):
    root = copy_of_kit()
    apply(EXAMPLES["A kind of band"][0], root)
    orders = root / "kit" / "checkcloth" / "page" / "desk" / "bands" / "orders.js"
    here = os.path.relpath(orders, ROOT / "kit" / "checkcloth" / "page")
    counts = (1, 2, 5)
    found = ask_page([[here, "presetBands", ["tattersall", count]] for count in counts])
    code = (
        "import json; from checkcloth.cloth.bands import preset_bands; print(json.dumps("
        f"[[[s, float(w)] for s, w in preset_bands('tattersall', n)] for n in {counts}]))"
    )
    assert found == json.loads(run(root / "kit", "-c", code).stdout)


def test_a_change_that_no_longer_fits_is_found(tmp_path):
    (tmp_path / "a.py").write_text("x = 1\ny = 2\nxx = 1\n", "utf-8")
    apply("--- a.py\n+++ a.py\n@@\n x = 1\n-y = 2\n+y = 3\n", tmp_path)
    assert (tmp_path / "a.py").read_text("utf-8") == "x = 1\ny = 3\nxx = 1\n"
    with pytest.raises(AssertionError, match="0 times"):
        apply("--- a.py\n+++ a.py\n@@\n z = 1\n+w = 1\n", tmp_path)
