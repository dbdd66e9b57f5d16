"""The lesson in mixing: ten steps and a task, each with colours of your own if you give them.

In a notebook a step is live, drawn and worked out on the page; saved, or on a page without
a kernel, its still picture stays as a plain image.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from checkcloth.arguments import require_type
from checkcloth.cloth.check import fusing_distance
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.length import Length
from checkcloth.cloth.mixing import MIXING_OPTIONS, MIXINGS, find_mixing
from checkcloth.cloth.named_colour import NamedColour
from checkcloth.cloth.threads import check_weave_shares
from checkcloth.errors import ArgumentError
from checkcloth.files.html import table
from checkcloth.lesson import answers
from checkcloth.lesson.answers import WAYS
from checkcloth.lesson.materials import (
    BLUE,
    BLUSH,
    DARK,
    DUCK_EGG,
    HONEY,
    ICING,
    LEMON,
    LIGHT,
    PEACH,
    PRIMROSE,
    RASPBERRY,
    RED,
    SWATCHES,
    recipe_of,
)
from checkcloth.lesson.step import ColourField, Slider, Step

__all__ = ["CLOTH", "SWATCHES", "WAYS", "all_steps"]

Shade = NamedColour | str


CLOTH = Colourway(ICING, [RED, BLUE, HONEY], 0.6, name="Tea table")

_SIZES = ("1/8 in", "1/4 in", "3/8 in", "1/2 in", "3/4 in", "1 in")


def _strength(start: float) -> Slider:
    return Slider("strength", "Strength", start, 0, 100, " %")


# Keys and labels of the colours of a step.
_WARP_AND_WEFT = {"warp": "Warp stripe", "weft": "Weft stripe", "ground": "Ground"}
_TWO_STRIPES = {"first": "Stripe 1", "second": "Stripe 2", "ground": "Ground"}


def _fields(labels: dict[str, str], *shades: Shade) -> tuple[ColourField, ...]:
    for key, shade in zip(labels, shades, strict=True):
        if isinstance(shade, Colourway):
            allowed = "a colour (distance, side_by_side and vision take a whole colourway)"
            raise ArgumentError(key, allowed, shade)
    return tuple(
        ColourField(key, label, NamedColour.of(shade))
        for (key, label), shade in zip(labels.items(), shades, strict=True)
    )


def _cloth_fields(colourway: Colourway) -> tuple[ColourField, ...]:
    require_type(colourway, "colourway", Colourway)
    if colourway.weft_stripes:
        allowed = (
            "one whose weft has the warp's colours, as the lesson draws it "
            "(colourway.with_(weft_stripes=None) is the like)"
        )
        raise ArgumentError("colourway", allowed, colourway)
    stripes = enumerate(colourway.stripes, 1)
    return (
        *(ColourField(f"stripe{n}", f"Stripe {n}", colour) for n, colour in stripes),
        ColourField("ground", "Ground", colourway.ground),
    )


def _cloth_options(colourway: Colourway) -> dict[str, Any]:
    share, n = colourway.warp_share, colourway.yule_nielsen
    return {"recipe": recipe_of(colourway.mixing, share, n), "warpShare": share, "yuleNielsen": n}


def crossing(warp: Shade = PEACH, weft: Shade = DUCK_EGG, ground: Shade = ICING) -> Step:
    """What a crossing is made of."""
    fields = _fields(_WARP_AND_WEFT, warp, weft, ground)
    return Step("crossing", fields, (_strength(30),), answers.equal_shares)


def kinds(warp: Shade = LEMON, weft: Shade = BLUE, ground: Shade = ICING) -> Step:
    """Opacity on a screen, light, filters, threads, pigment."""
    fields = _fields(_WARP_AND_WEFT, warp, weft, ground)
    over, under, base = (each.colour for each in fields)
    return Step("kinds", fields, (_strength(30),), lambda: answers.greenest(over, under, base, 0.8))


def greys(dark: Shade = DARK, light: Shade = LIGHT) -> Step:
    """The same two greys, added four ways."""
    fields = _fields({"dark": "Dark half", "light": "Light half"}, dark, light)
    slider = Slider("n", "Yule–Nielsen n", 1.5, 1, 10, step=0.1)
    one, two = (each.colour for each in fields)
    return Step("greys", fields, (slider,), lambda: answers.n_of_pigment(one, two))


def order(first: Shade = RED, second: Shade = BLUE, ground: Shade = ICING) -> Step:
    """Why red over blue is not blue over red when laid over, and is when woven."""
    fields = _fields(_TWO_STRIPES, first, second, ground)
    one, two, base = (each.colour for each in fields)
    return Step("order", fields, (_strength(20),), lambda: answers.order_shows(one, two, base))


def depth(stripe: Shade = DUCK_EGG, ground: Shade = ICING) -> Step:
    """Why a self-crossing at 50 % stops at 75 % of full depth."""
    fields = _fields({"stripe": "Stripe", "ground": "Ground"}, stripe, ground)
    return Step("depth", fields, (_strength(50),), answers.depth_for)


def pastel(pale: Shade = BLUSH, deep: Shade = RASPBERRY, ground: Shade = ICING) -> Step:
    """What strength does to a pastel."""
    labels = {"pale": "Pastel", "deep": "Deep", "ground": "Ground"}
    fields = _fields(labels, pale, deep, ground)
    light, dark, base = (each.colour for each in fields)
    return Step("pastel", fields, (_strength(30),), lambda: answers.pastel_needs(light, dark, base))


def threads(warp: Shade = RED, weft: Shade = BLUE, ground: Shade = ICING) -> Step:
    """What odd thread counts do to a check."""
    fields = _fields(_WARP_AND_WEFT, warp, weft, ground)
    slider = Slider("ends", "Ends in a band", 4, 1, 12)
    return Step("threads", fields, (slider,), answers.balanced_enough)


def distance(colourway: Colourway = CLOTH, size: Length | str = "1/4 in") -> Step:
    """What colour the cloth has from across the street, and how far away that is."""
    length = Length(size)
    sizes = sorted({Length(each) for each in _SIZES} | {length})
    labels = tuple(each.shown_in(each.unit) for each in sizes)
    sliders = (
        Slider("distance", "Distance", 10, 1, 80, " m", 0.1),
        Slider("size", "Check size", sizes.index(length), 0, len(sizes) - 1, labels=labels),
    )
    options = _cloth_options(colourway) | {
        "mm": [each.mm for each in sizes],
        **{"size": sizes.index(length), "strength": colourway.strength},
        "size_words": length.shown_in(length.unit),
    }
    return Step(
        "distance", _cloth_fields(colourway), sliders, lambda: answers.fuses_beyond(length), options
    )


def side_by_side(colourway: Colourway = CLOTH) -> Step:
    """The same colourway under every mixing."""
    return Step(
        "side_by_side", _cloth_fields(colourway), (_strength(40),),
        lambda: answers.changes_most(colourway.with_(strength=0.6)), _cloth_options(colourway),
    )  # fmt: skip


def vision(colourway: Colourway = CLOTH) -> Step:
    """The cloth as people with protan, deutan and tritan vision see it, and in grey."""
    sliders = (
        _strength(round(colourway.strength * 100)),
        Slider("severity", "Severity", 100, 0, 100, " %"),
    )
    return Step(
        "vision", _cloth_fields(colourway), sliders, lambda: answers.seen_by_all(colourway),
        _cloth_options(colourway),
    )  # fmt: skip


def task(first: Shade = PEACH, second: Shade = PRIMROSE, ground: Shade = ICING) -> Step:
    """Design a cloth that is told apart on the menus and light from across the street."""
    fields = _fields(_TWO_STRIPES, first, second, ground)
    wishes = {"apart": answers.STRIPES_APART, "light": answers.LIGHT_FROM_AFAR}
    return Step("task", fields, (_strength(50),), answers.one_that_meets, wishes)


def all_steps(colourway: Colourway = CLOTH, size: Length | str = "1/4 in") -> tuple[Step, ...]:
    """Return the ten steps and the last task; steps 8 to 10 show the colourway."""
    return (
        *(crossing(), kinds(), greys(), order(), depth(), pastel(), threads()),
        *(distance(colourway, size), side_by_side(colourway), vision(colourway), task()),
    )


# Small tables: what the words mean, and figures to look up.

_WORDS = (
    ("warp, weft", "threads or stripes that run up the cloth, and across it"),
    ("ground", "the colour under and between the stripes"),
    ("single", "a stripe over the ground"),
    ("crossing", "a warp stripe over a weft stripe"),
    ("strength", "how much of what lies under a stripe it covers, 0 to 100 %"),
    ("a*", "how green or red a colour is: below 0 green, above 0 red (CIE L*a*b*)"),
    (
        "ΔE00",
        "how different two colours look (CIEDE2000): about 1 can just be seen, 10 is plain "
        "(common practice)",
    ),
)


@dataclass(frozen=True, repr=False)
class Listing:
    """A table that prints as lines, in columns under headings, and shows itself as a table."""

    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    right: tuple[int, ...] = ()  #: columns of figures

    def __str__(self) -> str:
        rows = (self.heads, *self.rows)
        widths = [max(map(len, column)) for column in zip(*rows, strict=True)]

        def cell(text: str, column: int) -> str:
            width = widths[column]
            return text.rjust(width) if column in self.right else text.ljust(width)

        lines = ("  ".join(cell(text, n) for n, text in enumerate(row)) for row in rows)
        return "\n".join(line.rstrip() for line in lines)

    def __repr__(self) -> str:
        return f"<table of {len(self.rows)} rows: {', '.join(self.heads)}>"

    def _repr_html_(self) -> str:
        return table((), self.heads, self.rows, right=self.right)


def words() -> Listing:
    """Return the words of the lesson, each with its meaning."""
    return Listing(("word", "what it means"), _WORDS)


def meanings() -> Listing:
    """Return the mixings and their options, each with what it stands for."""
    named = [(find_mixing(name).label, find_mixing(name).meaning) for name in MIXINGS]
    return Listing(("mixing or option", "what it stands for"), (*named, *MIXING_OPTIONS.items()))


def thread_shares(most: int = 6) -> Listing:
    """Return the warp's share of crossings and singles by thread count, exactly and in per cent."""

    def shown(share: Any) -> tuple[str, str]:
        return str(share), f"{float(share) * 100:.2f} %"

    rows = []
    for ends in range(1, most + 1):
        shares = check_weave_shares(ends)
        rows.append((str(ends), *shown(shares.crossing), *shown(shares.single)))
    heads = ("ends in a band", "warp in a crossing", "in per cent", "in a single", "in per cent")
    return Listing(heads, tuple(rows), (0, 1, 2, 3, 4))


def fusing(
    sizes: Iterable[Length | str] = ("2 mm", "1/8 in", "5 mm", "1 cm", "1 in"),
) -> Listing:
    """Return from how far checks of some sizes fuse into one colour (a rule of thumb)."""
    rows = [
        (str(Length(size)), f"{fusing_distance(size).mm / 1000:.1f} m")
        for size in sizes
    ]  # fmt: skip
    return Listing(("check size", "fuses beyond"), tuple(rows), (1,))
