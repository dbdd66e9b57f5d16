"""The page's own mixing agrees with Python's, which is the authority.

Colours are encoded in Python, as the kernel sends them, and mixed in Node and in Chromium; the
colour spaces are also held to coloraide.
"""

from __future__ import annotations

import base64
import itertools
import json
import os
import re
import runpy
import shutil
import subprocess
from collections.abc import Iterator
from pathlib import Path
from typing import Any, NoReturn

import numpy as np
import pytest
from coloraide import Color
from lab_driver import CHROMIUM_FLAGS, HOW_TO_GET_CHROMIUM, find_chromium

from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.mixing import MIXINGS, SPACES, find_mixing, mix_tones
from checkcloth.cloth.named_colour import NamedColour
from checkcloth.cloth.tones import tones_of
from checkcloth.colour.ink import STOCKS, Stock
from checkcloth.colour.spaces import srgb_to_bytes
from checkcloth.colour.vision import VISIONS, see_as
from checkcloth.colour.wide import WIDE_SPACES, encode_wide
from checkcloth.export.page.tone_packing import pack, recipe_for

ROOT = Path(__file__).resolve().parents[2]
RUNNER = Path(__file__).with_name("mix_cases.mjs")
WRITER = runpy.run_path(str(Path(__file__).with_name("write_colour_data.py")))
HOW_TO_GET_NODE = "no node found: install Node.js 20.19 or newer (https://nodejs.org)"

ROUNDS, EACH = 17, 10  # of every mixing and number of stripes: 6 × 12 × 17 × 10 colourways
PAPERS = (*STOCKS.values(), Stock("", 0.0, 0.3, 1.0), Stock("", 0.3, 6.0, 10.0))
OPTIONS = tuple(itertools.product((0.5, 0.0, 0.3, 1.0), (1.0, 1.7, 2.0, 10.0)))


def missing(reason: str) -> NoReturn:
    """Skip for a person without the program; under CI nothing may be missing."""
    if os.environ.get("CI", "").lower() in {"1", "true", "yes"}:
        pytest.fail(f"CI must run the page's tests, but: {reason}", pytrace=False)
    pytest.skip(reason)


def pool(rng: np.random.Generator) -> np.ndarray:
    """Return encoded sRGB (1200, 3): anything, dark, nearly white, and what lies at the edges."""
    edges = np.array(list(itertools.product((0.0, 0.5, 1.0), repeat=3)))
    threads = rng.integers(0, 256, (300, 3)) / 255
    dark, pale = rng.random((150, 3)) ** 4 * 0.2, 1 - rng.random((150, 3)) * 0.02
    vivid = rng.random((200, 3))
    vivid[np.arange(200), rng.integers(0, 3, 200)] = rng.integers(0, 2, 200)
    some = [np.repeat(edges, 4, axis=0), threads, dark, pale, vivid]
    return np.concatenate([*some, rng.random((1200 - sum(map(len, some)), 3))])


def recipe_of(
    name: str, share: float = 0.5, n: float = 1.0, stock: Stock = STOCKS[""]
) -> dict[str, Any]:
    mixing = find_mixing(name)
    numbers = [stock.tone_value_increase, stock.limiting_density, stock.yule_nielsen]
    return {
        "mixing": name,
        "layout": mixing.layout,
        "decode": mixing.space,
        "warpShare": mixing.share(share),
        "yuleNielsen": n,
        **({"stock": numbers} if mixing.uses_stock and stock.named else {}),
    }


# Batches of colours outside sRGB, and of measured spectra, for every mixing and number of stripes.
WIDE_ROUNDS, WIDE_EACH = 5, 8


def wide_pool(rng: np.random.Generator) -> list[NamedColour]:
    """Return colours of Display P3, BT.2020 and measured Lab, with some of sRGB among them."""
    p3, rec2020 = rng.random((120, 3)).round(4), rng.random((120, 3)).round(4)
    lab = rng.uniform((5, -100, -100), (98, 100, 100), (120, 3)).round(2)
    texts = [f"color(display-p3 {r} {g} {b})" for r, g, b in p3.tolist()]
    texts += [f"color(rec2020 {r} {g} {b})" for r, g, b in rec2020.tolist()]
    texts += [f"lab({L} {a} {b})" for L, a, b in lab.tolist()]
    plain = [NamedColour(f"plain {i}", (*rgb,)) for i, rgb in enumerate(pool(rng)[::8].tolist())]
    return [NamedColour.of(text) for text in texts] + plain


def spectral_pool(rng: np.random.Generator) -> list[NamedColour]:
    """Return colours with reflectances: bands and edges of any place and width, dark and bright."""
    nm = np.arange(380, 731, 10)
    out = []
    for number in range(240):
        middle, wide = rng.uniform(400, 700), rng.uniform(8, 120)
        low, high = np.sort(rng.random(2))
        bell = np.exp(-(((nm - middle) / wide) ** 2))
        edge = 1 / (1 + np.exp((middle - nm) / wide * rng.choice((-4, 4))))
        values = low + (high - low) * (bell if number % 2 else edge)
        out.append(NamedColour(f"yarn {number}", reflectance=(*np.clip(values, 2e-4, 1).tolist(),)))
    return out


def wide_batches(
    rng: np.random.Generator,
) -> Iterator[tuple[dict[str, Any], bytes, bytes, np.ndarray]]:
    """Give batches of colourways whose colours are more than encoded sRGB."""
    pools = (wide_pool(rng), spectral_pool(rng))
    for number, (turn, name, stripes) in enumerate(
        itertools.product(range(WIDE_ROUNDS), MIXINGS, range(1, 9))
    ):
        for colours in pools:
            share, n = OPTIONS[rng.integers(len(OPTIONS))] if turn else OPTIONS[0]
            wefts = 0 if number % 3 else int(rng.integers(1, 5))
            vision = "normal" if turn < 2 else VISIONS[number % len(VISIONS)]
            stock = PAPERS[(turn + number) % len(PAPERS)]
            strength = rng.random(WIDE_EACH).astype("<f4")
            strength[:3] = (0, 1, 0.5)
            made = []
            for alpha in strength.tolist():
                own = [colours[i] for i in rng.integers(0, len(colours), stripes + wefts + 1)]
                weft = own[stripes + 1 :]
                made.append(
                    Colourway(
                        own[0], own[1 : stripes + 1], alpha, name, "", share, n, stock, weft or None
                    )
                )
            # Where all that was drawn lies in sRGB, the space is the mixing's own: another batch.
            kinds = [(recipe_for(one), len(one.weft_stripes)) for one in made]
            made = [one for one, kind in zip(made, kinds, strict=True) if kind == kinds[-1]]
            recipe, wefts = kinds[-1]
            packed = pack(made, wefts=True)
            what = {
                "recipe": {
                    "mixing": name,
                    "layout": recipe.layout,
                    "decode": recipe.decode,
                    "warpShare": recipe.warp_share,
                    "yuleNielsen": recipe.yule_nielsen,
                    **({"stock": list(recipe.stock)} if recipe.stock else {}),
                },
                "vision": vision,
                "stripes": stripes,
                "wefts": wefts,
                "count": len(made),
            }
            alphas = np.array([one.strength for one in made], dtype="<f4")
            expected = srgb_to_bytes(see_as(tones_of(made), vision)).ravel()
            yield what, packed.colours, alphas.tobytes(), expected


def batches(rng: np.random.Generator) -> Iterator[tuple[dict[str, Any], bytes, bytes, np.ndarray]]:
    """Give batches for the page: what they are, colours, strengths, and the bytes expected."""
    colours = pool(rng)
    for number, (turn, name, stripes) in enumerate(
        itertools.product(range(ROUNDS), MIXINGS, range(1, 13))
    ):
        share, n = OPTIONS[rng.integers(len(OPTIONS))] if turn % 2 else OPTIONS[0]
        vision = "normal" if turn % 3 else VISIONS[number % len(VISIONS)]
        # Every fourth batch has colours of its own in the weft.
        wefts = 0 if number % 4 else int(rng.integers(1, 7))
        cloths = colours[rng.integers(0, len(colours), (EACH, stripes + wefts + 1))]
        strength = rng.random(EACH).astype("<f4")
        strength[:3] = (0, 1, 0.5)
        stock = PAPERS[turn % len(PAPERS)]
        mixed = mix_tones(
            cloths[:, 0], cloths[:, 1 : stripes + 1], strength, name,
            cloths[:, stripes + 1 :] if wefts else None,
            warp_share=share, yule_nielsen=n, stock=stock,
        )  # fmt: skip
        recipe = recipe_of(name, share, n, stock)
        encoded = find_mixing(name).encode(cloths, n).astype("<f4")
        what = {
            "recipe": recipe,
            "vision": vision,
            "stripes": stripes,
            "wefts": wefts,
            "count": EACH,
        }
        expected = srgb_to_bytes(see_as(mixed, vision)).ravel()
        yield what, encoded.tobytes(), strength.tobytes(), expected


class Cases:
    """Cases written to a folder for the page, and what Python says of them."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        rng = np.random.default_rng(20261127)
        every = (*batches(rng), *wide_batches(rng))
        self.batches, encoded, strengths, expected = zip(*every, strict=True)
        self.tones = np.concatenate(expected)
        self.rgb = pool(rng)[::3]
        self.oklch = np.column_stack(
            [rng.random(200), rng.random(200) * 0.4, rng.random(200) * 720 - 360]
        )
        self.functions: dict[str, list[list[Any]]] = {
            "seeAs": [[self.rgb.ravel().tolist(), vision] for vision in VISIONS],
            "encodeColour": [
                [recipe_of(name, n=n), rgb]
                for name in ("source-over", "woven", "ink")
                for n in (1, 2)
                for rgb in self.rgb.tolist()
            ]
            # The spaces without bounds take colours of sRGB too, tried beside others.
            + [
                [recipe_of(name, n=n) | {"decode": space}, rgb]
                for name, space in (("multiply", "srgb-unbounded"), ("woven", "rec2020"))
                for n in (1, 2)
                for rgb in self.rgb[::4].tolist()
            ],
            "srgbToOklch": [[rgb] for rgb in self.rgb.tolist()],
            "oklchToSrgb": [[oklch] for oklch in self.oklch.tolist()],
            "channelsOf": [[recipe_of(name)] for name in MIXINGS],
        }
        functions = [{"name": name, "calls": calls} for name, calls in self.functions.items()]
        cases = {"batches": self.batches, "functions": functions}
        (folder / "cases.json").write_text(json.dumps(cases), "utf-8")
        (folder / "colours.bin").write_bytes(b"".join(encoded))
        (folder / "strengths.bin").write_bytes(b"".join(strengths))

    def hold(self, found: np.ndarray) -> None:
        """Hold the tones found on the page to Python's."""
        assert found.shape == self.tones.shape
        off = np.abs(found.astype(int) - self.tones)
        at = 0
        for batch in self.batches:
            across = (batch["wefts"] or batch["stripes"]) + 1
            size = batch["count"] * (batch["stripes"] + 1) * across * 3
            assert off[at : at + size].max() <= 1, batch
            at += size
        print(f"{len(off) // 3} tones; bytes exact: {(off == 0).mean():.5%}")


@pytest.fixture(scope="module")
def cases(tmp_path_factory: pytest.TempPathFactory) -> Cases:
    return Cases(tmp_path_factory.mktemp("mixing"))


def run_node(*command: str) -> str:
    node = shutil.which("node")
    if node is None:
        missing(HOW_TO_GET_NODE)
    done = subprocess.run([node, *command], capture_output=True, encoding="utf-8", check=False)
    assert done.returncode == 0, done.stderr
    return done.stdout


@pytest.fixture(scope="module")
def answers(cases: Cases) -> dict[str, Any]:
    """Return what Node answered: the calls by name, and ``tones``."""
    run_node(str(RUNNER), str(cases.folder))
    given = json.loads((cases.folder / "answers.json").read_text("utf-8"))
    tones = np.fromfile(cases.folder / "tones.bin", np.uint8)
    return dict(zip(cases.functions, given, strict=True)) | {"tones": tones}


def test_ten_thousand_colourways_are_mixed_as_in_python(cases, answers):
    assert sum(batch["count"] for batch in cases.batches) >= 10_000
    cases.hold(answers["tones"])


def test_every_space_without_bounds_is_among_the_cases(cases):
    wide = {batch["recipe"]["decode"]: 0 for batch in cases.batches}
    for batch in cases.batches:
        wide[batch["recipe"]["decode"]] += batch["count"]
    assert set(wide) == {*SPACES, *WIDE_SPACES}
    assert all(wide[space] > 100 for space in WIDE_SPACES), wide


def test_colours_are_seen_as_in_python(cases, answers):
    for vision, seen in zip(VISIONS, answers["seeAs"], strict=True):
        expected = see_as(cases.rgb, vision).ravel()
        np.testing.assert_allclose(seen, expected, atol=1e-9, err_msg=vision)


def test_colours_are_encoded_as_in_python(cases, answers):
    for (recipe, rgb), found in zip(
        cases.functions["encodeColour"], answers["encodeColour"], strict=True
    ):
        space, n = recipe["decode"], recipe["yuleNielsen"]
        if space in WIDE_SPACES:
            expected = encode_wide([tuple(rgb)], space, n)[0]
        else:
            expected = find_mixing(recipe["mixing"]).encode(np.array(rgb), n)
        np.testing.assert_allclose(found, expected, atol=1e-12)


def test_channels_are_those_that_python_sends(answers):
    expected = [find_mixing(name).encode(np.zeros(3), 1.0).shape[-1] for name in MIXINGS]
    assert answers["channelsOf"] == expected


def oklab(rgb: Any) -> np.ndarray:
    return np.array([Color("srgb", list(each)).convert("oklab").coords() for each in rgb])


def test_oklch_is_coloraides(cases, answers):
    lightness, chroma, hue = np.array(answers["srgbToOklch"]).T
    assert ((hue >= 0) & (hue < 360)).all()
    found = [lightness, chroma * np.cos(np.radians(hue)), chroma * np.sin(np.radians(hue))]
    np.testing.assert_allclose(np.column_stack(found), oklab(cases.rgb), atol=2e-6)


def test_oklch_comes_back_as_the_vividest_srgb_of_its_lightness_and_hue(cases, answers):
    found = np.array(answers["oklchToSrgb"])
    assert ((found >= 0) & (found <= 1)).all()
    lightness, chroma, hue = cases.oklch.T
    direction = np.column_stack([np.cos(np.radians(hue)), np.sin(np.radians(hue))])
    lab = oklab(found)
    kept = (lab[:, 1:] * direction).sum(axis=1)
    np.testing.assert_allclose(lab[:, 0], lightness, atol=1e-5)
    np.testing.assert_allclose(lab[:, 1:], kept[:, None] * direction, atol=1e-5)
    reduced = 0
    for given, chroma_kept in zip(cases.oklch.tolist(), kept.tolist(), strict=True):
        if Color("oklch", given).in_gamut("srgb", tolerance=0):
            assert chroma_kept == pytest.approx(given[1], abs=1e-6)
        else:
            more = [given[0], chroma_kept + 1e-5, given[2]]
            assert not Color("oklch", more).in_gamut("srgb", tolerance=0), given
            reduced += 1
    assert 20 < reduced < len(chroma) - 20


def test_the_committed_numbers_are_pythons():
    number = re.compile(r"-?\d+\.?\d*(?:e[+-]?\d+)?")
    committed, written = WRITER["TARGET"].read_text("utf-8"), WRITER["colour_data"]()
    how = "write it anew: PYTHONPATH=kit python -m tests.page.write_colour_data"
    assert number.sub("#", committed) == number.sub("#", written), how
    pairs = zip(number.findall(committed), number.findall(written), strict=True)
    assert all(abs(float(old) - float(new)) <= 1e-12 for old, new in pairs), how


def test_the_modules_own_tests_pass():
    run_node("--test", str(Path(__file__).with_name("mixing.test.js")))


@pytest.mark.browser
def test_chromium_mixes_as_python_does(cases):
    chromium = find_chromium()
    if chromium is None:
        missing(HOW_TO_GET_CHROMIUM)
    try:
        from playwright.sync_api import Route, sync_playwright
    except ImportError:
        missing("Playwright is not installed: pip install -e '.[test]'")

    def answer(route: Route) -> None:
        path = route.request.url.removeprefix("http://page.test/")
        if path == "":
            route.fulfill(body="<!doctype html><title>page</title>", content_type="text/html")
        elif path.startswith("case/"):
            route.fulfill(path=cases.folder / Path(path).name)
        else:
            route.fulfill(path=ROOT / path, content_type="text/javascript")

    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=chromium, args=list(CHROMIUM_FLAGS))
        try:
            page = browser.new_page()
            page.route("http://page.test/**", answer)
            page.goto("http://page.test/")
            text = page.evaluate(
                """async () => {
                    const { runCases } = await import("/tests/page/mix_cases.mjs");
                    const load = async (name) => fetch(`/case/${name}`);
                    const floats = async (name) =>
                        new Float32Array(await (await load(name)).arrayBuffer());
                    const cases = await (await load("cases.json")).json();
                    const colours = await floats("colours.bin");
                    const { tones } = runCases(cases, colours, await floats("strengths.bin"));
                    const url = await new Promise((done) => {
                        const reader = new FileReader();
                        reader.onload = () => done(reader.result);
                        reader.readAsDataURL(new Blob([tones]));
                    });
                    return url.slice(url.indexOf(",") + 1);
                }"""
            )
        finally:
            browser.close()
    cases.hold(np.frombuffer(base64.b64decode(text), np.uint8))
