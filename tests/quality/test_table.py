"""The table equals coloraide, scikit-image and the literal WCAG formula, pair by pair."""

from __future__ import annotations

import csv
import tracemalloc
from itertools import combinations
from pathlib import Path

import numpy as np
import pytest
from coloraide import Color
from skimage.color import deltaE_ciede2000

from checkcloth.cloth.check import Check
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.mixing import MIXINGS
from checkcloth.cloth.palette import Palette
from checkcloth.colour.css import css_names
from checkcloth.colour.spaces import lab_to_srgb, srgb_to_lab, xyz_to_lab
from checkcloth.errors import ArgumentError, ExistsError, FileFormatError
from checkcloth.quality import (
    distinct_tones,
    palette_colourways,
    score_table,
    write_colourways,
    write_score_table,
)
from checkcloth.scoring.contrast import score

GOLD = Path(__file__).resolve().parents[1] / "gold" / "analysis"
PALETTES = Path(__file__).resolve().parents[2] / "palettes"


def gold(name: str) -> list[dict[str, str]]:
    lines = (GOLD / name).read_text("utf-8").splitlines()
    return list(csv.DictReader(line for line in lines if not line.startswith("# ")))


OKABE_ITO = {row["name"]: row["hex"].lower() for row in gold("okabe_ito.csv")}

# -- an independent way to every figure: plain Python and the reference libraries ----------------


def decode(v: float) -> float:
    return v / 12.92 if v <= 0.04045 else ((v + 0.055) / 1.055) ** 2.4


def reference_tones(colourway: Colourway) -> dict[tuple[int, int], list[float]]:
    """Source-over on encoded sRGB, W3C Compositing Level 1: warp over weft over ground."""
    assert colourway.mixing == "source-over"
    a = colourway.strength
    tones = {}
    for i, warp in enumerate((None, *colourway.stripes)):
        for j, weft in enumerate((None, *colourway.stripes)):
            under = list(colourway.ground.rgb)
            for stripe in (weft, warp):
                if stripe is not None:
                    under = [a * s + (1 - a) * u for s, u in zip(stripe.rgb, under, strict=True)]
            tones[i, j] = under
    return tones


def reference_seen(rgb: list[float], vision: str) -> list[float]:
    if vision == "normal":
        return rgb
    linear = [decode(v) for v in rgb]
    if vision == "grey":
        y = (
            0.21263900587151 * linear[0]
            + 0.71516867876776 * linear[1]
            + 0.07219231536073 * linear[2]
        )
        return Color("srgb-linear", [y, y, y]).convert("srgb").coords()
    method = "brettel" if vision == "tritan" else "vienot"
    seen = Color("srgb", rgb).filter(vision, method=method).convert("srgb-linear")
    clipped = [min(max(v, 0.0), 1.0) for v in seen.coords()]
    return Color("srgb-linear", clipped).convert("srgb").coords()


def reference_measures(one: list[float], two: list[float]) -> dict[str, float]:
    c1, c2 = Color("srgb", one), Color("srgb", two)
    l1, l2 = c1.convert("lab-d65").coords(), c2.convert("lab-d65").coords()
    y1, y2 = (
        0.2126 * decode(c[0]) + 0.7152 * decode(c[1]) + 0.0722 * decode(c[2]) for c in (one, two)
    )
    return {
        "de2000": float(deltaE_ciede2000(np.array(l1), np.array(l2))),
        "dl": abs(l1[0] - l2[0]),
        "ratio": (max(y1, y2) + 0.05) / (min(y1, y2) + 0.05),
        "deok": c1.delta_e(c2, method="ok"),
        "hyab": c1.delta_e(c2, method="hyab", space="lab-d65"),
    }


def reference_pairs(number: int, kind: str) -> list[tuple[tuple[int, int], tuple[int, int]]]:
    """Pairs as the design states them; source-over: warp and weft singles are the same."""
    numbers = range(1, number + 1)
    if kind == "ground_single":
        return [((0, 0), (i, 0)) for i in numbers]
    if kind == "single_crossing":
        return [(single, (i, j)) for i in numbers for j in numbers for single in ((i, 0), (0, j))]
    if kind == "single_single":
        return [((i, 0), (j, 0)) for i, j in combinations(numbers, 2)]
    crossings = [(i, j) for i in numbers for j in numbers]
    return [(p, q) for p, q in combinations(crossings, 2) if p != (q[1], q[0])]


def some_colourways() -> list[Colourway]:
    rng = np.random.default_rng(20)
    names = sorted(css_names())
    okabe = [OKABE_ITO[name] for name in ("orange", "sky blue", "blue")]
    picked = [names[i] for i in rng.permutation(len(names))[:4]]
    made = rng.integers(0, 256, (3, 3))
    hexes = ["#{:02x}{:02x}{:02x}".format(*row) for row in made.tolist()]
    return [
        Colourway("white", okabe, 0.5, name="Okabe–Ito"),
        Colourway(picked[0], picked[1:], 0.62, name="CSS names"),
        Colourway(hexes[0], hexes[1:], 0.35, name="random"),
        Colourway("#949494", ["black"], 1, name="one stripe"),
    ]


@pytest.mark.parametrize("vision", ["normal", "protan", "deutan", "tritan", "grey"])
@pytest.mark.parametrize("colourway", some_colourways(), ids=lambda c: c.name)
def test_every_figure_equals_the_reference_libraries(colourway, vision):
    table = score_table(colourway, visions=[vision])
    seen = {p: reference_seen(t, vision) for p, t in reference_tones(colourway).items()}
    # Five-decimal matrices on both sides: they differ by up to 2e-5 in linear light.
    loose = (
        {"rel": 2e-3, "abs": 2e-3} if vision in ("protan", "deutan", "tritan") else {"rel": 1e-6}
    )
    for kind in ("ground_single", "single_crossing", "single_single", "crossing_crossing"):
        pairs = reference_pairs(len(colourway.stripes), kind)
        found = [reference_measures(seen[p], seen[q]) for p, q in pairs]
        for measure in ("de2000", "dl", "ratio", "deok", "hyab"):
            least = table[f"{vision}_{kind}_least_{measure}"][0]
            mean = table[f"{vision}_{kind}_mean_{measure}"][0]
            values = [each[measure] for each in found]
            if not values:
                assert np.isnan(least)
                assert np.isnan(mean)
                continue
            small = {"abs": loose.get("abs", 1e-5), "rel": loose["rel"]}
            assert least == pytest.approx(min(values), **small), (kind, measure)
            assert mean == pytest.approx(np.mean(values), **small), (kind, measure)


@pytest.mark.parametrize("colourway", some_colourways(), ids=lambda c: c.name)
def test_order_evenness_and_far_off_colour_equal_a_plain_reckoning(colourway):
    table = score_table(colourway, visions=["normal"])
    tones = reference_tones(colourway)
    number = len(colourway.stripes)
    light = {p: Color("srgb", t).convert("lab-d65").coords()[0] for p, t in tones.items()}
    numbers = range(1, number + 1)
    steps = [light[i, 0] - light[0, 0] for i in numbers] + [
        light[i, j] - light[s] for i in numbers for j in numbers for s in ((i, 0), (0, j))
    ]
    runs = all(step > 0 for step in steps) or all(step < 0 for step in steps)
    assert table["normal_lightness_runs"][0] == runs
    single = np.mean([light[i, 0] for i in numbers])
    crossing = np.mean([light[i, j] for i in numbers for j in numbers])
    one, two = abs(single - light[0, 0]), abs(crossing - single)
    even = min(one, two) / max(one, two)
    assert table["normal_evenness"][0] == pytest.approx(even, rel=1e-6)
    # By drawing: the mean over all squares of the repeat, in linear light.
    bands = [b for i in numbers for b in (i, 0)]
    mean = np.mean([[decode(v) for v in tones[i, j]] for i in bands for j in bands], axis=0)
    drawn = Color("srgb-linear", mean.tolist()).convert("srgb").to_string(hex=True)
    assert table["normal_afar"][0] == drawn


@pytest.mark.parametrize("threshold", [1.0, 5.0, 12.0])
def test_distinct_tones_equal_a_count_one_by_one(threshold):
    rng = np.random.default_rng(4)
    for mixing in ("source-over", "woven"):
        stripes = ["#{:02x}{:02x}{:02x}".format(*r) for r in rng.integers(0, 256, (4, 3)).tolist()]
        colourway = Colourway("linen", stripes, 0.45, mixing)
        tones = colourway.tones
        order = sorted(np.ndindex(5, 5), key=lambda p: ((p[0] > 0) + (p[1] > 0), p[1] > 0, p))
        kept: list[np.ndarray] = []
        for place in order:
            lab = np.array(Color("srgb", tones[place].tolist()).convert("lab-d65").coords())
            if all(deltaE_ciede2000(lab, other) >= threshold for other in kept):
                kept.append(lab)
        assert distinct_tones(tones, threshold) == len(kept)


def test_a_mixed_table_is_each_colourway_by_itself():
    """However many are scored as one array, of whatever stripes and mixings."""
    rng = np.random.default_rng(8)
    cloths = []
    for number, mixing in enumerate(MIXINGS * 5):
        codes = rng.integers(0, 1 << 24, 2 + number % 5)
        ground, *stripes = [f"#{code:06x}" for code in codes]
        cloths.append(Colourway(ground, stripes, 0.6, mixing, f"{number}", 0.5 - number % 2 * 0.1))
    together = score_table(cloths, visions=["normal", "deutan"])
    for row, cloth in enumerate(cloths):
        alone = score_table(cloth, visions=["normal", "deutan"])
        for name, column in alone.columns.items():
            if isinstance(column, np.ndarray):
                assert together[name][row] == pytest.approx(
                    column[0], rel=1e-9, abs=1e-9, nan_ok=True
                )
            else:
                assert together[name][row] == column[0]
        for vision in together.visions:
            counted = distinct_tones(cloth.tones, vision=vision)
            assert together[f"{vision}_distinct_tones"][row] == counted


def test_tones_that_are_not_laid_do_not_count():
    """Stripe B only in the weft, and no bare ground in the warp: what the drawn cloth shows."""
    check = Check("1 cm", 3, warp="1 A, 1 C", weft="1 A, 2 B, 1 ground")
    for mixing in ("woven", "source-over"):
        cloth = Colourway("white", ["navy", "gold", "teal"], 0.7, mixing)
        drawn = {tuple(tone) for x in (1, 3) for tone in cloth.tones[x, [1, 2, 0]].round(9)}
        found = score_table(cloth, visions=["normal"], threshold=0.5, check=check)
        assert len(drawn) == found["tones"][0] == found["normal_distinct_tones"][0] == 6


def test_equal_tones_count_once_and_all_count_when_far_apart():
    assert distinct_tones(Colourway("white", ["white", "white"]).tones) == 1
    assert distinct_tones(Colourway("white", ["black"]).tones) == 3


# -- known facts ---------------------------------------------------------------------------------


def test_okabe_ito_facts_come_out():
    colourway = Colourway("white", list(OKABE_ITO.values()), 1)
    # At full strength the singles are the palette's own colours.
    for row in gold("okabe_ito.csv"):
        alone = score_table(Colourway("white", [row["hex"]], 1), visions=["normal"])
        ratio, dl = (alone[f"normal_ground_single_least_{m}"][0] for m in ("ratio", "dl"))
        assert ratio == pytest.approx(float(row["ratio"]), abs=6e-4)
        assert 100 - dl == pytest.approx(float(row["lightness"]), abs=6e-3)
    pair = Colourway(colourway.ground, [OKABE_ITO["orange"], OKABE_ITO["sky blue"]], 1)
    assert round(float(score(pair).single_single.least_dl), 1) == 0.8


@pytest.mark.parametrize("row", gold("wcag_greys.csv"), ids=lambda row: row["hex"])
def test_boundary_greys_pass_and_fail_unrounded(row):
    table = score_table(Colourway("white", [row["hex"]], 1), visions=["normal"])
    ratio = float(table["normal_ground_single_least_ratio"][0])
    assert ratio == pytest.approx(float(row["ratio"]), abs=5e-5)
    assert (ratio >= float(row["threshold"])) == (row["passes"] == "yes")


def test_light_reflectance_values():
    # LRV = 100·Y; Y of 0.30, 0.60 and 1.00 is L* 61.65, 81.84, 100 (recomputed; BS 8300-2:2018
    # asks for a difference of 30 points between surfaces).
    light = [xyz_to_lab([0.0, y, 0.0])[0] for y in (0.30, 0.60, 1.00)]
    assert np.round(light, 2).tolist() == [61.65, 81.84, 100.0]


@pytest.mark.parametrize("row", gold("lightness_ranges.csv"), ids=lambda row: row["dl"])
def test_a_difference_in_lightness_keeps_the_ratio_in_its_range(row):
    step = float(row["dl"])
    light = np.linspace(0, 100 - step, 400)
    grey = np.stack([light, 0 * light, 0 * light], axis=-1)
    low = np.clip(lab_to_srgb(grey), 0, 1)
    high = np.clip(lab_to_srgb(grey + np.array([step, 0, 0])), 0, 1)
    tones = np.empty((len(light), 2, 2, 3))
    tones[...] = low[:, None, None]
    tones[:, 1, 0] = tones[:, 0, 1] = high
    from checkcloth.scoring.contrast import score_tones

    ratio = score_tones(tones).ground_single.least_ratio
    assert ratio.min() == pytest.approx(float(row["least"]), abs=6e-3)
    assert ratio.max() == pytest.approx(float(row["most"]), abs=6e-3)


# -- sources, sorting, files ---------------------------------------------------------------------


def test_folder_palette_file_and_csv_of_colourways_are_told_apart(tmp_path):
    folder = score_table(PALETTES, visions=["normal"])
    one = score_table(PALETTES / "tea-table.csv", visions=["normal"])
    assert len(folder) > len(one) >= 1
    assert set(one["name"]) <= set(folder["name"])
    write_colourways(some_colourways(), tmp_path / "some.csv")
    read = score_table(tmp_path / "some.csv", visions=["normal"])
    straight = score_table(some_colourways(), visions=["normal"])
    assert read["name"] == straight["name"]
    assert np.allclose(
        read["normal_least_edge_de2000"], straight["normal_least_edge_de2000"], rtol=0, atol=1e-12
    )


def test_a_palette_without_roles_takes_each_colour_as_ground():
    made = palette_colourways(Palette("three", ["navy", "gold", "white"]))
    assert [str(c.ground.name) for c in made] == ["navy", "gold", "white"]
    assert all(len(c.stripes) == 2 for c in made)


def test_too_many_stripes_in_a_palette_say_so():
    colours = [f"#0000{i:02x}" for i in range(30)]
    with pytest.raises(ArgumentError, match=r"1 to 24 stripe colours.*29") as caught:
        score_table(Palette("thirty", colours))
    assert caught.value.argument == "palette"


def test_sorting_is_stable_and_puts_blanks_last():
    table = score_table(some_colourways(), visions=["normal"])
    up = table.sorted_by("normal_least_edge_de2000", descending=False)
    assert (np.diff(up["normal_least_edge_de2000"]) >= 0).all()
    for descending in (True, False):
        last = table.sorted_by("normal_single_single_least_de2000", descending=descending)
        assert last["name"][-1] == "one stripe"
    assert tuple(sorted(table["name"])) == table.sorted_by("name", descending=False)["name"]
    assert len(table.where("normal_least_edge_de2000", 5)) < len(table)


def test_an_unknown_column_names_one_that_is_near():
    table = score_table(some_colourways()[:1], visions=["normal"])
    with pytest.raises(ArgumentError, match="normal_evenness"):
        table["normal_evenes"]


def test_csv_holds_the_same_figures_and_no_formula(tmp_path):
    members = [*some_colourways(), Colourway("white", ["red"], name='=SUM(A1), "quoted"')]
    table = score_table(members)
    path = table.to_csv(tmp_path / "scores.csv")
    rows = list(csv.DictReader(path.read_text("utf-8").splitlines()))
    assert list(rows[0]) == list(table.columns)
    assert rows[-1]["name"] == '\'=SUM(A1), "quoted"'
    for place, row in enumerate(rows):
        for name, column in table.columns.items():
            if not isinstance(column, np.ndarray):
                continue
            if np.isnan(column[place]):
                assert row[name] == ""
            else:
                assert float(row[name]) == pytest.approx(float(column[place]), rel=1e-5)
    with pytest.raises(ExistsError):
        table.to_csv(path)


def test_html_is_escaped():
    table = score_table(Colourway("white", ["red"], name="<script>alert(1)</script>"))
    assert "<script>" not in table._repr_html_()
    assert "&lt;script&gt;" in table._repr_html_()


def test_an_estimate_is_labelled_in_the_shown_table_and_only_there():
    table = score_table(Colourway("white", ["red"], mixing="pigment"), visions=["normal"])
    assert "pigment (estimate)" in table._repr_html_()
    assert table["mixing"] == ("pigment",)


def test_pandas_frame_has_the_same_columns():
    pandas = pytest.importorskip("pandas")
    table = score_table(some_colourways(), visions=["normal", "deutan"])
    frame = table.frame()
    assert isinstance(frame, pandas.DataFrame)
    assert list(frame.columns) == list(table.columns)
    assert tuple(frame["name"]) == table["name"]


def write_many(path: Path, count: int) -> None:
    rng = np.random.default_rng(3)
    codes = rng.integers(0, 1 << 24, (count, 4))
    lines = ["name,ground,stripe 1,stripe 2,stripe 3,strength"]
    lines += [f"c{n}," + ",".join(f"#{c:06x}" for c in row) + ",0.5" for n, row in enumerate(codes)]
    path.write_text("\n".join(lines) + "\n", "utf-8")


def test_streaming_gives_the_very_table(tmp_path, capfd):
    write_many(tmp_path / "many.csv", 2300)
    table = score_table(tmp_path / "many.csv", visions=["normal", "grey"])
    table.to_csv(tmp_path / "held.csv")
    count = write_score_table(
        tmp_path / "many.csv", tmp_path / "streamed.csv", visions=["normal", "grey"]
    )
    assert count == 2300
    assert (tmp_path / "streamed.csv").read_bytes() == (tmp_path / "held.csv").read_bytes()
    shown = capfd.readouterr()
    assert "2300/2300" in shown.err
    assert shown.out == ""


def peak(path: Path, out: Path) -> int:
    tracemalloc.start()
    try:
        write_score_table(path, out, visions=["normal"], progress=False, overwrite=True)
        return tracemalloc.get_traced_memory()[1]
    finally:
        tracemalloc.stop()


def test_memory_does_not_grow_with_the_file(tmp_path):
    write_many(tmp_path / "short.csv", 1000)
    write_many(tmp_path / "long.csv", 4000)
    peak(tmp_path / "short.csv", tmp_path / "out.csv")  # caches fill once
    short = peak(tmp_path / "short.csv", tmp_path / "out.csv")
    long = peak(tmp_path / "long.csv", tmp_path / "out.csv")
    # The last chunk may lie beside the next while it is read; four chunks never do.
    assert long < 2 * short


def test_a_fault_far_down_leaves_no_file(tmp_path):
    write_many(tmp_path / "many.csv", 1500)
    with (tmp_path / "many.csv").open("a") as stream:
        stream.write("last,#ffffff,notacolour,,,0.5\n")
    with pytest.raises(FileFormatError) as caught:
        write_score_table(tmp_path / "many.csv", tmp_path / "out.csv", progress=False)
    fault = caught.value
    assert (fault.line, fault.argument, fault.found) == (1502, "stripe 1", "notacolour")
    assert sorted(p.name for p in tmp_path.iterdir()) == ["many.csv"]


@pytest.mark.parametrize(
    "arguments",
    [
        {"visions": ["monochrome"]},
        {"visions": []},
        {"threshold": 0},
        {"strength": 50},
        {"mixing": "airbrush"},
    ],
)
def test_bad_arguments_are_named(arguments):
    with pytest.raises(ArgumentError) as caught:
        score_table(Colourway("white", ["red"]), **arguments)
    assert [caught.value.argument] == list(arguments)


@pytest.mark.parametrize("source", [[], 5, ["white"], [None]])
def test_sources_of_another_kind_are_refused(source):
    with pytest.raises(ArgumentError) as caught:
        score_table(source)
    assert caught.value.argument == "source"


def test_lab_is_d65():
    # The trap of CSS lab(), which is D50: orange's L* would be the same, its b* not.
    lab = srgb_to_lab(Colourway("white", [OKABE_ITO["orange"]], 1).tones[1, 0])
    reference = Color(OKABE_ITO["orange"]).convert("lab-d65").coords()
    assert np.allclose(lab, reference, rtol=0, atol=1e-6)
