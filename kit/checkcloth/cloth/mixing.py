"""What a stripe over a ground, and a stripe over a stripe, come to: the tones of a check.

Every mixing but ``multiply`` and ``ink`` is a sum of shares in some space, and every mixing goes
through :func:`mix_tones`, over whole arrays. To add one, add a line to ``_MIXINGS``. The
space may have any number of channels: three of light, or a band for each wavelength.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from checkcloth.arguments import Floats, as_colours, as_fraction, as_number, require_one_of
from checkcloth.colour.ink import STOCKS, Stock, lay_inks
from checkcloth.colour.reflectance import absorption, absorption_to_srgb
from checkcloth.colour.spaces import (
    into_srgb,
    linear_to_p3,
    linear_to_srgb,
    p3_to_linear,
    srgb_to_linear,
)
from checkcloth.colour.wide import wide_to_xyz
from checkcloth.errors import ArgumentError

# Tones worked at a time: 36 bands of so many tones are 2.4 MB, and the memory beside input
# and output does not grow with the number of colourways.
_BLOCK_TONES = 8192


class _Colours(NamedTuple):
    """Colours of M checks in the B channels of a space, and what their shares follow from."""

    grounds: Floats  # (M, B)
    warp: Floats  # (M, W, B)
    weft: Floats  # (M, F, B)
    strength: Floats  # (M,), the warp's
    weft_strength: Floats  # (M,)
    share: float  # of the surface, the warp's
    stock: Stock

    @property
    def alphas(self) -> tuple[Floats, Floats]:
        """Strengths of warp and weft, (M, 1, 1)."""
        return self.strength[..., None, None], self.weft_strength[..., None, None]


# Tones (M, W+1, F+1, B).
_Lay = Callable[[_Colours], Floats]
# To a space or back; gets the Yule–Nielsen n, which only light uses.
_Code = Callable[[Floats, float], Floats]


@dataclass(frozen=True)
class Mixing:
    """A way of mixing, and what it stands for.

    >>> find_mixing("pigment").label, find_mixing("woven").uses_warp_share
    ('pigment (estimate)', True)
    """

    name: str
    hint: str  # a few words, for a choice in a list
    meaning: str  # one line for people
    layout: str  # shares: how ground, weft and warp come together, one of LAYOUTS
    space: str  # what the shares are taken in, one of SPACES
    estimate: bool = False  # whether the result must be labelled so wherever it shows
    fixed_share: float | None = None  # the warp's, of the surface, where the weave settles it

    @property
    def uses_warp_share(self) -> bool:
        """Whether the warp's share is asked for."""
        return self.layout == "woven" and self.fixed_share is None

    @property
    def uses_stock(self) -> bool:
        """Whether it matters what is printed on."""
        return self.layout == "demichel"

    @property
    def uses_yule_nielsen(self) -> bool:
        """Whether the exponent n is asked for; that of ``ink`` goes with its stock."""
        return self.space == "light"

    def share(self, asked: float) -> float:
        """Return the warp's share: the mixing's own, or else the one asked for."""
        return asked if self.fixed_share is None else self.fixed_share

    def lay(
        self,
        grounds: Floats,
        stripes: Floats,
        strength: Floats,
        share: float,
        weft_stripes: Floats | None = None,
        stock: Stock = STOCKS[""],
        weft_strength: Floats | None = None,
    ) -> Floats:
        """Tones (M, W+1, F+1, B) of grounds (M, B), stripes (M, W, B), strength (M,).

        ``weft_stripes`` (M, F, B) and ``weft_strength`` (M,), which ``ink`` does not know, are the
        warp's where left out.
        """
        weft = stripes if weft_stripes is None else weft_stripes
        under = strength if weft_strength is None else weft_strength
        share = self.share(share)
        colours = _Colours(grounds, stripes, weft, strength, under, share, stock)
        return LAYOUTS[self.layout](colours)

    def encode(self, rgb: Floats, n: float) -> Floats:
        """Encoded sRGB (..., 3) to the space (..., B); n is Yule and Nielsen's."""
        return SPACES[self.space][0](rgb, n)

    def decode(self, values: Floats, n: float) -> Floats:
        """The space (..., B) back to encoded sRGB (..., 3)."""
        return SPACES[self.space][1](values, n)

    @property
    def label(self) -> str:
        """The name for people, which says so where the result is an estimate."""
        return f"{self.name} (estimate)" if self.estimate else self.name


def _as_is(values: Floats, n: float) -> Floats:
    return values


def _to_light(rgb: Floats, n: float) -> Floats:
    light = srgb_to_linear(rgb)
    return light if n == 1 else light ** (1 / n)


def _to_absorption(rgb: Floats, n: float) -> Floats:
    return absorption(rgb)


def _from_absorption(k: Floats, n: float) -> Floats:
    return absorption_to_srgb(k)


def _from_light(light: Floats, n: float) -> Floats:
    # Shares of colours in 0–1 stay in 0–1; only rounding can leave it.
    light = np.clip(light, 0, 1)
    return np.clip(linear_to_srgb(light if n == 1 else light**n), 0, 1)


def _to_p3(rgb: Floats, n: float) -> Floats:
    return linear_to_p3(srgb_to_linear(rgb))


def _from_p3(light: Floats, n: float) -> Floats:
    return np.clip(linear_to_srgb(into_srgb(p3_to_linear(light))), 0, 1)


def _layered(colours: _Colours) -> Floats:
    """The warp lies over the weft, and the weft over the ground, each at strength α.

    Single: α of the stripe and 1−α of the ground. Crossing: α warp, α(1−α) weft and
    (1−α)² ground.
    """
    alpha, weft_alpha = colours.alphas
    ground = colours.grounds[..., None, :]
    lone = weft_alpha * colours.weft + (1 - weft_alpha) * ground
    weft = np.concatenate([ground, lone], axis=-2)
    alpha = alpha[..., None]
    over = alpha * colours.warp[..., :, None, :] + (1 - alpha) * weft[..., None, :, :]
    return np.concatenate([weft[..., None, :, :], over], axis=-3)


def _woven(colours: _Colours) -> Floats:
    """Threads side by side: the warp covers its share of the surface, the weft the rest.

    Warp single: αw of the stripe; weft single: α(1−w); crossing: αw warp, α(1−w) weft;
    the ground has what is left.
    """
    (alpha, weft_alpha), share, ground = colours.alphas, colours.share, colours.grounds
    warp, weft = (stripes - ground[..., None, :] for stripes in (colours.warp, colours.weft))
    tones = np.empty((*warp.shape[:-2], warp.shape[-2] + 1, weft.shape[-2] + 1, warp.shape[-1]))
    tones[...] = ground[..., None, None, :]
    tones[..., 1:, :, :] += (alpha * share * warp)[..., :, None, :]
    tones[..., :, 1:, :] += (weft_alpha * (1 - share) * weft)[..., None, :, :]
    return tones


def _multiplied(colours: _Colours) -> Floats:
    """Each stripe filters what is under it: ground · (1−α+α·weft) · (1−α+α·warp)."""
    warp, weft = (
        np.concatenate([np.ones_like(stripes[..., :1, :]), 1 - alpha + alpha * stripes], axis=-2)
        for alpha, stripes in zip(colours.alphas, (colours.warp, colours.weft), strict=True)
    )
    both = warp[..., :, None, :] * weft[..., None, :, :]
    return np.asarray(colours.grounds[..., None, None, :] * both)


def _demichel(colours: _Colours) -> Floats:
    """Halftone dots that fall at random, on the ground as paper; the strength is a tone value."""
    grounds, warp, weft, strength, *_, stock = colours
    if weft is warp:
        return lay_inks(grounds, warp, strength[:, None], stock)
    warps = warp.shape[1]
    laid = lay_inks(grounds, np.concatenate([warp, weft], axis=1), strength[:, None], stock)
    return np.concatenate([laid[:, : warps + 1, :1], laid[:, : warps + 1, warps + 1 :]], axis=2)


# The page has the same entries (LAYOUTS and DECODINGS of page/shared/mixing.js): a mixing made of
# them is drawn there too; one of a new layout or space is refused there until it has it.
LAYOUTS: dict[str, _Lay] = {
    "layered": _layered,
    "woven": _woven,
    "multiply": _multiplied,
    "demichel": _demichel,
}
SPACES: dict[str, tuple[_Code, _Code]] = {
    "as-is": (_as_is, _as_is),
    "light": (_to_light, _from_light),
    "display-p3": (_to_p3, _from_p3),
    "absorption": (_to_absorption, _from_absorption),
}

_MIXINGS = (
    Mixing("source-over", "on screen",
           "what screens do with opacity (W3C Compositing Level 1)",
           "layered", "as-is"),
    Mixing("source-over-linear", "as light", "opacity mixed as light",
           "layered", "light"),
    Mixing("multiply", "as screens blend",
           "the blend mode of screens (W3C): values multiplied; not what ink does",
           "multiply", "as-is"),
    Mixing("ink", "printed, an estimate",
           "halftone inks on the ground as paper, an estimate (Demichel, Yule–Nielsen)",
           "demichel", "display-p3", estimate=True),
    Mixing("woven", "fine threads", "threads too fine to see apart, mixed as light",
           "woven", "light"),
    Mixing("pigment", "dyed, an estimate",
           "colorants mixed by their absorption, an estimate (single-constant Kubelka–Munk)",
           "layered", "absorption", estimate=True),
)  # fmt: skip

MIXINGS: tuple[str, ...] = tuple(mixing.name for mixing in _MIXINGS)

# What each option means, in one line for people.
MIXING_OPTIONS = {
    "warp_share": "how much of the surface the warp shows: 1/2 in balanced plain weave (woven)",
    "yule_nielsen": "n, how far light spreads in the cloth: 1 not at all, 2 fully (light mixings)",
    "stock": "what inks are printed on: coated, uncoated, newsprint or a Stock of numbers (ink)",
}


def find_mixing(name: str) -> Mixing:
    """Return the mixing of that name, one of ``MIXINGS``.

    >>> find_mixing("woven").meaning
    'threads too fine to see apart, mixed as light'
    """
    return _MIXINGS[MIXINGS.index(require_one_of(name, "mixing", MIXINGS))]


def mix_tones(
    grounds: ArrayLike,
    stripes: ArrayLike,
    strength: ArrayLike,
    mixing: str = "source-over",
    weft_stripes: ArrayLike | None = None,
    *,
    warp_share: float = 0.5,
    yule_nielsen: float = 1.0,
    stock: str | Stock = "",
) -> Floats:
    """Return the tones of many checks at once.

    Parameters
    ----------
    grounds : array_like, shape (..., 3)
        Encoded sRGB in 0–1.
    stripes : array_like, shape (..., N, 3)
        Encoded sRGB in 0–1, the N stripes of each check in order.
    strength : array_like, shape (...)
        Overlay strength, 0 to 1.
    mixing : str
        One of ``MIXINGS``.
    weft_stripes : array_like, shape (..., F, 3), optional
        The weft's own stripes; those of the warp where left out.
    warp_share : float
        The warp's share of the surface, 0 to 1, for ``woven``; other mixings have no use
        for it. 1/2 is a balanced plain weave.
    yule_nielsen : float
        The exponent n of Yule and Nielsen, 1 to 10, for the light mixings: 1 adds light
        by area, 2 is light scattered fully before it leaves (darker). Others ignore it.
    stock : str or Stock
        For ``ink``: ``"coated"``, ``"uncoated"``, ``"newsprint"``, nothing where it is not
        known, or a :class:`Stock` with the numbers of a press. Strength is then the tone
        value of every stripe in the file, and a stripe's colour is its ink printed solid
        on this ground. Others ignore it.

    Returns
    -------
    ndarray of float64, shape (..., N+1, F+1, 3)
        Encoded sRGB; index 0 on both tone axes is the ground, the first axis the warp.

    Raises
    ------
    ArgumentError
        For an unknown mixing, values out of range, NaN, or shapes that do not fit.

    Examples
    --------
    >>> tones = mix_tones([1, 1, 1], [[1, 0, 0]], 0.5)
    >>> tones[1, 1].round(3).tolist()
    [1.0, 0.25, 0.25]
    """
    chosen = find_mixing(mixing)
    grounds = as_colours(grounds, "grounds")
    stripes = as_colours(stripes, "stripes")
    wefts = stripes if weft_stripes is None else as_colours(weft_stripes, "weft_stripes")
    alpha = as_fraction(strength, "strength")
    share = as_number(warp_share, "warp_share", 0, 1)
    n = as_number(yule_nielsen, "yule_nielsen", 1, 10)
    paper = Stock.of(stock)
    for name, given in (("stripes", stripes), ("weft_stripes", wefts)):
        if given.ndim < 2 or given.shape[-2] < 1:
            raise ArgumentError(name, "of shape (..., N, 3)", words=f"shape {given.shape}")
    try:
        lead = np.broadcast_shapes(
            grounds.shape[:-1], stripes.shape[:-2], wefts.shape[:-2], alpha.shape
        )
    except ValueError:
        raise ArgumentError(
            "grounds (..., 3), stripes (..., N, 3) and strength (...)",
            "alike in '...'",
            words=f"{grounds.shape}, {stripes.shape} and {alpha.shape}",
        ) from None
    flat_grounds = np.clip(np.broadcast_to(grounds, (*lead, 3)), 0, 1).reshape(-1, 3)
    flat_warp = _flat(stripes, lead)
    flat_weft = None if weft_stripes is None else _flat(wefts, lead)
    flat_alpha = np.broadcast_to(alpha, lead).reshape(-1)
    sides = stripes.shape[-2] + 1, wefts.shape[-2] + 1
    tones = np.empty((len(flat_alpha), *sides, 3))
    step = max(1, _BLOCK_TONES // (sides[0] * sides[1]))
    for start in range(0, len(tones), step):
        part = slice(start, start + step)
        ground, warp = chosen.encode(flat_grounds[part], n), chosen.encode(flat_warp[part], n)
        weft = None if flat_weft is None else chosen.encode(flat_weft[part], n)
        laid = chosen.lay(ground, warp, flat_alpha[part], share, weft, paper)
        tones[part] = chosen.decode(laid, n)
    return tones.reshape(*lead, *sides, 3)


def _flat(stripes: Floats, lead: tuple[int, ...]) -> Floats:
    """Stripes (..., N, 3) as (M, N, 3), held to 0–1."""
    number = stripes.shape[-2]
    return np.clip(np.broadcast_to(stripes, (*lead, number, 3)).reshape(-1, number, 3), 0, 1)


def mix_wide(
    colours: Floats,
    warps: int,
    strength: Floats,
    mixing: str,
    space: str,
    *,
    warp_share: float = 0.5,
    yule_nielsen: float = 1.0,
    stock: Stock = STOCKS[""],
) -> Floats:
    """Return the tones of many checks in XYZ, from colours beyond sRGB: nothing is mapped.

    ``colours`` (M, 1+W, C) or (M, 1+W+F, C) are ground, W = ``warps`` stripes and the weft's own,
    as :func:`encode_wide` gives them for ``space``; all else is as :func:`mix_tones` has it. The
    tones are (M, W+1, F+1, 3), under D65, 2°, white Y = 1.
    """
    chosen, own = find_mixing(mixing), colours.shape[1] - 1 - warps
    n = yule_nielsen if chosen.uses_yule_nielsen else 1.0
    across = (own or warps) + 1
    tones = np.empty((len(colours), warps + 1, across, 3))
    step = max(1, _BLOCK_TONES // ((warps + 1) * across))
    for start in range(0, len(tones), step):
        part = slice(start, start + step)
        stripes = colours[part, 1 : warps + 1]
        weft = colours[part, warps + 1 :] if own else None
        laid = chosen.lay(colours[part, 0], stripes, strength[part], warp_share, weft, stock)
        tones[part] = wide_to_xyz(laid, space, n)
    return tones
