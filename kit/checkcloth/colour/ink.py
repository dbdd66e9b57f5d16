"""Halftone inks on paper: what a tint, and a tint over a tint, come to where nothing was measured.

Known are the colours alone: the paper P and each ink printed solid on it, S_i. Channel by
channel in a linear RGB wide enough that inks stay inside it (Display P3 for colours known as
sRGB, ITU-R BT.2020 for measured ones)::

    R_i  = S_i / P                                 squared transmittance of the ink
    D_i  = min(-log10 R_i, Dmax)                   its density over the paper
    R_ij = 10^-(D_i + D_j - D_i D_j / Dmax)        overprint, never darker than Dmax
    X_ij = P ((1-a_i)(1-a_j) + a_i(1-a_j) R_i^(1/n) + (1-a_i) a_j R_j^(1/n) + a_i a_j R_ij^(1/n))^n

with the areas weighted as Demichel (1924) does for dots that fall at random and the sum taken as
Yule and Nielsen (1951) do for light that spreads in the paper. Dmax without end is
Beer and Lambert's law; a limit is additivity failure, which printers know: an ink on an ink
never adds all of its density (Yule, Principles of Color Reproduction, 1967; from memory).

Parameters were fitted to three measured press sets and tried on six others; the sets, the
figures and their errors are held by ``tests/colour/test_ink.py``.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import ArrayLike

from checkcloth.arguments import Floats, as_colours, as_fraction, as_number
from checkcloth.errors import ArgumentError

__all__ = ["STOCKS", "Stock", "effective_areas", "expected_error", "ink_tones", "lighter_than"]

# Below a millionth of white or of the paper's light nothing is told apart.
_LEAST_RATIO = 1e-6
# Two ways of working out the light of one colour differ by their last digits.
_ALIKE = 1e-12
# A densitometer's channel: its reading is neither of nothing nor of everything.
_LEAST_READING = 1e-3
# The curve a + 4t·a(1-a) rises all the way while |t| is no more than this.
_MOST_GAIN = 0.25
# An ink this much lighter than its paper in a channel is no rounding and no gamut's edge: inks
# of nine measured sets reach 1.06 of their paper in Display P3.
_LIGHTER = 1.1

_TYPED = re.compile(r"tvi=(\S+) density=(\S+) n=(\S+)(?: (.*))?")
LONGEST_NAME = 100


@dataclass(frozen=True)
class Stock:
    """What inks are printed on, as far as it changes how tints come out.

    Parameters
    ----------
    name : str
        Of a known one or of a press; two stocks with the same numbers are the same.
    tone_value_increase : float
        At 50 %, as the trade states it: by Murray and Davies, 0 to 0.30. How much larger a
        dot reads on paper than it is in the file.
    limiting_density : float
        The density over the paper that no overprint passes, 0.3 to 6.
    yule_nielsen : float
        The exponent n, 1 to 10.

    Examples
    --------
    >>> Stock.of("coated")
    Stock(name='coated', tone_value_increase=0.16, limiting_density=2.6, yule_nielsen=2.0)
    >>> Stock.of(Stock(tone_value_increase=0.14).text).tone_value_increase
    0.14
    """

    name: str = field(default="", compare=False)
    tone_value_increase: float = 0.17
    limiting_density: float = 2.4
    yule_nielsen: float = 2.0

    def __post_init__(self) -> None:
        text = self.name
        if not isinstance(text, str) or not text.isprintable() or len(text) > LONGEST_NAME:
            raise ArgumentError("name", f"printable text of at most {LONGEST_NAME}", text)
        for name, low, high in (
            ("tone_value_increase", 0, 0.30),
            ("limiting_density", 0.3, 6),
            ("yule_nielsen", 1, 10),
        ):
            object.__setattr__(self, name, as_number(getattr(self, name), name, low, high))

    @classmethod
    def of(cls, value: str | Stock) -> Stock:
        """Return a stock as it is, one of ``STOCKS`` by name, or one from its ``text``.

        Raises
        ------
        ArgumentError
            For another name, or numbers out of range.
        """
        if isinstance(value, Stock):
            return value
        found = STOCKS.get(value) if isinstance(value, str) else None
        if found is not None:
            return found
        typed = _TYPED.fullmatch(value) if isinstance(value, str) else None
        if typed is None:
            known = ", ".join(name for name in STOCKS if name)
            raise ArgumentError("stock", f"one of {known}, empty, or a Stock", value)
        increase, density, n, name = typed.groups()
        return cls(name or "", increase, density, n)  # type: ignore[arg-type]

    @property
    def _known(self) -> str | None:
        return next((name for name, stock in STOCKS.items() if stock == self), None)

    @property
    def text(self) -> str:
        """The name, or the numbers: what files hold, and :meth:`of` reads."""
        if self._known is not None:
            return self._known
        values = (self.tone_value_increase, self.limiting_density, self.yule_nielsen)
        text = "tvi={!r} density={!r} n={!r}".format(*values)
        return f"{text} {self.name}" if self.name else text

    @property
    def named(self) -> bool:
        """Whether it is known what is printed on: a stock by name, or a press by its numbers."""
        return self != STOCKS[""]

    @property
    def words(self) -> str:
        """The stock for people.

        >>> Stock.of("").words, Stock.of("newsprint").words
        ('stock not named (tone value increase 17 %)', 'newsprint (tone value increase 26 %)')
        """
        increase = f"tone value increase {self.tone_value_increase * 100:.4g} %"
        if self._known is not None:
            return f"{self._known or 'stock not named'} ({increase})"
        more = f"n {self.yule_nielsen:g}, density {self.limiting_density:g}"
        return f"{self.name or 'own numbers'} ({increase}, {more})"


# Fitted: coated 16.3 %, 2.61; uncoated 20.1 %, 1.20; not named 17.2 %, 2.38. The increase of
# newsprint is the figure of ISO 12647-3 (from memory); one measured set, not fitted, has 25.7 %.
STOCKS: dict[str, Stock] = {
    stock.name: stock
    for stock in (
        Stock(),
        Stock("coated", 0.16, 2.6),
        Stock("uncoated", 0.20, 1.2),
        Stock("newsprint", 0.26, 1.2),
    )
}


def _root(values: Floats, n: float) -> Floats:
    return np.sqrt(values) if n == 2 else values ** (1 / n)


def _power(values: Floats, n: float) -> Floats:
    return values * values if n == 2 else values**n


def _ratios(papers: Floats, solids: Floats) -> Floats:
    """R (M, N, B) of papers (M, B) and solids (M, N, B); a paper without light stays without."""
    paper = np.broadcast_to(papers[:, None, :], solids.shape)
    ratio = np.divide(solids, paper, out=np.ones_like(solids), where=paper > _LEAST_RATIO)
    return np.clip(ratio, _LEAST_RATIO, 1)


def _gain(ratios: Floats, stock: Stock) -> Floats:
    """The physical part t (M, N) of the tone value increase at 50 %.

    The trade's increase is read by Murray and Davies' formula, in the channel that a
    densitometer reads (where the ink is darkest), and holds the light that spreads under
    the dots as well. That is n's part: taken off once, or it would be counted twice.
    """
    n = stock.yule_nielsen
    reading = ratios[..., 0]
    for channel in range(1, ratios.shape[-1]):  # NumPy's own reduction takes four times as long
        reading = np.minimum(reading, ratios[..., channel])
    reading = np.clip(reading, _LEAST_READING, 1 - 1e-9)
    half = 1 - (0.5 + stock.tone_value_increase) * (1 - reading)
    gain = (1 - _root(half, n)) / (1 - _root(reading, n)) - 0.5
    return np.clip(gain, -_MOST_GAIN, _MOST_GAIN)


def effective_areas(
    paper: ArrayLike, solids: ArrayLike, tone_value: ArrayLike, stock: Stock = STOCKS[""]
) -> Floats:
    """Return the share of the paper that a tint of each ink covers.

    Parameters
    ----------
    paper : array_like, shape (C,)
    solids : array_like, shape (N, C)
        In one linear RGB, or by wavelength.
    tone_value : array_like, shape (...) that broadcasts with (N,)
        Nominal, 0 to 1: as it is in the file.
    stock : Stock

    Returns
    -------
    ndarray of float64
        0 at tone value 0, 1 at 1.

    Examples
    --------
    >>> effective_areas([1, 1, 1], [[0.01, 0.5, 0.5]], 0.5).round(3).tolist()
    [0.466]
    """
    alpha = as_fraction(tone_value, "tone_value")
    light = np.asarray(paper, dtype=np.float64), np.asarray(solids, dtype=np.float64)
    ratios = _ratios(light[0][None], light[1][None])[0]
    return np.asarray(alpha + 4 * _gain(ratios, stock) * alpha * (1 - alpha))


def ink_tones(
    papers: ArrayLike, solids: ArrayLike, tone_values: ArrayLike, stock: Stock = STOCKS[""]
) -> Floats:
    """Return paper, tints and crossings of halftone inks, in the linear RGB that was given.

    Parameters
    ----------
    papers : array_like, shape (M, 3)
    solids : array_like, shape (M, N, 3)
        Each ink printed solid on that paper.
    tone_values : array_like, shape (M,) or (M, N)
        Nominal tone values, 0 to 1: of all inks, or of each.
    stock : Stock

    Returns
    -------
    ndarray of float64, shape (M, N+1, N+1, 3)
        Index 0 on both tone axes is the paper; [i, j] is ink i with ink j. Symmetric, as the
        model knows no order of printing. [i, i] is a tint over the same tint at another angle:
        it covers 1 − (1−a)², and at full strength is the solid (a choice of ours: one ink
        has one plate, and nobody has measured it). So is [i, j] of two inks of one colour.

    Notes
    -----
    At tone value 0 all is the paper, at 1 a tint is its solid. An ink cannot be lighter than
    its paper in any channel: what is is held at the paper.
    """
    papers = as_colours(papers, "papers", unit=False)
    solids = as_colours(solids, "solids", unit=False)
    alpha = as_fraction(tone_values, "tone_values")
    alpha = alpha[:, None] if alpha.ndim == 1 else alpha
    return lay_inks(papers, solids, alpha, stock)


def lay_inks(papers: Floats, solids: Floats, alpha: Floats, stock: Stock) -> Floats:
    """:func:`ink_tones` of arrays that are checked, with any number of channels or bands."""
    n, limit = stock.yule_nielsen, stock.limiting_density
    ratios = _ratios(papers, solids)
    areas = (alpha + 4 * _gain(ratios, stock) * alpha * (1 - alpha))[..., None]
    rooted = _root(ratios, n)
    # 1 - D_ij/Dmax is the product of what each leaves, so R_ij^(1/n) is one power a crossing.
    room = 1 - np.minimum(-np.log10(ratios), limit) / limit
    number = solids.shape[1]
    i, j = np.triu_indices(number, 1)
    over = room[:, i] * room[:, j]
    over -= 1
    over *= limit * np.log(10) / n
    np.exp(over, out=over)
    one, two = rooted[:, i], rooted[:, j]
    # A black beyond Dmax must not come out lighter under another ink.
    np.minimum(over, one, out=over)
    np.minimum(over, two, out=over)
    # Of two stripes of one ink, which has one plate, no ink lies over another.
    same = (np.abs(solids[:, i] - solids[:, j]) <= _ALIKE).all(axis=-1)
    over[same] = one[same]
    # Demichel's four terms as three: (1-a_i+a_i r_i)(1-a_j+a_j r_j) + a_i a_j (r_ij - r_i r_j).
    tint = 1 - areas + areas * rooted
    over -= one * two
    over *= areas[:, i] * areas[:, j]
    over += tint[:, i] * tint[:, j]
    own = tint * tint + areas * areas * (rooted - rooted * rooted)
    tones = np.empty((len(solids), number + 1, number + 1, solids.shape[2]))
    tones[:, 0, 0] = papers
    paper = papers[:, None]
    tones[:, 1:, 0] = tones[:, 0, 1:] = paper * _power(tint, n)
    tones[:, i + 1, j + 1] = tones[:, j + 1, i + 1] = paper * _power(over, n)
    every = np.arange(1, number + 1)
    tones[:, every, every] = paper * _power(own, n)
    return tones


def lighter_than(paper: ArrayLike, solids: ArrayLike) -> np.ndarray:
    """Say of each ink whether it is lighter than its paper in some channel: impossible.

    Parameters
    ----------
    paper : array_like, shape (C,)
    solids : array_like, shape (N, C)
        In one linear RGB, or by wavelength.

    Returns
    -------
    ndarray of bool, shape (N,)

    Examples
    --------
    >>> lighter_than([0.1, 0.1, 0.3], [[0.9, 0.9, 0.9], [0.05, 0.1, 0.2]]).tolist()
    [True, False]
    """
    paper, solids = np.asarray(paper, dtype=np.float64), np.asarray(solids, dtype=np.float64)
    return np.asarray((solids > _LIGHTER * np.maximum(paper, _LEAST_READING)).any(axis=-1))


# p95 of ΔE00 over the six sets on which nothing was fitted: of a tint, of crossings by α·β (upper
# ends of the classes), of two solids. Printed by tests/bench/bench_ink.py.
_CLASSES = np.array([0.1, 0.3, 0.5, 0.75, 0.999])
_ERRORS = {  # (measured colours, stock named)
    (True, True): (2.4, (2.6, 3.2, 3.2, 4.1, 4.8, 5.4)),
    (True, False): (3.1, (3.1, 3.6, 5.9, 7.6, 9.5, 14.0)),
    (False, True): (5.5, (5.5, 6.7, 6.8, 6.8, 7.3, 8.1)),
    (False, False): (5.5, (5.5, 6.7, 7.3, 7.9, 9.2, 14.0)),
}


def expected_error(
    tone_value: float, other: float | None = None, *, measured: bool = False, named: bool = False
) -> float:
    """Return how far off a tint or a crossing may be: ΔE00 that 19 in 20 stay within.

    Parameters
    ----------
    tone_value : float
        Nominal, 0 to 1.
    other : float, optional
        That of the ink it crosses; without it, what is asked about is a tint.
    measured : bool
        Whether colours are measured (Lab, XYZ), or sRGB, which cannot hold every ink.
    named : bool
        Whether the stock is known.

    Notes
    -----
    Spot inks, screen inks and prints on textile are not among what was measured.

    Examples
    --------
    >>> expected_error(0.5, 0.5), expected_error(1, 1), expected_error(0.5, measured=True)
    (6.7, 14.0, 3.1)
    """
    tint, crossings = _ERRORS[measured, named]
    alpha = as_number(tone_value, "tone_value", 0, 1)
    if other is None:
        return tint
    product = alpha * as_number(other, "other", 0, 1)
    return crossings[int(np.searchsorted(_CLASSES, product, side="left"))]
