"""From how far the threads of a woven check merge into the tones that ``woven`` gives."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from checkcloth.arguments import Floats
from checkcloth.cloth.check import Check
from checkcloth.cloth.colourway import Colourway, fitting
from checkcloth.cloth.length import Length
from checkcloth.cloth.threads import Sett
from checkcloth.cloth.tones import area_shares
from checkcloth.colour.scielab import merging_distance
from checkcloth.colour.spaces import linear_to_srgb, srgb_to_linear, xyz_to_shown
from checkcloth.colour.wide import xyz_of
from checkcloth.errors import LengthError

USUAL_SETT = "64 per in"  # of a shirting gingham (common practice), where none is stated


def thread_colours(colourway: Colourway) -> Floats:
    """Return the colours of the yarns, shape (K+1, 3), encoded sRGB; the ground first.

    A yarn for each of :attr:`Colourway.inks`: the warp's stripes, then the weft's own.

    Overlay strength thins a stripe on screen; a thread cannot be thinned, so it has the
    colour of the stripe mixed with the ground, as light, in that strength.
    """
    if any(colourway.known):
        return xyz_to_shown(thread_xyz(colourway))
    ground = srgb_to_linear(colourway.ground.rgb)
    stripes = srgb_to_linear([stripe.rgb for stripe in colourway.inks])
    share = colourway.strength
    mixed = linear_to_srgb(share * stripes + (1 - share) * ground)
    return np.asarray(np.clip(np.concatenate([[colourway.ground.rgb], mixed]), 0, 1))


def thread_xyz(colourway: Colourway) -> Floats:
    """Return :func:`thread_colours` in XYZ (D65, 2°, white Y = 1), nothing mapped.

    >>> thread_xyz(Colourway("white", ["black"], 1.0)).round(3).tolist()
    [[0.95, 1.0, 1.089], [0.0, 0.0, 0.0]]
    """
    ground, *stripes = (xyz_of(colour) for colour in (colourway.ground, *colourway.inks))
    share = colourway.strength
    return np.array([ground, *(share * stripe + (1 - share) * ground for stripe in stripes)])


def merging_distances(colourway: Colourway, sett: Sett | str = USUAL_SETT) -> Floats:
    """Return from how far, in metres, the threads of each tone look like one colour.

    Parameters
    ----------
    colourway : Colourway
    sett : Sett or str
        Ends, and as many picks, of a plain weave.

    Returns
    -------
    ndarray of float64, shape (W+1, F+1)
        By [warp, weft]; 0 where a yarn crosses its own colour. Nearer than the
        greatest, ``woven`` shows tones that the viewer does not see yet.

    Examples
    --------
    >>> merging_distances(Colourway("white", ["black"], 1.0, "woven")).round(2).tolist()
    [[0.0, 1.16], [1.16, 0.0]]
    """
    yarns = thread_colours(colourway)
    warp = yarns[: len(colourway.stripes) + 1]
    weft = yarns[[0, *(index + 1 for index in colourway.weft_inks)]]
    return merging_distance(warp[:, None], weft[None], float(Sett(sett).per_mm))


class Viewing(NamedTuple):
    """Whether a viewer sees tones or threads."""

    metres: float  # from which on every tone is one colour
    warp: int  # and weft: the tone whose threads merge last
    weft: int
    nearer: bool  # whether the viewer stands nearer than that


def viewing(
    colourway: Colourway,
    distance: Length | str = "1 m",
    sett: Sett | str = USUAL_SETT,
    check: Check | None = None,
) -> Viewing:
    """Say from how far the threads of a cloth merge, and whether a viewer stands nearer.

    Parameters
    ----------
    colourway : Colourway
    distance : Length or str
    sett : Sett or str
    check : Check, optional
        Whose bands say which tones the cloth has; all of them unless given.

    Raises
    ------
    LengthError
        For a distance of nothing.

    Examples
    --------
    >>> seen = viewing(Colourway("white", ["black"], 1.0, "woven"), "50 cm")
    >>> round(seen.metres, 2), seen.nearer
    (1.16, True)
    """
    far = Length(distance)
    if not far:
        raise LengthError("distance", "above 0", words=str(far))
    metres = merging_distances(colourway, sett)
    if check is not None:
        metres = np.where(area_shares(*fitting(colourway, check).counted_bands) > 0, metres, 0)
    warp, weft = (int(at) for at in np.unravel_index(int(metres.argmax()), metres.shape))
    return Viewing(float(metres.max()), warp, weft, far.mm / 1000 < float(metres.max()))
