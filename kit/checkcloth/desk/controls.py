"""The sliders and fields of the desk: ipywidgets, arranged; nothing here decides anything."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Any

import ipywidgets

from checkcloth.cloth.length import Length
from checkcloth.cloth.mixing import MIXINGS, find_mixing
from checkcloth.cloth.palette import Palette
from checkcloth.scoring.words import MIXING_WORDS

__all__ = ["COUNTS", "Controls", "size_steps"]

COUNTS = (24, 48, 96, 200, 350, 500)
_EACH = "as each came"


def size_steps(extra: Length | None = None) -> list[Length]:
    """Return the check sizes of the slider: sixteenths of an inch to 2 in, quarters to 4 in.

    A size between them, typed as text, takes a step of its own.

    >>> len(size_steps()), len(size_steps(Length("7 mm")))
    (40, 41)
    """
    inch = Fraction(254, 10)
    steps = [Length.of_mm(inch * n / 16, "in") for n in range(1, 33)]
    steps += [Length.of_mm(inch * n / 4, "in") for n in range(9, 17)]
    if extra is not None and extra not in steps:
        steps = sorted([*steps, extra])
    return steps


class Controls:
    """The widgets by name, and the box that holds them."""

    def __init__(self, palettes: Sequence[Palette]) -> None:
        wide = {"description_width": "initial"}
        line = ipywidgets.Layout(width="auto", min_width="0")

        def make(kind: Any, description: str, **more: Any) -> Any:
            return kind(description=description, style=wide, layout=line, **more)

        self.steps = size_steps()
        self.size = make(
            ipywidgets.SelectionSlider, "Check size", options=[str(step) for step in self.steps]
        )
        self.size_text = make(
            ipywidgets.Text,
            "Check size, typed",
            placeholder="7 mm, 3/16 in",
            continuous_update=False,
        )
        self.stripes = make(ipywidgets.IntSlider, "Stripes", min=1, max=12, value=3)
        self.strength = make(ipywidgets.IntSlider, "Overlay strength, %", min=0, max=100, value=50)
        self.palette = make(
            ipywidgets.Dropdown, "Palette", options=[palette.name for palette in palettes]
        )
        self.ground = make(ipywidgets.Dropdown, "Ground", options=[("drawn as well", "")])
        self.mixing = make(ipywidgets.Dropdown, "Mixing", options=self.mixings(None))
        self.count = make(
            ipywidgets.Dropdown, "How many", options=[(f"{n} at most", n) for n in COUNTS], value=48
        )
        self.settings = ipywidgets.Box(
            [
                *(self.size, self.stripes, self.strength),
                *(self.palette, self.ground, self.mixing, self.size_text, self.count),
            ]
        )
        self.settings.add_class("cc-settings")

    @staticmethod
    def mixings(now: str | None) -> list[tuple[str, str]]:
        """Return the choices of mixing; "as each came" only while that is so."""
        words = [(MIXING_WORDS.get(name, name), name) for name in MIXINGS]
        return [(_EACH, ""), *words] if now is None else words

    def show_size(self, size: Length) -> None:
        """Set the size slider; a size between its steps gets one."""
        if size not in self.steps:
            self.steps = size_steps(size)
            self.size.options = [str(step) for step in self.steps]
        self.size.index = self.steps.index(size)
        self.size_text.value = ""

    def show_grounds(self, palette: Palette, ground: str) -> None:
        """Offer the palette's colours as grounds, those marked as ground first."""
        names = [one.name for one in palette.grounds]
        names += [one.name for one in palette if one.name not in names]
        options = [("drawn as well", ""), *((name, name) for name in names)]
        if tuple(self.ground.options) != tuple(options):
            self.ground.options = options
        self.ground.value = ground

    def show_mixing(self, mixing: str | None) -> None:
        """Show the mixing of the wall."""
        options = self.mixings(mixing)
        if list(self.mixing.options) != options:
            self.mixing.options = options
        self.mixing.value = mixing or ""
        self.mixing.tooltip = find_mixing(mixing).meaning if mixing else ""

    def show_count(self, count: int) -> None:
        """Show how many were asked for; a number between the choices becomes one."""
        numbers = sorted({*COUNTS, count})
        if [number for _, number in self.count.options] != numbers:
            self.count.options = [(f"{number} at most", number) for number in numbers]
        self.count.value = count

    @property
    def widgets(self) -> list[Any]:
        """Every widget, for closing."""
        return [*self.settings.children, self.settings]
