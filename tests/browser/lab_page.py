"""One JupyterLab page as a test sees it: open a notebook, run it, look at it."""

from __future__ import annotations

import re
import shutil
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from lab_driver import ANSI, CONSOLE_NOISE, PAGE_LIMIT, RUN_LIMIT, LabError, LabServer

if TYPE_CHECKING:
    from playwright.sync_api import ConsoleMessage, Locator, Page, ViewportSize

# Scripts that ask JupyterLab itself. PANEL is the notebook in front.
_PANEL = "window.jupyterapp.shell.currentWidget"
_KERNEL = f"{_PANEL}?.sessionContext?.session?.kernel"
_IS_IDLE = f"""() => {_PANEL}?.content?.model && {_PANEL}.sessionContext.isReady
    && {_KERNEL}?.connectionStatus === 'connected' && {_KERNEL}.status === 'idle'"""
_OPEN = """async path => { await window.jupyterapp.commands.execute('docmanager:open', {path}); }"""
_TIDY = """async () => {
    const {shell, commands} = window.jupyterapp;
    for (const one of document.querySelectorAll('.jp-Dialog button.jp-mod-reject')) one.click();
    await commands.execute('apputils:dismiss-all-notifications').catch(() => {});
    if (shell.leftCollapsed) shell.expandLeft();
}"""
_CLOSE = """() => {
    for (const one of [...window.jupyterapp.shell.widgets('main')]) {
        if (one.context?.model) one.context.model.dirty = false; // or it would ask
        one.dispose();
    }
}"""
# A notebook that stays open: its cells as they stand in its file, and its kernel without what was
# done in it, the kit as if never imported.
_AS_SAVED = f"""async () => {{
    const {{context, content: notebook}} = {_PANEL};
    const file = await window.jupyterapp.serviceManager.contents.get(context.path);
    const now = notebook.model.sharedModel.cells, saved = file.content.cells;
    // Saved meanwhile and put back in its folder, or of another count: read anew.
    if (file.last_modified !== context.contentsModel.last_modified || now.length !== saved.length)
        await context.revert();
    else saved.forEach((cell, place) => {{
        const {{source, outputs}} = now[place].toJSON();
        if (source !== cell.source) now[place].setSource(cell.source);
        if (!cell.outputs) return;
        if (JSON.stringify(outputs) !== JSON.stringify(cell.outputs))
            now[place].setOutputs(cell.outputs);
        now[place].execution_count = cell.execution_count;
    }});
    notebook.mode = 'command';
    notebook.activeCellIndex = 0;
}}"""
_FORGET = """
import sys
from IPython import get_ipython
if opening := sys.modules.get("checkcloth.desk.opening"):
    for opened in opening._open.values():
        opened.desk.retire()
if widgets := sys.modules.get("ipywidgets"):
    widgets.Widget.close_all()
for name in [name for name in sys.modules if name.partition(".")[0] == "checkcloth"]:
    del sys.modules[name]
get_ipython().reset(new_session=False)
"""
# Themes by their names; the style sheet of one comes after its name stands on the page.
_THEME = """theme => { window.jupyterapp.commands.execute('apputils:change-theme', {theme}); }"""
_THEMED = """dark => {
    const {dataset: {jpThemeLight}} = document.body;
    const paper = getComputedStyle(document.body).getPropertyValue('--jp-layout-color0').trim();
    return jpThemeLight === String(!dark) && /^(white|#f{3,6})$/.test(paper) === !dark;
}"""
_CELLS = f"() => {_PANEL}.content.model.sharedModel.cells.map(cell => cell.toJSON())"
_RUN = f"""before => {{
    const run = (window.checkclothRun = {{done: false, error: null}});
    if (before !== null) {_PANEL}.content.activeCellIndex = before;
    const command = before === null ? 'notebook:run-all-cells' : 'notebook:run-all-above';
    window.jupyterapp.commands.execute(command)
        .catch(error => {{ run.error = String(error); }})
        .finally(() => {{ run.done = true; }});
}}"""
_ASK = f"""async code => {{
    let text = null, error = null;
    const future = {_KERNEL}.requestExecute({{code, store_history: false}});
    future.onIOPub = ({{header, content}}) => {{
        if (header.msg_type === 'execute_result') text = content.data['text/plain'];
        if (header.msg_type === 'error') error = content.traceback.join('\\n');
    }};
    await future.done;
    return {{text, error}};
}}"""


class BrowserPage:
    """A page and what goes wrong on it; ``folder`` holds this test's notebooks/ and palettes/."""

    def __init__(self, page: Page, folder: Path) -> None:
        self.page = page
        self.folder = folder
        self.console: list[str] = []
        page.on("console", self._hear)
        page.on("pageerror", lambda error: self.console.append(f"page error: {error}"))

    def _hear(self, message: ConsoleMessage) -> None:
        if message.type == "error":
            where = message.location.get("url", "")
            self.console.append(f"console error: {message.text} ({where})")

    @property
    def problems(self) -> list[str]:
        """Errors of the page and its console, without JupyterLab's everyday noise."""
        return [line for line in self.console if not CONSOLE_NOISE.search(line)]

    def ask(self, expression: str) -> str:
        """Return what the kernel prints for an expression, once it is its turn."""
        raise NotImplementedError

    def press(self, target: Locator, held: float = 0.35) -> None:
        """Click as a hand does: down, a while, up at the same place, whatever moved meanwhile."""
        target.scroll_into_view_if_needed()
        box = target.bounding_box()
        if box is None:
            raise LabError(f"nothing to press at {target}")
        mouse = self.page.mouse
        mouse.move(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
        mouse.down()
        self.page.wait_for_timeout(held * 1000)
        mouse.up()

    def screenshot(self, path: Path) -> Path:
        """Save what the page looks like now."""
        self.page.screenshot(path=path)
        return path


class LabPage(BrowserPage):
    """The page of a JupyterLab server."""

    def __init__(self, page: Page, server: LabServer, folder: Path) -> None:
        super().__init__(page, folder)
        self.server = server
        self._stays: _Standing | None = None
        self._left = False
        page.set_default_timeout(PAGE_LIMIT * 1000)
        page.on("dialog", lambda dialog: dialog.accept())  # "leave this page?"

    # -- opening and running -----------------------------------------------------------------

    def open_notebook(
        self, name: str, limit: float = PAGE_LIMIT, *, stays: bool = False
    ) -> LabPage:
        """Open ``notebooks/name``; return when its kernel is idle.

        The way its address does, or in the JupyterLab that is on the page already. One that
        ``stays`` is not closed after the test: the next that asks for it so finds it as it was
        at first, ``folder`` with it, and its kernel without what the test before did in it.
        """
        left, self._left = self._left, False
        if left and stays and self._stays and self._stays.name == name:
            return self._put_back(self._stays, limit)
        if left:
            self._close_all()
        self._stays = _Standing(name, self.folder) if stays else None
        path = (self.folder / "notebooks" / name).relative_to(self.server.root).as_posix()
        if not self.page.url.startswith(f"{self.server.url}/lab"):
            return self.open_address(self.server.address_of(path), path, limit)
        self.page.evaluate(_OPEN, path)
        return self._wait_for_notebook(path, limit)

    def open_address(self, address: str, path: str, limit: float = PAGE_LIMIT) -> LabPage:
        """Open an address that leads to the notebook ``path``; return when its kernel is idle."""
        self.page.goto(address)
        self._wait("() => window.jupyterapp", "JupyterLab to load")
        self.page.evaluate("async () => { await window.jupyterapp.restored; }")
        return self._wait_for_notebook(path, limit)

    def _wait_for_notebook(self, path: str, limit: float) -> LabPage:
        self._wait(
            f"path => {_PANEL}?.context?.path === path && {_PANEL}.context.isReady",
            f"{path} to open",
            argument=path,
            limit=limit,
        )
        self.wait_for_idle(limit)
        return self

    def _put_back(self, standing: _Standing, limit: float) -> LabPage:
        self.wait_for_idle(limit)
        self._execute(_FORGET)
        self.folder = standing.put_back()
        self.page.evaluate(_AS_SAVED)
        self.wait_for_idle(limit)
        return self

    def _close_all(self) -> None:
        self.page.evaluate(_CLOSE)
        self._wait("() => !document.querySelector('.jp-NotebookPanel, .jp-Dialog')", "an end")
        self.server.end_kernels()
        self.console.clear()  # JupyterLab may be caught in the middle of something

    def start_anew(self) -> LabPage:
        """Leave JupyterLab, so that the next notebook is opened by its address."""
        self.page.goto("about:blank")
        if self._left:
            self.server.end_kernels()
        self._stays, self._left = None, False
        return self

    def set_theme(self, dark: bool) -> None:
        """Turn to JupyterLab's dark theme or its light one; return when it is seen."""
        self.page.evaluate(_THEME, "JupyterLab Dark" if dark else "JupyterLab Light")
        self._wait(_THEMED, "the theme", argument=dark)

    def leave(self, size: ViewportSize) -> None:
        """Close all that a test opened; what is left is a JupyterLab with nothing in it.

        Or with the notebook that stays.
        """
        self.page.set_viewport_size(size)
        self.page.emulate_media(reduced_motion="null", color_scheme="null", forced_colors="null")
        if self.page.evaluate("() => Boolean(window.jupyterapp)"):
            if self.page.evaluate("() => document.body.dataset.jpThemeLight === 'false'"):
                self.set_theme(dark=False)
            self.page.evaluate(_TIDY)
            if not self._stays:
                self._close_all()
            self._left = self._stays is not None
        else:
            self.start_anew()
            self.server.end_kernels()
        self.page.context.unroute_all()
        self.console.clear()

    def wait_for_idle(self, limit: float = PAGE_LIMIT) -> None:
        """Wait until the kernel of the notebook in front is connected and idle."""
        self._wait(_IS_IDLE, "an idle kernel", limit=limit)

    def run_all(self, limit: float = RUN_LIMIT, before: int | None = None) -> list[dict[str, Any]]:
        """Run every cell, or those before one; return the cells as saved.

        A cell that raised fails the test.
        """
        self.page.evaluate(_RUN, before)
        self._wait("() => window.checkclothRun.done", "all cells to finish", limit=limit)
        self.wait_for_idle(limit)
        cells = self.cells()
        self._raise_cell_errors(cells)
        if error := self.page.evaluate("() => window.checkclothRun.error"):
            raise LabError(f"JupyterLab could not run the cells: {error}")
        left = [
            i
            for i, cell in enumerate(cells[:before])
            if _has_code(cell) and not cell["execution_count"]
        ]
        if left:
            raise LabError(f"cells {left} were never run")
        return cells

    def run_to(self, text: str) -> list[dict[str, Any]]:
        """Run as far as the first code cell that holds a text, and that; return all cells."""
        cells = self.cells()
        place = next(i for i, one in enumerate(cells)
                     if one["cell_type"] == "code" and text in "".join(one["source"]))  # fmt: skip
        return self.run_all(before=place + 1)

    def _raise_cell_errors(self, cells: Sequence[dict[str, Any]]) -> None:
        for index, cell in enumerate(cells):
            for output in cell.get("outputs", ()):
                if output["output_type"] == "error":
                    trace = ANSI.sub("", "\n".join(output["traceback"]))
                    raise LabError(
                        f"cell {index} raised {output['ename']}: {output['evalue']}\n{trace}"
                    )

    # -- asking ------------------------------------------------------------------------------

    def cells(self) -> list[dict[str, Any]]:
        """Return the cells with their outputs, also those scrolled out of sight."""
        found: list[dict[str, Any]] = self.page.evaluate(_CELLS)
        return found

    def ask(self, expression: str) -> str:
        """Return what the notebook's kernel prints for an expression, once it is its turn."""
        return self._execute(expression)

    def _execute(self, code: str) -> str:
        answer = self.page.evaluate(_ASK, code)
        if answer["error"]:
            raise LabError(f"{code} raised\n{ANSI.sub('', answer['error'])}")
        return str(answer["text"])

    def cell(self, index: int) -> Locator:
        """Scroll to a cell and return it; only cells in sight are sure to be in the document."""
        self.page.evaluate(f"async i => {{ await {_PANEL}.content.scrollToItem(i); }}", index)
        return self.page.locator(f'.jp-Cell[data-windowed-list-index="{index}"]:visible')

    def output(self, index: int) -> Locator:
        """Return the output area of a cell, with the cell scrolled into sight."""
        return self.cell(index).locator(".jp-Cell-outputArea")

    # -- dialogs -----------------------------------------------------------------------------

    def dialogs(self) -> list[str]:
        """Return the text of every dialog and notification that stands on the page."""
        shown = self.page.locator(".jp-Dialog:visible, .Toastify__toast:visible")
        return [re.sub(r"\s+", " ", text) for text in shown.all_inner_texts()]

    def dismiss_dialogs(self) -> list[str]:
        """Say no to every dialog and notification; return what they said."""
        said = self.dialogs()
        for kind, button in (
            (".jp-Dialog", "button.jp-mod-reject, .jp-Dialog-footer button"),
            (".Toastify__toast", "button:text-is('No'), button:last-of-type"),
        ):
            while (open_ones := self.page.locator(f"{kind}:visible")).count():
                one = open_ones.first.element_handle()
                open_ones.first.locator(button).first.click()
                one.wait_for_element_state("hidden")  # both fade; the next may stand behind
        return said

    def _wait(
        self, script: str, what: str, *, limit: float = PAGE_LIMIT, argument: object = None
    ) -> None:
        from playwright.sync_api import TimeoutError as PlaywrightTimeout

        try:
            # Not at every frame: JupyterLab's would be drawn for it.
            self.page.wait_for_function(script, arg=argument, timeout=limit * 1000, polling=50)
        except PlaywrightTimeout:
            # Shown on its own: Playwright's call log says nothing about what the page was doing.
            raise LabError(
                f"waited {limit:g} s for {what}; dialogs: {self.dialogs()}; "
                f"console: {self.console[-5:]}\n{self.server.log_tail(10)}"
            ) from None


class _Standing:
    """A notebook that stays open, and what lay in the folder of its test when it was opened."""

    def __init__(self, name: str, folder: Path) -> None:
        self.name = name
        self._folder = folder
        self._files = {path: path.read_bytes() for path in folder.rglob("*") if path.is_file()}

    def put_back(self) -> Path:
        """Bring the folder back to what it was; return it."""
        rooms = {room for path in self._files for room in path.parents}
        for path in [*self._folder.rglob("*")]:
            if path.is_dir() and path not in rooms:
                shutil.rmtree(path)
            elif path.is_file() and path not in self._files:
                path.unlink()
        for path, content in self._files.items():
            if not path.is_file() or path.read_bytes() != content:
                path.write_bytes(content)
        return self._folder


def _has_code(cell: dict[str, Any]) -> bool:
    return cell["cell_type"] == "code" and bool("".join(cell["source"]).strip())
