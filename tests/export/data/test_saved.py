"""A set file opens to the very same set, and says what is wrong with any other."""

from __future__ import annotations

import json

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from checkcloth import MIXINGS, Check, Chosen, ChosenSet, Colourway, NamedColour
from checkcloth.errors import ArgumentError, ExistsError, FileFormatError
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
    st.lists(st.builds(Chosen, colourways, st.one_of(st.just(""), line), origins), max_size=4),
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
    ("change", "says"),
    [
        (lambda c: c.update(version=2), "version must be at most 1, found 2.*newer"),
        (lambda c: c.update(version=0), "version must be 1 to 1, found 0"),
        (lambda c: c.update(version="1"), "version must be a whole number, found '1'"),
        (lambda c: c.update(format="a song"), "format must be 'checkcloth set', found 'a song'"),
        (lambda c: c.pop("check"), "check must be an object, found nothing"),
        (lambda c: c["check"].update(size="half"), "check: length must be"),
        (lambda c: c["check"].update(stripes=25), "check: stripes must be"),
        (lambda c: c["check"].update(stripes=True), "check.stripes must be a whole number"),
        (lambda c: c.update(colourways={}), "colourways must be a list"),
        (lambda c: c["colourways"][1].update(strength=2), r"colourways\[1\]: strength must"),
        (lambda c: c["colourways"][1].update(strength=None), r"colourways\[1\].strength must"),
        (lambda c: c["colourways"][0].update(mixing="stirred"), r"colourways\[0\]: mixing must"),
        (lambda c: c["colourways"][0].update(stripes=[]), r"colourways\[0\]: stripes must"),
        (
            lambda c: c["colourways"][0]["stripes"][1].update(rgb=[0, 1]),
            r"colourways\[0\].stripes\[1\].rgb must be 3 numbers",
        ),
        (
            lambda c: c["colourways"][0]["ground"].update(rgb=[0, 1, 1.5]),
            r"colourways\[0\].ground: rgb must lie in 0–1",
        ),
        (
            lambda c: c["colourways"][0]["ground"].update(text="mud"),
            r"colourways\[0\].ground: colour must be a CSS",
        ),
        (lambda c: c["colourways"][0].update(origin={"a": []}), r"colourways\[0\]: origin must"),
        (lambda c: c["colourways"][0].update(weight=3), r"colourways\[0\].weight is not known"),
        (lambda c: c.update(name="two\nlines"), "name must be one line"),
    ],
)
def test_what_is_wrong_and_where_is_said(change, says):
    with pytest.raises(FileFormatError, match=says) as caught:
        parse_set(_damaged(change), "halt.json")
    assert "halt.json" in str(caught.value)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "line 1.*must be JSON"),
        ('{"format": "checkcloth set",\n "version": 1,\n', "line 3.*must be JSON"),
        ("[]", "the whole file must be an object"),
        ("[" * 100_000, "sensible depth"),
        ('{"format": 1, "format": 2}', "'format' stands twice"),
        ('{"format": "checkcloth set", "version": ' + "9" * 5000 + "}", "sensible"),
        (set_json(_kept()).replace("0.37", "NaN"), "strength must be a finite number"),
        (set_json(_kept()).replace("0.37", "1e999"), "strength must be a finite number"),
        (set_json(_kept()).replace("0.37", "1" + "0" * 400), "strength must be a finite number"),
    ],
)
def test_what_is_no_set_file_is_refused(text, says):
    with pytest.raises(FileFormatError, match=says):
        parse_set(text)


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
    with pytest.raises(FileFormatError, match=r"large\.json: must be at most"):
        open_set(path)
    path.write_bytes(b"\n\xff\xfe")
    with pytest.raises(FileFormatError, match="line 2: must be UTF-8"):
        open_set(path)
    with pytest.raises(FileFormatError, match="must be a file"):
        open_set(tmp_path)


def test_an_origin_that_json_cannot_hold_is_refused(tmp_path):
    odd = ChosenSet(
        Check("1 in", 1), [Chosen(Colourway("white", ["red"]), "", {"x": float("nan")})]
    )
    with pytest.raises(ArgumentError, match="origin"):
        save_set(odd, tmp_path / "odd.json")
    assert not list(tmp_path.iterdir())
