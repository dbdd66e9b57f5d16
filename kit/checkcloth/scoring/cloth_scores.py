"""Scores of the cloth as a whole: one number each, where other scores compare pairs of tones.

To add one, write a function and add a line to ``WHOLE_CLOTH``: score tables and files, the
desk's sorting and hiding, and the analyst's CSV all read their columns from there.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from checkcloth.arguments import Floats, as_colours
from checkcloth.cloth.bands import Band, Bands, counted, even_bands
from checkcloth.cloth.tones import area_shares, stripe_count
from checkcloth.colour.spaces import linear_to_srgb, srgb_to_linear
from checkcloth.colour.vision import see_as
from checkcloth.errors import ArgumentError
from checkcloth.scoring.harmony import harmony_alone, harmony_together
from checkcloth.scoring.pairs import EDGE_KINDS, KindPairs

# In L*: below, a step is the rounding of tones that are the same.
LEAST_STEP = 1e-9


def as_tones(tones: ArrayLike) -> Floats:
    """Return tones as an array of shape (..., W+1, F+1, 3)."""
    array = as_colours(tones, "tones")
    if array.ndim < 3 or min(array.shape[-3:-1]) < 2:
        raise ArgumentError("tones", "of shape (..., W+1, F+1, 3)", words=f"shape {array.shape}")
    return array


def as_bands(tones: Floats, warp: Bands | None, weft: Bands | None) -> tuple[Bands, Bands]:
    """Return the bands each way, those of an even check where left out."""
    made = []
    for name, bands, side in zip(
        ("warp_bands", "weft_bands"), (warp, weft), tones.shape[-3:-1], strict=True
    ):
        own = even_bands(side - 1) if bands is None else tuple(Band(*band) for band in bands)
        if not own or stripe_count(own) > side - 1:
            raise ArgumentError(name, f"bands of {side - 1} stripes", own)
        made.append(counted(own, side - 1))
    return made[0], made[1]


def far_colour(
    tones: ArrayLike,
    warp_bands: Bands | None = None,
    weft_bands: Bands | None = None,
    *,
    vision: str = "normal",
    severity: float = 1.0,
) -> Floats:
    """Return the colour that a cloth has from afar, shape (..., 3), encoded sRGB.

    The mean of its tones (..., W+1, F+1, 3) in linear light, weighted by area, as a colour vision
    then sees it (:func:`see_as`). Bands are those of an even check where left out.

    >>> far_colour([[[0, 0, 0], [0, 0, 0]], [[0, 0, 0], [1, 1, 1]]]).round(4).tolist()
    [0.5371, 0.5371, 0.5371]
    """
    array = as_tones(tones)
    shares = area_shares(*as_bands(array, warp_bands, weft_bands))
    # Light that reaches the eye is mixed before the eye has its say.
    light = np.einsum("...ijc,ij->...c", srgb_to_linear(array), shares)
    return see_as(np.clip(linear_to_srgb(light), 0, 1), vision, severity)


@dataclass(frozen=True)
class SeenTones:
    """The tones of M checks as one colour vision sees them, ready to be scored.

    Shapes (M, W+1, F+1, 3): as in all tones, index 0 is the ground and the first tone axis the
    warp.
    """

    rgb: Floats  # encoded sRGB in 0–1
    lab: Floats  # D65, 2°
    oklab: Floats
    shares: Floats  # of the cloth's area, (W+1, F+1)
    pairs: Mapping[str, KindPairs]  # which are compared, and which touch: see tone_pairs


@dataclass(frozen=True)
class ClothScore:
    """A score of the cloth as a whole, and how it is shown."""

    name: str  # its column in tables and files
    words: str  # for people
    work: Callable[[SeenTones], Floats]  # numbers (M,) of M checks; 1 and 0 for yes and no
    digits: int = 2  # decimals that tell two colourways apart
    yes_no: bool = False  # whether it is shown as yes or no
    formula: str = ""  # for the glossary: how it is worked out
    source: str = ""  # where that is published; nothing where it is the kit's own


def _lightness_runs(seen: SeenTones) -> Floats:
    """Whether L* runs one way over every edge from ground to single to crossing."""
    lightness = seen.lab[..., 0].reshape(len(seen.lab), -1)
    inner, outer = np.concatenate([seen.pairs[kind].indices for kind in EDGE_KINDS]).T
    steps = lightness[:, outer] - lightness[:, inner]
    runs = (steps > LEAST_STEP).all(axis=1), (steps < -LEAST_STEP).all(axis=1)
    return np.logical_or(*runs).astype(np.float64)


def _evenness(seen: SeenTones) -> Floats:
    """The smaller lightness step over the larger: ground, mean single, mean crossing."""
    lightness = seen.lab[..., 0].reshape(len(seen.lab), -1)
    warp, weft = (index > 0 for index in np.indices(seen.shares.shape))
    stripes = warp.astype(int) + weft
    areas = np.array([(seen.shares * (stripes == number)).ravel() for number in range(3)])
    if not areas.any(axis=1).all():  # no ground, so no steps from it
        return np.full(len(lightness), np.nan)
    ground, single, crossing = (areas / areas.sum(axis=1, keepdims=True)) @ lightness.T
    first, second = np.abs(single - ground), np.abs(crossing - single)
    large, small = np.maximum(first, second), np.minimum(first, second)
    even: Floats = np.zeros_like(large)
    np.divide(small, large, out=even, where=large > LEAST_STEP)
    return even


# Tones worked at a time, so that their columns stay in a core's cache.
_BLOCK_TONES = 1 << 12


def _harmony(seen: SeenTones) -> Floats:
    """Mean harmony of the tones that share an edge, weighted by its length; see harmony.py."""
    kinds = [seen.pairs[kind] for kind in EDGE_KINDS if len(seen.pairs[kind].indices)]
    lab = seen.lab.reshape(len(seen.lab), -1, 3)
    means = np.full((max(len(kinds), 1), len(lab)), np.nan)
    step = max(1, _BLOCK_TONES // lab.shape[1])
    for start in range(0, len(lab), step):
        part = slice(start, start + step)
        columns = np.ascontiguousarray(lab[part].transpose(2, 0, 1))
        # What a colour brings of its own is worked out once a tone, and not once a pair.
        alone = harmony_alone(columns)
        for row, pairs in enumerate(kinds):
            one, two = pairs.indices.T
            found = harmony_together(columns.take(one, axis=2), columns.take(two, axis=2))
            found += alone.take(one, axis=1)
            found += alone.take(two, axis=1)
            means[row, part] = found @ pairs.weights
    # In an even check both kinds have as much edge.
    return np.asarray(means.mean(axis=0))


WHOLE_CLOTH = (
    ClothScore(
        "lightness_runs", "lightness runs in order", _lightness_runs, yes_no=True,
        formula="1 where L* only rises, or only falls, over every edge from ground to single to "
        "crossing; else 0",
    ),
    ClothScore(
        "evenness", "evenness of the lightness steps", _evenness,
        formula="min(s, t) / max(s, t) with s = |L̄₁ − L̄₀| and t = |L̄₂ − L̄₁|, L̄ the mean L* of "
        "ground, singles and crossings by area; 0 where neither steps",
    ),
    ClothScore(
        "harmony", "harmony of what touches, as observers preferred in a laboratory", _harmony,
        formula="mean of the two kinds that share an edge, each Σ wᵢ·CHᵢ by length of edge, "
        "CH = H_C + H_L + H_H of both colours' L*a*b*",
        source="Ou and Luo 2006 (cited from memory)",
    ),
)  # fmt: skip
