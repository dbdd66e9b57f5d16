"""What every column of every result is: formula, pairs, weights, source.

Nothing is written twice: the columns of scores come from ``scoring/definitions.py``, which
also names them in the tables, and the others from the results that have them.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import astuple, dataclass, fields, replace
from difflib import get_close_matches
from typing import Any, ClassVar

from checkcloth.cloth.spectral import LIGHT_COLUMNS, Partings
from checkcloth.colour.spectra.lights import LIGHTS
from checkcloth.colour.vision import VISIONS
from checkcloth.errors import ArgumentError
from checkcloth.files.frames import Definition, Tabular
from checkcloth.files.html import table
from checkcloth.quality.grounds import GroundGains
from checkcloth.quality.readings import Readings
from checkcloth.quality.scatter import ToleranceScore
from checkcloth.quality.strike_off import StrikeOff
from checkcloth.quality.striping import Striping
from checkcloth.quality.supplier import SupplierPalette
from checkcloth.quality.sweep import StrengthWindows, Sweep
from checkcloth.quality.table import OWN_COLUMNS, SEEN_COLUMNS, ScoreTable
from checkcloth.scoring.definitions import PAIR_COLUMNS, STATISTICS
from checkcloth.scoring.measures import MEASURE_NAMES, find_measure
from checkcloth.scoring.pairs import KIND_MEANINGS
from checkcloth.scoring.vocabulary import VISION_WORDS, vision_name

# A table of a glossary: caption, headings, rows.
Grid = tuple[str, tuple[str, ...], list[tuple[str, ...]]]

_NAMES = tuple(field.name for field in fields(Definition))
_HEADS = ("Column", "What it is", "How it is worked out", "Of", "Weighed", "Source")
_OWN = (
    Definition("of", "the function whose result has the column", "its name"),
    Definition("column", "name of the column", "in tables, frames and files"),
    Definition("words", "what it is called", "in words"),
    Definition("formula", "how it is worked out", "in words, or as a formula"),
    Definition("compared", "what it is of", "the pairs of tones, or the tones"),
    Definition("weighed", "how these count in it", "in words; nothing where all count alike"),
    Definition("source", "where that is published", "nothing where it is the kit's own"),
)
# Columns by the function whose result has them; of others a result says itself what they are.
_RESULTS: dict[str, tuple[Definition, ...]] = {
    **{
        kind.made_by: kind.definitions
        for kind in (
            Sweep, StrengthWindows, ToleranceScore, Striping, GroundGains, StrikeOff,
            SupplierPalette, Readings, Partings,
        )
    },
    "under_lights": LIGHT_COLUMNS,
    "glossary": _OWN,
}  # fmt: skip


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

    made_by: ClassVar[str] = "glossary"

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
        for name in _spellings(str(column)):
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
                yield of, _HEADS, [astuple(each) for each in members]

    def __str__(self) -> str:
        words = ", ".join(of for of, _ in self.sections)
        return f"glossary of {len(self)} columns: {words}"

    def _repr_html_(self) -> str:
        return "".join(table([caption], heads, rows) for caption, heads, rows in self.grids())


def _spellings(column: str) -> Iterator[str]:
    """The names under which a column may stand: as it is, and of any vision or light."""
    vision, _, figure = column.partition("_")
    yield from (column, f"VISION_{column}")
    if vision in VISIONS:
        yield f"VISION_{figure}"
    for light in LIGHTS:
        yield column.replace(f"_{light}", "_LIGHT")
    yield column.replace("*", "")


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
        astuple(each)
        for each in _table_columns(())
        if each.column.removeprefix("VISION_") not in pairs
    ]
    yield "The other columns of score_table", _HEADS, rest


def glossary(of: Any = None) -> Glossary:
    """Say what columns are: how each is worked out, of which pairs, how weighed, from where.

    Parameters
    ----------
    of : any result with a ``.frame()``, optional
        The result whose columns are meant: a score table, a sweep, a strike-off, a search, a
        colour gamp …; without it all of this room's, those of score tables under ``VISION_``
        for every colour vision, those of lights under ``LIGHT``.

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
    glossary of 139 columns: score_table, s
    >>> glossary()["ground_single_mean_dl"].weighed
    'by the length of the edge that they share'
    """
    if of is None:
        return Glossary((("score_table", _table_columns(())), *_RESULTS.items()))
    if isinstance(of, ScoreTable):
        return Glossary((("score_table", _table_columns(of.visions)),))
    if isinstance(of, Glossary):
        return Glossary((("glossary", _OWN),))
    if isinstance(of, Tabular):
        return Glossary(((of.made_by, of.definitions),))
    allowed = (
        "a result that is a table: of scores, a sweep, strength windows, a tolerance score, "
        "striping, gains of grounds, a strike-off, readings, shades, tones under lights, a search"
    )
    raise ArgumentError("of", allowed, of)
