"""Bands: which stripe, how wide, in which order across one repeat; and a colour order as text.

A colour order is written as weavers write it, count and colour from edge to edge: "2 navy,
2 white, 4 teal". A count here is checks, so 1/2 is half a check wide.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from fractions import Fraction
from functools import lru_cache
from itertools import pairwise
from math import lcm
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from checkcloth.arguments import require_one_of
from checkcloth.errors import ArgumentError, shown

MOST_BANDS = 240
NARROWEST, WIDEST = Fraction(1, 8), Fraction(16)
# All widths are whole parts of a check, and a check has at most so many parts.
MOST_PARTS = 960
_MOST_TEXT = 20_000
_MOST_TIMES = 100

GROUND = "ground"
_HALF = Fraction(1, 2)


class Band(NamedTuple):
    """One band across the repeat: the stripe's number (0 is ground) and width in checks."""

    stripe: int
    checks: int | Fraction


Bands = tuple[Band, ...]


# --- Kinds of check that the trade has a word for -------------------------------------------


@lru_cache(maxsize=64)
def even_bands(stripes: int) -> Bands:
    """Return the bands of an even check: stripe 1, ground, stripe 2 … each one check wide."""
    return tuple(Band(stripe, 1) for number in range(1, stripes + 1) for stripe in (number, 0))


def _graduated(stripes: int) -> Bands:
    """Each stripe half a check wider than the one before."""
    bands = []
    for number in range(1, stripes + 1):
        bands += [Band(number, _whole(Fraction(number + 1, 2))), Band(0, 1)]
    return tuple(bands)


def _double(stripes: int) -> Bands:
    """Each stripe twice, close together."""
    pair = ((1, _HALF), (0, _HALF), (1, _HALF), (0, 1))
    return tuple(
        Band(number * on, checks) for number in range(1, stripes + 1) for on, checks in pair
    )


def _windowpane(stripes: int) -> Bands:
    """Thin stripes far apart."""
    return tuple(
        band
        for number in range(1, stripes + 1)
        for band in (Band(number, Fraction(1, 4)), Band(0, 2))
    )


# Common practice, no source; the proportions are ours.
PRESETS: dict[str, Callable[[int], Bands]] = {
    "even": even_bands,
    "graduated": _graduated,
    "double": _double,
    "windowpane": _windowpane,
}


def preset_bands(kind: str, stripes: int) -> Bands:
    """Return bands of a kind that the trade has a word for, one of ``PRESETS``.

    >>> write_order(preset_bands("graduated", 2))
    '1 A, 1 ground, 1 1/2 B, 1 ground'
    """
    return PRESETS[require_one_of(kind, "kind", PRESETS)](stripes)


def mirror(bands: Iterable[Band]) -> Bands:
    """Return bands forwards and then backwards; the first and the last come once, as pivots.

    >>> write_order(mirror(read_order("4 A, 2 ground, 1 B", 2)))
    '4 A, 2 ground, 1 B, 2 ground'
    """
    once = tuple(bands)
    return (*once, *once[-2:0:-1])


# --- What follows from them -----------------------------------------------------------------


def checks_in(bands: Bands) -> int | Fraction:
    """Return how many checks wide one repeat is."""
    return _whole(Fraction(sum(parts_wide(bands)), parts_of_a_check(bands)))


def parts_wide(bands: Bands) -> list[int]:
    """Return how many parts of a check (:func:`parts_of_a_check`) each band is wide."""
    parts = parts_of_a_check(bands)
    return [band.checks.numerator * (parts // band.checks.denominator) for band in bands]


def parts_of_a_check(*ways: Bands) -> int:
    """Return the least number of equal parts of a check that every band is whole parts of.

    >>> parts_of_a_check((Band(1, Fraction(1, 2)), Band(0, Fraction(2, 3))))
    6
    """
    return lcm(*(band.checks.denominator for bands in ways for band in bands))


def band_edges(bands: Bands, pixels: int | Fraction = 1) -> tuple[int, ...]:
    """Return where bands begin and the last one ends, in whole pixels, ``pixels`` a check.

    Each edge is the nearest pixel to where it belongs (half a pixel goes up), so no error
    adds up and bands of one width differ by a pixel at most.
    """
    parts = parts_of_a_check(bands)
    # In whole numbers: doubled, so that the half is one too.
    unit, each = 2 * parts * pixels.denominator, 2 * pixels.numerator
    edges, at = [0], 0
    for width in parts_wide(bands):
        at += width
        edges.append((at * each + unit // 2) // unit)
    return tuple(edges)


def band_spans(bands: Bands, pixels: int | Fraction = 1) -> list[tuple[int, int, int]]:
    """Return the stripe of each band, and the pixels where it begins and ends: see above."""
    edges = pairwise(band_edges(bands, pixels))
    return [(band.stripe, *edge) for band, edge in zip(bands, edges, strict=True)]


def band_plan(bands: Bands, pixels: int | Fraction = 1) -> NDArray[np.intp]:
    """Return the stripe number at every pixel across one repeat, ``pixels`` a check."""
    stripes = np.array([band.stripe for band in bands], dtype=np.intp)
    return np.repeat(stripes, np.diff(band_edges(bands, pixels)))


def joined(bands: Bands) -> Bands:
    """Return bands with neighbours of one stripe as one, round the repeat; none without width.

    >>> joined((Band(1, 1), Band(0, 1), Band(0, 2), Band(1, 1)))
    (Band(stripe=1, checks=2), Band(stripe=0, checks=3))
    """
    out: list[Band] = []
    for band in bands:
        if out and out[-1].stripe == band.stripe:
            out[-1] = Band(band.stripe, _whole(out[-1].checks + Fraction(band.checks)))
        elif band.checks:
            out.append(band)
    if len(out) > 1 and out[0].stripe == out[-1].stripe:
        last = out.pop()
        out[0] = Band(last.stripe, _whole(out[0].checks + Fraction(last.checks)))
    return tuple(out)


def counted(bands: Bands, stripes: int) -> Bands:
    """Return bands that speak of so many stripes, though the highest may not be laid.

    What is worked out from bands has a row for each stripe up to the highest that they name;
    a band of no width names one that the cloth does not show this way.
    """
    named = max((band.stripe for band in bands), default=0) >= stripes
    return bands if named else (*bands, Band(stripes, 0))


# --- Bands that somebody gives --------------------------------------------------------------


def require_bands(value: object, stripes: int, argument: str) -> Bands:
    """Return bands that were given as text, as a preset's name, or as pairs (stripe, checks)."""
    if isinstance(value, str):
        kind = value.strip().lower()
        return PRESETS[kind](stripes) if kind in PRESETS else read_order(value, stripes, argument)
    if not isinstance(value, Iterable):
        raise ArgumentError(argument, "a colour order, or pairs of a stripe and its checks", value)
    return _checked([_band(item, stripes, argument) for item in value], argument)


def _band(item: Any, stripes: int, argument: str) -> Band:
    try:
        stripe, checks = item
    except (TypeError, ValueError):
        raise ArgumentError(argument, "pairs of a stripe and its checks", item) from None
    whole = isinstance(stripe, int | np.integer) and not isinstance(stripe, bool)
    if not whole or not 0 <= stripe <= stripes:
        raise ArgumentError(argument, f"bands of the ground (0) or stripes 1 to {stripes}", stripe)
    return Band(int(stripe), _width(checks, argument, item))


def _width(checks: Any, argument: str, found: object) -> int | Fraction:
    try:
        # A float stands for the decimal it prints as.
        exact = Fraction(repr(checks) if isinstance(checks, float) else checks)
    except (TypeError, ValueError, ZeroDivisionError, OverflowError):
        exact = Fraction(0)
    if isinstance(checks, bool) or not NARROWEST <= exact <= WIDEST:
        allowed = f"bands from {NARROWEST} to {WIDEST} checks wide"
        raise ArgumentError(argument, allowed, found)
    return _whole(exact)


def _checked(bands: Sequence[Band], argument: str) -> Bands:
    if not 1 <= len(bands) <= MOST_BANDS:
        raise ArgumentError(argument, f"1 to {MOST_BANDS} bands", len(bands))
    made = tuple(bands)
    if parts_of_a_check(made) > MOST_PARTS:
        allowed = f"bands that are whole parts of a check cut into at most {MOST_PARTS}"
        raise ArgumentError(argument, allowed, words=str(parts_of_a_check(made)))
    return made


def _whole(number: Fraction | int) -> int | Fraction:
    return int(number) if number == int(number) else number


# --- A colour order as text -----------------------------------------------------------------

_ITEM = re.compile(
    r"""\s*(?: (?P<whole>\d{1,4})\s+(?P<num>\d{1,4})/(?P<den>\d{1,4})
        | (?P<top>\d{1,4})/(?P<bottom>\d{1,4})
        | (?P<decimal>\d{0,4}\.\d{1,6}|\d{1,4}) )
        \s+(?P<name>\S.*?)\s*""",
    re.VERBOSE | re.DOTALL,
)
_GROUP = re.compile(r"\s*(\d{1,3})\s*[x×]\s*\[([^\[\]]*)\]\s*(?:[,;\n]|$)")
_PLAIN = re.compile(r"[^\s\d.,;/\[\]][^,;\n\[\]]*")
_MIRRORED = re.compile(r"[,;\s]+mirrored\s*$", re.IGNORECASE)


def letter_of(stripe: int) -> str:
    """Return what a stripe is called where no colour is known: A to X, as on a weaver's key.

    >>> letter_of(0), letter_of(1), letter_of(24)
    ('ground', 'A', 'X')
    """
    return chr(ord("A") + stripe - 1) if stripe else GROUND


def labels_of(names: Sequence[str]) -> tuple[str, ...]:
    """Return what ground and stripes are called in an order: by name, or else by letter.

    A name that two share, that is a letter or "ground" itself, or that holds what an order
    is put together with, gives way to the letter.

    >>> labels_of(["white", "navy", "white", "Sand, pale", "B"])
    ('ground', 'navy', 'B', 'C', 'D')
    """
    folded = [name.strip().casefold() for name in names]
    letters = {letter_of(stripe).casefold() for stripe in range(25)}
    return tuple(
        name
        if folded.count(fold) == 1
        and fold not in letters
        and name == " ".join(name.split())
        and _PLAIN.fullmatch(name)
        and not fold.endswith("mirrored")
        else letter_of(stripe)
        for stripe, (name, fold) in enumerate(zip(names, folded, strict=True))
    )


def write_order(bands: Bands, names: Sequence[str] | None = None) -> str:
    """Return bands as a colour order that :func:`read_order` reads back exactly.

    ``names`` are of the ground and of every stripe; letters stand for them where left out.

    >>> write_order((Band(1, 2), Band(0, Fraction(3, 2))), ["white", "navy"])
    '2 navy, 1 1/2 white'
    """
    labels = None if names is None else labels_of(names)
    return ", ".join(
        f"{_mixed(band.checks)} {labels[band.stripe] if labels else letter_of(band.stripe)}"
        for band in bands
    )


def _mixed(checks: int | Fraction) -> str:
    """A width as people write it: 2, 1/2, 1 1/2."""
    whole, rest = divmod(Fraction(checks), 1)
    return " ".join(str(part) for part in (whole, rest) if part) or "0"


def read_order(
    text: str,
    stripes: int,
    argument: str = "order",
    names: Sequence[str] | None = None,
    *,
    letters: bool = True,
) -> Bands:
    """Read a colour order: checks and colour, by turns, with commas between.

    Parameters
    ----------
    text : str
        ``"2 navy, 1/2 white, 1.5 teal"``; ``"3 x [1 navy, 1 white], 4 teal"`` gives a part
        so many times, and ``mirrored`` at the end adds the way back (:func:`mirror`).
        Letters (A for stripe 1) and "ground" are read whatever the names are.
    stripes : int
    argument : str
        What an error calls it.
    names : sequence of str, optional
        Of the ground and of every stripe.
    letters : bool
        Otherwise names are taken as they are, and nothing else is read but "ground".

    Raises
    ------
    ArgumentError
        Saying which word cannot be read.

    >>> read_order("2 navy, 1/2 white", 1, names=["white", "navy"])
    (Band(stripe=1, checks=2), Band(stripe=0, checks=Fraction(1, 2)))
    """
    body = _body(text, argument)
    known = {letter_of(stripe).casefold(): stripe for stripe in range(stripes + 1)}
    words = [letter_of(stripe) for stripe in range(stripes + 1)]
    if names is not None:
        words = [*(labels_of(names) if letters else names)]
        own = {word.casefold(): stripe for stripe, word in enumerate(words)}
        known = known | own if letters else {GROUND: 0} | own
    bands: list[Band] = []
    for part, times in _parts(body, argument):
        items = [_read_item(item, known, words, argument) for item in _items(part)]
        if len(bands) + times * len(items) > MOST_BANDS:
            raise ArgumentError(argument, f"1 to {MOST_BANDS} bands", words="more")
        bands += items * times
    return _checked(mirror(bands) if body != text else bands, argument)


def names_in_order(text: str, argument: str = "order") -> list[str]:
    """Return the colours of an order as they are written, one for each band.

    >>> names_in_order("2 navy, 3 x [1 white, 2 sea green]")
    ['navy', 'white', 'sea green']
    """
    items = [item for part, _ in _parts(_body(text, argument), argument) for item in _items(part)]
    return [" ".join(_match(item, argument)["name"].split()) for item in items]


def _body(text: object, argument: str) -> str:
    """The text of an order without ``mirrored`` at its end."""
    if not isinstance(text, str) or not text.strip() or len(text) > _MOST_TEXT:
        raise ArgumentError(argument, "a colour order such as '2 A, 2 ground, 4 B'", text)
    return _MIRRORED.sub("", text)


def _items(part: str) -> list[str]:
    return [item for item in re.split(r"[,;\n]", part) if item.strip()]


def _match(item: str, argument: str) -> re.Match[str]:
    match = _ITEM.fullmatch(item)
    if match is None:
        allowed = "made of checks and a colour, such as '2 A', with commas between"
        raise ArgumentError(argument, allowed, item.strip())
    return match


def _parts(text: str, argument: str) -> Iterator[tuple[str, int]]:
    """The parts of an order, each with how often it comes."""
    at = 0
    while at < len(text):
        group = _GROUP.match(text, at)
        if group:
            times = int(group[1])
            if not 1 <= times <= _MOST_TIMES:
                raise ArgumentError(argument, f"parts of 1 to {_MOST_TIMES} times", times)
            yield group[2], times
            at = group.end()
            continue
        end = re.compile(r"[,;\n]|$").search(text, at)
        yield text[at : end.start() if end else len(text)], 1
        at = end.end() if end and end.end() > at else len(text)


def _read_item(item: str, known: dict[str, int], words: Sequence[str], argument: str) -> Band:
    match = _match(item, argument)
    name = " ".join(match["name"].split())
    if name.casefold() not in known:
        allowed = f"of {', '.join(shown(word)[1:-1] for word in words)}"
        raise ArgumentError(argument, allowed, name, hint=f" in {shown(item.strip())}")
    top, bottom = match["num"] or match["top"], match["den"] or match["bottom"]
    if bottom is not None and not int(bottom):
        raise ArgumentError(argument, "made of checks and a colour", item.strip())
    part = Fraction(int(top), int(bottom)) if top else Fraction(match["decimal"])
    width = part + int(match["whole"] or 0)
    return Band(known[name.casefold()], _width(width, argument, item.strip()))
