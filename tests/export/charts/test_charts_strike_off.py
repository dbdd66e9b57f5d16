"""The figure of a strike-off: what stands where, on a page of its own and on axes given."""

from __future__ import annotations

import numpy as np
import pytest
from matplotlib.figure import Figure
from matplotlib.patches import Ellipse

from checkcloth import delta_e_cmc, srgb_to_lab
from checkcloth.cloth.colourway import Colourway
from checkcloth.errors import ArgumentError
from checkcloth.export.charts.charts_strike_off import strike_off_chart
from checkcloth.export.paper.report import report
from checkcloth.quality import Readings, check_strike_off
from checkcloth.quality.readings import Reading

SPEC = Colourway("#f6f1e4", ["#14325c", "#b8374f"], 0.5, name="Halt")


def result(strength=0.6, names=SPEC):
    printed = names.with_(strength=strength)
    readings = [
        Reading(tone.name, tuple(srgb_to_lab(printed.tones[tone.warp, tone.weft])), line)
        for line, tone in enumerate(names.unique_tones)
    ]
    return check_strike_off(names, Readings("made", "D65", 2, tuple(readings)))


def test_the_title_says_what_to_see_and_the_alternative_every_tone():
    checked = result()
    picture = strike_off_chart(checked)
    worst = max(checked.checks, key=lambda check: check.cmc)
    failed = sum(not check.passed for check in checked.checks)
    assert picture.title.startswith(
        f"{failed} of {len(checked.checks)} tones are out of CMC(2:1) 1"
    )
    assert worst.tone in picture.title
    assert all(check.tone in picture.alt for check in checked.checks)
    assert strike_off_chart(checked).png == picture.png
    assert strike_off_chart(result(0.5)).title.startswith("Every measured tone is within")


def test_given_axes_are_drawn_on_and_returned():
    axes = tuple(Figure().subplots(1, 2))
    checked = result()
    assert strike_off_chart(checked, axes=axes) is axes
    for on in axes:
        assert sum(isinstance(patch, Ellipse) for patch in on.patches) == len(checked.checks)
    with pytest.raises(ArgumentError) as caught:
        strike_off_chart(checked, axes=axes[:1])
    assert caught.value.argument == "axes"


def test_the_ellipses_are_the_tolerance():
    """Points on an ellipse of the a*b* plane lie CMC(2:1) 1 from its middle, to first order."""
    axes = tuple(Figure().subplots(1, 2))
    checked = result()
    strike_off_chart(checked, axes=axes)
    ellipses = [patch for patch in axes[0].patches if isinstance(patch, Ellipse)]
    for check, ellipse in zip(checked.checks, ellipses, strict=True):
        turn = np.deg2rad(ellipse.angle)
        along = np.array([np.cos(turn), np.sin(turn)]) * ellipse.width / 2
        for sign in (1, -1):
            there = np.array(check.wanted) + np.array([0, *(sign * along)])
            assert delta_e_cmc(check.wanted, there) == pytest.approx(1, abs=0.02)


def test_it_stands_in_the_page_to_send_back():
    html = report("Back", [result()]).html()
    assert "tones are out of CMC(2:1) 1" in html
