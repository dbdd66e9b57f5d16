"""One colouring of the design: a ground, stripes in order, a strength and a mixing."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any

import numpy as np

from checkcloth.arguments import Floats, as_number, as_tuple, require_type
from checkcloth.cloth.bands import even_bands
from checkcloth.cloth.check import MOST_STRIPES, Check
from checkcloth.cloth.mixing import find_mixing
from checkcloth.cloth.named_colour import NamedColour, clean_text, moved_words
from checkcloth.cloth.tones import (
    Symmetry,
    Tone,
    positions_of,
    stack,
    swatch,
    swatch_plans,
    symmetry_of,
    tones_of,
)
from checkcloth.colour.ciede2000 import delta_e_2000
from checkcloth.colour.ink import STOCKS, Stock
from checkcloth.colour.inked import Inked
from checkcloth.colour.print_condition import PrintCondition
from checkcloth.colour.spaces import srgb_to_lab, xyz_to_lab
from checkcloth.colour.wide import Known, known_of
from checkcloth.errors import ArgumentError
from checkcloth.files.html import OneLine, figure, image


@dataclass(frozen=True, repr=False)
class Colourway(OneLine):
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
    weft_stripes : iterable of NamedColour or text, optional
        1 to 24 colours of the weft's own, in order; the weft has those of the warp where
        left out, and then this field is empty.

    Raises
    ------
    ArgumentError, ColourError
        For colours that are none, no or too many stripes, numbers out of range.

    Examples
    --------
    >>> print(Colourway("white", ["navy", "teal"], name="Quay"))
    Quay: navy, teal on white, 50 %, source-over
    >>> print(Colourway("white", ["navy", "teal"], weft_stripes=["gold"]))
    navy, teal on white, weft gold, 50 %, source-over
    """

    ground: NamedColour
    stripes: tuple[NamedColour, ...]
    strength: float = 0.5
    mixing: str = "source-over"
    name: str = ""
    warp_share: float = 0.5
    yule_nielsen: float = 1.0
    stock: Stock = STOCKS[""]
    weft_stripes: tuple[NamedColour, ...] = ()

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
        weft_stripes: Iterable[NamedColour | str] | None = None,
    ) -> None:
        members = _colours(stripes, "stripes")
        wefts = _colours(weft_stripes, "weft_stripes") if weft_stripes not in (None, ()) else ()
        fields: dict[str, Any] = {
            "ground": NamedColour.of(ground),
            "stripes": members,
            "strength": as_number(strength, "strength", 0, 1),
            "mixing": find_mixing(mixing).name,
            "name": clean_text(name, "name"),
            "warp_share": as_number(warp_share, "warp_share", 0, 1),
            "yule_nielsen": as_number(yule_nielsen, "yule_nielsen", 1, 10),
            "weft_stripes": () if wefts == members else wefts,
            "stock": _stock_of(stock),
        }
        for key, value in fields.items():
            object.__setattr__(self, key, value)

    @classmethod
    def of_inks(cls, inked: Inked, name: str = "") -> Colourway:
        """Return the colourway that stands for stripes given as inks of a print condition.

        Ground and stripes are the colours that the condition prints; where stripes cross, mixing
        ``ink`` comes near to it on the condition's stock, and ``inked.tones`` has it.
        """
        tones = inked.tones

        def colours(names: Iterable[str], rgb: Floats) -> list[NamedColour]:
            return [
                NamedColour(label, (r, g, b))
                for label, (r, g, b) in zip(names, rgb.tolist(), strict=True)
            ]

        (ground,) = colours([inked.ground_name], tones[:1, 0])
        wefts = colours(inked.weft_names, tones[0, 1:]) if inked.weft_stripes else None
        stripes = colours(inked.names, tones[1:, 0])
        stock = inked.condition.as_stock
        return cls(ground, stripes, 1.0, "ink", name, stock=stock, weft_stripes=wefts)

    @property
    def weft_colours(self) -> tuple[NamedColour, ...]:
        """The colours of the weft's stripes: its own, or else those of the warp."""
        return self.weft_stripes or self.stripes

    @property
    def inks(self) -> tuple[NamedColour, ...]:
        """A colour for each warp stripe, then those of the weft's own that no warp stripe has."""
        own = dict.fromkeys(colour for colour in self.weft_stripes if colour not in self.stripes)
        return (*self.stripes, *own)

    @property
    def weft_inks(self) -> tuple[int, ...]:
        """For each weft stripe its index in :attr:`inks`."""
        if not self.weft_stripes:
            return tuple(range(len(self.stripes)))
        return tuple(self.inks.index(colour) for colour in self.weft_stripes)

    @property
    def colours(self) -> tuple[NamedColour, ...]:
        """Every colour that it is made of, once: ground, warp stripes, the weft's own."""
        return tuple(dict.fromkeys((self.ground, *self.stripes, *self.weft_stripes)))

    @cached_property
    def tones(self) -> Floats:
        """Tones (W+1, F+1, 3), encoded sRGB, read-only; see :func:`mix_tones`.

        Of colours outside sRGB, what is shown: :attr:`tones_xyz` has them as they are.
        """
        return _frozen(tones_of([self])[0])

    @cached_property
    def tones_xyz(self) -> Floats:
        """The same tones in XYZ (D65, 2°, white Y = 1), nothing mapped, read-only.

        >>> Colourway("white", ["teal"]).tones_xyz[0, 0].round(3).tolist()
        [0.95, 1.0, 1.089]
        """
        return _frozen(stack([self])[0].xyz()[0])

    @cached_property
    def tones_lab(self) -> Floats:
        """The same tones as L*a*b* (D65, 2°), read-only; not bound to what a screen shows."""
        lab = xyz_to_lab(self.tones_xyz) if any(self.known) else srgb_to_lab(self.tones)
        return _frozen(lab)

    @cached_property
    def tone_shifts(self) -> Floats:
        """ΔE00 (W+1, F+1) of each tone as it is shown from what it is; 0 for colours of sRGB."""
        if not any(self.known):
            return np.zeros(self.tones.shape[:2])
        off = delta_e_2000(self.tones_lab, srgb_to_lab(self.tones))
        return np.where(off < _ROUNDING, 0.0, off)

    @cached_property
    def known(self) -> Known:
        """What is known of its colours beyond sRGB."""
        return known_of((self.ground, *self.stripes, *self.weft_stripes))

    @property
    def moved_words(self) -> str:
        """How many of its colours lie outside sRGB, and how far off they are shown; or nothing."""
        return moved_words(self.colours) if self.known.beyond else ""

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
            stripe = self.stripes[warp - 1] if warp else self.weft_colours[weft - 1]
            return f"{stripe.name} on {self.ground.name}"
        return f"{self.stripes[warp - 1].name} over {self.weft_colours[weft - 1].name}"

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
        counts = len(self.stripes), len(self.weft_colours)
        return tuple(
            Tone(*positions[0], self.tone_label(*positions[0]), positions)
            for positions in positions_of(*counts, self.symmetry)
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
        weft = ", ".join(stripe.name for stripe in self.weft_stripes)
        on = f"{self.ground.name}, weft {weft}" if weft else self.ground.name
        words = f"{lead}{stripes} on {on}, {self.strength * 100:.4g} %, {how}"
        return f"{words}; {moved}" if (moved := self.moved_words) else words

    def _repr_html_(self) -> str:
        warp, weft = swatch_plans(even_bands(len(self.stripes)), even_bands(len(self.weft_colours)))
        kind = "estimated " if find_mixing(self.mixing).estimate else ""
        alt = f"{kind}gingham, two repeats each way: {self}"
        png = swatch(self.tones, warp, weft)
        return figure(image(png, alt, width=len(warp), height=len(weft)), str(self))


# Below this, ΔE00 between a tone and what is shown of it is the rounding of either.
_ROUNDING = 1e-4


def fitting(colourway: Colourway, check: Check) -> Check:
    """Return ``check``, or raise an :class:`ArgumentError` for one of other stripe counts.

    >>> fitting(Colourway("white", ["navy"]), Check("0.5 in", 1)).stripes
    1
    """
    require_type(colourway, "colourway", Colourway)
    require_type(check, "check", Check)
    wanted = len(colourway.stripes), len(colourway.weft_colours)
    found = check.stripes, check.weft_stripes
    if found != wanted:
        each = (str(warp) if warp == weft else f"{warp} warp, {weft} weft"
                for warp, weft in (wanted, found))  # fmt: skip
        allowed = f"one of as many stripes as the colourway ({next(each)})"
        raise ArgumentError("check", allowed, words=next(each))
    return check


def _frozen(values: Floats) -> Floats:
    values.flags.writeable = False
    return values


def _colours(given: Iterable[NamedColour | str] | None, argument: str) -> tuple[NamedColour, ...]:
    members = tuple(NamedColour.of(colour) for colour in as_tuple(given, argument, of="colours"))
    if not 1 <= len(members) <= MOST_STRIPES:
        raise ArgumentError(argument, f"1 to {MOST_STRIPES} colours", len(members))
    return members


def _stock_of(stock: object) -> Stock:
    if isinstance(stock, PrintCondition):
        raise ArgumentError(
            "stock",
            "the name of one, or a Stock",
            stock,
            hint="; a condition prints stripes that are given as its inks: see Inked",
        )
    return Stock.of(stock)  # type: ignore[arg-type]
