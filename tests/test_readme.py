"""What the README shows is what happens: its Python runs, its picture and its links are there."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

from checkcloth.colour.ink import expected_error
from checkcloth.colour.reflectance import RECOVERY_ERROR
from checkcloth.colour.spectra.accuracy import recovered_error
from checkcloth.colour.spectra.lights import LIGHTS

# It calls pyparsing by names that pyparsing has since renamed: its own affair.
OLDER_MATPLOTLIB = "ignore::DeprecationWarning:matplotlib._fontconfig_pattern"
ROOT = Path(__file__).resolve().parents[1]
README = (ROOT / "README.md").read_text("utf-8")


def block(mark: str, language: str) -> str:
    found = re.search(rf"<!-- ci: {mark} -->\n```{language}\n(.*?)```", README, re.DOTALL)
    assert found, f"README.md has no {language} block marked <!-- ci: {mark} -->"
    return found[1]


def run(code: str, folder: Path) -> None:
    shutil.copytree(ROOT / "palettes", folder / "palettes")
    environment = os.environ | {"PYTHONPATH": str(ROOT / "kit")}
    done = subprocess.run(
        [sys.executable, "-W", "error", "-W", OLDER_MATPLOTLIB, "-c", code],
        cwd=folder,
        env=environment,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr


def test_plain_code_runs_in_ten_lines(tmp_path):
    code = block("python", "python")
    assert len([line for line in code.splitlines() if line.strip()]) <= 10
    run(code, tmp_path)
    written = [path for path in (tmp_path / "harvest").rglob("*") if path.is_file()]
    kinds = {path.suffix for path in written}
    assert {".svg", ".png", ".csv", ".json"} <= kinds


# Readings that are exactly what was wanted, for the second block to check.
READINGS = """
import csv
from checkcloth import srgb_to_lab
with open("readings.csv", "w", newline="", encoding="utf-8") as stream:
    table = csv.writer(stream)
    table.writerow(["tone", "L*", "a*", "b*", "illuminant", "observer"])
    first = kept.colourways[0]
    side = range(len(first.stripes) + 1)
    for tone, lab in {first.tone_name(i, j): first.tones[i, j] for i in side for j in side}.items():
        table.writerow([tone, *srgb_to_lab(lab).round(2), "D65", "2"])
"""


def python_blocks() -> list[str]:
    return re.findall(r"^```python\n(.*?)^```", README, re.DOTALL | re.MULTILINE)


def test_what_travels_and_what_is_uneven_run_as_shown(tmp_path):
    first, travels, uneven, _ = python_blocks()
    said = "assert [(at, said.answer) for at, said in answers.found] == [(2, 'yes')], answers"
    size = "assert uneven.repeat_words.startswith('2 in (50.8 mm) × 1 1/2 in'), uneven"
    run("\n".join([first, travels, said, uneven, size]), tmp_path)
    for name in ("range.html", "sheet.pdf", "lesson.html", "teacher.html"):
        assert (tmp_path / name).stat().st_size > 10_000, name


def test_search_and_strike_off_run_as_shown(tmp_path):
    first, *_, second = python_blocks()
    shown = "assert len(shortlist) == 24, result"
    *lines, last = second.strip().splitlines()
    checked = f"assert {last}.passed, 'the readings are what was wanted'"
    run("\n".join([first, READINGS, *lines, shown, checked]), tmp_path)


def test_two_commands_are_one_line_each():
    for mark in ("open", "tests"):
        assert len(block(mark, "sh").strip().splitlines()) == 1


def test_estimates_are_as_far_off_as_the_kit_says():
    one, full = expected_error(0.5, 0.5), expected_error(1, 1)
    daylights = max(recovered_error(light) for light in ("D50", "D55", "D65", "D75"))
    shop, lamps = recovered_error("F11"), recovered_error("A")
    most = max(recovered_error(light, 10) for light in LIGHTS)
    said = [
        f"half tints within {expected_error(0.5):g}, their crossings within {one:g}",
        f"full tones' within {full:g}",
        f"19 in 20 mixtures within ΔE00 {RECOVERY_ERROR}",
        f"19 in 20 within ΔE00 {daylights:g} under daylights, {shop:g} under F11, {lamps:g} under "
        f"A; for the 10° observer within {most} under any",
    ]
    assert [words for words in said if words not in README] == []


def test_links_and_pictures_are_there():
    targets = re.findall(r"\]\((?!https?:|#)([^)\s]+)\)", README)
    assert targets
    for target in targets:
        assert (ROOT / target.split("#")[0]).exists(), target


def test_pictures_are_small_and_have_alternative_text():
    pictures = re.findall(r"!\[([^\]]*)\]\(([^)]*)\)", README)
    assert len(pictures) >= 3
    for alt, target in pictures:
        assert len(alt) > 60, target
        assert (ROOT / target).read_bytes()[:4] == b"\x89PNG", target
        assert (ROOT / target).stat().st_size < 200_000, target
