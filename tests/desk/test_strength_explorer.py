"""The explorer's fields change what is drawn, and nothing else; each has a name."""

from __future__ import annotations

import ipywidgets
import pytest

from checkcloth.cloth.colourway import Colourway
from checkcloth.desk import strength_explorer as module
from checkcloth.desk.strength_explorer import charts_html, explore_strength
from checkcloth.errors import ArgumentError


@pytest.fixture
def explorer():
    made = explore_strength(Colourway("white", ["crimson"], 0.4, name="Halt"))
    yield made
    for widget in [*made.children[0].children, *made.children, made]:
        widget.close()


def test_charts_follow_the_fields(explorer):
    before = explorer.charts.value
    explorer.strength.value = 80
    assert explorer.charts.value != before
    assert explorer.colourway().strength == pytest.approx(0.8)
    explorer.mixing.value = "woven"
    assert explorer.colourway().mixing == "woven"
    assert "woven" in explorer.charts.value
    explorer.vision.value = "deutan"
    assert "deutan vision" in explorer.charts.value
    assert explorer.charts.value.count("<img alt=") == 2


def test_every_field_has_a_name_that_is_read_out_and_is_worked_by_keys(explorer):
    fields = explorer.children[0].children
    assert len({field.description for field in fields}) == len(fields)
    assert all(field.description for field in fields)
    # Native fields with a label; what ipywidgets calls a slider has a handle without a name.
    assert {type(field) for field in fields} == {ipywidgets.BoundedFloatText, ipywidgets.Dropdown}


def test_another_measure_brings_its_own_threshold_and_draws_once(explorer, monkeypatch):
    drawn = []
    monkeypatch.setattr(module, "charts_html", lambda *a: drawn.append(a) or "x")
    for name, usual, lowest in (
        ("ratio", 1.5, 1),
        ("de2000", 10, 0),
        ("deok", 0.1, 0),
        ("dl", 10, 0),
    ):
        drawn.clear()
        explorer.measure.value = name
        assert len(drawn) == 1
        assert drawn[0][1:3] == (name, usual)
        assert explorer.threshold.value == usual
        assert explorer.threshold.min == lowest


def test_it_starts_where_it_is_told_and_says_when_it_draws(monkeypatch):
    explorer = explore_strength(Colourway("white", ["crimson"]), threshold=9)
    assert explorer.threshold.value == 9
    said = []
    monkeypatch.setattr(module, "charts_html", lambda *a: said.append(explorer.said.value) or "x")
    explorer.strength.value = 70
    assert len(said) == 1
    assert "Drawing …" in said[0]
    assert explorer.said.value == ""
    with pytest.raises(ArgumentError, match="threshold must be"):
        explore_strength(Colourway("white", ["crimson"]), threshold=51)


def test_the_colourway_given_does_not_change():
    colourway = Colourway("white", ["crimson"], 0.4)
    explore_strength(colourway).strength.value = 90
    assert colourway.strength == 0.4


def test_what_cannot_be_drawn_says_why_in_its_place():
    many = Colourway("white", [f"#00{i * 9:02x}80" for i in range(12)])
    html = charts_html(many, "de2000", 10, "normal")
    assert "<img alt=" in html
    assert "at most 80 different tones" in html
