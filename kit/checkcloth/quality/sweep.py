"""Over the overlay strength: where each tone pair holds, and where everything demanded does.

``sweep`` follows the pairs of one colourway; ``strength_windows`` finds, mixing by mixing, the
strengths at which several demands hold together. Both bracket every crossing of a limit on a
grid of strengths and then find it by bisection (``held_spans``). Bisection rather than a
faster rule: margins have kinks (a least over pairs) and CIEDE2000 has small jumps, and
bisection converges on both.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal
from typing import Any, ClassVar, NamedTuple

import numpy as np
from numpy.typing import NDArray

from checkcloth.arguments import Floats, as_number, as_tuple, as_whole, require_one_of, require_type
from checkcloth.cloth.bands import Bands
from checkcloth.cloth.check import Check
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.mixing import MIXINGS, find_mixing
from checkcloth.cloth.palette import Palette
from checkcloth.cloth.tones import stack
from checkcloth.colour.spaces import srgb_to_lab
from checkcloth.colour.vision import VISIONS, see_as
from checkcloth.errors import ArgumentError
from checkcloth.files.frames import Definition, Tabular
from checkcloth.files.html import OneLine, table
from checkcloth.scoring.cloth_scores import as_bands
from checkcloth.scoring.contrast import least_over_edges, score_tones
from checkcloth.scoring.measures import Measure, find_measure
from checkcloth.scoring.pairs import (
    EDGE_KINDS,
    KIND_MEANINGS,
    NamedPairs,
    bands_of,
    kinds_of,
    named_pairs,
    tone_pairs,
)
from checkcloth.scoring.vocabulary import PAIR_WORDS, limit_words, vision_name

# (strengths (R,), which (R,)) → margins (R,): how far quantity `which` is above its limit.
MarginAt = Callable[[Floats, NDArray[np.intp]], Floats]

_EVEN: tuple[Bands | None, Bands | None] = (None, None)

# Pairs refined together; 18 tones each, so some 30 MB.
_BLOCK = 4096
# Fifty halvings leave no digit to gain.
_HALVINGS = 50
_GOLDEN = (np.sqrt(5) - 1) / 2


class Span(NamedTuple):
    """A range of overlay strength, both ends belonging to it.

    >>> print(Span(0.25, 0.5))
    25.00–50.00 %
    """

    low: float
    high: float

    def per_cent(self, digits: int = 2) -> tuple[str, str]:
        """Both ends in per cent, rounded inwards: typed back in, they hold.

        A span that is too short for so many digits gets more.

        >>> Span(0.12341, 0.56789).per_cent()
        ('12.35', '56.78')
        """
        for more in range(digits, 16):
            low = _rounded_inwards(self.low, more, up=True)
            high = _rounded_inwards(self.high, more, up=False)
            if Decimal(low) <= Decimal(high):
                return low, high
        return str(Decimal(repr(float(self.low))) * 100), str(Decimal(repr(float(self.high))) * 100)

    def __str__(self) -> str:
        return "{}–{} %".format(*self.per_cent())

    def __repr__(self) -> str:
        return f"<{self}>"


def _rounded_inwards(share: float, digits: int, *, up: bool) -> str:
    """A share as per cent, rounded so that what is read back is not outside it."""
    step = Decimal(1).scaleb(-digits)
    rounding = ROUND_CEILING if up else ROUND_FLOOR
    # The shortest decimal that is this float, as it would be typed: 0.7, and not 0.69999…
    return str((Decimal(repr(float(share))) * 100).quantize(step, rounding))


Spans = tuple[Span, ...]


def _spans_text(spans: Spans, nowhere: str = "nowhere") -> str:
    return ", ".join(map(str, spans)) or nowhere


# --- Tone pairs over the strength -----------------------------------------------------------


class Binding(NamedTuple):
    """The pair that decides where all pairs hold together.

    Attributes
    ----------
    strength : float
        An end of the joint window; where there is none, the strength at which the closest
        pair stands farthest apart.
    pair : int
        Which of the sweep's pairs it is: one that ceases to hold there, or that closest pair.
    end : str
        ``"low end"``, ``"high end"``, or ``"closest"`` where there is no window.
    """

    strength: float
    pair: int
    end: str


@dataclass(frozen=True, repr=False)
class Sweep(Tabular):
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
    """

    colourway: Colourway
    measure: str
    vision: str
    threshold: float
    strengths: Floats
    pairs: NamedPairs
    values: Floats
    spans: tuple[Spans, ...]

    made_by: ClassVar[str] = "sweep"
    definitions: ClassVar[tuple[Definition, ...]] = (
        Definition("pair", "the two tones", "their names, each different pair once"),
        Definition("kind", "kind of pair", f"one of {', '.join(KIND_MEANINGS)}"),
        Definition(
            "from", "strength from which the pair holds",
            "the least strength of a span in which d ≥ threshold, d by the measure that was asked; "
            "bracketed on the grid of steps, then bisected to the last digit",
            "the pair; a row for each span, and NaN where it holds nowhere",
        ),
        Definition(
            "to", "strength up to which it holds", "the greatest strength of that span",
            "the pair",
        ),
        Definition(
            "binds", "which end of the joint window it decides",
            "the joint window is the intersection of all pairs' spans; where there is none, "
            "closest: the least pair at the strength at which the least d is greatest",
            "all pairs of the sweep",
        ),
    )  # fmt: skip

    @property
    def heads(self) -> tuple[str, ...]:
        """Headings of :meth:`rows`."""
        label = find_measure(self.measure).label
        return ("Pair", "Kind", f"{label} ≥ {self.threshold:g} at strengths of", "Binds at")

    @property
    def window(self) -> Spans:
        """The strengths at which every pair is at or above the threshold."""
        return overlap(list(self.spans))

    @property
    def binding(self) -> tuple[Binding, ...]:
        """The pairs at which the ends of the joint window lie, each end in order.

        An end at 0 or 100 % is no pair's doing. Without a window it is the pair that is the
        closest where the closest stands farthest apart.

        Examples
        --------
        >>> swept = sweep(Colourway("white", ["navy"]), threshold=20)
        >>> swept.window, [(each.end, swept.pairs.names[each.pair]) for each in swept.binding][0]
        ((<35.23–58.20 %>,), ('low end', 'navy on white / navy over navy'))
        """
        window = self.window
        if not window:
            least = self.values.min(axis=1)
            at = int(least.argmax())
            return (Binding(float(self.strengths[at]), int(self.values[at].argmin()), "closest"),)
        return tuple(
            Binding(strength, pair, end)
            for joint in window
            for strength, end, which in ((joint.low, "low end", 0), (joint.high, "high end", 1))
            if 0 < strength < 1
            for pair, spans in enumerate(self.spans)
            if any(span[which] == strength for span in spans)
        )

    @property
    def columns(self) -> dict[str, Any]:
        """Values by column, a row for each strength at which a pair begins and ceases to hold.

        A pair that holds nowhere has one row, without strengths. ``binds`` says at which end
        of the joint window the pair lies.
        """
        binding = self.binding
        rows = [
            (name, kind, *(span or (np.nan, np.nan)), _ends(binding, pair, span))
            for pair, (name, kind, spans) in enumerate(
                zip(self.pairs.names, self.pairs.kinds, self.spans, strict=True)
            )
            for span in spans or (None,)
        ]
        names = ("pair", "kind", "from", "to", "binds")
        return {name: [row[n] for row in rows] for n, name in enumerate(names)}

    def texts(self) -> Iterator[tuple[str, str, str, str]]:
        """Yield pair, kind, where it is at or above the threshold, and which end it decides.

        The first line is of all pairs together.
        """
        yield "all pairs together", "", _spans_text(self.window), ""
        binding = self.binding
        for pair, (name, kind, spans) in enumerate(
            zip(self.pairs.names, self.pairs.kinds, self.spans, strict=True)
        ):
            yield name, PAIR_WORDS[kind], _spans_text(spans), _ends(binding, pair)

    def __str__(self) -> str:
        label = find_measure(self.measure).label
        held = sum(bool(spans) for spans in self.spans)
        return (
            f"{len(self.pairs)} tone pairs over strength: {held} reach {label} "
            f"{self.threshold:g} somewhere ({vision_name(self.vision)})"
        )

    def _repr_html_(self) -> str:
        return table([str(self)], self.heads, self.texts())


def _ends(binding: tuple[Binding, ...], pair: int, span: Span | None = None) -> str:
    """At which ends a pair decides, or its span does: ``low end, high end``."""
    return ", ".join(
        each.end
        for each in binding
        if each.pair == pair and (span is None or each.end == "closest" or each.strength in span)
    )


def as_colourway(value: object) -> Colourway:
    """Return a colourway as it is; of a palette, say how it becomes several."""
    if isinstance(value, Palette):
        allowed = "a Colourway, such as each that palette_colourways(palette) yields"
        raise ArgumentError("colourway", allowed, value)
    return require_type(value, "colourway", Colourway)


def find_pairs(
    colourway: Colourway,
    kinds: str | Iterable[str],
    measure: str,
    threshold: float | None,
    check: Check | None = None,
) -> tuple[NamedPairs, Measure, float]:
    """Return the pairs to compare, the measure, and the threshold or the measure's usual one."""
    as_colourway(colourway)
    chosen = find_measure(measure)
    limit = chosen.usual if threshold is None else threshold
    limit = as_number(limit, "threshold", chosen.lowest, chosen.highest)
    wanted = kinds if isinstance(kinds, str) else as_tuple(kinds, "kinds", str)
    pairs = named_pairs(colourway, wanted, check)
    if not len(pairs):
        raise ArgumentError("kinds", "kinds of pairs that the check has", wanted)
    return pairs, chosen, limit


def _grid(steps: int) -> Floats:
    return np.linspace(0, 1, as_whole(steps, "steps", 20, 5000) + 1)


def sweep(
    colourway: Colourway,
    *,
    measure: str = "de2000",
    threshold: float | None = None,
    kinds: str | Iterable[str] = "edges",
    vision: str = "normal",
    steps: int = 200,
    check: Check | None = None,
) -> Sweep:
    """Follow tone pairs over the strength, and find where each crosses a threshold.

    Parameters
    ----------
    colourway : Colourway
        Its own strength does not matter here.
    measure : str
        ``"de2000"``, ``"dl"``, ``"ratio"``, ``"deok"`` or ``"hyab"``.
    threshold : float, optional
        In the measure's own unit; by default 10, 10, 1.5, 0.1 and 15.
    kinds : str or iterable of str
        ``"edges"`` (pairs that share an edge), or names of pair kinds.
    vision : str
        One of ``VISIONS``.
    steps : int
        Of the grid from 0 to 1, 20 to 5000. Crossings are bracketed on it and then found
        to the last digits; only a wiggle narrower than a step could hide.
    check : Check, optional
        Whose bands say what touches, and how much; an even check unless given.

    Raises
    ------
    ArgumentError
        For unknown names, values out of range, and kinds of which the check has no pair.

    Examples
    --------
    >>> swept = sweep(Colourway("white", ["black"]), measure="dl", threshold=20)
    >>> print(swept)
    2 tone pairs over strength: 2 reach ΔL* 20 somewhere (normal vision)
    >>> swept.spans[0]
    (<22.23–100.00 %>,)
    """
    pairs, chosen, limit = find_pairs(colourway, kinds, measure, threshold, check)
    grid = _grid(steps)
    seen = see_as(_tones_at(colourway, grid), vision)
    values = np.empty((len(grid), len(pairs)))
    for start in range(0, len(pairs), _BLOCK):
        part = slice(start, start + _BLOCK)
        values[:, part] = chosen.compare(seen[:, *pairs.one[part].T], seen[:, *pairs.two[part].T])

    def margins(strengths: Floats, which: NDArray[np.intp]) -> Floats:
        out = np.empty(len(strengths))
        for start in range(0, len(strengths), _BLOCK):
            part = slice(start, start + _BLOCK)
            first = _single_tones(colourway, strengths[part], pairs.one[which[part]])
            second = _single_tones(colourway, strengths[part], pairs.two[which[part]])
            out[part] = chosen.compare(see_as(first, vision), see_as(second, vision))
        return out - limit

    spans = tuple(held_spans(margins, grid, values - limit))
    return Sweep(colourway, measure, vision, limit, grid, pairs, values, spans)


def _tones_at(colourway: Colourway, strengths: Floats) -> Floats:
    """Tones (R, N+1, N+1, 3) of a colourway at strengths (R,)."""
    return replace(stack([colourway])[0], strengths=strengths).tones()


def _single_tones(colourway: Colourway, strengths: Floats, tones: NDArray[np.intp]) -> Floats:
    """Tones (R, 3), each of one (warp, weft) index (R, 2) at one strength.

    A tone depends on its own two stripes only, so each is mixed in a check of just those.
    """
    (whole,) = stack([colourway])
    warp, weft = np.maximum(tones - 1, 0).T
    colours = whole.colours
    if colours is not None:  # of these it is mixed, and not of the arrays
        ground, *inks = colours[0]
        first = 0 if whole.weft_stripes is None else whole.stripes.shape[1]
        ways = zip(warp.tolist(), weft.tolist(), strict=True)
        colours = tuple((ground, inks[one], inks[first + two]) for one, two in ways)
    own = replace(
        whole,
        stripes=whole.stripes[0][warp][:, None],
        weft_stripes=whole.weft_colours[0][weft][:, None],
        strengths=strengths,
        colours=colours,
    )
    return np.asarray(own.tones()[np.arange(len(tones)), *(tones > 0).astype(int).T])


# --- Windows in which every demand holds ----------------------------------------------------


@dataclass(frozen=True)
class Demand:
    """Something demanded of a colourway.

    Attributes
    ----------
    of : str
        A kind of tone pair (``"ground_single"`` …), ``"edges"``, or ``"lightness"``: that
        lightness runs one way from ground over single to crossing.
    measure : str
        ``"de2000"``, ``"dl"``, ``"ratio"``, ``"deok"`` or ``"hyab"``; of no use to ``"lightness"``.
    at_least : float
        For the closest pair; for ``"lightness"`` the least step in L*.
    vision : str
        One of ``VISIONS``.

    Examples
    --------
    >>> print(Demand("edges", "de2000", 12, "deutan"))
    every edge: ΔE00 at least 12, deutan vision
    """

    of: str
    measure: str = "de2000"
    at_least: float = 10.0
    vision: str = "normal"

    def __post_init__(self) -> None:
        chosen = find_measure(self.measure)
        if self.of == "lightness":
            as_number(self.at_least, "at_least", 0, 100)
        else:
            kinds_of(self.of)
            as_number(self.at_least, "at_least", chosen.lowest, chosen.highest)
        require_one_of(self.vision, "vision", VISIONS)

    def margins(
        self,
        tones: Floats,
        bands: tuple[Bands | None, Bands | None] = _EVEN,
        own_weft: bool = False,
    ) -> Floats:
        """How far tones (M, W+1, F+1, 3) are above what is demanded, (M,); NaN with no pair."""
        if self.of == "lightness":
            return _least_step(see_as(tones, self.vision), bands) - self.at_least
        if self.of == "edges":
            return least_over_edges(tones, self.measure, bands, self.vision) - self.at_least
        score = score_tones(
            tones, self.vision, warp_bands=bands[0], weft_bands=bands[1], kinds=self.of,
            own_weft=own_weft,
        )  # fmt: skip
        return np.asarray(getattr(getattr(score, self.of), f"least_{self.measure}") - self.at_least)

    def __str__(self) -> str:
        if self.of == "lightness":
            steps = f"lightness in order by steps of at least {self.at_least:g}"
            return f"{steps}, {vision_name(self.vision)}"
        return limit_words(self.of, self.measure, self.at_least, self.vision)


def _least_step(tones: Floats, bands: tuple[Bands | None, Bands | None]) -> Floats:
    """The least L* step along every path ground → single → crossing, one way or the other."""
    lightness = srgb_to_lab(tones)[..., 0].reshape(len(tones), -1)
    pairs = tone_pairs(*as_bands(tones, *bands))
    inner, outer = np.concatenate([pairs[kind].indices for kind in EDGE_KINDS]).T
    every = lightness[:, outer] - lightness[:, inner]
    if not every.size:  # the bands have no such path
        return np.full(len(tones), np.nan)
    return np.asarray(np.maximum(every.min(axis=1), (-every).min(axis=1)))


@dataclass(frozen=True, repr=False)
class StrengthWindow(OneLine):
    """Where all demands hold in one mixing.

    Attributes
    ----------
    mixing : str
    spans : tuple of Span
        Usually one; empty where the demands never hold together.
    each : tuple of tuples of Span
        Where each demand holds by itself, in the order they were given.
    """

    mixing: str
    spans: Spans
    each: tuple[Spans, ...]

    @property
    def widest(self) -> Span | None:
        """The widest span, or None."""
        return max(self.spans, key=lambda span: span.high - span.low, default=None)

    @property
    def held(self) -> str:
        """The spans in words."""
        return _spans_text(self.spans, "no strength holds all")

    def __str__(self) -> str:
        return f"{find_mixing(self.mixing).label}: {self.held}"


@dataclass(frozen=True, repr=False)
class StrengthWindows(Tabular):
    """The windows of a colourway in several mixings, with what was demanded.

    Attributes
    ----------
    colourway : Colourway
    demands : tuple of Demand
    windows : tuple of StrengthWindow
    """

    colourway: Colourway
    demands: tuple[Demand, ...]
    windows: tuple[StrengthWindow, ...]

    made_by: ClassVar[str] = "strength_windows"
    definitions: ClassVar[tuple[Definition, ...]] = (
        Definition("mixing", "how the tones are mixed", "one of MIXINGS"),
        Definition("asked", "what was asked", "all, or one of the demands in words"),
        Definition(
            "from", "strength from which it holds",
            "the least strength of a span in which the least d over the pairs is at least what "
            "was asked; found by bisection",
            "the pairs of the demand; of all demands the intersection of their spans",
        ),
        Definition("to", "strength up to which it holds", "the greatest strength of that span"),
    )  # fmt: skip

    def __iter__(self) -> Iterator[StrengthWindow]:
        return iter(self.windows)

    def __len__(self) -> int:
        return len(self.windows)

    def __getitem__(self, mixing: str | int) -> StrengthWindow:
        """Return the window of a mixing, by its name or its place."""
        by_mixing = {window.mixing: window for window in self.windows}
        if isinstance(mixing, str) and mixing in by_mixing:
            return by_mixing[mixing]
        count = len(self)
        if isinstance(mixing, int) and mixing is not True and -count <= mixing < count:
            return self.windows[mixing]
        allowed = f"one of {', '.join(by_mixing)}, or a place from 0 to {count - 1}"
        raise ArgumentError("mixing", allowed, mixing)

    @property
    def heads(self) -> tuple[str, ...]:
        """Headings of :meth:`rows`."""
        return ("Mixing", "All hold", *map(str, self.demands))

    @property
    def columns(self) -> dict[str, Any]:
        """Values by column, a row a span: of all that is asked, and of each demand."""
        asked = ["all", *map(str, self.demands)]
        rows = [
            (window.mixing, demand, *(span or (np.nan, np.nan)))
            for window in self.windows
            for demand, spans in zip(asked, (window.spans, *window.each), strict=True)
            for span in spans or (None,)
        ]
        names = ("mixing", "asked", "from", "to")
        return {name: [row[n] for row in rows] for n, name in enumerate(names)}

    def texts(self) -> Iterator[tuple[str, ...]]:
        """Yield mixing, where all demands hold, and where each does."""
        for window in self.windows:
            yield find_mixing(window.mixing).label, window.held, *map(_spans_text, window.each)

    def __str__(self) -> str:
        held = sum(bool(window.spans) for window in self.windows)
        return (
            f"strength windows of {self.colourway.name or self.colourway}: everything asked "
            f"holds somewhere in {held} of {len(self.windows)} mixings"
        )

    def _repr_html_(self) -> str:
        return table([str(self)], self.heads, self.texts())


def strength_windows(
    colourway: Colourway,
    demands: Sequence[Demand],
    *,
    mixings: Iterable[str] = MIXINGS,
    steps: int = 200,
    check: Check | None = None,
) -> StrengthWindows:
    """Return the strengths at which every demand holds, one window a mixing.

    Parameters
    ----------
    colourway : Colourway
        Its own strength and mixing do not matter.
    demands : sequence of Demand
        A demand on pairs that the check does not have holds everywhere.
    mixings : iterable of str
        Some of ``MIXINGS``.
    steps : int
        See :func:`sweep`.
    check : Check, optional
        Whose bands say what touches, and how much; an even check unless given.

    Returns
    -------
    StrengthWindows
        Iterates over its windows; ``windows["woven"]`` picks one, and so does ``windows[0]``.

    Raises
    ------
    ArgumentError
        For no demands, unknown names, values out of range.

    Examples
    --------
    >>> windows = strength_windows(
    ...     Colourway("white", ["navy"]), [Demand("edges", "dl", 20)], mixings=["source-over"]
    ... )
    >>> print(*windows)
    source-over: 32.32–66.40 %
    """
    as_colourway(colourway)
    every = as_tuple(demands, "demands", Demand)
    if not every:
        raise ArgumentError("demands", "one Demand or more", words="none")
    grid = _grid(steps)
    names = (mixings,) if isinstance(mixings, str) else as_tuple(mixings, "mixings", str)
    bands = bands_of(colourway, check)
    windows = tuple(_window(colourway.with_(mixing=mixing), every, grid, bands) for mixing in names)
    return StrengthWindows(colourway, every, windows)


def _window(
    colourway: Colourway, demands: tuple[Demand, ...], grid: Floats, bands: tuple[Bands, Bands]
) -> StrengthWindow:
    laid = bands, bool(colourway.weft_stripes)
    tones = _tones_at(colourway, grid)
    values = np.stack([demand.margins(tones, *laid) for demand in demands], axis=1)

    def margins(strengths: Floats, which: NDArray[np.intp]) -> Floats:
        out = np.empty(len(strengths))
        for number in np.unique(which):
            rows = which == number
            out[rows] = demands[number].margins(_tones_at(colourway, strengths[rows]), *laid)
        return out

    each = held_spans(margins, grid, np.where(np.isnan(values), 1.0, values))
    return StrengthWindow(colourway.mixing, overlap(each), tuple(each))


# --- Where a quantity holds -----------------------------------------------------------------


def held_spans(margins: MarginAt, grid: Floats, values: Floats) -> list[Spans]:
    """Return, for each quantity, the spans of the grid's range in which its margin is ≥ 0.

    ``margins`` gives them anywhere, ``values`` (G, P) on the ascending ``grid`` (G,); features
    narrower than a step may be missed unless they turn there. Ends inside the grid are exact to
    the last digits of a float.

    >>> grid = np.linspace(0, 1, 5)
    >>> margins = lambda strengths, which: strengths - 0.30003
    >>> held_spans(margins, grid, margins(grid, None)[:, None])
    [(<30.01–100.00 %>,)]
    """
    turns = _turns_between(margins, grid, values)
    nodes, held = [], []
    for number in range(values.shape[1]):
        on_grid = zip(grid.tolist(), values[:, number].tolist(), strict=True)
        points = sorted([*on_grid, *turns.get(number, [])])
        nodes.append(np.array([strength for strength, _ in points]))
        held.append(np.array([value >= 0 for _, value in points]))
    changes = [np.flatnonzero(holds[1:] != holds[:-1]) for holds in held]
    which = np.repeat(np.arange(len(nodes)), [len(change) for change in changes])
    if not len(which):
        return [_spans(x, holds, []) for x, holds in zip(nodes, held, strict=True)]
    lows = np.concatenate([x[change] for x, change in zip(nodes, changes, strict=True)])
    highs = np.concatenate([x[change + 1] for x, change in zip(nodes, changes, strict=True)])
    ends = _bisect(margins, lows, highs, which)
    return [
        _spans(x, holds, np.sort(ends[which == number]).tolist())
        for number, (x, holds) in enumerate(zip(nodes, held, strict=True))
    ]


def _turns_between(
    margins: MarginAt, grid: Floats, values: Floats
) -> dict[int, list[tuple[float, float]]]:
    """Turning points (strength, margin) that lie beyond zero, by quantity.

    A dip or a peak between grid points can cross and come back unseen: where a point turns
    towards zero, and zero is within reach of its slope, the turn itself is found.
    """
    before, here, after = values[:-2], values[1:-1], values[2:]
    holds = here >= 0
    same = (holds == (before >= 0)) & (holds == (after >= 0))
    turns = np.where(holds, (here <= before) & (here <= after), (here >= before) & (here >= after))
    reach = np.maximum(np.abs(here - before), np.abs(here - after))
    row, which = np.nonzero(same & turns & (np.abs(here) <= reach))
    out: dict[int, list[tuple[float, float]]] = {}
    if len(row):
        holds = holds[row, which]
        strengths, found = _turning(margins, grid[row], grid[row + 2], which, up=~holds)
        for n in np.flatnonzero((found >= 0) != holds):
            out.setdefault(int(which[n]), []).append((float(strengths[n]), float(found[n])))
    return out


def _turning(
    margins: MarginAt, low: Floats, high: Floats, which: NDArray[np.intp], up: NDArray[np.bool_]
) -> tuple[Floats, Floats]:
    """Golden section for the highest (``up``) or lowest point between ``low`` and ``high``."""
    sign = np.where(up, -1.0, 1.0)
    for _ in range(_HALVINGS):
        left, right = high - _GOLDEN * (high - low), low + _GOLDEN * (high - low)
        to_left = sign * margins(left, which) <= sign * margins(right, which)
        low, high = np.where(to_left, low, left), np.where(to_left, right, high)
    middle = (low + high) / 2
    return middle, margins(middle, which)


def _bisect(margins: MarginAt, low: Floats, high: Floats, which: NDArray[np.intp]) -> Floats:
    """Return where margins change sign between ``low`` and ``high``, on the side that holds."""
    low_holds = margins(low, which) >= 0
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        to_low = (margins(middle, which) >= 0) == low_holds
        low, high = np.where(to_low, middle, low), np.where(to_low, high, middle)
    return np.where(low_holds, low, high)


def _spans(x: Floats, held: NDArray[np.bool_], ends: list[float]) -> Spans:
    if held[0]:
        ends = [float(x[0]), *ends]
    if held[-1]:
        ends = [*ends, float(x[-1])]
    return tuple(Span(low, high) for low, high in zip(ends[::2], ends[1::2], strict=True))


def overlap(several: list[Spans]) -> Spans:
    """Return the spans that all of several sets of spans share.

    >>> overlap([(Span(0, 0.6), Span(0.8, 1)), (Span(0.5, 0.9),)])
    (<50.00–60.00 %>, <80.00–90.00 %>)
    """
    common = several[0] if several else ()
    for spans in several[1:]:
        both = (
            Span(max(first.low, second.low), min(first.high, second.high))
            for first in common
            for second in spans
        )
        common = tuple(span for span in both if span.low <= span.high)
    return tuple(sorted(common))
