"""A check of the designer's own bands, made on a whole desk over the real kernel's code."""

from __future__ import annotations

import base64
from typing import TYPE_CHECKING

import numpy as np
import pytest
from desk_alone import LiveDesk, open_live, settle
from playwright.sync_api import expect

from checkcloth import Check
from checkcloth.export.picture.raster import tile_pixels

if TYPE_CHECKING:
    from playwright.sync_api import Page

pytestmark = pytest.mark.browser

_PIXELS = """canvas => {
    const {data} = canvas.getContext('2d').getImageData(0, 0, canvas.width, canvas.height);
    let text = '';
    for (let at = 0; at < data.length; at += 8192)
        text += String.fromCharCode(...data.subarray(at, at + 8192));
    const px = Number(canvas.dataset.pixels);
    return {wide: canvas.width, high: canvas.height, px, data: btoa(text)};
}"""
_SMALL = """() => [...document.querySelectorAll('.cc-bands :is(input, select, [role=slider])')]
    .filter(node => node.checkVisibility()).map(node => [node.ariaLabel,
        Math.min(node.getBoundingClientRect().width, node.getBoundingClientRect().height)])
    .filter(([label, size]) => size < 23.9 && label)"""


def cloth_is(page: Page, live: LiveDesk, check: Check) -> None:
    """Hold every pixel of the cloth under the hand to the tile of that check."""
    found = page.locator(".cc-main .cc-pressed-cloth").evaluate(_PIXELS)
    data = np.frombuffer(base64.b64decode(found["data"]), np.uint8)
    pixels = data.reshape(found["high"], found["wide"], 4)[..., :3].astype(int)
    state = live.desk.state
    tile, dpi = tile_pixels(state.as_shown(state.shown[0]), check, 2 * found["px"])
    assert dpi == 2 * found["px"], "the repeat is whole pixels, so the tile is at the page's scale"
    down, across = (
        -(-side // part) for side, part in zip(pixels.shape, tile.shape[:2], strict=False)
    )
    whole = np.tile(tile, (down, across, 1))[: pixels.shape[0], : pixels.shape[1]].astype(int)
    assert np.abs(pixels - whole).max() <= 1


def test_a_graduated_check_with_another_weft_from_nothing_in_six_steps(page, live):
    """Open More, take a preset, pull one edge, tick the weft, type its order, press Enter."""
    live.problems = open_live(page, live)
    bands = page.get_by_role("group", name="Bands of the check")
    steps = 0

    page.get_by_role("button", name="More settings").click()
    steps += 1
    bands.get_by_label("Bands", exact=True).select_option("graduated")
    settle(page)
    steps += 1
    assert live.desk.widget.bands == "graduated"

    strip = bands.get_by_role("group", name="Bands, one repeat")
    second = strip.get_by_role("slider", name="Stripe 2, 1½ checks")
    box = second.bounding_box()
    edge, middle = box["x"] + box["width"] - 6, box["y"] + box["height"] / 2
    page.mouse.move(edge, middle)
    page.mouse.down()
    per_check = box["width"] / 1.5
    for part in (0.2, 0.9, 0.5):
        page.mouse.move(edge + part * per_check, middle)
        page.wait_for_timeout(60)
    tried = page.locator(".cc-main .cc-pressed-cloth").evaluate(_PIXELS)["data"]
    assert live.desk.widget.bands == "graduated", "the kernel is asked when the edge is let go of"
    page.mouse.up()
    settle(page)
    steps += 1
    assert tried == page.locator(".cc-main .cc-pressed-cloth").evaluate(_PIXELS)["data"]
    order = "1 A, 1 ground, 2 B, 1 ground, 2 C, 1 ground"
    assert live.desk.widget.bands == order
    cloth_is(page, live, Check("1/2 in", 3, warp=order))

    bands.get_by_label("another order in the weft").check()
    settle(page)
    steps += 1
    field = bands.get_by_label("Weft, in order")
    field.fill("4 A, 1 ground, 1/2 B, 1/2 ground, 2 C, 1 ground")
    steps += 1
    page.keyboard.press("Enter")
    settle(page)
    steps += 1
    assert steps == 6
    weft = "4 A, 1 ground, 1/2 B, 1/2 ground, 2 C, 1 ground"
    assert (live.desk.widget.bands, live.desk.widget.weft) == (order, weft)
    cloth_is(page, live, Check("1/2 in", 3, warp=order, weft=weft))
    assert page.evaluate(_SMALL) == []

    field.fill("4 A, 2 D")
    page.keyboard.press("Enter")
    settle(page)
    expect(bands.get_by_role("status").filter(has_text="D")).to_contain_text("'D'")
    expect(field).to_have_attribute("aria-invalid", "true")
    assert live.desk.widget.weft == weft

    first = strip.get_by_role("slider", name="Stripe 1, 1 check")
    first.focus()
    page.keyboard.press("ArrowRight")
    settle(page)
    expect(strip.get_by_role("slider", name="Stripe 1, 1½ checks")).to_be_focused()
    live.do(live.desk.undo)
    page.evaluate("() => window.model.send({do: 'ping', id: 'p'})")
    settle(page)
    cloth_is(page, live, Check("1/2 in", 3, warp=order, weft=weft))
