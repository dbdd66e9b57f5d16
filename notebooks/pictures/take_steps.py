"""Take the README's strip of pictures anew: a range made in six steps, on the real desk.

``python notebooks/pictures/take_steps.py``, in the environment that the tests run in.
"""

from __future__ import annotations

import io
import re
import sys
import tempfile
from pathlib import Path
from typing import TYPE_CHECKING

from PIL import Image, ImageDraw, ImageFont
from playwright.sync_api import sync_playwright

HERE = Path(__file__).parent
ROOT = HERE.parents[1]
sys.path.insert(0, str(ROOT / "tests" / "browser"))

from desk_alone import LiveDesk, open_live, settle  # noqa: E402
from lab_driver import CHROMIUM_FLAGS, find_chromium  # noqa: E402
from tea_rooms import MAIL, ORDER  # noqa: E402

if TYPE_CHECKING:
    from playwright.sync_api import Page

# The desk leaves room for what JupyterLab shows above and below a notebook: 173 px of a window.
TAKEN = {"x": 0, "y": 0, "width": 980, "height": 640}
SIZE = {"width": 980, "height": 640 + 173 - 10}
PANEL, GAP, LINE = (640, 418), 20, 34
STEPS = (
    "1  Paste the codes of the mail",
    "2  Put each colour in its stripe",
    "3  Find the clearest, keep what is good",
    "4  Make its family of fewer stripes",
    "5  Change one colour everywhere",
    "6  Export for client, printer and mill",
)


class Taker:
    """The page, and the pictures taken of it so far."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self.taken: list[Image.Image] = []

    def press(self, role: str, name: str) -> None:
        """Press the first button (or the like) whose name begins so."""
        found = self.page.get_by_role(role, name=re.compile(f"^{re.escape(name)}"))  # type: ignore[arg-type]
        found.locator("visible=true").first.click()
        settle(self.page)

    def take(self) -> None:
        """Add a picture of the desk as it is."""
        self.page.mouse.move(0, 0)
        self.page.evaluate("() => { document.activeElement?.blur(); scrollTo(0, 0); }")
        settle(self.page)
        self.page.wait_for_timeout(400)
        self.taken.append(Image.open(io.BytesIO(self.page.screenshot(clip=TAKEN))).convert("RGB"))


def make_range(at: Taker) -> None:
    """Go the six steps and take a picture of each."""
    page = at.page
    hand = page.get_by_role("region", name="The cloth under the hand", exact=True)
    at.press("tab", "Colours")
    page.get_by_label("Colours to add").fill(MAIL)
    settle(page)
    page.get_by_label("Name of the palette").fill("counter")
    at.take()

    at.press("button", "Save as a palette")
    at.press("button", "Draw from it")
    hand.get_by_label("Begin an empty cloth, of so many stripes").select_option("6")
    settle(page)
    for stripe, name in enumerate(ORDER, 1):
        if stripe > 1:  # the first of an empty cloth is chosen already
            hand.locator(f'.cc-thread[data-stripe="{stripe}"]').click()
            settle(page)
        at.press("radio", f"{name} #")
    at.press("button", "Ground: ")
    at.press("radio", "Cream #")
    hand.locator('.cc-thread[data-stripe="2"]').click()
    settle(page)
    at.press("tab", "Wall")
    at.take()

    at.press("button", "Keep")
    page.locator(".cc-hand .cc-hand-title").locator("visible=true").first.fill("Counter")
    page.keyboard.press("Enter")
    settle(page)
    at.press("button", "Find the best that the palette holds")
    at.press("button", "The clearest of all")
    at.take()

    at.press("tab", "Range")
    at.press("button", "Make more of")
    at.press("button", "Keep this one: with 3 stripes")
    at.press("button", "Keep this one: with 2 stripes")
    at.take()

    at.press("tab", "Colours")
    at.press("button", "Peach, used in")
    page.get_by_role("region", name=re.compile("becomes$")).scroll_into_view_if_needed()
    at.take()
    at.press("button", "Slate #55606e")

    at.press("tab", "Export")
    at.take()


def strip(pictures: list[Image.Image]) -> bytes:
    """Lay the pictures in two rows of three, each under its words; return a PNG."""
    wide, high = PANEL
    sheet = Image.new("RGB", (3 * wide + 4 * GAP, 2 * (high + LINE) + 3 * GAP), "white")
    pen = ImageDraw.Draw(sheet)
    letters = ImageFont.load_default(20)
    for index, (picture, words) in enumerate(zip(pictures, STEPS, strict=True)):
        x = GAP + index % 3 * (wide + GAP)
        y = GAP + index // 3 * (high + LINE + GAP)
        pen.text((x, y + 4), words, "#222222", letters)
        sheet.paste(picture.resize(PANEL, Image.Resampling.LANCZOS), (x, y + LINE))
        pen.rectangle((x - 1, y + LINE - 1, x + wide, y + LINE + high), outline="#bbbbbb")
    out = io.BytesIO()
    sheet.quantize(256, Image.Quantize.FASTOCTREE).save(out, "PNG", optimize=True)
    return out.getvalue()


def main() -> None:
    """Take the strip and write it beside this script."""
    with tempfile.TemporaryDirectory() as parent, sync_playwright() as playwright:
        live = LiveDesk(Path(parent), stripes=6, count=48)
        browser = playwright.chromium.launch(
            executable_path=find_chromium(whole=True), args=list(CHROMIUM_FLAGS)
        )
        page = browser.new_page(viewport=SIZE)  # type: ignore[arg-type]
        problems = open_live(page, live)
        at = Taker(page)
        make_range(at)
        live.close()
        if problems:
            raise SystemExit("\n".join(problems))
        (HERE / "steps.png").write_bytes(strip(at.taken))


if __name__ == "__main__":
    main()
