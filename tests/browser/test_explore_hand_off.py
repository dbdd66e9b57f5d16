"""The export in a real JupyterLab: choose, press, see the bar, find the files; stop, go on."""

from __future__ import annotations

import csv
import fnmatch
import json
import re
import zipfile

import pytest
from desk_driver import DeskPage
from playwright.sync_api import expect

from checkcloth.export.hand_off.hand_off import open_hand_off
from checkcloth.export.hand_off.manifest import read_manifest

pytestmark = pytest.mark.browser

# Everything the bar and the line beside it show while files are written.
_WATCH = """root => {
    const seen = window.checkclothSeen = [];
    const look = () => {
        const bar = root.querySelector('progress');
        if (bar.checkVisibility()) seen.push([bar.value, root.innerText]);
    };
    new MutationObserver(look).observe(root, {subtree: true, childList: true, attributes: true,
                                              characterData: true});
}"""


@pytest.fixture
def desk(lab):
    lab.open_notebook("explore.ipynb", stays=True)
    lab.run_to("open_desk(")
    made = DeskPage(lab)
    for place in range(3):
        made.keep(place)
    return made


@pytest.fixture
def form(desk):
    return desk.turn_to("Export")


def section(form, whom):
    return form.get_by_role("region", name=f"For the {whom}")


def press(form):
    form.get_by_role("button", name=re.compile(r"^Export")).click()


def test_a_designer_chooses_without_code_and_finds_the_files(lab, desk, form):
    form.get_by_label("Name of the set").fill("Tea tables, first round")
    form.get_by_label("Folder, beside this notebook").fill("out/tea-table")
    form.get_by_label("as one zip file too").check()
    section(form, "client").get_by_label("Specification sheet").select_option("US Letter")
    printer = section(form, "printer")
    printer.get_by_label("Resolution, dpi").fill("150, 300")
    printer.get_by_label("Plates").select_option("one a tone, solid")
    printer.get_by_label("The same at other check sizes").fill("0.25 in, 2 cm")
    form.get_by_role("checkbox", name="For the mill").check()
    mill = section(form, "mill")
    mill.get_by_label("width").fill("60 cm")
    mill.get_by_label("length").fill("12 in")
    mill.get_by_label("Ends").fill("64 per in")
    mill.get_by_label("Ends").blur()
    mill.get_by_text("3 × draft").wait_for()
    form.evaluate(_WATCH)
    press(form)
    form.get_by_text("3 colourways exported to out/tea-table").wait_for()

    # The bar was seen on its way, with what came next in words.
    seen = lab.page.evaluate("() => window.checkclothSeen")
    assert len({value for value, _ in seen}) >= 3
    assert any("files written" in said and "Next: " in said for _, said in seen)
    assert form.get_by_role("button", name="Stop").is_hidden()
    assert form.get_by_role("button", name=re.compile("^Export")).is_enabled()

    # What was asked for is on the disk.
    folder = lab.folder / "notebooks" / "out" / "tea-table"
    assert len(open_hand_off(folder).colourways) == 3
    assert open_hand_off(folder).name == "Tea tables, first round"
    names = [one.file for one in read_manifest(folder)]
    for pattern, many in (
        ("*-tile-*-150dpi.png", 3 + 3), ("*-tile-*-300dpi.png", 3 + 3),
        ("*-tile-2cm-*dpi.png", 2 * 3),  # 12 cm is no whole number of pixels at either
        ("*-cloth-150dpi.png", 3), ("*-plates.csv", 3), ("*-draft.png", 3),
        ("*-thumbnail-256.png", 3), ("*/set.json", 2),
    ):  # fmt: skip
        assert len(fnmatch.filter(names, pattern)) == many, pattern
    assert (folder / "specification.pdf").read_bytes()[:5] == b"%PDF-"
    plan = next(folder.glob("colourways/*/*-thread-plan.csv"))
    facts = dict(list(csv.reader(plan.read_text("utf-8-sig").splitlines()))[1:])
    assert facts["warp sett"].startswith("ends 64 per in")
    assert json.loads((folder / "manifest.json").read_text("utf-8"))["dpi"] == [150.0, 300.0]
    with zipfile.ZipFile(folder.with_name("tea-table.zip")) as packed:
        assert packed.testzip() is None
        assert len(packed.namelist()) == len(names) + 1

    # And it opens from the page: a sheet in a tab of its own, the zip as a download.
    links = desk.root.locator(".cc-export-links")
    links.get_by_role("link", name="Contact sheet").click()
    lab.page.get_by_role("tab", name="contact-sheet.png").wait_for()
    lab.page.get_by_role("tab", name="explore.ipynb").click()
    with lab.page.expect_download() as download:
        links.get_by_role("link", name="Download tea-table.zip").click()
    assert zipfile.ZipFile(download.value.path()).testzip() is None
    # They stand with the export, and nowhere else.
    desk.turn_to("Wall")
    expect(links).to_be_hidden()
    assert lab.problems == []


def test_stop_leaves_nothing_and_the_desk_stays_alive(lab, desk, form):
    section(form, "client").get_by_text("More choices").click()
    section(form, "client").get_by_label("width").fill("150 cm")
    section(form, "client").get_by_label("length").fill("300 cm")
    printer = section(form, "printer")
    # Films of every tone at this resolution take tens of seconds.
    printer.get_by_label("Resolution, dpi").fill("3600, 600, 300")
    printer.get_by_label("Plates").select_option("one a tone, solid")
    sizes = ", ".join(f"{n} mm" for n in range(4, 16))
    printer.get_by_label("The same at other check sizes").fill(sizes)
    printer.get_by_label("The same at other check sizes").blur()
    press(form)
    form.get_by_text("files written").wait_for()
    # The wall answers while files are being written.
    desk.turn_to("Wall")
    before = desk.wall.get_attribute("data-paints")
    desk.press_on("Overlay strength", "ArrowRight")
    lab.page.wait_for_function(
        "([wall, before]) => wall.dataset.paints !== before",
        arg=[desk.wall.element_handle(), before],
    )
    desk.turn_to("Export")
    expect(form.get_by_role("button", name="Stop")).to_be_visible()
    form.get_by_role("button", name="Stop").click()
    form.get_by_text("Stopped: nothing was written").wait_for()
    assert not (lab.folder / "notebooks" / "out" / "explore").exists()
    left = [path.name for path in (lab.folder / "notebooks").rglob(".explore*")]
    assert left == []
    assert lab.problems == []


def test_another_desk_goes_on_with_what_was_filled_in(lab, desk, form):
    form.get_by_role("checkbox", name="For the web shop").uncheck()
    section(form, "printer").get_by_label("Resolution, dpi").fill("100")
    section(form, "printer").get_by_label("Resolution, dpi").blur()
    desk.until("desk.hand_off.fields.values['resolutions']", "100")
    lab.run_all()
    again = DeskPage(lab)
    form = again.turn_to("Export")
    expect(form.get_by_role("checkbox", name="For the web shop")).not_to_be_checked()
    expect(section(form, "printer").get_by_label("Resolution, dpi")).to_have_value("100")
    press(form)
    form.get_by_text("3 colourways exported to out/explore").wait_for()
    written = {one.file for one in read_manifest(lab.folder / "notebooks" / "out" / "explore")}
    assert not [name for name in written if "thumbnail" in name or name.endswith(".css")]
    assert len(fnmatch.filter(written, "*-tile-*-100dpi.png")) == 3
    assert lab.problems == []
