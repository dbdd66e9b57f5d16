"""The teacher's page: aims, minutes, answers and common mistakes of every step, as HTML."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from html import escape

from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.length import Length
from checkcloth.lesson.lesson import CLOTH, all_steps
from checkcloth.lesson.step import Step

TEACHER_STYLE = """
:root { color-scheme: light dark; --ink: #1c1c1c; --paper: #fff; }
@media screen and (prefers-color-scheme: dark) { :root { --ink: #dfdfdf; --paper: #111; } }
:root { --soft: color-mix(in srgb, var(--ink) 74%, var(--paper)); }
:root { --line: color-mix(in srgb, var(--ink) 16%, var(--paper)); }
*, *::before, *::after { box-sizing: border-box; }
body { margin: 0; background: var(--paper); color: var(--ink); }
body { font: 15px/24px system-ui, -apple-system, "Segoe UI", sans-serif; }
main { max-width: 960px; margin: 0 auto; padding: 32px 24px 48px; }
h1, h2, h3, p, ul, ol, dl, dd { margin: 0; padding: 0; }
h1 { font-size: 24px; line-height: 32px; font-weight: 600; }
h2 { font-size: 18px; line-height: 24px; font-weight: 600; margin-bottom: 12px; }
h2 span { color: var(--soft); font-weight: 400; margin-right: 8px; }
h3 { font-size: 15px; line-height: 24px; font-weight: 600; margin-top: 12px; }
b, dt { font-weight: 600; }
section { border-top: 1px solid var(--line); padding-top: 16px; margin-top: 24px; }
section { break-inside: avoid; }
.quiet { color: var(--soft); }
.columns { display: grid; grid-template-columns: minmax(0, 1fr) minmax(0, 1fr); gap: 0 48px; }
.columns > div > h3:first-child { margin-top: 0; }
p, li, dt, dd { font-size: 14px; line-height: 21px; }
dl { display: grid; gap: 8px; }
dl > div { display: grid; grid-template-columns: 120px minmax(0, 1fr); }
ol, ul { list-style: none; }
ol li { display: grid; grid-template-columns: 56px minmax(0, 1fr); padding: 2px 0; }
ol li span { color: var(--soft); font-variant-numeric: tabular-nums; }
ul li { padding: 2px 0 2px 14px; text-indent: -14px; }
ul li::before { content: "– "; color: var(--soft); }
@media (max-width: 640px) {
  main { padding-inline: 16px; }
  .columns, dl > div { grid-template-columns: minmax(0, 1fr); }
  .columns > div + div { margin-top: 12px; }
}
@page { size: A4; margin: 14mm; }
@media print {
  main { padding: 0; max-width: none; }
  p, li, dd, dt { font-size: 9.5pt; line-height: 13.5pt; }
  section { margin-top: 10pt; padding-top: 8pt; }
  h1 { font-size: 16pt; }
}
"""


@dataclass(frozen=True)
class Notes:
    """What a teacher wants to know of one step."""

    aim: str
    course: Sequence[tuple[int, str]]  #: minutes, and what happens in them
    mistakes: Sequence[str]
    quick: str = ""  #: a harder question for the quick, with its answer


NOTES: dict[str, Notes] = {
    "crossing": Notes(
        "A crossing is three areas, not one mysterious new colour: warp, weft and ground, in "
        "shares that follow from the strength alone.",
        (
            (2, "Slider at 30 %. Where does the 49 come from? Let them say 0.7 of 0.7."),
            (3, "Each writes an answer first, then presses Try mine."),
            (2, "Show the answer. Swap warp and weft: the numbers stay, the colour does not."),
            (1, "Words: warp, weft, ground, crossing, strength."),
        ),
        (
            "“30 % warp and 30 % weft.” The weft gets 30 % of what is left.",
            "“It depends on the colours.” Change them: the numbers stand still.",
            "“100 % is wrong.” There both are nothing and so equal: the question shuts it out.",
        ),
        "At which strength has the weft the most? (50 %: a(1 − a) is greatest there, 25 %.)",
    ),
    "kinds": Notes(
        "There is no one right mixture: opacity on a screen, light, filters, threads and pigment "
        "are different sums, each right for something else.",
        (
            (3, "Slider slowly from 0 to 100 %. Which of the five turn green, and when?"),
            (3, "Each chooses one for 80 %, then looks."),
            (2, "At 100 %: why do three of them show no blue at all?"),
        ),
        (
            "“Yellow and blue make green.” Only where colours swallow light; as light they make a "
            "pale grey.",
            "“Pigment is ground together, so order cannot matter.” Here it takes the shares of "
            "step 1: swap warp and weft and look.",
            "“a* is how strong the colour is.” It is one axis only, green to red.",
            "“These are all there are.” The kit has a sixth, ink, for print in dots. It is left "
            "out here, as it must be told what it is printed on.",
        ),
        "Which of the five is the same when warp and weft change places? (Multiply and woven.)",
    ),
    "greys": Notes(
        "Half and half has no single answer: 10 % and 90 % in equal parts reflect 50 % added as "
        "light, less when light spreads in the cloth, less again as pigment.",
        (
            (3, "n at 1: why 50 %? Slowly to 2: why darker, with the same two yarns?"),
            (3, "Each writes an n, or none."),
            (2, "Show the answer: the sum nears the geometric mean, √(0.1 × 0.9) = 30 %."),
        ),
        (
            "“A larger n must get there in the end.” Let them go to 10: hardly below 32 %.",
            "“n = 10 means light that spreads ten times.” Above 2 n is only fitted to prints.",
            "“50 % reflected looks half as light.” It looks about three quarters as light (L* 76).",
        ),
        "What does n = 2 give exactly? (((√0.1 + √0.9) / 2)² = 0.4.)",
    ),
    "order": Notes(
        "Laid over, the order matters; side by side it does not. A number for how different two "
        "colours look lets a class agree on when it matters.",
        (
            (2, "Slider at 20 %: is there a difference? Who is sure?"),
            (3, "Each writes a strength, tries it, and says whether they see it."),
            (2, "Show the answer; then 100 %: what has become of the lower stripe?"),
        ),
        (
            "“Woven cloth has an upper side too.” In plain weave warp and weft lie on top equally "
            "often.",
            "“ΔE00 20 is twice as different as 10.” It was made for small differences; large ones "
            "it only ranks.",
        ),
        "Why does the difference grow as a²? (The shares are a and a(1 − a); a − a(1 − a) = a².)",
    ),
    "depth": Notes(
        "Two layers are not twice one layer. And printed and woven cloth of the same colour look "
        "different, because in cloth no thread is covered twice.",
        (
            (2, "At 50 %: why 75 and not 100?"),
            (4, "Each writes two numbers, laid over and woven."),
            (2, "Show the answer; move from 68 to 69 %."),
            (2, "At 100 %: which is still not full? The woven single, 50 %."),
        ),
        (
            "“45 %, since twice 45 is 90.” Adds layers. Let them try it: 69.75 %.",
            "“Woven is paler, so it can’t reach 90 %.” It can; the yarn must be that strong.",
            "Reading the single instead of the crossing.",
        ),
        "How many layers at 50 % reach 99 %? (Seven: 1 − 0.5⁷ = 99.2 %.)",
    ),
    "pastel": Notes(
        "Strength thins a pale colour to nothing long before a deep one: a palette must be judged "
        "at the strength it is used at.",
        (
            (2, "At 30 %: which stripe would you lose across a table?"),
            (3, "Each writes two strengths."),
            (2, "Show the answer. Another ground: what changes?"),
        ),
        (
            "“At half strength it is half as different.” Look at the curves: they bend.",
            "Comparing the two stripes with each other, not with the ground.",
        ),
        "Choose a ground on which the pastel is the clearer of the two. (A deep one.)",
    ),
    "threads": Notes(
        "A thread too many in every band shows all over the cloth: counting is part of designing.",
        (
            (2, "4 ends: count one cell together. Then 5: which colour gained?"),
            (3, "Each writes a count."),
            (2, "Show the answer. Compare the two stripes’ own cells at 3 ends."),
        ),
        (
            "“It evens out in the next check.” It does not: stripe and ground lie by turns, so "
            "every crossing errs to the same side.",
            "“7, because 1/49 is about 2 %.” Half of that counts: 25/49 is 51.02 %, just outside.",
        ),
        "What if the first end goes under the first pick? (Warp and weft change places.)",
    ),
    "distance": Notes(
        "From far enough every check is one colour, and it is the mean of light, not of codes.",
        (
            (2, "At 10 m: what is still seen? Then drag until the middle is even."),
            (3, "Each writes a distance, then sets the check size to twice and tries it."),
            (2, "Show the answer: the angle is size over distance."),
        ),
        (
            "“Four times, because the area is.” The angle goes with the side.",
            "“It fuses at exactly that distance.” A rule of thumb: light and contrast matter.",
            "Mixing up one minute a stripe and two a pair.",
        ),
        "From how far do checks of 1 in fuse? (87.3 m.)",
    ),
    "side_by_side": Notes(
        "The same colours in the same order are five cloths. Choose the sum that is nearest to how "
        "the cloth is made.",
        (
            (2, "Which two look most alike? Look at the numbers after saying so."),
            (3, "Each chooses a crossing."),
            (2, "Show the answer. Which stripe is on top there, and why?"),
        ),
        (
            "“The palest changes most.” Choose by looking, then check.",
            "“Pigment is the true one.” It is an estimate: spectra are guessed from colours.",
        ),
    ),
    "vision": Notes(
        "A cloth is seen by many eyes. Lightness is what all of them share.",
        (
            (2, "Severity from 0 to 100 %: which of the five changes first? Grey has no severity."),
            (4, "Each writes two strengths."),
            (2, "Show the answer. Which one column sets both ends?"),
        ),
        (
            "“They see grey.” Few do; most lose some differences and keep others.",
            "“The picture is what my friend sees.” It is an average observer’s model.",
        ),
        "Change one stripe so that the range becomes wider. (Set it apart in lightness.)",
    ),
    "task": Notes(
        "Two wishes that pull apart: contrast wants a deep stripe, a light cloth wants none. "
        "Strength is the way between.",
        ((15, "Alone or in pairs. Ask for one sentence on why these colours."),),
        ("Changing colours only: the strength moves both wishes at once, and in opposite ways.",),
        "Meet both with the stripes 20 apart.",
    ),
}


def _section(step: Step) -> str:
    notes = NOTES[step.key]
    said = step.answer()
    said = said[:1].upper() + said[1:]
    course = "".join(
        f"<li><span>{minutes} min</span><div>{escape(what)}</div></li>"
        for minutes, what in notes.course
    )
    mistakes = "".join(f"<li>{escape(each)}</li>" for each in notes.mistakes)
    quick = f"<h3>For the quick</h3><p>{escape(notes.quick)}</p>" if notes.quick else ""
    asked = f"<h3>Question</h3><p>{escape(step.question)}</p>" if step.question else ""
    return (
        f"<section><h2><span>{step.number or 'Last'}</span>{escape(step.name)}</h2>"
        f'<div class="columns"><div><h3>Aim</h3><p>{escape(notes.aim)}</p>'
        f"<h3>Course</h3><ol>{course}</ol></div>"
        f"<div>{asked}<h3>Answer</h3><p>{escape(said)}</p>"
        f"<h3>Common mistakes</h3><ul>{mistakes}</ul>{quick}</div></div></section>"
    )


def minutes_of(key: str) -> int:
    """Return how many minutes a step takes."""
    return sum(minutes for minutes, _ in NOTES[key].course)


def _together(text: str) -> str:
    """Keep a number and its sign, or what it is a number of, on one line, as the lesson does."""
    return re.sub(r"(\d|ΔE00|=|≥|n =) (?=[%\d]|[cm]?m\b|in\b)", "\\1\u00a0", text)


def teacher_body(colourway: Colourway = CLOTH, size: Length | str = "1/4 in") -> str:
    """Return the body of the teacher's page; answers are worked out as it is written."""
    steps = all_steps(colourway, size)
    total = sum(minutes_of(step.key) for step in steps)
    *each, last = (str(minutes_of(step.key)) for step in steps)
    facts = (
        ("Age", "About 16 years; alone or in pairs."),
        ("Time", f"{total} minutes in all, two or three lessons. Step by step "
         f"{', '.join(each)}; the last task {last}."),
        ("Needed", "One file, lesson.html, on a memory stick or in a shared folder. Any browser of "
         "the last two years. No network, no accounts."),
        ("Known before", "Per cents, and a product of two decimals below 1."),
        ("In class", "Step by step on the projector (arrow keys and clickers turn the steps); "
         "pupils use All steps. Each hands in one file, named after them. It says for every step "
         "what was written, and whether our answer was seen after."),
        ("Numbers", "All answers here are for the colours that the lesson starts with; of "
         f"steps 8 to 10, {colourway}, in checks of {Length(size)}."),
    )  # fmt: skip
    listed = "".join(f"<div><dt>{head}</dt><dd>{escape(text)}</dd></div>" for head, text in facts)
    return _together(
        "<main><header><h1>A lesson in mixing: for the teacher</h1>"
        '<p class="quiet">Ten steps and a last task. Keep this page to yourself: it has the '
        "answers. They are in the lesson’s code too: it is a lesson, not a test.</p></header>"
        f"<section><h2>The lesson</h2><dl>{listed}</dl></section>"
        f"{''.join(map(_section, steps))}</main>"
    )
