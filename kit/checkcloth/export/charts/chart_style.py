"""What all charts share: a figure with its own settings, marks, and cloth as a background."""

from __future__ import annotations

import io
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from functools import wraps
from typing import TYPE_CHECKING, Any, ParamSpec, TypeVar

import numpy as np

from checkcloth.cloth.bands import band_plan, parts_of_a_check
from checkcloth.cloth.check import Check
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.mixing import find_mixing
from checkcloth.cloth.tones import lay
from checkcloth.colour.spaces import srgb_to_bytes
from checkcloth.errors import ArgumentError
from checkcloth.export.picture.picture import Picture
from checkcloth.needs import need
from checkcloth.scoring.pairs import bands_of

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure
    from numpy.typing import NDArray
    from PIL.Image import Image

# A colour with so many pixels inside is a patch, not the edge of a letter; so many are kept.
_PATCH, _MOST_PATCHES = 32, 191
_Taken = ParamSpec("_Taken")
_Made = TypeVar("_Made")
_Chart = Callable[_Taken, _Made]

# Dark and middle tones that read on white and on the grey paper of a dark page.
INK, MUTED, PALE = "#1c1c1c", "#484848", "#7d7d7d"
# Inches: 691 pixels of the page, so that letters keep their size in a narrow window.
WIDTH = 7.2
# Shape tells what colour alone would not: kinds of pairs and of tones.
MARKS = {
    "ground_single": ("s", "-", "#0072b2"),
    "single_crossing": ("D", "--", "#d55e00"),
    "single_single": ("o", "-.", "#444444"),
    "crossing_crossing": ("^", ":", "#6b6b6b"),
}

_SETTINGS: dict[Any, Any] = {
    "font.family": "DejaVu Sans",
    "font.size": 11,
    "axes.titlesize": 12,
    "axes.titlelocation": "left",
    "axes.edgecolor": PALE,
    "axes.titlepad": 8,
    "axes.labelcolor": INK,
    "axes.spines.top": False,
    "axes.spines.right": False,
    # Nothing: the page lends the paper.
    "figure.facecolor": "none",
    "axes.facecolor": "none",
    "text.color": INK,
    "xtick.color": INK,
    "ytick.color": INK,
    "legend.frameon": False,
    "figure.constrained_layout.w_pad": 0.07,
    "figure.constrained_layout.h_pad": 0.07,
    "svg.hashsalt": "checkcloth",
    # Names people type are text, never formulas.
    "text.parse_math": False,
}


@contextmanager
def drawing(height: float, width: float = WIDTH) -> Iterator[Figure]:
    """Give a figure of so many inches; settings of the caller are not touched."""
    need("matplotlib")
    import matplotlib
    from matplotlib.figure import Figure

    with matplotlib.rc_context(_SETTINGS):
        yield Figure(figsize=(width, height), layout="constrained")


@contextmanager
def drawing_on(axes: Any, count: int, name: str) -> Iterator[tuple[Axes, ...]]:
    """Give the caller's axes, checked, to be drawn on in the caller's own settings.

    Names that people type stay text, as on the figures of our own.
    """
    need("matplotlib")
    import matplotlib
    from matplotlib.axes import Axes

    several = (axes,) if isinstance(axes, Axes) else axes
    allowed = "matplotlib axes" if count == 1 else f"{count} matplotlib axes"
    if not isinstance(several, Sequence | np.ndarray) or isinstance(several, str):
        raise ArgumentError(name, allowed, axes)
    every = tuple(np.ravel(np.array(several, dtype=object)).tolist())
    if len(every) != count or not all(isinstance(each, Axes) for each in every):
        raise ArgumentError(name, allowed, words=f"{len(every)} of {type(axes).__name__}")
    with matplotlib.rc_context({"text.parse_math": False}):
        yield every


def draws_on(count: int) -> Callable[[_Chart[_Taken, _Made]], _Chart[_Taken, _Made]]:
    """Have a chart say what it takes where it is given ``axes=`` for ``ax=``, or the reverse."""
    own, other = ("ax", "axes") if count == 1 else ("axes", "ax")
    how_many = "matplotlib axes" if count == 1 else f"{count} matplotlib axes"

    def dressed(chart: _Chart[_Taken, _Made]) -> _Chart[_Taken, _Made]:
        @wraps(chart)
        def drawn(*args: _Taken.args, **named: _Taken.kwargs) -> _Made:
            if other in named:
                allowed = f"given as {own}=: {chart.__name__} draws on {how_many}"
                raise ArgumentError(other, allowed, named[other])
            return chart(*args, **named)

        return drawn

    return dressed


def key_under(axes: Axes, handles: Any = None, drop: float = -0.16) -> None:
    """Set the key of a chart under the axes that the caller gave, narrow enough for small ones."""
    key = axes.legend(
        handles=handles, loc="upper left", bbox_to_anchor=(0, drop), fontsize=8, frameon=False,
        borderaxespad=0,
    )  # fmt: skip
    for text in key.get_texts():
        text.set_text(cut(text.get_text(), 64))


def key_beside(axes: Axes, handles: Any) -> None:
    """Set a long key at the right of the axes that the caller gave."""
    axes.legend(
        handles=handles, loc="upper left", bbox_to_anchor=(1.02, 1), fontsize=8, frameon=False,
        borderaxespad=0, handlelength=1.2,
    )  # fmt: skip


def finished(figure: Figure, title: str, alt: str) -> Picture:
    """Return the figure as a picture on the page's paper, half again the page's pixels.

    It is written in 256 colours where that leaves every tone as it is: a quarter of the bytes,
    and by eye the same.
    """
    from matplotlib.backends.backend_agg import FigureCanvasAgg

    figure.set_dpi(144)
    canvas: Any = FigureCanvasAgg(figure)
    canvas.draw()
    stream = io.BytesIO()
    in_few_colours(np.asarray(canvas.buffer_rgba())).save(stream, "PNG", compress_level=6)
    across, down = figure.get_size_inches()
    return Picture(stream.getvalue(), title, alt, round(across * 96), round(down * 96), paper=True)


def in_few_colours(pixels: NDArray[np.uint8]) -> Image:
    """Return RGBA pixels as an image, in 256 colours where its patches need no more.

    Colours of patches stay exactly; those of the edges of letters and marks are brought together.
    """
    from PIL import Image

    whole = np.ascontiguousarray(pixels).view(np.uint32)[..., 0]
    goes_on = np.zeros(whole.shape, dtype=bool)
    corner, left, above = whole[1:, 1:], whole[1:, :-1], whole[:-1, 1:]
    goes_on[1:, 1:] = (corner == left) & (corner == above)
    drawn = whole != whole[0, 0]
    seen = whole[drawn]
    colours, number = np.unique(seen, return_inverse=True)
    sizes = np.bincount(number, weights=goes_on[drawn], minlength=len(colours))
    if np.count_nonzero(sizes >= _PATCH) > _MOST_PATCHES:
        return Image.fromarray(pixels)
    patch = np.zeros(len(colours), dtype=bool)
    patch[np.argsort(-sizes, kind="stable")[:_MOST_PATCHES]] = True
    patch &= sizes > 8
    exact = np.concatenate([whole[:1, 0], colours[patch]])
    indices = np.zeros(whole.shape, dtype=np.uint8)
    indices[drawn] = np.cumsum(patch)[number]
    palette = exact.tobytes()
    edges = drawn.copy()
    edges[drawn] = ~patch[number]
    if edges.any():
        strip = Image.fromarray(whole[edges].view(np.uint8).reshape(1, -1, 4))
        free = 256 - len(exact)
        fewer = strip.quantize(free, Image.Quantize.FASTOCTREE, dither=Image.Dither.NONE)
        indices[edges] = len(exact) + np.asarray(fewer)[0]
        palette += bytes(fewer.getpalette("RGBA") or ())
    indexed = Image.fromarray(indices, "P")
    indexed.putpalette(palette, "RGBA")
    return indexed


def cut(name: str, longest: int = 26) -> str:
    """Shorten a name for an axis; the table beside a chart has it whole."""
    return name if len(name) <= longest else name[: longest - 1] + "…"


def estimate_note(colourway: Colourway) -> str:
    """Say so where the tones are an estimate."""
    return " Estimated tones." if find_mixing(colourway.mixing).estimate else ""


def show_cloth(
    axes: Axes, colourway: Colourway, repeats: int = 1, check: Check | None = None
) -> None:
    """Draw cloth in axes, square and without ticks."""
    ways = bands_of(colourway, check)
    parts = parts_of_a_check(*ways)
    warp, weft = (np.tile(band_plan(bands, parts), repeats) for bands in ways)
    axes.imshow(lay(srgb_to_bytes(colourway.tones), warp, weft), interpolation="nearest")
    axes.set_xticks([])
    axes.set_yticks([])
    without_frame(axes)


def without_frame(axes: Axes) -> None:
    """Take all four spines away."""
    for spine in axes.spines.values():
        spine.set_visible(False)
