"""The desk as one widget: its settings, which code may read, set, observe and link, and its wall.

What page and kernel tell each other: settings go both ways, everything else goes to the page, and
the page asks for acts by messages, each of which has an answer.
"""

from __future__ import annotations

from typing import Any

import anywidget
import traitlets

from checkcloth.desk.payloads import size_text
from checkcloth.desk.state.requests import as_setting
from checkcloth.errors import ArgumentError
from checkcloth.files.shipped import page_text


class DeskWidget(anywidget.AnyWidget):
    """Hundreds of colourways under one canvas, and what stands around them.

    Attributes
    ----------
    size : str
        Check size as text that a :class:`Length` reads, such as ``"1/2 in"`` or ``"7 mm"``.
    strength : float or None
        Overlay strength of everything on the wall, 0 to 1; None leaves each its own.
    stripes : int
        Of the draw, 1 to 12; held to what the palette can give.
    palette, ground : str
        Names; an empty ground means that grounds are drawn too.
    mixing : str
        One of ``MIXINGS``; empty, each colourway is mixed as it came.
    stock : str or None
        What mixing ``ink`` prints on: ``"coated"``, ``"uncoated"``, ``"newsprint"``, the text of
        another :class:`Stock`, or empty where it is not known; None leaves each its own.
    count : int
        How many colourways a draw has at most, 1 to 5000.
    bands : str
        Order of the stripes: ``"even"``, ``"graduated"``, ``"double"``, ``"windowpane"``, or a
        colour order in letters, ``"2 A, 1/2 ground, 4 B"``.
    weft : str
        The same for the weft; empty, it runs as the warp.
    weft_colours : int
        How many colours of its own the weft gets in draws, 0 to 12; 0, it has the warp's.

    Raises
    ------
    ArgumentError, LengthError
        When a setting is given what it cannot be; it then stays as it was.

    Examples
    --------
    >>> import ipywidgets
    >>> from checkcloth.desk import open_desk
    >>> desk = open_desk()  # doctest: +SKIP
    >>> desk.widget.strength = 0.4  # doctest: +SKIP
    >>> slider = ipywidgets.FloatSlider(max=1, description="Strength")
    >>> ipywidgets.link((slider, "value"), (desk.widget, "strength"))  # doctest: +SKIP
    """

    # Settings, both ways.
    size = traitlets.Unicode("1/2 in").tag(sync=True)
    strength = traitlets.Float(0.5, allow_none=True).tag(sync=True)
    stripes = traitlets.Int(3).tag(sync=True)
    palette = traitlets.Unicode("").tag(sync=True)
    ground = traitlets.Unicode("").tag(sync=True)
    mixing = traitlets.Unicode("").tag(sync=True)
    stock = traitlets.Unicode("", allow_none=True).tag(sync=True)
    count = traitlets.Int(48).tag(sync=True)
    bands = traitlets.Unicode("even").tag(sync=True)
    weft = traitlets.Unicode("").tag(sync=True)
    weft_colours = traitlets.Int(0).tag(sync=True)
    choices = traitlets.Dict().tag(sync=True)
    # The wall; ``stamp`` counts up after anything of it was sent that cloth is painted from.
    dealt = traitlets.Int(0).tag(sync=True)
    stamp = traitlets.Int(0).tag(sync=True)
    counts = traitlets.Bytes(b"").tag(sync=True)
    # Thousands of them: typed lists would be looked through one by one whenever they are set.
    numbers: traitlets.List[Any] = traitlets.List().tag(sync=True)
    names: traitlets.List[Any] = traitlets.List().tag(sync=True)
    weft_counts = traitlets.Bytes(b"").tag(sync=True)
    laid = traitlets.Dict().tag(sync=True)
    recipes = traitlets.List(traitlets.List()).tag(sync=True)
    recipe_of = traitlets.Bytes(b"").tag(sync=True)
    strengths = traitlets.Bytes(b"").tag(sync=True)
    colours = traitlets.Bytes(b"").tag(sync=True)
    vision = traitlets.Unicode("normal").tag(sync=True)
    light = traitlets.Unicode("D65").tag(sync=True)
    # What follows when nothing has moved for a moment.
    order: traitlets.List[Any] = traitlets.List().tag(sync=True)
    hidden: traitlets.List[Any] = traitlets.List().tag(sync=True)
    figures: traitlets.List[Any] = traitlets.List().tag(sync=True)
    figure_words = traitlets.Unicode("").tag(sync=True)
    # What was chosen.
    marks = traitlets.Dict().tag(sync=True)
    kept = traitlets.List(traitlets.Dict()).tag(sync=True)
    kept_colours = traitlets.Bytes(b"").tag(sync=True)
    facts = traitlets.Dict().tag(sync=True)
    find = traitlets.Dict().tag(sync=True)
    # The export: its fields, and how far it is.
    export = traitlets.Dict().tag(sync=True)
    exporting = traitlets.Dict().tag(sync=True)
    # What never changes.
    columns: traitlets.List[Any] = traitlets.List().tag(sync=True)
    visions: traitlets.List[Any] = traitlets.List().tag(sync=True)
    lights: traitlets.List[Any] = traitlets.List().tag(sync=True)
    born = traitlets.Float(0.0).tag(sync=True)

    def __init__(self, **traits: object) -> None:
        self._esm = page_text("bundles/desk.js")
        self._css = page_text("bundles/desk.css")
        super().__init__(**traits)

    @traitlets.validate(
        *("size", "strength", "stripes", "mixing", "stock", "count"),
        *("bands", "weft", "weft_colours"),
    )
    def _valid(self, proposal: Any) -> Any:
        name = proposal["trait"].name
        value = as_setting(name, proposal["value"])
        match name:
            case "size":
                return size_text(value)
            case "mixing":
                return value or ""
            case "stock":
                return None if value is None else value.text
        return value

    @traitlets.validate("palette", "ground")
    def _offered(self, proposal: Any) -> str:
        name, value = proposal["trait"].name, str(proposal["value"])
        offered = {
            "palette": self.choices.get("palettes", [value]),
            "ground": [ground for ground, _ in self.choices.get("grounds", [[value, value]])],
        }[name]
        if value not in offered:
            raise ArgumentError(name, f"one of {', '.join(filter(None, offered))}", value)
        return value
