"""Scores: how far the tones of a check stand apart, and what the cloth does as a whole."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from checkcloth.cloth.colourway import Colourway, tones_of
from checkcloth.colour.arrays import Floats, as_colours, as_number
from checkcloth.colour.ciede2000 import delta_e_2000
from checkcloth.colour.difference import ratio_of_luminances, relative_luminance
from checkcloth.colour.spaces import linear_to_srgb, srgb_to_lab, srgb_to_linear
from checkcloth.colour.vision import see_as
from checkcloth.errors import ArgumentError
from checkcloth.explore.pairs import KINDS, Indices, TonePairs, tone_pairs

__all__ = ["PairScore", "Score", "afar", "score", "score_tones"]

# Tone pairs worked at a time; keeps the memory of scoring thousands near 20 MB.
_BLOCK_PAIRS = 1 << 16


@dataclass(frozen=True)
class PairScore:
    """Scores of one kind of tone pair, each of shape (...); NaN where there is no pair.

    Attributes
    ----------
    least_de2000, mean_de2000 : ndarray
        CIEDE2000 of the closest pair, and the mean over pairs.
    least_dl : ndarray
        Least |ΔL*| over pairs.
    least_ratio : ndarray
        Least contrast ratio over pairs.
    closest : ndarray of int, shape (..., 2, 2)
        The closest pair by CIEDE2000: (warp, weft) indices of its two tones; −1 where
        there is no pair.
    """

    least_de2000: Floats
    mean_de2000: Floats
    least_dl: Floats
    least_ratio: Floats
    closest: NDArray[np.intp]

    def __getitem__(self, place: int | slice) -> PairScore:
        return PairScore(*(getattr(self, name)[place] for name in self.__dataclass_fields__))


@dataclass(frozen=True)
class Score:
    """Scores of one colourway, or of many: every array has the shape (...) of what was scored.

    CIEDE2000 was fitted to small differences, so ΔL* and the contrast ratio always stand
    beside it. WCAG exempts decoration; its limits are a yardstick here.

    Attributes
    ----------
    ground_single, single_crossing, single_single, crossing_crossing : PairScore
        The first two are the pairs that share an edge on the cloth.
    lightness_runs : ndarray of bool
        Lightness runs one way from ground over single to crossing, on every path.
    evenness : ndarray
        The smaller lightness step over the larger, 0 to 1, of ground to the mean single
        and the mean single to the mean crossing.
    afar : ndarray, shape (..., 3)
        Encoded sRGB that the cloth has from afar.
    vision : str
        The colour vision it was scored for.

    Examples
    --------
    >>> scores = score([Colourway("white", ["navy"]), Colourway("white", ["ivory"])])
    >>> scores.ground_single.least_de2000.round(1).tolist()
    [37.6, 3.7]
    """

    ground_single: PairScore
    single_crossing: PairScore
    single_single: PairScore
    crossing_crossing: PairScore
    lightness_runs: NDArray[np.bool_]
    evenness: Floats
    afar: Floats
    vision: str = "normal"

    def __len__(self) -> int:
        if self.evenness.ndim == 0:
            raise TypeError("the score of one colourway has no length")
        return len(self.evenness)

    def __getitem__(self, place: int | slice) -> Score:
        parts = {kind: getattr(self, kind)[place] for kind in KINDS}
        return Score(
            **parts,
            lightness_runs=self.lightness_runs[place],
            evenness=self.evenness[place],
            afar=self.afar[place],
            vision=self.vision,
        )

    @property
    def least_edge(self) -> Floats:
        """The least CIEDE2000 over every edge on the cloth."""
        return np.fmin(self.ground_single.least_de2000, self.single_crossing.least_de2000)

    def columns(self) -> dict[str, Floats]:
        """Return the numbers by name, in a fixed order, for tables and files."""
        out: dict[str, Floats] = {}
        for kind in KINDS:
            part: PairScore = getattr(self, kind)
            for name in ("least_de2000", "mean_de2000", "least_dl", "least_ratio"):
                out[f"{kind}_{name}"] = getattr(part, name)
        out["lightness_runs"] = self.lightness_runs.astype(np.float64)
        out["evenness"] = self.evenness
        return out

    def __str__(self) -> str:
        if self.evenness.ndim:
            return f"scores of {self.evenness.size} colourways ({self.vision} vision)"
        ground, cross = self.ground_single, self.single_crossing
        runs = "lightness runs in order" if self.lightness_runs else "lightness out of order"
        return (
            f"ground–single ΔE00 {ground.least_de2000:.1f}, ΔL* {ground.least_dl:.1f}, "
            f"{ground.least_ratio:.2f}:1; single–crossing ΔE00 {cross.least_de2000:.1f}, "
            f"ΔL* {cross.least_dl:.1f}, {cross.least_ratio:.2f}:1; {runs} ({self.vision} vision)"
        )


def _pair_score(lab: Floats, luminance: Floats, chosen: TonePairs, kind: str) -> PairScore:
    """Score one kind of pair; ``lab`` has shape (M, T, 3) and ``luminance`` (M, T)."""
    pairs: Indices = getattr(chosen, kind)
    count, number = len(lab), len(pairs)
    if number == 0:
        blank = np.full(count, np.nan)
        nowhere = np.full((count, 2, 2), -1, dtype=np.intp)
        return PairScore(blank, blank.copy(), blank.copy(), blank.copy(), nowhere)
    one, two = pairs.T
    weights = chosen.weights(kind)
    least, mean, least_dl, least_ratio = (np.empty(count) for _ in range(4))
    worst = np.empty(count, dtype=np.intp)
    step = max(1, _BLOCK_PAIRS // number)
    for start in range(0, count, step):
        part = slice(start, start + step)
        first, second = lab[part][:, one], lab[part][:, two]
        de = delta_e_2000(first, second)
        worst[part] = de.argmin(axis=1)
        least[part] = de.min(axis=1)
        mean[part] = de @ weights
        least_dl[part] = np.abs(first[..., 0] - second[..., 0]).min(axis=1)
        ratio = ratio_of_luminances(luminance[part][:, one], luminance[part][:, two])
        least_ratio[part] = ratio.min(axis=1)
    closest = np.stack(np.divmod(pairs[worst], chosen.side), axis=-1)
    return PairScore(least, mean, least_dl, least_ratio, closest)


def _lightness(lightness: Floats) -> tuple[NDArray[np.bool_], Floats]:
    """Whether L* runs one way on every path ground → single → crossing, and how evenly."""
    ground = lightness[:, 0, 0]
    warp, weft, crossing = lightness[:, 1:, 0], lightness[:, 0, 1:], lightness[:, 1:, 1:]
    first = np.concatenate([warp, weft], axis=1) - ground[:, None]
    second = np.concatenate(
        [crossing - warp[:, :, None], crossing - weft[:, None, :]], axis=1
    ).reshape(len(lightness), -1)
    steps = np.concatenate([first, second], axis=1)
    runs: NDArray[np.bool_] = np.logical_or((steps > 0).all(axis=1), (steps < 0).all(axis=1))
    single = (warp.mean(axis=1) + weft.mean(axis=1)) / 2
    one = np.abs(single - ground)
    two = np.abs(crossing.mean(axis=(1, 2)) - single)
    large, small = np.maximum(one, two), np.minimum(one, two)
    even = np.divide(small, large, out=np.zeros_like(large), where=large > 0)
    return runs, even


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
        raise ArgumentError(f"tones must have shape (..., N+1, N+1, 3), found {array.shape}")
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
    luminance = relative_luminance(seen).reshape(len(lab), -1)
    parts = {}
    for kind in KINDS:
        part = _pair_score(flat, luminance, pairs, kind)
        parts[kind] = PairScore(
            *(
                value.reshape(lead + value.shape[1:])
                for value in (getattr(part, name) for name in PairScore.__dataclass_fields__)
            )
        )
    runs, even = _lightness(lab[..., 0])
    return Score(
        **parts,
        lightness_runs=runs.reshape(lead),
        evenness=even.reshape(lead),
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
    return score_tones(tones_of(colourways), vision, severity)
