"""The brief of a search, in words of the trade: frozen, checked when it is made."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from difflib import get_close_matches
from functools import cached_property
from math import comb, factorial
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from checkcloth.arguments import as_number, as_whole, require_one_of, require_type
from checkcloth.cloth.bands import Bands, even_bands
from checkcloth.cloth.check import MOST_STRIPES, Check
from checkcloth.cloth.mixing import find_mixing
from checkcloth.cloth.named_colour import NamedColour
from checkcloth.cloth.palette import Palette
from checkcloth.colour.ink import STOCKS, Stock
from checkcloth.colour.vision import VISIONS
from checkcloth.errors import ArgumentError
from checkcloth.files.frames import Definition
from checkcloth.ideas.orders import laid_stripes, symmetries
from checkcloth.scoring.definitions import LEAST_EDGE
from checkcloth.scoring.measures import find_measure
from checkcloth.scoring.pairs import EDGE_KINDS, KIND_MEANINGS, KINDS, tone_pairs
from checkcloth.scoring.vocabulary import (
    COLUMNS,
    MEASURE_WORDS,
    PAIR_WORDS,
    limit_words,
    vision_name,
)

# Tables of pairs take C² numbers, eight bytes each; of crossings among themselves C⁴.
MOST_SEARCHED = 1024
MOST_WITH_CROSSINGS = 200
#: With more stripe colours, crossings among themselves are compared as they come (how="best").
MOST_IN_TABLE = 48
MOST_SETTINGS = 100_000
# In bands, tables over the colours of so many stripes at once; crossings among themselves take 4.
_MOST_IN_BANDS = {1: 256, 2: 256, 3: 96, 4: MOST_IN_TABLE}

_RANKED = ("least_edge", *KINDS[:3])
_ENDINGS = {"de2000": "", "dl": "_dl", "ratio": "_ratio", "hyab": "_hyab"}
_HARMONY = "_harmony"

#: Every measure a search can rank by: the least, over all pairs of that kind.
MEASURES = (
    *(kind + ending for ending in _ENDINGS.values() for kind in _RANKED),
    f"least_edge{_HARMONY}",
)

#: Argument of a brief -> kind of pair, comparison, and the greatest value it takes.
CONDITIONS = {
    "ground_apart": ("ground_single", "de2000", 100),
    "crossings_apart": ("single_crossing", "de2000", 100),
    "stripes_apart": ("single_single", "de2000", 100),
    "crossings_unlike": ("crossing_crossing", "de2000", 100),
    "edge_lightness": ("least_edge", "dl", 100),
    "edge_ratio": ("least_edge", "ratio", 21),
    "edge_harmony": ("least_edge", "harmony", 3),
    "edge_hyab": ("least_edge", "hyab", 300),
}

#: What asks nothing of a condition; 0 of all others.
NOTHING = {"edge_ratio": 1.0, "edge_harmony": -3.0}

Colours = Iterable[NamedColour | str]


def argument_of(kind: str, by: str) -> str:
    """Return the argument of a brief that asks for a condition.

    >>> argument_of("ground_single", "de2000"), argument_of("lightness", "")
    ('ground_apart', 'lightness_order')
    """
    named = {(kind, by): name for name, (kind, by, _) in CONDITIONS.items()}
    return named.get((kind, by), "lightness_order")


def measure_parts(measure: str) -> tuple[str, str]:
    """Split the name of a measure into the kind of pair and the comparison.

    >>> measure_parts("least_edge_ratio")
    ('least_edge', 'ratio')
    """
    if measure.endswith(_HARMONY):
        return measure.removesuffix(_HARMONY), "harmony"
    for by, ending in _ENDINGS.items():
        if ending and measure.endswith(ending):
            return measure.removesuffix(ending), by
    return measure, "de2000"


def measure_words(measure: str) -> str:
    """Say a measure as it stands before a number.

    >>> measure_words("least_edge"), measure_words("single_single_dl")
    ('least edge ΔE00', 'least single–single ΔL*')
    """
    kind, by = measure_parts(measure)
    return f"least {PAIR_WORDS.get(kind, 'edge')} {MEASURE_WORDS.get(by, by)}"


def measure_definition(measure: str) -> Definition:
    """Return what a measure is, as the column of a result.

    >>> measure_definition("single_single_dl").compared
    'two stripes of one side, both warp or both weft'
    """
    kind, by = measure_parts(measure)
    compared = KIND_MEANINGS[kind].compared if kind in KIND_MEANINGS else LEAST_EDGE.compared
    if by == "harmony":
        formula = "H_C + H_L + H_H; above 0 is harmonious"
        source = "Ou and Luo 2006 (cited from memory)"
    else:
        formula, source = find_measure(by).formula, find_measure(by).source
    least = f"the least of d over the pairs and the visions asked for, d = {formula}"
    return Definition(measure, measure_words(measure), least, compared, source=source)


def measured_words(measure: str, value: float) -> str:
    """Say a measure with its number; harmony, which is small, with two decimals.

    >>> measured_words("least_edge", 13.53), measured_words("least_edge_harmony", 0.277)
    ('least edge ΔE00 13.5', 'least edge harmony 0.28')
    """
    return f"{measure_words(measure)} {value:z.{2 if measure.endswith(_HARMONY) else 1}f}"


@dataclass(frozen=True)
class Constraint:
    """One condition under one colour vision.

    The closest pair of a kind must reach ``at_least``, compared by ``"de2000"``, ``"dl"``,
    ``"ratio"``, ``"hyab"`` or ``"harmony"``. The kind ``"lightness"`` asks that lightness runs
    one way from ground over stripe to crossing, as :class:`Score` defines it.

    >>> print(Constraint("ground_single", "de2000", 20, "deutan"))
    ground–single: ΔE00 at least 20, deutan vision
    """

    kind: str
    by: str
    at_least: float
    vision: str = "normal"

    @property
    def numeric(self) -> bool:
        """Whether it is a least over pairs of colours that can be lowered by degrees."""
        return self.kind not in ("lightness", "crossing_crossing") and self.at_least > 0

    def __str__(self) -> str:
        if self.kind != "lightness":
            return limit_words(self.kind, self.by, self.at_least, self.vision)
        seen = "" if self.vision == "normal" else f", {vision_name(self.vision)}"
        return COLUMNS["lightness_runs"] + seen


class Term(NamedTuple):
    """One part of what is ranked by: the least over pairs of a kind, divided by a number.

    The measure is the least over its terms.
    """

    kind: str
    by: str
    vision: str
    over: float = 1.0


@dataclass(frozen=True)
class Setting:
    """One ground at one strength in one mixing; what varies within it is which stripes.

    ``must`` and ``free`` are indices into ``Wanted.candidates``: stripes that are always in,
    and those that ``choose`` are chosen from (negative where there are no colourways). A
    stripe never has the ground's own colour. ``number`` is the index among the settings of
    the search, ``wefts`` how many colours the weft has of its own.
    """

    number: int
    ground: NamedColour
    strength: float
    mixing: str
    must: tuple[int, ...]
    free: tuple[int, ...]
    choose: int
    wefts: int = 0

    @property
    def count(self) -> int:
        """Colourways in this setting, the order of stripes not counted."""
        if self.choose < 0:
            return 0
        return comb(len(self.free), self.choose) * comb(self._weft_choice, self.wefts)

    @property
    def weft_apart(self) -> bool:
        """Whether the weft has none of the warp's colours: where there are enough others."""
        return len(self.free) - self.choose >= self.wefts

    @property
    def _weft_choice(self) -> int:
        """How many colours the weft's own are chosen from."""
        others = len(self.free) - self.choose
        return others if self.weft_apart else len(self.free) + len(self.must)


def join_palettes(palettes: Palette | Iterable[Palette]) -> Palette:
    """Return several palettes as one.

    A colour that two palettes hold under one name and value is taken once; a name that
    stands for different colours gets its palette's name added.

    Parameters
    ----------
    palettes : Palette or iterable of Palette

    Raises
    ------
    ArgumentError
        For no palettes, or what is none.

    Examples
    --------
    >>> both = join_palettes([Palette("a", ["navy", "teal"]), Palette("b", ["teal", "gold"])])
    >>> print(both)
    palette a + b: 3 colours
    """
    if isinstance(palettes, Palette):
        return palettes
    members = list(palettes)
    if not members or not all(isinstance(member, Palette) for member in members):
        raise ArgumentError("palette", "one palette or several", palettes)
    taken: dict[str, NamedColour] = {}
    for member in members:
        for colour in member:
            known = taken.get(colour.name)
            if known is not None and (known.rgb, known.role) == (colour.rgb, colour.role):
                continue
            name = colour.name if known is None else f"{colour.name} ({member.name})"
            taken.setdefault(name, replace(colour, name=name))
    return Palette(" + ".join(member.name for member in members), taken.values())


def shows_every_stripe(check: Check, *, own_weft: bool) -> bool:
    """Whether the bands lay every stripe: each way its own where the weft has colours of its own.

    >>> shows_every_stripe(Check("1 cm", 2, warp="1 A, 1 B", weft="1 A"), own_weft=False)
    True
    """
    if not own_weft:
        return len(laid_stripes(check.warp_bands, check.weft_bands)) == check.stripes
    counts = (len(laid_stripes(bands, None)) for bands in (check.warp_bands, check.weft_bands))
    return (*counts,) == (check.stripes, check.weft_stripes)


def _unique(values: Iterable[Any]) -> tuple[Any, ...]:
    """The values in their order, each once."""
    return tuple(dict.fromkeys(values))


def _as_colours(
    palette: Palette, colours: Colours | Palette, name: str, *, own: bool = False
) -> tuple[NamedColour, ...]:
    """Colours given by name, by CSS text or as they are; ``own`` allows names only."""
    if isinstance(colours, str):
        raise ArgumentError(name, "several colours", colours)
    known = {colour.name: colour for colour in palette}
    out = []
    for colour in colours:
        if isinstance(colour, str) and colour in known:
            out.append(known[colour])
        elif isinstance(colour, NamedColour) or not own:
            out.append(NamedColour.of(colour))
        else:
            near = get_close_matches(str(colour), known, 3, 0.5) or [*known][:3]
            allowed = f"colours of {palette.name}, such as {', '.join(near)}"
            raise ArgumentError(name, allowed, colour)
    return _unique(out)


def _as_places(
    palette: Palette, colours: Iterable[NamedColour | str | None]
) -> tuple[NamedColour | None, ...]:
    if isinstance(colours, str):
        raise ArgumentError("placed", "several colours", colours)
    return tuple(
        None if colour is None else _as_colours(palette, [colour], "placed", own=True)[0]
        for colour in colours
    )


@dataclass(frozen=True)
class Wanted:
    """What is wanted of a search.

    A colourway here is a ground, a strength, a mixing and a *choice* of stripe colours;
    in an even check every score but the neighbours' is the same in every order, so the order
    is found afterwards (:func:`best_order`). In bands that are not even each distinct order of
    a choice is a colourway of its own. A condition left at None is not asked for; one that
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
        Any two crossings at least this far apart, CIEDE2000; up to 200 stripe colours, of
        which more than 48 are searched by bounding only (``how="best"``).
    edge_lightness, edge_ratio : float, optional
        |ΔL*|, and contrast ratio, across every edge on the cloth.
    edge_harmony : float, optional
        Harmony across every edge, -3 to 3, as observers preferred two colours in a laboratory
        (:func:`two_colour_harmony`); above 0 is harmonious. Of the measure
        ``"least_edge_harmony"`` too the least edge counts; the score ``harmony``, which a wall
        is sorted by, is the mean of all.
    edge_hyab : float, optional
        HyAB across every edge, 0 to 300: for large differences, where CIEDE2000 can jump.
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
    stock : str or Stock
        See :func:`mix_tones`.
    check : Check, optional
        Whose bands say what touches, with as many stripes each way as the brief, all of them
        laid. Left out, an even check; of an even one nothing counts but that it is even.
    placed : iterable of NamedColour, name or None
        Colours that stand in the first, second … stripe, None where any may. They must be in;
        they stand counts in bands that are not even. Of the warp, where the weft has its own.
    weft_stripes : int
        How many colours of its own the weft has, 0 to 24, chosen as well: of the palette's
        stripes those that the warp has not, where there are enough. With 0 it has the warp's.
        What ``must`` be in is then in the warp.

    Raises
    ------
    ArgumentError
        Naming the field, what was found and what is allowed.

    Notes
    -----
    Where some of a palette's colours lie outside sRGB, or some carry reflectances, inks, and light
    with n over 1, are mixed for all alike, in the space that the whole palette needs. A colourway
    of colours that need it not then has a measure that is near its score and not the same.

    Examples
    --------
    >>> wanted = Wanted(Palette("coast", ["white", "navy", "teal", "gold"]), 2,
    ...                 grounds=["white"], ground_apart=20, visions=["deutan"])
    >>> wanted.count, [str(constraint) for constraint in wanted.constraints][1]
    (3, 'ground–single: ΔE00 at least 20, deutan vision')
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
    edge_harmony: float | None = None
    edge_hyab: float | None = None
    lightness_order: bool = False
    visions: tuple[str, ...] = ()
    severity: float = 1.0
    measure: str = "least_edge"
    measured: str = "normal"
    warp_share: float = 0.5
    yule_nielsen: float = 1.0
    stock: Stock = STOCKS[""]
    check: Check | None = None
    placed: tuple[NamedColour | None, ...] = ()
    weft_stripes: int = 0

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
        stock: str | Stock = "",
        check: Check | None = None,
        placed: Iterable[NamedColour | str | None] = (),
        edge_harmony: float | None = None,
        edge_hyab: float | None = None,
        weft_stripes: int = 0,
    ) -> None:
        pool = join_palettes(palette)
        least = (ground_apart, crossings_apart, stripes_apart, crossings_unlike,
                 edge_lightness, edge_ratio, edge_harmony, edge_hyab)  # fmt: skip
        levels = [strengths] if isinstance(strengths, int | float) else list(strengths)
        names = [mixings] if isinstance(mixings, str) else list(mixings)
        seen_as = (visions,) if isinstance(visions, str) else tuple(visions)
        stand = _as_places(pool, placed)
        fields: dict[str, Any] = {
            "palette": pool,
            "stripes": as_whole(stripes, "stripes", 1, MOST_STRIPES),
            "grounds": _as_colours(pool, grounds, "grounds") or pool.grounds,
            "strengths": _unique(as_number(level, "strengths", 0, 1) for level in levels),
            "mixings": _unique(find_mixing(name).name for name in names),
            "must": _unique((*_as_colours(pool, must, "must", own=True), *filter(None, stand))),
            "must_not": _as_colours(pool, must_not, "must_not"),
            "lightness_order": bool(lightness_order),
            "visions": _unique(
                require_one_of(name, "visions", VISIONS) for name in seen_as if name != "normal"
            ),
            "severity": as_number(severity, "severity", 0, 1),
            "measure": require_one_of(measure, "measure", MEASURES),
            "measured": require_one_of(measured, "measured", (*VISIONS, "worst")),
            "warp_share": as_number(warp_share, "warp_share", 0, 1),
            "yule_nielsen": as_number(yule_nielsen, "yule_nielsen", 1, 10),
            "stock": Stock.of(stock),
            "check": None if check is None else require_type(check, "check", Check),
            "placed": stand,
            "weft_stripes": as_whole(weft_stripes, "weft_stripes", 0, MOST_STRIPES),
        }
        for (name, (_, by, top)), value in zip(CONDITIONS.items(), least, strict=True):
            low = -top if by == "harmony" else 0
            fields[name] = None if value is None else as_number(value, name, low, top)
        for name, value in fields.items():
            object.__setattr__(self, name, value)
        self._check()

    def _check(self) -> None:
        if self.stripes == 1 and self.measure.startswith("single_single"):
            raise ArgumentError(
                "measure",
                "one that a single stripe has, which has no pair of stripes",
                self.measure,
            )
        for name in ("strengths", "mixings"):
            if not getattr(self, name):
                raise ArgumentError(name, "at least one", words="none")
        self._check_bands()
        banned = {colour.rgb for colour in self.must_not}
        for colour in self.must:
            if colour.rgb in banned:
                raise ArgumentError("must", "without the colours of must_not", colour.name)
        if len(self.must) > self.stripes:
            allowed = f"at most {self.stripes} colours, as many as there are stripes"
            raise ArgumentError("must", allowed, len(self.must))
        size = len(self.candidates)
        most, why = self._most_candidates()
        if size > most:
            raise ArgumentError("palette", f"at most {most} stripe colours{why}", size)
        if self.setting_count > MOST_SETTINGS:
            raise ArgumentError(
                "grounds × strengths × mixings", f"at most {MOST_SETTINGS}", self.setting_count
            )
        self._check_count()

    def _check_count(self) -> None:
        """Refuse a brief that no colourway can be of."""
        if self.count:
            return
        size = len(self.candidates)
        warp_fills = any(replace(one, wefts=0).count for one in self.settings)
        name = "weft_stripes" if warp_fills else "stripes"
        allowed = (
            f"at most what the palette can fill: {size} stripe colours, never the ground's own"
        )
        raise ArgumentError(name, allowed, getattr(self, name))

    def _check_bands(self) -> None:
        """Refuse a check that does not fit the brief, and colours that cannot stand so."""
        held = [colour for colour in self.placed if colour is not None]
        if len(self.placed) > self.stripes or len({*held}) < len(held):
            allowed = f"at most {self.stripes} different colours, one a stripe"
            raise ArgumentError("placed", allowed, words=", ".join(one.name for one in held))
        check, number, wefts = self.check, self.stripes, self.weft_stripes or self.stripes
        if check is None:
            return
        if (check.stripes, check.weft_stripes) != (number, wefts):
            words = f"{check.stripes} × {check.weft_stripes}"
            raise ArgumentError("check", f"one of {number} × {wefts} stripes", words=words)
        if not shows_every_stripe(check, own_weft=bool(self.weft_stripes)):
            allowed = "one whose bands show every stripe"
            raise ArgumentError("check", allowed, words=check.warp_order)

    def _most_candidates(self) -> tuple[int, str]:
        """How many stripe colours are searched at most, and why so few."""
        if self.bands is not None:
            at_once = self._stripes_at_once(*self.bands)
            why = f" in bands where {at_once} stripes meet" if at_once > 2 else ""
            return _MOST_IN_BANDS[at_once], why
        if self.crossings_unlike is not None:
            return MOST_WITH_CROSSINGS, " where crossings_unlike is asked for"
        return MOST_SEARCHED, ""

    def _stripes_at_once(self, warp: Bands, weft: Bands) -> int:
        """Of how many stripes two tones are made, at most, that a score of this brief compares."""
        kinds = {measure_parts(self.measure)[0], *(one.kind for one in self.constraints)}
        pairs = tone_pairs(warp, weft, own_weft=bool(self.weft_stripes))
        most = 1
        for kind, part in pairs.items():
            compared = kind in kinds or (kind in EDGE_KINDS and "lightness" in kinds)
            touching = part.touching & ("least_edge" in kinds)
            for pattern in self.slots_of(part.indices[touching | compared]):
                most = max(most, len({*pattern} - {-1}))
        return most

    @property
    def bands(self) -> tuple[Bands, Bands] | None:
        """The bands both ways; None where they are even and the weft has the warp's colours."""
        if self.check is not None and not self.check.is_even:
            return self.check.counted_bands
        if self.weft_stripes:
            return even_bands(self.stripes), even_bands(self.weft_stripes)
        return None

    @property
    def order_counts(self) -> bool:
        """Whether each order of a choice is a colourway of its own: in bands that are not even."""
        return self.check is not None and not self.check.is_even

    @property
    def slots(self) -> int:
        """How many stripes get a colour: the warp's, then the weft's where it has its own."""
        return self.stripes + self.weft_stripes

    def slots_of(self, pairs: NDArray[np.intp]) -> list[tuple[int, int, int, int]]:
        """Return pairs of tones, as flat indices (P, 2), by the slots that colour them.

        Each as (warp, weft) of one tone and of the other; -1 is the ground.
        """
        wefts = self.weft_stripes or self.stripes
        tones = np.stack(np.divmod(pairs, wefts + 1), axis=-1) - 1
        if self.weft_stripes:
            weft = tones[..., 1]
            weft[weft >= 0] += self.stripes
        return [(w1, f1, w2, f2) for w1, f1, w2, f2 in tones.reshape(-1, 4).tolist()]

    @property
    def only_bounded(self) -> bool:
        """Whether it cannot be counted or sampled: a table over four colours would be too large."""
        return self.crossings_unlike is not None and len(self.candidates) > MOST_IN_TABLE

    @cached_property
    def moves(self) -> tuple[tuple[int, ...], ...]:
        """Every exchange of slots that leaves the cloth as it is, and what is placed in place.

        None where the order does not count.
        """
        if self.bands is None or not self.order_counts:
            return ()
        warp, weft = self.bands
        moves = symmetries(warp, None if self.weft_stripes else weft, self.stripes)
        if self.weft_stripes:  # each way moves by itself
            other = symmetries(weft, None, self.weft_stripes)
            first = self.stripes
            moves = tuple((*one, *(first + at for at in two)) for one in moves for two in other)
        held = [stripe for stripe, colour in enumerate(self.placed) if colour is not None]
        return tuple(move for move in moves if all(move[stripe] == stripe for stripe in held))

    @cached_property
    def orders(self) -> int:
        """In how many distinct orders a choice of colours counts."""
        if not self.order_counts:
            return 1
        free = self.stripes - sum(colour is not None for colour in self.placed)
        return factorial(free) * factorial(self.weft_stripes) // len(self.moves)

    @cached_property
    def candidates(self) -> tuple[NamedColour, ...]:
        """Stripe colours to choose from, in palette order; a choice is indices into it."""
        banned = {colour.rgb for colour in self.must_not}
        own = [colour for colour in self.palette.stripes if colour.rgb not in banned]
        return (*own, *(colour for colour in self.must if colour not in own))

    @property
    def setting_count(self) -> int:
        """Grounds × strengths × mixings."""
        return len(self.grounds) * len(self.strengths) * len(self.mixings)

    def setting(self, number: int) -> Setting:
        """Return one ground at one strength in one mixing, by its index."""
        number_over_mixings, mixing = divmod(number, len(self.mixings))
        ground_index, strength = divmod(number_over_mixings, len(self.strengths))
        ground = self.grounds[ground_index]
        must = tuple(self.candidates.index(colour) for colour in self.must)
        fits = [i for i, colour in enumerate(self.candidates) if colour.rgb != ground.rgb]
        free = tuple(i for i in fits if i not in must)
        # A ground that is itself a colour that must be a stripe has no colourways.
        choose = self.stripes - len(must) if set(must) <= set(fits) else -1
        how = (self.strengths[strength], self.mixings[mixing])
        return Setting(number, ground, *how, must, free, choose, self.weft_stripes)

    @property
    def settings(self) -> tuple[Setting, ...]:
        """Every ground at every strength in every mixing."""
        return tuple(self.setting(number) for number in range(self.setting_count))

    @property
    def constraints(self) -> tuple[Constraint, ...]:
        """The conditions one by one, each under each vision."""
        visions = ("normal", *self.visions)
        out = [
            Constraint(kind, by, getattr(self, name), vision)
            for name, (kind, by, _) in CONDITIONS.items()
            if getattr(self, name) is not None
            for vision in visions
        ]
        if self.lightness_order:
            out += [Constraint("lightness", "", 0, vision) for vision in visions]
        return tuple(out)

    @property
    def measure_visions(self) -> tuple[str, ...]:
        """The visions that the measure is the least over."""
        return ("normal", *self.visions) if self.measured == "worst" else (self.measured,)

    @property
    def goal(self) -> tuple[Term, ...]:
        """What the search ranks by."""
        kind, by = measure_parts(self.measure)
        return tuple(Term(kind, by, vision) for vision in self.measure_visions)

    @property
    def count(self) -> int:
        """How many colourways there are: exact.

        The order of stripes does not count in an even check; in other bands each distinct one does.
        """
        each = len(self.strengths) * len(self.mixings)
        choices = sum(self.setting(i * each).count for i in range(len(self.grounds)))
        return choices * each * self.orders

    def with_(self, **changes: Any) -> Wanted:
        """Return the brief with some fields changed, checked as at the start."""
        unknown = set(changes) - set(self.__dataclass_fields__)
        if unknown:
            fields = ", ".join(self.__dataclass_fields__)
            raise ArgumentError("changes", f"fields of a brief ({fields})", sorted(unknown))
        return replace(self, **changes)

    def __str__(self) -> str:
        noun = "stripe" if self.stripes == 1 else "stripes"
        own = f" and {self.weft_stripes} of the weft's own" if self.weft_stripes else ""
        return (
            f"{self.stripes} {noun}{own} from {len(self.candidates)} colours on "
            f"{len(self.grounds)} grounds at {len(self.strengths)} strengths"
            f"{', in bands' if self.order_counts else ''}: {self.count:,} colourways"
        )
