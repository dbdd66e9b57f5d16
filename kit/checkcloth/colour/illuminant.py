"""Lab readings from one illuminant to the other, as far as that can be done without spectra."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from checkcloth.arguments import Floats, as_colours
from checkcloth.colour.spaces import D65_WHITE, lab_to_xyz, xyz_to_lab
from checkcloth.errors import ArgumentError

# x, y of D50 as CSS Color 4 states it (0.3457, 0.3585), with Y = 1; 2° observer.
_D50_WHITE = np.array([0.3457 / 0.3585, 1.0, (1 - 0.3457 - 0.3585) / 0.3585])
WHITES = {"D50": _D50_WHITE, "D65": D65_WHITE}
ILLUMINANTS = tuple(WHITES)

# XYZ to the cone-like responses of the Bradford transform, as the ICC profile
# specification (ICC.1, annex E) and CSS Color 4's conversion between D50 and D65 use it.
_BRADFORD = np.array(
    [[0.8951, 0.2664, -0.1614], [-0.7502, 1.7135, 0.0367], [0.0389, -0.0685, 1.0296]]
)


def as_illuminant(value: object, name: str = "illuminant") -> str:
    """Return ``"D50"`` or ``"D65"``."""
    text = str(value).strip().upper()
    if text not in WHITES:
        raise ArgumentError(name, "D50 or D65", value)
    return text


def as_observer(value: object, name: str = "observer") -> int:
    """Return 2 or 10, the degrees of the standard observer; ``"10°"`` will do."""
    text = str(value).strip().removesuffix("°").removesuffix("deg").strip()
    if text not in ("2", "10"):
        raise ArgumentError(name, "2 or 10 (degrees)", value)
    return int(text)


def adapt_xyz(xyz: ArrayLike, source: str, target: str) -> Floats:
    """Bring XYZ (..., 3), white Y = 1, from one illuminant to the other, 2°, by Bradford.

    >>> adapt_xyz(WHITES["D50"], "D50", "D65").round(4).tolist()  # white to white
    [0.9505, 1.0, 1.0891]
    """
    one, two = as_illuminant(source, "source"), as_illuminant(target, "target")
    values = as_colours(xyz, "xyz", unit=False)
    if one == two:
        return values.copy()
    return np.asarray(values @ between_whites(WHITES[one], WHITES[two]).T)


def between_whites(one: ArrayLike, two: ArrayLike) -> Floats:
    """Return the matrix (3, 3) that brings XYZ from one white (3,) to another, by Bradford."""
    gain = (_BRADFORD @ np.asarray(two)) / (_BRADFORD @ np.asarray(one))
    return np.asarray(np.linalg.inv(_BRADFORD) @ (gain[:, None] * _BRADFORD))


def adapt_lab(lab: ArrayLike, source: str, target: str) -> Floats:
    """Bring L*a*b* (..., 3) under one illuminant to the other, 2° observer, by Bradford.

    An estimate of what would be measured: two cloths that match under one light may not
    under the other, and only spectra tell. Greys stay as they are; vivid colours move by
    several units.

    Parameters
    ----------
    lab : array_like, shape (..., 3)
    source, target : str
        ``"D50"`` or ``"D65"``.

    Raises
    ------
    ArgumentError
        For another illuminant, or values that are no colours.

    Examples
    --------
    >>> (adapt_lab([50, 0, 0], "D50", "D65").round(6) + 0.0).tolist()  # greys stay
    [50.0, 0.0, 0.0]
    """
    one, two = as_illuminant(source, "source"), as_illuminant(target, "target")
    values = as_colours(lab, "lab", unit=False)
    if one == two:
        return values.copy()
    return xyz_to_lab(adapt_xyz(lab_to_xyz(values, WHITES[one]), one, two), WHITES[two])
