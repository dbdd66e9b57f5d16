"""What the figures of the lesson share: a page, panels of cloth, bars of shares."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import ArrayLike

from checkcloth.arguments import Floats
from checkcloth.cloth.check import Check
from checkcloth.cloth.mixing import find_mixing
from checkcloth.colour.css import hex_of
from checkcloth.colour.spaces import srgb_to_bytes, srgb_to_lab
from checkcloth.export.charts.chart_style import INK, MUTED, PALE
from checkcloth.export.picture.picture import Picture, picture_of

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

__all__ = [
    "INK",
    "MUTED",
    "PALE",
    "bar",
    "cell_of",
    "cloth_of",
    "finished",
    "label",
    "legible",
    "mixing_caption",
    "page",
    "panel",
    "percent",
    "plain",
]

_WIDTH = 6.4  # inches: 614 CSS pixels; in a narrow window it shrinks, and its letters too


def page(height: float, ratios: Sequence[float], *, gap: float = 0.12) -> tuple[Figure, list[Axes]]:
    """Return a figure with one row of panels of these relative widths."""
    from matplotlib.figure import Figure
    from matplotlib.layout_engine import ConstrainedLayoutEngine

    layout = ConstrainedLayoutEngine(wspace=gap, w_pad=0.06, h_pad=0.06)
    drawn = Figure(figsize=(_WIDTH, height), layout=layout, facecolor="none")
    grid = drawn.add_gridspec(1, len(ratios), width_ratios=list(ratios))
    places = range(len(ratios))
    return drawn, [drawn.add_subplot(grid[0, place], facecolor="none") for place in places]


def finished(drawn: Figure, title: str, alt: str) -> Picture:
    """Return a page as a picture on the notebook's paper."""
    return picture_of(drawn, title, alt, dpi=160, paper=True)


def panel(axes: Axes, image: Floats, text: str = "") -> None:
    """Show an image of encoded sRGB in crisp pixels, with a caption under it."""
    # Rounded here: matplotlib would cut to whole numbers, a step darker than the tone's code.
    axes.imshow(srgb_to_bytes(image), interpolation="nearest")
    axes.set_xticks([])
    axes.set_yticks([])
    for side in axes.spines.values():
        side.set(color=PALE, linewidth=0.5)
    if text:
        axes.set_xlabel(text, fontsize=10, color=INK, labelpad=4)


def cell_of(tones: ArrayLike, warp: int, weft: int) -> Floats:
    """Return a crossing with its two stripes and the ground round it, 3 × 3 checks.

    >>> from checkcloth.cloth.mixing import mix_tones
    >>> cell_of(mix_tones([1, 1, 1], [[1, 0, 0], [0, 0, 1]], 0.5), 1, 2).shape
    (3, 3, 3)
    """
    array = np.asarray(tones, dtype=np.float64)
    # image[y, x] = tones[warp[x], weft[y]]
    return np.asarray(array[np.array([0, warp, 0])[None, :], np.array([0, weft, 0])[:, None]])


def cloth_of(tones: ArrayLike, *, checks: int = 0, pixels: int = 1) -> Floats:
    """Return two repeats of cloth each way, or ``checks`` checks, as an image (H, W, 3).

    >>> from checkcloth import Colourway
    >>> cloth_of(Colourway("white", ["navy"]).tones, checks=4).shape
    (4, 4, 3)
    """
    array = np.asarray(tones, dtype=np.float64)
    plan = np.tile(Check("1 cm", array.shape[0] - 1).plan(), 2)
    if checks:
        plan = np.resize(plan, checks)
    plan = np.repeat(plan, pixels)
    return np.asarray(array[plan[None, :], plan[:, None]])


def legible(rgb: ArrayLike) -> str:
    """Black or white, whichever reads better on the colour.

    >>> legible((0, 0, 0.5)), legible((1, 1, 1))
    ('#ffffff', '#000000')
    """
    return "#000000" if float(srgb_to_lab(rgb)[..., 0]) > 55 else "#ffffff"


def label(axes: Axes, x: float, y: float, text: str, rgb: ArrayLike) -> None:
    """Write centred on a colour."""
    axes.text(x, y, text, ha="center", va="center", fontsize=10, color=legible(rgb))


def percent(share: float, digits: int = 0) -> str:
    """Write a share as per cent: ``percent(0.25)`` is ``25 %``.

    >>> percent(0.25)
    '25 %'
    """
    return f"{share * 100:.{digits}f} %"


def bar(axes: Axes, y: float, parts: Sequence[tuple[float, ArrayLike]]) -> None:
    """Draw one bar of shares from 0 to 1, each part in its own colour with its per cent."""
    start = 0.0
    for share, rgb in parts:
        axes.barh(y, share, left=start, height=0.62, color=hex_of(rgb), edgecolor=PALE,
                  linewidth=0.5)  # fmt: skip
        if share >= 0.07:
            label(axes, start + share / 2, y, percent(share), rgb)
        start += share


def mixing_caption(name: str) -> str:
    """The mixing's name in two short lines, an estimate marked as one.

    >>> mixing_caption("pigment")
    'pigment\\n(estimate)'
    """
    mixing = find_mixing(name)
    if mixing.estimate:
        return f"{name}\n(estimate)"
    head, dash, tail = name.rpartition("-") if len(name) > 12 else (name, "", "")
    return f"{head}{dash}\n{tail}"


def plain(axes: Axes) -> None:
    """Take away the frame that says nothing."""
    for side in ("top", "right"):
        axes.spines[side].set_visible(False)
    for side in ("left", "bottom"):
        axes.spines[side].set(color=PALE, linewidth=0.8)
    axes.tick_params(labelsize=9.5, colors=MUTED, length=3)
