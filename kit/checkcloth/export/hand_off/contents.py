"""What goes into a hand-off: items that are drawn one after another, as they are written."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import lru_cache, partial
from typing import BinaryIO

from checkcloth.cloth.check import Check
from checkcloth.cloth.chosen import ChosenSet
from checkcloth.cloth.colourway import Colourway
from checkcloth.cloth.length import Length
from checkcloth.colour.print_condition import PrintCondition
from checkcloth.export.data.measurement import tones_cgats
from checkcloth.export.data.saved import set_json
from checkcloth.export.data.tables import scores_csv, tone_lines
from checkcloth.export.data.tokens import set_token_lines
from checkcloth.export.data.web_colours import set_css_lines
from checkcloth.export.for_client import ForClient
from checkcloth.export.hand_off.coordinates import (
    coordinate_sheet,
    family_fits,
    family_sheet,
    rows_per_sheet,
)
from checkcloth.export.mill.draft import draft
from checkcloth.export.mill.thread_plan import ThreadPlan
from checkcloth.export.page.range_page import MOST_COLOURWAYS, range_page_html
from checkcloth.export.paper.client_sheet import sheet_for
from checkcloth.export.paper.specification import write_spec_sheet
from checkcloth.export.picture.bias import (
    bias_cells,
    bias_png,
    bias_size,
    bias_svg,
    bias_tile,
)
from checkcloth.export.picture.picture import Picture
from checkcloth.export.picture.piece import Piece, thumbnail_png, write_cloth_png
from checkcloth.export.picture.raster import (
    describe,
    number_in,
    tile_name,
    tile_png,
    tile_size,
)
from checkcloth.export.picture.sheet import contact_sheet
from checkcloth.export.picture.vector import tile_svg
from checkcloth.export.print.cmyk_tiff import tile_tiff
from checkcloth.export.print.films import film_png
from checkcloth.export.print.inked import plates_by
from checkcloth.export.print.preflight import Preflight
from checkcloth.export.print.press import Press
from checkcloth.export.print.proof import soft_proof
from checkcloth.export.print.separations import separations_pdf
from checkcloth.files.names import file_stems, safe_stem

# Colourways on one sheet or in one book, so that memory does not grow with the set.
_PER_SHEET, _PER_FAMILY_SHEET, _PER_BOOK = 120, 60, 100
# Sheets for the client that are pictures too.
_MOST_PICTURES = 4
# Whom files are for; what belongs to everybody is of the range itself.
TASKS = ("client", "printer", "mill", "shop", "range")
# Those of them that can be left out.
CHOSEN_TASKS = TASKS[:-1]
_GAUGE_REPEATS = 2
# Bytes of a film grow so with its resolution: 1.2 to 1.5 seen from 600 to 3600 dpi.
_GAUGE_DPI, _FILM_GROWTH = 600, 1.35
_plates = lru_cache(maxsize=4)(plates_by)


@dataclass(frozen=True)
class Item:
    """One file to write; nothing is drawn until it is filled."""

    file: str  #: path inside the folder, with ``/`` between parts
    shows: str  #: what it shows, for people; goes into the manifest
    fill: Callable[[BinaryIO], object]  #: called with the open file
    kind: str = ""  #: what it is, with what is alike: "tile, PNG at 300 dpi"
    task: str = "range"  #: whom it is for; one of ``TASKS``
    each: bool = False  #: whether there is one of it for each colourway
    pixels: tuple[int, int] | None = None  #: across and down, of a picture at real size
    dpi: Fraction | None = None  #: at which its size is exact
    #: Fills a smaller file of the same make; and how many times larger this one is about.
    gauge: tuple[Callable[[BinaryIO], object], float] | None = None


def of_bytes(make: Callable[[], bytes | str | Iterator[str]]) -> Callable[[BinaryIO], None]:
    """Return a function that fills a file with what a call returns, pieces as they come."""

    def fill(stream: BinaryIO) -> None:
        made = make()
        for piece in (made,) if isinstance(made, bytes | str) else made:
            stream.write(piece.encode("utf-8") if isinstance(piece, str) else piece)

    return fill


def of_picture(draw: Callable[[], Picture]) -> Callable[[BinaryIO], None]:
    """Return a function that fills a file with the PNG of a picture that a call draws."""
    return of_bytes(lambda: draw().png)


def _sheets(count: int, most: int, name: str, ending: str) -> Iterator[tuple[str, slice]]:
    """File names and parts of at most ``most``; numbered only where there are several."""
    parts = [slice(start, min(start + most, count)) for start in range(0, count, most)]
    for number, part in enumerate(parts, start=1):
        yield f"{name}-{number}{ending}" if len(parts) > 1 else f"{name}{ending}", part


def set_items(chosen: ChosenSet) -> Iterator[Item]:
    """What is there for every set: the set itself, tables, tokens, CSS, contact sheets."""
    tokens = "Colours and tones as design tokens (W3C community group, format 2025.10)"
    tables = (
        ("set.json", "The set; opens again in checkcloth", of_bytes(lambda: set_json(chosen)),
         "set", "range"),
        ("tones.csv", "Every tone: name, hex, sRGB, Lab (D65, 2°), share of area",
         of_bytes(lambda: tone_lines(chosen)), "table of tones", "printer"),
        ("tones-cgats.txt", "Every tone as CGATS.17 text, for instruments: sRGB, Lab (D65, 2°)",
         of_bytes(lambda: tones_cgats(chosen)), "tones for instruments", "printer"),
        ("scores.csv", "Scores: CIEDE2000, ΔL*, contrast ratio, lightness order",
         of_bytes(lambda: scores_csv(chosen)), "table of scores", "range"),
        ("colours.tokens.json", tokens, of_bytes(lambda: set_token_lines(chosen)),
         "design tokens", "shop"),
        ("colours.css", "Colours and tones as CSS custom properties",
         of_bytes(lambda: set_css_lines(chosen)), "CSS properties", "shop"),
    )  # fmt: skip
    yield from (Item(*table) for table in tables)
    for file, part in _sheets(len(chosen), _PER_SHEET, "contact-sheet", ".png"):
        yield Item(
            file,
            f"Colourways {part.start + 1} to {part.stop} side by side, at one scale",
            of_picture(partial(contact_sheet, _some(chosen, part))),
            "contact sheet",
            "client",
        )


def _some(chosen: ChosenSet, part: slice) -> ChosenSet:
    return ChosenSet(chosen.check, chosen.chosen[part], chosen.name)


def preflight_item(look: Callable[[], Preflight]) -> Item:
    """What a printer or a mill would send back, as one page."""
    return Item(
        "preflight.html",
        "Pre-flight: what a printer or a mill would send back, pass or note, with the number",
        of_bytes(lambda: look().page_html()),
        "pre-flight",
        "printer",
    )


def client_items(
    chosen: ChosenSet, sizes: Sequence[Length], paper: str | None, asked: ForClient
) -> Iterator[Item]:
    """What the client gets: a page for any browser, and the sheet on paper."""
    asked = replace(asked, sizes=(*sizes, *asked.sizes))
    pages = _sheets(len(chosen), MOST_COLOURWAYS, "client-page", ".html")
    for number, (file, part) in enumerate(pages, start=1):
        of_page = replace(asked, reference=asked.reference_of(number))
        yield Item(
            file,
            f"Colourways {part.start + 1} to {part.stop} as a page for any browser, without a "
            "network: looks, answers, and sends them back",
            of_bytes(partial(range_page_html, _some(chosen, part), None, of_page)),
            "page for the client",
            "client",
        )
    if paper is None:
        return
    sheet = sheet_for(asked, chosen, paper)
    said = "notes and codes" if asked.codes else "notes"
    about = f"at {sheet.plan.words}, family by family, with {said}, no scores"
    yield Item(
        "client-sheet.pdf",
        f"The range on {paper}, {about}",
        sheet.write_pdf,
        f"client's sheet on {paper}",
        "client",
    )
    if len(sheet) <= _MOST_PICTURES:
        for number, (file, _) in enumerate(_sheets(len(sheet), 1, "client-sheet", ".png"), 1):
            yield Item(
                file,
                f"Sheet {number} of {len(sheet)} of the range on {paper}, {about}",
                of_picture(partial(sheet.picture, number)),
                "client's sheet, PNG",
                "client",
            )


def book_items(
    chosen: ChosenSet, paper: str, press: Press | None, condition: PrintCondition | None = None
) -> Iterator[Item]:
    """The specification sheets."""
    for file, part in _sheets(len(chosen), _PER_BOOK, "specification", ".pdf"):
        yield Item(
            file,
            f"Specification on {paper}, a page a colourway, {part.start + 1} to {part.stop}",
            partial(
                write_spec_sheet,
                colourways=chosen,
                paper=paper,
                press=press,
                condition=condition,
                numbers=range(part.start, part.stop),
            ),
            f"specification on {paper}",
            "client",
        )


def tile_items(
    lead: str,
    colourway: Colourway,
    check: Check,
    resolutions: Iterable[Fraction | float],
    press: Press | None = None,
) -> Iterator[Item]:
    """One repeat as SVG, and at each resolution as PNG and, for a CMYK press, as TIFF."""
    about = describe(colourway, check)
    yield Item(
        _tile_path(lead, f"{tile_name(check)}.svg"),
        f"One repeat at real size. {about}",
        of_bytes(partial(tile_svg, colourway, check)),
        "tile, SVG",
        "printer",
        each=True,
    )
    # Two resolutions may come to the same one, at which the repeat is whole pixels.
    named = {tile_name(check, dpi): dpi for dpi in resolutions}
    kinds: list[tuple[str, str, str, str, Callable[..., bytes]]] = [
        (".png", "PNG", "One repeat", "", partial(tile_png, colourway, check))
    ]
    if press is not None and press.space == "CMYK":
        more = f", for {press}, its profile embedded: not to be converted again"
        tiff = partial(tile_tiff, colourway, check, press)
        kinds.append(("-cmyk.tif", "CMYK TIFF", "One repeat in CMYK", more, tiff))
    for ending, kind, what, more, make in kinds:
        for name, dpi in named.items():
            (across, down), exact = tile_size(check, dpi)
            yield Item(
                _tile_path(lead, f"{name}{ending}"),
                f"{what}: {across} × {down} pixels at {float(exact):.6g} dpi{more}. {about}",
                of_bytes(partial(make, dpi)),
                f"tile, {kind} at {float(dpi):g} dpi",
                "printer",
                each=True,
                pixels=(across, down),
                dpi=exact,
            )


def bias_items(
    lead: str, colourway: Colourway, check: Check, resolutions: Iterable[Fraction | float]
) -> Iterator[Item]:
    """The cloth turned by 45°, as a square that tiles: SVG, and PNG at each resolution."""
    bias_cells(check)
    side = bias_tile(check).side
    unit = check.size.unit
    name = f"{tile_name(check)}-side-{number_in(side, unit)}{unit}"
    about = f"On the bias (45°), a square of {side} that tiles without a seam"
    yield Item(
        _tile_path(lead, f"{name}.svg", "bias"),
        f"{about}. {describe(colourway, check)}",
        of_bytes(partial(bias_svg, colourway, check)),
        "tile on the bias, SVG",
        "printer",
        each=True,
    )
    # Resolutions so near to one another that their names are one are one.
    named = {f"{name}-{float(dpi):g}dpi.png": dpi for dpi in resolutions}
    for file, dpi in named.items():
        pixels, exact = bias_size(check, dpi)
        yield Item(
            _tile_path(lead, file, "bias"),
            f"{about}: {pixels} × {pixels} pixels at {exact:.6g} dpi. {describe(colourway, check)}",
            of_bytes(partial(bias_png, colourway, check, dpi)),
            f"tile on the bias, PNG at {float(dpi):g} dpi",
            "printer",
            each=True,
            pixels=(pixels, pixels),
        )


def family_item(lead: str, colourway: Colourway, check: Check) -> Item:
    """The check with fewer stripes, as a stripe and as plains, side by side."""
    family_fits(colourway, check)
    return Item(
        f"{lead}-family.png",
        "Family: the check, with fewer stripes, as a stripe and as plains; whole repeats at one "
        f"scale. {describe(colourway, check)}",
        of_picture(lambda: family_sheet(colourway, check)),
        "sheet of the family",
        "client",
        each=True,
    )


def _tile_path(lead: str, ending: str, kind: str = "tile") -> str:
    """The path of a tile: a long stem gives way, so that its name stays under 80 bytes."""
    folder, stem = lead.rsplit("/", 1)
    ending = f"-{kind}-{ending}"
    return f"{folder}/{stem.encode()[: 80 - len(ending)].decode(errors='ignore')}{ending}"


def cloth_item(lead: str, colourway: Colourway, piece: Piece) -> Item:
    """A larger piece of cloth."""
    across, down = piece.pixels
    kind = "cut to size" if piece.cut else "whole repeats"
    return Item(
        f"{lead}-cloth-{float(piece.exact_dpi):.6g}dpi.png",
        f"Cloth {piece.size}, {kind}: {across} × {down} pixels at "
        f"{float(piece.exact_dpi):.6g} dpi. {describe(colourway, piece.check)}",
        partial(write_cloth_png, colourway=colourway, piece=piece),
        "piece of cloth",
        "client",
        each=True,
        pixels=(across, down),
        dpi=piece.exact_dpi,
        gauge=_shorter(colourway, piece),
    )


def _shorter(
    colourway: Colourway, piece: Piece
) -> tuple[Callable[[BinaryIO], object], float] | None:
    """A piece of a few repeats as wide as this one, and how many times longer this one is."""
    times = piece.pixels[1] / (_GAUGE_REPEATS * piece.repeat.down)
    if times <= 1:
        return None
    length = piece.check.repeat_height * _GAUGE_REPEATS
    short = Piece(piece.check, piece.width, length, piece.dpi, piece.cut)
    return partial(write_cloth_png, colourway=colourway, piece=short), times


def thumbnail_items(
    lead: str, colourway: Colourway, check: Check, sides: Iterable[int]
) -> Iterator[Item]:
    """Small pictures for a list or a page."""
    for side in sides:
        yield Item(
            f"{lead}-thumbnail-{side}.png",
            f"Thumbnail, {side} × {side} pixels, not to scale. {colourway}",
            of_bytes(partial(thumbnail_png, colourway, side, check)),
            f"thumbnail of {side} pixels",
            "shop",
            each=True,
        )


def plate_items(
    lead: str,
    colourway: Colourway,
    check: Check,
    kind: str,
    dpi: Fraction | float,
    press: Press | None,
    condition: PrintCondition | None = None,
) -> Iterator[Item]:
    """A film for each plate, all of them as one PDF, and the table of what each carries."""
    made = partial(_plates, colourway, kind, condition)
    plates = made()

    def film(index: int, dpi: Fraction | float) -> Callable[[BinaryIO], None]:
        return of_bytes(lambda: film_png(made(), index, check, dpi))

    folder, stem = lead.rsplit("/", 1)
    larger = (float(dpi) / _GAUGE_DPI) ** _FILM_GROWTH
    names = file_stems((safe_stem(plate.name) for plate in plates.plates), "plate")
    for index, (plate, name) in enumerate(zip(plates.plates, names, strict=True)):
        bits = "1-bit, solid" if plate.solid else "8-bit, tints"
        yield Item(
            f"{folder}/plates/{stem[:24]}-{index + 1:02d}-{name[:32]}.png",
            f"Plate {index + 1} of {plates.screens}, {plate.name}, {bits}, black prints, true "
            f"size, register marks outside the repeat. {plates.rule}",
            film(index, dpi),
            "film",
            "printer",
            each=True,
            gauge=(film(index, _GAUGE_DPI), larger) if dpi > _GAUGE_DPI else None,
        )
    yield Item(
        f"{lead}-plates.pdf",
        f"One repeat at true size, each of {plates.screens} plates in an ink of its name "
        f"(Separation), overprinting. {plates.rule}",
        of_bytes(lambda: separations_pdf(made(), check, press)),
        "plates, PDF",
        "printer",
        each=True,
    )
    yield Item(
        f"{lead}-plates.csv",
        f"Coverage of every plate by tone. {plates.rule}",
        of_bytes(plates.csv),
        "table of plates",
        "printer",
        each=True,
    )


def thread_items(lead: str, plan: ThreadPlan) -> Iterator[Item]:
    """Orders, totals, facts and the draft."""
    tables = (
        ("thread-plan", "Thread plan: sett, bands, sizes, allowances", plan.facts_csv),
        ("warp", "Order of ends from edge to edge", partial(plan.order_csv, "warp")),
        ("weft", "Order of picks from start to end", partial(plan.order_csv, "weft")),
        ("yarn", "Ends, picks and metres of each yarn", plan.yarn_csv),
    )
    for name, shows, make in tables:
        kind = f"table, {name.replace('-', ' ')}"
        yield Item(f"{lead}-{name}.csv", shows, of_bytes(make), kind, "mill", each=True)
    yield Item(
        f"{lead}-draft.png",
        "Plain-weave draft: threading, tie-up, treadling, face",
        of_picture(lambda: draft(plan)),
        "draft",
        "mill",
        each=True,
    )


def proof_items(lead: str, colourway: Colourway, check: Check, press: Press) -> Iterator[Item]:
    """What a press makes of the tones."""
    yield Item(
        f"{lead}-proof.csv",
        f"Every tone on {press}: shift, gamut, ink amounts",
        of_bytes(lambda: soft_proof(colourway, press).csv()),
        "table of the proof",
        "printer",
        each=True,
    )
    yield Item(
        f"{lead}-proof.png",
        f"As designed, left, and proofed, right, for {press}",
        of_picture(lambda: soft_proof(colourway, press).picture(check=check)),
        "proof",
        "printer",
        each=True,
    )


def coordinate_items(
    chosen: ChosenSet,
    stems: Sequence[str],
    checks: Sequence[Check],
    resolutions: Sequence[Fraction | float],
    press: Press | None = None,
) -> Iterator[Item]:
    """The same colourways at a family of sizes, and sheets that show all sizes together."""
    sizes = [check.size for check in checks]
    most = min(_PER_FAMILY_SHEET, rows_per_sheet(chosen, sizes))
    for file, part in _sheets(len(chosen), most, "coordinates/coordinates", ".png"):
        yield Item(
            file,
            f"Colourways {part.start + 1} to {part.stop} at every size, whole repeats at one scale",
            of_picture(partial(coordinate_sheet, _some(chosen, part), sizes=sizes)),
            "sheet of all sizes",
            "client",
        )
    folders = file_stems([check.size.text for check in checks], "size")
    for folder, check in zip(folders, checks, strict=True):
        sized = ChosenSet(check, chosen.chosen, chosen.name)
        where = f"coordinates/{folder}"
        yield Item(
            f"{where}/set.json",
            f"The set at a check of {check.size}; opens again in checkcloth",
            of_bytes(partial(set_json, sized)),
            "set at another size",
            "printer",
        )
        for stem, colourway in zip(stems, sized, strict=True):
            lead = f"{where}/{stem}/{stem}"
            yield from tile_items(lead, colourway, sized.check_for(colourway), resolutions, press)
