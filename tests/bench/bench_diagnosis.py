"""How often the diagnosis of a strike-off names what really acted: a simulated table.

    PYTHONPATH=kit python tests/bench/bench_diagnosis.py [strike-offs a row]

Every strike-off is a colourway of its own: one to six stripes at random, in a third of them one to
three other colours in the weft, any mixing, strengths of 30 to 80 %, one, three or five readings a
tone that scatter by 0.1 to 0.4 in each of L*, a* and b*, and a scatter of the cloth from tone to
tone of 0 to 0.2. Each cause by itself moves the tone that it moves most by CMC(2:1) 2 to 12.
Prints a table and asserts nothing:
``tests/quality/test_diagnosis.py`` holds it, at a smaller number.
"""

from __future__ import annotations

import sys
import time
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from checkcloth import Colourway, delta_e_2000, delta_e_cmc, srgb_to_lab
from checkcloth.cloth.mixing import MIXINGS, find_mixing
from checkcloth.cloth.tones import canonical_tone
from checkcloth.colour.css import hex_of
from checkcloth.colour.illuminant import adapt_lab
from checkcloth.colour.spaces import lab_to_srgb
from checkcloth.quality import Readings, check_strike_off
from checkcloth.quality.diagnosis.made import MadeCloth
from checkcloth.quality.diagnosis.misread import lab_10_degree
from checkcloth.quality.readings import Reading

WORST = (2.0, 12.0)
WEFT_SHARE = 1 / 3
MADE = ("strength", "warp strength", "weft strength", "ground", "stripe", "mixing")
EXCHANGED = ("tones exchanged", "stripes exchanged", "warp and weft exchanged")
ONE = (*MADE, *EXCHANGED, "illuminant", "observer")


@dataclass(frozen=True)
class Cloth:
    """A cloth as it came out: its numbers, and how it was read."""

    state: np.ndarray
    mixing: str
    order: np.ndarray
    light: str = "D65"
    observer: int = 2


class NotShownError(Exception):
    """A cause that this colourway cannot have, or does not show."""


def colourway(rng: np.random.Generator, stripes: int) -> Colourway:
    """Colours at least CIEDE2000 10 apart, the ground light more often than not."""
    wefts = int(rng.integers(1, 4)) if rng.random() < WEFT_SHARE else 0
    while True:
        ground = np.array([rng.uniform(80, 97), *rng.normal(0, 6, 2)])
        if rng.random() < 0.2:
            ground[0] = rng.uniform(15, 80)
        count = stripes + wefts
        others = np.c_[rng.uniform(15, 85, count), rng.normal(0, 30, (count, 2))]
        lab = np.concatenate([ground[None], others])
        rgb = lab_to_srgb(lab)
        apart = delta_e_2000(lab[:, None], lab[None]) + 99 * np.eye(len(lab))
        if rgb.min() >= 0 and rgb.max() <= 1 and apart.min() >= 10:
            break
    codes = [hex_of(colour) for colour in rgb]
    mixing = MIXINGS[rng.integers(len(MIXINGS))]
    strength = round(float(rng.uniform(0.3, 0.8)), 2)
    warp, weft = codes[1 : stripes + 1], codes[stripes + 1 :]
    return Colourway(codes[0], warp, strength, mixing, weft_stripes=weft or None)


class Maker:
    """Lays causes on a colourway."""

    def __init__(self, spec: Colourway, rng: np.random.Generator) -> None:
        self.spec, self.rng = spec, rng
        self.tones = [(tone.warp, tone.weft) for tone in spec.unique_tones]
        self.cloth = MadeCloth(spec, self.tones)
        # Whoever reads takes either the warp's or the weft's tone where both have one name.
        self.turned = bool(rng.random() < 0.5)
        self.as_specified = Cloth(self.cloth.start, spec.mixing, np.arange(len(self.tones)))

    def lab(self, cloth: Cloth) -> np.ndarray:
        lab = self.cloth.lab(cloth.state[None], cloth.mixing, turned=self.turned)[0]
        if cloth.observer == 10:
            lab = lab_10_degree(np.clip(lab_to_srgb(lab), 0, 1))
        return adapt_lab(lab, "D65", cloth.light)[cloth.order]

    def lay(self, cause: str, on: Cloth) -> tuple[str, Cloth]:
        """The name of what acted, and the cloth with it; by itself it moves a tone enough."""
        plain = self.lab(self.as_specified)
        for _ in range(200):
            name, change = self._draw(cause)
            moved = delta_e_cmc(plain, self.lab(change(self.as_specified)))
            most = float("inf") if cause in (*EXCHANGED, "mixing", "illuminant") else WORST[1]
            if WORST[0] <= moved.max() <= most:
                made = change(on)
                if made.state[0] != made.state[1] and find_mixing(made.mixing).layout == "demichel":
                    raise NotShownError(cause)  # a layout of which one strength is known
                return name, made
        raise NotShownError(cause)

    def _draw(self, cause: str) -> tuple[str, Callable[[Cloth], Cloth]]:
        rng = self.rng
        if cause.endswith(" strength") and cause not in self.cloth.parts:
            raise NotShownError(cause)  # a layout of which one strength is known
        if cause in self.cloth.parts or cause == "stripe":
            stripes = [part for part in self.cloth.parts if "stripe" in part]
            name = str(rng.choice(stripes)) if cause == "stripe" else cause
            moves = self.cloth.parts[name].moves
            entries = moves.any(axis=1)
            start = self.cloth.start[entries]
            if name.endswith("strength"):
                value = np.full(len(start), np.clip(start[0] + rng.uniform(-0.25, 0.25), 0, 1))
            else:
                value = lab_to_srgb(srgb_to_lab(start) + rng.normal(0, 5, 3))
                if value.min() < 0 or value.max() > 1:
                    return self._draw(cause)
            return name, lambda on: replace(on, state=_put(on.state, entries, value))
        if cause == "mixing":
            others = [mixing for mixing in MIXINGS if mixing != self.spec.mixing]
            other = others[rng.integers(len(others))]
            return cause, lambda on: replace(on, mixing=other)
        if cause == "illuminant":
            return cause, lambda on: replace(on, light="D50")
        if cause == "observer":
            return cause, lambda on: replace(on, observer=10)
        order = self._order(cause)
        return cause, lambda on: replace(on, order=order)

    def _order(self, cause: str) -> np.ndarray:
        rng, count = self.rng, len(self.spec.stripes)
        rows = {tone: row for row, tone in enumerate(self.tones)}
        order = np.arange(len(self.tones))
        if cause == "tones exchanged":
            one, two = rng.choice(len(order), 2, replace=False)
            order[[one, two]] = two, one
            return order
        if count < 2 or self.spec.weft_stripes:
            raise NotShownError(cause)  # the weft's colours have no counterparts in the warp
        if cause == "warp and weft exchanged":
            swapped = [(weft, warp) for warp, weft in self.tones]
        else:
            one, two = rng.choice(np.arange(1, count + 1), 2, replace=False)
            swap = {one: two, two: one}
            swapped = [(swap.get(w, w), swap.get(f, f)) for w, f in self.tones]
        return np.array([rows[canonical_tone(*tone, self.spec.symmetry)] for tone in swapped])

    def readings(self, cloth: Cloth) -> Readings:
        rng = self.rng
        lab, each = self.lab(cloth), int(rng.choice([1, 3, 5]))
        lab = lab + rng.normal(0, rng.choice([0, 0.1, 0.2]), lab.shape)
        noise = rng.choice([0.1, 0.2, 0.4])
        found = tuple(
            Reading(self.spec.tone_label(*tone), tuple(lab[row] + rng.normal(0, noise, 3)), row)
            for row, tone in enumerate(self.tones)
            for _ in range(each)
        )
        return Readings("simulated", "D65", 2, found)


def _put(state: np.ndarray, entries: np.ndarray, value: np.ndarray) -> np.ndarray:
    state = state.copy()
    state[entries] = value
    return state


def strike_off(rng: np.random.Generator, causes: tuple[str, ...], least: int = 1):
    """What acted, and the diagnosis of a strike-off on which these causes do."""
    while True:
        spec = colourway(rng, int(rng.integers(least, 7)))
        maker = Maker(spec, rng)
        cloth, acted = maker.as_specified, []
        try:
            for cause in causes:
                name, cloth = maker.lay(cause, cloth)
                acted.append(name)
        except NotShownError:
            continue
        return tuple(acted), check_strike_off(spec, maker.readings(cloth)).diagnosis


def drawn(rng: np.random.Generator, count: int) -> tuple[str, ...]:
    """So many different causes; one way of exchanging and of strengths at a time."""
    kinds = [("strength", "warp strength", "weft strength"), ("ground",), ("stripe",),
             ("mixing",), EXCHANGED, ("illuminant",)]  # fmt: skip
    chosen = sorted(rng.choice(len(kinds), count, replace=False))
    return tuple(str(rng.choice(kinds[kind])) for kind in chosen)


def tally(rng: np.random.Generator, causes: tuple[str, ...] | int, count: int) -> Counter[str]:
    """Count what is said of so many strike-offs."""
    counts: Counter[str] = Counter()
    for _ in range(count):
        which = drawn(rng, causes) if isinstance(causes, int) else causes
        acted, diagnosis = strike_off(rng, which)
        named = [frozenset(cause.parts) for cause in diagnosis.named]
        right = frozenset(acted) in named
        counts["right"] += right
        counts["first"] += bool(named) and named[0] == frozenset(acted)
        counts["part"] += any(set(acted) & parts for parts in named)
        counts["alone"] += diagnosis.verdict == "one"
        counts["wrongly alone"] += diagnosis.verdict == "one" and not right
        counts[diagnosis.verdict] += 1
    return counts


HEADS = (
    "what acts", "named first", "named", "one of it named", "said to act alone", "wrongly so",
    "cannot be told apart", "explains most, not all", "no cause found", "too small to say",
)  # fmt: skip


def main(count: int) -> None:
    """Print the table, in per cent."""
    rng = np.random.default_rng(17)
    rows: list[tuple[str, tuple[str, ...] | int]] = [(cause, (cause,)) for cause in ONE]
    rows += [("two causes", 2), ("three causes", 3), ("none, scatter only", ())]
    print(f"| {' | '.join(HEADS)} |\n| :-- |{' --: |' * (len(HEADS) - 1)}")
    begun = time.perf_counter()
    for words, causes in rows:
        found = tally(rng, causes, count)
        cells = [found["first"], found["right"], found["part"], found["alone"],
                 found["wrongly alone"], found["one of"] + found["two of"], found["most"],
                 found["none"], found["small"]]  # fmt: skip
        shares = " | ".join(f"{cell / count * 100:.1f}" for cell in cells)
        print(f"| {words} | {shares} |", flush=True)
    print(f"{count} strike-offs a row, {(time.perf_counter() - begun) / 60:.1f} min")


if __name__ == "__main__":
    main(int(sys.argv[1]) if sys.argv[1:] else 400)
