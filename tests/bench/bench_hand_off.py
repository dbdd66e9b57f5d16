"""A hand-off of 100 six-stripe colourways at 6 in and 300 dpi, against the plain way.

Run from the project folder: ``python tests/bench/bench_hand_off.py``. The plain way saves
each tile as RGB by Pillow and draws each page with matplotlib (the cloth, a swatch and a
line for every tone); it makes no tables, tokens, thumbnails, manifest or hashes, and is
let off those. Then a piece of cloth 150 cm by 10 m at 300 dpi, with the memory it took.
"""

from __future__ import annotations

import resource
import tempfile
import time
from pathlib import Path

import numpy as np
from matplotlib.backends.backend_pdf import PdfPages
from matplotlib.figure import Figure
from PIL import Image

from checkcloth import Check, draw_colourways, read_palette, tile_pixels
from checkcloth.output.hand_off import hand_off
from checkcloth.output.piece import Piece, save_cloth

COUNT = 100


def _page(colourway, pixels) -> Figure:
    figure = Figure(figsize=(8.27, 11.69))
    axes = figure.add_axes((0.1, 0.6, 0.45, 0.32))
    axes.imshow(pixels[:1000, :1000], interpolation="nearest")
    axes.set_axis_off()
    figure.text(0.1, 0.95, colourway.name, fontsize=16)
    listed = figure.add_axes((0.1, 0.05, 0.8, 0.5))
    listed.set_axis_off()
    for place, (warp, weft) in enumerate(np.ndindex(7, 7)):
        x, y = divmod(place, 25)
        tone = colourway.tones[warp, weft]
        listed.add_patch(_square(x * 0.5, 1 - y / 25, tone))
        listed.text(x * 0.5 + 0.05, 1 - y / 25, colourway.tone_name(warp, weft), fontsize=6)
    return figure


def _square(x, y, tone):
    from matplotlib.patches import Rectangle

    return Rectangle((x, y), 0.03, 0.03, color=tuple(tone))


def plain(colourways, check, folder: Path) -> None:
    """Tiles as RGB by Pillow, pages by matplotlib."""
    with PdfPages(folder / "pages.pdf") as pages:
        for number, colourway in enumerate(colourways):
            pixels, dpi = tile_pixels(colourway, check, 300)
            Image.fromarray(pixels).save(folder / f"{number}.png", dpi=(dpi, dpi))
            pages.savefig(_page(colourway, pixels))


def size_of(folder: Path) -> int:
    """Bytes of all files."""
    return sum(path.stat().st_size for path in folder.rglob("*") if path.is_file())


def peak() -> float:
    """The most memory this process has held, in MB."""
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024


def main() -> None:
    """Print the tables."""
    palette = read_palette("palettes/tea-table.csv")
    check = Check("0.5 in", 6)
    colourways = [
        colourway.with_(name=f"Tea {number}")
        for number, colourway in enumerate(draw_colourways(palette, 6, COUNT), start=1)
    ]
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place)
        hand_off(colourways[:2], check, folder / "warm")
        before = peak()
        hand_off(colourways[:10], check, folder / "ten")
        ten = peak()
        start = time.perf_counter()
        hand_off(colourways, check, folder / "ours")
        ours_time = time.perf_counter() - start
        hundred = peak()
        files = sum(path.is_file() for path in (folder / "ours").rglob("*"))
        piece = Piece(check, "150 cm", "1000 cm", 300, cut=True)
        start = time.perf_counter()
        save_cloth(colourways[0], piece, folder / "cloth.png")
        cloth_time, cloth_peak = time.perf_counter() - start, peak()
        cloth_size = (folder / "cloth.png").stat().st_size

        (folder / "plain").mkdir()
        plain(colourways[:1], check, folder / "plain")
        start = time.perf_counter()
        plain(colourways, check, folder / "plain")
        plain_time = time.perf_counter() - start
        ours_size, plain_size = size_of(folder / "ours"), size_of(folder / "plain")

    print(f"{COUNT} six-stripe colourways, 6 in, 300 dpi")
    print(f"{'':24}{'time s':>9}{'MB':>9}{'files':>8}")
    print(f"{'hand_off':24}{ours_time:9.2f}{ours_size / 1e6:9.2f}{files:8d}")
    print(f"{'Pillow and matplotlib':24}{plain_time:9.2f}{plain_size / 1e6:9.2f}{COUNT + 1:8d}")
    print(f"{'ratio':24}{plain_time / ours_time:8.1f}×{plain_size / ours_size:8.1f}×")
    print(f"peak memory MB: {before:.0f} after 2, {ten:.0f} after 10, {hundred:.0f} after {COUNT}")
    across, down = piece.pixels
    print(
        f"cloth {across} × {down} ({across * down / 1e9:.2f} gigapixels): {cloth_time:.2f} s, "
        f"{cloth_size / 1e6:.2f} MB, peak memory {cloth_peak:.0f} MB"
    )


if __name__ == "__main__":
    main()
