"""The desk in other hosts than JupyterLab: Notebook 7 under a base URL, voilà, no kernel at all."""

from __future__ import annotations

import os
import re
import signal
import subprocess
import sys
from pathlib import Path

import nbformat
import pytest
from desk_driver import DeskPage
from lab_driver import NotebookServer, VoilaServer
from lab_page import LabPage

pytestmark = pytest.mark.browser
CHECKOUT = Path(__file__).resolve().parents[2]

OPEN = """from checkcloth.desk import open_desk
desk = open_desk(count=24, folder=".")
desk"""
# Letters that Notebook takes for its own where a cell is chosen: X cuts it, M makes it Markdown,
# DD deletes it, A and B put others beside it, 00 restarts the kernel, Z takes a cut back.
LETTERS = "xmyabvczl1dd00"


def write_notebook(folder, *cells, name="host.ipynb"):
    """Write a notebook of code cells beside a copy of the palettes; return its path."""
    cells = [nbformat.v4.new_code_cell(cell) for cell in cells]
    notebook = nbformat.v4.new_notebook(cells=cells)
    notebook.metadata["kernelspec"] = {"name": "python3", "display_name": "Python 3"}
    path = folder / "notebooks" / name
    nbformat.write(notebook, path)
    return path


@pytest.fixture(scope="module")
def notebook_7(tmp_path_factory):
    root, home = tmp_path_factory.mktemp("nb7"), tmp_path_factory.mktemp("home7")
    server = NotebookServer(root, home, CHECKOUT, "/tea/rooms")
    try:
        server.start()
        yield server
    finally:
        server.stop()


@pytest.fixture
def page_in(chromium):
    """Return a function that opens a fresh page over a server and a folder of it."""
    contexts = []

    def opened(server, folder):
        contexts.append(chromium.new_context(viewport={"width": 1400, "height": 1000}))
        return LabPage(contexts[-1].new_page(), server, folder)

    yield opened
    for context in contexts:
        context.close()


def cells_of(page):
    return [(cell["cell_type"], "".join(cell["source"])) for cell in page.cells()]


def test_in_notebook_7_letters_on_the_desk_never_reach_the_notebook(notebook_7, page_in):
    folder = notebook_7.root
    (folder / "notebooks").mkdir()
    write_notebook(folder, "before = 1", OPEN, "after = 1")
    page = page_in(notebook_7, folder).open_notebook("host.ipynb")
    assert page.page.url.startswith(f"{notebook_7.url}/notebooks/")
    page.run_all()
    desk = DeskPage(page)
    before = cells_of(page)
    places = [
        desk.option(0),
        desk.slider("Overlay strength"),
        desk.root.get_by_role("tab", name=re.compile("^Range")),
        desk.root.get_by_role("button", name="More settings"),
        desk.root.get_by_role("combobox").locator("visible=true").first,
    ]
    for place in places:
        for letter in LETTERS:
            place.focus()
            page.page.keyboard.press(letter)
            page.page.keyboard.press("Escape")  # out of fields and dialogs that a letter opens
        assert cells_of(page) == before, place
        assert page.dialogs() == [], place
    assert page.ask("before") == "1"  # the kernel is the same
    # The notebook's own keys work where a cell is chosen, and Ctrl+S from the desk too.
    desk.option(0).focus()
    page.page.keyboard.press("Control+s")
    page.page.wait_for_function("() => !window.jupyterapp.shell.currentWidget.context.model.dirty")
    page.cell(2).locator(".jp-InputPrompt").click()
    page.page.keyboard.press("m")
    page.page.wait_for_function(
        "() => window.jupyterapp.shell.currentWidget.content.activeCell.model.type === 'markdown'"
    )
    notebook_7.end_kernels()


# -- without a kernel ----------------------------------------------------------------------------


def shows_still(page):
    """Hold that the still wall shows, with alternative text, and nothing of a lost model."""
    still = page.locator(".checkcloth-still")
    still.wait_for(state="visible")
    pictures = still.locator("img")
    assert pictures.count() == 24
    for alt in pictures.evaluate_all("all => all.map(one => one.alt)"):
        assert alt.startswith("gingham: ")
    assert "Run the cell for the desk itself" in still.inner_text()
    assert page.get_by_text("model not found").filter(visible=True).count() == 0
    assert page.get_by_text("Loading widget").filter(visible=True).count() == 0


def test_a_saved_notebook_shows_a_still_wall_and_how_to_go_on(lab, lab_folder, tmp_path):
    path = write_notebook(lab_folder, OPEN)
    lab.open_notebook("host.ipynb").run_all()
    DeskPage(lab)
    assert not lab.page.locator(".checkcloth-still").is_visible()  # the desk itself is there
    lab.page.evaluate("() => window.jupyterapp.commands.execute('docmanager:save')")
    lab.page.wait_for_function("() => !window.jupyterapp.shell.currentWidget.context.model.dirty")
    saved = nbformat.read(path, 4)
    assert "widgets" not in saved.metadata
    lab.server.end_kernels()

    lab.start_anew().open_notebook("host.ipynb")
    lab.page.wait_for_timeout(3000)  # JupyterLab looks for the model for two seconds
    shows_still(lab.page)

    # As it comes from somebody else: not trusted, so that no style sheet of ours is let in.
    saved.metadata["from"] = "elsewhere"
    nbformat.write(saved, path.with_name("foreign.ipynb"))
    lab.start_anew().open_notebook("foreign.ipynb")
    lab.page.wait_for_timeout(3000)
    shows_still(lab.page)

    # And as a page.
    subprocess.run(
        [sys.executable, "-m", "nbconvert", "--to", "html", "--output-dir", str(tmp_path), path],
        check=True,
        capture_output=True,
    )
    page = lab.page.context.new_page()
    page.goto((tmp_path / "host.html").as_uri())
    shows_still(page)
    page.close()


def test_a_desk_closed_by_another_says_that_and_not_that_the_kernel_is_silent(lab, lab_folder):
    write_notebook(lab_folder, OPEN, "another = open_desk(count=12, folder='.')")
    lab.open_notebook("host.ipynb").run_all(before=1)
    desk = DeskPage(lab)
    page = lab.page
    # Something is being asked just as the other opens, and will have no answer.
    page.evaluate(
        """() => { window.asking = setInterval(() => {
            const all = [...document.querySelectorAll('.cc-option')];
            all[Math.floor(Math.random() * all.length)]?.dispatchEvent(
                new PointerEvent('pointermove', {bubbles: true}));
            all[Math.floor(Math.random() * all.length)]?.focus();
        }, 5); }"""
    )
    lab.ask("exec(\"another = open_desk(count=12, folder='.')\")")
    banner = desk.root.get_by_role("alert")
    banner.wait_for()
    page.evaluate("() => clearInterval(window.asking)")
    page.wait_for_timeout(6000)  # longer than the desk waits for a kernel
    assert "opened again" in banner.inner_text()
    assert "not answering" not in banner.inner_text()
    assert "cc-quieted" not in (desk.root.locator(".cc").get_attribute("class") or "")


# -- voilà -----------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def voila(tmp_path_factory):
    root, home = tmp_path_factory.mktemp("voila"), tmp_path_factory.mktemp("homev")
    (root / "notebooks").mkdir()
    write_notebook(root, OPEN, "import os; open('pid', 'w').write(str(os.getpid()))")
    server = VoilaServer(root, home, CHECKOUT, "/tea/rooms")
    try:
        server.start()
        yield server
    finally:
        server.stop()


def test_the_desk_works_in_voila_without_what_only_a_notebook_has(voila, chromium):
    context = chromium.new_context(viewport={"width": 1400, "height": 1000})
    page = context.new_page()
    problems = []
    page.on("pageerror", lambda error: problems.append(str(error)))
    try:
        page.goto(voila.address_of("notebooks/host.ipynb"))
        option = page.locator(".cc-option")
        option.first.wait_for(timeout=60_000)
        assert page.locator(".checkcloth-still").count() == 0
        page.get_by_role("tab", name=re.compile("^Export")).click()
        page.get_by_text("Folder, where the desk runs").wait_for()
        assert "notebook" not in page.locator("body").inner_text()
        page.get_by_role("tab", name=re.compile("^Wall")).click()
        dealt = page.locator(".cc-wall").get_attribute("data-stamp")
        option.first.focus()
        page.keyboard.press("k")
        page.locator(".cc-kept-one").wait_for()
        page.keyboard.press("d")  # another draw: the kernel answers
        page.wait_for_function(
            "before => document.querySelector('.cc-wall').dataset.stamp !== before", arg=dealt
        )
        assert list(voila.root.rglob("*.kept.json"))
        # The kernel gone, there is no cell to run again.
        os.kill(int((voila.root / "notebooks" / "pid").read_text()), signal.SIGKILL)
        option.first.focus()
        page.keyboard.press("d")
        alert = page.get_by_role("alert")
        alert.wait_for(timeout=30_000)
        assert "load this page again" in alert.inner_text()
        assert "run the notebook" not in page.locator("body").inner_text()
        assert not problems
    finally:
        context.close()
