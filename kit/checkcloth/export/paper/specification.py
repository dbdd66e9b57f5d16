"""The specification sheet: a PDF with a page for each colourway, for whoever makes the cloth."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import Any, BinaryIO, NamedTuple

import numpy as np

from checkcloth.arguments import Floats, as_path
from checkcloth.cloth.bands import Bands, checks_in, write_order
from checkcloth.cloth.check import Check
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.mixing import find_mixing
from checkcloth.cloth.spectral import inconstancy
from checkcloth.cloth.tones import Tone, area_shares
from checkcloth.colour.css import hex_of
from checkcloth.colour.print_condition import PrintCondition
from checkcloth.errors import ArgumentError
from checkcloth.export.data.tables import scores_of
from checkcloth.export.members import Colourways, as_set, label_of, names_in, stripes_on_ground
from checkcloth.export.paper.page import INK, MARGIN, POINT, QUIET, Page, document, with_minus
from checkcloth.export.picture.lettering import lacking, wrapped
from checkcloth.export.print.inked import no_curves_words, plates_by, without_curves
from checkcloth.export.print.plates import plates_of
from checkcloth.export.print.press import Press
from checkcloth.export.print.proof import Proof, soft_proof
from checkcloth.files.whole import write_whole
from checkcloth.scoring.contrast import Score
from checkcloth.scoring.vocabulary import MEASURES, PAIR_WORDS, estimate_words, spectra_words

_CAUTIONS = (
    "A screen and an office printer are no proof. Agree a strike-off on the real cloth, and a "
    "tolerance, before ordering. Colours outside the gamut of the press or the dye will move. "
    "Print this page at 100 %, without fitting to the page, and check both rulers first."
)
# Millimetres: side of the cloth, height of a ruler, between two columns, between two tones,
# kept at the foot for readings and cautions.
_CLOTH, _RULER, _GAP, _PITCH, _FOOT = 84.0, 7.4, 6.0, 2.95, 37.5
# Of a line of readings, as shares: where its blanks begin, and how long each is with its label.
_READING, _BLANK = 0.46, 0.135
# At the end of the name of a tone that warp over weft and weft over warp are alike in.
_BOTH_WAYS = ", both ways"


@dataclass(frozen=True)
class ToneRow:
    """A tone as listed: its code (warp/weft), name, colour, Lab and share of the area."""

    code: str
    name: str
    rgb: Floats
    lab: Floats
    share: float


def tone_rows(colourway: Colourway, check: Check) -> list[ToneRow]:
    """Return every tone, those alike both ways once, with the area of both.

    >>> rows = tone_rows(Colourway("white", ["navy"]), Check("1/2 in", 1))
    >>> [(row.code, row.name, row.share) for row in rows]
    [('G', 'white', 0.25), ('1', 'navy', 0.5), ('1/1', 'navy over navy', 0.25)]
    """
    tones, labs = colourway.tones, colourway.tones_lab
    shares = area_shares(*check.counted_bands)
    rows = []
    for tone in colourway.unique_tones:
        at = tone.warp, tone.weft
        share = float(sum(shares[position] for position in tone.positions))
        rows.append(ToneRow(*_code_and_name(colourway, tone), tones[at], labs[at], share))
    return rows


def _code_and_name(colourway: Colourway, tone: Tone) -> tuple[str, str]:
    both_ways = len(tone.positions) > 1
    names = [colourway.ground.name, *(stripe.name for stripe in colourway.stripes)]
    wefts = [colourway.ground.name, *(stripe.name for stripe in colourway.weft_colours)]
    if not tone.warp and not tone.weft:
        return "G", names[0]
    if tone.warp and tone.weft:
        name = f"{names[tone.warp]} with {names[tone.weft]}{_BOTH_WAYS}" if both_ways else tone.name
        return f"{tone.warp}/{tone.weft}", name
    stripe = tone.warp or tone.weft
    code = str(stripe) if both_ways else f"{stripe} {'warp' if tone.warp else 'weft'}"
    return code, (names if tone.warp else wefts)[stripe]  # on the ground, as the code says


def _screens(colourway: Colourway, condition: PrintCondition | None) -> str:
    """Say how many screens the colourway takes, by colour and by tone."""
    by_tone = plates_of(colourway, "tones").screens
    try:
        by_colour = f"{plates_by(colourway, 'colours', condition).screens} with tints, or "
    except ArgumentError:
        by_colour = ""
    return f"{by_colour}{by_tone} with a solid ink a tone (ground included)"


def _design(
    colourway: Colourway, check: Check, condition: PrintCondition | None
) -> list[tuple[str, str]]:
    """What the design is, as labels and texts."""
    mixing = find_mixing(colourway.mixing)
    said = not mixing.estimate or "estimate" in mixing.meaning
    meaning = mixing.meaning if said else f"{mixing.meaning} (an estimate)"
    facts = [
        ("Check size", str(check.size)),
        ("Repeat", _repeat(check)),
        ("Stripe colours", _stripe_counts(colourway)),
        ("Overlay strength", f"{colourway.strength * 100:.4g} %: how much of each stripe's "
         "colour reaches the cloth"),
        ("Mixing", f"{colourway.mixing}: {meaning}"),
    ]  # fmt: skip
    if mixing.uses_yule_nielsen and colourway.yule_nielsen != 1:
        facts.append(("Yule–Nielsen n", f"{colourway.yule_nielsen:g}"))
    if mixing.uses_stock:
        facts.append(("Stock", colourway.stock.words))
    if mixing.estimate:
        facts.append(("How sure", estimate_words(colourway)))
    if mixing.uses_warp_share and colourway.warp_share != 0.5:
        facts.append(("Warp's share", f"{colourway.warp_share:.1%} of the surface"))
    if spectra := spectra_words(colourway):
        facts.append(("Spectra", spectra))
    if colourway.known.beyond:
        facts.append(("Outside sRGB", _outside(colourway)))
    if condition is not None:
        missing = without_curves(colourway, condition)
        words = no_curves_words(missing, condition) if missing else condition.words
        facts.append(("Print condition", words))
    return [*facts, ("Screens", _screens(colourway, condition))]


def _outside(colourway: Colourway) -> str:
    """Which colours a screen cannot show, and what of the sheet is not of the screen."""
    names = [f"{c.name} (shown ΔE00 {c.shift:.1f} off)" for c in colourway.colours if c.shift_words]
    return f"{', '.join(names)}; L*a*b* are the tones' own, sRGB codes show them"


def _stripe_counts(colourway: Colourway) -> str:
    warp, weft = len(colourway.stripes), len(colourway.weft_stripes)
    return f"{warp} in the warp, {weft} in the weft" if weft else str(warp)


def _repeat(check: Check) -> str:
    across, up = check.repeat_width, check.repeat_height
    return f"{across}, both ways" if across == up else f"{across} across, {up} up the cloth"


def _draw_facts(
    page: Page,
    label: str,
    colourway: Colourway,
    check: Check,
    scored: Score,
    box: tuple[float, float, float],
    condition: PrintCondition | None,
) -> float:
    """Write what the design is and how it scores, at x, y and so wide; return the y below."""
    x, y, room = box
    # A heading that were the same in the head of each page would be taken for a running one.
    page.heading(x, y, page.fitted(f"Design of {label}", 8, room, bold=True))
    y += 4.8
    for label, value in _design(colourway, check, condition):
        page.text(x, y, label, 6.5, grey=QUIET)
        y = page.paragraph(x + 25, y, value, 6.5, room - 25, grey=INK) + 0.9
    page.text(x, y, "From afar", 6.5, grey=QUIET)
    page.box(x + 25, y - 2.6, 8, 3.4, scored.far_colour)
    page.text(x + 35, y, f"{hex_of(scored.far_colour)}, the mean in linear light", 6.5)
    return _draw_scores(page, scored, x, y + 7, room)


# Numbers of a score, how they are written, and millimetres from the right.
_SCORE_COLUMNS = (
    ("least_de2000", "{:.1f}", 50),
    ("mean_de2000", "{:.1f}", 36),
    ("least_dl", "{:.1f}", 22),
    ("least_ratio", "{:.2f}:1", 0),
)


def _draw_scores(page: Page, scored: Score, x: float, y: float, room: float) -> float:
    """Write the scores; return the y below."""
    page.heading(x, y, "Contrast")
    right = x + room
    y += 4.4
    for field, _, edge in _SCORE_COLUMNS:
        page.text(right - edge, y, MEASURES[field], 5.5, grey=QUIET, align="right")
    lines = []
    for kind, label in PAIR_WORDS.items():
        y += 3.7
        lines.append((x, y - 2.7, right, y - 2.7))
        page.text(x, y, label, 6.5)
        for field, form, edge in _SCORE_COLUMNS:
            value = float(getattr(getattr(scored, kind), field))
            written = "–" if np.isnan(value) else form.format(value)
            page.text(right - edge, y, written, 6.5, align="right")
    page.lines(lines)
    runs = "runs one way" if scored.lightness_runs else "does not run one way"
    steps = f"evenness of its two steps {float(scored.evenness):.2f} of 1"
    if np.isnan(scored.evenness):
        runs, steps = "cannot be compared", "the cloth does not show all three"
    text = (
        f"Lightness {runs} from ground over single to crossing; {steps}. ΔE00 was fitted to small "
        "differences: read it with ΔL* and the ratio. WCAG exempts decoration; its ratios are a "
        "yardstick."
    )
    return page.paragraph(x, y + 4.2, text, 5.5, room)


# Of the line of a tone, in millimetres from the right: where the hex begins, where numbers end.
_HEX_AT, _NUMBERS_AT = 42.5, {"L*": 26.5, "a*": 19.0, "b*": 11.5, "area": 0.0}
# Points of a name; of one over several lines, and how far these are apart: as it looks best, and
# where tones would go on with another page.
_NAME, _LONG_NAMES, _NAME_LINES = 5.4, ((5.0, 2.1), (4.5, 1.8)), 3


@dataclass(frozen=True)
class _Line:
    """A tone as it is written: its name over as many lines as it needs."""

    row: ToneRow
    names: list[str]
    start: float
    size: float = _NAME
    apart: float = 0.0

    @classmethod
    def of(cls, page: Page, row: ToneRow, wide: float, long: tuple[float, float] | None) -> _Line:
        """Return a tone in a column so wide; a long name is cut where ``long`` is None."""
        start = max(11.5, 7.4 + page.measure(row.code, _NAME))
        room = wide - _HEX_AT - 1.5 - start
        if long is None or page.measure(row.name, _NAME) <= room:
            return cls(row, [page.fitted(row.name, _NAME, room)], start)
        name = row.name.removesuffix(_BOTH_WAYS)  # as the note over the tones says
        lines = wrapped(name, partial(page.measure, size=long[0]), room, _NAME_LINES)
        return cls(row, [page.fitted(line, long[0], room) for line in lines], start, *long)

    @property
    def high(self) -> float:
        return max(_PITCH, len(self.names) * self.apart + 0.75)

    def draw(self, page: Page, x: float, base: float, wide: float) -> None:
        with page.tagged("P"):
            page.text(x + 6.2, base, self.row.code, _NAME)
            for number, name in enumerate(self.names):
                page.text(x + self.start, base + number * self.apart, name, self.size)
            page.text(x + wide - _HEX_AT, base, hex_of(self.row.rgb), _NAME)
            values = [f"{value:.1f}" for value in self.row.lab.round(1) + 0.0]
            values.append(f"{self.row.share * 100:.2f} %")
            for edge, value in zip(_NUMBERS_AT.values(), values, strict=True):
                page.text(x + wide - edge, base, with_minus(value), _NAME, align="right")


def _columns(lines: list[_Line], room: float) -> list[list[_Line]]:
    """The first column and the second, filled evenly where all goes into two so high."""
    total = sum(line.high for line in lines)
    high = room if total > 2 * room else min(room, total / 2 + _PITCH / 2)
    columns: list[list[_Line]] = [[], []]
    at = 0
    for line in lines:
        if sum(one.high for one in columns[at]) + line.high > (high, room)[at] + 1e-6:
            if at:
                break
            at = 1
        columns[at].append(line)
    return columns


class _Table(NamedTuple):
    """Tones on one page: how wide columns are, what stands in each, which go on with another."""

    wide: float
    columns: list[list[_Line]]
    left: list[ToneRow]


def _laid(page: Page, rows: list[ToneRow], room: float) -> _Table:
    """Lay tones in one column where all fit in a part of the page so high, else in two.

    Names that a line has no room for go over several; they are cut only where a page more
    would come of it.
    """
    wide = min(page.room, 112.0)
    alone = [_Line.of(page, row, wide, _LONG_NAMES[0]) for row in rows]
    if sum(line.high for line in alone) <= room:
        return _Table(wide, [alone], [])
    wide = (page.room - _GAP) / 2
    ways = [
        _columns([_Line.of(page, row, wide, long) for row in rows], room)
        for long in (*_LONG_NAMES, None)
    ]
    whole = (columns for columns in ways if sum(map(len, columns)) == len(rows))
    columns = next(whole, ways[0])
    return _Table(wide, columns, rows[sum(map(len, columns)) :])


def _draw_tones(page: Page, table: _Table, y: float) -> None:
    wide, columns, _ = table
    spots = []
    for column, members in enumerate(columns):
        base = y
        for line in members:
            spots.append((line, MARGIN + column * (wide + _GAP), base + _PITCH))
            base += line.high
    for line, x, base in spots:
        page.box(x, base - 2.25, 5, 2.65, line.row.rgb)
    for x in dict.fromkeys(x for _, x, _ in spots):
        page.text(x + wide - _HEX_AT, y, "sRGB", 5.2, grey=QUIET)
        for name, edge in _NUMBERS_AT.items():
            page.text(x + wide - edge, y, name, 5.2, grey=QUIET, align="right")
    for line, x, base in spots:
        line.draw(page, x, base, wide)


def _draw_proof(page: Page, proof: Proof, y: float) -> float:
    """Write what the press makes of the tones; return the y below."""
    outside = proof.named_outside
    names = ", ".join(outside[:6]) + (f" and {len(outside) - 6} more" if len(outside) > 6 else "")
    text = (
        f"Press proof: {proof.press}. Greatest shift ΔE00 {proof.shift.max():.1f}; "
        f"out of gamut: {names or 'none'}."
    )
    return page.paragraph(MARGIN, y, text, 6, page.room)


def _draw_readings(page: Page, rows: list[ToneRow], y: float) -> None:
    """Draw blank lines for the readings of a strike-off, and the usual cautions below."""
    page.heading(MARGIN, y, "Strike-off")
    page.stamp("readings", MARGIN, y, lambda x, y: _blank_readings(page, x, y))
    half = (page.room - _GAP) / 2
    room = half * (_READING - 0.02)
    for row, (x, base) in zip(rows, _reading_lines(page, MARGIN, y), strict=False):
        words = f"{row.code}  {row.name}"
        if page.measure(words, 6) <= room:
            page.text(x, base, words, 6)
            continue
        first, *more = wrapped(words, partial(page.measure, size=4.8), room, 2)
        with page.tagged("P"):
            page.text(x, base - 1.2 if more else base, first, 4.8)
            for line in more:
                page.text(x, base + 0.7, line, 4.8, room=room)
    below = y + 11.8 + 4 * 4.9 + 3.2
    page.stamp(
        "cautions", MARGIN, below, lambda x, y: page.paragraph(x, y, _CAUTIONS, 6, page.room)
    )


def _reading_lines(page: Page, x: float, y: float) -> list[tuple[float, float]]:
    half = (page.room - _GAP) / 2
    return [
        (x + column * (half + _GAP), y + 11.8 + line * 4.9)
        for column in range(2)
        for line in range(4)
    ]


def _blank_readings(page: Page, x: float, y: float) -> None:
    """Everything of the readings that is alike on every page."""
    left, end, blanks = x, x + page.room, []
    for label, wide in (("Date", 26), ("Cloth", 40), ("By", 34), ("Light and angle", 42),
                        ("Tolerance ΔE00", 0)):  # fmt: skip
        page.text(left, y + 5.6, label, 6, grey=QUIET)
        start = left + page.measure(label, 6) + 1.5
        blanks.append((start, y + 6.2, left + wide - 2 if wide else end, y + 6.2))
        left += wide
    lines = _reading_lines(page, x, y)
    half = (page.room - _GAP) / 2
    for line, base in lines:
        for number, label in enumerate(("L*", "a*", "b*", "ΔE00")):
            left = line + half * (_READING + number * _BLANK)
            page.text(left, base, label, 5.2, grey=QUIET)
            start = left + page.measure(label, 5.2) + 1
            blanks.append((start, base + 0.6, left + half * _BLANK - 1, base + 0.6))
    page.lines(blanks, grey=0.6)
    page.lines([(line, base + 1.7, line + half, base + 1.7) for line, base in lines], wide=0.05)


# The drawn parts: cloth at true size, rulers, the band plan.


def _repeat_form(page: Page, name: str, colourway: Colourway, check: Check) -> None:
    """One repeat as a form, each cell drawn on over the edges that later cells cover.

    Cells side by side would let the paper shine through at their edges in viewers that
    smooth; overlapping ones cannot.
    """
    ways = [list(zip(bands, _lefts(bands), strict=True))
            for bands in (check.warp_bands, check.weft_bands)]  # fmt: skip
    size = check.size.mm * POINT
    width, height = (float(checks_in(bands)) * size
                     for bands in (check.warp_bands, check.weft_bands))  # fmt: skip
    tones = colourway.tones
    with page.form(name, (0, -2 * height, 2 * width, height)):
        for weft, down in ways[1]:
            for warp, left in ways[0]:
                x, top = left * size, height - down * size
                rgb = tones[warp.stripe, weft.stripe]
                page.cell(x, -size, width + size - x, top + size, rgb)


def _repeats(check: Check) -> tuple[float, float]:
    """Width and length of one repeat in millimetres."""
    across, up = (float(checks_in(bands)) * check.size.mm
                  for bands in (check.warp_bands, check.weft_bands))  # fmt: skip
    return across, up


def _lefts(bands: Bands) -> list[float]:
    """Where each band begins, in checks."""
    return [float(sum(band.checks for band in bands[:index])) for index in range(len(bands))]


def _draw_cloth(
    page: Page, name: str, colourway: Colourway, check: Check, x: float, y: float, side: float
) -> None:
    """Draw a square of cloth at true size, its first repeat at the top left.

    Fine checks would be a hundred thousand cells; a repeat is drawn once, as a form, and
    placed, first in a row, then the row again and again.
    """
    width, height = _repeats(check)
    across, down = int(np.ceil(side / width)), int(np.ceil(side / height))
    single, row = f"{name}-repeat", f"{name}-row"
    _repeat_form(page, single, colourway, check)
    if across == 1:
        row = single
    else:
        box = (0, -height * POINT, (across + 1) * width * POINT, height * POINT)
        with page.form(row, box):
            for index in range(across):
                page.place(single, index * width * POINT, 0)
    about = f"Cloth at true size, {side:g} mm a side: {stripes_on_ground(colourway)}"
    with page.tagged("Figure", about), page.clipped(x, y, side, side):
        for index in range(down):
            page.place(row, x * POINT, (page.height - y - (index + 1) * height) * POINT)


def _draw_rulers(page: Page, x: float, y: float) -> float:
    """Draw a ruler of 5 cm over one of 2 in; return the y below them."""
    about = "Rulers of 5 cm and of 2 in"
    page.stamp("rulers", x, y, lambda x, y: _rulers(page, x, y), kind="Figure", alt=about)
    return y + 2 * _RULER


def _rulers(page: Page, x: float, y: float) -> None:
    for unit, steps, in_unit, label in (("cm", 50, 10, 5), ("in", 32, 16, 2)):
        length = 50.0 if unit == "cm" else 50.8
        lines = [(x, y, x + length, y)]
        for step in range(steps + 1):
            at = x + length * step / steps
            half = in_unit // 2
            tick = 2.2 if step % in_unit == 0 else 1.5 if step % half == 0 else 0.8
            lines.append((at, y, at, y + tick))
        page.lines(lines, grey=QUIET)
        for whole in range(label + 1):
            at = x + length * whole / label
            page.text(at, y + 4.6, str(whole), 5.5, grey=QUIET, align="centre")
        page.text(x + length + 2.5, y + 2.2, f"{label} {unit}", 5.5, grey=QUIET)
        y += _RULER


def _draw_band_plan(page: Page, colourway: Colourway, check: Check, y: float) -> float:
    """Draw the bands of one repeat over the width of the page; return the y below."""
    page.heading(MARGIN, y, "Band plan")
    plans = {"warp": check.warp_bands, "weft": check.weft_bands}
    if check.warp_bands == check.weft_bands and not colourway.weft_stripes:
        plans = {"warp and weft alike": check.warp_bands}
    for place, (name, bands) in enumerate(plans.items()):
        y = _draw_bands(page, colourway, check, name, bands, y + 2.4 * place)
    names = [f"G {colourway.ground.name}"]
    names += [f"{number} {stripe.name}" for number, stripe in enumerate(colourway.stripes, start=1)]
    names += [
        f"weft {number} {stripe.name}"
        for number, stripe in enumerate(colourway.weft_stripes, start=1)
    ]
    return page.paragraph(MARGIN, y, " · ".join(names), 6.5, page.room) + 1.5


def _draw_bands(
    page: Page, colourway: Colourway, check: Check, name: str, bands: Bands, y: float
) -> float:
    count = checks_in(bands)
    length = check.size * count
    scale = page.room / length.mm * 100
    page.text(MARGIN + 24, y, f"one repeat, {name}, drawn at {scale:.3g} %", 6, grey=QUIET)
    y += 5.2
    each = page.room / float(count)
    size = 6.5 if check.stripes <= 12 else 5
    lefts = [MARGIN + each * left for left in _lefts(bands)]
    tones = colourway.tones[0] if name == "weft" else colourway.tones[:, 0]
    labels = [str(band.stripe) if band.stripe else "G" for band in bands]
    wefts = colourway.weft_colours if name == "weft" else colourway.stripes
    names = [colourway.ground.name, *(stripe.name for stripe in wefts)]
    about = f"One repeat of the {name}, from left to right: "
    about += ", ".join(names[band.stripe] for band in bands)
    with page.tagged("Figure", about):
        for band, left in zip(bands, lefts, strict=True):
            page.box(left, y, float(band.checks) * each, 7, tones[band.stripe])
        for band, left, label in zip(bands, lefts, labels, strict=True):
            middle = left + float(band.checks) * each / 2
            page.text(middle, y - 1, label, size, align="centre", grey=QUIET)
        page.frame(MARGIN, y, page.room, 7)
    for end in (MARGIN + page.room, MARGIN + float(bands[0].checks) * each):
        ticks = [(x, y + 7.9, x, y + 10.1) for x in (MARGIN, end)]
        page.lines([(MARGIN, y + 9, end, y + 9), *ticks], grey=QUIET)
    if all(band.checks == 1 for band in bands):
        text = f"{len(bands)} bands, each one check wide"
        page.text(MARGIN, y + 12.6, text, 6.5, grey=QUIET, room=page.room)
        return y + 16.2
    text = f"In checks: {write_order(bands, names)}"
    return page.paragraph(MARGIN, y + 12.6, text, 6.5, page.room) + 0.6


# The sheet.


@dataclass(frozen=True)
class _Sheet:
    """Draws each colourway's page, and pages for tones that it has no room for."""

    canvas: Any
    paper: str
    set_name: str
    count: int
    press: Press | None
    condition: PrintCondition | None

    def _page(self, index: int, title: str, under: str) -> Page:
        """Begin a page."""
        page = Page(self.canvas, self.paper)
        about = f"{self.set_name + ' · ' if self.set_name else ''}{index + 1} of {self.count}"
        right = page.measure(about, 7)
        page.text(MARGIN, 18, title, 15, bold=True, room=page.room - right - 6, kind="H1")
        page.text(MARGIN + page.room, 18, about, 7, grey=QUIET, align="right", kind="")
        page.text(MARGIN, 23.4, under, 7.5, grey=QUIET, room=page.room)
        page.line(MARGIN, 26.4, MARGIN + page.room, 26.4)
        return page

    def draw(self, index: int, colourway: Colourway, check: Check, scored: Score) -> None:
        title = label_of(colourway, index)
        self.canvas.bookmarkPage(f"sheet-{index}")
        self.canvas.addOutlineEntry(title, f"sheet-{index}")
        page = self._page(index, title, stripes_on_ground(colourway))

        top = 31.0
        _draw_cloth(page, f"cloth-{index}", colourway, check, MARGIN, top, _CLOTH)
        page.frame(MARGIN, top, _CLOTH, _CLOTH)
        shown = (
            "part of a repeat" if max(_repeats(check)) > _CLOTH else "from the corner of a repeat"
        )
        page.text(MARGIN, top + _CLOTH + 3.4, f"True size, {shown}", 5.5, grey=QUIET)
        lights = f"Other lights (2°), worst: {inconstancy(colourway).short}"
        under = page.paragraph(MARGIN, top + _CLOTH + 6.1, lights, 5.5, _CLOTH + 4)
        x = MARGIN + _CLOTH + 8
        room = page.room - _CLOTH - 8
        box = (x, top + 2.4, room)
        facts = _draw_facts(page, title, colourway, check, scored, box, self.condition)
        below = _draw_rulers(page, x, max(facts + 2, top + _CLOTH - 12.4))
        y = _draw_band_plan(page, colourway, check, max(below + 1, under + 0.3))
        if self.press is not None:
            y = _draw_proof(page, soft_proof(colourway, self.press), y + 1)
        boxed = lacking(self.set_name, *names_in(colourway))
        self._tones(page, index, title, tone_rows(colourway, check), y + 3.2, boxed)

    def _tones(
        self, page: Page, index: int, title: str, rows: list[ToneRow], y: float, boxed: str
    ) -> None:
        foot = page.height - MARGIN - _FOOT
        room = max(_PITCH, foot - 5 - y - 3.4)
        note = "code: warp/weft stripe, G the ground; sRGB in 8-bit hex; Lab under D65, 2°"
        page.heading(MARGIN, y, "Tones")
        table = _laid(page, rows, room)
        left = table.left
        if any(row.name.endswith(_BOTH_WAYS) for row in rows):
            note += "; with: crossed both ways"
        if left:
            note += f"; {len(left)} more on the next page"
        if boxed:
            codes = " ".join(f"U+{ord(char):04X}" for char in boxed[:4])
            note += f"; □: {codes}{' ...' if len(boxed) > 4 else ''}, not in this typeface"
        page.text(MARGIN + 24, y, note, 6, grey=QUIET, room=page.room - 24)
        _draw_tones(page, table, y + 3.4)
        _draw_readings(page, rows, foot)
        page.end()
        while left:
            page = self._page(index, title, "Tones, continued")
            table = _laid(page, left, page.height - MARGIN - 36)
            _draw_tones(page, table, 34)
            left = table.left
            page.end()


def write_spec_sheet(
    stream: BinaryIO,
    colourways: Colourways,
    check: Check | None = None,
    *,
    paper: str = "A4",
    press: Press | None = None,
    condition: PrintCondition | None = None,
    numbers: Iterable[int] | None = None,
) -> None:
    """Write the specification sheet of a set as PDF, the same bytes for the same set.

    A page a colourway: cloth at true size with rulers of 5 cm and 2 in, design, contrast,
    band plan, every tone, blank lines for the readings of a strike-off, cautions. Tones
    that a page has no room for go on with a page of their own.

    Parameters
    ----------
    stream : binary file
    colourways : ChosenSet, Colourway or iterable of Colourway
    check : Check, optional
        May be left out where a chosen set brings its own.
    paper : str
        ``"A4"`` or ``"Letter"``.
    press : Press, optional
        Adds a line on what that press makes of the tones.
    condition : PrintCondition, optional
        Adds a line on whose curves the plates go by.
    numbers : iterable of int, optional
        Which colourways, counted from 0; all where left out. Long sets are written as
        several files, so that memory stays bounded.

    Raises
    ------
    ArgumentError
        For no colourways, no check, or another paper.

    Examples
    --------
    >>> import io
    >>> out = io.BytesIO()
    >>> write_spec_sheet(out, Colourway("white", ["navy"]), Check("1/2 in", 1))
    >>> out.getvalue()[:5]
    b'%PDF-'
    """
    chosen = as_set(colourways, check)
    title = f"{chosen.name}: specification" if chosen.name else "Specification"
    indices = list(range(len(chosen)) if numbers is None else numbers)
    members = [chosen.colourways[index] for index in indices]
    scores = scores_of(members, chosen.check_for)
    with document(stream, paper, title, str(chosen)) as canvas:
        sheet = _Sheet(canvas, paper, chosen.name, len(chosen), press, condition)
        for index, colourway, scored in zip(indices, members, scores, strict=True):
            sheet.draw(index, colourway, chosen.check_for(colourway), scored)


def save_spec_sheet(
    colourways: Colourways,
    check: Check | None,
    path: str | Path,
    *,
    paper: str = "A4",
    press: Press | None = None,
    condition: PrintCondition | None = None,
    overwrite: bool = False,
) -> Path:
    """Write the specification sheet as a file, whole or not at all; return its path.

    See :func:`write_spec_sheet`.

    Raises
    ------
    ExistsError
        If the file is there and ``overwrite`` is not set.

    Examples
    --------
    >>> from tempfile import TemporaryDirectory
    >>> aprons = Colourway("white", ["navy"], name="Quay")
    >>> with TemporaryDirectory() as folder:
    ...     save_spec_sheet(aprons, Check("1/2 in", 1), Path(folder, "quay.pdf")).name
    'quay.pdf'
    """
    return write_whole(
        as_path(path),
        lambda stream: write_spec_sheet(
            stream, colourways, check, paper=paper, press=press, condition=condition
        ),
        overwrite=overwrite,
    )
