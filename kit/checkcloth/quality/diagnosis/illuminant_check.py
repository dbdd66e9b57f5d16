"""Readings under another illuminant than was stated: caught where the colours can show it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple, Protocol

import numpy as np

from checkcloth.arguments import Floats
from checkcloth.colour.difference import delta_e_cmc
from checkcloth.colour.illuminant import WHITES, adapt_lab
from checkcloth.colour.spaces import lab_to_xyz, xyz_to_lab

# An error that another reading of the file at least halves, and by more than readings
# scatter (CMC units), is worth saying. Both are choices of ours.
_HALVES = 0.5
_CLEARLY = 0.4


class IlluminantCheck(NamedTuple):
    """Whether another illuminant than the stated one is likelier, and what to say of it."""

    suspect: bool = False
    cautions: tuple[str, ...] = ()
    settle: str = "the illuminant"


def under_the_other(raw: Floats, stated: str, target: str) -> tuple[str, Floats, Floats]:
    """Return the other illuminant, and readings as they would be had it been mixed up.

    First as if they had been made under the other one; then as if the light had been the stated
    one, but the instrument had divided by the other's white: even greys are then far off,
    yellow or blue. Both Lab under ``target``, shape (T, 3) as ``raw``.
    """
    other = "D65" if stated == "D50" else "D50"
    white = xyz_to_lab(lab_to_xyz(raw, WHITES[other]), WHITES[stated])
    return other, adapt_lab(raw, other, target), adapt_lab(white, stated, target)


def _misfit(specified: Floats, lab: Floats) -> float:
    """Root mean square CMC(2:1) a tone."""
    return float(np.sqrt((delta_e_cmc(specified, lab) ** 2).mean()))


def _is_likelier(other: float, stated: float) -> bool:
    return other <= stated * _HALVES and stated - other >= _CLEARLY


def _suspected(stated: str, likelier: str, other: float, error: float) -> IlluminantCheck:
    caution = (
        f"The readings are said to be under {stated}, but fit far better {likelier}: CMC(2:1) "
        f"{other:.2f} a tone instead of {error:.2f}. Ask how the instrument was set before "
        "anything is corrected."
    )
    return IlluminantCheck(True, (caution,))


def check_illuminant(raw: Floats, stated: str, specified: Floats) -> IlluminantCheck:
    """Find out whether readings fit the specification far better under another assumption.

    Parameters
    ----------
    raw : ndarray, shape (T, 3)
        Mean Lab readings as they stand in the file.
    stated : str
        ``"D50"`` or ``"D65"``.
    specified : ndarray, shape (T, 3)
        Lab (D65, 2°) of the specification.
    """

    as_stated = adapt_lab(raw, stated, "D65")
    other, as_other, other_white = under_the_other(raw, stated, "D65")
    error = _misfit(specified, as_stated)
    other_errors = {
        f"as if they had been measured under {other}": _misfit(specified, as_other),
        f"as if Lab had been worked out with the white of {other}": _misfit(specified, other_white),
    }
    best = min(other_errors, key=lambda text: other_errors[text])
    if _is_likelier(other_errors[best], error):
        return _suspected(stated, best, other_errors[best], error)
    if float(delta_e_cmc(as_stated, as_other).max()) < _CLEARLY:
        caution = (
            "The tones are too near grey for a mix-up of D50 and D65 to show; it cannot be "
            "ruled out from these readings."
        )
        return IlluminantCheck(False, (caution,))
    return IlluminantCheck()


class _Other(Protocol):
    """Readings as they would stand, had the instrument been set otherwise; see ``misread.py``."""

    @property
    def says(self) -> str: ...
    @property
    def found(self) -> Floats: ...


def check_conditions(
    others: Sequence[_Other], stated: str, specified: Floats, found: Floats
) -> IlluminantCheck:
    """Find out whether readings fit a specification far better as if set otherwise.

    Parameters
    ----------
    others : sequence of Misreading
    stated : str
        Light and observer, as ``F11/10°``.
    specified, found : ndarray, shape (T, 3)
        Lab under the conditions that are stated.
    """
    error = _misfit(specified, found)
    best = min(others, key=lambda other: _misfit(specified, other.found))
    least = _misfit(specified, best.found)
    if _is_likelier(least, error):
        suspected = _suspected(stated, f"as if {best.says}", least, error)
        return suspected._replace(settle="light and observer")
    return IlluminantCheck()
