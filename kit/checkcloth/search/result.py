"""What a search brings back: counts, the best, and what to relax where nothing passes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from html import escape
from math import sqrt
from typing import Any, ClassVar

from checkcloth.cloth.chosen import Chosen
from checkcloth.cloth.colourway import Colourway
from checkcloth.errors import ArgumentError
from checkcloth.files.frames import Definition, Tabular
from checkcloth.files.html import AS_TYPED, table
from checkcloth.search.best import Relaxed, relaxations
from checkcloth.search.blocks import Hit
from checkcloth.search.counts import Counts
from checkcloth.search.shortlist import Origin, Shortlist, choose_shortlist
from checkcloth.search.wanted import Wanted, measure_definition, measured_words

# With more settings than this, what to relax is worked only where it is asked for.
MOST_ADVISED = 500


def best_columns(
    best: Sequence[Colourway], values: Sequence[float], measure: str
) -> dict[str, Any]:
    """Return found colourways as columns: place, colours, how they are mixed, and the measure."""
    return {
        "place": list(range(1, len(best) + 1)),
        "ground": [colourway.ground.name for colourway in best],
        "stripes": [", ".join(each.name for each in colourway.stripes) for colourway in best],
        "strength": [colourway.strength for colourway in best],
        "mixing": [colourway.mixing for colourway in best],
        measure: list(values),
    }


def best_definitions(measure: str) -> tuple[Definition, ...]:
    """Return what the columns of :func:`best_columns` are."""
    return (
        Definition("place", "place by the measure", "from 1, the best; of equals the first formed"),
        Definition("ground", "name of the ground", "as the palette has it"),
        Definition("stripes", "names of the stripes", "as the palette has them, in order"),
        Definition("strength", "overlay strength", "0 to 1"),
        Definition("mixing", "how the tones are mixed", "one of MIXINGS"),
        measure_definition(measure),
    )


@dataclass(frozen=True, repr=False)
class SearchResult(Tabular):
    """The answer of a search.

    Attributes
    ----------
    wanted : Wanted
    how : str
    k : int
    total : int
        Colourways there are.
    settled, planned : int
        Colourways looked at, ruled out or drawn, and how many that was to be.
    counts : Counts or None
        Of all, or of the sample; None where only the best were asked for.
    found : tuple of Hit
        The best of every ground, strength and mixing, best first.
    all_found : bool
        Nothing else meets the conditions.
    stopped : bool
        It was stopped before the end.
    lost : int
        Blocks that could not be run anywhere.
    seconds : float
    seed : int
    note : str
        Anything that went wrong on the way without stopping the search.
    one_order : bool
        Each choice of colours stands in ``found`` once, in its best order.
    ran : str
        Why one process did it all where several were asked for.
    nodes : int
        Choices, whole or begun, that were formed to prove that the best are the best.

    Examples
    --------
    >>> from checkcloth import Palette
    >>> from checkcloth.search import search
    >>> print(search(Wanted(Palette("coast", ["white", "navy", "teal"]), 2, grounds=["white"])))
    1 colourway, no condition asked for; best least edge ΔE00 11.1
    """

    wanted: Wanted
    how: str
    k: int
    total: int
    settled: int
    planned: int
    counts: Counts | None
    found: tuple[Hit, ...]
    all_found: bool
    stopped: bool
    lost: int
    seconds: float
    seed: int
    note: str = ""
    one_order: bool = False
    ran: str = ""
    nodes: int = 0

    made_by: ClassVar[str] = "search"

    @property
    def definitions(self) -> tuple[Definition, ...]:
        """What each of its columns is."""
        return best_definitions(self.wanted.measure)

    @property
    def proof(self) -> str:
        """Why the best are the best: how many were formed, and what nothing else exceeds."""
        if self.how != "best" or not self.complete:
            return ""
        text = f"proof: {self.nodes:,} choices, whole or begun, were formed; "
        if len(self.found) < self.k or self.all_found:
            return f"{text}nothing else meets every condition"
        bound = measured_words(self.wanted.measure, self.values[-1])
        return f"{text}of all others none exceeds {bound}"

    @property
    def complete(self) -> bool:
        """Whether every block was run."""
        return self.settled == self.planned

    @cached_property
    def best(self) -> tuple[Colourway, ...]:
        """The best ``k`` by the measure; ties in the order of settings and of the palette."""
        return tuple(hit.colourway(self.wanted) for hit in self.found[: self.k])

    @property
    def values(self) -> tuple[float, ...]:
        """The measure of each of ``best``."""
        return tuple(hit.value for hit in self.found[: self.k])

    @property
    def columns(self) -> dict[str, Any]:
        """Values by column, a row for each of ``best``, best first."""
        return best_columns(self.best, self.values, self.wanted.measure)

    def shortlist(self, count: int = 24) -> Shortlist:
        """Return colourways that are all good and as unlike each other as can be.

        Parameters
        ----------
        count : int
            1 to 500; fewer come back where fewer were found.
        """
        return choose_shortlist(self.wanted, self.found, count, self.origin)

    @cached_property
    def relax(self) -> tuple[Relaxed, ...]:
        """For each condition, how far it alone must give way for a colourway to pass."""
        return relaxations(self.wanted)

    @property
    def _advice(self) -> list[str]:
        """What to relax, where nothing passes; unasked only where it takes no long time."""
        if self.found or not self.complete or not self.wanted.constraints:
            return []
        if self.wanted.setting_count > MOST_ADVISED:
            return ["ask .relax what to give up; with so many settings it takes a while"]
        return [str(relaxed) for relaxed in self.relax]

    def chosen(self, index: int) -> Chosen:
        """Return ``best[index]`` with how it came about, ready to be kept."""
        if not 0 <= index < len(self.best):
            raise ArgumentError("index", f"from 0 to {len(self.best) - 1}", index)
        return Chosen(self.best[index], origin={**self.origin, "place": index + 1})

    @property
    def origin(self) -> Origin:
        """How everything found here came about, for a saved set."""
        return {
            "from": "search",
            "palette": self.wanted.palette.name,
            "how": self.how,
            "measure": self.wanted.measure,
            "looked at": self.settled,
            "seed": self.seed if self.how == "sample" else None,
        }

    # -- words ---------------------------------------------------------------------------------

    def constraint_counts(self) -> list[tuple[str, int, int]]:
        """Each condition with how many colourways met it, and how many only it turned away.

        Numbers of a sample are scaled to all colourways.
        """
        counts = self.counts
        if counts is None:
            return []
        scale = self.total / counts.total if self.how == "sample" and counts.total else 1
        rows = zip(self.wanted.constraints, counts.met, counts.only, strict=True)
        return [(str(words), round(met * scale), round(only * scale)) for words, met, only in rows]

    @property
    def tightest(self) -> str:
        """The condition that the fewest colourways met; empty where there is none."""
        rows = self.constraint_counts()
        return min(rows, key=lambda row: (row[1], -row[2]))[0] if rows else ""

    def _met_words(self) -> str:
        if not self.wanted.constraints:
            return "no condition asked for"
        if self.counts is None:
            exact = "" if self.all_found else "at least "
            of_them = " choices of colours" if self.one_order else ""
            in_order = " in some order" if self.one_order else ""
            return f"{exact}{len(self.found):,}{of_them} meet every condition{in_order}"
        if self.how == "every":
            return f"{self.counts.met_all:,} meet every condition"
        drawn, met = self.counts.total, self.counts.met_all
        # Agresti and Coull 1998 (from memory): two more of each keep the error above 0 where
        # all or none were met. Twice the standard error, about 95 %.
        share = (met + 2) / (drawn + 4)
        error = 2 * sqrt(share * (1 - share) / (drawn + 4))
        return (
            f"about {met / max(1, drawn) * self.total:,.0f} (± {error * self.total:,.0f}) meet "
            f"every condition, by a sample of {drawn:,} with seed {self.seed}"
        )

    def __str__(self) -> str:
        text = f"{self.total:,} colourway{'' if self.total == 1 else 's'}"
        text += f"{' in given bands' if self.wanted.order_counts else ''}, {self._met_words()}"
        if self.found:
            which = "best drawn: " if self.how == "sample" else "best "
            text += f"; {which}{measured_words(self.wanted.measure, self.found[0].value)}"
        if not self.complete:
            text += f"; stopped after {self.settled:,} of {self.planned:,}"
        if self.lost:
            text += f"; {self.lost} blocks lost"
        return f"{text}; {self.note}" if self.note else text

    def report(self) -> str:
        """Return the whole account as lines of text."""
        lines = [str(self)]
        for words, met, only in self.constraint_counts():
            share = met / self.total if self.total else 0
            alone = f"it alone turns away {only:,}"
            lines.append(f"  {met:>15,}  {share * 100:6.2f} %  {words} ({alone})")
        if self.tightest:
            lines.append(f"  tightest: {self.tightest}")
        more = (self.proof, self.ran, *self._advice)
        return "\n".join([*lines, *(f"  {text}" for text in more if text)])

    def _repr_html_(self) -> str:
        rows = [
            (words, f"{met:,}", f"{met / self.total * 100:.2f} %", f"{only:,}")
            for words, met, only in self.constraint_counts()
        ]
        heads = ("condition", "met", "share", "turned away by it alone")
        counted = table((), heads, rows, right=range(1, 4)) if rows else ""
        more = f"<p>Tightest: {escape(self.tightest)}.</p>" if self.tightest else ""
        more += "".join(
            f"<p>{escape(text.capitalize())}.</p>" for text in (self.proof, self.ran) if text
        )
        if advice := self._advice:
            items = "".join(f"<li>{escape(text)}</li>" for text in advice)
            more += f"<p>Nothing passes. To find something:</p><ul>{items}</ul>"
        return f"<div {AS_TYPED}><p>{escape(str(self))}</p>{counted}{more}</div>"
