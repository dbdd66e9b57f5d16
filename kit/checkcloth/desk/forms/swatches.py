"""Swatches beside the names in lists of colours."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

import ipywidgets

from checkcloth.cloth.named_colour import NamedColour


class Swatches:
    """A style sheet that paints each option of some lists with the colour that it names.

    The lists stay the browser's own, with its keys and its words for screen readers.

    Parameters
    ----------
    lists : iterable of ipywidgets.SelectMultiple
        Whose options are names of colours.

    Attributes
    ----------
    style : Widget
        To be laid anywhere beside the lists.
    """

    def __init__(self, lists: Iterable[Any]) -> None:
        self._lists = list(lists)
        self.style = ipywidgets.HTML()
        for one in self._lists:
            one.add_class("cc-swatches")
            one.add_class(f"cc-list-{one.model_id}")

    def show(self, colours: Iterable[NamedColour]) -> None:
        """Follow the options that the lists have now."""
        hexes = {colour.name: colour.hex for colour in colours}
        rules = [
            f".cc-list-{one.model_id} option:nth-child({position}) {{ --swatch: {hexes[name]}; }}"
            for one in self._lists
            for position, name in enumerate(one.options, 1)
            if name in hexes
        ]
        self.style.value = f"<style>{' '.join(rules)}</style>"
