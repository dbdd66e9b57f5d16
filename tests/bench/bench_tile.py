"""One 6 in tile at 600 dpi, against the same image saved as RGB by Pillow: time and bytes.

Run from the project folder: ``python tests/bench/bench_tile.py``. Ratios hold on one
machine in one run; times do not travel.
"""

from __future__ import annotations

import io
import time

from PIL import Image

from checkcloth import Check, draw_colourways, read_palette, tile_pixels, tile_png


def best(work, rounds: int = 5) -> float:
    """The quickest of several runs, in seconds: what the machine can do undisturbed."""
    times = []
    for _ in range(rounds):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return min(times)


def main() -> None:
    """Print the table."""
    palette = read_palette("palettes/tea-table.csv")
    colourway = draw_colourways(palette, 6, 1)[0]
    check = Check("0.5 in", 6)
    pixels, dpi = tile_pixels(colourway, check, 600)

    def plain() -> bytes:
        stream = io.BytesIO()
        Image.fromarray(tile_pixels(colourway, check, 600)[0]).save(stream, "png", dpi=(dpi, dpi))
        return stream.getvalue()

    def ours() -> bytes:
        return tile_png(colourway, check, 600)

    ours_bytes, plain_bytes = len(ours()), len(plain())
    raw = len(pixels) * (len(pixels) + 1)
    ours_time, plain_time = best(ours), best(plain)
    print(f"tile {len(pixels)} × {len(pixels)} pixels, 6 stripes")
    print(f"{'':22}{'time ms':>10}{'bytes':>12}")
    print(f"{'tile_png':22}{ours_time * 1e3:10.1f}{ours_bytes:12d}")
    print(f"{'Pillow, RGB':22}{plain_time * 1e3:10.1f}{plain_bytes:12d}")
    print(f"{'ratio':22}{plain_time / ours_time:9.1f}×{plain_bytes / ours_bytes:11.1f}×")
    small = Check("0.25 in", 6)
    stream = io.BytesIO()
    Image.fromarray(tile_pixels(colourway, small, 150)[0]).save(stream, "png", optimize=True)
    print(f"3 in at 150 dpi: {len(tile_png(colourway, small, 150))} bytes with its texts, "
          f"Pillow without any {len(stream.getvalue())}")  # fmt: skip
    # Deflate copies at most 258 bytes with two bits: no stream is below 1/1032 of its input.
    print(f"deflate cannot go below {raw // 1032} bytes for the {raw} bytes of indices")


if __name__ == "__main__":
    main()
