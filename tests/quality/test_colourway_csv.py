"""CSV files as people and spreadsheets write them: what is taken, what is named with its line."""

from __future__ import annotations

import pytest

from checkcloth.cloth.colourway import Colourway
from checkcloth.colour.ink import Stock
from checkcloth.errors import FileFormatError
from checkcloth.quality import (
    colourway_faults,
    read_colourways,
    score_table,
    write_colourways,
)

GOOD = "name,ground,stripe 1,stripe 2,strength\nA,white,navy,gold,0.5\n"


def write(path, text, encoding="utf-8"):
    path.write_bytes(text if isinstance(text, bytes) else text.encode(encoding))
    return path


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
        ("", None, "file", "a header.*an empty file"),
        ("\n , \n", None, "file", "a header"),
        ("name,ground\nA,white\n", 1, "header", "stripe 1"),
        ("name,stripe 1\nA,red\n", 1, "header", "ground"),
        ("ground,stripe 1,stripe 3\nwhite,red,navy\n", 1, "header", "stripe 2"),
        ("ground,stripe 1,strenght\n", 1, "header", "'strenght'"),
        ("ground,stripe 1,ground\n", 1, "header", "'ground' twice"),
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
        (GOOD.replace("0.5", "0,5"), 2, "row", r"5 cells.*a decimal comma\?"),
        (GOOD.replace("navy", '"navy'), None, None, "line [23].*CSV"),
        (GOOD.encode("utf-16"), 1, "file", "UTF-16"),
        ("ground,stripe 1,name\nwhite,red,é\n".encode("latin-1"), 2, "file", "0xe9"),
        (b"ground,stripe 1\nwhite,r\0d\n", 2, "file", "a zero byte"),
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
        Colourway("white", ["navy"], 1, "ink", "three", stock="coated"),
        Colourway("white", ["navy"], 1, "ink", "four", stock=Stock("", 0.1, 2, 1.5)),
        Colourway("white", ["navy", "teal"], name="five", weft_stripes=["gold"]),
        Colourway("white", ["navy"], name="six", weft_stripes=["gold", "teal", "red"]),
    ]
    path = write_colourways(members, tmp_path / "a.csv")
    read = read_colourways(path)
    assert [str(r) for r in read] == [str(m) for m in members]
    for again, member in zip(read, members, strict=True):
        assert (again.tones == member.tones).all()
    scored = zip(score_table(path).rows(), score_table(members).rows(), strict=True)
    assert all(str(one) == str(two) for one, two in scored)  # NaN is as NaN
    for wrong in (
        "ground,stripe 1,weft 2\nwhite,red,red\n",
        "ground,stripe 1,weft 1,weft 2\nwhite,red,,red\n",
    ):
        with pytest.raises(FileFormatError):
            read_colourways(write(tmp_path / "b.csv", wrong))
