"""One colouring of the design: a ground, stripes in order, a strength and a mixing."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any

from checkcloth.arguments import Floats, as_number, as_tuple
from checkcloth.cloth.check import MOST_STRIPES, even_bands
from checkcloth.cloth.mixing import find_mixing
from checkcloth.cloth.named_colour import NamedColour, clean_text
from checkcloth.cloth.tones import (
    Symmetry,
    Tone,
    positions_of,
    swatch,
    swatch_plan,
    symmetry_of,
    tones_of,
)
from checkcloth.colour.ink import STOCKS, Stock
from checkcloth.errors import ArgumentError
from checkcloth.files.html import figure, image

__all__ = ["Colourway"]


@dataclass(frozen=True, repr=False)
class Colourway:
    """A colourway of a check with as many stripes as it has stripe colours.

    Parameters
    ----------
    ground : NamedColour or CSS Color 4 text
    stripes : iterable of the same
        1 to 24, in the order they run across the cloth.
    strength : float
        Overlay strength, 0 to 1.
    mixing : str
        One of ``MIXINGS``.
    name : str
    warp_share, yule_nielsen : float
    stock : str or Stock
        See :func:`mix_tones`.

    Raises
    ------
    ArgumentError, ColourError
        For colours that are none, no or too many stripes, numbers out of range.

    Examples
    --------
    >>> print(Colourway("white", ["navy", "teal"], name="Quay"))
    Quay: navy, teal on white, 50 %, source-over
    """

    ground: NamedColour
    stripes: tuple[NamedColour, ...]
    strength: float = 0.5
    mixing: str = "source-over"
    name: str = ""
    warp_share: float = 0.5
    yule_nielsen: float = 1.0
    stock: Stock = STOCKS[""]

    def __init__(
        self,
        ground: NamedColour | str,
        stripes: Iterable[NamedColour | str],
        strength: float = 0.5,
        mixing: str = "source-over",
        name: str = "",
        warp_share: float = 0.5,
        yule_nielsen: float = 1.0,
        stock: str | Stock = "",
    ) -> None:
        members = tuple(
            NamedColour.of(stripe) for stripe in as_tuple(stripes, "stripes", of="colours")
        )
        if not 1 <= len(members) <= MOST_STRIPES:
            raise ArgumentError("stripes", f"1 to {MOST_STRIPES} colours", len(members))
        fields: dict[str, Any] = {
            "ground": NamedColour.of(ground),
            "stripes": members,
            "strength": as_number(strength, "strength", 0, 1),
            "mixing": find_mixing(mixing).name,
            "name": clean_text(name, "name"),
            "warp_share": as_number(warp_share, "warp_share", 0, 1),
            "yule_nielsen": as_number(yule_nielsen, "yule_nielsen", 1, 10),
            "stock": Stock.of(stock),
        }
        for key, value in fields.items():
            object.__setattr__(self, key, value)

    @cached_property
    def tones(self) -> Floats:
        """Tones (N+1, N+1, 3), encoded sRGB, read-only; see :func:`mix_tones`."""
        tones: Floats = tones_of([self])[0]
        tones.flags.writeable = False
        return tones

    def with_(self, **changes: Any) -> Colourway:
        """Return the colourway with some fields changed, checked as at the start.

        >>> Colourway("white", ["navy"]).with_(strength=0.8).strength
        0.8
        """
        try:
            return replace(self, **changes)
        except TypeError:
            fields = ", ".join(self.__dataclass_fields__)
            allowed = f"fields of a colourway ({fields})"
            raise ArgumentError("changes", allowed, [*changes]) from None

    def tone_name(self, warp: int, weft: int) -> str:
        """Name a tone for people: the ground, a stripe over it, or two stripes crossing.

        >>> Colourway("white", ["navy", "teal"]).tone_name(1, 2)
        'navy over teal'
        """
        if warp == 0 and weft == 0:
            return self.ground.name
        if warp == 0 or weft == 0:
            return f"{self.stripes[max(warp, weft) - 1].name} on {self.ground.name}"
        return f"{self.stripes[warp - 1].name} over {self.stripes[weft - 1].name}"

    @cached_property
    def symmetry(self) -> Symmetry:
        """Which tones are the same whether warp or weft makes them."""
        # Judged at half strength: at none every tone is the ground, whatever the mixing does.
        return symmetry_of(self.tones if self.strength == 0.5 else self.with_(strength=0.5).tones)

    @property
    def unique_tones(self) -> tuple[Tone, ...]:
        """Every distinct tone once: ground, warp singles, weft singles, crossings.

        >>> [tone.name for tone in Colourway("white", ["navy"]).unique_tones]
        ['white', 'navy on white', 'navy over navy']
        """
        number = len(self.stripes)
        return tuple(
            Tone(*positions[0], self.tone_label(*positions[0]), positions)
            for positions in positions_of(number, number, self.symmetry)
        )

    def tone_label(self, warp: int, weft: int) -> str:
        """Name a tone so that warp and weft singles are told apart where they differ.

        >>> Colourway("white", ["navy"], mixing="woven", warp_share=0.7).tone_label(0, 1)
        'weft navy on white'
        """
        name = self.tone_name(warp, weft)
        if (warp == 0) == (weft == 0) or self.symmetry.mirrored:
            return name
        return f"{'warp' if warp else 'weft'} {name}"

    def __str__(self) -> str:
        stripes = ", ".join(stripe.name for stripe in self.stripes)
        lead = f"{self.name}: " if self.name else ""
        how = find_mixing(self.mixing).label
        return f"{lead}{stripes} on {self.ground.name}, {self.strength * 100:.4g} %, {how}"

    def __repr__(self) -> str:
        return f"<{self}>"

    def _repr_html_(self) -> str:
        plan = swatch_plan(even_bands(len(self.stripes)))
        kind = "estimated " if find_mixing(self.mixing).estimate else ""
        alt = f"{kind}gingham, two repeats each way: {self}"
        png = swatch(self.tones, plan)
        return figure(image(png, alt, width=len(plan), height=len(plan)), str(self))
