"""What goes into a hand-off: the items of a colourway, of a family of sizes, of the set."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction
from functools import lru_cache, partial

from checkcloth.cloth.check import Check
from checkcloth.cloth.chosen import ChosenSet
from checkcloth.cloth.colourway import Colourway
from checkcloth.export.data.saved import set_json
from checkcloth.export.data.tables import scores_csv, tone_lines
from checkcloth.export.data.tokens import set_token_lines
from checkcloth.export.data.web_colours import set_css_lines
from checkcloth.export.hand_off.coordinates import coordinate_sheet
from checkcloth.export.hand_off.items import Item, chunks, numbered, of_bytes, of_lines
from checkcloth.export.hand_off.names import file_stems, safe_stem
from checkcloth.export.mill.draft import draft
from checkcloth.export.mill.thread_plan import ThreadPlan
from checkcloth.export.paper.spec_sheet import write_spec_sheet
from checkcloth.export.picture.piece import Piece, thumbnail_png, write_cloth_png
from checkcloth.export.picture.raster import describe, tile_png, tile_size
from checkcloth.export.picture.sheet import contact_sheet
from checkcloth.export.picture.vector import tile_svg
from checkcloth.export.print.films import film_png
from checkcloth.export.print.plates import plates_of
from checkcloth.export.print.press import Press
from checkcloth.export.print.proof import soft_proof

# Colourways on one sheet or in one book, so that memory does not grow with the set.
_A_SHEET, _A_FAMILY_SHEET, _A_BOOK = 120, 60, 100
_plates = lru_cache(maxsize=4)(plates_of)


def set_items(chosen: ChosenSet) -> Iterator[Item]:
    """What is there for every set: the set itself, tables, tokens, CSS, contact sheets."""
    yield Item("set.json", "The set; opens again in checkcloth", of_bytes(lambda: set_json(chosen)))
    yield Item(
        "tones.csv",
        "Every tone: name, hex, sRGB, Lab (D65, 2°), share of area",
        of_lines(lambda: tone_lines(chosen)),
    )
    yield Item(
        "scores.csv",
        "Scores: CIEDE2000, ΔL*, contrast ratio, lightness order",
        of_bytes(lambda: scores_csv(chosen)),
    )
    yield Item(
        "colours.tokens.json",
        "Colours and tones as design tokens (W3C community group, format 2025.10)",
        of_lines(lambda: set_token_lines(chosen)),
    )
    yield Item(
        "colours.css",
        "Colours and tones as CSS custom properties",
        of_lines(lambda: set_css_lines(chosen)),
    )
    parts = chunks(len(chosen), _A_SHEET)
    for place, part in enumerate(parts):
        yield Item(
            numbered("contact-sheet", ".png", parts, place),
            f"Colourways {part.start + 1} to {part.stop} side by side, at one scale",
            of_bytes(partial(_contact_png, chosen, part)),
        )


def _some(chosen: ChosenSet, part: slice) -> ChosenSet:
    return ChosenSet(chosen.check, chosen.chosen[part], chosen.name)


def _contact_png(chosen: ChosenSet, part: slice) -> bytes:
    return contact_sheet(_some(chosen, part)).png


def book_items(chosen: ChosenSet, paper: str, press: Press | None) -> Iterator[Item]:
    """The specification sheets."""
    parts = chunks(len(chosen), _A_BOOK)
    for place, part in enumerate(parts):
        yield Item(
            numbered("specification", ".pdf", parts, place),
            f"Specification on {paper}, a page a colourway, {part.start + 1} to {part.stop}",
            partial(
                write_spec_sheet,
                colourways=chosen,
                paper=paper,
                press=press,
                numbers=range(part.start, part.stop),
            ),
        )


def tile_items(
    lead: str, colourway: Colourway, check: Check, resolutions: Iterable[Fraction | float]
) -> Iterator[Item]:
    """One repeat as SVG and as PNG at each resolution."""
    about = describe(colourway, check)
    yield Item(
        f"{lead}-tile.svg",
        f"One repeat at real size. {about}",
        of_bytes(partial(tile_svg, colourway, check)),
    )
    for dpi in resolutions:
        _, side, exact = tile_size(check, dpi)
        yield Item(
            f"{lead}-tile-{float(dpi):g}dpi.png",
            f"One repeat: {side} × {side} pixels at {float(exact):.6g} dpi. {about}",
            of_bytes(partial(tile_png, colourway, check, dpi)),
        )


def cloth_item(lead: str, colourway: Colourway, piece: Piece) -> Item:
    """A larger piece of cloth."""
    across, down = piece.pixels
    kind = "cut to size" if piece.cut else "whole repeats"
    return Item(
        f"{lead}-cloth-{float(piece.dpi):g}dpi.png",
        f"Cloth {piece.size}, {kind}: {across} × {down} pixels at "
        f"{float(piece.exact_dpi):.6g} dpi. {describe(colourway, piece.check)}",
        partial(write_cloth_png, colourway=colourway, piece=piece),
    )


def thumbnail_items(lead: str, colourway: Colourway, sides: Iterable[int]) -> Iterator[Item]:
    """Small pictures for a list or a page."""
    for side in sides:
        yield Item(
            f"{lead}-thumbnail-{side}.png",
            f"Thumbnail, {side} × {side} pixels, not to scale. {colourway}",
            of_bytes(partial(thumbnail_png, colourway, side)),
        )


def plate_items(
    lead: str, colourway: Colourway, check: Check, kind: str, dpi: Fraction | float
) -> Iterator[Item]:
    """A film for each plate, and the table of what each carries."""
    plates = _plates(colourway, kind)
    folder, stem = lead.rsplit("/", 1)
    names = file_stems((safe_stem(plate.name) for plate in plates.plates), "plate")
    for place, (plate, name) in enumerate(zip(plates.plates, names, strict=True)):
        bits = "1-bit, solid" if plate.solid else "8-bit, tints"
        yield Item(
            f"{folder}/plates/{stem[:24]}-{place + 1:02d}-{name[:32]}.png",
            f"Plate {place + 1} of {plates.screens}, {plate.name}, {bits}, black prints, true "
            f"size, register marks outside the repeat. {plates.rule}",
            of_bytes(partial(_film, colourway, check, kind, dpi, place)),
        )
    yield Item(
        f"{lead}-plates.csv",
        f"Coverage of every plate by tone. {plates.rule}",
        of_bytes(plates.csv),
    )


def _film(
    colourway: Colourway, check: Check, kind: str, dpi: Fraction | float, place: int
) -> bytes:
    return film_png(_plates(colourway, kind), place, check, dpi)


def thread_items(lead: str, plan: ThreadPlan) -> Iterator[Item]:
    """Orders, totals, facts and the draft."""
    tables = (
        ("thread-plan", "Thread plan: sett, bands, sizes, allowances", plan.facts_csv),
        ("warp", "Order of ends from edge to edge", partial(plan.order_csv, "warp")),
        ("weft", "Order of picks from start to end", partial(plan.order_csv, "weft")),
        ("yarn", "Ends, picks and metres of each yarn", plan.yarn_csv),
    )
    for name, shows, make in tables:
        yield Item(f"{lead}-{name}.csv", shows, of_bytes(make))
    yield Item(
        f"{lead}-draft.png",
        "Plain-weave draft: threading, tie-up, treadling, face",
        of_bytes(lambda: draft(plan).png),
    )


def proof_items(lead: str, colourway: Colourway, press: Press) -> Iterator[Item]:
    """What a press makes of the tones."""
    yield Item(
        f"{lead}-proof.csv",
        f"Every tone on {press}: shift, gamut, ink amounts",
        of_bytes(lambda: soft_proof(colourway, press).csv()),
    )
    yield Item(
        f"{lead}-proof.png",
        f"As designed, left, and proofed, right, for {press}",
        of_bytes(lambda: soft_proof(colourway, press).picture().png),
    )


def coordinate_items(
    chosen: ChosenSet,
    stems: Sequence[str],
    checks: Sequence[Check],
    resolutions: Sequence[Fraction | float],
) -> Iterator[Item]:
    """The same colourways at a family of sizes, and sheets that show all sizes together."""
    sizes = [check.size for check in checks]
    parts = chunks(len(chosen), _A_FAMILY_SHEET)
    for place, part in enumerate(parts):
        yield Item(
            numbered("coordinates/coordinates", ".png", parts, place),
            f"Colourways {part.start + 1} to {part.stop} at every size, true size at 100 dpi",
            of_bytes(lambda part=part: coordinate_sheet(_some(chosen, part), sizes=sizes).png),  # type: ignore[misc]
        )
    folders = file_stems([check.size.text for check in checks], "size")
    for folder, check in zip(folders, checks, strict=True):
        sized = ChosenSet(check, chosen.chosen, chosen.name)
        where = f"coordinates/{folder}"
        yield Item(
            f"{where}/set.json",
            f"The set at a check of {check.size}; opens again in checkcloth",
            of_bytes(partial(set_json, sized)),
        )
        for stem, colourway in zip(stems, sized, strict=True):
            lead = f"{where}/{stem}/{stem}"
            yield from tile_items(lead, colourway, sized.check_for(colourway), resolutions)
