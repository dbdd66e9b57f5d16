"""Plates for a screen printer: one a colour with a stated rule of overprint, or one a tone."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from checkcloth.arguments import Floats, require_one_of
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.mixing import Mixing, find_mixing
from checkcloth.colour.css import hex_of
from checkcloth.colour.ink import Stock, effective_areas, lay_inks
from checkcloth.colour.spaces import srgb_to_bytes, xyz_to_shown
from checkcloth.colour.wide import encode_wide, space_for, wide_to_xyz
from checkcloth.errors import ArgumentError, shown
from checkcloth.export.members import label_of
from checkcloth.files.csv_rows import csv_text

PLATE_KINDS = ("colours", "tones")


@dataclass(frozen=True)
class Plate:
    """One plate: an ink, and how much of it each tone takes."""

    name: str
    ink: tuple[float, float, float]  #: encoded sRGB of the ink printed solid
    cover: Floats  #: coverage 0–1 by [warp, weft], shape (W+1, F+1)

    @property
    def solid(self) -> bool:
        """Whether it prints in full or not at all, and can be a 1-bit film."""
        return bool(np.isin(self.cover, (0, 1)).all())


@dataclass(frozen=True)
class PlateSet:
    """The plates of a colourway, in printing order, and the rule by which they add up."""

    colourway: Colourway
    plates: tuple[Plate, ...]
    rule: str  #: the assumption on overprint, for the printer
    _compose: Callable[[Sequence[Floats]], Floats]

    def composite(self, covers: Sequence[Floats] | None = None) -> Floats:
        """Return the tones that the plates give by the rule, shape (..., 3), encoded sRGB.

        ``covers`` (...) of each plate may be such as are read back from films; otherwise their own.
        """
        given = [plate.cover for plate in self.plates] if covers is None else covers
        return self._compose([np.asarray(cover, dtype=np.float64) for cover in given])

    @property
    def screens(self) -> int:
        """How many screens the job takes."""
        return len(self.plates)

    def csv(self) -> str:
        """Return plate, ink and coverage of every tone as CSV text."""

        def rows() -> Iterator[Sequence[object]]:
            for number, plate in enumerate(self.plates, start=1):
                for warp, weft in np.ndindex(*plate.cover.shape):
                    cover = float(plate.cover[warp, weft])
                    if cover:
                        tone = self.colourway.tone_name(warp, weft)
                        ink = hex_of(plate.ink)
                        yield number, plate.name, ink, warp, weft, tone, round(cover * 100, 6)

        header = ("plate", "ink", "ink colour", "warp", "weft", "tone", "coverage %")
        return csv_text(header, rows())


def _by_tone(colourway: Colourway) -> PlateSet:
    """A plate for each tone that differs in print; none touches another."""
    printed = srgb_to_bytes(colourway.tones)
    colours, first, inverse = np.unique(
        printed.reshape(-1, 3), axis=0, return_index=True, return_inverse=True
    )
    colour_of = inverse.reshape(printed.shape[:2])
    plates = []
    for index in np.argsort(first).tolist():
        warp, weft = divmod(int(first[index]), printed.shape[1])
        red, green, blue = (colours[index] / 255).tolist()
        cover = (colour_of == index).astype(np.float64)
        plates.append(Plate(colourway.tone_name(warp, weft), (red, green, blue), cover))
    inks = np.array([plate.ink for plate in plates])

    def compose(covers: Sequence[Floats]) -> Floats:
        return np.asarray(sum(c[..., None] * ink for c, ink in zip(covers, inks, strict=True)))

    rule = (
        "Every tone is an ink of its own, printed solid; no two plates overlap. The first "
        "plate is the ground: leave it out on cloth dyed to that colour."
    )
    return PlateSet(colourway, tuple(plates), rule, compose)


def _shares(colourway: Colourway, mixing: Mixing) -> Floats:
    """The share of each ink in each tone, shape (K, W+1, F+1).

    Asked of the mixing itself: it lays stripes of which one ink's are 1 and the others 0.
    """
    inks, number = len(colourway.inks), len(colourway.stripes)
    # Three equal channels, since a mixing lays colours.
    grounds = np.zeros((inks, 3))
    warp, weft = (
        (np.arange(inks)[:, None] == np.array(ink_of))[..., None].repeat(3, axis=-1).astype(float)
        for ink_of in (range(number), colourway.weft_inks)
    )
    alpha = np.full(inks, colourway.strength)
    laid = mixing.lay(grounds, warp, alpha, colourway.warp_share, weft)
    return np.clip(np.asarray(laid[..., 0]), 0, 1)


def _laid_in(colourway: Colourway, mixing: Mixing) -> tuple[Floats, Callable[[Floats], Floats]]:
    """Ground and inks (1+N, C) in the space that the mixing lays them in, and the way back."""
    n = colourway.yule_nielsen if mixing.uses_yule_nielsen else 1.0
    colours = (colourway.ground, *colourway.inks)
    space = space_for(mixing.space, colourway.known)
    if space:
        laid = encode_wide(colours, space, n)
        return laid, lambda values: xyz_to_shown(wide_to_xyz(values, space, n))
    ground = mixing.encode(np.array(colourway.ground.rgb), n)
    inks = mixing.encode(np.array([ink.rgb for ink in colourway.inks]), n)
    return np.concatenate([ground[None], inks]), lambda values: mixing.decode(values, n)


def _by_colour(colourway: Colourway, mixing: Mixing) -> PlateSet:
    """A plate a stripe colour, each tone the sum of its inks' shares."""
    names = [ink.name for ink in colourway.inks]
    inks = [ink.rgb for ink in colourway.inks]
    covers = _shares(colourway, mixing)
    (ground, *encoded), decode = _laid_in(colourway, mixing)

    def compose(given: Sequence[Floats]) -> Floats:
        parts = sum(
            cover[..., None] * (ink - ground) for cover, ink in zip(given, encoded, strict=True)
        )
        return decode(ground + parts)

    where = "as light" if mixing.uses_yule_nielsen else "as sRGB values"
    rule = (
        "Tints side by side: each plate carries the share of its ink in a tone, dots do not "
        f"lie over each other, the cloth shows the ground between, and shares add up {where} "
        f"(mixing {mixing.name}). Warp and weft stripes of a colour stand on one plate."
    )
    plates = tuple(map(Plate, names, inks, covers))
    return PlateSet(colourway, plates, rule, compose)


def _times_laid(colourway: Colourway) -> Iterator[NDArray[np.intp]]:
    """Yield, of each ink, how often it lies in each tone (W+1, F+1): not, once, or over itself."""
    for index in range(len(colourway.inks)):
        warp = np.arange(len(colourway.stripes) + 1) == index + 1
        weft = np.array([False, *(found == index for found in colourway.weft_inks)])
        yield warp[:, None].astype(np.intp) + weft


def _by_transparent_colour(colourway: Colourway) -> PlateSet:
    """Transparent inks: each filters what is under it; a colour crosses itself twice over."""
    alpha = colourway.strength
    plates, inks = [], []
    (ground, *solids), decode = _laid_in(colourway, find_mixing("multiply"))
    for ink, solid, times in zip(colourway.inks, solids, _times_laid(colourway), strict=True):
        plates.append(Plate(ink.name, ink.rgb, np.where(times > 0, alpha, 0.0)))
        inks.append(solid)
        if (times > 1).any():
            again = np.where(times > 1, alpha, 0.0)
            plates.append(Plate(f"{ink.name}, second pass", ink.rgb, again))
            inks.append(solid)

    def compose(covers: Sequence[Floats]) -> Floats:
        out = np.broadcast_to(ground, (*covers[0].shape, 3)).copy()
        for cover, ink in zip(covers, inks, strict=True):
            out *= 1 - cover[..., None] * (1 - ink)
        return decode(out)

    rule = (
        "Transparent inks, printed over each other in any order: each lets through the "
        "product of sRGB values, thinned by its coverage (mixing multiply). Where a colour "
        "crosses itself it prints twice: the second pass is a plate of its own."
    )
    return PlateSet(colourway, tuple(plates), rule, compose)


def _by_ink(colourway: Colourway) -> PlateSet:
    """Halftone inks: a plate a stripe colour at its tone value, printed over each other."""
    number, alpha, stock = len(colourway.inks), colourway.strength, colourway.stock
    laid_in, decode = _laid_in(colourway, find_mixing(colourway.mixing))
    ground, solids = laid_in[0], laid_in[1:]
    # Where a stripe crosses itself its one plate carries what covers as much as two tints.
    twice = _twice_over(effective_areas(ground, solids, alpha, stock), ground, solids, stock)
    plates = [
        Plate(ink.name, ink.rgb, np.choose(times, [0.0, alpha, again]))
        for ink, times, again in zip(colourway.inks, _times_laid(colourway), twice, strict=True)
    ]

    def compose(covers: Sequence[Floats]) -> Floats:
        given = np.clip(np.stack(covers, axis=-1), 0, 1)
        flat = given.reshape(-1, number)
        papers = np.broadcast_to(ground, (len(flat), *ground.shape))
        laid = lay_inks(papers, np.broadcast_to(solids, (len(flat), *solids.shape)), flat, stock)
        # At most two inks meet in a check: the two that cover most.
        rows = np.arange(len(flat))
        first, second = np.argsort(-flat, axis=-1, kind="stable")[:, [0, min(1, number - 1)]].T
        alone = (first == second) | (flat[rows, second] == 0)
        light = laid[rows, first + 1, np.where(alone, 0, second + 1)]
        return decode(light).reshape(*given.shape[:-1], 3)

    rule = (
        "Halftone inks, printed over each other in any order at screen angles of their own: "
        "each plate carries nominal tone values, as they are in the file; the press adds its "
        f"increase (mixing ink, an estimate; {stock.words}). Where a colour crosses itself its "
        "plate carries the tint that covers as much as two."
    )
    return PlateSet(colourway, tuple(plates), rule, compose)


def _twice_over(areas: Floats, ground: Floats, solids: Floats, stock: Stock) -> Floats:
    """Tone values (N,) of tints that cover what two tints of these areas (N,) do, by bisection."""
    wanted = 1 - (1 - areas) ** 2
    low, high = np.zeros_like(wanted), np.ones_like(wanted)
    for _ in range(60):
        middle = (low + high) / 2
        under = effective_areas(ground, solids, middle, stock) < wanted
        low, high = np.where(under, middle, low), np.where(under, high, middle)
    # Whole per cents of a per cent: what a plate at full strength carries is 1 and no less.
    return np.where(wanted >= 1, 1.0, np.where(wanted <= 0, 0.0, high))


def _only_by_tone(colourway: Colourway, mixing: Mixing) -> ArgumentError:
    return ArgumentError(
        "plates",
        f"'tones' for {shown(label_of(colourway, 0))}, as tints of its colours do not give the "
        f"tones of mixing {mixing.name}",
        "colours",
    )


def plates_of(colourway: Colourway, kind: str = "colours") -> PlateSet:
    """Return the plates of a colourway.

    Parameters
    ----------
    colourway : Colourway
    kind : str
        ``"colours"``, a plate a stripe colour with tints, or ``"tones"``, a solid plate
        for every tone.

    Raises
    ------
    ArgumentError
        For another kind, or for colours whose mixing no such plates can give.

    Examples
    --------
    >>> plates_of(Colourway("white", ["navy", "teal"])).screens
    2
    >>> plates_of(Colourway("white", ["navy", "teal"]), "tones").screens
    7
    """
    require_one_of(kind, "plates", PLATE_KINDS)
    if kind == "tones":
        return _by_tone(colourway)
    mixing = find_mixing(colourway.mixing)
    if mixing.uses_stock:
        return _by_ink(colourway)
    if mixing.estimate:
        # Its shares add up per wavelength inside a layer of colorant. Dots of ink side by
        # side add up as light, so no tint of the stripe colours prints what it estimates.
        raise _only_by_tone(colourway, mixing)
    made = (
        _by_transparent_colour(colourway)
        if mixing.name == "multiply"
        else _by_colour(colourway, mixing)
    )
    if np.abs(made.composite() - colourway.tones).max() > 0.5 / 255:
        raise _only_by_tone(colourway, mixing)
    return made
