"""The one typeface of sheets and pages: DejaVu Sans, as files, without loading matplotlib."""

from __future__ import annotations

from functools import lru_cache
from importlib.util import find_spec
from pathlib import Path

from checkcloth.errors import FileFormatError

__all__ = ["BOLD", "MONO", "PLAIN", "font_file"]

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
