"""The cloth that the page draws, read back in pixels, and what it should be."""

from __future__ import annotations

import base64
import random
from fractions import Fraction
from typing import TYPE_CHECKING

import numpy as np
from desk_driver import SIGNS, DeskPage
from playwright.sync_api import expect

from checkcloth import MIXINGS, Check, Colourway, Length, see_as, tile_pixels
from checkcloth.colour.spaces import srgb_to_bytes

if TYPE_CHECKING:
    from playwright.sync_api import Locator

_CLOTH = """canvas => {
    const signs = SIGNS;
    const {width, height} = canvas;
    const {data} = canvas.getContext('2d').getImageData(0, 0, width, height);
    return {width, height, pixels: Number(canvas.dataset.pixels),
            data: btoa(signs(data))};
}""".replace("SIGNS", SIGNS)


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


def assert_wall_and_hand(
    desk: DeskPage, colourways: list[Colourway], length: Length, ratio: float, scale: str
) -> None:
    """Hold every cloth of the wall against its tile, at two scales, and that under the hand."""
    # As it opens: whole repeats, all at one scale, each closed by its first band once more.
    (pixels,) = {desk.swatch(place)["pixels"] for place in range(4)}
    longest = max(len(plan_of(colourway, pixels)) for colourway in colourways)
    for place, colourway in enumerate(colourways):
        seen = cloth_on_wall(desk, place)
        assert longest < len(seen), "the longest repeat is whole, and begins again"
        wanted = tiled(colourway, length, pixels / (length / Length("1 in")), *seen.shape[1::-1])
        assert_same_cloth(seen, wanted)
    # At a share of the true size.
    desk.choose("Wall shows", scale)
    pixels = whole_pixels(length, 96 * Fraction(ratio) * Fraction(scale))
    for place, colourway in enumerate(colourways):
        seen = cloth_on_wall(desk, place)
        expect(desk.wall).to_have_attribute("data-pixels", str(pixels))
        wanted = tiled(colourway, length, pixels / (length / Length("1 in")), *seen.shape[1::-1])
        assert_same_cloth(seen, wanted)

    # Under the hand: a repeat, the true size, and as other eyes see it.
    to_the_top(desk)
    desk.option(3).click()
    hand = desk.hand
    hand.get_by_text(desk.ask("desk.widget.names[3]"), exact=True).first.wait_for()
    pressed = hand.locator(".cc-pressed-cloth")
    seen, pixels = cloth_of(pressed)
    wanted = tiled(colourways[3], length, pixels / (length / Length("1 in")), *seen.shape[1::-1])
    assert_same_cloth(seen, wanted)
    hand.get_by_role("radio", name="True size").click()
    wanted_pixels = whole_pixels(length, 96 * Fraction(ratio))
    expect(pressed).to_have_attribute("data-pixels", str(wanted_pixels))
    seen, pixels = cloth_of(pressed)
    assert pixels == wanted_pixels
    wanted = tiled(colourways[3], length, pixels / (length / Length("1 in")), *seen.shape[1::-1])
    assert_same_cloth(seen, wanted)
    hand.get_by_role("button", name="As other eyes see it, and in grey").click()
    for nth, vision in enumerate(("protan", "deutan", "tritan", "grey")):
        seen, pixels = cloth_of(hand.locator(".cc-views canvas").nth(nth))
        cells = srgb_to_bytes(see_as(colourways[3].tones, vision))
        plan = plan_of(colourways[3], pixels)
        across = plan[np.arange(len(seen)) % len(plan)]
        assert_same_cloth(seen, cells[across[None, :], across[:, None]])
