"""One chart of how the cost of a search grows."""

from __future__ import annotations

from collections.abc import Sequence

from checkcloth.export.charts.chart_style import INK, PALE, drawing, finished
from checkcloth.export.picture.picture import Picture
from checkcloth.search.growth import Growth

__all__ = ["growth_chart"]

_WORDS = {
    "colours": "colours to choose from",
    "stripes": "stripes in the check",
    "conditions": "conditions asked for",
}


def _found(curves: Sequence[Growth]) -> str:
    """What the curves show: where bounding saves most, as measured."""
    places = [(curve, place) for curve in curves for place in range(len(curve.steps))]
    curve, place = max(places, key=lambda at: at[0].every[at[1]] / at[0].best[at[1]])
    every, best = curve.every[place], curve.best[place]
    where = f"{curve.steps[place]} {_WORDS[curve.along]}"
    if every <= best:
        return "Looking at every colourway is never slower here than bounding (this machine)."
    return (
        f"Bounding saves most at {where}: {best:.2g} s where looking at every one takes "
        f"{every:.2g} s (this machine, one ground, one strength)."
    )


def growth_chart(curves: Sequence[Growth]) -> Picture:
    """Draw measured curves side by side on one scale of seconds.

    Parameters
    ----------
    curves : sequence of Growth
        At least one; see :func:`growth`.

    Examples
    --------
    >>> curve = Growth("stripes", (2, 4), (66, 495), (0.01, 0.02), (0.01, 0.01))
    >>> growth_chart([curve]).png[1:4]
    b'PNG'
    """
    from matplotlib.ticker import LogLocator, NullLocator

    words = []
    with drawing(3.6, 3.0 * len(curves) + 0.6) as figure:
        panels = figure.subplots(1, len(curves), sharey=True, squeeze=False)[0]
        for panel, curve in zip(panels, curves, strict=True):
            panel.plot(curve.steps, curve.every, "s-", color="#0072b2", label="every one looked at")
            panel.plot(
                curve.steps, curve.best, "o--", color="#d55e00", label="best 100 by bounding"
            )
            panel.set_yscale("log")
            panel.yaxis.set_major_locator(LogLocator(subs=(1, 2, 5)))
            panel.yaxis.set_major_formatter(lambda value, _: f"{value * 1000:g} ms")
            panel.yaxis.set_minor_locator(NullLocator())
            panel.set_xlabel(_WORDS[curve.along], color=INK)
            panel.set_xticks(list(curve.steps))
            panel.grid(axis="y", color=PALE, alpha=0.3)
            low, high = curve.colourways[0], curve.colourways[-1]
            many = f"{low:,} to {high:,} colourways" if low != high else f"{low:,} colourways"
            panel.set_title(many, fontsize=10)
            words.append(
                f"with {_WORDS[curve.along]} from {curve.steps[0]} to {curve.steps[-1]} "
                f"({many}), looking at every one takes {curve.every[0]:.2g} to "
                f"{curve.every[-1]:.2g} s, the best 100 by bounding {curve.best[0]:.2g} to "
                f"{curve.best[-1]:.2g} s"
            )
        panels[0].set_ylabel("time on one core")
        panels[0].legend(fontsize=9)
        return finished(
            figure,
            _found(curves),
            f"Line charts of time on a logarithmic scale: {'; '.join(words)}.",
        )
