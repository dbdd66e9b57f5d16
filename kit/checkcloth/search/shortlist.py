"""A shortlist: colourways that are all good, chosen to be as unlike each other as can be."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from html import escape
from itertools import product
from typing import TYPE_CHECKING

import numpy as np

from checkcloth.arguments import Floats, as_whole
from checkcloth.cloth.chosen import Chosen
from checkcloth.cloth.colourway import Colourway, tones_of
from checkcloth.colour.spaces import srgb_to_oklab
from checkcloth.files.html import AS_TYPED
from checkcloth.search.blocks import colourway_of
from checkcloth.search.order import best_order
from checkcloth.search.reason import closest_words

if TYPE_CHECKING:
    from checkcloth.search.result import SearchResult

__all__ = ["Shortlist", "Shortlisted", "farthest_points", "shortlist_of", "tone_places"]

# Thirteen directions of Oklab: the axes, the diagonals of the faces and of the cube of
# coordinates. Their second moments are the same in every direction.
_WAYS = np.array([way for way in product((-1, 0, 1), repeat=3) if way > (0, 0, 0)], dtype=float)
_WAYS /= np.linalg.norm(_WAYS, axis=1, keepdims=True)
_WAYS.flags.writeable = False
# Colourways placed at a time; bounds the memory of their tones.
_PIECE = 256


def tone_places(colourways: Sequence[Colourway]) -> Floats:
    """Place colourways so that the distance of two places says how unlike their tones are.

    The distance is the *sliced Wasserstein distance* in Oklab, times 100: seen along one
    of thirteen fixed directions, how far the tones of one must move to become those of
    the other; then the root mean square over directions, scaled so that two flat colours
    are as far apart as in Oklab (ΔEOK × 100). Ground is matched with ground, singles with
    singles, crossings with crossings, weighted as their area (1/4, 1/2, 1/4). Sorting
    along each direction makes it blind to the order of stripes and to which is warp.

    Parameters
    ----------
    colourways : sequence of Colourway
        With equally many stripes.

    Returns
    -------
    ndarray of float32, shape (M, 13 · (1 + 2N + N²))

    Examples
    --------
    >>> one = Colourway("white", ["navy", "teal"])
    >>> two = one.with_(stripes=["teal", "navy"])
    >>> a, b = tone_places([one, two])
    >>> bool(np.allclose(a, b))
    True
    """
    parts = []
    for start in range(0, len(colourways), _PIECE):
        tones = srgb_to_oklab(tones_of(colourways[start : start + _PIECE]))
        along = np.einsum("mijc,wc->mwij", tones, _WAYS)
        singles = np.concatenate([along[..., 1:, 0], along[..., 0, 1:]], axis=-1)
        crossings = along[..., 1:, 1:].reshape(*along.shape[:2], -1)
        groups = [
            (along[..., :1, 0], 0.25),
            (np.sort(singles, axis=-1), 0.5),
            (np.sort(crossings, axis=-1), 0.25),
        ]
        scaled = [
            group * 100 * np.sqrt(3 * area / (group.shape[-1] * len(_WAYS)))
            for group, area in groups
        ]
        parts.append(np.concatenate(scaled, axis=-1).reshape(len(tones), -1))
    return np.concatenate(parts).astype(np.float32)


def farthest_points(places: Floats, count: int) -> tuple[list[int], list[float]]:
    """Choose places far from one another: the first, then always the one farthest from all.

    Greedy; the least distance it reaches is at least half of the best possible (Gonzalez
    1985, from memory). Ties go to the lower number, so the choice is always the same.

    Parameters
    ----------
    places : ndarray, shape (M, D)
    count : int
        How many to choose; all where there are fewer.

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
    chosen, apart = [0], [float("inf")]
    nearest = np.full(len(places), np.inf)
    while len(chosen) < min(count, len(places)):
        step = places - places[chosen[-1]]
        nearest = np.minimum(nearest, np.sqrt((step * step).sum(axis=1)))
        nearest[chosen] = -1
        place = int(nearest.argmax())
        chosen.append(place)
        apart.append(float(nearest[place]))
    return chosen, apart


@dataclass(frozen=True)
class Shortlisted:
    """One colourway of a shortlist, and why it is there.

    Attributes
    ----------
    colourway : Colourway
    value : float
        Its measure.
    apart : float
        Distance from the nearest above it, see :func:`tone_places` (ΔEOK × 100); infinite
        for the first.
    reason : str
        In words.

    Examples
    --------
    >>> Shortlisted(Colourway("white", ["navy"]), 22.8, 0.0, "the best found").reason
    'the best found'
    """

    colourway: Colourway
    value: float
    apart: float
    reason: str


@dataclass(frozen=True, repr=False)
class Shortlist:
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
    origin: dict[str, str | int | float | bool | None]

    @property
    def colourways(self) -> tuple[Colourway, ...]:
        """The colourways alone."""
        return tuple(member.colourway for member in self.members)

    @property
    def chosen(self) -> tuple[Chosen, ...]:
        """The colourways with the reason as a note, ready for a ``ChosenSet``."""
        return tuple(
            Chosen(member.colourway, member.reason, {**self.origin, "place": place})
            for place, member in enumerate(self.members, 1)
        )

    def __len__(self) -> int:
        return len(self.members)

    def __iter__(self) -> Iterator[Shortlisted]:
        return iter(self.members)

    def __str__(self) -> str:
        noun = "colourway" if len(self) == 1 else "colourways"
        return f"shortlist of {len(self)} {noun}"

    def __repr__(self) -> str:
        return f"<{self}>"

    def _repr_html_(self) -> str:
        pieces = "".join(
            f'<div style="max-width:13em">{member.colourway._repr_html_()}'
            f"<small>{place}. {escape(member.reason)}</small></div>"
            for place, member in enumerate(self.members, 1)
        )
        return (
            f"<div {AS_TYPED}><p>{escape(str(self))}</p>"
            f'<div style="display:flex;flex-wrap:wrap;gap:16px">{pieces}</div></div>'
        )


def shortlist_of(result: SearchResult, count: int = 24) -> Shortlist:
    """Choose a shortlist from the good ones that a search found.

    The first is the best; each next is the one whose tones are farthest from all those
    before (:func:`tone_places`, :func:`farthest_points`). Stripes stand in the order in
    which neighbours are most unlike.

    Parameters
    ----------
    result : SearchResult
    count : int
        1 to 500; fewer come back where fewer were found.

    Examples
    --------
    >>> from checkcloth import Palette
    >>> from checkcloth.search import Wanted, search
    >>> result = search(Wanted(Palette("coast", ["white", "navy", "teal", "gold"]), 2))
    >>> len(shortlist_of(result, 3))
    3
    """
    count = as_whole(count, "count", 1, 500)
    if not result.found:
        return Shortlist((), result.origin)
    pool = [colourway_of(result.wanted, found) for found in result.found]
    chosen, apart = farthest_points(tone_places(pool), count)
    members = []
    for place, distance in zip(chosen, apart, strict=True):
        value = result.found[place][0]
        reason = f"{result.measure_words} {value:.1f} ({closest_words(result, place)}); "
        reason += (
            "the best found"
            if distance == float("inf")
            else f"ΔEOK {distance / 100:.3f} from the nearest above"
        )
        members.append(Shortlisted(best_order(pool[place]), value, distance, reason))
    return Shortlist(tuple(members), {**result.origin, "pool": len(pool)})
