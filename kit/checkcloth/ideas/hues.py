"""Palettes by their hues: from one colour (colour theory's angles), or another turned; in OKLCh."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from checkcloth.arguments import as_number, as_whole, require_one_of
from checkcloth.cloth.named_colour import NamedColour
from checkcloth.cloth.palette import Palette
from checkcloth.colour.spaces import srgb_to_oklab
from checkcloth.files.names import distinct_names
from checkcloth.ideas.naming import css_names_for

#: The harmonies: hues at fixed angles from that of the colour.
HARMONIES = ("complement", "split", "triad", "square", "rectangle", "analogous", "wheel")
#: What each adds to the hue of the colour, as people choose it.
HUES_WORDS = {
    "complement": "the hue opposite",
    "split": "the two beside the hue opposite",
    "triad": "two more, a third of the circle apart",
    "square": "three more, a quarter of the circle apart",
    "rectangle": "a hue near it, and the two opposite",
    "analogous": "its neighbours on either side",
    "wheel": "eleven more, all round",
}

# Between the lightest and the darkest shade of a hue, in OKLCh lightness.
_SPAN = 0.36


def _oklch_text(lightness: float, chroma: float, hue: float) -> str:
    """Return a CSS ``oklch()`` text: lightness 0–1, chroma, hue in degrees."""
    return f"oklch({lightness * 100:.4f}% {chroma:.5f} {hue % 360:.3f})"


def shift_palette(
    palette: Palette, *, turn: float = 0, lighten: float = 0, mute: float = 0
) -> Palette:
    """Return the palette with every colour's hue, lightness and chroma changed in OKLCh.

    What sRGB cannot show is mapped into it as CSS Color 4 says: chroma is reduced at
    constant lightness and hue (coloraide's ``oklch-chroma``).

    Parameters
    ----------
    palette : Palette
    turn : float
        Degrees round the hue circle, −360 to 360.
    lighten : float
        Added to the OKLCh lightness, −1 to 1 (black is 0, white 1); below 0 darkens.
    mute : float
        The share of chroma taken away, up to 1 (greys); below 0, down to −1, more vivid.

    Returns
    -------
    Palette
        The same names, roles and notes; the palette's own name says what was done.

    Examples
    --------
    >>> print(shift_palette(Palette("coast", ["teal"]), mute=1).colours[0].hex)
    #6f6f6f
    >>> print(shift_palette(Palette("coast", ["teal"]), turn=30, lighten=0.1))
    palette coast, turned 30°, lightened 10 %: 1 colour
    """
    turn = as_number(turn, "turn", -360, 360)
    lighten = as_number(lighten, "lighten", -1, 1)
    mute = as_number(mute, "mute", -1, 1)
    if turn == lighten == mute == 0:
        return palette
    words = [palette.name]
    if turn:
        words.append(f"turned {turn:g}°")
    if lighten:
        words.append(f"{'lightened' if lighten > 0 else 'darkened'} {abs(lighten) * 100:g} %")
    if mute:
        words.append(f"{'muted' if mute > 0 else 'more vivid by'} {abs(mute) * 100:g} %")
    labs = srgb_to_oklab(palette.rgb)
    chroma = np.hypot(labs[:, 1], labs[:, 2]) * (1 - mute)
    hue = np.degrees(np.arctan2(labs[:, 2], labs[:, 1])) + turn
    light = np.clip(labs[:, 0] + lighten, 0, 1)
    colours = []
    for colour, *lch in zip(palette, light, chroma, hue, strict=True):
        made = _in_srgb(_oklch_text(*map(float, lch)), colour.name)
        colours.append(replace(made, role=colour.role, note=colour.note))
    return Palette(", ".join(words), colours)


def _in_srgb(text: str, name: str = "") -> NamedColour:
    """A colour that was worked out for a screen: brought into sRGB for good, if it left it."""
    from coloraide import Color

    made = NamedColour.of(text, name)
    if made.xyz is None:
        return made
    fitted = Color(text).convert("srgb").fit(method="oklch-chroma").coords(nans=False)
    red, green, blue = (min(max(float(channel), 0.0), 1.0) for channel in fitted)
    return NamedColour(made.name, (red, green, blue))


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

    require_one_of(harmony, "harmony", HARMONIES)
    shades = as_whole(shades, "shades", 1, 8)
    base = NamedColour.of(colour)
    start = Color("srgb", base.rgb)
    own = float(start.convert("oklch")["lightness"])
    # The lightest and darkest shades stay inside black and white.
    middle = min(max(own, _SPAN / 2 + 0.08), 1 - _SPAN / 2 - 0.04) if shades > 1 else own
    steps = np.linspace(-_SPAN / 2, _SPAN / 2, shades) if shades > 1 else np.zeros(1)
    made = {base.hex: base}
    for hue in start.harmony(harmony, space="oklch"):
        _, chroma, angle = hue.convert("oklch").coords(nans=False)
        for step in steps.tolist():
            shade = _in_srgb(_oklch_text(middle + step, chroma, angle))
            made.setdefault(shade.hex, shade)
    others = list(made.values())[1:]
    names = distinct_names([base.name, *css_names_for(shade.rgb for shade in others)])[1:]
    named = [replace(shade, name=name) for shade, name in zip(others, names, strict=True)]
    return Palette(f"{base.name}, {harmony}", [base, *named])
