"""Colours that carry a measured reflectance: kept everywhere, and mixed by wavelength."""

from __future__ import annotations

import json
import time
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from checkcloth import (
    MIXINGS,
    Check,
    ChosenSet,
    Colourway,
    Palette,
    open_set,
    read_palette,
    save_set,
    write_palette,
)
from checkcloth.cloth.mixing import find_mixing
from checkcloth.cloth.named_colour import NamedColour
from checkcloth.cloth.palette import palette_csv, parse_palette_csv
from checkcloth.cloth.spectral import tone_spectra, under_lights
from checkcloth.cloth.tones import tones_of
from checkcloth.colour.cie1931 import WAVELENGTHS
from checkcloth.colour.ciede2000 import delta_e_2000
from checkcloth.colour.ink import STOCKS, ink_tones
from checkcloth.colour.reflectance import reflectance_to_xyz, reflectances
from checkcloth.colour.spaces import xyz_to_lab
from checkcloth.colour.spectra.lights import spectral_lab
from checkcloth.colour.spectra.reading import read_spectra
from checkcloth.errors import ArgumentError, ColourError, FileFormatError
from checkcloth.export.data.tokens import palette_tokens, parse_tokens
from checkcloth.scoring.remarks import plain_words, scores_seen
from checkcloth.scoring.vocabulary import estimate_words, spectra_words

rng = np.random.default_rng(36)


def bell(middle: float, wide: float, low: float = 0.04, high: float = 0.8) -> tuple[float, ...]:
    values = low + (high - low) * np.exp(-(((WAVELENGTHS - middle) / wide) ** 2))
    return tuple(values.tolist())


PAPER = NamedColour("Paper", reflectance=(0.85,) * 36, role="ground")
SEA = NamedColour("Sea", reflectance=bell(470, 50), note="lot 3")
MOSS = NamedColour("Moss", reflectance=bell(530, 30))
ROSE = NamedColour("Rose", reflectance=bell(680, 90))
YARNS = (SEA, MOSS, ROSE)


@pytest.mark.parametrize("colour", [PAPER, *YARNS])
def test_the_colour_is_that_of_the_reflectance(colour):
    xyz = reflectance_to_xyz(colour.reflectance)
    assert colour.lab == pytest.approx(xyz_to_lab(xyz), abs=1e-6)
    # Sums at 1 nm and at 10 nm differ by little (said in colour/spectra/lights.py).
    assert delta_e_2000(colour.lab, spectral_lab(colour.reflectance)) < 0.1
    if colour.xyz is not None:
        assert colour.xyz == pytest.approx(xyz)
        assert colour.shift > 0.5


def test_moss_lies_outside_srgb_and_says_so():
    assert MOSS.xyz is not None
    assert "outside the screen's colours" in str(MOSS)
    assert PAPER.xyz is None


def test_other_grids_are_brought_to_the_kit_s():
    nm = np.arange(400, 701, 20)
    made = NamedColour.of_spectrum("Sea", nm, np.interp(nm, WAVELENGTHS, SEA.reflectance))
    assert delta_e_2000(made.lab, SEA.lab) < 0.6
    with pytest.raises(ArgumentError, match="values must be of one colour"):
        NamedColour.of_spectrum("Sea", nm, np.full((2, 16), 0.5))


@pytest.mark.parametrize(
    ("values", "words"),
    [
        ((0.5,) * 16, "36 values, 380 to 730 nm"),
        ((-0.1,) * 36, "fractions from 0 to 2"),
        ((45.0,) * 36, "per cent\\? divide by 100"),
        ((float("nan"),) * 36, "finite"),
        ("blue", "36 numbers"),
    ],
)
def test_what_is_no_reflectance_is_refused(values, words):
    with pytest.raises(ArgumentError, match=words) as refused:
        NamedColour("Sea", reflectance=values)
    assert refused.value.argument == "reflectance"


def test_channels_beside_a_reflectance_must_show_it():
    assert replace(SEA, name="Other").rgb == SEA.rgb
    with pytest.raises(ArgumentError, match="what the reflectance comes to"):
        replace(SEA, rgb=(0.1, 0.2, 0.3))


# -- kept ----------------------------------------------------------------------------------------


PALETTE = Palette("yarns", [PAPER, "teal", *YARNS, "color(display-p3 0 0.6 0.5)"])


def test_a_palette_file_keeps_them(tmp_path):
    path = write_palette(PALETTE, tmp_path / "yarns.csv")
    assert read_palette(path) == PALETTE
    again = write_palette(read_palette(path), tmp_path / "again.csv")
    assert again.read_bytes() == path.read_bytes()
    assert path.read_text("utf-8").startswith("name,colour,role,note,R380,R390,")
    assert "R380" not in palette_csv(Palette("plain", ["teal"]))


@settings(max_examples=30)
@given(st.lists(st.floats(0, 2), min_size=36, max_size=36))
def test_any_reflectance_comes_back_to_the_last_digit(values):
    palette = Palette("one", [NamedColour("Yarn", reflectance=tuple(values))])
    assert parse_palette_csv(palette_csv(palette), "one") == palette
    assert tuple(parse_tokens(palette_tokens(palette))) == palette.colours


def test_columns_of_other_grids_are_read():
    nm = range(400, 701, 20)
    head = ",".join(["name", "colour", *(f"nm{n}" for n in nm)])
    text = f"{head}\nStone,{',0.25' * 16}\nSky,skyblue{',' * 16}\n"
    stone, sky = parse_palette_csv(text, "lot").colours
    assert stone.reflectance == pytest.approx((0.25,) * 36)
    assert (sky.reflectance, sky.text) == (None, "skyblue")


@pytest.mark.parametrize(
    ("row", "words"),
    [
        ("Stone,red" + ",0.25" * 36, "colour must be empty, or the colour of the reflectance"),
        ("Stone," + ",0.25" * 35 + ",", "r730 must be a number"),
        ("Stone," + ",25" * 36, "per cent"),
        ("Stone," + ",-0.1" * 36, "r380 must be a number from 0"),
        ("Stone," + "," * 36, "colour must be a CSS"),
    ],
)
def test_a_row_that_contradicts_is_named_by_line(row, words):
    head = ",".join(["name", "colour", *(f"R{nm:.0f}" for nm in WAVELENGTHS)])
    with pytest.raises(FileFormatError, match=words) as refused:
        parse_palette_csv(f"{head}\n{row}\n", "lot")
    assert refused.value.line == 2


def test_a_grid_with_gaps_is_refused():
    text = "name,colour,R400,R410,R420,R430,R440,R460\nStone,,.2,.2,.2,.2,.2,.2\n"
    with pytest.raises(FileFormatError, match="even steps"):
        parse_palette_csv(text, "lot")


def test_tokens_keep_them_and_a_changed_one_loses_them():
    text = palette_tokens(PALETTE)
    assert tuple(parse_tokens(text)) == PALETTE.colours
    tokens = json.loads(text)
    tokens["Sea"]["$value"] = {"colorSpace": "srgb", "components": [1, 0, 0]}
    changed = {colour.name: colour for colour in parse_tokens(json.dumps(tokens))}
    assert changed["Sea"].reflectance is None
    assert changed["Sea"].hex == "#ff0000"
    assert changed["Rose"] == ROSE


def test_a_saved_set_keeps_them(tmp_path):
    kept = ChosenSet(Check("1 in", 3), [Colourway(PAPER, YARNS, 0.5, "woven", weft_stripes=[SEA])])
    opened = open_set(save_set(kept, tmp_path / "yarns.json"))
    assert opened == kept
    assert np.array_equal(opened.colourways[0].tones, kept.colourways[0].tones)
    fields = json.loads((tmp_path / "yarns.json").read_text("utf-8"))
    assert fields["version"] == 4
    fields["colourways"][0]["ground"]["reflectance"] = [0.85] * 35
    (tmp_path / "short.json").write_text(json.dumps(fields), "utf-8")
    with pytest.raises(FileFormatError, match="36 numbers"):
        open_set(tmp_path / "short.json")


# -- mixed ---------------------------------------------------------------------------------------


def test_woven_adds_reflectances_by_area():
    made = Colourway(PAPER, YARNS, 0.8, "woven", warp_share=0.3)
    spectra = tone_spectra(made)
    assert not spectra.recovered
    one, two, ground = (np.array(c.reflectance) for c in (SEA, MOSS, PAPER))
    mixed = 0.8 * 0.3 * one + 0.8 * 0.7 * two + 0.2 * ground
    assert spectra.reflectance[1, 2] == pytest.approx(mixed)
    assert made.tones_xyz[1, 2] == pytest.approx(reflectance_to_xyz(mixed))


def test_pigment_mixes_measured_k_over_s():
    """Single-constant Kubelka–Munk by hand (Kubelka and Munk 1931)."""
    made = Colourway(PAPER, YARNS, 0.6, "pigment")
    one, ground = (np.array(c.reflectance) for c in (SEA, PAPER))
    k = 0.6 * (1 - one) ** 2 / (2 * one) + 0.4 * (1 - ground) ** 2 / (2 * ground)
    mixed = 1 + k - np.sqrt(k * k + 2 * k)
    assert tone_spectra(made).reflectance[1, 0] == pytest.approx(mixed)
    assert made.tones_xyz[1, 0] == pytest.approx(reflectance_to_xyz(mixed))


def test_ink_prints_by_wavelength():
    """Three wavelengths at a time are three channels: the same model, and its own test."""
    made = Colourway(PAPER, [SEA, ROSE], 1.0, "ink", stock="coated")
    found = tone_spectra(made).reflectance[1, 2]
    paper, solids = np.array(PAPER.reflectance), np.array([SEA.reflectance, ROSE.reflectance])
    for bands in np.arange(36).reshape(12, 3):
        laid = ink_tones(paper[None, bands], solids[None][..., bands], [1.0], STOCKS["coated"])
        assert found[bands] == pytest.approx(laid[0, 1, 2])
    assert made.tones_xyz[1, 2] == pytest.approx(reflectance_to_xyz(found))


@pytest.mark.parametrize("mixing", MIXINGS)
@given(strength=st.floats(0, 1), n=st.floats(1, 5))
@settings(max_examples=15)
def test_tones_are_those_of_the_spectra(mixing, strength, n):
    made = Colourway(PAPER, YARNS, strength, mixing, yule_nielsen=n, weft_stripes=[MOSS, SEA])
    assert made.tones.min() >= 0
    assert made.tones.max() <= 1
    if find_mixing(mixing).space == "as-is":
        assert tone_spectra(made).recovered
        return
    expected = reflectance_to_xyz(tone_spectra(made).reflectance)
    assert made.tones_xyz == pytest.approx(expected, abs=1e-9)


@pytest.mark.parametrize("mixing", ["source-over", "multiply"])
def test_screens_mix_what_they_show(mixing):
    inside = [colour for colour in YARNS if colour.xyz is None]
    assert inside
    made = Colourway(PAPER, inside, 0.5, mixing)
    plain = [NamedColour(colour.name, colour.rgb) for colour in (PAPER, *inside)]
    assert np.array_equal(made.tones, Colourway(plain[0], plain[1:], 0.5, mixing).tones)
    words = f"measured spectra are not used: {mixing} mixes what a screen shows"
    assert words in [remark.text for remark in plain_words(made, scores_seen(made))]


def test_where_one_has_no_reflectance_it_is_said():
    some = Colourway(PAPER, [SEA, "teal"], 0.5, "woven")
    assert spectra_words(some) == "measured spectra are not used: there is none of teal"
    plain = NamedColour(SEA.name, SEA.rgb, xyz=SEA.xyz), NamedColour(PAPER.name, PAPER.rgb)
    assert some.tones == pytest.approx(Colourway(plain[1], [plain[0], "teal"], 0.5, "woven").tones)
    dyed = some.with_(mixing="pigment")
    assert "recovered" in spectra_words(dyed)
    assert "teal" in spectra_words(dyed)
    assert tone_spectra(dyed).recovered
    # The measured one is used all the same.
    assert tone_spectra(dyed.with_(strength=1.0)).reflectance[1, 0] == pytest.approx(
        SEA.reflectance, abs=1e-9
    )
    assert "measured spectra" in spectra_words(Colourway(PAPER, YARNS, 0.5, "ink"))
    assert "the spectra are measured" in estimate_words(Colourway(PAPER, YARNS, 0.5, "pigment"))


def test_recovered_spectra_mix_as_the_mixing_does():
    """A reflectance that was recovered is what pigment recovers anyway."""
    names = ("#f3eee2", "#2b6c7a", "#a6422e")
    rgb = [NamedColour.of(name) for name in names]
    spectral = [NamedColour(c.name, reflectance=tuple(reflectances(c.rgb).tolist())) for c in rgb]
    for mixing in ("pigment", "woven"):
        plain = Colourway(rgb[0], rgb[1:], 0.5, mixing)
        assert Colourway(spectral[0], spectral[1:], 0.5, mixing).tones == pytest.approx(
            plain.tones, abs=1e-6
        )


def test_lights_take_the_colours_own():
    found = under_lights(Colourway(PAPER, YARNS, 1.0, "woven"))
    assert not found.recovered
    given = {colour.name: colour.reflectance for colour in (PAPER, *YARNS)}
    plain = [NamedColour(c.name, c.rgb) for c in (PAPER, *YARNS)]
    named = under_lights(Colourway(plain[0], plain[1:], 1.0, "woven"), spectra=given)
    assert found.lab == pytest.approx(named.lab)


def test_five_hundred_are_mixed_in_a_moment():
    """In time of the processor, and with room for a slow one: the bench prints what it takes."""
    yarns = [
        NamedColour(f"yarn {n}", reflectance=bell(rng.uniform(400, 700), rng.uniform(20, 100)))
        for n in range(30)
    ]
    ways = {
        mixing: [
            Colourway(PAPER, [yarns[i] for i in rng.permutation(30)[:6]], 0.5, mixing)
            for _ in range(500)
        ]
        for mixing in ("woven", "ink", "pigment")
    }
    spent: dict[str, list[float]] = {mixing: [] for mixing in ways}
    for _ in range(6):
        for mixing, members in ways.items():
            start = time.process_time()
            tones_of(members)
            spent[mixing].append(time.process_time() - start)
    least = {mixing: min(times) for mixing, times in spent.items()}
    assert max(least.values()) < 0.5, least
    assert least["ink"] < 5 * least["woven"], least


@pytest.mark.parametrize("xyz", [(1e308, 0.2, 0.1), (-1e308, 0.2, 0.1), (0.2, 1e200, 0.1)])
def test_xyz_that_no_light_has_is_refused(xyz):
    with pytest.raises(ArgumentError) as caught:
        NamedColour("A", xyz=xyz)
    assert caught.value.argument == "xyz"
    with pytest.raises(ColourError):
        NamedColour.of(f"color(xyz {xyz[0]} {xyz[1]} {xyz[2]})")


def test_black_and_white_are_what_a_screen_shows():
    """Their XYZ lies outside sRGB by the rounding of weights alone."""
    for reflectance, shown in ((0, "#000000"), (1, "#ffffff")):
        made = NamedColour("end", reflectance=[reflectance] * 36)
        assert (made.hex, made.xyz) == (shown, None)
        assert "outside" not in str(made)


def test_a_palette_takes_the_spectra_of_an_instrument(tmp_path):
    path = tmp_path / "s.csv"
    head = ",".join(["name", *(f"{nm} nm" for nm in range(380, 731, 10))])
    path.write_text(f"{head}\nteal" + ",20" * 36 + "\n", "utf-8")
    with pytest.raises(FileFormatError, match=r"read_spectra .* palette\.with_spectra"):
        read_palette(path)
    first = NamedColour.of("teal")
    palette = Palette("bay", [replace(first, role="stripe", note="lot 3"), "navy"])
    measured = palette.with_spectra(read_spectra(path, per_cent=True))
    assert measured["teal"].reflectance == pytest.approx([0.2] * 36)
    assert (measured["teal"].role, measured["teal"].note) == ("stripe", "lot 3")
    assert measured["navy"] == palette["navy"]
    assert measured.name == "bay"
    assert palette["teal"].reflectance is None
    for wrong in ({"Teal": [0.2] * 36}, [0.2] * 36, {"teal": [0.2] * 16}, {"teal": "grey"}):
        with pytest.raises(ArgumentError):
            palette.with_spectra(wrong)
