"""Where the palette of a search can start: a photograph, one colour, another palette turned."""

from __future__ import annotations

from collections.abc import Callable
from html import escape
from pathlib import PurePath
from typing import Any

import ipywidgets

from checkcloth.cloth.palette import Palette
from checkcloth.desk.forms.file_field import FileField
from checkcloth.errors import ArgumentError, CheckclothError
from checkcloth.ideas import (
    HARMONIES,
    open_photo,
    palette_from_colour,
    palette_from_photo,
    shift_palette,
)

__all__ = ["SearchSources"]


class SearchSources:
    """Fields that make a palette, and hand it on.

    Parameters
    ----------
    chosen : callable
        Returns the palette that is chosen now, to be turned.
    add : callable
        Gets each palette that was made.
    """

    def __init__(self, chosen: Callable[[], Palette], add: Callable[[Palette], None]) -> None:
        self._chosen = chosen
        self._add = add
        wide = {"description_width": "initial"}
        line = ipywidgets.Layout(width="auto", min_width="0")

        def make(kind: Any, description: str, **more: Any) -> Any:
            return kind(description=description, style=wide, layout=line, **more)

        self.photo = FileField("Choose a photograph, or drop one here", self._take)
        self._taken: tuple[str, bytes] | None = None
        self.path = make(
            ipywidgets.Text, "or its path from here", placeholder="pictures/halt-at-dusk.jpg"
        )
        self.colours = make(ipywidgets.BoundedIntText, "How many colours", min=6, max=24, value=12)
        self.from_photo = ipywidgets.Button(description="Take its colours", layout=line)
        self.colour = make(ipywidgets.Text, "Colour", value="teal", placeholder="teal, #2a6f97")
        self.harmony = make(ipywidgets.Dropdown, "Harmony", options=HARMONIES, value="analogous")
        self.shades = make(ipywidgets.BoundedIntText, "Shades of each hue", min=1, max=8, value=3)
        self.from_colour = ipywidgets.Button(description="Make a palette of it", layout=line)
        self.turn = make(ipywidgets.BoundedIntText, "Turn hues, °", min=-180, max=180, value=0)
        self.lighten = make(ipywidgets.BoundedIntText, "Lighten, %", min=-50, max=50, value=0)
        self.mute = make(ipywidgets.BoundedIntText, "Mute, %", min=-100, max=100, value=0)
        self.from_palette = ipywidgets.Button(description="Change the chosen palette", layout=line)
        self.said = ipywidgets.HTML()
        for button, work in (
            (self.from_photo, self.add_photo),
            (self.from_colour, self.add_colour),
            (self.from_palette, self.add_shifted),
        ):
            button.on_click(lambda _, work=work: self._trying(work))

        def part(title: str, *widgets: Any) -> Any:
            box = ipywidgets.VBox([ipywidgets.HTML(f"<b>{title}</b>"), *widgets])
            box.add_class("cc-part")
            return box

        parts = ipywidgets.Box(
            [
                part("A photograph", self.photo, self.path, self.colours, self.from_photo),
                part("One colour", self.colour, self.harmony, self.shades, self.from_colour),
                part("The palette chosen", self.turn, self.lighten, self.mute, self.from_palette),
            ]
        )
        parts.add_class("cc-form-grid")
        self.box = ipywidgets.VBox([parts, self.said])

    def _take(self, name: str, content: bytes) -> None:
        """Take the colours of a picture as soon as it has come."""
        self._taken = (PurePath(name).stem or "photograph", content)
        self.path.value = ""
        self._trying(self.add_photo)

    def add_photo(self) -> Palette:
        """Make a palette of the photograph at the path, or of the one that was chosen."""
        if path := self.path.value.strip():
            photo, name = open_photo(path), ""
        elif self._taken is not None:
            name, content = self._taken
            photo = open_photo(content)
        else:
            raise ArgumentError("choose a photograph first, or say where it is")
        return self._hand_on(palette_from_photo(photo, self.colours.value, name=name))

    def add_colour(self) -> Palette:
        """Make a palette of the colour by its harmony."""
        return self._hand_on(
            palette_from_colour(self.colour.value, self.harmony.value, shades=self.shades.value)
        )

    def add_shifted(self) -> Palette:
        """Turn, lighten and mute the palette that is chosen."""
        made = shift_palette(
            self._chosen(),
            turn=self.turn.value,
            lighten=self.lighten.value / 100,
            mute=self.mute.value / 100,
        )
        return self._hand_on(made)

    def _hand_on(self, palette: Palette) -> Palette:
        self._add(palette)
        words = "Now the palette to search; it stands first in the list below."
        self.said.value = f'<p role="status">{words}</p>{palette._repr_html_()}'
        return palette

    def _trying(self, work: Callable[[], Palette]) -> None:
        # A button swallows what its handler raises; the page is where it can be read.
        try:
            work()
        except (CheckclothError, OSError) as error:
            self.said.value = f'<p role="alert">{escape(str(error))}</p>'
