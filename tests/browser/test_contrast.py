"""The analyst's notebook in a real JupyterLab: figures, pictures, sliders, files it leaves."""

from __future__ import annotations

import csv

import pytest

pytestmark = pytest.mark.browser


def find(cells: list[dict], text: str) -> int:
    """Return the place of the code cell that holds a text."""
    return next(
        place
        for place, cell in enumerate(cells)
        if cell["cell_type"] == "code" and text in "".join(cell["source"])
    )


def paper(image) -> float:
    """Return how light the paper behind a chart is, 0 to 255."""
    return image.evaluate(
        """i => { const c = document.createElement('canvas').getContext('2d');
        c.fillStyle = getComputedStyle(i).backgroundColor; c.fillRect(0, 0, 1, 1);
        const [r, g, b] = c.getImageData(0, 0, 1, 1).data; return (r + g + b) / 3; }"""
    )


def test_an_analyst_reads_moves_and_prints(lab):
    cells = lab.open_notebook("contrast.ipynb", stays=True).run_all()
    page = lab.page

    # The pictures can be heard as well as seen, and none is cut by its cell.
    for text in (
        "pair_matrix(spring",
        "lab_chart(spring",
        "strength_chart(spring",
        "compare_chart(",
    ):
        image = lab.output(find(cells, text)).locator("img").first
        assert len(image.get_attribute("alt")) > 60
        assert image.evaluate("i => i.complete && i.naturalWidth > 900")
        assert image.evaluate("i => i.scrollWidth <= i.closest('.jp-OutputArea').clientWidth")

    # The table of the strike-off says in words what fails, and why.
    strike = lab.output(find(cells, "strike_off = check"))
    assert strike.get_by_text("FAIL", exact=True).count() == 12
    assert strike.get_by_text("the overlay strength: as if 56.1 %").count() == 1

    # Nothing of it is out of sight on a screen of 1300 pixels, beside the file browser.
    page.set_viewport_size({"width": 1300, "height": 1000})
    wide, window = strike.locator("table").evaluate(
        "t => [t.scrollWidth, t.parentElement.clientWidth]"
    )
    assert wide <= window
    page.set_viewport_size({"width": 1400, "height": 1000})

    # A field moves the charts: by key, in the browser, through the kernel and back.
    place = find(cells, "explore_strength(spring")
    bench = lab.output(place)
    charts = bench.locator(".widget-vbox img")  # the live ones; a still stands hidden beside them
    charts.first.wait_for()
    before = charts.first.get_attribute("src")
    field = bench.get_by_label("Strength, %", exact=True)
    field.focus()
    for _ in range(4):
        page.keyboard.press("ArrowUp")
    page.wait_for_function(
        "([old, place]) => { const i = document.querySelector("
        '`.jp-Cell[data-windowed-list-index="${place}"] .widget-vbox img`);'
        " return i && i.src !== old; }",
        arg=[before, place],
    )
    lab.wait_for_idle()
    assert lab.ask("explorer.colourway().strength") == "0.52"
    # Another measure brings its own threshold with it.
    bench.get_by_label("Measure").select_option(label="contrast ratio")
    page.wait_for_function(
        "place => [...document.querySelectorAll("
        '`.jp-Cell[data-windowed-list-index="${place}"] .widget-vbox img`)]'
        ".some(i => i.alt.startsWith('contrast ratio'))",
        arg=place,
    )

    # On a dark page charts lie on a grey that does not glare and still carries their letters.
    chart = lab.output(find(cells, "lab_chart(spring")).locator("img").first
    assert paper(chart) == pytest.approx(255)
    lab.set_theme(dark=True)
    assert 180 < paper(chart) < 215

    # The files lie where the notebook says.
    out = lab.folder / "notebooks" / "out"
    rows = list(csv.DictReader((out / "scores.csv").read_text("utf-8").splitlines()))
    assert len(rows) == 12
    assert (out / "contrast.pdf").read_bytes().startswith(b"%PDF")
    assert lab.problems == []

    # The report stands alone: every picture in it loads, with its words, and no other file.
    page = page.context.new_page()
    page.goto((out / "contrast.html").as_uri())
    assert page.locator("h1").inner_text() == "Tea table, spring: will it hold?"
    images = page.locator("img").all()
    assert len(images) == 8  # the strike-off, the jump at opposite hues, a figure of one's own
    assert all(i.evaluate("i => i.naturalWidth") > 0 and i.get_attribute("alt") for i in images)
    for width in (1400, 700):
        page.set_viewport_size({"width": width, "height": 900})
        assert page.evaluate("document.documentElement.scrollWidth <= window.innerWidth")
    page.close()


def test_an_error_says_what_is_wrong_and_where_and_no_more(lab):
    """A supplier's list given where a palette is asked for, as happens first."""
    cells = lab.open_notebook("contrast.ipynb", stays=True).cells()
    place = find(cells, "read_palette(")
    lab.page.evaluate(
        """place => { const panel = window.jupyterapp.shell.currentWidget;
        const source = panel.content.widgets[place].model.sharedModel;
        source.setSource(source.getSource().replace(
            '../palettes/tea-table.csv', 'data/supplier-shades.csv')); }""",
        place,
    )
    lab.cell(place).locator(".cm-content").click()
    lab.page.keyboard.press("Control+Enter")
    error = lab.output(place).locator('[data-mime-type="application/vnd.jupyter.stderr"]')
    error.wait_for()
    said = error.inner_text()
    assert "supplier-shades.csv, line 1" in said
    assert "read_supplier_palette" in said
    assert "in line 3 of this cell: palette = read_palette(" in said
    assert "palette_file.py" not in said


def test_it_reads_without_a_kernel(lab):
    """As it was saved: figures and pictures are there before anything runs."""
    lab.open_notebook("contrast.ipynb", stays=True)
    saved = lab.cells()
    for text in (
        "pair_matrix(spring",
        "strength_chart(spring",
        "strike_off = check",
        "table.sorted_by",
    ):
        outputs = saved[find(saved, text)]["outputs"]
        assert any("text/html" in output.get("data", {}) for output in outputs), text
    image = lab.output(find(saved, "pair_matrix(spring")).locator("img").first
    image.wait_for()
    assert image.evaluate("i => i.naturalWidth") > 900
