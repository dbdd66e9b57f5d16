"""A thing of another kind is refused with the name of its argument, whatever the function."""

from __future__ import annotations

import pytest

from checkcloth.cloth.colourway import Colourway
from checkcloth.errors import ArgumentError
from checkcloth.quality import (
    Readings,
    check_strike_off,
    colourway_faults,
    direction_words,
    ground_gains,
    palette_colourways,
    read_supplier_palette,
    score_table,
    strength_windows,
    sweep,
    write_blank_readings,
    write_colourways,
)

CLOTH = Colourway("white", ["navy"])
NO_READINGS = Readings("a.csv", "D65", 2, ())


@pytest.fixture
def shades(tmp_path):
    path = tmp_path / "shades.csv"
    path.write_text("shade,hex\nFog,#777\n", "utf-8")
    return path


@pytest.mark.parametrize(
    ("call", "argument"),
    [
        (lambda file: check_strike_off(CLOTH, NO_READINGS), "readings"),
        (lambda file: check_strike_off(CLOTH, NO_READINGS, standard=NO_READINGS), "readings"),
        (lambda file: read_supplier_palette(file, grounds=5), "grounds"),
        (lambda file: read_supplier_palette(file, grounds=[5]), "grounds"),
        (lambda file: write_blank_readings("white", file), "colourway"),
        (lambda file: write_colourways(5, file), "colourways"),
        (lambda file: write_colourways(["white"], file), "colourways"),
        (lambda file: colourway_faults(file, most="all"), "most"),
        (lambda file: palette_colourways("navy"), "palette"),
        (lambda file: score_table(CLOTH, visions=5), "visions"),
        (lambda file: score_table(CLOTH, visions=[None]), "visions"),
        (lambda file: score_table(CLOTH).where("tones", "many"), "at_least"),
        (lambda file: score_table(CLOTH).where("name", 5), "column"),
        (lambda file: score_table(CLOTH)[5], "column"),
        (lambda file: strength_windows("white", []), "colourway"),
        (lambda file: strength_windows(CLOTH, 5), "demands"),
        (lambda file: sweep(CLOTH, kinds=5), "kinds"),
        (lambda file: ground_gains("white", ["navy"]), "colourway"),
        (lambda file: ground_gains(CLOTH, 5), "grounds"),
        (lambda file: direction_words([[50, 0, 0]], [50, 0, 0]), "standard"),
        (lambda file: direction_words([50, 0, 0], [[50, 0, 0]] * 2), "sample"),
    ],
)
def test_a_thing_of_another_kind_is_refused_by_the_name_of_its_argument(shades, call, argument):
    with pytest.raises(ArgumentError) as caught:
        call(shades)
    assert caught.value.argument == argument
