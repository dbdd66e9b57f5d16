"""A set file opens to the very same set, and says what is wrong with any other."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from checkcloth import MIXINGS, Check, Chosen, ChosenSet, Colourway, NamedColour
from checkcloth.colour.ink import Stock
from checkcloth.errors import ExistsError, FileFormatError
from checkcloth.export.data import saved
from checkcloth.export.data.saved import MOST_BYTES, open_set, parse_set, save_set, set_json

line = st.text(st.characters(exclude_categories=("C", "Z")), min_size=1, max_size=40)
channel = st.floats(0, 1)
colours = st.builds(
    NamedColour,
    line,
    st.tuples(channel, channel, channel),
    st.sampled_from(["", "ground", "stripe"]),
    st.one_of(st.just(""), line),
)
colourways = st.builds(
    Colourway,
    colours,
    st.lists(colours, min_size=1, max_size=5),
    strength=channel,
    mixing=st.sampled_from(MIXINGS),
    name=st.one_of(st.just(""), line),
    warp_share=channel,
    yule_nielsen=st.floats(1, 10),
    stock=st.sampled_from(["", "coated", Stock("", 0.123, 1.75, 1.8)]),
)
plain = st.one_of(
    st.none(),
    st.booleans(),
    st.integers(-(10**30), 10**30),
    st.floats(allow_nan=False, allow_infinity=False),
    st.text(st.characters(exclude_categories=("Cs",)), max_size=40),
)
origins = st.dictionaries(st.text(st.characters(exclude_categories=("Cs",))), plain, max_size=4)
sizes = st.sampled_from(["1/2 in", "0.3 in", "7 mm", "1.25 cm", "3/16 in"])
sets = st.builds(
    ChosenSet,
    st.builds(Check, sizes, st.integers(1, 24)),
    st.lists(
        st.builds(Chosen, colourways, st.just("") | line, origins, st.just("") | line),
        max_size=4,
    ),
    st.one_of(st.just(""), line),
)


@given(sets)
@settings(max_examples=60, deadline=None)
def test_write_then_read_is_the_identity(chosen):
    again = parse_set(set_json(chosen))
    assert again == chosen
    assert set_json(again) == set_json(chosen)
    assert again.check.size.text == chosen.check.size.text


def _kept() -> ChosenSet:
    stripes = [NamedColour("Jam Pan", (0.1 + 0.2, 1 / 3, 0.7), "stripe", "a note"), "teal"]
    member = Chosen(
        Colourway("#fbf8f1", stripes, 0.37, "woven", "Morning"), "for the counter", {"seed": 4}
    )
    return ChosenSet(Check("3/16 in", 2), [member, Colourway("white", ["navy"])], "Halt 7")


def test_a_file_holds_every_exact_number(tmp_path):
    path = save_set(_kept(), tmp_path / "halt.json")
    assert open_set(path) == _kept()
    content = json.loads(path.read_text(encoding="utf-8"))
    assert (content["format"], content["version"]) == ("checkcloth set", 1)
    # 0.1 + 0.2 is not 0.3, and the file must not pretend that it is.
    assert content["colourways"][0]["stripes"][0]["rgb"][0] == 0.1 + 0.2 != 0.3


def test_a_file_says_version_two_only_where_families_are_in_it():
    """What an earlier kit can read it is given, and it leaves out nothing that was there."""
    plain = json.loads(set_json(_kept()))
    assert plain["version"] == 1
    assert all("family" not in member for member in plain["colourways"])
    first, second = _kept().chosen
    grouped = ChosenSet(_kept().check, [replace(first, family="Violet"), second], "Halt 7")
    content = json.loads(set_json(grouped))
    assert content["version"] == 2
    assert [member.family for member in parse_set(set_json(grouped)).chosen] == ["Violet", ""]
    del content["colourways"][0]["family"]
    assert content | {"version": 1} == plain


# As the kit wrote it before there were families.
EARLIER = """{
 "format": "checkcloth set",
 "version": 1,
 "name": "Halt 7",
 "check": {"size": "3/16 in", "stripes": 1},
 "colourways": [{
  "name": "Morning",
  "ground": {"name": "#fbf8f1", "rgb": [1.0, 0.5, 0.25], "text": "#fbf8f1"},
  "stripes": [{"name": "navy", "rgb": [0.0, 0.0, 0.5], "text": "navy", "role": "stripe"}],
  "strength": 0.37, "mixing": "woven", "warp_share": 0.5, "yule_nielsen": 1.0,
  "note": "for the counter", "origin": {"seed": 4}
 }]
}
"""


def test_a_set_of_the_earlier_version_opens():
    opened = parse_set(EARLIER)
    (member,) = opened.chosen
    assert (opened.name, str(opened.check.size)) == ("Halt 7", "3/16 in (4.7625 mm)")
    assert (member.colourway.name, member.colourway.strength) == ("Morning", 0.37)
    assert (member.note, dict(member.origin), member.family) == ("for the counter", {"seed": 4}, "")
    assert json.loads(set_json(opened)) == json.loads(EARLIER)


def test_only_a_stock_asks_for_the_newest_version():
    """An earlier kit opens what it can mix; what it cannot, it says is newer."""
    check = Check("1 cm", 1)
    plain, inks = (Colourway("white", ["navy"], 0.5, "ink", stock=s) for s in ("", "uncoated"))
    assert json.loads(set_json(ChosenSet(check, [plain])))["version"] == 1
    text = set_json(ChosenSet(check, [plain, inks]))
    assert json.loads(text)["version"] == 3
    assert parse_set(text).colourways == (plain, inks)
    with pytest.raises(FileFormatError, match="stock must be one of coated"):
        parse_set(text.replace('"uncoated"', '"glossy"'))


def test_a_file_that_is_there_stays_unless_told(tmp_path):
    path = tmp_path / "halt.json"
    path.write_text("mine")
    with pytest.raises(ExistsError, match=r"halt\.json"):
        save_set(_kept(), path)
    assert path.read_text() == "mine"
    save_set(_kept(), path, overwrite=True)
    assert open_set(path) == _kept()
    assert [one.name for one in tmp_path.iterdir()] == ["halt.json"]


def _damaged(change) -> str:
    content = json.loads(set_json(_kept()))
    change(content)
    return json.dumps(content)


@pytest.mark.parametrize(
    ("change", "where"),
    [
        (lambda c: c.update(version=saved.VERSION + 1), "version newer"),
        (lambda c: c.update(version=0), "version"),
        (lambda c: c.update(version="1"), "version '1'"),
        (lambda c: c.update(format="a song"), "format 'a song'"),
        (lambda c: c.pop("check"), "check nothing"),
        (lambda c: c["check"].update(size="half"), "check length 'half'"),
        (lambda c: c["check"].update(stripes=25), "check stripes 25"),
        (lambda c: c["check"].update(stripes=True), "check.stripes True"),
        (lambda c: c.update(colourways={}), "colourways list"),
        (lambda c: c["colourways"][1].update(strength=2), "colourways[1] strength 2"),
        (lambda c: c["colourways"][1].update(strength=None), "colourways[1].strength None"),
        (lambda c: c["colourways"][0].update(mixing="stirred"), "colourways[0] mixing 'stirred'"),
        (lambda c: c["colourways"][0].update(stripes=[]), "colourways[0] stripes"),
        (
            lambda c: c["colourways"][0]["stripes"][1].update(rgb=[0, 1]),
            "colourways[0].stripes[1].rgb 3",
        ),
        (
            lambda c: c["colourways"][0]["ground"].update(rgb=[0, 1, 1.5]),
            "colourways[0].ground rgb 1.5",
        ),
        (
            lambda c: c["colourways"][0]["ground"].update(text="mud"),
            "colourways[0].ground colour 'mud'",
        ),
        (lambda c: c["colourways"][0].update(origin={"a": []}), "colourways[0] origin"),
        (lambda c: c["colourways"][0].update(family=3), "colourways[0].family 3"),
        (lambda c: c["colourways"][0].update(weight=3), "colourways[0].weight 3"),
        (lambda c: c.update(name="two\nlines"), "name line"),
    ],
)
def test_what_is_wrong_and_where_is_said(change, where):
    with pytest.raises(FileFormatError) as caught:
        parse_set(_damaged(change), "halt.json")
    for word in ("halt.json", *where.split(" ")):
        assert word in str(caught.value)


@pytest.mark.parametrize(
    ("text", "where"),
    [
        ("", "line 1"),
        ('{"format": "checkcloth set",\n "version": 1,\n', "line 3"),
        ("[]", "the whole file"),
        ("[" * 100_000, ""),
        ('{"format": 1, "format": 2}', "'format'"),
        ('{"format": "checkcloth set", "version": ' + "9" * 5000 + "}", ""),
        (set_json(_kept()).replace("0.37", "NaN"), "strength"),
        (set_json(_kept()).replace("0.37", "1e999"), "strength"),
        (set_json(_kept()).replace("0.37", "1" + "0" * 400), "strength"),
    ],
)
def test_what_is_no_set_file_is_refused(text, where):
    with pytest.raises(FileFormatError) as caught:
        parse_set(text, "halt.json")
    assert "halt.json" in str(caught.value)
    assert where in str(caught.value)


def test_any_cut_file_is_refused(tmp_path):
    whole = set_json(_kept()).encode()
    path = tmp_path / "cut.json"
    for end in range(0, len(whole) - 2, 37):
        path.write_bytes(whole[:end])
        with pytest.raises(FileFormatError, match=r"cut\.json"):
            open_set(path)


def test_too_large_binary_and_folder_are_refused(tmp_path):
    path = tmp_path / "large.json"
    with path.open("wb") as stream:
        stream.truncate(MOST_BYTES + 1)
    with pytest.raises(FileFormatError) as caught:
        open_set(path)
    assert (caught.value.source, caught.value.line) == ("large.json", None)
    path.write_bytes(b"\n\xff\xfe")
    with pytest.raises(FileFormatError) as caught:
        open_set(path)
    assert (caught.value.source, caught.value.line) == ("large.json", 2)
    with pytest.raises(FileFormatError):
        open_set(tmp_path)


def test_a_set_with_what_a_desk_notes_is_of_the_next_version_and_others_are_not(tmp_path):
    """A kit that knows version 1 alone still opens every set that has no more in it."""
    plain = ChosenSet(Check("1/2 in", 1), [Colourway("white", ["navy"])], "aprons")
    noted = ChosenSet(plain.check, plain.chosen, plain.name, {"board": "grey"})
    for kept, version in ((plain, 1), (noted, 2)):
        path = save_set(kept, tmp_path / f"{version}.json")
        assert json.loads(path.read_text("utf-8"))["version"] == version
        assert open_set(path) == plain
        assert open_set(path).settings == kept.settings


OLDER = {
    1: '{\n "format": "checkcloth set",\n "version": 1,\n "name": "Plain",\n "check": {\n'
    '  "size": "7 mm",\n  "stripes": 1\n },\n "colourways": [\n  {\n   "name": "Samphire",\n'
    '   "ground": {\n    "name": "ivory",\n    "rgb": [\n     1.0,\n     1.0,\n'
    '     0.9411764705882353\n    ],\n    "text": "ivory"\n   },\n   "stripes": [\n    {\n'
    '     "name": "teal",\n     "rgb": [\n      0.0,\n      0.5019607843137255,\n'
    '      0.5019607843137255\n     ],\n     "text": "teal"\n    }\n   ],\n   "strength": 0.5,\n'
    '   "mixing": "source-over",\n   "warp_share": 0.5,\n   "yule_nielsen": 1.0,\n   "note": "",\n'
    '   "origin": {}\n  }\n ]\n}\n',
    2: '{\n "format": "checkcloth set",\n "version": 2,\n "name": "Plain",\n "check": {\n'
    '  "size": "7 mm",\n  "stripes": 1\n },\n "colourways": [],\n "desk": {\n  "dpi": [\n   150\n'
    "  ]\n }\n}\n",
}


@pytest.mark.parametrize("version", OLDER)
def test_sets_of_earlier_versions_open_to_the_same_bytes(version):
    """Written by the version before bands could be given."""
    text = OLDER[version]
    assert set_json(parse_set(text)) == text


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"warp": "2 B"}, "check"),
        ({"weft": "two A"}, "check"),
        ({"weft": 3}, "check.weft"),
        ({"weft_stripes": 25}, "check"),
        ({"bands": []}, "check.bands"),
    ],
)
def test_bands_that_are_damaged_are_named(change, field):
    content = json.loads(OLDER[1])
    content["check"] |= change
    with pytest.raises(FileFormatError, match=field):
        parse_set(json.dumps(content))
