"""Design tokens against the published schema, and read back.

Schema: Design Tokens Format Module 2025.10, design-tokens/community-group, a copy in
tests/gold/dtcg-2025.10 (see SOURCE.md there).
"""

from __future__ import annotations

import json
from pathlib import Path

import numpy as np
import pytest
from coloraide import Color
from hypothesis import given, settings
from hypothesis import strategies as st

from checkcloth import Check, Colourway, NamedColour, Palette, read_palette
from checkcloth.errors import ExistsError, FileFormatError
from checkcloth.export.data.tokens import (
    palette_tokens,
    parse_tokens,
    read_tokens,
    set_tokens,
    write_tokens,
)

SCHEMAS = Path(__file__).parents[2] / "gold" / "dtcg-2025.10"


@pytest.fixture(scope="module")
def validator():
    from jsonschema import Draft7Validator
    from referencing import Registry, Resource

    loaded = [json.loads(path.read_text("utf-8")) for path in SCHEMAS.rglob("*.json")]
    resources = [(one["$id"], Resource.from_contents(one)) for one in loaded if "$id" in one]
    root = json.loads((SCHEMAS / "format.json").read_text("utf-8"))
    return Draft7Validator(root, registry=Registry().with_resources(resources))


def _faults(validator, text: str) -> list[str]:
    return [error.message[:200] for error in validator.iter_errors(json.loads(text))]


line = st.text(st.characters(exclude_categories=("C", "Z")), min_size=1, max_size=30)
colours = st.builds(
    NamedColour,
    line,
    st.tuples(*[st.floats(0, 1)] * 3),
    st.sampled_from(["", "ground", "stripe"]),
    st.one_of(st.just(""), line),
)
palettes = st.builds(
    Palette,
    st.just("harbour"),
    st.lists(colours, min_size=1, max_size=6, unique_by=lambda c: c.name),
)


@given(palettes)
@settings(max_examples=60, deadline=None)
def test_a_palette_written_and_read_is_the_same(palette):
    assert parse_tokens(palette_tokens(palette)) == list(palette)


def test_the_schema_finds_faults_and_ours_has_none(validator):
    # The schema must be able to fail, or passing it says nothing.
    wrong = {"a": {"$type": "color", "$value": {"colorSpace": "srgb", "components": [1.2, 0, 0]}}}
    assert _faults(validator, json.dumps(wrong))
    assert _faults(validator, '{"a.b": {"$type": "number", "$value": 1}}')
    names = ["$price", "{alias}", "a.b.c", "<script>", "=cmd", "🍓", "plain"]
    palette = Palette("odd", [NamedColour(name, (0.2, 0.4, 0.6)) for name in names])
    assert _faults(validator, palette_tokens(palette)) == []
    assert [colour.name for colour in parse_tokens(palette_tokens(palette))] == names


@pytest.mark.parametrize("path", sorted(Path("palettes").glob("*.csv")), ids=lambda p: p.stem)
def test_every_shipped_palette_as_tokens(validator, tmp_path, path):
    palette = read_palette(path)
    written = write_tokens(palette, tmp_path / f"{path.stem}.tokens.json")
    assert _faults(validator, written.read_text("utf-8")) == []
    assert read_tokens(written) == palette
    with pytest.raises(ExistsError):
        write_tokens(palette, written)


def test_a_set_as_tokens(validator):
    colourways = [
        Colourway("#fbf8f1", ["#a62a3c", "#3f6fb0"], name="Morning {1}. $ <b>"),
        Colourway("black", ["gold"], 0.8, "woven", name="Morning {1}. $ <b>"),
    ]
    text = set_tokens(colourways, Check("0.5 in", 2))
    assert _faults(validator, text) == []
    group = json.loads(text)["Morning (1)· $ <b>"]
    crossing = group["tones"]["warp 1 over weft 2"]["$value"]
    exact = colourways[0].tones[1, 2].tolist()
    assert crossing["components"] == [round(channel, 6) for channel in exact]
    assert "Morning (1)· $ <b> (2)" in json.loads(text)


# -- reading what others write --------------------------------------------------------------------

SPACES = [
    ("srgb", [0.2, 0.4, 0.6], "srgb"),
    ("srgb-linear", [0.2, 0.4, 0.6], "srgb-linear"),
    ("hsl", [210, 50, 40], None),
    ("hwb", [210, 20, 40], None),
    ("lab", [50, 10, -20], "lab"),
    ("lch", [50, 20, 210], "lch"),
    ("oklab", [0.5, 0.02, -0.05], "oklab"),
    ("oklch", [0.5, 0.05, 210], "oklch"),
    ("display-p3", [0.3, 0.4, 0.5], "display-p3"),
    ("a98-rgb", [0.3, 0.4, 0.5], "a98-rgb"),
    ("prophoto-rgb", [0.3, 0.4, 0.4], "prophoto-rgb"),
    ("rec2020", [0.3, 0.4, 0.5], "rec2020"),
    ("xyz-d65", [0.2, 0.2, 0.2], "xyz-d65"),
    ("xyz-d50", [0.2, 0.2, 0.2], "xyz-d50"),
]


@pytest.mark.parametrize(("space", "parts", "name"), SPACES, ids=lambda v: str(v))
def test_fourteen_colour_spaces_are_read_as_coloraide_has_them(space, parts, name):
    token = {"$type": "color", "$value": {"colorSpace": space, "components": parts}}
    found = parse_tokens(json.dumps({"a": token}))[0].rgb
    # hsl and hwb are written in per cent by the format, in 0–1 by coloraide.
    given_ = parts if name else [parts[0], parts[1] / 100, parts[2] / 100]
    wanted = Color(name or space, given_).convert("srgb").coords()
    np.testing.assert_allclose(found, wanted, atol=1e-9)


def _colour(rgb, **more):
    return {"$value": {"colorSpace": "srgb", "components": rgb}, **more}


def test_groups_inherited_types_and_references_are_followed():
    content = {
        "base": {"$type": "color", "red": _colour([1, 0, 0]), "deep": {"blue": _colour([0, 0, 1])}},
        "alias": {"$value": "{base.red}"},
        "pointed": {"$type": "color", "$ref": "#/base/deep/blue/$value"},
        "again": {"$type": "color", "$value": "{alias}"},
        "size": {"$type": "dimension", "$value": {"value": 4, "unit": "px"}},
        "typed": {"$type": "number", "inner": {"$value": 3}},
        "none": {"$type": "color", "$value": {"colorSpace": "oklch", "components": [1, 0, "none"]}},
    }
    found = {colour.name: colour.rgb for colour in parse_tokens(json.dumps(content))}
    assert found["red"] == found["alias"] == found["again"] == (1, 0, 0)
    assert found["blue"] == found["pointed"] == (0, 0, 1)
    np.testing.assert_allclose(found["none"], (1, 1, 1), atol=1e-6)
    assert "size" not in found
    assert "inner" not in found


def test_two_of_one_name_in_two_groups_stay_apart():
    content = {
        "$type": "color",
        "a": {"red": _colour([1, 0, 0])},
        "b": {"red": _colour([0.5, 0, 0])},
    }
    assert [colour.name for colour in parse_tokens(json.dumps(content))] == ["red", "red 2"]


_SRGB = '{"$type": "color", "$value": {"colorSpace": "srgb", "components": %s}}'


@pytest.mark.parametrize(
    ("content", "argument", "allowed"),
    [
        ("", "text", "JSON"),
        (_SRGB % "[1, 0, 0]", "the whole file", "a group of tokens with names"),
        ("[]", "the whole file", "an object"),
        ("{}", "colours", "at least one token"),
        ("{" * 9999, "text", "JSON"),
        ('{"a": 3}', "a", "a token or a group"),
        ('{"g": ' * 70 + "{}" + "}" * 70, "g.g.g", "at most 64 groups deep"),
        ('{"g": {"a": {"$type": "color", "$value": "#ff0000"}}}', "g.a", "a colour object"),
        ('{"a": {"$type": "color", "$value": {"colorSpace": "cmyk", "components": [0, 0, 0]}}}',
         "a colorSpace", "one of "),
        ('{"a": %s}' % (_SRGB % "[0, 0]"), "a components", "three numbers"),
        ('{"a": %s}' % (_SRGB % "[NaN, 0, 0]"), "a components", "three numbers"),
        ('{"a": %s}' % (_SRGB % '[0, 0, 0], "alpha": 0.5'), "a alpha", "1 "),
        ('{"a": {"$type": "color", "$value": "{b}"}, "b": {"$type": "color", "$value": "{a}"}}',
         "a", "a reference that does not lead back"),
        ('{"a": {"$type": "color", "$value": "{nowhere}"}}', "a", "a reference to a token"),
        ('{" ": %s}' % (_SRGB % "[0, 0, 0]"), "name", ""),
    ],
)  # fmt: skip
def test_what_is_wrong_with_a_token_file_is_said(content, argument, allowed):
    with pytest.raises(FileFormatError) as caught:
        parse_tokens(content, "brand.tokens.json")
    assert caught.value.argument.startswith(argument)
    assert caught.value.allowed.startswith(allowed)
    assert caught.value.source.startswith("brand.tokens.json")


def test_line_breaks_in_a_description_from_elsewhere_become_one_blank():
    token = _colour([0, 0, 1], **{"$type": "color", "$description": "first\n\tsecond"})
    assert parse_tokens(json.dumps({"a": token}))[0].note == "first second"


def test_a_file_too_large_is_refused(tmp_path):
    path = tmp_path / "large.tokens.json"
    path.write_bytes(b" " * ((4 << 20) + 1))
    with pytest.raises(FileFormatError, match="at most"):
        read_tokens(path)


def test_white_space_inside_a_note_comes_back(tmp_path):
    note = "two  metres,\u00a0or\u2003three"
    path = write_tokens(
        Palette("halt", [NamedColour("navy", (0, 0, 0.5), note=note)]), tmp_path / "a.tokens.json"
    )
    assert read_tokens(path).colours[0].note == note
