"""What a desk says of colours outside sRGB, and how the page gets them."""

from __future__ import annotations

import numpy as np
import pytest

from checkcloth import Colourway, Palette
from checkcloth.cloth.named_colour import NamedColour
from checkcloth.colour.wide import encode_wide
from checkcloth.desk import open_desk
from checkcloth.desk.answers.read_colours import colour_rows, colours_of_rows
from checkcloth.desk.payloads import details, encoded, kept_list, look
from checkcloth.export.page.tone_packing import as_list, recipe_for

REEF = NamedColour.of("color(display-p3 0 0.6 0.5)", "Reef")
YARN = NamedColour("Yarn", reflectance=(0.2,) * 18 + (0.7,) * 18)


def test_it_is_told_on_a_line_and_in_a_close_look():
    colourway = Colourway("white", [REEF, "navy"], 0.5, "woven")
    assert details(colourway).endswith(f"; {colourway.moved_words}")
    assert "outside" not in details(Colourway("white", ["navy"]))


def test_rows_of_colours_say_it_and_lose_nothing():
    (row, plain) = colour_rows([REEF, NamedColour.of("navy")])
    assert row == ["Reef", REEF.hex, REEF.text, "", "", REEF.shift_words]
    assert len(plain) == 5
    assert colours_of_rows([[row[0], row[2]]]) == (REEF,)


def test_a_close_look_and_the_shelf_carry_it():
    desk = open_desk([Palette("reef", [REEF, "white", "navy", "gold"])])
    number = desk.state.shown[0].number
    fields, (_, colours) = look(desk.state, number)
    colourway = desk.state.find(number).colourway
    assert len(colours) == 4 * 3 * (len(colourway.stripes) + 1)
    assert kept_list(desk.state) == ([], b"")
    words = [text for _, text in fields["remarks"]]
    told = [text for text in words if text.startswith("Reef lies outside the screen")]
    assert len(told) == (REEF in colourway.colours)
    desk.close()


@pytest.mark.parametrize("mixing", ["source-over", "woven", "ink", "pigment"])
def test_what_is_tried_is_encoded_as_it_is(mixing):
    recipe = recipe_for(Colourway("white", [REEF], 0.5, mixing))
    found = np.frombuffer(encoded({"recipe": as_list(recipe), "colours": [REEF.text]}), "<f4")
    expected = encode_wide([REEF], recipe.decode, recipe.yule_nielsen)[0]
    np.testing.assert_allclose(found, expected, rtol=1e-6)


def test_a_space_that_is_none_of_the_mixing_s_is_its_own():
    recipe = as_list(recipe_for(Colourway(YARN, [YARN], 0.5, "woven")))
    assert recipe[2] == "reflectance"
    assert len(encoded({"recipe": recipe, "colours": ["navy"]})) == 36 * 4
    for other in ("absorption", "", 7, ["light"]):
        recipe[2] = other
        assert len(encoded({"recipe": recipe, "colours": ["navy"]})) == 3 * 4
