"""Tone pairs as cloth and heat map, tones in Lab: what a colourway is made of, at a glance."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from difflib import get_close_matches
from functools import partial
from typing import TYPE_CHECKING, Any

import numpy as np

from checkcloth.arguments import Floats, as_number, as_tuple, require_type
from checkcloth.cloth.check import Check
from checkcloth.cloth.colourway import Colourway
from checkcloth.colour.spaces import srgb_to_bytes, srgb_to_lab
from checkcloth.colour.vision import see_as
from checkcloth.errors import ArgumentError
from checkcloth.export.charts.chart_style import (
    INK,
    MUTED,
    PALE,
    WIDTH,
    cut,
    drawing,
    drawing_on,
    draws_on,
    estimate_note,
    finished,
    key_beside,
    key_under,
    without_frame,
)
from checkcloth.export.charts.labels import place_names
from checkcloth.scoring.contrast import score
from checkcloth.scoring.measures import Measure, find_measure
from checkcloth.scoring.pairs import named_pairs

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.colors import Normalize

# So many tones have a number on the Lab chart and a name in its key.
_MOST_NAMES = 24
# More tones than this have no room to be told apart in one picture.
_MOST_TONES = 80
_PIXELS = 960  # of the whole matrix, before matplotlib scales it


class _Tones:
    """The distinct tones of a colourway in drawing order, and which of them share an edge.

    ``rgb`` and ``lab`` have shape (T, 3), as the vision sees them (Lab of a normal one also where
    no screen shows the tone); ``edges`` shape (E, 2), tone numbers.
    """

    def __init__(self, colourway: Colourway, vision: str, check: Check | None = None) -> None:
        tones = colourway.unique_tones
        self.names = [tone.name for tone in tones]
        positions = [(tone.warp, tone.weft) for tone in tones]
        # 0 the ground, 1 singles, 2 crossings.
        self.kind = np.array([(warp > 0) + (weft > 0) for warp, weft in positions])
        self.rgb = see_as(np.array([colourway.tones[at] for at in positions]), vision)
        own = vision == "normal" and any(colourway.known)
        self.lab = (
            np.array([colourway.tones_lab[at] for at in positions])
            if own
            else srgb_to_lab(self.rgb)
        )
        number = {at: index for index, at in enumerate(positions)}
        pairs = named_pairs(colourway, "edges", check)
        self.edges = [
            sorted((number[a, b], number[c, d]))
            for (a, b), (c, d) in zip(pairs.one.tolist(), pairs.two.tolist(), strict=True)
        ]


class _Matrix:
    """Every tone against every other: arrays of shape (T, T), used below the diagonal."""

    def __init__(self, tones: _Tones, measure: Measure, limit: float) -> None:
        self.tones, self.measure, self.limit = tones, measure, limit
        self.count = len(tones.names)
        self.values = measure.compare(tones.rgb[:, None], tones.rgb[None, :])
        self.below = np.tri(self.count, k=-1, dtype=bool)
        self.fails = self.below & (self.values < limit)
        self.edges = np.zeros((self.count, self.count), dtype=bool)
        low, high = np.array(tones.edges, dtype=np.intp).reshape(-1, 2).T
        self.edges[high, low] = True

    def written(self, row: int, column: int) -> str:
        return f"{self.values[row, column]:.{1 if self.measure.highest > 50 else 2}f}"


@draws_on(1)
def pair_matrix(
    colourway: Colourway,
    *,
    measure: str = "de2000",
    threshold: float | None = None,
    vision: str = "normal",
    check: Check | None = None,
    ax: Axes | None = None,
) -> Any:
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
    measure, threshold, vision, check :
        See :func:`sweep`.
    ax : matplotlib axes, optional
        To draw on, with your own settings; save their figure by matplotlib.

    Returns
    -------
    Picture, or the axes that were given

    Raises
    ------
    ArgumentError
        For more tones, unknown names, thresholds out of range, what is no axes.
    """
    chosen = find_measure(measure)
    limit = as_number(
        chosen.usual if threshold is None else threshold, "threshold", chosen.lowest, chosen.highest
    )
    tones = _Tones(require_type(colourway, "colourway", Colourway), vision, check)
    count = len(tones.names)
    if count > _MOST_TONES:
        raise ArgumentError(
            "colourway",
            f"one of at most {_MOST_TONES} different tones, to be drawn pair by pair",
            words=str(count),
        )
    matrix = _Matrix(tones, chosen, limit)
    if ax is not None:
        with drawing_on(ax, 1, "ax") as (own,):
            _draw_matrix(own, matrix)
            key_under(own, _key(limit), drop=-0.02)
        return ax
    height, width = (9.6, 9.6) if count > 30 else (7.0 if count > 6 else 5.4, WIDTH)
    with drawing(height, width) as figure:
        _draw_matrix(figure.subplots(), matrix)
        figure.legend(handles=_key(limit), loc="outside lower center", ncols=3, fontsize=10)
        failing, whole = int((matrix.fails & matrix.edges).sum()), int(matrix.edges.sum())
        apart = int(matrix.fails.sum()) - failing
        head = f"{failing} of {whole} edges under {chosen.label} {limit:g}"
        if not failing:
            every = "Both" if whole == 2 else f"All {whole}"
            head = f"{every} edges reach {chosen.label} {limit:g}"
        worst = np.where(matrix.edges, matrix.values, np.inf)
        row, column = (int(n) for n in np.unravel_index(worst.argmin(), worst.shape))
        closest = f"{tones.names[column]} and {tones.names[row]}"
        found = matrix.written(row, column)
        note = estimate_note(colourway)
        title = f"{head}; the closest are {closest}, {found} ({vision} vision).{note}"
        alt = (
            f"Matrix of all {count} tones of {colourway}, each against each. {head}. "
            f"{apart} more pairs that do not touch are under it too. "
            f"The closest touching tones are {closest} at {found}.{note}"
        )
        return finished(figure, title, alt)


def _draw_matrix(axes: Axes, matrix: _Matrix) -> None:
    import matplotlib
    from matplotlib.cm import ScalarMappable
    from matplotlib.colors import Normalize
    from matplotlib.patches import Rectangle

    count, values, below = matrix.count, matrix.values, matrix.below
    norm = Normalize(matrix.measure.lowest, float(np.quantile(values[below], 0.98)))
    shades = matplotlib.colormaps["cividis"].resampled(64)
    axes.imshow(
        _cells(matrix.tones.rgb, shades(norm(values))[..., :3], below),
        extent=(0, count, count, 0), aspect="auto", interpolation="nearest",
    )  # fmt: skip
    for row, column in np.argwhere(matrix.edges).tolist():
        axes.add_patch(Rectangle((column, row), 1, 1, fill=False, edgecolor="white", linewidth=1.4))
    _draw_marks(axes, matrix, norm)
    _draw_names(axes, matrix.tones.names)
    bar = axes.figure.colorbar(
        ScalarMappable(norm, shades), ax=axes, shrink=0.5, aspect=24, pad=0.02, extend="max"
    )
    bar.set_label(matrix.measure.label)


def _draw_marks(axes: Axes, matrix: _Matrix, norm: Normalize) -> None:
    """Crosses and rings on pairs under the limit, and the numbers where they have room."""
    count, fails = matrix.count, matrix.fails
    size = min(220.0, 60000 / count**2)
    numbers = count <= 14
    lift, size = (0.28, size * 0.45) if numbers else (0.5, size)
    for mask, marker in ((fails & matrix.edges, "X"), (fails & ~matrix.edges, "o")):
        rows, columns = np.nonzero(mask)
        axes.scatter(
            columns + 0.5, rows + lift, s=size, marker=marker,
            facecolors="white" if marker == "X" else "none",
            edgecolors="black" if marker == "X" else "white", linewidths=1,
        )  # fmt: skip
    for row, column in np.argwhere(matrix.below).tolist() if numbers else ():
        shade = norm(matrix.values[row, column])
        axes.text(
            column + 0.5, row + (0.72 if fails[row, column] else 0.5),
            matrix.written(row, column), ha="center", va="center",
            fontsize=9 if count > 10 else 10, color="black" if shade > 0.55 else "white",
        )  # fmt: skip


def _draw_names(axes: Axes, names: list[str]) -> None:
    """Names stand once, at the rows; a column goes by its row's number."""
    count = len(names)
    font = 10 if count <= 14 else 8 if count <= 30 else 6
    labels = [_two_lines(name) if count <= 14 else cut(name, 34) for name in names]
    ticks = np.arange(count) + 0.5
    axes.set_yticks(ticks, labels, fontsize=font, linespacing=0.95, parse_math=False)
    axes.tick_params(axis="y", pad=2 * font + 2)
    for number, y in enumerate(ticks.tolist(), 1):
        axes.annotate(
            str(number), (0, y), xytext=(-4, 0), textcoords="offset points", ha="right",
            va="center", fontsize=font,
        )  # fmt: skip
    axes.set_xticks(ticks, [str(number) for number in range(1, count + 1)], fontsize=font)
    axes.xaxis.tick_top()
    axes.tick_params(length=0)
    without_frame(axes)


def _key(limit: float) -> list[Any]:
    """What the marks of the matrix mean."""
    from matplotlib.lines import Line2D

    return [
        Line2D([], [], linestyle="", marker=marker, markerfacecolor=face, markeredgecolor=edge,
               markersize=size, label=label)
        for marker, face, edge, size, label in (
            ("X", "white", "black", 10, f"edge, under {limit:g}"),
            ("o", "none", "black", 9, f"apart, under {limit:g}"),
            ("s", "none", PALE, 10, "framed: an edge"),
        )
    ]  # fmt: skip


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


@draws_on(2)
def lab_chart(
    colourway: Colourway,
    *,
    vision: str = "normal",
    check: Check | None = None,
    names: bool | Iterable[str] = True,
    axes: Any = None,
) -> Any:
    """Draw the tones in the a*b* plane and along lightness, in their own colours.

    Squares are the ground, circles singles, diamonds crossings. Along lightness a line
    joins tones that share an edge on the cloth. The numbers are the tones' names, in the key.

    Parameters
    ----------
    colourway : Colourway
    vision : str
        One of ``VISIONS``.
    check : Check, optional
        Whose bands say what touches; an even check unless given.
    names : bool or iterable of str
        Whether every tone (the first 24) has a number and the key its name; or the tones
        whose names are written out beside their marks, and no others.
    axes : two matplotlib axes, optional
        To draw on, with your own settings: the a*b* plane, then lightness. They are
        returned; save their figure by matplotlib.

    Returns
    -------
    Picture, or the axes that were given

    Raises
    ------
    ArgumentError
        For a tone that the colourway does not have, and what is not two axes.

    Examples
    --------
    >>> chart = lab_chart(Colourway("white", ["navy"]), names=["navy on white"])
    >>> chart.title
    'Lightness runs in order: ground L* 100, singles 56–56, crossings 32–32 (normal vision).'
    """
    tones = _Tones(require_type(colourway, "colourway", Colourway), vision, check)
    named = _named(tones, names)
    if axes is not None:
        with drawing_on(axes, 2, "axes") as (plane, ladder):
            _draw_lab(plane, ladder, tones, named, names is True, partial(key_beside, ladder))
        return axes
    keyed = len(named) if names is True else 0
    with drawing(4.4 + 0.17 * np.ceil(keyed / 2)) as figure:
        plane, ladder = figure.subplots(1, 2, width_ratios=(1.15, 1))
        lab = tones.lab
        key = partial(
            figure.legend, loc="outside lower center", ncols=2, fontsize=9, handlelength=1.2
        )
        short = partial(plane.legend, loc="upper left", fontsize=10)
        _draw_lab(plane, ladder, tones, named, names is True, key if keyed else short)
        runs = bool(score(colourway, vision, check=check).lightness_runs)
        state = "Lightness runs in order" if runs else "Lightness is out of order somewhere"
        low, high = np.transpose([
            (lab[mine, 0].min(), lab[mine, 0].max()) for mine in (tones.kind == k for k in range(3))
        ])  # fmt: skip
        spans = (
            f"ground L* {low[0]:.0f}, singles {low[1]:.0f}–{high[1]:.0f}, "
            f"crossings {low[2]:.0f}–{high[2]:.0f}"
        )
        note = estimate_note(colourway)
        title = f"{state}: {spans} ({vision} vision).{note}"
        listed = "; ".join(
            "{} L* {:.0f}, a* {:.0f}, b* {:.0f}".format(tones.names[n], *np.round(lab[n]) + 0.0)
            for n in named
        )
        alt = f"Tones of {colourway} in the a*b* plane and along lightness. {state}: {spans}.{note}"
        return finished(figure, title, f"{alt} {listed}." if listed else alt)


def _named(tones: _Tones, names: bool | Iterable[str]) -> list[int]:
    """The numbers of the tones that are named."""
    if isinstance(names, bool):
        return list(range(min(len(tones.names), _MOST_NAMES))) if names else []
    wanted = as_tuple(names, "names", str)
    unknown = [name for name in wanted if name not in tones.names]
    if unknown:
        near = get_close_matches(unknown[0], tones.names, 3, 0.4) or tones.names[:3]
        allowed = f"names of its {len(tones.names)} tones, such as {', '.join(near)}"
        raise ArgumentError("names", allowed, unknown[0])
    return [tones.names.index(name) for name in dict.fromkeys(wanted)]


def _draw_lab(
    plane: Axes,
    ladder: Axes,
    tones: _Tones,
    named: list[int],
    numbered: bool,
    key: Callable[..., Any],
) -> None:
    """Draw both, hand the marks to the key, and place names last, when all else has its room."""
    from matplotlib.lines import Line2D

    _draw_plane(plane, tones)
    across = _draw_ladder(ladder, tones)
    handles = [
        Line2D([], [], linestyle="", marker=marker, markerfacecolor="none", markeredgecolor=INK,
               markersize=size**0.5 * 0.8, label=name)
        for marker, size, name in _KINDS
    ] if not numbered else [
        Line2D([], [], linestyle="", marker=_KINDS[tones.kind[n]][0], markersize=7,
               markerfacecolor=tones.rgb[n], markeredgecolor=INK,
               label=f"{place}  {cut(tones.names[n], 42)}")
        for place, n in enumerate(named, 1)
    ]  # fmt: skip
    key(handles=handles)
    texts = (
        [str(place) for place in range(1, len(named) + 1)]
        if numbered
        else [cut(tones.names[n], 34) for n in named]
    )
    for axes, points in ((plane, tones.lab[:, 1:]), (ladder, np.c_[across, tones.lab[:, 0]])):
        place_names(axes, points, texts, which=named, radius=5.0, fontsize=9, color=MUTED)


# Marker, size and name of ground, singles and crossings.
_KINDS = (("s", 120, "ground"), ("o", 90, "single"), ("D", 60, "crossing"))


def _draw_plane(axes: Axes, tones: _Tones) -> None:
    lab = tones.lab
    axes.axhline(0, color=PALE, linewidth=0.8)
    axes.axvline(0, color=PALE, linewidth=0.8)
    for number, (marker, size, _) in enumerate(_KINDS):
        mine = tones.kind == number
        axes.scatter(
            lab[mine, 1], lab[mine, 2], s=size, marker=marker, c=tones.rgb[mine],
            edgecolors=INK, linewidths=0.8, zorder=3 - 0.1 * number,
        )  # fmt: skip
    reach = max(10.0, float(np.abs(lab[:, 1:]).max()) * 1.15)
    axes.set(
        xlim=(-reach, reach), ylim=(-reach, reach), aspect="equal",
        xlabel="a*:  − greener, redder +", ylabel="b*:  − bluer, yellower +",
    )  # fmt: skip
    axes.set_title("Hue and chroma")


def _draw_ladder(axes: Axes, tones: _Tones) -> Floats:
    """Draw lightness, and return where each tone stands sideways."""
    lab = tones.lab
    # Spread a kind's tones sideways by their rank, so that equal ones stay in sight.
    x = tones.kind.astype(float)
    for number in (1, 2):
        mine = np.flatnonzero(tones.kind == number)
        rank = np.argsort(np.argsort(lab[mine, 0], kind="stable"), kind="stable")
        x[mine] += (rank % 5 - 2) * 0.07 if len(mine) > 1 else 0
    for ends in tones.edges:
        axes.plot(x[ends], lab[ends, 0], color=PALE, linewidth=0.6, alpha=0.7, zorder=1)
    for number, (marker, size, _) in enumerate(_KINDS):
        mine = tones.kind == number
        axes.scatter(
            x[mine], lab[mine, 0], s=size, marker=marker, c=tones.rgb[mine], edgecolors=INK,
            linewidths=0.8, zorder=3,
        )  # fmt: skip
    axes.set_xticks([0, 1, 2], [name for _, _, name in _KINDS])
    axes.set(ylim=(0, 102), xlim=(-0.4, 2.4), ylabel="L*")
    axes.set_title("Lightness")
    return x
