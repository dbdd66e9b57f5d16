"""What the README shows is what happens: its Python runs, its picture and its links are there."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
README = (ROOT / "README.md").read_text("utf-8")


def block(mark: str, language: str) -> str:
    found = re.search(rf"<!-- ci: {mark} -->\n```{language}\n(.*?)```", README, re.DOTALL)
    assert found, f"README.md has no {language} block marked <!-- ci: {mark} -->"
    return found[1]


def test_plain_code_runs_in_ten_lines(tmp_path):
    code = block("python", "python")
    assert len([line for line in code.splitlines() if line.strip()]) <= 10
    shutil.copytree(ROOT / "palettes", tmp_path / "palettes")
    environment = os.environ | {"PYTHONPATH": str(ROOT / "kit")}
    done = subprocess.run(
        [sys.executable, "-W", "error", "-c", code],
        cwd=tmp_path,
        env=environment,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    written = [path for path in (tmp_path / "harvest").rglob("*") if path.is_file()]
    kinds = {path.suffix for path in written}
    assert {".svg", ".png", ".csv", ".json"} <= kinds


def test_two_commands_are_one_line_each():
    for mark in ("open", "tests"):
        assert len(block(mark, "sh").strip().splitlines()) == 1


def test_links_and_pictures_are_there():
    targets = re.findall(r"\]\((?!https?:|#)([^)\s]+)\)", README)
    assert targets
    for target in targets:
        assert (ROOT / target.split("#")[0]).exists(), target


def test_pictures_have_alternative_text():
    assert all(len(alt) > 20 for alt in re.findall(r"!\[([^\]]*)\]", README))
