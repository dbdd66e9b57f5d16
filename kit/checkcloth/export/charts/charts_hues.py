"""The jump of CIEDE2000 at opposite hues: why it is there, and where it is met.

The formula weighs by the mean of both hues. Two hues less than 180° apart have their mean
between them; beyond 180° the mean lies on the other side of the circle, so at 180° the
weights change at once although the colours hardly do (Sharma, Wu and Dalal, *Color Research
& Application* 30:21–30, 2005). CIEDE2000 was fitted to small differences, where opposite
hues are near-greys and the jump is below a unit; between strong colours it is many units.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np

from checkcloth.arguments import Floats, as_number
from checkcloth.cloth.tones import stack
from checkcloth.colour.ciede2000 import delta_e_2000
from checkcloth.colour.difference import delta_e_hyab
from checkcloth.colour.spaces import lab_to_srgb, srgb_to_lab
from checkcloth.colour.vision import see_as
from checkcloth.export.charts.chart_style import (
    INK,
    MUTED,
    drawing,
    drawing_on,
    draws_on,
    finished,
    key_under,
)
from checkcloth.quality.sweep import Sweep

if TYPE_CHECKING:
    from matplotlib.axes import Axes

# A step of CIEDE2000 that is worth a mark in a chart: a choice of ours.
_WORTH = 0.3


class HueJump(NamedTuple):
    """A step that CIEDE2000 makes where the hues of a pair become opposite.

    Attributes
    ----------
    strength : float
        The end of the step of the sweep's grid in which it lies.
    pair : int
    size : float
        How much more the measure changes there than beside it.
    """

    strength: float
    pair: int
    size: float


def hue_jumps(swept: Sweep) -> list[HueJump]:
    """Return where the pairs of a sweep jump because their hues pass 180° from each other.

    Only CIEDE2000 does; other measures have none. Steps under 0.3 are left out.
    """
    if swept.measure != "de2000":
        return []
    tones = replace(stack([swept.colourway])[0], strengths=swept.strengths).tones()
    ab = srgb_to_lab(see_as(tones, swept.vision))[..., 1:]
    one, two = ab[:, *swept.pairs.one.T], ab[:, *swept.pairs.two.T]
    along = (one * two).sum(axis=-1)
    across = one[..., 0] * two[..., 1] - one[..., 1] * two[..., 0]
    opposite = (along[1:] < 0) & (along[:-1] < 0) & (np.sign(across[1:]) != np.sign(across[:-1]))
    steps = np.diff(swept.values, axis=0)
    beside = np.pad(steps, ((1, 1), (0, 0)), mode="edge")
    size = steps - (beside[:-2] + beside[2:]) / 2
    return [
        HueJump(float(swept.strengths[row + 1]), pair, float(size[row, pair]))
        for row, pair in np.argwhere(opposite & (np.abs(size) >= _WORTH)).tolist()
    ]


def _turned(hue: float, chroma: float, lightness: float, turns: Floats) -> tuple[Floats, Floats]:
    """Lab of a colour, and of colours of its lightness and chroma that are turned from it."""
    angles = np.deg2rad(hue + np.append(0.0, turns))
    lab = np.stack(
        [np.full(len(angles), lightness), chroma * np.cos(angles), chroma * np.sin(angles)], axis=1
    )
    return lab[0], lab[1:]


@draws_on(1)
def opposite_hues_chart(
    hue: float = 150.0, chroma: float = 40.0, lightness: float = 60.0, *, ax: Axes | None = None
) -> Any:
    """Draw CIEDE2000 and HyAB of a colour and one of the same depth, turned round the hue circle.

    At 180° CIEDE2000 jumps and HyAB does not: between strong colours of nearly opposite
    hues a difference of several ΔE00 can be the formula's and not the cloth's.

    Parameters
    ----------
    hue : float
        Of the colour that stands still, in degrees of L*C*h.
    chroma : float
        C* of both, up to 100; what lies outside sRGB is drawn as near as it can be.
    lightness : float
        L* of both.
    ax : matplotlib axes, optional
        To draw on, with your own settings; save their figure by matplotlib.

    Returns
    -------
    Picture, or the axes that were given

    Raises
    ------
    ArgumentError
        For values out of range, and what is no axes.

    Examples
    --------
    >>> print(opposite_hues_chart().title)
    At opposite hues ΔE00 jumps from 41.7 to 58.8 though the colours hardly change; HyAB does not.
    """
    turned = as_number(hue, "hue", -360, 360)
    strong = as_number(chroma, "chroma", 0, 100, low_open=True)
    light = as_number(lightness, "lightness", 0, 100)
    if ax is not None:
        with drawing_on(ax, 1, "ax") as (own,):
            _draw(own, turned, strong, light)
            key_under(own, drop=-0.2)
        return ax
    first, (before, after) = _turned(turned, strong, light, np.array([180 - 1e-6, 180 + 1e-6]))
    low, high = (float(delta_e_2000(first, other)) for other in (before, after))
    head = (
        f"At opposite hues ΔE00 jumps from {low:.1f} to {high:.1f} though the colours hardly "
        "change; HyAB does not."
    )
    with drawing(3.6) as figure:
        _draw(figure.subplots(), turned, strong, light)
        figure.legend(loc="outside lower center", ncols=2, fontsize=10)
        alt = (
            f"CIEDE2000 and HyAB of a colour of L* {light:g}, C* {strong:g}, hue {turned:g}° and "
            f"one turned from it by 90 to 270°, drawn over the turn. {head}"
        )
        return finished(figure, head, alt)


def _draw(axes: Axes, hue: float, chroma: float, lightness: float) -> None:
    turns = np.concatenate([np.linspace(90, 180 - 1e-6, 181), np.linspace(180 + 1e-6, 270, 181)])
    first, others = _turned(hue, chroma, lightness, turns)
    apart = delta_e_2000(first, others)
    for part in (turns < 180, turns > 180):
        axes.plot(
            turns[part], apart[part], color=INK, linewidth=2.2,
            label="ΔE00" if part[0] else None,
        )  # fmt: skip
    axes.plot(
        turns, delta_e_hyab(first, others), color=MUTED, linewidth=1.8, linestyle="--", label="HyAB"
    )
    axes.axvline(180, color=MUTED, linewidth=0.8, linestyle=(0, (2, 2)))
    top = 1.12 * max(float(apart.max()), 2 * chroma)
    shown = np.linspace(90, 270, 13)
    swatches = np.clip(lab_to_srgb(_turned(hue, chroma, lightness, shown)[1]), 0, 1)
    axes.scatter(
        shown, np.full(len(shown), top * 0.06), s=110, c=swatches, marker="s", edgecolors=INK,
        linewidths=0.6, clip_on=False, zorder=4,
    )  # fmt: skip
    axes.set(
        xlim=(90, 270), ylim=(0, top), ylabel="how far apart",
        xlabel="turned from the first colour, degrees of hue",
    )  # fmt: skip
    axes.set_xticks([90, 120, 150, 180, 210, 240, 270])
