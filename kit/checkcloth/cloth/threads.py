"""Threads of a woven check: sett, ends a band, orders across the cloth, metres of yarn."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from checkcloth.arguments import as_number, as_whole
from checkcloth.cloth.bands import Bands, joined
from checkcloth.cloth.check import Check
from checkcloth.cloth.length import Length
from checkcloth.errors import ArgumentError, LengthError

_MOST_THREADS = 100_000


def plain_weave(ends: int, picks: int | None = None) -> NDArray[np.bool_]:
    """Return where the warp is up in a plain-weave cell, shape (picks, ends), of 1 to 1,000 each.

    Each end goes over one pick and under the next; the corner shows warp. As many picks as ends
    unless given.

    >>> plain_weave(3).astype(int).tolist()
    [[1, 0, 1], [0, 1, 0], [1, 0, 1]]
    """
    across = as_whole(ends, "ends", 1, 1000)
    up = across if picks is None else as_whole(picks, "picks", 1, 1000)
    return np.asarray(np.add.outer(np.arange(up), np.arange(across)) % 2 == 0)


def plain_weave_share(ends: int, picks: int | None = None) -> Fraction:
    """Return the warp's share of a plain-weave cell whose corner shows warp.

    Exactly one half if either count is even. With both odd one crossing is left over:
    (n² + 1) / 2n² for n × n threads. That is one cell; which cells of a check begin so is
    :func:`check_weave_shares`. Ends and picks are 1 to 100,000; as many picks as ends unless given.

    >>> [str(plain_weave_share(n)) for n in (1, 2, 3, 5, 7)]
    ['1', '1/2', '5/9', '13/25', '25/49']
    """
    across = as_whole(ends, "ends", 1, _MOST_THREADS)
    up = across if picks is None else as_whole(picks, "picks", 1, _MOST_THREADS)
    crossings = across * up
    return Fraction((crossings + 1) // 2, crossings)


class WeaveShares(NamedTuple):
    """The warp's share of the surface in each kind of cell of a check in plain weave."""

    ground: Fraction
    single: Fraction
    crossing: Fraction


def check_weave_shares(ends: int) -> WeaveShares:
    """Return the warp's share in every kind of cell of an even check of so many ends a band.

    Stripe and ground bands lie by turns, so the warp's and the weft's number at a crossing are
    both even or, on bare ground, both odd; in a single one is even and one odd. With an odd
    count n of ends (and as many picks) the weave therefore begins alike in every crossing and
    every ground cell, which show (n² + 1) / 2n² warp, and the other way in every single, which
    shows (n² − 1) / 2n². Warp stripes come out paler than weft stripes, in every repeat. That
    is why bands get even counts (common practice), which show exactly half everywhere.

    The first end goes over the first pick, as in :func:`plain_weave`; begun under it, warp and
    weft change places. One ``warp_share`` says none of this: it moves crossings and singles the
    same way.

    >>> print(*check_weave_shares(5))
    13/25 12/25 13/25
    >>> print(*check_weave_shares(4))
    1/2 1/2 1/2
    """
    more = plain_weave_share(ends)
    return WeaveShares(more, 1 - more, more) if ends % 2 else WeaveShares(more, more, more)


_SETT = re.compile(
    r"\s*(\d{1,5}(?:\.\d{1,6})?)\s*(?:ends|picks|threads)?\s*(?:/|per)\s*(in|inch|cm)\s*", re.I
)
_MOST_ENDS = 200_000


@dataclass(frozen=True, init=False)
class Sett:
    """How close threads lie: ends, or picks, to the inch or centimetre.

    Parameters
    ----------
    text : str or Sett
        ``"64 per in"``, ``"24/cm"``, ``"52.5 ends per inch"``; 1 to 500 an inch.

    Attributes
    ----------
    per_mm : Fraction
    text : str

    Examples
    --------
    >>> print(Sett("64 per in"))
    64 per in (25.2 per cm)
    """

    per_mm: Fraction
    text: str

    def __init__(self, text: str | Sett) -> None:
        if isinstance(text, Sett):
            per_mm, clean = text.per_mm, text.text
        else:
            match = _SETT.fullmatch(text) if isinstance(text, str) and len(text) < 60 else None
            if match is None:
                raise ArgumentError("sett", "such as '64 per in' or '24 per cm'", text)
            unit = "cm" if match[2].lower() == "cm" else "in"
            per_mm = Fraction(match[1]) / (10 if unit == "cm" else Fraction(254, 10))
            clean = f"{float(Fraction(match[1])):g} per {unit}"
        if not 1 <= per_mm * Fraction(254, 10) <= 500:
            raise ArgumentError("sett", "from 1 to 500 an inch", text)
        object.__setattr__(self, "per_mm", per_mm)
        object.__setattr__(self, "text", clean)

    def over(self, length: Length) -> Fraction:
        """Return how many threads lie in a length, not rounded."""
        return self.per_mm * length.exact

    def length_of(self, threads: int, unit: str = "mm") -> Length:
        """Return how wide so many threads lie."""
        return Length.of_mm(threads / self.per_mm, unit)

    def __str__(self) -> str:
        per_cm, per_in = float(self.per_mm * 10), float(self.per_mm * Fraction(254, 10))
        if self.text.endswith("cm"):
            return f"{self.text} ({per_in:.3g} per in)"
        return f"{self.text} ({per_cm:.3g} per cm)"


def ends_per_band(size: Length | str, sett: Sett | str) -> int:
    """Return ends (or picks) a band: check size × sett, to the nearest even number.

    Even, so that a plain-weave crossing shows exactly half warp, and every band begins on
    the same shaft (common practice, no source). At least 2.

    >>> [ends_per_band(size, "64 per in") for size in ("1/16 in", "1/8 in", "1/4 in", "1 in")]
    [4, 8, 16, 64]
    >>> ends_per_band("1/8 in", "50 per in")  # 6.25
    6
    """
    exact = Sett(sett).over(Length(size))
    # Half-way goes up: a check a little large rather than a little small.
    return max(2, 2 * int(exact / 2 + Fraction(1, 2)))


class Run(NamedTuple):
    """Threads of one colour side by side: what part of the cloth, stripe (0 ground), count."""

    part: str
    stripe: int
    threads: int


@dataclass(frozen=True)
class ThreadOrder:
    """The order of threads one way: runs from edge to edge."""

    runs: tuple[Run, ...]
    each: int  # threads a check
    repeats: int  # whole repeats

    @property
    def threads(self) -> int:
        """Threads in all."""
        return sum(run.threads for run in self.runs)

    @property
    def repeat_runs(self) -> tuple[Run, ...]:
        """The runs of one repeat."""
        return tuple(run for run in self.runs if run.part == "repeat 1")

    def per_stripe(self, stripes: int) -> list[int]:
        """Return threads of the ground and of each stripe, as a list of stripes + 1."""
        out = [0] * (stripes + 1)
        for run in self.runs:
            out[run.stripe] += run.threads
        return out


def thread_order(
    check: Check,
    sett: Sett,
    extent: Length,
    *,
    bands: Bands | None = None,
    balanced: bool = True,
    selvedge: int = 0,
    name: str = "extent",
) -> ThreadOrder:
    """Lay bands, the check's warp bands unless given, across an extent so that both edges match.

    Whole repeats fill the middle. ``balanced`` adds the first band once more at the end,
    so that the cloth begins and ends with the same stripe; without it the piece ends with
    a whole repeat, and two pieces joined run on. What is left of the extent becomes plain
    ground, half on each side, so that the check stands centred; then the selvedges.
    Each band has its own width × sett threads, rounded to even: see :func:`ends_per_band`.
    ``name`` is what an error calls the extent.

    Examples
    --------
    >>> order = thread_order(Check("1/2 in", 2), Sett("64 per in"), Length("5 in"))
    >>> order.threads, order.repeats, [run.threads for run in order.runs[:3]]
    (320, 2, [16, 32, 32])
    """
    each = ends_per_band(check.size, sett)
    total = 2 * int(sett.over(extent) / 2 + Fraction(1, 2))
    if total > _MOST_ENDS:
        raise ArgumentError("sett", f"coarse enough for at most {_MOST_ENDS} threads", total)
    room = total - 2 * selvedge
    bands = check.warp_bands if bands is None else bands
    widths = {band.checks for band in bands}
    threads_in = {width: _threads_in(width, check.size, sett, each) for width in widths}
    counts = [threads_in[band.checks] for band in bands]
    a_repeat = sum(counts)
    # With one band all round, such as a plain weft, both edges match already.
    extra = counts[0] if balanced and len(joined(bands)) > 1 else 0
    repeats = (room - extra) // a_repeat
    if repeats < 1:
        needed = sett.length_of(a_repeat + extra + 2 * selvedge, extent.unit)
        allowed = f"enough to hold a whole repeat with its edges, at least {needed}"
        raise LengthError(name, allowed, words=str(extent))
    left = room - extra - repeats * a_repeat
    before = left // 2
    runs = [Run("selvedge", 0, selvedge), Run("plain edge", 0, before)]
    for number in range(1, repeats + 1):
        runs += [
            Run(f"repeat {number}", band.stripe, count)
            for band, count in zip(bands, counts, strict=True)
        ]
    if extra:
        runs.append(Run("balance", bands[0].stripe, extra))
    runs += [Run("plain edge", 0, left - before), Run("selvedge", 0, selvedge)]
    return ThreadOrder(tuple(run for run in runs if run.threads), each, repeats)


def _threads_in(checks: int | Fraction, size: Length, sett: Sett, each: int) -> int:
    """Threads of a band: whole checks have so many times what one has, so that they stay alike."""
    if isinstance(checks, int):
        return checks * each
    return ends_per_band(size * checks, sett)


@dataclass(frozen=True)
class Allowances:
    """What yarn is needed beyond the size of the cloth; ask the mill, these only stand in.

    Take-up is how much longer the yarn is than the cloth that it lies in, as a share of the cloth;
    waste is lost in winding, warping and mending, added on top.
    """

    warp_take_up: float = 0.08
    weft_take_up: float = 0.06
    waste: float = 0.05

    def __post_init__(self) -> None:
        for name in ("warp_take_up", "weft_take_up", "waste"):
            object.__setattr__(self, name, as_number(getattr(self, name), name, 0, 1))
