"""The answers of the lesson in mixing, worked out when they are asked for.

Each takes what its step takes, mixes with the kit, and returns the answer as a sentence. The
page words the same answers for whatever colours stand there; a test holds it to these.
"""

from __future__ import annotations

from fractions import Fraction

import numpy as np

from checkcloth.arguments import Floats
from checkcloth.cloth.check import fusing_distance
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.length import Length
from checkcloth.cloth.mixing import find_mixing, mix_tones
from checkcloth.cloth.named_colour import NamedColour
from checkcloth.cloth.threads import check_weave_shares
from checkcloth.cloth.tones import tones_of
from checkcloth.colour.ciede2000 import delta_e_2000
from checkcloth.colour.css import hex_of
from checkcloth.colour.spaces import linear_to_xyz, srgb_to_lab, srgb_to_linear
from checkcloth.colour.vision import VISIONS
from checkcloth.lesson.compare import compare_mixings
from checkcloth.scoring.cloth_scores import far_colour
from checkcloth.scoring.contrast import score_tones

# The ways of mixing that the lesson shows side by side.
WAYS = ("source-over", "source-over-linear", "multiply", "woven", "pigment")

# What the last task asks: L* between the two singles, and L* of the cloth from afar.
STRIPES_APART, LIGHT_FROM_AFAR = 12, 85

_STEPS = np.arange(101) / 100  # every whole per cent of overlay strength


def _tones_by_strength(
    ground: NamedColour, stripes: list[NamedColour], mixing: str = "source-over"
) -> Floats:
    """Tones (101, N+1, N+1, 3) at every whole per cent."""
    return mix_tones(ground.rgb, [stripe.rgb for stripe in stripes], _STEPS, mixing)


def equal_shares() -> str:
    """Below 100 %, at which strength does the crossing hold as much weft as ground?"""
    # One primary for each of warp, weft and ground: the crossing then reads as its shares.
    crossing = mix_tones([0, 0, 1], [[1, 0, 0], [0, 1, 0]], _STEPS)[:, 1, 2]
    at = int(np.abs(crossing[1:100, 1] - crossing[1:100, 2]).argmin()) + 1
    a, left = f"{at / 100:.2f}", f"{1 - at / 100:.2f}"
    return (
        f"At {at} %. There the weft has {left} × {a} and the ground {left} × {left}: "
        f"{crossing[at, 1] * 100:.0f} % each, and the warp {crossing[at, 0] * 100:.0f} %. "
        "(At 100 % both have nothing, and so are equal too.)"
    )


def _a_star(value: float) -> str:
    """Write a*, without the sign of a zero."""
    return f"{value if abs(value) >= 0.05 else 0.0:.1f}".replace("-", "−")


def greenest(warp: NamedColour, weft: NamedColour, ground: NamedColour, strength: float) -> str:
    """Which mixing makes the greenest crossing: the one of least a*?"""
    crossings = np.array(
        [mix_tones(ground.rgb, [warp.rgb, weft.rgb], strength, name)[1, 2] for name in WAYS]
    )
    green = srgb_to_lab(crossings)[:, 1]
    order = np.argsort(green, kind="stable")
    first, second = (find_mixing(WAYS[k]).label for k in order[:2])
    return (
        f"{first}: {hex_of(crossings[order[0]])}, a* {_a_star(green[order[0]])}. Next comes "
        f"{second}, {_a_star(green[order[1]])}."
    )


def n_of_pigment(dark: NamedColour, light: NamedColour) -> str:
    """Which Yule–Nielsen n gives as dark a mixture as pigment does?"""

    def reflected(mixing: str, n: float = 1.0) -> float:
        tone = mix_tones(light.rgb, [dark.rgb], 0.5, mixing, yule_nielsen=n)[1, 0]
        return float(linear_to_xyz(srgb_to_linear(tone))[1])

    pigment, darkest = reflected("pigment"), reflected("source-over-linear", 10)
    mean = np.sqrt(srgb_to_linear(dark.rgb) * srgb_to_linear(light.rgb))
    limit = float(linear_to_xyz(mean)[1])
    if pigment < darkest:
        return (
            f"None up to 10. n = 10 still reflects {darkest * 100:.1f} %, and however large n is, "
            f"not below {limit * 100:.1f} %; pigment (estimate) reflects {pigment * 100:.1f} %."
        )
    n = next(k / 10 for k in range(10, 101) if reflected("source-over-linear", k / 10) <= pigment)
    return (
        f"n = {n:.1f}, which reflects {reflected('source-over-linear', n) * 100:.1f} %; "
        f"pigment (estimate) reflects {pigment * 100:.1f} %."
    )


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
        f"the upper one is left to see, and it is {away[-1]:.1f}. Woven it stays 0 throughout."
    )


def depth_for(share: float = 0.9) -> str:
    """Which strength takes a self-crossing, laid over and woven, to that share of full depth?"""
    depth = 1 - mix_tones([1, 1, 1], [[0, 0, 0]], _STEPS)[:, 1, 1, 0]
    at = int(np.flatnonzero(depth >= share - 1e-12)[0])
    left = f"{1 - at / 100:.2f}"
    return (
        f"Laid over, {at} %: then 1 − {left} × {left} = {depth[at] * 100:.1f} %; at {at - 1} % it "
        f"is {depth[at - 1] * 100:.1f} %. Woven, {share * 100:.0f} %: the crossing is as strong as "
        "its yarn."
    )


def pastel_needs(
    pastel: NamedColour, deep: NamedColour, ground: NamedColour, apart: float = 10
) -> str:
    """Which strength brings each single that far from the ground?"""
    tones = _tones_by_strength(ground, [pastel, deep])
    away = delta_e_2000(srgb_to_lab(tones[:, 1:, 0]), srgb_to_lab(ground.rgb))
    said = []
    for name, column in (("pastel", away[:, 0]), ("deep", away[:, 1])):
        enough = np.flatnonzero(column >= apart)
        if enough.size:
            at = enough[0]
            said.append(f"{name} from {at} %, where it stands ΔE00 {column[at]:.1f} from it")
        else:
            said.append(f"{name} never: it ends at ΔE00 {column[-1]:.1f}")
    return f"{'; '.join(said)}."


def balanced_enough(within: Fraction = Fraction(1, 100)) -> str:
    """What is the least odd count that misses one half by no more than that in any cell?"""
    half = Fraction(1, 2)

    def off(ends: int) -> Fraction:
        return max(abs(share - half) for share in check_weave_shares(ends))

    ends = next(n for n in range(1, 1000, 2) if off(n) <= within)
    shares, before = check_weave_shares(ends), check_weave_shares(max(ends - 2, 1))
    whole = ends * ends
    return (
        f"{ends} ends: a crossing shows the warp on {shares.crossing * whole} of {whole}, "
        f"{float(shares.crossing) * 100:.2f} %, a single on {shares.single * whole}, "
        f"{float(shares.single) * 100:.2f} %. With {ends - 2} it is "
        f"{float(before.crossing) * 100:.2f} % and {float(before.single) * 100:.2f} %. "
        "Any even count shows exactly half."
    )


def fuses_beyond(size: Length | str) -> str:
    """From how far do checks twice that size fuse?"""
    length = Length(size)
    near, far = (fusing_distance(length * times).mm / 1000 for times in (1, 2))
    return (
        f"{far:.1f} m, twice the {near:.1f} m of {length.shown_in(length.unit)}: the angle "
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


def seen_by_all(colourway: Colourway, apart: float = 3) -> str:
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
            f"{everyone[best]:.1f}, for {faintest} vision."
        )
    gaps = "" if np.ptp(enough) < enough.size else ", with gaps"
    return (
        f"From {enough[0]} to {enough[-1]} %{gaps}; best at {best} %, where the faintest edge is "
        f"ΔE00 {everyone[best]:.1f}, for {faintest} vision."
    )


def wishes(
    first: NamedColour, second: NamedColour, ground: NamedColour, strength: float
) -> tuple[float, float]:
    """Return L* between the two singles, and L* of the whole cloth from afar."""
    tones = mix_tones(ground.rgb, [first.rgb, second.rgb], strength)
    one, two = (float(srgb_to_lab(tones[i, 0])[0]) for i in (1, 2))
    return abs(one - two), float(srgb_to_lab(far_colour(tones))[0])


def one_that_meets() -> str:
    """Which cloth meets both wishes of the last task? One of many."""
    blue, yellow, ground = (
        NamedColour.of(code, name)
        for name, code in (
            ("Ink Blue", "#2f4a7c"), ("Primrose Bank", "#e8c963"), ("Icing", "#fdfaf5")
        )
    )  # fmt: skip
    apart, light = wishes(blue, yellow, ground, 0.3)
    return (
        f"One of many: {blue.name} and {yellow.name} on {ground.name} at 30 %, {apart:.1f} apart "
        f"and {light:.1f} from afar."
    )
