"""The bytes for the page are the encoded colours, for walls of any mixture."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from checkcloth import MIXINGS, Check, Colourway
from checkcloth.cloth.mixing import find_mixing
from checkcloth.cloth.named_colour import NamedColour
from checkcloth.colour.ink import Stock
from checkcloth.colour.reflectance import reflectances
from checkcloth.colour.wide import WIDE_SPACES, Known, encode_wide, space_for
from checkcloth.errors import ArgumentError
from checkcloth.export.page.tone_packing import Recipe, counts, encode_colours, laid, pack

hexes = st.integers(0, 0xFFFFFF).map(lambda n: f"#{n:06x}")
colourways = st.builds(
    Colourway,
    hexes,
    st.lists(hexes, min_size=1, max_size=12),
    st.floats(0, 1),
    st.sampled_from(MIXINGS),
    warp_share=st.sampled_from([0.5, 0.7]),
    yule_nielsen=st.sampled_from([1, 1.8]),
    stock=st.sampled_from(["", "newsprint", Stock("", 0.12, 1.8, 1.5)]),
)


def unpacked(packed, members):
    """Yield each colourway with its recipe and its encoded colours, by what was packed alone."""
    values, at = np.frombuffer(packed.colours, "<f4").astype(float), 0
    for one, which, number in zip(members, packed.recipe_of, counts(members), strict=True):
        recipe = packed.recipes[which]
        channels = 36 if recipe[2] == "absorption" else 3
        colours = values[at : at + (number + 1) * channels].reshape(number + 1, channels)
        at += colours.size
        yield one, recipe, colours
    assert at == len(values)


def check_packed(packed, members):
    for one, (name, layout, space, share, n, *stock), colours in unpacked(packed, members):
        mixing = find_mixing(name)
        assert (layout, space) == (mixing.layout, mixing.space)
        numbers = one.stock.tone_value_increase, one.stock.limiting_density, one.stock.yule_nielsen
        assert stock == ([[*numbers]] if name == "ink" else [])
        rgb = np.array([colour.rgb for colour in (one.ground, *one.stripes)])
        np.testing.assert_allclose(colours, mixing.encode(rgb, n), rtol=1e-6, atol=1e-9)
        if space not in (
            "absorption",
            "display-p3",
        ):  # its way back jumps at the edge of sRGB, float32 or not
            strength = np.array([one.strength])
            laid = mixing.lay(colours[None, 0], colours[None, 1:], strength, share, stock=one.stock)
            wanted = one.with_(mixing=name).tones
            np.testing.assert_allclose(mixing.decode(laid, n)[0], wanted, atol=1e-4)


@settings(max_examples=60, deadline=None)
@given(st.lists(colourways, min_size=1, max_size=6))
def test_what_is_packed_mixes_to_the_tones_of_each_in_turn(members):
    check_packed(pack(members), members)


@settings(max_examples=60, deadline=None)
@given(st.lists(colourways, min_size=1, max_size=6), st.sampled_from(MIXINGS))
def test_the_desks_mixing_holds_for_all(members, mixing):
    packed = pack(members, mixing)
    assert {name for name, *_ in packed.recipes} == {mixing}
    check_packed(packed, members)


def test_options_that_a_mixing_has_no_use_for_make_no_recipe_of_their_own():
    members = [Colourway("white", ["navy"], warp_share=share) for share in (0.5, 0.6, 0.7)]
    assert len(pack(members).recipes) == 1
    assert len(pack(members, "woven").recipes) == 3


def test_more_recipes_than_a_byte_counts_are_refused():
    members = [Colourway("white", ["navy"], 0.5, "woven", "", n / 300) for n in range(257)]
    with pytest.raises(ArgumentError, match="at most 256 different mixings"):
        pack(members)


@pytest.mark.parametrize("number", [1, 3, 12])
def test_bands_are_the_checks_own(number):
    assert laid(Check("1 cm", number)) == {}, "the page knows the even ones"
    uneven = Check("1 cm", number, warp="double", weft="graduated")
    for way, bands in (("warp", uneven.warp_bands), ("weft", uneven.weft_bands)):
        assert laid(uneven)[way] == [[stripe, float(checks)] for stripe, checks in bands]


def test_what_keeps_its_own_mixing_is_packed_by_it():
    members = [Colourway("white", ["navy"], 0.5, mixing) for mixing in ("woven", "pigment")]
    packed = pack(members, "source-over", {1})
    assert [packed.recipes[which][0] for which in packed.recipe_of] == ["source-over", "pigment"]
    assert len(packed.colours) == 4 * (2 * 3 + 2 * 36)


def test_the_wefts_own_colours_follow_where_they_are_asked_for():
    """The desk's wall counts N+1 colours a colourway; the page that travels knows wefts."""
    cloths = [Colourway("black", ["white"], weft_stripes=["#ff0000", "#00ff00"]),
              Colourway("white", ["black"])]  # fmt: skip
    plain, whole = (np.frombuffer(pack(cloths, wefts=wefts).colours, "<f4").reshape(-1, 3).tolist()
                    for wefts in (False, True))  # fmt: skip
    assert plain == [[0, 0, 0], [1, 1, 1], [1, 1, 1], [0, 0, 0]]
    assert whole == [[0, 0, 0], [1, 1, 1], [1, 0, 0], [0, 1, 0], [1, 1, 1], [0, 0, 0]]


WIDE = "color(display-p3 0 0.6 0.5)"
YARN = NamedColour("Yarn", reflectance=(0.2,) * 18 + (0.7,) * 18)


@pytest.mark.parametrize("mixing", MIXINGS)
def test_colours_outside_srgb_go_in_a_space_without_bounds(mixing):
    members = [Colourway("white", [WIDE], 0.5, mixing), Colourway("white", ["teal"], 0.5, mixing)]
    packed = pack(members)
    own = find_mixing(mixing).space
    spaces = [packed.recipes[which][2] for which in packed.recipe_of]
    assert spaces == [space_for(own, Known(beyond=True)), own]
    assert spaces[0] in WIDE_SPACES
    pieces = [np.frombuffer(piece, "<f4") for piece in packed.pieces]
    encoded = encode_wide([members[0].ground, members[0].stripes[0]], spaces[0], 1.0)
    np.testing.assert_allclose(pieces[0], encoded.ravel(), rtol=1e-6)
    plain = find_mixing(mixing).encode(np.array([[1, 1, 1], [0, 128 / 255, 128 / 255]]), 1.0)
    np.testing.assert_allclose(pieces[1], plain.ravel(), rtol=1e-6, atol=1e-9)


def test_spectra_go_as_36_bands_where_all_have_them():
    for mixing in ("woven", "ink", "pigment"):
        packed = pack([Colourway(YARN, [YARN], 0.5, mixing)])
        assert len(packed.colours) == 2 * 36 * 4, mixing
    some = pack([Colourway("white", [YARN], 0.5, "woven")])
    assert some.recipes[0][2] == "light"
    assert len(some.colours) == 2 * 3 * 4


def test_what_is_tried_beside_spectra_is_recovered():
    (recipe,) = pack([Colourway(YARN, [YARN], 0.5, "woven")]).recipes
    found = encode_colours([NamedColour.of("teal"), YARN], Recipe(*recipe))
    assert found[1] == pytest.approx(np.array(YARN.reflectance), rel=1e-6)
    assert found[0] == pytest.approx(reflectances([0, 128 / 255, 128 / 255]), rel=1e-6)
