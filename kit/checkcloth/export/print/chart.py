"""A little chart of one's own inks: films to print it from, and a blank file for its readings."""

from __future__ import annotations

from collections.abc import Iterable
from os import PathLike
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from checkcloth.arguments import as_number, as_path, as_tuple
from checkcloth.cloth.named_colour import clean_text
from checkcloth.colour.print_condition import MOST_INKS, chart_cgats, chart_patches
from checkcloth.errors import ArgumentError
from checkcloth.export.picture.lettering import PLAIN, Words, font_of, letter
from checkcloth.export.print.films import margins
from checkcloth.files.names import file_stems
from checkcloth.files.png import grey_png
from checkcloth.files.whole import write_several
from checkcloth.version import PROGRAM

# In millimetres: a patch wide enough for any instrument's aperture, the strip of numbers over
# it, the margin with register marks.
_PATCH_MM, _NUMBER_MM, _MARGIN_MM = 12, 4, 15
_ACROSS = 8


def write_chart(
    inks: Iterable[str], folder: str | PathLike[str], dpi: float = 300, *, overwrite: bool = False
) -> tuple[Path, ...]:
    """Write films of a chart of inks, one an ink, and the CGATS file its readings go into.

    The chart has the paper, each ink at 25, 50, 75 and 100 %, and every two solids over each
    other. Printed, measured and filled in, the file opens with ``PrintCondition.from_cgats``.

    Parameters
    ----------
    inks : iterable of str
        1 to 8 names, in printing order.
    folder : path
        That exists.
    dpi : float
        72 to 2,400.
    overwrite : bool
        Whether files that are there may be replaced.

    Returns
    -------
    tuple of Path
        A film an ink, then ``chart-readings.txt``.

    Raises
    ------
    ArgumentError
        For no or too many inks, names that are alike, a resolution out of range.
    ExistsError
        If one of the files is there and ``overwrite`` is not set; none is written then.

    Examples
    --------
    >>> from tempfile import TemporaryDirectory
    >>> with TemporaryDirectory() as folder:
    ...     [path.name for path in write_chart(["brick", "sage"], folder, 100)]
    ['chart-1-brick-100dpi.png', 'chart-2-sage-100dpi.png', 'chart-readings.txt']
    """
    names = tuple(clean_text(ink, "inks") for ink in as_tuple(inks, "inks", of="names"))
    if not 1 <= len(names) <= MOST_INKS or len(set(names)) < len(names) or not all(names):
        raise ArgumentError("inks", f"1 to {MOST_INKS} different names", names)
    exact = as_number(dpi, "dpi", 72, 2400)
    place = as_path(folder, "folder")
    patches = np.array(chart_patches(len(names)))
    stems = file_stems(names, "ink")
    files = [
        (place / f"chart-{number}-{stem}-{exact:g}dpi.png",
         _film(patches[:, number - 1], name, number, len(names), exact))
        for number, (stem, name) in enumerate(zip(stems, names, strict=True), start=1)
    ]  # fmt: skip
    files.append((place / "chart-readings.txt", chart_cgats(names).encode("utf-8")))
    return write_several(files, overwrite=overwrite, argument="folder")


def _film(cover: NDArray[np.float64], ink: str, number: int, count: int, dpi: float) -> bytes:
    """One ink's film: black prints; the number of each patch stands over it, on every film."""
    patch, strip, margin = (
        max(8, round(mm * dpi / 25.4)) for mm in (_PATCH_MM, _NUMBER_MM, _MARGIN_MM)
    )
    across = min(_ACROSS, len(cover))
    width = across * patch + 2 * margin
    grey = np.floor(255 - cover * 255 + 0.5).astype(np.uint8)
    font = font_of(PLAIN, max(6, round(strip * 0.7)))
    rows = []
    for start in range(0, len(cover), across):
        part = grey[start : start + across]
        words = [
            Words(margin + k * patch, 0, str(start + k + 1), font, patch, 0)
            for k in range(len(part))
        ]
        rows.append(np.where(letter(width, strip, words)[..., 0] < 128, 0, 255).astype(np.uint8))
        line = np.full(width, 255, dtype=np.uint8)
        line[margin : margin + len(part) * patch] = part.repeat(patch)
        rows.append(np.broadcast_to(line, (patch, width)))
    title = f"Chart · ink {number} of {count} · {ink} · black prints"
    said = "Measure in the order of the numbers: D50, 2°, 45/0"
    above, below = margins(width, margin, dpi, [title, said])
    pixels = np.concatenate([above, *rows, below])
    texts = [("Title", title), ("Description", said), ("Software", PROGRAM)]
    return grey_png(pixels, dpi=dpi, texts=texts)
