"""Names beside marks: set where they cover neither one another nor a mark, as far as can be."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import product
from typing import TYPE_CHECKING, Any

import numpy as np

from checkcloth.arguments import Floats

if TYPE_CHECKING:
    from matplotlib.axes import Axes

# Where a name may stand: so far from its mark's edge, in points, and in so many directions.
_RINGS = (2.0, 9.0, 18.0, 30.0, 44.0, 60.0)
_DIRECTIONS = 16
# From this ring on a thin line joins a name with its mark.
_LINE_FROM = 9.0


def place_names(
    axes: Axes,
    points: Floats,
    names: Sequence[str],
    *,
    which: Sequence[int] | None = None,
    radius: float = 5.0,
    **looks: Any,
) -> list[Any]:
    """Write names beside points of axes whose limits are set, and return the annotations.

    Each takes, in order, the free place nearest its mark: all directions on rings round it
    are tried, and the one is taken that overlaps names, marks and the edge least.

    ``points`` (T, 2) are all marks, in data, with a ``radius`` in points; the names are of those in
    ``which``, the first ones unless given. ``looks`` of the text are as matplotlib takes them.
    """
    figure: Any = axes.figure
    figure.figure.draw_without_rendering()  # so that the axes have their size
    pixels = figure.figure.dpi / 72
    centres = axes.transData.transform(points)
    reach = radius * pixels
    marks = np.concatenate([centres - reach, centres + reach], axis=1)
    frame = axes.get_window_extent()
    inside = np.array([frame.x0, frame.y0, frame.x1, frame.y1])
    taken = np.empty((0, 4))
    out = []
    for name, index in zip(names, range(len(names)) if which is None else which, strict=True):
        size = _size(axes, name, looks)
        offsets, costs, rings = _places(centres[index], size, reach, pixels, marks, taken, inside)
        best = int(np.argmin(costs))
        middle = offsets[best]
        box = np.concatenate(
            [centres[index] + middle - size / 2, centres[index] + middle + size / 2]
        )
        taken = np.vstack([taken, box])
        arrow = {"arrowstyle": "-", "linewidth": 0.6, "color": looks.get("color", "#484848"),
                 "shrinkA": 0, "shrinkB": radius}  # fmt: skip
        out.append(
            axes.annotate(
                name, tuple(points[index]), xytext=tuple(middle / pixels),
                textcoords="offset points", ha="center", va="center", parse_math=False,
                arrowprops=arrow if rings[best] >= _LINE_FROM else None, zorder=6, **looks,
            )
        )  # fmt: skip
    return out


def _size(axes: Axes, name: str, looks: dict[str, Any]) -> Floats:
    """Width and height of a name in pixels."""
    text = axes.text(0, 0, name, parse_math=False, **looks)
    extent = text.get_window_extent()
    text.remove()
    return np.array([extent.width, extent.height])


def _places(
    centre: Floats,
    size: Floats,
    reach: float,
    pixels: float,
    marks: Floats,
    taken: Floats,
    inside: Floats,
) -> tuple[Floats, Floats, Floats]:
    """Offsets (K, 2) in pixels of where a name may stand, what each costs, and its ring."""
    turns = np.linspace(0, 2 * np.pi, _DIRECTIONS, endpoint=False)
    pairs = np.array([*product(_RINGS, turns)])
    rings, turns = pairs.T
    along = np.stack([np.cos(turns), np.sin(turns)], axis=1)
    # The box's nearest edge is so far from the mark: half a box farther along either axis.
    offsets = along * (reach + rings[:, None] * pixels) + np.sign(along.round(9)) * size / 2
    low, high = centre + offsets - size / 2, centre + offsets + size / 2
    boxes = np.concatenate([low, high], axis=1)
    area = float(size[0] * size[1])
    cost = 3 * _overlaps(boxes, taken) + 2 * _overlaps(boxes, marks)
    cost += 4 * (area - _overlaps(boxes, inside[None]))
    # A name without a line must not stand as near to another's mark as to its own.
    middles = (marks[:, :2] + marks[:, 2:]) / 2
    others = middles[np.abs(middles - centre).max(axis=1) > 1]
    apart = np.maximum(low[:, None] - others, others - high[:, None]).clip(0)
    nearest = np.sqrt((apart**2).sum(axis=2)).min(axis=1, initial=np.inf)
    doubtful = (rings < _LINE_FROM) & (nearest < reach + (rings + 4) * pixels)
    return offsets, cost / area + 0.004 * rings + 0.3 * doubtful, rings


def _overlaps(boxes: Floats, others: Floats) -> Floats:
    """The area that each of boxes (K, 4) shares with others (M, 4), summed over these."""
    low = np.maximum(boxes[:, None, :2], others[None, :, :2])
    high = np.minimum(boxes[:, None, 2:], others[None, :, 2:])
    return np.asarray(np.clip(high - low, 0, None).prod(axis=2).sum(axis=1))
