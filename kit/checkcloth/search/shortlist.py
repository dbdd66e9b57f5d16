"""A shortlist: colourways that are all good, chosen to be as unlike each other as can be."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from html import escape
from itertools import product
from math import gcd, inf, isinf
from operator import itemgetter

import numpy as np

from checkcloth.arguments import Floats, as_whole
from checkcloth.cloth.bands import Bands, checks_in, even_bands, parts_of_a_check
from checkcloth.cloth.chosen import Chosen
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.tones import area_shares, tones_of
from checkcloth.colour.spaces import srgb_to_lab, srgb_to_oklab
from checkcloth.colour.vision import see_as
from checkcloth.files.html import AS_TYPED, OneLine
from checkcloth.ideas.variants import best_order
from checkcloth.scoring.harmony import two_colour_harmony
from checkcloth.scoring.measures import find_measure
from checkcloth.scoring.pairs import named_pairs
from checkcloth.scoring.vocabulary import PAIR_WORDS, vision_name
from checkcloth.search.blocks import Hit
from checkcloth.search.wanted import Wanted, measure_parts, measured_words

# Thirteen directions of Oklab: the axes, the diagonals of the faces and of the cube of
# coordinates. Their second moments are the same in every direction.
_DIRECTIONS = np.array([v for v in product((-1, 0, 1), repeat=3) if v > (0, 0, 0)], dtype=float)
_DIRECTIONS /= np.linalg.norm(_DIRECTIONS, axis=1, keepdims=True)
_DIRECTIONS.flags.writeable = False
_MOST_PARTS = 4096
# Of the closest pair by these the tones are named, of others the kind alone.
_NAMED = ("de2000", "harmony", "hyab")
# Colourways worked at a time; bounds the memory of their tones.
_PIECE = 256

Origin = dict[str, str | int | float | bool | None]


def _kinds_by_area(warp_bands: Bands, weft_bands: Bands) -> list[tuple[list[int], float]]:
    """Ground, singles and crossings: flat indices of their tones, and their share of the area.

    A tone comes once for each unit of area, so that sorted tones have equal weights.
    """
    shares = area_shares(warp_bands, weft_bands)
    parts = (
        checks_in(warp_bands)
        * checks_in(weft_bands)
        * parts_of_a_check(warp_bands, weft_bands) ** 2
    )
    # Parts of a check can be a great many: beyond, areas are held to a part in so many.
    cells = np.rint(shares * min(float(parts), _MOST_PARTS)).astype(int).ravel()
    cells[(cells == 0) & (shares.ravel() > 0)] = 1
    warp, weft = np.indices(shares.shape).reshape(2, -1)
    kinds = []
    for stripes in range(3):
        tones = np.flatnonzero(((warp > 0).astype(int) + (weft > 0) == stripes) & (cells > 0))
        if len(tones):
            times = cells[tones] // gcd(*cells[tones].tolist())
            share = float(shares.ravel()[tones].sum())
            kinds.append((np.repeat(tones, times).tolist(), share))
    return kinds


def tone_positions(
    colourways: Sequence[Colourway],
    warp_bands: Bands | None = None,
    weft_bands: Bands | None = None,
    *,
    going_on: Callable[[int], object] = int,
) -> Floats:
    """Return points whose distance says how unlike the tones of two colourways are.

    The distance is the *sliced Wasserstein distance* in Oklab, times 100: seen along one
    of thirteen fixed directions, how far the tones of one must move to become those of
    the other; then the root mean square over directions, scaled so that two flat colours
    are as far apart as in Oklab (ΔEOK × 100). Ground is matched with ground, singles with
    singles, crossings with crossings, each weighted as its area on the cloth. Sorting along
    each direction makes it blind to which tone is where, and to which is warp.

    Parameters
    ----------
    colourways : sequence of Colourway
        With equally many stripes.
    warp_bands, weft_bands : tuple of Band, optional
        The cloth's; left out, those of an even check, and the weft as the warp.
    going_on : callable, optional
        Told how many are done, again and again; what it raises ends the work.

    Returns
    -------
    ndarray of float32, shape (M, D)
        D is 13 · (1 + 2N + N²) for an even check of N stripes.

    Examples
    --------
    >>> white = Colourway("white", ["navy", "teal"])
    >>> a, b = tone_positions([white, white.with_(stripes=["teal", "navy"])])
    >>> bool(np.allclose(a, b))
    True
    """
    warp_bands = even_bands(len(colourways[0].stripes)) if warp_bands is None else warp_bands
    kinds = _kinds_by_area(warp_bands, warp_bands if weft_bands is None else weft_bands)
    parts = []
    for start in range(0, len(colourways), _PIECE):
        tones = srgb_to_oklab(tones_of(colourways[start : start + _PIECE]))
        along = np.einsum("mijc,wc->mwij", tones, _DIRECTIONS)
        along = along.reshape(*along.shape[:2], -1)
        scaled = [
            np.sort(along[..., indices], axis=-1)
            * (100 * np.sqrt(3 * area / (len(indices) * len(_DIRECTIONS))))
            for indices, area in kinds
        ]
        parts.append(np.concatenate(scaled, axis=-1).reshape(len(tones), -1))
        going_on(start + len(tones))
    return np.concatenate(parts).astype(np.float32)


def farthest_points(
    points: Floats, count: int, going_on: Callable[[int], object] = int
) -> tuple[list[int], list[float]]:
    """Choose points far from one another: the first, then always the one farthest from all.

    Greedy; the least distance it reaches is at least half of the best possible (Gonzalez
    1985, from memory). Ties go to the lower index, so the choice is always the same.

    Parameters
    ----------
    points : ndarray, shape (M, D)
    count : int
        How many to choose; all where there are fewer.
    going_on : callable, optional
        As in :func:`tone_positions`.

    Returns
    -------
    chosen : list of int
    apart : list of float
        Distance of each from the nearest chosen before it; infinite for the first.

    Examples
    --------
    >>> farthest_points(np.array([[0.0], [1.0], [9.0], [5.0]]), 3)
    ([0, 2, 3], [inf, 9.0, 4.0])
    """
    chosen, apart = [0], [inf]
    nearest = np.full(len(points), np.inf)
    while len(chosen) < min(count, len(points)):
        step = points - points[chosen[-1]]
        nearest = np.minimum(nearest, np.sqrt((step * step).sum(axis=1)))
        nearest[chosen] = -1
        index = int(nearest.argmax())
        chosen.append(index)
        apart.append(float(nearest[index]))
        going_on(len(chosen))
    return chosen, apart


@dataclass(frozen=True)
class Shortlisted:
    """One colourway of a shortlist, and why it is there.

    ``value`` is its measure, ``apart`` the distance from the nearest above it (ΔEOK × 100,
    see :func:`tone_positions`), infinite for the first.
    """

    colourway: Colourway
    value: float
    apart: float
    reason: str


@dataclass(frozen=True, repr=False)
class Shortlist(OneLine):
    """Colourways that are good and different, in the order they were chosen.

    Attributes
    ----------
    members : tuple of Shortlisted
    origin : dict
        How they came about, for the wall and for a saved set.

    Examples
    --------
    >>> print(Shortlist((Shortlisted(Colourway("white", ["navy"]), 22.8, 0.0, "the best"),), {}))
    shortlist of 1 colourway
    """

    members: tuple[Shortlisted, ...]
    origin: Origin

    @property
    def colourways(self) -> tuple[Colourway, ...]:
        """The colourways alone."""
        return tuple(member.colourway for member in self.members)

    @property
    def chosen(self) -> tuple[Chosen, ...]:
        """The colourways with the reason as a note, ready for a ``ChosenSet``."""
        return tuple(
            Chosen(member.colourway, member.reason, {**self.origin, "place": rank})
            for rank, member in enumerate(self.members, 1)
        )

    def __len__(self) -> int:
        return len(self.members)

    def __iter__(self) -> Iterator[Shortlisted]:
        return iter(self.members)

    def __str__(self) -> str:
        noun = "colourway" if len(self) == 1 else "colourways"
        return f"shortlist of {len(self)} {noun}"

    def _repr_html_(self) -> str:
        pieces = "".join(
            f'<div style="max-width:13em">{member.colourway._repr_html_()}'
            f"<small>{rank}. {escape(member.reason)}</small></div>"
            for rank, member in enumerate(self.members, 1)
        )
        return (
            f"<div {AS_TYPED}><p>{escape(str(self))}</p>"
            f'<div style="display:flex;flex-wrap:wrap;gap:16px">{pieces}</div></div>'
        )


def choose_shortlist(wanted: Wanted, found: Sequence[Hit], count: int, origin: Origin) -> Shortlist:
    """Choose a shortlist from the good ones that a search found.

    ``found`` is best first, and so is the shortlist's first; each next is the one whose tones
    are farthest from all those before (:func:`tone_positions`, :func:`farthest_points`).
    Stripes stand in the order in which neighbours are most unlike, or of a search in bands in
    the order that was found.
    """
    count = as_whole(count, "count", 1, 500)
    if not found:
        return Shortlist((), origin)
    pool = [hit.colourway(wanted) for hit in found]
    points = tone_positions(pool, *(wanted.bands or ()))
    members = []
    for index, apart in zip(*farthest_points(points, count), strict=True):
        value = found[index].value
        reason = f"{measured_words(wanted.measure, value)} ({_pair_words(wanted, pool[index])})"
        reason += (
            "; the best found"
            if isinf(apart)
            else f"; ΔEOK {apart / 100:.3f} from the nearest above"
        )
        laid = pool[index] if wanted.order_counts else best_order(pool[index])
        members.append(Shortlisted(laid, value, apart, reason))
    return Shortlist(tuple(members), {**origin, "pool": len(pool)})


def _pair_words(wanted: Wanted, colourway: Colourway) -> str:
    """Name the pair of tones that sets the measure of a colourway."""
    kind, by = measure_parts(wanted.measure)
    pairs = named_pairs(colourway, "edges" if kind == "least_edge" else kind, wanted.check)
    if not len(pairs):
        return "no such pair"
    rows = []
    for vision in wanted.measure_visions:
        seen = see_as(colourway.tones, vision, wanted.severity)
        one, two = seen[*pairs.one.T], seen[*pairs.two.T]
        if by == "harmony":
            apart = two_colour_harmony(srgb_to_lab(one), srgb_to_lab(two))
        else:
            apart = find_measure(by).compare(one, two)
        rows.append((float(apart.min()), int(apart.argmin()), vision))
    _, index, vision = min(rows, key=itemgetter(0))
    words = pairs.names[index] if by in _NAMED else PAIR_WORDS[pairs.kinds[index]]
    return words if vision == "normal" else f"{words}, {vision_name(vision)}"
