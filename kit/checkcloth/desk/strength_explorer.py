"""How one colourway holds as its strength changes: fields of ipywidgets over the kit's charts."""

from __future__ import annotations

from html import escape
from typing import Any

import ipywidgets

from checkcloth.arguments import as_number
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.mixing import MIXINGS
from checkcloth.colour.vision import VISIONS
from checkcloth.errors import CheckclothError
from checkcloth.export.charts.charts import pair_matrix
from checkcloth.export.charts.charts_strength import strength_chart
from checkcloth.files.live_output import show_live
from checkcloth.scoring.measures import MEASURE_NAMES, find_measure
from checkcloth.scoring.vocabulary import MIXING_WORDS

_STEPS = {"de2000": 0.5, "dl": 0.5, "ratio": 0.05, "deok": 0.005, "hyab": 0.5}
_MOST = {"de2000": 50, "dl": 60, "ratio": 7, "deok": 0.6, "hyab": 90}


def charts_html(colourway: Colourway, measure: str, threshold: float, vision: str) -> str:
    """Return both charts as HTML, or why they cannot be drawn."""
    pieces = []
    for draw in (strength_chart, pair_matrix):
        try:
            picture = draw(colourway, measure=measure, threshold=threshold, vision=vision)
            pieces.append(picture._repr_html_())
        except CheckclothError as error:
            pieces.append(f"<p>{escape(str(error))}</p>")
    return "".join(pieces)


class StrengthExplorer(ipywidgets.VBox):  # type: ignore[misc]
    """Fields and charts; make one with :func:`explore_strength`.

    Every field has its name before it and is worked by keys alone. (The sliders of
    ipywidgets have no name that a screen reader could say, so numbers are typed or stepped.)

    Attributes
    ----------
    strength, threshold, measure, mixing, vision : Widget
        The fields; ``strength.value`` in per cent.
    charts : Widget
    """

    def __init__(self, colourway: Colourway, threshold: float) -> None:
        self._colourway = colourway
        number, choice = ipywidgets.BoundedFloatText, ipywidgets.Dropdown
        percent = round(colourway.strength * 100, 1)
        measures = [(find_measure(name).label, name) for name in MEASURE_NAMES]
        mixings = [(MIXING_WORDS[name], name) for name in MIXINGS]

        def field(kind: Any, words: str, **more: Any) -> Any:
            style = {"description_width": "7em"}
            return kind(description=words, style=style, **more)

        self.strength = field(number, "Strength, %", value=percent, max=100, step=0.5)
        self.threshold = field(number, "Threshold", value=threshold, max=50, step=0.5)
        self.measure = field(choice, "Measure", options=measures)
        self.mixing = field(choice, "Mixing", options=mixings, value=colourway.mixing)
        self.vision = field(choice, "Seen by", options=list(VISIONS))
        self.charts, self.said = ipywidgets.HTML(), ipywidgets.HTML()
        fields = [self.strength, self.threshold, self.measure, self.mixing, self.vision]
        layout = ipywidgets.Layout(
            grid_template_columns="repeat(auto-fill, minmax(320px, 1fr))", max_width="860px"
        )
        super().__init__([ipywidgets.GridBox(fields, layout=layout), self.said, self.charts])
        self.measure.observe(self._change_measure, "value")
        for widget in (self.strength, self.threshold, self.mixing, self.vision):
            widget.observe(self._draw, "value")
        self._draw()

    def colourway(self) -> Colourway:
        """Return the colourway as the fields have it."""
        strength, mixing = self.strength.value / 100, self.mixing.value
        return self._colourway.with_(strength=strength, mixing=mixing)

    def _ipython_display_(self) -> None:
        still = f"{self.charts.value}<p>Run the cell for the fields.</p>"
        show_live(self._repr_mimebundle_() or {}, still, f"strength of {self.colourway()}")

    def _draw(self, _: Any = None) -> None:
        self.said.value = '<p role="status">Drawing …</p>'
        self.charts.value = charts_html(
            self.colourway(), self.measure.value, self.threshold.value, self.vision.value
        )
        self.said.value = ""

    def _change_measure(self, _: Any) -> None:
        measure, field = find_measure(self.measure.value), self.threshold
        # One drawing for the whole change, after the field has its new range.
        field.unobserve(self._draw, "value")
        with field.hold_trait_notifications():
            field.min, field.max = measure.lowest, _MOST[measure.name]
            field.step, field.value = _STEPS[measure.name], measure.usual
        field.observe(self._draw, "value")
        self._draw()


def explore_strength(colourway: Colourway, *, threshold: float = 10) -> StrengthExplorer:
    """Show how a colourway holds while strength, threshold, measure, mixing and vision change.

    The colourway that was given does not change.

    Parameters
    ----------
    colourway : Colourway
    threshold : float
        The CIEDE2000 to start with, 0 to 50.

    Returns
    -------
    StrengthExplorer
        With ``.colourway()``, which returns the colourway as the fields have it.

    Raises
    ------
    ArgumentError
        For a threshold out of range.
    """
    return StrengthExplorer(colourway, as_number(threshold, "threshold", 0, _MOST["de2000"]))
