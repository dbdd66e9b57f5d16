"""A contact sheet of 100 colourways, against a grid of 100 matplotlib axes.

Run from the project folder: ``python tests/bench/bench_sheet.py``. Both draw the same
cloth, names, colours and scores, and end as PNG bytes; importing is not counted.
"""

from __future__ import annotations

import io
import time

import numpy as np
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure

from checkcloth import Check, draw_colourways, read_palette, tile_pixels
from checkcloth.export.picture.sheet import contact_sheet, edge_line


def grid(colourways, check) -> bytes:
    """The plain way: one axes a colourway, with its name as title and the rest below."""
    figure = Figure(figsize=(15, 13), dpi=150)
    FigureCanvasAgg(figure)
    for index, colourway in enumerate(colourways):
        axes = figure.add_subplot(8, 13, index + 1)
        pixels, _ = tile_pixels(colourway, check, 20)
        axes.imshow(np.tile(pixels, (2, 2, 1)), interpolation="nearest")
        axes.set_xticks([])
        axes.set_yticks([])
        axes.set_title(colourway.name, fontsize=8)
        axes.set_xlabel(f"{str(colourway)[:30]}\n{edge_line(colourway, check)}", fontsize=6)
    stream = io.BytesIO()
    figure.savefig(stream, format="png")
    return stream.getvalue()


def main() -> None:
    """Print the table."""
    palette = read_palette("palettes/tea-table.csv")
    check = Check("0.5 in", 6)
    colourways = [
        colourway.with_(name=f"Tea {number}")
        for number, colourway in enumerate(draw_colourways(palette, 6, 100), start=1)
    ]
    contact_sheet(colourways[:2], check)
    grid(colourways[:2], check)  # fonts are found and cached before the clock starts
    times = {}
    sizes = {}
    for name, work in (
        ("contact_sheet", lambda: contact_sheet(colourways, check).png),
        ("matplotlib grid", lambda: grid(colourways, check)),
    ):
        runs = []
        for _ in range(3):
            start = time.perf_counter()
            made = work()
            runs.append(time.perf_counter() - start)
        times[name], sizes[name] = min(runs), len(made)
    print(f"{'100 colourways':18}{'time s':>9}{'bytes':>12}")
    for name, seconds in times.items():
        print(f"{name:18}{seconds:9.3f}{sizes[name]:12d}")
    print(f"{'ratio':18}{times['matplotlib grid'] / times['contact_sheet']:8.1f}×")


if __name__ == "__main__":
    main()
