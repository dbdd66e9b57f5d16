"""What the page works out without a kernel: L*a*b*, CIEDE2000, spectra, partial deficiency.

Held to the kit's Python, and where there is a published table, to that.
"""

from __future__ import annotations

import itertools
import re
import runpy
from pathlib import Path

import numpy as np
import pytest

from checkcloth.cloth.mixing import MIXINGS, find_mixing, mix_tones
from checkcloth.colour.reflectance import reflectances
from checkcloth.colour.spaces import srgb_to_lab
from checkcloth.colour.vision import VISIONS, see_as

HERE = Path(__file__).parent
ask_page = runpy.run_path(str(HERE / "page_calls.py"))["ask_page"]
WRITER = runpy.run_path(str(HERE / "write_colour_data.py"))
EDGES = np.array(list(itertools.product((0.0, 0.5, 1.0), repeat=3)))
SOME = np.concatenate([EDGES, np.random.default_rng(14).random((40, 3))])


def test_ciede2000_is_the_published_table(gold):
    """Sharma, Wu and Dalal (2005), table 1; each pair both ways."""
    rows = [[float(value) for value in row.values()] for row in gold("sharma2005")]
    calls = [["shared/difference.js", "deltaE2000", [row[:3], row[3:6]]] for row in rows]
    calls += [["shared/difference.js", "deltaE2000", [row[3:6], row[:3]]] for row in rows]
    expected = [row[6] for row in rows] * 2
    assert ask_page(calls) == pytest.approx(expected, abs=5e-5)


def test_lab_and_luminance_are_pythons():
    found = ask_page([["shared/difference.js", "srgbToLab", [rgb]] for rgb in SOME.tolist()])
    np.testing.assert_allclose(found, srgb_to_lab(SOME), atol=1e-9)
    assert ask_page([["shared/difference.js", "luminance", [[1, 1, 1]]]]) == [pytest.approx(1)]


def test_spectra_are_pythons():
    calls = [["shared/recovery.js", "reflectanceOf", [rgb]] for rgb in SOME.tolist()]
    np.testing.assert_allclose(ask_page(calls), reflectances(SOME), atol=1e-9)


def test_partial_severity_is_pythons():
    flat = SOME.ravel().tolist()
    cases = list(itertools.product(VISIONS, (0.0, 0.05, 0.37, 0.9, 0.999, 1.0)))
    found = ask_page([["shared/severity.js", "seeAtSeverity", [flat, *case]] for case in cases])
    for (vision, severity), seen in zip(cases, found, strict=True):
        # Grey has no severity: whatever is asked, it is the copy in black and white.
        expected = see_as(SOME, vision, 1.0 if vision == "grey" else severity)
        np.testing.assert_allclose(seen, expected.ravel(), atol=1e-9, err_msg=vision)


@pytest.mark.parametrize("name", MIXINGS)
def test_unrounded_tones_are_pythons(name):
    mixing = find_mixing(name)
    if mixing.layout not in {"layered", "woven", "multiply"}:
        pytest.skip("a layout that is held elsewhere")
    rng = np.random.default_rng(9)
    cloths, strengths = rng.random((20, 4, 3)), rng.random(20)
    recipe = {
        "mixing": name,
        "layout": mixing.layout,
        "decode": mixing.space,
        "warpShare": mixing.share(0.5),
        "yuleNielsen": 1,
    }
    calls = [
        ["shared/mixing.js", "tonesUnrounded", [recipe, a, mixing.encode(c, 1).ravel().tolist(), 3]]
        for c, a in zip(cloths, strengths.tolist(), strict=True)
    ]
    expected = mix_tones(cloths[:, 0], cloths[:, 1:], strengths, name)
    np.testing.assert_allclose(ask_page(calls), expected.reshape(20, -1), atol=2e-6)


def test_numbers_are_the_kits():
    committed, written = WRITER["EYE_TARGET"].read_text("utf-8"), WRITER["eye_data"]()
    number = re.compile(r"-?\d+\.\d+(?:e-?\d+)?")
    assert number.sub("", committed) == number.sub("", written)
    found, expected = ([float(n) for n in number.findall(text)] for text in (committed, written))
    assert found == pytest.approx(expected, rel=1e-12)
