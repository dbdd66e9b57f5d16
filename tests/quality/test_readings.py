"""Readings as people and instruments write them, and the form that is given to be filled."""

from __future__ import annotations

import pytest

from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.named_colour import NamedColour
from checkcloth.colour.reflectance import reflectances
from checkcloth.errors import ArgumentError, FileFormatError
from checkcloth.quality import (
    check_strike_off,
    read_readings,
    readings_from_spectra,
    write_blank_readings,
)


def write(path, text):
    path.write_text(text, "utf-8", newline="")
    return path


HEAD = "tone,L*,a*,b*,illuminant,observer\n"


@pytest.mark.parametrize(
    "text",
    [
        HEAD + "white,95.1,-0.5,3.2,D65,2\n",
        "\ufeff" + HEAD.replace(",", ";") + "white;95,1;−0,5;3,2;d65;2°\n",
        "Tone,L,A,B,Illuminant,Observer,reading,note\nwhite,95.1,-0.5,3.2,D65,2,1,first\n",
    ],
    ids=["plain", "spreadsheet", "spelling"],
)
def test_the_same_reading_in_every_dress(tmp_path, text):
    read = read_readings(write(tmp_path / "r.csv", text))
    assert read.conditions == "D65/2°"
    assert read.readings[0].lab == (95.1, -0.5, 3.2)


@pytest.mark.parametrize(
    ("text", "line", "argument", "words"),
    [
        ("tone,L*,a*\n", 1, "header", r"missing b\*"),
        ("tone,R,G,B\n", 1, "header", "tone, R, G, B.*RGB is no measurement"),
        ("tone,X,Y,Z\n", None, "readings", "none"),
        ("tone,X,Y,Z\nwhite,90,95,100\n", 2, "illuminant", "stated"),
        (HEAD + "w,0.9,0,0,D65,2\nv,0.5,0,0,D65,2\n", 2, "l*", "scale of 0 to 100"),
        ("tone,L*,L,a,b\n", 1, "header", r"'l\*' and 'l'"),
        (HEAD + "white,,,,D65,2\n", None, "readings", "none"),
        (HEAD, None, "readings", "none"),
        (HEAD + ",50,0,0,D65,2\n", 2, "tone", "nothing"),
        (HEAD + "white,106,0,0,D65,2\n", 2, "l*", "0 to 105"),
        (HEAD + "white,50,-151,0,D65,2\n", 2, "a*", "-150 to 150"),
        (HEAD + "white,50 %,0,0,D65,2\n", 2, "l*", "without unit"),
        (HEAD + "white,,0,0,D65,2\n", 2, "l*", "nothing"),
        (HEAD + "white,50,0,0,G,2\n", 2, "illuminant", "D65, .*F11.*, found 'G'"),
        (HEAD + "white,50,0,0,D65,4\n", 2, "observer", "2 or 10"),
        (HEAD + "white,50,0,0,,2\n", 2, "illuminant", "stated"),
        (HEAD + "white,50,0,0,D65,\n", 2, "observer", "stated"),
        (HEAD + "w,50,0,0,D65,2\nw,50,0,1,D50,2\n", 3, "illuminant", "D65.*D50"),
        (
            "tone,reading," + HEAD[5:] + "w,1,50,0,0,D65,2\n\nW,1,51,0,0,D65,2\n",
            4,
            "reading",
            "already on line 2",
        ),
    ],
)
def test_bad_readings_name_line_and_remedy(tmp_path, text, line, argument, words):
    with pytest.raises(FileFormatError, match=words) as caught:
        read_readings(write(tmp_path / "r.csv", text))
    fault = caught.value
    assert (fault.source, fault.line, fault.argument) == ("r.csv", line, argument)


def test_conditions_may_be_stated_for_the_whole_file(tmp_path):
    path = write(tmp_path / "r.csv", "tone,L*,a*,b*\nwhite,95,0,0\n")
    assert read_readings(path, illuminant="D50", observer=10).conditions == "D50/10°"
    with pytest.raises(ArgumentError) as caught:
        read_readings(path, illuminant="TL84", observer=2)
    assert caught.value.argument == "illuminant"


def test_a_tone_that_is_not_there_is_named_with_what_is_near(tmp_path):
    path = write(tmp_path / "r.csv", HEAD + "nvay on white,50,0,0,D65,2\n")
    read = read_readings(path)
    with pytest.raises(FileFormatError, match="'navy on white'") as caught:
        read.by_tone(Colourway("white", ["navy"]))
    fault = caught.value
    assert (fault.line, fault.argument, fault.found) == (2, "tone", "nvay on white")


def test_tones_of_the_same_name_cannot_be_matched(tmp_path):
    twins = [NamedColour("blue", (0, 0, 1)), NamedColour("blue", (0, 0, 0.5))]
    with pytest.raises(ArgumentError, match="names of their own"):
        write_blank_readings(Colourway("white", twins), tmp_path / "blank.csv")


def test_the_blank_form_has_every_tone_and_reads_once_filled(tmp_path):
    colourway = Colourway("white", ["navy", "gold"])
    path = write_blank_readings(colourway, tmp_path / "blank.csv", readings=2)
    lines = path.read_text("utf-8").splitlines()
    assert len(lines) == 1 + 2 * 7
    filled = [lines[0]] + [line.replace(",,,,,,", ",50,0,0,D65,2,") for line in lines[1:]]
    read = read_readings(write(tmp_path / "filled.csv", "\n".join(filled)))
    assert len(read.by_tone(colourway)) == 7
    stated = write_blank_readings(colourway, tmp_path / "a.csv", illuminant="A", observer=10)
    assert stated.read_text("utf-8").splitlines()[1] == "white,1,,,,A,10,"


def test_readings_from_spectra_are_lab_under_the_light_that_is_wanted(tmp_path):
    """So 10° instruments are no dead end: the reflectance knows no observer."""
    cloth = Colourway("white", ["teal"], 1.0, "woven")
    names = ["white", "teal on white", "teal over teal"]
    rgb = [cloth.tones[0, 0], cloth.tones[1, 0], cloth.tones[1, 1]]
    head = ",".join(["tone", *(f"R{nm}" for nm in range(380, 731, 10))])
    rows = [
        ",".join([name, *(f"{value:.9f}" for value in reflectances(tone))])
        for name, tone in zip(names, rgb, strict=True)
    ]
    path = tmp_path / "a.csv"
    path.write_text("\n".join([head, *rows]), "utf-8")
    result = check_strike_off(cloth, readings_from_spectra(path))
    assert result.passed
    assert max(check.de2000 for check in result.checks) < 0.1
    ten = readings_from_spectra(path, illuminant="D50", observer=10)
    assert ten.conditions == "D50/10°"
    with pytest.raises(ArgumentError):
        readings_from_spectra(path, illuminant="G11")
    assert readings_from_spectra(path, illuminant="F11").conditions == "F11/2°"
