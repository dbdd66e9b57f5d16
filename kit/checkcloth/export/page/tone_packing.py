"""Colourways on their way to the page: arrays in, bytes out.

The page mixes for itself, so what it gets is colours, each encoded for its mixing (three channels
of light, or 36 bands), and how the shares are laid. Nothing here hangs on the strength.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from typing import Any, NamedTuple

import numpy as np

from checkcloth.arguments import Floats
from checkcloth.cloth.check import Check
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.mixing import find_mixing
from checkcloth.cloth.named_colour import NamedColour
from checkcloth.colour.wide import WIDE_SPACES, encode_wide, known_of, space_for
from checkcloth.errors import ArgumentError

MOST_RECIPES = 256


class Recipe(NamedTuple):
    """How a colourway is mixed; options that its mixing has no use for stand at their usual."""

    mixing: str
    layout: str
    decode: str
    warp_share: float
    yule_nielsen: float
    # Of inks only: tone value increase, limiting density, n.
    stock: tuple[float, ...] = ()


def recipe_for(colourway: Colourway, mixing: str | None = None) -> Recipe:
    """Return how a colourway is mixed, by ``mixing`` where that is given."""
    chosen = find_mixing(mixing or colourway.mixing)
    stock = colourway.stock
    return Recipe(
        chosen.name,
        chosen.layout,
        space_for(chosen.space, colourway.known) or chosen.space,
        chosen.share(colourway.warp_share) if chosen.uses_warp_share or chosen.fixed_share else 0.5,
        colourway.yule_nielsen if chosen.uses_yule_nielsen else 1.0,
        (stock.tone_value_increase, stock.limiting_density, stock.yule_nielsen)
        if chosen.uses_stock
        else (),
    )


def as_list(recipe: Recipe) -> list[Any]:
    """Return a recipe as the page takes it; only inks have a sixth entry."""
    *usual, stock = recipe
    return [*usual, list(stock)] if stock else usual


class Packed(NamedTuple):
    """Colourways as the page takes them."""

    recipes: list[list[Any]]  #: each :class:`Recipe` once
    recipe_of: bytes  #: an index into ``recipes`` for each colourway, a byte each
    #: Of each colourway (N+1) × C encoded values, the ground first, float32, little-endian; C is
    #: the number of channels of its mixing. With ``wefts`` the weft's own colours follow.
    pieces: list[bytes]

    @property
    def colours(self) -> bytes:
        """Colourway after colourway, in one."""
        return b"".join(self.pieces)

    def with_one(self, index: int, one: Packed) -> Packed:
        """Return the same with another colourway, packed alone, at an index."""
        recipes, (own,) = list(self.recipes), one.recipes
        if own not in recipes:
            recipes.append(own)
        if len(recipes) > MOST_RECIPES:
            raise _too_many(len(recipes))
        recipe_of, pieces = bytearray(self.recipe_of), list(self.pieces)
        recipe_of[index], pieces[index] = recipes.index(own), one.pieces[0]
        return Packed(recipes, bytes(recipe_of), pieces)


def _too_many(recipes: int) -> ArgumentError:
    allowed = f"of at most {MOST_RECIPES} different mixings and options on one wall"
    return ArgumentError("colourways", allowed, recipes)


def pack(
    colourways: Sequence[Colourway],
    mixing: str | None = None,
    own: Collection[int] = (),
    *,
    wefts: bool = False,
) -> Packed:
    """Return colourways for the page, mixed by ``mixing`` where that is given.

    Those at the indices ``own`` keep their own mixing all the same; with ``wefts`` colours of the
    weft's own go along.

    Raises
    ------
    ArgumentError
        For more than 256 different mixings with their options.
    """
    recipes: dict[Recipe, int] = {}
    recipe_of = [
        recipes.setdefault(recipe_for(colourway, None if i in own else mixing), len(recipes))
        for i, colourway in enumerate(colourways)
    ]
    if len(recipes) > MOST_RECIPES:
        raise _too_many(len(recipes))
    pieces: list[bytes] = [b""] * len(colourways)
    for recipe, index in recipes.items():
        members = [i for i, found in enumerate(recipe_of) if found == index]
        packed = [
            (one.ground, *one.stripes, *(one.weft_stripes if wefts else ()))
            for one in (colourways[i] for i in members)
        ]
        encoded = encode_colours([colour for each in packed for colour in each], recipe)
        start = 0
        for i, each in zip(members, packed, strict=True):
            end = start + len(each)
            pieces[i] = encoded[start:end].tobytes()
            start = end
    return Packed([as_list(recipe) for recipe in recipes], bytes(recipe_of), pieces)


def encode_colours(colours: Sequence[NamedColour], recipe: Recipe) -> Floats:
    """Encode colours to float32 (K, C), those outside sRGB and spectra as what they are."""
    own = find_mixing(recipe.mixing).space
    # K/S is the one space that is the same either way.
    if recipe.decode != own or (own in WIDE_SPACES and any(known_of(colours))):
        return np.asarray(encode_wide(colours, recipe.decode, recipe.yule_nielsen), dtype="<f4")
    return encode(np.array([colour.rgb for colour in colours]), recipe)


def encode(rgb: Floats, recipe: Recipe) -> Floats:
    """Encode colours (K, 3) to float32 (K, C); a wall has the same few again and again."""
    different, where = np.unique(rgb, axis=0, return_inverse=True)
    mixing = find_mixing(recipe.mixing)
    encoded = mixing.encode(np.clip(different, 0, 1), recipe.yule_nielsen)
    return np.asarray(encoded[where.reshape(-1)], dtype="<f4")


def counts(colourways: Iterable[Colourway]) -> bytes:
    """Return the number of stripes of each colourway, a byte each."""
    return bytes(len(colourway.stripes) for colourway in colourways)


def weft_counts(colourways: Iterable[Colourway]) -> bytes:
    """Return how many stripes of its own each weft has; nothing where none has any."""
    found = bytes(len(colourway.weft_stripes) for colourway in colourways)
    return found if any(found) else b""


def laid(check: Check | None) -> dict[str, Any]:
    """Return the bands of a check that is not even, [stripe, checks] each; else nothing.

    >>> laid(Check("1 cm", 1, warp="2 A, 1/2 ground", weft="1 A"))["warp"]
    [[1, 2.0], [0, 0.5]]
    """
    if check is None or check.is_even:
        return {}
    warp, weft = (
        [[stripe, float(checks)] for stripe, checks in bands]
        for bands in (check.warp_bands, check.weft_bands)
    )
    counts = {"stripes": check.stripes, "wefts": check.weft_stripes}
    return {**counts, "warp": warp, "weft": weft}
