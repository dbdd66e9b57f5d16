"""In a real browser: nothing is asked of another machine, and no name runs as a script."""

from __future__ import annotations

import importlib.util
from pathlib import Path
from urllib.parse import urlsplit

import nbformat
import pytest
from desk_driver import DeskPage
from nbformat.v4 import new_code_cell, new_notebook

pytestmark = pytest.mark.browser

KERNEL = {"kernelspec": {"name": "python3", "display_name": "Python 3", "language": "python"}}
_place = Path(__file__).parents[1] / "hostile" / "everything.py"
_spec = importlib.util.spec_from_file_location("everything", _place)
_everything = importlib.util.module_from_spec(_spec)
_spec.loader.exec_module(_everything)
NAMES = _everything.NAMES

SET_UP = f"""from checkcloth import Check, Colourway, NamedColour, Palette, hand_off
NAMES = {NAMES!r}
colours = [NamedColour(name, (n * 37 % 97 / 96, n * 59 % 89 / 88, n * 83 % 79 / 78), note=name)
           for n, name in enumerate(NAMES)]
palette = Palette(NAMES[0], colours)
some = Palette(NAMES[1], colours[:9])
cloths = [Colourway(colours[0], [one, colours[n - 2]], name=one.name)
          for n, one in enumerate(colours)]
from checkcloth.desk import open_desk
desk = open_desk([palette, some], palette=NAMES[0], stripes=2, count=48, name=NAMES[2])
desk.show(cloths, NAMES[3])
desk"""
FIGURES = """from checkcloth import quality as analysis
from checkcloth.search import Wanted, search
from checkcloth.export.charts.charts import lab_chart
from checkcloth.export.paper.report import Heading, report
from checkcloth.lesson.compare import compare_mixings
from IPython.display import display
table = analysis.score_table(cloths, threshold=5)
swept = analysis.sweep(cloths[1], threshold=9)
pages = report(NAMES[0], [*(part for name in NAMES for part in (Heading(name), name)),
                          table, swept, lab_chart(cloths[1])])
pages.save("report.html")
found = search(Wanted(some, 2, strengths=[0.5]), 20)
made = hand_off(cloths, Check("1/4 in", 2), "handed", dpi=72, paper=None)
for shown in (palette, cloths[2], desk.kept, table, swept, found, found.shortlist(6), made,
              compare_mixings(cloths[1])):
    display(shown)"""
FORM = """from checkcloth.desk import search_form
form = search_form([some], name="form")
form.run()
form"""
PLAIN = "print(palette, pages); desk.shown[:3]"
# A page of its own, put into the notebook by hand; its formulas are the notebook's doing.
PAGE = "from IPython.display import HTML\nHTML(pages.html())"


def outside(url: str) -> bool:
    parts = urlsplit(url)
    return parts.scheme not in ("data", "blob", "about", "file") and parts.hostname != "127.0.0.1"


def listen(lab) -> list[str]:
    """Write down, and refuse, whatever the page asks of another machine."""
    lab.start_anew()
    asked: list[str] = []
    context = lab.page.context
    context.on("request", lambda request: asked.append(request.url))
    lab.page.on("websocket", lambda socket: asked.append(socket.url))
    context.route(outside, lambda route: route.abort())
    return asked


def test_nothing_is_asked_of_another_machine(lab):
    asked = listen(lab)
    lab.open_notebook("explore.ipynb")
    lab.run_all()
    desk = DeskPage(lab)
    desk.press_on("Overlay strength", "ArrowRight", 3)
    desk.option(1).click()
    lab.page.keyboard.press("k")
    desk.until("len(desk.kept)", 1)
    lab.page.keyboard.press("Enter")
    lab.page.get_by_role("dialog").wait_for()
    lab.page.keyboard.press("Escape")
    desk.export()
    desk.root.get_by_text("1 colourway exported to").wait_for()
    assert len(asked) > 50
    assert any(url.startswith("ws://127.0.0.1") for url in asked), "the line to the kernel"
    assert sorted({url for url in asked if outside(url)}) == []


def test_no_name_runs_as_a_script(lab):
    asked = listen(lab)
    cells = [new_code_cell(source) for source in (SET_UP, FIGURES, FORM, PLAIN, PAGE)]
    nbformat.write(new_notebook(cells=cells, metadata=KERNEL), lab.folder / "notebooks/names.ipynb")
    lab.open_notebook("names.ipynb")
    lab.run_all()
    page = lab.page
    desk = DeskPage(lab)

    # On the wall, under the hand, in the range, side by side, enlarged, in the messages.
    for place in range(5):
        option = desk.option(place)
        option.click()
        page.keyboard.press("k")
        desk.until("len(desk.kept)", place + 1)
        option.focus()
        if place < 3:
            page.keyboard.press("c")
            desk.until("len(desk.state.compared)", place + 1)
    desk.open_more()
    for opener in ("As other eyes see it, and in grey", "Tones with their codes, and scores"):
        desk.hand.get_by_role("button", name=opener).click()
    page.evaluate("() => document.querySelectorAll('details').forEach(one => { one.open = true; })")
    desk.option(2).focus()
    page.keyboard.press("n")
    page.keyboard.type(NAMES[0])
    page.keyboard.press("Enter")
    desk.until("[one.name for one in desk.kept].count(NAMES[0]) >= 1", True)
    desk.option(3).focus()
    page.keyboard.press("t")
    page.keyboard.type(NAMES[2])
    page.keyboard.press("Enter")
    desk.hand.get_by_role("button", name="Ground: ").click()
    desk.hand.get_by_role("checkbox", name="Stays").check()
    desk.until("desk.state.staying_ground is not None", True)
    for part in ("Range", "Colours", "Wall"):
        desk.turn_to(part)
        page.wait_for_timeout(200)
        assert_plain(page)
    desk.option(0).focus()
    page.keyboard.press("Enter")
    page.get_by_role("dialog").wait_for()
    page.keyboard.press("Escape")
    desk.turn_to("Export").get_by_label("Folder, beside this notebook").fill(f"out/{NAMES[0]}")
    desk.export()
    desk.root.get_by_text("5 colourways exported to").wait_for()
    # The names stand there to be read, and every cell came into sight once.
    assert desk.root.get_by_text(NAMES[0], exact=False).count() > 3
    for index in range(5):
        output = lab.output(index)
        output.wait_for()
        page.wait_for_timeout(500)  # whatever would run, runs now
        assert_plain(page)
        if index < 4:  # two dollars in a name are two dollars, and no formula
            assert output.locator("mjx-container").count() == 0
    assert page.locator('.jp-OutputArea a[href^="javascript"]').count() == 0
    assert desk.ask("desk.troubles") == []

    # The files, opened as anyone would.
    notebooks = lab.folder / "notebooks"
    drawn = sorted((notebooks / "handed").rglob("*.svg"))
    assert len(drawn) == len(NAMES)
    page = page.context.new_page()
    for file in (notebooks / "report.html", *drawn[:6]):
        page.goto(file.as_uri())
        assert_plain(page)
    page.close()
    strange = {url for url in asked if outside(url)}
    assert sorted(strange) == []


def assert_plain(page) -> None:
    assert page.evaluate("() => window.__ran") is None
    odd = page.evaluate(
        "() => [...document.querySelectorAll('.jp-OutputArea *, body > *, svg *')]"
        ".filter(one => one.getAttribute('onload') || one.getAttribute('onerror')"
        " || one.getAttribute('onmouseover')).length"
    )
    assert odd == 0
