"""What the lesson is made of: colours to choose from, and mixings as the page takes them."""

from __future__ import annotations

from typing import Any

from checkcloth.cloth.mixing import MIXINGS, find_mixing
from checkcloth.cloth.named_colour import NamedColour
from checkcloth.colour.spaces import linear_to_srgb
from checkcloth.errors import ArgumentError


def _named(*pairs: tuple[str, str]) -> tuple[NamedColour, ...]:
    return tuple(NamedColour.of(code, name) for name, code in pairs)


# The colours to choose from; invented, as is the cloth made of them.
SWATCHES = _named(
    ("Icing", "#fdfaf5"), ("Sugared Almond", "#eda3b5"), ("Primrose Bank", "#e8c963"),
    ("Lemon Curd", "#f5d311"), ("Honey", "#e0a526"), ("Peach Skin", "#f2b084"),
    ("Brick", "#c0392b"), ("Madder", "#a8433f"), ("Cowslip Green", "#a9ca7e"),
    ("Duck Egg Shell", "#8fc7c1"), ("Sea Holly Mist", "#9eaae4"), ("Signal Blue", "#1f4fa3"),
    ("Ink Blue", "#2f4a7c"), ("Faded Violet", "#c09fd4"),
)  # fmt: skip
_BY_NAME = {colour.name: colour for colour in SWATCHES}
ICING, LEMON, PEACH = (_BY_NAME[name] for name in ("Icing", "Lemon Curd", "Peach Skin"))
RED, BLUE, HONEY = (_BY_NAME[name] for name in ("Brick", "Signal Blue", "Honey"))
DUCK_EGG, PRIMROSE = _BY_NAME["Duck Egg Shell"], _BY_NAME["Primrose Bank"]
BLUSH, RASPBERRY = _named(("Blush", "#f6cfd6"), ("Raspberry", "#b8324f"))
DARK, LIGHT = (
    NamedColour(f"{share} % grey", tuple(linear_to_srgb([share / 100] * 3).tolist()))
    for share in (10, 90)
)

# What the page can mix; both are named as in ``page/shared/mixing.js``.
_LAYOUTS, _SPACES = ("layered", "woven", "multiply"), ("as-is", "light", "absorption")


def recipe_of(name: str, warp_share: float = 0.5, yule_nielsen: float = 1.0) -> dict[str, Any]:
    """Return a mixing as the page's ``mixing.js`` takes it, with its words.

    Raises
    ------
    ArgumentError
        For a mixing that the page cannot work out by itself.
    """
    mixing = find_mixing(name)
    if mixing.layout not in _LAYOUTS or mixing.space not in _SPACES:
        can = [each for each in MIXINGS if find_mixing(each).space in _SPACES]
        raise ArgumentError("colourway", f"mixed by one of {', '.join(can)}", name)
    return {
        **{"mixing": name, "label": mixing.label, "hint": mixing.hint},
        **{"layout": mixing.layout, "decode": mixing.space},
        **{"warpShare": mixing.share(warp_share), "yuleNielsen": yule_nielsen},
    }
