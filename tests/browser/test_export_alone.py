"""The Export part of the desk by itself, over a real desk: what is asked for, told, and written."""

from __future__ import annotations

import hashlib
import io
import re
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np
import pytest
from desk_alone import LiveDesk, open_live, settle
from icc_maker import make_press_profile
from PIL import Image
from playwright.sync_api import expect
from uneven_cases import INCH, UNEVEN

from checkcloth import Length, tile_pixels, tile_svg
from checkcloth.export.hand_off.hand_off import open_hand_off
from checkcloth.export.hand_off.manifest import read_manifest

if TYPE_CHECKING:
    from playwright.sync_api import Locator, Page

pytestmark = pytest.mark.browser


@pytest.fixture
def page_size() -> tuple[int, int]:
    return 1320, 1100


@pytest.fixture
def live(live: LiveDesk) -> LiveDesk:
    for number in (1, 2):
        live.do(lambda number=number: live.desk.keep(number))
    return live


def turned(page: Page, live: LiveDesk) -> Locator:
    """Show the desk's Export; every fault of the page is one of the test."""
    live.problems = open_live(page, live)
    page.get_by_role("tab", name="Export").click()
    settle(page)
    return page.get_by_role("tabpanel", name="Export")


def section(part: Locator, whom: str) -> Locator:
    return part.get_by_role("region", name=f"For the {whom}")


def made_for(part: Locator, whom: str) -> list[str]:
    rows = section(part, whom).get_by_role("list", name="What is made").get_by_role("listitem")
    return rows.all_inner_texts()


def go(page: Page, part: Locator) -> None:
    part.get_by_role("button", name=re.compile(r"^Export \d")).click()
    settle(page)


def files_of(folder: Path) -> dict[str, str]:
    return {path.relative_to(folder).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest()
            for path in sorted(folder.rglob("*")) if path.is_file()}  # fmt: skip


def test_each_task_says_what_it_makes_and_its_head_takes_it_away(page, live, tmp_path):
    part = turned(page, live)
    printer = made_for(part, "printer")
    assert any(re.match(r"2 × tile, PNG at 300 dpi, 900 px across\s", row) for row in printer)
    assert all(re.search(r"\d (kB|MB)$", row.strip()) for row in printer), "each with its size"
    assert (
        section(part, "printer").get_by_text("Not given: an ICC profile of the press").is_visible()
    )
    assert not section(part, "mill").get_by_label("Ends").is_visible()
    part.get_by_role("checkbox", name="For the mill").check()
    section(part, "mill").get_by_text(
        "Nothing yet: it needs a sett, and width and length"
    ).wait_for()
    for whom in ("mill", "web shop", "printer"):
        part.get_by_role("checkbox", name=f"For the {whom}").uncheck()
        settle(page)
    assert not section(part, "printer").get_by_label("Plates").is_visible()
    go(page, part)
    part.get_by_text("2 colourways exported to out/explore").wait_for()
    written = {one.file for one in read_manifest(tmp_path / "out" / "explore")}
    assert written > {"set.json", "scores.csv", "contact-sheet.png", "specification.pdf"}
    others = re.compile(r"tile|thumbnail|tones|colours\.|draft|plan")
    assert [name for name in written if others.search(name)] == []
    assert part.get_by_text("contact-sheet.png, specification.pdf").is_visible()
    assert open_hand_off(tmp_path / "out" / "explore") == live.desk.kept.__class__(
        live.desk.kept.check, live.desk.kept.chosen, "explore"
    )


def test_no_task_at_all_is_said_beside_the_first(page, live, tmp_path):
    part = turned(page, live)
    for whom in ("client", "printer", "web shop"):
        part.get_by_role("checkbox", name=f"For the {whom}").uncheck()
    settle(page)
    section(part, "client").get_by_role("alert").filter(has_text="Tick at least one").wait_for()
    part.get_by_role("button", name="Export").click()
    settle(page)
    assert not (tmp_path / "out").exists()


def test_a_remedy_is_a_press_and_a_resolution_that_is_not_exact_is_said(page, live):
    """A repeat of 3/4 in is 112.5 pixels at 150 dpi, 113 at 150 2/3, 114 at 152 (arithmetic)."""
    live.do(lambda: setattr(live.desk.widget, "size", "1/8 in"))
    live.do(lambda: live.desk.hand_off.fields.show({"resolutions": "150, 304"}))
    part = turned(page, live)
    assert any("113 px across, exact at 150 2/3 dpi" in row for row in made_for(part, "printer"))
    part.get_by_role("button", name="Ask for 152 dpi").click()
    settle(page)
    expect(section(part, "printer").get_by_label("Resolution, dpi")).to_have_value("152, 304")
    expect(part.get_by_role("button", name="Ask for 152 dpi")).to_have_count(0)
    assert not any("exact at" in row for row in made_for(part, "printer"))
    part.get_by_role("button", name="Name them").click()
    expect(page.get_by_role("tab", name="Range")).to_have_attribute("aria-selected", "true")
    expect(page.get_by_role("tab", name="Range")).to_have_attribute("aria-selected", "true")
    nameless = page.get_by_role("tabpanel", name="Range").get_by_role(
        "textbox", name=re.compile("^Name of ")
    )
    expect(nameless.and_(page.locator("[data-part^='name ']")).first).to_be_focused()


def test_an_earlier_export_is_left_alone_or_replaced_as_is_said_before(page, live, tmp_path):
    part = turned(page, live)
    go(page, part)
    first = files_of(tmp_path / "out" / "explore")
    settle(page)
    assert part.get_by_text("Beside it, in out/explore-2").is_visible()
    assert part.get_by_text("In its place: none is lost, all are written anew").is_visible()
    # Beside it, without a question, and the first as it was.
    section(part, "web shop").get_by_label("Pictures, pixels a side").fill("")
    page.keyboard.press("Tab")
    settle(page)
    part.get_by_role("button", name=re.compile("to out.explore-2$")).click()
    settle(page)
    part.get_by_text("2 colourways exported to out/explore-2").wait_for()
    assert files_of(tmp_path / "out" / "explore") == first
    # In its place: which files go is said before.
    settle(page)
    part.get_by_role("radio", name="In its place: 2 files go").check()
    settle(page)
    part.get_by_text("See which 2 go").click()
    gone = part.get_by_role("list", name="Files of the earlier export that go").get_by_role(
        "listitem"
    )
    said = gone.all_inner_texts()
    assert all(name.endswith("-thumbnail-256.png") for name in said)
    go(page, part)
    part.get_by_text("2 colourways exported to out/explore:").wait_for()
    after = files_of(tmp_path / "out" / "explore")
    assert set(first) - set(after) == set(said)
    assert part.get_by_text("2 files of the earlier export are gone").is_visible()


def test_a_folder_that_is_not_ours_blocks_and_nothing_else_does(page, live, tmp_path):
    (tmp_path / "mine").mkdir()
    (tmp_path / "mine" / "letter.txt").write_text("mine")
    live.do(lambda: live.desk.hand_off.fields.show({"folder": "mine"}))
    part = turned(page, live)
    button = part.get_by_role("button", name=re.compile(r"^Export"))
    expect(button).to_have_attribute("aria-disabled", "true")
    part.get_by_text("mine holds what is of no hand-off: letter.txt").wait_for()
    button.click(force=True)
    settle(page)
    expect(part.get_by_label("Folder, beside this notebook")).to_be_focused()
    assert files_of(tmp_path / "mine").keys() == {"letter.txt"}
    part.get_by_label("Folder, beside this notebook").fill("out/ours")
    page.keyboard.press("Enter")
    settle(page)
    expect(button).to_have_attribute("aria-disabled", "false")
    go(page, part)
    assert (tmp_path / "out" / "ours" / "manifest.json").exists()


def test_with_nothing_kept_the_one_under_the_hand_is_offered(page, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    live = LiveDesk(tmp_path, stripes=2)
    part = turned(page, live)
    part.get_by_text("Nothing is kept yet: what is exported is the one under the hand").wait_for()
    go(page, part)
    part.get_by_text("1 colourway exported to out/explore").wait_for()
    (only,) = open_hand_off(tmp_path / "out" / "explore")
    assert only == live.desk.shown[0]
    assert len(live.desk.kept) == 0
    live.close()


def test_everything_that_can_be_asked_for_is_a_field(page, live):
    """What a person types reaches the kernel's fields, all of them; folded ones too."""
    part = turned(page, live)
    part.get_by_role("checkbox", name="For the mill").check()
    for summary in part.locator(".cc-task summary").all():
        if summary.is_visible():
            summary.click()
    typed = {
        "Name of the set": ("name", "Tea <b>"), "Folder, beside": ("folder", "out/x"),
        "Cloth, width": ("width", "60 cm"), "Cloth, length": ("length", "30 cm"),
        "Resolution, dpi": ("resolutions", "150"), "The same at other": ("sizes", "1 in"),
        "ICC profile of the press, its": ("press", "a.icc"), "Ends": ("ends", "64 per in"),
        "Picks": ("picks", "60 per in"), "Warp take-up": ("warp_take_up", "7"),
        "Weft take-up": ("weft_take_up", "4"), "Waste": ("waste", "3"),
        "Pictures, pixels": ("thumbnails", "64"),
        "Title, on page and sheet": ("title", "Tea <tables>"),
        "Note to the client": ("note", "For the halt."), "Reference": ("reference", "QH 31"),
        "Date": ("date", "27 November 2026"), "Check sizes to choose": ("client_sizes", "2 in"),
        "Strengths to choose": ("client_strengths", "30, 70"),
        "Resolution, at least": ("least_dpi", "100"), "Resolution, at most": ("most_dpi", "900"),
        "Colour space": ("colour_space", "CMYK"), "File, at most": ("megabytes", "20"),
        "Pixels a side, at most": ("side", "9000"), "Width of its cloth": ("cloth_width", "1 m"),
        "Rotary screens": ("screens", "82 cm"), "Stretch to fit": ("stretch", "1"),
        "Strike-off, a side": ("strike_off", "10 cm"), "Threads a band": ("threads", "4"),
        "Tones apart": ("difference", "3"),
        "Print condition": ("condition", "halt.txt"),
    }  # fmt: skip
    for label, (_, value) in typed.items():
        part.get_by_label(label).last.fill(value)
        page.keyboard.press("Tab")
    chosen = {"Specification sheet": ("paper", "Letter"), "Cut the cloth": ("cut", "cut"),
              "Plates": ("plates", "tones"),
              "Rendering intent": ("intent", "perceptual")}  # fmt: skip
    for label, (_, value) in chosen.items():
        part.get_by_label(label).select_option(value)
    part.get_by_role("checkbox", name="as one zip file too").check()
    part.get_by_role("checkbox", name="black-point compensation").uncheck()
    part.get_by_role("checkbox", name="show the colours' codes").uncheck()
    part.get_by_role("checkbox", name="and on the bias").check()
    part.get_by_role("checkbox", name="a sheet of each one's family").check()
    settle(page)
    held = live.desk.hand_off.fields.shown
    assert held == held | dict(typed.values())
    assert held == held | {"paper": "Letter", "cut": True, "plates": "tones", "zipped": True,
                           "intent": "perceptual", "black_point": False, "mill": True,
                           "codes": False, "bias": True, "families": True}  # fmt: skip
    on_the_page = {"replace", "keep_other_sizes", "client", "printer", "mill", "shop"}
    named = {name for name, _ in [*typed.values(), *chosen.values()]}
    named |= {"zipped", "black_point", "codes", "bias", "families"}
    assert set(held) == named | on_the_page, "what hand_off takes is on the page, all of it"
    # The same field stands for client and mill, and is one.
    expect(section(part, "client").get_by_label("Cloth, width")).to_have_value("60 cm")


def test_a_wrong_field_is_said_beside_it_and_a_fold_opens_for_it(page, live, tmp_path):
    part = turned(page, live)
    printer = section(part, "printer")
    live.do(lambda: live.desk.hand_off.fields.show({"press": "nowhere.icc"}))
    printer.get_by_label("Plates").select_option("tones")
    settle(page)
    alert = printer.get_by_role("alert").filter(has_text="No file is there")
    alert.wait_for()
    field = printer.get_by_label("ICC profile of the press, its path")
    expect(field).to_have_attribute("aria-invalid", "true")
    expect(field).to_have_accessible_description(re.compile("No file is there"))
    part.get_by_role("button", name="Export").click()
    settle(page)
    part.get_by_text("Not exported: see the field marked").wait_for()
    assert not (tmp_path / "out").exists()
    field.fill("")
    page.keyboard.press("Tab")
    settle(page)
    expect(alert).to_have_count(0)
    expect(part.get_by_text("Not exported")).to_have_count(0)
    go(page, part)
    part.get_by_text("2 colourways exported to").wait_for()


def test_a_press_profile_is_chosen_and_seen_proofed(page, live, tmp_path):
    profile = tmp_path / "elsewhere.icc"
    profile.write_bytes(make_press_profile())
    part = turned(page, live)
    printer = section(part, "printer")
    printer.get_by_text("More choices").click()
    printer.get_by_role("button", name="See it proofed").click()
    printer.get_by_role("alert").filter(has_text="ask the printer for the profile").wait_for()
    printer.locator("input[type=file]").set_input_files(profile)
    settle(page)
    expect(printer.get_by_label("ICC profile of the press, its path")).to_have_value(
        "elsewhere.icc"
    )
    assert not printer.get_by_text("Not given").is_visible()
    printer.get_by_role("button", name="See it proofed").click()
    settle(page)
    expect(printer.get_by_role("img", name="as designed, left, and as proofed")).to_have_count(2)
    assert printer.get_by_text("greatest shift ΔE00").count() == 2
    large = tmp_path / "large.icc"
    large.write_bytes(bytes(9_500_000))
    printer.locator("input[type=file]").set_input_files(large)
    printer.get_by_role("alert").filter(has_text="give its path instead").wait_for()


def test_the_bar_takes_the_place_of_the_button_and_stop_stops(page, live):
    part = turned(page, live)
    exporting = {"running": True, "done": 3, "total": 12, "alert": False, "faults": {},
                 "words": "3 of 12 files written. Next: set.json", "made": None}  # fmt: skip
    button = part.get_by_role("button", name=re.compile(r"^Export"))
    button.focus()
    page.evaluate("traits => window.model.receive(traits)", {"exporting": exporting})
    expect(part.get_by_role("progressbar", name="Files written")).to_have_js_property("value", 0.25)
    expect(button).to_be_hidden()
    stop = part.get_by_role("button", name="Stop the export")
    expect(stop).to_be_focused()
    assert part.get_by_text("3 of 12 files written").is_visible()
    assert part.get_by_role("status").filter(has_text="3 of 12").count() == 0, "not read out"
    # What is put into a live region that was not there a moment ago is not read out either.
    empty = "node => node.textContent === '' && node.checkVisibility()"
    assert part.locator(".cc-export-go > [role=status]").evaluate(empty)
    stop.click()
    settle(page)
    assert live.desk.hand_off.work.stop_asked.is_set()
    ended = exporting | {"running": False, "words": "Stopped: nothing was written."}
    page.evaluate("traits => window.model.receive(traits)", {"exporting": ended})
    expect(button).to_be_focused()
    part.get_by_role("status").filter(has_text="Stopped: nothing was written").wait_for()


def test_choices_are_there_again_and_go_with_the_range(page, live, tmp_path, new_page):
    part = turned(page, live)
    part.get_by_role("checkbox", name="For the printer").uncheck()
    section(part, "web shop").get_by_label("Pictures").fill("64, 128")
    page.keyboard.press("Enter")
    settle(page)
    go(page, part)
    before = files_of(tmp_path / "out" / "explore")
    again = LiveDesk(tmp_path, stripes=4)
    again.do(lambda: again.desk.answer({"do": "open_range", "path": "explore.kept.json"}))
    other = new_page(1320, 1100)
    try:
        part = turned(other, again)
        expect(part.get_by_role("checkbox", name="For the printer")).not_to_be_checked()
        part.get_by_role("radio", name="In its place").check()
        settle(other)
        go(other, part)
        assert files_of(tmp_path / "out" / "explore") == before
    finally:
        again.close()
        assert again.problems == []


@pytest.mark.parametrize("width", [360, 640, 980, 1040, 1320])
def test_targets_are_large_enough_and_nothing_sticks_out(page, live, width):
    page.set_viewport_size({"width": width, "height": 900})
    live.do(lambda: setattr(live.desk.widget, "size", "1/8 in"))
    assert live.desk.kept.check.size == Length("1/8 in")
    part = turned(page, live)
    part.get_by_role("checkbox", name="For the mill").check()
    for summary in part.locator("summary").all():
        if summary.is_visible():
            summary.click()
    settle(page)
    least = 44 if width <= 640 else 24
    kinds = "button, input[type=text], select, summary, .cc-check"
    small = part.locator(kinds).evaluate_all(
        "(all, least) => all.filter(one => one.checkVisibility())"
        ".map(one => [one.textContent || one.ariaLabel, one.getBoundingClientRect()])"
        ".filter(([, box]) => box.height < least - 0.01 || box.width < 24)"
        ".map(([words]) => words)",
        least,
    )
    assert small == []
    out = page.evaluate(
        "() => [...document.querySelectorAll('.cc-export *')].filter(one => one.checkVisibility()"
        " && !one.closest('.cc-unseen') && one.getBoundingClientRect().right > "
        "document.documentElement.clientWidth).map(one => one.outerHTML.slice(0, 90))"
    )
    assert out == []
    # A label of two lines leaves its field in line with its neighbours.
    tops = page.evaluate(
        "() => { const [first, second] = document.querySelectorAll('.cc-tasks details[open]"
        " .cc-export-fields .cc-field'); second.firstChild.textContent = 'word '.repeat(20);"
        " return [first, second].map(one => one.lastChild.getBoundingClientRect())"
        ".map(({left, top}) => [left, top]); }"
    )
    if tops[0][0] != tops[1][0]:
        assert tops[0][1] == tops[1][1]
    # Nor does a task run in under what stands on its right.
    over = page.evaluate(
        "() => { const {right} = document.querySelector('.cc-tasks').getBoundingClientRect();"
        " return [...document.querySelectorAll('.cc-tasks *')].filter(one => one.checkVisibility()"
        " && !one.closest('.cc-unseen') && one.getBoundingClientRect().right > right + 1)"
        ".map(one => one.outerHTML.slice(0, 90)); }"
    )
    assert over == []


def test_the_pre_flight_stands_with_the_printer_and_its_limits_are_typed(page, live):
    part = turned(page, live)
    looked = part.get_by_role("group", name="Pre-flight")
    notes = looked.get_by_role("list", name="Notes of the pre-flight")
    expect(looked.get_by_text("Pre-flight of 2 colourways")).to_be_visible()
    expect(notes).not_to_contain_text("resolution")
    looked.get_by_text("What the printer takes").click()
    looked.get_by_label("Resolution, at least, dpi").fill("400")
    page.keyboard.press("Tab")
    settle(page)
    row = notes.get_by_role("listitem").filter(has_text="resolution")
    expect(row).to_contain_text("note resolution: 300 dpi; wanted: 400 to 600 dpi. Too coarse")
    expect(row).to_contain_text("both colourways")
    looked.get_by_label("Resolution, at most, dpi").fill("350")
    page.keyboard.press("Tab")
    settle(page)
    expect(looked.get_by_role("alert").filter(has_text="from 400 to 9600")).to_be_visible()
    section(part, "printer").get_by_label("Resolution, at most, dpi").fill("600")
    section(part, "printer").get_by_text("More choices").click()
    section(part, "printer").get_by_role("checkbox", name="and on the bias").check()
    section(part, "client").get_by_text("More choices").click()
    section(part, "client").get_by_role("checkbox", name="a sheet of each one's family").check()
    settle(page)
    assert any("2 × tile on the bias, PNG at 300 dpi" in row for row in made_for(part, "printer"))
    assert any("2 × sheet of the family" in row for row in made_for(part, "client"))


def test_chromium_draws_tiles_of_uneven_bands_as_their_pixels(page):
    """The third renderer of SVG beside resvg and librsvg."""
    page.set_viewport_size({"width": 1600, "height": 1600})
    for colourway, check in UNEVEN:
        ours, _ = tile_pixels(colourway, check, INCH)
        sides = f'width="{ours.shape[1]}" height="{ours.shape[0]}"'
        svg = tile_svg(colourway, check).partition("?>")[2]
        svg = re.sub('width="[^"]+" height="[^"]+"', sides, svg, count=1)
        page.set_content(f"<body style='margin:0;line-height:0'>{svg}</body>")
        drawn = Image.open(io.BytesIO(page.locator("svg").screenshot()))
        np.testing.assert_array_equal(np.asarray(drawn.convert("RGB")), ours)
