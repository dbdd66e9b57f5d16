"""How much a colourway gains from another ground."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from checkcloth.cloth.check import Check
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.named_colour import NamedColour
from checkcloth.cloth.palette import Palette
from checkcloth.errors import ArgumentError
from checkcloth.ideas.variants import each_ground
from checkcloth.scoring.contrast import score


@dataclass(frozen=True, repr=False)
class GroundGain:
    """What one ground does for a colourway.

    Attributes
    ----------
    colourway : Colourway
        On that ground.
    least_edge, least_dl : float
        Least CIEDE2000 and least |ΔL*| over every edge.
    gain, gain_dl : float
        The same, less what the colourway had on its own ground.
    """

    colourway: Colourway
    least_edge: float
    least_dl: float
    gain: float
    gain_dl: float

    def __str__(self) -> str:
        return (
            f"{self.colourway.ground}: least edge ΔE00 {self.least_edge:.1f} ({self.gain:+.1f}), "
            f"ΔL* {self.least_dl:.1f} ({self.gain_dl:+.1f})"
        )

    def __repr__(self) -> str:
        return f"<{self}>"


def ground_gains(
    colourway: Colourway,
    grounds: Palette | Iterable[NamedColour | str],
    vision: str = "normal",
    *,
    check: Check | None = None,
) -> list[GroundGain]:
    """Put a colourway on other grounds and say what each gains, the best first.

    Parameters
    ----------
    colourway : Colourway
    grounds : Palette or iterable of colours
        A palette gives its grounds.
    vision : str
        One of ``VISIONS``.
    check : Check, optional
        Whose bands say what touches, and how much; an even check unless given.

    Raises
    ------
    ArgumentError
        For no grounds.

    Examples
    --------
    >>> ground_gains(Colourway("silver", ["navy"]), ["white"])
    [<white #ffffff: least edge ΔE00 22.8 (+7.2), ΔL* 23.4 (+6.0)>]
    """
    members = each_ground(colourway, grounds)
    if not members:
        raise ArgumentError("grounds", "at least one colour", words="none")
    scores = score([colourway, *members], vision, check=check)
    edges = np.asarray(scores.least_edge)
    lightness = np.fmin(scores.ground_single.least_dl, scores.single_crossing.least_dl)
    gains = [
        GroundGain(member, float(edge), float(dl), float(edge - edges[0]), float(dl - lightness[0]))
        for member, edge, dl in zip(members, edges[1:], lightness[1:], strict=True)
    ]
    return sorted(gains, key=lambda gain: -gain.gain)
