"""A strike-off in Lab: where each tone was wanted, where it was found, and how far is allowed."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from checkcloth.arguments import Floats, require_type
from checkcloth.colour.spaces import lab_to_srgb
from checkcloth.export.charts.chart_style import (
    INK,
    MUTED,
    PALE,
    cut,
    drawing,
    drawing_on,
    draws_on,
    finished,
    key_beside,
)
from checkcloth.quality.strike_off import StrikeOff
from checkcloth.quality.tolerance import acceptance_weights

if TYPE_CHECKING:
    from matplotlib.axes import Axes

# So many names stand beside the planes; of more tones those that are farthest off.
_MOST_NAMES = 24


@draws_on(2)
def strike_off_chart(result: StrikeOff, *, axes: Any = None) -> Any:
    """Draw a strike-off in the a*b* plane and in lightness over chroma.

    An arrow runs from the tone that was wanted, a ring in its colour, to the tone that was
    found: a disc, or a square where it fails. The ellipse round what was wanted is the
    tolerance, CMC(2:1), cut through its middle; a tone can lie inside it in one plane and
    outside in the other.

    Parameters
    ----------
    result : StrikeOff
    axes : two matplotlib axes, optional
        To draw on, with your own settings: the a*b* plane, then lightness. They are
        returned; save their figure by matplotlib.

    Returns
    -------
    Picture, or the axes that were given

    Raises
    ------
    ArgumentError
        For something else than a strike-off, or not two axes.
    """
    require_type(result, "result", StrikeOff)
    if axes is not None:
        with drawing_on(axes, 2, "axes") as (plane, ladder):
            key_beside(ladder, _draw(plane, ladder, result))
        return axes
    named = min(len(result.checks), _MOST_NAMES)
    with drawing(4.9 + 0.17 * np.ceil(named / 2)) as figure:
        plane, ladder = figure.subplots(1, 2)
        handles = _draw(plane, ladder, result)
        figure.legend(
            handles=handles, loc="outside lower center", ncols=2, fontsize=9, handlelength=1.2
        )
        failed = sum(not check.passed for check in result.checks)
        worst = max(result.checks, key=lambda check: check.cmc)
        head = (
            f"{failed} of {len(result.checks)} tones are out of CMC(2:1) {result.tolerance:g}"
            if failed
            else f"Every measured tone is within CMC(2:1) {result.tolerance:g}"
        )
        farthest = f"farthest off is {worst.tone}, {worst.cmc:.2f}, {worst.direction}"
        listed = "; ".join(map(str, result.checks[:_MOST_NAMES]))
        alt = (
            f"Tones of {result.colourway} in the a*b* plane and in lightness over chroma, an arrow "
            f"from wanted to found. {head}; {farthest}. {listed}."
        )
        return finished(figure, f"{head}; {farthest}.", alt)


def _draw(plane: Axes, ladder: Axes, result: StrikeOff) -> list[Any]:
    """Draw both planes, and return the key: the tones' numbers and names."""
    from matplotlib.lines import Line2D

    wanted = np.array([check.wanted for check in result.checks])
    found = np.array([check.found for check in result.checks])
    size = acceptance_weights(wanted) * result.tolerance
    hue = np.arctan2(wanted[:, 2], wanted[:, 1])
    # Lightness over chroma along each tone's own hue, so that an arrow keeps its length there.
    along = found[:, 1] * np.cos(hue) + found[:, 2] * np.sin(hue)
    chroma = np.hypot(wanted[:, 1], wanted[:, 2])
    order = np.argsort([-check.cmc for check in result.checks], kind="stable")
    numbers = {int(row): place for place, row in enumerate(order[:_MOST_NAMES], 1)}
    _draw_plane(plane, wanted[:, 1:], found[:, 1:], size[:, 1:], hue, result, numbers)
    _draw_plane(
        ladder, np.c_[chroma, wanted[:, 0]], np.c_[along, found[:, 0]], size[:, [1, 0]],
        np.zeros(len(hue)), result, numbers,
    )  # fmt: skip
    plane.set(xlabel="a*:  − greener, redder +", ylabel="b*:  − bluer, yellower +")
    plane.set_aspect("equal", adjustable="box")
    plane.set_title("Hue and chroma")
    ladder.set(xlabel="C* along the wanted hue", ylabel="L*")
    ladder.set_title("Lightness over chroma")
    rgb = np.clip(lab_to_srgb(found), 0, 1)
    return [
        Line2D(
            [], [], linestyle="", marker="o" if result.checks[row].passed else "s",
            markerfacecolor=rgb[row], markeredgecolor=INK,
            label=f"{place}  {cut(result.checks[row].tone, 34)}: {result.checks[row].cmc:.2f}"
            + ("" if result.checks[row].passed else ", FAIL"),
        )
        for row, place in numbers.items()
    ]  # fmt: skip


def _draw_plane(
    axes: Axes,
    wanted: Floats,
    found: Floats,
    size: Floats,
    angle: Floats,
    result: StrikeOff,
    numbers: dict[int, int],
) -> None:
    """Arrows, ellipses of half-axes ``size`` (T, 2) turned by ``angle`` (T,), and numbers."""
    from matplotlib.patches import Ellipse

    rgb_wanted = np.clip(lab_to_srgb(np.array([check.wanted for check in result.checks])), 0, 1)
    rgb_found = np.clip(lab_to_srgb(np.array([check.found for check in result.checks])), 0, 1)
    for row, check in enumerate(result.checks):
        width, height = (2 * size[row]).tolist()
        axes.add_patch(
            Ellipse(
                tuple(wanted[row]), width, height, angle=float(np.degrees(angle[row])),
                fill=False, edgecolor=MUTED, linewidth=0.9, linestyle=(0, (3, 2)),
            )
        )  # fmt: skip
        axes.annotate(
            "", tuple(found[row]), tuple(wanted[row]),
            arrowprops={"arrowstyle": "-|>", "color": INK, "linewidth": 0.9, "shrinkA": 0,
                        "shrinkB": 0, "mutation_scale": 7},
        )  # fmt: skip
        axes.scatter(
            wanted[row, 0], wanted[row, 1], s=26, marker="o", facecolors="none",
            edgecolors=[rgb_wanted[row]], linewidths=1.6, zorder=3,
        )  # fmt: skip
        axes.scatter(
            found[row, 0], found[row, 1], s=26, marker="o" if check.passed else "s",
            c=[rgb_found[row]], edgecolors=INK, linewidths=0.8, zorder=4,
        )  # fmt: skip
        if row in numbers:
            axes.annotate(
                str(numbers[row]), tuple(found[row]), xytext=(5, 4), textcoords="offset points",
                fontsize=9, zorder=5,
            )  # fmt: skip
    axes.axhline(0, color=PALE, linewidth=0.6, zorder=0)
    axes.axvline(0, color=PALE, linewidth=0.6, zorder=0)
    low = np.minimum(wanted - size, found).min(axis=0)
    high = np.maximum(wanted + size, found).max(axis=0)
    room = 0.06 * (high - low) + 1
    axes.set_xlim(low[0] - room[0], high[0] + room[0])
    axes.set_ylim(low[1] - room[1], high[1] + room[1])
