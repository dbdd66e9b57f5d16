"""CSV files as people and spreadsheets write them: what is taken, what is named with its line."""

from __future__ import annotations

import pytest

from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.named_colour import NamedColour
from checkcloth.errors import ArgumentError, FileFormatError
from checkcloth.quality import (
    colourway_faults,
    read_colourways,
    read_readings,
    score_table,
    write_blank_readings,
    write_colourways,
)

GOOD = "name,ground,stripe 1,stripe 2,strength\nA,white,navy,gold,0.5\n"


def write(path, text, encoding="utf-8"):
    path.write_bytes(text if isinstance(text, bytes) else text.encode(encoding))
    return path


# -- colourways ----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "text",
    [
        GOOD,
        "\ufeff" + GOOD,
        GOOD.replace("\n", "\r\n"),
        GOOD.replace(",", ";").replace("0.5", "0,5"),
        GOOD.replace(",", "\t").replace("0.5", "50 %"),
        "\n\n" + GOOD.replace("\nA", "\n\n,,,,\nA") + "\n;\n".replace(";", ""),
        GOOD.replace("name,ground", "Name , GROUND").replace("stripe 1", "Stripe_1"),
        GOOD.replace("\n", ",,\n"),
    ],
    ids=["plain", "bom", "crlf", "semicolons", "tabs", "empty lines", "spelling", "empty columns"],
)
def test_the_same_colourway_in_every_dress(tmp_path, text):
    (read,) = read_colourways(write(tmp_path / "a.csv", text))
    assert (read.name, read.strength) == ("A", 0.5)
    assert [stripe.hex for stripe in read.stripes] == ["#000080", "#ffd700"]


def test_plain_hex_reads_as_the_general_parser_does(tmp_path):
    lines = ["ground,stripe 1"] + [f"#{c:06x},#{c:06X}" for c in (0, 0x123456, 0xABCDEF, 0xFFFFFF)]
    for read in read_colourways(write(tmp_path / "a.csv", "\n".join(lines))):
        assert read.ground.rgb == Colourway(read.ground.text.lower(), ["red"]).ground.rgb
        assert read.ground.rgb == read.stripes[0].rgb


@pytest.mark.parametrize(
    ("text", "line", "argument", "words"),
    [
        ("", None, None, "a header.*an empty file"),
        ("\n , \n", None, None, "a header"),
        ("name,ground\nA,white\n", 1, "header", "stripe 1"),
        ("name,stripe 1\nA,red\n", 1, "header", "ground"),
        ("ground,stripe 1,stripe 3\nwhite,red,navy\n", 1, "header", "stripe 2"),
        ("ground,stripe 1,strenght\n", 1, "header", "'strenght'"),
        ("ground,stripe 1,ground\n", 1, None, "'ground' twice"),
        ("ground,stripe 1,stripe 25\n", 1, "header", "'stripe 25'"),
        ("ground,stripe 1\n", None, "colourways", "at least one"),
        ("ground,stripe 1\n\nwhite,\n", 3, "stripe 1", "nothing"),
        ("ground,stripe 1\n,red\n", 2, "ground", "nothing"),
        ("ground,stripe 1\nwhite,bleu\n", 2, "stripe 1", "'bleu'"),
        ("ground,stripe 1,stripe 2\nwhite,,red\n", 2, "stripe 1", "nothing"),
        (GOOD.replace("0.5", "50"), 2, "strength", r"0 to 1.*a percentage\?"),
        (GOOD.replace("0.5", "half"), 2, "strength", "'half'"),
        (GOOD.replace("0.5", "0.5 mm"), 2, "strength", "without unit"),
        (GOOD.replace("0.5", "nan"), 2, "strength", "'nan'"),
        (GOOD.replace("0.5", '"0,5"'), 2, "strength", "a point"),
        (GOOD.replace("0.5", "0,5"), 2, None, r"5 cells.*a decimal comma\?"),
        (GOOD.replace("navy", '"navy'), None, None, "line [23].*CSV"),
        (GOOD.encode("utf-16"), 1, None, "UTF-16"),
        ("ground,stripe 1,name\nwhite,red,é\n".encode("latin-1"), 2, None, "0xe9"),
        (b"ground,stripe 1\nwhite,r\0d\n", 2, None, "a zero byte"),
        ("mixing,ground,stripe 1\nfelt,white,red\n", 2, "mixing", "'felt'"),
        ("name,ground,stripe 1\na\x07b,white,red\n", 2, "name", "control"),
    ],
)
def test_a_bad_file_names_line_and_remedy(tmp_path, text, line, argument, words):
    path = write(tmp_path / "a.csv", text)
    with pytest.raises(FileFormatError, match=words) as caught:
        read_colourways(path)
    named = f"a.csv, line {line}: " if line else "a.csv"
    assert str(caught.value).startswith(named)
    if argument:
        fault = caught.value
        assert (fault.source, fault.line, fault.argument) == ("a.csv", line, argument)
    with pytest.raises(FileFormatError):
        score_table(path)


def test_all_faults_are_listed_at_once(tmp_path):
    text = "ground,stripe 1,strength\nwhite,red,0.5\nwhite,bleu,0.5\nwhite,red,2\nw,x,y,z\n,red,1\n"
    faults = colourway_faults(write(tmp_path / "a.csv", text))
    assert [fault.split(":")[0] for fault in faults] == [f"a.csv, line {n}" for n in (3, 4, 5, 6)]
    assert colourway_faults(write(tmp_path / "b.csv", GOOD)) == []
    assert len(colourway_faults(write(tmp_path / "c.csv", "colour\n"))) == 1


def test_writing_then_reading_gives_the_same(tmp_path):
    members = [
        Colourway(
            "oklch(95% 0.02 90)", ["rgb(191 94 48)", "teal"], 0.37, "woven", "=one", 0.6, 1.5
        ),
        Colourway("white", ["navy"], 1, name="two"),
    ]
    read = read_colourways(write_colourways(members, tmp_path / "a.csv"))
    assert [str(r) for r in read] == [str(m) for m in members]
    for again, member in zip(read, members, strict=True):
        assert (again.tones == member.tones).all()


# -- readings ------------------------------------------------------------------------------------

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
        ("tone,X,Y,Z\n", 1, "header", "tone, x, y, z.*readings in XYZ"),
        ("tone,L*,L,a,b\n", 1, "header", r"'l\*' and 'l'"),
        (HEAD + "white,,,,D65,2\n", None, "readings", "none"),
        (HEAD, None, "readings", "none"),
        (HEAD + ",50,0,0,D65,2\n", 2, "tone", "nothing"),
        (HEAD + "white,106,0,0,D65,2\n", 2, "l*", "0 to 105"),
        (HEAD + "white,50,-151,0,D65,2\n", 2, "a*", "-150 to 150"),
        (HEAD + "white,50 %,0,0,D65,2\n", 2, "l*", "without unit"),
        (HEAD + "white,,0,0,D65,2\n", 2, "l*", "nothing"),
        (HEAD + "white,50,0,0,A,2\n", 2, "illuminant", "D50 or D65, found 'A'"),
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
