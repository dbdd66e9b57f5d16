"""What the fitted causes come to, in words an expert would stand behind."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from checkcloth.arguments import Floats
from checkcloth.colour.difference import delta_e_cmc
from checkcloth.quality.explain import Cause

__all__ = ["explanation_text"]

# Differences in the criterion that count: 6 is "strong" in the table of Kass and Raftery
# 1995 (cited from memory). Half of the shift explained, and 0.3 CMC as nothing to explain,
# are choices of ours.
_STRONG = 6.0
_HALF = 0.5
_NOTHING = 0.3


def explanation_text(causes: Sequence[Cause], wanted: Floats, found: Floats) -> str:
    """Say which single cause explains the shift, that several do, or that none does.

    >>> lab = np.array([[50.0, 0.0, 0.0]])
    >>> explanation_text([], lab, lab)
    'The shift is small, CMC(2:1) 0.00 a tone: there is nothing to explain.'
    """
    size = float(np.sqrt((delta_e_cmc(wanted, found) ** 2).mean()))
    if size < _NOTHING:
        return f"The shift is small, CMC(2:1) {size:.2f} a tone: there is nothing to explain."
    if not causes:
        return "Too few tones were measured to tell one cause from another."
    best = causes[0]
    # Against no cause at all: the same criterion with no free number.
    values = 3 * len(wanted)
    none = values * np.log(size**2 / 3 + 0.01)
    if best.explained < _HALF or none - best.criterion < _STRONG:
        return (
            f"No single cause explains the shift of CMC(2:1) {size:.2f} a tone; the nearest, "
            f"{best.subject}, would account for {max(best.explained, 0) * 100:.0f} %. It looks "
            "like scatter, or several causes together."
        )
    also = [
        cause
        for cause in causes[1:]
        if cause.criterion - best.criterion < _STRONG and cause.explained >= _HALF
    ]
    text = f"One cause alone explains the shift best – {best}."
    if also:
        text += (
            f" These readings cannot tell it from {'; or '.join(str(cause) for cause in also)}."
            " Measure more tones to decide."
        )
    return text
