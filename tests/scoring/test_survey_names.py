"""Basic words for colours, by an open survey's names."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest

import checkcloth
from checkcloth import Colourway
from checkcloth.scoring.remarks import plain_words, scores_seen
from checkcloth.scoring.survey_names import (
    BASIC,
    SURVEY,
    shared_names,
    survey_names,
)

# Focal colours by their CSS names (CSS Color 4); anybody's word for them is the key.
FOCAL = {
    "black": (0, 0, 0), "white": (1, 1, 1), "grey": (0.5, 0.5, 0.5), "red": (0.9, 0, 0),
    "green": (0, 0.6, 0.1), "yellow": (1, 1, 0.1), "blue": (0, 0.2, 0.9),
    "brown": (0.4, 0.22, 0.05),
    "purple": (0.5, 0.1, 0.6), "pink": (1, 0.55, 0.8), "orange": (1, 0.5, 0),
}  # fmt: skip


@pytest.mark.parametrize("word", [word for word in BASIC if word != "white" and word != "black"])
def test_focal_colours_have_their_word(word):
    assert survey_names([FOCAL[word]]) == [word]


def test_between_two_words_nothing_is_said():
    assert survey_names([[0.1, 0.5, 0.5]]) == [""]  # between blue and green


def test_two_blues_are_said_and_a_blue_and_a_red_are_not():
    (said,) = shared_names(Colourway("white", ["navy", "royalblue", "crimson"]))
    assert said == "stripes 1 and 2 (navy, royalblue) read as two blues"
    assert shared_names(Colourway("white", ["navy", "crimson"])) == []
    assert "not a standard" in SURVEY


def test_stripes_of_one_name_are_said_together_on_each_side():
    blues = Colourway("white", ["navy", "crimson", "royalblue", "mediumblue"])
    (said,) = shared_names(blues)
    assert said == "stripes 1, 3 and 4 (navy, royalblue, mediumblue) read as three blues"
    wefts = Colourway("white", ["navy"], weft_stripes=["crimson", "#c00010"])
    (said,) = shared_names(wefts)
    assert said == "weft stripes 1 and 2 (crimson, #c00010) read as two reds"


def test_the_close_look_says_so_as_a_fact_of_a_survey():
    def remarks(*stripes):
        cloth = Colourway("white", stripes)
        return [
            remark
            for remark in plain_words(cloth, scores_seen(cloth))
            if "read as two b" in remark.text
        ]

    (said,) = remarks("navy", "royalblue", "crimson")
    assert said.kind == "fact"
    assert said.text.startswith("stripes 1 and 2 (navy, royalblue) read as two blues")
    assert said.text.endswith(SURVEY)
    assert remarks("navy", "crimson") == []


def test_without_matplotlib_nothing_is_said(monkeypatch):
    cloth = Colourway("white", ["navy", "royalblue"])
    monkeypatch.setattr("checkcloth.scoring.remarks.has", lambda module: False)
    assert not any("survey" in remark.text for remark in plain_words(cloth, scores_seen(cloth)))


def test_shapes_do_not_matter():
    rgb = np.random.default_rng(1).uniform(0, 1, (2, 3, 3))
    assert survey_names(rgb) == [survey_names(one)[0] for one in rgb.reshape(-1, 3)]


def test_the_survey_loads_only_when_it_is_asked():
    kit = str(Path(checkcloth.__file__).parents[1])
    code = (
        f"import sys; sys.path.insert(0, {kit!r}); import checkcloth.scoring.survey_names; "
        "assert 'matplotlib' not in sys.modules"
    )
    subprocess.run([sys.executable, "-c", code], check=True)
