"""checkcloth: multi-colour gingham colourways, from a palette to files for print and mill.

The names here are the stable surface. Importing is light: pictures, PDF and widgets load
when they are first asked for.

>>> from checkcloth import Check, Colourway
>>> print(Check("0.5 in", 3).repeat)
3 in (76.2 mm)
"""

from __future__ import annotations

from checkcloth.cloth.check import Check
from checkcloth.cloth.chosen import Chosen, ChosenSet
from checkcloth.cloth.colour_order import cloth_of_order, colour_order
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.length import Length
from checkcloth.cloth.mixing import MIXINGS, mix_tones
from checkcloth.cloth.named_colour import NamedColour
from checkcloth.cloth.palette import Palette, palettes, read_palette, write_palette
from checkcloth.colour.ciede2000 import delta_e_2000
from checkcloth.colour.difference import (
    contrast_ratio,
    delta_e_cmc,
    delta_e_hyab,
    delta_e_ok,
)
from checkcloth.colour.ink import Stock
from checkcloth.colour.inked import Inked
from checkcloth.colour.print_condition import PrintCondition
from checkcloth.colour.spaces import srgb_to_lab
from checkcloth.colour.vision import VISIONS, see_as
from checkcloth.errors import CheckclothError
from checkcloth.export.data.answers import match_answers, read_answers
from checkcloth.export.data.saved import open_set, save_set
from checkcloth.export.hand_off.hand_off import HandOff, hand_off
from checkcloth.export.hand_off.manifest import verify
from checkcloth.export.page.range_page import range_page
from checkcloth.export.paper.client_sheet import client_sheet
from checkcloth.export.picture.gamp import colour_gamp
from checkcloth.export.picture.raster import tile_pixels, tile_png
from checkcloth.export.picture.sheet import contact_sheet
from checkcloth.export.picture.vector import tile_svg
from checkcloth.ideas.variants import (
    draw_colourways,
    each_ground,
    each_order,
    each_strength,
    each_weft,
    order_count,
    stripe_orders,
)
from checkcloth.scoring.contrast import Score, score, score_tones
from checkcloth.version import VERSION

__version__ = VERSION

__all__ = [
    "MIXINGS",
    "VISIONS",
    "Check",
    "CheckclothError",
    "Chosen",
    "ChosenSet",
    "Colourway",
    "HandOff",
    "Inked",
    "Length",
    "NamedColour",
    "Palette",
    "PrintCondition",
    "Score",
    "Stock",
    "client_sheet",
    "cloth_of_order",
    "colour_gamp",
    "colour_order",
    "contact_sheet",
    "contrast_ratio",
    "delta_e_2000",
    "delta_e_cmc",
    "delta_e_hyab",
    "delta_e_ok",
    "draw_colourways",
    "each_ground",
    "each_order",
    "each_strength",
    "each_weft",
    "hand_off",
    "match_answers",
    "mix_tones",
    "open_set",
    "order_count",
    "palettes",
    "range_page",
    "read_answers",
    "read_palette",
    "save_set",
    "score",
    "score_tones",
    "see_as",
    "srgb_to_lab",
    "stripe_orders",
    "tile_pixels",
    "tile_png",
    "tile_svg",
    "verify",
    "write_palette",
]
