"""Scores: how far the tones of a check stand apart, and what the cloth does as a whole."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np
from numpy.typing import ArrayLike, NDArray

from checkcloth.arguments import Floats, as_colours, as_number, as_tuple
from checkcloth.cloth.colourway import Colourway, tones_of
from checkcloth.colour.ciede2000 import ciede2000_columns
from checkcloth.colour.difference import relative_luminance
from checkcloth.colour.spaces import linear_to_srgb, srgb_to_lab, srgb_to_linear, srgb_to_oklab
from checkcloth.colour.vision import see_as
from checkcloth.errors import ArgumentError
from checkcloth.scoring.cloth_scores import WHOLE_CLOTH, SeenTones
from checkcloth.scoring.pairs import KINDS, Indices, TonePairs, tone_pairs
from checkcloth.scoring.scores import PairScore, Score

__all__ = ["PairScore", "Score", "afar", "score", "score_tones"]

# Tone pairs worked at a time, so that their columns stay in a core's cache.
_BLOCK_PAIRS = 1 << 13


def _pair_score(
    lab: Floats, oklab: Floats, luminance: Floats, chosen: TonePairs, kind: str
) -> PairScore:
    """Score one kind of pair; the first two have shape (M, T, 3) and ``luminance`` (M, T)."""
    pairs: Indices = getattr(chosen, kind)
    count, number = len(lab), len(pairs)
    closest = np.full((count, 2, 2), -1, dtype=np.intp)
    # Rows of ``numbers`` are the fields of PairScore in order, but for ``closest``.
    numbers = np.full((8, count), np.nan)
    if number == 0:
        return _as_pair_score(numbers, closest)
    one, two = pairs.T
    weights = chosen.weights(kind)
    # Channels first, so that every step below runs along a column.
    lab_columns = np.ascontiguousarray(lab.transpose(2, 0, 1))
    ok_columns = np.ascontiguousarray(oklab.transpose(2, 0, 1))
    raised = luminance + 0.05
    step = max(1, _BLOCK_PAIRS // number)
    for start in range(0, count, step):
        part = slice(start, start + step)
        first = lab_columns[:, part].take(one, axis=2)
        second = lab_columns[:, part].take(two, axis=2)
        de = ciede2000_columns(first.reshape(3, -1), second.reshape(3, -1)).reshape(-1, number)
        closest[part] = np.stack(np.divmod(pairs[de.argmin(axis=1)], chosen.side), axis=-1)
        dl = np.abs(first[0] - second[0])
        ratio = raised[part].take(one, axis=1) / raised[part].take(two, axis=1)
        np.maximum(ratio, 1 / ratio, out=ratio)
        apart = ok_columns[:, part].take(one, axis=2) - ok_columns[:, part].take(two, axis=2)
        apart *= apart
        ok = np.sqrt(apart.sum(axis=0))
        numbers[:, part] = (
            de.min(axis=1), de @ weights, dl.min(axis=1), ratio.min(axis=1),
            dl @ weights, ratio @ weights, ok.min(axis=1), ok @ weights,
        )  # fmt: skip
    return _as_pair_score(numbers, closest)


def _as_pair_score(numbers: Floats, closest: NDArray[np.intp]) -> PairScore:
    least, mean, least_dl, least_ratio, mean_dl, mean_ratio, least_ok, mean_ok = numbers
    return PairScore(
        least, mean, least_dl, least_ratio, closest, mean_dl, mean_ratio, least_ok, mean_ok
    )


def afar(tones: ArrayLike) -> Floats:
    """Return the colour that an even check has from afar, shape (..., 3), encoded sRGB.

    The mean in linear light, weighted by area: ground 1/4, singles 1/2, crossings 1/4.

    Parameters
    ----------
    tones : array_like, shape (..., N+1, N+1, 3)

    >>> afar([[[0, 0, 0], [0, 0, 0]], [[0, 0, 0], [1, 1, 1]]]).round(4).tolist()
    [0.5371, 0.5371, 0.5371]
    """
    light = srgb_to_linear(_as_tones(tones))
    number = light.shape[-2] - 1
    # Each of N stripes is one band in 2N; the ground is N of them.
    share = np.full(number + 1, 0.5 / number)
    share[0] = 0.5
    mean = np.einsum("...ijc,i,j->...c", light, share, share)
    return np.clip(linear_to_srgb(mean), 0, 1)


def _as_tones(tones: ArrayLike) -> Floats:
    array = as_colours(tones, "tones")
    if array.ndim < 3 or array.shape[-2] != array.shape[-3] or array.shape[-2] < 2:
        raise ArgumentError("tones", "of shape (..., N+1, N+1, 3)", words=str(array.shape))
    return array


def _pairs_of(flat: Floats) -> TonePairs:
    """The fewest pairs that say all: fewer where warp and weft singles are the same tones."""
    mirrored = bool(np.array_equal(flat[:, 1:, 0], flat[:, 0, 1:]))
    symmetric = mirrored and bool(np.allclose(flat, flat.swapaxes(1, 2), rtol=0, atol=1e-12))
    return tone_pairs(flat.shape[1] - 1, mirrored=mirrored, symmetric=symmetric)


def score_tones(tones: ArrayLike, vision: str = "normal", severity: float = 1.0) -> Score:
    """Score tones of any number of checks with equally many stripes.

    Parameters
    ----------
    tones : array_like, shape (..., N+1, N+1, 3)
        Encoded sRGB in 0–1.
    vision, severity :
        See :func:`see_as`; the tones are scored as they look to that vision.

    Returns
    -------
    Score
        Arrays of shape (...).

    Raises
    ------
    ArgumentError
        For other shapes, values outside 0–1, an unknown vision.

    Examples
    --------
    >>> score_tones(Colourway("white", ["black"]).tones).ground_single.least_dl.round(2).item()
    46.61
    """
    array = _as_tones(tones)
    side = array.shape[-2]
    lead = array.shape[:-3]
    seen = see_as(array.reshape(-1, side, side, 3), vision, severity)
    pairs = _pairs_of(seen)
    lab = srgb_to_lab(seen)
    flat = lab.reshape(len(lab), -1, 3)
    oklab = srgb_to_oklab(seen)
    flat_oklab = oklab.reshape(flat.shape)
    luminance = relative_luminance(seen).reshape(len(lab), -1)
    parts = {}
    for kind in KINDS:
        part = _pair_score(flat, flat_oklab, luminance, pairs, kind)
        parts[kind] = PairScore(
            *(
                value.reshape(lead + value.shape[1:])
                for value in (getattr(part, name) for name in PairScore.__dataclass_fields__)
            )
        )
    whole = SeenTones(seen, lab, oklab)
    return Score(
        **parts,
        cloth={one.name: one.work(whole).reshape(lead) for one in WHOLE_CLOTH},
        afar=afar(seen).reshape((*lead, 3)),
        vision=vision,
    )


def score(
    colourways: Colourway | Iterable[Colourway], vision: str = "normal", severity: float = 1.0
) -> Score:
    """Score a colourway, or many with equally many stripes.

    Parameters
    ----------
    colourways : Colourway or iterable of Colourway
    vision, severity :
        See :func:`see_as`.

    Returns
    -------
    Score
        Of 0-d arrays for one colourway, of arrays (M,) for many.

    Raises
    ------
    ArgumentError
        For no colourways, differing stripe counts, or an unknown vision.

    Examples
    --------
    >>> print(score(Colourway("white", ["navy"])))
    ground–single ΔE00 37.6, ΔL* 44.3, 3.67:1; single–crossing ΔE00 22.8, ΔL* 23.4, 2.34:1; \
lightness runs in order (normal vision)
    """
    as_number(severity, "severity", 0, 1)
    if isinstance(colourways, Colourway):
        return score_tones(colourways.tones, vision, severity)
    members = as_tuple(colourways, "colourways", Colourway)
    return score_tones(tones_of(members), vision, severity)
