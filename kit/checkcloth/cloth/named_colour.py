"""A colour with a name: what palettes hold and colourways are made of."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass, replace

import numpy as np

from checkcloth.colour.css import hex_of, parse_css
from checkcloth.colour.spaces import srgb_to_bytes
from checkcloth.errors import ArgumentError, ColourError, shown
from checkcloth.files.html import figure, image
from checkcloth.files.png import bands_png

ROLES = ("", "ground", "stripe")
_LONGEST = 500


def _is_printable(char: str) -> bool:
    return unicodedata.category(char) not in ("Cc", "Cs", "Cn")


def clean_text(value: object, name: str, *, longest: int = _LONGEST) -> str:
    """Return typed text trimmed, or say why it cannot be kept.

    Anything printable is allowed, in any script; where text is shown or becomes a file
    name it is made safe there. Control characters are refused: XML cannot hold them.

    Examples
    --------
    >>> clean_text("  Jug Blue ", "name")
    'Jug Blue'
    """
    if not isinstance(value, str):
        raise ArgumentError(name, "text", value)
    text = value.strip()
    # In ASCII Python's own word for it is the same, and quicker.
    plain = text.isascii() and text.isprintable()
    if not plain and not all(map(_is_printable, text)):
        raise ArgumentError(name, "one line without control characters", value)
    if len(text) > longest:
        raise ArgumentError(
            name, f"at most {longest} characters", words=f"{len(text)}: {shown(value)}"
        )
    return text


def one_line(text: str, *, longest: int = 2000) -> str:
    """Return text from elsewhere as :func:`clean_text` takes it: runs of line ends and control
    characters become one space, what is too long is cut, other white space stays as it is.
    """
    plain = (char if _is_printable(char) else "\n" for char in text)
    return re.sub(" *\n[ \n]*", " ", "".join(plain)).strip()[:longest].rstrip()


@dataclass(frozen=True, repr=False)
class NamedColour:
    """A named, opaque colour.

    Attributes
    ----------
    name : str
    rgb : tuple of three floats
        Encoded sRGB in 0–1.
    role : str
        ``"ground"``, ``"stripe"`` or ``""`` (either).
    note : str
    text : str
        The CSS Color 4 text it was read from; written back unchanged.

    Raises
    ------
    ArgumentError
        For an empty or unprintable name, an unknown role, channels outside 0–1.

    Examples
    --------
    >>> print(NamedColour("Harbour Wall", (0.2, 0.4, 0.6), role="ground"))
    Harbour Wall #336699
    """

    name: str
    rgb: tuple[float, float, float]
    role: str = ""
    note: str = ""
    text: str = ""

    def __post_init__(self) -> None:
        name = clean_text(self.name, "name")
        if not name:
            raise ArgumentError("name", "a name of one character or more", self.name)
        if self.role not in ROLES:
            raise ArgumentError("role", "ground, stripe or empty", self.role)
        try:
            red, green, blue = (float(channel) for channel in self.rgb)
        except (TypeError, ValueError):
            raise ArgumentError("rgb", "three numbers", self.rgb) from None
        if not all(0 <= channel <= 1 for channel in (red, green, blue)):
            raise ArgumentError("rgb", "in 0–1", self.rgb)
        object.__setattr__(self, "name", name)
        object.__setattr__(self, "rgb", (red, green, blue))
        object.__setattr__(self, "note", clean_text(self.note, "note", longest=2000))
        if not self.text:
            object.__setattr__(self, "text", _css_text((red, green, blue)))

    @classmethod
    def of(cls, value: str | NamedColour, name: str = "") -> NamedColour:
        """Return a palette colour as it is, or a CSS Color 4 text as a colour of that name.

        Raises
        ------
        ColourError
            For text that is no opaque CSS colour.
        """
        if isinstance(value, NamedColour):
            return replace(value, name=name) if name else value
        if not isinstance(value, str):
            raise ColourError("colour", "a NamedColour or a CSS Color 4 text", value)
        rgb = parse_css(value)
        return cls(name or value.strip(), rgb, text=value.strip())

    @property
    def hex(self) -> str:
        """``#rrggbb``, to the nearest 8-bit step."""
        return hex_of(self.rgb)

    def __str__(self) -> str:
        return self.name if self.name.lower() == self.hex else f"{self.name} {self.hex}"

    def __repr__(self) -> str:
        return f"<{self}>"

    def _repr_html_(self) -> str:
        png = bands_png(
            srgb_to_bytes(self.rgb).reshape(1, 1, 3), np.zeros(36, int), np.zeros(36, int)
        )
        return figure(image(png, f"flat colour: {self}", width=36, height=36), str(self))


def _css_text(rgb: tuple[float, float, float]) -> str:
    """A CSS text that reads back to the very same floats: hex where that is enough."""
    short = hex_of(rgb)
    if parse_css(short) == rgb:
        return short
    return "color(srgb {} {} {})".format(*(format(channel, ".17g") for channel in rgb))
