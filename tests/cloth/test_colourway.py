"""Colourways and chosen sets: frozen, checked, and shown with what they are."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from checkcloth import MIXINGS, Check, Chosen, ChosenSet, Colourway, NamedColour, mix_tones
from checkcloth.cloth.tones import tones_of
from checkcloth.errors import ArgumentError, ColourError

channels = st.floats(0, 1)
named = st.builds(NamedColour, st.just("c"), st.tuples(channels, channels, channels))
colourways = st.builds(
    Colourway, named, st.lists(named, min_size=1, max_size=5), channels, st.sampled_from(MIXINGS)
)


@given(colourways)
@settings(deadline=None)
def test_tones_are_those_of_mix_tones(colourway):
    number = len(colourway.stripes)
    assert colourway.tones.shape == (number + 1, number + 1, 3)
    direct = mix_tones(
        colourway.ground.rgb,
        [stripe.rgb for stripe in colourway.stripes],
        colourway.strength,
        colourway.mixing,
    )
    assert np.array_equal(colourway.tones, direct)
    assert np.allclose(colourway.tones[0, 0], colourway.ground.rgb, atol=1e-9)


@given(st.lists(colourways, min_size=1, max_size=6), st.integers(1, 4))
@settings(deadline=None)
def test_many_at_once_are_the_same_as_one_by_one(members, number):
    members = [m.with_(stripes=(m.stripes * number)[:number]) for m in members]
    many = tones_of(members)
    for member, tones in zip(members, many, strict=True):
        assert np.allclose(tones, member.tones, atol=1e-12)


def test_tones_cannot_be_written_over():
    with pytest.raises(ValueError, match="read-only"):
        Colourway("white", ["navy"]).tones[0, 0, 0] = 1


@pytest.mark.parametrize("strength", [-0.1, 1.1, 50, float("nan"), "half", None])
def test_strengths_out_of_range(strength):
    with pytest.raises(ArgumentError, match="strength must be"):
        Colourway("white", ["navy"], strength)


@pytest.mark.parametrize(
    ("stripes", "said"),
    [
        ([], "stripes must be 1 to 24 colours, found 0"),
        (["navy"] * 25, "found 25"),
        ("navy", "stripes must be several colours, found 'navy'"),
    ],
)
def test_stripes_out_of_range(stripes, said):
    with pytest.raises(ArgumentError) as caught:
        Colourway("white", stripes)
    assert said in str(caught.value)


def test_other_faults():
    with pytest.raises(ColourError, match="found 'nosuch'"):
        Colourway("nosuch", ["navy"])
    with pytest.raises(ArgumentError, match="mixing must be one of source-over"):
        Colourway("white", ["navy"], mixing="overlay")
    with pytest.raises(ArgumentError, match="name must be one line"):
        Colourway("white", ["navy"], name="a\nb")
    with pytest.raises(ArgumentError, match="changes must be fields"):
        Colourway("white", ["navy"]).with_(colour="red")
    with pytest.raises(ArgumentError, match="warp_share must be"):
        Colourway("white", ["navy"], warp_share=2)
    with pytest.raises(ArgumentError, match="yule_nielsen must be"):
        Colourway("white", ["navy"], yule_nielsen=0)
    with pytest.raises(ArgumentError, match="equally many stripes, found 1, 2"):
        tones_of([Colourway("white", ["navy"]), Colourway("white", ["navy", "teal"])])
    with pytest.raises(ArgumentError, match="no colourway"):
        tones_of([])


@pytest.mark.parametrize(
    "name", ["<script>alert(1)</script>", "../../etc", "=cmd", "🧺 picnic", "x" * 300]
)
def test_any_printable_name_is_kept_and_shown_safely(name):
    colourway = Colourway("white", ["navy"], name=name)
    assert colourway.name == name
    html = colourway._repr_html_()
    assert "<script>" not in html
    assert '<img alt="' in html


def test_equal_when_all_is_equal():
    one, two = (Colourway("white", ["navy"], name="a") for _ in range(2))
    assert one == two
    assert hash(one) == hash(two)
    assert one != one.with_(strength=0.6)


def test_tone_names():
    colourway = Colourway("white", ["navy", "teal"])
    assert colourway.tone_name(0, 0) == "white"
    assert colourway.tone_name(2, 0) == colourway.tone_name(0, 2) == "teal on white"
    assert colourway.tone_name(1, 2) == "navy over teal"


def test_a_chosen_set():
    two = Colourway("white", ["navy", "teal"])
    kept = ChosenSet(Check("1 cm", 2), [two, Chosen(two.with_(name="b"), "note", {"seed": 1})], "s")
    assert len(kept) == 2
    assert kept.check_for(Colourway("white", ["navy"])) == Check("1 cm", 1)
    assert hash(kept) == hash(ChosenSet(kept.check, kept.chosen, "s"))
    assert repr(kept) == "<set s: 2 colourways on a check of 1 cm (0.3937 in)>"
    assert kept._repr_html_().count("<img alt") == 2
    with pytest.raises(ArgumentError, match="origin must be a mapping"):
        Chosen(two, origin={"a": [1]})
    with pytest.raises(ArgumentError, match="chosen must be colourways"):
        ChosenSet(Check("1 cm", 2), ["navy"])
    with pytest.raises(ArgumentError, match="check must be a Check"):
        ChosenSet("1 cm", [two])


@pytest.mark.parametrize(
    "origin",
    [{"a": "half \ud83e"}, {"\udd1e": 1}, {"a": float("nan")}, {"a": float("inf")},
     {"a": 10**5000}, {"a": [1]}, {1: "a"}],
)  # fmt: skip
def test_an_origin_that_no_file_can_hold_is_refused_at_the_door(origin):
    with pytest.raises(ArgumentError) as caught:
        Chosen(Colourway("white", ["navy"]), "", origin)
    assert caught.value.argument == "origin"
    assert "\n" not in str(caught.value)


def test_an_origin_may_hold_any_whole_character():
    origin = {"wovenŭ": "tea 🍵 \0 line\nend", "seed": -(10**40), "share": 0.1, "none": None}
    assert dict(Chosen(Colourway("white", ["navy"]), "", origin).origin) == origin
