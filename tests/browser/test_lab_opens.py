"""The harness checks itself on notebooks of a few lines, and that JupyterLab asks nothing."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import nbformat
import pytest
from lab_driver import LabError, find_chromium
from nbformat.v4 import new_code_cell, new_notebook

if TYPE_CHECKING:
    from lab_page import LabPage

pytestmark = pytest.mark.browser

NEWS_PLUGIN = "@jupyterlab/apputils-extension:notification"
PYTHON3 = {"kernelspec": {"name": "python3", "display_name": "Python 3", "language": "python"}}


def write_notebook(lab: LabPage, name: str, *sources: str) -> None:
    cells = [new_code_cell(source) for source in sources]
    notebook = new_notebook(cells=cells, metadata=PYTHON3)
    nbformat.write(notebook, lab.folder / "notebooks" / name)


def streams(cell: dict) -> str:
    texts = (out["text"] for out in cell["outputs"] if out["output_type"] == "stream")
    return "".join(part for text in texts for part in text)


def test_notebook_opens_with_its_kernel_and_without_a_question(lab):
    write_notebook(lab, "three.ipynb", "print(6 * 7)")
    lab.start_anew().open_notebook("three.ipynb")
    assert lab.dialogs() == []
    assert not lab.page.get_by_text("news").count()
    lab.run_all()
    assert lab.dialogs() == []
    # Absence right now could be haste: the value that JupyterLab itself goes by settles it.
    setting = lab.server.api("GET", f"/lab/api/settings/{NEWS_PLUGIN}")
    assert setting["schema"]["properties"]["fetchNews"]["default"] == "false"
    assert setting["schema"]["properties"]["checkForUpdates"]["default"] is False
    assert lab.problems == []


def test_harness_sees_and_dismisses_the_question_when_it_is_asked(lab):
    """The control of the test above: the same page, with JupyterLab's own default put back."""
    write_notebook(lab, "asked.ipynb", "print(1)")
    lab.server.set_lab_setting(NEWS_PLUGIN, fetchNews="none")
    try:
        lab.start_anew().open_notebook("asked.ipynb")
        lab.page.get_by_text("official Jupyter news").first.wait_for()
        assert any("official Jupyter news" in text for text in lab.dialogs())
        assert any("official Jupyter news" in text for text in lab.dismiss_dialogs())
        assert lab.dialogs() == []
    finally:
        lab.server.set_lab_setting(NEWS_PLUGIN)
        lab.start_anew()


def test_harness_sees_and_dismisses_the_kernel_dialog(lab):
    """A notebook that names no kernel makes JupyterLab ask for one."""
    nbformat.write(new_notebook(cells=[new_code_cell("1")]), lab.folder / "notebooks/none.ipynb")
    with pytest.raises(LabError, match="waited 1 s for"):
        lab.open_notebook("none.ipynb", limit=1)
    lab.page.locator(".jp-Dialog").wait_for()
    with pytest.raises(LabError, match=r"dialogs: .*Select Kernel"):
        lab.wait_for_idle(limit=1)
    assert any("Select Kernel" in text for text in lab.dismiss_dialogs())
    assert lab.dialogs() == []


def test_run_all_gives_outputs_from_this_checkout_and_environment(lab):
    write_notebook(
        lab,
        "where.ipynb",
        "import sys, pathlib, checkcloth.errors\nprint(sys.prefix)",
        "print(pathlib.Path(checkcloth.errors.__file__).resolve())",
        "print(pathlib.Path.cwd())",
        "value = 2\nvalue + 1",
    )
    cells = lab.open_notebook("where.ipynb").run_all()
    kit = Path(__file__).resolve().parents[2] / "kit"
    assert streams(cells[0]).strip() == sys.prefix
    assert Path(streams(cells[1]).strip()).is_relative_to(kit)
    assert Path(streams(cells[2]).strip()).samefile(lab.folder / "notebooks")
    assert cells[3]["outputs"][0]["data"]["text/plain"] == "3"
    assert lab.output(3).locator(".jp-OutputArea-output").inner_text().strip() == "3"
    assert lab.ask("value * 10") == "20"


def test_a_cell_that_raises_fails_the_run_with_its_traceback(lab):
    write_notebook(lab, "raises.ipynb", "width = 0", "1 / width", "print('not reached')")
    lab.open_notebook("raises.ipynb")
    with pytest.raises(LabError, match=r"cell 1 raised ZeroDivisionError.*\n[\s\S]*1 / width"):
        lab.run_all()


def test_a_cell_that_never_ends_fails_in_time(lab):
    write_notebook(lab, "waits.ipynb", "import threading\nthreading.Event().wait()")
    lab.open_notebook("waits.ipynb")
    with pytest.raises(LabError, match="waited 3 s for all cells to finish"):
        lab.run_all(limit=3)


def test_page_errors_are_collected(lab):
    write_notebook(lab, "quiet.ipynb", "print(1)")
    lab.open_notebook("quiet.ipynb")
    assert lab.problems == []
    lab.page.evaluate("() => { setTimeout(() => { throw new Error('from the page'); }); }")
    lab.page.evaluate("() => console.error('from the console')")
    lab.page.wait_for_function("() => new Promise(done => setTimeout(() => done(true)))")
    assert "from the page" in "".join(lab.problems)
    assert "from the console" in "".join(lab.problems)


def test_a_named_browser_that_is_not_there_is_an_error(monkeypatch):
    monkeypatch.setenv("CHECKCLOTH_CHROMIUM", "no-such-browser-anywhere")
    with pytest.raises(LabError, match="no-such-browser-anywhere"):
        find_chromium()
