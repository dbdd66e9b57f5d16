"""One chart of how the cost of a search grows."""

from __future__ import annotations

from collections.abc import Sequence

from checkcloth.explore.search.growth import Growth
from checkcloth.output.chart_style import INK, PALE, drawing, finished
from checkcloth.output.picture import Picture

__all__ = ["growth_chart"]

_WORDS = {
    "colours": "colours to choose from",
    "stripes": "stripes in the check",
    "conditions": "conditions asked for",
}


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
            "What a search costs, measured on this machine: one ground, one strength.",
            f"Line charts of time on a logarithmic scale: {'; '.join(words)}.",
        )
