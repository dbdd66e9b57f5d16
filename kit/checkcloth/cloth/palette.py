"""A palette: named colours to choose from."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import numpy as np

from checkcloth.base.asked import as_several
from checkcloth.base.html import figure, image
from checkcloth.base.png import bands_png
from checkcloth.cloth.named_colour import NamedColour, clean_text
from checkcloth.colour.arrays import Floats
from checkcloth.colour.spaces import srgb_to_bytes
from checkcloth.errors import ArgumentError, shown

__all__ = ["MOST_COLOURS", "Palette"]

MOST_COLOURS = 10_000


@dataclass(frozen=True, repr=False)
class Palette:
    """Named colours, in an order of their own; each name once.

    Parameters
    ----------
    name : str
    colours : iterable of NamedColour or CSS Color 4 text

    Raises
    ------
    ArgumentError
        For no colours at all, too many, or two of the same name.
    ColourError
        For text that is no opaque CSS colour.

    Examples
    --------
    >>> palette = Palette("harbour", ["navy", "#f4ecd8"])
    >>> palette["navy"].hex
    '#000080'
    """

    name: str
    colours: tuple[NamedColour, ...]

    def __init__(self, name: str, colours: Iterable[NamedColour | str]) -> None:
        members = tuple(
            NamedColour.of(colour) for colour in as_several(colours, "colours", of="colours")
        )
        if not members:
            raise ArgumentError("colours must hold at least one colour, found none")
        if len(members) > MOST_COLOURS:
            raise ArgumentError(
                f"colours must hold at most {MOST_COLOURS} colours, found {len(members)}"
            )
        seen: set[str] = set()
        for colour in members:
            if colour.name in seen:
                raise ArgumentError(
                    f"colours must have names of their own, found {shown(colour.name)} twice"
                )
            seen.add(colour.name)
        object.__setattr__(self, "name", clean_text(name, "name"))
        object.__setattr__(self, "colours", members)

    @property
    def grounds(self) -> tuple[NamedColour, ...]:
        """The colours marked as ground; where none is marked, every colour."""
        return tuple(c for c in self.colours if c.role == "ground") or self.colours

    @property
    def stripes(self) -> tuple[NamedColour, ...]:
        """The colours not marked as ground; where all are, every colour."""
        return tuple(c for c in self.colours if c.role != "ground") or self.colours

    @property
    def rgb(self) -> Floats:
        """Encoded sRGB of the colours, shape (n, 3)."""
        return np.array([colour.rgb for colour in self.colours])

    def __len__(self) -> int:
        return len(self.colours)

    def __iter__(self) -> Iterator[NamedColour]:
        return iter(self.colours)

    def __getitem__(self, name: str) -> NamedColour:
        for colour in self.colours:
            if colour.name == name:
                return colour
        raise ArgumentError(
            f"name must be one of {', '.join(c.name for c in self.colours[:8])}"
            f"{' …' if len(self) > 8 else ''}, found {shown(name)}"
        )

    def __str__(self) -> str:
        noun = "colour" if len(self) == 1 else "colours"
        return f"palette {self.name}: {len(self)} {noun}"

    def __repr__(self) -> str:
        return f"<{self}>"

    def _repr_html_(self) -> str:
        across = min(len(self), 24)
        rows = -(-len(self) // across)
        cells = np.full((rows * across, 3), 255, dtype=np.uint8)
        cells[: len(self)] = srgb_to_bytes(self.rgb)
        png = bands_png(
            cells.reshape(rows, across, 3),
            np.repeat(np.arange(across), 36),
            np.repeat(np.arange(rows), 36),
        )
        names = ", ".join(map(str, self.colours))
        picture = image(png, f"{self}: {names}", width=across * 36, height=rows * 36)
        return figure(picture, f"{self} — {names}")
