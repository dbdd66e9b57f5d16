"""Colours that sRGB cannot show: kept as asked, told as shown, mixed as they are.

Conversions are held to coloraide, which follows CSS Color 4.
"""

from __future__ import annotations

import json
from dataclasses import replace

import numpy as np
import pytest
from coloraide import Color
from hypothesis import given
from hypothesis import strategies as st
from press_sets import HELD_OUT, mean_p95, misses_of_colourways

from checkcloth import (
    MIXINGS,
    Check,
    ChosenSet,
    Colourway,
    Palette,
    mix_tones,
    read_palette,
    score,
    srgb_to_lab,
    write_palette,
)
from checkcloth.cloth.mixing import find_mixing
from checkcloth.cloth.named_colour import NamedColour, moved_words
from checkcloth.cloth.tones import stack, tones_of
from checkcloth.colour.ciede2000 import delta_e_2000
from checkcloth.colour.spaces import in_srgb, linear_to_xyz, srgb_to_linear, xyz_to_lab
from checkcloth.errors import ArgumentError
from checkcloth.export.data.measurement import tones_cgats
from checkcloth.export.data.saved import parse_set, set_json
from checkcloth.export.data.tables import tones_csv
from checkcloth.export.data.tokens import palette_tokens, parse_tokens, set_tokens
from checkcloth.export.mill.thread_plan import thread_plan
from checkcloth.export.paper.specification import _design, tone_rows
from checkcloth.export.print.plates import plates_of
from checkcloth.lesson.lesson import side_by_side
from checkcloth.quality import (
    check_strike_off,
    read_colourways,
    read_readings,
    read_supplier_palette,
    score_table,
    write_colourways,
)
from checkcloth.scoring.remarks import plain_words, scores_seen
from checkcloth.scoring.vocabulary import estimate_words
from checkcloth.search import Wanted, search

TEXTS = (
    "color(display-p3 0 0.6 0.5)",
    "color(display-p3 0.1 0.8 0.1)",
    "color(rec2020 0 0.6 0.5)",
    "lab(55 -37 -50)",
    "lch(60% 80 190)",
    "oklch(62% 0.4 30)",
    "oklab(0.7 -0.25 0.1)",
    "color(a98-rgb 0.2 0.9 0.2)",
    "color(prophoto-rgb 0.1 0.5 0.9)",
    "color(srgb 1.2 0.4 -0.1)",
)
INSIDE = ("teal", "#102030", "oklch(62% 0.1 30)", "lab(55 10 -20)", "color(display-p3 0.4 0.5 0.6)")
LIMIT = ("light", "display-p3")


@pytest.mark.parametrize("text", TEXTS)
def test_what_was_asked_is_kept_as_coloraide_has_it(text):
    colour = NamedColour.of(text, "Reef")
    assert colour.text == text
    assert colour.xyz == pytest.approx(Color(text).convert("xyz-d65").coords(), abs=1e-12)
    assert colour.lab == pytest.approx(Color(text).convert("lab-d65").coords(), abs=0.02)
    # coloraide's ΔE00 works in D65 Lab where it is told to.
    shown = Color("srgb", colour.rgb)
    assert colour.shift == pytest.approx(
        Color(text).delta_e(shown, method="2000", space="lab-d65"), abs=0.01
    )
    assert "outside the screen's colours" in repr(colour)
    assert f"{colour.shift:.1f}" in repr(colour)


@pytest.mark.parametrize("text", INSIDE)
def test_a_colour_of_srgb_is_what_it_was(text):
    colour = NamedColour.of(text, "Quay")
    assert (colour.xyz, colour.shift, colour.shift_words) == (None, 0.0, "")
    assert repr(colour) == f"<Quay {colour.hex}>"
    assert colour.lab == pytest.approx(srgb_to_lab(colour.rgb))


def test_what_is_shown_0_0_off_is_not_said_to_be_off():
    """An instrument's black and white, just outside: nobody sees it, and no figure says it."""
    for lab in ([0, 0.01, 0], [100, 0, 0.02], [0, 0, 0]):
        colour = NamedColour.of_lab("Soot", lab)
        assert (colour.shift_words, str(colour)) == ("", f"Soot {colour.hex}")
        assert moved_words([colour]) == ""
    assert NamedColour.of_lab("Soot", [0, 0.01, 0]).xyz is not None
    reef = NamedColour.of(TEXTS[0])
    assert moved_words([colour, reef]) == moved_words([reef])
    cloth = Colourway("white", [NamedColour.of_lab("Soot", [0, 0.01, 0])])
    remarks = [remark.text for remark in plain_words(cloth, scores_seen(cloth))]
    assert not any("Soot lies" in text for text in remarks)


def test_xyz_says_what_a_colour_is():
    asked = NamedColour.of(TEXTS[0], "Reef")
    again = NamedColour("Reef", xyz=asked.xyz)
    assert (again.rgb, again.xyz) == (asked.rgb, asked.xyz)
    # Its own text reads back to the very same numbers.
    assert NamedColour.of(again.text, "Reef") == again
    # XYZ that sRGB has is a colour of sRGB.
    teal = NamedColour("Teal", xyz=tuple(linear_to_xyz(srgb_to_linear([0, 0.5, 0.5])).tolist()))
    assert teal.xyz is None
    assert teal.rgb == pytest.approx((0, 0.5, 0.5))


def test_measured_lab_is_kept():
    reef = NamedColour.of_lab("Reef", [55, -45, -30])
    assert reef.lab == pytest.approx((55, -45, -30))
    assert reef.shift == pytest.approx(
        float(delta_e_2000([55, -45, -30], srgb_to_lab(reef.rgb))), abs=1e-9
    )
    with pytest.raises(ArgumentError, match="lab must be three numbers"):
        NamedColour.of_lab("Reef", [[55, -45, -30]])


def test_channels_that_contradict_are_refused():
    asked = NamedColour.of(TEXTS[0])
    with pytest.raises(ArgumentError) as refused:
        replace(asked, rgb=(0.1, 0.2, 0.3))
    assert refused.value.argument == "rgb"
    assert asked.hex in refused.value.allowed
    with pytest.raises(ArgumentError, match="rgb must be three numbers, found nothing"):
        NamedColour("Reef")
    with pytest.raises(ArgumentError):
        NamedColour("Reef", xyz=(0.1, float("nan"), 0.3))
    with pytest.raises(ArgumentError):
        NamedColour("Reef", xyz=(0.1, 0.3))


def test_channels_of_another_mapping_stay_and_are_no_more_than_channels():
    """What an earlier kit saved of such a colour opens to what it was."""
    earlier = NamedColour("Reef", (0.0, 0.6, 0.5), text=TEXTS[0])
    assert (earlier.rgb, earlier.xyz, earlier.text) == ((0.0, 0.6, 0.5), None, TEXTS[0])


def test_it_is_told_in_palettes_sets_and_words():
    palette = Palette("reef", ["teal", *TEXTS[:2]])
    worst = max(colour.shift for colour in palette)
    assert moved_words(palette) in str(palette)
    assert f"2 outside the screen's colours, shown up to ΔE00 {worst:.1f} off" in str(palette)
    assert str(palette.colours[1]).replace("'", "&#x27;") in palette._repr_html_()
    colourway = Colourway("white", palette.colours)
    assert moved_words(palette) in str(colourway)
    kept = ChosenSet(Check("1 in", 3), [colourway, colourway])
    assert moved_words(palette) in str(kept)
    remarks = [remark.text for remark in plain_words(colourway, scores_seen(colourway))]
    for colour in palette.colours[1:]:
        assert f"{colour.name} lies {colour.shift_words}" in remarks
    plain = Colourway("white", ["teal"])
    assert "screen's" not in str(plain) + str(ChosenSet(Check("1 in", 1), [plain]))


def test_a_lesson_says_what_its_screen_does_not_show():
    reef = NamedColour.of(TEXTS[0], "Reef")
    step = side_by_side(Colourway("white", [reef, "gold"]))
    assert step.data()["words"].endswith(f"Stripe 1 is {reef.shift_words}.")
    assert "screen's colours" in step._repr_html_().replace("&#x27;", "'")
    assert "outside" not in side_by_side(Colourway("white", ["teal", "gold"])).words


def test_sheets_say_it():
    colourway = Colourway("white", [TEXTS[0], "gold"], 0.8, "woven")
    facts = dict(_design(colourway, Check("1 in", 2), None))
    assert f"{TEXTS[0]} (shown ΔE00 {colourway.stripes[0].shift:.1f} off)" in facts["Outside sRGB"]
    rows = tone_rows(colourway, Check("1 in", 2))
    assert rows[1].lab == pytest.approx(colourway.tones_lab[1, 0])
    assert "Outside sRGB" not in dict(_design(Colourway("white", ["gold"]), Check("1 in", 1), None))


def test_palettes_tokens_and_sets_keep_it(tmp_path):
    palette = Palette("reef", ["teal", *TEXTS, NamedColour.of_lab("Reef", [55, -45, -30])])
    assert read_palette(write_palette(palette, tmp_path / "reef.csv")) == palette
    assert tuple(parse_tokens(palette_tokens(palette))) == palette.colours
    kept = ChosenSet(Check("1 in", 4), [Colourway("white", palette.colours[:4], 0.5, "woven")])
    assert parse_set(set_json(kept)) == kept
    assert parse_set(set_json(kept)).colourways[0].tones_xyz == pytest.approx(
        kept.colourways[0].tones_xyz, abs=0
    )
    assert '"version": 4' in set_json(kept)
    assert '"version": 1' in set_json(ChosenSet(Check("1 in", 1), [Colourway("white", ["teal"])]))


def test_a_token_is_written_in_a_space_that_holds_it():
    reef = NamedColour.of(TEXTS[0], "Reef")
    (token,) = (
        t for t in parse_json(palette_tokens(Palette("r", [reef]))).values() if "$type" in t
    )
    assert token["$value"]["colorSpace"] == "xyz-d65"
    assert token["$value"]["components"] == list(reef.xyz)
    assert token["$value"]["hex"] == reef.hex
    ours = token["$extensions"]["checkcloth"]
    assert ours["shown"]["offByDeltaE00"] == pytest.approx(reef.shift, abs=0.006)
    tones = set_tokens(Colourway("white", [reef], 1.0, "woven"), Check("1 in", 1))
    assert "xyz-d65" in tones


def parse_json(text):
    return {k: v for k, v in json.loads(text).items() if isinstance(v, dict)}


@pytest.mark.parametrize("mixing", MIXINGS)
def test_tones_of_srgb_are_untouched(mixing):
    colourway = Colourway("#f4ecd8", ["teal", "gold"], 0.4, mixing, weft_stripes=["navy"])
    expected = linear_to_xyz(srgb_to_linear(colourway.tones))
    assert np.array_equal(colourway.tones_xyz, expected)
    assert np.array_equal(colourway.tones_lab, srgb_to_lab(colourway.tones))
    assert not colourway.tone_shifts.any()
    (part,) = stack([colourway])
    assert part.colours is None


@pytest.mark.parametrize("text", [TEXTS[0], TEXTS[1], TEXTS[3]])
@pytest.mark.parametrize("mixing", MIXINGS)
def test_at_the_ends_of_strength_it_is_the_colour_itself(mixing, text):
    reef = NamedColour.of(text)
    none = Colourway(reef, ["teal", "gold"], 0.0, mixing)
    assert none.tones_xyz == pytest.approx(np.broadcast_to(reef.xyz, (3, 3, 3)), abs=1e-9)
    assert none.tones[0, 0] == pytest.approx(reef.rgb, abs=1e-6)
    if find_mixing(mixing).layout == "woven":  # its singles are half thread, half ground
        return
    full = Colourway("white", [reef, "gold"], 1.0, mixing)
    # An ink is held at 1e-6 of its paper, where BT.2020 has less.
    assert full.tones_xyz[1, 0] == pytest.approx(np.array(reef.xyz), abs=2e-6)
    assert full.tones[1, 0] == pytest.approx(np.array(reef.rgb), abs=2e-4)


def test_light_adds_as_it_does_in_any_linear_space():
    """A sum of light by area is one of XYZ: checked without any RGB."""
    reef, gold = NamedColour.of(TEXTS[0]), NamedColour.of("gold")
    tones = Colourway("white", [reef, gold], 0.8, "woven", warp_share=0.3).tones_xyz
    light = {c.name: np.array(c.xyz or linear_to_xyz(srgb_to_linear(c.rgb))) for c in (reef, gold)}
    white = linear_to_xyz(np.ones(3))
    expected = 0.8 * 0.3 * light[reef.name] + 0.8 * 0.7 * light["gold"] + 0.2 * white
    assert tones[1, 2] == pytest.approx(expected, abs=1e-12)


def test_layers_in_encoded_srgb_run_on_beyond_it():
    """CSS Color 4 mixes in an extended sRGB; coloraide does so."""
    reef = Color(TEXTS[0]).convert("srgb")
    tone = Colourway("white", [TEXTS[0]], 0.6, "source-over").tones_xyz[1, 0]
    mixed = Color("white").mix(reef, 0.6, space="srgb").convert("xyz-d65").coords()
    assert tone == pytest.approx(mixed, abs=1e-9)


@given(st.sampled_from(MIXINGS), st.floats(0, 1), st.floats(1, 10), st.sampled_from(TEXTS))
def test_what_is_shown_is_always_srgb(mixing, strength, n, text):
    colourway = Colourway(
        "ivory", [text, "gold"], strength, mixing, yule_nielsen=n, weft_stripes=["navy", text]
    )
    assert np.isfinite(colourway.tones_xyz).all()
    assert colourway.tones.min() >= 0
    assert colourway.tones.max() <= 1
    inside = np.array([[in_srgb(xyz) for xyz in row] for row in colourway.tones_xyz])
    off = np.abs(xyz_to_lab(colourway.tones_xyz) - srgb_to_lab(colourway.tones)).max(axis=-1)
    assert (off[inside] < 0.02).all()
    assert (colourway.tone_shifts[inside] < 0.02).all()


def test_a_colour_just_outside_is_next_to_one_just_inside():
    """No jump where sums of light change their space.

    ``ink`` has another space by design; ``pigment`` maps mixtures of sRGB colours only.
    """
    edge = Color("oklch(70% 0.4 200)").fit("srgb", method="oklch-chroma", jnd=0).convert("oklch")
    for mixing in ("source-over", "source-over-linear", "multiply", "woven"):
        chromas = (edge["chroma"] - 1e-4, edge["chroma"] + 1e-4)
        texts = [f"oklch({edge['lightness']} {chroma} {edge['hue']})" for chroma in chromas]
        assert [NamedColour.of(text).xyz is None for text in texts] == [True, False]
        one, two = (Colourway("white", [text, "gold"], 0.7, mixing).tones_lab for text in texts)
        assert delta_e_2000(one, two).max() < 0.2, mixing


def test_stacks_keep_kinds_apart_and_mix_alike():
    ways = [
        Colourway("white", [TEXTS[0], "teal"], 0.5, "woven"),
        Colourway("white", ["navy", "teal"], 0.5, "woven"),
        Colourway("white", ["gold", TEXTS[3]], 0.3, "woven"),
    ]
    assert [part.indices.tolist() for part in stack(ways)] == [[0, 2], [1]]
    tones = tones_of(ways)
    for index, colourway in enumerate(ways):
        assert np.array_equal(tones[index], colourway.tones)
    part = stack(ways)[0]
    assert np.array_equal(part.xyz(part=slice(1, 2))[0], ways[2].tones_xyz)
    moved = part.tones(0.9, "pigment")[0]
    assert moved == pytest.approx(ways[0].with_(strength=0.9, mixing="pigment").tones, abs=1e-12)
    assert part.with_colours(part.grounds, part.stripes, None).colours is None
    assert float(score(ways)[0].least_edge) > 0


def test_tables_and_measurements_have_the_tones_own_lab():
    colourway = Colourway("white", [TEXTS[0]], 1.0, "woven", name="Reef")
    head, *rows = [line.split(",") for line in tones_csv(colourway, Check("1 in", 1)).splitlines()]
    assert head[-1] == "shown off by ΔE00"
    crossing = dict(zip(head, rows[-1], strict=True))
    lab = colourway.tones_lab[1, 1]
    assert [float(crossing[axis]) for axis in ("L*", "a*", "b*")] == pytest.approx(lab, abs=0.006)
    assert float(crossing["shown off by ΔE00"]) == pytest.approx(
        colourway.tone_shifts[1, 1], abs=0.006
    )
    assert colourway.tone_shifts[1, 1] > 1
    assert f"{lab[1]:.2f}" in tones_cgats(colourway, Check("1 in", 1))
    plain = tones_csv(Colourway("white", ["teal"]), Check("1 in", 1)).splitlines()[0]
    assert "shown off" not in plain


@pytest.mark.parametrize(
    "mixing", ["source-over", "source-over-linear", "woven", "multiply", "ink"]
)
def test_plates_still_add_up(mixing):
    colourway = Colourway("white", [TEXTS[0], "gold"], 0.6, mixing)
    kind = "tones" if mixing in ("source-over", "source-over-linear") else "colours"
    made = plates_of(colourway, kind)
    assert np.abs(made.composite() - colourway.tones).max() < 0.5 / 255


def test_a_strike_off_that_is_the_tones_fails_nothing(tmp_path):
    colourway = Colourway("white", [TEXTS[0], "gold"], 0.9, "woven", name="Reef")
    path = tmp_path / "reef.txt"
    path.write_text(tones_cgats(colourway, Check("1 in", 2)), "utf-8")
    checked = check_strike_off(colourway, read_readings(path), tolerance=1.0)
    assert max(check.de2000 for check in checked.checks) < 0.05


def test_a_supplier_s_lab_outside_srgb_is_kept(tmp_path):
    path = tmp_path / "yarns.csv"
    path.write_text("name,L*,a*,b*\nReef,55,-45,-30\nSand,80,5,20\n", "utf-8")
    reef, sand = read_supplier_palette(path, illuminant="D65", observer=2).palette.colours
    assert reef.lab == pytest.approx((55, -45, -30), abs=1e-9)
    assert reef.shift > 1
    assert sand.xyz is None


def test_inks_that_lost_nothing_have_the_narrower_error_bar():
    kept = [NamedColour.of_lab("Cyan", [55, -37, -50]), NamedColour.of("#c81e5a")]
    assert "within ΔE00 3.1" in estimate_words(Colourway("white", kept, 0.5, "ink"))
    assert "within ΔE00 5.5" in estimate_words(Colourway("white", ["#00aeef"], 0.5, "ink"))
    cut = [*kept, NamedColour.of("#ff0000")]
    assert "within ΔE00 5.5" in estimate_words(Colourway("white", cut, 0.5, "ink"))


@pytest.mark.parametrize(("named", "limit"), [(False, (1.96, 4.3)), (True, (1.66, 3.3))])
def test_inks_of_the_press_sets_as_colourways(named, limit):
    """Sets that were not fitted; crossings at equal tone, since a colourway has one strength."""
    mean, p95 = mean_p95(misses_of_colourways(HELD_OUT, named, beyond=True))
    assert mean <= limit[0]
    assert p95 <= limit[1]
    clipped = mean_p95(misses_of_colourways(HELD_OUT, named, beyond=False))
    assert clipped[0] > mean + 0.3
    assert clipped[1] > p95 + 1


def test_what_an_earlier_kit_saved_opens_to_the_same():
    """Channels as coloraide's own mapping had them: so the kit saved them up to version 3."""
    text = "color(display-p3 0 0.9 0.2)"
    rgb = Color(text).convert("srgb").fit(method="oklch-chroma").coords()
    rgb = [min(max(value, 0.0), 1.0) for value in rgb]
    stripe = {"name": "Reef", "rgb": rgb, "text": text}
    white = {"name": "white", "rgb": [1.0, 1.0, 1.0], "text": "white"}
    member = {
        **{"name": "", "ground": white, "stripes": [stripe], "strength": 0.5, "mixing": "woven"},
        **{"warp_share": 0.5, "yule_nielsen": 1.0, "note": "", "origin": {}},
    }
    kept = {
        **{"format": "checkcloth set", "version": 1, "name": "old"},
        **{"check": {"size": "1 in", "stripes": 1}, "colourways": [member]},
    }
    opened = parse_set(json.dumps(kept))
    assert opened.colourways[0].stripes[0].xyz is None
    expected = mix_tones([1, 1, 1], [rgb], 0.5, "woven")
    assert np.array_equal(opened.colourways[0].tones, expected)
    assert json.loads(set_json(opened)) == kept


def test_a_search_scores_the_tones_that_it_finds():
    palette = Palette("reef", [*TEXTS[:2], "teal", "gold", "navy"])
    wanted = Wanted(palette, 2, grounds=["white"], mixings=["woven"])
    found = search(wanted, 20).found
    colourways = [hit.colourway(wanted) for hit in found]
    assert any(any(colourway.known) for colourway in colourways)
    for hit, colourway in zip(found, colourways, strict=True):
        assert hit.value == pytest.approx(float(score(colourway).least_edge), abs=1e-6)


def test_yarns_of_woven_cloth_are_off_by_nothing():
    colourway = Colourway("white", [TEXTS[0], "gold"], 0.8, "woven")
    plan = thread_plan(colourway, Check("1 in", 2), width="8 in", length="8 in", sett="64 per in")
    assert plan.shift == pytest.approx(0, abs=1e-6)


def test_a_score_table_and_a_file_of_colourways_keep_them(tmp_path):
    ways = [Colourway("white", [TEXTS[0], "gold"], 0.8, "woven"), Colourway("white", ["navy"])]
    path = write_colourways(ways, tmp_path / "ways.csv")
    for source in (ways, path):
        table = score_table(source)
        for row, colourway in enumerate(ways):
            assert float(table["normal_least_edge_de2000"][row]) == pytest.approx(
                float(score(colourway).least_edge), abs=1e-6
            )
    assert [one.known for one in read_colourways(path)] == [one.known for one in ways]
