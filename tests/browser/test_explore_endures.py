"""What a desk lives through: a stopped kernel, a second view, running again, a reload."""

from __future__ import annotations

import os
import re
import signal

import nbformat
import pytest
from desk_driver import DeskPage
from nbformat.v4 import new_code_cell, new_notebook
from playwright.sync_api import expect

from checkcloth.export.data.saved import open_set

pytestmark = pytest.mark.browser

KERNEL = {"kernelspec": {"name": "python3", "display_name": "Python 3", "language": "python"}}
OPEN = (
    "from checkcloth.desk import open_desk\n"
    "desk = open_desk('../palettes', palette='harvest-stall', count=24)\ndesk"
)
_SAVE = "() => window.jupyterapp.commands.execute('docmanager:save')"
BANNER = "The kernel is not answering"


def open_cells(lab, second="desk", *, before=None, stays=True):
    """Open a notebook that opens a desk, and its second cell; run both or those before one."""
    book = new_notebook(cells=[new_code_cell(OPEN), new_code_cell(second)], metadata=KERNEL)
    name = "endures.ipynb" if second == "desk" else "other.ipynb"
    nbformat.write(book, lab.folder / "notebooks" / name)
    lab.open_notebook(name, stays=stays)
    lab.run_all(before=before)
    return DeskPage(lab)


def set_files(lab):
    return sorted((lab.folder / "notebooks").glob("*.kept.json"))


def begin_drag(lab, desk):
    """Take the strength slider's handle and move it a little, and hold it there."""
    handle = desk.slider("Overlay strength")
    handle.scroll_into_view_if_needed()
    box = handle.bounding_box()
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    lab.page.mouse.move(x, y)
    lab.page.mouse.down()
    lab.page.mouse.move(x + 20, y, steps=5)
    return x, y


def test_a_kernel_lost_in_mid_drag_loses_nothing_kept(lab):
    desk = open_cells(lab, before=1, stays=False)
    desk.keep(0)
    desk.keep(2)
    (path,) = set_files(lab)
    written = path.read_bytes()
    kept = open_set(path).colourways
    pid = desk.ask("__import__('os').getpid()")
    x, y = begin_drag(lab, desk)
    os.kill(pid, signal.SIGKILL)
    lab.page.mouse.move(x + 60, y, steps=10)
    lab.page.mouse.up()
    desk.root.get_by_role("alert").filter(has_text=BANNER).wait_for(timeout=20_000)
    assert path.read_bytes() == written

    # The server starts a new kernel; run again, a new desk offers what the old one kept.
    lab.wait_for_idle()
    assert desk.ask("__import__('os').getpid()") != pid
    assert desk.ask("'desk' in globals()") is False
    lab.dismiss_dialogs()
    lab.run_all(before=1)
    desk = DeskPage(lab)
    assert desk.ask("len(desk.kept)") == 0
    expect(desk.root).to_contain_text("Kept in an earlier session")
    desk.keep(5)
    assert path.read_bytes() == written, "an earlier set is never written over"
    desk.root.get_by_role("button", name=re.compile(f"^Take {path.name}.* onto this desk")).click()
    desk.until("len(desk.kept)", 3)
    assert {str(one) for one in kept} <= set(desk.ask("[str(c) for c in desk.kept.colourways]"))
    assert path.read_bytes() == written
    assert len(set_files(lab)) == 2
    assert desk.ask("desk.troubles") == []


def test_a_kernel_lost_in_mid_edit_loses_nothing_kept_and_the_page_says_so(lab):
    """The kept cloth is under the hand, a colour is being tried on it, and the kernel is gone."""
    desk = open_cells(lab, before=1, stays=False)
    desk.keep(0)
    desk.keep(1)
    (path,) = set_files(lab)
    number = desk.ask("desk.state.kept[0].number")
    desk.turn_to("Range")
    desk.kept_card(number).locator(".cc-kept-cloth").click()
    tray = desk.choose_part(1)
    swatches = tray.locator('.cc-swatch[aria-checked="false"]')
    swatches.nth(0).click()
    desk.until("desk.history.undoes.startswith('Stripe 1')", True)
    written = path.read_bytes()
    changed = desk.ask("str(desk.kept.colourways[0])")
    pid = desk.ask("__import__('os').getpid()")
    swatches.nth(2).hover()  # tried on, not taken
    os.kill(pid, signal.SIGKILL)
    swatches.nth(2).click()
    desk.root.get_by_role("alert").filter(has_text=BANNER).wait_for(timeout=20_000)
    expect(desk.root.get_by_role("alert").filter(has_text=BANNER)).to_contain_text(
        "What you kept is safe"
    )
    assert path.read_bytes() == written
    # Run again: the range opens as it was last kept, the change by hand in it.
    lab.wait_for_idle()
    lab.dismiss_dialogs()
    lab.run_all(before=1)
    desk = DeskPage(lab)
    desk.root.locator(".cc-range-opener").click()
    desk.root.get_by_role("button", name=re.compile("^Open explore,")).click()
    desk.until("len(desk.kept)", 2)
    assert desk.ask("str(desk.kept.colourways[0])") == changed
    assert path.read_bytes() == written
    assert desk.ask("desk.troubles") == []


def test_a_kernel_that_stops_in_mid_drag_goes_on_where_the_hand_is(lab):
    desk = open_cells(lab, before=1)
    desk.keep(0)
    pid = desk.ask("__import__('os').getpid()")
    x, y = begin_drag(lab, desk)
    os.kill(pid, signal.SIGSTOP)
    try:
        lab.page.mouse.move(x + 60, y, steps=10)
        # The page does not freeze: the slider moves, and says what is the matter.
        wanted = round(float(desk.slider("Overlay strength").input_value()))
        assert wanted > 50
        desk.root.get_by_role("alert").filter(has_text=BANNER).wait_for(timeout=20_000)
        expect(desk.root.get_by_role("alert")).to_contain_text("What you kept is safe")
        lab.page.mouse.up()
        # What is asked for meanwhile waits, and is done once.
        desk.option(1).focus()
        lab.page.keyboard.press("k")
    finally:
        os.kill(pid, signal.SIGCONT)
    desk.until("round(desk.state.strength * 100)", wanted)
    desk.until("len(desk.kept)", 2)
    expect(desk.root.get_by_role("alert").filter(has_text=BANNER)).to_have_count(0, timeout=20_000)
    desk.wait_for_painted()
    assert desk.ask("desk.troubles") == []
    assert [len(open_set(path)) for path in set_files(lab)] == [2]
    assert lab.problems == []


def test_two_views_of_one_desk_show_the_same(lab):
    one = open_cells(lab)
    lab.page.set_viewport_size({"width": 1400, "height": 3200})  # both in sight
    two = DeskPage(lab, nth=1)
    expect(lab.page.locator(".cc-wall")).to_have_count(2)
    assert one.pixels() == two.pixels()

    # Kept in one, seen as kept in the other, and written once.
    one.keep(3)
    expect(two.option(3)).to_have_attribute("data-mark", "2")
    expect(two.root.locator(".cc-kept-one")).to_have_count(1)
    two.keep(4)
    expect(one.root.locator(".cc-kept-one")).to_have_count(2)
    assert [len(open_set(path)) for path in set_files(lab)] == [2]

    # A slider moved in one moves in the other; each press counts once.
    two.press_on("Overlay strength", "ArrowRight", 7)
    one.until("desk.state.strength", 0.57)
    for view in (one, two):
        view.wait_for_painted()
        expect(view.slider("Overlay strength")).to_have_attribute("aria-valuetext", "57 %")
    assert one.pixels() == two.pixels()

    # Each looks at its own colourway; one request, one answer, to the view that asked.
    one.option(0).click()
    two.option(1).click()
    names = one.ask("desk.widget.names")
    for view, name in ((one, names[0]), (two, names[1])):
        expect(view.hand.get_by_role("textbox", name=f"Name of {name}", exact=True)).to_be_visible()

    # One view gone (its cell cleared), the other goes on.
    lab.page.evaluate(
        "() => window.jupyterapp.shell.currentWidget.content.model.sharedModel.cells[1]"
        ".setOutputs([])"
    )
    expect(lab.page.locator(".cc-wall")).to_have_count(1)
    one.keep(6)
    assert one.ask("desk.troubles") == []
    assert lab.problems == []


def test_a_notebook_run_again_goes_on_with_one_desk(lab):
    desk = open_cells(lab)
    desk.keep(0)
    desk.slider("Overlay strength").fill("55")  # one step, however slow the machine
    desk.until("desk.state.strength", 0.55)
    numbers = desk.ask("desk.widget.numbers")
    for _ in range(2):
        lab.run_all()
        desk = DeskPage(lab)
        assert desk.ask("len(desk.kept)") == 1
        assert desk.ask("desk.state.strength") == 0.55
        assert desk.ask("desk.widget.numbers") == numbers
    # Two cells show the desk; no third wall is left of the runs before, and none is closed.
    expect(lab.page.locator(".cc-wall")).to_have_count(2)
    expect(lab.page.locator(".cc-retired")).to_have_count(0)
    desk.keep(2)
    lab.page.keyboard.press("u")
    desk.until("len(desk.kept)", 1)
    lab.page.keyboard.press("u")
    desk.until("len(desk.kept)", 1)  # undo goes back past the run: to before the strength
    desk.until("desk.state.strength", 0.5)
    assert len(set_files(lab)) == 1
    assert desk.ask("desk.troubles") == []
    assert lab.problems == []


def test_a_reloaded_page_shows_the_desk_as_it_was(lab):
    desk = open_cells(lab, before=1)
    desk.keep(0)
    desk.keep(3)
    desk.press_on("Overlay strength", "ArrowRight", 10)
    desk.until("desk.state.strength", 0.6)
    desk.wait_for_painted()
    drawn, names = desk.pixels(), desk.ask("desk.widget.names")
    lab.page.evaluate(_SAVE)
    path = (lab.folder / "notebooks" / "endures.ipynb").relative_to(lab.server.root).as_posix()
    lab.open_address(f"{lab.server.url}/lab/tree/{path}?reset&token={lab.server.token}", path)
    desk = DeskPage(lab)  # nothing was run: the kernel still has it
    assert desk.ask("desk.widget.names") == names
    assert desk.pixels() == drawn
    expect(desk.root.locator(".cc-kept-one")).to_have_count(2)
    expect(desk.slider("Overlay strength")).to_have_attribute("aria-valuetext", "60 %")
    desk.keep(5)
    lab.page.keyboard.press("u")
    desk.until("len(desk.kept)", 2)
    assert [len(open_set(path)) for path in set_files(lab)] == [2]
    assert desk.ask("desk.troubles") == []
    assert lab.problems == []


def test_a_desk_opened_in_another_cell_retires_the_first_in_words(lab):
    open_cells(lab, OPEN.replace("desk =", "other =").replace("\ndesk", "\nother"))
    lab.page.set_viewport_size({"width": 1400, "height": 3200})
    other = DeskPage(lab, "other", nth=1)
    keep_place = other.option(1)
    expect(lab.page.locator(".cc-retired")).to_have_count(1)
    expect(lab.page.locator(".cc-retired").get_by_role("alert")).to_contain_text(
        "This desk was closed, because it was opened again elsewhere"
    )
    keep_place.focus()
    lab.page.keyboard.press("k")
    other.until("len(other.kept)", 1)
    assert other.ask("len(desk.kept)") == 0
    assert lab.problems == []
