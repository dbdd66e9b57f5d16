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


@dataclass(frozen=True)
class Part:
    """What one cause moves of a cloth."""

    name: str  # and subject: as Cause has them
    subject: str
    moves: Floats  # (S, p), 1 where one of the p free numbers stands for an entry of the state
    choices: int = 1  # how many parts there are of its kind

    @property
    def free(self) -> int:
        """How many numbers it has."""
        return int(self.moves.shape[1])


class MadeCloth:
    """The tones (T canonical indices) that were measured of a cloth, for any state of it."""

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
        """Whether strengths that differ each way are known of the mixing: of a tone value not."""
        return not find_mixing(self.colourway.mixing).uses_stock

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
            how, n = find_mixing(mixing), self._specified.yule_nielsen
            laid = how.lay(
                how.encode(grounds, n),
                how.encode(stripes, n),
                states[:, 0],
                self._specified.warp_share,
                None if wefts is None else how.encode(wefts, n),
                weft_strength=states[:, 1],
            )
            tones = how.decode(laid, n)
        lab = srgb_to_lab(tones[:, warp, weft])
        return lab if self._beyond is None else lab + self._beyond[warp, weft]
