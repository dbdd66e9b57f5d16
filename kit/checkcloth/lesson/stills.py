"""Still pictures of the steps, for readers without scripts: one SVG of squares and few words.

The live page draws for itself (``page/lesson``). These are for a saved notebook, for its export
and for a browser that runs no scripts; their numbers come from the kit.
"""

from __future__ import annotations

import base64
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from html import escape
from itertools import groupby
from typing import Any

import numpy as np

from checkcloth.arguments import Floats
from checkcloth.cloth.bands import even_bands
from checkcloth.cloth.check import arc_minutes, fusing_distance
from checkcloth.cloth.length import Length
from checkcloth.cloth.mixing import find_mixing, mix_tones
from checkcloth.cloth.threads import check_weave_shares, plain_weave
from checkcloth.cloth.tones import lay
from checkcloth.colour.ciede2000 import delta_e_2000
from checkcloth.colour.css import hex_of
from checkcloth.colour.spaces import linear_to_srgb, linear_to_xyz, srgb_to_lab, srgb_to_linear
from checkcloth.colour.vision import VISIONS, see_as
from checkcloth.files.html import OneLine, figure
from checkcloth.lesson.answers import WAYS
from checkcloth.scoring.cloth_scores import far_colour
from checkcloth.scoring.contrast import score_tones

_SIDE, _GAP, _LETTERS = 200, 16, 13


@dataclass(frozen=True, repr=False)
class Still(OneLine):
    """A picture in SVG with what it says."""

    svg: str
    title: str  #: what to see in it; stands under it as a caption
    alt: str  #: what it shows, for whoever cannot see it

    def __str__(self) -> str:
        return f"still picture: {self.title}"

    def image_html(self) -> str:
        """Return the picture alone, with its alternative text."""
        return self._image('style="max-width:100%;height:auto" ')

    def plain_html(self) -> str:
        """Return picture and caption without style, for a page whose policy forbids it."""
        return f"<figure>{self._image()}<figcaption>{escape(self.title)}</figcaption></figure>"

    def _image(self, style: str = "") -> str:
        data = base64.b64encode(self.svg.encode()).decode("ascii")
        return (
            f'<img alt="{escape(self.alt)}" {style}'
            f'src="data:image/svg+xml;base64,{data}">'
        )  # fmt: skip

    def _repr_html_(self) -> str:
        return figure(self.image_html(), self.title)


@dataclass(frozen=True)
class Scene:
    """What a still is drawn from."""

    rgb: Mapping[str, tuple[float, float, float]]  #: encoded sRGB by the keys of colour fields
    at: Mapping[str, float]  #: where the sliders stand
    options: Mapping[str, Any]


@dataclass(frozen=True)
class _Panel:
    """One square of a still: an image (H, W, 3) laid out as squares, and a line under it."""

    image: Floats
    caption: str


def _squares(image: Floats) -> str:
    """Draw rows of equal colour as one rectangle each run."""
    high, wide = _SIDE / image.shape[0], _SIDE / image.shape[1]
    out = []
    for y, row in enumerate(image):
        x = 0
        for code, run in groupby(map(hex_of, row)):
            count = len([*run])
            out.append(
                f'<path fill="{code}" d="M{x * wide:g} {y * high:g}'
                f'h{count * wide:g}v{high:g}h{-count * wide:g}z"/>'
            )
            x += count
    return "".join(out)


def _still(panels: list[_Panel], title: str) -> Still:
    # Two or three in a row, so that their words can still be read on a narrow page.
    across = 2 if len(panels) == 4 else min(len(panels), 3)
    width = across * (_SIDE + _GAP) - _GAP
    row = _SIDE + 2 * _LETTERS
    height = -(-len(panels) // across) * row
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}" height="{height}" '
        f'viewBox="0 0 {width} {height}" shape-rendering="crispEdges">'
        # Paper of its own, so that the words can be read on a dark page.
        f'<path fill="#fff" d="M0 0h{width}v{height}H0z"/>'
    ]
    for number, panel in enumerate(panels):
        left, top = number % across * (_SIDE + _GAP), number // across * row
        parts.append(f'<g transform="translate({left} {top})">{_squares(panel.image)}')
        parts.append(
            f'<text x="2" y="{_SIDE + 1.3 * _LETTERS}" font-family="sans-serif" '
            f'font-size="{_LETTERS}" fill="#1c1c1c">{escape(panel.caption)}</text></g>'
        )
    alt = f"{'; '.join(panel.caption for panel in panels)}. {title}"
    return Still("".join(parts) + "</svg>", title, alt)


def _cell(tones: Floats, warp: int, weft: int) -> Floats:
    """A crossing with its two stripes and the ground round it, 3 × 3 checks."""
    return lay(tones, np.array([0, warp, 0]), np.array([0, weft, 0]))


def _cloth(tones: Floats) -> Floats:
    """One repeat of an even check each way and the first stripe again."""
    plan = [band.stripe for band in even_bands(len(tones) - 1)]
    return lay(tones, np.array([*plan, plan[0]]))


def _per_cent(share: float) -> str:
    """As many decimals as it has, up to two."""
    return f"{round(share * 100, 2):g} %"


def _crossing(scene: Scene) -> Still:
    a = scene.at["strength"] / 100
    warp, weft, ground = (scene.rgb[key] for key in ("warp", "weft", "ground"))
    tones = mix_tones(ground, [warp, weft], a)
    shares = np.empty((50, 50, 3))
    shares[...] = ground
    shares[: round(50 * a), :] = weft
    shares[:, : round(50 * a)] = warp
    title = (
        f"At {_per_cent(a)} the crossing has {_per_cent(a)} warp, {_per_cent(a * (1 - a))} weft "
        f"and {_per_cent((1 - a) ** 2)} ground."
    )
    return _still([_Panel(_cell(tones, 1, 2), "the cloth"), _Panel(shares, "its crossing")], title)


def _kinds(scene: Scene) -> Still:
    a = scene.at["strength"] / 100
    pair = [scene.rgb["warp"], scene.rgb["weft"]]
    panels = []
    for name in WAYS:
        tones = mix_tones(scene.rgb["ground"], pair, a, name)
        code = hex_of(tones[1, 2])
        panels.append(_Panel(_cell(tones, 1, 2), f"{find_mixing(name).label} {code}"))
    return _still(panels, f"One crossing at {_per_cent(a)}, five ways.")


def _greys(scene: Scene) -> Still:
    n = scene.at["n"]
    dark, pale = scene.rgb["dark"], scene.rgb["light"]

    def mixed(mixing: str, n: float = 1.0) -> Floats:
        tone: Floats = mix_tones(pale, [dark], 0.5, mixing, yule_nielsen=n)[1, 0]
        return tone

    limit = np.sqrt(srgb_to_linear(dark) * srgb_to_linear(pale))
    tones = (
        ("as light", mixed("source-over-linear")),
        (f"n = {n:g}", mixed("source-over-linear", n)),
        ("n without end", linear_to_srgb(limit)),
        ("pigment (estimate)", mixed("pigment")),
    )
    panels = []
    for name, tone in tones:
        light = float(linear_to_xyz(srgb_to_linear(tone))[1])
        panels.append(_Panel(tone.reshape(1, 1, 3), f"{name}: {light * 100:.1f} %"))
    return _still(panels, "Light reflected by half dark and half light, added four ways.")


def _order(scene: Scene) -> Still:
    a = scene.at["strength"] / 100
    panels, apart = [], []
    for mixing, words in (("source-over", "laid over"), ("woven", "woven")):
        tones = mix_tones(scene.rgb["ground"], [scene.rgb["first"], scene.rgb["second"]], a, mixing)
        plan = np.array([0, 1, 0, 2, 0])
        panels.append(_Panel(lay(tones, plan), words))
        apart.append(float(delta_e_2000(srgb_to_lab(tones[1, 2]), srgb_to_lab(tones[2, 1]))))
    title = (
        f"At {_per_cent(a)} the two crossings differ by ΔE00 {apart[0]:.1f} laid over, "
        f"and by {apart[1]:.1f} woven."
    )
    return _still(panels, title)


def _depth(scene: Scene) -> Still:
    a = scene.at["strength"] / 100
    panels = []
    for mixing, words in (("source-over", "laid over"), ("woven", "woven")):
        tones = mix_tones(scene.rgb["ground"], [scene.rgb["stripe"]], a, mixing)
        panels.append(_Panel(_cell(tones, 1, 1), words))
    title = (
        f"At {_per_cent(a)}: laid over, single {_per_cent(a)} and crossing "
        f"{_per_cent(1 - (1 - a) ** 2)} stripe; woven, {_per_cent(a / 2)} and {_per_cent(a)}."
    )
    return _still(panels, title)


def _pastel(scene: Scene) -> Still:
    strengths = np.linspace(0, 1, 11)
    ground = scene.rgb["ground"]
    panels, said = [], []
    for key, words in (("pale", "pastel"), ("deep", "deep")):
        tones = mix_tones(ground, [scene.rgb[key]], strengths)[:, 1, 0]
        panels.append(_Panel(tones[None], f"{words}: 0 to 100 %"))
        single = mix_tones(ground, [scene.rgb[key]], scene.at["strength"] / 100)[1, 0]
        said.append(f"{float(delta_e_2000(srgb_to_lab(single), srgb_to_lab(ground))):.1f}")
    title = (
        f"At {_per_cent(scene.at['strength'] / 100)} the pastel stripe stands ΔE00 {said[0]} from "
        f"the ground, the deep one {said[1]}."
    )
    return _still(panels, title)


def _threads(scene: Scene) -> Still:
    ends = round(scene.at["ends"])
    ground = scene.rgb["ground"]
    up = plain_weave(3 * ends)  # the crossing, in the middle, begins alike: 2n is even
    band = np.repeat([0, 1, 0], ends)
    warp = np.array([ground, scene.rgb["warp"]])[band]
    weft = np.array([ground, scene.rgb["weft"]])[band]
    woven = np.where(up[..., None], warp[None, :], weft[:, None])
    shares = check_weave_shares(ends)
    title = (
        f"{ends} × {ends} threads: the warp has {float(shares.crossing) * 100:.2f} % of the "
        f"crossing and {float(shares.single) * 100:.2f} % of each single."
    )
    return _still([_Panel(woven, "thread by thread")], title)


def _distance(scene: Scene) -> Still:
    tones = _tones(scene, scene.options["strength"])
    size = Length.of_mm(scene.options["mm"][round(scene.at["size"])])
    minutes = arc_minutes(size, Length.of_mm(scene.at["distance"] * 1000))
    limit = fusing_distance(size).mm / 1000
    flat = far_colour(tones)
    panels = [
        _Panel(_cloth(tones), "close by"),
        _Panel(flat.reshape(1, 1, 3), f"far off: {hex_of(flat)}"),
    ]
    title = (
        f"From {scene.at['distance']:g} m a check covers {minutes:.2f} minutes of arc: "
        f"{'still seen' if minutes > 1 else 'fused'} (they fuse beyond {limit:.1f} m)."
    )
    return _still(panels, title)


def _tones(scene: Scene, strength: float, mixing: str = "") -> Floats:
    """Tones of the step's cloth: its own mixing unless another is named."""
    rgb = [colour for key, colour in scene.rgb.items() if key != "ground"]
    options = scene.options
    return mix_tones(
        scene.rgb["ground"], rgb, strength, mixing or options["recipe"]["mixing"],
        warp_share=options["warpShare"], yule_nielsen=options["yuleNielsen"],
    )  # fmt: skip


def _side_by_side(scene: Scene) -> Still:
    a = scene.at["strength"] / 100
    panels = [_Panel(_cloth(_tones(scene, a, name)), find_mixing(name).label) for name in WAYS]
    return _still(panels, f"One colourway at {_per_cent(a)}, five ways.")


def _vision(scene: Scene) -> Still:
    tones = _tones(scene, scene.at["strength"] / 100)
    panels = []
    for vision in VISIONS:
        severity = 1.0 if vision == "grey" else scene.at["severity"] / 100
        least = float(score_tones(tones, vision, severity).least_edge)
        name = "as it is" if vision == "normal" else vision
        seen = see_as(tones, vision, severity)
        panels.append(_Panel(_cloth(seen), f"{name}: ΔE00 {least:.1f}"))
    estimate = " (estimate)" if find_mixing(scene.options["recipe"]["mixing"]).estimate else ""
    return _still(panels, f"The faintest edge of this cloth{estimate}, for five ways of seeing.")


def _task(scene: Scene) -> Still:
    tones = mix_tones(
        scene.rgb["ground"], [scene.rgb["first"], scene.rgb["second"]], scene.at["strength"] / 100
    )
    apart, light = (scene.options[name] for name in ("apart", "light"))
    wanted = f"stripes {apart} apart in lightness, {light} from afar"
    return _still([_Panel(_cloth(tones), "your cloth")], f"Wanted: {wanted}.")


_DRAW: dict[str, Callable[[Scene], Still]] = {
    "crossing": _crossing, "kinds": _kinds, "greys": _greys, "order": _order, "depth": _depth,
    "pastel": _pastel, "threads": _threads, "distance": _distance,
    "side_by_side": _side_by_side, "vision": _vision, "task": _task,
}  # fmt: skip


def still_of(key: str, scene: Scene) -> Still:
    """Return the still picture of the step of that key."""
    return _DRAW[key](scene)
