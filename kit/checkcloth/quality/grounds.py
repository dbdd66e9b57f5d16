"""How much a colourway gains from another ground."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import Any, ClassVar

from checkcloth.cloth.check import Check
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.named_colour import NamedColour
from checkcloth.cloth.palette import Palette
from checkcloth.cloth.tones import tones_of
from checkcloth.errors import ArgumentError
from checkcloth.files.frames import Definition, Tabular
from checkcloth.files.html import Cell, OneLine, table
from checkcloth.ideas.variants import each_ground
from checkcloth.scoring.contrast import least_over_edges
from checkcloth.scoring.definitions import LEAST_EDGE
from checkcloth.scoring.pairs import bands_of


@dataclass(frozen=True, repr=False)
class GroundGain(OneLine):
    """What one ground does for a colourway.

    Attributes
    ----------
    colourway : Colourway
        On that ground.
    least_edge, least_dl : float
        Least CIEDE2000 and least |ΔL*| over every edge.
    gain, gain_dl : float
        The same, less what the colourway had on its own ground.
    """

    colourway: Colourway
    least_edge: float
    least_dl: float
    gain: float
    gain_dl: float

    def __str__(self) -> str:
        return (
            f"{self.colourway.ground}: least edge ΔE00 {self.least_edge:.1f} ({self.gain:+z.1f}), "
            f"ΔL* {self.least_dl:.1f} ({self.gain_dl:+z.1f})"
        )


class GroundGains(list[GroundGain], Tabular):
    """What every ground does, the best first: a list that is also a table.

    Examples
    --------
    >>> gains = ground_gains(Colourway("silver", ["navy"]), ["white", "gold"])
    >>> gains.columns["ground"], [round(gain, 1) for gain in gains.columns["gain"]]
    (['gold', 'white'], [21.2, 7.2])
    """

    made_by: ClassVar[str] = "ground_gains"
    definitions: ClassVar[tuple[Definition, ...]] = (
        Definition("ground", "name of the ground", "as it was given"),
        Definition("colour", "its colour", "#rrggbb, encoded sRGB"),
        replace(LEAST_EDGE, column="least_edge"),
        Definition(
            "least_dl", "every edge: least ΔL*", "the least of |L₁* − L₂*|", LEAST_EDGE.compared
        ),
        Definition("gain", "gain in least ΔE00", "least_edge, less that on its own ground"),
        Definition("gain_dl", "gain in least ΔL*", "least_dl, less that on its own ground"),
    )  # fmt: skip

    @property
    def columns(self) -> dict[str, Any]:
        """Values by column, a row a ground."""
        numbers = ("least_edge", "least_dl", "gain", "gain_dl")
        return {
            "ground": [gain.colourway.ground.name for gain in self],
            "colour": [gain.colourway.ground.hex for gain in self],
            **{name: [getattr(gain, name) for gain in self] for name in numbers},
        }

    heads = ("Ground", "Least edge ΔE00", "gain", "least edge ΔL*", "gain")

    @property
    def words(self) -> str:
        """What the table is of."""
        return f"what {len(self)} grounds would bring"

    def texts(self) -> Iterator[tuple[str, ...]]:
        """Yield the table as texts, a row a ground."""
        for gain in self:
            edge, lightness = f"{gain.least_edge:.1f}", f"{gain.least_dl:.1f}"
            name = gain.colourway.ground.name
            yield name, edge, f"{gain.gain:+z.1f}", lightness, f"{gain.gain_dl:+z.1f}"

    def _repr_html_(self) -> str:
        rows: list[list[str | Cell]] = [
            [Cell(name, colour=gain.colourway.ground.hex), *figures]
            for gain, (name, *figures) in zip(self, self.texts(), strict=True)
        ]
        return table([self.words], self.heads, rows, right=range(1, 5))


def ground_gains(
    colourway: Colourway,
    grounds: Palette | Iterable[NamedColour | str],
    vision: str = "normal",
    *,
    check: Check | None = None,
) -> GroundGains:
    """Put a colourway on other grounds and say what each gains, the best first.

    Parameters
    ----------
    colourway : Colourway
    grounds : Palette or iterable of colours
        A palette gives its grounds.
    vision : str
        One of ``VISIONS``.
    check : Check, optional
        Whose bands say what touches, and how much; an even check unless given.

    Returns
    -------
    GroundGains
        A list; ``.frame()`` and ``.rows()`` make a table of it.

    Raises
    ------
    ArgumentError
        For no grounds.

    Examples
    --------
    >>> ground_gains(Colourway("silver", ["navy"]), ["white"])
    [<white #ffffff: least edge ΔE00 22.8 (+7.2), ΔL* 23.4 (+6.0)>]
    """
    members = each_ground(colourway, grounds)
    if not members:
        raise ArgumentError("grounds", "at least one colour", words="none")
    bands, tones = bands_of(colourway, check), tones_of([colourway, *members])
    edges, lightness = (least_over_edges(tones, by, bands, vision) for by in ("de2000", "dl"))
    gains = [
        GroundGain(member, float(edge), float(dl), float(edge - edges[0]), float(dl - lightness[0]))
        for member, edge, dl in zip(members, edges[1:], lightness[1:], strict=True)
    ]
    return GroundGains(sorted(gains, key=lambda gain: -gain.gain))
