"""What most people would call a colour: the names of an open survey, not a standard.

The xkcd colour survey (2010, CC0) asked volunteers to name colours on their own screens;
matplotlib carries the 949 names that were given most, each with the colour it stood for. Of
these count the names that end in one of Berlin and Kay's eleven basic words (1969, from
memory): "cloudy blue" counts for blue.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike, NDArray

from checkcloth.arguments import Floats, as_colours
from checkcloth.cloth.colourway import Colourway
from checkcloth.colour.ciede2000 import delta_e_2000
from checkcloth.colour.spaces import srgb_to_lab

SURVEY = "names of an open survey (xkcd, 2010), not a standard"
BASIC = (
    "black", "white", "grey", "red", "green", "yellow", "blue", "brown", "purple", "pink", "orange",
)  # fmt: skip

_COUNTS = {2: "two", 3: "three", 4: "four", 5: "five", 6: "six"}
# The nearest names that are asked, and how many of them must agree: choices of ours.
_ASKED = 15
_AGREE = 0.6


@lru_cache(maxsize=1)
def _survey() -> tuple[Floats, NDArray[np.intp]]:
    """Lab (K, 3) of the names that end in a basic word, and which word (K,)."""
    from matplotlib.colors import XKCD_COLORS, to_rgb

    labs, words = [], []
    for name, code in XKCD_COLORS.items():
        word = name.removeprefix("xkcd:").split()[-1].replace("gray", "grey")
        if word in BASIC:
            labs.append(to_rgb(code))
            words.append(BASIC.index(word))
    return srgb_to_lab(np.array(labs)), np.array(words, dtype=np.intp)


def survey_names(rgb: ArrayLike) -> list[str]:
    """Return the basic word for each colour (..., 3), flat; empty where people would differ.

    Colours are encoded sRGB in 0–1.

    >>> survey_names([[0, 0, 1], [0.1, 0.2, 0.5], [0.1, 0.5, 0.5]])
    ['blue', 'blue', '']
    """
    labs, words = _survey()
    out = []
    for lab in srgb_to_lab(as_colours(rgb, "rgb")).reshape(-1, 3):
        nearest = np.argsort(delta_e_2000(lab, labs), kind="stable")[:_ASKED]
        counts = np.bincount(words[nearest], minlength=len(BASIC))
        agreed = counts.max() >= _AGREE * _ASKED
        out.append(BASIC[int(counts.argmax())] if agreed else "")
    return out


def shared_names(colourway: Colourway) -> list[str]:
    """Say which stripes of a side have one name for most people, a sentence for each name.

    >>> shared_names(Colourway("white", ["navy", "royalblue", "gold", "mediumblue"]))
    ['stripes 1, 2 and 4 (navy, royalblue, mediumblue) read as three blues']
    """
    said = []
    for side, stripes in (("", colourway.stripes), ("weft ", colourway.weft_stripes)):
        names = survey_names([stripe.rgb for stripe in stripes]) if stripes else []
        for name in dict.fromkeys(filter(None, names)):
            mine = [number for number, own in enumerate(names) if own == name]
            if len(mine) > 1:
                *first, last = (str(number + 1) for number in mine)
                whose = ", ".join(stripes[number].name for number in mine)
                count = _COUNTS.get(len(mine), str(len(mine)))
                said.append(
                    f"{side}stripes {', '.join(first)} and {last} ({whose}) read as {count} {name}s"
                )
    return said
