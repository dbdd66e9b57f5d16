"""A palette from one colour, by the harmonies of colour theory, worked by coloraide in OKLCh."""

from __future__ import annotations

from dataclasses import replace

from checkcloth.cloth.named_colour import NamedColour
from checkcloth.cloth.palette import Palette
from checkcloth.colour.arrays import as_whole
from checkcloth.errors import ArgumentError, shown
from checkcloth.explore.sources.naming import css_names_for, distinct_names
from checkcloth.explore.sources.shift import oklch_text

__all__ = ["HARMONIES", "palette_from_colour"]

#: The harmonies: hues at fixed angles from that of the colour.
HARMONIES = ("complement", "split", "triad", "square", "rectangle", "analogous", "wheel")

# Between the lightest and the darkest shade of a hue, in OKLCh lightness.
_SPAN = 0.36


def palette_from_colour(
    colour: NamedColour | str, harmony: str = "analogous", *, shades: int = 3
) -> Palette:
    """Return a palette made from one colour: the hues of a harmony, each in several shades.

    Parameters
    ----------
    colour : NamedColour or CSS text
        Comes first in the palette, unchanged.
    harmony : str
        One of ``HARMONIES``; ``"wheel"`` is twelve hues all round.
    shades : int
        Of each hue, 1 to 8, evenly spread in OKLCh lightness round that of the colour.

    Returns
    -------
    Palette
        Colours named by the nearest CSS colour; no two are the same. A colour that sRGB
        cannot show is mapped into it by coloraide's ``oklch-chroma`` (CSS Color 4).

    Raises
    ------
    ArgumentError, ColourError

    Examples
    --------
    >>> made = palette_from_colour("teal", "triad", shades=2)
    >>> len(made), made.colours[0].hex
    (7, '#008080')
    """
    from coloraide import Color

    if harmony not in HARMONIES:
        raise ArgumentError(
            f"harmony must be one of {', '.join(HARMONIES)}, found {shown(harmony)}"
        )
    shades = as_whole(shades, "shades", 1, 8)
    base = NamedColour.of(colour)
    start = Color("srgb", base.rgb)
    # The greatest and least shades stay inside black and white.
    own = float(start.convert("oklch")["lightness"])
    middle = min(max(own, _SPAN / 2 + 0.08), 1 - _SPAN / 2 - 0.04) if shades > 1 else own
    made: list[NamedColour] = []
    seen = {base.hex}
    for hue in start.harmony(harmony, space="oklch"):
        _, chroma, angle = hue.convert("oklch").coords(nans=False)
        for step in range(shades):
            part = step / (shades - 1) - 0.5 if shades > 1 else 0.0
            text = oklch_text(middle + _SPAN * part, chroma, angle)
            one = NamedColour.of(text)
            if one.hex not in seen:
                seen.add(one.hex)
                made.append(one)
    names = distinct_names([base.name, *css_names_for(one.rgb for one in made)])
    named = [replace(one, name=name) for one, name in zip(made, names[1:], strict=True)]
    return Palette(f"{base.name}, {harmony}", [base, *named])
