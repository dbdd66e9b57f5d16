"""The answers of the lesson in mixing, worked out when they are asked for.

Each takes what its step takes, mixes with the kit, and returns the answer as a sentence.
"""

from __future__ import annotations

from fractions import Fraction

import numpy as np

from checkcloth.arguments import Floats
from checkcloth.cloth.check import fusing_distance
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.length import Length
from checkcloth.cloth.mixing import MIXINGS, find_mixing, mix_tones
from checkcloth.cloth.named_colour import NamedColour
from checkcloth.cloth.threads import plain_weave_share
from checkcloth.cloth.tones import tones_of
from checkcloth.colour.ciede2000 import delta_e_2000
from checkcloth.colour.css import hex_of
from checkcloth.colour.spaces import linear_to_srgb, srgb_to_lab, srgb_to_linear
from checkcloth.colour.vision import VISIONS
from checkcloth.lesson.compare import compare_mixings
from checkcloth.scoring.contrast import score_tones

_STEPS = np.arange(101) / 100  # every whole per cent of overlay strength


def _tones_by_strength(
    ground: NamedColour, stripes: list[NamedColour], mixing: str = "source-over"
) -> Floats:
    """Tones (101, N+1, N+1, 3) at every whole per cent."""
    return mix_tones(ground.rgb, [stripe.rgb for stripe in stripes], _STEPS, mixing)


def equal_shares() -> str:
    """At which strength does the crossing hold as much weft as ground?"""
    # One primary for each of warp, weft and ground: the crossing then reads as its shares.
    crossing = mix_tones([0, 0, 1], [[1, 0, 0], [0, 1, 0]], _STEPS)[:, 1, 2]
    at = int(np.abs(crossing[1:100, 1] - crossing[1:100, 2]).argmin()) + 1
    return (
        f"At {at} %: there the weft and the ground have {crossing[at, 1] * 100:.0f} % each, "
        f"and the warp {crossing[at, 0] * 100:.0f} %."
    )


def greenest(warp: NamedColour, weft: NamedColour, ground: NamedColour, strength: float) -> str:
    """Which mixing makes the greenest crossing: the one of least a*?"""
    crossings = np.array(
        [mix_tones(ground.rgb, [warp.rgb, weft.rgb], strength, name)[1, 2] for name in MIXINGS]
    )
    green = srgb_to_lab(crossings)[:, 1]
    order = np.argsort(green)
    said = ", ".join(f"{find_mixing(MIXINGS[k]).label} {green[k]:.0f}" for k in order)
    best = MIXINGS[order[0]]
    return (
        f"{find_mixing(best).label}, with {hex_of(crossings[order[0]])}. a* of each crossing "
        f"at {strength * 100:.0f} % (below 0 is green, above 0 red): {said}."
    )


def n_of_pigment() -> str:
    """Which Yule–Nielsen n gives as dark a grey as pigment does?"""
    dark, light = linear_to_srgb([0.1] * 3), linear_to_srgb([0.9] * 3)

    def mixed(mixing: str, n: float = 1.0) -> float:
        tone = mix_tones(light, [dark], 0.5, mixing, yule_nielsen=n)[1, 0]
        return float(srgb_to_linear(tone)[0])

    pigment, darkest = mixed("pigment"), mixed("source-over-linear", 10)
    limit = float(np.sqrt(0.1 * 0.9))
    if pigment < limit:
        return (
            f"None. n = 10 still reflects {darkest * 100:.1f} %, and no n goes below the "
            f"geometric mean, {limit * 100:.1f} %; pigment (estimate) reflects "
            f"{pigment * 100:.1f} %."
        )
    n = next(k / 10 for k in range(10, 101) if mixed("source-over-linear", k / 10) <= pigment)
    return f"n = {n:.1f}, which reflects {mixed('source-over-linear', n) * 100:.1f} %."


def order_shows(
    upper: NamedColour, lower: NamedColour, ground: NamedColour, apart: float = 10
) -> str:
    """From which strength do the two crossings differ that much, laid over?"""
    tones = _tones_by_strength(ground, [upper, lower])
    away = delta_e_2000(srgb_to_lab(tones[:, 1, 2]), srgb_to_lab(tones[:, 2, 1]))
    enough = np.flatnonzero(away >= apart)
    if not enough.size:
        return f"Never: they end at ΔE00 {away[-1]:.1f}."
    return (
        f"From {enough[0]} %, where they are ΔE00 {away[enough[0]]:.1f} apart. At 100 % only "
        f"the upper one is left to see, and it is {away[-1]:.0f}; woven it stays 0 throughout."
    )


def depth_for(share: float = 0.9) -> str:
    """Which strength takes a self-crossing, laid over, to that share of full depth?"""
    depth = 1 - mix_tones([1, 1, 1], [[0, 0, 0]], _STEPS)[:, 1, 1, 0]
    at = int(np.flatnonzero(depth >= share - 1e-12)[0])
    return (
        f"{at} %: 1 − (1 − {at / 100:g})² is {depth[at] * 100:.1f} % "
        f"({at - 1} % gives {depth[at - 1] * 100:.1f} %)."
    )


def pastel_needs(
    pastel: NamedColour, deep: NamedColour, ground: NamedColour, apart: float = 10
) -> str:
    """Which strength brings each single that far from the ground?"""
    tones = _tones_by_strength(ground, [pastel, deep])
    away = delta_e_2000(srgb_to_lab(tones[:, 1:, 0]), srgb_to_lab(ground.rgb))
    said = []
    for name, column in (("pastel", away[:, 0]), ("deep colour", away[:, 1])):
        enough = np.flatnonzero(column >= apart)
        if enough.size:
            said.append(f"the {name} from {enough[0]} %")
        else:
            said.append(f"the {name} never: it ends at ΔE00 {column[-1]:.1f}")
    return f"{'; '.join(said)}."


def balanced_enough(within: Fraction = Fraction(1, 100)) -> str:
    """What is the least odd count that misses one half by no more than that?"""
    half = Fraction(1, 2)
    ends = next(n for n in range(1, 1000, 2) if plain_weave_share(n) - half <= within)
    share, before = plain_weave_share(ends), plain_weave_share(max(ends - 2, 1))
    return (
        f"{ends} ends: the warp has {float(share) * 100:.2f} % ({share}); with {ends - 2} it "
        f"has {float(before) * 100:.2f} %. Any even count has exactly half."
    )


def fuses_beyond(size: Length | str) -> str:
    """From how far do checks twice that size fuse?"""
    length = Length(size)
    near, far = (fusing_distance(length * times).mm / 1000 for times in (1, 2))
    return (
        f"About {far:.0f} m, twice the {near:.0f} m of {length.shown_in(length.unit)}: the angle "
        "is size over distance. A rule of thumb, for good eyes, good light and strong contrast."
    )


def changes_most(colourway: Colourway) -> str:
    """Which crossing tone changes most between source-over and woven?"""
    table = compare_mixings(colourway, ["source-over", "woven"])
    apart = table.differences[0, 1]
    i, j = (int(k) + 1 for k in np.unravel_index(int(apart.argmax()), apart.shape))
    codes = " to ".join(hex_of(tones[i, j]) for tones in table.tones)
    least = float(apart.min())
    return (
        f"{colourway.tone_name(i, j)}: from {codes}, ΔE00 {apart.max():.1f}. The crossing that "
        f"changes least moves by {least:.1f}."
    )


def seen_by_all(colourway: Colourway, apart: float = 5) -> str:
    """At which strengths does everyone see every edge of the cloth that clearly?"""
    tones = tones_of([colourway.with_(strength=float(strength)) for strength in _STEPS])
    least = np.array([score_tones(tones, vision).least_edge for vision in VISIONS])
    everyone = least.min(axis=0)
    enough = np.flatnonzero(everyone >= apart)
    best = int(everyone.argmax())
    faintest = VISIONS[int(least[:, best].argmin())]
    if not enough.size:
        return (
            f"At none. The best is {best} %, where the faintest edge is still only ΔE00 "
            f"{everyone[best]:.1f} for {faintest} vision."
        )
    return (
        f"From {enough[0]} to {enough[-1]} %; best at {best} %, where the faintest edge is ΔE00 "
        f"{everyone[best]:.1f}, for {faintest} vision."
    )
