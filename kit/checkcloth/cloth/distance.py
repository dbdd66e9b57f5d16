"""From how far away a check stops being seen as a check.

A rule of thumb, not a measurement: a good eye (6/6, 20/20) tells details of one minute of
arc apart in good light and at strong contrast. Weak contrast and dim light fuse sooner.
"""

from __future__ import annotations

import math
from fractions import Fraction

from checkcloth.arguments import as_number
from checkcloth.cloth.length import Length
from checkcloth.errors import LengthError

__all__ = ["arc_minutes", "fusing_distance", "fusing_size"]

_FARTHEST = Length("100000000 mm")


def _of_minutes(minutes: float) -> float:
    """Distance over size of what subtends so many minutes of arc."""
    angle = math.radians(as_number(minutes, "minutes", 0.1, 60) / 60)
    return 1 / (2 * math.tan(angle / 2))


def _positive(length: Length | str, name: str) -> Length:
    found = Length(length)
    if not found or found > _FARTHEST:
        raise LengthError(name, "above 0 and up to 100 km", words=str(found))
    return found


def fusing_distance(size: Length | str, minutes: float = 1.0) -> Length:
    """Return from how far away a check of that size covers one minute of arc.

    Nearer, the checks are seen; farther, they fuse into the cloth's far-off colour
    (:func:`checkcloth.scoring.contrast.afar`). A rule of thumb, about 3,440 times the size.

    Parameters
    ----------
    size : Length or str
        Side of one check.
    minutes : float
        The finest detail that the eye resolves, 0.1 to 60 minutes of arc.

    Returns
    -------
    Length
        In millimetres.

    Raises
    ------
    LengthError, ArgumentError
        For a size of 0 or without a unit, minutes out of range.

    Examples
    --------
    >>> round(fusing_distance("1/4 in").mm / 1000, 1)
    21.8
    """
    near = _positive(size, "size")
    return Length.of_mm(round(near.mm * _of_minutes(minutes), 6))


def fusing_size(distance: Length | str, minutes: float = 1.0) -> Length:
    """Return the check size that just fuses from that far away; see :func:`fusing_distance`.

    >>> round(fusing_size("10000 mm").mm, 2)
    2.91
    """
    far = _positive(distance, "distance")
    return Length.of_mm(round(far.mm / _of_minutes(minutes), 9))


def arc_minutes(size: Length | str, distance: Length | str) -> float:
    """Return the angle that something of that size covers from that far, in minutes of arc.

    >>> round(arc_minutes("1 cm", "10000 mm"), 2)
    3.44
    """
    near, far = _positive(size, "size"), _positive(distance, "distance")
    ratio: Fraction = near / far
    return 60 * math.degrees(2 * math.atan(float(ratio) / 2))
