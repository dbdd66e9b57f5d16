"""pandas both ways: a frame where a table's path is taken, a frame of every result."""

from __future__ import annotations

import sys

import numpy as np
import pandas
import pytest
from hypothesis import given
from hypothesis import strategies as st

from checkcloth import Check, Colourway, Palette, colour_gamp, read_palette
from checkcloth.errors import ArgumentError, FileFormatError
from checkcloth.files.frames import Tabular
from checkcloth.quality import (
    Demand,
    check_strike_off,
    colourway_faults,
    glossary,
    ground_gains,
    parting_pairs,
    read_colourways,
    read_readings,
    read_supplier_palette,
    score_table,
    score_with_tolerance,
    strength_windows,
    striping,
    sweep,
    under_lights,
)
from checkcloth.search import Wanted, search, search_in_bands

CLOTH = Colourway("white", ["navy", "gold"], 0.4)
BRIEF = Wanted(Palette("coast", ["white", "navy", "teal", "gold"]), 2, grounds=["white"])
READINGS = pandas.DataFrame(
    {
        "tone": ["white", "navy on white", "gold on white"],
        "L*": [97.1, 62.2, np.nan],
        "a*": [0.2, 3.5, np.nan],
        "b*": [-0.3, -21.0, None],
        "illuminant": "D65",
        "observer": 2,
    }
)


def test_a_frame_is_taken_wherever_a_path_is(tmp_path):
    READINGS.to_csv(tmp_path / "r.csv", index=False)
    from_file, from_frame = read_readings(tmp_path / "r.csv"), read_readings(READINGS)
    assert from_file.readings == from_frame.readings
    assert from_frame.empty == (4,)
    assert str(check_strike_off(CLOTH, READINGS).checks) == str(
        check_strike_off(CLOTH, tmp_path / "r.csv").checks
    )
    shades = pandas.DataFrame({"shade": ["Fog", "Brick"], "hex": ["#778899", "#b5473c"]})
    assert len(read_supplier_palette(shades).palette) == 2
    colours = pandas.DataFrame({"name": ["Fog", "Brick"], "colour": ["#778899", "#b5473c"]})
    assert [colour.name for colour in read_palette(colours)] == ["Fog", "Brick"]
    ways = pandas.DataFrame({"ground": ["white"], "stripe 1": ["navy"], "strength": [0.4]})
    assert read_colourways(ways)[0].strength == 0.4
    assert len(score_table(ways, visions=["normal"])) == 1
    assert len(score_table(colours, visions=["normal"])) == 2
    wrong = pandas.DataFrame({"ground": ["white", "nvy"], "stripe 1": ["navy", "red"]})
    assert "line 3" in colourway_faults(wrong)[0]


def test_a_frame_without_what_is_needed_is_refused_as_a_file_is():
    with pytest.raises(FileFormatError) as caught:
        read_readings(pandas.DataFrame({"tone": ["white"]}))
    assert (caught.value.argument, caught.value.source) == ("header", "DataFrame")
    with pytest.raises(FileFormatError):
        read_readings(pandas.DataFrame())


def results():
    return [
        read_readings(READINGS),
        check_strike_off(CLOTH, READINGS),
        read_supplier_palette(pandas.DataFrame({"shade": ["Fog"], "hex": ["#778899"]})),
        score_table(CLOTH),
        sweep(CLOTH, threshold=12),
        strength_windows(CLOTH, [Demand("edges", "dl", 7)]),
        score_with_tolerance(CLOTH, draws=100),
        striping(CLOTH, Check("1/4 in", 2), "1 m"),
        ground_gains(CLOTH, ["silver", "gold"]),
        glossary(),
        under_lights(CLOTH),
        parting_pairs(Palette("greys", ["#aaaaaa", "#ababab"]), match=1, part=0.01),
        colour_gamp(["navy", "gold"], ["teal", "coral"], ground="white"),
        search(BRIEF, k=3),
        search_in_bands(BRIEF, Check("1 cm", 2, warp="graduated"), k=3),
    ]


def test_every_result_is_a_frame_with_numbers_as_numbers():
    for result in results():
        frame = result.frame()
        rows = list(result.rows())
        assert len(frame) == len(rows) > 0
        assert len(frame.columns) == len(rows[0]) == len(result.columns)
        for row in rows:
            assert all(isinstance(cell, bool | int | float | str | None.__class__) for cell in row)
    frame = check_strike_off(CLOTH, READINGS).frame()
    assert frame["passed"].dtype == bool
    assert frame["readings"].dtype.kind == "i"
    assert frame["cmc"].dtype == float
    scores = score_table(CLOTH).frame()
    assert scores["normal_lightness_runs"].dtype == bool
    assert scores["tones"].dtype.kind == scores["stripe_count"].dtype.kind == "i"


def test_every_column_of_every_frame_is_in_the_glossary():
    for result in results():
        words, frame = glossary(result), result.frame()
        assert [each.column for each in words.definitions] == list(frame.columns)
        assert all(words[column].words and words[column].formula for column in frame.columns)
    # Another kind of result has to come here too.
    assert {type(result) for result in results()} >= {*Tabular.__subclasses__()}


def test_frames_say_what_their_results_say():
    gains = ground_gains(CLOTH, ["silver", "gold"])
    assert isinstance(gains, list)
    assert gains.frame()["gain"].tolist() == [gain.gain for gain in gains]
    assert "<table" in gains._repr_html_()
    found = search(BRIEF, k=3)
    assert found.frame()["least_edge"].tolist() == list(found.values)
    lit = under_lights(CLOTH, ["D65", "A"])
    tone, light, shift = lit.worst
    frame = lit.frame().set_index("tone")
    assert light == "A"
    assert frame.loc[tone, "de2000_A"] == shift == frame["de2000_A"].max()
    gamp = colour_gamp(["navy", "gold"], ["teal", "coral"], ground="white")
    assert gamp.frame()["nearest"].tolist() == gamp.values(against="nearest").ravel().tolist()


def test_readings_go_round_through_a_frame():
    read = read_readings(READINGS)
    again = read_readings(read.frame())
    assert [reading.lab for reading in again.readings] == [reading.lab for reading in read.readings]
    assert again.conditions == read.conditions


def test_rows_of_a_table_are_taken_by_slice_mask_and_number():
    table = score_table([Colourway("white", [name]) for name in ("navy", "red", "gold")])
    mask = table["normal_least_edge_de2000"] > 15
    kept = table[mask]
    assert len(kept) == int(mask.sum())
    assert table[:2]["stripes"] == table["stripes"][:2]
    assert table[[2, 0]]["stripes"] == (table["stripes"][2], table["stripes"][0])
    assert len(table[-1:]) == 1
    for wrong in ([5], [True], 2.5, ["a"], {1}):
        with pytest.raises(ArgumentError):
            table[wrong]


@given(st.lists(st.integers(-3, 2), max_size=5))
def test_taking_rows_is_what_pandas_takes(numbers):
    table = TABLE[numbers] if numbers else TABLE[:0]
    assert list(table.rows()) == list(FRAME.iloc[numbers].itertuples(index=False, name=None))


def test_a_table_cannot_be_changed_by_accident():
    column = TABLE["normal_least_edge_de2000"]
    with pytest.raises(ValueError, match="read-only"):
        column[0] = 99
    with pytest.raises(TypeError):
        TABLE["name"][0] = "else"
    with pytest.raises(TypeError):
        TABLE.columns["name"] = ("a",)


def test_sorting_goes_the_way_it_says():
    down = TABLE.sorted_by("normal_least_edge_de2000")["normal_least_edge_de2000"]
    assert (np.diff(down) <= 0).all()
    up = TABLE.sorted_by("normal_least_edge_de2000", descending=False)
    assert (np.diff(up["normal_least_edge_de2000"]) >= 0).all()


def test_without_pandas_a_frame_says_what_to_install(monkeypatch):
    monkeypatch.setitem(sys.modules, "pandas", None)
    with pytest.raises(ImportError, match="pip install"):
        TABLE.frame()


TABLE = score_table(
    [Colourway("white", [name, "teal"], name=name) for name in ("navy", "red", "gold")]
)
FRAME = TABLE.frame()
