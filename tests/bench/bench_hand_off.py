"""A hand-off of 100 six-stripe colourways at 6 in and 300 dpi, against the plain way.

Run from the project folder: ``python tests/bench/bench_hand_off.py``. Like with like: the
plain way makes the same pictures and the same pages. Tiles, thumbnails and the contact
sheet are saved as RGB by Pillow; each page of the specification is a matplotlib figure
with the very same words, lines and swatches, and the cloth at 300 dpi. It draws a page in
over a second, so it is given fewer colourways and its time and bytes are scaled up. Tables,
tokens, CSS, the set and the manifest are text that any way must write: they are listed,
and left out of both. Then a piece of cloth 150 cm by 10 m at 300 dpi, with its memory.
"""

from __future__ import annotations

import io
import subprocess
import sys
import tempfile
import time
from collections import Counter
from pathlib import Path
from typing import ClassVar

import numpy as np
from matplotlib.backends.backend_pdf import PdfPages
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.patches import Rectangle
from PIL import Image

from checkcloth import Check, draw_colourways, read_palette, tile_pixels
from checkcloth.export.hand_off.hand_off import hand_off
from checkcloth.export.paper import page as pdf_page
from checkcloth.export.paper import specification
from checkcloth.export.picture.piece import Piece, save_cloth, thumbnail_png

COUNT, PLAIN = 100, 20
PAPER = (210.0, 297.0)


class Recorder(pdf_page.Page):
    """A page that draws as ever, and notes what it was asked for."""

    pages: ClassVar[list[list[tuple]]] = []

    def __init__(self, canvas, paper):
        super().__init__(canvas, paper)
        self.pages.append([])

    def text(self, x, y, text, size=7, *, bold=False, grey=pdf_page.INK, room=None, align="left",
             kind="P"):  # fmt: skip
        said = text if room is None else self.fitted(text, size, room, bold=bold)
        self.pages[-1].append(("text", x, y, said, size, bold, grey, align))
        super().text(x, y, text, size, bold=bold, grey=grey, room=room, align=align, kind=kind)

    def stamp(self, name, x, y, draw, *, kind="P", alt=""):
        draw(x, y)  # the plain way has no stamps

    def lines(self, lines, *, grey=pdf_page.HAIR, wide=0.15):
        self.pages[-1] += [("line", *line, grey, wide) for line in lines]

    def box(self, x, y, wide, high, rgb):
        self.pages[-1].append(("box", x, y, wide, high, tuple(np.round(np.array(rgb) * 255) / 255)))


def recorded(colourways, check) -> list[list[tuple]]:
    """What stands on every page."""
    before = specification.Page
    specification.Page = Recorder
    try:
        specification.write_spec_sheet(io.BytesIO(), colourways, check)
    finally:
        specification.Page = before
    return Recorder.pages


def page_figure(page, pixels) -> Figure:
    """The same page as a matplotlib figure."""
    wide, high = PAPER
    figure = Figure(figsize=(wide / 25.4, high / 25.4))
    axes = figure.add_axes((14 / wide, 1 - 115 / high, 84 / wide, 84 / high))
    side = round(84 / 25.4 * 300)
    axes.imshow(pixels[:side, :side], interpolation="nearest")
    axes.set_axis_off()
    sides = {"left": "left", "right": "right", "centre": "center"}
    for kind, *what in page:
        if kind == "text":
            x, y, said, size, bold, grey, align = what
            figure.text(x / wide, 1 - y / high, said, fontsize=size, color=str(grey),
                        weight="bold" if bold else "normal", ha=sides[align], va="baseline",
                        parse_math=False)  # fmt: skip
        elif kind == "line":
            x1, y1, x2, y2, grey, thick = what
            across, down = (x1 / wide, x2 / wide), (1 - y1 / high, 1 - y2 / high)
            figure.add_artist(Line2D(across, down, color=str(grey), lw=thick * 72 / 25.4))
        else:
            x, y, w, h, rgb = what
            at = x / wide, 1 - (y + h) / high
            figure.add_artist(Rectangle(at, w / wide, h / high, color=rgb, lw=0))
    return figure


def plain(colourways, check, pages, folder: Path) -> None:
    """Tiles and thumbnails as RGB by Pillow, pages by matplotlib."""
    with PdfPages(folder / "specification.pdf") as book:
        for number, (colourway, page) in enumerate(zip(colourways, pages, strict=True)):
            pixels, dpi = tile_pixels(colourway, check, 300)
            Image.fromarray(pixels).save(folder / f"{number}-tile.png", dpi=(dpi, dpi))
            small = Image.open(io.BytesIO(thumbnail_png(colourway, 256))).convert("RGB")
            small.save(folder / f"{number}-thumbnail.png")
            book.savefig(page_figure(page, pixels))


KINDS = {"tile.svg": "tiles, SVG", "tile": "tiles, PNG", "thumbnail": "thumbnails",
         "contact-sheet": "contact sheet", "specification": "pages, PDF"}  # fmt: skip


def sizes_of(folder: Path) -> Counter[str]:
    """Bytes of all files, by kind."""
    out: Counter[str] = Counter()
    for path in folder.rglob("*"):
        if path.is_file():
            kind = next((name for part, name in KINDS.items() if part in path.name), "text")
            out[kind] += path.stat().st_size
    return out


def peak() -> float:
    """The most memory this process has held, in MB."""
    # Not getrusage: a child process is told its parent's peak.
    status = Path("/proc/self/status").read_text()
    return int(status.split("VmHWM:")[1].split()[0]) / 1024


def work():
    """The check and the colourways of the bench."""
    palette = read_palette("palettes/tea-table.csv")
    drawn = draw_colourways(palette, 6, 400)
    named = [one.with_(name=f"Tea {number}") for number, one in enumerate(drawn, start=1)]
    return Check("0.5 in", 6), named


def peak_after(count: int) -> str:
    """Peak memory of a fresh process that hands off so many."""
    code = (
        "import sys, tempfile; sys.path.insert(0, 'tests/bench'); import bench_hand_off as b\n"
        "check, named = b.work()\n"
        "with tempfile.TemporaryDirectory() as parent:\n"
        f"    b.hand_off(named[:{count}], check, parent + '/out')\n"
        "print(f'{b.peak():.0f}')\n"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    return f"{done.stdout.strip()} after {count}"


def main() -> None:
    """Print the tables."""
    check, named = work()
    colourways = named[:COUNT]
    with tempfile.TemporaryDirectory() as parent:
        folder = Path(parent)
        hand_off(colourways[:2], check, folder / "warm")
        start = time.perf_counter()
        hand_off(colourways, check, folder / "ours")
        ours_time = time.perf_counter() - start
        ours = sizes_of(folder / "ours")
        files = sum(path.is_file() for path in (folder / "ours").rglob("*"))
        piece = Piece(check, "150 cm", "1000 cm", 300, cut=True)
        start = time.perf_counter()
        save_cloth(colourways[0], piece, folder / "cloth.png")
        cloth_time, cloth_peak = time.perf_counter() - start, peak()
        cloth_size = (folder / "cloth.png").stat().st_size

        pages = recorded(colourways[:PLAIN], check)
        (folder / "plain").mkdir()
        plain(colourways[:1], check, pages[:1], folder / "plain")
        start = time.perf_counter()
        plain(colourways[:PLAIN], check, pages, folder / "plain")
        plain_time = (time.perf_counter() - start) * COUNT / PLAIN
        theirs = Counter(
            {kind: size * COUNT // PLAIN for kind, size in sizes_of(folder / "plain").items()}
        )
        sheet = Image.open(folder / "ours" / "contact-sheet.png").convert("RGB")
        sheet.save(folder / "plain" / "contact-sheet.png")
        theirs["contact sheet"] = (folder / "plain" / "contact-sheet.png").stat().st_size

    print(f"{COUNT} six-stripe colourways, 6 in, 300 dpi; the plain way scaled from {PLAIN}")
    print(f"{'':18}{'hand_off':>10}{'plain':>10}{'ratio':>8}")
    both = [kind for kind in ours if kind in theirs]
    for kind in both:
        print(f"{kind:18}{ours[kind] / 1e6:10.2f}{theirs[kind] / 1e6:10.2f}"
              f"{theirs[kind] / ours[kind]:7.1f}×")  # fmt: skip
    mine, other = (sum(sizes[kind] for kind in both) for sizes in (ours, theirs))
    print(f"{'MB of both':18}{mine / 1e6:10.2f}{other / 1e6:10.2f}{other / mine:7.1f}×")
    for kind in sorted(set(ours) - set(both)):
        print(f"{kind:18}{ours[kind] / 1e6:10.2f}{'–':>10}")
    print(f"{'seconds':18}{ours_time:10.2f}{plain_time:10.2f}{plain_time / ours_time:7.1f}×")
    print(f"hand_off wrote {files} files, {sum(ours.values()) / 1e6:.2f} MB in all")
    print("peak memory MB:", ", ".join(peak_after(count) for count in (10, 100, 400)))
    across, down = piece.pixels
    print(
        f"cloth {across} × {down} ({across * down / 1e9:.2f} gigapixels): {cloth_time:.2f} s, "
        f"{cloth_size / 1e6:.2f} MB, peak memory {cloth_peak:.0f} MB"
    )


if __name__ == "__main__":
    main()
