"""Soft proof: what a press, known by its ICC profile, makes of the tones.

Colour management is LittleCMS, through Pillow's ImageCms. Without a profile there are no
ink numbers: none are made up.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from os import PathLike
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from checkcloth.base.csv_text import csv_text
from checkcloth.base.png import rows_png
from checkcloth.cloth.colourway import Colourway
from checkcloth.colour.arrays import Floats
from checkcloth.colour.ciede2000 import delta_e_2000
from checkcloth.colour.css import hex_of
from checkcloth.colour.spaces import srgb_to_bytes, srgb_to_lab
from checkcloth.errors import ArgumentError, FileFormatError, shown
from checkcloth.output.picture import Picture
from checkcloth.output.tables import tone_kind

__all__ = ["INTENTS", "Press", "Proof", "open_press", "soft_proof"]

# The four rendering intents, by their names in ISO 15076-1 (ICC.1).
INTENTS = ("perceptual", "relative colorimetric", "saturation", "absolute colorimetric")
_MOST_BYTES = 32 << 20
_CHANNELS = {"CMYK": ("cyan %", "magenta %", "yellow %", "black %"), "RGB": ("R %", "G %", "B %")}


@dataclass(frozen=True, repr=False)
class Press:
    """A printing condition: an ICC profile, an intent, black-point compensation.

    Made by :func:`open_press`.

    Attributes
    ----------
    name : str
        As the profile describes itself.
    space : str
        ``"CMYK"`` or ``"RGB"``.
    intent : str
    black_point : bool
    profile : bytes
    """

    name: str
    space: str
    intent: str
    black_point: bool
    profile: bytes

    def __str__(self) -> str:
        bpc = "with" if self.black_point else "without"
        return f"{self.name} ({self.space}), {self.intent}, {bpc} black-point compensation"

    def __repr__(self) -> str:
        return f"<press {self}>"

    @cached_property
    def _transforms(self) -> tuple[Any, Any, Any]:
        """To what the proof shows, the same with what is out of gamut struck, to ink amounts."""
        import io

        from PIL import ImageCms

        screen = ImageCms.createProfile("sRGB")
        press = ImageCms.ImageCmsProfile(io.BytesIO(self.profile))
        intent = ImageCms.Intent(INTENTS.index(self.intent))
        bpc = ImageCms.Flags.BLACKPOINTCOMPENSATION if self.black_point else ImageCms.Flags.NONE
        proof = bpc | ImageCms.Flags.SOFTPROOFING
        # Relative on the way back: the proof is seen on a screen's own white, except where
        # the colour of the cloth or paper is asked for by the absolute intent.
        back = (
            ImageCms.Intent.ABSOLUTE_COLORIMETRIC
            if self.intent == INTENTS[3]
            else ImageCms.Intent.RELATIVE_COLORIMETRIC
        )
        made = [
            ImageCms.buildProofTransform(
                screen, screen, press, "RGB", "RGB", intent, back, flags=flags
            )
            for flags in (proof, proof | ImageCms.Flags.GAMUTCHECK)
        ]
        inks = ImageCms.buildTransform(screen, press, "RGB", self.space, intent, flags=bpc)
        return made[0], made[1], inks

    def apply(self, rgb: NDArray[np.uint8]) -> tuple[NDArray[np.uint8], NDArray[np.bool_], Floats]:
        """Send 8-bit colours (n, 3) to press.

        Returns
        -------
        proofed : uint8, (n, 3)
            How they look in print.
        outside : bool, (n,)
            Out of the press's gamut, by LittleCMS's check (farther than about ΔE 5).
        inks : float, (n, channels)
            Amounts in per cent.
        """
        from PIL import Image, ImageCms

        image = Image.fromarray(np.ascontiguousarray(rgb[None]))
        proofed, struck, inks = (
            np.asarray(ImageCms.applyTransform(image, transform))[0]
            for transform in self._transforms
        )
        outside: NDArray[np.bool_] = (proofed != struck).any(axis=-1)
        return proofed, outside, inks / 2.55


def open_press(
    path: str | PathLike[str], intent: str = "relative colorimetric", *, black_point: bool = True
) -> Press:
    """Open an ICC profile (version 2 or 4, CMYK or RGB) as a printing condition.

    Parameters
    ----------
    path : path
        At most 32 MiB. Ask the printer for the profile of the press, ink and cloth.
    intent : str
        One of ``INTENTS``.
    black_point : bool
        Black-point compensation.

    Raises
    ------
    FileFormatError
        For what is no such profile.
    ArgumentError
        For an unknown intent.
    FileNotFoundError, PermissionError
        As the system says.
    """
    import io

    from PIL import ImageCms

    if intent not in INTENTS:
        raise ArgumentError(f"intent must be one of {', '.join(INTENTS)}, found {shown(intent)}")
    file = Path(path)
    if file.is_dir():
        raise FileFormatError(f"{file.name}: must be an ICC profile, found a folder")
    with file.open("rb") as stream:
        raw = stream.read(_MOST_BYTES + 1)
    # The header of ISO 15076-1, 7.2: version at 8, colour space at 16, 'acsp' at 36.
    if len(raw) < 132 or raw[36:40] != b"acsp" or len(raw) > _MOST_BYTES:
        raise FileFormatError(
            f"{file.name}: must be an ICC profile of at most {_MOST_BYTES >> 20} MiB"
        )
    if raw[8] not in (2, 4):
        raise FileFormatError(f"{file.name}: ICC version must be 2 or 4, found {raw[8]}")
    space = raw[16:20].decode("latin-1").strip()
    if space not in _CHANNELS:
        raise FileFormatError(
            f"{file.name}: colour space must be CMYK or RGB, found {shown(space)}"
        )
    try:
        profile = ImageCms.ImageCmsProfile(io.BytesIO(raw))
        name = " ".join(ImageCms.getProfileDescription(profile).split()) or file.stem
        press = Press(name, space, intent, bool(black_point), raw)
        press._transforms  # noqa: B018 - a profile without the needed tables is found here
    except (OSError, ImageCms.PyCMSError) as error:
        raise FileFormatError(
            f"{file.name}: must be an ICC profile that colours can be sent to and seen "
            f"back from ({error})"
        ) from None
    return press


@dataclass(frozen=True, repr=False)
class Proof:
    """A colourway as a press prints it.

    Attributes
    ----------
    colourway : Colourway
    press : Press
    tones : ndarray, shape (N+1, N+1, 3)
        As they look in print, encoded sRGB, in 8-bit steps.
    shift : ndarray, shape (N+1, N+1)
        CIEDE2000 between each tone and its print; steps of 8 bits blur it by about 0.5.
    outside : ndarray of bool, shape (N+1, N+1)
        Out of the press's gamut.
    inks : ndarray, shape (N+1, N+1, channels)
        Per cent of each channel of the profile.
    """

    colourway: Colourway
    press: Press
    tones: Floats
    shift: Floats
    outside: NDArray[np.bool_]
    inks: Floats

    @property
    def named_outside(self) -> list[str]:
        """Names of the tones that the press cannot print."""
        return [self.colourway.tone_name(warp, weft) for warp, weft in np.argwhere(self.outside)]

    def __str__(self) -> str:
        count = int(self.outside.sum())
        return (
            f"{self.colourway.name or 'colourway'} on {self.press.name}: greatest shift "
            f"ΔE00 {self.shift.max():.1f}, {count} of {self.outside.size} tones out of gamut"
        )

    def __repr__(self) -> str:
        return f"<{self}>"

    def csv(self) -> str:
        """Return every tone with its print, shift and ink amounts as CSV text."""

        def rows() -> Iterator[Sequence[object]]:
            for warp, weft in np.ndindex(*self.shift.shape):
                yield (
                    tone_kind(warp, weft),
                    warp,
                    weft,
                    self.colourway.tone_name(warp, weft),
                    hex_of(self.colourway.tones[warp, weft]),
                    hex_of(self.tones[warp, weft]),
                    round(float(self.shift[warp, weft]), 2),
                    "out of gamut" if self.outside[warp, weft] else "",
                    *(round(float(ink), 1) for ink in self.inks[warp, weft]),
                )

        header = ("kind", "warp", "weft", "tone", "hex", "in print", "shift ΔE00", "gamut")
        return csv_text((*header, *_CHANNELS[self.press.space]), rows())

    def picture(self, side: int = 320) -> Picture:
        """Draw the cloth as designed, left, and as printed, right."""
        number = len(self.colourway.stripes)
        each = max(1, side // (4 * number))
        plan = np.tile(np.repeat(np.arange(2 * number), each), 2)
        stripes = np.where(plan % 2 == 0, plan // 2 + 1, 0)
        cells = [
            srgb_to_bytes(tones).swapaxes(0, 1)[:, stripes]
            for tones in (self.colourway.tones, self.tones)
        ]
        gap = np.full((number + 1, 24, 3), 255, dtype=np.uint8)
        row = np.concatenate([cells[0], gap, cells[1]], axis=1)
        starts = np.flatnonzero(np.concatenate([[True], stripes[1:] != stripes[:-1]]))
        counts = np.diff(np.append(starts, len(stripes)))
        title = f"Designed, left; proofed for {self.press}, right"
        texts = [("Title", title), ("Description", str(self))]
        png = rows_png(np.ascontiguousarray(row[stripes[starts]]), counts, texts=texts)
        return Picture(png, title, f"{title}. {self}", row.shape[1], len(stripes))

    def _repr_html_(self) -> str:
        return self.picture()._repr_html_()


def soft_proof(colourway: Colourway, press: Press) -> Proof:
    """Proof a colourway on screen for a press.

    Parameters
    ----------
    colourway : Colourway
    press : Press
        From :func:`open_press`.

    Raises
    ------
    ArgumentError
        If ``press`` is none.
    """
    if not isinstance(press, Press):
        raise ArgumentError(f"press must be a Press, from open_press, found {shown(press)}")
    tones = colourway.tones
    flat = srgb_to_bytes(tones).reshape(-1, 3)
    proofed, outside, inks = press.apply(flat)
    seen = (proofed / 255).reshape(tones.shape)
    side = tones.shape[:2]
    shift = delta_e_2000(srgb_to_lab(flat.reshape(tones.shape) / 255), srgb_to_lab(seen))
    return Proof(
        colourway, press, seen, np.asarray(shift), outside.reshape(side), inks.reshape(*side, -1)
    )
