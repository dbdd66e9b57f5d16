"""The words of scores: one wording for one thing, and no name left without words."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checkcloth import MIXINGS, VISIONS, Check, Colourway, score
from checkcloth.scoring.measures import MEASURE_NAMES, find_measure
from checkcloth.scoring.pairs import KINDS
from checkcloth.scoring.remarks import plain_words, scores_seen
from checkcloth.scoring.vocabulary import (
    COLUMNS,
    MEASURE_WORDS,
    MEASURES,
    MIXING_WORDS,
    PAIR_WORDS,
    VISION_WORDS,
    limit_words,
    number_of,
)


def test_everything_has_words_and_no_two_the_same():
    for words, names in (
        (PAIR_WORDS, KINDS),
        (MEASURE_WORDS, MEASURE_NAMES),
        (MIXING_WORDS, MIXINGS),
        (VISION_WORDS, VISIONS),
    ):
        assert set(words) == set(names)
        assert len(set(words.values())) == len(words)
    assert len(set(COLUMNS.values())) == len(COLUMNS)
    assert {find_measure(name).label for name in MEASURE_NAMES} == set(MEASURE_WORDS.values())


def test_columns_are_those_of_a_score_and_the_least_edge():
    scored = score(Colourway("white", ["navy"]))
    assert set(COLUMNS) == {"least_edge", *scored.columns()}
    for kind in KINDS:
        for name in MEASURES:
            assert hasattr(getattr(scored, kind), name)


@pytest.mark.parametrize("kind", [*KINDS, "edges"])
@pytest.mark.parametrize("measure", MEASURE_NAMES)
@pytest.mark.parametrize("vision", VISIONS)
def test_limits_say_kind_measure_and_vision(kind, measure, vision):
    words = limit_words(kind, measure, 12.5, vision)
    assert PAIR_WORDS.get(kind, "every edge") in words
    assert MEASURE_WORDS[measure] in words
    assert "12.5" in words
    assert (vision in words) == (vision != "normal")


@given(st.sampled_from(sorted(COLUMNS)), st.floats(0, 150), st.floats(0.01, 150))
def test_a_number_under_a_limit_is_not_shown_as_reaching_it(column, value, limit):
    text = number_of(column, value, below=limit)
    if text not in ("yes", "no", "–") and value < limit - 1e-5:
        assert float(text) < limit
    assert number_of(column, math.nan) == "–"


def test_remarks_speak_of_pairs_in_the_same_words():
    same_light = Colourway("#777777", ["#a06a50"], 0.9)
    texts = [remark.text for remark in plain_words(same_light, scores_seen(same_light))]
    assert any(PAIR_WORDS["ground_single"] in text for text in texts)


def test_an_estimate_says_how_far_off_it_may_be():
    cloth = Colourway("#f7f3ea", ["#204060", "#a06a50"], 0.9)
    for mixing, said in (("ink", "within ΔE00 5.5, crossings within 9.2"), ("pigment", "ΔE00")):
        remark = next(t for t in _remarks(cloth.with_(mixing=mixing)) if "estimate" in t)
        assert said in remark
        assert "a strike-off decides" in remark
    named = _remarks(cloth.with_(mixing="ink", stock="coated"))
    assert any("crossings within 7.3" in text for text in named)
    assert not any("estimate" in text for text in _remarks(cloth.with_(mixing="woven")))


def test_an_ink_lighter_than_its_paper_is_said_to_be_impossible():
    navy = Colourway("navy", ["white", "#000030"], 0.9, "ink")
    impossible = [text for text in _remarks(navy) if "lighter than its paper" in text]
    assert len(impossible) == 1
    assert impossible[0].startswith("white cannot be printed on navy")
    assert not any("lighter than its" in text for text in _remarks(navy.with_(mixing="woven")))
    on_white = Colourway("white", ["white", "navy"], 0.9, "ink")
    assert not any("lighter than its" in text for text in _remarks(on_white))


def _remarks(colourway):
    return [remark.text for remark in plain_words(colourway, scores_seen(colourway))]


def test_woven_says_from_how_far_its_tones_are_seen():
    cloth = Colourway("white", ["black"], 1.0, "woven")
    assert any("from 1.16 m on at 64 per in" in text for text in _remarks(cloth))
    assert not any("threads merge" in text for text in _remarks(cloth.with_(mixing="pigment")))


def test_an_edge_that_some_eyes_lose_is_named_by_what_merges():
    """Stripes without ground between them: their crossings touch, and here they alone merge."""
    cloth = Colourway("white", ["#a04040", "#607020"], 0.8)
    scores = scores_seen(cloth, Check("1 cm", 2, warp="2 A, 2 B, 2 ground"))
    seen = scores["deutan"]
    assert min(seen.ground_single.least_de2000, seen.single_crossing.least_de2000) > 9
    (lost,) = [remark.text for remark in plain_words(cloth, scores) if "deutan" in remark.text]
    assert lost.endswith("a crossing–crossing pair loses its edge")
