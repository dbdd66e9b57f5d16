"""The lesson as a file, the teacher's page, and the still pictures that survive an export."""

from __future__ import annotations

import base64
import hashlib
import json
import os
import re
import subprocess
import sys
from html import unescape
from html.parser import HTMLParser
from pathlib import Path

import pytest

import checkcloth
from checkcloth import Colourway, Palette, read_palette
from checkcloth.cloth.mixing import MIXINGS
from checkcloth.cloth.named_colour import NamedColour
from checkcloth.errors import ArgumentError, ExistsError
from checkcloth.export.page.one_file import json_in_html, page_policy
from checkcloth.files.shipped import page_text
from checkcloth.lesson import lesson, lesson_page, teacher_page
from checkcloth.lesson.step import MOST_SWATCHES, page_data
from checkcloth.lesson.teacher import NOTES, minutes_of
from checkcloth.lesson.texts import TEXTS

ROOT = Path(__file__).resolve().parents[2]
NOTEBOOK = ROOT / "notebooks" / "mixing.ipynb"


class Parts(HTMLParser):
    """Tags, scripts and styles of an HTML text."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.inside: list[tuple[str, str]] = []
        self._open = ""
        self.feed(text)

    def handle_starttag(self, tag, attrs):
        self.tags.append((tag, dict(attrs)))
        self._open = tag

    def handle_data(self, data):
        if self._open in {"script", "style"}:
            self.inside.append((self._open, data))
            self._open = ""

    def texts(self, tag: str) -> list[str]:
        return [text for found, text in self.inside if found == tag]


def written(tmp_path: Path, *given: object, **named: object) -> str:
    path = lesson_page(tmp_path / "lesson.html", *given, **named)
    assert path == tmp_path / "lesson.html"
    return path.read_text("utf-8")


def test_the_file_runs_its_own_script_and_nothing_else(tmp_path):
    parts = Parts(written(tmp_path))
    (policy,) = (a["content"] for tag, a in parts.tags if a.get("http-equiv"))
    assert "default-src 'none'" in policy
    assert "unsafe" not in policy
    code = parts.texts("script")[-1]
    (style,) = parts.texts("style")
    for text in (code, style):
        digest = base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()
        assert f"'sha256-{digest}'" in policy
    addresses = [
        value
        for tag, attributes in parts.tags
        for name, value in attributes.items()
        if name in {"src", "href", "style", "onclick"} and not (value or "").startswith("data:")
    ]
    assert addresses == []


def test_the_bundle_asks_for_nothing():
    code = page_text("bundles/lesson.js")
    for word in ("fetch(", "XMLHttpRequest", "import(", "WebSocket", "sendBeacon", "eval("):
        assert word not in code
    # The names of XML's spaces are no addresses that anything asks for.
    assert set(re.findall(r"https?://[^\s\"'`]+", code)) == {"http://www.w3.org/2000/svg"}


def test_without_scripts_every_step_stands_still(tmp_path):
    text = written(tmp_path)
    still = text[text.index("<noscript>") : text.index("</noscript>")]
    assert still.count("<img alt=") == 11
    for step in TEXTS.values():
        assert step.title in still


def test_names_with_markup_stay_text(tmp_path):
    nasty = "</script><script>alert(1)</script>"
    cloth = Colourway("white", [NamedColour.of("navy", nasty), "gold"])
    palette = Palette("mine", [NamedColour.of("teal", "<img src=x>"), "gold"])
    text = written(tmp_path, cloth, palette=palette)
    assert "<script>alert" not in text
    assert "<img src=x>" not in text
    data = json.loads(Parts(text).texts("script")[0])
    assert data["steps"][8]["fields"][0][2] == nasty
    assert data["swatches"][0][0] == "<img src=x>"


def test_a_palette_of_ones_own_and_another_size(tmp_path):
    palette = read_palette(ROOT / "palettes" / "tea-table.csv")
    data = json.loads(Parts(written(tmp_path, size="7 mm", palette=palette)).texts("script")[0])
    assert [name for name, _ in data["swatches"]] == [colour.name for colour in palette.colours]
    distance = data["steps"][7]
    assert "7 mm" in distance["question"]
    assert distance["options"]["mm"][distance["options"]["size"]] == 7
    many = page_data(lesson.all_steps(), lesson.SWATCHES * 3)
    assert len(many["swatches"]) == MOST_SWATCHES


def test_nothing_is_overwritten_unasked(tmp_path):
    for write in (lesson_page, teacher_page):
        path = tmp_path / f"{write.__name__}.html"
        path.write_text("mine")
        with pytest.raises(ExistsError):
            write(path)
        assert path.read_text() == "mine"
        write(path, overwrite=True)
        assert path.read_text("utf-8").startswith("<!doctype html>")


@pytest.mark.parametrize("write", [lesson_page, teacher_page])
@pytest.mark.parametrize("path", [3, "", None])
def test_bad_paths_are_named(write, path):
    with pytest.raises(ArgumentError) as caught:
        write(path)
    assert caught.value.argument == "path"


def test_the_same_file_has_the_same_bytes(tmp_path):
    one, two = (lesson_page(tmp_path / name).read_bytes() for name in ("one.html", "two.html"))
    assert one == two
    assert len(one) < 260_000


def test_data_cannot_end_their_script():
    assert "<" not in json_in_html({"a": "</script><!--"})
    assert json.loads(json_in_html({"a": "</script>&\u2028"})) == {"a": "</script>&\u2028"}
    assert "script-src" not in page_policy(None, "p{}")


def test_the_teachers_page(tmp_path):
    text = teacher_page(tmp_path / "teacher.html").read_text("utf-8")
    parts = Parts(text)
    assert [tag for tag, _ in parts.tags].count("section") == 12
    assert "script" not in {tag for tag, _ in parts.tags}
    assert all("style" not in attributes for _, attributes in parts.tags)
    for step in lesson.all_steps():
        assert minutes_of(step.key) > 0
        assert NOTES[step.key].mistakes
    total = sum(minutes_of(key) for key in TEXTS)
    assert f"{total} minutes in all" in text
    assert "not a test" in text


@pytest.mark.parametrize(("said", "number"), [
    # Arithmetic that the teacher's page quotes beside the answers.
    ("1 − 0.5⁷ = 99.2 %", 1 - 0.5**7),
    ("25/49 is 51.02 %", 25 / 49),
    ("try it: 69.75 %", 1 - 0.55**2),
])  # fmt: skip
def test_sums_on_the_teachers_page(tmp_path, said, number):
    text = teacher_page(tmp_path / "teacher.html").read_text("utf-8").replace("\u00a0", " ")
    assert said in text
    assert float(re.findall(r"[\d.]+(?= %)", said)[-1]) == pytest.approx(100 * number, abs=0.051)


def test_the_teachers_answers_are_those_of_the_pupils_page(tmp_path):
    """Given what the lesson was given, every answer is worked out for it."""
    own = Colourway("ivory", ["teal", "coral"], 0.6, "woven", name="Harbour")
    path = teacher_page(tmp_path / "teacher.html", own, size="7 mm")
    text = unescape(path.read_text("utf-8")).replace("\u00a0", " ")
    for step in lesson.all_steps(own, "7 mm"):
        assert step.answer()[1:] in text, step.key
    assert lesson.side_by_side().answer()[1:] not in text
    assert "Harbour" in text
    assert "7 mm" in text
    # A number never leaves its sign behind at the end of a line.
    assert not re.search(r"\d %", path.read_text("utf-8"))


def test_the_lesson_says_why_ink_is_not_among_its_ways(tmp_path):
    left_out = [name for name in MIXINGS if name not in lesson.WAYS]
    assert left_out == ["ink"]
    assert "A sixth, {ink}" in TEXTS["side_by_side"].words
    with pytest.raises(ArgumentError) as caught:
        lesson_page(tmp_path / "lesson.html", Colourway("white", ["teal"], 0.5, "ink"))
    assert caught.value.argument == "colourway"


# -- the notebook and its export ------------------------------------------------------------------


def stills_of(html: str) -> list[str]:
    """Alternative texts of the still pictures."""
    return re.findall(r'<div class="checkcloth-still">.*?<img alt="([^"]+)"', html, re.DOTALL)


def test_figures_as_plain_text_stand_under_their_headings():
    lines = str(lesson.thread_shares()).splitlines()
    assert len(lines) == 7
    assert len(set(map(len, lines))) == 1
    assert lines[0].startswith("ends in a band  warp in a crossing")
    assert lines[5].split() == ["5", "13/25", "52.00", "%", "12/25", "48.00", "%"]
    assert all(line == line.rstrip() for line in str(lesson.meanings()).splitlines())


def test_a_still_of_many_parts_can_be_read_on_a_narrow_page():
    """At most three parts side by side, so that letters of 13 stay 6 or more at 328 px."""
    for step in lesson.all_steps():
        svg = step.picture().svg
        width = int(re.search(r'width="(\d+)"', svg)[1])
        assert 13 * min(1, 328 / width) >= 6, step.key
        parts = re.findall(r"translate\((\d+) (\d+)\)", svg)
        assert len(set(parts)) == len(parts) == svg.count("<text"), step.key
        high = int(re.search(r'height="(\d+)"', svg)[1])
        assert all(int(x) + 200 <= width and int(y) + 226 <= high for x, y in parts), step.key


def test_the_saved_notebook_keeps_its_stills():
    cells = json.loads(NOTEBOOK.read_text("utf-8"))["cells"]
    html = "".join(
        "".join(output.get("data", {}).get("text/html", []))
        for cell in cells
        for output in cell.get("outputs", [])
    )
    alts = stills_of(html)
    assert len(alts) == 12
    assert all(len(alt) > 30 for alt in alts)
    assert "Answer." not in html


def test_the_stills_survive_an_executed_export(tmp_path):
    """Run and export as HTML: every picture is in the page itself."""
    source = json.loads(NOTEBOOK.read_text("utf-8"))
    for cell in source["cells"]:
        if cell["cell_type"] == "code":
            cell["outputs"] = []
    (tmp_path / "mixing.ipynb").write_text(json.dumps(source), "utf-8")
    subprocess.run(
        [sys.executable, "-m", "jupyter", "nbconvert", "--execute", "--to", "html", "mixing.ipynb"],
        cwd=tmp_path,
        env=os.environ | {"PYTHONPATH": str(Path(checkcloth.__file__).parents[1])},
        check=True,
        capture_output=True,
    )
    html = (tmp_path / "mixing.html").read_text("utf-8")
    alts = stills_of(html)
    assert len(alts) == 12
    assert html.count('src="data:image/svg+xml;base64,') >= 12
