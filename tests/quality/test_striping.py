"""The caution on striping: arithmetic against the table, wording that never clears."""

from __future__ import annotations

import csv
from pathlib import Path

import numpy as np
import pytest

from checkcloth.cloth.bands import Band
from checkcloth.cloth.check import Check
from checkcloth.cloth.colourway import Colourway
from checkcloth.colour.difference import relative_luminance
from checkcloth.errors import ArgumentError, LengthError
from checkcloth.quality import cycles_per_degree, striping

GOLD = Path(__file__).resolve().parents[1] / "gold" / "analysis"


def table() -> list[dict[str, str]]:
    lines = (GOLD / "cycles_per_degree.csv").read_text("utf-8").splitlines()
    return list(csv.DictReader(line for line in lines if not line.startswith("# ")))


@pytest.mark.parametrize("row", table(), ids=lambda row: row["inches"])
def test_cycles_a_degree(row):
    for distance, column in (("400 mm", "at_400_mm"), ("100 cm", "at_1_m")):
        found = cycles_per_degree(f"{row['inches']} in", distance)
        assert found == pytest.approx(float(row[column]), abs=5.1e-3)


@pytest.mark.parametrize(("inches", "metres"), [("1/16", 0.55), ("1/4", 2.18), ("1", 8.73)])
def test_the_distance_at_which_a_check_has_three_cycles(inches, metres):
    assert cycles_per_degree(f"{inches} in", f"{metres * 100:.0f} cm") == pytest.approx(3, abs=0.03)


def bold(size: str = "1/8 in") -> tuple[Colourway, Check]:
    return Colourway("white", ["black"], 1), Check(size, 1)


def test_the_consensus_is_named_when_its_figures_are_reached():
    result = striping(*bold(), "100 cm", illuminance=500)
    text = " ".join(result.cautions)
    assert "Harding et al. 2005" in text
    assert "Wilkins et al. 1984" in text  # 2.75 cycles a degree
    assert result.pairs == 157


def test_five_and_eight_pairs():
    # 8 pairs of 2 × 10 mm in 160 mm, 6 in 120 mm: at most 8 if still, at most 5 if not.
    for width, still, hazard in (
        ("180 mm", True, True), ("160 mm", True, False), ("120 mm", False, True),
        ("100 mm", False, False),
    ):  # fmt: skip
        result = striping(
            *bold("10 mm"), "40 cm", width=width, height=width, illuminance=1000, still=still
        )
        assert any("Harding et al." in caution for caution in result.cautions) == hazard, width


def test_a_piece_small_in_sight_or_dim_is_below_the_figures_but_not_cleared():
    # Harding: 0.006 sr is a square of 31 mm at 400 mm (derived).
    small = striping(*bold("1 mm"), "400 mm", width="30 mm", height="30 mm", illuminance=500)
    assert small.steradians == pytest.approx(0.0056, abs=1e-4)
    assert not any("Harding" in caution for caution in small.cautions)
    dim = striping(*bold(), "100 cm", illuminance=100)
    assert dim.brightest == pytest.approx(0.5 * 100 / np.pi, rel=0.05)
    assert not any("Harding" in caution for caution in dim.cautions)
    for result in (small, dim):
        assert "not a clearance" in str(result)
        assert "not a clearance" in result._repr_html_()
        assert "local codes" in result._repr_html_()


def test_no_wording_ever_clears():
    faint = striping(Colourway("white", ["snow"], 0.1), Check("40 mm", 1), "40 cm", illuminance=10)
    page = (str(faint) + faint._repr_html_()).lower()
    assert "not a clearance" in page
    for word in ("is safe", "harmless", "approved", "no risk", "no hazard"):
        assert word not in page


def test_unstated_light_counts_as_bright_and_is_said():
    result = striping(*bold(), "100 cm")
    assert any("the light was not stated" in caution for caution in result.cautions)


def test_solid_angle_equals_a_sum_over_small_pieces():
    result = striping(*bold(), "50 cm", width="80 cm", height="40 cm")
    x = (np.arange(800) + 0.5) - 400
    y = (np.arange(400) + 0.5) - 200
    r2 = x[:, None] ** 2 + y[None, :] ** 2 + 500.0**2
    assert result.steradians == pytest.approx(float((500 / r2**1.5).sum()), rel=1e-4)


# Bands of other widths than the even check has, and two stripes side by side.
UNEVEN = Check("1 cm", 2, warp=[Band(1, 3), Band(2, 1), Band(0, 2), Band(2, 1), Band(0, 5)])


@pytest.mark.parametrize("check", [Check("1 cm", 2), UNEVEN], ids=["even", "uneven"])
@pytest.mark.parametrize("mixing", ["source-over", "multiply"])
def test_bands_are_those_of_the_drawn_cloth(check, mixing):
    colourway = Colourway("white", ["navy", "gold"], 0.6, mixing, warp_share=0.7)
    plan = check.plan()
    drawn = relative_luminance(colourway.tones)[np.ix_(plan, plan)]
    bands = np.concatenate([drawn.mean(axis=0), drawn.mean(axis=1)])
    contrast = (bands.max() - bands.min()) / (bands.max() + bands.min())
    result = striping(colourway, check, "1 cm", illuminance=1000)
    assert result.contrast == pytest.approx(float(contrast), abs=1e-12)
    assert result.brightest == pytest.approx(float(bands.max()) * 1000 / np.pi, rel=1e-12)
    # Two neighbouring bands are a pair: counted on the drawn piece, seam included.
    piece = np.tile(plan, 5)
    borders = np.count_nonzero(np.diff(piece)) + (piece[0] != piece[-1])
    width = f"{len(piece)} cm"
    assert striping(colourway, check, "1 cm", width=width, height="1 cm").pairs == borders // 2
    degree = 2 * 500 * np.tan(np.radians(0.5))  # cm of cloth in one degree, from 5 m
    far = striping(colourway, check, "500 cm")
    assert far.cycles == pytest.approx(degree / (2 * len(piece) / borders), rel=1e-12)


def test_a_caution_looks_at_every_pair_of_neighbouring_bands():
    # Two bands of 1 and 5 cm apart from the others are 3 pairs a degree at 10.3 m, whatever
    # the mean over the repeat.
    colourway = Colourway("white", ["black", "black"])
    distance = 3 * 6 / (2 * np.tan(np.radians(0.5)))
    result = striping(colourway, UNEVEN, f"{distance:.6f} cm")
    assert any("3.00 light–dark pairs a degree" in caution for caution in result.cautions)


def test_a_check_of_another_number_of_stripes_is_refused():
    with pytest.raises(ArgumentError) as caught:
        striping(Colourway("white", ["navy", "gold"]), Check("1 cm", 1), "1 m")
    assert caught.value.argument == "check"


@pytest.mark.parametrize(
    ("distance", "arguments", "kind"),
    [
        ("40", {}, LengthError),
        ("0 mm", {}, ArgumentError),
        ("40 cm", {"width": "0 mm"}, ArgumentError),
        ("40 cm", {"illuminance": -1}, ArgumentError),
    ],
)
def test_bad_arguments_are_refused(distance, arguments, kind):
    with pytest.raises(kind):
        striping(*bold(), distance, **arguments)


def test_the_lightest_tone_counts_where_no_band_is_so_bright():
    """A white tone in a band that is half black: the band stays under 50 cd/m², the tone not."""
    cloth = Colourway("white", ["black"], 1.0)
    result = striping(cloth, Check("1/16 in", 1), "400 mm", illuminance=250)
    assert result.brightest < 50 < result.brightest_tone == pytest.approx(250 / np.pi)
    assert any("or tone above 50" in caution for caution in result.cautions)
    assert result.tone_contrast == pytest.approx(1)


def test_a_check_that_cannot_be_seen_draws_no_caution():
    plain = striping(Colourway("#808080", ["#818181"], 0.5), Check("1/16 in", 1), "400 mm")
    assert 0 < plain.tone_contrast < 0.01
    assert plain.cautions == ()
    seen = striping(Colourway("#808080", ["#909090"], 0.5), Check("1/16 in", 1), "400 mm")
    assert seen.cautions
