"""The strength window: where everything that is asked of a colourway holds, per mixing."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from checkcloth.arguments import Floats, as_number, as_whole
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.mixing import MIXINGS, find_mixing
from checkcloth.colour.spaces import srgb_to_lab
from checkcloth.colour.vision import VISIONS, see_as
from checkcloth.errors import ArgumentError
from checkcloth.files.html import table
from checkcloth.quality.roots import Span, held_spans, overlap
from checkcloth.quality.sweep import tones_at
from checkcloth.scoring.contrast import score_tones
from checkcloth.scoring.measures import find_measure, kinds_of

__all__ = ["Demand", "StrengthWindow", "StrengthWindows", "strength_windows"]


@dataclass(frozen=True)
class Demand:
    """Something asked of a colourway.

    Attributes
    ----------
    of : str
        A kind of tone pair (``"ground_single"`` …), ``"edges"``, or ``"lightness"``: that
        lightness runs one way from ground over single to crossing.
    measure : str
        ``"de2000"``, ``"dl"``, ``"ratio"`` or ``"deok"``; of no use to ``"lightness"``.
    at_least : float
        For the closest pair; for ``"lightness"`` the least step in L*.
    vision : str
        One of ``VISIONS``.

    Examples
    --------
    >>> print(Demand("edges", "de2000", 12, "deutan"))
    edges ΔE00 at least 12 (deutan vision)
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
        if self.vision not in VISIONS:
            raise ArgumentError("vision", f"one of {', '.join(VISIONS)}", self.vision)

    def margins(self, tones: Floats) -> Floats:
        """How far tones (M, N+1, N+1, 3) are above what is asked, (M,); NaN with no pair."""
        if self.of == "lightness":
            return _least_step(see_as(tones, self.vision)) - self.at_least
        score = score_tones(tones, self.vision)
        least = [
            getattr(getattr(score, kind), f"least_{self.measure}") for kind in kinds_of(self.of)
        ]
        return np.asarray(np.fmin.reduce(least) - self.at_least)

    def __str__(self) -> str:
        if self.of == "lightness":
            return (
                f"lightness in order by steps of at least {self.at_least:g} ({self.vision} vision)"
            )
        of = self.of.replace("_", "–")
        label = find_measure(self.measure).label
        return f"{of} {label} at least {self.at_least:g} ({self.vision} vision)"


def _least_step(tones: Floats) -> Floats:
    """The least L* step along every path ground → single → crossing, one way or the other."""
    lightness = srgb_to_lab(tones)[..., 0]
    count = len(lightness)
    ground = lightness[:, :1, :1]
    warp, weft, crossing = lightness[:, 1:, :1], lightness[:, :1, 1:], lightness[:, 1:, 1:]
    steps = np.concatenate(
        [(part).reshape(count, -1) for part in (warp - ground, weft - ground, crossing - warp,
                                                crossing - weft)], axis=1
    )  # fmt: skip
    return np.asarray(np.maximum(steps.min(axis=1), (-steps).min(axis=1)))


@dataclass(frozen=True)
class StrengthWindow:
    """Where all demands hold in one mixing.

    Attributes
    ----------
    mixing : str
    spans : tuple of Span
        Usually one; empty where the demands never hold together.
    each : tuple of tuples of Span
        Where each demand holds by itself, in the order they were given.

    Examples
    --------
    >>> print(StrengthWindow("woven", (Span(0.25, 0.5),), ((Span(0.25, 0.5),),)))
    woven: 25.00–50.00 %
    """

    mixing: str
    spans: tuple[Span, ...]
    each: tuple[tuple[Span, ...], ...]

    @property
    def widest(self) -> Span | None:
        """The widest span, or None."""
        return max(self.spans, key=lambda span: span.high - span.low, default=None)

    def __str__(self) -> str:
        return f"{find_mixing(self.mixing).label}: {self.held}"

    @property
    def held(self) -> str:
        """The spans in words."""
        return ", ".join(map(str, self.spans)) or "no strength holds all"


@dataclass(frozen=True, repr=False)
class StrengthWindows:
    """The windows of a colourway in several mixings, with what was asked.

    Attributes
    ----------
    colourway : Colourway
    demands : tuple of Demand
    windows : tuple of StrengthWindow

    Examples
    --------
    >>> windows = strength_windows(Colourway("white", ["navy"]), [Demand("edges", "dl", 20)])
    >>> len(windows), windows["multiply"].mixing
    (5, 'multiply')
    """

    colourway: Colourway
    demands: tuple[Demand, ...]
    windows: tuple[StrengthWindow, ...]

    def __iter__(self) -> Iterator[StrengthWindow]:
        return iter(self.windows)

    def __len__(self) -> int:
        return len(self.windows)

    def __getitem__(self, mixing: str) -> StrengthWindow:
        for window in self.windows:
            if window.mixing == mixing:
                return window
        known = ", ".join(window.mixing for window in self.windows)
        raise ArgumentError("mixing", f"one of {known}", mixing)

    @property
    def heads(self) -> tuple[str, ...]:
        """Headings of :meth:`rows`."""
        return ("Mixing", "All hold", *map(str, self.demands))

    def rows(self) -> Iterator[tuple[str, ...]]:
        """Yield mixing, where all demands hold, and where each does."""
        for window in self.windows:
            each = (", ".join(map(str, spans)) or "nowhere" for spans in window.each)
            yield find_mixing(window.mixing).label, window.held, *each

    def __str__(self) -> str:
        held = sum(bool(window.spans) for window in self.windows)
        return (
            f"strength windows of {self.colourway.name or self.colourway}: everything asked "
            f"holds somewhere in {held} of {len(self.windows)} mixings"
        )

    def __repr__(self) -> str:
        return f"<{self}>"

    def _repr_html_(self) -> str:
        return table([str(self)], self.heads, self.rows())


def strength_windows(
    colourway: Colourway,
    demands: Sequence[Demand],
    *,
    mixings: Iterable[str] = MIXINGS,
    steps: int = 200,
) -> StrengthWindows:
    """Return the strengths at which everything asked holds, one window a mixing.

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

    Returns
    -------
    StrengthWindows
        Iterates over its windows; ``windows["woven"]`` picks one.

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
    source-over: 32.31–66.41 %
    """
    asked = list(demands)
    if not asked or not all(isinstance(demand, Demand) for demand in asked):
        raise ArgumentError("demands", "one Demand or more", asked)
    grid = np.linspace(0, 1, as_whole(steps, "steps", 20, 5000) + 1)
    out = []
    for mixing in mixings:
        laid = colourway.with_(mixing=mixing)
        tones = tones_at(laid, grid)
        values = np.stack([demand.margins(tones) for demand in asked], axis=1)

        def at(where: Floats, which: NDArray[np.intp], laid: Colourway = laid) -> Floats:
            margins = np.empty(len(where))
            for number in np.unique(which):
                mine = which == number
                margins[mine] = asked[number].margins(tones_at(laid, where[mine]))
            return margins

        each = held_spans(at, grid, np.where(np.isnan(values), 1.0, values))
        out.append(StrengthWindow(mixing, overlap(each), tuple(each)))
    return StrengthWindows(colourway, tuple(asked), tuple(out))
