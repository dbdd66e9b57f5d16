"""The desk's page without JupyterLab: bundle, style sheet, and a model that plays the kernel.

Run it to look at the page::

    python tests/browser/page_alone.py FOLDER

which needs ``PYTHONPATH=kit`` where the kit is not installed, and writes pictures of the page at
several widths, in light and in dark, to the folder.
"""

from __future__ import annotations

import base64
import json
import sys
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np

from checkcloth import MIXINGS, Colourway, Palette, mix_tones, read_palette, see_as
from checkcloth.cloth.mixing import find_mixing
from checkcloth.desk.forms.hand_off_order import DEFAULTS

if TYPE_CHECKING:
    from playwright.sync_api import Page, Route

CHECKOUT = Path(__file__).resolve().parents[2]
PAGE = CHECKOUT / "kit" / "checkcloth" / "page"
ADDRESS = "http://page.test/"
VISIONS = ("normal", "protan", "deutan", "tritan", "grey")
WIDTHS = (360, 640, 980, 1320)
# Every pixel of a canvas, as text that Python reads.
CANVAS_PIXELS = """canvas => {
    const {data} = canvas.getContext('2d').getImageData(0, 0, canvas.width, canvas.height);
    let text = '';
    for (let at = 0; at < data.length; at += 8192)
        text += String.fromCharCode(...data.subarray(at, at + 8192));
    const px = Number(canvas.dataset.pixels);
    return {wide: canvas.width, high: canvas.height, px, data: btoa(text)};
}"""
# What JupyterLab's dark theme says of colours, as far as the desk asks; and its rules for an
# output that would lay lists and tables otherwise (JupyterLab 4's style sheet, from memory).
_HOST = """
body { margin: 0; background: var(--jp-layout-color0, #fff); }
[data-jp-theme-light="false"] { --jp-layout-color0: #111; --jp-layout-color2: #424242;
  --jp-ui-font-color1: rgba(255, 255, 255, 0.87); }
.jp-OutputArea-output { overflow: auto; }
.jp-OutputArea-output dl, .jp-OutputArea-output dt, .jp-OutputArea-output dd { display: block; }
.jp-OutputArea-output dl { width: 100%; overflow: hidden; padding: 0; margin: 0; }
.jp-OutputArea-output dt { font-weight: bold; float: left; width: 20%; padding: 0; margin: 0; }
.jp-OutputArea-output dd { float: left; width: 80%; padding: 0; margin: 0; }
.jp-OutputArea-output p { margin: 0 0 1em; }
.jp-OutputArea-output td { padding: 0.5em; text-align: right; }
"""
FIND = {
    "goals": [
        ["clear", "The clearest of all {}"],
        ["every_eye", "Still clear to every eye"],
        ["unlike", "As unlike each other as can be"],
    ],
    "conditions": [
        ["ground_apart", "ground–single: ΔE00 at least", 100, "a stripe on the ground", 0],
        ["edge_ratio", "every edge: contrast ratio at least", 21, "any two that touch", 1],
    ],
    "visions": [["deutan", "to a deutan eye (green cones missing)"], ["grey", "in grey"]],
    "note": "0 asks nothing.",
}
# Counts timers that are about to act, as long as the page itself waits before it follows a hand;
# a clock, which sets the same timer whenever it strikes, is never done and is not counted.
TIMERS = """(() => {
    const [start, stop] = [window.setTimeout, window.clearTimeout];
    const due = new Set();
    let striking;
    window.setTimeout = (act, wait = 0, ...rest) => {
        const id = start(() => {
            due.delete(id);
            striking = wait;
            try { act(...rest); } finally { striking = undefined; }
        }, wait);
        if (wait <= 310 && wait !== striking) due.add(id);
        return id;
    };
    window.clearTimeout = id => { due.delete(id); stop(id); };
    window.underWay = () => due.size + (window.busy ?? 0) + (window.model?.waiting ?? 0)
        + document.getAnimations().filter(one => one.playState === 'running'
            && one.effect.getComputedTiming().endTime < Infinity).length;
})()"""
_STILL = """() => new Promise(done => {
    let frames = 0;
    const look = () => {
        frames = window.underWay() ? 0 : frames + 1;
        if (frames > 2) done();
        else requestAnimationFrame(look);
    };
    look();
})"""
_START = """async (data) => {
    const [{ FakeModel }, desk] = await Promise.all(
        [import('/fake_model.js'), import('/desk.js')]);
    window.model = new FakeModel(data);
    /* started */
    const el = document.querySelector('#desk');
    window.closeDesk = desk.default.render({ model: window.model, el });
}"""


@dataclass(frozen=True)
class Wall:
    """Colourways as the kernel deals them; ``traits`` go over those that are made here."""

    colourways: list[Colourway]
    kept: list[Colourway] = field(default_factory=list)
    traits: dict[str, Any] = field(default_factory=dict)

    def message(self) -> dict[str, Any]:
        """Return traits, bytes (base64) and close looks, as the page's model takes them."""
        cards = {**dict(enumerate(self.colourways, 1)), **dict(enumerate(self.kept, 1000))}
        sent = self.sent()
        return sent | {
            "details": {number: details(number, one) for number, one in cards.items()},
            "palettes": {
                name: [[one.name, one.hex, one.role, 0] for one in _palette(name)]
                for name in sent["traits"]["choices"]["palettes"]
            },
        }

    def sent(self) -> dict[str, Any]:
        """Return traits and bytes alone: what the kernel sends of a change."""
        recipes = list({recipe_list(one): None for one in self.colourways})
        numbers = [n + 1 for n in range(len(self.colourways))]
        stripes = sorted({len(one.stripes) for one in (*self.colourways, *self.kept)})
        traits = {
            **{"size": "1/2 in", "strength": 0.5, "stripes": stripes[-1], "palette": "aprons"},
            **{"ground": "", "mixing": "source-over", "stock": "", "count": 48},
            "choices": {
                "sizes": [[f"{n}/16 in", n / 16] for n in range(1, 8)]
                + [["1/2 in", 0.5]]
                + [["3/4 in", 0.75], ["1 in", 1.0]],
                "stripes": [1, 12],
                "palettes": ["anniversary", "aprons", "night-train-bedding"],
                "grounds": [["", "drawn as well"], ["Icing", "Icing"]],
                "mixings": [[name, name, f"meaning of {name}"] for name in MIXINGS],
                "counts": [24, 48, 96],
                "find": FIND,
            },
            "find": {},
            **{
                "dealt": 1,
                "stamp": 1,
                "vision": "normal",
                "light": "D65",
                "born": 0.0,
                "numbers": numbers,
            },
            "names": [_name(one) for one in self.colourways],
            **{"bands": "even", "weft": "", "weft_colours": 0, "laid": {}},
            "recipes": [list(one) for one in recipes],
            "order": list(range(len(numbers))),
            **{"hidden": [], "figures": [], "figure_words": "", "marks": {}},
            "kept": [
                {
                    **{"number": 1000 + n, "name": one.name, "title": _name(one)},
                    **{"words": "3 stripes, 50 %", "note": "", "count": len(one.stripes)},
                    **{"recipe": list(recipe_list(one)), "strength": one.strength},
                }
                for n, one in enumerate(self.kept)
            ],
            "facts": {
                **{"dealt": "drawn from aprons", "undo": "", "redo": "", "sort": "", "limits": []},
                **{"staying": [], "compared": [], "message": "", "saved": "", "retired": False},
                "offer": [],
                "left_out": [],
            },
            "columns": [["least_edge", "faintest edge"], ["lightness", "lightness"]],
            "visions": [[name, name] for name in VISIONS],
            "lights": [["D65", "daylight (D65)"], ["A", "tungsten lamps (A)"]],
            "export": dict(DEFAULTS),
            "exporting": {"running": False, "faults": {}, "made": None},
        }
        packed = {
            "counts": bytes(len(one.stripes) for one in self.colourways),
            "weft_counts": b"",
            "recipe_of": bytes(recipes.index(recipe_list(one)) for one in self.colourways),
            "strengths": np.array([one.strength for one in self.colourways], "<f4").tobytes(),
            "colours": b"".join(encoded(one) for one in self.colourways),
            "kept_colours": b"".join(encoded(one) for one in self.kept),
        }
        return {
            "traits": traits | self.traits,
            "bytes": {name: base64.b64encode(data).decode() for name, data in packed.items()},
        }


def _palette(name: str) -> Palette:
    return read_palette(CHECKOUT / "palettes" / f"{name}.csv")


def recipe_list(one: Colourway) -> tuple[str, str, str, float, float]:
    mixing = find_mixing(one.mixing)
    share = mixing.share(one.warp_share)
    return one.mixing, mixing.layout, mixing.space, share, one.yule_nielsen


def _name(one: Colourway) -> str:
    return one.name or f"{', '.join(s.name for s in one.stripes)} on {one.ground.name}"


def encoded(one: Colourway) -> bytes:
    rgb = np.array([one.ground.rgb, *(stripe.rgb for stripe in one.stripes)])
    return find_mixing(one.mixing).encode(rgb, one.yule_nielsen).astype("<f4").tobytes()


def tones(one: Colourway, strength: float, vision: str = "normal") -> bytes:
    """Return a colourway's 8-bit tones at a strength, as Python mixes them."""
    mixed = mix_tones(
        one.ground.rgb,
        [stripe.rgb for stripe in one.stripes],
        strength,
        one.mixing,
        warp_share=one.warp_share,
        yule_nielsen=one.yule_nielsen,
    )
    seen = mixed if vision == "normal" else see_as(mixed, vision)
    return np.rint(np.clip(seen, 0, 1) * 255).astype(np.uint8).tobytes()


def details(number: int, one: Colourway) -> dict[str, Any]:
    seen = b"".join(tones(one, 0.5, vision) for vision in VISIONS)
    said = {
        **{"number": number, "name": one.name, "title": _name(one), "note": ""},
        "kept": number if number >= 1000 else 0,
        **{"words": f"{len(one.stripes)} stripes, 50 %", "count": len(one.stripes)},
        **{
            "recipe": list(recipe_list(one)),
            "strength": one.strength,
            "own": False,
            "compared": False,
        },
        **{"ground": [one.ground.name, one.ground.hex, False]},
        "stripes": [[stripe.name, stripe.hex, False] for stripe in one.stripes],
        "remarks": [["caution", "stripes 1 and 2 are hard to tell apart"], ["fact", "a fact"]],
        "tones": [[stripe.name, stripe.hex] for stripe in one.stripes],
        "figures": [["ground and stripe", "7.3", "12.0", "4.2", "1.15:1"]],
        "yardstick": "A screen is no proof.",
        "view_words": {vision: f"as {vision}" for vision in VISIONS},
    }
    buffers = {"tones": seen, "colours": encoded(one)}
    return {"said": said, **{k: base64.b64encode(data).decode() for k, data in buffers.items()}}


def draw(count: int, stripes: int = 3, mixing: str = "source-over", seed: int = 1) -> Wall:
    """Deal colourways of a palette that ships."""
    colours = list(read_palette(CHECKOUT / "palettes" / "aprons.csv"))
    rng = np.random.default_rng(seed)
    made = []
    for _ in range(count):
        ground, *rest = (colours[k] for k in rng.permutation(len(colours))[: stripes + 1])
        made.append(Colourway(ground, rest, 0.5, mixing))
    return Wall(made, made[:2], {"mixing": mixing})


def close_page(page: Page) -> None:
    """Close a page, and forget what it kept for the next one of its kind in the same context.

    At the beginning of a page would be too soon: what a script does to storage before the page
    is there, Chromium sometimes does once more after what the page itself has kept.
    """
    from playwright.sync_api import Error

    with suppress(Error):  # closed already, or a page that may keep nothing
        page.evaluate("() => localStorage.clear()")
    page.close()


def host_page(dark: bool) -> str:
    """Return the page around a desk, as a host of notebooks lays it."""
    return (
        f"<!doctype html><html lang=en><meta name=viewport content=width=device-width>"
        f"<title>desk</title><style>{_HOST}</style>"
        '<link rel=stylesheet href="/desk.css">'
        f'<body data-jp-theme-light="{str(not dark).lower()}"><div class="jp-OutputArea-child">'
        '<div class="jp-OutputArea-output" id=desk></div></div>'
    )


def wait_until_still(page: Page) -> None:
    """Wait until nothing is about to move: no timer, no transition, no question to the kernel."""
    page.evaluate(_STILL)


def open_page(page: Page, wall: Wall, *, dark: bool = False, started: str = "") -> list[str]:
    """Show a wall on an empty page; return the list that the page's errors will be in.

    ``started`` is a script that runs once there is a model, before the desk is shown.
    """
    problems: list[str] = []
    page.on("pageerror", lambda error: problems.append(str(error)))
    page.on("console", lambda said: said.type == "error" and problems.append(said.text))
    files = {
        "desk.js": PAGE / "bundles" / "desk.js",
        "desk.css": PAGE / "bundles" / "desk.css",
        "fake_model.js": Path(__file__).with_name("fake_model.js"),
    }
    kinds = {".js": "text/javascript", ".css": "text/css"}
    body = host_page(dark)

    def serve(route: Route) -> None:
        path = files.get(route.request.url.removeprefix(ADDRESS))
        if path is None:
            route.fulfill(body=body, content_type="text/html; charset=utf-8")
        else:
            route.fulfill(
                body=path.read_bytes(), content_type=f"{kinds[path.suffix]}; charset=utf-8"
            )

    page.add_init_script(TIMERS)
    page.route("**/*", serve)
    page.goto(ADDRESS)
    page.evaluate(_START.replace("/* started */", f"({started or '() => {}'})();"), wall.message())
    page.locator(".cc-thread").first.wait_for()
    return problems


def main(folder: Path) -> None:
    """Write pictures of the page."""
    from lab_driver import CHROMIUM_FLAGS, find_chromium
    from playwright.sync_api import sync_playwright

    folder.mkdir(parents=True, exist_ok=True)
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path=find_chromium(),
            args=list(CHROMIUM_FLAGS),
            ignore_default_args=["--hide-scrollbars"],
        )
        for width in WIDTHS:
            for dark in (False, True):
                page = browser.new_page(viewport={"width": width, "height": 900})
                problems = open_page(page, draw(48), dark=dark)
                name = f"{width}-{'dark' if dark else 'light'}"
                page.wait_for_timeout(300)
                page.screenshot(path=folder / f"{name}.png")
                if width in (360, 980):
                    page.get_by_role("button", name="More settings").click()
                    page.screenshot(path=folder / f"{name}-more.png")
                    page.keyboard.press("?")
                    page.screenshot(path=folder / f"{name}-keys.png")
                    page.keyboard.press("Escape")
                    page.locator(".cc-option").first.focus()
                    page.keyboard.press("Enter")
                    page.wait_for_timeout(200)
                    page.screenshot(path=folder / f"{name}-enlarged.png")
                print(name, json.dumps(problems))
                page.close()
        browser.close()


if __name__ == "__main__":
    main(Path(sys.argv[1]))
