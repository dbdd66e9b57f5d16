"""How scores move with the overlay strength, and what another ground or palette would bring."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, Any

import numpy as np

from checkcloth.arguments import require_type
from checkcloth.cloth.check import Check
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.named_colour import NamedColour
from checkcloth.cloth.palette import Palette
from checkcloth.errors import ArgumentError
from checkcloth.export.charts.chart_style import (
    INK,
    MARKS,
    MUTED,
    PALE,
    cut,
    drawing,
    drawing_on,
    draws_on,
    estimate_note,
    finished,
    key_under,
    show_cloth,
)
from checkcloth.export.charts.charts_hues import hue_jumps
from checkcloth.quality.grounds import GroundGain, ground_gains
from checkcloth.quality.sweep import Binding, Span, Sweep, sweep
from checkcloth.scoring.contrast import score
from checkcloth.scoring.measures import find_measure
from checkcloth.scoring.pairs import KINDS, kinds_of
from checkcloth.scoring.vocabulary import PAIR_WORDS

if TYPE_CHECKING:
    from matplotlib.axes import Axes

# So many bars, and pale lines, one picture has room for.
_MOST_GROUNDS = 24
_MOST_LINES = 400
_MOST_BINDING = 4


@draws_on(1)
def strength_chart(
    colourway: Colourway,
    *,
    measure: str = "de2000",
    threshold: float | None = None,
    kinds: str | Iterable[str] = "edges",
    vision: str = "normal",
    check: Check | None = None,
    ax: Axes | None = None,
) -> Any:
    """Draw each pair over the strength, the least of each kind, and where all hold.

    The pairs at which that window ends are drawn dark and named: see :attr:`Sweep.binding`.

    Parameters
    ----------
    colourway, measure, threshold, kinds, vision, check :
        See :func:`sweep`.
    ax : matplotlib axes, optional
        To draw on, with your own settings; save their figure by matplotlib.

    Returns
    -------
    Picture, or the axes that were given

    Raises
    ------
    ArgumentError
        As for :func:`sweep`, and for what is no axes.
    """
    require_type(colourway, "colourway", Colourway)
    swept = sweep(
        colourway, measure=measure, threshold=threshold, kinds=kinds, vision=vision, steps=200,
        check=check,
    )  # fmt: skip
    if not len(swept.pairs):
        raise ArgumentError("kinds", "kinds of pairs that the check has", kinds)
    if ax is not None:
        with drawing_on(ax, 1, "ax") as (own,):
            _draw_strength(own, swept, kinds)
            key_under(own)
        return ax
    label = find_measure(measure).label
    window = swept.window
    with drawing(4.9) as figure:
        _draw_strength(figure.subplots(), swept, kinds)
        figure.legend(loc="outside lower center", ncols=1, fontsize=9)
        held = " and ".join("{} to {} %".format(*span.per_cent()) for span in window)
        head = (
            f"Every pair is at {label} {swept.threshold:g} or more from {held}"
            if window
            else f"At no strength is every pair at {label} {swept.threshold:g} or more"
        )
        note = estimate_note(colourway)
        binds = "; ".join(_bound(swept, each) for each in swept.binding)
        alt = (
            f"{label} of {len(swept.pairs)} tone pairs of {colourway} against overlay strength "
            f"from 0 to 100 %. {head}. {f'{binds}. ' if binds else ''}"
            f"It stands at {colourway.strength * 100:.4g} % now.{note}"
        )
        title = f"{head} ({colourway.mixing}, {vision} vision).{note}"
        return finished(figure, title, alt)


def _bound(swept: Sweep, binding: Binding) -> str:
    """Say which pair decides: ``low end, 39.91 %: white / navy on white``."""
    strength, end = binding.strength, binding.end
    low, _ = Span(strength, 1.0).per_cent()
    _, high = Span(0.0, strength).per_cent()
    return f"{end}, {high if end == 'high end' else low} %: {swept.pairs.names[binding.pair]}"


def _draw_strength(axes: Axes, swept: Sweep, kinds: str | Iterable[str]) -> None:
    measure = find_measure(swept.measure)
    _draw_pairs(axes, swept, kinds_of(kinds))
    _draw_window(axes, swept, swept.window)
    _draw_binding(axes, swept)
    _draw_jumps(axes, swept)
    strength = swept.colourway.strength * 100
    axes.axvline(strength, color=MUTED, linewidth=1.2, linestyle=(0, (4, 2)))
    axes.annotate(
        "now", (strength, 1), xycoords=("data", "axes fraction"),
        xytext=(4, -4), textcoords="offset points", va="top", fontsize=10, color=MUTED,
    )  # fmt: skip
    top = float(np.quantile(swept.values, 0.995)) * 1.05
    axes.set(
        xlim=(0, 100), ylim=(measure.lowest, max(top, swept.threshold * 1.2)),
        xlabel="overlay strength, %", ylabel=measure.label,
    )  # fmt: skip


def _draw_binding(axes: Axes, swept: Sweep) -> None:
    """The pairs that decide, dark, with a mark where they do."""
    for number, binding in enumerate(swept.binding[:_MOST_BINDING]):
        values = swept.values[:, binding.pair]
        height = float(np.interp(binding.strength, swept.strengths, values))
        words = _bound(swept, binding)
        axes.plot(
            swept.strengths * 100, values, color=INK, linewidth=1.4, zorder=2.5,
            linestyle=("-", (0, (1, 1)))[number % 2],
        )  # fmt: skip
        axes.plot(
            [binding.strength * 100], [height], linestyle="", color=INK, markersize=9, zorder=4,
            marker={"low end": ">", "high end": "<"}.get(binding.end, "v"),
            label=cut(words if binding.end == "closest" else f"binds at the {words}", 92),
        )  # fmt: skip


def _draw_jumps(axes: Axes, swept: Sweep) -> None:
    """Where a line jumps because the hues of its pair are opposite, and not the cloth."""
    jumps = hue_jumps(swept)
    if not jumps:
        return
    heights = [
        float(np.interp(each.strength, swept.strengths, swept.values[:, each.pair]))
        for each in jumps
    ]
    axes.plot(
        [each.strength * 100 for each in jumps], heights, linestyle="", marker="o", markersize=8,
        markerfacecolor="none", markeredgecolor=INK, zorder=4,
        label=f"hues are opposite: ΔE00 jumps by up to {max(abs(j.size) for j in jumps):.1f}, "
        "the cloth does not; HyAB has no jump",
    )  # fmt: skip


def _draw_pairs(axes: Axes, swept: Sweep, kinds: Sequence[str]) -> None:
    """Each pair in pale lines, and the least of each kind."""
    per_cent = swept.strengths * 100
    for values in swept.values.T[:_MOST_LINES]:
        axes.plot(per_cent, values, color=PALE, alpha=0.4, linewidth=0.7, zorder=1)
    for kind in kinds:
        mine = [n for n, own in enumerate(swept.pairs.kinds) if own == kind]
        if not mine:
            continue
        marker, line, colour = MARKS[kind]
        axes.plot(
            per_cent, swept.values[:, mine].min(axis=1), color=colour, linestyle=line,
            linewidth=2.2, marker=marker, markevery=20, markersize=6,
            label=f"{PAIR_WORDS[kind]}, closest pair",
        )  # fmt: skip


def _draw_window(axes: Axes, swept: Sweep, window: Sequence[Span]) -> None:
    """The threshold, and the strengths at which every pair reaches it."""
    axes.axhline(swept.threshold, color=INK, linewidth=1, linestyle=(0, (2, 2)))
    axes.annotate(
        f"threshold {swept.threshold:g}", (100, swept.threshold), xytext=(-4, 4),
        textcoords="offset points", ha="right", fontsize=10,
    )  # fmt: skip
    for span in window:
        ends = span.low * 100, span.high * 100
        axes.axvspan(*ends, color="#d8c266", alpha=0.4, zorder=0, linewidth=0)
        for end, text in zip(ends, span.per_cent(), strict=True):
            if 0 < end < 100:
                axes.annotate(
                    f"{text} %", (end, 0), xycoords=("data", "axes fraction"), xytext=(3, 4),
                    textcoords="offset points", fontsize=10, rotation=90, va="bottom",
                )  # fmt: skip


@draws_on(1)
def ground_chart(
    colourway: Colourway,
    grounds: Palette | Iterable[NamedColour | str],
    *,
    vision: str = "normal",
    ax: Axes | None = None,
) -> Any:
    """Draw what other grounds would bring: the closest edge on each, the best at the top.

    Parameters
    ----------
    colourway : Colourway
    grounds : Palette or iterable of colours
        At most 24 are drawn, the best.
    vision : str
    ax : matplotlib axes, optional
        To draw on, with your own settings; save their figure by matplotlib.

    Returns
    -------
    Picture, or the axes that were given

    Raises
    ------
    ArgumentError
        For no grounds, and what is no axes.
    """
    require_type(colourway, "colourway", Colourway)
    gains = ground_gains(colourway, grounds, vision)
    own = gains[0].least_edge - gains[0].gain
    drawn = gains[:_MOST_GROUNDS]
    if ax is not None:
        with drawing_on(ax, 1, "ax") as (given,):
            _draw_grounds(given, colourway, drawn, own)
        return ax
    with drawing(1.3 + 0.36 * len(drawn)) as figure:
        _draw_grounds(figure.subplots(), colourway, drawn, own)
        best = drawn[0]
        head = (
            f"{best.colourway.ground.name} gains most: the closest edge goes from ΔE00 {own:.1f} "
            f"to {best.least_edge:.1f}"
            if best.gain > 0.05
            else f"No other ground helps: the closest edge stays at ΔE00 {own:.1f}"
        )
        listed = "; ".join(f"{g.colourway.ground.name} {g.least_edge:.1f}" for g in drawn[:8])
        alt = f"Least edge ΔE00 of {colourway} on {len(drawn)} grounds. {head}. {listed}."
        return finished(figure, f"{head} ({vision} vision).{estimate_note(colourway)}", alt)


def _draw_grounds(
    axes: Axes, colourway: Colourway, drawn: Sequence[GroundGain], own: float
) -> None:
    """A bar a ground, in its colour, and a line where the colourway stands now."""
    heights = np.arange(len(drawn))[::-1]
    for y, gain in zip(heights.tolist(), drawn, strict=True):
        rgb = gain.colourway.ground.rgb
        axes.barh(y, gain.least_edge, color=[rgb], edgecolor=INK, linewidth=0.9, height=0.7)
        sign = "▲" if gain.gain > 0.05 else "▼" if gain.gain < -0.05 else "="
        axes.annotate(
            f"{gain.least_edge:.1f}  {sign} {gain.gain:+z.1f}",
            (max(own, gain.least_edge), y), xytext=(6, 0), textcoords="offset points",
            va="center", fontsize=10,
        )  # fmt: skip
    axes.axvline(own, color=INK, linewidth=1.2, linestyle=(0, (3, 2)))
    axes.annotate(
        f"now, on {cut(colourway.ground.name)}: {own:.1f}", (own, 1),
        xycoords=("data", "axes fraction"), xytext=(4, 2), textcoords="offset points",
        fontsize=10, ha="left" if own < 0.6 * drawn[0].least_edge else "right",
    )  # fmt: skip
    names = [cut(gain.colourway.ground.name) for gain in drawn]
    axes.set_yticks(heights, names, parse_math=False)
    axes.set(
        xlim=(0, max(own, drawn[0].least_edge) * 1.25 + 1),
        xlabel="closest tones that share an edge, ΔE00",
    )  # fmt: skip


@draws_on(3)
def compare_chart(
    first: Colourway,
    second: Colourway,
    *,
    visions: Sequence[str] = ("normal", "deutan", "grey"),
    check: Check | None = None,
    axes: Any = None,
) -> Any:
    """Draw two colourways side by side: their cloth, and every score on one line each.

    Parameters
    ----------
    first, second : Colourway
        They may differ in everything, the number of stripes too.
    visions : sequence of str
        Some of ``VISIONS``.
    check : Check, optional
        Whose bands both are laid in; an even check for each unless given.
    axes : three matplotlib axes, optional
        To draw on, with your own settings: the two cloths, then the scores. They are
        returned; save their figure by matplotlib.

    Returns
    -------
    Picture, or the axes that were given

    Raises
    ------
    ArgumentError
        For other things than colourways, unknown visions, and what is not three axes.
    """
    both = tuple(require_type(c, "colourway", Colourway) for c in (first, second))
    rows: list[tuple[str, float, float]] = []
    for vision in visions:
        scores = [score(colourway, vision, check=check) for colourway in both]
        for kind in KINDS[:3]:
            left, right = (float(getattr(s, kind).least_de2000) for s in scores)
            rows.append((f"{PAIR_WORDS[kind]}, {vision}", left, right))
    names = [cut(c.name or str(c), 34) for c in both]
    if axes is not None:
        with drawing_on(axes, 3, "axes") as (one, two, below):
            _draw_both((one, two), both, names, check)
            _draw_rows(below, rows)
        return axes
    with drawing(2.7 + 0.3 * len(rows)) as figure:
        grid = figure.add_gridspec(2, 2, height_ratios=(1, 0.16 * len(rows) + 0.5))
        above = [figure.add_subplot(grid[0, column]) for column in (0, 1)]
        _draw_both(above, both, names, check)
        _draw_rows(figure.add_subplot(grid[1, :]), rows)
        ahead = [sum(r[1] > r[2] + 0.05 for r in rows), sum(r[2] > r[1] + 0.05 for r in rows)]
        head = f"○ is farther apart in {ahead[0]} of {len(rows)} rows, ■ in {ahead[1]}"
        listed = "; ".join(f"{name}: {left:.1f} and {right:.1f}" for name, left, right in rows)
        alt = (
            f"Two colourways side by side, {first} (circle) and {second} (square). {head}. "
            f"{listed}."
        )
        return finished(figure, f"{head} (○ {names[0]}, ■ {names[1]}).", alt)


def _draw_both(
    axes: Sequence[Axes], both: Sequence[Colourway], names: Sequence[str], check: Check | None
) -> None:
    for mark, own, colourway, name in zip("○■", axes, both, names, strict=True):
        show_cloth(own, colourway, repeats=2 if len(colourway.stripes) < 4 else 1, check=check)
        own.set_title(f"{mark} {name}", loc="center", fontsize=10)


def _draw_rows(axes: Axes, rows: Sequence[tuple[str, float, float]]) -> None:
    """A line a row, from the circle of one colourway to the square of the other."""
    heights = np.arange(len(rows))[::-1]
    for y, (_, left, right) in zip(heights.tolist(), rows, strict=True):
        axes.plot([left, right], [y, y], color=PALE, linewidth=1.6, zorder=1)
    axes.scatter([r[1] for r in rows], heights, s=90, marker="o", facecolors="white",
                 edgecolors=INK, linewidths=1.6, zorder=3)  # fmt: skip
    axes.scatter([r[2] for r in rows], heights, s=60, marker="s", c=INK, zorder=2)
    axes.set_yticks(heights, [row[0] for row in rows])
    axes.set_xlim(left=0)
    axes.set_xlabel("closest pair of the kind, ΔE00")
    axes.grid(axis="x", color=PALE, alpha=0.3)
    axes.set_axisbelow(True)
