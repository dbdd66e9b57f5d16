"""Tones out as CGATS text and readings in: numbers are the same, whoever reads them."""

from __future__ import annotations

import numpy as np
import pytest

from checkcloth import Check, Chosen, ChosenSet, Colourway
from checkcloth.cloth.named_colour import NamedColour
from checkcloth.colour.spaces import srgb_to_lab
from checkcloth.colour.spectra.reading import read_spectra
from checkcloth.errors import ArgumentError, FileFormatError
from checkcloth.export.data.measurement import blank_cgats, tones_cgats
from checkcloth.files.cgats import parse_cgats
from checkcloth.quality import check_strike_off, read_readings

CLOTH = Colourway("white", ["teal", "#a6422e"], 0.6, "woven", "Quay")


def test_the_tones_of_a_range():
    chosen = ChosenSet(Check("1 cm", 2), [Chosen(CLOTH), Chosen(CLOTH.with_(name="Pier"))], "bay")
    (table,) = parse_cgats(tones_cgats(chosen))
    assert len(table.rows) == 2 * len(CLOTH.unique_tones)
    assert table.keywords["ILLUMINANT"] == "D65"
    names = [row[1] for row in table.rows]
    assert names[0] == "Quay: white"
    assert names[-1].startswith("Pier: ")
    lab = np.array([table.numbers(field) for field in ("LAB_L", "LAB_A", "LAB_B")]).T
    for tone, found in zip(CLOTH.unique_tones, lab, strict=False):
        wanted = srgb_to_lab(CLOTH.tones[tone.warp, tone.weft])
        assert found == pytest.approx(wanted, abs=0.0051)


def test_what_is_wanted_reads_back_as_a_strike_off_that_passes(tmp_path):
    path = tmp_path / "tones.txt"
    path.write_text(tones_cgats(CLOTH, Check("1 cm", 2)), "utf-8")
    readings = read_readings(path)
    assert readings.conditions == "D65/2°"
    result = check_strike_off(CLOTH, readings)
    assert result.passed
    assert result.missing == ()
    with pytest.raises(FileFormatError, match="illuminant"):
        read_readings(path, illuminant="D50")
    # The numbers are the same when they are written again.
    again = tmp_path / "again.txt"
    again.write_text(tones_cgats(CLOTH, Check("1 cm", 2)), "utf-8")
    assert again.read_bytes() == path.read_bytes()


def test_a_blank_file_is_filled(tmp_path):
    path = tmp_path / "blank.txt"
    text = blank_cgats(CLOTH, 2)
    assert text.count('""') == 3 * 2 * len(CLOTH.unique_tones)
    path.write_text(text.replace('"white" "" "" ""', '"white" 99,5 0.1 -.2', 1), "utf-8")
    readings = read_readings(path, illuminant="D65", observer=2)
    assert [reading.lab for reading in readings.readings] == [(99.5, 0.1, -0.2)]
    assert len(readings.empty) == 2 * len(CLOTH.unique_tones) - 1
    with pytest.raises(FileFormatError, match=r"blank\.txt, line .*illuminant must be stated"):
        read_readings(path)
    path.write_text(text.replace("LAB_B", "LAB_C"), "utf-8")
    with pytest.raises(FileFormatError, match=r"missing b\*"):
        read_readings(path, illuminant="D65", observer=2)
    with pytest.raises(ArgumentError):
        blank_cgats("white")


def test_measured_reflectances_go_along_and_read_back(tmp_path):
    rng = np.random.default_rng(6)
    white, sea, rust = rng.uniform(0.05, 0.9, (3, 36)).round(4).tolist()
    cloth = Colourway(
        NamedColour("Cotton", reflectance=white),
        [NamedColour("Sea", reflectance=sea), NamedColour("Rust", reflectance=rust)],
        1.0,
        "woven",
    )
    text = tones_cgats(cloth, Check("1 cm", 2))
    assert 'SPECTRA "mixed of measured reflectances"' in text
    path = tmp_path / "tones.txt"
    path.write_text(text, "utf-8")
    found = read_spectra(path)
    assert found["Cotton"] == pytest.approx(white, abs=1e-5)
    # Balanced plain weave: half of each yarn shows.
    half = (np.array(sea) + white) / 2
    assert found["Sea on Cotton"] == pytest.approx(half, abs=2e-5)
    assert read_readings(path).conditions == "D65/2°"
    # One colour without, or a mixing of the screen's, and none are made up.
    guessed = cloth.with_(ground="white")
    for one in (guessed, cloth.with_(mixing="multiply")):
        assert "SPECTRAL" not in tones_cgats(one, Check("1 cm", 2))
    assert "SPECTRAL" not in tones_cgats([cloth, guessed], Check("1 cm", 2))
