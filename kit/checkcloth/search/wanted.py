"""The brief of a search, in words of the trade: frozen, checked at the door."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any

from checkcloth.arguments import as_number, as_whole
from checkcloth.cloth.check import MOST_STRIPES
from checkcloth.cloth.mixing import find_mixing
from checkcloth.cloth.named_colour import NamedColour
from checkcloth.cloth.palette import Palette
from checkcloth.colour.vision import VISIONS
from checkcloth.errors import ArgumentError, shown
from checkcloth.search.constraint import MEASURES, Need
from checkcloth.search.setting import Case, Colours, join_palettes, members_of, once, one_of

__all__ = ["MOST_CASES", "MOST_SEARCHED", "Wanted"]

# A colour's number fits one byte; comparing crossings with crossings takes C⁴ numbers.
MOST_SEARCHED = 256
MOST_WITH_CROSSINGS = 48
MOST_CASES = 100_000

# Which field asks for which pairs and comparison, and how far it can go.
_ASKED = {
    "ground_apart": ("ground_single", "de2000", 100),
    "crossings_apart": ("single_crossing", "de2000", 100),
    "stripes_apart": ("single_single", "de2000", 100),
    "crossings_unlike": ("crossing_crossing", "de2000", 100),
    "edge_lightness": ("least_edge", "dl", 100),
    "edge_ratio": ("least_edge", "ratio", 21),
}


@dataclass(frozen=True)
class Wanted:
    """What is wanted of a search.

    A colourway here is a ground, a strength, a mixing and a *choice* of stripe colours;
    every score but the neighbours' is the same in every order, so the order is found
    afterwards (:func:`best_order`). A condition left at None is not asked for; one that
    is asked for must hold to normal vision and to each of ``visions``.

    Parameters
    ----------
    palette : Palette or several
        Stripes come from its stripes (see :attr:`Palette.stripes`).
    stripes : int
        Stripe colours in a check, 1 to 24.
    grounds : iterable of NamedColour or CSS text, optional
        Grounds allowed; left out, the palette's grounds. Text that is a name of the
        palette means that colour.
    strengths, mixings : iterable
    must, must_not : iterable of NamedColour or name
        Stripes that every colourway has, and colours that none has.
    ground_apart : float, optional
        Every stripe at least this far from the ground, CIEDE2000.
    crossings_apart : float, optional
        Every crossing at least this far from both its stripes, CIEDE2000: the crossings
        can be read.
    stripes_apart : float, optional
        Any two stripes at least this far apart, CIEDE2000: no two read alike.
    crossings_unlike : float, optional
        Any two crossings at least this far apart, CIEDE2000; up to 48 stripe colours.
    edge_lightness, edge_ratio : float, optional
        |ΔL*|, and contrast ratio, across every edge on the cloth.
    lightness_order : bool
        Lightness runs one way, from ground over stripe to crossing.
    visions : iterable of str
        Colour visions under which all of it must hold too; see :func:`see_as`.
    severity : float
    measure : str
        What "best" means: one of ``MEASURES``, the greater the better. ``"least_edge"``
        is the CIEDE2000 of the closest two tones that share an edge.
    measured : str
        ``"normal"``, another vision, or ``"worst"``: the least over all visions asked for.
    warp_share, yule_nielsen : float
        See :func:`mix_tones`.

    Raises
    ------
    ArgumentError
        Naming the field, what was found and what is allowed.

    Examples
    --------
    >>> wanted = Wanted(Palette("coast", ["white", "navy", "teal", "gold"]), 2,
    ...                 grounds=["white"], ground_apart=20, visions=["deutan"])
    >>> wanted.count, [str(need) for need in wanted.needs][1]
    (3, 'every stripe at least ΔE00 20 from the ground, to deutan vision')
    """

    palette: Palette
    stripes: int
    grounds: tuple[NamedColour, ...] = ()
    strengths: tuple[float, ...] = (0.5,)
    mixings: tuple[str, ...] = ("source-over",)
    must: tuple[NamedColour, ...] = ()
    must_not: tuple[NamedColour, ...] = ()
    ground_apart: float | None = None
    crossings_apart: float | None = None
    stripes_apart: float | None = None
    crossings_unlike: float | None = None
    edge_lightness: float | None = None
    edge_ratio: float | None = None
    lightness_order: bool = False
    visions: tuple[str, ...] = ()
    severity: float = 1.0
    measure: str = "least_edge"
    measured: str = "normal"
    warp_share: float = 0.5
    yule_nielsen: float = 1.0

    def __init__(
        self,
        palette: Palette | Iterable[Palette],
        stripes: int,
        grounds: Colours = (),
        strengths: Iterable[float] | float = (0.5,),
        mixings: Iterable[str] | str = ("source-over",),
        must: Colours = (),
        must_not: Colours = (),
        ground_apart: float | None = None,
        crossings_apart: float | None = None,
        stripes_apart: float | None = None,
        crossings_unlike: float | None = None,
        edge_lightness: float | None = None,
        edge_ratio: float | None = None,
        lightness_order: bool = False,
        visions: Iterable[str] | str = (),
        severity: float = 1.0,
        measure: str = "least_edge",
        measured: str = "normal",
        warp_share: float = 0.5,
        yule_nielsen: float = 1.0,
    ) -> None:
        pool = join_palettes(palette)
        asked = (ground_apart, crossings_apart, stripes_apart, crossings_unlike,
                 edge_lightness, edge_ratio)  # fmt: skip
        levels = [strengths] if isinstance(strengths, int | float) else list(strengths)
        names = [mixings] if isinstance(mixings, str) else list(mixings)
        seen = (visions,) if isinstance(visions, str) else tuple(visions)
        fields: dict[str, Any] = {
            "palette": pool,
            "stripes": as_whole(stripes, "stripes", 1, MOST_STRIPES),
            "grounds": members_of(pool, grounds, "grounds") or pool.grounds,
            "strengths": once(as_number(level, "strengths", 0, 1) for level in levels),
            "mixings": once(find_mixing(name).name for name in names),
            "must": members_of(pool, must, "must", own=True),
            "must_not": members_of(pool, must_not, "must_not"),
            "lightness_order": bool(lightness_order),
            "visions": once(one_of(name, VISIONS, "visions") for name in seen if name != "normal"),
            "severity": as_number(severity, "severity", 0, 1),
            "measure": one_of(measure, MEASURES, "measure"),
            "measured": one_of(measured, (*VISIONS, "worst"), "measured"),
            "warp_share": as_number(warp_share, "warp_share", 0, 1),
            "yule_nielsen": as_number(yule_nielsen, "yule_nielsen", 1, 10),
        }
        for (name, (*_, top)), value in zip(_ASKED.items(), asked, strict=True):
            fields[name] = None if value is None else as_number(value, name, 0, top)
        for name, value in fields.items():
            object.__setattr__(self, name, value)
        self._check()

    def _check(self) -> None:
        if self.stripes == 1 and self.measure.startswith("single_single"):
            raise ArgumentError("measure must not compare two stripes where there is only one")
        for name in ("strengths", "mixings"):
            if not getattr(self, name):
                raise ArgumentError(f"{name} must name at least one, found none")
        banned = {colour.rgb for colour in self.must_not}
        for colour in self.must:
            if colour.rgb in banned:
                raise ArgumentError(f"must and must_not both hold {shown(colour.name)}")
        if len(self.must) > self.stripes:
            raise ArgumentError(
                f"must may hold at most {self.stripes} colours, as many as there are stripes; "
                f"found {len(self.must)}"
            )
        most = MOST_SEARCHED if self.crossings_unlike is None else MOST_WITH_CROSSINGS
        if len(self.candidates) > most:
            why = "" if self.crossings_unlike is None else " where crossings_unlike is asked for"
            raise ArgumentError(
                "palette", f"at most {most} stripe colours{why}", len(self.candidates)
            )
        if self.case_count > MOST_CASES:
            raise ArgumentError(
                "grounds × strengths × mixings", f"at most {MOST_CASES}", words=str(self.case_count)
            )
        if self.count == 0:
            raise ArgumentError(
                "stripes",
                f"at most what the palette can fill: {len(self.candidates)} stripe colours, never the ground's own",
                words=str(self.stripes),
            )

    @cached_property
    def candidates(self) -> tuple[NamedColour, ...]:
        """Stripe colours to choose from, in palette order; every choice is places in it."""
        banned = {colour.rgb for colour in self.must_not}
        own = [c for c in self.palette.stripes if c.rgb not in banned]
        more = [c for c in self.must if c not in own]
        return (*own, *more)

    @property
    def case_count(self) -> int:
        """Grounds × strengths × mixings."""
        return len(self.grounds) * len(self.strengths) * len(self.mixings)

    def case(self, number: int) -> Case:
        """Return one ground at one strength in one mixing, by its number from 0."""
        rest, mixing = divmod(number, len(self.mixings))
        place, strength = divmod(rest, len(self.strengths))
        ground = self.grounds[place]
        candidates = self.candidates
        must = tuple(candidates.index(colour) for colour in self.must)
        fits = [p for p, c in enumerate(candidates) if c.rgb != ground.rgb]
        free = tuple(p for p in fits if p not in must)
        # A ground that is itself a colour that must be a stripe has no colourways.
        choose = self.stripes - len(must) if all(p in fits for p in must) else -1
        return Case(
            number, ground, self.strengths[strength], self.mixings[mixing], must, free, choose
        )

    @property
    def cases(self) -> tuple[Case, ...]:
        """Every ground at every strength in every mixing."""
        return tuple(self.case(number) for number in range(self.case_count))

    @property
    def needs(self) -> tuple[Need, ...]:
        """The conditions one by one, each under each vision."""
        visions = ("normal", *self.visions)
        out = [
            Need(kind, by, getattr(self, name), vision)
            for name, (kind, by, _) in _ASKED.items()
            if getattr(self, name) is not None
            for vision in visions
        ]
        if self.lightness_order:
            out += [Need("lightness", "", 0, vision) for vision in visions]
        return tuple(out)

    @property
    def measure_visions(self) -> tuple[str, ...]:
        """The visions that the measure is the least over."""
        return ("normal", *self.visions) if self.measured == "worst" else (self.measured,)

    @property
    def count(self) -> int:
        """How many colourways there are, the order of stripes not counted: exact."""
        each = len(self.strengths) * len(self.mixings)
        return sum(self.case(place * each).count * each for place in range(len(self.grounds)))

    def with_(self, **changes: Any) -> Wanted:
        """Return the brief with some fields changed, checked as at the start."""
        unknown = set(changes) - set(self.__dataclass_fields__)
        if unknown:
            raise ArgumentError(
                f"changes must name fields of a brief ({', '.join(self.__dataclass_fields__)}), "
                f"found {shown(sorted(unknown))}"
            )
        return replace(self, **changes)

    def __str__(self) -> str:
        noun = "stripe" if self.stripes == 1 else "stripes"
        return (
            f"{self.stripes} {noun} from {len(self.candidates)} colours on "
            f"{len(self.grounds)} grounds at {len(self.strengths)} strengths: "
            f"{self.count:,} colourways"
        )
