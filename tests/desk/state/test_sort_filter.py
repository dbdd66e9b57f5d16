"""Sorting, hiding with a reason, and scores in plain words."""

from __future__ import annotations

import math

import numpy as np
import pytest

from checkcloth import Colourway, score
from checkcloth.desk.state import sort_filter
from checkcloth.desk.wall_sync import WallSync
from checkcloth.desk.widget import DeskWidget
from checkcloth.errors import ArgumentError
from checkcloth.scoring.remarks import plain_words, scores_seen
from checkcloth.scoring.vocabulary import COLUMNS, number_of


def columns_for(state, vision="normal"):
    sync = WallSync(DeskWidget(vision=vision))
    sync.show(None, state)
    for _ in sync.score_parts(state):
        pass
    sync.widget.close()
    return sync.scores


@pytest.mark.parametrize("vision", ["normal", "deutan"])
def test_the_walls_scores_are_the_public_ones(state, vision):
    state = state.with_(strength=0.7, mixing="woven")
    columns = columns_for(state, vision)
    direct = score([state.as_shown(card) for card in state.shown], vision)
    assert set(columns) == set(COLUMNS)
    np.testing.assert_allclose(columns["least_edge"], direct.least_edge)
    for name, values in direct.columns().items():
        np.testing.assert_allclose(columns[name], values)


@pytest.mark.parametrize("column", COLUMNS)
@pytest.mark.parametrize("bands", ["", "2 A, 1/2 ground, 1 A, 1 B, 1 ground, 1 C, 1 ground"])
def test_the_order_put_up_first_is_the_order_of_all_scores(state, column, bands):
    """From the pairs alone that it takes, before the others are scored."""
    if bands:
        state = state.with_(bands=bands)
    limit = float(np.nanmedian(columns_for(state)["evenness"]))
    state = sort_filter.add_limit(sort_filter.sort_by(state, column), "evenness", limit)
    sync = WallSync(DeskWidget())
    sync.show(None, state)
    seen = []
    for parts in (sync.order_parts, sync.score_parts):
        list(parts(state))
        if not sync.scores and not sync.widget.figures:
            assert column == "least_edge"  # which here takes every kind of pair
            assert bands
            return
        if sync.scores:
            sync.put_order(state)
        seen.append((sync.widget.order, sync.widget.hidden, sync.widget.figures))
    sync.widget.close()
    assert seen[0] == seen[1]
    assert len(seen[0][0]) < len(state.shown) == len(seen[0][2])


@pytest.mark.parametrize("column", COLUMNS)
def test_sorting_by_any_score_both_ways(state, column):
    columns = columns_for(state)
    for sort, sign in ((column, -1), (f"-{column}", 1)):
        order = sort_filter.arrange(columns, sort_filter.sort_by(state, sort)).order
        assert sorted(order) == list(range(len(state.shown)))
        values = sign * columns[column][list(order)]
        assert (np.diff(values) >= 0).all()


def test_what_is_hidden_says_why_and_comes_back(state):
    columns = columns_for(state)
    middle = float(np.median(columns["least_edge"]))
    limited = sort_filter.add_limit(state, "least_edge", middle)
    arranged = sort_filter.arrange(columns, limited)
    assert 0 < len(arranged.hidden) < len(state.shown)
    assert set(arranged.order) | set(arranged.hidden) == set(range(len(state.shown)))
    for place, why in arranged.hidden.items():
        assert columns["least_edge"][place] < middle
        assert why.startswith("every edge: least ΔE00 is ")
        assert why.endswith(f"under {middle:g}")
    free = sort_filter.drop_limit(limited, "least_edge")
    assert sort_filter.arrange(columns, free).hidden == {}


def test_two_limits_give_both_reasons(state):
    columns = {name: np.zeros(24) for name in COLUMNS}
    both = sort_filter.add_limit(sort_filter.add_limit(state, "evenness", 0.5), "least_edge", 3)
    why = sort_filter.arrange(columns, both).hidden[0]
    assert "evenness" in why
    assert "every edge" in why


def test_a_single_stripe_has_no_stripe_to_be_compared_with(state):
    columns = {name: np.full(24, math.nan) for name in COLUMNS}
    limited = sort_filter.add_limit(state, "single_single_least_de2000", 5)
    assert sort_filter.arrange(columns, limited).hidden == {}


def test_unknown_scores_and_limits_are_refused(state):
    with pytest.raises(ArgumentError, match="sort must be a score"):
        sort_filter.sort_by(state, "beauty")
    with pytest.raises(ArgumentError, match="column must be a score"):
        sort_filter.add_limit(state, "beauty", 1)
    with pytest.raises(ArgumentError, match="least must be a number"):
        sort_filter.add_limit(state, "evenness", math.nan)


@pytest.mark.parametrize("value", [2.95, 2.999, 2.9999])
def test_a_number_is_never_rounded_up_to_the_limit_it_is_under(value):
    assert float(number_of("least_edge", value, below=3)) < 3


def texts(colourway):
    return [remark.text for remark in plain_words(colourway, scores_seen(colourway))]


def test_words_name_the_two_stripes_that_read_as_one():
    one = Colourway("white", ["navy", "#b22222", "darkgreen", "gold", "#b32322"])
    said = texts(one)
    assert said[0].startswith("stripes 2 and 5 (#b22222, #b32322) read as one colour at arm's")


def test_words_name_a_stripe_that_sinks_into_the_ground():
    said = texts(Colourway("#f4f0e8", ["navy", "#f3efe8"]))
    assert any("#f3efe8 on #f4f0e8" in text and "sinks into the ground" in text for text in said)


def test_words_about_other_eyes_only_where_they_differ():
    # Red and green of like lightness: apart to most eyes, one colour to a deutan eye.
    said = texts(Colourway("white", ["#b36b00", "#8c7a00"], 0.9))
    assert any(text.startswith("to a deutan eye") for text in said)
    plain = texts(Colourway("white", ["black", "#808080"], 0.9))
    assert not any(text.startswith("to a") for text in plain)


def test_words_of_comfort_only_without_cautions():
    said = texts(Colourway("white", ["black"], 0.5))
    assert "every edge and every stripe stands apart, in all views" in said
    assert any(text.startswith("lightness runs one way") for text in said)
