"""How each tone pair moves with the overlay strength, and where exactly it falls short."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from checkcloth.arguments import Floats, as_fraction, as_number, as_whole
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.mixing import mix_tones
from checkcloth.colour.vision import see_as
from checkcloth.files.html import table
from checkcloth.quality.roots import Span, held_spans
from checkcloth.scoring.contrast import Score, score_tones
from checkcloth.scoring.measures import NamedPairs, find_measure, named_pairs

__all__ = ["Sweep", "score_strengths", "sweep", "tones_at"]

# Pairs refined together; 18 tones each, so some 30 MB.
_BLOCK = 4096


def tones_at(colourway: Colourway, strengths: ArrayLike) -> Floats:
    """Return the tones (..., N+1, N+1, 3) of a colourway at strengths (...) of 0–1.

    >>> tones_at(Colourway("white", ["black"]), [0.0, 0.5, 1.0]).shape
    (3, 2, 2, 3)
    """
    return mix_tones(
        colourway.ground.rgb,
        [stripe.rgb for stripe in colourway.stripes],
        as_fraction(strengths, "strengths"),
        colourway.mixing,
        warp_share=colourway.warp_share,
        yule_nielsen=colourway.yule_nielsen,
    )


def score_strengths(
    colourway: Colourway, strengths: ArrayLike, vision: str = "normal", severity: float = 1.0
) -> Score:
    """Score a colourway at many strengths (...) of 0–1; arrays of shape (...).

    >>> score_strengths(Colourway("white", ["black"]), [0, 1]).least_edge.tolist()
    [0.0, 0.0]
    """
    return score_tones(tones_at(colourway, strengths), vision, severity)


@dataclass(frozen=True, repr=False)
class Sweep:
    """Tone pairs of a colourway over the overlay strength.

    Attributes
    ----------
    colourway : Colourway
    measure, vision : str
    threshold : float
    strengths : ndarray, shape (G,)
    pairs : NamedPairs
        P of them.
    values : ndarray, shape (G, P)
    spans : tuple of P tuples of Span
        Where each pair is at or above the threshold; ends found by bisection.

    Examples
    --------
    >>> print(sweep(Colourway("white", ["black"]), measure="dl", threshold=20))
    2 tone pairs over strength: 2 reach ΔL* 20 somewhere (normal vision)
    """

    colourway: Colourway
    measure: str
    vision: str
    threshold: float
    strengths: Floats
    pairs: NamedPairs
    values: Floats
    spans: tuple[tuple[Span, ...], ...]

    def rows(self) -> Iterator[tuple[str, str, str]]:
        """Yield pair, kind, and the strengths at which it is at or above the threshold."""
        for name, kind, spans in zip(self.pairs.names, self.pairs.kinds, self.spans, strict=True):
            held = ", ".join(map(str, spans)) or "nowhere"
            yield name, kind.replace("_", "–"), held

    def __str__(self) -> str:
        label = find_measure(self.measure).label
        held = sum(bool(spans) for spans in self.spans)
        return (
            f"{len(self.pairs)} tone pairs over strength: {held} reach {label} "
            f"{self.threshold:g} somewhere ({self.vision} vision)"
        )

    def __repr__(self) -> str:
        return f"<{self}>"

    @property
    def heads(self) -> tuple[str, ...]:
        """Headings of :meth:`rows`."""
        label = find_measure(self.measure).label
        return ("Pair", "Kind", f"{label} ≥ {self.threshold:g} at strengths of")

    def _repr_html_(self) -> str:
        return table([str(self)], self.heads, self.rows())


def sweep(
    colourway: Colourway,
    *,
    measure: str = "de2000",
    threshold: float | None = None,
    kinds: str | Iterable[str] = "edges",
    vision: str = "normal",
    steps: int = 200,
) -> Sweep:
    """Follow tone pairs over the strength, and find where each crosses a threshold.

    Parameters
    ----------
    colourway : Colourway
        Its own strength does not matter here.
    measure : str
        ``"de2000"``, ``"dl"``, ``"ratio"`` or ``"deok"``.
    threshold : float, optional
        In the measure's own unit; by default 10, 10, 1.5 and 0.1.
    kinds : str or iterable of str
        ``"edges"`` (pairs that share an edge), or names of pair kinds.
    vision : str
        One of ``VISIONS``.
    steps : int
        Of the grid from 0 to 1, 20 to 5000. Crossings are bracketed on it and then found
        to the last digits; only a wiggle narrower than a step could hide.

    Raises
    ------
    ArgumentError
        For unknown names and values out of range.

    Examples
    --------
    >>> swept = sweep(Colourway("white", ["black"]), measure="dl", threshold=20)
    >>> [str(span) for span in swept.spans[0]]
    ['22.22–100.00 %']
    """
    chosen = find_measure(measure)
    limit = as_number(
        chosen.usual if threshold is None else threshold,
        "threshold",
        chosen.lowest,
        chosen.highest,
    )
    grid = np.linspace(0, 1, as_whole(steps, "steps", 20, 5000) + 1)
    pairs = named_pairs(colourway, kinds)
    seen = see_as(tones_at(colourway, grid), vision)
    values = np.empty((len(grid), len(pairs)))
    for start in range(0, len(pairs), _BLOCK):
        part = slice(start, start + _BLOCK)
        one = seen[:, pairs.one[part, 0], pairs.one[part, 1]]
        two = seen[:, pairs.two[part, 0], pairs.two[part, 1]]
        values[:, part] = chosen.compare(one, two)

    def at(where: Floats, which: NDArray[np.intp]) -> Floats:
        out = np.empty(len(where))
        for start in range(0, len(where), _BLOCK):
            part = slice(start, start + _BLOCK)
            one = _single_tones(colourway, where[part], pairs.one[which[part]])
            two = _single_tones(colourway, where[part], pairs.two[which[part]])
            out[part] = chosen.compare(see_as(one, vision), see_as(two, vision))
        return out - limit

    spans = tuple(held_spans(at, grid, values - limit))
    return Sweep(colourway, measure, vision, limit, grid, pairs, values, spans)


def _single_tones(colourway: Colourway, strengths: Floats, places: NDArray[np.intp]) -> Floats:
    """Tones (R, 3), each of one place (warp, weft) at one strength.

    A tone depends on its own two stripes only, so each is mixed in a check of just those.
    """
    stripes = np.array([stripe.rgb for stripe in colourway.stripes])
    own = stripes[np.maximum(places - 1, 0)]
    tones = mix_tones(
        colourway.ground.rgb,
        own,
        strengths,
        colourway.mixing,
        warp_share=colourway.warp_share,
        yule_nielsen=colourway.yule_nielsen,
    )
    rows = np.arange(len(places))
    return np.asarray(
        tones[rows, np.where(places[:, 0] > 0, 1, 0), np.where(places[:, 1] > 0, 2, 0)]
    )
