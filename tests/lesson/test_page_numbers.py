"""Every number that the lesson's page shows, against arithmetic done here.

The page's own modules run in Node. Mixing is written out below from its definition; L*a*b*,
CIEDE2000 and the recovery of spectra are the kit's, which other tests hold to published tables.
"""

from __future__ import annotations

import itertools
import math
import re
import runpy
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from checkcloth import Colourway, delta_e_2000, srgb_to_lab
from checkcloth.cloth.named_colour import NamedColour
from checkcloth.colour.reflectance import absorption, absorption_to_srgb
from checkcloth.colour.spaces import linear_to_srgb, linear_to_xyz, srgb_to_linear
from checkcloth.colour.vision import see_as
from checkcloth.lesson import lesson
from checkcloth.lesson.step import Step, page_data

PAGE = Path(__file__).resolve().parents[1] / "page" / "page_calls.py"
ask_page = runpy.run_path(str(PAGE))["ask_page"]

COLOURS = (
    ("#f2b084", "#8fc7c1", "#fdfaf5"),
    ("#c0392b", "#1f4fa3", "white"),
    ("black", "yellow", "#2f4a7c"),
    ("#808080", "white", "black"),
)
STRENGTHS = (0, 1, 30, 35, 50, 69, 99, 100)
CLOTHS = (
    lesson.CLOTH,
    Colourway("black", ["white", "#1f4fa3"], 0.45, "woven", warp_share=0.4),
    Colourway("white", ["#c0392b", "teal", "gold", "#444"], 0.8, "pigment"),
)


def worked(steps: list[tuple[Step, dict[str, float]]]) -> list[dict[str, Any]]:
    """What the page shows of each step with its sliders there."""
    calls = []
    for step, moved in steps:
        data = page_data([step])
        (plain,) = data["steps"]
        at = {slider.key: slider.value for slider in step.sliders} | moved
        rgb = {each.key: list(each.colour.rgb) for each in step.colours}
        called = {each.key: each.colour.name for each in step.colours}
        calls.append(["lesson/steps/all.js", "workOut", [data, plain, rgb, called, at]])
    return list(ask_page(calls))


def numbers(text: str) -> list[float]:
    """Numbers in a text; names of measures and colour codes are none."""
    bare = re.sub(r"#[0-9a-f]{6}|ΔE00|CIEDE2000|E00", " ", text.replace("−", "-"))
    return [float(found) for found in re.findall(r"(?<![\w.])-?\d+(?:\.\d+)?", bare)]


def cells(work: dict[str, Any]) -> list[list[str]]:
    return [row["cells"] for row in work["sums"]["rows"]]


def tags(picture: dict[str, Any]) -> list[str]:
    return [tag["text"] for tag in picture.get("tags", [])]


def exact(share: float) -> str:
    """A share of at most four decimals as per cent, with the digits it has."""
    return f"{round(share * 100, 2):g} %"


def codes_near(found: str, rgb: Any) -> bool:
    """Whether a code is that colour's; one step off where it lies between two codes."""
    shown = [int(found[at : at + 2], 16) for at in (1, 3, 5)]
    return all(abs(a - 255 * b) <= 0.5 + 1e-4 for a, b in zip(shown, rgb, strict=True))


def over(a: float, top: Any, under: Any) -> Any:
    return a * np.asarray(top) + (1 - a) * np.asarray(under)


def crossing(name: str, a: float, warp: Any, weft: Any, ground: Any, share: float = 0.5) -> Any:
    """The crossing of a warp over a weft stripe on a ground, encoded sRGB."""
    if name == "source-over":
        return over(a, warp, over(a, weft, ground))
    light = [srgb_to_linear(colour) for colour in (warp, weft, ground)]
    if name == "source-over-linear":
        return linear_to_srgb(over(a, light[0], over(a, light[1], light[2])))
    if name == "multiply":
        warp, weft, ground = map(np.asarray, (warp, weft, ground))
        return ground * (1 - a + a * weft) * (1 - a + a * warp)
    if name == "woven":
        parts = (a * share, a * (1 - share), 1 - a)
        return linear_to_srgb(sum(part * each for part, each in zip(parts, light, strict=True)))
    ks = [absorption(np.asarray(colour)) for colour in (warp, weft, ground)]
    return absorption_to_srgb(over(a, ks[0], over(a, ks[1], ks[2])))


def tone(name: str, a: float, ground: Any, stripes: Any, i: int, j: int, share: float = 0.5) -> Any:
    """The tone of warp stripe i and weft stripe j, encoded sRGB; 0 is the ground."""
    warp, weft = (stripes[k - 1] if k else None for k in (i, j))
    if name == "multiply":
        clear = np.ones(3)
        return crossing(name, a, clear if warp is None else warp, clear if weft is None else weft,
                        ground)  # fmt: skip
    if name == "woven":
        return crossing(name, a, ground if warp is None else warp,
                        ground if weft is None else weft, ground, share)  # fmt: skip
    if warp is None:  # laid on the ground, a stripe is one layer whichever way it runs
        warp, weft = ground if weft is None else weft, None
    return crossing(name, a, warp, ground if weft is None else weft, ground)


def apart(one: Any, two: Any) -> float:
    return float(delta_e_2000(srgb_to_lab(one), srgb_to_lab(two)))


def settings(make: Any) -> Iterator[tuple[Step, dict[str, float]]]:
    for colours, strength in itertools.product(COLOURS, STRENGTHS):
        yield make(*colours), {"strength": strength}


def test_1_shares():
    """α, α(1−α) and (1−α)²; whole per cents have at most two decimals, and all are shown."""
    cases = list(settings(lesson.crossing))
    for (_, at), work in zip(cases, worked(cases), strict=True):
        s = at["strength"]
        a = s / 100
        shares = [a, a * (1 - a), (1 - a) ** 2]
        assert [row[1] for row in cells(work)] == [exact(share) for share in shares]
        assert sum(numbers(" ".join(row[1] for row in cells(work)))) == pytest.approx(100)
        for (sum_, _), share in zip(cells(work), shares, strict=True):
            assert math.prod(numbers(sum_)) == pytest.approx(share)
        assert tags(work["pictures"][1]) == [exact(x) for x in shares if exact(x) in
                                             tags(work["pictures"][1])]  # fmt: skip
        assert all(exact(share) in work["pictures"][1]["label"] for share in shares)
        if 0 < s < 100:
            assert numbers(work["said"]) == pytest.approx(
                [s, 100, 100 - s, s, 100 - s, round(100 * shares[1], 2)]
            )


def test_1_the_areas_are_the_shares():
    (work,) = worked([(lesson.crossing(), {"strength": 35})])
    _, weft, warp = work["pictures"][1]["drawing"]["shapes"]
    area = [shape[1]["width"] * shape[1]["height"] / 1e4 for shape in (warp, weft)]
    assert area == pytest.approx([0.35, 0.35 * 0.65])


@pytest.mark.parametrize("make", [lesson.crossing, lesson.kinds])
def test_the_pixels_are_the_tones(make):
    (work,) = worked([(make(*COLOURS[1]), {"strength": 40})])
    image = work["pictures"][0]["image"]
    pixels = np.array(image["data"]).reshape(image["height"], image["width"], 4)[..., :3]
    rgb = [each.colour.rgb for each in make(*COLOURS[1]).colours]
    for (i, j), (y, x) in {(0, 0): (0, 0), (1, 0): (0, 1), (0, 2): (1, 0), (1, 2): (1, 1)}.items():
        wanted = tone("source-over", 0.4, rgb[2], rgb[:2], i, j)
        assert np.abs(pixels[y, x] - 255 * wanted).max() <= 0.5 + 1e-4


def test_2_five_ways():
    cases = list(settings(lesson.kinds))
    for (step, at), work in zip(cases, worked(cases), strict=True):
        warp, weft, ground = (each.colour.rgb for each in step.colours)
        green = []
        for (shown, a_star), name in zip(cells(work), lesson.WAYS, strict=True):
            wanted = crossing(name, at["strength"] / 100, warp, weft, ground)
            assert codes_near(shown, wanted), (name, shown)
            green.append(float(srgb_to_lab(np.clip(wanted, 0, 1))[1]))
            assert numbers(a_star)[0] == pytest.approx(green[-1], abs=0.051)
        if at["strength"]:
            found = numbers(work["said"].split(". At 100")[0])
            assert found == pytest.approx([min(green), max(green)], abs=0.051)


@pytest.mark.parametrize("n", [1, 1.5, 2, 3.7, 10])
def test_3_four_sums(n):
    """Murray–Davies, Yule–Nielsen, their limit, single-constant Kubelka–Munk."""
    wanted = [0.5, ((0.1 ** (1 / n) + 0.9 ** (1 / n)) / 2) ** n, math.sqrt(0.09), 0.169905]
    mine = lesson.greys("#c0392b", "#8fc7c1")
    greys, coloured = worked([(lesson.greys(), {"n": n}), (mine, {"n": n})])
    assert [numbers(row[0])[0] for row in cells(greys)] == [round(100 * w, 1) for w in wanted]
    assert [numbers(tag)[-1] for tag in tags(greys["pictures"][1])] == [
        round(100 * w, 1) for w in wanted
    ]
    assert tags(greys["pictures"][0]) == ["10.0 %", "90.0 %"]
    dark, light = (srgb_to_linear(each.colour.rgb) for each in mine.colours)
    by_hand = [
        (dark + light) / 2,
        ((dark ** (1 / n) + light ** (1 / n)) / 2) ** n,
        np.sqrt(dark * light),
        srgb_to_linear(
            absorption_to_srgb(sum(absorption(np.array(e.colour.rgb)) for e in mine.colours) / 2)
        ),
    ]
    for row, sum_ in zip(cells(coloured), by_hand, strict=True):
        assert numbers(row[0])[0] == pytest.approx(100 * linear_to_xyz(sum_)[1], abs=0.051)
    assert ("fitted" in greys["said"]) == (n > 2)


def test_4_order():
    cases = list(settings(lesson.order))
    for (step, at), work in zip(cases, worked(cases), strict=True):
        one, two, ground = (each.colour.rgb for each in step.colours)
        far = []
        for (first, second, shown), name in zip(cells(work), ("source-over", "woven"), strict=True):
            pair = [crossing(name, at["strength"] / 100, *each, ground)
                    for each in ((one, two), (two, one))]  # fmt: skip
            assert codes_near(first, pair[0])
            assert codes_near(second, pair[1])
            far.append(apart(*pair))
            assert numbers(shown)[0] == pytest.approx(far[-1], abs=0.051)
        assert numbers(work["said"]) == pytest.approx([at["strength"], *far], abs=0.051)
        assert far[1] == pytest.approx(0, abs=1e-6)


def test_5_depth():
    cases = [(lesson.depth(*colours[1:]), {"strength": s}) for colours, s in
             itertools.product(COLOURS, STRENGTHS)]  # fmt: skip
    for (_, at), work in zip(cases, worked(cases), strict=True):
        a = at["strength"] / 100
        laid, woven = (a, 1 - (1 - a) ** 2), (a / 2, a)
        assert cells(work) == [[exact(x) for x in laid], [exact(x) for x in woven]]
        for picture, (single, twice) in zip(work["pictures"], (laid, woven), strict=True):
            assert tags(picture) == [exact(single), exact(single), exact(twice)]
        if 0 < a < 1:
            s = at["strength"]
            second = round(100 * a * (1 - a), 2)
            twice = round(100 * laid[1], 2)
            assert numbers(work["said"]) == pytest.approx([s, 100 - s, s, second, twice, s])


def test_5_half_of_a_woven_single_is_ground():
    (work,) = worked([(lesson.depth("black", "white"), {"strength": 100})])
    image = work["pictures"][1]["image"]
    black = np.array(image["data"]).reshape(36, 36, 4)[..., 0] == 0
    assert black[12:24, 12:24].all()
    assert black[:12, 12:24].mean() == black[12:24, :12].mean() == 0.5
    assert not black[:12, :12].any()


def test_6_pastel():
    cases = list(settings(lesson.pastel))
    for (step, at), work in zip(cases, worked(cases), strict=True):
        pale, deep, ground = (each.colour.rgb for each in step.colours)
        far = []
        for (shown, number), colour in zip(cells(work), (pale, deep), strict=True):
            single = over(at["strength"] / 100, colour, ground)
            assert codes_near(shown, single)
            far.append(apart(single, ground))
            assert numbers(number)[0] == pytest.approx(far[-1], abs=0.051)
        assert numbers(work["said"]) == pytest.approx([at["strength"], *far], abs=0.051)


@pytest.mark.parametrize("ends", range(1, 13))
def test_7_threads(ends):
    """Counted in the weave that the page draws, band by band."""
    work = worked([(lesson.threads("red", "blue", "white"), {"ends": ends})])[0]
    image = work["pictures"][0]["image"]
    data = np.array(image["data"]).reshape(3 * ends, 3 * ends, 4)
    red, blue = (data[..., 0] == 255) & (data[..., 1] == 0), data[..., 0] == 0
    middle, first = slice(ends, 2 * ends), slice(0, ends)
    counts = [red[first, middle].sum(), blue[middle, first].sum(), red[middle, middle].sum()]
    for (words, share), count in zip(cells(work), counts, strict=True):
        assert words == f"{count} of {ends * ends}"
        assert numbers(share)[0] == pytest.approx(100 * count / ends**2, abs=0.0051)
    if ends % 2:
        assert counts[0] == (ends**2 - 1) // 2
        assert counts[1] == counts[2] == (ends**2 + 1) // 2
    more, less = (numbers(tags(work["pictures"][1])[k])[0] for k in (0, 1))
    assert more == pytest.approx(100 * counts[2] / ends**2, abs=0.0051)
    assert less == pytest.approx(100 * counts[0] / ends**2, abs=0.0051)


def test_7_farther_off_the_cells_are_those_counts_as_light():
    work = worked([(lesson.threads("black", "black", "white"), {"ends": 3})])[0]
    data = np.array(work["pictures"][1]["image"]["data"]).reshape(3, 3, 4)[..., 0]
    for (y, x), light in {(0, 0): 1, (0, 1): 5 / 9, (1, 0): 4 / 9, (1, 1): 0}.items():
        wanted = 255 * linear_to_srgb(np.full(3, float(light)))[0]
        assert abs(data[y, x] - wanted) <= 0.5 + 1e-4


@pytest.mark.parametrize(("metres", "size", "millimetres"), [
    (1, 0, 3.175), (10, 1, 6.35), (21.8, 1, 6.35), (21.9, 1, 6.35), (80, 5, 25.4),
])  # fmt: skip
def test_8_distance(metres, size, millimetres):
    """One minute of arc is 1/60 of a degree; a check is seen under 2·atan(size / 2 distance)."""
    steps = [(lesson.distance(cloth), {"distance": metres, "size": size}) for cloth in CLOTHS]
    for cloth, work in zip(CLOTHS, worked(steps), strict=True):
        minutes = 60 * math.degrees(2 * math.atan(millimetres / 1000 / metres / 2))
        limit = millimetres / 1000 / math.tan(math.radians(1 / 60))
        (covers,), (beyond,), (flat,) = cells(work)
        assert numbers(covers)[0] == pytest.approx(minutes, abs=0.0051)
        assert numbers(beyond)[0] == pytest.approx(limit, abs=0.051)
        assert work["said"].endswith("still seen." if metres < limit else "fused.")
        number = len(cloth.stripes)
        share = np.array([number, *[1] * number]) / (2 * number)
        light = np.einsum("i,j,ijc->c", share, share, srgb_to_linear(cloth.tones))
        assert codes_near(flat, linear_to_srgb(light))


def test_8_the_blur_keeps_the_light_and_ends_in_the_far_colour():
    from_near, from_far = worked([
        (lesson.distance(), {"distance": 1, "size": 5}),
        (lesson.distance(), {"distance": 80, "size": 0}),
    ])  # fmt: skip
    for work in (from_near, from_far):
        image = work["pictures"][1]["image"]
        light = srgb_to_linear(np.array(image["data"]).reshape(-1, 4)[:, :3] / 255)
        flat = [int(cells(work)[2][0][at : at + 2], 16) / 255 for at in (1, 3, 5)]
        assert light.mean(axis=0) == pytest.approx(srgb_to_linear(flat), abs=0.004)
    assert np.ptp(np.array(image["data"]).reshape(-1, 4), axis=0).max() <= 1
    # Near by, the middle of a check is its own tone.
    near = from_near["pictures"][1]["image"]
    data = np.array(near["data"]).reshape(near["height"], near["width"], 4)[..., :3]
    pixels = near["width"] // 12
    assert np.abs(data[pixels // 2, pixels // 2] - 255 * lesson.CLOTH.tones[1, 1]).max() <= 1


def test_8_a_spot_of_two_minutes_is_half_as_high_one_minute_away():
    """A step of light seen through a Gaussian of that width: erf at the edge's two sides."""
    spot = 2 / (2 * math.sqrt(2 * math.log(2)))
    (shares,) = ask_page([["lesson/steps/distance.js", "seenShares", [1, spot]]])
    pixels = len(shares) // 2
    middle = shares[pixels // 2][1]
    bands = [(k * 2, k * 2 + 1) for k in range(-30, 31)]  # the stripe's own bands, in checks
    x = (pixels // 2 + 0.5) / pixels
    below = [[math.erf((edge - x) / spot / math.sqrt(2)) / 2 for edge in band] for band in bands]
    wanted = sum(end - start for start, end in below)
    assert middle == pytest.approx(wanted, abs=1e-5)


@pytest.mark.parametrize("strength", STRENGTHS)
def test_9_every_way(strength):
    steps = [(lesson.side_by_side(cloth), {"strength": strength}) for cloth in CLOTHS]
    for cloth, work in zip(CLOTHS, worked(steps), strict=True):
        ground, stripes = cloth.ground.rgb, [each.rgb for each in cloth.stripes]
        sides = range(1, len(stripes) + 1)
        labs = {
            name: srgb_to_lab(np.clip([
                tone(name, strength / 100, ground, stripes, i, j, cloth.warp_share)
                for i in sides for j in sides
            ], 0, 1))
            for name in lesson.WAYS
        }  # fmt: skip
        for (mean, largest), name in zip(cells(work), lesson.WAYS[1:], strict=True):
            far = delta_e_2000(labs["source-over"], labs[name])
            assert numbers(mean)[0] == pytest.approx(far.mean(), abs=0.051)
            assert numbers(largest)[0] == pytest.approx(far.max(), abs=0.051)
        most = max(
            float(delta_e_2000(labs[a], labs[b]).mean())
            for a, b in itertools.combinations(lesson.WAYS, 2)
        )
        wanted = [strength, most] if most >= 0.05 else [strength]
        assert numbers(work["said"]) == pytest.approx(wanted, abs=0.051)


@pytest.mark.parametrize(("strength", "severity"), [
    (60, 100), (40, 100), (80, 55), (30, 0), (0, 70),
])  # fmt: skip
def test_10_vision(strength, severity):
    """The faintest of the edges ground–single and single–crossing; grey has no severity."""
    steps = [
        (lesson.vision(cloth), {"strength": strength, "severity": severity}) for cloth in CLOTHS
    ]
    for cloth, work in zip(CLOTHS, worked(steps), strict=True):
        ground, stripes = cloth.ground.rgb, [each.rgb for each in cloth.stripes]
        number = len(stripes)
        edges = [((0, 0), (i, 0)) for i in range(1, number + 1)]
        edges += [((0, 0), (0, i)) for i in range(1, number + 1)]
        pairs = list(itertools.product(range(1, number + 1), repeat=2))
        edges += [(side, (i, j)) for i, j in pairs for side in ((i, 0), (0, j))]
        tones = {
            at: np.clip(tone(cloth.mixing, strength / 100, ground, stripes, *at, cloth.warp_share),
                        0, 1)
            for edge in edges for at in edge
        }  # fmt: skip
        found = []
        for (shown,), name in zip(
            cells(work), ("normal", "protan", "deutan", "tritan", "grey"), strict=True
        ):
            how = 1.0 if name == "grey" else severity / 100
            least = min(
                apart(see_as(tones[one], name, how), see_as(tones[two], name, how))
                for one, two in edges
            )
            found.append(least)
            assert numbers(shown)[0] == pytest.approx(least, abs=0.051), name
        said = numbers(work["said"])
        assert said[0] == pytest.approx(found[0], abs=0.051)
        assert said[-1] == pytest.approx(min(found), abs=0.051)
        assert ("estimate" in work["said"]) == (cloth.mixing == "pigment")


def test_the_last_task_checks_both_wishes():
    """L* between the singles, and of the mean of the light of all checks."""
    cases = list(settings(lesson.task))
    met = set()
    for (step, at), work in zip(cases, worked(cases), strict=True):
        first, second, ground = (each.colour.rgb for each in step.colours)
        tones = np.array([
            [tone("source-over", at["strength"] / 100, ground, [first, second], i, j)
             for j in (1, 0, 2, 0)] for i in (1, 0, 2, 0)
        ])  # fmt: skip
        lightness = srgb_to_lab(tones)[..., 0]
        afar = linear_to_srgb(srgb_to_linear(tones).mean(axis=(0, 1)))
        wanted = [abs(lightness[0, 1] - lightness[2, 1]), float(srgb_to_lab(afar)[0])]
        assert [goal["value"] for goal in work["goals"]] == pytest.approx(wanted, abs=1e-4)
        assert [goal["met"] for goal in work["goals"]] == [wanted[0] >= 12, wanted[1] >= 85]
        met.add(tuple(goal["met"] for goal in work["goals"]))
    assert len(met) > 1


def test_answers_are_pythons():
    """The page words what Python does, whatever the colours."""
    steps = [
        *lesson.all_steps()[:10],
        *(lesson.all_steps(CLOTHS[1], "7 mm")[7:10]),
        *(lesson.all_steps(CLOTHS[2], "1 in")[7:10]),
        lesson.kinds("white", "black", "red"),
        lesson.kinds("red", "lime", "blue"),
        lesson.greys("black", "white"),
        lesson.greys("#555555", "#666666"),
        lesson.greys("red", "lime"),
        lesson.order("white", "#fffffe"),
        lesson.order("navy", "gold", "black"),
        lesson.pastel("white", "navy", "#fffffe"),
        lesson.vision(Colourway("white", ["#fffffe"])),
        lesson.vision(Colourway("white", ["navy"])),
    ]
    for step, work in zip(steps, worked([(step, {}) for step in steps]), strict=True):
        assert work["answer"] == step.answer(), step.name


def test_choices_are_what_is_asked_for():
    kinds, sides = worked([(lesson.kinds(), {}), (lesson.side_by_side(), {})])
    assert kinds["choices"][-1] == "pigment (estimate)"
    assert len(kinds["choices"]) == 5
    cloth = lesson.CLOTH
    assert sides["choices"] == [cloth.tone_name(i, j) for i in (1, 2, 3) for j in (1, 2, 3)]


def test_the_slider_never_starts_on_the_answer():
    """Step 1 asks for 50 %, step 3 for no n at all, step 5 for 69 and 90 %, step 7 for 9 ends."""
    starts = {step.key: step.sliders[0].value for step in lesson.all_steps()}
    answers = {step.key: numbers(step.answer())[0] for step in lesson.all_steps()[:10]}
    for key in ("crossing", "order", "depth", "pastel", "threads", "distance"):
        assert starts[key] != answers[key]


def test_names_with_markup_stay_names():
    step = lesson.kinds("teal", NamedColour.of("coral", "<b>reef</b>"), "black")
    assert "<b>reef" not in step._repr_html_()
    assert page_data([step])["steps"][0]["fields"][1][2] == "<b>reef</b>"
