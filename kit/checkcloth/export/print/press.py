"""A press as its ICC profile describes it: colours sent there, and seen back from there.

Colour management is LittleCMS, through Pillow's ImageCms. Without a profile there are no
ink numbers: none are made up.
"""

from __future__ import annotations

import io
from dataclasses import dataclass
from functools import cached_property
from os import PathLike
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from checkcloth.arguments import Floats, as_path, require_one_of
from checkcloth.errors import FileFormatError

# The four rendering intents, by their names in ISO 15076-1 (ICC.1).
INTENTS = ("perceptual", "relative colorimetric", "saturation", "absolute colorimetric")
_ABSOLUTE = INTENTS[3]
_MOST_BYTES = 32 << 20
CHANNELS = {"CMYK": ("cyan %", "magenta %", "yellow %", "black %"), "RGB": ("R %", "G %", "B %")}


@dataclass(frozen=True, repr=False)
class Press:
    """A printing condition: an ICC profile, an intent, black-point compensation.

    Made by :func:`open_press`.
    """

    name: str  #: as the profile describes itself
    space: str  #: ``"CMYK"`` or ``"RGB"``
    intent: str
    black_point: bool  #: never with the absolute intent, which keeps black as it is
    profile: bytes

    def __str__(self) -> str:
        bpc = f", {'with' if self.black_point else 'without'} black-point compensation"
        return f"{self.name} ({self.space}), {self.intent}{'' if self.intent == _ABSOLUTE else bpc}"

    def __repr__(self) -> str:
        return f"<press {self}>"

    @cached_property
    def _transforms(self) -> tuple[Any, Any, Any]:
        """To what the proof shows, the same with what is out of gamut struck, to ink amounts."""
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
            if self.intent == _ABSOLUTE
            else ImageCms.Intent.RELATIVE_COLORIMETRIC
        )
        made = [
            ImageCms.buildProofTransform(
                screen, screen, press, "RGB", "RGB", intent, back, flags=flags
            )
            for flags in (proof, proof | ImageCms.Flags.GAMUTCHECK)
        ]
        inks = ImageCms.buildTransform(screen, press, "RGB", self.space, intent, flags=bpc)
        # Pillow would write the press's profile anew and hang it on the picture of ink amounts.
        # LittleCMS reads profiles that it cannot write: a version 4 profile whose lut16Type
        # tables have a matrix. The picture is dropped, so any profile may hang on it.
        inks.output_profile = ImageCms.ImageCmsProfile(screen)
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
        proofed, struck = (
            np.asarray(ImageCms.applyTransform(image, transform))[0]
            for transform in self._transforms[:2]
        )
        outside: NDArray[np.bool_] = (proofed != struck).any(axis=-1)
        return proofed, outside, self.inks_of(rgb) / 2.55

    def inks_of(self, rgb: NDArray[np.uint8]) -> NDArray[np.uint8]:
        """Return the amounts (n, channels) of 8-bit colours (n, 3), 255 in full."""
        from PIL import Image, ImageCms

        image = Image.fromarray(np.ascontiguousarray(rgb[None]))
        inks: NDArray[np.uint8] = np.asarray(
            ImageCms.applyTransform(image, self._transforms[2]), dtype=np.uint8
        )[0]
        return inks


def open_press(
    path: str | PathLike[str] | bytes,
    intent: str = "relative colorimetric",
    *,
    black_point: bool = True,
) -> Press:
    """Open an ICC profile (version 2 or 4, CMYK or RGB) as a printing condition.

    Parameters
    ----------
    path : path or bytes
        The file, or what stands in it; at most 32 MiB.
        Ask the printer for the profile of the press, ink and cloth.
    intent : str
        One of ``INTENTS``.
    black_point : bool
        Black-point compensation (ISO 18619), which the absolute intent does not have.

    Raises
    ------
    FileFormatError
        For what is no such profile.
    ArgumentError
        For an unknown intent.
    FileNotFoundError, PermissionError
        As the system says.
    """
    from PIL import ImageCms

    require_one_of(intent, "intent", INTENTS)
    file, raw = (Path("profile"), path) if isinstance(path, bytes) else _read(as_path(path))
    # The header of ISO 15076-1, 7.2: version at 8, colour space at 16, 'acsp' at 36.
    source = file.name
    if len(raw) < 132 or raw[36:40] != b"acsp" or len(raw) > _MOST_BYTES:
        allowed = f"an ICC profile of at most {_MOST_BYTES >> 20} MiB"
        raise FileFormatError("press", allowed, raw[:60], source=source)
    if raw[8] not in (2, 4):
        raise FileFormatError("ICC version", "2 or 4", raw[8], source=source)
    space = raw[16:20].decode("latin-1").strip()
    if space not in CHANNELS:
        raise FileFormatError("colour space", "CMYK or RGB", space, source=source)
    try:
        profile = ImageCms.ImageCmsProfile(io.BytesIO(raw))
        name = " ".join(ImageCms.getProfileDescription(profile).split()) or file.stem
        press = Press(name, space, intent, bool(black_point) and intent != _ABSOLUTE, raw)
        press._transforms  # noqa: B018 - a profile without the needed tables is found here
    except (OSError, ImageCms.PyCMSError) as error:
        allowed = "an ICC profile that colours can be sent to and seen back from"
        raise FileFormatError("press", allowed, words=str(error), source=source) from None
    return press


def _read(file: Path) -> tuple[Path, bytes]:
    if file.is_dir():
        raise FileFormatError("press", "an ICC profile", words="a folder", source=file.name)
    with file.open("rb") as stream:
        return file, stream.read(_MOST_BYTES + 1)
