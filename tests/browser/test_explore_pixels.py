"""What the page draws is the tones: pixels read back equal ``tile_pixels``, at any density."""

from __future__ import annotations

import base64
import random
from fractions import Fraction

import nbformat
import numpy as np
import pytest
from desk_driver import DeskPage
from lab_page import LabPage
from nbformat.v4 import new_code_cell, new_notebook
from playwright.sync_api import Locator, expect

from checkcloth import MIXINGS, Check, Colourway, Length, see_as, tile_pixels
from checkcloth.colour.spaces import srgb_to_bytes

pytestmark = pytest.mark.browser

KERNEL = {"kernelspec": {"name": "python3", "display_name": "Python 3", "language": "python"}}
_CLOTH = """canvas => {
    const {width, height} = canvas;
    const {data} = canvas.getContext('2d').getImageData(0, 0, width, height);
    return {width, height, pixels: Number(canvas.dataset.pixels),
            data: btoa(Array.from(data, byte => String.fromCharCode(byte)).join(''))};
}"""


def assert_same_cloth(seen, wanted):
    """The page mixes for itself, and may round the last of 255 steps the other way."""
    assert seen.shape == wanted.shape
    assert np.abs(seen.astype(int) - wanted.astype(int)).max() <= 1


def random_colourways(seed: int, many: int = 14) -> list[Colourway]:
    rng = random.Random(seed)

    def colour() -> str:
        return f"#{rng.randrange(1 << 24):06x}"

    return [
        Colourway(
            colour(),
            [colour() for _ in range(rng.choice([1, 2, 3, 5, 6, 8, 12, 24]))],
            rng.random(),
            rng.choice(MIXINGS),
        )
        for _ in range(many)
    ]


def tiled(colourway: Colourway, size: Length, dpi: Fraction, width: int, height: int) -> np.ndarray:
    tile, _ = tile_pixels(colourway, Check(size, len(colourway.stripes)), dpi)
    rows, columns = np.arange(height) % len(tile), np.arange(width) % len(tile)
    return tile[rows[:, None], columns]


def whole_pixels(size: Length, dpi: Fraction) -> int:
    """Pixels a check on the page at a stated size: whole ones, as every check is to be alike."""
    return max(1, round(size / Length("1 in") * dpi))


def plan_of(colourway: Colourway, pixels: int) -> np.ndarray:
    return Check("1 cm", len(colourway.stripes)).plan(pixels)


def to_the_top(desk: DeskPage) -> None:
    """Walk back to the first cloth of the wall, as a hand does."""
    desk.wall.locator(".cc-option.cc-current").focus()
    desk.lab.page.keyboard.press("Home")


def cloth_on_wall(desk: DeskPage, place: int) -> np.ndarray:
    """Return the cloth of a colourway on the wall, (H, W, 3); it comes into sight."""
    if place == 0:  # the wall may have been walked along before
        to_the_top(desk)
    desk.option(place).focus()
    found = desk.swatch(place)
    seen = np.frombuffer(found["data"], np.uint8).reshape(found["side"], found["side"], 4)
    assert (seen[..., 3] == 255).all()
    return seen[..., :3]


def cloth_of(canvas: Locator) -> tuple[np.ndarray, int]:
    """Return the cloth of a canvas, (H, W, 3), and its pixels a check."""
    found = canvas.evaluate(_CLOTH)
    seen = np.frombuffer(base64.b64decode(found["data"]), np.uint8)
    return seen.reshape(found["height"], found["width"], 4)[..., :3], found["pixels"]


def open_wall(lab: LabPage, colourways: list[Colourway], size: Length) -> DeskPage:
    source = (
        "from checkcloth import Colourway\nfrom checkcloth.desk import open_desk\n"
        f"desk = open_desk('../palettes', size={size.text!r})\n"
        "desk.show(["
        + ", ".join(
            f"Colourway({c.ground.text!r}, {[s.text for s in c.stripes]!r}, {c.strength!r}, "
            f"{c.mixing!r})"
            for c in colourways
        )
        + "])\ndesk"
    )
    book = new_notebook(cells=[new_code_cell(source)], metadata=KERNEL)
    nbformat.write(book, lab.folder / "notebooks" / "pixels.ipynb")
    lab.open_notebook("pixels.ipynb")
    lab.run_all()
    return DeskPage(lab)


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
def test_pixels_on_the_page_equal_tile_pixels(lab, ratio, size, scale):
    colourways = random_colourways(seed=round(ratio * 100))
    length = Length(size)
    browser = lab.page.context.browser
    context = browser.new_context(
        viewport={"width": 1200, "height": 900}, device_scale_factor=ratio
    )
    try:
        other = LabPage(context.new_page(), lab.server, lab.folder)
        desk = open_wall(other, colourways, length)
        assert other.page.evaluate("() => devicePixelRatio") == ratio
        # As it opens: whole repeats, all at one scale, each closed by its first band once more.
        (pixels,) = {desk.swatch(place)["pixels"] for place in range(4)}
        longest = max(len(plan_of(colourway, pixels)) for colourway in colourways)
        for place, colourway in enumerate(colourways):
            seen = cloth_on_wall(desk, place)
            assert longest < len(seen), "the longest repeat is whole, and begins again"
            wanted = tiled(
                colourway, length, pixels / (length / Length("1 in")), *seen.shape[1::-1]
            )
            assert_same_cloth(seen, wanted)
        # At a share of the true size.
        desk.choose("Wall shows", scale)
        pixels = whole_pixels(length, 96 * Fraction(ratio) * Fraction(scale))
        for place, colourway in enumerate(colourways):
            seen = cloth_on_wall(desk, place)
            assert desk.swatch(place)["pixels"] == pixels
            wanted = tiled(
                colourway, length, pixels / (length / Length("1 in")), *seen.shape[1::-1]
            )
            assert_same_cloth(seen, wanted)

        # Under the hand: a repeat, the true size, and as other eyes see it.
        to_the_top(desk)
        desk.option(3).click()
        hand = desk.hand
        hand.get_by_text(desk.ask("desk.widget.names[3]"), exact=True).first.wait_for()
        pressed = hand.locator(".cc-pressed-cloth")
        seen, pixels = cloth_of(pressed)
        wanted = tiled(
            colourways[3], length, pixels / (length / Length("1 in")), *seen.shape[1::-1]
        )
        assert_same_cloth(seen, wanted)
        hand.get_by_role("radio", name="True size").click()
        seen, pixels = cloth_of(pressed)
        assert pixels == whole_pixels(length, 96 * Fraction(ratio))
        wanted = tiled(
            colourways[3], length, pixels / (length / Length("1 in")), *seen.shape[1::-1]
        )
        assert_same_cloth(seen, wanted)
        hand.get_by_role("button", name="As other eyes see it, and in grey").click()
        for nth, vision in enumerate(("protan", "deutan", "tritan", "grey")):
            seen, pixels = cloth_of(hand.locator(".cc-views canvas").nth(nth))
            cells = srgb_to_bytes(see_as(colourways[3].tones, vision))
            plan = plan_of(colourways[3], pixels)
            across = plan[np.arange(len(seen)) % len(plan)]
            assert_same_cloth(seen, cells[across[None, :], across[:, None]])
        assert other.problems == []
    finally:
        context.close()


def test_the_cloth_follows_a_drag_and_the_check_size_asks_nothing_of_the_kernel(lab):
    colourways = random_colourways(seed=5)
    desk = open_wall(lab, colourways, Length("1/2 in"))
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
    busy = "import os, time\nwhile not os.path.exists('go'): time.sleep(0.05)"
    lab.page.evaluate(
        "code => { window.jupyterapp.shell.currentWidget.sessionContext.session.kernel"
        ".requestExecute({code}); }",
        busy,
    )
    lab.page.wait_for_function(
        "() => window.jupyterapp.shell.currentWidget.sessionContext.session.kernel.status"
        " === 'busy'"
    )
    stamp = desk.wall.get_attribute("data-stamp")
    desk.press_on("Check size", "ArrowRight", 8)
    lab.page.wait_for_function("() => document.querySelector('.cc-wall').dataset.pixels === '24'")
    seen = cloth_on_wall(desk, 0)
    assert_same_cloth(seen, tiled(followed[0], Length("1 in"), Fraction(24), *seen.shape[1::-1]))
    # Whole repeats stay as they are; the ruler says how far they are reduced.
    desk.choose("Wall shows", "repeat")
    lab.page.wait_for_function(
        "pixels => document.querySelector('.cc-wall').dataset.pixels === String(pixels)", arg=pixels
    )
    drawn = tiled(followed[0], Length("1 in"), Fraction(pixels), *seen.shape[1::-1])
    assert_same_cloth(cloth_on_wall(desk, 0), drawn)
    assert f"1/{round(96 / pixels)} of true size" in (ruler.get_attribute("title") or "")
    assert desk.wall.get_attribute("data-stamp") == stamp
    (lab.folder / "notebooks" / "go").touch()
    desk.until("str(desk.state.size)", "1 in (25.4 mm)")


def test_a_bank_card_sets_the_true_size(lab):
    desk = open_wall(lab, random_colourways(seed=9), Length("1/2 in"))
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
