"""The figures of the lesson in mixing.

Each function takes colours as encoded sRGB, or a colourway, and the slider's value, and returns
a picture whose title says what to see in it.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import ArrayLike

from checkcloth.arguments import Floats
from checkcloth.cloth.check import arc_minutes, band_plan, even_bands, fusing_distance
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.length import Length
from checkcloth.cloth.mixing import MIXINGS, find_mixing, mix_tones
from checkcloth.cloth.threads import plain_weave, plain_weave_share
from checkcloth.cloth.tones import lay
from checkcloth.colour.ciede2000 import delta_e_2000
from checkcloth.colour.css import hex_of
from checkcloth.colour.spaces import linear_to_srgb, srgb_to_bytes, srgb_to_lab, srgb_to_linear
from checkcloth.colour.vision import VISIONS, see_as
from checkcloth.export.charts.chart_style import INK, MUTED, PALE, cut, without_frame
from checkcloth.export.picture.picture import Picture, picture_of
from checkcloth.lesson.compare import compare_mixings
from checkcloth.scoring.cloth_scores import far_colour
from checkcloth.scoring.contrast import score_tones

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

_WIDTH = 6.4  # inches: 614 CSS pixels; in a narrow window it shrinks, and its letters too


def page(height: float, ratios: Sequence[float], *, gap: float = 0.12) -> tuple[Figure, list[Axes]]:
    """Return a figure with one row of panels of these relative widths."""
    from matplotlib.figure import Figure
    from matplotlib.layout_engine import ConstrainedLayoutEngine

    layout = ConstrainedLayoutEngine(wspace=gap, w_pad=0.06, h_pad=0.06)
    drawn = Figure(figsize=(_WIDTH, height), layout=layout, facecolor="none")
    grid = drawn.add_gridspec(1, len(ratios), width_ratios=list(ratios))
    columns = range(len(ratios))
    return drawn, [drawn.add_subplot(grid[0, column], facecolor="none") for column in columns]


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


def cell_of(tones: Floats, warp: int, weft: int) -> Floats:
    """Return a crossing with its two stripes and the ground round it, 3 × 3 checks."""
    return lay(tones, np.array([0, warp, 0]), np.array([0, weft, 0]))


def cloth_of(tones: Floats, pixels: int = 1) -> Floats:
    """Return two repeats of an even check each way as an image (H, W, 3)."""
    return lay(tones, np.tile(band_plan(even_bands(len(tones) - 1), pixels), 2))


def legible(rgb: ArrayLike) -> str:
    """Black or white, whichever reads better on the colour."""
    return "#000000" if float(srgb_to_lab(rgb)[..., 0]) > 55 else "#ffffff"


def label(axes: Axes, x: float, y: float, text: str, rgb: ArrayLike) -> None:
    """Write centred on a colour."""
    axes.text(x, y, text, ha="center", va="center", fontsize=10, color=legible(rgb))


def percent(share: float, digits: int = 0) -> str:
    """Write a share as per cent: ``percent(0.25)`` is ``25 %``."""
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
    """The mixing's name in two short lines, an estimate marked as one."""
    mixing = find_mixing(name)
    if mixing.estimate:
        return f"{name}\n(estimate)"
    head, dash, tail = name.rpartition("-") if len(name) > 12 else (name, "", "")
    return f"{head}{dash}\n{tail}"


_QUARTERS = [0, 0.25, 0.5, 0.75, 1]


def _strength_axis(axes: Axes, label: str) -> None:
    """Overlay strength across in quarters, and a label for what stands up."""
    axes.set_xticks(_QUARTERS, [percent(value) for value in _QUARTERS])
    axes.set_xlabel("overlay strength", fontsize=10, color=MUTED)
    axes.set_ylabel(label, fontsize=10, color=MUTED)
    plain(axes)


def plain(axes: Axes) -> None:
    """Take away the frame that says nothing."""
    for side in ("top", "right"):
        axes.spines[side].set_visible(False)
    for side in ("left", "bottom"):
        axes.spines[side].set(color=PALE, linewidth=0.8)
    axes.tick_params(labelsize=9.5, colors=MUTED, length=3)


# What a crossing is made of, and what it comes to.


def _difference(first: ArrayLike, second: ArrayLike) -> Floats:
    return delta_e_2000(srgb_to_lab(first), srgb_to_lab(second))


def shares_figure(warp: ArrayLike, weft: ArrayLike, ground: ArrayLike, strength: float) -> Picture:
    """Draw a crossing, and the shares of warp, weft and ground in its four tones."""
    warp, weft, ground = (np.asarray(c, dtype=np.float64) for c in (warp, weft, ground))
    tones = mix_tones(ground, [warp, weft], strength)
    drawn, (cell, shares) = page(2.5, [1, 1.75])
    panel(cell, cell_of(tones, 1, 2))
    label(cell, 1, 0, "warp", tones[1, 0])
    label(cell, 0, 1, "weft", tones[0, 2])
    label(cell, 1, 1, "crossing", tones[1, 2])
    label(cell, 0, 0, "ground", tones[0, 0])

    a = strength
    bar(shares, 3, [(a, warp), (1 - a, ground)])
    bar(shares, 2, [(a, weft), (1 - a, ground)])
    bar(shares, 1, [(a, warp), (a * (1 - a), weft), ((1 - a) ** 2, ground)])
    shares.set_yticks([3, 2, 1], ["warp single", "weft single", "crossing"])
    shares.set_xlim(0, 1)
    shares.set_xticks([])
    plain(shares)
    without_frame(shares)
    shares.tick_params(length=0, labelsize=9.5, colors=INK)
    title = (
        f"At {percent(a)} the crossing holds {percent(a)} of the warp, "
        f"{percent(a * (1 - a))} of the weft and {percent((1 - a) ** 2)} of the ground"
    )
    alt = (
        f"A warp stripe {hex_of(warp)} crossing a weft stripe {hex_of(weft)} on {hex_of(ground)}, "
        f"beside bars of what each tone is made of. {title}; the crossing is "
        f"{hex_of(tones[1, 2])}."
    )
    return finished(drawn, title, alt)


def kinds_figure(warp: ArrayLike, weft: ArrayLike, ground: ArrayLike, strength: float) -> Picture:
    """Draw the same crossing under every mixing, each with its colour code."""
    pair = np.array([warp, weft], dtype=np.float64)
    drawn, panels = page(1.95, [1] * len(MIXINGS))
    crossings, said = [], []
    for axes, name in zip(panels, MIXINGS, strict=True):
        tones = mix_tones(ground, pair, strength, name)
        code = hex_of(tones[1, 2])
        panel(axes, cell_of(tones, 1, 2), f"{mixing_caption(name)}\n{code}")
        crossings.append(tones[1, 2])
        said.append(f"{find_mixing(name).label} {code}")
    lab = srgb_to_lab(np.array(crossings))
    apart = delta_e_2000(lab[:, None], lab[None])
    first, second = np.unravel_index(apart.argmax(), apart.shape)
    title = (
        f"One crossing at {percent(strength)}, five answers: {MIXINGS[first]} and "
        f"{find_mixing(MIXINGS[second]).label} lie farthest apart, ΔE00 {apart.max():.0f}"
    )
    if apart.max() < 0.05:
        title = f"One crossing at {percent(strength)}: every mixing gives the same"
    return finished(drawn, title, f"Five crossings, the middle of each: {', '.join(said)}.")


# What single-constant Kubelka–Munk and the two averages make of reflectance 0.1 and 0.9.
_DARK, _LIGHT = 0.1, 0.9


def greys_figure(n: float) -> Picture:
    """Draw what a 10 % and a 90 % grey in equal parts come to under four rules."""
    dark, light = (linear_to_srgb([value] * 3) for value in (_DARK, _LIGHT))

    def mixed(mixing: str, n: float = 1.0) -> float:
        tone = mix_tones(light, [dark], 0.5, mixing, yule_nielsen=n)[1, 0]
        return float(srgb_to_linear(tone)[0])

    rows = [
        ("light side by side\n(n = 1)", mixed("source-over-linear")),
        (f"light scattered in the cloth\n(Yule–Nielsen n = {n:.1f})",
         mixed("source-over-linear", n)),
        ("the limit of large n\n(geometric mean)", float(np.sqrt(_DARK * _LIGHT))),
        ("pigment, an estimate\n(Kubelka–Munk)", mixed("pigment")),
    ]  # fmt: skip
    drawn, (axes,) = page(2.6, [1])
    for index, (_, value) in enumerate(rows):
        y = len(rows) - index
        grey = linear_to_srgb([value] * 3)
        axes.barh(y, value, height=0.66, color=hex_of(grey), edgecolor=PALE, linewidth=0.5)
        axes.text(value + 0.01, y, percent(value, 1), va="center", fontsize=10, color=INK)
    axes.set_yticks(range(len(rows), 0, -1), [name for name, _ in rows])
    axes.set_xlim(0, 1)
    axes.set_xticks(_QUARTERS, ["0", "25 %", "50 %", "75 %", "100 %"])
    axes.set_xlabel("light reflected", fontsize=10, color=MUTED)
    plain(axes)
    axes.tick_params(axis="y", labelsize=10, colors=INK, length=0)
    title = (
        f"A 10 % grey and a 90 % grey in equal parts reflect {percent(rows[0][1])} as light, "
        f"{percent(rows[1][1])} at n = {n:.1f}, and {percent(rows[3][1])} as pigment (estimate)"
    )
    return finished(drawn, title, f"Four bars in the greys they stand for. {title}.")


def order_figure(
    first: ArrayLike,
    second: ArrayLike,
    ground: ArrayLike,
    strength: float,
    names: tuple[str, str] = ("first", "second"),
) -> Picture:
    """Draw both crossings of two colours, laid over and woven."""
    stripes = np.array([first, second], dtype=np.float64)
    drawn, panels = page(2.2, [1, 1, 0.16, 1, 1], gap=0.06)
    panels[2].axis("off")
    apart, codes = {}, {}
    for mixing, pair in (("source-over", panels[:2]), ("woven", panels[3:])):
        tones = mix_tones(ground, stripes, strength, mixing)
        for axes, (i, j) in zip(pair, ((1, 2), (2, 1)), strict=True):
            panel(axes, cell_of(tones, i, j), hex_of(tones[i, j]))
        apart[mixing] = float(_difference(tones[1, 2], tones[2, 1]))
        codes[mixing] = f"{hex_of(tones[1, 2])} and {hex_of(tones[2, 1])}"
    upper, lower = (cut(name, 12) for name in names)
    heads = (
        f"laid over:\n{upper} on top",
        f"laid over:\n{lower} on top",
        "",
        f"woven:\n{upper} as warp",
        f"woven:\n{lower} as warp",
    )
    for axes, text in zip(panels, heads, strict=True):
        axes.set_title(text, fontsize=10, color=INK)
    title = (
        f"At {percent(strength)} the two crossings differ by ΔE00 {apart['source-over']:.1f} laid "
        f"over, and by {apart['woven']:.1f} woven"
    )
    alt = f"Laid over {codes['source-over']}; woven {codes['woven']}. {title}."
    return finished(drawn, title, alt)


def depth_figure(strength: float) -> Picture:
    """Draw how deep a stripe and its self-crossing come, laid over and woven."""
    alpha = np.linspace(0, 1, 101)
    grounds, stripes = np.ones((101, 3)), np.zeros((101, 1, 3))
    # Black on white: what is missing to white is the share of the stripe's colour.
    laid = 1 - mix_tones(grounds, stripes, alpha)[..., 0]
    woven = 1 - srgb_to_linear(mix_tones(grounds, stripes, alpha, "woven"))[..., 0]
    at = round(strength * 100)
    drawn, (axes,) = page(3.0, [1])
    # The laid-over single runs along the woven self-crossing: drawn last, its dashes show.
    lines = (
        (laid, 1, 1, "-", "laid over, self-crossing"),
        (woven, 1, 1, "-", "woven, self-crossing"),
        (laid, 1, 0, "--", "laid over, single"),
        (woven, 1, 0, "--", "woven, single"),
    )
    for values, i, j, style, name in lines:
        colour = "#1f4fa3" if values is laid else "#c2602a"
        axes.plot(alpha, values[:, i, j], style, color=colour, linewidth=2, label=name)
        axes.plot(alpha[at], values[at, i, j], "o", color=colour, markersize=6)
    axes.axvline(alpha[at], color=PALE, linewidth=0.8, zorder=0)
    axes.set_xlim(0, 1.005)
    axes.set_ylim(0, 1.03)
    axes.set_yticks(_QUARTERS, [percent(value) for value in _QUARTERS])
    _strength_axis(axes, "share of the full colour")
    axes.legend(frameon=False, fontsize=10, loc="upper left", labelcolor=INK)
    title = (
        f"At {percent(strength)}: laid over, the single has {percent(laid[at, 1, 0])} and the "
        f"self-crossing {percent(laid[at, 1, 1])} of the full colour; woven, "
        f"{percent(woven[at, 1, 0])} and {percent(woven[at, 1, 1])}"
    )
    return finished(drawn, title, f"Four curves over overlay strength. {title}.")


def pastel_figure(
    pastel: ArrayLike, deep: ArrayLike, ground: ArrayLike, strength: float
) -> Picture:
    """Draw how a pastel and a deep colour stand out from the ground as strength grows."""
    alpha = np.linspace(0, 1, 101)
    base = np.broadcast_to(np.asarray(ground, dtype=np.float64), (101, 3))
    stripes = np.broadcast_to(np.array([pastel, deep], dtype=np.float64), (101, 2, 3))
    tones = mix_tones(base, stripes, alpha)
    at = round(strength * 100)
    apart = _difference(tones[:, 1:, 0], base[:, None])
    drawn, (axes,) = page(3.1, [1])
    for stripe, name in ((1, "deep"), (0, "pastel")):
        end = stripes[0, stripe]
        line = hex_of(end * (0.6 if legible(end) == "#000000" else 1))
        axes.plot(alpha, apart[:, stripe], color=line, linewidth=2.2)
        axes.plot(alpha[at], apart[at, stripe], "o", color=line, markersize=6)
        axes.text(1.01, apart[-1, stripe], name, fontsize=10, color=INK, va="center")
    top = float(apart.max()) * 1.05 + 1
    # Under the axis, the stripes themselves as they come out at each strength.
    for stripe, low in ((1, -0.13), (0, -0.26)):
        strip = srgb_to_bytes(tones[None, :, stripe + 1, 0])
        extent = (0, 1, low * top, (low + 0.11) * top)
        axes.imshow(strip, extent=extent, aspect="auto", interpolation="nearest")
    axes.axvline(alpha[at], color=PALE, linewidth=0.9)
    axes.set_xlim(0, 1)
    axes.set_ylim(-0.28 * top, top)
    axes.set_yticks([tick for tick in range(0, 101, 10) if tick <= top])
    _strength_axis(axes, "ΔE00 from the ground")
    title = (
        f"At {percent(strength)} the pastel stripe stands ΔE00 {apart[at, 0]:.1f} from the ground, "
        f"the deep one {apart[at, 1]:.1f}"
    )
    alt = f"Two curves over overlay strength, with strips of the stripe colours. {title}."
    return finished(drawn, title, alt)


# Whole cloth: threads, distance, mixings, vision.


def threads_figure(warp: ArrayLike, weft: ArrayLike, ends: int) -> Picture:
    """Draw a plain-weave cell of so many ends and picks, and the warp's share by count."""
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
    """
    length = Length(size)
    far = Length.of_mm(metres * 1000)
    minutes = arc_minutes(length, far)
    limit = fusing_distance(length).mm / 1000
    pixels = 8
    # Whole repeats, so that the blur wraps.
    near = cloth_of(colourway.tones, pixels=pixels)
    seen = _blurred(srgb_to_linear(near), 2 * pixels / minutes)
    flat = far_colour(colourway.tones)
    drawn, (left, middle, right) = page(2.45, [1, 1, 1])
    panel(left, near, "close by")
    panel(middle, np.clip(linear_to_srgb(np.clip(seen, 0, 1)), 0, 1), f"from {metres:g} m")
    panel(right, np.broadcast_to(flat, (2, 2, 3)), f"far off: {hex_of(flat)}")
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
    """Draw the colourway under every mixing, side by side."""
    table = compare_mixings(colourway)
    drawn, panels = page(1.7, [1] * len(table.mixings))
    for axes, name, tones in zip(panels, table.mixings, table.tones, strict=True):
        panel(axes, cloth_of(tones, pixels=4), mixing_caption(name))
    farthest = np.unravel_index(table.mean.argmax(), table.mean.shape)
    first, second = (find_mixing(table.mixings[index]).label for index in farthest)
    title = (
        f"At {percent(colourway.strength)}, crossings differ most between {first} and {second}: "
        f"ΔE00 {table.mean.max():.1f} on average"
    )
    if table.mean.max() < 0.05:
        title = f"At {percent(colourway.strength)} every mixing gives the same cloth"
    return finished(drawn, title, f"{table}, side by side. {title}.")


_TITLES = {"normal": "as it is", "grey": "grey"}


def vision_figure(colourway: Colourway, severity: float) -> Picture:
    """Draw the cloth as it is, under three colour-vision deficiencies, and in grey."""
    drawn, panels = page(1.75, [1] * len(VISIONS))
    least = {}
    for axes, vision in zip(panels, VISIONS, strict=True):
        seen = see_as(colourway.tones, vision, severity)
        least[vision] = float(score_tones(colourway.tones, vision, severity).least_edge)
        caption = f"{_TITLES.get(vision, vision)}\nΔE00 {least[vision]:.1f}"
        panel(axes, cloth_of(seen, pixels=4), caption)
    worst = min(least, key=least.__getitem__)
    estimate = " (estimate)" if find_mixing(colourway.mixing).estimate else ""
    lead = f"At severity {percent(severity)} the faintest edge of this cloth{estimate}"
    found = f"is ΔE00 {least['normal']:.1f} as it is, and least for {worst}: {least[worst]:.1f}"
    if worst == "normal":
        found = f"is ΔE00 {least['normal']:.1f} as it is, and no fainter for anyone"
    title = f"{lead} {found}"
    said = ", ".join(f"{_TITLES.get(name, name)} {value:.1f}" for name, value in least.items())
    return finished(drawn, title, f"{colourway}, five times; faintest edge: {said}. {title}.")
