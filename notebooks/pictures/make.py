"""Draw the pictures of the README and of search.ipynb anew: python notebooks/pictures/make.py.

Those of the desk and the lesson need a browser: ``take_desk.py`` and ``take_lesson.py`` beside it.
"""

from __future__ import annotations

from pathlib import Path

from checkcloth import Check, contact_sheet, draw_colourways, read_palette, score
from checkcloth.search import Wanted, search

HERE = Path(__file__).parent
PALETTES = HERE.parents[1] / "palettes"


def sheet() -> bytes:
    """Draw eight of the clearest colourways of each of three briefs, four stripes each."""
    chosen = []
    for brief, name in (
        ("harvest-stall", "Harvest"),
        ("deck-chair-canvas", "Deck chair"),
        ("winter-supper", "Supper"),
    ):
        palette = read_palette(PALETTES / f"{brief}.csv")
        ideas = draw_colourways(palette, 4, 400, seed=5, strength=(0.5, 0.8), mixing="woven")
        clearest = score(ideas).least_edge.argsort()[::-1][:8]
        chosen += [ideas[place].with_(name=f"{name} {n}") for n, place in enumerate(clearest, 1)]
    picture = contact_sheet(chosen, Check("0.5 in", 4), columns=8, title="Tea rooms, three briefs")
    return picture.png


def shortlist() -> bytes:
    """Draw what search.ipynb brings back: eight of all that meet a brief, good and unlike."""
    palette = read_palette(PALETTES / "harvest-stall.csv")
    wanted = Wanted(palette, 4, strengths=[0.5, 0.7], ground_apart=12, crossings_apart=4)
    good = search(wanted, 100).shortlist(8).colourways
    named = [one.with_(name=f"Idea {n}") for n, one in enumerate(good, 1)]
    picture = contact_sheet(
        named, Check("0.5 in", 4), columns=8, swatch="32 mm", title="A shortlist of eight"
    )
    return picture.png


if __name__ == "__main__":
    (HERE / "sheet.png").write_bytes(sheet())
    (HERE / "shortlist.png").write_bytes(shortlist())
