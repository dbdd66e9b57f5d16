"""Strike-offs made from known shifts are explained as what they are; mix-ups are caught."""

from __future__ import annotations

import csv
from pathlib import Path

import colour
import numpy as np
import pytest
from coloraide import Color

from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.named_colour import NamedColour
from checkcloth.cloth.spectral import tone_spectra
from checkcloth.colour.difference import lab_differences
from checkcloth.colour.spaces import srgb_to_lab
from checkcloth.colour.spectra.accuracy import recovered_error
from checkcloth.errors import ArgumentError, FileFormatError
from checkcloth.quality import (
    TextureFactor,
    adapt_lab,
    check_strike_off,
    direction_words,
    read_readings,
)
from checkcloth.quality.readings import tone_indices
from checkcloth.quality.strike_off import ToneCheck

GOLD = Path(__file__).resolve().parents[1] / "gold" / "analysis"
DATA = Path(__file__).resolve().parents[2] / "notebooks" / "data"

SPEC = Colourway("#f6f1e4", ["#14325c", "#b8374f", "#3d6b45"], 0.5, name="Halt")


def measure(
    path: Path,
    printed: Colourway,
    *,
    spec: Colourway = SPEC,
    noise: float = 0.1,
    light: str = "D65",
    stated: str = "D65",
    observer: int = 2,
    readings: int = 3,
    seed: int = 1,
    only: int | None = None,
) -> Path:
    """Write readings of cloth that came out as ``printed``, under the tone names of ``spec``."""
    rng = np.random.default_rng(seed)
    tones = list(dict.fromkeys(tone_indices(spec).values()))[:only]
    with path.open("w", encoding="utf-8", newline="") as stream:
        writer = csv.writer(stream)
        writer.writerow(["tone", "L*", "a*", "b*", "illuminant", "observer"])
        for tone in tones:
            lab = adapt_lab(srgb_to_lab(printed.tones[tone]), "D65", light)
            for _ in range(readings):
                found = np.round(lab + rng.normal(0, noise, 3), 2).tolist()
                writer.writerow([spec.tone_label(*tone), *found, stated, observer])
    return path


# -- known shifts --------------------------------------------------------------------------------


@pytest.mark.parametrize("mixing", ["source-over", "multiply", "woven", "source-over-linear"])
@pytest.mark.parametrize("strength", [0.42, 0.6])
def test_another_strength_is_explained_as_that(tmp_path, mixing, strength):
    spec = SPEC.with_(mixing=mixing)
    path = measure(tmp_path / "r.csv", spec.with_(strength=strength), spec=spec)
    result = check_strike_off(spec, path)
    best = result.causes[0]
    assert best.name == "strength"
    assert best.numbers[0] == pytest.approx(strength, abs=0.01)
    assert best.explained > 0.9
    assert "the overlay strength" in result.explanation
    assert "cannot tell" not in result.explanation


@pytest.mark.parametrize("mixing", ["source-over", "multiply", "woven"])
def test_a_stronger_dye_in_one_stripe_is_explained_as_that(tmp_path, mixing):
    spec = SPEC.with_(mixing=mixing)
    stripes = [spec.stripes[0], "#a01f38", spec.stripes[2]]
    path = measure(tmp_path / "r.csv", spec.with_(stripes=stripes), spec=spec)
    result = check_strike_off(spec, path)
    best = result.causes[0]
    assert best.name == "stripe 2"
    wanted = np.array([0xA0, 0x1F, 0x38]) / 255
    assert np.allclose(best.numbers, wanted, atol=0.02)
    assert "darker" in result.explanation


@pytest.mark.parametrize("mixing", ["source-over", "multiply", "woven"])
def test_another_ground_is_explained_as_that(tmp_path, mixing):
    spec = SPEC.with_(mixing=mixing)
    path = measure(tmp_path / "r.csv", spec.with_(ground="#e8dcc0"), spec=spec)
    result = check_strike_off(spec, path)
    assert result.causes[0].name == "ground"
    assert np.allclose(result.causes[0].numbers, np.array([0xE8, 0xDC, 0xC0]) / 255, atol=0.02)
    assert not result.passed


@pytest.mark.parametrize("seed", range(8))
def test_noise_is_explained_as_scatter(tmp_path, seed):
    path = measure(tmp_path / "r.csv", SPEC, noise=1.5, readings=1, seed=seed)
    result = check_strike_off(SPEC, path)
    assert result.diagnosis.verdict == "none"
    assert "scatter" in result.explanation


def test_an_estimated_specification_is_said_to_be_one(tmp_path):
    spec = SPEC.with_(mixing="pigment")
    result = check_strike_off(
        spec, measure(tmp_path / "r.csv", spec.with_(strength=0.6), spec=spec)
    )
    assert result.causes[0].name == "strength"
    assert any("is an estimate" in caution for caution in result.cautions)


def test_two_causes_together_are_not_laid_on_one(tmp_path):
    printed = SPEC.with_(stripes=["#14325c", "#a01f38", "#2a7a50"], ground="#f1e6e9")
    result = check_strike_off(SPEC, measure(tmp_path / "r.csv", printed))
    assert result.diagnosis.verdict == "most"
    assert "so there is more" in result.explanation


def test_no_shift_passes_and_there_is_nothing_to_explain(tmp_path):
    result = check_strike_off(SPEC, measure(tmp_path / "r.csv", SPEC, noise=0.05))
    assert result.passed
    assert "nothing to explain" in result.explanation
    assert {check.direction for check in result.checks} == {"on standard"}


def test_too_few_tones_cannot_tell_causes_apart(tmp_path):
    spec = Colourway("#f6f1e4", ["#14325c"], 0.5)
    path = measure(tmp_path / "r.csv", spec.with_(ground="#e8dcc0"), spec=spec, only=1)
    result = check_strike_off(spec, path)
    assert result.causes == ()
    assert "Too few tones" in result.explanation
    assert len(result.missing) == 2


def test_the_example_readings_are_explained_as_they_were_made():
    from checkcloth.cloth.palette import read_palette

    palette = read_palette(DATA.parents[1] / "palettes" / "tea-table.csv")
    spec = Colourway(
        palette["Starched Linen"],
        [palette[name] for name in ("Jam Pan", "Cornflower Cup", "Garden Mint")],
        name="Tea table, spring",
    )
    first = check_strike_off(spec, DATA / "strike-off-tea-table-first.csv")
    assert first.causes[0].name == "strength"
    second = check_strike_off(spec, DATA / "strike-off-tea-table-second.csv")
    assert second.causes[0].name == "ground"
    assert "Bradford" in second.basis


# -- figures -------------------------------------------------------------------------------------


def pairs() -> list[list[float]]:
    lines = (GOLD / "cmc_pairs.csv").read_text("utf-8").splitlines()
    rows = [line for line in lines if not line.startswith("# ")][1:]
    return [[float(cell) for cell in row.split(",")] for row in rows]


@pytest.mark.parametrize("row", pairs(), ids=lambda row: str(row[-1]))
def test_published_cmc_pairs_come_through_the_report(tmp_path, row):
    head = "tone,L*,a*,b*,illuminant,observer\n"
    for name, lab in (("standard.csv", row[:3]), ("strike.csv", row[3:6])):
        values = ",".join(map(str, lab))
        (tmp_path / name).write_text(f"{head}yellow,{values},D65,10\n", "utf-8")
    result = check_strike_off(
        Colourway("yellow", ["navy"]), tmp_path / "strike.csv", standard=tmp_path / "standard.csv"
    )
    (check,) = result.checks
    assert check.cmc == pytest.approx(row[6], abs=5e-5)
    assert check.passed == (row[6] <= 1)
    assert "nothing was adapted" in result.basis
    wanted, found = (Color("lab-d65", lab) for lab in (row[:3], row[3:6]))
    assert check.de2000 == pytest.approx(wanted.delta_e(found, method="2000"), abs=1e-9)


def test_differences_equal_colour_science_and_add_up():
    rng = np.random.default_rng(3)
    standard = rng.uniform([0, -60, -60], [100, 60, 60], (200, 3))
    sample = rng.uniform([0, -60, -60], [100, 60, 60], (200, 3))
    ours = lab_differences(standard, sample)
    lch1, lch2 = colour.models.Lab_to_LCHab(standard), colour.models.Lab_to_LCHab(sample)
    assert np.allclose(ours[:, 0], lch2[:, 0] - lch1[:, 0], atol=1e-9)
    assert np.allclose(ours[:, 1], lch2[:, 1] - lch1[:, 1], atol=1e-9)
    turn = (lch2[:, 2] - lch1[:, 2] + 180) % 360 - 180
    dh = 2 * np.sqrt(lch1[:, 1] * lch2[:, 1]) * np.sin(np.deg2rad(turn / 2))
    assert np.allclose(ours[:, 2], dh, atol=1e-6)
    assert np.allclose((ours**2).sum(axis=1), ((standard - sample) ** 2).sum(axis=1))


@pytest.mark.parametrize(
    ("standard", "sample", "words"),
    [
        ((50, 40, 0), (54, 40, 0), "lighter"),
        ((50, 40, 0), (46, 40, 0), "darker"),
        ((50, 40, 0), (50, 34, 0), "duller"),
        ((50, 40, 0), (50, 46, 0), "more vivid"),
        ((50, 40, 2), (50, 39.6, 6), "yellower"),
        ((50, 40, 2), (50, 39.9, -3), "bluer"),
        ((80, 2, 60), (80, 8, 59.4), "redder"),
        ((80, 2, 60), (80, -5, 59.8), "greener"),
        ((40, 10, -40), (40, 16, -38), "redder"),
        ((40, 10, -40), (40, 3, -41), "greener"),
        ((50, -40, 0), (50, -39.6, 5), "yellower"),
        ((50, -40, 0), (50, -39.6, -5), "bluer"),
        ((90, 0, 0), (90, 0, 2), "yellower"),
        ((90, 0, 0), (90, -2, 0), "greener"),
    ],
)
def test_directions_are_named_as_the_trade_names_them(standard, sample, words):
    # Common practice, no source: reds go yellower or bluer, yellows redder or greener …
    assert direction_words(standard, sample) == words


def test_directions_of_many_parts_come_with_the_largest_first():
    assert direction_words((50, 40, 0), (60, 36, 3)) == "lighter, yellower, duller"


def test_readings_are_averaged_and_their_spread_given(tmp_path):
    result = check_strike_off(SPEC, measure(tmp_path / "r.csv", SPEC, noise=0.4, readings=5))
    read = read_readings(tmp_path / "r.csv").by_tone(SPEC)
    for check in result.checks:
        each = read[check.index]
        assert check.readings == 5
        assert np.allclose(check.found, each.mean(axis=0), atol=1e-9)
        mean = Color("lab-d65", each.mean(axis=0).tolist())
        spread = np.mean([Color("lab-d65", e.tolist()).delta_e(mean, method="2000") for e in each])
        assert check.spread == pytest.approx(spread, abs=1e-9)


def test_a_pasted_reading_and_a_single_one_are_cautioned(tmp_path):
    text = "tone,L*,a*,b*,illuminant,observer\n#f6f1e4,95,-0.5,7,D65,2\n#f6f1e4,95,-0.5,7,D65,2\n"
    text += "#14325c over #14325c,41,0,-18,D65,2\n"
    (tmp_path / "r.csv").write_text(text, "utf-8")
    cautions = " ".join(check_strike_off(SPEC, tmp_path / "r.csv").cautions)
    assert "line 3 repeats 2" in cautions
    assert "one reading only" in cautions


# -- illuminants and observers -------------------------------------------------------------------


@pytest.mark.parametrize(("source", "target"), [("D50", "D65"), ("D65", "D50")])
def test_adaptation_equals_colour_science_and_coloraide(source, target):
    rng = np.random.default_rng(8)
    lab = rng.uniform([5, -60, -60], [95, 60, 60], (50, 3))
    whites = {"D50": np.array([0.3457, 0.3585]), "D65": np.array([0.3127, 0.3290])}
    xyz = colour.Lab_to_XYZ(lab, whites[source])
    moved = colour.adaptation.chromatic_adaptation_VonKries(
        xyz,
        colour.xy_to_XYZ(whites[source]),
        colour.xy_to_XYZ(whites[target]),
        transform="Bradford",
    )
    assert np.allclose(
        adapt_lab(lab, source, target), colour.XYZ_to_Lab(moved, whites[target]), atol=1e-6
    )
    spaces = {"D50": "lab", "D65": "lab-d65"}
    for row in lab[:5]:
        there = Color(spaces[source], row.tolist()).convert(spaces[target]).coords()
        assert np.allclose(adapt_lab(row, source, target), there, atol=2e-3)


def test_d50_readings_that_say_so_pass(tmp_path):
    path = measure(tmp_path / "r.csv", SPEC, light="D50", stated="D50", noise=0.05)
    result = check_strike_off(SPEC, path)
    assert result.passed
    assert result.cautions == ()
    assert "D50 were adapted to D65 by the Bradford transform" in result.basis


@pytest.mark.parametrize(("light", "stated"), [("D50", "D65"), ("D65", "D50")])
def test_an_illuminant_mix_up_is_caught_and_said(tmp_path, light, stated):
    path = measure(tmp_path / "r.csv", SPEC, light=light, stated=stated)
    result = check_strike_off(SPEC, path)
    (caution,) = result.cautions
    assert f"said to be under {stated}" in caution
    assert f"as if they had been measured under {light}" in caution
    assert result.explanation.startswith("Settle the illuminant first")


def test_the_wrong_white_in_the_instrument_is_caught(tmp_path):
    # XYZ measured under D65, divided by the white of D50: even the ground turns blue.
    whites = {"D50": np.array([0.3457, 0.3585]), "D65": np.array([0.3127, 0.3290])}
    lines = ["tone,L*,a*,b*,illuminant,observer"]
    for tone in dict.fromkeys(tone_indices(SPEC).values()):
        xyz = colour.Lab_to_XYZ(srgb_to_lab(SPEC.tones[tone]), whites["D65"])
        lab = colour.XYZ_to_Lab(xyz, whites["D50"])
        lines.append(f"{SPEC.tone_label(*tone)},{','.join(f'{v:.2f}' for v in lab)},D65,2")
    (tmp_path / "r.csv").write_text("\n".join(lines), "utf-8")
    result = check_strike_off(SPEC, tmp_path / "r.csv")
    assert any("worked out with the white of D50" in caution for caution in result.cautions)


@pytest.mark.parametrize("change", [{"strength": 0.6}, {"ground": "#e8dcc0"}])
def test_a_real_shift_is_not_taken_for_a_mix_up(tmp_path, change):
    result = check_strike_off(SPEC, measure(tmp_path / "r.csv", SPEC.with_(**change)))
    assert not any("said to be" in caution for caution in result.cautions)


def test_greys_cannot_show_a_mix_up_and_it_is_said(tmp_path):
    grey = Colourway("#f0f0f0", ["#606060"], 0.5)
    result = check_strike_off(grey, measure(tmp_path / "r.csv", grey, spec=grey))
    assert any("too near grey" in caution for caution in result.cautions)


def test_ten_degrees_may_be_taken_for_two_and_are_held_like_for_like(tmp_path):
    path = measure(tmp_path / "r.csv", SPEC, observer=10)
    accepted = check_strike_off(SPEC, path, accept_10_degree=True)
    assert "as if they were 2°" in " ".join(accepted.cautions)
    other = measure(tmp_path / "s.csv", SPEC, observer=10, seed=2)
    assert check_strike_off(SPEC, path, standard=other).passed
    with pytest.raises(ArgumentError, match="D65/2°") as caught:
        check_strike_off(SPEC, path, standard=measure(tmp_path / "t.csv", SPEC))
    assert caught.value.argument == "standard"


CMFS = {
    2: "CIE 1931 2 Degree Standard Observer",
    10: "CIE 1964 10 Degree Standard Observer",
}


def measure_spectra(
    path: Path, spec: Colourway, printed: Colourway, light: str, observer: int, stated: tuple
) -> Path:
    """Write readings of cloth with the spectra of ``printed``, integrated by colour-science."""
    rng = np.random.default_rng(7)
    spectra = tone_spectra(printed).reflectance
    name = {"F11": "FL11", "F2": "FL2"}.get(light, light)
    illuminant = colour.SDS_ILLUMINANTS[name]
    cmfs = colour.MSDS_CMFS[CMFS[observer]]
    shape = colour.SpectralShape(380, 730, 10)
    white = colour.sd_to_XYZ(np.ones(36), cmfs, illuminant, shape=shape, method="Integration")
    lines = ["tone,L*,a*,b*,illuminant,observer"]
    for tone in spec.unique_tones:
        sd = spectra[tone.warp, tone.weft]
        xyz = colour.sd_to_XYZ(sd, cmfs, illuminant, shape=shape, method="Integration")
        lab = colour.XYZ_to_Lab(xyz / white[1], colour.XYZ_to_xy(white))
        for _ in range(3):
            cells = ",".join(f"{v:.2f}" for v in lab + rng.normal(0, 0.05, 3))
            label = spec.tone_label(tone.warp, tone.weft)
            lines.append(f"{label},{cells},{stated[0]},{stated[1]}")
    path.write_text("\n".join(lines), "utf-8")
    return path


WOVEN = SPEC.with_(mixing="woven")


@pytest.mark.filterwarnings("ignore")  # colour-science's words on aligning spectra
@pytest.mark.parametrize(("light", "observer"), [("D65", 10), ("F11", 10), ("A", 2), ("D50", 10)])
def test_readings_under_any_light_are_held_against_the_tones_spectra(tmp_path, light, observer):
    stated = (light, observer)
    path = measure_spectra(tmp_path / "r.csv", WOVEN, WOVEN, light, observer, stated)
    result = check_strike_off(WOVEN, path)
    assert result.passed
    # 10 nm sums of colour-science against 1 nm sums of ours: lines of F11 lie between bands.
    assert max(check.de2000 for check in result.checks) < (1.0 if light == "F11" else 0.35)
    assert f"under {light}/{observer}° from the reflectances of its tones" in result.basis
    (caution,) = result.cautions
    assert f"ΔE00 {recovered_error(light, observer):.1f}" in caution
    printed = WOVEN.with_(strength=0.62)
    path = measure_spectra(tmp_path / "s.csv", WOVEN, printed, light, observer, stated)
    result = check_strike_off(WOVEN, path)
    assert not result.passed
    assert result.causes[0].name == "strength"
    assert result.causes[0].numbers[0] == pytest.approx(0.62, abs=0.03)


@pytest.mark.filterwarnings("ignore")
def test_measured_reflectances_are_held_against_readings_without_a_guess(tmp_path):
    nm = np.arange(380, 731, 10)
    # Two dyes with a step each, which the smoothest spectrum of their sRGB has not.
    sea = 0.08 + 0.5 * np.exp(-(((nm - 490) / 30) ** 2)) + 0.25 * (nm > 670)
    rust = 0.06 + 0.55 / (1 + np.exp(-(nm - 600) / 6))
    colours = [NamedColour("Sea", reflectance=sea), NamedColour("Rust", reflectance=rust)]
    spec = Colourway(NamedColour("Cotton", reflectance=np.full(36, 0.85)), colours, 0.8, "woven")
    path = measure_spectra(tmp_path / "r.csv", spec, spec, "A", 10, ("A", 10))
    result = check_strike_off(spec, path)
    assert result.passed
    assert max(check.de2000 for check in result.checks) < 0.35
    assert "mixed of measured spectra" in result.basis
    assert result.cautions == ()
    guessed = spec.with_(stripes=[NamedColour(one.name, one.rgb) for one in colours])
    assert not check_strike_off(guessed, path).passed


@pytest.mark.filterwarnings("ignore")
@pytest.mark.parametrize("mixing", ["woven", "pigment", "ink"])
@pytest.mark.parametrize(
    ("cause", "change"),
    [
        ("strength", {"strength": 0.6}),
        ("ground", {"ground": "#eadcb8"}),
        ("stripe 1", {"stripes": ["#3f61c0", "#b8374f"]}),
    ],
)
def test_causes_are_found_under_a_light_that_moves_vivid_colours(tmp_path, mixing, cause, change):
    """Shifts are brought to D65 tone by tone: a vivid blue moves otherwise under A."""
    spec = Colourway("#f6f1e4", ["#3f6fb0", "#b8374f"], 0.7, mixing)
    path = measure_spectra(tmp_path / "r.csv", spec, spec.with_(**change), "A", 2, ("A", 2))
    result = check_strike_off(spec, path)
    assert result.diagnosis.named[0].name == cause
    assert result.diagnosis.verdict == "one"


@pytest.mark.filterwarnings("ignore")
@pytest.mark.parametrize(
    ("made", "stated", "cause"),
    [
        (("D65", 2), ("D65", 10), "observer"),
        (("A", 10), ("D65", 10), "illuminant"),
        (("D65", 10), ("F11", 10), "illuminant"),
        (("D65", 2), ("A", 10), "conditions"),
    ],
)
def test_a_mix_up_of_lights_or_observers_is_caught_by_spectra(tmp_path, made, stated, cause):
    path = measure_spectra(tmp_path / "r.csv", WOVEN, WOVEN, *made, stated)
    result = check_strike_off(WOVEN, path)
    assert result.diagnosis.named[0].name == cause
    assert result.explanation.startswith("Settle light and observer first")
    assert any(f"said to be under {stated[0]}/{stated[1]}°" in one for one in result.cautions)


@pytest.mark.filterwarnings("ignore")
def test_a_cloth_of_yarn_cards_is_held_against_what_its_surface_gives_back(tmp_path):
    lines = ["tone,L*,a*,b*,illuminant,observer"]
    for tone in WOVEN.unique_tones:
        lab = srgb_to_lab(WOVEN.tones[tone.warp, tone.weft])
        xyz = [v * 0.85 for v in Color("lab-d65", lab.tolist()).convert("xyz-d65").coords()]
        cells = ",".join(f"{v:.3f}" for v in Color("xyz-d65", xyz).convert("lab-d65").coords())
        lines.append(f"{WOVEN.tone_label(tone.warp, tone.weft)},{cells},D65,2")
    path = tmp_path / "r.csv"
    path.write_text("\n".join(lines), "utf-8")
    assert not check_strike_off(WOVEN, path).passed
    result = check_strike_off(WOVEN, path, texture=TextureFactor(0.85))
    assert result.passed
    assert max(check.de2000 for check in result.checks) < 0.05
    assert "gives back 85 %" in result.basis
    with pytest.raises(ArgumentError) as caught:
        check_strike_off(WOVEN, path, texture=TextureFactor(0.85), standard=path)
    assert caught.value.argument == "texture"
    # Under another light, by spectra.
    spectra = measure_spectra(tmp_path / "s.csv", WOVEN, WOVEN, "D65", 10, ("D65", 10))
    assert not check_strike_off(WOVEN, spectra, texture=TextureFactor(0.7)).passed


def test_a_shift_from_an_approved_standard_is_explained_too(tmp_path):
    # The approved standard itself is off the specification; the shift is what counts.
    approved = measure(tmp_path / "s.csv", SPEC.with_(ground="#efe8da"), observer=10)
    strike = measure(tmp_path / "r.csv", SPEC.with_(ground="#efe8da", strength=0.58), observer=10)
    result = check_strike_off(SPEC, strike, standard=approved)
    assert result.causes[0].name == "strength"
    assert result.causes[0].numbers[0] == pytest.approx(0.58, abs=0.02)


def test_a_standard_that_lacks_a_tone_is_refused(tmp_path):
    approved = measure(tmp_path / "s.csv", SPEC, only=3)
    with pytest.raises(ArgumentError) as caught:
        check_strike_off(SPEC, measure(tmp_path / "r.csv", SPEC), standard=approved)
    assert caught.value.argument == "standard"


def test_a_tone_exactly_on_the_tolerance_passes(tmp_path):
    path = measure(tmp_path / "r.csv", SPEC.with_(strength=0.6))
    worst = max(check_strike_off(SPEC, path).checks, key=lambda check: check.cmc)
    assert check_strike_off(SPEC, path, tolerance=worst.cmc).passed
    assert not check_strike_off(SPEC, path, tolerance=np.nextafter(worst.cmc, 0)).passed


@pytest.mark.parametrize("tolerance", [0, -1, 21, "one"])
def test_a_tolerance_out_of_range_is_refused(tmp_path, tolerance):
    with pytest.raises(ArgumentError) as caught:
        check_strike_off(SPEC, measure(tmp_path / "r.csv", SPEC), tolerance=tolerance)
    assert caught.value.argument == "tolerance"


def test_a_stray_tone_is_refused_with_its_line(tmp_path):
    path = measure(tmp_path / "r.csv", SPEC)
    with path.open("a") as stream:
        stream.write("teal on white,50,0,0,D65,2\n")
    with pytest.raises(FileFormatError) as caught:
        check_strike_off(SPEC, path)
    fault = caught.value
    assert (fault.argument, fault.found, fault.line) == ("tone", "teal on white", 41)


def test_a_difference_that_rounds_to_nothing_has_no_minus():
    lab = (50.0, -0.04, 0.0)
    check = ToneCheck("white", (0, 0), lab, lab, 1, 0.0, 0.0, 0.0, -0.004, 0.004, -0.0, "", True)
    assert [text for text in check.row() if "-0" in text] == []
    assert check.row()[5:8] == ("+0.00",) * 3


def test_html_is_escaped_and_says_fail_in_words(tmp_path):
    spec = Colourway(NamedColour("<b>white</b>", (1, 1, 1)), ["navy"])
    path = measure(tmp_path / "r.csv", spec.with_(strength=0.7), spec=spec)
    html = check_strike_off(spec, path)._repr_html_()
    assert "<b>white" not in html
    assert "FAIL" in html


def test_a_form_half_filled_with_columns_of_its_own_is_read_and_says_so(tmp_path):
    spec = Colourway("white", ["navy"], 0.5)
    lab = srgb_to_lab(spec.tones[1, 0]).round(2).tolist()
    path = tmp_path / "half.csv"
    path.write_text(
        "Sample;Date;L;a;b;Light;Observer\n"
        f"navy on white;4 May;{lab[0]};{lab[1]};{lab[2]};D65;2\n"
        "white;4 May;;;;D65;2\n",
        "utf-8",
    )
    result = check_strike_off(spec, path)
    assert str(result).endswith("1 of 3 tones measured, all pass at CMC(2:1) 1")
    assert result.missing == ("white", "navy over navy")
    assert "Lines without figures were passed over: 3." in result.cautions
    assert "Columns not used: date." in result.cautions
    html = result._repr_html_()
    # The verdict comes before the figures.
    assert html.index("1 of 3 tones measured") < html.index("<table")


def test_a_tone_that_is_not_there_is_answered_with_names_as_they_are_written(tmp_path):
    path = tmp_path / "r.csv"
    path.write_text("tone,L,a,b,illuminant,observer\nJam/Milk,50,0,0,D65,2\n", "utf-8")
    spec = Colourway(NamedColour.of("white", "Milk"), [NamedColour.of("crimson", "Jam")])
    with pytest.raises(FileFormatError, match="'Jam on Milk'") as caught:
        check_strike_off(spec, path)
    assert (caught.value.argument, caught.value.line) == ("tone", 2)


@pytest.mark.parametrize("value", [5, None, b"readings.csv", ["r.csv"], ""])
def test_readings_that_are_no_path_are_refused_by_the_name_of_the_argument(tmp_path, value):
    with pytest.raises(ArgumentError) as caught:
        check_strike_off(SPEC, value)
    assert caught.value.argument == "readings"
    if value is not None:
        with pytest.raises(ArgumentError) as caught:
            check_strike_off(SPEC, measure(tmp_path / "r.csv", SPEC), standard=value)
        assert caught.value.argument == "standard"


def test_a_specification_that_is_no_colourway_is_refused(tmp_path):
    with pytest.raises(ArgumentError) as caught:
        check_strike_off("white", measure(tmp_path / "r.csv", SPEC))
    assert caught.value.argument == "colourway"
