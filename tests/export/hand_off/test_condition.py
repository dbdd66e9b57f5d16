"""A hand-off by a measured print condition and for a CMYK press, as a printer opens it."""

from __future__ import annotations

import csv
import io
import json
from pathlib import Path

import numpy as np
import pytest
from icc_maker import make_press_profile
from PIL import Image
from pypdf import PdfReader

from checkcloth import Check, ChosenSet, Colourway, Inked, NamedColour, PrintCondition, hand_off
from checkcloth.errors import ArgumentError
from checkcloth.export.hand_off.foretell import foretell
from checkcloth.export.picture.raster import tile_name
from checkcloth.export.print.inked import condition_plates, plates_by, without_curves
from checkcloth.export.print.press import open_press

PAPER = np.array([0.84, 0.87, 0.72])
SOLIDS = {"brick": np.array([0.20, 0.12, 0.05]), "sage": np.array([0.25, 0.30, 0.20])}
GAINS = {"brick": 0.10, "sage": 0.02}


def printed(alpha, gain):
    """What a tint covers: its tone value and four times the gain at its middle."""
    return alpha + 4 * gain * alpha * (1 - alpha)


def ramp(ink):
    areas = {alpha: printed(alpha, GAINS[ink]) for alpha in np.arange(1, 20) / 20}
    root, solid = np.sqrt(PAPER), np.sqrt(SOLIDS[ink])
    return [(alpha, ((1 - area) * root + area * solid) ** 2) for alpha, area in areas.items()]


HALT = PrintCondition(PAPER, SOLIDS, {("brick", "sage"): [0.10, 0.08, 0.04]},
                      {ink: ramp(ink) for ink in SOLIDS}, name="Halt press")  # fmt: skip
BRICK, SAGE = (NamedColour(name, (0.5, 0.3, 0.2)) for name in ("Brick", "sage"))
SET = ChosenSet(
    Check("1/4 in", 2),
    [
        Colourway("white", [BRICK, SAGE], 0.5, "woven", name="Quay"),
        Colourway("white", ["navy", SAGE], 0.5, "woven", name="Reef"),
        Colourway("white", [BRICK, SAGE], 0.4, "ink", name="Slip"),
    ],
    "Counter cloths",
)


@pytest.fixture(scope="module")
def press():
    return open_press(make_press_profile())


@pytest.fixture(scope="module")
def folder(tmp_path_factory, press):
    place = tmp_path_factory.mktemp("hand-off") / "out"
    hand_off(SET, None, place, dpi=100, plates="colours", condition=HALT, press=press)
    return place


def test_what_the_films_carry_covers_in_print_what_is_wanted(folder):
    """By the equation that the ramps were made with, and not by the kit's own curves."""
    rows = list(csv.DictReader(io.StringIO(
        (folder / "colourways" / "Quay" / "Quay-plates.csv").read_text("utf-8-sig")
    )))  # fmt: skip
    # Woven at 0.5, balanced: a single carries a quarter of its ink, a crossing a quarter of each.
    for row in rows:
        gain = GAINS[row["plate" if row["plate"] in SOLIDS else "ink"].casefold()]
        alike = row["warp"] == row["weft"]
        carried = float(row["coverage %"]) / 100
        assert printed(carried, gain) == pytest.approx(0.5 if alike else 0.25, abs=0.002)
        assert carried < (0.5 if alike else 0.25) - gain / 10
    film = sorted((folder / "colourways" / "Quay" / "plates").glob("*.png"))[0]
    greys = np.unique(np.asarray(Image.open(film).convert("L")))
    least = min(float(row["coverage %"]) for row in rows if row["ink"].casefold() == "brick")
    assert round(255 - 2.55 * least) in greys


def test_mixing_ink_goes_by_the_condition_itself(folder):
    with (folder / "colourways" / "Slip" / "Slip-plates.csv").open(encoding="utf-8-sig") as stream:
        rows = list(csv.DictReader(stream))
    found = {float(row["coverage %"]) for row in rows}
    assert found == {40.0, 64.0}  # a stripe over itself: 1 − 0.6²
    (page,) = PdfReader(folder / "colourways" / "Slip" / "Slip-plates.pdf").pages
    names = {space.get_object()[1] for space in page["/Resources"]["/ColorSpace"].values()}
    assert names == {"/brick", "/sage"}


def test_every_page_says_which_condition_and_which_one_goes_without(folder):
    manifest = json.loads((folder / "manifest.json").read_text("utf-8"))
    assert manifest["condition"] == HALT.words
    shows = {one["file"]: one["shows"] for one in manifest["files"]}
    assert "curves of Halt press" in shows["colourways/Quay/Quay-plates.pdf"]
    note = "Not by the curves of Halt press: navy is none of its inks, which are brick, sage"
    assert note in shows["colourways/Reef/Reef-plates.pdf"]
    assert note in PdfReader(folder / "colourways/Reef/Reef-plates.pdf").metadata["/Subject"]
    assert note not in shows["colourways/Slip/Slip-plates.pdf"]
    pages = [" ".join(page.extract_text().split()) for page in
             PdfReader(folder / "specification.pdf").pages]  # fmt: skip
    for page, without in zip(pages, (False, True, False), strict=True):
        assert (note in page) is without
        assert ("Halt press, from ramps and overprints" in page) is not without
    text = (folder / "preflight.html").read_text("utf-8")
    assert "inks of Halt press: brick, sage" in text
    assert "no inks of it: the plates go without its curves" in text


def test_what_goes_without_has_the_plates_that_it_has_alone(folder, tmp_path):
    hand_off(SET, None, tmp_path / "out", dpi=100, plates="colours", paper=None)
    for name in ("Reef-01-navy", "Reef-02-sage"):
        films = [Image.open(place / "colourways" / "Reef" / "plates" / f"{name}.png")
                 for place in (folder, tmp_path / "out")]  # fmt: skip
        np.testing.assert_array_equal(*map(np.asarray, films))


def test_stripes_called_by_tints_are_printed_so():
    """A colourway of inks, saved and opened with any names, is the design that it was made of."""
    design = Inked(HALT, [{"brick": 0.5}, {"sage": 0.3, "brick": 0.1}], {"sage": 0.1})
    cloth = Colourway.of_inks(design, "Quay")
    assert without_curves(cloth, HALT) == []
    for found, wanted in zip(
        plates_by(cloth, "colours", HALT).plates, condition_plates(design).plates, strict=True
    ):
        assert found.name == wanted.name
        assert found.cover == pytest.approx(wanted.cover)
    assert without_curves(cloth.with_(mixing="woven", stock=""), HALT) != []
    tints = [
        NamedColour(name, (0.5, 0.3, 0.2)) for name in ("brick 50 %", "navy 9 %", "sage 101 %")
    ]
    missing = without_curves(Colourway("white", tints, 1.0, "ink"), HALT)
    assert missing == ["navy 9 %", "sage 101 %"]


def test_it_is_foretold(tmp_path, press):
    told = foretell(SET, None, tmp_path / "out", plates="colours", condition=HALT, press=press,
                    measure=False)  # fmt: skip
    words = [one.words for one in told.cautions if "Halt press" in one.words]
    assert words == ["Not every stripe of Reef is an ink of Halt press: their plates go without "
                     "its curves"]  # fmt: skip
    notes = [name for name, one in told.preflight.notes if one.item == "print condition"]
    assert notes == ["Reef"]


def test_tiles_are_there_in_the_inks_of_the_press(folder, press):
    lead = folder / "colourways" / "Quay" / f"Quay-tile-{tile_name(SET.check, 100)}"
    image, screen = (
        Image.open(io.BytesIO(Path(f"{lead}{end}").read_bytes())) for end in ("-cmyk.tif", ".png")
    )
    assert (image.mode, image.size) == ("CMYK", screen.size)
    assert image.info["icc_profile"] == press.profile
    text = (folder / "preflight.html").read_text("utf-8")
    assert f"TIFF in CMYK, by {press.name}" in text
    assert "file size, CMYK TIFF" in text


@pytest.mark.parametrize(
    ("more", "argument"),
    [({"condition": "halt.txt", "plates": "colours"}, "condition"),
     ({"condition": HALT}, "plates"), ({"condition": HALT, "plates": "tones"}, "plates")],
)  # fmt: skip
def test_wrong_wishes(tmp_path, more, argument):
    with pytest.raises(ArgumentError) as caught:
        hand_off(SET, None, tmp_path / "out", **more)
    assert caught.value.argument == argument
    assert not list(tmp_path.iterdir())
