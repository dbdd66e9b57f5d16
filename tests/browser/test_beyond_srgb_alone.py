"""Colours that no screen shows, on the page: drawn as Python shows them, and told in words."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest
from desk_alone import LiveDesk, open_live, settle
from playwright.sync_api import expect
from test_page_alone import cloth, scale

from checkcloth import Palette, write_palette
from checkcloth.cloth.named_colour import NamedColour
from checkcloth.colour.spaces import srgb_to_bytes

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from playwright.sync_api import Page

pytestmark = pytest.mark.browser

NM = np.arange(380, 731, 10)


def yarn(name: str, middle: float, wide: float) -> NamedColour:
    values = 0.05 + 0.75 * np.exp(-(((NM - middle) / wide) ** 2))
    return NamedColour(name, reflectance=tuple(values.tolist()))


WIDE = [
    NamedColour.of(text, name)
    for name, text in (
        ("Reef", "color(display-p3 0 0.6 0.5)"),
        ("Buoy", "color(rec2020 0.9 0.2 0.1)"),
        ("Kelp", "lab(45 -45 35)"),
        ("Sand", "#e8d8b8"),
    )
]
YARNS = [yarn("Sea", 470, 50), yarn("Moss", 530, 30), yarn("Rose", 680, 90), yarn("Haze", 600, 300)]


PALETTES = {"wide": WIDE, "yarns": YARNS}


@pytest.fixture
def desk(
    request: pytest.FixtureRequest, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> Iterator[LiveDesk]:
    """A desk of one palette and one mixing."""
    palette, mixing = request.param
    monkeypatch.chdir(tmp_path)
    (tmp_path / "palettes").mkdir()
    path = tmp_path / "palettes" / f"{palette}.csv"
    write_palette(Palette(palette, PALETTES[palette]), path)
    made = LiveDesk(tmp_path, palette, stripes=2, count=24, mixing=mixing, strength=0.7)
    yield made
    made.close()
    assert made.problems == []
    assert made.desk.troubles == []


@pytest.mark.parametrize(
    "desk",
    [("wide", "source-over"), ("wide", "woven"), ("wide", "ink"), ("yarns", "woven"),
     ("yarns", "ink"), ("yarns", "pigment")],
    indirect=True,
    ids=" ".join,
)  # fmt: skip
def test_the_wall_shows_what_python_does(page: Page, desk: LiveDesk) -> None:
    desk.problems = open_live(page, desk)
    checked = 0
    for index, card in enumerate(desk.desk.state.shown[:6]):
        colourway = card.colourway
        assert any(colourway.known)
        drawn = cloth(page, index)
        bands = [k for n in range(1, len(colourway.stripes) + 1) for k in (n, 0)]
        at = np.array([bands[(x // scale(page)) % len(bands)] for x in range(len(drawn))])
        table = srgb_to_bytes(colourway.tones).astype(int)
        assert np.abs(drawn - table[at[None, :], at[:, None]]).max() <= 1
        checked += 1
    assert checked == 6


@pytest.mark.parametrize("desk", [("wide", "woven")], indirect=True, ids=" ".join)
def test_colours_that_no_screen_shows_are_told(page: Page, desk: LiveDesk) -> None:
    desk.problems = open_live(page, desk)
    page.get_by_role("tab", name="Colours").click()
    settle(page)
    told = 0
    for colour in desk.desk.palette:
        row = page.get_by_role("row").filter(has=page.get_by_label(f"Code of {colour.name}"))
        if colour.xyz is None:
            expect(row).not_to_contain_text("ΔE00")
        else:
            expect(row).to_contain_text(colour.shift_words)
            told += 1
    assert told == 3
