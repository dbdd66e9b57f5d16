"""The plates of a colourway as one PDF page: a named Separation an ink, each over the others.

For whoever takes PDF in place of films: the page is one repeat at true size, and every plate is
painted in a colour space ``Separation`` of its ink's name (ISO 32000-1, 8.6.6.4), with overprint
set, so that a page sent to plates gives exactly these. What a screen shows in an ink's place is
its tint curve: the tints as the mixing of the colourway has them on its ground, in Lab under D65.
The ground itself is cloth and is not printed, unless it is a plate.
"""

from __future__ import annotations

import zlib
from collections.abc import Sequence

import numpy as np

from checkcloth.arguments import Floats
from checkcloth.cloth.bands import band_spans, parts_of_a_check
from checkcloth.cloth.check import Check
from checkcloth.cloth.colourway import fitting
from checkcloth.colour.spaces import srgb_to_lab
from checkcloth.export.members import stripes_on_ground
from checkcloth.export.print.plates import Plate, PlateSet
from checkcloth.export.print.press import Press
from checkcloth.files.names import distinct_names
from checkcloth.files.pdf import pdf_text, xmp
from checkcloth.version import PROGRAM

_POINT = 72 / 25.4  # of a millimetre

# Points at which a tint curve is stated.
_STEPS = 33
# Names that PDF itself gives a meaning, and those of process inks: no stripe may have them.
_TAKEN = {"all", "none", "cyan", "magenta", "yellow", "black"}
# D65 as sRGB has it (IEC 61966-2-1), and the range of a* and b*.
_LAB = "[/Lab <</WhitePoint [0.9505 1 1.089] /Range [-128 127 -128 127]>>]"


def ink_names(plates: PlateSet) -> tuple[str, ...]:
    """Return a name for each plate's ink: no two alike, and none that means something to PDF.

    >>> from checkcloth.cloth.colourway import Colourway
    >>> from checkcloth.export.print.plates import plates_of
    >>> ink_names(plates_of(Colourway("white", ["black", "teal"])))
    ('black ink', 'teal')
    """
    names = [plate.name for plate in plates.plates]
    free = (f"{name} ink" if name.casefold() in _TAKEN else name for name in names)
    return tuple(distinct_names(free))


def tint_curve(plates: PlateSet, index: int) -> Floats:
    """Return what tints of one plate look like on the ground: Lab (D65), shape (33, 3)."""
    shares = np.linspace(0, 1, _STEPS)
    plate = plates.plates[index]
    if all(one.solid for one in plates.plates):
        # Solid inks have no tints: a straight line from the paper stands for one.
        return srgb_to_lab(1 - shares[:, None] * (1 - np.array(plate.ink)))
    covers = [shares if at == index else np.zeros(_STEPS) for at in range(plates.screens)]
    return srgb_to_lab(np.clip(plates.composite(covers), 0, 1))


def separations_pdf(plates: PlateSet, check: Check, press: Press | None = None) -> bytes:
    """Return the plates of a colourway as PDF, the same bytes for the same plates.

    Parameters
    ----------
    plates : PlateSet
    check : Check
        With as many stripes as the colourway has.
    press : Press, optional
        Its profile becomes the output intent.

    Raises
    ------
    ArgumentError
        For a check with other stripes.

    Examples
    --------
    >>> from checkcloth.cloth.colourway import Colourway
    >>> from checkcloth.export.print.plates import plates_of
    >>> made = separations_pdf(plates_of(Colourway("white", ["navy"])), Check("1 in", 1))
    >>> made[:5], made.count(b"/Separation /navy")
    (b'%PDF-', 1)
    """
    fitting(plates.colourway, check)
    title = plates.colourway.name or "checkcloth plates"
    names = ink_names(plates)
    width, height = (float(side.mm) * _POINT for side in (check.repeat_width, check.repeat_height))
    alt = f"Plates of one repeat, {check.repeat_words}: {', '.join(names)}; "
    alt += stripes_on_ground(plates.colourway)
    first = 10  # of the objects that hold tint curves
    spaces = " ".join(
        f"/Ink{at} [/Separation {_name(name)} {_LAB} {first + at} 0 R]"
        for at, name in enumerate(names)
    )
    intents = f" /OutputIntents [{_intent(press, first + len(names))}]" if press else ""
    objects: list[bytes] = [
        f"<</Type /Catalog /Pages 2 0 R /Lang (en-GB) /MarkInfo <</Marked true>> "
        f"/StructTreeRoot 5 0 R /Metadata 8 0 R /ViewerPreferences <</DisplayDocTitle true>>"
        f"{intents}>>".encode(),
        b"<</Type /Pages /Kids [3 0 R] /Count 1>>",
        f"<</Type /Page /Parent 2 0 R /MediaBox [0 0 {width:.4f} {height:.4f}] /StructParents 0 "
        f"/Tabs /S /Contents 4 0 R /Resources <</ColorSpace <<{spaces}>> /ExtGState "
        "<</Over <</Type /ExtGState /OP true /op true /OPM 1>>>>>>>>".encode(),
        _stream("", _painted(plates, check, height).encode()),
        b"<</Type /StructTreeRoot /K 6 0 R /ParentTree <</Nums [0 [7 0 R]]>> "
        b"/ParentTreeNextKey 1>>",
        b"<</S /Document /P 5 0 R /K 7 0 R>>",
        f"<</S /Figure /P 6 0 R /Pg 3 0 R /Alt {pdf_text(alt)} /K 0>>".encode(),
        _stream(" /Type /Metadata /Subtype /XML", xmp(title), packed=False),
        f"<</Title {pdf_text(title)} /Subject {pdf_text(plates.rule)} /Creator {pdf_text(PROGRAM)} "
        f"/Producer {pdf_text(PROGRAM)}>>".encode(),
        *(_curve(tint_curve(plates, at)) for at in range(len(names))),
    ]
    if press:
        channels = {"CMYK": 4, "RGB": 3}[press.space]
        objects.append(_stream(f" /N {channels}", press.profile))
    return _document(objects)


def _intent(press: Press, number: int) -> str:
    said = pdf_text(press.name)
    return (
        f"<</Type /OutputIntent /S /GTS_PDFX /OutputConditionIdentifier {said} /Info {said} "
        f"/DestOutputProfile {number} 0 R>>"
    )


def _name(text: str) -> str:
    """A name object: UTF-8, with everything irregular as #xx (ISO 32000-1, 7.3.5)."""
    return "/" + "".join(
        chr(byte) if chr(byte).isalnum() and byte < 128 else f"#{byte:02X}"
        for byte in text.encode("utf-8")
    )


def _stream(entries: str, data: bytes, *, packed: bool = True) -> bytes:
    body = zlib.compress(data, 9) if packed else data
    how = " /Filter /FlateDecode" if packed else ""
    return f"<<{entries}{how} /Length {len(body)}>>\nstream\n".encode() + body + b"\nendstream"


def _curve(lab: Floats) -> bytes:
    """A sampled function from the tint to Lab, 16 bits a sample (ISO 32000-1, 7.10.2)."""
    low, high = np.array([0, -128, -128]), np.array([100, 127, 127])
    steps = np.floor(np.clip((lab - low) / (high - low), 0, 1) * 65535 + 0.5).astype(">u2")
    entries = (
        " /FunctionType 0 /Domain [0 1] /Range [0 100 -128 127 -128 127] "
        f"/Size [{len(lab)}] /BitsPerSample 16"
    )
    return _stream(entries, steps.tobytes())


def _painted(plates: PlateSet, check: Check, height: float) -> str:
    """The page: every plate in its ink, each tint in one path."""
    parts = parts_of_a_check(check.warp_bands, check.weft_bands)
    each = float(check.size.mm) * _POINT / float(parts)
    lines = ["/Figure <</MCID 0>> BDC", "/Over gs"]
    for index, plate in enumerate(plates.plates):
        lines.append(f"/Ink{index} cs")
        for cover, cells in _tints(plate, check, parts):
            boxes = " ".join(
                f"{left * each:.4f} {height - bottom * each:.4f} {(right - left) * each:.4f} "
                f"{(bottom - top) * each:.4f} re"
                for left, right, top, bottom in cells
            )
            lines.append(f"{cover:.6g} scn {boxes} f")
    return "\n".join([*lines, "EMC"])


def _tints(
    plate: Plate, check: Check, parts: int
) -> list[tuple[float, list[tuple[int, int, int, int]]]]:
    """Each amount of ink above nothing, with its cells, in parts of a check."""
    cells: dict[float, list[tuple[int, int, int, int]]] = {}
    columns = band_spans(check.warp_bands, parts)
    for weft, top, bottom in band_spans(check.weft_bands, parts):
        for warp, left, right in columns:
            cover = float(plate.cover[warp, weft])
            if cover > 0:
                cells.setdefault(cover, []).append((left, right, top, bottom))
    return sorted(cells.items())


def _document(objects: Sequence[bytes]) -> bytes:
    """Number the objects, the ninth being the information dictionary, and add where each is."""
    out = bytearray(b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n")
    places = []
    for number, body in enumerate(objects, start=1):
        places.append(len(out))
        out += f"{number} 0 obj\n".encode() + body + b"\nendobj\n"
    start = len(out)
    out += f"xref\n0 {len(objects) + 1}\n0000000000 65535 f \n".encode()
    out += b"".join(f"{place:010d} 00000 n \n".encode() for place in places)
    out += f"trailer\n<</Size {len(objects) + 1} /Root 1 0 R /Info 9 0 R>>\n".encode()
    return bytes(out + f"startxref\n{start}\n%%EOF\n".encode())
