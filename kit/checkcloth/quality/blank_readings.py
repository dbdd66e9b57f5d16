"""An empty form for the readings of a strike-off, for whoever measures to fill."""

from __future__ import annotations

from collections.abc import Iterator
from os import PathLike
from pathlib import Path

import numpy as np

from checkcloth.arguments import as_path, as_whole
from checkcloth.cloth.colourway import Colourway
from checkcloth.files.csv_rows import csv_text
from checkcloth.files.whole import write_whole
from checkcloth.quality.readings import tone_places
from checkcloth.scoring.measures import first_of, sameness, tone_label

__all__ = ["write_blank_readings"]


def _blank_rows(colourway: Colourway, readings: int) -> Iterator[list[str]]:
    places: set[tuple[int, int]] = set()
    mirrored, symmetric = sameness(colourway)
    side = len(colourway.stripes) + 1
    order = sorted(np.ndindex(side, side), key=lambda p: (p[0] > 0) + (p[1] > 0))
    for warp, weft in order:
        place = first_of(warp, weft, mirrored, symmetric)
        if place in places:
            continue
        places.add(place)
        for number in range(1, readings + 1):
            yield [tone_label(colourway, *place), str(number), "", "", "", "", "", ""]


def write_blank_readings(
    colourway: Colourway,
    path: str | PathLike[str],
    *,
    readings: int = 3,
    overwrite: bool = False,
) -> Path:
    """Write a CSV with every tone's name and empty cells, for whoever measures to fill.

    Raises
    ------
    ExistsError
        If the file is there and ``overwrite`` is not set.
    ArgumentError
        If two different tones have the same name, or for readings outside 1–1000.

    >>> from tempfile import TemporaryDirectory
    >>> with TemporaryDirectory() as folder:
    ...     path = write_blank_readings(Colourway("white", ["navy"]), Path(folder, "blank.csv"))
    ...     path.read_text("utf-8").splitlines()[4]
    'navy on white,1,,,,,,'
    """
    tone_places(colourway)
    header = ("tone", "reading", "L*", "a*", "b*", "illuminant", "observer", "note")
    text = csv_text(header, _blank_rows(colourway, as_whole(readings, "readings", 1, 1000)))
    return write_whole(as_path(path), text.encode("utf-8"), overwrite=overwrite)
