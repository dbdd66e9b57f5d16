"""The lesson's figures say what is so: titles against arithmetic, pixels against tones."""

from __future__ import annotations

import io
import re

import numpy as np
import pytest
from PIL import Image

from checkcloth import Colourway, mix_tones, srgb_to_lab
from checkcloth.colour.ciede2000 import delta_e_2000
from checkcloth.colour.css import parse_css
from checkcloth.colour.spaces import srgb_to_bytes, srgb_to_linear
from checkcloth.errors import ArgumentError
from checkcloth.lesson import figures
from checkcloth.lesson.figures import _blurred, cell_of, cloth_of, mixing_caption, percent
from checkcloth.scoring.cloth_scores import far_colour

RED, BLUE, WHITE = (parse_css(text) for text in ("#c0392b", "#1f4fa3", "white"))
CLOTH = Colourway("ivory", ["#c0392b", "#1f4fa3", "#e0a526"], 0.6)


def pixels(picture):
    return np.asarray(Image.open(io.BytesIO(picture.png)).convert("RGB"))


def has_colour(picture, rgb):
    """A patch of exactly that colour stands in the picture."""
    return int((pixels(picture) == srgb_to_bytes(rgb)).all(axis=-1).sum()) > 200


@pytest.mark.parametrize("strength", [0.0, 0.25, 0.5, 1.0])
def test_shares(strength):
    picture = figures.shares_figure(RED, BLUE, WHITE, strength)
    a = strength
    wanted = [a, a * (1 - a), (1 - a) ** 2]
    found = re.findall(r"holds (\S+) %.*?, (\S+) % of the weft and (\S+) %", picture.title)
    assert [float(value) / 100 for value in found[0]] == pytest.approx(wanted, abs=0.006)
    tones = mix_tones(WHITE, [RED, BLUE], strength)
    for warp, weft in ((1, 2), (1, 0), (0, 2)):
        assert has_colour(picture, tones[warp, weft])


def test_kinds_shows_the_crossing_of_every_mixing():
    picture = figures.kinds_figure(RED, BLUE, WHITE, 0.7)
    for name in ("source-over", "source-over-linear", "multiply", "woven", "pigment"):
        assert has_colour(picture, mix_tones(WHITE, [RED, BLUE], 0.7, name)[1, 2])
    assert "pigment (estimate) #" in picture.alt
    assert figures.kinds_figure(RED, BLUE, WHITE, 0).title.endswith("every mixing gives the same")


@pytest.mark.parametrize("n", [1.0, 2.0, 10.0])
def test_greys(n):
    """0.1 and 0.9 in equal parts: ((0.1^(1/n) + 0.9^(1/n)) / 2)^n, Yule–Nielsen."""
    title = figures.greys_figure(n).title
    wanted = ((0.1 ** (1 / n) + 0.9 ** (1 / n)) / 2) ** n
    assert f"{wanted * 100:.0f} % at n = {n:.1f}" in title
    assert title.endswith("17 % as pigment (estimate)")


def test_order_gives_the_difference_of_the_two_crossings():
    tones = srgb_to_lab(mix_tones(WHITE, [RED, BLUE], 0.5))
    apart = float(delta_e_2000(tones[1, 2], tones[2, 1]))
    title = figures.order_figure(RED, BLUE, WHITE, 0.5).title
    assert f"ΔE00 {apart:.1f} laid over, and by 0.0 woven" in title


@pytest.mark.parametrize(("strength", "laid", "woven"), [
    (0.5, (50, 75), (25, 50)), (1.0, (100, 100), (50, 100)), (0.2, (20, 36), (10, 20)),
])  # fmt: skip
def test_depth(strength, laid, woven):
    title = figures.depth_figure(strength).title
    assert f"single has {laid[0]} % and the self-crossing {laid[1]} %" in title
    assert title.endswith(f"woven, {woven[0]} % and {woven[1]} %")


def test_pastel():
    pale, deep = parse_css("#f6cfd6"), parse_css("#b8324f")
    title = figures.pastel_figure(pale, deep, WHITE, 0.5).title
    for colour in (pale, deep):
        single = (np.array(colour) + WHITE) / 2
        assert f"{float(delta_e_2000(srgb_to_lab(single), srgb_to_lab(WHITE))):.1f}" in title


@pytest.mark.parametrize(("ends", "shown"), [(1, "1 of 1"), (4, "8 of 16"), (5, "13 of 25")])
def test_threads(ends, shown):
    picture = figures.threads_figure(RED, BLUE, ends)
    assert f"{shown} crossings" in picture.title
    assert picture.title.endswith("balanced" if ends % 2 == 0 else "the warp shows more")
    found = pixels(picture)
    red, blue = ((found == srgb_to_bytes(c)).all(axis=-1).sum() for c in (RED, BLUE))
    if ends > 1:
        # The dot in the chart is red too: a little more than the weave alone.
        assert red / (red + blue) == pytest.approx((ends * ends + 1) // 2 / ends**2, abs=0.03)


def test_distance_says_when_checks_fuse():
    """1/4 in fuses at 21.8 m (3437.75 × 6.35 mm)."""
    assert "still seen" in figures.distance_figure(CLOTH, "1/4 in", 21).title
    far = figures.distance_figure(CLOTH, "1/4 in", 23)
    assert "fused (they fuse beyond 22 m, a rule of thumb)" in far.title
    assert has_colour(far, far_colour(CLOTH.tones))


def test_blur_keeps_the_mean_and_ends_in_the_far_off_colour():
    light = srgb_to_linear(cloth_of(CLOTH.tones, pixels=4))
    for spot in (0.5, 8, 40, 400):
        seen = _blurred(light, spot)
        assert seen.mean(axis=(0, 1)) == pytest.approx(light.mean(axis=(0, 1)), abs=1e-12)
        assert seen.min() > -1e-9
    assert _blurred(light, 1e-6) == pytest.approx(light, abs=1e-12)
    assert np.ptp(_blurred(light, 400), axis=(0, 1)).max() < 1e-3
    assert seen[0, 0] == pytest.approx(srgb_to_linear(far_colour(CLOTH.tones)), abs=1e-6)


def test_blur_is_as_wide_as_it_says():
    """A point of light spreads to half its height half a spot away."""
    light = np.zeros((64, 64, 3))
    light[0, 0] = 1
    seen = _blurred(light, 12)
    assert seen[0, 6, 0] / seen[0, 0, 0] == pytest.approx(0.5, abs=0.01)


def test_mixings_side_by_side():
    picture = figures.mixings_figure(CLOTH)
    assert "woven and pigment (estimate)" in picture.title
    assert figures.mixings_figure(CLOTH.with_(strength=0)).title.endswith("gives the same cloth")


def test_vision():
    title = figures.vision_figure(CLOTH, 1.0).title
    assert "for tritan" in title
    assert "(estimate)" not in title
    assert "(estimate)" in figures.vision_figure(CLOTH.with_(mixing="pigment"), 1.0).title
    assert "no fainter for anyone" in figures.vision_figure(CLOTH, 0.0).title


def test_the_same_figure_has_the_same_bytes():
    assert figures.depth_figure(0.3).png == figures.depth_figure(0.3).png


def test_every_picture_says_what_it_shows():
    for picture in (figures.shares_figure(RED, BLUE, WHITE, 0.5), figures.greys_figure(2),
                    figures.threads_figure(RED, BLUE, 3)):  # fmt: skip
        html = picture._repr_html_()
        assert f'alt="{picture.alt}"' in html
        assert picture.title in html
        assert "max-width:100%" in html


def test_parts():
    tones = mix_tones(WHITE, [RED, BLUE], 0.5)
    cell = cell_of(tones, 1, 2)
    assert cell[1, 1] == pytest.approx(tones[1, 2])
    assert cell[0, 1] == pytest.approx(tones[1, 0])  # the warp runs up
    assert cell[1, 0] == pytest.approx(tones[0, 2])
    assert cloth_of(tones).shape == (8, 8, 3)
    assert cloth_of(tones, pixels=3).shape == (24, 24, 3)
    assert percent(0.25) == "25 %"
    assert percent(5 / 9, 1) == "55.6 %"
    assert mixing_caption("pigment") == "pigment\n(estimate)"


@pytest.mark.parametrize(
    ("draw", "argument", "found"),
    [
        (lambda: figures.shares_figure(RED, BLUE, WHITE, 1.5), "strength", "1.5"),
        (lambda: figures.vision_figure(CLOTH, 2), "severity", "2"),
        (lambda: figures.threads_figure(RED, BLUE, 0), "ends", "0"),
    ],
)
def test_bad_input_is_named(draw, argument, found):
    with pytest.raises(ArgumentError, match=found) as caught:
        draw()
    assert caught.value.argument == argument
