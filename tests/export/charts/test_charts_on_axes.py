"""Charts on axes of the caller's, the names on the Lab chart, and the jump at opposite hues."""

from __future__ import annotations

import io
from itertools import combinations

import colour
import matplotlib
import numpy as np
import pytest
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.text import Text
from PIL import Image
from scipy.optimize import brentq
from skimage.color import deltaE_ciede2000, rgb2lab

from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.named_colour import NamedColour
from checkcloth.errors import ArgumentError
from checkcloth.export.charts import (
    compare_chart,
    ground_chart,
    hue_jumps,
    lab_chart,
    opposite_hues_chart,
    pair_matrix,
    strength_chart,
)
from checkcloth.export.charts.labels import place_names
from checkcloth.export.picture.picture import picture_of
from checkcloth.quality import sweep

COLOURWAY = Colourway("#fbf8f1", ["#a62a3c", "#3f6fb0", "#4f9070"], name="Tea table")
# One axes, or so many.
ON_ONE = {
    "pair_matrix": lambda **to: pair_matrix(COLOURWAY, **to),
    "strength_chart": lambda **to: strength_chart(COLOURWAY, threshold=9, **to),
    "ground_chart": lambda **to: ground_chart(COLOURWAY, ["white", "black"], **to),
    "opposite_hues_chart": lambda **to: opposite_hues_chart(**to),
}
ON_SEVERAL = {
    "lab_chart": (2, lambda **to: lab_chart(COLOURWAY, **to)),
    "compare_chart": (3, lambda **to: compare_chart(COLOURWAY, Colourway("white", ["navy"]), **to)),
}


def drawn(axes: Axes) -> int:
    return len(axes.lines) + len(axes.patches) + len(axes.collections) + len(axes.images)


@pytest.mark.parametrize("name", ON_ONE)
@pytest.mark.parametrize("layout", [None, "constrained", "tight"])
def test_one_axes_is_drawn_on_returned_and_saved_as_matplotlib_does(name, layout, tmp_path):
    figure = Figure(figsize=(6, 5), layout=layout)
    ax = figure.subplots()
    assert ON_ONE[name](ax=ax) is ax
    assert drawn(ax)
    for ending in ("svg", "pdf", "png"):
        figure.savefig(tmp_path / f"{name}.{ending}")
        assert (tmp_path / f"{name}.{ending}").stat().st_size > 2000


@pytest.mark.parametrize("name", ON_SEVERAL)
def test_several_axes_are_drawn_on_and_returned(name, tmp_path):
    count, draw = ON_SEVERAL[name]
    axes = Figure(layout="constrained").subplots(1, count)
    assert draw(axes=axes) is axes
    assert all(drawn(each) for each in axes)
    axes[0].figure.savefig(tmp_path / "several.svg")


def test_a_part_of_a_larger_figure_will_do():
    whole = Figure(figsize=(9, 8), layout="constrained")
    above, below = whole.subfigures(2, 1)
    lab_chart(COLOURWAY, axes=above.subplots(1, 2))
    strength_chart(COLOURWAY, ax=below.subplots())
    whole.savefig(io.BytesIO(), format="png")


def test_the_callers_settings_are_used_and_kept():
    with matplotlib.rc_context({"axes.spines.top": True, "font.size": 7}):
        ax = Figure().subplots()
        ground_chart(COLOURWAY, ["white"], ax=ax)
        assert ax.spines["top"].get_visible()
        assert ax.xaxis.label.get_size() == 7
        assert matplotlib.rcParams["text.parse_math"]


@pytest.mark.parametrize("name", [*ON_ONE, *ON_SEVERAL])
def test_what_is_no_axes_is_refused_by_name(name):
    several = name in ON_SEVERAL
    draw, argument = (ON_SEVERAL[name][1], "axes") if several else (ON_ONE[name], "ax")
    for wrong in ("ax", 3, Figure(), [], Figure().subplots(1, 4), [1, 2]):
        with pytest.raises(ArgumentError) as caught:
            draw(**{argument: wrong})
        assert caught.value.argument == argument


@pytest.mark.parametrize("name", [*ON_ONE, *ON_SEVERAL])
def test_the_other_of_ax_and_axes_says_which_it_takes(name):
    """Both are matplotlib's words: one axes are ax, several are axes."""
    several = name in ON_SEVERAL
    draw, own = (ON_SEVERAL[name][1], "axes") if several else (ON_ONE[name], "ax")
    other = "ax" if several else "axes"
    with pytest.raises(ArgumentError, match=f"given as {own}=: {name} draws on ") as caught:
        draw(**{other: Figure().subplots()})
    assert caught.value.argument == other
    if several:
        assert f"{ON_SEVERAL[name][0]} matplotlib axes" in caught.value.allowed


def test_names_stay_text_on_the_callers_axes():
    evil = Colourway(NamedColour("$x^2 <b>$", (1, 1, 1)), [NamedColour("a $\\frac$", (0, 0, 0.5))])
    axes = Figure(figsize=(9, 9)).subplots(2, 2).ravel()
    pair_matrix(evil, ax=axes[0])
    lab_chart(evil, axes=axes[1:3])
    ground_chart(evil, [evil.ground], ax=axes[3])
    axes[0].figure.savefig(io.BytesIO(), format="png")
    assert "$x^2 <b>$" in [text.get_text() for text in axes[0].get_yticklabels()]


# -- names on the Lab chart ----------------------------------------------------------------------


def boxes_of(texts):
    # Of the letters alone: an annotation counts its line as well, and is set when asked.
    for text in texts:
        text.get_window_extent()
    return [Text.get_window_extent(text) for text in texts]


def overlapping(boxes) -> int:
    return sum(
        one.x0 < two.x1 and two.x0 < one.x1 and one.y0 < two.y1 and two.y0 < one.y1
        for one, two in combinations(boxes, 2)
    )


def test_the_key_has_every_tone_by_its_number():
    axes = Figure(figsize=(9, 5), layout="constrained").subplots(1, 2)
    lab_chart(COLOURWAY, axes=axes)
    key = [text.get_text() for text in axes[1].get_legend().get_texts()]
    tones = [tone.name for tone in COLOURWAY.unique_tones]
    assert key == [f"{number}  {name}" for number, name in enumerate(tones, 1)]
    for each in axes:
        assert [text.get_text() for text in each.texts] == [str(n + 1) for n in range(len(tones))]
        each.figure.draw_without_rendering()
        assert overlapping(boxes_of(each.texts)) == 0
    assert all(name in lab_chart(COLOURWAY).alt for name in tones)


def test_names_that_are_asked_for_are_written_out_apart():
    wanted = [tone.name for tone in COLOURWAY.unique_tones][:5]
    axes = Figure(figsize=(12, 6), layout="constrained").subplots(1, 2)
    lab_chart(COLOURWAY, names=wanted, axes=axes)
    for each in axes:
        assert [text.get_text() for text in each.texts] == wanted
        assert overlapping(boxes_of(each.texts)) == 0
    plain = lab_chart(COLOURWAY, names=False, axes=Figure().subplots(1, 2))
    assert not plain[0].texts
    assert not plain[1].texts


def test_a_name_that_is_no_tone_is_refused_with_names_like_it():
    with pytest.raises(ArgumentError, match="a62a3c on #fbf8f1") as caught:
        lab_chart(COLOURWAY, names=["#a62a3c on fbf8f1"])
    assert caught.value.argument == "names"


def test_crowded_names_are_set_apart():
    """Thirty marks in a heap: names by each mark's side overlap, these do not."""
    rng = np.random.default_rng(4)
    points = rng.normal(0, 0.1, (30, 2))
    ax = Figure(figsize=(7, 7), dpi=100).subplots()
    ax.scatter(*points.T)
    ax.set(xlim=(-1, 1), ylim=(-1, 1))
    plain = [ax.annotate(f"tone {n}", p, (5, 0), textcoords="offset points", fontsize=8)
             for n, p in enumerate(points)]  # fmt: skip
    before = overlapping(boxes_of(plain))
    for text in plain:
        text.remove()
    placed = place_names(ax, points, [f"tone {n}" for n in range(30)], radius=3, fontsize=8)
    assert before > 20
    assert overlapping(boxes_of(placed)) <= before / 10


# -- the joint window, and what binds ------------------------------------------------------------


def independent_least(colourway: Colourway, pair: int, threshold: float):
    """Margin of a pair over the strength, by scikit-image."""
    swept = sweep(colourway, threshold=threshold)
    one, two = swept.pairs.one[pair], swept.pairs.two[pair]

    def margin(strength: float) -> float:
        tones = colourway.with_(strength=float(strength)).tones
        labs = [rgb2lab(tones[tuple(at)][None, None]) for at in (one, two)]
        return float(deltaE_ciede2000(*labs)[0, 0]) - threshold

    return margin


def test_the_ends_of_the_window_are_where_the_binding_pairs_cross_by_another_library():
    swept = sweep(COLOURWAY, threshold=9)
    (window,) = swept.window
    assert [each.end for each in swept.binding] == ["low end", "high end"]
    for binding, end in zip(swept.binding, window, strict=True):
        margin = independent_least(COLOURWAY, binding.pair, 9)
        root = brentq(margin, end - 0.05, end + 0.05)
        assert binding.strength == end == pytest.approx(root, abs=2e-4)
    # Within, every pair holds; outside, the binding one does not.
    inside = np.flatnonzero((swept.strengths > window.low) & (swept.strengths < window.high))
    assert (swept.values[inside] >= 9).all()


def test_where_nothing_holds_together_the_closest_pair_is_named():
    swept = sweep(COLOURWAY, threshold=15)
    assert swept.window == ()
    (binding,) = swept.binding
    least = swept.values.min(axis=1)
    at = int(np.argmax(least))
    assert binding.strength == swept.strengths[at]
    assert swept.values[at, binding.pair] == least[at]
    assert strength_chart(COLOURWAY, threshold=15).title.startswith("At no strength")


def test_table_and_chart_mark_what_binds():
    swept = sweep(COLOURWAY, threshold=9)
    rows = list(swept.texts())
    assert rows[0][:3] == ("all pairs together", "", str(swept.window[0]))
    binds = {row[0]: row[3] for row in rows[1:] if row[3]}
    pair = swept.pairs.names[swept.binding[0].pair]
    assert binds == {pair: "low end, high end"}
    assert [value for value in swept.columns["binds"] if value] == ["low end, high end"]
    picture = strength_chart(COLOURWAY, threshold=9)
    assert f"low end, {swept.window[0].per_cent()[0]} %: {pair}" in picture.alt
    ax = Figure().subplots()
    strength_chart(COLOURWAY, threshold=9, ax=ax)
    assert any(pair[:30] in text.get_text() for text in ax.get_legend().get_texts())


def test_a_window_that_ends_at_nothing_and_everything_is_no_pairs_doing():
    plain = sweep(Colourway("white", ["black"]), measure="dl", threshold=0)
    assert plain.binding == ()
    assert plain.window[0] == (0, 1)


def test_a_picture_of_lines_looks_as_if_it_had_all_colours(monkeypatch):
    def laid_on(png: bytes, paper: str) -> np.ndarray:
        drawn = Image.open(io.BytesIO(png)).convert("RGBA")
        page = Image.new("RGBA", drawn.size, paper)
        page.alpha_composite(drawn)
        return np.asarray(page.convert("L")).astype(int)

    few = strength_chart(COLOURWAY, threshold=9)
    monkeypatch.setattr(
        "checkcloth.export.charts.charts_strength.finished",
        lambda *of: picture_of(*of, dpi=144, paper=True),
    )
    every = strength_chart(COLOURWAY, threshold=9)
    assert len(few.png) < len(every.png) / 2
    assert (few.width, few.height) == (every.width, every.height)
    for paper in ("white", "#b0b0b0"):
        apart = np.abs(laid_on(few.png, paper) - laid_on(every.png, paper))
        assert apart.mean() < 1  # one step of 255
        assert (apart > 24).mean() < 0.002


# -- opposite hues -------------------------------------------------------------------------------


def test_the_jump_is_the_formulas_own_by_another_library():
    def apart(turn: float) -> float:
        angles = np.deg2rad([150, 150 + turn])
        labs = [[60, 40 * np.cos(a), 40 * np.sin(a)] for a in angles]
        return float(colour.delta_E(*labs, method="CIE 2000"))

    title = opposite_hues_chart(150, 40, 60).title
    assert f"from {apart(180 - 1e-6):.1f} to {apart(180 + 1e-6):.1f}" in title


def test_jumps_over_the_strength_are_found_and_only_there():
    spring = COLOURWAY
    jumps = hue_jumps(sweep(spring))
    swept = sweep(spring)
    assert jumps
    for jump in jumps:
        margins = [
            independent_least(spring, jump.pair, 0)(jump.strength + step)
            for step in np.linspace(-0.005, 0, 201)
        ]
        # One tiny step of the strength makes nearly all of the jump.
        assert np.abs(np.diff(margins)).max() > 0.8 * abs(jump.size)
        assert 0 <= jump.strength <= 1
        assert swept.pairs.names[jump.pair]
    assert hue_jumps(sweep(spring, measure="dl")) == []
    assert hue_jumps(sweep(Colourway("white", ["navy"]))) == []


@pytest.mark.parametrize(
    "wrong", [{"chroma": 0}, {"chroma": "x"}, {"hue": 999}, {"lightness": 101}]
)
def test_what_cannot_be_drawn_is_refused(wrong):
    with pytest.raises(ArgumentError) as caught:
        opposite_hues_chart(**wrong)
    assert caught.value.argument == next(iter(wrong))
