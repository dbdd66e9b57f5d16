"""CSS custom properties, as Chromium reads them."""

from __future__ import annotations

import re
import shutil

import pytest

from checkcloth import Check, Colourway
from checkcloth.colour.css import hex_of
from checkcloth.export.data.web_colours import set_css

COLOURWAYS = [
    Colourway("#fbf8f1", ["#a62a3c", "#3f6fb0"], name="Morning"),
    Colourway("black", ["gold"], 0.8, "woven", name="*/ } body { color: red } /* 🍓"),
    Colourway("white", ["navy"], name="Crème 2"),
]


def _wanted() -> dict[str, str]:
    wanted = {}
    for stem, colourway in zip(
        ["Morning", "body-color-red-strawberry", "Crème-2"], COLOURWAYS, strict=True
    ):
        wanted[f"--{stem}-ground"] = colourway.ground.hex
        side = len(colourway.stripes) + 1
        for warp in range(1, side):
            wanted[f"--{stem}-stripe-{warp}"] = colourway.stripes[warp - 1].hex
            wanted[f"--{stem}-warp-{warp}"] = hex_of(colourway.tones[warp, 0])
            wanted[f"--{stem}-weft-{warp}"] = hex_of(colourway.tones[0, warp])
            for weft in range(1, side):
                wanted[f"--{stem}-warp-{warp}-weft-{weft}"] = hex_of(colourway.tones[warp, weft])
    return wanted


def test_every_tone_has_a_property_and_nothing_breaks_out():
    css = set_css(COLOURWAYS, Check("0.5 in", 2))
    bare = re.sub(r"/\*.*?\*/", "", css, flags=re.DOTALL)
    assert bare.count("{") == bare.count("}") == 1
    found = dict(re.findall(r"(--[^:\s]+): (#[0-9a-f]{6});", bare))
    assert found == _wanted()


@pytest.mark.browser
def test_chromium_shows_the_colours():
    playwright = pytest.importorskip("playwright.sync_api")
    chromium = shutil.which("chromium")
    if chromium is None:
        pytest.skip("chromium is not here")
    wanted = _wanted()
    boxes = "".join(
        f'<div id="b{number}" style="background:var({name})">x</div>'
        for number, name in enumerate(wanted)
    )
    page_text = f"<style>{set_css(COLOURWAYS, Check('0.5 in', 2))}</style>{boxes}"
    flags = "no-sandbox disable-gpu disable-quic no-first-run disable-sync"
    flags += " disable-background-networking disable-component-update"
    with playwright.sync_playwright() as driver:
        browser = driver.chromium.launch(
            executable_path=chromium, args=[f"--{flag}" for flag in flags.split()]
        )
        try:
            page = browser.new_page()
            page.set_content(page_text)
            shown = page.evaluate(
                "[...document.querySelectorAll('div')]"
                ".map(box => getComputedStyle(box).backgroundColor)"
            )
            ink = page.evaluate("getComputedStyle(document.body).color")
        finally:
            browser.close()
    for text, value in zip(shown, wanted.values(), strict=True):
        rgb = [int(part) for part in re.findall(r"\d+", text)]
        assert "#{:02x}{:02x}{:02x}".format(*rgb) == value
    assert ink == "rgb(0, 0, 0)"  # no name could set a style of its own
