"""The tones of checks as arrays: stacked, told apart, measured on the cloth, and drawn.

Tones have shape (..., W+1, F+1, 3): warp stripe first, index 0 the ground on both axes, and
``image[y, x] = tones[warp[x], weft[y]]``. What a tone touches and how much of the cloth it
covers follows from the bands each way, and from nothing else.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import lru_cache
from typing import Any, NamedTuple, Protocol, TypeVar

import numpy as np
from numpy.typing import NDArray

from checkcloth.arguments import Floats
from checkcloth.cloth.bands import Bands, band_plan, checks_in
from checkcloth.cloth.mixing import find_mixing, mix_tones, mix_wide
from checkcloth.colour.ink import STOCKS, Stock
from checkcloth.colour.spaces import linear_to_xyz, srgb_to_bytes, srgb_to_linear, xyz_to_shown
from checkcloth.colour.wide import Known, encode_wide, known_of, space_for
from checkcloth.errors import ArgumentError
from checkcloth.files.png import bands_png

Indices = NDArray[np.intp]
_SRGB = Known()
_Value = TypeVar("_Value", bound=np.generic)


# --- Stacking -------------------------------------------------------------------------------


class ColourwayLike(Protocol):
    """What stacking reads of a colourway; a colour is a triple of encoded sRGB, or has ``rgb``.

    One with ``known`` says there whether its colours are more than that.
    """

    @property
    def ground(self) -> Any: ...  # noqa: D102
    @property
    def stripes(self) -> Sequence[Any]: ...  # noqa: D102
    @property
    def weft_stripes(self) -> Sequence[Any]: ...  # noqa: D102
    @property
    def strength(self) -> float: ...  # noqa: D102
    @property
    def mixing(self) -> str: ...  # noqa: D102
    @property
    def warp_share(self) -> float: ...  # noqa: D102
    @property
    def yule_nielsen(self) -> float: ...  # noqa: D102
    @property
    def stock(self) -> Stock: ...  # noqa: D102


def _rgb(colour: Any) -> Any:
    return getattr(colour, "rgb", colour)


@dataclass(frozen=True)
class Stack:
    """Colourways that are mixed as one array: equally many stripes, one mixing and options."""

    indices: Indices  # (M,), which of the colourways that were stacked
    grounds: Floats  # (M, 3)
    stripes: Floats  # (M, N, 3)
    strengths: Floats  # (M,)
    mixing: str
    warp_share: float
    yule_nielsen: float
    weft_stripes: Floats | None = None  # (M, F, 3), where the weft has colours of its own
    stock: Stock = STOCKS[""]
    known: Known = _SRGB  # of the colours beyond sRGB
    # Ground, stripes and the weft's own of each of M, where something is known of them beyond sRGB:
    # tones are then mixed from these, not from the arrays.
    colours: tuple[tuple[Any, ...], ...] | None = None

    @property
    def weft_colours(self) -> Floats:
        """Colours of the weft's stripes, (M, F, 3), its own or the warp's."""
        return self.stripes if self.weft_stripes is None else self.weft_stripes

    def tones(
        self,
        strength: float | None = None,
        mixing: str | None = None,
        part: slice = slice(None),
    ) -> Floats:
        """Return the tones (M, W+1, F+1, 3) of a part, each at its own strength and mixing.

        A ``strength`` or ``mixing`` that is given stands for that of all. Encoded sRGB; what it
        cannot show is brought into it, with chroma reduced at constant lightness and hue.
        """
        if self._space(mixing):
            return xyz_to_shown(self.xyz(strength, mixing, part))
        return mix_tones(
            self.grounds[part],
            self.stripes[part],
            self.strengths[part] if strength is None else strength,
            self.mixing if mixing is None else mixing,
            warp_share=self.warp_share,
            yule_nielsen=self.yule_nielsen,
            weft_stripes=None if self.weft_stripes is None else self.weft_stripes[part],
            stock=self.stock,
        )

    def _space(self, mixing: str | None) -> str:
        """The space without bounds that tones are mixed in; nothing for colours of sRGB."""
        if self.colours is None:
            return ""
        return space_for(find_mixing(mixing or self.mixing).space, self.known)

    def xyz(
        self,
        strength: float | None = None,
        mixing: str | None = None,
        part: slice = slice(None),
    ) -> Floats:
        """Return :meth:`tones` in XYZ (D65, 2°, white Y = 1), nothing mapped."""
        space = self._space(mixing)
        if not space or self.colours is None:
            return linear_to_xyz(srgb_to_linear(self.tones(strength, mixing, part)))
        chosen = find_mixing(mixing or self.mixing)
        n = self.yule_nielsen if chosen.uses_yule_nielsen else 1.0
        rows = self.colours[part]
        flat = encode_wide([colour for row in rows for colour in row], space, n)
        each = self.strengths[part]
        count = max(len(each), len(rows))
        alpha = each if strength is None else np.full(count, float(strength))
        encoded = flat.reshape(len(rows), -1, flat.shape[-1])
        return mix_wide(
            np.broadcast_to(encoded, (count, *encoded.shape[1:])),
            self.stripes.shape[1],
            np.broadcast_to(alpha, (count,)),
            chosen.name,
            space,
            warp_share=self.warp_share,
            yule_nielsen=self.yule_nielsen,
            stock=self.stock,
        )

    def with_colours(
        self, grounds: Floats, stripes: Floats, weft_stripes: Floats | None, **changes: Any
    ) -> Stack:
        """Return the stack with other colours, encoded sRGB and nothing else."""
        return replace(
            self, grounds=grounds, stripes=stripes, weft_stripes=weft_stripes, known=_SRGB,
            colours=None, **changes,
        )  # fmt: skip


# Stripes of the warp, the weft's own, mixing, its options, what is known beyond sRGB.
_Key = tuple[int, int, str, float, float, Stock, Known]


def _every(member: ColourwayLike) -> tuple[Any, ...]:
    return (member.ground, *member.stripes, *member.weft_stripes)


def stack(colourways: Iterable[ColourwayLike]) -> tuple[Stack, ...]:
    """Gather colourways into as few arrays as their stripe counts and mixings allow.

    >>> from checkcloth import Colourway
    >>> two = Colourway("white", ["navy", "teal"])
    >>> [part.indices.tolist() for part in stack([two, Colourway("white", ["navy"]), two])]
    [[0, 2], [1]]
    """
    groups: dict[_Key, list[tuple[int, ColourwayLike]]] = {}
    for index, member in enumerate(colourways):
        counts = len(member.stripes), len(member.weft_stripes)
        known = getattr(member, "known", _SRGB)
        key = (*counts, member.mixing, member.warp_share, member.yule_nielsen, member.stock, known)
        groups.setdefault(key, []).append((index, member))
    return tuple(
        Stack(
            np.array([index for index, _ in members], dtype=np.intp),
            np.array([_rgb(member.ground) for _, member in members]),
            np.array([[_rgb(stripe) for stripe in member.stripes] for _, member in members]),
            np.array([member.strength for _, member in members]),
            mixing,
            share,
            n,
            np.array([[_rgb(stripe) for stripe in member.weft_stripes] for _, member in members])
            if wefts
            else None,
            stock,
            known,
            tuple(_every(member) for _, member in members) if known != _SRGB else None,
        )
        for (_, wefts, mixing, share, n, stock, known), members in groups.items()
    )


def tones_of(colourways: Iterable[ColourwayLike]) -> Floats:
    """Return the tones (M, W+1, F+1, 3) of colourways with equally many stripes each way."""
    stacks = stack(colourways)
    counts = sorted({(part.stripes.shape[1], part.weft_colours.shape[1]) for part in stacks})
    if len(counts) != 1:
        each = (str(warp) if warp == weft else f"{warp} × {weft}" for warp, weft in counts)
        found = ", ".join(each) or "no colourway"
        raise ArgumentError("colourways", "one or more with equally many stripes", words=found)
    ((warps, wefts),) = counts
    tones = np.empty((sum(len(part.indices) for part in stacks), warps + 1, wefts + 1, 3))
    for part in stacks:
        tones[part.indices] = part.tones()
    return tones


def tones_among(
    ground: Any, stripes: Sequence[Any], strength: float, mixing: str, *,
    warp_share: float, yule_nielsen: float, stock: Stock,
) -> Floats:  # fmt: skip
    """Return the tones (N+1, N+1, 3) of a check that has every one of these stripes, however many.

    A colour has ``rgb``, and ``xyz`` or ``reflectance`` where it is more than that.
    """
    rgb = np.array([[stripe.rgb for stripe in stripes]])
    colours = (ground, *stripes)
    known = known_of(colours)
    made = Stack(
        np.zeros(1, dtype=np.intp), np.array([ground.rgb]), rgb, np.array([strength]), mixing,
        warp_share, yule_nielsen, stock=stock, known=known,
        colours=(colours,) if any(known) else None,
    )  # fmt: skip
    tones: Floats = made.tones()[0]
    return tones


# --- Which tones are the same ---------------------------------------------------------------


class Symmetry(NamedTuple):
    """Which tones of a check are the same whichever of warp and weft makes them.

    ``mirrored``: a stripe gives the same single in the warp as in the weft. ``transposed``:
    the crossings (i, j) and (j, i) are the same too.
    """

    mirrored: bool = False
    transposed: bool = False


NO_SYMMETRY = Symmetry()


class Tone(NamedTuple):
    """A tone that occurs once in a list, by its canonical position.

    ``positions`` are all (warp, weft) at which it occurs, the canonical one first.
    """

    warp: int
    weft: int
    name: str
    positions: tuple[tuple[int, int], ...]


def symmetry_of(tones: Floats) -> Symmetry:
    """Return the symmetry that all tones (..., W+1, F+1, 3) of an array share."""
    if tones.shape[-3] != tones.shape[-2]:
        return Symmetry()
    if not alike(tones[..., 1:, 0, :], tones[..., 0, 1:, :]).all():
        return Symmetry()
    return Symmetry(True, bool(alike(tones, tones.swapaxes(-2, -3)).all()))


def alike(one: Floats, two: Floats) -> NDArray[np.bool_]:
    """Whether channels are the same but for the last digits of two ways of adding up shares."""
    step = one - two
    return np.abs(step, out=step) <= 1e-12


def each_symmetry(tones: Floats) -> tuple[Symmetry, ...]:
    """Return the symmetry of each check of an array (M, W+1, F+1, 3)."""
    if tones.shape[1] != tones.shape[2]:
        return (NO_SYMMETRY,) * len(tones)
    singles = np.all(alike(tones[:, 1:, 0], tones[:, 0, 1:]), axis=(1, 2)).tolist()
    crossings = np.all(alike(tones, tones.swapaxes(1, 2)), axis=(1, 2, 3)).tolist()
    return tuple(map(Symmetry, singles, crossings))


def canonical_tone(warp: int, weft: int, symmetry: Symmetry) -> tuple[int, int]:
    """Return the canonical (warp, weft) of a tone that occurs at several positions.

    >>> canonical_tone(0, 2, Symmetry(mirrored=True))
    (2, 0)
    """
    if symmetry.mirrored and warp == 0:
        return weft, 0
    if symmetry.transposed and 0 < weft < warp:
        return weft, warp
    return warp, weft


@lru_cache(maxsize=256)
def positions_of(
    warp_stripes: int, weft_stripes: int, symmetry: Symmetry
) -> tuple[tuple[tuple[int, int], ...], ...]:
    """Return, for every distinct tone, all its (warp, weft) positions, the canonical first.

    The ground comes first, then warp singles, weft singles, crossings.
    """
    warps, wefts = range(1, warp_stripes + 1), range(1, weft_stripes + 1)
    every = [(0, 0), *((i, 0) for i in warps), *((0, j) for j in wefts)]
    every += [(i, j) for i in warps for j in wefts]
    found: dict[tuple[int, int], list[tuple[int, int]]] = {}
    for warp, weft in every:
        found.setdefault(canonical_tone(warp, weft, symmetry), []).append((warp, weft))
    return tuple(map(tuple, found.values()))


def tone_kind(warp: int, weft: int) -> str:
    """Say what a tone is: ground, warp single, weft single or crossing."""
    if not warp and not weft:
        return "ground"
    return "crossing" if warp and weft else "warp single" if warp else "weft single"


# --- What follows from the bands ------------------------------------------------------------


class Touching(NamedTuple):
    """Pairs of tones that share an edge on the cloth.

    ``pairs`` has shape (P, 2), flat indices into the (W+1)(F+1) tones, the one nearer the
    ground first; ``lengths`` the length of their common edges in one repeat, in checks.
    """

    pairs: Indices
    lengths: Floats


def stripe_count(bands: Bands) -> int:
    """Return the highest stripe number of bands."""
    return max(band.stripe for band in bands)


def _widths(bands: Bands) -> Floats:
    stripes = np.array([band.stripe for band in bands], dtype=np.intp)
    checks = np.array([float(band.checks) for band in bands])
    return np.bincount(stripes, weights=checks).astype(np.float64)


def _borders(bands: Bands) -> Floats:
    """How often stripes a and b lie side by side in one repeat, which closes to a ring."""
    stripes = np.array([band.stripe for band in bands if band.checks], dtype=np.intp)
    count = np.zeros((stripe_count(bands) + 1,) * 2)
    np.add.at(count, (stripes, np.roll(stripes, -1)), 1)
    count += count.T
    np.fill_diagonal(count, 0)
    return count


@lru_cache(maxsize=256)
def area_shares(warp_bands: Bands, weft_bands: Bands | None = None) -> Floats:
    """Return each tone's share of the cloth's area, shape (W+1, F+1); they add up to 1.

    >>> from checkcloth import Check
    >>> area_shares(Check("1 in", 1).bands).tolist()
    [[0.25, 0.25], [0.25, 0.25]]
    """
    warp = _widths(warp_bands)
    weft = warp if weft_bands is None else _widths(weft_bands)
    shares = np.asarray(np.outer(warp, weft) / (warp.sum() * weft.sum()))
    shares.flags.writeable = False
    return shares


def laid_positions(shares: Floats, symmetry: Symmetry) -> list[tuple[tuple[int, int], ...]]:
    """Return :func:`positions_of` the distinct tones that cover some of the cloth's area."""
    warps, wefts = (side - 1 for side in shares.shape)
    every = positions_of(warps, wefts, symmetry)
    return [positions for positions in every if any(shares[at] > 0 for at in positions)]


@lru_cache(maxsize=256)
def touching_pairs(warp_bands: Bands, weft_bands: Bands | None = None) -> Touching:
    """Return the pairs of tones that share an edge, across the seam of the repeat too.

    Two warp bands side by side touch along every weft band, and the other way about.

    >>> from checkcloth import Check
    >>> found = touching_pairs(Check("1 in", 1).bands)
    >>> found.pairs.tolist(), found.lengths.tolist()
    ([[0, 1], [0, 2], [1, 3], [2, 3]], [2.0, 2.0, 2.0, 2.0])
    """
    weft_bands = warp_bands if weft_bands is None else weft_bands
    across = np.kron(_borders(warp_bands), np.diag(_widths(weft_bands)))
    up = np.kron(np.diag(_widths(warp_bands)), _borders(weft_bands))
    lengths = np.asarray(across + up, dtype=np.float64)
    first, second = np.nonzero(np.triu(lengths))
    return Touching(np.stack([first, second], axis=1), lengths[first, second])


# --- Pictures -------------------------------------------------------------------------------


def pixels_a_check(ways: Sequence[Bands], side: float, repeats: int = 2) -> int | Fraction:
    """Return pixels a check at which the longer repeat takes about ``side / repeats`` pixels.

    Whole where every band is whole checks, and else such that the narrowest band is seen.
    """
    most = max(checks_in(bands) for bands in ways)
    widths = [Fraction(band.checks) for bands in ways for band in bands if band.checks]
    if all(width.denominator == 1 for width in widths):
        return max(1, round(side / (repeats * most)))
    return max(1 / min(widths), Fraction(round(side), 1) / (repeats * most))


def swatch_plans(
    warp_bands: Bands, weft_bands: Bands, side: int = 192, repeats: int = 2
) -> tuple[Indices, Indices]:
    """Return stripe numbers at every pixel of whole repeats, the longer way ``side`` or near it."""
    ways = warp_bands, weft_bands
    most = max(checks_in(bands) for bands in ways)
    each: int | Fraction = max(1, int(side // (repeats * most)))
    if any(Fraction(band.checks).denominator > 1 for bands in ways for band in bands):
        each = pixels_a_check(ways, side, repeats)
    warp, weft = (np.tile(band_plan(bands, each), repeats) for bands in ways)
    return warp, weft


def lay(
    values: NDArray[_Value], warp_plan: Indices, weft_plan: Indices | None = None
) -> NDArray[_Value]:
    """Return the picture (H, W, ...) of values (W+1, F+1, ...) given to each tone."""
    weft_plan = warp_plan if weft_plan is None else weft_plan
    return values[warp_plan[None, :], weft_plan[:, None]]


def swatch(
    tones: Floats,
    warp_plan: Indices,
    weft_plan: Indices,
    *,
    dpi: Fraction | float | None = None,
    texts: Sequence[tuple[str, str]] = (),
) -> bytes:
    """Return a PNG of tones (W+1, F+1, 3), each pixel's stripes given by plans (width,), (height,).

    For ``dpi`` and ``texts`` see :func:`checkcloth.files.png.bands_png`.
    """
    cells = np.ascontiguousarray(srgb_to_bytes(tones).swapaxes(0, 1))
    return bands_png(cells, warp_plan, weft_plan, dpi=dpi, texts=texts)
