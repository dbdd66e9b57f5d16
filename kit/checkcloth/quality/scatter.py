"""How sure a score is when production scatters: Monte Carlo with a stated seed.

Model: every dyed or printed lot departs from its colour by a random step in Lab, normally
distributed in the ellipsoid of the tolerance's own measure, so wide that a stated share of
lots (95 % unless stated) lies within the tolerance. That production centres on the standard
and fills the tolerance so is an assumption, written on every result.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from functools import partial
from typing import Any, ClassVar

import numpy as np
from numpy.typing import NDArray

from checkcloth.arguments import Floats, as_number, as_whole, require_type
from checkcloth.cloth.check import Check
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.tones import stack
from checkcloth.colour.spaces import lab_to_srgb, srgb_to_lab
from checkcloth.colour.vision import see_as
from checkcloth.errors import ArgumentError
from checkcloth.files.frames import Definition, Tabular
from checkcloth.files.html import table
from checkcloth.files.progress import Progress, progress_of
from checkcloth.quality.sweep import find_pairs
from checkcloth.quality.tolerance import Tolerance, scatter_lab, wilson_interval
from checkcloth.scoring.measures import Measure, find_measure
from checkcloth.scoring.pairs import KIND_MEANINGS, NamedPairs

# Pair values worked at a time.
_BLOCK = 1 << 19


@dataclass(frozen=True, repr=False)
class ToleranceScore(Tabular):
    """The chance of each pair, and of all together, to stay at or above a threshold.

    Attributes
    ----------
    colourway : Colourway
    measure, vision : str
    threshold : float
    tolerance : Tolerance
    of : str
        ``"tones"`` or ``"colours"``: what was scattered.
    draws, seed : int
    confidence : float
    pairs : NamedPairs
    nominal : ndarray, shape (P,)
        Values without scatter, about which the draws lie.
    hits : ndarray of int, shape (P,)
        Draws in which each pair stayed at or above the threshold.
    all_hits : int
        Draws in which every pair did.
    low, high : ndarray, shape (P,)
        Values between which the middle 95 % of draws lie.
    stopped : bool
        Whether it was stopped before all draws were made; ``draws`` is how many were.
    """

    colourway: Colourway
    measure: str
    vision: str
    threshold: float
    tolerance: Tolerance
    of: str
    draws: int
    seed: int
    confidence: float
    pairs: NamedPairs
    nominal: Floats
    hits: NDArray[np.int64]
    all_hits: int
    low: Floats
    high: Floats
    stopped: bool = False

    made_by: ClassVar[str] = "score_with_tolerance"
    definitions: ClassVar[tuple[Definition, ...]] = (
        Definition("pair", "the two tones", "their names, each different pair once"),
        Definition("kind", "kind of pair", f"one of {', '.join(KIND_MEANINGS)}"),
        Definition("nominal", "as specified", "d by the measure that was asked", "the pair"),
        Definition("low", "2.5 % of draws lie below", "percentile 2.5 of d over the draws"),
        Definition("high", "2.5 % of draws lie above", "percentile 97.5 of d over the draws"),
        Definition("hits", "draws that hold", "how many draws have d ≥ threshold"),
        Definition("chance", "chance to hold", "hits / draws"),
        Definition(
            "chance_low", "lower end of its interval", "Wilson score interval of hits in draws",
            source="Wilson 1927 (cited from memory)",
        ),
        Definition(
            "chance_high", "upper end of its interval", "Wilson score interval of hits in draws",
            source="Wilson 1927 (cited from memory)",
        ),
    )  # fmt: skip

    def chance(self, pair: int) -> tuple[float, float, float]:
        """Return the chance of one pair, with the lower and upper end of its interval."""
        return self._chance_of(int(self.hits[pair]))

    @property
    def chance_of_all(self) -> tuple[float, float, float]:
        """The chance that every pair stays at or above the threshold, with its interval."""
        return self._chance_of(self.all_hits)

    def _chance_of(self, hits: int) -> tuple[float, float, float]:
        return (hits / self.draws, *wilson_interval(hits, self.draws, self.confidence))

    @property
    def columns(self) -> dict[str, Any]:
        """Values by column, a row a pair, in the order of ``pairs``."""
        chances = np.array([self.chance(pair) for pair in range(len(self.pairs))]).reshape(-1, 3)
        return {
            "pair": list(self.pairs.names),
            "kind": list(self.pairs.kinds),
            "nominal": self.nominal,
            "low": self.low,
            "high": self.high,
            "hits": self.hits,
            "chance": chances[:, 0],
            "chance_low": chances[:, 1],
            "chance_high": chances[:, 2],
        }

    def texts(self) -> Iterator[tuple[str, str, str, str]]:
        """Yield pair, value without scatter, its spread, and the chance, the worst first."""
        for pair in np.argsort(self.hits, kind="stable").tolist():
            chance, low, high = self.chance(pair)
            yield (
                self.pairs.names[pair],
                f"{self.nominal[pair]:.2f}",
                f"{self.low[pair]:.2f} to {self.high[pair]:.2f}",
                f"{chance * 100:.2f} % ({low * 100:.2f}–{high * 100:.2f} %)",
            )

    @property
    def basis(self) -> str:
        """In one sentence, what the figures rest on."""
        stopped = " (stopped before the last)" if self.stopped else ""
        return (
            f"{self.draws:,} draws{stopped}, seed {self.seed}; each of the {self.of} scatters by "
            f"itself, normally, within {self.tolerance}; Wilson intervals at "
            f"{self.confidence * 100:g} %. That lots centre on the standard is assumed"
        )

    def __str__(self) -> str:
        chance, low, high = self.chance_of_all
        label = find_measure(self.measure).label
        return (
            f"all {len(self.pairs)} pairs stay at {label} {self.threshold:g} or more in "
            f"{chance * 100:.1f} % of lots ({low * 100:.1f}–{high * 100:.1f} %)"
        )

    heads = ("Pair", "As specified", "95 % of draws", "Chance to hold")

    def _repr_html_(self) -> str:
        return table([str(self), self.basis], self.heads, self.texts(), right=(1, 2, 3))


def score_with_tolerance(
    colourway: Colourway,
    tolerance: Tolerance | None = None,
    *,
    measure: str = "de2000",
    threshold: float | None = None,
    kinds: str | Iterable[str] = "edges",
    vision: str = "normal",
    of: str = "tones",
    draws: int = 10_000,
    seed: int = 1,
    confidence: float = 0.95,
    check: Check | None = None,
    progress: bool | Progress = False,
) -> ToleranceScore:
    """Draw lots at random and count in how many each tone pair stays above a threshold.

    Parameters
    ----------
    colourway : Colourway
    tolerance : Tolerance, optional
        CMC(2:1) 1.0 holding 95 % of lots unless given.
    measure, threshold, kinds, vision :
        See :func:`sweep`.
    of : str
        ``"tones"``: each tone on the cloth strays by itself, as print does. ``"colours"``:
        ground and stripe colours stray and are mixed anew, as dyed yarn does; what leaves
        sRGB is held to it, since the mixings work there (so are tones, unless the measure
        is ``"de2000"``, ``"dl"`` or ``"hyab"`` under normal vision).
    draws : int
        100 to 1,000,000.
    seed : int
        The same seed gives the same figures.
    confidence : float
        Of the intervals, which say how well so many draws know the chance, and nothing
        about whether the model of scatter is right.
    check : Check, optional
        Whose bands say what touches, and how much; an even check unless given.
    progress : bool or callable
        A progress bar with an estimate, or ``progress(done, total)`` in draws.

    Returns
    -------
    ToleranceScore
        After Ctrl-C or an interrupt of the kernel of the draws that were made, as if no more
        had been asked for, and ``stopped`` says so.

    Raises
    ------
    ArgumentError
        For unknown names and values out of range.

    Examples
    --------
    >>> print(score_with_tolerance(Colourway("white", ["navy"]), threshold=20))
    all 2 pairs stay at ΔE00 20 or more in 99.8 % of lots (99.7–99.8 %)
    """
    allowed = Tolerance() if tolerance is None else tolerance
    require_type(allowed, "tolerance", Tolerance)
    pairs, chosen, limit = find_pairs(colourway, kinds, measure, threshold, check)
    count = as_whole(draws, "draws", 100, 1_000_000)
    rng = np.random.default_rng(as_whole(seed, "seed", 0, 2**63))
    as_number(confidence, "confidence", 0.5, 0.9999)
    if of not in ("tones", "colours"):
        raise ArgumentError("of", "tones or colours", of)
    (nominal,) = _values(colourway, pairs, chosen, vision, of, lambda lab: lab[None])
    lots_at_once = max(1, _BLOCK // len(pairs))
    # Values, draws in which each pair holds, and in which all do: a block of lots is there
    # as a whole or not at all, whenever an interrupt comes.
    blocks: list[tuple[NDArray[np.float32], NDArray[np.int64], int]] = []
    with progress_of(progress, count, "draws", "drawing lots") as step:
        try:
            for start in range(0, count, lots_at_once):
                lots = min(lots_at_once, count - start)
                scatter = partial(_scattered, tolerance=allowed, lots=lots, rng=rng)
                values = _values(colourway, pairs, chosen, vision, of, scatter)
                stays = values >= limit
                holds = stays.sum(axis=0, dtype=np.int64)
                blocks.append((values.astype(np.float32), holds, int(stays.all(axis=1).sum())))
                step(lots)
        except KeyboardInterrupt:
            if not blocks:
                raise
    drawn = np.concatenate([values for values, _, _ in blocks])
    low, high = np.percentile(drawn, [2.5, 97.5], axis=0)
    return ToleranceScore(
        colourway, measure, vision, limit, allowed, of, len(drawn), seed, confidence,
        pairs, nominal,
        np.sum([holds for _, holds, _ in blocks], axis=0), sum(every for _, _, every in blocks),
        np.asarray(low, dtype=np.float64), np.asarray(high, dtype=np.float64),
        stopped=len(drawn) < count,
    )  # fmt: skip


def _values(
    colourway: Colourway, pairs: NamedPairs, measure: Measure, vision: str, of: str,
    scatter: Callable[[Floats], Floats],
) -> Floats:  # fmt: skip
    """Values (lots, P) of the pairs; ``scatter`` makes Lab (lots, T, 3) of colours, Lab (T, 3)."""
    # The tones that the pairs use, each once.
    both = np.concatenate([pairs.one, pairs.two])
    tones, inverse = np.unique(both, axis=0, return_inverse=True)
    first, second = inverse.reshape(2, -1)
    if of == "colours":
        drawn = _mixed_lots(colourway, scatter)[:, *tones.T]
    else:
        lab = scatter(colourway.tones_lab[*tones.T])
        # Cloth is not bound to sRGB: where the measure is of Lab and eyes are normal, neither
        # is this.
        if vision == "normal" and measure.name in ("de2000", "dl", "hyab"):
            return measure.compare_lab(lab[:, first], lab[:, second])
        drawn = _clipped(lab)
    seen = see_as(drawn, vision)
    return measure.compare(seen[:, first], seen[:, second])


def _scattered(lab: Floats, tolerance: Tolerance, lots: int, rng: np.random.Generator) -> Floats:
    """Lab (lots, T, 3) of colours, Lab (T, 3), that scatter each by itself."""
    steps = rng.standard_normal((lots, *lab.shape)) * tolerance.sigma
    return scatter_lab(lab, steps, tolerance.measure)


def _clipped(lab: Floats) -> Floats:
    return np.clip(lab_to_srgb(lab), 0, 1)


def _mixed_lots(colourway: Colourway, scatter: Callable[[Floats], Floats]) -> Floats:
    """Tones (lots, W+1, F+1, 3) mixed of ground and stripe colours that scatter.

    A colour that warp and weft share is one yarn, or one ink, and strays once.
    """
    (whole,) = stack([colourway])
    colours = np.array([colourway.ground.rgb, *(ink.rgb for ink in colourway.inks)])
    drawn = _clipped(scatter(srgb_to_lab(colours)))
    number = len(colourway.stripes)
    wefts = drawn[:, 1 + np.array(colourway.weft_inks)] if colourway.weft_stripes else None
    return whole.with_colours(drawn[:, 0], drawn[:, 1 : number + 1], wefts).tones()
