"""Tones under a buyer's lights: mixed by wavelength, and what parts."""

from __future__ import annotations

import numpy as np
import pytest
from skimage.color import deltaE_ciede2000

from checkcloth import MIXINGS, Colourway, Palette
from checkcloth.cloth import spectral
from checkcloth.cloth.named_colour import NamedColour
from checkcloth.cloth.spectral import (
    LightTable,
    inconstancy,
    parting_pairs,
    tone_spectra,
    under_lights,
)
from checkcloth.colour.ciede2000 import delta_e_2000
from checkcloth.colour.reflectance import reflectances
from checkcloth.colour.spaces import srgb_to_lab
from checkcloth.colour.spectra.accuracy import recovered_error
from checkcloth.colour.spectra.lights import light_shifts, spectral_lab
from checkcloth.colour.spectra.weights import WEIGHTS
from checkcloth.errors import ArgumentError

CLOTH = Colourway("#f3eee2", ["#2b6c7a", "#a6422e"], 0.7)


@pytest.mark.parametrize("mixing", MIXINGS)
def test_under_daylight_the_tones_are_those_of_the_mixing(mixing):
    """From recovered spectra: near alike in light and pigment; ink multiplies by wavelength."""
    cloth = CLOTH.with_(mixing=mixing)
    mixed = tone_spectra(cloth)
    assert mixed.recovered
    assert mixed.reflectance.shape == (3, 3, 36)
    apart = delta_e_2000(spectral_lab(mixed.reflectance), srgb_to_lab(cloth.tones))
    assert apart.max() < (6 if mixing == "ink" else 0.1)
    assert spectral_lab(mixed.reflectance[0, 0]) == pytest.approx(
        srgb_to_lab(cloth.tones[0, 0]), abs=0.1
    )


def test_woven_adds_measured_spectra_by_their_shares():
    rng = np.random.default_rng(8)
    names = [CLOTH.ground.name, *(stripe.name for stripe in CLOTH.stripes)]
    measured = dict(zip(names, 0.05 + 0.8 * rng.random((3, 36)), strict=True))
    mixed = tone_spectra(CLOTH.with_(mixing="woven", strength=1.0), measured)
    assert not mixed.recovered
    half = (measured[names[1]] + measured[names[2]]) / 2
    assert mixed.reflectance[1, 2] == pytest.approx(half)
    some = tone_spectra(CLOTH.with_(mixing="woven"), {names[1]: measured[names[1]]})
    assert some.recovered
    with pytest.raises(ArgumentError, match="36 values"):
        tone_spectra(CLOTH.with_(mixing="woven"), {names[1]: [0.5] * 16})


def metamers():
    """A grey, and what is the same grey under D65 and another colour under A."""
    weights = WEIGHTS["D65", 2]
    bump = np.sin(np.linspace(0, 9, 36))
    unseen = bump - weights @ np.linalg.lstsq(weights, bump, rcond=None)[0]
    return np.full(36, 0.4), 0.4 + 0.2 * unseen / np.abs(unseen).max()


def test_pairs_that_part():
    one, two = metamers()
    far = np.full(36, 0.8)
    (pair,) = parting_pairs({"one": one, "two": two, "far": far})
    assert (pair.one, pair.two, pair.match_light) == ("one", "two", "D65")
    assert pair.match == pytest.approx(0, abs=1e-6)
    assert pair.part > 3
    assert parting_pairs({"one": one, "two": two}, ("D65",)) == ()
    assert parting_pairs({}) == ()


def test_a_cloth_under_lights():
    one, two = metamers()
    rgb = "#aaaaaa"
    cloth = Colourway("white", [rgb, "#aaaaab"], 1.0, "woven")
    spectra = {"white": np.ones(36), rgb: one, "#aaaaab": two}
    found = under_lights(cloth, spectra=spectra)
    assert found.lights == ("D65", "A", "F11")
    assert found.lab.shape == (3, 3, 3, 3)
    assert found.shifts[0] == pytest.approx(0)
    assert not found.recovered
    parted = [{pair.one, pair.two} for pair in found.partings]
    assert {f"{rgb} over {rgb}", "#aaaaab over #aaaaab"} in parted
    tone, light, shift = found.worst
    assert "#aaaaab" in tone
    assert light in ("A", "F11")
    assert f"{shift:.1f}" in found.words
    assert "measured spectra" in str(found)
    text = found.text().splitlines()
    assert text[0] == found.words
    assert len(text) == 2 + len(cloth.unique_tones)
    assert found._repr_html_().count("<tr") == 1 + len(cloth.unique_tones)


def test_recovered_spectra_are_said_to_be_a_guess():
    found = under_lights(CLOTH.with_(mixing="pigment"), ["d50", "LED-B3"], observer=10)
    assert found.lights == ("D50", "LED-B3")
    assert "a guess" in found.words
    assert "10° observer" in found.words
    alone = reflectances(CLOTH.ground.rgb)
    assert found.lab[0, 0, 0] == pytest.approx(spectral_lab(alone, "D50", 10), abs=0.01)


@pytest.mark.parametrize(
    ("change", "argument"),
    [({"lights": ["D65"]}, "lights"), ({"lights": ["D65", "sun"]}, "lights"),
     ({"lights": 3}, "lights"), ({"observer": 3}, "observer")],
)  # fmt: skip
def test_bad_input(change, argument):
    with pytest.raises(ArgumentError) as error:
        under_lights(CLOTH, **change)
    assert error.value.argument == argument


def test_the_wefts_own_colours():
    """Another weft than warp: tones by [warp, weft], each from its own yarns."""
    cloth = Colourway("white", ["navy"], 1.0, "woven", weft_stripes=["gold", "teal"])
    mixed = tone_spectra(cloth)
    assert mixed.reflectance.shape == (2, 3, 36)
    apart = delta_e_2000(spectral_lab(mixed.reflectance), srgb_to_lab(cloth.tones))
    assert apart.max() < 0.1
    assert under_lights(cloth).lab.shape == (3, 2, 3, 3)


def test_the_worst_shift_in_words():
    """Of the tones, where they have spectra; of the colours, where a screen mixes them."""
    cloth = CLOTH.with_(mixing="woven")
    found = inconstancy(cloth)
    table = under_lights(cloth)
    assert (found.name, found.light, found.shift) == table.worst
    assert f"{found.shift:.1f} from D65 to {found.light}" in found.words
    assert f"within ΔE00 {recovered_error(found.light):.1f}" in found.words
    assert found.short.startswith(f"ΔE00 {found.shift:.1f} to {found.light}, ")
    assert found.short.endswith(f"(recovered ±{recovered_error(found.light):.1f}): {found.name}")
    shown = inconstancy(CLOTH.with_(mixing="multiply"))
    spectra = {one.name: reflectances(one.rgb) for one in CLOTH.colours}
    lights = light_shifts([*spectra.values()])
    assert shown.shift == pytest.approx(lights.max())
    assert shown.name == [*spectra][int(lights.max(axis=0).argmax())]
    grey = inconstancy(Colourway("white", ["#808080"], 1.0))
    assert grey.shift == pytest.approx(0, abs=0.05)
    assert "hardly" in grey.words


def test_parting_pairs_are_a_table():
    one, two = metamers()
    pairs = parting_pairs({"one": one, "<two>": two})
    (row,) = pairs.texts()
    assert row[:3] == ("one", "<two>", "D65")
    assert row[5] == f"{pairs[0].part:.1f}"
    assert pairs.words == "1 pair matches under one light and parts under another"
    html = pairs._repr_html_()
    assert "&lt;two&gt;" in html
    assert html.count("<tr") == 2
    assert parting_pairs({}).words.startswith("No two")


def test_one_pair_that_parts_is_spoken_of_as_one():
    lab = np.full((2, 2, 2, 3), 50.0)
    lab[:, 0, 0], lab[1, 1, 1, 1] = 90, 60
    found = LightTable(Colourway("white", ["navy"]), ("D65", "A"), 2, lab, lab[..., 0], False)
    assert "; 1 pair matches under one light and parts under another (2°" in found.words


def test_a_palette_is_asked_which_of_its_colours_part():
    palette = Palette("bay", ["navy", "teal", "#aaaaaa", "#ababab"])
    assert parting_pairs(palette, match=0.5, part=90) == ()
    (pair,) = parting_pairs(palette, match=1, part=0.01)
    assert {pair.one, pair.two} == {"#aaaaaa", "#ababab"}
    with pytest.raises(ArgumentError):
        parting_pairs(["navy"])


def test_parting_pairs_have_columns_and_print_as_one_line():
    pairs = parting_pairs([NamedColour.of("#aaa"), NamedColour.of("#ababab")], match=1, part=0.01)
    assert repr(pairs) == f"<{pairs}>"
    assert str(pairs).startswith("1 pair matches")
    (row,) = pairs.rows()
    assert row == tuple(pairs[0])
    assert list(pairs.columns)[3::2] == ["match_de2000", "part_de2000"]


@pytest.mark.parametrize(("match", "part"), [(1.0, 2.0), (0, 0), (3, 1), (12, 12), (100, 0)])
def test_parting_pairs_are_those_that_every_pair_compared_gives(match, part, monkeypatch):
    """Held to scikit-image's CIEDE2000 of all pairs, however small the blocks."""
    monkeypatch.setattr(spectral, "_PAIRS", 64)
    rng = np.random.default_rng(4)
    waves = np.cos(np.outer(range(4), np.linspace(0, np.pi, 36)))
    values = 1 / (1 + np.exp(-rng.normal(size=(60, 4)) @ waves))
    values[50:] = values[40:50]  # the very same, too
    values[55:] += 0.002
    lights = ("D65", "A", "F11", "D50")
    names = [f"c{number:02d}" for number in range(60)]
    found = parting_pairs(dict(zip(names, values, strict=True)), lights, match=match, part=part)
    labs = np.stack([spectral_lab(values, light) for light in lights])
    apart = np.stack([deltaE_ciede2000(lab[:, None], lab[None]) for lab in labs])
    least, most = apart.min(axis=0), apart.max(axis=0)
    wanted = (least <= match) & (most >= part) & (np.arange(60)[:, None] < np.arange(60))
    assert {(pair.one, pair.two) for pair in found} == {
        (names[i], names[j]) for i, j in np.argwhere(wanted)
    }
    for pair in found:
        here = apart[:, names.index(pair.one), names.index(pair.two)]
        assert (pair.match, pair.part) == pytest.approx((here.min(), here.max()), abs=1e-9)
        assert here[lights.index(pair.match_light)] == pytest.approx(here.min(), abs=1e-9)
        assert here[lights.index(pair.part_light)] == pytest.approx(here.max(), abs=1e-9)
    parts = [pair.part for pair in found]
    assert parts == sorted(parts, reverse=True)


def test_parting_pairs_tell_how_far_they_are_and_keep_colours_of_one_name():
    said = []
    one, two = metamers()
    colours = [
        NamedColour("grey", reflectance=tuple(one)),
        NamedColour("grey", reflectance=tuple(two)),
        NamedColour("white", reflectance=(0.9,) * 36),
    ]
    (pair,) = parting_pairs(colours, progress=lambda done, total: said.append((done, total)))
    assert (pair.one, pair.two) == ("grey", "grey")
    assert said[-1][0] == said[-1][1] > 0
    with pytest.raises(ArgumentError) as caught:
        parting_pairs(colours, progress=3)
    assert caught.value.argument == "progress"
