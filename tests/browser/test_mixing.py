"""The lesson in a real JupyterLab: live steps that need no kernel, and stills that are saved."""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from lab_page import LabPage
    from playwright.sync_api import Locator

pytestmark = pytest.mark.browser

NOTEBOOK = Path(__file__).resolve().parents[2] / "notebooks" / "mixing.ipynb"
# One key press in each step: the words on the page after it, worked out in the page.
STEPS = {
    "lesson.crossing()": "The warp covers 31 of 100 parts and leaves 69.",
    "lesson.kinds()": "The five crossings run from a*",
    "lesson.greys()": "The larger n, the darker the mixture.",
    "lesson.order()": "At 21 % the two crossings differ",
    "lesson.depth()": "covers 51 % of the 49 that were left",
    "lesson.pastel()": "At 31 % the pastel",
    "lesson.threads()": "each crossing shows the warp on 13 of 25, each single on 12",
    "lesson.distance()": "From 10.1 m a check covers 2.16 minutes",
    "lesson.side_by_side()": "At 41 % crossings differ most",
    "lesson.vision()": "The faintest edge of this cloth",
    "lesson.task()": "2.4, wanted 12",
}


def places() -> dict[str, int]:
    cells = json.loads(NOTEBOOK.read_text("utf-8"))["cells"]
    return {"".join(cell["source"]): place for place, cell in enumerate(cells)}


def words(box: Locator) -> str:
    return box.inner_text().replace("\u00a0", " ")


def sources(lab: LabPage) -> list[tuple[str, str]]:
    return [(cell["cell_type"], "".join(cell["source"])) for cell in lab.cells()]


def settle(box: Locator) -> None:
    """Wait until it has stood still for half a second: cells above it may grow as they go live."""
    box.evaluate("""async (node) => {
        let last = 0;
        for (let still = 0; still < 10; still++) {
            await new Promise((done) => setTimeout(done, 50));
            const { top } = node.getBoundingClientRect();
            if (top !== last) still = 0;
            last = top;
        }
    }""")


def test_the_lesson(lab: LabPage) -> None:
    lab.open_notebook("mixing.ipynb", stays=True)
    lab.run_all()
    where = places()
    for source, after in STEPS.items():
        output = lab.output(where[source])
        live = output.locator(".cl-step")
        live.wait_for(timeout=20_000)
        assert live.count() == 1
        still = output.locator(".checkcloth-still")
        assert still.count() == 1
        assert still.is_hidden(), source
        for picture in live.locator(".cl-picture").all():
            assert len(picture.get_attribute("aria-label") or "") > 5
        slider = live.get_by_role("slider").first
        slider.scroll_into_view_if_needed()
        settle(live)
        slider.focus()
        slider.press("ArrowRight")
        lab.page.wait_for_function(
            "([node, after]) => node.innerText.replaceAll('\u00a0', ' ').includes(after)",
            arg=[live.element_handle(), after],
        )
    assert lab.problems == []


def test_a_question_in_the_notebook(lab: LabPage) -> None:
    """The saved notebook holds no answer; letters typed in a field never reach the notebook."""
    assert "Answer." not in NOTEBOOK.read_text("utf-8")
    lab.open_notebook("mixing.ipynb", stays=True)
    lab.run_to("lesson.order()")
    live = lab.output(places()["lesson.order()"]).locator(".cl-step")
    live.wait_for(timeout=20_000)
    cells = sources(lab)
    field = live.get_by_label("Stripe 1", exact=True)
    field.fill("")
    lab.page.keyboard.type("marooon")
    field.press("Tab")
    assert "“marooon” is no colour we know. Try maroon" in words(live)
    lab.page.keyboard.type("mxddab")  # on a swatch
    assert sources(lab) == cells
    live.locator(".cl-number").fill("40")
    live.get_by_role("button", name="Show the answer").click()
    # Brick and signal blue on icing: at 39 % first.
    assert "From 39 %" in words(live)
    assert lab.problems == []


def test_saved_pictures_read_without_a_kernel(lab: LabPage) -> None:
    """Opened and not run: every step's picture stands there, with its alternative text."""
    lab.open_notebook("mixing.ipynb", stays=True)
    for source, place in places().items():
        if source in STEPS:
            output = lab.output(place)
            picture = output.locator("figure img")
            picture.wait_for(timeout=20_000)
            assert picture.get_attribute("alt")
            assert picture.evaluate("image => image.complete && image.naturalWidth > 190")
            assert output.get_by_text("Question.").count() == (source != "lesson.task()")
            assert output.get_by_text("model not found").count() == 0
    assert lab.problems == []


def test_a_step_whose_kernel_is_gone_shows_its_still(lab: LabPage) -> None:
    """Saved by hand after a run, with the view of a widget that is no more, and trusted."""
    path = lab.folder / "notebooks" / "mixing.ipynb"
    notebook = json.loads(path.read_text("utf-8"))
    place = places()["lesson.depth()"]
    view = {"model_id": "0" * 32, "version_major": 2, "version_minor": 0}
    data = {"application/vnd.jupyter.widget-view+json": view, "text/html": ""}
    notebook["cells"][place]["outputs"].append(
        {"output_type": "display_data", "metadata": {}, "data": data}
    )
    path.write_text(json.dumps(notebook), "utf-8")
    lab.open_notebook("mixing.ipynb")
    output = lab.output(place)
    output.locator("figure img").wait_for(timeout=20_000)
    assert "model not found" not in output.inner_text()
    assert "LessonWidget" not in output.inner_text()
