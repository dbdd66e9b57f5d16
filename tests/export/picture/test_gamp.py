"""The colour gamp: every crossing, drawn and in numbers."""

from __future__ import annotations

import csv
import io

import numpy as np
import pytest
from PIL import Image
from skimage.color import deltaE_ciede2000, rgb2lab

from checkcloth import Colourway, Palette, colour_gamp, mix_tones, score, tile_pixels
from checkcloth.errors import ArgumentError

WARP, WEFT = ["#a62a3c", "#3f6fb0", "#4f9070"], ["#d8a23a", "#5b3a6e"]


def test_every_warp_colour_crosses_every_weft_colour_once():
    gamp = colour_gamp(WARP, WEFT, ground="#fbf8f1", mixing="woven")
    tile, _ = tile_pixels(gamp.colourway, gamp.check, 50)
    assert tile.shape == (100, 150, 3)
    colours = [[int(code[at : at + 2], 16) / 255 for at in (1, 3, 5)] for code in (*WARP, *WEFT)]
    for i in range(3):
        for j in range(2):
            # Yarn across yarn: the tone of a cloth of just those two.
            alone = mix_tones([1, 1, 1], [colours[i], colours[3 + j]], 1.0, "woven")[1, 2]
            assert (tile[j * 50 + 25, i * 50 + 25] == np.floor(alone * 255 + 0.5)).all()
    picture = np.asarray(Image.open(io.BytesIO(gamp.picture().png)).convert("RGB"))
    assert {tuple(c) for c in tile.reshape(-1, 3)} <= {tuple(c) for c in picture.reshape(-1, 3)}


def test_numbers_are_those_of_the_tones():
    """ΔE00 by scikit-image, whose Lab has another white to the fourth digit."""
    gamp = colour_gamp(WARP, WEFT, strength=0.7, mixing="source-over")
    lab = rgb2lab(gamp.colourway.tones, illuminant="D65", observer="2")
    cross = lab[1:, 1:]
    apart = np.minimum(
        deltaE_ciede2000(cross, np.broadcast_to(lab[1:, :1], cross.shape)),
        deltaE_ciede2000(cross, np.broadcast_to(lab[:1, 1:], cross.shape)),
    )
    np.testing.assert_allclose(gamp.values(), apart, atol=0.02)
    ground = deltaE_ciede2000(cross, np.broadcast_to(lab[0, 0], cross.shape))
    np.testing.assert_allclose(gamp.values(against="ground"), ground, atol=0.02)
    flat = cross.reshape(-1, 3)
    nearest = deltaE_ciede2000(flat[:, None], flat[None]) + np.eye(6) * 999
    np.testing.assert_allclose(
        gamp.values(against="nearest"), nearest.min(axis=1).reshape(3, 2), atol=0.02
    )
    # The least crossing–crossing edge of the cloth is one of the gamp's neighbours.
    scored = score(gamp.colourway, check=gamp.check)
    assert float(scored.least_edge) >= gamp.values(against="nearest").min() - 1e-9
    rows = list(csv.DictReader(io.StringIO(gamp.csv("dl"), newline="")))
    assert len(rows) == 6
    assert float(rows[3]["ΔL* from its stripes"]) == pytest.approx(
        gamp.values("dl")[1, 1], abs=1e-4
    )


def test_a_crossing_and_its_mirror_are_not_compared():
    gamp = colour_gamp(["navy", "gold"])
    assert gamp.values(against="nearest")[0, 1] > 1
    one = colour_gamp(["navy"])
    assert np.isinf(one.values(against="nearest")).all()
    # Nor is another order of the same colours in the weft a crossing of others.
    two = ["navy", "gold"]
    turned = colour_gamp(two, two[::-1]).values(against="nearest")
    np.testing.assert_allclose(turned[:, ::-1], colour_gamp(two).values(against="nearest"))
    assert "–" in one.table_html(against="nearest")
    assert one.csv().splitlines()[1].endswith(",")


def test_a_palette_is_laid_whole_and_shown():
    palette = Palette("coast", ["navy", "teal", "=gold"[1:]])
    gamp = colour_gamp(palette, name="<b>Coast</b>")
    assert str(gamp) == "colour gamp of 3 warp by 3 weft colours, 9 crossings"
    assert gamp.colourway == Colourway("white", palette.stripes, 1.0, "woven", "<b>Coast</b>")
    shown = gamp._repr_html_()
    assert "<b>Coast" not in shown
    assert shown.count("<tr>") == 4


@pytest.mark.parametrize(
    ("call", "argument"),
    [
        ({"warp": []}, "stripes"),
        ({"warp": ["navy"], "weft": []}, "weft_stripes"),
        ({"warp": ["navy"] * 25}, "stripes"),
        ({"warp": ["navy"], "mixing": "ink on velvet"}, "mixing"),
    ],
)
def test_nonsense_is_named(call, argument):
    with pytest.raises(ArgumentError) as caught:
        colour_gamp(**call)
    assert caught.value.argument == argument


def test_unknown_scores_are_named():
    gamp = colour_gamp(["navy"])
    for call, argument in (({"measure": "x"}, "measure"), ({"against": "x"}, "against")):
        with pytest.raises(ArgumentError) as caught:
            gamp.values(**call)
        assert caught.value.argument == argument
