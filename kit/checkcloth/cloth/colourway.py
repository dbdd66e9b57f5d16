"""One colouring of the design: a ground, stripes in order, a strength and a mixing."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any

import numpy as np

from checkcloth.arguments import Floats, as_number, as_tuple
from checkcloth.cloth.check import MOST_STRIPES, Check
from checkcloth.cloth.mixing import find_mixing, mix_tones
from checkcloth.cloth.named_colour import NamedColour, clean_text
from checkcloth.colour.spaces import srgb_to_bytes
from checkcloth.errors import ArgumentError, shown
from checkcloth.files.html import figure, image
from checkcloth.files.png import bands_png

__all__ = ["Colourway", "tones_of"]


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

    def __init__(
        self,
        ground: NamedColour | str,
        stripes: Iterable[NamedColour | str],
        strength: float = 0.5,
        mixing: str = "source-over",
        name: str = "",
        warp_share: float = 0.5,
        yule_nielsen: float = 1.0,
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
            raise ArgumentError(
                f"changes must name fields of a colourway ({fields}), found {shown([*changes])}"
            ) from None

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

    def __str__(self) -> str:
        stripes = ", ".join(stripe.name for stripe in self.stripes)
        lead = f"{self.name}: " if self.name else ""
        how = find_mixing(self.mixing).label
        return f"{lead}{stripes} on {self.ground.name}, {self.strength * 100:.4g} %, {how}"

    def __repr__(self) -> str:
        return f"<{self}>"

    def _repr_html_(self) -> str:
        plan = Check("1 cm", len(self.stripes)).plan()
        pixels = max(4, 96 // len(plan)) * np.ones_like(plan)
        across = np.tile(np.repeat(plan, pixels), 2)
        # image[y, x] = tones[warp[x], weft[y]], so rows take the second tone axis.
        cells = srgb_to_bytes(self.tones).swapaxes(0, 1)
        png = bands_png(np.ascontiguousarray(cells), across, across)
        kind = "estimated " if find_mixing(self.mixing).estimate else ""
        alt = f"{kind}gingham, two repeats each way: {self}"
        return figure(image(png, alt, width=len(across), height=len(across)), str(self))


def tones_of(colourways: Iterable[Colourway]) -> Floats:
    """Return the tones (M, N+1, N+1, 3) of colourways with equally many stripes.

    Those of one mixing are worked as one array.

    Raises
    ------
    ArgumentError
        For none, or for differing stripe counts.

    Examples
    --------
    >>> tones_of([Colourway("white", ["navy"]), Colourway("ivory", ["teal"])]).shape
    (2, 2, 2, 3)
    """
    members = list(colourways)
    counts = {len(member.stripes) for member in members}
    if len(counts) != 1:
        found = ", ".join(map(str, sorted(counts))) or "no colourway"
        raise ArgumentError(f"colourways must have equally many stripes, found {found}")
    number = counts.pop()
    tones = np.empty((len(members), number + 1, number + 1, 3))
    groups: dict[tuple[str, float, float], list[int]] = {}
    for place, member in enumerate(members):
        key = (member.mixing, member.warp_share, member.yule_nielsen)
        groups.setdefault(key, []).append(place)
    for (mixing, share, n), places in groups.items():
        tones[places] = mix_tones(
            np.array([members[place].ground.rgb for place in places]),
            np.array([[s.rgb for s in members[place].stripes] for place in places]),
            np.array([members[place].strength for place in places]),
            mixing,
            warp_share=share,
            yule_nielsen=n,
        )
    return tones
