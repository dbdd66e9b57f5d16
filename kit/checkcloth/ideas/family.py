"""The same again, but: with fewer stripes, as a stripe, as a plain; all of one family."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import combinations
from math import comb
from typing import NamedTuple

import numpy as np

from checkcloth.arguments import as_whole, require_type
from checkcloth.cloth.check import Check
from checkcloth.cloth.colourway import Colourway, fitting
from checkcloth.cloth.named_colour import NamedColour
from checkcloth.colour.ciede2000 import delta_e_2000
from checkcloth.colour.spaces import srgb_to_lab

# The counts of stripes that a family usually has (common practice).
FAMILY_COUNTS = (6, 3, 2)

# A tone that differs from another by less than half a code of eight bits is not seen to.
_UNSEEN = 0.5 / 255

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


class FamilyMember(NamedTuple):
    """One cloth of a family: what it is, its colourway, and the check that it is laid in."""

    kind: str
    colourway: Colourway
    check: Check


def family_of(colourway: Colourway, check: Check) -> list[FamilyMember]:
    """Return a check with its coordinates: fewer stripes, a stripe, and plains.

    The check itself; the same with 6, 3 and 2 stripes, those that stand furthest apart
    (:func:`fewer_stripes`), in even bands; the warp alone as a stripe; the ground as a plain,
    and the first colour woven or printed both ways.

    >>> cloth = Colourway("white", ["navy", "teal", "gold", "coral"])
    >>> [member.kind for member in family_of(cloth, Check("1/4 in", 4))]
    ['check', '3 stripes', '2 stripes', 'stripe', 'plain white', 'plain navy']
    """
    stripes = fitting(colourway, check).stripes
    members = [FamilyMember("check", colourway, check)]
    alike = colourway.with_(weft_stripes=())
    for count in FAMILY_COUNTS:
        if count < stripes:
            fewer = fewer_stripes(alike, count)
            members.append(FamilyMember(f"{count} stripes", fewer, Check(check.size, count)))
    plain = [(0, 1)]
    members.append(FamilyMember("stripe", colourway, check.with_bands(weft=plain)))
    ground, first = colourway.ground.name, colourway.stripes[0].name
    solid = Check(check.size, stripes, warp=[(1, 1)])
    members += [
        FamilyMember(f"plain {ground}", colourway, check.with_bands(plain, plain)),
        FamilyMember(f"plain {first}", alike, solid),
    ]
    return members


def family_colourways(colourway: Colourway) -> list[tuple[str, Colourway]]:
    """Return the coordinates of a colourway as colourways alone, for a set that has one check.

    As :func:`family_of`, without the check itself, and with colours in place of bands of their
    own: a stripe has a weft in the colour of the ground (printed by ``multiply`` in white, which
    leaves the warp as it is), a plain is one colour throughout. What a mixing cannot show so is
    left out. Each comes with what it is, and has no name.

    >>> cloth = Colourway("white", ["navy", "teal", "gold", "coral"])
    >>> for kind, member in family_colourways(cloth)[-3:]:
    ...     print(f"{kind}: {member}")
    stripe: navy, teal, gold, coral on white, weft white, white, white, white, 50 %, source-over
    plain white: white on white, 50 %, source-over
    plain navy: navy over navy on navy over navy, 50 %, source-over
    """
    source = require_type(colourway, "colourway", Colourway).with_(name="")
    alike = source.with_(weft_stripes=())
    count = len(source.stripes)
    members = [
        (f"{fewer} stripes", fewer_stripes(alike, fewer))
        for fewer in FAMILY_COUNTS
        if fewer < count
    ]
    wefts = len(source.weft_colours)
    white = NamedColour.of("white")
    own_wefts = (source.with_(weft_stripes=[weft] * wefts) for weft in (source.ground, white))
    stripe = _as_ground(own_wefts, 1)
    if stripe is not None:
        members.append(("stripe", stripe))
    red, green, blue = (float(channel) for channel in alike.tones[1, 1])
    solid = NamedColour(alike.tone_name(1, 1), (red, green, blue))
    for name, colour in ((source.ground.name, source.ground), (source.stripes[0].name, solid)):
        over = alike.with_(ground=colour)
        plain = _as_ground((over.with_(stripes=[each]) for each in (colour, white)), 2)
        if plain is not None:
            members.append((f"plain {name}", plain))
    return members


def _as_ground(several: Iterable[Colourway], ways: int) -> Colourway | None:
    """The first of several whose stripes are not seen.

    ``ways``: 1, the weft's over the warp's; 2, both over the ground.
    """
    for made in several:
        tones = made.tones
        kept = tones[:, :1] if ways == 1 else tones[:1, :1]
        if np.abs(tones - kept).max() < _UNSEEN:
            return made
    return None


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
