"""The contrast notebook's sliders: a thin shell over the charts of the output room."""

from __future__ import annotations

from typing import Any

import ipywidgets as widgets

from checkcloth.arguments import as_number
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.mixing import MIXINGS, find_mixing
from checkcloth.colour.vision import VISIONS
from checkcloth.errors import CheckclothError
from checkcloth.export.charts.charts import pair_matrix
from checkcloth.export.charts.charts_strength import strength_chart
from checkcloth.scoring.measures import MEASURE_NAMES, find_measure

__all__ = ["bench_html", "strength_bench"]

_STEPS = {"de2000": 0.5, "dl": 0.5, "ratio": 0.05, "deok": 0.005}
_MOST = {"de2000": 50, "dl": 60, "ratio": 7, "deok": 0.6}


def bench_html(colourway: Colourway, measure: str, threshold: float, vision: str) -> str:
    """Return both charts as HTML, or why they cannot be drawn.

    >>> "img alt" in bench_html(Colourway("white", ["navy"]), "dl", 20, "normal")
    True
    """
    from html import escape

    pieces = []
    for draw in (strength_chart, pair_matrix):
        try:
            picture = draw(colourway, measure=measure, threshold=threshold, vision=vision)
            pieces.append(picture._repr_html_())
        except CheckclothError as error:
            pieces.append(f"<p>{escape(str(error))}</p>")
    return "".join(pieces)


def strength_bench(colourway: Colourway, *, threshold: float = 10) -> widgets.VBox:
    """Show how a colourway holds while strength, threshold, measure, mixing and vision change.

    The charts are drawn anew when a slider is let go, not while it moves. The colourway
    that was given does not change.

    Parameters
    ----------
    colourway : Colourway
    threshold : float
        The CIEDE2000 to start with, 0 to 50.

    Returns
    -------
    ipywidgets.VBox
        With ``.colourway()``, which returns the colourway as the sliders have it.
    """
    start = as_number(threshold, "threshold", 0, _MOST["de2000"])
    wide: dict[str, Any] = {
        "style": {"description_width": "6.5em"},
        "layout": widgets.Layout(width="auto"),
    }
    strength = widgets.FloatSlider(
        round(colourway.strength * 100, 1), min=0, max=100, step=0.5, description="Strength, %",
        readout_format=".1f", continuous_update=False, **wide,
    )  # fmt: skip
    measure = widgets.Dropdown(
        options=[(find_measure(name).label, name) for name in MEASURE_NAMES],
        description="Measure", **wide,
    )  # fmt: skip
    limit = widgets.FloatSlider(
        start, min=0, max=_MOST["de2000"], step=_STEPS["de2000"], description="Threshold",
        readout_format=".3g", continuous_update=False, **wide,
    )  # fmt: skip
    mixing = widgets.Dropdown(
        options=[(find_mixing(name).label, name) for name in MIXINGS],
        value=colourway.mixing, description="Mixing", **wide,
    )  # fmt: skip
    vision = widgets.Dropdown(options=list(VISIONS), description="Seen by", **wide)
    shown = widgets.HTML()
    busy = widgets.HTML(layout=widgets.Layout(height="1.6em"))

    def as_set() -> Colourway:
        return colourway.with_(strength=strength.value / 100, mixing=mixing.value)

    def draw(_: Any = None) -> None:
        busy.value = "Drawing …"
        shown.value = bench_html(as_set(), measure.value, limit.value, vision.value)
        busy.value = ""

    def change_measure(_: Any) -> None:
        chosen = find_measure(measure.value)
        # One drawing for the whole change, after the slider has its new range.
        limit.unobserve(draw, "value")
        with limit.hold_trait_notifications():
            limit.min, limit.max = chosen.lowest, _MOST[chosen.name]
            limit.step, limit.value = _STEPS[chosen.name], chosen.usual
        limit.observe(draw, "value")
        draw()

    measure.observe(change_measure, "value")
    for control in (strength, limit, mixing, vision):
        control.observe(draw, "value")
    draw()
    controls = [strength, limit, measure, mixing, vision]
    columns = "repeat(auto-fill, minmax(360px, 1fr))"
    layout = widgets.Layout(grid_template_columns=columns, max_width="860px")
    bench = widgets.VBox([widgets.GridBox(controls, layout=layout), busy, shown])
    bench.colourway = as_set
    return bench
