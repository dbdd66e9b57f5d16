"""The direction of a colour difference in words: lighter, duller, redder."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from checkcloth.arguments import Floats, as_colours
from checkcloth.quality.tolerance import cmc_weights

__all__ = ["differences", "direction_words"]

# Chroma under which a colour is spoken of as a grey, and the size in CMC units from which a
# part is worth a word: both choices of ours.
_GREY = 4.0
_WORTH = 0.2

# A hue moves towards the next of these. What is nearer than 30° (a choice of ours) is passed
# over, since a red is not called redder: reds go yellower or bluer, yellows greener or
# redder (common practice).
_AXES = {0: "redder", 90: "yellower", 180: "greener", 270: "bluer"}
_OWN = 30.0


def differences(standard: ArrayLike, sample: ArrayLike) -> Floats:
    """Return ΔL*, ΔC*, ΔH* of samples against standards, each (..., 3).

    ΔH* is positive where the hue angle grows; the three add up, in squares, to ΔE*ab
    (CIE 15).

    >>> differences([50, 30, 0], [52, 0, 30]).round(3).tolist()
    [2.0, 0.0, 42.426]
    """
    one = as_colours(standard, "standard", unit=False)
    two = as_colours(sample, "sample", unit=False)
    chroma1, chroma2 = np.hypot(one[..., 1], one[..., 2]), np.hypot(two[..., 1], two[..., 2])
    along = one[..., 1] * two[..., 1] + one[..., 2] * two[..., 2]
    across = one[..., 1] * two[..., 2] - one[..., 2] * two[..., 1]
    dh = np.copysign(np.sqrt(np.maximum(2 * (chroma1 * chroma2 - along), 0)), across)
    return np.stack([two[..., 0] - one[..., 0], chroma2 - chroma1, dh], axis=-1)


def direction_words(standard: ArrayLike, sample: ArrayLike) -> str:
    """Say how one sample (3,) departs from its standard (3,), the largest part first.

    Parts are weighed as CMC(2:1) weighs them, and named from 0.2 units. Of a near-grey
    standard (C* under 4) the hue has no meaning, and a* and b* are named instead.

    Examples
    --------
    >>> direction_words([50, 30, 0], [52, 26, 0])
    'duller, lighter'
    >>> direction_words([50, 30, 0], [50, 29.8, 3.5])
    'yellower'
    >>> direction_words([50, 30, 0], [50, 30, 0.1])
    'on standard'
    """
    one = as_colours(standard, "standard", unit=False)
    two = as_colours(sample, "sample", unit=False)
    weights = cmc_weights(one)
    dl, dc, dh = differences(one, two).tolist()
    parts = [(abs(dl) / float(weights[0]), "lighter" if dl > 0 else "darker")]
    if float(np.hypot(one[1], one[2])) < _GREY:
        da, db = (two - one)[1:].tolist()
        parts.append((abs(da) / float(weights[1]), "redder" if da > 0 else "greener"))
        parts.append((abs(db) / float(weights[1]), "yellower" if db > 0 else "bluer"))
    else:
        parts.append((abs(dc) / float(weights[1]), "more vivid" if dc > 0 else "duller"))
        parts.append((abs(dh) / float(weights[2]), _hue_word(one, up=dh > 0)))
    worth = sorted((part for part in parts if part[0] >= _WORTH), reverse=True)
    return ", ".join(word for _, word in worth) or "on standard"


def _hue_word(standard: Floats, *, up: bool) -> str:
    hue = float(np.degrees(np.arctan2(standard[2], standard[1])))
    ahead = {axis: ((axis - hue) if up else (hue - axis)) % 360 for axis in _AXES}
    return _AXES[min((axis for axis in ahead if ahead[axis] >= _OWN), key=ahead.__getitem__)]
