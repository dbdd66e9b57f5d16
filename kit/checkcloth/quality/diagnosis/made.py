"""What cloth would have come out as, had it been made with other numbers than specified.

The numbers of a cloth are one row, its *state*: strength of the warp, of the weft, ground,
inks (a colour for each warp stripe, then the weft's own). A part is what one cause moves of
it: the overlay strength moves two entries as one.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from checkcloth.arguments import Floats
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.mixing import find_mixing
from checkcloth.cloth.tones import stack
from checkcloth.colour.spaces import srgb_to_lab

ONE_WAY = ("warp strength", "weft strength")
# Layouts of which strengths that differ each way are known; the warp lies over the weft in
# the first two, and beside it in the third.
_OVER = ("layered", "multiply")
_BESIDE = "woven"


@dataclass(frozen=True)
class Part:
    """What one cause moves of a cloth.

    Attributes
    ----------
    name, subject : str
        As :class:`Cause` has them.
    moves : ndarray of float64, shape (S, p)
        1 where one of the p free numbers stands for an entry of the state.
    choices : int
        How many parts there are of its kind.
    """

    name: str
    subject: str
    moves: Floats
    choices: int = 1

    @property
    def free(self) -> int:
        """How many numbers it has."""
        return int(self.moves.shape[1])


class MadeCloth:
    """The tones that were measured of a cloth, for any state of it.

    Parameters
    ----------
    colourway : Colourway
        As specified.
    tones : sequence of (warp, weft)
        Canonical indices of the T tones.
    """

    def __init__(self, colourway: Colourway, tones: Sequence[tuple[int, int]]) -> None:
        self.colourway = colourway
        (self._specified,) = stack([colourway])
        inks = np.array([ink.rgb for ink in colourway.inks])
        strength = self._specified.strengths[0]
        self.start: Floats = np.concatenate(
            [[strength, strength], self._specified.grounds[0], inks.ravel()]
        )
        as_named = np.array(tones, dtype=np.intp).reshape(-1, 2).T
        self._indices = (as_named, self._turned(as_named))
        self.parts = self._parts()
        # Causes are worked out on colours as they are shown: what the specified tones have
        # beyond that is added to all of them.
        self._beyond: Floats | None = None
        if any(colourway.known):
            shown = self._specified.with_colours(
                self._specified.grounds, self._specified.stripes, self._specified.weft_stripes
            )
            self._beyond = colourway.tones_lab - srgb_to_lab(shown.tones()[0])

    def _turned(self, index: NDArray[np.intp]) -> NDArray[np.intp]:
        """The other place of each tone that has the same name twice: its warp as its weft."""
        warp, weft = index
        single, crossing = (warp == 0) != (weft == 0), (warp > 0) & (weft > 0)
        symmetry = self.colourway.symmetry
        turned = (single & symmetry.mirrored) | (crossing & symmetry.transposed)
        return np.where(turned, index[::-1], index)

    @property
    def turns(self) -> tuple[bool, ...]:
        """Both readings of names that warp and weft share, or the only one."""
        return (False, True) if (self._indices[0] != self._indices[1]).any() else (False,)

    @property
    def has_one_way(self) -> bool:
        """Whether strengths that differ each way are known of the mixing's layout."""
        return find_mixing(self.colourway.mixing).layout in (*_OVER, _BESIDE)

    def _parts(self) -> dict[str, Part]:
        size = len(self.start)
        count = (size - 5) // 3

        def moves(*groups: Sequence[int]) -> Floats:
            matrix = np.zeros((size, len(groups)))
            for column, entries in enumerate(groups):
                matrix[list(entries), column] = 1
            return matrix

        parts = [Part("strength", "the overlay strength", moves((0, 1)))]
        if self.has_one_way:
            parts += [
                Part("warp strength", "the strength of the warp alone", moves((0,)), 2),
                Part("weft strength", "the strength of the weft alone", moves((1,)), 2),
            ]
        ground = f"the ground, {self.colourway.ground.name}"
        parts.append(Part("ground", ground, moves((2,), (3,), (4,))))
        warps, wefts = len(self.colourway.stripes), self.colourway.weft_inks
        for number, ink in enumerate(self.colourway.inks):
            first = 5 + 3 * number
            entries = moves((first,), (first + 1,), (first + 2,))
            own = number >= warps
            name = f"weft stripe {wefts.index(number) + 1}" if own else f"stripe {number + 1}"
            parts.append(Part(name, f"{name}, {ink.name}", entries, count))
        return {part.name: part for part in parts}

    def lab(self, states: Floats, mixing: str, *, turned: bool = False) -> Floats:
        """Lab (B, T, 3) of the tones that cloths of these states (B, S) have."""
        warp, weft = self._indices[turned]
        grounds, inks = states[:, 2:5], states[:, 5:].reshape(len(states), -1, 3)
        stripes = inks[:, : len(self.colourway.stripes)]
        wefts = inks[:, list(self.colourway.weft_inks)] if self.colourway.weft_stripes else None
        if (states[:, 0] == states[:, 1]).all():
            made = self._specified.with_colours(grounds, stripes, wefts, strengths=states[:, 0])
            tones = made.tones(mixing=mixing)
        else:
            both = (stripes, stripes if wefts is None else wefts)
            tones = self._two_strengths(grounds, both, states[:, 0], states[:, 1], mixing)
        lab = srgb_to_lab(tones[:, warp, weft])
        return lab if self._beyond is None else lab + self._beyond[warp, weft]

    def _two_strengths(
        self,
        grounds: Floats,
        stripes: tuple[Floats, Floats],
        warp: Floats,
        weft: Floats,
        mixing: str,
    ) -> Floats:
        """Tones (B, W+1, F+1, 3) where warp and weft have strengths (B,) of their own."""
        how, n = find_mixing(mixing), self._specified.yule_nielsen
        ground = how.encode(grounds, n)[:, None]
        ends, picks = (how.encode(colours, n) for colours in stripes)
        warp, weft = warp[:, None, None], weft[:, None, None]
        if how.layout == _BESIDE:
            share = how.share(self._specified.warp_share)
            none = np.zeros_like(ground)
            over = np.concatenate([none, warp * share * (ends - ground)], axis=1)
            under = np.concatenate([none, weft * (1 - share) * (picks - ground)], axis=1)
            mixed = ground[:, None] + over[:, :, None] + under[:, None]
        else:

            def lay(top: Floats, below: Floats, strength: Floats) -> Floats:
                if how.layout == "multiply":
                    return np.asarray(below * (1 - strength + strength * top))
                return np.asarray(strength * top + (1 - strength) * below)

            under = np.concatenate([ground, lay(picks, ground, weft)], axis=1)
            over = lay(ends[:, :, None], under[:, None], warp[..., None])
            mixed = np.concatenate([under[:, None], over], axis=1)
        return how.decode(mixed, n)
