"""A colour gamp: a sample cloth in which every warp colour crosses every weft colour."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any, ClassVar

import numpy as np

from checkcloth.arguments import Floats, require_one_of
from checkcloth.cloth.check import Check
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.length import Length
from checkcloth.cloth.named_colour import NamedColour
from checkcloth.cloth.palette import Palette
from checkcloth.colour.css import hex_of
from checkcloth.colour.spaces import srgb_to_bytes
from checkcloth.colour.vision import see_as
from checkcloth.export.picture.lettering import BOLD, PLAIN, QUIET, Words, font_of, letter
from checkcloth.export.picture.picture import Picture
from checkcloth.files.csv_rows import csv_text
from checkcloth.files.frames import Definition, Tabular
from checkcloth.files.html import Cell, table
from checkcloth.files.png import Strip, strips_png
from checkcloth.scoring.measures import find_measure

# What a crossing is held against: in a table, and at the head of a column of a file.
_AGAINST = {
    "stripes": ("the nearer of its two stripes", "its stripes"),
    "ground": ("the ground", "the ground"),
    "nearest": ("the crossing most like it", "the nearest"),
}
AGAINST = tuple(_AGAINST)
_CELL, _NAMES, _HEAD, _LINE = 48, 190, 96, 20
Colours = Palette | Iterable[NamedColour | str]


@dataclass(frozen=True, repr=False)
class ColourGamp(Tabular):
    """Every warp colour across every weft colour; made by :func:`colour_gamp`."""

    #: Its stripes are the warp's colours, its ``weft_colours`` the weft's.
    colourway: Colourway
    #: Bands one check wide without gaps: a repeat is the whole gamp, for all that takes the two.
    check: Check

    made_by: ClassVar[str] = "colour_gamp"
    definitions: ClassVar[tuple[Definition, ...]] = (
        Definition("warp", "name of the warp's colour", "as it was given"),
        Definition("weft", "name of the weft's colour", "as it was given"),
        Definition("crossing", "colour of the crossing", "#rrggbb, encoded sRGB"),
        *(
            Definition(
                column, f"how far it stands from {words}",
                f"the least of d, d = {find_measure('de2000').formula}", f"the crossing, and {of}",
                source=find_measure("de2000").source,
            )
            for column, words, of in (
                ("stripes", "the nearer of its stripes", "its two stripes over the ground"),
                ("ground", "the ground", "the ground"),
                ("nearest", "the crossing most like it", "every crossing of other colours"),
            )
        ),
    )  # fmt: skip

    def values(
        self, measure: str = "de2000", against: str = "stripes", vision: str = "normal"
    ) -> Floats:
        """Return a number for each crossing, shape (W, F).

        Parameters
        ----------
        measure : str
            ``"de2000"``, ``"dl"``, ``"ratio"``, ``"deok"`` or ``"hyab"``.
        against : str
            ``"stripes"``: how far a crossing stands from the nearer of the two stripes over
            the ground that it is made of; ``"ground"``: from the ground; ``"nearest"``: from
            the crossing that is most like it, of other colours than its own.
        vision : str
            One of ``VISIONS``.

        Raises
        ------
        ArgumentError
            For unknown names.
        """
        compare = find_measure(measure).compare
        seen = see_as(self.colourway.tones, vision)
        cross = seen[1:, 1:]
        if against == "ground":
            return compare(cross, np.broadcast_to(seen[0, 0], cross.shape))
        if against == "stripes":
            warp, weft = (np.broadcast_to(own, cross.shape) for own in (seen[1:, :1], seen[:1, 1:]))
            return np.minimum(compare(cross, warp), compare(cross, weft))
        require_one_of(against, "against", AGAINST)
        flat = cross.reshape(-1, 3)
        apart = np.array([compare(np.broadcast_to(tone, flat.shape), flat) for tone in flat])
        across, up = np.indices(cross.shape[:2]).reshape(2, -1)
        # A crossing and its mirror are made of the same two colours, and meant to be alike.
        pairs = np.sort([across, np.array(self.colourway.weft_inks)[up]], axis=0)
        apart[(pairs[:, :, None] == pairs[:, None]).all(axis=0)] = np.inf
        return np.asarray(apart.min(axis=1).reshape(cross.shape[:2]))

    @property
    def columns(self) -> dict[str, Any]:
        """Values by column, a row a crossing: its colours, and ΔE00 by what it is held against."""
        numbers = {against: self.values(against=against).ravel() for against in AGAINST}
        return {**self._crossings, **numbers}

    @property
    def _crossings(self) -> dict[str, list[str]]:
        """The colours of each crossing, and its own."""
        cloth = self.colourway
        at = [*np.ndindex(len(cloth.stripes), len(cloth.weft_colours))]
        return {
            "warp": [cloth.stripes[warp].name for warp, _ in at],
            "weft": [cloth.weft_colours[weft].name for _, weft in at],
            "crossing": [hex_of(cloth.tones[warp + 1, weft + 1]) for warp, weft in at],
        }

    def csv(self, measure: str = "de2000", vision: str = "normal") -> str:
        """Return every crossing with its colour and its numbers as CSV text."""
        numbers = [self.values(measure, against, vision).ravel().tolist() for against in AGAINST]
        columns = [*self._crossings.values(), *([*map(_plain, values)] for values in numbers)]
        label = find_measure(measure).label
        heads = (f"{label} from {head}" for _, head in _AGAINST.values())
        return csv_text((*self._crossings, *heads), zip(*columns, strict=True))

    def table_html(
        self, measure: str = "de2000", against: str = "stripes", vision: str = "normal"
    ) -> str:
        """Return the crossings as a table: a row a weft colour, a column a warp colour."""
        values = self.values(measure, against, vision)
        cloth = self.colourway
        label, (words, _) = find_measure(measure).label, _AGAINST[against]
        caption = f"{label} of each crossing from {words} ({vision} vision)"
        rows: Iterator[list[str | Cell]] = (
            [
                weft.name,
                *(
                    Cell(_shown(float(values[i, j])), colour=hex_of(cloth.tones[i + 1, j + 1]))
                    for i in range(len(cloth.stripes))
                ),
            ]
            for j, weft in enumerate(cloth.weft_colours)
        )
        heads = ["weft \\ warp", *(stripe.name for stripe in cloth.stripes)]
        return table([caption], heads, rows, right=range(1, len(heads)), row_heads=True)

    def picture(self) -> Picture:
        """Draw the gamp: warp colours side by side, weft colours down, each crossing once."""
        cloth = self.colourway
        warps, wefts = len(cloth.stripes), len(cloth.weft_colours)
        width = max(_NAMES + warps * _CELL + 24, 640)
        title = f"{cloth.name or 'Colour gamp'}: {warps} warp by {wefts} weft colours"
        bold, plain = font_of(BOLD, 18), font_of(PLAIN, 14)
        number = [
            Words(_NAMES + i * _CELL + _CELL // 2 - 8, _HEAD - 24, str(i + 1), plain, _CELL)
            for i in range(warps)
        ]
        how = f"{cloth.strength * 100:.4g} %, {cloth.mixing}; ground {cloth.ground.name}"
        head = [
            Words(16, 14, title, bold, width - 32),
            Words(16, 40, how, plain, width - 32, QUIET),
            Words(16, _HEAD - 24, "weft \\ warp", plain, _NAMES - 24, QUIET),
            *number,
        ]
        listed = [f"{i + 1} {stripe.name}" for i, stripe in enumerate(cloth.stripes)]
        foot = [
            Words(16, 8 + _LINE * line, words, plain, width - 32, QUIET)
            for line, words in enumerate(_lines(["Warp:", *listed], width - 32))
        ]
        tones = srgb_to_bytes(cloth.tones[1:, 1:])

        def strips() -> Iterator[Strip]:
            yield letter(width, _HEAD, head), 1
            for j, weft in enumerate(cloth.weft_colours):
                name = [Words(16, _CELL // 2 - 9, weft.name, plain, _NAMES - 24)]
                row = letter(width, _CELL, name).copy()
                row[:, _NAMES : _NAMES + warps * _CELL] = tones[:, j].repeat(_CELL, axis=0)[None]
                yield row, 1
            yield letter(width, 20 + _LINE * len(foot), foot), 1

        height = _HEAD + wefts * _CELL + 20 + _LINE * len(foot)
        alt = f"{title}. {how}. {' · '.join(listed)}"
        png = strips_png(strips(), (width, height), texts=[("Title", title), ("Description", alt)])
        return Picture(png, title, alt, width, height)

    def __str__(self) -> str:
        warps, wefts = len(self.colourway.stripes), len(self.colourway.weft_colours)
        return f"colour gamp of {warps} warp by {wefts} weft colours, {warps * wefts} crossings"

    def _repr_html_(self) -> str:
        return self.picture()._repr_html_() + self.table_html()


def _plain(value: float) -> float | str:
    return round(value, 4) if np.isfinite(value) else ""


def _shown(value: float) -> str:
    return f"{value:.2f}" if np.isfinite(value) else "–"


def _lines(words: Sequence[str], room: int) -> list[str]:
    """Words joined into as many lines as they need."""
    measure = font_of(PLAIN, 14).getlength
    lines = [words[0]]
    for word in words[1:]:
        longer = f"{lines[-1]}{' ' if lines[-1].endswith(':') else ' · '}{word}"
        if measure(longer) <= room:
            lines[-1] = longer
        else:
            lines.append(word)
    return lines


def colour_gamp(
    warp: Colours,
    weft: Colours | None = None,
    *,
    ground: NamedColour | str = "white",
    strength: float = 1.0,
    mixing: str = "woven",
    size: Length | str = "1 in",
    name: str = "",
) -> ColourGamp:
    """Lay every warp colour across every weft colour.

    Parameters
    ----------
    warp : Palette or iterable of NamedColour or CSS Color 4 text
        1 to 24 colours; of a palette its stripe colours.
    weft : the same, optional
        As the warp where left out.
    ground, strength, mixing, name :
        See :class:`Colourway`. At full strength in ``woven`` it is yarn across yarn.
    size : Length or str
        How wide each colour is.

    Returns
    -------
    ColourGamp

    Raises
    ------
    ArgumentError, ColourError, LengthError

    Examples
    --------
    >>> gamp = colour_gamp(["navy", "gold"], ["ivory", "coral", "teal"])
    >>> print(gamp)
    colour gamp of 2 warp by 3 weft colours, 6 crossings
    >>> gamp.values("dl").round(1).tolist()
    [[0.3, 25.5, 40.0], [0.2, 8.1, 9.2]]
    """
    across, up = (given.stripes if isinstance(given, Palette) else given for given in (warp, weft))
    cloth = Colourway(ground, across or (), strength, mixing, name, weft_stripes=up)
    counts = len(cloth.stripes), len(cloth.weft_colours)
    bands = ([(number, 1) for number in range(1, count + 1)] for count in counts)
    check = Check(size, counts[0], warp=next(bands), weft=next(bands), weft_stripes=counts[1])
    return ColourGamp(cloth, check)
