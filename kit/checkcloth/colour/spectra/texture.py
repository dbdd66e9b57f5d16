"""A cloth beside its yarn card: how much light of the yarn's the woven surface gives back.

Yarn wound flat on a card reflects more than the same yarn woven, where light is caught between the
threads. How much is a matter of yarn, sett and finish, and is not foreseen here: it is one
number, from readings of a pair of the user's own, and nothing is made up where there are none.
That one number does for every colour of a cloth is an assumption; :attr:`TextureFactor.left` says
what it leaves of the pair that was read.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from checkcloth.arguments import Floats, as_colours, as_number
from checkcloth.colour.ciede2000 import delta_e_2000
from checkcloth.colour.illuminant import WHITES, as_observer
from checkcloth.colour.spaces import lab_to_xyz, xyz_to_lab
from checkcloth.colour.spectra.lights import as_light, white_of
from checkcloth.errors import ArgumentError

LEAST, MOST = 0.2, 1.5  # beyond these a pair is none of one yarn (a choice of ours)


@dataclass(frozen=True)
class TextureFactor:
    """How much light a cloth reflects of what its yarn card does, 1 being as much.

    Attributes
    ----------
    factor : float
        0.2 to 1.5.
    left : float
        ΔE00 that remains between the pair once the card's reading is multiplied by it; NaN where
        the number was given without readings.

    Raises
    ------
    ArgumentError
        For numbers out of range.

    Examples
    --------
    >>> made = TextureFactor.of_pair([62, 20, 10], [58, 18.5, 9.2])
    >>> print(made)
    the cloth gives back 85 % of its yarn card's light; ΔE00 0.3 is left of the pair that was read
    >>> made.lab([62, 20, 10]).round(0).tolist()
    [58.0, 19.0, 9.0]
    """

    factor: float
    left: float = float("nan")

    def __post_init__(self) -> None:
        object.__setattr__(self, "factor", as_number(self.factor, "factor", LEAST, MOST))
        if not np.isnan(self.left):
            object.__setattr__(self, "left", as_number(self.left, "left", 0, 200))

    @classmethod
    def of_pair(
        cls, card: ArrayLike, cloth: ArrayLike, *, illuminant: str = "D65", observer: int = 2
    ) -> TextureFactor:
        """Return the factor of readings of a yarn card and of a cloth all of that yarn.

        Parameters
        ----------
        card, cloth : array_like, shape (3,) or (K, 3)
            L*a*b* under one light and observer; of several pairs one factor, the least squares
            of their X, Y and Z.
        illuminant, observer :
            What they were read under.

        Raises
        ------
        ArgumentError
            For other shapes, and pairs whose factor is out of range: no pair of one yarn.
        """
        white = _white(illuminant, observer)
        one, two = (
            np.atleast_2d(as_colours(lab, name, unit=False))
            for lab, name in ((card, "card"), (cloth, "cloth"))
        )
        if one.shape != two.shape or one.ndim != 2 or not len(one):
            words = f"shapes {one.shape} and {two.shape}"
            raise ArgumentError(
                "card and cloth", "one reading of cloth a reading of card", words=words
            )
        of_card, of_cloth = (lab_to_xyz(lab, white) / white for lab in (one, two))
        factor = float((of_card * of_cloth).sum() / (of_card**2).sum())
        if not LEAST <= factor <= MOST:
            words = f"{factor * 100:.0f} % of the card's light"
            raise ArgumentError(
                "cloth", f"{LEAST:.0%} to {MOST:.0%} of the card's light", words=words
            )
        left = delta_e_2000(xyz_to_lab(of_card * factor * white, white), two)
        return cls(factor, float(left.mean()))

    def lab(self, lab: ArrayLike, *, illuminant: str = "D65", observer: int = 2) -> Floats:
        """Return L*a*b* (..., 3) of a yarn card as the cloth would read."""
        white = _white(illuminant, observer)
        values = as_colours(lab, "lab", unit=False)
        return xyz_to_lab(lab_to_xyz(values, white) * self.factor, white)

    def reflectance(self, reflectance: ArrayLike) -> Floats:
        """Return reflectances (..., B) of a yarn card as the cloth would have them."""
        return np.asarray(np.asarray(reflectance, dtype=np.float64) * self.factor)

    def __str__(self) -> str:
        known = not np.isnan(self.left)
        left = f"; ΔE00 {self.left:.1f} is left of the pair that was read" if known else ""
        return f"the cloth gives back {self.factor * 100:.0f} % of its yarn card's light{left}"


def _white(illuminant: str, observer: int) -> Floats:
    light, degrees = as_light(illuminant, "illuminant"), as_observer(observer)
    return WHITES[light] if degrees == 2 and light in WHITES else white_of(light, degrees)
