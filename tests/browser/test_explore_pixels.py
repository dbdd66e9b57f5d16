"""In JupyterLab too what the page draws is the tones: pixels read back equal ``tile_pixels``."""

from __future__ import annotations

import nbformat
import pytest
from cloth_driver import assert_wall_and_hand, random_colourways
from desk_driver import DeskPage
from nbformat.v4 import new_code_cell, new_notebook

from checkcloth import Length

pytestmark = pytest.mark.browser

KERNEL = {"kernelspec": {"name": "python3", "display_name": "Python 3", "language": "python"}}


@pytest.fixture
def denser(lab):
    """Let the page have five device pixels to four of CSS, as a zoom of 125 % does."""
    session = lab.page.context.new_cdp_session(lab.page)
    size = {"width": 1200, "height": 900, "mobile": False}
    session.send("Emulation.setDeviceMetricsOverride", size | {"deviceScaleFactor": 1.25})
    yield lab
    size = lab.page.viewport_size | {"mobile": False}
    session.send("Emulation.setDeviceMetricsOverride", size | {"deviceScaleFactor": 1})
    session.detach()


def open_wall(lab, colourways, size):
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


def test_pixels_on_the_page_equal_tile_pixels(denser):
    lab = denser
    colourways = random_colourways(seed=125)
    desk = open_wall(lab, colourways, Length("7 mm"))
    assert lab.page.evaluate("() => devicePixelRatio") == 1.25
    assert_wall_and_hand(desk, colourways, Length("7 mm"), 1.25, "0.5")
    assert lab.problems == []
