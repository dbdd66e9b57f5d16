"""The figures of the lesson that show whole cloth: threads, distance, mixings, vision."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from checkcloth.arguments import Floats
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.distance import arc_minutes, fusing_distance
from checkcloth.cloth.length import Length
from checkcloth.cloth.mixing import find_mixing
from checkcloth.cloth.threads import plain_weave, plain_weave_share
from checkcloth.colour.css import hex_of
from checkcloth.colour.spaces import linear_to_srgb, srgb_to_linear
from checkcloth.colour.vision import VISIONS, see_as
from checkcloth.export.picture.picture import Picture
from checkcloth.lesson.compare import compare_mixings
from checkcloth.lesson.figure_parts import (
    MUTED,
    PALE,
    cloth_of,
    finished,
    mixing_caption,
    page,
    panel,
    percent,
    plain,
)
from checkcloth.scoring.contrast import afar, score_tones

__all__ = ["distance_figure", "mixings_figure", "threads_figure", "vision_figure"]


def _estimated(colourway: Colourway) -> str:
    return " (estimate)" if find_mixing(colourway.mixing).estimate else ""


def threads_figure(warp: ArrayLike, weft: ArrayLike, ends: int) -> Picture:
    """Draw a plain-weave cell of so many ends and picks, and the warp's share by count.

    >>> threads_figure((1, 0, 0), (0, 0, 1), 3).png[1:4]
    b'PNG'
    """
    up = plain_weave(ends)
    share = plain_weave_share(ends)
    colours = np.array([weft, warp], dtype=np.float64)
    drawn, (cell, chart) = page(2.6, [1, 1.6])
    panel(cell, colours[up.astype(int)], f"{ends} ends × {ends} picks")
    counts = np.arange(1, 13)
    shares = [float(plain_weave_share(int(count))) for count in counts]
    chart.axhline(0.5, color=PALE, linewidth=0.9)
    chart.plot(counts, shares, "o", color=MUTED, markersize=5)
    if ends <= 12:
        chart.plot(ends, float(share), "o", color=hex_of(warp), markersize=10)
    chart.set_xticks(counts)
    chart.set_ylim(0.45, 1.04)
    chart.set_yticks([0.5, 0.75, 1], ["50 %", "75 %", "100 %"])
    chart.set_xlabel("ends in the band", fontsize=10, color=MUTED)
    chart.set_ylabel("warp's share", fontsize=10, color=MUTED)
    plain(chart)
    shown, whole = int(up.sum()), ends * ends
    verdict = "balanced" if share * 2 == 1 else "the warp shows more"
    title = (
        f"{ends} × {ends} threads: the warp is on top at {shown} of {whole} crossings, "
        f"{percent(float(share), 1)}, {verdict}"
    )
    return finished(drawn, title, f"A plain-weave cell beside a chart by thread count. {title}.")


def _blurred(light: Floats, spot: float) -> Floats:
    """Blur periodic linear light by a round spot ``spot`` pixels wide at half its height."""
    deviation = spot / (2 * np.sqrt(2 * np.log(2)))
    y, x = (np.fft.fftfreq(size) for size in light.shape[:2])
    passed = np.exp(-2 * (np.pi * deviation) ** 2 * (y[:, None] ** 2 + x[None, :] ** 2))
    spectrum = np.fft.fft2(light, axes=(0, 1)) * passed[..., None]
    return np.asarray(np.fft.ifft2(spectrum, axes=(0, 1)).real)


def distance_figure(colourway: Colourway, size: Length | str, metres: float) -> Picture:
    """Draw the cloth close by, from that far, and as its far-off colour.

    The middle is blurred in linear light by a spot of two minutes of arc, so that details
    of one minute vanish, as they do for a good eye (a rule of thumb).

    >>> distance_figure(Colourway("white", ["navy"]), "1/4 in", 500).png[1:4]
    b'PNG'
    """
    length = Length(size)
    far = Length.of_mm(metres * 1000)
    minutes = arc_minutes(length, far)
    limit = fusing_distance(length).mm / 1000
    pixels = 8
    # Whole repeats, so that the blur wraps.
    near = cloth_of(colourway.tones, pixels=pixels)
    seen = _blurred(srgb_to_linear(near), 2 * pixels / minutes)
    flat = afar(colourway.tones)
    drawn, (one, two, three) = page(2.45, [1, 1, 1])
    panel(one, near, "close by")
    panel(two, np.clip(linear_to_srgb(np.clip(seen, 0, 1)), 0, 1), f"from {metres:g} m")
    panel(three, np.broadcast_to(flat, (2, 2, 3)), f"far off: {hex_of(flat)}")
    state = "still seen" if minutes > 1 else "fused"
    title = (
        f"From {metres:g} m a check of {length.shown_in(length.unit)} covers {minutes:.1f} "
        f"minutes of arc: {state} (they fuse beyond {limit:.0f} m, a rule of thumb)"
    )
    alt = (
        f"The same cloth three times: close by, blurred by distance, and one flat colour. {title}."
    )
    return finished(drawn, title, alt)


def mixings_figure(colourway: Colourway) -> Picture:
    """Draw the colourway under every mixing, side by side.

    >>> mixings_figure(Colourway("white", ["navy"])).png[1:4]
    b'PNG'
    """
    table = compare_mixings(colourway)
    drawn, panels = page(1.7, [1] * len(table.mixings))
    for place, (axes, name) in enumerate(zip(panels, table.mixings, strict=True)):
        panel(axes, cloth_of(table.tones[place], pixels=4), mixing_caption(name))
    one, two = np.unravel_index(table.mean.argmax(), table.mean.shape)
    first, second = (find_mixing(table.mixings[place]).label for place in (one, two))
    title = (
        f"At {percent(colourway.strength)}, crossings differ most between {first} and {second}: "
        f"ΔE00 {table.mean.max():.1f} on average"
    )
    if table.mean.max() < 0.05:
        title = f"At {percent(colourway.strength)} every mixing gives the same cloth"
    return finished(drawn, title, f"{table}, side by side. {title}.")


_TITLES = {"normal": "as it is", "grey": "grey"}


def vision_figure(colourway: Colourway, severity: float) -> Picture:
    """Draw the cloth as it is, under three colour-vision deficiencies, and in grey.

    >>> vision_figure(Colourway("white", ["navy"]), 1.0).png[1:4]
    b'PNG'
    """
    drawn, panels = page(1.75, [1] * len(VISIONS))
    least = {}
    for axes, vision in zip(panels, VISIONS, strict=True):
        seen = see_as(colourway.tones, vision, severity)
        least[vision] = float(score_tones(colourway.tones, vision, severity).least_edge)
        panel(
            axes,
            cloth_of(seen, pixels=4),
            f"{_TITLES.get(vision, vision)}\nΔE00 {least[vision]:.1f}",
        )
    worst = min(least, key=least.__getitem__)
    lead = f"At severity {percent(severity)} the faintest edge of this cloth"
    rest = f"is ΔE00 {least['normal']:.1f} as it is, and least for {worst}: {least[worst]:.1f}"
    if worst == "normal":
        rest = f"is ΔE00 {least['normal']:.1f} as it is, and no fainter for anyone"
    title = f"{lead}{_estimated(colourway)} {rest}"
    said = ", ".join(f"{_TITLES.get(name, name)} {value:.1f}" for name, value in least.items())
    return finished(drawn, title, f"{colourway}, five times; faintest edge: {said}. {title}.")
