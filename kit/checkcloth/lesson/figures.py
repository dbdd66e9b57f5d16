"""The figures of the lesson in mixing: what a crossing is made of, and what it comes to.

Each function takes colours as encoded sRGB and the slider's value, and returns a picture
whose title says what to see in it.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from checkcloth.arguments import Floats
from checkcloth.cloth.mixing import MIXINGS, find_mixing, mix_tones
from checkcloth.colour.ciede2000 import delta_e_2000
from checkcloth.colour.css import hex_of
from checkcloth.colour.spaces import linear_to_srgb, srgb_to_bytes, srgb_to_lab, srgb_to_linear
from checkcloth.export.charts.chart_style import cut
from checkcloth.export.picture.picture import Picture
from checkcloth.lesson.figure_parts import (
    INK,
    MUTED,
    PALE,
    bar,
    cell_of,
    finished,
    label,
    legible,
    mixing_caption,
    page,
    panel,
    percent,
    plain,
)

__all__ = [
    "depth_figure",
    "greys_figure",
    "kinds_figure",
    "order_figure",
    "pastel_figure",
    "shares_figure",
]


def _apart(one: ArrayLike, two: ArrayLike) -> Floats:
    return delta_e_2000(srgb_to_lab(one), srgb_to_lab(two))


def shares_figure(warp: ArrayLike, weft: ArrayLike, ground: ArrayLike, strength: float) -> Picture:
    """Draw a crossing, and the shares of warp, weft and ground in its four tones.

    >>> shares_figure((1, 0, 0), (0, 0, 1), (1, 1, 1), 0.5).title
    'At 50 % the crossing holds 50 % of the warp, 25 % of the weft and 25 % of the ground'
    """
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
    for side in shares.spines.values():
        side.set_visible(False)
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
    """Draw the same crossing under every mixing, each with its colour code.

    >>> kinds_figure((1, 0.8, 0), (0, 0, 1), (1, 1, 1), 0.8).title[:27]
    'One crossing at 80 %, five '
    """
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
    one, two = np.unravel_index(apart.argmax(), apart.shape)
    title = (
        f"One crossing at {percent(strength)}, five answers: {MIXINGS[one]} and "
        f"{find_mixing(MIXINGS[two]).label} lie farthest apart, ΔE00 {apart.max():.0f}"
    )
    if apart.max() < 0.05:
        title = f"One crossing at {percent(strength)}: every mixing gives the same"
    return finished(drawn, title, f"Five crossings, the middle of each: {', '.join(said)}.")


# What single-constant Kubelka–Munk and the two averages make of reflectance 0.1 and 0.9.
_DARK, _LIGHT = 0.1, 0.9


def greys_figure(n: float) -> Picture:
    """Draw what a 10 % and a 90 % grey in equal parts come to under four rules.

    >>> greys_figure(2.0).png[1:4]
    b'PNG'
    """
    dark, light = (linear_to_srgb([value] * 3) for value in (_DARK, _LIGHT))

    def mixed(mixing: str, **options: float) -> float:
        tone = mix_tones(light, [dark], 0.5, mixing, **options)[1, 0]
        return float(srgb_to_linear(tone)[0])

    rows = [
        ("light side by side\n(n = 1)", mixed("source-over-linear")),
        (f"light scattered in the cloth\n(Yule–Nielsen n = {n:.1f})",
         mixed("source-over-linear", yule_nielsen=n)),
        ("the limit of large n\n(geometric mean)", float(np.sqrt(_DARK * _LIGHT))),
        ("pigment, an estimate\n(Kubelka–Munk)", mixed("pigment")),
    ]  # fmt: skip
    drawn, (axes,) = page(2.6, [1])
    for place, (_, value) in enumerate(rows):
        y = len(rows) - place
        grey = linear_to_srgb([value] * 3)
        axes.barh(y, value, height=0.66, color=hex_of(grey), edgecolor=PALE, linewidth=0.5)
        axes.text(value + 0.01, y, f"{percent(value, 1)}", va="center", fontsize=10, color=INK)
    axes.set_yticks(range(len(rows), 0, -1), [name for name, _ in rows])
    axes.set_xlim(0, 1)
    axes.set_xticks([0, 0.25, 0.5, 0.75, 1], ["0", "25 %", "50 %", "75 %", "100 %"])
    axes.set_xlabel("light reflected", fontsize=10, color=MUTED)
    plain(axes)
    axes.tick_params(axis="y", labelsize=10, colors=INK, length=0)
    title = (
        f"A 10 % grey and a 90 % grey in equal parts reflect {percent(rows[0][1])} as light, "
        f"{percent(rows[1][1])} at n = {n:.1f}, and {percent(rows[3][1])} as pigment (estimate)"
    )
    return finished(drawn, title, f"Four bars in the greys they stand for. {title}.")


def order_figure(
    one: ArrayLike,
    two: ArrayLike,
    ground: ArrayLike,
    strength: float,
    names: tuple[str, str] = ("first", "second"),
) -> Picture:
    """Draw both crossings of two colours, laid over and woven.

    >>> order_figure((1, 0, 0), (0, 0, 1), (1, 1, 1), 0.5).png[1:4]
    b'PNG'
    """
    stripes = np.array([one, two], dtype=np.float64)
    drawn, panels = page(2.2, [1, 1, 0.16, 1, 1], gap=0.06)
    panels[2].axis("off")
    apart, codes = {}, {}
    for mixing, places in (("source-over", panels[:2]), ("woven", panels[3:])):
        tones = mix_tones(ground, stripes, strength, mixing)
        for axes, (i, j) in zip(places, ((1, 2), (2, 1)), strict=True):
            panel(axes, cell_of(tones, i, j), hex_of(tones[i, j]))
        apart[mixing] = float(_apart(tones[1, 2], tones[2, 1]))
        codes[mixing] = f"{hex_of(tones[1, 2])} and {hex_of(tones[2, 1])}"
    first, second = (cut(name, 12) for name in names)
    heads = (
        f"laid over:\n{first} on top",
        f"laid over:\n{second} on top",
        "",
        f"woven:\n{first} as warp",
        f"woven:\n{second} as warp",
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
    """Draw how deep a stripe and its self-crossing come, laid over and woven.

    >>> depth_figure(0.5).png[1:4]
    b'PNG'
    """
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
    quarters = [0, 0.25, 0.5, 0.75, 1]
    axes.set_xticks(quarters, [f"{percent(value)}" for value in quarters])
    axes.set_yticks(quarters, [f"{percent(value)}" for value in quarters])
    axes.set_xlabel("overlay strength", fontsize=10, color=MUTED)
    axes.set_ylabel("share of the full colour", fontsize=10, color=MUTED)
    plain(axes)
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
    """Draw how a pastel and a deep colour stand out from the ground as strength grows.

    >>> pastel_figure((1, 0.8, 0.8), (0.7, 0.1, 0.2), (1, 1, 1), 0.5).png[1:4]
    b'PNG'
    """
    alpha = np.linspace(0, 1, 101)
    base = np.broadcast_to(np.asarray(ground, dtype=np.float64), (101, 3))
    stripes = np.broadcast_to(np.array([pastel, deep], dtype=np.float64), (101, 2, 3))
    tones = mix_tones(base, stripes, alpha)
    at = round(strength * 100)
    apart = _apart(tones[:, 1:, 0], base[:, None])
    drawn, (axes,) = page(3.1, [1])
    for place, name in ((1, "deep"), (0, "pastel")):
        end = stripes[0, place]
        line = hex_of(end * (0.6 if legible(end) == "#000000" else 1))
        axes.plot(alpha, apart[:, place], color=line, linewidth=2.2)
        axes.plot(alpha[at], apart[at, place], "o", color=line, markersize=6)
        axes.text(1.01, apart[-1, place], name, fontsize=10, color=INK, va="center")
    top = float(apart.max()) * 1.05 + 1
    # Under the axis, the stripes themselves as they come out at each strength.
    for place, low in ((1, -0.13), (0, -0.26)):
        strip = srgb_to_bytes(tones[None, :, place + 1, 0])
        extent = (0, 1, low * top, (low + 0.11) * top)
        axes.imshow(strip, extent=extent, aspect="auto", interpolation="nearest")
    axes.axvline(alpha[at], color=PALE, linewidth=0.9)
    axes.set_xlim(0, 1)
    axes.set_ylim(-0.28 * top, top)
    axes.set_yticks([tick for tick in range(0, 101, 10) if tick <= top])
    quarters = [0, 0.25, 0.5, 0.75, 1]
    axes.set_xticks(quarters, [f"{percent(value)}" for value in quarters])
    axes.set_xlabel("overlay strength", fontsize=10, color=MUTED)
    axes.set_ylabel("ΔE00 from the ground", fontsize=10, color=MUTED)
    plain(axes)
    title = (
        f"At {percent(strength)} the pastel stripe stands ΔE00 {apart[at, 0]:.1f} from the ground, "
        f"the deep one {apart[at, 1]:.1f}"
    )
    alt = f"Two curves over overlay strength, with strips of the stripe colours. {title}."
    return finished(drawn, title, alt)
