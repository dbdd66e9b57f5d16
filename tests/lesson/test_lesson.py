"""The steps of the lesson, and their answers against arithmetic of our own."""

from __future__ import annotations

import math

import numpy as np
import pytest

from checkcloth import Colourway, delta_e_2000, mix_tones, score, srgb_to_lab
from checkcloth.cloth.named_colour import NamedColour
from checkcloth.errors import ColourError
from checkcloth.lesson import answers, lesson

STEPS = [lesson.crossing, lesson.kinds, lesson.greys, lesson.order, lesson.depth, lesson.pastel,
         lesson.threads, lesson.distance, lesson.side_by_side, lesson.vision]  # fmt: skip


def parts(step):
    """The live step's slider, picture, question, button and answer."""
    across, picture, question, button, answer = step.widget().children
    return across.children[0], picture, question, button, answer


@pytest.mark.parametrize("make", STEPS)
def test_slider_moves_the_picture(make):
    step = make()
    slider, picture, question, _, _ = parts(step)
    assert step.picture().title in picture.value
    assert step.question in question.value
    for value in (slider.min, slider.max):
        slider.value = value
        assert step.picture(value).title in picture.value
        assert 'alt="' in picture.value


@pytest.mark.parametrize("make", STEPS)
def test_answer_is_hidden_until_asked_for(make):
    step = make()
    _, _, _, button, shown = parts(step)
    assert shown.value == ""
    button.value = True
    assert "<b>Answer.</b>" in shown.value
    assert button.description == "Hide the answer"
    button.value = False
    assert shown.value == ""


@pytest.mark.parametrize("make", STEPS)
def test_saved_step_is_a_picture_and_a_question_without_the_answer(make):
    step = make()
    bundle = step._repr_mimebundle_()
    assert "application/vnd.jupyter.widget-view+json" in bundle
    assert bundle["text/html"].count("<img alt=") == 1
    assert "Answer." not in bundle["text/html"]
    assert bundle["text/plain"] == f"<step of the lesson: {step.name}>"


def test_steps_take_colours_of_ones_own():
    step = lesson.kinds("teal", NamedColour.of("coral", "<b>reef</b>"), "black")
    assert "<b>reef" not in step._repr_html_()
    assert "#" in step.answer()
    with pytest.raises(ColourError, match="'tael'"):
        lesson.kinds("tael")
    woven = Colourway("ivory", ["teal", "coral"], 1, "pigment")
    assert "(estimate)" in lesson.vision(woven)._repr_html_()


# -- answers -------------------------------------------------------------------------------------


def test_equal_shares():
    """α(1−α) = (1−α)² at α = 1/2."""
    assert answers.equal_shares().startswith("At 50 %: there the weft and the ground have 25 %")


def test_greenest():
    answer = lesson.kinds().answer()
    assert answer.startswith("pigment (estimate)")
    # Laid over at full strength nothing of the blue is left but as ink.
    red, blue, white = (NamedColour.of(text) for text in ("red", "blue", "white"))
    assert answers.greenest(red, blue, white, 1.0).startswith("multiply")


def test_n_of_pigment():
    """Geometric mean √(0.1 · 0.9) = 0.3; Kubelka–Munk 0.1699 lies below."""
    answer = answers.n_of_pigment()
    assert answer.startswith("None.")
    n10 = ((0.1**0.1 + 0.9**0.1) / 2) ** 10
    for value in (n10, 0.3, 0.169905):
        assert f"{value * 100:.1f} %" in answer


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
    assert answers.depth_for(share).startswith(f"{wanted} %:")


def test_pastel_needs():
    pale, deep, white = (NamedColour.of(text) for text in ("#f6cfd6", "#b8324f", "white"))
    answer = answers.pastel_needs(pale, deep, white)
    for colour, name in ((pale, "pastel"), (deep, "deep colour")):
        at = int(answer.split(f"{name} from ")[1].split(" %")[0])
        for strength, enough in ((at / 100, True), ((at - 1) / 100, False)):
            single = mix_tones(white.rgb, [colour.rgb], strength)[1, 0]
            apart = float(delta_e_2000(srgb_to_lab(single), srgb_to_lab(white.rgb)))
            assert (apart >= 10) == enough
    assert "never: it ends at ΔE00" in answers.pastel_needs(white, deep, white)


def test_balanced_enough():
    """1/2n² ≤ 1/100 for n ≥ √50 = 7.07, so 9 ends."""
    answer = answers.balanced_enough()
    assert answer.startswith("9 ends: the warp has 50.62 % (41/81)")


def test_fuses_beyond():
    """Half an inch at one minute of arc: 12.7 mm × 3437.75 = 43.7 m."""
    assert answers.fuses_beyond("1/4 in").startswith("About 44 m, twice the 22 m of 1/4 in")


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
            assert (least >= 5) == enough, strength
    assert answers.seen_by_all(Colourway("white", ["#fffffe"])).startswith("At none.")
