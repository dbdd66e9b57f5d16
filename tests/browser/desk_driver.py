"""The desk on a page as a test sees it: its wall, its settings, its kernel side."""

from __future__ import annotations

import ast
import base64
import re
import time
from typing import TYPE_CHECKING, Any

from lab_driver import LabError

if TYPE_CHECKING:
    from lab_page import BrowserPage
    from playwright.sync_api import Locator

# Bytes as a text of as many characters, in pieces that a call can take.
SIGNS = """bytes => {
    let text = '';
    for (let at = 0; at < bytes.length; at += 8192)
        text += String.fromCharCode(...bytes.subarray(at, at + 8192));
    return text;
}"""
# A digest of what the wall's canvas shows, quick enough to ask for again and again.
_PIXELS = """wall => {
    const canvas = wall.querySelector('.cc-wall-canvas');
    const {data} = canvas.getContext('2d').getImageData(0, 0, canvas.width, canvas.height);
    let sum = 7;
    for (let i = 0; i < data.length; i += 4) sum = (sum * 31 + data[i] * 65536
        + data[i + 1] * 256 + data[i + 2]) % 2147483647;
    return sum;
}"""
# One swatch of the wall in device pixels: its cloth, its side, its pixels a check.
_SWATCH = """option => {
    const signs = SIGNS;
    const wall = option.closest('.cc-wall');
    const canvas = wall.querySelector('.cc-wall-canvas');
    const ratio = canvas.width / parseFloat(canvas.style.width);
    const px = key => Math.round(parseFloat(option.style[key]) * ratio);
    const top = px('top') - Math.round(parseFloat(canvas.style.top) * ratio);
    const side = px('width');
    const {data} = canvas.getContext('2d').getImageData(px('left'), top, side, side);
    return {side, pixels: Number(wall.dataset.pixels), number: Number(option.dataset.number),
            data: btoa(signs(data))};
}""".replace("SIGNS", SIGNS)


class DeskPage:
    """The first desk of the notebook in front (or the one that ``root`` holds)."""

    def __init__(self, lab: BrowserPage, name: str = "desk", nth: int = 0) -> None:
        self.lab = lab
        self.name = name
        page = lab.page
        page.locator(".cc-option").first.wait_for()
        self.root = page.locator(".jp-OutputArea-child").filter(has=page.locator(".cc")).nth(nth)
        self.wall = self.root.locator(".cc-wall")
        self.wait_for_painted()

    @property
    def hand(self) -> Locator:
        """The cloth under the hand, once it shows what is pointed at."""
        hand = self.root.get_by_role("region", name="The cloth under the hand", exact=True)
        return hand.and_(self.lab.page.locator(":not([aria-busy])"))

    @property
    def words(self) -> Locator:
        """The colours of the cloth under the hand, in words."""
        return self.hand.locator(".cc-hand-words p")

    @property
    def name_field(self) -> Locator:
        """The field for the name of the cloth under the hand."""
        return self.hand.get_by_role("textbox", name=re.compile("^Name of "))

    def turn_to(self, part: str) -> Locator:
        """Show another part of the desk (Wall, Range, Colours, Export); return it."""
        self.root.get_by_role("tab", name=re.compile(f"^{part}")).click()
        return self.root.get_by_role("tabpanel", name=re.compile(f"^{part}"))

    def export(self) -> Locator:
        """Turn to Export and press its button, once it says how many files; return the part."""
        part = self.turn_to("Export")
        part.get_by_role("button", name=re.compile(r"^Export \d")).click()
        return part

    def thread(self, stripe: int) -> Locator:
        """Return the thread of a stripe under the cloth in hand, counted from 1."""
        return self.hand.locator(f'.cc-thread[data-stripe="{stripe}"]')

    def choose_part(self, part: int) -> Locator:
        """Choose the ground (0) or a stripe of the cloth in hand; return its tray."""
        tray = self.hand.get_by_role(
            "region", name=f"Colour of stripe {part}" if part else "Colour of ground", exact=True
        )
        if not tray.is_visible():
            if part:
                self.thread(part).click()
            else:
                self.hand.get_by_role("button", name=re.compile("^Ground: ")).click()
        tray.wait_for()
        return tray

    def kept_card(self, number: int) -> Locator:
        """Return a card of the range, where it is named, put in order and dropped."""
        return self.root.locator(f'.cc-range-card[data-number="{number}"]')

    def on_shelf(self, number: int) -> Locator:
        """Return the cloth of a kept colourway on the shelf under the wall."""
        return self.root.locator(f'.cc-kept-one[data-number="{number}"] .cc-kept-cloth')

    def ask(self, expression: str) -> Any:
        """Return what the kernel says an expression is, as Python data."""
        return ast.literal_eval(self.lab.ask(expression))

    def until(self, expression: str, wanted: Any, limit: float = 20) -> None:
        """Wait until the kernel says that an expression is ``wanted``."""
        end = time.monotonic() + limit
        while (found := self.ask(expression)) != wanted:
            if time.monotonic() > end:
                raise LabError(f"waited {limit:g} s for {expression} to be {wanted!r}: {found!r}")
            self.lab.page.wait_for_timeout(50)

    def wait_for_painted(self, limit: float = 20) -> None:
        """Wait until the wall has painted the kernel's newest colours."""
        end = time.monotonic() + limit
        while True:
            stamp = self.ask(f"{self.name}.widget.stamp")
            if self.wall.get_attribute("data-stamp") == str(stamp):
                return
            if time.monotonic() > end:
                raise LabError(f"waited {limit:g} s for the wall to be painted")
            self.lab.page.wait_for_timeout(50)

    def keep(self, place: int) -> None:
        """Keep the colourway at a place of the wall, by key."""
        before = self.ask(f"len({self.name}.kept)")
        self.option(place).focus()
        self.lab.page.keyboard.press("k")
        self.until(f"len({self.name}.kept)", before + 1)

    def slider(self, name: str) -> Locator:
        """Return a slider by the name that a screen reader says."""
        return self.root.get_by_role("slider", name=name, exact=True)

    def press_on(self, name: str, key: str, times: int = 1) -> None:
        """Press a key on a slider so many times."""
        self.slider(name).focus()
        for _ in range(times):
            self.lab.page.keyboard.press(key)

    def open_more(self) -> None:
        """Unfold the settings and tools beside the three sliders."""
        opener = self.root.get_by_role("button", name="More settings")
        if opener.get_attribute("aria-expanded") == "false":
            opener.click()

    def choose(self, name: str, value: str) -> None:
        """Choose a value in a field by the name that a screen reader says."""
        self.open_more()
        self.root.get_by_role("combobox", name=name, exact=True).select_option(value)

    def option(self, place: int) -> Locator:
        """Return the colourway at a place of the wall, counted from 0; it must be in sight."""
        return self.wall.locator(f'.cc-option[aria-posinset="{place + 1}"]')

    def captions(self) -> list[str]:
        """Return the words under the colourways in sight."""
        return self.wall.locator(".cc-caption").all_inner_texts()

    def pixels(self) -> int:
        """Return a digest of the pixels on the wall."""
        return int(self.wall.evaluate(_PIXELS))

    def swatch(self, place: int) -> dict[str, Any]:
        """Return the pixels of one colourway on the wall, as the page holds them."""
        found: dict[str, Any] = self.option(place).evaluate(_SWATCH)
        return found | {"data": base64.b64decode(found["data"])}
