"""Every reader of the kit, of files and of typed text, with sound input for each to start from.

Shared by the property tests beside it and by ``tests/bench/fuzz_readers.py``.
"""

from __future__ import annotations

import contextlib
import io
from collections.abc import Callable
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import numpy as np
from PIL import Image, ImageCms

from checkcloth import (
    Check,
    ChosenSet,
    Colourway,
    Palette,
    open_set,
    read_answers,
    read_palette,
    save_set,
)
from checkcloth.cloth.bands import read_order
from checkcloth.cloth.colour_order import cloth_of_order
from checkcloth.cloth.length import Length
from checkcloth.cloth.palette import palette_csv
from checkcloth.cloth.threads import Sett
from checkcloth.colour.css import parse_css
from checkcloth.colour.print_condition import PrintCondition, chart_cgats
from checkcloth.colour.spectra.reading import read_spectra
from checkcloth.desk.answers.read_colours import read_colour_file
from checkcloth.desk.forms.hand_off_order import DEFAULTS, read_field
from checkcloth.errors import CheckclothError
from checkcloth.export.data.tokens import palette_tokens, read_tokens
from checkcloth.export.hand_off.manifest import verify
from checkcloth.export.print.press import open_press
from checkcloth.files.cgats import cgats_text, read_cgats
from checkcloth.ideas.pasted import colours_in_text
from checkcloth.ideas.photo import open_photo
from checkcloth.needs import has
from checkcloth.quality.colourway_csv import read_colourways, write_colourways
from checkcloth.quality.readings import read_readings
from checkcloth.quality.supplier import read_supplier_palette
from checkcloth.search import Wanted, search

PALETTE = Palette("bay", ["navy", "oklch(62% 0.15 30)", "#f4ecd8"])
KEPT = ChosenSet(Check("1/2 in", 2), [Colourway("white", ["navy", "teal"], name="Quay")], "bay")
READINGS = "tone,L*,a*,b*\nwhite,95.1,0.2,-0.3\nnavy on white,40.2,3.5,-21.0\n"
SHADES = "shade,code,hex,L*,a*,b*,light,remark\nTide,R1,#2b6c7a,41.8,-15.9,-13.4,D65/2,ok\n"
SENT = "Bay: answers\nReference QH 1\nFrom: A\n\n1 Quay: maybe. a little\npaler?\n\nTo all: so"
SENT_FILE = (
    '{"format": "checkcloth answers", "version": 1, "reference": "QH 1", "answers": '
    '[{"number": 1, "name": "Quay", "answer": "no", "remark": ""}]}'
)
CGATS = """CGATS.17
ORIGINATOR "Quillhaven, caf\u00e9" # who
KEYWORD "SAMPLE_ID"
BEGIN_DATA_FORMAT
SAMPLE_ID LAB_L LAB_A LAB_B
END_DATA_FORMAT
NUMBER_OF_SETS 2
BEGIN_DATA
1 52.5 -3 10
"A 2" 40,1 3.5e0 -21
END_DATA
"""
CHART = (
    chart_cgats(["brick", "sage"])
    .replace('"" "" ""', "52.5 -3 10")
    .replace("1 0 0 52.5 -3 10", "1 0 0 95 0 -2")
)
SPECTRA = "\n".join(
    [",".join(["name", *(f"R{nm}" for nm in range(400, 701, 20))]), "Sea" + ",0.25" * 16, ""]
)
SPECTRA_CGATS = cgats_text(
    ["SAMPLE_NAME", *(f"SPECTRAL_NM{nm}" for nm in range(380, 731, 10))], [["Sea", *[0.25] * 36]]
)
CXF = f"""<?xml version="1.0" encoding="UTF-8"?>
<CxF xmlns="http://colorexchangeformat.com/CxF3-core"><FileInformation><Creator>Q</Creator>
</FileInformation><Resources><ObjectCollection><Object ObjectType="Target" Name="Sea" Id="1">
<ColorValues><ColorCIELab ColorSpecification="M1"><L>57</L><A>1.5</A><B>-2</B></ColorCIELab>
<ReflectanceSpectrum StartWL="400" ColorSpecification="M1">{" ".join(["0.25"] * 16)}
</ReflectanceSpectrum></ColorValues></Object></ObjectCollection><ColorSpecificationCollection>
<ColorSpecification Id="M1"><TristimulusSpec><Illuminant>D65</Illuminant>
<Observer>10_Degree</Observer><Method>E308_Table5</Method></TristimulusSpec><MeasurementSpec>
<MeasurementType>Spectrum_Reflectance</MeasurementType><WavelengthRange StartWL="400"
Increment="20"/></MeasurementSpec></ColorSpecification></ColorSpecificationCollection></Resources>
</CxF>"""
MAIL = """Good morning,
- Peach Skin: #f2b084; linen\t(217, 196, 232) | RGB 12 34 56
1. oklch(62% 0.15 30) Brick, tael, 0a0b0c
> navy, teal, white, #12
"""
MANIFEST = '{"format": "checkcloth hand-off", "version": 1, "files": []}'


SUPPLIER = """Shade,Code,Hex,L*,a*,b*,Remark
Harbour,H1,#336699,42.0,-2.1,-31.4,
Sand,S7,,88.2,1.0,12.5,last season
"""
WANTED = Wanted(PALETTE, 2, strengths=[0.5], stripes_apart=1)
TYPED = ("resolutions", "thumbnails", "width", "length", "ends", "picks", "sizes", "waste")


def _fields(text: str) -> None:
    """Type a text into every field of the hand-off; each reads it or says why not."""
    for name in TYPED:
        with contextlib.suppress(CheckclothError):
            read_field(name, DEFAULTS | {name: text})


def _picture(kind: str) -> bytes:
    stream = io.BytesIO()
    pixels = (np.arange(12 * 9 * 3) * 7 % 256).astype(np.uint8).reshape(9, 12, 3)
    Image.fromarray(pixels).save(stream, kind)
    return stream.getvalue()


def _written(write: Callable[[Path], Any]) -> bytes:
    with TemporaryDirectory() as folder:
        file = Path(folder) / "seed"
        write(file)
        return file.read_bytes()


def _typed(read: Callable[[str], Any]) -> Callable[[Path], Any]:
    """A reader of what people type, fed from a file; bytes that are no text become marks."""
    return lambda file: read(file.read_text("utf-8", errors="replace"))


COLOURS = [
    "#c0392b", "#fa8", "teal", "rgb(12 34 56 / 100%)", "rgba(1,2,3,1)", "hsl(120deg 50% 40%)",
    "hwb(90 10% 20%)", "lab(50% 40 -20)", "lch(62% 40 0.5turn)", "oklab(0.6 0.1 none)",
    "oklch(62% 0.15 30)", "color(display-p3 1 0 0.5)", "color(xyz-d50 0.2 0.3 1e-1)",
]  # fmt: skip
LENGTHS = ["0.5 in", "1/2 in", "1 1/2 inches", "7mm", '3/16"', ".25 cm"]
SETTS = ["64 per in", "24/cm", "52.5 ends per inch", "60 picks/in"]


def _manifest(file: Path) -> None:
    folder = file.parent / "handed"
    folder.mkdir(exist_ok=True)
    (folder / "manifest.json").write_bytes(file.read_bytes())
    verify(folder)


def _cxf(file: Path) -> None:
    """Read a file's reflectances, and its Lab too where it has some."""
    with contextlib.suppress(CheckclothError):
        read_readings(file)
    read_spectra(file)


ORDERS = ["2 A, 1/2 ground, 4 B", "1 A, 1 1/2 B, 2 ground", "1 A, 3 x [2 ground, 1.5 B], 4 A"]


def _orders(text: str) -> None:
    """Read an order in letters, and as one in names of colours."""
    named = text.replace("A", "navy").replace("B", "teal").replace("ground", "white")
    with contextlib.suppress(CheckclothError):
        cloth_of_order(named, "1 coral, 1 white", size="1/4 in", ground="white")
    read_order(text, 2)


# name: (file name, reader, sound files)
READERS: dict[str, tuple[str, Callable[[Path], Any], list[bytes]]] = {
    "palette": ("a.csv", read_palette, [palette_csv(PALETTE).encode()]),
    "set": ("a.json", open_set, [_written(lambda file: save_set(KEPT, file))]),
    "tokens": ("a.tokens.json", read_tokens, [palette_tokens(PALETTE).encode()]),
    "colourways": (
        "a.csv",
        read_colourways,
        [_written(lambda file: write_colourways(KEPT.colourways, file))],
    ),
    "readings": (
        "a.csv",
        lambda file: read_readings(file, illuminant="D65", observer=2),
        [READINGS.encode(), READINGS.replace(",", ";").encode("utf-8-sig")],
    ),
    "photo": ("a.png", open_photo, [_picture(kind) for kind in ("PNG", "JPEG", "GIF", "TIFF")]),
    "supplier": (
        "a.csv",
        lambda file: read_supplier_palette(file, illuminant="D65", observer=2),
        [SUPPLIER.encode(), SUPPLIER.replace(",", "\t").encode("utf-8-sig"), SHADES.encode()],
    ),
    "blocks": (
        "a.blocks",
        lambda file: search(WANTED, 5, keep=file)._repr_html_(),
        [_written(lambda file: search(WANTED, 5, keep=file))],
    ),
    "fields": (
        "a.txt",
        _typed(_fields),
        [b"300, 600", b"7 mm, 3/16 in", b"12 %", b"256 64", b"60 in"],
    ),
    "press": (
        "a.icc",
        open_press,
        [ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()],
    ),
    "cgats": ("a.txt", read_cgats, [CGATS.encode(), CGATS.encode("cp1252")]),
    "chart": (
        "a.txt",
        PrintCondition.from_cgats,
        [CHART.encode(), CHART.replace("2CLR_1 2CLR_2", "CMYK_C CMYK_M").encode()],
    ),
    "spectra": ("a.csv", read_spectra, [SPECTRA.encode(), SPECTRA_CGATS.encode()]),
    "orders": ("a.txt", _typed(_orders), [text.encode() for text in ORDERS]),
    "colour": ("a.txt", _typed(parse_css), [text.encode() for text in COLOURS]),
    "length": ("a.txt", _typed(Length), [text.encode() for text in LENGTHS]),
    "sett": ("a.txt", _typed(Sett), [text.encode() for text in SETTS]),
    "manifest": ("manifest.json", _manifest, [MANIFEST.encode()]),
    "pasted": ("a.txt", _typed(colours_in_text), [MAIL.encode()]),
    # A file that is dropped on the desk: told from what it holds, not from its name.
    "dropped": (
        "a.txt",
        lambda file: read_colour_file(file.read_bytes(), file.name),
        [
            MAIL.encode(),
            f"\ufeff{palette_csv(PALETTE)}".encode(),
            palette_tokens(PALETTE).encode(),
            _picture("PPM"),
        ],
    ),
    "answers": ("a.txt", read_answers, [SENT.encode(), f"> {SENT}".encode(), SENT_FILE.encode()]),
}
if has("colour_cxf"):  # not for Python 3.14 yet
    READERS["cxf"] = ("a.cxf", _cxf, [CXF.encode()])
