"""The one typeface of sheets and pages: DejaVu Sans, as files, without loading matplotlib."""

from __future__ import annotations

from functools import lru_cache
from importlib.util import find_spec
from pathlib import Path

from checkcloth.errors import FileFormatError

__all__ = ["BOLD", "MONO", "PLAIN", "font_file", "lacking"]

PLAIN, BOLD, MONO = "DejaVuSans.ttf", "DejaVuSans-Bold.ttf", "DejaVuSansMono.ttf"


@lru_cache(maxsize=8)
def font_file(name: str = PLAIN) -> Path:
    """Return the path of a DejaVu font, which matplotlib carries with it.

    Finding a package does not import it, so this costs no start-up time.

    Raises
    ------
    FileFormatError
        If matplotlib, which the kit depends on, lacks the font.

    >>> font_file().name
    'DejaVuSans.ttf'
    """
    spec = find_spec("matplotlib")
    for place in (spec.submodule_search_locations or []) if spec else []:
        path = Path(place) / "mpl-data" / "fonts" / "ttf" / name
        if path.is_file():
            return path
    raise FileFormatError(f"{name}: must be in matplotlib's font folder, found none")


@lru_cache(maxsize=1)
def _signs() -> frozenset[int]:
    """Every sign that the plain and the bold font both hold."""
    from matplotlib.ft2font import FT2Font

    plain, bold = (set(FT2Font(str(font_file(name))).get_charmap()) for name in (PLAIN, BOLD))
    return frozenset(plain & bold)


def lacking(*texts: str) -> str:
    """Return the signs in texts that the typeface lacks, each once; a box stands for them.

    >>> lacking("Tea table, café – ½", "東雲")
    '東雲'
    """
    # All of Latin is there, and most names ask for no more: the font is not even opened.
    signs = dict.fromkeys(sign for text in texts for sign in text if ord(sign) > 0x17F)
    return "".join(sign for sign in signs if ord(sign) not in _signs())
