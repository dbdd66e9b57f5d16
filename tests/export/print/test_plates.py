"""Plates: what they print, by the rule that each set states, is the tones again."""

from __future__ import annotations

import io

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image

from checkcloth import MIXINGS, Check, Colourway
from checkcloth.cloth.bands import Band
from checkcloth.errors import ArgumentError
from checkcloth.export.print.films import film_of, film_png
from checkcloth.export.print.plates import plates_of

hexes = st.from_regex(r"#[0-9a-f]{6}", fullmatch=True)
# Mixings whose tones are sums of shares, and the product of transparent inks.
PLAIN = [name for name in MIXINGS if name != "pigment"]
colourways = st.builds(
    Colourway,
    hexes,
    st.lists(hexes, min_size=1, max_size=5),
    strength=st.floats(0, 1),
    mixing=st.sampled_from(PLAIN),
    warp_share=st.floats(0, 1),
)


@given(colourways)
@settings(max_examples=80, deadline=None)
def test_plates_by_colour_compose_to_the_tones(colourway):
    plates = plates_of(colourway)
    np.testing.assert_allclose(plates.composite(), colourway.tones, atol=2e-3 / 255)
    twice = 2 if colourway.mixing == "multiply" else 1
    assert plates.screens == twice * len(colourway.stripes)


@given(colourways)
@settings(max_examples=40, deadline=None)
def test_plates_by_tone_are_solid_do_not_overlap_and_compose(colourway):
    plates = plates_of(colourway, "tones")
    assert all(plate.solid for plate in plates.plates)
    np.testing.assert_array_equal(sum(plate.cover for plate in plates.plates), 1)
    made = np.floor(plates.composite() * 255 + 0.5)
    np.testing.assert_array_equal(made, np.floor(colourway.tones * 255 + 0.5))


def _read_film(pixels, margin):
    """Coverage 0–1 inside the repeat of a film's grey pixels."""
    return 1 - pixels[margin:-margin, margin:-margin].astype(float) / 255


def _films(colourway, check, kind, dpi=60):
    plates = plates_of(colourway, kind)
    images = []
    for index, plate in enumerate(plates.plates):
        image = Image.open(io.BytesIO(film_png(plates, index, check, dpi)))
        assert image.mode == ("1" if plate.solid else "L")
        assert "srgb" not in image.info  # amounts of ink, not colours
        images.append(image)
    return plates, images


@pytest.mark.parametrize("kind", ["colours", "tones"])
@pytest.mark.parametrize("mixing", PLAIN)
@pytest.mark.parametrize("strength", [0.5, 1.0])
def test_films_read_back_compose_to_the_cloth(mixing, kind, strength):
    colourway = Colourway("#fbf8f1", ["#a62a3c", "#3f6fb0", "#4f9070"], strength, mixing)
    check = Check("1/4 in", 3)
    plates, images = _films(colourway, check, kind)
    film = film_of(plates.plates[0], check, 60, ["", ""])
    covers = [_read_film(np.asarray(image.convert("L")), film.margin) for image in images]
    plan = check.plan(check.grid(60).pixels)
    wanted = colourway.tones[plan[None, :], plan[:, None]]
    made = plates.composite(covers)
    # An 8-bit film is right to half a step. That is half a step in sRGB values; where
    # shares add up as light, the curve of sRGB stretches it in dark tones (at most 12.92×,
    # less here: none of these is darker than about 0.1).
    light = mixing in ("source-over-linear", "woven")
    allowed = 0.51 / 255 if kind == "tones" else (4 if light else 1) / 255
    assert np.abs(made - wanted).max() <= allowed


def test_films_follow_uneven_bands():
    warp = (Band(2, 3), Band(0, 1), Band(1, 1))
    weft = (Band(1, 1), Band(0, 2), Band(2, 2), Band(0, 1))
    colourway = Colourway("#fbf8f1", ["#a62a3c", "#3f6fb0"], 1.0)
    check = Check("1/4 in", 2, warp=warp, weft=weft)
    plates, images = _films(colourway, check, "tones")
    margin = film_of(plates.plates[0], check, 60, ["", ""]).margin
    covers = [_read_film(np.asarray(image.convert("L")), margin) for image in images]
    made = plates.composite(covers)
    each = check.grid(60).pixels
    assert made.shape == (6 * each, 5 * each, 3)
    columns = np.repeat([2, 2, 2, 0, 1], each)
    rows = np.repeat([1, 0, 0, 2, 2, 0], each)
    wanted = colourway.tones[columns[None, :], rows[:, None]]
    np.testing.assert_allclose(made, wanted, atol=0.51 / 255)


@pytest.mark.parametrize("kind", ["colours", "tones"])
def test_films_are_true_size_with_marks_outside_the_repeat(kind):
    colourway = Colourway("white", ["navy", "teal"], 0.6, name="Quay")
    check = Check("1 cm", 2)
    plates, images = _films(colourway, check, kind, dpi=254)
    film = film_of(plates.plates[0], check, 254, ["a", "b"])
    side = 400  # 4 cm at 254 dpi is 100 pixels a centimetre
    corners = []
    for image in images:
        assert image.size == (side + 2 * film.margin,) * 2
        assert image.info["dpi"][0] == pytest.approx(254, abs=0.01)
        grey = np.asarray(image.convert("L"))
        inside = grey.copy()
        inside[film.margin : -film.margin, film.margin : -film.margin] = 255
        third = film.margin
        corners.append([grey[:third, :third], grey[:third, -third:],
                        grey[-third:, :third], grey[-third:, -third:]])  # fmt: skip
        for corner in corners[-1]:
            assert (corner == 0).sum() > 50  # a mark is there
        # Beside the repeat, between the corners, nothing prints but words above and below.
        assert (grey[film.margin : -film.margin, : film.margin] == 255).all()
    for other in corners[1:]:
        for one, two in zip(corners[0], other, strict=True):
            np.testing.assert_array_equal(one, two)  # the same marks on every film


def test_a_solid_stripe_is_a_one_bit_film_and_a_tint_is_not():
    solid = plates_of(Colourway("white", ["navy", "teal"], 1.0))
    assert all(plate.solid for plate in solid.plates)
    tint = plates_of(Colourway("white", ["navy", "teal"], 0.5))
    assert not any(plate.solid for plate in tint.plates)


def test_rules_are_stated_and_the_table_adds_up():
    plates = plates_of(Colourway("white", ["navy", "=teal"[1:]], 0.5))
    assert "Tints side by side" in plates.rule
    assert "Transparent inks" in plates_of(Colourway("white", ["red"], 0.5, "multiply")).rule
    rows = plates.csv().splitlines()
    assert rows[0].startswith("plate,ink,ink colour,warp,weft,tone,coverage %")
    assert "1,navy,#000080,1,1,navy over navy,75.0" in rows


def test_what_cannot_be_separated_by_colour_says_so():
    with pytest.raises(ArgumentError) as caught:
        plates_of(Colourway("white", ["navy"]), "spots")
    assert (caught.value.argument, caught.value.found) == ("plates", "spots")
    # Two pigments and a ground mix per wavelength: no tint of three colours is that.
    pigment = Colourway("#fbe9b0", ["#1f3f9f", "#e8c020"], 0.6, "pigment")
    with pytest.raises(ArgumentError) as caught:
        plates_of(pigment)
    assert caught.value.argument == "plates"
    assert "'tones'" in caught.value.allowed
    plates_of(pigment, "tones")


@pytest.mark.parametrize("strength", [0.5, 1.0])
def test_inks_of_another_weft_have_plates_of_their_own(strength):
    """An ink in both directions has one plate, which carries twice its tint where it crosses."""
    cloth = Colourway(
        "#fbf8f1", ["#a62a3c", "#3f6fb0"], strength, "ink", weft_stripes=["#4f9070", "#3f6fb0"]
    )
    plates = plates_of(cloth)
    assert plates.screens == 3
    np.testing.assert_allclose(plates.composite(), cloth.tones, atol=2e-3 / 255)


def test_two_stripes_of_one_ink_have_one_plate():
    """However the stripes are numbered, and whether the weft has them as the warp or by itself."""
    cloth = Colourway("white", ["navy", "teal", "navy"], 0.7, "ink")
    np.testing.assert_array_equal(cloth.tones[1, 3], cloth.tones[1, 1])
    own = cloth.with_(weft_stripes=["teal", "navy"])
    np.testing.assert_allclose(own.tones[3, 2], cloth.tones[1, 1], atol=1e-12)
    for one in (cloth, own):
        np.testing.assert_allclose(plates_of(one).composite(), one.tones, atol=1e-6)
    # Nor does it hang on the last digit of the light that a colour comes to.
    for codes in np.random.default_rng(4).integers(0, 1 << 24, (150, 3)):
        stripes = [f"#{code:06x}" for code in codes]
        drawn = Colourway("white", stripes, 0.8, "ink", weft_stripes=stripes[:1])
        np.testing.assert_allclose(drawn.tones[1, 1], drawn.with_(weft_stripes=()).tones[1, 1])
