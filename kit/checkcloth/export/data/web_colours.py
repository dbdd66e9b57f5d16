"""The colours of a set as CSS custom properties, for a shop's pages."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator

import numpy as np

from checkcloth.cloth.check import Check
from checkcloth.colour.css import hex_of
from checkcloth.export.members import Colourways, as_set, label_of
from checkcloth.files.names import file_stems


def _comment(text: str) -> str:
    """Text that cannot end a comment."""
    clean = "".join(" " if unicodedata.category(char) in ("Cc", "Cf") else char for char in text)
    return f"/* {clean.replace('*/', '* /').replace('/*', '/ *')} */"


def set_css_lines(colourways: Colourways, check: Check | None = None) -> Iterator[str]:
    """Yield :func:`set_css` a line at a time, so that it need not be held whole."""
    chosen = as_set(colourways, check)
    stems = file_stems(label_of(colourway, index) for index, colourway in enumerate(chosen))
    yield f"{_comment(str(chosen))}\n:root {{\n"
    for stem, colourway in zip(stems, chosen, strict=True):
        yield f"  {_comment(f'{colourway}; {chosen.check_for(colourway)}')}\n"
        yield f"  --{stem}-ground: {colourway.ground.hex};\n"
        for number, stripe in enumerate(colourway.stripes, start=1):
            yield f"  --{stem}-stripe-{number}: {stripe.hex}; {_comment(stripe.name)}\n"
        for number, stripe in enumerate(colourway.weft_stripes, start=1):
            yield f"  --{stem}-weft-stripe-{number}: {stripe.hex}; {_comment(stripe.name)}\n"
        for warp, weft in np.ndindex(*colourway.tones.shape[:2]):
            parts = [f"warp-{warp}" if warp else "", f"weft-{weft}" if weft else ""]
            if warp or weft:
                name = "-".join(filter(None, parts))
                yield f"  --{stem}-{name}: {hex_of(colourway.tones[warp, weft])};\n"
    yield "}\n"


def set_css(colourways: Colourways, check: Check | None = None) -> str:
    """Return the tones of every colourway as CSS custom properties on ``:root``.

    ``--name-ground``, ``--name-stripe-1`` (the colour as chosen), ``--name-warp-1``,
    ``--name-weft-1`` (over the ground) and ``--name-warp-1-weft-2`` (the crossing), each
    as ``#rrggbb``, to the nearest 8-bit step, as in the pictures.

    Raises
    ------
    ArgumentError
        For no colourways, or no check.
    """
    return "".join(set_css_lines(colourways, check))
