"""The steps of the lesson, and their answers against arithmetic of our own."""

from __future__ import annotations

import base64
import math
import re
import xml.etree.ElementTree as ET

import numpy as np
import pytest

from checkcloth import Colourway, delta_e_2000, mix_tones, score, srgb_to_lab
from checkcloth.cloth.named_colour import NamedColour
from checkcloth.colour.spaces import linear_to_xyz, srgb_to_linear
from checkcloth.errors import ArgumentError, ColourError
from checkcloth.lesson import answers, lesson, lesson_page, teacher_page
from checkcloth.lesson.texts import STEPS, TEXTS

ALL = lesson.all_steps()


def test_ten_steps_and_a_task():
    assert [step.key for step in ALL] == [*STEPS, "task"]
    assert [step.number for step in ALL] == [*range(1, 11), 0]


@pytest.mark.parametrize("step", ALL, ids=lambda step: step.key)
def test_saved_step_is_a_picture_and_a_question_without_the_answer(step):
    html = step._repr_html_()
    assert html.count("<img alt=") == 1
    assert html.count("Question.") == bool(step.question)
    assert "Answer." not in html
    assert repr(step).startswith("<step of the lesson: " if step.number else "<last task: ")


@pytest.mark.parametrize("step", ALL, ids=lambda step: step.key)
def test_stills_follow_the_sliders(step):
    for slider in step.sliders:
        low, high = (step.picture(**{slider.key: end}) for end in (slider.low, slider.high))
        for still in (low, high):
            assert ET.fromstring(still.svg).tag.endswith("svg")
            assert len(still.alt) > 30
        assert low.svg != high.svg or low.title != high.title
    assert step.picture().svg == step.picture().svg
    data = re.search(r'src="data:image/svg\+xml;base64,([^"]+)"', step._repr_html_())[1]
    assert base64.b64decode(data).decode() == step.picture().svg


def test_a_still_shows_the_tones():
    tones = mix_tones(*(lesson.crossing().rgb(key) for key in ("ground",)),
                      [lesson.crossing().rgb(key) for key in ("warp", "weft")], 0.3)  # fmt: skip
    svg = lesson.crossing().picture().svg
    for warp, weft in ((0, 0), (1, 0), (0, 2), (1, 2)):
        assert f'fill="{answers.hex_of(tones[warp, weft])}"' in svg


@pytest.mark.parametrize("ends", [3, 4, 7])
def test_the_still_weave_begins_as_the_kit_counts(ends):
    """The red of the middle cell covers the crossing's share of it."""
    svg = lesson.threads("red", "blue", "white").picture(ends=ends).svg
    side = 200 / (3 * ends)
    red = 0
    for x, y, width in re.findall(r'fill="#ff0000" d="M([\d.]+) ([\d.]+)h([\d.]+)v', svg):
        column, row = (round(float(at) / side) for at in (x, y))
        assert float(width) == pytest.approx(side, rel=1e-3) or ends == 1
        red += ends <= column < 2 * ends and ends <= row < 2 * ends
    assert red == (ends * ends + 1) // 2


@pytest.mark.parametrize(("moved", "argument"), [
    ({"strength": 101}, "strength"), ({"strength": -1}, "strength"),
    ({"strength": "half"}, "strength"), ({"ends": 3}, "slider"),
])  # fmt: skip
def test_bad_sliders_are_named(moved, argument):
    with pytest.raises(ArgumentError) as caught:
        lesson.crossing().picture(**moved)
    assert caught.value.argument == argument


def test_steps_take_colours_of_ones_own():
    step = lesson.kinds("teal", NamedColour.of("coral", "<b>reef</b>"), "black")
    assert "<b>reef" not in step._repr_html_()
    assert "#" in step.answer()
    with pytest.raises(ColourError, match="'tael'"):
        lesson.kinds("tael")
    woven = Colourway("ivory", ["teal", "coral"], 1, "pigment")
    assert "(estimate)" in lesson.vision(woven)._repr_html_()


def test_every_word_in_braces_is_closed():
    for text in TEXTS.values():
        assert re.fullmatch(r"(?:[^{}]|\{[^{}]+\})*", text.words)
        assert len(text.words) < 520


# -- answers -------------------------------------------------------------------------------------


def test_equal_shares():
    """α(1−α) = (1−α)² at α = 1/2, and at 1, which the question shuts out."""
    answer = answers.equal_shares()
    assert answer.startswith("At 50 %. There the weft has 0.50 × 0.50")
    assert "25 % each" in answer
    assert "Below 100 %" in TEXTS["crossing"].question


def test_greenest():
    answer = lesson.kinds().answer()
    assert answer.startswith("pigment (estimate): #")
    # Laid over at full strength nothing of the blue is left but under multiply and woven.
    red, blue, white = (NamedColour.of(text) for text in ("red", "blue", "white"))
    assert answers.greenest(red, blue, white, 1.0).startswith("multiply")


def test_n_of_pigment():
    """Geometric mean √(0.1 · 0.9) = 0.3; Kubelka–Munk 0.1699 lies below."""
    answer = lesson.greys().answer()
    assert answer.startswith("None up to 10.")
    n10 = ((0.1**0.1 + 0.9**0.1) / 2) ** 10
    for value in (n10, 0.3, 0.169905):
        assert f"{value * 100:.1f} %" in answer
    # Of vivid colours the mean of each channel falls as low as pigment does.
    red, lime = NamedColour.of("red"), NamedColour.of("lime")
    n = float(answers.n_of_pigment(red, lime).split(",")[0].removeprefix("n = "))
    pigment = mix_tones(lime.rgb, [red.rgb], 0.5, "pigment")[1, 0]
    # Half red, half lime: each of two channels is (1/2)^n of full light.
    light = [(0.2126 + 0.7152) * 0.5**k for k in (n - 0.1, n)]
    wanted = linear_to_xyz(srgb_to_linear(pigment))[1]
    assert light[1] <= wanted < light[0]


def test_order_shows():
    one, two, ground = (NamedColour.of(text) for text in ("#c0392b", "#1f4fa3", "white"))
    at = int(answers.order_shows(one, two, ground).split()[1])
    tones = srgb_to_lab(mix_tones(ground.rgb, [one.rgb, two.rgb], np.array([at - 1, at]) / 100))
    before, then = delta_e_2000(tones[:, 1, 2], tones[:, 2, 1])
    assert before < 10 <= then
    assert answers.order_shows(one, one, ground).startswith("Never")


@pytest.mark.parametrize("share", [0.5, 0.75, 0.9, 0.99])
def test_depth_for(share):
    """1 − (1−α)² = s at α = 1 − √(1−s)."""
    wanted = math.ceil(round((1 - math.sqrt(1 - share)) * 100, 9))
    assert answers.depth_for(share).startswith(f"Laid over, {wanted} %:")
    assert f"Woven, {share * 100:.0f} %" in answers.depth_for(share)


def test_pastel_needs():
    pale, deep, white = (NamedColour.of(text) for text in ("#f6cfd6", "#b8324f", "white"))
    answer = answers.pastel_needs(pale, deep, white)
    for colour, name in ((pale, "pastel"), (deep, "deep")):
        at = int(answer.split(f"{name} from ")[1].split(" %")[0])
        for strength, enough in ((at / 100, True), ((at - 1) / 100, False)):
            single = mix_tones(white.rgb, [colour.rgb], strength)[1, 0]
            apart = float(delta_e_2000(srgb_to_lab(single), srgb_to_lab(white.rgb)))
            assert (apart >= 10) == enough
    assert "never: it ends at ΔE00" in answers.pastel_needs(white, deep, white)


def test_balanced_enough():
    """1/2n² ≤ 1/100 for n ≥ √50 = 7.07, so 9 ends; 41/81 and 40/81."""
    answer = answers.balanced_enough()
    assert answer.startswith("9 ends: a crossing shows the warp on 41 of 81, 50.62 %")
    assert "a single on 40, 49.38 %. With 7 it is 51.02 % and 48.98 %." in answer


def test_fuses_beyond():
    """Half an inch at one minute of arc: 12.7 mm × 3437.75 = 43.7 m."""
    assert answers.fuses_beyond("1/4 in").startswith("43.7 m, twice the 21.8 m of 1/4 in")


def test_changes_most():
    cloth = lesson.CLOTH
    one, two = (srgb_to_lab(cloth.with_(mixing=m).tones[1:, 1:]) for m in ("source-over", "woven"))
    apart = delta_e_2000(one, two)
    i, j = np.unravel_index(apart.argmax(), apart.shape)
    answer = answers.changes_most(cloth)
    assert answer.startswith(cloth.tone_name(int(i) + 1, int(j) + 1))
    assert f"ΔE00 {apart.max():.1f}" in answer


def test_seen_by_all():
    clear = Colourway("white", ["navy"], 0.5)
    answer = answers.seen_by_all(clear)
    first, last = (int(text) for text in answer.split(" %")[0].removeprefix("From ").split(" to "))
    for strength, enough in ((first, True), (last, True), (first - 1, False), (last + 1, False)):
        if 0 <= strength <= 100:
            cloth = clear.with_(strength=strength / 100)
            least = min(
                float(score(cloth, vision).least_edge)
                for vision in ("normal", "protan", "deutan", "tritan", "grey")
            )
            assert (least >= 3) == enough, strength
    assert answers.seen_by_all(Colourway("white", ["#fffffe"])).startswith("At none.")


def test_wishes_of_the_last_task():
    """The cloth that the teacher is told of meets both; the one to begin with does not."""
    start = ALL[-1]
    one = answers.wishes(*(each.colour for each in start.colours), 0.5)
    assert one[0] < answers.STRIPES_APART
    assert one[1] >= answers.LIGHT_FROM_AFAR
    said = answers.one_that_meets()
    apart, light = (float(found) for found in re.findall(r"(\d+\.\d) (?:apart|from)", said))
    assert apart >= answers.STRIPES_APART
    assert light >= answers.LIGHT_FROM_AFAR


def test_a_cloth_that_the_lesson_cannot_draw_is_refused_before_anything_is_written(tmp_path):
    """A weft of its own was left out of the pictures, and the answers were of another cloth."""
    own = Colourway("white", ["plum", "teal"], weft_stripes=["gold"])
    for make in (lesson_page, teacher_page):
        with pytest.raises(ArgumentError, match="weft_stripes=None") as fault:
            make(tmp_path / "a.html", own)
        assert fault.value.argument == "colourway"
        make(tmp_path / f"{make.__name__}.html", own.with_(weft_stripes=None))
    assert not (tmp_path / "a.html").exists()
    with pytest.raises(ArgumentError, match="vision take a whole colourway"):
        lesson.kinds(own)
