"""The main job in a real JupyterLab: see a wall, move sliders, keep, name, export, find files."""

from __future__ import annotations

import json
import re

import pytest
from desk_driver import DeskPage
from playwright.sync_api import expect

pytestmark = pytest.mark.browser


@pytest.fixture
def desk(lab):
    lab.open_notebook("explore.ipynb", stays=True)
    lab.run_all()
    return DeskPage(lab)


def test_sliders_keep_name_and_export(lab, desk):
    page = lab.page
    assert desk.wall.get_by_role("option").count() >= 4
    assert desk.ask("len(desk.state.shown)") == 48

    # Each slider by its keyboard, and what follows it on the wall and under the hand.
    # (Whole repeats fill the wall at any check size; at half its size cloth grows with it.)
    desk.choose("Wall shows", "0.5")
    before = desk.pixels()
    desk.press_on("Check size", "ArrowRight", 4)
    desk.until("str(desk.state.size)", "3/4 in (19.05 mm)")
    assert desk.slider("Check size").get_attribute("aria-valuetext") == "3/4 in"
    expect(desk.hand.get_by_text("repeat 4.5 in (114.3 mm)")).to_be_visible()
    assert desk.pixels() != before
    desk.choose("Wall shows", "repeat")

    desk.press_on("Stripes", "ArrowRight", 2)
    desk.until("desk.state.stripes", 5)
    expect(desk.hand.get_by_text("repeat 7.5 in (190.5 mm)")).to_be_visible()
    expect(desk.option(0)).to_have_accessible_name(re.compile("^([^,]+, ){4}[^,]+ on "))

    # A size typed in millimetres comes back in millimetres first.
    desk.open_more()
    typed = desk.root.get_by_label("Check size, typed", exact=True)
    typed.fill("7 mm")
    typed.press("Enter")
    expect(desk.hand.get_by_text("repeat 70 mm (2.756 in)")).to_be_visible()

    # With a score under each cloth, it follows the strength.
    desk.choose("Under each cloth", "score")
    expect(desk.wall.locator(".cc-caption").first).to_have_text(re.compile(r"^ΔE [\d.]+$"))
    before, figures = desk.pixels(), desk.captions()
    desk.press_on("Overlay strength", "ArrowRight", 20)
    desk.until("desk.state.strength", 0.7)
    desk.wait_for_painted()
    assert desk.pixels() != before
    page.wait_for_function("before => document.querySelectorAll('.cc-caption')[0].textContent "
                           "!== before", arg=figures[0])  # fmt: skip

    # Palette, ground and mixing.
    desk.choose("Palette", "tea-table")
    desk.until("desk.state.palette", "tea-table")
    ground = desk.ask("desk.palette.grounds[0].name")
    desk.choose("Ground", ground)
    desk.until("{card.colourway.ground.name for card in desk.state.shown}", {ground})
    desk.choose("Mixing", "woven")
    desk.until("desk.state.mixing", "woven")

    # Keep one by its tick and one by its key, and name one.
    desk.option(0).hover()
    desk.option(0).locator(".cc-tick").click()
    desk.until("len(desk.kept)", 1)
    desk.option(2).click()
    page.keyboard.press("k")
    desk.until("len(desk.kept)", 2)
    page.keyboard.press("n")
    page.keyboard.type("Platform tea")
    page.keyboard.press("Enter")
    desk.until("[one.name for one in desk.kept]", ["", "Platform tea"])

    # Export, and find the files.
    desk.turn_to("Export").get_by_label("Folder, beside this notebook").fill("out/tea")
    desk.export()
    desk.root.get_by_text("2 colourways exported to out/tea").wait_for()
    folder = lab.folder / "notebooks" / "out" / "tea"
    endings = sorted(path.suffix for path in folder.rglob("*") if path.is_file())
    assert endings.count(".svg") >= 2
    assert endings.count(".png") >= 3, "two tiles and the contact sheet"
    assert ".csv" in endings
    sets = [json.loads(path.read_text("utf-8")) for path in folder.rglob("*.json")]
    assert any(one.get("format") == "checkcloth set" for one in sets)
    assert lab.problems == []


def test_the_cells_below_take_the_kept_set_on(lab, desk):
    desk.option(1).click()
    lab.page.keyboard.press("k")
    desk.until("len(desk.kept)", 1)
    words = desk.ask("str(desk.kept.colourways[0])")
    # Run all again: the same desk goes on, and the cells below work on what is kept.
    cells = lab.run_all()
    assert desk.ask("len(desk.kept)") == 1
    text = json.dumps(cells, ensure_ascii=False)
    assert f"{words} → ground–single" in text
    assert (lab.folder / "notebooks" / "out" / "kept").is_dir()
    assert lab.problems == []


def test_a_slider_of_the_notebooks_own_moves_the_desk_and_follows_it(lab, desk):
    place = next(i for i, cell in enumerate(lab.cells()) if "ipywidgets.link(" in
                 "".join(cell["source"]))  # fmt: skip
    handle = lab.output(place).get_by_role("slider")
    before = desk.pixels()
    handle.focus()
    for _ in range(5):
        lab.page.keyboard.press("ArrowRight")
    desk.until("round(desk.widget.strength, 2)", 0.55)
    expect(desk.slider("Overlay strength")).to_have_attribute("aria-valuetext", "55 %")
    assert desk.pixels() != before
    desk.press_on("Overlay strength", "ArrowRight", 5)
    desk.until("round(slider.value, 2)", 0.6)
    assert lab.problems == []
