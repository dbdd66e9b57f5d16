"""Tone pairs as cloth and heat map, tones in Lab: what a colourway is made of, at a glance."""

from __future__ import annotations

import numpy as np

from checkcloth.arguments import as_number
from checkcloth.cloth.colourway import Colourway
from checkcloth.colour.spaces import srgb_to_bytes, srgb_to_lab
from checkcloth.colour.vision import see_as
from checkcloth.errors import ArgumentError
from checkcloth.export.charts.chart_style import (
    INK,
    PALE,
    WIDTH,
    cut,
    drawing,
    estimate_note,
    finished,
)
from checkcloth.export.picture.picture import Picture
from checkcloth.scoring.contrast import score
from checkcloth.scoring.measures import (
    find_measure,
    first_of,
    named_pairs,
    sameness,
    tone_label,
)

__all__ = ["lab_chart", "pair_matrix"]

# More tones than this have no room to be told apart in one picture.
_MOST_TONES = 80
_PIXELS = 960  # of the whole matrix, before matplotlib scales it


def _own_tones(colourway: Colourway) -> list[tuple[int, int]]:
    """Places of tones that differ, in the order ground, singles, crossings."""
    mirrored, symmetric = sameness(colourway)
    side = len(colourway.stripes) + 1
    every = sorted(np.ndindex(side, side), key=lambda p: ((p[0] > 0) + (p[1] > 0), p))
    return list(dict.fromkeys(first_of(i, j, mirrored, symmetric) for i, j in every))


def pair_matrix(
    colourway: Colourway,
    *,
    measure: str = "de2000",
    threshold: float | None = None,
    vision: str = "normal",
) -> Picture:
    """Draw every pair of tones: above the diagonal as cloth, below it as a heat map.

    Above, both tones of a pair meet in a cell, as they would on cloth; below, the cell
    is the lighter the farther they stand apart. A cross marks a pair under the threshold
    that shares an edge on the cloth, a ring one that does not; a frame marks every pair
    that shares an edge.

    Parameters
    ----------
    colourway : Colourway
        With at most 80 different tones (8 stripes, or 11 where crossings do not depend on
        the order).
    measure, threshold, vision :
        See :func:`sweep`.

    Returns
    -------
    Picture

    Raises
    ------
    ArgumentError
        For more tones, unknown names, thresholds out of range.

    Examples
    --------
    >>> pair_matrix(Colourway("white", ["navy"])).png[1:4]
    b'PNG'
    """
    chosen = find_measure(measure)
    limit = as_number(
        chosen.usual if threshold is None else threshold, "threshold", chosen.lowest, chosen.highest
    )
    places = _own_tones(colourway)
    count = len(places)
    if count > _MOST_TONES:
        raise ArgumentError(
            "colourway",
            f"at most {_MOST_TONES} different tones to be drawn pair by pair",
            words=str(count),
        )
    rgb = see_as(np.array([colourway.tones[place] for place in places]), vision)
    values = chosen.compare(rgb[:, None], rgb[None, :])
    pairs = named_pairs(colourway, "edges")
    at = {place: number for number, place in enumerate(places)}
    edges = np.zeros((count, count), dtype=bool)
    for one, two in zip(pairs.one.tolist(), pairs.two.tolist(), strict=True):
        low, high = sorted((at[one[0], one[1]], at[two[0], two[1]]))
        edges[high, low] = True
    below = np.tri(count, k=-1, dtype=bool)
    fails = below & (values < limit)

    crowded = count > 30
    height, width = (9.6, 9.6) if crowded else (7.0 if count > 6 else 5.4, WIDTH)
    with drawing(height, width) as figure:
        import matplotlib
        from matplotlib.cm import ScalarMappable
        from matplotlib.colors import Normalize
        from matplotlib.lines import Line2D
        from matplotlib.patches import Rectangle

        axes = figure.subplots()
        norm = Normalize(chosen.lowest, float(np.quantile(values[below], 0.98)))
        shades = matplotlib.colormaps["cividis"]
        axes.imshow(
            _cells(rgb, shades(norm(values))[..., :3], below),
            extent=(0, count, count, 0), aspect="auto", interpolation="nearest",
        )  # fmt: skip
        for row, column in np.argwhere(edges).tolist():
            axes.add_patch(
                Rectangle((column, row), 1, 1, fill=False, edgecolor="white", linewidth=1.4)
            )
        size = min(220.0, 60000 / count**2)
        numbers = count <= 14
        for mask, marker in ((fails & edges, "X"), (fails & ~edges, "o")):
            rows, columns = np.nonzero(mask)
            lift = 0.28 if numbers else 0.5
            axes.scatter(
                columns + 0.5, rows + lift, s=size * (0.45 if numbers else 1), marker=marker,
                facecolors="white" if marker == "X" else "none",
                edgecolors="black" if marker == "X" else "white", linewidths=1,
            )  # fmt: skip
        if numbers:
            for row, column in np.argwhere(below).tolist():
                shade = norm(values[row, column])
                axes.text(
                    column + 0.5, row + (0.72 if fails[row, column] else 0.5),
                    f"{values[row, column]:.{1 if chosen.highest > 50 else 2}f}",
                    ha="center", va="center", fontsize=9 if count > 10 else 10,
                    color="black" if shade > 0.55 else "white",
                )  # fmt: skip
        # Names stand once, at the rows; a column goes by its row's number.
        font = 10 if count <= 14 else 8 if count <= 30 else 6
        names = [tone_label(colourway, *place) for place in places]
        labels = [_two_lines(name) if count <= 14 else cut(name, 34) for name in names]
        ticks = np.arange(count) + 0.5
        axes.set_yticks(ticks, labels, fontsize=font, linespacing=0.95)
        axes.tick_params(axis="y", pad=2 * font + 2)
        for n, place in enumerate(ticks.tolist(), 1):
            axes.annotate(
                str(n), (0, place), xytext=(-4, 0), textcoords="offset points", ha="right",
                va="center", fontsize=font,
            )  # fmt: skip
        axes.set_xticks(ticks, [str(n) for n in range(1, count + 1)], fontsize=font)
        axes.xaxis.tick_top()
        axes.tick_params(length=0)
        for spine in axes.spines.values():
            spine.set_visible(False)
        bar = figure.colorbar(
            ScalarMappable(norm, shades), ax=axes, shrink=0.5, aspect=24, pad=0.02, extend="max"
        )
        bar.set_label(chosen.label)
        figure.legend(
            handles=[
                Line2D([], [], marker="X", linestyle="", markerfacecolor="white",
                       markeredgecolor="black", markersize=10,
                       label=f"edge, under {limit:g}"),
                Line2D([], [], marker="o", linestyle="", markerfacecolor="none",
                       markeredgecolor="black", markersize=9,
                       label=f"apart, under {limit:g}"),
                Line2D([], [], marker="s", linestyle="", markerfacecolor="none",
                       markeredgecolor=PALE, markersize=10, label="framed: an edge"),
            ],
            loc="outside lower center", ncols=3, fontsize=10,
        )  # fmt: skip
        worst = np.where(edges, values, np.inf)
        row, column = (int(n) for n in np.unravel_index(worst.argmin(), worst.shape))
        failing, whole = int((fails & edges).sum()), int(edges.sum())
        closest = (
            f"{tone_label(colourway, *places[column])} and {tone_label(colourway, *places[row])}"
        )
        found = f"{float(values[row, column]):.{1 if chosen.highest > 50 else 2}f}"
        every = "Both" if whole == 2 else f"All {whole}"
        head = (
            f"{failing} of {whole} edges under {chosen.label} {limit:g}"
            if failing
            else f"{every} edges reach {chosen.label} {limit:g}"
        )
        title = f"{head}; the closest are {closest}, {found} ({vision} vision)."
        alt = (
            f"Matrix of all {count} tones of {colourway}, each against each. {head}. "
            f"{int((fails & ~edges).sum())} more pairs that do not touch are under it too. "
            f"The closest touching tones are {closest} at {found}.{estimate_note(colourway)}"
        )
        return finished(figure, title + estimate_note(colourway), alt)


def _two_lines(label: str, longest: int = 28) -> str:
    """Break a tone's name before what it lies on or over, and shorten what is too long still."""
    if len(label) <= 18:
        return label
    for word in (" on ", " over "):
        head, found, tail = label.partition(word)
        if found:
            return f"{cut(head, longest)}\n{word.strip()} {cut(tail, longest)}"
    return cut(label, longest)


def _cells(rgb: np.ndarray, heat: np.ndarray, below: np.ndarray) -> np.ndarray:
    """Pixels of the matrix: pairs meeting along the diagonal of a cell, heat, plain tones."""
    count = len(rgb)
    cell = max(12, _PIXELS // count)
    split = np.tri(cell, dtype=bool)[None, :, None, :, None]
    cloth = np.where(split, rgb[:, None, None, None, :], rgb[None, None, :, None, :])
    flat = np.broadcast_to(heat[:, None, :, None, :], cloth.shape)
    cells = np.where(below[:, None, :, None, None], flat, cloth)
    return srgb_to_bytes(cells.reshape(count * cell, count * cell, 3))


def lab_chart(colourway: Colourway, *, vision: str = "normal") -> Picture:
    """Draw the tones in the a*b* plane and along lightness, in their own colours.

    Squares are the ground, circles singles, diamonds crossings. Along lightness a line
    joins tones that share an edge on the cloth.

    Parameters
    ----------
    colourway : Colourway
    vision : str
        One of ``VISIONS``.

    Returns
    -------
    Picture

    Examples
    --------
    >>> lab_chart(Colourway("white", ["navy"])).png[1:4]
    b'PNG'
    """
    places = _own_tones(colourway)
    rgb = see_as(np.array([colourway.tones[place] for place in places]), vision)
    lab = srgb_to_lab(rgb)
    at = {place: number for number, place in enumerate(places)}
    kind = np.array([(i > 0) + (j > 0) for i, j in places])
    runs = bool(score(colourway, vision).lightness_runs)
    with drawing(4.4) as figure:
        plane, ladder = figure.subplots(1, 2, width_ratios=(1.15, 1))
        plane.axhline(0, color=PALE, linewidth=0.8)
        plane.axvline(0, color=PALE, linewidth=0.8)
        for number, (marker, name) in enumerate(
            (("s", "ground"), ("o", "single"), ("D", "crossing"))
        ):
            mine = kind == number
            plane.scatter(
                lab[mine, 1], lab[mine, 2], s=(120, 90, 60)[number], marker=marker, c=rgb[mine],
                edgecolors=INK, linewidths=0.8, label=name, zorder=3 - 0.1 * number,
            )  # fmt: skip
        reach = max(10.0, float(np.abs(lab[:, 1:]).max()) * 1.15)
        plane.set(
            xlim=(-reach, reach), ylim=(-reach, reach), aspect="equal",
            xlabel="a*:  − greener, redder +", ylabel="b*:  − bluer, yellower +",
        )  # fmt: skip
        plane.legend(loc="upper left", fontsize=10, title=None)
        plane.set_title("Hue and chroma")
        pairs = named_pairs(colourway, "edges")
        # Spread a kind's tones sideways by their rank, so that equal ones stay in sight.
        x = kind.astype(float)
        for number in (1, 2):
            mine = np.flatnonzero(kind == number)
            rank = np.argsort(np.argsort(lab[mine, 0], kind="stable"), kind="stable")
            x[mine] += (rank % 5 - 2) * 0.07 if len(mine) > 1 else 0
        for one, two in zip(pairs.one.tolist(), pairs.two.tolist(), strict=True):
            ends = [at[one[0], one[1]], at[two[0], two[1]]]
            ladder.plot(x[ends], lab[ends, 0], color=PALE, linewidth=0.6, alpha=0.7, zorder=1)
        for number, marker in enumerate("soD"):
            mine = kind == number
            ladder.scatter(
                x[mine], lab[mine, 0], s=(120, 90, 60)[number], marker=marker, c=rgb[mine],
                edgecolors=INK, linewidths=0.8, zorder=3,
            )  # fmt: skip
        ladder.set_xticks([0, 1, 2], ["ground", "single", "crossing"])
        ladder.set(ylim=(0, 102), xlim=(-0.4, 2.4), ylabel="L*")
        ladder.set_title("Lightness")
        state = "Lightness runs in order" if runs else "Lightness is out of order somewhere"
        ranges = [
            (float(lab[kind == k, 0].min()), float(lab[kind == k, 0].max())) for k in range(3)
        ]
        spans = (
            f"ground L* {ranges[0][0]:.0f}, singles {ranges[1][0]:.0f}–{ranges[1][1]:.0f}, "
            f"crossings {ranges[2][0]:.0f}–{ranges[2][1]:.0f}"
        )
        title = f"{state}: {spans} ({vision} vision)."
        alt = (
            f"Tones of {colourway} in the a*b* plane and along lightness. {state}: {spans}."
            f"{estimate_note(colourway)}"
        )
        return finished(figure, title + estimate_note(colourway), alt)
