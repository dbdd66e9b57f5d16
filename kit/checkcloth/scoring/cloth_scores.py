"""Scores of the cloth as a whole: one number each, where other scores compare pairs of tones.

To add one, write a function and add a line to ``WHOLE_CLOTH``: score tables and files, the
desk's sorting and hiding, and the analyst's table all read their columns from there.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from checkcloth.arguments import Floats

__all__ = ["WHOLE_CLOTH", "ClothScore", "SeenTones"]


@dataclass(frozen=True)
class SeenTones:
    """The tones of M checks as one colour vision sees them, ready to be scored.

    Attributes
    ----------
    rgb, lab, oklab : ndarray of float64, shape (M, N+1, N+1, 3)
        Encoded sRGB in 0–1, L*a*b* (D65, 2°) and Oklab. As in all tones, index 0 is the
        ground and the first tone axis the warp.

    Examples
    --------
    >>> from checkcloth.colour.spaces import srgb_to_lab, srgb_to_oklab
    >>> rgb = np.ones((1, 2, 2, 3))
    >>> SeenTones(rgb, srgb_to_lab(rgb), srgb_to_oklab(rgb)).lab[0, 0, 0, 0].round(6).item()
    100.0
    """

    rgb: Floats
    lab: Floats
    oklab: Floats


@dataclass(frozen=True)
class ClothScore:
    """A score of the cloth as a whole, and how it is shown.

    Attributes
    ----------
    name : str
        Its column in tables and files.
    words : str
        For people.
    work : callable
        From :class:`SeenTones` of M checks to numbers (M,); 1 and 0 for yes and no.
    digits : int
        Decimals that tell two colourways apart.
    yes_no : bool
        Whether it is shown as yes or no.

    Examples
    --------
    >>> [one.name for one in WHOLE_CLOTH]
    ['lightness_runs', 'evenness']
    """

    name: str
    words: str
    work: Callable[[SeenTones], Floats]
    digits: int = 2
    yes_no: bool = False


def _lightness_runs(seen: SeenTones) -> Floats:
    """Whether L* runs one way on every path ground → single → crossing."""
    lightness = seen.lab[..., 0]
    ground = lightness[:, 0, 0]
    warp, weft, crossing = lightness[:, 1:, 0], lightness[:, 0, 1:], lightness[:, 1:, 1:]
    first = np.concatenate([warp, weft], axis=1) - ground[:, None]
    second = np.concatenate(
        [crossing - warp[:, :, None], crossing - weft[:, None, :]], axis=1
    ).reshape(len(lightness), -1)
    steps = np.concatenate([first, second], axis=1)
    return np.logical_or((steps > 0).all(axis=1), (steps < 0).all(axis=1)).astype(np.float64)


def _evenness(seen: SeenTones) -> Floats:
    """The smaller lightness step over the larger: ground, mean single, mean crossing."""
    lightness = seen.lab[..., 0]
    single = (lightness[:, 1:, 0].mean(axis=1) + lightness[:, 0, 1:].mean(axis=1)) / 2
    one = np.abs(single - lightness[:, 0, 0])
    two = np.abs(lightness[:, 1:, 1:].mean(axis=(1, 2)) - single)
    large, small = np.maximum(one, two), np.minimum(one, two)
    even: Floats = np.zeros_like(large)
    np.divide(small, large, out=even, where=large > 0)
    return even


WHOLE_CLOTH = (
    ClothScore("lightness_runs", "lightness runs in order", _lightness_runs, yes_no=True),
    ClothScore("evenness", "evenness of the lightness steps", _evenness),
)
