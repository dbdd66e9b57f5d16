"""Readings under another illuminant than was stated: caught where the colours can show it."""

from __future__ import annotations

import numpy as np

from checkcloth.arguments import Floats
from checkcloth.colour.difference import delta_e_cmc
from checkcloth.colour.illuminant import WHITES, adapt_lab
from checkcloth.colour.spaces import lab_to_xyz, xyz_to_lab

__all__ = ["mix_up_cautions"]

# An error that another reading of the file at least halves, and by more than readings
# scatter (CMC units), is worth saying. Both are choices of ours.
_HALVES = 0.5
_CLEARLY = 0.4


def mix_up_cautions(raw: Floats, stated: str, specified: Floats) -> list[str]:
    """Say so where readings fit the specification far better under another assumption.

    Parameters
    ----------
    raw : ndarray, shape (T, 3)
        Mean Lab readings as they stand in the file.
    stated : str
        ``"D50"`` or ``"D65"``.
    specified : ndarray, shape (T, 3)
        Lab (D65, 2°) of the specification.

    Examples
    --------
    >>> wanted = np.array([[50.0, 20, 10], [80.0, -10, 30]])
    >>> mix_up_cautions(wanted, "D65", wanted)
    []
    """
    other = "D65" if stated == "D50" else "D50"

    def misfit(lab: Floats) -> float:
        """Root mean square CMC(2:1) a tone."""
        return float(np.sqrt((delta_e_cmc(specified, lab) ** 2).mean()))

    here = misfit(adapt_lab(raw, stated, "D65"))
    # The light was the stated one, but the instrument divided by the other's white: even
    # greys are then far off, yellow or blue.
    wrong_white = xyz_to_lab(lab_to_xyz(raw, WHITES[other]), WHITES[stated])
    chances = {
        f"as if they had been measured under {other}": misfit(adapt_lab(raw, other, "D65")),
        f"as if Lab had been worked out with the white of {other}": misfit(
            adapt_lab(wrong_white, stated, "D65")
        ),
    }
    best = min(chances, key=lambda text: chances[text])
    if chances[best] <= here * _HALVES and here - chances[best] >= _CLEARLY:
        return [
            f"The readings are said to be under {stated}, but fit far better {best}: CMC(2:1) "
            f"{chances[best]:.2f} a tone instead of {here:.2f}. Ask how the instrument was set "
            "before anything is corrected."
        ]
    moved = float(delta_e_cmc(adapt_lab(raw, stated, "D65"), adapt_lab(raw, other, "D65")).max())
    if moved < _CLEARLY:
        return [
            "The tones are too near grey for a mix-up of D50 and D65 to show; it cannot be "
            "ruled out from these readings."
        ]
    return []
