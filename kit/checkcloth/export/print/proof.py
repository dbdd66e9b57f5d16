"""Soft proof: what a press makes of the tones of a colourway, on screen and in ink amounts."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from checkcloth.arguments import Floats, require_type
from checkcloth.cloth.check import Check
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.tones import swatch_plans, tone_kind
from checkcloth.colour.ciede2000 import delta_e_2000
from checkcloth.colour.css import hex_of
from checkcloth.colour.spaces import srgb_to_bytes, srgb_to_lab
from checkcloth.export.picture.picture import Picture
from checkcloth.export.print.press import CHANNELS, Press
from checkcloth.files.csv_rows import csv_text
from checkcloth.files.html import OneLine
from checkcloth.files.png import rows_png
from checkcloth.scoring.pairs import bands_of


@dataclass(frozen=True, repr=False)
class Proof(OneLine):
    """A colourway as a press prints it."""

    colourway: Colourway
    press: Press
    tones: Floats  #: (W+1, F+1, 3): as they look in print, encoded sRGB, in 8-bit steps
    shift: Floats  #: (W+1, F+1): CIEDE2000 of each tone and its print; 8 bits blur it by about 0.5
    outside: NDArray[np.bool_]  #: (W+1, F+1): out of the press's gamut
    inks: Floats  #: (W+1, F+1, channels): per cent of each channel of the profile

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
        return csv_text((*header, *CHANNELS[self.press.space]), rows())

    def picture(self, side: int = 320, *, check: Check | None = None) -> Picture:
        """Draw two repeats as designed, left, and as printed, right.

        ``check`` gives the bands; without it they are those of an even check.
        """
        warp, weft = swatch_plans(*bands_of(self.colourway, check), side)
        designed, printed = (
            srgb_to_bytes(tones[warp].swapaxes(0, 1))
            for tones in (self.colourway.tones, self.tones)
        )
        gap = np.full((len(designed), 24, 3), 255, dtype=np.uint8)
        row = np.concatenate([designed, gap, printed], axis=1)
        starts = np.flatnonzero(np.diff(weft, prepend=-1))
        counts = np.diff(starts, append=len(weft))
        title = f"Designed, left; proofed for {self.press}, right"
        texts = [("Title", title), ("Description", str(self))]
        png = rows_png(np.ascontiguousarray(row[weft[starts]]), counts, texts=texts)
        return Picture(png, title, f"{title}. {self}", row.shape[1], len(weft))

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
    require_type(press, "press", Press)
    tones = colourway.tones
    flat = srgb_to_bytes(tones).reshape(-1, 3)
    proofed, outside, inks = press.apply(flat)
    seen = (proofed / 255).reshape(tones.shape)
    side = tones.shape[:2]
    shift = delta_e_2000(srgb_to_lab(flat.reshape(tones.shape) / 255), srgb_to_lab(seen))
    return Proof(
        colourway, press, seen, np.asarray(shift), outside.reshape(side), inks.reshape(*side, -1)
    )
