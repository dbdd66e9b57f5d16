"""The wall as a widget: what it sends to the page, and the page's own code beside it."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path
from typing import Any

import anywidget
import traitlets

__all__ = ["Wall"]

_PAGE = Path(__file__).parents[1] / "page"


@lru_cache(maxsize=1)
def page_script() -> str:
    """Return the page's ES module; text and not a path, for anywidget never lets go of paths."""
    return (_PAGE / "bundles" / "desk.js").read_text("utf-8")


@lru_cache(maxsize=1)
def page_style() -> str:
    """Return the page's style sheet."""
    return (_PAGE / "desk" / "desk.css").read_text("utf-8")


class Wall(anywidget.AnyWidget):
    """Hundreds of colourways under one canvas, and what stands around them.

    Traits go to the page only; the page answers with messages (see ``Desk``). What a slider
    moves is ``tones`` and ``stamp`` alone, so that a move is one short message.
    """

    # What was dealt: a new number tells the page to take all of it in again.
    dealt = traitlets.Int(0).tag(sync=True)
    counts = traitlets.Bytes(b"").tag(sync=True)
    numbers = traitlets.List(traitlets.Int()).tag(sync=True)
    names = traitlets.List(traitlets.Unicode()).tag(sync=True)
    bands = traitlets.Dict().tag(sync=True)
    # What moves.
    tones = traitlets.Bytes(b"").tag(sync=True)
    stamp = traitlets.Int(0).tag(sync=True)
    inches = traitlets.Float(0.5).tag(sync=True)
    # What follows when the hand rests.
    order = traitlets.List(traitlets.Int()).tag(sync=True)
    hidden: traitlets.List[Any] = traitlets.List().tag(sync=True)
    figures = traitlets.List(traitlets.Unicode()).tag(sync=True)
    figure_words = traitlets.Unicode("").tag(sync=True)
    # What was chosen.
    marks = traitlets.Dict().tag(sync=True)
    kept = traitlets.List(traitlets.Dict()).tag(sync=True)
    kept_tones = traitlets.Bytes(b"").tag(sync=True)
    facts = traitlets.Dict().tag(sync=True)
    # What never changes.
    columns: traitlets.List[Any] = traitlets.List().tag(sync=True)
    visions: traitlets.List[Any] = traitlets.List().tag(sync=True)
    steps = traitlets.List(traitlets.Float()).tag(sync=True)
    controls = traitlets.Dict().tag(sync=True)
    born = traitlets.Float(0.0).tag(sync=True)

    def __init__(self, **traits: object) -> None:
        self._esm = page_script()
        self._css = page_style()
        super().__init__(**traits)
