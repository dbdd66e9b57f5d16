"""A colour with a name: what palettes hold and colourways are made of."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from numpy.typing import ArrayLike

from checkcloth.arguments import Floats, as_colours
from checkcloth.colour.ciede2000 import delta_e_2000
from checkcloth.colour.css import MOST_XYZ, hex_of, parse_css, read_css, shown_rgb
from checkcloth.colour.reflectance import reflectance_to_xyz
from checkcloth.colour.spaces import (
    in_srgb,
    lab_to_xyz,
    srgb_to_bytes,
    srgb_to_lab,
    xyz_to_lab,
)
from checkcloth.colour.spectra.lights import check_reflectance, to_bands
from checkcloth.errors import ArgumentError, ColourError, shown
from checkcloth.files.html import OneLine, figure, image
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


# How far channels that are given beside XYZ or a reflectance may lie from what these come to:
# less than a step of 8 bits.
_AGREE = 1e-3
# ΔE00 that would be printed as 0.0: black and white are outside sRGB by the rounding of weights.
_NOTHING = 0.05
Triple = tuple[float, float, float]


@dataclass(frozen=True, repr=False)
class NamedColour(OneLine):
    """A named, opaque colour.

    Attributes
    ----------
    name : str
    rgb : tuple of three floats
        Encoded sRGB in 0–1: as it is shown. May be left out where ``xyz`` or ``reflectance``
        says what the colour is.
    role : str
        ``"ground"``, ``"stripe"`` or ``""`` (either).
    note : str
    text : str
        The CSS Color 4 text it was read from; written back unchanged.
    xyz : tuple of three floats, or None
        CIE XYZ (D65, 2°, white Y = 1) of a colour that sRGB cannot show: what was asked for, which
        mixing works with; None where ``rgb`` is the very colour. Taken from the text where
        ``rgb`` is what shows that.
    reflectance : tuple of 36 floats, or None
        Measured, as fractions, at 380 to 730 nm by 10 nm (:func:`to_bands` brings other grids
        there); it then says what the colour is.

    Raises
    ------
    ArgumentError
        For an empty or unprintable name, an unknown role, channels outside 0–1 or other than
        what ``xyz`` or ``reflectance`` comes to, a reflectance that is none.

    Examples
    --------
    >>> print(NamedColour("Harbour Wall", (0.2, 0.4, 0.6), role="ground"))
    Harbour Wall #336699
    >>> print(NamedColour.of("color(display-p3 0 0.6 0.5)", "Buoy"))
    Buoy #00957f, outside the screen's colours: shown ΔE00 4.8 off
    """

    name: str
    rgb: Triple = ()  # type: ignore[assignment]
    role: str = ""
    note: str = ""
    text: str = ""
    xyz: Triple | None = None
    reflectance: tuple[float, ...] | None = None

    def __post_init__(self) -> None:
        name = clean_text(self.name, "name")
        if not name:
            raise ArgumentError("name", "a name of one character or more", self.name)
        if self.role not in ROLES:
            raise ArgumentError("role", "ground, stripe or empty", self.role)
        rgb, xyz, reflectance = self._values()
        object.__setattr__(self, "name", name)
        object.__setattr__(self, "rgb", rgb)
        object.__setattr__(self, "note", clean_text(self.note, "note", longest=2000))
        object.__setattr__(self, "xyz", xyz)
        object.__setattr__(self, "reflectance", reflectance)
        if not self.text:
            object.__setattr__(self, "text", _css_text(rgb if xyz is None else xyz, xyz is None))

    def _values(self) -> tuple[Triple, Triple | None, tuple[float, ...] | None]:
        """Channels, XYZ and reflectance, checked and brought together."""
        given = None if isinstance(self.rgb, tuple) and not self.rgb else _as_rgb(self.rgb)
        if self.reflectance is not None:
            values = _as_bands(self.reflectance)
            shown, xyz = _of_xyz(reflectance_to_xyz(values), _NOTHING)
            return _agreed(given, shown, "reflectance"), xyz, tuple(values.tolist())
        if self.xyz is not None:
            shown, xyz = _of_xyz(as_colours(self.xyz, "xyz", unit=False))
            return _agreed(given, shown, "xyz"), xyz, None
        if given is None:
            raise ArgumentError("rgb", "three numbers", words="nothing")
        # Most texts are of sRGB, and cannot be otherwise.
        if "(" in self.text and self.text.isprintable():
            try:
                read = read_css(self.text)
            except ColourError:
                return given, None, None
            return given, read.xyz if _near(given, read.rgb, 1e-9) else None, None
        return given, None, None

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
        read = read_css(value)
        return cls(name or value.strip(), read.rgb, text=value.strip(), xyz=read.xyz)

    @classmethod
    def of_lab(cls, name: str, lab: ArrayLike, *, role: str = "", note: str = "") -> NamedColour:
        """Return a colour measured as L*a*b* (3,) under D65, 2°; outside sRGB it is kept.

        >>> NamedColour.of_lab("Reef", [55, -45, -30]).shift > 1
        True
        """
        values = as_colours(lab, "lab", unit=False)
        if values.shape != (3,):
            raise ArgumentError("lab", "three numbers", words=f"shape {values.shape}")
        return cls(name, role=role, note=note, xyz=tuple(lab_to_xyz(values).tolist()))

    @classmethod
    def of_spectrum(
        cls, name: str, wavelengths: ArrayLike, values: ArrayLike, *, role: str = "", note: str = ""
    ) -> NamedColour:
        """Return a colour measured as reflectance on any even grid (:func:`to_bands`).

        >>> NamedColour.of_spectrum("Stone", range(400, 701, 20), [0.25] * 16).hex
        '#898989'
        """
        bands = to_bands(wavelengths, values)
        if bands.ndim != 1:
            raise ArgumentError("values", "of one colour", words=f"shape {bands.shape}")
        return cls(name, role=role, note=note, reflectance=tuple(bands.tolist()))

    @property
    def hex(self) -> str:
        """``#rrggbb`` of what is shown, to the nearest 8-bit step."""
        return hex_of(self.rgb)

    @property
    def lab(self) -> Triple:
        """L*a*b* (D65, 2°) of what was asked for, also where it is shown otherwise."""
        lab = srgb_to_lab(self.rgb) if self.xyz is None else xyz_to_lab(self.xyz)
        lightness, a, b = lab.tolist()
        return lightness, a, b

    @cached_property
    def shift(self) -> float:
        """ΔE00 between what was asked for and what is shown; 0 where sRGB has the colour."""
        return 0.0 if self.xyz is None else float(delta_e_2000(self.lab, srgb_to_lab(self.rgb)))

    @property
    def shift_words(self) -> str:
        """How a colour outside sRGB is shown; nothing for one inside, or by ΔE00 0.0 outside.

        >>> NamedColour.of("teal").shift_words
        ''
        """
        off = f"{self.shift:.1f}"
        return f"outside the screen's colours: shown ΔE00 {off} off" if off != "0.0" else ""

    def __str__(self) -> str:
        named = self.name if self.name.lower() == self.hex else f"{self.name} {self.hex}"
        return f"{named}, {self.shift_words}" if self.shift_words else named

    def _repr_html_(self) -> str:
        png = bands_png(
            srgb_to_bytes(self.rgb).reshape(1, 1, 3), np.zeros(36, int), np.zeros(36, int)
        )
        return figure(image(png, f"flat colour: {self}", width=36, height=36), str(self))


def moved_words(colours: Iterable[NamedColour]) -> str:
    """Say how many of these lie outside sRGB, and how far off the worst is shown.

    >>> moved_words([NamedColour.of("teal")])
    ''
    >>> moved_words(map(NamedColour.of, ["teal", "color(display-p3 0 0.6 0.5)"]))
    "1 outside the screen's colours, shown up to ΔE00 4.8 off"
    """
    shifts = [colour.shift for colour in dict.fromkeys(colours) if colour.shift_words]
    if not shifts:
        return ""
    return f"{len(shifts)} outside the screen's colours, shown up to ΔE00 {max(shifts):.1f} off"


def _as_rgb(given: object) -> Triple:
    try:
        red, green, blue = (float(channel) for channel in given)  # type: ignore[attr-defined]
    except (TypeError, ValueError):
        raise ArgumentError("rgb", "three numbers", given) from None
    if not all(0 <= channel <= 1 for channel in (red, green, blue)):
        raise ArgumentError("rgb", "in 0–1", given)
    return red, green, blue


def _as_bands(given: ArrayLike) -> Floats:
    """A reflectance as it is measured; brightened whites pass 1."""
    try:
        values = np.asarray(given, dtype=np.float64)
    except (TypeError, ValueError):
        raise ArgumentError("reflectance", "36 numbers", given) from None
    if values.shape != (36,):
        allowed = "36 values, 380 to 730 nm by 10 nm (to_bands brings other grids there)"
        raise ArgumentError("reflectance", allowed, words=f"shape {values.shape}")
    return check_reflectance(values, "reflectance")


def _of_xyz(xyz: Floats, least: float = 0.0) -> tuple[Triple, Triple | None]:
    """What shows XYZ (3,), and the XYZ where that is not the same, by ``least`` or more."""
    if xyz.shape != (3,):
        raise ArgumentError("xyz", "three numbers", words=f"shape {xyz.shape}")
    if np.abs(xyz).max() > MOST_XYZ:
        raise ArgumentError("xyz", "numbers near 0–1, white Y = 1", xyz.tolist())
    x, y, z = xyz.tolist()
    rgb = shown_rgb(xyz)
    if in_srgb(xyz) or (least and delta_e_2000(xyz_to_lab(xyz), srgb_to_lab(rgb)) < least):
        return rgb, None
    return rgb, (x, y, z)


def _near(one: Triple, two: Triple, within: float) -> bool:
    return all(abs(a - b) <= within for a, b in zip(one, two, strict=True))


def _agreed(given: Triple | None, shown: Triple, what: str) -> Triple:
    """The channels that were given, if they show what ``what`` comes to."""
    if given is None:
        return shown
    if not _near(given, shown, _AGREE):
        allowed = f"left out, or what the {what} comes to, {hex_of(shown)}"
        raise ArgumentError("rgb", allowed, words=hex_of(given))
    return given


def _css_text(values: Triple, is_srgb: bool) -> str:
    """A CSS text that reads back to the very same floats: hex where that is enough."""
    numbers = " ".join(format(value, ".17g") for value in values)
    if not is_srgb:
        return f"color(xyz-d65 {numbers})"
    short = hex_of(values)
    return short if parse_css(short) == values else f"color(srgb {numbers})"
