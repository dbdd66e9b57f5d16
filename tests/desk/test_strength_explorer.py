"""The bench's sliders change what is drawn, and nothing else."""

from __future__ import annotations

import ipywidgets
import pytest

from checkcloth.cloth.colourway import Colourway
from checkcloth.desk.strength_explorer import bench_html, strength_bench
from checkcloth.errors import ArgumentError


def controls(bench: ipywidgets.VBox) -> dict[str, ipywidgets.Widget]:
    return {child.description: child for child in bench.children[0].children}


@pytest.fixture
def bench():
    made = strength_bench(Colourway("white", ["crimson"], 0.4, name="Halt"))
    yield made
    for widget in [*made.children[0].children, *made.children, made]:
        widget.close()


def test_charts_follow_the_sliders(bench):
    shown = bench.children[2]
    control = controls(bench)
    before = shown.value
    control["Strength, %"].value = 80
    assert shown.value != before
    assert bench.colourway().strength == pytest.approx(0.8)
    control["Mixing"].value = "woven"
    assert bench.colourway().mixing == "woven"
    assert "woven" in shown.value
    control["Seen by"].value = "deutan"
    assert "deutan vision" in shown.value
    assert shown.value.count("<img alt=") == 2


def test_another_measure_brings_its_own_threshold_and_draws_once(bench, monkeypatch):
    drawn = []
    monkeypatch.setattr(
        "checkcloth.desk.strength_explorer.bench_html", lambda *a: drawn.append(a) or "x"
    )
    control = controls(bench)
    for name, usual, lowest in (
        ("ratio", 1.5, 1),
        ("de2000", 10, 0),
        ("deok", 0.1, 0),
        ("dl", 10, 0),
    ):
        drawn.clear()
        control["Measure"].value = name
        assert len(drawn) == 1
        assert drawn[0][1:3] == (name, usual)
        assert control["Threshold"].value == usual
        assert control["Threshold"].min == lowest


def test_it_starts_where_it_is_told_and_says_when_it_draws(monkeypatch):
    bench = strength_bench(Colourway("white", ["crimson"]), threshold=9)
    control, busy = controls(bench), bench.children[1]
    assert control["Threshold"].value == 9
    said = []
    monkeypatch.setattr(
        "checkcloth.desk.strength_explorer.bench_html", lambda *a: said.append(busy.value) or "x"
    )
    control["Strength, %"].value = 70
    assert said == ["Drawing …"]
    assert busy.value == ""
    with pytest.raises(ArgumentError, match="threshold must be"):
        strength_bench(Colourway("white", ["crimson"]), threshold=51)


def test_the_colourway_given_does_not_change():
    colourway = Colourway("white", ["crimson"], 0.4)
    bench = strength_bench(colourway)
    controls(bench)["Strength, %"].value = 90
    assert colourway.strength == 0.4


def test_what_cannot_be_drawn_says_why_in_its_place():
    many = Colourway("white", [f"#00{i * 9:02x}80" for i in range(12)])
    html = bench_html(many, "de2000", 10, "normal")
    assert "<img alt=" in html
    assert "at most 80 different tones" in html
