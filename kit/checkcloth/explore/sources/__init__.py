"""Where a palette can start: a photograph, one colour, or another palette."""

from __future__ import annotations

from checkcloth.explore.sources.harmony import HARMONIES, palette_from_colour
from checkcloth.explore.sources.photo import Photo, open_photo, palette_from_photo
from checkcloth.explore.sources.shift import shift_palette

__all__ = [
    "HARMONIES",
    "Photo",
    "open_photo",
    "palette_from_colour",
    "palette_from_photo",
    "shift_palette",
]
