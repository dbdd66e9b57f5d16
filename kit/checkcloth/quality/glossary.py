"""What every column of tables and sweeps is: formula, pairs, weights, source.

Nothing is written twice: the columns of scores come from ``scoring/definitions.py``, which
also names them in the tables, and the others from the results that have them.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, fields, replace
from difflib import get_close_matches
from typing import Any

from checkcloth.colour.vision import VISIONS
from checkcloth.errors import ArgumentError
from checkcloth.files.frames import Tabular
from checkcloth.files.html import table
from checkcloth.quality.grounds import GroundGains
from checkcloth.quality.scatter import ToleranceScore
from checkcloth.quality.strike_off import StrikeOff
from checkcloth.quality.striping import Striping
from checkcloth.quality.sweep import StrengthWindows, Sweep
from checkcloth.quality.table import OWN_COLUMNS, SEEN_COLUMNS, ScoreTable
from checkcloth.scoring.definitions import PAIR_COLUMNS, STATISTICS, Definition
from checkcloth.scoring.measures import MEASURE_NAMES, find_measure
from checkcloth.scoring.pairs import KIND_MEANINGS
from checkcloth.scoring.vocabulary import VISION_WORDS, vision_name

# A table of a glossary: caption, headings, rows.
Grid = tuple[str, tuple[str, ...], list[tuple[str, ...]]]

_NAMES = tuple(field.name for field in fields(Definition))
_HEADS = ("Column", "What it is", "How it is worked out", "Of", "Weighed", "Source")
# What is asked for by a name of a function: the columns of its result.
_RESULTS: dict[str, tuple[Definition, ...]] = {
    "sweep": Sweep.definitions,
    "strength_windows": StrengthWindows.definitions,
    "score_with_tolerance": ToleranceScore.definitions,
    "striping": Striping.definitions,
    "ground_gains": GroundGains.definitions,
    "check_strike_off": StrikeOff.definitions,
}


def _table_columns(visions: tuple[str, ...]) -> tuple[Definition, ...]:
    """The columns of a score table; of no visions once, under ``VISION_``."""
    seen = [
        replace(
            each,
            column=f"{vision}_{each.column}",
            compared="; ".join(
                filter(None, [each.compared, f"as seen in {vision_name(vision)}"])
            ) if visions else each.compared,
        )
        for vision in visions or ("VISION",)
        for each in SEEN_COLUMNS
    ]  # fmt: skip
    return (*OWN_COLUMNS, *seen)


@dataclass(frozen=True, repr=False)
class Glossary(Tabular):
    """Definitions of columns; make it with :func:`glossary`.

    Attributes
    ----------
    sections : tuple of (str, tuple of Definition)
        By the function whose result has the columns.
    """

    sections: tuple[tuple[str, tuple[Definition, ...]], ...]

    @property
    def definitions(self) -> tuple[Definition, ...]:
        """All of them, in order."""
        return tuple(each for _, members in self.sections for each in members)

    def __len__(self) -> int:
        return len(self.definitions)

    def __getitem__(self, column: str) -> Definition:
        """Return the definition of a column, with or without the name of a colour vision.

        >>> print(glossary()["deutan_least_edge_de2000"].words)
        every edge: least ΔE00
        """
        by_name = {each.column: each for each in reversed(self.definitions)}
        vision, _, figure = str(column).partition("_")
        names = (column, f"VISION_{column}", f"VISION_{figure}" if vision in VISIONS else "")
        for name in names:
            if name in by_name:
                return by_name[name]
        near = get_close_matches(str(column), by_name, 3, 0.5) or list(by_name)[:3]
        raise ArgumentError("column", f"one of {len(by_name)}, such as {', '.join(near)}", column)

    @property
    def columns(self) -> dict[str, Any]:
        """Values by column: the function, and the parts of each :class:`Definition`."""
        whose = [of for of, members in self.sections for _ in members]
        return {"of": whose} | {
            name: [getattr(each, name) for each in self.definitions] for name in _NAMES
        }

    def grids(self) -> Iterator[Grid]:
        """Yield tables to be shown: of scores first how columns are named, then their parts.

        The columns that pairs of tones have in common are not listed one by one.
        """
        for of, members in self.sections:
            if of == "score_table":
                yield from _score_grids()
            else:
                yield of, _HEADS, [_row(each) for each in members]

    def __str__(self) -> str:
        words = ", ".join(of for of, _ in self.sections)
        return f"glossary of {len(self)} columns: {words}"

    def __repr__(self) -> str:
        return f"<{self}>"

    def _repr_html_(self) -> str:
        return "".join(table([caption], heads, rows) for caption, heads, rows in self.grids())


def _row(each: Definition) -> tuple[str, ...]:
    return tuple(getattr(each, name) for name in _NAMES)


def _score_grids() -> Iterator[Grid]:
    pairs = {each.column for each in PAIR_COLUMNS}
    caption = "score_table: a column of pairs is called VISION_KIND_STATISTIC_MEASURE"
    yield (
        f"{caption}; the kinds of pairs",
        ("KIND", "What it is", "Which tones are compared", "Weighed in a mean"),
        [(kind, *meaning) for kind, meaning in KIND_MEANINGS.items()],
    )
    measures = [find_measure(name) for name in MEASURE_NAMES]
    yield (
        "The measures, of two tones",
        ("MEASURE", "What it is", "How it is worked out", "Source", "How to read it"),
        [(each.name, each.label, each.formula, each.source, each.note) for each in measures],
    )
    seen = {"normal": "normal vision"} | {name: VISION_WORDS[name] for name in VISIONS[1:]}
    yield (
        "The statistics, and whom the tones are seen by",
        ("Part of the name", "What it is"),
        [*STATISTICS.items(), *seen.items()],
    )
    rest = [
        _row(each)
        for each in _table_columns(())
        if each.column.removeprefix("VISION_") not in pairs
    ]
    yield "The other columns of score_table", _HEADS, rest


def glossary(of: Any = None) -> Glossary:
    """Say what columns are: how each is worked out, of which pairs, how weighed, from where.

    Parameters
    ----------
    of : ScoreTable, Sweep, StrengthWindows, ToleranceScore, Striping, GroundGains or StrikeOff, \
optional
        The result whose columns are meant; without it all of them, those of score tables
        under ``VISION_`` for every colour vision.

    Returns
    -------
    Glossary
        Shows itself; ``glossary()["evenness"]`` is one definition, ``.frame()`` all.

    Raises
    ------
    ArgumentError
        For something else.

    Examples
    --------
    >>> print(str(glossary())[:39])
    glossary of 101 columns: score_table, s
    >>> glossary()["ground_single_mean_dl"].weighed
    'by the length of the edge that they share'
    """
    if of is None:
        return Glossary((("score_table", _table_columns(())), *_RESULTS.items()))
    if isinstance(of, ScoreTable):
        return Glossary((("score_table", _table_columns(of.visions)),))
    kinds = (Sweep, StrengthWindows, ToleranceScore, Striping, GroundGains, StrikeOff)
    for name, kind in zip(_RESULTS, kinds, strict=True):
        if isinstance(of, kind):
            return Glossary(((name, _RESULTS[name]),))
    allowed = (
        "a score table, a sweep, strength windows, a tolerance score, striping, gains of grounds "
        "or a strike-off"
    )
    raise ArgumentError("of", allowed, of)
