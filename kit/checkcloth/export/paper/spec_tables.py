"""The written parts of a specification page: facts, scores, tones, readings, cautions."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from checkcloth.arguments import Floats
from checkcloth.cloth.check import Check
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.mixing import find_mixing
from checkcloth.colour.css import hex_of
from checkcloth.colour.spaces import srgb_to_bytes, srgb_to_lab
from checkcloth.errors import ArgumentError
from checkcloth.export.data.tables import area_shares
from checkcloth.export.paper.spec_page import MARGIN, QUIET, SpecPage
from checkcloth.export.print.plates import plates_of
from checkcloth.export.print.proof import Proof
from checkcloth.scoring.contrast import Score
from checkcloth.scoring.pairs import KINDS

__all__ = ["ToneRow", "draw_facts", "draw_readings", "draw_tones", "screens_text", "tone_rows"]

CAUTIONS = (
    "A screen and an office printer are no proof. Agree a strike-off on the real cloth, and a "
    "tolerance, before ordering. Colours outside the gamut of the press or the dye will move. "
    "Print this page at 100 %, without fitting to the page, and check both rulers first."
)


# Millimetres between the two columns of a page.
_GAP = 6.0
# Of a line of readings: where its blanks begin, and how long each is with its label.
_READING, _BLANK = 0.46, 0.135


@dataclass(frozen=True)
class ToneRow:
    """A tone as listed: its code (warp/weft), name, colour, Lab and share of the area.

    >>> [row.code for row in tone_rows(Colourway("white", ["navy", "gold"]), Check("1/2 in", 2))]
    ['G', '1', '2', '1/1', '1/2', '2/1', '2/2']
    """

    code: str
    name: str
    rgb: Floats
    lab: Floats
    share: float


def tone_rows(colourway: Colourway, check: Check) -> list[ToneRow]:
    """Return every tone, those alike both ways once, with the area of both.

    >>> rows = tone_rows(Colourway("white", ["navy"]), Check("1/2 in", 1))
    >>> [(row.name, row.share) for row in rows]
    [('white', 0.25), ('navy', 0.5), ('navy over navy', 0.25)]
    """
    tones = colourway.tones
    labs, shares = srgb_to_lab(tones), area_shares(check)
    same = (srgb_to_bytes(tones) == srgb_to_bytes(tones).swapaxes(0, 1)).all(axis=-1)
    rows = []
    for warp, weft in sorted(np.ndindex(*shares.shape), key=_kind_first):
        merged = warp != weft and bool(same[warp, weft])
        if merged and warp > weft:
            continue  # listed with its mirror
        share = float(shares[warp, weft] + (shares[weft, warp] if merged else 0))
        one, two = (str(number) if number else "G" for number in (warp, weft))
        single = "G" in (one, two)
        code = "G" if one == two == "G" else max(one, two, key=lambda c: c != "G")
        if single and not merged and one != two:
            code = f"{code} {'warp' if weft == 0 else 'weft'}"
        elif not single:
            code = f"{one}/{two}"
        name = colourway.tone_name(warp, weft)
        if single and one != two:
            name = colourway.stripes[max(warp, weft) - 1].name  # on the ground, as the code says
        elif merged:
            name = name.replace(" over ", " with ") + ", both ways"
        rows.append(ToneRow(code, name, tones[warp, weft], labs[warp, weft], share))
    return rows


def _kind_first(place: tuple[int, ...]) -> tuple[int, int, int]:
    warp, weft = place
    return (warp > 0) + (weft > 0), max(warp, weft) if 0 in place else warp, weft


def screens_text(colourway: Colourway) -> str:
    """Say how many screens the colourway takes, by colour and by tone.

    >>> print(screens_text(Colourway("white", ["navy", "gold"])))
    2 with tints, or 7 with a solid ink a tone (ground included)
    """
    by_tone = plates_of(colourway, "tones").screens
    try:
        by_colour = f"{plates_of(colourway).screens} with tints, or "
    except ArgumentError:
        by_colour = ""
    return f"{by_colour}{by_tone} with a solid ink a tone (ground included)"


def draw_facts(
    page: SpecPage, colourway: Colourway, check: Check, one: Score, x: float, y: float, room: float
) -> float:
    """Write what the design is and how it scores; return the y below."""
    mixing = find_mixing(colourway.mixing)
    said = not mixing.estimate or "estimate" in mixing.meaning
    meaning = mixing.meaning if said else f"{mixing.meaning} (an estimate)"
    facts = [
        ("Check size", str(check.size)),
        ("Repeat", f"{check.repeat}, both ways"),
        ("Stripe colours", str(check.stripes)),
        ("Overlay strength", f"{colourway.strength * 100:.4g} %: how much of each stripe's "
         "colour reaches the cloth"),
        ("Mixing", f"{colourway.mixing}: {meaning}"),
        ("Screens", screens_text(colourway)),
    ]  # fmt: skip
    if mixing.uses_warp_share and colourway.warp_share != 0.5:
        facts.insert(5, ("Warp's share", f"{colourway.warp_share:.1%} of the surface"))
    if mixing.uses_yule_nielsen and colourway.yule_nielsen != 1:
        facts.insert(5, ("Yule–Nielsen n", f"{colourway.yule_nielsen:g}"))
    page.heading(x, y, "Design")
    y += 4.8
    for name, value in facts:
        page.text(x, y, name, 6.5, grey=QUIET)
        y = page.paragraph(x + 25, y, value, 6.5, room - 25, grey=0.13) + 0.9
    page.text(x, y, "From afar", 6.5, grey=QUIET)
    page.box(x + 25, y - 2.6, 8, 3.4, one.afar)
    page.text(x + 35, y, f"{hex_of(one.afar)}, the mean in linear light", 6.5)
    return draw_scores(page, one, x, y + 7, room)


def draw_scores(page: SpecPage, one: Score, x: float, y: float, room: float) -> float:
    """Write the scores; return the y below."""
    page.heading(x, y, "Contrast")
    columns = (("least ΔE00", 54), ("mean ΔE00", 68), ("least ΔL*", 81), ("least ratio", 94))
    right = x + room
    shift = right - (x + 94)
    y += 4.4
    for name, place in columns:
        page.text(x + place + shift, y, name, 5.5, grey=QUIET, align="right")
    lines = []
    labels = ("ground to single, edge", "single to crossing, edge", "single to single",
              "crossing to crossing")  # fmt: skip
    for kind, label in zip(KINDS, labels, strict=True):
        y += 3.7
        lines.append((x, y - 2.7, right, y - 2.7))
        page.text(x, y, label, 6.5)
        part = getattr(one, kind)
        values = (part.least_de2000, part.mean_de2000, part.least_dl, part.least_ratio)
        for (_, place), value, form in zip(
            columns, values, ("{:.1f}", "{:.1f}", "{:.1f}", "{:.2f}:1"), strict=True
        ):
            written = "–" if np.isnan(value) else form.format(float(value))
            page.text(x + place + shift, y, written, 6.5, align="right")
    page.lines(lines)
    runs = "runs one way" if one.lightness_runs else "does not run one way"
    text = (
        f"Lightness {runs} from ground over single to crossing; evenness of its two steps "
        f"{float(one.evenness):.2f} of 1. ΔE00 was fitted to small differences: read it with "
        "ΔL* and the ratio. WCAG exempts decoration; its ratios are a yardstick."
    )
    return page.paragraph(x, y + 4.2, text, 5.5, room)


def draw_tones(
    page: SpecPage, rows: list[ToneRow], y: float, lines: int, *, pitch: float = 2.95
) -> None:
    """Write tones in two columns of at most ``lines`` lines, or in one with room for names."""
    wide = (page.room - _GAP) / 2 if len(rows) > lines else min(page.room, 112.0)
    # Measured from the right: where the hex begins, and where the numbers end.
    begin = 42.5
    edges = {"L*": 26.5, "a*": 19.0, "b*": 11.5, "area": 0.0}
    rows = rows[: 2 * lines]
    places = [divmod(place, lines) for place in range(len(rows))]
    spots = [(MARGIN + column * (wide + _GAP), y + (line + 1) * pitch) for column, line in places]
    for row, (x, base) in zip(rows, spots, strict=True):
        page.box(x, base - 2.25, 5, 2.65, row.rgb)
    for x in dict.fromkeys(x for x, _ in spots):
        page.text(x + wide - begin, y, "sRGB", 5.2, grey=QUIET)
        for name, edge in edges.items():
            page.text(x + wide - edge, y, name, 5.2, grey=QUIET, align="right")
    for row, (x, base) in zip(rows, spots, strict=True):
        page.text(x + 6.2, base, row.code, 5.4)
        start = max(11.5, 7.4 + page.measure(row.code, 5.4))
        page.text(x + start, base, row.name, 5.4, room=wide - begin - 1.5 - start)
        page.text(x + wide - begin, base, hex_of(row.rgb), 5.4)
        values = [f"{value:.1f}" for value in row.lab.round(1) + 0.0]
        values.append(f"{row.share * 100:.2f} %")
        for edge, value in zip(edges.values(), values, strict=True):
            page.text(x + wide - edge, base, value, 5.4, align="right")


def draw_proof_line(page: SpecPage, proof: Proof, y: float) -> float:
    """Write what the press makes of the tones; return the y below."""
    outside = proof.named_outside
    names = ", ".join(outside[:6]) + (f" and {len(outside) - 6} more" if len(outside) > 6 else "")
    text = (
        f"Press proof: {proof.press}. Greatest shift ΔE00 {proof.shift.max():.1f}; "
        f"out of gamut: {names or 'none'}."
    )
    return page.paragraph(MARGIN, y, text, 6, page.room)


def draw_cautions(page: SpecPage, y: float) -> None:
    """Write the usual cautions."""
    page.stamp("cautions", MARGIN, y, lambda x, y: page.paragraph(x, y, CAUTIONS, 6, page.room))


def draw_readings(page: SpecPage, rows: list[ToneRow], y: float) -> float:
    """Draw blank lines for the readings of a strike-off; return the y below."""
    page.stamp("readings", MARGIN, y, lambda x, y: _blank_readings(page, x, y))
    half = (page.room - _GAP) / 2
    for row, (x, base) in zip(rows, _reading_places(page, MARGIN, y), strict=False):
        page.text(x, base, f"{row.code}  {row.name}", 6, room=half * (_READING - 0.02))
    return y + 11.8 + 4 * 4.9


def _reading_places(page: SpecPage, x: float, y: float) -> list[tuple[float, float]]:
    half = (page.room - _GAP) / 2
    return [
        (x + column * (half + _GAP), y + 11.8 + line * 4.9)
        for column in range(2)
        for line in range(4)
    ]


def _blank_readings(page: SpecPage, x: float, y: float) -> None:
    """Everything of the readings that is alike on every page."""
    page.heading(x, y, "Strike-off")
    at, end, blanks = x, x + page.room, []
    for label, wide in (("Date", 26), ("Cloth", 40), ("By", 34), ("Light and angle", 42),
                        ("Tolerance ΔE00", 0)):  # fmt: skip
        page.text(at, y + 5.6, label, 6, grey=QUIET)
        start = at + page.measure(label, 6) + 1.5
        blanks.append((start, y + 6.2, at + wide - 2 if wide else end, y + 6.2))
        at += wide
    places = _reading_places(page, x, y)
    half = (page.room - _GAP) / 2
    for left, base in places:
        for number, label in enumerate(("L*", "a*", "b*", "ΔE00")):
            at = left + half * (_READING + number * _BLANK)
            page.text(at, base, label, 5.2, grey=QUIET)
            start = at + page.measure(label, 5.2) + 1
            blanks.append((start, base + 0.6, at + half * _BLANK - 1, base + 0.6))
    page.lines(blanks, grey=0.6)
    page.lines([(left, base + 1.7, left + half, base + 1.7) for left, base in places], wide=0.05)
