"""The glossary: every column of every result, and what it says is what is worked out."""

from __future__ import annotations

import numpy as np
import pandas
import pytest
from skimage.color import rgb2lab

from checkcloth import Check, Colourway, score
from checkcloth.cloth.tones import area_shares, touching_pairs
from checkcloth.colour.vision import VISIONS
from checkcloth.errors import ArgumentError
from checkcloth.export.paper.report import report
from checkcloth.quality import (
    Demand,
    check_strike_off,
    glossary,
    ground_gains,
    parting_pairs,
    read_readings,
    read_supplier_palette,
    score_table,
    score_with_tolerance,
    strength_windows,
    striping,
    sweep,
    under_lights,
)
from checkcloth.scoring.cloth_scores import WHOLE_CLOTH
from checkcloth.scoring.measures import MEASURE_NAMES, find_measure
from checkcloth.scoring.vocabulary import COLUMNS

READINGS = pandas.DataFrame(
    {"tone": ["white"], "L*": [99.0], "a*": [0.5], "b*": [1.0], "illuminant": "D65", "observer": 2}
)
CLOTH = Colourway("white", ["#14325c", "#b8374f"], 0.4, name="Halt")
RESULTS = {
    "score_table": lambda: score_table(CLOTH, visions=["normal", "deutan"]),
    "sweep": lambda: sweep(CLOTH, threshold=9),
    "strength_windows": lambda: strength_windows(CLOTH, [Demand("edges")]),
    "score_with_tolerance": lambda: score_with_tolerance(CLOTH, draws=200),
    "striping": lambda: striping(CLOTH, Check("1 cm", 2), "60 cm"),
    "ground_gains": lambda: ground_gains(CLOTH, ["silver", "gold"]),
    "check_strike_off": lambda: check_strike_off(CLOTH, READINGS),
    "read_supplier_palette": lambda: read_supplier_palette(
        pandas.DataFrame({"shade": ["Fog"], "hex": ["#778899"]})
    ),
    "read_readings": lambda: read_readings(READINGS),
    "parting_pairs": lambda: parting_pairs({"one": [0.2] * 36, "two": [0.4] * 36}, part=0),
    "under_lights": lambda: under_lights(CLOTH),
    "glossary": glossary,
}
# In glossary() once, whatever the colour vision or the light.
GENERAL = {"de2000_A": "de2000_LIGHT", "de2000_F11": "de2000_LIGHT"}


@pytest.mark.parametrize("name", RESULTS)
def test_a_result_and_its_glossary_have_the_same_columns(name):
    result = RESULTS[name]()
    defined = glossary(result)
    assert [each.column for each in defined.definitions] == list(result.frame().columns)
    assert {of for of, _ in defined.sections} == {name}
    every = glossary()
    for each in defined.definitions:
        assert each.words
        assert each.formula
        assert every[each.column].words
        if each.column in GENERAL:
            assert every[each.column].column == GENERAL[each.column]


def test_without_a_result_it_has_them_all():
    names = [of for of, _ in glossary().sections]
    assert names == list(RESULTS)
    table = score_table(CLOTH)
    for column in table.columns:
        assert glossary()[column].formula
    for vision in VISIONS:
        assert glossary()[f"{vision}_evenness"] == glossary()["evenness"]


def test_the_words_of_the_columns_come_from_it():
    for column, words in COLUMNS.items():
        name = "least_edge_de2000" if column == "least_edge" else column
        assert glossary()[name].words == words


def test_every_measure_and_every_score_of_the_cloth_has_a_formula():
    for name in MEASURE_NAMES:
        assert find_measure(name).formula
        assert find_measure(name).source
    assert all(each.formula for each in WHOLE_CLOTH)


def test_means_are_weighed_as_it_says_in_uneven_bands():
    """By length of edge, and by the areas of both tones; scikit-image's white has four digits."""
    bands = Check("1 cm", 2, warp="3 A, 1 ground, 1 B, 2 ground", weft="1 A, 1 ground, 4 B")
    warp, weft = bands.counted_bands
    scored = score(CLOTH, check=bands)
    lab = rgb2lab(CLOTH.tones).reshape(-1, 3)
    kind = np.array([(i > 0) + (j > 0) for i, j in np.ndindex(3, 3)])
    step = lab[:, None] - lab
    hyab = np.abs(step[..., 0]) + np.hypot(step[..., 1], step[..., 2])
    edges = touching_pairs(warp, weft)
    assert (
        glossary()["ground_single_mean_hyab"].weighed == "by the length of the edge that they share"
    )
    for name, kinds in (("ground_single", [0, 1]), ("single_crossing", [1, 2])):
        mine = np.array([sorted(kind[pair]) == kinds for pair in edges.pairs.tolist()])
        one, two = edges.pairs[mine].T
        expected = np.average(hyab[one, two], weights=edges.lengths[mine])
        assert getattr(scored, name).mean_hyab == pytest.approx(expected, abs=1e-2)
        assert getattr(scored, name).least_hyab == pytest.approx(hyab[one, two].min(), abs=1e-2)
    assert glossary()["crossing_crossing_mean_hyab"].weighed == "by the areas of the two tones"
    shares = area_shares(warp, weft)
    crossings = [(i, j) for i in (1, 2) for j in (1, 2)]
    pairs = [(p, q) for n, p in enumerate(crossings) for q in crossings[n + 1 :] if p != q[::-1]]
    found = [hyab[p[0] * 3 + p[1], q[0] * 3 + q[1]] for p, q in pairs]
    expected = np.average(found, weights=[shares[p] * shares[q] for p, q in pairs])
    assert scored.crossing_crossing.mean_hyab == pytest.approx(expected, abs=1e-2)


def test_hyab_is_offered_wherever_ciede2000_is():
    assert sweep(CLOTH, measure="hyab").threshold == 15
    assert Demand("edges", "hyab", 20).at_least == 20
    (window,) = strength_windows(CLOTH, [Demand("edges", "hyab", 12)], mixings=["source-over"])
    held = sweep(CLOTH, measure="hyab", threshold=12).window
    assert window.spans[0] == pytest.approx(held[0])
    sure = score_with_tolerance(CLOTH, measure="hyab", threshold=5, draws=200)
    assert 0 <= sure.chance_of_all[0] <= 1
    assert "normal_single_single_least_hyab" in score_table(CLOTH).columns


def test_it_shows_itself_prints_and_makes_a_frame():
    words = glossary()
    html = words._repr_html_()
    assert html.count("<table") == 4 + len(RESULTS) - 1
    assert "VISION_KIND_STATISTIC_MEASURE" in html
    assert "a crossing and its transpose" in html
    assert repr(words).startswith("<glossary of ")
    frame = words.frame()
    assert len(frame) == len(words)
    assert set(frame["of"]) == set(RESULTS)
    printed = report("Words", [words])
    assert "Michelson contrast of the tones" in printed.html()
    assert printed.pdf().startswith(b"%PDF")


def test_what_is_no_column_and_no_result_is_refused():
    with pytest.raises(ArgumentError, match="evenness") as caught:
        glossary()["eveness"]
    assert caught.value.argument == "column"
    assert glossary()["wanted_L*"].column == "wanted_L"  # as other tables write it
    with pytest.raises(ArgumentError) as caught:
        glossary(CLOTH)
    assert caught.value.argument == "of"
