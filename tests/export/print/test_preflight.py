"""Pre-flight: every note has its reason and its number, by plain arithmetic."""

from __future__ import annotations

import csv
import io

import pytest

from checkcloth import Check, ChosenSet, Colourway, tile_png
from checkcloth.errors import CheckclothError
from checkcloth.export.print.preflight import BASIS, Limits, preflight

QUAY = Colourway("white", ["navy", "teal"], 0.7, name="Quay")
# A check of 1 cm with two stripes: a repeat of 4 cm, 160 times round 64 m … 16 times in 64 cm.
CHECK = Check("1 cm", 2)


def found(colourway=QUAY, check=CHECK, **more):
    (rows,) = preflight(colourway, check, **more).findings
    return {row.item: row for row in rows}


def test_what_is_in_order_passes():
    rows = found(dpi=254, limits=Limits(cloth_width="160 cm"), sett="24 per cm")
    assert [row.item for row in rows.values() if not row.passes] == []
    assert rows["resolution"].found == "254 dpi"
    assert rows["pixels"].found == "400 × 400"
    assert rows["repeat round a rotary screen"].found.startswith("16 repeats come to 64 cm")
    assert rows["repeat across the cloth"].found.startswith("40 repeats")
    assert rows["narrowest band"].found == "24 threads at 24 per cm"
    assert len(tile_png(QUAY, CHECK, 254)) < 1000
    assert rows["file size"].found == "under 1 kB at 254 dpi"
    assert all(not row.reason for row in rows.values())


@pytest.mark.parametrize(
    ("item", "reason", "more"),
    [
        ("resolution", "too coarse", {"dpi": 127}),
        ("resolution", "finer", {"dpi": 1270}),
        ("colour space", "profile", {"limits": Limits(colour_space="CMYK")}),
        ("file size", "lower", {"limits": Limits(megabytes=1e-6)}),
        ("pixels", "lower", {"dpi": 254, "limits": Limits(side=399)}),
        # 150 cm are 37 repeats of 4 cm and 2 cm.
        ("repeat across the cloth", "2 cm left over", {}),
        ("repeat round a rotary screen", "1.0250 times", {"limits": Limits(screens=["82 cm"])}),
        ("strike-off", "less than a repeat", {"limits": Limits(strike_off="3 cm")}),
        ("narrowest band", "too narrow", {"sett": "1 per cm"}),
        ("tones apart", "under it", {"limits": Limits(difference=60)}),
    ],
)
def test_each_note_says_why(item, reason, more):
    row = found(**more)[item]
    assert not row.passes
    assert reason in row.reason


def test_a_band_of_part_of_a_check_is_what_is_woven():
    narrow = Check("1 cm", 2, warp="1/4 A, 1 ground, 1 B, 1 ground")
    assert found(check=narrow, sett="6 per cm")["narrowest band"].found == "1.5 threads at 6 per cm"


def test_every_colourway_of_a_set_is_looked_at_and_told():
    kept = ChosenSet(CHECK, [QUAY, QUAY.with_(stripes=["navy"], name="=<b>1")])
    made = preflight(kept, dpi=254)
    rows = list(csv.DictReader(io.StringIO(made.csv(), newline="")))
    assert len(rows) == sum(map(len, made.findings)) == 16
    assert {row["verdict"] for row in rows} == {"pass", "note"}
    assert len(made.notes) == sum(row["verdict"] == "note" for row in rows)
    page = made.page_html()
    assert "<b>1" not in page
    assert BASIS in made._repr_html_()
    assert page.startswith("<!doctype html>")
    assert "common practice" in BASIS


def test_resolutions_that_come_to_one_are_looked_at_once():
    fine = Check("1/16 in", 2)  # 1/4 in is whole pixels at 152 dpi
    made = preflight(QUAY, fine, dpi=[149, 150, 152])
    assert [names for one, names in made.grouped() if one.item == "resolution"] == [("Quay",)]


def test_sizes_of_files_are_in_units_for_people():
    large = found(check=Check("20 cm", 2), dpi=600)["file size"]
    exact = len(tile_png(QUAY, Check("20 cm", 2), 600))
    number, unit = large.found.split()[:2]
    assert float(number) * {"kB": 1e3, "MB": 1e6}[unit] == pytest.approx(exact, rel=0.05)


def test_a_plain_has_one_tone():
    plain = CHECK.with_bands([(0, 1)], [(0, 1)])
    assert found(check=plain)["tones apart"].found == "one tone"


@pytest.mark.parametrize(
    ("argument", "value"),
    [("least_dpi", 0), ("most_dpi", 100), ("megabytes", 0), ("side", 1.5), ("cloth_width", "wide"),
     ("screens", ["0 cm"]), ("screens", "64 cm"), ("stretch", 2), ("threads", 0),
     ("difference", -1), ("colour_space", 3), ("strike_off", "0 mm")],
)  # fmt: skip
def test_limits_that_are_none(argument, value):
    with pytest.raises(CheckclothError) as caught:
        Limits(**{argument: value})
    assert caught.value.argument in (argument, "length")


def test_every_resolution_is_looked_at_and_what_is_alike_is_said_once():
    kept = ChosenSet(CHECK, [QUAY, QUAY.with_(name="Reef"), QUAY.with_(strength=0.6, name="Slip")])
    made = preflight(kept, dpi=[127, 254, 1270])
    said = made.grouped()
    assert [not one.passes for one, _ in said] == sorted(
        (not one.passes for one, _ in said), reverse=True
    )
    dpi = {one.found: names for one, names in said if one.item == "resolution"}
    assert dpi == {f"{each} dpi": ("Quay", "Reef", "Slip") for each in (127, 254, 1270)}
    assert sum(len(names) for _, names in said) == sum(map(len, made.findings))
    tones = [names for one, names in said if one.item == "tones apart"]
    assert sorted(tones) == [("Quay", "Reef"), ("Slip",)]
