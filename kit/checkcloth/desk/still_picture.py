"""The wall as a page without a kernel shows it: the first colourways as pictures with words."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape

import numpy as np

from checkcloth.cloth.check import Check
from checkcloth.cloth.colourway import Colourway
from checkcloth.export.picture.raster import cells_of
from checkcloth.files.html import image
from checkcloth.files.png import bands_png

__all__ = ["still_picture"]

_SIDE, _MOST = 96, 24


def still_picture(colourways: Sequence[Colourway]) -> str:
    """Return HTML of the first colourways, each with its words as alternative text.

    >>> still_picture([Colourway("white", ["navy"], name="Quay")]).count("<img alt=")
    1
    """
    pieces = []
    for one in colourways[:_MOST]:
        plan = Check("1 cm", len(one.stripes)).plan()
        across = np.resize(np.repeat(plan, max(1, _SIDE // (2 * len(plan)))), _SIDE)
        png = bands_png(cells_of(one), across, across)
        pieces.append(image(png, f"gingham: {one}", width=_SIDE, height=_SIDE))
    left = len(colourways) - len(pieces)
    words = f"The desk's wall: {len(colourways)} colourways"
    words += f", the first {len(pieces)} shown." if left else "."
    return (
        '<div style="display:flex;flex-wrap:wrap;gap:8px">'
        f"{''.join(pieces)}</div><p>{escape(words)} Run the cell for the desk itself.</p>"
    )
