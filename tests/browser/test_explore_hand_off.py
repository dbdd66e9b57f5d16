"""The hand-off form in a real JupyterLab: choose, press, see the bar, find the files; mistakes."""

from __future__ import annotations

import csv
import importlib.util
import json
import zipfile
from pathlib import Path

import pytest
from desk_driver import DeskPage
from playwright.sync_api import expect

from checkcloth.export.hand_off.hand_off import open_hand_off
from checkcloth.export.hand_off.manifest import read_manifest

pytestmark = pytest.mark.browser

ICC_MAKER = Path(__file__).parents[1] / "export" / "print" / "icc_maker.py"

# Everything the bar and the line under it show while files are written, as it shows it.
_WATCH = """root => {
    const seen = window.checkclothSeen = [];
    const look = () => {
        const bar = root.querySelector('.cc-bar .progress-bar');
        const said = root.querySelector('.cc-said');
        if (bar && bar.checkVisibility()) seen.push([bar.style.width, said.innerText]);
    };
    new MutationObserver(look).observe(root, {subtree: true, childList: true, attributes: true});
}"""


@pytest.fixture
def desk(lab):
    lab.open_notebook("explore.ipynb")
    lab.run_all()
    made = DeskPage(lab)
    for place in range(3):
        made.keep(place)
    return made


@pytest.fixture
def form(desk):
    return desk.root.locator(".cc-hand-off")


def fold(form, title):
    """Open a fold with the keyboard."""
    head = form.get_by_role("button", name=title)
    head.focus()
    form.page.keyboard.press("Space")
    form.get_by_role("button", name=f"▾ {title}").wait_for()


def press(form):
    form.get_by_role("button", name="Export the kept").click()


def test_a_designer_chooses_without_code_and_finds_the_files(lab, desk, form):
    form.get_by_label("Name of the set").fill("Tea tables, first round")
    form.get_by_label("Folder, beside this notebook").fill("out/tea-table")
    form.get_by_label("Tile resolutions, dpi").fill("150, 300")
    form.get_by_label("Specification sheet").select_option("US Letter")
    form.get_by_label("as one zip file too").check()
    fold(form, "A piece of cloth")
    form.get_by_label("Width").fill("60 cm")
    form.get_by_label("Length").fill("12 in")
    fold(form, "More for the printer")
    form.get_by_label("Plates").select_option("one a tone, solid")
    fold(form, "More for the mill")
    form.get_by_label("Ends").fill("64 per in")
    fold(form, "More for the shop")
    form.get_by_label("The same at other check sizes").fill("0.25 in, 2 cm")
    form.evaluate(_WATCH)
    press(form)
    form.get_by_text("3 colourways exported to out/tea-table").wait_for()

    # The bar was seen on its way, with what came next in words.
    seen = lab.page.evaluate("() => window.checkclothSeen")
    widths = {float(width.rstrip("%")) for width, _ in seen if width}
    assert len(widths) >= 3
    assert any("files written" in said and "Next: " in said for _, said in seen)
    assert form.get_by_role("button", name="Stop").is_hidden()
    assert form.get_by_role("button", name="Export the kept").is_enabled()

    # What was asked for is on the disk.
    folder = lab.folder / "notebooks" / "out" / "tea-table"
    assert len(open_hand_off(folder).colourways) == 3
    assert open_hand_off(folder).name == "Tea tables, first round"
    names = [one.file for one in read_manifest(folder)]
    for ending, many in (
        ("-tile-150dpi.png", 3 + 2 * 3), ("-tile-300dpi.png", 3 + 2 * 3), ("-cloth-150dpi.png", 3),
        ("-plates.csv", 3), ("-draft.png", 3), ("-thumbnail-256.png", 3), ("/set.json", 2),
    ):  # fmt: skip
        assert len([name for name in names if name.endswith(ending)]) == many, ending
    assert (folder / "specification.pdf").read_bytes()[:5] == b"%PDF-"
    plan = next(folder.glob("colourways/*/*-thread-plan.csv"))
    facts = dict(list(csv.reader(plan.read_text("utf-8-sig").splitlines()))[1:])
    assert facts["warp sett"].startswith("ends 64 per in")
    assert json.loads((folder / "manifest.json").read_text("utf-8"))["dpi"] == [150.0, 300.0]
    with zipfile.ZipFile(folder.with_name("tea-table.zip")) as packed:
        assert packed.testzip() is None
        assert len(packed.namelist()) == len(names) + 1

    # And it opens from the page: a sheet in a tab of its own, the zip as a download.
    form.get_by_role("link", name="Contact sheet").click()
    lab.page.get_by_role("tab", name="contact-sheet.png").wait_for()
    lab.page.get_by_role("tab", name="explore.ipynb").click()
    with lab.page.expect_download() as download:
        form.get_by_role("link", name="Download tea-table.zip").click()
    assert zipfile.ZipFile(download.value.path()).testzip() is None
    assert lab.problems == []


def test_a_wrong_sett_is_said_beside_it_and_nothing_is_written(lab, desk, form):
    fold(form, "A piece of cloth")
    form.get_by_label("Width").fill("60 in")
    form.get_by_label("Length").fill("10 in")
    fold(form, "More for the mill")
    form.get_by_label("Ends").fill("64")
    form.get_by_label("Picks").focus()
    beside = form.locator(".cc-form-field").filter(has=form.page.get_by_label("Ends"))
    alert = beside.get_by_role("alert")
    alert.filter(has_text="such as '64 per in' or '24 per cm', found '64'").wait_for()
    # Closed again, the fold opens by itself when the button is pressed.
    form.get_by_role("button", name="More for the mill").click()
    form.get_by_label("Ends").wait_for(state="hidden")
    press(form)
    form.get_by_text("see the field marked").wait_for()
    alert.wait_for()
    assert form.get_by_label("Ends").input_value() == "64"
    assert form.get_by_label("Width").input_value() == "60 in"
    assert not (lab.folder / "notebooks" / "out" / "explore").exists()

    form.get_by_label("Ends").fill("64 per in")
    press(form)
    form.get_by_text("3 colourways exported to out/explore").wait_for()
    assert alert.count() == 0
    # Pressed again, it does not write over what is there.
    press(form)
    form.get_by_text("Must be free, or “replace” ticked").wait_for()
    form.get_by_label("replace an earlier export there").check()
    press(form)
    form.get_by_text("3 colourways exported to out/explore").wait_for()
    assert lab.problems == []


def test_a_press_profile_is_seen_proofed(lab, desk, form):
    spec = importlib.util.spec_from_file_location("icc_maker", ICC_MAKER)
    maker = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(maker)
    profile = lab.folder / "press.icc"  # on the reader's machine, not beside the notebook
    profile.write_bytes(maker.make_press_profile())
    fold(form, "More for the printer")
    form.get_by_label("Press profile").set_input_files(profile)
    form.get_by_role("status").filter(has_text="press.icc, ").wait_for()
    path = form.get_by_label("or its path from here")
    expect(path).to_have_value("press.icc")
    form.get_by_role("button", name="See it proofed").click()
    form.get_by_text("As designed, left, and as proofed, right").wait_for()
    assert form.locator(".cc-proof img").count() == 3
    assert form.get_by_text("greatest shift ΔE00").count() == 3
    path.fill("press.txt")
    form.get_by_role("button", name="See it proofed").click()
    form.get_by_role("alert").filter(has_text="No file is there").wait_for()
    assert form.locator(".cc-proof img").count() == 0
    # One too large for the connection is not sent, and that is said.
    large = lab.folder / "large.icc"
    large.write_bytes(bytes(9_500_000))
    form.get_by_label("Press profile").set_input_files(large)
    form.get_by_role("status").filter(has_text="give its path instead").wait_for()
    assert lab.problems == []


def test_stop_leaves_nothing_and_the_desk_stays_alive(lab, desk, form):
    fold(form, "A piece of cloth")
    form.get_by_label("Width").fill("150 cm")
    form.get_by_label("Length").fill("300 cm")
    form.get_by_label("Tile resolutions, dpi").fill("1200, 600, 300")
    fold(form, "More for the shop")
    sizes = ", ".join(f"{n} mm" for n in range(4, 16))
    form.get_by_label("The same at other check sizes").fill(sizes)
    press(form)
    form.get_by_text("files written").wait_for()
    # The wall answers while files are being written.
    before = desk.wall.get_attribute("data-stamp")
    desk.press_on("Overlay strength, %", "ArrowRight")
    lab.page.wait_for_function(
        "([wall, before]) => wall.dataset.stamp !== before",
        arg=[desk.wall.element_handle(), before],
    )
    assert form.get_by_role("button", name="Stop").is_visible(), "it is still at work"
    form.get_by_role("button", name="Stop").click()
    form.get_by_text("Stopped: nothing was written").wait_for()
    assert not (lab.folder / "notebooks" / "out" / "explore").exists()
    left = [path.name for path in (lab.folder / "notebooks").rglob(".explore*")]
    assert left == []
    assert lab.problems == []


@pytest.mark.parametrize("width", [1400, 700])
def test_fields_stand_in_line_with_room(lab, desk, form, width):
    lab.page.set_viewport_size({"width": width, "height": 1000})
    if width < 1000:
        lab.page.evaluate(
            "() => window.jupyterapp.commands.execute('application:toggle-left-area')"
        )
    for title in (
        "A piece of cloth",
        *(f"More for the {who}" for who in ("printer", "mill", "shop")),
    ):
        fold(form, title)
    fields = form.locator(".cc-form-field :is(input[type=text], select)")
    boxes = fields.evaluate_all(
        "found => found.map(one => one.getBoundingClientRect()).map(b => [b.left, b.width])"
    )
    assert len(boxes) == 17
    assert min(wide for _, wide in boxes) >= 200
    columns = {round(left) for left, _ in boxes}
    assert len(columns) == (3 if width == 1400 else 2), "folds share the columns of the first row"
    cut = form.locator(".widget-label, select, .cc-file, .cc-file label").evaluate_all(
        "found => found.filter(one => one.scrollWidth > one.clientWidth + 1)"
        ".map(one => one.textContent)"
    )
    assert cut == []
