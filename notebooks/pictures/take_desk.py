"""Take the README's picture of the desk anew, in a real JupyterLab and Chromium.

``python notebooks/pictures/take_desk.py``, in the environment that the tests run in.
"""

from __future__ import annotations

import io
import shutil
import sys
import tempfile
from pathlib import Path

from PIL import Image
from playwright.sync_api import sync_playwright

HERE = Path(__file__).parent
ROOT = HERE.parents[1]
sys.path.insert(0, str(ROOT / "tests" / "browser"))

from desk_driver import DeskPage  # noqa: E402
from lab_driver import CHROMIUM_FLAGS, LabServer, find_chromium  # noqa: E402
from lab_page import LabPage  # noqa: E402

SIZE = {"width": 1300, "height": 1130}


def take(folder: Path) -> bytes:
    """Run the notebook in a copy of the project, keep three colourways, return the picture."""
    for name in ("notebooks", "palettes"):
        shutil.copytree(ROOT / name, folder / "root" / "checkcloth" / name)
    (folder / "home").mkdir()
    server = LabServer(folder / "root", folder / "home", ROOT)
    server.start()
    try:
        with sync_playwright() as playwright:
            browser = playwright.chromium.launch(
                executable_path=find_chromium(whole=True), args=list(CHROMIUM_FLAGS)
            )
            context = browser.new_context(viewport=SIZE)  # type: ignore[arg-type]
            lab = LabPage(context.new_page(), server, folder / "root" / "checkcloth")
            lab.open_notebook("explore.ipynb")
            lab.run_all()
            lab.dismiss_dialogs()
            lab.page.keyboard.press("Control+B")  # the file list makes room
            desk = DeskPage(lab)
            for rank, name in ((5, "Kale and poppy"), (9, "Beetroot and sloe"), (19, "Bean and hay")):
                desk.option(rank).click()
                lab.page.keyboard.press("k")
                desk.until(f"any(one.name == {name!r} for one in desk.kept)", False)
                desk.root.locator(".cc-main > .cc-hand .cc-hand-title").fill(name)
                lab.page.keyboard.press("Enter")
                desk.until(f"any(one.name == {name!r} for one in desk.kept)", True)
            desk.until("len(desk.kept)", 3)
            desk.option(9).click()
            desk.choose_part(2)
            desk.wall.evaluate("wall => { wall.scrollTop = 0; }")
            lab.page.mouse.move(0, 0)
            desk.root.locator(".cc").evaluate("desk => desk.scrollIntoView({block: 'start'})")
            desk.wait_for_painted()
            lab.page.wait_for_timeout(1500)  # the close look and the saved file follow
            return bytes(desk.root.locator(".cc").screenshot())
    finally:
        server.stop()


def small(png: bytes) -> bytes:
    """Pack the picture as small as Pillow can."""
    out = io.BytesIO()
    picture = Image.open(io.BytesIO(png)).convert("RGB")
    picture.save(out, "PNG", optimize=True)
    return out.getvalue()


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as parent:
        (HERE / "desk.png").write_bytes(small(take(Path(parent))))
