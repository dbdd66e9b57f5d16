"""The drawn parts of a specification page: cloth at true size, rulers, the band plan."""

from __future__ import annotations

import numpy as np

from checkcloth.cloth.check import Check
from checkcloth.cloth.colourway import Colourway
from checkcloth.export.paper.spec_page import MARGIN, QUIET, SpecPage

__all__ = ["draw_band_plan", "draw_cloth", "draw_rulers"]

_POINT = 72 / 25.4
_RULER = 7.4


def _repeat_form(page: SpecPage, name: str, colourway: Colourway, check: Check) -> None:
    """One repeat as a form, each cell drawn on over the edges that later cells cover.

    Cells side by side would let the paper shine through at their edges in viewers that
    smooth; overlapping ones cannot.
    """
    canvas = page.canvas
    plan = check.plan()
    size = check.size.mm * _POINT
    side = len(plan) * size
    canvas.beginForm(name, lowerx=0, lowery=-2 * side, upperx=2 * side, uppery=side)
    for row, weft in enumerate(plan):
        for column, warp in enumerate(plan):
            page.fill(colourway.tones[warp, weft])
            x, top = column * size, side - row * size
            canvas.rect(x, -size, side + size - x, top + size, stroke=0, fill=1)
    canvas.endForm()


def draw_cloth(
    page: SpecPage, name: str, colourway: Colourway, check: Check, x: float, y: float, side: float
) -> None:
    """Draw a square of cloth at true size, its first repeat at the top left.

    Fine checks would be a hundred thousand cells; a repeat is drawn once, as a form, and
    placed, first in a row, then the row again and again.
    """
    canvas = page.canvas
    repeat = check.repeat.mm
    count = int(np.ceil(side / repeat))
    one, row = f"{name}-repeat", f"{name}-row"
    _repeat_form(page, one, colourway, check)
    step = repeat * _POINT
    if count == 1:
        row = one
    else:
        canvas.beginForm(row, lowerx=0, lowery=-step, upperx=(count + 1) * step, uppery=step)
        for place in range(count):
            canvas.saveState()
            canvas.translate(place * step, 0)
            canvas.doForm(one)
            canvas.restoreState()
        canvas.endForm()
    canvas.saveState()
    clip = canvas.beginPath()
    clip.rect(x * _POINT, (page.height - y - side) * _POINT, side * _POINT, side * _POINT)
    canvas.clipPath(clip, stroke=0, fill=0)
    for place in range(count):
        canvas.saveState()
        canvas.translate(x * _POINT, (page.height - y - (place + 1) * repeat) * _POINT)
        canvas.doForm(row)
        canvas.restoreState()
    canvas.restoreState()


def draw_rulers(page: SpecPage, x: float, y: float) -> float:
    """Draw a ruler of 5 cm over one of 2 in; return the y below them."""
    page.stamp("rulers", x, y, lambda x, y: _rulers(page, x, y))
    return y + 2 * _RULER


def _rulers(page: SpecPage, x: float, y: float) -> None:
    for unit, steps, in_unit, label in (("cm", 50, 10, 5), ("in", 32, 16, 2)):
        length = 50.0 if unit == "cm" else 50.8
        lines = [(x, y, x + length, y)]
        for step in range(steps + 1):
            place = x + length * step / steps
            half = in_unit // 2
            tick = 2.2 if step % in_unit == 0 else 1.5 if step % half == 0 else 0.8
            lines.append((place, y, place, y + tick))
        page.lines(lines, grey=QUIET)
        for whole in range(label + 1):
            place = x + length * whole / label
            page.text(place, y + 4.6, str(whole), 5.5, grey=QUIET, align="centre")
        page.text(x + length + 2.5, y + 2.2, f"{label} {unit}", 5.5, grey=QUIET)
        y += _RULER


def _dimension(page: SpecPage, left: float, right: float, y: float, text: str) -> None:
    ends = [(place, y - 1.1, place, y + 1.1) for place in (left, right)]
    page.lines([(left, y, right, y), *ends], grey=QUIET)
    page.text(left, y + 3.2, text, 6, grey=QUIET, room=max(right - left, 120))


def draw_band_plan(page: SpecPage, colourway: Colourway, check: Check, y: float) -> float:
    """Draw the bands of one repeat over the width of the page; return the y below."""
    page.heading(MARGIN, y, "Band plan")
    scale = page.room / check.repeat.mm * 100
    page.text(
        MARGIN + 24, y, f"one repeat, warp and weft alike, drawn at {scale:.3g} %", 6, grey=QUIET
    )
    y += 5.2
    bands = check.bands
    wide = page.room / sum(band.checks for band in bands)
    left = MARGIN
    size = 6.5 if check.stripes <= 12 else 5
    for band in bands:
        width = band.checks * wide
        page.box(left, y, width, 7, colourway.tones[band.stripe, 0])
        left += width
    left = MARGIN
    for band in bands:
        width = band.checks * wide
        label = str(band.stripe) if band.stripe else "G"
        page.text(left + width / 2, y - 1, label, size, align="centre", grey=QUIET)
        left += width
    page.frame(MARGIN, y, page.room, 7)
    first = bands[0].checks * wide
    _dimension(page, MARGIN, MARGIN + page.room, y + 9, "")
    count = sum(band.checks for band in bands)
    _dimension(page, MARGIN, MARGIN + first, y + 9, "")
    text = f"Repeat {check.repeat}: {count} bands, each one check of {check.size} wide"
    page.text(MARGIN, y + 12.6, text, 6.5, grey=QUIET, room=page.room)
    names = [f"G {colourway.ground.name}"]
    names += [f"{place} {stripe.name}" for place, stripe in enumerate(colourway.stripes, start=1)]
    return page.paragraph(MARGIN, y + 16.2, " · ".join(names), 6.5, page.room) + 1.5
