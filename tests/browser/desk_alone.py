"""A whole desk without JupyterLab: its page in Chromium, over a real desk in this process.

What the page asks is answered by ``Desk.answer``, in a thread of its own where no event loop runs:
there the desk does at once what it would otherwise do a moment later. Run it to look at the page::

    python tests/browser/desk_alone.py FOLDER
"""

from __future__ import annotations

import base64
import json
import os
import shutil
import sys
from concurrent.futures import ThreadPoolExecutor
from functools import partial
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING, Any

import numpy as np
from page_alone import CANVAS_PIXELS, CHECKOUT, open_page, wait_until_still

from checkcloth import Check, Colourway, Length
from checkcloth.desk.keep_file import KeepFile
from checkcloth.desk.palette_files import gather_palettes
from checkcloth.desk.session import Desk
from checkcloth.desk.state.state import DeskState, History
from checkcloth.export.picture.raster import tile_pixels

if TYPE_CHECKING:
    from playwright.sync_api import Page

# Requests and settings go to Python one after another, as messages to a kernel do.
_HEAR = """() => {
    const binary = text => new DataView(Uint8Array.from(atob(text), c => c.charCodeAt(0)).buffer);
    const signs = bytes => Array.from(new Uint8Array(bytes), byte => String.fromCharCode(byte));
    const text = bytes => btoa(signs(bytes).join(''));
    const { model } = window;
    let line = Promise.resolve();
    window.busy = 0;
    const send = message => {
        window.busy += 1;
        line = line.then(async () => {
            const reply = JSON.parse(await window.askDesk(JSON.stringify(message)));
            const traits = reply.traits;
            for (const [name, data] of Object.entries(reply.bytes)) traits[name] = binary(data);
            model.receive(traits);
            window.busy -= 1;
            if (reply.said) model.trigger('msg:custom', reply.said, reply.buffers.map(binary));
        });
    };
    model.send = (content, _, buffers = []) => {
        model.sent.push(content);
        send({content, files: buffers.map(text)});
    };
    model.save_changes = () => {
        const set = Object.fromEntries([...model.changed].map(name => [name, model.get(name)]));
        model.changed.clear();
        send({set});
    };
}"""


class _Traits:
    """Stands where a made-up wall stands: the traits of a real desk."""

    def __init__(self, desk: Desk) -> None:
        self.desk = desk

    def message(self) -> dict[str, Any]:
        return {**traits_of(self.desk, frozenset()), "details": {}}


def traits_of(desk: Desk, names: frozenset[str]) -> dict[str, Any]:
    """Return the widget's traits (those of ``names``, or all) as the page's model takes them."""
    widget = desk.widget
    found = {name: getattr(widget, name) for name in widget.traits(sync=True)
             if not name.startswith("_") and (not names or name in names)}  # fmt: skip
    raw = {name: value for name, value in found.items() if isinstance(value, bytes)}
    plain = {name: value for name, value in found.items() if not isinstance(value, bytes)}
    plain = {name: value for name, value in plain.items() if name not in ("layout", "tooltip")}
    packed = {name: base64.b64encode(value).decode() for name, value in raw.items()}
    return {"traits": json.loads(json.dumps(plain, default=str)), "bytes": packed}


class LiveDesk:
    """A desk of the palettes that ship, and the way to it from a page."""

    def __init__(self, folder: Path, palette: str = "anniversary", **state: Any) -> None:
        os.chdir(folder)
        self.folder = folder
        self.problems: list[str] = []
        self._threads = ThreadPoolExecutor(1)
        self._changed: set[str] = set()
        home = folder / "palettes"
        home.mkdir(exist_ok=True)
        if not (home / f"{palette}.csv").exists():
            shutil.copy(CHECKOUT / "palettes" / f"{palette}.csv", home)
        gathered = gather_palettes(home)

        def build() -> Desk:
            start = DeskState(**{"size": Length("1/2 in"), "palettes": gathered.palettes} | state)
            return Desk(History(start), KeepFile(folder), files=gathered.files)

        self.desk = self.do(build)
        self.desk.widget.observe(lambda change: self._changed.add(change["name"]))

    def do(self, work: Any) -> Any:
        """Do something where the desk lives."""
        return self._threads.submit(work).result()

    def hear(self, message: str) -> str:
        """Answer a message of the page: a request, or settings that it has set."""
        asked = json.loads(message)
        return str(self.do(lambda: self._hear(asked)))

    def _hear(self, asked: dict[str, Any]) -> str:
        said, buffers = None, []
        if "content" in asked:
            files = [base64.b64decode(file) for file in asked["files"]]
            said, buffers = self.desk.answer(asked["content"], files)
        for name, value in asked.get("set", {}).items():
            setattr(self.desk.widget, name, value)
        changed, self._changed = frozenset(self._changed), set()
        told = traits_of(self.desk, changed) if changed else {"traits": {}, "bytes": {}}
        told |= {"said": said, "buffers": [base64.b64encode(one).decode() for one in buffers]}
        return json.dumps(told, default=str)

    def close(self) -> None:
        self.do(self.desk.close)
        self._threads.shutdown()


def cloth_is(page: Page, colourway: Colourway, check: Check) -> None:
    """Hold every pixel of the cloth under the hand to the tile of that colourway and check."""
    found = page.locator(".cc-main .cc-pressed-cloth").evaluate(CANVAS_PIXELS)
    data = np.frombuffer(base64.b64decode(found["data"]), np.uint8)
    pixels = data.reshape(found["high"], found["wide"], 4)[..., :3].astype(int)
    tile, dpi = tile_pixels(colourway, check, 2 * found["px"])
    assert dpi == 2 * found["px"], "the repeat is whole pixels, so the tile is at the page's scale"
    down, across = (-(-a // b) for a, b in zip(pixels.shape, tile.shape[:2], strict=False))
    whole = np.tile(tile, (down, across, 1))[: pixels.shape[0], : pixels.shape[1]].astype(int)
    assert np.abs(pixels - whole).max() <= 1


def open_live(page: Page, live: LiveDesk, *, dark: bool = False) -> list[str]:
    """Show a desk; return the list that the page's errors will be in."""
    page.expose_function("askDesk", live.hear)
    problems = open_page(page, _Traits(live.desk), dark=dark, started=_HEAR)  # type: ignore[arg-type]
    settle(page)
    return problems


def settle(page: Page, rest: int = 0) -> None:
    """Wait until nothing is under way on the page, or between it and the desk, after a rest."""
    page.wait_for_timeout(rest)
    wait_until_still(page)


def main(folder: Path) -> None:
    """Write pictures of the Export tab."""
    from lab_driver import CHROMIUM_FLAGS, find_chromium
    from playwright.sync_api import sync_playwright

    folder = folder.resolve()
    folder.mkdir(parents=True, exist_ok=True)
    with sync_playwright() as playwright, TemporaryDirectory() as home:
        browser = playwright.chromium.launch(
            executable_path=find_chromium(), args=list(CHROMIUM_FLAGS),
            ignore_default_args=["--hide-scrollbars"],
        )  # fmt: skip
        for width in (360, 640, 980, 1320):
            for dark in (False, True):
                (Path(home) / f"{width}{dark}").mkdir()
                live = LiveDesk(Path(home) / f"{width}{dark}", size=Length("1/8 in"), stripes=6)
                for number in range(1, 4):
                    live.do(partial(live.desk.keep, number))
                page = browser.new_page(viewport={"width": width, "height": 3000})
                problems = open_live(page, live, dark=dark)
                name = f"{width}-{'dark' if dark else 'light'}"
                page.get_by_role("tab", name="Export").click()
                settle(page)
                page.screenshot(path=folder / f"{name}-export.png")
                page.get_by_role("checkbox", name="For the mill").check()
                for each in page.locator(".cc-task summary").all():
                    if each.is_visible():
                        each.click()
                page.get_by_label("Ends").fill("64")
                page.get_by_label("Picks").fill("60 per in")
                page.get_by_label("Picks").blur()
                settle(page)
                page.screenshot(path=folder / f"{name}-export-more.png")
                page.get_by_label("Ends").fill("")
                page.get_by_label("Picks").fill("")
                page.get_by_label("Picks").blur()
                settle(page)
                page.get_by_role("button", name="Export ").click()
                settle(page)
                page.wait_for_timeout(400)
                page.screenshot(path=folder / f"{name}-exported.png")
                print(name, json.dumps(problems))
                page.close()
                live.close()
        browser.close()


if __name__ == "__main__":
    main(Path(sys.argv[1]))
