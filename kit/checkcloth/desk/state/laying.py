"""Which bands a desk's check has, as its settings say it: a preset's name, or a colour order."""

from __future__ import annotations

from functools import lru_cache

from checkcloth.cloth.bands import PRESETS, Bands, read_order, require_bands, write_order
from checkcloth.cloth.check import MOST_STRIPES, Check
from checkcloth.cloth.length import Length
from checkcloth.errors import ArgumentError, CheckclothError

EVEN = "even"
#: A weft in the order of the warp.
AS_WARP = ""


@lru_cache(maxsize=256)
def check_of(
    size: Length, stripes: int, bands: str = EVEN, weft: str = AS_WARP, wefts: int = 0
) -> Check:
    """Return the check that settings speak of.

    A weft of another number of stripes that runs as the warp has the same preset, of its number;
    where the warp's order is no preset, it is even.

    Raises
    ------
    ArgumentError, LengthError
        For an order that cannot be read, or a repeat over 1 m.
    """
    across = weft or (bands if wefts and bands in PRESETS else AS_WARP)
    return Check(
        size,
        stripes,
        warp=None if bands == EVEN else bands,
        weft=across or None,
        weft_stripes=wefts or None,
    )


def bands_text(value: object, stripes: int, argument: str) -> str:
    """Return an order as settings hold it: by its preset's name where it is one.

    Raises
    ------
    ArgumentError
        Saying which word cannot be read.

    >>> bands_text("1 a, 1 ground, 1.5 b, 1 ground", 2, "bands")
    'graduated'
    >>> bands_text("2 a,.5 ground", 2, "bands")
    '2 A, 1/2 ground'
    """
    if not isinstance(value, str):
        raise ArgumentError(argument, f"a colour order, or one of {', '.join(PRESETS)}", value)
    return text_of(require_bands(value, stripes, argument), stripes)


def order_text(value: object, argument: str) -> str:
    """Return an order of any stripes that can be read, as it is written.

    Raises
    ------
    ArgumentError
    """
    bands_text(value, MOST_STRIPES, argument)
    return str(value).strip()


def text_of(bands: Bands, stripes: int) -> str:
    """Return bands as settings hold them."""
    alike = (kind for kind, laid in PRESETS.items() if laid(stripes) == bands)
    return next(alike, None) or write_order(bands)


def texts_of(check: Check) -> tuple[str, str]:
    """Return the bands of a check as settings hold them: warp, and weft or ``AS_WARP``."""
    bands = text_of(check.warp_bands, check.stripes)
    follows = check_of(check.size, check.stripes, bands, AS_WARP, check.weft_stripes)
    if follows.weft_bands == check.weft_bands:
        return bands, AS_WARP
    return bands, text_of(check.weft_bands, check.weft_stripes)


def refitted(size: Length, stripes: int, wefts: int, bands: str, weft: str) -> tuple[str, str]:
    """Return bands for another number of stripes: presets stay, an order only where it fits.

    >>> refitted(Length("1 cm"), 2, 0, "double", "1 A, 1 B, 1 C")
    ('double', '')
    """
    bands = bands if _fits(bands, stripes) else EVEN
    weft = weft if weft == AS_WARP or _fits(weft, wefts or stripes) else AS_WARP
    try:
        check_of(size, stripes, bands, weft, wefts)
    except CheckclothError:  # a repeat too large
        return EVEN, AS_WARP
    return bands, weft


def _fits(text: str, stripes: int) -> bool:
    """Whether an order is of so many stripes: its highest letter is the last of them."""
    if text in PRESETS:
        return True
    return max(band.stripe for band in read_order(text, MOST_STRIPES)) == stripes
