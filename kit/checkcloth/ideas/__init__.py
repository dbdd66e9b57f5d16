"""Where a palette can start: a photograph, one colour, or another palette."""

from __future__ import annotations

from checkcloth.ideas.hues import HARMONIES, HUES_WORDS, palette_from_colour, shift_palette
from checkcloth.ideas.photo import Photo, open_photo, palette_from_photo

__all__ = [
    "HARMONIES",
    "HUES_WORDS",
    "Photo",
    "open_photo",
    "palette_from_colour",
    "palette_from_photo",
    "shift_palette",
]
