"""The same again, but: a colourway with fewer stripes, that still belongs to it."""

from __future__ import annotations

from itertools import combinations
from math import comb

import numpy as np

from checkcloth.arguments import as_whole, require_type
from checkcloth.cloth.colourway import Colourway
from checkcloth.colour.ciede2000 import delta_e_2000
from checkcloth.colour.spaces import srgb_to_lab

__all__ = ["fewer_stripes"]

# Choices of stripes that are all looked at; beyond, colours are taken one by one.
_MOST_CHOICES = 20_000


def fewer_stripes(colourway: Colourway, stripes: int) -> Colourway:
    """Return the colourway with fewer of its stripes, those that stand furthest apart.

    The stripes keep their order. Of all choices the one is taken whose two nearest colours,
    the ground among them, are furthest apart by CIEDE2000; of equals the first. Where there
    are over 20,000 choices, colours are taken one by one, each as far as can be from those
    taken before it (farthest-point choice, at least half as good: T. F. Gonzalez, *Theoretical
    Computer Science* 38:293–306, 1985, cited from memory).

    Parameters
    ----------
    colourway : Colourway
    stripes : int
        1 to as many as it has; all of them return it as it is.

    Raises
    ------
    ArgumentError
        For another count.

    Examples
    --------
    >>> cloth = Colourway("white", ["navy", "midnightblue", "gold"])
    >>> [stripe.name for stripe in fewer_stripes(cloth, 2).stripes]
    ['navy', 'gold']
    """
    colourway = require_type(colourway, "colourway", Colourway)
    count = len(colourway.stripes)
    wanted = as_whole(stripes, "stripes", 1, count)
    if wanted == count:
        return colourway
    colours = np.array([colourway.ground.rgb, *(stripe.rgb for stripe in colourway.stripes)])
    lab = srgb_to_lab(colours)
    apart = delta_e_2000(lab[:, None], lab[None, :])
    np.fill_diagonal(apart, np.inf)
    choose = _best if comb(count, wanted) <= _MOST_CHOICES else _farthest
    chosen = choose(apart, wanted)
    return colourway.with_(stripes=[colourway.stripes[index - 1] for index in chosen], name="")


def _best(apart: np.ndarray, wanted: int) -> list[int]:
    """Indices 1… of the choice whose least difference, ground (0) included, is greatest."""
    choices = np.array(list(combinations(range(1, len(apart)), wanted)))
    with_ground = np.concatenate([np.zeros((len(choices), 1), dtype=int), choices], axis=1)
    least = apart[with_ground[:, :, None], with_ground[:, None, :]].min(axis=(1, 2))
    return [int(index) for index in choices[np.argmax(least)]]


def _farthest(apart: np.ndarray, wanted: int) -> list[int]:
    """Indices 1… by farthest-point choice, begun at the ground."""
    chosen = [0]
    while len(chosen) <= wanted:
        nearest = apart[:, chosen].min(axis=1)
        nearest[chosen] = -np.inf
        chosen.append(int(np.argmax(nearest)))
    return sorted(chosen[1:])
