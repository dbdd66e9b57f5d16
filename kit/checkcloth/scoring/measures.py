"""The four ways two tones are compared, and the names of tone pairs."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from checkcloth.arguments import Floats
from checkcloth.cloth.colourway import Colourway
from checkcloth.colour.difference import contrast_ratio, delta_e_2000, delta_e_ok
from checkcloth.colour.spaces import lab_to_srgb, srgb_to_lab
from checkcloth.errors import ArgumentError
from checkcloth.scoring.pairs import KINDS, Indices, tone_pairs

__all__ = [
    "MEASURE_NAMES",
    "Measure",
    "NamedPairs",
    "find_measure",
    "first_of",
    "kinds_of",
    "named_pairs",
    "sameness",
    "tone_label",
]


@dataclass(frozen=True)
class Measure:
    """A way of comparing two tones.

    Attributes
    ----------
    name : str
    label : str
        As it stands in titles and tables.
    compare : callable
        Encoded sRGB (..., 3) twice to numbers (...).
    compare_lab : callable
        The same of L*a*b*, which may lie outside sRGB (held to it by ratio and ΔEOK).
    usual : float
        A threshold to begin with: a choice, not a standard, but for the ratio (WCAG 2.x
        asks 3:1 of graphics, and exempts decoration).
    lowest, highest : float
        What a threshold may be.

    Examples
    --------
    >>> find_measure("ratio").label, find_measure("ratio").usual
    ('contrast ratio', 1.5)
    """

    name: str
    label: str
    compare: Callable[[Floats, Floats], Floats]
    compare_lab: Callable[[Floats, Floats], Floats]
    usual: float
    lowest: float
    highest: float


def _from_lab(compare: Callable[[Floats, Floats], Floats]) -> Callable[[Floats, Floats], Floats]:
    return lambda one, two: compare(srgb_to_lab(one), srgb_to_lab(two))


def _held(compare: Callable[[Floats, Floats], Floats]) -> Callable[[Floats, Floats], Floats]:
    return lambda one, two: compare(*(np.clip(lab_to_srgb(lab), 0, 1) for lab in (one, two)))


def _dl(one: Floats, two: Floats) -> Floats:
    return np.asarray(np.abs(one[..., 0] - two[..., 0]))


_MEASURES = {
    measure.name: measure
    for measure in (
        Measure("de2000", "ΔE00", _from_lab(delta_e_2000), delta_e_2000, 10.0, 0, 150),
        Measure("dl", "ΔL*", _from_lab(_dl), _dl, 10.0, 0, 100),
        Measure("ratio", "contrast ratio", contrast_ratio, _held(contrast_ratio), 1.5, 1, 21),
        Measure("deok", "ΔEOK", delta_e_ok, _held(delta_e_ok), 0.1, 0, 1.5),
    )
}
MEASURE_NAMES = tuple(_MEASURES)


def find_measure(name: str) -> Measure:
    """Return the measure of that name.

    Raises
    ------
    ArgumentError
        For a name that is none of ``MEASURE_NAMES``.

    Examples
    --------
    >>> find_measure("dl").label
    'ΔL*'
    """
    if name not in _MEASURES:
        raise ArgumentError("measure", f"one of {', '.join(MEASURE_NAMES)}", name)
    return _MEASURES[name]


def kinds_of(kinds: str | Iterable[str]) -> tuple[str, ...]:
    """Return kinds of tone pairs, in order; ``"edges"`` stands for those that touch.

    Raises
    ------
    ArgumentError
        For none, or for another name.

    Examples
    --------
    >>> kinds_of("edges")
    ('ground_single', 'single_crossing')
    """
    asked = {kinds} if isinstance(kinds, str) else set(kinds)
    if "edges" in asked:
        asked = (asked - {"edges"}) | {"ground_single", "single_crossing"}
    if not asked or asked - set(KINDS):
        raise ArgumentError("kinds", f"edges or some of {', '.join(KINDS)}", kinds)  # fmt: skip
    return tuple(kind for kind in KINDS if kind in asked)


@dataclass(frozen=True)
class NamedPairs:
    """Tone pairs of a colourway.

    Attributes
    ----------
    one, two : ndarray of int, shape (P, 2)
        (warp, weft) indices of the two tones of each pair.
    names : tuple of str
        ``"navy on white / navy over teal"``.
    kinds : tuple of str
        The kind of each pair.

    Examples
    --------
    >>> len(named_pairs(Colourway("white", ["navy", "teal"])))
    8
    """

    one: Indices
    two: Indices
    names: tuple[str, ...]
    kinds: tuple[str, ...]

    def __len__(self) -> int:
        return len(self.names)


def named_pairs(colourway: Colourway, kinds: str | Iterable[str] = "edges") -> NamedPairs:
    """Return the pairs of some kinds, each once, with names for people.

    Raises
    ------
    ArgumentError
        For an unknown kind.

    Examples
    --------
    >>> named_pairs(Colourway("white", ["navy"])).names
    ('white / navy on white', 'navy on white / navy over navy')
    """
    mirrored, symmetric = sameness(colourway)
    side = len(colourway.stripes) + 1
    pairs = tone_pairs(side - 1, mirrored=mirrored, symmetric=symmetric)
    ones, twos, whose = [], [], []
    seen: set[tuple[tuple[int, int], ...]] = set()
    for kind in kinds_of(kinds):
        for flat in getattr(pairs, kind).tolist():
            one, two = (
                first_of(place // side, place % side, mirrored, symmetric) for place in flat
            )
            if (one, two) in seen:
                continue
            seen.add((one, two))
            ones.append(one)
            twos.append(two)
            whose.append(kind)
    names = [
        f"{tone_label(colourway, *one)} / {tone_label(colourway, *two)}"
        for one, two in zip(ones, twos, strict=True)
    ]
    shape = (len(names), 2)
    return NamedPairs(
        np.array(ones, dtype=np.intp).reshape(shape),
        np.array(twos, dtype=np.intp).reshape(shape),
        tuple(names),
        tuple(whose),
    )


@lru_cache(maxsize=256)
def sameness(colourway: Colourway) -> tuple[bool, bool]:
    """Return whether warp and weft singles are alike, and whether crossings are both ways.

    >>> one = Colourway("white", ["navy", "teal"])
    >>> sameness(one), sameness(one.with_(mixing="woven"))
    ((True, False), (True, True))
    """
    # Judged at half strength: at none every tone is the ground, whatever the mixing does.
    tones = colourway.with_(strength=0.5).tones
    mirrored = bool(np.allclose(tones[1:, 0], tones[0, 1:], rtol=0, atol=1e-12))
    swapped = bool(np.allclose(tones, tones.swapaxes(0, 1), rtol=0, atol=1e-12))
    return mirrored, mirrored and swapped


def first_of(warp: int, weft: int, mirrored: bool, symmetric: bool) -> tuple[int, int]:
    """Return the place that stands for all places with the same tone.

    >>> first_of(0, 2, mirrored=True, symmetric=False)
    (2, 0)
    """
    if mirrored and warp == 0:
        return weft, 0
    if symmetric and 0 < weft < warp:
        return weft, warp
    return warp, weft


def tone_label(colourway: Colourway, warp: int, weft: int) -> str:
    """Name a tone so that warp and weft singles are told apart where they differ.

    >>> tone_label(Colourway("white", ["navy"], mixing="woven", warp_share=0.7), 0, 1)
    'weft navy on white'
    """
    name = colourway.tone_name(warp, weft)
    if (warp == 0) == (weft == 0) or sameness(colourway)[0]:
        return name
    return f"{'warp' if warp else 'weft'} {name}"
