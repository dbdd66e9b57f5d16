"""The plain-weave draft as a picture: threading, tie-up, treadling, and the face of the cloth."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from checkcloth.colour.spaces import srgb_to_bytes
from checkcloth.export.mill.thread_plan import ThreadPlan
from checkcloth.export.picture.lettering import BOLD, PLAIN, QUIET, Words, font_of, letter
from checkcloth.export.picture.picture import Picture
from checkcloth.files.png import rows_png

_MOST = 400
_LINE, _PAPER, _INK = 205, 255, 34
_MARGIN, _HEAD, _FOOT = 36, 96, 30


def _section(plan: ThreadPlan) -> tuple[NDArray[np.intp], NDArray[np.intp]]:
    """Yarns of ends and picks: one repeat and its first band again, where checks begin."""
    out = []
    for way, order in (("warp", plan.warp), ("weft", plan.weft)):
        once = order.repeat_runs
        runs = [*once, once[0]]
        yarns = plan.yarn_of(way)[[run.stripe for run in runs]]
        out.append(np.repeat(yarns, [run.threads for run in runs])[:_MOST])
    return out[0], out[1]


def face(plan: ThreadPlan) -> NDArray[np.uint8]:
    """Return the face of one repeat and a band, a pixel a thread, shape (picks, ends, 3).

    Plain weave: on the first pick the odd ends lie on top, on the next the even ends. At
    most 400 threads each way.
    """
    warp, weft = _section(plan)
    up = (np.arange(len(weft))[:, None] + np.arange(len(warp))) % 2 == 0
    colours = srgb_to_bytes(plan.yarns)
    return np.where(up[..., None], colours[warp][None, :], colours[weft][:, None])


def _grid(cells: NDArray[np.uint8], each: int) -> NDArray[np.uint8]:
    """Cells (H, W, 3) as squares with hairlines round each, shape (H·each + 1, W·each + 1, 3)."""
    big = np.repeat(np.repeat(cells, each, axis=0), each, axis=1)
    if each >= 4:
        big[::each] = _LINE
        big[:, ::each] = _LINE
    return np.pad(big, ((0, 1), (0, 1), (0, 0)), constant_values=_LINE)


def _marks(rows: int, columns: int) -> NDArray[np.uint8]:
    """Which shaft an end hangs on, or which treadle a pick is: by turns."""
    odd = (np.arange(rows)[:, None] + np.arange(columns)) % 2 == 0
    marks = np.where(odd, _INK, _PAPER).astype(np.uint8)
    return np.repeat(marks[..., None], 3, axis=2)


def draft(plan: ThreadPlan) -> Picture:
    """Draw the draft of one repeat and a band.

    Above: the colour of each end and the shaft that it hangs on; beside: the treadle of
    each pick and its colour; in the corner the tie-up; in the middle the cloth's face.
    """
    warp, weft = _section(plan)
    colours = srgb_to_bytes(plan.yarns)
    each = int(np.clip(1400 // max(len(warp), len(weft)), 3, 12))
    # The first shaft is the lowest row, so the first end's mark stands at the bottom.
    parts = {
        (0, 0): colours[warp][None, :].repeat(2, axis=0),
        (1, 0): _marks(2, len(warp))[::-1],
        (1, 1): _marks(2, 2)[::-1],
        (2, 0): face(plan),
        (2, 1): _marks(len(weft), 2),
        (2, 2): colours[weft][:, None].repeat(2, axis=1),
    }
    gap = 2 * each
    lefts = [_MARGIN, _MARGIN + len(warp) * each + gap, _MARGIN + (len(warp) + 2) * each + 2 * gap]
    tops = [_HEAD, _HEAD + 2 * each + gap, _HEAD + 4 * each + 2 * gap]
    width = max(lefts[2] + 2 * each + _MARGIN, 660)
    height = tops[2] + len(weft) * each + _FOOT
    canvas = np.full((height, width, 3), _PAPER, dtype=np.uint8)
    name = plan.colourway.name or "Colourway"
    about = (
        f"Plain weave on two shafts and two treadles; {len(warp)} of {plan.warp.threads} ends, "
        f"{len(weft)} of {plan.weft.threads} picks, from the first band"
    )
    room = width - 2 * _MARGIN
    canvas[: _HEAD - 8] = letter(
        width,
        _HEAD - 8,
        [
            Words(_MARGIN, 24, f"{name}: draft", font_of(BOLD, 19), room),
            Words(_MARGIN, 54, about, font_of(PLAIN, 14), room, QUIET),
        ],
    )
    for (row, column), cells in parts.items():
        drawn = _grid(np.ascontiguousarray(cells), each)
        top, left = tops[row], lefts[column]
        canvas[top : top + drawn.shape[0], left : left + drawn.shape[1]] = drawn
    alt = f"{about}. {plan.colourway}"
    png = rows_png(canvas, texts=[("Title", f"{name}: draft"), ("Description", alt)])
    return Picture(png, f"{name}: draft", alt, width * 2 // 3, height * 2 // 3)
