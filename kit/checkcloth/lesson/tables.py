"""Small tables of the lesson in mixing: what the words mean, and figures to look up."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from checkcloth.cloth.distance import fusing_distance
from checkcloth.cloth.length import Length
from checkcloth.cloth.mixing import MIXING_OPTIONS, MIXINGS, find_mixing
from checkcloth.cloth.threads import plain_weave_share
from checkcloth.files.html import table

__all__ = ["Listing", "fusing", "meanings", "thread_shares", "words"]

_WORDS = (
    ("warp, weft", "threads or stripes that run up the cloth, and across it"),
    ("ground", "the colour under and between the stripes"),
    ("single", "a stripe over the ground"),
    ("crossing", "a warp stripe over a weft stripe"),
    ("overlay strength", "how much of each stripe's colour reaches the cloth, 0 to 100 %"),
    (
        "ΔE00",
        "difference of two colours (CIEDE2000): 1 can just be seen, 10 is plain (common practice)",
    ),
)


@dataclass(frozen=True, repr=False)
class Listing:
    """A table that prints as lines and shows itself as a table.

    Attributes
    ----------
    heads : tuple of str
    rows : tuple of tuples of str
    right : tuple of int
        Columns of figures.

    Examples
    --------
    >>> print(Listing(("ends", "share"), (("1", "1"), ("2", "1/2"))))
    1  1
    2  1/2
    """

    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    right: tuple[int, ...] = ()

    def __repr__(self) -> str:
        return "\n".join("  ".join(row) for row in self.rows)

    def _repr_html_(self) -> str:
        return table((), self.heads, self.rows, right=self.right)


def words() -> Listing:
    """Return the words of the lesson, each with its meaning.

    >>> print(words().rows[1][0])
    ground
    """
    return Listing(("word", "what it means"), _WORDS)


def meanings() -> Listing:
    """Return the mixings and their two options, each with what it stands for.

    >>> print(meanings().rows[0][1])
    what screens do with opacity (W3C Compositing Level 1)
    """
    named = [(find_mixing(name).label, find_mixing(name).meaning) for name in MIXINGS]
    return Listing(("mixing or option", "what it stands for"), (*named, *MIXING_OPTIONS.items()))


def thread_shares(most: int = 6) -> Listing:
    """Return the warp's share of a plain-weave cell by thread count, exactly and in per cent.

    >>> print(thread_shares(3))
    1  1  100.00 %
    2  1/2  50.00 %
    3  5/9  55.56 %
    """
    rows = []
    for ends in range(1, most + 1):
        share = plain_weave_share(ends)
        rows.append((str(ends), str(share), f"{float(share) * 100:.2f} %"))
    return Listing(("ends in the band", "warp's share", "in per cent"), tuple(rows), (0, 1, 2))


def fusing(
    sizes: Iterable[Length | str] = ("2 mm", "1/8 in", "5 mm", "1 cm", "1 in"),
) -> Listing:
    """Return from how far checks of some sizes fuse into one colour (a rule of thumb).

    >>> print(fusing(["1/4 in", "1 cm"]))
    1/4 in (6.35 mm)  21.8 m
    1 cm (0.3937 in)  34.4 m
    """
    rows = [
        (str(Length(size)), f"{fusing_distance(size).mm / 1000:.1f} m")
        for size in sizes
    ]  # fmt: skip
    return Listing(("check size", "fuses beyond"), tuple(rows), (1,))
