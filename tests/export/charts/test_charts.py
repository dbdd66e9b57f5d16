"""The charts: what their titles claim, that tones stand in them, that shape tells too."""

from __future__ import annotations

import io
import re

import matplotlib
import numpy as np
import pytest
from PIL import Image

from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.named_colour import NamedColour
from checkcloth.colour.spaces import srgb_to_bytes
from checkcloth.colour.vision import see_as
from checkcloth.errors import ArgumentError
from checkcloth.export.charts.chart_style import in_few_colours
from checkcloth.export.charts.charts import lab_chart, pair_matrix
from checkcloth.export.charts.charts_strength import compare_chart, ground_chart, strength_chart
from checkcloth.quality import sweep
from checkcloth.scoring.contrast import score

COLOURWAY = Colourway("#fbf8f1", ["#a62a3c", "#3f6fb0", "#4f9070"], name="Tea table")


def pixels(picture) -> np.ndarray:
    return np.asarray(Image.open(io.BytesIO(picture.png)).convert("RGBA").convert("RGB"))


def has_colour(image: np.ndarray, rgb: np.ndarray, least: int = 30) -> bool:
    return int((np.abs(image.astype(int) - rgb.astype(int)) <= 1).all(axis=-1).sum()) >= least


@pytest.mark.parametrize("vision", ["normal", "deutan"])
def test_every_tone_stands_in_the_matrix(vision):
    image = pixels(pair_matrix(COLOURWAY, vision=vision))
    for tone in srgb_to_bytes(see_as(COLOURWAY.tones, vision)).reshape(-1, 3):
        assert has_colour(image, tone, least=200)


def test_a_chart_is_written_in_few_colours_and_every_patch_stays_as_it_is():
    for picture in (pair_matrix(COLOURWAY), lab_chart(COLOURWAY)):
        assert Image.open(io.BytesIO(picture.png)).mode == "P"
    rng = np.random.default_rng(1)
    for patches in (191, 192):
        colours = rng.choice(256, (patches + 1, 4)).astype(np.uint8)
        drawn = np.repeat(np.repeat(colours[:, None], 9, axis=0), 8, axis=1)
        letters = rng.integers(0, 255, (400, 8, 4), dtype=np.uint8)
        image = in_few_colours(np.concatenate([drawn, letters]))
        assert image.mode == ("P" if patches < 192 else "RGBA")
        assert (np.asarray(image.convert("RGBA"))[: len(drawn)] == drawn).all()


def test_the_matrix_counts_what_the_scores_count():
    swept = sweep(COLOURWAY, threshold=12)
    at = int(np.argmin(np.abs(swept.strengths - COLOURWAY.strength)))
    failing = int((swept.values[at] < 12).sum())
    picture = pair_matrix(COLOURWAY, threshold=12)
    assert failing
    assert picture.title.startswith(f"{failing} of {len(swept.pairs)} edges under")
    assert f"{float(score(COLOURWAY).least_edge):.1f}" in picture.title


def test_failing_pairs_are_marked_by_shape():
    """The marks alone differ between two thresholds, in black and white, not in hue."""
    few, many = (pixels(pair_matrix(COLOURWAY, threshold=t)) for t in (9, 30))
    white = [int((image == 255).all(axis=-1).sum()) for image in (few, many)]
    ink = [int((image < 40).all(axis=-1).sum()) for image in (few, many)]
    assert ink[1] > ink[0]
    assert many.shape == few.shape
    assert white[1] != white[0]


def test_too_many_tones_are_refused():
    colours = [f"#0000{i * 10:02x}" for i in range(1, 13)]
    with pytest.raises(ArgumentError, match="at most 80 different tones"):
        pair_matrix(Colourway("white", colours))


def test_lightness_is_told_as_the_score_has_it():
    assert lab_chart(COLOURWAY).title.startswith("Lightness runs in order")
    grey = lab_chart(Colourway("white", ["#ccc"]), names=["white"])
    assert "a* 0, b* 0" in grey.alt
    jumbled = Colourway("white", ["black", "yellow"])
    assert not score(jumbled).lightness_runs
    assert lab_chart(jumbled).title.startswith("Lightness is out of order")


def test_the_strength_chart_names_the_window():
    picture = strength_chart(Colourway("white", ["crimson"]), threshold=12)
    low, high = map(float, re.findall(r"from ([\d.]+) to ([\d.]+) %", picture.title)[0])
    spans = sweep(Colourway("white", ["crimson"]), threshold=12).spans
    assert low == pytest.approx(max(s[0].low for s in spans) * 100, abs=0.05)
    assert high == pytest.approx(min(s[0].high for s in spans) * 100, abs=0.05)
    never = strength_chart(Colourway("white", ["ivory"]), threshold=50)
    assert never.title.startswith("At no strength")


def test_grounds_stand_in_their_own_colour():
    picture = ground_chart(COLOURWAY, ["gold", "black", "white"])
    image = pixels(picture)
    assert has_colour(image, np.array([255, 215, 0]), least=2000)
    assert "gains most" in picture.title or "No other ground" in picture.title


def test_two_palettes_may_differ_in_stripes():
    other = Colourway("white", ["navy"], name="Plain")
    picture = compare_chart(COLOURWAY, other)
    assert "○ Tea table" in picture.title
    assert "nan" in picture.alt or "single–single" in picture.alt


def draw_all(colourway: Colourway):
    return [
        pair_matrix(colourway),
        lab_chart(colourway),
        strength_chart(colourway),
        ground_chart(colourway, ["white", "black"]),
        compare_chart(colourway, COLOURWAY),
    ]


@pytest.mark.parametrize("mixing", ["source-over", "woven"])
def test_alt_title_size_and_the_same_bytes_twice(mixing):
    colourway = COLOURWAY.with_(mixing=mixing)
    for one, two in zip(draw_all(colourway), draw_all(colourway), strict=True):
        assert one.png == two.png
        assert len(one.alt) > 60
        assert one.title
        assert len(one.png) < 600_000
        assert one.width <= 960


def test_names_that_look_like_formulas_or_markup_are_text():
    evil = Colourway(
        NamedColour("$x^2 <b>$", (1, 1, 1)), [NamedColour("100% \\alpha_$", (0, 0, 0.5))]
    )
    for picture in draw_all(evil):
        html = picture._repr_html_()
        assert "<b>" not in html


def test_settings_of_the_caller_stay_as_they_were():
    # Asking for the backend settles it, so it is left out.
    names = [name for name in matplotlib.rcParams if name != "backend"]
    before = {name: matplotlib.rcParams[name] for name in names}
    lab_chart(COLOURWAY)
    assert {name: matplotlib.rcParams[name] for name in names} == before


@pytest.mark.parametrize("draw", [lab_chart, pair_matrix, strength_chart,
                                  lambda c: ground_chart(c, ["white"]),
                                  lambda c: compare_chart(COLOURWAY, c)])  # fmt: skip
@pytest.mark.parametrize("wrong", [[], "navy", [COLOURWAY]])
def test_what_is_no_colourway_is_refused(draw, wrong):
    with pytest.raises(ArgumentError) as caught:
        draw(wrong)
    assert caught.value.argument == "colourway"


def test_a_threshold_out_of_range_is_refused():
    with pytest.raises(ArgumentError, match="threshold must be from 1 to 21"):
        pair_matrix(COLOURWAY, measure="ratio", threshold=0.2)
