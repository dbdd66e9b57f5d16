"""The tones of a check whose stripes are inks of a measured condition, each at its tone values."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property

from checkcloth.arguments import Floats, as_tuple, require_type
from checkcloth.colour.illuminant import WHITES, adapt_xyz
from checkcloth.colour.print_condition import PrintCondition
from checkcloth.colour.spaces import xyz_to_lab, xyz_to_shown
from checkcloth.errors import ArgumentError
from checkcloth.files.html import OneLine

ToneValues = Mapping[str, float]


@dataclass(frozen=True, repr=False, eq=False)
class Inked(OneLine):
    """Stripes given as tone values of a condition's inks; what they print is predicted by it.

    Parameters
    ----------
    condition : PrintCondition
    stripes : iterable of mappings of names of inks to tone values
        One or more, in order; tone values 0 to 1, nominal, as in the file.
    ground : such a mapping, optional
        Printed all over; the paper where left out.
    weft_stripes : as ``stripes``, optional
        Of the weft's own; those of the warp where left out.

    Raises
    ------
    ArgumentError
        For inks that the condition has not, tone values out of range, no stripes.

    Examples
    --------
    >>> shop = PrintCondition([0.82, 0.85, 0.70], {"brick": [0.20, 0.12, 0.06]}, name="Halt press")
    >>> design = Inked(shop, [{"brick": 0.6}])
    >>> design.names, design.lab[1, 1].round(0).tolist()
    (('brick 60 %',), [50.0, 40.0, 12.0])
    """

    condition: PrintCondition
    stripes: tuple[ToneValues, ...]
    ground: ToneValues
    weft_stripes: tuple[ToneValues, ...]

    def __init__(
        self,
        condition: PrintCondition,
        stripes: Iterable[ToneValues],
        ground: ToneValues | None = None,
        weft_stripes: Iterable[ToneValues] | None = None,
    ) -> None:
        require_type(condition, "condition", PrintCondition)
        given = as_tuple(stripes, "stripes")
        wefts = () if weft_stripes is None else as_tuple(weft_stripes, "weft_stripes")
        if not given or (weft_stripes is not None and not wefts):
            raise ArgumentError("stripes", "one or more", words="none")
        values = condition.cloth_tone_values(given, ground, wefts or None)
        set_ = object.__setattr__
        set_(self, "condition", condition)
        set_(self, "stripes", tuple(dict(one) for one in given))
        set_(self, "ground", dict(ground or {}))
        set_(self, "weft_stripes", tuple(dict(one) for one in wefts))
        set_(self, "tone_values", values)

    tone_values: Floats
    """Nominal tone values (W+1, F+1, k) of each ink's plate."""

    @cached_property
    def xyz(self) -> Floats:
        """XYZ (W+1, F+1, 3), D50, 2°, white Y = 1."""
        return self.condition.xyz_of(self.tone_values)

    @property
    def lab(self) -> Floats:
        """L*a*b* (W+1, F+1, 3) under D50, 2°."""
        return xyz_to_lab(self.xyz, WHITES["D50"])

    @property
    def tones(self) -> Floats:
        """Encoded sRGB (W+1, F+1, 3), brought into the gamut where it lies outside."""
        return xyz_to_shown(adapt_xyz(self.xyz, "D50", "D65"))

    @property
    def names(self) -> tuple[str, ...]:
        """Each stripe in words, by its inks."""
        return tuple(map(_named, self.stripes))

    @property
    def weft_names(self) -> tuple[str, ...]:
        """As :attr:`names`, of the weft's own stripes."""
        return tuple(map(_named, self.weft_stripes))

    @property
    def ground_name(self) -> str:
        """The ground in words."""
        return _named(self.ground) if self.ground else "paper"

    @property
    def words(self) -> str:
        """Which condition, what it rests on, and how far off it may be."""
        return self.condition.words

    def __str__(self) -> str:
        return f"{'; '.join(self.names)} on {self.ground_name}, by {self.words}"


def _named(values: ToneValues) -> str:
    inks = [f"{ink} {value * 100:.4g} %" for ink, value in values.items() if value]
    return " and ".join(inks) or "no ink"


_TINT = re.compile(r"(.+) (\d{1,3}(?:\.\d{1,6})?) %")


def tints_in(name: str, condition: PrintCondition) -> dict[str, float] | None:
    """Return the tone value of each ink in a name, as :class:`Inked` names stripes; None in others.

    >>> shop = PrintCondition([0.82, 0.85, 0.70], {"brick": [0.20, 0.12, 0.06]})
    >>> tints_in("Brick", shop), tints_in("brick 60 %", shop), tints_in("navy", shop)
    ({'brick': 1.0}, {'brick': 0.6}, None)
    """
    known = {ink.casefold(): ink for ink in condition.solids}
    if name.casefold() in known:
        return {known[name.casefold()]: 1.0}
    tints = {}
    for part in name.split(" and "):
        match = _TINT.fullmatch(part)
        ink = known.get(match[1].casefold()) if match else None
        if match is None or ink is None or float(match[2]) > 100:
            return None
        tints[ink] = float(match[2]) / 100
    return tints
