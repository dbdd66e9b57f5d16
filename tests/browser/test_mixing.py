"""The lesson in a real JupyterLab: its sliders move its pictures, and answers open when asked."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from lab_page import LabPage
    from playwright.sync_api import Locator

pytestmark = pytest.mark.browser

NOTEBOOK = Path(__file__).resolve().parents[2] / "notebooks" / "mixing.ipynb"
# One key press in each step: its first words, and what the title says before and after.
STEPS = {
    "lesson.crossing()": (r"At 50 %", r"At 51 % the crossing holds 51 % of the warp, 25 %"),
    "lesson.kinds()": (r"One crossing at 80 %", r"One crossing at 81 %"),
    "lesson.greys()": (r"40 % at n = 2\.0", r"at n = 2\.1"),
    "lesson.order()": (r"At 50 %", r"At 51 % the two crossings differ"),
    "lesson.depth()": (r"self-crossing 75 %", r"self-crossing 76 %"),
    "lesson.pastel()": (r"At 50 %", r"At 51 % the pastel"),
    "lesson.threads()": (r"5 × 5 threads.*52\.0 %", r"6 × 6 threads.*50\.0 %, balanced"),
    "lesson.distance()": (r"From 10 m", r"From 11 m.*still seen"),
    "lesson.side_by_side()": (r"At 60 %", r"At 61 %, crossings differ most"),
    "lesson.vision()": (r"severity 100 %", r"severity 99 %"),
}


def places() -> dict[str, int]:
    cells = json.loads(NOTEBOOK.read_text("utf-8"))["cells"]
    return {"".join(cell["source"]): place for place, cell in enumerate(cells)}


def wait_for_caption(output: Locator, wanted: str) -> str:
    caption = output.locator("figcaption").filter(has_text=re.compile(wanted))
    caption.wait_for(timeout=20_000)
    return caption.inner_text()


def test_the_lesson(lab: LabPage) -> None:
    lab.open_notebook("mixing.ipynb")
    lab.run_all()
    where = places()
    for source, (before, after) in STEPS.items():
        output = lab.output(where[source])
        wait_for_caption(output, before)
        picture = output.locator("figure img")
        assert picture.count() == 1, f"{source} shows {picture.count()} pictures"
        assert len(picture.get_attribute("alt") or "") > 40
        first = picture.get_attribute("src")

        slider = output.locator(".noUi-handle")
        slider.focus()
        slider.press("ArrowLeft" if "vision" in source else "ArrowRight")
        wait_for_caption(output, after)
        assert output.locator("figure img").get_attribute("src") != first

        button = output.get_by_role("button", name="Show the answer")
        assert output.get_by_text("Answer.").count() == 0
        button.click()
        answer = output.get_by_text("Answer.")
        answer.wait_for(timeout=20_000)
        output.get_by_role("button", name="Hide the answer").click()
        answer.wait_for(state="detached", timeout=20_000)
    assert lab.problems == []


def test_the_answer_is_worked_out_and_not_kept(lab: LabPage) -> None:
    """The saved notebook holds no answer; the page shows what the kernel works out."""
    text = NOTEBOOK.read_text("utf-8")
    assert "Answer." not in text
    lab.open_notebook("mixing.ipynb")
    lab.run_all()
    output = lab.output(places()["lesson.depth()"])
    output.get_by_role("button", name="Show the answer").click()
    answer = output.get_by_text("Answer.")
    answer.wait_for(timeout=20_000)
    # 1 − √0.1 is 0.684: the first whole per cent above it.
    assert "69 %" in answer.locator("..").inner_text()


def test_saved_pictures_read_without_a_kernel(lab: LabPage) -> None:
    """Opened and not run: every step's picture stands there, with its alternative text."""
    lab.open_notebook("mixing.ipynb")
    for source, place in places().items():
        if source in STEPS:
            output = lab.output(place)
            picture = output.locator("figure img")
            picture.wait_for(timeout=20_000)
            assert picture.get_attribute("alt")
            assert picture.evaluate("image => image.complete && image.naturalWidth > 900")
            assert output.get_by_text("Question.").count() == 1
            assert output.get_by_text("model not found").count() == 0
    assert lab.problems == []
