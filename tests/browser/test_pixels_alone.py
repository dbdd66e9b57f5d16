"""What the page draws is the tones: pixels read back equal ``tile_pixels``, at any density."""

from __future__ import annotations

from fractions import Fraction

import pytest
from cloth_driver import (
    assert_same_cloth,
    assert_wall_and_hand,
    cloth_on_wall,
    random_colourways,
    tiled,
)
from playwright.sync_api import expect

from checkcloth import Length

pytestmark = pytest.mark.browser


@pytest.fixture
def alone_options(request):
    ratio = getattr(request.node, "callspec", None) and request.node.callspec.params["ratio"]
    return {"viewport": {"width": 1200, "height": 900}, "device_scale_factor": ratio or 1}


def open_wall(alone, colourways, size):
    return alone.open_desk(lambda desk: desk.show(colourways), palette="", size=size.text)


@pytest.mark.parametrize(
    ("ratio", "size", "scale"),
    [
        (1, "1/2 in", "0.25"),
        (1, "3/16 in", "0.25"),  # 4.5 pixels a check: halves are rounded to even
        (1.25, "7 mm", "0.5"),
        (1.5, "1/8 in", "1"),
        (2, "11/16 in", "0.25"),
        (3, "1 in", "0.5"),
    ],
)
def test_pixels_on_the_page_equal_tile_pixels(alone, ratio, size, scale):
    colourways = random_colourways(seed=round(ratio * 100))
    desk = open_wall(alone, colourways, Length(size))
    assert alone.page.evaluate("() => devicePixelRatio") == ratio
    assert_wall_and_hand(desk, colourways, Length(size), ratio, scale)
    assert alone.problems == []


def test_the_cloth_follows_a_drag_and_the_check_size_asks_nothing_of_the_kernel(alone):
    colourways = random_colourways(seed=5)
    desk = open_wall(alone, colourways, Length("1/2 in"))
    # While each has its own strength the slider stands at their mean.
    mean = round(100 * sum(colourway.strength for colourway in colourways) / len(colourways))
    desk.press_on("Overlay strength", "ArrowRight", 63 - mean)
    desk.until("desk.state.strength", 0.63)
    desk.wait_for_painted()
    size = Length("1/2 in")
    pixels = desk.swatch(0)["pixels"]
    followed = [colourway.with_(strength=0.63) for colourway in colourways]
    for scale, dpi in (("repeat", Fraction(pixels / size.inches)), ("0.25", Fraction(24))):
        desk.choose("Wall shows", scale)
        for place in (0, 4):
            seen = cloth_on_wall(desk, place)
            assert_same_cloth(seen, tiled(followed[place], size, dpi, *seen.shape[1::-1]))
    ruler = desk.root.locator(".cc-ruler")
    assert "1/4 of true size" in (ruler.get_attribute("title") or "")

    # With the kernel busy until the test lets it go, a check size still redraws the cloth.
    with alone.stopped():
        stamp = desk.wall.get_attribute("data-stamp")
        desk.press_on("Check size", "ArrowRight", 8)
        alone.page.wait_for_function(
            "() => document.querySelector('.cc-wall').dataset.pixels === '24'"
        )
        seen = cloth_on_wall(desk, 0)
        assert_same_cloth(
            seen, tiled(followed[0], Length("1 in"), Fraction(24), *seen.shape[1::-1])
        )
        # Whole repeats stay as they are; the ruler says how far they are reduced.
        desk.choose("Wall shows", "repeat")
        alone.page.wait_for_function(
            "pixels => document.querySelector('.cc-wall').dataset.pixels === String(pixels)",
            arg=pixels,
        )
        drawn = tiled(followed[0], Length("1 in"), Fraction(pixels), *seen.shape[1::-1])
        assert_same_cloth(cloth_on_wall(desk, 0), drawn)
        assert f"1/{round(96 / pixels)} of true size" in (ruler.get_attribute("title") or "")
        assert desk.wall.get_attribute("data-stamp") == stamp
    desk.until("str(desk.state.size)", "1 in (25.4 mm)")


def test_a_bank_card_sets_the_true_size(alone):
    desk = open_wall(alone, random_colourways(seed=9), Length("1/2 in"))
    desk.choose("Wall shows", "0.25")
    hand = desk.hand
    hand.get_by_role("radio", name="True size").click()
    hand.get_by_role("button", name="Set true size with a bank card").click()
    dialog = desk.root.get_by_role("dialog", name="Set true size")
    dialog.get_by_label("Size of the rectangle").fill("127")
    card = dialog.get_by_role("img", name="Rectangle to match with a bank card").bounding_box()
    assert card["width"] == pytest.approx(85.60 / 25.4 * 127, abs=0.6)  # ISO/IEC 7810 ID-1
    assert card["height"] == pytest.approx(53.98 / 25.4 * 127, abs=0.6)
    dialog.get_by_role("button", name="Use this size").click()
    # 0.5 in at 127 pixels an inch is 63.5: rounded to even
    expect(hand.locator(".cc-pressed-cloth")).to_have_attribute("data-pixels", "64")
    assert desk.wall.get_attribute("data-pixels") == "16"  # 15.875
