"""Take the README's picture of the lesson anew: python notebooks/pictures/take_lesson.py.

It needs Playwright and a Chromium: the lesson is opened as the file that `lesson_page` writes.
"""

from __future__ import annotations

import sys
from pathlib import Path
from tempfile import TemporaryDirectory

from playwright.sync_api import sync_playwright

from checkcloth.lesson import lesson_page

HERE = Path(__file__).parent
sys.path.append(str(HERE.parents[1] / "tests" / "browser"))
from lab_driver import CHROMIUM_FLAGS, find_chromium  # noqa: E402


def take(target: Path) -> None:
    """Write a picture of the second step, one crossing mixed five ways at 80 %."""
    with TemporaryDirectory() as folder, sync_playwright() as playwright:
        file = lesson_page(Path(folder, "lesson.html"))
        browser = playwright.chromium.launch(
            executable_path=find_chromium(whole=True), args=list(CHROMIUM_FLAGS)
        )
        page = browser.new_page(viewport={"width": 1280, "height": 720})
        page.goto(file.as_uri())
        page.get_by_role("button", name="Step by step").click()
        page.keyboard.press("PageDown")
        page.locator(".cl-step[data-now]").get_by_role("slider").fill("80")
        page.wait_for_timeout(500)
        page.screenshot(path=target)
        browser.close()


if __name__ == "__main__":
    take(HERE / "lesson.png")
