"""What the lesson says: titles, explanations and questions of its ten steps and the last task.

In ``words`` a word in braces is set bold: it is explained where it first comes. Sentences with
numbers are worked out where they are shown, in ``page/lesson/steps/``.
"""

from __future__ import annotations

from dataclasses import dataclass

CAUTION = (
    "A screen is not a proof: before anything is dyed or printed, ask for a strike-off, "
    "a printed or woven trial piece."
)
INTRODUCTION = (
    "Why does a crossing have the colour it has? Ten steps and a task. In each: move the slider, "
    "watch the picture, write your own answer, then see ours."
)


@dataclass(frozen=True)
class Box:
    """A field for the pupil's own answer."""

    label: str = "Your answer"
    unit: str = ""
    slider: str = ""  #: the one that *Try mine* sets to it
    choice: str = ""  #: what is chosen from, ``"mixings"`` or ``"crossings"``: nothing is written


@dataclass(frozen=True)
class Text:
    """The words of one step."""

    title: str
    words: str
    question: str
    boxes: tuple[Box, ...]


_STRENGTH = Box(unit="%", slider="strength")

TEXTS: dict[str, Text] = {
    "crossing": Text(
        "What a crossing is made of",
        "The {warp} runs up and down, the {weft} runs across, both on a {ground} of one colour. "
        "{Strength} says how much of what lies under a stripe it covers. Where two stripes cross, "
        "the ground is covered twice.",
        "Below 100 %: at which strength does the crossing hold as much weft as ground?",
        (_STRENGTH,),
    ),
    "kinds": Text(
        "One crossing, five ways",
        "Every {way of mixing} is a rule for one colour on another. {Pigment} takes the shares of "
        "step 1, so order matters there too; it adds up how much of each wavelength is swallowed. "
        "Its spectra are guessed from the colours: an {estimate}. {a*} says how green or red a "
        "colour is: below 0 green, above 0 red.",
        "Which way of mixing makes the greenest crossing at 80 %?",
        (Box(choice="mixings"),),
    ),
    "greys": Text(
        "Two greys, four sums",
        "Half of this cloth is dark, half is light. {Added as light} they give the mean. In cloth, "
        "light enters beside one thread and leaves beside another, and the mixture comes out "
        "darker. Yule and Nielsen put how much into one number {n}: at 1 light leaves where it "
        "came in, at 2 it is fully scattered. Above 2, n stands for nothing that light does: it "
        "is a number fitted to prints.",
        "Is there an n that makes the mixture as dark as pigment does? Write it, or “none”.",
        (Box(label="n", slider="n"),),
    ),
    "order": Text(
        "Which one is on top",
        "Laid over, the upper stripe hides part of the lower one. Woven, both lie side by side in "
        "equal parts, and the order does not show. {ΔE00} (CIEDE2000) is one number for how "
        "different two colours look: about 1 can just be seen, 10 is plain (common practice).",
        "From which strength do the two laid-over crossings differ by ΔE00 10 or more? "
        "Whole per cents.",
        (_STRENGTH,),
    ),
    "depth": Text(
        "A stripe crossing itself",
        "A {single} is a stripe over bare ground; in the middle the stripe crosses itself. "
        "Printed, the second layer lies on the first. In {plain weave} each thread goes over one "
        "and under the next, so in a single every other thread you see is ground.",
        "How strong must the stripe be for the crossing to be at least 90 % stripe? "
        "Whole per cents.",
        (Box("Laid over", "%", "strength"), Box("Woven", "%", "strength")),
    ),
    "pastel": Text(
        "What strength does to a pastel",
        "A {pastel} is already mostly white. Thin it again, and on a pale ground there is soon "
        "little left to see, long before a deep colour fades. ΔE00 says how different a stripe "
        "looks from the ground.",
        "From which strength does each stripe stand ΔE00 10 or more from the ground? "
        "Whole per cents.",
        (Box("Pastel", "%", "strength"), Box("Deep", "%", "strength")),
    ),
    "threads": Text(
        "Odd and even threads",
        "In plain weave each warp thread, an {end}, goes over one weft thread, a {pick}, and under "
        "the next. With an even count of threads a band, every cell shows half warp. With an odd "
        "count n one is left over, in every crossing on the warp’s side, (n² + 1) / 2n², in every "
        "single on the other: warp stripes come out paler than weft stripes. Hence even counts "
        "(common practice).",
        "Which is the smallest odd count with which the warp shows from 49 to 51 % of every cell?",
        (Box(unit="ends", slider="ends"),),
    ),
    "distance": Text(
        "From across the street",
        "A good eye just tells stripes of one {minute of arc} apart, 1/60 of a degree (6/6 sight). "
        "Checks that cover less fuse into one colour, the mean of all tones as light. In the "
        "middle the cloth is blurred by a spot of two minutes: one stripe and one gap. A rule of "
        "thumb: dim light and weak contrast fuse sooner, and a repeat of several colours lingers "
        "longer than its checks.",
        "From how far do checks of twice the size of {size} fuse? One digit after the point.",
        (Box(unit="m", slider="distance"),),
    ),
    "side_by_side": Text(
        "One colourway, five ways",
        "The same colours in the same order. Choose the way of mixing that is nearest to how the "
        "cloth will be made; pigment is an estimate. A sixth, {ink}, for print in dots, is left "
        "out: it must be told what it is printed on. ΔE00 says how different a crossing looks "
        "from the same crossing under source-over.",
        "Which crossing changes most between source-over and woven at 60 %?",
        (Box(choice="crossings"),),
    ),
    "vision": Text(
        "As others see it",
        "{Protan} and {deutan} eyes see less of the difference between red and green, {tritan} "
        "eyes of that between blue and yellow; {grey}, a copy in black and white, has no severity. "
        "An {edge} is where two tones touch. Models of an average observer: Machado 2009; at "
        "100 % severity Viénot 1999 and Brettel 1997.",
        "At full severity: from which strength to which is every edge ΔE00 3 or more for everyone?",
        (Box("From", "%", "strength"), Box("to", "%", "strength")),
    ),
    "task": Text(
        "Design a cloth for the tea rooms",
        "The tea rooms want a light cloth. A picture of it goes on the menus, in black and white. "
        "{Lightness} runs from 0, black, to 100, white.",
        "",
        (),
    ),
}

STEPS = tuple(name for name in TEXTS if name != "task")
