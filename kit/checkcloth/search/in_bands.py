"""The search in bands that are given, in one call."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from html import escape
from typing import Any, ClassVar

from checkcloth.arguments import require_type
from checkcloth.cloth.check import Check
from checkcloth.cloth.chosen import Chosen
from checkcloth.cloth.colourway import Colourway
from checkcloth.files.frames import Definition, Tabular
from checkcloth.files.html import AS_TYPED
from checkcloth.files.progress import Progress
from checkcloth.search.blocks import Hit
from checkcloth.search.result import best_columns, best_definitions
from checkcloth.search.run import search
from checkcloth.search.wanted import Wanted, measured_words


@dataclass(frozen=True, repr=False)
class BandSearch(Tabular):
    """The answer of a search in given bands.

    Attributes
    ----------
    wanted : Wanted
    check : Check
    total : int
        Colourways there are: choices of colours in every distinct order.
    met : int
        How many meet every condition.
    found : tuple of Hit
        The best, best first; ``members`` are candidates stripe by stripe.
    """

    wanted: Wanted
    check: Check
    total: int
    met: int
    found: tuple[Hit, ...]
    settled: int = 0

    made_by: ClassVar[str] = "search_in_bands"

    @property
    def definitions(self) -> tuple[Definition, ...]:
        """What each of its columns is."""
        return best_definitions(self.wanted.measure)

    @property
    def stopped(self) -> bool:
        """Whether it was stopped before all were weighed; the best are those of what was."""
        return self.settled < self.total

    @property
    def best(self) -> tuple[Colourway, ...]:
        """The best; ties in the order of settings and of the palette."""
        return tuple(hit.colourway(self.wanted) for hit in self.found)

    @property
    def values(self) -> tuple[float, ...]:
        """The measure of each of ``best``."""
        return tuple(hit.value for hit in self.found)

    @property
    def columns(self) -> dict[str, Any]:
        """Values by column, a row for each of ``best``, best first."""
        return best_columns(self.best, self.values, self.wanted.measure)

    def chosen(self) -> tuple[Chosen, ...]:
        """Return the best with how they came about, ready for a ``ChosenSet``."""
        return tuple(
            Chosen(colourway, origin={"from": "search", "palette": self.wanted.palette.name,
                                      "measure": self.wanted.measure, "place": place})
            for place, colourway in enumerate(self.best, 1)
        )  # fmt: skip

    def __str__(self) -> str:
        noun = "colourway" if self.total == 1 else "colourways"
        text = f"{self.total:,} {noun} in given bands, {self.met:,} meet every condition"
        if self.stopped:
            text = f"stopped after {self.settled:,} of {text}"
        if self.found:
            text += f"; best {measured_words(self.wanted.measure, self.found[0].value)}"
        return text

    def _repr_html_(self) -> str:
        return f"<div {AS_TYPED}><p>{escape(str(self))}</p></div>"


def search_in_bands(
    wanted: Wanted, check: Check, k: int = 100, *, progress: bool | Progress = False
) -> BandSearch:
    """Search every colourway that a palette holds, in every order, for the best in given bands.

    The plain way to :func:`search` for a brief with a check, which also stops, goes on, samples,
    bounds and makes shortlists. Here the orders of an even check are told apart as well.

    Parameters
    ----------
    wanted : Wanted
        The brief.
    check : Check
        With as many stripes as the brief; all of them laid, and none of the weft's own.
        Stripes that the bands make interchangeable are counted once.
    k : int
        How many of the best to bring back, 1 to 10,000.
    progress : bool or callable
        A progress bar with an estimate, or ``progress(done, total)`` in colourways.

    Returns
    -------
    BandSearch
        Exact: every distinct order of every choice is weighed. After Ctrl-C or an interrupt
        of the kernel it is the best of what was weighed, and ``stopped`` says so.

    Raises
    ------
    ArgumentError
        For a check that does not fit, too many stripe colours (see :class:`Wanted`), or a
        search that would take over 15 minutes.

    Examples
    --------
    >>> from checkcloth import Palette
    >>> wanted = Wanted(Palette("coast", ["white", "navy", "teal", "gold"]), 2, grounds=["white"])
    >>> print(search_in_bands(wanted, Check("1 cm", 2, warp="graduated")))
    6 colourways in given bands, 6 meet every condition; best least edge ΔE00 11.1
    """
    brief = require_type(wanted, "wanted", Wanted).with_(check=require_type(check, "check", Check))
    if brief.bands is None:
        # Of the same proportions, but not an even check, whose orders are not told apart.
        half = Fraction(1, 2)
        ways = check.warp_bands, check.weft_bands
        halved = ([(band.stripe, half) for band in way] for way in ways)
        brief = brief.with_(check=check.with_bands(*halved))
    result = search(brief, k, pool=0, progress=progress)
    if not result.settled:
        raise KeyboardInterrupt  # nothing was weighed yet that could be shown
    met = result.counts.met_all if result.counts else 0
    return BandSearch(wanted, check, result.total, met, result.found[:k], result.settled)
