"""What the causes of a shift come to, in words: one, two, one of several, or more than that.

"One cause alone" is said only where what remains of every tone is within the tolerance, and
of all together near what the readings scatter by themselves.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from checkcloth.arguments import Floats
from checkcloth.cloth.colourway import Colourway
from checkcloth.colour.difference import delta_e_cmc
from checkcloth.quality.diagnosis.choose import (
    NEGLIGIBLE_CMC,
    Cause,
    Evidence,
    cmc_axes,
    explain_shift,
    shift_of,
)

# Differences in the criterion that count: 6 is "strong" in the table of Kass and Raftery
# 1995 (cited from memory), and 10, which a second cause needs, "very strong". The rest are
# choices of ours: half of the shift explained; what remains is near the scatter up to twice
# it, and where nothing was read twice up to 0.5 CMC; a second cause must take an eighth of
# what the first left; tones that differ less than 0.2 CMC between two causes tell nothing.
_STRONG = 6.0
_VERY_STRONG = 10.0
_MOST = 0.5
_NEAR = 2.0
_HARDLY = 8 / 7
_UNKNOWN_SCATTER = 0.5
_CAN_BE_SEEN = 0.2


@dataclass(frozen=True)
class Diagnosis:
    """What the causes come to.

    Attributes
    ----------
    verdict : str
        ``"small"``: nothing to explain; ``"too few"``: tones to tell by; ``"one"`` or
        ``"two"``: so many causes explain it; ``"one of"``, ``"two of"``: they cannot be told
        apart; ``"most"``: there is more; ``"none"``: no cause and no pair explains it.
    named : tuple of Cause
        Those that the verdict names, the best first.
    singles, pairs : tuple of Cause
        All that were fitted, the best first.
    text : str
        In words.
    """

    verdict: str
    named: tuple[Cause, ...]
    singles: tuple[Cause, ...]
    pairs: tuple[Cause, ...]
    text: str


def scatter_of(readings: Sequence[Floats], wanted: Floats) -> float:
    """Root mean square CMC(2:1) of a tone's mean, from readings (K, 3) of each of T tones.

    NaN where no tone was read twice.
    """
    squares, degrees = 0.0, 0
    for each, standard in zip(readings, wanted, strict=True):
        apart = each - each.mean(axis=0)
        squares += float(((apart @ cmc_axes(standard[None])[0]) ** 2).sum())
        degrees += len(each) - 1
    if not degrees:
        return float("nan")
    return float(np.sqrt(squares / degrees * np.mean([1 / len(each) for each in readings])))


def diagnose(evidence: Evidence, tolerance: float) -> Diagnosis:
    """Say why a strike-off departs: by one cause, by two, or by more than can be told."""
    size = evidence.size
    if size < NEGLIGIBLE_CMC:
        text = f"The shift is small, CMC(2:1) {size:.2f} a tone: there is nothing to explain."
        return Diagnosis("small", (), (), (), text)
    singles, pairs = explain_shift(evidence) if len(evidence.tones) > 1 else ([], [])
    if not singles:
        text = "Too few tones were measured to tell one cause from another."
        return Diagnosis("too few", (), (), (), text)
    every = sorted([*singles, *pairs], key=lambda cause: cause.criterion)
    verdict, named = _judge(evidence, tolerance, every)
    text = _TEXTS[verdict](evidence, named)
    return Diagnosis(verdict, tuple(named), tuple(singles), tuple(pairs), text)


def _judge(evidence: Evidence, tolerance: float, every: Sequence[Cause]) -> tuple[str, list[Cause]]:
    best = every[0]
    # A pair that is hardly better than one of its own causes says no more than that.
    for simpler in every[1:]:
        better = simpler.criterion - best.criterion
        hardly = better < _VERY_STRONG or simpler.left < _HARDLY * best.left
        if hardly and _is_part(simpler, best):
            best = simpler
            break
    if best.explained <= 0 or evidence.none - best.criterion < _STRONG:
        return "none", [best]
    explains = _explains(best, evidence, tolerance)
    if not explains and best.explained < _MOST:
        single = next((it for it in every if len(it.parts) == 1), best)
        if single.explained < _MOST:
            return "none", [best]
        best = single
    rivals = [
        cause
        for cause in every
        if cause.criterion - best.criterion < _STRONG
        and not _is_part(best, cause)
        and cause is not best
        and (_explains(cause, evidence, tolerance) or not explains)
    ]
    if not explains:
        return "most", [best, *rivals[:2]]
    kind = "one" if len(best.parts) == 1 else "two"
    return (f"{kind} of" if rivals else kind), [best, *rivals[:3]]


def _is_part(one: Cause, two: Cause) -> bool:
    """Whether a pair holds all of one cause; strengths of their own each way hold any."""
    if len(two.parts) <= len(one.parts):
        return False
    return {*one.parts} <= {*two.parts} or (
        one.parts == ("strength",) and {*two.parts} == {"warp strength", "weft strength"}
    )


def _explains(cause: Cause, evidence: Evidence, tolerance: float) -> bool:
    """Whether what remains is within the tolerance and near the scatter of the readings."""
    near = _UNKNOWN_SCATTER
    if not np.isnan(evidence.scatter):
        near = max(NEGLIGIBLE_CMC, _NEAR * evidence.scatter)
    free = len(cause.numbers) / (3 * len(evidence.tones))
    left = cause.left / np.sqrt(1 - free)
    return cause.worst <= tolerance and bool(left <= near)


# -- words ---------------------------------------------------------------------------------


def _one(evidence: Evidence, named: Sequence[Cause]) -> str:
    return f"One cause alone explains the shift – {named[0]}."


def _two(evidence: Evidence, named: Sequence[Cause]) -> str:
    return f"Two causes together explain the shift – {named[0]}."


def _apart(evidence: Evidence, named: Sequence[Cause]) -> str:
    listed = "; or ".join(str(cause) for cause in named)
    return f"Cannot be told apart: {listed}. {_what_next(evidence, named[0], named[1])}"


def _most_of(evidence: Evidence, named: Sequence[Cause]) -> str:
    cause = named[0]
    listed = ", or like ".join(f"{each.subject}, as if {each.says}" for each in named)
    return (
        f"Most of the shift looks like {listed}; CMC(2:1) {cause.left:.2f} a tone remains (at "
        f"worst {cause.worst:.2f}), so there is more.{_names_first(named)}"
    )


def _names_first(named: Sequence[Cause]) -> str:
    """Where all that is named has the same readings exchanged, say that these go first."""
    (moved, *others) = {each.moved for each in named}
    if not moved or others:
        return ""
    return (
        f" Put the readings of {_listed(moved)} under their own names and check again: what else "
        "acted is told more surely then."
    )


def _none(evidence: Evidence, named: Sequence[Cause]) -> str:
    (cause,) = named
    return (
        f"No single cause and no pair of causes explains the shift of CMC(2:1) "
        f"{evidence.size:.2f} a tone; the nearest, {cause.subject}, would account for "
        f"{max(cause.explained, 0) * 100:.0f} %. It looks like scatter, or several causes together."
    )


_TEXTS = {
    "one": _one,
    "two": _two,
    "one of": _apart,
    "two of": _apart,
    "most": _most_of,
    "none": _none,
}


def _what_next(evidence: Evidence, one: Cause, two: Cause) -> str:
    """What to measure to tell two causes apart."""
    moved = one.moved or two.moved
    if moved and one.moved != two.moved:
        return f"Read {_listed(moved)} again, each under its own name, to decide."
    if {*one.parts, *two.parts} & {"illuminant", "white", "observer", "conditions"}:
        return "Check how the instrument was set and read one tone again, to decide."
    colourway = evidence.colourway
    tones = colourway.unique_tones
    wanted = np.array([colourway.tones_lab[tone.warp, tone.weft] for tone in tones])
    first, second = (wanted + shift_of(colourway, cause) for cause in (one, two))
    apart = delta_e_cmc(first, second)
    measured = [(tone.warp, tone.weft) in set(evidence.tones) for tone in tones]
    new = np.where(measured, 0, apart)
    if new.max() >= max(_CAN_BE_SEEN, apart.max() / 2):
        return f"Measure {tones[int(new.argmax())].name!r}: {_differ(new.max())}"
    if apart.max() >= _CAN_BE_SEEN:
        again = tones[int(apart.argmax())].name
        return f"Read {again!r} more often: {_differ(apart.max())}"
    return _alike(colourway, one, two)


def _differ(cmc: float) -> str:
    return f"there the two would lie CMC(2:1) {cmc:.2f} apart."


def _alike(colourway: Colourway, one: Cause, two: Cause) -> str:
    if any("warp" in cause.name or "weft" in cause.name for cause in (one, two)):
        return (
            "Warp and weft share the names of these tones: compare a warp stripe and a weft "
            "stripe of one colour side by side, to decide."
        )
    return "They would make the same tones: only whoever made the cloth can tell."


def _listed(names: Sequence[str]) -> str:
    return " and ".join([", ".join(map(repr, names[:-1])), repr(names[-1])] if names[1:] else names)
