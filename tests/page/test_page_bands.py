"""The page's orders of bands beside the kernel's: presets alike, and text read back exactly."""

from __future__ import annotations

import random
import runpy
from fractions import Fraction
from pathlib import Path

import pytest

from checkcloth.cloth.bands import PRESETS, Band, preset_bands, read_order
from checkcloth.export.page.tone_packing import laid as laid_of

ask_page = runpy.run_path(str(Path(__file__).with_name("page_calls.py")))["ask_page"]
ORDERS = "desk/bands/orders.js"


def sent(bands):
    """Bands as the page has them: widths as floats."""
    return [[band.stripe, float(band.checks)] for band in bands]


@pytest.mark.parametrize("kind", PRESETS)
def test_presets_are_the_kernels(kind):
    counts = range(1, 13)
    found = ask_page([[ORDERS, "presetBands", [kind, count]] for count in counts])
    assert found == [sent(preset_bands(kind, count)) for count in counts]


@pytest.mark.parametrize("seed", range(3))
def test_text_of_the_page_is_read_back_exactly(seed):
    """Hundreds of orders: widths come as floats, and their fractions are found again."""
    rng = random.Random(seed)
    every = []
    for _ in range(200):
        under = rng.choice([1, 2, 3, 4, 5, 8, 12, 64, 960])
        width = [Fraction(rng.randrange(-(-under // 8), 16 * under + 1), under) for _ in range(9)]
        bands = [Band(rng.randrange(25), each) for each in width[: rng.randrange(1, 10)]]
        every.append(tuple(bands))
    texts = ask_page([[ORDERS, "orderText", [sent(bands)]] for bands in every])
    for bands, text in zip(every, texts, strict=True):
        assert read_order(text, 24) == bands


def test_an_even_check_is_sent_as_nothing():
    assert laid_of(None) == {}
