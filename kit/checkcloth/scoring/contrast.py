"""Scores: how far the tones of a check stand apart, pair by pair, and as a whole."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, fields
from functools import partial
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from checkcloth.arguments import Floats, as_number, as_tuple, require_type
from checkcloth.cloth.bands import Bands
from checkcloth.cloth.check import Check
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.tones import (
    NO_SYMMETRY,
    Symmetry,
    area_shares,
    each_symmetry,
    symmetry_of,
    tones_of,
    touching_pairs,
)
from checkcloth.colour.ciede2000 import ciede2000_columns
from checkcloth.colour.difference import luminance_of_light
from checkcloth.colour.spaces import linear_to_lab, linear_to_oklab, srgb_to_linear
from checkcloth.colour.vision import see_as
from checkcloth.files.html import OneLine
from checkcloth.scoring.cloth_scores import (
    WHOLE_CLOTH,
    SeenTones,
    as_bands,
    as_tones,
    far_colour,
)
from checkcloth.scoring.distinct import count_distinct
from checkcloth.scoring.measures import find_measure
from checkcloth.scoring.pairs import KINDS, NO_PAIRS, KindPairs, kinds_of, tone_pairs
from checkcloth.scoring.vocabulary import MEASURES, PAIR_WORDS, vision_name

# Tone pairs worked at a time, so that their columns stay in a core's cache.
_BLOCK_PAIRS = 1 << 14


@dataclass(frozen=True, repr=False)
class PairScore(OneLine):
    """Scores of one kind of tone pair, each of shape (...); NaN where there is no pair.

    Means weigh pairs that share an edge by its length, others by the areas of the tones.

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
    mean_dl, mean_ratio : ndarray
        Means of |ΔL*| and of the contrast ratio over pairs.
    least_deok, mean_deok : ndarray
        Distance in Oklab: of the closest pair by that measure, and the mean.
    least_edge : ndarray
        CIEDE2000 of the closest pair of them that shares an edge.
    least_hyab, mean_hyab : ndarray
        HyAB, for large differences: of the closest pair by that measure, and the mean.

    Examples
    --------
    >>> from checkcloth import Colourway, score
    >>> part = score(Colourway("white", ["navy"])).ground_single
    >>> part.least_dl.round(1).item(), part.closest.tolist()
    (44.3, [[0, 0], [1, 0]])
    """

    least_de2000: Floats
    mean_de2000: Floats
    least_dl: Floats
    least_ratio: Floats
    closest: NDArray[np.intp]
    mean_dl: Floats
    mean_ratio: Floats
    least_deok: Floats
    mean_deok: Floats
    least_edge: Floats
    least_hyab: Floats
    mean_hyab: Floats

    def __getitem__(self, index: int | slice) -> PairScore:
        return PairScore(*(getattr(self, field.name)[index] for field in fields(self)))

    def __str__(self) -> str:
        if self.least_de2000.ndim:
            return f"scores of one kind of pair, of {self.least_de2000.size} colourways"
        return f"ΔE00 {self.least_de2000:.1f}, ΔL* {self.least_dl:.1f}, {self.least_ratio:.2f}:1"


@dataclass(frozen=True, repr=False)
class Score(OneLine):
    """Scores of one colourway, or of many: every array has the shape (...) of what was scored.

    CIEDE2000 was fitted to small differences, so ΔL* and the contrast ratio always stand
    beside it. WCAG exempts decoration; its limits are a yardstick here.

    Attributes
    ----------
    ground_single, single_crossing, single_single, crossing_crossing : PairScore
        The first two are of the pairs that share an edge on the cloth.
    cloth : mapping of str to ndarray
        The scores of ``WHOLE_CLOTH`` by name; the first two are ``lightness_runs`` and
        ``evenness``.
    far_colour : ndarray, shape (..., 3)
        Encoded sRGB that the cloth has from afar.
    vision : str
        The colour vision it was scored for.

    Examples
    --------
    >>> from checkcloth import Colourway, score
    >>> scores = score([Colourway("white", ["navy"]), Colourway("white", ["ivory"])])
    >>> scores.ground_single.least_de2000.round(1).tolist()
    [37.6, 3.7]
    """

    ground_single: PairScore
    single_crossing: PairScore
    single_single: PairScore
    crossing_crossing: PairScore
    cloth: Mapping[str, Floats]
    far_colour: Floats
    vision: str = "normal"

    def __len__(self) -> int:
        if self.evenness.ndim == 0:
            raise TypeError("the score of one colourway has no length")
        return len(self.evenness)

    def __getitem__(self, index: int | slice) -> Score:
        return Score(
            **{kind: getattr(self, kind)[index] for kind in KINDS},
            cloth={name: values[index] for name, values in self.cloth.items()},
            far_colour=self.far_colour[index],
            vision=self.vision,
        )

    @property
    def lightness_runs(self) -> NDArray[np.bool_]:
        """Whether lightness runs one way from ground over single to crossing, on every path."""
        return np.asarray(self.cloth["lightness_runs"] == 1)

    @property
    def evenness(self) -> Floats:
        """The smaller lightness step over the larger, 0 to 1.

        The steps are from the ground to the mean single, and from there to the mean crossing.
        """
        return self.cloth["evenness"]

    @property
    def least_edge(self) -> Floats:
        """The least CIEDE2000 over every edge on the cloth."""
        edges = [getattr(self, kind).least_edge for kind in KINDS]
        return np.asarray(np.fmin.reduce(edges))

    @property
    def afar(self) -> Floats:
        """``far_colour``, by the name it first had."""
        return self.far_colour

    def columns(self) -> dict[str, Floats]:
        """Return the numbers by name, in a fixed order, for tables and files."""
        out: dict[str, Floats] = {
            f"{kind}_{name}": getattr(getattr(self, kind), name)
            for kind in KINDS
            for name in MEASURES
        }
        return out | dict(self.cloth)

    def __str__(self) -> str:
        vision = vision_name(self.vision)
        if self.evenness.ndim:
            return f"scores of {self.evenness.size:,} colourways ({vision})"
        edges = "; ".join(f"{PAIR_WORDS[kind]} {getattr(self, kind)}" for kind in KINDS[:2])
        runs = "lightness runs in order" if self.lightness_runs else "lightness out of order"
        return f"{edges}; {runs} ({vision})"


def _pair_score(
    lab: Floats, oklab: Floats, luminance: Floats, pairs: KindPairs, kept: Floats | None, wefts: int
) -> PairScore:
    """Score one kind of pair of tones (3, M, T), (3, M, T) and (M, T), ``wefts`` of them in a row.

    CIEDE2000 of every pair goes to ``kept`` (M, P) where it is given.
    """
    count, number = len(luminance), len(pairs.indices)
    closest = np.full((count, 2), -1, dtype=np.intp)
    # Rows of ``numbers`` are the fields of PairScore in order, but for ``closest``.
    numbers = np.full((11, count), np.nan)
    one, two = pairs.indices.T
    weights, touching = pairs.weights, pairs.touching
    raised = luminance + 0.05
    step = max(1, _BLOCK_PAIRS // max(number, 1))
    for start in range(0, count if number else 0, step):
        part = slice(start, start + step)
        # Channels first, so that every step below runs along a column.
        first, second = lab[:, part].take(one, axis=2), lab[:, part].take(two, axis=2)
        de = ciede2000_columns(first.reshape(3, -1), second.reshape(3, -1)).reshape(-1, number)
        if kept is not None:
            kept[part] = de
        closest[part] = pairs.indices[de.argmin(axis=1)]
        dl = np.abs(first[0] - second[0])
        ratio = raised[part].take(one, axis=1) / raised[part].take(two, axis=1)
        np.maximum(ratio, 1 / ratio, out=ratio)
        apart = oklab[:, part].take(one, axis=2) - oklab[:, part].take(two, axis=2)
        apart *= apart
        ok = np.sqrt(apart.sum(axis=0))
        da, db = first[1] - second[1], first[2] - second[2]
        hyab = dl + np.sqrt(da * da + db * db)  # np.hypot takes six times as long
        numbers[9:, part] = hyab.min(axis=1), hyab @ weights
        numbers[:8, part] = (
            de.min(axis=1), de @ weights, dl.min(axis=1), ratio.min(axis=1),
            dl @ weights, ratio @ weights, ok.min(axis=1), ok @ weights,
        )  # fmt: skip
        if touching.all():
            numbers[8, part] = numbers[0, part]
        elif touching.any():
            numbers[8, part] = de[:, touching].min(axis=1)
    least, mean, dl, ratio, *others = numbers
    places = np.stack(np.divmod(closest, wefts), axis=-1)
    places[closest < 0] = -1
    return PairScore(least, mean, dl, ratio, places, *others)


def score_tones(
    tones: ArrayLike,
    vision: str = "normal",
    severity: float = 1.0,
    *,
    warp_bands: Bands | None = None,
    weft_bands: Bands | None = None,
    kinds: str | Iterable[str] = KINDS,
    own_weft: bool = False,
) -> Score:
    """Score tones of any number of checks with the same bands.

    Parameters
    ----------
    tones : array_like, shape (..., W+1, F+1, 3)
        Encoded sRGB in 0–1.
    vision, severity :
        See :func:`see_as`; the tones are scored as they look to that vision.
    warp_bands, weft_bands : tuple of Band, optional
        Which stripes lie side by side and how wide, each way: :attr:`Check.warp_bands`.
        Those of an even check where left out.
    kinds : str or iterable of str
        Which kinds of pairs are scored, some of ``KINDS`` or ``"edges"``; of the others every
        number is NaN. Crossings with crossings are most of the work.
    own_weft : bool
        Whether the weft has colours of its own, not the warp's: then a crossing is compared with
        its transpose too, since they are not made of the same two stripes.

    Returns
    -------
    Score
        Arrays of shape (...).

    Raises
    ------
    ArgumentError
        For other shapes, values outside 0–1, an unknown vision, bands that have not as many
        stripes as the tones.

    Examples
    --------
    >>> score_tones(Colourway("white", ["black"]).tones).ground_single.least_dl.round(2).item()
    46.61
    """
    bands = warp_bands, weft_bands
    return _score(as_tones(tones), vision, severity, bands, kinds_of(kinds), own_weft)[0]


def score_and_count(
    tones: Floats,
    threshold: float,
    vision: str,
    bands: tuple[Bands | None, Bands | None],
    own_weft: bool = False,
) -> tuple[Score, NDArray[np.intp]]:
    """Return :func:`score_tones` and :func:`distinct_tones` (M,) of tones (M, W+1, F+1, 3).

    Of the latter those that are laid.
    Together they take little longer than the first: most pairs are the same.
    """
    found, counts = _score(as_tones(tones), vision, 1.0, bands, KINDS, own_weft, threshold)
    assert counts is not None
    return found, counts


def least_over_edges(
    tones: Floats, measure: str, bands: tuple[Bands | None, Bands | None], vision: str = "normal"
) -> Floats:
    """Return the least difference over every edge on the cloth, whatever kinds of tones touch.

    Of tones (M, W+1, F+1, 3) by one of ``MEASURE_NAMES``, shape (M,); NaN where none touch.
    """
    one, two = touching_pairs(*as_bands(tones, *bands)).pairs.T
    if not len(one):
        return np.full(len(tones), np.nan)
    seen = see_as(tones, vision).reshape(len(tones), -1, 3)
    return np.asarray(find_measure(measure).compare(seen[:, one], seen[:, two]).min(axis=1))


def _score(
    array: Floats,
    vision: str,
    severity: float,
    given_bands: tuple[Bands | None, Bands | None],
    kinds: tuple[str, ...],
    own_weft: bool,
    threshold: float | None = None,
) -> tuple[Score, NDArray[np.intp] | None]:
    """Score tones, and count those that are distinct where a difference is given for it."""
    *lead, warps, wefts, _ = array.shape
    bands = as_bands(array, *given_bands)
    array = array.reshape(-1, warps, wefts, 3)
    seen = see_as(array, vision, severity)
    light = srgb_to_linear(seen)
    lab, oklab = linear_to_lab(light), linear_to_oklab(light)
    # Of a weft of its own a crossing and its transpose are compared, though they be alike.
    symmetry = NO_SYMMETRY if own_weft else symmetry_of(seen)
    pairs = tone_pairs(*bands, symmetry, own_weft)
    columns = [
        np.ascontiguousarray(space.reshape(len(seen), -1, 3).transpose(2, 0, 1))
        for space in (lab, oklab)
    ]
    luminance = luminance_of_light(light).reshape(len(seen), -1)
    parts = {}
    known = []
    for kind in KINDS:
        scored = pairs[kind] if kind in kinds else NO_PAIRS
        kept = None if threshold is None else np.empty((len(seen), len(scored.indices)))
        part = _pair_score(columns[0], columns[1], luminance, scored, kept, wefts)
        if kept is not None:
            known.append((scored.indices, kept))
        arrays = (getattr(part, field.name) for field in fields(part))
        parts[kind] = PairScore(*(each.reshape((*lead, *each.shape[1:])) for each in arrays))
    whole = SeenTones(seen, lab, oklab, area_shares(*bands), pairs)
    found = Score(
        **parts,
        cloth={score.name: score.work(whole).reshape(lead) for score in WHOLE_CLOTH},
        far_colour=far_colour(array, *bands, vision=vision, severity=severity).reshape(*lead, 3),
        vision=vision,
    )
    if threshold is None:
        return found, None
    counts = count_distinct(columns[0], (warps, wefts), symmetry, threshold, known, whole.shares)
    return found, counts


def score(
    colourways: Colourway | Iterable[Colourway],
    vision: str = "normal",
    severity: float = 1.0,
    *,
    check: Check | None = None,
) -> Score:
    """Score a colourway, or many with equally many stripes.

    Parameters
    ----------
    colourways : Colourway or iterable of Colourway
    vision, severity :
        See :func:`see_as`.
    check : Check, optional
        Whose bands say which tones touch and how much of the cloth each has; an even check
        unless given.

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
    warp, weft = (None, None)
    if check is not None:
        warp, weft = require_type(check, "check", Check).counted_bands
    scored = partial(
        score_tones, vision=vision, severity=severity, warp_bands=warp, weft_bands=weft
    )
    if isinstance(colourways, Colourway):
        return scored(colourways.tones, own_weft=bool(colourways.weft_stripes))
    members = as_tuple(colourways, "colourways", Colourway)
    tones = tones_of(members)
    # Together are scored those with the same pairs, so that each is as it is by itself.
    groups: dict[tuple[bool, Symmetry], list[int]] = {}
    for index, (member, symmetry) in enumerate(zip(members, each_symmetry(tones), strict=True)):
        groups.setdefault((bool(member.weft_stripes), symmetry), []).append(index)
    parts = [scored(tones[rows], own_weft=own) for (own, _), rows in groups.items()]
    return parts[0] if len(parts) == 1 else _in_order(np.concatenate([*groups.values()]), parts)


def _in_order(rows: NDArray[np.intp], parts: Sequence[Any]) -> Any:
    """Return the scores of a list, or some of their fields, of parts that have its ``rows``."""
    first = parts[0]
    if isinstance(first, Score | PairScore):
        names = [field.name for field in fields(first)]
        each = {name: _in_order(rows, [getattr(part, name) for part in parts]) for name in names}
        return type(first)(**each)
    if isinstance(first, Mapping):
        return {name: _in_order(rows, [part[name] for part in parts]) for name in first}
    if not isinstance(first, np.ndarray):
        return first
    out = np.concatenate(parts)
    out[rows] = out.copy()
    return out
