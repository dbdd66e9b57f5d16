"""Draw the stand-in for a photograph that search.ipynb starts from.

    python notebooks/pictures/draw_halt.py
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
from PIL import Image

HERE = Path(__file__).parent
WIDE, HIGH = 480, 320


def halt_at_dusk() -> Image.Image:
    """A small halt at dusk: sky, moor, platform, a lamp and bunting, with a film's grain."""
    y, x = np.mgrid[0:HIGH, 0:WIDE].astype(float)
    up, along = y / HIGH, x / WIDE
    picture = np.empty((HIGH, WIDE, 3))
    # sky: from slate blue through rose to straw at the horizon
    stops = np.array([0, 0.3, 0.52])
    for channel, values in enumerate(([74, 198, 243], [92, 138, 205], [138, 140, 146])):
        picture[..., channel] = np.interp(up, stops, values)
    hill = 0.5 + 0.05 * np.sin(along * 7) + 0.03 * np.sin(along * 17 + 1)
    picture[up > hill] = (88, 74, 104)
    near = 0.6 + 0.04 * np.sin(along * 5 + 2)
    picture[up > near] = (74, 92, 62)
    platform = up > 0.78
    picture[platform] = (158, 142, 122)
    picture[(up > 0.76) & (up < 0.785)] = (232, 224, 204)
    hut = (along > 0.55) & (along < 0.85) & (up > 0.48) & (up < 0.77)
    picture[hut] = (142, 52, 46)
    roof = (up > 0.40) & (up < 0.49) & (np.abs(along - 0.70) < 0.18 * (up - 0.36) / 0.10)
    picture[roof] = (58, 56, 66)
    window = (np.abs(along - 0.70) < 0.05) & (up > 0.55) & (up < 0.67)
    picture[window] = (250, 205, 96)
    for place, colour in enumerate([(40, 120, 134), (222, 176, 62), (196, 70, 88)] * 6):
        centre = 0.04 + place * 0.028
        sag = 0.30 + 0.06 * np.sin(np.pi * place / 17)
        flag = (np.abs(along - centre) < 0.011 * (1 - (up - sag) / 0.06)) & (up > sag)
        picture[flag & (up < sag + 0.06)] = colour
    lamp = (x - 120) ** 2 + (y - 150) ** 2
    picture += 150 * np.exp(-lamp / 700)[..., None] * np.array([1, 0.85, 0.5])
    grain = np.random.default_rng(8).normal(0, 4, (HIGH, WIDE, 1))
    return Image.fromarray(np.clip(picture + grain, 0, 255).astype(np.uint8))


if __name__ == "__main__":
    halt_at_dusk().save(HERE / "halt-at-dusk.jpg", quality=88)
