"""Nonsense for any argument of what stands at the root ends in an error of the kit, in words."""

from __future__ import annotations

import inspect
import math
from functools import partial
from pathlib import Path

import pytest

import checkcloth as kit
from checkcloth import (
    Check,
    Chosen,
    ChosenSet,
    Colourway,
    Palette,
    PrintCondition,
    read_answers,
)
from checkcloth.errors import CheckclothError

PALETTE = Palette("coast", ["white", "navy", "teal", "gold"])
CHECK, CLOTH = Check("0.5 in", 2), Colourway("white", ["navy", "teal"])
SET = ChosenSet(CHECK, [CLOTH])
CONDITION = PrintCondition((0.8, 0.85, 0.7), {"brick": (0.2, 0.1, 0.05)})
TWO = {"sample": (1, 1, 1), "standard": (0, 0, 0)}

# A call that holds, by name; every argument in turn is then replaced by each piece of nonsense.
CALLS = {
    "Check": {"size": "1 in", "stripes": 2, "warp": "2 A, 1 ground", "weft": [(1, 2), (0, 1)],
              "weft_stripes": 2},
    "Chosen": {"colourway": CLOTH, "note": "", "origin": {}},
    "ChosenSet": {"check": CHECK, "chosen": [CLOTH], "name": "set"},
    "Colourway": {"ground": "white", "stripes": ["navy"], "strength": 0.5, "mixing": "woven",
                  "name": "Quay", "warp_share": 0.5, "yule_nielsen": 2, "stock": "",
                  "weft_stripes": ["gold"]},
    "Stock": {"name": "", "tone_value_increase": 0.17, "limiting_density": 2.4,
              "yule_nielsen": 2.0},
    "PrintCondition": {"paper": (0.8, 0.85, 0.7), "solids": {"brick": (0.2, 0.1, 0.05)},
                       "overprints": {}, "ramps": {"brick": [(0.5, (0.5, 0.45, 0.3))]},
                       "ramps_over": {}, "white": "D50", "stock": "", "name": ""},
    "Inked": {"condition": CONDITION, "stripes": [{"brick": 0.6}], "ground": None,
              "weft_stripes": [{"brick": 0.2}]},
    "Length": {"text": "1 in"},
    "NamedColour": {"name": "Quay", "rgb": (0, 0, 0)},
    "Palette": {"name": "coast", "colours": ["navy"]},
    "client_sheet": {"colourways": CLOTH, "check": CHECK, "title": "", "note": "", "reference": "",
                     "date": "", "sizes": (), "paper": "A4"},
    "cloth_of_order": {"warp": "2 navy, 1 white", "weft": "1 gold, 1 white", "size": "1 in",
                       "ground": "white", "palette": PALETTE, "strength": 0.5, "mixing": "woven",
                       "name": "Quay", "warp_share": 0.5, "yule_nielsen": 2},
    "colour_order": {"colourway": CLOTH, "check": CHECK, "way": "weft"},
    "colour_gamp": {"warp": ["navy"], "weft": ["gold"], "ground": "white", "strength": 0.5,
                    "mixing": "woven", "size": "1 in", "name": "Quay"},
    "contact_sheet": {"colourways": CLOTH, "check": CHECK, "title": "", "swatch": "40 mm"},
    "draw_colourways": {"palette": PALETTE, "stripes": 2, "count": 3, "seed": 1, "ground": None,
                        "strength": 0.5, "mixing": "woven", "locked": (), "warp_share": 0.5},
    "each_ground": {"colourway": CLOTH, "grounds": ["ivory"]},
    "each_order": {"colourway": CLOTH, "limit": 3, "check": CHECK},
    "each_strength": {"colourway": CLOTH, "strengths": [0.2]},
    "each_weft": {"colourway": CLOTH, "wefts": ["gold"]},
    "hand_off": {"colourways": SET, "check": None, "folder": "out", "dpi": 100, "paper": "A4",
                 "thumbnails": None, "cloth": ("20 cm", "20 cm"), "plates": None, "picks": None,
                 "sett": "64 per in", "sizes": (), "allowances": None, "press": None,
                 "progress": None, "overwrite": True},
    "match_answers": {"answers": read_answers("Reference X\n1 Quay: yes"), "chosen": SET},
    "open_set": {"path": "set.json"},
    "order_count": {"stripes": 2, "check": CHECK},
    "range_page": {"colourways": SET, "check": None, "path": "range.html", "title": "", "note": "",
                   "reference": "", "date": "", "sizes": (), "strengths": (), "overwrite": True},
    "read_answers": {"source": "Reference X\n1 Quay: yes"},
    "read_palette": {"path": "coast.csv"},
    "save_set": {"chosen_set": SET, "path": "set.json", "overwrite": True},
    "score": {"colourways": CLOTH, "vision": "normal", "severity": 1.0},
    "score_tones": {"tones": CLOTH.tones, "vision": "normal", "severity": 1.0},
    "see_as": {"rgb": (1, 1, 1), "vision": "deutan", "severity": 0.6},
    "tile_pixels": {"colourway": CLOTH, "check": CHECK, "dpi": 100},
    "tile_png": {"colourway": CLOTH, "check": CHECK, "dpi": 100},
    "tile_svg": {"colourway": CLOTH, "check": CHECK},
    "verify": {"folder": "out"},
    "write_palette": {"palette": PALETTE, "path": "coast.csv", "overwrite": True},
}  # fmt: skip
NONSENSE = [None, 3, -1, 10**30, math.nan, math.inf, True, 1 + 2j, "", "x", "\0", b"x", [], {},
            [1], ["x"], [None], (1, 2, 3), object()]  # fmt: skip
# What these are given is checked one by one elsewhere.
ELSEWHERE = {"contrast_ratio", "delta_e_2000", "delta_e_cmc", "delta_e_hyab", "delta_e_ok",
             "mix_tones", "palettes", "srgb_to_lab", "stripe_orders"}  # fmt: skip


def test_everything_at_the_root_is_tried():
    named = {name for name in kit.__all__ if callable(getattr(kit, name))}
    kinds = {"CheckclothError", "HandOff", "Score"}  # made by the kit, not by people
    assert named - kinds - ELSEWHERE == set(CALLS)


def _call(name, arguments):
    function = getattr(kit, name)
    taken = inspect.signature(function).parameters
    by_place = [value for key, value in arguments.items() if key in taken
                and taken[key].kind is not inspect.Parameter.KEYWORD_ONLY]  # fmt: skip
    by_name = {key: value for key, value in arguments.items() if key in taken
               and taken[key].kind is inspect.Parameter.KEYWORD_ONLY}  # fmt: skip
    assert len(by_place) + len(by_name) == len(arguments), sorted(taken)
    return partial(function, *by_place, **by_name)


@pytest.fixture
def place(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    kit.write_palette(PALETTE, Path("coast.csv"))
    kit.save_set(SET, Path("set.json"))
    kit.hand_off(SET, None, "out", paper=None)


@pytest.mark.parametrize("name", CALLS)
def test_nonsense_ends_in_an_error_of_the_kit(name, place):
    good = CALLS[name]
    _call(name, good)()
    refused = []
    for argument in good:
        for value in NONSENSE:
            try:
                _call(name, good | {argument: value})()
            except CheckclothError as error:
                refused.append(str(error))
            except (FileNotFoundError, IsADirectoryError, NotADirectoryError):
                pass  # the system's own words for a path that leads nowhere
    assert len(refused) >= len(good)
    assert max(map(len, refused)) < 400


def test_a_chosen_colourway_is_one():
    with pytest.raises(CheckclothError, match="colourway must be a Colourway, found 3"):
        Chosen(3)
