"""Plates by a print condition's own curves, and a strike-off of what it prints."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from coloraide import Color

import checkcloth
from checkcloth.cloth.check import Check
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.named_colour import NamedColour
from checkcloth.colour.inked import Inked
from checkcloth.colour.print_condition import PrintCondition
from checkcloth.colour.spaces import srgb_to_lab
from checkcloth.errors import ArgumentError
from checkcloth.export.paper.specification import save_spec_sheet
from checkcloth.export.print.films import film_png
from checkcloth.export.print.inked import condition_plates
from checkcloth.export.print.separations import separations_pdf, tint_curve
from checkcloth.quality import Readings, check_strike_off, write_blank_readings
from checkcloth.quality.readings import Reading

PAPER = np.array([0.84, 0.87, 0.72])
SOLIDS = {"brick": np.array([0.20, 0.12, 0.05]), "sage": np.array([0.25, 0.30, 0.20])}


def ramp(solid, gain):
    """Tints whose dots cover α + 4·gain·α(1−α), light adding by area in XYZ^½."""
    tints = []
    for alpha in (0.25, 0.5, 0.75):
        area = alpha + 4 * gain * alpha * (1 - alpha)
        tints.append((alpha, ((1 - area) * np.sqrt(PAPER) + area * np.sqrt(solid)) ** 2))
    return tints


HALT = PrintCondition(
    PAPER,
    SOLIDS,
    {("brick", "sage"): [0.10, 0.08, 0.04]},
    {"brick": ramp(SOLIDS["brick"], 0.10), "sage": ramp(SOLIDS["sage"], 0.02)},
    name="Halt press",
)
DESIGN = Inked(HALT, [{"brick": 0.5}, {"sage": 0.3, "brick": 0.1}])


def test_curves_are_each_inks_own_and_go_back():
    # The ramps were made with these areas.
    assert HALT.area_of("brick", 0.5) == pytest.approx(0.6, abs=1e-6)
    assert HALT.area_of("sage", 0.5) == pytest.approx(0.52, abs=1e-6)
    for ink in SOLIDS:
        values = np.linspace(0, 1, 21).reshape(3, 7)
        assert HALT.tone_value_for(ink, HALT.area_of(ink, values)) == pytest.approx(values)
    with pytest.raises(ArgumentError) as caught:
        HALT.area_of("teal", 0.5)
    assert caught.value.argument == "ink"


def test_plates_of_inks_print_what_the_condition_does():
    plates = condition_plates(DESIGN)
    assert [plate.name for plate in plates.plates] == ["brick", "sage"]
    brick, sage = (plate.cover for plate in plates.plates)
    assert brick[1, 2] == pytest.approx(1 - 0.5 * 0.9)
    assert sage[1, 2] == pytest.approx(0.3)
    assert plates.composite() == pytest.approx(DESIGN.tones)
    for name in ("Halt press", "ramps and overprints", "increase at 50 % (brick "):
        assert name in plates.rule
    xyz = HALT.predict({"brick": 0.55, "sage": 0.3}).xyz
    assert DESIGN.xyz[1, 2] == pytest.approx(xyz)
    lab = Color("xyz-d50", xyz.tolist()).convert("lab").coords()
    assert DESIGN.lab[1, 2] == pytest.approx(lab, abs=0.01)
    film = film_png(plates, 0, Check("1/4 in", 2), 100)
    assert film.startswith(b"\x89PNG")


def test_separations_show_tints_as_the_condition_prints_them():
    plates = condition_plates(DESIGN)
    assert separations_pdf(plates, Check("1/4 in", 2)).count(b"/Separation /brick") == 1
    curve = tint_curve(plates, 0)
    for at in (0, 8, 16, 32):
        shown = HALT.predict({"brick": at / 32}).rgb
        assert curve[at] == pytest.approx(srgb_to_lab(shown), abs=1e-6)


def named(mixing, strength=0.5):
    brick, sage = (NamedColour(name, (0.5, 0.3, 0.2)) for name in ("Brick", "sage"))
    return Colourway("white", [brick, sage], strength, mixing)


def test_a_colourway_in_ink_goes_by_the_conditions_curves():
    plates = condition_plates(named("ink", 0.4), HALT)
    same = Inked(HALT, [{"brick": 0.4}, {"sage": 0.4}])
    assert plates.composite() == pytest.approx(same.tones)
    assert plates.plates[0].cover[1, 1] == pytest.approx(1 - 0.6**2)


@pytest.mark.parametrize("mixing", ["woven", "source-over", "multiply"])
def test_tints_of_shares_are_corrected_so_that_dots_cover_them(mixing):
    cloth = named(mixing)
    plain = condition_plates(cloth, HALT)
    assert "corrected by the measured curves of Halt press" in plain.rule
    for plate in plain.plates:
        ink = "brick" if plate.name.lower().startswith("brick") else "sage"
        inside = (plate.cover > 0) & (plate.cover < 1)
        assert (HALT.area_of(ink, plate.cover)[inside] > plate.cover[inside]).all()
    assert plain.composite() == pytest.approx(cloth.tones, abs=1e-6)


def test_another_weft_has_its_own_tints():
    design = Inked(HALT, [{"brick": 0.5}], {"sage": 0.1}, [{"sage": 0.6}])
    assert design.tone_values.shape == (2, 2, 2)
    assert design.tone_values[1, 1] == pytest.approx([0.5, 1 - 0.4 * 0.9])
    cloth = Colourway.of_inks(design, "Quay")
    assert cloth.ground.name == "sage 10 %"
    assert cloth.weft_stripes[0].name == "sage 60 %"
    assert cloth.tones[1, 0] == pytest.approx(design.tones[1, 0], abs=1e-6)
    assert cloth.stock.name == "Halt press"


def readings_of(design, light="D50", observer=2, *, shift=0.0):
    cloth = Colourway.of_inks(design)
    found = []
    for tone in cloth.unique_tones:
        lab = design.lab[tone.warp, tone.weft]
        if light == "D65":
            lab = np.array(Color("lab", lab.tolist()).convert("lab-d65").coords())
        label = cloth.tone_label(tone.warp, tone.weft)
        found += [Reading(label, tuple((lab + np.array([shift, 0, 0])).tolist()), 1)] * 2
    return Readings("r.csv", light, observer, tuple(found))


@pytest.mark.parametrize("light", ["D50", "D65"])
def test_a_strike_off_is_held_against_what_the_condition_prints(light):
    result = check_strike_off(DESIGN, readings_of(DESIGN, light))
    assert result.passed
    assert max(check.de2000 for check in result.checks) < 0.02
    assert "Halt press, from ramps and overprints" in result.basis
    assert not check_strike_off(DESIGN, readings_of(DESIGN, light, shift=4)).passed
    more = Inked(HALT, [{"brick": 0.62}, {"sage": 0.42, "brick": 0.13}])
    labels = [r.tone for r in readings_of(DESIGN).readings]
    off = [Reading(label, r.lab, 1) for label, r in zip(labels, readings_of(more).readings,
                                                        strict=True)]  # fmt: skip
    assert not check_strike_off(DESIGN, Readings("r.csv", "D50", 2, tuple(off))).passed


@pytest.mark.parametrize(("light", "observer"), [("F11", 2), ("D50", 10)])
def test_a_condition_is_of_d50_and_two_degrees(light, observer):
    with pytest.raises(ArgumentError) as caught:
        check_strike_off(DESIGN, readings_of(DESIGN, light, observer))
    assert caught.value.argument == "readings"


def test_the_specification_says_which_condition(tmp_path):
    from pypdf import PdfReader

    path = save_spec_sheet(Colourway.of_inks(DESIGN), Check("1/4 in", 2), tmp_path / "a.pdf")
    text = PdfReader(path).pages[0].extract_text()
    assert "Halt press (tone value increase" in " ".join(text.split())


@pytest.mark.parametrize(
    ("act", "argument"),
    [
        (lambda: Inked(HALT, []), "stripes"),
        (lambda: Inked(HALT, [{"teal": 0.5}]), "stripes[1]"),
        (lambda: Inked(HALT, [{"brick": 50}]), "stripes[1]"),
        (lambda: Inked(HALT, [0.5]), "stripes"),
        (lambda: Inked("Halt", [{"brick": 0.5}]), "condition"),
        (lambda: condition_plates(named("woven")), "condition"),
        (lambda: condition_plates(Colourway("white", ["navy"]), HALT), "stripes"),
    ],
)
def test_bad_input(act, argument):
    with pytest.raises(ArgumentError) as caught:
        act()
    assert caught.value.argument == argument


def test_a_condition_given_as_a_stock_says_where_it_belongs():
    shop = PrintCondition([0.82, 0.85, 0.70], {"brick": [0.20, 0.12, 0.06]}, name="Halt press")
    with pytest.raises(ArgumentError, match="see Inked") as caught:
        Colourway("white", ["firebrick"], mixing="ink", stock=shop)
    assert caught.value.argument == "stock"
    assert checkcloth.Inked is Inked


def test_an_inked_design_has_a_form_and_its_strike_off_says_what_rests_on_what(tmp_path):
    form = write_blank_readings(DESIGN, tmp_path / "form.csv", readings=1)
    tones = [line.split(",")[0] for line in form.read_text("utf-8").splitlines()[1:]]
    assert tones == [tone.name for tone in sorted(
        Colourway.of_inks(DESIGN).unique_tones, key=lambda t: (t.warp > 0) + (t.weft > 0)
    )]  # fmt: skip
    result = check_strike_off(DESIGN, readings_of(DESIGN, "D50"))
    said = " ".join(result.cautions)
    assert "What was wanted is what the condition prints" in said
    assert "what the tones were wanted to be" not in said
    # The notebook's own press and its strike-off.
    data = Path(__file__).resolve().parents[3] / "notebooks" / "data"
    press = PrintCondition.from_cgats(data / "halt-press-chart.txt")
    assert press.basis == "ramps and overprints"
    proof = check_strike_off(
        Inked(press, [{"Brick": 0.6}, {"Leaf": 0.5}]), data / "strike-off-halt-press.csv"
    )
    failed = {check.tone for check in proof.checks if not check.passed}
    assert failed == {check.tone for check in proof.checks if "Leaf" in check.tone}
    assert "stripe 2, Leaf 50 %" in proof.explanation
