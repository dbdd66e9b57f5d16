"""CSV files as people and spreadsheets write them: what is taken, what is named with its line."""

from __future__ import annotations

import pytest

from checkcloth.cloth.colourway import Colourway
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
    ("text", "message"),
    [
        ("", r"a\.csv: must hold a header.*found an empty file"),
        ("\n , \n", r"a\.csv: must hold a header"),
        ("name,ground\nA,white\n", r"line 1: must be a header.*missing stripe 1$"),
        ("name,stripe 1\nA,red\n", r"line 1: .*missing ground$"),
        ("ground,stripe 1,stripe 3\nwhite,red,navy\n", r"line 1: .*missing stripe 2$"),
        ("ground,stripe 1,strenght\n", r"line 1: header must be of.*found 'strenght'"),
        ("ground,stripe 1,ground\n", r"line 1: header must name each column once"),
        ("ground,stripe 1,stripe 25\n", r"line 1: header must name stripe 1 to stripe 24"),
        ("ground,stripe 1\n", r"a\.csv: must hold at least one colourway, found none"),
        ("ground,stripe 1\n\nwhite,\n", r"line 3: stripe 1 must be a colour, found nothing"),
        ("ground,stripe 1\n,red\n", r"line 2: ground must be a colour, found nothing"),
        ("ground,stripe 1\nwhite,bleu\n", r"line 2: stripe 1: colour must be a CSS.*'bleu'"),
        ("ground,stripe 1,stripe 2\nwhite,,red\n", r"line 2: stripe 1 must be a colour before"),
        (GOOD.replace("0.5", "50"), r"line 2: strength must be .*0 to 1.*a percentage\?"),
        (GOOD.replace("0.5", "half"), r"line 2: strength must be.*found 'half'"),
        (GOOD.replace("0.5", "0.5 mm"), r"line 2: strength .*write the number alone, without unit"),
        (GOOD.replace("0.5", "nan"), r"line 2: strength must be"),
        (GOOD.replace("0.5", '"0,5"'), r"line 2: strength .*write the decimal with a point"),
        (GOOD.replace("0.5", "0,5"), r"line 2: must have at most 5 cells.*a decimal comma\?"),
        (GOOD.replace("navy", '"navy'), r"line [23]: must be CSV"),
        (GOOD.encode("utf-16"), r"line 1: must be UTF-8 text, found UTF-16"),
        ("ground,stripe 1,name\nwhite,red,é\n".encode("latin-1"), r"line 2: must be UTF-8.*0xe9"),
        (b"ground,stripe 1\nwhite,r\0d\n", r"line 2: must be text, found a zero byte"),
        ("mixing,ground,stripe 1\nfelt,white,red\n", r"line 2: mixing must be one of"),
    ],
)
def test_a_bad_file_names_line_and_remedy(tmp_path, text, message):
    path = write(tmp_path / "a.csv", text)
    with pytest.raises(FileFormatError, match=message):
        read_colourways(path)
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
    for one, two in zip(read, members, strict=True):
        assert (one.tones == two.tones).all()


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
    ("text", "message"),
    [
        ("tone,L*,a*\n", r"line 1: header must have tone, L\*, a\* and b\*; missing b\*"),
        ("tone,X,Y,Z\n", r"line 1: header must have.*found tone, x, y, z \(readings in XYZ"),
        ("tone,L*,L,a,b\n", r"line 1: header must name l\* once, found 'l\*' and 'l'"),
        (HEAD + "white,,,,D65,2\n", r"r\.csv: must hold at least one reading"),
        (HEAD, r"r\.csv: must hold at least one reading"),
        (HEAD + ",50,0,0,D65,2\n", r"line 2: tone must be a tone's name"),
        (HEAD + "white,106,0,0,D65,2\n", r"line 2: l\* must be a number from 0 to 105"),
        (HEAD + "white,50,-151,0,D65,2\n", r"line 2: a\* must be a number from -150 to 150"),
        (HEAD + "white,50 %,0,0,D65,2\n", r"line 2: l\* .*without unit"),
        (HEAD + "white,,0,0,D65,2\n", r"line 2: l\* must be.*found nothing"),
        (HEAD + "white,50,0,0,A,2\n", r"line 2: illuminant must be D50 or D65, found 'A'"),
        (HEAD + "white,50,0,0,D65,4\n", r"line 2: observer must be 2 or 10"),
        (HEAD + "white,50,0,0,,2\n", r"line 2: illuminant must be stated"),
        (HEAD + "white,50,0,0,D65,\n", r"line 2: observer must be stated"),
        (HEAD + "w,50,0,0,D65,2\nw,50,0,1,D50,2\n", r"line 3: illuminant must be D65.*found D50"),
        (
            "tone,reading," + HEAD[5:] + "w,1,50,0,0,D65,2\n\nW,1,51,0,0,D65,2\n",
            r"line 4: reading must be a number of its own.*already on line 2",
        ),
    ],
)
def test_bad_readings_name_line_and_remedy(tmp_path, text, message):
    with pytest.raises(FileFormatError, match=message):
        read_readings(write(tmp_path / "r.csv", text))


def test_conditions_may_be_stated_for_the_whole_file(tmp_path):
    path = write(tmp_path / "r.csv", "tone,L*,a*,b*\nwhite,95,0,0\n")
    assert read_readings(path, illuminant="D50", observer=10).conditions == "D50/10°"
    with pytest.raises(ArgumentError, match="illuminant must be D50 or D65"):
        read_readings(path, illuminant="TL84", observer=2)


def test_a_tone_that_is_not_there_is_named_with_what_is_near(tmp_path):
    path = write(tmp_path / "r.csv", HEAD + "nvay on white,50,0,0,D65,2\n")
    read = read_readings(path)
    with pytest.raises(FileFormatError, match=r"line 2: tone must be.*'navy on white'.*'nvay"):
        read.by_place(Colourway("white", ["navy"]))


def test_tones_of_the_same_name_cannot_be_matched(tmp_path):
    from checkcloth.cloth.named_colour import NamedColour

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
    assert len(read.by_place(colourway)) == 7
